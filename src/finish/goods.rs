//! Glue, filler, caulk, discs, screws, pins, shims and the like by rule. Every rule is shown with its numbers; a `[[need]]` row
//! takes the place of an amount. Where no source is named: common practice, no source.

use super::counted::{Counted, count};
use super::hinges::hinges_of;
use super::rows::{Amount, Wanted, content, in_holds, screw_length};
use super::slides::slides;
use super::surfaces::Around;
use super::volumes::{
    GALLON_CUBIC_INCHES, GLUE_SQ_FT, bead_feet, hole_filler, round_bead, tube_cubic_inches,
};
use crate::model::{GoodsRule, Job, NeedUnit, StockKind, StockRow, Surface};
use crate::units::Length;

/// Square feet that a disc sands once.
const DISC_SQ_FT: f64 = 30.0;
/// Diameter of a bead of caulk, in inches.
const BEAD: f64 = 3.0 / 16.0;
/// Ounces in a usual tube.
const TUBE: f64 = 10.1;

/// What a rule asks for.
#[derive(Clone, PartialEq, Debug)]
pub struct Asked {
    /// As it is shown.
    pub shown: GoodsRule,
    /// How much, in what the row's `holds` counts; `None` = no row of stock.csv is one.
    pub amount: Option<NeedUnit>,
    /// How much before it is known what it is bought in: pieces, cubic inches, square feet.
    pub quantity: f64,
}

/// Name of the rule for sheets that the plan of the cut list does not hold.
pub const BASE_SHEETS: &str = "sheets for base and strips";
/// Name of the rule for what strips and mouldings are fixed with.
const STRIP_NAILS: &str = "strip nails";
/// Name of the rule for what backs are fixed with.
const BACK_NAILS: &str = "back nails";
/// Through a strip 3/4 in thick and half as far again into what is behind it.
const STRIP_NAIL: Length = Length::in_64(80);
/// Through a back 1/4 in thick and twice as far into an edge.
const BACK_NAIL: Length = Length::in_64(48);
/// Names of the rules for what clothes hang on.
const RAILS: &str = "hanging rails";
const SOCKETS: &str = "rail sockets";
const SUPPORTS: &str = "rail supports";
const GOODS: &[StockKind] = &[StockKind::Hardware, StockKind::Consumable];
const CONSUMABLE: &[StockKind] = &[StockKind::Consumable];
const SOFT: &str = "common practice, no source";

