//! Where a box is screwed to studs: those behind it, and those that one of its own boards hides.
//!
//! Owns which stud takes a screw. Where its boards stand follows from the run, the sheet's thickness and what it has inside.

use super::clear::along_side;
use super::side;
use super::sit::{Row, Standing};
use super::studs::{LEANS, Stud, studs_on};
use super::survey::Survey;
use super::wants::BOARD;
use crate::model::{Job, Opening, PrefabUnit, Reading, Run, StockRow, WallSide};
use crate::units::{Length, Tape};
use serde::Serialize;

/// Between a screw's middle and a board: room for its head and the driver. Common practice, no source: 3/8 in.
const BESIDE: Length = Length::in_64(24);

/// A stud behind one of the box's own boards: no screw goes there.
#[derive(Clone, PartialEq, Eq, Debug, Serialize)]
pub struct HiddenStud {
    /// Its middle from the box's left outside edge.
    pub from_left_edge: Length,
    /// The board: left side, right side, partition.
    pub behind: String,
}

/// One box and the studs of its wall.
#[derive(Clone, PartialEq, Eq, Debug, Serialize)]
pub struct Fixing {
    /// The wall: back, left or right.
    pub wall: String,
    /// The box.
    pub in_box: String,
    /// Which that is, counted from 1 at the left: frames of one kind share a name.
    pub box_number: usize,
    /// Where screws go into studs, from its left outside edge.
    pub screws: Vec<Length>,
    /// Studs that its own boards hide.
    pub hidden: Vec<HiddenStud>,
}

/// Every box of a row.
pub(crate) fn fixings(
    job: &Job,
    (opening, survey): (&Opening, &Survey),
    (run, row): (&Run, &Row),
    frames: &[&PrefabUnit],
) -> Vec<Fixing> {
    let each = row.boxes.iter().enumerate().map(|(i, b)| {
        let boards = if run.has_boxes() {
            boards_of_box(job, run, i, b.width)
        } else {
            boards_of_frame(frames.get(i).copied(), b.width)
        };
        let mut fixing = Fixing {
            wall: run.wall.word().into(),
            in_box: b.name.clone(),
            box_number: i + 1,
            screws: Vec::new(),
            hidden: Vec::new(),
        };
        for stud in studs_behind(opening, survey, run.wall, b) {
            match screw_at(stud, &boards) {
                Ok(at) => fixing.screws.push(at),
                Err(behind) => fixing.hidden.push(HiddenStud {
                    from_left_edge: stud,
                    behind,
                }),
            }
        }
        fixing
    });
    each.collect()
}

/// Boards that stand from front to back, from the left outside edge.
fn boards_of_box(job: &Job, run: &Run, i: usize, width: Length) -> Vec<[Length; 2]> {
    let item = run.material.as_deref().and_then(|m| job.stock_row(m));
    let thick = item.and_then(StockRow::thickness).unwrap_or(BOARD);
    let inside = (width - thick * 2).at_least_zero();
    let bays = run.boxes.get(i).map(|plan| {
        let unit = job.project.tape.unit;
        plan.inside.bays(unit, inside, thick)
    });
    let mut boards = vec![[Length::ZERO, thick]];
    let mut x = thick;
    for bay in bays.unwrap_or_else(|| vec![inside]) {
        x += bay;
        boards.push([x, x + thick]);
        x += thick;
    }
    boards
}

fn boards_of_frame(frame: Option<&PrefabUnit>, width: Length) -> Vec<[Length; 2]> {
    let side = frame.and_then(|f| Some((width - f.inside_width?) / 2));
    let side = side.filter(|s| s.is_positive()).unwrap_or(BOARD);
    vec![[Length::ZERO, side], [width - side, width]]
}

