//! Every mistake that one cell of the stock, the frames or the rack can hold, and what is only a caution.

use super::fixture::{Files, case, cautions, failures, mistakes};
use crate::model::Severity;

const PARTS: &str = "parts.csv";
const STOCK: &str = "stock.csv";
const PREFAB: &str = "prefab.csv";
const RACK: &str = "offcuts.csv";

#[test]
fn each_is_named_at_its_place() {
    let cases = [
        case(
            STOCK,
            "BIR-60,sheet",
            "BIR-18,sheet",
            3,
            "item",
            &["Row 2 has the same item"],
        ),
        case(
            STOCK,
            "BIR-60,sheet",
            "BIR-60,shet",
            3,
            "kind",
            &["did you mean sheet"],
        ),
        case(
            STOCK,
            "BIR-60,sheet",
            "BIR-60,",
            3,
            "kind",
            &["Nothing stands here"],
        ),
        case(
            STOCK,
            "60,60,3/4,23/32",
            "60,60,4-Mar,23/32",
            3,
            "thick",
            &["(3/4)"],
        ),
        case(
            STOCK,
            "60,60,3/4,23/32",
            ",60,3/4,23/32",
            3,
            "length",
            &["Nothing stands here"],
        ),
        case(
            STOCK,
            "60,60,3/4,23/32",
            "60,60,?,23/32",
            3,
            "thick",
            &["not measured"],
        ),
        case(STOCK, "1,64.50,", "1,\"64,50\",", 3, "price", &["64.50"]),
        case(
            STOCK,
            "1,64.50,",
            "1,64,50,",
            3,
            "price",
            &["64,50", "64.50", "semicolons"],
        ),
        case(
            STOCK,
            "1,64.50,",
            "1,$64.50,",
            3,
            "price",
            &["without a sign"],
        ),
        case(
            STOCK,
            "1,64.50,",
            "1,64.505,",
            3,
            "price",
            &["two decimals"],
        ),
        case(STOCK, "1,64.50,", "1,-64.50,", 3, "price", &["below zero"]),
        case(
            STOCK,
            "82.00,75.00,95.00",
            "82.00,85.00,95.00",
            2,
            "price_low",
            &["wrong side"],
        ),
        case(
            STOCK,
            "82.00,75.00,95.00",
            "82.00,75.00,80.00",
            2,
            "price_high",
            &["wrong side"],
        ),
        case(
            STOCK,
            "95.00,2026-08-30",
            "95.00,8/30/2026",
            2,
            "priced_on",
            &["year-month-day"],
        ),
        case(
            STOCK,
            "roll,50 ft",
            "roll,0",
            5,
            "holds",
            &["holds nothing"],
        ),
        case(STOCK, "12 ft,10%", "12,10%", 5, "have", &["50 ft"]),
        case(STOCK, "12 ft,10%", "12 ft,0.1", 5, "waste", &["%"]),
        case(STOCK, "12 ft,10%", "12 ft,200%", 5, "waste", &["outside"]),
        case(STOCK, "90 sq ft", "90", 8, "covers", &["unit is missing"]),
        case(STOCK, ",3,no,", ",3,none,", 10, "tax", &["yes or no"]),
        case(STOCK, "0,,,4", "0,,,four", 3, "at_most", &["whole number"]),
        case(
            PREFAB,
            "20,80,22,18 3/4",
            "20,80,22,20 1/4",
            2,
            "inside_width",
            &["more than the outside width", "swap"],
        ),
        case(
            PREFAB,
            "frame 20,20,80",
            "frame 20,,80",
            2,
            "width",
            &["Nothing stands here"],
        ),
        case(
            PREFAB,
            ",FR-20,,no",
            ",FR-02,,no",
            4,
            "fits",
            &["did you mean FR-20"],
        ),
        case(PREFAB, "81 x 22 x 4", "81 x 22", 2, "carton", &["2 sizes"]),
        case(
            PREFAB,
            "70 lb",
            "70",
            2,
            "carton_weight",
            &["unit is missing"],
        ),
        case(
            PREFAB,
            "yes,sides and head",
            "yes,top",
            2,
            "filler",
            &["not known"],
        ),
        case(
            RACK,
            "K-2,",
            "K-1,",
            3,
            "mark",
            &["Row 2 has the same mark"],
        ),
        case(
            RACK,
            "K-1,BIR-18",
            "K-1,BIR-19",
            2,
            "item",
            &["did you mean BIR-18"],
        ),
        case(RACK, "x0+y0", "x0+z1", 2, "good_edges", &["is no edge"]),
        case(
            RACK,
            "wall,ready",
            "wall,redy",
            2,
            "state",
            &["did you mean ready"],
        ),
        case(
            RACK,
            "40,20,23/32",
            "40,,23/32",
            2,
            "width",
            &["Nothing stands here"],
        ),
    ];
    let failed = failures(&cases, Severity::Mistake);
    assert!(failed.is_empty(), "{failed}");
}

#[test]
fn a_doubled_frame_is_named_too() {
    // Its first name is then unknown to the run and to `fits`, so there is more than one mistake.
    let read = Files::sound()
        .change(PREFAB, "FR-20,frame", "FR-26,frame")
        .read();
    assert!(
        mistakes(&read)
            .iter()
            .any(|p| p.spot.row == Some(3) && p.why.contains("Row 2 has the same code"))
    );
}

#[test]
fn cautions_in_single_cells() {
    let cases = [
        case(
            PARTS,
            "26 1/16,23,BIR-18,any,,,,,run",
            "22,23,BIR-18,length,,,,,hand",
            6,
            "width",
            &["short way", "Meant?"],
        ),
        case(
            PARTS,
            "2,80,23,BIR-18,length,front",
            "2,80,3/4,BIR-18,length,front",
            2,
            "width",
            &["thickness of BIR-18"],
        ),
        case(
            PARTS,
            "2,80,23,BIR-18,length,front",
            "2,80,60,BIR-18,length,front",
            2,
            "width",
            &["does not come out of any BIR-18"],
        ),
        case(
            PARTS,
            "55 1/2,,STR-2",
            "97,,STR-2",
            7,
            "length",
            &["does not come out of any STR-2", "joint"],
        ),
        case(
            PARTS,
            "55 1/2,,STR-2",
            "55 1/2,3,STR-2",
            7,
            "width",
            &["sold by the stick"],
        ),
        case(
            STOCK,
            "3/4 x 2,8 ft",
            "3/4 x 2,8",
            6,
            "length",
            &["8 in long moulding. Meant 8 ft?"],
        ),
        case(
            STOCK,
            "60,60,3/4,23/32",
            "60,60,3/4,",
            3,
            "measured",
            &["measure"],
        ),
        case(STOCK, "64.50,,,2026", ",60,,2026", 3, "price", &["missing"]),
        case(RACK, "x0+y0", "2", 2, "good_edges", &["none is trusted"]),
        case(
            RACK,
            "40,20,23/32",
            "40,20,1/2",
            2,
            "thick",
            &["not as thick"],
        ),
    ];
    let (apart, cases): (Vec<_>, Vec<_>) = cases
        .into_iter()
        .partition(|c| c.to.contains("8\"") || c.to == "3/4 x 2,8");
    let failed = failures(&cases, Severity::Caution);
    assert!(failed.is_empty(), "{failed}");
    // A stick of 8 in is also too short for the strip.
    let read = Files::sound()
        .change(apart[0].file, apart[0].from, apart[0].to)
        .read();
    assert!(
        cautions(&read)
            .iter()
            .any(|p| p.why.contains("Meant 8 ft?")),
        "{:#?}",
        read.problems
    );
}
