//! The Setup screen: from an empty disk to a job sheet, and what a change of numbers does.

use crate::desk::{Desk, now};
use chrono::DateTime;
use egui::{Theme, accesskit::Role};
use egui_kittest::{
    SnapshotResults,
    kittest::{NodeT as _, Queryable as _},
};
use gapwright::{
    brief::{
        service,
        setup::{tell, whose},
    },
    domain::{
        decide::{MachineDecision, ServiceTask, ServiceTime, decide, service},
        log::Session,
        machine::{LineId, OwnIntervals, Shear, ShearId},
        quantity::{Hours, Length, LengthUnit},
        setup::{
            Change, Draft, Field, OfBlade, OfHeat, OfLimits, OfLine, OfMachine, OfStation, OfYard,
        },
        yard::{Intervals, Machine, Settings, Yard},
    },
    language::{self, Language},
    sample, store,
    workbench::{Command, Screen, Setup, SetupDesk, SetupPage},
};

const USUAL: [f32; 2] = [1280.0, 800.0];

fn empty() -> Yard {
    Yard { settings: Settings::usual("Quay yard".to_owned()), machines: Vec::new() }
}

fn at(desk: &Desk) -> &SetupDesk {
    desk.window.state().bench().setup().unwrap()
}

fn put(desk: &mut Desk, field: Field, text: &str) {
    desk.act(Command::Setup(Setup::Change(Change::Put(field, text.to_owned()))));
}

fn page(desk: &mut Desk, page: SetupPage) {
    desk.act(Command::Go(Screen::Setup));
    desk.act(Command::Setup(Setup::Page(page)));
}

#[test]
fn the_screen_looks_as_accepted() {
    let mut results = SnapshotResults::new();
    for (name, size, theme, on) in [
        ("setup-lines-1024", [1024.0, 768.0], Theme::Light, SetupPage::Lines),
        ("setup-lines-dark", USUAL, Theme::Dark, SetupPage::Lines),
        ("setup-lines-light", [1600.0, 1000.0], Theme::Light, SetupPage::Lines),
        ("setup-limits-light", USUAL, Theme::Light, SetupPage::Limits),
        ("setup-limits-dark", [1024.0, 768.0], Theme::Dark, SetupPage::Limits),
        ("setup-blades-dark", [1600.0, 1000.0], Theme::Dark, SetupPage::Blades),
        ("setup-start-light", USUAL, Theme::Light, SetupPage::Start),
    ] {
        let mut desk = Desk::open(size, theme);
        desk.act(Command::ChooseMachine(ShearId::new("heron").unwrap()));
        page(&mut desk, on);
        if on == SetupPage::Limits {
            put(&mut desk, Field::Limit(LineId::P, OfLimits::WorkingMax), "0.5");
            desk.act(Command::Setup(Setup::Ask(Field::Limit(LineId::P, OfLimits::WorkingMax))));
        }
        desk.names_are_unique();
        desk.window.snapshot(name);
        results.extend_harness(&mut desk.window);
    }
}

/// The whole story in the window: a folder that is not there, a machine of one's own, a signed
/// session, and its sheet.
#[test]
fn from_an_empty_disk_to_a_job_sheet() {
    let dir = tempfile::tempdir().unwrap();
    let folder = dir.path().join("quay");
    let mut desk = Desk::with(&empty(), USUAL, Theme::Light);
    desk.tap("Set up a machine");
    desk.fill("name of the new yard", "Quay yard");
    desk.fill("folder of the new yard", &folder.display().to_string());
    desk.tap("Make the yard");
    desk.until(|desk| desk.window.state().root() == folder);
    desk.tap("Set up a machine");
    desk.tap("A middle jaw");
    assert!(at(&desk).is_new() && !at(&desk).can_save(), "it has no name yet");
    desk.fill("machine: name", "Old Crane");
    desk.tap("Save");
    let crane = ShearId::new("old-crane").unwrap();
    assert_eq!(desk.window.state().bench().machine().unwrap().shear.id, crane);
    assert!(!at(&desk).is_changed() && !at(&desk).is_new());
    let on_disk = store::open(&folder).unwrap();
    assert_eq!(on_disk.issues, []);
    assert_eq!(on_disk.yard.machine(&crane).unwrap().shear.name, "Old Crane");

    desk.act(Command::Go(Screen::Measure));
    desk.act(Command::PositionReached);
    for text in ["0.40", "0.45"] {
        desk.act(Command::Type(text.to_owned()));
        desk.act(Command::Confirm);
    }
    desk.act(Command::TypeInitials("AB".to_owned()));
    desk.act(Command::TypeMeter("12".to_owned()));
    desk.act(Command::SignOff);
    let signed = store::open(&folder).unwrap().yard.machine(&crane).unwrap().sessions.clone();
    assert_eq!(signed.iter().map(|it: &Session| it.readings.len()).collect::<Vec<_>>(), [1]);
    assert!(DateTime::UNIX_EPOCH < now());
    desk.act(Command::MakeSheet);
    let sheets = std::fs::read_dir(folder.join("sheets")).unwrap();
    assert_eq!(sheets.count(), 1);
}

