//! project.toml: every table and field typed into the model. An unknown name is a mistake that names the nearest known one;
//! a value she did not give is listed with its default. Each file here owns some of the tables.

mod build;
mod doc;
mod opening;
mod project;
mod readings;
mod runs;
mod saw;
mod syntax;
mod table;
mod value;

pub(crate) use project::{Named, NamedAs, ReadProject, read_project};
