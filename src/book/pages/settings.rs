//! The settings page: every cut of the job grouped by what fence or stop is set to, in the order they can be made. Printed
//! large, to hang by the saw. Owns the wording; the order is the plan's.

use super::context::Context;
use super::home::at_counter;
use crate::book::block::{Block, Cell, Col, PageKind, Row, Section, Table};
use crate::model::{SawAt, Setting, SettingKind, SettingPiece};
use crate::sheets::order::spans;
use std::collections::BTreeMap;

/// The settings of all materials.
pub(super) fn settings(ctx: &Context) -> Vec<Section> {
    let settings = &ctx.plan().settings;
    if settings.is_empty() {
        return Vec::new();
    }
    let mut blocks = vec![Block::say(format!(
        "Set once, make every cut of the line, tick, go on. Sizes in {}. Numbers of cuts are those on the sheet pages.",
        ctx.unit_word()
    ))];
    if crate::car::cut_count(ctx.input.job, ctx.plan()).cuts > 0 {
        blocks.push(Block::say(
            "What is marked AT THE STORE is cut there, before anything is cleaned: see the page for the saw counter. \
             At home clean the factory edges of every piece; a store-cut edge comes off with the cuts below. \
             Sizes at the store run from the factory edge; sizes here run from the cleaned edge or the last cut.",
        ));
    }
    let mut items: Vec<&str> = Vec::new();
    for setting in settings {
        if !items.contains(&setting.item.as_str()) {
            items.push(&setting.item);
        }
    }
    for item in &items {
        let here: Vec<&Setting> = settings.iter().filter(|s| s.item == *item).collect();
        if items.len() > 1 {
            blocks.push(Block::Heading(ctx.item_name(item)));
        }
        let rows = here.iter().map(|s| setting_row(ctx, s)).collect();
        blocks.push(Block::Table(
            Table::new(
                vec![
                    Col::numbers("do"),
                    Col::words("setting").kept(),
                    Col::words("sheet (cuts): what comes free"),
                    Col::numbers("cuts"),
                    Col::signs("done"),
                ],
                rows,
            )
            .sized(3.5),
        ));
    }
    let cautions = risky(ctx);
    if !cautions.is_empty() {
        blocks.push(Block::Heading("Take care".into()));
        blocks.extend(cautions.into_iter().map(|c| Block::point("!", c)));
    }
    vec![Section {
        kind: PageKind::Settings,
        title: "At the saw: all cuts by setting".into(),
        bookmark: "Settings".into(),
        lying: false,
        blocks,
    }]
}

/// How many cuts a line makes: a piece that stands for all sheets cut alike counts once for each, a clean-up once for each
/// edge it names.
fn cuts_of(ctx: &Context, pieces: &[SettingPiece]) -> u32 {
    pieces
        .iter()
        .map(|p| {
            let sheets = if p.copy == 0 {
                ctx.numbers(p.sheet).1
            } else {
                1
            };
            let edges = if p.cut == 0 {
                p.gives.split(", ").count()
            } else {
                1
            };
            sheets.saturating_mul(edges as u32)
        })
        .fold(0, u32::saturating_add)
}

fn setting_row(ctx: &Context, setting: &Setting) -> Row {
    let size = ctx.size(setting.size);
    let again = if setting.again { ", again" } else { "" };
    let at_store = setting.pieces.iter().any(|p| by_store(ctx, p.sheet, p.cut));
    let words = match setting.kind {
        SettingKind::Clean => format!("clean, {} off", ctx.exact(setting.size)),
        // Sizes for the store are on its own page, from the edges as they come.
        SettingKind::Rip if at_store => "rip, AT THE STORE".to_owned(),
        SettingKind::Stop if at_store => "crosscut, AT THE STORE".to_owned(),
        SettingKind::Rip => format!("rip {size}{again}"),
        SettingKind::Stop => format!("stop {size}{again}"),
    };
    // Lines that do the same on sheets cut alike are said once.
    let mut by_sheet: BTreeMap<(usize, u32), Vec<&SettingPiece>> = BTreeMap::new();
    for piece in &setting.pieces {
        by_sheet
            .entry((piece.sheet, piece.copy))
            .or_default()
            .push(piece);
    }
    let lines: Vec<String> = if setting.kind == SettingKind::Clean {
        vec![clean_line(ctx, &by_sheet)]
    } else {
        by_sheet
            .iter()
            .map(|((sheet, copy), pieces)| sheet_line(ctx, *sheet, *copy, pieces))
            .collect()
    };
    Row::of(vec![
        setting.n.to_string().into(),
        words.into(),
        Cell::Lines(lines),
        cuts_of(ctx, &setting.pieces).to_string().into(),
        Cell::Tick,
    ])
}

fn by_store(ctx: &Context, sheet: usize, n: u32) -> bool {
    let cuts = ctx.plan().sheets.get(sheet).map(|s| &s.cuts);
    let cut = cuts.and_then(|c| c.iter().find(|c| c.n == n));
    cut.is_some_and(|c| c.saw == Some(SawAt::Store))
}

fn which(ctx: &Context, sheet: usize, copy: u32) -> String {
    if copy == 0 {
        ctx.sheet_name(sheet)
    } else {
        (ctx.numbers(sheet).0 + copy - 1).to_string()
    }
}

