//! The cuts on the drawing: each line, its number in a circle at the end where the saw enters, the arrow of the feed, the
//! bracket on the side of the kerf. Owns the search for a free place; a number that finds none stands in the table only.

use crate::book::draw::{Area, Dash, Drawing, Pen, Point, balloon_radius, pt};
use crate::model::SheetPlan;

/// A sheet on paper: its lower left corner is its origin, y runs up.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(crate) struct Map {
    /// Height of the sheet on paper.
    pub(crate) high: f64,
    /// Width of the sheet on paper.
    pub(crate) wide: f64,
    /// The sheet is drawn at 1 to this.
    pub(crate) scale: f64,
}

impl Map {
    /// A sheet drawn at 1 to `scale`.
    pub(crate) fn of(sheet: &SheetPlan, scale: f64) -> Self {
        Self {
            high: sheet.size[1].as_mm() / scale,
            wide: sheet.size[0].as_mm() / scale,
            scale,
        }
    }
    /// A place on the sheet.
    pub(crate) fn at(&self, x: crate::units::Length, y: crate::units::Length) -> Point {
        pt(x.as_mm() / self.scale, self.high - y.as_mm() / self.scale)
    }
    /// A rectangle on the sheet.
    pub(crate) fn area(
        &self,
        at: [crate::units::Length; 2],
        size: [crate::units::Length; 2],
    ) -> Area {
        let low = self.at(at[0], at[1]);
        let high = self.at(at[0] + size[0], at[1] + size[1]);
        Area::new(low.x, high.y, high.x - low.x, low.y - high.y)
    }
}

/// Draws cut lines.
const CUT: Pen = Pen::broken(0.5, Dash::Chain);
/// From the sheet's edge to a number outside it.
const STAND_OFF: f64 = 1.8;

/// What was drawn and where nothing more may stand.
pub(crate) struct Numbered {
    /// The circles.
    pub(crate) taken: Vec<Area>,
    /// Cuts whose number found no place.
    pub(crate) left_out: Vec<u32>,
}

/// An end of a cut line: where, and the direction out of the piece.
#[derive(Clone, Copy)]
struct End {
    at: Point,
    out: (f64, f64),
    at_border: bool,
}

/// Draws all cuts of a sheet with their numbers.
pub(crate) fn draw_cuts(drawing: &mut Drawing, map: &Map, sheet: &SheetPlan) -> Numbered {
    let mut done = Numbered {
        taken: Vec::new(),
        left_out: Vec::new(),
    };
    let mut lines = Vec::new();
    for cut in &sheet.cuts {
        let [x0, y0, x1, y1] = cut.of;
        let on_edge = |axis: usize, low: bool| {
            let (at, edge) = if low {
                (cut.of[axis], sheet.clean_edge[2 * axis])
            } else {
                (
                    sheet.size[axis] - cut.of[axis + 2],
                    sheet.clean_edge[2 * axis + 1],
                )
            };
            at <= edge
        };
        let ends = if cut.across {
            [
                End {
                    at: map.at(cut.at, y0),
                    out: (0.0, 1.0),
                    at_border: on_edge(1, true),
                },
                End {
                    at: map.at(cut.at, y1),
                    out: (0.0, -1.0),
                    at_border: on_edge(1, false),
                },
            ]
        } else {
            [
                End {
                    at: map.at(x0, cut.at),
                    out: (-1.0, 0.0),
                    at_border: on_edge(0, true),
                },
                End {
                    at: map.at(x1, cut.at),
                    out: (1.0, 0.0),
                    at_border: on_edge(0, false),
                },
            ]
        };
        drawing.line(ends[0].at, ends[1].at, CUT);
        lines.push((cut.n, cut.across, ends));
    }
    // Cuts from the border first: their numbers stand outside and crowd nobody.
    lines.sort_by_key(|(n, _, ends)| (!ends[0].at_border && !ends[1].at_border, *n));
    for (n, across, ends) in lines {
        number(drawing, map, &mut done, n, across, ends);
    }
    done.left_out.sort_unstable();
    done
}

