//! What was really done, before it is written down: which blade, which edge, how many shims, by
//! whom.
//!
//! Begins with the proposal. Knows the form; what is written is asked under it.

use crate::{
    brief::done,
    domain::{
        decide::{LineDecision, may_be_meant, may_come_out, tightened_after, to_other_blade},
        log::Work,
        machine::{BladeId, Line, LineId, Shear},
        quantity::Length,
    },
    gui::{
        screens::decide::Scene,
        theme,
        widgets::{Step, Stepper, section, segmented, tick_row, touch},
    },
    language::tell,
};
use egui::{Align2, Id, Margin, Rect, RichText, Sense, TextEdit, Ui, UiBuilder, vec2};

/// Of one thickness nobody puts in more.
const MOST: usize = 20;
/// The least width of a tile: two buttons and a thickness between them.
const TILE: f32 = 134.0;
const GAP: f32 = 6.0;
/// The width of the field for initials.
const INITIALS: f32 = 92.0;

/// What was tapped so far.
#[derive(Clone, Debug)]
pub(super) struct Form {
    /// The machine and the line it was opened for, and how many sessions there were then.
    about: (String, usize),
    /// What moved the gap.
    moved: Vec<Work>,
    /// Whether the bolts were tightened to the torque in the machine's file.
    pub(super) tightened: bool,
    /// Whoever did it.
    pub(super) by: String,
}

fn page() -> Id {
    Id::unique("write work down")
}

/// What a form is about: a line of a machine, until another session is written.
pub(super) fn about(scene: &Scene<'_>, line: LineId) -> (String, usize) {
    let of = format!("{} {line}", scene.machine.shear.id);
    (of, scene.machine.sessions.len())
}

impl Form {
    /// The proposal.
    pub(super) fn new(scene: &Scene<'_>, decision: &LineDecision) -> Self {
        let mut moved = decision.as_work(&scene.machine.shear);
        moved.retain(Work::moves_gap);
        let by = scene.view.bench.likely_by().to_owned();
        Self { about: about(scene, decision.line), moved, tightened: true, by }
    }

    /// The form that is open for this job.
    pub(super) fn open(ui: &Ui, scene: &Scene<'_>, decision: &LineDecision) -> Option<Self> {
        let kept = ui.data(|data| data.get_temp::<Self>(page()))?;
        (kept.about == about(scene, decision.line)).then_some(kept)
    }

    /// Keeps it until the next frame.
    pub(super) fn keep(self, ui: &Ui) {
        ui.data_mut(|data| data.insert_temp(page(), self));
    }

    /// The form is done with.
    pub(super) fn close(ui: &Ui) {
        ui.data_mut(|data| data.remove::<Self>(page()));
    }

    /// What will be written; nothing if nothing was done.
    pub(super) fn work(&self, shear: &Shear, decision: &LineDecision) -> Vec<Work> {
        if self.moved.is_empty() {
            return decision.as_work(shear);
        }
        let mut work = self.moved.clone();
        work.retain(|it| match it {
            Work::Shims { put_in, take_out, .. } => !(put_in.is_empty() && take_out.is_empty()),
            _ => true,
        });
        let bolts = if self.tightened { tightened_after(shear, &work) } else { Vec::new() };
        work.into_iter().chain(bolts).collect()
    }
}

/// Shows the form.
pub(super) fn show(ui: &mut Ui, scene: &Scene<'_>, form: &mut Form, line: &Line) {
    let shear = &scene.machine.shear;
    ui.spacing_mut().item_spacing.y = 4.0;
    which_blade(ui, scene, form, line);
    let alone = form.moved.len() == 1;
    for place in 0..form.moved.len() {
        let out = may_come_out(&scene.machine.history, &form.moved, place);
        let Some(work) = form.moved.get_mut(place) else { continue };
        let at = if alone { String::new() } else { done::place(work, shear) };
        match work {
            Work::Shims { put_in, take_out, .. } => {
                shims(ui, scene, (tell!("Put in"), &at), put_in, None);
                shims(ui, scene, (tell!("Taken out"), &at), take_out, Some(&out));
            }
            Work::Turned { blade, edge, pack } => {
                which_edge(ui, scene, blade, edge);
                behind(ui, scene, blade, pack);
            }
            Work::Replaced { blade, pack } => behind(ui, scene, blade, pack),
            _ => {}
        }
    }
    if let Some(words) = done::tightened(&tightened_after(shear, &form.moved), shear) {
        tightened(ui, &words, &mut form.tightened);
    }
    who(ui, scene, &mut form.by);
}

/// Whether the bolts were tightened as well.
pub(super) fn tightened(ui: &mut Ui, words: &str, on: &mut bool) {
    *on ^= tick_row(ui, &crate::brief::words::capital(words), *on);
}

/// Who did it: anybody's initials, or those of somebody who signed lately by one tap.
pub(super) fn who(ui: &mut Ui, scene: &Scene<'_>, by: &mut String) {
    let t = theme::tokens(ui);
    let likely = scene.view.bench.likely_by();
    let mut known = scene.view.bench.yard().signed_by();
    known.retain(|it| *it != likely);
    known.insert(0, likely);
    known.retain(|it| !it.is_empty());
    known.truncate(4);
    ui.horizontal(|ui| {
        let id = Id::unique("who did the work");
        let caption = ui.cursor().min + vec2(11.0, 4.0);
        let edit = TextEdit::singleline(by)
            .id(id)
            .font(theme::value())
            .text_color(t.ink)
            .hint_text(tell!("initials"))
            .margin(Margin { left: 10, right: 10, top: 15, bottom: 3 })
            .align(Align2::LEFT_CENTER)
            .min_size(vec2(INITIALS, theme::TOUCH))
            .desired_width(INITIALS);
        ui.name_inputs(tell!("initials of whoever did it"), |ui| ui.add(edit));
        ui.ctx().accesskit_node_builder(id, |node| {
            node.set_label(tell!("initials of whoever did it"));
        });
        let words = tell!("done by");
        ui.painter().text(caption, Align2::LEFT_TOP, words, theme::caption(), t.ink2);
        if known.is_empty() {
            return;
        }
        // Initials that nobody has signed with are none of the parts.
        let on = known.iter().position(|it| it == by).unwrap_or(known.len());
        let tapped = segmented(ui, tell!("done by"), &known, on);
        if let Some(tapped) = tapped.and_then(|it| known.get(it)) {
            (*tapped).clone_into(by);
        }
    });
}

