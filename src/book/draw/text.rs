//! Text on the page: taking it apart into runs (fractions are drawn with raised and lowered figures), measuring and
//! wrapping it. Must not know about pages.
//!
//! Legibility rules held here: whole figures and capitals at least 2.5 mm, fraction figures at least 2.0 mm.

use super::font::{CAP_SHARE, Weight, advance, clean, readable};
use super::list::{Area, Point};

/// Least height of capitals and whole figures, in millimetres.
pub(crate) const LEAST_SIZE: f64 = 2.5;
/// Least height of the figures of a fraction, in millimetres.
pub(crate) const LEAST_FRACTION: f64 = 2.0;

/// Which point of the text stands at its place. Always on the baseline.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub enum Anchor {
    /// Its start.
    #[default]
    Left,
    /// Its middle.
    Centre,
    /// Its end.
    Right,
}

/// Which way it reads (ISO 129-1: from the foot of the page or from the right).
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub enum Turn {
    /// From the foot.
    #[default]
    Level,
    /// From the right: upward.
    Up,
}

/// A stretch of letters of one size on one line.
#[derive(Clone, PartialEq, Debug)]
pub struct Run {
    /// From the start of the text, along it.
    pub along: f64,
    /// Above the baseline; below it if negative.
    pub raise: f64,
    /// Height of capitals.
    pub size: f64,
    /// What it says; every letter is in the font.
    pub text: String,
    /// How long it is.
    pub width: f64,
}

/// A line of text at its place.
#[derive(Clone, PartialEq, Debug)]
pub struct Text {
    /// Where the anchor stands, on the baseline.
    pub at: Point,
    /// Height of capitals.
    pub size: f64,
    /// Weight.
    pub weight: Weight,
    /// Which point stands at `at`.
    pub anchor: Anchor,
    /// Which way it reads.
    pub turn: Turn,
    /// Its runs.
    pub runs: Vec<Run>,
    /// The whole of it, as cleaned.
    pub plain: String,
    /// Letters the font lacks.
    pub missing: Vec<char>,
}

impl Text {
    /// Takes a line of text apart. A size below the least is raised to it: nothing is shrunk to fit.
    pub fn new(at: Point, size: f64, weight: Weight, text: &str) -> Self {
        let size = size.max(LEAST_SIZE);
        let (plain, missing) = clean(text);
        let runs = runs_of(&plain, size, weight);
        Self {
            at,
            size,
            weight,
            anchor: Anchor::Left,
            turn: Turn::Level,
            runs,
            plain,
            missing,
        }
    }
    /// With another anchor.
    #[must_use]
    pub fn anchored(mut self, anchor: Anchor) -> Self {
        self.anchor = anchor;
        self
    }
    /// Reading another way.
    #[must_use]
    pub fn turned(mut self, turn: Turn) -> Self {
        self.turn = turn;
        self
    }
    /// How long it is.
    pub fn width(&self) -> f64 {
        self.runs.last().map_or(0.0, |r| r.along + r.width)
    }
    /// How far its start stands before the anchor.
    pub fn before_anchor(&self) -> f64 {
        match self.anchor {
            Anchor::Left => 0.0,
            Anchor::Centre => self.width() / 2.0,
            Anchor::Right => self.width(),
        }
    }
    /// How far its letters reach above the baseline and below it.
    pub fn reach(&self) -> [f64; 2] {
        let [mut above, mut below] = [0.0_f64; 2];
        for run in &self.runs {
            for letter in run.text.chars() {
                let [up, down] = letter_reach(letter);
                above = above.max(run.raise + up * run.size);
                below = below.max(down * run.size - run.raise);
            }
        }
        [above, below]
    }
    /// The area its letters can reach.
    pub fn area(&self) -> Area {
        let (start, width) = (self.before_anchor(), self.width());
        let [above, below] = self.reach();
        match self.turn {
            Turn::Level => Area {
                x: self.at.x - start,
                y: self.at.y - above,
                w: width,
                h: above + below,
            },
            Turn::Up => Area {
                x: self.at.x - above,
                y: self.at.y + start - width,
                w: above + below,
                h: width,
            },
        }
    }
}

