//! Every kind of mistake in project.toml, each with its line and name.

use super::fixture::{Case, Files, PROJECT, failures, mistakes};
use crate::files::read::Reads;
use crate::model::Severity;

/// A line of the fixture changed; the row is found from the line itself.
fn case(
    from: &'static str,
    to: &'static str,
    column: &'static str,
    says: &'static [&'static str],
) -> Case {
    let at = PROJECT
        .find(from)
        .unwrap_or_else(|| panic!("{from:?} is not in the fixture"));
    let row = PROJECT[..at].matches('\n').count() + 1;
    Case {
        file: "project.toml",
        from,
        to,
        row,
        column,
        says,
    }
}

#[test]
fn mistakes_in_single_values() {
    let mut space = case(
        "[[car.space]]\nwhat = \"boot\"\nlength = \"60\"\nwidth = \"38\"\nheight = \"28\"\n[car]\n",
        "[car]\nspace = \"boot\"\n",
        "[car] space",
        &["put [[car.space]] on a line of its own"],
    );
    space.row += 1;
    let cases = [
        case(
            "name = \"Landing",
            "nmae = \"Landing",
            "[project] nmae",
            &["did you mean name"],
        ),
        case("[want]", "[wants]", "wants", &["did you mean want"]),
        case(
            "[labour.takes]\ncutting = \"45 min\"\n",
            "takes = 45\n",
            "[labour] takes",
            &["put [labour.takes] on a line of its own"],
        ),
        space,
        case(
            "[opening.tape]",
            "[opening.tapes]",
            "[opening] tapes",
            &["did you mean tape"],
        ),
        case(
            "kerf = \"1/8\"",
            "kerv = \"1/8\"",
            "[saw] kerv",
            &["did you mean kerf"],
        ),
        case(
            "kerf = \"1/8\"",
            "kerf = 1/8",
            "kerf",
            &["quote marks", "kerf = \"1/8\""],
        ),
        case(
            "kerf = \"1/8\"",
            "kerf = true",
            "[saw] kerf",
            &["kind of value"],
        ),
        case("kerf = \"1/8\"", "kerf = \"thin\"", "[saw] kerf", &["thin"]),
        case(
            "kerf = \"1/8\"",
            "kerf = \"-1/8\"",
            "[saw] kerf",
            &["minus"],
        ),
        case(
            "kerf = \"1/8\"",
            "kerf = \"?\"",
            "[saw] kerf",
            &["not a reading"],
        ),
        case(
            "kerf = \"1/8\"",
            "kerf = \"1/8 full\"",
            "[saw] kerf",
            &["full"],
        ),
        case(
            "kerf = \"1/8\"",
            "kerf = \"4-Mar\"",
            "[saw] kerf",
            &["(3/4)"],
        ),
        case(
            "kerf = \"1/8\"",
            "kerf = \"1,8\"",
            "[saw] kerf",
            &["No saw blade", "did you mean 1/8 or 1.8 mm"],
        ),
        case(
            "kerf = \"1/8\"",
            "kerf = 3",
            "[saw] kerf",
            &["3/8 is the most", "did you mean 3 mm"],
        ),
        case(
            "kerf = \"1/8\"",
            "kerf = \"101 m\"",
            "[saw] kerf",
            &["100 m"],
        ),
        case(
            "units = \"inch\"",
            "units = \"inhc\"",
            "[project] units",
            &["did you mean inch"],
        ),
        case(
            "sales_tax = \"6.5%\"",
            "sales_tax = \"31%\"",
            "[project] sales_tax",
            &["outside"],
        ),
        case(
            "sales_tax = \"6.5%\"",
            "sales_tax = \"-1%\"",
            "[project] sales_tax",
            &["outside"],
        ),
        case(
            "sales_tax = \"6.5%\"",
            "sales_tax = \"0.065\"",
            "[project] sales_tax",
            &["%"],
        ),
        case(
            "date = 2026-09-05",
            "date = \"5.9.26\"",
            "[project] date",
            &["2026-07-08"],
        ),
        case(
            "money = \"USD\"",
            "money = \"dollars\"",
            "[project] money",
            &["ISO 4217"],
        ),
        case(
            "paper = \"letter\"",
            "paper = \"a5\"",
            "[project] paper",
            &["a5"],
        ),
        case(
            "left_gap = [\"1 1/4\", \"1\", \"7/8\", \"3/4\"]",
            "left_gap = [\"1 1/4\", \"1\", \"7/8\"]",
            "[opening.plumb_lines] left_gap",
            &["3 readings", "height has 4", "0, 30, 60, 90"],
        ),
        case(
            "height = [\"0\", \"30\", \"60\", \"90\"]",
            "height = [\"0\", \"60\", \"30\", \"90\"]",
            "[opening.plumb_lines] height",
            &["go up"],
        ),
        case(
            "width = [\"55 3/4\", \"54 13/16\"]",
            "width = [\"55 3/4\"]",
            "[opening.tape] width",
            &["1 readings"],
        ),
        case(
            "depth = { left = [\"25\", \"24 7/8\"]",
            "depth = { left = [\"25\", \"deep\"]",
            "[opening.tape] depth left[1]",
            &["deep"],
        ),
        case(
            "middle = \"40 3/8 full\"",
            "midle = \"40 3/8 full\"",
            "[opening.level_line] down_to_floor midle",
            &["did you mean middle"],
        ),
        case(
            "wall = \"left\"",
            "wall = \"front\"",
            "[[opening.keep_clear]] wall",
            &["front"],
        ),
        case(
            "up = \"12 1/2\"",
            "up = \"-12 1/2\"",
            "[[opening.keep_clear]] up",
            &["minus"],
        ),
        case(
            "stay = false",
            "stay = \"maybe\"",
            "[[opening.existing_trim]] stay",
            &["yes or no"],
        ),
        case(
            "swing = \"out\"",
            "swing = \"up\"",
            "[opening.doorway] swing",
            &["up"],
        ),
        case(
            "material = \"BIR-18\"",
            "material = \"BIR-81\"",
            "[[run]] material",
            &["did you mean BIR-18"],
        ),
        case(
            "back = \"BIR-6\"",
            "back = \"STR-2\"",
            "[[run]] back",
            &["No sheet"],
        ),
        case(
            "units = [\"FR-20\", \"FR-26\"]",
            "units = [\"FR-20\", \"FR-62\"]",
            "[[run]] units[1]",
            &["did you mean FR-26"],
        ),
        case(
            "units = [\"FR-20\", \"FR-26\"]",
            "units = \"most\"",
            "[[run]] units",
            &["best"],
        ),
        case(
            "extras = { \"SH-20\" = 3 }",
            "extras = { \"SH-02\" = 3 }",
            "[[run]] extras SH-02",
            &["did you mean SH-20"],
        ),
        case(
            "extras = { \"SH-20\" = 3 }",
            "extras = { \"SH-20\" = -3 }",
            "[[run]] extras SH-20",
            &["minus"],
        ),
        case(
            "width = \"26\"",
            "width = \"26\"\nshare = 1",
            "[[run.box]] width",
            &["not both"],
        ),
        case(
            "name = \"hang\"",
            "name = \"tall\"",
            "[[run.box]] name",
            &["one name"],
        ),
        case(
            "meeting = \"butt\"",
            "meeting = \"glue\"",
            "[trim] meeting",
            &["glue"],
        ),
        case("turns = 3", "turns = 0", "[saw] turns", &["2, 3, or any"]),
        case(
            "largest_alone = \"40 x 60\"",
            "largest_alone = \"40\"",
            "[saw] largest_alone",
            &["1 sizes"],
        ),
        case(
            "clean_edges = [\"x0\", \"y0\"]",
            "clean_edges = [\"x0\", \"top\"]",
            "[saw] clean_edges[1]",
            &["no edge"],
        ),
        case(
            "clean_edges = [\"x0\", \"y0\"]",
            "clean_edges = \"1/8\"",
            "[saw] clean_edges",
            &["A width stands", "did you mean clean_edge = \"1/8\"?"],
        ),
        case(
            "price_per_cut = \"0.75\"",
            "price_per_cut = \"$0.75\"",
            "[saw.store] price_per_cut",
            &["without a sign"],
        ),
        case(
            "carries = \"300 kg\"",
            "carries = 300",
            "[car] carries",
            &["unit is missing"],
        ),
        case(
            "height = \"28\"",
            "hight = \"28\"",
            "[[car.space]] hight",
            &["did you mean height"],
        ),
        case(
            "top_coats = 3",
            "top_coats = 1.5",
            "[finish] top_coats",
            &["part of one"],
        ),
        case(
            "rate_high = \"30.00\"",
            "rate_high = \"3.00\"",
            "[labour] rate_high",
            &["below the low"],
        ),
        case(
            "built = 31.5",
            "bulit = 31.5",
            "[labour.hours] bulit",
            &["did you mean built"],
        ),
        case(
            "cutting = \"45 min\"",
            "cutting = \"soon\"",
            "[labour.takes] cutting",
            &["hours"],
        ),
        case(
            "have = [\"CLAMP\"]",
            "have = [\"CLMAP\"]",
            "[tools] have",
            &["did you mean CLAMP"],
        ),
        case(
            "item = \"VARN\"",
            "item = \"VRAN\"",
            "[[need]] item",
            &["did you mean VARN"],
        ),
        case(
            "amount = \"31 ft\"",
            "amount = 31",
            "[[need]] amount",
            &["25 ft"],
        ),
        case(
            "amount = 36",
            "amount = \"36 gal\"",
            "[[need]] amount",
            &["plain number"],
        ),
        case(
            "amount = 36",
            "amount = \"lots\"",
            "[[need]] amount",
            &["lots"],
        ),
        case(
            "route = \"bought\"\nitem",
            "route = \"bougth\"\nitem",
            "[[need]] route",
            &["did you mean bought"],
        ),
    ];
    // A name of a car space that is misspelt is also missing.
    let (apart, cases): (Vec<_>, Vec<_>) = cases
        .into_iter()
        .partition(|c| c.to.contains("hight") || c.to.contains("nmae") || c.to.contains("midle"));
    let failed = failures(&cases, Severity::Mistake);
    assert!(failed.is_empty(), "{failed}");
    for case in apart {
        let read = Files::sound().change(case.file, case.from, case.to).read();
        let hit = mistakes(&read).iter().any(|p| {
            p.spot.row == Some(case.row)
                && p.spot.column.as_deref() == Some(case.column)
                && case.says.iter().all(|s| p.fix.contains(s))
        });
        assert!(hit, "{:?}: {:#?}", case.to, read.problems);
    }
}

