//! Strips, yield and grain from sheets, against sums by hand. Sums without a source are arithmetic: n strips of width w
//! and n - 1 kerfs k must go into the width W.

use super::files::{Folder, bare, cut, only, plan, unplaced};
use nookwright::model::ItemResult;
use nookwright::units::Length;

/// A width in 1/128 in as an inch decimal, exact.
fn text(in_128: i64) -> String {
    format!("{}.{:07}", in_128 / 128, in_128 % 128 * 78_125)
}

fn in_128(n: i64) -> Length {
    Length::from_units(15_875 * n)
}

const PLY: &str = "item,kind,what,length,width,price\nPLY,sheet,plywood,96,48,60\n";
/// MDF is sold 49 x 97 in, oversize for trimming (plywoodinspection.com, Particle Board Buying Guide, 2019).
const MDF: &str = "item,kind,what,length,width,price\nPLY,sheet,MDF,97,49,60\n";

/// So many parts of one size from one stock.
fn of(
    stock: &str,
    many: i64,
    length: &str,
    width: &str,
    grain: &str,
    kerf: Length,
    clean: Length,
) -> ItemResult {
    let parts = format!(
        "mark,what,how_many,length,width,item,grain\nA,part,{many},{length},{width},PLY,{grain}\n"
    );
    let plan = plan(&bare(&parts, stock, kerf, clean));
    assert_eq!(i64::from(cut(&plan, "A")), many, "every part is cut");
    only(&plan).clone()
}

/// Sheets to buy for `many` strips 95 in long: one strip each along the sheet, so the count is of strips side by side.
fn strips(stock: &str, many: i64, width: i64, kerf: Length, clean: Length) -> u32 {
    let r = of(stock, many, "95", &text(width), "length", kerf, clean);
    assert_eq!((r.at_least, r.proved), (r.sheets, true), "{}", r.why);
    r.sheets
}

/// n = floor((W + k) / (w + k)) strips come from one width: W = 48 in, widths and kerfs in 1/128 in.
#[test]
fn strips_side_by_side_follow_the_formula() {
    for kerf in [1, 12, 16, 19] {
        for width in [
            384, 513, 767, 1024, 1520, 1524, 1527, 1536, 2040, 3064, 3072,
        ] {
            let n = (48 * 128 + kerf) / (width + kerf);
            let found = strips(PLY, 12, width, in_128(kerf), Length::ZERO);
            assert_eq!(
                i64::from(found),
                (12 + n - 1) / n,
                "{width}/128 at {kerf}/128"
            );
        }
    }
}

/// Four strips of 12 in do not come from 48 in with any kerf; 11 7/8 do, 11 15/16 do not. The widest four are
/// (48 - 3k) / 4: 11 29/32 at 1/8, 11.9297 (11 119/128) at 3/32.
#[test]
fn the_widest_four_strips() {
    let (eighth, none) = (in_128(16), Length::ZERO);
    for kerf in [1, 8, 12, 16] {
        assert_eq!(strips(PLY, 3, 12 * 128, in_128(kerf), none), 1);
        assert_eq!(strips(PLY, 4, 12 * 128, in_128(kerf), none), 2);
    }
    assert_eq!(
        strips(PLY, 4, 12 * 128, none, none),
        1,
        "a saw without kerf"
    );
    assert_eq!(strips(PLY, 4, 11 * 128 + 112, eighth, none), 1);
    assert_eq!(strips(PLY, 4, 11 * 128 + 120, eighth, none), 2);
    assert_eq!(strips(PLY, 4, 11 * 128 + 116, eighth, none), 1);
    assert_eq!(strips(PLY, 4, 11 * 128 + 117, eighth, none), 2);
    assert_eq!(strips(PLY, 4, 11 * 128 + 119, in_128(12), none), 1);
    assert_eq!(strips(PLY, 4, 11 * 128 + 120, in_128(12), none), 2);
}

/// Two halves of 24 in do not come from 48 in; two of 23 15/16 at 1/8 do, to the last mark: 2 x 23 15/16 + 1/8 = 48.
#[test]
fn half_a_sheet_is_less_than_half() {
    let kerf = in_128(16);
    assert_eq!(strips(PLY, 2, 24 * 128, kerf, Length::ZERO), 2);
    assert_eq!(strips(PLY, 2, 23 * 128 + 120, kerf, Length::ZERO), 1);
    assert_eq!(strips(PLY, 2, 23 * 128 + 121, kerf, Length::ZERO), 2);
}

/// A strip of 1/8 off each edge (common practice, no source). What comes off includes its saw cut here, so 1/8 leaves
/// (48 - 2/8 - 3/8) / 4 = 11 27/32; with a saw cut beside the strip, 1/4 in all, 11 25/32.
#[test]
fn clean_edges_narrow_the_strips() {
    let kerf = in_128(16);
    assert_eq!(strips(PLY, 4, 11 * 128 + 108, kerf, in_128(16)), 1);
    assert_eq!(strips(PLY, 4, 11 * 128 + 109, kerf, in_128(16)), 2);
    assert_eq!(strips(PLY, 4, 11 * 128 + 100, kerf, in_128(32)), 1);
    assert_eq!(strips(PLY, 4, 11 * 128 + 101, kerf, in_128(32)), 2);
}

