//! Every operation of keeping something fails once, and the yard is as before or as after.
//!
//! The medium here is the real disk behind a counter. It fails in two ways: the program dies, so
//! that nothing after the fault happens and half-written bytes stay; or the disk refuses once and
//! the program goes on.

use crate::{
    disk::said,
    quay::{full_session, yard},
};
use gapwright::{
    domain::{
        gauge::Repeatability, log::Session, machine::ShearId, quantity::Length, yard::Settings,
    },
    exchange::visits::readings_table,
    store::{
        self, Opened, StoreError, Writer,
        medium::{Disk, Lock, Medium},
    },
};
use std::{
    cell::{Cell, RefCell},
    fs, io,
    path::Path,
};
use tempfile::{TempDir, TempPath};

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Fault {
    /// The operation fails and so do all that follow.
    Dies,
    /// The operation is carried out, then all that follow fail.
    DiesAfter,
    /// The operation fails, the next ones work.
    Refuses,
}

#[derive(Debug)]
pub(crate) struct Failing {
    fault: Fault,
    at: usize,
    done: RefCell<Vec<&'static str>>,
}

impl Failing {
    /// A disk that is well.
    pub(crate) const fn well() -> Self {
        Self::new(Fault::Refuses, usize::MAX)
    }

    pub(crate) const fn new(fault: Fault, at: usize) -> Self {
        Self { fault, at, done: RefCell::new(Vec::new()) }
    }

    /// The operation that failed first, if it came to that.
    pub(crate) fn failed(&self) -> Option<&'static str> {
        self.done.borrow().get(self.at).copied()
    }

    fn step<T>(
        &self,
        name: &'static str,
        act: impl FnOnce() -> io::Result<T>,
        half: impl FnOnce(),
    ) -> io::Result<T> {
        let now = self.done.borrow().len();
        self.done.borrow_mut().push(name);
        let full = || io::Error::from(io::ErrorKind::StorageFull);
        match self.fault {
            Fault::Refuses if now == self.at => Err(full()),
            Fault::Refuses => act(),
            Fault::Dies | Fault::DiesAfter if now < self.at => act(),
            Fault::DiesAfter if now == self.at => act().and(Err(full())),
            Fault::Dies if now == self.at => {
                half();
                Err(full())
            }
            Fault::Dies | Fault::DiesAfter => Err(full()),
        }
    }

    /// A dead program cleans nothing up.
    fn forget(&self, mut staged: TempPath) {
        staged.disable_cleanup(self.fault != Fault::Refuses);
    }

    fn rename(
        &self,
        name: &'static str,
        staged: TempPath,
        act: impl FnOnce(TempPath) -> io::Result<()>,
    ) -> io::Result<()> {
        let slot = Cell::new(Some(staged));
        let result = self.step(name, || act(slot.take().unwrap()), || {});
        if let Some(left) = slot.take() {
            self.forget(left);
        }
        result
    }
}

impl Medium for Failing {
    fn create_dirs(&self, dir: &Path) -> io::Result<()> {
        self.step("create_dirs", || Disk.create_dirs(dir), || {})
    }

    fn stage(&self, dir: &Path, bytes: &[u8]) -> io::Result<TempPath> {
        let half = || self.forget(Disk.stage(dir, &bytes[..bytes.len() / 2]).unwrap());
        let staged = self.step("stage", || Ok(Disk.stage(dir, bytes)?.keep().unwrap()), half)?;
        TempPath::try_from_path(staged)
    }

    fn publish(&self, staged: TempPath, target: &Path) -> io::Result<()> {
        self.rename("publish", staged, |staged| Disk.publish(staged, target))
    }

    fn replace(&self, staged: TempPath, target: &Path) -> io::Result<()> {
        self.rename("replace", staged, |staged| Disk.replace(staged, target))
    }

    fn move_dir(&self, from: &Path, to: &Path) -> io::Result<()> {
        self.step("move_dir", || Disk.move_dir(from, to), || {})
    }

    fn sync_dir(&self, dir: &Path) -> io::Result<()> {
        self.step("sync_dir", || Disk.sync_dir(dir), || {})
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        self.step("remove", || Disk.remove(path), || {})
    }

    fn lock(&self, path: &Path) -> io::Result<Option<Lock>> {
        self.step("lock", || Disk.lock(path), || {})
    }
}

fn before() -> Session {
    Session { amends: None, ..full_session(5) }
}

/// The same visit, at two moments of the morning.
fn draft(readings: usize) -> Session {
    let mut draft = full_session(9);
    draft.readings.truncate(readings);
    draft.work.clear();
    draft
}

/// A yard with one signed session and one draft.
fn started() -> TempDir {
    let dir = tempfile::tempdir().unwrap();
    store::create_yard(dir.path(), &yard(vec![before()])).unwrap();
    store::save_draft(dir.path(), &draft(2)).unwrap();
    dir
}

fn sound(root: &Path) -> Opened {
    let opened = store::open(root).unwrap();
    assert_eq!(said(root, &opened.issues), [""; 0]);
    opened
}

