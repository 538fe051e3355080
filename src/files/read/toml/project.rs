//! `[project]`, `[files]`, `[want]`, `[finish]`, `[labour]`, `[tools]`, `[[need]]`, and the order in which all tables are read.

use super::doc::{Doc, Sort};
use super::opening::read_opening;
use super::runs::{counts, read_runs, read_trim};
use super::saw::{read_car, read_saw};
use super::syntax::mend;
use super::table::Table;
use crate::files::read::report::{Report, Wrong};
use crate::files::read::values;
use crate::model::{
    Car, DefaultUsed, Finish, FrameFaces, Labour, Need, NeedUnit, Opening, Paper, Project, Run,
    Saw, Spot, ToolCount, Tools, TrimRules, Want,
};
use crate::opening::HANGER;
use crate::units::{Length, Tape, Unit};
use toml::de::DeTable;

/// `[files]`: where the tables are, if not beside project.toml.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub(crate) struct FilePaths {
    pub(crate) parts: Option<(String, Spot)>,
    pub(crate) stock: Option<(String, Spot)>,
    pub(crate) prefab: Option<(String, Spot)>,
    pub(crate) offcuts: Option<(String, Spot)>,
}

/// What project.toml says.
#[derive(Clone, PartialEq, Debug)]
pub(crate) struct ReadProject {
    pub(crate) project: Project,
    pub(crate) files: FilePaths,
    pub(crate) want: Option<Want>,
    pub(crate) opening: Option<Opening>,
    pub(crate) runs: Vec<Run>,
    pub(crate) trim: TrimRules,
    pub(crate) saw: Saw,
    pub(crate) car: Car,
    pub(crate) finish: Finish,
    pub(crate) labour: Labour,
    pub(crate) tools: Tools,
    pub(crate) needs: Vec<Need>,
    pub(crate) defaults: Vec<DefaultUsed>,
    /// For each run of frames, what was taken of its base, if it has one.
    pub(crate) bases: Vec<Vec<DefaultUsed>>,
    /// Where names of the other files are checked from: the place of each `[[need]]`, of each run's items, and so on.
    pub(crate) named: Vec<Named>,
}

/// A name in project.toml that must stand in another file.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(crate) struct Named {
    pub(crate) what: NamedAs,
    pub(crate) name: String,
    pub(crate) spot: Spot,
}

/// What a name must be.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum NamedAs {
    /// A sheet of stock.csv.
    Sheet,
    /// A sheet, moulding or board of stock.csv.
    CutUp,
    /// Any row of stock.csv.
    Row,
    /// A frame of prefab.csv.
    Frame,
    /// Any unit of prefab.csv.
    Unit,
    /// A row of stock.csv or a unit of prefab.csv.
    Goods,
    /// A tool of stock.csv.
    Tool,
    /// A route.
    Route,
}

/// Reads the whole file. `opening_needed` = the verb works on the opening, so one that is not there is a mistake.
pub(crate) fn read_project(
    text: &str,
    file: &str,
    opening_needed: bool,
    report: &mut Report,
) -> ReadProject {
    let (text, mut gaps) = mend(text, file, report);
    if text
        .lines()
        .all(|l| l.trim().is_empty() || l.trim_start().starts_with('#'))
    {
        let spot = Spot {
            file: file.into(),
            ..Spot::default()
        };
        let wrong = Wrong::new(
            "The file is empty: it says nothing of the job.",
            "at least [project] with a name, and the opening or the runs",
            "let `nookwright start` with the name of a new folder write a commented one, and copy from it what you need.",
        );
        report.mistake(spot, "nothing", wrong);
        // One sentence says it; what follows from it need not be said.
        gaps = true;
    }
    let (map, _) = DeTable::parse_recoverable(&text);
    let doc = Doc::new(&text, file, gaps, report);
    let root = Table::root(&doc, map.get_ref());
    let project = read_title(&root);
    let mut named = Vec::new();
    let (runs, bases) = read_runs(&root);
    name_run_goods(&root, &mut named);
    let mut read = ReadProject {
        project,
        files: read_files(&root),
        want: read_want(&root),
        opening: read_opening(&root, opening_needed),
        trim: read_trim(&root),
        saw: read_saw(&root),
        car: read_car(&root),
        finish: read_finish(&root),
        labour: read_labour(&root, &mut named),
        tools: read_tools(&root, &mut named),
        needs: read_needs(&root, &mut named),
        runs,
        bases,
        defaults: Vec::new(),
        named,
    };
    root.done();
    read.defaults = doc.take_defaults();
    read
}

