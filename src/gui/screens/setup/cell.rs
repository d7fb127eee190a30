//! One field: its caption with the unit, and the box it is typed or chosen in.
//!
//! Knows a text and whether something is wrong with it. Does not know what it means: a tap asks for
//! that, and the sentence stands at the side.

use crate::{
    brief::setup,
    domain::setup::{Change, Field},
    gui::{
        paint,
        screens::setup::{change, step},
        theme,
        widgets::{say, touch, warn},
    },
    language::{self, tell},
    workbench::{Command, Setup, SetupDesk},
};
use egui::{
    Align2, Color32, ComboBox, Frame, Id, Margin, Rect, Response, Sense, Stroke, StrokeKind,
    TextEdit, TextStyle, Ui, UiBuilder, pos2, vec2,
};

/// Height of what stands over the box.
pub(super) const CAPTION: f32 = 17.0;

/// What a list takes beside its choice: margins and the arrow.
const ARROW: f32 = 62.0;

/// The name by which a screen reader and a test find the box of a field.
pub(super) fn id(name: &str) -> Id {
    Id::unique(("setup field", name))
}

/// Paints one field `width` wide.
pub(super) fn show(
    ui: &mut Ui,
    desk: &SetupDesk,
    field: &Field,
    width: f32,
    asked: &mut Vec<Command>,
) {
    let t = theme::tokens(ui);
    let guide = setup::tell(field, desk.unit());
    let name = setup::name(field, desk.draft());
    let caption = match (guide.unit, field) {
        (_, Field::Position(place)) => format!("{}. {}", place + 1, guide.label),
        (_, Field::Station(id, crate::domain::setup::OfStation::FromPivot)) => {
            tell!("{id} at, {unit}", id, unit = guide.unit)
        }
        (_, Field::Station(id, crate::domain::setup::OfStation::Across)) => {
            tell!("{id} across, {unit}", id, unit = guide.unit)
        }
        ("", _) => guide.label.to_owned(),
        (unit, _) => format!("{}, {unit}", guide.label),
    };
    let choices = desk.draft().choices(field);
    let words = choices.iter().map(|it| setup::choice(field, it, desk.draft()));
    let width = width.max(natural(ui, &caption, words)).min(ui.max_rect().width());
    // The box takes the keyboard, not what lies around it.
    let (rect, ground) = ui.allocate_exact_size(vec2(width, CAPTION + theme::TOUCH), Sense::CLICK);
    let galley = paint::fitted(ui.painter(), caption, theme::caption(), t.ink2, width);
    paint::place(ui.painter(), rect.min + vec2(1.0, 1.0), Align2::LEFT_TOP, galley);
    let at = rect.with_min_y(rect.top() + CAPTION);
    let response = if choices.is_empty() {
        typed(ui, desk, field, (&name, at), asked)
    } else {
        chosen(ui, desk, field, (&name, at, &choices), asked)
    };
    let asks = response.gained_focus() || ground.clicked();
    if asks && desk.asked.as_ref() != Some(field) {
        asked.push(step(Setup::Ask(field.clone())));
    }
    if ground.clicked() {
        response.request_focus();
    }
}

/// What the caption and the longest choice need.
fn natural(ui: &Ui, caption: &str, choices: impl Iterator<Item = String>) -> f32 {
    let wide = |text: &str, font| {
        ui.painter().layout_no_wrap(text.to_owned(), font, Color32::PLACEHOLDER).size().x
    };
    let font = TextStyle::Button.resolve(ui.style());
    let choices = choices.map(|it| wide(&it, font.clone()) + ARROW);
    choices.fold(wide(caption, theme::caption()) + 2.0, f32::max)
}

