//! Replacing what the tool made in a folder: all of it together or none of it.
//!
//! New files are written in full in the tool's own folder first; then old ones are moved aside and new ones moved in, and
//! last the new list of what we made is renamed over the old one. That rename is the moment the change counts: whatever
//! stops the run before it, this run or the next puts the old files back; after it, the old ones are only tidied away.

use super::error::WriteError;
use super::kept::keep_copy;
use super::lock::{RunLock, TOOL};
use super::manifest::{Entry, Manifest, digest};
use std::collections::BTreeSet;
use std::fs::{self, File};
use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};

/// A file to be made.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct MadeFile {
    /// Its name in the folder, `/` between folders.
    pub name: String,
    /// What is in it.
    pub bytes: Vec<u8>,
}

impl MadeFile {
    /// A file of that name.
    pub fn new(name: impl Into<String>, bytes: impl Into<Vec<u8>>) -> Self {
        Self {
            name: name.into(),
            bytes: bytes.into(),
        }
    }
}

/// Who makes the files, from which plan.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Stamp<'a> {
    /// The verb.
    pub verb: &'a str,
    /// The plan they show; files of another plan go.
    pub plan: Option<&'a str>,
    /// True where the plan leaves parts without a place: the pages of an older plan then stay, for they may be all there is to work from.
    pub lacking: bool,
}

/// Pages and lists that are made from a plan and read without it.
const PAGES: [&str; 5] = [
    "build-book.pdf",
    "build-book.txt",
    "labels.pdf",
    "store-cuts.pdf",
    "buy.csv",
];

/// What to do with a file in the way that the tool did not make.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Foreign {
    /// `made/`: it goes to `kept/`.
    Keep,
    /// `--out`: nothing is written.
    Refuse,
}

/// What happened beside the writing.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Put {
    /// Copies of files she had edited.
    pub kept: Vec<PathBuf>,
    /// Files of an older plan that were taken away.
    pub gone: Vec<String>,
    /// Pages of an older plan that were left.
    pub older: Vec<String>,
}

/// The plan of the book that lies in a folder since an earlier run; `None` where there is no book that we made. The text is empty
/// where the list does not say which plan.
pub fn book_there(dir: &Path) -> Option<String> {
    let list = Manifest::read(dir).ok()?;
    let book = list.entry(PAGES[0])?;
    dir.join(PAGES[0])
        .is_file()
        .then(|| book.plan.clone().unwrap_or_default())
}

struct Paths {
    dir: PathBuf,
    fresh: PathBuf,
    aside: PathBuf,
    journal: PathBuf,
    list: PathBuf,
}

impl Paths {
    fn of(dir: &Path) -> Self {
        let tool = dir.join(TOOL);
        Self {
            dir: dir.to_owned(),
            fresh: tool.join("fresh"),
            aside: tool.join("aside"),
            journal: tool.join("journal"),
            list: tool.join("made.json.new"),
        }
    }
}

