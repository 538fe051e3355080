//! How well a reading sits among its neighbours: next stations on the same wall, and the same station in the other plane.
//!
//! Owns a soft judgement, used only to put suspects in order once an overlap has failed. By itself it never calls a reading
//! wrong: a wall may do what it likes. Method: each reading is foretold from its neighbours; how far such foretelling misses in
//! this very survey (its median miss) is the yardstick.

use super::reading::{self, ReadingAt as At};
use super::shape::Face;
use crate::model::Opening;
use crate::units::Length;

/// A guess for a reading and how far such guesses are out, in inches.
#[derive(Clone, Copy, PartialEq, Debug)]
struct Guess {
    value: f64,
    out_by: f64,
}

/// Which readings share a yardstick.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Class {
    Wall,
    Level,
    Other,
}

/// Finest yardstick: guesses are never trusted closer than this, in inches.
const FINEST: f64 = 1.0 / 16.0;
/// Yardstick where the survey has too few readings to make one, in inches.
const UNKNOWN: f64 = 3.0 / 8.0;
/// A miss counts for no more than this, so that one true bump in a wall cannot outweigh an exact overlap.
const MOST: f64 = 12.0;

fn class(at: At) -> Class {
    match at {
        At::Gap(..) => Class::Wall,
        At::Down(..) | At::Up(..) => Class::Level,
        _ => Class::Other,
    }
}

/// The readings in one line with `at`, as (place, reading), and the number of `at` among them.
fn line_of(o: &Opening, at: At) -> Option<(Vec<(f64, At)>, usize)> {
    let stations = |list: &[crate::model::Station], make: &dyn Fn(usize) -> At| {
        let numbered = list.iter().all(|s| s.from_left.is_some());
        list.iter()
            .enumerate()
            .map(|(j, s)| {
                let place = match s.from_left {
                    Some(x) if numbered => x.as_inches(),
                    _ => j as f64,
                };
                (place, make(j))
            })
            .collect::<Vec<_>>()
    };
    match at {
        At::Gap(side, face, i) => {
            let heights = o.plumb_lines.height.iter().enumerate();
            let line = heights
                .map(|(j, h)| (h.as_inches(), At::Gap(side, face, j)))
                .collect();
            Some((line, i))
        }
        At::Down(face, i) => Some((
            stations(&o.level_line.down_to_floor, &|j| At::Down(face, j)),
            i,
        )),
        At::Up(face, i) => Some((
            stations(&o.level_line.up_to_ceiling, &|j| At::Up(face, j)),
            i,
        )),
        _ => None,
    }
}

fn value(o: &Opening, at: At) -> Option<f64> {
    reading::get(o, at).map(Length::as_inches)
}

/// From the next readings on the same line.
fn from_neighbours(o: &Opening, at: At) -> Option<f64> {
    let (line, i) = line_of(o, at)?;
    let here = line.get(i)?.0;
    let read = |j: Option<usize>| {
        let (x, a) = line.get(j?)?;
        Some((*x, value(o, *a)?))
    };
    let (before, after) = (read(i.checked_sub(1)), read(i.checked_add(1)));
    let between = |a: (f64, f64), b: (f64, f64)| {
        let run = b.0 - a.0;
        if run == 0.0 {
            a.1
        } else {
            a.1 + (b.1 - a.1) * (here - a.0) / run
        }
    };
    match (before, after) {
        (Some(a), Some(b)) => Some(between(a, b)),
        (Some(a), None) => Some(end_guess(a, read(i.checked_sub(2)), &between)),
        (None, Some(b)) => Some(end_guess(b, read(i.checked_add(2)), &between)),
        (None, None) => None,
    }
}

/// At an end a wall may go straight on or turn upright: halfway between the two.
fn end_guess(
    near: (f64, f64),
    far: Option<(f64, f64)>,
    between: &dyn Fn((f64, f64), (f64, f64)) -> f64,
) -> f64 {
    far.map_or(near.1, |far| f64::midpoint(near.1, between(far, near)))
}

/// The same place in the other plane.
fn twin(at: At) -> Option<At> {
    let other = |f| {
        if f == Face::Front {
            Face::Back
        } else {
            Face::Front
        }
    };
    match at {
        At::Gap(side, face, i) => Some(At::Gap(side, other(face), i)),
        At::Down(face, i) => Some(At::Down(other(face), i)),
        At::Up(face, i) => Some(At::Up(other(face), i)),
        _ => None,
    }
}

/// From the other plane, carried over by what the two differ at the next stations.
fn from_twin(o: &Opening, at: At) -> Option<f64> {
    let other = value(o, twin(at)?)?;
    let (line, i) = line_of(o, at)?;
    let differences: Vec<f64> = [i.checked_sub(1), i.checked_add(1)]
        .into_iter()
        .flatten()
        .filter_map(|j| {
            let a = line.get(j)?.1;
            Some(value(o, a)? - value(o, twin(a)?)?)
        })
        .collect();
    let mean = if differences.is_empty() {
        0.0
    } else {
        differences.iter().sum::<f64>() / differences.len() as f64
    };
    Some(other + mean)
}

/// The yardsticks of one survey, made once.
pub(crate) struct Likeness {
    wall: [f64; 2],
    level: [f64; 2],
}

impl Likeness {
    /// Measures how far neighbours and twins miss in this survey.
    pub(crate) fn of(o: &Opening) -> Self {
        let places = reading::all(o);
        let miss = |c: Class, guess: &dyn Fn(&Opening, At) -> Option<f64>| {
            let mut misses: Vec<f64> = places
                .iter()
                .filter(|at| class(**at) == c)
                .filter_map(|at| Some((value(o, *at)? - guess(o, *at)?).abs()))
                .collect();
            if misses.len() < 4 {
                return UNKNOWN;
            }
            misses.sort_by(f64::total_cmp);
            // The median of a bell curve's misses is 0.6745 of its standard deviation.
            (misses[misses.len() / 2] / 0.6745).max(FINEST)
        };
        let both = |c| [miss(c, &from_neighbours), miss(c, &from_twin)];
        Self {
            wall: both(Class::Wall),
            level: both(Class::Level),
        }
    }

    fn guess(&self, o: &Opening, at: At) -> Option<Guess> {
        let sticks = match class(at) {
            Class::Wall => self.wall,
            Class::Level => self.level,
            Class::Other => return None,
        };
        let guesses = [from_neighbours(o, at), from_twin(o, at)];
        let (mut weight, mut sum) = (0.0, 0.0);
        for (g, out_by) in guesses.into_iter().zip(sticks) {
            if let Some(g) = g {
                weight += 1.0 / (out_by * out_by);
                sum += g / (out_by * out_by);
            }
        }
        (weight > 0.0).then(|| Guess {
            value: sum / weight,
            out_by: (1.0 / weight).sqrt(),
        })
    }

    /// How much better the reading sits among its neighbours if it were `truth`: above nought speaks for a slip, below against.
    pub(crate) fn gain(&self, o: &Opening, at: At, truth: Length) -> f64 {
        let (Some(read), Some(guess)) = (value(o, at), self.guess(o, at)) else {
            return 0.0;
        };
        let cost = |v: f64| {
            let z = (v - guess.value) / guess.out_by;
            (z * z / 2.0).min(MOST)
        };
        cost(read) - cost(truth.as_inches())
    }
}
