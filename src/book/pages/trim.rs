//! Scribe strips and the trim schedule: widths at every reading, blanks, pieces with both ends, widths that cover. Owns the
//! wording; every figure is the trim plan's.

use super::context::Context;
use crate::book::block::{Block, Col, PageKind, Row, Section, Table};
use crate::plan::{ScribeStrip, TrimPlan};
use crate::units::Length;

/// Both pages; none where the route has nothing to trim.
pub(super) fn trim(ctx: &Context) -> Vec<Section> {
    let Some(plan) = ctx.input.trim else {
        return Vec::new();
    };
    let mut sections = Vec::new();
    if !plan.scribes.is_empty() {
        sections.push(section("Scribe strips", strips(ctx, plan)));
    }
    if !plan.pieces.is_empty() {
        sections.push(section("Trim schedule", schedule(ctx, plan)));
    }
    sections
}

fn section(title: &str, blocks: Vec<Block>) -> Section {
    Section {
        kind: PageKind::Trim,
        title: title.into(),
        bookmark: title.into(),
        lying: false,
        blocks,
    }
}

fn strips(ctx: &Context, plan: &TrimPlan) -> Vec<Block> {
    let mut blocks = Vec::new();
    for strip in &plan.scribes {
        blocks.push(Block::Heading(match strip.strip.as_str() {
            "left" => "Left strip".into(),
            "right" => "Right strip".into(),
            "head" => "Head strip".into(),
            other => match other.strip_prefix("head, ") {
                Some(row) => format!("Head strip, {row}"),
                None => other.to_owned(),
            },
        }));
        blocks.push(Block::say(blank(ctx, strip)));
        if !strip.foot.is_empty() {
            blocks.push(Block::say(format!("Foot: {}.", strip.foot)));
        }
        if let Some(less) = strip.along_less() {
            let (much, word) = along(ctx, less);
            blocks.push(Block::say(format!(
                "Heights are up from the floor at the plumb line: along the strip, from its foot, they are {much} {word}."
            )));
        }
        blocks.push(Block::Table(widths(ctx, strip)));
        for cut in &strip.cut_round {
            blocks.push(Block::say(cut.in_words(ctx.tape.for_scribing())));
        }
        for warning in &strip.warnings {
            blocks.push(Block::point("!", warning.clone()));
        }
    }
    blocks.push(Block::say(
        "Rough-cut 1/8 in (3 mm) outside these, hold the strip in place, set the compass, scribe, plane to the line. Between \
         readings a wall is taken as straight: these widths are for the rough cut, not instead of the compass.",
    ));
    blocks
}

/// How much less or more.
fn along(ctx: &Context, less: Length) -> (String, &'static str) {
    let word = if less.is_positive() { "less" } else { "more" };
    (ctx.tape.for_scribing().print(less.abs()), word)
}

fn blank(ctx: &Context, strip: &ScribeStrip) -> String {
    let tape = ctx.tape.for_scribing();
    let straight = strip.straight_edge;
    if strip.back_bevel == 0 {
        return format!(
            "Blank {} x {}. Kept {}: rip it parallel, from {straight}. It leaves up to {} open, for a moulding to cover.",
            tape.print(strip.blank[0]),
            tape.print(strip.blank[1]),
            strip.follows,
            tape.print(strip.leaves)
        );
    }
    format!(
        "Blank {} x {}. Straight edge: {straight}. Tilt the scribed edge {} degrees, so that only its front touches.",
        tape.print(strip.blank[0]),
        tape.print(strip.blank[1]),
        strip.back_bevel
    )
}

fn widths(ctx: &Context, strip: &ScribeStrip) -> Table {
    let tape = ctx.tape.for_scribing();
    let own = strip.ends.iter().enumerate();
    let own = own.map(|(n, o)| (o, strip.step(n).unwrap_or("the strip's own")));
    let rows = strip
        .ordinates
        .iter()
        .map(|o| (o, "reading"))
        .chain(own)
        .map(|(o, what)| {
            Row::of(vec![
                tape.print(o.at).into(),
                tape.print(o.width).into(),
                what.into(),
            ])
        });
    let at = if strip.is_head() {
        "from its left end"
    } else {
        "up from the floor"
    };
    let cols = vec![
        Col::numbers(at),
        Col::numbers("width there"),
        Col::words("place"),
    ];
    Table::new(cols, rows.collect())
}

fn schedule(ctx: &Context, plan: &TrimPlan) -> Vec<Block> {
    let rows = plan.pieces.iter().map(|p| {
        let several = if p.how_many > 1 {
            format!("{} of {}", p.how_many, p.what)
        } else {
            p.what.clone()
        };
        Row::of(vec![
            p.mark.clone().into(),
            format!("{several}, {}", p.item).into(),
            ctx.size(p.long_point).into(),
            ctx.size(p.short_point).into(),
            p.left.in_words().into(),
            p.right.in_words().into(),
        ])
    });
    let cols = vec![
        Col::words("piece"),
        Col::words("what"),
        Col::numbers("long point"),
        Col::numbers("short point"),
        Col::words("left end or foot"),
        Col::words("right end or head"),
    ];
    let mut blocks = vec![
        Block::say(
            "Hook the tape on the long point. Left and right are as the piece sits on the wall. Cut test pieces from the stick \
             ends first.",
        ),
        Block::Table(Table::new(cols, rows.collect())),
    ];
    for stick in &plan.sticks {
        let marks: Vec<&str> = stick.pieces.iter().map(|p| p.mark.as_str()).collect();
        blocks.push(Block::point(
            "[ ]",
            format!(
                "{} of {}, {} long: {}; {} left.",
                stick.count,
                stick.item,
                ctx.size(stick.length),
                marks.join(", "),
                ctx.size(stick.left)
            ),
        ));
    }
    if !plan.covers.is_empty() {
        blocks.push(Block::Heading("Widths that cover".into()));
        let rows = plan.covers.iter().map(|c| {
            let found = c.look_for.clone().unwrap_or_else(|| c.items.join(", "));
            // Where the least is more than the most, no width does.
            let most = if c.least > c.most {
                "-".to_owned()
            } else {
                ctx.size(c.most)
            };
            Row::of(vec![
                c.what.clone().into(),
                ctx.size(c.least).into(),
                most.into(),
                found.into(),
            ])
        });
        let cols = vec![
            Col::words("where"),
            Col::numbers("at least"),
            Col::numbers("at most"),
            Col::words("what does"),
        ];
        blocks.push(Block::Table(Table::new(cols, rows.collect())));
    }
    for note in &plan.notes {
        blocks.push(Block::point("!", note.clone()));
    }
    blocks
}
