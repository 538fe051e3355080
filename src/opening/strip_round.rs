//! Strips cut round base and crown that stay on the walls they are scribed to.
//!
//! Owns the step in a side strip beside old base: its widths below the top of the base are less by its thickness. Where a tongue too
//! thin to keep would be left there, the strip ends on top of the base. The end at crown stays whole until it is traced, for crown
//! slopes.

use super::head_strip::reach;
use super::scribes::{Ordinate, Scribe, THINNEST, blank_width};
use super::sit::Row;
use super::stays::{Staying, reaches};
use super::survey::Survey;
use super::trace::Trace;
use crate::model::WallSide;
use crate::units::{Length, Tape};
use serde::Serialize;

/// What a strip is cut round.
#[derive(Clone, PartialEq, Eq, Debug, Serialize)]
pub struct CutRound {
    /// base or crown.
    pub what: &'static str,
    /// left or right: the wall it stays on.
    pub wall: &'static str,
    /// How far it stands out from the wall.
    pub thick: Length,
    /// How high the base is, how far down the crown comes; null = not measured.
    pub high: Option<Length>,
    /// True where the strip ends on top of it.
    pub ends_on_it: bool,
}

impl CutRound {
    fn crown(stays: &Staying, wall: &'static str) -> Self {
        Self {
            what: "crown",
            wall,
            thick: stays.thick,
            high: stays.high,
            ends_on_it: false,
        }
    }
    /// One sentence.
    pub fn in_words(&self, tape: Tape) -> String {
        let (wall, thick) = (self.wall, tape.print(self.thick));
        let high = self.high.map(|h| tape.print(h));
        match (self.what, high) {
            ("base", Some(high)) if self.ends_on_it => format!(
                "It ends on top of the base that stays on the {wall} wall, {high} up: beside the base under 1/4 in (6 mm) of it would be left. Caulk the joint below."
            ),
            ("base", Some(high)) => format!(
                "Cut it round the base that stays on the {wall} wall, {thick} deep and {high} up from the floor: the widths below the top of the base are to its face. Trace its shape at the top."
            ),
            ("base", None) => format!(
                "Cut it round the base that stays on the {wall} wall, {thick} deep, in place: its height is not measured, and the widths go to the wall."
            ),
            (_, high) => format!(
                "Cut it round the crown that stays on the {wall} wall, in place: trace its shape. It stands {thick} out at the ceiling{}; the widths go to the wall, so leave that end whole until then.",
                high.map_or_else(String::new, |h| format!(" and comes {h} down"))
            ),
        }
    }
}

/// Each strip cut round what stays where it ends. `whole`: the strips as they follow the wall, for one kept plumb stands off it.
pub fn cut_round(strips: Vec<Scribe>, whole: &[Scribe], survey: &Survey, row: &Row) -> Vec<Scribe> {
    let one = |strip: Scribe| {
        let same = whole.iter().find(|w| w.strip == strip.strip);
        let wall = same.map_or_else(Trace::default, |w| {
            Trace::new(w.ordinates.iter().map(|o| (o.at, o.width)).collect())
        });
        match strip.strip.as_str() {
            "left" => strip.beside(survey, row, (WallSide::Left, "left"), &wall),
            "right" => strip.beside(survey, row, (WallSide::Right, "right"), &wall),
            _ => strip.under_crown(survey, row),
        }
    };
    strips.into_iter().map(one).collect()
}

impl Scribe {
    fn beside(
        mut self,
        survey: &Survey,
        row: &Row,
        (wall, name): (WallSide, &'static str),
        whole: &Trace,
    ) -> Self {
        let on = || survey.stays.iter().filter(|t| t.is_on(wall));
        let base = on().filter(|t| !t.overhead);
        if let Some(base) = base.max_by_key(|t| (t.high.is_none(), t.high)) {
            self.round_base((name, base.thick, base.high), whole);
        }
        let crown = on().filter(|t| t.overhead && reaches(survey, t, row.span()).is_some());
        self.cut_round
            .extend(crown.map(|t| CutRound::crown(t, name)));
        self
    }

    fn round_base(
        &mut self,
        (wall, thick, high): (&'static str, Length, Option<Length>),
        whole: &Trace,
    ) {
        let foot = self.ends.first().map_or(Length::ZERO, |o| o.at);
        let mut cut = CutRound {
            what: "base",
            wall,
            thick,
            high,
            ends_on_it: false,
        };
        let Some(top) = high else {
            self.cut_round.push(cut);
            return;
        };
        if top <= foot {
            return;
        }
        let width =
            |at: Length, own: Length| whole.plumb_at(at).map_or(own, |w| own.min(w - thick));
        let own = Trace::new(self.ordinates.iter().map(|o| (o.at, o.width)).collect());
        let full = own.plumb_at(top).unwrap_or_default();
        let below = |o: &&Ordinate| o.at < top;
        let tongue = self.ordinates.iter().chain(&self.ends).filter(below);
        let tongue = tongue.map(|o| width(o.at, o.width));
        cut.ends_on_it = tongue.min().is_some_and(|w| w < THINNEST);
        if cut.ends_on_it {
            self.ends.retain(|o| o.at > top);
            self.ends.insert(
                0,
                Ordinate {
                    at: top,
                    width: full,
                },
            );
            if self.ordinates.iter().any(|o| o.at >= top) {
                self.ordinates.retain(|o| o.at >= top);
            }
            self.blank = [
                blank_width(self.ordinates.iter().chain(&self.ends)),
                self.blank[1] - (top - foot),
            ];
            (self.foot_up, self.foot_open) = (Length::ZERO, false);
        } else {
            let step = Ordinate {
                at: top,
                width: width(top, full),
            };
            for o in self.ordinates.iter_mut().chain(&mut self.ends) {
                if o.at < top {
                    o.width = width(o.at, o.width);
                }
            }
            let at = self.ends.partition_point(|o| o.at < top);
            self.ends.retain(|o| o.at != top);
            let over = Ordinate {
                at: top,
                width: full,
            };
            self.ends.splice(at..at, [step, over]);
        }
        self.cut_round.push(cut);
    }

    /// A head strip goes up to the ceiling, and so into crown on the walls at its ends.
    fn under_crown(mut self, survey: &Survey, row: &Row) -> Self {
        let shape = &survey.shape;
        let closed = reach(shape, row, false).zip(row.ends());
        let walls = [(WallSide::Left, "left"), (WallSide::Right, "right")];
        for (n, (wall, name)) in walls.into_iter().enumerate() {
            let at_wall = closed.is_some_and(|(to, own)| [to.0 != own.0, to.1 != own.1][n]);
            let crown = survey.stays.iter().filter(|t| t.overhead && t.is_on(wall));
            self.cut_round
                .extend(crown.filter(|_| at_wall).map(|t| CutRound::crown(t, name)));
        }
        self
    }
}
