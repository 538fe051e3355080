//! Which faces and edges of a part show, by the name of the part. Common practice, no source.
//!
//! What stands against a wall, another box, the base or the floor is hidden. Joints are not taken out of a face.

use crate::model::{PaintedAt, Part, PartSize};

/// Edges that show.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Edges {
    /// None.
    None,
    /// One, along the part's length.
    Front,
    /// All four.
    All,
}

/// A row of the table.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct FaceRule {
    /// Name of the surface.
    pub(super) what: &'static str,
    /// The part's name has one of these words; none = any name.
    words: &'static [&'static str],
    /// How many faces of each piece show, in halves: 1 = one face of every second piece.
    pub(super) half_faces: u32,
    pub(super) edges: Edges,
    pub(super) at: PaintedAt,
    /// True for what is left as it is where `inside` is no.
    pub(super) inside: bool,
    /// In words.
    pub(super) rule: &'static str,
}

const fn rule(
    what: &'static str,
    words: &'static [&'static str],
    half_faces: u32,
    edges: Edges,
    at: PaintedAt,
    inside: bool,
    rule: &'static str,
) -> FaceRule {
    FaceRule {
        what,
        words,
        half_faces,
        edges,
        at,
        inside,
        rule,
    }
}

use Edges::{All, Front, None as NoEdge};
use PaintedAt::{Apart, Bench, InPlace};

/// Names of a front laid on a drawer's box: beside one, a `drawer front` is part of the box behind it.
const LAID_ON: &[&str] = &["drawer face", "false front", "applied front", "show front"];
/// Names of what shows.
const FRONTS: &[&str] = &[
    "door",
    "drawer front",
    "drawer face",
    "false front",
    "applied front",
    "show front",
];
/// Names of fronts that do not, though they have the words of one that does.
const BEHIND: &[&str] = &["drawer front and back", "sub front", "sub-front", "inner"];
const DRAWER_BOXES: FaceRule = rule(
    "drawer boxes",
    &["drawer"],
    0,
    NoEdge,
    Bench,
    true,
    "left as they are",
);

/// The first that fits a part's name counts.
const PANELS: &[FaceRule] = &[
    rule(
        "crosspieces",
        &["crosspiece"],
        0,
        NoEdge,
        Bench,
        false,
        "hidden in the base",
    ),
    rule(
        "base fronts",
        &["base front and back"],
        1,
        NoEdge,
        Bench,
        false,
        "the front's outer face; the back is hidden",
    ),
    rule(
        "base fronts",
        &["base", "plinth"],
        2,
        NoEdge,
        Bench,
        false,
        "one face",
    ),
    rule(
        "doors and drawer fronts",
        FRONTS,
        4,
        All,
        Apart,
        false,
        "both faces, all edges",
    ),
    DRAWER_BOXES,
    rule(
        "loose shelves",
        &["loose shelf", "loose shelves"],
        4,
        Front,
        Apart,
        true,
        "both faces, front edge",
    ),
    rule(
        "fixed shelves",
        &["shelf", "shelves"],
        4,
        Front,
        Bench,
        true,
        "both faces, front edge",
    ),
    rule(
        "partitions",
        &["partition", "divider"],
        4,
        Front,
        Bench,
        true,
        "both faces, front edge",
    ),
    rule(
        "strips and fillers",
        &["scribe", "filler", "strip", "blank"],
        2,
        Front,
        InPlace,
        false,
        "one face, one long edge",
    ),
    rule(
        "sides",
        &["side"],
        2,
        Front,
        Bench,
        true,
        "inner face, front edge",
    ),
    rule(
        "tops and bottoms",
        &["top", "bottom"],
        2,
        Front,
        Bench,
        true,
        "inner face, front edge",
    ),
    rule(
        "nailers",
        &["nailer"],
        2,
        Front,
        Bench,
        true,
        "one face, lower edge",
    ),
    rule("backs", &["back"], 2, NoEdge, Bench, true, "inner face"),
];

/// Panels whose name says nothing.
const OTHER: FaceRule = rule(
    "other parts",
    &[],
    4,
    Front,
    Bench,
    false,
    "both faces, one long edge: the name does not say what shows",
);
/// Mouldings and boards.
const STICK: FaceRule = rule(
    "mouldings",
    &[],
    2,
    All,
    InPlace,
    false,
    "face and both edges",
);
/// Rails cut from a stick.
const RAIL: FaceRule = rule("rails", &["rail", "rod"], 2, All, Apart, true, "all round");

/// The rule of a part among the others of its route: a drawer front shows unless it is the front of the drawer's own box, which it
/// is beside a front laid on, or where the drawer's back is as large.
pub(super) fn face_rule_among<'a>(
    mut all: impl Iterator<Item = &'a Part>,
    part: &Part,
) -> FaceRule {
    let name = part.what.to_lowercase();
    if !name.contains("drawer front") {
        return face_rule(part);
    }
    let behind = |p: &Part| {
        let other = p.what.to_lowercase();
        LAID_ON.iter().any(|w| other.contains(w))
            || other.contains("drawer back") && p.size == part.size
    };
    if all.any(|p| p.in_box == part.in_box && behind(p)) {
        DRAWER_BOXES
    } else {
        face_rule(part)
    }
}

/// The rule of a part.
pub(super) fn face_rule(part: &Part) -> FaceRule {
    let name = part.what.to_lowercase();
    // A box may be called anything, also `top` or `left side`.
    let named = part.in_box.to_lowercase();
    let name = name
        .strip_prefix(&named)
        .filter(|_| !["base", "face"].contains(&named.as_str()))
        .unwrap_or(&name);
    let has = |r: &FaceRule| r.words.iter().any(|w| name.contains(w));
    match part.size {
        PartSize::Piece { .. } if has(&RAIL) => RAIL,
        PartSize::Piece { .. } => STICK,
        PartSize::Panel { .. }
            if name.contains("drawer") && BEHIND.iter().any(|w| name.contains(w)) =>
        {
            DRAWER_BOXES
        }
        PartSize::Panel { .. } => PANELS.iter().copied().find(has).unwrap_or(OTHER),
    }
}
