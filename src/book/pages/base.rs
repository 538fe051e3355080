//! One page for each base: its boards, where the crosspieces stand, how it goes together, how high it is levelled. Owns the drawing of
//! a base from above.

use super::context::Context;
use super::opening::shim;
use crate::book::block::{Block, Cell, Col, Figure, PageKind, Row, Section, Table};
use crate::book::draw::{Anchor, Area, Dash, Drawing, Fill, Pen, Text, Weight, pt};
use crate::book::layout::shortened;
use crate::boxes::diagonal;
use crate::plan::{Base, bases};
use crate::units::Length;

/// The largest a base is drawn, seen from above.
const ROOM: [f64; 2] = [164.0, 62.0];
/// Width of the page.
const WIDE: f64 = 178.0;
/// Height of figures.
const FIGURE: f64 = 2.5;

/// A page for each base of the plan's route.
pub(super) fn base(ctx: &Context) -> Vec<Section> {
    let all = bases(ctx.input.job, &ctx.plan().route);
    let several = all.len() > 1;
    all.iter().map(|b| page(ctx, b, several)).collect()
}

fn page(ctx: &Context, b: &Base, several: bool) -> Section {
    let l = &b.ladder;
    let title = if several {
        format!("Base on the {} wall", b.wall)
    } else {
        "Base".into()
    };
    let front = if b.setback.is_positive() {
        format!("stands {} behind the fronts above it", ctx.size(b.setback))
    } else {
        "is flush with the fronts above it".into()
    };
    let held = if b.off_wall.is_positive() {
        format!(
            " Its back stands {} off the wall, for base that stays there.",
            ctx.size(b.off_wall)
        )
    } else {
        String::new()
    };
    let short: Vec<String> = (["left", "right"].iter().zip(l.ends))
        .filter(|e| e.1.is_positive())
        .map(|(side, by)| format!("{} at its {side}", ctx.size(by)))
        .collect();
    let short = if short.is_empty() {
        String::new()
    } else {
        let by = short.join(" and ");
        format!(" It is shorter than the row by {by}, for base that stays at the walls.")
    };
    let mut blocks = vec![
        Block::say(format!(
            "{} long, {} deep, {} high, in {}, under {}. Its front {front}.{held}{short}",
            ctx.size(l.long),
            ctx.size(l.depth()),
            ctx.size(l.high),
            ctx.unit_word(),
            b.under.join(", ")
        )),
        Block::strong(
            format!("Both diagonals: {}", ctx.size(diagonal(l.long, l.depth()))),
            3.5,
        ),
        Block::Table(pieces(ctx, b)),
        Block::Figure(from_above(ctx, b)),
        Block::say(seams(ctx, b)),
        Block::Table(crosspieces(ctx, b)),
        Block::Heading("In this order".into()),
    ];
    let steps = steps(ctx, b).into_iter().enumerate();
    blocks.extend(steps.map(|(i, s)| Block::point(format!("{}", i + 1), s)));
    Section {
        kind: PageKind::Base,
        title: title.clone(),
        bookmark: title,
        lying: false,
        blocks,
    }
}

/// Its boards, with the marks of the cut list.
fn pieces(ctx: &Context, b: &Base) -> Table {
    let l = &b.ladder;
    let mut rows: Vec<Row> = Vec::new();
    let mut row = |what: &str, count: usize, long: Length| {
        let mark = b.mark(ctx.input.job, long);
        rows.push(Row::of(vec![
            mark.unwrap_or_else(|| "not in the list".into()).into(),
            what.into(),
            count.to_string().into(),
            ctx.two([long, l.high]).into(),
            Cell::Tick,
        ]));
    };
    for (side, boards) in [("front", &l.front), ("back", &l.back)] {
        for (i, long) in boards.iter().enumerate() {
            let what = match boards.len() {
                1 => side.to_owned(),
                _ => format!("{side}, piece {} from the left", i + 1),
            };
            row(&what, 1, *long);
        }
    }
    row("crosspieces", l.crosspieces.len(), l.between);
    let cols = vec![
        Col::words("mark"),
        Col::words("what"),
        Col::numbers("count"),
        Col::numbers("size"),
        Col::signs("in"),
    ];
    Table::new(cols, rows).snug()
}

/// Where two of what stands on it meet.
fn seams(ctx: &Context, b: &Base) -> String {
    let all: Vec<String> = b.ladder.seams.iter().map(|s| ctx.size(*s)).collect();
    if all.is_empty() {
        return "One box stands on it.".into();
    }
    format!("Dashed: seams above, {} from the left end.", all.join(", "))
}

