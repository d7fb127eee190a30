//! The shift's clock: play, stop, and any hour by hand.

use crate::{
    brief::{heat as told, words},
    domain::heat::{Colour, Event, EventKind},
    gui::{
        fonts, paint,
        screens::heat::Scene,
        theme,
        widgets::{
            Button, stepped,
            touch::{self, Spoken},
        },
    },
    language::tell,
    store::Motion,
    workbench::{Command, Heat},
};
use egui::{Align2, FontId, Id, Rect, Sense, Shape, Stroke, Ui, UiBuilder, WidgetInfo, pos2, vec2};

/// A shift plays in this many seconds.
const PLAY_S: f64 = 20.0;
/// Seconds between two frames while time runs: thirty pictures a second are enough.
const FRAME_S: f32 = 1.0 / 30.0;
/// How far time goes at once where motion is reduced.
const STRIDE_H: f64 = 0.5;

pub(super) fn show(ui: &mut Ui, scene: &Scene<'_>, asked: &mut Vec<Command>) {
    let rect = ui.available_rect_before_wrap();
    let hours = scene.case.model.duty.hours.max(0.1);
    button(ui, scene, rect, asked);
    let beside = 76.0;
    save(ui, scene, rect.with_min_x(rect.right() - beside), asked);
    track(ui, scene, (rect.with_max_x(rect.right() - beside), hours), asked);
    if scene.desk.playing {
        let by = match theme::motion(ui.ctx()) {
            Motion::Smooth => {
                ui.ctx().request_repaint_after_secs(FRAME_S);
                f64::from(ui.input(|input| input.stable_dt).min(0.1)) * hours / PLAY_S
            }
            Motion::Reduced => stride(ui, STRIDE_H / hours * PLAY_S),
        };
        let next = scene.hour + by;
        if 0.0 < by {
            asked.push(Command::Heat(Heat::Seek(next.min(hours))));
        }
        if hours <= next {
            asked.push(Command::Heat(Heat::Play(false)));
        }
    }
}

/// For who is made ill by what moves: half an hour at once, every `pace` seconds.
fn stride(ui: &Ui, pace: f64) -> f64 {
    let id = Id::unique("last stride of the clock");
    let now = ui.input(|input| input.time);
    let last: f64 = ui.data_mut(|data| *data.get_temp_mut_or(id, now));
    let left = last + pace - now;
    if 0.0 < left {
        ui.ctx().request_repaint_after_secs(paint::screen(left));
        return 0.0;
    }
    ui.data_mut(|data| data.insert_temp(id, now));
    ui.ctx().request_repaint_after_secs(paint::screen(pace));
    STRIDE_H
}

/// Keeps a page of what is shown, under a name that says what it shows.
fn save(ui: &mut Ui, scene: &Scene<'_>, rect: Rect, asked: &mut Vec<Command>) {
    let middle = Rect::from_center_size(rect.center(), vec2(rect.width(), theme::TOUCH));
    let mut child = ui.new_child(UiBuilder::new().id_salt("picture").max_rect(middle));
    if Button::plain(tell!("Picture")).width(rect.width()).show(&mut child).clicked() {
        let ask = &scene.runs.ask;
        let minutes = (scene.hour * 60.0).round();
        let name = format!(
            "{}-lesson-{}-step-{}-{}-{:.2}mm-{:.0}h{:02.0}.png",
            ask.shear.id.as_str(),
            scene.desk.lesson + 1,
            scene.desk.step + 1,
            ask.station,
            ask.gap_mm,
            (minutes / 60.0).floor(),
            minutes.rem_euclid(60.0)
        );
        asked.push(Command::SaveLesson(name));
    }
}

fn button(ui: &Ui, scene: &Scene<'_>, rect: Rect, asked: &mut Vec<Command>) {
    let t = theme::tokens(ui);
    let playing = scene.desk.playing;
    let centre = pos2(rect.left() + 26.0, rect.center().y);
    let round = Rect::from_center_size(centre, vec2(48.0, 48.0));
    let word = if playing { tell!("stop the clock") } else { tell!("play the shift") };
    let id = ui.make_persistent_id("play");
    let response = touch::tap(ui, round, id, &Spoken::button(word));
    let painter = ui.painter();
    painter.circle_filled(centre, 24.0, t.ink);
    if playing {
        for side in [-6.0, 6.0] {
            let bar = Rect::from_center_size(centre + vec2(side, 0.0), vec2(5.0, 18.0));
            painter.rect_filled(bar, 0.0, t.field);
        }
    } else {
        let points = [vec2(-6.0, -10.0), vec2(-6.0, 10.0), vec2(11.0, 0.0)];
        let points = points.map(|by| centre + by).to_vec();
        painter.add(Shape::convex_polygon(points, t.field, Stroke::NONE));
    }
    touch::focus_ring(ui, &response, round, 24.0);
    if response.clicked() {
        let hours = scene.case.model.duty.hours;
        if !playing && hours <= scene.hour {
            asked.push(Command::Heat(Heat::Seek(0.0)));
        }
        asked.push(Command::Heat(Heat::Play(!playing)));
    }
}

