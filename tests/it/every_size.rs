//! Every screen in every size and both themes.
//!
//! What a screen should look like when something is special on it stands with the tests of that
//! screen; here nothing may be cut off, whatever the window.

use crate::{desk::Desk, picture, shell};
use egui::Theme;
use egui_kittest::SnapshotResults;
use gapwright::workbench::{Command, Screen};

const SIZES: [[f32; 2]; 3] = [[1024.0, 768.0], [1280.0, 800.0], [1600.0, 1000.0]];

#[test]
fn every_screen_in_every_size_and_theme_looks_as_accepted() {
    let mut results = SnapshotResults::new();
    let mut screens = shell::screens();
    screens.push(("setup", vec![Command::Go(Screen::Setup)]));
    for size in SIZES {
        for (theme, light) in [(Theme::Light, "light"), (Theme::Dark, "dark")] {
            let mut desk = Desk::pictured(size, theme);
            for (name, at) in &screens {
                for command in at {
                    desk.act(command.clone());
                }
                let name = format!("every/{name}-{}-{light}", size[0]);
                desk.window.snapshot_options(name, &picture::options());
            }
            results.extend_harness(&mut desk.window);
        }
    }
}
