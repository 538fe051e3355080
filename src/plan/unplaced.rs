//! Why a part comes out of no sheet, and the way out, in words.

use crate::model::Grain;
use crate::model::task::{
    PieceKind, SheetKind, SheetTask, StickKind, StickPiece, StickTask, UnplacedPiece,
};
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

/// The edges of a kind that may still be cleaned if the piece is to fit: as many as can be; `None` where even the whole sheet
/// is too small.
fn cleaned_edges(piece: &PieceKind, kind: &SheetKind) -> Option<Vec<&'static str>> {
    let kept = |side: &[Length; 2]| -> Option<Vec<&'static str>> {
        let mut kept = Vec::new();
        for (axis, names) in [(0, ["x0", "x1"]), (1, ["y0", "y1"])] {
            let mut spare = kind.size[axis] - side[axis];
            if spare < Length::ZERO {
                return None;
            }
            for (edge, name) in names.into_iter().enumerate() {
                let off = kind.clean_edge[2 * axis + edge];
                if off.is_positive() && off <= spare {
                    spare -= off;
                    kept.push(name);
                }
            }
        }
        Some(kept)
    };
    let all = ways(piece.size, piece.grain, kind);
    all.iter().filter_map(kept).max_by_key(Vec::len)
}

/// What to write in project.toml so that a part comes out of a sheet whose other edges stay as they came.
fn uncleaned(kept: &[&str]) -> String {
    let list: Vec<String> = kept.iter().map(|e| format!("\"{e}\"")).collect();
    format!(
        "It fits if a factory edge stays uncleaned: write clean_edges = [{}] under [saw]; what lies along the other edges then has the factory's edge.",
        list.join(", ")
    )
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
    if let Some(kept) = (there.iter().filter(|k| k.rack.is_none()))
        .filter_map(|k| cleaned_edges(piece, k))
        .max_by_key(Vec::len)
    {
        return format!(
            "{size} does not come out of any {item} in stock.{room} {}",
            uncleaned(&kept)
        );
    }
    let way_out = if any_way(piece.grain, false) {
        "It would fit if another edge of the rack piece were good: name it under good_edges in offcuts.csv if it is."
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
