//! The sheet that goes across the counter: which cuts, on which sheets, what matters and what does not.
//! Owns the wording and the small drawings; the cuts are the plan's.

use crate::book::block::{Block, Cell, Col, Figure, PageKind, Row, Section, Table};
use crate::book::draw::{Area, Dash, Drawing, Fill, Pen, Weight, pt, text_width};
use crate::book::pages::context::{Context, counted};
use crate::car::{AskedCut, CutCount, Sawn, cut_count, letters, sawn};
use crate::model::{SawAt, SheetPlan};
use crate::units::{Cents, Length};
use std::collections::BTreeMap;

/// Sheets that are cut alike at the store.
struct Lot<'a> {
    sheet: &'a SheetPlan,
    sawn: Sawn,
    count: u32,
    /// `1-3, 5`.
    names: Vec<String>,
}

fn lots<'a>(ctx: &Context<'a>) -> Vec<Lot<'a>> {
    let Some(store) = &ctx.input.job.saw.store else {
        return Vec::new();
    };
    let mut lots: Vec<Lot> = Vec::new();
    for (i, sheet) in ctx.plan().sheets.iter().enumerate() {
        let sawn = sawn(sheet, ctx.plan().kerf, store.true_to);
        if sawn.cuts.is_empty() {
            continue;
        }
        let same = |l: &&mut Lot| l.sheet.item == sheet.item && l.sawn == sawn;
        let name = ctx.sheet_name(i);
        match lots.iter_mut().find(same) {
            Some(lot) => {
                lot.count += sheet.count;
                lot.names.push(name);
            }
            None => lots.push(Lot {
                sheet,
                sawn,
                count: sheet.count,
                names: vec![name],
            }),
        }
    }
    lots
}

/// What the page for the saw counter calls a cut of a layout.
pub(in crate::book::pages) struct Counter {
    /// Letter of the drawing there.
    pub(in crate::book::pages) drawing: char,
    /// Number of the cut on it.
    pub(in crate::book::pages) n: u32,
    /// What it is set to there, from the edge as it comes.
    pub(in crate::book::pages) set: Length,
}

/// The store's cuts of a layout by their numbers on its sheet page, and its pieces with the letters they are given there.
pub(in crate::book::pages) struct AtCounter {
    pub(in crate::book::pages) cuts: BTreeMap<u32, Counter>,
    pieces: Vec<[Length; 4]>,
}

impl AtCounter {
    /// The letter of the store's piece in which a piece lies; `None` where the store does not cut this sheet.
    pub(in crate::book::pages) fn letter(&self, of: [Length; 4]) -> Option<String> {
        let holds =
            |p: &[Length; 4]| p[0] <= of[0] && p[1] <= of[1] && p[2] >= of[2] && p[3] >= of[3];
        self.pieces.iter().position(holds).map(letters)
    }
}

/// How the saw counter's page speaks of a layout.
pub(in crate::book::pages) fn at_counter(ctx: &Context, layout: usize) -> AtCounter {
    let name = ctx.sheet_name(layout);
    let lots = lots(ctx);
    let lot = lot_letters()
        .zip(&lots)
        .find(|(_, l)| l.names.contains(&name));
    let Some((letter, lot)) = lot else {
        return AtCounter {
            cuts: BTreeMap::new(),
            pieces: Vec::new(),
        };
    };
    let mut cuts: Vec<u32> = ctx.plan().sheets[layout]
        .cuts
        .iter()
        .filter(|c| c.saw == Some(SawAt::Store))
        .map(|c| c.n)
        .collect();
    cuts.sort_unstable();
    let named = (1..)
        .zip(&lot.sawn.cuts)
        .map(|(n, cut): (u32, &AskedCut)| Counter {
            drawing: letter,
            n,
            set: cut.set,
        });
    AtCounter {
        cuts: cuts.into_iter().zip(named).collect(),
        pieces: lot.sawn.pieces.iter().map(|p| p.rect).collect(),
    }
}

fn lot_letters() -> impl Iterator<Item = char> {
    ('A'..='Z').cycle()
}

/// The page for the saw counter.
pub(in crate::book::pages) fn store_cuts(ctx: &Context) -> Vec<Section> {
    let lots = lots(ctx);
    let (Some(store), false) = (&ctx.input.job.saw.store, lots.is_empty()) else {
        return Vec::new();
    };
    let CutCount { cuts, charged } = cut_count(ctx.input.job, ctx.plan());
    let left = lots
        .iter()
        .map(|l| {
            u32::try_from(l.sawn.pieces.len())
                .unwrap_or(u32::MAX)
                .saturating_mul(l.count)
        })
        .fold(0, u32::saturating_add);
    let free = counted(store.free_cuts_per_sheet, "cut", "cuts");
    let cost = if charged == 0 {
        format!("{free} a sheet without charge: none of these costs anything.")
    } else {
        let money = Cents(store.price_per_cut.0.saturating_mul(i64::from(charged)));
        format!(
            "{free} a sheet without charge, {charged} more at {}: {} {}.",
            store.price_per_cut.print(),
            money.print(),
            ctx.input.job.project.money
        )
    };
    let mut blocks = vec![
        Block::say("Name ______________________   Telephone ______________________"),
        Block::strong(format!("PLEASE MAKE {}", counted(cuts, "CUT", "CUTS")), 3.5),
        Block::say(format!(
            "{cost} They leave {} for the car. Sizes in {}.",
            counted(left, "piece", "pieces"),
            ctx.unit_word()
        )),
    ];
    for (letter, lot) in lot_letters().zip(&lots) {
        blocks.extend(lot_blocks(ctx, letter, lot));
    }
    let off = ctx.exact(store.true_to);
    blocks.extend([
        Block::say("Sizes are measured from the factory edge as it comes; nothing is cleaned before these cuts."),
        Block::Heading("It matters that".into()),
        Block::point("[ ]", format!("every piece is within {off} of the size written: none of them is a finished size.")),
        Block::point("[ ]", "both sides of every cut are kept, and the letter written on each piece.".to_owned()),
        Block::Heading("It does not matter".into()),
        Block::say("Which face is up; a rough or splintered edge; which end of the sheet is measured first, as long as the pieces come out as drawn."),
        Block::strong("Please do not cut the pieces any further, the offcuts neither.", 2.8),
    ]);
    vec![Section {
        kind: PageKind::StoreCuts,
        title: "For the saw counter".into(),
        bookmark: "Store cuts".into(),
        lying: false,
        blocks,
    }]
}

