//! `parts`: the cut list the runs draw, against the one in the folder; written only where it is asked for.

use crate::boxes::{Assembly, Difference, Fate, NO_RECORD, Record, Sag, Verdict};
use crate::boxes::{assemblies, boxes_sag, compare, drawn, outsides, pin_size, record_after, rows_after};
use crate::cli::ctx::Ctx;
use crate::cli::exit::{Exit, Stop};
use crate::cli::load::{self, Loaded};
use crate::cli::planning::{self, Place};
use crate::cli::rows::{HEADINGS, RowDoc, band_word, cell, changed_cells, size_text};
use crate::cli::screen::{paragraph, safe};
use crate::cli::table::{Align, Table};
use crate::files::read::{RawTable, Reads};
use crate::files::write::{CsvEdit, MadeFile, Stamp, change_csv, json_text, new_csv};
use crate::model::{Job, Part};
use crate::opening::survey_by;
use crate::plan::{Base, Step, bare_fronts, bases, crowded_boxes, rooms, steps};
use crate::units::{Tape, Unit};
use serde::Serialize;

/// Where it is remembered what the runs drew.
const RECORD: &str = "parts-drawn.json";

/// Draw the cut list from the runs of boxes and show what differs from parts.csv
#[derive(clap::Args)]
pub(crate) struct Args {
    /// Add the rows that are not in parts.csv yet
    #[arg(long)]
    write: bool,
    /// Also change the rows that the runs draw otherwise now, and take out those they draw no more
    #[arg(long)]
    redraw: bool,
    /// Also plan the sheets and say at which sizes of the boxes the number of sheets changes
    #[arg(long)]
    steps: bool,
}

#[derive(Serialize)]
struct ChangeDoc<'a> {
    change: Fate,
    mark: &'a str,
    from: Option<RowDoc<'a>>,
    to: Option<RowDoc<'a>>,
    why: &'a str,
}

#[derive(Serialize)]
struct PartsDoc<'a> {
    rows: Vec<RowDoc<'a>>,
    changes: Vec<ChangeDoc<'a>>,
    boxes: &'a [Assembly],
    bases: &'a [Base],
    sag: &'a [Sag],
    #[serde(skip_serializing_if = "Option::is_none")]
    steps: Option<&'a [Step]>,
    written: bool,
    kept: Option<String>,
}

