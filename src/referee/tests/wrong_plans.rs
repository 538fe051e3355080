//! Wrong plans of every kind made from a valid one: each must be refused for what is wrong with it.

use super::made::*;
use crate::model::certificate::Certificate;
use crate::model::task::*;
use crate::model::*;
use crate::referee::{Fault, check_plan, check_sheets, check_sticks};
use crate::units::{Cents, Length};

#[test]
fn the_hand_made_plan_is_let_through() {
    assert_eq!(faults(|_, _| ()), vec![]);
}

#[test]
fn wrong_parts_are_refused() {
    refused!(
        |_, p| {
            p.sheets[0].places.pop();
        },
        Fault::PartCount { cut: 3, .. }
    );
    refused!(
        |j, _| j.parts[0].how_many = 5,
        Fault::PartCount {
            asked: 5,
            cut: 6,
            ..
        }
    );
    refused!(
        |j, _| j.parts[0].spare = 1,
        Fault::PartCount { asked: 7, .. }
    );
    refused!(
        |_, p| p.sheets[0].count = 2,
        Fault::PartCount { cut: 4, .. }
    );
    refused!(
        |_, p| p.sheets[0].places[0].mark = "X".into(),
        Fault::UnknownPart { .. }
    );
    refused!(
        |_, p| p.sheets[0].places[0].size[0] += u(1),
        Fault::PartSize { .. }
    );
    // Banding in the size makes the cut size smaller: here the row does not say so, and the plan acts as if it did.
    refused!(
        |j, _| {
            let mut band = row("BAND", StockKind::Banding, [None, None], 900);
            band.thick = Some(Length::in_64(1));
            band.measured = None;
            j.stock.push(band);
            j.parts[0].band.front = true;
            j.parts[0].band_in_size = true;
        },
        Fault::PartSize { .. }
    );
    refused!(
        |j, _| j.parts[0].grain = Grain::Width,
        Fault::AcrossGrain { .. }
    );
    refused!(
        |j, _| j.stock[0].grain_along_width = true,
        Fault::AcrossGrain { .. }
    );
    refused!(
        |_, p| p.sheets[0].places[0].turned = true,
        Fault::PartSize { .. }
    );
    refused!(
        |j, _| j.parts[0].route = Some("other".into()),
        Fault::UnknownStock { .. }
    );
}

#[test]
fn wrong_layouts_are_refused() {
    refused!(
        |_, p| p.sheets[0].places[1].at[1] = u(47_000_000),
        Fault::Overlap { .. }
    );
    refused!(
        |_, p| p.sheets[0].places[1].at[1] = u(47_498_000),
        Fault::NotFreed { .. }
    );
    refused!(
        |_, p| p.sheets[0].places[0].at[0] = u(0),
        Fault::OverEdge { .. }
    );
    refused!(
        |_, p| p.sheets[0].clean_edge[2] = u(0),
        Fault::CleanEdge { .. }
    );
    refused!(
        |j, _| j.saw.clean_edges = vec![Edge::X0],
        Fault::CleanEdge { .. }
    );
    refused!(|_, p| p.sheets[0].size[0] += u(1), Fault::SheetSize { .. });
    refused!(|_, p| p.sheets[0].count = 0, Fault::NoCount { .. });
    refused!(
        |_, p| p.sheets[0].item = "PLY-99".into(),
        Fault::UnknownStock { .. }
    );
    refused!(
        |_, p| p.sheets[0].left[0].size[0] -= u(1),
        Fault::LeftoverWrong { .. }
    );
    refused!(
        |_, p| {
            p.sheets[0].left.pop();
        },
        Fault::LeftoverMissing { .. }
    );
    refused!(
        |_, p| p.sheets[0].left[0].keep = false,
        Fault::KeepWrong { keep: false, .. }
    );
    refused!(
        |_, p| p.sheets[0].left[2].keep = true,
        Fault::KeepWrong { keep: true, .. }
    );
    refused!(
        |_, p| p.sheets[0].places[0].at[0] = u(i64::MAX),
        Fault::OutOfRange { .. }
    );
    refused!(
        |_, p| p.sheets[0].cuts[0].of[3] = u(i64::MIN),
        Fault::OutOfRange { .. }
    );
}

