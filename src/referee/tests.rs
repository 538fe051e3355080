//! A valid plan made by hand, and wrong ones of every kind made from it: each must be refused for what is wrong with it.

use super::{Fault, check_plan, check_sheets, check_sticks};
use crate::model::certificate::*;
use crate::model::task::*;
use crate::model::*;
use crate::units::{Cents, Length, PriceRange, Tape};

fn u(units: i64) -> Length {
    Length::from_units(units)
}

fn row(item: &str, kind: StockKind, size: [Option<Length>; 2], cents: i64) -> StockRow {
    StockRow {
        item: item.into(),
        kind,
        what: item.to_lowercase(),
        length: size[0],
        width: size[1],
        thick: Some(Length::in_64(48)),
        measured: Some(Length::in_64(46)),
        grain_along_width: false,
        sold_by: "each".into(),
        holds: NeedUnit::Count(1000),
        price: Some(PriceRange::firm(Cents(cents))),
        priced_on: None,
        have: NeedUnit::Count(0),
        waste: None,
        store: String::new(),
        aisle: String::new(),
        lead_days: 0,
        taxed: true,
        at_most: None,
        weight_grams: None,
        covers_mm2: None,
        one_face: false,
        returns: None,
        note: String::new(),
        row: 0,
        file: String::new(),
    }
}

fn part(mark: &str, how_many: u32, size: PartSize, item: &str) -> Part {
    Part {
        mark: mark.into(),
        what: String::new(),
        in_box: String::new(),
        route: None,
        how_many,
        spare: 0,
        size,
        item: item.into(),
        grain: Grain::Length,
        band: Band::default(),
        band_item: None,
        band_in_size: false,
        match_group: None,
        keep: false,
        by_hand: true,
        note: String::new(),
        row: 0,
    }
}

/// Six sides of 88 x 23 1/4 from three sheets and four strips from two sticks, at a kerf of 3/32.
fn job() -> Job {
    let side = PartSize::Panel {
        length: Length::inches(88),
        width: Length::in_64(23 * 64 + 16),
    };
    let strip = PartSize::Piece {
        length: Length::inches(40),
    };
    let ft = |n: i64| Some(Length::FOOT * n);
    Job {
        project: Project {
            name: "alcove".into(),
            house: String::new(),
            drawn_by: String::new(),
            date: None,
            tape: Tape::default(),
            money: "USD".into(),
            sales_tax: None,
            paper: Paper::Letter,
        },
        want: None,
        opening: None,
        runs: vec![],
        trim: TrimRules::default(),
        saw: Saw {
            kerf: Length::in_64(6),
            ..Saw::default()
        },
        car: Car::default(),
        finish: Finish::default(),
        labour: Labour::default(),
        tools: Tools::default(),
        needs: vec![],
        parts: vec![
            part("L1", 6, side, "PLY-18"),
            part("T4", 4, strip, "STRIP-15"),
        ],
        stock: vec![
            row("PLY-18", StockKind::Sheet, [ft(8), ft(4)], 7_400),
            row("STRIP-15", StockKind::Moulding, [ft(8), None], 740),
        ],
        prefab: vec![],
        rack: vec![Offcut {
            mark: "R-03".into(),
            item: "PLY-18".into(),
            length: Length::inches(30),
            width: Some(Length::inches(12)),
            thick: Some(Length::in_64(46)),
            grain_along_width: false,
            good_edges: vec![],
            from_job: String::new(),
            promised_to: None,
            place: String::new(),
            state: OffcutState::Ready,
            note: String::new(),
            row: 0,
        }],
        defaults: vec![],
        bare_list: true,
    }
}

fn cut(n: u32, across: bool, at: i64, of: [i64; 4]) -> Cut {
    Cut {
        n,
        across,
        at: u(at),
        of: of.map(u),
        kerf: None,
        saw: None,
    }
}

