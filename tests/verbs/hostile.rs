//! Names are shown and never obeyed: control marks and marks that turn the direction, on the terminal, in drawings and in
//! the book; cells that a spreadsheet would run; letters the book's font lacks.

use crate::job::Job;

/// Marks that a terminal or a text system would obey: those of Unicode Standard Annex 9, escape, bell, backspace.
const MARKS: [char; 15] = [
    '\u{1b}', '\u{7}', '\u{8}', '\u{9b}', '\u{200E}', '\u{200F}', '\u{202A}', '\u{202B}',
    '\u{202C}', '\u{202D}', '\u{202E}', '\u{2066}', '\u{2067}', '\u{2069}', '\u{61C}',
];

fn obeyed(text: &str) -> Option<char> {
    text.chars().find(|c| MARKS.contains(c))
}

/// The alcove with such marks in every sort of name.
fn marked() -> Job {
    let marks: String = MARKS.iter().collect();
    let named = |lead: &str| format!("{lead}{marks}x");
    let in_toml: String = MARKS
        .iter()
        .map(|c| format!("\\u{:04X}", *c as u32))
        .collect();
    let job = Job::sample("alcove")
        .change(
            "project.toml",
            "name      = \"Stair-foot",
            &format!("name = \"{in_toml}Stair-foot"),
        )
        .change(
            "project.toml",
            "house     = \"",
            &format!("house = \"{in_toml}"),
        )
        .change(
            "parts.csv",
            "A3,left fixed shelf,left,",
            &format!("{},{},{},", named("A3"), named("shelf"), named("left")),
        )
        .change(
            "parts.csv",
            "run,hat shelf",
            &format!("run,{}", named("hat")),
        )
        .change(
            "stock.csv",
            "\"birch plywood 3/4, paint grade\"",
            &named("ply"),
        )
        .change(
            "stock.csv",
            "the timber yard,edging",
            &format!("{},edging", named("yard")),
        );
    for file in ["stock.csv", "parts.csv"] {
        let text = job.read(file).replace("BIR-6", &named("BIR-6"));
        job.write(file, text);
    }
    job.change(
        "project.toml",
        "back = \"BIR-6\"",
        &format!("back = \"BIR-6{in_toml}x\""),
    )
    .change("offcuts.csv", "BIR-6,", &format!("{},", named("BIR-6")))
    .change("offcuts.csv", "under the bench", &named("bench"))
}

#[test]
fn marks_are_not_obeyed_on_the_terminal() {
    let job = marked();
    for words in [
        &["check", "--defaults"][..],
        &["cut"],
        &["buy"],
        &["compare"],
        &["book"],
        &["rack"],
    ] {
        let mut all = words.to_vec();
        all.extend(["--in", "job"]);
        let ran = job.run(&all).ends(0);
        assert_eq!(obeyed(&ran.out), None, "{words:?} printed {:?}", ran.out);
        assert_eq!(obeyed(&ran.err), None, "{words:?} printed {:?}", ran.err);
    }
    let cut = job.run(&["cut", "--in", "job"]).ends(0);
    assert!(
        cut.out.contains("<U+202E>"),
        "shown by number:\n{}",
        cut.out
    );
    // In what is typed, and in what a mistake quotes.
    let typed = job
        .run(&["cut", "--in", "job", "--route", "a\u{1b}[2J\u{202E}"])
        .ends(2);
    assert_eq!(obeyed(&typed.err), None, "{:?}", typed.err);
    let typed = job
        .run(&["cut", "--in", "no\u{1b}[2J\u{202E}where"])
        .ends(6);
    assert_eq!(obeyed(&typed.err), None, "{:?}", typed.err);
    let out = job
        .run(&["cut", "--in", "job", "--out", "o\u{202E}ut"])
        .ends(0);
    assert_eq!(obeyed(&out.out), None, "{:?}", out.out);
    let job = marked().change(
        "stock.csv",
        "96,48,3/4,23/32",
        "96,48,3/4\u{1b}[2J\u{202E},23/32",
    );
    for verb in ["check", "cut"] {
        let ran = job.run(&[verb, "--in", "job"]).ends(3);
        assert_eq!(obeyed(&ran.out), None, "{:?}", ran.out);
        assert_eq!(obeyed(&ran.err), None, "{:?}", ran.err);
    }
}

