//! The title block of Decide and Trend: which machine, and the arrows to the others.

use crate::{
    brief::head::Head,
    gui::{
        screens::{Arrangement, View},
        widgets::{Step, TitleCell, title_block, title_rows},
    },
    language::tell,
    workbench::Command,
};
use egui::Ui;

/// Paints the block; `last` is the caption and the value of its last cell. In a column what is read
/// less often is left to [`rest`].
pub(crate) fn show(
    ui: &mut Ui,
    view: &View<'_>,
    head: &Head,
    last: (&str, &str),
) -> Option<Command> {
    let strong = |value: &str| format!("**{value}**");
    let values =
        [&head.machine, &head.taken, &head.meter, &head.next_look].map(|value| strong(value));
    let captions = [tell!("Machine"), &head.session, tell!("Hour meter"), tell!("Next look")];
    let quiet = [&head.carrier, &head.stations, &head.since, &head.next_in].map(String::as_str);
    let mut cells = cells(captions, &values, quiet);
    let machines = &view.bench.yard().machines;
    if let Some(first) = cells.first_mut().filter(|_| 1 < machines.len()) {
        first.steps = Some([tell!("previous machine"), tell!("next machine")]);
    }
    cells.push(TitleCell { caption: last.0, value: last.1, ..Default::default() });
    if view.is_stacked() {
        cells.drain(1..3);
    }
    let step = block(ui, view, &cells)?;
    let here = view.bench.machine()?;
    let place = machines.iter().position(|it| it.shear.id == here.shear.id)?;
    let next = match step {
        Step::Less => (place + machines.len() - 1) % machines.len(),
        Step::More => (place + 1) % machines.len(),
    };
    Some(Command::ChooseMachine(machines.get(next)?.shear.id.clone()))
}

/// At the end of a column: which session, and the hours.
pub(crate) fn rest(ui: &mut Ui, head: &Head) {
    let [taken, meter] = [&head.taken, &head.meter].map(|value| format!("**{value}**"));
    let cell = |caption, value, quiet| TitleCell { caption, value, quiet, ..TitleCell::default() };
    let cells = [
        cell(head.session.as_str(), &taken, &head.stations),
        cell(tell!("Hour meter"), &meter, &head.since),
    ];
    ui.push_id("rest", |ui| title_rows(ui, &cells));
}

/// The block in one row, or in as many as it needs where parts stand one under the other.
pub(super) fn block(ui: &mut Ui, view: &View<'_>, cells: &[TitleCell<'_>]) -> Option<Step> {
    match view.arranged {
        Arrangement::Wide => title_block(ui, cells),
        Arrangement::Stacked => title_rows(ui, cells),
    }
}

/// Four cells of a title block: a caption, a value, and a quiet word beside it.
pub(super) fn cells<'c>(
    captions: [&'c str; 4],
    values: &'c [String; 4],
    quiet: [&'c str; 4],
) -> Vec<TitleCell<'c>> {
    let told = captions.into_iter().zip(values).zip(quiet);
    told.map(|((caption, value), quiet)| TitleCell { caption, value, quiet, ..Default::default() })
        .collect()
}
