//! Mistakes in the tables that are more than one cell, and all of all files at once.

use super::fixture::{Files, cautions, mistakes};

const PARTS: &str = "parts.csv";
const STOCK: &str = "stock.csv";
const PREFAB: &str = "prefab.csv";
const RACK: &str = "offcuts.csv";

#[test]
fn a_missing_price_is_no_mistake() {
    let read = Files::sound()
        .change(STOCK, "1,82.00,75.00,95.00", "1,,,")
        .read();
    assert!(read.problems.is_empty(), "{:#?}", read.problems);
    assert_eq!(
        read.job
            .expect("a job")
            .stock_row("BIR-18")
            .expect("a row")
            .price,
        None
    );
}

#[test]
fn a_list_of_too_many_pieces_is_refused() {
    let read = Files::sound()
        .change(PARTS, "A1,tall side,tall,2", "A1,tall side,tall,60000")
        .change(PARTS, "A2,tall shelf,tall,4", "A2,tall shelf,tall,60000")
        .read();
    let mistakes = mistakes(&read);
    assert_eq!(mistakes.len(), 1, "{mistakes:#?}");
    assert!(mistakes[0].why.contains("100000 pieces"));
    assert_eq!(
        (mistakes[0].spot.row, mistakes[0].spot.column.as_deref()),
        (Some(3), Some("how_many"))
    );
}

#[test]
fn all_mistakes_of_all_files_come_at_once() {
    let read = Files::sound()
        .change("project.toml", "kerf = \"1/8\"", "kerf = 1/8")
        .change("project.toml", "[finish]", "[finnish]")
        .change(PARTS, "A1,tall side,tall,2", "A1,tall side,tall,0")
        .change(PARTS, "B2,hang top", "B1,hang top")
        .change(STOCK, "60,60,3/4", "60,60,4-Mar")
        .change(STOCK, "1,31.25,", "1,31,25,")
        .change(PREFAB, "20,80,22,18 3/4", "20,80,22,20 1/4")
        .change(RACK, "x0+y0", "west")
        .read();
    let places: Vec<(&str, Option<usize>)> = mistakes(&read)
        .iter()
        .map(|p| (p.spot.file.as_str(), p.spot.row))
        .collect();
    let line = |text: &str| {
        super::fixture::PROJECT
            .lines()
            .position(|l| l == text)
            .expect("a line")
            + 1
    };
    assert_eq!(
        places,
        [
            ("project.toml", Some(line("kerf = \"1/8\""))),
            ("project.toml", Some(line("[finish]"))),
            (STOCK, Some(3)),
            (STOCK, Some(4)),
            (PREFAB, Some(2)),
            (PARTS, Some(2)),
            (PARTS, Some(6)),
            (RACK, Some(2)),
        ]
    );
    assert!(read.job.is_none());
}

#[test]
fn the_caret_stands_under_the_cell() {
    let read = Files::sound()
        .change(STOCK, "60,60,3/4", "60,60,4-Mar")
        .read();
    let spot = &mistakes(&read)[0].spot;
    let (start, length) = spot.caret.expect("a caret");
    let line: Vec<char> = spot.line.as_ref().expect("a line").chars().collect();
    assert_eq!(
        line[start..start + length].iter().collect::<String>(),
        "4-Mar"
    );
}

#[test]
fn the_caret_stands_under_a_cell_far_along_a_long_line() {
    let long = format!("A1,{},tall,0", "very long name ".repeat(40));
    let read = Files::sound()
        .change(PARTS, "A1,tall side,tall,2", &long)
        .read();
    let spot = &mistakes(&read)[0].spot;
    let (start, length) = spot.caret.expect("a caret");
    let line: Vec<char> = spot.line.as_ref().expect("a line").chars().collect();
    assert!(line.len() < 96);
    assert_eq!(line[start..start + length].iter().collect::<String>(), "0");
}