/// A title and a switch on one line.
fn choice(ui: &mut Ui, title: &str, (name, parts): (&str, &[&str]), on: usize) -> Option<usize> {
    let t = theme::tokens(ui);
    ui.horizontal(|ui| {
        ui.label(RichText::new(title).font(theme::body_bold()).color(t.ink));
        ui.add_space(4.0);
        segmented(ui, name, parts, on)
    })
    .inner
}

/// Where the work may have been done to either blade of the line.
fn which_blade(ui: &mut Ui, scene: &Scene<'_>, form: &mut Form, line: &Line) {
    let Some(first) = form.moved.first() else { return };
    let (shear, history) = (&scene.machine.shear, &scene.machine.history);
    let meant = may_be_meant(shear, line, first);
    let here = meant.iter().position(|it| Some(*it) == first.blade());
    let (Some(here), true) = (here, 1 < meant.len()) else { return };
    let words = [tell!("fixed"), tell!("moving")];
    let tapped = choice(ui, tell!("Which blade"), (tell!("blade"), &words), here);
    let Some(blade) = tapped.and_then(|it| meant.get(it)) else { return };
    if first.blade() != Some(*blade) {
        form.moved = vec![to_other_blade(shear, history, first, blade)];
    }
}

fn which_edge(ui: &mut Ui, scene: &Scene<'_>, blade: &BladeId, edge: &mut u8) {
    let (shear, history) = (&scene.machine.shear, &scene.machine.history);
    let was = history.blades.get(blade).map(|it| it.edge);
    let edges = 1..=shear.blade(blade).map_or(1, |it| it.edges);
    let edges: Vec<u8> = edges.filter(|it| Some(*it) != was).collect();
    let words: Vec<String> = edges.iter().map(ToString::to_string).collect();
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    let on = edges.iter().position(|it| it == edge).unwrap_or(0);
    let tapped = choice(ui, tell!("Turned to edge"), (tell!("edge"), &words), on);
    if let Some(it) = tapped.and_then(|it| edges.get(it)) {
        *edge = *it;
    }
}

/// The whole pack behind a fresh edge.
fn behind(ui: &mut Ui, scene: &Scene<'_>, blade: &BladeId, pack: &mut Vec<Length>) {
    if scene.machine.shear.blade(blade).is_some_and(|it| it.pack.is_some()) {
        shims(ui, scene, (tell!("Shims behind it now"), ""), pack, None);
        pack.sort_by(|a, b| b.cmp(a));
    }
}

/// A tile for each thickness: those on the shelf, or where shims come out, those in the pack.
fn shims(
    ui: &mut Ui,
    scene: &Scene<'_>,
    (title, at): (&str, &str),
    list: &mut Vec<Length>,
    pack: Option<&[Length]>,
) {
    let n = scene.view.numbers;
    let shelf = &scene.view.bench.yard().settings.shelf;
    let mut thick: Vec<Length> = match pack {
        Some(pack) => pack.to_vec(),
        None => shelf.iter().map(|it| it.thickness).collect(),
    };
    thick.extend(list.iter());
    thick.sort();
    thick.dedup();
    if thick.is_empty() {
        return;
    }
    let title = if at.is_empty() { title.to_owned() } else { format!("{title}, {at}") };
    section(ui, &title, n.unit_name());
    let width = ui.available_width();
    let columns = touch::columns(width, TILE, GAP, 3);
    let tile = (width - GAP * (columns - 1) as f32) / columns as f32;
    for row in thick.chunks(columns) {
        let (rect, _) = ui.allocate_exact_size(vec2(width, theme::TOUCH), Sense::hover());
        for (column, shim) in row.iter().enumerate() {
            let left = rect.min + vec2(column as f32 * (tile + GAP), 0.0);
            let cell = Rect::from_min_size(left, vec2(tile, theme::TOUCH));
            let mut ui = ui.new_child(UiBuilder::new().max_rect(cell).id_salt((&title, shim.nm())));
            let count = list.iter().filter(|it| *it == shim).count();
            let there = pack.map(|pack| pack.iter().filter(|it| *it == shim).count());
            let value = match there {
                Some(there) => tell!("{count} of {there}", count, there),
                None => count.to_string(),
            };
            let thickness = n.length(*shim);
            let less = tell!("{title} {thickness}: one less", title, thickness);
            let more = tell!("{title} {thickness}: one more", title, thickness);
            let stepper = Stepper { value: &value, less: &less, more: &more };
            let last = list.iter().rposition(|it| it == shim);
            match (stepper.show_counting(&mut ui, &thickness), last) {
                (Some(Step::Less), Some(last)) => drop(list.remove(last)),
                (Some(Step::More), last) if count < there.unwrap_or(MOST) => {
                    list.insert(last.map_or(list.len(), |last| last + 1), *shim);
                }
                _ => {}
            }
        }
    }
}
