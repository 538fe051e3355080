//! A whole job: every fact of her files with the defaults filled in, and the list of defaults that were.

use crate::model::{
    Car, NeedUnit, Offcut, Opening, Part, PrefabKind, PrefabUnit, Run, RunUnits, Saw, StandsOn,
    StockKind, StockRow, TrimRules,
};
use crate::units::{Cents, Length, PerCent, Tape};
use jiff::civil::Date;

/// Paper the book is printed on.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, Default)]
pub enum Paper {
    /// 8 1/2 x 11 in.
    #[default]
    Letter,
    /// 210 x 297 mm.
    A4,
}

/// How hard the optimisers try: a budget of work steps, never of seconds.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Default)]
pub enum Effort {
    /// An answer at once.
    Quick,
    /// The usual.
    #[default]
    Normal,
    /// For the last sheet and the proof.
    Thorough,
    /// About so many work steps for each material: where very many jobs are planned one after the other. Range 10^5 to 10^10.
    About(u64),
}

/// `[project]`.
#[derive(Clone, PartialEq, Debug)]
pub struct Project {
    /// Name of the job.
    pub name: String,
    /// The house.
    pub house: String,
    /// Who drew it.
    pub drawn_by: String,
    /// Her date; the book changes only when she changes it.
    pub date: Option<Date>,
    /// How sizes are read and shown.
    pub tape: Tape,
    /// Currency code, ISO 4217.
    pub money: String,
    /// Sales tax; `None` = not given, and no total is made.
    pub sales_tax: Option<PerCent>,
    /// Paper of the book.
    pub paper: Paper,
}

/// `[want]`: what has to live in there.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Want {
    /// Shelf length.
    pub shelf: Option<Length>,
    /// Hanging length.
    pub hanging: Option<Length>,
    /// Longest garment with its hanger.
    pub tallest_hung: Option<Length>,
    /// Drawers.
    pub drawers: Option<u32>,
    /// Closed storage, in her words or a length.
    pub closed: Option<String>,
    /// Garments by name and count.
    pub garments: Vec<(String, u32)>,
    /// Depth of a hanger with its garment.
    pub hanger_depth: Option<Length>,
}

/// Which faces of bought frames are painted.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, Default)]
pub enum FrameFaces {
    /// Every face.
    Every,
    /// What shows.
    #[default]
    Shows,
    /// None.
    None,
}

/// `[finish]`.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Finish {
    /// painted, oil, clear, none.
    pub look: String,
    /// Coats of primer.
    pub primer_coats: u32,
    /// Coats of paint.
    pub top_coats: u32,
    /// Inside faces too.
    pub inside: bool,
    /// Sanded between coats.
    pub sand_between: bool,
    /// Hours between coats.
    pub hours_between_coats: u32,
    /// Faces of bought frames.
    pub frames: FrameFaces,
    /// The closet's own walls and ceiling.
    pub walls: bool,
    /// Stick-on lights.
    pub lights: u32,
}

impl Default for Finish {
    fn default() -> Self {
        Self {
            look: "painted".into(),
            primer_coats: 1,
            top_coats: 2,
            inside: true,
            sand_between: true,
            hours_between_coats: 4,
            frames: FrameFaces::Shows,
            walls: false,
            lights: 0,
        }
    }
}

/// Hours of work in whole hundredths: 43.0 h is 4300.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Default)]
pub struct Hours(pub i64);

/// `[labour]`.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Labour {
    /// What an hour of hers is worth to her; `None` = not said.
    pub rate: Option<Cents>,
    /// Low end.
    pub rate_low: Option<Cents>,
    /// High end.
    pub rate_high: Option<Cents>,
    /// Hours she works a weekend.
    pub hours_a_weekend: Option<Hours>,
    /// `[labour.takes]`: hours for each task, by her name for it.
    pub takes: Vec<(String, Hours)>,
    /// `[labour.hours]`: hours of a whole route.
    pub hours: Vec<(String, Hours)>,
}

/// How the price of a tool bought for the job is counted.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, Default)]
pub enum ToolCount {
    /// In full.
    #[default]
    Full,
    /// Shared over the jobs she expects.
    Share {
        /// How many jobs share it.
        jobs: u32,
    },
    /// Not at all.
    None,
}

/// `[tools]`.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Tools {
    /// Stock rows of tools she owns.
    pub have: Vec<String>,
    /// How a bought one is counted.
    pub count: ToolCount,
}

/// How much of something a route needs.
pub type NeedAmount = NeedUnit;

/// `[[need]]`: goods or services of a route beside what its plan uses.
#[derive(Clone, PartialEq, Debug)]
pub struct Need {
    /// The route.
    pub route: String,
    /// The stock row.
    pub item: String,
    /// How much, before waste, packs and what is in hand.
    pub amount: NeedAmount,
    /// Line in project.toml.
    pub line: usize,
}

