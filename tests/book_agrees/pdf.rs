//! A small reader of the PDF: page tree, content streams and the ToUnicode maps of its two fonts (ISO 32000-1, 7.3.8, 9.10.3).

use std::collections::BTreeMap;

type Objects<'a> = BTreeMap<usize, &'a [u8]>;

fn find(bytes: &[u8], what: &[u8]) -> Option<usize> {
    bytes.windows(what.len()).position(|w| w == what)
}

fn after<'a>(bytes: &'a [u8], what: &str) -> Option<&'a [u8]> {
    find(bytes, what.as_bytes()).map(|at| &bytes[at + what.len()..])
}

fn number(bytes: &[u8]) -> Option<usize> {
    let text: String = bytes
        .iter()
        .skip_while(|b| **b == b' ')
        .take_while(|b| b.is_ascii_digit())
        .map(|b| *b as char)
        .collect();
    text.parse().ok()
}

/// Objects by number, found through the cross-reference table.
fn objects(file: &[u8]) -> Objects<'_> {
    let tail = &file[file.len().saturating_sub(64)..];
    let start = number(&after(tail, "startxref").expect("startxref")[1..]).expect("an offset");
    let table = String::from_utf8_lossy(&file[start..]);
    let mut all = Objects::new();
    for line in table.lines().take_while(|l| !l.starts_with("trailer")) {
        let fields: Vec<&str> = line.split_whitespace().collect();
        if let [offset, _, "n"] = fields[..] {
            let body = &file[offset.parse::<usize>().expect("an offset")..];
            let rest = after(body, " obj").expect("an object");
            all.insert(number(body).expect("its number"), rest);
        }
    }
    all
}

/// The bytes of a stream, inflated.
fn stream(object: &[u8]) -> Vec<u8> {
    let at = find(object, b"stream").expect("a stream");
    let dict = &object[..at];
    let length = number(after(dict, "/Length ").expect("a length")).expect("a length");
    let body = &object[at + "stream".len()..];
    let body = body.strip_prefix(b"\r").unwrap_or(body);
    let body = &body.strip_prefix(b"\n").unwrap_or(body)[..length];
    if find(dict, b"/FlateDecode").is_some() {
        miniz_oxide::inflate::decompress_to_vec_zlib(body).expect("deflated bytes")
    } else {
        body.to_vec()
    }
}

fn hex(text: &str) -> Vec<u16> {
    let figures: Vec<char> = text.chars().collect();
    figures
        .chunks(4)
        .map(|c| u16::from_str_radix(&c.iter().collect::<String>(), 16).expect("hex"))
        .collect()
}

/// From the numbers in a content stream to letters: `<0012> <0031>` of a bfchar block, three of a bfrange block.
fn to_unicode(map: &str) -> BTreeMap<u16, String> {
    let mut letters = BTreeMap::new();
    for line in map.lines().filter(|l| l.starts_with('<')) {
        let codes: Vec<Vec<u16>> = line
            .split(['<', '>'])
            .filter(|p| !p.trim().is_empty())
            .map(hex)
            .collect();
        let said = |c: &[u16]| String::from_utf16(c).expect("letters");
        match &codes[..] {
            [from, to] if !line.contains("FFFF") => {
                letters.insert(from[0], said(to));
            }
            [from, last, to] => {
                for n in from[0]..=last[0] {
                    letters.insert(n, said(&[to[0] + (n - from[0])]));
                }
            }
            _ => {}
        }
    }
    letters
}

/// Lines of text on each page, in the order they are painted.
pub(crate) fn pages(file: &[u8]) -> Vec<Vec<String>> {
    let all = objects(file);
    let end = |o: &[u8]| find(o, b"endobj").unwrap_or(o.len());
    let text = |n: usize| String::from_utf8_lossy(&all[&n][..end(all[&n])]).into_owned();
    let mut fonts: BTreeMap<String, BTreeMap<u16, String>> = BTreeMap::new();
    for object in all.values() {
        let object = &object[..end(object)];
        if let Some(map) = after(object, "/ToUnicode ").and_then(number) {
            let name = after(object, "/BaseFont/").expect("a name");
            let name: String = name
                .iter()
                .take_while(|b| **b != b'/')
                .map(|b| *b as char)
                .collect();
            fonts.insert(
                name,
                to_unicode(&String::from_utf8_lossy(&stream(all[&map]))),
            );
        }
    }
    assert!(
        fonts.len() == 2 && fonts.values().all(|m| m.len() > 20),
        "two fonts with their letters"
    );
    let root = all
        .values()
        .find(|o| find(&o[..end(o)], b"/Type/Pages").is_some())
        .expect("pages");
    let kids = String::from_utf8_lossy(after(root, "/Kids[").expect("kids")).into_owned();
    let kids = kids.split(']').next().expect("kids").replace(" 0 R", "");
    kids.split_whitespace()
        .map(|kid| {
            let page = text(kid.parse().expect("a number"));
            let content =
                number(after(page.as_bytes(), "/Contents ").expect("contents")).expect("contents");
            lines(
                &String::from_utf8(stream(all[&content])).expect("operators"),
                &fonts,
            )
        })
        .collect()
}

fn lines(content: &str, fonts: &BTreeMap<String, BTreeMap<u16, String>>) -> Vec<String> {
    let (mut all, mut line, mut font) = (Vec::new(), String::new(), None);
    for operator in content.lines() {
        if operator == "BT" {
            line.clear();
        } else if operator.ends_with(" Tf") {
            font = fonts.get(
                operator
                    .trim_start_matches('/')
                    .split(' ')
                    .next()
                    .expect("a font"),
            );
        } else if let Some(shown) = operator.strip_suffix(" Tj") {
            let map = font.expect("a font before text");
            for code in hex(shown.trim_matches(['<', '>'])) {
                line.push_str(
                    map.get(&code)
                        .unwrap_or_else(|| panic!("no letter for {code:04X}")),
                );
            }
        } else if operator == "ET" {
            all.push(line.clone());
        }
    }
    all
}
