//! Paints display lists as a PDF. The only file that names the PDF crate. Owns what the crate leaves open: the same pages
//! give the same bytes, whatever was made before in this process.
//!
//! Fonts are embedded whole; they were cut down to our letters beforehand (assets/fonts).

use super::font::Weight;
use super::list::{Area, Dash, Fill, Item, Pen, Point, hatch_lines, pt};
use super::text::{Text, Turn, em};
use printpdf::{
    Actions, BorderArray, Color, ColorArray, Destination, FontId, Greyscale, HighlightingMode,
    Line, LineDashPattern, LinePoint, LinkAnnotation, OffsetDateTime, Op, PageAnnotId,
    PageAnnotation, PaintMode, ParsedFont, PdfDocument, PdfFont, PdfFontHandle, PdfPage,
    PdfSaveOptions, Polygon, PolygonRing, Pt, Rect, TextItem, TextMatrix, WindingOrder,
};
use sha2::{Digest, Sha256};
use std::fmt::Write;

/// A finished page.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Leaf {
    /// Width and height in millimetres.
    pub size: [f64; 2],
    /// What is on it.
    pub items: Vec<Item>,
    /// Its line in the outline; empty = none.
    pub bookmark: String,
}

/// What the file says of itself.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct PdfFacts {
    /// Title.
    pub title: String,
    /// Who drew it.
    pub author: String,
    /// Seconds since 1970 of her own date; 0 where she gave none. Never the clock.
    pub made_at: i64,
}

/// Points in a millimetre.
const POINTS: f64 = 72.0 / 25.4;

/// Millimetres to points, to a hundredth: finer than any printer, and short in the file.
fn points(mm: f64) -> f32 {
    ((mm * POINTS * 100.0).round() / 100.0) as f32
}

fn font_id(weight: Weight) -> FontId {
    FontId(
        match weight {
            Weight::Regular => "DejaVuSansCondensed",
            Weight::Bold => "DejaVuSansCondensed-Bold",
        }
        .into(),
    )
}

/// Paints pages.
pub fn to_pdf(leaves: &[Leaf], facts: &PdfFacts) -> Vec<u8> {
    let mut file = PdfDocument::new(&facts.title);
    let info = &mut file.metadata.info;
    info.author.clone_from(&facts.author);
    info.creator = "nookwright".into();
    info.producer = "nookwright".into();
    let made = OffsetDateTime::from_unix_timestamp(facts.made_at).unwrap_or(info.creation_date);
    (
        info.creation_date,
        info.modification_date,
        info.metadata_date,
    ) = (made, made, made);
    for weight in [Weight::Regular, Weight::Bold] {
        let font = ParsedFont::from_bytes(weight.file(), 0, &mut Vec::new())
            .expect("the embedded font is sound");
        file.resources
            .fonts
            .map
            .insert(font_id(weight), PdfFont::new(font));
    }
    for (i, leaf) in leaves.iter().enumerate() {
        let mut painter = Painter {
            height: leaf.size[1],
            ops: Vec::new(),
            pen: None,
            fill: None,
        };
        for item in &leaf.items {
            painter.item(item);
        }
        let (width, height) = (
            printpdf::Mm(leaf.size[0] as f32),
            printpdf::Mm(leaf.size[1] as f32),
        );
        file.pages.push(PdfPage::new(width, height, painter.ops));
        if !leaf.bookmark.is_empty() {
            file.bookmarks.map.insert(
                PageAnnotId(format!("page-{:05}", i + 1)),
                PageAnnotation {
                    name: leaf.bookmark.clone(),
                    page: i + 1,
                },
            );
        }
    }
    settle(file.save(&PdfSaveOptions::default(), &mut Vec::new()))
}

/// Replaces what the crate takes from a counter (the two file ids) by a digest of the rest, and writes the wish to open
/// with the outline shown as the name it must be. Both keep their length, so the cross-reference table stays right.
fn settle(mut bytes: Vec<u8>) -> Vec<u8> {
    const SHOWN: (&[u8], &[u8]) = (b"/PageMode(UseOutlines)", b"/PageMode/UseOutlines ");
    if let Some(at) = find(&bytes, SHOWN.0) {
        bytes[at..at + SHOWN.1.len()].copy_from_slice(SHOWN.1);
    }
    let trailer = bytes
        .windows(7)
        .rposition(|w| w == b"trailer")
        .unwrap_or(bytes.len());
    let Some(id) = find(&bytes[trailer..], b"/ID").map(|i| i + trailer) else {
        return bytes;
    };
    let spans: Vec<(usize, usize)> = {
        let mut spans = Vec::new();
        let mut open = None;
        for (i, b) in bytes.iter().enumerate().skip(id) {
            match (*b, open) {
                (b'(', None) => open = Some(i + 1),
                (b')', Some(from)) => {
                    spans.push((from, i));
                    open = None;
                }
                (b']', None) => break,
                _ => {}
            }
        }
        spans
    };
    for (from, to) in &spans {
        bytes[*from..*to].fill(b'0');
    }
    let mut digest = String::new();
    for byte in Sha256::digest(&bytes) {
        let _ = write!(digest, "{byte:02x}");
    }
    for (from, to) in spans {
        let length = (to - from).min(digest.len());
        bytes[from..from + length].copy_from_slice(&digest.as_bytes()[..length]);
    }
    bytes
}

