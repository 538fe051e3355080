//! The survey held against hand reckoning, trade geometry, brute force and planted slips.

use super::overlap::overlaps;
use super::reading::{self, ReadingAt as At};
use super::samples::{Dice, Truth, alcove, inch, taken};
use super::slip::SlipKind;
use super::suspects::suspects;
use super::*;
use crate::model::Opening;
use crate::units::{Length, Tape};

const MARK: Length = Length::in_64(4);

#[test]
fn the_alcove_comes_out_as_reckoned_by_hand() {
    let s = survey(&alcove());
    // By hand: 70 + 1/2 + 3/8; 36 1/8 + 58 5/8; the least depth.
    assert_eq!(s.largest_box.width, Some(inch("70 7/8")));
    assert_eq!(s.largest_box.height, Some(inch("94 3/4")));
    assert_eq!(s.largest_box.depth, Some(inch("24 1/8")));
    assert_eq!(s.smallest_tape.width, Some(inch("71 1/8")));
    assert_eq!(s.smallest_tape.height, Some(inch("95 3/16")));
    assert_eq!(s.smallest_tape.depth, Some(inch("24 1/8")));
    assert_eq!(s.floor_out, Some(inch("7/16")));
    assert_eq!(s.ceiling_out, Some(inch("1/2")));
    // atan(1/8 / 23) = 0.311 and atan(1/2 / 71.12) = 0.403; atan(5/16 / 23) = 0.778.
    let c = s.corner_degrees;
    assert!((c.high_left.unwrap() - 89.286).abs() < 0.003, "{c:?}");
    assert!((c.high_right.unwrap() - 91.181).abs() < 0.003, "{c:?}");
    assert!((c.low_left.unwrap() - 90.049).abs() < 0.003, "{c:?}");
    assert!((c.low_right.unwrap() - 89.056).abs() < 0.003, "{c:?}");
    assert!(s.hangs_together() && s.take_again.is_empty() && s.provisional.is_empty());
    assert_eq!(s.checks.len(), 5);
    for path in [
        "plumb_lines.left_gap[1]",
        "plumb_lines.right_gap[3]",
        "level_line.down_to_floor.middle",
        "tape.depth.right",
    ] {
        assert!(
            s.unchecked.iter().any(|u| u == path),
            "{path} {:?}",
            s.unchecked
        );
    }
}

#[test]
fn an_inch_on_the_diagonal_is_named() {
    let mut o = alcove();
    o.tape.diagonal_up_right = Some(Some(inch("119 5/8")));
    let s = survey(&o);
    assert!(!s.hangs_together());
    assert_eq!(
        s.take_again[0].reading,
        "tape.diagonal.low_left_to_high_right"
    );
    assert!(s.take_again[0].why.starts_with("Exactly 1 inch over"));
    let check = &s.checks.iter().find(|c| !c.agrees).unwrap();
    assert_eq!(check.read, inch("119 5/8"));
    assert!((check.expected - inch("118 5/8")).abs() <= inch("1/64"));
}

#[test]
fn a_reading_not_taken_makes_it_provisional_by_name() {
    let mut o = alcove();
    o.tape.depth[2].1 = None;
    o.plumb_lines.right_gap[4] = None;
    let s = survey(&o);
    assert_eq!(
        s.provisional,
        ["plumb_lines.right_gap[4]", "tape.depth.right"]
    );
    assert!(s.is_provisional());
    assert_eq!(s.largest_box.depth, Some(inch("24 1/4")));
}

#[test]
fn nothing_read_gives_nothing_and_does_not_fall_over() {
    let s = survey(&Opening::default());
    assert_eq!(s.largest_box, BoxSize::default());
    let json = serde_json::to_value(&s).unwrap();
    for key in [
        "largest_box",
        "smallest_tape",
        "corner_degrees",
        "floor_out",
        "ceiling_out",
        "checks",
        "take_again",
        "unchecked",
        "provisional",
    ] {
        assert!(json.get(key).is_some(), "{key}");
    }
}