#[test]
fn what_is_missing_is_named() {
    for (from, key) in [
        ("name = \"Landing cupboard\"\n", "[project] name"),
        ("apart = \"54\"\n", "[opening.plumb_lines] apart"),
        (
            "up_to_ceiling = { left = \"50 1/8\", middle = \"50\", right = \"49 7/8 shy\" }\n",
            "[opening.level_line] up_to_ceiling",
        ),
        (
            "right_gap = [\"1/2\", \"5/8\", \"-1/16\", \"?\"]\n",
            "[opening.plumb_lines] right_gap",
        ),
        ("width_at = [\"0\", \"60\"]\n", "[opening.tape] width_at"),
        ("route = \"built\"\nchosen = true", "[[run]] route"),
        ("name = \"hang\"\n", "[[run.box]] name"),
        ("price_per_cut = \"0.75\"\n", "[saw.store] price_per_cut"),
        ("jobs = 4\n", "[tools] jobs"),
        ("amount = 36\n", "[[need]] amount"),
    ] {
        let read = Files::sound().change("project.toml", from, "").read();
        let found = mistakes(&read);
        assert!(
            found
                .iter()
                .any(|p| p.spot.column.as_deref() == Some(key) && p.why.contains("missing")),
            "{key}: {found:#?}"
        );
    }
}

