//! What the leftovers of a plan are worth: said below the line, never put into a total.

use crate::model::compare::RackWorth;
use crate::model::{Job, Plan};
use crate::units::Cents;

/// Pieces worth keeping of every stock row the plan cuts, each at its share of the price of the whole.
pub fn rack_worth(job: &Job, plan: &Plan) -> Vec<RackWorth> {
    let mut rows: Vec<RackWorth> = Vec::new();
    let mut shares: Vec<f64> = Vec::new();
    let mut keep = |item: &str, pieces: u32, amount: f64, share: f64, unit: &str| {
        if pieces == 0 {
            return;
        }
        if let Some(i) = rows.iter().position(|r| r.item == item) {
            rows[i].pieces += pieces;
            rows[i].amount += amount;
            shares[i] += share;
        } else {
            rows.push(RackWorth {
                item: item.into(),
                pieces,
                amount,
                unit: unit.into(),
                cents: None,
            });
            shares.push(share);
        }
    };
    for sheet in &plan.sheets {
        let kept = sheet.left.iter().filter(|l| l.keep);
        let area: f64 = kept.clone().map(|l| square_feet(l.size)).sum();
        let whole = square_feet(sheet.size).max(f64::MIN_POSITIVE);
        let count = f64::from(sheet.count);
        let pieces = kept.count() as u32 * sheet.count;
        // A rack piece cost nothing, so what is left of it is worth its size but adds no money.
        let share = if sheet.rack.is_none() {
            area * count / whole
        } else {
            0.0
        };
        keep(&sheet.item, pieces, area * count, share, "sq ft");
    }
    for stick in &plan.sticks {
        if stick.left < job.saw.keep.stick {
            continue;
        }
        let feet = stick.left.as_inches() / 12.0 * f64::from(stick.count);
        let whole = stick.length.as_inches() / 12.0;
        let share = if stick.rack.is_none() {
            feet / whole.max(f64::MIN_POSITIVE)
        } else {
            0.0
        };
        keep(&stick.item, stick.count, feet, share, "ft");
    }
    for (row, share) in rows.iter_mut().zip(shares) {
        let price = job
            .stock_row(&row.item)
            .and_then(crate::model::StockRow::likely);
        row.cents = price.map(|p| Cents((p.0 as f64 * share).round() as i64));
    }
    rows
}

fn square_feet(size: [crate::units::Length; 2]) -> f64 {
    size[0].as_inches() * size[1].as_inches() / 144.0
}
