//! Tables on paper: column widths, wrapped cells, heads repeated over page breaks, tables side by side. Owns the look of a
//! row; must not know what it says. Nothing is shrunk to fit: words wrap, rows that are taller than a page run over.

use super::block::{Align, Cell, Row, Table, share};
use super::draw::{Area, Drawing, Item, Pen, Weight, pt, text_width, wrap};
use super::layout::Flow;

/// Between two columns.
const GUTTER: f64 = 4.0;
/// Between two tables side by side.
const AISLE: f64 = 7.0;
/// Above and below the words of a row.
const PAD: f64 = 0.85;
/// A column is never asked to hold a word longer than this share of the table; longer words are broken.
const LONGEST_WORD: f64 = 0.32;

/// A row ready to be drawn: lines of each cell.
struct LaidRow {
    group: Vec<String>,
    cells: Vec<LaidCell>,
    note: Vec<String>,
    strong: bool,
    ruled: bool,
    lines: usize,
    to: usize,
}

enum LaidCell {
    Words(Vec<String>),
    Tick,
    Blank,
}

/// The widths of the columns and the height of capitals they are for.
struct Grid<'t> {
    table: &'t Table,
    widths: Vec<f64>,
    total: f64,
    pitch: f64,
}

fn lines_of(cell: &Cell) -> Vec<&str> {
    match cell {
        Cell::Text(text) => vec![text],
        Cell::Lines(lines) => lines.iter().map(String::as_str).collect(),
        Cell::Tick | Cell::Blank => Vec::new(),
    }
}

