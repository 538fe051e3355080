//! Every verb with each exit code it can end with (README lists them; codes above 2 name a state of her files).

use crate::job::Job;

/// Verbs that read a job folder and change none of her files.
const READING: [&[&str]; 7] = [
    &["check"],
    &["check", "--defaults"],
    &["cut"],
    &["buy"],
    &["compare"],
    &["book"],
    &["rack"],
];

/// One change to the alcove that brings one mistake: where it is said to be, and words that must be said.
const MISTAKES: [(&str, &str, &str, &str); 6] = [
    ("project.toml", "[finish]", "[finnish]", "finish"),
    (
        "project.toml",
        "sales_tax = \"6.5%\"",
        "sales_tax = \"31%\"",
        "30%",
    ),
    (
        "parts.csv",
        "A1,left side,left,2,",
        "A1,left side,left,0,",
        "how_many",
    ),
    (
        "parts.csv",
        "26 15/16,19 3/4,BIR-18",
        "26 15/16,19 3/4,BIR-19",
        "BIR-18",
    ),
    ("stock.csv", "96,48,3/4,23/32", "96,48,4-Mar,23/32", "3/4"),
    ("stock.csv", "item,kind,", "item,sort,", "kind"),
];

fn run(job: &Job, verb: &[&str]) -> crate::job::Ran {
    let mut words = verb.to_vec();
    words.extend(["--in", "job", "--threads", "2"]);
    job.run(&words)
}

#[test]
fn a_sound_job_ends_with_0() {
    let job = Job::sample("alcove");
    for verb in READING {
        let ran = run(&job, verb).ends(0);
        assert!(!ran.out.is_empty(), "{verb:?} says something");
    }
}

#[test]
fn a_part_that_fits_no_sheet_ends_with_1_and_the_plan_is_written() {
    let long =
        || Job::sample("alcove").change("parts.csv", "left,2,86,20 1/4", "left,2,186,20 1/4");
    for verb in ["cut", "buy", "compare", "book"] {
        let job = long();
        let ran = run(&job, &[verb, "--json"]).ends(1);
        ran.json();
        assert!(
            ran.err.contains("A1"),
            "{verb} names the part:\n{}",
            ran.err
        );
        if ["cut", "book"].contains(&verb) {
            let plan: serde_json::Value =
                serde_json::from_str(&job.read("made/plan.json")).expect("a plan");
            assert_eq!(plan["unplaced"][0]["mark"], "A1");
            assert_eq!(plan["unplaced"][0]["count"], 2);
        }
    }
    // `check` only warns: the job can be planned without the part.
    let ran = run(&long(), &["check"]).ends(0);
    assert!(
        ran.out.contains("A1") && ran.out.contains("95 3/4"),
        "{}",
        ran.out
    );
}

#[test]
fn typed_wrongly_ends_with_2_and_says_how() {
    let job = Job::sample("alcove");
    for (words, says) in [
        (&[][..], "Usage"),
        (&["cutt"], "cut"),
        (&["cut", "--in", "job", "--effort", "fast"], "thorough"),
        (&["cut", "--in", "job", "--threads", "0"], "256"),
        (&["cut", "--in", "job", "--units", "feet"], "inch"),
        (&["cut", "--in", "job", "--route", "custm"], "flat-pack"),
        (&["buy", "--in", "job", "--route", "custm"], "flat-pack"),
        (&["book", "--in", "job", "--route", "custm"], "flat-pack"),
        (&["book", "--in", "job", "--paper", "a3"], "a4"),
        (&["book", "--in", "job", "--from", "0"], "500"),
        (&["cut", "--in", "job", "--kerf", "1/8"], "[saw]"),
        (&["cut", "--in", "job", "job/parts.csv"], "not both"),
        (&["cut", "job/parts.csv", "--kerf", "1/3"], "3/8"),
        (&["cut", "job/parts.csv", "--kerf", "-1/8"], "minus"),
        (&["cut", "job/parts.csv", "--kerf", "200 m"], "100 m"),
        (&["start"], "NAME"),
        (&["completions", "abacus"], "bash"),
        (&["rack", "--in", "job", "put", "BIR-18"], "SIZE"),
        (&["rack", "--in", "job", "put", "BIR", "30 x 20"], "BIR-18"),
        (
            &["rack", "--in", "job", "put", "BIR-18", "30"],
            "length x width",
        ),
        (&["rack", "--in", "job", "put", "BIR-18", "30 by 20"], "in,"),
        (
            &["rack", "--in", "job", "put", "BIR-18", "30 ft x 20"],
            "larger than any BIR-18",
        ),
        (
            &[
                "rack", "--in", "job", "put", "BIR-18", "30 x 20", "--mark", " ",
            ],
            "R-08",
        ),
        (
            &[
                "rack", "--in", "job", "put", "BIR-18", "30 x 20", "--mark", "=1",
            ],
            "R-08",
        ),
        (
            &[
                "rack", "--in", "job", "put", "BIR-18", "30 x 20", "--mark", "R-01",
            ],
            "another mark",
        ),
        (
            &["rack", "--in", "job", "put", "--leftovers"],
            "run cut first",
        ),
        (&["rack", "--in", "job", "take", "R-99"], "R-01"),
        (&["rack", "--in", "job", "take", "R-03"], "spent already"),
    ] {
        let before = job.hers();
        let ran = job.run(words).ends(2);
        assert!(ran.out.is_empty(), "{words:?}: {}", ran.out);
        let said = ran.err.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(said.contains(says), "{words:?}: {}", ran.err);
        assert_eq!(job.hers(), before, "{words:?} changed a file");
    }
}

