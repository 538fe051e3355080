//! Just a cut list, with or without a stock file: the second way in. Gives the same kind of job as a folder does.

use super::bytes::ReadError;
use super::cross::check_parts_fit;
use super::find::{all_needed, read_table, table_read};
use super::folder::{ReadJob, Tables, hand_over};
use super::parts::{Against, read_parts, sticks_only};
use super::report::{Report, Wrong};
use super::stock::{StockRead, read_stock};
use super::table::RawTable;
use super::{parts, stock};
use crate::model::{
    Car, DefaultUsed, Finish, Job, Labour, NeedUnit, Paper, Project, Saw, StockKind, StockRow,
    Tools, TrimRules,
};
use crate::units::{Length, Tape, Unit};
use std::path::Path;

/// How a bare cut list is read.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct BareOptions {
    /// What a bare number is in.
    pub unit: Unit,
    /// Width of wood the blade takes; `None` = 1/8 in.
    pub kerf: Option<Length>,
    /// Taken off each factory edge; `None` = 1/8 in.
    pub clean_edge: Option<Length>,
}

/// Reads just a cut list, with or without a stock file.
pub fn read_bare(
    parts: &Path,
    stock: Option<&Path>,
    options: &BareOptions,
) -> Result<ReadJob, ReadError> {
    let mut report = Report::default();
    let mut tables = Tables::default();
    let mut defaults = Vec::new();
    let shown = |p: &Path| {
        p.file_name().map_or_else(
            || p.display().to_string(),
            |n| n.to_string_lossy().into_owned(),
        )
    };
    let mut known: Option<StockRead> = None;
    if let Some(path) = stock {
        tables.stock = read_table(path, &shown(path), stock::COLUMNS, &all_needed, &mut report)?;
        known = tables
            .stock
            .as_ref()
            .filter(|t| t.columns.complete)
            .map(|t| read_stock(t, table_read(t, options.unit), &mut defaults, &mut report));
    }
    let rows = known.as_ref().map(|k| k.rows.as_slice());
    let stick_list = |t: &RawTable| {
        if sticks_only(t, rows) {
            vec!["width"]
        } else {
            Vec::new()
        }
    };
    tables.parts = read_table(
        parts,
        &shown(parts),
        parts::COLUMNS,
        &stick_list,
        &mut report,
    )?;
    let nothing: [StockRow; 0] = [];
    let against = Against {
        stock: stock.map(|_| rows.unwrap_or(&nothing)),
        broken: known.as_ref().map(|k| &k.broken),
        routes: &[],
    };
    let mut list = Vec::new();
    if let Some(table) = &tables.parts {
        list = read_parts(
            table,
            &against,
            table_read(table, options.unit),
            &mut report,
        );
        let routed = list.iter().position(|p| p.route.is_some());
        if let Some(first) = routed {
            let spot = table.spot_in(list[first].row, "route");
            let found = list[first].route.clone().unwrap_or_default();
            let wrong = Wrong::new(
                "Without a project.toml there are no routes, so all parts are planned together.",
                "no route",
                "nothing, if that is meant; else make a job folder with start.",
            );
            report.caution(spot, found, wrong);
            for part in &mut list {
                part.route = None;
            }
        }
    }
    let tape = Tape::usual(options.unit);
    let usual = Saw::default();
    let mut saw = |given: Option<Length>, usual: Length, name: &str| {
        given.unwrap_or_else(|| {
            let why = "a usual saw".to_owned();
            defaults.push(DefaultUsed {
                place: format!("--{name}"),
                value: tape.print_exact(usual),
                why,
                route: None,
            });
            usual
        })
    };
    let saw = Saw {
        kerf: saw(options.kerf, usual.kerf, "kerf"),
        clean_edge: saw(options.clean_edge, usual.clean_edge, "clean-edge"),
        ..usual
    };
    let stock_rows = match known {
        Some(known) => known.rows,
        None => plain_sheets(&list, &mut defaults),
    };
    if let Some(table) = &tables.parts {
        check_parts_fit(&list, table, &stock_rows, &[], &saw, tape, &mut report);
    }
    let name = parts
        .file_stem()
        .map(|s| s.to_string_lossy().into_owned())
        .unwrap_or_default();
    let job = Job {
        project: Project {
            name,
            house: String::new(),
            drawn_by: String::new(),
            date: None,
            tape,
            money: "USD".into(),
            sales_tax: None,
            paper: if options.unit == Unit::Inch {
                Paper::Letter
            } else {
                Paper::A4
            },
        },
        want: None,
        opening: None,
        runs: Vec::new(),
        trim: TrimRules::default(),
        saw,
        car: Car::default(),
        finish: Finish::default(),
        labour: Labour::default(),
        tools: Tools::default(),
        needs: Vec::new(),
        parts: list,
        stock: stock_rows,
        prefab: Vec::new(),
        rack: Vec::new(),
        defaults,
        bare_list: true,
    };
    Ok(hand_over(job, report, tables))
}

/// Without a stock file every item is a 48 x 96 in sheet without a price.
fn plain_sheets(list: &[crate::model::Part], defaults: &mut Vec<DefaultUsed>) -> Vec<StockRow> {
    let mut rows: Vec<StockRow> = Vec::new();
    let mut seen = std::collections::BTreeSet::new();
    for part in list {
        if !seen.insert(part.item.as_str()) {
            continue;
        }
        defaults.push(DefaultUsed {
            place: format!("stock {}", part.item),
            value: "a 48 x 96 in sheet without a price".into(),
            why: "no stock file was named".into(),
            route: None,
        });
        rows.push(StockRow {
            item: part.item.clone(),
            kind: StockKind::Sheet,
            what: part.item.clone(),
            length: Some(Length::inches(96)),
            width: Some(Length::inches(48)),
            thick: None,
            measured: None,
            grain_along_width: false,
            sold_by: "each".into(),
            holds: NeedUnit::Count(1000),
            price: None,
            priced_on: None,
            have: NeedUnit::Count(0),
            waste: None,
            store: String::new(),
            aisle: String::new(),
            lead_days: 0,
            taxed: true,
            at_most: None,
            weight_grams: None,
            covers_mm2: None,
            one_face: false,
            returns: None,
            note: String::new(),
            row: 0,
            file: String::new(),
        });
    }
    rows
}
