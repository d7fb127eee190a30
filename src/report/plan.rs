//! The plan of the next shutdown on paper: now, then, what to order, and what the choices cost.

use crate::{
    brief::plan::PlanBrief,
    language::tell,
    report::{
        Item, Shade,
        faces::Faces,
        layout::{Block, Style},
    },
};

/// Where the words begin: a place needs one line.
const LABEL: f32 = 104.0;

/// The block of the plan.
pub(crate) fn draw(plan: &PlanBrief, faces: &Faces, room: f32) -> Block {
    let mut block = Block { height: 5.0, ..Block::default() };
    block.items.push(Item::line((0.0, 0.0), (room, 0.0), 1.0, Shade::Black));
    block.paragraph(
        faces,
        (0.0, room),
        tell!("Plan of the next shutdown"),
        Style { size: 10.5, ..Style::STRONG },
    );
    block.height += 2.0;
    let shutdown = tell!("Next shutdown, {shutdown_in}", shutdown_in = plan.shutdown_in);
    for (label, words) in [
        (tell!("Now"), &plan.now),
        (shutdown.as_str(), &plan.shutdown),
        (tell!("Order"), &plan.order),
    ] {
        row(&mut block, faces, room, (label, &format!("**{words}**")));
    }
    if let Some(short) = plan.short {
        row(&mut block, faces, room, ("", &tell!("**{short}** for the jobs of today.", short)));
    }
    block.height += 2.0;
    for line in &plan.lines {
        let place = format!("**{}**  {}", line.line, line.place);
        let costs = line.costs.as_deref().unwrap_or_default();
        row(&mut block, faces, room, (&place, format!("{} {costs}", line.text).trim_end()));
    }
    block.height += 2.0;
    for words in plan.weld.iter().chain([&plan.total]) {
        block.paragraph(faces, (LABEL, room - LABEL), words, Style::BODY);
    }
    block.paragraph(faces, (LABEL, room - LABEL), &plan.notes.join(" "), Style::SMALL);
    block.height += 3.0;
    block
}

/// A label and words beside it, as high as the higher of both.
fn row(block: &mut Block, faces: &Faces, room: f32, (label, words): (&str, &str)) {
    let top = block.height;
    let small = Style { size: 7.5, ..Style::BODY };
    block.paragraph(faces, (0.0, LABEL - 8.0), label, small);
    let below = block.height;
    block.height = top;
    block.paragraph(faces, (LABEL, room - LABEL), words, Style::BODY);
    block.height = block.height.max(below) + 1.0;
}
