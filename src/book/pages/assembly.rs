//! One page for each box: what goes in, in which order, how high the shelves stand, what both diagonals should read. Owns the
//! drawing of a box from the front.

use super::context::Context;
use crate::book::block::{Block, Cell, Col, Figure, PageKind, Row, Section, Table};
use crate::book::draw::{Area, Dash, Drawing, Fill, Pen, Weight, pt};
use crate::boxes::{Assembly, Drawers, assemblies, pin_size};
use crate::model::StockRow;
use crate::plan::rooms;
use crate::units::Length;

/// The largest a box is drawn.
const ROOM: [f64; 2] = [56.0, 130.0];
/// Room beside it: for its height on the left, for running heights on the right.
const BESIDE: [f64; 2] = [12.0, 58.0];
/// Room over it, for its width.
const OVER: f64 = 10.0;
/// A door, over what is behind it.
const LEAF: Pen = Pen::broken(0.25, Dash::Dashed);
/// Height of figures.
const FIGURE: f64 = 2.5;

/// A page for each box of the plan's route that has parts in the cut list.
pub(super) fn assembly(ctx: &Context) -> Vec<Section> {
    let job = ctx.input.job;
    let route = &ctx.plan().route;
    let boxes = assemblies(job, route, &rooms(job), &job.parts).unwrap_or_default();
    boxes
        .iter()
        .filter(|b| !b.pieces.is_empty())
        .map(|b| page(ctx, b))
        .collect()
}

fn page(ctx: &Context, b: &Assembly) -> Section {
    let title = format!("Box {}", b.in_box);
    let [wide, high, deep] = b.outside.map(|l| ctx.size(l));
    let mut beside = vec![
        Block::say(format!(
            "{wide} wide, {high} high, {deep} deep, in {}. Heights run from the bottom edge.",
            ctx.unit_word()
        )),
        Block::strong(format!("Both diagonals: {}", ctx.size(b.diagonal)), 3.5),
        pieces(b),
    ];
    if let Some(h) = &b.pins {
        beside.push(Block::say(format!(
            "Pin holes: {} rows of {}, {} in all; {} pins. {} to fill if only those with a pin are to stay.",
            h.rows, h.in_row, h.holes, h.pins, h.to_fill
        )));
    }
    let fine = |l: Length| pin_size(ctx.input.job.project.tape, l);
    let [into, from_back] = b.joint.rabbet;
    if into.is_positive() {
        beside.push(Block::say(format!(
            "Rabbet for the back, in each side: {} into the thickness, {} from the back edge.",
            fine(into),
            fine(from_back)
        )));
    }
    let [dado, deep] = b.joint.dado;
    if dado.is_positive() {
        beside.push(Block::say(format!(
            "Dadoes: {} wide (the board as measured), {} deep.",
            fine(dado),
            fine(deep)
        )));
    }
    if let Some(d) = &b.drawers {
        beside.push(Block::say(format!(
            "{} drawers, {} from front to back; room of {} at each side for a slide. Dashed: their boxes.",
            d.count(),
            ctx.size(d.long),
            ctx.size(d.beside)
        )));
    }
    if !b.door_fronts.is_empty() {
        beside.push(Block::say(
            "Doors dashed; of a pair the slanting lines meet at the hinges.",
        ));
    }
    let holes = ctx.holes().iter().filter(|h| h.in_box == b.in_box);
    for hole in holes {
        beside.push(Block::point("Cut-out", hole.in_words(ctx.tape)));
        let before = hole.before(ctx.tape);
        beside.extend(before.into_iter().map(|c| Block::point("!", c)));
    }
    let steps = b.steps.iter().enumerate();
    let mut blocks = vec![
        Block::Beside(front(ctx, b), beside),
        Block::Heading("In this order".into()),
    ];
    blocks.extend(steps.map(|(i, s)| Block::point(format!("{}", i + 1), s.clone())));
    if !b.later.is_empty() {
        blocks.push(Block::Heading(
            if ctx.input.job.finish.look == "none" {
                "Once it stands"
            } else {
                "Once it stands and the last coat is hard"
            }
            .into(),
        ));
        let later = b.later.iter().enumerate();
        let first = b.steps.len() + 1;
        blocks.extend(later.map(|(i, s)| Block::point(format!("{}", first + i), s.clone())));
    }
    if b.outside[1] > Length::inches(60) {
        blocks.push(Block::point(
            "!",
            "Tall: two people stand it up, and it tips until it is fixed to studs.",
        ));
    }
    Section {
        kind: PageKind::Assembly,
        title: title.clone(),
        bookmark: title,
        lying: false,
        blocks,
    }
}

