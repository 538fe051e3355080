//! Jobs and plans made by hand for the book's tests: the worked sheet of the plan format, an alcove, random guillotine plans.

use crate::model::certificate::Certificate;
use crate::model::compare::{
    BuyLine, BuyList, Comparison, CostLine, Flip, Move, OtherWay, PackCount, RouteCost, Verdict,
    VerdictWord,
};
use crate::model::{
    Band, Car, Cut, DefaultUsed, Finish, Grain, ItemResult, Job, Labour, Leftover, NeedUnit, Paper,
    Part, PartSize, Place, Plan, PlannedPiece, Project, Saw, Setting, SettingKind, SettingPiece,
    SheetPlan, StickPlan, StockKind, StockRow, Tools, TrimRules,
};
use crate::units::{Cents, Length, PerCent, PriceRange, Tape, Unit};

/// Sixty-fourths of an inch.
pub(crate) fn i64ths(n: i64) -> Length {
    Length::in_64(n)
}
/// Inches and sixteenths.
pub(crate) fn inch(whole: i64, sixteenths: i64) -> Length {
    Length::in_64(whole * 64 + sixteenths * 4)
}

/// The sheet worked out in the plan format's own example.
pub(crate) fn two_strips() -> Plan {
    let u = Length::from_units;
    let place = |x, y| Place {
        mark: "L1".into(),
        at: [u(x), u(y)],
        size: [u(178_816_000), u(47_244_000)],
        turned: false,
    };
    let left = |x, y, w, h, keep| Leftover {
        at: [u(x), u(y)],
        size: [u(w), u(h)],
        keep,
    };
    let cut = |n, across, at, of: [i64; 4]| Cut {
        n,
        across,
        at: u(at),
        of: of.map(u),
        kerf: None,
        saw: None,
    };
    let sheet = SheetPlan {
        item: "PLY-18".into(),
        rack: None,
        count: 3,
        size: [u(195_072_000), u(97_536_000)],
        clean_edge: [u(254_000); 4],
        places: vec![place(254_000, 254_000), place(254_000, 47_688_500)],
        left: vec![
            left(179_260_500, 254_000, 15_557_500, 47_244_000, true),
            left(179_260_500, 47_688_500, 15_557_500, 47_244_000, true),
            left(254_000, 95_123_000, 194_564_000, 2_159_000, false),
        ],
        cuts: vec![
            cut(
                1,
                false,
                47_498_000,
                [254_000, 254_000, 194_818_000, 97_282_000],
            ),
            cut(
                2,
                false,
                94_932_500,
                [254_000, 47_688_500, 194_818_000, 97_282_000],
            ),
            cut(
                3,
                true,
                179_070_000,
                [254_000, 254_000, 194_818_000, 47_498_000],
            ),
            cut(
                4,
                true,
                179_070_000,
                [254_000, 47_688_500, 194_818_000, 94_932_500],
            ),
        ],
    };
    plan_of(vec![sheet], u(190_500))
}

