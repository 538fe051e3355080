//! One file for each kind of page. A page is a function from the job's results to sections; a new kind of page is a new file
//! and one line in [`MAKERS`].

mod assembly;
mod base;
mod comparison;
mod context;
mod cover;
mod cut_list;
mod home;
mod labels;
mod notes;
mod opening;
mod order;
mod paint;
mod settings;
mod sheet;
mod shopping;
pub(super) mod stationery;
mod sticks;
mod templates;
mod trim;

pub(super) use context::Context;
pub(super) use cover::{COVER_CAUTIONS, CoverFacts, cover};
pub(super) use sheet::sheet_svg;

use super::block::{PageKind, Section};

/// Makes the sections of one kind of page; none where there is nothing to say.
type Maker = fn(&Context) -> Vec<Section>;

/// All kinds of page behind the cover, in the order of the book.
pub(super) const MAKERS: &[(PageKind, Maker)] = &[
    (PageKind::Work, order::order),
    (PageKind::Opening, opening::survey),
    (PageKind::Stands, opening::stands),
    (PageKind::StoreCuts, home::store_cuts),
    (PageKind::Load, home::load),
    (PageKind::Settings, settings::settings),
    (PageKind::Sheet, sheet::sheets),
    (PageKind::Sticks, sticks::sticks),
    (PageKind::Labels, labels::labels),
    (PageKind::CutList, cut_list::cut_list),
    (PageKind::Assembly, assembly::assembly),
    (PageKind::Base, base::base),
    (PageKind::Level, opening::level),
    (PageKind::Trim, trim::trim),
    (PageKind::Templates, templates::templates),
    (PageKind::Paint, paint::paint),
    (PageKind::Shopping, shopping::shopping),
    (PageKind::Comparison, comparison::comparison),
    (PageKind::Notes, notes::notes),
];
