//! Frames chosen for `units = "best"`: against a brute force over every number of frames and parts, and from outside.

use nookwright::files::read::{Reads, read_folder};
use nookwright::model::{Job, PrefabUnit, RunUnits};
use nookwright::opening::{fit, frames_hold, survey_by, width_over};
use nookwright::plan::choose_mixes;
use std::path::{Path, PathBuf};

/// A plain generator (Numerical Recipes' constants, from memory): enough to vary cases.
struct Dice(u64);
impl Dice {
    fn up_to(&mut self, n: u64) -> u64 {
        self.0 = self.0.wrapping_mul(1_664_525).wrapping_add(1_013_904_223) & 0xffff_ffff;
        (self.0 >> 8) % n
    }
}

fn folder(name: &str, project: &str, prefab: &str) -> PathBuf {
    let dir = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("mixes-{name}"));
    let _ = std::fs::remove_dir_all(&dir);
    std::fs::create_dir_all(&dir).unwrap();
    std::fs::write(dir.join("project.toml"), project).unwrap();
    std::fs::write(dir.join("prefab.csv"), prefab).unwrap();
    dir
}

fn project(d: &mut Dice) -> String {
    let apart = 30 + d.up_to(30);
    let gap = |d: &mut Dice| match 1 + d.up_to(16) {
        n if n < 8 => format!("{n}/8"),
        n if n % 8 == 0 => format!("{}", n / 8),
        n => format!("{} {}/8", n / 8, n % 8),
    };
    let gaps = |d: &mut Dice| format!("[\"{}\", \"{}\", \"{}\"]", gap(d), gap(d), gap(d));
    let (left, right) = (gaps(d), gaps(d));
    let wants = format!(
        "shelf = \"{} ft\"\nhanging = \"{}\"",
        1 + d.up_to(14),
        10 + d.up_to(40)
    );
    format!(
        "[project]\nname = \"x\"\nunits = \"inch\"\ndate = 2026-07-11\n[opening]\nname = \"x\"\nwalls = \"plaster\"\n[opening.level_line]\ndown_to_floor = {{ left = \"20\", middle = \"20 1/8\", right = \"20 1/4\" }}\nup_to_ceiling = {{ left = \"26\", middle = \"25 7/8\", right = \"25 3/4\" }}\n[opening.plumb_lines]\napart = \"{apart}\"\nheight = [\"0\", \"23\", \"46\"]\nleft_gap = {left}\nright_gap = {right}\n[opening.tape]\ndepth = {{ left = \"24 1/2\", right = \"24 1/4\" }}\n[[opening.way_in]]\nwhat = \"door\"\nwidth = \"{}\"\nheight = \"79\"\n[want]\n{wants}\n[[run]]\nroute = \"frames\"\nunits = \"best\"\nbase_height = \"3\"\n",
        14 + d.up_to(20)
    )
}

fn prefab(d: &mut Dice) -> String {
    let mut text = "unit,kind,what,width,height,depth,inside_width,inside_height,inside_depth,price,shelf_each,hanging_each,fits\n".to_owned();
    for k in 0..2 + d.up_to(2) {
        let (w, h) = (12 + d.up_to(18), 24 + d.up_to(20));
        let (inner, deep) = (w - 1, 20 + d.up_to(5));
        text += &format!(
            "F{k},frame,f,{w},{h},{deep},{inner},{},{},{}.00,{inner},,\n",
            h - 2,
            deep - 1,
            20 + d.up_to(60)
        );
        text += &format!(
            "S{k},shelf,s,{inner},,,,,,{}.50,{inner},,F{k}\n",
            5 + d.up_to(20)
        );
        if d.up_to(3) > 0 {
            text += &format!(
                "R{k},rail,r,{inner},,,,,,{}.00,,{inner},F{k}\n",
                5 + d.up_to(20)
            );
        }
        // A shorter rail and another shelf for the same frame.
        if d.up_to(2) > 0 {
            let shorter = inner - 1 - d.up_to(8);
            text += &format!(
                "Q{k},rail,r,{shorter},,,,,,{}.00,,{shorter},F{k}\nT{k},shelf,s,{inner},,,,,,{}.25,{inner},,F{k}\n",
                3 + d.up_to(15),
                5 + d.up_to(20)
            );
        }
    }
    text
}

