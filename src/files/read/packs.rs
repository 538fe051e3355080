//! What a row of goods says of its pack: how much it holds, how much is in hand, what it costs. Shared by stock.csv and
//! prefab.csv.

use super::report::Wrong;
use super::row::Row;
use crate::model::{NeedUnit, StockKind};
use crate::units::{Cents, Length, PriceRange};

/// What one pack holds; `None` where that cannot be told, which is then in the report.
pub(crate) fn pack(
    row: &mut Row<'_>,
    kind: StockKind,
    sold_by: &str,
    given: Option<NeedUnit>,
    length: Option<Length>,
) -> Option<NeedUnit> {
    const ONE: NeedUnit = NeedUnit::Count(1000);
    if given.is_none() && !row.is_blank("holds") {
        return None;
    }
    let holds = given.unwrap_or(ONE);
    let empty = match holds {
        NeedUnit::Count(n) | NeedUnit::Volume(n) => n <= 0,
        NeedUnit::Run(l) => !l.is_positive(),
    };
    if empty {
        let text = row.text("holds");
        row.wrong(
            "holds",
            &text,
            Wrong::new(
                "A pack that holds nothing cannot be bought.",
                "1 or more",
                "type what one pack holds.",
            ),
        );
        return None;
    }
    Some(match (kind, holds) {
        (StockKind::Moulding | StockKind::Board, NeedUnit::Count(n)) => {
            match sold_by.to_lowercase().as_str() {
                "foot" | "ft" | "feet" => NeedUnit::Run(Length::from_units(
                    Length::FOOT.units() * (n / 10).min(10_000_000) / 100,
                )),
                _ => holds,
            }
        }
        (StockKind::Banding, NeedUnit::Count(n)) => {
            if let Some(roll) = length {
                return Some(NeedUnit::Run(Length::from_units(
                    roll.units() * (n / 1000).clamp(1, 1000),
                )));
            }
            let text = row.text("holds");
            let wrong = Wrong::new(
                "Banding is counted by its length, and neither this cell nor the length says how long a roll is.",
                "a length such as 25 ft",
                if text.is_empty() {
                    "type 25 ft, or whatever the roll holds.".into()
                } else {
                    format!("type {text} ft or {text} m.")
                },
            );
            row.wrong("holds", &text, wrong);
            return None;
        }
        (StockKind::Sheet, NeedUnit::Run(_) | NeedUnit::Volume(_)) => {
            let text = row.text("holds");
            row.wrong(
                "holds",
                &text,
                Wrong::new(
                    "Sheets are counted.",
                    "1, or how many are in a pack",
                    "type 1.",
                ),
            );
            return None;
        }
        _ => holds,
    })
}

/// What is in hand, in what a pack holds.
pub(crate) fn in_hand(
    row: &mut Row<'_>,
    kind: StockKind,
    sold_by: &str,
    given: Option<NeedUnit>,
    holds: NeedUnit,
) -> NeedUnit {
    let nothing = match holds {
        NeedUnit::Count(_) => NeedUnit::Count(0),
        NeedUnit::Run(_) => NeedUnit::Run(Length::ZERO),
        NeedUnit::Volume(_) => NeedUnit::Volume(0),
    };
    let fits = match (given, holds) {
        (None | Some(NeedUnit::Count(0)), _) => return nothing,
        (Some(NeedUnit::Count(n)), NeedUnit::Count(_)) => kind != StockKind::Sheet || n % 1000 == 0,
        (Some(NeedUnit::Run(_)), NeedUnit::Run(_))
        | (Some(NeedUnit::Volume(_)), NeedUnit::Volume(_)) => true,
        (Some(NeedUnit::Count(n)), NeedUnit::Run(_))
            if matches!(sold_by.to_lowercase().as_str(), "foot" | "ft" | "feet") =>
        {
            return NeedUnit::Run(Length::from_units(
                Length::FOOT.units() * (n / 10).min(10_000_000) / 100,
            ));
        }
        _ => false,
    };
    if fits {
        return given.unwrap_or(nothing);
    }
    let (text, counts) = (row.text("have"), row.text("holds"));
    let fix = match given {
        Some(NeedUnit::Count(1_000)) if !counts.is_empty() => {
            format!("type {counts} for one that is whole; 0 if there is none.")
        }
        Some(NeedUnit::Count(n)) if n % 1_000 == 0 && !counts.is_empty() => {
            format!(
                "type {} times {counts}, in the same unit; 0 if there is none.",
                n / 1_000
            )
        }
        _ => "type the amount with the same unit; 0 if there is none.".to_owned(),
    };
    let wrong = Wrong::new(
        "What is in hand is written in what a pack holds, so that the two can be weighed against each other.",
        if counts.is_empty() {
            "a whole number".to_owned()
        } else {
            format!("an amount like {counts}")
        },
        fix,
    );
    row.wrong("have", &text, wrong);
    nothing
}

/// Price with its low and high end; blank ends mean a firm price. Shared with prefab.csv.
pub(crate) fn read_price(row: &mut Row<'_>) -> Option<PriceRange> {
    let likely = row.money("price");
    let low = row.money("price_low");
    let high = row.money("price_high");
    let Some(likely) = likely else {
        if row.is_blank("price") && (low.is_some() || high.is_some()) {
            let wrong = Wrong::new(
                "There is a low or high price but none between them, so the price counts as missing.",
                "a price such as 38.50",
                "type the price you expect to pay.",
            );
            row.caution("price", "nothing", wrong);
        }
        return None;
    };
    let range = PriceRange {
        low: low.unwrap_or(likely),
        likely,
        high: high.unwrap_or(likely),
    };
    let ends: [(&str, bool, Cents, &str); 2] = [
        ("price_low", range.low > likely, range.low, "at most"),
        ("price_high", range.high < likely, range.high, "at least"),
    ];
    for (column, bad, value, word) in ends {
        if bad {
            let wrong = Wrong::new(
                format!(
                    "It lies on the wrong side of the price, {}.",
                    likely.print()
                ),
                format!("{word} {}", likely.print()),
                "swap the two, or check the figures.",
            );
            row.wrong(column, &value.print(), wrong);
        }
    }
    Some(range)
}
