//! Orders of work on random layouts, followed cut by cut with a follower of its own.

use super::{CautionKind, OrderRules, SawCaution, cautions, order_work, unmatched};
use crate::model::{Cut, Leftover, Place, SawAt, Setting, SettingKind, SheetPlan};
use crate::units::{Length, Tape};
use proptest::prelude::*;
use std::collections::BTreeMap;

const KERF: Length = Length::in_64(8);

/// Splits a piece at random into strips of few sizes, so that settings can be shared.
struct Maker {
    seed: u64,
    sheet: SheetPlan,
}

impl Maker {
    fn roll(&mut self, n: u64) -> u64 {
        self.seed = self
            .seed
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.seed >> 33) % n
    }

    fn split(&mut self, rect: [Length; 4], across: bool, depth: u32) {
        let axis = usize::from(!across);
        let long = rect[axis + 2] - rect[axis];
        if depth == 0 || long < Length::inches(4) || self.roll(5) == 0 {
            let (at, size) = ([rect[0], rect[1]], [rect[2] - rect[0], rect[3] - rect[1]]);
            if self.roll(6) == 0 {
                self.sheet.left.push(Leftover {
                    at,
                    size,
                    keep: false,
                });
            } else {
                let mark = format!("P{}", self.sheet.places.len() + 1);
                self.sheet.places.push(Place {
                    mark,
                    at,
                    size,
                    turned: false,
                });
            }
            return;
        }
        let size =
            Length::inches([3, 5, 8, 12, 20][self.roll(5) as usize]).min(long - Length::INCH);
        let mut low = rect;
        let mut high = rect;
        low[axis + 2] = rect[axis] + size;
        high[axis] = rect[axis] + size + KERF;
        let n = self.sheet.cuts.len() as u32 + 1;
        self.sheet.cuts.push(Cut {
            n,
            across,
            at: rect[axis] + size,
            of: rect,
            kerf: None,
            saw: None,
        });
        self.split(low, !across, depth - 1);
        let turn = self.roll(3) == 0;
        if high[axis] < high[axis + 2] {
            self.split(high, across != turn, depth - u32::from(turn));
        }
    }
}

fn layouts(seed: u64, count: usize) -> Vec<SheetPlan> {
    let mut maker_seed = seed;
    (0..count)
        .map(|i| {
            let mut maker = Maker {
                seed: maker_seed,
                sheet: SheetPlan {
                    item: "PLY".into(),
                    rack: None,
                    count: 1 + (i as u32 % 2),
                    size: [Length::inches(96), Length::inches(48)],
                    clean_edge: [KERF; 4],
                    places: vec![],
                    left: vec![],
                    cuts: vec![],
                },
            };
            let far = [Length::inches(96) - KERF, Length::inches(48) - KERF];
            let across = maker.roll(2) == 0;
            maker.split([KERF, KERF, far[0], far[1]], across, 4);
            maker_seed = maker.seed;
            maker.sheet
        })
        .collect()
}

fn rules() -> OrderRules {
    OrderRules {
        item: "PLY".into(),
        kerf: KERF,
        first_setting: 1,
        narrowest_safe_rip: Length::in_64(96),
        largest_alone: [Length::inches(48); 2],
        ..OrderRules::default()
    }
}