/// Wants short, thousandths short, cents, unused width: least first, the best of each number of frames.
fn brute(job: &Job) -> Vec<[i64; 4]> {
    let survey = survey_by(job.opening.as_ref().unwrap(), job.project.tape);
    let want = job.want.as_ref().unwrap();
    let wanted = [want.shelf.unwrap().units(), want.hanging.unwrap().units()];
    let frames: Vec<&PrefabUnit> = job
        .prefab
        .iter()
        .filter(|u| u.inside_height.is_some())
        .collect();
    let price = |code: &str| {
        job.prefab
            .iter()
            .find(|u| u.unit == code)
            .map(|u| u.price.unwrap().likely.0)
    };
    let mut all = Vec::new();
    let mut count = vec![0_u32; frames.len()];
    // Counts up like an odometer: none of these openings takes six of a frame.
    while let Some(i) = count.iter().position(|n| *n < 5) {
        count[i] += 1;
        count[..i].fill(0);
        let chosen: Vec<&PrefabUnit> = frames
            .iter()
            .zip(&count)
            .flat_map(|(f, n)| vec![*f; *n as usize])
            .collect();
        let mut with = job.clone();
        with.runs[0].units = RunUnits::Listed(chosen.iter().map(|f| f.unit.clone()).collect());
        if !fit(&with, &survey).routes[0].fits {
            continue;
        }
        // Frames of one kind do not share parts with another, so each kind is filled on its own and the sums are crossed.
        let mut sums = vec![[0_i64; 3]];
        for (k, n) in count.iter().enumerate().filter(|c| *c.1 > 0) {
            let mut next = Vec::new();
            // Every number of each part there is: two rails, two shelves.
            let parts = ["S", "T", "R", "Q"].map(|p| format!("{p}{k}"));
            let most = |i: usize| match price(&parts[i]) {
                Some(_) if i < 2 => 6 * n,
                Some(_) => *n,
                None => 0,
            };
            let pairs = |i: usize, sum: u32| {
                (0..=most(i).min(sum))
                    .flat_map(move |a| (0..=most(i + 1).min(sum - a)).map(move |b| (a, b)))
                    .collect::<Vec<_>>()
            };
            let mut ways = Vec::new();
            for (s, t) in pairs(0, 6 * n) {
                for (r, q) in pairs(2, *n) {
                    let extras: Vec<(String, u32)> =
                        parts.iter().cloned().zip([s, t, r, q]).collect();
                    let h = frames_hold(job, &vec![frames[k]; *n as usize], &extras);
                    let bought: i64 = extras
                        .iter()
                        .map(|(code, n)| price(code).unwrap_or(0) * i64::from(*n))
                        .sum();
                    let cents = price(&frames[k].unit).unwrap() * i64::from(*n) + bought;
                    ways.push([h.shelf.units(), h.hanging.units(), cents]);
                }
            }
            // Of the same shelf and hanging length the cheapest is enough.
            ways.sort_unstable();
            ways.dedup_by_key(|w| [w[0], w[1]]);
            for w in ways {
                next.extend(
                    sums.iter()
                        .map(|t: &[i64; 3]| [t[0] + w[0], t[1] + w[1], t[2] + w[2]]),
                );
            }
            next.sort_unstable();
            next.dedup_by_key(|t| [t[0], t[1]]);
            sums = next;
        }
        let tall = chosen.iter().map(|f| f.height.unwrap()).max().unwrap();
        let (run, down) = (&job.runs[0], survey.shape.least_down().unwrap());
        let taken: i64 = chosen.iter().map(|f| f.width.unwrap().units()).sum();
        let wide = width_over(&survey.shape, -down, run.base_height - down + tall).unwrap();
        let unused = (wide - run.side_gap_least * 2).units() - taken;
        let key = |t: &[i64; 3]| {
            let lack: Vec<i64> = (0..2).map(|i| (wanted[i] - t[i]).max(0)).collect();
            let short = lack.iter().filter(|l| **l > 0).count() as i64;
            let thousandths = (0..2)
                .map(|i| (lack[i] * 1000 + wanted[i] - 1) / wanted[i])
                .sum();
            [short, thousandths, t[2], unused]
        };
        all.push(sums.iter().map(key).min().unwrap());
    }
    all.sort_unstable();
    all.truncate(3);
    all
}

