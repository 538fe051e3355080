//! How the route stands in the opening: elevation with gaps, then plan and section, standing up and the way in.

use super::ground::{CHAIN, DASHED, Outline, View, apart, bar, figure, rise, span};
use super::{missing, plan, section as through, side_view, sides};
use crate::book::block::{Block, Col, Figure, PageKind, Row, Section, Table};
use crate::book::draw::{Anchor, Drawing, Fill, Pen, Weight, pt};
use crate::book::pages::assembly::leaf;
use crate::book::pages::context::Context;
use crate::boxes::{Assembly, assemblies};
use crate::opening::{RouteFit, Row as Boxes, Shape, Side, StandUp, WantMet};
use crate::plan::rooms;
use crate::units::Length;

/// Where the route cannot be placed, what is missing for it.
pub(in crate::book::pages) fn stands(ctx: &Context) -> Vec<Section> {
    let Some(fitted) = ctx.input.fitted else {
        return Vec::new();
    };
    let route = &ctx.plan().route;
    let Some(sits) = fitted.route(route).map(|r| &r.sits) else {
        return Vec::new();
    };
    let shape = &fitted.survey.shape;
    let figure = sits
        .row
        .as_ref()
        .and_then(|row| elevation(ctx, shape, sits, row));
    if figure.is_none() && sits.side_rows.is_empty() {
        return vec![section(route, missing::what_is_missing(ctx, fitted, sits))];
    }
    let alone = figure.is_none();
    let mut blocks: Vec<Block> = figure.map(Block::Figure).into_iter().collect();
    if let Some(why) = &sits.why_not {
        blocks.push(Block::strong(format!("IT DOES NOT FIT. {why}"), 3.5));
        blocks.extend(
            sits.mends
                .iter()
                .map(|m| Block::point("Would mend it:", m.clone())),
        );
    }
    if let Some(opening) = &ctx.input.job.opening {
        blocks.extend(plan::looking_down(ctx, opening, fitted, sits).map(Block::Figure));
    }
    if let Some(row) = &sits.row {
        let run = ctx.input.job.runs.iter().find(|r| &r.route == route);
        let setback = run.map_or(Length::ZERO, |r| r.base_setback);
        let right = standing(ctx, sits);
        match through::through(ctx, fitted, (sits, row), setback) {
            Some(f) => blocks.push(Block::Beside(f, right)),
            None => blocks.extend(right),
        }
    }
    for r in &sits.side_rows {
        blocks.extend(side_view::facing(ctx, fitted, sits, r).map(Block::Figure));
        blocks.extend(sides::gaps(ctx, r));
        if alone {
            blocks.extend(sides::shims(ctx, r));
        }
    }
    blocks.extend(sits.standing_ways.iter().map(|w| {
        Block::say(format!(
            "Before the boxes on the {} wall: {} clear to stand in, to {}.",
            w.wall,
            ctx.size(w.clear),
            w.to
        ))
    }));
    if alone {
        blocks.extend(standing(ctx, sits));
    }
    blocks.extend(sits.notes.iter().map(|n| Block::say(n.clone())));
    blocks.extend(wants(ctx, sits));
    blocks.extend(sits.cautions.iter().map(|c| Block::point("!", c.clone())));
    vec![section(route, blocks)]
}

/// The title of the page, as other pages name it.
pub(in crate::book::pages) fn stands_title(route: &str) -> String {
    format!("How it stands in the opening: {route}")
}

fn section(route: &str, blocks: Vec<Block>) -> Section {
    Section {
        kind: PageKind::Stands,
        title: stands_title(route),
        bookmark: "How it stands".into(),
        lying: false,
        blocks,
    }
}

/// What she wants, and what the route gives of it.
fn wants(ctx: &Context, sits: &RouteFit) -> Vec<Block> {
    if sits.wants.is_empty() {
        return Vec::new();
    }
    let row = |w: &WantMet| {
        let [wanted, given] = w.in_words(ctx.tape);
        let met = if w.met { "MET" } else { "SHORT" };
        let cells = vec![
            w.what.clone().into(),
            wanted.into(),
            given.into(),
            met.into(),
        ];
        if w.met {
            Row::of(cells)
        } else {
            Row::total(cells)
        }
    };
    let cols = vec![
        Col::words("what is wanted"),
        Col::numbers("wanted"),
        Col::numbers("given"),
        Col::words(""),
    ];
    vec![
        Block::Heading("What it holds".into()),
        Block::Table(Table::new(cols, sits.wants.iter().map(row).collect()).snug()),
    ]
}

