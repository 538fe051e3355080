//! Which column of a table holds what: headings as she spelt them against the names the readers know. Owns headings only.

use super::near::nearest;
use super::report::{Report, Wrong};
use super::rescue::blank_trim;
use super::table::RawTable;

/// A column a reader knows.
pub(crate) struct Column {
    /// Its name.
    pub(crate) name: &'static str,
    /// True if the table is no use without it.
    pub(crate) needed: bool,
    /// Other headings that can mean nothing else.
    pub(crate) also: &'static [&'static str],
    /// What is lost without it where it may be left out but is hardly meant to be: one sentence.
    pub(crate) missed: Option<&'static str>,
}

impl Column {
    fn is(&self, plain: &str) -> bool {
        self.name == plain || self.also.contains(&plain)
    }
}

/// `Length (in)` and `Width mm` in plain letters without the unit; `None` if none stands there.
fn without_unit(heading: &str) -> Option<String> {
    let plain = plain(heading);
    let (name, unit) = plain.rsplit_once('_')?;
    let units = ["in", "inch", "inches", "mm", "cm", "m", "ft", "feet"];
    units.contains(&unit).then(|| name.to_owned())
}

/// A column that must be there.
pub(crate) const fn needed(name: &'static str, also: &'static [&'static str]) -> Column {
    Column {
        name,
        needed: true,
        also,
        missed: None,
    }
}

/// A column that may be left out, with a caution that says what is lost.
pub(crate) const fn wished(
    name: &'static str,
    also: &'static [&'static str],
    lost: &'static str,
) -> Column {
    Column {
        name,
        needed: false,
        also,
        missed: Some(lost),
    }
}

/// A column that may be there.
pub(crate) const fn maybe(name: &'static str, also: &'static [&'static str]) -> Column {
    Column {
        name,
        needed: false,
        also,
        missed: None,
    }
}

/// Where each known column stands in one table.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub(crate) struct Columns {
    at: Vec<(&'static str, usize)>,
    /// False where a needed column is missing: rows are then not read one by one.
    pub(crate) complete: bool,
}

impl Columns {
    /// The place of a column.
    pub(crate) fn place(&self, name: &str) -> Option<usize> {
        self.at.iter().find(|(n, _)| *n == name).map(|(_, at)| *at)
    }
    /// True where a known column stands.
    pub(crate) fn knows(&self, place: usize) -> bool {
        self.at.iter().any(|(_, at)| *at == place)
    }
}

/// Letters and figures only, in small letters: `How many` and `how_many` are one.
pub(crate) fn plain(heading: &str) -> String {
    let mut out = String::new();
    for c in blank_trim(heading).chars() {
        if c.is_alphanumeric() {
            out.extend(c.to_lowercase());
        } else if !out.ends_with('_') {
            out.push('_');
        }
    }
    out.trim_matches('_').to_owned()
}

/// True if a heading names one of the columns, however spelt.
pub(crate) fn is_known(columns: &[Column], heading: &str) -> bool {
    find(columns, heading).is_some()
}

fn find<'a>(columns: &'a [Column], heading: &str) -> Option<&'a Column> {
    let plain = plain(heading);
    columns.iter().find(|c| c.is(&plain))
}

