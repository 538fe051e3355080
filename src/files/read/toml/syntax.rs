//! Lines of project.toml that are not TOML: named one by one, mended where it is clear what was meant (an unquoted size),
//! blanked where not, so that everything else in the file is still checked. Works on a copy; her file stays as it is.

use crate::files::read::report::{Report, Wrong};
use crate::files::read::table::window;
use crate::model::Spot;
use std::collections::BTreeSet;
use toml::de::DeTable;

/// Rounds of mending. Each round deals with every line the parser complains of, so few are needed.
const ROUNDS: usize = 12;

/// The text with its broken lines mended or blanked. The second value is true where a line had to be blanked: then what
/// seems to be missing may only have been on that line.
pub(crate) fn mend(text: &str, file: &str, report: &mut Report) -> (String, bool) {
    let originals: Vec<&str> = text.split('\n').collect();
    let mut lines: Vec<String> = originals.iter().map(|l| (*l).to_owned()).collect();
    let mut told: BTreeSet<usize> = BTreeSet::new();
    let mut blanked = false;
    for _ in 0..ROUNDS {
        let joined = lines.join("\n");
        let (_, errors) = DeTable::parse_recoverable(&joined);
        if errors.is_empty() {
            return (joined, blanked);
        }
        let starts = line_starts(&joined);
        let mut bad: Vec<(usize, String)> = errors
            .iter()
            .map(|e| {
                let at = e.span().map_or(0, |s| s.start).min(joined.len());
                (
                    starts.partition_point(|s| *s <= at).saturating_sub(1),
                    e.message().to_owned(),
                )
            })
            .collect();
        bad.sort_by_key(|(line, _)| *line);
        bad.dedup_by_key(|(line, _)| *line);
        for (i, message) in bad {
            let Some(line) = lines.get(i).cloned() else {
                continue;
            };
            let mended = quote_value(&line).filter(|_| !told.contains(&i));
            // A date that is no day of the calendar: the date's own reader says so.
            if told.insert(i) && !mended.as_deref().is_some_and(is_date) {
                report_line(originals[i], i, &message, mended.as_deref(), file, report);
            }
            blanked |= mended.is_none();
            lines[i] = mended.unwrap_or_default();
        }
    }
    // What still cannot be read after that is not read at all; the mistakes so far are in the report.
    (String::new(), true)
}

/// True for a line whose value is nothing but figures and two hyphens.
fn is_date(line: &str) -> bool {
    let value = line.split_once('=').map_or("", |(_, v)| v.trim());
    let value = value.split('#').next().unwrap_or_default();
    let value = value.trim().trim_matches('"');
    value.chars().all(|c| c.is_ascii_digit() || c == '-') && value.matches('-').count() == 2
}

/// Where each line starts, in bytes.
pub(crate) fn line_starts(text: &str) -> Vec<usize> {
    std::iter::once(0)
        .chain(text.match_indices('\n').map(|(i, _)| i + 1))
        .collect()
}

/// `kerf = 3 1/8   # note` becomes `kerf = "3 1/8"   # note`, if the value is a bare thing that quotes would mend.
fn quote_value(line: &str) -> Option<String> {
    let line = line.trim_end_matches('\r');
    let (key, rest) = line.split_once('=')?;
    let key_ok = |c: char| c.is_alphanumeric() || "_-. \t\"".contains(c);
    if key.trim().is_empty() || !key.chars().all(key_ok) {
        return None;
    }
    let (value, comment) = match rest.find('#') {
        Some(at) => rest.split_at(at),
        None => (rest, ""),
    };
    let bare = value.trim();
    if bare.is_empty() || bare.starts_with(['[', '{', '"', '\'']) {
        return quote_list(key, bare, comment);
    }
    // Quote marks as a word processor sets them.
    let bare = bare.trim_matches(['\u{201c}', '\u{201d}', '\u{201e}', '\u{2018}', '\u{2019}']);
    let safe = bare.replace('\\', "/");
    let quoted = if safe.contains('\'') {
        format!("\"{}\"", safe.replace('"', "\\\""))
    } else {
        format!("'{safe}'")
    };
    let plain = if safe.contains(['"', '\'']) {
        quoted
    } else {
        format!("\"{safe}\"")
    };
    Some(
        format!("{} = {plain} {comment}", key.trim_end())
            .trim_end()
            .to_owned(),
    )
}

/// `left_gap = [1, 7/8, 1/2]` becomes `left_gap = ["1", "7/8", "1/2"]`.
fn quote_list(key: &str, bare: &str, comment: &str) -> Option<String> {
    let inside = bare.strip_prefix('[')?.strip_suffix(']')?;
    if inside.contains(['[', '{', '\'']) {
        return None;
    }
    let quoted: Vec<String> = inside
        .split(',')
        .map(|v| v.trim().trim_matches('"'))
        .filter(|v| !v.is_empty())
        .map(|v| format!("\"{}\"", v.replace(['\\', '"'], "")))
        .collect();
    Some(
        format!("{} = [{}] {comment}", key.trim_end(), quoted.join(", "))
            .trim_end()
            .to_owned(),
    )
}