fn read_title(root: &Table<'_>) -> Project {
    let table = root.table("project");
    if table.is_absent() {
        table.missing("name", "a name for the job");
    }
    let name = if table.is_absent() {
        String::new()
    } else {
        table.needed_text("name", "a name for the job")
    };
    let unit = table.word_or(
        "units",
        &[
            ("inch", Unit::Inch),
            ("mm", Unit::Mm),
            ("inches", Unit::Inch),
            ("in", Unit::Inch),
            ("millimetre", Unit::Mm),
            ("millimetres", Unit::Mm),
        ],
        Unit::Inch,
        "inch",
        "a bare number is read in inches",
    );
    let usual = Tape::usual(unit);
    *root.doc.tape.borrow_mut() = usual;
    let mark = table.size_or(
        "tape",
        Sort::size("the finest mark of your tape, such as 1/16 or 1 mm"),
        usual.mark,
        "a usual tape",
    );
    if mark > Length::INCH
        && let Some(value) = table.get("tape")
    {
        let wrong = Wrong::new(
            "No tape has marks so far apart.",
            "the finest mark, such as 1/16",
            "type the finest mark.",
        );
        value.wrong(&value.found(), wrong);
    }
    let tape = Tape { unit, mark };
    *root.doc.tape.borrow_mut() = tape;
    let date = table.get("date").and_then(|v| {
        let text = v.text()?;
        values::date(&text).map_err(|w| v.wrong(&text, w)).ok()
    });
    let money = table.text_or("money", "USD", "prices are shown in it");
    if !(money.len() == 3 && money.bytes().all(|b| b.is_ascii_uppercase()))
        && let Some(value) = table.get("money")
    {
        let wrong = Wrong::new(
            "This is no currency code.",
            "three capitals such as USD or EUR (ISO 4217)",
            "type the code.",
        );
        value.wrong(&money, wrong);
    }
    let project = Project {
        name,
        house: table.text("house").unwrap_or_default(),
        drawn_by: table.text("drawn_by").unwrap_or_default(),
        date,
        tape,
        money,
        sales_tax: table
            .get("sales_tax")
            .and_then(|v| v.with("a rate such as 7.25%", |t| values::per_cent(t, 3_000))),
        paper: table.word_or(
            "paper",
            &[("letter", Paper::Letter), ("a4", Paper::A4)],
            if unit == Unit::Inch {
                Paper::Letter
            } else {
                Paper::A4
            },
            if unit == Unit::Inch { "letter" } else { "a4" },
            "goes with the units",
        ),
    };
    table.done();
    project
}

fn read_files(root: &Table<'_>) -> FilePaths {
    let table = root.table("files");
    let path = |key| {
        let value = table.get(key)?;
        let text = value.text()?;
        if text.trim().is_empty() || text.contains('\0') {
            let wrong = Wrong::new(
                "This names no file.",
                "a path such as ../my-store/stock.csv",
                "type a path, or take the line out.",
            );
            value.wrong(&text, wrong);
            return None;
        }
        Some((text, value.spot()))
    };
    let files = FilePaths {
        parts: path("parts"),
        stock: path("stock"),
        prefab: path("prefab"),
        offcuts: path("offcuts"),
    };
    table.done();
    files
}

