//! What a verb works with: the switches, the screen, and one way to say each kind of thing.

use super::args::Common;
use super::exit::{Exit, Stop};
use super::screen::{Screen, paragraph, safe};
use crate::files::write::json_text;
use serde::Serialize;
use std::path::PathBuf;

/// One run of one verb.
pub(crate) struct Ctx {
    pub(crate) common: Common,
    pub(crate) screen: Screen,
    cautions: usize,
}

impl Ctx {
    pub(crate) fn new(common: Common) -> Self {
        let screen = Screen::new(common.plain, common.quiet);
        Self {
            common,
            screen,
            cautions: 0,
        }
    }

    /// The job folder.
    pub(crate) fn folder(&self) -> PathBuf {
        self.common
            .folder
            .clone()
            .unwrap_or_else(|| PathBuf::from("."))
    }

    /// A result in words: standard output, unless it is kept for JSON.
    pub(crate) fn say(&mut self, text: &str) {
        if !self.common.json {
            self.screen.out(text);
        }
    }

    /// A heading in words.
    pub(crate) fn heading(&mut self, text: &str) {
        let text = self.screen.strong(text, false);
        self.say(&format!("{text}\n"));
    }

    /// The result as JSON, where it was asked for.
    pub(crate) fn json<T: Serialize + ?Sized>(&mut self, value: &T) {
        if self.common.json {
            let text = json_text(value);
            self.screen.out(&text);
        }
    }

    /// Something worth knowing that is no result: standard error.
    pub(crate) fn note(&mut self, text: &str) {
        if !self.screen.quiet {
            self.screen.err(&paragraph("", &safe(text), 0));
        }
    }

    /// A caution: standard error, and counted for `--strict`.
    pub(crate) fn caution(&mut self, text: &str) {
        self.cautions += 1;
        if !self.screen.quiet {
            let lead = self.screen.strong("Caution", true);
            self.screen
                .err(&paragraph("         ", &safe(text), 9).replacen(
                    "         ",
                    &format!("{lead}  "),
                    1,
                ));
        }
    }

    /// The rule under a table's heading.
    pub(crate) fn rule(&self) -> char {
        if self.screen.plain { '-' } else { '\u{2500}' }
    }

    /// How a run ends that went through: with `--strict`, a caution makes the job one that will not do.
    pub(crate) fn end(&mut self, exit: Exit) -> Result<Exit, Stop> {
        if let Some(e) = self.screen.take_failure() {
            return Err(Stop::Output(e));
        }
        if exit == Exit::Done && self.common.strict && self.cautions > 0 {
            return Ok(Exit::WillNotWork);
        }
        Ok(exit)
    }
}
