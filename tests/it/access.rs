//! For hands that hold no pointer and eyes that see no screen: every control has a name, is large
//! enough, comes when Tab is pressed, and shows when the keyboard is on it.

use crate::{desk::Desk, shell};
use egui::{
    Key, Modifiers, Rect, Shape,
    accesskit::{Action, Live, NodeId, Role},
};
use egui_kittest::{
    Node,
    kittest::{NodeT as _, Queryable as _},
};
use gapwright::{
    domain::{
        machine::LineId,
        setup::{Change, Field, OfLimits, OfStation},
    },
    language,
    workbench::{Command, Screen, Setup, SetupPage},
};
use std::collections::BTreeSet;

const TAPPED: [Role; 6] =
    [Role::Button, Role::RadioButton, Role::CheckBox, Role::Tab, Role::Slider, Role::TextInput];

/// A place in the window: the way there, by commands and then by hand.
pub(crate) type Place = (String, Vec<Command>, Vec<By>);

/// One step of a hand.
pub(crate) enum By {
    Key(Modifiers, Key),
    Tap(&'static str),
}

/// Every screen, every page of Setup, and every page over a screen.
pub(crate) fn places() -> Vec<Place> {
    let screens = shell::screens().into_iter();
    let screens = screens.map(|(name, at)| (name.to_owned(), at, Vec::new()));
    let setup = SetupPage::ALL.into_iter().map(|page| {
        let at = vec![Command::Go(Screen::Setup), Command::Setup(Setup::Page(page))];
        (format!("setup {page:?}"), at, Vec::new())
    });
    let pages = [
        ("help", Modifiers::NONE, Key::F1),
        ("keys", Modifiers::NONE, Key::F2),
        ("palette", Modifiers::COMMAND, Key::K),
        ("settings", Modifiers::COMMAND, Key::Comma),
    ];
    let pages =
        pages.map(|(name, with, key)| (name.to_owned(), Vec::new(), vec![By::Key(with, key)]));
    let about = vec![By::Key(Modifiers::NONE, Key::F1), By::Tap("About this program")];
    screens.chain(setup).chain(pages).chain([("about".to_owned(), Vec::new(), about)]).collect()
}

pub(crate) fn open((_, at, by_hand): &Place, size: [f32; 2]) -> Desk {
    let mut desk = shell::open(at, size);
    go(&mut desk, &[], by_hand);
    desk
}

/// Goes there in a window that is open.
pub(crate) fn go(desk: &mut Desk, at: &[Command], by_hand: &[By]) {
    for command in at {
        desk.act(command.clone());
    }
    for step in by_hand {
        match step {
            By::Key(with, key) => desk.window.key_press_modifiers(*with, *key),
            By::Tap(label) => desk.window.get_by_label(language::told(label)).click(),
        }
        desk.window.run();
    }
}

/// Everything that can be tapped or that takes the keyboard, in the order of the tree.
pub(crate) fn tappable(desk: &Desk) -> Vec<Node<'_>> {
    let mine = |node: &Node<'_>| {
        let data = node.accesskit_node();
        let takes_keyboard = data.data().supports_action(Action::Focus);
        (takes_keyboard || TAPPED.contains(&data.role())) && !data.data().is_disabled()
    };
    desk.window.root().children_recursive().filter(mine).collect()
}

pub(crate) fn label(node: &Node<'_>) -> String {
    node.accesskit_node().label().unwrap_or_default()
}

fn id(node: &Node<'_>) -> NodeId {
    node.accesskit_node().locate().0
}

