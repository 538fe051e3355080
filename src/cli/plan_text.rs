//! A plan in words: each material with what it takes and how good that is, each layout, what is set how often at the saw,
//! what found no place, and what nearly went another way.

use super::ctx::Ctx;
use super::screen::{paragraph, safe};
use super::table::{Align, Table};
use crate::model::{ItemResult, Job, Plan, SettingKind, SheetPlan, Unplaced};
use crate::units::{Length, Tape};

/// Says the whole plan.
pub(crate) fn say(ctx: &mut Ctx, job: &Job, plan: &Plan) {
    let unit = match job.project.tape.unit_name() {
        "mm" => "millimetres",
        _ => "inches",
    };
    ctx.heading(&safe(&format!(
        "{}: route {}, plan {}, sizes in {unit}",
        job.project.name, plan.route, plan.plan_number
    )));
    ctx.say("\n");
    if plan.items.is_empty() && plan.unplaced.is_empty() {
        ctx.say("Nothing is cut on this route: its cut list is empty.\n");
    }
    unplaced(ctx, plan);
    for item in &plan.items {
        material(ctx, job, plan, item);
    }
    settings(ctx, plan);
    near_misses(ctx, job, plan);
}

fn material(ctx: &mut Ctx, job: &Job, plan: &Plan, item: &ItemResult) {
    let row = job.stock_row(&item.item);
    let same = |code: &str| {
        code == item.item
            || row.is_some_and(|r| job.stock_row(code).is_some_and(|o| r.same_material(o)))
    };
    let what = row.map_or("", |r| r.what.as_str());
    ctx.heading(&safe(&format!("{}  {what}", item.item)));
    let buys = |n: u32| {
        if n == 1 {
            "1 to buy".to_owned()
        } else {
            format!("{n} to buy")
        }
    };
    let good = if item.proved && item.cost_at_least_cents.is_some() {
        "no plan costs less (proved)".to_owned()
    } else if item.proved {
        format!("fewest possible {} (proved)", item.at_least)
    } else {
        format!("{} is not ruled out", item.at_least)
    };
    let left_out = |u: &Unplaced| {
        job.parts
            .iter()
            .any(|p| p.mark == u.mark && p.item == item.item)
    };
    let good = if plan.unplaced.iter().any(left_out) {
        format!("{good}, not counting what found no place")
    } else {
        good
    };
    let cost = item.cost_cents.map_or("no price".into(), |c| {
        format!("{} {}", c.print(), job.project.money)
    });
    ctx.say(&format!(
        "  {};  {good};  {}\n",
        buys(item.sheets),
        safe(&cost)
    ));
    ctx.say(&paragraph("  Why: ", &safe(&item.why), 7));
    let sheets: Vec<(usize, &SheetPlan)> = plan
        .sheets
        .iter()
        .enumerate()
        .filter(|(_, s)| same(&s.item))
        .collect();
    if !sheets.is_empty() {
        sheet_table(ctx, &job.project.tape, &sheets);
    }
    stick_table(ctx, job, plan, &same);
    ctx.say("\n");
}

fn sheet_table(ctx: &mut Ctx, tape: &Tape, sheets: &[(usize, &SheetPlan)]) {
    let mut table = Table::new(&[
        ("sheet", Align::Right),
        ("make", Align::Right),
        ("from", Align::Left),
        ("size", Align::Left),
        ("parts", Align::Wrap),
        ("cuts", Align::Right),
        ("used", Align::Right),
        ("to the rack", Align::Left),
    ]);
    for (n, sheet) in sheets {
        let kept: Vec<String> = counted(
            sheet
                .left
                .iter()
                .filter(|l| l.keep)
                .map(|l| by(tape, l.size)),
        );
        table.row(&[
            &(n + 1).to_string(),
            &sheet.count.to_string(),
            sheet.rack.as_deref().unwrap_or(&sheet.item),
            &by(tape, sheet.size),
            &counted(sheet.places.iter().map(|p| p.mark.clone())).join(", "),
            &sheet.cuts.len().to_string(),
            &format!("{}%", used(sheet)),
            &kept.join(", "),
        ]);
    }
    let text = table.text(ctx.rule());
    ctx.say(&text);
}

