//! Sections laid out on paper: the frame common to Letter and A4, titles, paragraphs, page breaks, the foot of each page.
//! Owns where things stand; tables are laid out in `table`, labels in `pages::labels`. Must not know what a section is for.
//!
//! Everything lives in the 178 x 255 mm that both papers have inside 12 mm margins with 20 mm on the binding edge, so a book
//! laid out for one prints on the other without loss and to the same scale.

use super::block::{Block, Figure, Say, Section};
use super::draw::{
    Anchor, Area, Drawing, Fill, Pen, Text, Weight, line_pitch, pt, text_width, wrap,
};
use super::pages::stationery::{LabelOptions, lay_labels};
use super::table::{lay_table, table_start};
use crate::model::Paper;

/// Width and height of the area common to both papers.
const LIVE: [f64; 2] = [178.0, 255.0];
/// Binding edge: left of an upright page, top of a lying one.
const BINDING: f64 = 20.0;
/// Room kept for the foot.
const FOOT: f64 = 7.0;
/// A last page that holds no more than this is not worth its paper, if the lines before it can stand closer by [`TIGHT`].
const A_FEW_LINES: f64 = 40.0;
/// Lines of 2.5 mm capitals still stand clear of each other.
const TIGHT: f64 = 0.9;
/// Height of capitals of a title.
const TITLE: f64 = 5.0;
/// Height of capitals of a heading.
const HEADING: f64 = 3.5;

/// A page and where on it things may stand.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(crate) struct Frame {
    /// Width and height of the paper.
    pub(crate) paper: [f64; 2],
    /// Where things may stand, the foot included.
    pub(crate) live: Area,
}

impl Frame {
    /// The frame of a paper, upright or lying.
    pub(crate) fn of(paper: Paper, lying: bool) -> Self {
        let [w, h] = match paper {
            Paper::Letter => [215.9, 279.4],
            Paper::A4 => [210.0, 297.0],
        };
        let spare = (h - LIVE[1]) / 2.0;
        if lying {
            Self {
                paper: [h, w],
                live: Area::new(spare, BINDING, LIVE[1], LIVE[0]),
            }
        } else {
            Self {
                paper: [w, h],
                live: Area::new(BINDING, spare, LIVE[0], LIVE[1]),
            }
        }
    }
    /// Where things may stand above the foot.
    pub(crate) fn body(&self) -> Area {
        Area::new(self.live.x, self.live.y, self.live.w, self.live.h - FOOT)
    }
}

/// A page that is laid out, still without its foot.
#[derive(Clone, PartialEq, Debug)]
pub(super) struct LaidPage {
    /// Its frame.
    pub(super) frame: Frame,
    /// What is on it.
    pub(super) drawing: Drawing,
    /// True for the first page of its section.
    pub(super) first: bool,
    /// Height of the baseline of the foot, where it is not the usual one.
    pub(super) foot_at: Option<f64>,
}

/// Lays blocks one below the other, page after page.
pub(super) struct Flow<'a> {
    section: &'a Section,
    frame: Frame,
    /// Pages so far; the last is being filled.
    pub(super) pages: Vec<LaidPage>,
    /// Next free height.
    pub(super) y: f64,
    /// Where the title of this page ends.
    below_title: f64,
    /// Lines stand closer by this.
    tight: f64,
    /// Narrower than the page while something stands beside: its left edge and its width, on this page only.
    column: Option<(f64, f64)>,
}

