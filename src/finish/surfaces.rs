//! Areas by surface: faces that show, edges that show (raw ones doubled, they drink), of the parts, of the frames, and of what
//! closes the gaps around frames. Edges doubled where raw: common practice, no source.

use super::faces::{Edges, FaceRule, face_rule, face_rule_among};
use super::frames;
use crate::model::{
    Band, Ground, Job, NeedUnit, PaintedAt, Part, PartSize, StockKind, StockRow, Surface,
};
use crate::units::{Length, Tape};

/// A strip that closes a gap.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Strip {
    /// left, right, head.
    pub place: String,
    /// Widest place.
    pub width: Length,
    /// Along the wall or ceiling.
    pub length: Length,
}

/// Pieces of moulding that are in no list of parts.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Stick {
    /// Written on them.
    pub mark: String,
    /// Stock row.
    pub item: String,
    /// Length of one.
    pub length: Length,
    /// How many.
    pub count: u32,
}

/// A hanging rail of a box.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct RailNeed {
    /// Bought whole; else cut from a stick that is planned.
    pub bought: bool,
    /// The old rod it is cut from instead, in her words.
    pub old: Option<String>,
    /// True where its sockets come with it.
    pub own_sockets: bool,
    /// True where it wants a support in the middle.
    pub supported: bool,
}

/// All of them.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Rails {
    /// Box by box, bay by bay.
    pub all: Vec<RailNeed>,
}

impl Rails {
    pub(super) fn count(&self, pick: impl Fn(&RailNeed) -> bool) -> i64 {
        self.all.iter().filter(|r| pick(r)).count() as i64
    }
}

/// What stands around the boxes and is in no list of parts, and what the closet's own walls come to.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Around {
    /// Length and height of the fronts of bases that no part is.
    pub bases: Vec<[Length; 2]>,
    /// Crosspieces in those bases.
    pub crosspieces: i64,
    /// Strips that no part is.
    pub strips: Vec<Strip>,
    /// Trim that neither a part nor one of her rows stands for.
    pub sticks: Vec<Stick>,
    /// Hanging rails of its boxes.
    pub rails: Rails,
    /// True where nothing stands at the two ends of a run, so that their outer faces show.
    pub open_ends: bool,
    /// Both sizes of the closet's back wall, side walls and ceiling; empty = not known.
    pub walls: Vec<[Length; 2]>,
}

/// Faces of one rule, being added up.
pub(super) struct Pile {
    pub(super) shown: Surface,
    faces: f64,
    edges: f64,
    sums: Vec<String>,
}

/// All piles, in the order they come.
pub(super) struct Piles {
    pub(super) tape: Tape,
    all: Vec<Pile>,
}

impl Piles {
    /// The pile of that name and ground.
    pub(super) fn of(
        &mut self,
        what: &str,
        ground: Ground,
        at: PaintedAt,
        rule: &str,
    ) -> &mut Pile {
        let same = |p: &Pile| p.shown.what == what && p.shown.ground == ground;
        let i = self.all.iter().position(same).unwrap_or_else(|| {
            self.all.push(Pile {
                shown: Surface {
                    what: what.into(),
                    marks: Vec::new(),
                    ground,
                    at,
                    rule: rule.into(),
                    sum: String::new(),
                    pieces: 0.0,
                    run_ft: 0.0,
                    face_sq_ft: 0.0,
                    edge_sq_ft: 0.0,
                    sq_ft: 0.0,
                },
                faces: 0.0,
                edges: 0.0,
                sums: Vec::new(),
            });
            self.all.len() - 1
        });
        &mut self.all[i]
    }

    fn close(self) -> Vec<Surface> {
        let close = |p: Pile| {
            let mut s = p.shown;
            (s.face_sq_ft, s.edge_sq_ft) = (p.faces / 144.0, p.edges / 144.0);
            s.sq_ft = s.face_sq_ft + s.edge_sq_ft;
            s.sum = p.sums.join(" + ");
            s
        };
        let painted = |s: &Surface| s.sq_ft > 0.0;
        self.all.into_iter().map(close).filter(painted).collect()
    }
}

impl Pile {
    /// So many faces of that size.
    pub(super) fn faces(&mut self, tape: Tape, mark: &str, count: f64, size: [Length; 2]) {
        self.mark(mark);
        if count > 0.0 {
            self.shown.pieces += count;
            self.shown.run_ft += count * size[0].as_inches() / 12.0;
            self.faces += count * size[0].as_inches() * size[1].as_inches();
            self.sums.push(format!(
                "{count} x {} x {}",
                tape.print(size[0]),
                tape.print(size[1])
            ));
        }
    }
    /// A run of edge so thick, doubled where raw.
    pub(super) fn edge(&mut self, run: Length, thick: Length, raw: bool) {
        let times = if raw { 2.0 } else { 1.0 };
        self.edges += run.as_inches() * thick.as_inches() * times;
    }
    fn mark(&mut self, mark: &str) {
        if !mark.is_empty() && !self.shown.marks.iter().any(|m| m == mark) {
            self.shown.marks.push(mark.into());
        }
    }
}

/// The areas of a route, by surface, in the order of its parts. Nothing where `look` is none.
pub fn surfaces(job: &Job, route: &str, around: &Around) -> Vec<Surface> {
    let mut piles = Piles {
        tape: job.project.tape,
        all: Vec::new(),
    };
    if job.finish.look == "none" {
        return Vec::new();
    }
    for part in job.route_parts(route) {
        panel_or_stick(job, (route, part), &mut piles);
    }
    if around.open_ends {
        ends(job, route, &mut piles);
    }
    frames::add(job, route, around, &mut piles);
    bought_sticks(job, route, &mut piles);
    trim_sticks(job, &around.sticks, &mut piles);
    let tape = piles.tape;
    for size in around.walls.iter().filter(|_| job.finish.walls) {
        let pile = piles.of(
            "closet walls and ceiling",
            Ground::Wall,
            PaintedAt::InPlace,
            "before anything is set",
        );
        pile.faces(tape, "", 1.0, *size);
    }
    piles.close()
}

