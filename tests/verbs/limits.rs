//! The limits: 100 000 pieces, 100 m, 50 MB a file. Beyond them is a mistake, never a crash or a long wait.

use crate::job::Job;

/// The mistakes that `check` and `cut` name.
fn mistakes(job: &Job) -> Vec<serde_json::Value> {
    job.run(&["cut", "--in", "job"]).ends(3);
    assert!(!job.path("made").exists());
    let doc = job.run(&["check", "--in", "job", "--json"]).ends(3).json();
    doc["mistakes"].as_array().expect("a list").clone()
}

#[test]
fn more_than_100_000_pieces_is_a_mistake() {
    // The other rows of the list have 33 pieces.
    let of = |n: u32| {
        Job::sample("alcove").change(
            "parts.csv",
            "A1,left side,left,2,",
            &format!("A1,left side,left,{n},"),
        )
    };
    of(100_000 - 33).run(&["check", "--in", "job"]).ends(0);
    for n in [100_000 - 32, 100_001, u32::MAX] {
        let found = mistakes(&of(n));
        assert_eq!(found.len(), 1, "{found:#?}");
        assert_eq!(
            (&found[0]["file"], &found[0]["column"]),
            (&"parts.csv".into(), &"how_many".into())
        );
        assert!(
            found[0]["why"].as_str().expect("text").contains("100000"),
            "{found:#?}"
        );
    }
}

#[test]
fn longer_than_100_m_is_a_mistake() {
    let of = |size: &str| {
        Job::sample("alcove").change(
            "parts.csv",
            "left,2,86,20 1/4",
            &format!("left,2,{size},20 1/4"),
        )
    };
    of("100 m").run(&["check", "--in", "job"]).ends(0);
    for size in ["100.001 m", "3937.01", "99999999999999999999"] {
        let found = mistakes(&of(size));
        assert_eq!(found.len(), 1, "{found:#?}");
        assert_eq!(
            (&found[0]["row"], &found[0]["column"]),
            (&2.into(), &"length".into())
        );
    }
    let kerf = Job::sample("alcove").change("project.toml", "kerf = \"3/32\"", "kerf = \"101 m\"");
    assert_eq!(mistakes(&kerf)[0]["column"], "[saw] kerf");
    let sheet = Job::sample("alcove").change("stock.csv", ",96,48,3/4", ",101 m,48,3/4");
    assert_eq!(mistakes(&sheet)[0]["column"], "length");
}

#[test]
fn more_than_50_mb_is_a_mistake() {
    for file in [
        "project.toml",
        "parts.csv",
        "stock.csv",
        "prefab.csv",
        "offcuts.csv",
    ] {
        let job = Job::sample("alcove");
        let handle = std::fs::File::options()
            .write(true)
            .open(job.path(file))
            .expect("the file");
        handle.set_len(50_000_001).expect("a long file");
        let doc = job.run(&["check", "--in", "job", "--json"]).ends(3).json();
        let found = doc["mistakes"].as_array().expect("a list");
        let large = found
            .iter()
            .filter(|m| m["found"] == "more than 50 MB")
            .collect::<Vec<_>>();
        assert_eq!(large.len(), 1, "{file}: {found:#?}");
        assert_eq!(large[0]["file"], file);
    }
}

#[test]
fn a_table_of_too_many_rows_is_a_mistake() {
    let job = Job::sample("alcove");
    let row = "Z,shelf,left,1,20,10,BIR-18,length,,,,,run,\n";
    job.write("parts.csv", job.read("parts.csv") + &row.repeat(100_001));
    let found = mistakes(&job);
    assert_eq!(found.len(), 1, "{:#?}", &found[..1]);
    assert!(
        found[0]["found"]
            .as_str()
            .expect("text")
            .contains("100000 rows"),
        "{:#?}",
        found[0]
    );
}

/// Every mistake of a row is named at once, also those beside a number that a comma split.
#[test]
fn all_mistakes_of_all_files_come_at_once() {
    let job = Job::sample("alcove")
        .change("stock.csv", "BIR-18,sheet,\"birch plywood 3/4, paint grade\",96,48,3/4,23/32,length,each,1,71.00,62.00,84.00,2026-05-12", "BIR-18,sheet,\"birch plywood 3/4, paint grade\",96,48,4-Mar,23/32,long,each,1,71,00,62.00,84.00,12 May")
        .change("stock.csv", "BIR-6,sheet,birch plywood 1/4,96,48,1/4,7/32,length,each,1,36.00,32.00,", "BIR-6,sheet,birch plywood 1/4,96,48,1/4,7/32,length,each,1,36,00,32,00,")
        .change("parts.csv", "A1,left side,left,2,", "A1,left side,left,two,")
        .change("project.toml", "kerf = \"3/32\"", "kerf = 3/32");
    let found = mistakes(&job);
    let places: Vec<String> = found
        .iter()
        .map(|m| {
            format!(
                "{} {} {}",
                m["file"].as_str().expect("a file"),
                m["row"],
                m["column"].as_str().unwrap_or("-")
            )
        })
        .collect();
    let line = job
        .read("project.toml")
        .lines()
        .position(|l| l.ends_with("= 3/32"))
        .expect("a line")
        + 1;
    assert_eq!(
        places,
        [
            &format!("project.toml {line} kerf")[..],
            "stock.csv 2 price",
            "stock.csv 2 thick",
            "stock.csv 2 grain",
            "stock.csv 2 priced_on",
            "stock.csv 3 price",
            "stock.csv 3 price_low",
            "parts.csv 2 how_many",
        ],
        "{found:#?}"
    );
}
