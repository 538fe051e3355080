//! The shopping list of one route: whole packs of everything, prices with their range, near misses, tax.
//!
//! Owns how a need becomes a line. Every price is in whole cents; tax is rounded once for the route, on its taxed lines. What
//! the comparison needs is kept beside the words as [`Entry`]s, so that list and comparison cannot disagree.

mod lines;

use lines::{blank_line, counts, in_hand, near_miss, old, place, push_note};

use super::amount::{bare, content, say, waste, with_number, with_waste};
use super::demand::{Demand, DerivedNeed, Lack, UnitDemand, gather};
use super::packs::{Answer, PackSize, ceil_div, cheapest_mix};
use crate::model::compare::{BuyLine, BuyList, OtherWay, PackCount};
use crate::model::{Job, Plan, PrefabKind, StockKind, StockRow, ToolCount};
use crate::units::{Cents, PriceRange};

/// A price older than this many days before the project's date is marked.
const OLD_AFTER_DAYS: i32 = 30;
/// A cheaper mix is a near miss from this share of the bare need on (hundredths). [default: 95] [range: 1-100]
const NEAR: i64 = 95;

/// Groups of the comparison, in the order they are shown.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub(crate) enum Group {
    Sheets,
    Frames,
    FrameExtras,
    BandingAndMouldings,
    Hardware,
    Consumables,
    Paint,
    Tools,
    StoreCuts,
    Services,
}

impl Group {
    pub(crate) fn of(kind: StockKind) -> Self {
        match kind {
            StockKind::Sheet => Self::Sheets,
            StockKind::Moulding | StockKind::Board | StockKind::Banding => {
                Self::BandingAndMouldings
            }
            StockKind::Hardware => Self::Hardware,
            StockKind::Consumable => Self::Consumables,
            StockKind::Paint => Self::Paint,
            StockKind::Tool => Self::Tools,
            StockKind::Service => Self::Services,
        }
    }
    /// The word on a [`BuyLine`].
    pub(crate) fn word(self) -> &'static str {
        match self {
            Self::Sheets => "sheets",
            Self::Frames => "frames",
            Self::FrameExtras => "frame extras",
            Self::BandingAndMouldings => "banding and mouldings",
            Self::Hardware => "hardware",
            Self::Consumables => "consumables",
            Self::Paint => "paint",
            Self::Tools => "tools",
            Self::StoreCuts => "store cuts",
            Self::Services => "services",
        }
    }
}

/// Packs of one row that are bought: the sum behind a line.
#[derive(Clone, Debug)]
pub(crate) struct Entry {
    /// Her code for it.
    pub(crate) code: String,
    pub(crate) group: Group,
    /// How many packs, sheets, units.
    pub(crate) count: i64,
    /// Price of one.
    pub(crate) price: Option<PriceRange>,
    pub(crate) taxed: bool,
}

/// A list with the sums behind it.
#[derive(Clone, Debug)]
pub(crate) struct Bought {
    pub(crate) list: BuyList,
    pub(crate) entries: Vec<Entry>,
    /// Needed, but in no entry.
    pub(crate) lacks: Vec<Lack>,
}

/// The shopping list of a route: what its plan uses, its banded edges and flat-pack units, and her `[[need]]` rows.
pub fn shopping_list(job: &Job, route: &str, plan: &Plan) -> BuyList {
    buy(job, route, plan, &[]).list
}

/// The same with amounts that rules of other rooms give (her rows override them too).
pub fn shopping_list_with(job: &Job, route: &str, plan: &Plan, rules: &[DerivedNeed]) -> BuyList {
    buy(job, route, plan, rules).list
}

pub(crate) fn buy(job: &Job, route: &str, plan: &Plan, rules: &[DerivedNeed]) -> Bought {
    let needs = gather(job, route, plan, rules);
    let mut shop = Shop {
        job,
        lines: Vec::new(),
        entries: Vec::new(),
        missing: needs.missing,
        also: needs.also,
    };
    for demand in &needs.goods {
        shop.goods(demand);
    }
    for demand in &needs.units {
        shop.units(demand);
    }
    if let Some((cuts, price)) = needs.store_cuts {
        shop.store_cuts(cuts, price);
    }
    shop.close(route)
}

struct Shop<'a> {
    job: &'a Job,
    lines: Vec<(Group, BuyLine)>,
    entries: Vec<Entry>,
    missing: Vec<String>,
    also: Vec<Lack>,
}

