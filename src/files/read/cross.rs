//! Checks that need more than one file: names that must stand elsewhere, amounts against packs, parts against sheets.

use super::near::did_you_mean;
use super::prefab::PrefabRead;
use super::report::{Report, Wrong};
use super::stock::StockRead;
use super::table::RawTable;
use super::toml::{Named, NamedAs, ReadProject};
use crate::model::{
    CleanEdges, Edge, Grain, NeedUnit, Offcut, OffcutState, Part, PartSize, PrefabKind, Saw, Spot,
    StockKind, StockRow, banding_of,
};
use crate::units::{Length, Tape};

/// Names in project.toml against the files that were read; `None` = not read for this verb, or not readable.
pub(crate) fn check_names(
    project: &ReadProject,
    stock: Option<&StockRead>,
    prefab: Option<&PrefabRead>,
    routes: &[String],
    report: &mut Report,
) {
    for named in &project.named {
        if let Some(wrong) = check_name(named, stock, prefab, routes) {
            report.mistake(named.spot.clone(), named.name.clone(), wrong);
        }
    }
}

fn check_name(
    named: &Named,
    stock: Option<&StockRead>,
    prefab: Option<&PrefabRead>,
    routes: &[String],
) -> Option<Wrong> {
    let name = named.name.as_str();
    let unknown = |why: &str, expected: &str, known: Vec<&str>| {
        let fix = || match (known.is_empty(), expected.rsplit(' ').next()) {
            (true, Some(file)) if file.ends_with(".csv") => {
                format!("{file} has no row of that kind yet: add one for {name}.")
            }
            _ => did_you_mean(name, known.iter().copied()),
        };
        (!known.contains(&name)).then(|| Wrong::new(why, expected, fix()))
    };
    let items = |kind: &dyn Fn(StockKind) -> bool| -> Vec<&str> {
        stock
            .iter()
            .flat_map(|s| &s.rows)
            .filter(|s| kind(s.kind))
            .map(|s| s.item.as_str())
            .collect()
    };
    let units = |kind: &dyn Fn(PrefabKind) -> bool| -> Vec<&str> {
        prefab
            .iter()
            .flat_map(|p| &p.units)
            .filter(|u| kind(u.kind))
            .map(|u| u.unit.as_str())
            .collect()
    };
    let broken = stock.is_some_and(|s| s.broken.contains(name))
        || prefab.is_some_and(|p| p.broken.contains(name));
    if broken {
        return None;
    }
    match named.what {
        NamedAs::Route => unknown(
            "No [[run]] has this route.",
            "the route of a [[run]]",
            routes.iter().map(String::as_str).collect(),
        ),
        NamedAs::Sheet => {
            stock?;
            unknown(
                "No sheet in stock.csv has this item.",
                "the item of a sheet in stock.csv",
                items(&|k| k == StockKind::Sheet),
            )
        }
        NamedAs::CutUp => {
            stock?;
            unknown(
                "No sheet, moulding or board in stock.csv has this item.",
                "the item of a sheet, moulding or board in stock.csv",
                items(&|k| matches!(k, StockKind::Sheet | StockKind::Moulding | StockKind::Board)),
            )
        }
        NamedAs::Row => {
            stock?;
            unknown(
                "No row of stock.csv has this item.",
                "an item of stock.csv",
                items(&|_| true),
            )
        }
        NamedAs::Tool => {
            stock?;
            unknown(
                "No row of stock.csv has this item.",
                "the item of a tool in stock.csv",
                items(&|_| true),
            )
        }
        NamedAs::Frame => {
            prefab?;
            unknown(
                "No frame in prefab.csv has this code.",
                "the unit of a frame in prefab.csv",
                units(&|k| k == PrefabKind::Frame),
            )
        }
        NamedAs::Unit => {
            prefab?;
            unknown(
                "No row of prefab.csv has this code.",
                "a unit of prefab.csv",
                units(&|_| true),
            )
        }
        NamedAs::Goods => {
            stock?;
            let known = items(&|_| true)
                .into_iter()
                .chain(units(&|_| true))
                .collect();
            unknown(
                "No row of stock.csv has this item.",
                "an item of stock.csv",
                known,
            )
        }
    }
}

