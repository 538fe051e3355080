//! The shopping list: by store and aisle, with boxes to tick and room for the price paid; near misses, what is in hand.
//! Owns the wording; packs and prices are the cost room's.

use super::context::Context;
use crate::book::block::{Block, Cell, Col, PageKind, Row, Section, Table};
use crate::car::{CutCount, cut_count};
use crate::model::StockKind;
use crate::model::compare::{BuyLine, BuyList};
use crate::units::Cents;

/// What to buy, store by store.
pub(super) fn shopping(ctx: &Context) -> Vec<Section> {
    let Some(list) = ctx
        .input
        .buy
        .filter(|l| !l.lines.is_empty() || !l.also.is_empty())
    else {
        return Vec::new();
    };
    let (bought, in_hand): (Vec<&BuyLine>, Vec<&BuyLine>) =
        list.lines.iter().partition(|l| packs(l) > 0);
    let mut stores: Vec<&str> = Vec::new();
    for line in &bought {
        if !stores.contains(&line.store.as_str()) {
            stores.push(&line.store);
        }
    }
    let mut blocks = Vec::new();
    let money = &ctx.input.job.project.money;
    for store in &stores {
        let name = if store.is_empty() {
            "No store named"
        } else {
            store
        };
        blocks.push(Block::Heading(name.to_owned()));
        let here: Vec<&&BuyLine> = bought.iter().filter(|l| l.store == *store).collect();
        blocks.push(Block::Table(store_table(ctx, &here, money)));
        let sheets = here
            .iter()
            .filter_map(|l| ctx.stock(&l.item))
            .filter(|r| r.kind == StockKind::Sheet);
        for row in sheets {
            let planned = row
                .thickness()
                .map_or_else(String::new, |t| format!(" (planned {})", ctx.exact(t)));
            blocks.push(Block::say(format!(
                "{}: measure the first sheet's thickness: ____________{planned}. If it is off, plan again before ripping.",
                row.item
            )));
        }
    }
    let CutCount { cuts, charged } = cut_count(ctx.input.job, ctx.plan());
    if cuts > 0 {
        let free = if charged == 0 {
            "all free".to_owned()
        } else {
            format!("{charged} beyond the free ones")
        };
        blocks.push(Block::point(
            "[ ]",
            format!("Then to the saw counter with the page of store cuts: {cuts} cuts, {free}."),
        ));
    }
    if !list.also.is_empty() {
        blocks.push(Block::Heading(BuyList::ALSO.into()));
        let found = list
            .also
            .iter()
            .map(|what| Block::point("[ ]", what.clone()));
        blocks.extend(found);
    }
    blocks.extend(sum(ctx, list));
    if !in_hand.is_empty() {
        blocks.push(Block::Heading("Already in hand".into()));
        let rows = in_hand
            .iter()
            .map(|l| {
                Row::of(vec![
                    l.item.clone().into(),
                    l.what.clone().into(),
                    l.need.clone().into(),
                    l.have.clone().into(),
                ])
            })
            .collect();
        blocks.push(Block::Table(Table::new(
            vec![
                Col::words("item"),
                Col::words("what"),
                Col::numbers("need"),
                Col::numbers("have"),
            ],
            rows,
        )));
    }
    vec![Section {
        kind: PageKind::Shopping,
        title: "Shopping list".into(),
        bookmark: "Shopping list".into(),
        lying: false,
        blocks,
    }]
}

fn packs(line: &BuyLine) -> u32 {
    line.packs
        .iter()
        .map(|p| p.packs)
        .fold(0, u32::saturating_add)
}