/// What a crosspiece stands under.
fn over(b: &Base, n: usize) -> String {
    let l = &b.ladder;
    let last = l.crosspieces.len() - 1;
    let at = l.crosspieces[n];
    match (n, l.seams.iter().position(|s| *s == at)) {
        (0, _) => "left end".into(),
        (n, _) if n == last => "right end".into(),
        (_, Some(i)) => match (b.under.get(i), b.under.get(i + 1)) {
            (Some(left), Some(right)) => format!("seam of {left} and {right}"),
            _ => "a seam".into(),
        },
        _ => {
            let passed = l.seams.iter().filter(|s| **s < at).count();
            b.under.get(passed).cloned().unwrap_or_default()
        }
    }
}

fn crosspieces(ctx: &Context, b: &Base) -> Table {
    let read = !b.shims.is_empty();
    let marks = b.ladder.marks();
    let rows = marks.iter().enumerate().map(|(i, mark)| {
        let mut cells: Vec<Cell> = vec![
            (i + 1).to_string().into(),
            ctx.size(*mark).into(),
            over(b, i).into(),
        ];
        if read {
            let side = |l: Option<Length>| l.map_or("check".into(), |l| shim(ctx, l));
            cells.extend(b.shims[i].map(|l| Cell::from(side(l))));
        }
        cells.push(Cell::Tick);
        Row::of(cells)
    });
    let mut cols = vec![
        Col::numbers("crosspiece"),
        Col::numbers("left face at"),
        Col::words("stands under"),
    ];
    if read {
        cols.push(Col::numbers("shim, front"));
        cols.push(Col::numbers("shim, back"));
    }
    cols.push(Col::signs("done"));
    Table::new(cols, rows.collect())
}

fn steps(ctx: &Context, b: &Base) -> Vec<String> {
    let l = &b.ladder;
    let sizes = |list: &[Length]| {
        let all: Vec<String> = list.iter().map(|s| ctx.size(*s)).collect();
        all.join(" and ")
    };
    let mut steps = Vec::new();
    let joined = l.joined();
    let [front, back] = &joined;
    if !front.is_empty() || !back.is_empty() {
        steps.push(format!(
            "Join the front at {}, the back at {} from the left end: the ends meet in the middle of a crosspiece; behind each joint a block as high as the base, glued and screwed to both pieces.",
            sizes(front),
            sizes(back)
        ));
    }
    steps.push(
        "Clamp front and back together, edges up, and mark the left face of every crosspiece on both at once, an X to the right of each mark."
            .into(),
    );
    let rules = ctx.input.finish.map_or(&[][..], |f| &f.goods);
    let screw = rules.iter().find(|g| g.what == "case screws");
    let screw = screw.and_then(|g| g.item.as_deref());
    steps.push(format!(
        "Glue and screw every crosspiece on its X: 2 screws through the front and 2 through the back, drilled first, {} in all{}.",
        4 * l.crosspieces.len(),
        screw.map_or_else(String::new, |s| format!(" ({s})"))
    ));
    steps.push("Lay it flat, push it till both diagonals read alike, and let the glue set.".into());
    let height = match (b.below_line, b.above_lowest) {
        (Some(below), Some(above)) => format!(
            " Its top is then {} below the level line, everywhere: {} above the highest floor, {} above the lowest under it.",
            ctx.size(below),
            ctx.size(l.high),
            ctx.size(above)
        ),
        (Some(below), None) => format!(
            " Its top is then {} below the level line, everywhere; the shims are under the corners of the boxes, on the page of levels.",
            ctx.size(below)
        ),
        _ => String::new(),
    };
    steps.push(format!(
        "Set it in its place and level it, along the front, along the back and across: a pair of wedges, one from each side, under both ends of every crosspiece.{height}"
    ));
    let open: Vec<Length> = l.seams.iter().copied().filter(|s| !l.carries(*s)).collect();
    if !open.is_empty() {
        steps.push(format!(
            "No crosspiece stands under the seam at {} from the left end: wedge front and back there too.",
            sizes(&open)
        ));
    }
    steps.push(
        "Fix it so that it cannot slide: to studs where its back meets the wall, or to blocks screwed to the floor inside it. Know first what runs in that floor and wall. Cut the wedges flush."
            .into(),
    );
    steps
}

