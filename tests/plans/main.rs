//! Whole plans from job files, held against sums that need no program: strips and yield, grain, sticks, the rack, random
//! jobs, and lists whose truth is known because they were cut backwards from full sheets.
//!
//! Random jobs are numbered from 0 and always the same; `NOOKWRIGHT_LONG=N` runs N of them (1 = the long run), and
//! `NOOKWRIGHT_FROM=S` begins at job S, so a failure that names its number is run again alone.

mod backwards;
mod files;
mod midway;
mod rack;
mod random;
mod random_job;
mod sticks_by_hand;
mod trade;