#[test]
fn walls_lie_straight_between_true_openings_and_no_clean_survey_is_called_wrong() {
    let mut dice = Dice::new(1);
    let n = if std::env::var_os("NOOKWRIGHT_LONG").is_some() {
        10_000
    } else {
        2_000
    };
    for _ in 0..n {
        let truth = Truth::random(&mut dice, 0.5);
        let o = truth.read(MARK);
        let s = survey(&o);
        assert!(s.hangs_together(), "{:?}", s.checks);
        let b = s.largest_box;
        // Brute force on the readings: every gap, every station, both planes.
        let p = &o.plumb_lines;
        let least = |a: &[Option<Length>], b: &[Option<Length>]| {
            a.iter().chain(b).flatten().min().copied().unwrap()
        };
        let width = p.apart.unwrap()
            + least(&p.left_gap, &p.left_gap_back)
            + least(&p.right_gap, &p.right_gap_back);
        let down = o
            .level_line
            .down_to_floor
            .iter()
            .flat_map(|s| [s.front, s.back]);
        let up = o
            .level_line
            .up_to_ceiling
            .iter()
            .flat_map(|s| [s.front, s.back]);
        let height = down.flatten().min().unwrap() + up.flatten().min().unwrap();
        assert_eq!(b.width, Some(width));
        assert_eq!(b.height, Some(height));
        // No wall is crossed by more than the readings' own rounding (half a mark for each of two, and of three across).
        let t = |v: f64| v * 16.0;
        for plane in [&truth.front, &truth.back] {
            let narrow = |l: &[f64]| l.iter().copied().fold(f64::MAX, f64::min);
            let room = truth.apart + narrow(&plane.left) + narrow(&plane.right);
            assert!(t(width.as_inches()) <= t(room) + 1.5 + 1e-9);
            let tall = narrow(&plane.floor) + narrow(&plane.ceiling);
            assert!(t(height.as_inches()) <= t(tall) + 1.0 + 1e-9);
        }
    }
}

/// Takes the back plane's readings away.
fn front_only(o: &mut Opening) {
    o.plumb_lines.left_gap_back.clear();
    o.plumb_lines.right_gap_back.clear();
    let level = &mut o.level_line;
    for s in level
        .down_to_floor
        .iter_mut()
        .chain(&mut level.up_to_ceiling)
    {
        s.back = None;
    }
}

/// Plants one slip; `None` where that kind does not apply to the reading.
fn slipped(o: &Opening, at: At, kind: SlipKind, up: bool) -> Option<Length> {
    let read = reading::get(o, at)?;
    let by = |l: Length| Some(if up { read + l } else { read - l });
    let part = read % Length::INCH;
    match kind {
        SlipKind::OneInch => by(Length::INCH),
        SlipKind::OneFoot => by(Length::FOOT),
        SlipKind::TenMm => by(Length::mm(10)),
        SlipKind::TapeCase => by(inch("3")),
        SlipKind::SwappedDigits => {
            let whole = read / Length::INCH;
            let turned = whole % 10 * 10 + whole / 10 % 10 + whole / 100 * 100;
            (whole >= 10 && turned != whole).then(|| read + Length::INCH * (turned - whole))
        }
        SlipKind::FractionDoubled => {
            (part.is_positive() && part * 2 < Length::INCH).then(|| read + part)
        }
        SlipKind::FractionHalved => part.is_positive().then(|| read - part / 2),
        SlipKind::LeftForRight => match at {
            At::Gap(side, face, i) => {
                let turned = if side == Side::Left {
                    Side::Right
                } else {
                    Side::Left
                };
                reading::get(o, At::Gap(turned, face, i)).filter(|v| *v != read)
            }
            _ => None,
        },
    }
}

const KINDS: [SlipKind; 8] = [
    SlipKind::OneInch,
    SlipKind::OneFoot,
    SlipKind::TenMm,
    SlipKind::SwappedDigits,
    SlipKind::FractionDoubled,
    SlipKind::FractionHalved,
    SlipKind::LeftForRight,
    SlipKind::TapeCase,
];

