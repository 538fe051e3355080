//! Sticks that are too long for the car. By hand throughout.

use super::job;
use nookwright::car::{cartons_unknown, way_home};
use nookwright::model::task::SolveOptions;
use nookwright::model::{Job, StickPlan};
use nookwright::plan::{Outcome, buy_list, make_plan, trim_job};

const PARTS: &str = "mark,what,how_many,length,width,item\nA,strip,2,60,,M-12\n";

/// A car 70 long; 12 ft sticks at `long`, 5 1/2 ft ones at 3.00; a van at 40.00 where `van`.
fn strips(long: &str, van: bool) -> Job {
    let project = "[project]\nname = \"sticks\"\nunits = \"inch\"\nsales_tax = \"0%\"\n\n[saw]\nkerf = \"1/8\"\n\n[[car.space]]\nwhat = \"floor\"\nlength = \"70\"\nwidth = \"38\"\nheight = \"30\"\n";
    let mut stock = format!(
        "item,kind,what,length,width,thick,price,store\nM-12,moulding,flat strip,144,2,1/2,{long},yard\nM-6,moulding,flat strip,66,2,1/2,3.00,yard\n"
    );
    if van {
        stock.push_str("VAN,service,delivery to the door,,,,40.00,yard\n");
    }
    job(project, PARTS, &stock)
}

fn planned(job: &Job) -> Outcome {
    let options = SolveOptions::default();
    make_plan(job, "custom", &options, &mut |_| ()).expect("a plan that passes its check")
}

fn used(plan: &Outcome) -> Vec<(&str, u32)> {
    let sticks = plan.plan.sticks.iter();
    sticks.map(|s| (s.item.as_str(), s.count)).collect()
}

/// Both pieces come out of one long stick at 5.00, or of two short ones at 6.00: 1.00 more, and the van stays at its yard.
#[test]
fn shorter_sticks_are_taken_where_they_save_the_van() {
    let plan = planned(&strips("5.00", true));
    assert_eq!(used(&plan), [("M-6", 2)]);
    assert_eq!(
        plan.on_sticks,
        [
            "M-12 goes in no space of the car: M-6 is taken instead, for 1.00 more, and no delivery at 40.00."
        ]
    );
    // Not the cheapest sticks, so that is not claimed.
    assert!(!plan.plan.items[0].proved);
    let plan = planned(&strips("6.00", true));
    assert_eq!(used(&plan), [("M-6", 2)]);
    assert!(
        plan.on_sticks[0].ends_with("at the same cost."),
        "{:?}",
        plan.on_sticks
    );
    assert!(plan.plan.items[0].proved, "{:?}", plan.plan.items);
}

/// Without a price for a van the dearer sticks are not taken; what would do is said.
#[test]
fn else_it_is_said_what_would_do() {
    let job = strips("5.00", false);
    let plan = planned(&job);
    assert_eq!(used(&plan), [("M-12", 1)]);
    assert_eq!(plan.on_sticks, Vec::<String>::new());
    let trim = trim_job(&job, "custom", &SolveOptions::default()).expect("a plan");
    let list = buy_list(&job, "custom", &plan.plan, &trim);
    let way = way_home(&job, &plan.plan, Some(&list)).expect("a car");
    let cut: Vec<&StickPlan> = plan.plan.sticks.iter().collect();
    let hints = way.stick_hints(&job, &cut);
    let [hint] = &hints[..] else {
        panic!("{hints:?}")
    };
    // 1/4 is kept clear of the 70.
    assert!(
        hint.starts_with("M-12, 144 in long, goes in no space of the car: M-6, 66 in would go in"),
        "{hint}"
    );
    assert!(
        hint.contains("cut between two pieces") && hint.contains("69 3/4 in"),
        "{hint}"
    );
    // A piece that is too long by itself is helped by neither.
    let long = super::job(
        "[project]\nname = \"sticks\"\nunits = \"inch\"\nsales_tax = \"0%\"\n\n[saw]\nkerf = \"1/8\"\n\n[[car.space]]\nwhat = \"floor\"\nlength = \"70\"\nwidth = \"38\"\nheight = \"30\"\n",
        &PARTS.replace(",60,", ",71,"),
        "item,kind,what,length,width,thick,price\nM-12,moulding,flat strip,144,2,1/2,5.00\n",
    );
    let plan = planned(&long);
    let trim = trim_job(&long, "custom", &SolveOptions::default()).expect("a plan");
    let list = buy_list(&long, "custom", &plan.plan, &trim);
    let way = way_home(&long, &plan.plan, Some(&list)).expect("a car");
    let cut: Vec<&StickPlan> = plan.plan.sticks.iter().collect();
    let hint = way.stick_hints(&long, &cut).concat();
    assert!(
        hint.contains("nor does what is cut from it (A, 71 in)"),
        "{hint}"
    );
    assert_eq!(cartons_unknown(&long, &list), None, "no frames are bought");
}
