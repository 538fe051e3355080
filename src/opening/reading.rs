//! Every reading by its place: list them, read one, change one, name one.
//!
//! Owns the path names that the survey prints and writes (`plumb_lines.right_gap[4]`), and the same in words. It judges nothing.

use super::shape::{Face, Side};
use crate::model::{Opening, Reading, Station};
use crate::units::{Length, Tape};

/// Where a reading stands in the opening's tables.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum ReadingAt {
    /// Between the plumb lines.
    Apart,
    /// Gap from a plumb line to its wall.
    Gap(Side, Face, usize),
    /// Down to the floor.
    Down(Face, usize),
    /// Up to the ceiling.
    Up(Face, usize),
    /// Tape width.
    Width(usize),
    /// Diagonal, low left to high right.
    DiagonalUpRight,
    /// Diagonal, low right to high left.
    DiagonalUpLeft,
    /// Tape depth.
    Depth(usize),
    /// Floor to ceiling by tape.
    Height(usize),
    /// Gap behind the straightedge of the back wall: which straightedge, which station.
    BackGap(usize, usize),
}

use ReadingAt as At;

/// The list that holds the gaps of a side and plane.
fn gaps(o: &Opening, side: Side, face: Face) -> &[Reading] {
    let p = &o.plumb_lines;
    match (side, face) {
        (Side::Left, Face::Front) => &p.left_gap,
        (Side::Right, Face::Front) => &p.right_gap,
        (Side::Left, Face::Back) => &p.left_gap_back,
        (Side::Right, Face::Back) => &p.right_gap_back,
    }
}

fn station(s: &Station, face: Face) -> Reading {
    match face {
        Face::Front => s.front,
        Face::Back => s.back,
    }
}

/// Every place a reading can stand, taken or not, in the order she walks: level line, plumb lines, tape, back wall.
pub fn all(o: &Opening) -> Vec<At> {
    let mut list = Vec::new();
    // Where one station was read at the back, the others are missing there.
    let has_back = |stations: &[Station]| stations.iter().any(|s| s.back.is_some());
    let (down, up) = (&o.level_line.down_to_floor, &o.level_line.up_to_ceiling);
    for i in 0..down.len() {
        list.push(At::Down(Face::Front, i));
        if has_back(down) {
            list.push(At::Down(Face::Back, i));
        }
    }
    for i in 0..up.len() {
        list.push(At::Up(Face::Front, i));
        if has_back(up) {
            list.push(At::Up(Face::Back, i));
        }
    }
    list.push(At::Apart);
    for face in [Face::Front, Face::Back] {
        for side in [Side::Left, Side::Right] {
            let n = gaps(o, side, face).len().min(o.plumb_lines.height.len());
            list.extend((0..n).map(|i| At::Gap(side, face, i)));
        }
    }
    let n = o.tape.width.len().min(o.tape.width_at.len());
    list.extend((0..n).map(At::Width));
    if o.tape.diagonal_up_right.is_some() {
        list.push(At::DiagonalUpRight);
    }
    if o.tape.diagonal_up_left.is_some() {
        list.push(At::DiagonalUpLeft);
    }
    list.extend((0..o.tape.depth.len()).map(At::Depth));
    list.extend((0..o.tape.height.len()).map(At::Height));
    for (b, wall) in o.back_wall.iter().enumerate() {
        let n = wall.gap.len().min(wall.from_left.len());
        list.extend((0..n).map(|i| At::BackGap(b, i)));
    }
    list
}

/// What was read there; `None` = not taken.
pub fn get(o: &Opening, at: At) -> Reading {
    match at {
        At::Apart => o.plumb_lines.apart,
        At::Gap(side, face, i) => gaps(o, side, face).get(i).copied().flatten(),
        At::Down(face, i) => station(o.level_line.down_to_floor.get(i)?, face),
        At::Up(face, i) => station(o.level_line.up_to_ceiling.get(i)?, face),
        At::Width(i) => o.tape.width.get(i).copied().flatten(),
        At::DiagonalUpRight => o.tape.diagonal_up_right.flatten(),
        At::DiagonalUpLeft => o.tape.diagonal_up_left.flatten(),
        At::Depth(i) => o.tape.depth.get(i).and_then(|d| d.1),
        At::Height(i) => o.tape.height.get(i).and_then(|d| d.1),
        At::BackGap(b, i) => o.back_wall.get(b)?.gap.get(i).copied().flatten(),
    }
}

/// Writes another value there; nothing happens where there is no such place.
pub(crate) fn put(o: &mut Opening, at: At, value: Length) {
    let v = Some(value);
    let p = &mut o.plumb_lines;
    let slot = match at {
        At::Apart => Some(&mut p.apart),
        At::Gap(Side::Left, Face::Front, i) => p.left_gap.get_mut(i),
        At::Gap(Side::Right, Face::Front, i) => p.right_gap.get_mut(i),
        At::Gap(Side::Left, Face::Back, i) => p.left_gap_back.get_mut(i),
        At::Gap(Side::Right, Face::Back, i) => p.right_gap_back.get_mut(i),
        At::Down(Face::Front, i) => o.level_line.down_to_floor.get_mut(i).map(|s| &mut s.front),
        At::Down(Face::Back, i) => o.level_line.down_to_floor.get_mut(i).map(|s| &mut s.back),
        At::Up(Face::Front, i) => o.level_line.up_to_ceiling.get_mut(i).map(|s| &mut s.front),
        At::Up(Face::Back, i) => o.level_line.up_to_ceiling.get_mut(i).map(|s| &mut s.back),
        At::Width(i) => o.tape.width.get_mut(i),
        At::DiagonalUpRight => o.tape.diagonal_up_right.as_mut(),
        At::DiagonalUpLeft => o.tape.diagonal_up_left.as_mut(),
        At::Depth(i) => o.tape.depth.get_mut(i).map(|d| &mut d.1),
        At::Height(i) => o.tape.height.get_mut(i).map(|d| &mut d.1),
        At::BackGap(b, i) => o.back_wall.get_mut(b).and_then(|w| w.gap.get_mut(i)),
    };
    if let Some(slot) = slot {
        *slot = v;
    }
}

