//! How stiff boards are (modulus of elasticity) and how far they go on sinking, by the words of a stock row or a unit.
//!
//! S numbers: DEVELOPERS.md, Sources. A thing without one says so.

/// Pounds on a square inch in one newton on a square millimetre.
pub(crate) const PSI_IN_N_MM2: f64 = 145.037_738;

/// A material as a shelf.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Stiffness {
    /// Modulus of elasticity along the grain, psi.
    pub psi: f64,
    /// What the deflection grows to over years, as a multiple of the first: 1.5 for plywood and wood (NDS 3.5.2, S32), 2 for
    /// boards of chips or fibres (common practice, no source; 1.5 to 3 are published).
    pub creep: f64,
    /// The words it was known by, as they are shown.
    pub known_as: &'static str,
}

/// Words looked for, in this order: the more special come first.
const TABLE: &[(&[&str], f64, f64, &str)] = &[
    (
        &["particle", "chipboard", "melamine"],
        1600.0 * PSI_IN_N_MM2,
        2.0,
        "particleboard",
    ), // EN 312 P2, 16 to 18 mm, S24
    (&["mdf", "fibreboard", "fiberboard"], 350_000.0, 2.0, "MDF"), // S16
    (&["hardboard"], 450_000.0, 2.0, "hardboard"), // low end, from memory (GTR-190 table 12-1)
    (&["osb", "oriented strand"], 640_000.0, 2.0, "OSB"), // low end, S22
    (
        &["fir ply", "fir-faced ply", "softwood ply", "pine ply"],
        950_000.0,
        1.5,
        "fir plywood",
    ), // S19 4.4.14.10.11
    (&["ply"], PLYWOOD, 1.5, "plywood"),
    (&["red oak"], 1_820_000.0, 1.5, "red oak"), // S19
    (&["white oak", "oak"], 1_780_000.0, 1.5, "oak"), // from memory (GTR-190 table 5-3)
    (&["birch"], 2_010_000.0, 1.5, "birch"),     // S20
    (&["cherry"], 1_490_000.0, 1.5, "cherry"),   // S20
    (&["ash"], 1_740_000.0, 1.5, "ash"),         // S20
    (&["beech"], 1_720_000.0, 1.5, "beech"),     // S20
    (
        &["sugar maple", "hard maple"],
        1_830_000.0,
        1.5,
        "hard maple",
    ), // from memory (GTR-190 table 5-3)
    (&["maple"], 1_640_000.0, 1.5, "maple"),     // S20
    (&["basswood"], 1_460_000.0, 1.5, "basswood"), // S20
    (&["alder"], 1_380_000.0, 1.5, "alder"),     // S20
    (&["aspen"], 1_180_000.0, 1.5, "aspen"),     // S20
    (&["walnut"], 1_680_000.0, 1.5, "walnut"),   // from memory (GTR-190 table 5-3)
    (&["poplar"], POPLAR, 1.5, "poplar"),        // from memory (GTR-190 table 5-3)
    (&["douglas"], 1_950_000.0, 1.5, "Douglas fir"), // S21
    (&["spruce"], 1_300_000.0, 1.5, "spruce"),   // S21
    (&["hemlock"], 1_630_000.0, 1.5, "hemlock"), // S21
    (&["pine"], 1_240_000.0, 1.5, "pine"), // white pine, the least, from memory (GTR-190 table 5-3)
];

/// Plywood with hardwood faces: upper end of 1.0 to 1.2 million, common practice, no source.
const PLYWOOD: f64 = 1_200_000.0;
/// Yellow poplar, what a lip is made of: from memory (GTR-190 table 5-3).
pub(crate) const POPLAR: f64 = 1_580_000.0;

/// The stiffness of a material by the words that name it; plywood's where none is known.
pub fn stiffness_of(words: &str) -> Stiffness {
    let words = words.to_lowercase();
    let has = |word: &str| {
        // A short word must begin where a word begins: "ash" is not in "washed".
        words.match_indices(word).any(|(at, _)| {
            words[..at]
                .chars()
                .next_back()
                .is_none_or(|c| !c.is_alphanumeric())
                || word == "ply"
        })
    };
    TABLE
        .iter()
        .find(|(any, ..)| any.iter().any(|w| has(w)))
        .map_or(
            Stiffness {
                psi: PLYWOOD,
                creep: 1.5,
                known_as: "plywood, as nothing better is known",
            },
            |(_, psi, creep, known_as)| Stiffness {
                psi: *psi,
                creep: *creep,
                known_as,
            },
        )
}
