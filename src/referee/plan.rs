//! A whole plan against a whole job.

use super::facts::{Goods, Material, materials, rack_fault};
use super::fault::Fault;
use super::{settings, sheets, sticks, store};
use crate::model::task::{
    SheetAnswer, SheetKind, StickAnswer, StickKind, StickPiece, UnplacedPiece,
};
use crate::model::{ItemResult, Job, Plan};
use crate::units::{Cents, Length};
use sha2::{Digest, Sha256};

/// Checks a plan of a route against the job: everything the plan says is worked out again from the facts.
pub fn check_plan(job: &Job, route: &str, plan: &Plan) -> Result<(), Vec<Fault>> {
    let mut faults = Vec::new();
    against(job, route, plan, &materials(job, route), &[], &mut faults);
    if faults.is_empty() {
        Ok(())
    } else {
        Err(faults)
    }
}

/// The same against materials that are given; `started`: marks of pieces of begun sheets, which are not on the rack.
pub(super) fn against(
    job: &Job,
    route: &str,
    plan: &Plan,
    materials: &[Material],
    started: &[&str],
    faults: &mut Vec<Fault>,
) {
    fields(job, route, plan, faults);
    strangers(job, materials, plan, started, faults);
    for m in materials {
        let results: Vec<&ItemResult> = plan.items.iter().filter(|i| i.item == m.item).collect();
        let [result] = results[..] else {
            faults.push(Fault::Item {
                item: m.item.clone(),
                why: format!("{} results instead of one", results.len()),
            });
            continue;
        };
        material(job, m, result, plan, faults);
    }
    settings::check(job, plan, materials, faults);
    store::check(job, plan, faults);
}

fn fields(job: &Job, route: &str, plan: &Plan, faults: &mut Vec<Fault>) {
    let kerf = |l: Length| format!("{l:?}");
    for (what, found, expected) in [
        ("format", plan.format.clone(), "nookwright plan 1".into()),
        ("length_unit", plan.length_unit.clone(), "1/80000 mm".into()),
        ("route", plan.route.clone(), route.to_string()),
        ("kerf", kerf(plan.kerf), kerf(job.saw.kerf)),
    ] {
        if found != expected {
            faults.push(Fault::Field {
                what: what.into(),
                found,
                expected,
            });
        }
    }
    let expected = number(plan);
    if plan.plan_number != expected {
        faults.push(Fault::Field {
            what: "plan_number".into(),
            found: plan.plan_number.clone(),
            expected,
        });
    }
}

/// The number of a plan: the first eight hexadecimal digits of the SHA-256 of its JSON, in which the number is empty.
fn number(plan: &Plan) -> String {
    let mut plan = plan.clone();
    plan.plan_number = String::new();
    let json = serde_json::to_string(&plan).unwrap_or_default();
    let digest = Sha256::digest(json);
    let half = |i: usize| u16::from_be_bytes([digest[i], digest[i + 1]]);
    format!("{:04X}-{:04X}", half(0), half(2))
}

/// Sheets, sticks, results and unplaced parts of no material of this route.
fn strangers(
    job: &Job,
    materials: &[Material],
    plan: &Plan,
    started: &[&str],
    faults: &mut Vec<Fault>,
) {
    let known = |item: &str, sheet: bool| {
        (materials.iter()).any(|m| {
            matches!(m.goods, Goods::Sheets(_)) == sheet && m.codes.iter().any(|c| c == item)
        })
    };
    let used = (plan.sheets.iter().map(|s| (&s.item, &s.rack, true)))
        .chain(plan.sticks.iter().map(|s| (&s.item, &s.rack, false)));
    for (item, rack, sheet) in used {
        if !known(item, sheet) {
            faults.push(Fault::UnknownStock {
                item: item.clone(),
                rack: rack.clone(),
            });
        }
        let rack = rack.as_ref().filter(|r| !started.contains(&r.as_str()));
        faults.extend(rack.and_then(|r| rack_fault(job, item, r)));
    }
    for i in &plan.items {
        if !materials.iter().any(|m| m.item == i.item) {
            faults.push(Fault::Item {
                item: i.item.clone(),
                why: "no part of this route is cut from it".into(),
            });
        }
    }
    for u in &plan.unplaced {
        let asked = materials.iter().any(|m| match &m.goods {
            Goods::Sheets(t) => t.pieces.iter().any(|p| p.mark == u.mark),
            Goods::Sticks(t) => t.pieces.iter().any(|p| p.mark == u.mark),
        });
        if !asked || u.count == 0 || u.why.trim().is_empty() {
            let mark = u.mark.clone();
            faults.push(if asked {
                Fault::UnplacedReason { mark }
            } else {
                Fault::UnknownPart { mark }
            });
        }
    }
}