/// Where a screw goes into a stud, moved off its middle by no more than it bears where a board is near; or the board that hides it.
fn screw_at(stud: Length, boards: &[[Length; 2]]) -> Result<Length, String> {
    let near = |at: Length, b: &[Length; 2]| at > b[0] - BESIDE && at < b[1] + BESIDE;
    let Some(hides) = boards.iter().position(|b| near(stud, b)) else {
        return Ok(stud);
    };
    let [from, to] = boards[hides];
    let free = |at: &Length| {
        (*at - stud).abs() <= LEANS
            && boards.iter().all(|b| !near(*at, b))
            && at.is_positive()
            && boards.last().is_some_and(|b| *at < b[1])
    };
    let moved = [from - BESIDE, to + BESIDE].into_iter().filter(free);
    moved.min_by_key(|at| (*at - stud).abs()).ok_or_else(|| {
        let word = match hides {
            0 => "left side",
            n if n + 1 == boards.len() => "right side",
            _ => "partition",
        };
        word.to_owned()
    })
}

impl Fixing {
    /// For a table: where to screw, and where not; `None` where no stud is known behind it.
    pub fn in_words(&self, tape: Tape) -> Option<String> {
        let mut words: Vec<String> = self.screws.iter().map(|l| tape.print(*l)).collect();
        words.extend(
            self.hidden
                .iter()
                .map(|h| format!("not {}: {} there", tape.print(h.from_left_edge), h.behind)),
        );
        (!words.is_empty()).then(|| words.join(", "))
    }
    /// Where no stud takes a screw.
    pub(super) fn caution(&self, tape: Tape) -> Option<String> {
        if !self.screws.is_empty() {
            return None;
        }
        let each = self.hidden.iter().map(|h| {
            let at = tape.print(h.from_left_edge);
            format!("{at} from its left edge, behind its {}", h.behind)
        });
        let hidden: Vec<String> = each.collect();
        Some(if hidden.is_empty() {
            format!(
                "No stud behind {}: screw it to its neighbours and to blocking fixed across the studs.",
                self.in_box
            )
        } else {
            format!(
                "No stud behind {} takes a screw ({}): screw it to its neighbours and to blocking fixed across the studs, or move it.",
                self.in_box,
                hidden.join("; ")
            )
        })
    }
}

