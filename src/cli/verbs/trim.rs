//! `trim`: scribe strips, mouldings with both ends, widths that cover each gap, and the sticks they come from.

use crate::cli::ctx::Ctx;
use crate::cli::exit::{Exit, Stop};
use crate::cli::load;
use crate::cli::planning::{self, Place};
use crate::cli::screen::{paragraph, safe};
use crate::cli::table::{Align, Table};
use crate::files::read::Reads;
use crate::files::write::{MadeFile, Stamp, json_text};
use crate::plan::TrimPlan;
use crate::units::Tape;

/// Close the gaps: scribe strips, mouldings with every end, the sticks they come from
#[derive(clap::Args)]
pub(crate) struct Args {
    /// The route to trim [default: the chosen one, else the first]
    #[arg(long, value_name = "NAME")]
    route: Option<String>,
}

pub(crate) fn run(args: &Args, ctx: &mut Ctx) -> Result<Exit, Stop> {
    let loaded = load::folder(ctx, &Reads::COMPARE)?;
    let place = Place::take(ctx, None)?;
    let route = planning::route(&loaded.job, args.route.as_deref())?;
    planning::say_fit(ctx, &loaded, &route);
    let plan = planning::trim(ctx, &loaded.job, &route)?;
    let stamp = Stamp {
        verb: "trim",
        plan: None,
        lacking: false,
    };
    place.put(ctx, &[MadeFile::new("trim.json", json_text(&plan))], stamp)?;
    ctx.json(&plan);
    let tape = loaded.shown(ctx).project.tape.for_scribing();
    say(ctx, &plan, tape);
    for c in &plan.cautions {
        ctx.caution(c);
    }
    for u in &plan.unplaced {
        ctx.caution(&format!("{} of {} found no stick: {}", u.count, u.mark, u.why));
    }
    Ok(if plan.unplaced.is_empty() { Exit::Done } else { Exit::WillNotWork })
}

fn say(ctx: &mut Ctx, plan: &TrimPlan, tape: Tape) {
    if plan.scribes.is_empty() && plan.pieces.is_empty() && plan.covers.is_empty() {
        ctx.heading(&safe(&format!("TRIM, route {}", plan.route)));
        for n in &plan.notes {
            ctx.say(&paragraph("  ", &safe(n), 4));
        }
        return;
    }
    ctx.heading(&safe(&format!("SCRIBE STRIPS, route {}", plan.route)));
    for s in &plan.scribes {
        let pair = |o: &crate::opening::Ordinate| format!("{} at {}", tape.print(o.width), tape.print(o.at));
        let places = |list: &[crate::opening::Ordinate]| list.iter().map(pair).collect::<Vec<_>>().join(", ");
        let (from, own) = if s.is_head() {
            (format!("straight edge = {}, from the left end", s.straight_edge), "At its ends")
        } else {
            (format!("straight edge = {}, up from the floor", s.straight_edge), "At its ends and the top of the base")
        };
        let read = match s.ordinates.as_slice() {
            [] => "no reading lies over it".into(),
            list => places(list),
        };
        let text = format!(
            "{}, follows {}, blank {} x {}; {from}: {read}. {own}: {}. Back bevel {} degrees.",
            s.strip,
            s.follows,
            tape.print(s.blank[0]),
            tape.print(s.blank[1]),
            places(&s.ends),
            s.back_bevel
        );
        let foot = if s.foot.is_empty() { String::new() } else { format!(" Foot {}.", s.foot) };
        ctx.say(&paragraph("  ", &safe(&format!("{text}{foot}")), 4));
        for cut in &s.cut_round {
            ctx.say(&paragraph("    ", &safe(&cut.in_words(tape)), 4));
        }
        for w in &s.warnings {
            ctx.caution(w);
        }
    }
    ctx.say("  Rough-cut 1/8 in outside these, hold in place, set the compass, scribe, plane to the line.\n\n");
    ctx.heading("Mouldings and strips; the long point is what is cut");
    let mut table = Table::new(&[
        ("piece", Align::Left),
        ("what", Align::Left),
        ("long point", Align::Right),
        ("short point", Align::Right),
        ("left end or foot", Align::Left),
        ("right end or head", Align::Wrap),
    ]);
    for p in &plan.pieces {
        table.row(&[
            p.mark.clone(),
            format!("{}, {}", p.what, p.item),
            tape.print(p.long_point),
            tape.print(p.short_point),
            p.left.in_words(),
            p.right.in_words(),
        ]);
    }
    if table.is_empty() {
        ctx.say("  None: no moulding in the stock fits, or the cut list has them.\n");
    } else {
        let text = table.text(ctx.rule());
        ctx.say(&text);
    }
    for n in &plan.notes {
        ctx.say(&paragraph("  ", &safe(n), 4));
    }
    ctx.say("\n");
    ctx.heading("Widths that cover, with a reveal; strips with parallel edges");
    for c in &plan.covers {
        let found = match &c.look_for {
            Some(text) => text.clone(),
            None => c.items.join(", "),
        };
        let least = tape.print(c.least);
        let text = if c.least > c.most {
            format!("{}, at least {least}: {found}", c.what)
        } else {
            format!("{}: {least} to {}: {found}", c.what, tape.print(c.most))
        };
        ctx.say(&paragraph("  ", &safe(&text), 4));
    }
    if !plan.items.is_empty() {
        ctx.say("\n");
        ctx.heading("Sticks");
    }
    for s in &plan.sticks {
        let pieces: Vec<&str> = s.pieces.iter().map(|p| p.mark.as_str()).collect();
        let text = format!("{} x {} {}: {}; left {}", s.count, s.item, tape.print(s.length), pieces.join(", "), tape.print(s.left));
        ctx.say(&paragraph("  ", &safe(&text), 4));
    }
    for i in &plan.items {
        ctx.say(&paragraph("  ", &safe(&format!("{}: {} to buy. {}", i.item, i.sheets, i.why)), 4));
    }
}