#[test]
fn best_mixes_are_those_of_a_brute_force() {
    let mut d = Dice(7);
    let (mut some, mut met) = (0, 0);
    for case in 0..200 {
        let dir = folder("brute", &project(&mut d), &prefab(&mut d));
        let read = read_folder(&dir, &Reads::FIT).expect("read");
        let mut job = read.job.unwrap_or_else(|| panic!("{:?}", read.problems));
        let expected = brute(&job);
        let found = choose_mixes(&mut job);
        assert!(found[0].complete);
        let keys: Vec<[i64; 4]> = found[0]
            .best
            .iter()
            .map(|m| {
                [
                    i64::from(m.wants_short),
                    m.short_thousandths,
                    m.cents.0,
                    m.unused.units(),
                ]
            })
            .collect();
        assert_eq!(keys, expected, "case {case}");
        if let Some(first) = keys.first() {
            some += 1;
            met += i32::from(first[0] == 0);
            let survey = survey_by(job.opening.as_ref().unwrap(), job.project.tape);
            let sits = &fit(&job, &survey).routes[0];
            assert!(sits.fits);
            assert_eq!(
                sits.wants.iter().filter(|w| !w.met).count() as i64,
                first[0],
                "case {case}"
            );
        }
    }
    assert!(
        some > 150 && met > 20 && met < some,
        "{some} with a mix, {met} meet every want"
    );
}

#[test]
fn fit_shows_the_mixes_and_uses_the_first() {
    let mut d = Dice(3);
    let project = project(&mut d).replace("apart = \"", "apart = \"1");
    let prefab = "unit,kind,what,width,height,depth,inside_width,inside_height,inside_depth,price,shelf_each,hanging_each,fits,carton\nF,frame,f,20,40,22,19,38,21,50.00,19,,,40 x 23 x 4\nS,shelf,s,19,,,,,,5.00,19,,F,\n";
    let dir = folder("verb", &project, prefab);
    let out = std::process::Command::new(env!("CARGO_BIN_EXE_nookwright"))
        .args(["fit", "--json", "--in"])
        .arg(&dir)
        .output()
        .unwrap();
    assert_eq!(
        out.status.code(),
        Some(0),
        "{}",
        String::from_utf8_lossy(&out.stderr)
    );
    let v: serde_json::Value = serde_json::from_slice(&out.stdout).unwrap();
    let best = &v["mixes"][0]["best"][0]["rows"][0]["units"];
    assert_eq!(v["mixes"][0]["complete"], true);
    assert_eq!(best[0], "F");
    let frames = best.as_array().unwrap().len() as i64;
    assert_eq!(v["routes"][0]["total_width"], frames * 20 * 2_032_000);
    // A second, dearer shelf for the frame counts like the first: it is never taken, and the search stays complete.
    let more = format!("{prefab}S2,shelf,s,19,,,,,,6.00,19,,F,\n");
    std::fs::write(dir.join("prefab.csv"), more).unwrap();
    let out = std::process::Command::new(env!("CARGO_BIN_EXE_nookwright"))
        .args(["fit", "--json", "--in"])
        .arg(&dir)
        .output()
        .unwrap();
    let v: serde_json::Value = serde_json::from_slice(&out.stdout).unwrap();
    assert_eq!(v["mixes"][0]["complete"], true);
    let taken = v["mixes"][0]["best"][0]["extras"].to_string();
    assert!(!taken.contains("S2"), "{taken}");
}

/// An opening deep enough for runs round a corner: the readings of [`project`], another depth, a run on the left wall first.
fn corner_project(d: &mut Dice) -> String {
    let deep = 40 + d.up_to(25);
    let through = ["", "through = true\n", "through = false\n"][d.up_to(3) as usize];
    project(d)
        .replace(
            "depth = { left = \"24 1/2\", right = \"24 1/4\" }",
            &format!("depth = {{ left = \"{deep} 1/2\", right = \"{deep} 1/4\" }}"),
        )
        .replace(
            "units = \"best\"\nbase_height = \"3\"\n",
            &format!("units = \"best\"\nbase_height = \"3\"\n{through}[[run]]\nroute = \"frames\"\nwall = \"left\"\nunits = \"best\"\nbase_height = \"3\"\n"),
        )
}

