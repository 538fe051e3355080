//! The job folder on disk: reading her files into a checked [`crate::model::Job`], and writing what the tool made.
//!
//! Her files are hers. This room reads them with every mistake named at once, and never lets a half-understood value through.

pub mod read;
pub mod write;
