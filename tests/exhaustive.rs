//! Proofs by trying everything: made by the planner, tried again by the referee. `NOOKWRIGHT_LONG=1` takes every list.

#[allow(unreachable_pub)]
mod replay;

use nookwright::model::certificate::Certificate;
use nookwright::model::task::{PieceKind, SheetKind, SheetTask, SolveOptions};
use nookwright::model::{FirstCut, Grain, KeepRule};
use nookwright::units::{Length, Tape};
use nookwright::{referee, sheets};
use serde_json::Value;

fn task(list: &Value, turning: bool) -> SheetTask {
    let mm = |v: &Value| Length::mm(v.as_i64().expect("a whole number"));
    let items = list["items"].as_array().expect("items");
    SheetTask {
        kinds: vec![SheetKind {
            item: "S".into(),
            rack: None,
            size: [mm(&list["sheet"][0]), mm(&list["sheet"][1])],
            clean_edge: [Length::ZERO; 4],
            grain_along_y: false,
            cost: None,
            have: 0,
            at_most: None,
        }],
        pieces: (items.iter().enumerate())
            .map(|(n, i)| PieceKind {
                mark: format!("P{n}"),
                count: i[2].as_u64().expect("a count") as u32,
                size: [mm(&i[0]), mm(&i[1])],
                grain: if turning { Grain::Any } else { Grain::Length },
                match_group: None,
            })
            .collect(),
        kerf: Length::ZERO,
        turns: None,
        first: FirstCut::Either,
        keep: KeepRule::default(),
        narrowest_safe_rip: Length::ZERO,
    }
}

fn lists() -> Vec<Value> {
    let text = std::fs::read_to_string("tests/data/bin_packing_2d_class250.jsonl");
    let text = text.expect("the data of the tests");
    let lists = text
        .lines()
        .map(|l| serde_json::from_str(l).expect("one JSON object a line"));
    lists.collect()
}

/// List 3 of class 1 with 20 pieces (Berkey & Wang 1987) needs 9 sheets, pieces not turned: the published optimum in the data.
/// No weights show more than 8; trying every way of some of its pieces does, and the referee finds the same.
#[test]
fn a_list_that_only_trying_proves() {
    let lists = lists();
    let list = lists
        .iter()
        .find(|l| l["id"] == "cl_01_020_03")
        .expect("the list");
    let task = task(list, false);
    let answer = sheets::solve(&task, &SolveOptions::default(), &mut |_| {});
    let (_, bought) = replay::check(&task, &answer).expect("it can be cut");
    assert_eq!(list["bound"]["oriented"], 9);
    assert_eq!((bought, answer.at_least, answer.proved), (9, 9, true));
    assert_eq!(referee::check_sheets(&task, &answer), Ok(()));
    let Certificate::Exhaustive { pieces, not_on, .. } = &answer.certificate else {
        panic!("{:?}", answer.certificate);
    };
    assert_eq!(*not_on, 8);
    let count: u32 = pieces.iter().map(|p| p.count).sum();
    let said = sheets::why(&task, &answer, bought, &Tape::default());
    let parts = if count == 20 {
        "all 20 parts".into()
    } else {
        format!("{count} of the parts")
    };
    assert_eq!(
        said,
        format!("Every way of laying {parts} on 8 sheets was tried; none works.")
    );
    // One sheet more, or one piece less than it takes, and it is not true.
    let mut wrong = answer.clone();
    if let Certificate::Exhaustive { not_on, .. } = &mut wrong.certificate {
        *not_on += 1;
    }
    assert!(referee::check_sheets(&task, &wrong).is_err());
    let mut wrong = answer.clone();
    if let Certificate::Exhaustive { pieces, .. } = &mut wrong.certificate {
        pieces.truncate(8);
    }
    assert!(
        referee::check_sheets(&task, &wrong).is_err(),
        "eight pieces fit on eight sheets"
    );
}

/// Every proof of every list is one the referee can follow, within its own limits.
#[test]
fn the_referee_follows_every_proof() {
    let long = std::env::var("NOOKWRIGHT_LONG").is_ok();
    let (mut proved, mut tried) = (0, 0);
    for list in lists()
        .iter()
        .filter(|l| long || l["id"].as_str().is_some_and(|i| i.contains("_020_")))
    {
        for turning in [false, true] {
            let task = task(list, turning);
            let answer = sheets::solve(&task, &SolveOptions::default(), &mut |_| {});
            assert_eq!(
                referee::check_sheets(&task, &answer),
                Ok(()),
                "{} {turning}",
                list["id"]
            );
            let known = list["bound"][if turning { "turning" } else { "oriented" }].as_u64();
            let bought: u32 = answer.sheets.iter().map(|s| s.count).sum();
            assert!(
                known.is_none_or(|k| u64::from(bought) >= k),
                "below a known bound"
            );
            proved += u32::from(answer.proved);
            tried += u32::from(matches!(answer.certificate, Certificate::Exhaustive { .. }));
        }
    }
    eprintln!("{proved} proved, {tried} of them by trying everything");
    assert!(tried > 0);
}
