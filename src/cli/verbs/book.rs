//! `book`: the printed build book of a route, with everything it is made from.

use super::buy::buy_csv;
use crate::book::{BookInput, For, LabelOptions, Stationery, make_book};
use crate::car::cartons_unknown;
use crate::cli::args::PaperWord;
use crate::cli::ctx::Ctx;
use crate::cli::exit::{Exit, Stop};
use crate::cli::load;
use crate::cli::planning::{self, Place, plan_files};
use crate::cli::screen::safe;
use crate::cli::table::{Align, Table};
use crate::costs::compare_with;
use crate::files::read::Reads;
use crate::files::write::{MadeFile, Stamp};
use crate::model::Plan;
use crate::plan::{buy_list, finish_within, route_facts, steps};
use serde::Serialize;
use std::path::PathBuf;

/// Print the build book: what to cut, buy and stick on, page by page
#[derive(clap::Args)]
pub(crate) struct Args {
    /// The route to print [default: the chosen one, else the first]
    #[arg(long, value_name = "NAME")]
    route: Option<String>,
    /// Paper [default: the job's]
    #[arg(long, value_enum)]
    paper: Option<PaperWord>,
    /// Label stationery
    #[arg(long, value_enum, default_value_t = LabelWord::Usual)]
    labels: LabelWord,
    /// First free label on a part-used page of labels, counted from 1
    #[arg(long, value_name = "N", default_value_t = 1, value_parser = clap::value_parser!(u32).range(1..=500))]
    from: u32,
    /// Only the pages to take there
    #[arg(long = "for", value_name = "WHERE", value_enum)]
    only: Option<ForWord>,
    /// Add full-size templates of the scribe strips, tiled over pages with crosses to lay on one another
    #[arg(long)]
    templates: bool,
    /// Write to this folder instead of made/; only files that this tool made are replaced
    #[arg(long, value_name = "FOLDER")]
    out: Option<PathBuf>,
}

/// `--for`
#[derive(Clone, Copy, PartialEq, Eq, Debug, clap::ValueEnum)]
enum ForWord {
    /// To the saw
    Saw,
    /// To the store
    Store,
    /// To the closet
    Closet,
    /// To the paint stage
    Paint,
}

#[derive(Serialize)]
struct BookDoc<'a> {
    pdf: String,
    plan_number: &'a str,
    files: Vec<String>,
    pages: Vec<PageDoc<'a>>,
    cautions: &'a [String],
}
#[derive(Serialize)]
struct PageDoc<'a> {
    title: &'a str,
    page: usize,
    pages: usize,
}

impl ForWord {
    const fn what(self) -> For {
        match self {
            Self::Saw => For::Saw,
            Self::Store => For::Store,
            Self::Closet => For::Closet,
            Self::Paint => For::Paint,
        }
    }
}

/// `--labels`
#[derive(Clone, Copy, PartialEq, Eq, Debug, clap::ValueEnum)]
enum LabelWord {
    /// The usual label pages: 30 on Letter, 24 on A4
    Usual,
    /// Plain paper with lines to cut along
    Plain,
}

