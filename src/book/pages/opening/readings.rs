//! The survey elevation: every reading at its place, the level line and both plumb lines, the largest box dashed, and what is to
//! be kept clear; below it the plan with the depths.

use super::ground::{
    BESIDE_WALLS, CHAIN, DASHED, Outline, Spot, View, apart, bar, figure, rise, scale_for, span,
};
use crate::book::block::Figure;
use crate::book::draw::{Anchor, Dash, Drawing, Fill, Pen, Weight, pt};
use crate::book::pages::context::Context;
use crate::model::{Opening, Station, WallSide};
use crate::opening::{
    Face, ReadingAt as At, Side, all_readings, reading, reading_path, reading_words,
};
use crate::plan::Fitted;
use crate::units::Length;

/// The elevation; `None` where the shape is not known.
pub(super) fn elevation(ctx: &Context, opening: &Opening, fitted: &Fitted) -> Option<Figure> {
    let shape = &fitted.survey.shape;
    let outline = Outline::of(&shape.front)?;
    let (view, scale) = outline.elevation(ctx.tape.unit);
    let (low, _) = outline.extent();
    let mut page = Page {
        ctx,
        opening,
        fitted,
        view,
        outline: &outline,
        d: Drawing::new(),
    };
    outline.draw(&mut page.d, &view, Pen::WIDE);
    page.lines();
    page.diagonals();
    page.widths();
    page.levels();
    page.gaps();
    page.keep_clear();
    page.largest();
    let foot = view.y(low.1) + 15.0;
    bar(&mut page.d, pt(view.x(low.0), foot), ctx.tape.unit, scale);
    let legend = "Dashed: largest level, plumb box. Dash-dot: level and plumb lines. Framed: take again, or not read yet.";
    page.d
        .say(pt(0.0, foot + 5.0), 2.5, Weight::Regular, legend);
    let mut twin = vec!["Readings, in the order they are taken:".to_owned()];
    for at in all_readings(opening) {
        let value = reading(opening, at).map_or_else(|| "? (not read yet)".into(), |l| ctx.size(l));
        let again = if fitted.provisional.contains(&reading_path(opening, at))
            && reading(opening, at).is_some()
        {
            ", TAKE AGAIN"
        } else {
            ""
        };
        twin.push(format!(
            "  {}: {value}{again}",
            reading_words(opening, at, ctx.tape)
        ));
    }
    Some(Figure {
        size: [178.0, foot + 7.0],
        drawing: page.d,
        twin,
    })
}

struct Page<'a> {
    ctx: &'a Context<'a>,
    opening: &'a Opening,
    fitted: &'a Fitted,
    view: View,
    outline: &'a Outline,
    d: Drawing,
}

