//! Why a rail counts for nothing: the inside is not as deep as a hanger, or not as high under the rail as the longest garment.

use super::sit::Row;
use super::wants::{hung, within};
use crate::model::{Job, PrefabKind, PrefabUnit, Run, Want};
use crate::units::Tape;

/// A caution for each box or frame of a run whose rail does not count.
pub(crate) fn rails_that_do_not_count(
    job: &Job,
    run: &Run,
    (row, frames): (&Row, &[&PrefabUnit]),
    tape: Tape,
) -> Vec<String> {
    let (drop, hanger) = hung(job.want.as_ref());
    let given = job.want.as_ref().is_some_and(|w| w.hanger_depth.is_some());
    let needs = if given { "yours" } else { "the usual one" };
    let shallow = |name: &str, depth| {
        format!(
            "The rail of {name} counts for nothing: its inside is {} deep and a hanger takes {} ({needs}). Make it deeper, or give hanger_depth under [want] for narrower hangers.",
            tape.print(depth),
            tape.print(hanger)
        )
    };
    let mut list = Vec::new();
    for (plan, inside) in within(job, run, row).into_iter().filter(|(p, _)| p.rail) {
        if inside.depth < hanger {
            list.push(shallow(&format!("box {}", plan.name), inside.depth));
        } else if inside.drop < drop {
            list.push(format!(
                "The rail of box {} counts for nothing: {} is clear under it at most, and the longest garment ({}) takes {}. Take shelves or drawers out, or hang it elsewhere.",
                plan.name,
                tape.print(inside.drop),
                job.want.as_ref().map_or_else(String::new, Want::longest_said),
                tape.print(drop)
            ));
        }
    }
    let rails = run.extras.iter().any(|(code, n)| {
        let unit = job.prefab.iter().find(|u| u.unit == *code);
        *n > 0 && unit.is_some_and(|u| u.kind == PrefabKind::Rail)
    });
    for f in frames.iter().filter(|_| rails) {
        if let Some(depth) = f.inside_depth.filter(|d| *d < hanger) {
            let said = shallow(&format!("a frame {}", f.unit), depth);
            if !list.contains(&said) {
                list.push(said);
            }
        }
    }
    list
}