/// Studs behind each box, from the box's own left edge; those of the back wall from the corner at the back, at the height at which
/// they were read.
fn studs_behind(opening: &Opening, survey: &Survey, wall: WallSide, b: &Standing) -> Vec<Length> {
    let corner = |up: Reading| {
        let left = &survey.shape.behind().left;
        left.plumb_at(up.unwrap_or_default()).unwrap_or_default()
    };
    let along = |s: &Stud| match side::side_of(wall) {
        None => s.from_left - corner(s.height),
        Some(side) => along_side(opening, survey, side, s.from_left).unwrap_or(s.from_left),
    };
    let mut list: Vec<Length> = studs_on(opening, wall)
        .iter()
        .map(|s| along(s) - b.x)
        .filter(|at| at.is_positive() && *at < b.width)
        .collect();
    list.sort_unstable();
    list
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::opening::fit_tests::{fitted, plan, two_ways};
    use crate::opening::samples::inch;
    use crate::opening::survey;

    fn studs(job: &mut Job, from_left: &[Length]) {
        let o = job.opening.as_mut().unwrap();
        o.studs = vec![crate::model::Studs {
            wall: WallSide::Back,
            from_left: from_left.to_vec(),
            height: None,
            found_by: String::new(),
        }];
    }

    /// The left wall leans out by 1 3/4 more at the back: a stud 40 from the corner there is 40 from a corner 1 + 1 3/4 left of the
    /// plumb line.
    #[test]
    fn a_stud_is_measured_from_the_corner_at_the_back() {
        let mut job = two_ways();
        studs(&mut job, &[inch("40")]);
        let o = job.opening.as_mut().unwrap();
        let plumb = &mut o.plumb_lines;
        let back = plumb.left_gap.iter().map(|g| g.map(|g| g + inch("1 3/4")));
        plumb.left_gap_back = back.collect();
        plumb.right_gap_back.clone_from(&plumb.right_gap);
        let b = Standing {
            name: "m".into(),
            x: inch("20"),
            width: inch("24"),
            height: inch("80"),
            depth: inch("20"),
        };
        let o = job.opening.as_ref().unwrap();
        let behind = studs_behind(o, &survey(o), WallSide::Back, &b);
        assert_eq!(behind, [inch("17 1/4")]);
    }

    /// Sides and a partition of 23/32 in a box of 24 23/32: bays of 11 9/32, the partition from 12 to 12 23/32. A screw needs 3/8 beside a
    /// board and may go 1/4 off the middle of its stud; by hand.
    #[test]
    fn a_stud_behind_a_board_of_the_box_takes_no_screw() {
        let mut job = two_ways();
        job.runs.truncate(1);
        let mut one = plan("one", "24 23/32", 0, 1, false);
        one.inside.partitions = 1;
        job.runs[0].boxes = vec![one];
        let boards = boards_of_box(&job, &job.runs[0], 0, inch("24 23/32"));
        let b = inch("23/32");
        let want = [["0", "23/32"], ["12", "12 23/32"], ["24", "24 23/32"]];
        assert_eq!(boards, want.map(|w| w.map(inch)).to_vec());
        let at = |l: &str| screw_at(inch(l), &boards);
        assert_eq!(at("8"), Ok(inch("8")));
        assert_eq!(at("1/2"), Err("left side".into()));
        assert_eq!(at("12 1/4"), Err("partition".into()));
        assert_eq!(at("24 1/4"), Err("right side".into()));
        // Moved by exactly 1/4, and by a mark more than that.
        assert_eq!(at("11 7/8"), Ok(inch("11 5/8")));
        assert_eq!(at("11 57/64"), Err("partition".into()));
        assert_eq!(at("1"), Ok(b + inch("3/8")));
        // In the row: from its own edge, and a caution where no stud is left.
        let said = |job: &Job| {
            let f = fitted(job).routes.remove(0);
            let one = f.fixing[0].clone();
            (one, f.cautions.join(" "))
        };
        let x = fitted(&job).routes[0].row.clone().unwrap().boxes[0].x;
        let from = |l: &str| x + inch("1") + inch(l);
        studs(&mut job, &[from("8"), from("12 1/4")]);
        let (one, cautions) = said(&job);
        assert_eq!(one.screws, [inch("8")]);
        assert_eq!(one.hidden[0].from_left_edge, inch("12 1/4"));
        assert_eq!(
            one.in_words(Tape::default()).as_deref(),
            Some("8, not 12 1/4: partition there")
        );
        assert!(!cautions.contains("takes a screw"), "{cautions}");
        studs(&mut job, &[from("12 1/4")]);
        let (one, cautions) = said(&job);
        assert!(one.screws.is_empty());
        assert!(
            cautions.contains(
                "No stud behind one takes a screw (12 1/4 from its left edge, behind its partition)"
            ),
            "{cautions}"
        );
    }

    /// A frame 24 wide, 22 1/2 inside: sides of 3/4.
    #[test]
    fn the_sides_of_a_frame_are_known_by_its_inside() {
        let job = two_ways();
        let frame = job
            .prefab
            .iter()
            .find(|u| u.inside_width.is_some())
            .unwrap();
        let wide = frame.width.unwrap();
        let side = (wide - frame.inside_width.unwrap()) / 2;
        let boards = boards_of_frame(Some(frame), wide);
        assert_eq!(boards, [[Length::ZERO, side], [wide - side, wide]]);
        assert_eq!(screw_at(side / 2, &boards), Err("left side".into()));
        assert_eq!(boards_of_frame(None, wide)[0], [Length::ZERO, BOARD]);
    }
}