fn circle_area(centre: Point, radius: f64) -> Area {
    let r = radius + 0.2;
    Area::new(centre.x - r, centre.y - r, 2.0 * r, 2.0 * r)
}

fn number(
    drawing: &mut Drawing,
    map: &Map,
    done: &mut Numbered,
    n: u32,
    across: bool,
    ends: [End; 2],
) {
    let text = n.to_string();
    let sheet = Area::new(0.0, 0.0, map.wide, map.high);
    for size in [5.0, 3.5, 2.5] {
        let radius = balloon_radius(&text, size);
        // Outside the sheet, where the saw comes in over its edge.
        for row in [0.0, 1.0] {
            // A second row outside is the last resort of a size.
            if row > 0.0 && size > 2.5 {
                continue;
            }
            for end in ends.iter().filter(|e| e.at_border) {
                for aside in [0.0, -0.7, 0.7, -1.3, 1.3] {
                    let far = STAND_OFF + radius + row * (2.0 * radius + 1.0);
                    let (ox, oy) = end.out;
                    let border = border_point(end, &sheet);
                    let centre = pt(
                        border.x + ox * far + oy.abs() * aside * radius,
                        border.y + oy * far + ox.abs() * aside * radius,
                    );
                    let area = circle_area(centre, radius);
                    if done.taken.iter().any(|t| t.meets(&area)) {
                        continue;
                    }
                    drawing.line(border, centre, Pen::NARROW);
                    drawing.arrowhead(border, ox, oy, 1.7);
                    drawing.balloon(centre, radius, size, &text);
                    done.taken.push(area);
                    bracket(drawing, other(&ends, end), across);
                    return;
                }
            }
        }
        if size > 3.5 {
            continue;
        }
        // On the line itself, from the end where the saw enters inwards.
        for end in &ends {
            let (ox, oy) = end.out;
            let other = other(&ends, end);
            let long = (end.at.x - other.at.x).abs() + (end.at.y - other.at.y).abs();
            let mut inward = radius + 0.1;
            while inward + radius < long {
                let centre = pt(end.at.x - ox * inward, end.at.y - oy * inward);
                let area = circle_area(centre, radius);
                if sheet.holds(&area) && !done.taken.iter().any(|t| t.meets(&area)) {
                    drawing.balloon(centre, radius, size, &text);
                    let beyond = inward + radius + 1.9;
                    if beyond < long {
                        let tip = pt(end.at.x - ox * beyond, end.at.y - oy * beyond);
                        drawing.arrowhead(tip, ox, oy, 1.7);
                    }
                    done.taken.push(area);
                    bracket(drawing, other, across);
                    return;
                }
                inward += radius * 2.0 + 0.8;
            }
        }
    }
    done.left_out.push(n);
}

fn other<'e>(ends: &'e [End; 2], end: &End) -> &'e End {
    if ends[0].at == end.at {
        &ends[1]
    } else {
        &ends[0]
    }
}

/// Where the line from an end outwards crosses the sheet's edge: the clean edge lies between.
fn border_point(end: &End, sheet: &Area) -> Point {
    match end.out {
        (x, _) if x < 0.0 => pt(sheet.x, end.at.y),
        (x, _) if x > 0.0 => pt(sheet.right(), end.at.y),
        (_, y) if y < 0.0 => pt(end.at.x, sheet.y),
        _ => pt(end.at.x, sheet.bottom()),
    }
}

/// The small square bracket at the far end, on the side where the blade turns wood to dust: beyond the kept side.
fn bracket(drawing: &mut Drawing, end: &End, across: bool) {
    const DEEP: f64 = 1.1;
    const LONG: f64 = 1.6;
    let (ox, oy) = end.out;
    let from = pt(end.at.x - ox * 0.8, end.at.y - oy * 0.8);
    let to = pt(from.x - ox * LONG, from.y - oy * LONG);
    let (dx, dy) = if across { (DEEP, 0.0) } else { (0.0, -DEEP) };
    drawing.path(
        vec![
            from,
            pt(from.x + dx, from.y + dy),
            pt(to.x + dx, to.y + dy),
            to,
        ],
        Pen::NARROW,
    );
}