/// The layout printed with the format of plan.json, every number worked out by hand from 1 in = 2 032 000.
fn sheet() -> SheetPlan {
    let place = |y: i64| Place {
        mark: "L1".into(),
        at: [u(254_000), u(y)],
        size: [u(178_816_000), u(47_244_000)],
        turned: false,
    };
    let left = |at: [i64; 2], size: [i64; 2], keep| Leftover {
        at: at.map(u),
        size: size.map(u),
        keep,
    };
    SheetPlan {
        item: "PLY-18".into(),
        rack: None,
        count: 3,
        size: [u(195_072_000), u(97_536_000)],
        clean_edge: [u(254_000); 4],
        places: vec![place(254_000), place(47_688_500)],
        left: vec![
            left([179_260_500, 254_000], [15_557_500, 47_244_000], true),
            left([179_260_500, 47_688_500], [15_557_500, 47_244_000], true),
            left([254_000, 95_123_000], [194_564_000, 2_159_000], false),
        ],
        cuts: vec![
            cut(
                1,
                false,
                47_498_000,
                [254_000, 254_000, 194_818_000, 97_282_000],
            ),
            cut(
                2,
                false,
                94_932_500,
                [254_000, 47_688_500, 194_818_000, 97_282_000],
            ),
            cut(
                3,
                true,
                179_070_000,
                [254_000, 254_000, 194_818_000, 47_498_000],
            ),
            cut(
                4,
                true,
                179_070_000,
                [254_000, 47_688_500, 194_818_000, 94_932_500],
            ),
        ],
    }
}

fn result(item: &str, sheets: u32, cents: i64, proof: Certificate) -> ItemResult {
    ItemResult {
        item: item.into(),
        sheets,
        at_least: sheets,
        proved: true,
        why: "each holds two".into(),
        cost_cents: Some(Cents(cents)),
        cost_at_least_cents: None,
        searched: 0,
        proof,
    }
}

fn pattern(mark: &str, count: u32, holds: &[(&str, Option<&str>, i64)]) -> Certificate {
    Certificate::Weights(WeightsProof {
        rule: WeightRule::Pattern {
            capped: false,
            limits: vec![],
        },
        weights: vec![PieceWeight {
            mark: mark.into(),
            count,
            weight: 1,
        }],
        holds: (holds.iter())
            .map(|(item, rack, most)| Holds {
                item: (*item).into(),
                rack: rack.map(Into::into),
                most: *most,
            })
            .collect(),
    })
}

fn setting(n: u32, kind: SettingKind, size: i64, cuts: &[u32]) -> Setting {
    Setting {
        n,
        item: "PLY-18".into(),
        kind,
        size: u(size),
        again: false,
        pieces: (cuts.iter())
            .map(|c| SettingPiece {
                sheet: 0,
                copy: 0,
                cut: *c,
                gives: "L1".into(),
            })
            .collect(),
    }
}

fn plan() -> Plan {
    let piece = || PlannedPiece {
        mark: "T4".into(),
        length: Length::inches(40),
    };
    let holds = [("PLY-18", None, 2), ("PLY-18", Some("R-03"), 0)];
    Plan {
        format: "nookwright plan 1".into(),
        plan_number: "7C41-9E02".into(),
        length_unit: "1/80000 mm".into(),
        route: "custom".into(),
        kerf: Length::in_64(6),
        sheets: vec![sheet()],
        sticks: vec![StickPlan {
            item: "STRIP-15".into(),
            rack: None,
            length: Length::FOOT * 8,
            count: 2,
            pieces: vec![piece(), piece()],
            // 96 - 2 x 40 - 2 x 3/32 = 15 13/16
            left: Length::in_64(15 * 64 + 52),
        }],
        unplaced: vec![],
        items: vec![
            result("PLY-18", 3, 22_200, pattern("L1", 6, &holds)),
            result(
                "STRIP-15",
                2,
                1_480,
                pattern("T4", 4, &[("STRIP-15", None, 2)]),
            ),
        ],
        settings: vec![
            setting(1, SettingKind::Clean, 254_000, &[0]),
            setting(2, SettingKind::Rip, 47_244_000, &[1, 2]),
            setting(3, SettingKind::Stop, 178_816_000, &[3, 4]),
        ],
    }
}