impl Page<'_> {
    /// Not read, or to be taken again.
    fn doubtful(&self, at: At) -> bool {
        let path = reading_path(self.opening, at);
        reading(self.opening, at).is_none() || self.fitted.provisional.contains(&path)
    }
    fn value(&self, at: At) -> String {
        reading(self.opening, at).map_or_else(|| "?".into(), |l| self.ctx.size(l))
    }
    fn ends(&self, low: bool) -> (Spot, Spot) {
        let line = if low {
            &self.outline.floor
        } else {
            &self.outline.ceiling
        };
        (line[0], line[line.len() - 1])
    }

    fn lines(&mut self) {
        let v = self.view;
        let (low, high) = self.outline.extent();
        let y = v.y(Length::ZERO);
        self.d
            .line(pt(v.x(low.0) - 4.0, y), pt(v.x(high.0) + 4.0, y), CHAIN);
        let apart = self.fitted.survey.shape.apart().unwrap_or_default();
        for x in [Length::ZERO, apart] {
            let x = v.x(x);
            self.d
                .line(pt(x, v.y(high.1) - 1.0), pt(x, v.y(low.1) + 1.0), CHAIN);
        }
        let text = format!("{} between the plumb lines", self.value(At::Apart));
        let framed = self.doubtful(At::Apart);
        span(
            &mut self.d,
            [v.x(Length::ZERO), v.x(apart)],
            y + 9.0,
            0.3,
            &text,
            framed,
        );
        let at = pt(v.x(apart / 4), y - 1.4);
        self.d.say_centred(at, 2.5, Weight::Bold, "LEVEL LINE");
    }

    fn keep_clear(&mut self) {
        let shape = &self.fitted.survey.shape;
        for k in self
            .opening
            .keep_clear
            .iter()
            .filter(|k| k.wall == WallSide::Back)
        {
            let (Some(from), Some(up), Some(w), Some(h)) = (k.from_left, k.up, k.width, k.height)
            else {
                continue;
            };
            let x = shape.x_from_left(from);
            let y = up - shape.front.floor.at(x).unwrap_or_default();
            let area = self.view.area((x, y), [w, h]);
            self.d.rect(area, Fill::None, Some(DASHED));
            let at = pt(area.x, area.y - 1.2);
            figure(&mut self.d, at, Anchor::Left, &k.what, false);
        }
        for s in &self.opening.soffits {
            let (Some(from), Some(w), Some(down)) = (s.from_left, s.width, s.down) else {
                continue;
            };
            let x = shape.x_from_left(from);
            let Some(top) = shape.front.ceiling.lowest_between(x, x + w) else {
                continue;
            };
            let area = self.view.area((x, top - down), [w, down]);
            self.d.rect(area, Fill::None, Some(Pen::WIDE));
            self.d.hatch(area, 2.5);
        }
    }

    fn largest(&mut self) {
        let (shape, size) = (&self.fitted.survey.shape, self.fitted.survey.largest_box);
        let (Some(w), Some(h), Some(down)) = (size.width, size.height, shape.least_down()) else {
            return;
        };
        let left = shape
            .least_gap(Side::Left, -down, h - down)
            .unwrap_or_default();
        let area = self.view.area((-left, -down), [w, h]);
        self.d.rect(area, Fill::None, Some(DASHED));
        let deep = size.depth.map_or_else(|| "?".into(), |d| self.ctx.size(d));
        let lines = [
            "LARGEST BOX".to_owned(),
            format!("{} wide", self.ctx.size(w)),
            format!("{} high", self.ctx.size(h)),
            format!("{deep} deep"),
        ];
        let (x, y) = (
            area.x + area.w * 0.73,
            self.view.y(Length::ZERO) - area.h * 0.26,
        );
        for (i, line) in lines.iter().enumerate() {
            figure(
                &mut self.d,
                pt(x, y + 4.4 * i as f64),
                Anchor::Centre,
                line,
                false,
            );
        }
    }

    fn diagonals(&mut self) {
        let ((a, b), (c, e)) = (self.ends(true), self.ends(false));
        for (at, from, to) in [(At::DiagonalUpRight, a, e), (At::DiagonalUpLeft, b, c)] {
            if reading(self.opening, at).is_none() {
                continue;
            }
            let (p, q) = (self.view.at(from), self.view.at(to));
            self.d.line(p, q, Pen::broken(0.25, Dash::Dotted));
            let label = pt(p.x + (q.x - p.x) * 0.24, p.y + (q.y - p.y) * 0.24);
            let (text, framed) = (self.value(at), self.doubtful(at));
            figure(&mut self.d, label, Anchor::Centre, &text, framed);
        }
    }

    fn widths(&mut self) {
        let v = self.view;
        let front = &self.fitted.survey.shape.front;
        let (low, high) = self.outline.extent();
        for (i, h) in self.opening.tape.width_at.iter().enumerate() {
            let y = *h + front.left_zero;
            let (Some(l), Some(r)) = (front.wall_x(Side::Left, y), front.wall_x(Side::Right, y))
            else {
                continue;
            };
            // At floor and ceiling the line stands outside, clear of them.
            let paper = if v.y(y) > v.y(low.1) - 6.0 {
                v.y(low.1) + 6.0
            } else if v.y(y) < v.y(high.1) + 6.0 {
                v.y(high.1) - 6.0
            } else {
                v.y(y) - 3.0
            };
            let at = At::Width(i);
            let text = format!("{} tape", self.value(at));
            let framed = self.doubtful(at);
            span(&mut self.d, [v.x(l), v.x(r)], paper, 0.32, &text, framed);
        }
    }

    fn levels(&mut self) {
        let level = &self.opening.level_line;
        let (v, line) = (self.view, self.view.y(Length::ZERO));
        for (list, low) in [(&level.down_to_floor, true), (&level.up_to_ceiling, false)] {
            let (a, b) = self.ends(low);
            for (i, s) in list.iter().enumerate() {
                let at = if low {
                    At::Down(Face::Front, i)
                } else {
                    At::Up(Face::Front, i)
                };
                let x = v
                    .x(self.station(s, a.0, b.0))
                    .clamp(v.x(a.0) + 9.0, v.x(b.0) - 9.0);
                let value = s.front.unwrap_or(if low { -a.1 } else { a.1 });
                let end = v.y(if low { -value } else { value });
                let (text, framed) = (self.value(at), self.doubtful(at));
                rise(
                    &mut self.d,
                    x,
                    [line, end],
                    if low { 0.85 } else { 0.42 },
                    &text,
                    framed,
                );
            }
        }
    }

    fn station(&self, s: &Station, left: Length, right: Length) -> Length {
        match (s.from_left, s.name.as_str()) {
            (Some(x), _) => left + x,
            (None, "left") => left,
            (None, "right") => right,
            _ => (left + right) / 2,
        }
    }

    fn gaps(&mut self) {
        let (v, plumb) = (self.view, &self.opening.plumb_lines);
        let front = &self.fitted.survey.shape.front;
        let (low, high) = self.outline.extent();
        let plumb_x = [
            Length::ZERO,
            self.fitted.survey.shape.apart().unwrap_or_default(),
        ];
        for (side, edge, line) in [
            (Side::Left, low.0, plumb_x[0]),
            (Side::Right, high.0, plumb_x[1]),
        ] {
            let zero = if side == Side::Left {
                front.left_zero
            } else {
                front.right_zero
            };
            let places: Vec<f64> = plumb.height.iter().map(|h| v.y(*h + zero)).collect();
            let labels = apart(places.clone(), 4.4);
            let way = if side == Side::Left { -1.0 } else { 1.0 };
            let anchor = if side == Side::Left {
                Anchor::Right
            } else {
                Anchor::Left
            };
            let near = v.x(edge) + way * 2.5;
            let far = v.x(edge) + way * 21.0;
            for (i, h) in plumb.height.iter().enumerate() {
                let at = At::Gap(side, Face::Front, i);
                let wall = front.wall_x(side, *h + zero).unwrap_or(edge);
                let tick = [pt(v.x(line), places[i]), pt(v.x(wall), places[i])];
                self.d.line(tick[0], tick[1], Pen::NARROW);
                let (text, framed) = (self.value(at), self.doubtful(at));
                figure(
                    &mut self.d,
                    pt(near, labels[i] + 1.2),
                    anchor,
                    &text,
                    framed,
                );
                figure(
                    &mut self.d,
                    pt(far, labels[i] + 1.2),
                    anchor,
                    &self.ctx.size(*h),
                    false,
                );
            }
            let top = v.y(high.1) - 9.0;
            figure(&mut self.d, pt(near, top), anchor, "gap", false);
            figure(&mut self.d, pt(far, top), anchor, "at", false);
        }
    }
}

