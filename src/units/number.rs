//! One number as she writes it, without its unit: whole, with a point or a comma, with a fraction; and what it comes to in a unit.

use super::parse::{ReadAs, SizeError, no, shorten, skip_spaces, too_long};
use super::text::Token;
use super::{Length, Unit};

/// A number as written: whole digits, digits after the point, fraction.
#[derive(Default)]
pub(super) struct Number {
    whole: Option<String>,
    pub(super) decimals: Option<String>,
    pub(super) fraction: Option<(u32, u32)>,
}

/// A unit by its name.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Named {
    Foot,
    Inch,
    Mm,
    Cm,
    M,
}

impl Named {
    /// In units of 1/80 000 mm.
    const fn units(self) -> i64 {
        match self {
            Self::Foot => Length::FOOT.units(),
            Self::Inch => Length::INCH.units(),
            Self::Mm => Length::MM.units(),
            Self::Cm => 10 * Length::MM.units(),
            Self::M => 1_000 * Length::MM.units(),
        }
    }

    pub(super) fn from_word(word: &str) -> Option<Self> {
        Some(match word.to_ascii_lowercase().as_str() {
            "ft" | "foot" | "feet" => Self::Foot,
            "in" | "ins" | "inch" | "inches" => Self::Inch,
            "mm" | "millimetre" | "millimetres" | "millimeter" | "millimeters" => Self::Mm,
            "cm" | "centimetre" | "centimetres" | "centimeter" | "centimeters" => Self::Cm,
            "m" | "metre" | "metres" | "meter" | "meters" => Self::M,
            _ => return None,
        })
    }
}

/// `23`, `23 1/4`, `23-1/4`, `1/4`, `23.25`, `.75`, and `590,5` where the file allows it.
pub(super) fn number(tokens: &[Token], at: &mut usize, how: ReadAs) -> Result<Number, SizeError> {
    let mut n = Number::default();
    if let Some(Token::Digits(d)) = tokens.get(*at) {
        if tokens.get(*at + 1) == Some(&Token::Slash) {
            n.fraction = Some(fraction(None, tokens, at, how)?);
            return Ok(n);
        }
        n.whole = Some(d.clone());
        *at += 1;
    } else if tokens.get(*at) != Some(&Token::Dot) {
        return Err(no(
            "There is no number where one was expected.",
            how,
            "type the size with figures",
        ));
    }
    match tokens.get(*at) {
        Some(Token::Dot) => {
            *at += 1;
            decimals(&mut n, tokens, at, how)?;
            let thousands = how.decimal_comma && looks_like_thousands(&n);
            if thousands {
                return Err(two_readings(&n, '.', how));
            }
        }
        Some(Token::Comma) => {
            *at += 1;
            decimals(&mut n, tokens, at, how)?;
            if !how.decimal_comma {
                return Err(comma(&n, how));
            }
            if looks_like_thousands(&n) {
                return Err(two_readings(&n, ',', how));
            }
        }
        _ => mixed(&mut n, tokens, at, how)?,
    }
    Ok(n)
}

/// The fraction after a whole number, parted by spaces or a dash.
fn mixed(n: &mut Number, tokens: &[Token], at: &mut usize, how: ReadAs) -> Result<(), SizeError> {
    let mut ahead = *at;
    skip_spaces(tokens, &mut ahead);
    let spaced = ahead > *at;
    if tokens.get(ahead) == Some(&Token::Dash) {
        ahead += 1;
        let after = ahead;
        skip_spaces(tokens, &mut ahead);
        if spaced != (ahead > after) {
            return Ok(()); // `23 -1/4` may be a sum; the caller names what is left over.
        }
    } else if !spaced {
        return Ok(());
    }
    if matches!(tokens.get(ahead), Some(Token::Digits(_)))
        && tokens.get(ahead + 1) == Some(&Token::Slash)
    {
        *at = ahead;
        n.fraction = Some(fraction(n.whole.as_deref(), tokens, at, how)?);
    }
    Ok(())
}

