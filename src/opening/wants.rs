//! What she wants to keep in it, met or short: shelf length, hanging length, drawers.
//!
//! Owns the counting rules. Closed space is the shelf length behind doors, and the width of each drawer. Shelf length is the inside width of every flat surface inside a box that can be stood on with at
//! least 8 in clear above (tops behind a closing piece do not count); hanging is the inside rail length where the clear drop takes
//! the longest garment and the inside depth takes a hanger. Rail inches a garment: 2 (women's), 2 1/2 (men's), 4 1/2 (coats),
//! S57.

use super::closed;
use super::sit::{Row, Standing};
use crate::model::{BoxPlan, Job, PrefabKind, PrefabUnit, Run, Want};
use crate::units::{Length, Tape};
use serde::Serialize;

/// Clear height that makes a surface useful.
const CLEAR: Length = Length::inches(8);
/// From the shelf above down to a rail: 2 in at least, S58.
const UNDER_SHELF: Length = Length::inches(2);
/// Thickness where a stock row or unit names none: 23/32 in, common practice, no source.
pub(super) const BOARD: Length = Length::in_64(46);
/// Depth of a hanger with its garment: 22 in clear at least, common practice, no source.
pub const HANGER: Length = Length::inches(22);

/// One want.
#[derive(Clone, PartialEq, Eq, Debug, Serialize)]
pub struct WantMet {
    /// shelf, hanging, drawers.
    pub what: String,
    /// How much was wanted: a length, or a count of drawers.
    pub wanted: i64,
    /// How much the route gives.
    pub given: i64,
    /// True if that is enough.
    pub met: bool,
}

impl WantMet {
    /// How much was wanted and how much is given, in words: a length in feet, or a count of drawers.
    pub fn in_words(&self, tape: Tape) -> [String; 2] {
        [self.wanted, self.given].map(|n| match self.what.as_str() {
            "drawers" => n.to_string(),
            _ => tape.print_feet(Length::from_units(n)),
        })
    }
    /// `SHORT of hanging: 103 wanted, 60 given.`; `None` where it is met.
    pub fn short(&self, tape: Tape) -> Option<String> {
        let [wanted, given] = self.in_words(tape);
        let said = || format!("SHORT of {}: {wanted} wanted, {given} given.", self.what);
        (!self.met).then(said)
    }
}

/// What a route holds.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct Holds {
    /// Shelf length.
    pub shelf: Length,
    /// Hanging length.
    pub hanging: Length,
    /// Drawers.
    pub drawers: u32,
    /// Shelf length behind doors, and the width of each drawer.
    pub closed: Length,
}

impl Holds {
    /// Two rows of one route together.
    #[must_use]
    pub fn and(self, o: Self) -> Self {
        Self {
            shelf: self.shelf + o.shelf,
            hanging: self.hanging + o.hanging,
            drawers: self.drawers.saturating_add(o.drawers),
            closed: self.closed + o.closed,
        }
    }
}

/// How many surfaces (the bottom and `shelves`) keep 8 in clear in a space of that height, and the drop left if they are packed so.
fn surfaces(height: Length, shelves: u32, thick: Length) -> (u32, Length) {
    let used = (1..=i64::from(shelves))
        .take_while(|n| CLEAR * (n + 1) + thick * *n <= height)
        .count() as u32;
    let bottom = u32::from(height >= CLEAR);
    let drop = height - (CLEAR + thick) * i64::from(shelves) - UNDER_SHELF;
    (bottom + used, drop.at_least_zero())
}

/// Surfaces (the lowest only where something can stand on it) and the greatest drop where she said how high the shelves stand.
fn at_heights(tops: &[Length], height: Length, thick: Length, floor: bool) -> (u32, Length) {
    let mut levels: Vec<Length> = tops
        .iter()
        .copied()
        .filter(|t| t.is_positive() && *t < height)
        .collect();
    levels.push(Length::ZERO);
    levels.sort_unstable();
    levels.dedup();
    let clear = |i: usize| {
        let above = levels.get(i + 1).map_or(height, |next| *next - thick);
        above - levels[i]
    };
    let first = usize::from(!floor);
    let count = (first..levels.len()).filter(|i| clear(*i) >= CLEAR).count();
    let most = (0..levels.len()).map(clear).max().unwrap_or_default();
    (count as u32, (most - UNDER_SHELF).at_least_zero())
}