fn typed(
    ui: &mut Ui,
    desk: &SetupDesk,
    field: &Field,
    (name, rect): (&str, Rect),
    asked: &mut Vec<Command>,
) -> Response {
    let t = theme::tokens(ui);
    let id = id(name);
    let wrong = desk.fault(field).is_some();
    // What could not be read stands as it was typed, and as its fault names it.
    let mut text = match desk.text(field) {
        typed if wrong => typed.to_owned(),
        read => setup::written(field, read),
    };
    let odd = setup::unusual(&setup::tell(field, desk.unit()), &text).is_some();
    let focused = ui.memory(|memory| memory.has_focus(id));
    let stroke = match (wrong, focused, odd) {
        (true, ..) => Stroke::new(2.5, t.stop),
        (_, true, _) => Stroke::new(theme::CHOSEN, t.accent),
        (_, _, true) => Stroke::new(1.5, t.watch),
        _ => Stroke::new(1.0, t.edge),
    };
    ui.painter().rect(rect, theme::RADIUS, t.field, stroke, StrokeKind::Inside);
    let room = rect.shrink2(vec2(9.0, 0.0));
    let edit = TextEdit::singleline(&mut text)
        .id(id)
        .font(theme::body_bold())
        .frame(Frame::NONE)
        .margin(Margin::ZERO)
        .align(egui::Align2::LEFT_CENTER)
        .text_color(t.ink)
        .hint_text(setup::whose(field, desk.draft()).unwrap_or_default())
        .min_size(room.size())
        .desired_width(room.width());
    let response = ui.name_inputs(name, |ui| ui.place(room, edit));
    ui.ctx().accesskit_node_builder(id, |node| node.set_label(name));
    if response.changed() {
        asked.push(change(Change::Put(field.clone(), text)));
    }
    touch::follow(ui, &response, rect);
    response
}

fn chosen(
    ui: &mut Ui,
    desk: &SetupDesk,
    field: &Field,
    (name, rect, choices): (&str, Rect, &[String]),
    asked: &mut Vec<Command>,
) -> Response {
    let now = desk.text(field).to_owned();
    let mut child = ui.new_child(UiBuilder::new().id_salt(name).max_rect(rect));
    let shown = ComboBox::from_id_salt(name)
        .selected_text(setup::choice(field, &now, desk.draft()))
        .width(rect.width() - 4.0)
        .truncate()
        .show_ui(&mut child, |ui| {
            for choice in choices {
                let word = setup::choice(field, choice, desk.draft());
                if ui.selectable_label(*choice == now, word).clicked() && *choice != now {
                    asked.push(change(Change::Put(field.clone(), choice.clone())));
                }
            }
        });
    ui.ctx().accesskit_node_builder(shown.response.id, |node| node.set_label(name));
    touch::follow(ui, &shown.response, rect);
    if desk.fault(field).is_some() {
        let t = theme::tokens(ui);
        let edge = Stroke::new(2.5, t.stop);
        ui.painter().rect_stroke(rect, theme::RADIUS, edge, StrokeKind::Inside);
    }
    if shown.response.clicked() && desk.asked.as_ref() != Some(field) {
        asked.push(step(Setup::Ask(field.clone())));
    }
    shown.response
}

/// What is wrong with fields of a group, in one line each under it.
pub(super) fn faults(ui: &mut Ui, desk: &SetupDesk, fields: &[Field]) {
    let t = theme::tokens(ui);
    for field in fields {
        let guide = setup::tell(field, desk.unit());
        let said = match (desk.fault(field), setup::unusual(&guide, desk.text(field))) {
            (Some(why), _) => Some((
                format!("{}: {}.", guide.label, language::understood(&why.to_string())),
                t.stop,
            )),
            (None, Some(odd)) => {
                let usual = setup::usual(&guide).unwrap_or_default();
                Some((format!("{}: {odd} {usual}", guide.label), t.watch))
            }
            (None, None) => None,
        };
        let Some((text, ink)) = said else { continue };
        let (font, width) = (theme::body(), ui.available_width());
        let galley = ui.painter().layout(text.clone(), font, ink, width);
        let (rect, _) = ui.allocate_exact_size(vec2(width, galley.size().y), Sense::hover());
        ui.painter().galley(pos2(rect.left(), rect.top()), galley, ink);
        let salt = ("fault", format!("{field:?}"));
        if desk.fault(field).is_some() {
            warn(ui, rect, salt, &text);
        } else {
            say(ui, rect, salt, &text);
        }
    }
}
