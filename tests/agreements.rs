//! What is said twice is reckoned once: hours and dates, rails, strips and doors, the van and the store's saw.

use nookwright::boxes::{RailStuff, assemblies, rail_sag};
use nookwright::car::{cut_count, way_home};
use nookwright::costs::{compare_with, shopping_list_with};
use nookwright::files::read::{Reads, read_folder};
use nookwright::model::task::SolveOptions;
use nookwright::model::{DoorLay, Effort, Job, Plan, SidesAt};
use nookwright::plan::{
    TrimPlan, buy_list, derived_needs, finish_job, finish_within, fit_job, make_plan, rooms,
    route_facts, trim_job,
};
use nookwright::units::Length;
use std::path::Path;

const ROUTE: &str = "custom";

fn alcove() -> Job {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("samples/alcove");
    let read = read_folder(&folder, &Reads::COMPARE).expect("a folder that can be read");
    read.job.expect("a job")
}

fn planned(job: &Job) -> (Plan, Vec<String>, TrimPlan) {
    let options = SolveOptions {
        effort: Effort::Quick,
        ..SolveOptions::default()
    };
    let made = make_plan(job, ROUTE, &options, &mut |_| {}).expect("a plan that passes its check");
    let trim = trim_job(job, ROUTE, &options).expect("a plan that passes its check");
    (made.plan, made.cautions, trim)
}

/// The hours of filling and painting in the table of hours are those of the steps, and the last coat falls on the day the route is
/// done, with her own hours of the route and without.
#[test]
fn painting_is_in_the_hours_and_in_the_date() {
    let mut job = alcove();
    let (plan, _, trim) = planned(&job);
    for hers in [true, false] {
        if !hers {
            job.labour.hours.clear();
        }
        let plans = [(ROUTE, &plan)];
        let facts = route_facts(&job, &plans, std::slice::from_ref(&trim));
        let of = ["filling", "holes", "coats", "painting"];
        let tasks = facts[0].by_task.iter();
        let table: f64 = tasks
            .filter(|t| of.contains(&t.task.as_str()))
            .map(|t| t.hours)
            .sum();
        let finish = finish_within(&job, ROUTE, &plan, &trim);
        assert!(
            (table - finish.hours).abs() < 1e-9,
            "{table} {}",
            finish.hours
        );
        let steps: f64 = finish.steps.iter().map(|s| s.hours).sum();
        let rounded = 0.015 * finish.steps.len() as f64;
        assert!((steps - table).abs() < rounded, "{steps} {table}");
        let shown = compare_with(&job, &plans, &facts);
        assert!(finish.with_route);
        let last = finish.steps.last().and_then(|s| s.to.clone());
        assert!(last.is_some() && last == shown.routes[0].done, "{last:?}");
        let first = finish.steps.first().and_then(|s| s.from.clone());
        assert!(first > job.project.date.map(|d| d.to_string()), "{first:?}");
        let days: Vec<_> = finish.steps.iter().map(|s| s.from.clone()).collect();
        assert!(days.is_sorted(), "{days:?}");
    }
}

