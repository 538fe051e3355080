//! A valid job and plan made by hand, and the way to refuse a change to them.

use crate::model::certificate::*;
use crate::model::*;
use crate::referee::{Fault, check_plan};
use crate::units::{Cents, Length, PriceRange, Tape};
use sha2::Digest;

pub(super) fn u(units: i64) -> Length {
    Length::from_units(units)
}

pub(super) fn row(item: &str, kind: StockKind, size: [Option<Length>; 2], cents: i64) -> StockRow {
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

pub(super) fn part(mark: &str, how_many: u32, size: PartSize, item: &str) -> Part {
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
pub(super) fn job() -> Job {
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

pub(super) fn cut(n: u32, across: bool, at: i64, of: [i64; 4]) -> Cut {
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
pub(super) fn sheet() -> SheetPlan {
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

pub(super) fn result(item: &str, sheets: u32, cents: i64, proof: Certificate) -> ItemResult {
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

pub(super) fn pattern(mark: &str, count: u32, holds: &[(&str, Option<&str>, i64)]) -> Certificate {
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

pub(super) fn setting(n: u32, kind: SettingKind, size: i64, cuts: &[u32]) -> Setting {
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
                // A stop frees the part; what comes off the fence is a strip.
                gives: if kind == SettingKind::Stop {
                    "L1"
                } else {
                    "strip"
                }
                .into(),
            })
            .collect(),
    }
}

pub(super) fn plan() -> Plan {
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

/// A plan with its number: eight hexadecimal digits of the SHA-256 of its JSON with the number left empty.
pub(super) fn numbered(mut plan: Plan) -> Plan {
    plan.plan_number.clear();
    let json = serde_json::to_string(&plan).expect("a plan is JSON");
    let digest = sha2::Sha256::digest(json.as_bytes());
    let hex: String = digest.iter().map(|b| format!("{b:02X}")).collect();
    plan.plan_number = format!("{}-{}", &hex[..4], &hex[4..8]);
    plan
}

/// The faults of a plan after a change to it. It is numbered anew, unless the change was to its number.
pub(super) fn faults(change: impl FnOnce(&mut Job, &mut Plan)) -> Vec<Fault> {
    let (mut job, mut plan) = (job(), plan());
    let number = plan.plan_number.clone();
    change(&mut job, &mut plan);
    if plan.plan_number == number {
        plan = numbered(plan);
    }
    check_plan(&job, "custom", &plan).err().unwrap_or_default()
}

/// Puts a small part on the rack piece: 11 7/8 x 20 of its 29 3/4 x 11 3/4.
pub(super) fn on_the_rack(j: &mut Job, p: &mut Plan) {
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
    for (n, kind, size, cut, gives) in [
        (4, SettingKind::Stop, size[0], 1, "strip"),
        (5, SettingKind::Rip, size[1], 2, "S1"),
    ] {
        let mut s = setting(n, kind, size.units(), &[cut]);
        s.pieces[0].sheet = 1;
        s.pieces[0].gives = gives.into();
        p.settings.push(s);
    }
}

/// Says that a change is refused, for what, and in a whole sentence.
macro_rules! refused {
    ($change:expr, $($fault:tt)+) => {{
        let found = crate::referee::tests::made::faults($change);
        assert!(found.iter().any(|f| matches!(f, $($fault)+)), "{found:?}");
        for f in &found {
            let sentence = f.to_string();
            assert!(!sentence.is_empty() && !sentence.contains('{'), "{sentence}");
        }
    }};
}
pub(super) use refused;