/// The reading's path in the opening's tables.
pub fn path(o: &Opening, at: At) -> String {
    let level = |stations: &[Station], list: &str, face: Face, i: usize| {
        let own = stations
            .get(i)
            .map(|s| s.path.clone())
            .filter(|p| !p.is_empty());
        let base = own.unwrap_or_else(|| format!("level_line.{list}[{i}]"));
        match face {
            Face::Front => base,
            Face::Back => format!("{base}.back"),
        }
    };
    match at {
        At::Apart => "plumb_lines.apart".into(),
        At::Gap(side, face, i) => {
            let side = if side == Side::Left { "left" } else { "right" };
            let back = if face == Face::Back { "_back" } else { "" };
            format!("plumb_lines.{side}_gap{back}[{i}]")
        }
        At::Down(face, i) => level(&o.level_line.down_to_floor, "down_to_floor", face, i),
        At::Up(face, i) => level(&o.level_line.up_to_ceiling, "up_to_ceiling", face, i),
        At::Width(i) => format!("tape.width[{i}]"),
        At::DiagonalUpRight => "tape.diagonal.low_left_to_high_right".into(),
        At::DiagonalUpLeft => "tape.diagonal.low_right_to_high_left".into(),
        At::Depth(i) => named("tape.depth", o.tape.depth.get(i).map(|d| d.0.as_str()), i),
        At::Height(i) => named("tape.height", o.tape.height.get(i).map(|d| d.0.as_str()), i),
        At::BackGap(b, i) if o.back_wall.len() > 1 => format!("back_wall[{b}].gap[{i}]"),
        At::BackGap(_, i) => format!("back_wall.gap[{i}]"),
    }
}

/// The place with that path.
pub fn find(o: &Opening, wanted: &str) -> Option<At> {
    all(o).into_iter().find(|at| path(o, *at) == wanted)
}

/// The reading in words, as she would ask for it: `right gap at 95`.
pub fn words(o: &Opening, at: At, tape: Tape) -> String {
    let height = |h: Option<&Length>| h.map_or_else(|| "?".into(), |h| tape.print(*h));
    let behind = |face| {
        if face == Face::Back {
            ", at the back"
        } else {
            ""
        }
    };
    let where_is = |list: &[Station], i: usize| {
        list.get(i).map_or_else(String::new, |s| match s.from_left {
            Some(x) => format!("{} from the left", tape.print(x)),
            None if s.name.is_empty() => format!("reading {}", i + 1),
            None => s.name.clone(),
        })
    };
    match at {
        At::Apart => "distance between the plumb lines".into(),
        At::Gap(side, face, i) => {
            let side = if side == Side::Left { "left" } else { "right" };
            let h = height(o.plumb_lines.height.get(i));
            format!("{side} gap at {h}{}", behind(face))
        }
        At::Down(face, i) => {
            let place = where_is(&o.level_line.down_to_floor, i);
            format!("down to floor, {place}{}", behind(face))
        }
        At::Up(face, i) => {
            let place = where_is(&o.level_line.up_to_ceiling, i);
            format!("up to ceiling, {place}{}", behind(face))
        }
        At::Width(i) => format!("width by tape at {}", height(o.tape.width_at.get(i))),
        At::DiagonalUpRight => "diagonal, low left to high right".into(),
        At::DiagonalUpLeft => "diagonal, low right to high left".into(),
        At::Depth(i) => format!("depth, {}", name_of(&o.tape.depth, i)),
        At::Height(i) => format!("height by tape, {}", name_of(&o.tape.height, i)),
        At::BackGap(b, i) => {
            let place = o.back_wall.get(b).and_then(|w| w.from_left.get(i));
            format!("gap behind the straightedge at {}", height(place))
        }
    }
}

/// `right low` for `tape.depth.right.low`; `reading 2` where it has no name.
fn name_of(list: &[(String, Reading)], i: usize) -> String {
    let name = list.get(i).map_or("", |d| d.0.as_str());
    let name = name
        .trim_start_matches("tape.depth.")
        .trim_start_matches("tape.height.");
    if name.is_empty() || name.starts_with('[') {
        return format!("reading {}", i + 1);
    }
    name.replace('.', " ")
}

/// `table.name`, or the name itself where it is a path already, or the number.
fn named(table: &str, name: Option<&str>, i: usize) -> String {
    match name {
        Some(n) if n.starts_with(table) => n.to_owned(),
        Some(n) if !n.is_empty() => format!("{table}.{n}"),
        _ => format!("{table}[{i}]"),
    }
}
