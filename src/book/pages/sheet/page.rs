//! The page of one sheet: facts, drawing, cut table, small parts, the sums. Owns the choice of scale: the largest round one
//! with which everything stands on one page.

use super::cuts::{CutRow, Fate, Source, follow, rows};
use super::draw::{DrawnSheet, SmallPart, draw_sheet, in_words, scales};
use super::sums::{Along, sum_line};
use crate::book::block::{Block, Col, Figure, PageKind, Row, Section, Table};
use crate::book::draw::to_svg;
use crate::book::layout::{Frame, lay};
use crate::book::pages::context::{Context, counted};
use crate::model::{Paper, SheetPlan};

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
    let mut title = format!(
        "{word} {} of {}   {}",
        ctx.sheet_name(layout),
        ctx.sheet_total,
        sheet.item
    );
    if let Some(rack) = &sheet.rack {
        title.push_str(&format!("   rack piece {rack}"));
    }
    if count > 1 {
        title.push_str(&format!("   make {count}"));
    }
    title
}

/// Draws a sheet at the largest scale at which it takes no more than that room.
fn drawn_to_fit(ctx: &Context, sheet: &SheetPlan, room: [f64; 2]) -> DrawnSheet {
    let scales = scales(ctx.tape.unit);
    let bare = |scale: f64| [0, 1].map(|i| sheet.size[i].as_mm() / scale);
    let mut last = None;
    for scale in scales {
        let [w, h] = bare(*scale);
        if w > room[0] || h > room[1] {
            continue;
        }
        let drawn = draw_sheet(ctx, sheet, *scale);
        let fits = drawn.size[0] <= room[0] && drawn.size[1] <= room[1];
        last = Some(drawn);
        if fits {
            break;
        }
    }
    last.unwrap_or_else(|| draw_sheet(ctx, sheet, bare(1.0)[0].max(bare(1.0)[1]) / 100.0))
}

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
    let cut_rows = rows(&follow(sheet, ctx.plan().kerf));
    let body = Frame::of(Paper::Letter, true).body();
    // The table below a large drawing if all stands on one page, else beside a smaller one.
    let below = |drawn: DrawnSheet, across: usize| {
        let mut blocks = vec![facts(ctx, sheet, &drawn)];
        blocks.push(Block::Figure(figure(ctx, sheet, &drawn)));
        blocks.push(Block::Gap(2.0));
        blocks.extend(tables(ctx, sheet, &cut_rows, &drawn, across));
        section(blocks)
    };
    let beside = |drawn: DrawnSheet| {
        let mut right = tables(ctx, sheet, &cut_rows, &drawn, 1);
        let sums: Vec<Block> = right.drain(..sums_first(&right)).collect();
        let mut blocks = vec![facts(ctx, sheet, &drawn)];
        blocks.extend(sums);
        blocks.push(Block::Gap(1.5));
        blocks.push(Block::Beside(figure(ctx, sheet, &drawn), right));
        section(blocks)
    };
    let large = below(drawn_to_fit(ctx, sheet, [body.w, body.h - 36.0]), 3);
    if lay(&large, Paper::Letter, ctx.input.labels).len() == 1 {
        return large;
    }
    let smaller = beside(drawn_to_fit(ctx, sheet, [body.w - 78.0, body.h - 38.0]));
    if lay(&smaller, Paper::Letter, ctx.input.labels).len() == 1 {
        return smaller;
    }
    // Too much for one page: the drawing as large as it goes, the table on the page after it.
    below(drawn_to_fit(ctx, sheet, [body.w, body.h - 24.0]), 2)
}

fn figure(ctx: &Context, sheet: &SheetPlan, drawn: &DrawnSheet) -> Figure {
    Figure {
        size: drawn.size,
        drawing: drawn.drawing.clone(),
        twin: in_words(ctx, sheet),
    }
}

/// How many of the blocks are sums: they come first.
fn sums_first(blocks: &[Block]) -> usize {
    blocks
        .iter()
        .take_while(|b| matches!(b, Block::Say(_)))
        .count()
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
    said.push(ctx.two(sheet.size));
    said.push(format!("all sizes in {}", ctx.unit_word()));
    said.push(format!("kerf {}", ctx.exact(ctx.plan().kerf)));
    if let Some(face) = good_face(&ctx.input.job.saw.what) {
        said.push(format!("{face} ({})", ctx.input.job.saw.what));
    }
    let mut line = said.join("  \u{00B7}  ");
    line.push_str(". ");
    line.push_str(&clean_words(ctx, sheet));
    if !sheet.left.is_empty() {
        line.push_str(" Hatched: left over, R to the rack, K kindling.");
    }
    if !drawn.unnumbered.is_empty() {
        let all: Vec<String> = drawn.unnumbered.iter().map(u32::to_string).collect();
        line.push_str(&format!(
            " No room for the numbers of cuts {}: they stand in the table.",
            all.join(", ")
        ));
    }
    Block::say(line)
}

