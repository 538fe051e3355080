//! Makes the book: gathers the sections, lays them out, numbers the pages, paints. Owns the order and the selection of
//! pages; must not know what stands on them.

use super::block::{PageKind, Section};
use super::draw::{Leaf, PdfFacts, to_pdf, visible};
use super::layout::{Foot, LaidPage, lay, put_foot};
use super::pages::stationery::LabelOptions;
use super::pages::{COVER_CAUTIONS, Context, CoverFacts, MAKERS, cover, sheet_svg};
use super::twin::twin;
use crate::model::compare::{BuyList, Comparison};
use crate::model::{FinishPlan, Job, Paper, Plan};
use crate::plan::{Fitted, Step, TrimPlan};

/// Where a selection of pages is taken to.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum For {
    /// To the saw and the bench: settings, sheets, sticks, labels, cut list, boxes.
    Saw,
    /// To the store.
    Store,
    /// To the closet.
    Closet,
    /// To the paint stage.
    Paint,
}

impl For {
    /// Reads the word.
    pub fn parse(word: &str) -> Option<Self> {
        match word {
            "saw" => Some(Self::Saw),
            "store" => Some(Self::Store),
            "closet" => Some(Self::Closet),
            "paint" => Some(Self::Paint),
            _ => None,
        }
    }
    /// True for the pages that belong there. The list of cautions goes everywhere.
    fn takes(self, kind: PageKind) -> bool {
        use PageKind as P;
        let own: &[PageKind] = match self {
            Self::Saw => &[
                P::Settings,
                P::Sheet,
                P::Sticks,
                P::Labels,
                P::CutList,
                P::Assembly,
                P::Base,
            ],
            Self::Store => &[P::StoreCuts, P::Load, P::Shopping],
            Self::Closet => &[
                P::Work,
                P::Opening,
                P::Stands,
                P::Base,
                P::Level,
                P::Trim,
                P::Templates,
                P::Sticks,
            ],
            Self::Paint => &[P::Paint],
        };
        kind == P::Notes || own.contains(&kind)
    }
}

/// What a book is made of.
#[derive(Clone, Debug)]
pub struct BookInput<'a> {
    /// The job.
    pub job: &'a Job,
    /// The plan of the route that is printed.
    pub plan: &'a Plan,
    /// What to buy for it.
    pub buy: Option<&'a BuyList>,
    /// The route filled, primed and painted.
    pub finish: Option<&'a FinishPlan>,
    /// Scribe strips and mouldings of the route.
    pub trim: Option<&'a TrimPlan>,
    /// The routes side by side.
    pub comparison: Option<&'a Comparison>,
    /// The opening, surveyed, and how each route stands in it; `None` = no opening.
    pub fitted: Option<&'a Fitted>,
    /// Sizes of the boxes at which the number of sheets changes.
    pub steps: &'a [Step],
    /// Cautions of other rooms, most important first.
    pub cautions: Vec<String>,
    /// Paper.
    pub paper: Paper,
    /// `None` = the whole book.
    pub only: Option<For>,
    /// How labels are printed.
    pub labels: LabelOptions,
    /// True to add the full-size templates of the scribe strips.
    pub templates: bool,
}

/// A section's place in the book.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct PageEntry {
    /// Its line in the outline.
    pub title: String,
    /// Its first page, from 1.
    pub page: usize,
    /// How many pages it takes.
    pub pages: usize,
}

/// A book and what goes with it.
#[derive(Clone, PartialEq, Debug)]
pub struct Book {
    /// `build-book.pdf`.
    pub pdf: Vec<u8>,
    /// `labels.pdf`: the label pages alone; empty where nothing is labelled.
    pub labels_pdf: Vec<u8>,
    /// `store-cuts.pdf`: the pages for the saw counter alone; empty where the store cuts nothing.
    pub store_cuts_pdf: Vec<u8>,
    /// `build-book.txt`.
    pub text: String,
    /// Each layout as a drawing of its own: file name and content.
    pub sheet_svgs: Vec<(String, String)>,
    /// Cautions that came up in printing.
    pub cautions: Vec<String>,
    /// What is in it.
    pub page_list: Vec<PageEntry>,
}

/// A laid-out book before it is painted: what the tests look at.
pub(super) struct Pages {
    pub(super) laid: Vec<LaidPage>,
    pub(super) bookmarks: Vec<String>,
    pub(super) entries: Vec<PageEntry>,
    pub(super) sections: Vec<Section>,
}

