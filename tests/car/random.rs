//! Random jobs and cars: every piece fits, every part survives whole, no sheet more is bought.

use super::{Dice, bought, faults, job, numbers, pieces, plan, without_car};
use nookwright::model::Job;
use std::fmt::Write;

fn random(number: u64) -> Job {
    let d = &mut Dice::new(number);
    let mut project = format!(
        "[project]\nname = \"Job {number}\"\nunits = \"inch\"\nsales_tax = \"8%\"\n[saw]\nkerf = \"{}\"\nclean_edge = \"{}\"\n",
        d.pick(&["1/8", "3/32", "0"]),
        d.pick(&["1/8", "1/4", "0"]),
    );
    match d.roll(8) {
        0 => project += "turns = 3\n",
        1 => project += "first = \"rip\"\n",
        2 => project += "first = \"crosscut\"\n",
        _ => {}
    }
    let _ = write!(
        project,
        "[saw.store]\nkerf = \"{}\"\ntrue_to = \"{}\"\nfree_cuts_per_sheet = {}\nprice_per_cut = \"1.00\"\n",
        d.pick(&["1/8", "3/16"]),
        d.pick(&["1/8", "1/16", "0"]),
        d.roll(4),
    );
    if d.roll(2) == 0 {
        let _ = writeln!(project, "smallest_piece = \"{}\"", d.pick(&["4", "6"]));
    }
    for n in 0..d.within(1, 2) {
        let _ = write!(
            project,
            "[[car.space]]\nwhat = \"space {n}\"\nlength = \"{}\"\nwidth = \"{}\"\nheight = \"{}\"\n",
            d.within(40, 100),
            d.within(16, 50),
            d.within(8, 34),
        );
    }
    let _ = write!(project, "[car]\ncarries = \"{} lb\"\n", d.within(30, 900));
    let mut stock = String::from("item,kind,what,length,width,thick,sold_by,price,have\n");
    let mut parts = String::from("mark,what,how_many,length,width,item,grain\n");
    let materials = d.within(1, 2);
    for m in 0..materials {
        let thick = d.pick(&["3/4", "1/2", "1/4"]);
        let size = d.pick(&["96,48", "60,60", "48,48"]);
        let _ = writeln!(
            stock,
            "PLY-{m},sheet,plywood {m},{size},{thick},each,60.00,{}",
            d.roll(8) / 7
        );
        // The car decides how large parts may be at all; now and then one is larger.
        for p in 0..d.within(1, 5) {
            let (length, width) = match d.roll(12) {
                0 => (d.within(50, 90), d.within(10, 30)),
                _ => (d.within(6, 40), d.within(3, 22)),
            };
            let eighths = d.roll(8);
            let grain = d.pick(&["length", "any", "any"]);
            let _ = writeln!(
                parts,
                "M{m}P{p},part,{},{length} {eighths}/8,{width},PLY-{m},{grain}",
                d.within(1, 5)
            );
        }
    }
    job(&project, &parts.replace(" 0/8", ""), &stock)
}

#[test]
fn random_jobs_go_in_random_cars() {
    let (mut wrong, mut cut, mut stuck, mut several) = (Vec::new(), 0, 0, 0);
    let all = numbers(100);
    for number in all.clone() {
        let job = random(number);
        let with = plan(&job);
        let without = plan(&without_car(&job));
        let mut left = 0;
        wrong.extend(
            faults(&job, &with, &mut left)
                .iter()
                .map(|f| format!("job {number}: {f}")),
        );
        stuck += left;
        if bought(&with) > bought(&without) {
            wrong.push(format!(
                "job {number}: {} sheets instead of {}",
                bought(&with),
                bought(&without)
            ));
        }
        let kerf = job.saw.store.as_ref().expect("a store").kerf;
        for sheet in &with.sheets {
            let n = pieces(sheet, kerf).len() - 1;
            cut += u32::from(n > 0);
            several += u32::from(n > 1);
        }
    }
    eprintln!(
        "jobs {all:?}: {cut} layouts cut at the store, {several} more than once; {stuck} sheets go in no car"
    );
    assert!(
        wrong.is_empty(),
        "{} faults:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
    // The dice make what they promise.
    let n = all.count() as u32;
    assert!(
        cut > n / 4 && several > n / 10,
        "{cut} and {several} of {n}"
    );
}
