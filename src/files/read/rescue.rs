//! What a spreadsheet or a hurried hand does to a number, undone or at least recognised: dates that were fractions,
//! letters that look like figures, commas, marks that cannot be seen. Owns the recognising; must not decide what a field means.

use super::report::Wrong;

/// Short names of the months as spreadsheets write them.
const MONTHS: [&str; 12] = [
    "jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec",
];

/// Without blanks at the ends, those that cannot be seen included.
pub(crate) fn blank_trim(text: &str) -> &str {
    text.trim_matches(|c: char| {
        c.is_whitespace() || matches!(c, '\u{FEFF}' | '\u{200B}'..='\u{200F}' | '\u{2060}')
    })
}

/// A date as a spreadsheet shows it: month, then day or the last two figures of the year.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
struct Shown {
    month: u32,
    other: u32,
}

/// The message for a size that a spreadsheet turned into a date, if the text looks like one. `expected` names what belongs
/// there, e.g. "a thickness such as 3/4".
pub(crate) fn date_rescue(text: &str, expected: &str) -> Option<Wrong> {
    as_date(text).map(|shown| date_wrong(shown, expected))
}

/// The same for a cell that a workbook itself says is a date.
pub(crate) fn date_cell_rescue(year: i16, month: u8, day: u8, expected: &str) -> Wrong {
    let (month, day) = (u32::from(month), u32::from(day));
    let by_day = Shown { month, other: day };
    let in_year = u32::try_from(year.rem_euclid(100)).unwrap_or(0);
    // 3/32 has no 32nd day, so it became the first day of a month in a year that ends in 32.
    let shown = if day == 1
        && fraction(Shown {
            month,
            other: in_year,
        })
        .is_some()
        && fraction(by_day).is_none()
    {
        Shown {
            month,
            other: in_year,
        }
    } else {
        by_day
    };
    date_wrong(shown, expected)
}

fn date_wrong(shown: Shown, expected: &str) -> Wrong {
    let (why, typed) = match fraction(shown) {
        Some((over, under)) => (
            format!(
                "This was a fraction that the spreadsheet turned into a date ({over}/{under})."
            ),
            format!("{over}/{under}\""),
        ),
        None => (
            "The spreadsheet turned what you typed into a date.".into(),
            "the size with its unit".into(),
        ),
    };
    Wrong::new(
        why,
        expected,
        format!(
            "set the column to Text before typing, then type {typed} with the inch mark. Nothing was changed."
        ),
    )
}

/// The tape fraction behind a date: halves to 64ths, month over day first, then day over month.
fn fraction(shown: Shown) -> Option<(u32, u32)> {
    let good = |over: u32, under: u32| {
        under.is_power_of_two() && (2..=64).contains(&under) && over > 0 && over < under
    };
    if good(shown.month, shown.other) {
        Some((shown.month, shown.other))
    } else if good(shown.other, shown.month) {
        Some((shown.other, shown.month))
    } else {
        None
    }
}

fn as_date(text: &str) -> Option<Shown> {
    let text = blank_trim(text);
    if text.len() > 40 {
        return None;
    }
    // A time of day behind the date says nothing more.
    let day_part = text.split([' ', 'T']).next().unwrap_or(text);
    let joined: String = if text.split(['-', ' ', '/', '.']).any(|p| month(p).is_some()) {
        text.replace([' ', '/', '.'], "-")
    } else {
        day_part.replace('.', "-")
    };
    let parts: Vec<&str> = joined.split(['-', '/']).filter(|p| !p.is_empty()).collect();
    let number = |p: &str| p.parse::<u32>().ok();
    match parts.as_slice() {
        // 4-Mar, Mar-32, 4-Mar-26, Mar-4-2026
        [a, b] | [a, b, _] if month(a).is_some() != month(b).is_some() => {
            let (named, other) = if let Some(m) = month(a) {
                (m, b)
            } else {
                (month(b)?, a)
            };
            number(other).filter(|n| *n <= 99).map(|other| Shown {
                month: named,
                other,
            })
        }
        // 2026-03-04
        [y, m, d] if y.len() == 4 => date_numbers(number(y)?, number(m)?, number(d)?),
        // 3/4/2026, 03/04/26; with points only where the year has four figures. 23-1/16 is a size.
        [m, d, y]
            if !(text.contains('-') && text.contains('/'))
                && (y.len() == 4 || (y.len() == 2 && text.contains('/'))) =>
        {
            let (m, d) = (number(m)?, number(d)?);
            let year = number(y)?;
            date_numbers(year, m, d).or_else(|| date_numbers(year, d, m))
        }
        _ => None,
    }
}

fn date_numbers(_year: u32, month: u32, day: u32) -> Option<Shown> {
    ((1..=12).contains(&month) && (1..=31).contains(&day)).then_some(Shown { month, other: day })
}

fn month(word: &str) -> Option<u32> {
    let word = word.to_lowercase();
    let short = word.get(..3)?;
    let known = MONTHS.iter().position(|m| *m == short)?;
    word.chars()
        .all(char::is_alphabetic)
        .then(|| u32::try_from(known + 1).unwrap_or(1))
}

