//! What every page looks things up in: the job, its plan, how sizes are shown, the numbers of sheets, what is provisional.
//! Must not draw.

use crate::book::BookInput;
use crate::model::{Band, Part, PartSize, Plan, SheetPlan, StockRow};
use crate::plan::Hole;
use crate::units::{Length, Tape, Unit};

/// See the module.
pub(crate) struct Context<'a> {
    /// What the book is made of.
    pub(crate) input: &'a BookInput<'a>,
    /// How sizes are shown.
    pub(crate) tape: Tape,
    /// Number of the first sheet of each layout, from 1.
    first_of: Vec<u32>,
    /// How many sheets there are, rack pieces counted.
    pub(crate) sheet_total: u32,
}

impl<'a> Context<'a> {
    /// Looks once at what every page needs.
    pub(crate) fn new(input: &'a BookInput<'a>) -> Self {
        let mut first_of = Vec::new();
        let mut next = 1_u32;
        for sheet in &input.plan.sheets {
            first_of.push(next);
            next = next.saturating_add(sheet.count);
        }
        Self {
            input,
            tape: input.job.project.tape,
            first_of,
            sheet_total: next - 1,
        }
    }
    /// The plan.
    pub(crate) fn plan(&self) -> &'a Plan {
        self.input.plan
    }
    /// A size as she reads it off her tape.
    pub(crate) fn size(&self, length: Length) -> String {
        self.tape.print(length)
    }
    /// A size to the last digit: thickness, kerf, sums that must add up.
    pub(crate) fn exact(&self, length: Length) -> String {
        self.tape.print_exact(length)
    }
    /// `length x width`.
    pub(crate) fn two(&self, size: [Length; 2]) -> String {
        format!("{} x {}", self.size(size[0]), self.size(size[1]))
    }
    /// `inches` or `millimetres`.
    pub(crate) fn unit_word(&self) -> &'static str {
        match self.tape.unit {
            Unit::Inch => "inches",
            Unit::Mm => "millimetres",
        }
    }
    /// The number of a layout's first sheet, and how many are cut alike.
    pub(crate) fn numbers(&self, layout: usize) -> (u32, u32) {
        let first = self.first_of.get(layout).copied().unwrap_or(0);
        let count = self.plan().sheets.get(layout).map_or(0, |s| s.count);
        (first, count)
    }
    /// `4`, or `4-6` where three are cut alike.
    pub(crate) fn sheet_name(&self, layout: usize) -> String {
        match self.numbers(layout) {
            (first, 0 | 1) => first.to_string(),
            (first, count) => format!("{first}-{}", first.saturating_add(count - 1)),
        }
    }
    /// The part of that mark on this route.
    pub(crate) fn part(&self, mark: &str) -> Option<&'a Part> {
        self.input.job.parts.iter().find(|p| p.mark == mark)
    }
    /// The stock row.
    pub(crate) fn stock(&self, item: &str) -> Option<&'a StockRow> {
        self.input.job.stock_row(item)
    }
    /// `PLY-18  birch-faced plywood 3/4`, or the code alone.
    pub(crate) fn item_name(&self, item: &str) -> String {
        match self.stock(item) {
            Some(row) if !row.what.is_empty() && row.what != item => {
                format!("{item}  {}", row.what)
            }
            _ => item.to_owned(),
        }
    }
    /// True where the face grain of a sheet runs along y.
    pub(crate) fn grain_along_y(&self, sheet: &SheetPlan) -> bool {
        if let Some(mark) = &sheet.rack
            && let Some(piece) = self.input.job.rack.iter().find(|o| &o.mark == mark)
        {
            return piece.grain_along_width;
        }
        self.stock(&sheet.item).is_some_and(|r| r.grain_along_width)
    }
    /// Holes in the backs of the plan's boxes.
    pub(crate) fn holes(&self) -> &'a [Hole] {
        let fitted = self.input.fitted.and_then(|f| f.route(&self.plan().route));
        fitted.map_or(&[], |r| &r.holes)
    }
    /// How many pieces of a mark the plan cuts.
    pub(crate) fn planned(&self, mark: &str) -> u32 {
        let on_sheets = self.plan().sheets.iter().map(|s| {
            let here = s.places.iter().filter(|p| p.mark == mark).count() as u32;
            here.saturating_mul(s.count)
        });
        let on_sticks = self.plan().sticks.iter().map(|s| {
            let here = s.pieces.iter().filter(|p| p.mark == mark).count() as u32;
            here.saturating_mul(s.count)
        });
        on_sheets.chain(on_sticks).fold(0, u32::saturating_add)
    }
    /// Whatever makes the book provisional, in words.
    pub(crate) fn provisional(&self) -> Vec<String> {
        let mut why = Vec::new();
        if let Some(fitted) = self.input.fitted {
            let survey = &fitted.survey;
            why.extend(
                survey
                    .provisional
                    .iter()
                    .map(|p| format!("reading missing: {p}")),
            );
            why.extend(
                survey
                    .take_again
                    .iter()
                    .map(|t| format!("reading to take again: {}", t.reading)),
            );
        }
        if let Some(buy) = self.input.buy {
            for line in buy.lines.iter().filter(|l| l.cents.is_none()) {
                why.push(format!("price missing: {}", line.item));
            }
        }
        if let Some(comparison) = self.input.comparison {
            for gap in &comparison.missing {
                if !why.iter().any(|w| w.contains(gap.as_str())) {
                    why.push(format!("missing: {gap}"));
                }
            }
        }
        for part in &self.plan().unplaced {
            why.push(format!("{} of {} not placed", part.count, part.mark));
        }
        why
    }
}

/// The banded edges in words: `front + left`; empty for none.
pub(crate) fn band_words(band: Band) -> String {
    let all = [
        (band.front, "front"),
        (band.back, "back"),
        (band.left, "left"),
        (band.right, "right"),
    ];
    let named: Vec<&str> = all.iter().filter(|(is, _)| *is).map(|(_, n)| *n).collect();
    if named.len() == all.len() {
        "all".into()
    } else {
        named.join(" + ")
    }
}

/// The sizes as written in the cut list: length, and width for a panel.
pub(crate) fn written(size: PartSize) -> (Length, Option<Length>) {
    match size {
        PartSize::Panel { length, width } => (length, Some(width)),
        PartSize::Piece { length } => (length, None),
    }
}

/// `3 sheets`, `1 sheet`.
pub(crate) fn counted(count: u32, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}
