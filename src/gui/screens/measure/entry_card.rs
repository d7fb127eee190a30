//! The card of the hand: one station, two stacks, a verdict while they are typed.

use crate::{
    brief::{fault, leaves as leaves_told, measure::short, words},
    domain::{machine::Limits, quantity::Length},
    gui::{
        marks::Icon,
        meaning::verdict_mark,
        paint,
        screens::measure::{
            Room,
            hand::{Hand, Step},
            keys, marks, seen,
            temps::{self, Part},
            uncertainty, weld,
        },
        theme,
        widgets::{
            Bands, BracketStrip, Button, Entry, Leaf, LimitRuler, Sparkline, Spoken, VerdictBox,
            big_choice, leaf_grid, say, section, touch,
        },
    },
    language::tell,
    workbench::{Command, TakenBack},
};
use egui::{Align2, CornerRadius, Rect, Sense, Ui, UiBuilder, vec2};

pub(super) fn show(ui: &mut Ui, hand: &Hand<'_>, room: Room, asked: &mut Vec<Command>) {
    if weld::is_open(ui) {
        weld::show(ui, hand, asked);
    } else if marks::is_open(ui) {
        marks::show(ui, hand, asked);
    } else if seen::is_open(ui) {
        seen::show_all(ui, hand, asked);
    } else if uncertainty::is_open(ui) {
        uncertainty::show(ui, hand, asked);
    } else {
        parts(ui, hand, room, asked);
    }
}

fn parts(ui: &mut Ui, hand: &Hand<'_>, room: Room, asked: &mut Vec<Command>) {
    name(ui, hand, room, asked);
    field_and_answers(ui, hand, room, asked);
    leaves(ui, hand, room, asked);
    between(ui, hand);
    temperature_and_history(ui, hand, asked);
    seen::show_few(ui, hand, room, asked);
    match &hand.entry.fault {
        Some(wrong) => fault_box(ui, &fault::entry(wrong, hand.view.numbers)),
        None => verdict(ui, hand, room),
    }
}

/// The station's name, its place in words, and where it lies on the machine.
fn name(ui: &mut Ui, hand: &Hand<'_>, room: Room, asked: &mut Vec<Command>) {
    let t = theme::tokens(ui);
    let height = room.pick([38.0, 40.0, 52.0]);
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), height), Sense::hover());
    let painter = ui.painter();
    let mut font = theme::station_name();
    font.size = font.size.min(height * 0.9);
    let name = painter.layout_no_wrap(hand.at.to_string(), font, t.ink);
    let name = paint::place(painter, rect.left_center(), Align2::LEFT_CENTER, name);
    let (place, out) = (
        words::station(hand.shear, hand.at),
        words::whereabouts(hand.shear, hand.station, hand.view.numbers),
    );
    let x = name.right() + 13.0;
    let over = if hand.saved || !hand.entry.is_blank() { 48.0 } else { 0.0 };
    let wide = rect.right() - x - over;
    let line = |text: &str, font: egui::FontId, ink, y: f32| {
        let galley = paint::shrunk(painter, text, &font, ink, wide);
        paint::place(painter, egui::pos2(x, y), Align2::LEFT_CENTER, galley);
    };
    let middle = rect.center().y;
    line(&place, theme::body_bold(), t.ink, middle - 9.0);
    line(&out, theme::chip(), t.ink2, middle + 9.0);
    say(
        ui,
        rect,
        tell!("station in hand"),
        &tell!("station {at}: {place}, {out}", at = hand.at, place, out),
    );
    if 0.0 < over {
        let corner = rect.with_min_x(rect.right() - theme::TOUCH);
        let cross = Rect::from_center_size(corner.center(), egui::Vec2::splat(theme::TOUCH));
        let id = ui.make_persistent_id("start over");
        let response = touch::tap(ui, cross, id, &Spoken::button(tell!("Start this station over")));
        let around = touch::outline(ui, &response, false);
        let square = cross.shrink(4.0);
        ui.painter().rect(square, theme::RADIUS, t.field, around, egui::StrokeKind::Inside);
        Icon::Cross.paint(ui.painter(), cross.center(), 15.0, t.ink2, t);
        touch::focus_ring(ui, &response, square, 4.0);
        if response.clicked() {
            asked.push(Command::StartOver);
        }
    }
}

