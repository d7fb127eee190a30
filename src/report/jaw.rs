//! The mouth view on paper: the lower jaw from above, to scale, with every reading on a leader.
//!
//! Cutting side above, guide side below, pivot left, as on the screen. A reading that calls for a
//! closer look has a heavy frame, since paper has no colour to rely on.

use crate::{
    brief::sheet::{Mouth, MouthPart, MouthStation, Place},
    language::tell,
    report::{
        Item, Shade,
        faces::Faces,
        layout::{Block, Style},
    },
};

const CHIP: (f32, f32) = (47.0, 29.0);
const CHIP_GAP: f32 = 3.0;
const LEADER: f32 = 12.0;

/// Millimetres of the jaw to points.
struct Plan {
    scale: f32,
    left: f32,
    /// Where the inside of the cutting cheek lies.
    top: f32,
    width: f32,
}

impl Plan {
    #[expect(clippy::cast_possible_truncation, reason = "points need no more digits")]
    fn x(&self, mm: f64) -> f32 {
        self.left + mm as f32 * self.scale
    }

    /// From the guide cheek upward on the page.
    #[expect(clippy::cast_possible_truncation, reason = "points need no more digits")]
    fn y(&self, across_mm: f64) -> f32 {
        self.top + (self.width - across_mm as f32) * self.scale
    }
}

/// The mouth over this width.
#[expect(clippy::cast_possible_truncation, reason = "points need no more digits")]
pub(crate) fn draw(mouth: &Mouth, faces: &Faces, room: f32) -> Block {
    let mut block = Block::default();
    let whole = (mouth.reach + mouth.pivot * 1.5) as f32;
    let scale = room / whole;
    let rows = CHIP.1 + LEADER;
    let plan = Plan {
        scale,
        left: mouth.pivot as f32 * 1.5 * scale,
        top: rows + mouth.cheek as f32 * scale,
        width: mouth.width as f32,
    };
    steel(&mut block, &plan, mouth);
    for part in &mouth.parts {
        blade(&mut block, &plan, mouth, part);
    }
    let bottom = plan.y(-mouth.cheek);
    let above = |it: &&MouthStation| it.place == Place::Cutting;
    let upper: Vec<&MouthStation> = mouth.stations.iter().filter(above).collect();
    let lower: Vec<&MouthStation> = mouth.stations.iter().filter(|it| !above(it)).collect();
    chips(&mut block, faces, (&plan, mouth), &upper, (0.0, room));
    chips(&mut block, faces, (&plan, mouth), &lower, (bottom + LEADER, room));
    let caption = Style::SMALL;
    let middle = plan.y(mouth.width / 2.0);
    block.put(plan.x(mouth.pivot * 0.6) + 2.0, middle + 2.5, tell!("Pivot"), caption);
    let beside = plan.x(-mouth.pivot) + 4.0;
    block.put(beside, plan.y(mouth.width + mouth.cheek * 0.4), tell!("Cutting side"), caption);
    block.put(beside, plan.y(-mouth.cheek * 0.6), tell!("Guide side"), caption);
    let body = mouth.width - 2.0 * fixed_depth(mouth);
    let body = f64::midpoint(body, body_foot(mouth));
    block.put(plan.x(mouth.reach * 0.36), plan.y(body) + 2.5, tell!("Upper jaw"), caption);
    block.height = bottom + rows + 4.0;
    block.paragraph(faces, (0.0, room), &mouth.note, caption);
    block
}

/// The two cheeks, the pivot and the body of the upper jaw.
fn steel(block: &mut Block, plan: &Plan, mouth: &Mouth) {
    let far = plan.x(mouth.reach);
    let near = plan.x(-mouth.pivot);
    let cheek = |from: f64, to: f64| {
        let (top, foot) = (plan.y(to), plan.y(from));
        Item::boxed((near, top), (far - near, foot - top), Shade::Pale, 0.8)
    };
    block.items.extend(cheek(mouth.width, mouth.width + mouth.cheek));
    block.items.extend(cheek(-mouth.cheek, 0.0));
    let tip = plan.x(mouth.reach);
    block.items.push(Item::line((tip, plan.y(mouth.width)), (tip, plan.y(0.0)), 0.8, Shade::Black));
    // The body of the upper jaw lies against the blades it carries on the cutting side.
    let reach = plan.x(mouth.reach * 0.79);
    let top = mouth.width - 2.0 * fixed_depth(mouth);
    let foot = body_foot(mouth);
    let corners = vec![
        (plan.x(0.0), plan.y(top)),
        (reach, plan.y(top)),
        (reach, plan.y(foot)),
        (plan.x(0.0), plan.y(foot)),
    ];
    block.items.push(Item::Line {
        points: corners,
        closed: true,
        width: 0.6,
        dashed: true,
        shade: Shade::Grey,
    });
    let (x, y) = (plan.x(0.0), plan.y(mouth.width / 2.0));
    let around = |turn: u8| {
        let angle = f32::from(turn) * std::f32::consts::PI / 16.0;
        let radius = plan.x(mouth.pivot / 2.0) - plan.x(0.0);
        (x + radius * angle.cos(), y + radius * angle.sin())
    };
    block.items.push(Item::Area { points: (0..32).map(around).collect(), shade: Shade::White });
    block.items.push(Item::Line {
        points: (0..32).map(around).collect(),
        closed: true,
        width: 0.8,
        dashed: false,
        shade: Shade::Black,
    });
}