#[test]
fn what_does_not_hold_together_is_named_at_its_field_and_nothing_is_saved() {
    let mut desk = Desk::open(USUAL, Theme::Light);
    page(&mut desk, SetupPage::Limits);
    let limit = |of| Field::Limit(LineId::P, of);
    for (of, text, said) in [
        (OfLimits::SetMin, "o.3", "“o.3” is not a number"),
        (OfLimits::SetMin, "-0.3", "“-0.3” is negative"),
        (OfLimits::SetMax, "0.2", "a minimum stands above its maximum"),
        (OfLimits::SetMax, "1.3", "the set range is not inside the working limits"),
        (OfLimits::WorkingMax, "1.7", "the working limits are not inside the stop limits"),
    ] {
        put(&mut desk, limit(of), text);
        assert_eq!(at(&desk).fault(&limit(of)).map(ToString::to_string).as_deref(), Some(said));
        assert_eq!(at(&desk).text(&limit(of)), text, "what was typed stays");
        assert!(!at(&desk).can_save());
        desk.act(Command::Setup(Setup::Save));
        desk.act(Command::Setup(Setup::Undo));
        assert!(!at(&desk).is_changed(), "{text}");
    }
    let heron = ShearId::new("heron").unwrap();
    let yard = sample::yard(1, sample::SHEARS, sample::SESSIONS, now());
    assert_eq!(desk.on_disk().machine(&heron).unwrap().shear, yard.machine(&heron).unwrap().shear);
}

#[test]
fn a_draft_is_taken_back_step_by_step_and_a_word_is_one_step() {
    let mut desk = Desk::open(USUAL, Theme::Light);
    page(&mut desk, SetupPage::Machine);
    let before = at(&desk).draft().clone();
    let name = Field::Machine(OfMachine::Name);
    for text in ["H", "He", "Her"] {
        put(&mut desk, name.clone(), text);
    }
    desk.act(Command::Setup(Setup::Change(Change::AddStation(LineId::P))));
    let p1 = "P1".parse().unwrap();
    for mm in [150, 140, 130] {
        let to = Length::from_um(mm * 1_000);
        desk.act(Command::Setup(Setup::Change(Change::Move(p1, to))));
    }
    let moved = Field::Station(p1, OfStation::FromPivot);
    assert_eq!(at(&desk).text(&moved), "130");
    desk.act(Command::Setup(Setup::Undo));
    assert_ne!(at(&desk).text(&moved), "130", "the whole drag");
    desk.act(Command::Setup(Setup::Undo));
    assert_eq!(at(&desk).text(&name), "Her");
    desk.act(Command::Setup(Setup::Undo));
    assert_eq!(*at(&desk).draft(), before);
    assert!(!at(&desk).can_undo());
    for _ in 0..3 {
        desk.act(Command::Setup(Setup::Redo));
    }
    assert_eq!(at(&desk).text(&moved), "130");
}

#[test]
fn a_tighter_limit_says_which_verdicts_change_before_it_is_saved_and_keeps_the_former_file() {
    let mut desk = Desk::open(USUAL, Theme::Light);
    desk.act(Command::ChooseMachine(ShearId::new("heron").unwrap()));
    page(&mut desk, SetupPage::Limits);
    put(&mut desk, Field::Limit(LineId::P, OfLimits::WorkingMax), "0.5");
    desk.window.get_by_label_contains("stations change verdict");
    let before = desk.machine("heron").1;
    desk.tap("Save");
    let (machine, after) = desk.machine("heron");
    let limits = &machine.shear.line(LineId::P).unwrap().limits;
    assert_eq!(limits.working().max, Length::from_um(500));
    let verdicts = |of: &MachineDecision| -> Vec<_> {
        let stations = &of.line(LineId::P).unwrap().stations;
        stations.iter().map(|it| it.verdict.unwrap().kind()).collect()
    };
    assert_ne!(verdicts(&before), verdicts(&after));
    let decided = desk.window.state().decisions().iter().find(|it| it.shear == machine.shear.id);
    assert_eq!(verdicts(decided.unwrap()), verdicts(&after), "the window decided anew");
    let kept = std::fs::read_dir(desk.root().join("shears/heron/backups")).unwrap().count();
    assert_eq!(kept, 1, "the former file");
    let here = ShearId::new("heron").unwrap();
    assert_eq!(desk.on_disk().machine(&here).unwrap().shear, machine.shear);
}

