//! `buy`: the shopping list of a route, by store and aisle, in whole packs.

use crate::car::{CutCount, Pile, Trip, WayHome, cartons_unknown, cut_count, way_home};
use crate::cli::ctx::Ctx;
use crate::cli::exit::{Exit, Stop};
use crate::cli::load::{self, Loaded};
use crate::cli::planning::{self, Place};
use crate::cli::screen::{paragraph, safe};
use crate::cli::table::{Align, Table};
use crate::files::read::Reads;
use crate::files::write::{MadeFile, Stamp, csv_line};
use crate::model::StickPlan;
use crate::model::compare::{BuyLine, BuyList};
use crate::plan::buy_list;
use serde::Serialize;

/// List what to buy, by store and aisle, in whole packs
#[derive(clap::Args)]
pub(crate) struct Args {
    /// The route to buy for [default: the chosen one, else the first]
    #[arg(long, value_name = "NAME")]
    route: Option<String>,
}

pub(crate) fn run(args: &Args, ctx: &mut Ctx) -> Result<Exit, Stop> {
    let loaded = load::folder(ctx, &Reads::COMPARE)?;
    let place = Place::take(ctx, None)?;
    let route = planning::route(&loaded.job, args.route.as_deref())?;
    planning::say_fit(ctx, &loaded, &route);
    let outcome = planning::plan(ctx, &loaded.job, &route)?;
    let trim = planning::trim(ctx, &loaded.job, &route)?;
    let list = buy_list(&loaded.job, &route, &outcome.plan, &trim);
    let stamp = Stamp {
        verb: "buy",
        plan: Some(&outcome.plan.plan_number),
        lacking: !outcome.plan.unplaced.is_empty(),
    };
    place.put(ctx, &[MadeFile::new("buy.csv", buy_csv(&list))], stamp)?;
    let way = way_home(&loaded.job, &outcome.plan, Some(&list));
    let cut: Vec<&StickPlan> = outcome.plan.sticks.iter().chain(&trim.sticks).collect();
    let mut hints = way.as_ref().map_or_else(Vec::new, |w| w.stick_hints(&loaded.job, &cut));
    hints.extend(outcome.on_sticks.iter().cloned());
    hints.extend(trim.on_sticks.iter().cloned());
    hints.extend(cartons_unknown(&loaded.job, &list));
    let count = cut_count(&loaded.job, &outcome.plan);
    ctx.json(&BuyDoc {
        list: &list,
        store_cuts: count.cuts,
        car: way.as_ref().map(CarDoc::of),
    });
    say(ctx, &list, &loaded.job.project.money);
    homeward(ctx, &loaded, count, way.as_ref());
    for hint in &hints {
        ctx.caution(hint);
    }
    for u in &outcome.plan.unplaced {
        ctx.caution(&format!("{} of {} found no place: {}", u.count, u.mark, u.why));
    }
    ctx.say(&format!("Written: {}\n", safe(&place.path("buy.csv").display().to_string())));
    Ok(if !outcome.plan.unplaced.is_empty() || loaded.no_mix(&route) {
        Exit::WillNotWork
    } else if list.missing.is_empty() {
        Exit::Done
    } else {
        Exit::Missing
    })
}

/// The list, and beside it the way home.
#[derive(Serialize)]
struct BuyDoc<'a> {
    #[serde(flatten)]
    list: &'a BuyList,
    store_cuts: u32,
    #[serde(skip_serializing_if = "Option::is_none")]
    car: Option<CarDoc<'a>>,
}

#[derive(Serialize)]
struct CarDoc<'a> {
    pieces: usize,
    trips: Vec<TripDoc<'a>>,
    stays: Vec<&'a str>,
}

#[derive(Serialize)]
struct TripDoc<'a> {
    grams: i64,
    piles: Vec<PileDoc<'a>>,
}

#[derive(Serialize)]
struct PileDoc<'a> {
    /// Which space, from 0.
    space: usize,
    pieces: Vec<&'a str>,
}