/// A rail of a bought frame is reckoned as one of a box is, of its own length and stuff; what its row does not give is said.
#[test]
fn a_rail_of_a_frame_is_reckoned_like_one_of_a_box() {
    let mut job = alcove();
    let said = |job: &Job| {
        let fitted = fit_job(job, job.project.tape).expect("an opening");
        let sag = &fitted.route("flat-pack").expect("the route").sag;
        let rails: Vec<_> = sag.iter().filter(|s| s.shelf.ends_with("rail")).collect();
        assert_eq!(rails.len(), 1, "one kind of rail");
        rails[0].clone()
    };
    let long = Length::in_64(26 * 64 + 48);
    let taken = said(&job);
    assert_eq!(
        (taken.shelf.as_str(), taken.span),
        ("FR-RAIL in FR-28, rail", long)
    );
    assert!(
        taken.words.contains("no material and no size"),
        "{}",
        taken.words
    );
    let of_box = rail_sag("rail", long, &RailStuff::default());
    assert!((taken.deflection_in - of_box.deflection_in).abs() < 1e-9);
    let row = job
        .prefab
        .iter()
        .position(|u| u.unit == "FR-RAIL")
        .expect("it");
    job.prefab[row].what = "steel hanging rail".into();
    let metal = said(&job);
    assert!(metal.words.contains("FR-RAIL, metal"), "{}", metal.words);
    assert!(metal.deflection_in < taken.deflection_in);
    job.prefab[row].what = "oak hanging rail".into();
    job.prefab[row].depth = Some(Length::INCH);
    let thin = said(&job);
    assert!(
        thin.words.contains("FR-RAIL, wood 1 round"),
        "{}",
        thin.words
    );
    let ratio = thin.deflection_in / taken.deflection_in;
    assert!((ratio - 1.3125_f64.powi(4)).abs() < 0.05, "{ratio}");
    job.prefab[row].width = None;
    let words = said(&job).words;
    assert!(
        words.contains("inside width is taken, 26 3/4 in"),
        "{words}"
    );
    // It hangs in no other frame.
    job.prefab[row].fits = Some("FS-28".into());
    let fitted = fit_job(&job, job.project.tape).expect("an opening");
    let sag = &fitted.route("flat-pack").expect("the route").sag;
    assert!(sag.iter().all(|s| !s.shelf.ends_with("rail")));
}

/// Goods on the way: each is ordered for the first task that needs it, on the day that the book gives it, less its own days; the work
/// waits for its own goods alone, and a date before the job's is said.
#[test]
fn goods_are_ordered_for_the_day_of_their_task() {
    let mut job = alcove();
    let (plan, _, trim) = planned(&job);
    let done = |job: &Job| {
        let facts = route_facts(job, &[(ROUTE, &plan)], std::slice::from_ref(&trim));
        compare_with(job, &[(ROUTE, &plan)], &facts).routes[0]
            .done
            .clone()
    };
    let before = done(&job);
    let lead = |job: &mut Job, item: &str, days: u32| {
        for row in job.stock.iter_mut().filter(|r| r.item.starts_with(item)) {
            row.lead_days = days;
        }
    };
    lead(&mut job, "ENAM", 12);
    lead(&mut job, "FLAT-2", 3);
    let of = |job: &Job, item: &str| {
        let list = buy_list(job, ROUTE, &plan, &trim);
        let line = list.lines.iter().find(|l| l.item.starts_with(item));
        let line = line.expect("a line").clone();
        let words = line.order_words().expect("an order");
        (line.order_by.expect("a date"), words)
    };
    let days_before = |day: &str, n: i64| {
        let day: jiff::civil::Date = day.parse().expect("a date");
        (day - jiff::Span::new().days(n)).to_string()
    };
    let (paint, words) = of(&job, "ENAM");
    let finish = finish_within(&job, ROUTE, &plan, &trim);
    let coat = finish.steps.iter().find(|s| s.what.starts_with("coat 1"));
    let coat = coat.expect("a first coat");
    assert_eq!((&paint.begins, &paint.task), (&coat.from, &coat.what));
    let begins = paint.begins.clone().expect("a day");
    assert_eq!(paint.date, days_before(&begins, 12));
    assert!(!paint.past && words.contains(&paint.date), "{words}");
    let can = finish.cans.iter().find(|c| c.item.starts_with("ENAM"));
    assert_eq!(can.expect("the cans").order_by, Some(paint.clone()));
    let (strip, _) = of(&job, "FLAT-2");
    assert!(strip.begins < paint.begins, "{strip:?}");
    assert_ne!(strip.date, paint.date);
    // There in time, so nothing waits.
    assert_eq!(done(&job), before);
    // The sheets are cut on the first weekend: nine days before that is before the job's date, and all the rest waits.
    lead(&mut job, "BIR-18", 9);
    let (sheets, words) = of(&job, "BIR-18");
    assert_eq!(sheets.date, days_before("2026-05-16", 9));
    assert_eq!(sheets.begins.as_deref(), Some("2026-05-30"));
    assert!(
        sheets.past && words.contains("before the job's date"),
        "{words}"
    );
    assert!(done(&job) > before && of(&job, "ENAM").0.date > paint.date);
    // Without days of work no day of a task is known, and it is said.
    job.labour.hours_a_weekend = None;
    let (sheets, words) = of(&job, "BIR-18");
    assert!(
        sheets.begins.is_none() && words.contains("is not known"),
        "{words}"
    );
}

