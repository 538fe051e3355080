//! The whole work of the route in its order, with its days and the goods that are ordered for it.

use super::context::Context;
use crate::book::block::{Block, Cell, Col, PageKind, Row, Section, Table};

/// None where no hours are known, or nothing is set.
pub(super) fn order(ctx: &Context) -> Vec<Section> {
    let job = ctx.input.job;
    let set = job.runs.iter().any(|r| r.route == ctx.plan().route);
    let Some(plan) = ctx.input.finish.filter(|f| set && !f.work.is_empty()) else {
        return Vec::new();
    };
    let goods = plan.work.iter().any(|w| !w.order.is_empty());
    let mut rows: Vec<Row> = Vec::new();
    for (i, w) in plan.work.iter().enumerate() {
        let dry = if w.dry_hours > 0 {
            format!("{} h", w.dry_hours)
        } else {
            "-".into()
        };
        let days = match (&w.from, &w.to) {
            (Some(a), Some(b)) if a != b => format!("{a} to {b}"),
            (Some(a), _) => a.clone(),
            _ => "-".into(),
        };
        let mut cells: Vec<Cell> = vec![
            (i + 1).to_string().into(),
            w.what.clone().into(),
            format!("{:.2}", w.hours).into(),
            dry.into(),
            days.into(),
        ];
        if goods {
            cells.push(Cell::Lines(w.order.clone()));
        }
        cells.push(Cell::Tick);
        rows.push(Row::of(cells));
    }
    let mut cols = vec![
        Col::numbers("no."),
        Col::words("work"),
        Col::numbers("hours"),
        Col::numbers("then dry"),
        Col::words("day"),
    ];
    if goods {
        cols.push(Col::words("order for it"));
    }
    cols.push(Col::signs("done"));
    let mut blocks = Vec::new();
    if plan.work.iter().all(|w| w.from.is_none()) {
        blocks.push(Block::say(
            "Give `date` and `hours_a_weekend` in project.toml to see the days.",
        ));
    }
    blocks.push(Block::Table(Table::new(cols, rows)));
    blocks.push(Block::point(
        "!",
        "Boxes and frames are set without doors, drawers and loose shelves in them; those go in after the last coat, the doors last of all.",
    ));
    vec![Section {
        kind: PageKind::Work,
        title: "Order of work".into(),
        bookmark: "Order of work".into(),
        lying: false,
        blocks,
    }]
}
