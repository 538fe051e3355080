//! `start`: the folder it makes is sound, can be cut at once, and nothing of hers is in danger.

use crate::job::Job;

#[test]
fn what_start_makes_passes_check_and_can_be_cut() {
    for units in ["inch", "mm"] {
        let job = Job::empty();
        let ran = job.run(&["start", "job", "--units", units]).ends(0);
        for word in ["check --in job", "cut --in job", "book --in job"] {
            assert!(ran.out.contains(word), "{}", ran.out);
        }
        let check = job.run(&["check", "--in", "job", "--strict"]).ends(0);
        assert!(check.out.contains("No mistakes."), "{}", check.out);
        let plan = job.run(&["cut", "--in", "job", "--json"]).ends(0).json();
        assert_eq!(plan["unplaced"], serde_json::json!([]));
        assert_eq!(plan["items"][0]["proved"], true);
        for verb in ["buy", "compare", "book", "rack"] {
            job.run(&[verb, "--in", "job"]).ends(0);
        }
        assert!(
            job.read("project.toml")
                .contains(&format!("units = \"{units}\""))
        );
    }
}

#[test]
fn the_document_says_what_was_made() {
    let job = Job::empty();
    let doc = job.run(&["start", "job", "--json"]).ends(0).json();
    assert_eq!(doc["folder"], "job");
    let mut named: Vec<String> = doc["files"]
        .as_array()
        .expect("a list")
        .iter()
        .map(|f| f.as_str().expect("a name").to_owned())
        .collect();
    named.sort();
    // The tool's own list of what it made stands beside it.
    let mut there: Vec<String> = job.files("").into_keys().collect();
    assert!(there.contains(&"made/.tool/made.json".to_owned()));
    there.retain(|name| !name.starts_with("made/.tool/"));
    assert_eq!(named, there);
}

#[test]
fn a_folder_with_anything_in_it_is_refused() {
    let job = Job::empty();
    std::fs::create_dir(job.path("")).expect("a folder");
    job.run(&["start", "job"]).ends(0);
    let job = Job::empty();
    std::fs::create_dir(job.path("")).expect("a folder");
    job.write("letter.txt", "hers");
    let ran = job.run(&["start", "job"]).ends(6);
    assert!(ran.said().contains("new or empty"), "{}", ran.err);
    assert_eq!(job.files("").len(), 1);
    assert_eq!(job.read("letter.txt"), "hers");
    // A file where the folder should be.
    let ran = job.run(&["start", "job/letter.txt"]).ends(6);
    assert!(ran.said().contains("a file stands there"), "{}", ran.err);
    assert_eq!(job.read("letter.txt"), "hers");
}

#[test]
fn a_name_with_marks_in_it_is_still_a_sound_job() {
    let job = Job::empty();
    let name = "quote \" slash \\ #1 \u{202E}x";
    let ran = job.run(&["start", name]).ends(0);
    assert!(!ran.out.contains('\u{202E}'), "shown, not obeyed");
    job.run(&["check", "--in", name]).ends(0);
    job.run(&["cut", "--in", name]).ends(0);
}
