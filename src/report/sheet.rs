//! The whole sheet, from the head to the lines people sign.

use crate::{
    brief::sheet::Sheet,
    language::tell,
    report::{
        Item, Paper, ReportError, Shade,
        faces::Faces,
        jaw, job,
        layout::{Block, Pages, Style},
        plan,
    },
};

/// All pages of a sheet.
pub(crate) fn pages(sheet: &Sheet, paper: Paper) -> Result<Vec<Vec<Item>>, ReportError> {
    let faces = Faces::new()?;
    let room = paper.room();
    let mut pages = Pages::new(paper);
    pages.place(head(sheet, &faces, room), 0.0);
    pages.place(cautions(sheet, &faces, room), 6.0);
    pages.place(jaw::draw(&sheet.mouth, &faces, room), 8.0);
    // What concerns the whole machine first: short blocks under the drawing, where a long job would
    // leave half a page, and no page at the end with nothing but lines to sign.
    if let Some(plan) = &sheet.plan {
        pages.place(plan::draw(plan, &faces, room), 6.0);
    }
    let mut last = Some(foot(sheet, &faces, room));
    if sheet.plan.is_some() {
        last = last.and_then(|foot| pages.place_if_it_fits(foot, 4.0));
    }
    for told in &sheet.jobs {
        pages.place(job::draw(told, &faces, room), 6.0);
    }
    if let Some(foot) = last {
        pages.place(foot, 10.0);
    }
    Ok(pages.finish(&faces, &sheet.origin))
}

/// Machine, session, meter, next look, as in the title block of the screen.
fn head(sheet: &Sheet, faces: &Faces, room: f32) -> Block {
    let head = &sheet.head;
    let mut block = Block::default();
    let title = Style { size: 18.0, ..Style::STRONG };
    block.words(0.0, tell!("Job sheet"), title);
    let machine = format!("{} · {} · {}", head.machine, head.carrier, sheet.yard);
    let style = Style { size: 11.0, ..Style::STRONG };
    let x = faces.width(tell!("Job sheet"), title.size, title.weight) + 14.0;
    block.put(x, title.size, &machine, style);
    block.height = title.leading() + 2.0;
    let cells = [
        (head.session.as_str(), &head.taken, &head.stations),
        (tell!("Hour meter"), &head.meter, &head.since),
        (tell!("Next look"), &head.next_look, &head.next_in),
        (tell!("Needs work"), &head.needs_work, &String::new()),
    ];
    let shares = [0.34, 0.25, 0.22, 0.19];
    let height = 30.0;
    block.items.extend(Item::boxed((0.0, block.height), (room, height), Shade::White, 0.9));
    let (top, mut at) = (block.height, 0.0);
    for ((name, value, quiet), share) in cells.into_iter().zip(shares) {
        if 0.0 < at {
            block.items.push(Item::line((at, top), (at, top + height), 0.6, Shade::Black));
        }
        let mut cell = Block::default();
        cell.put(at + 6.0, top + 10.0, name, Style::SMALL);
        let value = crate::brief::plain(value);
        cell.put(at + 6.0, top + 23.0, &value, Style { size: 10.0, ..Style::STRONG });
        let beside = at + 12.0 + faces.width(&value, 10.0, Style::STRONG.weight);
        cell.put(beside, top + 23.0, quiet, Style { size: 7.5, ..Style::BODY });
        block.items.extend(cell.items);
        at += share * room;
    }
    block.height += height;
    block
}

/// Before anybody reaches in: two columns to tick.
fn cautions(sheet: &Sheet, faces: &Faces, room: f32) -> Block {
    let mut block = Block { height: 4.0, ..Block::default() };
    block.words(6.0, tell!("Before you reach in"), Style::STRONG);
    block.height += Style::STRONG.leading() + 2.0;
    let column = room / 2.0;
    for pair in sheet.cautions.chunks(2) {
        let (top, mut lowest) = (block.height, block.height);
        for (sentence, x) in pair.iter().zip([6.0, column + 3.0]) {
            block.height = top;
            block.items.extend(Item::boxed((x, top + 1.0), (8.0, 8.0), Shade::White, 0.9));
            let style = Style { size: 7.5, ..Style::BODY };
            block.paragraph(faces, (x + 13.0, column - 26.0), sentence, style);
            lowest = lowest.max(block.height);
        }
        block.height = lowest + 2.0;
    }
    block.height += 2.0;
    let frame = Item::boxed((0.0, 0.0), (room, block.height), Shade::Pale, 0.9);
    block.items.splice(0..0, frame);
    block
}

/// Advice, force, limits, and the lines people sign.
fn foot(sheet: &Sheet, faces: &Faces, room: f32) -> Block {
    let mut block = Block { height: 4.0, ..Block::default() };
    block.items.push(Item::line((0.0, 0.0), (room, 0.0), 1.0, Shade::Black));
    block.paragraph(faces, (0.0, room), sheet.advice, Style::STRONG);
    for note in sheet.force.iter().chain([&sheet.limits]) {
        block.paragraph(faces, (0.0, room), note, Style::SMALL);
    }
    block.height += 21.0;
    let each = room / 3.0;
    let mut at = 0.0;
    for words in sheet.signatures {
        let y = block.height;
        block.items.push(Item::line((at, y), (at + each - 14.0, y), 0.8, Shade::Black));
        block.put(at, y + 9.0, words, Style::SMALL);
        at += each;
    }
    block.height += 12.0;
    block
}
