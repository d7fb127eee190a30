//! Why a place along the jaw cuts what it cuts, in paragraphs built from the numbers.

use crate::{
    brief::{Numbers, numbers, why_hot::Paragraph},
    domain::{
        heat::{force_along, stock},
        machine::Thermal,
        quantity::Length,
    },
};

/// The lever, the plate in hand, the bar, and the way back.
pub fn tell(thermal: &Thermal, at: Length, plate_mm: f64, n: Numbers) -> Vec<Paragraph> {
    let (jaw, stock) = (force_along(thermal), stock(thermal));
    let kn = |newtons: f64| numbers::hours_value(newtons / 1e3);
    let length = |mm: f64| Length::from_mm(mm).map_or_else(String::new, |it| n.dimension(it));
    let closing = jaw.closing_n(at);
    let needed = stock.shear_n_per_mm2 * stock.cut_mm * plate_mm;
    let lever = format!(
        "The cylinder pushes with {} kN on an arm of {}. At {} from the pivot that is **{} kN**.",
        kn(jaw.cylinder.pushing_n()),
        n.dimension(jaw.arm),
        n.dimension(at),
        kn(closing)
    );
    let (title, goes) = if needed <= closing {
        ("The plate is cut here", "it goes")
    } else {
        ("The plate stalls here", "the jaw stalls: move the plate deeper")
    };
    let plate = format!(
        "A plate of {} over {} takes **{} kN**, so {goes}. The thickest here is **{}**, or a round \
         bar of {}.",
        length(plate_mm),
        length(stock.cut_mm),
        kn(needed),
        n.at_most(jaw.thickest_plate_mm(at, &stock)),
        n.at_most(jaw.thickest_bar_mm(at, &stock))
    );
    let back = format!(
        "The rod takes area away: the jaw opens with only **{} kN** here, {:.0} in 100 of the \
         closing force.",
        kn(jaw.opening_n(at)),
        100.0 / jaw.cylinder.ratio()
    );
    vec![
        Paragraph { title: "The jaw is a lever", text: lever },
        Paragraph { title, text: plate },
        Paragraph { title: "Opening is weaker", text: back },
    ]
}
