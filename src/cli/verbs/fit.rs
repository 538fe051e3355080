//! `fit`: how each route sits in the surveyed opening: gaps, shims, standing up, the way in, wants, sag, and what would mend a
//! route that does not go.

use super::survey::unit_word;
use crate::cli::ctx::Ctx;
use crate::cli::exit::{Exit, Stop};
use crate::cli::load;
use crate::cli::planning::{self, Place};
use crate::cli::screen::{paragraph, safe};
use crate::cli::table::{Align, Table};
use crate::files::read::Reads;
use crate::files::write::{MadeFile, Stamp, json_text};
use crate::model::mix::Mixes;
use crate::model::{Job, Opening, Problem, Severity, Spot, WallSide};
use crate::opening::{Step, WantMet};
use crate::plan::{Fitted, FittedRoute, clearing};
use crate::units::{Length, Tape};

/// Stand each route in the opening: gaps, shims, standing up, the way in, what it holds
#[derive(clap::Args)]
pub(crate) struct Args {
    /// Look at this route alone [default: every route]
    #[arg(long, value_name = "NAME")]
    route: Option<String>,
}

pub(crate) fn run(args: &Args, ctx: &mut Ctx) -> Result<Exit, Stop> {
    let loaded = load::folder(ctx, &Reads::FIT)?;
    let job = &loaded.job;
    let asked = match &args.route {
        Some(_) => Some(planning::route(job, args.route.as_deref())?),
        None => None,
    };
    if job.runs.is_empty() {
        return Err(Stop::Problems(vec![no_run()]));
    }
    let place = Place::take(ctx, None)?;
    let tape = loaded.shown(ctx).project.tape;
    let (Some(opening), Some(fitted)) = (&job.opening, loaded.fitted(ctx)) else {
        return Err(Stop::Fault("the readings were asked for and are not there".into()));
    };
    let mut fitted = fitted.clone();
    if let Some(name) = &asked {
        fitted.routes.retain(|r| r.sits.route == *name);
    }
    let files = [MadeFile::new("fit.json", json_text(&fitted))];
    let stamp = Stamp {
        verb: "fit",
        plan: None,
        lacking: false,
    };
    place.put(ctx, &files, stamp)?;
    ctx.json(&fitted);
    say(ctx, job, opening, &fitted, tape);
    let routes = || fitted.routes.iter().map(|r| &r.sits);
    Ok(if routes().any(|r| r.not_known) {
        Exit::Missing
    } else if routes().any(|r| !r.fits) {
        Exit::WillNotWork
    } else {
        Exit::Done
    })
}

fn no_run() -> Problem {
    Problem {
        severity: Severity::Mistake,
        spot: Spot {
            file: "project.toml".into(),
            row: None,
            column: Some("[[run]]".into()),
            line: None,
            caret: None,
        },
        found: "nothing".into(),
        why: "No run of boxes or frames is given, so there is nothing to stand in the opening.".into(),
        expected: "at least one [[run]] with boxes or units".into(),
        fix: "add [[run]] with route = \"custom\" and its [[run.box]] tables.".into(),
    }
}

fn say(ctx: &mut Ctx, job: &Job, opening: &Opening, fitted: &Fitted, tape: Tape) {
    let provisional = if fitted.provisional.is_empty() { "" } else { ", PROVISIONAL" };
    ctx.heading(&safe(&format!(
        "{}: how each route sits, sizes in {}{provisional}",
        job.project.name,
        unit_word(tape)
    )));
    table(ctx, opening, fitted, tape);
    for m in &fitted.mixes {
        mixes(ctx, m, tape);
    }
    for r in &fitted.routes {
        one(ctx, r, tape, fitted.routes.len() > 1);
    }
    let before = clearing(job);
    if !before.is_empty() {
        ctx.heading("Before the first box is set");
    }
    for (i, step) in before.iter().enumerate() {
        ctx.say(&paragraph(&format!("  {}. ", i + 1), &safe(step), 5));
    }
}

/// The best few mixes of frames, the first one used.
fn mixes(ctx: &mut Ctx, found: &Mixes, tape: Tape) {
    ctx.heading(&safe(&format!("Route {}: which frames", found.route)));
    for (i, m) in found.best.iter().enumerate() {
        let mut text = String::new();
        for r in m.rows.iter().filter(|r| !r.units.is_empty()) {
            let wall = match r.wall {
                WallSide::Back => "",
                WallSide::Left => "left wall: ",
                WallSide::Right => "right wall: ",
            };
            text += &format!("{wall}{}", r.units.join(" + "));
            text += &format!(" ({} of width unused", tape.print(r.unused));
            if let Some(head) = r.head_gap {
                text += &format!(", {} at the head", tape.print(head));
            }
            text += "); ";
        }
        for (code, n) in &m.extras {
            text += &format!("{n} {code}, ");
        }
        text += &format!("{} before tax", m.cents.print());
        text += &match m.wants_short {
            0 => String::new(),
            n => format!("; wants short: {n}"),
        };
        let used = if i == 0 { " (used)" } else { "" };
        ctx.say(&paragraph(&format!("  {}. ", i + 1), &safe(&format!("{text}{used}")), 5));
    }
    for why in &found.left_out {
        ctx.say(&paragraph("  Left out: ", &safe(why), 4));
    }
    ctx.say(match (found.complete, found.best.is_empty()) {
        (true, true) => "  No mix fits; every one was looked at.\n\n",
        (true, false) => "  Complete: no other mix of these frames is better. Their order in a row is yours.\n\n",
        (false, false) => "  Not every mix was looked at: a better one may exist. Fewer frames in prefab.csv would help.\n\n",
        (false, true) => "  No frames were chosen.\n\n",
    });
}

