//! The pages of the survey: elevation, plan, sketch, the checks, what to take again. Owns their order and words.

use super::{readings, tenfold};
use crate::book::block::{Block, Col, PageKind, Row, Section, Table};
use crate::book::pages::context::Context;
use crate::opening::{BoxSize, find_reading, reading_words};
use crate::plan::clearing;
use crate::units::Length;

/// None where the job has no opening, or nothing is read of it that could be drawn.
pub(in crate::book::pages) fn survey(ctx: &Context) -> Vec<Section> {
    let (Some(fitted), Some(opening)) = (ctx.input.fitted, &ctx.input.job.opening) else {
        return Vec::new();
    };
    let s = &fitted.survey;
    let Some(elevation) = readings::elevation(ctx, opening, fitted) else {
        return Vec::new();
    };
    let words = |path: &str| {
        find_reading(opening, path).map_or_else(
            || path.to_owned(),
            |at| reading_words(opening, at, ctx.tape),
        )
    };
    let mut blocks = vec![Block::Figure(elevation)];
    let size = |l: Option<Length>| l.map_or_else(|| "?".into(), |l| ctx.size(l));
    let row = |what: &str, b: BoxSize| {
        Row::of(vec![
            what.into(),
            size(b.width).into(),
            size(b.height).into(),
            size(b.depth).into(),
        ])
    };
    let mut rows = vec![row("largest level, plumb box", s.largest_box)];
    rows[0].strong = true;
    rows.push(row("smallest tape readings", s.smallest_tape));
    rows.extend(
        s.between_trim
            .map(|b| row("between base and crown that stay", b)),
    );
    rows.extend(s.other_boxes.iter().map(|b| row(&b.what, b.size)));
    let cols = vec![
        Col::words(format!("sizes in {}", ctx.unit_word())),
        Col::numbers("wide"),
        Col::numbers("high"),
        Col::numbers("deep"),
    ];
    blocks.push(Block::Table(Table::new(cols, rows).snug()));
    blocks.extend(readings::depths(ctx, opening, fitted).map(Block::Figure));
    let rows = s
        .checks
        .iter()
        .map(|c| {
            let verdict = if c.agrees { "agrees" } else { "DISAGREES" };
            Row::of(vec![
                words(&c.what).into(),
                ctx.size(c.read).into(),
                ctx.size(c.expected).into(),
                verdict.into(),
            ])
        })
        .collect();
    let cols = vec![
        Col::words("check"),
        Col::numbers("read"),
        Col::numbers("others make it"),
        Col::words(""),
    ];
    let mut right = vec![Block::Table(Table::new(cols, rows))];
    if let Some(corners) = s.corner_degrees.in_words() {
        right.push(Block::say(format!("Corners in degrees: {corners}.")));
    }
    match tenfold::sketch(ctx, fitted) {
        Some(sketch) => blocks.push(Block::Beside(sketch, right)),
        None => blocks.extend(right),
    }
    if !s.take_again.is_empty() {
        blocks.push(Block::Heading("Take again".into()));
        for (i, t) in s.take_again.iter().enumerate() {
            let text = format!("{}. {}", words(&t.reading), t.why);
            blocks.push(Block::point(format!("{}", i + 1), text));
        }
    }
    if !s.second_look.is_empty() {
        blocks.push(Block::Heading("Look again".into()));
        for t in &s.second_look {
            let text = format!("{}. {}", words(&t.reading), t.why);
            blocks.push(Block::point("!", text));
        }
    }
    if !s.provisional.is_empty() {
        blocks.push(Block::Heading("Not measured yet".into()));
        let list: Vec<String> = s.provisional.iter().map(|p| words(p)).collect();
        blocks.push(Block::say(list.join("; ")));
    }
    if !s.unchecked.is_empty() {
        blocks.push(Block::Heading("Read these twice".into()));
        let list: Vec<String> = s.unchecked.iter().map(|p| words(p)).collect();
        blocks.push(Block::say(format!(
            "Nothing overlaps them, so a slip would not show: {}.",
            list.join("; ")
        )));
    }
    blocks.extend(s.cautions.iter().map(|c| Block::point("!", c.clone())));
    let before = clearing(ctx.input.job);
    if !before.is_empty() {
        blocks.push(Block::Heading("Before the first box is set".into()));
        let numbered = (1..).zip(before);
        blocks.extend(numbered.map(|(i, step): (u32, String)| Block::point(i.to_string(), step)));
    }
    vec![Section {
        kind: PageKind::Opening,
        title: format!("The opening as read: {}", opening.name),
        bookmark: "The opening".into(),
        lying: false,
        blocks,
    }]
}
