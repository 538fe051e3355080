//! Her files and the tool's: what a verb may change, what goes to `kept/`, and that a run that fails leaves all as it was.

use crate::job::{Job, Ran};
use std::collections::BTreeMap;
use std::fs::{self, File};

const VERBS: [&str; 6] = ["check", "cut", "buy", "compare", "book", "rack"];

/// What is made, without the tool's own lock and list.
fn made(job: &Job) -> BTreeMap<String, Vec<u8>> {
    let mut all = job.files("made");
    all.retain(|name, _| !name.starts_with('.'));
    all
}

#[test]
fn her_files_are_the_same_after_every_verb() {
    for sample in ["alcove", "studio-mm"] {
        let job = Job::sample(sample);
        let before = job.hers();
        for verb in VERBS {
            job.run(&[verb, "--in", "job", "--effort", "quick"]).ends(0);
            assert!(job.hers() == before, "{verb} changed a file of hers");
        }
        assert!(!job.path("kept").exists(), "there was nothing to keep");
    }
}

#[test]
fn a_second_run_makes_the_same_and_keeps_nothing() {
    let job = Job::sample("alcove");
    for verb in ["cut", "buy", "compare", "book"] {
        job.run(&[verb, "--in", "job"]).ends(0);
    }
    let first = made(&job);
    for verb in ["cut", "buy", "compare", "book"] {
        let ran = job.run(&[verb, "--in", "job"]).ends(0);
        assert!(!ran.err.contains("kept"), "{}", ran.err);
    }
    assert!(made(&job) == first);
    assert!(!job.path("kept").exists());
}

#[test]
fn a_made_file_that_she_edited_goes_to_kept() {
    let job = Job::sample("alcove");
    job.run(&["cut", "--in", "job"]).ends(0);
    let made = job.read("made/cut-list.csv");
    for (text, name) in [("hers, once", "0001"), ("hers, twice", "0002")] {
        job.write("made/cut-list.csv", text);
        let ran = job.run(&["cut", "--in", "job"]).ends(0);
        assert!(
            ran.said()
                .contains(&format!("kept as job/kept/{name}-cut-list.csv")),
            "{}",
            ran.err
        );
        assert_eq!(job.read(&format!("kept/{name}-cut-list.csv")), text);
        assert_eq!(job.read("made/cut-list.csv"), made);
    }
    assert_eq!(
        job.read("kept/0001-cut-list.csv"),
        "hers, once",
        "a name is never used again"
    );
}

#[test]
fn files_of_another_plan_go_with_it() {
    let job = Job::sample("alcove");
    job.run(&["book", "--in", "job"]).ends(0);
    let job = job.change(
        "parts.csv",
        "A3,left fixed shelf,left,1,27 1/16",
        "A3,left fixed shelf,left,1,27",
    );
    let ran = job.run(&["cut", "--in", "job"]).ends(0);
    assert!(
        ran.said().contains("Of an older plan, and taken away:"),
        "{}",
        ran.err
    );
    assert!(
        !job.path("made/build-book.pdf").exists(),
        "the old book would not match the new plan"
    );
    let numbers = |name: &str| {
        job.read(name)
            .split("plan ")
            .nth(1)
            .map(|t| t[..9].to_owned())
    };
    let plan: serde_json::Value =
        serde_json::from_str(&job.read("made/plan.json")).expect("a plan");
    assert_eq!(
        numbers("made/sheets/sheet-01.dxf").as_deref(),
        plan["plan_number"].as_str()
    );
}

