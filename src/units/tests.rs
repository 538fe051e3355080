//! The grammar of sizes held against what a tape, a caliper and a keyboard produce. An inch is 25.4 mm exactly
//! (international yard and pound agreement of 1959), so every expected figure is worked by hand in 1/80 000 mm.

use super::*;
use proptest::prelude::*;

const INCH: ReadAs = ReadAs {
    unit: Unit::Inch,
    decimal_comma: false,
    full_shy: false,
    negative: false,
};
const MM: ReadAs = ReadAs {
    unit: Unit::Mm,
    ..INCH
};

fn inch(text: &str) -> Length {
    match parse_length(text, INCH) {
        Ok(l) => l,
        Err(e) => panic!("{text}: {e}"),
    }
}
fn refused(text: &str, how: ReadAs) -> SizeError {
    match parse_size(text, how) {
        Err(e) => e,
        Ok(s) => panic!("{text} was read as {s:?}"),
    }
}

#[test]
fn every_way_of_writing_twenty_three_and_a_quarter() {
    for text in [
        "23 1/4",
        "23-1/4",
        "23\u{2013}1/4",
        "23 - 1/4",
        "23 1/4\"",
        "23 1/4''",
        "23 1/4\u{201D}",
        "23 1/4\u{2033}",
        "23.25",
        "23\u{BC}",
        "23 \u{BC}",
        "23 1/4 in",
        "23 1/4in.",
        "23 1/4 inches",
        "  23\u{A0}1/4 ",
        "23\u{2009}1/4",
        "23\u{202F}1\u{2044}4",
        "23\u{B9}\u{2044}\u{2084}",
        "23 8/32",
        "23.250",
        "\u{FEFF}23 1/4",
        "1' 11 1/4\"",
        "1'11-1/4",
        "590.55 mm",
        "59.055cm",
        "0.59055 m",
        "23 16/64",
    ] {
        assert_eq!(inch(text), Length::in_64(23 * 64 + 16), "{text}");
    }
}

#[test]
fn feet_and_inches() {
    for text in [
        "2' 3-1/2\"",
        "2' 3 1/2",
        "2 ft 3 1/2 in",
        "2ft3.5in",
        "2\u{2019} 3 1/2\u{201D}",
        "2\u{2032}-3 1/2\u{2033}",
        "2 feet 3 1/2 inches",
    ] {
        assert_eq!(inch(text), Length::in_64(27 * 64 + 32), "{text}");
    }
    assert_eq!(inch("2'"), Length::inches(24));
    assert_eq!(inch("8 ft"), Length::inches(96));
    assert_eq!(inch("2.5 ft"), Length::inches(30));
    assert_eq!(inch("3''"), Length::inches(3));
    for text in ["2' 14\"", "1'250", "2.5' 3\"", "2 ft 6 mm"] {
        refused(text, INCH);
    }
}

#[test]
fn units_mix_in_one_file() {
    assert_eq!(parse_length("590", MM), Ok(Length::mm(590)));
    assert_eq!(parse_length("23 1/4 in", MM), Ok(inch("23 1/4")));
    assert_eq!(parse_length("59 cm", INCH), Ok(Length::mm(590)));
    assert_eq!(parse_length("590mm", INCH), Ok(Length::mm(590)));
    assert_eq!(inch("0.001"), Length::from_units(2_032));
}

#[test]
fn a_decimal_off_the_grid_goes_to_the_nearest_unit_and_says_so() {
    // 20.7188 x 2 032 000 = 42 100 601.6
    let size = parse_size("20.7188", INCH);
    let length = Length::from_units(42_100_602);
    assert_eq!(
        size,
        Ok(Size::Exact {
            length,
            rounded: true
        })
    );
    let size = parse_size("20.71875", INCH);
    let length = Length::in_64(20 * 64 + 46);
    assert_eq!(
        size,
        Ok(Size::Exact {
            length,
            rounded: false
        })
    );
}

#[test]
fn words_after_a_size() {
    assert_eq!(
        parse_size("3/4 nominal", INCH),
        Ok(Size::Nominal(Length::in_64(48)))
    );
    assert_eq!(parse_size(" ? ", INCH), Ok(Size::NotMeasured));
    let survey = ReadAs {
        full_shy: true,
        ..INCH
    };
    let wall = ReadAs {
        negative: true,
        ..survey
    };
    assert_eq!(
        parse_length("70 7/8 full", survey),
        Ok(Length::in_64(70 * 64 + 57))
    );
    assert_eq!(
        parse_length("70 7/8 shy", survey),
        Ok(Length::in_64(70 * 64 + 55))
    );
    let mm = ReadAs {
        full_shy: true,
        ..MM
    };
    assert_eq!(
        parse_length("590 shy", mm),
        Ok(Length::from_units(590 * 80_000 - 20_000))
    );
    assert_eq!(parse_length("-1/4", wall), Ok(Length::in_64(-16)));
    assert_eq!(
        parse_length("\u{2212}1/4 full", wall),
        Ok(Length::in_64(-17))
    );
    assert!(refused("70 7/8 full", INCH).why.contains("full"));
    assert!(refused("-1/4", INCH).why.contains("below zero"));
}

