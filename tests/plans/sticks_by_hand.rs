//! Mouldings and boards against sums by hand.

use super::files::{bare, cut, only, plan, unplaced};
use nookwright::model::Plan;
use nookwright::units::Length;

fn of(rows: &str, how_many: u32, length: &str, kerf: Length) -> Plan {
    let parts = format!("mark,what,how_many,length,width,item\nT,trim,{how_many},{length},,S-A\n");
    let stock = format!("item,kind,what,length,sold_by,price,have,at_most\n{rows}");
    plan(&bare(&parts, &stock, kerf, Length::ZERO))
}

const KERF: Length = Length::in_64(8);

/// Five pieces of 5 ft 2 in are 25 ft 10 in; a tenth for waste makes 28 ft 5 in (allowances of 5 and 10 per cent: woodweb,
/// Waste allowance for running trim, 2007). Three sticks of 10 ft are 30 ft and hold three of the five, one each: two are
/// 10 ft 4 in. A 16 ft stick holds three (15 ft 6 in and two kerfs) and a 12 ft stick two: 28 ft.
#[test]
fn feet_by_percentage_do_not_hold_the_pieces() {
    let tens = of("S-A,moulding,crown,10 ft,each,10,,3\n", 5, "5' 2\"", KERF);
    assert_eq!((cut(&tens, "T"), unplaced(&tens, "T")), (3, 2));
    let tens = of("S-A,moulding,crown,10 ft,each,10,,\n", 5, "5' 2\"", KERF);
    assert_eq!((only(&tens).sheets, only(&tens).proved), (5, true));
    let rows = "S-A,moulding,crown,10 ft,each,10,,\nS-B,moulding,crown,12 ft,each,12,,\n\
                S-C,moulding,crown,16 ft,each,16,,\n";
    let mixed = of(rows, 5, "5' 2\"", KERF);
    assert_eq!(only(&mixed).cost_cents.map(|c| c.0), Some(2_800));
    assert!(only(&mixed).proved, "{}", only(&mixed).why);
    let mut lengths: Vec<_> = mixed.sticks.iter().map(|s| (s.length, s.count)).collect();
    lengths.sort_unstable();
    assert_eq!(lengths, [(Length::FOOT * 12, 1), (Length::FOOT * 16, 1)]);
}

/// Two pieces of 6 ft never come out of a 12 ft stick once the saw takes its kerf; a kerf shorter between them they do.
#[test]
fn two_halves_are_longer_than_the_stick() {
    let twelve = "S-A,moulding,base,12 ft,each,12,,\n";
    for kerf in [Length::from_units(1), Length::in_64(1), KERF] {
        assert_eq!(only(&of(twelve, 2, "6'", kerf)).sheets, 2);
    }
    assert_eq!(only(&of(twelve, 2, "6'", Length::ZERO)).sheets, 1);
    let flush = of(twelve, 2, "71 15/16", KERF);
    assert_eq!(only(&flush).sheets, 1);
    assert_eq!(flush.sticks[0].left, Length::ZERO);
}

/// Sold by the foot, a stick is cut to whole feet: two of 5 ft 2 in and a kerf are 10 ft 4 1/8 in, so 11 ft at 2 a foot.
/// One of 5 ft 2 in alone takes 6 ft; together 11 ft are less than 12.
#[test]
fn a_moulding_by_the_foot_is_bought_in_whole_feet() {
    let plan = of("S-A,moulding,crown,,foot,2,,\n", 2, "5' 2\"", KERF);
    assert_eq!(only(&plan).cost_cents.map(|c| c.0), Some(2_200));
    assert_eq!(plan.sticks[0].length, Length::FOOT * 11);
}

/// Pieces that match come off one stick, also where two sticks would cost less; where none holds them all, the words say so.
#[test]
fn matching_pieces_come_off_one_stick() {
    let job = |rows: &str, length: &str, many: u32| {
        let parts = format!(
            "mark,what,how_many,length,width,item,match\nA,trim,{many},{length},,S-A,head\nB,trim,1,30,,S-A,head\n"
        );
        let stock = format!("item,kind,what,length,sold_by,price\n{rows}");
        plan(&bare(&parts, &stock, KERF, Length::ZERO))
    };
    let rows = "S-A,moulding,crown,8 ft,each,8\nS-B,moulding,crown,16 ft,each,20\n";
    let plan = job(rows, "80", 1);
    assert_eq!(
        plan.sticks.len(),
        1,
        "two of 8 ft would be 16, and part them"
    );
    assert_eq!(plan.sticks[0].length, Length::FOOT * 16);
    let plan = job(rows, "60", 3);
    assert_eq!((unplaced(&plan, "A"), unplaced(&plan, "B")), (3, 1));
    for u in &plan.unplaced {
        assert!(u.why.contains("one stick"), "{}", u.why);
    }
}

/// A piece in hand needs no price.
#[test]
fn a_stick_in_hand_without_a_price() {
    let rows = "S-A,moulding,base,8 ft,each,,2,0\nS-B,moulding,base,12 ft,each,12,,\n";
    let plan = of(rows, 4, "40", KERF);
    assert_eq!((only(&plan).sheets, cut(&plan, "T")), (0, 4));
    let plan = of(rows, 5, "40", KERF);
    assert_eq!((only(&plan).sheets, cut(&plan, "T")), (1, 5));
    assert_eq!(only(&plan).cost_cents.map(|c| c.0), Some(1_200));
}