/// Follows the page line by line; every cut's piece must be free, and every cut must be made once.
fn follow(sheets: &[SheetPlan], settings: &[Setting]) {
    let mut free: Vec<Vec<[Length; 4]>> = (sheets.iter())
        .map(|s| {
            let c = s.clean_edge;
            vec![[c[0], c[2], s.size[0] - c[1], s.size[1] - c[3]]]
        })
        .collect();
    let mut made = vec![0; sheets.len()];
    for s in settings.iter().filter(|s| s.kind != SettingKind::Clean) {
        for p in &s.pieces {
            let sheet = &sheets[p.sheet];
            made[p.sheet] += 1;
            assert_eq!(
                p.cut, made[p.sheet],
                "cuts of a sheet come in their own order"
            );
            let cut = &sheet.cuts[p.cut as usize - 1];
            assert_eq!(cut.n, p.cut);
            assert_eq!(cut.across, s.kind == SettingKind::Stop);
            let at = free[p.sheet]
                .iter()
                .position(|r| *r == cut.of)
                .expect("the piece is free");
            let piece = free[p.sheet].swap_remove(at);
            let axis = usize::from(!cut.across);
            let (low, high) = (cut.at - piece[axis], piece[axis + 2] - cut.at - KERF);
            assert!(
                s.size == low || s.size == high,
                "the fence is set to one of the two sides"
            );
            let mut a = piece;
            a[axis + 2] = cut.at;
            free[p.sheet].push(a);
            if high.is_positive() {
                let mut b = piece;
                b[axis] = cut.at + KERF;
                free[p.sheet].push(b);
            }
        }
    }
    for (i, s) in sheets.iter().enumerate() {
        assert_eq!(made[i] as usize, s.cuts.len());
        let mut want: Vec<[Length; 4]> = (s.places.iter().map(|p| (p.at, p.size)))
            .chain(s.left.iter().map(|l| (l.at, l.size)))
            .map(|(a, z)| [a[0], a[1], a[0] + z[0], a[1] + z[1]])
            .collect();
        want.sort_unstable();
        free[i].sort_unstable();
        assert_eq!(free[i], want, "what comes free is what was planned");
    }
}

/// Lines of the plain way: sheet by sheet, cut by cut, the fence set anew whenever the size changes.
fn plain_lines(sheets: &[SheetPlan]) -> usize {
    let mut last = None;
    let mut lines = 0;
    for c in sheets.iter().flat_map(|s| &s.cuts) {
        let now = (c.across, c.at - c.of[usize::from(!c.across)]);
        if last != Some(now) {
            lines += 1;
            last = Some(now);
        }
    }
    lines
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]
    #[test]
    fn every_order_can_be_followed_and_is_no_longer_than_the_plain_one(seed: u64, count in 1usize..8) {
        let mut sheets = layouts(seed, count);
        let plain = plain_lines(&sheets);
        let before = sheets.clone();
        let settings = order_work(&mut sheets, &rules());
        follow(&sheets, &settings);
        for (a, b) in sheets.iter().zip(&before) {
            prop_assert_eq!(&a.places, &b.places);
            prop_assert_eq!(&a.left, &b.left);
        }
        let lines = settings.iter().filter(|s| s.kind != SettingKind::Clean).count();
        prop_assert!(lines <= plain, "{} lines against {}", lines, plain);
        let mut seen = Vec::new();
        for s in settings.iter().filter(|s| s.kind != SettingKind::Clean) {
            prop_assert_eq!(s.again, seen.contains(&(s.kind, s.size)));
            seen.push((s.kind, s.size));
        }
    }
}

