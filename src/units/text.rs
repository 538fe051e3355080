//! Tidying what she typed before it is read: every dash, quote mark, space and fraction sign that a keyboard, a phone or
//! a spreadsheet puts in, brought to one plain form; then cut into tokens. Knows characters only, not sizes.

/// A piece of a written size.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) enum Token {
    /// ASCII digits.
    Digits(String),
    /// ASCII letters.
    Word(String),
    /// One or more spaces.
    Space,
    /// `-`
    Dash,
    /// `/`
    Slash,
    /// `.`
    Dot,
    /// `,`
    Comma,
    /// `'`: feet
    Quote,
    /// `"`: inches
    DoubleQuote,
    /// `?`
    Question,
}

/// Vulgar fraction characters of Unicode (Number Forms and Latin-1), and what they stand for.
const FRACTIONS: &[(char, &str)] = &[
    ('\u{BC}', "1/4"),
    ('\u{BD}', "1/2"),
    ('\u{BE}', "3/4"),
    ('\u{2150}', "1/7"),
    ('\u{2151}', "1/9"),
    ('\u{2152}', "1/10"),
    ('\u{2153}', "1/3"),
    ('\u{2154}', "2/3"),
    ('\u{2155}', "1/5"),
    ('\u{2156}', "2/5"),
    ('\u{2157}', "3/5"),
    ('\u{2158}', "4/5"),
    ('\u{2159}', "1/6"),
    ('\u{215A}', "5/6"),
    ('\u{215B}', "1/8"),
    ('\u{215C}', "3/8"),
    ('\u{215D}', "5/8"),
    ('\u{215E}', "7/8"),
    ('\u{2189}', "0/3"),
];

/// Raised and lowered digits, as in the fraction ³⁄₈, and full-width ones.
fn small_digit(c: char) -> Option<char> {
    let digit = match c {
        '\u{2070}' => 0,
        '\u{B9}' => 1,
        '\u{B2}' => 2,
        '\u{B3}' => 3,
        '\u{2074}'..='\u{2079}' => c as u32 - 0x2070,
        '\u{2080}'..='\u{2089}' => c as u32 - 0x2080,
        _ => return None,
    };
    char::from_digit(digit, 10)
}

/// One plain form of her text: ASCII where there is one, spaces single, ends trimmed.
pub(super) fn plain(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut raised = false; // inside a run of raised digits
    for c in text.chars() {
        let last_is_digit = out.chars().next_back().is_some_and(|l| l.is_ascii_digit());
        if let Some(digit) = small_digit(c) {
            if last_is_digit && !raised {
                out.push(' '); // 15³⁄₈ is 15 and three eighths, not 153 eighths
            }
            out.push(digit);
            raised = true;
            continue;
        }
        let was_raised = raised;
        raised = false;
        if let Some((_, f)) = FRACTIONS.iter().find(|(v, _)| *v == c) {
            if last_is_digit {
                out.push(' ');
            }
            out.push_str(f);
            continue;
        }
        match c {
            '\u{215F}' => {
                if last_is_digit {
                    out.push(' ');
                }
                out.push_str("1/");
            }
            '\u{2044}' | '\u{2215}' | '\u{FF0F}' => {
                out.push('/');
                raised = was_raised;
            }
            '\u{2010}'..='\u{2015}' | '\u{2212}' | '\u{FE58}' | '\u{FE63}' | '\u{FF0D}' => {
                out.push('-');
            }
            '\u{2018}' | '\u{2019}' | '\u{201B}' | '\u{2032}' | '\u{2B9}' | '\u{2BC}'
            | '\u{B4}' | '`' | '\u{FF07}' => out.push('\''),
            '\u{201C}' | '\u{201D}' | '\u{201F}' | '\u{2033}' | '\u{2BA}' | '\u{3003}'
            | '\u{FF02}' => out.push('"'),
            '\u{FF10}'..='\u{FF19}' => {
                out.push(char::from_digit(c as u32 - 0xFF10, 10).expect("ten full-width digits"));
            }
            // A mark of no width that a web page or a file start leaves behind.
            '\u{200B}' | '\u{2060}' | '\u{FEFF}' => {}
            c if c.is_whitespace() => {
                if !out.is_empty() && !out.ends_with(' ') {
                    out.push(' ');
                }
            }
            c => out.push(c),
        }
    }
    let out = out.trim_end();
    out.replace("''", "\"")
}

/// Cuts tidied text into tokens; the first character that has no place in a size is the error.
pub(super) fn tokens(clean: &str) -> Result<Vec<Token>, char> {
    let mut out: Vec<Token> = Vec::new();
    for c in clean.chars() {
        let token = match c {
            '0'..='9' => {
                if let Some(Token::Digits(d)) = out.last_mut() {
                    d.push(c);
                    continue;
                }
                Token::Digits(c.to_string())
            }
            'a'..='z' | 'A'..='Z' => {
                if let Some(Token::Word(w)) = out.last_mut() {
                    w.push(c);
                    continue;
                }
                Token::Word(c.to_string())
            }
            ' ' => Token::Space,
            '-' => Token::Dash,
            '/' => Token::Slash,
            '.' => Token::Dot,
            ',' => Token::Comma,
            '\'' => Token::Quote,
            '"' => Token::DoubleQuote,
            '?' => Token::Question,
            other => return Err(other),
        };
        out.push(token);
    }
    Ok(out)
}

/// A character as it can be shown on any line: hidden ones by number.
pub(super) fn name_of(c: char) -> String {
    let hidden = c.is_control()
        || matches!(c, '\u{200C}'..='\u{200F}' | '\u{202A}'..='\u{202E}' | '\u{2066}'..='\u{2069}');
    if hidden {
        format!("The hidden mark U+{:04X}", c as u32)
    } else {
        format!("`{c}`")
    }
}
