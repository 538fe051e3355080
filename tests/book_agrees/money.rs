//! What is bought, what it costs and how the routes stand: `buy --json` and `compare --json` against the twin.

use crate::Made;
use crate::figures::money;
use crate::twin::Section;
use serde_json::Value;

fn list<'a>(value: &'a Value, key: &str) -> &'a [Value] {
    value[key]
        .as_array()
        .unwrap_or_else(|| panic!("{key} is a list"))
}

fn text<'a>(value: &'a Value, key: &str) -> &'a str {
    value[key]
        .as_str()
        .unwrap_or_else(|| panic!("{key} is text"))
}

fn titled<'a>(made: &'a Made, title: &str) -> Option<&'a Section> {
    let at = made.list.iter().position(|(t, _, _)| t == title)?;
    made.twin.get(at)
}

#[track_caller]
fn says(made: &Made, section: &Section, what: &str) {
    assert!(
        section.flat().contains(what),
        "{}: {what:?} is not in\n{}",
        made.sample,
        section.lines.join("\n")
    );
}

/// A row of a table: its first cell and the last ones.
#[track_caller]
fn row(made: &Made, section: &Section, first: &str, last: &[String]) {
    let holds = |r: &Vec<&str>| r.first() == Some(&first) && r[1..].iter().eq(last.iter());
    assert!(
        section.rows().any(|r| holds(&r)),
        "{}: no row {first:?} with {last:?} in\n{}",
        made.sample,
        section.lines.join("\n")
    );
}

/// The first page: how much of everything, what it costs, whether fewer is possible; the notes repeat it.
pub(crate) fn answer(made: &Made) {
    let (first, notes) = (
        &made.twin[0],
        titled(made, "Assumptions and cautions").expect("notes"),
    );
    for item in list(&made.plan, "items") {
        let many = item["sheets"].as_i64().expect("a number");
        let price = item["cost_cents"]
            .as_i64()
            .map_or_else(String::new, |c| format!(", {}", money(c)));
        let name = text(item, "item");
        let words = |kind: &str| {
            let plural = if many == 1 { "" } else { "s" };
            let tail = if item["proved"] == true {
                ": fewest possible"
            } else {
                ": "
            };
            format!("{many} {kind}{plural} of {name}{price}{tail}")
        };
        let flat = first.flat();
        assert!(
            many == 0 || flat.contains(&words("sheet")) || flat.contains(&words("stick")),
            "{}: {:?} is not on the first page",
            made.sample,
            words("sheet")
        );
        says(made, first, text(item, "why"));
        let told = notes
            .rows()
            .any(|r| r.len() > 2 && r[0] == name && r[1] == many.to_string());
        assert!(told, "{}: {name} is not in the notes", made.sample);
    }
    says(made, first, text(&made.plan, "plan_number"));
}

/// The shopping list: each line's packs and price, and the sums.
pub(crate) fn shopping(made: &Made) {
    let Some(section) = titled(made, "Shopping list") else {
        assert!(
            list(&made.buy, "lines").is_empty(),
            "{}: no shopping list",
            made.sample
        );
        return;
    };
    let mut sum = 0;
    let (mut bought, mut ordered) = (0, 0);
    for line in list(&made.buy, "lines") {
        let packs = list(line, "packs");
        let Some(cents) = line["cents"].as_i64().filter(|_| !packs.is_empty()) else {
            continue;
        };
        (sum, bought) = (sum + cents, bought + 1);
        let lead = format!("{} ", text(line, "item"));
        let many = packs[0]["packs"].to_string();
        let holds = |r: &Vec<&str>| {
            r.len() >= 6
                && r[0] == "[ ]"
                && format!("{} ", r[1]).starts_with(&lead)
                && r[r.len() - 1].starts_with("__")
                && r[r.len() - 2] == money(cents)
                && r[r.len() - 3].split(' ').next() == Some(&many)
                && r[r.len() - 5] == text(line, "need")
        };
        assert!(
            section.rows().any(|r| holds(&r)),
            "{}: no line for {line} in\n{}",
            made.sample,
            section.lines.join("\n")
        );
        says(made, section, text(line, "near_miss"));
        if let Some(date) = line["order_by"]["date"].as_str() {
            ordered += 1;
            says(made, section, &format!("Order by {date}: "));
            says(made, section, text(&line["order_by"], "task"));
            let mut rows = made.buy_csv.lines();
            assert!(
                rows.any(|r| r.contains(lead.trim()) && r.ends_with(&format!(",{date}"))),
                "{}: {date} not in buy.csv",
                made.sample
            );
        }
    }
    assert!(ordered > 0 || made.sample != "alcove", "nothing on the way");
    assert!(bought > 0, "{}: nothing to buy", made.sample);
    row(made, section, "All goods", &[money(sum)]);
    if list(&made.buy, "missing").is_empty() {
        let total = made.buy["total"].as_i64().expect("cents");
        assert_eq!(sum + made.buy["tax"].as_i64().expect("cents"), total);
        row(made, section, "To pay", &[money(total)]);
    }
}

/// The routes side by side: every line, tax, hours, date; what would flip it; the verdict, here and on the first page.
pub(crate) fn comparison(made: &Made) {
    let routes = list(&made.compare, "routes");
    let Some(section) = titled(made, "Cost of each route") else {
        assert!(
            routes.len() < 2,
            "{}: {} routes, but no page of them",
            made.sample,
            routes.len()
        );
        return;
    };
    let of = |each: &dyn Fn(&Value) -> String| routes.iter().map(each).collect::<Vec<String>>();
    let cents = |key: &'static str| of(&move |r| money(r[key].as_i64().expect("cents")));
    for (i, line) in list(&routes[0], "lines").iter().enumerate() {
        let shown = of(&|r| match r["lines"][i]["cents"].as_i64().expect("cents") {
            0 => "-".to_owned(),
            c => money(c),
        });
        row(made, section, text(line, "what"), &shown);
    }
    row(made, section, "Money out", &cents("money_cents"));
    row(made, section, "Money and time", &cents("total_cents"));
    row(
        made,
        section,
        "Your hours",
        &of(&|r| format!("{:.1}", r["hours"].as_f64().expect("hours"))),
    );
    row(made, section, "Done", &of(&|r| text(r, "done").to_owned()));
    let first = &made.twin[0];
    row(made, first, "money and time", &cents("total_cents"));
    for route in routes {
        let key = |k: &str| money(route[k].as_i64().expect("cents"));
        row(
            made,
            section,
            text(route, "route"),
            &[
                key("money_low_cents"),
                key("money_cents"),
                key("money_high_cents"),
            ],
        );
        says(made, section, &key("tax_cents"));
    }
    for flip in list(&made.compare, "flips") {
        if let (Some(at), true) = (flip["at"].as_f64(), text(flip, "unit").starts_with("cents")) {
            says(made, section, &money(at.round() as i64));
        }
    }
    for said in list(&made.compare, "says") {
        says(made, section, said.as_str().expect("text"));
    }
    for m in list(&made.compare, "moves") {
        let ahead = |k: &str| money(m[k].as_i64().expect("cents"));
        let said = format!(
            "{}: {} to {}: ahead by {} to {}",
            text(m, "what"),
            text(m, "from"),
            text(m, "to"),
            ahead("ahead_from"),
            ahead("ahead_to")
        );
        says(made, section, &said);
    }
    for page in [section, first] {
        says(made, page, text(&made.compare["verdict"], "sentence"));
    }
}