fn clean_line(ctx: &Context, by_sheet: &BTreeMap<(usize, u32), Vec<&SettingPiece>>) -> String {
    let names: Vec<String> = by_sheet
        .keys()
        .map(|(sheet, copy)| which(ctx, *sheet, *copy))
        .collect();
    let mut edges: Vec<&str> = Vec::new();
    for piece in by_sheet.values().flatten() {
        for edge in piece.gives.split(", ").filter(|e| !e.is_empty()) {
            if !edges.contains(&edge) {
                edges.push(edge);
            }
        }
    }
    let many = by_sheet.len() > 1 || names.iter().any(|n| n.contains('-'));
    let word = if many { "sheets" } else { "sheet" };
    let edges = match edges.len() {
        0 | 4 => "all four edges".to_owned(),
        _ => edges.join(", "),
    };
    format!("{word} {}: {edges}", names.join(", "))
}

/// `4-6 (cuts 1-2): 2 L1`.
fn sheet_line(ctx: &Context, sheet: usize, copy: u32, pieces: &[&SettingPiece]) -> String {
    let numbers: Vec<u32> = pieces.iter().map(|p| p.cut).collect();
    let mut gives: Vec<(&str, u32)> = Vec::new();
    let names = pieces.iter().flat_map(|p| p.gives.split(", "));
    for name in names.filter(|n| !n.is_empty()) {
        match gives.last_mut().filter(|(g, _)| *g == name) {
            Some((_, count)) => *count += 1,
            None => gives.push((name, 1)),
        }
    }
    let gives: Vec<String> = gives
        .into_iter()
        .map(|(what, count)| match (count, what) {
            (1, _) => what.to_owned(),
            (_, "strip") => format!("{count} strips"),
            (_, "leftover") => format!("{count} leftovers"),
            _ => format!("{count} x {what}"),
        })
        .collect();
    let word = if numbers.len() > 1 { "cuts" } else { "cut" };
    let mut line = format!("{} ({word} {})", which(ctx, sheet, copy), spans(&numbers));
    if numbers.iter().any(|n| by_store(ctx, sheet, *n)) {
        let counter = at_counter(ctx, sheet);
        let names = numbers.iter().filter_map(|n| counter.cuts.get(n));
        let names: Vec<String> = names
            .map(|c| format!("{}, cut {}", c.drawing, c.n))
            .collect();
        line.push_str(&format!(", there {}", names.join(", ")));
    }
    if !gives.is_empty() {
        line.push_str(": ");
        line.push_str(&gives.join(", "));
    }
    line
}

/// With a capital at its start.
fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |c| {
        c.to_uppercase().collect::<String>() + letters.as_str()
    })
}

/// Short cautions with this plan's own numbers.
pub(super) fn risky(ctx: &Context) -> Vec<String> {
    let saw = &ctx.input.job.saw;
    let mut all = Vec::new();
    let narrow: Vec<&Setting> = ctx
        .plan()
        .settings
        .iter()
        .filter(|s| s.kind == SettingKind::Rip && s.size < saw.narrowest_safe_rip)
        .collect();
    if !narrow.is_empty() {
        // Many steps are named by their numbers alone.
        let steps = if narrow.len() <= 6 {
            let each = narrow
                .iter()
                .map(|s| format!("step {} rips {}", s.n, ctx.size(s.size)));
            each.collect::<Vec<_>>().join(", ")
        } else {
            let numbers: Vec<u32> = narrow.iter().map(|s| s.n).collect();
            let least = narrow.iter().map(|s| s.size).min().unwrap_or_default();
            format!("steps {} rip down to {}", spans(&numbers), ctx.size(least))
        };
        all.push(format!(
            "{}: under the narrowest safe rip of {}. Push stick or a clamped track; keep out of the line of the blade.",
            capital(&steps),
            ctx.size(saw.narrowest_safe_rip)
        ));
    }
    let [a, b] = saw.largest_alone;
    let (small, large) = (a.min(b), a.max(b));
    let mut heavy: Vec<String> = Vec::new();
    for (i, sheet) in ctx.plan().sheets.iter().enumerate() {
        let (s, l) = (
            sheet.size[0].min(sheet.size[1]),
            sheet.size[0].max(sheet.size[1]),
        );
        if s > small || l > large {
            heavy.push(ctx.sheet_name(i));
        }
    }
    if !heavy.is_empty() {
        let weight = ctx
            .plan()
            .sheets
            .iter()
            .filter_map(|s| ctx.stock(&s.item)?.weight_grams)
            .max()
            .map_or_else(String::new, |g| {
                format!(
                    " The heaviest weighs about {} kg ({} lb).",
                    (g + 500) / 1000,
                    (g * 1000 + 226_796) / 453_592
                )
            });
        let word = if heavy.len() == 1 && !heavy[0].contains('-') {
            "sheet"
        } else {
            "sheets"
        };
        all.push(format!(
            "A second person for {word} {}: larger than the {} you handle alone.{weight}",
            heavy.join(", "),
            ctx.two([a, b])
        ));
    }
    all
}