/// How far a letter reaches above the baseline and below it, in capital heights, never less than it does.
fn letter_reach(letter: char) -> [f64; 2] {
    match letter {
        ' ' => [0.0, 0.0],
        'A'..='P'
        | 'R'..='Z'
        | '0'..='9'
        | '+'
        | '-'
        | '.'
        | '='
        | '*'
        | '"'
        | '\''
        | '!'
        | '?'
        | ':'
        | '%'
        | '#' => [1.03, 0.03],
        'a'..='z' if !matches!(letter, 'g' | 'j' | 'p' | 'q' | 'y') => [1.06, 0.03],
        ' '..='~' => [1.06, 0.33],
        _ => [1.27, 0.33],
    }
}

/// From one baseline to the next.
pub fn line_pitch(size: f64) -> f64 {
    size * 1.72
}

/// Denominators that are drawn as fractions: the marks of a tape.
const TAPE_DENOMINATORS: &[&str] = &["2", "4", "8", "16", "32", "64", "128"];

/// If a fraction of a tape starts at `at`, its two figures and where it ends.
fn fraction_at(letters: &[char], at: usize) -> Option<(String, String, usize)> {
    let joined = |c: char| c.is_alphanumeric() || matches!(c, '.' | ',' | '/' | '\u{2044}');
    if at > 0 && joined(letters[at - 1]) {
        return None;
    }
    let figures = |from: usize| -> String {
        letters[from..]
            .iter()
            .take(4)
            .take_while(|c| c.is_ascii_digit())
            .collect()
    };
    let above = figures(at);
    let slash = at + above.len();
    if above.is_empty() || !matches!(letters.get(slash), Some('/' | '\u{2044}')) {
        return None;
    }
    let below = figures(slash + 1);
    let end = slash + 1 + below.len();
    let less = above.parse::<u32>().ok()? < below.parse::<u32>().ok()?;
    let ends = match letters.get(end) {
        Some(c @ ('.' | ',')) => {
            let _ = c;
            !letters.get(end + 1).is_some_and(char::is_ascii_digit)
        }
        Some(c) => !joined(*c),
        None => true,
    };
    (less && ends && TAPE_DENOMINATORS.contains(&below.as_str())).then_some((above, below, end))
}

fn plain_width(text: &str, size: f64, weight: Weight) -> f64 {
    text.chars().map(|c| advance(c, size, weight)).sum()
}

fn runs_of(plain: &str, size: f64, weight: Weight) -> Vec<Run> {
    let letters: Vec<char> = plain.chars().collect();
    let (mut runs, mut along, mut held) = (Vec::new(), 0.0, String::new());
    let put = |runs: &mut Vec<Run>, along: &mut f64, text: &str, size: f64, raise: f64| {
        if !text.is_empty() {
            let width = plain_width(text, size, weight);
            runs.push(Run {
                along: *along,
                raise,
                size,
                text: text.to_owned(),
                width,
            });
            *along += width;
        }
    };
    let small = (size * 0.78).max(LEAST_FRACTION);
    // The slash leans over the figures beside it, so it is drawn a little closer to them.
    let tuck = size * 0.16;
    let mut at = 0;
    while at < letters.len() {
        if let Some((above, below, end)) = fraction_at(&letters, at) {
            let after_whole = held.ends_with(' ')
                && held.trim_end().ends_with(|c: char| c.is_ascii_digit())
                && !held.ends_with("  ");
            put(&mut runs, &mut along, &held, size, 0.0);
            held.clear();
            if after_whole {
                along -= size * 0.18;
            }
            put(&mut runs, &mut along, &above, small, size * 1.18 - small);
            along -= tuck;
            put(&mut runs, &mut along, "/", size, 0.0);
            along -= tuck;
            put(&mut runs, &mut along, &below, small, -size * 0.16);
            at = end;
        } else {
            held.push(letters[at]);
            at += 1;
        }
    }
    put(&mut runs, &mut along, &held, size, 0.0);
    runs
}

/// How long a line of text is, fractions and replaced letters counted as they are drawn.
pub fn text_width(text: &str, size: f64, weight: Weight) -> f64 {
    Text::new(Point { x: 0.0, y: 0.0 }, size, weight, text).width()
}

