//! Fits built-ins into an opening that is not square: reads a job folder, checks it, plans sheets and sticks with a proof
//! that no plan needs fewer where there is one, prices each route, and prints a book to work from at the saw.
//!
//! Rooms, lowest floor first; a room imports only from the floors below it (see DEVELOPERS.md):
//! [`units`] · [`model`], [`solve`] · [`sheets`], [`sticks`], [`opening`], [`boxes`], [`finish`], [`trim`], [`costs`],
//! [`referee`] · [`files`], [`plan`] · [`book`] · [`cli`].
#![forbid(unsafe_code)]

pub mod book;
pub mod boxes;
pub mod car;
pub mod cli;
pub mod costs;
pub mod files;
pub mod finish;
pub mod mixes;
pub mod model;
pub mod opening;
pub mod plan;
pub mod referee;
pub mod sheets;
pub mod solve;
pub mod sticks;
pub mod trim;
pub mod units;
