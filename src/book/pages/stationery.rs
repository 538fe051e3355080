//! Labels on paper: the stationery, where each label stands on its page, and what of it there is room for.
//!
//! Sizes of stationery: Letter, 30 labels of 1 x 2 5/8 in; A4, 24 labels of 64 x 34 mm (common stationery, from memory).

use super::labels::joined;
use crate::book::block::{Label, LabelSheet};
use crate::book::draw::{Area, Dash, Drawing, Pen, Text, Weight, line_pitch, pt, text_width, wrap};
use crate::book::layout::{Frame, LaidPage, shortened};
use crate::model::Paper;

/// What labels are printed on.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub enum Stationery {
    /// The usual stationery of the paper: 30 on Letter, 24 on A4.
    #[default]
    Usual,
    /// Plain paper with lines to cut along.
    Plain,
}

/// How labels are printed.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct LabelOptions {
    /// What they are printed on.
    pub on: Stationery,
    /// Position of the first label on its page, from 1: a part-used page goes in again.
    pub from: u32,
}

impl Default for LabelOptions {
    fn default() -> Self {
        Self {
            on: Stationery::Usual,
            from: 1,
        }
    }
}

/// Where labels stand on a page.
struct Grid {
    frame: Frame,
    first: [f64; 2],
    label: [f64; 2],
    pitch: [f64; 2],
    count: [usize; 2],
    foot_at: Option<f64>,
    cut_lines: bool,
}

impl Grid {
    fn of(paper: Paper, on: Stationery) -> Self {
        let upright = Frame::of(paper, false);
        let bare = Frame {
            paper: upright.paper,
            live: Area::new(0.0, 0.0, upright.paper[0], upright.paper[1]).inset(4.0),
        };
        match (on, paper) {
            (Stationery::Usual, Paper::Letter) => Self {
                frame: bare,
                first: [4.7625, 12.7],
                label: [66.675, 25.4],
                pitch: [69.85, 25.4],
                count: [3, 10],
                foot_at: Some(279.4 - 6.0),
                cut_lines: false,
            },
            (Stationery::Usual, Paper::A4) => Self {
                frame: bare,
                first: [7.0, 12.5],
                label: [64.0, 34.0],
                pitch: [66.0, 34.0],
                count: [3, 8],
                foot_at: Some(297.0 - 6.0),
                cut_lines: false,
            },
            (Stationery::Plain, _) => {
                let body = upright.body();
                let label = [body.w / 3.0, 34.0];
                Self {
                    frame: upright,
                    first: [body.x, body.y],
                    label,
                    pitch: label,
                    count: [3, 7],
                    foot_at: None,
                    cut_lines: true,
                }
            }
        }
    }
    fn place(&self, i: usize) -> Area {
        let [x, y] = [i % self.count[0], i / self.count[0]];
        Area::new(
            self.first[0] + self.pitch[0] * x as f64,
            self.first[1] + self.pitch[1] * y as f64,
            self.label[0],
            self.label[1],
        )
    }
}

/// Width and height of one label.
pub(super) fn label_size(paper: Paper, on: Stationery) -> [f64; 2] {
    Grid::of(paper, on).label
}

/// Labels on their pages.
pub(in crate::book) fn lay_labels(
    sheet: &LabelSheet,
    paper: Paper,
    options: LabelOptions,
) -> Vec<LaidPage> {
    let grid = Grid::of(paper, options.on);
    let on_page = grid.count[0] * grid.count[1];
    let skip = (options.from.max(1) as usize - 1) % on_page;
    let mut pages: Vec<LaidPage> = Vec::new();
    for (i, label) in sheet.labels.iter().enumerate() {
        let at = i + skip;
        if i == 0 || at.is_multiple_of(on_page) {
            pages.push(LaidPage {
                frame: grid.frame,
                drawing: Drawing::new(),
                first: i == 0,
                foot_at: grid.foot_at,
            });
        }
        let area = grid.place(at % on_page);
        let page = pages.last_mut().expect("a page was started above");
        if grid.cut_lines {
            let pen = Pen::broken(0.18, Dash::Dashed);
            let corners = [
                pt(area.x, area.y),
                pt(area.right(), area.y),
                pt(area.right(), area.bottom()),
                pt(area.x, area.bottom()),
                pt(area.x, area.y),
            ];
            page.drawing.path(corners.to_vec(), pen);
        }
        draw_label(&mut page.drawing, label, &area);
    }
    pages
}

