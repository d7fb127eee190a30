//! The sheet of one job: everything that somebody needs to do it.

use crate::{
    brief::{blade, caution, decision::LineBrief, words},
    domain::{
        decide::{Action, Job, LineDecision},
        machine::Line,
    },
    gui::{
        meaning::caution_icon,
        meaning::job_mark,
        paint,
        screens::decide::{
            Scene, parts,
            really::{self, Form},
            record, swap,
        },
        theme,
        widgets::{CautionTile, Panel, divider, paragraph, rich_text, section, touch},
    },
    language::{self, tell},
    workbench::Command,
};
use egui::{
    Align, Align2, Id, Margin, Rect, RichText, ScrollArea, Sense, Stroke, Ui, UiBuilder, pos2, vec2,
};

/// Shows the sheet of the chosen line.
pub(super) fn show(
    ui: &mut Ui,
    rect: Rect,
    scene: &Scene<'_>,
    decision: &LineDecision,
) -> Vec<Command> {
    let brief = scene.briefs.iter().find(|brief| brief.line == decision.line);
    let line = scene.machine.shear.line(decision.line);
    let (Some(brief), Some(line)) = (brief, line) else { return Vec::new() };
    let mut asked = Vec::new();
    let margin = Margin { left: 20, right: 20, top: 16, bottom: 14 };
    Panel::field().accent().margin(margin).show_at(ui, rect, |ui| {
        let inside = ui.available_rect_before_wrap();
        let foot = record::height(ui, scene, decision);
        // The bar that scrolls stands in the margin, so that text and buttons share one edge.
        let body = inside.with_max_y(inside.bottom() - foot - 8.0);
        let body = body.with_max_x(inside.right() + 14.0);
        let mut child = ui.new_child(UiBuilder::new().max_rect(body).id_salt("body"));
        let salt = ("sheet", decision.line, Form::open(ui, scene, decision).is_some());
        ScrollArea::vertical().id_salt(salt).auto_shrink(false).show(&mut child, |ui| {
            ui.set_max_width(inside.width().min(ui.available_width()));
            asked.extend(filled(ui, scene, (decision, brief), line));
        });
        let buttons = inside.with_min_y(inside.bottom() - foot);
        let mut child = ui.new_child(UiBuilder::new().max_rect(buttons).id_salt("foot"));
        child.spacing_mut().item_spacing.y = 4.0;
        asked.extend(record::show(&mut child, scene, decision));
    });
    asked
}

/// The same in a column, its buttons apart.
pub(super) fn stacked(ui: &mut Ui, scene: &Scene<'_>, decision: &LineDecision) -> Option<Command> {
    let brief = scene.briefs.iter().find(|brief| brief.line == decision.line)?;
    let line = scene.machine.shear.line(decision.line)?;
    let margin = Margin { left: 20, right: 20, top: 16, bottom: 14 };
    let shown = Panel::field().accent().margin(margin).show(ui, |ui| {
        let salt = decision.line;
        let asked = ui.push_id(salt, |ui| filled(ui, scene, (decision, brief), line)).inner;
        fine_print(ui, language::told(caution::ADVICE_ONLY));
        asked
    });
    let asks = ui.data_mut(|data| data.remove_temp::<()>(wanted()));
    if asks.is_some() {
        ui.scroll_to_rect(shown.response.rect, Some(Align::TOP));
    }
    shown.inner
}

/// Where it is kept that somebody asked for the sheet.
fn wanted() -> Id {
    Id::unique("sheet of the job into view")
}

/// In a column: whoever taps a job wants to see its sheet.
pub(super) fn bring_into_view(ui: &Ui) {
    ui.data_mut(|data| data.insert_temp(wanted(), ()));
}

/// What is to be done, or the form of what was done.
fn filled(
    ui: &mut Ui,
    scene: &Scene<'_>,
    (decision, brief): (&LineDecision, &LineBrief),
    line: &Line,
) -> Option<Command> {
    ui.spacing_mut().item_spacing.y = 5.0;
    let Some(mut form) = Form::open(ui, scene, decision) else {
        return contents(ui, scene, (decision, brief), line);
    };
    really::show(ui, scene, &mut form, line);
    form.keep(ui);
    None
}

