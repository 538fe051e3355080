//! What a route needs, before packs: from its plan, the edges that are banded, its flat-pack runs, rules, and her own rows.
//!
//! Owns where each amount comes from and which of two sources wins (hers); must not know prices.

use super::amount::{alike, bare, say, with_number};
use crate::model::{
    Job, NeedUnit, Part, PartSize, Plan, PrefabUnit, RunUnits, SawAt, StockKind, StockRow,
    banding_of,
};
use crate::units::{Cents, Length};

/// An amount that a rule of another room gives: paint from areas, screws from joints.
#[derive(Clone, PartialEq, Debug)]
pub struct DerivedNeed {
    /// The stock row; `None` = no row of stock.csv is that.
    pub item: Option<String>,
    /// How much, in what its `holds` counts, before waste and packs; `None` = not known without a row.
    pub amount: Option<NeedUnit>,
    /// What it is, the same word on every route.
    pub what: String,
    /// How much of it, in a measure that is the same on every route.
    pub quantity: f64,
    /// The rule, in a few words.
    pub why: String,
    /// True where it is whole pieces that a plan counts already: nothing is put on top, no other size will do.
    pub planned: bool,
}

/// Added to every banded edge: it is cut a little over at both ends. Common practice, no source. [default: 2 in]
const BAND_OVER: Length = Length::inches(2);

/// What is asked of one stock row, or of all pack sizes of its kind.
pub(crate) struct Demand<'a> {
    /// The row named.
    pub(crate) row: &'a StockRow,
    /// How much, before waste.
    pub(crate) amount: NeedUnit,
    /// True where whole pieces are counted (sheets, sticks): no other size will do.
    pub(crate) this_row: bool,
    /// True where a plan counts them: no waste is put on top.
    pub(crate) planned: bool,
    /// True where another room gives the amount: her row of the same material, in any size, takes its place.
    pub(crate) derived: bool,
    /// What must be said of it.
    pub(crate) note: String,
}

/// Who gives an amount; see [`Demand`].
#[derive(Clone, Copy)]
struct Origin {
    planned: bool,
    derived: bool,
}
/// The plan of her cut list.
const PLANNED: Origin = Origin {
    planned: true,
    derived: false,
};
/// Her files.
const ASKED: Origin = Origin {
    planned: false,
    derived: false,
};

/// So many of one flat-pack unit.
pub(crate) struct UnitDemand<'a> {
    pub(crate) unit: &'a PrefabUnit,
    pub(crate) count: i64,
}

/// Everything a route needs.
#[derive(Default)]
pub(crate) struct Demands<'a> {
    pub(crate) goods: Vec<Demand<'a>>,
    pub(crate) units: Vec<UnitDemand<'a>>,
    /// Cuts the store charges for, and what one costs.
    pub(crate) store_cuts: Option<(i64, Cents)>,
    /// What cannot be told, each with its place.
    pub(crate) missing: Vec<String>,
    /// Needed by a rule, and in no row of stock.csv.
    pub(crate) also: Vec<Lack>,
}

/// Needed by a rule, and without a price: nothing in stock.csv is it.
#[derive(Clone, PartialEq, Debug)]
pub(crate) struct Lack {
    pub(crate) what: String,
    pub(crate) quantity: f64,
    pub(crate) why: String,
}

/// Gathers the needs of a route, in the order of stock.csv and prefab.csv.
pub(crate) fn gather<'a>(
    job: &'a Job,
    route: &str,
    plan: &Plan,
    rules: &[DerivedNeed],
) -> Demands<'a> {
    let mut all = Demands::default();
    from_plan(job, route, plan, &mut all);
    from_edges(job, route, &mut all);
    for need in rules {
        let row = need.item.as_deref().and_then(|item| job.stock_row(item));
        match row.zip(need.amount) {
            Some((row, amount)) => {
                let from = Origin {
                    planned: need.planned,
                    derived: true,
                };
                add(&mut all.goods, row, amount, from, need.why.clone());
            }
            None => all.also.push(Lack {
                what: need.what.clone(),
                quantity: need.quantity,
                why: need.why.clone(),
            }),
        }
    }
    from_runs(job, route, &mut all);
    her_rows(job, route, &mut all);
    let place = |d: &UnitDemand| job.prefab.iter().position(|u| u.unit == d.unit.unit);
    all.units.sort_by_key(place);
    all.units.retain(|d| d.count > 0);
    all.store_cuts = store_cuts(job, plan);
    let place = |row: &StockRow| job.stock.iter().position(|s| s.item == row.item);
    all.goods.sort_by_key(|d| place(d.row));
    all
}

fn from_plan<'a>(job: &'a Job, route: &str, plan: &Plan, all: &mut Demands<'a>) {
    let sheets = plan.sheets.iter().filter(|s| s.rack.is_none());
    let sticks = plan.sticks.iter().filter(|s| s.rack.is_none());
    let used = sheets
        .map(|s| (s.item.as_str(), s.count, None))
        .chain(sticks.map(|s| (s.item.as_str(), s.count, Some(s.length))));
    for (item, count, length) in used {
        match job.stock_row(item) {
            None => all
                .missing
                .push(format!("stock.csv: no row {item}, which the plan uses")),
            Some(row) => {
                let amount = match length {
                    Some(l) if row.by_the_foot() => NeedUnit::Run(l * i64::from(count)),
                    _ => NeedUnit::Count(i64::from(count) * 1_000),
                };
                add(&mut all.goods, row, amount, PLANNED, String::new());
            }
        }
    }
    for part in &plan.unplaced {
        all.missing.push(format!(
            "route {route}: {} ({} of it) is on no sheet or stick yet: {}",
            part.mark, part.count, part.why
        ));
    }
}

