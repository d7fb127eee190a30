//! The real app on a copy of the sample yard, in a window that nobody sees.
//!
//! Knows how to open it, act in it, and take a picture; what is right is said by the tests.

use crate::picture;
use chrono::{DateTime, Offset as _, TimeDelta, TimeZone as _, Utc};
use egui::{Event, Key, Modifiers, Theme, UiBuilder, accesskit::Role};
use egui_kittest::{
    Harness,
    kittest::{NodeT as _, Queryable as _},
};
use gapwright::{
    brief::Numbers,
    domain::decide::{MachineDecision, decide},
    domain::{
        machine::ShearId,
        yard::{Machine, Yard},
    },
    gui::{App, Surroundings, theme},
    language, sample, store,
    workbench::Command,
};
use std::{fs, path::PathBuf, thread, time::Duration};
use tempfile::TempDir;

/// The window and the folder it works on.
pub(crate) struct Desk {
    pub(crate) window: Harness<'static, App>,
    folder: TempDir,
}

/// The afternoon on which the story of the sample yard ends.
fn end() -> DateTime<Utc> {
    Utc.with_ymd_and_hms(2026, 11, 24, 14, 40, 0).unwrap()
}

/// Half an hour later.
pub(crate) fn now() -> DateTime<Utc> {
    end() + TimeDelta::minutes(30)
}

impl Desk {
    /// The sample yard in a window of this size.
    pub(crate) fn open(size: [f32; 2], theme: Theme) -> Self {
        Self::with(&sample::yard(1, sample::SHEARS, sample::SESSIONS, end()), size, theme)
    }

    /// The same machines before anybody measured them.
    pub(crate) fn fresh(size: [f32; 2]) -> Self {
        let mut yard = sample::yard(1, sample::SHEARS, sample::SESSIONS, end());
        let machines = yard.machines.into_iter();
        yard.machines = machines.map(|it| Machine::new(it.shear, Vec::new())).collect();
        Self::with(&yard, size, Theme::Light)
    }

