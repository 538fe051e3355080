//! Values that are not sizes: counts, money, rates, weights, areas, amounts, dates, yes or no. Owns how each is written;
//! must not know which field it is for. All arithmetic is in whole numbers with checked overflow.
//!
//! Factors: 1 lb = 453.592 37 g, 1 US gallon = 231 cubic inches = 3 785 411.784 mm3, 1 in = 25.4 mm, all exact by
//! definition (NIST Handbook 44, appendix C).

use super::report::Wrong;
use super::rescue::{blank_trim, date_rescue, hand_slip};
use crate::model::{Edge, Hours, NeedUnit};
use crate::units::{Cents, Length, PerCent, ReadAs, Size, parse_size};
use jiff::civil::Date;

/// Most pieces of one list.
pub(crate) const MOST_PIECES: u32 = 100_000;
/// Largest sum of money a field may name, in cents: a thousand million whole ones.
const MOST_CENTS: i64 = 100_000_000_000;

/// A plain decimal as a whole number of `1/10^places`, exactly; `None` if it is no such number.
fn decimal(text: &str, places: u32) -> Option<i64> {
    let (sign, digits) = text.strip_prefix('-').map_or((1, text), |rest| (-1, rest));
    let (whole, part) = digits.split_once('.').unwrap_or((digits, ""));
    let figures = |s: &str| s.bytes().all(|b| b.is_ascii_digit());
    if (whole.is_empty() && part.is_empty()) || !figures(whole) || !figures(part) {
        return None;
    }
    let part = part.trim_end_matches('0');
    if part.len() > places as usize || whole.len() > 15 {
        return None;
    }
    let whole: i64 = if whole.is_empty() {
        0
    } else {
        whole.parse().ok()?
    };
    let scale = 10_i64.checked_pow(places)?;
    let part: i64 = if part.is_empty() {
        0
    } else {
        part.parse::<i64>()
            .ok()?
            .checked_mul(10_i64.checked_pow(places - part.len() as u32)?)?
    };
    whole
        .checked_mul(scale)?
        .checked_add(part)?
        .checked_mul(sign)
}

fn no_good(text: &str, expected: &str) -> Wrong {
    hand_slip(text, expected).unwrap_or_else(|| {
        Wrong::new(
            format!("{text:?} is not {expected}."),
            expected,
            format!("type {expected}."),
        )
    })
}

/// A whole number from `least` up.
pub(crate) fn count(text: &str, least: u32) -> Result<u32, Wrong> {
    let expected = if least == 0 {
        "a whole number such as 0 or 2"
    } else {
        "a whole number such as 1 or 2"
    };
    let text = blank_trim(text);
    if let Some(wrong) = date_rescue(text, expected) {
        return Err(wrong);
    }
    let Some(thousandths) = decimal(text, 3) else {
        return Err(no_good(text, expected));
    };
    if thousandths % 1000 != 0 {
        return Err(Wrong::new(
            "A part of one cannot be counted.",
            expected,
            "type a whole number.",
        ));
    }
    let n = thousandths / 1000;
    if n < i64::from(least) {
        let fix = if n < 0 {
            "take off the minus sign."
        } else {
            "type 1 or more, or take the row out."
        };
        return Err(Wrong::new(
            format!("This is less than {least}."),
            expected,
            fix,
        ));
    }
    u32::try_from(n)
        .ok()
        .filter(|n| *n <= MOST_PIECES)
        .ok_or_else(|| {
            Wrong::new(
                format!("This is more than {MOST_PIECES}, the most one job may have."),
                expected,
                "check the figure; split the job if it is right.",
            )
        })
}

/// An amount of money: plain, two decimals, no sign. `comma` = a decimal comma is clear in this file.
pub(crate) fn money(text: &str, comma: bool) -> Result<Cents, Wrong> {
    let expected = "a price such as 38.50";
    let text = blank_trim(text);
    if let Some(wrong) = date_rescue(text, expected) {
        return Err(wrong);
    }
    let bare = text.trim_start_matches(['$', '\u{20AC}', '\u{A3}']).trim();
    if bare != text {
        return Err(Wrong::new(
            "Money is written without a sign.",
            expected,
            format!("type {bare}."),
        ));
    }
    let pointed = match text.split_once(',') {
        Some((whole, part)) if comma && part.len() <= 2 => format!("{whole}.{part}"),
        _ => text.to_owned(),
    };
    let Some(cents) = decimal(&pointed, 2) else {
        let too_fine = decimal(&pointed, 9).is_some();
        return Err(if too_fine {
            Wrong::new(
                "Money has two decimals at most.",
                expected,
                "round it to the cent.",
            )
        } else {
            no_good(text, expected)
        });
    };
    if cents < 0 {
        return Err(Wrong::new(
            "A price cannot be below zero.",
            expected,
            "take off the minus sign.",
        ));
    }
    if cents > MOST_CENTS {
        return Err(Wrong::new(
            "This is more than a thousand million.",
            expected,
            "check the figure.",
        ));
    }
    Ok(Cents(cents))
}

