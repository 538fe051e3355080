//! `cut`: plans sheets and sticks, says how good the plan is, writes it.

use crate::cli::args::size;
use crate::cli::ctx::Ctx;
use crate::cli::exit::{Exit, Stop};
use crate::cli::load::{self, Loaded};
use crate::cli::planning::{self, Place, plan_files};
use crate::cli::plan_text;
use crate::cli::screen::{paragraph, safe};
use crate::files::read::{BareOptions, Reads, no_blade};
use crate::files::write::Stamp;
use crate::units::{ReadAs, Unit};
use std::path::PathBuf;

/// Plan sheets and sticks, and say how good the plan is
///
/// In a job folder, or with just a cut list: nookwright cut parts.csv --stock stock.csv
#[derive(clap::Args)]
pub(crate) struct Args {
    /// Just a cut list, without a job folder
    list: Option<PathBuf>,
    /// What the list can be cut from [default: 48 x 96 in sheets without a price]
    #[arg(long, value_name = "FILE")]
    stock: Option<PathBuf>,
    /// Width of wood the blade takes, for a bare list [default: 1/8 in]
    #[arg(long, value_name = "SIZE", allow_hyphen_values = true)]
    kerf: Option<String>,
    /// Taken off each factory edge, for a bare list [default: 1/8 in]
    #[arg(long, value_name = "SIZE", allow_hyphen_values = true)]
    clean_edge: Option<String>,
    /// The route to plan [default: the chosen one, else the first]
    #[arg(long, value_name = "NAME")]
    route: Option<String>,
    /// Write to this folder instead of made/; only files that this tool made are replaced
    #[arg(long, value_name = "FOLDER")]
    out: Option<PathBuf>,
}

pub(crate) fn run(args: &Args, ctx: &mut Ctx) -> Result<Exit, Stop> {
    if args.list.is_none() {
        for (name, given, instead) in [
            ("stock", args.stock.is_some(), "put stock.csv into the job folder"),
            ("kerf", args.kerf.is_some(), "set kerf under [saw] in project.toml"),
            ("clean-edge", args.clean_edge.is_some(), "set clean_edge under [saw] in project.toml"),
        ] {
            if given {
                return Err(Stop::Typed(format!(
                    "--{name} goes with a bare cut list, and none is named. Fix: name the list, as in \
                     nookwright cut parts.csv --{name} ...; or {instead}."
                )));
            }
        }
    }
    // A bare list has no made/ of its own: without --out nothing is written.
    let writes = args.list.is_none() || args.out.is_some();
    let (place, loaded) = if args.list.is_some() {
        let loaded = bare(args, ctx)?;
        let place = args.out.as_deref().map(|out| Place::take(ctx, Some(out))).transpose()?;
        (place, loaded)
    } else {
        let loaded = load::folder(ctx, &Reads::COMPARE)?;
        (Some(Place::take(ctx, args.out.as_deref())?), loaded)
    };
    let route = planning::route(&loaded.job, args.route.as_deref())?;
    planning::say_fit(ctx, &loaded, &route);
    let outcome = planning::plan(ctx, &loaded.job, &route)?;
    let plan = &outcome.plan;
    if let Some(place) = &place {
        let stamp = Stamp {
            verb: "cut",
            plan: Some(&plan.plan_number),
            lacking: !plan.unplaced.is_empty(),
        };
        place.put(ctx, &plan_files(&loaded, plan), stamp)?;
    }
    ctx.json(plan);
    let shown = loaded.shown(ctx);
    plan_text::say(ctx, &shown, plan);
    if loaded.job.bare_list {
        for d in &loaded.job.defaults {
            ctx.say(&paragraph("Taken: ", &safe(&format!("{} = {} ({})", d.place, d.value, d.why)), 7));
        }
    }
    for c in outcome.cautions.iter().chain(&outcome.at_the_saw) {
        ctx.caution(c);
    }
    match &place {
        Some(place) => ctx.say(&format!("Written: {}\n", safe(&place.path("plan.json").display().to_string()))),
        None if !writes => ctx.note("Nothing was written; name a folder with --out to have plan.json, the cut list and drawings."),
        None => {}
    }
    Ok(if plan.unplaced.is_empty() { Exit::Done } else { Exit::WillNotWork })
}

fn bare(args: &Args, ctx: &mut Ctx) -> Result<Loaded, Stop> {
    let unit = ctx.common.unit().unwrap_or(Unit::Inch);
    let read = |text: &Option<String>, name: &str| {
        text.as_deref()
            .map(|t| size(t, unit).map_err(|e| Stop::Typed(format!("--{name} {e}"))))
            .transpose()
    };
    let how = ReadAs { unit, ..ReadAs::default() };
    if let Some((typed, wrong)) = args.kerf.as_deref().and_then(|t| Some((t, no_blade(t, how)?))) {
        let text = format!("--kerf {typed:?}: {} Expected {}. Fix: {}", wrong.why, wrong.expected, wrong.fix);
        return Err(Stop::Typed(text));
    }
    let options = BareOptions {
        unit,
        kerf: read(&args.kerf, "kerf")?,
        clean_edge: read(&args.clean_edge, "clean-edge")?,
    };
    let list = args.list.as_deref().unwrap_or_else(|| std::path::Path::new(""));
    if ctx.common.folder.is_some() {
        return Err(Stop::Typed(
            "name either a job folder with --in or a bare cut list, not both.".into(),
        ));
    }
    load::bare(ctx, list, args.stock.as_deref(), &options)
}
