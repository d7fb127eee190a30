//! What stands before the workbench: the page over the screen, and how the window looks.
//!
//! Both belong to the window and stay when another yard is opened in it.

use crate::{
    gui::{
        App,
        commands::{Deed, Page, Text},
        pages::{self, Sight},
        screens::{self, Arrangement, LEAST, View},
        theme,
    },
    language::{self, tell},
    store::{Colours, Look},
    workbench::{Command, Notice, Screen},
};
use egui::{Context, ScrollArea, Theme, Ui, UiBuilder};
use std::path::PathBuf;

/// The page in front, and the look.
#[derive(Clone, Debug, Default)]
pub(super) struct Front {
    pub(super) page: Option<Page>,
    pub(super) look: Look,
    /// The folder it is kept in; `None` for nowhere.
    folder: Option<PathBuf>,
    pub(super) dressed: bool,
    /// What was wrong with the kept look: told in the first frame, and once more when the log is
    /// there, if nobody has read it by then.
    pub(super) wrong: Option<Notice>,
}

impl Front {
    /// Dresses a window that is new.
    pub(super) fn dress(&mut self, ctx: &Context) -> Option<Command> {
        if self.dressed {
            return None;
        }
        theme::install(ctx);
        theme::wear(ctx, self.look);
        self.dressed = true;
        self.wrong.clone().map(Command::Tell)
    }
}

impl App {
    /// Looks as is kept in `folder`, and keeps it there when somebody chooses another look.
    #[must_use]
    pub fn looking(mut self, folder: Option<PathBuf>) -> Self {
        if let Some(kept) = &folder {
            match Look::read(kept) {
                Ok(look) => self.front.look = look,
                Err(issue) => {
                    self.front.wrong = Some(Notice {
                        fact: tell!(
                            "The window looks as usual: {what}.",
                            what = language::understood(&issue.what)
                        ),
                        next: format!(
                            "{}: {}.",
                            issue.path.display(),
                            language::understood(&issue.next)
                        ),
                        grave: false,
                    });
                }
            }
        }
        self.front.folder = folder;
        self
    }

    /// Speaks what is chosen; what was told in another language is told anew.
    fn speak(&mut self) {
        let language = pages::language_of(self.front.look, self.around.desktop);
        if language != language::spoken() {
            language::speak(language);
            self.stand();
        }
    }

    /// Dressed before its first frame, which then has its words.
    pub(crate) fn dressed(mut self, ctx: &Context) -> Self {
        self.speak();
        if let Some(command) = self.front.dress(ctx) {
            self.act(ctx, command);
        }
        self
    }

    /// The page in front, if there is one.
    pub(super) fn page(&self, ui: &mut Ui) -> Option<Vec<Deed>> {
        let kept = self.front.folder.as_deref();
        let arranged = Arrangement::of(ui.available_width());
        let sight = Sight { arranged, bench: &self.bench, look: self.front.look, kept };
        Some(pages::show(ui, self.front.page?, &sight))
    }

    /// The screen in front; where the window is too small for it, or text is large, its parts stand
    /// one under the other and scroll.
    pub(super) fn screen(&self, ui: &mut egui::Ui, view: &View<'_>) -> Vec<Command> {
        if self.is_in_doubt() && needs_decisions(view.bench.screen()) {
            let next = tell!("This machine's log has changed. What follows from it is worked out.");
            return screens::nothing(ui, tell!("One moment"), next, None);
        }
        let room = ui.available_size();
        let arranged = Arrangement::of(room.x);
        let fits = LEAST.x <= room.x && LEAST.y <= room.y;
        if self.projected || fits {
            return screens::show(ui, view);
        }
        if arranged == Arrangement::Stacked {
            return screens::show(ui, &View { arranged, ..*view });
        }
        let scrolled = ScrollArea::both().auto_shrink(false).show(ui, |ui| {
            let size = room.max(LEAST);
            let (rect, _) = ui.allocate_exact_size(size, egui::Sense::hover());
            screens::show(&mut child(ui, rect, "scrolled"), view)
        });
        scrolled.inner
    }

    /// Does what was asked for, of the window or of the workbench.
    pub(super) fn perform(&mut self, ctx: &Context, deed: Deed) {
        match deed {
            Deed::Ask(command) => {
                // Whoever goes to a screen wants to see it.
                if matches!(command, Command::Go(_)) {
                    self.front.page = None;
                }
                self.act(ctx, command);
            }
            Deed::Open(page) => {
                pages::forget(ctx);
                self.front.page = if self.front.page == Some(page) { None } else { Some(page) };
            }
            Deed::Close => self.front.page = None,
            Deed::Resize(text) => {
                let text_percent = resized(self.front.look.text_percent, text);
                self.wear(ctx, Look { text_percent, ..self.front.look });
            }
            Deed::SwapColours => {
                let colours = match ctx.theme() {
                    Theme::Light => Colours::Dark,
                    Theme::Dark => Colours::Light,
                };
                self.wear(ctx, Look { colours, ..self.front.look });
            }
            Deed::Wear(look) => self.wear(ctx, look),
        }
    }

    fn wear(&mut self, ctx: &Context, look: Look) {
        if look.colours == Colours::AsTheDesktop && self.front.look.colours != look.colours {
            ctx.set_theme(egui::ThemePreference::System);
        }
        self.front.look = look;
        theme::wear(ctx, look);
        self.speak();
        let Some(folder) = &self.front.folder else { return };
        if let Err(err) = look.keep(folder) {
            self.tell(
                tell!("The settings hold until the window is closed."),
                &format!("{}.", language::understood(&err.to_string())),
            );
        }
    }
}

/// A part of the window by itself.
pub(super) fn child(ui: &mut egui::Ui, rect: egui::Rect, salt: &str) -> egui::Ui {
    ui.new_child(UiBuilder::new().id_salt(salt).max_rect(rect))
}

/// Screens that say what follows from the log.
const fn needs_decisions(screen: Screen) -> bool {
    matches!(screen, Screen::Decide | Screen::Trend | Screen::Heat)
}

/// The next size of the few there are.
fn resized(percent: u16, text: Text) -> u16 {
    let mut sizes = Look::SIZES.into_iter();
    let to = match text {
        Text::Larger => sizes.find(|it| percent < *it),
        Text::Smaller => sizes.rfind(|it| *it < percent),
        Text::Usual => Some(Look::default().text_percent),
    };
    to.unwrap_or(percent)
}

#[test]
fn text_grows_step_by_step_and_not_beyond_its_ends() {
    assert_eq!(resized(100, Text::Larger), 125);
    assert_eq!(resized(200, Text::Larger), 200);
    assert_eq!(resized(175, Text::Smaller), 150);
    assert_eq!(resized(100, Text::Smaller), 100);
    assert_eq!(resized(175, Text::Usual), 100);
}
