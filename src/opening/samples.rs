//! Openings for the tests of this room: one worked by hand, and random true ones read with a tape.

use super::reading::{self, ReadingAt as At};
use super::shape::{Face, Side};
use crate::model::{
    BuildRules, LevelLine, Opening, PlumbLines, Reading, Run, RunUnits, Station, TapeReadings,
    WallSide, WayIn,
};
use crate::units::Length;

/// Reads `23 1/4`, `-1/8`, `7/16` in inches.
pub(crate) fn inch(text: &str) -> Length {
    let (sign, text) = text.strip_prefix('-').map_or((1, text), |t| (-1, t));
    let mut sum = 0;
    for word in text.split(' ') {
        let (n, d) = word.split_once('/').unwrap_or((word, "1"));
        sum += n.parse::<i64>().unwrap() * 64 / d.parse::<i64>().unwrap();
    }
    Length::in_64(sum * sign)
}

pub(crate) fn inches(texts: &[&str]) -> Vec<Length> {
    texts.iter().map(|t| inch(t)).collect()
}

pub(crate) fn read(texts: &[&str]) -> Vec<Option<Length>> {
    texts.iter().map(|t| Some(inch(t))).collect()
}

/// Three stations by name, front only.
pub(crate) fn stations(list: &str, texts: [&str; 3]) -> Vec<Station> {
    both_planes(list, texts.map(|t| Some(inch(t))), [None; 3])
}

/// Readings left, middle and right from the level line, in front and at the back.
pub(crate) fn both_planes(list: &str, front: [Reading; 3], back: [Reading; 3]) -> Vec<Station> {
    let each = ["left", "middle", "right"]
        .iter()
        .zip(front.into_iter().zip(back));
    each.map(|(name, (front, back))| Station {
        path: format!("level_line.{list}.{name}"),
        from_left: None,
        name: (*name).into(),
        front,
        back,
    })
    .collect()
}

/// An alcove in plaster that leans, worked by hand in the tests: the readings of the build notes' worked job.
pub(crate) fn alcove() -> Opening {
    Opening {
        name: "linen alcove".into(),
        walls: "plaster".into(),
        level_line: LevelLine {
            down_to_floor: stations("down_to_floor", ["36 1/8", "36 3/8", "36 9/16"]),
            up_to_ceiling: stations("up_to_ceiling", ["59 1/8", "58 15/16", "58 5/8"]),
        },
        plumb_lines: PlumbLines {
            apart: Some(inch("70")),
            height: inches(&["0", "24", "48", "72", "95"]),
            left_gap: read(&["1", "7/8", "1/2", "5/8", "3/4"]),
            right_gap: read(&["1 1/8", "7/8", "13/16", "11/16", "3/8"]),
            ..PlumbLines::default()
        },
        tape: TapeReadings {
            width_at: inches(&["0", "48", "95"]),
            width: read(&["72 1/8", "71 5/16", "71 1/8"]),
            diagonal_up_right: Some(Some(inch("118 5/8"))),
            diagonal_up_left: Some(Some(inch("119 11/16"))),
            depth: vec![
                ("left".into(), Some(inch("24 1/2"))),
                ("middle".into(), Some(inch("24 1/4"))),
                ("right".into(), Some(inch("24 1/8"))),
            ],
            height: Vec::new(),
        },
        way_in: vec![
            WayIn {
                what: "garden door".into(),
                width: Some(inch("30 1/2")),
                height: Some(inch("79")),
                turn: None,
                not_taken: Vec::new(),
            },
            WayIn {
                what: "passage ceiling".into(),
                width: None,
                height: Some(inch("95")),
                turn: None,
                not_taken: Vec::new(),
            },
        ],
        ..Opening::default()
    }
}

/// Small, fast, repeatable random numbers (xorshift with a multiplier).
pub(crate) struct Dice(u64);

