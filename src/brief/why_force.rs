//! Why a place along the jaw cuts what it cuts, in paragraphs built from the numbers, and in a line
//! for paper.

use crate::{
    brief::{Numbers, numbers, why_hot::Paragraph},
    domain::{
        heat::{force_along, stock, stock_places},
        machine::{Shear, Station, Thermal},
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

/// How strongly the jaw closes along its blades and how weakly it opens again; nothing without the
/// cylinder in the machine's file.
pub fn note(shear: &Shear, n: Numbers) -> Option<String> {
    let jaw = force_along(shear.thermal.as_ref()?);
    let by_place = |a: &&Station, b: &&Station| a.from_pivot.cmp(&b.from_pivot);
    let near = stock_places(shear).min_by(by_place)?;
    let far = stock_places(shear).max_by(by_place)?;
    let at = |station: &Station| {
        let kn = |newtons: f64| numbers::hours_value(newtons / 1e3);
        format!(
            "at {}, {} from the pivot, it closes with {} kN and opens with {} kN",
            station.id,
            n.dimension(station.from_pivot),
            kn(jaw.closing_n(station.from_pivot)),
            kn(jaw.opening_n(station.from_pivot))
        )
    };
    Some(format!(
        "The jaw opens with {:.0} in 100 of the force it closes with: {}; {}. An estimate for one \
         jaw angle. A jaw that is jammed shut may not open by itself: do as the machine's manual \
         says.",
        100.0 / jaw.cylinder.ratio(),
        at(near),
        at(far)
    ))
}
