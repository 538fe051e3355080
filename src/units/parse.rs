//! Reading a size as she writes it. One grammar everywhere; see the table in the README.
//! Owns the grammar; must not know which field a size is for. Works on whole numbers only.

use super::text::{Token, plain, tokens};
use super::{Length, Unit};

/// How a bare number and a comma are to be read.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct ReadAs {
    /// What a number without a unit is in.
    pub unit: Unit,
    /// True where the file separates columns with something else than a comma and the job is in mm: then `590,5` is 590.5.
    pub decimal_comma: bool,
    /// True where `full`/`shy` are allowed (survey readings).
    pub full_shy: bool,
    /// True where a negative size has a meaning (a wall leaning in).
    pub negative: bool,
}

/// What she wrote, read.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Size {
    /// A size. `rounded` says that a decimal off the grid went to the nearest unit.
    Exact {
        /// The size.
        length: Length,
        /// True if a decimal off the grid was rounded to the nearest 1/80 000 mm.
        rounded: bool,
    },
    /// `3/4 nominal`: a name to be looked up, not a size.
    Nominal(Length),
    /// `?`: not measured yet.
    NotMeasured,
}

/// Why a text is no size: what was found wrong, what was expected, how to mend it. Carries no place.
#[derive(Clone, PartialEq, Eq, Debug, thiserror::Error)]
#[error("{why} Expected {expected}. Fix: {fix}")]
pub struct SizeError {
    /// One sentence.
    pub why: String,
    /// What would be right.
    pub expected: String,
    /// What to type instead.
    pub fix: String,
}

