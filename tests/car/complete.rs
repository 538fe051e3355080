//! Small jobs against a complete search: where some way of cutting brings everything home on as few sheets, the plan has one.
//!
//! Sheets, parts, car and margins are whole inches and her kerf is none, so that a cut at some whole inch does whatever any
//! cut does. The search shares nothing with the program: all subsets, all guillotine divisions, all positions.

use super::{Dice, bought, faults, job, numbers, plan, without_car};
use std::collections::HashMap;
use std::fmt::Write;

/// Cuts of the store that the search tries on one sheet.
const CUTS: u32 = 3;

struct Case {
    sheet: [i64; 2],
    clean: i64,
    true_to: i64,
    kerf: i64,
    least: i64,
    spaces: Vec<[i64; 2]>,
    parts: Vec<([i64; 2], bool)>,
    /// For each subset of the parts, the smallest rectangles that hold it.
    fronts: Vec<Vec<[i64; 2]>>,
    known: HashMap<([i64; 2], [Option<i64>; 4], usize, u32), bool>,
}

impl Case {
    fn fronts(&mut self) {
        let n = self.parts.len();
        self.fronts = vec![vec![[0, 0]]];
        for set in 1..1usize << n {
            let mut found: Vec<[i64; 2]> = Vec::new();
            if set.is_power_of_two() {
                let ([l, w], any) = self.parts[set.trailing_zeros() as usize];
                found.push([l, w]);
                if any {
                    found.push([w, l]);
                }
            }
            let mut one = (set - 1) & set;
            while one > 0 {
                for a in &self.fronts[one] {
                    for b in &self.fronts[set ^ one] {
                        found.push([a[0] + b[0], a[1].max(b[1])]);
                        found.push([a[0].max(b[0]), a[1] + b[1]]);
                    }
                }
                one = (one - 1) & set;
            }
            found.sort_unstable();
            let mut low = i64::MAX;
            found.retain(|r| {
                let keep = r[1] < low;
                low = low.min(r[1]);
                keep
            });
            self.fronts.push(found);
        }
    }

    /// Whether a piece with these sides (`None` = factory, else how far off) can be brought home with all of `set` on it.
    fn home(&mut self, size: [i64; 2], sides: [Option<i64>; 4], set: usize, cuts: u32) -> bool {
        let key = (size, sides, set, cuts);
        if let Some(known) = self.known.get(&key) {
            return *known;
        }
        let off = |s: usize| sides[s].unwrap_or(0);
        let most = [size[0] + off(0) + off(2), size[1] + off(1) + off(3)];
        let inset = |s: usize| self.clean + off(s);
        let room = [size[0] - inset(0) - inset(2), size[1] - inset(1) - inset(3)];
        let lies = |a: [i64; 2], b: [i64; 2]| a[0] <= b[0] && a[1] <= b[1];
        let in_car = self
            .spaces
            .iter()
            .any(|s| lies(most, *s) || lies([most[1], most[0]], *s));
        let holds = set == 0 || self.fronts[set].iter().any(|f| lies(*f, room));
        let mut found = holds && in_car;
        for axis in 0..2 {
            for at in self.least..=size[axis] - self.kerf - self.least {
                if found || cuts == 0 || !holds {
                    break;
                }
                let edge = Some(self.true_to + off(axis).min(off(axis + 2)));
                let (mut near, mut far) = (size, size);
                near[axis] = at;
                far[axis] = size[axis] - at - self.kerf;
                let (mut a, mut b) = (sides, sides);
                a[axis + 2] = edge;
                b[axis] = edge;
                let mut one = set;
                loop {
                    for n in 0..cuts {
                        found = found
                            || self.home(near, a, one, n)
                                && self.home(far, b, set ^ one, cuts - 1 - n);
                    }
                    if one == 0 || found {
                        break;
                    }
                    one = (one - 1) & set;
                }
            }
        }
        self.known.insert(key, found);
        found
    }