/// The plain two-strip sheet: both long strips at one fence setting, then all their parts at one stop.
#[test]
fn equal_strips_share_one_setting() {
    let (x, y) = (Length::inches(96), Length::inches(48));
    let edge = Length::in_64(8);
    let strip = Length::in_64(23 * 64 + 16);
    let part = Length::inches(88);
    let second = edge + strip + KERF;
    let place = |mark: &str, at: Length| Place {
        mark: mark.into(),
        at: [edge, at],
        size: [part, strip],
        turned: false,
    };
    let cut = |n, across, at, of| Cut {
        n,
        across,
        at,
        of,
        kerf: None,
        saw: None,
    };
    let (x1, y1) = (x - edge, y - edge);
    let rest = edge + part + KERF;
    let mut sheets = vec![SheetPlan {
        item: "PLY".into(),
        rack: None,
        count: 3,
        size: [x, y],
        clean_edge: [edge; 4],
        places: vec![place("L1", edge), place("L1", second)],
        left: [edge, second]
            .map(|at| Leftover {
                at: [rest, at],
                size: [x1 - rest, strip],
                keep: true,
            })
            .into_iter()
            .chain([Leftover {
                at: [edge, second + strip + KERF],
                size: [x1 - edge, y1 - second - strip - KERF],
                keep: false,
            }])
            .collect(),
        cuts: vec![
            cut(1, false, edge + strip, [edge, edge, x1, y1]),
            cut(2, true, edge + part, [edge, edge, x1, edge + strip]),
            cut(3, false, second + strip, [edge, second, x1, y1]),
            cut(4, true, edge + part, [edge, second, x1, second + strip]),
        ],
    }];
    let settings = order_work(&mut sheets, &rules());
    follow(&sheets, &settings);
    let lines: Vec<_> = settings
        .iter()
        .map(|s| (s.n, s.kind, s.size, s.pieces.len(), s.again))
        .collect();
    assert_eq!(
        lines,
        vec![
            (1, SettingKind::Clean, edge, 1, false),
            (2, SettingKind::Rip, strip, 2, false),
            (3, SettingKind::Stop, part, 2, false),
        ]
    );
    assert_eq!(settings[2].pieces[0].gives, "L1");
    let named = cautions(&sheets, &settings, &rules());
    // Every cut is made on a piece longer than 48 in, and that is said once for all three lines, the whole sheet named.
    assert_eq!(named.len(), 1);
    assert_eq!(named[0].kind, CautionKind::TwoPeople(sheets[0].size));
    assert_eq!(named[0].settings, vec![1, 2, 3]);
    let made: u32 = settings
        .iter()
        .map(|s| s.pieces.len() as u32 * sheets[0].count)
        .sum();
    assert_eq!(named[0].times, made);
}

/// Three narrow strips side by side, one size each: the narrowest safe rip is named, the widest comes first.
#[test]
fn narrow_rips_come_last_and_are_named() {
    let (x1, y1) = (Length::inches(30), Length::inches(20));
    let zero = Length::ZERO;
    let sizes = [Length::INCH, Length::inches(12), Length::inches(3)];
    let mut at = zero;
    let (mut places, mut cuts) = (vec![], vec![]);
    for (i, s) in sizes.into_iter().enumerate() {
        places.push(Place {
            mark: format!("S{i}"),
            at: [zero, at],
            size: [x1, s],
            turned: false,
        });
        cuts.push(Cut {
            n: i as u32 + 1,
            across: false,
            at: at + s,
            of: [zero, at, x1, y1],
            kerf: None,
            saw: None,
        });
        at = at + s + KERF;
    }
    let left = vec![Leftover {
        at: [zero, at],
        size: [x1, y1 - at],
        keep: false,
    }];
    let mut sheets = vec![SheetPlan {
        item: "PLY".into(),
        rack: None,
        count: 1,
        size: [x1, y1],
        clean_edge: [zero; 4],
        places,
        left,
        cuts,
    }];
    let settings = order_work(&mut sheets, &rules());
    follow(&sheets, &settings);
    let named = cautions(&sheets, &settings, &rules());
    assert_eq!(named.len(), 1);
    assert_eq!(
        (named[0].kind, named[0].size),
        (CautionKind::NarrowRip, Length::INCH)
    );
    assert_eq!(named[0].gives, vec!["S0".to_string()]);
    // Every rip is 30 long: a saw that rips 30 says nothing, one that rips 29 names all of them.
    let with = |most: i64| OrderRules {
        longest_rip: Some(Length::inches(most)),
        ..rules()
    };
    assert_eq!(cautions(&sheets, &settings, &with(30)), named);
    let long = cautions(&sheets, &settings, &with(29));
    let long = long
        .iter()
        .find(|c| matches!(c.kind, CautionKind::LongRip(_)));
    let long = long.expect("named");
    assert_eq!(long.times, 3);
    assert_eq!(
        long.kind,
        CautionKind::LongRip([Length::inches(30), Length::inches(29)])
    );
    // A cut that the store makes is none of hers.
    for c in &mut sheets[0].cuts {
        c.saw = Some(SawAt::Store);
    }
    let kinds = |c: &SawCaution| matches!(c.kind, CautionKind::LongRip(_));
    assert!(!cautions(&sheets, &settings, &with(29)).iter().any(kinds));
}