/// Bare unless its row says that it is primed or finished.
pub(super) fn ground_of(row: Option<&StockRow>) -> Ground {
    let what = row.map_or_else(String::new, |r| r.what.to_lowercase());
    if what.contains("primed") && !what.contains("unprimed") {
        Ground::Primed
    } else if ["prefinished", "melamine", "white faced", "laminate"]
        .iter()
        .any(|w| what.contains(w))
    {
        Ground::Factory
    } else {
        Ground::Raw
    }
}

fn panel_or_stick(job: &Job, (route, part): (&str, &Part), piles: &mut Piles) {
    let tape = piles.tape;
    let rule = face_rule_among(job.route_parts(route), part);
    if rule.inside && !job.finish.inside {
        return;
    }
    let row = job.stock_row(&part.item);
    if row.is_some_and(StockRow::is_bare_metal_rail) {
        return;
    }
    let pile = piles.of(rule.what, ground_of(row), rule.at, rule.rule);
    let thick = row.and_then(StockRow::thickness).unwrap_or_default();
    let count = f64::from(part.how_many);
    match part.size {
        PartSize::Panel { length, width } => {
            let faces = count * f64::from(rule.half_faces) / 2.0;
            pile.faces(tape, &part.mark, faces, [length, width]);
            for (run, raw) in edges(rule, part.band, length, width) {
                pile.edge(run * i64::from(part.how_many), thick, raw);
            }
        }
        PartSize::Piece { length } => {
            let width = row.and_then(|r| r.width).unwrap_or_default();
            pile.faces(tape, &part.mark, count, [length, width]);
            pile.edge(length * 2 * i64::from(part.how_many), thick, false);
        }
    }
}

/// The edges of one piece that show, each with whether it is raw.
fn edges(rule: FaceRule, band: Band, length: Length, width: Length) -> Vec<(Length, bool)> {
    match rule.edges {
        Edges::None => Vec::new(),
        Edges::Front => vec![(length, !(band.front || band.back))],
        Edges::All => vec![
            (length, !band.front),
            (length, !band.back),
            (width, !band.left),
            (width, !band.right),
        ],
    }
}

/// The outer faces of the first and the last box of each run, one side each.
fn ends(job: &Job, route: &str, piles: &mut Piles) {
    let tape = piles.tape;
    for run in job.runs.iter().filter(|r| r.route == route) {
        let names = [run.boxes.first(), run.boxes.last()];
        for name in names.into_iter().flatten().map(|b| &b.name) {
            let side = |p: &&Part| p.in_box == *name && face_rule(p).what == "sides";
            let Some(part) = job.route_parts(route).find(side) else {
                continue;
            };
            if let PartSize::Panel { length, width } = part.size {
                let ground = ground_of(job.stock_row(&part.item));
                let pile = piles.of(
                    "open ends",
                    ground,
                    PaintedAt::Bench,
                    "outer face of the end sides: no wall beside them",
                );
                pile.faces(tape, &part.mark, 1.0, [length, width]);
            }
        }
    }
}

/// Trim as it is cut.
fn trim_sticks(job: &Job, sticks: &[Stick], piles: &mut Piles) {
    let tape = piles.tape;
    for stick in sticks {
        let Some(row) = job.stock_row(&stick.item) else {
            continue;
        };
        let rule = "face and both edges";
        let pile = piles.of("mouldings", ground_of(Some(row)), PaintedAt::InPlace, rule);
        let size = [stick.length, row.width.unwrap_or_default()];
        pile.faces(tape, &stick.mark, f64::from(stick.count), size);
        let thick = row.thickness().unwrap_or_default();
        pile.edge(stick.length * 2 * i64::from(stick.count), thick, false);
    }
}

/// Mouldings she lists under `[[need]]` and that no part is cut from: whole sticks.
fn bought_sticks(job: &Job, route: &str, piles: &mut Piles) {
    let tape = piles.tape;
    for (row, length) in needed_sticks(job, route) {
        let rule = "whole sticks as listed: face and both edges";
        let pile = piles.of("mouldings", ground_of(Some(row)), PaintedAt::InPlace, rule);
        pile.faces(
            tape,
            &row.item,
            1.0,
            [length, row.width.unwrap_or_default()],
        );
        pile.edge(length * 2, row.thick.unwrap_or_default(), false);
    }
}

/// Those mouldings, each with its whole length.
pub(super) fn needed_sticks<'a>(job: &'a Job, route: &str) -> Vec<(&'a StockRow, Length)> {
    let cut = |row: &StockRow| {
        let mut parts = job.route_parts(route);
        parts.any(|p| job.stock_row(&p.item).is_some_and(|r| r.same_material(row)))
    };
    let needs = job.needs.iter().filter(|n| n.route == route);
    needs
        .filter_map(|n| {
            let row = job
                .stock_row(&n.item)
                .filter(|r| r.kind == StockKind::Moulding && !r.is_rail())?;
            let length = match n.amount {
                NeedUnit::Count(c) => {
                    Length::from_units(row.length?.units().saturating_mul(c) / 1_000)
                }
                NeedUnit::Run(l) => l,
                NeedUnit::Volume(_) => return None,
            };
            (!cut(row)).then_some((row, length))
        })
        .collect()
}