#[test]
fn what_is_not_on_a_tape_is_refused_with_its_neighbours() {
    let e = refused("23 1/3", INCH);
    assert!(e.fix.contains("23 5/16") && e.fix.contains("23 3/8"), "{e}");
    let e = refused("23\u{2153}", INCH);
    assert!(e.fix.contains("23 5/16") && e.fix.contains("23 3/8"), "{e}");
    assert!(refused("15 29/30", INCH).fix.contains("15 15/16 or 16"));
    assert!(refused("5/4", INCH).fix.contains("1 1/4"));
    refused("1/0", INCH);
    refused("23 5/4", INCH);
}

#[test]
fn a_comma_is_never_guessed() {
    let semicolons = ReadAs {
        decimal_comma: true,
        ..MM
    };
    assert_eq!(
        parse_length("590,5", semicolons),
        Ok(Length::from_units(590 * 80_000 + 40_000))
    );
    assert_eq!(
        parse_length("0,125", semicolons),
        Ok(Length::from_units(10_000))
    );
    assert!(refused("590,5", MM).fix.contains("590.5"));
    assert!(refused("590,5", INCH).fix.contains("590.5"));
    assert!(refused("1,250", MM).fix.contains("1250"));
    assert!(refused("1,250", semicolons).fix.contains("1250"));
    assert!(refused("1.250", semicolons).fix.contains("1250"));
    refused("1,250.5", semicolons);
    refused("1.250,5", semicolons);
    refused("1 250", MM);
}

#[test]
fn slips_are_named() {
    assert!(refused("59O", MM).why.contains("letter O"));
    assert!(refused("59O", MM).fix.contains("590"));
    assert!(refused("l2 1/2", INCH).why.contains("letter l"));
    assert!(refused("I2", INCH).why.contains("letter I"));
    for (text, was) in [
        ("4-Mar", "3/4"),
        ("3-Apr", "3/4"),
        ("16-Jul", "7/16"),
        ("Mar-64", "3/64"),
        ("2026-03-04", "3/4"),
        ("2026-03-04 00:00:00", "3/4"),
        ("1964-03-01", "3/64"),
        ("3/4/2026", "3/4"),
        ("04-Mar-26", "3/4"),
        ("1932-03-01", "3/32"),
    ] {
        let e = refused(text, INCH);
        assert!(e.why.contains(&format!("({was})")), "{text}: {e}");
    }
    assert!(refused("2026-07-23", INCH).why.contains("date"));
    assert!(refused("\u{202E}23", INCH).why.contains("U+202E"));
    assert!(refused("23 furlongs", INCH).why.contains("furlongs"));
}

#[test]
fn absurd_texts_are_refused_without_harm() {
    for text in [
        "",
        " ",
        "99999999999999999999999999999999999999999",
        "100.001 m",
        "4000 in 3",
        "1/99999999999999999999",
        "1e9",
        "NaN",
        "--5",
        "5-",
        "5/",
        "/5",
        ".",
        "'",
        "\"",
        "5''''",
        "0.000000000000000000000000000000001",
        "23 -1/4",
        "23 1/4 1/2",
    ] {
        refused(text, INCH);
    }
    assert_eq!(inch("100 m"), Length::LIMIT);
}

#[test]
fn printing_to_a_tape() {
    let tape = Tape::default();
    // A mark of 1/16 in is 127 000 units, a quarter of it 31 750, half of it 63 500.
    for (units, text) in [
        (0, "0"),
        (31_750, "0"),
        (31_751, "0 full"),
        (63_499, "0 full"),
        (63_500, "1/16 shy"),
        (95_249, "1/16 shy"),
        (95_250, "1/16"),
        (127_000, "1/16"),
        (158_750, "1/16"),
        (158_751, "1/16 full"),
        (-31_750, "0"),
        (-31_751, "0 shy"),
        (-63_500, "-1/16 shy"),
        (-127_000, "-1/16"),
        (Length::inches(96).units(), "96"),
    ] {
        assert_eq!(tape.print(Length::from_units(units)), text, "{units}");
    }
    // Halfway goes up.
    assert_eq!(tape.print(Length::in_64(20 * 64 + 50)), "20 13/16 shy");
    let mm = Tape::usual(Unit::Mm);
    assert_eq!(mm.print(Length::mm(590)), "590");
    assert_eq!(mm.print(Length::from_units(47_176_000)), "590 shy");
    assert_eq!(mm.print_with_unit(Length::mm(590)), "590 mm");
    let long = inch("28 ft 3 3/4 in");
    assert_eq!(tape.print_feet(long), "28 ft 3 3/4 in");
    assert_eq!(tape.print_feet(inch("26 ft")), "26 ft 0 in");
    assert_eq!(tape.print_feet(inch("96")), "96");
}

