//! What a page says, before it is laid out: sections made of blocks. The printed page and the text twin are both made from
//! these, so they cannot disagree. Owns no sizes of paper and no letters' widths.

use super::draw::{Drawing, Weight};

/// Kinds of page, in the order of the book.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub(crate) enum PageKind {
    /// The answer and what to know before spending.
    Cover,
    /// The whole work in order.
    Work,
    /// The readings of the opening.
    Opening,
    /// How the route stands in it.
    Stands,
    /// What the store is asked to cut.
    StoreCuts,
    /// Which piece in which space of the car.
    Load,
    /// All cuts by fence and stop setting.
    Settings,
    /// One sheet.
    Sheet,
    /// What is cut from which stick.
    Sticks,
    /// Labels to stick on the parts.
    Labels,
    /// The cut list.
    CutList,
    /// One box put together.
    Assembly,
    /// The base put together.
    Base,
    /// Base, level and shims.
    Level,
    /// Scribe strips and mouldings.
    Trim,
    /// Full-size templates of the scribe strips.
    Templates,
    /// Areas, coats, order of work at the paint stage.
    Paint,
    /// The shopping list.
    Shopping,
    /// What each route costs and what would flip the answer.
    Comparison,
    /// Defaults, old prices, cautions.
    Notes,
}

/// A part of the book that starts on a page of its own.
#[derive(Clone, PartialEq, Debug)]
pub(crate) struct Section {
    /// Its kind.
    pub(crate) kind: PageKind,
    /// Title on the page.
    pub(crate) title: String,
    /// Line in the outline and in the list of pages.
    pub(crate) bookmark: String,
    /// True for a page that is read with its long side level.
    pub(crate) lying: bool,
    /// What it says.
    pub(crate) blocks: Vec<Block>,
}

/// A stretch of a section.
#[derive(Clone, PartialEq, Debug)]
pub(crate) enum Block {
    /// A heading; never left alone at the foot of a page.
    Heading(String),
    /// A paragraph.
    Say(Say),
    /// A table.
    Table(Table),
    /// A drawing with its words.
    Figure(Figure),
    /// A drawing with blocks beside it.
    Beside(Figure, Vec<Block>),
    /// White space, in millimetres.
    Gap(f64),
    /// Labels: laid out by their own rules.
    Labels(LabelSheet),
}

/// A paragraph.
#[derive(Clone, PartialEq, Debug)]
pub(crate) struct Say {
    /// Printed before it, e.g. a number; the text hangs beside it.
    pub(crate) lead: String,
    /// What it says.
    pub(crate) text: String,
    /// Height of capitals.
    pub(crate) size: f64,
    /// Weight.
    pub(crate) weight: Weight,
    /// True for a frame around it.
    pub(crate) framed: bool,
}

impl Block {
    /// A plain paragraph.
    pub(crate) fn say(text: impl Into<String>) -> Self {
        Self::Say(Say {
            lead: String::new(),
            text: text.into(),
            size: 2.5,
            weight: Weight::Regular,
            framed: false,
        })
    }
    /// A paragraph in larger bold letters.
    pub(crate) fn strong(text: impl Into<String>, size: f64) -> Self {
        Self::Say(Say {
            lead: String::new(),
            text: text.into(),
            size,
            weight: Weight::Bold,
            framed: false,
        })
    }
    /// A paragraph hanging beside a sign.
    pub(crate) fn point(lead: impl Into<String>, text: impl Into<String>) -> Self {
        Self::Say(Say {
            lead: lead.into(),
            text: text.into(),
            size: 2.5,
            weight: Weight::Regular,
            framed: false,
        })
    }
}

/// How a column stands.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub(crate) enum Align {
    /// Words.
    #[default]
    Left,
    /// Numbers.
    Right,
    /// Short signs.
    Centre,
}

/// A column of a table.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(crate) struct Col {
    /// Its heading, with the unit.
    pub(crate) head: String,
    /// How it stands.
    pub(crate) align: Align,
    /// True where its cells are not wrapped while there is any other way.
    pub(crate) kept: bool,
}

impl Col {
    /// The same, not wrapped while there is any other way.
    pub(crate) fn kept(mut self) -> Self {
        self.kept = true;
        self
    }
    /// A column of words.
    pub(crate) fn words(head: impl Into<String>) -> Self {
        Self {
            head: head.into(),
            align: Align::Left,
            kept: false,
        }
    }
    /// A column of numbers.
    pub(crate) fn numbers(head: impl Into<String>) -> Self {
        Self {
            head: head.into(),
            align: Align::Right,
            kept: false,
        }
    }
    /// A column of signs.
    pub(crate) fn signs(head: impl Into<String>) -> Self {
        Self {
            head: head.into(),
            align: Align::Centre,
            kept: false,
        }
    }
}

/// A cell.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(crate) enum Cell {
    /// Words; wrapped where they must be.
    Text(String),
    /// Several lines, each wrapped by itself.
    Lines(Vec<String>),
    /// A box to tick.
    Tick,
    /// A line to write on.
    Blank,
}