#[test]
fn an_opening_is_missed_only_where_the_verb_works_on_it() {
    let files = Files::sound().set("project.toml", "[project]\nname = \"x\"\n");
    assert!(
        files
            .read_for(&Reads {
                rows_may_lack: false,
                parts: false,
                stock: false,
                offcuts: false,
                prefab: false,
                opening: false,
                stock_may_lack: false,
            })
            .job
            .is_some()
    );
    let read = files.read_for(&Reads::SURVEY);
    assert!(
        mistakes(&read)
            .iter()
            .any(|p| p.expected.contains("[opening]")),
        "{:#?}",
        read.problems
    );
}

#[test]
fn fewer_than_three_heights_are_refused() {
    let read = Files::sound()
        .change(
            "project.toml",
            "height = [\"0\", \"30\", \"60\", \"90\"]",
            "height = [\"0\", \"90\"]",
        )
        .change(
            "project.toml",
            "left_gap = [\"1 1/4\", \"1\", \"7/8\", \"3/4\"]",
            "left_gap = [\"1 1/4\", \"3/4\"]",
        )
        .change(
            "project.toml",
            "right_gap = [\"1/2\", \"5/8\", \"-1/16\", \"?\"]",
            "right_gap = [\"1/2\", \"?\"]",
        )
        .read();
    let found = mistakes(&read);
    assert_eq!(found.len(), 1, "{found:#?}");
    assert!(found[0].expected.contains("at least 3"));
}

#[test]
fn stations_and_back_readings() {
    let read = Files::sound()
        .change("project.toml", "down_to_floor = {", "from_left = [\"0\", \"20\", \"54\"]\nup_to_ceiling_back = [\"50\", \"?\", \"50\"]\ndown_to_floor = {")
        .change("project.toml", "up_to_ceiling = { left = \"50 1/8\", middle = \"50\", right = \"49 7/8 shy\" }", "up_to_ceiling = [\"50 1/8\", \"50\", [\"49\", \"49 1/8\"]]")
        .read();
    let level = read
        .job
        .expect("a job")
        .opening
        .expect("an opening")
        .level_line;
    let third = &level.up_to_ceiling[2];
    assert_eq!(third.path, "level_line.up_to_ceiling[2]");
    assert_eq!(third.from_left, Some(crate::units::Length::inches(54)));
    assert_eq!(level.up_to_ceiling[1].back, None);
}

