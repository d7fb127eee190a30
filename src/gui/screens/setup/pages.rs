//! Which fields stand on which page, in groups, and what can be added or taken away there.
//!
//! Knows the shape of a description; does not know what a field means. Long because a field is sought
//! by its page, and all pages stand in one list.

use crate::{
    brief::{
        parts::{ADDED_UP, SHARED_SHELF},
        setup, words as said,
    },
    domain::{
        gauge::Usual,
        machine::{Blade, Body, LineId, Shear},
        quantity::LengthUnit,
        setup::{
            Change, Field, OfBlade, OfContact, OfHeat, OfJoint, OfLeaf, OfLimits, OfLine, OfLink,
            OfMachine, OfPart, OfSet, OfShelf, OfStation, OfYard,
        },
    },
    gui::{
        screens::setup::{cell, change, step},
        theme,
        widgets::{Button, paragraph, section, touch},
    },
    language::{self, tell},
    workbench::{Command, Setup, SetupDesk, SetupPage},
};
use chrono::{DateTime, Utc};
use egui::{Ui, vec2};

const SHORT: f32 = 78.0;
const NUMBER: f32 = 104.0;
const WORD: f32 = 132.0;
/// Room for whose hours they are.
const INTERVAL: f32 = 176.0;
const CHOICE: f32 = 186.0;
const TEXT: f32 = 212.0;
const LONG: f32 = 460.0;

/// Fields that belong together.
#[derive(Default)]
struct Group {
    title: String,
    note: &'static str,
    fields: Vec<(Field, f32)>,
    buttons: Vec<(String, Change)>,
}

impl Group {
    fn new(title: impl Into<String>) -> Self {
        Self { title: title.into(), ..Self::default() }
    }

    fn with(mut self, fields: impl IntoIterator<Item = (Field, f32)>) -> Self {
        self.fields.extend(fields);
        self
    }

    fn button(mut self, word: impl Into<String>, change: Change) -> Self {
        self.buttons.push((word.into(), change));
        self
    }
}

/// The page on which a field stands.
pub(super) const fn page_of(field: &Field) -> SetupPage {
    match field {
        Field::Shelf(..) => SetupPage::Shelf,
        Field::Set(..) | Field::Leaf(..) => SetupPage::Leaves,
        Field::Yard(_)
        | Field::Machine(
            OfMachine::Look | OfMachine::Lubricate | OfMachine::Retorque | OfMachine::BreakIn,
        ) => SetupPage::Service,
        Field::Machine(_) => SetupPage::Machine,
        Field::Limit(..) => SetupPage::Limits,
        Field::Blade(..) => SetupPage::Blades,
        Field::Link(..)
        | Field::Line(
            _,
            OfLine::WarmMoving | OfLine::WarmFixed | OfLine::WarmUpper | OfLine::WarmLower,
        ) => SetupPage::Expansion,
        Field::Position(_) | Field::Line(..) | Field::Station(..) => SetupPage::Lines,
        Field::Heat(_) | Field::Part(..) | Field::Joint(..) | Field::Contact(..) => SetupPage::Heat,
    }
}

/// Paints the page in front.
pub(super) fn show(ui: &mut Ui, desk: &SetupDesk, now: DateTime<Utc>, asked: &mut Vec<Command>) {
    let shear = desk.draft().shear.as_ref();
    if desk.page == SetupPage::Blades
        && let Some(shear) = shear
    {
        blades(ui, desk, shear, asked);
    }
    let groups = match (desk.page, shear) {
        (SetupPage::Machine, Some(_)) => machine(),
        (SetupPage::Lines, Some(shear)) => lines(shear),
        (SetupPage::Limits, Some(shear)) => limits(shear),
        (SetupPage::Blades, Some(shear)) => blade(desk, shear),
        (SetupPage::Expansion, Some(shear)) => expansion(shear, desk.unit()),
        (SetupPage::Heat, Some(shear)) => heat(shear),
        (SetupPage::Leaves, _) => leaves(desk, now),
        (SetupPage::Shelf, _) => shelf(desk),
        (SetupPage::Service, shear) => service(shear),
        _ => Vec::new(),
    };
    ui.spacing_mut().item_spacing = vec2(8.0, 6.0);
    for group in &groups {
        group_ui(ui, desk, group, asked);
    }
    ui.add_space(12.0);
}

