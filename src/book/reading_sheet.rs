//! The blank reading sheet: where to hold the tape, in the order that saves steps, with a line to write on for each reading.
//! Owns the order of the walk: level line from left to right, left wall up, right wall down, the tape across while she stands
//! there, depths, diagonals with a helper, what is in the way, the way out. Must not know a job.

use super::block::{Block, Cell, Col, PageKind, Row, Section, Table};
use super::draw::{Leaf, PdfFacts, to_pdf, visible};
use super::layout::{Foot, lay, put_foot};
use super::pages::stationery::LabelOptions;
use crate::model::Paper;
use crate::units::Unit;

/// The sheet as a PDF, for a job of that name read in that unit.
pub fn reading_sheet(name: &str, unit: Unit, paper: Paper) -> Vec<u8> {
    let section = section(unit);
    let mut pages = lay(&section, paper, LabelOptions::default());
    let foot = Foot {
        job: name.to_owned(),
        ..Foot::default()
    };
    let total = pages.len();
    for (i, page) in pages.iter_mut().enumerate() {
        put_foot(page, &foot, i + 1, total);
    }
    let leaves: Vec<Leaf> = pages
        .iter()
        .map(|page| Leaf {
            size: page.frame.paper,
            items: page.drawing.items.clone(),
            bookmark: if page.first {
                section.bookmark.clone()
            } else {
                String::new()
            },
        })
        .collect();
    let facts = PdfFacts {
        title: visible(&format!("{name}: reading sheet")),
        author: String::new(),
        made_at: 0,
    };
    to_pdf(&leaves, &facts)
}

fn section(unit: Unit) -> Section {
    let (unit_word, heights) = match unit {
        Unit::Inch => (
            "inches",
            [
                "0, the floor",
                "24",
                "48",
                "72",
                "____ , just under the ceiling",
            ],
        ),
        Unit::Mm => (
            "millimetres",
            [
                "0, the floor",
                "600",
                "1200",
                "1800",
                "____ , just under the ceiling",
            ],
        ),
    };
    let mut blocks = vec![Block::say(format!(
        "Readings in {unit_word}. Write ? for what you cannot reach; full or shy for a hair over or under. Front is the front edge \
         of the opening; read the back too where it is deeper than a foot, for boxes on a side wall always. Type them into project.toml and \
         run survey before the line comes down."
    ))];
    let mut n = 0;
    // `back`: the place is read at the back wall too.
    let mut step = |heading: &str, places: Vec<String>, back: bool| {
        blocks.push(Block::Heading(heading.to_owned()));
        let rows = places.into_iter().map(|place| {
            n += 1;
            let mut cells = vec![Cell::Text(n.to_string()), place.into(), Cell::Blank];
            if back {
                cells.push(Cell::Blank);
            }
            Row::of(cells)
        });
        let mut cols = vec![
            Col::numbers(""),
            Col::words("hold the tape"),
            Col::words("front"),
        ];
        if back {
            cols.push(Col::words("back"));
        } else {
            cols[2] = Col::words("reading");
        }
        blocks.push(Block::Table(Table::new(cols, rows.collect()).sized(2.7)));
    };
    let told = |list: &[&str]| -> Vec<String> { list.iter().map(|s| (*s).to_owned()).collect() };
    let line = ["left wall", "middle", "right wall"];
    let both = line.iter().flat_map(|p| {
        [
            format!("{p}: line down to floor"),
            format!("{p}: line up to ceiling"),
        ]
    });
    step(
        "Strike one level line round the opening; walk left to right",
        both.collect(),
        true,
    );
    step(
        "Hang two plumb lines near the side walls",
        told(&["between the two lines"]),
        false,
    );
    let wall = |side: &str| heights.map(|h| format!("{side} line out to the wall, at {h}"));
    step("Left wall, going up", wall("left").into(), true);
    let mut down = wall("right");
    down.reverse();
    step("Right wall, coming down", down.into(), true);
    let across = [4, 2, 0].map(|i| format!("wall to wall with the tape, at {}", heights[i]));
    step("Tape across, to catch a slip", across.into(), false);
    step(
        "Diagonals, with a helper",
        told(&["low left to high right", "low right to high left"]),
        false,
    );
    step(
        "Depth, front edge to back wall",
        line.map(str::to_owned).into(),
        false,
    );
    let thing = |what: &str| format!("{what}: from left ____  up ____  wide ____  high ____");
    step(
        "In the way: outlet, switch, vent, pipe, hatch, lamp, old base",
        vec![
            thing("________"),
            thing("________"),
            thing("________"),
            "step in the ceiling: from left ____  wide ____  down ____  deep ____".into(),
        ],
        false,
    );
    step(
        "There now: strike out what is not there; ring what stays",
        told(&[
            "old shelf: stays / comes off; sound length ____  width ____  thick ____",
            "old rod: stays / comes off; sound length ____",
            "old base: stays / comes off; walls ____  high ____  thick ____",
            "old crown: stays / comes off; walls ____  high ____  thick ____",
            "wall to patch behind them: ____",
        ]),
        false,
    );
    step(
        "Studs from the left end of each wall, at two heights",
        told(&[
            "wall ____ , ____ up: ____  ____  ____  ____  ____",
            "wall ____ , ____ up: ____  ____  ____  ____  ____",
        ]),
        false,
    );
    step(
        "Its own doorway, where it has one, and the way out",
        told(&[
            "own door between the stops, leaf open: wide ____  high ____  trim ____",
            "own door swings in / out / none; front / left / right wall, from its left end ____",
            "each door: wide ____  high ____",
            "tightest turn: longest thing that passes",
            "ceiling where boxes are stood up, and clear floor there",
        ]),
        false,
    );
    Section {
        kind: PageKind::Opening,
        title: "Reading sheet".into(),
        bookmark: "Reading sheet".into(),
        lying: false,
        blocks,
    }
}