#[test]
fn wrong_cuts_are_refused() {
    // A kerf ignored: the second strip begins where the first ends.
    refused!(
        |_, p| {
            p.sheets[0].cuts[1].of[1] = u(47_498_000);
            p.sheets[0].places[1].at[1] = u(47_498_000);
        },
        Fault::CutNotFree { n: 2, .. }
    );
    // Not edge to edge: the cut stops at the end of the part.
    refused!(
        |_, p| p.sheets[0].cuts[1].of[2] = u(179_070_000),
        Fault::CutNotFree { n: 2, .. }
    );
    // Out of order: the strip is crosscut before it is ripped.
    refused!(
        |_, p| {
            p.sheets[0].cuts[1].n = 4;
            p.sheets[0].cuts[3].n = 2;
        },
        Fault::CutNotFree { n: 2, .. }
    );
    refused!(
        |_, p| p.sheets[0].cuts[3].n = 5,
        Fault::CutNumbers { n: 4, .. }
    );
    refused!(
        |_, p| p.sheets[0].cuts[3].n = 3,
        Fault::CutNumbers { n: 4, .. }
    );
    refused!(
        |_, p| p.sheets[0].cuts[3].at = u(194_818_000),
        Fault::CutOutside { n: 4, .. }
    );
    refused!(
        |_, p| {
            p.sheets[0].cuts.pop();
        },
        Fault::NotFreed { .. }
    );
    refused!(
        |_, p| p.sheets[0].cuts[3].kerf = Some(u(1)),
        Fault::CutKerf { n: 4, .. }
    );
    refused!(
        |_, p| p.sheets[0].cuts[3].saw = Some(SawAt::Store),
        Fault::CutKerf { n: 4, .. }
    );
    refused!(|j, _| j.saw.turns = Some(1), Fault::Turns { .. });
    refused!(
        |j, _| j.saw.first = FirstCut::Crosscut,
        Fault::FirstCut { n: 1, .. }
    );
    refused!(
        |j, _| j.saw.kerf = Length::in_64(8),
        Fault::CutNotFree { .. }
    );
    refused!(|_, p| p.kerf = Length::in_64(8), Fault::Field { .. });
}

/// A store cut carries the store's kerf; then the same layout moves by the difference.
#[test]
fn a_stores_kerf_is_the_stores() {
    let store = StoreSaw {
        kerf: Length::in_64(8),
        true_to: Length::in_64(8),
        free_cuts_per_sheet: 2,
        price_per_cut: Cents(100),
        smallest_piece: None,
        mitres: false,
        cut_delivered: false,
    };
    let more = Length::in_64(2);
    let moved = |j: &mut Job, p: &mut Plan| {
        j.saw.store = Some(store.clone());
        let s = &mut p.sheets[0];
        s.cuts[0].saw = Some(SawAt::Store);
        s.cuts[0].kerf = Some(Length::in_64(8));
        s.places[1].at[1] += more;
        s.left[1].at[1] += more;
        s.left[2].at[1] += more;
        s.left[2].size[1] -= more;
        s.cuts[1].at += more;
        s.cuts[1].of[1] += more;
        s.cuts[3].of[1] += more;
        s.cuts[3].of[3] += more;
    };
    // It is cut right at a part's edge: a finished size is never asked of the store.
    let found = faults(moved);
    assert!(
        matches!(
            &found[..],
            [Fault::StoreCut { n: 1, .. }, Fault::StoreCut { n: 1, .. }]
        ),
        "{found:?}"
    );
    refused!(
        |j, p| {
            moved(j, p);
            p.sheets[0].cuts[0].kerf = None;
        },
        Fault::CutKerf { n: 1, .. }
    );
}

