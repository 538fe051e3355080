//! `start`: a new job folder of commented files that passes `check` and can be cut at once. Asks seven questions, on a
//! terminal only; elsewhere it takes the usual answers.

use crate::book::reading_sheet;
use crate::cli::ctx::Ctx;
use crate::cli::exit::{Exit, Stop};
use crate::cli::screen::{paragraph, safe};
use crate::files::write::{Foreign, MadeFile, RunLock, Stamp, WriteError, put_made, replace_file};
use crate::model::Paper;
use crate::units::{Length, ReadAs, Tape, Unit, parse_length};
use std::io::{self, BufRead, IsTerminal, Write};
use std::path::{Path, PathBuf};

/// Make a new job folder with commented files, ready to be cut
#[derive(clap::Args)]
pub(crate) struct Args {
    /// The folder to make; its name is the name of the job
    name: PathBuf,
}

/// The blank sheet for the readings.
const SHEET: &str = "reading-sheet.pdf";

/// What the files are made from.
struct Answers {
    name: String,
    house: String,
    unit: Unit,
    /// Width, height and depth of the opening, by tape.
    opening: [Length; 3],
    kerf: Length,
}

pub(crate) fn run(args: &Args, ctx: &mut Ctx) -> Result<Exit, Stop> {
    let folder = match &ctx.common.folder {
        Some(inside) => inside.join(&args.name),
        None => args.name.clone(),
    };
    refuse_full(&folder)?;
    let answers = ask(ctx, &folder)?;
    let paper = match answers.unit {
        Unit::Inch => Paper::Letter,
        Unit::Mm => Paper::A4,
    };
    let files: Vec<(&str, Vec<u8>)> = files(&answers)
        .into_iter()
        .map(|(name, text)| (name, text.into_bytes()))
        .collect();
    let sheet = MadeFile::new(SHEET, reading_sheet(&answers.name, answers.unit, paper));
    let made = !folder.exists();
    let inside = folder.join("made");
    std::fs::create_dir_all(&folder).map_err(io_error(&folder, "made"))?;
    if let Err(e) = put(&folder, &inside, &files, sheet) {
        // All or nothing: what was written so far goes again. The folder was empty before.
        for (name, _) in &files {
            let _ = std::fs::remove_file(folder.join(name));
        }
        let _ = std::fs::remove_dir_all(&inside);
        if made {
            let _ = std::fs::remove_dir(&folder);
        }
        return Err(e.into());
    }
    let shown = folder.display().to_string();
    let listed = format!("made/{SHEET}");
    let names: Vec<&str> = files.iter().map(|(n, _)| *n).chain([listed.as_str()]).collect();
    let next = [
        format!("nookwright check --in {shown}"),
        format!("nookwright parts --in {shown}"),
        format!("nookwright cut --in {shown}"),
        format!("nookwright book --in {shown}"),
    ];
    ctx.json(&serde_json::json!({ "folder": shown, "files": names, "next": next }));
    ctx.say(&format!("Made {}: {}\n", safe(&shown), names.join(", ")));
    ctx.say(&paragraph(
        "",
        "The files hold one small bookcase and prices we made up. Put your own in; every line of project.toml says what it is for. Print the reading sheet and take it to the opening. The cut list is drawn from project.toml until there is a parts.csv; parts --write begins one. Then:",
        0,
    ));
    for line in &next {
        ctx.say(&format!("  {}\n", safe(line)));
    }
    Ok(Exit::Done)
}

/// Her files, and the sheet on the list of what the tool made.
fn put(folder: &Path, inside: &Path, files: &[(&str, Vec<u8>)], sheet: MadeFile) -> Result<(), WriteError> {
    for (name, text) in files {
        replace_file(&folder.join(name), text)?;
    }
    let lock = RunLock::take(inside)?;
    let stamp = Stamp { verb: "start", plan: None, lacking: false };
    put_made(inside, &folder.join("kept"), &[sheet], stamp, Foreign::Keep, &lock).map(|_| ())
}

fn io_error<'a>(path: &'a Path, doing: &'static str) -> impl FnOnce(io::Error) -> Stop + 'a {
    move |why| {
        Stop::Write(WriteError::Io {
            path: path.to_owned(),
            doing,
            why,
        })
    }
}

