//! Joins the rooms below into one result for a job: facts to tasks, tasks to answers, answers to a plan in working order.
//! The only caller of the referee: no plan leaves this room unchecked.

mod bare_fronts;
mod clearing;
mod filling;
mod finishing;
mod fitting;
mod frame_parts;
mod holes;
mod labour;
mod loading;
mod make;
mod mixing;
mod needs;
mod number;
mod ordering;
mod out_of_step;
mod replan;
mod rooms;
mod space;
mod steps;
mod stick_lengths;
mod tasks;
mod trim_blanks;
mod trim_corners;
mod trim_needs;
mod trim_sides;
mod trimming;
mod unplaced;
mod why;
mod work;

pub use bare_fronts::bare_fronts;
pub use clearing::clearing;
pub use finishing::{finish_job, finish_within};
pub use fitting::{Fitted, FittedRoute, fit_job};
pub use frame_parts::add_frame_parts;
pub use holes::Hole;
pub use make::{Outcome, PlanError, Progress, make_plan};
pub use mixing::choose_mixes;
pub use needs::{buy_list, derived_needs, route_facts};
pub use out_of_step::out_of_step;
pub use replan::{Rest, RestError, plan_rest};
pub use rooms::rooms;
pub use steps::{Step, steps};
pub use tasks::{Ask, MaterialTask, tasks};
pub use trimming::{ScribeStrip, TrimPlan, trim_job, trim_routes};
