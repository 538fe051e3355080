//! The plan of the house, held against the code: a room imports only from the floors below it, and the floor-2 rooms do
//! not know each other. Changing the house means changing this list and DEVELOPERS.md together.

use std::collections::BTreeMap;
use std::path::Path;

/// Rooms and the floor each stands on.
const FLOORS: &[(&str, u8)] = &[
    ("units", 0),
    ("model", 1),
    ("solve", 1),
    ("sheets", 2),
    ("sticks", 2),
    ("opening", 2),
    ("boxes", 2),
    ("finish", 2),
    ("mixes", 2),
    ("trim", 2),
    ("car", 2),
    ("costs", 2),
    ("referee", 2),
    ("files", 3),
    ("plan", 3),
    ("book", 4),
    ("cli", 5),
];

/// Edges between rooms of one floor that are meant: model's types carry units (floor 0) only, and no other is allowed.
const ALLOWED_SIDEWAYS: &[(&str, &str)] = &[];

fn each_source(dir: &Path, seen: &mut dyn FnMut(&Path, &str)) {
    let mut entries: Vec<_> = std::fs::read_dir(dir)
        .expect("source folder")
        .map(|e| e.expect("entry").path())
        .collect();
    entries.sort();
    for path in entries {
        if path.is_dir() {
            each_source(&path, seen);
        } else if path.extension().is_some_and(|e| e == "rs") {
            seen(&path, &std::fs::read_to_string(&path).expect("source file"));
        }
    }
}

#[test]
fn imports_go_down_only() {
    let floors: BTreeMap<_, _> = FLOORS.iter().copied().collect();
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let (mut wrong, mut edges) = (Vec::new(), 0);
    for (room, floor) in FLOORS {
        each_source(&root.join(room), &mut |path, text| {
            for line in text.lines().filter(|l| !l.trim_start().starts_with("//")) {
                for to in line
                    .match_indices("crate::")
                    .map(|(i, m)| &line[i + m.len()..])
                {
                    let to: String = to
                        .chars()
                        .take_while(|c| c.is_alphanumeric() || *c == '_')
                        .collect();
                    let Some(to_floor) = floors.get(to.as_str()) else {
                        continue;
                    };
                    if to == *room {
                        continue;
                    }
                    edges += 1;
                    if to_floor >= floor && !ALLOWED_SIDEWAYS.contains(&(room, to.as_str())) {
                        wrong.push(format!(
                            "{}: {room} (floor {floor}) imports {to} (floor {to_floor})",
                            path.display()
                        ));
                    }
                }
            }
        });
    }
    assert!(edges > 0, "the check has stopped seeing imports");
    assert!(
        wrong.is_empty(),
        "imports go down only:\n{}",
        wrong.join("\n")
    );
}

#[test]
fn the_referee_knows_data_types_only() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/referee");
    each_source(&root, &mut |path, text| {
        for line in text.lines().filter(|l| !l.trim_start().starts_with("//")) {
            for to in line
                .match_indices("crate::")
                .map(|(i, m)| &line[i + m.len()..])
            {
                let ok = ["model", "units", "referee"]
                    .iter()
                    .any(|r| to.starts_with(r));
                assert!(ok, "{}: the referee imports {to}", path.display());
            }
        }
    });
}

#[test]
fn only_one_file_names_the_pdf_crate_and_only_the_edges_print() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    each_source(&root, &mut |path, text| {
        let name = path
            .strip_prefix(&root)
            .expect("below src")
            .to_string_lossy()
            .replace('\\', "/");
        let code: Vec<&str> = text
            .lines()
            .filter(|l| !l.trim_start().starts_with("//"))
            .collect();
        if name != "book/draw/pdf.rs" {
            assert!(
                !code.iter().any(|l| l.contains("printpdf")),
                "{name} names the PDF crate"
            );
        }
        // Long measurements in tests print their tables.
        let tests = name.ends_with("tests.rs") || name.contains("/tests/");
        if !(name.starts_with("cli/") || name == "main.rs" || tests) {
            let prints = code
                .iter()
                .any(|l| l.contains("println!(") || l.contains("print!(") && !l.contains("sprint"));
            assert!(!prints, "{name} prints");
        }
    });
}
