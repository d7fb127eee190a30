//! The Trend screen, as somebody who reads it sees it.
//!
//! Long because each thing that can be asked of the screen is asked once.

use crate::desk::Desk;
use egui::{Key, Pos2, Theme, pos2, vec2};
use egui_kittest::{
    SnapshotResults,
    kittest::{NodeT as _, Queryable as _},
};
use gapwright::{
    brief::{Numbers, aside, plain, trend},
    domain::{
        decide::Reason,
        machine::{LineId, ShearId, StationId},
        quantity::LengthUnit,
    },
    workbench::{Command, Kin, Screen, Span, TrendView},
};

fn at_trend(size: [f32; 2], theme: Theme, machine: &str, line: LineId) -> Desk {
    let mut desk = Desk::open(size, theme);
    desk.act(Command::ChooseMachine(ShearId::new(machine).unwrap()));
    desk.act(Command::Go(Screen::Trend));
    desk.act(Command::ChooseLine(line));
    desk
}

#[test]
fn the_screen_looks_as_accepted() {
    let mut results = SnapshotResults::new();
    for (name, size, theme, machine, line) in [
        ("trend-light", [1600.0, 1000.0], Theme::Light, "heron", LineId::S),
        ("trend-dark", [1600.0, 1000.0], Theme::Dark, "heron", LineId::G),
        ("trend-1280", [1280.0, 800.0], Theme::Light, "dunlin", LineId::P),
        ("trend-1024", [1024.0, 768.0], Theme::Dark, "wren", LineId::T),
    ] {
        let mut desk = at_trend(size, theme, machine, line);
        desk.names_are_unique();
        desk.window.snapshot(name);
        results.extend_harness(&mut desk.window);
    }
}

#[test]
fn two_stations_and_inches_look_as_accepted() {
    let mut results = SnapshotResults::new();
    let mut desk = at_trend([1600.0, 1000.0], Theme::Light, "heron", LineId::S);
    desk.tap("S2");
    desk.act(Command::SetSpan(Span::ThisEdge));
    tap_at(&mut desk, pos2(640.0, 380.0));
    desk.window.remove_cursor();
    desk.window.run();
    desk.window.snapshot("trend-two");
    results.extend_harness(&mut desk.window);
    let mut desk = at_trend([1280.0, 800.0], Theme::Light, "dunlin", LineId::F);
    desk.act(Command::SetUnit(LengthUnit::Inch));
    desk.act(Command::SetSpan(Span::All));
    desk.window.snapshot("trend-inch");
    results.extend_harness(&mut desk.window);
}

/// A finger at one point of the window.
fn tap_at(desk: &mut Desk, at: Pos2) {
    desk.window.hover_at(at);
    desk.window.run();
    desk.window.drag_at(at);
    desk.window.run();
    desk.window.drop_at(at);
    desk.window.run();
}

#[test]
fn the_plot_is_dragged_read_and_brought_back_by_finger() {
    let mut desk = at_trend([1600.0, 1000.0], Theme::Light, "heron", LineId::S);
    let (machine, decision) = desk.machine("heron");
    let brief = trend::tell(&machine, &decision, LineId::S, desk.numbers()).unwrap();
    let value = |desk: &Desk| {
        let plot = desk.window.get_by_label(&brief.axis);
        plot.accesskit_node().value().unwrap_or_default()
    };
    let area = desk.window.get_by_label(&brief.axis).rect();
    assert!(desk.window.query_by_label("Whole view").is_none());
    // From the middle to the right: the newest readings leave, older ones come.
    let (from, to) = (area.center(), area.center() + vec2(260.0, 0.0));
    desk.window.drag_at(from);
    desk.window.run();
    desk.window.hover_at(to);
    desk.window.run();
    desk.window.drop_at(to);
    desk.window.run();
    // A notice that comes above the plot does not forget the place.
    desk.tap("Table");
    desk.window.get_by_label("Whole view");
    desk.tap("Understood");
    desk.tap("Whole view");
    desk.window.run();
    assert!(desk.window.query_by_label("Whole view").is_none());

    // The newest reading stands where today's line is: about nine tenths along.
    assert!(!value(&desk).contains("between"));
    for share in [0.80, 0.81, 0.82, 0.83] {
        let at = pos2(area.left() + share * area.width(), area.top() + 0.30 * area.height());
        tap_at(&mut desk, at);
    }
    desk.window.remove_cursor();
    desk.window.run();
    let read = value(&desk);
    assert!(read.starts_with("S4 at 4") && read.contains("between"), "{read}");
}

