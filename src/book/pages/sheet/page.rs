//! The page of one sheet: facts, drawing, cut table, small parts, the sums. Owns the choice of scale: the largest round one
//! with which everything stands on one page.

use super::cuts::{CutRow, Fate, Source, follow, rows};
use super::draw::{DrawnSheet, SmallPart, draw_sheet, in_words, sheet_scales};
use super::sums::{Along, sum_line};
use crate::book::block::{Block, Col, Figure, PageKind, Row, Section, Table};
use crate::book::draw::to_svg;
use crate::book::layout::{Frame, lay};
use crate::book::pages::context::Context;
use crate::book::pages::home::{AtCounter, at_counter};
use crate::model::{Grain, Paper, SawAt, SheetPlan};
use crate::units::Length;
use std::collections::BTreeMap;

/// One section for each different sheet.
pub(in crate::book) fn sheets(ctx: &Context) -> Vec<Section> {
    (0..ctx.plan().sheets.len())
        .map(|i| sheet_section(ctx, i))
        .collect()
}

/// The sheet by itself as an SVG file.
pub(in crate::book) fn sheet_svg(ctx: &Context, layout: usize) -> (String, String) {
    let sheet = &ctx.plan().sheets[layout];
    let drawn = drawn_to_fit(ctx, sheet, [260.0, 190.0]);
    let mut page = crate::book::draw::Drawing::new();
    let margin = 6.0;
    let title = title(ctx, layout);
    let base = crate::book::draw::pt(margin, margin + 4.0);
    let width = page.say(base, 3.5, crate::book::draw::Weight::Bold, &title);
    page.put(&drawn.drawing, crate::book::draw::pt(margin, margin + 9.0));
    let size = [
        drawn.size[0].max(width) + 2.0 * margin,
        drawn.size[1] + 9.0 + 2.0 * margin,
    ];
    let name = format!("sheet-{:02}.svg", layout + 1);
    (name, to_svg(&page.items, size, &title))
}

fn title(ctx: &Context, layout: usize) -> String {
    let sheet = &ctx.plan().sheets[layout];
    let (_, count) = ctx.numbers(layout);
    let word = if count > 1 { "Sheets" } else { "Sheet" };
    let mut parts = vec![
        format!("{word} {} of {}", ctx.sheet_name(layout), ctx.sheet_total),
        sheet.item.clone(),
    ];
    parts.extend(sheet.rack.iter().map(|r| format!("rack piece {r}")));
    if count > 1 {
        parts.push(format!("make {count}"));
    }
    parts.join("  \u{00B7}  ")
}

/// The scales at which the bare sheet is no larger than that room, largest drawing first.
fn fitting(ctx: &Context, sheet: &SheetPlan, room: [f64; 2]) -> Vec<f64> {
    let bare = |i: usize| sheet.size[i].as_mm();
    let all: Vec<f64> = sheet_scales(ctx.tape.unit)
        .iter()
        .copied()
        .filter(|s| bare(0) / s <= room[0] && bare(1) / s <= room[1])
        .collect();
    if all.is_empty() {
        vec![(bare(0) / room[0]).max(bare(1) / room[1]).ceil()]
    } else {
        all
    }
}

/// Draws a sheet at the largest scale at which it takes no more than that room.
fn drawn_to_fit(ctx: &Context, sheet: &SheetPlan, room: [f64; 2]) -> DrawnSheet {
    let mut last = None;
    for scale in fitting(ctx, sheet, room) {
        let drawn = draw_sheet(ctx, sheet, scale);
        let fits = drawn.size[0] <= room[0] && drawn.size[1] <= room[1];
        last = Some(drawn);
        if fits {
            break;
        }
    }
    last.expect("there is always a scale to try")
}

/// What the settings page sets each cut of a layout to.
fn settings_of(ctx: &Context, layout: usize) -> BTreeMap<u32, Length> {
    ctx.plan()
        .settings
        .iter()
        .flat_map(|s| s.pieces.iter().map(move |p| (s, p)))
        .filter(|(_, p)| p.sheet == layout && p.cut > 0)
        .map(|(s, p)| (p.cut, s.size))
        .collect()
}