impl<'t> Grid<'t> {
    fn new(table: &'t Table, width: f64, pitch: f64) -> Self {
        let size = table.size;
        let room = width - GUTTER * (table.cols.len().max(1) - 1) as f64;
        let cap = room * LONGEST_WORD;
        let (mut least, mut wish) = (Vec::new(), Vec::new());
        for (i, col) in table.cols.iter().enumerate() {
            let mut widest = text_width(&col.head, size, Weight::Bold);
            let mut word = longest_word(&col.head, size, Weight::Bold);
            for row in &table.rows {
                let weight = if row.strong {
                    Weight::Bold
                } else {
                    Weight::Regular
                };
                let fixed = match row.cells.get(i) {
                    Some(Cell::Tick) => size * 1.3,
                    Some(Cell::Blank) => size * 8.0,
                    _ => 0.0,
                };
                (widest, word) = (widest.max(fixed), word.max(fixed));
                for line in row.cells.get(i).map_or_else(Vec::new, lines_of) {
                    let length = text_width(line, size, weight);
                    if length > widest {
                        widest = length;
                    }
                    if length > word {
                        word = word.max(longest_word(line, size, weight));
                    }
                }
            }
            // Wishes beyond the whole width count alike, so one long cell does not starve the rest.
            wish.push(widest.min(room) + 0.1);
            let longest = if col.kept { widest } else { word };
            least.push(longest.min(cap.max(size * 3.0)).min(widest) + 0.1);
        }
        let mut widths = share(&least, &wish, room);
        let used: f64 = widths.iter().sum();
        if table.full && used < room {
            // Spare width goes between the columns, which keeps rows readable across.
            let spare = ((room - used) / table.cols.len().max(1) as f64).min(12.0);
            for width in &mut widths {
                *width += spare;
            }
        }
        let total = widths.iter().sum::<f64>() + room_between(&widths);
        Self {
            table,
            widths,
            total,
            pitch,
        }
    }
    fn lay_row(&self, row: &Row) -> LaidRow {
        let weight = if row.strong {
            Weight::Bold
        } else {
            Weight::Regular
        };
        let size = self.table.size;
        let cells: Vec<LaidCell> = self
            .widths
            .iter()
            .enumerate()
            .map(|(i, width)| match row.cells.get(i) {
                Some(Cell::Tick) => LaidCell::Tick,
                Some(Cell::Blank) => LaidCell::Blank,
                Some(cell) => LaidCell::Words(
                    lines_of(cell)
                        .into_iter()
                        .filter(|l| !l.is_empty())
                        .flat_map(|l| wrap(l, size, weight, *width))
                        .collect(),
                ),
                None => LaidCell::Words(Vec::new()),
            })
            .collect();
        let lines = cells
            .iter()
            .map(|c| match c {
                LaidCell::Words(lines) => lines.len(),
                LaidCell::Tick | LaidCell::Blank => 1,
            })
            .max()
            .unwrap_or(0);
        let whole = |text: &str, weight, less: f64| {
            if text.is_empty() {
                Vec::new()
            } else {
                wrap(text, size, weight, self.total - less)
            }
        };
        LaidRow {
            group: whole(&row.group, Weight::Bold, 0.0),
            cells,
            note: whole(&row.note, Weight::Regular, 6.0),
            strong: row.strong,
            ruled: row.ruled,
            lines,
            to: row.to,
        }
    }
    fn height(&self, row: &LaidRow) -> f64 {
        let lines = row.group.len() + row.lines + row.note.len();
        let above = if row.group.is_empty() { 0.0 } else { 1.6 };
        lines as f64 * self.pitch + 2.0 * PAD + above
    }
    fn head(&self) -> LaidRow {
        self.lay_row(&Row {
            cells: self
                .table
                .cols
                .iter()
                .map(|c| Cell::Text(c.head.clone()))
                .collect(),
            strong: true,
            ..Row::default()
        })
    }
    /// Draws the head with its rule; returns its height.
    fn draw_head(&self, paper: &mut Drawing, x: f64, y: f64) -> f64 {
        if self.table.cols.iter().all(|c| c.head.is_empty()) {
            paper.line(pt(x, y), pt(x + self.total, y), Pen::NARROW);
            return 0.3;
        }
        let head = self.head();
        self.draw(paper, &head, x, y, (0, head.lines));
        let below = y + self.height(&head);
        paper.line(pt(x, below), pt(x + self.total, below), Pen::solid(0.35));
        self.height(&head) + 0.3
    }
    /// Draws the lines `from..to` of a row's cells (its group before the first, its note after the last); returns the height.
    fn draw(
        &self,
        paper: &mut Drawing,
        row: &LaidRow,
        x: f64,
        y: f64,
        (from, to): (usize, usize),
    ) -> f64 {
        let (size, pitch) = (self.table.size, self.pitch);
        let weight = if row.strong {
            Weight::Bold
        } else {
            Weight::Regular
        };
        let mut top = y;
        if row.ruled {
            paper.line(pt(x, top), pt(x + self.total, top), Pen::solid(0.35));
        }
        top += PAD;
        if from == 0 && !row.group.is_empty() {
            top += 1.6;
            for line in &row.group {
                paper.say(pt(x, top + pitch * 0.76), size, Weight::Bold, line);
                top += pitch;
            }
        }
        let mut left = x;
        for ((cell, width), col) in row.cells.iter().zip(&self.widths).zip(&self.table.cols) {
            match cell {
                LaidCell::Words(lines) => {
                    for (i, line) in lines.iter().enumerate().take(to).skip(from) {
                        let base = top + (i - from) as f64 * pitch + pitch * 0.76;
                        match col.align {
                            Align::Left => {
                                paper.say(pt(left, base), size, weight, line);
                            }
                            Align::Right => {
                                paper.say_right(pt(left + width, base), size, weight, line);
                            }
                            Align::Centre => {
                                paper.say_centred(pt(left + width / 2.0, base), size, weight, line);
                            }
                        }
                    }
                }
                LaidCell::Tick if from == 0 => {
                    let side = size * 1.2;
                    let shift = if col.align == Align::Left {
                        0.0
                    } else {
                        (width - side) / 2.0
                    };
                    paper.tick_box(pt(left + shift, top + pitch * 0.76 + 0.2), side);
                }
                LaidCell::Blank if from == 0 => {
                    let base = top + pitch * 0.76 + 0.6;
                    paper.line(pt(left, base), pt(left + width, base), Pen::NARROW);
                }
                LaidCell::Tick | LaidCell::Blank => {}
            }
            left += width + GUTTER;
        }
        top += (to.min(row.lines) - from.min(row.lines)) as f64 * pitch;
        if to >= row.lines {
            for line in &row.note {
                paper.say(pt(x + 6.0, top + pitch * 0.76), size, Weight::Regular, line);
                top += pitch;
            }
        }
        if row.to > 0 {
            let area = Area::new(x, y, self.total, top + PAD - y);
            paper.items.push(Item::Link { area, page: row.to });
        }
        top + PAD - y
    }
    /// A hair line between two rows, so the eye keeps to its row.
    fn hair(&self, paper: &mut Drawing, x: f64, y: f64) {
        paper.line(pt(x, y), pt(x + self.total, y), Pen::solid(0.18));
    }
}

fn room_between(widths: &[f64]) -> f64 {
    GUTTER * (widths.len().max(1) - 1) as f64
}

/// The longest word, a whole number and its fraction counted as one.
fn longest_word(text: &str, size: f64, weight: Weight) -> f64 {
    let mut longest: f64 = 0.0;
    let mut held = String::new();
    for word in text.split(' ') {
        let fraction = word.contains('/') && word.starts_with(|c: char| c.is_ascii_digit());
        let whole = held.ends_with(|c: char| c.is_ascii_digit());
        if fraction && whole {
            held.push(' ');
            held.push_str(word);
        } else {
            word.clone_into(&mut held);
        }
        longest = longest.max(text_width(&held, size, weight));
    }
    longest
}

/// Lays a table into the flow.
pub(super) fn lay_table(flow: &mut Flow, table: &Table) {
    if table.rows.is_empty() || table.cols.is_empty() {
        return;
    }
    let across = table.across.max(1);
    let width = (flow.width() - AISLE * (across - 1) as f64) / across as f64;
    let grid = Grid::new(table, width, flow.pitch(table.size));
    let rows: Vec<LaidRow> = table.rows.iter().map(|r| grid.lay_row(r)).collect();
    let head = grid.height(&grid.head()) + 0.3;
    flow.need(table_start(flow, table));
    if across > 1 {
        side_by_side(flow, &grid, &rows, head, width);
    } else {
        one_below_the_other(flow, &grid, &rows);
    }
    flow.y += 2.0;
}

