//! Slides for the drawers of a route: a pair for each drawer, as long as its sides. The run's `slide` names their row; without it
//! a row of hardware is looked for by its name and, where it has one, its length.

use super::goods::Asked;
use super::rows::{Amount, Wanted, in_holds};
use crate::model::{GoodsRule, Job, Part, PartSize, Run, StockKind, StockRow};
use crate::units::Length;

const SLIDES: Wanted = Wanted {
    kinds: &[StockKind::Hardware],
    words: &["slide", "runner"],
    not: &[],
};

/// The slides of a route, one line for each length and row.
pub(super) fn slides(job: &Job, route: &str) -> Vec<Asked> {
    let mut found: Vec<(Option<&str>, Option<Length>, i64)> = Vec::new();
    let runs = job.runs.iter().filter(|r| r.route == route);
    for (run, plan) in runs.flat_map(|r| r.boxes.iter().map(move |b| (r, b))) {
        let pairs = i64::from(plan.all_drawers());
        if pairs == 0 {
            continue;
        }
        let item = run.build.slide.as_deref();
        let long = length(job, route, run, &plan.name);
        match found.iter_mut().find(|f| (f.0, f.1) == (item, long)) {
            Some(f) => f.2 += pairs,
            None => found.push((item, long, pairs)),
        }
    }
    let ask = |(item, long, pairs)| asked(job, route, item, long, pairs);
    found.into_iter().map(ask).collect()
}

/// How long the slides of a box are: as its drawers' sides in the cut list, else as their row says.
fn length(job: &Job, route: &str, run: &Run, name: &str) -> Option<Length> {
    let side = |p: &&Part| p.in_box == name && p.what.to_lowercase().contains("drawer side");
    let cut = job.route_parts(route).find(side);
    let cut = cut.and_then(|p| match p.size {
        PartSize::Panel { length, .. } => Some(length),
        PartSize::Piece { .. } => None,
    });
    cut.or_else(|| job.stock_row(run.build.slide.as_deref()?)?.length)
}

fn asked(job: &Job, route: &str, item: Option<&str>, long: Option<Length>, pairs: i64) -> Asked {
    let right = |r: &&StockRow| r.length.is_none() || long.is_none() || r.length == long;
    let row = match item {
        Some(item) => job.stock_row(item),
        None => SLIDES.rows(job, route).into_iter().find(right),
    };
    let of = |l: Length| format!(" {}", job.project.tape.print_with_unit(l));
    let needs = || job.needs.iter().filter(|n| n.route == route);
    Asked {
        shown: GoodsRule {
            what: "drawer slides".into(),
            amount: format!(
                "{pairs} pair{}{}",
                if pairs == 1 { "" } else { "s" },
                long.map(of).unwrap_or_default()
            ),
            rule: "a pair for each drawer, as long as its sides; holds counts pairs".into(),
            source: "count".into(),
            item: row.map(|r| r.item.clone()),
            hers: row.is_some_and(|r| needs().any(|n| n.item == r.item)),
        },
        amount: row.map(|r| in_holds(r, Amount::Pieces(pairs))),
        quantity: pairs as f64,
    }
}