/// A rate such as `7.25%`, between nothing and `most` hundredths of a per cent.
pub(crate) fn per_cent(text: &str, most: i64) -> Result<PerCent, Wrong> {
    let expected = format!("a rate from 0% to {}%, such as 7.25%", most / 100);
    let text = blank_trim(text);
    let sign = text.strip_suffix('%').map(str::trim_end);
    let Some(rate) = decimal(sign.unwrap_or(text), 2) else {
        let finer = decimal(sign.unwrap_or(text), 9).is_some();
        return Err(if finer && sign.is_some() {
            Wrong::new(
                "A rate has two decimals at most.",
                expected,
                "round it, e.g. 7.25%.",
            )
        } else if finer {
            Wrong::new(
                "It is not clear if this is a per cent or a share of one.",
                expected,
                "type it with the % sign.",
            )
        } else {
            no_good(text, &expected)
        });
    };
    if sign.is_none() && (1..100).contains(&rate) {
        let fix = format!("type {rate}% if it is a share of one, or {text}% if it is a per cent.");
        return Err(Wrong::new(
            "It is not clear if this is a per cent or a share of one.",
            expected,
            fix,
        ));
    }
    if !(0..=most).contains(&rate) {
        return Err(Wrong::new(
            "The rate is outside what can be.",
            expected,
            "check the figure.",
        ));
    }
    Ok(PerCent(rate))
}

/// Yes or no.
pub(crate) fn yes_no(text: &str) -> Result<bool, Wrong> {
    match blank_trim(text).to_lowercase().as_str() {
        "yes" | "y" | "true" | "1" | "x" => Ok(true),
        "no" | "n" | "false" | "0" => Ok(false),
        other => Err(Wrong::new(
            format!("{other:?} is neither yes nor no."),
            "yes or no",
            "type yes or no.",
        )),
    }
}

/// A date as 2026-07-08.
pub(crate) fn date(text: &str) -> Result<Date, Wrong> {
    let text = blank_trim(text);
    let day = text.split([' ', 'T']).next().unwrap_or(text);
    let shaped = day.len() == 10 && day.bytes().filter(|b| *b == b'-').count() == 2;
    day.parse::<Date>().ok().filter(|_| shaped).ok_or_else(|| {
        let expected = "a date as year-month-day, such as 2026-07-08 for the eighth of July";
        if let Some(padded) = padded(day) {
            return Wrong::new(
                "A date has four figures for the year and two each for month and day.",
                expected,
                format!("type {padded}."),
            );
        }
        if shaped && day.bytes().all(|b| b == b'-' || b.is_ascii_digit()) {
            return Wrong::new(
                "The calendar has no such day.",
                expected,
                "check the month (01 to 12) and the day.",
            );
        }
        Wrong::new(
            "This is no date, or one that can be read two ways.",
            expected,
            "type the year, the month and the day as figures, with hyphens between.",
        )
    })
}

/// `2026-7-8` as `2026-07-08`, where that is a day.
fn padded(day: &str) -> Option<Date> {
    let mut parts = day.split('-').map(str::parse::<i16>);
    let mut next = || parts.next()?.ok();
    let (year, month, of) = (next()?, next()?, next()?);
    if parts.next().is_some() || year < 1000 || day.len() == 10 {
        return None;
    }
    Date::new(year, i8::try_from(month).ok()?, i8::try_from(of).ok()?).ok()
}

/// Splits `350 sq ft` into `350` and `sq ft`.
fn number_and_unit(text: &str) -> (&str, String) {
    let text = blank_trim(text);
    let at = text
        .find(|c: char| !(c.is_ascii_digit() || ".-,".contains(c)))
        .unwrap_or(text.len());
    let unit = text[at..]
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
        .to_lowercase();
    (text[..at].trim(), unit.trim_end_matches('.').to_owned())
}

