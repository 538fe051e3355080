//! Just a cut list: the same plan as a job folder for the same facts, usual values said, nothing written unasked.

use crate::job::Job;

/// A sample's list and stock with a project that says no more than the command line can.
fn twins(sample: &str, units: &str, kerf: &str, clean_edge: &str) -> Job {
    let job = Job::sample(sample);
    for other in ["offcuts.csv", "prefab.csv"] {
        let _ = std::fs::remove_file(job.path(other)); // not every sample has them
    }
    job.write(
        "project.toml",
        format!(
            "[project]\nname = \"twin\"\nunits = \"{units}\"\nsales_tax = \"0%\"\n\n[saw]\nkerf = \"{kerf}\"\nclean_edge = \"{clean_edge}\"\n"
        ),
    );
    job
}

#[test]
fn both_ways_in_give_the_same_plan() {
    for (sample, units, kerf, clean_edge) in [
        ("alcove", "inch", "3/32", "3/16"),
        ("studio-mm", "mm", "3.2", "5"),
    ] {
        let job = twins(sample, units, kerf, clean_edge);
        let folder = job
            .run(&["cut", "--in", "job", "--effort", "quick", "--json"])
            .ends(0);
        let bare = [
            "cut",
            "job/parts.csv",
            "--stock",
            "job/stock.csv",
            "--kerf",
            kerf,
            "--clean-edge",
            clean_edge,
            "--units",
            units,
            "--effort",
            "quick",
            "--json",
        ];
        let bare = job.run(&bare).ends(0);
        assert!(folder.json() == bare.json(), "{sample}: the plans differ");
        assert_eq!(folder.out, bare.out, "{sample}: and so do their bytes");
        // Another kerf is another plan: the switch is not just read and dropped.
        let other = job.run(&[
            "cut",
            "job/parts.csv",
            "--stock",
            "job/stock.csv",
            "--units",
            units,
            "--kerf",
            "1/4 in",
            "--effort",
            "quick",
            "--json",
        ]);
        assert_eq!(other.json()["kerf"], 508_000);
    }
}

#[test]
fn without_a_stock_file_sheets_are_48_by_96_and_it_is_said() {
    let job = Job::sample("bare-list");
    let ran = job.run(&["cut", "job/parts.csv"]).ends(0);
    let said = ran.said();
    for words in [
        "Taken: stock PLY = a 48 x 96 in sheet without a price",
        "Taken: stock THIN = a 48 x 96 in sheet without a price",
        "Taken: --kerf = 1/8",
        "Taken: --clean-edge = 1/8",
        "no price",
        "Nothing was written",
    ] {
        assert!(
            said.contains(words),
            "{words} is missing:\n{}\n{}",
            ran.out,
            ran.err
        );
    }
    let plan = job.run(&["cut", "job/parts.csv", "--json"]).ends(0).json();
    for sheet in plan["sheets"].as_array().expect("a list") {
        assert_eq!(
            sheet["size"],
            serde_json::json!([96 * 2_032_000, 48 * 2_032_000])
        );
    }
    assert_eq!(plan["items"][0]["cost_cents"], serde_json::Value::Null);
    assert_eq!(job.files("").len(), 1, "nothing but her list");
}

#[test]
fn units_say_how_bare_numbers_are_read() {
    let job = Job::sample("bare-list");
    job.write(
        "parts.csv",
        "mark,what,how_many,length,width,item\nA,shelf,2,600,300,PLY\n",
    );
    let place = |words: &[&str]| job.run(words).json()["sheets"][0]["places"][0]["size"].clone();
    let mm = place(&["cut", "job/parts.csv", "--units", "mm", "--json"]);
    assert_eq!(mm, serde_json::json!([600 * 80_000, 300 * 80_000]));
    // As inches they are larger than any part: refused, with the mend for the whole list.
    let refused = job.run(&["cut", "job/parts.csv"]).ends(3).said();
    let flat = refused.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        flat.contains("did you mean 600 mm?") && flat.contains("--units mm for just a cut list"),
        "{flat}"
    );
    job.write(
        "parts.csv",
        "mark,what,how_many,length,width,item\nA,shelf,2,110,30,PLY\n",
    );
    let ran = job.run(&["cut", "job/parts.csv"]).ends(1);
    assert!(
        ran.out.contains("FOUND NO PLACE"),
        "110 in is more than a sheet:\n{}",
        ran.out
    );
    assert!(
        ran.out.contains("not counting what found no place"),
        "{}",
        ran.out
    );
    job.write(
        "parts.csv",
        "mark,what,how_many,length,width,item\nA,shelf,2,60,30,PLY\n",
    );
    let inch = place(&["cut", "job/parts.csv", "--json"]);
    assert_eq!(inch, serde_json::json!([60 * 2_032_000, 30 * 2_032_000]));
}

#[test]
fn out_takes_the_files_and_her_list_stays_as_it_is() {
    let job = Job::sample("bare-list");
    let before = job.hers();
    let ran = job.run(&["cut", "job/parts.csv", "--out", "plans"]).ends(0);
    assert!(ran.out.contains("Written: plans/plan.json"), "{}", ran.out);
    assert_eq!(job.hers(), before);
    let made: Vec<String> = std::fs::read_dir(job.around().join("plans"))
        .expect("the folder")
        .map(|e| {
            e.expect("an entry")
                .file_name()
                .to_string_lossy()
                .into_owned()
        })
        .collect();
    for file in ["plan.json", "cut-list.csv", "sheets"] {
        assert!(made.iter().any(|m| m == file), "{file} is not in {made:?}");
    }
    let list = std::fs::read_to_string(job.around().join("plans/cut-list.csv")).expect("the list");
    assert!(
        list.lines().next().expect("headings").ends_with("Colour"),
        "her own column comes along"
    );
    assert!(list.contains(",oak"), "with its cells");
}