/// Gathers and lays out all pages.
pub(super) fn lay_book(ctx: &Context) -> Pages {
    let input = ctx.input;
    let mut sections = Vec::new();
    for (kind, make) in MAKERS {
        if input.only.is_none_or(|o| o.takes(*kind)) {
            sections.extend(make(ctx));
        }
    }
    let laid: Vec<Vec<LaidPage>> = sections
        .iter()
        .map(|s| lay(s, input.paper, input.labels))
        .collect();
    // The cover lists page numbers, which depend on its own length: laid out once to learn it, once for good.
    let facts = |cover_pages: usize, pictures: bool, cautions: usize| CoverFacts {
        rule_first: cover_pages > 1,
        pictures,
        cautions,
        contents: sections
            .iter()
            .zip(&laid)
            .scan(cover_pages + 1, |next, (section, pages)| {
                let page = *next;
                *next += pages.len();
                Some((section.bookmark.clone(), page))
            })
            .collect(),
    };
    let mut front = Vec::new();
    if input.only.is_none() {
        let pages_of = |s: &Section| lay(s, input.paper, input.labels).len();
        // One page if it can be: without the pictures, then with fewer of the cautions, which all stand on the last pages.
        let plain = COVER_CAUTIONS.map(|n| (false, n));
        let mut ways = [(true, COVER_CAUTIONS[0])].into_iter().chain(plain);
        let (pictures, cautions) = ways
            .find(|(p, n)| pages_of(&cover(ctx, &facts(1, *p, *n))) == 1)
            .unwrap_or((false, COVER_CAUTIONS[0]));
        let length = pages_of(&cover(ctx, &facts(1, pictures, cautions)));
        let first = cover(ctx, &facts(length, pictures, cautions));
        let pages = lay(&first, input.paper, input.labels);
        front.push((first, pages));
    }
    let all = front.into_iter().chain(sections.into_iter().zip(laid));
    let mut book = Pages {
        laid: Vec::new(),
        bookmarks: Vec::new(),
        entries: Vec::new(),
        sections: Vec::new(),
    };
    for (section, pages) in all {
        book.entries.push(PageEntry {
            title: section.bookmark.clone(),
            page: book.laid.len() + 1,
            pages: pages.len(),
        });
        for page in pages {
            book.bookmarks.push(if page.first {
                visible(&section.bookmark)
            } else {
                String::new()
            });
            book.laid.push(page);
        }
        book.sections.push(section);
    }
    let foot = Foot {
        job: input.job.project.name.clone(),
        date: input
            .job
            .project
            .date
            .map_or_else(String::new, |d| d.to_string()),
        plan_number: input.plan.plan_number.clone(),
        provisional: !ctx.provisional().is_empty(),
    };
    let total = book.laid.len();
    for (i, page) in book.laid.iter_mut().enumerate() {
        put_foot(page, &foot, i + 1, total);
    }
    book
}

fn leaves(pages: &Pages, keep: &dyn Fn(usize) -> bool) -> Vec<Leaf> {
    pages
        .laid
        .iter()
        .zip(&pages.bookmarks)
        .enumerate()
        .filter(|(i, _)| keep(*i))
        .map(|(_, (page, bookmark))| Leaf {
            size: page.frame.paper,
            items: page.drawing.items.clone(),
            bookmark: bookmark.clone(),
        })
        .collect()
}

/// Makes a book. The same input gives the same bytes.
pub fn make_book(input: &BookInput) -> Book {
    let ctx = Context::new(input);
    let pages = lay_book(&ctx);
    let project = &input.job.project;
    let facts = PdfFacts {
        title: visible(&project.name),
        author: visible(&project.drawn_by),
        made_at: project.date.map_or(0, seconds),
    };
    // The pages of one kind as a file of their own; empty where there are none.
    let alone = |kind: PageKind| {
        let own: Vec<usize> = pages
            .sections
            .iter()
            .zip(&pages.entries)
            .filter(|(s, _)| s.kind == kind)
            .flat_map(|(_, e)| e.page - 1..e.page - 1 + e.pages)
            .collect();
        if own.is_empty() {
            Vec::new()
        } else {
            to_pdf(&leaves(&pages, &|i| own.contains(&i)), &facts)
        }
    };
    Book {
        pdf: to_pdf(&leaves(&pages, &|_| true), &facts),
        labels_pdf: alone(PageKind::Labels),
        store_cuts_pdf: alone(PageKind::StoreCuts),
        text: twin(&head(&ctx), &pages.sections),
        sheet_svgs: (0..input.plan.sheets.len())
            .map(|i| sheet_svg(&ctx, i))
            .collect(),
        cautions: missing_letters(&pages),
        page_list: pages.entries,
    }
}

/// The first lines of the text twin: what the foot says on paper.
fn head(ctx: &Context) -> Vec<String> {
    let project = &ctx.input.job.project;
    let mut line = project.name.clone();
    if !ctx.plan().plan_number.is_empty() {
        line.push_str("  plan ");
        line.push_str(&ctx.plan().plan_number);
    }
    if let Some(date) = project.date {
        line.push_str("  ");
        line.push_str(&date.to_string());
    }
    if !ctx.provisional().is_empty() {
        line.push_str("  PROVISIONAL");
    }
    vec![line]
}

/// Midnight of a date, in seconds since 1970, as a PDF wants it.
fn seconds(date: jiff::civil::Date) -> i64 {
    let epoch = jiff::civil::date(1970, 1, 1);
    let days = date
        .since((jiff::Unit::Day, epoch))
        .map_or(0, |span| i64::from(span.get_days()));
    days.max(0) * 86_400
}

fn missing_letters(pages: &Pages) -> Vec<String> {
    let mut all: Vec<char> = Vec::new();
    for page in &pages.laid {
        for letter in page.drawing.missing() {
            if !all.contains(&letter) {
                all.push(letter);
            }
        }
    }
    if all.is_empty() {
        return Vec::new();
    }
    let named: Vec<String> = all
        .iter()
        .take(8)
        .map(|c| format!("{c} (U+{:04X})", *c as u32))
        .collect();
    let more = if all.len() > 8 {
        format!(" and {} more", all.len() - 8)
    } else {
        String::new()
    };
    vec![format!(
        "The book's font has no letter {}{more}: each prints as \u{FFFD}. The text twin and the files keep it.",
        named.join(", ")
    )]
}
