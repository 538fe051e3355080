//! One value of project.toml: turned into what its field holds, with every slip reported at its place. Owns no names.

use super::doc::{Doc, Sort};
use super::table::Table;
use crate::files::read::doubt::other_unit;
use crate::files::read::near::did_you_mean;
use crate::files::read::report::Wrong;
use crate::files::read::rescue::{date_rescue, hand_slip};
use crate::files::read::values;
use crate::model::{Reading, Spot};
use crate::units::{Length, ReadAs, Size, parse_size};
use std::cell::RefCell;
use toml::Spanned;
use toml::de::DeValue;

/// A value and its name.
#[derive(Clone)]
pub(crate) struct Value<'a> {
    pub(crate) doc: &'a Doc<'a>,
    pub(super) given: &'a Spanned<DeValue<'a>>,
    /// `[opening.tape] width[2]`
    pub(crate) name: String,
}

impl<'a> Value<'a> {
    pub(crate) fn spot(&self) -> Spot {
        self.doc.spot(&self.given.span(), self.name.clone())
    }

    pub(crate) fn line(&self) -> usize {
        self.doc.line_of(&self.given.span())
    }

    pub(crate) fn wrong(&self, found: &str, wrong: Wrong) {
        self.doc.report().mistake(self.spot(), found, wrong);
    }

    /// As she wrote it.
    pub(crate) fn found(&self) -> String {
        match self.given.get_ref() {
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
        match self.given.get_ref() {
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
        match self.given.get_ref() {
            DeValue::String(s) => Some(s.to_string()),
            DeValue::Datetime(_) | DeValue::Integer(_) | DeValue::Float(_) => Some(self.found()),
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
                let read = self.doc.read_as(sort);
                if let Some(wrong) = other_unit(&text, length, sort.bounds, read) {
                    self.wrong(&text, wrong);
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
        let length = self.reading(sort)?;
        if length.is_none() {
            let why = "This is not a reading at the opening, so it cannot be left open.";
            self.wrong("?", Wrong::new(why, sort.expected, "type the size."));
        }
        length
    }

    pub(crate) fn yes_no(&self) -> Option<bool> {
        match self.given.get_ref() {
            DeValue::Boolean(b) => Some(*b),
            DeValue::String(s) => values::yes_no(s).map_err(|w| self.wrong(s, w)).ok(),
            _ => self.wrong_kind("true or false"),
        }
    }

    pub(crate) fn is_text(&self) -> bool {
        matches!(self.given.get_ref(), DeValue::String(_))
    }

    pub(crate) fn is_list(&self) -> bool {
        matches!(self.given.get_ref(), DeValue::Array(_))
    }

    pub(crate) fn is_table(&self) -> bool {
        matches!(self.given.get_ref(), DeValue::Table(_))
    }

    /// The elements of a list, each with its name.
    pub(crate) fn list(&self, expected: &str) -> Option<Vec<Value<'a>>> {
        let DeValue::Array(items) = self.given.get_ref() else {
            return self.wrong_kind(expected);
        };
        let named = |(i, given)| Value {
            doc: self.doc,
            given,
            name: format!("{}[{i}]", self.name),
        };
        Some(items.iter().enumerate().map(named).collect())
    }

    pub(crate) fn table(&self) -> Option<Table<'a>> {
        match self.given.get_ref() {
            DeValue::Table(map) => Some(Table {
                doc: self.doc,
                map: Some(map),
                span: self.given.span(),
                name: self.name.clone(),
                asked: RefCell::default(),
            }),
            _ => {
                self.wrong_head(&heading_for(&self.name));
                None
            }
        }
    }

    /// A value where lines below a heading of their own belong.
    pub(super) fn wrong_head(&self, head: &str) {
        let why = "More than one value belongs here, each on a line below a heading.";
        let fix = format!(
            "take this line out, put {head} on a line of its own, and each value below it as name = value."
        );
        self.wrong(
            &self.found(),
            Wrong::new(why, format!("a heading {head}"), fix),
        );
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

/// The heading for what `[opening] now` or `[opening] studs[0]` name: `[opening.now]`, `[[opening.studs]]`.
fn heading_for(name: &str) -> String {
    let path = name.replace("] ", ".");
    let path = path.trim_start_matches('[');
    match path.split_once('[') {
        Some((list, _)) => format!("[[{list}]]"),
        None => format!("[{path}]"),
    }
}

#[cfg(test)]
mod tests {
    use super::heading_for;

    #[test]
    fn headings_for_values_by_name() {
        for (name, heading) in [
            ("want", "[want]"),
            ("[opening] now", "[opening.now]"),
            ("[opening.tape] depth", "[opening.tape.depth]"),
            ("[opening] studs[0]", "[[opening.studs]]"),
        ] {
            assert_eq!(heading_for(name), heading);
        }
    }
}
