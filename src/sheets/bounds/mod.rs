//! Lower bounds: what no plan can undercut, and the proof of it in a form that others can check.
//!
//! Every bound here is a set of weights (see [`crate::model::certificate`]): a weight for each type of piece and the most
//! weight one sheet of each kind can hold. Whatever finds the weights, [`bound::Weights::bound`] turns them into a cost
//! and a number of sheets, so no way of finding them can claim too much.

mod axis;
mod big_parts;
mod bound;
mod carried;
mod certificate;
mod choice;
mod columns;
mod counted;
mod cover;
mod dive;
mod exact;
mod learned;
mod limited;
mod linear;
mod near_full;
mod plain;
mod points;
mod pricing;
mod proper;
mod quick;
mod rounds;
mod scales;
mod strips;
mod tallies;
mod why;
mod words;

pub(crate) use bound::{Bound, Pattern, Pool, Tree};
pub(crate) use carried::{carried, repriced};
pub(crate) use certificate::{by_area, certificate};
pub(crate) use dive::{DiveAim, dive};
pub(crate) use exact::exact;
pub(crate) use linear::lp;
pub(crate) use near_full::near_full;
pub(crate) use quick::quick;
pub(crate) use rounds::tables_are_large;
pub(crate) use why::why;

#[cfg(test)]
mod complete;
#[cfg(test)]
mod tests;
