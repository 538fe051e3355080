//! Rows on the left and the right wall: the gaps around them, and the shims under their boxes' corners.

use super::level::shim;
use crate::book::block::{Block, Cell, Col, Row, Table};
use crate::book::pages::context::Context;
use crate::opening::{GapAt, RouteFit, SideRow};

/// Gaps behind the row, at its ends and above it.
pub(super) fn gaps(ctx: &Context, r: &SideRow) -> Vec<Block> {
    let mut blocks = vec![
        Block::Heading(format!(
            "On the {} wall, left and right as you face it",
            r.wall
        )),
        Block::say(format!(
            "{} wide in all. The backs stand plumb where the wall stands out farthest{}.",
            ctx.size(r.total_width),
            if r.stands_off.is_positive() {
                format!(
                    ", {} off it for base or crown that stays",
                    ctx.size(r.stands_off)
                )
            } else {
                String::new()
            }
        )),
    ];
    let heights = ctx.input.job.opening.iter().flat_map(|o| {
        let plumb = &o.plumb_lines;
        let read = if r.wall == "left" {
            &plumb.left_gap
        } else {
            &plumb.right_gap
        };
        let taken = plumb.height.iter().zip(read).filter(|(_, g)| g.is_some());
        taken.map(|(h, _)| *h)
    });
    let rows = heights
        .zip(&r.behind_gap)
        .enumerate()
        .map(|(i, (h, front))| {
            let back = r.behind_gap_back.get(i);
            Row::of(vec![
                ctx.size(h).into(),
                ctx.size(*front).into(),
                back.map_or_else(|| "not read".into(), |l| ctx.size(*l))
                    .into(),
            ])
        })
        .collect();
    let cols = vec![
        Col::numbers("height"),
        Col::numbers("gap behind, at the front"),
        Col::numbers("gap behind, at the back"),
    ];
    blocks.push(Block::Table(Table::new(cols, rows).sized(3.5)));
    let end = |list: &[GapAt]| {
        let words: Vec<String> = list
            .iter()
            .map(|g| match g.at.as_str() {
                "front edge" => format!("{} at the front edge", ctx.size(g.gap)),
                reading => format!("{} by the depth read at {reading}", ctx.size(g.gap)),
            })
            .collect();
        words.join(", ")
    };
    for (word, list) in [("left", &r.left_gap), ("right", &r.right_gap)] {
        if !list.is_empty() {
            blocks.push(Block::say(format!("Gap at the {word} end: {}.", end(list))));
        }
    }
    let rows = r
        .boxes
        .iter()
        .map(|b| {
            let mut cells: Vec<Cell> = vec![b.name.clone().into()];
            cells.extend(b.head_gap.all().map(|l| Cell::from(ctx.size(l))));
            Row::of(cells)
        })
        .collect();
    blocks.push(Block::Table(
        Table::new(corners("gap above box"), rows).sized(3.5),
    ));
    blocks
}

/// A shim under each corner of each box.
pub(super) fn shims(ctx: &Context, r: &SideRow) -> Vec<Block> {
    let rows = r
        .boxes
        .iter()
        .map(|b| {
            let mut cells: Vec<Cell> = vec![b.name.clone().into()];
            cells.extend(b.shims.all().map(|l| Cell::from(shim(ctx, l))));
            cells.push(Cell::Tick);
            Row::of(cells)
        })
        .collect();
    let mut cols = corners("shim under box");
    cols.push(Col::signs("done"));
    vec![
        Block::Heading(format!("Shims on the {} wall", r.wall)),
        Block::say(format!(
            "The top of the base is {} below the level line, everywhere.",
            ctx.size(r.base_below_line)
        )),
        Block::Table(Table::new(cols, rows).sized(3.5)),
    ]
}

/// Where its boxes are screwed, and behind which of their boards a stud is of no use.
pub(super) fn screws(ctx: &Context, sits: &RouteFit, r: &SideRow) -> Option<Block> {
    let ours = sits.fixing.iter().filter(|f| f.wall == r.wall);
    let each = ours.filter_map(|f| Some(format!("{} {}", f.in_box, f.in_words(ctx.tape)?)));
    let all: Vec<String> = each.collect();
    let words = || {
        format!(
            "Screws into studs, from each box's own left edge: {}.",
            all.join("; ")
        )
    };
    (!all.is_empty()).then(|| Block::say(words()))
}

fn corners(what: &str) -> Vec<Col> {
    vec![
        Col::words(what),
        Col::numbers("left front"),
        Col::numbers("right front"),
        Col::numbers("left back"),
        Col::numbers("right back"),
    ]
}
