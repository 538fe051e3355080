//! The whole program from outside: the binary run as she runs it, always on a copy of a sample in a folder of its own.

mod bare_list;
mod documents;
mod exit_codes;
mod her_slips;
mod hostile;
mod job;
mod keeping;
mod limits;
mod named;
mod pages;
mod routes;
mod same_bytes;
mod starting;
mod switches;
