//! Nothing that a person must read in full ends in an ellipsis or at an edge.
//!
//! Every screen, page and form in the smallest window that the program is made for, in each
//! language: what is painted is read off the frame, so no widget can hide that it gave way.

use crate::desk::Desk;
use egui::{Rect, Shape, Theme, epaint::TextShape};
use egui_kittest::kittest::Queryable as _;
use gapwright::{
    brief::{decision::tell_all, plain},
    domain::{
        machine::{LineId, ShearId},
        quantity::Length,
    },
    language::{self, Language},
    workbench::{Command, Decide, DecideView, Kin, Screen, Setup, SetupPage, StudyStep, TrendView},
};
use std::collections::{BTreeMap, BTreeSet};

const SMALL: [f32; 2] = [1024.0, 768.0];

/// What a reader of `language` calls what English calls `english`.
fn known(english: &'static str) -> String {
    language::told(english).to_owned()
}

/// What is looked at of each machine: lines on Decide and Trend, and more on Trend.
const MACHINES: [(&str, &[LineId]); 3] = [
    ("wren", &[LineId::G, LineId::S]),
    ("dunlin", &[LineId::T, LineId::J]),
    ("heron", &[LineId::G, LineId::P, LineId::S, LineId::F, LineId::J]),
];

/// Walks to everything that can be looked at, and looks.
fn tour(mut look: impl FnMut(&str, &Desk)) {
    let mut desk = Desk::pictured(SMALL, Theme::Light);
    machines(&mut desk, &mut look);
    forms(&mut desk, &mut look);
    pages(&mut desk, &mut look);
    visit(&mut desk, &mut look);
}

fn machines(desk: &mut Desk, look: &mut impl FnMut(&str, &Desk)) {
    for (id, lines) in MACHINES {
        desk.act(Command::ChooseMachine(ShearId::new(id).unwrap()));
        for line in lines {
            desk.act(Command::Go(Screen::Decide));
            desk.act(Command::ChooseLine(*line));
            look(&format!("decide {id} {line}"), desk);
            desk.act(Command::Go(Screen::Trend));
            look(&format!("trend {id} {line}"), desk);
        }
        for view in [
            TrendView::Signals,
            TrendView::Compare(Kin::Stations),
            TrendView::Compare(Kin::Times),
            TrendView::Compare(Kin::Lines),
            TrendView::Compare(Kin::Machines),
        ] {
            desk.act(Command::SetTrendView(view));
            look(&format!("trend {id} {view:?}"), desk);
        }
        desk.act(Command::SetTrendView(TrendView::Growth));
        desk.act(Command::Go(Screen::Decide));
        for view in [DecideView::Plan, DecideView::Parts] {
            desk.act(Command::Decide(Decide::Show(view)));
            look(&format!("{view:?} {id}"), desk);
        }
        desk.act(Command::Decide(Decide::Show(DecideView::Jobs)));
        for screen in [Screen::Yard, Screen::Heat] {
            desk.act(Command::Go(screen));
            look(&format!("{screen:?} {id}"), desk);
        }
    }
}

fn forms(desk: &mut Desk, look: &mut impl FnMut(&str, &Desk)) {
    desk.act(Command::Go(Screen::Decide));
    desk.act(Command::ChooseLine(LineId::S));
    desk.tap(&known("Record work done"));
    look("record", desk);
    desk.tap(&known("Not yet"));
    desk.act(Command::ChooseLine(LineId::P));
    desk.window.get_by_label(&known("Blades swapped…")).scroll_to_me();
    desk.window.run();
    desk.tap(&known("Blades swapped…"));
    look("swap", desk);
}

fn pages(desk: &mut Desk, look: &mut impl FnMut(&str, &Desk)) {
    for page in SetupPage::ALL {
        desk.act(Command::Go(Screen::Setup));
        desk.act(Command::Setup(Setup::Page(page)));
        look(&format!("setup {page:?}"), desk);
    }
    for key in [egui::Key::F1, egui::Key::F2] {
        desk.press(key);
        look(&format!("page {key:?}"), desk);
        desk.press(egui::Key::Escape);
    }
    for key in [egui::Key::K, egui::Key::Comma] {
        desk.with_ctrl(key);
        look(&format!("page {key:?}"), desk);
        desk.press(egui::Key::Escape);
    }
    desk.act(Command::Study(StudyStep::Open));
    look("study", desk);
}

