//! Bounds held against open data with known optima, and against complete search.

use super::bound::LpOutcome;
use super::points::Grid;
use super::*;
use crate::model::Grain;
use crate::model::task::{PieceKind, SheetKind, SheetTask};
use crate::sheets::instance::Instance;
use crate::units::Length;
use std::rc::Rc;

fn data(name: &str) -> Vec<serde_json::Value> {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("tests/data")
        .join(name);
    let text = std::fs::read_to_string(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()));
    text.lines()
        .map(|l| serde_json::from_str(l).unwrap())
        .collect()
}

fn task_of(list: &serde_json::Value, turning: bool) -> SheetTask {
    let n = |v: &serde_json::Value| v.as_i64().unwrap();
    let mm = Length::mm;
    let (kerf, clean) = (
        list["kerf"].as_i64().unwrap_or(0),
        list["clean_edge"].as_i64().unwrap_or(0),
    );
    SheetTask {
        kinds: vec![SheetKind {
            item: "SHEET".into(),
            rack: None,
            size: [mm(n(&list["sheet"][0])), mm(n(&list["sheet"][1]))],
            clean_edge: [mm(clean); 4],
            grain_along_y: false,
            cost: None,
            have: 0,
            at_most: None,
        }],
        pieces: list["items"]
            .as_array()
            .unwrap()
            .iter()
            .enumerate()
            .map(|(i, p)| PieceKind {
                mark: format!("P{i}"),
                count: u32::try_from(n(&p[2])).unwrap(),
                size: [mm(n(&p[0])), mm(n(&p[1]))],
                grain: match (p[3].as_str(), turning) {
                    (Some("any"), _) | (None, true) => Grain::Any,
                    _ => Grain::Length,
                },
                match_group: None,
            })
            .collect(),
        kerf: mm(kerf),
        turns: None,
        first: crate::model::FirstCut::default(),
        keep: crate::model::KeepRule::default(),
        narrowest_safe_rip: Length::ZERO,
    }
}

/// Prints the totals of a list file: `NOOKWRIGHT_LIST=FILE cargo test --release --lib bounds::tests::table -- --ignored
/// --nocapture`; with `NOOKWRIGHT_ONLY=ID,ID` some of its lists.
#[test]
#[ignore = "prints figures"]
fn table() {
    let file = std::env::var("NOOKWRIGHT_LIST").unwrap();
    let only = std::env::var("NOOKWRIGHT_ONLY").unwrap_or_default();
    for way in ["oriented", "turning"] {
        let mut sums = [0u64; 3];
        for list in data(&file) {
            let id = list["id"].as_str().unwrap();
            if !only.is_empty() && !only.split(',').any(|o| o == id) {
                continue;
            }
            let instance = Instance::new(&task_of(&list, way == "turning"));
            let start = std::time::Instant::now();
            let fast = quick(&instance);
            let quick_took = start.elapsed();
            let mut steps = 2_000_000_000;
            let LpOutcome { bound, pool, .. } = lp(&instance, &mut steps, i64::MAX, Vec::new());
            let aim = DiveAim {
                sheets: u32::MAX,
                steps: 0,
            };
            let patterns = dive(&instance, &pool, 0, aim, &mut steps).patterns;
            let known = list["bound"][way].as_u64().unwrap_or(0);
            let planned: u32 = patterns.iter().map(|p| p.times).sum();
            eprintln!(
                "{id} {way}: area and scales {} ({quick_took:.1?}), linear {} ({:.2?}, {} steps), known {known}; {planned} \
                 sheets planned, {:.3} left",
                fast.sheets,
                bound.sheets,
                start.elapsed(),
                2_000_000_000 - steps,
                left_over(&instance, &patterns),
            );
            for (sum, n) in sums
                .iter_mut()
                .zip([fast.sheets.into(), bound.sheets.into(), known])
            {
                *sum += n;
            }
        }
        eprintln!("{file} {way}: area and scales, linear, known: {sums:?}");
    }
}

