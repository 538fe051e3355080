//! Paints a display list as a standalone SVG file, one user unit to the millimetre. Owns escaping. Must not measure anything:
//! lengths of text are written down, so another font takes the same room.

use super::font::{Weight, visible};
use super::list::{Fill, Item, Pen, Point, hatch_lines};
use super::text::{Text, Turn, em};
use std::fmt::Write;

/// Escapes text for XML, in content and in quoted values.
fn escape(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            '\'' => safe.push_str("&#39;"),
            _ => safe.push(letter),
        }
    }
    safe
}

/// A number of millimetres, to a hundredth, without idle zeros.
fn mm(value: f64) -> String {
    let text = format!("{value:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" {
        "0".into()
    } else {
        text.into()
    }
}

fn places(points: &[Point]) -> String {
    let all: Vec<String> = points
        .iter()
        .map(|p| format!("{},{}", mm(p.x), mm(p.y)))
        .collect();
    all.join(" ")
}

fn paint(fill: Fill, pen: Option<Pen>) -> String {
    let fill = fill.lightness().map_or_else(
        || "none".into(),
        |l| {
            let v = (l * 255.0).round() as u8;
            format!("#{v:02x}{v:02x}{v:02x}")
        },
    );
    let mut style = format!(" fill=\"{fill}\"");
    if let Some(pen) = pen {
        let width = mm(pen.painted());
        let _ = write!(style, " stroke=\"#000000\" stroke-width=\"{width}\"");
        let dashes: Vec<String> = pen.dash.pattern().iter().map(|l| mm(*l)).collect();
        if !dashes.is_empty() {
            let _ = write!(style, " stroke-dasharray=\"{}\"", dashes.join(" "));
        }
    }
    style
}

/// Paints items on a page of that size.
pub fn to_svg(items: &[Item], size: [f64; 2], title: &str) -> String {
    let (w, h) = (mm(size[0]), mm(size[1]));
    let mut out = format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n\
         <svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{w}mm\" height=\"{h}mm\" viewBox=\"0 0 {w} {h}\" role=\"img\" \
         font-family=\"'DejaVu Sans Condensed','DejaVu Sans','Verdana',sans-serif\">\n\
         <title>{}</title>\n<rect width=\"{w}\" height=\"{h}\" fill=\"#ffffff\"/>\n",
        escape(&visible(title))
    );
    for item in items {
        item_to(&mut out, item);
    }
    out.push_str("</svg>\n");
    out
}

fn item_to(out: &mut String, item: &Item) {
    match item {
        Item::Line { points, pen } => {
            let style = paint(Fill::None, Some(*pen));
            let _ = writeln!(out, "<polyline points=\"{}\"{style}/>", places(points));
        }
        Item::Polygon { points, fill, pen } => {
            let style = paint(*fill, *pen);
            let _ = writeln!(out, "<polygon points=\"{}\"{style}/>", places(points));
        }
        Item::Rect { area, fill, pen } => {
            let _ = writeln!(
                out,
                "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"{}/>",
                mm(area.x),
                mm(area.y),
                mm(area.w),
                mm(area.h),
                paint(*fill, *pen)
            );
        }
        Item::Circle {
            centre,
            radius,
            fill,
            pen,
        } => {
            let _ = writeln!(
                out,
                "<circle cx=\"{}\" cy=\"{}\" r=\"{}\"{}/>",
                mm(centre.x),
                mm(centre.y),
                mm(*radius),
                paint(*fill, *pen)
            );
        }
        Item::Hatch { area, pitch } => {
            let mut path = String::new();
            for [a, b] in hatch_lines(*area, *pitch) {
                let _ = write!(path, "M{} {}L{} {}", mm(a.x), mm(a.y), mm(b.x), mm(b.y));
            }
            let style = paint(Fill::None, Some(Pen::solid(super::list::THINNEST)));
            let _ = writeln!(out, "<path d=\"{path}\"{style}/>");
        }
        Item::Text(text) => text_to(out, text),
        // A page by itself has nowhere to lead to.
        Item::Link { .. } => {}
    }
}

fn text_to(out: &mut String, text: &Text) {
    let weight = if text.weight == Weight::Bold {
        " font-weight=\"bold\""
    } else {
        ""
    };
    let turn = if text.turn == Turn::Up {
        format!(
            " transform=\"rotate(-90 {} {})\"",
            mm(text.at.x),
            mm(text.at.y)
        )
    } else {
        String::new()
    };
    let _ = write!(out, "<text xml:space=\"preserve\"{weight}{turn}>");
    for run in &text.runs {
        let x = text.at.x - text.before_anchor() + run.along;
        let _ = write!(
            out,
            "<tspan x=\"{}\" y=\"{}\" font-size=\"{}\" textLength=\"{}\" lengthAdjust=\"spacingAndGlyphs\">{}</tspan>",
            mm(x),
            mm(text.at.y - run.raise),
            mm(em(run.size)),
            mm(run.width),
            escape(&run.text)
        );
    }
    out.push_str("</text>\n");
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::draw::Drawing;
    use crate::book::draw::list::pt;

    /// XML 1.0 (W3C), 2.4: `<` and `&` may not stand in content, quotes not in quoted values.
    #[test]
    fn names_are_escaped() {
        let mut drawing = Drawing::new();
        let name = "</text><script>alert(\"1\")</script> & 'x'";
        drawing.say(pt(1.0, 5.0), 2.5, Weight::Regular, name);
        let svg = to_svg(&drawing.items, [100.0, 10.0], name);
        assert!(!svg.contains("<script"));
        assert!(svg.contains("&lt;script&gt;alert(&quot;1&quot;)"));
        assert_eq!(svg.matches("<text").count(), 1);
        assert!(svg.contains("viewBox=\"0 0 100 10\""));
        // XML 1.0, 2.2: of the control marks only tab and line ends may stand in a document.
        let svg = to_svg(&[], [1.0, 1.0], "a\u{1b}\u{202E}b");
        assert!(svg.contains("<title>a\u{2039}U+001B\u{203A}\u{2039}U+202E\u{203A}b</title>"));
    }
}
