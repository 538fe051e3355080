//! The sentence beside a number of sheets: made from the certificate, true word for word.

use nookwright::model::certificate::Certificate;
use nookwright::model::task::{PieceKind, SheetAnswer, SheetKind, SheetTask, SolveOptions};
use nookwright::model::{Effort, FirstCut, Grain, KeepRule};
use nookwright::sheets;
use nookwright::units::{Cents, Length, Tape};
use proptest::prelude::*;

const QUICK: SolveOptions = SolveOptions {
    effort: Effort::Quick,
    threads: 1,
    second_aims: true,
};

fn task(pieces: &[(&str, [i64; 2], u32, Grain)], have: u32) -> SheetTask {
    SheetTask {
        kinds: vec![SheetKind {
            item: "PLY".into(),
            rack: None,
            size: [Length::inches(96), Length::inches(48)],
            clean_edge: [Length::in_64(8); 4],
            grain_along_y: false,
            cost: Some(Cents(6_000)),
            have,
            at_most: None,
        }],
        pieces: (pieces.iter())
            .map(|(mark, size, count, grain)| PieceKind {
                mark: (*mark).into(),
                count: *count,
                size: size.map(Length::in_64),
                grain: *grain,
                match_group: None,
            })
            .collect(),
        kerf: Length::in_64(8),
        turns: None,
        first: FirstCut::Either,
        keep: KeepRule::default(),
        narrowest_safe_rip: Length::ZERO,
    }
}

fn solved(task: &SheetTask) -> (SheetAnswer, u32, String) {
    let answer = sheets::solve(task, &QUICK, &mut |_| {});
    let used: u32 = answer.sheets.iter().map(|s| s.count).sum();
    let bought = used.saturating_sub(task.kinds[0].have);
    let why = sheets::why(task, &answer, bought, &Tape::default());
    (answer, bought, why)
}

const STRIP: [i64; 2] = [88 * 64, 23 * 64 + 16];

/// Eleven strips of 88 x 23 1/4, two to a sheet of 96 x 48: counted on the fingers, six sheets.
#[test]
fn strips_are_counted() {
    let small = ("B", [20 * 64, 4 * 64], 6, Grain::Length);
    let (answer, bought, why) = solved(&task(&[("A", STRIP, 11, Grain::Length), small], 0));
    assert_eq!((bought, answer.proved), (6, true));
    assert!(why.starts_with("Eleven parts are at least "), "{why}");
    assert!(
        why.ends_with("; a sheet gives no more than two of them."),
        "{why}"
    );
    // One sheet at hand gives two of them.
    let (answer, bought, why) = solved(&task(&[("A", STRIP, 11, Grain::Length), small], 1));
    assert_eq!((bought, answer.proved), (5, true));
    assert!(
        why.ends_with("; what is in hand gives no more than two of them, and a sheet gives no more than two of them."),
        "{why}"
    );
    let (_, bought, why) = solved(&task(&[small], 0));
    assert_eq!(bought, 1);
    assert_eq!(why, "There is something to cut, so one sheet is needed.");
}

/// Parts 23 wide by ten different lengths, 80 ft in all: end to end, with a kerf between two, more than ten lengths of 95 3/4,
/// and two such strips to a sheet of 47 3/4. Counted, no number of them says as much.
#[test]
fn strips_end_to_end() {
    let lengths = [20, 21, 22, 30, 31, 33, 36, 40, 44, 47];
    let marks = ["A", "B", "C", "D", "E", "F", "G", "H", "I", "J"];
    let pieces: Vec<_> = (marks.iter().zip(lengths))
        .map(|(mark, l)| (*mark, [l * 64, 23 * 64], 3, Grain::Length))
        .collect();
    // 3 x 324 = 972 in and 30 kerfs = 975 3/4 against 95 7/8 a strip: 10.18.
    let (answer, bought, why) = solved(&task(&pieces, 0));
    assert_eq!((bought, answer.proved), (6, true));
    assert_eq!(
        why,
        "The parts at least 23 wide, end to end, need eleven strips of a sheet's length; a sheet gives no more than two."
    );
}

