//! The text of project.toml with the place of everything, what it is read with, and what has been found. Owns places and
//! the list of defaults; must not know any name in the file.

use super::syntax::line_starts;
use crate::files::read::doubt;
use crate::files::read::report::Report;
use crate::files::read::table::window;
use crate::model::{DefaultUsed, Spot};
use crate::units::{Length, ReadAs, Tape};
use std::cell::{RefCell, RefMut};
use std::ops::Range;

/// What kind of size a field holds.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) struct Sort {
    /// What it is, for the message: "a width such as 30 1/2".
    pub(crate) expected: &'static str,
    pub(super) full_shy: bool,
    pub(super) negative: bool,
    pub(super) zero: bool,
    /// Bounds outside which a bare number is doubted.
    pub(super) bounds: [Length; 2],
}

impl Sort {
    /// A size above nothing.
    pub(crate) const fn size(expected: &'static str) -> Self {
        Self {
            expected,
            full_shy: false,
            negative: false,
            zero: false,
            bounds: [Length::ZERO, doubt::LONGEST],
        }
    }
    /// A size that may be nothing.
    pub(crate) const fn from_zero(expected: &'static str) -> Self {
        Self {
            expected,
            full_shy: false,
            negative: false,
            zero: true,
            bounds: [Length::ZERO, doubt::LONGEST],
        }
    }
    /// A reading at the opening: `full`, `shy` and `?` are allowed.
    pub(crate) const fn reading(expected: &'static str) -> Self {
        Self {
            expected,
            full_shy: true,
            negative: false,
            zero: true,
            bounds: [Length::ZERO, doubt::LONGEST],
        }
    }
    /// A gap to a wall, which may lean in.
    pub(crate) const fn gap(expected: &'static str) -> Self {
        Self {
            expected,
            full_shy: true,
            negative: true,
            zero: true,
            bounds: [Length::ZERO, doubt::WIDEST_GAP],
        }
    }
    /// The same for a box or an opening, which is never narrow.
    pub(crate) const fn large(self) -> Self {
        let bounds = [doubt::NARROWEST, doubt::LONGEST];
        Self { bounds, ..self }
    }
    /// The same for what may be as long as it likes: shelves end to end.
    pub(crate) const fn endless(self) -> Self {
        let bounds = [Length::ZERO, Length::LIMIT];
        Self { bounds, ..self }
    }
}

/// The document, what it is read with, and what has been found.
pub(crate) struct Doc<'a> {
    pub(super) text: &'a str,
    pub(super) file: &'a str,
    starts: Vec<usize>,
    /// True where a broken line was taken out: then nothing is said to be missing.
    pub(crate) gaps: bool,
    report: RefCell<&'a mut Report>,
    defaults: RefCell<Vec<DefaultUsed>>,
    /// The route of the run that is being read.
    pub(super) route: RefCell<Option<String>>,
    /// Set once `[project]` has said what a bare number is in.
    pub(crate) tape: RefCell<Tape>,
}

impl<'a> Doc<'a> {
    pub(crate) fn new(text: &'a str, file: &'a str, gaps: bool, report: &'a mut Report) -> Self {
        Self {
            text,
            file,
            starts: line_starts(text),
            gaps,
            report: RefCell::new(report),
            defaults: RefCell::new(Vec::new()),
            route: RefCell::new(None),
            tape: RefCell::new(Tape::default()),
        }
    }

    pub(crate) fn report(&self) -> RefMut<'_, &'a mut Report> {
        self.report.borrow_mut()
    }

    pub(crate) fn take_defaults(&self) -> Vec<DefaultUsed> {
        self.defaults.take()
    }

    pub(super) fn spot(&self, span: &Range<usize>, column: String) -> Spot {
        let at = span.start.min(self.text.len());
        let row = self.starts.partition_point(|s| *s <= at);
        let start = self.starts[row - 1];
        let line = self.text[start..]
            .split('\n')
            .next()
            .unwrap_or_default()
            .trim_end_matches('\r');
        let before = self.text.get(start..at).map_or(0, |t| t.chars().count());
        let inside = self
            .text
            .get(at..span.end.min(start + line.len()))
            .map_or(1, |t| t.chars().count());
        let (shown, caret) = window(line, Some((before, inside.max(1))));
        Spot {
            file: self.file.to_owned(),
            row: Some(row),
            column: Some(column),
            line: Some(shown),
            caret,
        }
    }

    pub(super) fn line_of(&self, span: &Range<usize>) -> usize {
        self.starts.partition_point(|s| *s <= span.start)
    }

    pub(crate) fn read_as(&self, sort: Sort) -> ReadAs {
        ReadAs {
            unit: self.tape.borrow().unit,
            decimal_comma: false,
            full_shy: sort.full_shy,
            negative: sort.negative,
        }
    }

    /// Lists a value that was not given.
    pub(crate) fn default(&self, place: String, value: String, why: &str) {
        self.defaults.borrow_mut().push(DefaultUsed {
            place,
            value,
            why: why.to_owned(),
            route: self.route.borrow().clone(),
        });
    }
}
