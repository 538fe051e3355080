//! A sheet for which there is no way of cutting, beside one that can be broken down. By hand.

use super::job;
use nookwright::model::task::SolveOptions;
use nookwright::model::{Job, SawAt};
use nookwright::plan::{Outcome, make_plan};

/// Two parts of 47 3/4 square fill a sheet but for an eighth: they go in a car 70 x 48 1/2, and between them there is no room for the
/// store's 1/8, her own 1/8 and the kerf, twice over. Two of 40 square on the thin sheet leave 16.
fn two_sheets(van: &str) -> Job {
    let project = "[project]\nname = \"van\"\nunits = \"inch\"\nsales_tax = \"0%\"\n\n[saw]\nkerf = \"1/8\"\nclean_edge = \"1/8\"\n[saw.store]\nkerf = \"1/8\"\ntrue_to = \"1/8\"\nfree_cuts_per_sheet = 2\nprice_per_cut = \"1.00\"\n\n[[car.space]]\nwhat = \"floor\"\nlength = \"70\"\nwidth = \"48 1/2\"\nheight = \"30\"\n";
    let parts =
        "mark,what,how_many,length,width,item\nA,panel,2,47 3/4,47 3/4,PLY\nB,panel,2,40,40,THIN\n";
    let stock = format!(
        "item,kind,what,length,width,thick,measured,price,store\nPLY,sheet,plywood,96,48,3/4,23/32,70.00,yard\nTHIN,sheet,plywood,96,48,1/4,7/32,30.00,yard\n{van}"
    );
    job(project, parts, &stock)
}

/// Sheets with a cut at the store, by their item.
fn cut_there(found: &Outcome) -> Vec<&str> {
    let sheets = found.plan.sheets.iter();
    sheets
        .filter(|s| s.cuts.iter().any(|c| c.saw == Some(SawAt::Store)))
        .map(|s| s.item.as_str())
        .collect()
}

fn planned(job: &Job) -> Outcome {
    let options = SolveOptions::default();
    make_plan(job, "custom", &options, &mut |_| ()).expect("a plan that passes its check")
}

/// Without a van the other sheet keeps its cuts, and the one that stays is named; a van that has to come brings both whole.
#[test]
fn a_sheet_without_a_way_takes_no_cuts_from_the_others() {
    let found = planned(&two_sheets(""));
    assert_eq!(cut_there(&found), ["THIN"]);
    let said = found.cautions.concat();
    assert!(
        said.contains("Sheet 1 of PLY") && said.contains("No way was found"),
        "{said}"
    );
    let van = "VAN,service,delivery to the door,,,,,40.00,yard\n";
    let found = planned(&two_sheets(van));
    assert_eq!(cut_there(&found), Vec::<&str>::new());
    assert!(!found.cautions.concat().contains("No way was found"));
}