/// The row of a station in the table, as a screen reader says it.
fn row(desk: &Desk, station: &str) -> String {
    let label = format!("{station} growth");
    let row = desk.window.get_by_label(&label);
    row.accesskit_node().description().unwrap_or_default()
}

#[test]
fn the_table_says_what_the_brief_says() {
    let desk = at_trend([1600.0, 1000.0], Theme::Light, "heron", LineId::S);
    let (machine, decision) = desk.machine("heron");
    let brief = trend::tell(&machine, &decision, LineId::S, desk.numbers()).unwrap();
    for station in &brief.stations {
        assert_eq!(row(&desk, &station.station.to_string()), station.spoken);
    }
    let advice = format!("{}. {}", brief.advice.title, plain(&brief.advice.text));
    desk.window.get_by_label(&advice);
    let fit = decision.line(LineId::S).unwrap().stations[3].trend.fit.clone().unwrap();
    let growth = desk.numbers().rate(fit.rate());
    assert!(row(&desk, "S4").contains(&growth), "{growth}");
    assert!((0.004..0.007).contains(&fit.rate()), "secondary blades grow by about 5 µm an hour");
}

#[test]
fn a_station_that_joins_does_not_drive_the_first_one_out() {
    let shown = |desk: &Desk| -> Vec<String> {
        desk.window.state().bench().trend_stations().iter().map(ToString::to_string).collect()
    };
    let mut desk = at_trend([1280.0, 800.0], Theme::Light, "heron", LineId::S);
    assert_eq!(shown(&desk), Vec::<String>::new(), "the worst one, because nobody chose");
    desk.tap("S4");
    assert_eq!(shown(&desk), Vec::<String>::new(), "the only one stays");
    desk.tap("S2");
    assert_eq!(shown(&desk), ["S2", "S4"]);
    desk.tap("S3 growth");
    assert_eq!(shown(&desk), ["S3"], "a row of the table shows its station alone");
    desk.tap("hours All");
    assert_eq!(desk.window.state().bench().span(), Span::All);
    desk.tap("trend of G guide blade");
    assert_eq!(desk.window.state().bench().line(), Some(LineId::G));
    desk.tap("line J");
    assert_eq!(desk.window.state().bench().line(), Some(LineId::J));
}

#[test]
fn readings_are_read_off_with_the_keys_and_with_both_leaves() {
    let mut desk = at_trend([1600.0, 1000.0], Theme::Light, "heron", LineId::S);
    let (machine, decision) = desk.machine("heron");
    let brief = trend::tell(&machine, &decision, LineId::S, desk.numbers()).unwrap();
    let plot = |desk: &Desk| -> String {
        let plot = desk.window.get_by_label(&brief.axis);
        plot.accesskit_node().value().unwrap_or_default()
    };
    let points = &decision.line(LineId::S).unwrap().stations[3].trend.observations;
    let station = decision.line(LineId::S).unwrap().stations[3].station;
    let said =
        |back: usize| trend::reading(station, &points[points.len() - 1 - back], desk_numbers());
    // A tap on the plot is enough; nobody has to find it with Tab.
    desk.window.get_by_label(&brief.axis).click();
    desk.window.run();
    for (key, back) in [(Key::ArrowLeft, 0), (Key::ArrowLeft, 1), (Key::ArrowRight, 0)] {
        desk.window.key_press(key);
        desk.window.run();
        assert_eq!(plot(&desk), said(back));
        assert!(plot(&desk).contains("between"), "never only a midpoint");
    }
}

fn desk_numbers() -> Numbers {
    Numbers::default()
}

#[test]
fn a_machine_that_nobody_measured_says_so_and_leads_to_the_stations() {
    let mut desk = Desk::fresh([1024.0, 768.0]);
    for (screen, next) in [(Screen::Trend, Screen::Measure), (Screen::Decide, Screen::Measure)] {
        desk.act(Command::Go(screen));
        desk.window.get_by_label("Nothing measured yet");
        desk.tap("Measure this machine");
        assert_eq!(desk.window.state().bench().screen(), next);
    }
}

