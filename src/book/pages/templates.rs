//! Full-size templates of the scribe strips, on request: the rough line at true scale, tiled over pages that lap, with crosses to
//! lay on one another. Owns the tiles; every figure is the trim plan's.
//!
//! Off unless asked for, because printers shrink pages: each tile has its own test rule.

use super::context::Context;
use crate::book::block::{Block, Figure, PageKind, Section};
use crate::book::draw::{Anchor, Area, Dash, Drawing, Fill, Pen, Point, Text, Weight, pt};
use crate::opening::Ordinate;
use crate::plan::ScribeStrip;
use crate::units::{Length, Unit};

/// Width and height of what one tile shows, in millimetres.
const TILE: [f64; 2] = [249.0, 127.0];
/// How far two tiles lap.
const LAP: f64 = 14.0;
/// Left free under the straight edge, so that it is not lost in the edge of the tile.
const BELOW: f64 = 4.0;
/// Where the tile stands in its figure.
const AT: [f64; 2] = [3.0, 7.0];
/// The whole figure: more than half a page, so that each tile has its own.
const FIGURE: [f64; 2] = [255.0, 145.0];

/// One section for each strip that is scribed.
pub(super) fn templates(ctx: &Context) -> Vec<Section> {
    let Some(plan) = ctx.input.trim.filter(|_| ctx.input.templates) else {
        return Vec::new();
    };
    let scribed = plan.scribes.iter().filter(|s| s.back_bevel > 0);
    scribed.map(|s| section(ctx, s)).collect()
}

fn section(ctx: &Context, strip: &ScribeStrip) -> Section {
    let title = format!("Full-size template, {} strip", strip.strip);
    let shape = Outline::of(strip);
    let [nx, ny] = shape.tiles();
    let intro = "Print at full size, without fitting to the page, and measure the rule on every tile first. Lay tile on tile, cross on \
                 cross of the same number, and tape them together. The curve is the rough line: straight between readings. Leave \
                 1/8 in (3 mm) outside it, hold the strip in place and scribe with the compass.";
    let mut blocks = vec![Block::say(intro)];
    for j in 0..ny {
        for i in 0..nx {
            blocks.push(Block::Figure(tile(ctx, strip, &shape, [i, j])));
        }
    }
    Section {
        kind: PageKind::Templates,
        title: title.clone(),
        bookmark: title,
        lying: true,
        blocks,
    }
}

/// The strip with its straight edge along x from its lower or left end, in millimetres.
struct Outline {
    long: f64,
    /// What its heights are less along the strip: where its lower end stands.
    foot: Length,
    line: Vec<Point>,
}

impl Outline {
    fn of(strip: &ScribeStrip) -> Self {
        let foot = strip.ends.first().map_or(Length::ZERO, |o| o.at);
        let top = strip.ends.last().map_or(strip.blank[1], |o| o.at);
        let mut places: Vec<(Length, Length)> = strip
            .ordinates
            .iter()
            .chain(&strip.ends)
            .filter(|o| o.at >= foot && o.at <= top)
            .map(|o| (o.at - foot, o.width))
            .collect();
        places.sort_unstable();
        // At a step there are two widths at one place.
        places.dedup();
        Self {
            long: (top - foot).as_mm(),
            foot,
            line: places
                .iter()
                .map(|(x, y)| pt(x.as_mm(), y.as_mm()))
                .collect(),
        }
    }
    /// How many tiles along and across.
    fn tiles(&self) -> [usize; 2] {
        let wide = self.line.iter().map(|p| p.y).fold(0.0, f64::max);
        let n = |size: f64, tile: f64| ((size - LAP) / (tile - LAP)).ceil().max(1.0) as usize;
        [n(self.long, TILE[0]), n(wide + BELOW, TILE[1])]
    }
}

/// The part of the strip that a tile shows.
fn window([i, j]: [usize; 2]) -> Area {
    let at = |n: usize, tile: f64| n as f64 * (tile - LAP);
    Area::new(at(i, TILE[0]), at(j, TILE[1]) - BELOW, TILE[0], TILE[1])
}