/// Two kinds of frame low enough for any of the ceilings, of different depths.
fn low_prefab(d: &mut Dice) -> String {
    let mut text = "unit,kind,what,width,height,depth,inside_width,inside_height,inside_depth,price,shelf_each,hanging_each,fits,carton\n".to_owned();
    for k in 0..2 {
        let (w, h, deep) = (13 + d.up_to(14), 24 + d.up_to(12), 13 + d.up_to(9));
        let (inner, inside) = (w - 1, h - 2);
        let price = 20 + d.up_to(60);
        text += &format!(
            "F{k},frame,f,{w},{h},{deep},{inner},{inside},{},{price}.00,{inner},,,40 x 14 x 4\n",
            deep - 1
        );
        text += &format!(
            "S{k},shelf,s,{inner},,,,,,{}.50,{inner},,F{k},\n",
            5 + d.up_to(20)
        );
        text += &format!(
            "R{k},rail,r,{inner},,,,,,{}.00,,{inner},F{k},\n",
            5 + d.up_to(20)
        );
    }
    text
}

/// Wants short, thousandths short, cents of the best mixes on two walls, each combination of frames stood up by `fit`.
fn brute_corner(job: &Job) -> Vec<[i64; 3]> {
    let survey = survey_by(job.opening.as_ref().unwrap(), job.project.tape);
    let want = job.want.as_ref().unwrap();
    let wanted = [want.shelf.unwrap().units(), want.hanging.unwrap().units()];
    let row = |code: &str| job.prefab.iter().find(|u| u.unit == code).unwrap();
    let cents = |code: &str| row(code).price.unwrap().likely.0;
    // What n frames of a kind can give, filled in every way: shelf, hanging, cents.
    let fill = |k: usize, n: u32| -> Vec<[i64; 3]> {
        let mut all = Vec::new();
        let frame = row(&format!("F{k}"));
        for s in 0..=5 * n {
            for r in 0..=n {
                let extras = [(format!("S{k}"), s), (format!("R{k}"), r)];
                let h = frames_hold(job, &vec![frame; n as usize], &extras);
                let money = cents(&frame.unit) * i64::from(n)
                    + cents(&format!("S{k}")) * i64::from(s)
                    + cents(&format!("R{k}")) * i64::from(r);
                all.push([h.shelf.units(), h.hanging.units(), money]);
            }
        }
        all
    };
    let filled: Vec<Vec<Vec<[i64; 3]>>> = (0..2)
        .map(|k| (0..=10).map(|n| fill(k, n)).collect())
        .collect();
    let mut all = Vec::new();
    for code in 1..6_u32.pow(4) {
        let n = |i: u32| code / 6_u32.pow(i) % 6;
        let mut with = job.clone();
        for (wall, run) in with.runs.iter_mut().enumerate() {
            let frames = (0..2).flat_map(|k| {
                let count = n(2 * wall as u32 + k) as usize;
                std::iter::repeat_n(format!("F{k}"), count)
            });
            run.units = RunUnits::Listed(frames.collect());
        }
        with.runs
            .retain(|r| r.units != RunUnits::Listed(Vec::new()));
        if !fit(&with, &survey).routes[0].fits {
            continue;
        }
        let mut best: Option<[i64; 3]> = None;
        for a in &filled[0][(n(0) + n(2)) as usize] {
            for b in &filled[1][(n(1) + n(3)) as usize] {
                let lack: Vec<i64> = (0..2).map(|i| (wanted[i] - a[i] - b[i]).max(0)).collect();
                let short = lack.iter().filter(|l| **l > 0).count() as i64;
                let thousandths = (0..2)
                    .map(|i| (lack[i] * 1000 + wanted[i] - 1) / wanted[i])
                    .sum();
                let key = [short, thousandths, a[2] + b[2]];
                best = Some(best.map_or(key, |b| b.min(key)));
            }
        }
        all.extend(best);
    }
    all.sort_unstable();
    all.truncate(3);
    all
}

