//! What can hurt at the saw in this plan, named with its own numbers.

use super::OrderRules;
use crate::model::{Setting, SettingKind, SheetPlan};
use crate::units::{Length, Tape};

/// What there is to be careful of.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum CautionKind {
    /// A rip narrower than her saw does safely.
    NarrowRip,
    /// A piece larger than she handles alone: its longer and shorter side.
    TwoPeople([Length; 2]),
}

/// A caution about one line of the settings page.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct SawCaution {
    /// The line.
    pub setting: u32,
    /// What of it.
    pub kind: CautionKind,
    /// What the fence or stop is set to.
    pub size: Length,
    /// How many cuts of the line it touches, sheets cut alike counted each.
    pub times: u32,
    /// What comes free in them, each name once.
    pub gives: Vec<String>,
}

impl SawCaution {
    /// One sentence. Her saw's manual comes first.
    pub fn sentence(&self, tape: &Tape) -> String {
        let (n, times) = (self.setting, self.times);
        let what = self.gives.join(" ");
        let cuts = if times == 1 { "cut" } else { "cuts" };
        match self.kind {
            CautionKind::NarrowRip => format!(
                "Step {n}: {times} {cuts} only {} wide ({what}). Keep hands off, use a push block or a sled, and follow the saw's manual.",
                tape.print(self.size)
            ),
            CautionKind::TwoPeople([long, short]) => format!(
                "Step {n}: {times} {cuts} on a piece up to {} x {} ({what}). Have a second person or full support on both sides.",
                tape.print(long),
                tape.print(short)
            ),
        }
    }
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

/// Adds to the caution of this line and kind, or begins it. The largest piece stands for all.
fn add(found: &mut Vec<SawCaution>, s: &Setting, kind: CautionKind, times: u32, gives: &str) {
    let same = |c: &&mut SawCaution| {
        c.setting == s.n && std::mem::discriminant(&c.kind) == std::mem::discriminant(&kind)
    };
    let names = gives.split(", ").filter(|g| !g.is_empty());
    if let Some(c) = found.iter_mut().find(same) {
        c.times += times;
        if let (CautionKind::TwoPeople(a), CautionKind::TwoPeople(b)) = (&mut c.kind, kind) {
            *a = (*a).max(b);
        }
        for name in names {
            if !c.gives.iter().any(|g| g == name) {
                c.gives.push(name.into());
            }
        }
        return;
    }
    let mut c = SawCaution {
        setting: s.n,
        kind,
        size: s.size,
        times,
        gives: Vec::new(),
    };
    for name in names {
        if !c.gives.iter().any(|g| g == name) {
            c.gives.push(name.into());
        }
    }
    found.push(c);
}