/// `n / 10^places` times a factor, rounded half up; `None` where it is too large.
fn scaled(n: i64, places: u32, over: i128, under: i128) -> Option<i64> {
    let scale = under.checked_mul(10_i128.checked_pow(places)?)?;
    i64::try_from((i128::from(n).checked_mul(over)? * 2 + scale).div_euclid(scale * 2)).ok()
}

/// A weight in grams: `850 lb`, `40 kg`.
pub(crate) fn weight(text: &str) -> Result<i64, Wrong> {
    let expected = "a weight with its unit, such as 86 lb or 39 kg";
    let (number, unit) = number_and_unit(text);
    let n = decimal(number, 4).ok_or_else(|| no_good(text, expected))?;
    let (over, under) = match unit.as_str() {
        "lb" | "lbs" | "pound" | "pounds" => (45_359_237, 100_000),
        "oz" | "ounce" | "ounces" => (45_359_237, 1_600_000),
        "kg" => (1000, 1),
        "g" => (1, 1),
        "" => {
            let fix = format!("type {number} lb or {number} kg.");
            return Err(Wrong::new("The unit is missing.", expected, fix));
        }
        _ => {
            return Err(Wrong::new(
                format!("{unit:?} is no unit of weight known here."),
                expected,
                "use lb, oz, kg or g.",
            ));
        }
    };
    positive(scaled(n, 4, over, under), expected)
}

/// An area in square millimetres: `350 sq ft`, `32 m2`.
pub(crate) fn area(text: &str) -> Result<i64, Wrong> {
    let expected = "an area with its unit, such as 350 sq ft or 32 m2";
    let (number, unit) = number_and_unit(text);
    let n = decimal(number, 4).ok_or_else(|| no_good(text, expected))?;
    let (over, under) = match unit.as_str() {
        "sq ft" | "sqft" | "ft2" | "ft\u{B2}" | "square feet" => (929_030_400, 10_000),
        "sq m" | "m2" | "m\u{B2}" | "square metres" | "square meters" => (1_000_000, 1),
        "" => {
            let fix = format!("type {number} sq ft or {number} m2.");
            return Err(Wrong::new("The unit is missing.", expected, fix));
        }
        _ => {
            return Err(Wrong::new(
                format!("{unit:?} is no unit of area known here."),
                expected,
                "use sq ft or m2.",
            ));
        }
    };
    positive(scaled(n, 4, over, under), expected)
}

fn positive(value: Option<i64>, expected: &str) -> Result<i64, Wrong> {
    match value {
        Some(v) if v > 0 && v < 1_000_000_000_000_000 => Ok(v),
        Some(v) if v <= 0 => Err(Wrong::new(
            "It must be more than nothing.",
            expected,
            "check the figure.",
        )),
        _ => Err(Wrong::new(
            "The figure is too large.",
            expected,
            "check the figure.",
        )),
    }
}

/// What a pack holds, what is in hand, what is needed: `112`, `25 ft`, `0.82 gal`.
pub(crate) fn amount(text: &str, read: ReadAs) -> Result<NeedUnit, Wrong> {
    let expected = "an amount such as 24, 25 ft, 1 gal or 16 oz";
    let text = blank_trim(text);
    if let Some(wrong) = date_rescue(text, expected) {
        return Err(wrong);
    }
    let (number, unit) = number_and_unit(text);
    let microlitres = |over, under| {
        decimal(number, 4)
            .ok_or_else(|| no_good(text, expected))
            .and_then(|n| not_negative(scaled(n, 4, over, under), expected))
            .map(NeedUnit::Volume)
    };
    match unit.as_str() {
        "" | "pcs" | "pieces" | "each" | "x" => {
            let n = decimal(number, 3).ok_or_else(|| no_good(text, expected))?;
            not_negative(Some(n), expected).map(NeedUnit::Count)
        }
        "gal" | "gallon" | "gallons" | "us gal" => microlitres(3_785_411_784, 1_000),
        "qt" | "quart" | "quarts" => microlitres(946_352_946, 1_000),
        "pt" | "pint" | "pints" => microlitres(473_176_473, 1_000),
        // Glue, caulk and paint are sold by the fluid ounce, and the word is left out on the label.
        "fl oz" | "floz" | "oz" | "ounce" | "ounces" => microlitres(29_573_529_562, 1_000_000),
        "l" | "litre" | "litres" | "liter" | "liters" => microlitres(1_000_000, 1),
        "ml" | "millilitres" | "milliliters" => microlitres(1_000, 1),
        _ => match parse_size(text, read) {
            Ok(Size::Exact { length, .. })
                if length >= Length::ZERO && length <= Length::LIMIT * 100 =>
            {
                Ok(NeedUnit::Run(length))
            }
            Ok(_) => Err(no_good(text, expected)),
            Err(e) => Err(hand_slip(text, expected).unwrap_or_else(|| Wrong {
                expected: expected.into(),
                ..e.into()
            })),
        },
    }
}