impl Dice {
    pub(crate) fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1)
    }
    pub(crate) fn next(&mut self) -> u64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        self.0.wrapping_mul(0x2545_f491_4f6c_dd1d)
    }
    pub(crate) fn below(&mut self, n: usize) -> usize {
        ((self.next() >> 33) as usize) % n
    }
    /// Between -1 and 1.
    pub(crate) fn swing(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1_u64 << 53) as f64 * 2.0 - 1.0
    }
}

/// One upright plane of a true opening, in inches; walls bend only at the heights.
#[derive(Clone)]
pub(crate) struct TruePlane {
    pub(crate) left: Vec<f64>,
    pub(crate) right: Vec<f64>,
    pub(crate) floor: [f64; 3],
    pub(crate) ceiling: [f64; 3],
}

/// A true opening: walls as broken lines, floor and ceiling sloped, front and back.
#[derive(Clone)]
pub(crate) struct Truth {
    pub(crate) apart: f64,
    pub(crate) height: Vec<f64>,
    pub(crate) front: TruePlane,
    pub(crate) back: TruePlane,
    pub(crate) depth: [f64; 3],
}

pub(crate) fn line(x: &[f64], y: &[f64], at: f64) -> f64 {
    let i = x.iter().filter(|v| **v < at).count().clamp(1, x.len() - 1);
    y[i - 1] + (y[i] - y[i - 1]) * (at - x[i - 1]) / (x[i] - x[i - 1])
}

impl Truth {
    /// `wander` is how far a wall bends at a station, in inches.
    pub(crate) fn random(dice: &mut Dice, wander: f64) -> Self {
        let apart = (48.0 + 24.0 * (dice.swing() + 1.0)).round();
        let tall = 88.0 + 5.0 * (dice.swing() + 1.0);
        let n = 4 + dice.below(4);
        let height: Vec<f64> = (0..=n)
            .map(|i| (tall * i as f64 / n as f64).floor())
            .collect();
        let wall = |dice: &mut Dice| -> Vec<f64> {
            let lean = dice.swing() * 0.75;
            height
                .iter()
                .map(|h| 1.5 + lean * h / tall + wander * dice.swing())
                .collect()
        };
        let (left, right) = (wall(dice), wall(dice));
        let level = |dice: &mut Dice, mean: f64| {
            let slope = dice.swing() * 0.5;
            [0.0, 1.0, 2.0].map(|i: f64| mean + slope * (i - 1.0) + 0.12 * dice.swing())
        };
        let floor = level(dice, 36.5);
        let ceiling = level(dice, tall - 36.5 + 0.5);
        let twisted = |dice: &mut Dice, list: &[f64]| -> Vec<f64> {
            let (a, b) = (dice.swing() * 0.3, dice.swing() * 0.3);
            let last = (list.len() - 1) as f64;
            list.iter()
                .enumerate()
                .map(|(i, v)| v + a + (b - a) * i as f64 / last + 0.15 * dice.swing())
                .collect()
        };
        let back = TruePlane {
            left: twisted(dice, &left),
            right: twisted(dice, &right),
            floor: twisted(dice, &floor).try_into().unwrap(),
            ceiling: twisted(dice, &ceiling).try_into().unwrap(),
        };
        let depth = [0.0; 3].map(|_: f64| 24.0 + dice.swing());
        Self {
            apart,
            height,
            front: TruePlane {
                left,
                right,
                floor,
                ceiling,
            },
            back,
            depth,
        }
    }

