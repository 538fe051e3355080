//! Slips of the keyboard and the spreadsheet that leave a size unreadable, recognised so that the mend can be named:
//! the letter O for nought, l for one, and fractions that a spreadsheet turned into dates. Never mends by itself.

use super::parse::{ReadAs, SizeError, no, read, shorten};

const MONTHS: [&str; 12] = [
    "jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec",
];

/// The slip behind an unreadable size, if it is one of the usual ones.
pub(super) fn likely_slip(clean: &str, how: ReadAs) -> Option<SizeError> {
    if let Some(fraction) = fraction_behind_date(clean) {
        return Some(SizeError {
            why: format!(
                "This was a fraction that the spreadsheet turned into a date ({fraction})."
            ),
            expected: "a size such as 3/4, 23/32 or 18 mm".into(),
            fix: format!(
                "set the column to Text before typing, then type {fraction}\" with the inch mark"
            ),
        });
    }
    if date(clean).is_some() {
        return Some(no(
            "This is a date, perhaps a fraction that the spreadsheet changed.",
            how,
            "set the column to Text before typing, then type the size again",
        ));
    }
    letters_for_digits(clean, how)
}

/// Letters that were meant as figures: `59O`, `l2`.
fn letters_for_digits(clean: &str, how: ReadAs) -> Option<SizeError> {
    let mut named: Vec<&str> = Vec::new();
    let mended: String = clean
        .chars()
        .map(|c| match c {
            'O' | 'o' => ('0', "the letter O for the figure 0"),
            'l' => ('1', "the letter l for the figure 1"),
            'I' => ('1', "the letter I for the figure 1"),
            c => (c, ""),
        })
        .map(|(c, slip)| {
            if !slip.is_empty() && !named.contains(&slip) {
                named.push(slip);
            }
            c
        })
        .collect();
    // `foot` and `full` hold such letters too; they are only blamed where the mended text is a size.
    if named.is_empty() || read(&mended, how).is_err() {
        return None;
    }
    Some(no(
        &format!("It has {}.", named.join(" and ")),
        how,
        &format!("type {}", shorten(&mended)),
    ))
}

/// The fraction a spreadsheet turned into this date: `4-Mar` was 3/4, `16-Jul` 7/16, `Mar-64` and `1964-03-01` 3/64.
///
/// Month and day may stand either way round (3/4 becomes 4 March in one country and 3 April in another); the way that
/// gives a proper fraction on a tape is taken. `None` where the text is no date or the date no such fraction.
pub fn fraction_behind_date(text: &str) -> Option<String> {
    let (year, month, day) = date(text.trim())?;
    let proper = |t: u32, b: u32| t > 0 && t < b && b <= 64 && b.is_power_of_two();
    let mut ways = Vec::new();
    if let Some(day) = day {
        ways.extend([(month, day), (day, month)]);
    }
    // With the first of a month, or none, the second figure may have been taken for a year.
    if day.is_none() || day == Some(1) {
        ways.extend(year.map(|y| (month, y % 100)));
    }
    ways.into_iter()
        .find(|&(t, b)| proper(t, b))
        .map(|(t, b)| format!("{t}/{b}"))
}

/// Year, month and day of a text that is a date in one of a spreadsheet's usual forms.
fn date(text: &str) -> Option<(Option<u32>, u32, Option<u32>)> {
    let text = text.split(['T', ' ']).next().unwrap_or(text); // `2026-03-04 00:00:00`
    let parts: Vec<&str> = text.split(['-', '/', '.']).collect();
    if parts.len() > 3 || parts.iter().any(|p| p.is_empty() || p.len() > 9) {
        return None;
    }
    let month_name = |s: &str| {
        let s = s.to_ascii_lowercase();
        (s.len() >= 3)
            .then(|| MONTHS.iter().position(|m| s.starts_with(m)))
            .flatten()
            .map(|i| i as u32 + 1)
    };
    let figure = |s: &str| {
        (s.len() <= 4 && s.bytes().all(|b| b.is_ascii_digit()))
            .then(|| s.parse::<u32>().ok())
            .flatten()
    };
    let day_ok = |d: u32| (1..=31).contains(&d);
    match parts[..] {
        [a, b] => {
            if let (Some(d), Some(m)) = (figure(a), month_name(b)) {
                return day_ok(d).then_some((None, m, Some(d)));
            }
            let (m, n) = (month_name(a)?, figure(b)?);
            Some(if day_ok(n) {
                (Some(n), m, Some(n))
            } else {
                (Some(n), m, None)
            })
        }
        [a, b, c] => {
            if let (Some(d), Some(m), Some(y)) = (figure(a), month_name(b), figure(c)) {
                return day_ok(d).then_some((Some(y), m, Some(d)));
            }
            let (x, y, z) = (figure(a)?, figure(b)?, figure(c)?);
            if a.len() == 4 {
                return ((1..=12).contains(&y) && day_ok(z)).then_some((Some(x), y, Some(z)));
            }
            let numeric = (c.len() == 4 || c.len() == 2) && !text.contains(' ');
            // Month first or day first: whichever can be a date; both are tried as fractions anyway.
            match (numeric, (1..=12).contains(&x), (1..=12).contains(&y)) {
                (true, true, _) if day_ok(y) => Some((Some(z), x, Some(y))),
                (true, _, true) if day_ok(x) => Some((Some(z), y, Some(x))),
                _ => None,
            }
        }
        _ => None,
    }
}