/// A rail is reckoned as the row it is bought from: by name under `[[need]]`, else the first rail of stock.csv; a thinner wooden one
/// sinks more, as the fourth power of its size; without a row it is said what was taken.
#[test]
fn a_rail_is_reckoned_as_it_is_bought() {
    let mut job = alcove();
    let said = |job: &Job| {
        let fitted = fit_job(job, job.project.tape).expect("an opening");
        let sag = &fitted.route(ROUTE).expect("the route").sag;
        let rail = sag.iter().find(|s| s.shelf.ends_with("rail"));
        let rail = rail.expect("a rail");
        (rail.words.clone(), rail.deflection_in)
    };
    assert!(said(&job).0.contains("ROD-S, metal"), "{:?}", said(&job));
    job.needs.retain(|n| n.item != "ROD-S");
    assert!(said(&job).0.contains("ROD-S, metal"), "{:?}", said(&job));
    let (plan, _, trim) = planned(&job);
    let list = shopping_list_with(
        &job,
        ROUTE,
        &plan,
        &derived_needs(&job, ROUTE, &plan, &trim),
    );
    assert!(list.lines.iter().any(|l| l.item == "ROD-S"));
    let row = job.stock.iter().position(|r| r.item == "ROD-S");
    let row = row.expect("the rail");
    job.stock[row].what = "oak hanging rod".into();
    assert!(
        said(&job).0.contains("taken as wood 1 5/16 round"),
        "{:?}",
        said(&job)
    );
    job.stock[row].width = Some(Length::in_64(72));
    let (words, thin) = said(&job);
    assert!(words.contains("ROD-S, wood 1 1/8 round"), "{words}");
    let usual = rail_sag("rail", Length::in_64(28 * 64 + 20), &RailStuff::default());
    let ratio = thin / usual.deflection_in;
    assert!(
        (ratio - (1.3125_f64 / 1.125).powi(4)).abs() < 0.02,
        "{ratio}"
    );
    job.stock.remove(row);
    assert!(
        said(&job).0.contains("no rail stands in stock.csv"),
        "{:?}",
        said(&job)
    );
}

/// Doors that overlay an end box and a strip that laps its side want the same edge. Each of the first two mends takes the reason away;
/// beside the box the strip is narrower by the side, 23/32.
#[test]
fn overlay_fronts_and_lapping_strips_do_not_go_together() {
    let mut job = alcove();
    let fit = |job: &Job| {
        let fitted = fit_job(job, job.project.tape).expect("an opening");
        fitted.route(ROUTE).expect("the route").sits.clone()
    };
    let usual = planned(&job).2;
    let drawn = |job: &Job| rooms(job)[0].strips[0].width;
    let wide = drawn(&job);
    assert!(fit(&job).fits);
    job.runs[0].boxes[0].doors = 2;
    let found = fit(&job);
    let why = found.why_not.unwrap_or_default();
    assert!(
        why.contains("box left") && why.contains("strip laps the same edge"),
        "{why}"
    );
    assert!(!why.contains("box right"), "{why}");
    assert_eq!(found.mends.len(), 3, "{:?}", found.mends);
    assert!(
        found.mends[2].contains("narrower by 23/32"),
        "{:?}",
        found.mends
    );
    job.runs[0].build.door_lay = DoorLay::Inset;
    assert!(fit(&job).fits);
    job.runs[0].build.door_lay = DoorLay::Overlay;
    job.trim.sides_at = SidesAt::Beside;
    assert!(fit(&job).fits);
    let beside = planned(&job).2;
    let side = Length::in_64(46);
    for (lap, own) in usual.scribes.iter().zip(&beside.scribes) {
        let less = if own.strip == "head" {
            Length::ZERO
        } else {
            side
        };
        assert_eq!(own.ordinates[0].width + less, lap.ordinates[0].width);
        assert_eq!(own.straight_edge.contains("outside"), own.strip != "head");
    }
    assert_eq!(drawn(&job) + side, wide);
    assert!(beside.covers.iter().all(|c| !c.what.ends_with("t gap")));
}

