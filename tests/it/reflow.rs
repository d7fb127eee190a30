//! At large text, or in a small window, everything is read and reached by scrolling up and down
//! alone (WCAG 2.2, 1.4.10).

use crate::{
    access::{self, Place},
    desk::Desk,
};
use egui::{Key, Shape, Theme, accesskit::Role};
use egui_kittest::{Node, kittest::NodeT as _};
use gapwright::{
    domain::{machine::LineId, quantity::Length},
    language::{self, Language},
    workbench::{Command, Decide, DecideView, Kin, Screen, StudyStep, TrendView},
};
use std::collections::BTreeSet;

/// Windows in points: 1280 × 800, 1600 × 1000 and 1024 × 768 at twice the size.
const SIZES: [[f32; 2]; 3] = [[640.0, 400.0], [800.0, 500.0], [512.0, 384.0]];

/// Every screen and page, and what stands on them further on.
fn places() -> Vec<Place> {
    let go = Command::Go;
    let measure = [go(Screen::Measure), Command::PositionReached];
    let entry = [Command::TapLeaf(Length::from_um(300)), Command::Goes];
    let study = [
        StudyStep::Open,
        StudyStep::ToggleStation("J1".parse().unwrap()),
        StudyStep::ToggleStation("P1".parse().unwrap()),
        StudyStep::TogglePerson("MR".to_owned()),
        StudyStep::TogglePerson("LB".to_owned()),
        StudyStep::TogglePerson("TA".to_owned()),
        StudyStep::Start,
    ];
    let study = study.map(Command::Study).to_vec();
    let further = [
        ("signing", [&measure[..], &[Command::SignOff]].concat()),
        ("second leaf", [&measure[..], &entry].concat()),
        ("jobs", vec![go(Screen::Decide), Command::ChooseLine(LineId::S)]),
        ("plan", vec![go(Screen::Decide), Command::Decide(Decide::Show(DecideView::Plan))]),
        ("parts", vec![go(Screen::Decide), Command::Decide(Decide::Show(DecideView::Parts))]),
        ("signals", vec![go(Screen::Trend), Command::SetTrendView(TrendView::Signals)]),
        (
            "compare",
            vec![go(Screen::Trend), Command::SetTrendView(TrendView::Compare(Kin::default()))],
        ),
        ("study moves", study.clone()),
        ("study begun", [study, vec![Command::Study(StudyStep::PositionReached)]].concat()),
    ];
    let further = further.map(|(name, at)| (name.to_owned(), at, Vec::new()));
    access::places().into_iter().chain(further).collect()
}

/// What lies in the window and beyond its foot, and runs out of its sides.
fn runs_out(desk: &Desk, width: f32) -> BTreeSet<String> {
    let mut wrong = BTreeSet::new();
    let mut typed = BTreeSet::new();
    for node in desk.window.root().children_recursive() {
        let data = node.accesskit_node();
        if matches!(data.role(), Role::TextInput | Role::MultilineTextInput) {
            typed.extend(data.value());
        }
        let says = data.label().or_else(|| data.value()).unwrap_or_default();
        let Some(bounds) = data.data().bounds().filter(|_| !says.is_empty()) else { continue };
        let (from, to) = (bounds.x0, bounds.x1);
        let run = data.role() == Role::TextRun;
        if !run && (from < -0.5 || f64::from(width) + 0.5 < to) {
            wrong.insert(format!("{:?} “{says}”: {from:.0} to {to:.0}", data.role()));
        }
    }
    // Letters that somebody is to read are not cut off at a side; a field scrolls what is typed.
    for it in &desk.window.output().shapes {
        let Shape::Text(text) = &it.shape else { continue };
        let at = text.galley.rect.translate(text.pos.to_vec2());
        let clip = it.clip_rect;
        let off = at.left() < clip.left() - 1.5 || clip.right() + 1.5 < at.right();
        let says = text.galley.text();
        let seen = clip.y_range().intersects(at.y_range()) && clip.width() != 0.0;
        if seen && off && !text.galley.is_empty() && !typed.contains(says) {
            let (at, clip) = (at.x_range(), clip.x_range());
            wrong.insert(format!("letters “{says}” {at:?} in {clip:?}"));
        }
    }
    wrong
}