/// One fact a line, one column a route.
fn table(ctx: &mut Ctx, opening: &Opening, fitted: &Fitted, tape: Tape) {
    let mut heads = vec![("", Align::Wrap)];
    let names: Vec<String> = fitted.routes.iter().map(|r| safe(&r.sits.route)).collect();
    heads.extend(names.iter().map(|n| (n.as_str(), Align::Right)));
    let mut table = Table::new(&heads);
    let mut put = |what: &str, of: &dyn Fn(&FittedRoute) -> Option<String>| {
        let cells: Vec<Option<String>> = fitted.routes.iter().map(of).collect();
        if cells.iter().any(Option::is_some) {
            let mut row = vec![what.to_owned()];
            row.extend(cells.into_iter().map(|c| c.unwrap_or_else(|| "-".into())));
            table.row(&row);
        }
    };
    let size = |l: Length| tape.print(l);
    put("total width of boxes", &|r| {
        r.sits.total_width.is_positive().then(|| size(r.sits.total_width))
    });
    let sides = |r: &FittedRoute| -> Vec<Length> {
        let s = &r.sits;
        [&s.left_gap, &s.right_gap, &s.left_gap_back, &s.right_gap_back]
            .into_iter()
            .flatten()
            .copied()
            .collect()
    };
    put("side gap, tightest", &|r| sides(r).into_iter().min().map(size));
    put("side gap, widest", &|r| sides(r).into_iter().max().map(size));
    let heights = &opening.plumb_lines.height;
    let full = |gaps: &[Option<Length>]| gaps.iter().all(Option::is_some);
    if full(&opening.plumb_lines.left_gap) && full(&opening.plumb_lines.right_gap) {
        for (i, h) in heights.iter().enumerate() {
            put(&format!("  at {}: left, right", size(*h)), &|r| {
                let (l, right) = (r.sits.left_gap.get(i)?, r.sits.right_gap.get(i)?);
                Some(format!("{}, {}", size(*l), size(*right)))
            });
        }
    }
    put("head gap, smallest", &|r| r.sits.head_gap.iter().min().map(|l| size(*l)));
    put("head gap, largest", &|r| r.sits.head_gap.iter().max().map(|l| size(*l)));
    let floor: Vec<_> = opening.level_line.down_to_floor.iter().filter(|s| s.front.is_some()).collect();
    for (i, s) in floor.iter().enumerate() {
        let at = s.from_left.map_or_else(|| s.name.clone(), size);
        put(&format!("shim under base at {at}"), &|r| r.sits.shims.get(i).map(|l| size(*l)));
    }
    put("top of base below the level line", &|r| r.sits.base_below_line.map(size));
    let mut wants: Vec<&str> = Vec::new();
    for w in fitted.routes.iter().flat_map(|r| &r.sits.wants) {
        if !wants.contains(&w.what.as_str()) {
            wants.push(&w.what);
        }
    }
    for what in wants {
        let find = |r: &FittedRoute| r.sits.wants.iter().find(|w| w.what == what).cloned();
        let wanted = fitted.routes.iter().find_map(find).map(|w| w.in_words(tape));
        let [wanted, _] = wanted.unwrap_or_default();
        put(&format!("{what} wanted {wanted}"), &|r| {
            let w: WantMet = find(r)?;
            let met = if w.met { "MET" } else { "SHORT" };
            let [_, given] = w.in_words(tape);
            Some(format!("{given} {met}{}", uncounted(r, what)))
        });
    }
    if fitted.routes.iter().all(|r| r.sits.wants.is_empty()) {
        put("shelf", &|r| Some(tape.print_feet(r.sits.shelf_length)));
        put("hanging", &|r| Some(format!("{}{}", tape.print_feet(r.sits.hanging_length), uncounted(r, "hanging"))));
    }
    let mut places: Vec<(&str, Length)> = Vec::new();
    for s in fitted.routes.iter().flat_map(|r| &r.sits.stand_up) {
        if !places.contains(&(s.place.as_str(), s.ceiling)) {
            places.push((&s.place, s.ceiling));
        }
    }
    put("stand every box up", &|r| {
        let known = !r.sits.stand_up.is_empty();
        known.then(|| if r.sits.can_be_stood { "goes" } else { "WILL NOT" }.to_owned())
    });
    // What does not go stands first.
    let fails = |(place, ceiling): &(&str, Length)| {
        let all = fitted.routes.iter().flat_map(|r| &r.sits.stand_up);
        all.filter(|s| s.place == *place && s.ceiling == *ceiling).any(|s| !s.goes)
    };
    places.sort_by_key(|p| !fails(p));
    for (place, ceiling) in places {
        put(&format!("  {place}, under {}", size(ceiling)), &|r| {
            // Of boxes that differ: the one that is hardest to stand up.
            let here = r.sits.stand_up.iter().filter(|s| s.place == place && s.ceiling == ceiling);
            let s = here.max_by_key(|s| (!s.goes, s.diagonal))?;
            let needs = tape.print_up(s.diagonal);
            Some(if s.goes && !r.sits.can_be_stood {
                format!("{needs} goes, not enough")
            } else if s.goes {
                format!("{needs} goes")
            } else if s.no_floor {
                format!("{needs} WILL NOT: floor too short")
            } else {
                format!("{needs} WILL NOT, by {}", tape.print_up(s.short_by))
            })
        });
    }
    let text = table.text(ctx.rule());
    ctx.say(&text);
    ctx.say("\n");
}