fn contents(
    ui: &mut Ui,
    scene: &Scene<'_>,
    (decision, brief): (&LineDecision, &LineBrief),
    line: &Line,
) -> Option<Command> {
    let (shear, history) = (&scene.machine.shear, &scene.machine.history);
    title(ui, scene, decision, brief);
    gaps(ui, decision, brief, scene.view.numbers.unit_name());
    // What a welder must heed comes after what everybody does before reaching in.
    let (before, after): (&[String], &[String]) = match decision.job {
        Job::CallWelder => (&[], &brief.notes),
        _ => (&brief.notes, &[]),
    };
    for note in before {
        paragraph(ui, note);
    }
    if let Some(causes) = &brief.causes {
        paragraph(ui, &causes.head);
    }
    // Before what is done with the hands, and high enough to stand whole in a small window.
    divider(ui);
    if decision.job == Job::Nothing && decision.action == Action::Leave {
        paragraph(ui, language::told(caution::practice::LOOK));
    } else {
        cautions(ui, decision);
    }
    for note in after {
        paragraph(ui, note);
    }
    let edges: Vec<_> = [&line.fixed, &line.moving]
        .into_iter()
        .filter_map(|id| blade::edges(shear, history, id))
        .collect();
    if !edges.is_empty() {
        divider(ui);
        parts::edges(ui, &edges);
    }
    for pack in blade::packs(shear, history, &line.fixed, &decision.job, scene.view.numbers) {
        divider(ui);
        parts::pack(ui, &pack);
    }
    if let Some(bolts) = &brief.bolts {
        divider(ui);
        let intervals = scene.view.bench.yard().settings.intervals_of(shear);
        let again = blade::check_bolts_again(intervals.retorque);
        parts::bolts(ui, bolts, &again);
    }
    divider(ui);
    section(ui, tell!("Why"), "");
    for told in &brief.reasons {
        paragraph(ui, &told.text);
        fine_print(ui, &told.source);
    }
    if let Some(causes) = &brief.causes {
        divider(ui);
        section(ui, tell!("What may lie behind it"), "");
        for told in causes.shown() {
            paragraph(ui, &told.text);
        }
        paragraph(ui, &causes.sensitivity);
        fine_print(ui, &causes.source);
    }
    parts::edge_rows(ui, &brief.edges);
    let asked = swap::show(ui, scene, line);
    if !brief.marks.is_empty() {
        divider(ui);
        section(ui, tell!("Wear marks"), "");
        for mark in &brief.marks {
            paragraph(ui, mark);
        }
    }
    fine_print(ui, language::told(words::MATCH_BY_PLACE));
    asked
}

pub(super) fn fine_print(ui: &mut Ui, words: &str) {
    let t = theme::tokens(ui);
    ui.add(egui::Label::new(RichText::new(words).font(theme::caption()).color(t.ink3)).wrap());
}

/// Where the words stand beside the mark.
const LEFT: f32 = 64.0;