fn group_ui(ui: &mut Ui, desk: &SetupDesk, group: &Group, asked: &mut Vec<Command>) {
    ui.add_space(6.0);
    if !group.title.is_empty() {
        section(ui, &group.title, "");
    }
    if !group.note.is_empty() {
        paragraph(ui, group.note);
    }
    // A row of a list has no title; what takes it away stands in it, if there is room.
    let a_row = group.title.is_empty() && !group.fields.is_empty();
    let in_the_row = a_row && row_width(ui, group) <= ui.available_width();
    if !group.fields.is_empty() {
        ui.horizontal_wrapped(|ui| {
            let room = ui.available_width();
            for (field, width) in group.fields.iter().filter(|(field, _)| desk.has(field)) {
                cell::show(ui, desk, field, width.min(room), asked);
            }
            if in_the_row {
                ui.vertical(|ui| {
                    ui.add_space(cell::CAPTION - ui.spacing().item_spacing.y);
                    buttons(ui, group, asked);
                });
            }
        });
    }
    let fields: Vec<Field> = group.fields.iter().map(|(field, _)| field.clone()).collect();
    cell::faults(ui, desk, &fields);
    if !in_the_row && !group.buttons.is_empty() {
        ui.horizontal_wrapped(|ui| buttons(ui, group, asked));
    }
}

/// What a row of a list and its buttons need.
fn row_width(ui: &Ui, group: &Group) -> f32 {
    let ink = egui::Color32::PLACEHOLDER;
    let word = |word: &String| {
        ui.painter().layout_no_wrap(word.clone(), theme::button(), ink).size().x + 36.0
    };
    let fields = group.fields.iter().map(|(_, width)| *width);
    fields.chain(group.buttons.iter().map(|(it, _)| word(it))).map(|it| it + 8.0).sum()
}

fn buttons(ui: &mut Ui, group: &Group, asked: &mut Vec<Command>) {
    for (word, asks) in &group.buttons {
        if Button::plain(word).show(ui).clicked() {
            asked.push(change(asks.clone()));
        }
    }
}

fn machine() -> Vec<Group> {
    use OfMachine::{Carrier, Cheek, JointStep, Mouth, Name, Pads, Pivot, Reach, UpperJaw};
    let of = |field, width| (Field::Machine(field), width);
    let size = [Reach, Mouth, Cheek, UpperJaw, Pivot, Pads].map(|it| of(it, WORD));
    vec![
        Group::new(tell!("Which machine")).with([of(Name, TEXT), of(Carrier, TEXT)]),
        Group {
            note: tell!("The drawing is to this scale. A steel rule is good enough."),
            ..Group::new(tell!("The lower jaw, from above")).with(size)
        },
        Group::new(tell!("Where the blades meet")).with([of(JointStep, WORD)]),
    ]
}

fn lines(shear: &Shear) -> Vec<Group> {
    let mut groups: Vec<Group> = shear
        .lines
        .iter()
        .map(|line| {
            let id = line.id;
            let cross = line.stations.iter().any(|it| it.across.is_some());
            let of = |field, width| (Field::Line(id, field), width);
            let stations = line.stations.iter().flat_map(|it| {
                let at = (Field::Station(it.id, OfStation::FromPivot), NUMBER);
                let across = (Field::Station(it.id, OfStation::Across), NUMBER);
                std::iter::once(at).chain(cross.then_some(across))
            });
            Group::new(tell!("Line {id}: {place}", id, place = language::known(&line.place)))
                .with([
                    of(OfLine::Place, TEXT),
                    of(OfLine::Moving, TEXT),
                    of(OfLine::Fixed, TEXT),
                    of(OfLine::Toward, WORD),
                    of(OfLine::Position, NUMBER),
                ])
                .with(stations)
                .button(
                    tell!("Add {id}{stations}", id, stations = line.stations.len() + 1),
                    Change::AddStation(id),
                )
                .button(
                    tell!("Drop {id}{stations}", id, stations = line.stations.len()),
                    Change::DropStation(id),
                )
                .button(tell!("Drop line {id}", id), Change::DropLine(id))
        })
        .collect();
    groups.push(Group::new("").button(tell!("Add a line"), Change::AddLine));
    let positions = (0..shear.positions.len()).map(|place| (Field::Position(place), LONG));
    groups.push(Group {
        note: tell!(
            "A gap can be felt only where the two blades overlap. Stations are walked in this \
               order."
        ),
        ..Group::new(tell!("Jaw positions")).with(positions)
    });
    groups
}

