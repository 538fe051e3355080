//! The terminal: what may be written where, names shown but never obeyed, lines wrapped at 96 columns.

use crate::model::is_hidden;
use std::io::{self, IsTerminal, Write};
use unicode_width::{UnicodeWidthChar, UnicodeWidthStr};

/// Widest line printed.
pub(crate) const WIDE: usize = 96;

/// Standard output and error of one run.
pub(crate) struct Screen {
    /// `--plain`
    pub(crate) plain: bool,
    /// `--quiet`
    pub(crate) quiet: bool,
    closed: bool,
    failed: Option<io::Error>,
    bold_out: bool,
    bold_err: bool,
    progress: bool,
    shown: bool,
}

impl Screen {
    pub(crate) fn new(plain: bool, quiet: bool) -> Self {
        let colour = !plain && std::env::var_os("NO_COLOR").is_none_or(|v| v.is_empty());
        let terminal = io::stderr().is_terminal();
        Self {
            plain,
            quiet,
            closed: false,
            failed: None,
            bold_out: colour && io::stdout().is_terminal(),
            bold_err: colour && terminal,
            progress: terminal && !quiet,
            shown: false,
        }
    }

    /// Text on standard output, as it is. A reader that went away (`| head`) ends the printing, not the work.
    pub(crate) fn out(&mut self, text: &str) {
        if self.closed {
            return;
        }
        self.clear_progress();
        let mut out = io::stdout().lock();
        if let Err(e) = out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
            self.closed = true;
            if e.kind() != io::ErrorKind::BrokenPipe {
                self.failed = Some(e);
            }
        }
    }

    /// Text on standard error; nobody is told where that cannot be written.
    pub(crate) fn err(&mut self, text: &str) {
        self.clear_progress();
        let _ = io::stderr().lock().write_all(text.as_bytes());
    }

    /// What went wrong with standard output, if anything but a closed pipe.
    pub(crate) fn take_failure(&mut self) -> Option<io::Error> {
        self.failed.take()
    }

    /// A word that stands out on a terminal; never the only sign of anything.
    pub(crate) fn strong(&self, text: &str, on_err: bool) -> String {
        let bold = if on_err { self.bold_err } else { self.bold_out };
        if bold {
            format!("\u{1b}[1m{text}\u{1b}[0m")
        } else {
            text.to_owned()
        }
    }

    /// One line that replaces the one before, on a terminal only.
    pub(crate) fn progress(&mut self, text: &str) {
        if !self.progress {
            return;
        }
        let mut err = io::stderr().lock();
        let line = if self.plain {
            format!("{text}\n")
        } else {
            self.shown = true;
            format!("\r\u{1b}[K{text}")
        };
        let _ = err.write_all(line.as_bytes()).and_then(|()| err.flush());
    }

    fn clear_progress(&mut self) {
        if self.shown {
            self.shown = false;
            let _ = io::stderr().lock().write_all(b"\r\x1b[K");
        }
    }
}

/// Her text with marks that a terminal would obey shown by number: control marks, and those that turn the direction.
pub(crate) fn safe(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '\t' => out.push(' '),
            c if is_hidden(c) => out.push_str(&format!("<U+{:04X}>", c as u32)),
            c => out.push(c),
        }
    }
    out
}

/// Columns a text takes.
pub(crate) fn width(text: &str) -> usize {
    text.width()
}

/// Text wrapped to `wide` columns; a word longer than that is broken.
pub(crate) fn wrap(text: &str, wide: usize) -> Vec<String> {
    let wide = wide.max(8);
    let mut lines = vec![String::new()];
    for word in text.split_whitespace() {
        let line = lines.last_mut().expect("there is always a line");
        if line.is_empty() {
            line.push_str(word);
        } else if line.width() + 1 + word.width() <= wide {
            line.push(' ');
            line.push_str(word);
        } else {
            lines.push(word.to_owned());
        }
        while lines.last().is_some_and(|l| l.width() > wide) {
            let long = lines.pop().expect("just looked at");
            let mut taken = 0;
            let at = long
                .char_indices()
                .find(|(_, c)| {
                    taken += c.width().unwrap_or(0);
                    taken > wide
                })
                .map_or(long.len(), |(i, _)| i);
            lines.push(long[..at].to_owned());
            lines.push(long[at..].to_owned());
        }
    }
    lines
}

/// A paragraph set in by `indent` columns; its first line starts with `lead`, or at the left where that is empty.
pub(crate) fn paragraph(lead: &str, text: &str, indent: usize) -> String {
    let mut out = String::new();
    let first = width(lead).max(indent);
    for (i, line) in wrap(text, WIDE - first).iter().enumerate() {
        if i == 0 {
            out.push_str(lead);
            if !lead.is_empty() {
                out.extend(std::iter::repeat_n(' ', indent.saturating_sub(width(lead))));
            }
        } else {
            out.extend(std::iter::repeat_n(' ', indent));
        }
        out.push_str(line);
        out.push('\n');
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_are_shown_and_not_obeyed() {
        assert_eq!(
            safe("a\u{1b}[2Jb\u{202e}c\n"),
            "a<U+001B>[2Jb<U+202E>c<U+000A>"
        );
        assert_eq!(safe("Überlänge 木"), "Überlänge 木");
    }

    #[test]
    fn lines_stay_within_the_width() {
        let text = "a word ".repeat(40) + &"x".repeat(300) + " 木木木木木木木木木木木木";
        for wide in [8, 20, 96] {
            assert!(wrap(&text, wide).iter().all(|l| width(l) <= wide));
        }
        assert_eq!(wrap("", 20), [""]);
    }
}