pub(crate) fn run(args: &Args, ctx: &mut Ctx) -> Result<Exit, Stop> {
    let what = Reads {
        offcuts: false,
        rows_may_lack: true,
        ..Reads::CUT
    };
    let loaded = load::folder(ctx, &what)?;
    let job = &loaded.job;
    let rooms = rooms(job);
    let fresh = drawn(job, &rooms).map_err(Stop::Problems)?;
    let made = ctx.folder().join("made").join(RECORD);
    // Without rows of hers, what was loaded is what the runs draw, and none of it is hers yet.
    let rows_there = loaded.tables.parts.as_ref().is_some_and(|t| !t.rows.is_empty());
    let hers: &[Part] = if rows_there { &job.parts } else { &[] };
    // A list that is gone or empty is begun anew: no row of it was taken out for a reason.
    let record = std::fs::read(made).ok().filter(|_| !hers.is_empty());
    let record = record.and_then(|b| Record::read(&b));
    let changes = compare(hers, &fresh, record.as_ref(), job.parts_route());
    let rows = rows_after(hers, &changes);
    let mut boxes = Vec::new();
    let mut sag = Vec::new();
    let mut under = Vec::new();
    for route in job.routes() {
        boxes.extend(assemblies(job, route, &rooms, &rows).map_err(Stop::Problems)?);
        under.extend(bases(job, route));
    }
    for (run, room) in job.runs.iter().zip(&rooms).filter(|(r, _)| r.has_boxes()) {
        sag.extend(boxes_sag(job, run, &outsides(job, run, room).map_err(Stop::Problems)?));
    }
    let shown = loaded.shown(ctx);
    let mut found = Vec::new();
    if args.steps {
        let tape = shown.project.tape;
        for route in job.routes() {
            if job.runs.iter().any(|r| r.route == route && r.has_boxes()) {
                let plan = planning::plan(ctx, job, route)?.plan;
                found.extend(steps(job, &plan, &ctx.common.options(), tape));
            }
        }
    }
    let mut kept = None;
    let write = (args.write || args.redraw) && !fresh.is_empty();
    if write {
        let place = Place::take(ctx, None)?;
        kept = put(ctx, &loaded, &changes, args.redraw)?;
        let record = record_after(record.as_ref(), &changes, args.redraw);
        let stamp = Stamp { verb: "parts", plan: None, lacking: false };
        place.put(ctx, &[MadeFile::new(RECORD, json_text(&record))], stamp)?;
    }
    let differs: Vec<&Difference> = changes.iter().filter(|c| c.fate != Fate::Same).collect();
    ctx.json(&PartsDoc {
        rows: rows.iter().map(RowDoc::of).collect(),
        changes: differs
            .iter()
            .map(|c| ChangeDoc {
                change: c.fate,
                mark: c.part().map_or("", |p| &p.mark),
                from: c.before.as_ref().map(RowDoc::of),
                to: c.after.as_ref().map(RowDoc::of),
                why: &c.why,
            })
            .collect(),
        boxes: &boxes,
        bases: &under,
        sag: &sag,
        steps: args.steps.then_some(&found),
        written: write,
        kept: kept.clone(),
    });
    for route in job.routes() {
        if job.runs.iter().any(|r| r.route == route && r.has_boxes()) {
            planning::say_fit(ctx, &loaded, route);
        }
    }
    list(ctx, &shown, &changes);
    inside(ctx, &shown, &boxes, &under, &sag);
    if args.steps {
        worth_knowing(ctx, &found);
    }
    let pending = |fates: &[Fate]| differs.iter().any(|c| fates.contains(&c.fate));
    // Left as they are by --write alone.
    let behind = !args.redraw && pending(&[Fate::Changed, Fate::Gone]);
    let beside: Vec<&str> = differs
        .iter()
        .filter(|c| c.fate == Fate::Left && c.after.is_none())
        .filter_map(|c| Some(c.before.as_ref()?.mark.as_str()))
        .collect();
    if !beside.is_empty() {
        ctx.caution(&format!(
            "Rows {} are yours and no run draws them, in boxes that a run draws: they are cut beside its rows. Take them out of parts.csv if they are left over from before.",
            safe(&beside.join(" "))
        ));
    }
    let alone: Vec<&str> = differs
        .iter()
        .filter(|c| c.fate == Fate::Left && c.why == NO_RECORD)
        .filter_map(|c| Some(c.before.as_ref()?.mark.as_str()))
        .collect();
    if !alone.is_empty() {
        ctx.caution(&format!(
            "Rows {} differ from what the runs draw, and made/{RECORD}, which says what was drawn before, is gone: each differs alone, so it may be yours, and it is left as it is. Where it is not, type what the run would draw, as named above, into parts.csv.",
            safe(&alone.join(" "))
        ));
    }
    let last = match (&kept, write) {
        _ if fresh.is_empty() => "No run of this job has boxes, so nothing is drawn and parts.csv is yours alone.".to_owned(),
        (Some(kept), _) => {
            let rest = if behind {
                " Rows that the runs draw otherwise now stand in it as they were: parts --redraw changes them and takes out those that are drawn no more. Until then both are cut."
            } else {
                ""
            };
            format!("parts.csv is changed; as it was it is kept as {kept}.{rest}")
        }
        (None, true) if loaded.tables.parts.is_none() => "parts.csv is begun.".to_owned(),
        (None, true) if behind => "Nothing was written: no row is new. parts --redraw changes the rows that the runs draw otherwise now.".to_owned(),
        (None, true) if pending(&[Fate::Left]) => format!("Nothing was written: what is marked yours is left alone. To have rows that you took out drawn again, delete made/{RECORD}."),
        (None, true) => "Nothing had to be written.".to_owned(),
        (None, false) if pending(&[Fate::Changed, Fate::Gone]) => "Nothing was written. parts --write adds what is new; parts --redraw also changes the rest.".to_owned(),
        (None, false) if pending(&[Fate::Added]) => "Nothing was written. parts --write adds what is new.".to_owned(),
        (None, false) if pending(&[Fate::Left]) => "Beside what is marked yours, parts.csv says what the runs draw.".to_owned(),
        (None, false) => "parts.csv says what the runs draw.".to_owned(),
    };
    ctx.say(&format!("{}\n", safe(&last)));
    let survey = job.opening.as_ref().map(|o| survey_by(o, job.project.tape));
    for route in job.routes() {
        let of_route = |p: &&Part| p.route.as_deref().unwrap_or_else(|| job.parts_route()) == route;
        let parts: Vec<&Part> = rows.iter().filter(of_route).collect();
        let crowded = crowded_boxes(&shown, route);
        for c in crowded.into_iter().chain(bare_fronts(job, route, &parts, survey.as_ref())) {
            ctx.caution(&safe(&c));
        }
    }
    for s in sag.iter().filter(|s| s.verdict == Verdict::Shows) {
        ctx.caution(&format!("{} {}", s.shelf, s.words));
    }
    Ok(Exit::Done)
}