/// Parts of a match group are cut at the stop, never left over as what remains.
#[test]
fn matched_parts_are_measured() {
    let (part, width) = (Length::inches(20), Length::inches(10));
    let zero = Length::ZERO;
    let x1 = part * 2 + Length::inches(7) + KERF * 2;
    let place = |mark: &str, at: Length, size: Length| Place {
        mark: mark.into(),
        at: [at, zero],
        size: [size, width],
        turned: false,
    };
    let second = part + KERF;
    let third = second + part + KERF;
    let mut sheets = vec![SheetPlan {
        item: "PLY".into(),
        rack: None,
        count: 1,
        size: [x1, width],
        clean_edge: [zero; 4],
        places: vec![
            place("A", zero, part),
            place("B", second, part),
            place("C", third, Length::inches(7)),
        ],
        left: vec![],
        cuts: vec![
            Cut {
                n: 1,
                across: true,
                at: part,
                of: [zero, zero, x1, width],
                kerf: None,
                saw: None,
            },
            Cut {
                n: 2,
                across: true,
                at: second + part,
                of: [second, zero, x1, width],
                kerf: None,
                saw: None,
            },
        ],
    }];
    let matched: BTreeMap<String, u32> = [("A".into(), 1), ("B".into(), 1)].into();
    let settings = order_work(&mut sheets, &OrderRules { matched, ..rules() });
    follow(&sheets, &settings);
    assert_eq!(settings.len(), 1);
    assert_eq!(settings[0].size, part);
    assert_eq!(settings[0].pieces.len(), 2);
}

/// A sheet that is used up by two parts that match leaves the second as what remains: said, and only then.
#[test]
fn a_matching_part_that_only_remains_is_named() {
    let (part, width, zero) = (Length::inches(20), Length::inches(10), Length::ZERO);
    let sheet = |beyond: Length| {
        let x1 = part * 2 + KERF + beyond;
        let cut = |n: u32, from: Length| Cut {
            n,
            across: true,
            at: from + part,
            of: [from, zero, x1, width],
            kerf: None,
            saw: None,
        };
        let place = |mark: &str, from: Length| Place {
            mark: mark.into(),
            at: [from, zero],
            size: [part, width],
            turned: false,
        };
        let second = part + KERF;
        let mut cuts = vec![cut(1, zero)];
        if beyond > KERF {
            cuts.push(cut(2, second));
        }
        SheetPlan {
            item: "PLY".into(),
            rack: None,
            count: 1,
            size: [x1, width],
            clean_edge: [zero; 4],
            places: vec![place("A", zero), place("B", second)],
            left: vec![],
            cuts,
        }
    };
    let matched: BTreeMap<String, u32> = [("A".into(), 1), ("B".into(), 1)].into();
    let rules = OrderRules { matched, ..rules() };
    for (beyond, rests) in [(zero, vec![1]), (Length::inches(7), vec![])] {
        let mut sheets = vec![sheet(beyond)];
        let settings = order_work(&mut sheets, &rules);
        let found = unmatched(&sheets, &settings, &rules);
        assert_eq!(found.iter().map(|u| u.rests).collect::<Vec<_>>(), rests);
        for u in found {
            assert_eq!((u.size, u.settings.len()), (part, 1));
            assert!(
                u.sentence(&Tape::default())
                    .starts_with("Parts that match (A B): 20"),
                "{}",
                u.sentence(&Tape::default())
            );
        }
    }
    // Parts that need not match are not named.
    let mut sheets = vec![sheet(zero)];
    let free = OrderRules {
        matched: BTreeMap::new(),
        ..rules
    };
    let settings = order_work(&mut sheets, &free);
    assert_eq!(unmatched(&sheets, &settings, &free), vec![]);
}