/// The yard's van has to come for the long sides: it brings every sheet whole, and no cut is asked for, unless she asks; the car fetches
/// the rest, and nobody is told to hire a van. Where nobody delivers, what goes in the car is cut for it as before.
#[test]
fn what_is_delivered_is_not_cut_for_the_car() {
    let mut job = alcove();
    let cuts = |job: &Job| cut_count(job, &planned(job).0).cuts;
    let (plan, cautions, trim) = planned(&job);
    assert_eq!(cut_count(&job, &plan).cuts, 0);
    assert!(
        !cautions.iter().any(|c| c.contains("hire a van")),
        "{cautions:?}"
    );
    let needs = derived_needs(&job, ROUTE, &plan, &trim);
    let list = shopping_list_with(&job, ROUTE, &plan, &needs);
    let way = way_home(&job, &plan, Some(&list)).expect("a car");
    assert!(way.load.trips.is_empty() && way.trips() == 1);
    assert!(way.stays.iter().all(|s| s.delivered));
    let vans = way.deliveries(&job);
    assert_eq!(vans.len(), 1);
    assert_eq!(vans[0].item.as_deref(), Some("YARD"));
    let store = job.saw.store.as_mut().expect("the store's saw");
    store.cut_delivered = true;
    assert!(cuts(&job) > 0);
    job.saw
        .store
        .as_mut()
        .expect("the store's saw")
        .cut_delivered = false;
    job.stock.retain(|r| r.item != "YARD");
    assert!(cuts(&job) > 0);
    let (_, cautions, _) = planned(&job);
    assert!(
        cautions.iter().any(|c| c.contains("hire a van")),
        "{cautions:?}"
    );
}

/// Boxes are set without doors and drawers in them, as the book's safety lines say: the base before the boxes, drawers in and doors
/// hung last after the last coat; the hours stay those of the table. Handles are ordered for the first day on which fronts want them,
/// hinges for the day on which doors are tried, and that is no later than the slides, as the box's page has it.
#[test]
fn doors_are_hung_after_the_last_coat() {
    let mut job = alcove();
    let (plan, _, trim) = planned(&job);
    job.labour.hours.clear();
    job.runs[0].boxes[0].doors = 2;
    job.runs[0].boxes[0].drawers = 2;
    let mut row = job
        .stock
        .iter()
        .find(|r| r.item == "PIN-4")
        .expect("pins")
        .clone();
    row.item = "KNOB-1".into();
    row.what = "door knobs".into();
    row.lead_days = 5;
    job.stock.push(row);
    let need = job
        .needs
        .iter()
        .find(|n| n.item == "PIN-4")
        .expect("pins")
        .clone();
    job.needs.push(nookwright::model::Need {
        item: "KNOB-1".into(),
        ..need
    });
    let finish = finish_within(&job, ROUTE, &plan, &trim);
    let at = |what: &str| {
        let found = finish.work.iter().position(|w| w.what.starts_with(what));
        found.unwrap_or_else(|| panic!("{what}: {:?}", finish.work))
    };
    let order = [
        "cutting to size",
        "putting boxes together",
        "doors: hinges bored",
        "drawers: boxes",
        "base and levelling",
        "setting",
        "scribing",
        "fill holes",
        "coat 1",
        "sand lightly, then coat 2",
        "drawers in",
        "hanging doors",
    ];
    assert!(order.map(at).is_sorted(), "{:?}", finish.work);
    let days: Vec<_> = finish.work.iter().map(|w| w.from.clone()).collect();
    assert!(days.is_sorted() && days[0].is_some(), "{days:?}");
    let facts = route_facts(&job, &[(ROUTE, &plan)], std::slice::from_ref(&trim));
    let table: f64 = facts[0].by_task.iter().map(|t| t.hours).sum();
    let sum: f64 = finish.work.iter().map(|w| w.hours).sum();
    assert!((table - sum).abs() < 1e-6, "{table} {sum}");
    let list = buy_list(&job, ROUTE, &plan, &trim);
    let knobs = list
        .lines
        .iter()
        .find(|l| l.item == "KNOB-1")
        .expect("knobs");
    let by = knobs.order_by.as_ref().expect("a date");
    assert_eq!(by.task, "drawers in");
    let fronts = &finish.work[at("drawers in")];
    assert_eq!(by.begins, fronts.from);
    assert_eq!(fronts.order, [format!("KNOB-1 by {}", by.date)]);
    let hinges = job.stock.iter_mut().find(|r| r.item == "KNOB-1");
    hinges.expect("the row").what = "hinges for doors".into();
    let list = buy_list(&job, ROUTE, &plan, &trim);
    let line = list.lines.iter().find(|l| l.item == "KNOB-1");
    let by = line.and_then(|l| l.order_by.clone()).expect("a date");
    let finish = finish_within(&job, ROUTE, &plan, &trim);
    let of = |what: &str| {
        let found = finish.work.iter().find(|w| w.what.starts_with(what));
        found.expect("the task").from.clone()
    };
    assert_eq!(by.begins, of("doors: hinges"));
    assert!(by.begins <= of("drawers: boxes"));
    // The box's page has the doors before the slides, and hangs them last.
    let pages = assemblies(&job, ROUTE, &rooms(&job), &job.parts).expect("pages");
    let place = |list: &[String], word: &str| list.iter().position(|s| s.starts_with(word));
    let (steps, later) = (&pages[0].steps, &pages[0].later);
    assert!(place(steps, "Bore the hinges") < place(steps, "Slides:"));
    assert!(place(steps, "Bore the hinges").is_some());
    assert!(
        later
            .last()
            .is_some_and(|s| s.starts_with("Hang the doors last")),
        "{later:?}"
    );
}

