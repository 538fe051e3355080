//! Parts that must match and do not all come off one setting of the fence or the stop: the layout may leave no other way,
//! but then she has to know.

use super::OrderRules;
use super::caution::{named, spans};
use crate::model::{Place, Setting, SheetPlan};
use crate::units::{Length, Tape};
use std::collections::{BTreeMap, BTreeSet};

/// One size of a match group that is made in more than one way.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Unmatched {
    /// The size.
    pub size: Length,
    /// Settings that it comes off, ascending.
    pub settings: Vec<u32>,
    /// How many parts get it from no setting but as what remains of their piece, sheets cut alike counted each.
    pub rests: u32,
    /// Marks of the parts, each once.
    pub marks: Vec<String>,
}

impl Unmatched {
    /// One sentence.
    pub fn sentence(&self, tape: &Tape) -> String {
        let size = tape.print(self.size);
        let off = match self.settings.len() {
            0 => String::new(),
            1 => format!("off step {}", self.settings[0]),
            _ => format!("off steps {}", spans(&self.settings)),
        };
        let rests = match self.rests {
            0 => String::new(),
            1 => "once as what remains of a piece".to_owned(),
            n => format!("{n} times as what remains of a piece"),
        };
        let and = if off.is_empty() || rests.is_empty() {
            ""
        } else {
            " and "
        };
        format!(
            "Parts that match ({}): {size} comes {off}{and}{rests}. Keep the first one and set the fence or stop against it for the others.",
            named(&self.marks)
        )
    }
}

/// How a part comes by one of its sizes.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Source {
    /// The sheet itself, between its clean edges.
    Sheet,
    Setting(u32),
    Rest,
}

/// The sizes of match groups that do not come off one setting, in the order of the groups, largest first. `sheets` are the
/// sheets that `settings` were made for.
pub fn unmatched(sheets: &[SheetPlan], settings: &[Setting], rules: &OrderRules) -> Vec<Unmatched> {
    // For each group and size: where from, how many parts, which marks.
    type Sources = (BTreeMap<Source, u32>, BTreeSet<String>);
    let mut found: BTreeMap<(u32, std::cmp::Reverse<Length>), Sources> = BTreeMap::new();
    for (index, sheet) in sheets.iter().enumerate() {
        for place in &sheet.places {
            let Some(group) = rules.matched.get(&place.mark) else {
                continue;
            };
            for axis in 0..2 {
                let source = source(
                    sheet,
                    rules.first_sheet + index,
                    place,
                    axis,
                    settings,
                    rules,
                );
                let size = std::cmp::Reverse(place.size[axis]);
                let (sources, marks) = found.entry((*group, size)).or_default();
                *sources.entry(source).or_default() += sheet.count;
                marks.insert(place.mark.clone());
            }
        }
    }
    let several = found.into_iter().filter(|(_, (sources, _))| {
        let alone = sources.values().sum::<u32>() == 1;
        sources.len() > 1 || (sources.contains_key(&Source::Rest) && !alone)
    });
    several
        .map(|((_, size), (sources, marks))| Unmatched {
            size: size.0,
            settings: (sources.keys())
                .filter_map(|s| match s {
                    Source::Setting(n) => Some(*n),
                    _ => None,
                })
                .collect(),
            rests: [Source::Rest, Source::Sheet]
                .iter()
                .filter_map(|s| sources.get(s))
                .sum(),
            marks: marks.into_iter().collect(),
        })
        .collect()
}

/// The later of the cuts at the two faces of a part across `axis` makes its size; where its setting is that size, the part
/// lies between fence and blade, else it is what remains.
fn source(
    sheet: &SheetPlan,
    index: usize,
    place: &Place,
    axis: usize,
    settings: &[Setting],
    rules: &OrderRules,
) -> Source {
    let other = 1 - axis;
    let (low, high) = (place.at[axis], place.at[axis] + place.size[axis]);
    let faces = sheet.cuts.iter().filter(|c| {
        let beside = c.across == (axis == 0)
            && c.of[other] <= place.at[other]
            && c.of[2 + other] >= place.at[other] + place.size[other];
        beside && (c.at == high || c.at + c.kerf.unwrap_or(rules.kerf) == low)
    });
    let Some(last) = faces.max_by_key(|c| c.n) else {
        return Source::Sheet;
    };
    let made_at = settings
        .iter()
        .find(|s| s.pieces.iter().any(|p| p.sheet == index && p.cut == last.n));
    // Halved: one half is measured, the other remains.
    let halved = last.at != high && last.at - last.of[axis] == place.size[axis];
    match made_at {
        Some(s) if s.size == place.size[axis] && !halved => Source::Setting(s.n),
        _ => Source::Rest,
    }
}