/// The action, large, with the place and when it is due.
fn title(ui: &mut Ui, scene: &Scene<'_>, decision: &LineDecision, brief: &LineBrief) {
    let t = theme::tokens(ui);
    let width = ui.available_width();
    let planned = scene.plan.and_then(|it| it.lines.iter().find(|it| it.line == brief.line));
    let work = planned.and_then(|it| it.work.as_deref()).unwrap_or_default();
    let lay = |words: &str, font, ink| ui.painter().layout_no_wrap(words.to_owned(), font, ink);
    let word = lay(brief.action_word, theme::action(), t.ink);
    let place = rich_text(&format!("**{}**  {}", brief.line, brief.place), 14.0, t.ink2, t.ink);
    let place = paint::lessened(ui.painter(), place, width - LEFT);
    // When, and how long it takes, stand at the right edge, or under the place where it is narrow.
    let mut under = Vec::new();
    let mut at_right = [None, None];
    for ((first, words), right) in
        [(&word, brief.when.as_str()), (&place, work)].into_iter().zip(&mut at_right)
    {
        let second = lay(words, theme::body(), t.ink2);
        if first.size().x + second.size().x + 12.0 <= width - LEFT {
            *right = Some(second);
        } else {
            under.push(words);
        }
    }
    let under = under.into_iter().filter(|it| !it.is_empty()).collect::<Vec<_>>().join(" · ");
    let under = ui.painter().layout(under, theme::body(), t.ink2, width - LEFT);
    let more = if under.job.text.is_empty() { 0.0 } else { under.size().y + 2.0 };
    let (rect, _) = ui.allocate_exact_size(vec2(width, 56.0 + more), Sense::hover());
    let painter = ui.painter();
    let mark = job_mark(decision);
    mark.paint(painter, rect.left_top() + vec2(24.0, 28.0), 46.0, t, t.field);
    let left = rect.left() + LEFT;
    let rows = [rect.top() + 16.0, rect.top() + 43.0];
    for ((words, y), right) in [word, place].into_iter().zip(rows).zip(at_right) {
        paint::place(painter, pos2(left, y), Align2::LEFT_CENTER, words);
        if let Some(right) = right {
            paint::place(painter, pos2(rect.right(), y + 1.0), Align2::RIGHT_CENTER, right);
        }
    }
    paint::place(painter, pos2(left, rect.top() + 54.0), Align2::LEFT_TOP, under);
    let said = format!("{}, {}: {} {}", brief.action_word, brief.when, brief.line, brief.place);
    touch::say(ui, rect, "chosen job", &said);
}

/// The gaps now, and after the work as far as anybody can know.
fn gaps(ui: &mut Ui, decision: &LineDecision, brief: &LineBrief, unit: &str) {
    let t = theme::tokens(ui);
    let after = match (&brief.gap_after, &decision.job) {
        (Some(after), _) => Some(format!("**{after}**")),
        (None, Job::Turn { .. } | Job::Fit { .. }) => Some(tell!("measure again").to_owned()),
        (None, _) => None,
    };
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), 24.0), Sense::hover());
    let painter = ui.painter();
    let middle = rect.center().y;
    let gap_now = &brief.gap_now;
    let (now, mut said) = if brief.gap_moved {
        (
            tell!("Gap before the work, {unit}: **{gap_now}**", unit, gap_now),
            tell!("gap before the work {gap_now}", gap_now),
        )
    } else {
        (tell!("Gap, {unit}: **{gap_now}**", unit, gap_now), tell!("gap now {gap_now}", gap_now))
    };
    let lay = |text: &str, size: f32| painter.layout_job(rich_text(text, size, t.ink2, t.ink));
    let wide = |size: &f32| {
        let after = after.as_deref().map_or(0.0, |it| lay(it, *size).size().x + 56.0);
        lay(&now, *size).size().x + after <= rect.width()
    };
    let size = [14.5, 13.0, 12.0].into_iter().find(wide).unwrap_or(11.5);
    let left = pos2(rect.left(), middle);
    let shown = paint::place(painter, left, Align2::LEFT_CENTER, lay(&now, size));
    if let Some(after) = after {
        let from = pos2(shown.right() + 14.0, middle);
        let to = from + vec2(28.0, 0.0);
        paint::arrow(painter, from, to, 7.5, Stroke::new(1.8, t.ink2));
        let at = to + vec2(14.0, 0.0);
        paint::place(painter, at, Align2::LEFT_CENTER, lay(&after, size));
        said = tell!("{said}, after the work {after}", said, after = crate::brief::plain(&after));
    }
    touch::say(ui, rect, "gap change", &said);
}

/// Three tiles and the rest in a line.
fn cautions(ui: &mut Ui, decision: &LineDecision) {
    let (tiles, rest) = caution::for_work(decision);
    section(ui, tell!("Before you reach in"), "");
    ui.add_space(2.0);
    let tiles = tiles.map(|it| CautionTile {
        icon: caution_icon(it.sign),
        words: language::told(it.title),
        detail: language::told(it.detail),
    });
    CautionTile::show_row(&tiles, ui);
    paragraph(ui, &rest);
}
