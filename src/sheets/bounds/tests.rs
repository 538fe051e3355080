//! Bounds held against open data with known optima, and against complete search.

use super::*;
use crate::model::task::{PieceKind, SheetKind, SheetTask};
use crate::model::{FirstCut, Grain, KeepRule};
use crate::sheets::instance::Instance;
use crate::units::Length;

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

#[test]
#[ignore = "prints figures"]
fn table() {
    let file = std::env::var("LIST").unwrap();
    for turning in [false, true] {
        let way = if turning { "turning" } else { "oriented" };
        let (mut sum, mut known, mut short) = (0, 0, Vec::new());
        let start = std::time::Instant::now();
        let only = std::env::var("ONLY").unwrap_or_default();
        for list in data(&file) {
            if !only.is_empty() && !only.split(',').any(|o| list["id"] == o) {
                continue;
            }
            let inst = Instance::new(&task_of(&list, turning));
            let one = std::time::Instant::now();
            let limit: u64 = std::env::var("STEPS").map_or(2_000_000_000, |s| s.parse().unwrap());
            let mut steps = limit;
            let q = if std::env::var("LP").is_ok() {
                let out = lp(&inst, &mut steps, i64::MAX);
                let mut left: Vec<u32> = inst.types.iter().map(|t| t.count).collect();
                let mut sheets = 0;
                for p in &out.patterns {
                    sheets += p.times;
                    let mut holds = Vec::new();
                    columns::count(&p.tree, &mut holds);
                    for (t, n) in holds {
                        left[t] -= n * p.times;
                    }
                }
                let area = |c: &dyn Fn(usize) -> u32| -> f64 {
                    inst.types
                        .iter()
                        .enumerate()
                        .map(|(i, t)| f64::from(c(i)) * t.ways[0].0 as f64 * t.ways[0].1 as f64)
                        .sum::<f64>()
                        / (inst.kinds[0].w * inst.kinds[0].h) as f64
                };
                eprintln!(
                    "lp   dive {sheets} sheets, left {:.3} sheets; room {:.3}",
                    area(&|i| left[i]),
                    f64::from(out.bound.sheets) - f64::from(sheets)
                );
                out.bound
            } else {
                quick(&inst)
            };
            if std::env::var("EACH").is_ok() {
                eprintln!(
                    "lp {} {way} {} steps {} {:?}",
                    list["id"],
                    q.sheets,
                    limit - steps,
                    one.elapsed()
                );
            }
            let b = list["bound"][way].as_i64().unwrap_or(0);
            sum += i64::from(q.sheets);
            known += b;
            if i64::from(q.sheets) != b {
                short.push(format!("{} {}/{b}", list["id"].as_str().unwrap(), q.sheets));
            }
        }
        eprintln!(
            "{file} {way}: quick {sum} known {known} {:?} short {} {short:?}",
            start.elapsed(),
            short.len()
        );
    }
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
            let mut steps = u64::MAX;
            let start = std::time::Instant::now();
            let table = pricing::Priced::new(&inst, &weights, None, &mut steps).unwrap();
            eprintln!(
                "{} {way} cells {} looked {} {:?}",
                list["id"],
                table.cells(),
                u64::MAX - steps,
                start.elapsed()
            );
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
        if !long && i % 10 != 0 {
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
            let linear = lp(&instance, &mut steps, 100 * optimum as i64).bound;
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
