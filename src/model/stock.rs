//! What can be bought, and what stands on the rack.

use crate::model::part::Part;
use crate::model::saw::Edge;
use crate::units::{Cents, Length, PerCent, PriceRange};
use jiff::civil::Date;

/// What sort of goods a stock row is.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum StockKind {
    /// Sheet goods: planned on a guillotine layout.
    Sheet,
    /// Mouldings sold by the stick: planned piece by piece.
    Moulding,
    /// Boards, planned as mouldings.
    Board,
    /// Edge banding in rolls.
    Banding,
    /// Screws, pins, rails.
    Hardware,
    /// Glue, caulk, discs.
    Consumable,
    /// Primer, paint, varnish.
    Paint,
    /// A tool bought for the job.
    Tool,
    /// Delivery, store cuts, a skip.
    Service,
}

/// One row of stock.csv.
#[derive(Clone, PartialEq, Debug)]
pub struct StockRow {
    /// Her code for it, unique.
    pub item: String,
    /// What sort of goods.
    pub kind: StockKind,
    /// Plain name. Rows of one kind and thickness that share it are sizes of one material.
    pub what: String,
    /// Along a sheet's length, or a stick's length, or a roll's length.
    pub length: Option<Length>,
    /// Across it.
    pub width: Option<Length>,
    /// Nominal thickness.
    pub thick: Option<Length>,
    /// Thickness by caliper.
    pub measured: Option<Length>,
    /// True if the face grain runs along `width` instead of `length`.
    pub grain_along_width: bool,
    /// each, pack, box, roll, can, foot ...
    pub sold_by: String,
    /// How much one pack holds.
    pub holds: NeedUnit,
    /// Price of one pack; `None` = not known.
    pub price: Option<PriceRange>,
    /// When the price was read.
    pub priced_on: Option<Date>,
    /// How much is in hand, in what `holds` counts (sheets and sticks: pieces).
    pub have: NeedUnit,
    /// Waste allowance.
    pub waste: Option<PerCent>,
    /// Where it is sold.
    pub store: String,
    /// Where it stands in the store.
    pub aisle: String,
    /// Days from order to delivery.
    pub lead_days: u32,
    /// False takes the line out of the sales tax.
    pub taxed: bool,
    /// How many can be bought at most.
    pub at_most: Option<u32>,
    /// Weight of one, in grams.
    pub weight_grams: Option<i64>,
    /// Area one pack of paint covers, in square millimetres.
    pub covers_mm2: Option<i64>,
    /// Good face on one side only.
    pub one_face: bool,
    /// True if packs can be taken back.
    pub returns: Option<bool>,
    /// Printed beside it.
    pub note: String,
    /// Row in the file, as the spreadsheet counts (0 = not from a file).
    pub row: usize,
    /// File it came from.
    pub file: String,
}

/// An amount of goods in what a pack `holds`: exact, of one dimension.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Hash)]
pub enum NeedUnit {
    /// Things counted, in thousandths (2.5 = 2500).
    Count(i64),
    /// A length (banding).
    Run(Length),
    /// A volume in whole microlitres (1 US gal = 3 785 411.784 ml, kept to the microlitre; see `files`).
    Volume(i64),
}

/// True where words, in small letters, name a metal.
pub fn names_metal(words: &str) -> bool {
    let metals = ["steel", "metal", "chrome", "alumin", "brass", "nickel"];
    metals.iter().any(|m| words.contains(m))
}

impl StockRow {
    /// True for MDF, particleboard and their kin, by what the row says it is: heavier than plywood.
    pub fn is_pressed_board(&self) -> bool {
        const WORDS: [&str; 6] = [
            "mdf",
            "particle",
            "fibreboard",
            "fiberboard",
            "chipboard",
            "melamine",
        ];
        let what = self.what.to_lowercase();
        WORDS.iter().any(|w| what.contains(w))
    }

