//! The drawing of one sheet: parts with marks and sizes, grain, banded edges, leftovers, cuts, overall sizes, scale bar.
//! Owns what stands where on the sheet; paper and page belong to others. The sheet's origin is its lower left corner.

use super::numbers::{Map, draw_cuts};
use super::room::{Words, find_room, mark_ways, ways};
use crate::book::draw::{
    Area, Drawing, Fill, Pen, Side, Turn, Weight, balloon_radius, line_pitch, pt, text_width, wrap,
};
use crate::book::pages::context::{Context, band_words};
use crate::model::{Band, Grain, Place, SheetPlan};
use crate::units::{Length, Unit};

/// A part that is too small to write in.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(crate) struct SmallPart {
    /// Its number on the drawing; empty where its mark stands there, or where there is room for nothing.
    pub(crate) balloon: String,
    /// Its mark.
    pub(crate) mark: String,
    /// Its size.
    pub(crate) size: String,
    /// How many of them on the sheet.
    pub(crate) count: u32,
}

/// A sheet, drawn.
pub(crate) struct DrawnSheet {
    /// From its own left top corner.
    pub(crate) drawing: Drawing,
    /// Width and height it takes.
    pub(crate) size: [f64; 2],
    /// Parts too small to write in.
    pub(crate) small: Vec<SmallPart>,
    /// Cuts whose number found no place.
    pub(crate) unnumbered: Vec<u32>,
}

/// The scales a sheet may be drawn at: round ones (ISO 5455, and inches to the foot).
pub(crate) fn scales(unit: Unit) -> &'static [f64] {
    match unit {
        Unit::Inch => &[
            1.0, 2.0, 4.0, 6.0, 8.0, 10.0, 12.0, 16.0, 20.0, 24.0, 32.0, 48.0, 64.0, 96.0, 128.0,
        ],
        Unit::Mm => &[
            1.0, 2.0, 5.0, 10.0, 12.5, 15.0, 20.0, 25.0, 30.0, 40.0, 50.0, 75.0, 100.0, 150.0,
            200.0,
        ],
    }
}

/// The same with steps between them, so that a sheet and its table fill their page; the bar beside the drawing tells which.
pub(crate) fn sheet_scales(unit: Unit) -> &'static [f64] {
    match unit {
        Unit::Inch => &[
            1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0, 10.0, 11.0, 12.0, 13.0, 14.0, 15.0, 16.0,
            18.0, 20.0, 22.0, 24.0, 28.0, 32.0, 48.0, 64.0, 96.0, 128.0,
        ],
        Unit::Mm => &[
            1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0, 10.0, 11.0, 12.0, 12.5, 13.0, 14.0, 15.0,
            16.0, 18.0, 20.0, 22.5, 25.0, 27.5, 30.0, 35.0, 40.0, 50.0, 75.0, 100.0, 150.0, 200.0,
        ],
    }
}

/// Which edge on paper is which edge of the part: its length lies level unless it is turned.
fn banded_sides(band: Band, turned: bool) -> Vec<Side> {
    let [front, back, left, right] = if turned {
        [Side::Left, Side::Right, Side::Top, Side::Bottom]
    } else {
        [Side::Bottom, Side::Top, Side::Left, Side::Right]
    };
    [
        (band.front, front),
        (band.back, back),
        (band.left, left),
        (band.right, right),
    ]
    .into_iter()
    .filter_map(|(is, side)| is.then_some(side))
    .collect()
}

/// A part's cut size, its own length first.
pub(crate) fn own_size(place: &Place) -> [Length; 2] {
    if place.turned {
        [place.size[1], place.size[0]]
    } else {
        place.size
    }
}

