//! What the runs draw against what stands in her list: added, changed, gone, and left alone with the reason.
//!
//! A row of hers is never drawn over: it is marked `keep`, it is `from = hand`, or it differs from what the run drew last time.
//! What was drawn last time is a record kept beside the plan. Where there is none, a row that differs is taken as drawn by an
//! older run only if another row differs by the same step, as rows do when a run is changed: along the board or across it, and in
//! its own box by a half, a third or a quarter of it, as doors and bays do. A row that differs alone is hers.

use super::drawn_row::{DrawnRow, Record, Step, sizes};
use crate::model::Part;
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};

/// Why a row that differs alone is left, where nothing says what was drawn.
pub const NO_RECORD: &str =
    "it alone differs, so it is taken as changed by you; there is no record of what the run drew";

/// What becomes of a row.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Fate {
    /// The run draws it as it stands.
    Same,
    /// Not in the list yet.
    Added,
    /// The run draws it otherwise now.
    Changed,
    /// The run draws it no more.
    Gone,
    /// Differs, and is hers.
    Left,
}

/// One row of the list or of the runs.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Difference {
    /// What becomes of it.
    pub fate: Fate,
    /// As it stands in the list; `None` = not there.
    pub before: Option<Part>,
    /// As the run draws it, with her mark, words and note; `None` = not drawn.
    pub after: Option<Part>,
    /// Why it is left alone; empty otherwise.
    pub why: String,
    /// The run's own name for it, whatever she calls it; empty where it is not drawn.
    pub drawn_as: String,
}

impl Difference {
    /// The row, whichever there is.
    pub fn part(&self) -> Option<&Part> {
        self.before.as_ref().or(self.after.as_ref())
    }
}

