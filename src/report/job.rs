//! One line of blades on paper: what to do, why, the gaps before and after, the bolts to tick.

use crate::{
    brief::{
        bolts::{BoltBrief, newton_metres},
        sheet::{SheetJob, SheetStation},
    },
    language::tell,
    report::{
        Item, Shade,
        faces::Faces,
        layout::{Block, Style},
    },
};

/// Where the action stands, and where the words begin.
const ACTION: f32 = 74.0;
const TICK: f32 = 9.0;

/// The block of one line.
pub(crate) fn draw(job: &SheetJob, faces: &Faces, room: f32) -> Block {
    let mut block = Block { height: 5.0, ..Block::default() };
    block.items.push(Item::line((0.0, 0.0), (room, 0.0), 1.0, Shade::Black));
    let brief = &job.brief;
    let width = room - ACTION;
    // On the left what to do and when, with a box to tick when it is done.
    let mut left = Block { height: 5.0, ..Block::default() };
    left.paragraph(
        faces,
        (0.0, ACTION - 8.0),
        brief.action_word,
        Style { size: 12.0, ..Style::STRONG },
    );
    left.paragraph(faces, (0.0, ACTION - 8.0), &brief.when, Style { size: 7.5, ..Style::BODY });
    if job.to_do {
        left.height += 4.0;
        tick(&mut left, 0.0, tell!("done"));
        left.height += TICK + 2.0;
    }
    let place = format!("**{}**  {}", brief.line, brief.place);
    block.paragraph(faces, (ACTION, width), &place, Style::BODY);
    block.paragraph(faces, (ACTION, width), &brief.headline, Style { size: 10.5, ..Style::STRONG });
    for told in &brief.reasons {
        block.sourced(faces, (ACTION, width), (&told.text, &told.source));
    }
    for mark in &brief.marks {
        block.paragraph(faces, (ACTION, width), mark, Style::BODY);
    }
    for blade in brief.edge_lines() {
        block.paragraph(faces, (ACTION, width), &blade, Style::BODY);
    }
    if let Some(causes) = &brief.causes {
        let first = causes.shown().next().map_or(&causes.head, |first| &first.text);
        block.sourced(faces, (ACTION, width), (first, &causes.source));
    }
    block.height += 2.0;
    table(&mut block, job, (ACTION, width));
    if job.to_do {
        for pack in &job.packs {
            block.paragraph(faces, (ACTION, width), pack, Style::BODY);
        }
        for note in &brief.notes {
            block.paragraph(faces, (ACTION, width), note, Style::BODY);
        }
        if let Some(told) = &brief.bolts {
            bolts(&mut block, faces, told, job.again.as_deref(), (ACTION, width));
        }
    }
    block.items.extend(left.items);
    block.height = block.height.max(left.height) + 3.0;
    block
}

/// A box to tick with a word behind it, its top at the present height.
fn tick(block: &mut Block, x: f32, word: &str) {
    let y = block.height;
    block.items.extend(Item::boxed((x, y), (TICK, TICK), Shade::White, 0.9));
    block.put(x + TICK + 3.0, y + TICK - 1.6, word, Style::BODY);
}

/// Stations as columns: name, the gap cold and hot with what that means, the same after the job,
/// and room for what is measured then.
fn table(block: &mut Block, job: &SheetJob, (x, width): (f32, f32)) {
    let stations = &job.stations;
    let columns = stations.len().max(1);
    let first = 78.0;
    let each = ((width - first) / f32::from(u8::try_from(columns).unwrap_or(u8::MAX))).min(84.0);
    let small = Style { size: 7.5, ..Style::BODY };
    let mut row = |head: &str, style: Style, of: &dyn Fn(&SheetStation) -> Option<String>| {
        if stations.iter().all(|it| of(it).is_none()) {
            return;
        }
        block.words(x, head, Style { shade: Shade::Grey, ..small });
        let mut at = x + first;
        for station in stations {
            block.words(at, &of(station).unwrap_or_else(|| "–".to_owned()), style);
            at += each;
        }
        block.height += style.leading();
    };
    row(tell!("Station"), Style { size: 7.5, ..Style::STRONG }, &|it| Some(it.name.clone()));
    row(tell!("Gap now"), Style::BODY, &|it| (!it.moved).then(|| it.now.clone()));
    row(tell!("Gap before the work"), Style::BODY, &|it| it.moved.then(|| it.now.clone()));
    row("", small, &|it| Some(it.verdict.to_owned()));
    let hot = if job.to_do { tell!("Hot before, about") } else { tell!("Hot, about") };
    row(hot, small, &|it| it.hot.clone());
    row(tell!("After, about"), Style::STRONG, &|it| it.after.clone());
    row(tell!("Hot after, about"), small, &|it| it.hot_after.clone());
    row(tell!("Measured"), small, &|_| job.measures.then(|| "________".to_owned()));
    block.height += 2.0;
}

/// Order and torque with a box for each bolt and each pass.
fn bolts(
    block: &mut Block,
    faces: &Faces,
    told: &BoltBrief,
    again: Option<&str>,
    (x, width): (f32, f32),
) {
    let order: Vec<String> = told.order.iter().map(ToString::to_string).collect();
    let again = again.unwrap_or_default();
    let words = tell!(
        "Bolts in the order **{order}**. {torque} {again}",
        order = order.join(" – "),
        torque = told.torque,
        again
    );
    block.paragraph(faces, (x, width), words.trim_end(), Style::BODY);
    let mut passes: Vec<String> =
        told.first.into_iter().chain(told.last).map(newton_metres).collect();
    if passes.is_empty() {
        passes.push(tell!("torque ______").to_owned());
    }
    if !again.is_empty() {
        passes.push(tell!("checked again").to_owned());
    }
    for pass in passes {
        block.height += 1.5;
        block.put(x, block.height + TICK - 1.6, &pass, Style { size: 7.5, ..Style::BODY });
        let mut at = x + 62.0;
        for bolt in &order {
            tick(block, at, bolt);
            at += 34.0;
        }
        block.height += TICK + 2.0;
    }
    let small = std::iter::once(&told.source).chain(&told.notes);
    let small: Vec<&str> = small.map(|it| it.trim_end_matches('.')).collect();
    block.paragraph(faces, (x, width), &format!("{}.", small.join(". ")), Style::SMALL);
}
