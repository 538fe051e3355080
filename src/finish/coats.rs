//! Coats by product, and how much of each: area x coats / coverage.
//!
//! Coverage is the row's own `covers`; where it says none, a gallon of primer goes 300 sq ft on bare board (published 200 to
//! 400, S72, S74*, S75*), of paint 375 (350 to 400, S72, S73*), of oil or clear finish 450 (common practice, no source).

use super::rows::{Amount, Wanted, in_holds};
use super::volumes::GALLON_CUBIC_INCHES;
use crate::model::{Coat, Ground, Job, NeedUnit, StockKind, StockRow, Surface};

/// Square millimetres in a square foot: 304.8 x 304.8.
const SQ_FT_MM2: f64 = 92_903.04;
/// Microlitres in a gallon.
const GALLON: f64 = 3_785_411.784;

struct Product {
    what: &'static str,
    /// Looked for in this order.
    rows: &'static [Wanted],
    a_gallon: f64,
    source: &'static str,
}

const PAINT: &[StockKind] = &[StockKind::Paint];
const NOT_TOP: &[&str] = &["prim", "undercoat", "wall", "ceiling", "bond"];

const PRIMER: Product = Product {
    what: "primer",
    rows: &[
        Wanted {
            kinds: PAINT,
            words: &["prim", "undercoat"],
            not: &["bond", "wall"],
        },
        Wanted {
            kinds: PAINT,
            words: &["prim", "undercoat"],
            not: &[],
        },
    ],
    a_gallon: 300.0,
    source: "300 a gallon on bare board: published 200 to 400 (S72, S74*, S75*)",
};
const BONDING: Product = Product {
    what: "bonding primer",
    rows: &[
        Wanted {
            kinds: PAINT,
            words: &["bond"],
            not: &[],
        },
        Wanted {
            kinds: PAINT,
            words: &["prim"],
            not: &["wall"],
        },
    ],
    a_gallon: 300.0,
    source: PRIMER.source,
};
const TOP: Product = Product {
    what: "paint",
    rows: &[
        Wanted {
            kinds: PAINT,
            words: &["enamel", "trim", "satin", "gloss"],
            not: NOT_TOP,
        },
        Wanted {
            kinds: PAINT,
            words: &["paint", "lacquer", "latex", "acrylic"],
            not: NOT_TOP,
        },
    ],
    a_gallon: 375.0,
    source: "375 a gallon: published 350 to 400 (S72, S73*)",
};
const WALL: Product = Product {
    what: "wall paint",
    rows: &[Wanted {
        kinds: PAINT,
        words: &["wall", "ceiling"],
        not: &["prim"],
    }],
    a_gallon: 375.0,
    source: TOP.source,
};
const OIL: Product = Product {
    what: "oil",
    rows: &[Wanted {
        kinds: PAINT,
        words: &["oil", "wax"],
        not: NOT_TOP,
    }],
    a_gallon: 450.0,
    source: "450 a gallon: common practice, no source",
};
const CLEAR: Product = Product {
    what: "clear finish",
    rows: &[Wanted {
        kinds: PAINT,
        words: &["clear", "varnish", "lacquer", "poly"],
        not: NOT_TOP,
    }],
    a_gallon: 450.0,
    source: OIL.source,
};

/// Coats of the surfaces, and the amount of each in what its row's `holds` counts (`None` = no row of stock.csv is one).
pub fn coats(job: &Job, route: &str, areas: &[Surface]) -> Vec<(Coat, Option<NeedUnit>)> {
    let finish = &job.finish;
    let area = |grounds: &[Ground]| -> f64 {
        let on = areas.iter().filter(|a| grounds.contains(&a.ground));
        on.map(|a| a.sq_ft).sum()
    };
    use Ground::{Factory, Primed, Raw, Wall};
    let all = [Raw, Primed, Factory];
    let wanted: Vec<(&Product, u32, f64)> = match finish.look.as_str() {
        "none" => Vec::new(),
        "oil" => vec![(&OIL, finish.top_coats, area(&all))],
        "clear" => vec![(&CLEAR, finish.top_coats, area(&all))],
        _ => vec![
            (&PRIMER, finish.primer_coats, area(&[Raw])),
            // Paint does not hold on gloss by itself, so one coat at least.
            (&BONDING, finish.primer_coats.max(1), area(&[Factory])),
            (&TOP, finish.top_coats, area(&all)),
        ],
    };
    let walls = (&WALL, finish.top_coats, area(&[Wall]));
    let some = |w: &&(&Product, u32, f64)| w.1 > 0 && w.2 > 0.0;
    let coat = |&(product, coats, sq_ft): &(&Product, u32, f64)| {
        let row = product
            .rows
            .iter()
            .find_map(|w| w.rows(job, route).first().copied());
        let own = row.and_then(covers);
        let a_gallon = own.unwrap_or(product.a_gallon);
        let gallons = sq_ft * f64::from(coats) / a_gallon;
        let amount = row.map(|r| match (r.holds, r.covers_mm2) {
            // Counted in cans, so by the can: its own figure needs no size.
            (NeedUnit::Count(n), Some(mm2)) if mm2 > 0 => {
                let cans = sq_ft * f64::from(coats) * SQ_FT_MM2 / mm2 as f64;
                NeedUnit::Count((cans * n as f64).ceil() as i64)
            }
            _ => in_holds(
                r,
                Amount::Volume {
                    cubic_inches: gallons * GALLON_CUBIC_INCHES,
                    usual: GALLON_CUBIC_INCHES,
                },
            ),
        });
        let shown = Coat {
            what: product.what.into(),
            coats,
            sq_ft,
            item: row.map(|r| r.item.clone()),
            sq_ft_a_gallon: a_gallon,
            source: if own.is_some() {
                "your row".into()
            } else {
                product.source.into()
            },
            gallons,
        };
        (shown, amount)
    };
    wanted
        .iter()
        .chain([&walls])
        .filter(some)
        .map(coat)
        .collect()
}

/// Square feet a gallon, by the row's own figure; a can counted as one is taken for a gallon.
fn covers(row: &StockRow) -> Option<f64> {
    let sq_ft = row.covers_mm2.filter(|m| *m > 0)? as f64 / SQ_FT_MM2;
    Some(match row.holds {
        NeedUnit::Volume(v) if v > 0 => sq_ft * GALLON / v as f64,
        _ => sq_ft,
    })
}