fn not_negative(value: Option<i64>, expected: &str) -> Result<i64, Wrong> {
    match value {
        Some(v) if (0..1_000_000_000_000_000).contains(&v) => Ok(v),
        Some(v) if v < 0 => Err(Wrong::new(
            "An amount cannot be below zero.",
            expected,
            "take off the minus sign.",
        )),
        _ => Err(Wrong::new(
            "The figure is too large.",
            expected,
            "check the figure.",
        )),
    }
}

/// Hours of work: `43`, `1.5 h`, `30 min`.
pub(crate) fn hours(text: &str) -> Result<Hours, Wrong> {
    let expected = "hours such as 43 or 1.5, or minutes such as 30 min";
    let (number, unit) = number_and_unit(text);
    let n = decimal(number, 4).ok_or_else(|| no_good(text, expected))?;
    let hundredths = match unit.as_str() {
        "" | "h" | "hr" | "hrs" | "hour" | "hours" => scaled(n, 4, 100, 1),
        "min" | "minutes" | "minute" => scaled(n, 4, 100, 60),
        _ => return Err(no_good(text, expected)),
    };
    match hundredths {
        Some(h) if (0..=10_000_000).contains(&h) => Ok(Hours(h)),
        _ => Err(Wrong::new(
            "The hours are outside what can be.",
            expected,
            "check the figure.",
        )),
    }
}

/// Sizes with an x between them: `84 x 23 x 4`, `48x48`.
pub(crate) fn sizes(text: &str, many: usize, read: ReadAs) -> Result<Vec<Length>, Wrong> {
    let example = if many == 3 { "84 x 23 x 4" } else { "48 x 96" };
    let expected = format!("{many} sizes with an x between them, such as {example}");
    let parts: Vec<&str> = text.split(['x', 'X', '\u{D7}']).map(blank_trim).collect();
    if parts.len() != many {
        let why = format!("There are {} sizes here, not {many}.", parts.len());
        return Err(Wrong::new(why, expected, format!("type it as {example}.")));
    }
    parts
        .iter()
        .map(|part| match parse_size(part, read) {
            Ok(Size::Exact { length, .. }) if length.is_positive() && length <= Length::LIMIT => {
                Ok(length)
            }
            Ok(_) => Err(no_good(part, &expected)),
            Err(e) => Err(date_rescue(part, &expected)
                .or_else(|| hand_slip(part, &expected))
                .unwrap_or_else(|| e.into())),
        })
        .collect()
}

/// Edges of a sheet joined by +: `x0+y0`.
pub(crate) fn edges(text: &str) -> Result<Vec<Edge>, Wrong> {
    let expected = "edges such as x0+y0 (x0 and x1 are the ends, y0 and y1 the long edges)";
    let mut found = Vec::new();
    for word in text
        .split(['+', ',', ' ', ';'])
        .map(blank_trim)
        .filter(|w| !w.is_empty())
    {
        match word.to_lowercase().as_str() {
            "x0" => found.push(Edge::X0),
            "x1" => found.push(Edge::X1),
            "y0" => found.push(Edge::Y0),
            "y1" => found.push(Edge::Y1),
            "all" => found.extend([Edge::X0, Edge::X1, Edge::Y0, Edge::Y1]),
            "none" => {}
            _ => {
                let why = format!("{word:?} is no edge.");
                return Err(Wrong::new(
                    why,
                    expected,
                    "name edges as x0, x1, y0, y1, joined by +.",
                ));
            }
        }
    }
    found.sort_unstable();
    found.dedup();
    Ok(found)
}
