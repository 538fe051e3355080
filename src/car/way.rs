//! The way home of everything that is bought: what the store cuts, what is fetched, how often, and what does not go.

use super::fit::Spaces;
use super::load::{Load, StorePiece, load, pieces, sawn};
use super::{cartons, sticks};
use crate::model::compare::BuyList;
use crate::model::{Job, Plan, StockKind, StockRow};
use crate::units::{Length, Tape};

/// See the module.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct WayHome {
    /// Everything to be fetched: sheets in pieces, then cartons and sticks.
    pub all: Vec<StorePiece>,
    /// How it is loaded.
    pub load: Load,
    /// What goes in no space.
    pub stays: Vec<Stays>,
}

/// Cuts of the store's saw for a whole plan.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct CutCount {
    /// All of them.
    pub cuts: u32,
    /// Those beyond the free ones, sheet by sheet.
    pub charged: u32,
}

/// Alike things that go in no space of the car.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Stays {
    /// Their names, each once.
    pub names: Vec<String>,
    /// How many.
    pub count: usize,
    /// Stock row or unit.
    pub item: String,
    /// Three sizes.
    pub size: [Length; 3],
    /// True for a sheet.
    pub sheet: bool,
    /// Parts of the sheets, one of each, that by themselves go in no space.
    pub parts: Vec<(String, [Length; 2])>,
    /// True where the store has no saw that could help.
    pub no_saw: bool,
}

/// What the store is asked for.
pub fn cut_count(job: &Job, plan: &Plan) -> CutCount {
    let mut sum = CutCount::default();
    let Some(store) = &job.saw.store else {
        return sum;
    };
    for sheet in &plan.sheets {
        let cuts = sawn(sheet, plan.kerf, store.true_to).cuts.len();
        let cuts = u32::try_from(cuts).unwrap_or(u32::MAX);
        let charged = cuts.saturating_sub(store.free_cuts_per_sheet);
        sum.cuts = sum.cuts.saturating_add(cuts.saturating_mul(sheet.count));
        sum.charged = sum
            .charged
            .saturating_add(charged.saturating_mul(sheet.count));
    }
    sum
}

/// The way home; `None` where no space of a car is given or nothing is fetched. The list adds cartons and sticks.
pub fn way_home(job: &Job, plan: &Plan, list: Option<&BuyList>) -> Option<WayHome> {
    let spaces = Spaces::of(&job.car)?;
    let mut all = pieces(job, plan);
    if let Some(list) = list {
        all.extend(cartons(job, list));
        all.extend(sticks(job, list));
    }
    if all.is_empty() {
        return None;
    }
    let load = load(&job.car, &all);
    let mut stays: Vec<Stays> = Vec::new();
    for piece in load.stays.iter().map(|i| &all[*i]) {
        let size = [piece.size[0], piece.size[1], piece.thick];
        let part = piece.sheet.and_then(|i| {
            let sheet = &plan.sheets[i];
            let thick = job.stock_row(&sheet.item).and_then(StockRow::thickness)?;
            let part = sheet.places.iter().find(|p| !spaces.takes(p.size, thick))?;
            Some((part.mark.clone(), part.size))
        });
        let same = |s: &&mut Stays| {
            s.item == piece.item && s.size == size && s.parts.is_empty() == part.is_none()
        };
        if let Some(s) = stays.iter_mut().find(same) {
            s.count += 1;
            s.parts.extend(part.filter(|p| !s.parts.contains(p)));
            if !s.names.contains(&piece.name) {
                s.names.push(piece.name.clone());
            }
        } else {
            stays.push(Stays {
                names: vec![piece.name.clone()],
                count: 1,
                item: piece.item.clone(),
                size,
                sheet: piece.sheet.is_some(),
                parts: part.into_iter().collect(),
                no_saw: job.saw.store.is_none(),
            });
        }
    }
    Some(WayHome { all, load, stays })
}