fn find(bytes: &[u8], what: &[u8]) -> Option<usize> {
    bytes.windows(what.len()).position(|w| w == what)
}

/// Turns items into operators, setting pen and fill only when they change.
struct Painter {
    height: f64,
    ops: Vec<Op>,
    pen: Option<Pen>,
    fill: Option<f64>,
}

impl Painter {
    fn place(&self, p: Point) -> printpdf::Point {
        printpdf::Point {
            x: Pt(points(p.x)),
            y: Pt(points(self.height - p.y)),
        }
    }
    fn corner(&self, p: Point, bezier: bool) -> LinePoint {
        LinePoint {
            p: self.place(p),
            bezier,
        }
    }
    fn grey(lightness: f64) -> Color {
        Color::Greyscale(Greyscale {
            percent: lightness as f32,
            icc_profile: None,
        })
    }
    fn set_pen(&mut self, pen: Pen) {
        if self.pen == Some(pen) {
            return;
        }
        if self.pen.is_none() {
            self.ops.push(Op::SetOutlineColor {
                col: Self::grey(0.0),
            });
        }
        let width = Pt(points(pen.painted()));
        self.ops.push(Op::SetOutlineThickness { pt: width });
        if self.pen.is_none_or(|p| p.dash != pen.dash) {
            let pattern: Vec<f32> = pen.dash.pattern().iter().map(|l| points(*l)).collect();
            let dash = if pen.dash == Dash::Solid {
                LineDashPattern::solid()
            } else {
                LineDashPattern::new(0.0, &pattern)
            };
            self.ops.push(Op::SetLineDashPattern { dash });
        }
        self.pen = Some(pen);
    }
    fn set_fill(&mut self, lightness: f64) {
        if self.fill != Some(lightness) {
            self.ops.push(Op::SetFillColor {
                col: Self::grey(lightness),
            });
            self.fill = Some(lightness);
        }
    }
    fn item(&mut self, item: &Item) {
        match item {
            Item::Line { points, pen } => self.stroke(points, *pen),
            Item::Hatch { area, pitch } => {
                for line in hatch_lines(*area, *pitch) {
                    self.stroke(&line, Pen::solid(super::list::THINNEST));
                }
            }
            Item::Rect { area, fill, pen } => {
                let corners = [
                    pt(area.x, area.y),
                    pt(area.right(), area.y),
                    pt(area.right(), area.bottom()),
                    pt(area.x, area.bottom()),
                ];
                let ring = corners.iter().map(|p| self.corner(*p, false)).collect();
                self.shape(ring, *fill, *pen);
            }
            Item::Polygon { points, fill, pen } => {
                let ring = points.iter().map(|p| self.corner(*p, false)).collect();
                self.shape(ring, *fill, *pen);
            }
            Item::Circle {
                centre,
                radius,
                fill,
                pen,
            } => {
                let ring = self.circle(*centre, *radius);
                self.shape(ring, *fill, *pen);
            }
            Item::Text(text) => self.text(text),
            Item::Link { area, page } => self.link(*area, *page),
        }
    }
    fn stroke(&mut self, through: &[Point], pen: Pen) {
        if through.len() < 2 {
            return;
        }
        self.set_pen(pen);
        let points = through.iter().map(|p| self.corner(*p, false)).collect();
        let line = Line {
            points,
            is_closed: false,
        };
        self.ops.push(Op::DrawLine { line });
    }
    fn shape(&mut self, ring: Vec<LinePoint>, fill: Fill, pen: Option<Pen>) {
        let mode = match (fill.lightness(), pen) {
            (None, None) => return,
            (Some(_), None) => PaintMode::Fill,
            (None, Some(_)) => PaintMode::Stroke,
            (Some(_), Some(_)) => PaintMode::FillStroke,
        };
        if let Some(lightness) = fill.lightness() {
            self.set_fill(lightness);
        }
        if let Some(pen) = pen {
            self.set_pen(pen);
        }
        let polygon = Polygon {
            rings: vec![PolygonRing { points: ring }],
            mode,
            winding_order: WindingOrder::NonZero,
        };
        self.ops.push(Op::DrawPolygon { polygon });
    }
    /// A circle as four cubic curves: handles at 0.5523 of the radius keep it round to 3 parts in 10 000.
    fn circle(&self, c: Point, r: f64) -> Vec<LinePoint> {
        let k = 0.5523 * r;
        [
            (pt(c.x + r, c.y), false),
            (pt(c.x + r, c.y + k), true),
            (pt(c.x + k, c.y + r), true),
            (pt(c.x, c.y + r), false),
            (pt(c.x - k, c.y + r), true),
            (pt(c.x - r, c.y + k), true),
            (pt(c.x - r, c.y), false),
            (pt(c.x - r, c.y - k), true),
            (pt(c.x - k, c.y - r), true),
            (pt(c.x, c.y - r), false),
            (pt(c.x + k, c.y - r), true),
            (pt(c.x + r, c.y - k), true),
            (pt(c.x + r, c.y), false),
        ]
        .into_iter()
        .map(|(p, handle)| self.corner(p, handle))
        .collect()
    }
    fn text(&mut self, text: &Text) {
        self.set_fill(0.0);
        self.ops.push(Op::StartTextSection);
        let mut size = None;
        for run in &text.runs {
            let along = run.along - text.before_anchor();
            let (at, turn) = match text.turn {
                Turn::Level => (
                    pt(text.at.x + along, text.at.y - run.raise),
                    [1.0, 0.0, 0.0, 1.0],
                ),
                Turn::Up => (
                    pt(text.at.x - run.raise, text.at.y - along),
                    [0.0, 1.0, -1.0, 0.0],
                ),
            };
            if size != Some(run.size) {
                self.ops.push(Op::SetFont {
                    font: PdfFontHandle::External(font_id(text.weight)),
                    size: Pt(points(em(run.size))),
                });
                size = Some(run.size);
            }
            let place = self.place(at);
            let [a, b, c, d] = turn;
            self.ops.push(Op::SetTextMatrix {
                matrix: TextMatrix::Raw([a, b, c, d, place.x.0, place.y.0]),
            });
            self.ops.push(Op::ShowText {
                items: vec![TextItem::Text(run.text.clone())],
            });
        }
        self.ops.push(Op::EndTextSection);
    }
    fn link(&mut self, area: Area, page: usize) {
        let low = self.place(pt(area.x, area.bottom()));
        let rect = Rect {
            x: low.x,
            y: low.y,
            width: Pt(points(area.w)),
            height: Pt(points(area.h)),
            mode: None,
            winding_order: None,
        };
        let to = Destination::Xyz {
            page,
            left: None,
            top: None,
            zoom: None,
        };
        self.ops.push(Op::LinkAnnotation {
            link: LinkAnnotation::new(
                rect,
                Actions::go_to(to),
                Some(BorderArray::Solid([0.0, 0.0, 0.0])),
                Some(ColorArray::Transparent),
                Some(HighlightingMode::None),
            ),
        });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::draw::Drawing;

    fn leaves() -> Vec<Leaf> {
        let mut drawing = Drawing::new();
        drawing.say(pt(20.0, 30.0), 3.5, Weight::Bold, "L1  20 13/16 x 23");
        drawing.hatch(Area::new(20.0, 40.0, 30.0, 10.0), 2.0);
        drawing.circle(pt(90.0, 90.0), 4.0, Fill::White, Some(Pen::NARROW));
        vec![
            Leaf {
                size: [215.9, 279.4],
                items: drawing.items,
                bookmark: "Sheet 1".into(),
            };
            2
        ]
    }

    #[test]
    fn two_books_of_one_process_are_the_same_bytes() {
        let facts = PdfFacts {
            title: "Alcove".into(),
            author: String::new(),
            made_at: 1_783_728_000,
        };
        let (one, two) = (to_pdf(&leaves(), &facts), to_pdf(&leaves(), &facts));
        assert!(one == two);
        assert!(one.starts_with(b"%PDF-"));
        assert!(find(&one, b"/PageMode/UseOutlines").is_some());
        assert!(
            one.len() < 150_000,
            "{} bytes: are fonts embedded twice?",
            one.len()
        );
        let other = to_pdf(&leaves()[..1], &facts);
        assert!(one != other);
    }
}
