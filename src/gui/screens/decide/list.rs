//! The list of jobs.

use crate::{
    brief::{
        decision::LineBrief, numbers::FAR_H, service::reminder, told::Told, trend::limits_note,
    },
    domain::{
        decide::{LineDecision, StationState, service},
        machine::{Band, Line, LineId},
        quantity::Length,
        trend::{HoursTo, Which},
        verdict::VerdictKind,
    },
    gui::{
        commands::{Name, pressed},
        marks::VerdictMark,
        meaning::{job_mark, verdict_mark},
        paint,
        screens::decide::{Scene, sheet, switch},
        theme,
        widgets::{
            Bands, BeforeAfter, HoursBar, HoursScale, JobColumns, JobRow, MiniRibbon, Panel, touch,
        },
    },
    language::tell,
    workbench::Command,
};
use egui::{
    Align2, EventFilter, Galley, Id, Margin, Rect, Response, ScrollArea, Sense, Shape, Stroke, Ui,
    UiBuilder, pos2, vec2,
};
use std::sync::Arc;

/// The height of the head above the rows.
const HEAD: f32 = 78.0;
/// The same where the hours stand under the words.
const HEAD_UNDER: f32 = 118.0;
/// The height of the note below them, for each of its lines and around them.
const FOOT: [f32; 2] = [15.0, 12.0];

/// Shows the list; a tap or the arrow keys choose another line.
pub(super) fn show(ui: &mut Ui, rect: Rect, scene: &Scene<'_>) -> Vec<Command> {
    let span = span(&scene.decision.lines);
    let mut asked = Vec::new();
    let mut notch = None;
    let (said, words) = note(ui, rect.width(), scene);
    let lines = words.rows.iter().map(|_| FOOT[0]).sum::<f32>();
    let foot = rect.with_min_y(rect.bottom() - FOOT[1] - lines);
    Panel::paper().margin(Margin::ZERO).show_at(ui, rect, |ui| {
        ui.spacing_mut().item_spacing.y = 0.0;
        let top = Rect::from_min_size(rect.min, vec2(rect.width(), HEAD));
        let below = Rect::from_min_max(top.left_bottom(), foot.right_top()).shrink(1.0);
        let mut inside = ui.new_child(UiBuilder::new().max_rect(below).id_salt("rows"));
        let width =
            ScrollArea::vertical().id_salt("jobs").auto_shrink(false).show(&mut inside, |ui| {
                notch = rows(ui, scene, span, &mut asked);
                ui.available_width()
            });
        asked.extend(head(ui, scene, top.with_max_x(below.left() + width.inner), span));
        let painter = ui.painter();
        let edge = Stroke::new(1.0, theme::tokens(ui).line);
        paint::level(painter, foot.left()..=foot.right(), foot.top(), edge);
        paint::place(painter, foot.left_center() + vec2(16.0, 0.0), Align2::LEFT_CENTER, words);
        touch::say(ui, foot, "limits", &said);
    });
    if asked.is_empty() {
        asked.extend(keys_without_focus(ui, scene));
    }
    let rows = rect.with_min_y(rect.top() + HEAD).with_max_y(foot.top());
    point_at_sheet(ui, rows, notch);
    asked
}

/// The same in a column: as high as its rows.
pub(super) fn stacked(ui: &mut Ui, scene: &Scene<'_>) -> Vec<Command> {
    let span = span(&scene.decision.lines);
    let mut asked = Vec::new();
    Panel::paper().margin(Margin::ZERO).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 0.0;
        let width = ui.available_width();
        let (top, _) = ui.allocate_exact_size(vec2(width, HEAD_UNDER), Sense::hover());
        asked.extend(head(ui, scene, top, span));
        rows(ui, scene, span, &mut asked);
        let (said, words) = note(ui, width, scene);
        let size = vec2(width, words.size().y + FOOT[1]);
        let (foot, _) = ui.allocate_exact_size(size, Sense::hover());
        let edge = Stroke::new(1.0, theme::tokens(ui).line);
        paint::level(ui.painter(), foot.left()..=foot.right(), foot.top(), edge);
        let at = foot.left_center() + vec2(16.0, 0.0);
        paint::place(ui.painter(), at, Align2::LEFT_CENTER, words);
        touch::say(ui, foot, "limits", &said);
    });
    if asked.is_empty() {
        asked.extend(keys_without_focus(ui, scene));
    }
    asked
}