/// Each `[[need]]` is written in what its pack holds.
pub(crate) fn check_needs(
    project: &ReadProject,
    stock: &[StockRow],
    file: &str,
    report: &mut Report,
) {
    for need in &project.needs {
        let Some(row) = stock.iter().find(|s| s.item == need.item) else {
            continue;
        };
        let (fits, example) = match (need.amount, row.holds) {
            (NeedUnit::Count(_), NeedUnit::Count(_))
            | (NeedUnit::Run(_), NeedUnit::Run(_))
            | (NeedUnit::Volume(_), NeedUnit::Volume(_))
            // An amount that could not be read was reported where it stands.
            | (NeedUnit::Count(0), _) => (true, ""),
            (_, NeedUnit::Count(_)) => (false, "a plain number, such as 2"),
            (_, NeedUnit::Run(_)) => (false, "a length, such as \"25 ft\""),
            (_, NeedUnit::Volume(_)) => (false, "a volume, such as \"0.82 gal\""),
        };
        if !fits {
            let spot = Spot {
                file: file.to_owned(),
                row: Some(need.line),
                column: Some("[[need]] amount".into()),
                ..Spot::default()
            };
            let wrong = Wrong::new(
                format!(
                    "{} is sold by another measure, so this amount cannot be turned into packs.",
                    need.item
                ),
                example,
                format!("type {example}, as under holds in stock.csv."),
            );
            report.mistake(spot, shown_amount(need.amount), wrong);
        }
    }
}

fn shown_amount(amount: NeedUnit) -> String {
    match amount {
        NeedUnit::Count(n) if n % 1000 == 0 => (n / 1000).to_string(),
        NeedUnit::Count(n) => format!("{}.{:03}", n / 1000, n % 1000)
            .trim_end_matches('0')
            .to_owned(),
        NeedUnit::Run(length) => Tape::default().print_exact(length),
        NeedUnit::Volume(_) => "a volume".into(),
    }
}

/// A usable rectangle: along the grain, across it.
#[derive(Clone, Copy)]
struct Usable {
    along: Length,
    across: Length,
}

impl Usable {
    fn new(length: Length, width: Length, off: CleanEdges, grain_along_width: bool) -> Self {
        let (x, y) = (
            (length - off[0] - off[1]).at_least_zero(),
            (width - off[2] - off[3]).at_least_zero(),
        );
        if grain_along_width {
            Self {
                along: y,
                across: x,
            }
        } else {
            Self {
                along: x,
                across: y,
            }
        }
    }

    fn takes(self, length: Length, width: Length, grain: Grain) -> bool {
        let straight = length <= self.along && width <= self.across;
        let turned = width <= self.along && length <= self.across;
        match grain {
            Grain::Length => straight,
            Grain::Width => turned,
            Grain::Any => straight || turned,
        }
    }
}