/// What the inside of one box comes to.
pub(super) struct Within {
    /// Clear width, partitions apart.
    pub(super) width: Length,
    /// In front of the back.
    pub(super) depth: Length,
    /// Surfaces to stand things on.
    pub(super) surfaces: u32,
    /// The greatest drop under a shelf or the top.
    pub(super) drop: Length,
    /// Thickness of its sides.
    pub(super) board: Length,
}

/// The inside of each box of a run, as it stands: over its drawers, between its partitions.
pub(super) fn within<'a>(job: &Job, run: &'a Run, row: &Row) -> Vec<(&'a BoxPlan, Within)> {
    let thick = |item: &Option<String>| {
        let code = item.as_deref()?;
        job.stock_row(code)?.thickness()
    };
    let board = thick(&run.material).unwrap_or(BOARD);
    let back = thick(&run.back).unwrap_or_default();
    let one = |(plan, stands): (&'a BoxPlan, &Standing)| {
        let uprights = board * i64::from(plan.inside.partitions + 2);
        // Nothing stands on drawers; what is over them begins at their upper edge.
        let drawers: Length = plan.drawer_places().into_iter().sum();
        let height = (stands.height - board * 2 - drawers).at_least_zero();
        let shelves = plan.fixed_shelves.saturating_add(plan.loose_shelves);
        let (count, drop) = if plan.shelf_heights.len() as u64 == u64::from(shelves) && shelves > 0
        {
            // Her heights are from the box's bottom edge; the inside begins a board higher.
            let from = board + drawers;
            let tops: Vec<Length> = plan.shelf_heights.iter().map(|h| *h - from).collect();
            at_heights(&tops, height, board, plan.drawers == 0)
        } else {
            let (count, drop) = surfaces(height, shelves, board);
            let bottom = u32::from(plan.drawers > 0 && height >= CLEAR);
            (count - bottom, drop)
        };
        let within = Within {
            width: (stands.width - uprights).at_least_zero(),
            depth: stands.depth - back,
            surfaces: count,
            drop,
            board,
        };
        (plan, within)
    };
    run.boxes.iter().zip(&row.boxes).map(one).collect()
}

/// What a run of boxes holds.
pub fn boxes_hold(job: &Job, run: &Run, row: &Row) -> Holds {
    let (drop_wanted, hanger) = hung(job.want.as_ref());
    let mut holds = Holds::default();
    for (plan, inside) in within(job, run, row) {
        holds.shelf += inside.width * i64::from(inside.surfaces);
        if plan.doors > 0 {
            holds.closed += inside.width * i64::from(inside.surfaces);
        }
        holds.closed += inside.width * i64::from(plan.drawers);
        if plan.rail && inside.drop >= drop_wanted && inside.depth >= hanger {
            holds.hanging += inside.width;
        }
        holds.drawers = holds.drawers.saturating_add(plan.all_drawers());
    }
    holds
}

/// Clear height inside a frame; where only the outside is given, two boards less.
pub fn clear_height(frame: &PrefabUnit) -> Length {
    let within = |h: Length| (h - frame.shelf_thick.unwrap_or(BOARD) * 2).at_least_zero();
    (frame.inside_height)
        .or_else(|| frame.height.map(within))
        .unwrap_or_default()
}

/// Frames of one kind and the loose parts that are theirs.
struct Alike<'a> {
    frame: &'a PrefabUnit,
    n: u32,
    /// Hanging length of each rail, the longest first; no more count than there are frames.
    rails: Vec<Length>,
    shelves: u32,
}

impl Alike<'_> {
    fn inside(&self) -> Length {
        self.frame.inside_width.unwrap_or_default()
    }
    fn height(&self) -> Length {
        clear_height(self.frame)
    }
    fn thick(&self) -> Length {
        self.frame.shelf_thick.unwrap_or(BOARD)
    }
    fn each(&self) -> Length {
        self.frame.shelf_each.unwrap_or_else(|| self.inside())
    }
    fn with_rail(&self) -> u32 {
        u32::try_from(self.rails.len()).map_or(self.n, |r| r.min(self.n))
    }
    /// Shelves that the frames without a rail take and keep 8 in clear.
    fn plain_room(&self) -> u32 {
        let most = surfaces(self.height(), 1000, self.thick()).0;
        most.saturating_sub(1)
            .saturating_mul(self.n - self.with_rail())
    }
    /// Loose shelves that count, and the drop they leave under the rails: frames without a rail are filled first, the rest go
    /// above or below the rails.
    fn filled(&self) -> (u32, Length) {
        let in_plain = self.shelves.min(self.plain_room());
        let beside = (self.shelves - in_plain).div_ceil(self.with_rail().max(1));
        let (rail_surfaces, drop) = surfaces(self.height(), beside, self.thick());
        let room = rail_surfaces.saturating_sub(1) * self.with_rail();
        (in_plain + (self.shelves - in_plain).min(room), drop)
    }
    fn hangs(&self, (drop, hanger): (Length, Length)) -> bool {
        self.filled().1 >= drop && self.frame.inside_depth.is_none_or(|d| d >= hanger)
    }
}

