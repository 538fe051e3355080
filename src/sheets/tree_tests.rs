//! A tree that is changed piece by piece must be what it would be if everything were worked out anew.

use super::instance::Instance;
use super::packing::Packing;
use super::places::SCORES;
use super::problem::Problem;
use super::tree::{Bin, Node};
use crate::model::task::{PieceKind, SheetKind, SheetTask};
use crate::model::{FirstCut, Grain, KeepRule};
use crate::solve::rng::Rng;
use crate::units::Length;

/// Random pieces for one size of sheet; sides up to `times` times 240.
fn task(rng: &mut Rng, times: i64) -> SheetTask {
    let side =
        |rng: &mut Rng, most: usize| times * (20 + rng.index(most) as i64) + rng.index(3) as i64;
    let piece = |n: usize, rng: &mut Rng| PieceKind {
        mark: format!("P{n}"),
        count: 1 + rng.index(3) as u32,
        size: [side(rng, 90), side(rng, 60)].map(Length::from_units),
        grain: if rng.index(2) == 0 {
            Grain::Any
        } else {
            Grain::Length
        },
        match_group: None,
    };
    SheetTask {
        pieces: (0..12).map(|n| piece(n, rng)).collect(),
        kinds: vec![SheetKind {
            item: "SHEET".into(),
            rack: None,
            size: [240 * times, 160 * times].map(Length::from_units),
            clean_edge: [Length::ZERO; 4],
            grain_along_y: false,
            cost: None,
            have: 0,
            at_most: None,
        }],
        kerf: Length::from_units(2),
        turns: None,
        first: FirstCut::Either,
        keep: KeepRule::default(),
        narrowest_safe_rip: Length::ZERO,
    }
}

/// What a tree is, apart from levels, which matter only where turns are limited.
fn as_it_is(bin: &Bin) -> Vec<(u32, bool, [i32; 4], u16, u16)> {
    let what = |n: &Node| {
        let piece = if n.is_leaf() { n.piece() } else { (0, false) };
        (
            piece.0,
            n.is_leaf(),
            [n.w, n.h, n.room_w, n.room_h],
            n.parent,
            n.len,
        )
    };
    bin.nodes.iter().map(what).collect()
}

#[test]
fn a_tree_changed_in_place_is_the_tree_worked_out_anew() {
    let (mut changed, mut fits_nowhere) = (0, 0);
    // The long sides do not go into the 15 bits of a room.
    for (seed, times) in (0..300).map(|s| (s, [1, 7, 1_000_003][s as usize % 3])) {
        let mut rng = Rng::new(&[seed]);
        let task = task(&mut rng, times);
        let instance = Instance::new(&task);
        let problem = Problem {
            standing: false,
            ..Problem::new(&task, &instance)
        };
        assert!(problem.one_each(0));
        let mut packing = Packing::empty(&problem);
        packing.open(&problem, 0);
        let mut known = Vec::new();
        for _ in 0..25 {
            let item = rng.index(problem.items.len()) as u32;
            let bin = &packing.bins[0];
            let places: Vec<_> = bin.places(&problem).collect();
            let ways = &problem.items[item as usize].ways;
            let takes = |p: &_| {
                (0..2)
                    .filter(|w| super::places::fits(p, ways[*w]))
                    .collect::<Vec<_>>()
            };
            let mut fitting = places
                .iter()
                .flat_map(|p| takes(p).into_iter().map(move |w| (*p, w)))
                .collect::<Vec<_>>();
            let scored =
                packing.best_spot(&problem, 0..1, item, SCORES[rng.index(4)], None, &mut 0);
            if packing.bins[0].is_empty() {
                let (place, second) = fitting.remove(0);
                packing.bins[0].insert(
                    &problem,
                    place,
                    Node::leaf(item, second == 1, ways[second]),
                );
                continue;
            }
            let turned = problem.items[item as usize].turns;
            fitting.retain(|(_, w)| *w == 0 || turned);
            assert_eq!(
                scored.is_some(),
                !fitting.is_empty(),
                "{seed}: the quick look sees what fits"
            );
            if fitting.is_empty() {
                known.push(item);
                continue;
            }
            // Nothing that fitted nowhere fits after a piece was put in.
            assert!(!known.contains(&item), "{seed}");
            let (place, second) = fitting[rng.index(fitting.len())];
            let bin = &mut packing.bins[0];
            let mut anew = bin.clone();
            bin.insert(&problem, place, Node::leaf(item, second == 1, ways[second]));
            anew.nodes.clone_from(&bin.nodes);
            anew.refresh(&problem);
            assert_eq!(as_it_is(bin), as_it_is(&anew), "{seed}");
            assert_eq!(
                (&bin.rooms, bin.widest, bin.tallest),
                (&anew.rooms, anew.widest, anew.tallest),
                "{seed}"
            );
            changed += 1;
        }
        fits_nowhere += known.len();
    }
    assert!(
        changed > 1_000 && fits_nowhere > 1_000,
        "{changed} {fits_nowhere}"
    );
}