/// Words, with a whole number and its fraction held together.
pub fn words(text: &str) -> Vec<String> {
    let letters: Vec<char> = text.chars().collect();
    let (mut all, mut word) = (Vec::new(), String::new());
    for (i, &letter) in letters.iter().enumerate() {
        let holds = letter == ' '
            && word.ends_with(|c: char| c.is_ascii_digit())
            && fraction_at(&letters, i + 1).is_some();
        if letter == ' ' && !holds {
            if !word.is_empty() {
                all.push(std::mem::take(&mut word));
            }
        } else {
            word.push(letter);
        }
    }
    if !word.is_empty() {
        all.push(word);
    }
    all
}

/// Breaks text into lines no longer than `most`; a word that is longer by itself is broken where it must be.
pub fn wrap(text: &str, size: f64, weight: Weight, most: f64) -> Vec<String> {
    // Letters that the font lacks stay in the lines, so that whoever draws them can name them.
    let plain = readable(text);
    let space = advance(' ', size.max(LEAST_SIZE), weight);
    let (mut lines, mut line, mut length) = (Vec::new(), String::new(), 0.0);
    for word in words(&plain) {
        let width = text_width(&word, size, weight);
        if !line.is_empty() && length + space + width > most {
            lines.push(std::mem::take(&mut line));
            length = 0.0;
        }
        if width <= most {
            if !line.is_empty() {
                line.push(' ');
                length += space;
            }
            line.push_str(&word);
            length += width;
            continue;
        }
        for letter in word.chars() {
            let step = advance(letter, size.max(LEAST_SIZE), weight);
            if !line.is_empty() && length + step > most {
                lines.push(std::mem::take(&mut line));
                length = 0.0;
            }
            line.push(letter);
            length += step;
        }
    }
    if !line.is_empty() || lines.is_empty() {
        lines.push(line);
    }
    lines
}

/// Distance from the baseline at which text of this size is centred on a line through its capitals.
pub(super) fn half_cap(size: f64) -> f64 {
    size / 2.0
}

/// The em of a capital height, in millimetres: what a painter sets as font size.
pub(super) fn em(size: f64) -> f64 {
    size / CAP_SHARE
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shape(text: &str) -> Vec<(String, bool)> {
        Text::new(Point { x: 0.0, y: 0.0 }, 2.5, Weight::Regular, text)
            .runs
            .into_iter()
            .map(|r| (r.text, r.raise == 0.0))
            .collect()
    }

    #[test]
    fn tape_fractions_are_taken_apart_and_nothing_else_is() {
        let level = |s: &str| (s.to_owned(), true);
        let off = |s: &str| (s.to_owned(), false);
        assert_eq!(
            shape("20 13/16 x 23"),
            vec![
                level("20 "),
                off("13"),
                level("/"),
                off("16"),
                level(" x 23")
            ]
        );
        assert_eq!(
            shape("3/4, paint"),
            vec![off("3"), level("/"), off("4"), level(", paint")]
        );
        for plain in [
            "2/3 of it",
            "11/12/2026",
            "A1/4",
            "4/4",
            "1/2.5",
            "and/or",
            "0.1/2",
        ] {
            assert_eq!(shape(plain), vec![level(plain)], "{plain}");
        }
    }

    #[test]
    fn figures_are_never_smaller_than_the_rule() {
        for size in [0.1, 1.0, 2.5, 3.5, 7.0] {
            let text = Text::new(Point { x: 0.0, y: 0.0 }, size, Weight::Bold, "9 1/128 in");
            for run in &text.runs {
                let least = if run.raise == 0.0 {
                    LEAST_SIZE
                } else {
                    LEAST_FRACTION
                };
                assert!(run.size >= least, "{size}: {run:?}");
            }
        }
    }

    #[test]
    fn wrapping_keeps_a_size_together_and_breaks_a_word_that_is_too_long() {
        let most = text_width("stop at 20", 2.5, Weight::Regular) + 0.5;
        let lines = wrap("stop at 20 13/16", 2.5, Weight::Regular, most);
        assert_eq!(lines, vec!["stop at", "20 13/16"]);
        let long = "x".repeat(300);
        let lines = wrap(&long, 2.5, Weight::Regular, 20.0);
        assert_eq!(lines.concat(), long);
        for line in lines {
            assert!(text_width(&line, 2.5, Weight::Regular) <= 20.0);
        }
        assert_eq!(wrap("", 2.5, Weight::Regular, 20.0), vec![""]);
    }
}
