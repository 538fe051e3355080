use super::leftovers;
use super::score::{Scales, Score, Taste};
use crate::model::task::{PieceKind, SheetKind, SheetTask};
use crate::model::{FirstCut, Grain, KeepRule};
use crate::sheets::build::multistart;
use crate::sheets::instance::Instance;
use crate::sheets::layout::{lay_out_as_is, with_all_places};
use crate::sheets::problem::{Price, Problem};
use crate::solve::budget::Budget;
use crate::solve::rng::Rng;
use crate::units::Length;
use std::collections::BTreeSet;

/// Pieces (length, width, how many) of one material, in inches, without a kerf.
pub(crate) fn boards(sheet: [i64; 2], pieces: &[(i64, i64, u32)]) -> SheetTask {
    SheetTask {
        kinds: vec![SheetKind {
            item: "PLY".into(),
            rack: None,
            size: sheet.map(Length::inches),
            clean_edge: [Length::ZERO; 4],
            grain_along_y: false,
            cost: None,
            have: 0,
            at_most: None,
        }],
        pieces: (pieces.iter().enumerate())
            .map(|(n, (length, width, count))| PieceKind {
                mark: format!("P{n}"),
                count: *count,
                size: [*length, *width].map(Length::inches),
                grain: Grain::Any,
                match_group: None,
            })
            .collect(),
        kerf: Length::ZERO,
        turns: None,
        first: FirstCut::Either,
        keep: KeepRule::default(),
        narrowest_safe_rip: Length::in_64(96),
    }
}

/// What is counted in the search is what is written: cuts, rips and leftovers of random jobs, with kerf and without,
/// sheets with the grain along either side.
#[test]
fn what_is_counted_is_what_is_written() {
    let mut rng = Rng::new(&[11]);
    let (mut cuts_seen, mut spared) = (0, 0);
    for case in 0..200 {
        let mut side = |most: usize| 3 + rng.index(most) as i64;
        let pieces: Vec<(i64, i64, u32)> =
            (0..12).map(|n| (side(40), side(20), 1 + n % 3)).collect();
        let mut task = boards([96, 48], &pieces);
        task.kerf = Length::in_64(8 * (case % 2));
        task.kinds[0].grain_along_y = case % 3 == 0;
        let instance = Instance::new(&task);
        let problem = Problem::new(&task, &instance);
        let enough = Price {
            money: 0,
            in_hand: 0,
        };
        let packing = multistart(&problem, &mut Budget::new(1), enough);
        assert!(packing.is_whole());
        let taste = Taste::of(&task, &instance);
        let all_places = with_all_places(&problem);
        let bins = leftovers(&all_places, &taste, &packing);
        let mut scales = Scales::new(&all_places, &taste);
        for bin in &bins {
            scales.read(bin, false);
            let tally = scales.tally.clone();
            let layout = lay_out_as_is(&task, &instance, &problem, bin);
            assert_eq!(tally.cuts, layout.cuts.len() as i64, "case {case}");
            let written: BTreeSet<i64> = (layout.cuts.iter().filter(|c| !c.across))
                .map(|c| (c.at - c.of[1]).units())
                .collect();
            let real = |v: i32| i64::from(v) * taste.unit - taste.kerf;
            let counted: BTreeSet<i64> = tally.rips.iter().map(|r| real(*r)).collect();
            // Of strips that fill their piece one is never measured; which one is chosen with the order of work.
            assert!(
                counted.is_subset(&written),
                "case {case}: {counted:?} {written:?}"
            );
            spared += written.len() - counted.len();
            let mut left: Vec<(i64, i64)> = (tally.left.iter())
                .map(|(w, h)| (real(*w), real(*h)))
                .filter(|(w, h)| *w > 0 && *h > 0)
                .collect();
            let mut on_sheet: Vec<(i64, i64)> = (layout.left.iter())
                .map(|l| (l.size[0].units(), l.size[1].units()))
                .map(|(w, h)| {
                    if instance.kinds[bin.kind].transposed {
                        (h, w)
                    } else {
                        (w, h)
                    }
                })
                .collect();
            left.sort_unstable();
            on_sheet.sort_unstable();
            assert_eq!(left, on_sheet, "case {case}");
            cuts_seen += layout.cuts.len();
        }
    }
    assert!(cuts_seen > 2_000, "{cuts_seen}");
    assert!(spared * 20 < cuts_seen, "{spared} of {cuts_seen}");
}

/// Leftovers put into the sheets never make the whole worse than leaving everything to fall off.
#[test]
fn leftovers_only_make_it_better() {
    let mut rng = Rng::new(&[12]);
    let mut better = 0;
    for _ in 0..60 {
        let mut side = |most: usize| 3 + rng.index(most) as i64;
        let pieces: Vec<(i64, i64, u32)> = (0..8).map(|_| (side(40), side(20), 1)).collect();
        let task = boards([96, 48], &pieces);
        let instance = Instance::new(&task);
        let problem = with_all_places(&Problem::new(&task, &instance));
        let enough = Price {
            money: 0,
            in_hand: 0,
        };
        let mut packing = multistart(&problem, &mut Budget::new(1), enough);
        for bin in &mut packing.bins {
            bin.refresh(&problem);
        }
        let taste = Taste::of(&task, &instance);
        let mut scales = Scales::new(&problem, &taste);
        let mut total = |bins: &[crate::sheets::tree::Bin]| {
            let mut score = Score::new(&mut scales, &[]);
            for (i, bin) in bins.iter().enumerate() {
                score.set(i, scales.with_leftovers(bin));
            }
            score.total()
        };
        let plain = total(&packing.bins);
        let filled = total(&leftovers(&problem, &taste, &packing));
        assert!(filled <= plain, "{filled} {plain}");
        better += usize::from(filled < plain);
    }
    assert!(better > 30, "{better}");
}