fn limits(shear: &Shear) -> Vec<Group> {
    use OfLimits::{
        HotMin, SetMax, SetMin, Source, StopMax, StopMin, TaperMax, WorkingMax, WorkingMin,
    };
    let first = Group { note: language::told(said::MATCH_BY_PLACE), ..Group::default() };
    let of_line = |id: LineId| {
        let of = |field, width| (Field::Limit(id, field), width);
        let bands = [SetMin, SetMax, WorkingMin, WorkingMax, StopMin, StopMax, HotMin, TaperMax];
        bands.map(|it| of(it, NUMBER)).into_iter().chain([of(Source, LONG)])
    };
    let lines = shear.lines.iter();
    std::iter::once(first)
        .chain(lines.map(|line| {
            Group::new(tell!(
                "Line {id}: {place}",
                id = line.id,
                place = language::known(&line.place)
            ))
            .with(of_line(line.id))
        }))
        .collect()
}

/// Which blade is shown.
fn blades(ui: &mut Ui, desk: &SetupDesk, shear: &Shear, asked: &mut Vec<Command>) {
    ui.horizontal_wrapped(|ui| {
        for blade in &shear.blades {
            let on = desk.blade.as_ref() == Some(&blade.id);
            let shown = ui.selectable_label(on, language::known(&blade.name));
            touch::follow(ui, &shown, shown.rect);
            if shown.clicked() {
                asked.push(step(Setup::Blade(blade.id.clone())));
            }
        }
    });
}

fn blade(desk: &SetupDesk, shear: &Shear) -> Vec<Group> {
    let Some(Blade { id, name, bolts, pack, .. }) =
        desk.blade.as_ref().and_then(|id| shear.blade(id))
    else {
        return Vec::new();
    };
    let of = |field, width| (Field::Blade(id.clone(), field), width);
    use OfBlade::{
        BoltGrade, BoltSize, Bolts, Depth, EdgeRadiusMax, Edges, FaceAngle, Far, FirstTorque,
        HoursPerEdge, MostShims, Name, Near, Side, Step, Thickest, ThicknessMin, TipWearMax,
        Torque,
    };
    let shims = if pack.is_some() { tell!("It has no shims") } else { tell!("It has shims") };
    let screws = if bolts.is_some() { tell!("It has no bolts") } else { tell!("It has bolts") };
    vec![
        Group::new(said::capital(language::known(name)))
            .with([of(Name, TEXT), of(Side, WORD)])
            .with([Near, Far, Depth].map(|it| of(it, NUMBER)))
            .with([of(FaceAngle, NUMBER)]),
        Group::new(tell!("Its edges and how far it may wear")).with(
            [Edges, HoursPerEdge, EdgeRadiusMax, ThicknessMin, TipWearMax].map(|it| of(it, WORD)),
        ),
        Group::new(tell!("The pack behind it"))
            .with([MostShims, Thickest, Step].map(|it| of(it, WORD)))
            .button(shims, Change::TogglePack(id.clone())),
        Group::new(tell!("Its bolts"))
            .with([of(Bolts, TEXT)])
            .with([BoltSize, BoltGrade, FirstTorque, Torque].map(|it| of(it, NUMBER)))
            .button(screws, Change::ToggleBolts(id.clone())),
    ]
}