/// Writes the changes that were asked for; `Some` names the kept copy of a file that was changed.
fn put(ctx: &mut Ctx, loaded: &Loaded, changes: &[Difference], redraw: bool) -> Result<Option<String>, Stop> {
    let tape = loaded.job.project.tape;
    let Some(table) = &loaded.tables.parts else {
        let route = changes.iter().filter_map(|c| c.after.as_ref()).any(|p| p.route.is_some());
        let heads: Vec<&str> = HEADINGS.iter().copied().filter(|h| route || *h != "route").collect();
        let added = changes.iter().filter(|c| c.fate == Fate::Added).filter_map(|c| c.after.as_ref());
        let rows: Vec<Vec<String>> = added.map(|p| heads.iter().map(|h| cell(p, h, tape)).collect()).collect();
        new_csv(&ctx.folder().join("parts.csv"), &heads, &rows)?;
        return Ok(None);
    };
    let mut edits = Vec::new();
    let mut lost: Vec<String> = Vec::new();
    for c in changes {
        match (c.fate, &c.before, &c.after) {
            (Fate::Added, _, Some(after)) => edits.push(CsvEdit::Add {
                cells: added_cells(table, after, &loaded.job, &mut lost),
            }),
            (Fate::Changed, Some(before), Some(after)) if redraw => {
                let mut cells = Vec::new();
                for (column, text) in changed_cells(before, after, tape) {
                    match table.column(column) {
                        Some(at) => cells.push((at, text)),
                        None => lost.push(format!("{} {column} = {text}", after.mark)),
                    }
                }
                edits.push(CsvEdit::Set { row: before.row, cells });
            }
            (Fate::Gone, Some(before), _) if redraw => edits.push(CsvEdit::Remove { row: before.row }),
            _ => {}
        }
    }
    if edits.is_empty() {
        return Ok(None);
    }
    let kept = change_csv(&table.path, &ctx.folder().join("kept"), table.separator, &edits)?;
    if !lost.is_empty() {
        ctx.caution(&format!(
            "{} has no column for: {}. Add the heading and type it, or run parts --redraw again after that.",
            table.file,
            lost.join("; ")
        ));
    }
    Ok(Some(kept.display().to_string()))
}

fn added_cells(table: &RawTable, part: &Part, job: &Job, lost: &mut Vec<String>) -> Vec<String> {
    let mut cells = vec![String::new(); table.headings.cells.len()];
    for head in HEADINGS {
        let text = cell(part, head, job.project.tape);
        match table.column(head) {
            Some(at) => cells[at] = text,
            // Words and groups can be done without; what the saw needs cannot.
            None if !text.is_empty() && matches!(*head, "grain" | "band" | "route" | "from") && text != "length" => {
                lost.push(format!("{} {head} = {text}", part.mark));
            }
            None => {}
        }
    }
    cells
}

