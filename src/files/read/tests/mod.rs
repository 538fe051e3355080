//! Tests of the readers as a whole, on an invented job: a cupboard under a stair landing.

mod bare;
mod cells_goods;
mod cells_parts;
mod fixture;
mod fuzz;
mod mistakes_csv;
mod mistakes_toml;
mod named;
mod spelling;
mod whole;
mod workbooks;
mod zip;
