//! An invented job that uses every table and column, and a way to change one thing in it.

use crate::files::read::{ReadJob, Reads, read_folder};
use crate::model::{Problem, Severity};
use std::path::Path;

pub(super) const PROJECT: &str = r#"# Landing cupboard. Sizes in inches unless a unit is written.
[project]
name = "Landing cupboard"
house = "terrace, 1921"
drawn_by = "M."
date = 2026-09-05
units = "inch"
tape = "1/16"
money = "USD"
sales_tax = "6.5%"
paper = "letter"

[opening]
name = "under the landing"
walls = "drywall"

[opening.level_line]
down_to_floor = { left = "40 1/4", middle = "40 3/8 full", right = "40 1/2" }
up_to_ceiling = { left = "50 1/8", middle = "50", right = "49 7/8 shy" }

[opening.plumb_lines]
apart = "54"
height = ["0", "30", "60", "90"]
left_gap = ["1 1/4", "1", "7/8", "3/4"]
right_gap = ["1/2", "5/8", "-1/16", "?"]

[opening.back_wall]
from_left = ["0", "28", "56"]
height = ["12", "80"]
gap = [["0", "1/8", "0"], ["1/16", "3/16", "0"]]

[opening.tape]
width_at = ["0", "60"]
width = ["55 3/4", "54 13/16"]
diagonal = { low_left_to_high_right = "105 1/2", low_right_to_high_left = "106" }
depth = { left = ["25", "24 7/8"], right = "25 1/8" }
height = { left = "90 3/8" }

[[opening.keep_clear]]
what = "outlet"
from_left = "20"
up = "12 1/2"
width = "2 3/4"
height = "4 1/2"
wall = "left"
reach = "1/2"

[[opening.existing_trim]]
what = "base"
height = "5 1/4"
thick = "9/16"
stay = false

[[opening.studs]]
wall = "back"
from_left = ["8", "24", "40"]
found_by = "magnet"

[[opening.way_in]]
what = "stair"
width = "33"
turn = "40"

[opening.doorway]
width = "30"
height = "78"
casing = "2 1/2"
swing = "out"

[[opening.soffit]]
from_left = "0"
width = "12"
down = "9"

[opening.now]
comes_off = ["one shelf", "a rod"]
stays = ["the light"]
reuse = []
patch = "two holes"

[want]
shelf = "14 ft"
hanging = "20"
drawers = 2
garments = { coats = 6, shirts = 12 }

[[run]]
route = "built"
chosen = true
base_height = "4"
box_height = "80"
box_depth = "23"
material = "BIR-18"
back = "BIR-6"
[[run.box]]
name = "tall"
width = "26"
fixed_shelves = 1
loose_shelves = 3
[[run.box]]
name = "hang"
share = 1
rail = true

[[run]]
route = "bought"
units = ["FR-20", "FR-26"]
extras = { "SH-20" = 3 }

[trim]
meeting = "butt"
spring = "1/32"

[saw]
what = "table saw"
kerf = "1/8"
clean_edge = "3/16"
clean_edges = ["x0", "y0"]
longest_rip = "96"
largest_alone = "40 x 60"
turns = 3
first = "rip"
[saw.store]
kerf = "3/16"
price_per_cut = "0.75"

[[car.space]]
what = "boot"
length = "60"
width = "38"
height = "28"
[car]
carries = "300 kg"

[finish]
look = "clear"
primer_coats = 0
top_coats = 3
frames = "none"

[labour]
rate = 18
rate_low = "10.00"
rate_high = "30.00"
hours_a_weekend = 9.5
[labour.takes]
cutting = "45 min"
[labour.hours]
built = 31.5
bought = 12

[tools]
have = ["CLAMP"]
count = "share"
jobs = 4

[[need]]
route = "built"
item = "BND-22"
amount = "31 ft"
[[need]]
route = "built"
item = "VARN"
amount = "0.4 gal"
[[need]]
route = "bought"
item = "SCR-40"
amount = 36
"#;