fn list(ctx: &mut Ctx, job: &Job, changes: &[Difference]) {
    let tape = job.project.tape;
    ctx.heading(&format!("THE CUT LIST AS THE RUNS DRAW IT, sizes in {}", unit_word(tape)));
    let mut table = Table::new(&[
        ("", Align::Left),
        ("mark", Align::Left),
        ("what", Align::Wrap),
        ("count", Align::Right),
        ("length", Align::Right),
        ("width", Align::Right),
        ("item", Align::Left),
        ("band", Align::Left),
    ]);
    for c in changes {
        let Some(p) = c.after.as_ref().or(c.before.as_ref()) else { continue };
        let sign = match c.fate {
            Fate::Same => "",
            Fate::Added => "new",
            Fate::Changed => "changed",
            Fate::Gone => "gone",
            Fate::Left => "yours",
        };
        let (length, width) = size_text(p, tape);
        table.row(&[sign, &p.mark, &p.what, &p.how_many.to_string(), &length, &width, &p.item, &band_word(p.band)]);
    }
    if !table.is_empty() {
        let text = table.text(ctx.rule());
        ctx.say(&format!("{text}\n"));
    }
    for c in changes {
        let text = match (c.fate, &c.before, &c.after) {
            (Fate::Changed, Some(before), Some(after)) => {
                let old = cells_of(before, after, job);
                format!("{} changes: {old}.", before.mark)
            }
            (Fate::Left, Some(before), Some(after)) => {
                format!("{} is left alone ({}). The run would draw: {}.", before.mark, c.why, cells_of(before, after, job))
            }
            (Fate::Left, Some(before), None) => format!("{} is left alone: {}.", before.mark, c.why),
            (Fate::Left, None, Some(after)) => format!("{} is left out: {}.", after.what, c.why),
            _ => continue,
        };
        ctx.say(&paragraph("  ", &safe(&text), 4));
    }
}

/// `length 88 to 90; how_many 2 to 3`
fn cells_of(before: &Part, after: &Part, job: &Job) -> String {
    let tape = job.project.tape;
    let old = |column: &str| {
        let text = cell(before, column, tape);
        if text.is_empty() { "nothing".to_owned() } else { text }
    };
    let steps = changed_cells(before, after, tape);
    let words: Vec<String> = steps.into_iter().map(|(column, new)| format!("{column} {} to {new}", old(column))).collect();
    words.join("; ")
}

fn inside(ctx: &mut Ctx, job: &Job, boxes: &[Assembly], under: &[Base], sag: &[Sag]) {
    let tape = job.project.tape;
    for b in boxes {
        let mut words = format!("{}: both diagonals read {}.", b.in_box, tape.print_with_unit(b.diagonal));
        if let Some(h) = &b.pins {
            words += &format!(
                " {} rows of {} holes, the first {} from the bottom edge, then every {}; {} holes, {} pins, {} to fill if only those with a pin stay.",
                h.rows,
                h.in_row,
                pin_size(tape, h.first),
                pin_size(tape, h.pitch),
                h.holes,
                h.pins,
                h.to_fill
            );
        }
        if let Some(r) = &b.rail {
            words += &format!(" Rail {}.", tape.print_with_unit(r.length));
        }
        ctx.say(&paragraph("  ", &safe(&words), 4));
    }
    for b in under {
        let marks: Vec<String> = b.ladder.marks().iter().map(|m| tape.print(*m)).collect();
        let words = format!(
            "Base under {}: {} long, {} deep, {} high; left faces of the crosspieces at {} from its left end.",
            b.under.join(", "),
            tape.print(b.ladder.long),
            tape.print(b.ladder.depth()),
            tape.print(b.ladder.high),
            marks.join(", ")
        );
        ctx.say(&paragraph("  ", &safe(&words), 4));
    }
    if boxes.is_empty() {
        return;
    }
    ctx.say("\n");
    let mut table = Table::new(&[("shelf", Align::Left), ("span", Align::Right), ("under load", Align::Wrap)]);
    for s in sag {
        table.row(&[&s.shelf, &tape.print(s.span), &s.words]);
    }
    let text = table.text(ctx.rule());
    ctx.say(&text);
    ctx.say(&paragraph("  ", "Span: clear between what holds it. A shelf let into its sides is longer by that, a loose one shorter by its play; beside a partition each bay counts.", 2));
    ctx.say("\n");
}

/// Where a size of a box changes the number of sheets, and as far as it does not.
fn worth_knowing(ctx: &mut Ctx, found: &[Step]) {
    ctx.heading("STEPS WORTH KNOWING, by the sheets alone: look at fit before you change a size");
    for s in found {
        ctx.say(&paragraph("  ", &safe(&s.words), 4));
    }
    if found.is_empty() {
        ctx.say("  None was looked for: no row of the cut list for sheets is as the runs draw it, so none follows a box.\n");
    }
    ctx.say("\n");
}

const fn unit_word(tape: Tape) -> &'static str {
    match tape.unit {
        Unit::Inch => "inches",
        Unit::Mm => "millimetres",
    }
}
