//! How the routes of a job sit in its opening: the survey, the fit, and how far shelves sag, joined.

use super::holes::{Hole, holes};
use crate::boxes::{Outside, Sag, boxes_sag, frames_sag};
use crate::model::mix::Mixes;
use crate::model::{Job, WallSide};
use crate::opening::{RouteFit, Survey, fit_shown, row, survey_shown};
use crate::units::Tape;
use serde::Serialize;

/// One route, with its shelves.
#[derive(Clone, PartialEq, Debug, Serialize)]
pub struct FittedRoute {
    /// How it sits.
    #[serde(flatten)]
    pub sits: RouteFit,
    /// Every kind of shelf and rail, and how far it sags.
    pub sag: Vec<Sag>,
    /// Holes in the backs of its boxes.
    pub holes: Vec<Hole>,
}

/// The whole job in its opening.
#[derive(Clone, PartialEq, Debug, Serialize)]
pub struct Fitted {
    /// The survey it rests on.
    #[serde(skip)]
    pub survey: Survey,
    /// In the order of the job's routes.
    pub routes: Vec<FittedRoute>,
    /// The best mixes of frames, for each route that leaves them open: [`Fitted::with_mixes`].
    pub mixes: Vec<Mixes>,
    /// Readings not taken yet, and those to take again.
    pub provisional: Vec<String>,
}

impl Fitted {
    /// The route of that name.
    pub fn route(&self, name: &str) -> Option<&FittedRoute> {
        self.routes.iter().find(|r| r.sits.route == name)
    }

    /// With the mixes that were chosen: a route that no mix of its frames fits does not go, and nothing is missing to know it.
    #[must_use]
    pub fn with_mixes(mut self, mixes: Vec<Mixes>) -> Self {
        for of in mixes.iter().filter(|m| m.none_fits()) {
            for route in self.routes.iter_mut().filter(|r| r.sits.route == of.route) {
                let sits = &mut route.sits;
                sits.fits = false;
                sits.not_known = false;
                sits.why_not = Some("No mix of the frames in prefab.csv fits.".into());
                sits.mends = vec!["List smaller frames in prefab.csv, or build boxes.".into()];
            }
        }
        self.mixes = mixes;
        self
    }
}

/// Surveys the opening and stands every route in it; `None` where the job has no opening. Words are in the sizes of `shown`.
pub fn fit_job(job: &Job, shown: Tape) -> Option<Fitted> {
    let opening = job.opening.as_ref()?;
    let survey = survey_shown(opening, job.project.tape, shown);
    let routes = fit_shown(job, &survey, shown)
        .routes
        .into_iter()
        .map(|mut sits| {
            let holes = holes(job, &sits.route, &sits.cut_outs);
            let before = holes.iter().flat_map(|h| h.before(shown));
            sits.cautions.extend(before);
            FittedRoute {
                sag: sag(job, &survey, &sits.route),
                holes,
                sits,
            }
        })
        .collect();
    let mut provisional = survey.provisional.clone();
    provisional.extend(survey.take_again.iter().map(|t| t.reading.clone()));
    Some(Fitted {
        survey,
        routes,
        mixes: Vec::new(),
        provisional,
    })
}

/// Shelves and rails of every run of a route.
fn sag(job: &Job, survey: &Survey, route: &str) -> Vec<Sag> {
    let mut list = Vec::new();
    for run in job.runs.iter().filter(|r| r.route == route) {
        let frames = job.listed_frames(run);
        if !run.has_boxes() {
            list.extend(frames_sag(job, run, &frames));
        } else if let Some(row) = row(job, survey, run, &frames) {
            let sizes: Vec<Outside> = row
                .boxes
                .iter()
                .map(|b| Outside {
                    width: b.width,
                    height: b.height,
                    depth: b.depth,
                })
                .collect();
            let mut found = boxes_sag(job, run, &sizes);
            if run.wall != WallSide::Back {
                for s in &mut found {
                    s.shelf.insert_str(0, "side wall, ");
                }
            }
            list.append(&mut found);
        }
    }
    list
}