/// The route's boxes, where they are drawn.
pub(super) fn drawn(ctx: &Context) -> Vec<Assembly> {
    let job = ctx.input.job;
    assemblies(job, &ctx.plan().route, &rooms(job), &job.parts).unwrap_or_default()
}

fn elevation(ctx: &Context, shape: &Shape, sits: &RouteFit, row: &Boxes) -> Option<Figure> {
    let front = &shape.front;
    let outline = Outline::of(front)?;
    let (v, scale) = outline.elevation(ctx.tape.unit);
    let (low, high) = outline.extent();
    let mut d = Drawing::new();
    let mut twin = vec!["Elevation, from the front. Boxes from the left:".to_owned()];
    outline.draw(&mut d, &v, Pen::WIDE);
    let (start, end) = row.ends()?;
    let base = -row.base_below_line;
    if row.base_height.is_positive() {
        d.rect(
            v.area(
                (start, base - row.base_height),
                [row.width(), row.base_height],
            ),
            Fill::None,
            Some(Pen::WIDE),
        );
    }
    let line = v.y(Length::ZERO);
    d.line(
        pt(v.x(low.0) - 4.0, line),
        pt(v.x(high.0) + 4.0, line),
        CHAIN,
    );
    let boxes = drawn(ctx);
    let floor = v.y(low.1);
    for (i, b) in row.boxes.iter().enumerate() {
        let area = v.area((b.x, base), [b.width, b.height]);
        d.rect(area, Fill::None, Some(Pen::WIDE));
        let mut said = format!(
            "  {}: {} wide, {} high",
            b.name,
            ctx.size(b.width),
            ctx.size(b.height)
        );
        let own = boxes.iter().find(|a| a.in_box == b.name);
        // Fronts first: the heights of shelves are written over their lines.
        let before = own.map_or_else(String::new, |own| fronts(&mut d, ctx, own, (&v, b.x, base)));
        for shelf in own.iter().flat_map(|a| &a.shelves) {
            let y = v.y(base + shelf.top);
            let pen = if shelf.fixed { Pen::WIDE } else { DASHED };
            d.line(pt(area.x, y), pt(area.right(), y), pen);
            let at = pt(area.x + 1.5, y - 0.9);
            figure(&mut d, at, Anchor::Left, &ctx.size(shelf.top), false);
            let word = if shelf.fixed { "fixed" } else { "loose" };
            said += &format!(", {word} shelf top at {}", ctx.size(shelf.top));
        }
        said += &before;
        twin.push(said);
        figure(
            &mut d,
            pt(area.centre().x, line - 1.8),
            Anchor::Centre,
            &b.name,
            false,
        );
        let holes = sits.cut_outs.iter().filter(|c| c.wall == "back");
        for c in holes.filter(|c| c.box_number == i + 1) {
            let at = (b.x + c.from_left_edge, base + c.from_bottom_edge);
            d.rect(v.area(at, [c.width, c.height]), Fill::None, Some(DASHED));
        }
        let x = [v.x(b.x), v.x(b.x + b.width)];
        span(&mut d, x, floor + 6.0, 0.5, &ctx.size(b.width), false);
    }
    span(
        &mut d,
        [v.x(start), v.x(end)],
        floor + 12.0,
        0.5,
        &ctx.size(row.width()),
        false,
    );
    let (top, bottom) = (v.y(row.top()), v.y(base));
    let x = v.x(end) - 6.0;
    rise(
        &mut d,
        x,
        [top, bottom],
        0.36,
        &ctx.size(row.height()),
        false,
    );
    if row.base_height.is_positive() {
        let foot = v.y(base - row.base_height);
        figure(
            &mut d,
            pt(v.x(end) - 12.0, f64::midpoint(bottom, foot) + 1.2),
            Anchor::Centre,
            &format!("base {}", ctx.size(row.base_height)),
            false,
        );
    }
    for ((x, up), gap) in front.ceiling.points().iter().zip(&sits.head_gap) {
        let paper = v.x(*x).clamp(v.x(start) + 6.0, v.x(end) - 14.0);
        let y = v.y(*up) - 3.0;
        d.line(pt(paper, v.y(*up)), pt(paper, top), Pen::NARROW);
        figure(&mut d, pt(paper, y), Anchor::Centre, &ctx.size(*gap), false);
        twin.push(format!("  gap above: {}", ctx.size(*gap)));
    }
    for (side, edge) in [(Side::Left, low.0), (Side::Right, high.0)] {
        let (trace, zero, gaps) = if side == Side::Left {
            (&front.left, front.left_zero, &sits.left_gap)
        } else {
            (&front.right, front.right_zero, &sits.right_gap)
        };
        let way = if side == Side::Left { -1.0 } else { 1.0 };
        let anchor = if side == Side::Left {
            Anchor::Right
        } else {
            Anchor::Left
        };
        let (near, far) = (v.x(edge) + way * 2.5, v.x(edge) + way * 21.0);
        let labels = apart(
            trace.points().iter().map(|(h, _)| v.y(*h + zero)).collect(),
            4.4,
        );
        for (((h, _), gap), y) in trace.points().iter().zip(gaps).zip(labels) {
            figure(&mut d, pt(near, y + 1.2), anchor, &ctx.size(*gap), false);
            figure(&mut d, pt(far, y + 1.2), anchor, &ctx.size(*h), false);
            let word = if side == Side::Left { "left" } else { "right" };
            twin.push(format!(
                "  gap {word} at {}: {}",
                ctx.size(*h),
                ctx.size(*gap)
            ));
        }
        let head = v.y(high.1) - 9.0;
        figure(&mut d, pt(near, head), anchor, "gap", false);
        figure(&mut d, pt(far, head), anchor, "at", false);
    }
    let foot = floor + 20.0;
    bar(&mut d, pt(v.x(low.0), foot), ctx.tape.unit, scale);
    let legend = "Gaps from the box to the wall, at heights above the floor. Shelves: height of the top from the box's bottom edge.";
    d.say(pt(0.0, foot + 5.0), 2.5, Weight::Regular, legend);
    Some(Figure {
        size: [178.0, foot + 7.0],
        drawing: d,
        twin,
    })
}