/// The piece of a straight line inside a window, if any (clipped side by side).
fn clipped(window: Area, a: Point, b: Point) -> Option<[Point; 2]> {
    let (dx, dy) = (b.x - a.x, b.y - a.y);
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    for (p, q) in [
        (-dx, a.x - window.x),
        (dx, window.right() - a.x),
        (-dy, a.y - window.y),
        (dy, window.bottom() - a.y),
    ] {
        if p == 0.0 {
            if q < 0.0 {
                return None;
            }
        } else if p < 0.0 {
            from = from.max(q / p);
        } else {
            to = to.min(q / p);
        }
    }
    let on = |t: f64| pt(a.x + t * dx, a.y + t * dy);
    (from < to).then(|| [on(from), on(to)])
}

/// What a cross keeps clear around it, with its mark over it: to both sides, below and above.
const CLEAR: [f64; 3] = [6.5, 6.5, 9.5];
/// Where the sizes stand over the lower edge of a tile: no cross there.
const FIGURES: [f64; 2] = [22.0, 39.0];
/// How high over it a size may stand, the usual one first.
const HEIGHTS: [f64; 4] = [32.0, 27.5, 23.0, 36.0];
/// Width of a letter of a size, at most.
const LETTER: f64 = 1.5;

impl Outline {
    /// True where no line of the strip crosses a cross put there.
    fn free(&self, at: Point) -> bool {
        let [side, below, above] = CLEAR;
        let place = Area::new(at.x - side, at.y - below, 2.0 * side, below + above);
        let ends = [pt(0.0, 0.0), pt(self.long, 0.0)];
        let edges = self.line.windows(2).chain(std::iter::once(&ends[..]));
        let uprights = self.line.iter().map(|p| [pt(p.x, 0.0), *p]);
        !edges
            .map(|e| [e[0], e[1]])
            .chain(uprights)
            .any(|[a, b]| clipped(place, a, b).is_some())
    }
    /// The first of these places that is free; the usual one where none is.
    fn first_free(&self, usual: Point, tried: impl Iterator<Item = Point>) -> Point {
        std::iter::once(usual)
            .chain(tried)
            .find(|p| self.free(*p))
            .unwrap_or(usual)
    }
}

/// Crosses of the whole strip, clear of its lines: place, and the number of the join they belong to.
fn crosses(shape: &Outline) -> Vec<(Point, String)> {
    let [nx, ny] = shape.tiles();
    let millimetres = |from: f64, to: f64| {
        let n = (to - from).abs() as usize;
        (0..=n).map(move |k| from + (to - from).signum() * k as f64)
    };
    let join = |n: usize, tile: f64| n as f64 * (tile - LAP) + LAP / 2.0;
    let mut all = Vec::new();
    for j in 0..ny {
        let w = window([0, j]);
        for i in 1..nx {
            let x = join(i, TILE[0]);
            let (low, high) = (w.y + 12.0, w.bottom() - 12.0);
            let figures = |y: &f64| *y < w.y + FIGURES[0] || *y > w.y + FIGURES[1];
            let on = |y: f64| pt(x, y);
            let up = millimetres(low, high).filter(figures).map(on);
            let down = millimetres(high, low).filter(figures).map(on);
            let a = shape.first_free(on(low), up);
            let b = shape.first_free(on(high), down);
            for (at, end) in [(a, "a"), (b, "b")] {
                let name = if ny > 1 {
                    format!("{}.{i}{end}", j + 1)
                } else {
                    format!("{i}{end}")
                };
                all.push((at, name));
            }
        }
    }
    for i in 0..nx {
        let w = window([i, 0]);
        for j in 1..ny {
            let (left, right) = (w.x + 40.0, w.right() - 40.0);
            let on = |x: f64| pt(x, join(j, TILE[1]) - BELOW);
            let c = shape.first_free(on(left), millimetres(left, right).map(on));
            let d = shape.first_free(on(right), millimetres(right, left).map(on));
            for (at, end) in [(c, "c"), (d, "d")] {
                all.push((at, format!("{j}.{}{end}", i + 1)));
            }
        }
    }
    all
}