fn expansion(shear: &Shear, unit: LengthUnit) -> Vec<Group> {
    let first = Group {
        note: tell!(
            "Steel grows when it warms. What holds the parts opens the gap, what stands in it \
               closes it; both lengths must be the same, so that an evenly warm machine keeps its \
               gaps."
        ),
        ..Group::default()
    };
    let lines = shear.lines.iter().flat_map(|line| {
        let id = line.id;
        let warm = [OfLine::WarmMoving, OfLine::WarmFixed, OfLine::WarmUpper, OfLine::WarmLower];
        let links = (0..line.chain.0.len()).map(move |link| {
            let of = move |field, width| (Field::Link(id, link, field), width);
            Group::new("").with([
                of(OfLink::Name, CHOICE),
                of(OfLink::Length, SHORT),
                of(OfLink::Opens, NUMBER),
                of(OfLink::Material, SHORT),
                of(OfLink::Follows, WORD),
            ])
        });
        let [opens, closes] = [true, false].map(|opens| {
            let links = line.chain.0.iter().filter(|link| link.opens == opens);
            setup::length(links.map(|link| link.length).sum(), unit)
        });
        let title = tell!(
            "Line {id}: {place}: opens {opens}, closes {closes}",
            id,
            place = language::known(&line.place),
            opens,
            closes
        );
        let warm = Group::new(tell!("Line {id}, how warm after some hours", id))
            .with(warm.map(|it| (Field::Line(id, it), WORD)));
        let ends = Group::new("")
            .button(tell!("Add a link to {id}", id), Change::AddLink(id))
            .button(tell!("Drop the last link of {id}", id), Change::DropLink(id));
        [Group::new(title)].into_iter().chain(links).chain([ends, warm])
    });
    std::iter::once(first).chain(lines).collect()
}

fn heat(shear: &Shear) -> Vec<Group> {
    use OfHeat::{
        Air, Arm, Bore, CutAt, CutLength, Cuts, CuttingCheek, Friction, GuideCheek, Hours, Plate,
        Pressure, Rod, ShearStrength, SideShare, Source, WorkingShare,
    };
    let Some(thermal) = &shear.thermal else {
        return vec![Group {
            note: tell!(
                "Nothing about heat is written in this machine's file. It is measured and \
                   decided all the same; the Heat screen stays empty. Copy the block “thermal” \
                   from a machine like it on the page of texts."
            ),
            ..Group::default()
        }];
    };
    let all = |fields: &[OfHeat]| -> Vec<(Field, f32)> {
        fields.iter().map(|it| (Field::Heat(*it), WORD)).collect()
    };
    let mut groups = vec![
        Group::new("").with([(Field::Heat(Source), LONG)]),
        Group::new(tell!("The cylinder")).with(all(&[Bore, Rod, Pressure, Arm])),
        Group::new(tell!("A usual shift")).with(all(&[Hours, Cuts, WorkingShare, Air, Friction])),
        Group::new(tell!("What is usually cut")).with(all(&[
            Plate,
            ShearStrength,
            CutLength,
            CutAt,
        ])),
        Group::new(tell!("Sideways")).with(all(&[SideShare, CuttingCheek, GuideCheek])),
    ];
    let body = |body: &Body| match body {
        Body::Blade(id) => {
            shear.blade(id).map_or(id.0.clone(), |blade| language::known(&blade.name).to_owned())
        }
        Body::UpperJaw => tell!("upper jaw").to_owned(),
        Body::LowerJaw => tell!("lower jaw").to_owned(),
    };
    groups.extend(thermal.parts.iter().enumerate().map(|(place, part)| {
        let joints = thermal.joints.iter().enumerate();
        let joint = joints.filter(|(_, it)| it.one == part.body);
        let joint = joint.map(|(place, _)| (Field::Joint(place, OfJoint::Conductance), WORD));
        let of = [OfPart::Capacity, OfPart::ToAir].map(|it| (Field::Part(place, it), WORD));
        Group::new(said::capital(&body(&part.body))).with(of).with(joint)
    }));
    use OfContact::{Area, Conductivity, CutHeat, Diffusivity, Press, Slide, Stiffness, Thrust};
    groups.extend(thermal.contacts.iter().enumerate().map(|(place, contact)| {
        let all = [Thrust, Stiffness, CutHeat, Slide, Area, Press, Conductivity, Diffusivity];
        let place_of = shear.line(contact.line).map_or("", |line| language::known(&line.place));
        Group::new(tell!("Faces of line {line}: {place_of}", line = contact.line, place_of))
            .with(all.map(|it| (Field::Contact(place, it), WORD)))
    }));
    groups
}