/// Doors and drawer fronts before a box; what the text twin says of them.
pub(super) fn fronts(
    d: &mut Drawing,
    ctx: &Context,
    own: &Assembly,
    (v, x, base): (&View, Length, Length),
) -> String {
    let mut said = String::new();
    for door in &own.door_fronts {
        let place = v.area((x + door.at[0], base + door.at[1]), door.size);
        leaf(d, place, door.hung_left);
        said += &format!(
            ", door {} from {} up",
            ctx.two(door.size),
            ctx.size(door.at[1])
        );
    }
    if let Some(drawers) = own.drawers.as_ref().filter(|d| !d.inside) {
        for one in &drawers.each {
            for bay in &drawers.bays {
                let place = v.area(
                    (x + bay.left, base + one.front),
                    [bay.front, one.front_high],
                );
                d.rect(place, Fill::None, Some(DASHED));
            }
            said += &format!(", drawer front from {} up", ctx.size(one.front));
        }
    }
    said
}

/// Standing up, the way in and the cut-outs, as tables.
fn standing(ctx: &Context, sits: &RouteFit) -> Vec<Block> {
    let mut blocks = Vec::new();
    let verdict = |goes: bool| if goes { "goes" } else { "WILL NOT" };
    if !sits.stand_up.is_empty() {
        // What does not go stands first; a way that goes is no answer where no box gets on to its base.
        let mut ways: Vec<&StandUp> = sits.stand_up.iter().collect();
        ways.sort_by_key(|s| s.goes);
        let rows = ways
            .into_iter()
            .map(|s| {
                let enough = if s.goes && !sits.can_be_stood {
                    "goes, not enough"
                } else {
                    verdict(s.goes)
                };
                Row::of(vec![
                    s.what.clone().into(),
                    s.place.clone().into(),
                    ctx.tape.print_up(s.diagonal).into(),
                    ctx.size(s.ceiling).into(),
                    enough.into(),
                ])
            })
            .collect();
        let cols = vec![
            Col::words("standing up"),
            Col::words("where"),
            Col::numbers("needs"),
            Col::numbers("there is"),
            Col::words(""),
        ];
        blocks.push(Block::Table(Table::new(cols, rows)));
    }
    if !sits.way_in.is_empty() {
        let rows = sits
            .way_in
            .iter()
            .map(|p| {
                let how = format!("{}, {}", verdict(p.goes), p.how);
                Row::of(vec![
                    p.what.clone().into(),
                    p.through.clone().into(),
                    how.into(),
                ])
            })
            .collect();
        let cols = vec![
            Col::words("the way in"),
            Col::words("through"),
            Col::words(""),
        ];
        blocks.push(Block::Table(Table::new(cols, rows)));
    }
    for c in &sits.cut_outs {
        blocks.push(Block::say(c.in_words(ctx.tape)));
    }
    blocks
}
