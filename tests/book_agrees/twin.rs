//! The text twin taken apart into its sections.

/// A section: from its title to the next.
#[derive(Clone)]
pub(crate) struct Section {
    pub(crate) lines: Vec<String>,
}

impl Section {
    /// All of it as one line, runs of blanks as one.
    pub(crate) fn flat(&self) -> String {
        let words = self.lines.iter().flat_map(|l| l.split_whitespace());
        words.collect::<Vec<_>>().join(" ")
    }
    /// Its lines taken apart where two blanks or more stand: the cells of a table.
    pub(crate) fn rows(&self) -> impl Iterator<Item = Vec<&str>> {
        self.lines.iter().map(|l| cells(l))
    }
}

/// The cells of a line.
pub(crate) fn cells(line: &str) -> Vec<&str> {
    line.split("  ")
        .map(str::trim)
        .filter(|c| !c.is_empty())
        .collect()
}

/// Sections are headed by a line of capitals ruled with `=`.
pub(crate) fn sections(text: &str, list: &[(String, usize, usize)]) -> Vec<Section> {
    let all: Vec<&str> = text.lines().collect();
    let mut found: Vec<Section> = Vec::new();
    for (i, line) in all.iter().enumerate() {
        let ruled = |l: &&str| l.len() >= 4 && l.bytes().all(|b| b == b'=');
        if all.get(i + 1).is_some_and(ruled) {
            found.push(Section { lines: Vec::new() });
        }
        let rule = line.len() >= 4 && line.bytes().all(|b| b == b'=' || b == b'-');
        if let Some(section) = found.last_mut()
            && !rule
        {
            section.lines.push((*line).to_owned());
        }
    }
    assert_eq!(found.len(), list.len(), "as many sections as are listed");
    found
}
