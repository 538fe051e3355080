//! Random and mutated files through the readers: whatever the bytes, a problem or a job, never a panic. The plain run reads
//! 10 000 of them, 2 000 of each kind; `NOOKWRIGHT_LONG=1` reads 10 000 of each.

use super::fixture::{Files, OFFCUTS, PARTS, PREFAB, PROJECT, STOCK};
use super::zip::{row, xlsx};
use crate::files::read::{BareOptions, Reads, read_bare, read_folder};
use crate::model::Severity;
use crate::units::Unit;
use proptest::prelude::*;

fn cases(plain: u32) -> ProptestConfig {
    let long = std::env::var_os("NOOKWRIGHT_LONG").is_some();
    ProptestConfig {
        cases: if long { 10_000 } else { plain },
        failure_persistence: None,
        ..ProptestConfig::default()
    }
}

/// Pieces that readers trip over.
const SHARP: &[&str] = &[
    "\"",
    "\"\"",
    ",",
    ";",
    "\t",
    "\r",
    "\n",
    "\r\n",
    "=",
    "-",
    "/",
    " ",
    "?",
    "4-Mar",
    "1/0",
    "1/64",
    "99999999999999999999",
    "0",
    "-0",
    "1e308",
    "NaN",
    "\u{FEFF}",
    "\u{202E}",
    "\0",
    "\u{1F600}",
    "\u{BD}",
    "'",
    "\u{2019}\u{2019}",
    "[",
    "]",
    "[[",
    "]]",
    "{",
    "}",
    "#",
    "\\",
    "full",
    "shy",
    "nominal",
    "x",
    "%",
    "1,250",
    "sep=;",
    "PK\u{3}\u{4}",
    "100 m",
    "100000 m",
    "x0+y0",
    "promised to",
    "\u{130}",
];

const FILES: [(&str, &str); 5] = [
    ("project.toml", PROJECT),
    ("parts.csv", PARTS),
    ("stock.csv", STOCK),
    ("prefab.csv", PREFAB),
    ("offcuts.csv", OFFCUTS),
];

#[derive(Clone, Debug)]
enum Change {
    Flip(usize, u8),
    Cut(usize, usize),
    Put(usize, usize),
    Double(usize, usize),
    Swap(usize, usize),
}

fn change() -> impl Strategy<Value = Change> {
    let at = 0_usize..6_000;
    prop_oneof![
        (at.clone(), any::<u8>()).prop_map(|(a, b)| Change::Flip(a, b)),
        (at.clone(), 1_usize..40).prop_map(|(a, b)| Change::Cut(a, b)),
        (at.clone(), 0..SHARP.len()).prop_map(|(a, b)| Change::Put(a, b)),
        (at.clone(), 1_usize..60).prop_map(|(a, b)| Change::Double(a, b)),
        (at.clone(), at).prop_map(|(a, b)| Change::Swap(a, b)),
    ]
}

fn apply(bytes: &mut Vec<u8>, change: &Change) {
    let len = bytes.len();
    if len == 0 {
        return;
    }
    match change {
        Change::Flip(at, byte) => bytes[at % len] = *byte,
        Change::Cut(at, many) => drop(bytes.drain(at % len..(at % len + many).min(len))),
        Change::Put(at, which) => drop(bytes.splice(at % len..at % len, SHARP[*which].bytes())),
        Change::Double(at, many) => {
            let piece = bytes[at % len..(at % len + many).min(len)].to_vec();
            drop(bytes.splice(at % len..at % len, piece));
        }
        Change::Swap(a, b) => bytes.swap(a % len, b % len),
    }
}

/// Reads and holds the answer against what every answer must be; `twice`, to see that the second is the same.
fn hold(files: &Files, twice: bool) -> Result<(), TestCaseError> {
    let dir = tempfile::tempdir().expect("a folder for the test");
    files.write(dir.path());
    for reads in [Reads::EVERYTHING, Reads::SURVEY] {
        let read = read_folder(dir.path(), &reads).expect("the files are there");
        let mistakes = read
            .problems
            .iter()
            .filter(|p| p.severity == Severity::Mistake)
            .count();
        prop_assert_eq!(read.job.is_none(), mistakes > 0);
        for problem in &read.problems {
            prop_assert!(
                !problem.why.is_empty() && !problem.fix.is_empty() && !problem.expected.is_empty(),
                "{:?}",
                problem
            );
            if let (Some(line), Some((start, _))) = (&problem.spot.line, problem.spot.caret) {
                prop_assert!(start <= line.chars().count(), "{:?}", problem);
                prop_assert!(line.chars().count() <= 96, "{:?}", problem);
            }
        }
        if twice {
            let again = read_folder(dir.path(), &reads).expect("the files are there");
            prop_assert_eq!(read.problems, again.problems);
        }
    }
    Ok(())
}

proptest! {
    #![proptest_config(cases(2_000))]

    #[test]
    fn mutated_files_never_panic(which in 0_usize..5, changes in prop::collection::vec(change(), 1..8)) {
        let (name, text) = FILES[which];
        let mut bytes = text.as_bytes().to_vec();
        for change in &changes {
            apply(&mut bytes, change);
        }
        hold(&Files::sound().set(name, bytes), false)?;
    }

    #[test]
    fn random_bytes_never_panic(which in 0_usize..5, bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        hold(&Files::sound().set(FILES[which].0, bytes), false)?;
    }

    #[test]
    fn sharp_pieces_never_panic(which in 0_usize..5, pieces in prop::collection::vec(0..SHARP.len(), 0..60), headed in any::<bool>()) {
        let (name, text) = FILES[which];
        let heading = if headed { text.lines().next().unwrap_or_default() } else { "" };
        let body: String = pieces.iter().map(|i| SHARP[*i]).collect();
        hold(&Files::sound().set(name, format!("{heading}\n{body}")), true)?;
    }

    #[test]
    fn cells_of_any_text_never_panic(cells in prop::collection::vec("\\PC{0,12}", 14), mm in any::<bool>()) {
        let quoted: Vec<String> = cells.iter().map(|c| format!("\"{}\"", c.replace('"', "\"\""))).collect();
        let heading = PARTS.lines().next().unwrap_or_default();
        let dir = tempfile::tempdir().expect("a folder for the test");
        let path = dir.path().join("list.csv");
        std::fs::write(&path, format!("{heading}\n{}\n", quoted.join(","))).expect("written");
        let options = BareOptions { unit: if mm { Unit::Mm } else { Unit::Inch }, ..BareOptions::default() };
        let read = read_bare(&path, None, &options).expect("the file is there");
        prop_assert!(read.job.is_some() || !read.problems.is_empty());
    }

    #[test]
    fn mutated_workbooks_never_panic(changes in prop::collection::vec(change(), 1..6)) {
        let mut bytes = xlsx(&(row(1, &["mark", "what", "how_many", "length", "width", "item"]) + &row(2, &["A", "b", "1", "20", "10", "BIR-18"])));
        for change in &changes {
            apply(&mut bytes, change);
        }
        // The zip and XML readers may give up with a panic of their own, which the reader catches; keep it off the page.
        let files = Files::sound().without("parts.csv").set("parts.xlsx", bytes);
        hold(&files, false)?;
    }
}