/// The faults of a plan after a change, as text: their names.
fn faults(change: impl FnOnce(&mut Job, &mut Plan)) -> Vec<Fault> {
    let (mut job, mut plan) = (job(), plan());
    change(&mut job, &mut plan);
    check_plan(&job, "custom", &plan).err().unwrap_or_default()
}

macro_rules! refused {
    ($change:expr, $($fault:tt)+) => {{
        let found = faults($change);
        assert!(found.iter().any(|f| matches!(f, $($fault)+)), "{found:?}");
        for f in &found {
            let sentence = f.to_string();
            assert!(!sentence.is_empty() && !sentence.contains('{'), "{sentence}");
        }
    }};
}

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
    assert_eq!(faults(moved), vec![]);
    refused!(
        |j, p| {
            moved(j, p);
            p.sheets[0].cuts[0].kerf = None;
        },
        Fault::CutKerf { n: 1, .. }
    );
}

/// Puts a small part on the rack piece: 11 7/8 x 20 of its 29 3/4 x 11 3/4.
fn on_the_rack(j: &mut Job, p: &mut Plan) {
    let size = [Length::inches(20), Length::inches(10)];
    let panel = PartSize::Panel {
        length: size[0],
        width: size[1],
    };
    j.parts.push(part("S1", 1, panel, "PLY-18"));
    let (e, k) = (Length::in_64(8), Length::in_64(6));
    let far = [Length::inches(30) - e, Length::inches(12) - e];
    let (x, y) = (e + size[0], e + size[1]);
    let cut = |n, across, at, of| Cut {
        n,
        across,
        at,
        of,
        kerf: None,
        saw: None,
    };
    p.sheets.push(SheetPlan {
        item: "PLY-18".into(),
        rack: Some("R-03".into()),
        count: 1,
        size: [Length::inches(30), Length::inches(12)],
        clean_edge: [e; 4],
        places: vec![Place {
            mark: "S1".into(),
            at: [e, e],
            size,
            turned: false,
        }],
        left: vec![
            Leftover {
                at: [x + k, e],
                size: [far[0] - x - k, far[1] - e],
                keep: false,
            },
            Leftover {
                at: [e, y + k],
                size: [size[0], far[1] - y - k],
                keep: false,
            },
        ],
        cuts: vec![
            cut(1, true, x, [e, e, far[0], far[1]]),
            cut(2, false, y, [e, e, x, far[1]]),
        ],
    });
    let keep = |l: &Leftover| {
        let (a, b) = (l.size[0].min(l.size[1]), l.size[0].max(l.size[1]));
        a >= Length::inches(6) && b >= Length::inches(12)
            || a >= Length::inches(3) && b >= Length::inches(24)
    };
    for l in &mut p.sheets[1].left {
        l.keep = keep(l);
    }
    p.settings[0].pieces.push(SettingPiece {
        sheet: 1,
        copy: 0,
        cut: 0,
        gives: "ends and edges".into(),
    });
    for (n, kind, size, cut) in [
        (4, SettingKind::Stop, size[0], 1),
        (5, SettingKind::Rip, size[1], 2),
    ] {
        let mut s = setting(n, kind, size.units(), &[cut]);
        s.pieces[0].sheet = 1;
        p.settings.push(s);
    }
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
    assert_eq!(check_plan(&limited.0, "custom", &limited.1), Ok(()));
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
    // Five sides need more than two sheets; four do not.
    let tried = |count: u32| {
        move |_: &mut Job, p: &mut Plan| {
            p.items[0].proof = Certificate::Exhaustive {
                pieces: vec![PieceWeight {
                    mark: "L1".into(),
                    count,
                    weight: 1,
                }],
                not_on: 2,
                nodes: 1,
            };
        }
    };
    assert_eq!(faults(tried(5)), vec![]);
    refused!(tried(4), Fault::FalseCertificate { .. });
    refused!(tried(6 + 1), Fault::FalseCertificate { .. });
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
