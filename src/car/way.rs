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
    /// What would go in the car, but comes on a van that has to come for the same store's sheets: item and how many.
    pub along: Vec<(String, usize)>,
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
    /// True where the store's delivery, a row of stock.csv, brings it.
    pub delivered: bool,
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
    let mut loaded = load(&job.car, &all);
    let mut stays: Vec<Stays> = Vec::new();
    for piece in loaded.stays.iter().map(|i| &all[*i]) {
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
                delivered: delivers(job, &store_of(job, &piece.item)).is_some(),
            });
        }
    }
    // A van that comes for sheets brings what else is bought there.
    let vans: Vec<String> = (stays.iter().filter(|s| s.sheet && s.delivered))
        .map(|s| store_of(job, &s.item))
        .collect();
    let mut along: Vec<(String, usize)> = Vec::new();
    if !vans.is_empty() {
        let rides = |p: &StorePiece| vans.contains(&store_of(job, &p.item));
        let stuck = |p: &StorePiece| stays.iter().any(|s| s.names.contains(&p.name));
        for piece in all.iter().filter(|p| rides(p) && !stuck(p)) {
            match along.iter_mut().find(|a| a.0 == piece.item) {
                Some(a) => a.1 += 1,
                None => along.push((piece.item.clone(), 1)),
            }
        }
        all.retain(|p| !rides(p));
        loaded = load(&job.car, &all);
    }
    Some(WayHome {
        all,
        load: loaded,
        stays,
        along,
    })
}

/// The store a sheet, a stick or a frame is bought at; empty where its row names none.
fn store_of(job: &Job, item: &str) -> String {
    let unit = job.prefab.iter().find(|u| u.unit == item);
    let row = job.stock_row(item).map(|r| &r.store);
    row.or(unit.map(|u| &u.store)).cloned().unwrap_or_default()
}

/// One way of a store's van to her door.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Delivery {
    /// Which store; empty where the rows name none.
    pub store: String,
    /// What it brings: stock rows and units, each once.
    pub brings: Vec<String>,
    /// What it brings that would go in the car.
    pub along: Vec<String>,
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
        let along = match self.along.len() {
            0 => String::new(),
            1 => format!("; {} comes with it", self.along[0]),
            _ => format!("; {} come with it", self.along.join(", ")),
        };
        format!(
            "delivery{from}, 1: {} {goes} in no space of the car{along}",
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
            let store = store_of(job, &stays.item);
            let at = all.iter().position(|d| d.store == store);
            let at = at.unwrap_or_else(|| {
                all.push(Delivery {
                    item: delivers(job, &store),
                    store,
                    brings: Vec::new(),
                    along: Vec::new(),
                });
                all.len() - 1
            });
            if !all[at].brings.contains(&stays.item) {
                all[at].brings.push(stays.item.clone());
            }
        }
        for (item, _) in &self.along {
            let store = store_of(job, item);
            let van = all.iter_mut().find(|d| d.store == store);
            if let Some(van) = van.filter(|d| !d.brings.contains(item)) {
                van.along.push(item.clone());
            }
        }
        all
    }
}

/// The service row of a store for bringing goods to her door.
pub fn delivers(job: &Job, store: &str) -> Option<String> {
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
        if self.delivered {
            return format!("{what} {goes} in no space of the car: it is delivered.");
        }
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
