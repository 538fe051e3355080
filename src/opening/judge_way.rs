//! The verdict on standing the boxes of a run up and bringing them in, with the sheets and cartons they come from.

use super::fit::RouteFit;
use super::judge::{Verdict, capital, resize, together};
use super::shape::Face;
use super::sit::{self, Row};
use super::stand::{self, StandUp};
use super::survey::Survey;
use crate::model::{Job, Opening, PrefabUnit, Run, StandsOn, StockKind, WallSide};
use crate::units::Length;

/// Standing up, and the way in, of the boxes, frames, sheets and cartons of one run.
pub(crate) fn judge_way(
    out: &mut RouteFit,
    v: &mut Verdict,
    (job, opening, survey): (&Job, &Opening, &Survey),
    (run, row, frames): (&Run, &Row, &[&PrefabUnit]),
) {
    let stands = stand::stand_up(opening, survey, row);
    let cannot = stand::cannot_be_stood(&stands);
    out.can_be_stood &= cannot.is_empty();
    if !cannot.is_empty() {
        let short = |ways: &Vec<&StandUp>| {
            ways.iter()
                .map(|s| s.short_by)
                .filter(|s| s.is_positive())
                .min()
        };
        let most = cannot.iter().filter_map(short).max().unwrap_or_default();
        let by = v.up(most);
        let all: Vec<&StandUp> = cannot.iter().flatten().copied().collect();
        let no_floor = all.iter().all(|s| s.goes || s.no_floor);
        // Of boxes that differ those that cannot be stood up are named.
        let who = if stands.iter().all(|s| s.what == stands[0].what) {
            "the tallest box".to_owned()
        } else {
            let names: Vec<&str> = cannot.iter().map(|k| k[0].what.as_str()).collect();
            names.join(", ")
        };
        v.no(
            if no_floor {
                format!("There is nowhere floor enough to lay {who} down and stand it up.")
            } else {
                format!("{} can nowhere be stood up: {by} short.", upper(&who))
            },
            if run.has_boxes() {
                format!("Make the boxes {by} lower, or build them in two, one on the other.")
            } else {
                format!("{}.", capital(&resize(run, &by, "lower")))
            },
        );
    } else if stands.iter().any(|s| s.place == stand::ON_BASE && !s.goes) {
        out.cautions.push(
            "Stand each box up off the base, then lift it on: it cannot be tilted up on the base. Two people."
                .into(),
        );
    }
    if run.has_boxes() || frames.iter().any(|f| f.carton.is_none()) {
        let things: Vec<_> = row
            .boxes
            .iter()
            .map(|b| (format!("box {}", b.name), [b.height, b.width, b.depth]))
            .collect();
        for p in stand::way_in(opening, &things)
            .into_iter()
            .filter(|p| !p.goes)
        {
            v.no(
                format!(
                    "{} does not go through the {}: {}.",
                    p.what, p.through, p.how
                ),
                together(run, "inside"),
            );
            if let Some(mend) = to_pass(v, opening, run, (&p, &things)) {
                v.mend(mend);
            }
        }
        out.way_in.extend(stand::way_in(opening, &things));
    }
    let mut things: Vec<(String, [Length; 3])> = frames
        .iter()
        .filter_map(|f| Some((format!("carton of {}", f.unit), f.carton?.size)))
        .collect();
    if run.has_boxes() {
        things.extend(job.stock.iter().filter_map(|s| {
            let ours = [&run.material, &run.back]
                .iter()
                .any(|m| m.as_deref() == Some(&*s.item));
            if !ours || s.kind != StockKind::Sheet {
                return None;
            }
            Some((
                format!("sheet {}", s.item),
                [s.length?, s.width?, s.thickness()?],
            ))
        }));
    }
    for p in stand::way_in(opening, &things) {
        if !p.goes {
            v.no(
                format!(
                    "{} does not go through the {}: {}.",
                    p.what, p.through, p.how
                ),
                if run.has_boxes() {
                    "Have the sheets cut smaller at the store."
                } else {
                    "Unpack the carton outside."
                }
                .into(),
            );
        }
        if !out.way_in.contains(&p) {
            out.way_in.push(p);
        }
    }
    // 27 in and 3.2 cu ft: 16 CFR 1261 and ASTM F2057-23, S69 and S70, for storage that stands loose.
    if frames.iter().any(|f| in_scope(f)) {
        out.cautions.push(
            "A bought frame tips over until it is screwed to studs: fix each one before the next is set, and before it is loaded."
                .into(),
        );
    }
    if frames.iter().any(|f| f.stands_on == StandsOn::OwnFeet) {
        let most = sit::shims(&survey.shape, Face::Front)
            .into_iter()
            .max()
            .unwrap_or_default();
        for f in frames
            .iter()
            .filter(|f| f.foot_adjust.is_some_and(|a| a < most))
        {
            out.cautions.push(format!(
                "The feet of {} do not screw out far enough for this floor: shim under them.",
                f.unit
            ));
        }
    }
    for mut s in stands {
        if run.wall != WallSide::Back {
            s.what = format!("{}, {} wall", s.what, run.wall.word());
        }
        if !out.stand_up.contains(&s) {
            out.stand_up.push(s);
        }
    }
}