/// Every job; answers where the chosen one stands.
fn rows(ui: &mut Ui, scene: &Scene<'_>, span: f32, asked: &mut Vec<Command>) -> Option<Rect> {
    let mut chosen = None;
    for (brief, decision) in scene.briefs.iter().zip(&scene.decision.lines) {
        let response = row(ui, scene, (brief, decision), span);
        if decision.line == scene.chosen {
            chosen = Some(response.rect);
        }
        asked.extend(choice(ui, &response, scene, decision.line));
    }
    chosen
}

/// Where the columns of the rows stand.
fn columns(scene: &Scene<'_>, width: f32) -> JobColumns {
    if scene.view.is_stacked() { JobColumns::under(width) } else { JobColumns::of(width) }
}

/// What service asks for now, and where the limits of all lines come from, laid out to `width`.
fn note(ui: &Ui, width: f32, scene: &Scene<'_>) -> (String, Arc<Galley>) {
    let t = theme::tokens(ui);
    let (shear, settings) = (&scene.machine.shear, &scene.view.bench.yard().settings);
    let mut notes: Vec<String> = shear.lines.iter().map(|line| limits_note(&line.limits)).collect();
    notes.sort();
    notes.dedup();
    let items = service(scene.machine, settings, scene.view.now);
    notes.splice(0..0, reminder(&items, shear, settings));
    let note = notes.join(" ");
    let words = ui.painter().layout(note.clone(), theme::caption(), t.ink3, width - 32.0);
    (note, words)
}

/// The switch and the title, the heads of the columns and the scale that all rows share.
fn head(ui: &mut Ui, scene: &Scene<'_>, rect: Rect, span: f32) -> Option<Command> {
    let t = theme::tokens(ui);
    let columns = columns(scene, rect.width());
    let beside = if columns.under { rect.width() } else { columns.hours[0] };
    let band = rect.with_max_x(rect.left() + beside - 12.0);
    let asked = switch(ui, scene, band, tell!("Most urgent first"));
    let painter = ui.painter();
    let word = |x: f32, y: f32, words: &str, room: f32| {
        let galley = paint::fitted(painter, words, theme::caption(), t.ink3, room);
        let at = pos2(rect.left() + x, rect.top() + y);
        paint::place(painter, at, Align2::LEFT_CENTER, galley);
    };
    let [from, to] = columns.hours;
    let (long, short) = (tell!("Hours to the working limit"), tell!("Hours to the limit"));
    let [words, end] = columns.words;
    let unit = scene.view.numbers.unit_name();
    let whole = tell!("Job and the numbers behind it (gaps: {unit})", unit);
    let needs = painter.layout_no_wrap(whole.clone(), theme::caption(), t.ink3).size().x;
    let narrow = end - words < needs;
    let told = if narrow { tell!("Job, gaps in {unit}", unit) } else { whole };
    word(words, 64.0, &told, end - words);
    if columns.under {
        word(from, 82.0, long, to - from);
    } else {
        let hours = if 160.0 < to - from { long } else { short };
        word(from, 34.0, hours, to - from + 14.0);
    }
    if let Some([left, right]) = columns.ribbon {
        word(left, 64.0, tell!("Gap, now and after"), right - left);
    }
    let scale = Rect::from_x_y_ranges(
        rect.left() + from..=rect.left() + to,
        rect.bottom() - 26.0..=rect.bottom(),
    );
    let marks = [0.0, span / 3.0, span / 1.5, span];
    let texts = marks.map(|mark| crate::brief::numbers::hours_value(f64::from(mark)));
    let ticks: Vec<(f32, &str)> =
        marks.iter().zip(&texts).map(|(mark, text)| (*mark, text.as_str())).collect();
    let mut child = ui.new_child(UiBuilder::new().max_rect(scale).id_salt("scale"));
    HoursScale { span, ticks: &ticks }.show(&mut child, to - from);
    let edge = Stroke::new(1.0, t.line);
    paint::level(ui.painter(), rect.left()..=rect.right(), rect.bottom(), edge);
    asked
}

