//! Fill, prime, paint: areas, coats and cans, goods by rule, the order of work with room to tick, cautions. Owns the wording;
//! every figure is the finish plan's.

use super::context::Context;
use crate::book::block::{Block, Cell, Col, PageKind, Row, Section, Table};
use crate::model::FinishPlan;

/// The page for the paint stage.
pub(super) fn paint(ctx: &Context) -> Vec<Section> {
    let Some(plan) = ctx
        .input
        .finish
        .filter(|p| !p.areas.is_empty() || !p.goods.is_empty())
    else {
        return Vec::new();
    };
    let mut blocks = Vec::new();
    if !plan.areas.is_empty() {
        blocks.push(Block::Table(areas(ctx, plan)));
    }
    if !plan.coats.is_empty() {
        blocks.push(Block::Heading("Coats and cans".into()));
        blocks.push(Block::Table(coats(ctx, plan)));
        for can in &plan.cans {
            blocks.push(Block::point("[ ]", can_words(can)));
        }
        blocks.push(Block::say("Sheen ____________________   colour ____________________   kept for touching up ____________________"));
    }
    if !plan.steps.is_empty() {
        blocks.push(Block::Heading("Order of work".into()));
        blocks.push(Block::Table(steps(plan)));
        let from = plan.load_from.as_ref().map_or_else(String::new, |d| {
            if plan.with_route {
                format!(": from {d}")
            } else {
                format!(": from {d} if painting begins on the job's date")
            }
        });
        blocks.push(Block::say(format!(
            "Load nothing for {} hours after the last coat{from}.",
            plan.cure_hours
        )));
    }
    if !plan.goods.is_empty() {
        blocks.push(Block::Heading("Goods by rule".into()));
        let rows = plan.goods.iter().map(|g| {
            let item = g.item.clone().unwrap_or_else(|| "no row".into());
            let mut source = vec![g.source.clone()];
            if g.hers {
                source.push("your [[need]] row counts".into());
            }
            Row::of(vec![
                g.what.clone().into(),
                g.amount.clone().into(),
                item.into(),
                g.rule.clone().into(),
                Cell::Lines(source),
            ])
        });
        let cols = vec![
            Col::words("goods"),
            Col::words("how much"),
            Col::words("item"),
            Col::words("rule"),
            Col::words("source"),
        ];
        blocks.push(Block::Table(Table::new(cols, rows.collect())));
    }
    for light in &plan.lights {
        blocks.push(Block::point(
            "[ ]",
            format!("Light in {}: {}.", light.in_box, light.place),
        ));
    }
    for caution in &plan.cautions {
        blocks.push(Block::point("!", caution.clone()));
    }
    vec![Section {
        kind: PageKind::Paint,
        title: "Fill, prime, paint".into(),
        bookmark: "Fill, prime, paint".into(),
        lying: false,
        blocks,
    }]
}

fn areas(ctx: &Context, plan: &FinishPlan) -> Table {
    let mut rows: Vec<Row> = plan
        .areas
        .iter()
        .map(|a| {
            Row::of(vec![
                a.what.clone().into(),
                a.rule.clone().into(),
                a.marks.join(" ").into(),
                ctx.tape.unit.area(a.face_sq_ft).into(),
                ctx.tape.unit.area(a.edge_sq_ft).into(),
                ctx.tape.unit.area(a.sq_ft).into(),
            ])
        })
        .collect();
    let mut last: Vec<Cell> = vec!["together".into()];
    last.resize(5, "".into());
    last.push(ctx.tape.unit.area(plan.sq_ft).into());
    rows.push(
        Row::total(last).noted("Raw edges count twice: they drink. Joints are not taken out."),
    );
    let of = |what: &str| format!("{what}, {}", ctx.tape.unit.area_name());
    let cols = vec![
        Col::words("surface"),
        Col::words("what counts"),
        Col::words("marks"),
        Col::numbers(of("faces")),
        Col::numbers(of("edges")),
        Col::numbers(of("sum")),
    ];
    Table::new(cols, rows)
}

fn coats(ctx: &Context, plan: &FinishPlan) -> Table {
    let rows = plan.coats.iter().map(|c| {
        let much = ctx.tape.unit.volume(c.gallons);
        let item = c
            .item
            .clone()
            .unwrap_or_else(|| "no row of stock.csv".into());
        Row::of(vec![
            c.what.clone().into(),
            item.into(),
            c.coats.to_string().into(),
            ctx.tape.unit.area(c.sq_ft).into(),
            much.into(),
        ])
    });
    let cols = vec![
        Col::words("what"),
        Col::words("item"),
        Col::numbers("coats"),
        Col::numbers(format!("each, {}", ctx.tape.unit.area_name())),
        Col::numbers("by area"),
    ];
    Table::new(cols, rows.collect()).snug()
}

/// `TOP-G: 1.52 gal needed, buy 2 TOP-G`.
fn can_words(can: &crate::model::compare::BuyLine) -> String {
    let packs: Vec<String> = can
        .packs
        .iter()
        .map(|p| format!("{} {}", p.packs, p.item))
        .collect();
    let buy = if packs.is_empty() {
        "in hand".into()
    } else {
        format!("buy {}", packs.join(" + "))
    };
    let spare = if can.spare.is_empty() {
        String::new()
    } else {
        format!(", {} over", can.spare)
    };
    let order = can.order_words();
    let own = Some(can.note.as_str()).filter(|n| !n.is_empty());
    let notes: Vec<&str> = own.into_iter().chain(order.as_deref()).collect();
    let note = if notes.is_empty() {
        String::new()
    } else {
        format!(" ({})", notes.join("; "))
    };
    format!("{}: {} needed, {buy}{spare}{note}", can.what, can.need)
}

fn steps(plan: &FinishPlan) -> Table {
    let rows = plan.steps.iter().map(|s| {
        let dry = if s.dry_hours > 0 {
            format!("{} h", s.dry_hours)
        } else {
            "-".into()
        };
        let days = match (&s.from, &s.to) {
            (Some(a), Some(b)) if a != b => format!("{a} to {b}"),
            (Some(a), _) => a.clone(),
            _ => "-".into(),
        };
        Row::of(vec![
            Cell::Tick,
            s.what.clone().into(),
            format!("{:.2}", s.hours).into(),
            dry.into(),
            days.into(),
        ])
    });
    let mut rows: Vec<Row> = rows.collect();
    rows.push(Row::total(vec![
        Cell::Text(String::new()),
        "together, as in the table of hours".into(),
        format!("{:.2}", plan.hours).into(),
        "".into(),
        "".into(),
    ]));
    let cols = vec![
        Col::signs("done"),
        Col::words("step"),
        Col::numbers("hours"),
        Col::numbers("then dry"),
        Col::words(if plan.with_route {
            "day"
        } else {
            "if begun on the job's date"
        }),
    ];
    Table::new(cols, rows)
}