#[test]
fn files_that_are_missing_or_doubled() {
    let read = Files::sound().without(STOCK).read();
    assert!(
        mistakes(&read)
            .iter()
            .any(|p| p.spot.file == STOCK && p.found == "no file")
    );
    let read = Files::sound()
        .without(RACK)
        .without(PREFAB)
        .change(
            "project.toml",
            "units = [\"FR-20\", \"FR-26\"]\nextras = { \"SH-20\" = 3 }",
            "",
        )
        .read();
    assert!(read.job.is_some(), "{:#?}", read.problems);
    let read = Files::sound().set("parts.tsv", "mark\n").read();
    assert!(
        mistakes(&read)
            .iter()
            .any(|p| p.found == "parts.csv and parts.tsv"),
        "{:#?}",
        read.problems
    );
    let read = Files::sound().set(PARTS, "").read();
    assert!(
        mistakes(&read)
            .iter()
            .any(|p| p.spot.file == PARTS && p.found == "an empty file")
    );
    let read = Files::sound()
        .set(PARTS, "mark,what,how_many,length,width,item\n")
        .read();
    assert!(
        cautions(&read)
            .iter()
            .any(|p| p.spot.file == PARTS && p.found == "no rows")
    );
}

#[test]
fn an_open_quote_is_named_with_its_row() {
    let read = Files::sound()
        .change(PARTS, "B1,hang side", "B1,\"hang side")
        .read();
    let first = mistakes(&read)[0];
    assert_eq!(
        (first.spot.row, first.found.as_str()),
        (Some(5), "an open quote mark")
    );
    assert_eq!(first.spot.column.as_deref(), Some("what"));
}

/// The next mark opens a cell of a later row: to the letter it closes the first, and the rows between would be gone unsaid.
#[test]
fn a_quote_that_a_later_row_closes_swallows_nothing() {
    let both = [
        // What follows the mark of the later row runs on, or its mark stands before a separator.
        ("birch ply 1/4,", "\"satin varnish\","),
        ("birch ply 1/4,", "satin varnish\","),
    ];
    for (opens, closes) in both {
        let read = Files::sound()
            .change(STOCK, opens, &format!("\"{opens}"))
            .change(STOCK, "satin varnish,", closes)
            .change(STOCK, "CLAMP,tool", "CLAMP,toool")
            .read();
        let said: Vec<_> = mistakes(&read)
            .iter()
            .map(|p| {
                let column = p.spot.column.clone().unwrap_or_default();
                (p.spot.row.unwrap_or(0), column, p.found.clone())
            })
            .collect();
        let own = |row, column: &str, found: &str| (row, column.to_owned(), found.to_owned());
        assert_eq!(
            said,
            [
                own(4, "what", "an open quote mark"),
                own(9, "kind", "toool")
            ],
            "{:#?}",
            read.problems
        );
    }
}

/// A note of several lines with commas in it is hers.
#[test]
fn a_note_of_several_lines_is_one_cell() {
    let read = Files::sound()
        .change(
            PARTS,
            "\"loose, one spare\"",
            "\"loose,\none, or two, spare\"",
        )
        .read();
    assert!(read.problems.is_empty(), "{:#?}", read.problems);
}

#[test]
fn thousands_of_open_quotes_end() {
    let read = Files::sound().set(
        STOCK,
        "item,kind\n".to_owned() + &"\"A\n\"B,C\n".repeat(20_000),
    );
    let read = read.read();
    let open = mistakes(&read)
        .iter()
        .filter(|p| p.found == "an open quote mark")
        .count();
    assert_eq!(open, 20);
}

#[test]
fn a_table_without_its_prices_is_said() {
    for (to, found) in [
        ("sold_by,holds,prise", "prise"),
        ("sold_by,holds,price today", "price today"),
        ("sold_by,holds,about", "no such column"),
    ] {
        let read = Files::sound()
            .change(STOCK, "sold_by,holds,price", to)
            .read();
        let said = cautions(&read);
        assert!(!said.is_empty(), "nothing is said of {found:?}");
        assert_eq!(
            (said[0].spot.file.as_str(), said[0].found.as_str()),
            (STOCK, found)
        );
        assert!(said[0].expected.contains("price"));
    }
}

