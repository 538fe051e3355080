//! A table of project.toml that remembers which names it was asked for, so that what is left over at the end is unknown to
//! the tool. Owns no names of its own.

use super::doc::{Doc, Sort};
use super::value::Value;
use crate::files::read::near::did_you_mean;
use crate::files::read::report::Wrong;
use crate::files::read::values;
use crate::model::{DefaultUsed, Hours, Reading, Spot};
use crate::units::{Cents, Length};
use std::cell::RefCell;
use std::ops::Range;
use toml::de::{DeTable, DeValue};

/// A table and which of its names have been asked for.
pub(crate) struct Table<'a> {
    pub(crate) doc: &'a Doc<'a>,
    pub(super) map: Option<&'a DeTable<'a>>,
    pub(super) span: Range<usize>,
    /// `[opening.tape]`; empty for the file itself.
    pub(crate) name: String,
    pub(super) asked: RefCell<Vec<&'static str>>,
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
            given: value,
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
                        given: value,
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
        if !value.is_list() {
            value.wrong_head(&format!("[{}]", self.inner_name(key)));
            return Vec::new();
        }
        let items = value.list("").unwrap_or_default();
        let tables: Vec<Table<'a>> = items.iter().filter_map(Value::table).collect();
        let own: Vec<Option<String>> = tables.iter().map(Table::own_name).collect();
        let mut named = Vec::new();
        for (i, table) in tables.into_iter().enumerate() {
            // Of several without a name each goes by its number.
            let nameless = own.iter().filter(|n| n.is_none()).count();
            let name = if own[i].is_some() || nameless == 1 {
                name.clone()
            } else {
                format!("{name} number {}", i + 1)
            };
            named.push(Table { name, ..table });
        }
        named
    }

    /// What she calls one of several tables.
    fn own_name(&self) -> Option<String> {
        ["name", "item", "what", "route"]
            .into_iter()
            .find_map(|key| {
                let DeValue::String(text) = self.map?.get(key)?.get_ref() else {
                    return None;
                };
                Some(text.trim().to_owned()).filter(|t| !t.is_empty())
            })
    }

    pub(crate) fn text(&self, key: &'static str) -> Option<String> {
        self.get(key)?
            .text()
            .map(|t| t.split_whitespace().collect::<Vec<_>>().join(" "))
    }

    pub(crate) fn text_or(&self, key: &'static str, default: &str, why: &str) -> String {
        let Some(value) = self.get(key) else {
            self.default(key, default, why);
            return default.to_owned();
        };
        value.text().unwrap_or_default()
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

    /// Says that a whole table is missing. `holds`: what belongs in it.
    pub(crate) fn missing_table(&self, key: &str, holds: &str) {
        if self.doc.gaps {
            return;
        }
        let wrong = Wrong::new(
            format!("The table [{key}] is missing."),
            format!("[{key}] with {holds}"),
            format!(
                "add a line [{key}] and {holds} below it; the file that `start` makes shows how."
            ),
        );
        self.doc
            .report()
            .mistake(self.spot_for(key), "nothing", wrong);
    }

    /// Lists a default.
    pub(crate) fn default(&self, key: &str, value: &str, why: &str) {
        let one = self.default_of(key, value, why);
        self.doc.default(one.place, one.value, why);
    }

    /// A default that is listed later, or never.
    pub(crate) fn default_of(&self, key: &str, value: &str, why: &str) -> DefaultUsed {
        DefaultUsed {
            place: format!("{} {}", self.doc.file, self.label(key)),
            value: value.to_owned(),
            why: why.to_owned(),
            route: self.doc.route.borrow().clone(),
        }
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
        let Some(value) = self.get(key) else {
            let shown = self.doc.tape.borrow().print_exact(default);
            self.default(key, &shown, why);
            return default;
        };
        value.size(sort).unwrap_or(default)
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
        let Some(value) = self.get(key) else {
            self.default(key, if default { "yes" } else { "no" }, why);
            return default;
        };
        value.yes_no().unwrap_or(default)
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
        let Some(value) = self.get(key) else {
            self.default(key, shown, why);
            return default;
        };
        value.word(words).unwrap_or(default)
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