/// What a spreadsheet shows instead of a value that it could not work out.
pub(crate) fn is_failed_sum(text: &str) -> bool {
    let text = blank_trim(text);
    let shown = [
        "#REF!", "#VALUE!", "#N/A", "#DIV/0!", "#NAME?", "#NULL!", "#NUM!", "#SPILL!", "#CALC!",
        "Err:",
    ];
    shown.iter().any(|s| text.starts_with(s))
        || (text.len() >= 2 && text.bytes().all(|b| b == b'#'))
}

/// A mistake that can be named better than "not a number": letters for figures, a comma, a sum.
pub(crate) fn hand_slip(text: &str, expected: &str) -> Option<Wrong> {
    let text = blank_trim(text);
    if text.starts_with('=') {
        return Some(Wrong::new(
            "A sum stands here, not its result.",
            expected,
            "type the result itself.",
        ));
    }
    if let Some(mended) = letters_as_figures(text) {
        return Some(Wrong::new(
            "A letter stands where a figure should be (O for 0, or l for 1).",
            expected,
            format!("type {mended}."),
        ));
    }
    comma_slip(text, expected)
}

/// The text with O, o, l, I made figures, if it then is a number and was none before.
fn letters_as_figures(text: &str) -> Option<String> {
    let has_letter = text.contains(['O', 'o', 'l', 'I']);
    let has_figure = text.chars().any(|c| c.is_ascii_digit());
    if !has_letter || !(has_figure || text.len() <= 3) {
        return None;
    }
    let mended: String = text
        .chars()
        .map(|c| match c {
            'O' | 'o' => '0',
            'l' | 'I' => '1',
            _ => c,
        })
        .collect();
    let number = mended
        .chars()
        .all(|c| c.is_ascii_digit() || " ./-\"'".contains(c));
    (number && mended.chars().any(|c| c.is_ascii_digit())).then_some(mended)
}

/// `1,250` or `590,5`.
fn comma_slip(text: &str, expected: &str) -> Option<Wrong> {
    let (before, after) = text.split_once(',')?;
    let figures = |s: &str| !s.is_empty() && s.chars().all(|c| c.is_ascii_digit());
    let plain = before.trim_start_matches(['$', '-', ' ']);
    let tail = after.trim_end_matches(|c: char| !c.is_ascii_digit());
    if !figures(plain) || tail.is_empty() {
        return None;
    }
    let groups: Vec<&str> = tail.split('.').next().unwrap_or(tail).split(',').collect();
    // No thousands begin with a nought: 0,125 is an eighth.
    if !plain.starts_with('0') && groups.iter().all(|g| g.len() == 3 && figures(g)) {
        let joined = text.replace(',', "");
        return Some(Wrong::new(
            "A comma that parts thousands can also be read as a decimal comma, so it is not guessed.",
            expected,
            format!("type {joined}."),
        ));
    }
    figures(tail).then(|| {
        Wrong::new(
            "A comma stands in the number, and a comma is never guessed.",
            expected,
            format!("type {}.", text.replacen(',', ".", 1)),
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn typed(text: &str) -> Option<String> {
        date_rescue(text, "a size").map(|w| w.why)
    }

    /// What spreadsheets with US settings show for a typed fraction: 3/4 and 7/16 become a day of a month, 3/32 has no
    /// such day and becomes a month of 1932 (common practice, no source).
    #[test]
    fn dates_that_were_fractions() {
        for (shown, fraction) in [
            ("4-Mar", "(3/4)"),
            ("16-Jul", "(7/16)"),
            ("Mar-32", "(3/32)"),
            ("3/4/2026", "(3/4)"),
            ("03/04/26", "(3/4)"),
            ("2026-03-04", "(3/4)"),
            ("2026-03-04 00:00:00", "(3/4)"),
            ("1-Aug", "(1/8)"),
            ("8-Jan", "(1/8)"),
            ("4 March", "(3/4)"),
        ] {
            let why = typed(shown).unwrap_or_else(|| panic!("{shown} is not seen as a date"));
            assert!(why.contains(fraction), "{shown}: {why}");
        }
        assert!(date_cell_rescue(2026, 3, 4, "a size").why.contains("(3/4)"));
        assert!(
            date_cell_rescue(1932, 3, 1, "a size")
                .why
                .contains("(3/32)")
        );
    }

    #[test]
    fn sizes_are_no_dates() {
        for text in [
            "23 1/4",
            "23-1/4",
            "23-1/16",
            "3-1/64",
            "3/4",
            "18 mm",
            "2' 3-1/2\"",
            "?",
            "",
            "23.25",
            "96",
        ] {
            assert_eq!(typed(text), None, "{text}");
        }
    }

    #[test]
    fn letters_and_commas_are_named() {
        assert!(hand_slip("1O", "a count").expect("seen").fix.contains("10"));
        assert!(hand_slip("l2", "a count").expect("seen").fix.contains("12"));
        assert!(
            hand_slip("1,250", "a size")
                .expect("seen")
                .fix
                .contains("1250")
        );
        assert!(
            hand_slip("590,5", "a size")
                .expect("seen")
                .fix
                .contains("590.5")
        );
        // An eighth, and no hundred and twenty-five.
        assert_eq!(
            hand_slip("0,125", "a size").expect("seen").fix,
            "type 0.125."
        );
        assert_eq!(hand_slip("oak", "a size"), None);
    }
}
