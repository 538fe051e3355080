//! Just a cut list.

use super::fixture::{PARTS, STOCK, mistakes};
use crate::files::read::{BareOptions, ReadError, ReadJob, Reads, read_bare, read_folder};
use crate::model::StockKind;
use crate::units::{Length, Unit};

fn read(parts: &str, stock: Option<&str>, options: &BareOptions) -> ReadJob {
    let dir = tempfile::tempdir().expect("a folder");
    let path = dir.path().join("list.csv");
    std::fs::write(&path, parts).expect("written");
    let stock_path = stock.map(|s| {
        let path = dir.path().join("store.csv");
        std::fs::write(&path, s).expect("written");
        path
    });
    read_bare(&path, stock_path.as_deref(), options).expect("read")
}

const LIST: &str = "mark,what,how_many,length,width,item\na,shelf,3,40,11 1/2,OAK\nb,side,2,72,12,OAK\nc,back,1,72,40,HDF\n";

#[test]
fn every_item_is_a_full_sheet_without_a_price() {
    let read = read(LIST, None, &BareOptions::default());
    let job = read.job.expect("a job");
    assert!(
        job.bare_list && read.problems.is_empty(),
        "{:#?}",
        read.problems
    );
    assert_eq!(job.project.name, "list");
    let items: Vec<&str> = job.stock.iter().map(|s| s.item.as_str()).collect();
    assert_eq!(items, ["OAK", "HDF"]);
    for row in &job.stock {
        assert_eq!((row.kind, row.price), (StockKind::Sheet, None));
        assert_eq!(
            (row.length, row.width),
            (Some(Length::inches(96)), Some(Length::inches(48)))
        );
    }
    assert_eq!(
        (job.saw.kerf, job.saw.clean_edge),
        (Length::in_64(8), Length::in_64(8))
    );
    assert!(
        job.defaults
            .iter()
            .any(|d| d.place == "--kerf" && d.value == "1/8")
    );
}

#[test]
fn options_and_millimetres() {
    let options = BareOptions {
        unit: Unit::Mm,
        kerf: Some(Length::mm(3)),
        clean_edge: Some(Length::ZERO),
    };
    let read = read(
        "mark;what;how_many;length;width;item\na;shelf;3;800,5;300;OAK\n",
        None,
        &options,
    );
    let job = read.job.expect("a job");
    assert_eq!(
        (job.saw.kerf, job.saw.clean_edge),
        (Length::mm(3), Length::ZERO)
    );
    let size = crate::model::PartSize::Panel {
        length: Length::from_units(800 * 80_000 + 40_000),
        width: Length::mm(300),
    };
    assert_eq!(job.parts[0].size, size);
}

#[test]
fn with_a_stock_file_its_rows_count() {
    let read = read(PARTS, Some(STOCK), &BareOptions::default());
    assert_eq!(mistakes(&read), Vec::<&crate::model::Problem>::new());
    let job = read.job.expect("a job");
    assert_eq!((job.parts.len(), job.stock.len()), (6, 9));
    let wrong = self::read(
        &PARTS.replace("STR-2", "STR-9"),
        Some(STOCK),
        &BareOptions::default(),
    );
    assert!(mistakes(&wrong).iter().any(|p| p.fix.contains("STR-2")));
}

#[test]
fn a_list_of_sticks_needs_no_width() {
    let list = "mark,what,how_many,length,item\na,rail,3,40,STR-2\n";
    assert!(
        read(list, Some(STOCK), &BareOptions::default())
            .job
            .is_some()
    );
    let sheet = list.replace("STR-2", "BIR-6");
    let read = read(&sheet, Some(STOCK), &BareOptions::default());
    assert!(
        mistakes(&read)
            .iter()
            .any(|p| p.spot.column.as_deref() == Some("width"))
    );
}

#[test]
fn what_is_not_there_is_no_mistake_in_a_file() {
    let dir = tempfile::tempdir().expect("a folder");
    let missing = read_bare(&dir.path().join("none.csv"), None, &BareOptions::default());
    assert!(matches!(missing, Err(ReadError::Missing(_))));
    assert!(matches!(
        read_folder(dir.path(), &Reads::CUT),
        Err(ReadError::NotAJob(_))
    ));
    std::fs::create_dir(dir.path().join("project.toml")).expect("made");
    assert!(matches!(
        read_folder(dir.path(), &Reads::CUT),
        Err(ReadError::Folder(_))
    ));
}

#[test]
fn a_file_over_the_limits_is_a_mistake_and_no_wait() {
    let many: String = (0..100_001)
        .map(|i| format!("p{i},x,1,10,10,OAK\n"))
        .collect();
    let read = read(
        &format!("mark,what,how_many,length,width,item\n{many}"),
        None,
        &BareOptions::default(),
    );
    assert!(
        mistakes(&read)
            .iter()
            .any(|p| p.found.contains("100000 rows")),
        "{:#?}",
        read.problems
    );
    let wide = format!(
        "mark,what,how_many,length,width,item{}\n",
        ",".repeat(5_000)
    );
    let read = self::read(&wide, None, &BareOptions::default());
    assert!(
        mistakes(&read)
            .iter()
            .any(|p| p.found.contains("cells in one row"))
    );
    let dir = tempfile::tempdir().expect("a folder");
    let path = dir.path().join("huge.csv");
    let file = std::fs::File::create(&path).expect("made");
    file.set_len(50_000_001).expect("grown");
    let read = read_bare(&path, None, &BareOptions::default()).expect("read");
    assert!(mistakes(&read).iter().any(|p| p.found.contains("50 MB")));
}
