//! A display list as text, one line an item: what tests hold a page against. Owns the wording; must not leave out anything
//! that can be seen.

use super::font::Weight;
use super::list::{Area, Item, Pen, Point};
use super::text::Turn;
use std::fmt;

/// One line of text for each item: what the tests hold a page against.
impl fmt::Display for Item {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let places = |points: &[Point]| {
            let all: Vec<String> = points
                .iter()
                .map(|p| format!("{:.1},{:.1}", p.x, p.y))
                .collect();
            all.join(" ")
        };
        let with = |pen: &Option<Pen>| {
            pen.map_or_else(String::new, |p| {
                format!(" pen {:.2} {}", p.width, p.dash.name())
            })
        };
        let size = |a: &Area| format!("{:.1},{:.1} {:.1}x{:.1}", a.x, a.y, a.w, a.h);
        match self {
            Self::Line { points, pen } => {
                write!(f, "line {}{}", places(points), with(&Some(*pen)))
            }
            Self::Rect { area, fill, pen } => {
                write!(f, "rect {} {fill:?}{}", size(area), with(pen))
            }
            Self::Polygon { points, fill, pen } => {
                write!(f, "polygon {} {fill:?}{}", places(points), with(pen))
            }
            Self::Circle {
                centre,
                radius,
                fill,
                pen,
            } => write!(
                f,
                "circle {} r {radius:.1} {fill:?}{}",
                places(&[*centre]),
                with(pen)
            ),
            Self::Hatch { area, pitch } => write!(f, "hatch {} every {pitch:.1}", size(area)),
            Self::Text(t) => {
                let turn = if t.turn == Turn::Up { " up" } else { "" };
                let weight = if t.weight == Weight::Bold {
                    " bold"
                } else {
                    ""
                };
                write!(
                    f,
                    "text {} {:?}{turn} {:.1}{weight} {:?}",
                    places(&[t.at]),
                    t.anchor,
                    t.size,
                    t.plain
                )
            }
            Self::Link { area, page } => write!(f, "link {} to page {page}", size(area)),
        }
    }
}
