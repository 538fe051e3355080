//! Lengths, money and dates' small change: the exact whole numbers everything else is made of.
//!
//! A [`Length`] is a whole number of 1/80 000 mm, so tape fractions, millimetres and caliper thousandths are all
//! exact. Nothing in this room knows what a length is *for*.

mod length;
mod money;
mod number;
mod parse;
mod print;
mod slips;
#[cfg(test)]
mod tests;
mod text;

pub use length::{Length, Unit};
pub use money::{Cents, PerCent, PriceRange};
pub use parse::{ReadAs, Size, SizeError, parse_length, parse_size};
pub use print::Tape;
pub use slips::fraction_behind_date;