/// Puts files into a folder. The lock shows that no other run is at it.
pub fn put_made(
    dir: &Path,
    kept: &Path,
    files: &[MadeFile],
    stamp: Stamp<'_>,
    foreign: Foreign,
    _lock: &RunLock,
) -> Result<Put, WriteError> {
    let paths = Paths::of(dir);
    recover(&paths)?;
    let old = Manifest::read(dir)?;
    let new = new_list(&old, files, stamp);
    let names: BTreeSet<&str> = files.iter().map(|f| f.name.as_str()).collect();
    let older: Vec<String> = (new.files.iter())
        .filter(|e| other_plan(e, stamp))
        .map(|e| e.name.clone())
        .collect();
    let gone: Vec<String> = old
        .files
        .iter()
        .filter(|e| new.entry(&e.name).is_none())
        .map(|e| e.name.clone())
        .collect();

    // Look before anything moves: what in the way is hers?
    let mut hers = Vec::new();
    let mut same = BTreeSet::new();
    for name in names.iter().copied().chain(gone.iter().map(String::as_str)) {
        let path = dir.join(name);
        let there = match fs::read(&path) {
            Ok(bytes) => bytes,
            Err(e) if matches!(e.kind(), ErrorKind::NotFound | ErrorKind::NotADirectory) => {
                continue;
            }
            Err(e) => return Err(WriteError::io(&path, "read")(e)),
        };
        let is = digest(&there);
        let was = old.entry(name).map(|e| e.sha256.as_str());
        if was.is_none() && foreign == Foreign::Refuse {
            return Err(WriteError::NotOurs(path));
        }
        if new.entry(name).is_some_and(|e| e.sha256 == is) {
            same.insert(name.to_owned());
        } else if was != Some(is.as_str()) {
            hers.push((name.to_owned(), there));
        }
    }

    let staged = stage(&paths, files, &same, &new);
    if let Err(e) = staged {
        tidy(&paths);
        return Err(e);
    }
    let mut put = Put::default();
    for (name, bytes) in hers {
        match keep_copy(kept, &name, &bytes) {
            Ok(path) => put.kept.push(path),
            Err(e) => {
                tidy(&paths);
                return Err(e);
            }
        }
    }
    let place: Vec<&str> = names.into_iter().filter(|n| !same.contains(*n)).collect();
    let journal: String = place
        .iter()
        .map(|n| format!("+{n}\n"))
        .chain(gone.iter().map(|n| format!("-{n}\n")))
        .collect();
    let swapped =
        write_synced(&paths.journal, journal.as_bytes()).and_then(|()| swap(&paths, &place, &gone));
    if let Err(e) = swapped {
        roll_back(&paths)?;
        tidy(&paths);
        return Err(e);
    }
    tidy(&paths);
    (put.gone, put.older) = (gone, older);
    Ok(put)
}

fn other_plan(e: &Entry, stamp: Stamp<'_>) -> bool {
    matches!((&e.plan, stamp.plan), (Some(a), Some(b)) if a != b)
}

/// The list after the change: the new files; of the old ones those of other verbs that show no other plan.
fn new_list(old: &Manifest, files: &[MadeFile], stamp: Stamp<'_>) -> Manifest {
    let mut list = Manifest::default();
    let stays = |e: &&Entry| {
        let page = stamp.lacking && PAGES.contains(&e.name.as_str());
        e.verb != stamp.verb
            && (page || !other_plan(e, stamp))
            && !files.iter().any(|f| f.name == e.name)
    };
    list.files.extend(old.files.iter().filter(stays).cloned());
    list.files.extend(files.iter().map(|f| Entry {
        name: f.name.clone(),
        sha256: digest(&f.bytes),
        verb: stamp.verb.to_owned(),
        plan: stamp.plan.map(String::from),
    }));
    list.files.sort_by(|a, b| a.name.cmp(&b.name));
    list
}

fn stage(
    paths: &Paths,
    files: &[MadeFile],
    same: &BTreeSet<String>,
    list: &Manifest,
) -> Result<(), WriteError> {
    fs::create_dir_all(&paths.fresh).map_err(WriteError::io(&paths.fresh, "made"))?;
    for file in files.iter().filter(|f| !same.contains(&f.name)) {
        let path = paths.fresh.join(&file.name);
        make_parent(&path)?;
        write_synced(&path, &file.bytes)?;
    }
    write_synced(&paths.list, super::json::json_text(list).as_bytes())
}

fn swap(paths: &Paths, place: &[&str], gone: &[String]) -> Result<(), WriteError> {
    for name in place.iter().copied().chain(gone.iter().map(String::as_str)) {
        let at = paths.dir.join(name);
        let aside = paths.aside.join(name);
        make_parent(&aside)?;
        match fs::rename(&at, &aside) {
            Ok(()) => {}
            Err(e) if matches!(e.kind(), ErrorKind::NotFound | ErrorKind::NotADirectory) => {}
            Err(e) => return Err(WriteError::io(&at, "moved")(e)),
        }
    }
    for name in place {
        let at = paths.dir.join(name);
        make_parent(&at)?;
        fs::rename(paths.fresh.join(name), &at).map_err(WriteError::io(&at, "written"))?;
    }
    let list = Manifest::path(&paths.dir);
    fs::rename(&paths.list, &list).map_err(WriteError::io(&list, "written"))
}

