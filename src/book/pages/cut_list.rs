//! The cut list of the route as it was planned, by material. Owns its columns.

use super::context::{Context, band_words, written};
use crate::book::block::{Block, Col, PageKind, Row, Section, Table};
use crate::model::{Grain, Part};

/// All parts that the plan cuts or could not place.
pub(super) fn cut_list(ctx: &Context) -> Vec<Section> {
    let unplaced = &ctx.plan().unplaced;
    let parts: Vec<&Part> = ctx
        .input
        .job
        .parts
        .iter()
        .filter(|p| ctx.planned(&p.mark) > 0 || unplaced.iter().any(|u| u.mark == p.mark))
        .collect();
    if parts.is_empty() {
        return Vec::new();
    }
    let mut items: Vec<&str> = Vec::new();
    for part in &parts {
        if !items.contains(&part.item.as_str()) {
            items.push(&part.item);
        }
    }
    let mut rows = Vec::new();
    for item in &items {
        if items.len() > 1 {
            rows.push(Row::group(ctx.item_name(item)));
        }
        for part in parts.iter().filter(|p| p.item == *item) {
            rows.push(part_row(ctx, part));
        }
    }
    let total: u32 = parts.iter().map(|p| p.count()).fold(0, u32::saturating_add);
    let mut blocks = vec![Block::say(format!(
        "{total} pieces. Sizes in {}, length along the grain unless said otherwise.",
        ctx.unit_word()
    ))];
    if items.len() == 1 {
        blocks.push(Block::say(format!("All from {}.", ctx.item_name(items[0]))));
    }
    blocks.push(Block::Table(Table::new(
        vec![
            Col::words("mark"),
            Col::words("what"),
            Col::words("box"),
            Col::numbers("count"),
            Col::numbers("length"),
            Col::numbers("width"),
            Col::words("grain"),
            Col::words("banded"),
        ],
        rows,
    )));
    if !unplaced.is_empty() {
        blocks.push(Block::Heading("Not placed".into()));
        for part in unplaced {
            blocks.push(Block::point(
                "!",
                format!("{} of {}: {}", part.count, part.mark, part.why),
            ));
        }
    }
    vec![Section {
        kind: PageKind::CutList,
        title: "Cut list".into(),
        bookmark: "Cut list".into(),
        lying: false,
        blocks,
    }]
}

fn part_row(ctx: &Context, part: &Part) -> Row {
    let (length, width) = written(part.size);
    let grain = match part.grain {
        Grain::Length => "length",
        Grain::Width => "width",
        Grain::Any => "any",
    };
    let mut band = band_words(part.band);
    if part.band_in_size && !band.is_empty() {
        band.push_str(", in the size");
    }
    let spare = if part.spare > 0 {
        format!("{} + {}", part.how_many, part.spare)
    } else {
        part.how_many.to_string()
    };
    Row::of(vec![
        part.mark.clone().into(),
        part.what.clone().into(),
        part.in_box.clone().into(),
        spare.into(),
        ctx.size(length).into(),
        width.map_or_else(String::new, |w| ctx.size(w)).into(),
        if width.is_some() { grain } else { "" }.into(),
        band.into(),
    ])
    .noted(part.note.clone())
}