/// What is printed of a label that has so much room, in the order in which it is read.
pub(in crate::book) fn printed(label: &Label, [w, h]: [f64; 2]) -> Vec<String> {
    let mut drawing = Drawing::new();
    draw_label(&mut drawing, label, &Area::new(0.0, 0.0, w, h))
}

/// One label; comes back with what was written. What does not fit is shortened; every word of it stands in the cut list too.
fn draw_label(drawing: &mut Drawing, label: &Label, area: &Area) -> Vec<String> {
    let inner = Area::new(area.x + 2.5, area.y + 1.6, area.w - 5.0, area.h - 3.2);
    let mark_size = [7.0, 5.0, 3.5, 2.5]
        .into_iter()
        .find(|s| text_width(&label.mark, *s, Weight::Bold) < inner.w * 0.5)
        .unwrap_or(2.5);
    let mark = shortened(&label.mark, mark_size, Weight::Bold, inner.w * 0.6);
    // A tail (as of Q or g) must not reach the line below.
    let tail = Text::new(pt(0.0, 0.0), mark_size, Weight::Bold, &mark).reach()[1];
    let base = inner.y + (8.3 - tail).min(7.3);
    let wide = drawing.say(pt(inner.x, base), mark_size, Weight::Bold, &mark);
    let mut written = vec![mark];
    let small = 2.5;
    let pitch = line_pitch(small);
    let of_width = text_width(&label.of, small, Weight::Bold);
    drawing.say_right(
        pt(inner.right(), inner.y + 3.2),
        small,
        Weight::Bold,
        &label.of,
    );
    let left = inner.x + wide + 2.5;
    let mut y = inner.y + 3.2;
    let mut lines = wrap(&label.what, small, Weight::Regular, inner.right() - left);
    // The first line ends before `1 of 4`.
    if !label.what.is_empty() {
        let first = inner.right() - left - of_width - 2.0;
        let head = wrap(&label.what, small, Weight::Regular, first.max(3.0)).remove(0);
        let rest = label.what.get(head.len()..).unwrap_or("").trim_start();
        lines = vec![head];
        if !rest.is_empty() {
            lines.push(shortened(
                rest,
                small,
                Weight::Regular,
                inner.right() - left,
            ));
        }
    }
    let what: Vec<&str> = lines.iter().take(2).map(String::as_str).collect();
    written.push(what.join(" "));
    for line in lines.iter().take(2) {
        drawing.say(pt(left, y), small, Weight::Regular, line);
        y += pitch;
    }
    let roomy = inner.h > 28.0;
    let size = if roomy { 3.5 } else { 3.0 };
    let mut base = inner.y + 8.4 + size * 1.3;
    let said = shortened(&label.size, size, Weight::Bold, inner.w);
    let wide = drawing.say(pt(inner.x, base), size, Weight::Bold, &said);
    written.push(said);
    written.push(label.of.clone());
    let rest = joined(&[&label.grain, &label.band]);
    let [at, large] = &label.hole;
    let mut below = vec![rest.clone(), label.place.clone()];
    if !at.is_empty() {
        // Where the hole is takes a line, how large it is goes beside the size of the part where there is room.
        let large = if large.is_empty() {
            String::new()
        } else {
            format!("hole {large}")
        };
        let beside = text_width(&large, small, Weight::Regular) <= inner.w - wide - 3.0;
        if beside {
            let right = pt(inner.right(), base);
            drawing.say_right(right, small, Weight::Regular, &large);
            written.push(large.clone());
        }
        let first = if beside { "" } else { &large };
        below = vec![at.clone(), joined(&[first, &label.place, &rest])];
    }
    base += size * 0.33 + small * 1.36;
    if !label.note.is_empty() {
        below.push(label.note.clone());
    }
    for line in below.iter().filter(|l| !l.is_empty()) {
        if base + small * 0.33 > inner.bottom() + 0.6 {
            break;
        }
        let line = end_kept(line, small, inner.w);
        let line = shortened(&line, small, Weight::Regular, inner.w);
        drawing.say(pt(inner.x, base), small, Weight::Regular, &line);
        written.push(line);
        base += pitch;
    }
    written.retain(|w| !w.is_empty());
    written
}

