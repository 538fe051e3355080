//! Where the answer changes: the hourly rate first, then sheet prices, frame prices, hours, and the step of one sheet.
//!
//! Every value is exact while the plans hold as they are. With money M and hours h of two routes, the rate is
//! (M_b - M_a) / (h_a - h_b): above it the route with fewer hours is the cheaper all in. Check value worked by hand, common
//! practice: 900 and 40 h against 1 300 and 16 h flip at 400 / 24 = 16.67 an hour.

use super::pair::Pair;
use super::route::Priced;
use super::shopping::Group;
use crate::model::compare::Flip;
use crate::units::Cents;

/// The rate at which two routes cost the same, in cents an hour.
pub(crate) struct RateFlip {
    pub(crate) at: Option<f64>,
    /// The cheaper route below the rate and the one above it.
    pub(crate) below: String,
    pub(crate) above: String,
}

/// Solves for the hourly rate; `extra` cents are put on the first route's money (a sheet more or fewer).
pub(crate) fn rate_flip(a: &Priced, b: &Priced, extra: f64) -> Option<RateFlip> {
    let money = |r: &Priced| r.money(&|_, p| p.likely.0).map(|m| m as f64);
    let gap = money(b)? - money(a)? - extra;
    let hours = (a.hours?.0 - b.hours?.0) as f64 / 100.0;
    let at = (hours != 0.0).then(|| gap / hours).filter(|r| *r >= 0.0);
    let (more, fewer) = if hours > 0.0 { (a, b) } else { (b, a) };
    Some(RateFlip {
        at,
        below: more.name.clone(),
        above: fewer.name.clone(),
    })
}

/// All flips of a pair, in the order they are shown.
pub(crate) fn flips(pair: &Pair, rate_known: bool) -> Vec<Flip> {
    let (a, b) = in_name_order(pair);
    let mut all = vec![hourly(a, b)];
    let tax = 1.0 + pair.winner.tax.map_or(0.0, |t| t.0 as f64 / 10_000.0);
    let now = pair.ahead_now();
    let cash = Pair {
        rate: Cents::ZERO,
        ..*pair
    }
    .ahead_now();
    let mut sheets: Vec<(String, i64, i64, bool)> = pair
        .inputs()
        .into_iter()
        .filter(|i| i.group == Group::Sheets)
        .map(|i| {
            let net = pair.winner.count_of(&i.code) - pair.other.count_of(&i.code);
            let taxed = taxed(pair, &i.code);
            (i.code, i.price.likely.0, net, taxed)
        })
        .filter(|(_, _, net, _)| *net != 0)
        .collect();
    sheets.sort_by_key(|(_, price, net, _)| -(price * net).abs());
    for (code, price, net, taxed) in &sheets {
        let each = *net as f64 * if *taxed { tax } else { 1.0 };
        if rate_known && let Some(ahead) = now {
            all.push(price_flip(code, *price, ahead, each, "", pair));
        }
        if let Some(ahead) = cash {
            let alone = price_flip(code, *price, ahead, each, ", in cash alone", pair);
            all.push(alone);
        }
    }
    if rate_known {
        all.extend(frames(pair, tax));
        all.extend(
            [pair.winner, pair.other]
                .into_iter()
                .filter_map(|r| hours(pair, r)),
        );
    }
    if let Some((code, price, net, taxed)) = sheets.first() {
        let each = *price as f64 * if *taxed { tax } else { 1.0 };
        all.extend(steps(pair, code, each, *net));
    }
    all
}

/// The pair in the order of their names' first appearance does not matter to the rate; the longer one is told first.
fn in_name_order<'a>(pair: &Pair<'a>) -> (&'a Priced, &'a Priced) {
    if pair.other.hours > pair.winner.hours {
        (pair.other, pair.winner)
    } else {
        (pair.winner, pair.other)
    }
}

fn hourly(a: &Priced, b: &Priced) -> Flip {
    let flip = rate_flip(a, b, 0.0);
    let at = flip.as_ref().and_then(|f| f.at);
    let says = match (&flip, at) {
        (None, _) => "cannot be told before everything is priced".into(),
        (Some(f), Some(at)) => format!(
            "below {} an hour {} costs less in money and time, above it {}",
            money(at),
            f.below,
            f.above
        ),
        (Some(_), None) if a.hours == b.hours => {
            "both take the same hours, so no rate changes it".into()
        }
        (Some(f), None) => format!(
            "{} takes fewer hours and costs less money, so no rate changes it",
            f.above
        ),
    };
    Flip {
        what: "an hour of yours".into(),
        at,
        unit: "cents an hour".into(),
        says,
    }
}

