//! One size of a box on the marks of the tape: what the sheets are asked at each.

use crate::boxes::{Room, drawn};
use crate::model::task::SheetTask;
use crate::model::{BoxWidth, Job, Part, Run};
use crate::opening::Survey;
use crate::plan::tasks::{Ask, tasks};
use crate::sheets::what_if::each_fits;
use crate::units::Length;

/// Which size.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Side {
    /// Of one box, by index.
    Width(usize),
    /// Of all boxes of the run.
    Height,
    /// Likewise.
    Depth,
}

impl Side {
    pub(super) const fn word(self) -> &'static str {
        match self {
            Self::Width(_) => "width",
            Self::Height => "height",
            Self::Depth => "depth",
        }
    }

    fn set(self, run: &mut Run, size: Length) {
        match self {
            Self::Width(n) => run.boxes[n].width = BoxWidth::Width(size),
            Self::Height => run.box_height = Some(size),
            Self::Depth => run.box_depth = Some(size),
        }
    }
}

/// A run, and which rows of her list follow it.
pub(super) struct Sketch<'a> {
    job: &'a Job,
    survey: Option<&'a Survey>,
    run: usize,
    items: &'a [&'a str],
    /// Row of the job's list, row that the run draws.
    follow: Vec<(usize, usize)>,
    /// As the run draws it now.
    now: Vec<Part>,
    /// Boxes that share what is left, and how wide they are now: where one size changes, they give way or spread.
    shared: &'a [(usize, Length)],
}

impl<'a> Sketch<'a> {
    /// `None` where the run cannot be drawn.
    pub(super) fn new(
        job: &'a Job,
        survey: Option<&'a Survey>,
        run: usize,
        items: &'a [&'a str],
        shared: &'a [(usize, Length)],
    ) -> Option<Self> {
        let mut sketch = Self {
            job,
            survey,
            run,
            items,
            follow: Vec::new(),
            now: Vec::new(),
            shared,
        };
        sketch.now = sketch.draw(&job.runs[run])?;
        let route = &job.runs[run].route;
        let mut free = vec![true; sketch.now.len()];
        for (r, row) in job.parts.iter().enumerate() {
            let of = row.route.as_deref().unwrap_or_else(|| job.parts_route());
            if of != route || row.keep || row.by_hand {
                continue;
            }
            let alike = |d: &usize| {
                let p = &sketch.now[*d];
                free[*d]
                    && (&p.in_box, &p.item, p.size, p.how_many, p.grain)
                        == (&row.in_box, &row.item, row.size, row.how_many, row.grain)
            };
            // Of equals the one she has left its name.
            let found = (0..free.len())
                .filter(alike)
                .min_by_key(|d| (sketch.now[*d].what != row.what, *d));
            if let Some(d) = found {
                free[d] = false;
                sketch.follow.push((r, d));
            }
        }
        Some(sketch)
    }

    /// The rows of the run alone.
    fn draw(&self, run: &Run) -> Option<Vec<Part>> {
        let mut all = self.job.clone();
        all.parts.clear();
        all.runs[self.run] = run.clone();
        let room = self
            .survey
            .map_or_else(Room::default, |s| super::super::rooms::room(&all, s, run));
        all.runs = vec![run.clone()];
        drawn(&all, &[room]).ok()
    }

    /// What the sheets are asked with another size; `None` where the run cannot be drawn, draws other rows, or draws one that
    /// no sheet is large enough for.
    fn tasks(&self, side: Side, size: Length) -> Option<Vec<SheetTask>> {
        let mut run = self.job.runs[self.run].clone();
        side.set(&mut run, size);
        if let Side::Width(n) = side {
            self.give_way(&mut run, n, size);
        }
        let drawn = self.draw(&run)?;
        let same_rows = drawn.len() == self.now.len()
            && (drawn.iter().zip(&self.now))
                .all(|(a, b)| (&a.what, &a.in_box, &a.item) == (&b.what, &b.in_box, &b.item));
        if !same_rows {
            return None;
        }
        let mut job = self.job.clone();
        for (r, d) in &self.follow {
            job.parts[*r].size = drawn[*d].size;
            job.parts[*r].how_many = drawn[*d].how_many;
        }
        let (asked, _) = tasks(&job, &run.route);
        let of = |item: &&str| {
            let found = asked.iter().find(|a| a.item == **item)?;
            match &found.ask {
                Ask::Sheets(task) => each_fits(task).then(|| task.clone()),
                Ask::Sticks(_) => None,
            }
        };
        self.items.iter().map(of).collect()
    }
}