pub(super) const PARTS: &str = "\
mark,what,box,how_many,length,width,item,grain,band,band_in_size,spare,keep,from,note
A1,tall side,tall,2,80,23,BIR-18,length,front,yes,0,,run,
A2,tall shelf,tall,4,24 1/2,22 3/4,BIR-18,length,front,,1,,run,\"loose, one spare\"
A3,tall back,tall,1,80,25 1/4,BIR-6,any,,,,,run,
B1,hang side,hang,2,80,23,BIR-18,length,front,yes,,,run,
B2,hang top,hang,1,26 1/16,23,BIR-18,any,,,,,run,
T1,head strip,face,1,55 1/2,,STR-2,,,,,yes,hand,scribe to ceiling
";

pub(super) const STOCK: &str = "\
item,kind,what,length,width,thick,measured,grain,sold_by,holds,price,price_low,price_high,priced_on,have,waste,store,aisle,lead_days,tax,covers,at_most
BIR-18,sheet,\"birch ply 3/4, clear\",96,48,3/4,23/32,length,each,1,82.00,75.00,95.00,2026-08-30,1,,Ferncliff Timber,racks,0,,,
BIR-60,sheet,\"birch ply 3/4, clear\",60,60,3/4,23/32,length,each,1,64.50,,,2026-08-30,0,,Ferncliff Timber,racks,0,,,4
BIR-6,sheet,birch ply 1/4,96,48,1/4,7/32,width,each,1,31.25,,,2026-08-30,0,,Ferncliff Timber,racks,0,,,
BND-22,banding,birch banding 7/8,50 ft,7/8,,,,roll,50 ft,14.80,,,2026-08-30,12 ft,10%,Ferncliff Timber,edges,0,,,
STR-2,moulding,flat strip 3/4 x 2,8 ft,2,3/4,,,each,1,9.10,,,2026-08-30,0,,Ferncliff Timber,mouldings,0,,,
SCR-40,hardware,screws 1 1/2,,,,,,box,100,7.75,,,2026-08-30,20,,Ferncliff Timber,fixings,0,,,
VARN,paint,satin varnish,,,,,,can,1 qt,19.90,,,2026-08-30,0,,Ferncliff Timber,paint,0,,90 sq ft,
CLAMP,tool,corner clamp,,,,,,each,1,26.00,,,2026-08-30,0,,Ferncliff Timber,tools,0,,,
CART,service,delivery,,,,,,each,1,45.00,,,2026-08-30,0,,Ferncliff Timber,,3,no,,
";

pub(super) const PREFAB: &str = "\
unit,kind,what,width,height,depth,inside_width,inside_height,inside_depth,price,shelf_each,shelves_in_box,hanging_each,fits,stands_on,wall_fixing,filler,carton,carton_weight,store,lead_days,shelf_thick,shelf_core
FR-20,frame,frame 20,20,80,22,18 3/4,77,21 1/2,99.00,18 3/4,1,,,base,yes,sides and head,81 x 22 x 4,70 lb,Oakmere Home,5,5/8,particleboard
FR-26,frame,frame 26,26,80,22,24 3/4,77,21 1/2,119.00,24 3/4,1,,,own feet,yes,sides,81 x 27 x 4,32 kg,Oakmere Home,5,5/8,particleboard
SH-20,shelf,shelf for 20,18 3/4,,21,,,,16.00,18 3/4,,,FR-20,,no,,,,Oakmere Home,5,,
";

pub(super) const OFFCUTS: &str = "\
mark,item,length,width,thick,grain,good_edges,from_job,put_by,where,state,note
K-1,BIR-18,40,20,23/32,length,x0+y0,bench,2026-05-02,wall,ready,
K-2,BIR-18,30,18,3/4 nominal,length,,bench,2026-05-02,wall,promised to porch seat,
K-3,BIR-6,50,20,7/32,length,,bench,2026-05-02,wall,doubtful,damp
";

/// The files of a job, to be changed and read.
#[derive(Clone)]
pub(super) struct Files {
    pub(super) all: Vec<(&'static str, Vec<u8>)>,
}

impl Files {
    pub(super) fn sound() -> Self {
        let all = [
            ("project.toml", PROJECT),
            ("parts.csv", PARTS),
            ("stock.csv", STOCK),
            ("prefab.csv", PREFAB),
            ("offcuts.csv", OFFCUTS),
        ];
        Self {
            all: all
                .into_iter()
                .map(|(n, t)| (n, t.as_bytes().to_vec()))
                .collect(),
        }
    }