impl<'a> CarDoc<'a> {
    fn of(way: &'a WayHome) -> Self {
        let name = |i: &usize| way.all[*i].name.as_str();
        let pile = |p: &Pile| PileDoc {
            space: p.space,
            pieces: p.pieces.iter().map(name).collect(),
        };
        let trip = |t: &Trip| TripDoc {
            grams: t.grams,
            piles: t.piles.iter().map(pile).collect(),
        };
        Self {
            pieces: way.all.iter().filter(|p| p.sheet.is_some()).count(),
            trips: way.load.trips.iter().map(trip).collect(),
            stays: way.load.stays.iter().map(name).collect(),
        }
    }
}

/// To the saw counter and home.
fn homeward(ctx: &mut Ctx, loaded: &Loaded, count: CutCount, way: Option<&WayHome>) {
    if count.cuts > 0 {
        let free = if count.charged == 0 {
            "all free".to_owned()
        } else {
            format!("{} beyond the free ones", count.charged)
        };
        ctx.say(&format!("\n  Then to the saw counter with the page of store cuts: {} cuts, {free}.\n", count.cuts));
    }
    let Some(way) = way else { return };
    let vans = way.deliveries(&loaded.job);
    let brought = vans.iter().filter(|d| d.item.is_some());
    let brought: Vec<&str> = brought.flat_map(|d| d.brings.iter().chain(&d.along)).map(String::as_str).collect();
    if !brought.is_empty() {
        ctx.say("\n");
        ctx.say(&paragraph("  ", &safe(&format!("To the door by van: {}.", brought.join(", "))), 4));
    }
    let trips = way.trips();
    let word = if trips == 1 { "trip" } else { "trips" };
    if !way.load.trips.is_empty() {
        let what = if brought.is_empty() { "Home" } else { "The rest goes home" };
        ctx.say(&format!("  {what} in {trips} {word} of the car; the load page of the book says what lies where.\n"));
    } else if !brought.is_empty() {
        ctx.say("  The car fetches the small goods alone: 1 trip.\n");
    }
    for s in way.stays.iter().filter(|s| !s.delivered) {
        ctx.caution(&s.sentence(&loaded.job.project.tape));
    }
}

/// Lines in the order she walks: by store, then aisle; within, as the list stands.
fn by_store(list: &BuyList) -> Vec<&BuyLine> {
    let mut lines: Vec<&BuyLine> = list.lines.iter().collect();
    lines.sort_by(|a, b| (&a.store, &a.aisle).cmp(&(&b.store, &b.aisle)));
    lines
}

fn packs(line: &BuyLine) -> String {
    let one = line.packs.len() == 1 && line.packs[0].item == line.item;
    let text: Vec<String> = line
        .packs
        .iter()
        .filter(|p| p.packs > 0)
        .map(|p| if one { p.packs.to_string() } else { format!("{} {}", p.packs, p.item) })
        .collect();
    if text.is_empty() { "-".into() } else { text.join(" + ") }
}

