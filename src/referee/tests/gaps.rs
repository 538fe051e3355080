//! Wrong plans that each look right line by line: the number, what is bought for nothing, groups, limits across sizes, words.

use super::made::*;
use crate::model::certificate::Certificate;
use crate::model::*;
use crate::referee::Fault;
use crate::units::{Cents, Length};

#[test]
fn a_number_is_made_from_the_plan() {
    refused!(
        |_, p| p.plan_number = "7C41-9E03".into(),
        Fault::Field { what, .. } if what == "plan_number"
    );
    // A plan changed after it was numbered.
    let numbered = numbered(plan());
    refused!(
        |_, p| {
            *p = numbered.clone();
            p.items[0].why = "because".into();
        },
        Fault::Field { what, .. } if what == "plan_number"
    );
}

/// A sheet and a stick that nothing is cut from, each counted, priced and left over in full.
#[test]
fn nothing_is_bought_to_lie_there() {
    refused!(
        |_, p| {
            let mut idle = sheet();
            idle.count = 1;
            idle.places.clear();
            idle.cuts.clear();
            idle.left = vec![Leftover {
                at: [u(254_000); 2],
                size: [u(194_564_000), u(97_028_000)],
                keep: true,
            }];
            p.sheets.push(idle);
            p.settings[0].pieces.push(SettingPiece {
                sheet: 1,
                copy: 0,
                cut: 0,
                gives: "near end".into(),
            });
            p.items[0] = result("PLY-18", 4, 29_600, Certificate::None);
            (p.items[0].proved, p.items[0].at_least) = (false, 3);
        },
        Fault::NothingCut { .. }
    );
    refused!(
        |_, p| {
            let idle = StickPlan {
                count: 1,
                pieces: vec![],
                left: Length::FOOT * 8,
                ..p.sticks[0].clone()
            };
            p.sticks.push(idle);
            p.items[1] = result("STRIP-15", 3, 2_220, Certificate::None);
            (p.items[1].proved, p.items[1].at_least) = (false, 2);
        },
        Fault::NothingCut { .. }
    );
}

/// T4 and T5 match, so all of them come off one stick; the hand-made plan takes two.
fn matching(j: &mut Job, p: &mut Plan) {
    j.parts[1].how_many = 3;
    j.parts[1].match_group = Some("head".into());
    let size = j.parts[1].size;
    let mut t5 = part("T5", 1, size, "STRIP-15");
    t5.match_group = Some("head".into());
    j.parts.push(t5);
    p.sticks[0].count = 1;
    let mut other = p.sticks[0].clone();
    other.pieces[1].mark = "T5".into();
    p.sticks.push(other);
    p.items[1].proof = Certificate::None;
    (p.items[1].proved, p.items[1].at_least) = (false, 2);
}

#[test]
fn groups_come_off_one_stick_in_a_whole_plan() {
    refused!(matching, Fault::NotTogether { .. });
    // A group without its last piece: the rest cannot match it any more.
    refused!(
        |j, p| {
            matching(j, p);
            j.stock[1].at_most = Some(1);
            p.sticks.pop();
            j.parts[1].how_many = 2;
            p.unplaced.push(Unplaced {
                mark: "T5".into(),
                count: 1,
                why: "used up".into(),
            });
            (p.items[1].sheets, p.items[1].cost_cents) = (1, Some(Cents(740)));
            p.items[1].at_least = 1;
        },
        Fault::NotTogether { .. }
    );
    // Each by itself it is let through.
    let apart = |j: &mut Job, p: &mut Plan| {
        matching(j, p);
        for part in &mut j.parts {
            part.match_group = None;
        }
    };
    assert_eq!(faults(apart), vec![]);
}

/// A group longer than any stick may be given up, and only then.
#[test]
fn a_group_that_no_stick_holds_is_given_up() {
    let give_up = |j: &mut Job, p: &mut Plan| {
        matching(j, p);
        p.sticks.clear();
        for (mark, count) in [("T4", 3), ("T5", 1)] {
            p.unplaced.push(Unplaced {
                mark: mark.into(),
                count,
                why: "four of 40 are longer than any stick".into(),
            });
        }
        p.items[1] = result("STRIP-15", 0, 0, Certificate::NothingToBuy);
        p.items[1].proved = false;
    };
    assert_eq!(faults(give_up), vec![]);
    refused!(
        |j, p| {
            give_up(j, p);
            j.stock[1].length = Some(Length::FOOT * 16);
        },
        Fault::Placeable { .. }
    );
}

/// A strip as wide as the kerf remains beside the last cut, and is not named.
#[test]
fn what_is_as_wide_as_a_kerf_remains() {
    refused!(
        |j, p| {
            let kerf = Length::in_64(6);
            j.stock[0].width = Some(Length::FOOT * 4 - u(2_159_000) + kerf);
            let s = &mut p.sheets[0];
            s.size[1] = s.size[1] - u(2_159_000) + kerf;
            let top = s.size[1] - u(254_000);
            s.cuts[0].of[3] = top;
            s.cuts[1].of[3] = top;
            s.left.pop();
        },
        Fault::LeftoverMissing { .. }
    );
}

/// A second size of the same material that nobody buys.
fn two_sizes(j: &mut Job, p: &mut Plan) {
    let mut long = row(
        "PLY-L",
        StockKind::Sheet,
        [Some(Length::FOOT * 10), Some(Length::FOOT * 4)],
        9_900,
    );
    long.what.clone_from(&j.stock[0].what);
    j.stock.push(long);
    p.items[0].proof = Certificate::None;
    p.items[0].proved = false;
    p.items[0].at_least = 3;
    p.items[0].cost_at_least_cents = Some(Cents(22_200));
}

