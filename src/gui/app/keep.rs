//! What the window shows, kept for a report: the job sheet, tables, pictures and drawings.

use crate::{
    brief::{Numbers, plan, sheet},
    domain::{machine::ShearId, trend::Axis},
    exchange,
    gui::{
        app::App,
        effects,
        picture::{self, Part},
        screens, vector,
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

    /// Writes a machine's job sheet and says where it is; named after the newest session in it.
    pub(super) fn make_sheet(&self, shear: &ShearId) -> Option<Command> {
        let machine = self.bench.yard().machine(shear)?;
        let decision = self.decisions.iter().find(|it| it.shear == *shear)?;
        let n = Numbers { unit: self.bench.unit(), zone: self.around.zone, per: Axis::Hours };
        let program = concat!("Gapwright ", env!("CARGO_PKG_VERSION"));
        let told = sheet::tell(machine, decision, &self.bench.yard().settings, n, program);
        let ahead = self.ahead.get(shear).zip(self.supply.as_ref());
        let told = match ahead {
            Some((ahead, supply)) => {
                let plan = self.bench.decide().overrule(&ahead.plan);
                let brief = plan::tell(&plan, supply, &machine.shear, self.bench.yard(), n);
                told.with_plan(brief).named_after(&plan)
            }
            None => told,
        };
        Some(Command::Tell(effects::keep_sheet(&self.root, &told.file, &told)))
    }

    /// Keeps what this frame has painted as a drawing, and says so: of Trend its page, of another
    /// screen what is right of the rail.
    pub(super) fn draw_screen(&self, ui: &egui::Ui, name: &str) -> Command {
        let svg = if self.bench.screen() == Screen::Trend {
            let frame = egui::Rect::from_min_size(egui::Pos2::ZERO, screens::TREND_PAGE);
            vector::svg(self.trend_page(ui.ctx()).shapes.iter(), frame)
        } else {
            let mut frame = ui.ctx().content_rect();
            frame.set_left(frame.left() + crate::gui::widgets::RAIL_WIDTH);
            let layer = ui.layer_id();
            ui.ctx().graphics(|all| {
                let painted = all.get(layer).into_iter().flat_map(PaintList::all_entries);
                vector::svg(painted, frame)
            })
        };
        Command::Tell(effects::keep_drawing(&self.root, name, &svg))
    }

    /// Asks for a picture: of Trend its page, of another screen the pixels right of the rail.
    pub(super) fn take_picture(&mut self, ctx: &egui::Context, name: String) {
        let rail = if self.projected { 0.0 } else { crate::gui::widgets::RAIL_WIDTH };
        self.picture = Some(if self.bench.screen() == Screen::Trend {
            picture::page(ctx, name, self.trend_page(ctx))
        } else {
            picture::ask(ctx, name, Part::RightOf(rail))
        });
    }

    /// What the Trend screen shows, on a page that says what it is, the same whatever the window's
    /// size is.
    fn trend_page(&self, ctx: &egui::Context) -> picture::Page {
        let (view, hours) = (self.view(), screens::trend_hours(ctx));
        picture::lay_out(screens::TREND_PAGE, |ui| screens::trend_page(ui, &view, hours))
    }

    /// Asks for a page of the lesson in hand, the same whatever the window's size is.
    pub(super) fn take_lesson(&mut self, ctx: &egui::Context, name: String) {
        let view = self.view();
        let page = picture::lay_out(screens::LESSON_PAGE, |ui| screens::lesson_page(ui, &view));
        self.picture = Some(picture::page(ctx, name, page));
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
