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
        for verb in ["buy", "book", "rack"] {
            job.run(&[verb, "--in", "job"]).ends(0);
        }
        // It lists no paint yet, and the cheaper route is painted: no verdict without its price.
        let compared = job.run(&["compare", "--in", "job"]).ends(5).said();
        assert!(
            compared.contains("no row for what route flat-pack needs: bonding primer"),
            "{compared}"
        );
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

/// The lines that `start` leaves behind a # are sound as soon as readings stand in them, and the boxes drawn for them follow the run.
#[test]
fn the_lines_left_for_readings_can_be_used_as_they_stand() {
    let job = Job::empty();
    job.run(&["start", "job"]).ends(0);
    let filled = |table: &str, line: &str| -> String {
        let value = |key: &str, text: &str| format!("{key} = {text}");
        let key = line.split('=').next().unwrap_or_default().trim();
        match key {
            "apart" => value(key, "\"60\""),
            "left_gap" | "right_gap" => value(key, r#"["1", "1", "1", "1", "1"]"#),
            "width" if table == "[opening.tape]" => value(key, r#"["62", "62", "62", "62", "62"]"#),
            "diagonal" => String::new(),
            "width" | "height" if table == "[[opening.way_in]]" => value(key, "\"96\""),
            "from_left" if table == "[[opening.studs]]" => line.to_owned(),
            "width" | "height" | "thick" | "up" if table.starts_with("[[") => value(key, "\"4\""),
            "from_left" => value(key, "\"20\""),
            "down_to_floor" => value(key, r#"{ left = "40", middle = "40", right = "40" }"#),
            "up_to_ceiling" => value(key, r#"{ left = "56", middle = "56", right = "56" }"#),
            "depth" => value(key, r#"{ left = "24", middle = "24", right = "24" }"#),
            _ => line.to_owned(),
        }
    };
    // What is a line of the file behind its #: a table, or a key with a value.
    let is_line = |text: &str| {
        text.starts_with('[')
            || text.split_once('=').is_some_and(|(key, _)| {
                let key = key.trim();
                !key.is_empty() && key.chars().all(|c| c.is_ascii_lowercase() || c == '_')
            })
    };
    let (mut in_opening, mut table, mut lines) = (false, String::new(), Vec::new());
    for line in job.read("project.toml").lines() {
        match line.strip_prefix("# ") {
            Some(text) if is_line(text) && (text.starts_with("[opening") || in_opening) => {
                in_opening = true;
                if text.starts_with('[') {
                    text.split('#')
                        .next()
                        .unwrap_or_default()
                        .trim()
                        .clone_into(&mut table);
                }
                lines.push(filled(&table, text));
            }
            _ => {
                in_opening &= line.starts_with('#');
                lines.push(line.to_owned());
            }
        }
    }
    job.write("project.toml", &(lines.join("\n") + "\n"));
    let survey = job.run(&["survey", "--in", "job", "--json"]).ends(0).json();
    assert_eq!(
        survey["largest_box"]["width"],
        62 * 254 * 8_000,
        "60 between the lines and 1 on either side"
    );
    // The tables for what is on the walls and on the way were read with the rest.
    let fit = job.run(&["fit", "--in", "job", "--json"]).json();
    let text = fit.to_string();
    for word in ["outlet", "back door", "hall ceiling"] {
        assert!(text.contains(word), "{word}: {text}");
    }
    let compared = job.run(&["compare", "--in", "job"]);
    let said = compared
        .err
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ");
    assert!(said.contains("Route custom draws no strips"), "{said}");
    // The boxes are drawn once, written down once, and every row of them is cut once; they follow the run when it changes.
    let rows = |job: &Job| -> Vec<(String, u64)> {
        let doc = job.run(&["parts", "--in", "job", "--json"]).ends(0).json();
        let list = doc["rows"].as_array().expect("rows").clone();
        let row = |r: &serde_json::Value| {
            let text = r["mark"].as_str().expect("a mark").to_owned();
            (text, r["how_many"].as_u64().expect("a count"))
        };
        list.iter().map(row).collect()
    };
    let before = rows(&job);
    job.run(&["parts", "--write", "--in", "job"]).ends(0);
    let drawn = job.read("parts.csv");
    assert!(
        drawn.contains(",run,") && !drawn.contains(",hand,"),
        "{drawn}"
    );
    assert_eq!(rows(&job), before);
    let plan = job.run(&["cut", "--in", "job", "--json"]).ends(0).json();
    for (mark, n) in &before {
        let sheets = plan["sheets"].as_array().expect("sheets");
        let on = |s: &serde_json::Value| -> u64 {
            let places = s["places"].as_array().expect("places");
            let ours = places.iter().filter(|p| p["mark"] == mark.as_str());
            ours.count() as u64 * s["count"].as_u64().expect("a count")
        };
        assert_eq!(sheets.iter().map(on).sum::<u64>(), *n, "{mark}");
    }
    let taller = job
        .read("project.toml")
        .replace("box_height = \"72\"", "box_height = \"80\"");
    job.write("project.toml", &taller);
    // What is only added leaves the old sizes: that is said, with what brings them up to date.
    let written = job.run(&["parts", "--write", "--in", "job"]).ends(0);
    assert!(written.out.contains("parts --redraw"), "{}", written.out);
    assert_eq!(job.read("parts.csv"), drawn);
    let redrawn = job.run(&["parts", "--redraw", "--in", "job"]).ends(0);
    assert!(
        redrawn.out.contains("parts.csv is changed"),
        "{}",
        redrawn.out
    );
    assert_ne!(job.read("parts.csv"), drawn);
    job.run(&["cut", "--in", "job"]).ends(0);
}

/// A size mistyped in the cut list, and a row lost: every verb that plans on it says so, and a row kept as hers is not asked about.
#[test]
fn a_cut_list_out_of_step_with_its_runs_is_said() {
    let sound = Job::sample("alcove");
    let said = |job: &Job, verb: &str| job.run(&[verb, "--in", "job"]).ends(0).said();
    assert!(!said(&sound, "check").contains("not what the runs draw"));
    let row = "A1,left side,left,2,86,";
    let list = sound.read("parts.csv");
    let at = list.find(row).expect("the row of the left side");
    let line = list[at..].lines().next().expect("a line");
    let wrong = line.replacen(",86,", ",68,", 1);
    let mistyped = Job::sample("alcove").change("parts.csv", line, &wrong);
    for verb in ["check", "cut", "book"] {
        let mut said = said(&mistyped, verb);
        if verb == "book" {
            said = mistyped.read("made/build-book.txt");
        }
        let flat = said.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(
            flat.contains("parts.csv is not what the runs draw: A1 left side."),
            "{verb}: {flat}"
        );
    }
    let lost = Job::sample("alcove").change("parts.csv", &format!("{line}\n"), "");
    let flat = said(&lost, "check")
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ");
    assert!(flat.contains("left side is missing"), "{flat}");
}

/// The list she threw away, or emptied to begin again, is no list of rows she took out one by one.
#[test]
fn a_list_that_was_taken_away_is_drawn_anew() {
    let job = Job::empty();
    job.run(&["start", "job"]).ends(0);
    let write = || job.run(&["parts", "--write", "--in", "job"]).ends(0);
    write();
    let first = job.read("parts.csv");
    assert!(first.lines().count() > 2, "{first}");
    let heading = first.lines().next().expect("a heading").to_owned();
    std::fs::remove_file(job.path("parts.csv")).expect("taken away");
    let said = write().said();
    assert!(!said.contains("took it out"), "{said}");
    assert_eq!(job.read("parts.csv"), first);
    job.write("parts.csv", format!("{heading}\n"));
    let said = write().said();
    assert!(!said.contains("took it out"), "{said}");
    assert_eq!(job.read("parts.csv"), first);
    // One row taken out of a list that stands is still hers.
    let (last, _) = first.trim_end().rsplit_once('\n').expect("rows");
    job.write("parts.csv", format!("{last}\n"));
    assert!(write().said().contains("took it out"));
    assert_eq!(job.read("parts.csv"), format!("{last}\n"));
}