impl Sketch<'_> {
    /// The boxes with a share take up what box `n` leaves or give what it takes, alike and on whole marks, the last one the rest:
    /// the row stays as wide as it is.
    fn give_way(&self, run: &mut Run, n: usize, size: Length) {
        let width_now = |i: usize| self.shared.iter().find(|s| s.0 == i).map(|s| s.1);
        let was = match (width_now(n), &self.job.runs[self.run].boxes[n].width) {
            (Some(now), _) => now,
            (None, BoxWidth::Width(now)) => *now,
            (None, BoxWidth::Share(_)) => return,
        };
        let others: Vec<&(usize, Length)> = self.shared.iter().filter(|s| s.0 != n).collect();
        let mut left = size - was;
        let mark = self.job.mark().max(Length::INCH_64);
        let count = others.len() as i64;
        let each = left / count.max(1);
        let each = each - each % mark;
        for (i, (other, now)) in others.into_iter().enumerate() {
            let by = if i as i64 + 1 == count { left } else { each };
            left -= by;
            run.boxes[*other].width = BoxWidth::Width(*now - by);
        }
    }
}

/// The tasks along the marks, both ways.
pub(super) struct Marks {
    /// The box.
    pub(super) of: String,
    /// Which size of it.
    pub(super) side: Side,
    /// The size as it is.
    pub(super) now: Length,
    /// The boxes with a share give way to it.
    pub(super) give_way: bool,
    pace: Length,
    items: Vec<String>,
    /// At 0, 1, 2 .. marks more, by material.
    up: Vec<Vec<SheetTask>>,
    /// At 0, 1, 2 .. marks less.
    down: Vec<Vec<SheetTask>>,
}

impl Marks {
    /// As far as `reach` (up, down) and the drawing go, on no more than `most` marks each way.
    pub(super) fn new(
        sketch: &Sketch,
        side: Side,
        of: String,
        now: Length,
        reach: [Length; 2],
        most: usize,
    ) -> Self {
        let mark = sketch.job.mark().max(Length::INCH_64);
        let longest = reach[0].max(reach[1]).units() / mark.units();
        let thin = longest / i64::try_from(most.max(1)).unwrap_or(1) + 1;
        let pace = mark * thin;
        let along = |reach: Length, sign: i64| {
            (0..=reach.units() / pace.units())
                .map_while(|n| {
                    let size = now + pace * (n * sign);
                    if !size.is_positive() {
                        return None;
                    }
                    sketch.tasks(side, size)
                })
                .collect()
        };
        Self {
            of,
            side,
            now,
            give_way: false,
            pace,
            items: sketch.items.iter().map(ToString::to_string).collect(),
            up: along(reach[0], 1),
            down: along(reach[1], -1),
        }
    }

    /// The size `n` marks off.
    pub(super) fn size(&self, n: usize, more: bool) -> Length {
        let by = self.pace * i64::try_from(n).unwrap_or(0);
        if more { self.now + by } else { self.now - by }
    }

    /// True if there is a mark that way.
    pub(super) fn any(&self, more: bool) -> bool {
        self.way(more).len() > 1
    }

    /// True if the size changes what is cut from a material.
    pub(super) fn touches(&self, item: &str) -> bool {
        let differs = |way: &[Vec<SheetTask>]| {
            let at = self.items.iter().position(|i| i == item);
            at.is_some_and(|at| {
                let (first, last) = (way.first(), way.last());
                first
                    .zip(last)
                    .is_some_and(|(a, b)| a[at].pieces != b[at].pieces)
            })
        };
        differs(&self.up) || differs(&self.down)
    }

    /// What a material is asked from the size as it is onward.
    pub(super) fn tasks(&self, item: &str, more: bool) -> Vec<&SheetTask> {
        let Some(at) = self.items.iter().position(|i| i == item) else {
            return Vec::new();
        };
        self.way(more).iter().map(|t| &t[at]).collect()
    }

    fn way(&self, more: bool) -> &[Vec<SheetTask>] {
        if more { &self.up } else { &self.down }
    }
}
