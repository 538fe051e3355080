//! The text twin: the same sections as plain text of at most 96 columns, for whoever cannot see the drawings. Owns the
//! layout of letters in columns; must not leave out a block.

use super::block::{Align, Block, Cell, Figure, Row, Section, Table, share};
use super::draw::{visible, words};
use super::pages::stationery::printed;
use unicode_width::UnicodeWidthStr;

/// The most columns.
const WIDE: usize = 96;

/// All sections as text.
pub(super) fn twin(head: &[String], sections: &[Section]) -> String {
    let mut out = String::new();
    for line in head {
        for part in fold(line, WIDE) {
            push(&mut out, &part);
        }
    }
    for section in sections {
        push(&mut out, "");
        let title = if section.title.is_empty() {
            &section.bookmark
        } else {
            &section.title
        };
        for line in fold(&title.to_uppercase(), WIDE) {
            push(&mut out, &line);
        }
        push(&mut out, &"=".repeat(title.width().clamp(4, WIDE)));
        for block in &section.blocks {
            block_to(&mut out, block);
        }
    }
    out
}

fn push(out: &mut String, line: &str) {
    out.push_str(line.trim_end());
    out.push('\n');
}

/// Breaks text at spaces, never between a whole number and its fraction; a longer word is broken where it must be.
fn fold(text: &str, most: usize) -> Vec<String> {
    let most = most.max(4);
    let (mut lines, mut line) = (Vec::new(), String::new());
    for word in words(&visible(text)) {
        if !line.is_empty() && line.width() + 1 + word.width() > most {
            lines.push(std::mem::take(&mut line));
        }
        if !line.is_empty() {
            line.push(' ');
        }
        for letter in word.chars() {
            let mut buffer = [0; 4];
            if line.width() + letter.encode_utf8(&mut buffer).width() > most {
                lines.push(std::mem::take(&mut line));
            }
            line.push(letter);
        }
    }
    if !line.is_empty() || lines.is_empty() {
        lines.push(line);
    }
    lines
}

fn block_to(out: &mut String, block: &Block) {
    match block {
        Block::Heading(text) => {
            push(out, "");
            for line in fold(text, WIDE) {
                push(out, &line);
            }
            push(out, &"-".repeat(text.width().clamp(4, WIDE)));
        }
        Block::Say(say) => {
            let lead = if say.lead.is_empty() {
                String::new()
            } else {
                format!("{} ", visible(&say.lead))
            };
            let hang = lead.width().min(WIDE / 2);
            for (i, line) in fold(&say.text, WIDE - hang).iter().enumerate() {
                let before = if i == 0 {
                    lead.clone()
                } else {
                    " ".repeat(hang)
                };
                push(out, &format!("{before}{line}"));
            }
        }
        Block::Table(table) => {
            push(out, "");
            table_to(out, table);
        }
        Block::Figure(figure) => figure_to(out, figure),
        Block::Beside(figure, blocks) => {
            figure_to(out, figure);
            for block in blocks {
                block_to(out, block);
            }
        }
        Block::Gap(_) => push(out, ""),
        Block::Labels(sheet) => {
            for label in &sheet.labels {
                for line in fold(&printed(label, sheet.room).join(" | "), WIDE) {
                    push(out, &line);
                }
            }
        }
    }
}

fn figure_to(out: &mut String, figure: &Figure) {
    for line in &figure.twin {
        for part in fold_indented(line) {
            push(out, &part);
        }
    }
}

/// Keeps the spaces a line starts with.
fn fold_indented(line: &str) -> Vec<String> {
    let indent = line.len() - line.trim_start_matches(' ').len();
    let indent = indent.min(WIDE / 2);
    fold(line, WIDE - indent)
        .into_iter()
        .map(|l| format!("{}{l}", " ".repeat(indent)))
        .collect()
}

fn words_of(cell: Option<&Cell>) -> Vec<String> {
    match cell {
        Some(Cell::Text(text)) => vec![visible(text)],
        Some(Cell::Lines(lines)) => lines.iter().map(|l| visible(l)).collect(),
        Some(Cell::Tick) => vec!["[ ]".into()],
        Some(Cell::Blank) => vec!["________".into()],
        None => Vec::new(),
    }
}

fn table_to(out: &mut String, table: &Table) {
    let room = WIDE.saturating_sub(2 * table.cols.len().saturating_sub(1)) as f64;
    let (mut least, mut wish) = (Vec::new(), Vec::new());
    for (i, col) in table.cols.iter().enumerate() {
        let mut widest = col.head.width();
        let mut word = col
            .head
            .split(' ')
            .map(UnicodeWidthStr::width)
            .max()
            .unwrap_or(0);
        for row in &table.rows {
            for line in words_of(row.cells.get(i)) {
                widest = widest.max(line.width());
                let longest = words(&line).iter().map(|w| w.width()).max();
                word = word.max(longest.unwrap_or(0));
            }
        }
        wish.push((widest as f64).min(room));
        let word = if col.kept { widest } else { word };
        least.push((word as f64).min(room * 0.32).max(1.0));
    }
    let widths: Vec<usize> = share(&least, &wish, room)
        .into_iter()
        .map(|w| (w.floor() as usize).max(1))
        .collect();
    let head = Row::of(
        table
            .cols
            .iter()
            .map(|c| Cell::Text(c.head.clone()))
            .collect(),
    );
    if table.cols.iter().any(|c| !c.head.is_empty()) {
        row_to(out, table, &widths, &head);
        let whole = widths.iter().sum::<usize>() + 2 * widths.len().saturating_sub(1);
        push(out, &"-".repeat(whole.min(WIDE)));
    }
    for row in &table.rows {
        if !row.group.is_empty() {
            for line in fold(&row.group, WIDE) {
                push(out, &line);
            }
        }
        if !row.cells.is_empty() {
            row_to(out, table, &widths, row);
        }
        if !row.note.is_empty() {
            for line in fold(&row.note, WIDE - 4) {
                push(out, &format!("    {line}"));
            }
        }
    }
    push(out, "");
}

fn row_to(out: &mut String, table: &Table, widths: &[usize], row: &Row) {
    let cells: Vec<Vec<String>> = widths
        .iter()
        .enumerate()
        .map(|(i, width)| {
            words_of(row.cells.get(i))
                .iter()
                .filter(|l| !l.is_empty())
                .flat_map(|l| fold(l, *width))
                .collect()
        })
        .collect();
    let lines = cells.iter().map(Vec::len).max().unwrap_or(0);
    for k in 0..lines {
        let mut line = String::new();
        for (i, ((cell, width), col)) in cells.iter().zip(widths).zip(&table.cols).enumerate() {
            let text = cell.get(k).map_or("", String::as_str);
            let space = " ".repeat(width.saturating_sub(text.width()));
            if i > 0 {
                line.push_str("  ");
            }
            match col.align {
                Align::Right => line.push_str(&(space + text)),
                Align::Left | Align::Centre => line.push_str(&(text.to_owned() + &space)),
            }
        }
        push(out, &line);
    }
}
