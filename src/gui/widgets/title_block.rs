//! The title block of the sheet: what machine, which session, how many hours, what state.
//!
//! Knows cells with a caption, a value and a quiet suffix, and how they give way when the window is
//! narrow: suffixes first, then the values. Refuses to know what the cells say.

use crate::gui::{
    marks::Icon,
    paint, theme,
    widgets::{
        ProgressGroup, progress, rich_text,
        stepper::Step,
        touch::{self, Spoken},
    },
};
use egui::{Galley, Rect, Sense, Stroke, StrokeKind, Ui, pos2, text::TextWrapping, vec2};
use std::sync::Arc;

/// One cell.
#[derive(Clone, Debug, Default)]
pub struct TitleCell<'a> {
    /// The small line on top.
    pub caption: &'a str,
    /// The value, with its bold parts between `**`.
    pub value: &'a str,
    /// A quiet suffix behind the value.
    pub quiet: &'a str,
    /// A check before the value: saved, done.
    pub check: bool,
    /// The walk around the jaw, at the right of the cell.
    pub walk: Vec<ProgressGroup<'a>>,
    /// Arrows to the one before and the one after, by what a screen reader calls them.
    pub steps: Option<[&'a str; 2]>,
}

/// The height of the block.
const HEIGHT: f32 = 60.0;
const PAD: f32 = 13.0;

struct Laid<'c, 'a> {
    cell: &'c TitleCell<'a>,
    caption: Arc<Galley>,
    value: Arc<Galley>,
    quiet: Arc<Galley>,
}

impl Laid<'_, '_> {
    fn check_width(&self) -> f32 {
        if self.cell.check { 22.0 } else { 0.0 }
    }

    /// Without its quiet suffix, and with the walk squeezed.
    fn least(&self, squeeze: f32) -> f32 {
        let text = self.caption.size().x.max(self.value.size().x + self.check_width());
        2.0 * PAD + text + self.walk_width(squeeze) + self.steps_width()
    }

    fn full(&self, squeeze: f32) -> f32 {
        let value = self.value.size().x + self.check_width();
        let suffix = if self.cell.quiet.is_empty() { 0.0 } else { self.quiet.size().x + 11.0 };
        let text = self.caption.size().x.max(value + suffix);
        2.0 * PAD + text + self.walk_width(squeeze) + self.steps_width()
    }

    fn steps_width(&self) -> f32 {
        if self.cell.steps.is_some() { 2.0 * theme::TOUCH + 4.0 } else { 0.0 }
    }

    fn walk_width(&self, squeeze: f32) -> f32 {
        let natural = progress::natural_width(&self.cell.walk).max(0.0);
        if natural * squeeze < 1.0 { 0.0 } else { natural * squeeze + 22.0 }
    }
}

/// Paints the block over the width at hand; returns the arrow that was tapped.
pub fn title_block(ui: &mut Ui, cells: &[TitleCell<'_>]) -> Option<Step> {
    let t = theme::tokens(ui);
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), HEIGHT), Sense::hover());
    let edge = Stroke::new(1.0, t.line);
    ui.painter().rect(rect, 3.0, t.paper, edge, StrokeKind::Inside);
    let laid: Vec<_> = cells.iter().map(|cell| lay(ui, cell)).collect();
    // The walk narrows before a value is cut, and leaves before that.
    let fits =
        |squeeze: &f32| laid.iter().map(|cell| cell.least(*squeeze)).sum::<f32>() <= rect.width();
    let squeeze = [1.0, 0.8, 0.6].into_iter().find(fits).unwrap_or(0.0);
    let widths = share(rect.width(), &laid, squeeze);
    let (mut left, mut tapped) = (rect.left(), None);
    for (index, (laid, width)) in laid.iter().zip(widths).enumerate() {
        let cell = Rect::from_min_max(pos2(left, rect.top()), pos2(left + width, rect.bottom()));
        if 0 < index {
            paint::upright(ui.painter(), left, rect.top()..=rect.bottom(), edge);
        }
        let spoken = [laid.cell.caption, &laid.cell.value.replace("**", ""), laid.cell.quiet];
        touch::say(ui, cell, ("title", index), spoken.join(" ").trim_end());
        fill(ui, cell, laid, squeeze);
        if let Some(names) = laid.cell.steps {
            tapped = tapped.or(arrows(ui, cell, names));
        }
        left += width;
    }
    tapped
}

