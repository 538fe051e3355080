//! Plans a whole file of instances and prints a table, so that anyone can repeat the figures:
//!
//! `cargo bench --bench instances -- benches/data/cabinet_lists.jsonl [--turning] [--effort quick|normal|thorough]
//! [--threads N] [--first N] [--totals] [--plain]`
//!
//! One JSON object a line: `sheet` [x, y], `items` [length, width, count, grain?], optional `kerf`, `clean_edge`, `bound`.
//! Without a grain, pieces keep their direction, or may be turned with `--turning`. Each answer is replayed by a checker, and
//! shown to the referee with what it claims.
//! `--plain` leaves the second aims out; the last line counts cuts, fence settings (each list's different rips) and the largest
//! leftover of each list, so that two runs show what they bring.

#[path = "../tests/replay/mod.rs"]
#[allow(unreachable_pub)]
mod replay;

use nookwright::model::task::{PieceKind, SheetKind, SheetTask, SolveOptions};
use nookwright::model::{Effort, FirstCut, Grain, KeepRule};
use nookwright::model::{SettingKind, SheetPlan};
use nookwright::referee;
use nookwright::sheets;
use nookwright::sheets::order::{OrderRules, order_work};
use nookwright::units::Length;
use serde_json::Value;
use std::collections::BTreeSet;
use std::time::Instant;

fn int(v: &Value) -> i64 {
    v.as_i64().unwrap_or(0)
}

fn task(v: &Value, turning: bool) -> SheetTask {
    let inch16 = v["unit"].as_str() == Some("1/16 in");
    let unit = |n: i64| {
        if inch16 {
            Length::in_64(4 * n)
        } else {
            Length::mm(n)
        }
    };
    let clean = unit(int(&v["clean_edge"]));
    let items = v["items"].as_array().map_or(&[][..], |a| a);
    SheetTask {
        kinds: vec![SheetKind {
            item: "SHEET".into(),
            rack: None,
            size: [unit(int(&v["sheet"][0])), unit(int(&v["sheet"][1]))],
            clean_edge: [clean; 4],
            grain_along_y: false,
            cost: None,
            have: 0,
            at_most: None,
        }],
        pieces: items
            .iter()
            .enumerate()
            .map(|(n, i)| PieceKind {
                mark: format!("P{n}"),
                count: u32::try_from(int(&i[2])).unwrap_or(0),
                size: [unit(int(&i[0])), unit(int(&i[1]))],
                grain: match i[3].as_str() {
                    Some("any") => Grain::Any,
                    Some("width") => Grain::Width,
                    Some(_) => Grain::Length,
                    None if turning => Grain::Any,
                    None => Grain::Length,
                },
                match_group: None,
            })
            .collect(),
        kerf: unit(int(&v["kerf"])),
        turns: None,
        first: FirstCut::Either,
        keep: KeepRule::default(),
        narrowest_safe_rip: Length::in_64(96),
    }
}

/// What the saw has to do, and what stays.
#[derive(Default)]
struct Work {
    cuts: usize,
    /// Different rips of a list, summed over lists.
    settings: usize,
    /// The same once the strip that is not measured is chosen, with the order of work.
    ordered: usize,
    /// Largest leftover of each list in thousandths of its sheet, summed.
    left: i128,
}

impl Work {
    fn add(&mut self, sheets: &[SheetPlan], rules: &OrderRules) {
        let mut ordered = sheets.to_vec();
        let lines = order_work(&mut ordered, rules);
        self.ordered += lines
            .iter()
            .filter(|l| l.kind == SettingKind::Rip)
            .map(|l| l.size)
            .collect::<BTreeSet<_>>()
            .len();
        let mut rips = BTreeSet::new();
        let mut left = 0;
        for s in sheets {
            self.cuts += s.cuts.len() * s.count as usize;
            rips.extend(s.cuts.iter().filter(|c| !c.across).map(|c| c.at - c.of[1]));
            let area = |w: Length, h: Length| i128::from(w.units()) * i128::from(h.units());
            let whole = area(s.size[0], s.size[1]).max(1);
            let each = s
                .left
                .iter()
                .map(|l| area(l.size[0], l.size[1]) * 1000 / whole);
            left = left.max(each.max().unwrap_or(0));
        }
        self.settings += rips.len();
        self.left += left;
    }
}

