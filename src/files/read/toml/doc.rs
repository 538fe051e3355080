//! Walks a TOML document with the place of everything kept: a table knows which names it was asked for, so what is left over
//! at the end is unknown to the tool. Owns no field names of its own.

use super::syntax::line_starts;
use crate::files::read::near::did_you_mean;
use crate::files::read::report::{Report, Wrong};
use crate::files::read::rescue::{date_rescue, hand_slip};
use crate::files::read::table::window;
use crate::files::read::values;
use crate::model::{DefaultUsed, Hours, Reading, Spot};
use crate::units::{Cents, Length, ReadAs, Size, Tape, parse_size};
use std::cell::{RefCell, RefMut};
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// What kind of size a field holds.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) struct Sort {
    /// What it is, for the message: "a width such as 30 1/2".
    pub(crate) expected: &'static str,
    full_shy: bool,
    negative: bool,
    zero: bool,
}

impl Sort {
    /// A size above nothing.
    pub(crate) const fn size(expected: &'static str) -> Self {
        Self {
            expected,
            full_shy: false,
            negative: false,
            zero: false,
        }
    }
    /// A size that may be nothing.
    pub(crate) const fn from_zero(expected: &'static str) -> Self {
        Self {
            expected,
            full_shy: false,
            negative: false,
            zero: true,
        }
    }
    /// A reading at the opening: `full`, `shy` and `?` are allowed.
    pub(crate) const fn reading(expected: &'static str) -> Self {
        Self {
            expected,
            full_shy: true,
            negative: false,
            zero: true,
        }
    }
    /// A gap to a wall, which may lean in.
    pub(crate) const fn gap(expected: &'static str) -> Self {
        Self {
            expected,
            full_shy: true,
            negative: true,
            zero: true,
        }
    }
}

/// The document, what it is read with, and what has been found.
pub(crate) struct Doc<'a> {
    text: &'a str,
    file: &'a str,
    starts: Vec<usize>,
    /// True where a broken line was taken out: then nothing is said to be missing.
    pub(crate) gaps: bool,
    report: RefCell<&'a mut Report>,
    defaults: RefCell<Vec<DefaultUsed>>,
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
            tape: RefCell::new(Tape::default()),
        }
    }

    pub(crate) fn report(&self) -> RefMut<'_, &'a mut Report> {
        self.report.borrow_mut()
    }

    pub(crate) fn take_defaults(&self) -> Vec<DefaultUsed> {
        self.defaults.take()
    }

    fn spot(&self, span: &Range<usize>, column: String) -> Spot {
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

    fn line_of(&self, span: &Range<usize>) -> usize {
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
        });
    }
}

/// A value and its name.
#[derive(Clone)]
pub(crate) struct Value<'a> {
    pub(crate) doc: &'a Doc<'a>,
    value: &'a Spanned<DeValue<'a>>,
    /// `[opening.tape] width[2]`
    pub(crate) name: String,
}

impl<'a> Value<'a> {
    pub(crate) fn spot(&self) -> Spot {
        self.doc.spot(&self.value.span(), self.name.clone())
    }

    pub(crate) fn line(&self) -> usize {
        self.doc.line_of(&self.value.span())
    }

    pub(crate) fn wrong(&self, found: &str, wrong: Wrong) {
        self.doc.report().mistake(self.spot(), found, wrong);
    }

    /// As she wrote it.
    pub(crate) fn found(&self) -> String {
        match self.value.get_ref() {
            DeValue::String(s) => s.to_string(),
            DeValue::Integer(i) => i.to_string(),
            DeValue::Float(f) => f.to_string(),
            DeValue::Boolean(b) => b.to_string(),
            DeValue::Datetime(d) => d.to_string(),
            DeValue::Array(_) => "a list".into(),
            DeValue::Table(_) => "a table".into(),
        }
    }