fn stick_table(ctx: &mut Ctx, job: &Job, plan: &Plan, same: &dyn Fn(&str) -> bool) {
    let tape = &job.project.tape;
    let mut table = Table::new(&[
        ("stick", Align::Right),
        ("make", Align::Right),
        ("from", Align::Left),
        ("length", Align::Right),
        ("pieces", Align::Wrap),
        ("left", Align::Right),
    ]);
    for (n, stick) in plan
        .sticks
        .iter()
        .enumerate()
        .filter(|(_, s)| same(&s.item))
    {
        table.row(&[
            &(n + 1).to_string(),
            &stick.count.to_string(),
            stick.rack.as_deref().unwrap_or(&stick.item),
            &tape.print(stick.length),
            &counted(stick.pieces.iter().map(|p| p.mark.clone())).join(", "),
            &tape.print(stick.left),
        ]);
    }
    if !table.is_empty() {
        let text = table.text(ctx.rule());
        ctx.say(&text);
    }
}

fn unplaced(ctx: &mut Ctx, plan: &Plan) {
    if plan.unplaced.is_empty() {
        return;
    }
    ctx.heading("FOUND NO PLACE");
    for u in &plan.unplaced {
        ctx.say(&paragraph(
            &format!("  {} x {}  ", u.count, safe(&u.mark)),
            &safe(&u.why),
            5,
        ));
    }
    ctx.say("\n");
}

fn settings(ctx: &mut Ctx, plan: &Plan) {
    if plan.settings.is_empty() {
        return;
    }
    let n = |kind: SettingKind| plan.settings.iter().filter(|s| s.kind == kind).count() as u64;
    let cuts: u64 = plan
        .sheets
        .iter()
        .map(|s| s.cuts.len() as u64 * u64::from(s.count))
        .sum();
    let again = plan.settings.iter().filter(|s| s.again).count();
    let of = |n: u64, what: &str| format!("{n} {what}{}", if n == 1 { "" } else { "s" });
    let again = match again {
        0 => String::new(),
        n => format!(", {n} of them a second time"),
    };
    ctx.say(&paragraph(
        "At the saw: ",
        &format!(
            "{} after cleaning the edges; {}, {}{again}.",
            of(cuts, "cut"),
            of(n(SettingKind::Rip), "fence setting"),
            of(n(SettingKind::Stop), "stop setting"),
        ),
        12,
    ));
}

/// A last sheet that is bought for very little: she may find those parts elsewhere.
fn near_misses(ctx: &mut Ctx, job: &Job, plan: &Plan) {
    for (n, sheet) in plan.sheets.iter().enumerate() {
        let alone = plan
            .sheets
            .iter()
            .filter(|s| s.item == sheet.item)
            .map(|s| s.count)
            .sum::<u32>()
            > 1;
        if sheet.count == 1 && sheet.rack.is_none() && used(sheet) < 15 && alone {
            let parts = counted(sheet.places.iter().map(|p| p.mark.clone())).join(", ");
            let price = job
                .stock_row(&sheet.item)
                .and_then(crate::model::StockRow::likely)
                .map_or(String::new(), |c| format!(" at {}", c.print()));
            ctx.say(&paragraph(
                "Near miss: ",
                &safe(&format!(
                    "sheet {} of {}{price} is opened for {parts} alone, {}% of it. An offcut, or parts a little smaller, would save it.",
                    n + 1,
                    sheet.item,
                    used(sheet)
                )),
                11,
            ));
        }
    }
}

/// Share of a sheet that becomes parts, in whole per cent.
fn used(sheet: &SheetPlan) -> i128 {
    let area = |[a, b]: [Length; 2]| i128::from(a.units()) * i128::from(b.units());
    let parts: i128 = sheet.places.iter().map(|p| area(p.size)).sum();
    parts * 100 / area(sheet.size).max(1)
}

fn by(tape: &Tape, [a, b]: [Length; 2]) -> String {
    format!("{} x {}", tape.print(a), tape.print(b))
}

/// `L1 2, P2`: each text once, in the order of its first, with how often it comes.
fn counted(texts: impl Iterator<Item = String>) -> Vec<String> {
    let mut seen: Vec<(String, u32)> = Vec::new();
    let mut at = std::collections::BTreeMap::new();
    for t in texts {
        let i = *at.entry(t.clone()).or_insert_with(|| {
            seen.push((t, 0));
            seen.len() - 1
        });
        seen[i].1 += 1;
    }
    seen.into_iter()
        .map(|(t, n)| if n == 1 { t } else { format!("{n} x {t}") })
        .collect()
}