/// A drawing is made smaller by no more than this to bring its table on to the same page.
const SMALLER_AT_MOST: f64 = 2.1;
/// The least width of a table beside a drawing.
const BESIDE: f64 = 66.0;

fn sheet_section(ctx: &Context, layout: usize) -> Section {
    let sheet = &ctx.plan().sheets[layout];
    let (_, count) = ctx.numbers(layout);
    let name = ctx.sheet_name(layout);
    let bookmark = if count > 1 {
        format!("Sheets {name}: {}, make {count}", sheet.item)
    } else {
        format!("Sheet {name}: {}", sheet.item)
    };
    let section = |blocks| Section {
        kind: PageKind::Sheet,
        title: title(ctx, layout),
        bookmark: bookmark.clone(),
        lying: true,
        blocks,
    };
    let cuts = follow(sheet, ctx.plan().kerf, &settings_of(ctx, layout));
    let cut_rows = rows(&cuts);
    let body = Frame::of(Paper::Letter, true).body();
    let below = |drawn: &DrawnSheet, across: usize| {
        let mut blocks = vec![facts(ctx, sheet, drawn)];
        blocks.push(Block::Figure(figure(ctx, sheet, drawn)));
        blocks.push(Block::Gap(1.5));
        blocks.extend(holes(ctx, sheet));
        blocks.extend(sums(ctx, sheet));
        blocks.extend(tables(ctx, layout, &cut_rows, drawn, across));
        section(blocks)
    };
    let beside = |drawn: &DrawnSheet| {
        let mut right = tables(ctx, layout, &cut_rows, drawn, 1);
        right.extend(holes(ctx, sheet));
        right.extend(sums(ctx, sheet));
        section(vec![
            facts(ctx, sheet, drawn),
            Block::Beside(figure(ctx, sheet, drawn), right),
        ])
    };
    // The largest scale at which all stands on one page: the table below the drawing, or beside it.
    let one_page = |s: &Section| lay(s, Paper::Letter, ctx.input.labels).len() == 1;
    let scales = fitting(ctx, sheet, [body.w, body.h - 30.0]);
    let largest = scales[0];
    for scale in scales
        .into_iter()
        .filter(|s| *s <= largest * SMALLER_AT_MOST)
    {
        let drawn = draw_sheet(ctx, sheet, scale);
        if drawn.size[0] > body.w || drawn.size[1] > body.h - 16.0 {
            continue;
        }
        let ways = [3, 2].map(|across| below(&drawn, across));
        if let Some(page) = ways.into_iter().find(&one_page) {
            return page;
        }
        if body.w - drawn.size[0] >= BESIDE {
            let page = beside(&drawn);
            if one_page(&page) {
                return page;
            }
        }
    }
    // Too much for one page: the drawing as large as it goes, the table on the page after it.
    below(&drawn_to_fit(ctx, sheet, [body.w, body.h - 24.0]), 3)
}

fn figure(ctx: &Context, sheet: &SheetPlan, drawn: &DrawnSheet) -> Figure {
    Figure {
        size: drawn.size,
        drawing: drawn.drawing.clone(),
        twin: in_words(ctx, sheet),
    }
}

/// Which face lies up, by the sort of saw: its teeth should leave the good face where they enter it.
fn good_face(saw: &str) -> Option<&'static str> {
    let saw = saw.to_lowercase();
    let has = |words: &[&str]| words.iter().any(|w| saw.contains(w));
    if has(&["track", "circular", "plunge", "jig"]) {
        Some("good face DOWN")
    } else if has(&["table"]) {
        Some("good face UP")
    } else {
        None
    }
}