/// Where the shared scale ends: as near as the farthest forecast allows.
fn span(lines: &[LineDecision]) -> f32 {
    let farthest = lines
        .iter()
        .filter_map(|line| line.hours())
        .filter(|(_, hours)| !hours.passed)
        .filter_map(|(_, hours)| {
            let estimate = hours.estimate_h.filter(|estimate| *estimate < FAR_H)?;
            Some(hours.high_h.unwrap_or(estimate).min(FAR_H))
        })
        .fold(0.0, f64::max);
    let ends = [24.0, 48.0, 96.0, 120.0, 180.0, 240.0, 300.0];
    ends.into_iter().find(|end| farthest * 1.04 <= f64::from(*end)).unwrap_or(360.0)
}

fn row(
    ui: &mut Ui,
    scene: &Scene<'_>,
    (brief, decision): (&LineBrief, &LineDecision),
    span: f32,
) -> Response {
    let place = format!("**{}**  {}", brief.line, brief.place);
    // The sheet says the others.
    let reasons: Vec<&str> = brief.reasons.iter().take(2).map(|told| told.text.as_str()).collect();
    let source = brief.reasons.first().map(Told::ground).unwrap_or_default();
    let hours_text = format!("**{}**   {}", brief.hours, brief.interval);
    let next = scene.next_look_h();
    let chosen = decision.line == scene.chosen;
    let remark = tell!("next look {next}", next = crate::brief::numbers::whole_hours(next));
    let line = scene.machine.shear.line(decision.line);
    let stations = line.map_or_else(Vec::new, |line| before_after(line, &decision.stations));
    let name = match &brief.gap_after {
        Some(after) => tell!(
            "{line} gaps {gap_now}, after the work {after}",
            line = brief.line,
            gap_now = brief.gap_now,
            after
        ),
        None if brief.gap_moved => tell!(
            "{line} gaps before the work {gap_now}",
            line = brief.line,
            gap_now = brief.gap_now
        ),
        None => tell!("{line} gaps {gap_now}", line = brief.line, gap_now = brief.gap_now),
    };
    let bar = hours_bar(decision, span);
    JobRow {
        action: job_mark(decision),
        word: brief.action_word,
        when: &brief.when,
        place: &place,
        headline: &brief.headline,
        reasons: &reasons,
        source: &source,
        ribbon: line.map(|line| MiniRibbon {
            bands: bands(line),
            stations: &stations,
            name: &name,
        }),
        hours: Some(HoursBar {
            shutdown: Some(paint::screen(next)),
            text: hours_text.trim_end(),
            remark: if chosen { &remark } else { "" },
            ..bar
        }),
        chosen,
    }
    .show_in(ui, columns(scene, ui.available_width()))
}

fn bands(line: &Line) -> Bands {
    let ends = |band: Band| [band.min, band.max].map(|limit| paint::screen(limit.mm()));
    let limits = &line.limits;
    Bands { set: ends(limits.set()), working: ends(limits.working()), stop: ends(limits.stop()) }
}

/// Each measured station, now and after the recipe; what is open at its end runs off the bands.
fn before_after(line: &Line, states: &[StationState]) -> Vec<BeforeAfter> {
    let top = line.limits.stop().max.mm() * 1.1;
    states
        .iter()
        .filter_map(|state| {
            let bracket = state.cold.as_ref()?.bracket;
            let go = bracket.go().mm();
            let no_go = bracket.no_go().map(Length::mm);
            let half = no_go.map_or(0.0, |no_go| no_go - go) / 2.0;
            let after = state.after.map(|after| [after.mm() - half, after.mm() + half]);
            Some(BeforeAfter {
                now: [go, no_go.unwrap_or(top)].map(paint::screen),
                after: after.map(|ends| ends.map(paint::screen)),
            })
        })
        .collect()
}