#[test]
fn a_text_is_read_as_strictly_as_a_file() {
    let mut desk = Desk::open(USUAL, Theme::Light);
    page(&mut desk, SetupPage::Text);
    let shear = at(&desk).draft().shear.clone().unwrap();
    let text = store::shear_text(&shear).unwrap();
    desk.act(Command::Setup(Setup::TypeText(text.replacen("reach_mm", "rich_mm", 1))));
    desk.act(Command::Setup(Setup::TakeText));
    let fault = at(&desk).text_fault.clone().unwrap();
    assert!(fault.contains("“rich_mm” is no field") && fault.contains(":6:"), "{fault}");
    assert!(!at(&desk).is_changed());
    let renamed = text.replacen(&format!("name: \"{}\"", shear.name), "name: \"Crane\"", 1);
    desk.act(Command::Setup(Setup::TypeText(renamed)));
    desk.act(Command::Setup(Setup::TakeText));
    assert_eq!(at(&desk).text(&Field::Machine(OfMachine::Name)), "Crane");
    assert_eq!(at(&desk).text, None, "the text is that of the draft again");
    assert!(at(&desk).can_save());
}

/// A drag on the drawing, by a real pointer.
#[test]
fn a_station_is_dragged_along_the_jaw() {
    let mut desk = Desk::open([1600.0, 1000.0], Theme::Light);
    page(&mut desk, SetupPage::Lines);
    let field = Field::Station("J1".parse().unwrap(), OfStation::FromPivot);
    let before: u32 = at(&desk).text(&field).parse().unwrap();
    let chips = desk.window.get_all_by_role(Role::RadioButton);
    let named =
        |node: &egui_kittest::Node<'_>| node.accesskit_node().label().unwrap().starts_with("J1, ");
    let rect = chips.into_iter().find(named).unwrap().rect();
    // The dot stands above the chip, in the gap.
    let steps: Vec<f32> = (0..30_u8).map(|up| rect.top() - 4.0 * f32::from(up)).collect();
    let mut moved = false;
    for y in steps {
        let from = egui::pos2(rect.center().x, y);
        desk.window.drag_at(from);
        desk.window.run();
        desk.window.hover_at(from + egui::vec2(30.0, 0.0));
        desk.window.run();
        desk.window.drop_at(from + egui::vec2(30.0, 0.0));
        desk.window.run();
        if at(&desk).text(&field).parse::<u32>().unwrap() != before {
            moved = true;
            break;
        }
    }
    assert!(moved, "nothing was held");
    assert!(before < at(&desk).text(&field).parse().unwrap());
    desk.act(Command::Setup(Setup::Undo));
    assert_eq!(at(&desk).text(&field).parse::<u32>().unwrap(), before);
}

/// A crew that measures in inches reads and types them in every length of a description, and the
/// file keeps what it had to the last digit where nobody typed anything.
#[test]
fn lengths_are_read_and_typed_in_inches_and_none_drifts() {
    let mut desk = Desk::open(USUAL, Theme::Light);
    desk.act(Command::ChooseMachine(ShearId::new("heron").unwrap()));
    page(&mut desk, SetupPage::Limits);
    let p = |of| Field::Limit(LineId::P, of);
    let mm: Vec<(Field, String)> = at(&desk)
        .draft()
        .fields()
        .into_iter()
        .map(|it| (it.clone(), at(&desk).text(&it).into()))
        .collect();
    desk.act(Command::SetUnit(LengthUnit::Inch));
    assert!(!at(&desk).is_changed(), "another unit is no change");
    // Left as it stands, typed again, typed with a comma: the file's own number each time.
    for (field, _) in &mm {
        for typed in [at(&desk).text(field).to_owned(), at(&desk).text(field).replace('.', ",")] {
            if at(&desk).draft().is_length(field) {
                put(&mut desk, field.clone(), &typed);
                assert!(!at(&desk).is_changed(), "{field:?}: {typed}");
            }
        }
    }
    desk.window.get_by_label("line P: set from");
    put(&mut desk, p(OfLimits::SetMin), "0.0125");
    put(&mut desk, p(OfLimits::SetMax), "18 thou");
    let limits = &at(&desk).draft().limits[&LineId::P];
    assert_eq!([limits.set.min.nm(), limits.set.max.nm()], [317_500, 457_200]);
    assert_eq!(at(&desk).text(&p(OfLimits::SetMin)), "0.0125");
    put(&mut desk, p(OfLimits::SetMax), "-0,018");
    let fault = at(&desk).fault(&p(OfLimits::SetMax)).map(ToString::to_string);
    assert_eq!(fault.as_deref(), Some("“-0,018” is negative"));
    desk.act(Command::Setup(Setup::Undo));
    desk.act(Command::Setup(Setup::Undo));
    assert_eq!(at(&desk).text(&p(OfLimits::SetMin)), "0.0118");
    assert!(!at(&desk).is_changed(), "taken back to the last digit");
    // Back in millimetres nothing has moved either.
    desk.act(Command::SetUnit(LengthUnit::Millimetre));
    for (field, text) in mm {
        assert_eq!(at(&desk).text(&field), text, "{field:?}");
    }
}