/// Beside a hanging length: that there are rails which do not count. The reasons stand with the cautions.
fn uncounted(r: &FittedRoute, what: &str) -> String {
    match r.sits.rails_not_counted.len() {
        n if n > 0 && what == "hanging" => format!("; rails not counted: {n}, see cautions"),
        _ => String::new(),
    }
}

/// Each box as it is set, with the earlier ones standing.
fn steps(ctx: &mut Ctx, list: &[Step], tape: Tape) {
    for (i, s) in list.iter().enumerate() {
        let mut text = format!("{} on the {} wall: ", s.name, s.wall);
        if !s.goes {
            text += "WILL NOT GO, ";
        }
        text += &s.how;
        if let Some(floor) = s.floor {
            text += &format!(" (tilting takes {} in a line, {} is free)", tape.print_up(s.needs), tape.print(floor));
        }
        ctx.say(&paragraph(&format!("    {}. ", i + 1), &safe(&text), 7));
    }
}

/// What is said of one route by itself: the way in, cut-outs, sag, the order of setting, and the verdict.
fn one(ctx: &mut Ctx, r: &FittedRoute, tape: Tape, several: bool) {
    let sits = &r.sits;
    ctx.heading(&safe(&format!("Route {}", sits.route)));
    for p in &sits.way_in {
        let goes = if p.goes { "goes" } else { "WILL NOT GO" };
        ctx.say(&paragraph("  ", &safe(&format!("{} through {}: {goes}, {}", p.what, p.through, p.how)), 4));
    }
    if sits.setting_order.len() > 1 {
        let all_go = sits.setting.iter().all(|s| s.goes);
        let lead = if all_go { "Set" } else { "No order of setting goes. Tried" };
        let mut text = format!("{lead} in this order: {}.", sits.setting_order.join(", "));
        let alike = |f: &&Step| all_go && sits.setting.iter().all(|s| s.how == f.how);
        let same = sits.setting.first().filter(alike);
        if let Some(first) = same {
            text += &format!(" Each one: {}.", first.how);
        }
        ctx.say(&paragraph("  ", &safe(&text), 4));
        if same.is_none() {
            steps(ctx, &sits.setting, tape);
        }
    }
    for text in sits.side_rows.iter().flat_map(|r| r.in_words(tape)) {
        ctx.say(&paragraph("  ", &safe(&text), 4));
    }
    for c in &sits.cut_outs {
        let text = c.in_words(tape);
        ctx.say(&paragraph("  ", &safe(&text), 4));
    }
    if let Some(w) = &sits.walls {
        for c in &w.corners {
            let through = if c.back_goes_through { "back" } else { "side" };
            let text = format!(
                "{} corner: the {through} run goes through; {} x {} in it is reached from that run only",
                c.corner,
                tape.print(c.dead[0]),
                tape.print(c.dead[1])
            );
            ctx.say(&paragraph("  ", &text, 4));
        }
    }
    for note in &sits.notes {
        ctx.say(&paragraph("  ", &safe(note), 4));
    }
    for w in &sits.standing_ways {
        let text = format!("{} wall: {} clear to stand in before its boxes, to {}", w.wall, tape.print(w.clear), w.to);
        ctx.say(&paragraph("  ", &safe(&text), 4));
    }
    for s in &r.sag {
        ctx.say(&paragraph("  ", &safe(&format!("{}: {}", s.shelf, s.words)), 4));
    }
    let lead = if several { format!("{}: ", sits.route) } else { String::new() };
    for c in &sits.cautions {
        ctx.caution(&format!("{lead}{c}"));
    }
    for short in sits.wants.iter().filter_map(|w| w.short(tape)) {
        ctx.caution(&format!("{lead}{short}"));
    }
    match &sits.why_not {
        None if sits.stand_up.iter().all(|s| s.goes) => ctx.say("  It fits.\n\n"),
        None => ctx.say("  It fits, if each box is stood up in a way that goes (first table).\n\n"),
        Some(why) => {
            ctx.say(&paragraph("  IT DOES NOT FIT. ", &safe(why), 4));
            for m in &sits.mends {
                ctx.say(&paragraph("    Would mend it: ", &safe(m), 6));
            }
            ctx.say("\n");
        }
    }
}