#[test]
fn mixes_round_a_corner_are_those_of_a_brute_force() {
    let mut d = Dice(11);
    let (mut some, mut on_both) = (0, 0);
    for case in 0..25 {
        let dir = folder("corner", &corner_project(&mut d), &low_prefab(&mut d));
        let read = read_folder(&dir, &Reads::FIT).expect("read");
        let mut job = read.job.unwrap_or_else(|| panic!("{:?}", read.problems));
        assert_eq!(job.runs.len(), 2);
        let expected = brute_corner(&job);
        let found = choose_mixes(&mut job);
        assert!(found[0].complete, "case {case}: {:?}", found[0]);
        let keys: Vec<[i64; 3]> = (found[0].best.iter())
            .map(|m| [i64::from(m.wants_short), m.short_thousandths, m.cents.0])
            .collect();
        assert_eq!(keys, expected, "case {case}: {:#?}", found[0].best);
        let Some(first) = keys.first() else { continue };
        some += 1;
        on_both += i32::from(job.runs.len() == 2);
        let survey = survey_by(job.opening.as_ref().unwrap(), job.project.tape);
        let sits = &fit(&job, &survey).routes[0];
        assert!(sits.fits, "case {case}: {:?}", sits.why_not);
        let short = sits.wants.iter().filter(|w| !w.met).count() as i64;
        assert_eq!(short, first[0], "case {case}");
    }
    assert!(
        some > 18 && on_both > 5,
        "{some} with a mix, {on_both} on both walls"
    );
}

/// No frame that fits is a job that will not work, not a reading that is missing; with a price missing it is not known.
#[test]
fn a_route_that_no_mix_fits_will_not_work() {
    let mut d = Dice(3);
    let head = "unit,kind,what,width,height,depth,inside_width,inside_height,inside_depth,price,shelf_each,hanging_each,fits,carton\n";
    let wide = "F,frame,f,200,40,22,19,38,21,50.00,19,,,40 x 23 x 4\n";
    let dir = folder("none", &project(&mut d), &format!("{head}{wide}"));
    let fit = || {
        let out = std::process::Command::new(env!("CARGO_BIN_EXE_nookwright"))
            .args(["fit", "--json", "--in"])
            .arg(&dir)
            .output()
            .unwrap();
        let v: serde_json::Value = serde_json::from_slice(&out.stdout).unwrap();
        (out.status.code(), v)
    };
    let (code, v) = fit();
    assert_eq!(code, Some(1), "{v}");
    let why = v["routes"][0]["why_not"].as_str().unwrap();
    assert!(why.contains("No mix"), "{why}");
    let unpriced = "G,frame,g,20,40,22,19,38,21,,19,,,40 x 23 x 4\n";
    std::fs::write(dir.join("prefab.csv"), format!("{head}{wide}{unpriced}")).unwrap();
    assert_eq!(fit().0, Some(5));
}

/// By hand: frames 23 and 17 wide inside, both tall. A rail and drawers and shelves that name no frame count once: the rail (20)
/// in the wider frame, three shelves in the other, which has none: 23 + 17 for the bottoms and 3 x 17. Two rails of their own
/// frame count with their own lengths.
#[test]
fn parts_that_name_no_frame_count_once() {
    let prefab = "unit,kind,what,width,height,depth,inside_width,inside_height,inside_depth,price,hanging_each,fits\n\
        A,frame,a,24,62,24,23,60,23,50.00,,\nB,frame,b,18,62,24,17,60,23,40.00,,\n\
        R,rail,r,,,,,,,9.00,20,\nD,drawer,d,,,,,,,9.00,,\nS,shelf,s,,,,,,,9.00,,\n\
        RA,rail,r,,,,,,,9.00,20,A\nRB,rail,r,,,,,,,9.00,15,A\n";
    let dir = folder("loose", &project(&mut Dice(5)), prefab);
    let read = read_folder(&dir, &Reads::FIT).expect("read");
    let job = read.job.unwrap_or_else(|| panic!("{:?}", read.problems));
    let unit = |code: &str| job.prefab.iter().find(|u| u.unit == code).unwrap();
    let inches = |l: nookwright::units::Length| l.units() / 2_032_000;
    let list = |parts: &[(&str, u32)]| -> Vec<(String, u32)> {
        parts.iter().map(|(c, n)| ((*c).to_owned(), *n)).collect()
    };
    let both = [unit("A"), unit("B")];
    let h = frames_hold(&job, &both, &list(&[("R", 1), ("D", 2), ("S", 3)]));
    assert_eq!((inches(h.shelf), inches(h.hanging), h.drawers), (91, 20, 2));
    let h = frames_hold(&job, &both, &list(&[("R", 5)]));
    assert_eq!(inches(h.hanging), 40, "no more rails than frames");
    let h = frames_hold(
        &job,
        &[unit("A"), unit("A")],
        &list(&[("RA", 1), ("RB", 1)]),
    );
    assert_eq!(inches(h.hanging), 35);
}

