//! Labels to stick on each part as it comes off the saw: one for each piece, in the order they come free. Owns what stands on a
//! label; how it lies on paper belongs to the stationery.

use super::context::{Context, band_words};
use super::sheet::setting_of;
use super::stationery::label_size;
use crate::book::block::{Block, Label, LabelSheet, PageKind, Section};
use crate::model::{Grain, SheetPlan, StockRow};
use crate::plan::Hole;
use std::collections::BTreeMap;

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
        blocks: vec![Block::Labels(LabelSheet {
            labels,
            room: label_size(ctx.input.paper, ctx.input.labels.on),
        })],
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

pub(super) fn joined(words: &[&str]) -> String {
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::tests::fixtures;

    #[test]
    fn parts_come_in_the_order_they_are_freed() {
        let plan = fixtures::two_strips();
        assert_eq!(order(&plan.sheets[0]), vec![(0, 3), (1, 4)]);
    }
}