/// Names parts that come out of nothing that can be bought or stands on the rack. Only a caution: the plan is still made,
/// without them.
pub(crate) fn check_parts_fit(
    parts: &[Part],
    table: &RawTable,
    stock: &[StockRow],
    rack: &[Offcut],
    saw: &Saw,
    tape: Tape,
    report: &mut Report,
) {
    let off = saw.bought_clean_edges();
    for part in parts {
        let Some(row) = stock.iter().find(|s| s.item == part.item) else {
            continue;
        };
        let sizes: Vec<&StockRow> = stock.iter().filter(|s| s.same_material(row)).collect();
        let pieces: Vec<&Offcut> = rack
            .iter()
            .filter(|o| o.state == OffcutState::Ready && sizes.iter().any(|s| s.item == o.item))
            .collect();
        match part.size {
            PartSize::Piece { length } => {
                let longest = sizes
                    .iter()
                    .filter_map(|s| s.length)
                    .chain(pieces.iter().map(|o| o.length))
                    .max();
                if let Some(longest) = longest.filter(|l| *l < length) {
                    let found = tape.print_exact(length);
                    let wrong = Wrong::new(
                        format!(
                            "{found} does not come out of any {} in stock; the longest is {}.",
                            part.item,
                            tape.print_exact(longest)
                        ),
                        format!("{} at most", tape.print_exact(longest)),
                        "make it in two with a joint, or list a longer stick in stock.csv.",
                    );
                    report.caution(table.spot_in(part.row, "length"), found, wrong);
                }
            }
            PartSize::Panel { .. } => {
                let usable: Vec<Usable> = sizes
                    .iter()
                    .filter_map(|s| {
                        Some(Usable::new(s.length?, s.width?, off, s.grain_along_width))
                    })
                    .chain(pieces.iter().filter_map(|o| {
                        let off = [Edge::X0, Edge::X1, Edge::Y0, Edge::Y1].map(|e| {
                            if o.good_edges.contains(&e) {
                                Length::ZERO
                            } else {
                                saw.clean_edge
                            }
                        });
                        Some(Usable::new(o.length, o.width?, off, o.grain_along_width))
                    }))
                    .collect();
                let (length, width) = cut_size(part, stock);
                if usable.is_empty() || usable.iter().any(|u| u.takes(length, width, part.grain)) {
                    continue;
                }
                let factory = sizes.iter().any(|s| {
                    let whole = s
                        .length
                        .zip(s.width)
                        .map(|(l, w)| Usable::new(l, w, [Length::ZERO; 4], s.grain_along_width));
                    whole.is_some_and(|u| u.takes(length, width, part.grain))
                });
                report_misfit(
                    part,
                    (length, width),
                    (&usable, factory),
                    table,
                    tape,
                    report,
                );
            }
        }
    }
}

/// What the saw cuts: smaller by the banding where the size in the row is the finished one.
fn cut_size(part: &Part, stock: &[StockRow]) -> (Length, Length) {
    let PartSize::Panel { length, width } = part.size else {
        return (Length::ZERO, Length::ZERO);
    };
    let thick = banding_of(stock, part)
        .and_then(StockRow::thickness)
        .filter(|_| part.band_in_size)
        .unwrap_or_default();
    let edges = |a: bool, b: bool| thick * (i64::from(a) + i64::from(b));
    (
        length - edges(part.band.left, part.band.right),
        width - edges(part.band.front, part.band.back),
    )
}

fn report_misfit(
    part: &Part,
    (length, width): (Length, Length),
    (usable, factory): (&[Usable], bool),
    table: &RawTable,
    tape: Tape,
    report: &mut Report,
) {
    let (along, across) = if part.grain == Grain::Width {
        (width, length)
    } else {
        (length, width)
    };
    let most_along = usable.iter().map(|u| u.along).max().unwrap_or_default();
    let most_across = usable.iter().map(|u| u.across).max().unwrap_or_default();
    // Named by the side that is too large; by the width where only the two together are.
    let (column, size, most, way) = if along > most_along && along == length {
        ("length", length, most_along, "longest")
    } else if across > most_across && across == length {
        ("length", length, most_across, "widest")
    } else if along > most_along {
        ("width", width, most_along, "longest")
    } else {
        ("width", width, most_across, "widest")
    };
    let found = tape.print_exact(size);
    let turned = usable.iter().any(|u| u.takes(length, width, Grain::Any));
    let fix = if factory {
        "leave a factory edge uncleaned: name fewer edges under clean_edges in project.toml, or list a larger sheet in stock.csv."
    } else if turned {
        "write any under grain if the grain may run the other way, or list a larger sheet in stock.csv."
    } else {
        "make it in two with a seam behind a fixed shelf, or list a larger sheet in stock.csv."
    };
    let wrong = Wrong::new(
        format!(
            "{} does not come out of any {} in stock.",
            part.mark, part.item
        ),
        format!(
            "{} at most, the {way} piece once the clean edges are off",
            tape.print_exact(most)
        ),
        fix,
    );
    report.caution(table.spot_in(part.row, column), found, wrong);
}