fn store_table(ctx: &Context, lines: &[&&BuyLine], money: &str) -> Table {
    let mut rows = Vec::new();
    let mut aisles: Vec<&str> = Vec::new();
    for line in lines {
        if !aisles.contains(&line.aisle.as_str()) {
            aisles.push(&line.aisle);
        }
    }
    let mut subtotal = Cents::ZERO;
    let mut priced = true;
    for aisle in &aisles {
        if aisles.len() > 1 || !aisle.is_empty() {
            rows.push(Row::group(if aisle.is_empty() {
                "No aisle named"
            } else {
                aisle
            }));
        }
        for line in lines.iter().filter(|l| l.aisle == *aisle) {
            match line.cents {
                Some(cents) => subtotal += cents,
                None => priced = false,
            }
            rows.push(buy_row(ctx, line));
        }
    }
    let total = if priced {
        subtotal.print()
    } else {
        format!("at least {}", subtotal.print())
    };
    rows.push(Row::total(vec![
        "".into(),
        "Together, before tax".into(),
        "".into(),
        "".into(),
        "".into(),
        total.into(),
        Cell::Blank,
    ]));
    Table::new(
        vec![
            Col::signs(""),
            Col::words("what"),
            Col::numbers("need").kept(),
            Col::numbers("have"),
            Col::words("buy"),
            Col::numbers(format!("price, {money}")),
            Col::words("paid"),
        ],
        rows,
    )
}

fn buy_row(ctx: &Context, line: &BuyLine) -> Row {
    let buy: Vec<String> = line
        .packs
        .iter()
        .filter(|p| p.packs > 0)
        .map(|p| {
            let unit = ctx
                .stock(&p.item)
                .map(|r| crate::costs::pack_word(p.packs, &r.sold_by))
                .unwrap_or_default();
            let other = if p.item == line.item {
                String::new()
            } else {
                format!(" {}", p.item)
            };
            format!("{} {unit}{other}", p.packs).trim().to_owned()
        })
        .collect();
    let mut need = vec![line.need.clone()];
    if !line.need_with_waste.is_empty() {
        need.push(format!("{} with waste", line.need_with_waste));
    }
    let price = line
        .cents
        .map_or_else(|| "no price".to_owned(), Cents::print);
    let mut notes = Vec::new();
    if !line.near_miss.is_empty() {
        notes.push(format!(
            "Near miss: {}.",
            line.near_miss.trim_end_matches('.')
        ));
    }
    if let Some(other) = &line.runner_up {
        let packs: Vec<String> = other
            .packs
            .iter()
            .map(|p| format!("{} {}", p.packs, p.item))
            .collect();
        let short = if other.short_by.is_empty() {
            String::new()
        } else {
            format!(", short by {}", other.short_by)
        };
        notes.push(format!(
            "Other way: {} for {}{short}.",
            packs.join(" + "),
            other.cents.print()
        ));
    }
    if !line.spare.is_empty() {
        notes.push(format!("Over: {}.", line.spare.trim_end_matches('.')));
    }
    if !line.note.is_empty() {
        notes.push(format!("{}.", line.note.trim_end_matches('.')));
    }
    if let Some(order) = line.order_words() {
        notes.push(format!("O{}.", &order[1..]));
    }
    if !line.old_price.is_empty() {
        notes.push(format!("Old price, of {}.", line.old_price));
    }
    Row::of(vec![
        Cell::Tick,
        format!("{}  {}", line.item, line.what).into(),
        Cell::Lines(need),
        line.have.clone().into(),
        Cell::Lines(buy),
        price.into(),
        Cell::Blank,
    ])
    .noted(notes.join(" "))
}

/// Goods, tax and the sum, as the list has them; the least it can be where a price is missing.
fn sum(ctx: &Context, list: &BuyList) -> Vec<Block> {
    let goods: Cents = list.lines.iter().filter_map(|l| l.cents).sum();
    let mut rows = vec![Row::of(vec!["All goods".into(), goods.print().into()])];
    let rate = ctx
        .input
        .job
        .project
        .sales_tax
        .map_or_else(String::new, |r| format!(" {}.{:02}%", r.0 / 100, r.0 % 100));
    rows.push(Row::of(vec![
        format!("Sales tax{rate}").into(),
        list.tax
            .map_or_else(|| "not known".into(), Cents::print)
            .into(),
    ]));
    rows.push(Row::total(vec![
        "To pay".into(),
        list.total
            .map_or_else(|| format!("at least {}", goods.print()), Cents::print)
            .into(),
    ]));
    let money = &ctx.input.job.project.money;
    let mut blocks = vec![
        Block::Heading("Together".into()),
        Block::Table(Table::new(vec![Col::words(""), Col::numbers(money.clone())], rows).snug()),
    ];
    if !list.missing.is_empty() {
        blocks.push(Block::point(
            "!",
            format!("Missing, so no total is made: {}.", list.missing.join("; ")),
        ));
    }
    blocks
}