/// Matches the heading row. `optional_here` names needed columns that this table may do without.
pub(crate) fn match_columns(
    table: &mut RawTable,
    known: &'static [Column],
    optional_here: &[&str],
    report: &mut Report,
) {
    let mut columns = Columns {
        at: Vec::new(),
        complete: true,
    };
    let mut strange: Vec<(usize, &str)> = Vec::new();
    for (i, cell) in table.headings.cells.iter().enumerate() {
        let heading = blank_trim(&cell.text);
        if heading.is_empty() {
            continue;
        }
        let Some(column) = find(known, heading) else {
            strange.push((i, heading));
            continue;
        };
        if let Some(first) = columns.place(column.name) {
            let other = blank_trim(&table.headings.cells[first].text);
            let why = format!(
                "Columns {other:?} and {heading:?} both mean {}.",
                column.name
            );
            let fix = "take one of the two out, or give it another name.";
            let expected = format!("one column {}", column.name);
            report.mistake(
                table.spot(&table.headings, Some(i)),
                heading,
                Wrong::new(why, expected, fix),
            );
            columns.complete = false;
            continue;
        }
        // Capitals and blanks make no other word.
        if plain(heading) != column.name {
            let why = format!("This heading was read as {}.", column.name);
            let fix = format!(
                "nothing, if that is what it means; else give the column another name than {heading:?}."
            );
            report.caution(
                table.spot(&table.headings, Some(i)),
                heading,
                Wrong::new(why, column.name, fix),
            );
        }
        columns.at.push((column.name, i));
    }
    let mut taken: Vec<usize> = Vec::new();
    for column in known
        .iter()
        .filter(|c| c.needed && !optional_here.contains(&c.name))
    {
        if columns.place(column.name).is_some() {
            continue;
        }
        columns.complete = false;
        let free = || {
            let free = strange.iter().filter(|(i, _)| !taken.contains(i));
            free.map(|(_, h)| *h)
        };
        let with_unit = free().find(|h| without_unit(h).is_some_and(|h| column.is(&h)));
        let near = with_unit.or_else(|| nearest(column.name, free()));
        let expected = format!("a column {}", column.name);
        if let Some((i, heading)) = near.and_then(|n| strange.iter().find(|(_, h)| *h == n)) {
            taken.push(*i);
            let wrong = Wrong::new(
                format!(
                    "No column is called {}, and without it the list cannot be read.",
                    column.name
                ),
                expected,
                match with_unit {
                    Some(_) => format!(
                        "change the heading {heading:?} to {}; bare numbers are in the unit of [project] units, others name theirs: 590 mm.",
                        column.name
                    ),
                    None => format!(
                        "did you mean {}? Then change the heading {heading:?}.",
                        column.name
                    ),
                },
            );
            report.mistake(table.spot(&table.headings, Some(*i)), *heading, wrong);
        } else {
            let mut spot = table.spot(&table.headings, None);
            spot.column = Some(column.name.to_owned());
            let wrong = Wrong::new(
                format!(
                    "The column {} is missing, and without it the list cannot be read.",
                    column.name
                ),
                expected,
                format!("add a column with the heading {}.", column.name),
            );
            report.mistake(spot, "no such column", wrong);
        }
    }
    let missed = known
        .iter()
        .filter(|c| columns.place(c.name).is_none())
        .filter_map(|c| Some((c, c.missed?)));
    for (column, lost) in missed {
        let free = strange.iter().filter(|(i, _)| !taken.contains(i));
        let with_its_name = free.clone().find(|(_, h)| {
            let heading = plain(h);
            heading.split('_').any(|word| column.is(word))
        });
        let near = with_its_name.or_else(|| {
            let near = nearest(column.name, free.clone().map(|(_, h)| *h))?;
            free.clone().find(|(_, h)| *h == near)
        });
        let (place, found) = near.map_or((None, "no such column"), |(i, h)| (Some(*i), *h));
        let mut spot = table.spot(&table.headings, place);
        let fix = if place.is_some() {
            format!("did you mean {}? Then change the heading.", column.name)
        } else {
            spot.column = Some(column.name.to_owned());
            format!("add a column with the heading {}.", column.name)
        };
        taken.extend(place);
        let expected = format!("a column {}", column.name);
        report.caution(spot, found, Wrong::new(lost, expected, fix));
    }
    for (i, heading) in strange.iter().filter(|(i, _)| !taken.contains(i)) {
        let free = known
            .iter()
            .filter(|c| columns.place(c.name).is_none())
            .map(|c| c.name);
        if let Some(name) = nearest(&plain(heading), free) {
            let wrong = Wrong::new(
                "No column of that name is known; it is kept and carried along, but not read.",
                format!("a known heading, or one of your own that is not so close to {name}"),
                format!("did you mean {name}? Then change the heading."),
            );
            report.caution(table.spot(&table.headings, Some(*i)), *heading, wrong);
        }
    }
    table.columns = columns;
}