impl<'a> Flow<'a> {
    fn new(section: &'a Section, paper: Paper, tight: f64) -> Self {
        let mut flow = Self {
            section,
            frame: Frame::of(paper, section.lying),
            pages: Vec::new(),
            y: 0.0,
            below_title: 0.0,
            tight,
            column: None,
        };
        flow.turn_page();
        flow
    }
    /// Starts a page, with the title repeated.
    pub(super) fn turn_page(&mut self) {
        let first = self.pages.is_empty();
        self.pages.push(LaidPage {
            frame: self.frame,
            drawing: Drawing::new(),
            first,
            foot_at: None,
        });
        let body = self.frame.body();
        self.y = body.y;
        self.below_title = self.y;
        self.column = None;
        if self.section.title.is_empty() {
            return;
        }
        // Titles stay as they are: at the top of a page there is no line to stand closer to.
        let tight = std::mem::replace(&mut self.tight, 1.0);
        let (size, lines) = if first {
            (
                TITLE,
                wrap(&self.section.title, TITLE, Weight::Bold, body.w),
            )
        } else {
            // A long title is not repeated in full.
            let most = body.w - text_width(" \u{2026} continued", HEADING, Weight::Bold);
            let line = wrap(&self.section.title, HEADING, Weight::Bold, most).remove(0);
            (HEADING, vec![format!("{line}, continued")])
        };
        for line in lines.iter().take(12) {
            self.line(line, size, Weight::Bold, 0.0);
        }
        self.rule(0.5);
        self.y += 2.0;
        self.tight = tight;
        self.below_title = self.y;
    }
    /// The width there is.
    pub(super) fn width(&self) -> f64 {
        self.column.map_or(self.frame.body().w, |(_, w)| w)
    }
    /// The left edge.
    pub(super) fn left(&self) -> f64 {
        self.column.map_or(self.frame.body().x, |(x, _)| x)
    }
    /// The height left on this page.
    pub(super) fn room(&self) -> f64 {
        self.frame.body().bottom() - self.y
    }
    /// The drawing of the page being filled.
    pub(super) fn paper(&mut self) -> &mut Drawing {
        &mut self
            .pages
            .last_mut()
            .expect("a flow has a page from its start")
            .drawing
    }
    /// Goes to a new page unless so much height is left. An empty page is never left behind.
    pub(super) fn need(&mut self, height: f64) {
        if self.room() < height && !self.fresh() {
            self.turn_page();
        }
    }
    /// True where nothing stands below the title yet.
    fn fresh(&self) -> bool {
        self.y <= self.below_title
    }
    /// From one line to the next.
    pub(super) fn pitch(&self, size: f64) -> f64 {
        line_pitch(size) * self.tight
    }
    fn rule(&mut self, width: f64) {
        let (x, y, w) = (self.left(), self.y, self.width());
        self.paper().line(pt(x, y), pt(x + w, y), Pen::solid(width));
    }
    /// One line of text; goes to a new page if there is no room.
    fn line(&mut self, text: &str, size: f64, weight: Weight, indent: f64) {
        let pitch = self.pitch(size);
        if self.room() < pitch {
            self.turn_page();
        }
        let at = pt(self.left() + indent, self.y + pitch * 0.76);
        self.paper().say(at, size, weight, text);
        self.y += pitch;
    }
    fn say(&mut self, say: &Say) {
        let pitch = self.pitch(say.size);
        let pad = if say.framed { 2.0 } else { 0.0 };
        let lead = if say.lead.is_empty() {
            0.0
        } else {
            (text_width(&say.lead, say.size, Weight::Bold) + 2.5).max(7.0)
        };
        let lines = wrap(
            &say.text,
            say.size,
            say.weight,
            self.width() - lead - 2.0 * pad,
        );
        let height = lines.len() as f64 * pitch + 2.0 * pad;
        // A short paragraph is kept whole; a long one may run over.
        self.need(if say.framed || lines.len() <= 4 {
            height.min(self.frame.body().h * 0.8)
        } else {
            3.0 * pitch
        });
        let top = self.y;
        self.y += pad;
        for (i, line) in lines.iter().enumerate() {
            if self.room() < pitch {
                self.turn_page();
            }
            if i == 0 && !say.lead.is_empty() {
                let at = pt(self.left() + pad, self.y + pitch * 0.76);
                self.paper().say(at, say.size, Weight::Bold, &say.lead);
            }
            self.line(line, say.size, say.weight, pad + lead);
        }
        self.y += pad;
        if say.framed && self.y > top {
            let frame = Area::new(self.left(), top, self.width(), self.y - top);
            self.paper().rect(frame, Fill::None, Some(Pen::WIDE));
        }
        self.y += 0.9 * self.tight;
    }
    fn figure(&mut self, figure: &Figure) {
        self.need(figure.size[1]);
        let at = pt(self.left(), self.y);
        self.paper().put(&figure.drawing, at);
        self.y += figure.size[1];
    }
    /// A figure with blocks to its right; what they cannot hold runs over to the next page.
    fn beside(&mut self, figure: &Figure, blocks: &[Block]) {
        const AISLE: f64 = 6.0;
        self.need(figure.size[1]);
        let (top, page) = (self.y, self.pages.len());
        self.figure(figure);
        let below = self.y;
        self.y = top;
        let x = self.left() + figure.size[0] + AISLE;
        self.column = Some((x, self.width() - figure.size[0] - AISLE));
        for block in blocks {
            self.block(block);
        }
        self.column = None;
        if self.pages.len() == page {
            self.y = self.y.max(below);
        }
    }
    fn block(&mut self, block: &Block) {
        match block {
            Block::Heading(text) => {
                self.need(self.pitch(HEADING) * 3.5);
                self.y += 2.0 * self.tight;
                for line in wrap(text, HEADING, Weight::Bold, self.width()) {
                    self.line(&line, HEADING, Weight::Bold, 0.0);
                }
                self.y += 0.8;
            }
            Block::Say(say) => self.say(say),
            Block::Table(table) => lay_table(self, table),
            Block::Figure(figure) => self.figure(figure),
            Block::Beside(figure, blocks) => self.beside(figure, blocks),
            Block::Gap(height) => self.y += (height * self.tight).min(self.room().max(0.0)),
            Block::Labels(_) => {}
        }
    }
}