pub(crate) fn run(args: &Args, ctx: &mut Ctx) -> Result<Exit, Stop> {
    let loaded = load::folder(ctx, &Reads::COMPARE)?;
    let place = Place::take(ctx, args.out.as_deref())?;
    let job = &loaded.job;
    let route = planning::route(job, args.route.as_deref())?;
    let mut plans: Vec<(&str, Plan)> = Vec::new();
    let mut cautions = Vec::new();
    for name in job.routes() {
        let outcome = planning::plan(ctx, job, name)?;
        if name == route {
            cautions.clone_from(&outcome.cautions);
        }
        plans.push((name, outcome.plan));
    }
    let Some(plan) = plans.iter().find(|(r, _)| *r == route).map(|(_, p)| p) else {
        return Err(Stop::Fault("the route that was picked was not planned".into()));
    };
    let trims = planning::trims(ctx, job)?;
    let Some(trimmed) = trims.iter().find(|t| t.route == route) else {
        return Err(Stop::Fault("the route that was picked was not trimmed".into()));
    };
    cautions.extend(trimmed.cautions.iter().cloned());
    cautions.extend(trimmed.on_sticks.iter().cloned());
    let list = buy_list(job, &route, plan, trimmed);
    cautions.extend(cartons_unknown(job, &list));
    // One route alone has nothing to be compared with.
    let by_ref: Vec<(&str, &Plan)> = plans.iter().map(|(r, p)| (*r, p)).collect();
    let comparison = (plans.len() > 1).then(|| compare_with(job, &by_ref, &route_facts(job, &by_ref, &trims)));
    let shown = loaded.shown(ctx);
    let fitted = loaded.fitted(ctx);
    let sits = fitted.and_then(|f| f.route(&route));
    let wants = sits.map_or(&[][..], |r| &r.sits.wants);
    cautions.extend(wants.iter().filter_map(|w| w.short(shown.project.tape)));
    let painted = finish_within(job, &route, plan, trimmed);
    let found = steps(job, plan, &ctx.common.options(), shown.project.tape);
    let book = make_book(&BookInput {
        job: &shown,
        plan,
        buy: Some(&list),
        comparison: comparison.as_ref(),
        finish: Some(&painted),
        trim: Some(trimmed),
        fitted,
        steps: &found,
        cautions,
        paper: args.paper.map_or(job.project.paper, PaperWord::paper),
        only: args.only.map(ForWord::what),
        labels: LabelOptions {
            on: match args.labels {
                LabelWord::Usual => Stationery::Usual,
                LabelWord::Plain => Stationery::Plain,
            },
            from: args.from,
        },
        templates: args.templates,
    });
    let mut files = plan_files(&loaded, plan);
    files.push(MadeFile::new("build-book.pdf", book.pdf));
    files.push(MadeFile::new("build-book.txt", book.text));
    files.push(MadeFile::new("buy.csv", buy_csv(&list)));
    if !book.labels_pdf.is_empty() {
        files.push(MadeFile::new("labels.pdf", book.labels_pdf));
    }
    if !book.store_cuts_pdf.is_empty() {
        files.push(MadeFile::new("store-cuts.pdf", book.store_cuts_pdf));
    }
    for (name, svg) in book.sheet_svgs {
        files.push(MadeFile::new(format!("sheets/{name}"), svg));
    }
    let stamp = Stamp {
        verb: "book",
        plan: Some(&plan.plan_number),
        lacking: !plan.unplaced.is_empty(),
    };
    place.put(ctx, &files, stamp)?;
    let pdf = place.path("build-book.pdf").display().to_string();
    ctx.json(&BookDoc {
        pdf: pdf.clone(),
        plan_number: &plan.plan_number,
        files: files.iter().map(|f| f.name.clone()).collect(),
        pages: book
            .page_list
            .iter()
            .map(|p| PageDoc {
                title: &p.title,
                page: p.page,
                pages: p.pages,
            })
            .collect(),
        cautions: &book.cautions,
    });
    ctx.say(&format!("{}\n\n", safe(&pdf)));
    ctx.heading(&safe(&format!("Plan {}, route {route}", plan.plan_number)));
    let mut table = Table::new(&[("page", Align::Right), ("what", Align::Wrap), ("pages", Align::Right)]);
    for p in &book.page_list {
        table.row(&[p.page.to_string(), p.title.clone(), p.pages.to_string()]);
    }
    let text = table.text(ctx.rule());
    ctx.say(&text);
    for c in &book.cautions {
        ctx.caution(c);
    }
    for u in &plan.unplaced {
        ctx.caution(&format!("{} of {} found no place: {}", u.count, u.mark, u.why));
    }
    Ok(if plan.unplaced.is_empty() && !loaded.no_mix(&route) { Exit::Done } else { Exit::WillNotWork })
}
