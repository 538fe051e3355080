//! The README names everything that project.toml may say, and nothing else: held against what the program lists for a name that it
//! does not know.

use crate::job::Job;
use std::collections::BTreeSet;

/// Their names are hers, or those of the tasks that `check --defaults` lists.
const FREE: [&str; 2] = ["[labour.takes]", "[labour.hours]"];

/// Table and names of each row of the section.
fn rows() -> Vec<(String, BTreeSet<String>)> {
    let readme = include_str!("../../README.md");
    let (_, after) = readme.split_once("## Every name").expect("the section");
    let section = after.split("\n## ").next().expect("its text");
    let rows = section.lines().filter(|l| l.starts_with("| `["));
    rows.map(|line| {
        let mut cells = line.trim_matches(['|', ' ']).split(" | ");
        let table = cells.next().expect("a table").trim_matches('`').to_owned();
        let names = cells.next().expect("its names").split(", ");
        (table, names.map(|n| n.trim().to_owned()).collect())
    })
    .collect()
}

/// The names that the program knows there, as it says of one that it does not.
fn known(table: &str) -> BTreeSet<String> {
    let job = Job::sample("bare-list");
    let before = match table {
        "[project]" | "" => "",
        "[[run.box]]" => "[project]\nname = \"x\"\n[[run]]\nroute = \"a\"\n",
        _ => "[project]\nname = \"x\"\n",
    };
    // What is kept clear in a car is asked for where it has a space.
    let behind = if table == "[car]" {
        "[[car.space]]\nwhat = \"boot\"\n"
    } else {
        ""
    };
    job.write(
        "project.toml",
        format!("{before}{table}\nzzqq = 1\n{behind}"),
    );
    let said = job.run(&["check", "--in", "job"]).said();
    let at = said
        .find("has no name zzqq")
        .unwrap_or_else(|| panic!("{table}: {said}"));
    let (_, list) = said[at..].split_once("use one of: ").expect("the names");
    let list = list.split('.').next().expect("their end");
    list.split(", ").map(|n| n.trim().to_owned()).collect()
}

#[test]
fn the_readme_names_what_project_toml_may_say() {
    let rows = rows();
    let inner = |table: &str, name: &str| {
        let plain = table.trim_matches(['[', ']']);
        rows.iter()
            .any(|(t, _)| t.trim_matches(['[', ']']) == format!("{plain}.{name}"))
    };
    for (table, names) in rows.iter().filter(|(t, _)| !FREE.contains(&t.as_str())) {
        let known: BTreeSet<String> = known(table)
            .into_iter()
            .filter(|n| !inner(table, n))
            .collect();
        assert_eq!(&known, names, "{table}");
    }
    // Every table of the file has its row.
    let outer: BTreeSet<String> = rows
        .iter()
        .map(|(t, _)| t.trim_matches(['[', ']']).to_owned())
        .filter(|t| !t.contains('.'))
        .collect();
    assert_eq!(known_tables(), outer);
}

/// The tables of the file itself.
fn known_tables() -> BTreeSet<String> {
    known("")
}
