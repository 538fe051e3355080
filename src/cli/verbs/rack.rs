//! `rack`: what stands on the rack and what of it this job could use; pieces put on it and taken off it.

use crate::cli::args::size;
use crate::cli::ctx::Ctx;
use crate::cli::exit::{Exit, Stop};
use crate::cli::load::{self, Loaded};
use crate::cli::screen::safe;
use crate::cli::table::{Align, Table};
use crate::files::read::{RawTable, Reads};
use crate::files::write::{CsvEdit, RunLock, change_csv, new_csv};
use crate::model::{Grain, Job, Offcut, OffcutState, PartSize, Plan};
use crate::units::Length;
use serde::Serialize;

/// Show the rack of offcuts, or put a piece on it or take one off
#[derive(clap::Args)]
pub(crate) struct Args {
    #[command(subcommand)]
    what: Option<What>,
}

#[derive(clap::Subcommand)]
enum What {
    /// Show what is on the rack and what this job could use (also without a word)
    List,
    /// Put a piece on the rack, or with --leftovers every piece the plan says to keep
    Put(PutArgs),
    /// Take a piece off: it is spent, or with --for promised to another job
    Take {
        /// The mark on the piece
        mark: String,
        /// Promise it to this job instead
        #[arg(long = "for", value_name = "JOB")]
        promise: Option<String>,
    },
}

#[derive(clap::Args)]
struct PutArgs {
    /// The stock row it came from
    #[arg(required_unless_present = "leftovers")]
    item: Option<String>,
    /// Usable size, along the grain first: "30 1/4 x 11 7/8"; one length for a stick
    #[arg(required_unless_present = "leftovers")]
    size: Option<String>,
    /// The mark on the piece [default: the next free one]
    #[arg(long)]
    mark: Option<String>,
    /// Where it stands
    #[arg(long = "where", value_name = "PLACE")]
    place: Option<String>,
    /// A note
    #[arg(long)]
    note: Option<String>,
    /// Every piece that made/plan.json says to keep
    #[arg(long, conflicts_with_all = ["item", "size", "mark"])]
    leftovers: bool,
}

/// Columns of a rack that is begun here.
const HEADINGS: [&str; 12] = [
    "mark", "item", "length", "width", "thick", "grain", "good_edges", "from_job", "put_by", "where", "state", "note",
];

#[derive(Serialize)]
struct PieceDoc<'a> {
    mark: &'a str,
    item: &'a str,
    length: Length,
    width: Option<Length>,
    state: &'static str,
    promised_to: Option<&'a str>,
    place: &'a str,
    could_be: Vec<String>,
}

pub(crate) fn run(args: &Args, ctx: &mut Ctx) -> Result<Exit, Stop> {
    let mut what = Reads::RACK;
    what.parts = ctx.folder().join("parts.csv").exists();
    let loaded = load::folder(ctx, &what)?;
    match &args.what {
        None | Some(What::List) => list(ctx, &loaded),
        Some(What::Put(put_args)) => put(ctx, &loaded, put_args),
        Some(What::Take { mark, promise }) => take(ctx, &loaded, mark, promise.as_deref()),
    }
}

const fn word(state: OffcutState) -> &'static str {
    match state {
        OffcutState::Ready => "ready",
        OffcutState::Promised => "promised",
        OffcutState::Spent => "spent",
        OffcutState::Doubtful => "doubtful",
    }
}

fn list(ctx: &mut Ctx, loaded: &Loaded) -> Result<Exit, Stop> {
    let job = loaded.shown(ctx);
    let tape = job.project.tape;
    let docs: Vec<PieceDoc<'_>> = job
        .rack
        .iter()
        .map(|o| PieceDoc {
            mark: &o.mark,
            item: &o.item,
            length: o.length,
            width: o.width,
            state: word(o.state),
            promised_to: o.promised_to.as_deref(),
            place: &o.place,
            could_be: could_be(&job, o),
        })
        .collect();
    ctx.json(&serde_json::json!({ "pieces": docs }));
    let unit = if tape.unit_name() == "mm" { "millimetres" } else { "inches" };
    ctx.heading(&format!("THE RACK, sizes in {unit}"));
    let mut table = Table::new(&[
        ("mark", Align::Left),
        ("item", Align::Left),
        ("size", Align::Left),
        ("state", Align::Left),
        ("where", Align::Left),
        ("could be", Align::Wrap),
    ]);
    for d in &docs {
        let size = match d.width {
            Some(w) => format!("{} x {}", tape.print(d.length), tape.print(w)),
            None => tape.print(d.length),
        };
        let state = d.promised_to.map_or(d.state.to_owned(), |to| format!("{} to {to}", d.state));
        table.row(&[d.mark, d.item, &size, &state, d.place, &d.could_be.join(", ")]);
    }
    let text = if table.is_empty() { "  Nothing stands on it.\n".into() } else { table.text(ctx.rule()) };
    ctx.say(&text);
    Ok(Exit::Done)
}

