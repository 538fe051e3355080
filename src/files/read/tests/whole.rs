//! A sound job read into the model, field by field.

use super::fixture::{Files, cautions, mistakes};
use crate::model::{
    BoxWidth, Edge, FirstCut, FrameFaces, Grain, Hours, Meeting, NeedUnit, OffcutState, PartSize,
    RunUnits, Swing, ToolCount, WallSide,
};
use crate::units::{Cents, Length, PerCent};

fn inches_16(sixteenths: i64) -> Length {
    Length::in_64(sixteenths * 4)
}

#[test]
fn a_sound_job_has_no_mistake_and_is_read_whole() {
    let read = Files::sound().read();
    assert_eq!(mistakes(&read), Vec::<&crate::model::Problem>::new());
    assert_eq!(cautions(&read), Vec::<&crate::model::Problem>::new());
    let job = read.job.expect("a job");
    assert_eq!(job.project.sales_tax, Some(PerCent(650)));
    assert_eq!(job.parts.len(), 6);
    assert_eq!(job.stock.len(), 9);
    assert_eq!(job.prefab.len(), 3);
    assert_eq!(job.rack.len(), 3);
    assert_eq!(job.routes(), ["built", "bought"]);
    assert_eq!(job.main_route(), "built");
    assert_eq!(job.needs.len(), 3);
    assert_eq!(job.needs[0].amount, NeedUnit::Run(Length::FOOT * 31));
    // 0.4 US gal = 0.4 x 3 785 411.784 microlitres.
    assert_eq!(job.needs[1].amount, NeedUnit::Volume(1_514_165));
    assert_eq!(job.needs[2].amount, NeedUnit::Count(36_000));
}

#[test]
fn readings_keep_full_shy_lean_and_not_taken() {
    let job = Files::sound().read().job.expect("a job");
    let opening = job.opening.expect("an opening");
    let middle = &opening.level_line.down_to_floor[1];
    assert_eq!(middle.path, "level_line.down_to_floor.middle");
    assert_eq!(middle.front, Some(inches_16(40 * 16 + 6) + Length::INCH_64));
    assert_eq!(
        opening.level_line.up_to_ceiling[2].front,
        Some(inches_16(49 * 16 + 14) - Length::INCH_64)
    );
    assert_eq!(opening.plumb_lines.right_gap[2], Some(-inches_16(1)));
    assert_eq!(opening.plumb_lines.right_gap[3], None);
    assert_eq!(opening.back_wall.len(), 2);
    assert_eq!(opening.back_wall[1].height, Some(Length::inches(80)));
    assert_eq!(opening.back_wall[1].gap[1], Some(inches_16(3)));
    let depth: Vec<&str> = opening.tape.depth.iter().map(|(n, _)| n.as_str()).collect();
    assert_eq!(depth, ["left[0]", "left[1]", "right"]);
    assert_eq!(opening.keep_clear[0].wall, WallSide::Left);
    assert!(!opening.existing_trim[0].stay);
    assert_eq!(opening.studs[0].from_left.len(), 3);
    assert_eq!(opening.doorway.expect("a door").swing, Swing::Out);
    assert_eq!(opening.now.comes_off, ["one shelf", "a rod"]);
}

#[test]
fn runs_saw_and_labour_are_read() {
    let job = Files::sound().read().job.expect("a job");
    assert_eq!(job.runs[0].boxes[1].width, BoxWidth::Share(1));
    assert_eq!(
        job.runs[1].units,
        RunUnits::Listed(vec!["FR-20".into(), "FR-26".into()])
    );
    assert_eq!(job.runs[1].extras, [("SH-20".to_owned(), 3)]);
    assert_eq!(job.saw.clean_edges, [Edge::X0, Edge::Y0]);
    assert_eq!(
        job.saw.largest_alone,
        [Length::inches(40), Length::inches(60)]
    );
    assert_eq!((job.saw.turns, job.saw.first), (Some(3), FirstCut::Rip));
    assert_eq!(
        job.saw.store.as_ref().map(|s| s.price_per_cut),
        Some(Cents(75))
    );
    assert_eq!(job.car.carries_grams, Some(300_000));
    assert_eq!(job.trim.meeting, Meeting::Butt);
    assert_eq!(
        (job.finish.top_coats, job.finish.frames),
        (3, FrameFaces::None)
    );
    assert_eq!(job.labour.rate, Some(Cents(1800)));
    assert_eq!(job.labour.hours_a_weekend, Some(Hours(950)));
    assert_eq!(job.labour.takes, [("cutting".to_owned(), Hours(75))]);
    assert_eq!(
        job.labour.hours,
        [
            ("built".to_owned(), Hours(3150)),
            ("bought".to_owned(), Hours(1200))
        ]
    );
    assert_eq!(job.tools.count, ToolCount::Share { jobs: 4 });
    let want = job.want.expect("wants");
    assert_eq!(want.shelf, Some(Length::FOOT * 14));
    assert_eq!(
        want.garments,
        [("coats".to_owned(), 6), ("shirts".to_owned(), 12)]
    );
}

