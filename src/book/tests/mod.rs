//! The book held against its rules: legible, nothing overlapping, nothing cut off, the same bytes every time, whatever the
//! job is like. Looks at display lists, not at PDF bytes.

pub(crate) mod fixtures;

use super::draw::{Area, Item, Text};
use super::make::{Pages, lay_book};
use super::pages::Context;
use super::{Book, BookInput, For, LabelOptions, Stationery, make_book};
use crate::model::compare::{BuyList, Comparison};
use crate::model::{Job, Paper, Plan};
use crate::units::{Length, Unit};
use fixtures::{
    Dice, alcove_buy, alcove_comparison, alcove_job, alcove_plan, bare_job, part, plan_of,
    random_sheet,
};
use proptest::prelude::*;

fn input<'a>(job: &'a Job, plan: &'a Plan, paper: Paper) -> BookInput<'a> {
    BookInput {
        job,
        plan,
        buy: None,
        fitted: None,
        steps: &[],
        finish: None,
        trim: None,
        comparison: None,
        cautions: Vec::new(),
        paper,
        only: None,
        labels: LabelOptions::default(),
        templates: false,
    }
}

fn full<'a>(
    job: &'a Job,
    plan: &'a Plan,
    buy: &'a BuyList,
    comparison: &'a Comparison,
) -> BookInput<'a> {
    BookInput {
        buy: Some(buy),
        fitted: None,
        steps: &[],
        comparison: Some(comparison),
        cautions: vec!["Stand each box up in the hall, then lift it on to the base: it cannot be tilted up on it.".into()],
        ..input(job, plan, Paper::Letter)
    }
}

fn texts(items: &[Item]) -> Vec<&Text> {
    items
        .iter()
        .filter_map(|i| match i {
            Item::Text(t) => Some(t),
            _ => None,
        })
        .collect()
}

/// Every rule of the page, for every page. Returns the first breach in words.
fn breach(pages: &Pages) -> Option<String> {
    for (n, page) in pages.laid.iter().enumerate() {
        let live = page.frame.live;
        for item in &page.drawing.items {
            // A line's own width may stand over the edge by half; letters may not.
            let edge = if matches!(item, Item::Text(_)) {
                0.0
            } else {
                0.4
            };
            if !live.inset(-edge).holds(&item.area()) {
                return Some(format!("page {}: outside {live:?}: {item}", n + 1));
            }
        }
        let texts = texts(&page.drawing.items);
        for text in &texts {
            for run in &text.runs {
                let least = if run.raise == 0.0 { 2.5 } else { 2.0 };
                if run.size < least - 1e-9 {
                    return Some(format!("page {}: too small: {}", n + 1, text.plain));
                }
            }
        }
        let mut areas: Vec<(Area, &str)> =
            texts.iter().map(|t| (t.area(), t.plain.as_str())).collect();
        areas.sort_by(|a, b| a.0.x.total_cmp(&b.0.x));
        for (i, (a, said)) in areas.iter().enumerate() {
            for (b, other) in areas[i + 1..].iter().take_while(|(b, _)| b.x < a.right()) {
                if a.meets(b) {
                    return Some(format!(
                        "page {}: {said:?} {a:?} overlaps {other:?} {b:?}",
                        n + 1
                    ));
                }
            }
        }
    }
    None
}

fn check(input: &BookInput) -> Pages {
    let ctx = Context::new(input);
    let pages = lay_book(&ctx);
    if let Some(breach) = breach(&pages) {
        panic!("{breach}");
    }
    pages
}

/// Writes a book to the folder named by NOOKWRIGHT_BOOK_OUT, to be looked at.
fn look(name: &str, book: &Book) {
    let Some(folder) = std::env::var_os("NOOKWRIGHT_BOOK_OUT") else {
        return;
    };
    let at = |file: &str| std::path::Path::new(&folder).join(format!("{name}-{file}"));
    std::fs::write(at("book.pdf"), &book.pdf).expect("write");
    std::fs::write(at("labels.pdf"), &book.labels_pdf).expect("write");
    std::fs::write(at("book.txt"), &book.text).expect("write");
    for (file, svg) in &book.sheet_svgs {
        std::fs::write(at(file), svg).expect("write");
    }
}

#[test]
fn an_alcove_book_keeps_the_rules_on_both_papers() {
    let (job, plan) = (alcove_job(), alcove_plan());
    let (buy, comparison) = (alcove_buy(), alcove_comparison());
    for paper in [Paper::Letter, Paper::A4] {
        let mut input = full(&job, &plan, &buy, &comparison);
        input.paper = paper;
        look(&format!("alcove-{paper:?}"), &make_book(&input));
        let pages = check(&input);
        let kinds: Vec<_> = pages.sections.iter().map(|s| s.kind).collect();
        assert_eq!(kinds.len(), 1 + 1 + 4 + 1 + 1 + 1 + 1 + 1 + 1);
        let book = make_book(&input);
        assert!(book == make_book(&input), "the same bytes twice");
        assert!(book.cautions.is_empty(), "{:?}", book.cautions);
    }
}

