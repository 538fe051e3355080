//! `finish`: areas, coats, cans, goods by rule, and the order of filling, priming and painting.

use crate::cli::ctx::Ctx;
use crate::cli::exit::{Exit, Stop};
use crate::cli::load;
use crate::cli::planning::{self, Place};
use crate::cli::screen::{paragraph, safe};
use crate::cli::table::{Align, Table};
use crate::files::read::Reads;
use crate::files::write::{MadeFile, Stamp, json_text};
use crate::model::FinishPlan;
use crate::plan::finish_within;
use crate::units::Unit;

/// Fill, prime, paint: areas, coats, cans, goods by rule, the order of work
#[derive(clap::Args)]
pub(crate) struct Args {
    /// The route to finish [default: the chosen one, else the first]
    #[arg(long, value_name = "NAME")]
    route: Option<String>,
}

pub(crate) fn run(args: &Args, ctx: &mut Ctx) -> Result<Exit, Stop> {
    let loaded = load::folder(ctx, &Reads::COMPARE)?;
    let place = Place::take(ctx, None)?;
    let route = planning::route(&loaded.job, args.route.as_deref())?;
    planning::say_fit(ctx, &loaded, &route);
    // Its days are those of the book: among the rest of the route's work, which hangs on its sheets.
    let cut = planning::plan(ctx, &loaded.job, &route)?.plan;
    let trimmed = planning::trim(ctx, &loaded.job, &route)?;
    let plan = finish_within(&loaded.job, &route, &cut, &trimmed);
    let stamp = Stamp {
        verb: "finish",
        plan: None,
        lacking: false,
    };
    place.put(ctx, &[MadeFile::new("finish.json", json_text(&plan))], stamp)?;
    ctx.json(&plan);
    say(ctx, &plan, loaded.shown(ctx).project.tape.unit);
    Ok(Exit::Done)
}

fn say(ctx: &mut Ctx, plan: &FinishPlan, unit: Unit) {
    let name = unit.area_name();
    let area = |sq_ft: f64| unit.area(sq_ft);
    ctx.heading(&safe(&format!("FILL, PRIME, PAINT, route {}", plan.route)));
    if plan.areas.is_empty() {
        ctx.say("Nothing is painted.\n");
    } else {
        let heads = [format!("faces, {name}"), format!("edges, {name}")];
        let mut table = Table::new(&[
            ("surface", Align::Wrap),
            ("what counts", Align::Wrap),
            (heads[0].as_str(), Align::Right),
            (heads[1].as_str(), Align::Right),
            (name, Align::Right),
        ]);
        for a in &plan.areas {
            table.row(&[
                a.what.clone(),
                a.rule.clone(),
                area(a.face_sq_ft),
                area(a.edge_sq_ft),
                area(a.sq_ft),
            ]);
        }
        table.row(&["together", "raw edges count twice", "", "", &area(plan.sq_ft)].map(str::to_owned));
        let text = table.text(ctx.rule());
        ctx.say(&text);
        ctx.say("\n");
    }
    for c in &plan.coats {
        let item = c.item.as_deref().unwrap_or("no row of stock.csv");
        let goes = match unit {
            Unit::Inch => format!(", {:.0} sq ft a gallon", c.sq_ft_a_gallon),
            Unit::Mm => String::new(),
        };
        let much = unit.volume(c.gallons) + &goes;
        let text = format!("{}, {} x {} {name}: {much} ({}). {item}", c.what, c.coats, area(c.sq_ft), c.source);
        ctx.say(&paragraph("  ", &safe(&text), 4));
    }
    for can in &plan.cans {
        let packs: Vec<String> = can.packs.iter().map(|p| format!("{} {}", p.packs, p.item)).collect();
        let packs = if packs.is_empty() { "none, in hand".to_owned() } else { packs.join(" + ") };
        let order = can.order_words();
        let notes: Vec<&str> = [Some(can.note.as_str()).filter(|n| !n.is_empty()), order.as_deref()].into_iter().flatten().collect();
        let note = if notes.is_empty() { String::new() } else { format!(" ({})", notes.join("; ")) };
        let text = format!("buy {packs} for {}{note}", can.need);
        ctx.say(&paragraph("  ", &safe(&text), 4));
    }
    if !plan.goods.is_empty() {
        ctx.say("\n");
        ctx.heading("Goods by rule; a [[need]] row overrides an amount");
        for g in &plan.goods {
            let hers = if g.hers { " Your [[need]] row counts instead." } else { "" };
            let item = g.item.as_deref().unwrap_or("no row of stock.csv");
            let text = format!("{}: {} ({item}). {}. {}.{hers}", g.what, g.amount, g.rule, g.source);
            ctx.say(&paragraph("  ", &safe(&text), 4));
        }
    }
    if !plan.steps.is_empty() {
        ctx.say("\n");
        ctx.heading("Order of work");
        for (n, s) in plan.steps.iter().enumerate() {
            let days = match (&s.from, &s.to) {
                (Some(a), Some(b)) if a != b => format!(", {a} to {b}"),
                (Some(a), _) => format!(", {a}"),
                _ => String::new(),
            };
            let dry = if s.dry_hours > 0 { format!(", then {} h to dry", s.dry_hours) } else { String::new() };
            let text = format!("{}. {}: {:.2} h{dry}{days}", n + 1, s.what, s.hours);
            ctx.say(&paragraph("  ", &safe(&text), 5));
        }
        let days = match (plan.with_route, &plan.load_from) {
            (true, Some(_)) => " The days are those on which they follow the rest of the work, as in the book.",
            (false, Some(_)) => " The days are those if painting begins on the job's date, as in the book.",
            (_, None) => " Give `date` and `hours_a_weekend` to see the days.",
        };
        let text = format!("Together {:.2} h, as in the table of hours of `compare`.{days}", plan.hours);
        ctx.say(&paragraph("  ", &text, 4));
        let from = plan.load_from.as_ref().map_or(String::new(), |d| {
            let begun = if plan.with_route { "" } else { " if painting begins on the job's date" };
            format!(": from {d}{begun}")
        });
        ctx.say(&paragraph("  ", &format!("Load nothing for {} h after the last coat{from}.", plan.cure_hours), 4));
    }
    for l in &plan.lights {
        ctx.say(&paragraph("  ", &safe(&format!("Light in {}: {}", l.in_box, l.place)), 4));
    }
    for u in &plan.unpriced {
        ctx.say(&paragraph("  Without a price: ", &safe(u), 4));
    }
    for c in &plan.cautions {
        ctx.caution(c);
    }
}