fn pieces(b: &Assembly) -> Block {
    let rows = b.pieces.iter().map(|p| {
        Row::of(vec![
            p.mark.clone().into(),
            p.what.clone().into(),
            p.how_many.to_string().into(),
            Cell::Tick,
        ])
    });
    let cols = vec![
        Col::words("mark"),
        Col::words("what"),
        Col::numbers("count"),
        Col::signs("in"),
    ];
    Block::Table(Table::new(cols, rows.collect()))
}

/// The box from the front, to scale.
fn front(ctx: &Context, b: &Assembly) -> Figure {
    let [wide, high, _] = b.outside.map(Length::as_mm);
    let scale = (ROOM[0] / wide.max(1.0)).min(ROOM[1] / high.max(1.0));
    let thick = board(ctx, b).as_mm() * scale;
    let area = Area::new(BESIDE[0], OVER, wide * scale, high * scale);
    let inner = area.inset(thick);
    let mut d = Drawing::new();
    d.rect(area, Fill::None, Some(Pen::WIDE));
    d.rect(inner, Fill::None, Some(Pen::WIDE));
    let mut at = inner.x;
    let last = b.bays.len().saturating_sub(1);
    for bay in &b.bays[..last] {
        at += bay.as_mm() * scale;
        d.rect(
            Area::new(at, inner.y, thick, inner.h),
            Fill::None,
            Some(Pen::WIDE),
        );
        at += thick;
    }
    let diagonal = Pen::broken(0.25, Dash::Dashed);
    d.line(
        pt(area.x, area.y),
        pt(area.right(), area.bottom()),
        diagonal,
    );
    d.line(
        pt(area.x, area.bottom()),
        pt(area.right(), area.y),
        diagonal,
    );
    let up = |l: Length| area.bottom() - l.as_mm() * scale;
    let mut twin = vec![format!("both diagonals {}", ctx.size(b.diagonal))];
    let mut heights: Vec<(Length, String)> = Vec::new();
    for shelf in &b.shelves {
        let y = up(shelf.top);
        let pen = if shelf.fixed { Pen::WIDE } else { Pen::NARROW };
        let mut x = inner.x;
        for bay in &b.bays {
            let long = bay.as_mm() * scale;
            d.rect(Area::new(x, y, long, thick), Fill::White, Some(pen));
            x += long + thick;
        }
        let how = match (shelf.fixed, shelf.hole) {
            (true, _) => "fixed".to_owned(),
            (false, Some(n)) => format!("hole {n}"),
            (false, None) => "loose".to_owned(),
        };
        let said = format!("{}  {how}", ctx.size(shelf.top));
        twin.push(format!("shelf top at {said}"));
        heights.push((shelf.top, said));
    }
    if let Some(drawers) = &b.drawers {
        heights.extend(fronts(ctx, drawers, &mut d, area, scale, &mut twin));
    }
    doors(ctx, b, &mut d, area, scale, &mut twin);
    for hole in ctx.holes().iter().filter(|h| h.in_box == b.in_box) {
        let [x, y, w, h] = [
            hole.cut_out.from_left_edge,
            hole.cut_out.from_bottom_edge + hole.height,
            hole.cut_out.width,
            hole.height,
        ]
        .map(|l| l.as_mm() * scale);
        let at = Area::new(area.x + x, area.bottom() - y, w, h);
        d.rect(at, Fill::None, Some(Pen::broken(0.35, Dash::Dashed)));
        twin.push(format!("dashed: cut-out for {}", hole.what));
    }
    heights.sort_by_key(|(at, _)| *at);
    // Figures keep a line apart, from the lowest up.
    let mut free = f64::INFINITY;
    for (at, said) in &heights {
        let y = up(*at);
        let line = y.min(free);
        free = line - FIGURE * 1.7;
        let from = area.right() + 1.0;
        d.path(
            vec![pt(from, y), pt(from + 4.0, line), pt(from + 6.0, line)],
            Pen::NARROW,
        );
        d.say(
            pt(from + 7.0, line + FIGURE / 2.0),
            FIGURE,
            Weight::Regular,
            said,
        );
    }
    if let Some(rail) = &b.rail {
        let middle = rail.hangs_from - rail.under;
        d.line(
            pt(inner.x, up(middle)),
            pt(inner.right(), up(middle)),
            Pen::broken(0.25, Dash::Chain),
        );
        twin.push(format!("a rail, its middle at {}", ctx.size(middle)));
    }
    d.dimension(
        [area.x, area.right()],
        area.y - 4.0,
        FIGURE,
        &ctx.size(b.outside[0]),
    );
    d.dimension_up(
        area.x - 4.0,
        [area.y, area.bottom()],
        FIGURE,
        &ctx.size(b.outside[1]),
    );
    Figure {
        size: [BESIDE[0] + area.w + BESIDE[1], OVER + area.h + 3.0],
        drawing: d,
        twin,
    }
}