    /// The thickness to build with: measured if she measured, else nominal.
    pub fn thickness(&self) -> Option<Length> {
        self.measured.or(self.thick)
    }
    /// True for a rail or rod that clothes hang on, by its words: it covers nothing.
    pub fn is_rail(&self) -> bool {
        let what = self.what.to_lowercase();
        // `with sockets` says what comes with it.
        let own = what.split(" with ").next().unwrap_or_default();
        let has = |words: &[&str]| words.iter().any(|w| own.contains(w));
        let mut words = own.split(|c: char| !c.is_alphabetic());
        let mut named = |names: &[&str]| words.any(|w| names.contains(&w));
        if has(&[
            "screw", "socket", "bracket", "flange", "support", "hook", "saw", "drill", "backer",
            "threaded", "slide", "drawer",
        ]) {
            return false;
        }
        match self.kind {
            StockKind::Hardware | StockKind::Consumable => {
                named(&["rail", "rails", "rod", "rods", "handrail"])
            }
            // A chair rail is a moulding.
            StockKind::Moulding | StockKind::Board => {
                let hangs = [
                    "hanging rail",
                    "closet rail",
                    "wardrobe rail",
                    "clothes rail",
                ];
                has(&hangs)
                    || names_metal(own) && has(&["rail"])
                    || named(&["rod", "rods", "pole", "poles", "dowel", "dowels", "tube"])
            }
            _ => false,
        }
    }
    /// True for a metal rail: it is hung as bought, unless its row says that it is `primed` or `to paint`.
    pub fn is_bare_metal_rail(&self) -> bool {
        let what = self.what.to_lowercase();
        let says = what.contains("to paint") || what.contains("primed");
        self.is_rail() && names_metal(&what) && (!says || what.contains("unprimed"))
    }
    /// True for a rail that its sockets come with.
    pub fn brings_sockets(&self) -> bool {
        let what = self.what.to_lowercase();
        let with = what.split_once(" with ").map(|w| w.1);
        let ends = ["socket", "flange", "bracket", "end"];
        self.is_rail() && with.is_some_and(|w| ends.iter().any(|e| w.contains(e)))
    }
    /// True where parts are cut from it.
    pub fn is_cut_up(&self) -> bool {
        matches!(
            self.kind,
            StockKind::Sheet | StockKind::Moulding | StockKind::Board
        )
    }
    /// True for a moulding or board sold by the running foot.
    pub fn by_the_foot(&self) -> bool {
        let sold = self.sold_by.to_lowercase();
        matches!(self.kind, StockKind::Moulding | StockKind::Board)
            && matches!(sold.as_str(), "foot" | "ft" | "feet")
    }
    /// True where two rows are sizes of one material.
    pub fn same_material(&self, other: &Self) -> bool {
        self.kind == other.kind && self.thick == other.thick && self.what == other.what
    }
    /// Likely price of one pack.
    pub fn likely(&self) -> Option<Cents> {
        self.price.map(|p| p.likely)
    }
}

/// The banding of a part: the one it names, else the first row of banding as wide as the part is thick, else the first.
/// `None` where it names one that is not in stock, or there is no banding.
pub fn banding_of<'a>(stock: &'a [StockRow], part: &Part) -> Option<&'a StockRow> {
    if let Some(item) = &part.band_item {
        return stock.iter().find(|s| s.item == *item);
    }
    let of = stock.iter().find(|s| s.item == part.item);
    let thick = of.and_then(StockRow::thickness);
    let mut rows = stock.iter().filter(|s| s.kind == StockKind::Banding);
    rows.clone()
        .find(|s| s.width >= thick)
        .or_else(|| rows.next())
}

/// What an offcut on the rack is good for.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum OffcutState {
    /// May be planned on.
    Ready,
    /// Planned by another job: never twice.
    Promised,
    /// Gone.
    Spent,
    /// Only mentioned.
    Doubtful,
}

/// One row of offcuts.csv.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Offcut {
    /// Written on the piece, e.g. `R-03`.
    pub mark: String,
    /// The stock row it came from.
    pub item: String,
    /// Usable size along the grain it was cut with (`length` of the row).
    pub length: Length,
    /// Across; `None` for a stick.
    pub width: Option<Length>,
    /// Thickness, where it was written down.
    pub thick: Option<Length>,
    /// True if the grain runs along `width`.
    pub grain_along_width: bool,
    /// Edges that need no cleaning.
    pub good_edges: Vec<Edge>,
    /// The job it was left from.
    pub from_job: String,
    /// The job it is promised to, where the row says so.
    pub promised_to: Option<String>,
    /// Where it stands.
    pub place: String,
    /// What it is good for.
    pub state: OffcutState,
    /// Printed beside it.
    pub note: String,
    /// Row in the file.
    pub row: usize,
}

impl Offcut {
    /// True if the job of that name left it.
    #[must_use]
    pub fn is_left_by(&self, job: &str) -> bool {
        !job.is_empty() && self.from_job == job
    }
}