/// Two sockets for each rail that does not bring its own, a support where the rail is over 4 ft (S37*), and no rail bought where an old
/// one is long enough.
#[test]
fn rails_have_sockets_supports_and_old_rods() {
    let mut job = alcove();
    let (_, _, trim) = planned(&job);
    let goods = |job: &Job| -> Vec<(String, String, Option<String>)> {
        let finish = finish_job(job, ROUTE, &trim);
        let rails = finish.goods.into_iter().filter(|g| g.what.contains("rail"));
        rails.map(|g| (g.what, g.amount, g.item)).collect()
    };
    let line = |what: &str, n: &str, item: Option<&str>| {
        (what.to_owned(), n.to_owned(), item.map(str::to_owned))
    };
    // The sample's rail comes with its sockets.
    assert_eq!(goods(&job), [line("hanging rails", "1", Some("ROD-S"))]);
    let at = job
        .stock
        .iter()
        .position(|r| r.item == "ROD-S")
        .expect("it");
    job.stock[at].what = "steel hanging rail 36 in".into();
    let mut row = job.stock[at].clone();
    row.item = "SOCK".into();
    row.what = "rail sockets, pair".into();
    job.stock.push(row);
    let bought = line("hanging rails", "1", Some("ROD-S"));
    assert_eq!(
        goods(&job),
        [bought, line("rail sockets", "2", Some("SOCK"))]
    );
    // The right box is 29 3/4 wide of boards 23/32: 28 5/16 inside, its rail 1/8 shorter.
    let old = |length: Length| nookwright::model::OldPiece {
        what: "old rod".into(),
        item: "ROD-S".into(),
        length,
        width: None,
        line: 0,
    };
    let rail = Length::inches(28) + Length::in_64(12);
    for (length, used) in [(rail, true), (rail - Length::INCH_64, false)] {
        job.opening.as_mut().expect("one").now.old_stock = vec![old(length)];
        let rails = goods(&job);
        assert_eq!(rails[0].0 != "hanging rails", used, "{rails:?}");
        assert!(rails.contains(&line("rail sockets", "2", Some("SOCK"))));
    }
    // Wide enough for a support.
    job.runs[0].boxes[1].width = nookwright::model::BoxWidth::Width(Length::inches(52));
    assert!(goods(&job).contains(&line("rail supports", "1", None)));
}