fn field_and_answers(ui: &mut Ui, hand: &Hand<'_>, room: Room, asked: &mut Vec<Command>) {
    let n = hand.view.numbers;
    let height = room.pick([98.0, 98.0, 110.0]);
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), height), Sense::hover());
    let split = rect.left() + (rect.width() - 14.0) * 0.5;
    let mut left = ui.new_child(UiBuilder::new().max_rect(rect.with_max_x(split)));
    let mut right = ui.new_child(UiBuilder::new().max_rect(rect.with_min_x(split + 14.0)));

    let saved = match hand.felt {
        Some((felt, _)) if hand.saved => n.range(felt),
        _ => String::new(),
    };
    let taken_back = hand.visit.and_then(|visit| visit.taken_back);
    let caption = match (hand.saved, hand.said()) {
        _ if let Some(TakenBack::Reading(was)) = taken_back => {
            tell!("Taken back: {was}", was = n.range(was))
        }
        _ if taken_back.is_some() => tell!("Taken back").to_owned(),
        (true, _) => tell!("Saved here").to_owned(),
        (_, (Some(go), None)) => tell!("{go} goes. Next:", go = n.length(go)),
        (_, (None, Some(no_go))) => tell!("{no_go} does not. Next:", no_go = n.length(no_go)),
        (_, (Some(_), Some(_))) if hand.stack().is_none() => tell!("Both are known").to_owned(),
        _ => keys::FIELD.caption.to_owned(),
    };
    if taken_back.is_some() {
        let told = tell!("{caption}. It can be done again.", caption);
        touch::announce(&left, rect, tell!("taken back"), &told);
    }
    let field = Entry {
        caption: &caption,
        unit: n.unit_name(),
        hint: &saved,
        wrong: hand.entry.fault.is_some(),
        ..keys::FIELD
    };
    // Leaves in the stack show as their sum; what is typed after it starts a number of its own.
    let sum = if hand.entry.text.is_empty() {
        hand.stack().map_or(String::new(), |stack| n.length(stack))
    } else {
        String::new()
    };
    let mut text = if sum.is_empty() { hand.entry.text.clone() } else { sum.clone() };
    let shown = text.clone();
    if !sum.is_empty() {
        caret_at_the_end(&left, field.id(), &sum);
    }
    field.show(&mut left, &mut text, vec2(split - rect.left(), height));
    if text != shown {
        // Wherever the caret stood, what was typed is what is not the sum.
        let typed = match sum.as_str() {
            "" => text.as_str(),
            sum => text.strip_prefix(sum).or(text.strip_suffix(sum)).unwrap_or(&text),
        };
        asked.push(Command::Type(typed.to_owned()));
    }

    let pending = hand.stack().map(|_| usize::from(hand.entry.go.is_some()));
    match big_choice(&mut right, [tell!("Goes in"), tell!("Does not go")], pending) {
        Some(0) => asked.push(Command::Goes),
        Some(_) => asked.push(Command::DoesNotGo),
        None => {}
    }
}

/// A number that came from leaves is as if it had been typed.
fn caret_at_the_end(ui: &Ui, id: egui::Id, text: &str) {
    use egui::text::{CCursor, CCursorRange};
    if let Some(mut state) = egui::TextEdit::load_state(ui, id) {
        let end = CCursor::new(text.chars().count());
        state.cursor.set_char_range(Some(CCursorRange::one(end)));
        state.store(ui, id);
    }
}

fn leaves(ui: &mut Ui, hand: &Hand<'_>, room: Room, asked: &mut Vec<Command>) {
    let n = hand.view.numbers;
    let Some(set) = hand.leaves else {
        section(ui, tell!("Feeler leaves"), tell!("this yard names no leaf set"));
        return;
    };
    let in_hand = &hand.entry.leaves;
    let right = if in_hand.is_empty() {
        let due = leaves_told::due_notice(set, hand.view.now)
            .map_or("", |_| tell!("**calibration due** · "));
        format!("{due}{}, {}", set.name(), n.compact_unit())
    } else {
        let parts: Vec<String> = in_hand.iter().map(|leaf| n.compact(*leaf)).collect();
        tell!("in the stack: **{leaves}**", leaves = parts.join(" + "))
    };
    section(ui, tell!("Feeler leaves"), &right);
    let suggested = hand.live().try_next.and_then(|stack| set.fewest(stack)).unwrap_or_default();
    let thickest = set.leaves().last().map_or(Length::ZERO, |leaf| leaf.thickness);
    let texts: Vec<(String, String)> = set
        .leaves()
        .iter()
        .map(|leaf| n.compact(leaf.thickness))
        .map(|print| (tell!("leaf {print}", print), print))
        .collect();
    let cells: Vec<Leaf<'_>> = set
        .leaves()
        .iter()
        .zip(&texts)
        .map(|(leaf, (name, print))| Leaf {
            print,
            share: leaf_share(leaf.thickness, thickest),
            chosen: in_hand.contains(&leaf.thickness),
            suggested: suggested.contains(leaf),
            name,
        })
        .collect();
    let tapped = leaf_grid(ui, &cells, room.pick([44.0, 44.0, 54.0]));
    if let Some(leaf) = tapped.and_then(|index| set.leaves().get(index)) {
        asked.push(Command::TapLeaf(leaf.thickness));
    }
}

