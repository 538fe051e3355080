//! Hinges for the doors of a route, by the height and the weight of each door in the cut list. The run's `hinge` names their row;
//! without it a row of hardware is looked for by its name.

use super::goods::Asked;
use super::rows::{Amount, Wanted, in_holds};
use crate::model::{GoodsRule, Job, Part, PartSize, StockKind, hinges, weigh};

const HINGES: Wanted = Wanted {
    kinds: &[StockKind::Hardware],
    words: &["hinge"],
    not: &["screw", "jig"],
};

/// True for a door of a box.
fn is_door(p: &Part) -> bool {
    let what = p.what.to_lowercase();
    let own = what.strip_prefix(&p.in_box.to_lowercase()).unwrap_or(&what);
    own.split(|c: char| !c.is_alphabetic())
        .any(|w| w == "door" || w == "doors")
}

/// One line for each row that hinges are taken from.
pub(super) fn hinges_of(job: &Job, route: &str) -> Vec<Asked> {
    let mut found: Vec<(Option<&str>, i64)> = Vec::new();
    for run in job.runs.iter().filter(|r| r.route == route) {
        let with_doors = |name: &str| run.boxes.iter().any(|b| b.doors > 0 && b.name == name);
        let doors = job
            .route_parts(route)
            .filter(|p| with_doors(&p.in_box) && is_door(p));
        let each = |p: &Part| match p.size {
            PartSize::Panel { length, width } => {
                let grams = weigh(job.stock_row(&p.item), [length, width]).grams;
                i64::from(hinges(length, grams)) * i64::from(p.how_many)
            }
            PartSize::Piece { .. } => 0,
        };
        let n: i64 = doors.map(each).sum();
        let item = run.build.hinge.as_deref();
        match found.iter_mut().find(|f| f.0 == item) {
            _ if n == 0 => {}
            Some(f) => f.1 += n,
            None => found.push((item, n)),
        }
    }
    let ask = |(item, n): (Option<&str>, i64)| {
        let row = match item {
            Some(item) => job.stock_row(item),
            None => HINGES.rows(job, route).into_iter().next(),
        };
        let needs = || job.needs.iter().filter(|n| n.route == route);
        Asked {
            shown: GoodsRule {
                what: "hinges".into(),
                amount: n.to_string(),
                rule: "each door by its height, 2 up to 40 in, 3 up to 60, 4 up to 80, then 5, or by its weight, 2 up to 15 lb and one for every 15 lb more; holds counts hinges".into(),
                source: "common practice, no source".into(),
                item: row.map(|r| r.item.clone()),
                hers: row.is_some_and(|r| needs().any(|n| n.item == r.item)),
            },
            amount: row.map(|r| in_holds(r, Amount::Pieces(n))),
            quantity: n as f64,
        }
    };
    found.into_iter().map(ask).collect()
}
