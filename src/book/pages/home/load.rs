//! The load page: which piece lies in which space of the car, in what order, and what it weighs.

use crate::book::block::{Block, Cell, Col, Figure, PageKind, Row, Section, Table};
use crate::book::draw::{Area, Drawing, Fill, Pen, Weight, pt, text_width};
use crate::book::pages::context::Context;
use crate::car::{Pile, Pose, StorePiece, Trip, WayHome, cartons_unknown, way_home};
use crate::model::CarSpace;
use crate::units::Unit;

/// Pieces named one by one in a row of the table; more are counted.
const NAMED: usize = 16;

/// The car, trip by trip; nothing where no space is given or nothing is fetched.
pub(in crate::book::pages) fn load(ctx: &Context) -> Vec<Section> {
    let job = ctx.input.job;
    let Some(way) = way_home(job, ctx.plan(), ctx.input.buy) else {
        return Vec::new();
    };
    let (done, all) = (&way.load, &way.all);
    let clear = job.car.clearance;
    let kept = if clear.is_positive() {
        format!(
            " {} of every space is kept clear, each way.",
            ctx.size(clear)
        )
    } else {
        String::new()
    };
    let mut blocks = Vec::new();
    if !done.trips.is_empty() {
        blocks.push(Block::say(format!(
        "Pieces as they leave the store, as large as they may turn out; sizes in {}.{kept} Weights without a figure of the maker are \
         reckoned: 3 lb a square foot for each inch of plywood, 47 lb a cubic foot of MDF or particleboard.",
        ctx.unit_word()
    )));
    }
    for (n, trip) in (1..).zip(&done.trips) {
        if done.trips.len() > 1 {
            blocks.push(Block::Heading(format!("Trip {n} of {}", done.trips.len())));
        }
        blocks.extend(trip_blocks(ctx, trip, all));
    }
    blocks.extend(stays(ctx, &way));
    blocks.push(Block::Heading("On the road".into()));
    // Common practice, no source.
    blocks.extend(
        [
            "Lift sheets and cartons with two; gloves for raw edges.",
            "Tie every pile down so that it cannot slide forward when you brake: a stop before it, a strap over it. Nobody sits beneath or before a loose pile.",
            "Nothing out of an open hatch without the flag or lamp your local rule asks for. Keep the weight within what the car's plate allows, people counted.",
            "Keep it dry: raw edges swell. At home lay it flat on battens.",
        ]
        .map(|w| Block::point("!", w.to_owned())),
    );
    vec![Section {
        kind: PageKind::Load,
        title: "Loading the car".into(),
        bookmark: "Load".into(),
        lying: false,
        blocks,
    }]
}

fn weight(ctx: &Context, grams: i64) -> String {
    match ctx.tape.unit {
        Unit::Inch => format!("{} lb", (grams * 1000 + 226_796) / 453_592),
        Unit::Mm => format!("{} kg", (grams + 500) / 1000),
    }
}

fn pose_words(pose: Pose) -> &'static str {
    match pose {
        Pose::Flat => "flat",
        Pose::OnEdge => "on edge, side by side",
        Pose::Across => "on edge, across the car",
    }
}

fn trip_blocks(ctx: &Context, trip: &Trip, all: &[StorePiece]) -> Vec<Block> {
    let car = &ctx.input.job.car;
    let mut blocks = Vec::new();
    let mut rows = Vec::new();
    let mut number = 0;
    for (s, space) in car.spaces.iter().enumerate() {
        let piles: Vec<&Pile> = trip.piles.iter().filter(|p| p.space == s).collect();
        if piles.is_empty() {
            continue;
        }
        rows.push(Row::group(format!(
            "{}, {} x {} x {}: {}",
            space.what,
            ctx.size(space.size[0]),
            ctx.size(space.size[1]),
            ctx.size(space.size[2]),
            pose_words(piles[0].pose)
        )));
        let first = number + 1;
        for pile in &piles {
            number += 1;
            rows.extend(pile_rows(ctx, number, pile, all));
        }
        blocks.push(Block::Figure(drawing(ctx, space, &piles, first)));
    }
    let limit = car.carries_grams.map_or_else(
        || "no limit is given".to_owned(),
        |g| format!("limit {}", weight(ctx, g)),
    );
    let unknown = trip
        .piles
        .iter()
        .flat_map(|p| &p.pieces)
        .any(|i| all[*i].grams.is_none());
    let least = if unknown { "at least " } else { "" };
    rows.push(Row::total(vec![
        "".into(),
        format!("Together, {limit}").into(),
        "".into(),
        "".into(),
        format!("{least}{}", weight(ctx, trip.grams)).into(),
        Cell::Text(String::new()),
    ]));
    blocks.push(Block::Table(Table::new(
        vec![
            Col::numbers("pile"),
            Col::words("in this order, the first at the bottom"),
            Col::words("size"),
            Col::numbers("count"),
            Col::numbers("weight"),
            Col::signs("in"),
        ],
        rows,
    )));
    blocks
}

