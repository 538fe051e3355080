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
        for list in data(&file) {
            let inst = Instance::new(&task_of(&list, turning));
            let q = quick(&inst);
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