/// Runs a verb on a job whose new plan differs from the one made, with something in the way.
fn fails_whole(verb: &str, in_the_way: impl Fn(&Job), out_of_the_way: impl Fn(&Job)) {
    let job = Job::sample("alcove");
    job.run(&[verb, "--in", "job"]).ends(0);
    let job = job.change(
        "parts.csv",
        "A3,left fixed shelf,left,1,27 1/16",
        "A3,left fixed shelf,left,1,27",
    );
    in_the_way(&job);
    let (before, hers) = (made(&job), job.hers());
    let ran = job.run(&[verb, "--in", "job"]).ends(6);
    assert!(ran.said().contains("Fix:"), "{}", ran.err);
    assert!(made(&job) == before, "the old files are whole");
    assert!(job.hers() == hers);
    out_of_the_way(&job);
    job.run(&[verb, "--in", "job"]).ends(0);
    assert!(made(&job) != before, "and the next run goes through");
}

#[test]
fn a_file_where_a_folder_must_be_ends_with_6_and_the_old_files_whole() {
    for verb in ["cut", "book"] {
        fails_whole(
            verb,
            |job| {
                fs::remove_dir_all(job.path("made/sheets")).expect("removed");
                job.write("made/sheets", "in the way");
            },
            |job| fs::remove_file(job.path("made/sheets")).expect("removed"),
        );
        // What she edited must be kept first, and cannot be.
        fails_whole(
            verb,
            |job| {
                job.write("made/cut-list.csv", "hers");
                job.write("kept", "in the way");
            },
            |job| fs::remove_file(job.path("kept")).expect("removed"),
        );
        // A folder where a file must be.
        fails_whole(
            verb,
            |job| {
                fs::remove_file(job.path("made/plan.json")).expect("removed");
                fs::create_dir(job.path("made/plan.json")).expect("a folder");
                job.write("made/plan.json/x", "in the way");
            },
            |job| fs::remove_dir_all(job.path("made/plan.json")).expect("removed"),
        );
    }
    let job = Job::sample("alcove");
    job.write("made", "in the way");
    for verb in ["cut", "buy", "compare", "book"] {
        job.run(&[verb, "--in", "job"]).ends(6);
    }
    assert_eq!(job.read("made"), "in the way");
}

/// A limit on the size of a file stands for a full disk: the write fails halfway through.
#[cfg(unix)]
#[test]
fn a_write_that_fails_halfway_ends_with_6_and_the_old_files_whole() {
    for verb in ["cut", "book", "buy"] {
        let job = Job::sample("alcove");
        job.run(&[verb, "--in", "job"]).ends(0);
        let job = job.change(
            "parts.csv",
            "A3,left fixed shelf,left,1,27 1/16",
            "A3,left fixed shelf,left,1,15",
        );
        let job = job.change("stock.csv", "1,71.00,", "1,72.00,");
        let before = made(&job);
        let script = format!(
            "trap '' XFSZ; ulimit -f 2; exec '{}' {verb} --in job",
            env!("CARGO_BIN_EXE_nookwright")
        );
        let output = std::process::Command::new("sh")
            .args(["-c", &script])
            .current_dir(job.around())
            .output()
            .expect("a shell");
        let ran = Ran::of(&output).ends(6);
        assert!(ran.said().contains("as it was"), "{}", ran.err);
        assert!(made(&job) == before, "the old files are whole after {verb}");
        job.run(&[verb, "--in", "job"]).ends(0);
        assert!(made(&job) != before);
    }
}

/// Root may write anywhere, so there only the exit of a run on a sound folder is seen.
#[cfg(unix)]
#[test]
fn a_folder_that_may_not_be_written_ends_with_6() {
    use std::os::unix::fs::PermissionsExt;
    let job = Job::sample("alcove");
    let set =
        |mode| fs::set_permissions(job.path(""), fs::Permissions::from_mode(mode)).expect("set");
    set(0o555);
    let root = fs::write(job.path("probe"), "x").is_ok();
    if root {
        fs::remove_file(job.path("probe")).expect("removed");
    }
    let before = job.files("");
    for verb in ["cut", "buy", "compare", "book"] {
        job.run(&[verb, "--in", "job"])
            .ends(if root { 0 } else { 6 });
    }
    job.run(&["check", "--in", "job"]).ends(0);
    if !root {
        assert!(job.files("") == before);
    }
    set(0o755);
}

