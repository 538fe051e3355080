//! Base, level and shims: the one line that replaces the shim table printed largest, then the table, the boxes in order, studs.

use crate::book::block::{Block, Cell, Col, Figure, PageKind, Row, Section, Table};
use crate::book::draw::{Anchor, Drawing, Fill, Pen, Weight, pt};
use crate::book::pages::context::Context;
use crate::opening::{Fixing, RouteFit, shim_stack};
use crate::plan::Fitted;
use crate::units::{Length, Unit};

use super::ground::figure;
use super::sides;

/// None where the route has no row on the back wall.
pub(in crate::book::pages) fn level(ctx: &Context) -> Vec<Section> {
    let Some(fitted) = ctx.input.fitted else {
        return Vec::new();
    };
    let Some(sits) = fitted.route(&ctx.plan().route).map(|r| &r.sits) else {
        return Vec::new();
    };
    let (Some(row), Some(below)) = (&sits.row, sits.base_below_line) else {
        return Vec::new();
    };
    let shape = &fitted.survey.shape;
    let points = shape.front.floor.points();
    let mut blocks = vec![
        Block::strong(
            if row.base_height.is_positive() {
                format!(
                    "The top of the base is {} below the level line, everywhere.",
                    ctx.size(below)
                )
            } else {
                format!(
                    "No base: what stands on the floor stands {} below the level line, everywhere.",
                    ctx.size(below)
                )
            },
            6.0,
        ),
        Block::say(
            "[ ] checked left front   [ ] middle front   [ ] right front   [ ] left back   [ ] middle back   [ ] right back",
        ),
        Block::Gap(2.0),
    ];
    if let Some(highest) = points.iter().min_by_key(|p| p.1) {
        let first = points.first().map_or(highest.0, |p| p.0);
        let place = match (
            points.first() == Some(highest),
            points.last() == Some(highest),
        ) {
            (true, _) => "at the left".to_owned(),
            (_, true) => "at the right".to_owned(),
            _ => format!("{} from the left wall", ctx.size(highest.0 - first)),
        };
        blocks.push(Block::strong(
            format!(
                "Start {place}: the floor is highest there.{}",
                if row.base_height.is_positive() {
                    format!(" Base {}.", ctx.size(row.base_height))
                } else {
                    String::new()
                }
            ),
            3.5,
        ));
    }
    blocks.push(Block::Figure(floor(ctx, sits, fitted)));
    let gauges = match ctx.tape.unit {
        Unit::Inch => vec![Length::in_64(16), Length::in_64(8), Length::in_64(4)],
        Unit::Mm => vec![Length::mm(5), Length::mm(3), Length::mm(2), Length::mm(1)],
    };
    let first = points.first().map_or(Length::ZERO, |p| p.0);
    let rows = points
        .iter()
        .zip(&sits.shims)
        .enumerate()
        .map(|(i, ((x, _), shim))| {
            let stack: Vec<String> = shim_stack(*shim, &gauges)
                .0
                .iter()
                .map(|l| ctx.size(*l))
                .collect();
            let made = if stack.is_empty() {
                "nothing".into()
            } else {
                stack.join(" + ")
            };
            let back = sits
                .shims_back
                .get(i)
                .map_or_else(|| "not read: check".into(), |l| ctx.size(*l));
            Row::of(vec![
                ctx.size(*x - first).into(),
                self::shim(ctx, *shim).into(),
                made.into(),
                back.into(),
                Cell::Tick,
            ])
        })
        .collect();
    let cols = vec![
        Col::numbers("from left wall"),
        Col::numbers("shim, front"),
        Col::words("flat shims"),
        Col::numbers("shim, back"),
        Col::signs("done"),
    ];
    blocks.push(Block::Table(Table::new(cols, rows).sized(3.5)));
    blocks.extend(boxes(ctx, sits));
    for r in &sits.side_rows {
        blocks.extend(sides::shims(ctx, r));
        blocks.extend(sides::screws(ctx, sits, r));
    }
    blocks.push(Block::point(
        "!",
        "Tall boxes tip until they are screwed to studs or to blocking across them. Two people. Hollow walls alone hold nothing.",
    ));
    vec![Section {
        kind: PageKind::Level,
        title: "Base, level and shims".into(),
        bookmark: "Level and shims".into(),
        lying: false,
        blocks,
    }]
}

