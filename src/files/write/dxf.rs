//! A sheet as a drawing for other programs: ASCII DXF of release 12, the plainest that everything reads. LINE, POLYLINE
//! and TEXT only, always in millimetres, which is said in a comment and on the drawing.
//!
//! Source: the published DXF reference, release 12 (group codes 0, 2, 6, 8, 10-31, 40, 50, 62, 66, 70, 999).

use crate::model::{SheetPlan, is_hidden};
use crate::units::{Length, Tape, Unit};
use std::fmt::Write;

/// Layers and their colour numbers. Never colour alone: each kind of line has its own layer.
const LAYERS: [(&str, u8); 6] = [
    ("SHEET", 7),
    ("CLEAN", 8),
    ("PARTS", 5),
    ("CUTS", 1),
    ("LEFT", 3),
    ("NOTES", 7),
];

struct Drawing {
    out: String,
    tape: Tape,
}

/// One layout as DXF. `title` names plan and sheet.
pub fn sheet_dxf(sheet: &SheetPlan, title: &str) -> String {
    let mut d = Drawing {
        out: String::new(),
        tape: Tape::usual(Unit::Mm),
    };
    d.pair(999, "All sizes in millimetres.");
    d.pair(999, &safe_text(title));
    d.pair(0, "SECTION");
    d.pair(2, "HEADER");
    d.pair(9, "$ACADVER");
    d.pair(1, "AC1009");
    d.pair(0, "ENDSEC");
    d.tables();
    d.pair(0, "SECTION");
    d.pair(2, "ENTITIES");
    let [length, width] = sheet.size;
    let [x0, x1, y0, y1] = sheet.clean_edge;
    d.rectangle("SHEET", [Length::ZERO, Length::ZERO, length, width]);
    d.rectangle("CLEAN", [x0, y0, length - x1, width - y1]);
    for p in &sheet.places {
        let corners = [p.at[0], p.at[1], p.at[0] + p.size[0], p.at[1] + p.size[1]];
        d.rectangle("PARTS", corners);
        let height = (p.size[0].min(p.size[1]) / 6)
            .min(Length::mm(25))
            .max(Length::mm(3));
        d.text(
            "PARTS",
            [p.at[0] + height, p.at[1] + height],
            height,
            &p.mark,
        );
    }
    for l in sheet.left.iter().filter(|l| l.keep) {
        d.rectangle(
            "LEFT",
            [l.at[0], l.at[1], l.at[0] + l.size[0], l.at[1] + l.size[1]],
        );
    }
    for c in &sheet.cuts {
        let [ax, ay, bx, by] = c.of;
        if c.across {
            d.line("CUTS", [c.at, ay, c.at, by]);
        } else {
            d.line("CUTS", [ax, c.at, bx, c.at]);
        }
    }
    let says = format!(
        "{title} - {} x {} mm, make {} - ALL SIZES IN MILLIMETRES",
        d.tape.print_exact(length),
        d.tape.print_exact(width),
        sheet.count
    );
    d.text(
        "NOTES",
        [Length::ZERO, width + Length::mm(20)],
        Length::mm(20),
        &says,
    );
    d.pair(0, "ENDSEC");
    d.pair(0, "EOF");
    d.out
}

impl Drawing {
    fn pair(&mut self, code: u16, value: &str) {
        let _ = write!(self.out, "{code:>3}\r\n{value}\r\n"); // writing to a String cannot fail
    }
    fn number(&mut self, code: u16, value: Length) {
        let text = self.tape.print_exact(value);
        self.pair(code, &text);
    }
    fn tables(&mut self) {
        self.pair(0, "SECTION");
        self.pair(2, "TABLES");
        self.pair(0, "TABLE");
        self.pair(2, "LTYPE");
        self.pair(70, "1");
        for (code, value) in [
            (0, "LTYPE"),
            (2, "CONTINUOUS"),
            (70, "64"),
            (3, "Solid line"),
            (72, "65"),
            (73, "0"),
            (40, "0.0"),
        ] {
            self.pair(code, value);
        }
        self.pair(0, "ENDTAB");
        self.pair(0, "TABLE");
        self.pair(2, "LAYER");
        self.pair(70, &LAYERS.len().to_string());
        for (name, colour) in LAYERS {
            self.pair(0, "LAYER");
            self.pair(2, name);
            self.pair(70, "0");
            self.pair(62, &colour.to_string());
            self.pair(6, "CONTINUOUS");
        }
        self.pair(0, "ENDTAB");
        self.pair(0, "ENDSEC");
    }
    fn point(&mut self, x: Length, y: Length, first: u16) {
        self.number(first, x);
        self.number(first + 10, y);
        self.pair(first + 20, "0");
    }
    fn line(&mut self, layer: &str, [ax, ay, bx, by]: [Length; 4]) {
        self.pair(0, "LINE");
        self.pair(8, layer);
        self.point(ax, ay, 10);
        self.point(bx, by, 11);
    }
    /// A closed polyline.
    fn rectangle(&mut self, layer: &str, [ax, ay, bx, by]: [Length; 4]) {
        self.pair(0, "POLYLINE");
        self.pair(8, layer);
        self.pair(66, "1");
        self.point(Length::ZERO, Length::ZERO, 10);
        self.pair(70, "1");
        for (x, y) in [(ax, ay), (bx, ay), (bx, by), (ax, by)] {
            self.pair(0, "VERTEX");
            self.pair(8, layer);
            self.point(x, y, 10);
        }
        self.pair(0, "SEQEND");
        self.pair(8, layer);
    }
    fn text(&mut self, layer: &str, [x, y]: [Length; 2], height: Length, text: &str) {
        self.pair(0, "TEXT");
        self.pair(8, layer);
        self.point(x, y, 10);
        self.number(40, height);
        self.pair(1, &safe_text(text));
    }
}

