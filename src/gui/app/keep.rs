//! What the window shows, kept for a report: the job sheet, tables, pictures and drawings.

use crate::{
    brief::{Numbers, sheet},
    domain::{machine::ShearId, trend::Axis},
    exchange,
    gui::{
        app::App,
        effects,
        picture::{self, Part},
        screens::{self, trend},
        vector,
    },
    workbench::{Command, Screen},
};
use egui::layers::PaintList;

impl App {
    /// Keeps the growth of a machine as a table, and says so.
    pub(super) fn keep_table(&self, shear: &ShearId, name: &str) -> Option<Command> {
        let machine = self.bench.yard().machine(shear)?;
        let decision = self.decisions.iter().find(|it| it.shear == *shear)?;
        let table = exchange::growth_table(&machine.shear, decision);
        Some(Command::Tell(effects::keep_table(&self.root, name, &table)))
    }

    /// Writes a machine's job sheet and says where it is; named after the session it rests on.
    pub(super) fn make_sheet(&self, shear: &ShearId) -> Option<Command> {
        let machine = self.bench.yard().machine(shear)?;
        let decision = self.decisions.iter().find(|it| it.shear == *shear)?;
        let n = Numbers { unit: self.bench.unit(), zone: self.around.zone, per: Axis::Hours };
        let program = concat!("Gapwright ", env!("CARGO_PKG_VERSION"));
        let told = sheet::tell(machine, decision, &self.bench.yard().settings, n, program);
        let session = decision.measured.as_ref().map_or("new", |(id, _)| id.as_str());
        let name = format!("{shear}-{session}.pdf");
        Some(Command::Tell(effects::keep_sheet(&self.root, &name, &told)))
    }

    /// The chart of the Trend screen; `None` on a screen that is kept whole.
    fn chart(&self, ctx: &egui::Context) -> Option<egui::Rect> {
        let there = self.bench.screen() == Screen::Trend;
        there.then(|| trend::chart(ctx)).flatten()
    }

    /// Keeps what this frame has painted as a drawing, and says so: the chart of Trend, of another
    /// screen what is right of the rail.
    pub(super) fn draw_screen(&self, ui: &egui::Ui, name: &str) -> Command {
        let frame = self.chart(ui.ctx()).unwrap_or_else(|| {
            let mut frame = ui.ctx().content_rect();
            frame.set_left(frame.left() + crate::gui::widgets::RAIL_WIDTH);
            frame
        });
        let layer = ui.layer_id();
        let svg = ui.ctx().graphics(|all| {
            let painted = all.get(layer).into_iter().flat_map(PaintList::all_entries);
            vector::svg(painted, frame)
        });
        Command::Tell(effects::keep_drawing(&self.root, name, &svg))
    }

    /// Asks for the pixels of the window: the chart of Trend, of another screen what is right of
    /// the rail.
    pub(super) fn take_picture(&mut self, ctx: &egui::Context, name: String) {
        let rail = if self.projected { 0.0 } else { crate::gui::widgets::RAIL_WIDTH };
        let part = self.chart(ctx).map_or(Part::RightOf(rail), Part::Only);
        self.picture = Some(picture::ask(ctx, name, part));
    }

    /// Asks for a page of the lesson in hand, the same whatever the window's size is.
    pub(super) fn take_lesson(&mut self, ctx: &egui::Context, name: String) {
        let view = self.view();
        let page = |ui: &mut egui::Ui| screens::lesson_page(ui, &view);
        self.picture = Some(picture::page(ctx, name, screens::LESSON_PAGE, page));
    }

    /// Writes a picture that has come, and says so.
    pub(super) fn keep_picture(&mut self, ctx: &egui::Context) {
        match self.picture.take().map(picture::taken) {
            None => {}
            Some(Err(asked)) => self.picture = Some(asked),
            Some(Ok(taken)) => {
                let scale = ctx.pixels_per_point();
                let (name, image) = (&taken.name, &taken.image);
                let kept = match taken.part {
                    Part::Only(area) => {
                        let image = image.region(&area, Some(scale));
                        effects::keep_picture(&self.root, name, &image, 0.0)
                    }
                    Part::RightOf(left) => {
                        effects::keep_picture(&self.root, name, image, left * scale)
                    }
                    Part::Whole => effects::keep_picture(&self.root, name, image, 0.0),
                };
                self.act(ctx, Command::Tell(kept));
            }
        }
    }
}
