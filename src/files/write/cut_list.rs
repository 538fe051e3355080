//! The cut list as a table: what each part is, its size at the saw, and on which sheets it lies. Columns she added to her
//! own list come along.

use super::cell::csv_line;
use crate::model::{Grain, Job, Part, PartSize, Plan, StockRow};
use crate::units::Length;
use std::collections::BTreeMap;

/// Columns of her list that the tool does not know, by row.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Extras {
    /// Their headings, in her order.
    pub headings: Vec<String>,
    /// Cells, by the row number of the part.
    pub rows: BTreeMap<usize, Vec<String>>,
}

/// `cut-list.csv` of a plan: RFC 4180, sizes exact.
pub fn cut_list_csv(job: &Job, plan: &Plan, extras: &Extras) -> String {
    let tape = &job.project.tape;
    let unit = tape.unit_name();
    let mut headings: Vec<String> = [
        "mark", "what", "box", "how_many", "spare", "length", "width", "item", "grain", "band",
        "sheets", "note",
    ]
    .map(String::from)
    .to_vec();
    headings[5] = format!("cut_length_{unit}");
    headings[6] = format!("cut_width_{unit}");
    headings.extend(extras.headings.iter().cloned());
    let mut out = csv_line(&headings, ',') + "\r\n";
    let on_sheets = sheets_of(plan);
    for part in job.route_parts(&plan.route) {
        let (length, width) = cut_size(job, part);
        let mut cells = vec![
            part.mark.clone(),
            part.what.clone(),
            part.in_box.clone(),
            part.how_many.to_string(),
            part.spare.to_string(),
            tape.print_exact(length),
            width.map(|w| tape.print_exact(w)).unwrap_or_default(),
            part.item.clone(),
            match part.grain {
                Grain::Length => "length",
                Grain::Width => "width",
                Grain::Any => "any",
            }
            .into(),
            banded(part),
            on_sheets
                .get(part.mark.as_str())
                .cloned()
                .unwrap_or_default(),
            part.note.clone(),
        ];
        match extras.rows.get(&part.row) {
            Some(row) => cells.extend(
                (0..extras.headings.len()).map(|i| row.get(i).cloned().unwrap_or_default()),
            ),
            None => cells.extend(extras.headings.iter().map(|_| String::new())),
        }
        out.push_str(&csv_line(&cells, ','));
        out.push_str("\r\n");
    }
    out
}

/// The sheet and stick numbers each mark lies on, as they are numbered in the book: `1 3`, sticks `S2`.
fn sheets_of(plan: &Plan) -> BTreeMap<&str, String> {
    let mut on: BTreeMap<&str, Vec<String>> = BTreeMap::new();
    let mut say = |mark, label: String| {
        let labels = on.entry(mark).or_default();
        if labels.last() != Some(&label) {
            labels.push(label);
        }
    };
    for (n, sheet) in plan.sheets.iter().enumerate() {
        for place in &sheet.places {
            say(place.mark.as_str(), (n + 1).to_string());
        }
    }
    for (n, stick) in plan.sticks.iter().enumerate() {
        for piece in &stick.pieces {
            say(piece.mark.as_str(), format!("S{}", n + 1));
        }
    }
    on.into_iter()
        .map(|(mark, labels)| (mark, labels.join(" ")))
        .collect()
}

/// The size the saw cuts: with `band_in_size` smaller by the banding on each banded edge.
fn cut_size(job: &Job, part: &Part) -> (Length, Option<Length>) {
    let thick = part
        .band_item
        .as_deref()
        .and_then(|i| job.stock_row(i))
        .and_then(StockRow::thickness)
        .filter(|_| part.band_in_size)
        .unwrap_or(Length::ZERO);
    let n = |a: bool, b: bool| i64::from(a) + i64::from(b);
    match part.size {
        PartSize::Piece { length } => (length, None),
        PartSize::Panel { length, width } => (
            length - thick * n(part.band.left, part.band.right),
            Some(width - thick * n(part.band.front, part.band.back)),
        ),
    }
}

fn banded(part: &Part) -> String {
    let b = part.band;
    [
        (b.front, "front"),
        (b.back, "back"),
        (b.left, "left"),
        (b.right, "right"),
    ]
    .into_iter()
    .filter_map(|(on, name)| on.then_some(name))
    .collect::<Vec<_>>()
    .join("+")
}