    /// One place of one file changed; the place must be there exactly as given.
    pub(super) fn change(mut self, file: &str, from: &str, to: &str) -> Self {
        let (_, bytes) = self
            .all
            .iter_mut()
            .find(|(n, _)| *n == file)
            .expect("a file of the job");
        let text = String::from_utf8(bytes.clone()).expect("the fixture is UTF-8");
        assert!(text.contains(from), "{file} does not hold {from:?}");
        *bytes = text.replacen(from, to, 1).into_bytes();
        self
    }

    pub(super) fn set(mut self, file: &'static str, bytes: impl Into<Vec<u8>>) -> Self {
        self.all.retain(|(n, _)| *n != file);
        self.all.push((file, bytes.into()));
        self
    }

    pub(super) fn without(mut self, file: &str) -> Self {
        self.all.retain(|(n, _)| *n != file);
        self
    }

    pub(super) fn write(&self, dir: &Path) {
        for (name, bytes) in &self.all {
            std::fs::write(dir.join(name), bytes).expect("a test can write");
        }
    }

    pub(super) fn read(&self) -> ReadJob {
        self.read_for(&Reads::EVERYTHING)
    }

    pub(super) fn read_for(&self, reads: &Reads) -> ReadJob {
        let dir = tempfile::tempdir().expect("a folder for the test");
        self.write(dir.path());
        read_folder(dir.path(), reads).expect("the folder can be read")
    }
}

pub(super) fn mistakes(read: &ReadJob) -> Vec<&Problem> {
    read.problems
        .iter()
        .filter(|p| p.severity == Severity::Mistake)
        .collect()
}

pub(super) fn cautions(read: &ReadJob) -> Vec<&Problem> {
    read.problems
        .iter()
        .filter(|p| p.severity == Severity::Caution)
        .collect()
}

/// What one change to a sound job must bring: one problem at that place whose words hold all of these.
pub(super) struct Case {
    pub(super) file: &'static str,
    pub(super) from: &'static str,
    pub(super) to: &'static str,
    pub(super) row: usize,
    pub(super) column: &'static str,
    pub(super) says: &'static [&'static str],
}

/// Reads each case and returns everything that is not as it should be.
pub(super) fn failures(cases: &[Case], severity: Severity) -> String {
    let mut failures = String::new();
    for case in cases {
        let read = Files::sound().change(case.file, case.from, case.to).read();
        let hits: Vec<&Problem> = read
            .problems
            .iter()
            .filter(|p| p.severity == severity && p.spot.file == case.file)
            .filter(|p| {
                p.spot.row == Some(case.row) && p.spot.column.as_deref() == Some(case.column)
            })
            .collect();
        let words = |p: &Problem| format!("{} {} {} {}", p.found, p.why, p.expected, p.fix);
        let good = hits
            .iter()
            .any(|p| case.says.iter().all(|s| words(p).contains(s)));
        let others = read
            .problems
            .iter()
            .filter(|p| p.severity == severity)
            .count();
        let caret = hits.iter().all(|p| match (&p.spot.line, p.spot.caret) {
            (Some(line), Some((start, len))) => start + len <= line.chars().count().max(start + 1),
            _ => true,
        });
        let five = hits.iter().all(|p| {
            !p.found.is_empty() && !p.why.is_empty() && !p.expected.is_empty() && !p.fix.is_empty()
        });
        let stops = (read.job.is_none()) == (severity == Severity::Mistake);
        if !good || others != 1 || !caret || !five || !stops {
            failures.push_str(&format!(
                "\n{:?} -> {:?} in {} row {} {}: {:#?}",
                case.from, case.to, case.file, case.row, case.column, read.problems
            ));
        }
    }
    failures
}

/// A [`Case`] in one line.
pub(super) const fn case(
    file: &'static str,
    from: &'static str,
    to: &'static str,
    row: usize,
    column: &'static str,
    says: &'static [&'static str],
) -> Case {
    Case {
        file,
        from,
        to,
        row,
        column,
        says,
    }
}
