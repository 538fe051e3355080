//! The check that a sheet's sizes add up: along a line across the sheet, every size, kerf and clean edge in turn, summed
//! exactly. Owns the choice of the line; a sum that does not add up is not printed.

use crate::book::pages::context::Context;
use crate::model::SheetPlan;
use crate::units::Length;

/// Direction of a sum.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Along {
    /// Along the sheet's length.
    Length,
    /// Across it.
    Width,
}

/// A term: what, its size, how often.
#[derive(Clone, PartialEq, Eq, Debug)]
struct Term {
    kind: Kind,
    size: Length,
    times: u32,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Kind {
    Clean,
    Piece,
    Kerf,
    Lost,
}

/// The pieces that a line at `at` (the middle of some piece) runs through, from the low edge up: start and end.
fn through(sheet: &SheetPlan, axis: usize, at: Length) -> Vec<[Length; 2]> {
    let other = 1 - axis;
    let places = sheet.places.iter().map(|p| (p.at, p.size));
    let lefts = sheet.left.iter().map(|l| (l.at, l.size));
    let mut spans: Vec<[Length; 2]> = places
        .chain(lefts)
        .filter(|(from, size)| from[other] <= at && at < from[other] + size[other])
        .map(|(from, size)| [from[axis], from[axis] + size[axis]])
        .collect();
    spans.sort_unstable();
    spans
}

/// The sum along one direction, on the line that runs through the most pieces; `None` where nothing lies on the sheet.
pub(crate) fn sum_line(ctx: &Context, sheet: &SheetPlan, along: Along) -> Option<String> {
    let axis = usize::from(along == Along::Width);
    let best = sheet
        .places
        .iter()
        .map(|p| p.at[1 - axis] + p.size[1 - axis] / 2)
        .map(|at| (through(sheet, axis, at), at))
        // The most pieces; among those the lowest line.
        .max_by(|(a, x), (b, y)| a.len().cmp(&b.len()).then(y.cmp(x)))?;
    let terms = terms(ctx, sheet, axis, &best.0)?;
    let said: Vec<String> = terms
        .iter()
        .map(|t| {
            let size = ctx.exact(t.size);
            match (t.kind, t.times) {
                (Kind::Kerf, 1) => format!("kerf {size}"),
                (Kind::Kerf, n) => format!("{n} kerfs of {size}"),
                (Kind::Clean, 1) => format!("{size} clean edge"),
                (Kind::Clean, n) => format!("{n} clean edges of {size}"),
                (Kind::Lost, 1) => format!("{size} lost"),
                (Kind::Lost, n) => format!("{n} x {size} lost"),
                (Kind::Piece, 1) => size,
                (Kind::Piece, n) => format!("{n} x {size}"),
            }
        })
        .collect();
    Some(format!(
        "{} = {}",
        said.join(" + "),
        ctx.exact(sheet.size[axis])
    ))
}

/// The terms in order of first turning up, alike ones gathered; `None` if they do not make the size of the sheet.
fn terms(
    ctx: &Context,
    sheet: &SheetPlan,
    axis: usize,
    spans: &[[Length; 2]],
) -> Option<Vec<Term>> {
    let mut terms: Vec<Term> = Vec::new();
    let mut add = |kind, size: Length| {
        if size == Length::ZERO {
            return;
        }
        match terms.iter_mut().find(|t| t.kind == kind && t.size == size) {
            Some(term) => term.times += 1,
            None => terms.push(Term {
                kind,
                size,
                times: 1,
            }),
        }
    };
    let [low, high] = [sheet.clean_edge[2 * axis], sheet.clean_edge[2 * axis + 1]];
    add(Kind::Clean, low);
    let mut at = low;
    for [from, to] in spans {
        let gap = *from - at;
        let kerfs = sheet.cuts.iter().filter_map(|c| c.kerf);
        let is_kerf = gap == ctx.plan().kerf || kerfs.into_iter().any(|k| k == gap);
        add(if is_kerf { Kind::Kerf } else { Kind::Lost }, gap);
        add(Kind::Piece, *to - *from);
        at = *to;
    }
    let end = sheet.size[axis] - high;
    add(Kind::Lost, end - at);
    add(Kind::Clean, high);
    let total: Length = terms.iter().map(|t| t.size * i64::from(t.times)).sum();
    let sound = terms.iter().all(|t| t.size.is_positive());
    (sound && total == sheet.size[axis]).then_some(terms)
}