#[test]
fn several_sizes_and_their_limits() {
    // By area, three sheets of either size and 222.00 are shown without a certificate.
    assert_eq!(faults(two_sizes), vec![]);
    refused!(
        |j, p| {
            two_sizes(j, p);
            p.items[0].cost_at_least_cents = None;
        },
        Fault::Field { what, .. } if what.contains("cost_at_least_cents")
    );
    // One of each size and its limit passed by one of them.
    let mixed = |most: u32| {
        move |j: &mut Job, p: &mut Plan| {
            two_sizes(j, p);
            j.stock[0].at_most = Some(most);
            p.sheets[0].count = 2;
            let mut long = sheet();
            long.item = "PLY-L".into();
            long.count = 1;
            let more = Length::FOOT * 2;
            long.size[0] += more;
            long.left[0].size[0] += more;
            long.left[1].size[0] += more;
            long.left[2].size[0] += more;
            for c in &mut long.cuts {
                c.of[2] += more;
            }
            p.sheets.push(long);
            for s in &mut p.settings {
                let copies: Vec<SettingPiece> = s.pieces.clone();
                s.pieces
                    .extend(copies.into_iter().map(|c| SettingPiece { sheet: 1, ..c }));
            }
            p.items[0].cost_cents = Some(Cents(2 * 7_400 + 9_900));
            p.items[0].cost_at_least_cents = Some(Cents(22_200));
        }
    };
    assert_eq!(faults(mixed(2)), vec![]);
    refused!(
        mixed(1),
        Fault::TooMany {
            used: 2,
            there: 1,
            ..
        }
    );
}

/// `proved` of one size means that no plan needs fewer, so the bound is the number bought.
#[test]
fn what_is_proved_is_the_number_bought() {
    refused!(|_, p| p.items[0].at_least = 2, Fault::Field { what, .. } if what.contains("at_least"));
}

/// Two layouts on one rack piece, each once.
#[test]
fn a_rack_piece_is_used_once() {
    refused!(
        |j, p| {
            on_the_rack(j, p);
            j.parts[2].how_many = 2;
            p.sheets.push(p.sheets[1].clone());
            for s in &mut p.settings {
                let again: Vec<SettingPiece> = (s.pieces.iter())
                    .filter(|c| c.sheet == 1)
                    .map(|c| SettingPiece {
                        sheet: 2,
                        ..c.clone()
                    })
                    .collect();
                s.pieces.extend(again);
            }
        },
        Fault::TooMany {
            used: 2,
            there: 1,
            ..
        }
    );
}

/// What comes free is written on the part: a wrong mark there spoils it.
#[test]
fn the_page_names_what_comes_free() {
    refused!(
        |_, p| p.settings[2].pieces[0].gives = "R1".into(),
        Fault::Setting { n: 3, .. }
    );
    refused!(
        |_, p| p.settings[2].pieces[0].gives = "strip".into(),
        Fault::Setting { n: 3, .. }
    );
    refused!(
        |_, p| p.settings[1].pieces[0].gives = "L1".into(),
        Fault::Setting { n: 2, .. }
    );
    refused!(
        |_, p| p.settings[1].pieces[0].gives.clear(),
        Fault::Setting { n: 2, .. }
    );
}

/// Two pieces of 40 in and their kerf from 7 ft of a moulding sold by the foot.
fn by_the_foot(j: &mut Job, p: &mut Plan) {
    j.stock[1].sold_by = "foot".into();
    j.stock[1].price = Some(crate::units::PriceRange::firm(Cents(90)));
    p.sticks[0].length = Length::FOOT * 7;
    p.sticks[0].left -= Length::FOOT;
    p.items[1] = result("STRIP-15", 2, 2 * 7 * 90, Certificate::None);
    (p.items[1].proved, p.items[1].at_least) = (false, 1);
    p.items[1].cost_at_least_cents = Some(Cents(1));
}

#[test]
fn whole_feet_are_bought() {
    assert_eq!(faults(by_the_foot), vec![]);
    refused!(
        |j, p| {
            by_the_foot(j, p);
            p.items[1].cost_cents = Some(Cents(2 * 80 * 90 / 12));
        },
        Fault::Cost { .. }
    );
    // 6 ft 8 in is no whole foot, and 9 ft is longer than the row sells.
    for length in [Length::inches(81), Length::FOOT * 9] {
        refused!(
            move |j, p| {
                by_the_foot(j, p);
                p.sticks[0].length = length;
                p.sticks[0].left = length - Length::in_64(80 * 64 + 12);
            },
            Fault::Field { .. }
        );
    }
}

/// A rack board ripped narrower is another board.
#[test]
fn a_narrower_board_is_another_board() {
    let on_rack = |width: Option<Length>| {
        move |j: &mut Job, p: &mut Plan| {
            j.stock[1].width = Some(Length::inches(5));
            let mut piece = j.rack[0].clone();
            piece.mark = "R-04".into();
            piece.item = "STRIP-15".into();
            piece.length = Length::FOOT * 8;
            piece.width = width;
            j.rack.push(piece);
            p.sticks[0].count = 1;
            let free = StickPlan {
                rack: Some("R-04".into()),
                ..p.sticks[0].clone()
            };
            p.sticks.push(free);
            p.items[1] = result("STRIP-15", 1, 740, Certificate::None);
            (p.items[1].proved, p.items[1].at_least) = (false, 1);
        }
    };
    assert_eq!(faults(on_rack(None)), vec![]);
    assert_eq!(faults(on_rack(Some(Length::inches(5)))), vec![]);
    refused!(on_rack(Some(Length::inches(3))), Fault::RackPiece { .. });
}