/// Frames on their own feet have no base, so none is said to have been taken; on a base they have.
#[test]
fn a_base_is_taken_only_for_frames_that_stand_on_one() {
    let run = "[[run]]\nroute = \"bought\"\nunits = [\"FRM\"]\n";
    let bare = format!("[project]\nname = \"x\"\n{run}");
    for (stands_on, listed) in [("own feet", false), ("base", true)] {
        let frames = format!(
            "unit,kind,width,height,depth,price,stands_on\nFRM,frame,24,80,20,90,{stands_on}\n"
        );
        let files = Files::sound()
            .set("project.toml", bare.as_str())
            .set("prefab.csv", frames.as_str());
        let read = files
            .set(
                "parts.csv",
                "mark,what,how_many,length,width,item\nA,x,1,20,10,BIR-18\n",
            )
            .read();
        assert_eq!(mistakes(&read), Vec::<&crate::model::Problem>::new());
        let job = read.job.expect("a job");
        let bases = job
            .defaults
            .iter()
            .filter(|d| d.place.contains("[[run]] base_"));
        assert_eq!(bases.count(), if listed { 2 } else { 0 }, "{stands_on}");
        assert!(job.want.is_none_or(|w| w.hanger_depth.is_none()));
    }
}

#[test]
fn runs_without_a_name_are_told_apart() {
    let bare = "[project]\nname = \"x\"\n[[run]]\n[[run.box]]\nname = \"a\"\n[[run]]\n[[run.box]]\nname = \"b\"\n";
    let read = Files::sound().set("project.toml", bare).read();
    let said: Vec<String> = mistakes(&read)
        .iter()
        .filter_map(|p| p.spot.column.clone())
        .collect();
    for wanted in ["[[run]] number 1 route", "[[run]] number 2 route"] {
        assert!(said.iter().any(|s| s == wanted), "{wanted}: {said:?}");
    }
}

/// 2400 in an inch job, 60 in a millimetre job: refused, with the place and what to type; with a unit it is taken as it is. In
/// project.toml and in a table alike.
#[test]
fn sizes_of_the_other_unit_are_refused() {
    let asked = |from: &str, to: &str| -> Vec<(String, Option<usize>, Option<String>, String)> {
        let read = Files::sound().change("project.toml", from, to).read();
        mistakes(&read)
            .iter()
            .filter(|p| p.fix.starts_with("did you mean"))
            .map(|p| {
                (
                    p.found.clone(),
                    p.spot.row,
                    p.spot.column.clone(),
                    p.fix.clone(),
                )
            })
            .collect()
    };
    assert!(asked("apart = \"54\"", "apart = \"54\"").is_empty());
    let said = asked("apart = \"54\"", "apart = \"1370\"");
    assert_eq!(said.len(), 1);
    let (found, row, column, fix) = &said[0];
    assert_eq!(
        (found.as_str(), column.as_deref()),
        ("1370", Some("[opening.plumb_lines] apart"))
    );
    assert!(row.is_some() && fix.contains("1370 mm"), "{fix}");
    assert!(asked("apart = \"54\"", "apart = \"1370 mm\"").is_empty());
}

#[test]
fn every_default_is_listed_with_its_place() {
    let bare = "[project]\nname = \"x\"\n[[run]]\nroute = \"built\"\n[[run.box]]\nname = \"a\"\n";
    let read = Files::sound().set("project.toml", bare).read();
    let job = read.job.expect("a job");
    for (place, value) in [
        ("project.toml [project] units", "inch"),
        ("project.toml [project] tape", "1/16"),
        ("project.toml [saw] kerf", "1/8"),
        ("project.toml [saw] clean_edge", "1/8"),
        ("project.toml [saw] largest_alone", "48 x 48"),
        ("project.toml [finish] top_coats", "2"),
        ("project.toml [trim] spring", "1/16"),
        ("project.toml [trim] crown_spring", "52/38"),
        ("project.toml [[run]] base_height", "4"),
        ("project.toml [[run.box]] share", "1"),
        ("project.toml [tools] count", "full"),
    ] {
        assert!(
            job.defaults
                .iter()
                .any(|d| d.place == place && d.value == value && !d.why.is_empty()),
            "{place} = {value}: {:#?}",
            job.defaults
        );
    }
    assert_eq!(job.project.sales_tax, None);
}