/// Draws a sheet at a scale.
pub(crate) fn draw_sheet(ctx: &Context, sheet: &SheetPlan, scale: f64) -> DrawnSheet {
    let map = Map::of(sheet, scale);
    let mut drawing = Drawing::new();
    for left in &sheet.left {
        let area = map.area(left.at, left.size);
        drawing.hatch(area, if left.keep { 3.2 } else { 1.8 });
    }
    for place in &sheet.places {
        drawing.rect(
            map.area(place.at, place.size),
            Fill::White,
            Some(Pen::NARROW),
        );
        if let Some(part) = ctx.part(&place.mark) {
            for side in banded_sides(part.band, place.turned) {
                drawing.banded(map.area(place.at, place.size), side);
            }
        }
    }
    let whole = Area::new(0.0, 0.0, map.wide, map.high);
    drawing.rect(whole, Fill::None, Some(Pen::solid(0.7)));
    let numbered = draw_cuts(&mut drawing, &map, sheet);
    let mut small = Vec::new();
    for place in &sheet.places {
        write_part(
            ctx,
            &mut drawing,
            &map,
            sheet,
            place,
            &numbered.taken,
            &mut small,
        );
    }
    for left in &sheet.left {
        let area = map.area(left.at, left.size).inset(0.7);
        let sign = if left.keep { "R" } else { "K" };
        write_left(ctx, &mut drawing, &area, left.size, sign, &numbered.taken);
    }
    overall(ctx, &mut drawing, &map, sheet, &numbered.taken);
    // Shift so that everything lies right of and below the origin.
    let mut extent = whole;
    for item in &drawing.items {
        extent = extent.around(&item.area());
    }
    let mut shifted = Drawing::new();
    shifted.put(&drawing, pt(-extent.x, -extent.y));
    DrawnSheet {
        drawing: shifted,
        size: [extent.w, extent.h],
        small,
        unnumbered: numbered.left_out,
    }
}

/// The room inside a part that its banded edges leave.
fn clear_of_bands(area: &Area, sides: &[Side], by: f64) -> Area {
    let mut room = area.inset(0.6);
    for side in sides {
        match side {
            Side::Left => {
                room.x += by;
                room.w -= by;
            }
            Side::Right => room.w -= by,
            Side::Top => {
                room.y += by;
                room.h -= by;
            }
            Side::Bottom => room.h -= by,
        }
    }
    Area::new(room.x, room.y, room.w.max(0.0), room.h.max(0.0))
}

fn write_part(
    ctx: &Context,
    drawing: &mut Drawing,
    map: &Map,
    sheet: &SheetPlan,
    place: &Place,
    taken: &[Area],
    small: &mut Vec<SmallPart>,
) {
    let area = map.area(place.at, place.size);
    let part = ctx.part(&place.mark);
    let sides = part.map_or_else(Vec::new, |p| banded_sides(p.band, place.turned));
    let size = ctx.two(own_size(place));
    let mut here: Vec<Area> = taken.iter().filter(|t| t.meets(&area)).copied().collect();
    let mut written = None;
    for clear in [4.1, 2.0] {
        let room = clear_of_bands(&area, &sides, clear);
        written = first_fit(&ways(&place.mark, &size), &room, &here);
        if written.is_some() || sides.is_empty() {
            break;
        }
    }
    if let Some((words, at)) = written {
        here.push(at.inset(-0.7));
        for text in words.at(&at) {
            drawing.text(text);
        }
    } else {
        let room = clear_of_bands(&area, &sides, 1.5);
        let known = small
            .iter_mut()
            .find(|s| s.mark == place.mark && s.size == size);
        if let Some((words, at)) = first_fit(&mark_ways(&place.mark), &room, &here) {
            here.push(at.inset(-0.7));
            for text in words.at(&at) {
                drawing.text(text);
            }
            match known {
                Some(known) => known.count += 1,
                None => small.push(SmallPart {
                    balloon: String::new(),
                    mark: place.mark.clone(),
                    size,
                    count: 1,
                }),
            }
        } else {
            balloon(drawing, &area.inset(0.2), &mut here, place, &size, small);
        }
    }
    let grain = part.map_or(Grain::Length, |p| p.grain);
    let room = clear_of_bands(&area, &sides, 2.0);
    if grain == Grain::Any {
        if let Some(spot) = find_room(&room, [2.6, 2.6], &here) {
            drawing.grain_any(spot.centre());
        }
        return;
    }
    let upright = ctx.grain_along_y(sheet);
    let (long, high) = if upright {
        (room.h, room.w)
    } else {
        (room.w, room.h)
    };
    for length in [14.0, 9.0, 6.0] {
        if length > long - 1.0 || high < 2.2 {
            continue;
        }
        let box_size = if upright {
            [2.2, length]
        } else {
            [length, 2.2]
        };
        if let Some(spot) = find_room(&room, box_size, &here) {
            drawing.grain(spot.centre(), length, upright);
            break;
        }
    }
}