#[cfg(target_os = "linux")]
#[test]
fn standard_output_that_is_full_ends_with_6() {
    let job = Job::sample("alcove");
    for words in [
        &["cut", "--in", "job"][..],
        &["check", "--in", "job", "--json"],
        &["man"],
    ] {
        let full = File::options()
            .write(true)
            .open("/dev/full")
            .expect("the full device");
        let output = job.command(words).stdout(full).output().expect("it runs");
        let ran = Ran::of(&output).ends(6);
        assert!(ran.err.contains("standard output"), "{}", ran.err);
    }
}

#[test]
fn of_two_runs_at_once_the_second_stops() {
    let job = Job::sample("alcove");
    job.run(&["cut", "--in", "job"]).ends(0);
    let before = job.files("");
    let lock = File::options()
        .write(true)
        .open(job.path("made/.tool/lock"))
        .expect("the lock");
    lock.try_lock().expect("nobody else is at work");
    for words in [
        &["cut", "--in", "job"][..],
        &["buy", "--in", "job"],
        &["compare", "--in", "job"],
        &["book", "--in", "job"],
        &["rack", "--in", "job", "take", "R-01"],
        &["rack", "--in", "job", "put", "BIR-18", "30 x 20"],
    ] {
        let ran = job.run(words).ends(6);
        assert!(
            ran.said().contains("another run is at work"),
            "{words:?}: {}",
            ran.err
        );
        assert!(job.files("") == before, "{words:?}");
    }
    // What only reads goes on.
    job.run(&["check", "--in", "job"]).ends(0);
    job.run(&["rack", "--in", "job"]).ends(0);
    drop(lock);
    job.run(&["cut", "--in", "job"]).ends(0);
}

/// Two real runs: the first takes seconds on a whole house and is ended once the second has stopped.
#[test]
fn a_second_run_stops_while_the_first_is_at_work() {
    let job = Job::sample("whole-house");
    let mut first = job
        .command(&["cut", "--in", "job", "--threads", "1"])
        .stdout(std::process::Stdio::null())
        .stderr(std::process::Stdio::null())
        .spawn()
        .expect("it starts");
    let path = job.path("made/.tool/lock");
    let held = || {
        File::options()
            .write(true)
            .open(&path)
            .is_ok_and(|f| f.try_lock().is_err())
    };
    let start = std::time::Instant::now();
    while !held() {
        assert!(
            start.elapsed().as_secs() < 60,
            "the first run takes the lock"
        );
        std::thread::sleep(std::time::Duration::from_millis(5));
    }
    let second = job.run(&["cut", "--in", "job"]);
    first.kill().expect("ended");
    first.wait().expect("gone");
    let second = second.ends(6);
    assert!(
        second.said().contains("another run is at work"),
        "{}",
        second.err
    );
    assert!(
        made(&job).is_empty(),
        "a run that was ended leaves nothing half done"
    );
    assert!(!held(), "and no lock");
}