#[test]
fn selections_and_plain_labels_keep_the_rules() {
    let (job, plan) = (alcove_job(), alcove_plan());
    let (buy, comparison) = (alcove_buy(), alcove_comparison());
    for only in [For::Saw, For::Store, For::Closet, For::Paint] {
        let mut input = full(&job, &plan, &buy, &comparison);
        input.only = Some(only);
        input.labels = LabelOptions {
            on: Stationery::Plain,
            from: 4,
        };
        let pages = check(&input);
        assert!(!pages.laid.is_empty(), "{only:?}");
    }
}

#[test]
fn an_empty_plan_and_a_single_part_make_books() {
    let job = bare_job("", Unit::Mm);
    let plan = plan_of(Vec::new(), Length::MM * 3);
    let pages = check(&input(&job, &plan, Paper::A4));
    assert_eq!(pages.sections.len(), 2);
    let mut dice = Dice(7);
    let mut sheet = random_sheet(&mut dice, 1, 0);
    sheet.left.clear();
    sheet.places = vec![crate::model::Place {
        mark: "A".into(),
        at: [Length::ZERO; 2],
        size: [Length::inches(20), Length::inches(10)],
        turned: false,
    }];
    let one = plan_of(vec![sheet], Length::MM * 3);
    check(&input(&job, &one, Paper::A4));
}

#[test]
fn names_of_300_letters_wrap_and_nothing_is_lost() {
    let long = "Hallway-and-linen-store ".repeat(13);
    let solid = "W".repeat(300);
    let mut job = alcove_job();
    let mut plan = alcove_plan();
    job.project.name = format!("{long}{solid}");
    job.project.house.clone_from(&solid);
    job.stock[0].what = long.clone();
    job.parts[0].what = solid.clone();
    job.parts[1].note = long.clone();
    job.parts[1].in_box = solid.clone();
    for sheet in &mut plan.sheets {
        for place in sheet.places.iter_mut().filter(|p| p.mark == "L1") {
            place.mark.clone_from(&solid);
        }
    }
    job.parts[0].mark.clone_from(&solid);
    let mut buy = alcove_buy();
    buy.lines[0].what.clone_from(&long);
    buy.lines[0].item.clone_from(&solid);
    buy.lines[1].store.clone_from(&solid);
    let mut comparison = alcove_comparison();
    comparison.routes[0].route.clone_from(&solid);
    let mut input = full(&job, &plan, &buy, &comparison);
    input.cautions = vec![long.clone(), solid.clone()];
    look("long", &make_book(&input));
    check(&input);
}

#[test]
fn a_house_of_1500_parts_keeps_the_rules() {
    let mut dice = Dice(11);
    let mut job = bare_job("Whole house", Unit::Inch);
    let mut sheets = Vec::new();
    let mut count = 0;
    while count < 1_500 {
        let sheet = random_sheet(&mut dice, 400, 6);
        count += sheet.places.len() as u32 * sheet.count;
        sheets.push(sheet);
    }
    job.parts = (0..400)
        .map(|i| {
            let mut p = part(
                &format!("Q{i}"),
                "shelf or side",
                4,
                [Length::inches(20), Length::inches(9)],
            );
            p.band.front = i % 3 == 0;
            p.band.left = i % 7 == 0;
            p
        })
        .collect();
    let plan = plan_of(sheets, fixtures::i64ths(8));
    look("house", &make_book(&input(&job, &plan, Paper::Letter)));
    let pages = check(&input(&job, &plan, Paper::Letter));
    let labels: usize = pages
        .entries
        .iter()
        .filter(|e| e.title.starts_with("Labels"))
        .map(|e| e.pages)
        .sum();
    assert!(labels >= 1_500 / 30);
}

#[test]
fn a_letter_the_font_lacks_is_a_caution_and_marks_are_not_obeyed() {
    let mut job = alcove_job();
    job.project.name = "Nook \u{68DA} \u{202E}evil".into();
    let plan = alcove_plan();
    let book = make_book(&input(&job, &plan, Paper::Letter));
    assert_eq!(book.cautions.len(), 1);
    assert!(book.cautions[0].contains("U+68DA"));
    assert!(!book.text.contains('\u{202E}'));
    assert!(book.text.contains('\u{68DA}'), "the twin keeps the letter");
}

#[test]
fn the_text_twin_keeps_to_96_columns_and_says_everything() {
    let (job, plan) = (alcove_job(), alcove_plan());
    let (buy, comparison) = (alcove_buy(), alcove_comparison());
    let book = make_book(&full(&job, &plan, &buy, &comparison));
    for line in book.text.lines() {
        assert!(
            unicode_width::UnicodeWidthStr::width(line) <= 96,
            "{line:?}"
        );
    }
    for word in [
        "7C41-9E02",
        "Near miss",
        "clean edges of 1/8",
        "1,016.34",
        "scribe after boxes",
    ] {
        assert!(book.text.contains(word), "{word} is missing");
    }
}

