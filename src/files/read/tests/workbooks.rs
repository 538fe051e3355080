//! Workbooks in the place of text tables.

use super::fixture::{Files, mistakes};
use super::zip::{ods, parts_of_xlsx, row, xlsx, zip};
use crate::model::PartSize;
use crate::units::Length;

const HEADING: [&str; 6] = ["mark", "what", "how_many", "length", "width", "item"];

fn with_parts(name: &'static str, bytes: Vec<u8>) -> Files {
    Files::sound().without("parts.csv").set(name, bytes)
}

fn list(cells: [&str; 6]) -> String {
    // A blank row between, as the spreadsheet shows it.
    row(1, &HEADING) + &row(3, &cells)
}

#[test]
fn numbers_and_texts_are_read_as_they_are_seen() {
    let cells = [
        "A1",
        "side",
        "<c r=\"@\"><v>2</v></c>",
        "<c r=\"@\"><v>80</v></c>",
        "<c r=\"@\"><v>22.75</v></c>",
        "BIR-18",
    ];
    let read = with_parts("parts.xlsx", xlsx(&list(cells))).read();
    assert_eq!(mistakes(&read), Vec::<&crate::model::Problem>::new());
    let part = &read.job.expect("a job").parts[0];
    assert_eq!((part.how_many, part.row), (2, 3));
    assert_eq!(
        part.size,
        PartSize::Panel {
            length: Length::inches(80),
            width: Length::in_64(22 * 64 + 48)
        }
    );
    assert!(read.tables.parts.expect("a table").workbook);
}

#[test]
fn a_date_cell_is_rescued_like_a_date_in_a_text_table() {
    // 46085 is 2026-03-04 in the 1900 date system (ECMA-376, part 1, 18.17.4.1): 3/4 was typed.
    let cells = [
        "A1",
        "side",
        "2",
        "80",
        "<c r=\"@\" s=\"1\"><v>46085</v></c>",
        "BIR-18",
    ];
    let read = with_parts("parts.xlsx", xlsx(&list(cells))).read();
    let found = mistakes(&read);
    assert_eq!(found.len(), 1, "{found:#?}");
    assert!(found[0].why.contains("(3/4)"), "{found:#?}");
    assert_eq!(
        (found[0].spot.row, found[0].spot.column.as_deref()),
        (Some(3), Some("width"))
    );
}

#[test]
fn sums_that_failed_or_have_no_value_are_named() {
    for (cell, says) in [
        (
            "<c r=\"@\" t=\"e\"><f>B9</f><v>#REF!</v></c>",
            "could not work this out",
        ),
        ("<c r=\"@\"><f>B9*2</f></c>", "A sum stands here"),
    ] {
        let read = with_parts(
            "parts.xlsx",
            xlsx(&list(["A1", "side", "2", "80", cell, "BIR-18"])),
        )
        .read();
        let found = mistakes(&read);
        assert!(
            found.len() == 1 && found[0].why.contains(says),
            "{found:#?}"
        );
    }
    let worked = "<c r=\"@\"><f>B9*2</f><v>23</v></c>";
    let read = with_parts(
        "parts.xlsx",
        xlsx(&list(["A1", "side", "2", "80", worked, "BIR-18"])),
    )
    .read();
    assert!(read.job.is_some(), "{:#?}", read.problems);
}

#[test]
fn an_ods_workbook_is_read_too() {
    let text = |t: &str| {
        format!(
            "<table:table-cell office:value-type=\"string\"><text:p>{t}</text:p></table:table-cell>"
        )
    };
    let number = |n: &str| {
        format!(
            "<table:table-cell office:value-type=\"float\" office:value=\"{n}\"><text:p>{n}</text:p></table:table-cell>"
        )
    };
    let date = "<table:table-cell office:value-type=\"date\" office:date-value=\"2026-03-04\"><text:p>4-Mar</text:p></table:table-cell>";
    let heading: String = HEADING.iter().map(|h| text(h)).collect();
    let sheet = |width: &str| {
        let cells = [
            text("A1"),
            text("side"),
            number("2"),
            number("80"),
            width.to_owned(),
            text("BIR-18"),
        ]
        .concat();
        ods(&format!(
            "<table:table-row>{heading}</table:table-row><table:table-row>{cells}</table:table-row><table:table-row table:number-rows-repeated=\"1048000\"><table:table-cell table:number-columns-repeated=\"16384\"/></table:table-row>"
        ))
    };
    let read = with_parts("parts.ods", sheet(&number("22.75"))).read();
    assert_eq!(mistakes(&read), Vec::<&crate::model::Problem>::new());
    let size = PartSize::Panel {
        length: Length::inches(80),
        width: Length::in_64(22 * 64 + 48),
    };
    assert_eq!(read.job.expect("a job").parts[0].size, size);
    let read = with_parts("parts.ods", sheet(date)).read();
    assert!(
        mistakes(&read).iter().any(|p| p.why.contains("(3/4)")),
        "{:#?}",
        read.problems
    );
}

#[test]
fn damaged_locked_and_swollen_workbooks_are_mistakes() {
    let good = xlsx(&list(["A1", "side", "2", "80", "23", "BIR-18"]));
    let cases: [(Vec<u8>, &str); 5] = [
        (b"not a workbook".to_vec(), "damaged"),
        (good[..good.len() / 2].to_vec(), "damaged"),
        (
            vec![0xD0, 0xCF, 0x11, 0xE0, 0xA1, 0xB1, 0x1A, 0xE1],
            "locked",
        ),
        (
            zip(&parts_of_xlsx(&row(1, &HEADING)), Some(60_000_000)),
            "50 MB",
        ),
        (xlsx(""), "empty sheet"),
    ];
    for (bytes, says) in cases {
        let read = with_parts("parts.xlsx", bytes).read();
        assert!(
            mistakes(&read)
                .iter()
                .any(|p| p.spot.file == "parts.xlsx" && p.found.contains(says)),
            "{says}: {:#?}",
            read.problems
        );
    }
    // A part that says it is small and is not: the reader stops where it passes what it said.
    let liar = zip(
        &parts_of_xlsx(&list(["A1", "side", "2", "80", "23", "BIR-18"])),
        Some(10),
    );
    assert!(
        mistakes(&with_parts("parts.xlsx", liar).read())
            .iter()
            .any(|p| p.found.contains("damaged"))
    );
    // One cell far out makes no large table.
    let far = xlsx("<row r=\"1048576\"><c r=\"XFD1048576\"><v>1</v></c></row>");
    assert!(
        mistakes(&with_parts("parts.xlsx", far).read())
            .iter()
            .any(|p| p.found.contains("cells in one row"))
    );
    let read = Files::sound().set("parts.csv", good).read();
    assert!(mistakes(&read).iter().any(|p| p.found == "a workbook"));
}