    fn wrong_kind<T>(&self, expected: &str) -> Option<T> {
        let found = self.found();
        let why = "This is not the kind of value that belongs here.";
        self.wrong(
            &found,
            Wrong::new(why, expected, format!("type {expected}.")),
        );
        None
    }

    /// Text, or a number as it is written.
    fn scalar(&self, expected: &str) -> Option<String> {
        match self.value.get_ref() {
            DeValue::String(_) | DeValue::Float(_) => Some(self.found()),
            DeValue::Integer(i) if i.radix() == 10 => Some(self.found()),
            _ => self.wrong_kind(expected),
        }
    }

    pub(crate) fn with<T>(
        &self,
        expected: &str,
        read: impl FnOnce(&str) -> Result<T, Wrong>,
    ) -> Option<T> {
        let text = self.scalar(expected)?;
        read(&text).map_err(|w| self.wrong(&text, w)).ok()
    }

    pub(crate) fn text(&self) -> Option<String> {
        match self.value.get_ref() {
            DeValue::String(s) => Some(s.to_string()),
            DeValue::Datetime(_) => Some(self.found()),
            DeValue::Integer(_) | DeValue::Float(_) => Some(self.found()),
            _ => self.wrong_kind("text in quote marks"),
        }
    }

    /// `None` where it was no size; `Some(None)` where it is `?`.
    pub(crate) fn reading(&self, sort: Sort) -> Option<Reading> {
        let text = self.scalar(sort.expected)?;
        match read_size(&text, sort, self.doc.read_as(sort)) {
            Ok(Size::NotMeasured) => Some(None),
            Ok(Size::Exact { length, rounded }) => {
                if rounded {
                    self.doc.report().rounded(self.spot(), &text);
                }
                Some(Some(length))
            }
            Ok(Size::Nominal(_)) => {
                let why = "A nominal size is a name; it cannot stand here.";
                self.wrong(
                    &text,
                    Wrong::new(why, sort.expected, "type the size itself."),
                );
                None
            }
            Err(w) => {
                self.wrong(&text, w);
                None
            }
        }
    }

    /// A size that is not a reading, so `?` is no answer.
    pub(crate) fn size(&self, sort: Sort) -> Option<Length> {
        match self.reading(sort)? {
            Some(length) => Some(length),
            None => {
                let why = "This is not a reading at the opening, so it cannot be left open.";
                self.wrong("?", Wrong::new(why, sort.expected, "type the size."));
                None
            }
        }
    }

    pub(crate) fn yes_no(&self) -> Option<bool> {
        match self.value.get_ref() {
            DeValue::Boolean(b) => Some(*b),
            DeValue::String(s) => values::yes_no(s).map_err(|w| self.wrong(s, w)).ok(),
            _ => self.wrong_kind("true or false"),
        }
    }

    pub(crate) fn is_text(&self) -> bool {
        matches!(self.value.get_ref(), DeValue::String(_))
    }

    pub(crate) fn is_list(&self) -> bool {
        matches!(self.value.get_ref(), DeValue::Array(_))
    }

    pub(crate) fn is_table(&self) -> bool {
        matches!(self.value.get_ref(), DeValue::Table(_))
    }

    /// The elements of a list, each with its name.
    pub(crate) fn list(&self, expected: &str) -> Option<Vec<Value<'a>>> {
        let DeValue::Array(items) = self.value.get_ref() else {
            return self.wrong_kind(expected);
        };
        let named = |(i, value)| Value {
            doc: self.doc,
            value,
            name: format!("{}[{i}]", self.name),
        };
        Some(items.iter().enumerate().map(named).collect())
    }

    pub(crate) fn table(&self) -> Option<Table<'a>> {
        match self.value.get_ref() {
            DeValue::Table(map) => Some(Table {
                doc: self.doc,
                map: Some(map),
                span: self.value.span(),
                name: self.name.clone(),
                asked: RefCell::default(),
            }),
            _ => self.wrong_kind("a table"),
        }
    }

    /// One of a few words.
    pub(crate) fn word<T: Copy>(&self, words: &[(&str, T)]) -> Option<T> {
        let names: Vec<&str> = words.iter().map(|(w, _)| *w).collect();
        let expected = format!("one of: {}", names.join(", "));
        let text = self.scalar(&expected)?;
        let typed = text.trim().to_lowercase();
        let known = words.iter().find(|(w, _)| *w == typed).map(|(_, t)| *t);
        if known.is_none() {
            let fix = did_you_mean(&typed, names.iter().copied());
            self.wrong(
                &text,
                Wrong::new(format!("{text:?} is not known here."), expected, fix),
            );
        }
        known
    }
}