/// Boxes low and tall, narrow and wide, with few shelves and many, in both units: each has a page of its own that keeps the
/// rules, with its marks and its diagonals on it.
#[test]
fn each_box_has_a_page_that_keeps_the_rules() {
    let mut dice = Dice(23);
    let mut built = 0;
    for round in 0..24 {
        let mut job = alcove_job();
        if round % 2 == 1 {
            job.project.tape = crate::units::Tape::usual(Unit::Mm);
        }
        job.runs = vec![fixtures::run_of_boxes(&mut dice)];
        let Ok(parts) = crate::boxes::drawn(&job, &[]) else {
            continue;
        };
        job.parts = parts;
        let plan = alcove_plan();
        let paper = if round % 3 == 0 {
            Paper::A4
        } else {
            Paper::Letter
        };
        let input = input(&job, &plan, paper);
        let pages = check(&input);
        let boxes = &job.runs[0].boxes;
        for b in boxes {
            let title = format!("Box {}", b.name);
            let entry = pages.entries.iter().find(|e| e.title == title);
            assert!(entry.is_some(), "{title}");
        }
        let text = make_book(&input).text;
        let bases = pages.entries.iter().filter(|e| e.title == "Base").count();
        let told = text.matches("Both diagonals: ").count();
        assert_eq!(told, boxes.len() + bases);
        built += 1;
    }
    assert!(built >= 12, "{built}");
}

/// Worked by hand: 96 less 2 clean edges of 1/8, 88, a kerf of 3/32 leaves 7 21/32.
#[test]
fn the_sum_line_adds_up() {
    let (job, plan) = (alcove_job(), fixtures::two_strips());
    let book = make_book(&input(&job, &plan, Paper::Letter));
    let flat = book.text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        flat.contains("2 clean edges of 1/8 + 88 + kerf 3/32 + 7 21/32 = 96"),
        "{}",
        book.text
    );
    assert!(
        flat.contains("2 clean edges of 1/8 + 2 x 23 1/4 + 2 kerfs of 3/32 + 1 1/16 = 48"),
        "{}",
        book.text
    );
}

/// The drawing of the worked sheet, item by item: change it on purpose or not at all.
#[test]
fn the_worked_sheet_is_drawn_as_it_was() {
    let (job, plan) = (alcove_job(), fixtures::two_strips());
    let input = input(&job, &plan, Paper::Letter);
    let pages = lay_book(&Context::new(&input));
    let at = pages
        .entries
        .iter()
        .find(|e| e.title.starts_with("Sheets"))
        .expect("sheet");
    let drawn: Vec<String> = pages.laid[at.page - 1]
        .drawing
        .items
        .iter()
        .map(ToString::to_string)
        .collect();
    let now = drawn.join("\n") + "\n";
    let file = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/src/book/tests/worked_sheet.txt"
    );
    if std::env::var_os("NOOKWRIGHT_BOOK_RENEW").is_some() {
        std::fs::write(file, &now).expect("write");
    }
    let was = std::fs::read_to_string(file).expect("the drawing as it was");
    assert!(now == was, "the drawing changed:\n{now}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(if std::env::var_os("NOOKWRIGHT_LONG").is_some() { 400 } else { 24 }))]

    /// Random guillotine plans: nothing overlaps, nothing lies outside, nothing is too small, and the same bytes come twice.
    #[test]
    fn random_plans_keep_the_rules(seed in any::<u64>(), sheets in 0_usize..4, deep in 0_u32..7, mm in any::<bool>(), a4 in any::<bool>()) {
        let mut dice = Dice(seed);
        let mut job = bare_job("Random", if mm { Unit::Mm } else { Unit::Inch });
        job.parts = (0..20).map(|i| {
            let mut p = part(&format!("Q{i}"), "a part", 1, [Length::inches(9), Length::inches(4)]);
            p.band.front = dice.below(2) == 0;
            p.band.right = dice.below(3) == 0;
            p.band.back = dice.below(4) == 0;
            p.grain = if dice.below(3) == 0 { crate::model::Grain::Any } else { crate::model::Grain::Length };
            p
        }).collect();
        let sheets = (0..sheets).map(|_| random_sheet(&mut dice, 25, deep)).collect();
        let plan = plan_of(sheets, fixtures::i64ths(8));
        let paper = if a4 { Paper::A4 } else { Paper::Letter };
        let input = input(&job, &plan, paper);
        let pages = lay_book(&Context::new(&input));
        prop_assert_eq!(breach(&pages), None);
        prop_assert!(make_book(&input) == make_book(&input));
    }
}