/// Doors as they hang before the box: what is behind stays seen, the marks of the swing meet where the hinges are.
fn doors(
    ctx: &Context,
    b: &Assembly,
    d: &mut Drawing,
    area: Area,
    scale: f64,
    twin: &mut Vec<String>,
) {
    let mm = |l: Length| l.as_mm() * scale;
    for door in &b.door_fronts {
        let [x, y] = door.at;
        let [wide, high] = door.size;
        let place = Area::new(
            area.x + mm(x),
            area.bottom() - mm(y + high),
            mm(wide),
            mm(high),
        );
        leaf(d, place, door.hung_left);
        twin.push(format!(
            "dashed: a door {} x {}, its lower edge at {}, {} from the left edge",
            ctx.size(wide),
            ctx.size(high),
            ctx.size(y),
            ctx.size(x)
        ));
    }
}

/// One door: its outline, and where it is one of a pair the two lines that meet at its hinges.
pub(super) fn leaf(d: &mut Drawing, place: Area, hung_left: Option<bool>) {
    d.rect(place, Fill::None, Some(LEAF));
    let Some(left) = hung_left else { return };
    let (hinge, free) = if left {
        (place.x, place.right())
    } else {
        (place.right(), place.x)
    };
    for end in [place.y, place.bottom()] {
        d.line(pt(free, end), pt(hinge, place.centre().y), LEAF);
    }
}

/// Drawer fronts as they stand before the box; their upper edges and the lower edges of their boxes, with words.
fn fronts(
    ctx: &Context,
    drawers: &Drawers,
    d: &mut Drawing,
    area: Area,
    scale: f64,
    twin: &mut Vec<String>,
) -> Vec<(Length, String)> {
    let mut heights = Vec::new();
    for (i, one) in drawers.each.iter().enumerate() {
        let top = one.front + one.front_high;
        let mm = |l: Length| l.as_mm() * scale;
        for bay in &drawers.bays {
            let front = Area::new(
                area.x + mm(bay.left),
                area.bottom() - mm(top),
                mm(bay.front),
                mm(one.front_high),
            );
            // Drawers behind doors have no fronts.
            if !drawers.inside {
                d.rect(front, Fill::White, Some(Pen::NARROW));
            }
            let sides = Area::new(
                front.x + (front.w - mm(bay.wide)) / 2.0,
                area.bottom() - mm(one.low + one.high),
                mm(bay.wide),
                mm(one.high),
            );
            d.rect(sides, Fill::None, Some(Pen::broken(0.25, Dash::Dashed)));
        }
        let n = i + 1;
        let said = |l: Length, what: &str| format!("{}  drawer {n}, {what}", ctx.size(l));
        if drawers.inside {
            twin.push(format!("drawer {n}: its box from {}", ctx.size(one.low)));
            heights.push((one.low, said(one.low, "box")));
            continue;
        }
        twin.push(format!(
            "drawer {n}: front from {} to {}, its box from {}",
            ctx.size(one.front),
            ctx.size(top),
            ctx.size(one.low)
        ));
        heights.push((one.low, said(one.low, "box")));
        heights.push((top, said(top, "front top")));
    }
    heights
}

/// Thickness of the box's sides, for the drawing.
fn board(ctx: &Context, b: &Assembly) -> Length {
    let side = b.pieces.first().and_then(|p| ctx.part(&p.mark));
    let row = side.and_then(|p| ctx.stock(&p.item));
    row.and_then(StockRow::thickness)
        .unwrap_or(Length::in_64(48))
}