fn first_fit(ways: &[Words], room: &Area, taken: &[Area]) -> Option<(Words, Area)> {
    ways.iter()
        .find_map(|w| w.place(room, taken).map(|a| (w.clone(), a)))
}

/// A number in a balloon for a part with no room for its own mark; parts of one mark share a number.
fn balloon(
    drawing: &mut Drawing,
    area: &Area,
    here: &mut Vec<Area>,
    place: &Place,
    size: &str,
    small: &mut Vec<SmallPart>,
) {
    let numbered = small.iter().filter(|s| !s.balloon.is_empty()).count();
    let known = small
        .iter()
        .position(|s| s.mark == place.mark && s.size == *size);
    let number = known
        .map(|i| small[i].balloon.clone())
        .filter(|b| !b.is_empty())
        .unwrap_or_else(|| letters(numbered));
    let radius = balloon_radius(&number, 2.5);
    let spot = find_room(area, [2.0 * radius, 2.0 * radius], here);
    if let Some(spot) = spot {
        drawing.balloon(spot.centre(), radius, 2.5, &number);
        here.push(spot);
    }
    match known {
        Some(i) => {
            small[i].count += 1;
            if small[i].balloon.is_empty() && spot.is_some() {
                small[i].balloon = number;
            }
        }
        None => small.push(SmallPart {
            balloon: if spot.is_some() {
                number
            } else {
                String::new()
            },
            mark: place.mark.clone(),
            size: size.to_owned(),
            count: 1,
        }),
    }
}

/// a, b ... z, aa, ab: letters, since the numbers on a sheet are its cuts.
fn letters(mut i: usize) -> String {
    let mut name = String::new();
    loop {
        name.insert(0, char::from(b'a' + (i % 26) as u8));
        i /= 26;
        if i == 0 {
            return name;
        }
        i -= 1;
    }
}

/// Size and sign of a leftover on a white field; nothing where there is no room (it stands in the table).
fn write_left(
    ctx: &Context,
    drawing: &mut Drawing,
    area: &Area,
    size: [Length; 2],
    sign: &str,
    taken: &[Area],
) {
    let size = ctx.two(size);
    let joined = format!("{size}  {sign}");
    let mut tries = Vec::new();
    for turn in [Turn::Level, Turn::Up] {
        tries.push(Words {
            lines: vec![(joined.clone(), Weight::Regular)],
            size: 2.5,
            turn,
        });
    }
    tries.push(Words {
        lines: vec![(size, Weight::Regular), (sign.to_owned(), Weight::Bold)],
        size: 2.5,
        turn: Turn::Level,
    });
    tries.push(Words {
        lines: vec![(sign.to_owned(), Weight::Bold)],
        size: 2.5,
        turn: Turn::Level,
    });
    if let Some((words, at)) = first_fit(&tries, area, taken) {
        drawing.rect(at.around(&at), Fill::White, None);
        for text in words.at(&at) {
            drawing.text(text);
        }
    }
}