#[test]
fn printing_exactly() {
    let tape = Tape::default();
    assert_eq!(tape.print_exact(inch("23 1/128")), "23 1/128");
    assert_eq!(tape.print_exact(inch("0.719")), "0.7190");
    assert_eq!(tape.print_exact(Length::mm(590)), "590 mm");
    assert_eq!(Tape::usual(Unit::Mm).print_exact(inch("1/8")), "3.1750");
}

proptest! {
    #[test]
    fn every_size_on_a_tape_mark_reads_back(sixty_fourths in 0_i64..=251_968) {
        let length = Length::in_64(sixty_fourths);
        let tape = Tape { unit: Unit::Inch, mark: Length::INCH_64 };
        prop_assert_eq!(parse_length(&tape.print(length), INCH), Ok(length));
        prop_assert_eq!(parse_length(&tape.print_with_unit(length), MM), Ok(length));
        prop_assert_eq!(parse_length(&tape.print_feet(length), INCH), Ok(length));
    }

    #[test]
    fn every_millimetre_reads_back(halves in 0_i64..=200_000) {
        let length = Length::from_units(halves * 40_000);
        let tape = Tape { unit: Unit::Mm, mark: Length::from_units(40_000) };
        prop_assert_eq!(parse_length(&tape.print(length), MM), Ok(length));
    }

    #[test]
    fn whatever_is_written_reads_back(units in -8_000_000_000_i64..=8_000_000_000, comma: bool) {
        let length = Length::from_units(units);
        for unit in [Unit::Inch, Unit::Mm] {
            let how = ReadAs { unit, negative: true, decimal_comma: comma && unit == Unit::Mm, full_shy: false };
            let text = Tape::usual(unit).print_exact(length);
            prop_assert_eq!(parse_size(&text, how), Ok(Size::Exact { length, rounded: false }), "{}", text);
        }
    }

    #[test]
    fn short_written_sizes_read_back(mm_hundredths in 0_i64..=1_000_000, thou in 0_i64..=400_000) {
        for length in [Length::from_units(mm_hundredths * 800), Length::from_units(thou * 2_032)] {
            for unit in [Unit::Inch, Unit::Mm] {
                let text = Tape::usual(unit).print_exact(length);
                prop_assert_eq!(parse_length(&text, ReadAs { unit, ..INCH }), Ok(length), "{}", text);
            }
        }
    }

    #[test]
    fn a_rounded_size_is_within_half_a_mark(units in -8_000_000_000_i64..=8_000_000_000, step in 0_u32..=6) {
        let mark = Length::from_units(2_032_000 >> step);
        let tape = Tape { unit: Unit::Inch, mark };
        let text = tape.print(Length::from_units(units));
        let plain = text.trim_end_matches(" full").trim_end_matches(" shy");
        let back = parse_length(plain, ReadAs { negative: true, ..INCH }).expect("a printed size reads");
        let moved = (back.units() - units).abs();
        prop_assert!(2 * moved <= mark.units());
        prop_assert_eq!(4 * moved > mark.units(), plain != text);
    }

    #[test]
    fn no_text_panics(text in "[0-9 /.,'\"?a-zA-ZOl¼⅓½″′–\u{a0}\u{202e}-]{0,24}", comma: bool) {
        for unit in [Unit::Inch, Unit::Mm] {
            let how = ReadAs { unit, decimal_comma: comma, full_shy: true, negative: true };
            let _ = parse_size(&text, how).map_err(|e| e.to_string());
        }
    }

    #[test]
    fn no_unicode_panics(text in any::<String>()) {
        let _ = parse_size(&text, INCH).map_err(|e| e.to_string());
        let _ = fraction_behind_date(&text);
    }

    #[test]
    fn no_length_fails_to_print(units: i64) {
        for unit in [Unit::Inch, Unit::Mm] {
            let tape = Tape::usual(unit);
            let l = Length::from_units(units);
            prop_assert!(!(tape.print(l) + &tape.print_exact(l) + &tape.print_feet(l)).is_empty());
        }
    }
}

#[test]
fn a_denominator_typed_the_wrong_way_round_is_offered_right() {
    let inch = ReadAs::default();
    let fix = |text: &str| parse_size(text, inch).unwrap_err().fix;
    assert_eq!(
        fix("21 15/61"),
        "type 21 15/16 if two figures changed places; else 21 3/16 or 21 1/4, whichever is nearer on your tape"
    );
    assert!(fix("7/46").starts_with("type 7/64 if"));
    assert!(fix("3 31/23").starts_with("type 3 31/32 if"));
    // 17/61 is no 17/16, and 1/3 has no figures to change.
    assert!(!fix("17/61").contains("places") && !fix("1/3").contains("places"));
    // A comma beside the stroke.
    assert_eq!(fix("1,8"), "type 1/8 or 1.8, whichever you mean");
    assert_eq!(fix("5,9"), "type 5.9");
}