/// Lays a section out.
pub(super) fn lay(section: &Section, paper: Paper, labels: LabelOptions) -> Vec<LaidPage> {
    if let [Block::Labels(sheet)] = section.blocks.as_slice() {
        return lay_labels(sheet, paper, labels);
    }
    let loose = flowed(section, paper, 1.0);
    let last = loose.y - loose.below_title;
    if loose.pages.len() < 2 || last > A_FEW_LINES || section.title.is_empty() {
        return loose.pages;
    }
    let tight = flowed(section, paper, TIGHT);
    if tight.pages.len() < loose.pages.len() {
        tight.pages
    } else {
        loose.pages
    }
}

fn flowed(section: &Section, paper: Paper, tight: f64) -> Flow<'_> {
    let mut flow = Flow::new(section, paper, tight);
    for (i, block) in section.blocks.iter().enumerate() {
        // A heading does not stand alone at the foot: it stays with the first row of its table.
        if let (Block::Heading(_), Some(Block::Table(table))) = (block, section.blocks.get(i + 1)) {
            let start = table_start(&flow, table);
            flow.need(flow.pitch(HEADING) * 1.5 + 3.0 + start);
        }
        flow.block(block);
    }
    flow
}

/// What stands at the foot of every page.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub(super) struct Foot {
    /// The job.
    pub(super) job: String,
    /// Her date, or empty.
    pub(super) date: String,
    /// The plan number, or empty.
    pub(super) plan_number: String,
    /// True if a reading or price is missing.
    pub(super) provisional: bool,
}

/// Puts the foot on a page: the job left, `PROVISIONAL` in the middle, plan number, date and page right.
pub(super) fn put_foot(page: &mut LaidPage, foot: &Foot, number: usize, of: usize) {
    let live = page.frame.live;
    let y = page.foot_at.unwrap_or(live.bottom() - 1.0);
    if page.foot_at.is_none() {
        let rule = y - 4.3;
        page.drawing
            .line(pt(live.x, rule), pt(live.right(), rule), Pen::NARROW);
    }
    let mut right = Vec::new();
    if !foot.plan_number.is_empty() {
        right.push(format!("plan {}", foot.plan_number));
    }
    if !foot.date.is_empty() {
        right.push(foot.date.clone());
    }
    right.push(format!("page {number} of {of}"));
    let right = right.join("  \u{00B7}  ");
    let taken = text_width(&right, 2.5, Weight::Regular);
    page.drawing
        .say_right(pt(live.right(), y), 2.5, Weight::Regular, &right);
    let mut end = live.right() - taken - 4.0;
    if foot.provisional {
        let word = Text::new(pt(end, y), 2.5, Weight::Bold, "PROVISIONAL").anchored(Anchor::Right);
        let frame = Area::new(end - word.width() - 1.5, y - 3.3, word.width() + 3.0, 4.2);
        page.drawing.text(Text {
            at: pt(end, y),
            ..word
        });
        page.drawing.rect(frame, Fill::None, Some(Pen::NARROW));
        end = frame.x - 3.0;
    }
    let name = shortened(&foot.job, 2.5, Weight::Regular, end - live.x);
    page.drawing.say(pt(live.x, y), 2.5, Weight::Regular, &name);
}

/// The text, cut off with an ellipsis where it is longer than the room. Only for what is printed in full elsewhere.
pub(super) fn shortened(text: &str, size: f64, weight: Weight, most: f64) -> String {
    if text_width(text, size, weight) <= most {
        return text.to_owned();
    }
    let room = most - text_width("\u{2026}", size, weight);
    let mut short = wrap(text, size, weight, room.max(1.0)).remove(0);
    while text_width(&short, size, weight) > room && short.pop().is_some() {}
    short + "\u{2026}"
}