/// The choice of the unit is part of the yard, and the next window begins with it.
#[test]
fn a_yard_remembers_that_it_reads_inches() {
    let mut desk = Desk::open(USUAL, Theme::Light);
    page(&mut desk, SetupPage::Service);
    put(&mut desk, Field::Yard(OfYard::Unit), "inches");
    assert_eq!(at(&desk).unit(), LengthUnit::Millimetre, "not before it is saved");
    desk.tap("Save");
    assert_eq!(at(&desk).unit(), LengthUnit::Inch);
    assert_eq!(desk.on_disk().settings.unit, LengthUnit::Inch);
}

/// In German the fields show the comma that is typed there, and words keep their points.
#[test]
fn fields_show_the_decimal_comma_of_the_language() {
    language::speak(Language::German);
    let mut desk = Desk::open(USUAL, Theme::Light);
    desk.act(Command::ChooseMachine(ShearId::new("heron").unwrap()));
    page(&mut desk, SetupPage::Blades);
    let thickest = at(&desk).blade.clone().map(|it| Field::Blade(it, OfBlade::Thickest)).unwrap();
    put(&mut desk, thickest, "2.5");
    let values: Vec<String> = desk
        .window
        .get_all_by_role(Role::TextInput)
        .filter_map(|node| node.accesskit_node().value())
        .collect();
    language::speak(Language::English);
    assert!(values.contains(&"2,5".to_owned()), "{values:?}");
    assert!(values.contains(&"10.9".to_owned()), "a strength class is a word: {values:?}");
}

#[test]
fn a_field_is_told_in_millimetres_or_inches_where_it_holds_a_length_and_nowhere_else() {
    let settings = Settings::usual("Quay".to_owned());
    for template in sample::templates() {
        let draft = Draft::of(&settings, Some(&template.shear));
        for field in draft.texts(LengthUnit::Inch).into_keys() {
            let units = [LengthUnit::Millimetre, LengthUnit::Inch].map(|it| tell(&field, it).unit);
            assert_eq!(draft.is_length(&field), units == ["mm", "in"], "{field:?}: {units:?}");
        }
    }
}