/// The ceiling is some 46 over the floor: on a base of 3 a frame of 45 is too tall on a side wall too.
#[test]
fn a_side_run_needs_its_head_gap() {
    let prefab = "unit,kind,what,width,height,depth,price,carton\nF,frame,f,20,45,16,50.00,40 x 16 x 4\nG,frame,g,20,30,16,50.00,40 x 16 x 4\n";
    let dir = folder("head", &corner_project(&mut Dice(2)), prefab);
    let read = read_folder(&dir, &Reads::FIT).expect("read");
    let mut job = read.job.unwrap_or_else(|| panic!("{:?}", read.problems));
    let survey = survey_by(job.opening.as_ref().unwrap(), job.project.tape);
    job.runs.remove(0);
    let mut sits = |code: &str| {
        job.runs[0].units = RunUnits::Listed(vec![code.to_owned()]);
        fit(&job, &survey).routes[0].clone()
    };
    let (tall, low) = (sits("F"), sits("G"));
    let why = tall.why_not.unwrap_or_default();
    assert!(
        why.contains("on the left wall") && why.contains("head gap"),
        "{why}"
    );
    assert!(low.fits, "{:?}", low.why_not);
}

/// Two kinds of frame that take shelves, drawers and doors of two widths.
fn closed_prefab(d: &mut Dice) -> String {
    let mut text = "unit,kind,what,width,height,depth,inside_width,inside_height,inside_depth,price,shelf_each,hanging_each,fits,carton\n".to_owned();
    for k in 0..2 {
        let (w, h, deep) = (16 + d.up_to(14), 26 + d.up_to(12), 15 + d.up_to(7));
        let (inner, inside) = (w - 1, h - 2);
        text += &format!(
            "F{k},frame,f,{w},{h},{deep},{inner},{inside},{},{}.00,{inner},,,40 x 14 x 4\n",
            deep - 1,
            20 + d.up_to(60)
        );
        let price = |d: &mut Dice| 5 + d.up_to(20);
        text += &format!("S{k},shelf,s,{inner},,,,,,{}.50,{inner},,F{k},\n", price(d));
        text += &format!("W{k},drawer,w,{inner},,,,,,{}.00,,,F{k},\n", 5 + price(d));
        // A door as broad as the frame, one that closes half of it, one that closes two thirds.
        text += &format!("D{k},door,d,{w},,,,,,{}.00,,,F{k},\n", price(d));
        text += &format!("E{k},door,e,{},,,,,,{}.25,,,F{k},\n", w / 2, price(d));
        if d.up_to(2) == 0 {
            text += &format!("G{k},door,g,{},,,,,,{}.75,,,F{k},\n", w * 2 / 3, price(d));
        }
    }
    text
}

/// Closed space steers the mix as shelves do: the best three are those of a search through every number of frames, shelves, drawers
/// and doors, ranked by wants short, thousandths short, cents.
#[test]
fn closed_space_steers_the_mix_as_a_brute_force_does() {
    let mut d = Dice(29);
    let (mut some, mut with_doors, mut with_drawers) = (0, 0, 0);
    for case in 0..40 {
        let closed = format!("[want]\nclosed = \"{}\"\n", 15 + d.up_to(70));
        let mut text = project(&mut d);
        let from = text.find("hanging = ").expect("a want");
        let to = from + text[from..].find('\n').expect("its end");
        text.replace_range(from..to, "");
        let text = text.replace("[want]\n", &closed);
        let dir = folder("closed", &text, &closed_prefab(&mut d));
        let read = read_folder(&dir, &Reads::FIT).expect("read");
        let mut job = read.job.unwrap_or_else(|| panic!("{:?}", read.problems));
        let expected = brute_closed(&job);
        let found = choose_mixes(&mut job);
        assert!(found[0].complete);
        let keys: Vec<[i64; 3]> = (found[0].best.iter())
            .map(|m| [i64::from(m.wants_short), m.short_thousandths, m.cents.0])
            .collect();
        assert_eq!(keys, expected, "case {case}: {:#?}", found[0].best);
        let Some(first) = found[0].best.first() else {
            continue;
        };
        some += 1;
        let has = |sign: char| first.extras.iter().any(|e| e.0.starts_with(sign));
        with_doors += i32::from(has('D') || has('E') || has('G'));
        with_drawers += i32::from(has('W'));
        let survey = survey_by(job.opening.as_ref().unwrap(), job.project.tape);
        let sits = &fit(&job, &survey).routes[0];
        let short = sits.wants.iter().filter(|w| !w.met).count() as u32;
        assert_eq!(short, first.wants_short, "case {case}");
    }
    assert!(
        some > 25 && with_doors > 5 && with_drawers > 5,
        "{some} with a mix, {with_doors} with doors, {with_drawers} with drawers"
    );
}

