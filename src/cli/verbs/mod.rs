//! The verbs, one file each. A verb is a type of arguments with a `run`; the list below makes it known to the command
//! line, to help, completions and the manual page.

use super::ctx::Ctx;
use super::exit::{Exit, Stop};
use clap::Subcommand;

macro_rules! verbs {
    ($($name:ident in $file:ident),+ $(,)?) => {
        $(mod $file;)+

        /// What the tool is asked to do.
        #[derive(Subcommand)]
        pub(crate) enum Verb {
            $(#[allow(missing_docs)] $name($file::Args),)+
        }

        impl Verb {
            /// Does it.
            pub(crate) fn run(&self, ctx: &mut Ctx) -> Result<Exit, Stop> {
                match self {
                    $(Self::$name(args) => $file::run(args, ctx),)+
                }
            }
        }
    };
}

// In the order of a job; help lists them so.
verbs! {
    Start in start,
    Check in check,
    Survey in survey,
    Fit in fit,
    Parts in parts,
    Cut in cut,
    Trim in trim,
    Finish in finish,
    Buy in buy,
    Compare in compare,
    Book in book,
    Rack in rack,
    Completions in completions,
    Man in man,
}
