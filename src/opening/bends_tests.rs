//! Walls that bend between the readings, where nobody measured: how often the largest box then meets plaster, and how much wood to
//! scribe away would have covered it. `NOOKWRIGHT_LONG=1` tries ten thousand openings of each kind.

use super::samples::{Dice, Truth, inch};
use super::survey;
use crate::units::Length;

/// How far, in inches, the truth stands into what the readings left free on one side; nought or less where it does not.
fn into(dice: &mut Dice, planes: [&[f64]; 2], height: &[f64], read: Length, bend: f64) -> f64 {
    let mut least = f64::MAX;
    for plane in planes {
        for i in 1..plane.len() {
            // One more bend between two readings, anywhere but next to them.
            let share = 0.5 + 0.4 * dice.swing();
            assert!(height[i] > height[i - 1]);
            let straight = plane[i - 1] + (plane[i] - plane[i - 1]) * share;
            least = least.min(plane[i]).min(plane[i - 1]);
            least = least.min(straight + bend * dice.swing());
        }
    }
    read.as_inches() - least
}

#[test]
fn bends_between_readings_cross_the_box_by_no_more_than_they_bend() {
    let n = if std::env::var_os("NOOKWRIGHT_LONG").is_some() {
        10_000
    } else {
        1_000
    };
    // Half a mark: what a reading to the nearest 1/16 may be out.
    const ROUNDING: f64 = 1.0 / 32.0;
    for bend in [0.0, 1.0 / 16.0, 0.125, 0.25] {
        let mut dice = Dice::new(11);
        let mut crossings = Vec::new();
        for _ in 0..n {
            let truth = Truth::random(&mut dice, 0.5);
            let o = truth.read(inch("1/16"));
            let s = survey(&o);
            let p = &o.plumb_lines;
            let least = |a: &[Option<Length>], b: &[Option<Length>]| {
                a.iter().chain(b).flatten().min().copied().unwrap()
            };
            let left = least(&p.left_gap, &p.left_gap_back);
            let right = least(&p.right_gap, &p.right_gap_back);
            // The box stands between these two.
            assert_eq!(s.largest_box.width, p.apart.map(|a| a + left + right));
            let walls = [
                ([&truth.front.left, &truth.back.left], left),
                ([&truth.front.right, &truth.back.right], right),
            ];
            let worst = walls.map(|([front, back], read)| {
                into(&mut dice, [front, back], &truth.height, read, bend)
            });
            crossings.push(worst[0].max(worst[1]));
        }
        crossings.sort_by(f64::total_cmp);
        let crossed = crossings.iter().filter(|c| **c > ROUNDING + 1e-9).count();
        let covers = |share: f64| crossings[((n as f64 * share) as usize).min(n - 1)].max(0.0);
        println!(
            "bends of {bend} in between readings: {:.1} % cross by more than rounding; allowance that covers 95 %: {:.3} in, 99 %: {:.3} in, all: {:.3} in",
            100.0 * crossed as f64 / n as f64,
            covers(0.95),
            covers(0.99),
            covers(1.0)
        );
        if bend == 0.0 {
            assert_eq!(crossed, 0);
        } else {
            assert!(crossed > 0, "a bend nobody measured is seen to matter");
        }
        assert!(covers(1.0) <= bend + ROUNDING + 1e-9);
    }
}
