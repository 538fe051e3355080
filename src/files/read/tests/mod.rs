//! Tests of the readers as a whole, on an invented job: a cupboard under a stair landing.

mod fixture;
mod whole;
