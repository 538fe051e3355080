//! `compare`: every route carried to the same finish line, side by side, and what would flip the answer.

use crate::cli::ctx::Ctx;
use crate::cli::exit::{Exit, Stop};
use crate::cli::load;
use crate::cli::planning::{self, Place};
use crate::cli::screen::{paragraph, safe};
use crate::cli::table::{Align, Table};
use crate::costs::compare_with;
use crate::files::read::Reads;
use crate::files::write::{MadeFile, Stamp, csv_line, json_text};
use crate::model::{Plan, Project, SPACE_WORDS, SpaceUse};
use crate::model::compare::{Comparison, RouteCost};
use crate::opening::open_gaps;
use crate::plan::route_facts;
use crate::units::{Cents, Length, Tape};

/// Put the routes side by side: money, hours, and what would flip the answer
#[derive(clap::Args)]
pub(crate) struct Args {}

pub(crate) fn run(_args: &Args, ctx: &mut Ctx) -> Result<Exit, Stop> {
    let loaded = load::folder(ctx, &Reads::COMPARE)?;
    let place = Place::take(ctx, None)?;
    let job = &loaded.job;
    let mut plans: Vec<(&str, Plan)> = Vec::new();
    for route in job.routes() {
        plans.push((route, planning::plan(ctx, job, route)?.plan));
    }
    let by_ref: Vec<(&str, &Plan)> = plans.iter().map(|(r, p)| (*r, p)).collect();
    let comparison = compare_with(job, &by_ref, &route_facts(job, &by_ref, &planning::trims(ctx, job)?));
    let files = [
        MadeFile::new("compare.json", json_text(&comparison)),
        MadeFile::new("compare.csv", compare_csv(&comparison, &job.project.tape)),
    ];
    let stamp = Stamp {
        verb: "compare",
        plan: None,
        lacking: false,
    };
    place.put(ctx, &files, stamp)?;
    ctx.json(&comparison);
    let shown = loaded.shown(ctx);
    say(ctx, &comparison, &shown.project);
    let mut exit = if comparison.missing.is_empty() { Exit::Done } else { Exit::Missing };
    for run in &job.runs {
        if let Some(text) = job.opening.as_ref().and_then(|_| open_gaps(job, run)) {
            ctx.caution(&text);
        }
    }
    for (route, plan) in &plans {
        if loaded.no_mix(route) {
            exit = Exit::WillNotWork;
        }
        for u in &plan.unplaced {
            ctx.caution(&format!("{route}: {} of {} found no place: {}", u.count, u.mark, u.why));
            exit = Exit::WillNotWork;
        }
    }
    Ok(exit)
}

fn money(c: Option<Cents>) -> String {
    match c {
        None => "not known".into(),
        Some(Cents::ZERO) => "-".into(),
        Some(c) => c.print(),
    }
}

/// Every line of the sum, the same for table and file: what, then one cell for each route.
fn rows(c: &Comparison, tape: &Tape, cell: &dyn Fn(Option<Cents>) -> String) -> Vec<Vec<String>> {
    let mut out: Vec<Vec<String>> = Vec::new();
    let mut put = |what: &str, of: &dyn Fn(&RouteCost) -> String| {
        let mut row = vec![what.to_owned()];
        row.extend(c.routes.iter().map(of));
        out.push(row);
    };
    let mut names: Vec<&str> = Vec::new();
    for r in &c.routes {
        for l in &r.lines {
            if !names.contains(&l.what.as_str()) {
                names.push(&l.what);
            }
        }
    }
    for what in names {
        put(what, &|r| {
            cell(r.lines.iter().find(|l| l.what == what).map_or(Some(Cents::ZERO), |l| l.cents))
        });
    }
    put("sales tax", &|r| cell(r.tax_cents));
    put("MONEY OUT", &|r| cell(r.money_cents));
    put("on a cheap day", &|r| cell(r.money_low_cents));
    put("on a dear day", &|r| cell(r.money_high_cents));
    put("your hours", &|r| r.hours.map_or("not known".into(), |h| format!("{h:.1}")));
    put("hours at your rate", &|r| cell(r.hours_cents));
    put("MONEY AND TIME", &|r| cell(r.total_cents));
    put("done on", &|r| r.done.clone().unwrap_or_else(|| "not known".into()));
    if c.routes.iter().any(|r| r.fits.is_some()) {
        put("goes into the opening", &|r| match r.fits {
            Some(true) => "yes".into(),
            Some(false) => "NO: see fit".into(),
            None => "not known".into(),
        });
    }
    put("gives what you want", &|r| {
        match r.met {
            Some(true) => "yes",
            Some(false) => "SHORT",
            None => "not known",
        }
        .into()
    });
    if c.routes.iter().any(|r| r.shelf.is_some()) {
        let size = |l: Option<Length>| l.map_or("not known".into(), |l| tape.print_feet(l));
        put("shelf", &|r| size(r.shelf));
        put("hanging", &|r| size(r.hanging));
    }
    if let Some(opening) = c.routes.iter().find_map(|r| r.space) {
        let unit = SpaceUse::unit_word(tape.unit);
        put("share of the opening you can use", &|r| r.space.map_or("not known".into(), |s| format!("{}%", s.percent())));
        put(&format!("of {} {unit} of opening:", opening.print(tape.unit).0), &|_| String::new());
        for (i, what) in SPACE_WORDS.iter().enumerate() {
            put(what, &|r| r.space.map_or("not known".into(), |s| s.print(tape.unit).1[i].clone()));
        }
    }
    out
}

