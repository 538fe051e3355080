//! Assumptions and cautions: every value she did not give, every old or missing price, every missing reading, the plan's
//! own dangers, and what was not considered. Owns the safety lines: short, about this job, deferring to local codes.
//!
//! Sources of the safety lines: lead paint before 1978: 40 CFR 745; push sticks for narrow rips: 29 CFR 1910.213(c) (from
//! memory); wood dust limits: see OSHA, Wood dust, evaluating exposure; formaldehyde labels: 40 CFR 770; tip-over: CPSC
//! guidance on clothing storage units. The rest: common practice, no source.

use super::context::Context;
use super::opening::stands_title;
use super::settings::risky;
use crate::book::block::{Block, Col, PageKind, Row, Section, Table};
use crate::model::StockKind;

/// The last pages of the book.
pub(super) fn notes(ctx: &Context) -> Vec<Section> {
    let mut blocks = Vec::new();
    let all = cautions(ctx);
    if !all.is_empty() {
        blocks.push(Block::Heading("Cautions".into()));
        let numbered = (1..).zip(all);
        blocks.extend(numbered.map(|(i, c): (u32, String)| Block::point(i.to_string(), c)));
    }
    let provisional = ctx.provisional();
    if !provisional.is_empty() {
        blocks.push(Block::Heading("Why this book is provisional".into()));
        for why in provisional {
            blocks.push(Block::point("!", why));
        }
    }
    blocks.extend(proofs(ctx));
    blocks.extend(steps(ctx));
    blocks.push(Block::Heading("Safety, for this job".into()));
    for line in safety(ctx) {
        blocks.push(Block::point("!", line));
    }
    let old: Vec<Row> = ctx
        .input
        .buy
        .map_or(&[][..], |b| &b.lines)
        .iter()
        .filter(|l| !l.old_price.is_empty())
        .map(|l| {
            Row::of(vec![
                l.item.clone().into(),
                l.what.clone().into(),
                l.old_price.clone().into(),
            ])
        })
        .collect();
    if !old.is_empty() {
        blocks.push(Block::Heading(
            "Prices more than 30 days old on the job's date".into(),
        ));
        blocks.push(Block::Table(Table::new(
            vec![
                Col::words("item"),
                Col::words("what"),
                Col::words("price of"),
            ],
            old,
        )));
    }
    let defaults = &ctx.input.job.defaults;
    if !defaults.is_empty() {
        blocks.push(Block::Heading(
            "Taken because you did not say otherwise".into(),
        ));
        let rows = defaults
            .iter()
            .map(|d| {
                Row::of(vec![
                    d.place.clone().into(),
                    d.value.clone().into(),
                    d.why.clone().into(),
                ])
            })
            .collect();
        blocks.push(Block::Table(Table::new(
            vec![Col::words("where"), Col::words("taken"), Col::words("why")],
            rows,
        )));
    }
    blocks.push(Block::Heading("Not considered".into()));
    blocks.push(Block::say(
        "What the walls, floor and ceiling can carry; wiring, pipes and ducts behind them; fire and building rules; moisture \
         and movement of the wood over the seasons. Local codes and licensed people go before anything printed here.",
    ));
    vec![Section {
        kind: PageKind::Notes,
        title: "Assumptions and cautions".into(),
        bookmark: "Assumptions and cautions".into(),
        lying: false,
        blocks,
    }]
}

/// What to know before money is spent, in the order in which the cover and the last pages number it.
pub(super) fn cautions(ctx: &Context) -> Vec<String> {
    let mut all: Vec<String> = does_not_fit(ctx).into_iter().collect();
    all.extend(ctx.input.cautions.iter().cloned());
    all.extend(risky(ctx));
    all
}

/// That the route printed here does not go into the opening, and the page that draws it: before all that may be bought for it.
fn does_not_fit(ctx: &Context) -> Option<String> {
    let route = &ctx.plan().route;
    let sits = &ctx.input.fitted?.route(route)?.sits;
    let no = !sits.fits && !sits.not_known;
    let why = sits.why_not.as_deref().filter(|_| no)?;
    let page = stands_title(route);
    Some(format!(
        "THIS ROUTE DOES NOT FIT. {why} Buy and cut nothing for it before that is mended: see the page \"{page}\"."
    ))
}

