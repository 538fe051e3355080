//! What each route costs in money, hours and time, what would flip the answer, and what the verdict's words mean. Owns the
//! table; every figure is the cost room's.

use super::context::Context;
use crate::book::block::{Block, Cell, Col, PageKind, Row, Section, Table};
use crate::model::compare::{Comparison, RouteCost};
use crate::units::Cents;

/// What the words of a verdict mean, always printed with it.
const WORDS: &[(&str, &str)] = &[
    (
        "clear",
        "nothing uncertain flips it within its range, nor all prices and hours at their worst together",
    ),
    (
        "likely",
        "nothing flips it by itself; all at their worst would",
    ),
    (
        "too close to call",
        "some price or hours figure flips it by itself within its range",
    ),
    (
        "no verdict",
        "a price or reading that matters is missing, or a route does not give what is wanted",
    ),
];

/// Routes side by side.
pub(super) fn comparison(ctx: &Context) -> Vec<Section> {
    let Some(all) = ctx.input.comparison.filter(|c| !c.routes.is_empty()) else {
        return Vec::new();
    };
    let money = &ctx.input.job.project.money;
    let mut cols = vec![Col::words(format!("in {money}"))];
    cols.extend(all.routes.iter().map(|r| Col::numbers(&*r.route)));
    let mut blocks = vec![Block::Table(Table::new(cols, cost_rows(ctx, all)))];
    blocks.push(Block::Heading("Cheap day, likely, dear day".into()));
    let rows = all
        .routes
        .iter()
        .map(|r| {
            Row::of(vec![
                r.route.clone().into(),
                r.money_low_cents.print().into(),
                r.money_cents.print().into(),
                r.money_high_cents.print().into(),
            ])
        })
        .collect();
    blocks.push(Block::Table(
        Table::new(
            vec![
                Col::words("money out"),
                Col::numbers("cheap day"),
                Col::numbers("likely"),
                Col::numbers("dear day"),
            ],
            rows,
        )
        .snug(),
    ));
    blocks.push(Block::say("Each column moves every price the same way."));
    blocks.push(Block::Heading("Verdict".into()));
    blocks.push(Block::strong(all.verdict.sentence.clone(), 3.5));
    if !all.missing.is_empty() {
        blocks.push(Block::point(
            "!",
            format!("Missing: {}.", all.missing.join("; ")),
        ));
    }
    if !all.flips.is_empty() {
        blocks.push(Block::Heading("What would flip it".into()));
        let rows = all
            .flips
            .iter()
            .map(|f| {
                let at = f.at.map_or_else(
                    || "never".to_owned(),
                    |at| match f.unit.as_str() {
                        "cents" => Cents(at.round() as i64).print(),
                        "cents an hour" => format!("{} an hour", Cents(at.round() as i64).print()),
                        unit => format!("{at:.1} {unit}"),
                    },
                );
                Row::of(vec![
                    f.what.clone().into(),
                    at.into(),
                    f.says.clone().into(),
                ])
            })
            .collect();
        blocks.push(Block::Table(Table::new(
            vec![
                Col::words("if this changes"),
                Col::numbers("it flips at"),
                Col::words("in words"),
            ],
            rows,
        )));
    }
    blocks.push(Block::Heading("What the verdict's words mean".into()));
    for (word, meaning) in WORDS {
        blocks.push(Block::say(format!("{word}: {meaning}.")));
    }
    blocks.push(Block::say(
        "Hours of yours are a choice, not an uncertainty; nothing is a fair price for them. Whole packs and whole sheets are \
         paid for; what is left of them counts as nothing here.",
    ));
    vec![Section {
        kind: PageKind::Comparison,
        title: "What each route costs".into(),
        bookmark: "Cost of each route".into(),
        lying: false,
        blocks,
    }]
}

fn cost_rows(ctx: &Context, all: &Comparison) -> Vec<Row> {
    let mut names: Vec<&str> = Vec::new();
    for line in all.routes.iter().flat_map(|r| &r.lines) {
        if !names.contains(&line.what.as_str()) {
            names.push(&line.what);
        }
    }
    let row = |name: String, of: &dyn Fn(&RouteCost) -> Option<String>| {
        let mut cells: Vec<Cell> = vec![name.into()];
        cells.extend(
            all.routes
                .iter()
                .map(|r| Cell::Text(of(r).unwrap_or_else(|| "-".into()))),
        );
        cells
    };
    let mut rows: Vec<Row> = names
        .iter()
        .map(|name| {
            Row::of(row((*name).to_owned(), &|r| {
                let sum: Cents = r
                    .lines
                    .iter()
                    .filter(|l| l.what == *name)
                    .map(|l| l.cents)
                    .sum();
                (sum != Cents::ZERO).then(|| sum.print())
            }))
        })
        .collect();
    let tax = ctx.input.job.project.sales_tax.map_or_else(
        || "Sales tax".to_owned(),
        |t| format!("Sales tax {}.{:02}%", t.0 / 100, t.0 % 100),
    );
    rows.push(Row::of(row(tax, &|r| Some(r.tax_cents.print()))));
    rows.push(Row::total(row("Money out".into(), &|r| {
        Some(r.money_cents.print())
    })));
    rows.push(Row::of(row("Your hours".into(), &|r| {
        Some(format!("{:.1}", r.hours))
    })));
    let rate = ctx.input.job.labour.rate.map_or_else(
        || "Hours in money: no rate given".to_owned(),
        |r| format!("Hours at {}", r.print()),
    );
    rows.push(Row::of(row(rate, &|r| r.hours_cents.map(Cents::print))));
    rows.push(Row::total(row("Money and time".into(), &|r| {
        r.total_cents.map(Cents::print)
    })));
    rows.push(Row::of(row("Done".into(), &|r| r.done.clone())));
    rows.push(Row::of(row("Gives what is wanted".into(), &|r| {
        r.met
            .map(|met| if met { "MET" } else { "SHORT" }.to_owned())
    })));
    rows
}
