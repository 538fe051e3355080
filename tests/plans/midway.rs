//! A job planned again from the middle, whole plans and the referee's view of them.

use super::files::{Folder, cut, plan};
use nookwright::model::midway::{CutMade, Done, Midway, Spoiled};
use nookwright::model::task::SolveOptions;
use nookwright::model::{Effort, Job, Plan};
use nookwright::plan::{Rest, plan_rest};
use nookwright::referee;
use nookwright::units::Length;

const OPTIONS: SolveOptions = SolveOptions {
    effort: Effort::Quick,
    threads: 1,
    second_aims: true,
};

/// Four sides to a sheet, three sheets of them, and shelves out of what they leave.
fn job() -> Job {
    let folder = Folder {
        project: "[project]\nname = \"Hall\"\nunits = \"inch\"\nsales_tax = \"0%\"\n[saw]\nkerf = \"1/8\"\nclean_edge = \"1/4\"\n".into(),
        parts: "mark,what,how_many,length,width,item\nA,side,10,84,11,PLY\nB,shelf,6,30,10,PLY\nC,cleat,2,40,,BRD\n".into(),
        stock: "item,kind,what,length,width,thick,price,at_most\nPLY,sheet,ply,96,48,3/4,60,9\nBRD,board,board,96,3 1/2,3/4,8,\n".into(),
        offcuts: String::new(),
    };
    folder.read()
}

/// The first cuts of the settings page, all copies of a line at once.
fn first_cuts(plan: &Plan, lines: usize) -> Done {
    let pieces = plan.settings.iter().take(lines).flat_map(|s| &s.pieces);
    let cuts = pieces.filter(|p| p.cut > 0).flat_map(|p| {
        let all = 1..=plan.sheets[p.sheet].count;
        let copies = all.filter(move |c| p.copy == 0 || p.copy == *c);
        copies.map(|copy| CutMade {
            sheet: p.sheet,
            copy,
            cut: p.cut,
        })
    });
    Done {
        cuts: cuts.collect(),
        spoiled: Vec::new(),
    }
}

fn rest(job: &Job, plan: &Plan, done: &Done) -> Rest {
    let route = job.main_route();
    plan_rest(job, route, (plan, done), &OPTIONS, &mut |_| ()).unwrap_or_else(|e| panic!("{e}"))
}

fn made(rest: &Rest, mark: &str) -> u32 {
    let of = rest.midway.made.iter().filter(|m| m.mark == mark);
    of.map(|m| m.count).sum()
}

/// After every line of the settings page: each part is made or still planned, the boards stand as planned, and nothing more
/// is bought than the sheets that are still whole.
#[test]
fn after_every_line_the_rest_is_planned() {
    let job = job();
    let before = plan(&job);
    for lines in 0..=before.settings.len() {
        let done = first_cuts(&before, lines);
        let rest = rest(&job, &before, &done);
        for (mark, n) in [("A", 10), ("B", 6)] {
            assert_eq!(
                made(&rest, mark) + cut(&rest.outcome.plan, mark),
                n,
                "{mark} after {lines}"
            );
        }
        assert_eq!(rest.outcome.plan.sticks, before.sticks);
        let opened: u32 = rest.midway.opened.iter().map(|o| o.count).sum();
        assert!(rest.outcome.plan.items[0].sheets <= before.items[0].sheets - opened);
    }
    let all = first_cuts(&before, before.settings.len());
    let end = rest(&job, &before, &all);
    assert!(end.outcome.plan.sheets.is_empty() && end.outcome.plan.settings.is_empty());
    assert_eq!((made(&end, "A"), made(&end, "B")), (10, 6));
}

