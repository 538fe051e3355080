//! One row being read: each cell turned into what its column holds, every slip reported with its place, and the row given
//! up at the end if a slip was in it. Owns no column names.

use super::doubt;
use super::near::did_you_mean;
use super::report::{Report, Wrong};
use super::rescue::{blank_trim, date_cell_rescue, date_rescue, hand_slip, is_failed_sum};
use super::table::{CellKind, RawCell, RawRow, RawTable};
use super::values;
use crate::model::{NeedUnit, Spot};
use crate::units::{Cents, Length, PerCent, ReadAs, Size, parse_size};
use jiff::civil::Date;

/// How the sizes and prices of one table are to be read.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct TableRead {
    /// Sizes.
    pub(crate) size: ReadAs,
    /// True where a decimal comma in a price is clear.
    pub(crate) money_comma: bool,
}

/// One row and what has been found in it so far.
pub(crate) struct Row<'a> {
    pub(crate) table: &'a RawTable,
    pub(crate) raw: &'a RawRow,
    pub(crate) report: &'a mut Report,
    read: TableRead,
    /// Places of columns that were reported already and hold nothing that can be read.
    unread: Vec<usize>,
    /// A bare number of more than this is doubted.
    pub(crate) most: Length,
    /// False once a mistake is in it.
    pub(crate) good: bool,
}

impl<'a> Row<'a> {
    pub(crate) fn new(
        table: &'a RawTable,
        raw: &'a RawRow,
        read: TableRead,
        report: &'a mut Report,
    ) -> Self {
        Self {
            table,
            raw,
            report,
            read,
            unread: Vec::new(),
            most: doubt::LONGEST,
            good: true,
        }
    }

    /// With columns left out that were reported already: nothing is read from them and no more is said of them.
    pub(crate) fn without(mut self, unread: Vec<usize>) -> Self {
        self.good &= unread.is_empty();
        self.unread = unread;
        self
    }

    fn was_reported(&self, column: &str) -> bool {
        let place = self.table.columns.place(column);
        place.is_some_and(|p| self.unread.contains(&p))
    }

    /// The place of a cell, its column there or not.
    pub(crate) fn spot(&self, column: &str) -> Spot {
        let place = self.table.columns.place(column);
        let mut spot = self.table.spot(self.raw, place);
        if place.is_none() {
            spot.column = Some(column.to_owned());
        }
        spot
    }

    pub(crate) fn wrong(&mut self, column: &str, found: &str, wrong: Wrong) {
        self.good = false;
        if self.was_reported(column) {
            return;
        }
        let spot = self.spot(column);
        self.report.mistake(spot, found, wrong);
    }

    pub(crate) fn caution(&mut self, column: &str, found: &str, wrong: Wrong) {
        if self.was_reported(column) {
            return;
        }
        let spot = self.spot(column);
        self.report.caution(spot, found, wrong);
    }

