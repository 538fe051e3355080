//! Why a part comes out of no sheet, and the way out, in words.

use crate::model::Grain;
use crate::model::task::{SheetKind, SheetTask, StickKind, StickPiece, StickTask, UnplacedPiece};
use crate::units::{Length, Tape};

/// The two sides a piece may show along and across a kind's x: one way, or two where it may be turned.
fn ways(size: [Length; 2], grain: Grain, kind: &SheetKind) -> Vec<[Length; 2]> {
    let [l, w] = size;
    let along_x = matches!(
        (grain, kind.grain_along_y),
        (Grain::Length, false) | (Grain::Width, true)
    );
    match grain {
        Grain::Any => vec![[l, w], [w, l]],
        _ if along_x => vec![[l, w]],
        _ => vec![[w, l]],
    }
}

/// Usable size of a kind; `cleaned` = false gives it with the factory edges left.
fn usable(kind: &SheetKind, cleaned: bool) -> [Length; 2] {
    let c = if cleaned {
        kind.clean_edge
    } else {
        [Length::ZERO; 4]
    };
    [kind.size[0] - c[0] - c[1], kind.size[1] - c[2] - c[3]]
}

fn fits(side: &[Length; 2], room: &[Length; 2]) -> bool {
    side[0] <= room[0] && side[1] <= room[1]
}

/// One or two sentences: what is too large for what, and what to do.
pub(super) fn why_unplaced(
    tape: &Tape,
    task: &SheetTask,
    item: &str,
    unplaced: &UnplacedPiece,
) -> String {
    let piece = &task.pieces[unplaced.piece];
    let size = format!(
        "{} x {}",
        tape.print(piece.size[0]),
        tape.print(piece.size[1])
    );
    let there: Vec<&SheetKind> = (task.kinds.iter())
        .filter(|k| k.have > 0 || k.at_most != Some(0))
        .collect();
    if task.kinds.iter().all(|k| k.rack.is_some()) {
        return format!(
            "{item} has no sheet size in stock.csv. Give its row a length and a width."
        );
    }
    if !unplaced.fits_nothing {
        return format!(
            "{size}: the sheets of {item} that can be bought or are in hand are used up. Raise at_most, or list another size in stock.csv."
        );
    }
    if there.iter().all(|k| k.rack.is_some()) {
        return format!(
            "No sheet of {item} can be bought or is in hand. Raise at_most in stock.csv."
        );
    }
    let any_way = |grain: Grain, cleaned: bool| {
        there.iter().any(|k| {
            let room = usable(k, cleaned);
            ways(piece.size, grain, k).iter().any(|s| fits(s, &room))
        })
    };
    let largest = there
        .iter()
        .filter(|k| k.rack.is_none())
        .map(|k| usable(k, true))
        .max_by_key(|[w, h]| (*w, *h));
    let room = largest.map_or(String::new(), |[w, h]| {
        format!(
            " The largest clean piece is {} x {}.",
            tape.print(w),
            tape.print(h)
        )
    });
    let way_out = if any_way(piece.grain, false) {
        "It would fit if a factory edge were left uncleaned: name fewer edges in [saw] clean_edges."
    } else if piece.grain != Grain::Any && any_way(Grain::Any, true) {
        "Turned the other way it would fit: if the grain may run across it, set its grain to any."
    } else {
        "Make it of two pieces with a seam where a fixed shelf hides it, or list a larger sheet in stock.csv."
    };
    format!("{size} does not come out of any {item} in stock.{room} {way_out}")
}

/// The same for a piece of a moulding or board.
pub(super) fn why_no_stick(
    tape: &Tape,
    task: &StickTask,
    item: &str,
    unplaced: &UnplacedPiece,
) -> String {
    let there = |k: &&StickKind| k.have > 0 || k.at_most != Some(0);
    let longest = task.kinds.iter().filter(there).map(|k| k.length).max();
    let piece = &task.pieces[unplaced.piece];
    let group: Vec<&StickPiece> = (task.pieces.iter())
        .filter(|q| piece.together.is_some() && q.together == piece.together)
        .collect();
    let Some(longest) = longest else {
        return if task.kinds.is_empty() {
            format!("{item} has no stick length in stock.csv. Give its row a length.")
        } else {
            format!("No stick of {item} can be bought or is in hand. Raise at_most in stock.csv.")
        };
    };
    if !unplaced.fits_nothing {
        return format!(
            "The sticks of {item} that can be bought or are in hand are used up. Raise at_most, or list another length in stock.csv."
        );
    }
    if piece.length <= longest {
        let whole: Length = (group.iter())
            .map(|q| (q.length + task.kerf) * i64::from(q.count))
            .sum();
        let marks: Vec<&str> = group.iter().map(|q| q.mark.as_str()).collect();
        return format!(
            "{} match, so all of them must come off one stick: {} with the cuts between them, and the longest stick of {item} is {}. Let fewer of them match, or list a longer stick in stock.csv.",
            marks.join(", "),
            tape.print(whole - task.kerf),
            tape.print(longest),
        );
    }
    format!(
        "{} is longer than the longest stick of {item}, {}. Make it of two pieces with a scarf, or list a longer stick in stock.csv.",
        tape.print(piece.length),
        tape.print(longest),
    )
}
