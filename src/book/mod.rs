//! What is printed.

pub mod draw;
