//! The cover: the answer first, the box to tick, what it costs in money, hours and time, what to know before spending, what
//! is in this book, and a rule to test the printer with. Owns the order of things; the recommendation is the cost room's,
//! the decision is hers.

use super::comparison::{hours_or, money_or};
use super::context::{Context, counted};
use super::notes::cautions;
use crate::book::block::{Block, Cell, Col, Figure, PageKind, Row, Section, Table};
use crate::book::draw::{Area, Drawing, Fill, Pen, Weight, pt, text_width};
use crate::model::{Paper, SheetPlan, StickPlan};
use crate::units::{Cents, Unit};

/// What the cover knows of the pages behind it.
pub(in crate::book) struct CoverFacts {
    /// The rule stands before the list of pages: on a cover of several pages it might come to stand on the last one alone.
    pub(crate) rule_first: bool,
    /// Title and number of the first page of each section.
    pub(in crate::book) contents: Vec<(String, usize)>,
    /// True to show the sheets in small: left out where they would cost a page.
    pub(in crate::book) pictures: bool,
    /// How many cautions it may show; the rest are on the last pages.
    pub(in crate::book) cautions: usize,
}

/// How many cautions stand on the cover, and how few where more would cost a page.
pub(in crate::book) const COVER_CAUTIONS: [usize; 3] = [5, 3, 2];
/// How many lines the list of pages may take.
const MOST_LINES: usize = 14;

/// The first page.
pub(in crate::book) fn cover(ctx: &Context, facts: &CoverFacts) -> Section {
    let project = &ctx.input.job.project;
    let mut blocks = Vec::new();
    let mut about = Vec::new();
    if !project.house.is_empty() {
        about.push(project.house.clone());
    }
    if !project.drawn_by.is_empty() {
        about.push(format!("drawn by {}", project.drawn_by));
    }
    if let Some(date) = project.date {
        about.push(date.to_string());
    }
    about.push(format!("route: {}", ctx.plan().route));
    if !ctx.plan().plan_number.is_empty() {
        about.push(format!("plan {}", ctx.plan().plan_number));
    }
    blocks.push(Block::say(about.join("  \u{00B7}  ")));
    blocks.push(Block::Gap(2.0));
    blocks.extend(provisional(ctx));
    blocks.extend(answer(ctx));
    blocks.extend(decision(ctx));
    blocks.extend(figures(ctx));
    if facts.pictures {
        blocks.extend(pictures(ctx));
    }
    blocks.extend(before_spending(ctx, facts.cautions));
    let rule = [Block::Gap(5.0), Block::Figure(test_rule(ctx))];
    if facts.rule_first {
        blocks.extend(rule);
        blocks.extend(contents(facts));
    } else {
        blocks.extend(contents(facts));
        blocks.extend(rule);
    }
    Section {
        kind: PageKind::Cover,
        title: project.name.clone(),
        bookmark: "The answer".into(),
        lying: false,
        blocks,
    }
}

/// That the book is provisional, and the first reason: the mark at the foot of every page says no more than the word.
fn provisional(ctx: &Context) -> Option<Block> {
    let all = ctx.provisional();
    let first = all.first()?;
    let more = match all.len() {
        1 => String::new(),
        n => format!(", and {} more", n - 1),
    };
    Some(Block::strong(
        format!("PROVISIONAL: {first}{more}. See Assumptions and cautions."),
        3.5,
    ))
}

/// The answer in one or two sentences.
fn answer(ctx: &Context) -> Vec<Block> {
    let mut blocks = Vec::new();
    if let Some(comparison) = ctx.input.comparison
        && !comparison.verdict.sentence.is_empty()
    {
        blocks.push(Block::strong(comparison.verdict.sentence.clone(), 4.0));
        blocks.push(Block::Gap(1.5));
    }
    let size = if blocks.is_empty() { 4.0 } else { 3.5 };
    blocks.extend(printed(ctx));
    for item in &ctx.plan().items {
        let sticks = ctx
            .plan()
            .sticks
            .iter()
            .any(|s: &StickPlan| s.item == item.item);
        let noun = if sticks {
            counted(item.sheets, "stick", "sticks")
        } else {
            counted(item.sheets, "sheet", "sheets")
        };
        if item.sheets == 0 {
            let word = if sticks { "stick" } else { "sheet" };
            blocks.push(Block::strong(
                format!(
                    "No {word} of {} to buy: what is there is enough.",
                    item.item
                ),
                size,
            ));
            continue;
        }
        let proof = if item.proved {
            "fewest possible".to_owned()
        } else {
            format!("{} is not ruled out", item.at_least)
        };
        let cost = item
            .cost_cents
            .map_or_else(String::new, |c| format!(", {}", c.print()));
        blocks.push(Block::strong(
            format!("{noun} of {}{cost}: {proof}.", item.item),
            size,
        ));
        if !item.why.is_empty() {
            blocks.push(Block::say(item.why.clone()));
        }
    }
    if ctx.plan().sheets.is_empty() && ctx.plan().sticks.is_empty() {
        blocks.push(Block::strong("Nothing is cut on this route.", size));
    }
    let racks: Vec<&str> = ctx
        .plan()
        .sheets
        .iter()
        .filter_map(|s: &SheetPlan| s.rack.as_deref())
        .collect();
    if !racks.is_empty() {
        blocks.push(Block::say(format!(
            "Used from the rack: {}.",
            racks.join(", ")
        )));
    }
    for part in &ctx.plan().unplaced {
        blocks.push(Block::point(
            "!",
            format!("{} of {} not placed: {}", part.count, part.mark, part.why),
        ));
    }
    blocks
}

