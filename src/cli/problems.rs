//! Mistakes and cautions as she reads them: where, what was found, what was expected, how to mend it, the row with a caret.
//! Owns the layout; the wording is made where a problem is found.

use super::screen::{paragraph, safe, width};
use crate::model::{Problem, Severity, Spot};
use serde::Serialize;

/// A problem as JSON: the keys that other programs lean on, and why.
#[derive(Serialize)]
pub(crate) struct ProblemDoc<'a> {
    file: &'a str,
    row: Option<usize>,
    column: Option<&'a str>,
    found: &'a str,
    why: &'a str,
    expected: &'a str,
    fix: &'a str,
    line: Option<&'a str>,
}

/// What `check --json` prints, and any verb that meets mistakes.
#[derive(Serialize)]
pub(crate) struct ProblemsDoc<'a, D: Serialize> {
    pub(crate) mistakes: Vec<ProblemDoc<'a>>,
    pub(crate) cautions: Vec<ProblemDoc<'a>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) defaults: Option<D>,
}

/// Problems of one severity as JSON.
pub(crate) fn docs(problems: &[Problem], severity: Severity) -> Vec<ProblemDoc<'_>> {
    problems
        .iter()
        .filter(|p| p.severity == severity)
        .map(|p| ProblemDoc {
            file: &p.spot.file,
            row: p.spot.row,
            column: p.spot.column.as_deref(),
            found: &p.found,
            why: &p.why,
            expected: &p.expected,
            fix: &p.fix,
            line: p.spot.line.as_deref(),
        })
        .collect()
}

/// Both severities as one document.
pub(crate) fn document(problems: &[Problem]) -> ProblemsDoc<'_, ()> {
    ProblemsDoc {
        mistakes: docs(problems, Severity::Mistake),
        cautions: docs(problems, Severity::Caution),
        defaults: None,
    }
}

/// All problems, mistakes first, each in its five parts.
pub(crate) fn text(problems: &[Problem]) -> String {
    let mut out = String::new();
    for severity in [Severity::Mistake, Severity::Caution] {
        for p in problems.iter().filter(|p| p.severity == severity) {
            out.push_str(&one(p));
            out.push('\n');
        }
    }
    out
}

fn one(p: &Problem) -> String {
    let toml = p.spot.file.ends_with(".toml");
    let row_word = if toml { "line" } else { "row" };
    let mut place = safe(&p.spot.file);
    if let Some(row) = p.spot.row {
        place.push_str(&format!(", {row_word} {row}"));
    }
    if let Some(column) = &p.spot.column {
        let lead = if toml { "" } else { "column " };
        place.push_str(&format!(", {lead}{}", safe(column)));
    }
    let lead = match p.severity {
        Severity::Mistake => "",
        Severity::Caution => "Caution: ",
    };
    let mut out = paragraph("", &format!("{lead}{place}: found {}", safe(&p.found)), 3);
    for (label, text) in [("", &p.why), ("Expected ", &p.expected), ("Fix: ", &p.fix)] {
        if !text.is_empty() {
            let stop = if text.ends_with(['.', '?', '!']) {
                ""
            } else {
                "."
            };
            out.push_str(&paragraph(
                "   ",
                &format!("{label}{}{stop}", safe(text)),
                3,
            ));
        }
    }
    out.push_str(&row_and_caret(&p.spot, row_word));
    out
}

/// The row as it stands, and a caret under the cell. Characters before the cell may be shown wider than one column.
fn row_and_caret(spot: &Spot, row_word: &str) -> String {
    let Some(line) = &spot.line else {
        return String::new();
    };
    let lead = spot
        .row
        .map_or("   ".into(), |r| format!("   {row_word} {r}:  "));
    let mut out = format!("{lead}{}\n", safe(line));
    if let Some((at, len)) = spot.caret {
        let before: String = line.chars().take(at).collect();
        let under: String = line.chars().skip(at).take(len.max(1)).collect();
        let pad = width(&lead) + width(&safe(&before));
        out.extend(std::iter::repeat_n(' ', pad));
        out.extend(std::iter::repeat_n('^', width(&safe(&under)).max(1)));
        out.push('\n');
    }
    out
}

/// `5 mistakes in 4 files, 1 caution.`
pub(crate) fn count(problems: &[Problem]) -> String {
    let of = |s: Severity| problems.iter().filter(move |p| p.severity == s);
    let (mistakes, cautions) = (of(Severity::Mistake).count(), of(Severity::Caution).count());
    let mut files: Vec<&str> = of(Severity::Mistake)
        .map(|p| p.spot.file.as_str())
        .collect();
    files.sort_unstable();
    files.dedup();
    let s = |n: usize| if n == 1 { "" } else { "s" };
    let mut parts = Vec::new();
    if mistakes > 0 {
        let n = files.len();
        parts.push(format!(
            "{mistakes} mistake{} in {n} file{}",
            s(mistakes),
            s(n)
        ));
    }
    if cautions > 0 {
        parts.push(format!("{cautions} caution{}", s(cautions)));
    }
    if parts.is_empty() {
        return "No mistakes.".into();
    }
    parts.join(", ") + "."
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn five_parts_and_a_caret_under_the_cell() {
        let p = Problem {
            severity: Severity::Mistake,
            spot: Spot {
                file: "stock.csv".into(),
                row: Some(2),
                column: Some("thick".into()),
                line: Some("PLY,sheet,4-Mar,x".into()),
                caret: Some((10, 5)),
            },
            found: "\"4-Mar\"".into(),
            why: "This was a fraction.".into(),
            expected: "a thickness such as 3/4".into(),
            fix: "type 3/4\"".into(),
        };
        assert_eq!(
            text(std::slice::from_ref(&p)),
            "stock.csv, row 2, column thick: found \"4-Mar\"\n   This was a fraction.\n   \
             Expected a thickness such as 3/4.\n   Fix: type 3/4\".\n   row 2:  PLY,sheet,4-Mar,x\n                     ^^^^^\n\n"
        );
        assert_eq!(count(&[p]), "1 mistake in 1 file.");
    }
}