/// One way of a store's van to her door.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Delivery {
    /// Which store; empty where the rows name none.
    pub store: String,
    /// What it brings: stock rows and units, each once.
    pub brings: Vec<String>,
    /// The store's service row for it; `None` = stock.csv has none.
    pub item: Option<String>,
}

impl Delivery {
    /// `delivery from the timber yard, 1: BIR-18, BIR-6 go in no space of the car`.
    pub fn sentence(&self) -> String {
        let from = if self.store.is_empty() {
            String::new()
        } else {
            format!(" from {}", self.store)
        };
        let goes = if self.brings.len() == 1 { "goes" } else { "go" };
        format!(
            "delivery{from}, 1: {} {goes} in no space of the car",
            self.brings.join(", ")
        )
    }
}

impl WayHome {
    /// Ways to the store and back: as many as the load takes, and one at least, for screws and paint have to be fetched too.
    pub fn trips(&self) -> usize {
        self.load.trips.len().max(1)
    }

    /// What goes in no space is delivered: one delivery for each store, by the service row of that store (else one that names no
    /// store) with `deliver` in its name.
    pub fn deliveries(&self, job: &Job) -> Vec<Delivery> {
        let mut all: Vec<Delivery> = Vec::new();
        for stays in &self.stays {
            let unit = job.prefab.iter().find(|u| u.unit == stays.item);
            let row = job.stock_row(&stays.item).map(|r| &r.store);
            let store = row.or(unit.map(|u| &u.store)).cloned().unwrap_or_default();
            let at = all.iter().position(|d| d.store == store);
            let at = at.unwrap_or_else(|| {
                all.push(Delivery {
                    item: delivers(job, &store),
                    store,
                    brings: Vec::new(),
                });
                all.len() - 1
            });
            if !all[at].brings.contains(&stays.item) {
                all[at].brings.push(stays.item.clone());
            }
        }
        all
    }
}

fn delivers(job: &Job, store: &str) -> Option<String> {
    let service =
        |r: &&StockRow| r.kind == StockKind::Service && r.what.to_lowercase().contains("deliver");
    let rows = || job.stock.iter().filter(service);
    let own = rows().find(|r| r.store == store);
    let row = own.or_else(|| rows().find(|r| r.store.is_empty()));
    row.map(|r| r.item.clone())
}

impl Stays {
    /// What stays, why, and the way out.
    pub fn sentence(&self, tape: &Tape) -> String {
        let two = |s: &[Length]| {
            s.iter()
                .map(|l| tape.print(*l))
                .collect::<Vec<_>>()
                .join(" x ")
        };
        let what = if self.sheet {
            let word = if self.count == 1 { "Sheet" } else { "Sheets" };
            format!(
                "{word} {} of {}, {},",
                self.names.join(", "),
                self.item,
                two(&self.size)
            )
        } else {
            format!(
                "{} x {}, {},",
                self.count,
                self.names.join(", "),
                two(&self.size)
            )
        };
        let goes = if self.count == 1 { "goes" } else { "go" };
        let way_out = match (&self.parts[..], self.sheet, self.no_saw) {
            ([(mark, size)], ..) => format!(
                " Part {mark}, {}, goes in none either. Have it delivered, or hire a van.",
                two(size)
            ),
            ([_, ..], ..) => {
                let parts: Vec<String> = (self.parts.iter())
                    .map(|(mark, size)| format!("{mark}, {}", two(size)))
                    .collect();
                format!(
                    " Parts {} go in none either. Have it delivered, or hire a van.",
                    parts.join("; ")
                )
            }
            ([], true, true) => {
                " Give [saw.store] if the store cuts sheets, have it delivered, or hire a van.".into()
            }
            ([], true, false) => {
                " No way was found of cutting it clear of its parts for the car. Have it delivered, or hire a van.".into()
            }
            ([], false, _) => " Have it delivered, or hire a van.".into(),
        };
        format!("{what} {goes} in no space of the car.{way_out}")
    }
}