/// A thing that can be tapped has a name, and a gloved finger hits it.
#[test]
fn everything_that_can_be_tapped_is_named_and_large_enough_everywhere() {
    let mut wrong = Vec::new();
    for place in places() {
        let sizes = [[1024.0, 768.0], [1280.0, 800.0]];
        // Pages of fields are the same at either size.
        for size in sizes.into_iter().take(if place.2.is_empty() { 2 } else { 1 }) {
            let (name, desk) = (&place.0, open(&place, size));
            let all = tappable(&desk);
            assert!(5 < all.len(), "{name}: {}", all.len());
            for node in all {
                let (data, label) = (node.accesskit_node(), label(&node));
                if label.is_empty() {
                    wrong.push(format!("{name} {size:?}: a {:?} without a name", data.role()));
                }
                if matches!(data.role(), Role::Slider) && data.value().is_none() {
                    wrong.push(format!("{name} {size:?}: “{label}” without a value"));
                }
                let bounds = data.data().bounds();
                let [w, h] = bounds.map_or([0.0, 0.0], |it| [it.width(), it.height()]);
                if w < 43.9 || h < 43.9 {
                    wrong.push(format!("{name} {size:?}: “{label}” is {w:.0} × {h:.0}"));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// One control while the keyboard is on it, and what is painted then, but for letters.
struct Look {
    label: String,
    focused: bool,
    rect: Rect,
    painted: Vec<(Rect, String)>,
}

impl Look {
    fn at(desk: &mut Desk, control: NodeId) -> Option<Self> {
        let find = |desk: &Desk| tappable(desk).iter().position(|node| id(node) == control);
        let place = find(desk)?;
        tappable(desk).get(place)?.focus();
        desk.window.step();
        desk.window.step();
        let shapes = desk.window.output().shapes.iter();
        let shapes = shapes.filter(|it| !matches!(it.shape, Shape::Text(_) | Shape::Mesh(_)));
        let painted = shapes.map(|it| (it.shape.visual_bounding_rect(), format!("{:?}", it.shape)));
        let painted = painted.collect();
        let place = find(desk)?;
        let nodes = tappable(desk);
        let node = nodes.get(place)?;
        Some(Self { label: label(node), focused: node.is_focused(), rect: node.rect(), painted })
    }

    fn near(&self, rect: Rect) -> Vec<&String> {
        let near = rect.expand(4.0);
        self.painted.iter().filter(|(at, _)| at.intersects(near)).map(|(_, it)| it).collect()
    }
}

/// Beside a control with the keyboard something is painted that is not there without.
#[test]
fn where_the_keyboard_is_shows_at_every_control() {
    let mut wrong = Vec::new();
    for place in places() {
        let (name, mut desk) = (&place.0, open(&place, [1280.0, 800.0]));
        let all: Vec<NodeId> = tappable(&desk).iter().map(id).collect();
        // More of a long page shows no other kind of control.
        let looks: Vec<Look> =
            all.into_iter().take(20).filter_map(|it| Look::at(&mut desk, it)).collect();
        for (at, look) in looks.iter().enumerate() {
            let other = &looks[(at + looks.len() / 2) % looks.len()];
            if !look.focused {
                wrong.push(format!("{name}: “{}” does not take the keyboard", look.label));
            } else if look.near(look.rect) == other.near(look.rect) {
                wrong.push(format!("{name}: “{}” shows no focus", look.label));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// The keyboard comes everywhere: at a station, pressed often enough, Tab visits every control.
#[test]
fn tab_visits_every_control_of_a_station_and_of_the_signature() {
    let measure = shell::screens().into_iter().find(|(name, _)| *name == "measure").unwrap().1;
    let signature = measure.iter().cloned().chain([Command::SignOff]).collect();
    for at in [measure, signature] {
        let mut desk = shell::open(&at, [1280.0, 800.0]);
        let all = tappable(&desk).len();
        let mut visited = BTreeSet::new();
        for _ in 0..2 * all {
            desk.window.key_press(Key::Tab);
            desk.window.step();
            visited.extend(tappable(&desk).iter().find(|it| it.is_focused()).map(label));
        }
        let missed: Vec<String> =
            tappable(&desk).iter().map(label).filter(|it| !visited.contains(it)).collect();
        assert_eq!(missed, Vec::<String>::new());
    }
}

/// What a drag does on the drawing of Setup, the arrow keys do too.
#[test]
fn arrow_keys_move_the_station_that_has_the_keyboard() {
    let at = [Command::Go(Screen::Setup), Command::Setup(Setup::Page(SetupPage::Lines))];
    let mut desk = shell::open(&at, [1600.0, 1000.0]);
    let field = Field::Station("J1".parse().unwrap(), OfStation::FromPivot);
    let text = |desk: &Desk| -> f64 {
        desk.window.state().bench().setup().unwrap().text(&field).parse().unwrap()
    };
    let before = text(&desk);
    let focus = |desk: &mut Desk| {
        let nodes = tappable(desk);
        nodes.iter().find(|it| label(it).starts_with("J1, ")).unwrap().focus();
        desk.window.run();
    };
    focus(&mut desk);
    for (key, moved) in [(Key::ArrowRight, 1.0), (Key::ArrowRight, 2.0), (Key::ArrowLeft, 1.0)] {
        desk.window.key_press(key);
        desk.window.run();
        assert!((text(&desk) - before - moved).abs() < 1e-9, "{key:?}");
    }
    let chip = tappable(&desk).into_iter().find(|it| label(it).starts_with("J1, ")).unwrap();
    assert!(chip.is_focused(), "the keyboard stays where it is");
}

/// What is wrong with a number is said at once, and where.
#[test]
fn a_number_that_cannot_be_is_announced_in_setup() {
    let at = [Command::Go(Screen::Setup), Command::Setup(Setup::Page(SetupPage::Limits))];
    let mut desk = shell::open(&at, [1280.0, 800.0]);
    let alerts = |desk: &Desk| -> Vec<String> {
        let all = desk.window.root().children_recursive();
        let loud = |node: &Node<'_>| node.accesskit_node().data().live() == Some(Live::Assertive);
        all.filter(loud).filter_map(|node| node.accesskit_node().value()).collect()
    };
    assert_eq!(alerts(&desk), Vec::<String>::new());
    let field = Field::Limit(LineId::P, OfLimits::WorkingMax);
    desk.act(Command::Setup(Setup::Change(Change::Put(field, "much".to_owned()))));
    let said = alerts(&desk).join(" ");
    assert!(said.contains("much"), "{said}");
}

/// A station that is not measured is a tap away from the signature.
#[test]
fn a_missing_station_on_the_sign_off_card_leads_there() {
    let measure = shell::screens().into_iter().find(|(name, _)| *name == "measure").unwrap().1;
    let mut desk = shell::open(&measure, [1280.0, 800.0]);
    desk.act(Command::SignOff);
    let missing = desk.window.state().bench().machine().unwrap().shear.walk()[1];
    desk.tap(&missing.to_string());
    let visit = desk.window.state().bench().visit().unwrap();
    assert_eq!((visit.at, visit.signing), (missing, false));
}