#[test]
fn marks_are_not_obeyed_in_drawings_and_in_the_book() {
    let job = marked();
    job.run(&["book", "--in", "job"]).ends(0);
    let made = job.files("made");
    let (mut svgs, mut dxfs) = (0, 0);
    for (name, bytes) in &made {
        let text = String::from_utf8_lossy(bytes);
        if name.ends_with(".svg") {
            svgs += 1;
            assert_eq!(obeyed(&text), None, "{name}");
            assert!(!text.contains("&#"), "{name}: nor by number");
        } else if name.ends_with(".dxf") {
            dxfs += 1;
            assert!(
                bytes
                    .iter()
                    .all(|b| (32..127).contains(b) || [b'\r', b'\n'].contains(b)),
                "{name}"
            );
            assert!(text.ends_with("EOF\r\n"), "{name}");
            for number in ["\\U+202E", "\\U+2067", "\\U+061C", "\\U+200F"] {
                assert!(
                    !text.contains(number),
                    "{name}: {number} would be obeyed by the drawing program"
                );
            }
        } else if name.ends_with(".txt") {
            assert_eq!(obeyed(&text), None, "{name}");
            assert!(text.contains("U+202E"), "shown by number");
        } else if name.ends_with(".pdf") {
            pdf_texts(bytes, &mut |text| {
                assert_eq!(obeyed(text), None, "{name}: {text:?}")
            });
        }
    }
    assert!(svgs > 0 && dxfs > 0);
}

/// Texts that a PDF viewer shows outside the pages (title, bookmarks): hexadecimal strings of UTF-16, ISO 32000-1, 7.9.2.2.
fn pdf_texts(pdf: &[u8], seen: &mut dyn FnMut(&str)) {
    let text = String::from_utf8_lossy(pdf);
    let mut found = 0;
    for part in text.split("<FEFF").skip(1) {
        let hex = part.split('>').next().expect("the rest");
        let units: Vec<u16> = (0..hex.len() / 4)
            .map(|i| u16::from_str_radix(&hex[4 * i..4 * i + 4], 16).expect("hexadecimal"))
            .collect();
        seen(&String::from_utf16_lossy(&units));
        found += 1;
    }
    assert!(found > 0, "a book has bookmarks");
}

#[test]
fn cells_that_a_spreadsheet_would_run_are_text() {
    let job = Job::sample("alcove")
        .change("parts.csv", "A3,left fixed shelf,left", "A3,=1+1,@left")
        .change("parts.csv", "run,hat shelf over the rail", "run,+hat")
        .change(
            "stock.csv",
            "the timber yard,edging",
            "-yard,\"=HYPERLINK(\"\"http://x\"\")\"",
        )
        .change("stock.csv", "iron-on birch banding", "=cmd birch");
    for route in ["custom", "flat-pack"] {
        let text = job.read("project.toml").replace(
            &format!("route = \"{route}\""),
            &format!("route = \"={route}\""),
        );
        job.write("project.toml", text);
    }
    let job = job
        .change("project.toml", "custom = 36.0", "\"=custom\" = 36.0")
        .change("project.toml", "flat-pack = 19.5", "\"=flat-pack\" = 19.5");
    job.run(&["book", "--in", "job"]).ends(0);
    job.run(&["compare", "--in", "job"]).ends(0);
    for (file, holds) in [
        ("made/cut-list.csv", &["'=1+1", "'@left", "'+hat"][..]),
        ("made/buy.csv", &["'-yard", "'=HYPERLINK", "'=cmd"]),
        ("made/compare.csv", &["'=custom"]),
    ] {
        let text = job.read(file);
        for word in holds {
            assert!(text.contains(word), "{file}: {word} is missing\n{text}");
        }
        let mut reader = csv::ReaderBuilder::new()
            .has_headers(false)
            .from_reader(text.as_bytes());
        for record in reader.records() {
            for cell in &record.expect("a table of equal rows") {
                let number = cell.parse::<f64>().is_ok();
                assert!(
                    number || !cell.starts_with(['=', '+', '-', '@', '\t', '\r']),
                    "{file}: {cell:?}"
                );
            }
        }
    }
}

#[test]
fn a_letter_the_font_lacks_is_a_caution() {
    let job = Job::sample("alcove").change("parts.csv", "left fixed shelf", "left \u{68DA} shelf");
    let ran = job.run(&["book", "--in", "job"]).ends(0);
    assert!(ran.said().contains("U+68DA"), "{}", ran.err);
    assert!(
        job.read("made/build-book.txt").contains('\u{68DA}'),
        "the twin has it"
    );
    let plain = Job::sample("alcove").run(&["book", "--in", "job"]).ends(0);
    assert!(!plain.err.contains("U+"), "{}", plain.err);
}