#[test]
fn the_rack_changes_one_cell_and_keeps_the_list_as_it_was() {
    let job = Job::sample("studio-mm");
    let text = job.read("offcuts.csv").replace('\n', "\r\n");
    job.write(
        "offcuts.csv",
        format!("\u{FEFF}{}", text.replacen("note", "note;hers", 1)),
    );
    let old = job.read("offcuts.csv");
    let others = |job: &Job| {
        let mut all = job.hers();
        all.remove("offcuts.csv");
        all
    };
    let before = others(&job);
    job.run(&["rack", "--in", "job", "take", "R-11"]).ends(0);
    assert_eq!(job.read("kept/0001-offcuts.csv"), old);
    assert_eq!(
        job.read("offcuts.csv"),
        old.replacen("rack;ready;", "rack;spent;", 1),
        "one cell"
    );
    let taken = job.read("offcuts.csv");
    job.run(&[
        "rack",
        "--in",
        "job",
        "put",
        "POP-L",
        "800 x 400",
        "--note",
        "=A1;x",
    ])
    .ends(0);
    let put = job.read("offcuts.csv");
    let row = put
        .strip_prefix(taken.trim_end())
        .expect("what was there stays");
    assert!(
        row.starts_with("\r\nR-15;POP-L;800;400;17.8;length;;"),
        "{row:?}"
    );
    assert!(row.contains("\"'=A1;x\""), "as text, in quotes: {row:?}");
    assert_eq!(job.read("kept/0002-offcuts.csv"), taken);
    assert!(others(&job) == before);
    job.run(&["check", "--in", "job"]).ends(0);
    // What the plan leaves over can be put there, once; the job itself does not plan on it, for that needs its sheets.
    let cut = ["cut", "--in", "job", "--effort", "quick", "--json"];
    let bought = || -> Vec<serde_json::Value> {
        let doc = job.run(&cut).ends(0).json();
        doc["items"].as_array().expect("items").clone()
    };
    let first = bought();
    let doc = job
        .run(&["rack", "--in", "job", "put", "--leftovers", "--json"])
        .ends(0)
        .json();
    assert_eq!(doc["put"][0], "R-16");
    job.run(&["check", "--in", "job"]).ends(0);
    let again = job
        .run(&["rack", "--in", "job", "put", "--leftovers"])
        .ends(2);
    assert!(again.err.contains("R-16"), "{}", again.err);
    assert_eq!(bought(), first);
    assert!(
        job.run(&cut)
            .ends(0)
            .said()
            .contains("left over by this very job"),
        "it is said"
    );
}

#[test]
fn a_workbook_is_read_and_never_written() {
    let job = Job::sample("alcove");
    fs::remove_file(job.path("offcuts.csv")).expect("removed");
    job.write("offcuts.xlsx", b"no workbook at all");
    job.run(&["check", "--in", "job"]).ends(3);
    assert_eq!(job.bytes("offcuts.xlsx"), b"no workbook at all");
}

/// A book of an older plan is never lost without a word: a mistake leaves it and says that it is old; a plan without a place for a part
/// leaves it, too; a whole plan takes it away and says so.
#[test]
fn an_older_book_is_left_or_said() {
    let job = Job::sample("alcove");
    job.run(&["book", "--in", "job", "--effort", "quick"])
        .ends(0);
    let book = job.bytes("made/build-book.pdf");
    let sound = job.read("parts.csv");
    let cut = ["cut", "--in", "job", "--effort", "quick"];
    job.write(
        "parts.csv",
        sound.replacen("left fixed shelf,left,1,", "left fixed shelf,left,-1,", 1),
    );
    let ran = job.run(&cut).ends(3);
    assert!(
        ran.said()
            .contains("made/build-book.pdf is still the book of plan"),
        "{}",
        ran.err
    );
    assert_eq!(job.bytes("made/build-book.pdf"), book);
    // Longer than a sheet is wide and wider than it is long: no place.
    job.write(
        "parts.csv",
        sound.replacen("27 1/16,20,BIR-18", "60,50,BIR-18", 1),
    );
    let ran = job.run(&cut).ends(1);
    assert!(
        ran.said()
            .contains("Left in made/, though of an older plan"),
        "{}",
        ran.err
    );
    assert_eq!(job.bytes("made/build-book.pdf"), book);
    job.write(
        "parts.csv",
        sound.replacen("left fixed shelf,left,1,", "left fixed shelf,left,2,", 1),
    );
    let ran = job.run(&cut).ends(0);
    assert!(
        ran.said()
            .contains("Of an older plan, and taken away: build-book.pdf"),
        "{}",
        ran.err
    );
    assert!(!job.path("made/build-book.pdf").exists());
}