fn leftovers(dir: &Path) -> usize {
    let mut count = 0;
    for entry in fs::read_dir(dir).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            count += leftovers(&path);
        } else if path.extension().is_some_and(|it| it == "tmp") {
            count += 1;
        }
    }
    count
}

/// Runs `act` with a fault at every operation in turn, and `look` at what is left on disk.
fn each_fault(
    act: impl Fn(&Writer<'_, Failing>) -> Result<(), StoreError>,
    look: impl Fn(&Path, &Result<(), StoreError>),
) {
    for fault in [Fault::Dies, Fault::DiesAfter, Fault::Refuses] {
        for at in 0.. {
            let dir = started();
            let medium = Failing::new(fault, at);
            let result = act(&Writer::new(&medium, dir.path()));
            look(dir.path(), &result);
            // Removing a draft that is signed may fail unseen; nothing else may.
            let is_signed = medium.done.borrow().contains(&"publish");
            let unseen = match medium.failed() {
                None | Some("remove") => true,
                other => other == Some("lock") && is_signed,
            };
            assert_eq!(result.is_ok(), unseen, "{:?} failed: {result:?}", medium.failed());
            if fault == Fault::Refuses {
                assert_eq!(leftovers(dir.path()), 0, "the fault at {at} left something behind");
            }
            // Trying again when the disk is well always ends well.
            let well = Failing::new(fault, usize::MAX);
            act(&Writer::new(&well, dir.path())).unwrap();
            if medium.failed().is_none() {
                break;
            }
        }
    }
}

#[test]
fn signing_leaves_the_old_state_or_the_new_one() {
    let signed = draft(4);
    each_fault(
        |writer| writer.sign(&signed),
        |root, result| {
            let opened = sound(root);
            let sessions = &opened.yard.machines[0].sessions;
            if sessions.len() == 1 {
                assert!(result.is_err(), "reported as signed, and it is not there");
                assert_eq!(*sessions, [before()]);
                assert_eq!(opened.drafts, [draft(2)], "the draft outlives a signing that failed");
            } else {
                assert_eq!(*sessions, [before(), signed.clone()]);
                assert_eq!(opened.drafts, [], "what is signed is no draft any more");
            }
        },
    );
}

/// A correction takes the place of what it corrects at once or not at all.
#[test]
fn a_correction_counts_wholly_or_not_at_all() {
    let correction = Session { amends: Some(before().id), ..draft(3) };
    each_fault(
        |writer| writer.sign(&correction),
        |root, result| {
            let opened = sound(root);
            let counts = &opened.yard.machines[0].history.sessions;
            let corrected = *counts == [correction.clone()];
            assert!(corrected || (result.is_err() && *counts == [before()]), "{counts:?}");
            let there = &opened.yard.machines[0].sessions;
            assert!(there.contains(&before()), "what was corrected is still in the log");
        },
    );
}

/// A table for other programs, where one of last week stands.
#[test]
fn an_exported_table_is_last_weeks_or_todays() {
    let table = |sessions| readings_table(&yard(sessions).machines);
    let (old, new) = (table(vec![]), table(vec![before()]));
    for fault in [Fault::Dies, Fault::DiesAfter, Fault::Refuses] {
        for at in 0.. {
            let dir = tempfile::tempdir().unwrap();
            let path = dir.path().join("tables/readings.csv");
            store::put_file(&path, old.as_bytes()).unwrap();
            let medium = Failing::new(fault, at);
            let result = store::put_file_on(&medium, &path, new.as_bytes());
            let found = fs::read_to_string(&path).unwrap();
            assert!(found == new || (result.is_err() && found == old), "{found}");
            assert_eq!(result.is_err(), medium.failed().is_some());
            if medium.failed().is_none() {
                break;
            }
        }
    }
}

#[test]
fn a_draft_is_kept_as_it_was_or_as_it_is_now() {
    each_fault(
        |writer| writer.save_draft(&draft(3)),
        |root, result| {
            let opened = sound(root);
            assert_eq!(opened.yard.machines[0].sessions, [before()]);
            let new = opened.drafts == [draft(3)];
            assert!(new || (result.is_err() && opened.drafts == [draft(2)]), "{:?}", opened.drafts);
        },
    );
}

/// Another window has measured on since this one looked.
#[test]
fn a_draft_of_two_windows_is_kept_as_it_was_or_with_what_both_know() {
    let ours = Session { readings: vec![draft(3).readings.remove(2)], ..draft(3) };
    let both = draft(3);
    each_fault(
        |writer| writer.merge_draft(Some(&draft(0)), &ours).map(|_kept| ()),
        |root, result| {
            let opened = sound(root);
            let new = opened.drafts == [both.clone()];
            assert!(new || (result.is_err() && opened.drafts == [draft(2)]), "{:?}", opened.drafts);
        },
    );
}

#[test]
fn settings_and_machines_are_kept_as_they_were_or_as_they_are_now() {
    let old = yard(vec![before()]);
    let (mut settings, mut shear) = (old.settings.clone(), old.machines[0].shear.clone());
    settings.name = "Lower quay".into();
    shear.name = "Old Heron".into();
    each_fault(
        |writer| writer.save_settings(&settings).and_then(|()| writer.save_shear(&shear)),
        |root, result| {
            let now = sound(root).yard;
            let names = (now.settings.name.as_str(), now.machines[0].shear.name.as_str());
            let new = names == ("Lower quay", "Old Heron");
            let between = [("Quay yard", "Heron"), ("Lower quay", "Heron")].contains(&names);
            assert!(new || (result.is_err() && between), "{names:?} after {result:?}");
        },
    );
}

#[test]
fn a_machine_that_is_new_is_there_whole_or_not_at_all() {
    let mut shear = yard(vec![before()]).machines.remove(0).shear;
    shear.id = ShearId::new("plover").unwrap();
    each_fault(
        |writer| writer.save_shear(&shear),
        |root, result| {
            let now = sound(root).yard;
            let there = now.machine(&shear.id).is_some_and(|it| it.shear == shear);
            assert!(there || (result.is_err() && now.machines.len() == 1), "{result:?}");
        },
    );
}

#[test]
fn a_study_and_the_scatter_it_found_are_kept_as_they_were_or_as_they_are_now() {
    let name = draft(2).id;
    let table = "part,person,trial,value_mm\nP1,KW,1,0.5\n";
    let scatter = |um| Repeatability {
        dof: None,
        sigma: Length::from_um(um),
        from: format!("studies/{name}.csv"),
        taken: before().taken.date_naive(),
    };
    each_fault(
        |writer| {
            writer.save_study(&name, table)?;
            writer.save_repeatability(scatter(21)).map(|_settings| ())
        },
        |root, result| {
            let opened = sound(root);
            let found = fs::read_to_string(root.join(format!("studies/{name}.csv"))).ok();
            let whole = found.is_none() || found.as_deref() == Some(table);
            assert!(whole, "half a study: {found:?}");
            let settings = opened.yard.settings;
            assert_eq!(Settings { repeatability: None, ..settings.clone() }, yard(vec![]).settings);
            match settings.repeatability {
                Some(kept) => assert!(kept == scatter(21) && found.is_some()),
                None => assert!(result.is_err(), "reported as used, and it is not there"),
            }
        },
    );
}

#[test]
fn half_a_yard_is_no_yard_and_can_be_made_again() {
    let whole = yard(vec![before(), draft(4)]);
    for fault in [Fault::Dies, Fault::DiesAfter] {
        for at in 0.. {
            let dir = tempfile::tempdir().unwrap();
            let medium = Failing::new(fault, at);
            let result = Writer::new(&medium, dir.path()).create_yard(&whole);
            match store::open(dir.path()) {
                Ok(opened) => assert_eq!(opened.yard, whole),
                Err(err) => {
                    assert!(result.is_err() && err.to_string().contains("holds no yard.ron"));
                    store::create_yard(dir.path(), &whole).unwrap();
                    assert_eq!(sound(dir.path()).yard, whole);
                }
            }
            assert_eq!(result.is_ok(), medium.failed().is_none());
            if result.is_ok() {
                break;
            }
        }
    }
}

#[test]
fn a_full_disk_is_said_with_what_to_do() {
    let dir = started();
    let medium = Failing::new(Fault::Refuses, 1);
    let refusal = Writer::new(&medium, dir.path()).sign(&draft(4)).unwrap_err().to_string();
    let refusal = refusal.replace(&format!("{}/", dir.path().display()), "");
    assert_eq!(
        refusal,
        "shears/heron/sessions/2026-03-14T0905Z-7f3a.ron: not saved: the disk is full, \
         nothing on disk was changed; free some space and save again"
    );
}

/// A name must be safe before success is said, and a session before its draft goes.
#[test]
fn operations_come_in_the_order_that_survives_a_power_cut() {
    #[track_caller]
    fn check(
        act: impl Fn(&Writer<'_, Failing>) -> Result<(), StoreError>,
        expected: &[&'static str],
    ) {
        let dir = started();
        let medium = Failing::new(Fault::Refuses, usize::MAX);
        act(&Writer::new(&medium, dir.path())).unwrap();
        assert_eq!(*medium.done.borrow(), expected);
    }
    let kept = ["create_dirs", "stage", "replace", "sync_dir"];
    check(
        |writer| writer.sign(&draft(4)),
        &["create_dirs", "stage", "publish", "sync_dir", "lock", "remove"],
    );
    check(|writer| writer.save_draft(&draft(3)), &kept);
    let merged = [&["lock"], &kept[..]].concat();
    check(|writer| writer.merge_draft(None, &draft(3)).map(|_kept| ()), &merged);
    // What stands there now goes to the backups first.
    let settings = Settings { name: "Lower quay".into(), ..yard(vec![]).settings };
    let edited = [&["lock"], &kept[..], &kept[..]].concat();
    check(|writer| writer.save_settings(&settings), &edited);
    check(|writer| writer.save_study(&draft(2).id, "part\n"), &kept);
    check(|writer| writer.discard_draft(&draft(2)), &["lock", "remove", "sync_dir"]);
}