/// How thick a leaf is beside the thickest.
#[expect(clippy::cast_possible_truncation, reason = "a share of a thickness, for drawing")]
pub(in crate::gui::screens) fn leaf_share(part: Length, whole: Length) -> f32 {
    if whole == Length::ZERO { 0.0 } else { (part.mm() / whole.mm()) as f32 }
}

/// What the stacks proved.
fn between(ui: &mut Ui, hand: &Hand<'_>) {
    let felt = hand.felt.as_ref();
    let told = hand.telling.strip(felt.map(|(felt, _)| *felt), felt.map(|(_, gap)| gap));
    section(ui, tell!("Between"), &told.cold);
    if told.goes.is_empty() && told.does_not.is_empty() {
        let t = theme::tokens(ui);
        let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), 44.0), Sense::hover());
        let strip = rect.shrink2(vec2(0.5, 4.5));
        paint::dashed_rect(ui.painter(), strip, egui::Stroke::new(1.0, t.edge));
        let words = tell!("Type a stack, or tap its leaves");
        ui.painter().text(strip.center(), Align2::CENTER_CENTER, words, theme::chip(), t.ink3);
        say(ui, rect, "between", &told.spoken);
        return;
    }
    let between = if told.goes.is_empty() { [0.0, 0.12] } else { [0.40, 0.52] };
    let strip = BracketStrip {
        goes: &told.goes,
        does_not: &told.does_not,
        between,
        name: &told.spoken,
        opens: felt.map(|_| tell!("uncertainty of this reading")),
    };
    if strip.show(ui) {
        uncertainty::open(ui);
    }
}

fn temperature_and_history(ui: &mut Ui, hand: &Hand<'_>, asked: &mut Vec<Command>) {
    ui.columns(2, |columns| {
        let [left, right] = columns else { return };
        temps::show(left, hand, Part::Blades, asked);
        history(right, hand);
    });
}

#[expect(clippy::cast_possible_truncation, reason = "millimetres for drawing")]
fn history(ui: &mut Ui, hand: &Hand<'_>) {
    let n = hand.view.numbers;
    let points = hand.telling.state(hand.at).map_or(&[][..], |state| &state.trend.observations);
    let mut bars: Vec<[f32; 2]> = points
        .iter()
        .filter_map(|point| Some([point.go_mm as f32, point.no_go_mm? as f32]))
        .collect();
    if let Some((_, gap)) = &hand.felt
        && let Some(no_go) = gap.cold.bracket.no_go()
    {
        bars.push([gap.cold.bracket.go().mm() as f32, no_go.mm() as f32]);
    }
    let bars = bars.split_off(bars.len().saturating_sub(8));
    section(ui, tell!("Last readings"), "");
    let word = |bar: Option<&[f32; 2]>| {
        bar.map_or(String::new(), |[low, high]| n.estimate(f64::from(f32::midpoint(*low, *high))))
    };
    let (newest, oldest) = (word(bars.last()), word(bars.first()));
    let name = if bars.is_empty() {
        tell!("no readings before").to_owned()
    } else {
        tell!(
            "last {bars} readings, from about {oldest} to about {newest}",
            bars = bars.len(),
            oldest,
            newest
        )
    };
    let Bands { set, .. } = bands(&hand.line.limits);
    Sparkline { bars: &bars, set, newest: &newest, oldest: &oldest, name: &name }.show(ui);
}

/// The limits of a line, for drawing.
#[expect(clippy::cast_possible_truncation, reason = "millimetres for drawing")]
pub(super) fn bands(limits: &Limits) -> Bands {
    let ends = |band: crate::domain::machine::Band| [band.min.mm() as f32, band.max.mm() as f32];
    Bands { set: ends(limits.set()), working: ends(limits.working()), stop: ends(limits.stop()) }
}