/// The line of the place: where it is too long, words of the box's name go from the front, so that the box's number, the sheet
/// and the step at its end stay.
fn end_kept(line: &str, size: f64, most: f64) -> String {
    let fits = |l: &str| text_width(l, size, Weight::Regular) <= most;
    let Some(mut rest) = line.strip_prefix("box ").filter(|_| !fits(line)) else {
        return line.into();
    };
    let mut short = rest.to_owned();
    while let Some((_, shorter)) = rest.split_once(' ').filter(|_| !fits(&short)) {
        rest = shorter;
        short = format!("\u{2026} {rest}");
    }
    short
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn labels_start_where_a_used_page_goes_on() {
        let label = Label {
            mark: "L1".into(),
            ..Label::default()
        };
        let sheet = LabelSheet {
            labels: vec![label; 25],
            ..LabelSheet::default()
        };
        let options = LabelOptions {
            on: Stationery::Usual,
            from: 7,
        };
        let pages = lay_labels(&sheet, Paper::Letter, options);
        assert_eq!(pages.len(), 2, "24 on the first page, from 7 to 30");
        assert_eq!(
            lay_labels(&sheet, Paper::A4, LabelOptions::default()).len(),
            2
        );
    }

    /// 30 labels of 25.4 x 66.675 mm with their gutters fill a Letter page exactly from margin to margin.
    #[test]
    fn stationery_fits_its_paper() {
        for (paper, on) in [
            (Paper::Letter, Stationery::Usual),
            (Paper::A4, Stationery::Usual),
            (Paper::A4, Stationery::Plain),
        ] {
            let grid = Grid::of(paper, on);
            let last = grid.place(grid.count[0] * grid.count[1] - 1);
            let sheet = Area::new(0.0, 0.0, grid.frame.paper[0], grid.frame.paper[1]);
            assert!(sheet.holds(&last), "{paper:?} {on:?}");
        }
    }

    /// The twin reads what is printed: a label too small for a note does not say it there either.
    #[test]
    fn the_twin_says_of_a_label_what_is_printed() {
        let label = Label {
            mark: "L1".into(),
            size: "86 x 20 1/4".into(),
            place: "box left".into(),
            band: "FRONT banded".into(),
            note: "pair: one left one right".into(),
            ..Label::default()
        };
        let said = |h: f64| printed(&label, [66.0, h]).join(" | ");
        assert!(said(34.0).contains("pair: one"), "{}", said(34.0));
        assert!(!said(20.0).contains("pair: one"), "{}", said(20.0));
        assert!(said(20.0).contains("86 x 20 1/4"));
    }

    #[test]
    fn a_long_place_keeps_its_numbers() {
        let line = "box main bedroom 27 \u{B7} sheet 149 \u{B7} step 649";
        let wide = |l: &str| text_width(l, 2.5, Weight::Regular);
        assert_eq!(end_kept(line, 2.5, wide(line)), line);
        let less = end_kept(line, 2.5, wide(line) - 1.0);
        assert_eq!(less, line["box ".len()..]);
        let short = end_kept(
            line,
            2.5,
            wide("... bedroom 27 - sheet 149 - step 649") + 1.0,
        );
        assert_eq!(
            short,
            "\u{2026} bedroom 27 \u{B7} sheet 149 \u{B7} step 649"
        );
    }
}