/// Marks of this job's parts that come out of a piece as it stands, edges not counted.
fn could_be(job: &Job, o: &Offcut) -> Vec<String> {
    let Some(row) = job.stock_row(&o.item).filter(|_| o.state == OffcutState::Ready) else {
        return Vec::new();
    };
    let same = |item: &str| job.stock_row(item).is_some_and(|r| r.same_material(row));
    job.parts
        .iter()
        .filter(|p| same(&p.item))
        .filter(|p| match (p.size, o.width) {
            (PartSize::Piece { length }, None) => length <= o.length,
            (PartSize::Panel { length, width }, Some(across)) => {
                let straight = length <= o.length && width <= across;
                let turned = width <= o.length && length <= across;
                match (p.grain, o.grain_along_width) {
                    (Grain::Any, _) => straight || turned,
                    (Grain::Length, false) | (Grain::Width, true) => straight,
                    _ => turned,
                }
            }
            _ => false,
        })
        .map(|p| p.mark.clone())
        .collect()
}

/// The rack's table: the job's own, else the shared one.
fn rack_table(loaded: &Loaded) -> Option<&RawTable> {
    loaded.tables.offcuts.as_ref().or(loaded.tables.shared_offcuts.as_ref())
}

fn take(ctx: &mut Ctx, loaded: &Loaded, mark: &str, promise: Option<&str>) -> Result<Exit, Stop> {
    let tables = [&loaded.tables.offcuts, &loaded.tables.shared_offcuts];
    let found = tables.into_iter().flatten().find_map(|t| {
        let at = t.column("mark")?;
        let is = |r: &&crate::files::read::RawRow| r.cells.get(at).is_some_and(|c| c.text.trim() == mark);
        Some((t, t.rows.iter().find(is)?.number))
    });
    let Some((table, row)) = found else {
        if loaded.job.rack.iter().any(|o| o.mark == mark) {
            return Err(Stop::Typed(format!(
                "{mark} stands in no offcuts.csv: it comes from `reuse` under [opening.now]. Fix: take it out there once it is cut."
            )));
        }
        let marks: Vec<&str> = loaded.job.rack.iter().map(|o| o.mark.as_str()).collect();
        return Err(Stop::Typed(format!(
            "no piece on the rack is marked {mark:?}. {}",
            if marks.is_empty() { "Nothing is on it.".to_owned() } else { format!("Fix: name one of {}.", marks.join(", ")) }
        )));
    };
    let Some(column) = table.column("state") else {
        return Err(Stop::Typed(format!(
            "{} has no column `state`. Fix: add the heading, then run again.",
            table.file
        )));
    };
    if promise.is_none() && loaded.job.rack.iter().any(|o| o.mark == mark && o.state == OffcutState::Spent) {
        return Err(Stop::Typed(format!("{mark} is spent already, so nothing was changed.")));
    }
    if promise.is_some_and(|job| job.trim().is_empty()) {
        return Err(Stop::Typed("--for is blank. Fix: name the job the piece is promised to.".into()));
    }
    let state = promise.map_or("spent".to_owned(), |job| format!("promised to {job}"));
    let edit = CsvEdit::Set {
        row,
        cells: vec![(column, state.clone())],
    };
    let kept = change(ctx, table, &[edit])?;
    ctx.json(&serde_json::json!({ "mark": mark, "state": state, "kept": kept }));
    ctx.say(&format!("{} is {}. The list as it was is kept as {}.\n", safe(mark), safe(&state), safe(&kept)));
    Ok(Exit::Done)
}

fn change(ctx: &Ctx, table: &RawTable, edits: &[CsvEdit]) -> Result<String, Stop> {
    let _lock = RunLock::take(&ctx.folder().join("made"))?;
    let kept = change_csv(&table.path, &ctx.folder().join("kept"), table.separator, edits)?;
    Ok(kept.display().to_string())
}

