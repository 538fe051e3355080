//! `check`: every mistake and caution in her files at once, and every value she did not give.

use crate::cli::ctx::Ctx;
use crate::cli::exit::{Exit, Stop};
use crate::cli::load;
use crate::cli::problems::{self, ProblemsDoc};
use crate::cli::screen::{paragraph, safe};
use crate::cli::table::{Align, Table};
use crate::files::read::{Reads, read_folder};
use crate::model::{DefaultUsed, Severity};
use crate::plan::{crowded_boxes, out_of_step};
use serde::Serialize;

/// Read every file of the job and name what is wrong in it
#[derive(clap::Args)]
pub(crate) struct Args {
    /// List every value that was not given, and what is taken instead
    #[arg(long)]
    defaults: bool,
}

#[derive(Serialize)]
struct DefaultDoc<'a> {
    place: &'a str,
    value: &'a str,
    why: &'a str,
}

pub(crate) fn run(args: &Args, ctx: &mut Ctx) -> Result<Exit, Stop> {
    let read = read_folder(&ctx.folder(), &Reads::EVERYTHING)?;
    let found = &read.problems;
    let none = Vec::new();
    let defaults = read.job.as_ref().map_or(&none, |j| &j.defaults);
    ctx.json(&ProblemsDoc {
        mistakes: problems::docs(found, Severity::Mistake),
        cautions: problems::docs(found, Severity::Caution),
        defaults: args.defaults.then(|| {
            let doc = |d: &'_ DefaultUsed| (d.place.clone(), d.value.clone(), d.why.clone());
            defaults.iter().map(doc).collect::<Vec<_>>()
        })
        .map(|list| list.iter().map(|(p, v, w)| serde_json::json!(DefaultDoc { place: p, value: v, why: w })).collect::<Vec<_>>()),
    });
    let mistake = read.job.is_none() || found.iter().any(|p| p.severity == Severity::Mistake);
    let shown: Vec<_> = found
        .iter()
        .filter(|p| p.severity == Severity::Mistake || !ctx.screen.quiet)
        .cloned()
        .collect();
    ctx.say(&problems::text(&shown));
    if args.defaults && read.job.is_some() {
        list_defaults(ctx, defaults);
    }
    if let (Some(job), false) = (&read.job, mistake) {
        let parts: u32 = job.parts.iter().map(crate::model::Part::count).sum();
        let of = |n: usize, what: &str| format!("{n} {what}{}", if n == 1 { "" } else { "s" });
        let routes = job.routes();
        let text = format!(
            "{}: {} in {}, {}, {}, {} on the rack; {} {}.",
            job.project.name,
            of(parts as usize, "part"),
            of(job.parts.len(), "row"),
            of(job.stock.len(), "stock row"),
            of(job.prefab.len(), "flat-pack row"),
            job.rack.len(),
            if routes.len() == 1 { "route" } else { "routes" },
            routes.join(", "),
        );
        ctx.say(&paragraph("", &safe(&text), 0));
    }
    ctx.say(&format!("{}\n", problems::count(found)));
    if mistake {
        return Ok(Exit::Mistake);
    }
    if let Some(said) = read.job.as_ref().and_then(out_of_step) {
        ctx.caution(&said);
        if ctx.common.strict {
            return Ok(Exit::Mistake);
        }
    }
    if let (Some(job), false) = (&read.job, mistake) {
        let routes = job.routes();
        let crowded: Vec<String> = routes.iter().flat_map(|r| crowded_boxes(job, r)).collect();
        for c in &crowded {
            ctx.caution(&safe(c));
        }
        if ctx.common.strict && !crowded.is_empty() {
            return Ok(Exit::Mistake);
        }
    }
    let again = read.job.as_ref().map(load::disagreeing).unwrap_or_default();
    if !again.is_empty() {
        ctx.caution(&format!(
            "Survey readings disagree: take again {}. `nookwright survey` says why.",
            again.join(", ")
        ));
        if ctx.common.strict {
            return Ok(Exit::Disagree);
        }
    }
    Ok(if ctx.common.strict && !found.is_empty() { Exit::Mistake } else { Exit::Done })
}

fn list_defaults(ctx: &mut Ctx, defaults: &[DefaultUsed]) {
    ctx.heading("VALUES NOT GIVEN");
    let mut table = Table::new(&[("where", Align::Left), ("taken", Align::Left), ("why", Align::Wrap)]);
    for d in defaults {
        table.row(&[&d.place, &d.value, &d.why]);
    }
    let text = if table.is_empty() {
        "  Every value was given.\n".into()
    } else {
        table.text(ctx.rule())
    };
    ctx.say(&format!("{text}\n"));
}