/// A plan of sheets, with settings in the order of the cuts.
pub(crate) fn plan_of(sheets: Vec<SheetPlan>, kerf: Length) -> Plan {
    let mut settings: Vec<Setting> = Vec::new();
    for (i, sheet) in sheets.iter().enumerate() {
        if sheet.clean_edge[0].is_positive() {
            let pieces = vec![
                SettingPiece {
                    sheet: i,
                    copy: 0,
                    cut: 0,
                    gives: "near end, far end, near edge, far edge".into(),
                };
                1
            ];
            match settings
                .iter_mut()
                .find(|s| s.kind == SettingKind::Clean && s.item == sheet.item)
            {
                Some(s) => s.pieces.extend(pieces),
                None => settings.push(Setting {
                    n: 0,
                    item: sheet.item.clone(),
                    kind: SettingKind::Clean,
                    size: sheet.clean_edge[0],
                    again: false,
                    pieces,
                }),
            }
        }
        for cut in &sheet.cuts {
            let size = cut.at - cut.of[usize::from(!cut.across)];
            let kind = if cut.across {
                SettingKind::Stop
            } else {
                SettingKind::Rip
            };
            let gives = sheet
                .places
                .iter()
                .find(|p| {
                    let axis = usize::from(!cut.across);
                    p.at == [cut.of[0], cut.of[1]]
                        && p.at[axis] + p.size[axis] == cut.at
                        && p.at[1 - axis] + p.size[1 - axis] == cut.of[3 - axis]
                })
                .map_or_else(|| "strip".to_owned(), |p| p.mark.clone());
            let piece = SettingPiece {
                sheet: i,
                copy: 0,
                cut: cut.n,
                gives,
            };
            match settings
                .iter_mut()
                .find(|s| s.kind == kind && s.size == size && s.item == sheet.item)
            {
                Some(s) => s.pieces.push(piece),
                None => settings.push(Setting {
                    n: 0,
                    item: sheet.item.clone(),
                    kind,
                    size,
                    again: false,
                    pieces: vec![piece],
                }),
            }
        }
    }
    settings.sort_by(|a, b| a.kind.cmp(&b.kind).then(b.size.cmp(&a.size)));
    for (i, s) in settings.iter_mut().enumerate() {
        s.n = i as u32 + 1;
    }
    Plan {
        format: "nookwright plan 1".into(),
        plan_number: "7C41-9E02".into(),
        length_unit: "1/80000 mm".into(),
        route: "custom".into(),
        kerf,
        sheets,
        sticks: Vec::new(),
        unplaced: Vec::new(),
        items: Vec::new(),
        settings,
    }
}