fn track(ui: &Ui, scene: &Scene<'_>, (rect, hours): (Rect, f64), asked: &mut Vec<Command>) {
    let t = theme::tokens(ui);
    let painter = ui.painter();
    let (from, to) = (rect.left() + 84.0, rect.right() - 24.0);
    let y = rect.center().y + 3.0;
    let x = |hour: f64| from + (to - from) * paint::screen((hour / hours).clamp(0.0, 1.0));
    let bar = |a: f32, b: f32| Rect::from_x_y_ranges(a..=b, y - 3.0..=y + 3.0);
    painter.rect_filled(bar(from, to), 3.0, t.soft);
    for (begin, end) in &scene.case.model.duty.breaks {
        let pause = Rect::from_x_y_ranges(x(*begin)..=x(*end), y - 9.0..=y + 9.0);
        let stroke = Stroke::new(1.0, t.ink3);
        paint::hatch_rect(painter, pause, 5.0, stroke, paint::Lean::Falling);
    }
    painter.rect_filled(bar(from, x(scene.hour)), 3.0, t.accent);
    let whole = if hours < 12.0 { 1.0 } else { 4.0 };
    let mut hour = 0.0;
    while hour <= hours + 1e-9 {
        let at = x(hour);
        paint::upright(painter, at, y + 11.0..=y + 15.0, Stroke::new(1.0, t.ink2));
        let below = pos2(at, y + 17.0);
        let text = format!("{hour:.0}\u{a0}h");
        painter.text(below, Align2::CENTER_TOP, text, theme::caption(), t.ink2);
        hour += whole;
    }
    events(ui, scene, y, x);
    let knob = pos2(x(scene.hour), y);
    let id = ui.make_persistent_id("hour");
    let hit = Rect::from_x_y_ranges(from - 16.0..=to + 16.0, y - 22.0..=y + 22.0);
    let response = ui.interact(hit, id, Sense::click_and_drag());
    response.widget_info(|| WidgetInfo::slider(true, scene.hour, tell!("hour of the shift")));
    let said = told::hour(scene.hour);
    ui.ctx().accesskit_node_builder(id, |node| node.set_value(said.as_str()));
    painter.circle(knob, 15.0, t.field, Stroke::new(3.0, t.accent));
    painter.circle_filled(knob, 3.0, t.accent);
    touch::focus_ring(ui, &response, Rect::from_center_size(knob, vec2(30.0, 30.0)), 15.0);
    let mut seek = |hour: f64| {
        asked.push(Command::Heat(Heat::Play(false)));
        asked.push(Command::Heat(Heat::Seek(hour.clamp(0.0, hours))));
    };
    if let Some(at) = response.interact_pointer_pos() {
        seek(hours * f64::from((at.x - from) / (to - from).max(1.0)));
    } else if let Some(steps) = stepped(ui, &response) {
        seek(scene.hour + steps * 0.1);
    }
}

/// What happens at the station, above the track; words give way where they would touch.
fn events(ui: &Ui, scene: &Scene<'_>, y: f32, x: impl Fn(f64) -> f32) {
    let t = theme::tokens(ui);
    let painter = ui.painter();
    let font = FontId::new(14.5, fonts::bold());
    let now = x(scene.hour);
    let said = painter.layout_no_wrap(told::hour(scene.hour), font, t.accent);
    let own = paint::place(painter, pos2(now, y - 27.0), Align2::CENTER_CENTER, said);
    let mut taken = vec![own];
    for (from, to) in &scene.case.model.duty.breaks {
        let word = painter.layout_no_wrap(tell!("break").to_owned(), theme::caption(), t.ink2);
        let middle = pos2(x(f64::midpoint(*from, *to)), y - 18.0);
        let place = Align2::CENTER_CENTER.anchor_size(middle, word.size());
        // The hour that is shown hides it: the hatching says as much.
        if !own.expand(3.0).intersects(place) {
            painter.galley(place.min, word, t.ink2);
            taken.push(place);
        }
    }
    let station = scene.runs.ask.station;
    let mut here: Vec<&Event> =
        scene.case.shift.events.iter().filter(|it| it.station == station).collect();
    // Where there is no room for all, what matters most is named; a mark without a name is none.
    here.sort_by_key(|it| weight(it.kind));
    for event in here {
        let at = x(event.hour);
        let word = painter.layout_no_wrap(told::event(event.kind), theme::caption(), t.ink);
        let place = Align2::CENTER_CENTER.anchor_size(pos2(at, y - 23.0), word.size());
        let free = taken.iter().all(|other| !other.expand(5.0).intersects(place));
        if free && at < ui.clip_rect().right() - 30.0 {
            let tip = pos2(at, y - 6.0);
            let arrow = vec![tip, tip + vec2(-5.0, -9.0), tip + vec2(5.0, -9.0)];
            painter.add(Shape::convex_polygon(arrow, t.ink, Stroke::NONE));
            painter.galley(place.min, word, t.ink);
            taken.push(place);
        }
    }
    let all: Vec<String> = scene
        .case
        .shift
        .events
        .iter()
        .filter(|it| it.station == station)
        .map(|it| {
            tell!("{kind} at {hour}", kind = told::event(it.kind), hour = told::hour(it.hour))
        })
        .collect();
    let text = words::capital(&all.join(", "));
    if !text.is_empty() {
        touch::say(ui, own, "events", &text);
    }
}

/// What is named first where names would touch: lowest first.
fn weight(kind: EventKind) -> u8 {
    match kind {
        EventKind::Passed(_) => 0,
        EventKind::Touching => 1,
        EventKind::Coloured(Colour::Blue) => 2,
        EventKind::Coloured(_) => 3,
        EventKind::Loaded => 4,
    }
}