fn facts(ctx: &Context, sheet: &SheetPlan, drawn: &DrawnSheet) -> Block {
    let mut said = Vec::new();
    if let Some(row) = ctx.stock(&sheet.item) {
        if !row.what.is_empty() && row.what != sheet.item {
            said.push(row.what.clone());
        }
        if let Some(thick) = row.thickness() {
            let word = if row.measured.is_some() {
                "measures"
            } else {
                "thick"
            };
            said.push(format!("{word} {}", ctx.exact(thick)));
        }
    }
    said.push(format!("{} {}", ctx.two(sheet.size), ctx.unit_word()));
    said.push(format!("kerf {}", ctx.exact(ctx.plan().kerf)));
    if let Some(face) = good_face(&ctx.input.job.saw.what) {
        said.push(format!("{face} ({})", ctx.input.job.saw.what));
    }
    let mut line = said.join("  \u{00B7}  ");
    line.push('.');
    let any_way = |mark: &str| ctx.part(mark).is_some_and(|p| p.grain == Grain::Any);
    if sheet.places.iter().any(|p| any_way(&p.mark)) {
        line.push_str(" A small circle in a part: its grain may run either way.");
    }
    if sheet.cuts.iter().any(|c| c.saw == Some(SawAt::Store)) {
        line.push_str(
            " Sizes of store cuts run from the factory edge, those at home from the cleaned edge or the last cut.",
        );
    }
    if !drawn.unnumbered.is_empty() {
        let all: Vec<String> = drawn.unnumbered.iter().map(u32::to_string).collect();
        let (lead, tail) = if all.len() == 1 {
            ("number of cut", "it stands")
        } else {
            ("numbers of cuts", "they stand")
        };
        let all = all.join(", ");
        line.push_str(&format!(
            " No room for the {lead} {all}: {tail} in the table."
        ));
    }
    Block::say(line)
}

/// What comes off the edges before cut 1: amount and edges in words.
fn clean_words(ctx: &Context, sheet: &SheetPlan) -> Vec<(String, String)> {
    let edges = ["left", "right", "lower", "upper"];
    let mut by_size: BTreeMap<Length, Vec<&str>> = BTreeMap::new();
    for (size, edge) in sheet.clean_edge.iter().zip(edges) {
        if size.is_positive() {
            by_size.entry(*size).or_default().push(edge);
        }
    }
    // Once the store has cut the sheet, its pieces have other edges too; only the factory's are cleaned.
    let factory = if sheet.cuts.iter().any(|c| c.saw == Some(SawAt::Store)) {
        "factory "
    } else {
        ""
    };
    by_size
        .into_iter()
        .map(|(size, edges)| {
            let edges = match edges.len() {
                4 => format!("all four {factory}edges"),
                1 => format!("{} {factory}edge", edges[0]),
                _ => format!("{} {factory}edges", edges.join(", ")),
            };
            (format!("{} off", ctx.exact(size)), edges)
        })
        .collect()
}

/// What is cut out of parts of the sheet once they are free.
fn holes(ctx: &Context, sheet: &SheetPlan) -> Vec<Block> {
    let here = |mark: &Option<String>| sheet.places.iter().any(|p| Some(&p.mark) == mark.as_ref());
    ctx.holes()
        .iter()
        .filter(|h| here(&h.mark))
        .map(|h| Block::point("Once free", h.in_words(ctx.tape)))
        .collect()
}

/// The sums along and across, in one paragraph.
fn sums(ctx: &Context, sheet: &SheetPlan) -> Vec<Block> {
    let said: Vec<String> = [(Along::Length, "Along"), (Along::Width, "Across")]
        .into_iter()
        .filter_map(|(along, word)| Some(format!("{word}: {}", sum_line(ctx, sheet, along)?)))
        .collect();
    if said.is_empty() {
        return Vec::new();
    }
    vec![Block::point("Add the sizes", said.join(".  "))]
}

