//! `survey`: the true size of the opening from her readings, how far out it is, and which readings to take again while the
//! line is still up. Reads project.toml alone.

use crate::cli::ctx::Ctx;
use crate::cli::exit::{Exit, Stop};
use crate::cli::load;
use crate::cli::planning::Place;
use crate::cli::screen::{paragraph, safe};
use crate::cli::table::{Align, Table};
use crate::files::write::{MadeFile, Stamp, json_text};
use crate::model::{Job, Opening, Station};
use crate::opening::{BoxSize, Survey, find_reading, reading_words, survey_shown};
use crate::units::{Length, Tape, Unit};

/// Reckon the true size of the opening and name the readings to take again
#[derive(clap::Args)]
pub(crate) struct Args {}

pub(crate) fn run(_args: &Args, ctx: &mut Ctx) -> Result<Exit, Stop> {
    let loaded = load::opening(ctx)?;
    let place = Place::take(ctx, None)?;
    let shown = loaded.shown(ctx);
    let Some(opening) = &loaded.job.opening else {
        return Err(Stop::Fault("the readings were asked for and are not there".into()));
    };
    let tape = shown.project.tape;
    let survey = survey_shown(opening, loaded.job.project.tape, tape);
    let files = [MadeFile::new("survey.json", json_text(&survey))];
    let stamp = Stamp {
        verb: "survey",
        plan: None,
        lacking: false,
    };
    place.put(ctx, &files, stamp)?;
    ctx.json(&survey);
    let page = Page {
        opening,
        survey: &survey,
        tape,
    };
    page.head(ctx, &shown);
    page.readings(ctx);
    page.sizes(ctx);
    page.checks(ctx);
    page.take_again(ctx);
    page.remarks(ctx);
    Ok(if !survey.hangs_together() {
        Exit::Disagree
    } else if survey.largest_box.width.is_none() || survey.largest_box.height.is_none() {
        Exit::Missing
    } else {
        Exit::Done
    })
}

/// `inches` or `millimetres`.
pub(super) fn unit_word(tape: Tape) -> &'static str {
    match tape.unit {
        Unit::Inch => "inches",
        Unit::Mm => "millimetres",
    }
}

/// What is said, and how.
struct Page<'a> {
    opening: &'a Opening,
    survey: &'a Survey,
    tape: Tape,
}

