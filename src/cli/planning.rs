//! What several verbs do alike: pick a route, plan it with progress shown, put files where they belong.

use super::ctx::Ctx;
use super::exit::Stop;
use super::load::{Loaded, extras};
use super::screen::safe;
use crate::files::write::{
    Foreign, MadeFile, RunLock, Stamp, cut_list_csv, json_text, put_made, sheet_dxf,
};
use crate::model::{Job, Plan};
use crate::plan::{Outcome, PlanError, Progress, TrimPlan, make_plan, trim_job, trim_routes};
use std::path::{Path, PathBuf};

/// The route a verb works on: `--route`, else the chosen run's, else the first.
pub(crate) fn route(job: &Job, asked: Option<&str>) -> Result<String, Stop> {
    let Some(asked) = asked else {
        return Ok(job.main_route().to_owned());
    };
    let routes = job.routes();
    if routes.contains(&asked) {
        return Ok(asked.to_owned());
    }
    Err(Stop::Typed(format!(
        "there is no route {asked:?} in this job. Fix: name one of {}.",
        routes.join(", ")
    )))
}

/// Plans a route. Sizes in the plan's words are those of her files, whatever unit is shown.
pub(crate) fn plan(ctx: &mut Ctx, job: &Job, route: &str) -> Result<Outcome, Stop> {
    let options = ctx.common.options();
    let screen = &mut ctx.screen;
    let mut last: Option<Progress> = None;
    let mut show = |p: Progress| {
        if last.as_ref() == Some(&p) {
            return;
        }
        let item = safe(&p.item);
        screen.progress(&match p.sheets {
            Some(n) => format!(
                "{route}, {item}: working, {n} so far, no fewer than {}",
                p.at_least
            ),
            None => format!("{route}, {item}: working"),
        });
        last = Some(p);
    };
    make_plan(job, route, &options, &mut show).map_err(|e| match e {
        PlanError::Refused(_) => Stop::Fault(e.to_string()),
        other => Stop::Typed(other.to_string()),
    })
}

/// Says once, without stopping, that a route does not go into its opening: what follows is reckoned all the same.
pub(crate) fn say_fit(ctx: &mut Ctx, loaded: &Loaded, route: &str) {
    let fitted = loaded.fitted(ctx);
    let found = fitted.and_then(|f| f.route(route)).map(|r| &r.sits);
    if let Some(why) = found
        .filter(|s| !s.not_known)
        .and_then(|s| s.why_not.as_deref())
    {
        ctx.caution(&format!(
            "Route {route} does not go into the opening: {why} What follows is reckoned all the same; `nookwright fit` says what would mend it."
        ));
    }
}

/// Trim of every route, planned once for everything that counts it.
pub(crate) fn trims(ctx: &Ctx, job: &Job) -> Result<Vec<TrimPlan>, Stop> {
    trim_routes(job, &ctx.common.options()).map_err(|e| Stop::Fault(e.to_string()))
}

/// Trim of one route.
pub(crate) fn trim(ctx: &Ctx, job: &Job, route: &str) -> Result<TrimPlan, Stop> {
    trim_job(job, route, &ctx.common.options()).map_err(|e| Stop::Fault(e.to_string()))
}

/// Where a run writes.
pub(crate) struct Place {
    dir: PathBuf,
    kept: PathBuf,
    foreign: Foreign,
    lock: RunLock,
}

impl Place {
    /// `made/` of the job folder, or the folder named with `--out`. Takes the lock, so that a second run stops here.
    pub(crate) fn take(ctx: &Ctx, out: Option<&Path>) -> Result<Self, Stop> {
        let (dir, kept, foreign) = match out {
            Some(dir) => (dir.to_owned(), dir.join("kept"), Foreign::Refuse),
            None => {
                let folder = ctx.folder();
                (folder.join("made"), folder.join("kept"), Foreign::Keep)
            }
        };
        let lock = RunLock::take(&dir)?;
        Ok(Self {
            dir,
            kept,
            foreign,
            lock,
        })
    }

    /// The path of a file in there.
    pub(crate) fn path(&self, name: &str) -> PathBuf {
        self.dir.join(name)
    }

    /// Writes all files or none, and says which of hers were kept and which of an older plan went.
    pub(crate) fn put(
        &self,
        ctx: &mut Ctx,
        files: &[MadeFile],
        stamp: Stamp<'_>,
    ) -> Result<(), Stop> {
        let put = put_made(
            &self.dir,
            &self.kept,
            files,
            stamp,
            self.foreign,
            &self.lock,
        )?;
        for path in &put.kept {
            ctx.note(&format!(
                "A file you had changed is kept as {}.",
                path.display()
            ));
        }
        if !put.older.is_empty() {
            ctx.caution(&format!(
                "Left in made/, though of an older plan than the one just made, which has no place for every part: {}.",
                put.older.join(", ")
            ));
        }
        if !put.gone.is_empty() {
            ctx.note(&format!(
                "Of an older plan, and taken away: {}.",
                put.gone.join(", ")
            ));
        }
        Ok(())
    }
}

/// The files every plan is written as: plan.json, the cut list, each sheet as DXF.
pub(crate) fn plan_files(loaded: &Loaded, plan: &Plan) -> Vec<MadeFile> {
    let extras = extras(loaded.tables.parts.as_ref());
    let mut files = vec![
        MadeFile::new("plan.json", json_text(plan)),
        MadeFile::new("cut-list.csv", cut_list_csv(&loaded.job, plan, &extras)),
    ];
    for (n, sheet) in plan.sheets.iter().enumerate() {
        let title = format!("plan {}, sheet {}, {}", plan.plan_number, n + 1, sheet.item);
        files.push(MadeFile::new(
            format!("sheets/sheet-{:02}.dxf", n + 1),
            sheet_dxf(sheet, &title),
        ));
    }
    files
}
