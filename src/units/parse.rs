//! Reading a size as she writes it. One grammar everywhere; see the table in the README.
//! Owns the grammar; must not know which field a size is for. Works on whole numbers only.

use super::number::{Named, number, value};
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

pub(super) fn skip_spaces(tokens: &[Token], at: &mut usize) {
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

pub(super) fn too_long(how: ReadAs) -> SizeError {
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
