//! `man`: the manual page, made from the same list as help.

use crate::cli::args::command;
use crate::cli::ctx::Ctx;
use crate::cli::exit::{Exit, Stop};

/// Print the manual page
#[derive(clap::Args)]
pub(crate) struct Args {}

pub(crate) fn run(_args: &Args, ctx: &mut Ctx) -> Result<Exit, Stop> {
    let whole = command();
    let mut text = Vec::new();
    let mut render = |c: clap::Command| clap_mangen::Man::new(c).render(&mut text);
    let mut rendered = render(whole.clone());
    for verb in whole.get_subcommands() {
        rendered = rendered.and(render(verb.clone()));
    }
    rendered.map_err(|e| Stop::Fault(e.to_string()))?;
    let text = String::from_utf8_lossy(&text).into_owned();
    ctx.json(&serde_json::json!({ "man": text }));
    ctx.say(&text);
    Ok(Exit::Done)
}