/// The forecast of the station that leaves its limits first, without words.
fn hours_bar(decision: &LineDecision, span: f32) -> HoursBar<'static> {
    let mut bar = HoursBar {
        span,
        estimate: None,
        interval: None,
        shutdown: None,
        past: None,
        text: "",
        remark: "",
    };
    let Some((station, hours)) = decision.hours() else { return bar };
    if hours.passed {
        let state = decision.stations.iter().find(|state| state.station == station);
        bar.past = Some(past_mark(state, hours));
    } else if let Some(estimate) = hours.estimate_h {
        if estimate < FAR_H {
            bar.estimate = Some(paint::screen(estimate.max(0.0)));
            let sound = hours.low_h.filter(|_| hours.through_break_h.is_none());
            let low = sound.map(|low| paint::screen(low.max(0.0)));
            bar.interval = low.map(|low| (low, hours.high_h.map(paint::screen)));
        } else {
            bar.interval = Some((paint::screen(FAR_H), None));
        }
    }
    bar
}

/// A passed limit carries the mark of its reading, or of the way its mean went.
fn past_mark(state: Option<&StationState>, hours: &HoursTo) -> VerdictMark {
    let verdict = state.and_then(|state| state.verdict);
    match verdict.map(|verdict| verdict.kind()) {
        Some(VerdictKind::Too(_) | VerdictKind::Stop(_)) => verdict_mark(verdict),
        _ if matches!(hours.which, Which::WorkingMin | Which::StopMin) => VerdictMark::TooTight,
        _ => VerdictMark::TooWide,
    }
}

/// A tap on a row, or an arrow key while it has the focus; then the focus goes along.
fn choice(ui: &Ui, response: &Response, scene: &Scene<'_>, line: LineId) -> Option<Command> {
    let follow = Id::unique("focus goes to line");
    if ui.data(|data| data.get_temp::<LineId>(follow)) == Some(line) {
        ui.data_mut(|data| data.remove::<LineId>(follow));
        response.request_focus();
    }
    if response.clicked() {
        if scene.view.is_stacked() {
            sheet::bring_into_view(ui);
        }
        return (line != scene.chosen).then_some(Command::ChooseLine(line));
    }
    if !response.has_focus() {
        return None;
    }
    let filter = EventFilter { vertical_arrows: true, ..EventFilter::default() };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, filter));
    let next = neighbour(ui, scene, line)?;
    ui.data_mut(|data| data.insert_temp(follow, next));
    Some(Command::ChooseLine(next))
}

/// Arrow keys work before anything has the focus, too.
fn keys_without_focus(ui: &Ui, scene: &Scene<'_>) -> Option<Command> {
    if ui.memory(|memory| memory.focused().is_some()) {
        return None;
    }
    neighbour(ui, scene, scene.chosen).map(Command::ChooseLine)
}

fn neighbour(ui: &Ui, scene: &Scene<'_>, from: LineId) -> Option<LineId> {
    let (up, down) = (pressed(ui, Name::JobAbove), pressed(ui, Name::JobBelow));
    let lines = &scene.decision.lines;
    let here = lines.iter().position(|it| it.line == from)?;
    let next = match (up, down) {
        (true, false) => here.checked_sub(1)?,
        (false, true) => here + 1,
        _ => return None,
    };
    lines.get(next).map(|it| it.line)
}

/// A notch from the chosen row towards the sheet that shows it.
fn point_at_sheet(ui: &Ui, list: Rect, row: Option<Rect>) {
    let Some(row) = row else { return };
    let y = row.center().y;
    if y < list.top() + 14.0 || list.bottom() - 14.0 < y {
        return;
    }
    let t = theme::tokens(ui);
    let x = list.right() - 1.0;
    let (top, tip, foot) = (pos2(x, y - 11.0), pos2(x + 14.0, y), pos2(x, y + 11.0));
    ui.painter().add(Shape::convex_polygon(vec![top, tip, foot], t.field, Stroke::NONE));
    ui.painter().add(Shape::line(vec![top, tip, foot], Stroke::new(1.0, t.line)));
}