fn lot_blocks(ctx: &Context, letter: char, lot: &Lot) -> Vec<Block> {
    let sheet = lot.sheet;
    let head = format!(
        "{letter}  {} {}, {}",
        counted(lot.count, "sheet", "sheets"),
        ctx.item_name(&sheet.item),
        ctx.two(sheet.size)
    );
    let rows = (1..).zip(&lot.sawn.cuts).map(|(n, cut): (u32, &AskedCut)| {
        let way = if cut.across { "crosscut" } else { "rip" };
        let of = [cut.of[2] - cut.of[0], cut.of[3] - cut.of[1]];
        let of = if n == 1 {
            "the whole sheet".to_owned()
        } else {
            format!("the piece {}", ctx.two(of))
        };
        Row::of(vec![
            n.to_string().into(),
            way.into(),
            of.into(),
            ctx.size(cut.set).into(),
            ctx.size(cut.rest).into(),
            Cell::Tick,
        ])
    });
    vec![
        Block::Heading(head),
        Block::Beside(
            drawing(ctx, lot),
            vec![
                Block::Table(
                    Table::new(
                        vec![
                            Col::numbers("cut"),
                            Col::words("way"),
                            Col::words("of"),
                            Col::numbers("set to"),
                            Col::numbers("rest"),
                            Col::signs(""),
                        ],
                        rows.collect(),
                    )
                    .snug(),
                ),
                Block::say(format!(
                    "Number the sheets {} and write on every piece the number of its sheet and its letter, such as {}a.",
                    lot.names.join(", "),
                    lot.names[0].split('-').next().unwrap_or_default(),
                )),
            ],
        ),
    ]
}

/// The sheet with the store's cuts, each piece with its letter and size. Not to the scale of the sheet pages.
fn drawing(ctx: &Context, lot: &Lot) -> Figure {
    const WIDE: f64 = 78.0;
    let [x, y] = lot.sheet.size.map(|l| l.as_mm());
    let scale = (WIDE / x).min(60.0 / y);
    let (w, h) = (x * scale, y * scale);
    let mut d = Drawing::new();
    d.rect(Area::new(0.0, 0.0, w, h), Fill::None, Some(Pen::WIDE));
    let mut twin = Vec::new();
    for (n, piece) in lot.sawn.pieces.iter().enumerate() {
        let [x0, y0, x1, y1] = piece.rect.map(|l| l.as_mm() * scale);
        let name = letters(n);
        let size = [piece.rect[2] - piece.rect[0], piece.rect[3] - piece.rect[1]];
        // The sheet's y runs up the page, as on the sheet pages.
        let middle = pt(f64::midpoint(x0, x1), h - f64::midpoint(y0, y1));
        let words = ctx.two(size);
        // A narrow piece keeps its letter; its size stands in the table.
        if text_width(&words, 2.5, Weight::Regular) + 1.0 < x1 - x0 && y1 - y0 > 9.0 {
            d.say_centred(pt(middle.x, middle.y - 0.8), 2.8, Weight::Bold, &name);
            d.say_centred(pt(middle.x, middle.y + 3.2), 2.5, Weight::Regular, &words);
        } else {
            d.say_centred(pt(middle.x, middle.y + 1.2), 2.8, Weight::Bold, &name);
        }
        twin.push(format!("  piece {name}: {words}"));
    }
    let pen = Pen::broken(0.5, Dash::Dashed);
    for (n, cut) in (1..).zip(&lot.sawn.cuts) {
        let [x0, y0, x1, y1] = cut.of.map(|l| l.as_mm() * scale);
        let at = cut.at.as_mm() * scale;
        let (from, to) = if cut.across {
            (pt(at, h - y0), pt(at, h - y1))
        } else {
            (pt(x0, h - at), pt(x1, h - at))
        };
        d.line(from, to, pen);
        let at = if cut.across {
            pt(to.x + 1.0, to.y + 3.5)
        } else {
            pt(from.x + 1.0, from.y - 1.0)
        };
        let number: u32 = n;
        d.say(at, 2.5, Weight::Bold, &number.to_string());
    }
    twin.insert(0, format!("Sheet {}, cut into:", ctx.two(lot.sheet.size)));
    Figure {
        size: [w + 2.0, h + 2.0],
        drawing: d,
        twin,
    }
}