/// Compares the list with what the runs draw. `usual` is the route of rows that name none; rows of routes that no run draws
/// are not looked at. In the order of the list, then what is new in the order it is drawn.
pub fn compare(
    list: &[Part],
    drawn: &[Part],
    record: Option<&Record>,
    usual: &str,
) -> Vec<Difference> {
    let route = |p: &Part| p.route.clone().unwrap_or_else(|| usual.to_owned());
    let routes: BTreeSet<String> = drawn.iter().map(route).collect();
    let rows: Vec<&Part> = list.iter().filter(|p| routes.contains(&route(p))).collect();
    let pairs = pair(&rows, drawn, record, &route);
    let steps: BTreeMap<usize, Vec<Step>> = pairs
        .iter()
        .filter(|(r, _)| !rows[**r].by_hand && !rows[**r].keep)
        .map(|(r, d)| (*r, DrawnRow::of(rows[*r]).steps(&DrawnRow::of(&drawn[*d]))))
        .collect();
    let in_company = |r: usize| {
        let own_box =
            |o: usize| (route(rows[o]), &rows[o].in_box) == (route(rows[r]), &rows[r].in_box);
        steps[&r].iter().all(|s| {
            let mut others = steps.iter().filter(|(o, _)| **o != r);
            others.any(|(o, list)| list.iter().any(|other| s.goes_with(other, own_box(*o))))
        })
    };
    let drawn_boxes: BTreeSet<(String, &str)> = drawn
        .iter()
        .map(|p| (route(p), p.in_box.as_str()))
        .collect();
    let mut out = Vec::new();
    for (r, row) in rows.iter().enumerate() {
        let now = DrawnRow::of(row);
        let was = record.and_then(|rec| {
            rec.rows
                .iter()
                .find(|w| w.mark == row.mark && w.in_box == row.in_box)
        });
        let mut fate = |fate, after: Option<Part>, why: &str| {
            out.push(Difference {
                fate,
                before: Some((*row).clone()),
                after,
                why: why.to_owned(),
                drawn_as: pairs
                    .get(&r)
                    .map_or_else(String::new, |d| drawn[*d].what.clone()),
            });
        };
        let Some(d) = pairs.get(&r) else {
            if row.by_hand || row.keep {
                // Hers; but where its box is drawn it may be left over from before.
                // Strips and bases are often listed by hand beside drawn ones.
                let in_a_box = !matches!(row.in_box.as_str(), "face" | "base");
                if in_a_box && drawn_boxes.contains(&(route(row), row.in_box.as_str())) {
                    fate(
                        Fate::Left,
                        None,
                        "it is cut beside what the run draws for this box, so it may be left over",
                    );
                }
                continue;
            }
            let hers = match was {
                Some(was) => !was.same(&now),
                None => {
                    record.is_some() && drawn_boxes.contains(&(route(row), row.in_box.as_str()))
                }
            };
            if hers {
                fate(
                    Fate::Left,
                    None,
                    "the run does not draw it, but it was changed since a run drew it",
                );
            } else {
                fate(Fate::Gone, None, "");
            }
            continue;
        };
        let mut after = drawn[*d].clone();
        after.mark.clone_from(&row.mark);
        after.what.clone_from(&row.what);
        after.note.clone_from(&row.note);
        after.match_group.clone_from(&row.match_group);
        after.row = row.row;
        after.spare = row.spare;
        if now.same(&DrawnRow::of(&after)) {
            fate(Fate::Same, Some(after), "");
        } else if row.keep {
            fate(Fate::Left, Some(after), "keep = yes");
        } else if row.by_hand {
            fate(Fate::Left, Some(after), "from = hand");
        } else if was.map_or_else(|| in_company(r), |was| was.same(&now)) {
            fate(Fate::Changed, Some(after), "");
        } else if was.is_some() {
            fate(Fate::Left, Some(after), "changed since the run drew it");
        } else {
            fate(Fate::Left, Some(after), NO_RECORD);
        }
    }
    let matched: BTreeSet<usize> = pairs.values().copied().collect();
    let mut marks = Marks::new(list, &rows, drawn, &pairs);
    for (d, part) in drawn
        .iter()
        .enumerate()
        .filter(|(d, _)| !matched.contains(d))
    {
        let known = record.is_some_and(|rec| {
            rec.rows.iter().any(|w| {
                w.in_box == part.in_box
                    && w.what == part.what
                    && w.route.as_deref().unwrap_or(usual) == route(part)
            })
        });
        let mut after = part.clone();
        after.mark = marks.mark(d, part);
        let (fate, why) = if known {
            (Fate::Left, "drawn before, and you took it out of the list")
        } else {
            (Fate::Added, "")
        };
        out.push(Difference {
            fate,
            before: None,
            after: Some(after),
            why: why.to_owned(),
            drawn_as: part.what.clone(),
        });
    }
    out
}

/// Which row is which drawn one: by box and name, then by what it was drawn as, then by box, material and size, last by mark
/// where stuff, grain and banding agree.
fn pair(
    rows: &[&Part],
    drawn: &[Part],
    record: Option<&Record>,
    route: &dyn Fn(&Part) -> String,
) -> BTreeMap<usize, usize> {
    let mut pairs = BTreeMap::new();
    let mut taken = BTreeSet::new();
    let place = |p: &Part| (route(p), p.in_box.clone());
    let by_name = |a: &Part, b: &Part| {
        place(a) == place(b) && a.what.trim().to_lowercase() == b.what.to_lowercase()
    };
    let by_record = |a: &Part, b: &Part| {
        let drawn_as = |w: &DrawnRow| w.mark == a.mark && w.in_box == a.in_box && w.what == b.what;
        !a.by_hand && place(a) == place(b) && record.is_some_and(|r| r.rows.iter().any(drawn_as))
    };
    let by_size = |a: &Part, b: &Part| {
        !a.by_hand && place(a) == place(b) && a.item == b.item && sizes(a) == sizes(b)
    };
    let by_mark = |a: &Part, b: &Part| {
        let stuff = |p: &Part| (place(p), p.item.clone(), p.grain, p.band);
        !a.by_hand && a.mark == b.mark && stuff(a) == stuff(b)
    };
    let ways: [&dyn Fn(&Part, &Part) -> bool; 4] = [&by_name, &by_record, &by_size, &by_mark];
    for same in ways {
        for (r, row) in rows.iter().enumerate() {
            if pairs.contains_key(&r) {
                continue;
            }
            if let Some(d) = (0..drawn.len()).find(|d| !taken.contains(d) && same(row, &drawn[*d]))
            {
                taken.insert(d);
                pairs.insert(r, d);
            }
        }
    }
    pairs
}