#[derive(Default, Clone, Copy)]
struct Tally {
    planted: u32,
    seen: u32,
    first: u32,
    listed: u32,
}

impl Tally {
    fn add(&mut self, o: &Opening, at: At) {
        self.planted += 1;
        let found = suspects(o, &overlaps(o, MARK), Tape::default());
        self.seen += u32::from(!found.is_empty());
        let names = |s: &Suspect| s.readings.iter().any(|r| r.0 == at);
        self.first += u32::from(found.first().is_some_and(names));
        self.listed += u32::from(found.iter().any(names));
    }
    fn share(part: u32, of: u32) -> f64 {
        100.0 * f64::from(part) / f64::from(of.max(1))
    }
}

#[test]
fn a_slip_of_an_inch_or_more_is_named_first() {
    let long = std::env::var_os("NOOKWRIGHT_LONG").is_some();
    let n = if long { 2_000 } else { 250 };
    // How far walls bend at a station, and whether the back plane was read too.
    for (wander, both_planes) in [
        (0.2, true),
        (0.5, true),
        (0.75, true),
        (0.2, false),
        (0.5, false),
    ] {
        let mut dice = Dice::new(7);
        let mut by_kind = [Tally::default(); KINDS.len()];
        let (mut large, mut small, mut odd, mut pair) = (
            Tally::default(),
            Tally::default(),
            Tally::default(),
            std::collections::BTreeMap::<String, Tally>::new(),
        );
        for _ in 0..n {
            let mut o = Truth::random(&mut dice, wander).read(MARK);
            if !both_planes {
                front_only(&mut o);
            }
            let clean = overlaps(&o, MARK);
            let overlapped: Vec<At> = taken(&o)
                .into_iter()
                .filter(|at| clean.iter().any(|c| c.would_show(*at)))
                .collect();
            let at = overlapped[dice.below(overlapped.len())];
            let kind = dice.below(KINDS.len());
            let up = dice.below(2) == 0;
            let mut wrong = o.clone();
            if let Some(v) = slipped(&o, at, KINDS[kind], up) {
                reading::put(&mut wrong, at, v);
                by_kind[kind].add(&wrong, at);
                if (v - reading::get(&o, at).unwrap()).abs() >= Length::INCH {
                    large.add(&wrong, at);
                    let group = format!("{at:?}").split('(').next().unwrap().to_owned();
                    pair.entry(group).or_default().add(&wrong, at);
                }
            }
            // A slip without a name, from 1 to 6 inches.
            let by = MARK * (16 + dice.below(80) as i64) * if up { 1 } else { -1 };
            reading::put(&mut wrong, at, reading::get(&o, at).unwrap() + by);
            odd.add(&wrong, at);
            let by = inch("1/4") * if up { 1 } else { -1 };
            reading::put(&mut wrong, at, reading::get(&o, at).unwrap() + by);
            small.add(&wrong, at);
        }
        let show = |name: &str, t: &Tally| {
            println!(
                "wander {wander} both planes {both_planes} {name:16} planted {:4} seen {:5.1} first {:5.1} listed {:5.1}",
                t.planted,
                Tally::share(t.seen, t.planted),
                Tally::share(t.first, t.planted),
                Tally::share(t.listed, t.planted)
            );
        };
        for (kind, t) in KINDS.iter().zip(&by_kind) {
            show(&format!("{kind:?}"), t);
        }
        for (group, t) in &pair {
            show(group, t);
        }
        show("1 in and more", &large);
        show("without a name", &odd);
        show("quarter inch", &small);
        assert!(Tally::share(large.listed, large.planted) >= 99.0);
        // One plane alone leaves less to tell a gap from a width by.
        let wanted = if both_planes { 95.0 } else { 90.0 };
        assert!(Tally::share(large.first, large.planted) >= wanted);
    }
}