/// Which route the pages are of, and why: the verdict may name another.
fn printed(ctx: &Context) -> Option<Block> {
    let job = ctx.input.job;
    let route = &ctx.plan().route;
    ctx.input.comparison.filter(|c| c.routes.len() > 1)?;
    let chosen = job.runs.iter().any(|r| r.chosen && r.route == *route);
    let why = if chosen {
        "its [[run]] is marked chosen in project.toml"
    } else if job.main_route() == route {
        "it comes first in project.toml, and none is marked chosen"
    } else {
        "it was asked for with --route"
    };
    Some(Block::say(format!(
        "The pages of this book are of {route}: {why}. book --route prints another."
    )))
}

/// The routes with a box to tick each; nothing where there is nothing to decide.
fn decision(ctx: &Context) -> Vec<Block> {
    let Some(comparison) = ctx.input.comparison.filter(|c| c.routes.len() > 1) else {
        return Vec::new();
    };
    let mut drawing = Drawing::new();
    let (mut x, mut y, mut twin) = (0.0, 8.0, Vec::new());
    drawing.say(pt(0.0, y), 3.5, Weight::Bold, "DECISION");
    x += 28.0;
    for route in &comparison.routes {
        let name = super::super::layout::shortened(&route.route, 3.5, Weight::Regular, 100.0);
        let wide = text_width(&name, 3.5, Weight::Regular);
        if x + 8.0 + wide > 178.0 {
            (x, y) = (28.0, y + 8.0);
        }
        drawing.tick_box(pt(x, y + 0.4), 4.5);
        drawing.say(pt(x + 6.5, y), 3.5, Weight::Regular, &name);
        twin.push(format!("[ ] {}", route.route));
        x += 6.5 + wide + 8.0;
    }
    if x > 110.0 {
        y += 9.0;
        x = 28.0;
    }
    let signed = drawing.say(pt(x, y), 2.5, Weight::Regular, "signed");
    let from = x + signed + 2.0;
    drawing.line(pt(from, y + 0.6), pt(178.0, y + 0.6), Pen::NARROW);
    vec![Block::Figure(Figure {
        size: [178.0, y + 5.0],
        drawing,
        twin: vec![format!(
            "DECISION  {}  signed ______________",
            twin.join("  ")
        )],
    })]
}

/// The first sheets in small, without figures: what the plan looks like at a glance.
fn pictures(ctx: &Context) -> Vec<Block> {
    const WIDE: f64 = 39.0;
    const HIGH: f64 = 22.0;
    const STEP: f64 = 46.0;
    const MOST: usize = 4;
    let sheets = &ctx.plan().sheets;
    if sheets.is_empty() {
        return Vec::new();
    }
    let mut drawing = Drawing::new();
    let mut names = Vec::new();
    for (i, sheet) in sheets.iter().take(MOST).enumerate() {
        let [long, wide] = sheet.size.map(|l| l.as_mm().max(1.0));
        let scale = (long / WIDE).max(wide / HIGH);
        let map = super::sheet::Map::of(sheet, scale);
        let mut small = Drawing::new();
        for left in &sheet.left {
            small.hatch(map.area(left.at, left.size), 1.4);
        }
        for place in &sheet.places {
            let area = map.area(place.at, place.size);
            small.rect(area, Fill::White, Some(Pen::solid(0.18)));
        }
        let whole = Area::new(0.0, 0.0, map.wide, map.high);
        small.rect(whole, Fill::None, Some(Pen::solid(0.35)));
        let x = STEP * i as f64 + 0.3;
        drawing.put(&small, pt(x, HIGH + 0.5 - map.high));
        let (_, count) = ctx.numbers(i);
        let word = if count > 1 { "sheets" } else { "sheet" };
        let name = format!("{word} {}", ctx.sheet_name(i));
        drawing.say(pt(x, HIGH + 5.0), 2.5, Weight::Regular, &name);
        names.push(name);
    }
    if sheets.len() > MOST {
        names.push(format!("{} more layouts", sheets.len() - MOST));
    }
    vec![
        Block::Gap(2.0),
        Block::Figure(Figure {
            size: [178.0, HIGH + 7.0],
            drawing,
            twin: vec![format!("Pictures: {}.", names.join(", "))],
        }),
    ]
}