/// Marks for new rows: with the letter the list has for that box, and a number that is free.
struct Marks {
    taken: BTreeSet<String>,
    letters: BTreeMap<String, String>,
}

fn letter(mark: &str) -> String {
    mark.trim_end_matches(|c: char| c.is_ascii_digit())
        .to_owned()
}

impl Marks {
    fn new(list: &[Part], rows: &[&Part], drawn: &[Part], pairs: &BTreeMap<usize, usize>) -> Self {
        let mut letters = BTreeMap::new();
        for (r, d) in pairs {
            letters
                .entry(letter(&drawn[*d].mark))
                .or_insert_with(|| letter(&rows[*r].mark));
        }
        Self {
            taken: list.iter().map(|p| p.mark.clone()).collect(),
            letters,
        }
    }
    fn mark(&mut self, n: usize, part: &Part) -> String {
        let own = letter(&part.mark);
        let letter = self
            .letters
            .get(&own)
            .cloned()
            .unwrap_or_else(|| own.clone());
        let first = part
            .mark
            .strip_prefix(own.as_str())
            .and_then(|t| t.parse::<usize>().ok());
        let wanted = first.unwrap_or(n + 1);
        let mark = std::iter::once(wanted)
            .chain(1..)
            .map(|n| format!("{letter}{n}"))
            .find(|m| !self.taken.contains(m))
            .unwrap_or_default();
        self.taken.insert(mark.clone());
        mark
    }
}

/// The list as it would stand if every change were made: her rows where they are left alone.
pub fn rows_after(list: &[Part], differences: &[Difference]) -> Vec<Part> {
    let mut rows: Vec<Part> = Vec::new();
    for part in list {
        let change = differences
            .iter()
            .find(|d| d.before.as_ref().is_some_and(|b| b.mark == part.mark));
        match change {
            Some(d) if d.fate == Fate::Gone => {}
            Some(Difference {
                fate: Fate::Changed,
                after: Some(after),
                ..
            }) => rows.push(after.clone()),
            _ => rows.push(part.clone()),
        }
    }
    let added = differences.iter().filter(|d| d.fate == Fate::Added);
    rows.extend(added.filter_map(|d| d.after.clone()));
    rows
}

/// The record to keep once these changes were written: `redrawn` says whether changed and gone rows were, or only new ones.
pub fn record_after(old: Option<&Record>, differences: &[Difference], redrawn: bool) -> Record {
    let mut rows = Vec::new();
    for d in differences {
        let named = |p: &Part| {
            let mut row = DrawnRow::of(p);
            if !d.drawn_as.is_empty() {
                row.what.clone_from(&d.drawn_as);
            }
            row
        };
        let before = d.before.as_ref().map(named);
        let after = d.after.as_ref().map(named);
        let was = || {
            let found = |r: &&DrawnRow| match (&d.before, &d.after) {
                (Some(b), _) => r.mark == b.mark,
                (None, Some(a)) => r.in_box == a.in_box && r.what == a.what,
                (None, None) => false,
            };
            old.and_then(|o| o.rows.iter().find(found).cloned())
        };
        rows.extend(match d.fate {
            Fate::Same if d.before.as_ref().is_some_and(|b| b.by_hand || b.keep) => None,
            Fate::Same | Fate::Added => after,
            Fate::Changed if redrawn => after,
            Fate::Gone if redrawn => None,
            // As it was drawn, not as it would be: it still stands so in the list.
            Fate::Changed | Fate::Gone => before,
            // What a run drew, so that her change goes on showing. Without a record: what the run draws now.
            Fate::Left if d.before.as_ref().is_some_and(|b| b.by_hand || b.keep) => None,
            Fate::Left => was().or(after),
        });
    }
    Record {
        format: Record::FORMAT.to_owned(),
        rows,
    }
}