/// A value she did not give.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct DefaultUsed {
    /// Where it would stand, e.g. `project.toml [saw] kerf` or `stock.csv PLY-18 measured`.
    pub place: String,
    /// What was taken.
    pub value: String,
    /// Why that.
    pub why: String,
    /// The route of the run it was taken for; `None` = it is no run's.
    pub route: Option<String>,
}

/// Everything her files say, defaults filled in.
#[derive(Clone, PartialEq, Debug)]
pub struct Job {
    /// `[project]`.
    pub project: Project,
    /// `[want]`; `None` = not said.
    pub want: Option<Want>,
    /// `[opening]`.
    pub opening: Option<Opening>,
    /// `[[run]]`.
    pub runs: Vec<Run>,
    /// `[trim]`.
    pub trim: TrimRules,
    /// `[saw]`.
    pub saw: Saw,
    /// `[car]`.
    pub car: Car,
    /// `[finish]`.
    pub finish: Finish,
    /// `[labour]`.
    pub labour: Labour,
    /// `[tools]`.
    pub tools: Tools,
    /// `[[need]]`.
    pub needs: Vec<Need>,
    /// parts.csv.
    pub parts: Vec<Part>,
    /// stock.csv, the job's own rows winning over a shared file's.
    pub stock: Vec<StockRow>,
    /// prefab.csv.
    pub prefab: Vec<PrefabUnit>,
    /// offcuts.csv.
    pub rack: Vec<Offcut>,
    /// Values she did not give.
    pub defaults: Vec<DefaultUsed>,
    /// True where only a cut list was given.
    pub bare_list: bool,
}

impl Job {
    /// The stock row of that code.
    pub fn stock_row(&self, item: &str) -> Option<&StockRow> {
        self.stock.iter().find(|s| s.item == item)
    }
    /// The frames a run lists that prefab.csv knows, in order, one for each that is bought.
    pub fn listed_frames(&self, run: &Run) -> Vec<&PrefabUnit> {
        let codes = match &run.units {
            RunUnits::Listed(codes) if !run.has_boxes() => codes.as_slice(),
            _ => &[],
        };
        let frame = |c: &String| {
            let mut units = self.prefab.iter();
            units.find(|u| u.kind == PrefabKind::Frame && u.unit == *c)
        };
        codes.iter().filter_map(frame).collect()
    }
    /// Height of the base under a run: frames that all stand on their own feet have none unless she gave its height.
    pub fn base_under(&self, run: &Run, frames: &[&PrefabUnit]) -> Length {
        let feet = frames.iter().all(|f| f.stands_on == StandsOn::OwnFeet);
        if !run.has_boxes() && !frames.is_empty() && feet && !run.base_given {
            Length::ZERO
        } else {
            run.base_height
        }
    }
    /// The names of the routes in the order of their first run; a bare list has one, named `custom`.
    pub fn routes(&self) -> Vec<&str> {
        let mut names: Vec<&str> = Vec::new();
        for run in &self.runs {
            if !names.contains(&run.route.as_str()) {
                names.push(&run.route);
            }
        }
        if names.is_empty() {
            names.push("custom");
        }
        names
    }
    /// The route of parts without one: the first run that has boxes, else the first route.
    pub fn parts_route(&self) -> &str {
        self.runs
            .iter()
            .find(|r| r.has_boxes())
            .map_or_else(|| self.routes()[0], |r| &r.route)
    }
    /// The route `cut` and `book` take where none is named: the chosen run's, else the first.
    pub fn main_route(&self) -> &str {
        self.runs
            .iter()
            .find(|r| r.chosen)
            .map_or_else(|| self.routes()[0], |r| &r.route)
    }
    /// The parts of a route.
    pub fn route_parts<'a>(&'a self, route: &'a str) -> impl Iterator<Item = &'a Part> {
        self.parts
            .iter()
            .filter(move |p| p.route.as_deref().unwrap_or_else(|| self.parts_route()) == route)
    }
    /// The row a run's hanging rails are bought from: its `rail_item`, else a rail or rod of stock.csv, one she needs by name first.
    pub fn rail_row(&self, run: &Run) -> Option<&StockRow> {
        if let Some(item) = &run.build.rail {
            return self.stock_row(item);
        }
        let goods = [StockKind::Hardware, StockKind::Consumable];
        let hangs = |r: &&StockRow| goods.contains(&r.kind) && r.is_rail();
        let needed = |r: &StockRow| {
            let mut needs = self.needs.iter().filter(|n| n.route == run.route);
            needs.any(|n| n.item == r.item)
        };
        let rows = || self.stock.iter().filter(hangs);
        rows().find(|r| needed(r)).or_else(|| rows().next())
    }
    /// The largest spacing two lengths may differ by and still be shown alike on her tape.
    pub fn mark(&self) -> Length {
        self.project.tape.mark
    }
}