/// Paints the block in as many rows as its cells need, where one row would cut them.
pub fn title_rows(ui: &mut Ui, cells: &[TitleCell<'_>]) -> Option<Step> {
    let (width, mut rest, mut tapped) = (ui.available_width(), cells, None);
    ui.vertical(|ui| {
        // Rows share their edge.
        ui.spacing_mut().item_spacing.y = -1.0;
        while !rest.is_empty() {
            let least: Vec<f32> = rest.iter().map(|cell| lay(ui, cell).least(0.0)).collect();
            let fits = |count: &usize| least.iter().take(*count).sum::<f32>() <= width;
            let count = (1..=rest.len()).rev().find(fits).unwrap_or(1);
            let (row, next) = rest.split_at(count);
            let at = rest.len();
            tapped = tapped.or(ui.push_id(("row", at), |ui| title_block(ui, row)).inner);
            rest = next;
        }
    });
    tapped
}

/// Two arrows at the right of a cell.
fn arrows(ui: &Ui, cell: Rect, [before, after]: [&str; 2]) -> Option<Step> {
    let t = theme::tokens(ui);
    let side = theme::TOUCH;
    let right = Rect::from_center_size(
        pos2(cell.right() - 6.0 - side / 2.0, cell.center().y),
        vec2(side, side),
    );
    let left = right.translate(vec2(-side, 0.0));
    let arrow = |rect: Rect, name: &str, icon: Icon| {
        let id = ui.make_persistent_id(("title step", name));
        let response = touch::tap(ui, rect, id, &Spoken::button(name));
        let around = touch::outline(ui, &response, false);
        ui.painter().rect(rect.shrink(3.0), theme::RADIUS, t.field, around, StrokeKind::Inside);
        icon.paint(ui.painter(), rect.center(), 16.0, t.ink, t);
        touch::focus_ring(ui, &response, rect.shrink(3.0), 4.0);
        response.clicked()
    };
    let less = arrow(left, before, Icon::Back);
    let more = arrow(right, after, Icon::Forward);
    match (less, more) {
        (true, _) => Some(Step::Less),
        (_, true) => Some(Step::More),
        _ => None,
    }
}

fn lay<'c, 'a>(ui: &Ui, cell: &'c TitleCell<'a>) -> Laid<'c, 'a> {
    let t = theme::tokens(ui);
    let line = |job| ui.painter().layout_job(job);
    let caption = ui.painter().layout_no_wrap(cell.caption.to_owned(), theme::caption(), t.ink3);
    let value = line(rich_text(cell.value, theme::value().size, t.ink2, t.ink));
    let quiet = line(rich_text(cell.quiet, 12.0, t.ink2, t.ink));
    Laid { cell, caption, value, quiet }
}

/// Every cell gets its least; suffixes follow from the left while they fit whole; the rest is
/// shared evenly.
fn share(width: f32, laid: &[Laid<'_, '_>], squeeze: f32) -> Vec<f32> {
    let least: f32 = laid.iter().map(|cell| cell.least(squeeze)).sum();
    if width < least {
        return laid.iter().map(|cell| cell.least(squeeze) * width / least).collect();
    }
    let mut spare = width - least;
    let mut widths: Vec<f32> = Vec::with_capacity(laid.len());
    for cell in laid {
        let (least, full) = (cell.least(squeeze), cell.full(squeeze));
        let granted = if full - least <= spare { full } else { least };
        spare -= granted - least;
        widths.push(granted);
    }
    let even = spare / laid.len().max(1) as f32;
    widths.iter().map(|granted| granted + even).collect()
}

fn fill(ui: &Ui, rect: Rect, laid: &Laid<'_, '_>, squeeze: f32) {
    let t = theme::tokens(ui);
    let painter = ui.painter().with_clip_rect(rect.shrink(1.0).intersect(ui.clip_rect()));
    let walk = laid.walk_width(squeeze);
    let room = rect.width() - 2.0 * PAD - walk - laid.steps_width();
    let mut x = rect.left() + PAD;
    painter.galley(pos2(x, rect.top() + 8.0), laid.caption.clone(), t.ink3);

    let middle = rect.top() + 38.0;
    if laid.cell.check {
        Icon::Check.paint(&painter, pos2(x + 6.0, middle), 16.0, t.ok, t);
        x += laid.check_width();
    }
    let mut job = rich_text(laid.cell.value, theme::value().size, t.ink2, t.ink);
    job.wrap = TextWrapping::truncate_at_width(room - laid.check_width() + 0.5);
    let value = painter.layout_job(job);
    let value_width = value.size().x;
    painter.galley(pos2(x, middle - value.size().y / 2.0), value, t.ink);

    let left = room - laid.check_width() - value_width - 11.0;
    if laid.quiet.size().x <= left + 0.5 {
        let at = pos2(x + value_width + 11.0, middle - laid.quiet.size().y / 2.0 + 1.5);
        painter.galley(at, laid.quiet.clone(), t.ink2);
    }
    if 0.0 < walk {
        let strip = Rect::from_min_max(
            pos2(rect.right() - PAD - walk + 22.0, rect.top() + 8.0),
            pos2(rect.right() - PAD, rect.top() + 46.0),
        );
        progress::paint(ui, strip, &laid.cell.walk);
    }
}