/// Money, hours and date of each route.
fn figures(ctx: &Context) -> Vec<Block> {
    let Some(comparison) = ctx.input.comparison.filter(|c| !c.routes.is_empty()) else {
        return Vec::new();
    };
    let mut cols = vec![Col::words("")];
    cols.extend(comparison.routes.iter().map(|r| Col::numbers(&*r.route)));
    let row = |name: String, of: &dyn Fn(usize) -> String| {
        let mut cells: Vec<Cell> = vec![name.into()];
        cells.extend((0..comparison.routes.len()).map(|i| Cell::Text(of(i))));
        Row::of(cells)
    };
    let routes = &comparison.routes;
    let money = &ctx.input.job.project.money;
    let mut rows = vec![
        row(format!("money out, {money}"), &|i| {
            money_or(routes[i].money_cents)
        }),
        row("hours".into(), &|i| hours_or(routes[i].hours)),
    ];
    if routes.iter().any(|r| r.total_cents.is_some()) {
        rows.push(row("money and time".into(), &|i| {
            routes[i]
                .total_cents
                .map_or_else(|| "-".into(), Cents::print)
        }));
    }
    if routes.iter().any(|r| r.done.is_some()) {
        rows.push(row("done".into(), &|i| {
            routes[i].done.clone().unwrap_or_else(|| "-".into())
        }));
    }
    if routes.iter().any(|r| r.fits == Some(false)) {
        rows.push(row("goes into the opening".into(), &|i| {
            match routes[i].fits {
                Some(true) => "yes",
                Some(false) => "NO",
                None => "-",
            }
            .into()
        }));
    }
    if routes.iter().any(|r| r.met.is_some()) {
        rows.push(row("gives what is wanted".into(), &|i| {
            match routes[i].met {
                Some(true) => "MET",
                Some(false) => "SHORT",
                None => "-",
            }
            .into()
        }));
    }
    vec![Block::Table(Table::new(cols, rows).sized(3.5).snug())]
}

fn before_spending(ctx: &Context, most: usize) -> Vec<Block> {
    let mut all = cautions(ctx);
    if ctx.input.comparison.is_none() {
        // With no verdict on the cover, missing prices and readings are said here.
        all.extend(ctx.provisional());
    }
    if all.is_empty() {
        return Vec::new();
    }
    let mut blocks = vec![Block::Heading("Before you spend".into())];
    for (i, caution) in all.iter().take(most).enumerate() {
        blocks.push(Block::point((i + 1).to_string(), caution.clone()));
    }
    if all.len() > most {
        blocks.push(Block::say(format!(
            "All {} stand under Assumptions and cautions; {} are not shown here.",
            all.len(),
            all.len() - most
        )));
    }
    blocks
}

/// The list of pages; sheets are gathered where there are many.
fn contents(facts: &CoverFacts) -> Vec<Block> {
    if facts.contents.is_empty() {
        return Vec::new();
    }
    let mut lines: Vec<(String, usize)> = Vec::new();
    let is_sheet = |t: &str| t.starts_with("Sheet ") || t.starts_with("Sheets ");
    if facts.contents.len() > MOST_LINES {
        for (title, page) in &facts.contents {
            if is_sheet(title) && lines.last().is_some_and(|(t, _)| t == "Sheets, one a page") {
                continue;
            }
            let title = if is_sheet(title) {
                "Sheets, one a page".to_owned()
            } else {
                title.clone()
            };
            lines.push((title, *page));
        }
    } else {
        lines.clone_from(&facts.contents);
    }
    let rows = lines
        .into_iter()
        .map(|(title, page)| Row {
            to: page,
            ..Row::of(vec![title.into(), page.to_string().into()])
        })
        .collect();
    vec![
        Block::Heading("In this book".into()),
        Block::Table(
            Table::new(vec![Col::words(""), Col::numbers("")], rows)
                .across(3)
                .snug(),
        ),
    ]
}

/// A rule to measure, the sign of the projection, and what to do if it is off.
fn test_rule(ctx: &Context) -> Figure {
    let mut drawing = Drawing::new();
    let words = match ctx.tape.unit {
        Unit::Inch => {
            drawing.test_rule(pt(0.0, 6.0), 25.4, 4, 8, "4 in");
            "Measure this rule: if it is not 4 in long, your printer changed the scale of the page."
        }
        Unit::Mm => {
            drawing.test_rule(pt(0.0, 6.0), 10.0, 10, 10, "100 mm");
            "Measure this rule: if it is not 100 mm long, your printer changed the scale of the page."
        }
    };
    let first_angle = ctx.input.paper == Paper::A4;
    drawing.projection_sign(pt(140.0, 4.0), first_angle);
    drawing.say(pt(0.0, 12.0), 2.5, Weight::Regular, words);
    let still = "Sizes given as figures are still right.";
    drawing.say(pt(0.0, 16.3), 2.5, Weight::Regular, still);
    Figure {
        size: [178.0, 18.0],
        drawing,
        twin: vec![format!("{words} {still}")],
    }
}
