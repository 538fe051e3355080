//! What can hurt at the saw in this plan, named with its own numbers.

use super::OrderRules;
use crate::model::{SawAt, Setting, SettingKind, SheetPlan};
use crate::units::{Length, Tape};

/// What there is to be careful of.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum CautionKind {
    /// A rip narrower than her saw does safely.
    NarrowRip,
    /// A cut along the sheet longer than her saw rips: the longest, and what her saw does.
    LongRip([Length; 2]),
    /// A piece larger than she handles alone: its longer and shorter side.
    TwoPeople([Length; 2]),
}

/// How many spans of numbers a sentence takes; of more only the count is said. [default: 12] [range: 1 to 50]
const SPANS: usize = 12;

/// How many names a sentence takes. [default: 8] [range: 1 to 30]
const NAMES: usize = 8;

/// A caution about lines of the settings page of one material, gathered: said once, it is read.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct SawCaution {
    /// The lines, ascending.
    pub settings: Vec<u32>,
    /// What of them; the largest piece stands for all.
    pub kind: CautionKind,
    /// The least that the fence or stop is set to in them.
    pub size: Length,
    /// How many cuts it touches, sheets cut alike counted each.
    pub times: u32,
    /// What comes free in them, each name once.
    pub gives: Vec<String>,
}

impl SawCaution {
    /// One sentence. Her saw's manual comes first.
    pub fn sentence(&self, tape: &Tape) -> String {
        let one = |n: usize, word: &str| {
            if n == 1 {
                word.to_owned()
            } else {
                format!("{word}s")
            }
        };
        let said = spans(&self.settings);
        let steps = match (self.settings.first(), self.settings.last()) {
            (Some(first), Some(last)) if said.split(", ").count() > SPANS => {
                format!("{} of steps {first}-{last}", self.settings.len())
            }
            _ => format!("{} {said}", one(self.settings.len(), "Step")),
        };
        let cuts = format!("{} {}", self.times, one(self.times as usize, "cut"));
        match self.kind {
            CautionKind::NarrowRip => {
                let what = named(&self.gives);
                format!(
                    "{steps}: {cuts} down to {} wide ({what}). Keep hands off, use a push block or a sled, and follow the saw's manual.",
                    tape.print(self.size)
                )
            }
            CautionKind::LongRip([long, most]) => format!(
                "{steps}: {cuts} along up to {}, and longest_rip under [saw] is {}. Join two guides in line, or have the store make these.",
                tape.print(long),
                tape.print(most)
            ),
            CautionKind::TwoPeople([long, short]) => format!(
                "{steps}: {cuts} on pieces up to {} x {}. Have a second person or full support on both sides.",
                tape.print(long),
                tape.print(short)
            ),
        }
    }
}

/// Names with spaces between, the first few of many.
pub(super) fn named(names: &[String]) -> String {
    let mut said = names[..names.len().min(NAMES)].join(" ");
    if names.len() > NAMES {
        said.push_str(" ...");
    }
    said
}

/// Numbers in a row as spans: `1-3, 7` for 1 2 3 7.
pub fn spans(numbers: &[u32]) -> String {
    let mut spans: Vec<(u32, u32)> = Vec::new();
    for n in numbers {
        match spans.last_mut() {
            Some((_, last)) if *n == last.saturating_add(1) => *last = *n,
            _ => spans.push((*n, *n)),
        }
    }
    let said: Vec<String> = spans
        .into_iter()
        .map(|(from, to)| match to - from {
            0 => from.to_string(),
            _ => format!("{from}-{to}"),
        })
        .collect();
    said.join(", ")
}

/// The cautions of a settings page, in its order. `sheets` are the sheets it was made for.
pub fn cautions(sheets: &[SheetPlan], settings: &[Setting], rules: &OrderRules) -> Vec<SawCaution> {
    let mut found: Vec<SawCaution> = Vec::new();
    let [a, b] = rules.largest_alone;
    let (alone_long, alone_short) = (a.max(b), a.min(b));
    for s in settings.iter().filter(|s| s.item == rules.item) {
        for p in &s.pieces {
            let Some(sheet) = (p.sheet.checked_sub(rules.first_sheet)).and_then(|i| sheets.get(i))
            else {
                continue;
            };
            let of = if s.kind == SettingKind::Clean {
                Some([Length::ZERO, Length::ZERO, sheet.size[0], sheet.size[1]])
            } else {
                sheet.cuts.iter().find(|c| c.n == p.cut).map(|c| c.of)
            };
            if s.kind == SettingKind::Rip && s.size < rules.narrowest_safe_rip {
                add(&mut found, s, CautionKind::NarrowRip, sheet.count, &p.gives);
            }
            let long = along(sheet, s, p.cut);
            if let Some(most) = rules.longest_rip.filter(|most| long > *most) {
                let kind = CautionKind::LongRip([long, most]);
                add(&mut found, s, kind, sheet.count, &p.gives);
            }
            if let Some(of) = of {
                let (x, y) = (of[2] - of[0], of[3] - of[1]);
                let (long, short) = (x.max(y), x.min(y));
                if long > alone_long || short > alone_short {
                    let kind = CautionKind::TwoPeople([long, short]);
                    add(&mut found, s, kind, sheet.count, &p.gives);
                }
            }
        }
    }
    found
}

/// How far her own saw runs along the sheet in this cut; nothing where it runs across it, or the store makes the cut.
fn along(sheet: &SheetPlan, s: &Setting, cut: u32) -> Length {
    if s.kind == SettingKind::Clean {
        // The edges at y0 and y1 are cleaned along the sheet.
        let cleaned = sheet.clean_edge[2..].iter().any(|l| l.is_positive());
        return if cleaned { sheet.size[0] } else { Length::ZERO };
    }
    let own = |c: &&crate::model::Cut| c.n == cut && !c.across && c.saw != Some(SawAt::Store);
    let cut = sheet.cuts.iter().find(own);
    cut.map_or(Length::ZERO, |c| c.of[2] - c.of[0])
}

/// Adds to the caution of this kind, or begins it.
fn add(found: &mut Vec<SawCaution>, s: &Setting, kind: CautionKind, times: u32, gives: &str) {
    let same = |c: &SawCaution| std::mem::discriminant(&c.kind) == std::mem::discriminant(&kind);
    let at = found.iter().position(same).unwrap_or_else(|| {
        found.push(SawCaution {
            settings: Vec::new(),
            kind,
            size: s.size,
            times: 0,
            gives: Vec::new(),
        });
        found.len() - 1
    });
    let c = &mut found[at];
    if c.settings.last() != Some(&s.n) {
        c.settings.push(s.n);
    }
    c.times += times;
    c.size = c.size.min(s.size);
    match (&mut c.kind, kind) {
        (CautionKind::TwoPeople(a), CautionKind::TwoPeople(b))
        | (CautionKind::LongRip(a), CautionKind::LongRip(b)) => *a = (*a).max(b),
        _ => {}
    }
    for name in gives.split(", ").filter(|g| !g.is_empty()) {
        if !c.gives.iter().any(|g| g == name) {
            c.gives.push(name.into());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_in_a_row_are_said_as_a_span() {
        assert_eq!(spans(&[1, 2, 3, 7]), "1-3, 7");
        assert_eq!(spans(&[4, 5]), "4-5");
        assert_eq!(spans(&[]), "");
    }
}
