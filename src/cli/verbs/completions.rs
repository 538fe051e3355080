//! `completions`: what a shell needs to complete verbs and switches, made from the same list as help.

use crate::cli::args::command;
use crate::cli::ctx::Ctx;
use crate::cli::exit::{Exit, Stop};
use clap_complete::Shell;

/// Print completions for a shell
#[derive(clap::Args)]
pub(crate) struct Args {
    /// Which shell
    #[arg(value_enum)]
    shell: Shell,
}

pub(crate) fn run(args: &Args, ctx: &mut Ctx) -> Result<Exit, Stop> {
    let mut text = Vec::new();
    clap_complete::generate(args.shell, &mut command(), "nookwright", &mut text);
    let text = String::from_utf8_lossy(&text).into_owned();
    ctx.json(&serde_json::json!({ "completions": text }));
    ctx.say(&text);
    Ok(Exit::Done)
}