/// What frames and their loose parts hold. Loose shelves go to frames of their kind that have no rail first, and no shelf counts
/// that would leave less than 8 in clear. A part that names no frame in `fits` counts once: a rail in the widest frame without
/// one that is tall and deep enough, a shelf where it adds most and costs no hanging.
pub fn frames_hold(job: &Job, frames: &[&PrefabUnit], extras: &[(String, u32)]) -> Holds {
    let hung = hung(job.want.as_ref());
    let parts = |kind: PrefabKind, of: Option<&str>| {
        let listed = extras.iter().filter_map(|(code, n)| {
            let unit = job.prefab.iter().find(|u| &u.unit == code)?;
            (unit.kind == kind && unit.fits.as_deref() == of).then_some((unit, *n))
        });
        listed.collect::<Vec<_>>()
    };
    let number =
        |list: &[(&PrefabUnit, u32)]| list.iter().fold(0, |n: u32, u| n.saturating_add(u.1));
    let lengths = |list: &[(&PrefabUnit, u32)], most: u32| {
        let each = list
            .iter()
            .flat_map(|(u, n)| std::iter::repeat_n(u.hanging_each, (*n).min(most) as usize));
        each.collect::<Vec<Option<Length>>>()
    };
    let mut kinds: Vec<Alike> = Vec::new();
    for frame in frames {
        match kinds.iter_mut().find(|k| k.frame.unit == frame.unit) {
            Some(k) => k.n += 1,
            None => kinds.push(Alike {
                frame,
                n: 1,
                rails: Vec::new(),
                shelves: 0,
            }),
        }
    }
    let mut holds = Holds::default();
    for k in &mut kinds {
        let own = Some(k.frame.unit.as_str());
        let inside = k.inside();
        let rails = lengths(&parts(PrefabKind::Rail, own), k.n);
        k.rails = rails.into_iter().map(|l| l.unwrap_or(inside)).collect();
        k.rails.sort_unstable_by(|a, b| b.cmp(a));
        let own_shelves = number(&parts(PrefabKind::Shelf, own));
        k.shelves = own_shelves.saturating_add(k.frame.shelves_in_box.saturating_mul(k.n));
        holds.drawers = holds
            .drawers
            .saturating_add(number(&parts(PrefabKind::Drawer, own)));
    }
    if !kinds.is_empty() {
        let any = parts(PrefabKind::Drawer, None);
        holds.drawers = holds.drawers.saturating_add(number(&any));
    }
    kinds.sort_by_key(|k| (std::cmp::Reverse(k.inside()), k.frame.unit.clone()));
    let mut rails = lengths(&parts(PrefabKind::Rail, None), frames.len() as u32);
    rails.sort_unstable();
    for k in &mut kinds {
        while k.with_rail() < k.n && !rails.is_empty() {
            k.rails.push(Length::ZERO);
            if !k.hangs(hung) {
                k.rails.pop();
                break;
            }
            // The longest there is; a rail without a length of its own is as long as the frame is wide.
            let longest = rails.pop().flatten();
            let at = k.rails.len() - 1;
            k.rails[at] = longest.unwrap_or_else(|| k.inside());
        }
    }
    share_shelves(&mut kinds, number(&parts(PrefabKind::Shelf, None)), hung);
    for k in &kinds {
        let bottoms = if k.height() >= CLEAR { k.n } else { 0 };
        let shelf = k.each() * i64::from(bottoms.saturating_add(k.filled().0));
        holds.shelf += shelf;
        let own = Some(k.frame.unit.as_str());
        let doors = match (kinds.len(), parts(PrefabKind::Door, own)) {
            (1, list) if list.is_empty() => parts(PrefabKind::Door, None),
            (_, list) => list,
        };
        let closed = closed::frames_behind(k.frame, k.n, &doors);
        holds.closed += shelf * i64::from(closed) / i64::from(k.n.max(1));
        let drawers = number(&parts(PrefabKind::Drawer, own));
        holds.closed += k.inside() * i64::from(drawers);
        if k.hangs(hung) {
            holds.hanging += k.rails.iter().take(k.n as usize).copied().sum::<Length>();
        }
    }
    holds
}