/// The overall sizes, outside everything drawn so far, and the scale bar below.
fn overall(ctx: &Context, drawing: &mut Drawing, map: &Map, sheet: &SheetPlan, taken: &[Area]) {
    const SIZE: f64 = 3.5;
    let (mut top, mut right, mut bottom) = (0.0_f64, map.wide, map.high);
    for circle in taken {
        top = top.min(circle.y);
        right = right.max(circle.right());
        bottom = bottom.max(circle.bottom());
    }
    let (length, width) = (ctx.size(sheet.size[0]), ctx.size(sheet.size[1]));
    if text_width(&length, SIZE, Weight::Regular) + 8.0 < map.wide {
        let y = top - 2.5;
        for x in [0.0, map.wide] {
            drawing.line(pt(x, -0.8), pt(x, y - 1.2), Pen::NARROW);
        }
        drawing.dimension([0.0, map.wide], y, SIZE, &length);
    }
    if text_width(&width, SIZE, Weight::Regular) + 8.0 < map.high {
        let x = right + SIZE * 1.9 + 1.0;
        for y in [0.0, map.high] {
            drawing.line(pt(map.wide + 0.8, y), pt(x + 1.2, y), Pen::NARROW);
        }
        drawing.dimension_up(x, [0.0, map.high], SIZE, &width);
    }
    let (step, steps, name) = match ctx.tape.unit {
        Unit::Inch => scale_steps(map, &[(12.0, "1 ft"), (6.0, "6 in"), (1.0, "1 in")], 25.4),
        Unit::Mm => scale_steps(
            map,
            &[(500.0, "500 mm"), (100.0, "100 mm"), (10.0, "10 mm")],
            1.0,
        ),
    };
    let base = bottom + 4.6;
    let said = format!("{name} each, scale 1:{}", map.scale);
    let bar = drawing.scale_bar(pt(0.0, base), step, steps, &said);
    // What the signs mean, beside the bar where that leaves room for words, else below it.
    let legend = legend(ctx, sheet);
    let (x, mut y) = if map.wide - bar > 50.0 {
        (bar + 6.0, base)
    } else {
        (0.0, base + line_pitch(2.5))
    };
    if !legend.is_empty() {
        for line in wrap(&legend, 2.5, Weight::Regular, (map.wide - x).max(40.0)) {
            drawing.say(pt(x, y), 2.5, Weight::Regular, &line);
            y += line_pitch(2.5);
        }
    }
}

/// What the signs on this sheet mean.
fn legend(ctx: &Context, sheet: &SheetPlan) -> String {
    let mut said = Vec::new();
    if !sheet.left.is_empty() {
        said.push("Hatched: left over, R rack, K kindling.");
    }
    let banded = |p: &Place| ctx.part(&p.mark).is_some_and(|p| p.band != Band::default());
    if sheet.places.iter().any(banded) {
        said.push("Thick bar: banded.");
    }
    if !sheet.cuts.is_empty() {
        said.push("Bracket: kerf side.");
    }
    said.join(" ")
}

/// The largest step that gives at least two on this sheet.
fn scale_steps(map: &Map, steps: &[(f64, &'static str)], mm: f64) -> (f64, u32, &'static str) {
    let mut last = (1.0, 1, "");
    for (step, name) in steps {
        let on_paper = step * mm / map.scale;
        let fit = (map.wide * 0.6 / on_paper).floor();
        last = (on_paper, fit.clamp(1.0, 2.0) as u32, *name);
        if fit >= 2.0 {
            break;
        }
    }
    last
}

/// The drawing in words.
pub(crate) fn in_words(ctx: &Context, sheet: &SheetPlan) -> Vec<String> {
    let mut lines =
        vec!["Seen as drawn, from its lower left corner: how far right, how far up.".to_owned()];
    for place in &sheet.places {
        let band = ctx
            .part(&place.mark)
            .map(|p| band_words(p.band))
            .filter(|b| !b.is_empty())
            .map_or_else(String::new, |b| format!(", banded {b}"));
        let turned = if place.turned {
            ", its length upward"
        } else {
            ""
        };
        lines.push(format!(
            "  {}  {}  at {} right, {} up{turned}{band}",
            place.mark,
            ctx.two(own_size(place)),
            ctx.size(place.at[0]),
            ctx.size(place.at[1])
        ));
    }
    for left in &sheet.left {
        lines.push(format!(
            "  left over {}  at {} right, {} up: {}",
            ctx.two(left.size),
            ctx.size(left.at[0]),
            ctx.size(left.at[1]),
            if left.keep { "to the rack" } else { "kindling" }
        ));
    }
    lines
}