    /// Any yard in a window of this size.
    pub(crate) fn with(yard: &Yard, size: [f32; 2], theme: Theme) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let root = folder.path().join("yard");
        store::create_yard(&root, yard).unwrap();
        Self::on(folder, size, theme)
    }

    /// The window as it comes up on an empty disk: it opens on the sample yard inside the program.
    pub(crate) fn first_start(size: [f32; 2]) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let root = folder.path().join("yard");
        store::unpack(&root, sample::files()).unwrap();
        let around = Surroundings {
            clock: now,
            zone: Utc.fix(),
            tail: 7,
            look_every: None,
            patience: None,
            cache: None,
            desktop: language::spoken(),
        };
        let app = App::opening(root, around).unwrap();
        let mut desk = Self::showing(app, folder, size, Theme::Light);
        desk.until(|desk| !desk.window.state().is_glance());
        desk
    }

    /// Taps *Picture* and waits; the one file that is kept of it.
    pub(crate) fn kept_picture(&mut self) -> PathBuf {
        self.window.get_by_label("Picture").click();
        for _ in 0..600 {
            self.window.step();
            if 0 < self.window.query_all_by_label_contains("Picture saved").count() {
                break;
            }
            thread::sleep(Duration::from_millis(50));
        }
        let pictures = fs::read_dir(self.root().join("pictures")).unwrap();
        let mut files: Vec<_> = pictures.map(|it| it.unwrap().path()).collect();
        assert_eq!(files.len(), 1, "{files:?}");
        files.remove(0)
    }

    /// The window is gone, however that came; this is the next one on the same folder.
    pub(crate) fn again(self, size: [f32; 2], theme: Theme) -> Self {
        Self::on(self.folder, size, theme)
    }

    fn on(folder: TempDir, size: [f32; 2], theme: Theme) -> Self {
        let root = folder.path().join("yard");
        Self::called(root, folder, size, theme)
    }

    /// The sample yard for pictures: it says that it lies where it lies each time.
    pub(crate) fn pictured(size: [f32; 2], theme: Theme) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let yard = sample::yard(1, sample::SHEARS, sample::SESSIONS, end());
        store::create_yard(&folder.path().join("yard"), &yard).unwrap();
        Self::called(PathBuf::from("/yards/tidewater"), folder, size, theme)
    }

    fn called(root: PathBuf, folder: TempDir, size: [f32; 2], theme: Theme) -> Self {
        let opened = store::open(&folder.path().join("yard")).unwrap();
        let app = App::new(opened, root, now, Utc.fix(), 7);
        Self::showing(app, folder, size, theme)
    }

    fn showing(app: App, folder: TempDir, size: [f32; 2], theme: Theme) -> Self {
        let window = picture::builder(size, theme).build_ui_state(
            |ui, app: &mut App| {
                // The folder's name is another one each time. Its letters are drawn before all
                // others, so that none of them has another place among the glyphs each time, which
                // rounds a hue differently.
                let letters: String = (' '..='~').collect();
                let ink = theme::tokens(ui).ink;
                drop(ui.painter().layout_no_wrap(letters, theme::body_bold(), ink));
                // The harness leaves a margin that a window has not.
                let whole = ui.ctx().content_rect();
                app.draw(&mut ui.new_child(UiBuilder::new().max_rect(whole)));
            },
            app,
        );
        Self { window, folder }
    }

    /// Keeps how the window looks in this folder.
    pub(crate) fn look_in(&mut self, folder: &std::path::Path) {
        let opened = store::open(&self.root()).unwrap();
        let app = App::new(opened, self.root(), now, Utc.fix(), 7);
        *self.window.state_mut() = app.looking(Some(folder.to_owned()));
        self.window.run();
    }

    /// Asks for something as if a person had, and lets the window settle.
    pub(crate) fn act(&mut self, command: Command) {
        let ctx = self.window.ctx.clone();
        self.window.state_mut().act(&ctx, command);
        self.window.run();
    }

    /// The machine in this folder, and what to do with it.
    pub(crate) fn machine(&self, id: &str) -> (Machine, MachineDecision) {
        let yard = self.window.state().bench().yard();
        let machine = yard.machine(&ShearId::new(id).unwrap()).unwrap().clone();
        let decision = decide(&machine, &yard.settings);
        (machine, decision)
    }

    /// How numbers are written in the window.
    pub(crate) fn numbers(&self) -> Numbers {
        Numbers { unit: self.window.state().bench().unit(), ..Numbers::default() }
    }

    /// The yard as it stands on disk.
    pub(crate) fn on_disk(&self) -> Yard {
        let opened = store::open(&self.root()).unwrap();
        assert_eq!(opened.issues, []);
        opened.yard
    }

    /// Where the yard lies that is open.
    pub(crate) fn root(&self) -> PathBuf {
        self.window.state().root().to_owned()
    }

    /// A place on the same disk, beside the yard that was open first.
    pub(crate) fn beside(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    /// Taps what a person would call `label`.
    pub(crate) fn tap(&mut self, label: &str) {
        self.window.get_by_label(label).click();
        self.window.run();
    }

    /// Presses one key.
    pub(crate) fn press(&mut self, key: Key) {
        self.window.key_press(key);
        self.window.run();
    }

    /// Presses a key while Ctrl is held.
    pub(crate) fn with_ctrl(&mut self, key: Key) {
        self.window.key_press_modifiers(Modifiers::COMMAND, key);
        self.window.run();
    }

    /// Types letter by letter into whatever has the keyboard.
    pub(crate) fn type_text(&mut self, text: &str) {
        for letter in text.chars() {
            self.window.event(Event::Text(letter.to_string()));
        }
        self.window.run();
    }

    /// Taps a field and types over what stands in it.
    pub(crate) fn fill(&mut self, label: &str, text: &str) {
        self.window.get_by_role_and_label(Role::TextInput, label).click();
        self.window.run();
        self.with_ctrl(Key::A);
        self.type_text(text);
    }

    /// Whether these words stand somewhere in the window.
    pub(crate) fn shows(&self, words: &str) -> bool {
        self.window.query_all_by_label_contains(words).next().is_some()
    }

    /// Lets the window live until something is so that is worked out beside its frames.
    pub(crate) fn until(&mut self, so: impl Fn(&Self) -> bool) {
        for _ in 0..500 {
            self.window.step();
            if so(self) {
                self.window.run();
                return;
            }
            thread::sleep(Duration::from_millis(10));
        }
        panic!("nothing came of it: {:#?}", self.said());
    }

    /// Everything that a screen reader finds in the window.
    pub(crate) fn said(&self) -> Vec<String> {
        let nodes = self.window.root().children_recursive();
        let nodes = nodes.map(|node| node.accesskit_node());
        nodes.flat_map(|node| [node.label(), node.value()]).flatten().collect()
    }

    /// Every thing that can be tapped has a name, and no two have the same.
    pub(crate) fn names_are_unique(&self) {
        let tappable = [Role::Button, Role::RadioButton, Role::CheckBox, Role::Tab];
        let mut seen = std::collections::BTreeSet::new();
        for node in self.window.root().children_recursive() {
            let node = node.accesskit_node();
            if tappable.contains(&node.role()) {
                let name = node.label().unwrap_or_default();
                assert!(!name.is_empty(), "a {:?} without a name", node.role());
                assert!(seen.insert(name.clone()), "two things are called “{name}”");
            }
        }
        assert!(5 < seen.len(), "{seen:?}");
    }
}