fn price_flip(code: &str, price: i64, ahead: i64, each: f64, basis: &str, pair: &Pair) -> Flip {
    // In cash alone the winner may be behind: then it is the price at which it comes level.
    let at = Some(price as f64 + ahead as f64 / each).filter(|p| *p >= 0.0);
    let says = match at {
        // Even as a gift it would not turn the answer.
        None => {
            let to = if ahead >= 0 { pair.other } else { pair.winner };
            format!("at no price of {code} does {} cost less{basis}", to.name)
        }
        Some(at) => {
            let dearer = at >= price as f64;
            let word = if dearer { "above" } else { "below" };
            let to = if ahead >= 0 {
                &pair.other.name
            } else {
                &pair.winner.name
            };
            format!("{word} {} for {code} {to} costs less{basis}", money(at))
        }
    };
    Flip {
        what: format!("{code}{basis}"),
        at,
        unit: "cents".into(),
        says,
    }
}

/// All frames dearer or cheaper by the same amount each.
fn frames(pair: &Pair, tax: f64) -> Option<Flip> {
    let count = |r: &Priced| -> f64 {
        let entries = r.bought.entries.iter().filter(|e| e.group == Group::Frames);
        entries
            .map(|e| e.count as f64 * if e.taxed { tax } else { 1.0 })
            .sum()
    };
    let net = count(pair.winner) - count(pair.other);
    let ahead = pair.ahead_now()? as f64;
    if net == 0.0 {
        return None;
    }
    let by = ahead / net;
    let word = if by >= 0.0 { "dearer" } else { "cheaper" };
    Some(Flip {
        what: "frames".into(),
        at: Some(by),
        unit: "cents more for each".into(),
        says: format!(
            "with every frame {} {word} {} costs less",
            money(by.abs()),
            pair.other.name
        ),
    })
}

/// The hours of a route she builds at which the answer changes.
fn hours(pair: &Pair, route: &Priced) -> Option<Flip> {
    if !route.built {
        return None;
    }
    let what = format!("hours of {}", route.name);
    let unit = "hours".to_owned();
    let stated = route.hours?.0 as f64 / 100.0;
    let sign = if route.name == pair.winner.name {
        1.0
    } else {
        -1.0
    };
    let ahead = pair.ahead_now()? as f64;
    let at = (pair.rate.0 > 0)
        .then(|| stated + sign * ahead / pair.rate.0 as f64)
        .filter(|h| *h >= 0.0);
    let says = match at {
        None => format!(
            "with no number of hours of {} does {} cost less",
            route.name, pair.other.name
        ),
        Some(h) => format!(
            "at {h:.1} hours ({:+.0}%) {} costs less",
            (h / stated.max(0.01) - 1.0) * 100.0,
            pair.other.name
        ),
    };
    Some(Flip {
        what,
        at,
        unit,
        says,
    })
}

/// The staircase: what the hourly rate would be with one sheet fewer and one more in the route that uses more of it.
fn steps(pair: &Pair, code: &str, each: f64, net: i64) -> Vec<Flip> {
    let (most, least) = if net > 0 {
        (pair.winner, pair.other)
    } else {
        (pair.other, pair.winner)
    };
    let sheets = most.count_of(code);
    [-1_i64, 1]
        .into_iter()
        .filter_map(|step| {
            let flip = rate_flip(most, least, each * step as f64)?;
            let count = sheets + step;
            let says = match flip.at {
                Some(at) => format!(
                    "with {count} of {code} instead of {sheets}, {} would cost less below {} an hour",
                    flip.below,
                    money(at)
                ),
                None => format!("with {count} of {code} instead of {sheets}, no rate would change it"),
            };
            Some(Flip {
                what: format!("an hour of yours with {count} of {code}"),
                at: flip.at,
                unit: "cents an hour".into(),
                says,
            })
        })
        .collect()
}

fn taxed(pair: &Pair, code: &str) -> bool {
    let mut all = pair
        .winner
        .bought
        .entries
        .iter()
        .chain(&pair.other.bought.entries);
    all.any(|e| e.code == code && e.taxed)
}

/// Cents, rounded half up, as money.
pub(crate) fn money(cents: f64) -> String {
    Cents(cents.round() as i64).print()
}
