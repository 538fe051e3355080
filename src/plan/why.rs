//! The sentence beside a number of sheets or sticks: why no plan does with less, or how far that is open.

use crate::model::certificate::{Certificate, WeightRule};
use crate::model::task::{SheetAnswer, SheetTask, StickAnswer, StickTask};
use crate::sheets;
use crate::units::{Length, Tape};

/// For sheets.
pub(super) fn why_sheets(
    task: &SheetTask,
    answer: &SheetAnswer,
    bought: u32,
    tape: &Tape,
) -> String {
    // Where it is not the least, the certificate speaks for the bound only.
    let shown = match (&answer.certificate, answer.proved) {
        (Certificate::None, _) | (Certificate::NothingToBuy, false) => String::new(),
        (_, true) => sheets::why(task, answer, bought, tape),
        (_, false) => sheets::why(task, answer, answer.at_least, tape),
    };
    with_what_is_open(
        shown,
        answer.proved,
        bought,
        answer.at_least,
        answer.searched,
    )
}

/// For sticks.
pub(super) fn why_sticks(
    task: &StickTask,
    answer: &StickAnswer,
    bought: u32,
    tape: &Tape,
) -> String {
    let shown = match &answer.certificate {
        Certificate::None | Certificate::Exhaustive { .. } => String::new(),
        Certificate::NothingToBuy => "Everything comes off what is in hand.".into(),
        Certificate::Weights(w) => {
            let total: Length = task
                .pieces
                .iter()
                .map(|p| p.length * i64::from(p.count))
                .sum();
            let longest = task
                .kinds
                .iter()
                .map(|k| k.length)
                .max()
                .unwrap_or_default();
            let fewer = longest * i64::from(bought.saturating_sub(1));
            let free = task.kinds.iter().any(|k| k.have > 0);
            match w.rule {
                _ if bought == 1 && !free => "There is something to cut, so one stick is needed.".into(),
                WeightRule::Area if total > fewer && !free => format!(
                    "The pieces alone are {} long; one stick fewer gives {} at most.",
                    tape.print(total),
                    tape.print(fewer),
                ),
                WeightRule::Area => "By length and price, no cheaper choice of sticks holds the pieces and the cuts between them.".into(),
                _ => format!(
                    "Weigh every piece by the room it takes: together they fill {} of the best sticks, and no stick holds more than one stick's worth.",
                    worth(
                        w.weights
                            .iter()
                            .map(|p| p.weight * i64::from(p.count))
                            .sum(),
                        w.holds.iter().map(|h| h.most).max().unwrap_or(1)
                    ),
                ),
            }
        }
    };
    with_what_is_open(
        shown,
        answer.proved,
        bought,
        answer.at_least,
        answer.searched,
    )
}

/// `weight / most` to two decimals, rounded down, in whole numbers.
fn worth(weight: i64, most: i64) -> String {
    let hundredths = i128::from(weight) * 100 / i128::from(most.max(1));
    format!("{}.{:02}", hundredths / 100, hundredths % 100)
}

/// Where there is no certificate.
pub(super) fn without_proof(bought: u32, at_least: u32, searched: u64) -> String {
    with_what_is_open(String::new(), false, bought, at_least, searched)
}

fn with_what_is_open(
    shown: String,
    proved: bool,
    bought: u32,
    at_least: u32,
    searched: u64,
) -> String {
    if proved && !shown.is_empty() {
        return shown;
    }
    let open = if at_least == 0 {
        format!("Nothing shows how few would do, after {searched} steps of search.")
    } else if at_least < bought {
        format!(
            "Fewer than {at_least} is ruled out; {at_least} is not, after {searched} steps of search."
        )
    } else {
        format!(
            "Fewer than {at_least} is ruled out; a cheaper mix is not, after {searched} steps of search."
        )
    };
    if shown.is_empty() {
        open
    } else {
        format!("{shown} {open}")
    }
}
