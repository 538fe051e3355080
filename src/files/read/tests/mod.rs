//! Tests of the readers as a whole.