#[test]
fn rows_are_read_with_what_they_leave_open() {
    let job = Files::sound().read().job.expect("a job");
    let shelf = &job.parts[1];
    assert_eq!((shelf.how_many, shelf.spare, shelf.row), (4, 1, 3));
    assert_eq!(shelf.note, "loose, one spare");
    assert!(shelf.band.front && !shelf.band.back);
    assert_eq!(job.parts[4].grain, Grain::Any);
    let strip = &job.parts[5];
    assert_eq!(
        strip.size,
        PartSize::Piece {
            length: inches_16(55 * 16 + 8)
        }
    );
    assert!(strip.by_hand && strip.keep);
    let sheet = job.stock_row("BIR-18").expect("a row");
    assert_eq!(
        sheet.price.map(|p| (p.low, p.likely, p.high)),
        Some((Cents(7500), Cents(8200), Cents(9500)))
    );
    assert_eq!(sheet.have, NeedUnit::Count(1000));
    assert!(job.stock_row("BIR-60").expect("a row").same_material(sheet));
    assert_eq!(job.stock_row("BIR-60").expect("a row").at_most, Some(4));
    assert!(job.stock_row("BIR-6").expect("a row").grain_along_width);
    let banding = job.stock_row("BND-22").expect("a row");
    assert_eq!(
        (banding.holds, banding.have),
        (
            NeedUnit::Run(Length::FOOT * 50),
            NeedUnit::Run(Length::FOOT * 12)
        )
    );
    // 90 sq ft = 90 x 92 903.04 mm2.
    assert_eq!(
        job.stock_row("VARN").expect("a row").covers_mm2,
        Some(8_361_274)
    );
    assert!(!job.stock_row("CART").expect("a row").taxed);
    let carton = job.prefab[0].carton.expect("a carton");
    assert_eq!(
        carton.size,
        [Length::inches(81), Length::inches(22), Length::inches(4)]
    );
    // 70 lb = 70 x 453.592 37 g.
    assert_eq!(carton.grams, Some(31_751));
    assert_eq!(job.rack[0].good_edges, [Edge::X0, Edge::Y0]);
    assert_eq!(job.rack[1].state, OffcutState::Promised);
    assert_eq!(job.rack[1].promised_to.as_deref(), Some("porch seat"));
    // `3/4 nominal` stands for what the caliper said of the stock row.
    assert_eq!(job.rack[1].thick, Some(Length::in_64(46)));
}

/// An old rod that comes off is a stick of the rack; what has no stock row stays a word.
#[test]
fn what_is_cut_down_and_used_again_joins_the_rack() {
    let reuse = |text: &str| {
        Files::sound().change("project.toml", "reuse = []", &format!("reuse = {text}"))
    };
    let read = reuse(
        "[\"the light\", { what = \"old strip\", item = \"STR-2\", length = \"47 1/2\" }, { what = \"old shelf\", item = \"BIR-18\", length = \"50\", width = \"15 3/4\" }]",
    )
    .read();
    assert!(read.problems.is_empty(), "{:#?}", read.problems);
    let job = read.job.expect("a job");
    let now = &job.opening.as_ref().expect("an opening").now;
    assert_eq!(now.reuse, ["the light", "old strip", "old shelf"]);
    let joined: Vec<_> = (job.rack.iter())
        .filter(|o| o.mark.starts_with("OLD-"))
        .map(|o| (o.mark.as_str(), o.item.as_str(), o.length, o.width, o.state))
        .collect();
    let inch = |n: i64| Length::INCH * n / 4;
    let ready = OffcutState::Ready;
    assert_eq!(
        joined,
        [
            ("OLD-1", "STR-2", inch(190), None, ready),
            ("OLD-2", "BIR-18", inch(200), Some(inch(63)), ready)
        ]
    );
    for (text, column, found) in [
        (
            "[{ what = \"rod\", item = \"STR-22\", length = \"40\" }]",
            "item",
            "STR-22",
        ),
        (
            "[{ what = \"rod\", item = \"VARN\", length = \"40\" }]",
            "item",
            "VARN",
        ),
        (
            "[{ what = \"shelf\", item = \"BIR-18\", length = \"40\" }]",
            "width",
            "nothing",
        ),
    ] {
        let read = reuse(text).read();
        let wrong = mistakes(&read);
        assert_eq!(wrong.len(), 1, "{text}: {wrong:#?}");
        assert_eq!(wrong[0].found, found);
        let place = wrong[0].spot.column.as_deref().unwrap_or_default();
        assert!(place.ends_with(column), "{place}");
    }
}

/// Sixteen US fluid ounces of 29.5735295625 ml are a US pint, 473.176473 ml (NIST Handbook 44, appendix C); the label leaves `fl` out.
#[test]
fn an_ounce_in_what_a_pack_holds_is_a_fluid_ounce() {
    let read = |text: &str| {
        let how = crate::units::ReadAs::default();
        super::super::values::amount(text, how).expect("an amount")
    };
    assert_eq!(read("16 oz"), NeedUnit::Volume(473_176));
    for text in ["16 fl oz", "16 ounces", "1 pt"] {
        assert_eq!(read(text), read("16 oz"), "{text}");
    }
}