#[test]
fn the_rack_is_used_by_its_rules() {
    assert_eq!(faults(on_the_rack), vec![]);
    let with = |change: fn(&mut Job, &mut Plan)| {
        move |j: &mut Job, p: &mut Plan| {
            on_the_rack(j, p);
            change(j, p);
        }
    };
    refused!(
        with(|j, _| j.rack[0].state = OffcutState::Doubtful),
        Fault::RackPiece { .. }
    );
    refused!(
        with(|j, _| j.rack[0].state = OffcutState::Promised),
        Fault::RackPiece { .. }
    );
    refused!(
        with(|j, _| j.rack[0].state = OffcutState::Spent),
        Fault::RackPiece { .. }
    );
    refused!(
        with(|j, _| j.rack[0].thick = Some(Length::in_64(14))),
        Fault::RackPiece { .. }
    );
    refused!(
        with(|j, _| j.rack[0].item = "PLY-6".into()),
        Fault::RackPiece { .. }
    );
    refused!(
        with(|_, p| p.sheets[1].rack = Some("R-99".into())),
        Fault::RackPiece { .. }
    );
    refused!(
        with(|j, p| {
            j.parts[2].how_many = 2;
            p.sheets[1].count = 2;
        }),
        Fault::TooMany {
            used: 2,
            there: 1,
            ..
        }
    );
    refused!(
        with(|j, _| j.rack[0].good_edges = vec![Edge::X0]),
        Fault::CleanEdge { .. }
    );
    // A rack piece as large as a sheet lies there while three sheets are bought.
    refused!(
        |j, _| {
            j.rack[0].length = Length::FOOT * 8;
            j.rack[0].width = Some(Length::FOOT * 4);
        },
        Fault::FreeUnused { .. }
    );
}

#[test]
fn wrong_money_and_limits_are_refused() {
    refused!(
        |_, p| p.items[0].cost_cents = Some(Cents(22_199)),
        Fault::Cost { .. }
    );
    refused!(|_, p| p.items[0].cost_cents = None, Fault::Cost { .. });
    refused!(|j, _| j.stock[0].price = None, Fault::Cost { .. });
    refused!(
        |_, p| p.items[0].sheets = 2,
        Fault::BoughtCount { expected: 3, .. }
    );
    refused!(
        |j, _| j.stock[0].have = NeedUnit::Count(1_000),
        Fault::BoughtCount { expected: 2, .. }
    );
    refused!(
        |j, _| j.stock[0].at_most = Some(2),
        Fault::TooMany {
            used: 3,
            there: 2,
            ..
        }
    );
    refused!(
        |_, p| {
            p.items.pop();
        },
        Fault::Item { .. }
    );
    refused!(|_, p| p.items.push(p.items[0].clone()), Fault::Item { .. });
    refused!(|_, p| p.items[1].item = "GLUE".into(), Fault::Item { .. });
    refused!(|_, p| p.items[0].why.clear(), Fault::Item { .. });
    refused!(|_, p| p.route = "other".into(), Fault::Field { .. });
    refused!(|_, p| p.plan_number = "7C41".into(), Fault::Field { .. });
    refused!(|_, p| p.format.clear(), Fault::Field { .. });
}