/// How good the plan is, material by material, with the reason.
fn proofs(ctx: &Context) -> Vec<Block> {
    let items = &ctx.plan().items;
    if items.is_empty() {
        return Vec::new();
    }
    let rows = items
        .iter()
        .map(|i| {
            let least = if i.proved {
                "fewest possible".to_owned()
            } else {
                format!("{} not ruled out", i.at_least)
            };
            Row::of(vec![
                i.item.clone().into(),
                i.sheets.to_string().into(),
                least.into(),
                i.why.clone().into(),
            ])
        })
        .collect();
    vec![
        Block::Heading("How good the plan is".into()),
        Block::Table(Table::new(
            vec![
                Col::words("material"),
                Col::numbers("buy"),
                Col::words("could it be less"),
                Col::words("why"),
            ],
            rows,
        )),
    ]
}

/// Sizes of the boxes at which the plan would need a sheet more or save one; nothing where there is none within reach.
fn steps(ctx: &Context) -> Vec<Block> {
    let mut near = ctx.input.steps.iter().filter(|s| s.at.is_some()).peekable();
    if near.peek().is_none() {
        return Vec::new();
    }
    let mut blocks = vec![
        Block::Heading("Steps worth knowing".into()),
        Block::say(
            "By the sheets alone, one size changed and all others as they are: look whether the box still goes in, and holds \
             what you want, before you change it.",
        ),
    ];
    blocks.extend(near.map(|s| Block::point("-", s.words.clone())));
    blocks
}

fn safety(ctx: &Context) -> Vec<String> {
    let job = ctx.input.job;
    let mut all = Vec::new();
    if !ctx.plan().sheets.is_empty() {
        all.push(
            "Dust: extraction at the saw, a fitted P100 or FFP3 mask where it does not reach. Eyes and ears covered.".into(),
        );
        let boards = |words: &[&str]| {
            ctx.plan().sheets.iter().any(|s| {
                ctx.stock(&s.item).is_some_and(|r| {
                    let what = r.what.to_lowercase();
                    words.iter().any(|w| what.contains(w))
                })
            })
        };
        if boards(&["mdf", "particle", "chipboard", "fibreboard", "fiberboard"]) {
            all.push("Fibre and particle board: fine dust; buy panels with a low-formaldehyde label and air the room.".into());
        }
    }
    if before(1978, &job.project.house)
        || job
            .opening
            .as_ref()
            .is_some_and(|o| o.walls.is_empty() || o.walls.to_lowercase().contains("plaster"))
    {
        all.push(
            "The house may hold lead paint (before 1978): test before sanding, scraping or pulling old trim; no dry sanding; \
             paid work follows the lead-safe renovation rules."
                .into(),
        );
    }
    let frames = job.prefab.iter().any(|u| u.wall_fixing)
        || job.runs.iter().any(crate::model::Run::has_boxes);
    if frames {
        all.push(
            "Tall boxes and frames can tip until they are fixed to studs or sound masonry: one person holds, one fixes; no \
             drawers in, no children near."
                .into(),
        );
    }
    let wires = job.opening.as_ref().is_some_and(|o| {
        o.keep_clear.iter().any(|k| {
            let what = k.what.to_lowercase();
            ["outlet", "switch", "socket", "light"]
                .iter()
                .any(|w| what.contains(w))
        })
    });
    if wires {
        all.push(
            "Outlets and switches: circuit off and tested dead before cutting near them; never bury a box behind a back; \
             moving one is a licensed electrician's work where the local code says so."
                .into(),
        );
    }
    let oil = job
        .stock
        .iter()
        .any(|s| s.kind == StockKind::Paint && s.what.to_lowercase().contains("oil"))
        || job.finish.look.to_lowercase().contains("oil");
    if oil {
        all.push(
            "Oily rags heat up by themselves: dry them flat outdoors or drown them in water."
                .into(),
        );
    }
    all.push("Sound fixings carry shelves, not the finish: keep to the maker's figures for loads; ask a licensed person where in doubt.".into());
    all
}

/// True if a year before `year` stands in the text.
fn before(year: u32, text: &str) -> bool {
    text.split(|c: char| !c.is_ascii_digit())
        .filter(|w| w.len() == 4)
        .filter_map(|w| w.parse::<u32>().ok())
        .any(|y| (1500..year).contains(&y))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 40 CFR 745 (lead): target housing is housing built before 1978.
    #[test]
    fn the_year_of_the_house_is_found_in_her_words() {
        assert!(before(1978, "back hall, built 1934"));
        assert!(before(1978, "1977"));
        assert!(!before(1978, "built 1978, flat 12"));
        assert!(!before(1978, "no. 1934567"));
    }
}