/// Each change splits prices of one row; what else is wrong in that row must still be said, and nothing that is right.
#[test]
fn what_follows_a_split_number_is_read_on() {
    let places = |from: &str, to: &str| -> Vec<(String, String)> {
        let read = Files::sound().change(STOCK, from, to).read();
        let place = |p: &&crate::model::Problem| {
            let column = p.spot.column.clone().unwrap_or_default();
            (column, p.found.clone())
        };
        mistakes(&read).iter().map(place).collect()
    };
    let own = |all: &[(&str, &str)]| -> Vec<(String, String)> {
        let own = |(a, b): &(&str, &str)| ((*a).to_owned(), (*b).to_owned());
        all.iter().map(own).collect()
    };
    let row = ",1,82.00,75.00,95.00,2026-08-30,1,,Ferncliff Timber,racks,0,,,";
    for (to, found) in [
        (
            ",1,82,00,75.00,95.00,2026-08-30,1,,Ferncliff Timber,racks,0,,,",
            &[("price", "82,00")][..],
        ),
        (
            ",1,82,00,75.00,95.00,30 Aug,1,,Ferncliff Timber,racks,soon,,,",
            &[
                ("price", "82,00"),
                ("priced_on", "30 Aug"),
                ("lead_days", "soon"),
            ],
        ),
        (
            ",1,82,00,75,00,95,00,2026-08-30,1,,Ferncliff Timber,racks,soon,,,",
            &[
                ("price", "82,00"),
                ("price_low", "75,00"),
                ("price_high", "95,00"),
                ("lead_days", "soon"),
            ],
        ),
        (
            ",1,82.00,75.00,95,00,2026-08-30,-1,,Ferncliff Timber,racks,0,,,",
            &[("price_high", "95,00"), ("have", "-1")],
        ),
        (
            ",1,1,060.00,75.00,95.00,2026-08-30,1,,Ferncliff Timber,racks,soon,,,",
            &[("price", "1,060.00"), ("lead_days", "soon")],
        ),
        // Whole prices beside a split one: which of them it was cannot be told, so no price is judged.
        (
            ",1,82,50,75,95,2026-08-30,1,,Ferncliff Timber,racks,soon,,,",
            &[("price", "82,50"), ("lead_days", "soon")],
        ),
    ] {
        assert_eq!(places(row, to), own(found), "{to}");
    }
    // Before it, too.
    let found = places(
        "BIR-60,sheet,\"birch ply 3/4, clear\",60,60,3/4,23/32,length,each,1,64.50,",
        "BIR-60,shet,\"birch ply 3/4, clear\",60,60,4-Mar,23/32,length,each,1,64,50,",
    );
    assert_eq!(
        found,
        own(&[("price", "64,50"), ("kind", "shet"), ("thick", "4-Mar")])
    );
}

/// A text with a comma and no quote marks: it is named with what to type, and the rest of the row is still read.
#[test]
fn a_text_in_pieces_is_named_and_the_row_read_on() {
    let found = |file: &str, from: &str, to: &str| -> Vec<(String, String, String)> {
        let read = Files::sound().change(file, from, to).read();
        let each = mistakes(&read).into_iter().map(|p| {
            let column = p.spot.column.clone().unwrap_or_default();
            (column, p.found.clone(), p.fix.clone())
        });
        each.collect()
    };
    let only = |all: &[(String, String, String)]| -> Vec<(String, String)> {
        all.iter().map(|(c, f, _)| (c.clone(), f.clone())).collect()
    };
    let pair = |c: &str, f: &str| (c.to_owned(), f.to_owned());

    // In the middle: a date for 3/4 further on is said too.
    let all = found(
        STOCK,
        "\"birch ply 3/4, clear\",96,48,3/4,23/32",
        "birch ply 3/4, clear,96,48,4-Mar,23/32",
    );
    assert_eq!(
        only(&all),
        [pair("what", "birch ply 3/4, clear"), pair("thick", "4-Mar")]
    );
    assert_eq!(
        all[0].2,
        "type \"birch ply 3/4, clear\", quote marks and all."
    );

    // At the end, with two commas.
    let all = found(PARTS, "\"loose, one spare\"", "loose, one spare, sanded");
    assert_eq!(only(&all), [pair("note", "loose, one spare, sanded")]);

    // Without a blank it cannot be told which of two texts it was, and none of them is judged.
    let all = found(
        PARTS,
        "A1,tall side,tall,2,80,23",
        "A1,tall,side,tall,2,8o,23",
    );
    assert_eq!(only(&all)[1..], [pair("length", "8o")]);
    assert!(all[0].2.contains("quote marks"), "{all:?}");
}