#[test]
fn wrong_sticks_are_refused() {
    refused!(|_, p| p.sticks[0].left += u(1), Fault::StickLeft { .. });
    refused!(
        |_, p| p.sticks[0].pieces.extend_from_within(..1),
        Fault::StickOverfull { .. }
    );
    refused!(
        |_, p| p.sticks[0].pieces[0].length -= u(1),
        Fault::PartSize { .. }
    );
    refused!(
        |_, p| p.sticks[0].pieces[0].mark = "X".into(),
        Fault::UnknownPart { .. }
    );
    refused!(|_, p| p.sticks[0].count = 0, Fault::NoCount { .. });
    refused!(|_, p| p.sticks[0].length += u(1), Fault::Field { .. });
    refused!(
        |_, p| {
            p.sticks[0].pieces.pop();
        },
        Fault::PartCount { cut: 2, .. }
    );
    refused!(
        |_, p| p.sticks[0].pieces[0].length = u(i64::MAX),
        Fault::OutOfRange { .. }
    );
    // Two pieces of 48 in never come out of an 8 ft stick once a kerf is taken.
    refused!(
        |j, p| {
            j.parts[1].size = PartSize::Piece {
                length: Length::inches(48),
            };
            for piece in &mut p.sticks[0].pieces {
                piece.length = Length::inches(48);
            }
            p.sticks[0].left = u(0);
        },
        Fault::StickOverfull { .. }
    );
}

#[test]
fn parts_given_up_must_fit_nowhere() {
    let give_up = |_: &mut Job, p: &mut Plan| {
        p.sheets[0].count = 2;
        p.items[0] = result("PLY-18", 2, 14_800, Certificate::None);
        p.items[0].proved = false;
        p.items[0].at_least = 2;
        p.unplaced.push(Unplaced {
            mark: "L1".into(),
            count: 2,
            why: "no sheet left".into(),
        });
    };
    refused!(give_up, Fault::Placeable { .. });
    let mut limited = (job(), plan());
    give_up(&mut limited.0, &mut limited.1);
    limited.0.stock[0].at_most = Some(2);
    let plan = numbered(limited.1);
    assert_eq!(check_plan(&limited.0, "custom", &plan), Ok(()));
    refused!(
        |j, p| {
            give_up(j, p);
            p.unplaced[0].mark = "X".into();
        },
        Fault::UnknownPart { .. }
    );
    // A part of 36 along the grain by 72 fits no 4 x 8 sheet; with any grain it does (a classic trap).
    let trap = |grain| {
        move |j: &mut Job, p: &mut Plan| {
            let size = PartSize::Panel {
                length: Length::inches(36),
                width: Length::inches(72),
            };
            j.parts.push(Part {
                grain,
                ..part("W", 1, size, "PLY-18")
            });
            p.unplaced.push(Unplaced {
                mark: "W".into(),
                count: 1,
                why: "wider than the sheet".into(),
            });
        }
    };
    assert_eq!(faults(trap(Grain::Length)), vec![]);
    refused!(trap(Grain::Any), Fault::Placeable { .. });
    refused!(trap(Grain::Width), Fault::Placeable { .. });
    // The leftover beside a part would hold it: two small parts, one given up though there is room.
    refused!(
        |j, p| {
            on_the_rack(j, p);
            j.stock[0].at_most = Some(3);
            let size = PartSize::Panel {
                length: Length::inches(7),
                width: Length::inches(6),
            };
            j.parts.push(part("S2", 1, size, "PLY-18"));
            p.unplaced.push(Unplaced {
                mark: "S2".into(),
                count: 1,
                why: "no room".into(),
            });
        },
        Fault::Placeable { .. }
    );
}