/// The goods of a route by rule; what comes to nothing is left out.
pub fn goods(job: &Job, route: &str, areas: &[Surface], around: &Around) -> Vec<Asked> {
    let c = count(job, route, areas, around);
    let sandings = if job.finish.look == "none" {
        0
    } else if job.finish.sand_between {
        (job.finish.primer_coats + job.finish.top_coats).max(1)
    } else {
        1
    };
    let discs = (c.broad * f64::from(sandings) / DISC_SQ_FT).ceil() as i64;
    let pads = (c.hand * f64::from(sandings) / DISC_SQ_FT).ceil() as i64;
    let caulk = c.bead_feet * 12.0 * round_bead(BEAD);
    // A tube as its row says it, so that the rule and the shopping list count the same tubes.
    let tube_row = Wanted {
        kinds: CONSUMABLE,
        words: &["caulk"],
        not: &[],
    };
    let said = tube_row
        .rows(job, route)
        .first()
        .and_then(|r| content(&r.what));
    let tube = said.unwrap_or_else(|| tube_cubic_inches(TUBE));
    let tube_oz = tube / GALLON_CUBIC_INCHES * 128.0;
    let each_tube = bead_feet(tube, round_bead(BEAD));
    let volume = |cubic_inches: f64, usual: f64| Amount::Volume {
        cubic_inches,
        usual,
    };
    let quart = GALLON_CUBIC_INCHES / 4.0;
    let painted = job.finish.look != "none";
    let mut all = Vec::new();
    let mut ask =
        |what: &str, wanted: Wanted, amount: Amount, words: String, rule: String, source: &str| {
            let some = match amount {
                Amount::Pieces(n) => n > 0,
                Amount::Volume { cubic_inches, .. } => cubic_inches > 0.0,
            };
            if !some {
                return;
            }
            let rows = wanted.rows(job, route);
            let row = match what {
                "case screws" => by_length(job, &rows, Length::INCH),
                "wall screws" => by_length(job, &rows, Length::inches(2)),
                STRIP_NAILS => by_length(job, &rows, STRIP_NAIL),
                BACK_NAILS => by_length(job, &rows, BACK_NAIL),
                RAILS => rows.iter().find(|r| r.is_rail()).copied(),
                SOCKETS | SUPPORTS => rows.iter().find(|r| !r.is_rail()).copied(),
                _ => rows.first().copied(),
            };
            let hers = row.is_some_and(|r| {
                let mut needs = job.needs.iter().filter(|n| n.route == route);
                needs.any(|n| {
                    job.stock_row(&n.item)
                        .is_some_and(|o| o.item == r.item || o.same_material(r))
                })
            });
            all.push(Asked {
                shown: GoodsRule {
                    what: what.into(),
                    amount: words,
                    rule,
                    source: source.into(),
                    item: row.map(|r| r.item.clone()),
                    hers,
                },
                amount: row.map(|r| in_holds(r, amount)),
                quantity: match amount {
                    Amount::Pieces(n) => n as f64,
                    Amount::Volume { cubic_inches, .. } => cubic_inches,
                },
            });
        };
    let screws = |not| Wanted {
        kinds: GOODS,
        words: &["screw"],
        not,
    };
    ask("case screws", screws(&["drywall", "pocket"]), Amount::Pieces(c.case_screws), c.case_screws.to_string(),
        "each end of a board: one every 8 in from 1 in inside the edges, 3 at least where 12 in deep, 2 at nailers and base; 4 at each seam of two boxes".into(), SOFT);
    ask(
        "wall screws",
        screws(&["drywall", "pocket"]),
        Amount::Pieces(c.wall_screws),
        c.wall_screws.to_string(),
        "each box or frame: 4 to studs, 4 down into the base; 2 in or longer".into(),
        SOFT,
    );
    let nails = || Wanted {
        kinds: GOODS,
        words: &["nail", "brad"],
        not: &["screw", "gun", "nailer", "punch", "nail set", "strap"],
    };
    ask(
        STRIP_NAILS,
        nails(),
        Amount::Pieces(c.strip_nails),
        c.strip_nails.to_string(),
        "each strip and moulding: 2 at one end and 2 every 16 in from there; 1 1/4 in or longer"
            .into(),
        SOFT,
    );
    ask(
        BACK_NAILS,
        nails(),
        Amount::Pieces(c.back_nails),
        c.back_nails.to_string(),
        "each back: one every 6 in along its four edges; 3/4 in or longer".into(),
        SOFT,
    );
    ask(
        "handles or knobs",
        Wanted {
            kinds: GOODS,
            words: &["handle", "knob", "pull"],
            not: &["jig", "guide", "template", "screw", "pull-out", "pullout"],
        },
        Amount::Pieces(c.pulls),
        c.pulls.to_string(),
        "one for each door and drawer front that you cut, two on a drawer front wider than 30 in"
            .into(),
        SOFT,
    );
    ask(
        "shelf pins",
        Wanted {
            kinds: GOODS,
            words: &["pin"],
            not: &["guide", "nail"],
        },
        Amount::Pieces(c.pins),
        c.pins.to_string(),
        "4 for each loose shelf".into(),
        SOFT,
    );
    ask(
        RAILS,
        Wanted {
            kinds: GOODS,
            words: &["rail", "rod"],
            not: &[],
        },
        Amount::Pieces(c.rails),
        c.rails.to_string(),
        rails_rule(around),
        SOFT,
    );
    ask(
        SOCKETS,
        Wanted {
            kinds: GOODS,
            words: &["socket", "flange", "rail end", "rod end"],
            not: &["outlet", "lamp", "light", "wrench"],
        },
        Amount::Pieces(c.sockets),
        c.sockets.to_string(),
        "two for each rail whose row does not say that they come with it".into(),
        SOFT,
    );
    ask(
        SUPPORTS,
        Wanted {
            kinds: GOODS,
            words: &[
                "middle support",
                "center support",
                "centre support",
                "rail support",
                "rod support",
                "rail bracket",
                "rod bracket",
            ],
            not: &[],
        },
        Amount::Pieces(c.supports),
        c.supports.to_string(),
        "one in the middle of each rail over 48 in, or that sinks too far without".into(),
        "over 4 ft: S37*",
    );
    ask(
        "shims",
        Wanted {
            kinds: GOODS,
            words: &["shim"],
            not: &[],
        },
        Amount::Pieces(c.shims),
        c.shims.to_string(),
        "a pair of opposed wedges under both ends of each crosspiece".into(),
        SOFT,
    );
    ask(
        "wood glue",
        Wanted {
            kinds: CONSUMABLE,
            words: &["glue"],
            not: &["construction", "gun"],
        },
        volume(
            c.glued / GLUE_SQ_FT * GALLON_CUBIC_INCHES,
            GALLON_CUBIC_INCHES / 8.0,
        ),
        format!("{:.1} oz", c.glued / GLUE_SQ_FT * 128.0),
        format!(
            "{:.1} sq ft of joints, {GLUE_SQ_FT} sq ft a gallon",
            c.glued
        ),
        "published 200 to 300 (S79*)",
    );
    if painted {
        ask("filler", Wanted { kinds: CONSUMABLE, words: &["filler", "putty", "spackle"], not: &[] },
            volume(c.holes as f64 * hole_filler(), quart), format!("{} holes", c.holes),
            "each screw, and 2 nails at the end of a moulding and every 16 in from there: a hole 3/8 in across, 1/4 in deep, 1.75 times over".into(), SOFT);
        ask(
            "caulk",
            Wanted {
                kinds: CONSUMABLE,
                words: &["caulk"],
                not: &[],
            },
            volume(caulk, tube),
            format!(
                "{:.1} ft, {:.3} tubes",
                c.bead_feet,
                (caulk / tube * 1_000.0).ceil() / 1_000.0
            ),
            format!(
                "bead 3/16 in round along both edges of each strip and one of each moulding; a tube of {tube_oz:.1} oz gives {each_tube:.1} ft"
            ),
            "volume by section",
        );
        ask(
            "sanding discs",
            Wanted {
                kinds: CONSUMABLE,
                words: &["disc"],
                not: &[],
            },
            Amount::Pieces(discs),
            discs.to_string(),
            format!(
                "{:.1} sq ft of bare faces 6 in wide or more, {sandings} times, {DISC_SQ_FT} sq ft a disc",
                c.broad
            ),
            SOFT,
        );
        ask(
            "sanding pads",
            Wanted {
                kinds: CONSUMABLE,
                words: &["pad", "sponge", "sandpaper"],
                not: &["disc"],
            },
            Amount::Pieces(pads),
            pads.to_string(),
            format!(
                "{:.1} sq ft of strips, mouldings and factory faces by hand, {sandings} times, {DISC_SQ_FT} sq ft a pad; gloss is scuffed till it is dull",
                c.hand
            ),
            SOFT,
        );
    }
    ask(
        "pin drilling guide",
        Wanted {
            kinds: &[StockKind::Tool],
            words: &["pin", "drilling guide"],
            not: &[],
        },
        Amount::Pieces(i64::from(c.drilled)),
        "1".into(),
        "where holes for pins are drilled".into(),
        SOFT,
    );
    all.extend(strips_sheet(job, route, &c));
    all.extend(slides(job, route));
    all.extend(hinges_of(job, route));
    all
}