/// Undoes a swap that did not come to its end: new files out, old ones back.
fn roll_back(paths: &Paths) -> Result<(), WriteError> {
    let Ok(journal) = fs::read_to_string(&paths.journal) else {
        return Ok(()); // nothing had moved
    };
    for line in journal.lines() {
        let Some((sign, name)) = line.split_at_checked(1) else {
            continue;
        };
        let at = paths.dir.join(name);
        let aside = paths.aside.join(name);
        if sign == "+" && !paths.fresh.join(name).exists() {
            let _ = fs::remove_file(&at); // it may not have been there
        }
        if aside.exists() {
            fs::rename(&aside, &at).map_err(WriteError::io(&at, "moved"))?;
        }
    }
    Ok(())
}

/// Ends what a run that was stopped halfway left: before the list changed the old files come back, after it they go.
fn recover(paths: &Paths) -> Result<(), WriteError> {
    if paths.list.exists() {
        roll_back(paths)?;
    }
    tidy(paths);
    Ok(())
}

/// Takes the work in hand away. What cannot be taken away now is tried again by the next run.
fn tidy(paths: &Paths) {
    let _ = fs::remove_file(&paths.journal);
    let _ = fs::remove_file(&paths.list);
    let _ = fs::remove_dir_all(&paths.fresh);
    let _ = fs::remove_dir_all(&paths.aside);
}

fn make_parent(path: &Path) -> Result<(), WriteError> {
    let parent = path.parent().unwrap_or(path);
    fs::create_dir_all(parent).map_err(WriteError::io(parent, "made"))
}

fn write_synced(path: &Path, bytes: &[u8]) -> Result<(), WriteError> {
    let write = || -> std::io::Result<()> {
        let mut file = File::create(path)?;
        file.write_all(bytes)?;
        file.sync_all()
    };
    write().map_err(WriteError::io(path, "written"))
}

#[cfg(test)]
mod tests {
    use super::*;