/// Six of 15 7/8 x 47 7/8 fill a sheet: 3 x 15 7/8 + 2/8 = 47 7/8 and 2 x 47 7/8 + 1/8 = 95 7/8, a yield of 98.96 per
/// cent. Six of 16 x 48 need 48 1/4 and 96 1/8; two lie side by side and no second pair behind them, so three sheets; let
/// them turn and five come from a sheet crosswise.
#[test]
fn six_that_fill_a_sheet_and_six_that_do_not() {
    let (kerf, none) = (in_128(16), Length::ZERO);
    let six = |length, width, grain, clean| of(PLY, 6, length, width, grain, kerf, clean).sheets;
    assert_eq!(six("47 7/8", "15 7/8", "length", none), 1);
    let parts = "mark,what,how_many,length,width,item\nA,part,6,47 7/8,15 7/8,PLY\n";
    let full = plan(&bare(parts, PLY, kerf, none));
    let area = |size: [Length; 2]| i128::from(size[0].units()) * i128::from(size[1].units());
    let used: i128 = full.sheets[0].places.iter().map(|p| area(p.size)).sum();
    assert_eq!(used * 10_000 / area(full.sheets[0].size), 9_896);
    assert_eq!(six("48", "16", "length", none), 3);
    assert_eq!(six("48", "16", "any", none), 2);
    assert_eq!(six("47 7/8", "15 7/8", "length", kerf), 2 + 1);
}

/// Four full 12 in strips and their kerfs, 48 3/8, come out of a 49 in sheet and not out of a 48 in one; clean edges of
/// 1/4 still leave 48 1/2.
#[test]
fn an_oversize_sheet_gives_four_feet_of_strips() {
    let kerf = in_128(16);
    assert_eq!(strips(MDF, 4, 12 * 128, kerf, Length::ZERO), 1);
    assert_eq!(strips(MDF, 4, 12 * 128, kerf, in_128(32)), 1);
    assert_eq!(strips(MDF, 4, 12 * 128, kerf, in_128(48)), 2);
    assert_eq!(strips(PLY, 4, 12 * 128, kerf, Length::ZERO), 2);
}

/// A part 36 along the grain and 72 across it is wider than a 48 in sheet with its grain along the 96 (length along the
/// grain first: common practice, no source; sheets are ordered across by along, diycabinets.ca, Basic plywood info). It
/// fits where its grain may run either way, and on a sheet whose grain runs along its width.
#[test]
fn the_grain_trap() {
    let job = |grain: &str, sheet: &str| {
        let parts = format!(
            "mark,what,how_many,length,width,item,grain\nA,panel,1,36,72,PLY,{grain}\nB,shelf,1,30,11,PLY,length\n"
        );
        let stock = format!(
            "item,kind,what,length,width,grain,price\nPLY,sheet,plywood,96,48,{sheet},60\n"
        );
        plan(&bare(&parts, &stock, in_128(16), in_128(16)))
    };
    let trapped = job("length", "length");
    assert_eq!((cut(&trapped, "A"), unplaced(&trapped, "A")), (0, 1));
    assert_eq!(cut(&trapped, "B"), 1, "the rest is planned");
    let why = &trapped.unplaced[0].why;
    assert!(why.contains("grain to any"), "{why}");
    for (grain, sheet) in [("any", "length"), ("width", "length"), ("length", "width")] {
        let plan = job(grain, sheet);
        assert_eq!((cut(&plan, "A"), unplaced(&plan, "A")), (1, 0));
        assert_eq!(only(&plan).sheets, 1);
    }
    let across = job("width", "width");
    assert_eq!(
        unplaced(&across, "A"),
        1,
        "turned, it is trapped the other way"
    );
}

/// A part a little longer than a clean sheet: the plan says which edges may still be cleaned, and with those it is cut.
#[test]
fn a_part_that_needs_a_factory_edge() {
    let job = |length: &str, edges: &str| {
        let folder = Folder {
            project: format!(
                "[project]\nname = \"Hall\"\nunits = \"inch\"\nsales_tax = \"0%\"\n[saw]\nkerf = \"1/8\"\nclean_edge = \"1/8\"\n{edges}"
            ),
            parts: format!(
                "mark,what,how_many,length,width,item\nA,top,1,{length},10,PLY\nB,shelf,1,30,10,PLY\n"
            ),
            stock: "item,kind,what,length,width,thick,price\nPLY,sheet,ply,96,48,3/4,60\n".into(),
            offcuts: String::new(),
        };
        plan(&folder.read())
    };
    for (length, edges) in [
        ("95 7/8", "clean_edges = [\"x0\", \"y0\", \"y1\"]"),
        ("96", "clean_edges = [\"y0\", \"y1\"]"),
    ] {
        let without = job(length, "");
        assert_eq!((cut(&without, "A"), unplaced(&without, "A")), (0, 1));
        assert_eq!(cut(&without, "B"), 1, "the rest is planned");
        let why = &without.unplaced[0].why;
        assert!(why.contains(edges), "{why}");
        let with = job(length, edges);
        assert_eq!((cut(&with, "A"), unplaced(&with, "A")), (1, 0));
        assert_eq!(only(&with).sheets, 1);
    }
    let too_long = job("96 1/8", "");
    assert!(!too_long.unplaced[0].why.contains("clean_edges"));
    assert_eq!(cut(&job("95 3/4", ""), "A"), 1);
}