/// Of 10 sides, 4 to a sheet, the third sheet holds 2 and has 25 in of its width left. One side spoiled comes out of that;
/// with the third sheet cut to shreds, a fourth must be bought.
#[test]
fn a_spoiled_side_comes_out_of_what_is_left() {
    let job = job();
    let before = plan(&job);
    assert_eq!(before.items[0].sheets, 3);
    let mut done = first_cuts(&before, before.settings.len());
    let side = |sheet: usize| {
        let place = before.sheets[sheet].places.iter().find(|p| p.mark == "A");
        place.expect("every sheet has a side").at
    };
    let spoil = |sheet: usize, copy: u32| Spoiled {
        sheet,
        copy,
        at: side(sheet),
        left: None,
    };
    done.spoiled.push(spoil(0, 1));
    let one = rest(&job, &before, &done);
    assert_eq!(made(&one, "A"), 9);
    assert_eq!(cut(&one.outcome.plan, "A"), 1);
    let room = one
        .midway
        .pieces
        .iter()
        .any(|p| p.size[0] >= Length::inches(84) && p.size[1] >= Length::inches(11));
    assert_eq!(one.outcome.plan.items[0].sheets, u32::from(!room));
    // Before anything is cut, a whole sheet is dropped and broken.
    let dropped = Done {
        cuts: Vec::new(),
        spoiled: vec![Spoiled {
            at: [Length::in_64(16); 2],
            ..spoil(0, 1)
        }],
    };
    let again = rest(&job, &before, &dropped);
    assert_eq!(
        only_sheets(&again.outcome.plan),
        3,
        "as many as for the whole job"
    );
    assert_eq!(again.midway.opened.len(), 1);
    assert_eq!(cut(&again.outcome.plan, "A"), 10);
}

fn only_sheets(plan: &Plan) -> u32 {
    plan.items[0].sheets
}

/// The referee knows what the cuts left: a piece made larger, made up, counted twice or left out, a part counted that is
/// not made, a started sheet taken for whole.
#[test]
fn the_referee_knows_what_is_left() {
    let job = job();
    let before = plan(&job);
    let begun = (1..before.settings.len()).map(|lines| {
        let done = first_cuts(&before, lines);
        let rest = rest(&job, &before, &done);
        (done, rest)
    });
    let some = |(_, r): &(Done, Rest)| !r.midway.pieces.is_empty() && !r.midway.made.is_empty();
    let (done, rest) = begun
        .into_iter()
        .find(some)
        .expect("parts made and pieces left");
    let route = job.main_route();
    let judge = |midway: &Midway| {
        referee::check_rest(&job, route, &before, (&done, midway), &rest.outcome.plan)
    };
    let right = &rest.midway;
    assert_eq!(judge(right), Ok(()));
    assert!(!right.pieces.is_empty() && !right.made.is_empty());
    let refused = |change: &dyn Fn(&mut Midway)| {
        let mut wrong = right.clone();
        change(&mut wrong);
        assert_ne!(&wrong, right);
        let faults = judge(&wrong).expect_err("a lie");
        assert!(
            faults
                .iter()
                .any(|f| matches!(f, referee::Fault::Midway { .. })),
            "{faults:?}"
        );
    };
    refused(&|m| m.pieces[0].size[0] += Length::from_units(1));
    refused(&|m| m.pieces[0].at[1] += Length::from_units(1));
    refused(&|m| {
        m.pieces.push(nookwright::model::midway::StartedPiece {
            mark: "9.9/9".into(),
            ..m.pieces[0].clone()
        })
    });
    refused(&|m| m.pieces.push(m.pieces[0].clone()));
    refused(&|m| {
        m.pieces.remove(0);
    });
    refused(&|m| m.pieces[0].copy += 1);
    refused(&|m| m.made[0].count += 1);
    refused(&|m| m.made[0].count -= 1);
    refused(&|m| m.opened.clear());
    refused(&|m| m.opened[0].count += 1);
    // And what cannot have been done.
    let twice = Done {
        cuts: vec![done.cuts[0], done.cuts[0]],
        ..Done::default()
    };
    assert!(plan_rest(&job, route, (&before, &twice), &OPTIONS, &mut |_| ()).is_err());
    let judged = referee::check_rest(&job, route, &before, (&twice, right), &rest.outcome.plan);
    assert!(judged.is_err());
    let larger = Spoiled {
        sheet: 0,
        copy: 1,
        at: [Length::in_64(16); 2],
        left: Some([Length::inches(97), Length::inches(2)]),
    };
    let larger = Done {
        cuts: Vec::new(),
        spoiled: vec![larger],
    };
    assert!(plan_rest(&job, route, (&before, &larger), &OPTIONS, &mut |_| ()).is_err());
}
