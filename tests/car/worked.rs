//! The back-hall job, its way home worked by hand, and the way home of it.

use super::{faults, plan};
use nookwright::car::{load, pieces};
use nookwright::files::read::{Reads, read_folder};
use nookwright::model::{Job, SawAt};
use nookwright::units::Length;
use std::path::Path;

fn hall() -> Job {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/back-hall");
    let read = read_folder(&folder, &Reads::CUT).expect("files that can be opened");
    read.job.expect("a job")
}

/// By hand: a piece 96 long goes only on the seat, 24 1/2 wide less 1/4 of clearance. A rip at c leaves c and 47 7/8 - c,
/// either up to 1/8 more: c is between 23 3/4 and 24 1/8. So six sheets and two give 16 pieces by one rip each, as few as there can be.
/// M6 (23 3/4) with 1/8 cleaned off its factory edge, 1/8 for her own cut and 1/8 for the store's leaves a strip
/// of 24 1/8 or more, beside one of 23 3/4 or less: wide enough for 21 1/2.
#[test]
fn sixteen_pieces_at_one_setting_go_on_the_seat() {
    let job = hall();
    let plan = plan(&job);
    let mut stuck = 0;
    assert_eq!(faults(&job, &plan, &mut stuck), Vec::<String>::new());
    assert_eq!(stuck, 0);
    let sheets: u32 = plan.sheets.iter().map(|s| s.count).sum();
    assert_eq!(sheets, 8);
    let mut settings: Vec<Length> = Vec::new();
    for sheet in &plan.sheets {
        let cuts: Vec<_> = sheet
            .cuts
            .iter()
            .filter(|c| c.saw == Some(SawAt::Store))
            .collect();
        let [cut] = cuts[..] else {
            panic!("{} cuts on a sheet", cuts.len())
        };
        assert!(!cut.across);
        assert!(Length::in_64(23 * 64 + 48) <= cut.at && cut.at <= Length::in_64(24 * 64 + 8));
        settings.push(cut.at);
    }
    settings.dedup();
    assert_eq!(settings.len(), 1, "{settings:?}");
    let all = pieces(&job, &plan);
    assert_eq!(all.len(), 16);
    let done = load(&job.car, &all);
    assert!(done.stays.is_empty());
    assert_eq!(done.trips.len(), 1);
    // Twelve of 23/32 and four of 7/32 in one pile: 9 1/2 high, on the seat.
    let [pile] = &done.trips[0].piles[..] else {
        panic!("{:?}", done.trips[0].piles)
    };
    assert_eq!((pile.space, pile.thick), (1, Length::in_64(9 * 64 + 32)));
    // 6 x 69 lb + 2 x 21 lb = 456 lb at 3 lb a square foot an inch; each piece is reckoned 1/8 wide, less the kerf.
    let pounds = done.trips[0].grams as f64 / 453.592;
    assert!((456.0..459.0).contains(&pounds), "{pounds}");
}

/// With one long side more than the car takes, its sheet stays as it is and the other parts still go.
#[test]
fn a_part_longer_than_the_car_keeps_its_sheet_whole() {
    let mut job = hall();
    job.car.spaces.pop();
    let plan = plan(&job);
    let long =
        |s: &nookwright::model::SheetPlan| s.places.iter().any(|p| p.size[0] > Length::inches(72));
    for sheet in &plan.sheets {
        let cut = sheet.cuts.iter().any(|c| c.saw.is_some());
        assert_eq!(cut, !long(sheet), "{:?}", sheet.places);
    }
    let done = load(&job.car, &pieces(&job, &plan));
    assert!(!done.stays.is_empty());
}

/// A piece as wide as the space does not slide into it: 1/4 in is kept clear unless she says how much, and that is listed.
#[test]
fn no_space_is_filled_to_the_last() {
    let read = |car: &str| {
        let project = format!(
            "[project]\nname = \"x\"\nunits = \"inch\"\n[[car.space]]\nwhat = \"floor\"\nlength = \"70\"\nwidth = \"38\"\nheight = \"30\"\n{car}"
        );
        let parts = "mark,what,how_many,length,width,item\nA,a,1,20,10,PLY\n";
        let stock =
            "item,kind,what,length,width,thick,sold_by,price\nPLY,sheet,ply,96,48,3/4,each,60\n";
        super::job(&project, parts, stock)
    };
    let takes = |job: &Job, wide: Length| {
        let spaces = nookwright::car::Spaces::of(&job.car).expect("a space");
        spaces.takes([Length::inches(48), wide], Length::in_64(48))
    };
    let usual = read("");
    let quarter = Length::in_64(16);
    assert!(!takes(&usual, Length::inches(38)) && takes(&usual, Length::inches(38) - quarter));
    let listed = |d: &&nookwright::model::DefaultUsed| d.place.ends_with("[car] clearance");
    let line = usual
        .defaults
        .iter()
        .find(listed)
        .expect("the default is listed");
    assert_eq!(line.value, "1/4");
    assert!(line.why.contains("common practice, no source"));
    let hers = read("[car]\nclearance = \"0\"\n");
    assert!(takes(&hers, Length::inches(38)));
    assert!(!hers.defaults.iter().any(|d| listed(&d)));
}