#[test]
fn after_work_the_hours_left_are_unknown_until_somebody_measures() {
    let mut desk = at_trend([1280.0, 800.0], Theme::Light, "heron", LineId::S);
    let (machine, decision) = desk.machine("heron");
    let work = decision.line(LineId::S).unwrap().as_work(&machine.shear);
    desk.act(Command::RecordWork(work));
    let said = row(&desk, "S4");
    assert!(said.ends_with("measure again"), "{said}");
    let notes = desk.window.query_all_by_label_contains("Work has moved this gap since");
    assert!(0 < notes.count());
}

#[test]
fn charts_and_comparisons_look_as_accepted() {
    let mut results = SnapshotResults::new();
    for (name, size, theme, view) in [
        ("trend-signals", [1600.0, 1000.0], Theme::Light, TrendView::Signals),
        ("trend-compare", [1280.0, 800.0], Theme::Dark, TrendView::Compare(Kin::Machines)),
    ] {
        let mut desk = at_trend(size, theme, "wren", LineId::T);
        desk.act(Command::SetTrendView(view));
        desk.names_are_unique();
        desk.window.snapshot(name);
        results.extend_harness(&mut desk.window);
    }
}

/// The jaw of the sample's Wren spread between two visits; nobody worked on it.
#[test]
fn a_break_that_nobody_wrote_down_is_offered_and_its_readings_signal() {
    let mut desk = at_trend([1600.0, 1000.0], Theme::Light, "wren", LineId::T);
    let found = desk.window.query_all_by_label_contains("and no work is recorded").count();
    assert!(0 < found, "on the growth view");
    desk.tap("view Signals");
    assert!(0 < desk.window.query_all_by_label_contains("and no work is recorded").count());
    desk.window.get_by_label("Control charts of T2");
    let step = "A step from one reading to the next that chance makes about once in 100";
    desk.window.get_by_label_contains(step).focus();
    desk.window.run();
    desk.window.key_press(Key::Enter);
    desk.window.run();
    let picked = desk.window.state().bench().picked().cloned().unwrap();
    assert_eq!(picked.0.to_string(), "T2");
    let (machine, decision) = desk.machine("wren");
    let trend = &decision.line(LineId::T).unwrap().stations[1].trend;
    let place = trend.observations.iter().position(|it| it.session == picked.1).unwrap();
    assert_eq!(trend.changes[0].place, place, "the first reading behind the break");
    let said = aside::whence(&machine.history, &picked.1, desk.numbers());
    desk.window.get_by_label(&said);
    desk.tap("Put away");
    assert_eq!(desk.window.state().bench().picked(), None);
}

#[test]
fn comparisons_are_told_in_words_and_one_of_them_is_drawn() {
    let mut desk = at_trend([1280.0, 800.0], Theme::Light, "heron", LineId::S);
    desk.tap("view Compare");
    for asked in [
        "S4 before and after work",
        "The lines of Heron",
        "S secondary blades of all machines",
        "The stations of S secondary blades",
    ] {
        desk.tap(asked);
        desk.window.get_by_label(&format!("{asked}: growth"));
    }
    desk.tap("S secondary blades of all machines");
    desk.window.get_by_label_contains("Heron: ");
    desk.window.get_by_label_contains("Dunlin: ");
    desk.tap("line J");
    desk.tap("The stations of J guide pads");
    assert!(0 < desk.window.query_all_by_label_contains("show no difference").count());
}

#[test]
fn every_model_that_was_tried_stands_with_its_score_on_demand() {
    let mut desk = at_trend([1600.0, 1000.0], Theme::Light, "dunlin", LineId::P);
    let shown = |desk: &Desk| desk.window.query_all_by_label_contains(": score ").count();
    assert_eq!(shown(&desk), 0);
    desk.tap("How lines were chosen");
    assert!(2 <= shown(&desk));
    let chosen = desk.window.query_all_by_label_contains(", chosen").count();
    assert_eq!(chosen, 1);
    desk.tap("Hide how lines were chosen");
    assert_eq!(shown(&desk), 0);
}

#[test]
fn the_budget_of_any_reading_of_the_log_can_be_opened() {
    let mut desk = at_trend([1280.0, 800.0], Theme::Light, "heron", LineId::S);
    let (machine, _) = desk.machine("heron");
    let at: StationId = "S4".parse().unwrap();
    let old = machine.history.readings[&at].first().unwrap().session.clone();
    desk.act(Command::PickReading(Some((at, old))));
    assert!(desk.window.query_by_label("place between the two leaves").is_none());
    desk.tap("How sure is it?");
    assert!(desk.window.query_all_by_label("place between the two leaves").next().is_some());
    assert!(desk.window.query_by_label_contains("holds the gap with").is_some());
    desk.tap("Hide how sure it is");
    assert!(desk.window.query_by_label_contains("holds the gap with").is_none());
}