fn say(ctx: &mut Ctx, list: &BuyList, money: &str) {
    ctx.heading(&safe(&format!("WHAT TO BUY for route {}, prices in {money}", list.route)));
    let lines = by_store(list);
    let mut at: Option<(&str, &str)> = None;
    let mut table: Option<Table> = None;
    let mut notes: Vec<String> = Vec::new();
    let flush = |ctx: &mut Ctx, table: &mut Option<Table>, notes: &mut Vec<String>| {
        if let Some(t) = table.take() {
            let text = t.text(ctx.rule());
            ctx.say(&text);
            for n in notes.drain(..) {
                ctx.say(&paragraph("      ", &safe(&n), 6));
            }
        }
    };
    for line in lines {
        let here = (line.store.as_str(), line.aisle.as_str());
        if at != Some(here) {
            flush(ctx, &mut table, &mut notes);
            at = Some(here);
            let store = if here.0.is_empty() { "No store named" } else { here.0 };
            let aisle = if here.1.is_empty() { String::new() } else { format!(", {}", here.1) };
            ctx.say("\n");
            ctx.heading(&safe(&format!("{store}{aisle}")));
            table = Some(Table::new(&[
                ("[ ]", Align::Left),
                ("item", Align::Left),
                ("what", Align::Wrap),
                ("need", Align::Right),
                ("have", Align::Right),
                ("buy", Align::Right),
                ("price", Align::Right),
            ]));
        }
        let need = if line.need_with_waste.is_empty() {
            line.need.clone()
        } else {
            format!("{} ({})", line.need, line.need_with_waste)
        };
        let price = line.cents.map_or("not known".into(), |c| {
            if line.packs.iter().all(|p| p.packs == 0) { "in hand".into() } else { c.print() }
        });
        if let Some(t) = &mut table {
            t.row(&["[ ]", &line.item, &line.what, &need, &line.have, &packs(line), &price]);
        }
        notes.extend(line_notes(line));
    }
    flush(ctx, &mut table, &mut notes);
    also(ctx, list);
    ctx.say("\n");
    if let Some(tax) = list.tax {
        ctx.say(&format!("  Sales tax  {}\n", tax.print()));
    }
    match list.total {
        Some(total) => ctx.say(&format!("  To pay     {} {}\n", total.print(), safe(money))),
        None => {
            ctx.say("  No total, because this is missing:\n");
            for m in &list.missing {
                ctx.say(&paragraph("    ", &safe(m), 4));
            }
        }
    }
}

/// What rules ask for and stock.csv does not list.
fn also(ctx: &mut Ctx, list: &BuyList) {
    if !list.also.is_empty() {
        ctx.say("\n");
        ctx.heading(BuyList::ALSO);
        for what in &list.also {
            ctx.say(&paragraph("  [ ] ", &safe(what), 6));
        }
    }
}

fn line_notes(line: &BuyLine) -> Vec<String> {
    let mut out = Vec::new();
    let mut say = |text: String| out.push(format!("{}: {text}", line.item));
    if !line.spare.is_empty() {
        say(format!("{} to spare.", line.spare));
    }
    if let Some(other) = &line.runner_up {
        let mix: Vec<String> = other.packs.iter().map(|p| format!("{} {}", p.packs, p.item)).collect();
        let short = if other.short_by.is_empty() { String::new() } else { format!(", short by {}", other.short_by) };
        say(format!("other way: {} for {}{short}.", mix.join(" + "), other.cents.print()));
    }
    if !line.near_miss.is_empty() {
        say(format!("near miss: {}", line.near_miss));
    }
    if !line.old_price.is_empty() {
        say(format!("old price, of {}.", line.old_price));
    }
    if !line.note.is_empty() {
        say(line.note.clone());
    }
    if let Some(order) = line.order_words() {
        say(format!("{order}."));
    }
    out
}

/// The list as a table.
pub(crate) fn buy_csv(list: &BuyList) -> String {
    let heads = ["store", "aisle", "item", "what", "need", "have", "buy", "spare", "price", "taxed", "near_miss", "order_by"];
    let mut out = csv_line(&heads, ',') + "\r\n";
    for line in by_store(list) {
        let price = line.cents.map_or(String::new(), |c| format!("{}.{:02}", c.0 / 100, c.0 % 100));
        let cells = [
            line.store.as_str(),
            &line.aisle,
            &line.item,
            &line.what,
            if line.need_with_waste.is_empty() { &line.need } else { &line.need_with_waste },
            &line.have,
            &packs(line),
            &line.spare,
            &price,
            if line.taxed { "yes" } else { "no" },
            &line.near_miss,
            line.order_by.as_ref().map_or("", |o| &o.date),
        ];
        out.push_str(&csv_line(&cells, ','));
        out.push_str("\r\n");
    }
    // Without item and price: a row of stock.csv is still to be found for them.
    for what in &list.also {
        let cells = ["", "", "", what.as_str(), "", "", "", "", "", "", "", ""];
        out.push_str(&csv_line(&cells, ','));
        out.push_str("\r\n");
    }
    out
}