/// Reads a size and holds it against what the field may be.
fn read_size(text: &str, sort: Sort, read: ReadAs) -> Result<Size, Wrong> {
    if let Some(wrong) = date_rescue(text, sort.expected) {
        return Err(wrong);
    }
    let size = parse_size(text, read).map_err(|e| {
        hand_slip(text, sort.expected).unwrap_or_else(|| Wrong {
            expected: sort.expected.into(),
            ..e.into()
        })
    })?;
    let Size::Exact { length, .. } = size else {
        return Ok(size);
    };
    if length.abs() > Length::LIMIT {
        let why = "This is longer than 100 m, the most a file may name.";
        return Err(Wrong::new(
            why,
            sort.expected,
            "check the figure and its unit.",
        ));
    }
    if length < Length::ZERO && !sort.negative {
        return Err(Wrong::new(
            "Only a gap may be below zero, where a wall leans in.",
            sort.expected,
            "take off the minus sign.",
        ));
    }
    if length == Length::ZERO && !sort.zero {
        return Err(Wrong::new(
            "A size must be more than nothing.",
            sort.expected,
            "type a size above nothing.",
        ));
    }
    Ok(size)
}

/// A table and which of its names have been asked for.
pub(crate) struct Table<'a> {
    pub(crate) doc: &'a Doc<'a>,
    map: Option<&'a DeTable<'a>>,
    span: Range<usize>,
    /// `[opening.tape]`; empty for the file itself.
    pub(crate) name: String,
    asked: RefCell<Vec<&'static str>>,
}

impl<'a> Table<'a> {
    /// The whole document.
    pub(crate) fn root(doc: &'a Doc<'a>, map: &'a DeTable<'a>) -> Self {
        Self {
            doc,
            map: Some(map),
            span: 0..0,
            name: String::new(),
            asked: RefCell::default(),
        }
    }

    /// True where the table is not in the file.
    pub(crate) fn is_absent(&self) -> bool {
        self.map.is_none()
    }

    fn label(&self, key: &str) -> String {
        format!("{} {key}", self.name).trim_start().to_owned()
    }

    /// `[opening]` + tape = `[opening.tape]`
    fn inner_name(&self, key: &str) -> String {
        match self.name.strip_prefix('[').and_then(|n| n.split_once(']')) {
            Some((outer, _)) => format!("[{}.{key}]", outer.trim_start_matches('[')),
            None => format!("[{key}]"),
        }
    }

    /// The place where a name would stand that is not there.
    pub(crate) fn spot_for(&self, key: &str) -> Spot {
        if self.map.is_none() || self.name.is_empty() {
            return Spot {
                file: self.doc.file.to_owned(),
                column: Some(self.label(key)),
                ..Spot::default()
            };
        }
        self.doc.spot(&self.span, self.label(key))
    }

    pub(crate) fn line(&self) -> usize {
        self.doc.line_of(&self.span)
    }