#[test]
fn wrong_settings_are_refused() {
    refused!(
        |_, p| {
            p.settings.pop();
        },
        Fault::CutWithoutSetting { .. }
    );
    refused!(
        |_, p| {
            p.settings.remove(0);
        },
        Fault::CutWithoutSetting { .. }
    );
    refused!(
        |_, p| p.settings[1].size += u(1),
        Fault::Setting { n: 2, .. }
    );
    refused!(
        |_, p| p.settings[1].again = true,
        Fault::Setting { n: 2, .. }
    );
    refused!(|_, p| p.settings[1].n = 7, Fault::Setting { n: 7, .. });
    refused!(
        |_, p| p.settings[1].kind = SettingKind::Stop,
        Fault::Setting { n: 2, .. }
    );
    refused!(
        |_, p| p.settings[1].item = "STRIP-15".into(),
        Fault::Setting { n: 2, .. }
    );
    refused!(
        |_, p| p.settings[1].pieces.reverse(),
        Fault::Setting { n: 2, .. }
    );
    refused!(
        |_, p| p.settings[1].pieces.clear(),
        Fault::Setting { n: 2, .. }
    );
    refused!(
        |_, p| p.settings[1].pieces[0].sheet = 9,
        Fault::Setting { n: 2, .. }
    );
    refused!(
        |_, p| p.settings[1].pieces[0].copy = 4,
        Fault::Setting { n: 2, .. }
    );
    refused!(
        |_, p| p.settings[1].pieces[0].copy = 1,
        Fault::CutWithoutSetting { .. }
    );
    refused!(
        |_, p| p.settings[0].size = u(1),
        Fault::Setting { n: 1, .. }
    );
    refused!(
        |_, p| {
            let twice = p.settings[2].pieces[1].clone();
            p.settings[2].pieces.push(twice);
        },
        Fault::Setting { n: 3, .. }
    );
    // The strips crosscut before they are ripped.
    refused!(
        |_, p| {
            p.settings.swap(1, 2);
            (p.settings[1].n, p.settings[2].n) = (2, 3);
        },
        Fault::Setting { n: 2, .. }
    );
}

/// Groups, and the two sides of a claim about sticks that only a task can carry.
#[test]
fn groups_come_off_one_stick() {
    let piece = |mark: &str| StickPiece {
        mark: mark.into(),
        count: 1,
        length: Length::inches(40),
        together: Some(1),
    };
    let task = StickTask {
        kinds: vec![StickKind {
            item: "S".into(),
            rack: None,
            length: Length::FOOT * 8,
            cost: None,
            have: 0,
            at_most: None,
        }],
        pieces: vec![piece("A"), piece("B")],
        kerf: Length::in_64(6),
    };
    let stick = |marks: &[&str]| {
        let pieces: Vec<PlannedPiece> = (marks.iter())
            .map(|m| PlannedPiece {
                mark: (*m).into(),
                length: Length::inches(40),
            })
            .collect();
        let used = (Length::inches(40) + Length::in_64(6)) * pieces.len() as i64;
        StickPlan {
            item: "S".into(),
            rack: None,
            length: Length::FOOT * 8,
            count: 1,
            pieces,
            left: Length::FOOT * 8 - used,
        }
    };
    let answer = |sticks: Vec<StickPlan>| StickAnswer {
        sticks,
        unplaced: vec![],
        at_least: 1,
        cost_at_least: None,
        proved: false,
        certificate: Certificate::None,
        searched: 0,
    };
    assert_eq!(
        check_sticks(&task, &answer(vec![stick(&["A", "B"])])),
        Ok(())
    );
    let apart = check_sticks(&task, &answer(vec![stick(&["A"]), stick(&["B"])]));
    assert!(matches!(
        &apart.expect_err("apart")[..],
        [Fault::NotTogether { .. }]
    ));
}

/// A task with nothing in it is answered by nothing.
#[test]
fn an_empty_task_is_answered_by_nothing() {
    let task = SheetTask {
        kinds: vec![],
        pieces: vec![],
        kerf: u(0),
        turns: None,
        first: FirstCut::Either,
        keep: KeepRule::default(),
        narrowest_safe_rip: u(0),
    };
    let mut answer = SheetAnswer {
        sheets: vec![],
        unplaced: vec![],
        at_least: 0,
        cost_at_least: None,
        proved: true,
        certificate: Certificate::NothingToBuy,
        searched: 0,
    };
    assert_eq!(check_sheets(&task, &answer), Ok(()));
    answer.at_least = 1;
    assert!(check_sheets(&task, &answer).is_err());
}