    /// Fewest sheets, each brought home.
    fn sheets(&mut self) -> Option<u32> {
        let all = (1usize << self.parts.len()) - 1;
        let good: Vec<bool> = (0..=all)
            .map(|s| self.home(self.sheet, [None; 4], s, CUTS))
            .collect();
        let mut best = vec![None; all + 1];
        best[0] = Some(0);
        for set in 1..=all {
            let mut one = set;
            while one > 0 {
                if good[one]
                    && let Some(n) = best[set ^ one]
                {
                    best[set] = Some(best[set].map_or(n + 1, |b: u32| b.min(n + 1)));
                }
                one = (one - 1) & set;
            }
        }
        best[all]
    }
}

#[test]
fn what_a_complete_search_brings_home_the_plan_brings_home() {
    let (mut wrong, mut possible, mut cut) = (Vec::new(), 0, 0);
    let all = numbers(120);
    for number in all.clone() {
        let d = &mut Dice::new(1_000_000 + number);
        let mut case = Case {
            sheet: [d.within(18, 26), d.within(12, 18)],
            clean: 1,
            true_to: d.within(0, 1),
            kerf: d.within(0, 1),
            least: d.within(3, 5),
            spaces: (0..d.within(1, 2))
                .map(|_| [d.within(8, 20), d.within(6, 14)])
                .collect(),
            parts: Vec::new(),
            fronts: Vec::new(),
            known: HashMap::new(),
        };
        let mut parts = String::from("mark,what,how_many,length,width,item,grain\n");
        for p in 0..d.within(2, 5) {
            let (length, width, any) = (d.within(2, 11), d.within(2, 7), d.roll(2) == 0);
            case.parts.push(([length, width], any));
            let grain = if any { "any" } else { "length" };
            let _ = writeln!(parts, "P{p},part,1,{length},{width},PLY,{grain}");
        }
        let mut project = format!(
            "[project]\nname = \"Small {number}\"\nunits = \"inch\"\nsales_tax = \"8%\"\n[saw]\nkerf = \"0\"\nclean_edge = \"1\"\n\
             [saw.store]\nkerf = \"{}\"\ntrue_to = \"{}\"\nfree_cuts_per_sheet = 2\nprice_per_cut = \"1.00\"\nsmallest_piece = \"{}\"\n",
            case.kerf, case.true_to, case.least
        );
        for [l, w] in &case.spaces {
            let _ = write!(
                project,
                "[[car.space]]\nwhat = \"s\"\nlength = \"{l}\"\nwidth = \"{w}\"\nheight = \"1\"\n"
            );
        }
        // The search knows whole inches only.
        project.push_str("[car]\nclearance = \"0\"\n");
        let stock = format!(
            "item,kind,what,length,width,thick,sold_by,price,have\nPLY,sheet,plywood,{},{},3/4,each,60.00,0\n",
            case.sheet[0], case.sheet[1]
        );
        let job = job(&project, &parts, &stock);
        let without = bought(&plan(&without_car(&job)));
        case.fronts();
        if case.sheets() != Some(without) {
            continue;
        }
        possible += 1;
        let with = plan(&job);
        let mut stuck = 0;
        let found = faults(&job, &with, &mut stuck);
        cut += u32::from(
            with.sheets
                .iter()
                .any(|s| s.cuts.iter().any(|c| c.saw.is_some())),
        );
        if stuck > 0 || bought(&with) != without || !found.is_empty() {
            wrong.push(format!("job {number}: {stuck} sheets stuck, {} bought of {without}, {found:?}\n{project}{parts}{stock}", bought(&with)));
        }
    }
    eprintln!(
        "small jobs {all:?}: {possible} can be brought home on as few sheets, {cut} of them with store cuts"
    );
    assert!(
        possible * 4 > all.count(),
        "too few say anything: {possible}"
    );
    assert!(
        wrong.is_empty(),
        "{} wrong:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}