/// Area that patterns leave unplaced, in sheets of the first kind; no piece may be placed more often than there is of it.
fn left_over(instance: &Instance, patterns: &[Pattern]) -> f64 {
    let mut left: Vec<u32> = instance.types.iter().map(|t| t.count).collect();
    for p in patterns {
        let mut holds = Vec::new();
        columns::count(&p.tree, &mut holds);
        for (t, n) in holds {
            left[t] = left[t]
                .checked_sub(n * p.times)
                .expect("no more than there are");
        }
    }
    let area = |w: i64, h: i64| w as f64 * h as f64;
    let types = instance.types.iter().zip(left);
    let rest: f64 = types
        .map(|(t, n)| f64::from(n) * area(t.ways[0].0, t.ways[0].1))
        .sum();
    rest / area(instance.kinds[0].w, instance.kinds[0].h)
}

/// Most area from one sheet, any number of copies: gcut (Beasley 1985), OR-Library sizes.
#[test]
fn one_sheet_holds_what_the_exact_values_say() {
    for list in data("single_sheet_gcut.jsonl") {
        for (turning, way) in [(false, "oriented"), (true, "turning")] {
            let mut task = task_of(
                &serde_json::json!({"sheet": list["sheet"], "items": []}),
                turning,
            );
            for (i, size) in list["sizes"].as_array().unwrap().iter().enumerate() {
                let mm = |k: usize| Length::mm(size[k].as_i64().unwrap());
                task.pieces.push(PieceKind {
                    mark: format!("P{i}"),
                    count: 1,
                    size: [mm(0), mm(1)],
                    grain: if turning { Grain::Any } else { Grain::Length },
                    match_group: None,
                });
            }
            let inst = Instance::new(&task);
            let unit = inst.unit.units() / 80_000;
            let weights: Vec<i64> = inst
                .types
                .iter()
                .map(|t| t.ways[0].0 * t.ways[0].1)
                .collect();
            let grid = Grid::new(&inst, &vec![true; inst.types.len()]).unwrap();
            let mut steps = u64::MAX;
            let table = pricing::Priced::new(&inst, &weights, Rc::new(grid), &mut steps).unwrap();
            assert_eq!(
                table.most()[0] * unit * unit,
                list["most_area_any_count"][way].as_i64().unwrap(),
                "{} {way}",
                list["id"]
            );
        }
    }
}

/// The open lists: no bound may pass a proved optimum or, where the optimum is open, what is known to be reachable.
/// Sources of the lists and their optima: tests/data/README.md.
#[test]
fn no_bound_passes_a_known_optimum() {
    let long = std::env::var("NOOKWRIGHT_LONG").is_ok();
    let (mut claims, mut met) = (0, 0);
    for (i, list) in data("bin_packing_2d_class250.jsonl").iter().enumerate() {
        if !long && i % 25 != 0 {
            continue;
        }
        for (turning, way) in [(false, "oriented"), (true, "turning")] {
            if list["proven"][way] != true {
                continue;
            }
            let optimum = list["bound"][way].as_u64().unwrap();
            let instance = Instance::new(&task_of(list, turning));
            let fast = quick(&instance);
            let mut steps = 300_000_000;
            let linear = lp(&instance, &mut steps, 100 * optimum as i64, Vec::new()).bound;
            for bound in [&fast, &linear] {
                assert!(
                    u64::from(bound.sheets) <= optimum,
                    "{} {way}: {} > {optimum}",
                    list["id"],
                    bound.sheets
                );
                assert_eq!(bound.cost, 100 * i64::from(bound.sheets));
            }
            claims += 1;
            met += u32::from(u64::from(linear.sheets) == optimum);
        }
    }
    assert!(
        met * 100 >= claims * 90,
        "only {met} of {claims} optima are met"
    );
}