/// A pile's pieces, alike ones that follow each other in one row.
fn pile_rows(ctx: &Context, number: u32, pile: &Pile, all: &[StorePiece]) -> Vec<Row> {
    let mut runs: Vec<Vec<&StorePiece>> = Vec::new();
    for piece in pile.pieces.iter().map(|i| &all[*i]) {
        match runs.last_mut() {
            Some(run) if run[0].size == piece.size && run[0].item == piece.item => run.push(piece),
            _ => runs.push(vec![piece]),
        }
    }
    let mut first = Some(number);
    let row = |run: Vec<&StorePiece>| {
        let grams: Option<i64> = run.iter().map(|p| p.grams).sum();
        let mut names: Vec<&str> = run.iter().map(|p| p.name.as_str()).collect();
        names.dedup();
        let count = run.len();
        let more = names.len().saturating_sub(NAMED);
        names.truncate(NAMED);
        let mut words = names.join(" ");
        if more > 0 {
            words.push_str(&format!(" and {more} more"));
        }
        if run[0].sheet.is_some() {
            words = format!("{words}  {}", run[0].item);
        }
        Row::of(vec![
            first
                .take()
                .map_or_else(String::new, |n| n.to_string())
                .into(),
            words.into(),
            ctx.two(run[0].size).into(),
            count.to_string().into(),
            grams
                .map_or_else(|| "not known".into(), |g| weight(ctx, g))
                .into(),
            Cell::Tick,
        ])
    };
    runs.into_iter().map(row).collect()
}

/// A space as its piles are seen: from above, or from the side they stand on.
fn drawing(ctx: &Context, space: &CarSpace, piles: &[&Pile], first: u32) -> Figure {
    let [u, v] = match piles[0].pose {
        Pose::Flat => [0, 1],
        Pose::OnEdge => [0, 2],
        Pose::Across => [1, 2],
    };
    let [long, wide] = [u, v].map(|a| space.size[a].as_mm());
    let scale = (150.0 / long).min(32.0 / wide);
    let (w, h) = (long * scale, wide * scale);
    let top = 5.0;
    let mut d = Drawing::new();
    let seen = if v == 1 {
        "from above"
    } else {
        "from the side"
    };
    let title = format!(
        "{}, {seen}: {} x {}",
        space.what,
        ctx.size(space.size[u]),
        ctx.size(space.size[v])
    );
    d.say(pt(0.0, 3.0), 2.5, Weight::Bold, &title);
    d.rect(Area::new(0.0, top, w, h), Fill::None, Some(Pen::WIDE));
    let mut twin = vec![title];
    for (n, pile) in (first..).zip(piles) {
        let [x, y, a, b] =
            [pile.at[0], pile.at[1], pile.size[0], pile.size[1]].map(|l| l.as_mm() * scale);
        let area = Area::new(x, top + y, a, b);
        d.rect(area, Fill::None, Some(Pen::solid(0.25)));
        let words = format!("pile {n}: {}", ctx.two(pile.size));
        let c = area.centre();
        let short = n.to_string();
        let text = if text_width(&words, 2.5, Weight::Regular) + 1.0 < a && b > 4.0 {
            &words
        } else {
            &short
        };
        d.say_centred(pt(c.x, c.y + 1.0), 2.5, Weight::Regular, text);
        twin.push(format!("  {words}, {} thick", ctx.size(pile.thick)));
    }
    Figure {
        size: [w.max(100.0), top + h + 2.0],
        drawing: d,
        twin,
    }
}

/// What the car does not take, why, and the ways out.
fn stays(ctx: &Context, way: &WayHome) -> Vec<Block> {
    let trips = way.trips();
    let mut blocks = Vec::new();
    for van in way
        .deliveries(ctx.input.job)
        .iter()
        .filter(|d| d.item.is_some())
    {
        if blocks.is_empty() {
            blocks.push(Block::Heading("To the door by van".into()));
        }
        let said = van.sentence();
        let mut letters = said.chars();
        let first = letters.next().map(|c| c.to_uppercase().to_string());
        blocks.push(Block::say(format!(
            "{}{}.",
            first.unwrap_or_default(),
            letters.as_str()
        )));
    }
    if way.load.trips.is_empty() && !blocks.is_empty() {
        blocks.push(Block::say("The car fetches the small goods alone."));
    }
    let trimmed = ctx.input.trim.map_or(&[][..], |t| &t.sticks);
    let cut: Vec<_> = ctx.plan().sticks.iter().chain(trimmed).collect();
    let mut hints = way.stick_hints(ctx.input.job, &cut);
    hints.extend(
        ctx.input
            .buy
            .and_then(|b| cartons_unknown(ctx.input.job, b)),
    );
    blocks.extend(hints.into_iter().map(|h| Block::point("!", h)));
    let stuck = || way.stays.iter().filter(|s| !s.delivered);
    if stuck().next().is_none() && trips < 2 {
        return blocks;
    }
    blocks.push(Block::Heading("What does not go in one trip".into()));
    if trips > 1 {
        blocks.push(Block::say(format!(
            "{trips} trips by this way of loading. A larger car, or delivery, saves the way."
        )));
    }
    let sentences = stuck().map(|s| s.sentence(&ctx.tape));
    blocks.extend(sentences.map(|s| Block::point("!", s)));
    blocks
}