    /// The wall's `x` at `y`, the height being up from the floor at that side's plumb line.
    fn wall_x(&self, p: &TruePlane, side: Side, y: f64) -> f64 {
        let h = |zero: f64| y + zero;
        match side {
            Side::Left => -line(&self.height, &p.left, h(self.floor_at(p, 0.0))),
            Side::Right => {
                self.apart + line(&self.height, &p.right, h(self.floor_at(p, self.apart)))
            }
        }
    }
    /// Where the level line's three stations stand: at the walls, and halfway.
    fn places(&self, p: &TruePlane, h: f64) -> [f64; 3] {
        let l = -line(&self.height, &p.left, h);
        let r = self.apart + line(&self.height, &p.right, h);
        [l, f64::midpoint(l, r), r]
    }
    fn floor_at(&self, p: &TruePlane, x: f64) -> f64 {
        line(&self.places(p, 0.0), &p.floor, x)
    }
    fn corner(&self, p: &TruePlane, side: Side, low: bool) -> (f64, f64) {
        let i = if side == Side::Left { 0 } else { 2 };
        let y = if low { -p.floor[i] } else { p.ceiling[i] };
        (self.wall_x(p, side, y), y)
    }

    /// The full reading sheet: both planes, a tape width at every height, both diagonals, rounded to the mark.
    pub(crate) fn read(&self, mark: Length) -> Opening {
        let to_mark = |v: f64| {
            let marks = (v * Length::INCH.units() as f64 / mark.units() as f64).round();
            mark * marks as i64
        };
        let some = |v: &f64| Some(to_mark(*v));
        let level = |list: &str, front: &[f64; 3], back: &[f64; 3]| {
            let read = |v: &[f64; 3]| [0, 1, 2].map(|i| some(&v[i]));
            both_planes(list, read(front), read(back))
        };
        let width = |h: &f64| {
            let y = h - self.floor_at(&self.front, 0.0);
            let x = |side| self.wall_x(&self.front, side, y);
            Some(to_mark(x(Side::Right) - x(Side::Left)))
        };
        let diagonal = |a, b| {
            let (p, q) = (
                self.corner(&self.front, a, true),
                self.corner(&self.front, b, false),
            );
            Some(Some(to_mark((p.0 - q.0).hypot(p.1 - q.1))))
        };
        let heights: Vec<Length> = self
            .height
            .iter()
            .map(|h| Length::inches(*h as i64))
            .collect();
        Opening {
            level_line: LevelLine {
                down_to_floor: level("down_to_floor", &self.front.floor, &self.back.floor),
                up_to_ceiling: level("up_to_ceiling", &self.front.ceiling, &self.back.ceiling),
            },
            plumb_lines: PlumbLines {
                apart: some(&self.apart),
                height: heights.clone(),
                left_gap: self.front.left.iter().map(some).collect(),
                right_gap: self.front.right.iter().map(some).collect(),
                left_gap_back: self.back.left.iter().map(some).collect(),
                right_gap_back: self.back.right.iter().map(some).collect(),
            },
            tape: TapeReadings {
                width_at: heights,
                width: self.height.iter().map(width).collect(),
                diagonal_up_right: diagonal(Side::Left, Side::Right),
                diagonal_up_left: diagonal(Side::Right, Side::Left),
                depth: ["left", "middle", "right"]
                    .iter()
                    .zip(&self.depth)
                    .map(|(n, d)| ((*n).to_owned(), some(d)))
                    .collect(),
                height: Vec::new(),
            },
            ..Opening::default()
        }
    }
}

/// Every reading of the front plane and the tape that has a value.
pub(crate) fn taken(o: &Opening) -> Vec<At> {
    reading::all(o)
        .into_iter()
        .filter(|at| reading::get(o, *at).is_some())
        .filter(|at| !matches!(at, At::Gap(_, Face::Back, _)))
        .collect()
}

/// An empty run with the usual gaps.
pub(crate) fn run(route: &str) -> Run {
    Run {
        route: route.into(),
        wall: WallSide::Back,
        from_left: None,
        through: None,
        chosen: false,
        base_height: inch("3 3/4"),
        base_given: true,
        base_setback: Length::ZERO,
        box_height: None,
        box_depth: None,
        side_gap_least: inch("1/2"),
        head_gap_least: inch("1 1/2"),
        material: None,
        back: None,
        joint: "rabbet".into(),
        face: "banded".into(),
        build: BuildRules::default(),
        boxes: Vec::new(),
        units: RunUnits::default(),
        extras: Vec::new(),
    }
}