fn leaves(desk: &SetupDesk, now: DateTime<Utc>) -> Vec<Group> {
    let mut groups: Vec<Group> = Vec::new();
    for (place, set) in desk.draft().sets.iter().enumerate() {
        let of = |field, width| (Field::Set(place, field), width);
        let noted = if set.calibration.is_some() {
            tell!("Nobody noted a calibration")
        } else {
            tell!("It was calibrated")
        };
        groups.push(
            Group::new(tell!("Leaf set {place}: {set}", place = place + 1, set = set.name))
                .with([of(OfSet::Name, TEXT), of(OfSet::Calibrated, WORD), of(OfSet::Due, WORD)])
                .button(
                    tell!("{noted}, set {place}", noted, place = place + 1),
                    Change::ToggleCalibration(place, now.date_naive()),
                )
                .button(tell!("Drop set {place}", place = place + 1), Change::DropSet(place)),
        );
        for leaf in 0..set.leaves.len() {
            let of = |field| (Field::Leaf(place, leaf, field), NUMBER);
            groups.push(
                Group::new("")
                    .with([of(OfLeaf::Thickness), of(OfLeaf::Tolerance), of(OfLeaf::Measured)])
                    .button(
                        tell!(
                            "Drop leaf {leaf} of set {place}",
                            leaf = leaf + 1,
                            place = place + 1
                        ),
                        Change::DropLeaf(place, leaf),
                    ),
            );
        }
        groups.push(
            Group::new("").button(
                tell!("Add a leaf to set {place}", place = place + 1),
                Change::AddLeaf(place),
            ),
        );
    }
    let usual = [(Usual::MetricTen, tell!("metric")), (Usual::InchTen, tell!("inch"))];
    let add = usual.into_iter().filter_map(|(usual, word)| {
        Some((tell!("Add a usual {word} set", word), Change::AddSet(Box::new(usual.set()?))))
    });
    groups.push(Group { buttons: add.collect(), ..Group::new("") });
    groups
}

fn shelf(desk: &SetupDesk) -> Vec<Group> {
    let first = Group {
        note: tell!("A recipe takes shims only from here. Count what is really there."),
        ..Group::default()
    };
    let rows = (0..desk.draft().settings.shelf.len()).map(|row| {
        Group::new("")
            .with([OfShelf::Thickness, OfShelf::Count].map(|of| (Field::Shelf(row, of), WORD)))
            .button(tell!("Drop shim {row}", row = row + 1), Change::DropShim(row))
    });
    let shared =
        [SHARED_SHELF, ADDED_UP].map(language::told).map(|note| Group { note, ..Group::default() });
    let add = Group::new("").button(tell!("Add a shim"), Change::AddShim);
    std::iter::once(first).chain(shared).chain(rows).chain([add]).collect()
}

fn service(shear: Option<&Shear>) -> Vec<Group> {
    let of = |field, width| (Field::Yard(field), width);
    let all = [OfYard::Look, OfYard::Lubricate, OfYard::Retorque, OfYard::BreakIn];
    let mut groups = vec![
        Group::new(tell!("The yard")).with([of(OfYard::Name, TEXT), of(OfYard::Unit, WORD)]),
        Group {
            note: language::told(setup::INTERVALS),
            ..Group::new(tell!("Hours of work, for every machine"))
                .with(all.map(|it| of(it, INTERVAL)))
        },
    ];
    if let Some(shear) = shear {
        use OfMachine::{BreakIn, Look, Lubricate, Retorque};
        let own = [Look, Lubricate, Retorque, BreakIn].map(|it| (Field::Machine(it), INTERVAL));
        groups.push(Group {
            note: tell!("What stays empty here is as often as for every machine of the yard."),
            ..Group::new(match shear.name.trim() {
                "" => tell!("Hours of work, for this machine alone").to_owned(),
                shear => tell!("Hours of work, for {shear} alone", shear),
            })
            .with(own)
        });
    }
    groups
}