/// Writes words at the first of these spots that is on the page and free; at none, where there is none.
fn write(
    d: &mut Drawing,
    taken: &mut Vec<Area>,
    (words, weight): (&str, Weight),
    spots: &[(f64, f64, Anchor)],
) {
    let text = |(x, y, anchor): &(f64, f64, Anchor)| {
        Text::new(pt(*x, *y), FIGURE, weight, words).anchored(*anchor)
    };
    let free = |t: &Text| {
        let area = t.area();
        let inside = area.x >= 0.0 && area.right() <= WIDE;
        inside && !taken.iter().any(|other| other.meets(&area))
    };
    if let Some(text) = spots.iter().map(text).find(free) {
        taken.push(text.area());
        d.text(text);
    }
}

/// From above, the front nearest.
fn from_above(ctx: &Context, b: &Base) -> Figure {
    let l = &b.ladder;
    let [long, deep] = [l.long, l.depth()].map(Length::as_mm);
    let scale = (ROOM[0] / long.max(1.0)).min(ROOM[1] / deep.max(1.0));
    let mm = |l: Length| l.as_mm() * scale;
    let area = Area::new(6.0, 12.0, long * scale, deep * scale);
    let thick = mm(l.thick);
    let mut d = Drawing::new();
    let mut twin = vec!["From above, the front nearest. From the left end:".to_owned()];
    let board = |y: f64| Area::new(area.x, y, area.w, thick);
    d.rect(board(area.y), Fill::Light, Some(Pen::WIDE));
    d.rect(board(area.bottom() - thick), Fill::Light, Some(Pen::WIDE));
    for (joints, y, side) in [
        (&l.joined()[0], area.bottom() - thick, "front"),
        (&l.joined()[1], area.y, "back"),
    ] {
        for joint in joints {
            let x = area.x + mm(*joint);
            d.line(pt(x, y - 1.0), pt(x, y + thick + 1.0), Pen::WIDE);
            twin.push(format!("{side} joined at {}", ctx.size(*joint)));
        }
    }
    let dashed = Pen::broken(0.25, Dash::Dashed);
    let mut taken: Vec<Area> = Vec::new();
    let mut from = Length::ZERO;
    for (i, name) in b.under.iter().enumerate() {
        let to = l.seams.get(i).copied().unwrap_or(l.long);
        let middle = area.x + mm(from + to) / 2.0;
        let name = shortened(name, FIGURE, Weight::Bold, mm(to - from) - 3.0);
        let spot = (middle, area.y - 6.0, Anchor::Centre);
        write(&mut d, &mut taken, (&name, Weight::Bold), &[spot]);
        if to < l.long {
            let x = area.x + mm(to);
            d.line(pt(x, area.y - 9.0), pt(x, area.bottom() + 2.0), dashed);
        }
        from = to;
    }
    let back = (area.x, area.y - 1.5, Anchor::Left);
    write(&mut d, &mut taken, ("back", Weight::Regular), &[back]);
    for (i, mark) in l.marks().iter().enumerate() {
        let x = area.x + mm(*mark);
        let inner = area.h - 2.0 * thick;
        let place = Area::new(x, area.y + thick, thick, inner);
        d.rect(place, Fill::White, Some(Pen::WIDE));
        // Where there is no room the table has it.
        let number = (i + 1).to_string();
        let y = area.centre().y + 1.0;
        let beside = [
            (x + thick + 1.0, y, Anchor::Left),
            (x - 1.0, y, Anchor::Right),
        ];
        write(&mut d, &mut taken, (&number, Weight::Bold), &beside);
        let rows = [5.5, 9.5, 13.5].map(|low| area.bottom() + low);
        let right = area.right() + 6.0;
        let spots = rows.map(|y| (x - 1.0, y, Anchor::Left));
        let ends = rows.map(|y| (right, y, Anchor::Right));
        let spots: Vec<_> = spots.into_iter().chain(ends).collect();
        let words = ctx.size(*mark);
        write(&mut d, &mut taken, (&words, Weight::Regular), &spots);
        d.line(
            pt(x, area.bottom()),
            pt(x, area.bottom() + 2.5),
            Pen::NARROW,
        );
        twin.push(format!(
            "crosspiece {}: left face at {words}, {}",
            i + 1,
            over(b, i)
        ));
    }
    // From the page's own edge: it is longer than a short base.
    d.say(
        pt(0.0, area.bottom() + 18.0),
        FIGURE,
        Weight::Regular,
        "front: left faces of the crosspieces, from the left end",
    );
    Figure {
        size: [WIDE, area.bottom() + 21.0],
        drawing: d,
        twin,
    }
}
