//! What filling, priming and painting come to: areas, coats, goods by rule, steps with their dates.

use crate::model::compare::BuyLine;
use serde::Serialize;

/// What a face is before it is painted.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Ground {
    /// Bare wood or board.
    Raw,
    /// Primed when bought.
    Primed,
    /// Finished in a factory: gloss that paint does not hold on by itself.
    Factory,
    /// Plaster of the closet itself.
    Wall,
}

/// Where it is painted.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Serialize)]
pub enum PaintedAt {
    /// Primed flat before assembly, painted when it stands.
    #[serde(rename = "bench")]
    Bench,
    /// Every coat by itself: loose shelves, doors, rails.
    #[serde(rename = "apart")]
    Apart,
    /// Everything where it stands.
    #[serde(rename = "in place")]
    InPlace,
}

/// Faces of one kind, added up.
#[derive(Clone, PartialEq, Debug, Serialize)]
pub struct Surface {
    /// What: `loose shelves`.
    pub what: String,
    /// Marks of the parts, stock rows or units in it.
    pub marks: Vec<String>,
    /// What they are before.
    pub ground: Ground,
    /// Where they are painted.
    pub at: PaintedAt,
    /// Which faces and edges count, in words.
    pub rule: String,
    /// How the faces add up: `9 x 20 11/16 x 22 3/4, both faces`.
    pub sum: String,
    /// How many faces.
    pub pieces: f64,
    /// Their length, one behind the other, in feet.
    pub run_ft: f64,
    /// Faces, in square feet.
    pub face_sq_ft: f64,
    /// Edges, in square feet, raw ones doubled.
    pub edge_sq_ft: f64,
    /// Both.
    pub sq_ft: f64,
}

/// One product over one area.
#[derive(Clone, PartialEq, Debug, Serialize)]
pub struct Coat {
    /// `primer`, `bonding primer`, `paint`, `wall paint`, `oil`, `clear finish`.
    pub what: String,
    /// How often.
    pub coats: u32,
    /// Area of one coat, in square feet.
    pub sq_ft: f64,
    /// Stock row; `None` = no row of stock.csv is one.
    pub item: Option<String>,
    /// How far it goes, in square feet a gallon, and whose figure that is.
    pub sq_ft_a_gallon: f64,
    /// `her row` or where the figure is from.
    pub source: String,
    /// Gallons, before waste.
    pub gallons: f64,
}

/// Goods that a rule asks for.
#[derive(Clone, PartialEq, Debug, Serialize)]
pub struct GoodsRule {
    /// What for: `caulk`.
    pub what: String,
    /// How much the rule makes it, in words.
    pub amount: String,
    /// The rule with its numbers.
    pub rule: String,
    /// Published source, or `common practice, no source`.
    pub source: String,
    /// Stock row it is bought as; `None` = no row of stock.csv is one.
    pub item: Option<String>,
    /// True where a `[[need]]` row gives another amount.
    pub hers: bool,
}

/// One step of the work.
#[derive(Clone, PartialEq, Debug, Serialize)]
pub struct FinishStep {
    /// What is done.
    pub what: String,
    /// Where.
    pub at: PaintedAt,
    /// Hours of work.
    pub hours: f64,
    /// Hours of drying before the next.
    pub dry_hours: u32,
    /// First day of work, ISO 8601; `None` where no day can be told.
    pub from: Option<String>,
    /// Last day of work.
    pub to: Option<String>,
}

/// One task of the whole route.
#[derive(Clone, PartialEq, Debug, Serialize)]
pub struct WorkStep {
    /// What is done.
    pub what: String,
    /// Hours of work.
    pub hours: f64,
    /// Hours of drying before the next.
    pub dry_hours: u32,
    /// First day of work, ISO 8601; `None` where no day can be told.
    pub from: Option<String>,
    /// Last day of work.
    pub to: Option<String>,
    /// Goods on the way that it is the first to need, each with the day it is ordered by.
    pub order: Vec<String>,
}

/// Where a stick-on light goes.
#[derive(Clone, PartialEq, Eq, Debug, Serialize)]
pub struct LightPlace {
    /// Box or frame.
    pub in_box: String,
    /// Where in it.
    pub place: String,
}

/// A route filled, primed and painted.
#[derive(Clone, PartialEq, Debug, Serialize)]
pub struct FinishPlan {
    /// The route.
    pub route: String,
    /// Areas by surface.
    pub areas: Vec<Surface>,
    /// All of them, in square feet.
    pub sq_ft: f64,
    /// Coats by product.
    pub coats: Vec<Coat>,
    /// Cans, as they stand on the shopping list.
    pub cans: Vec<BuyLine>,
    /// Goods by rule.
    pub goods: Vec<GoodsRule>,
    /// Steps in order.
    pub steps: Vec<FinishStep>,
    /// All work of the route in order, these steps among it; empty where its hours are not known.
    pub work: Vec<WorkStep>,
    /// Hours of all steps, as the table of hours has them.
    pub hours: f64,
    /// True where the days of the steps follow the rest of the route's work; else painting begins on the job's date.
    pub with_route: bool,
    /// The first day things may be put in, ISO 8601.
    pub load_from: Option<String>,
    /// Hours from the last coat to loading.
    pub cure_hours: u32,
    /// Stick-on lights.
    pub lights: Vec<LightPlace>,
    /// Needed, but in no row of stock.csv: not in any total.
    pub unpriced: Vec<String>,
    /// Short cautions.
    pub cautions: Vec<String>,
}
