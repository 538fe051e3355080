//! Plain text tables: at most 96 columns, numbers to the right, one column of words that wraps.

use super::screen::{WIDE, safe, width, wrap};

/// How a column stands.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Align {
    /// Words: to the left.
    Left,
    /// Numbers and sizes: to the right.
    Right,
    /// Words that wrap; takes what room is left. One for each table.
    Wrap,
}

/// A table being gathered.
pub(crate) struct Table {
    heads: Vec<(String, Align)>,
    rows: Vec<Vec<String>>,
}

impl Table {
    pub(crate) fn new(heads: &[(&str, Align)]) -> Self {
        Self {
            heads: heads.iter().map(|(h, a)| ((*h).to_owned(), *a)).collect(),
            rows: Vec::new(),
        }
    }

    /// Adds a row; cells are made safe here.
    pub(crate) fn row<S: AsRef<str>>(&mut self, cells: &[S]) {
        self.rows
            .push(cells.iter().map(|c| safe(c.as_ref())).collect());
    }

    pub(crate) fn is_empty(&self) -> bool {
        self.rows.is_empty()
    }

    /// The text; `rule` is the mark drawn under the heading.
    pub(crate) fn text(&self, rule: char) -> String {
        const GAP: usize = 2;
        let n = self.heads.len();
        let mut wide: Vec<usize> = (0..n)
            .map(|i| {
                let cells = self.rows.iter().filter_map(|r| r.get(i)).map(|c| width(c));
                cells.chain([width(&self.heads[i].0)]).max().unwrap_or(0)
            })
            .collect();
        // Too wide: the wrapping column gives first, then every other one down to 12 columns.
        let room = WIDE.saturating_sub(2 + GAP * n.saturating_sub(1));
        let mut over = wide.iter().sum::<usize>().saturating_sub(room);
        let mut order: Vec<usize> = (0..n).collect();
        order.sort_by_key(|i| (self.heads[*i].1 != Align::Wrap, std::cmp::Reverse(wide[*i])));
        for i in order {
            let give = over.min(wide[i].saturating_sub(if self.heads[i].1 == Align::Wrap {
                20
            } else {
                12
            }));
            wide[i] -= give;
            over -= give;
        }
        let mut out = String::new();
        let heads: Vec<String> = self.heads.iter().map(|h| h.0.clone()).collect();
        self.put(&mut out, &heads, &wide);
        out.push_str("  ");
        out.extend(std::iter::repeat_n(
            rule,
            wide.iter().sum::<usize>() + GAP * n.saturating_sub(1),
        ));
        out.push('\n');
        for row in &self.rows {
            self.put(&mut out, row, &wide);
        }
        out
    }

    fn put(&self, out: &mut String, row: &[String], wide: &[usize]) {
        let cells: Vec<Vec<String>> = wide
            .iter()
            .enumerate()
            .map(|(i, w)| {
                let text = row.get(i).map_or("", String::as_str);
                if width(text) <= *w {
                    vec![text.to_owned()]
                } else {
                    wrap(text, *w)
                }
            })
            .collect();
        let lines = cells.iter().map(Vec::len).max().unwrap_or(1);
        for line in 0..lines {
            let mut text = String::from(" ");
            for (i, cell) in cells.iter().enumerate() {
                let part = cell.get(line).map_or("", String::as_str);
                let pad = wide[i].saturating_sub(width(part));
                text.push(' ');
                if self.heads[i].1 == Align::Right {
                    text.extend(std::iter::repeat_n(' ', pad));
                    text.push_str(part);
                } else {
                    text.push_str(part);
                    text.extend(std::iter::repeat_n(' ', pad));
                }
                text.push(' ');
            }
            out.push_str(text.trim_end());
            out.push('\n');
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_line_is_wider_than_96_columns() {
        let mut t = Table::new(&[
            ("sheet", Align::Right),
            ("what", Align::Left),
            ("parts", Align::Wrap),
            ("price", Align::Right),
        ]);
        t.row(&["1", &"n".repeat(200), &"L1 2, ".repeat(60), "1,016.34"]);
        t.row(&["12", "short", "木木木", "7.40"]);
        let text = t.text('-');
        assert!(text.lines().all(|l| width(l) <= WIDE), "{text}");
        assert!(text.contains("    7.40"), "{text}");
    }
}
