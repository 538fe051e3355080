//! Labels to stick on each part as it comes off the saw: one for each piece, in the order they come free. Owns the stationery
//! and what stands on a label.
//!
//! Sizes of stationery: Letter, 30 labels of 1 x 2 5/8 in; A4, 24 labels of 64 x 34 mm (common stationery, from memory).

use super::context::{Context, band_words};
use super::sheet::setting_of;
use crate::book::block::{Block, Label, LabelSheet, PageKind, Section};
use crate::book::draw::{Area, Dash, Drawing, Pen, Text, Weight, line_pitch, pt, text_width, wrap};
use crate::book::layout::{Frame, LaidPage, shortened};
use crate::model::{Grain, Paper, SheetPlan, StockRow};
use crate::plan::Hole;
use std::collections::BTreeMap;

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

/// One label for each piece.
pub(super) fn labels(ctx: &Context) -> Vec<Section> {
    let labels = all_labels(ctx);
    if labels.is_empty() {
        return Vec::new();
    }
    vec![Section {
        kind: PageKind::Labels,
        title: String::new(),
        bookmark: format!("Labels for {} pieces", labels.len()),
        lying: false,
        blocks: vec![Block::Labels(LabelSheet { labels })],
    }]
}

/// Which line of the settings page makes a cut: by sheet, copy (0 = all) and cut.
fn steps(ctx: &Context) -> BTreeMap<(usize, u32, u32), u32> {
    let mut steps = BTreeMap::new();
    for setting in &ctx.plan().settings {
        for piece in setting.pieces.iter().filter(|p| p.cut > 0) {
            steps.insert((piece.sheet, piece.copy, piece.cut), setting.n);
        }
    }
    steps
}

/// Places in the order they come free, each with the cut that frees it (0 = none).
fn order(sheet: &SheetPlan) -> Vec<(usize, u32)> {
    // The cut that frees a part is the last one that makes an edge of it: the smallest piece a cut was made in that still
    // holds the part.
    let mut freed: Vec<(u32, usize)> = sheet
        .places
        .iter()
        .enumerate()
        .map(|(i, place)| {
            let high = [place.at[0] + place.size[0], place.at[1] + place.size[1]];
            let last = sheet
                .cuts
                .iter()
                .filter(|c| {
                    c.of[0] <= place.at[0]
                        && c.of[1] <= place.at[1]
                        && c.of[2] >= high[0]
                        && c.of[3] >= high[1]
                        && setting_of(c).is_positive()
                })
                .map(|c| c.n)
                .max()
                .unwrap_or(0);
            (last, i)
        })
        .collect();
    freed.sort_unstable();
    freed.into_iter().map(|(n, i)| (i, n)).collect()
}

fn all_labels(ctx: &Context) -> Vec<Label> {
    let steps = steps(ctx);
    let mut made: BTreeMap<&str, u32> = BTreeMap::new();
    let mut totals: BTreeMap<&str, u32> = BTreeMap::new();
    let mut labels = Vec::new();
    for (i, sheet) in ctx.plan().sheets.iter().enumerate() {
        let order = order(sheet);
        let (first, count) = ctx.numbers(i);
        let thick = ctx
            .stock(&sheet.item)
            .and_then(StockRow::thickness)
            .map_or_else(String::new, |t| format!(", {}", ctx.exact(t)));
        for copy in 1..=count {
            for (index, cut) in &order {
                let place = &sheet.places[*index];
                let step = steps
                    .get(&(i, copy, *cut))
                    .or_else(|| steps.get(&(i, 0, *cut)))
                    .map_or_else(String::new, |n| format!("step {n}"));
                let own = if place.turned {
                    [place.size[1], place.size[0]]
                } else {
                    place.size
                };
                let mut label = named(ctx, &place.mark, &mut made, &mut totals);
                label.size = format!("{}{thick}", ctx.two(own));
                label.grain = match ctx.part(&place.mark).map(|p| p.grain) {
                    Some(Grain::Any) => "any grain".into(),
                    Some(Grain::Width) => format!("grain \u{2194} {}", ctx.size(own[1])),
                    _ => format!("grain \u{2194} {}", ctx.size(own[0])),
                };
                let mine = |h: &&Hole| h.mark.as_ref() == Some(&place.mark);
                let holes: Vec<[String; 2]> = (ctx.holes().iter().filter(mine))
                    .map(|h| h.on_label(ctx.tape))
                    .collect();
                label.hole = match &holes[..] {
                    [] => Default::default(),
                    [one] => one.clone(),
                    several => [
                        format!("{} HOLES: see the sheet's page", several.len()),
                        String::new(),
                    ],
                };
                let sheet_word = format!("sheet {}", first + copy - 1);
                label.place = joined(&[&label.place, &sheet_word, &step]);
                labels.push(label);
            }
        }
    }
    for stick in &ctx.plan().sticks {
        for _ in 0..stick.count {
            for piece in &stick.pieces {
                let mut label = named(ctx, &piece.mark, &mut made, &mut totals);
                label.size = ctx.size(piece.length);
                label.place = joined(&[&label.place, &stick.item]);
                labels.push(label);
            }
        }
    }
    labels
}

fn joined(words: &[&str]) -> String {
    let said: Vec<&str> = words.iter().copied().filter(|w| !w.is_empty()).collect();
    said.join(" \u{00B7} ")
}

/// What a label says of the part itself.
fn named<'a>(
    ctx: &Context<'a>,
    mark: &'a str,
    made: &mut BTreeMap<&'a str, u32>,
    totals: &mut BTreeMap<&'a str, u32>,
) -> Label {
    let number = made.entry(mark).or_insert(0);
    *number += 1;
    let total = *totals.entry(mark).or_insert_with(|| ctx.planned(mark));
    let part = ctx.part(mark);
    let band = part.map_or_else(String::new, |p| band_words(p.band));
    Label {
        mark: mark.to_owned(),
        what: part.map_or_else(String::new, |p| p.what.clone()),
        of: format!("{number} of {total}"),
        band: if band.is_empty() {
            String::new()
        } else {
            format!("\u{25B2} {} banded", band.to_uppercase())
        },
        place: part
            .filter(|p| !p.in_box.is_empty())
            .map_or_else(String::new, |p| format!("box {}", p.in_box)),
        note: part.map_or_else(String::new, |p| p.note.clone()),
        ..Label::default()
    }
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

/// One label. What does not fit is shortened; every word of it stands in the cut list too.
fn draw_label(drawing: &mut Drawing, label: &Label, area: &Area) {
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
    for line in lines.iter().take(2) {
        drawing.say(pt(left, y), small, Weight::Regular, line);
        y += pitch;
    }
    let roomy = inner.h > 28.0;
    let size = if roomy { 3.5 } else { 3.0 };
    let mut base = inner.y + 8.4 + size * 1.3;
    let said = shortened(&label.size, size, Weight::Bold, inner.w);
    let wide = drawing.say(pt(inner.x, base), size, Weight::Bold, &said);
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
        base += pitch;
    }
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
    use crate::book::tests::fixtures;

    #[test]
    fn labels_start_where_a_used_page_goes_on() {
        let label = Label {
            mark: "L1".into(),
            ..Label::default()
        };
        let sheet = LabelSheet {
            labels: vec![label; 25],
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

    #[test]
    fn parts_come_in_the_order_they_are_freed() {
        let plan = fixtures::two_strips();
        assert_eq!(order(&plan.sheets[0]), vec![(0, 3), (1, 4)]);
    }
}