fn refuse_full(folder: &Path) -> Result<(), Stop> {
    match std::fs::read_dir(folder) {
        Ok(mut entries) => match entries.next() {
            None => Ok(()),
            Some(_) => Err(WriteError::NotEmpty(folder.to_owned()).into()),
        },
        Err(e) if e.kind() == io::ErrorKind::NotFound => Ok(()),
        Err(e) if e.kind() == io::ErrorKind::NotADirectory => Err(WriteError::NotAFolder(folder.to_owned()).into()),
        Err(e) => Err(io_error(folder, "read")(e)),
    }
}

/// The seven questions. An empty line takes what stands in brackets.
fn ask(ctx: &mut Ctx, folder: &Path) -> Result<Answers, Stop> {
    let stem = folder.file_name().map(|n| n.to_string_lossy().into_owned());
    let name = stem.filter(|n| !n.trim().is_empty()).unwrap_or_else(|| "New job".into());
    let unit = ctx.common.unit().unwrap_or(Unit::Inch);
    let mut a = Answers {
        name,
        house: String::new(),
        unit,
        opening: opening(unit),
        kerf: kerf(unit),
    };
    if ctx.common.json || ctx.screen.quiet || !io::stdin().is_terminal() || !io::stdout().is_terminal() {
        return Ok(a);
    }
    a.name = line("1. What is the job called?", &a.name)?;
    a.house = line("2. Which house and room?", "")?;
    let word = line("3. Inches or millimetres? (inch, mm)", Tape::usual(unit).unit_name())?;
    a.unit = if word.trim().to_lowercase().starts_with('m') { Unit::Mm } else { Unit::Inch };
    a.opening = opening(a.unit);
    a.kerf = kerf(a.unit);
    for (i, what) in ["4. How wide is the opening, about?", "5. How high?", "6. How deep?"].into_iter().enumerate() {
        a.opening[i] = ask_size(what, a.opening[i], a.unit)?;
    }
    a.kerf = ask_size("7. How much wood does your blade take?", a.kerf, a.unit)?;
    Ok(a)
}

const fn opening(unit: Unit) -> [Length; 3] {
    match unit {
        Unit::Inch => [Length::inches(48), Length::inches(96), Length::inches(16)],
        Unit::Mm => [Length::mm(1200), Length::mm(2400), Length::mm(400)],
    }
}

const fn kerf(unit: Unit) -> Length {
    match unit {
        Unit::Inch => Length::in_64(8),
        Unit::Mm => Length::mm(3),
    }
}

fn line(question: &str, usual: &str) -> Result<String, Stop> {
    let mut out = io::stdout().lock();
    write!(out, "{question} [{}] ", safe(usual)).and_then(|()| out.flush()).map_err(Stop::Output)?;
    let mut typed = String::new();
    io::stdin().lock().read_line(&mut typed).map_err(Stop::Output)?;
    let typed = typed.trim();
    Ok(if typed.is_empty() { usual.to_owned() } else { typed.to_owned() })
}

fn ask_size(question: &str, usual: Length, unit: Unit) -> Result<Length, Stop> {
    let how = ReadAs {
        unit,
        ..ReadAs::default()
    };
    let usual = Tape::usual(unit).print_exact(usual);
    // Three tries; then the usual one, which she can change in the file.
    for _ in 0..3 {
        match parse_length(&line(question, &usual)?, how) {
            Ok(l) if l.is_positive() => return Ok(l),
            Ok(_) => {}
            Err(e) => {
                let mut out = io::stdout().lock();
                writeln!(out, "   {}", safe(&e.to_string())).map_err(Stop::Output)?;
            }
        }
    }
    parse_length(&usual, how).map_err(|e| Stop::Fault(e.to_string()))
}

/// Text inside quotes of a TOML file.
fn toml_text(text: &str) -> String {
    toml::Value::String(text.to_owned()).to_string()
}