fn brute_closed(job: &Job) -> Vec<[i64; 3]> {
    let survey = survey_by(job.opening.as_ref().unwrap(), job.project.tape);
    let shelf = job.want.as_ref().unwrap().shelf.unwrap().units();
    let closed: i64 = job
        .want
        .as_ref()
        .unwrap()
        .closed
        .as_ref()
        .unwrap()
        .parse()
        .unwrap();
    let wanted = [shelf, closed * 2_032_000];
    let row = |code: &str| job.prefab.iter().find(|u| u.unit == code);
    let cents = |code: &str| row(code).map_or(0, |u| u.price.unwrap().likely.0);
    // What n frames of a kind can give, filled in every way: shelf, closed, cents; of what gives alike the cheapest.
    let fill = |k: usize, n: u32| -> Vec<[i64; 3]> {
        let frame = row(&format!("F{k}")).unwrap();
        let frames = vec![frame; n as usize];
        let wide = frame.inside_width.unwrap().units();
        let drawers = (wanted[1] / wide + 1) as u32;
        let third = if row(&format!("G{k}")).is_some() {
            2 * n
        } else {
            0
        };
        let mut all: Vec<[i64; 3]> = Vec::new();
        for s in 0..=4 * n {
            for w in 0..=drawers {
                for (a, b) in (0..=n).flat_map(|a| (0..=2 * n).map(move |b| (a, b))) {
                    for c in 0..=third {
                        let extras: Vec<(String, u32)> = ["S", "W", "D", "E", "G"]
                            .iter()
                            .zip([s, w, a, b, c])
                            .filter(|e| e.1 > 0)
                            .map(|(sign, n)| (format!("{sign}{k}"), n))
                            .collect();
                        let h = frames_hold(job, &frames, &extras);
                        let parts: i64 = extras.iter().map(|(c, n)| cents(c) * i64::from(*n)).sum();
                        let money = cents(&frame.unit) * i64::from(n) + parts;
                        all.push([h.shelf.units(), h.closed.units(), money]);
                    }
                }
            }
        }
        all.sort_unstable();
        all.dedup_by_key(|w| [w[0], w[1]]);
        all
    };
    let filled: Vec<Vec<Vec<[i64; 3]>>> = (0..2)
        .map(|k| (0..=4).map(|n| fill(k, n)).collect())
        .collect();
    let mut all = Vec::new();
    for code in 1..25_usize {
        let n = [code % 5, code / 5];
        let mut with = job.clone();
        let frames = (0..2).flat_map(|k| std::iter::repeat_n(format!("F{k}"), n[k]));
        with.runs[0].units = RunUnits::Listed(frames.collect());
        if !fit(&with, &survey).routes[0].fits {
            continue;
        }
        let mut best: Option<[i64; 3]> = None;
        for a in &filled[0][n[0]] {
            for b in &filled[1][n[1]] {
                let lack: Vec<i64> = (0..2).map(|i| (wanted[i] - a[i] - b[i]).max(0)).collect();
                let short = lack.iter().filter(|l| **l > 0).count() as i64;
                let thousandths = (0..2)
                    .map(|i| (lack[i] * 1000 + wanted[i] - 1) / wanted[i])
                    .sum();
                let key = [short, thousandths, a[2] + b[2]];
                best = Some(best.map_or(key, |b| b.min(key)));
            }
        }
        all.extend(best);
    }
    all.sort_unstable();
    all.truncate(3);
    all
}