    const CUT: Stamp<'static> = Stamp {
        verb: "cut",
        plan: Some("A"),
        lacking: false,
    };

    fn put(dir: &Path, files: &[MadeFile], stamp: Stamp<'_>) -> Result<Put, WriteError> {
        let lock = RunLock::take(&dir.join("made"))?;
        put_made(
            &dir.join("made"),
            &dir.join("kept"),
            files,
            stamp,
            Foreign::Keep,
            &lock,
        )
    }
    fn text(path: impl AsRef<Path>) -> String {
        fs::read_to_string(path.as_ref())
            .unwrap_or_else(|e| panic!("{}: {e}", path.as_ref().display()))
    }

    #[test]
    fn an_edited_file_is_kept_and_an_untouched_one_replaced() {
        let dir = tempfile::tempdir().expect("folder");
        let dir = dir.path();
        put(
            dir,
            &[
                MadeFile::new("plan.json", "1"),
                MadeFile::new("sheets/1.dxf", "d"),
            ],
            CUT,
        )
        .expect("written");
        let again = put(
            dir,
            &[
                MadeFile::new("plan.json", "2"),
                MadeFile::new("sheets/1.dxf", "d"),
            ],
            CUT,
        )
        .expect("written");
        assert_eq!(again, Put::default());
        fs::write(dir.join("made/plan.json"), "hers").expect("edited");
        let third = put(dir, &[MadeFile::new("plan.json", "3")], CUT).expect("written");
        assert_eq!(third.gone, ["sheets/1.dxf"]);
        assert_eq!(text(&third.kept[0]), "hers");
        assert_eq!(text(dir.join("made/plan.json")), "3");
        assert!(!dir.join("made/sheets/1.dxf").exists());
    }

    #[test]
    fn files_of_another_plan_go_and_others_stay() {
        let dir = tempfile::tempdir().expect("folder");
        let dir = dir.path();
        let book = Stamp {
            verb: "book",
            ..CUT
        };
        put(dir, &[MadeFile::new("book.pdf", "p")], book).expect("written");
        put(
            dir,
            &[MadeFile::new("compare.json", "c")],
            Stamp {
                verb: "compare",
                plan: None,
                lacking: false,
            },
        )
        .expect("written");
        put(dir, &[MadeFile::new("plan.json", "1")], CUT).expect("written");
        assert!(dir.join("made/book.pdf").exists());
        let other = Stamp {
            plan: Some("B"),
            ..CUT
        };
        let done = put(dir, &[MadeFile::new("plan.json", "2")], other).expect("written");
        assert_eq!(done.gone, ["book.pdf"]);
        assert!(dir.join("made/compare.json").exists());
    }

    /// A plan that leaves parts without a place does not take the last whole book away; the next whole plan does.
    #[test]
    fn the_book_of_an_older_plan_stays_while_the_new_one_is_lacking() {
        let dir = tempfile::tempdir().expect("folder");
        let dir = dir.path();
        let book = Stamp {
            verb: "book",
            ..CUT
        };
        let files = ["build-book.pdf", "sheets/1.dxf", "plan.json"];
        let files = files.map(|n| MadeFile::new(n, "old"));
        put(dir, &files, book).expect("written");
        let lacking = Stamp {
            plan: Some("B"),
            lacking: true,
            ..CUT
        };
        let plan = || [MadeFile::new("plan.json", "2")];
        let done = put(dir, &plan(), lacking).expect("written");
        assert_eq!(done.older, ["build-book.pdf"]);
        assert_eq!(done.gone, ["sheets/1.dxf"]);
        assert_eq!(text(dir.join("made/build-book.pdf")), "old");
        assert_eq!(book_there(&dir.join("made")).as_deref(), Some("A"));
        let whole = Stamp {
            plan: Some("C"),
            ..CUT
        };
        let done = put(dir, &plan(), whole).expect("written");
        assert_eq!(done.gone, ["build-book.pdf"]);
        assert_eq!(book_there(&dir.join("made")), None);
    }

    #[test]
    fn a_failure_halfway_leaves_the_old_files_whole() {
        let dir = tempfile::tempdir().expect("folder");
        let dir = dir.path();
        put(
            dir,
            &[MadeFile::new("a.json", "1"), MadeFile::new("b.json", "1")],
            CUT,
        )
        .expect("written");
        // A file stands where a folder is needed, so the third file cannot be placed after the first two were.
        fs::write(dir.join("made/sheets"), "in the way").expect("written");
        let files = [
            MadeFile::new("a.json", "2"),
            MadeFile::new("b.json", "2"),
            MadeFile::new("sheets/1.dxf", "2"),
        ];
        assert!(put(dir, &files, CUT).is_err());
        assert_eq!(text(dir.join("made/a.json")), "1");
        assert_eq!(text(dir.join("made/b.json")), "1");
        fs::remove_file(dir.join("made/sheets")).expect("removed");
        put(dir, &files, CUT).expect("written");
        assert_eq!(text(dir.join("made/sheets/1.dxf")), "2");
    }

    #[test]
    fn a_run_that_died_halfway_is_undone_by_the_next() {
        let dir = tempfile::tempdir().expect("folder");
        let dir = dir.path();
        put(
            dir,
            &[MadeFile::new("a.json", "1"), MadeFile::new("b.json", "1")],
            CUT,
        )
        .expect("written");
        // As it stands when the power goes after `a.json` was placed and before the list changed.
        let made = dir.join("made");
        let tool = made.join(TOOL);
        for d in ["fresh", "aside"] {
            fs::create_dir_all(tool.join(d)).expect("folder");
        }
        fs::write(tool.join("made.json.new"), "{}").expect("written");
        fs::write(tool.join("journal"), "+a.json\n+b.json\n").expect("written");
        fs::rename(made.join("a.json"), tool.join("aside/a.json")).expect("moved");
        fs::write(made.join("a.json"), "2").expect("written");
        fs::write(tool.join("fresh/b.json"), "2").expect("written");
        let other = Stamp {
            verb: "buy",
            plan: None,
            lacking: false,
        };
        let done = put(dir, &[MadeFile::new("buy.csv", "x")], other).expect("written");
        assert_eq!(done, Put::default());
        assert_eq!(text(made.join("a.json")), "1");
        assert_eq!(text(made.join("b.json")), "1");
    }

    #[test]
    fn out_replaces_only_files_the_tool_made() {
        let dir = tempfile::tempdir().expect("folder");
        let dir = dir.path();
        fs::write(dir.join("plan.json"), "someone else's").expect("written");
        let lock = RunLock::take(dir).expect("free");
        let files = [MadeFile::new("plan.json", "1"), MadeFile::new("other", "1")];
        let refused = put_made(dir, &dir.join("kept"), &files, CUT, Foreign::Refuse, &lock);
        assert!(matches!(refused, Err(WriteError::NotOurs(_))));
        assert_eq!(text(dir.join("plan.json")), "someone else's");
        assert!(!dir.join("other").exists());
    }
}