/// The boxes in the order they are set, with what lies under their ends and the studs behind them.
fn boxes(ctx: &Context, sits: &RouteFit) -> Vec<Block> {
    let Some(row) = &sits.row else {
        return Vec::new();
    };
    // Frames of one kind share a name: each is taken once.
    let mut left: Vec<usize> = (0..row.boxes.len()).collect();
    let mut rows = Vec::new();
    for (n, name) in sits.setting_order.iter().enumerate() {
        let Some(at) = left.iter().position(|i| &row.boxes[*i].name == name) else {
            continue;
        };
        let i = left.remove(at);
        let [a, b] = sits.box_shims.get(i).copied().unwrap_or_default();
        let fixed = |f: &&Fixing| f.wall == "back" && f.box_number == i + 1;
        let behind = sits.fixing.iter().find(fixed);
        let behind = behind.and_then(|f| f.in_words(ctx.tape));
        let behind = behind.unwrap_or_else(|| "none known".into());
        rows.push(Row::of(vec![
            (n + 1).to_string().into(),
            name.clone().into(),
            shim(ctx, a).into(),
            shim(ctx, b).into(),
            behind.into(),
            Cell::Tick,
        ]));
    }
    // With a base the boxes stand on it, level: the shims are those of the table above, where each box ends.
    let based = row.base_height.is_positive();
    let [left, right] = if based {
        ["base shim at its left", "at its right"]
    } else {
        ["under its left", "under its right"]
    };
    let cols = vec![
        Col::numbers("set"),
        Col::words("box"),
        Col::numbers(left),
        Col::numbers(right),
        Col::words("screws into studs, from its own left edge"),
        Col::signs("done"),
    ];
    let mut out = vec![
        Block::Heading("Setting the boxes".into()),
        Block::say(if based {
            "The boxes stand on the level base without shims of their own: what is named here lies under the base, where each box ends."
        } else {
            "Each box is shimmed, or its feet are screwed out, by what is named here."
        }),
        Block::Table(Table::new(cols, rows).sized(3.5)),
    ];
    // Holes and shelves are counted from the bottom edge: where bottoms are not level, so much do they step (trade: 1/4 in 96 is
    // 1/16 from one cabinet of 24 to the next).
    let lefts: Vec<Length> = sits.box_shims.iter().map(|s| s[0]).collect();
    let step = lefts.windows(2).map(|w| (w[1] - w[0]).abs()).max();
    if let Some(step) = step.filter(|s| !based && s.is_positive()) {
        out.push(Block::say(format!(
            "Rows of holes and shelves line up from one to the next only while the bottoms are level: set on the bare floor they would step by up to {}.",
            ctx.tape.print_up(step)
        )));
    }
    out
}

/// A shim: what is less than a mark is nothing.
pub(in crate::book::pages) fn shim(ctx: &Context, l: Length) -> String {
    if l < ctx.tape.mark / 2 {
        "0".into()
    } else {
        ctx.size(l)
    }
}

/// The floor ten times as uneven as it is, and the level base on it.
fn floor(ctx: &Context, sits: &RouteFit, fitted: &Fitted) -> Figure {
    const WIDE: f64 = 150.0;
    let points = fitted.survey.shape.front.floor.points();
    let (first, last) = (
        points.first().map_or(0.0, |p| p.0.as_mm()),
        points.last().map_or(1.0, |p| p.0.as_mm()),
    );
    let per = WIDE / (last - first).max(1.0);
    let most = sits.shims.iter().map(|s| s.as_mm()).fold(0.0, f64::max);
    // Ten times the run's own scale, but never higher than a thumb.
    let tall = (10.0 * per).min(22.0 / most.max(0.1));
    let mut d = Drawing::new();
    let place = |x: Length| 14.0 + (x.as_mm() - first) * per;
    d.rect(
        crate::book::draw::Area::new(14.0, 6.0, WIDE, 5.0),
        Fill::Light,
        Some(Pen::WIDE),
    );
    d.say_centred(
        pt(14.0 + WIDE / 2.0, 10.0),
        2.5,
        Weight::Regular,
        if sits
            .row
            .as_ref()
            .is_some_and(|r| r.base_height.is_positive())
        {
            "base, level"
        } else {
            "what stands on the floor, level"
        },
    );
    let line = points
        .iter()
        .zip(&sits.shims)
        .map(|((x, _), s)| pt(place(*x), 11.0 + s.as_mm() * tall));
    d.path(line.collect(), Pen::WIDE);
    let low = 11.0 + most * tall + 5.0;
    for ((x, _), shim) in points.iter().zip(&sits.shims) {
        let x = place(*x);
        d.line(pt(x, 11.0), pt(x, low - 3.5), Pen::NARROW);
        figure(&mut d, pt(x, low), Anchor::Centre, &ctx.size(*shim), false);
    }
    d.say(
        pt(0.0, 3.0),
        2.5,
        Weight::Bold,
        "NOT TO SCALE: the floor's errors are enlarged",
    );
    Figure {
        size: [178.0, low + 4.0],
        drawing: d,
        twin: vec!["The floor under the level base, shims as in the table.".into()],
    }
}