    pub(crate) fn get(&self, key: &'static str) -> Option<Value<'a>> {
        self.asked.borrow_mut().push(key);
        let value = self.map?.get(key)?;
        Some(Value {
            doc: self.doc,
            value,
            name: self.label(key),
        })
    }

    /// Everything in the table, in the order of the file; nothing of it is then unknown.
    pub(crate) fn entries(&self) -> Vec<(String, Value<'a>)> {
        let mut all: Vec<_> = self.map.into_iter().flatten().collect();
        all.sort_by_key(|(key, _)| key.span().start);
        all.into_iter()
            .map(|(key, value)| {
                let key = key.get_ref().to_string();
                let name = self.label(&key);
                (
                    key,
                    Value {
                        doc: self.doc,
                        value,
                        name,
                    },
                )
            })
            .collect()
    }

    /// The place of a key of [`Table::entries`].
    pub(crate) fn key_spot(&self, key: &str) -> Spot {
        self.map.and_then(|m| m.get_key_value(key)).map_or_else(
            || self.spot_for(key),
            |(k, _)| self.doc.spot(&k.span(), self.label(key)),
        )
    }

    /// A table inside this one; an absent one reads as all defaults.
    pub(crate) fn table(&self, key: &'static str) -> Table<'a> {
        let inside = self.get(key).and_then(|v| v.table());
        let name = self.inner_name(key);
        match inside {
            Some(table) => Table { name, ..table },
            None => Table {
                doc: self.doc,
                map: None,
                span: 0..0,
                name,
                asked: RefCell::default(),
            },
        }
    }

    /// A table that comes any number of times; a single one is one.
    pub(crate) fn tables(&self, key: &'static str) -> Vec<Table<'a>> {
        let Some(value) = self.get(key) else {
            return Vec::new();
        };
        let name = format!("[{}]", self.inner_name(key));
        if value.is_table() {
            return value
                .table()
                .map(|t| Table { name, ..t })
                .into_iter()
                .collect();
        }
        let items = value.list("a table written [[name]]").unwrap_or_default();
        items
            .iter()
            .filter_map(Value::table)
            .map(|t| Table {
                name: name.clone(),
                ..t
            })
            .collect()
    }

    pub(crate) fn text(&self, key: &'static str) -> Option<String> {
        self.get(key)?
            .text()
            .map(|t| t.split_whitespace().collect::<Vec<_>>().join(" "))
    }

    pub(crate) fn text_or(&self, key: &'static str, default: &str, why: &str) -> String {
        match self.get(key) {
            Some(value) => value.text().unwrap_or_default(),
            None => {
                self.default(key, default, why);
                default.to_owned()
            }
        }
    }

    pub(crate) fn needed_text(&self, key: &'static str, expected: &str) -> String {
        let text = self.text(key);
        if text.as_deref().is_none_or(str::is_empty) && !(text.is_none() && self.has(key)) {
            self.missing(key, expected);
        }
        text.unwrap_or_default()
    }

    pub(crate) fn has(&self, key: &str) -> bool {
        self.map.is_some_and(|m| m.contains_key(key))
    }

    /// Reports that a name is missing that must be there.
    pub(crate) fn missing(&self, key: &str, expected: &str) {
        if self.doc.gaps {
            return;
        }
        let name = self.label(key);
        let wrong = Wrong::new(
            format!("{name} is missing."),
            expected,
            format!("add {key} = ... with {expected}."),
        );
        self.doc
            .report()
            .mistake(self.spot_for(key), "nothing", wrong);
    }

    /// Lists a default.
    pub(crate) fn default(&self, key: &str, value: &str, why: &str) {
        self.doc.default(
            format!("{} {}", self.doc.file, self.label(key)),
            value.to_owned(),
            why,
        );
    }

    pub(crate) fn size(&self, key: &'static str, sort: Sort) -> Option<Length> {
        self.get(key)?.size(sort)
    }

    pub(crate) fn size_or(
        &self,
        key: &'static str,
        sort: Sort,
        default: Length,
        why: &str,
    ) -> Length {
        match self.get(key) {
            Some(value) => value.size(sort).unwrap_or(default),
            None => {
                let shown = self.doc.tape.borrow().print_exact(default);
                self.default(key, &shown, why);
                default
            }
        }
    }

    /// A reading; not there = `None`, as if it were `?`.
    pub(crate) fn reading(&self, key: &'static str, sort: Sort) -> Reading {
        self.get(key)?.reading(sort)?
    }

    /// A reading that must be there or be `?`.
    pub(crate) fn needed_reading(&self, key: &'static str, sort: Sort) -> Reading {
        if !self.has(key) {
            self.get(key);
            self.missing(
                key,
                &format!("{}, or \"?\" if you have not taken it yet", sort.expected),
            );
            return None;
        }
        self.reading(key, sort)
    }

    pub(crate) fn sizes(&self, key: &'static str, sort: Sort) -> Option<Vec<Length>> {
        let list = self.get(key)?.list("a list such as [\"12\", \"28\"]")?;
        Some(list.iter().filter_map(|v| v.size(sort)).collect())
    }

    pub(crate) fn texts(&self, key: &'static str) -> Vec<String> {
        let Some(value) = self.get(key) else {
            return Vec::new();
        };
        if value.is_text() {
            return value.text().into_iter().collect();
        }
        let list = value
            .list("a list such as [\"one\", \"two\"]")
            .unwrap_or_default();
        list.iter().filter_map(Value::text).collect()
    }

    pub(crate) fn count(&self, key: &'static str, least: u32) -> Option<u32> {
        self.get(key)?
            .with("a whole number", |t| values::count(t, least))
    }

    pub(crate) fn count_or(&self, key: &'static str, default: u32, why: &str) -> u32 {
        if !self.has(key) {
            self.get(key);
            self.default(key, &default.to_string(), why);
            return default;
        }
        self.count(key, 0).unwrap_or(default)
    }

    pub(crate) fn yes_no_or(&self, key: &'static str, default: bool, why: &str) -> bool {
        match self.get(key) {
            Some(value) => value.yes_no().unwrap_or(default),
            None => {
                self.default(key, if default { "yes" } else { "no" }, why);
                default
            }
        }
    }

    pub(crate) fn money(&self, key: &'static str) -> Option<Cents> {
        self.get(key)?
            .with("an amount of money such as 22.00", |t| {
                values::money(t, false)
            })
    }

    pub(crate) fn hours(&self, key: &'static str) -> Option<Hours> {
        self.get(key)?
            .with("hours such as 11 or 1.5", values::hours)
    }

    pub(crate) fn word_or<T: Copy>(
        &self,
        key: &'static str,
        words: &[(&str, T)],
        default: T,
        shown: &str,
        why: &str,
    ) -> T {
        match self.get(key) {
            Some(value) => value.word(words).unwrap_or(default),
            None => {
                self.default(key, shown, why);
                default
            }
        }
    }

    /// Every name that was not asked for is unknown.
    pub(crate) fn done(self) {
        let asked = self.asked.borrow();
        for (key, value) in self.map.into_iter().flatten() {
            let name = key.get_ref().as_ref();
            if asked.contains(&name) {
                continue;
            }
            let is_table = matches!(value.get_ref(), DeValue::Table(_))
                || matches!(value.get_ref(), DeValue::Array(a) if a.first().is_some_and(|v| matches!(v.get_ref(), DeValue::Table(_))));
            let thing = if is_table { "table" } else { "name" };
            let at = if self.name.is_empty() {
                "project.toml"
            } else {
                &self.name
            };
            let mut known: Vec<&str> = asked.clone();
            known.sort_unstable();
            known.dedup();
            let wrong = Wrong::new(
                format!("{at} has no {thing} {name}, so what it says would be lost."),
                format!("a {thing} that is known"),
                did_you_mean(name, known),
            );
            self.doc
                .report()
                .mistake(self.doc.spot(&key.span(), self.label(name)), name, wrong);
        }
    }
}