/// The rule for rails, with the old rods that are used first.
fn rails_rule(around: &Around) -> String {
    let old = around.rails.all.iter().filter_map(|r| r.old.as_deref());
    let old: Vec<&str> = old.collect();
    let mut rule = "one for each bay with a rail".to_owned();
    if !old.is_empty() {
        rule.push_str(&format!(", but for what is cut from: {}", old.join(", ")));
    }
    rule
}

/// Sheets for base and strips around bought frames: their area with a quarter lost, in whole sheets. Where no run names a sheet,
/// the area is asked for all the same.
fn strips_sheet(job: &Job, route: &str, c: &Counted) -> Option<Asked> {
    let mut runs = job
        .runs
        .iter()
        .filter(|r| r.route == route && !r.has_boxes());
    let sheet = runs.find_map(|r| {
        let row = job.stock_row(r.material.as_deref()?)?;
        let size = [row.length?, row.width?].map(|l| l.as_inches());
        (row.kind == StockKind::Sheet).then_some((row, size[0] * size[1] / 144.0))
    });
    if c.base_and_strips <= 0.0 {
        return None;
    }
    let sheets = sheet.map(|(_, sq_ft)| (c.base_and_strips / (0.75 * sq_ft)).ceil() as i64);
    let item = sheet.map(|(row, _)| row.item.clone());
    let words = format!("{:.1} sq ft of base and strips", c.base_and_strips);
    let (amount, rule) = match sheets {
        Some(n) => (
            n.to_string(),
            format!("{words} around the frames, a quarter of each sheet lost"),
        ),
        None => (
            words,
            "around the frames; name the sheet they are cut from as `material` in the [[run]] of the frames".into(),
        ),
    };
    let needs = || job.needs.iter().filter(|n| n.route == route);
    Some(Asked {
        shown: GoodsRule {
            what: BASE_SHEETS.into(),
            amount,
            rule,
            source: SOFT.into(),
            hers: item.as_ref().is_some_and(|i| needs().any(|n| n.item == *i)),
            item,
        },
        amount: sheets.map(|n| NeedUnit::Count(n * 1_000)),
        quantity: c.base_and_strips,
    })
}

/// The shortest screw at least so long, else the first whose row does not say how long it is: one that says it is too
/// short holds nothing.
fn by_length<'a>(job: &Job, rows: &[&'a StockRow], least: Length) -> Option<&'a StockRow> {
    let long = |r: &&&StockRow| screw_length(r, job.project.tape.unit).filter(|l| *l >= least);
    rows.iter()
        .filter(|r| long(r).is_some())
        .min_by_key(|r| long(r))
        .or_else(|| {
            rows.iter()
                .find(|r| screw_length(r, job.project.tape.unit).is_none())
        })
        .copied()
}