fn visit(desk: &mut Desk, look: &mut impl FnMut(&str, &Desk)) {
    desk.act(Command::Go(Screen::Measure));
    look("position", desk);
    desk.act(Command::PositionReached);
    desk.act(Command::TapLeaf(Length::from_um(300)));
    look("measure", desk);
    desk.press(egui::Key::F6);
    look("measure seen", desk);
    for _ in 0..20 {
        desk.press(egui::Key::PageDown);
    }
    look("signing", desk);
}

/// The texts of a frame that end in an ellipsis, or at a side of what holds them.
fn cut(desk: &Desk) -> BTreeSet<String> {
    let whole = reasons(desk);
    let mut found = BTreeSet::new();
    for clipped in &desk.window.output().shapes {
        texts(&clipped.shape, &mut |text| {
            let rect = text.visual_bounding_rect();
            let seen = clipped.clip_rect.intersect(rect);
            if !seen.is_positive() {
                return;
            }
            let words = &text.galley.job.text;
            if text.galley.elided && !whole.contains(words) {
                found.insert(format!("… {words}"));
            }
            if beyond(rect, clipped.clip_rect) && !scrolled_aside(clipped.clip_rect) {
                found.insert(format!("| {words}"));
            }
        });
    }
    found.extend(over_each_other(desk));
    found
}

/// Why something is to be done: lists cut a long one, since the sheet of the job says it whole.
fn reasons(desk: &Desk) -> BTreeSet<String> {
    let app = desk.window.state();
    let decisions = app.bench().yard().machines.iter().zip(app.decisions());
    let briefs = decisions.flat_map(|(it, decision)| tell_all(decision, &it.shear, desk.numbers()));
    briefs.flat_map(|it| it.reasons).map(|it| plain(&it.text)).collect()
}

/// Texts that are painted over others.
fn over_each_other(desk: &Desk) -> BTreeSet<String> {
    let mut seen: Vec<(Rect, String)> = Vec::new();
    let mut found = BTreeSet::new();
    for clipped in &desk.window.output().shapes {
        texts(&clipped.shape, &mut |text| {
            let rect = text.visual_bounding_rect().intersect(clipped.clip_rect).shrink(2.0);
            if !rect.is_positive() || text.galley.job.text.trim().is_empty() {
                return;
            }
            let words = &text.galley.job.text;
            for (other, under) in &seen {
                if rect.intersects(*other) && words != under {
                    found.insert(format!("× {under} / {words}"));
                }
            }
            seen.push((rect, words.clone()));
        });
    }
    found
}

/// The strip of small charts under a trend reaches to the edge of a narrow window and scrolls
/// sideways under it.
fn scrolled_aside(clip: Rect) -> bool {
    let [wide, tall] = SMALL;
    (clip.right() - (wide - 12.0)).abs() < 1.0 && tall * 0.7 < clip.top()
}

fn beyond(text: Rect, clip: Rect) -> bool {
    text.left() < clip.left() - 1.0 || clip.right() + 1.0 < text.right()
}

fn texts(shape: &Shape, found: &mut impl FnMut(&TextShape)) {
    match shape {
        Shape::Vec(shapes) => shapes.iter().for_each(|it| texts(it, found)),
        Shape::Text(text) => found(text),
        _ => {}
    }
}

fn nothing_is_cut(language: Language) {
    language::speak(language);
    let mut all: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    tour(|name, desk| {
        for text in cut(desk) {
            all.entry(text).or_default().insert(name.to_owned());
        }
    });
    assert!(all.is_empty(), "{all:#?}");
}

#[test]
fn nothing_is_cut_in_english() {
    nothing_is_cut(Language::English);
}

#[test]
fn nothing_is_cut_in_german() {
    nothing_is_cut(Language::German);
}