/// The plan with the depths as read; `None` where none was read at the left, in the middle or at the right.
pub(super) fn depths(ctx: &Context, opening: &Opening, fitted: &Fitted) -> Option<Figure> {
    let outline = Outline::of(&fitted.survey.shape.front)?;
    let (low, high) = outline.extent();
    let place = |name: &str| {
        let last = name
            .rsplit('.')
            .find(|n| ["left", "middle", "right"].contains(n))?;
        Some(match last {
            "left" => low.0,
            "right" => high.0,
            _ => (low.0 + high.0) / 2,
        })
    };
    let mut read: Vec<(usize, Length, Length)> = Vec::new();
    for (i, (name, depth)) in opening.tape.depth.iter().enumerate() {
        if let (Some(x), Some(d)) = (place(name), depth)
            && read.iter().all(|r| r.1 != x)
        {
            read.push((i, x, *d));
        }
    }
    read.sort_by_key(|r| r.1);
    let most = read.iter().map(|r| r.2).max()?;
    let size = [(high.0 - low.0).as_mm(), most.as_mm()];
    let scale = scale_for(ctx.tape.unit, size, [178.0 - 2.0 * BESIDE_WALLS, 45.0]);
    let left = (178.0 - size[0] / scale) / 2.0;
    // Up on paper is toward the back wall; the front is nought.
    let view = View::new(scale, (low.0, most), pt(left, 6.0));
    let mut d = Drawing::new();
    let mut back: Vec<Spot> = read.iter().map(|r| (r.1, r.2)).collect();
    let (first, last) = (back[0].1, back[back.len() - 1].1);
    back.insert(0, (low.0, first));
    back.push((high.0, last));
    d.path(view.path(&back), Pen::WIDE);
    for (x, depth) in [(low.0, first), (high.0, last)] {
        d.line(view.at((x, Length::ZERO)), view.at((x, depth)), Pen::WIDE);
    }
    let front = view.y(Length::ZERO);
    d.line(
        pt(view.x(low.0) - 4.0, front),
        pt(view.x(high.0) + 4.0, front),
        CHAIN,
    );
    let mut twin = vec!["Plan, looking down, the back wall at the top: depths as read.".to_owned()];
    for (i, x, depth) in &read {
        let at = At::Depth(*i);
        let framed = fitted.provisional.contains(&reading_path(opening, at));
        let paper = view.x(*x).clamp(view.x(low.0) + 8.0, view.x(high.0) - 8.0);
        rise(
            &mut d,
            paper,
            [view.y(*depth), front],
            0.5,
            &ctx.size(*depth),
            framed,
        );
        twin.push(format!(
            "  {}: {}",
            reading_words(opening, at, ctx.tape),
            ctx.size(*depth)
        ));
    }
    d.say(pt(0.0, 3.0), 2.5, Weight::Bold, "PLAN, looking down");
    d.say(
        pt(view.x(low.0), front + 5.0),
        2.5,
        Weight::Regular,
        "front of the opening",
    );
    Some(Figure {
        size: [178.0, front + 8.0],
        drawing: d,
        twin,
    })
}