/// A piece about to be put on the rack.
struct New {
    item: String,
    length: Length,
    width: Option<Length>,
    mark: String,
}

fn put(ctx: &mut Ctx, loaded: &Loaded, args: &PutArgs) -> Result<Exit, Stop> {
    let mut next = next_mark(&loaded.job);
    let new = if args.leftovers {
        let new = leftovers(ctx, &loaded.job, &mut next)?;
        not_twice(&loaded.job, &new)?;
        new
    } else {
        vec![typed(loaded, args, &mut next)?]
    };
    let rows: Vec<Vec<(&str, String)>> = new.iter().map(|n| cells(&loaded.job, n, args)).collect();
    let marks: Vec<&str> = new.iter().map(|n| n.mark.as_str()).collect();
    if rows.is_empty() {
        ctx.json(&serde_json::json!({ "put": marks }));
        ctx.say("The plan leaves nothing worth keeping.\n");
        return Ok(Exit::Done);
    }
    if let Some(table) = rack_table(loaded) {
        let wide = table.headings.cells.len();
        let edits: Vec<CsvEdit> = rows
            .iter()
            .map(|row| {
                let mut cells = vec![String::new(); wide];
                for (name, text) in row {
                    if let Some(at) = table.column(name) {
                        cells[at].clone_from(text);
                    }
                }
                CsvEdit::Add { cells }
            })
            .collect();
        change(ctx, table, &edits)?;
    } else {
        let _lock = RunLock::take(&ctx.folder().join("made"))?;
        let rows: Vec<Vec<String>> = rows.iter().map(|r| r.iter().map(|(_, t)| t.clone()).collect()).collect();
        new_csv(&ctx.folder().join("offcuts.csv"), &HEADINGS, &rows)?;
    }
    ctx.json(&serde_json::json!({ "put": marks }));
    ctx.say(&format!("On the rack: {}. Write the mark on the piece.\n", safe(&marks.join(", "))));
    if args.leftovers {
        ctx.say("This job does not plan on them: they are there once its sheets are sawn.\n");
    }
    Ok(Exit::Done)
}

/// `R-08` where R-07 is the highest mark of that form.
fn next_mark(job: &Job) -> impl FnMut() -> String + use<> {
    let highest = job.rack.iter().filter_map(|o| o.mark.strip_prefix("R-")?.parse::<u32>().ok()).max();
    let mut n = highest.unwrap_or(0);
    move || {
        n = n.saturating_add(1);
        format!("R-{n:02}")
    }
}

fn typed(loaded: &Loaded, args: &PutArgs, next: &mut impl FnMut() -> String) -> Result<New, Stop> {
    let job = &loaded.job;
    let item = args.item.clone().unwrap_or_default();
    let Some(row) = job.stock_row(&item).filter(|r| r.is_cut_up()) else {
        let known: Vec<&str> = job.stock.iter().filter(|s| s.is_cut_up()).map(|s| s.item.as_str()).collect();
        return Err(Stop::Typed(format!(
            "no sheet, moulding or board of stock.csv is called {item:?}. Fix: name one of {}.",
            known.join(", ")
        )));
    };
    if let Some(mark) = &args.mark {
        check_mark(job, mark)?;
    }
    let text = args.size.clone().unwrap_or_default();
    let mut sizes = Vec::new();
    for part in text.split(['x', 'X', '\u{D7}']) {
        sizes.push(size(part, job.project.tape.unit).map_err(Stop::Typed)?);
    }
    let (length, width) = match sizes[..] {
        [length] => (length, None),
        [length, width] => (length, Some(width)),
        _ => return Err(Stop::Typed(format!("{text:?} is no size of a piece. Fix: type it as \"30 1/4 x 11 7/8\"."))),
    };
    let sheet = row.kind == crate::model::StockKind::Sheet;
    if sheet != width.is_some() || !length.is_positive() || width.is_some_and(|w| !w.is_positive()) {
        return Err(Stop::Typed(format!(
            "{text:?} does not suit {item}. Fix: type length x width for a piece of sheet, one length for a stick."
        )));
    }
    let sizes = || job.stock.iter().filter(|s| s.same_material(row));
    let comes_out = |s: &crate::model::StockRow| match width {
        None => s.length.is_none_or(|l| length <= l),
        Some(w) => s.length.zip(s.width).is_none_or(|(a, b)| length.max(w) <= a.max(b) && length.min(w) <= a.min(b)),
    };
    if !sizes().any(comes_out) {
        return Err(Stop::Typed(format!(
            "{text:?} is larger than any {item} in stock.csv, so it cannot be an offcut of one. Fix: check the figures and their units."
        )));
    }
    Ok(New {
        item,
        length,
        width,
        mark: args.mark.clone().unwrap_or_else(next),
    })
}

