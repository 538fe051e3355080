//! The README names every column that is read, and every kind of goods.

use crate::files::read::columns::Column;
use crate::files::read::{offcuts, parts, prefab, stock};

#[test]
fn the_readme_names_every_column_and_kind() {
    let readme = include_str!("../../../../README.md");
    let columns = |all: &[Column]| all.iter().map(|c| c.name).collect::<Vec<_>>().join(", ");
    let words = |all: Vec<&str>| all.join(", ");
    let rows = [
        ("`parts.csv`", columns(parts::COLUMNS)),
        ("`stock.csv`", columns(stock::COLUMNS)),
        ("`prefab.csv`", columns(prefab::COLUMNS)),
        ("`offcuts.csv`", columns(offcuts::COLUMNS)),
        (
            "`kind` in stock.csv",
            words(stock::KINDS.iter().map(|k| k.0).collect()),
        ),
    ];
    for (what, names) in rows {
        let row = format!("| {what} | {names} |");
        assert!(
            readme.lines().any(|l| l == row),
            "README.md, under Every name, lacks\n{row}"
        );
    }
}
