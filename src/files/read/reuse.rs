//! What comes off and is cut down for the new work: pieces that join the rack, though no row of offcuts.csv names them. Owns
//! their marks and what must be true of them.

use super::near::did_you_mean;
use super::report::{Report, Wrong};
use crate::model::{Offcut, OffcutState, OldPiece, Spot, StockKind, StockRow};

/// Its pieces as they join a rack; `stock`: `None` where it could not be read.
pub(super) fn joined(
    old: &[OldPiece],
    stock: Option<&[StockRow]>,
    rack: &[Offcut],
    report: &mut Report,
) -> Vec<Offcut> {
    let mut joins = Vec::new();
    for piece in old {
        let Some(rows) = stock else { break };
        let spot = |key: &str| Spot {
            file: "project.toml".into(),
            row: Some(piece.line),
            column: Some(format!("[opening.now] reuse {key}")),
            ..Spot::default()
        };
        let used = |r: &&StockRow| r.is_cut_up() || r.is_rail();
        let Some(row) = rows.iter().filter(used).find(|r| r.item == piece.item) else {
            let fix = did_you_mean(
                &piece.item,
                rows.iter().filter(used).map(|r| r.item.as_str()),
            );
            let why = "No sheet, stick or rail of stock.csv has this item, so nothing can be cut from the piece.";
            let expected = "the item of a sheet, moulding, board or hanging rail in stock.csv";
            report.mistake(spot("item"), &piece.item, Wrong::new(why, expected, fix));
            continue;
        };
        if piece.width.is_none() && row.kind == StockKind::Sheet {
            let why = "A piece of a sheet has a width too.";
            let fix = "add width = ... to it.";
            report.mistake(
                spot("width"),
                "nothing",
                Wrong::new(why, "a width such as 11 7/8", fix),
            );
            continue;
        }
        // A rail that is bought whole is on no rack: a box hangs its rail from the old one.
        if !row.is_cut_up() {
            continue;
        }
        let free = |mark: &str| {
            let taken = |o: &Offcut| o.mark == mark;
            !rack.iter().chain(&joins).any(taken)
        };
        let number = (1..).find(|n| free(&format!("OLD-{n}"))).unwrap_or(1);
        joins.push(Offcut {
            mark: format!("OLD-{number}"),
            item: piece.item.clone(),
            length: piece.length,
            width: piece.width.filter(|_| row.kind == StockKind::Sheet),
            thick: None,
            grain_along_width: false,
            good_edges: Vec::new(),
            from_job: String::new(),
            promised_to: None,
            place: "where it hangs today".into(),
            state: OffcutState::Ready,
            note: piece.what.clone(),
            row: 0,
        });
    }
    joins
}
