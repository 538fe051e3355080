//! Sticks that are too long for the car, and what would do instead: a shorter stick of the same, or a cut at the store. And frames
//! of which nobody said how large their carton is.

use super::fit::Spaces;
use super::way::WayHome;
use crate::model::compare::BuyList;
use crate::model::{Job, PrefabKind, StickPlan, StockKind, StockRow};
use crate::units::Length;

impl WayHome {
    /// One sentence for each stick that goes in no space; `cut` = the sticks whose pieces are known.
    pub fn stick_hints(&self, job: &Job, cut: &[&StickPlan]) -> Vec<String> {
        let Some(spaces) = Spaces::of(&job.car) else {
            return Vec::new();
        };
        let stays = self.stays.iter().filter(|s| !s.sheet);
        let rows = stays.filter_map(|s| job.stock_row(&s.item));
        rows.filter(|r| is_stick(r))
            .filter_map(|row| hint(job, &spaces, row, cut))
            .collect()
    }
}

fn is_stick(row: &StockRow) -> bool {
    matches!(row.kind, StockKind::Moulding | StockKind::Board)
}

/// How long a single stick of a row may be for the car; zero where none of it goes in.
pub fn longest_stick(spaces: &Spaces, row: &StockRow) -> Length {
    let width = row.width.unwrap_or(Length::INCH);
    let thick = row.thickness().unwrap_or(Length::INCH);
    spaces.longest(width, thick).at_least_zero()
}

fn hint(job: &Job, spaces: &Spaces, row: &StockRow, cut: &[&StickPlan]) -> Option<String> {
    let size = |l: Length| job.project.tape.print_with_unit(l);
    let long = row.length?;
    let most = longest_stick(spaces, row);
    let head = format!(
        "{}, {} long, goes in no space of the car",
        row.item,
        size(long)
    );
    if long <= most {
        return Some(format!(
            "{head} as a bundle; one by one, or in smaller bundles, its sticks do."
        ));
    }
    let sticks = cut
        .iter()
        .filter(|s| s.item == row.item && s.rack.is_none());
    let pieces = || sticks.clone().flat_map(|s| &s.pieces);
    let mut over: Vec<String> = Vec::new();
    for p in pieces().filter(|p| p.length > most) {
        let said = format!("{}, {}", p.mark, size(p.length));
        if !over.contains(&said) {
            over.push(said);
        }
    }
    if !over.is_empty() {
        return Some(format!(
            "{head}, nor does what is cut from it ({}): the longest that goes in is {}. No shorter stick and no cut at the store helps; \
             a joint over a stud in each of them would, or a roof rack or a van.",
            over.join("; "),
            size(most)
        ));
    }
    let need = pieces().map(|p| p.length).max();
    let shorter = job.stock.iter().filter(|r| {
        r.same_material(row)
            && !r.by_the_foot()
            && r.at_most != Some(0)
            && r.length
                .is_some_and(|l| l <= longest_stick(spaces, r) && need.is_none_or(|n| n <= l))
    });
    let named: Vec<String> = shorter
        .filter_map(|r| Some(format!("{}, {}", r.item, size(r.length?))))
        .collect();
    let least = need.map_or_else(String::new, |n| format!(" from {}", size(n)));
    let stick = match (named.is_empty(), most.is_positive()) {
        (false, _) => format!("{} would go in", named.join(" or ")),
        (true, true) => format!(
            "a stick{least} up to {} long would go in, and stock.csv lists none",
            size(most)
        ),
        (true, false) => return Some(format!("{head}, however short it is.")),
    };
    let store = if job.saw.store.is_some() {
        "; or ask the store to cut it between two pieces, none longer than that"
    } else {
        "; or have it cut between two pieces where you buy it"
    };
    Some(format!("{head}: {stick}{store} ({}).", size(most)))
}

/// Frames on a list whose carton nobody measured, where a car is given: whether they go in it is not known.
pub fn cartons_unknown(job: &Job, list: &BuyList) -> Option<String> {
    Spaces::of(&job.car)?;
    let mut codes: Vec<&str> = Vec::new();
    for line in &list.lines {
        let unit = job.prefab.iter().find(|u| u.unit == line.item);
        let bought = line.packs.iter().any(|p| p.packs > 0);
        if let Some(unit) = unit.filter(|u| bought && u.kind == PrefabKind::Frame)
            && unit.carton.is_none()
            && !codes.contains(&unit.unit.as_str())
        {
            codes.push(&unit.unit);
        }
    }
    let (noun, is) = match codes.len() {
        0 => return None,
        1 => ("has", "it goes"),
        _ => ("have", "they go"),
    };
    Some(format!(
        "{} {noun} no carton in prefab.csv: whether {is} in the car, and in how many trips, is not reckoned. Type its three sizes there, such as 84 x 23 x 4.",
        codes.join(", ")
    ))
}