/// User time of this process so far, in milliseconds; wall time where the system does not tell.
fn user_ms(start: Instant) -> u128 {
    let stat = std::fs::read_to_string("/proc/self/stat").unwrap_or_default();
    stat.rsplit(')')
        .next()
        .and_then(|s| s.split_whitespace().nth(11)?.parse::<u128>().ok())
        .map_or_else(|| start.elapsed().as_millis(), |t| t * 10)
}

fn main() {
    let args: Vec<String> = std::env::args()
        .skip(1)
        .filter(|a| a != "--bench")
        .collect();
    let value = |name: &str| {
        let at = args.iter().position(|a| a == name)?;
        args.get(at + 1)
    };
    let has = |name: &str| args.iter().any(|a| a == name);
    let Some(path) = args.iter().find(|a| a.ends_with(".jsonl")) else {
        println!("give an instance file (.jsonl)");
        return;
    };
    let options = SolveOptions {
        effort: match value("--effort").map(String::as_str) {
            Some("quick") => Effort::Quick,
            Some("thorough") => Effort::Thorough,
            _ => Effort::Normal,
        },
        threads: value("--threads").and_then(|n| n.parse().ok()).unwrap_or(1),
        second_aims: !has("--plain"),
    };
    let first = value("--first")
        .and_then(|n| n.parse().ok())
        .unwrap_or(usize::MAX);
    let turning = has("--turning");
    let text = std::fs::read_to_string(path).expect("the instance file can be read");
    let begin = Instant::now();
    let (mut sheets, mut bound, mut known, mut proved, mut slowest, mut lists) = (0, 0, 0, 0, 0, 0);
    let mut work = Work::default();
    println!("list                    sheets  bound  known  proved        steps      ms  1st ms");
    for line in text.lines().take(first) {
        let v: Value = serde_json::from_str(line).expect("one JSON object a line");
        let task = task(&v, turning);
        let (cpu, wall) = (user_ms(begin), Instant::now());
        let mut first_ms = None;
        let answer = sheets::solve(&task, &options, &mut |_| {
            first_ms.get_or_insert_with(|| wall.elapsed().as_millis());
        });
        let ms = user_ms(begin) - cpu;
        let id = v["id"].as_str().unwrap_or("?");
        let n = match replay::check(&task, &answer) {
            Ok((_, bought)) => bought,
            Err(e) => {
                println!("{id}: WRONG: {e}");
                continue;
            }
        };
        if let Err(faults) = referee::check_sheets(&task, &answer) {
            println!("{id}: refused: {faults:?}");
        }
        if !answer.unplaced.is_empty() {
            println!(
                "{id}: {} kinds of piece without a place",
                answer.unplaced.len()
            );
        }
        let variant = if turning { "turning" } else { "oriented" };
        let k = int(&v["bound"][variant]);
        if i64::from(n) < k {
            println!("{id}: below a known bound");
        }
        if !has("--totals") {
            println!(
                "{id:<22} {n:>7} {:>6} {k:>6} {:>7} {:>12} {ms:>7} {:>7}",
                answer.at_least,
                answer.proved,
                answer.searched,
                first_ms.unwrap_or(0)
            );
        }
        let rules = OrderRules {
            kerf: task.kerf,
            narrowest_safe_rip: task.narrowest_safe_rip,
            largest_alone: [Length::mm(1200); 2],
            ..OrderRules::default()
        };
        work.add(&answer.sheets, &rules);
        lists += 1;
        sheets += n;
        bound += answer.at_least;
        known += k;
        proved += u32::from(answer.proved);
        slowest = slowest.max(ms);
    }
    let all = user_ms(begin);
    println!(
        "{lists} lists: {sheets} sheets, bound {bound}, known {known}, {proved} proved, {all} ms user, mean {}, slowest {slowest}; {} ms wall",
        all / lists.max(1),
        begin.elapsed().as_millis()
    );
    println!(
        "{} cuts, {} fence settings, {} with the order of work, largest leftovers {}.{} % of a sheet on average",
        work.cuts,
        work.settings,
        work.ordered,
        work.left / 10 / lists.max(1) as i128,
        work.left / lists.max(1) as i128 % 10
    );
}