/// True for a frame that the tip-over rules for loose clothing storage cover: 27 in and 3.2 cu ft, an inside that does not pull
/// out counted half.
fn in_scope(f: &PrefabUnit) -> bool {
    let inside = [
        f.inside_width.or(f.width),
        f.inside_height.or(f.height),
        f.inside_depth.or(f.depth),
    ];
    let [Some(w), Some(h), Some(d)] = inside else {
        return f.height.is_some_and(|h| h >= Length::inches(27));
    };
    f.height.unwrap_or(h) >= Length::inches(27) && half_cubic_feet(w, h, d) >= 3.2
}

/// Half the inside, in cubic feet.
fn half_cubic_feet(w: Length, h: Length, d: Length) -> f64 {
    0.5 * w.as_inches() * h.as_inches() * d.as_inches() / 1728.0
}

/// The least change of one size with which a box that does not go through passes.
fn to_pass(
    v: &Verdict,
    opening: &Opening,
    run: &Run,
    (p, things): (&stand::Passage, &[(String, [Length; 3])]),
) -> Option<String> {
    let way = opening.way_in.iter().find(|w| w.what == p.through)?;
    let size = things.iter().find(|t| t.0 == p.what)?.1;
    let words = ["lower", "narrower", "shallower"];
    let each = words.iter().enumerate().filter_map(|(n, how)| {
        let goes = |by: Length| {
            let mut less = size;
            less[n] -= by;
            stand::passage("", less, way).is_some_and(|p| p.goes)
        };
        Some((stand::least(size[n] / 2, goes)?, *how))
    });
    let (by, how) = each.min()?;
    Some(if run.has_boxes() {
        format!(
            "Make {} {} {how}: then it goes through the {}.",
            p.what,
            v.up(by),
            p.through
        )
    } else {
        format!(
            "{}: such a one goes through the {}.",
            capital(&resize(run, &v.up(by), how)),
            p.through
        )
    })
}

/// With a capital letter at its start where it is a sentence of ours; names stay as she wrote them.
fn upper(who: &str) -> String {
    who.strip_prefix("the ")
        .map_or_else(|| who.to_owned(), |rest| format!("The {rest}"))
}

#[cfg(test)]
mod tests {
    use super::half_cubic_feet;
    use crate::units::Length;

    /// Trade note 7e: 0.5 x 39 x 79 x 23 / 1728 = 20.5 cu ft.
    #[test]
    fn half_the_inside_of_a_tall_frame() {
        let half = half_cubic_feet(Length::inches(39), Length::inches(79), Length::inches(23));
        assert!((half - 20.5).abs() < 0.05);
    }
}
