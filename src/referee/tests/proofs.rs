//! False and weak proofs, and true ones of each rule.

use super::made::*;
use crate::model::certificate::*;
use crate::model::{Job, Plan};
use crate::referee::Fault;
use crate::units::{Cents, Length};

fn weights(p: &mut Plan) -> &mut WeightsProof {
    match &mut p.items[0].proof {
        Certificate::Weights(w) => w,
        _ => unreachable!("the hand-made plan is proved by weights"),
    }
}

#[test]
fn false_proofs_are_refused() {
    refused!(|_, p| p.items[0].at_least = 4, Fault::BoundTooHigh { .. });
    refused!(
        |_, p| p.items[0].cost_at_least_cents = Some(Cents(22_201)),
        Fault::BoundTooHigh { .. }
    );
    refused!(
        |_, p| p.items[0].proof = Certificate::None,
        Fault::NotProved { .. }
    );
    refused!(
        |_, p| p.items[0].proof = Certificate::NothingToBuy,
        Fault::NotProved { .. }
    );
    // Weights that lie: a sheet said to hold one side holds two.
    refused!(
        |_, p| weights(p).holds[0].most = 1,
        Fault::FalseCertificate { .. }
    );
    refused!(
        |_, p| weights(p).holds.clear(),
        Fault::FalseCertificate { .. }
    );
    refused!(
        |_, p| weights(p).weights[0].count = 7,
        Fault::FalseCertificate { .. }
    );
    refused!(
        |_, p| weights(p).weights[0].weight = -1,
        Fault::FalseCertificate { .. }
    );
    refused!(
        |_, p| weights(p).weights[0].mark = "X".into(),
        Fault::FalseCertificate { .. }
    );
    refused!(
        |_, p| {
            let twice = weights(p).weights[0].clone();
            weights(p).weights.push(twice);
        },
        Fault::FalseCertificate { .. }
    );
    // Too weak a bound is true, and proves nothing.
    refused!(|_, p| weights(p).holds[0].most = 3, Fault::NotProved { .. });
    // By area the six sides fill 2.7 sheets: enough here. Weights above the area are a lie.
    let by_area = |more: i64| {
        move |_: &mut Job, p: &mut Plan| {
            let k = 190_500;
            let w = weights(p);
            w.rule = WeightRule::Area;
            w.weights[0].weight = (178_816_000 + k) * (47_244_000 + k) + more;
            w.holds[0].most = (194_564_000 + k) * (97_028_000 + k);
            w.holds[1].most = (Length::inches(30).units() - 508_000 + k)
                * (Length::inches(12).units() - 508_000 + k);
        }
    };
    assert_eq!(faults(by_area(0)), vec![]);
    refused!(by_area(1), Fault::FalseCertificate { .. });
    // Scales: two strips of 23 1/4 stand side by side across, one length of 88 along.
    let scales = |across: i64, holds: i64| {
        move |_: &mut Job, p: &mut Plan| {
            let side = |l: i64, weight| SizeWeight { size: u(l), weight };
            let w = weights(p);
            w.rule = WeightRule::Product {
                along: vec![side(178_816_000, 1)],
                across: vec![side(47_244_000, 1)],
                symmetric: false,
            };
            w.weights[0].weight = across;
            w.holds[0].most = holds;
        }
    };
    assert_eq!(faults(scales(1, 2)), vec![]);
    refused!(scales(2, 2), Fault::FalseCertificate { .. });
    refused!(scales(1, 1), Fault::FalseCertificate { .. });
    // Five sides need more than two sheets, and so three at 74; four do not.
    let tried = |count: u32, not_on: u32, costs: i64| {
        move |_: &mut Job, p: &mut Plan| {
            p.items[0].proof = Certificate::Exhaustive {
                pieces: vec![PieceWeight {
                    mark: "L1".into(),
                    count,
                    weight: 1,
                }],
                not_on,
                costs,
                nodes: 1,
            };
        }
    };
    assert_eq!(faults(tried(5, 2, 22_200)), vec![]);
    refused!(tried(4, 2, 22_200), Fault::FalseCertificate { .. });
    refused!(tried(5, 2, 22_201), Fault::FalseCertificate { .. });
    refused!(tried(5, 3, 22_200), Fault::FalseCertificate { .. });
    refused!(tried(5, 2, 22_199), Fault::NotProved { .. });
    refused!(tried(6 + 1, 2, 22_200), Fault::FalseCertificate { .. });
}