#[test]
fn a_reading_is_set_aside_with_a_reason_stays_in_sight_and_counts_again() {
    let mut desk = at_trend([1600.0, 1000.0], Theme::Light, "heron", LineId::S);
    let state = |desk: &Desk| {
        let (_, decision) = desk.machine("heron");
        decision.line(LineId::S).unwrap().stations[3].clone()
    };
    let before = state(&desk);
    let point = before.trend.observations[before.trend.observations.len() - 3].clone();
    desk.act(Command::PickReading(Some((before.station, point.session.clone()))));
    desk.tap("Set aside");
    desk.tap("Set aside for this reason");
    assert_eq!(state(&desk), before, "without a reason nothing happens");
    desk.tap("dirt or a burr in the gap");
    desk.tap("Set aside for this reason");
    let after = state(&desk);
    assert_eq!(after.trend.observations.len(), before.trend.observations.len(), "still drawn");
    let (fit, was) = (after.trend.fit.as_ref().unwrap(), before.trend.fit.as_ref().unwrap());
    assert_eq!((fit.n, after.cold), (was.n - 1, before.cold), "the verdict stays");
    let reason = "dirt or a burr in the gap";
    let said: Vec<_> = after.trend.set_aside().map(|it| it.set_aside.as_deref()).collect();
    assert_eq!(said, [Some(reason)]);
    assert!(
        0 < desk
            .window
            .query_all_by_label_contains("1 reading set aside")
            .count()
            .max(desk.window.query_all_by_label_contains("One reading set aside").count())
    );
    desk.window.snapshot("trend-aside");
    let on_disk = desk.on_disk();
    let heron = on_disk.machine(&ShearId::new("heron").unwrap()).unwrap();
    let reread = heron.history.readings[&before.station].iter().filter(|it| it.set_aside.is_some());
    assert_eq!(reread.count(), 1, "it is on disk");
    desk.tap("Count it again");
    assert_eq!(state(&desk).trend, before.trend);
}

/// The spread jaw again: with the break taken up, growth is that of the time behind it.
#[test]
fn a_line_begins_anew_at_a_break_and_the_break_is_taken_back() {
    let mut desk = at_trend([1600.0, 1000.0], Theme::Light, "wren", LineId::T);
    let rate = |desk: &Desk| {
        let (_, decision) = desk.machine("wren");
        let trend = &decision.line(LineId::T).unwrap().stations[1].trend;
        (trend.fit.as_ref().unwrap().rate(), trend.changes.len())
    };
    let foreseen = |desk: &Desk| {
        let (machine, decision) = desk.machine("wren");
        let state = &decision.line(LineId::T).unwrap().stations[1];
        state.prior(machine.history.last().unwrap().meter).is_some()
    };
    assert!(!foreseen(&desk), "no leaf is chosen by a line that runs through the break");
    let before = rate(&desk);
    assert!(0.004 < before.0 && before.1 == 1, "{before:?}");
    desk.tap("Begin the line anew here");
    let chosen = desk.window.state().bench().trend_stations();
    assert_eq!(chosen.iter().map(ToString::to_string).collect::<Vec<_>>(), ["T2"], "it stays");
    let after = rate(&desk);
    assert!(after.0 < 0.002 && after.1 == 0, "{after:?}");
    assert!(foreseen(&desk));
    let (_, decision) = desk.machine("wren");
    let told = decision.lines.iter().flat_map(|line| &line.reasons);
    let spread = |it: &Reason| matches!(it, Reason::JawSpread(_));
    assert!(told.into_iter().any(spread), "the jaw is still spread");
    let label = desk.window.query_all_by_label_contains("Take the break at").next().unwrap();
    label.click();
    desk.window.run();
    assert_eq!(rate(&desk), before);
}