/// No parts.csv: what it held would be cut beside what the run draws. It is begun by `parts --write`.
fn files(a: &Answers) -> [(&'static str, String); 3] {
    let csv = match a.unit {
        Unit::Inch => [STOCK_INCH, PREFAB_INCH],
        Unit::Mm => [STOCK_MM, PREFAB_MM],
    };
    [
        ("project.toml", project(a)),
        ("stock.csv", csv[0].into()),
        ("prefab.csv", csv[1].into()),
    ]
}

fn project(a: &Answers) -> String {
    let tape = Tape::usual(a.unit);
    let [width, height, depth] = a.opening.map(|l| tape.print_exact(l));
    let (unit, mark, paper, clean) = match a.unit {
        Unit::Inch => ("inch", "1/16", "letter", "1/8"),
        Unit::Mm => ("mm", "1", "a4", "3"),
    };
    let (heights, box_height, box_depth, box_width, base) = match a.unit {
        Unit::Inch => (
            [24, 48, 72].map(Length::inches),
            "72",
            "11 1/4",
            "23 7/16",
            "3 1/2",
        ),
        Unit::Mm => ([600, 1200, 1800].map(Length::mm), "1800", "285", "635", "90"),
    };
    let (toes, side, casing) = match a.unit {
        Unit::Inch => ("3", "1/2", "2 1/4"),
        Unit::Mm => ("75", "12", "57"),
    };
    let studs = match a.unit {
        Unit::Inch => r#""8", "24", "40""#,
        Unit::Mm => r#""200", "600", "1000""#,
    };
    // The last one just under the ceiling, as on the reading sheet.
    let under = a.opening[1] - Length::inches(2);
    let heights = heights.into_iter().filter(|h| *h < under);
    let heights: Vec<Length> = std::iter::once(Length::ZERO).chain(heights).chain([under]).collect();
    let unread = vec!["\"?\""; heights.len()].join(", ");
    let each = heights.iter().map(|h| format!("\"{}\"", tape.print(*h)));
    let heights = each.collect::<Vec<_>>().join(", ");
    format!(
        r##"# {title}
# Everything behind a # is for you to read. Put quotes round any size with a space or a mark: "23 1/4".

[project]
name = {name}
house = {house}
units = "{unit}"            # how bare numbers are read and sizes are shown: inch or mm
tape = "{mark}"             # the finest mark you trust on your tape
money = "USD"             # three letters
sales_tax = "0%"          # write your own; it is never guessed
paper = "{paper}"          # letter or a4

# What has to live in there. Fill in what you know; `compare` then says whether each route gives it.
# [want]
# shelf = "12 ft"
# hanging = "30 in"
# tallest_hung = "52"     # the longest thing on a hanger: shelves are kept clear of it
# garments = {{ shirts = 12, coats = 4 }}   # instead of hanging and tallest_hung: both are worked out from what you own

# The opening: about {width} wide, {height} high, {depth} deep. When the reading sheet is filled in, take the # off the lines
# below and type your readings over ours; "?" stands for one not taken yet.
# [opening]
# name = "the closet"
# walls = "plasterboard"
# a step or bend that is there: take that reading again, then name it under read_twice, as survey does
# [opening.level_line]    # from one level line: down to the floor, up to the ceiling
# down_to_floor = {{ left = "?", middle = "?", right = "?" }}
# up_to_ceiling = {{ left = "?", middle = "?", right = "?" }}
# [opening.plumb_lines]   # two plumb lines: how far apart, and from each to its wall at every height
# apart = "?"
# height    = [{heights}]
# left_gap  = [{unread}]
# right_gap = [{unread}]
# left_gap_back and right_gap_back are the same, read at the back
# [opening.tape]          # by tape alone, which checks the rest
# width_at = [{heights}]
# width    = [{unread}]
# depth    = {{ left = "?", middle = "?", right = "?" }}
# diagonal = {{ low_left_to_high_right = "?", low_right_to_high_left = "?" }}
# What is on the walls and on the way: one table for each thing; leave out the tables you do not need.
# [[opening.keep_clear]]  # an outlet, switch, vent, pipe or hatch
# what = "outlet"
# wall = "back"           # back, left or right; sizes from the left end of that wall
# from_left = "?"
# up = "?"
# width = "?"
# height = "?"
# [[opening.studs]]       # the middle of each stud; a second one at another height shows which lean
# wall = "back"
# from_left = [{studs}]
# height = "?"            # how high up you looked
# [opening.doorway]       # its own door; without it the front is open
# width = "?"             # clear, between the stops
# height = "?"
# casing = "{casing}"        # how wide its trim is
# swing = "out"           # in, out or none
# wall = "front"          # front, left or right; in its middle, or from_left from that wall's left end to the left jamb
# [[opening.existing_trim]]
# what = "base"           # base or crown that is there now
# wall = "back"           # back, left or right; without it, on all walls
# height = "?"
# thick = "?"
# stay = true             # or false: it comes off, and taking it off and patching are in the hours
# notch = true            # the backs of boxes are notched round it; else they stand off (bought frames: notch = true in their run)
# [opening.now]           # what is there today and gives way, or stays
# comes_off = ["old shelf", "old rod"]
# stays = ["ceiling light"]
# patch = "screw holes behind the shelf"
# [[opening.way_in]]      # each door, stair and low ceiling between the saw and the opening
# what = "back door"
# width = "?"
# height = "?"
# [[opening.way_in]]      # where boxes are stood up: a ceiling alone
# what = "hall ceiling"
# height = "?"

[saw]
what = "circular saw and a straightedge"
kerf = "{kerf}"             # wood the blade turns to dust
clean_edge = "{clean}"       # taken off each factory edge first

[labour]
rate = "15.00"            # what an hour of yours is worth to you; 0 is a fair answer

# [labour.hours]          # your own guess for a route, instead of the hours worked out by task
# custom = 20

# Two ways of fitting it out. The cut list of the first is drawn from these lines: our small bookcase, until you type your own
# sizes. `parts` shows it, `parts --write` writes it down as parts.csv, where you may add and change rows. After a change here
# `parts --redraw` brings its rows up to date. prefab.csv lists what the second way could use.
[[run]]
route = "custom"
chosen = true             # the route that cut and book take
material = "PLY"          # the sheet it is made of
box_height = "{box_height}"         # without this line the boxes are as high as your readings allow, less 2 in at the head
box_depth = "{box_depth}"      # without this line as deep as they allow, less 1 in
base_height = "0"         # "{base}" draws a ladder base under the boxes
# base_setback = "{toes}"      # how far the base stands back for toes; "0" = flush with the fronts
# side_gap_least = "{side}"  # what boxes with a share leave free at each side; head_gap_least likewise at the head
face = "all banded"       # every front edge banded; "banded" leaves those of sides, tops and bottoms to strips
# back = "PLY"            # the sheet for backs; without it there are none
# strips = "PLY"          # strips that close the gaps at walls and head; without them these gaps stay open
[[run.box]]               # one for each box, from left to right
name = "A"
width = "{box_width}"         # or share = 1: its share of the width that was read
fixed_shelves = 1
loose_shelves = 3
# rail = true             # a hanging rail
# doors = 0
# drawers = 0

[[run]]
route = "flat-pack"
units = ["FRAME"]
# material = "PLY"        # the sheet that base and strips around the frames are cut from

# Goods beside what is worked out, for each route; a row for an item that is worked out replaces the amount.
# [[need]]
# route = "custom"
# item = "SCREWS"
# amount = 40
"##,
        title = safe(&a.name),
        name = toml_text(&a.name),
        house = toml_text(&a.house),
        kerf = tape.print_exact(a.kerf),
    )
}

const STOCK_INCH: &str = "\
item,kind,what,length,width,thick,measured,grain,sold_by,holds,price,have,store,note
PLY,sheet,plywood 3/4,96,48,3/4,23/32,length,each,1,60.00,0,,a price we made up
BAND,banding,iron-on banding 7/8 wide,25 ft,7/8,,,,roll,25 ft,8.00,0,,a price we made up
SCREWS,hardware,\"cabinet screws 1 1/4, box of 50\",,,,,,box,50,6.00,0,,a price we made up
SCREWS-WALL,hardware,\"cabinet screws 2 1/2, box of 50\",,,,,,box,50,8.00,0,,a price we made up
BRADS,hardware,brads for strips and backs,1 1/4,,,,,box,500,6.50,0,,a price we made up
";
const PREFAB_INCH: &str = "\
unit,kind,what,width,height,depth,inside_width,price,shelf_each,shelves_in_box,stands_on,store
FRAME,frame,bookcase frame with shelves,23 1/2,72,11,22,95.00,22,4,own feet,
";
const STOCK_MM: &str = "\
item,kind,what,length,width,thick,measured,grain,sold_by,holds,price,have,store,note
PLY,sheet,plywood 18,2440,1220,18,17.6,length,each,1,60.00,0,,a price we made up
BAND,banding,iron-on banding 22 wide,8 m,22,,,,roll,8 m,8.00,0,,a price we made up
SCREWS,hardware,\"cabinet screws 30, box of 50\",,,,,,box,50,6.00,0,,a price we made up
SCREWS-WALL,hardware,\"cabinet screws 60, box of 50\",,,,,,box,50,8.00,0,,a price we made up
BRADS,hardware,brads for strips and backs,32,,,,,box,500,6.50,0,,a price we made up
";
const PREFAB_MM: &str = "\
unit,kind,what,width,height,depth,inside_width,price,shelf_each,shelves_in_box,stands_on,store
FRAME,frame,bookcase frame with shelves,636,1800,280,600,95.00,600,4,own feet,
";