impl Shop<'_> {
    fn goods(&mut self, demand: &Demand) {
        let (job, row) = (self.job, demand.row);
        let unit = job.project.tape.unit;
        let mut line = blank_line(&row.item, &row.what, Group::of(row.kind));
        (line.1.store, line.1.aisle) = (row.store.clone(), row.aisle.clone());
        line.1.need = say(demand.amount, row.kind, unit);
        line.1.taxed = row.taxed;
        line.1.note.clone_from(&demand.note);
        if row.kind == StockKind::Tool && job.tools.have.contains(&row.item) {
            line.1.have = "yours".into();
            line.1.cents = Some(Cents::ZERO);
            (line.1.cents_low, line.1.cents_high) = (line.1.cents, line.1.cents);
            self.lines.push(line);
            return;
        }
        let sizes: Vec<&StockRow> = job
            .stock
            .iter()
            .filter(|s| s.item == row.item || !demand.this_row && s.same_material(row))
            .filter(|s| content(s, demand.amount).is_some())
            .collect();
        if sizes.is_empty() {
            self.missing.push(format!(
                "{}: {} is needed as {}, but `holds` says nothing of that kind",
                place(row, "holds"),
                row.item,
                line.1.need
            ));
            self.lines.push(line);
            return;
        }
        let net = bare(demand.amount).max(0);
        let gross = if demand.planned {
            net
        } else {
            with_waste(net, waste(row, demand.amount))
        };
        let words = |n: i64| say(with_number(demand.amount, n), row.kind, unit);
        let have = sizes
            .iter()
            .filter_map(|s| in_hand(s, demand))
            .fold(0, i64::saturating_add);
        line.1.have = if have > 0 { words(have) } else { "0".into() };
        if gross != net && words(gross) != line.1.need {
            line.1.need_with_waste = words(gross);
        }
        let (short, short_net) = ((gross - have).max(0), (net - have).max(0));
        if short == 0 {
            line.1.cents = Some(Cents::ZERO);
            (line.1.cents_low, line.1.cents_high) = (line.1.cents, line.1.cents);
            self.lines.push(line);
            return;
        }
        let priced: Vec<&StockRow> = sizes
            .iter()
            .copied()
            .filter(|s| s.price.is_some())
            .collect();
        for unpriced in sizes
            .iter()
            .filter(|s| s.price.is_none() && !priced.is_empty())
        {
            let also = format!("{} has no price and was left out", unpriced.item);
            push_note(&mut line.1.note, &also);
        }
        if priced.is_empty() {
            let holds = content(row, demand.amount).unwrap_or(1);
            line.1.packs = vec![PackCount {
                item: row.item.clone(),
                packs: u32::try_from(ceil_div(short, holds)).unwrap_or(u32::MAX),
            }];
            line.1.lead_days = row.lead_days;
            self.unpriced(row, ceil_div(short, holds));
            self.missing.push(format!(
                "{}: {} has no price",
                place(row, "price"),
                row.item
            ));
            self.lines.push(line);
            return;
        }
        let packs: Vec<PackSize> = priced
            .iter()
            .map(|s| PackSize {
                content: content(s, demand.amount).unwrap_or(1),
                cents: s.likely().map_or(0, |c| c.0),
                at_most: s.at_most,
            })
            .collect();
        let Some(found) = cheapest_mix(&packs, short) else {
            self.unpriced(row, 1);
            self.missing.push(format!(
                "{}: {} of {} cannot be bought (see at_most)",
                place(row, "at_most"),
                words(short),
                row.item
            ));
            self.lines.push(line);
            return;
        };
        self.bought(&mut line.1, &priced, &found);
        let spare = found.best.content - short;
        if spare > 0 && row.kind != StockKind::Sheet {
            line.1.spare = words(spare);
        }
        if !found.complete {
            push_note(
                &mut line.1.note,
                "the cheapest mix found, not proved the cheapest",
            );
        }
        if priced.len() > 1 {
            line.1.runner_up = found.runner_up.as_ref().map(|m| OtherWay {
                packs: counts(&priced, &m.packs),
                cents: Cents(m.cents),
                short_by: String::new(),
            });
        }
        line.1.near_miss = near_miss(&priced, &found, [short_net, short], unit, &words);
        let smallest = packs.iter().map(|p| p.content).min().unwrap_or(1);
        if row.kind == StockKind::Paint && line.1.near_miss.is_empty() && short <= smallest / 4 {
            line.1.near_miss = format!(
                "{} would do with a smaller can; none is in stock.csv",
                words(short_net)
            );
        }
        self.lines.push(line);
    }

    /// Enters goods without a price, so that no sum is shown that leaves them out.
    fn unpriced(&mut self, row: &StockRow, count: i64) {
        self.entries.push(Entry {
            code: row.item.clone(),
            group: Group::of(row.kind),
            count,
            price: None,
            taxed: row.taxed,
        });
    }

    /// Enters what is bought into a line and the sums.
    fn bought(&mut self, line: &mut BuyLine, rows: &[&StockRow], found: &Answer) {
        line.packs = counts(rows, &found.best.packs);
        let mut sum = [Cents::ZERO; 3];
        let date = self.job.project.date;
        for (row, &n) in rows.iter().zip(&found.best.packs).filter(|(_, n)| **n > 0) {
            let price = row
                .price
                .expect("only priced rows are offered to the search");
            for (s, p) in sum.iter_mut().zip([price.low, price.likely, price.high]) {
                *s = Cents(s.0.saturating_add(p.0.saturating_mul(i64::from(n))));
            }
            line.lead_days = line.lead_days.max(row.lead_days);
            line.taxed = row.taxed;
            if line.old_price.is_empty() {
                line.old_price = old(row.priced_on, date);
            }
            if row.store != line.store {
                push_note(&mut line.note, &format!("{} from {}", row.item, row.store));
            }
            self.entries.push(Entry {
                code: row.item.clone(),
                group: Group::of(row.kind),
                count: i64::from(n),
                price: row.price,
                taxed: row.taxed,
            });
        }
        [line.cents_low, line.cents, line.cents_high] = sum.map(Some);
    }

    fn units(&mut self, demand: &UnitDemand) {
        let unit = demand.unit;
        let group = match unit.kind {
            PrefabKind::Frame => Group::Frames,
            _ => Group::FrameExtras,
        };
        let mut line = blank_line(&unit.unit, &unit.what, group);
        line.1.store.clone_from(&unit.store);
        line.1.need = demand.count.to_string();
        line.1.have = "0".into();
        line.1.taxed = unit.taxed;
        line.1.lead_days = unit.lead_days;
        line.1.packs = vec![PackCount {
            item: unit.unit.clone(),
            packs: u32::try_from(demand.count).unwrap_or(u32::MAX),
        }];
        if unit.kind == PrefabKind::Frame && unit.shelves_in_box > 0 {
            let each = unit.shelves_in_box;
            line.1.note = format!("{each} shelf or shelves in each carton, not bought again");
        }
        if let Some(price) = unit.price {
            let times = |c: Cents| Some(Cents(c.0.saturating_mul(demand.count)));
            line.1.cents = times(price.likely);
            (line.1.cents_low, line.1.cents_high) = (times(price.low), times(price.high));
            line.1.old_price = old(unit.priced_on, self.job.project.date);
        } else {
            self.missing.push(format!(
                "prefab.csv, row {}, column price: {} has no price",
                unit.row, unit.unit
            ));
        }
        self.entries.push(Entry {
            code: unit.unit.clone(),
            group,
            count: demand.count,
            price: unit.price,
            taxed: unit.taxed,
        });
        self.lines.push(line);
    }

    fn store_cuts(&mut self, cuts: i64, price: Cents) {
        let mut line = blank_line(
            "",
            "cuts at the store beyond the free ones",
            Group::StoreCuts,
        );
        line.1.need = cuts.to_string();
        line.1.cents = Some(Cents(price.0.saturating_mul(cuts)));
        (line.1.cents_low, line.1.cents_high) = (line.1.cents, line.1.cents);
        self.entries.push(Entry {
            code: "store cuts".into(),
            group: Group::StoreCuts,
            count: cuts,
            price: Some(PriceRange::firm(price)),
            taxed: true,
        });
        self.lines.push(line);
    }

    fn close(mut self, route: &str) -> Bought {
        self.lines.sort_by_key(|(group, _)| *group);
        self.entries.sort_by_key(|e| e.group);
        if self.job.project.sales_tax.is_none() {
            self.missing.push(TAX_MISSING.into());
        }
        let paid = |taxed_only: bool| {
            self.entries
                .iter()
                .filter(|e| e.taxed || !taxed_only)
                .map(|e| e.price.map(|p| p.likely.0.saturating_mul(e.count)))
                .try_fold(0_i64, |sum, cents| Some(sum.saturating_add(cents?)))
        };
        let whole = self.missing.is_empty();
        let tax = (self.job.project.sales_tax.filter(|_| whole))
            .and_then(|rate| Some(rate.of(Cents(paid(true)?))));
        let total = tax.and_then(|t| Some(Cents(paid(false)?.saturating_add(t.0))));
        Bought {
            list: BuyList {
                route: route.into(),
                lines: self.lines.into_iter().map(|(_, l)| l).collect(),
                tax,
                total,
                missing: self.missing,
                also: self.also.iter().map(|l| l.why.clone()).collect(),
            },
            entries: self.entries,
            lacks: self.also,
        }
    }
}

/// How a tool's price is counted in the comparison: one over this, or not at all (0).
pub(crate) fn tool_share(job: &Job) -> i64 {
    match job.tools.count {
        ToolCount::Full => 1,
        ToolCount::Share { jobs } => i64::from(jobs.max(1)),
        ToolCount::None => 0,
    }
}

/// Said where no sales tax is given.
pub(crate) const TAX_MISSING: &str =
    "project.toml, [project] sales_tax: not given (0% is a fair answer)";
