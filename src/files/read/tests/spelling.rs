//! The same table saved in other ways: separators, line ends, encodings, headings, blank rows and columns.

use super::fixture::{Files, PARTS, STOCK, cautions, mistakes};
use crate::files::read::{Encoding, LineEnd};
use crate::model::PartSize;
use crate::units::Length;

fn same_parts(files: &Files) {
    let read = files.read();
    assert_eq!(mistakes(&read), Vec::<&crate::model::Problem>::new());
    let sound = Files::sound().read().job.expect("a job").parts;
    assert_eq!(read.job.expect("a job").parts, sound);
}

#[test]
fn separators_and_line_ends() {
    // The fixture has one cell with a comma in it, quoted; with other separators the quotes do no harm.
    for (from, to) in [(",", ";"), (",", "\t")] {
        let quoted = PARTS.replace("\"loose, one spare\"", "loose");
        let other = quoted.replace(from, to);
        let read = Files::sound().set("parts.csv", other).read();
        assert_eq!(mistakes(&read), Vec::<&crate::model::Problem>::new());
        assert_eq!(
            read.tables.parts.expect("a table").separator.to_string(),
            to
        );
    }
    same_parts(&Files::sound().set("parts.csv", PARTS.replace('\n', "\r\n")));
    same_parts(&Files::sound().set("parts.csv", PARTS.replace('\n', "\r")));
    same_parts(
        &Files::sound().without("parts.csv").set(
            "parts.tsv",
            PARTS
                .replace("\"loose, one spare\"", "loose; one spare")
                .replace(',', "\t")
                .replace("loose; one spare", "loose, one spare"),
        ),
    );
    let read = Files::sound()
        .set("parts.csv", format!("sep=,\n{PARTS}").replace('\n', "\r\n"))
        .read();
    let table = read.tables.parts.expect("a table");
    assert!(table.separator_line && table.line_end == LineEnd::CrLf && table.ends_with_line_end);
}

#[test]
fn encodings() {
    let mut marked = vec![0xEF, 0xBB, 0xBF];
    marked.extend(PARTS.as_bytes());
    same_parts(&Files::sound().set("parts.csv", marked));
    let utf16 = |high_first: bool| {
        let mut bytes = if high_first {
            vec![0xFE, 0xFF]
        } else {
            vec![0xFF, 0xFE]
        };
        for unit in PARTS.encode_utf16() {
            bytes.extend(if high_first {
                unit.to_be_bytes()
            } else {
                unit.to_le_bytes()
            });
        }
        bytes
    };
    same_parts(&Files::sound().set("parts.csv", utf16(true)));
    same_parts(&Files::sound().set("parts.csv", utf16(false)));
    // 0xBD is one half in Windows-1252 (WHATWG index), 0x94 a closing curly quote.
    let mut old = PARTS.replace("80,23,BIR-18", "80,23@,BIR-18").into_bytes();
    for byte in old.iter_mut().filter(|b| **b == b'@') {
        *byte = 0xBD;
    }
    let read = Files::sound().set("parts.csv", old).read();
    assert!(
        cautions(&read)
            .iter()
            .any(|p| p.found.contains("not UTF-8"))
    );
    assert_eq!(
        read.tables.parts.as_ref().expect("a table").encoding,
        Encoding::Windows1252
    );
    let job = read.job.expect("a job");
    assert_eq!(
        job.parts[0].size,
        PartSize::Panel {
            length: Length::inches(80),
            width: Length::in_64(23 * 64 + 32)
        }
    );
}

#[test]
fn headings_spelt_in_other_ways() {
    let heading =
        "Mark,Name,Box,Qty,LENGTH,Width,Material,Grain,Band,Band in size,Spare,Keep,From,Notes";
    let read = Files::sound()
        .set(
            "parts.csv",
            PARTS.replacen(PARTS.lines().next().expect("a line"), heading, 1),
        )
        .read();
    assert_eq!(mistakes(&read), Vec::<&crate::model::Problem>::new());
    let said: Vec<&str> = read.problems.iter().map(|p| p.found.as_str()).collect();
    // Capitals and blanks are no other spelling; another word is.
    assert_eq!(said, ["Name", "Qty", "Material", "Notes"]);
    assert!(
        read.problems
            .iter()
            .all(|p| p.spot.row == Some(1) && p.why.contains("read as"))
    );
}

#[test]
fn headings_that_are_not_known() {
    let read = Files::sound()
        .change("parts.csv", "length,width,item", "lenght,width,item")
        .read();
    let found = mistakes(&read);
    assert_eq!(found.len(), 1, "{found:#?}");
    assert_eq!(
        (found[0].spot.row, found[0].spot.column.as_deref()),
        (Some(1), Some("lenght"))
    );
    assert!(found[0].fix.contains("did you mean length"));
    let read = Files::sound()
        .change("parts.csv", ",item,grain", ",thing,grain")
        .read();
    assert!(
        mistakes(&read)
            .iter()
            .any(|p| p.spot.column.as_deref() == Some("item") && p.spot.row == Some(1))
    );
    let read = Files::sound()
        .change("parts.csv", ",spare,", ",spar,")
        .read();
    assert!(
        cautions(&read)
            .iter()
            .any(|p| p.fix.contains("did you mean spare"))
    );
    let read = Files::sound()
        .change("parts.csv", ",spare,", ",colour,")
        .read();
    assert!(
        read.problems.is_empty(),
        "an unknown column is carried: {:#?}",
        read.problems
    );
    let read = Files::sound()
        .change("parts.csv", ",spare,", ",width,")
        .read();
    assert!(
        mistakes(&read)
            .iter()
            .any(|p| p.why.contains("both mean width"))
    );
}