#[expect(clippy::cast_possible_truncation, reason = "millimetres for drawing")]
fn verdict(ui: &mut Ui, hand: &Hand<'_>, room: Room) {
    let n = hand.view.numbers;
    let live = hand.live();
    let shown = if room == Room::Full { live.reasons.len() } else { 1 };
    let reasons: Vec<&str> = live.reasons.iter().take(shown).map(String::as_str).collect();
    let limits = &hand.line.limits;
    let labels = [
        n.length(limits.working().min),
        tell!("set").to_owned(),
        n.length(limits.working().max),
        n.length(limits.stop().max),
    ];
    let name = hand.at.to_string();
    let ruler = hand.felt.filter(|_| room == Room::Full).map(|(_, gap)| {
        let bracket = gap.cold.bracket;
        let low = bracket.go().mm() as f32;
        LimitRuler {
            bands: bands(limits),
            reading: [low, bracket.no_go().map_or(low, |no_go| no_go.mm() as f32)],
            name: &name,
            labels: labels.each_ref().map(String::as_str),
        }
    });
    let least = ui.available_height().min(room.pick([84.0, 96.0, 170.0])).max(60.0);
    // A good gap beside a bad face is not to be left.
    let headline = if hand.seen().is_empty() {
        live.headline.clone()
    } else {
        live.headline.replace(tell!("Leave it."), tell!("See Decide for the rest."))
    };
    let told = std::iter::once(headline.as_str()).chain(reasons.iter().copied());
    let told = told.collect::<Vec<_>>().join(" ").replace("**", "");
    let place = ui.available_rect_before_wrap();
    touch::announce(ui, place, "verdict", &told);
    VerdictBox { mark: verdict_mark(live.verdict), headline: &headline, reasons: &reasons, ruler }
        .show(ui, least);
}

/// A slip: what it was and what to do; the text stays in the field.
pub(in crate::gui::screens) fn fault_box(ui: &mut Ui, sentence: &str) {
    let t = theme::tokens(ui);
    let frame = egui::Frame::NONE
        .fill(t.stop_tint)
        .corner_radius(theme::RADIUS)
        .inner_margin(egui::Margin { left: 20, right: 16, top: 12, bottom: 12 });
    let shown = frame.show(ui, |ui| {
        ui.take_available_width();
        let text = egui::RichText::new(sentence).font(theme::body_bold()).color(t.ink);
        let said = ui.label(text);
        touch::alert(ui, &said);
    });
    let rect = shown.response.rect;
    let bar = Rect::from_min_size(rect.min, vec2(5.0, rect.height()));
    let round = CornerRadius { nw: 4, sw: 4, ne: 0, se: 0 };
    ui.painter().rect_filled(bar, round, t.stop);
}

pub(super) fn buttons(ui: &mut Ui, hand: &Hand<'_>, asked: &mut Vec<Command>) {
    let n = hand.view.numbers;
    let height = ui.available_height();
    let narrow = ui.available_width() < 330.0;
    let next = match hand.next() {
        Some(next) if narrow => tell!("then {next}", next),
        Some(next) => short(hand.shear, next),
        None => tell!("then sign off").to_owned(),
    };
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 12.0;
        let to = hand.previous().map_or(String::new(), |station| tell!("to {station}", station));
        let back = Button::plain(tell!("Back")).detail(&to).before(Icon::Back);
        let back = back.width(112.0).height(height).enabled(hand.previous().is_some());
        if back.show(ui).clicked() {
            asked.push(Command::PreviousStation);
        }
        let (word, detail, command) = match hand.step() {
            Step::Goes(stack) => (
                tell!("{stack} goes", stack = n.length(stack)),
                tell!("then one too thick").to_owned(),
                Command::Confirm,
            ),
            Step::Save => (tell!("Save and next").to_owned(), next, Command::Confirm),
            Step::Missing => (
                tell!("Save and next").to_owned(),
                tell!("needs both stacks").to_owned(),
                Command::Confirm,
            ),
            Step::GoOn => (tell!("Next").to_owned(), next, Command::NextStation),
        };
        let width = ui.available_width();
        let button = Button::primary(&word).detail(&detail).after(Icon::Forward);
        if button.width(width).height(height).show(ui).clicked() {
            asked.push(command);
        }
    });
}