fn tile(ctx: &Context, strip: &ScribeStrip, shape: &Outline, [i, j]: [usize; 2]) -> Figure {
    let tape = ctx.tape.for_scribing();
    let [nx, ny] = shape.tiles();
    let w = window([i, j]);
    // Up from the straight edge on the strip is up on the page.
    let place = |p: Point| pt(AT[0] + p.x - w.x, AT[1] + TILE[1] - (p.y - w.y));
    let mut d = Drawing::new();
    let frame = Area::new(AT[0], AT[1], TILE[0], TILE[1]);
    d.rect(frame, Fill::None, Some(Pen::broken(0.18, Dash::Dotted)));
    let mut segment = |a: Point, b: Point, pen: Pen| {
        if let Some([a, b]) = clipped(w, a, b) {
            d.line(place(a), place(b), pen);
        }
    };
    for pair in shape.line.windows(2) {
        segment(pair[0], pair[1], Pen::solid(0.7));
    }
    let far = shape.long;
    segment(pt(0.0, 0.0), pt(far, 0.0), Pen::WIDE);
    let (first, last) = (shape.line.first(), shape.line.last());
    for end in first.into_iter().chain(last) {
        segment(pt(end.x, 0.0), *end, Pen::NARROW);
    }
    let mut twin = Vec::new();
    let number = j * nx + i + 1;
    let name = format!("{} strip, tile {number} of {}", strip.strip, nx * ny);
    let along = |o: &Ordinate| (o.at - shape.foot).as_mm();
    let inside = |x: f64| x >= w.x.max(0.0) && x <= w.right();
    let mut places: Vec<_> = strip.ordinates.iter().chain(&strip.ends).collect();
    places.sort_by_key(|o| (o.at, o.width));
    places.dedup_by_key(|o| (o.at, o.width));
    let mut reached = [f64::MIN; HEIGHTS.len()];
    for o in places
        .into_iter()
        .filter(|o| inside(along(o)) && along(o) <= far)
    {
        let (x, y) = (along(o), o.width.as_mm());
        if let Some([a, b]) = clipped(w, pt(x, 0.0), pt(x, y)) {
            d.line(place(a), place(b), Pen::NARROW);
        }
        let words = format!("{} at {}", tape.print(o.width), tape.print(o.at));
        twin.push(format!("  {words}"));
        let near_end = x > w.right() - 45.0;
        let (anchor, off) = if near_end {
            (Anchor::Right, -1.5)
        } else {
            (Anchor::Left, 1.5)
        };
        let wide = LETTER * words.chars().count() as f64;
        let from = if near_end { x - wide } else { x };
        // Clear of the curve and of the sizes before it; where it is too close for that, as usual.
        let clear = |n: &usize| {
            let low = w.y + HEIGHTS[*n];
            reached[*n] <= from && (y < low - 1.0 || y > low + 4.0)
        };
        let n = (0..HEIGHTS.len()).find(clear).unwrap_or(0);
        reached[n] = from + wide;
        let at = place(pt(x + off, w.y + HEIGHTS[n]));
        d.text(Text::new(at, 2.5, Weight::Regular, &words).anchored(anchor));
    }
    for (at, mark) in crosses(shape)
        .into_iter()
        .filter(|(at, _)| at.x > w.x && at.x < w.right() && at.y > w.y && at.y < w.bottom())
    {
        let p = place(at);
        d.line(pt(p.x - 5.0, p.y), pt(p.x + 5.0, p.y), Pen::NARROW);
        d.line(pt(p.x, p.y - 5.0), pt(p.x, p.y + 5.0), Pen::NARROW);
        d.circle(p, 2.0, Fill::None, Some(Pen::NARROW));
        d.say_centred(pt(p.x, p.y - 6.0), 2.5, Weight::Bold, &mark);
    }
    d.say(pt(AT[0], 4.5), 3.5, Weight::Bold, &name);
    let at_left = if strip.is_head() {
        "the left end"
    } else {
        "its foot"
    };
    let words = &format!(
        "straight edge: {}; {at_left} is at the left",
        strip.straight_edge
    );
    if !strip.is_head() {
        let right = pt(AT[0] + TILE[0], 4.5);
        let said = "heights are up from the floor";
        d.say_right(right, 2.5, Weight::Regular, said);
    }
    if j == 0 {
        d.say(
            pt(AT[0], AT[1] + TILE[1] + 4.0),
            2.5,
            Weight::Regular,
            words,
        );
    }
    let rule = pt(AT[0] + 120.0, AT[1] + TILE[1] + 8.0);
    let (step, marks, fine, last, bar) = match ctx.tape.unit {
        Unit::Inch => (25.4, 4, 8, "must be 4 in", "4 in"),
        Unit::Mm => (10.0, 10, 10, "must be 100 mm", "100 mm"),
    };
    d.test_rule(rule, step, marks, fine, last);
    twin.insert(
        0,
        format!("{name}: {words}. Test rule of {bar} on the page."),
    );
    Figure {
        size: FIGURE,
        drawing: d,
        twin,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn strip() -> ScribeStrip {
        let o = |at, width| Ordinate {
            at: Length::inches(at),
            width: Length::in_64(width),
        };
        ScribeStrip {
            straight_edge: "the inside face of the box side",
            strip: "left".into(),
            blank: [Length::inches(3), Length::inches(90)],
            ordinates: vec![o(0, 138), o(48, 106), o(95, 122)],
            ends: vec![o(0, 138), o(90, 120)],
            back_bevel: 5,
            follows: "wall".into(),
            leaves: Length::ZERO,
            foot: String::new(),
            foot_up: Length::ZERO,
            foot_open: false,
            cut_round: Vec::new(),
            warnings: Vec::new(),
        }
    }

    /// 90 in are 2 286 mm; a tile shows 249 and laps 14, so nine tiles reach 9 x 235 + 14 = 2 129 and ten are needed.
    #[test]
    fn tiles_cover_the_strip_and_crosses_stand_on_both_neighbours() {
        let shape = Outline::of(&strip());
        assert_eq!(shape.tiles(), [10, 1]);
        let last = window([9, 0]);
        assert!(last.x < 2286.0 && last.right() >= 2286.0);
        let all = crosses(&shape);
        assert_eq!(all.len(), 18);
        for (at, mark) in &all {
            let on = (0..10).filter(|i| {
                let w = window([*i, 0]);
                at.x > w.x && at.x < w.right()
            });
            assert_eq!(on.count(), 2, "{mark}");
        }
        // Two tiles high: crosses on the joins across, too.
        let high = Outline {
            long: 400.0,
            foot: Length::ZERO,
            line: vec![pt(0.0, 180.0), pt(400.0, 190.0)],
        };
        assert_eq!(high.tiles(), [2, 2]);
        assert!(crosses(&high).iter().all(|(at, mark)| {
            let on = [[0, 0], [1, 0], [0, 1], [1, 1]].into_iter().filter(|t| {
                let w = window(*t);
                at.x > w.x && at.x < w.right() && at.y > w.y && at.y < w.bottom()
            });
            let n = on.count();
            assert!(n >= 2, "{mark}");
            n >= 2
        }));
    }

    /// A strip 10 to 14 mm wide runs through the usual places of the lower crosses, one of 104 to 112 mm through those of the upper; a
    /// reading stands on the first join. No cross is crossed, and both of a join still stand apart.
    #[test]
    fn no_line_of_the_strip_runs_through_a_cross() {
        let narrow = Outline {
            long: 700.0,
            foot: Length::ZERO,
            line: vec![pt(0.0, 10.0), pt(242.0, 14.0), pt(700.0, 9.0)],
        };
        let wide = Outline {
            long: 700.0,
            foot: Length::ZERO,
            line: vec![pt(0.0, 108.0), pt(120.0, 112.0), pt(700.0, 104.0)],
        };
        for shape in [narrow, wide] {
            let all = crosses(&shape);
            assert_eq!(all.len(), 4, "two joins, two crosses each");
            for (at, mark) in &all {
                assert!(shape.free(*at), "{mark} at {at:?}");
            }
            for pair in all.chunks(2) {
                assert!((pair[1].0.y - pair[0].0.y).abs() > 20.0, "{pair:?}");
            }
        }
    }

    /// A line is drawn as long as it is: half an inch of rise over the tile stays half an inch.
    #[test]
    fn lines_are_cut_off_at_the_tile_and_keep_their_scale() {
        let w = Area::new(100.0, 0.0, 246.0, 112.0);
        let cut = clipped(w, pt(0.0, 50.0), pt(400.0, 90.0)).expect("it crosses");
        for (found, hand) in [
            (cut[0].x, 100.0),
            (cut[0].y, 60.0),
            (cut[1].x, 346.0),
            (cut[1].y, 84.6),
        ] {
            assert!((found - hand).abs() < 1e-9, "{cut:?}");
        }
        assert!(clipped(w, pt(0.0, 50.0), pt(90.0, 50.0)).is_none());
    }
}