fn look_for_faults(sizes: &[[f32; 2]]) -> Vec<String> {
    let mut wrong = Vec::new();
    for [width, _] in sizes {
        // So high that nothing waits to be scrolled to.
        let mut desk = Desk::open([*width, 6_000.0], Theme::Light);
        for (name, at, by_hand) in places() {
            access::go(&mut desk, &at, &by_hand);
            let out = runs_out(&desk, *width);
            let out = out.into_iter().chain(too_small(&desk));
            wrong.extend(out.map(|it| format!("{name} {width}: {it}")));
            desk.press(Key::Escape);
        }
    }
    wrong
}

#[test]
fn nothing_runs_out_of_the_sides_of_a_small_window() {
    let wrong = look_for_faults(&SIZES);
    assert!(wrong.is_empty(), "{}: {}", wrong.len(), wrong.join("\n"));
}

#[test]
fn nothing_runs_out_of_the_sides_in_german() {
    language::speak(Language::German);
    let wrong = look_for_faults(&SIZES);
    assert!(wrong.is_empty(), "{}: {}", wrong.len(), wrong.join("\n"));
}

/// What is too small for a gloved finger.
fn too_small(desk: &Desk) -> Vec<String> {
    let all = access::tappable(desk).into_iter();
    let small = all.filter(|it| it.rect().width() < 43.9 || it.rect().height() < 43.9);
    small.map(|it| format!("“{}” is {:?}", access::label(&it), it.rect().size())).collect()
}

/// Where Tab goes, the window follows; and Tab goes everywhere.
#[test]
fn tab_brings_every_control_into_a_small_window() {
    let mut wrong = Vec::new();
    for place in places() {
        let [width, height] = SIZES[0];
        let mut desk = access::open(&place, [width, height]);
        let count = access::tappable(&desk).len();
        let mut visited = BTreeSet::new();
        // Far more than a page has says nothing more of it.
        for _ in 0..(count + 8).min(90) {
            desk.window.key_press(Key::Tab);
            (0..3).for_each(|_| desk.window.step());
            let all = access::tappable(&desk);
            let Some(node) = all.iter().find(|it| it.is_focused()) else { continue };
            let rect = node.rect();
            // What is higher than the window is seen in part.
            let part = (rect.height() / 2.0).min(20.0);
            let seen = rect.top() + part <= height && part <= rect.bottom();
            let label = access::label(node);
            if !seen && !visited.contains(&label) {
                wrong.push(format!("{}: “{label}” stands at {:?}", place.0, rect.y_range()));
            }
            visited.insert(label);
        }
        let all: BTreeSet<String> = access::tappable(&desk).iter().map(access::label).collect();
        let missed: Vec<&String> = all.difference(&visited).collect();
        if count < 80 && !missed.is_empty() {
            wrong.push(format!("{}: Tab never comes to {missed:?}", place.0));
        }
    }
    assert!(wrong.is_empty(), "{}: {}", wrong.len(), wrong.join("\n"));
}

/// Whoever chooses a job sees its sheet, which stands below the list.
#[test]
fn a_chosen_job_brings_its_sheet_into_a_small_window() {
    let [width, height] = SIZES[0];
    let place = (String::new(), vec![Command::Go(Screen::Decide)], Vec::new());
    let mut desk = access::open(&place, [width, height]);
    let rows = access::tappable(&desk);
    rows.iter().find(|it| access::label(it).starts_with("F Front blade")).unwrap().focus();
    desk.window.run();
    desk.press(Key::Space);
    assert_eq!(desk.window.state().bench().line(), Some(LineId::F));
    let said = |it: &Node<'_>| {
        let node = it.accesskit_node();
        node.label().or_else(|| node.value()).unwrap_or_default()
    };
    let mut nodes = desk.window.root().children_recursive();
    let title = nodes.find(|it| said(it).ends_with(": F Front blade")).unwrap().rect();
    assert!(0.0 <= title.top() && title.bottom() <= height, "{title:?}");
}
