//! The facts of a job and the shape of its results: data and their own invariants, no computation.
//!
//! Facts ([`Job`] and what it holds) come from her files, defaults already filled in. Tasks ([`task`]) are what the
//! optimisers are asked, answers what they say, [`Plan`] what is written, drawn and checked by the referee.

mod build;
pub mod certificate;
pub mod compare;
mod finish;
mod flatpack;
mod garments;
mod hidden;
mod job;
pub mod midway;
pub mod mix;
mod old_trim;
mod opening;
mod part;
mod plan;
mod problem;
mod run;
mod saw;
mod space;
mod stock;
pub mod task;
mod trim;
mod weight;

pub use build::{BoxInside, BuildRules, DoorLay, PinRules, ShelfLoad, hinges};
pub use finish::{
    Coat, FinishPlan, FinishStep, GoodsRule, Ground, LightPlace, PaintedAt, Surface, WorkStep,
};
pub use flatpack::{Carton, PrefabKind, PrefabUnit, StandsOn};
pub use hidden::is_hidden;
pub use job::{
    DefaultUsed, Effort, Finish, FrameFaces, Hours, Job, Labour, Need, NeedAmount, Paper, Project,
    ToolCount, Tools, Want,
};
pub use old_trim::{ExistingTrim, NOTCH_PLAY, Notch};
pub use opening::{
    BackWall, Corner, Doorway, KeepClear, LevelLine, OldPiece, Opening, OpeningNow, PlumbLines,
    Reading, Soffit, Station, Studs, Swing, TapeReadings, WallSide, WayIn,
};
pub use part::{Band, Grain, Part, PartSize};
pub use plan::{
    Cut, ItemResult, Leftover, Place, Plan, PlannedPiece, SawAt, Setting, SettingKind,
    SettingPiece, SheetPlan, StickPlan, Unplaced,
};
pub use problem::{Problem, Severity, Spot};
pub use run::{
    BoxPlan, BoxWidth, HeadFollows, Meeting, Run, RunUnits, SidesAt, SidesFollow, TrimRules,
};
pub use saw::{Car, CarSpace, CleanEdges, Edge, FirstCut, KeepRule, Saw, StoreSaw};
pub use space::{SPACE_WORDS, SpaceUse};
pub use stock::{NeedUnit, Offcut, OffcutState, StockKind, StockRow, banding_of, names_metal};
pub use trim::{Closing, CornerGap, Cover, EndCut, OldMoulding, TrimEnd, TrimFacts, TrimPiece};
pub(crate) use weight::thickness as stacked_thickness;
pub use weight::{Weight, weigh};