impl From<&str> for Cell {
    fn from(text: &str) -> Self {
        Self::Text(text.into())
    }
}
impl From<String> for Cell {
    fn from(text: String) -> Self {
        Self::Text(text)
    }
}

/// A row.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub(crate) struct Row {
    /// One for each column; fewer are filled up with nothing.
    pub(crate) cells: Vec<Cell>,
    /// Bold.
    pub(crate) strong: bool,
    /// A line above it.
    pub(crate) ruled: bool,
    /// Words over the whole width below the cells.
    pub(crate) note: String,
    /// A heading over the whole width above the cells; starts a group.
    pub(crate) group: String,
    /// The page it leads to, from 1; 0 = nowhere.
    pub(crate) to: usize,
}

impl Row {
    /// A plain row.
    pub(crate) fn of(cells: Vec<Cell>) -> Self {
        Self {
            cells,
            ..Self::default()
        }
    }
    /// A row that sums up.
    pub(crate) fn total(cells: Vec<Cell>) -> Self {
        Self {
            cells,
            strong: true,
            ruled: true,
            ..Self::default()
        }
    }
    /// A heading over the rows that follow.
    pub(crate) fn group(text: impl Into<String>) -> Self {
        Self {
            group: text.into(),
            ..Self::default()
        }
    }
    /// With words below it.
    #[must_use]
    pub(crate) fn noted(mut self, note: impl Into<String>) -> Self {
        self.note = note.into();
        self
    }
}

/// A table. Its head is repeated on every page it runs over.
#[derive(Clone, PartialEq, Debug)]
pub(crate) struct Table {
    /// Columns.
    pub(crate) cols: Vec<Col>,
    /// Rows.
    pub(crate) rows: Vec<Row>,
    /// Height of capitals.
    pub(crate) size: f64,
    /// How many times it stands side by side on the page.
    pub(crate) across: usize,
    /// True to fill the width of the page, false to be as wide as it needs.
    pub(crate) full: bool,
}

impl Table {
    /// A table over the width of the page.
    pub(crate) fn new(cols: Vec<Col>, rows: Vec<Row>) -> Self {
        Self {
            cols,
            rows,
            size: 2.5,
            across: 1,
            full: true,
        }
    }
    /// The same in letters of another height.
    #[must_use]
    pub(crate) fn sized(mut self, size: f64) -> Self {
        self.size = size;
        self
    }
    /// The same, side by side so many times.
    #[must_use]
    pub(crate) fn across(mut self, times: usize) -> Self {
        self.across = times.max(1);
        self
    }
    /// The same, no wider than it needs to be.
    #[must_use]
    pub(crate) fn snug(mut self) -> Self {
        self.full = false;
        self
    }
}

/// A drawing.
#[derive(Clone, PartialEq, Debug)]
pub(crate) struct Figure {
    /// Width and height it takes.
    pub(crate) size: [f64; 2],
    /// What is drawn, from its own left top corner.
    pub(crate) drawing: Drawing,
    /// The same in words, one line each.
    pub(crate) twin: Vec<String>,
}

/// Labels in the order the parts come off the saw.
#[derive(Clone, PartialEq, Debug, Default)]
pub(crate) struct LabelSheet {
    /// The labels.
    pub(crate) labels: Vec<Label>,
    /// Width and height of one.
    pub(crate) room: [f64; 2],
}

/// A label for one piece.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub(crate) struct Label {
    /// The part's mark.
    pub(crate) mark: String,
    /// Plain name.
    pub(crate) what: String,
    /// Cut size and thickness.
    pub(crate) size: String,
    /// `1 of 4`.
    pub(crate) of: String,
    /// `grain along 20 13/16`, or empty for any.
    pub(crate) grain: String,
    /// Where its hole is cut, and how large; empty where it has none.
    pub(crate) hole: [String; 2],
    /// `FRONT banded`, or empty.
    pub(crate) band: String,
    /// Which box, which sheet, which step.
    pub(crate) place: String,
    /// Her note.
    pub(crate) note: String,
}

/// Shares a width among columns: each gets its `least`, and what is left goes by how much more each could use. Where even
/// the least do not fit, all shrink alike. Used for millimetres and for letters of the text twin.
pub(super) fn share(least: &[f64], wish: &[f64], width: f64) -> Vec<f64> {
    let (sum_least, sum_wish): (f64, f64) = (least.iter().sum(), wish.iter().sum());
    if sum_wish <= width {
        return wish.to_vec();
    }
    if sum_least >= width {
        return least
            .iter()
            .map(|l| l * width / sum_least.max(f64::MIN_POSITIVE))
            .collect();
    }
    let part = (width - sum_least) / (sum_wish - sum_least);
    least
        .iter()
        .zip(wish)
        .map(|(l, w)| l + (w - l) * part)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_share_what_there_is() {
        assert_eq!(share(&[5.0, 5.0], &[10.0, 20.0], 40.0), vec![10.0, 20.0]);
        assert_eq!(share(&[5.0, 5.0], &[5.0, 25.0], 20.0), vec![5.0, 15.0]);
        assert_eq!(share(&[30.0, 10.0], &[30.0, 25.0], 20.0), vec![15.0, 5.0]);
        assert!(share(&[], &[], 20.0).is_empty());
    }
}
