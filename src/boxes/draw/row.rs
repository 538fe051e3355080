//! One row of the cut list as a run draws it.

use crate::model::{Band, Grain, Job, Part, PartSize, Problem, StockKind};
use crate::units::{Length, Unit};

/// Edges banded where one front edge shows.
pub(super) const FRONT: Band = Band {
    front: true,
    back: false,
    left: false,
    right: false,
};
/// Every edge.
pub(super) const ALL: Band = Band {
    front: true,
    back: true,
    left: true,
    right: true,
};

/// Gathers rows and gives them marks: the letter of the box, then 1, 2, 3.
pub(super) struct Rows<'a> {
    pub(super) job: &'a Job,
    pub(super) rows: Vec<Part>,
    pub(super) wrong: Vec<Problem>,
    /// `None` = the route parts belong to anyway.
    pub(super) route: Option<String>,
    /// Rows that stand beside these: their marks are taken.
    pub(super) beside: &'a [Part],
    letter: String,
    number: usize,
    in_box: String,
}

impl<'a> Rows<'a> {
    pub(super) fn new(job: &'a Job) -> Self {
        Self {
            job,
            rows: Vec::new(),
            wrong: Vec::new(),
            route: None,
            beside: &[],
            letter: String::new(),
            number: 0,
            in_box: String::new(),
        }
    }

    /// What follows belongs to this box (or `base`, `face`) and is numbered on from the last of that letter.
    pub(super) fn start(&mut self, in_box: &str, letter: &str) {
        let last = |p: &Part| p.mark.strip_prefix(letter)?.parse::<usize>().ok();
        let all = self.rows.iter().chain(self.beside);
        self.number = all.filter_map(last).max().unwrap_or(0);
        in_box.clone_into(&mut self.in_box);
        letter.clone_into(&mut self.letter);
    }

    fn put(
        &mut self,
        what: &str,
        how_many: usize,
        size: PartSize,
        item: &str,
    ) -> Option<&mut Part> {
        if how_many == 0 {
            return None;
        }
        self.number += 1;
        self.rows.push(Part {
            mark: format!("{}{}", self.letter, self.number),
            what: what.to_owned(),
            in_box: self.in_box.clone(),
            route: self.route.clone(),
            how_many: u32::try_from(how_many).unwrap_or(u32::MAX),
            spare: 0,
            size,
            item: item.to_owned(),
            grain: Grain::Length,
            band: Band::default(),
            band_item: None,
            band_in_size: false,
            match_group: None,
            keep: false,
            by_hand: false,
            note: String::new(),
            row: 0,
        });
        self.rows.last_mut()
    }

    /// A panel.
    pub(super) fn panel(
        &mut self,
        what: &str,
        how_many: usize,
        [length, width]: [Length; 2],
        item: &str,
    ) -> Option<&mut Part> {
        self.put(what, how_many, PartSize::Panel { length, width }, item)
    }

    /// A strip: of a sheet with this width, of a stick with the stick's own.
    pub(super) fn strip(
        &mut self,
        what: &str,
        how_many: usize,
        [length, width]: [Length; 2],
        item: &str,
    ) -> Option<&mut Part> {
        if self.is_stick(item) {
            self.put(what, how_many, PartSize::Piece { length }, item)
        } else {
            self.put(what, how_many, PartSize::Panel { length, width }, item)
        }
    }

    pub(super) fn is_stick(&self, item: &str) -> bool {
        let row = self.job.stock_row(item);
        row.is_some_and(|s| matches!(s.kind, StockKind::Moulding | StockKind::Board))
    }

    pub(super) fn unit(&self) -> Unit {
        self.job.project.tape.unit
    }
}

/// Lengths (or pairs of them) counted: each different one with how many there are, in the order they first come.
pub(super) fn counted<T: PartialEq + Copy>(all: impl IntoIterator<Item = T>) -> Vec<(T, usize)> {
    let mut out: Vec<(T, usize)> = Vec::new();
    for one in all {
        match out.iter_mut().find(|(o, _)| *o == one) {
            Some((_, n)) => *n += 1,
            None => out.push((one, 1)),
        }
    }
    out
}