impl Page<'_> {
    fn size(&self, l: Option<Length>) -> String {
        l.map_or_else(|| "?".into(), |l| self.tape.print(l))
    }
    /// A path as she would say it, with the path behind it.
    fn named(&self, path: &str) -> String {
        match find_reading(self.opening, path) {
            Some(at) => format!("{} ({path})", reading_words(self.opening, at, self.tape)),
            None => path.to_owned(),
        }
    }

    fn head(&self, ctx: &mut Ctx, job: &Job) {
        let date = job.project.date.map_or_else(String::new, |d| format!(", readings of {d}"));
        let provisional = if self.survey.is_provisional() { ", PROVISIONAL" } else { "" };
        ctx.heading(&safe(&format!(
            "{}: survey{date}, sizes in {}{provisional}",
            self.opening.name,
            unit_word(self.tape)
        )));
        ctx.say("\n");
    }

    fn readings(&self, ctx: &mut Ctx) {
        let level = &self.opening.level_line;
        let (down, up) = (&level.down_to_floor, &level.up_to_ceiling);
        let place = |s: &Station, i: usize| match s.from_left {
            Some(x) => self.tape.print(x),
            None if s.name.is_empty() => (i + 1).to_string(),
            None => s.name.clone(),
        };
        let back = down.iter().chain(up).any(|s| s.back.is_some());
        let mut heads = vec![
            ("at", Align::Left),
            ("down to floor", Align::Right),
            ("up to ceiling", Align::Right),
            ("floor to ceiling", Align::Right),
        ];
        if back {
            heads.extend([("down, back", Align::Right), ("up, back", Align::Right)]);
        }
        let mut table = Table::new(&heads);
        let mut places: Vec<String> = Vec::new();
        for (i, s) in down.iter().enumerate().chain(up.iter().enumerate()) {
            let name = place(s, i);
            if !places.contains(&name) {
                places.push(name);
            }
        }
        let dash = || "-".to_owned();
        for name in &places {
            let find = |list: &[Station]| {
                let mut named = list.iter().enumerate();
                named.find(|(i, s)| place(s, *i) == *name).map(|(_, s)| (s.front, s.back))
            };
            let (d, u) = (find(down), find(up));
            let one = |r: Option<Option<Length>>| r.map_or_else(dash, |r| self.size(r));
            let sum = d.zip(u).and_then(|(d, u)| Some(d.0? + u.0?));
            let mut row = vec![
                name.clone(),
                one(d.map(|d| d.0)),
                one(u.map(|u| u.0)),
                sum.map_or_else(dash, |s| self.tape.print(s)),
            ];
            if back {
                row.extend([one(d.map(|d| d.1)), one(u.map(|u| u.1))]);
            }
            table.row(&row);
        }
        let text = table.text(ctx.rule());
        ctx.say(&text);
        for (what, out, list) in [
            ("Floor", self.survey.floor_out, down),
            ("Ceiling", self.survey.ceiling_out, up),
        ] {
            if let Some(out) = out {
                ctx.say(&format!("  {what} out by {}{}\n", self.tape.print(out), falls(what, list)));
            }
        }
        ctx.say("\n");
        let plumb = &self.opening.plumb_lines;
        let behind = !plumb.left_gap_back.is_empty() || !plumb.right_gap_back.is_empty();
        let mut heads = vec![
            ("height above floor", Align::Right),
            ("left gap", Align::Right),
            ("right gap", Align::Right),
            ("width", Align::Right),
        ];
        if behind {
            heads.extend([("left, back", Align::Right), ("right, back", Align::Right)]);
        }
        let mut table = Table::new(&heads);
        for (i, h) in plumb.height.iter().enumerate() {
            let gap = |list: &[Option<Length>]| list.get(i).copied().flatten();
            let (left, right) = (gap(&plumb.left_gap), gap(&plumb.right_gap));
            let width = plumb.apart.zip(left).zip(right).map(|((a, l), r)| a + l + r);
            let mut row = vec![
                self.tape.print(*h),
                self.size(left),
                self.size(right),
                width.map_or_else(dash, |w| self.tape.print(w)),
            ];
            if behind {
                row.push(self.size(gap(&plumb.left_gap_back)));
                row.push(self.size(gap(&plumb.right_gap_back)));
            }
            table.row(&row);
        }
        let text = table.text(ctx.rule());
        ctx.say(&text);
        ctx.say(&format!("  Plumb lines {} apart\n\n", self.size(plumb.apart)));
    }

    fn sizes(&self, ctx: &mut Ctx) {
        let s = self.survey;
        let mut table = Table::new(&[
            ("", Align::Left),
            ("wide", Align::Right),
            ("high", Align::Right),
            ("deep", Align::Right),
        ]);
        let row = |what: &str, b: BoxSize| {
            [what.to_owned(), self.size(b.width), self.size(b.height), self.size(b.depth)]
        };
        table.row(&row("LARGEST LEVEL, PLUMB BOX", s.largest_box));
        table.row(&row("smallest tape readings", s.smallest_tape));
        if let Some(b) = s.between_trim {
            table.row(&row("between base and crown that stay", b));
        }
        for b in &s.other_boxes {
            table.row(&row(&b.what, b.size));
        }
        let text = table.text(ctx.rule());
        ctx.say(&text);
        let over = |tape: Option<Length>, own: Option<Length>, word: &str| {
            let by = tape? - own?;
            by.is_positive().then(|| format!("{} too {word}", self.tape.print(by)))
        };
        let (t, b) = (s.smallest_tape, s.largest_box);
        let too: Vec<String> = [
            over(t.width, b.width, "wide"),
            over(t.height, b.height, "high"),
            over(t.depth, b.depth, "deep"),
        ]
        .into_iter()
        .flatten()
        .collect();
        if !too.is_empty() {
            let text = format!("Trusting the tape alone would have built it {}.", too.join(" and "));
            ctx.say(&paragraph("  ", &text, 2));
        }
        if let Some(corners) = s.corner_degrees.in_words() {
            let text = format!("Corners in degrees: {corners}.");
            ctx.say(&paragraph("  ", &text, 2));
        }
        ctx.say("\n");
    }

    fn checks(&self, ctx: &mut Ctx) {
        let s = self.survey;
        if s.checks.is_empty() {
            ctx.say(&paragraph(
                "  ",
                "Nothing overlaps: no reading can be checked by another. Add tape widths and both diagonals.",
                2,
            ));
            ctx.say("\n");
            return;
        }
        let mut table = Table::new(&[
            ("check", Align::Left),
            ("read", Align::Right),
            ("others make it", Align::Right),
            ("", Align::Left),
        ]);
        for c in &s.checks {
            let at = find_reading(self.opening, &c.what);
            let what = at.map_or_else(|| c.what.clone(), |at| reading_words(self.opening, at, self.tape));
            let verdict = if c.agrees { "agrees" } else { "DISAGREES" };
            table.row(&[what, self.tape.print(c.read), self.tape.print(c.expected), verdict.into()]);
        }
        let text = table.text(ctx.rule());
        ctx.say(&text);
        ctx.say("\n");
    }

    fn take_again(&self, ctx: &mut Ctx) {
        let s = self.survey;
        if !s.take_again.is_empty() {
            ctx.heading("TAKE AGAIN, before you take down the line");
            for (n, t) in s.take_again.iter().enumerate() {
                let text = format!("{}. {}", self.named(&t.reading), t.why);
                ctx.say(&paragraph(&format!("  {}. ", n + 1), &safe(&text), 5));
            }
        }
        if !s.second_look.is_empty() {
            ctx.heading("LOOK AGAIN: an inch off those beside it");
            for t in &s.second_look {
                let text = format!("{}. {}", self.named(&t.reading), t.why);
                ctx.say(&paragraph("  ", &safe(&text), 2));
            }
        }
        if !s.provisional.is_empty() {
            ctx.heading("NOT MEASURED YET");
            for p in &s.provisional {
                ctx.say(&paragraph("  ", &safe(&self.named(p)), 2));
            }
            let text = format!("Not measured yet: {}. Plans are PROVISIONAL until it is.", s.provisional.join(", "));
            ctx.caution(&text);
        }
        if !s.hangs_together() {
            ctx.say("Readings disagree. Plans made now are PROVISIONAL.\n");
        } else if s.provisional.is_empty() && !s.second_look.is_empty() {
            ctx.say("Readings hang together, but for what stands under LOOK AGAIN: read that before you take down the line.\n");
        } else if s.provisional.is_empty() && !s.unchecked.is_empty() {
            ctx.say("Readings hang together. Read those named below twice; then it is safe to take down the line.\n");
        } else if s.provisional.is_empty() {
            ctx.say("Readings hang together. Safe to take down the line.\n");
        } else {
            ctx.say("What was read hangs together.\n");
        }
    }

    fn remarks(&self, ctx: &mut Ctx) {
        let s = self.survey;
        if !s.unchecked.is_empty() {
            let names: Vec<String> = s
                .unchecked
                .iter()
                .filter_map(|p| find_reading(self.opening, p))
                .map(|at| reading_words(self.opening, at, self.tape))
                .collect();
            ctx.note(&format!(
                "Nothing overlaps these, so a slip in one would not show; read them twice: {}.",
                names.join("; ")
            ));
        }
        for c in &s.cautions {
            ctx.note(c);
        }
    }
}

/// Which way it falls, where the ends tell: `: it falls to the right`.
fn falls(what: &str, list: &[Station]) -> &'static str {
    let (Some(first), Some(last)) = (list.first().and_then(|s| s.front), list.last().and_then(|s| s.front)) else {
        return "";
    };
    // Farther down to the floor is lower; farther up to the ceiling is higher.
    let lower_right = if what == "Floor" { last > first } else { last < first };
    match (first == last, lower_right) {
        (true, _) => "",
        (false, true) => ": it falls to the right",
        (false, false) => ": it falls to the left",
    }
}