/// A machine that is greased more often than the others: written in its own file, shown with whose
/// hours they are, and followed by everything that reminds of it.
#[test]
fn a_machine_may_have_intervals_of_its_own() {
    let mut desk = Desk::open(USUAL, Theme::Light);
    let heron = ShearId::new("heron").unwrap();
    desk.act(Command::ChooseMachine(heron.clone()));
    page(&mut desk, SetupPage::Service);
    let [look, grease] = [OfMachine::Look, OfMachine::Lubricate].map(Field::Machine);
    let whose = |desk: &Desk, field: &Field| whose(field, at(desk).draft()).unwrap();
    assert_eq!(whose(&desk, &look), "8 h, from the yard");
    put(&mut desk, look.clone(), "1,5");
    put(&mut desk, grease.clone(), "12");
    assert_eq!(whose(&desk, &grease), "of this machine");
    desk.tap("Save");
    let (machine, _) = desk.machine("heron");
    let on_disk = desk.on_disk();
    assert_eq!(on_disk.machine(&heron).unwrap().shear.intervals, machine.shear.intervals);
    assert_eq!(on_disk.settings.intervals, Intervals::USUAL, "the yard keeps its own");
    let yard = desk.window.state().bench().yard();
    let due = |machine: &Machine, settings: &Settings| {
        let items = service(machine, settings, now());
        let grease = items.iter().find(|it| matches!(it.task, ServiceTask::Lubricate(_))).unwrap();
        grease.time
    };
    let ServiceTime::In(own) = due(&machine, &yard.settings) else { panic!("it was greased") };
    let shear = Shear { intervals: OwnIntervals::default(), ..machine.shear.clone() };
    let plain = Machine::new(shear, machine.sessions.clone());
    let ServiceTime::In(of_yard) = due(&plain, &yard.settings) else { panic!("it was greased") };
    assert_eq!(of_yard - own, Hours::from_whole(40 - 12));
    let told =
        service::tell(&service(&machine, &yard.settings, now()), &machine.shear, &yard.settings);
    let why = |task: &str| told.iter().find(|it| it.task == task).unwrap().why.clone();
    let why = why("Lubricate").replace('\u{a0}', " ");
    assert!(
        why.ends_with(
            "Every 12 h of work. Written for this machine alone; its manual comes first."
        ),
        "{why}"
    );
    // What Decide and Yard say of the next look.
    let decided = decide(&machine, &yard.settings);
    assert_eq!(
        decide(&plain, &yard.settings).next_look - decided.next_look,
        Hours::from_thousandths(6_500)
    );
    let shown = desk.window.state().decisions().iter().find(|it| it.shear == heron).unwrap();
    assert_eq!(shown.next_look, decided.next_look);
    // Emptied again, the file is as it was before.
    page(&mut desk, SetupPage::Service);
    for field in [look, grease] {
        put(&mut desk, field, "");
    }
    desk.tap("Save");
    let text = std::fs::read_to_string(desk.root().join("shears/heron/shear.ron")).unwrap();
    assert!(!text.contains("intervals"), "{text}");
}

/// What no file takes is named where it is typed, not when it is saved.
#[test]
fn a_slip_of_the_hand_is_named_beside_its_field() {
    let mut desk = Desk::open(USUAL, Theme::Light);
    desk.act(Command::ChooseMachine(ShearId::new("heron").unwrap()));
    page(&mut desk, SetupPage::Machine);
    for (field, beyond) in [
        (Field::Machine(OfMachine::Reach), "100001"),
        (Field::Machine(OfMachine::Look), "10000001"),
        (Field::Line(LineId::P, OfLine::WarmFixed), "5001"),
        (Field::Heat(OfHeat::GuideCheek), "1000001"),
    ] {
        put(&mut desk, field.clone(), beyond);
        let said = at(&desk).fault(&field).map(ToString::to_string);
        assert_eq!(said, Some(format!("“{beyond}” is beyond what any machine has")));
        desk.act(Command::Setup(Setup::Undo));
    }
    assert!(!at(&desk).is_changed());
}

/// What a change does is told where it is typed, also where no verdict changes.
#[test]
fn a_change_of_hours_or_of_the_shelf_says_what_it_does() {
    let mut desk = Desk::open(USUAL, Theme::Light);
    desk.act(Command::ChooseMachine(ShearId::new("heron").unwrap()));
    page(&mut desk, SetupPage::Service);
    put(&mut desk, Field::Machine(OfMachine::Look), "4");
    assert!(desk.shows("Next look at"));
    desk.act(Command::Setup(Setup::Undo));
    put(&mut desk, Field::Yard(OfYard::Name), "Upper quay");
    assert!(desk.shows("No verdict, no action and no work changes."));
    // An empty shelf: whoever was to shim must order first.
    let rows = at(&desk).draft().settings.shelf.len();
    for row in (0..rows).rev() {
        desk.act(Command::Setup(Setup::Change(Change::DropShim(row))));
    }
    assert!(desk.shows("the same action, other work for it") || desk.shows("another action"));
    // A visit that is open follows the same numbers.
    desk.act(Command::Go(Screen::Measure));
    desk.act(Command::PositionReached);
    for text in ["0.40", "0.45"] {
        desk.act(Command::Type(text.to_owned()));
        desk.act(Command::Confirm);
    }
    desk.act(Command::Go(Screen::Setup));
    assert!(desk.shows("Readings of the visit that is open: 1."), "{:?}", desk.said());
    let at = desk.window.state().bench().visit().unwrap().session.readings[0].station;
    desk.act(Command::Setup(Setup::Change(Change::DropLine(at.line))));
    assert!(desk.shows("1 of them are at stations that go"));
}