/// What comes off the edges before cut 1, in words.
fn clean_words(ctx: &Context, sheet: &SheetPlan) -> String {
    let edges = ["left", "right", "lower", "upper"];
    let [x0, x1, y0, y1] = sheet.clean_edge;
    if x0 == x1 && x1 == y0 && y0 == y1 {
        return if x0.is_positive() {
            format!("First clean all four edges: {} off each.", ctx.exact(x0))
        } else {
            "No edge needs cleaning.".into()
        };
    }
    let all: Vec<String> = sheet
        .clean_edge
        .iter()
        .zip(edges)
        .filter(|(l, _)| l.is_positive())
        .map(|(l, edge)| format!("{} off the {edge} edge", ctx.exact(*l)))
        .collect();
    format!("First clean {}.", all.join(", "))
}

/// The sums, the cut table, the parts too small to write in.
fn tables(
    ctx: &Context,
    sheet: &SheetPlan,
    cuts: &[CutRow],
    drawn: &DrawnSheet,
    across: usize,
) -> Vec<Block> {
    let mut blocks = Vec::new();
    for (along, word) in [(Along::Length, "Along"), (Along::Width, "Across")] {
        if let Some(sum) = sum_line(ctx, sheet, along) {
            blocks.push(Block::point(word, format!("add the sizes: {sum}")));
        }
    }
    let rows: Vec<Row> = cuts.iter().map(|c| cut_row(ctx, sheet, c)).collect();
    blocks.push(Block::Table(
        Table::new(
            vec![
                Col::words("cut"),
                Col::words("setting"),
                Col::words("made in"),
                Col::words("gives"),
            ],
            rows,
        )
        .across(across),
    ));
    if !drawn.small.is_empty() {
        let rows = drawn.small.iter().map(small_row).collect();
        blocks.push(Block::Table(
            Table::new(
                vec![
                    Col::words(""),
                    Col::words("part"),
                    Col::words("size"),
                    Col::numbers("count"),
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

fn cut_row(ctx: &Context, sheet: &SheetPlan, cut: &CutRow) -> Row {
    let numbers = if cut.first == cut.last {
        cut.first.to_string()
    } else {
        format!("{}-{}", cut.first, cut.last)
    };
    let kind = if cut.across { "stop" } else { "rip" };
    let store = if cut.at_store { " (store)" } else { "" };
    let source = match cut.source {
        Source::Sheet => "sheet".to_owned(),
        Source::Kept(n) => format!("piece of {n}"),
        Source::Rest(n) => format!("rest of {n}"),
    };
    Row::of(vec![
        numbers.into(),
        format!("{kind} {}{store}", ctx.size(cut.setting)).into(),
        source.into(),
        gives(ctx, sheet, cut).into(),
    ])
}

/// What comes free: parts by mark (like ones counted), a piece for a later cut, what is left over.
fn gives(ctx: &Context, sheet: &SheetPlan, cut: &CutRow) -> String {
    let mut all: Vec<(String, u32)> = Vec::new();
    let ends = cut.kept.iter().chain(match cut.rest {
        Fate::Part(_) | Fate::Left(_) => Some(&cut.rest),
        Fate::Cut(_) | Fate::Gone => None,
    });
    for fate in ends {
        let word = match *fate {
            Fate::Part(i) => sheet.places[i].mark.clone(),
            Fate::Left(i) => {
                let left = &sheet.left[i];
                let sign = if left.keep { "R" } else { "K" };
                format!("{sign} {}", ctx.two(left.size))
            }
            Fate::Cut(n) => format!("piece for cut {n}"),
            Fate::Gone => continue,
        };
        match all.last_mut().filter(|(w, _)| *w == word) {
            Some((_, count)) => *count += 1,
            None => all.push((word, 1)),
        }
    }
    let said: Vec<String> = all
        .into_iter()
        .map(|(word, count)| {
            if count == 1 {
                word
            } else {
                format!("{count} {word}")
            }
        })
        .collect();
    if said.is_empty() {
        counted(cut.last - cut.first + 1, "cut", "cuts")
    } else {
        said.join(", ")
    }
}