    fn cell(&self, column: &str) -> Option<&'a RawCell> {
        let place = self.table.columns.place(column)?;
        let cell = self
            .raw
            .cells
            .get(place)
            .filter(|_| !self.unread.contains(&place))?;
        let blank = blank_trim(&cell.text).is_empty()
            && matches!(cell.kind, CellKind::Plain | CellKind::Date(..));
        (!blank).then_some(cell)
    }

    /// True where nothing stands in the cell.
    pub(crate) fn is_blank(&self, column: &str) -> bool {
        self.cell(column).is_none()
    }

    /// The cell's text with a sum or a failed sum refused; `None` = blank or refused.
    fn value(&mut self, column: &str, expected: &str) -> Option<&'a RawCell> {
        let cell = self.cell(column)?;
        let failed = cell.kind == CellKind::Failed || is_failed_sum(&cell.text);
        if failed {
            let wrong = Wrong::new(
                "The spreadsheet could not work this out or had no room to show it.",
                expected,
                "type the value itself, and make the column wider.",
            );
            self.wrong(column, &cell.text, wrong);
            return None;
        }
        if cell.kind == CellKind::Formula {
            let wrong = Wrong::new(
                "A sum stands here, and its result can be out of date.",
                expected,
                "copy the column and paste it back as values only.",
            );
            self.wrong(column, &cell.text, wrong);
            return None;
        }
        Some(cell)
    }

    fn with<T>(
        &mut self,
        column: &str,
        expected: &str,
        read: impl FnOnce(&str) -> Result<T, Wrong>,
    ) -> Option<T> {
        let cell = self.value(column, expected)?;
        let text = blank_trim(&cell.text);
        let result = match cell.kind {
            CellKind::Date(y, m, d) => Err(date_cell_rescue(y, m, d, expected)),
            _ => read(text),
        };
        result.map_err(|wrong| self.wrong(column, text, wrong)).ok()
    }

    /// Plain text, blank as empty. Line breaks within become blanks.
    pub(crate) fn text(&mut self, column: &str) -> String {
        let text = self
            .cell(column)
            .map(|c| blank_trim(&c.text))
            .unwrap_or_default();
        if text.contains(['\r', '\n', '\t']) {
            text.split_whitespace().collect::<Vec<_>>().join(" ")
        } else {
            text.to_owned()
        }
    }

    /// Text that must not be blank.
    pub(crate) fn needed_text(&mut self, column: &str, expected: &str) -> Option<String> {
        if self.is_blank(column) {
            self.blank(column, expected);
            return None;
        }
        let cell = self.value(column, expected)?;
        if let CellKind::Date(y, m, d) = cell.kind {
            self.wrong(column, &cell.text, date_cell_rescue(y, m, d, expected));
            return None;
        }
        Some(self.text(column))
    }

    /// Reports that nothing stands where something must.
    pub(crate) fn blank(&mut self, column: &str, expected: &str) {
        let wrong = Wrong::new(
            "Nothing stands here, and it is needed.",
            expected,
            format!("type {expected}."),
        );
        self.wrong(column, "nothing", wrong);
    }

    /// A size above nothing, up to 100 m; `expected` names it, e.g. "a width such as 23 1/4". `nominal` may name a
    /// thickness that the stock row's own measure stands for; it is then returned as [`Size::Nominal`].
    fn any_size(&mut self, column: &str, expected: &str, nominal: bool) -> Option<Size> {
        let read = self.read.size;
        let size = self.with(column, expected, |text| {
            if let Some(wrong) = date_rescue(text, expected) {
                return Err(wrong);
            }
            match parse_size(text, read) {
                Ok(Size::NotMeasured) => Err(Wrong::new(
                    "This size is not measured yet, and the list needs it.",
                    expected,
                    "measure it, then type it in.",
                )),
                Ok(Size::Nominal(_)) if !nominal => Err(Wrong::new(
                    "A nominal size is a name; only a thickness may be given so.",
                    expected,
                    "type the size itself.",
                )),
                Ok(size) => check_size(size, text, expected),
                Err(e) => Err(hand_slip(text, expected).unwrap_or_else(|| e.into())),
            }
        })?;
        if let Size::Exact { length, .. } = size {
            let most = if nominal { doubt::THICKEST } else { self.most };
            let text = self.text(column);
            if let Some(wrong) = doubt::other_unit(&text, length, [Length::ZERO, most], read) {
                self.wrong(column, &text, wrong);
            }
        }
        if let Size::Exact { rounded: true, .. } = size {
            let spot = self.spot(column);
            let text = self.text(column);
            self.report.rounded(spot, &text);
        }
        Some(size)
    }

    /// A size; blank = `None`.
    pub(crate) fn size(&mut self, column: &str, expected: &str) -> Option<Length> {
        match self.any_size(column, expected, false)? {
            Size::Exact { length, .. } => Some(length),
            Size::Nominal(_) | Size::NotMeasured => None,
        }
    }

    /// A thickness, which may be `3/4 nominal`: the second value is true then.
    pub(crate) fn thickness(&mut self, column: &str, expected: &str) -> Option<(Length, bool)> {
        match self.any_size(column, expected, true)? {
            Size::Exact { length, .. } => Some((length, false)),
            Size::Nominal(length) => Some((length, true)),
            Size::NotMeasured => None,
        }
    }

    /// A size that must be there.
    pub(crate) fn needed_size(&mut self, column: &str, expected: &str) -> Option<Length> {
        if self.is_blank(column) {
            self.blank(column, expected);
            return None;
        }
        self.size(column, expected)
    }

    /// A whole number; blank = `None`.
    pub(crate) fn count(&mut self, column: &str, least: u32) -> Option<u32> {
        self.with(column, "a whole number", |t| values::count(t, least))
    }

    /// A price; blank = `None`.
    pub(crate) fn money(&mut self, column: &str) -> Option<Cents> {
        let comma = self.read.money_comma;
        self.with(column, "a price such as 38.50", |t| values::money(t, comma))
    }

    /// A rate up to `most` hundredths of a per cent.
    pub(crate) fn per_cent(&mut self, column: &str, most: i64) -> Option<PerCent> {
        self.with(column, "a rate such as 8%", |t| values::per_cent(t, most))
    }

    /// Yes or no; blank = `None`.
    pub(crate) fn yes_no(&mut self, column: &str) -> Option<bool> {
        self.with(column, "yes or no", values::yes_no)
    }

    /// A date; a date cell of a workbook is taken as it is.
    pub(crate) fn date(&mut self, column: &str) -> Option<Date> {
        let cell = self.value(column, "a date such as 2026-07-08")?;
        if let CellKind::Date(y, m, d) = cell.kind {
            let date = Date::new(
                y,
                i8::try_from(m).unwrap_or(0),
                i8::try_from(d).unwrap_or(0),
            )
            .ok();
            if date.is_some() {
                return date;
            }
        }
        values::date(&cell.text)
            .map_err(|wrong| self.wrong(column, blank_trim(&cell.text), wrong))
            .ok()
    }

    /// A weight in grams.
    pub(crate) fn weight(&mut self, column: &str) -> Option<i64> {
        self.with(column, "a weight such as 86 lb", values::weight)
    }

    /// An area in square millimetres.
    pub(crate) fn area(&mut self, column: &str) -> Option<i64> {
        self.with(column, "an area such as 350 sq ft", values::area)
    }

    /// An amount.
    pub(crate) fn amount(&mut self, column: &str) -> Option<NeedUnit> {
        let read = self.read.size;
        self.with(column, "an amount such as 24, 25 ft or 1 gal", |t| {
            values::amount(t, read)
        })
    }

    /// Sizes with an x between.
    pub(crate) fn sizes(&mut self, column: &str, many: usize) -> Option<Vec<Length>> {
        let read = self.read.size;
        self.with(column, "sizes with an x between them", |t| {
            values::sizes(t, many, read)
        })
    }

    /// One of a few words; blank = `None`.
    pub(crate) fn word<T: Copy>(&mut self, column: &str, words: &[(&str, T)]) -> Option<T> {
        let names: Vec<&str> = words.iter().map(|(w, _)| *w).collect();
        let expected = format!("one of: {}", names.join(", "));
        self.with(column, &expected.clone(), |text| {
            let typed = text.to_lowercase();
            words
                .iter()
                .find(|(w, _)| *w == typed)
                .map(|(_, t)| *t)
                .ok_or_else(|| {
                    Wrong::new(
                        format!("{text:?} is not known here."),
                        expected,
                        did_you_mean(&typed, names.iter().copied()),
                    )
                })
        })
    }
}

/// Above nothing and within the limit.
pub(crate) fn check_size(size: Size, text: &str, expected: &str) -> Result<Size, Wrong> {
    let (Size::Exact { length, .. } | Size::Nominal(length)) = size else {
        return Ok(size);
    };
    if length.abs() > Length::LIMIT {
        return Err(Wrong::new(
            "This is longer than 100 m, the most a file may name.",
            expected,
            "check the figure and its unit.",
        ));
    }
    if !length.is_positive() {
        let fix = if text.contains('-') {
            "take off the minus sign."
        } else {
            "type a size above nothing."
        };
        return Err(Wrong::new(
            "A size must be more than nothing.",
            expected,
            fix,
        ));
    }
    Ok(size)
}