fn material(job: &Job, m: &Material, result: &ItemResult, plan: &Plan, faults: &mut Vec<Fault>) {
    let here = |item: &String| m.codes.contains(item);
    let (each, prices): (Vec<u64>, Vec<Option<Cents>>) = match &m.goods {
        Goods::Sheets(task) => {
            let unplaced = unplaced(plan, task.pieces.iter().map(|p| p.mark.as_str()), |i| {
                let p = &task.pieces[i];
                let fits = |k: &SheetKind| {
                    let usable = [
                        k.size[0] - k.clean_edge[0] - k.clean_edge[1],
                        k.size[1] - k.clean_edge[2] - k.clean_edge[3],
                    ];
                    let (straight, turned) = super::layout::Asked {
                        size: p.size,
                        grain: p.grain,
                    }
                    .may(k.grain_along_y);
                    let [l, w] = p.size;
                    (k.have > 0 || k.at_most != Some(0))
                        && (straight && l <= usable[0] && w <= usable[1]
                            || turned && w <= usable[0] && l <= usable[1])
                };
                !task.kinds.iter().any(fits)
            });
            let numbers: Vec<usize> = (0..plan.sheets.len())
                .filter(|i| here(&plan.sheets[*i].item))
                .collect();
            let answer = SheetAnswer {
                sheets: numbers.iter().map(|i| plan.sheets[*i].clone()).collect(),
                unplaced,
                at_least: result.at_least,
                cost_at_least: result.cost_at_least_cents,
                proved: result.proved,
                certificate: result.proof.clone(),
                searched: result.searched,
            };
            let store = job.saw.store.as_ref().map(|s| s.kerf);
            let bought = sheets::check(&m.item, task, &answer, &numbers, store, faults);
            (
                bought.each,
                task.kinds
                    .iter()
                    .map(|k| price(k.cost, k.at_most))
                    .collect(),
            )
        }
        Goods::Sticks(task) => {
            let unplaced = unplaced(plan, task.pieces.iter().map(|p| p.mark.as_str()), |i| {
                let piece = &task.pieces[i];
                let group =
                    |q: &&StickPiece| piece.together.is_some() && q.together == piece.together;
                let whole = (task.pieces.iter().filter(group))
                    .map(|q| (q.length + task.kerf) * i64::from(q.count))
                    .sum::<Length>();
                let needed = piece.length.max(whole - task.kerf);
                let fits =
                    |k: &StickKind| needed <= k.length && (k.have > 0 || k.at_most != Some(0));
                !task.kinds.iter().any(fits)
            });
            let numbers: Vec<usize> = (0..plan.sticks.len())
                .filter(|i| here(&plan.sticks[*i].item))
                .collect();
            let answer = StickAnswer {
                sticks: numbers.iter().map(|i| plan.sticks[*i].clone()).collect(),
                unplaced,
                at_least: result.at_least,
                cost_at_least: result.cost_at_least_cents,
                proved: result.proved,
                certificate: result.proof.clone(),
                searched: result.searched,
            };
            let bought = sticks::check(&m.item, task, &answer, &numbers, faults);
            (
                bought.each,
                task.kinds
                    .iter()
                    .map(|k| price(k.cost, k.at_most))
                    .collect(),
            )
        }
    };
    let item = m.item.clone();
    let bought: u64 = each.iter().sum();
    if u64::from(result.sheets) != bought {
        faults.push(Fault::BoughtCount {
            item: item.clone(),
            found: u64::from(result.sheets),
            expected: bought,
        });
    }
    let mut expected = Some(Cents::ZERO);
    for (n, price) in each.iter().zip(&prices).filter(|(n, _)| **n > 0) {
        let n = i64::try_from(*n).unwrap_or(i64::MAX);
        let more = price.and_then(|p| p.0.checked_mul(n));
        expected = expected
            .zip(more)
            .and_then(|(a, b)| a.0.checked_add(b))
            .map(Cents);
    }
    // Where some size has no price, a plan that buys none of that size may leave its cost open.
    let open = result.cost_cents.is_none() && prices.iter().any(Option::is_none);
    if result.cost_cents != expected && !open {
        faults.push(Fault::Cost {
            item: item.clone(),
            found: result.cost_cents,
            expected,
        });
    }
    if result.why.trim().is_empty() {
        let why = "it does not say why".into();
        faults.push(Fault::Item { item, why });
    }
}

/// What is never bought needs no price.
fn price(cost: Option<Cents>, at_most: Option<u32>) -> Option<Cents> {
    if at_most == Some(0) {
        cost.or(Some(Cents::ZERO))
    } else {
        cost
    }
}

/// The plan's unplaced parts of one material, with the reason the facts give.
fn unplaced<'a>(
    plan: &Plan,
    marks: impl Iterator<Item = &'a str>,
    fits_nothing: impl Fn(usize) -> bool,
) -> Vec<UnplacedPiece> {
    let mut found = Vec::new();
    for (piece, mark) in marks.enumerate() {
        for u in plan.unplaced.iter().filter(|u| u.mark == mark) {
            found.push(UnplacedPiece {
                piece,
                count: u.count,
                fits_nothing: fits_nothing(piece),
            });
        }
    }
    found
}
