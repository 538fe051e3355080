//! The stick plan: for each length of moulding or board what is cut from it, drawn to scale and listed. Owns the drawing of
//! a stick.

use super::context::{Context, counted};
use crate::book::block::{Block, Cell, Col, Figure, PageKind, Row, Section, Table};
use crate::book::draw::{Area, Drawing, Fill, Pen, Weight, pt, text_width};
use crate::model::StickPlan;

/// Height of a stick on paper.
const HIGH: f64 = 7.0;
/// The longest stick on paper.
const LONG: f64 = 160.0;

/// All sticks, by item.
pub(super) fn sticks(ctx: &Context) -> Vec<Section> {
    let sticks = &ctx.plan().sticks;
    if sticks.is_empty() {
        return Vec::new();
    }
    let longest = sticks
        .iter()
        .map(|s| s.length.as_mm())
        .fold(1.0_f64, f64::max);
    let mut items: Vec<&str> = Vec::new();
    for stick in sticks {
        if !items.contains(&stick.item.as_str()) {
            items.push(&stick.item);
        }
    }
    let mut blocks = vec![Block::say(format!(
        "Cut from the left, in this order. Sizes in {}, kerf {} between two pieces. Hatched: left over.",
        ctx.unit_word(),
        ctx.exact(ctx.plan().kerf)
    ))];
    for item in items {
        blocks.push(Block::Heading(ctx.item_name(item)));
        let mut rows = Vec::new();
        for (i, stick) in sticks.iter().filter(|s| s.item == item).enumerate() {
            let name = format!("{}", i + 1);
            blocks.push(Block::Figure(stick_figure(ctx, stick, &name, longest)));
            rows.push(stick_row(ctx, stick, &name));
        }
        blocks.push(Block::Table(Table::new(
            vec![
                Col::words("stick"),
                Col::numbers("make"),
                Col::numbers("length"),
                Col::words("pieces, in order"),
                Col::numbers("left"),
                Col::signs("done"),
            ],
            rows,
        )));
    }
    vec![Section {
        kind: PageKind::Sticks,
        title: "Stick plan".into(),
        bookmark: "Stick plan".into(),
        lying: false,
        blocks,
    }]
}

fn stick_row(ctx: &Context, stick: &StickPlan, name: &str) -> Row {
    let mut pieces: Vec<(String, u32)> = Vec::new();
    for piece in &stick.pieces {
        let said = format!("{} {}", piece.mark, ctx.size(piece.length));
        match pieces.last_mut().filter(|(p, _)| *p == said) {
            Some((_, count)) => *count += 1,
            None => pieces.push((said, 1)),
        }
    }
    let said: Vec<String> = pieces
        .into_iter()
        .map(|(p, n)| if n == 1 { p } else { format!("{n} x {p}") })
        .collect();
    let from = stick
        .rack
        .as_ref()
        .map_or_else(String::new, |r| format!(" (rack {r})"));
    let keep = stick.left >= ctx.input.job.saw.keep.stick;
    let sign = if !stick.left.is_positive() {
        ""
    } else if keep {
        " R"
    } else {
        " K"
    };
    Row::of(vec![
        format!("{name}{from}").into(),
        stick.count.to_string().into(),
        ctx.size(stick.length).into(),
        said.join(", ").into(),
        format!("{}{sign}", ctx.size(stick.left)).into(),
        Cell::Tick,
    ])
}

/// One stick to scale: pieces with their marks where there is room, the rest hatched.
fn stick_figure(ctx: &Context, stick: &StickPlan, name: &str, longest: f64) -> Figure {
    const LEFT: f64 = 14.0;
    let mut drawing = Drawing::new();
    let per_mm = LONG / longest;
    let long = stick.length.as_mm() * per_mm;
    drawing.say(pt(0.0, HIGH * 0.68), 3.5, Weight::Bold, name);
    let mut at = 0.0;
    let kerf = ctx.plan().kerf.as_mm() * per_mm;
    for piece in &stick.pieces {
        let wide = piece.length.as_mm() * per_mm;
        let area = Area::new(LEFT + at, 0.3, wide, HIGH);
        drawing.rect(area, Fill::White, Some(Pen::NARROW));
        for (text, size, weight) in [
            (
                format!("{}  {}", piece.mark, ctx.size(piece.length)),
                3.5,
                Weight::Regular,
            ),
            (
                format!("{}  {}", piece.mark, ctx.size(piece.length)),
                2.5,
                Weight::Regular,
            ),
            (piece.mark.clone(), 2.5, Weight::Bold),
        ] {
            if text_width(&text, size, weight) + 2.0 <= wide {
                let base = pt(area.centre().x, area.centre().y + size / 2.0);
                drawing.say_centred(base, size, weight, &text);
                break;
            }
        }
        at += wide + kerf;
    }
    if at < long {
        drawing.hatch(Area::new(LEFT + at, 0.3, long - at, HIGH), 2.0);
    }
    let whole = Area::new(LEFT, 0.3, long, HIGH);
    drawing.rect(whole, Fill::None, Some(Pen::WIDE));
    Figure {
        size: [LEFT + LONG, HIGH + 3.0],
        drawing,
        twin: vec![format!(
            "stick {name}: {} of {}",
            counted(stick.count, "stick", "sticks"),
            ctx.size(stick.length)
        )],
    }
}