fn read_want(root: &Table<'_>) -> Option<Want> {
    let table = root.table("want");
    if table.is_absent() {
        table.default(
            "shelf",
            "not said",
            "both routes are shown without a met or short mark",
        );
        return None;
    }
    let length = Sort::from_zero("a length such as 26 ft").endless();
    let want = Want {
        shelf: table.size("shelf", length),
        hanging: table.size("hanging", length),
        tallest_hung: table.size(
            "tallest_hung",
            Sort::size("the longest garment with its hanger, such as 50"),
        ),
        drawers: table.count("drawers", 0),
        closed: table.text("closed"),
        garments: table
            .get("garments")
            .map(|v| counts(&v))
            .unwrap_or_default(),
        // Left open where it is not hers: what is said of it says whose it is.
        hanger_depth: table.size(
            "hanger_depth",
            Sort::size("the depth of a hanger with its garment, such as 22"),
        ),
    };
    if let Some(longest) = want.longest_hung().filter(|_| !table.has("tallest_hung")) {
        let usual = table.doc.tape.borrow().print_exact(longest);
        table.default("tallest_hung", &usual, &want.longest_said());
    }
    if !table.has("hanger_depth") {
        let usual = table.doc.tape.borrow().print_exact(HANGER);
        table.default("hanger_depth", &usual, "a usual hanger with a coat on it");
    }
    table.done();
    Some(want)
}

fn read_finish(root: &Table<'_>) -> Finish {
    let table = root.table("finish");
    let usual = Finish::default();
    let faces = [
        ("every face", FrameFaces::Every),
        ("what shows", FrameFaces::Shows),
        ("none", FrameFaces::None),
    ];
    let look = table.word_or(
        "look",
        &[
            ("painted", "painted"),
            ("paint", "painted"),
            ("oil", "oil"),
            ("clear", "clear"),
            ("none", "none"),
        ],
        "painted",
        "painted",
        "most built-ins are",
    );
    let finish = Finish {
        look: look.to_owned(),
        primer_coats: table.count_or("primer_coats", usual.primer_coats, "one is usual"),
        top_coats: table.count_or("top_coats", usual.top_coats, "two are usual"),
        inside: table.yes_no_or("inside", usual.inside, "inside faces show"),
        sand_between: table.yes_no_or("sand_between", usual.sand_between, "coats hold better"),
        hours_between_coats: table.count_or(
            "hours_between_coats",
            usual.hours_between_coats,
            "the tin may say another figure",
        ),
        frames: table.word_or(
            "frames",
            &faces,
            usual.frames,
            "what shows",
            "bought faces are finished",
        ),
        walls: table.yes_no_or("walls", usual.walls, "not part of the boxes"),
        lights: table.count_or("lights", usual.lights, "none asked for"),
    };
    table.done();
    finish
}

fn read_labour(root: &Table<'_>, named: &mut Vec<Named>) -> Labour {
    let table = root.table("labour");
    let rates = ["rate", "rate_low", "rate_high"].map(|key| table.money(key));
    if let ([_, Some(low), Some(high)], Some(value)) = (rates, table.get("rate_high"))
        && low > high
    {
        let wrong = Wrong::new(
            "The high rate is below the low one.",
            "a rate of at least rate_low",
            "swap the two.",
        );
        value.wrong(&value.found(), wrong);
    }
    let takes = table.table("takes");
    let hours = table.table("hours");
    let each = |t: &Table<'_>| {
        let entries = t.entries();
        entries
            .into_iter()
            .filter_map(|(k, v)| v.with("hours such as 1.5", values::hours).map(|h| (k, h)))
            .collect()
    };
    for (route, _) in hours.entries() {
        named.push(Named {
            what: NamedAs::Route,
            spot: hours.key_spot(&route),
            name: route,
        });
    }
    let labour = Labour {
        rate: rates[0],
        rate_low: rates[1],
        rate_high: rates[2],
        hours_a_weekend: table.hours("hours_a_weekend"),
        takes: each(&takes),
        hours: each(&hours),
    };
    table.done();
    labour
}