/// Whatever the proof, the words count what is in hand: three sheets' worth with one in hand are not "so two are needed".
#[test]
fn what_is_in_hand_is_said() {
    let mut said = 0;
    for (sides, count) in [
        ([40, 20], 13),
        ([37, 25], 9),
        ([31, 17], 20),
        ([50, 30], 8),
        ([11, 7], 140),
    ] {
        for have in 1..=3 {
            let piece = ("A", sides.map(|s| s * 64), count, Grain::Length);
            let other = ("B", [20 * 64, 13 * 64 + 5], 4, Grain::Any);
            let (answer, bought, why) = solved(&task(&[piece, other], have));
            if answer.proved && bought > 0 {
                assert!(why.contains("in hand"), "{why}");
                said += 1;
            }
        }
    }
    assert!(said >= 5, "{said} of them buy something");
}

/// What a sentence of this kind claims: (how many, at least so long, at least so wide, a sheet gives).
fn claims(why: &str) -> Option<(u64, Length, Length, u64)> {
    const WORDS: [&str; 12] = [
        "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
        "twelve",
    ];
    let number = |w: &str| -> Option<u64> {
        let w = w.to_lowercase();
        let at = WORDS.iter().position(|x| *x == w);
        at.map(|i| i as u64 + 1).or_else(|| w.parse().ok())
    };
    let (count, rest) = why.split_once(" parts are at least ")?;
    let (what, rest) = rest.split_once("; ")?;
    let gives = rest
        .strip_prefix("a sheet gives no more than ")?
        .strip_suffix(" of them.")?;
    let inches = |text: &str| {
        let mut sum = 0;
        for t in text.split_whitespace() {
            sum += match t.split_once('/') {
                Some((a, b)) => a.parse::<i64>().unwrap() * 64 / b.parse::<i64>().unwrap(),
                None => t.parse::<i64>().unwrap() * 64,
            };
        }
        Length::in_64(sum)
    };
    let (long, wide) = if let Some(w) = what.strip_suffix(" wide") {
        (Length::ZERO, inches(w))
    } else if let Some(l) = what.strip_suffix(" long") {
        (inches(l), Length::ZERO)
    } else {
        let (l, w) = what.split_once(" x ")?;
        (inches(l), inches(w))
    };
    Some((number(count)?, long, wide, number(gives)?))
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(60) })]

    /// The parts are as many as it says, no plan puts more of them on a sheet, and one sheet fewer would not give them.
    #[test]
    fn what_it_says_is_so(
        sizes in prop::collection::vec(([20i64..95, 8i64..47], 1u32..5, prop::sample::select(vec![Grain::Length, Grain::Any])), 1..6),
    ) {
        let marks = ["A", "B", "C", "D", "E", "F"];
        let pieces: Vec<_> = sizes.iter().zip(marks)
            .map(|((size, n, grain), mark)| (mark, size.map(|s| s * 64), *n, *grain))
            .collect();
        let task = task(&pieces, 0);
        let (answer, bought, why) = solved(&task);
        prop_assume!(answer.proved && matches!(answer.certificate, Certificate::Weights(_)));
        let Some((count, long, wide, gives)) = claims(&why) else { return Ok(()) };
        let these: Vec<PieceKind> = (task.pieces.iter())
            .filter(|p| p.size[0] >= long && p.size[1] >= wide)
            .cloned()
            .collect();
        prop_assert_eq!(these.iter().map(|p| u64::from(p.count)).sum::<u64>(), count, "{}", why);
        prop_assert!(count > gives * u64::from(bought - 1), "{} but {}", why, bought);
        // With one sheet and nothing else to cut, no more than so many come out of it.
        let mut one = SheetTask { pieces: these, ..task.clone() };
        one.kinds[0].at_most = Some(1);
        for s in sheets::solve(&one, &QUICK, &mut |_| {}).sheets {
            prop_assert!(s.places.len() as u64 <= gives, "{}: {:?}", why, s.places);
        }
    }
}
