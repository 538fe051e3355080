//! From the command line to an exit code: parses, runs the verb, says what stopped it, and catches our own faults.

use super::args::Cli;
use super::ctx::Ctx;
use super::exit::{Exit, Stop};
use super::problems;
use super::screen::{Screen, paragraph, safe};
use crate::files::write::{book_there, json_text};
use clap::Parser;
use clap::error::ErrorKind;
use serde::Serialize;
use std::ffi::OsString;
use std::panic::{self, AssertUnwindSafe};

/// Runs the program with these arguments (the program's name first) and gives back its exit code.
pub fn run(args: impl IntoIterator<Item = OsString>) -> u8 {
    let args: Vec<OsString> = args.into_iter().collect();
    let typed = args
        .iter()
        .skip(1)
        .map(|a| a.to_string_lossy())
        .collect::<Vec<_>>()
        .join(" ");
    let wants_json = args.iter().any(|a| a == "--json");
    let cli = match Cli::try_parse_from(args) {
        Ok(cli) => cli,
        Err(e) => return typed_wrongly(&e, wants_json),
    };
    let Cli { common, verb } = cli;
    // The hook says nothing: what is said is said once, below, and in a form she can send.
    panic::set_hook(Box::new(|_| {}));
    let mut ctx = Ctx::new(common);
    let result = panic::catch_unwind(AssertUnwindSafe(|| verb.run(&mut ctx)));
    let _ = panic::take_hook();
    let result = result.unwrap_or_else(|cause| {
        let says = cause
            .downcast_ref::<String>()
            .map(String::as_str)
            .or_else(|| cause.downcast_ref::<&str>().copied());
        Err(Stop::Fault(says.unwrap_or("no message").to_owned()))
    });
    match result.and_then(|exit| ctx.end(exit)) {
        Ok(exit) => exit as u8,
        Err(stop) => {
            report(&mut ctx, &stop, &typed);
            stop.exit() as u8
        }
    }
}

fn typed_wrongly(e: &clap::Error, wants_json: bool) -> u8 {
    let exit = match e.kind() {
        ErrorKind::DisplayHelp | ErrorKind::DisplayVersion => Exit::Done,
        _ => Exit::Typed,
    };
    if wants_json && exit == Exit::Typed {
        let says = e.to_string();
        let doc = ErrorDoc {
            error: Error {
                code: exit as u8,
                says: says.trim_end(),
            },
        };
        Screen::new(true, true).out(&json_text(&doc));
    }
    let printed = e.print();
    if e.kind() == ErrorKind::InvalidSubcommand && !wants_json {
        let names = super::args::command();
        let names: Vec<&str> = names
            .get_subcommands()
            .map(clap::Command::get_name)
            .collect();
        Screen::new(true, true).err(&paragraph("The verbs: ", &names.join(", "), 11));
    }
    match printed {
        Err(e) if e.kind() != std::io::ErrorKind::BrokenPipe => Exit::Files as u8,
        _ => exit as u8,
    }
}

#[derive(Serialize)]
struct ErrorDoc<'a> {
    error: Error<'a>,
}
#[derive(Serialize)]
struct Error<'a> {
    code: u8,
    says: &'a str,
}

fn report(ctx: &mut Ctx, stop: &Stop, typed: &str) {
    let says = match stop {
        Stop::Problems(found) => {
            ctx.json(&problems::document(found));
            let text = problems::text(found);
            ctx.screen.err(&text);
            ctx.screen.err(&format!(
                "{} Nothing was planned or written.\n",
                problems::count(found)
            ));
            older_book(ctx);
            return;
        }
        Stop::Typed(text) => text.clone(),
        Stop::Disagree(list) => format!(
            "Survey readings disagree, and --strict was asked for. Take again: {}. `nookwright survey` says why. Nothing \
             was planned or written.",
            list.join(", ")
        ),
        Stop::Read(e) => e.to_string(),
        Stop::Write(e) => e.to_string(),
        Stop::Output(e) => format!("standard output could not be written: {e}"),
        Stop::Fault(what) => {
            format!(
                "This is our fault, not yours, and every file is as it was. Please send us: the version ({}), what you \
                 typed (nookwright {typed}), your job folder, and this: {what}",
                env!("CARGO_PKG_VERSION")
            )
        }
    };
    ctx.json(&ErrorDoc {
        error: Error {
            code: stop.exit() as u8,
            says: &says,
        },
    });
    let text = paragraph("", &safe(&says), 0);
    ctx.screen.err(&text);
    if matches!(stop, Stop::Disagree(_) | Stop::Fault(_)) {
        older_book(ctx);
    }
}

/// A book that lies in made/ since an earlier run may no longer be what her files say.
fn older_book(ctx: &mut Ctx) {
    if let Some(plan) = book_there(&ctx.folder().join("made")) {
        let of = if plan.is_empty() {
            plan
        } else {
            format!(" of plan {plan}")
        };
        ctx.note(&format!(
            "made/build-book.pdf is still the book{of}: older than your files as they are now."
        ));
    }
}