/// Shelves that fit any frame: into frames without a rail first, where one adds most; then beside rails, as long as no hanging
/// is lost and the shelf counts.
fn share_shelves(kinds: &mut [Alike], mut left: u32, hung: (Length, Length)) {
    kinds.sort_by_key(|k| (std::cmp::Reverse(k.each()), k.frame.unit.clone()));
    for k in kinds.iter_mut() {
        let more = k.plain_room().saturating_sub(k.shelves).min(left);
        k.shelves += more;
        left -= more;
    }
    for k in kinds.iter_mut().filter(|k| !k.rails.is_empty()) {
        while left > 0 {
            let (before, hung_before) = (k.filled().0, k.hangs(hung));
            k.shelves += 1;
            if k.filled().0 <= before || hung_before && !k.hangs(hung) {
                k.shelves -= 1;
                break;
            }
            left -= 1;
        }
    }
}

pub(super) fn hung(want: Option<&Want>) -> (Length, Length) {
    let drop = want.and_then(Want::longest_hung).unwrap_or_default();
    let hanger = want.and_then(|w| w.hanger_depth).unwrap_or(HANGER);
    (drop, hanger)
}

/// Rail length for what she owns.
pub fn rail_for(garments: &[(String, u32)]) -> Length {
    garments
        .iter()
        .map(|(name, n)| {
            let name = name.to_lowercase();
            let each = if name.contains("coat") || name.contains("gown") {
                Length::in_64(288)
            } else if name.contains("women") || name.contains("shirt") || name.contains("blouse") {
                Length::inches(2)
            } else {
                Length::in_64(160)
            };
            each * i64::from(*n)
        })
        .sum()
}

/// Wants against what a route holds; lengths in units, drawers by count.
pub fn met(want: Option<&Want>, holds: Holds, tape: Tape) -> Vec<WantMet> {
    let Some(want) = want else { return Vec::new() };
    let hanging = want
        .hanging
        .or_else(|| (!want.garments.is_empty()).then(|| rail_for(&want.garments)));
    let line = |what: &str, wanted: i64, given: i64| WantMet {
        what: what.into(),
        wanted,
        given,
        met: given >= wanted,
    };
    let mut list = Vec::new();
    if let Some(w) = want.shelf {
        list.push(line("shelf", w.units(), holds.shelf.units()));
    }
    if let Some(w) = hanging {
        list.push(line("hanging", w.units(), holds.hanging.units()));
    }
    if let Some(w) = closed::wanted(want, tape.unit) {
        list.push(line("closed", w.units(), holds.closed.units()));
    }
    if let Some(n) = want.drawers {
        list.push(line("drawers", i64::from(n), i64::from(holds.drawers)));
    }
    list
}

#[cfg(test)]
mod tests {
    use super::super::samples::inch;
    use super::*;

    /// 30 women's, 10 men's, 4 coats: 60 + 25 + 18 = 103 in (inches a garment from S57).
    #[test]
    fn rail_for_what_she_owns() {
        let g = [("women's", 30), ("men's", 10), ("coats", 4)].map(|(n, c)| (n.to_owned(), c));
        assert_eq!(rail_for(&g), inch("103"));
    }

    #[test]
    fn shelves_too_close_do_not_count() {
        // 40 in clear, 3/4 boards: the bottom and 3 shelves need 4 x 8 + 3 x 3/4 = 34 1/4; a fourth would need 43.
        assert_eq!(surfaces(inch("40"), 9, inch("3/4")).0, 4);
        assert_eq!(surfaces(inch("7"), 0, inch("3/4")).0, 0);
        let (count, drop) = at_heights(&[inch("60")], inch("80"), inch("3/4"), true);
        assert_eq!((count, drop), (2, inch("57 1/4")));
    }
}