/// A mark must be one that can be written on a piece, found again, and kept in a table as it is.
fn check_mark(job: &Job, mark: &str) -> Result<(), Stop> {
    let fix = "Fix: give it a short one such as R-08, or leave --mark out.";
    if mark.trim().is_empty() || mark != mark.trim() {
        return Err(Stop::Typed(format!("{mark:?} is no mark: it is blank or has blanks around it. {fix}")));
    }
    if mark.starts_with(['=', '+', '-', '@', '\'']) || safe(mark) != mark {
        return Err(Stop::Typed(format!("{mark:?} is no mark: a spreadsheet or a screen would not show it as it is. {fix}")));
    }
    if job.rack.iter().any(|o| o.mark == mark) {
        return Err(Stop::Typed(format!("there is a piece marked {mark:?} already. Fix: give this one another mark.")));
    }
    Ok(())
}

fn leftovers(ctx: &Ctx, job: &Job, next: &mut impl FnMut() -> String) -> Result<Vec<New>, Stop> {
    let path = ctx.folder().join("made").join("plan.json");
    let read = std::fs::read(&path).map_err(|e| {
        let why = if e.kind() == std::io::ErrorKind::NotFound { "is not there".into() } else { format!("could not be read ({e})") };
        Stop::Typed(format!("{} {why}. Fix: run cut first.", path.display()))
    })?;
    let plan: Plan = serde_json::from_slice(&read)
        .map_err(|e| Stop::Typed(format!("{} is not a plan of this version ({e}). Fix: run cut again.", path.display())))?;
    let mut new = Vec::new();
    for sheet in &plan.sheets {
        for l in sheet.left.iter().filter(|l| l.keep) {
            for _ in 0..sheet.count {
                new.push(New {
                    item: sheet.item.clone(),
                    length: l.size[0],
                    width: Some(l.size[1]),
                    mark: next(),
                });
            }
        }
    }
    for stick in plan.sticks.iter().filter(|s| s.left >= job.saw.keep.stick) {
        for _ in 0..stick.count {
            new.push(New {
                item: stick.item.clone(),
                length: stick.left,
                width: None,
                mark: next(),
            });
        }
    }
    Ok(new)
}

/// Refuses leftovers that stand on the rack already, every one of them.
fn not_twice(job: &Job, new: &[New]) -> Result<(), Stop> {
    let mut there: Vec<&Offcut> = job.rack.iter().filter(|o| o.is_left_by(&job.project.name)).collect();
    let mut known = Vec::new();
    for n in new {
        let same = |o: &&Offcut| o.item == n.item && o.length == n.length && o.width == n.width;
        let Some(at) = there.iter().position(same) else {
            return Ok(());
        };
        known.push(there.swap_remove(at).mark.as_str());
    }
    if known.is_empty() {
        return Ok(());
    }
    Err(Stop::Typed(format!(
        "what this plan leaves is on the rack already: {}. Fix: nothing, or put another piece there by its item and size.",
        known.join(", ")
    )))
}

/// The cells of a new row, in the order of [`HEADINGS`].
fn cells(job: &Job, new: &New, args: &PutArgs) -> Vec<(&'static str, String)> {
    let tape = job.project.tape;
    let row = job.stock_row(&new.item);
    let thick = row.and_then(crate::model::StockRow::thickness);
    let text = |t: &Option<String>| t.clone().unwrap_or_default();
    HEADINGS
        .into_iter()
        .map(|name| {
            let cell = match name {
                "mark" => new.mark.clone(),
                "item" => new.item.clone(),
                "length" => tape.print_exact(new.length),
                "width" => new.width.map(|w| tape.print_exact(w)).unwrap_or_default(),
                "thick" => thick.map(|t| tape.print_exact(t)).unwrap_or_default(),
                "grain" if row.is_some_and(|r| r.grain_along_width) => "width".into(),
                "grain" => "length".into(),
                // Of a piece that is typed nobody knows whose it was.
                "from_job" if args.leftovers => job.project.name.clone(),
                "where" => text(&args.place),
                "state" => "ready".into(),
                "note" => text(&args.note),
                _ => String::new(),
            };
            (name, cell)
        })
        .collect()
}