fn read_tools(root: &Table<'_>, named: &mut Vec<Named>) -> Tools {
    #[derive(Clone, Copy)]
    enum How {
        Full,
        Share,
        None,
    }
    let table = root.table("tools");
    let have = table.texts("have");
    if let Some(value) = table.get("have") {
        named.extend(have.iter().map(|name| Named {
            what: NamedAs::Tool,
            name: name.clone(),
            spot: value.spot(),
        }));
    }
    let words = [
        ("full", How::Full),
        ("share", How::Share),
        ("none", How::None),
    ];
    let how = table.word_or(
        "count",
        &words,
        How::Full,
        "full",
        "a tool bought for the job is paid for by it",
    );
    let jobs = table.count("jobs", 1);
    let count = match how {
        How::Full => ToolCount::Full,
        How::None => ToolCount::None,
        How::Share => {
            if jobs.is_none() && !table.has("jobs") {
                table.missing("jobs", "over how many jobs the price is shared, such as 4");
            }
            ToolCount::Share {
                jobs: jobs.unwrap_or(1),
            }
        }
    };
    table.done();
    Tools { have, count }
}

fn read_needs(root: &Table<'_>, named: &mut Vec<Named>) -> Vec<Need> {
    let mut needs = Vec::new();
    let read = root.doc.read_as(Sort::from_zero("a length"));
    for table in root.tables("need") {
        let route = table.needed_text("route", "the route it is for");
        let item = table.needed_text("item", "an item of stock.csv");
        let amount = table.get("amount").map(|v| {
            v.with("an amount such as 2, 25 ft or 0.82 gal", |t| {
                values::amount(t, read)
            })
        });
        if amount.is_none() {
            table.missing("amount", "how much of it, such as 2 or 25 ft");
        }
        if let Some(value) = table.get("route").filter(|_| !route.is_empty()) {
            named.push(Named {
                what: NamedAs::Route,
                name: route.clone(),
                spot: value.spot(),
            });
        }
        if let Some(value) = table.get("item").filter(|_| !item.is_empty()) {
            named.push(Named {
                what: NamedAs::Goods,
                name: item.clone(),
                spot: value.spot(),
            });
        }
        let line = table
            .get("amount")
            .map_or_else(|| table.line(), |v| v.line());
        needs.push(Need {
            route,
            item,
            amount: amount.flatten().unwrap_or(NeedUnit::Count(0)),
            line,
        });
        table.done();
    }
    needs
}

/// Notes where each run names an item or a unit. The tables are read a second time for their places only.
fn name_run_goods(root: &Table<'_>, named: &mut Vec<Named>) {
    for table in root.tables("run") {
        for (key, what) in [
            ("material", NamedAs::Sheet),
            ("back", NamedAs::Sheet),
            ("strips", NamedAs::CutUp),
            ("cover", NamedAs::CutUp),
            ("rail_item", NamedAs::CutUp),
            ("door_item", NamedAs::Sheet),
            ("drawer_item", NamedAs::Sheet),
            ("slide", NamedAs::Row),
            ("hinge", NamedAs::Row),
        ] {
            if let Some(value) = table.get(key).filter(super::value::Value::is_text) {
                named.push(Named {
                    what,
                    name: value.found(),
                    spot: value.spot(),
                });
            }
        }
        if let Some(list) = table
            .get("units")
            .filter(super::value::Value::is_list)
            .and_then(|v| v.list("frames"))
        {
            named.extend(list.iter().filter(|v| v.is_text()).map(|v| Named {
                what: NamedAs::Frame,
                name: v.found(),
                spot: v.spot(),
            }));
        }
        if let Some(extras) = table
            .get("extras")
            .filter(super::value::Value::is_table)
            .and_then(|v| v.table())
        {
            for (key, _) in extras.entries() {
                named.push(Named {
                    what: NamedAs::Unit,
                    spot: extras.key_spot(&key),
                    name: key,
                });
            }
        }
    }
}