/// One strip: its width, and the marks and lengths cut from it in order.
pub(crate) type Strip<'a> = (Length, &'a [(&'a str, Length)]);

/// A sheet of strips ripped along its length, each crosscut into parts.
pub(crate) fn strip_sheet(
    item: &str,
    count: u32,
    size: [Length; 2],
    clean: Length,
    kerf: Length,
    strips: &[Strip],
) -> SheetPlan {
    let (mut places, mut left, mut cuts) = (Vec::new(), Vec::new(), Vec::new());
    let (x0, x1, y1) = (clean, size[0] - clean, size[1] - clean);
    let mut y = clean;
    let mut n = 0;
    let mut starts = Vec::new();
    for (width, _) in strips {
        starts.push(y);
        if y + *width < y1 {
            n += 1;
            cuts.push(Cut {
                n,
                across: false,
                at: y + *width,
                of: [x0, y, x1, y1],
                kerf: None,
                saw: None,
            });
        }
        y = y + *width + kerf;
    }
    if y < y1 {
        left.push(Leftover {
            at: [x0, y],
            size: [x1 - x0, y1 - y],
            keep: y1 - y >= Length::inches(3),
        });
    }
    for ((width, parts), from) in strips.iter().zip(starts) {
        let mut x = x0;
        for (mark, long) in *parts {
            places.push(Place {
                mark: (*mark).into(),
                at: [x, from],
                size: [*long, *width],
                turned: false,
            });
            if x + *long < x1 {
                n += 1;
                cuts.push(Cut {
                    n,
                    across: true,
                    at: x + *long,
                    of: [x, from, x1, from + *width],
                    kerf: None,
                    saw: None,
                });
            }
            x = x + *long + kerf;
        }
        if x < x1 {
            left.push(Leftover {
                at: [x, from],
                size: [x1 - x, *width],
                keep: x1 - x >= Length::inches(6) && *width >= Length::inches(12),
            });
        }
    }
    SheetPlan {
        item: item.into(),
        rack: None,
        count,
        size,
        clean_edge: [clean; 4],
        places,
        left,
        cuts,
    }
}

/// A part of the cut list.
pub(crate) fn part(mark: &str, what: &str, count: u32, size: [Length; 2]) -> Part {
    Part {
        mark: mark.into(),
        what: what.into(),
        in_box: match mark.chars().next() {
            Some('L') => "left".into(),
            Some('M') => "middle".into(),
            Some('R') => "right".into(),
            _ => String::new(),
        },
        route: None,
        how_many: count,
        spare: 0,
        size: PartSize::Panel {
            length: size[0],
            width: size[1],
        },
        item: "PLY-18".into(),
        grain: Grain::Length,
        band: Band::default(),
        band_item: None,
        band_in_size: false,
        match_group: None,
        keep: false,
        by_hand: false,
        note: String::new(),
        row: 0,
    }
}

/// A stock row without a price.
pub(crate) fn stock(item: &str, what: &str, kind: StockKind) -> StockRow {
    StockRow {
        item: item.into(),
        kind,
        what: what.into(),
        length: Some(Length::inches(96)),
        width: Some(Length::inches(48)),
        thick: Some(i64ths(48)),
        measured: Some(i64ths(46)),
        grain_along_width: false,
        sold_by: "each".into(),
        holds: NeedUnit::Count(1000),
        price: Some(PriceRange::firm(Cents(7_400))),
        priced_on: None,
        have: NeedUnit::Count(0),
        waste: None,
        store: "Tolliver Lumber".into(),
        aisle: "sheet rack".into(),
        lead_days: 0,
        taxed: true,
        at_most: None,
        weight_grams: Some(31_298),
        covers_mm2: None,
        one_face: false,
        returns: None,
        note: String::new(),
        row: 0,
        file: String::new(),
    }
}

/// A job with nothing in it but a name.
pub(crate) fn bare_job(name: &str, unit: Unit) -> Job {
    Job {
        project: Project {
            name: name.into(),
            house: String::new(),
            drawn_by: String::new(),
            date: None,
            tape: Tape::usual(unit),
            money: "USD".into(),
            sales_tax: None,
            paper: Paper::Letter,
        },
        want: None,
        opening: None,
        runs: Vec::new(),
        trim: TrimRules::default(),
        saw: Saw::default(),
        car: Car::default(),
        finish: Finish::default(),
        labour: Labour::default(),
        tools: Tools::default(),
        needs: Vec::new(),
        parts: Vec::new(),
        stock: Vec::new(),
        prefab: Vec::new(),
        rack: Vec::new(),
        defaults: Vec::new(),
        bare_list: false,
    }
}

/// An alcove of three boxes: its job.
pub(crate) fn alcove_job() -> Job {
    let mut job = bare_job("Back hall linen and boots", Unit::Inch);
    job.project.house = "back hall, built 1934".into();
    job.project.drawn_by = "owner".into();
    job.project.date = Some(jiff::civil::date(2026, 7, 11));
    job.project.sales_tax = Some(PerCent(725));
    job.saw.what = "track saw on foam board".into();
    job.saw.kerf = i64ths(6);
    job.labour.rate = Some(Cents(2_200));
    job.stock = vec![
        stock(
            "PLY-18",
            "birch-faced plywood 3/4, paint grade",
            StockKind::Sheet,
        ),
        stock(
            "SKIRT-35",
            "flat base 9/16 x 3 1/2, primed",
            StockKind::Moulding,
        ),
    ];
    let w = |n| inch(n, 0);
    let front = |mut p: Part| {
        p.band.front = true;
        p
    };
    let any = |mut p: Part| {
        p.grain = Grain::Any;
        p
    };
    job.parts = vec![
        part("L1", "left side", 2, [w(88), inch(23, 4)]),
        part("L2", "left top and bottom", 2, [inch(20, 13), w(23)]),
        front(part("L3", "left fixed shelf", 1, [inch(20, 13), w(23)])),
        front(part(
            "L4",
            "left loose shelf",
            8,
            [inch(20, 11), inch(22, 12)],
        )),
        any(part(
            "L5",
            "left back nailer",
            1,
            [inch(20, 13), inch(3, 12)],
        )),
        part("M2", "middle top and bottom", 2, [inch(23, 1), w(23)]),
        front(part("R3", "right fixed shelf", 1, [inch(20, 13), w(23)])),
        front(part(
            "R4",
            "right loose shelf",
            8,
            [inch(20, 11), inch(22, 12)],
        )),
        part("P1", "base front and back", 2, [w(69), inch(3, 12)]),
        part("S1", "side scribe blank", 2, [inch(91, 12), inch(2, 14)]),
        any(part(
            "P2",
            "base crosspiece",
            5,
            [inch(21, 13), inch(3, 12)],
        )),
    ];
    job.parts[9].note = "scribe after boxes are set".into();
    job.defaults = vec![DefaultUsed {
        place: "project.toml [saw] clean_edge".into(),
        value: "1/8".into(),
        why: "a factory edge is seldom clean; 1/8 takes a chipped one off".into(),
    }];
    job
}

/// An alcove of three boxes: a plan for some of its parts.
pub(crate) fn alcove_plan() -> Plan {
    let size = [inch(96, 0), inch(48, 0)];
    let (clean, kerf) = (i64ths(8), i64ths(6));
    let a = inch(20, 13);
    let b = inch(20, 11);
    let m = inch(23, 1);
    let sheets = vec![
        strip_sheet(
            "PLY-18",
            1,
            size,
            clean,
            kerf,
            &[
                (inch(23, 4), &[("L1", inch(88, 0))]),
                (inch(23, 4), &[("L1", inch(88, 0))]),
            ],
        ),
        strip_sheet(
            "PLY-18",
            1,
            size,
            clean,
            kerf,
            &[
                (inch(23, 0), &[("L2", a), ("L2", a), ("L3", a), ("R3", a)]),
                (inch(23, 0), &[("M2", m), ("M2", m)]),
            ],
        ),
        strip_sheet(
            "PLY-18",
            2,
            size,
            clean,
            kerf,
            &[
                (inch(22, 12), &[("L4", b), ("L4", b), ("L4", b), ("R4", b)]),
                (inch(22, 12), &[("L4", b), ("R4", b), ("R4", b), ("R4", b)]),
            ],
        ),
        strip_sheet(
            "PLY-18",
            1,
            size,
            clean,
            kerf,
            &[
                (inch(3, 12), &[("P1", inch(69, 0)), ("P2", inch(21, 13))]),
                (inch(3, 12), &[("P1", inch(69, 0)), ("L5", a)]),
                (
                    inch(3, 12),
                    &[
                        ("P2", inch(21, 13)),
                        ("P2", inch(21, 13)),
                        ("P2", inch(21, 13)),
                        ("P2", inch(21, 13)),
                    ],
                ),
                (inch(2, 14), &[("S1", inch(91, 12))]),
                (inch(2, 14), &[("S1", inch(91, 12))]),
            ],
        ),
    ];
    let mut plan = plan_of(sheets, kerf);
    plan.items = vec![ItemResult {
        item: "PLY-18".into(),
        sheets: 5,
        at_least: 5,
        proved: true,
        why:
            "No plan does it in 4: nine strips wider than 22 1/2 are needed, and a sheet gives two."
                .into(),
        cost_cents: Some(Cents(37_000)),
        cost_at_least_cents: None,
        searched: 1,
        proof: Certificate::None,
    }];
    plan.sticks = vec![
        StickPlan {
            item: "SKIRT-35".into(),
            rack: None,
            length: inch(96, 0),
            count: 1,
            pieces: vec![PlannedPiece {
                mark: "T6".into(),
                length: inch(72, 3),
            }],
            left: inch(23, 12),
        },
        StickPlan {
            item: "SKIRT-35".into(),
            rack: None,
            length: inch(96, 0),
            count: 2,
            pieces: ["T1", "T2", "T2", "T3"]
                .map(|m| PlannedPiece {
                    mark: m.into(),
                    length: inch(21, 5),
                })
                .to_vec(),
            left: inch(10, 6),
        },
    ];
    plan
}

/// A line of the shopping list.
pub(crate) fn buy_line(item: &str, what: &str, aisle: &str, packs: u32, cents: i64) -> BuyLine {
    BuyLine {
        item: item.into(),
        what: what.into(),
        store: "Tolliver Lumber".into(),
        aisle: aisle.into(),
        need: format!("{packs}"),
        need_with_waste: String::new(),
        have: "0".into(),
        packs: vec![PackCount {
            item: item.into(),
            packs,
        }],
        spare: String::new(),
        cents: Some(Cents(cents)),
        cents_low: Some(Cents(cents)),
        cents_high: Some(Cents(cents)),
        taxed: true,
        old_price: String::new(),
        runner_up: None,
        near_miss: String::new(),
        group: "sheets".into(),
        lead_days: 0,
        note: String::new(),
    }
}

/// The alcove's shopping list.
pub(crate) fn alcove_buy() -> BuyList {
    let mut band = buy_line(
        "BAND-78",
        "iron-on birch banding 7/8 wide",
        "edge and glue",
        2,
        1_960,
    );
    band.need = "25.0 ft".into();
    band.need_with_waste = "27.0 ft".into();
    band.near_miss =
        "the second roll is for 2.0 ft; without the waste allowance one roll does.".into();
    let mut paint = buy_line("TOP-G", "satin enamel", "paint", 2, 12_400);
    paint.need = "1.52 gal".into();
    paint.need_with_waste = "1.67 gal".into();
    paint.spare = "0.33 gal".into();
    paint.runner_up = Some(OtherWay {
        packs: vec![
            PackCount {
                item: "TOP-G".into(),
                packs: 1,
            },
            PackCount {
                item: "TOP-Q".into(),
                packs: 2,
            },
        ],
        cents: Cents(11_000),
        short_by: "0.17 gal".into(),
    });
    paint.old_price = "2026-05-02".into();
    let mut glue = buy_line("GLUE", "wood glue 16 oz", "edge and glue", 0, 0);
    glue.have = "1".into();
    glue.need = "1".into();
    let lines = vec![
        buy_line(
            "PLY-18",
            "birch-faced plywood 3/4, paint grade",
            "sheet rack",
            6,
            44_400,
        ),
        buy_line("PLY-6", "birch-faced plywood 1/4", "sheet rack", 2, 7_700),
        band,
        buy_line("SCR-125", "cabinet screws 1 1/4", "fixings", 1, 950),
        paint,
        glue,
    ];
    BuyList {
        route: "custom".into(),
        lines,
        tax: Some(Cents(4_887)),
        total: Some(Cents(72_297)),
        missing: Vec::new(),
    }
}

/// The alcove's two routes.
pub(crate) fn alcove_comparison() -> Comparison {
    let line = |what: &str, cents| CostLine {
        what: what.into(),
        cents: Some(Cents(cents)),
        low: Some(Cents(cents)),
        high: Some(Cents(cents)),
    };
    let route = |name: &str, lines, tax, money, hours: f64, total, done: &str| RouteCost {
        route: name.into(),
        lines,
        tax_cents: Some(Cents(tax)),
        money_cents: Some(Cents(money)),
        money_low_cents: Some(Cents(money * 92 / 100)),
        money_high_cents: Some(Cents(money * 111 / 100)),
        hours: Some(hours),
        hours_cents: Some(Cents((hours * 2_200.0) as i64)),
        total_cents: Some(Cents(total)),
        done: Some(done.into()),
        met: Some(true),
    };
    Comparison {
        routes: vec![
            route(
                "custom",
                vec![
                    line("Sheets, whole", 52_100),
                    line("Primer and paint", 16_300),
                ],
                6_361,
                94_096,
                43.0,
                188_696,
                "2026-08-02",
            ),
            route(
                "flat-pack",
                vec![line("Sheets, whole", 7_400), line("Frames", 42_700)],
                6_269,
                101_634,
                24.0,
                154_434,
                "2026-08-08",
            ),
        ],
        flips: vec![
            Flip {
                what: "an hour of yours".into(),
                at: Some(397.0),
                unit: "cents an hour".into(),
                says: "Below about $4 an hour, building is the cheaper.".into(),
            },
            Flip {
                what: "PLY-18".into(),
                at: None,
                unit: "cents".into(),
                says: "No price in its range flips it.".into(),
            },
        ],
        moves: vec![
            Move {
                what: "hours of custom".into(),
                from: "40% over".into(),
                to: "20% under".into(),
                ahead_from: Cents(72_100),
                ahead_to: Cents(15_300),
                switch: false,
            },
            Move {
                what: "delivery".into(),
                from: "borrowed van".into(),
                to: "89.00".into(),
                ahead_from: Cents(43_200),
                ahead_to: Cents(-3_400),
                switch: true,
            },
        ],
        says: vec!["8 of the 19 extra hours are paint and sanding.".into()],
        verdict: Verdict {
            word: VerdictWord::Clear,
            sentence: "Flat-pack, clear, unless an hour of yours is worth less than about $4."
                .into(),
        },
        missing: Vec::new(),
    }
}

/// A small generator of repeatable numbers (SplitMix64, Steele, Lea and Flood 2014).
pub(crate) struct Dice(pub(crate) u64);

impl Dice {
    /// The next number below `limit`.
    pub(crate) fn below(&mut self, limit: u64) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        (z ^ (z >> 31)) % limit.max(1)
    }
}

/// A random guillotine layout: pieces are divided until they are parts or left over.
pub(crate) fn random_sheet(dice: &mut Dice, marks: u64, deep: u32) -> SheetPlan {
    let size = [
        Length::inches(20 + dice.below(100) as i64),
        Length::inches(10 + dice.below(50) as i64),
    ];
    let clean = i64ths(dice.below(3) as i64 * 8);
    let kerf = i64ths(8);
    let mut sheet = SheetPlan {
        item: format!("PLY-{}", dice.below(3)),
        rack: (dice.below(4) == 0).then(|| "R-03".into()),
        count: 1 + dice.below(3) as u32,
        size,
        clean_edge: [clean; 4],
        places: Vec::new(),
        left: Vec::new(),
        cuts: Vec::new(),
    };
    let mut open = vec![([clean, clean, size[0] - clean, size[1] - clean], deep)];
    while let Some((of, deep)) = open.pop() {
        let [w, h] = [of[2] - of[0], of[3] - of[1]];
        let across = dice.below(2) == 0;
        let long = if across { w } else { h };
        let sixteenths = long / i64ths(4);
        if deep == 0 || sixteenths < 12 || dice.below(8) == 0 {
            if dice.below(5) == 0 {
                sheet.left.push(Leftover {
                    at: [of[0], of[1]],
                    size: [w, h],
                    keep: dice.below(2) == 0,
                });
            } else {
                sheet.places.push(Place {
                    mark: format!("Q{}", dice.below(marks)),
                    at: [of[0], of[1]],
                    size: [w, h],
                    turned: dice.below(3) == 0,
                });
            }
            continue;
        }
        let axis = usize::from(!across);
        let at = of[axis] + i64ths(4) * (2 + dice.below(sixteenths as u64 - 8) as i64);
        sheet.cuts.push(Cut {
            n: sheet.cuts.len() as u32 + 1,
            across,
            at,
            of,
            kerf: None,
            saw: None,
        });
        let (mut kept, mut rest) = (of, of);
        kept[axis + 2] = at;
        rest[axis] = at + kerf;
        open.push((rest, deep - 1));
        open.push((kept, deep - 1));
    }
    sheet
}