#[test]
fn a_mistake_in_a_file_ends_with_3_and_nothing_is_written() {
    for (file, from, to, says) in MISTAKES {
        let job = Job::sample("alcove").change(file, from, to);
        for verb in READING {
            let ran = run(&job, verb).ends(3);
            // `check` was asked for the mistakes, so they are its result; elsewhere they are why nothing came of it.
            let said = if verb[0] == "check" {
                &ran.out
            } else {
                &ran.err
            };
            assert!(
                said.contains(file) && said.contains("Fix: "),
                "{verb:?}: {said}"
            );
            assert!(said.contains(says), "{verb:?}: {said}");
            assert!(!job.path("made").exists(), "{verb:?} wrote something");
        }
    }
}

#[test]
fn a_missing_price_or_tax_ends_with_5() {
    let unpriced = || Job::sample("alcove").change("stock.csv", ",71.00,62.00,84.00,", ",,,,");
    let ran = run(&unpriced(), &["compare"]).ends(5);
    assert!(ran.out.contains("BIR-18 has no price"), "{}", ran.out);
    let sheets = ran.out.lines().find(|l| l.contains("Sheets, whole"));
    let sheets = sheets.expect("a line for sheets");
    assert_eq!(
        sheets.matches("not known").count(),
        2,
        "no part of a sum: {sheets}"
    );
    let ran = run(&unpriced(), &["buy"]).ends(5);
    assert!(ran.out.contains("BIR-18 has no price"), "{}", ran.out);
    // A plan misleads nobody without prices, and a book says "no price" where one is missing.
    run(&unpriced(), &["cut"]).ends(0);
    let untaxed = Job::sample("alcove").change("project.toml", "sales_tax = \"6.5%\"", "");
    for verb in ["compare", "buy"] {
        let ran = run(&untaxed, &[verb]).ends(5);
        assert!(ran.out.contains("sales_tax"), "{}", ran.out);
    }
}

#[test]
fn what_cannot_be_read_ends_with_6() {
    let job = Job::sample("alcove");
    for verb in READING {
        let mut words = verb.to_vec();
        words.extend(["--in", "nowhere"]);
        let ran = job.run(&words).ends(6);
        assert!(ran.err.contains("start"), "{}", ran.err);
        words.pop();
        words.push("job/parts.csv");
        let ran = job.run(&words).ends(6);
        assert!(ran.err.contains("is not a folder"), "{}", ran.err);
    }
    let ran = job.run(&["cut", "nothere.csv"]).ends(6);
    assert!(ran.err.contains("nothere.csv is not there"), "{}", ran.err);
    let ran = job.run(&["cut", "job"]).ends(6);
    assert!(ran.err.contains("job is a folder"), "{}", ran.err);
    assert!(!job.path("made").exists());
}

#[test]
fn completions_and_the_manual_name_every_verb() {
    let job = Job::empty();
    let verbs = [
        "start",
        "check",
        "cut",
        "buy",
        "compare",
        "book",
        "rack",
        "completions",
        "man",
    ];
    let mut texts = vec![
        job.run(&["man"]).ends(0).out,
        job.run(&["--help"]).ends(0).out,
    ];
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        texts.push(job.run(&["completions", shell]).ends(0).out);
    }
    for text in &texts {
        for verb in verbs {
            assert!(text.contains(verb), "{verb} is missing:\n{text}");
        }
    }
    assert!(
        texts[0].starts_with(".ie") && texts[0].contains(".TH nookwright"),
        "a manual page"
    );
}