fn say(ctx: &mut Ctx, c: &Comparison, project: &Project) {
    ctx.heading(&safe(&format!("ROUTES SIDE BY SIDE, in {}", project.money)));
    let mut heads = vec![("", Align::Wrap)];
    let names: Vec<String> = c.routes.iter().map(|r| safe(&r.route)).collect();
    heads.extend(names.iter().map(|n| (n.as_str(), Align::Right)));
    let mut table = Table::new(&heads);
    for row in rows(c, &project.tape, &money) {
        table.row(&row);
    }
    let text = table.text(ctx.rule());
    ctx.say(&text);
    for r in &c.routes {
        for what in &r.also {
            ctx.say(&paragraph("  ", &safe(&format!("In no total, for want of a row in stock.csv: {}: {what}", r.route)), 4));
        }
    }
    ctx.say("\n");
    ctx.say(&paragraph("Verdict: ", &safe(&c.verdict.sentence), 9));
    if c.routes.iter().any(|r| r.done.is_none()) {
        ctx.say("A day for `done on` needs date under [project], hours_a_weekend under [labour], and hours for every route.\n");
    }
    if !c.missing.is_empty() {
        ctx.say("No verdict while this is missing:\n");
        for m in &c.missing {
            ctx.say(&paragraph("  ", &safe(m), 2));
        }
    }
    if c.flips.iter().any(|f| !f.says.is_empty()) {
        ctx.say("What would flip it:\n");
        for f in &c.flips {
            ctx.say(&paragraph("  ", &safe(&f.says), 2));
        }
    }
    more(ctx, c);
    if c.routes.len() < 2 {
        ctx.say("There is one route only. List a second [[run]] in project.toml to compare with.\n");
    }
}

/// What moves the answer most, what else is worth saying, and the hours by task.
fn more(ctx: &mut Ctx, c: &Comparison) {
    if !c.moves.is_empty() {
        ctx.say("\n");
        ctx.heading("What moves the answer: how far the cheaper route is ahead, best end to worst");
        let mut table = Table::new(&[("what", Align::Wrap), ("from", Align::Left), ("to", Align::Left), ("ahead", Align::Right), ("ahead", Align::Right)]);
        for m in &c.moves {
            let what = if m.switch { format!("{} (a choice: not weighed)", m.what) } else { m.what.clone() };
            table.row(&[safe(&what), m.from.clone(), m.to.clone(), m.ahead_from.print(), m.ahead_to.print()]);
        }
        let text = table.text(ctx.rule());
        ctx.say(&text);
    }
    for s in &c.says {
        ctx.say(&paragraph("  ", &safe(s), 2));
    }
    for r in c.routes.iter().filter(|r| !r.tasks.is_empty()) {
        ctx.say("\n");
        ctx.heading(&safe(&format!("Hours by task, {}: ours where no \"yours\" stands; [labour.takes] KEY = hours changes one", r.route)));
        let mut table = Table::new(&[("key", Align::Left), ("what", Align::Wrap), ("times", Align::Right), ("each", Align::Right), ("hours", Align::Right), ("", Align::Left)]);
        for t in &r.tasks {
            let yours = if t.yours { "yours" } else { "" };
            table.row(&[t.task.clone(), format!("{}, each {}", t.what, t.one), t.count.to_string(), format!("{:.2}", t.each), format!("{:.2}", t.hours), yours.to_owned()]);
        }
        let sum: f64 = r.tasks.iter().map(|t| t.hours).sum();
        table.row(&["", "together", "", "", &format!("{sum:.2}"), ""].map(str::to_owned));
        let text = table.text(ctx.rule());
        ctx.say(&text);
    }
}

fn compare_csv(c: &Comparison, tape: &Tape) -> String {
    let mut heads = vec!["what"];
    heads.extend(c.routes.iter().map(|r| r.route.as_str()));
    let plain = |c: Option<Cents>| c.map_or(String::new(), |c| c.print().replace(',', ""));
    let mut out = csv_line(&heads, ',') + "\r\n";
    for row in rows(c, tape, &plain) {
        out.push_str(&csv_line(&row, ','));
        out.push_str("\r\n");
    }
    // As many cells as the rows above (RFC 4180, section 2, rule 4).
    let mut last = vec!["verdict", &c.verdict.sentence];
    last.resize(heads.len().max(2), "");
    out.push_str(&csv_line(&last, ','));
    out.push_str("\r\n");
    out
}