/// Banding of all banded edges of the route's parts.
fn from_edges<'a>(job: &'a Job, route: &str, all: &mut Demands<'a>) {
    for part in job.route_parts(route) {
        let run = banded_edge(part);
        if run == Length::ZERO {
            continue;
        }
        let amount = NeedUnit::Run(run * i64::from(part.count()));
        match banding_of(&job.stock, part) {
            Some(row) => add(&mut all.goods, row, amount, ASKED, String::new()),
            None => all.missing.push(format!(
                "stock.csv: {} has banded edges, but no row of kind banding covers them",
                part.mark
            )),
        }
    }
}

/// The run of banding one piece of a part takes.
pub(crate) fn banded_edge(part: &Part) -> Length {
    let PartSize::Panel { length, width } = part.size else {
        return Length::ZERO;
    };
    let band = part.band;
    [
        (band.front, length),
        (band.back, length),
        (band.left, width),
        (band.right, width),
    ]
    .iter()
    .filter(|(on, _)| *on)
    .map(|(_, edge)| *edge + BAND_OVER)
    .sum()
}

/// Her `[[need]]` rows: they add up among themselves and override what was derived for the same goods.
fn her_rows<'a>(job: &'a Job, route: &str, all: &mut Demands<'a>) {
    let unit = job.project.tape.unit;
    let mut hers: Vec<Demand<'a>> = Vec::new();
    for need in job.needs.iter().filter(|n| n.route == route) {
        if let Some(row) = job.stock_row(&need.item) {
            add(&mut hers, row, need.amount, ASKED, String::new());
        } else if let Some(unit) = job.prefab.iter().find(|u| u.unit == need.item) {
            let count = (bare(need.amount) + 999) / 1_000;
            all.units.retain(|d| d.unit.unit != need.item);
            all.units.push(UnitDemand { unit, count });
        } else {
            all.missing.push(format!(
                "project.toml, line {}: [[need]] names {}, which is no row of stock.csv or prefab.csv",
                need.line, need.item
            ));
        }
    }
    for mut demand in hers {
        let mut was = Vec::new();
        all.goods.retain(|d| {
            let any_size = d.derived || !demand.this_row && !d.this_row;
            let same = d.row.item == demand.row.item
                || any_size && d.row.kind != StockKind::Sheet && d.row.same_material(demand.row);
            let other = d.row.item != demand.row.item;
            if same && (other || d.amount != demand.amount) {
                let size = if other {
                    format!(" {}", d.row.item)
                } else {
                    String::new()
                };
                was.push(format!("{}{size}", say(d.amount, d.row.kind, unit)));
            }
            !same
        });
        if !was.is_empty() {
            demand.note = format!(
                "your [[need]] row, instead of {} worked out",
                was.join(" and ")
            );
        }
        all.goods.push(demand);
    }
}

fn from_runs<'a>(job: &'a Job, route: &str, all: &mut Demands<'a>) {
    for run in job.runs.iter().filter(|r| r.route == route) {
        let frames: Vec<(&str, i64)> = match &run.units {
            _ if run.has_boxes() => Vec::new(),
            RunUnits::Listed(units) => units.iter().map(|u| (u.as_str(), 1)).collect(),
            RunUnits::Best => {
                all.missing.push(format!(
                    "project.toml, [[run]] route {route}: no mix of frames could be chosen (units = \"best\"); fit says why"
                ));
                Vec::new()
            }
        };
        let extras = run.extras.iter().map(|(c, n)| (c.as_str(), i64::from(*n)));
        for (code, count) in frames.into_iter().chain(extras) {
            if let Some(unit) = job.prefab.iter().find(|u| u.unit == code) {
                match all.units.iter_mut().find(|d| d.unit.unit == code) {
                    Some(d) => d.count += count,
                    None => all.units.push(UnitDemand { unit, count }),
                }
            } else if let Some(row) = job.stock_row(code) {
                let amount = NeedUnit::Count(count * 1_000);
                add(&mut all.goods, row, amount, ASKED, String::new());
            } else {
                all.missing.push(format!(
                    "prefab.csv: no row {code}, which the run of route {route} names"
                ));
            }
        }
    }
}

/// Cuts asked of the store's saw beyond the free ones, sheet by sheet.
fn store_cuts(job: &Job, plan: &Plan) -> Option<(i64, Cents)> {
    let store = job.saw.store.as_ref()?;
    let charged: i64 = plan
        .sheets
        .iter()
        .map(|s| {
            let cuts = s.cuts.iter().filter(|c| c.saw == Some(SawAt::Store));
            let beyond = cuts.count() as i64 - i64::from(store.free_cuts_per_sheet);
            beyond.max(0) * i64::from(s.count)
        })
        .sum();
    (charged > 0).then_some((charged, store.price_per_cut))
}

/// Adds an amount to what is asked of that row already (or of another pack size of the same goods).
fn add<'a>(
    goods: &mut Vec<Demand<'a>>,
    row: &'a StockRow,
    amount: NeedUnit,
    from: Origin,
    note: String,
) {
    let this_row = row.is_cut_up() && matches!(amount, NeedUnit::Count(_));
    let same = |d: &&mut Demand| {
        d.planned == from.planned
            && (!d.planned || d.derived == from.derived)
            && alike(d.amount, amount)
            && (d.row.item == row.item || !this_row && !d.this_row && d.row.same_material(row))
    };
    if let Some(d) = goods.iter_mut().find(same) {
        let sum = bare(d.amount).saturating_add(bare(amount));
        d.amount = with_number(d.amount, sum);
        return;
    }
    goods.push(Demand {
        row,
        amount,
        this_row,
        planned: from.planned,
        derived: from.derived,
        note,
    });
}