/// The cut table and the parts too small to write in.
fn tables(
    ctx: &Context,
    layout: usize,
    cuts: &[CutRow],
    drawn: &DrawnSheet,
    across: usize,
) -> Vec<Block> {
    let sheet = &ctx.plan().sheets[layout];
    let counter = at_counter(ctx, layout);
    let (store, home): (Vec<&CutRow>, Vec<&CutRow>) = cuts.iter().partition(|c| c.at_store);
    let clean = clean_words(ctx, sheet).into_iter().map(|(amount, edges)| {
        Row::of(vec![
            "".into(),
            format!("clean {amount}").into(),
            if store.is_empty() { "sheet" } else { "pieces" }.into(),
            edges.into(),
        ])
    });
    // As on the settings page: the store's cuts, then cleaning, then the cuts at home.
    let row = |c: &&CutRow| cut_row(ctx, sheet, c, &counter);
    let mut rows: Vec<Row> = store.iter().map(row).collect();
    rows.extend(clean);
    rows.extend(home.iter().map(row));
    let mut blocks = vec![Block::Table(
        Table::new(
            vec![
                Col::words("cut").kept(),
                Col::words("setting").kept(),
                Col::words("of").kept(),
                Col::words("gives"),
            ],
            rows,
        )
        .across(across),
    )];
    if !drawn.small.is_empty() {
        let rows = drawn.small.iter().map(small_row).collect();
        blocks.push(Block::Table(
            Table::new(
                vec![
                    Col::words(""),
                    Col::words("no room for"),
                    Col::words("size"),
                    Col::numbers("pieces"),
                ],
                rows,
            )
            .across(across),
        ));
    }
    blocks
}

fn small_row(small: &SmallPart) -> Row {
    Row::of(vec![
        small.balloon.clone().into(),
        small.mark.clone().into(),
        small.size.clone().into(),
        small.count.to_string().into(),
    ])
}

fn cut_row(ctx: &Context, sheet: &SheetPlan, cut: &CutRow, counter: &AtCounter) -> Row {
    let numbers = if cut.first == cut.last {
        cut.first.to_string()
    } else {
        format!("{}-{}", cut.first, cut.last)
    };
    let kind = if cut.across { "stop" } else { "rip" };
    let by_store = |n: u32| counter.cuts.contains_key(&n);
    let of = sheet.cuts.iter().find(|c| c.n == cut.first).map(|c| c.of);
    let source = match cut.source {
        Source::Sheet => "sheet".to_owned(),
        // What the store sawed off has its letter written on it.
        Source::Kept(n) | Source::Rest(n) if by_store(n) && !cut.at_store => {
            let letter = of.and_then(|of| counter.letter(of));
            letter.map_or_else(|| format!("piece {n}"), |l| format!("store piece {l}"))
        }
        Source::Kept(n) => format!("piece {n}"),
        Source::Rest(n) => format!("rest {n}"),
    };
    let setting = match counter.cuts.get(&cut.first) {
        Some(asked) => format!(
            "store {}, cut {}: {kind} {}",
            asked.drawing,
            asked.n,
            ctx.size(asked.set)
        ),
        None => format!("{kind} {}", ctx.size(cut.setting)),
    };
    Row::of(vec![
        numbers.into(),
        setting.into(),
        source.into(),
        gives(ctx, sheet, cut).into(),
    ])
}

/// What comes free: parts by mark (like ones counted), pieces for later cuts by the cut that freed them, what is left over.
fn gives(ctx: &Context, sheet: &SheetPlan, cut: &CutRow) -> String {
    let mut all: Vec<(String, u32)> = Vec::new();
    let mut pieces: Vec<String> = Vec::new();
    let rest = match cut.rest {
        Fate::Part(_) | Fate::Left(_) => Some(&cut.rest),
        Fate::Cut(_) | Fate::Gone => None,
    };
    for (i, fate) in cut.kept.iter().chain(rest).enumerate() {
        let word = match *fate {
            Fate::Part(i) => sheet.places[i].mark.clone(),
            Fate::Left(i) => {
                let left = &sheet.left[i];
                if left.keep {
                    format!("R {}", ctx.two(left.size))
                } else {
                    "K".to_owned()
                }
            }
            Fate::Cut(_) => {
                pieces.push((cut.first + i as u32).to_string());
                continue;
            }
            Fate::Gone => continue,
        };
        match all.iter_mut().find(|(w, _)| *w == word) {
            Some((_, count)) => *count += 1,
            None => all.push((word, 1)),
        }
    }
    let mut said = Vec::new();
    match pieces.len() {
        0 => {}
        1 => said.push(format!("piece {}", pieces[0])),
        _ => said.push(format!("pieces {}", pieces.join(" "))),
    }
    said.extend(all.into_iter().map(|(word, count)| {
        if count == 1 {
            word
        } else {
            format!("{count} x {word}")
        }
    }));
    said.join(", ")
}