/// Height of a table's head and first row, for one that takes the width alone.
pub(super) fn table_start(flow: &Flow, table: &Table) -> f64 {
    if table.rows.is_empty() {
        return 0.0;
    }
    let across = table.across.max(1);
    let width = (flow.width() - AISLE * (across - 1) as f64) / across as f64;
    let grid = Grid::new(table, width, flow.pitch(table.size));
    let first: Vec<LaidRow> = table.rows.iter().take(2).map(|r| grid.lay_row(r)).collect();
    grid.height(&grid.head()) + 0.3 + with_next(&grid, &first)
}

/// What the first of these rows needs: a group's heading stays with its first row, and a sum with the row over it.
fn with_next(grid: &Grid, rows: &[LaidRow]) -> f64 {
    let Some(first) = rows.first() else {
        return 0.0;
    };
    let mut height = grid.height(first);
    if first.lines == 0 && !first.group.is_empty() {
        height += rows.get(1).map_or(0.0, |r| grid.height(r).min(40.0));
    }
    if let [next] = &rows[1..]
        && next.ruled
    {
        height += grid.height(next).min(40.0);
    }
    height
}

fn one_below_the_other(flow: &mut Flow, grid: &Grid, rows: &[LaidRow]) {
    let x = flow.left();
    let y = flow.y;
    flow.y += grid.draw_head(flow.paper(), x, y);
    let again = |flow: &mut Flow| {
        flow.turn_page();
        let y = flow.y;
        flow.y += grid.draw_head(flow.paper(), x, y);
    };
    for (i, row) in rows.iter().enumerate() {
        let height = grid.height(row);
        let needs = with_next(grid, &rows[i..]);
        if needs > flow.room() && needs < 150.0 {
            again(flow);
        }
        if height <= flow.room() {
            let y = flow.y;
            flow.y += grid.draw(flow.paper(), row, x, y, (0, row.lines));
        } else {
            // Taller than a page: as many lines as there is room for, then on.
            let mut from = 0;
            while from < row.lines {
                let fit = ((flow.room() - 2.0 * PAD - row.note.len() as f64 * grid.pitch - 2.0)
                    / grid.pitch)
                    .floor();
                if fit < 1.0 {
                    again(flow);
                    continue;
                }
                let to = (from + fit as usize).min(row.lines);
                let y = flow.y;
                flow.y += grid.draw(flow.paper(), row, x, y, (from, to));
                from = to;
                if from < row.lines {
                    again(flow);
                }
            }
        }
        let next_ruled = rows.get(i + 1).is_none_or(|r| r.ruled);
        if !next_ruled && row.lines > 0 {
            let y = flow.y;
            grid.hair(flow.paper(), x, y);
        }
    }
}

/// Fills columns of rows, page by page; the last page's columns are made as equal as they go.
fn side_by_side(flow: &mut Flow, grid: &Grid, rows: &[LaidRow], head: f64, width: f64) {
    let across = grid.table.across;
    let mut at = 0;
    while at < rows.len() {
        let mut room = flow.room() - head - 0.5;
        if room < grid.height(&rows[at]) {
            if grid.height(&rows[at]) > 120.0 {
                // Cannot happen for the short rows these tables have; drawn as it is rather than lost.
                room = grid.height(&rows[at]);
            } else {
                flow.turn_page();
                continue;
            }
        }
        let fill = |limit: f64| -> (Vec<usize>, usize) {
            let (mut ends, mut i) = (Vec::new(), at);
            for _ in 0..across {
                let mut used = 0.0;
                while i < rows.len() && used + grid.height(&rows[i]) <= limit {
                    used += grid.height(&rows[i]);
                    i += 1;
                }
                ends.push(i);
            }
            (ends, i)
        };
        let (mut ends, mut end) = fill(room);
        if end == rows.len() {
            // All the rest fits: the least height that still holds it.
            let step = grid.pitch;
            let mut limit = step;
            while limit < room {
                let (e, last) = fill(limit);
                if last == rows.len() {
                    (ends, end) = (e, last);
                    break;
                }
                limit += step / 2.0;
            }
        }
        let (top, mut lowest, mut from) = (flow.y, flow.y, at);
        for (k, &to) in ends.iter().enumerate() {
            if to == from {
                continue;
            }
            let x = flow.left() + k as f64 * (width + AISLE);
            let mut y = top + grid.draw_head(flow.paper(), x, top);
            for (i, row) in rows.iter().enumerate().take(to).skip(from) {
                y += grid.draw(flow.paper(), row, x, y, (0, row.lines));
                if i + 1 < to {
                    grid.hair(flow.paper(), x, y);
                }
            }
            lowest = f64::max(lowest, y);
            from = to;
        }
        flow.y = lowest;
        at = end;
        if at < rows.len() {
            flow.turn_page();
        }
    }
}