#[test]
fn what_is_shown_is_kept_as_a_table_and_as_a_drawing() {
    let mut desk = at_trend([1280.0, 800.0], Theme::Light, "heron", LineId::S);
    desk.tap("Table");
    let table = std::fs::read_to_string(desk.root().join("tables/heron-growth.csv")).unwrap();
    let (_, decision) = desk.machine("heron");
    let state = &decision.line(LineId::S).unwrap().stations[3];
    let fit = state.trend.fit.as_ref().unwrap();
    let newest: Vec<&str> =
        table.lines().rfind(|row| row.starts_with("heron,S,S4,")).unwrap().split(',').collect();
    let head: Vec<&str> = table.lines().next().unwrap().split(',').collect();
    let cell = |name: &str| newest[head.iter().position(|it| *it == name).unwrap()];
    assert_eq!(cell("rate_mm_per_h"), fit.rate().to_string(), "every digit");
    assert_eq!(cell("hours_low_h"), state.hours.unwrap().low_h.unwrap().to_string());
    assert_eq!(cell("limit"), "working_max");
    assert!(!table.contains("NaN"));

    desk.tap("Drawing");
    desk.window.run();
    let svg = std::fs::read_to_string(desk.root().join("pictures/heron-S-growth.svg")).unwrap();
    assert!(svg.starts_with("<svg ") && svg.ends_with("</svg>\n"));
    for event in xml::EventReader::from_str(&svg) {
        event.expect("the drawing is well-formed XML");
    }
    for words in ["Both blades turned", "service hours", "stop 1.60"] {
        assert!(svg.contains(&format!(">{words}</text>")), "{words}");
    }
    for title in [
        "Cold gap at 20 °C, S secondary blades, mm",
        "Heron, carrier 07, quay: growth at S4 (secondary blades)",
        "Up to session 48 of Tue 24 Nov, 14:40, hour meter",
        "Made 24 Nov 2026",
    ] {
        assert!(svg.contains(title), "{title}");
    }
    for other in ["Measure", "Guide pads", "Picture", "Signals", "Hour meter", "550 h"] {
        assert!(!svg.contains(&format!(">{other}</text>")), "{other} is no part of the chart");
    }
    let bars = svg.matches("<rect").count();
    let readings = state.trend.observations.len();
    assert!(readings < bars, "{bars} rectangles, {readings} readings of S4 alone");
    assert_eq!(svg.matches("NaN").count(), 0);
}

#[test]
fn growth_is_counted_against_tonnes_and_cuts_where_visits_read_them() {
    let mut desk = at_trend([1600.0, 1000.0], Theme::Light, "heron", LineId::S);
    let by_hours = row(&desk, "S4");
    assert!(by_hours.contains("µm/h"), "{by_hours}");
    desk.tap("along tonnes");
    let by_tonnes = row(&desk, "S4");
    assert!(by_tonnes.contains("µm/t") && by_tonnes.contains('t'), "{by_tonnes}");
    desk.window.snapshot("trend-tonnes");
    desk.tap("view Signals");
    assert!(0 < desk.window.query_all_by_label_contains("Control charts of S4").count());
    desk.tap("view Growth");
    desk.tap("along cuts");
    assert!(row(&desk, "S4").contains("µm/1000"), "{}", row(&desk, "S4"));
    // Actions follow from hours, whatever the plot counts.
    desk.act(Command::Go(Screen::Decide));
    desk.act(Command::Go(Screen::Trend));
    desk.tap("along hours");
    assert_eq!(row(&desk, "S4"), by_hours);
}

/// Filed for a report: the same page from a small dark window and a large light one, and whoever
/// finds it knows what it is of.
#[test]
fn a_picture_is_a_page_that_says_what_it_is() {
    let page = |size, theme, view| {
        let mut desk = at_trend(size, theme, "wren", LineId::T);
        desk.act(Command::SetTrendView(view));
        desk.window.run();
        let file = desk.kept_picture();
        image::open(&file).unwrap().into_rgba8()
    };
    let small = page([1024.0, 768.0], Theme::Dark, TrendView::Growth);
    assert_eq!(small.dimensions(), (1_860, 1_170));
    let large = page([1600.0, 1000.0], Theme::Light, TrendView::Growth);
    assert!(small == large, "the window's size and theme are not on the page");
    let options = crate::picture::options();
    egui_kittest::try_image_snapshot_options(&small, "trend-page", &options).unwrap();
    let signals = page([1024.0, 768.0], Theme::Light, TrendView::Signals);
    egui_kittest::try_image_snapshot_options(&signals, "trend-page-signals", &options).unwrap();
}
