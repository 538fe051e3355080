//! How a moulding ends at a wall: against it, at an old moulding that runs through there, or round the corner of an open end. Owns what
//! each end adds to the long point and takes off the short one.
//!
//! A coped end is mitred first, with its long point at the back of the profile, in the corner of the wall; its front edge ends at the
//! old moulding's face. Common practice, no source.

use super::angles::{crown_flat, quarter};
use super::closing::Returned;
use super::pieces::end;
use crate::model::{EndCut, Meeting, OldMoulding, StockRow, TrimEnd, TrimFacts};
use crate::units::Length;

/// One end of a piece.
pub(super) struct Fit {
    pub(super) end: TrimEnd,
    /// Added to the wall's (or the row's) place at the long point; less than nothing where it stops before the wall.
    pub(super) long: Length,
    /// Taken off that place at the short point.
    pub(super) short: Length,
}

/// A moulding along the floor or under the ceiling, and what its ends depend on.
pub(super) struct Along<'a> {
    pub(super) facts: &'a TrimFacts,
    pub(super) row: &'a StockRow,
    /// base, shoe, crown.
    pub(super) what: &'a str,
    /// Degrees between the back of crown and the wall.
    pub(super) spring: f64,
    /// Old moulding that stays on the walls at its ends.
    pub(super) stays: [Option<OldMoulding>; 2],
    pub(super) back: &'a Returned,
}

impl Along<'_> {
    /// The left (0) or the right end.
    pub(super) fn fit(&self, n: usize) -> Fit {
        let (facts, what) = (self.facts, self.what);
        if facts.open[n] {
            return Fit {
                end: self.back.end.clone(),
                long: self.back.adds,
                short: Length::ZERO,
            };
        }
        let at = &facts.ends_at[n];
        if what == "crown" && at.contains("row") {
            let note = format!("crown of the {at} runs through, long point at the back");
            return Fit {
                end: self.mitred(EndCut::Cope, &note),
                long: Length::ZERO,
                short: self.back.adds,
            };
        }
        let Some(old) = self.stays[n] else {
            let both = facts.open.iter().all(|o| !o);
            let spring = if both { ", spring in" } else { "" };
            return Fit {
                end: end(EndCut::Butt, None, &format!("{at}{spring}")),
                long: Length::ZERO,
                short: Length::ZERO,
            };
        };
        let crown = what == "crown";
        let thick = old.thick.unwrap_or_default();
        let higher = self.row.width.zip(old.high).filter(|(own, old)| own > old);
        if let Some((_, high)) = higher.filter(|_| what == "base") {
            let tape = facts.tape.for_scribing();
            let note = format!(
                "{at}, cut round the old base there: {} deep, {} high",
                tape.print(thick),
                tape.print(high)
            );
            return Fit {
                end: end(EndCut::Butt, None, &note),
                long: Length::ZERO,
                short: thick,
            };
        }
        match facts.meeting {
            // Nothing butts against the slope of a crown.
            Meeting::Butt if !crown => Fit {
                end: end(
                    EndCut::Butt,
                    None,
                    &format!("old {what} on the {at} runs through"),
                ),
                long: -thick,
                short: thick,
            },
            Meeting::Mitre => {
                let own = match crown {
                    true => self.back.adds,
                    false => self.row.thickness().unwrap_or_default(),
                };
                let note = format!("old {what} on the {at}, long point at the back");
                Fit {
                    end: self.mitred(EndCut::Mitre, &note),
                    long: Length::ZERO,
                    short: own,
                }
            }
            _ => {
                let note = format!("old {what} on the {at} runs through, long point at the back");
                Fit {
                    end: self.mitred(EndCut::Cope, &note),
                    long: Length::ZERO,
                    short: thick,
                }
            }
        }
    }

    /// An inside corner; no reading of the survey gives the one between front and side wall: taken as square, and said.
    fn mitred(&self, cut: EndCut, note: &str) -> TrimEnd {
        let mut made = end(EndCut::Mitre, Some(90.0), note);
        if self.what == "crown" {
            let set = crown_flat(90.0, self.spring);
            (made.saw, made.bevel) = (quarter(set.mitre), quarter(set.bevel));
        }
        TrimEnd { cut, ..made }
    }

    /// What is to be known of its coped ends and of its corners at old mouldings.
    pub(super) fn notes(&self) -> Vec<String> {
        let (facts, what) = (self.facts, self.what);
        let at_old = [0, 1].map(|n: usize| self.stays[n].filter(|_| !facts.open[n]));
        let mut list = Vec::new();
        if at_old.iter().all(Option::is_none) {
            return list;
        }
        list.push(format!(
            "The corners at the old {what} were not read and are taken as 90: check them with a bevel."
        ));
        let cuts = [0, 1].map(|n| self.fit(n).end.cut);
        if cuts.contains(&EndCut::Cope) {
            list.push(
                "Coped ends: cut the inside mitre first, its long point at the back of the profile, then saw back along the front edge of that cut. The long point is from the corner of the wall; the short point is the front edge, at the face of the old moulding."
                    .into(),
            );
            let own = self.row.thickness().filter(|_| what == "base");
            let others = at_old.iter().flatten().filter_map(|o| o.thick);
            let other = own.and_then(|own| others.into_iter().find(|t| *t != own));
            if let Some((own, old)) = own.zip(other) {
                let tape = facts.tape.for_scribing();
                list.push(format!(
                    "{} is {} thick and the old base {}: where their profiles differ, trace the old one on the end and saw to that line.",
                    self.row.item,
                    tape.print(own),
                    tape.print(old)
                ));
            }
        }
        if at_old.iter().flatten().any(|o| o.thick.is_none()) {
            list.push(format!(
                "How far the old {what} stands out is not measured: measure the piece in place before it is cut."
            ));
        }
        list
    }
}