#[test]
fn blank_rows_and_columns_change_nothing_but_the_count() {
    let spaced = PARTS.replacen("A2,", "\n,,,,,,,,,,,,,\nA2,", 1);
    let read = Files::sound().set("parts.csv", spaced).read();
    assert_eq!(mistakes(&read), Vec::<&crate::model::Problem>::new());
    let rows: Vec<usize> = read
        .job
        .expect("a job")
        .parts
        .iter()
        .map(|p| p.row)
        .collect();
    assert_eq!(rows, [2, 5, 6, 7, 8, 9]);
    let wide: String = STOCK.lines().map(|l| format!("{l},,\r\n")).collect();
    let read = Files::sound().set("stock.csv", wide).read();
    assert!(read.problems.is_empty(), "{:#?}", read.problems);
}

#[test]
fn a_cell_with_line_breaks_is_one_row() {
    let read = Files::sound()
        .change(
            "parts.csv",
            "\"loose, one spare\"",
            "\"loose,\none\r\nspare\"",
        )
        .read();
    let job = read.job.expect("a job");
    assert_eq!(job.parts[1].note, "loose, one spare");
    assert_eq!(job.parts[2].row, 4);
}

#[test]
fn marks_that_cannot_be_seen_do_no_harm() {
    let odd = PARTS
        .replace("80,23,", "\u{A0}80 , 23\u{A0},")
        .replace("24 1/2", "24\u{A0}1/2")
        .replace("22 3/4", "22 3/4\u{201D}");
    same_parts(&Files::sound().set("parts.csv", odd));
}

#[test]
fn a_decimal_comma_is_read_only_where_it_is_clear() {
    let mm = |sep: char| {
        let list = "mark;what;how_many;length;width;item\nA;side;2;1800,5;590;BIR-18\n"
            .replace(';', &sep.to_string());
        let toml = super::fixture::PROJECT.replace("units = \"inch\"", "units = \"mm\"");
        let toml = toml.replace("tape = \"1/16\"", "tape = \"1 mm\"");
        Files::sound()
            .set("project.toml", toml)
            .set("parts.csv", list)
            .read()
    };
    let read = mm(';');
    let parts = &read.tables.parts.as_ref().expect("a table").rows;
    assert_eq!(parts.len(), 1);
    assert!(
        !mistakes(&read).iter().any(|p| p.spot.file == "parts.csv"),
        "{:#?}",
        read.problems
    );
    let inch = "mark;what;how_many;length;width;item\nA;side;2;80,5;23;BIR-18\n";
    let read = Files::sound().set("parts.csv", inch).read();
    assert!(
        mistakes(&read)
            .iter()
            .any(|p| p.found == "80,5" && p.fix.contains("80.5")),
        "{:#?}",
        read.problems
    );
}

#[test]
fn shared_files_give_way_to_the_jobs_own() {
    let dir = tempfile::tempdir().expect("a folder");
    let (job, store) = (dir.path().join("job"), dir.path().join("store"));
    std::fs::create_dir_all(&job).expect("made");
    std::fs::create_dir_all(&store).expect("made");
    let toml = format!(
        "{}\n[files]\nstock = \"../store/stock.csv\"\n",
        super::fixture::PROJECT
    );
    let own = STOCK
        .lines()
        .take(2)
        .collect::<Vec<_>>()
        .join("\n")
        .replace("82.00", "79.00");
    Files::sound()
        .set("project.toml", toml)
        .set("stock.csv", own)
        .write(&job);
    std::fs::write(store.join("stock.csv"), STOCK).expect("written");
    let read = super::super::read_folder(&job, &super::super::Reads::EVERYTHING).expect("read");
    assert_eq!(mistakes(&read), Vec::<&crate::model::Problem>::new());
    let job = read.job.expect("a job");
    assert_eq!(job.stock.len(), 9);
    let row = job.stock_row("BIR-18").expect("a row");
    assert_eq!(
        (row.price.map(|p| p.likely.0), row.file.as_str()),
        (Some(7900), "stock.csv")
    );
    assert_eq!(
        job.stock_row("VARN").expect("a row").file,
        "../store/stock.csv"
    );
}

/// A heading with its unit is no known one, since the sizes below it would be read in the project's; one mistake each says so.
#[test]
fn a_heading_with_a_unit_is_named_once() {
    let read = Files::sound()
        .change(
            "parts.csv",
            "how_many,length,width",
            "how_many,Length (in),Width mm",
        )
        .read();
    let found: Vec<(&str, bool)> = (read.problems.iter())
        .filter(|p| p.spot.file == "parts.csv")
        .map(|p| (p.found.as_str(), p.fix.contains("[project] units")))
        .collect();
    assert_eq!(found, [("Length (in)", true), ("Width mm", true)]);
}
