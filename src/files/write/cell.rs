//! One cell of a table we write, by RFC 4180, and safe to open in a spreadsheet.

use std::borrow::Cow;

/// A cell that a spreadsheet would run as a sum (it starts with `=`, `+`, `-`, `@`, a tab or a line end) is led by an
/// apostrophe and so shown as text. Plain numbers, a negative one too, stay numbers.
pub fn safe_cell(text: &str) -> Cow<'_, str> {
    let risky = text.starts_with([
        '=', '+', '-', '@', '\t', '\r', '\n', '\u{FF1D}', '\u{FF0B}', '\u{FF0D}', '\u{FF20}',
    ]);
    let rest = text.strip_prefix('-').unwrap_or(text);
    let number = rest.starts_with(|c: char| c.is_ascii_digit())
        && rest.chars().all(|c| c.is_ascii_digit() || c == '.');
    if risky && !number {
        Cow::Owned(format!("'{text}"))
    } else {
        Cow::Borrowed(text)
    }
}

/// A cell in quotes where it needs them.
pub(super) fn quoted(text: &str, separator: char) -> Cow<'_, str> {
    let needs =
        text.contains([separator, '"', '\r', '\n']) || text.starts_with(' ') || text.ends_with(' ');
    if needs {
        Cow::Owned(format!("\"{}\"", text.replace('"', "\"\"")))
    } else {
        Cow::Borrowed(text)
    }
}

/// A row of a table we write: cells made safe and quoted, no line end.
pub fn csv_line<S: AsRef<str>>(cells: &[S], separator: char) -> String {
    let mut line = String::new();
    for (i, cell) in cells.iter().enumerate() {
        if i > 0 {
            line.push(separator);
        }
        line.push_str(&quoted(&safe_cell(cell.as_ref()), separator));
    }
    line
}

#[cfg(test)]
mod tests {
    use super::*;

    /// RFC 4180, section 2, rules 5 to 7.
    #[test]
    fn quotes_follow_the_standard() {
        assert_eq!(
            csv_line(&["a", "b,c", "3/4\"", "x\r\ny"], ','),
            "a,\"b,c\",\"3/4\"\"\",\"x\r\ny\""
        );
        assert_eq!(csv_line(&["a;b", "c,d"], ';'), "\"a;b\";c,d");
    }

    #[test]
    fn sums_become_text_and_numbers_stay() {
        for sum in [
            "=1+1",
            "+A1",
            "@SUM(A1)",
            "-2+3",
            "=HYPERLINK(\"x\")",
            "\t=1",
            "-",
        ] {
            assert!(safe_cell(sum).starts_with('\''), "{sum}");
        }
        for plain in ["-12.5", "12", "L1", "", "23 1/4", "a=b"] {
            assert_eq!(safe_cell(plain), plain);
        }
    }
}
