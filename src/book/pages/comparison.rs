//! What each route costs in money, hours and time, what would flip the answer, and what the verdict's words mean. Owns the
//! table; every figure is the cost room's.

use super::context::Context;
use crate::book::block::Figure;
use crate::book::block::{Block, Cell, Col, PageKind, Row, Section, Table};
use crate::book::draw::{Area, Drawing, Fill, Pen, Weight, pt, text_width, wrap};
use crate::costs::{HELD_RULES, word_means, word_shown};
use crate::model::compare::{Comparison, Move, RouteCost, VerdictWord};
use crate::model::{SPACE_WORDS, SpaceUse};
use crate::opening::open_gaps;
use crate::units::Cents;

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
                money_or(r.money_low_cents).into(),
                money_or(r.money_cents).into(),
                money_or(r.money_high_cents).into(),
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
    for route in all.routes.iter().filter(|r| !r.also.is_empty()) {
        blocks.push(Block::point(
            "!",
            format!(
                "In no total of {}, for want of a row in stock.csv: {}.",
                route.route,
                route.also.join("; ")
            ),
        ));
    }
    blocks.extend(space(ctx, all));
    blocks.push(Block::Heading("Verdict".into()));
    blocks.push(Block::strong(all.verdict.sentence.clone(), 3.5));
    blocks.extend(all.says.iter().map(Block::say));
    let job = ctx.input.job;
    let open = job.runs.iter().filter(|_| job.opening.is_some());
    let open = open.filter_map(|run| open_gaps(job, run));
    blocks.extend(open.map(|words| Block::point("!", words)));
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
                        "cents more for each" => {
                            format!("{} more for each", Cents(at.round() as i64).print())
                        }
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
    if !all.moves.is_empty() {
        blocks.push(Block::Heading(
            "How far each uncertain figure moves it".into(),
        ));
        blocks.push(Block::say(
            "How much money and time the cheaper route is ahead, from the best end of the range to the worst. Left of the \
             line the other route is the cheaper. Hatched: a switch, not weighed in the verdict.",
        ));
        blocks.extend(bars(&all.moves).into_iter().map(Block::Figure));
    }
    blocks.extend(hours_by_task(all));
    blocks.push(Block::Heading("What the verdict's words mean".into()));
    for word in [
        VerdictWord::Clear,
        VerdictWord::Likely,
        VerdictWord::TooClose,
        VerdictWord::None,
    ] {
        blocks.push(Block::say(format!(
            "{}: {}.",
            word_shown(word),
            word_means(word)
        )));
    }
    blocks.extend(HELD_RULES.iter().map(|r| Block::say(*r)));
    blocks.push(Block::say(
        "What an hour of yours is worth is your choice, not an uncertainty; zero is a fair answer. Whole packs and whole sheets are \
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

/// What each route gives, and where the opening goes.
fn space(ctx: &Context, all: &Comparison) -> Vec<Block> {
    let mut rows = Vec::new();
    let mut put = |what: String, of: &dyn Fn(&RouteCost) -> String| {
        let mut cells: Vec<Cell> = vec![what.into()];
        cells.extend(all.routes.iter().map(|r| Cell::Text(of(r))));
        rows.push(Row::of(cells));
    };
    let unknown = || "not known".to_owned();
    if all.routes.iter().any(|r| r.shelf.is_some()) {
        put("shelf".into(), &|r| {
            r.shelf.map_or_else(unknown, |l| ctx.tape.print_feet(l))
        });
        put("hanging".into(), &|r| {
            r.hanging.map_or_else(unknown, |l| ctx.tape.print_feet(l))
        });
    }
    let mut heading = "What each route gives".to_owned();
    let unit = ctx.tape.unit;
    if let Some(opening) = all.routes.iter().find_map(|r| r.space) {
        heading = format!(
            "What each route gives, and where the {} {} of the opening go",
            opening.print(unit).0,
            SpaceUse::unit_word(unit)
        );
        put("share of the opening you can use".into(), &|r| {
            r.space
                .map_or_else(unknown, |s| format!("{}%", s.percent()))
        });
        for (i, what) in SPACE_WORDS.iter().enumerate() {
            let words = format!("{what}, {}", SpaceUse::unit_word(unit));
            put(words, &|r| {
                r.space.map_or_else(unknown, |s| s.print(unit).1[i].clone())
            });
        }
    }
    if rows.is_empty() {
        return Vec::new();
    }
    let mut cols = vec![Col::words("")];
    cols.extend(all.routes.iter().map(|r| Col::numbers(&*r.route)));
    vec![
        Block::Heading(heading),
        Block::Table(Table::new(cols, rows).snug()),
    ]
}

/// The table of hours: for each task the hours of every route.
fn hours_by_task(all: &Comparison) -> Vec<Block> {
    let mut tasks: Vec<(&str, String)> = Vec::new();
    for t in all.routes.iter().flat_map(|r| &r.tasks) {
        if !tasks.iter().any(|(key, _)| *key == t.task) {
            let whose = if t.yours { "yours" } else { "ours" };
            let each = format!("{:.2} h a {}, {whose}", t.each, t.one);
            tasks.push((&t.task, format!("{}: {each}", t.what)));
        }
    }
    if tasks.is_empty() {
        return Vec::new();
    }
    let of = |r: &RouteCost, key: &str| {
        let hours = r.tasks.iter().find(|t| t.task == key).map(|t| t.hours);
        Cell::Text(hours.map_or_else(|| "-".into(), |h| format!("{h:.2}")))
    };
    let mut rows: Vec<Row> = tasks
        .iter()
        .map(|(key, what)| {
            let mut cells: Vec<Cell> = vec![(*key).into(), what.clone().into()];
            cells.extend(all.routes.iter().map(|r| of(r, key)));
            Row::of(cells)
        })
        .collect();
    let mut sum: Vec<Cell> = vec!["together".into(), "".into()];
    sum.extend(all.routes.iter().map(|r| {
        let hours: f64 = r.tasks.iter().map(|t| t.hours).sum();
        Cell::Text(format!("{hours:.2}"))
    }));
    rows.push(Row::total(sum));
    let mut cols = vec![Col::words("key"), Col::words("task")];
    cols.extend(all.routes.iter().map(|r| Col::numbers(&*r.route)));
    vec![
        Block::Heading("Hours by task".into()),
        Block::say(
            "Ours are a guess: under [labour.takes], KEY = hours changes one. [labour.hours] overrides the sum of a route.",
        ),
        Block::Table(Table::new(cols, rows)),
    ]
}

/// An amount, or what stands for one that is not known.
pub(super) fn money_or(cents: Option<Cents>) -> String {
    cents.map_or_else(|| "not known".into(), Cents::print)
}

/// Hours to a tenth, or what stands for hours that are not known.
pub(super) fn hours_or(hours: Option<f64>) -> String {
    hours.map_or_else(|| "not known".into(), |h| format!("{h:.1}"))
}

/// A strip for each uncertain figure, to one scale round one zero line, a figure at each end.
fn bars(moves: &[Move]) -> Vec<Figure> {
    const NAMES: f64 = 52.0;
    const FIGURES: f64 = 20.0;
    const WIDE: f64 = 178.0;
    let ends = moves.iter().flat_map(|m| [m.ahead_from.0, m.ahead_to.0]);
    let (low, high) = ends.fold((0_i64, 0_i64), |(l, h), c| (l.min(c), h.max(c)));
    let room = WIDE - NAMES - 2.0 * FIGURES;
    let per_cent = room / ((high - low).max(1) as f64);
    let x = |cents: i64| NAMES + FIGURES + (cents - low) as f64 * per_cent;
    moves
        .iter()
        .map(|m| {
            let mut drawing = Drawing::new();
            let range = format!("{}: {} to {}", m.what, m.from, m.to);
            let lines = wrap(&range, 2.5, Weight::Regular, NAMES - 2.0);
            let high = (lines.len() as f64 * 4.3).max(6.0);
            for (i, line) in lines.iter().enumerate() {
                drawing.say(pt(0.0, 3.6 + i as f64 * 4.3), 2.5, Weight::Regular, line);
            }
            let (a, b) = (
                m.ahead_from.0.min(m.ahead_to.0),
                m.ahead_from.0.max(m.ahead_to.0),
            );
            let strip = Area::new(x(a), 0.9, (x(b) - x(a)).max(0.5), 3.2);
            if m.switch {
                drawing.hatch(strip, 1.2);
                drawing.rect(strip, Fill::None, Some(Pen::NARROW));
            } else {
                drawing.rect(strip, Fill::Light, Some(Pen::solid(0.35)));
            }
            drawing.line(pt(x(0), 0.0), pt(x(0), high), Pen::WIDE);
            for (cents, right) in [(a, false), (b, true)] {
                let said = Cents(cents).print();
                let wide = text_width(&said, 2.5, Weight::Regular);
                let at = if right { x(b) + 1.2 } else { x(a) - 1.2 - wide };
                drawing.say(
                    pt(at.clamp(NAMES - 1.0, WIDE - wide), 3.8),
                    2.5,
                    Weight::Regular,
                    &said,
                );
            }
            Figure {
                size: [WIDE, high + 0.6],
                drawing,
                twin: vec![format!(
                    "{range}: ahead by {} to {}",
                    m.ahead_from.print(),
                    m.ahead_to.print()
                )],
            }
        })
        .collect()
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
                let here: Vec<_> = r.lines.iter().filter(|l| l.what == *name).collect();
                if here.iter().any(|l| l.cents.is_none()) {
                    return Some("no price".into());
                }
                let sum: Cents = here.iter().filter_map(|l| l.cents).sum();
                (sum != Cents::ZERO).then(|| sum.print())
            }))
        })
        .collect();
    let tax = ctx.input.job.project.sales_tax.map_or_else(
        || "Sales tax".to_owned(),
        |t| format!("Sales tax {}.{:02}%", t.0 / 100, t.0 % 100),
    );
    rows.push(Row::of(row(tax, &|r| Some(money_or(r.tax_cents)))));
    rows.push(Row::total(row("Money out".into(), &|r| {
        Some(money_or(r.money_cents))
    })));
    rows.push(Row::of(row("Your hours".into(), &|r| {
        Some(hours_or(r.hours))
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
    rows.push(Row::of(row("Goes into the opening".into(), &|r| {
        r.fits
            .map(|fits| if fits { "yes" } else { "NO" }.to_owned())
    })));
    rows.push(Row::of(row("Gives what is wanted".into(), &|r| {
        r.met
            .map(|met| if met { "MET" } else { "SHORT" }.to_owned())
    })));
    rows
}