/// A note that lost its #: what stands before the = (or the whole line) is three words or more, and no head of a table.
fn is_words(line: &str) -> bool {
    let line = line.trim();
    let before = line.split_once('=').map_or(line, |(k, _)| k);
    !line.starts_with(['[', '{', '"', '\'']) && before.split_whitespace().count() >= 3
}

fn report_line(
    line: &str,
    i: usize,
    message: &str,
    mended: Option<&str>,
    file: &str,
    report: &mut Report,
) {
    let line = line.trim_end_matches('\r');
    let value_at = line.find('=').map_or(0, |at| line[..=at].chars().count());
    let blanks = line
        .chars()
        .skip(value_at)
        .take_while(|c| c.is_whitespace())
        .count();
    let start = value_at + blanks;
    let found: String = line
        .split_once('=')
        .map_or(line, |(_, v)| v)
        .trim()
        .chars()
        .take(60)
        .collect();
    let length = found.chars().count().max(1);
    let (shown, caret) = window(line, Some((start, length)));
    let column = line.split_once('=').map(|(k, _)| k.trim().to_owned());
    let spot = Spot {
        file: file.to_owned(),
        row: Some(i + 1),
        column,
        line: Some(shown),
        caret,
    };
    let wrong = if message.contains("duplicate") {
        Wrong::new(
            "This name was given before, in the same table.",
            "each name once in a table",
            "take one of the two lines out; use [[...]] with two brackets for a table that comes several times.",
        )
    } else if is_words(line) {
        Wrong::new(
            "This is a line of words, not a name with a value. Did the # get lost?",
            "name = \"value\", or a note that starts with #",
            "put # before it if it is a note.",
        )
    } else if let Some(mended) = mended {
        Wrong::new(
            "A value with a space or a mark in it needs quote marks around it.",
            "name = \"value\"",
            format!("type {}", mended.trim()),
        )
    } else if line.trim_start().starts_with('[') && !line.contains('=') {
        Wrong::new(
            "This is not the head of a table.",
            "[name] or [[name]] alone on its line",
            "close the brackets and take out whatever else stands there.",
        )
    } else if line.contains('=') {
        Wrong::new(
            "The value is not closed or not written in a way that can be read.",
            "name = \"value\", name = 12, or name = [\"one\", \"two\"]",
            "look for a missing quote mark, bracket or comma; the row above may be the one.",
        )
    } else {
        Wrong::new(
            "This line is neither a table, nor a name with a value, nor a note.",
            "name = \"value\", or a note that starts with #",
            "put # before it if it is a note.",
        )
    };
    report.mistake(spot, found, wrong);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_unquoted_size_is_mended_and_named() {
        let mut report = Report::default();
        let (text, blanked) = mend(
            "[saw]\nkerf = 3/32 # thin\nwhat = \"track\"\n",
            "project.toml",
            &mut report,
        );
        assert!(!blanked);
        assert!(text.contains("kerf = \"3/32\" # thin"), "{text}");
        let problems = report.finish();
        assert_eq!(problems.len(), 1);
        assert_eq!(problems[0].spot.row, Some(2));
        assert!(problems[0].fix.contains("kerf = \"3/32\""));
    }

    #[test]
    fn a_note_that_lost_its_mark_is_called_that() {
        for line in [
            "Sizes are inches unless a unit is written.",
            "overrides what is derived: x = y",
            "kerf of the blade = what it says on it",
        ] {
            let mut report = Report::default();
            let text = format!("[saw]\n{line}\nkerf = \"1/8\"\n");
            mend(&text, "project.toml", &mut report);
            let problems = report.finish();
            assert_eq!(problems.len(), 1, "{problems:?}");
            assert!(
                problems[0].why.contains("Did the # get lost"),
                "{problems:?}"
            );
        }
    }

    #[test]
    fn curly_quotes_are_mended() {
        let mut report = Report::default();
        let (text, _) = mend(
            "[saw]\nkerf = \u{201c}1/8\u{201d}\n",
            "project.toml",
            &mut report,
        );
        assert!(text.contains("kerf = \"1/8\""), "{text}");
        assert!(report.finish()[0].fix.contains("kerf = \"1/8\""));
    }

    #[test]
    fn every_broken_line_is_named_at_once() {
        let mut report = Report::default();
        let text = "[saw]\nkerf = 1 1/8\nnonsense\nclean_edge = \"1/8\n[car\ncarries = \"85 lb\"\n";
        mend(text, "project.toml", &mut report);
        let rows: Vec<_> = report
            .finish()
            .iter()
            .map(|p| p.spot.row.unwrap_or(0))
            .collect();
        assert_eq!(rows, [2, 3, 4, 5]);
    }
}