fn decimals(
    n: &mut Number,
    tokens: &[Token],
    at: &mut usize,
    how: ReadAs,
) -> Result<(), SizeError> {
    if let Some(Token::Digits(d)) = tokens.get(*at) {
        n.decimals = Some(d.clone());
        *at += 1;
    } else if n.whole.is_none() {
        return Err(no(
            "There is a point without figures.",
            how,
            "type the size with figures",
        ));
    }
    if matches!(
        tokens.get(*at),
        Some(Token::Dot | Token::Comma | Token::Slash)
    ) {
        return Err(no(
            "The number has more than one point, comma or stroke.",
            how,
            "type it without thousands marks and with one point, such as 1234.5",
        ));
    }
    Ok(())
}

/// `1,250` and, in a file where a comma is a point, `1.250`: thousands or thousandths?
fn looks_like_thousands(n: &Number) -> bool {
    n.decimals.as_ref().is_some_and(|d| d.len() == 3)
        && n.whole
            .as_ref()
            .is_some_and(|w| w.len() <= 3 && !w.starts_with('0'))
}

fn fraction(
    whole: Option<&str>,
    tokens: &[Token],
    at: &mut usize,
    how: ReadAs,
) -> Result<(u32, u32), SizeError> {
    let (Some(Token::Digits(top)), Some(Token::Digits(bottom))) =
        (tokens.get(*at), tokens.get(*at + 2))
    else {
        return Err(no(
            "A fraction is not finished.",
            how,
            "type both figures of it, such as 3/4",
        ));
    };
    let shown = match whole {
        Some(w) => format!("{w} {top}/{bottom}"),
        None => format!("{top}/{bottom}"),
    };
    let (Ok(t), Ok(b)) = (top.parse::<u32>(), bottom.parse::<u32>()) else {
        return Err(no(
            "The figures of the fraction are too long.",
            how,
            "type a fraction such as 3/4",
        ));
    };
    *at += 3;
    if b == 0 || t >= b {
        let why = if b == 0 {
            format!("{shown} divides by nought.")
        } else {
            format!("The fraction {t}/{b} is not less than one.")
        };
        let turned = turned_denominator(t, b).map(|b| match whole {
            Some(w) => format!("{w} {t}/{b}"),
            None => format!("{t}/{b}"),
        });
        let fix = if let Some(turned) = turned {
            format!(
                "type {turned} if two figures changed places; else the whole inches and a fraction below one"
            )
        } else if b == 0 || b > 128 || whole.is_some() {
            "type the whole inches and a fraction below one".to_owned()
        } else {
            let (w, r) = (t / b, t % b);
            let better = if r == 0 {
                w.to_string()
            } else {
                format!("{w} {r}/{b}")
            };
            format!(
                "type {better} if that is the size (board names such as 5/4 are no sizes; type what it measures)"
            )
        };
        return Err(no(&why, how, &fix));
    }
    if !b.is_power_of_two() || b > 128 {
        let w = whole.unwrap_or("");
        let (low, high) = nearest_sixteenths(w, t, b);
        return Err(SizeError {
            why: format!("{shown} is not on a tape."),
            expected: "halves, quarters, 8ths, 16ths, 32nds or 64ths".into(),
            fix: match turned_denominator(t, b) {
                Some(b) => format!(
                    "type {} if two figures changed places; else {low} or {high}, whichever is nearer on your tape",
                    format!("{w} {t}/{b}").trim_start()
                ),
                None => format!("type {low} or {high}, whichever is nearer on your tape"),
            },
        });
    }
    Ok((t, b))
}

/// 16, 32 or 64 where its two figures were typed the wrong way round: 15/61 for 15/16.
fn turned_denominator(t: u32, b: u32) -> Option<u32> {
    let turned = b % 10 * 10 + b / 10;
    ((10..100).contains(&b) && [16, 32, 64].contains(&turned) && t < turned && t > 0)
        .then_some(turned)
}