/// A number as written: whole digits, digits after the point, fraction.
#[derive(Default)]
struct Number {
    whole: Option<String>,
    decimals: Option<String>,
    fraction: Option<(u32, u32)>,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Named {
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

    fn from_word(word: &str) -> Option<Self> {
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

/// Reads any size the grammar allows.
pub fn parse_size(text: &str, how: ReadAs) -> Result<Size, SizeError> {
    let clean = plain(text);
    if clean.is_empty() {
        return Err(no(
            "Nothing is written here.",
            how,
            "type the size, or `?` if it is not measured yet",
        ));
    }
    if clean == "?" {
        return Ok(Size::NotMeasured);
    }
    match read(&clean, how) {
        Ok(size) => Ok(size),
        Err(plain_reason) => Err(super::slips::likely_slip(&clean, how).unwrap_or(plain_reason)),
    }
}

/// Reads a size that must be a plain length: no `?`, no `nominal`.
pub fn parse_length(text: &str, how: ReadAs) -> Result<Length, SizeError> {
    match parse_size(text, how)? {
        Size::Exact { length, .. } => Ok(length),
        Size::Nominal(_) => Err(no(
            "`nominal` is a name to look up and stands for a thickness only.",
            how,
            "type the size itself",
        )),
        Size::NotMeasured => Err(no(
            "`?` stands for a survey reading not taken yet; this size is needed.",
            how,
            "type the size itself",
        )),
    }
}

/// The grammar proper, on tidied text.
pub(super) fn read(clean: &str, how: ReadAs) -> Result<Size, SizeError> {
    let mut tokens = tokens(clean).map_err(|c| {
        no(
            &format!("{} has no place in a size.", super::text::name_of(c)),
            how,
            "type the size with figures and a unit only",
        )
    })?;
    let ending = take_ending(&mut tokens);
    if matches!(ending, Some(Ending::Full | Ending::Shy)) && !how.full_shy {
        return Err(no(
            "`full` and `shy` are for readings of the opening; here the saw needs a plain size.",
            how,
            "type the size to the mark you want, such as 70 57/64",
        ));
    }
    let mut at = 0;
    let minus = matches!(tokens.first(), Some(Token::Dash));
    if minus {
        at = 1;
        skip_spaces(&tokens, &mut at);
    }
    let (mut units, mut rounded) = lengths(&tokens, &mut at, how)?;
    if at < tokens.len() {
        return Err(trailing(&tokens[at..], how));
    }
    let hair = match how.unit {
        Unit::Inch => Length::INCH_64.units(),
        Unit::Mm => Length::MM.units() / 4,
    };
    match ending {
        Some(Ending::Full) => units += hair,
        Some(Ending::Shy) => units -= hair,
        Some(Ending::Nominal) | None => {}
    }
    if minus {
        units = -units;
    }
    if units < 0 && !how.negative {
        return Err(no(
            "A size below zero has no meaning here.",
            how,
            "type the size without the minus",
        ));
    }
    if units.abs() > Length::LIMIT.units() {
        return Err(too_long(how));
    }
    let length = Length::from_units(units);
    if ending == Some(Ending::Nominal) {
        return Ok(Size::Nominal(length));
    }
    rounded &= ending.is_none();
    Ok(Size::Exact { length, rounded })
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Ending {
    Full,
    Shy,
    Nominal,
}

fn take_ending(tokens: &mut Vec<Token>) -> Option<Ending> {
    let Some(Token::Word(word)) = tokens.last() else {
        return None;
    };
    let ending = match word.to_ascii_lowercase().as_str() {
        "full" => Ending::Full,
        "shy" => Ending::Shy,
        "nominal" | "nom" => Ending::Nominal,
        _ => return None,
    };
    tokens.pop();
    while tokens.last() == Some(&Token::Space) {
        tokens.pop();
    }
    Some(ending)
}

fn skip_spaces(tokens: &[Token], at: &mut usize) {
    while tokens.get(*at) == Some(&Token::Space) {
        *at += 1;
    }
}

/// One quantity with its unit, or feet followed by inches.
fn lengths(tokens: &[Token], at: &mut usize, how: ReadAs) -> Result<(i64, bool), SizeError> {
    let first = number(tokens, at, how)?;
    let Some(unit) = unit(tokens, at, how)? else {
        let bare = match how.unit {
            Unit::Inch => Named::Inch,
            Unit::Mm => Named::Mm,
        };
        return value(&first, bare, how);
    };
    let (feet, rounded) = value(&first, unit, how)?;
    let after = *at;
    skip_spaces(tokens, at);
    if unit != Named::Foot || *at == tokens.len() {
        return Ok((feet, rounded));
    }
    if tokens.get(*at) == Some(&Token::Dash) {
        *at += 1;
        skip_spaces(tokens, at);
    }
    if !matches!(tokens.get(*at), Some(Token::Digits(_) | Token::Dot)) {
        *at = after;
        return Ok((feet, rounded));
    }
    if first.decimals.is_some() || first.fraction.is_some() {
        return Err(no(
            "Inches follow feet that are not whole.",
            how,
            "type whole feet and inches, such as 2 ft 9 1/2 in",
        ));
    }
    let second = number(tokens, at, how)?;
    if let Some(u) = self::unit(tokens, at, how)?
        && u != Named::Inch
    {
        return Err(no(
            "After feet only inches can follow.",
            how,
            "use one unit, such as 27 1/2 in or 698.5 mm",
        ));
    }
    let (inches, rounded) = value(&second, Named::Inch, how)?;
    if inches >= Length::FOOT.units() {
        return Err(no(
            "After feet the inches must be fewer than 12.",
            how,
            "carry them into the feet, or type inches alone",
        ));
    }
    Ok((feet + inches, rounded))
}

/// `23`, `23 1/4`, `23-1/4`, `1/4`, `23.25`, `.75`, and `590,5` where the file allows it.
fn number(tokens: &[Token], at: &mut usize, how: ReadAs) -> Result<Number, SizeError> {
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

/// `"`, `'` or a word, after spaces; a point after a word belongs to it.
fn unit(tokens: &[Token], at: &mut usize, how: ReadAs) -> Result<Option<Named>, SizeError> {
    let mut ahead = *at;
    skip_spaces(tokens, &mut ahead);
    let named = match tokens.get(ahead) {
        Some(Token::Quote) => Named::Foot,
        Some(Token::DoubleQuote) => Named::Inch,
        Some(Token::Word(word)) => {
            let Some(named) = Named::from_word(word) else {
                return Err(no(
                    &format!("`{}` is no unit.", shorten(word)),
                    how,
                    "use in, ft, mm, cm or m, or no unit",
                ));
            };
            if tokens.get(ahead + 1) == Some(&Token::Dot) {
                ahead += 1;
            }
            named
        }
        _ => return Ok(None),
    };
    *at = ahead + 1;
    Ok(Some(named))
}

/// The quantity in units of 1/80 000 mm, and whether a decimal had to be rounded to one.
fn value(n: &Number, unit: Named, how: ReadAs) -> Result<(i64, bool), SizeError> {
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

fn trailing(rest: &[Token], how: ReadAs) -> SizeError {
    let word = match rest.iter().find(|t| **t != Token::Space) {
        Some(Token::Digits(d)) => {
            return no(
                &format!("A second number, {}, follows the first.", shorten(d)),
                how,
                "write one size in a cell, without spaces between thousands",
            );
        }
        Some(Token::Dash) => "a dash",
        Some(Token::Slash) => "a stroke",
        Some(Token::Dot) => "a point",
        Some(Token::Comma) => "a comma",
        Some(Token::Quote | Token::DoubleQuote) => "a second unit mark",
        Some(Token::Word(w)) => {
            return no(
                &format!("`{}` follows the size.", shorten(w)),
                how,
                "write the size alone",
            );
        }
        Some(Token::Question) => "a question mark",
        _ => "something",
    };
    no(
        &format!("The size is followed by {word}."),
        how,
        "write one size alone, such as 23 1/4",
    )
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

fn too_long(how: ReadAs) -> SizeError {
    no(
        "That is longer than 100 m.",
        how,
        "check the figure and its unit",
    )
}

/// An error with what would be right in her unit.
pub(super) fn no(why: &str, how: ReadAs, fix: &str) -> SizeError {
    SizeError {
        why: why.to_owned(),
        expected: match how.unit {
            Unit::Inch => "a size such as 23 1/4, 2' 3 1/2\" or 590 mm".into(),
            Unit::Mm => "a size such as 590, 59 cm or 23 1/4 in".into(),
        },
        fix: fix.to_owned(),
    }
}

/// The first few letters of her text, so that an error stays one line.
pub(super) fn shorten(text: &str) -> String {
    if text.chars().count() <= 24 {
        return text.to_owned();
    }
    text.chars().take(21).chain("...".chars()).collect()
}
