//! Why a place along the jaw cuts what it cuts, in paragraphs built from the numbers, and in a line
//! for paper.

use crate::{
    brief::{Numbers, numbers, why_hot::Paragraph},
    domain::{
        heat::{force_along, stock, stock_places},
        machine::{Shear, Station, Thermal},
        quantity::Length,
    },
    language::tell,
};

/// The lever, the plate in hand, the bar, and the way back.
pub fn tell(thermal: &Thermal, at: Length, plate_mm: f64, n: Numbers) -> Vec<Paragraph> {
    let (jaw, stock) = (force_along(thermal), stock(thermal));
    let kn = |newtons: f64| numbers::hours_value(newtons / 1e3);
    let length = |mm: f64| Length::from_mm(mm).map_or_else(String::new, |it| n.dimension(it));
    let closing = jaw.closing_n(at);
    let needed = stock.shear_n_per_mm2 * stock.cut_mm * plate_mm;
    let lever = tell!(
        "The cylinder pushes with {pushing_n} kN on an arm of {arm}. At {at} from the pivot that is **{closing} kN**.",
        pushing_n = kn(jaw.cylinder.pushing_n()),
        arm = n.dimension(jaw.arm),
        at = n.dimension(at),
        closing = kn(closing)
    );
    let (title, goes) = if needed <= closing {
        (tell!("The plate is cut here"), tell!("it goes"))
    } else {
        (tell!("The plate stalls here"), tell!("the jaw stalls: move the plate deeper"))
    };
    let plate = tell!(
        "A plate of {plate_mm} over {cut_mm} takes **{needed} kN**, so {goes}. The thickest here is **{stock}**, or a round \
         bar of {at}.",
        plate_mm = length(plate_mm),
        cut_mm = length(stock.cut_mm),
        needed = kn(needed),
        goes,
        stock = n.at_most(jaw.thickest_plate_mm(at, &stock)),
        at = n.at_most(jaw.thickest_bar_mm(at, &stock))
    );
    let back = tell!(
        "The rod takes area away: the jaw opens with only **{at} kN** here, {ratio} in 100 of the \
         closing force.",
        at = kn(jaw.opening_n(at)),
        ratio = numbers::fixed(100.0 / jaw.cylinder.ratio(), 0)
    );
    vec![
        Paragraph { title: tell!("The jaw is a lever"), text: lever },
        Paragraph { title, text: plate },
        Paragraph { title: tell!("Opening is weaker"), text: back },
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
        tell!(
            "at {id}, {from_pivot} from the pivot, it closes with {station} kN and opens with {opening_n} kN",
            id = station.id,
            from_pivot = n.dimension(station.from_pivot),
            station = kn(jaw.closing_n(station.from_pivot)),
            opening_n = kn(jaw.opening_n(station.from_pivot))
        )
    };
    Some(tell!(
        "The jaw opens with {ratio} in 100 of the force it closes with: {near}; {far}. An estimate for one \
         jaw angle. A jaw that is jammed shut may not open by itself: do as the machine's manual \
         says.",
        ratio = numbers::fixed(100.0 / jaw.cylinder.ratio(), 0),
        near = at(near),
        far = at(far)
    ))
}