/// The 1/16 in marks below and above a fraction that is on no tape.
fn nearest_sixteenths(whole: &str, t: u32, b: u32) -> (String, String) {
    let whole: u64 = whole.parse().unwrap_or(0).min(1_000_000);
    let below = u64::from(t) * 16 / u64::from(b);
    let mark = |sixteenths: u64| {
        let (w, mut n, mut d) = (whole + sixteenths / 16, sixteenths % 16, 16);
        while n > 0 && n % 2 == 0 {
            (n, d) = (n / 2, d / 2);
        }
        match (w, n) {
            (w, 0) => w.to_string(),
            (0, n) => format!("{n}/{d}"),
            (w, n) => format!("{w} {n}/{d}"),
        }
    };
    (mark(below), mark(below + 1))
}

/// The quantity in units of 1/80 000 mm, and whether a decimal had to be rounded to one.
pub(super) fn value(n: &Number, unit: Named, how: ReadAs) -> Result<(i64, bool), SizeError> {
    let whole = n.whole.as_deref().unwrap_or("").trim_start_matches('0');
    let decimals = n.decimals.as_deref().unwrap_or("").trim_end_matches('0');
    // 100 m is 8 whole digits of a millimetre at most; 25 places are finer than any tape by far. Both keep i128 safe.
    if whole.len() > 9 {
        return Err(too_long(how));
    }
    if decimals.len() > 20 {
        return Err(no(
            "The number has more decimals than any rule can show.",
            how,
            "type four decimals or fewer",
        ));
    }
    let per = i128::from(unit.units());
    let digits = |s: &str| {
        s.bytes()
            .fold(0_i128, |sum, d| sum * 10 + i128::from(d - b'0'))
    };
    let mut units = digits(whole) * per;
    let mut rounded = false;
    if !decimals.is_empty() {
        let ten = 10_i128.pow(decimals.len() as u32);
        let part = digits(decimals) * per;
        rounded = part % ten != 0;
        units += (part + ten / 2) / ten;
    }
    if let Some((t, b)) = n.fraction {
        units += per * i128::from(t) / i128::from(b); // every unit is a whole multiple of 128ths
    }
    match i64::try_from(units) {
        Ok(u) if u <= Length::LIMIT.units() => Ok((u, rounded)),
        _ => Err(too_long(how)),
    }
}

fn comma(n: &Number, how: ReadAs) -> SizeError {
    let (w, d) = (
        n.whole.as_deref().unwrap_or("0"),
        n.decimals.as_deref().unwrap_or(""),
    );
    let (w, d) = (shorten(w), shorten(d));
    // 1,8 for 1/8: the comma lies beside the stroke on many keyboards.
    let proper = |t: u32, b: u32| t > 0 && t < b && b <= 64 && b.is_power_of_two();
    let fraction = (w.parse().ok().zip(d.parse().ok())).is_some_and(|(t, b)| proper(t, b));
    let fix = if d.len() == 3 {
        format!("type {w}.{d} or {w}{d}, whichever you mean")
    } else if fraction && how.unit == Unit::Inch {
        format!("type {w}/{d} or {w}.{d}, whichever you mean")
    } else {
        format!("type {w}.{d}")
    };
    no(
        "Comma in a number; it could be a point or part thousands, and is never guessed.",
        how,
        &fix,
    )
}

fn two_readings(n: &Number, mark: char, how: ReadAs) -> SizeError {
    let (w, d) = (
        n.whole.as_deref().unwrap_or("0"),
        n.decimals.as_deref().unwrap_or(""),
    );
    no(
        &format!("{w}{mark}{d} could be {w}{d} or a little over {w}, and is never guessed."),
        how,
        &format!("type {w}{d}, or {w}{mark}{d}0 for the small one"),
    )
}