/// Text that a drawing program shows and does not obey: one line, no `%%` signs, no carets, letters beyond ASCII by number
/// (`\U+00E9` is drawn as the letter), marks that would steer the text by a number that is drawn as it stands.
fn safe_text(text: &str) -> String {
    let mut out = String::new();
    for c in text.chars() {
        match c {
            '%' => out.push_str("%%%"), // one per cent sign
            '^' => out.push_str("^ "),
            '\\' => out.push_str("\\U+005C"), // her own must not begin such a number
            ' '..='~' => out.push(c),
            c if is_hidden(c) => {
                let _ = write!(out, "<U+{:04X}>", c as u32);
            }
            c => {
                let mut units = [0; 2];
                for u in c.encode_utf16(&mut units) {
                    let _ = write!(out, "\\U+{u:04X}");
                }
            }
        }
    }
    out.chars().take(240).collect() // release 12 reads 255 characters of a text
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::{Cut, Place};

    fn sheet(mark: &str) -> SheetPlan {
        SheetPlan {
            item: "PLY".into(),
            rack: None,
            count: 2,
            size: [Length::inches(96), Length::inches(48)],
            clean_edge: [Length::in_64(8); 4],
            places: vec![Place {
                mark: mark.into(),
                at: [Length::in_64(8), Length::in_64(8)],
                size: [Length::inches(20), Length::inches(10)],
                turned: false,
            }],
            left: Vec::new(),
            cuts: vec![Cut {
                n: 1,
                across: true,
                at: Length::in_64(8 + 20 * 64),
                of: [
                    Length::in_64(8),
                    Length::in_64(8),
                    Length::in_64(95 * 64),
                    Length::in_64(47 * 64),
                ],
                kerf: None,
                saw: None,
            }],
        }
    }

    /// Release 12: group code and value in turn on lines of their own, from SECTION to EOF, with known entities only.
    #[test]
    fn it_is_pairs_of_code_and_value() {
        let text = sheet_dxf(&sheet("L1"), "plan 7C41, sheet 1");
        let lines: Vec<&str> = text.split("\r\n").collect();
        assert_eq!(lines.last(), Some(&""));
        let lines = &lines[..lines.len() - 1];
        assert_eq!(lines.len() % 2, 0);
        let mut sections = 0;
        for pair in lines.chunks(2) {
            let code: u16 = pair[0].trim().parse().expect("a group code");
            assert!(text.is_ascii());
            match (code, pair[1]) {
                (0, "SECTION") => sections += 1,
                (0, "ENDSEC") => sections -= 1,
                (0, name) => assert!(
                    [
                        "LINE", "POLYLINE", "VERTEX", "SEQEND", "TEXT", "TABLE", "ENDTAB", "LTYPE",
                        "LAYER", "EOF"
                    ]
                    .contains(&name),
                    "{name}"
                ),
                (10..=39, value) => assert!(value.parse::<f64>().is_ok(), "{value}"),
                _ => {}
            }
        }
        assert_eq!(sections, 0);
        assert_eq!(lines[lines.len() - 1], "EOF");
        assert!(text.contains("999\r\nAll sizes in millimetres."));
        assert!(text.contains("ALL SIZES IN MILLIMETRES"));
        assert!(text.contains("2438.4"), "96 in is 2438.4 mm");
    }

    #[test]
    fn names_are_shown_and_not_obeyed() {
        let text = sheet_dxf(&sheet("A%%u\r\n  0\r\nEOF^J\u{e9}"), "t");
        assert_eq!(text.matches("\r\nEOF\r\n").count(), 1);
        let shown = "A%%%%%%u<U+000D><U+000A>  0<U+000D><U+000A>EOF^ J\\U+00E9";
        assert!(text.contains(shown), "{text}");
        // Neither a mark that turns the direction nor its number, typed as such, reaches the program as one.
        let text = sheet_dxf(&sheet("A\u{202E}B\\U+202E"), "t");
        assert!(text.contains("A<U+202E>B\\U+005CU+202E"), "{text}");
    }
}