/// Where the body of the upper jaw ends towards the guide side.
fn body_foot(mouth: &Mouth) -> f64 {
    (mouth.width - fixed_depth(mouth) - mouth.upper).max(0.0)
}

fn fixed_depth(mouth: &Mouth) -> f64 {
    let depths = mouth.parts.iter().filter(|it| it.place == Place::Cutting).map(|it| it.depth);
    depths.fold(0.0, f64::max)
}

/// One blade as a rectangle, its bolts as strokes from seat to face.
fn blade(block: &mut Block, plan: &Plan, mouth: &Mouth, part: &MouthPart) {
    let gap = 8.0;
    let (from, to) = match part.place {
        Place::Cutting => (mouth.width - part.depth, mouth.width),
        Place::Guide => (0.0, part.depth),
        Place::Front => (0.0, mouth.width),
        Place::Moving => {
            let face = mouth.width - fixed_depth(mouth) - gap;
            (face - part.depth, face)
        }
    };
    let (x, y) = (plan.x(part.near), plan.y(to));
    let size = (plan.x(part.far) - x, plan.y(from) - y);
    block.items.extend(Item::boxed((x, y), size, Shade::White, 0.8));
    if part.place == Place::Front {
        return;
    }
    for bolt in &part.bolts {
        let at = plan.x(*bolt);
        block.items.push(Item::Line {
            points: vec![(at, y), (at, y + size.1)],
            closed: false,
            width: 0.4,
            dashed: true,
            shade: Shade::Grey,
        });
    }
}

/// A row of readings, each as near to its station as its neighbours leave room for.
fn chips(
    block: &mut Block,
    faces: &Faces,
    (plan, mouth): (&Plan, &Mouth),
    stations: &[&MouthStation],
    (top, room): (f32, f32),
) {
    let mut stations = stations.to_vec();
    // A cross line's stations share one distance; the one nearer the guide side stands first.
    let order = |it: &MouthStation| (it.from_pivot, it.across.unwrap_or(0.0));
    stations
        .sort_by(|a, b| order(a).0.total_cmp(&order(b).0).then(order(a).1.total_cmp(&order(b).1)));
    let wished: Vec<f32> = stations.iter().map(|it| plan.x(it.from_pivot) - CHIP.0 / 2.0).collect();
    let lefts = spread(&wished, CHIP.0 + CHIP_GAP, room - CHIP.0);
    let above = top < plan.top;
    for (station, left) in stations.iter().zip(lefts) {
        let edge = if above { top + CHIP.1 } else { top };
        let spot = (plan.x(station.from_pivot), face_y(plan, mouth, station));
        block.items.push(Item::line((left + CHIP.0 / 2.0, edge), spot, 0.5, Shade::Grey));
        let dot = [(-1.6, -1.6), (1.6, -1.6), (1.6, 1.6), (-1.6, 1.6)];
        let points = dot.iter().map(|(dx, dy)| (spot.0 + dx, spot.1 + dy)).collect();
        block.items.push(Item::Area { points, shade: Shade::Black });
        let frame = if station.heavy { 1.8 } else { 0.6 };
        block.items.extend(Item::boxed((left, top), CHIP, Shade::White, frame));
        let centred = |block: &mut Block, words: &str, y: f32, style: Style| {
            let width = faces.width(words, style.size, style.weight);
            let shrink = ((CHIP.0 - 3.0) / width).min(1.0);
            let style = Style { size: style.size * shrink, ..style };
            block.put(left + (CHIP.0 - width * shrink) / 2.0, y, words, style);
        };
        let name = Style { size: 7.5, ..Style::STRONG };
        centred(block, &station.name, top + 8.5, name);
        centred(block, &station.value, top + 17.5, Style { size: 8.0, ..Style::STRONG });
        centred(block, station.verdict, top + 26.0, Style { size: 6.5, ..Style::BODY });
    }
}

/// Where on the drawing a station is felt.
fn face_y(plan: &Plan, mouth: &Mouth, station: &MouthStation) -> f32 {
    if let Some(across) = station.across {
        return plan.y(across);
    }
    let here = |part: &&MouthPart| {
        part.place == station.place
            && part.near <= station.from_pivot
            && station.from_pivot <= part.far
    };
    let depth = mouth.parts.iter().find(here).map_or(0.0, |part| part.depth);
    match station.place {
        Place::Guide => plan.y(depth),
        _ => plan.y(mouth.width - depth),
    }
}

/// Places from the left with at least `pitch` between them, as near to what is wished as fits
/// before `last`.
fn spread(wished: &[f32], pitch: f32, last: f32) -> Vec<f32> {
    let mut places = Vec::with_capacity(wished.len());
    let mut least = 0.0_f32;
    for wish in wished {
        let place = wish.max(least);
        places.push(place);
        least = place + pitch;
    }
    let mut most = last;
    for place in places.iter_mut().rev() {
        *place = place.min(most);
        most = *place - pitch;
    }
    places
}

#[test]
fn readings_do_not_cover_each_other() {
    assert_eq!(spread(&[0.0, 5.0, 100.0], 10.0, 100.0), [0.0, 10.0, 100.0]);
    assert_eq!(spread(&[90.0, 95.0, 98.0], 10.0, 100.0), [80.0, 90.0, 100.0]);
}
