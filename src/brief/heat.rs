//! A shift's heat in words: temperatures, colours, what closes and when.
//!
//! Everything here is an estimate and says so. Temperatures are whole degrees, times are to the
//! minute.

use crate::{
    brief::{Numbers, numbers, words},
    domain::{
        heat::{
            Band, Colour, ColourBand, EventKind, Loop, Model, NetworkFault, Seen, Shift, ShiftWork,
            force_along, stock, stock_places,
        },
        machine::{LineId, Material, Shear, StationId, Thermal},
        quantity::Length,
    },
};

/// Why a number from the model is not a measurement.
pub const ESTIMATE: &str =
    "An estimate from a simple model: friction, cooling and expansion are known poorly.";

/// What the stretch around a curve is, and the dashed curve.
pub const PALE: &str = "Pale: eight cases in ten of what is known poorly. Dashed: the same shift \
     with this gap in the middle of its set range.";

/// What is said where some of the cases behind the stretch leave what the model can tell.
pub const PAST_ALL: &str = "some cases pass 600\u{a0}°C";

/// What a seen colour tells, and does not.
pub const COLOUR_CAVEAT: &str = "Tables of temper colours disagree by 20 °C and more. Steel held \
     hot for long colours as if it had been hotter, alloyed steel as if it had been cooler.";

/// A temper colour.
pub const fn colour(colour: Option<Colour>) -> &'static str {
    match colour {
        None => "no colour",
        Some(Colour::Straw) => "straw",
        Some(Colour::Brown) => "brown",
        Some(Colour::Purple) => "purple",
        Some(Colour::Blue) => "blue",
        Some(Colour::Grey) => "grey",
    }
}

/// What a seen colour tells about a face: `Blue is about 285–340 °C.`
pub fn band(band: &ColourBand) -> String {
    let name = words::capital(colour(Some(band.colour)));
    match band.high_c {
        Some(high) => format!("{name} is about **{}–{}**.", degrees(band.low_c), celsius(high)),
        None => format!("{name} is about **{}** or more.", celsius(band.low_c)),
    }
}

/// What the hot gap then was, from the two bounds of how far it had closed.
pub fn left(cold: f64, (low, high): (f64, f64)) -> &'static str {
    match (cold <= low, cold <= high) {
        (true, _) => "the faces touched, this gap is too tight hot",
        (false, true) => "the faces may have touched, evidence for too tight a hot gap",
        (false, false) => "it stayed open, so look for another cause of the heat as well",
    }
}

/// Where a steel's expansion comes from.
pub fn material(material: &Material) -> String {
    match material {
        Material::CarbonSteelTe1 => "carbon steel by ASME TE-1, group 1".to_owned(),
        Material::CarbonSteelEn1993 => "carbon steel by EN 1993-1-2".to_owned(),
        Material::Constant { ppm_per_k } => format!("{ppm_per_k}e-6 /K throughout"),
        Material::Table(table) => table.source().to_owned(),
    }
}

/// A seen colour read backwards: how hot, how far closed, and what that left of the cold gap.
pub fn seen(seen: &Seen, cold_mm: f64, n: Numbers) -> String {
    let (low, high) = seen.closed_mm;
    format!(
        "{} The gap had then closed by **{}–{} {}** of {} cold: {}.",
        band(&seen.band),
        n.estimate(low),
        n.estimate(high),
        n.unit_name(),
        n.estimate(cold_mm),
        left(cold_mm, seen.closed_mm)
    )
}

/// A calculated temperature without its unit: `306`.
pub fn degrees(c: f64) -> String {
    let text = format!("{:.0}", c.abs());
    if c < 0.0 && text != "0" { format!("−{text}") } else { text }
}

/// A calculated temperature: `306 °C`.
pub fn celsius(c: f64) -> String {
    format!("{}\u{a0}°C", degrees(c))
}

/// A time of the shift: `2 h 40`.
pub fn hour(hour: f64) -> String {
    let minutes = (hour * 60.0).round().max(0.0);
    let (hours, minutes) = ((minutes / 60.0).floor(), minutes.rem_euclid(60.0));
    format!("{hours:.0}\u{a0}h\u{a0}{minutes:02.0}")
}

/// What happened, as a phrase: `faces touch`.
pub fn event(kind: EventKind) -> String {
    match kind {
        EventKind::Loaded => "faces rub".to_owned(),
        EventKind::Touching => "faces touch".to_owned(),
        EventKind::Coloured(it) => colour(Some(it)).to_owned(),
        EventKind::Passed(c) => format!("past {}", celsius(c)),
    }
}

/// The numbers of a shift, each with its name.
pub fn settings(
    work: &ShiftWork,
    (station, gap_mm): (StationId, f64),
    n: Numbers,
) -> Vec<(String, String)> {
    let duty = &work.duty;
    let plate = Length::from_mm(work.plate_mm).map_or_else(String::new, |it| n.dimension(it));
    let mut told = vec![
        (format!("Cold gap at {station}"), format!("{} {}", n.estimate(gap_mm), n.unit_name())),
        ("Cuts per minute".to_owned(), numbers::hours_value(duty.cuts_per_minute)),
        ("Plate thickness".to_owned(), plate),
        ("Air".to_owned(), celsius(duty.air_c)),
    ];
    let mut more = |name: &str, value: String| told.push((name.to_owned(), value));
    if 0.5 < (work.start_c - duty.air_c).abs() {
        more("Machine at the start", celsius(work.start_c));
    }
    if duty.working_share < 1.0 {
        more("Share of the time it cuts", format!("{:.0}\u{a0}%", 100.0 * duty.working_share));
    }
    more("Shift", hour(duty.hours));
    for (from, to) in &duty.breaks {
        more("Break", format!("{} to {}", hour(*from), hour(*to)));
    }
    more("Friction", duty.friction.to_string());
    told
}

/// Why a network cannot be calculated, as a sentence.
pub fn fault(fault: &NetworkFault) -> String {
    let text = words::capital(&fault.to_string());
    if text.ends_with('.') { text } else { text + "." }
}

/// Whether the loop of gap, force and heat settles.
pub fn settles(gain: Loop, shift: &Shift) -> String {
    if gain.settles() {
        let passes = passes(shift);
        let but = if passes.is_empty() {
            String::new()
        } else {
            format!(
                " But not soon enough.{passes} Beyond that this model says nothing; steel there has lost its temper."
            )
        };
        return format!(
            "The loop of gap, force and heat settles: gain {:.2}, headroom {:.2}.{but}",
            gain.beta,
            gain.headroom()
        );
    }
    if gain.swings() {
        return format!(
            "It never settles (gain {:.2}): the gap opens too late, so heat and gap swing ever \
             wider, though a steady gain of {:.2} alone would settle.{}",
            gain.beta,
            gain.steady,
            passes(shift)
        );
    }
    let passes = passes(shift);
    let rest = if passes.is_empty() {
        " While the faces are loaded they grow hotter without end; this shift is over before they \
         pass 600\u{a0}°C."
            .to_owned()
    } else {
        passes
    };
    format!("It never settles (gain {:.2}).{rest}", gain.beta)
}

/// ` At G2 the face passes 600 °C after 3 h 10.`, or nothing.
fn passes(shift: &Shift) -> String {
    let mut passed = shift.events.iter().filter_map(|it| match it.kind {
        EventKind::Passed(c) => Some((it, c)),
        _ => None,
    });
    passed.next().map_or_else(String::new, |(event, c)| {
        format!(" At {} the face passes {} after {}.", event.station, celsius(c), hour(event.hour))
    })
}

/// One line of a summary: where it is hottest at the end of the shift.
#[derive(Clone, Debug, PartialEq)]
pub struct LineHeat {
    /// The line.
    pub line: LineId,
    /// Its hottest station.
    pub station: StationId,
    /// The sentence.
    pub text: String,
}

/// Each line's hottest station in a shift, hottest line first.
pub fn lines(
    shear: &Shear,
    (model, shift): (&Model, &Shift),
    band: Option<&Band>,
    n: Numbers,
) -> Vec<LineHeat> {
    let mut told: Vec<(f64, LineHeat)> = shear
        .lines
        .iter()
        .filter_map(|line| {
            let (hottest, station) = shift
                .samples
                .iter()
                .flat_map(|sample| &sample.contacts)
                .filter(|at| at.station.line == line.id)
                .map(|at| (at.face_c, at.station))
                .max_by(|a, b| a.0.total_cmp(&b.0))?;
            let contact = model.contact(station)?;
            let cold = model.network.contacts.get(contact)?.cold_gap_mm;
            let least = shift
                .samples
                .iter()
                .map(|sample| model.hot_gap_mm(sample, contact))
                .fold(f64::INFINITY, f64::min);
            let text = format!(
                "{station} {}: cold gap {} {}, face up to {} ({}){}, hot gap down to {} {}{}.{}",
                line.place,
                n.estimate(cold),
                n.unit_name(),
                celsius(hottest),
                colour(crate::domain::heat::colour_at(hottest)),
                between(band.and_then(|it| most(it.face_c.get(contact)?)), degrees, "\u{a0}°C"),
                n.estimate(least),
                n.unit_name(),
                between(
                    band.and_then(|it| fewest(it.gap_mm.get(contact)?)),
                    |mm| n.estimate(mm),
                    &format!(" {}", n.unit_name())
                ),
                story(shift, station)
            );
            Some((hottest, LineHeat { line: line.id, station, text }))
        })
        .collect();
    told.sort_by(|a, b| b.0.total_cmp(&a.0));
    told.into_iter().map(|(_, it)| it).collect()
}

/// The widest that low and high reach over the shift.
fn most(ends: &[(f64, f64)]) -> Option<(f64, f64)> {
    ends.iter().copied().reduce(|a, b| (a.0.max(b.0), a.1.max(b.1)))
}

/// The least that low and high come down to over the shift.
fn fewest(ends: &[(f64, f64)]) -> Option<(f64, f64)> {
    ends.iter().copied().reduce(|a, b| (a.0.min(b.0), a.1.min(b.1)))
}

/// `, 8 times in 10 between 240 and 410 °C`, or nothing.
fn between(ends: Option<(f64, f64)>, text: impl Fn(f64) -> String, unit: &str) -> String {
    ends.map_or_else(String::new, |(low, high)| {
        format!(", 8 times in 10 between {} and {}{unit}", text(low), text(high))
    })
}

/// What is said where the plate stalls the jaw: why, where it goes, and what the shift then assumes;
/// `None` where it is cut.
pub fn stalled(
    shear: &Shear,
    thermal: &Thermal,
    (model, plate_mm): (&Model, f64),
    n: Numbers,
) -> Option<String> {
    let forces = &model.forces;
    if !forces.stalls() {
        return None;
    }
    let (jaw, stock) = (force_along(thermal), stock(thermal));
    let length = |mm: f64| Length::from_mm(mm).map_or_else(String::new, |it| n.dimension(it));
    let kn = |newtons: f64| numbers::hours_value(newtons / 1e3);
    let at = thermal.work.plate.from_pivot;
    let goes = stock_places(shear)
        .filter(|it| plate_mm <= jaw.thickest_plate_mm(it.from_pivot, &stock))
        .max_by_key(|it| it.from_pivot);
    let next = goes.map_or_else(
        || "No place of this jaw cuts it.".to_owned(),
        |it| {
            let from_pivot = n.dimension(it.from_pivot);
            format!("It is cut as far out as {} ({from_pivot}); move it that deep.", it.id)
        },
    );
    Some(format!(
        "A plate of {} stalls the jaw at {} from the pivot: it takes {} kN, and {} kN are there. \
         {next} The thickest at {} is {}. This shift takes it that no cut is completed: a jaw that \
         stands still does not rub, so no heat is made.",
        length(plate_mm),
        n.dimension(at),
        kn(forces.needed_n),
        kn(forces.available_n),
        n.dimension(at),
        n.at_most(jaw.thickest_plate_mm(at, &stock))
    ))
}

/// Force along the jaw: a head, and a row for each place along the cutting side.
pub fn force(shear: &Shear, thermal: &Thermal, n: Numbers) -> Vec<String> {
    let (jaw, stock) = (force_along(thermal), stock(thermal));
    let length = |mm: f64| Length::from_mm(mm).map_or_else(String::new, |it| n.dimension(it));
    let kn = |newtons: f64| numbers::hours_value(newtons / 1e3);
    let head = format!(
        "Force along the jaw, at one jaw angle, for steel of {:.0} N/mm² cut over {}: thick stock \
         belongs deep in the throat, and opening is the weaker stroke.",
        stock.shear_n_per_mm2,
        length(stock.cut_mm)
    );
    let rows = stock_places(shear).map(|station| {
        let at = station.from_pivot;
        format!(
            "  {} at {}: closes with {} kN, opens with {} kN, cuts plate up to {} or a bar of {}",
            station.id,
            n.dimension(at),
            kn(jaw.closing_n(at)),
            kn(jaw.opening_n(at)),
            n.at_most(jaw.thickest_plate_mm(at, &stock)),
            n.at_most(jaw.thickest_bar_mm(at, &stock))
        )
    });
    std::iter::once(head).chain(rows).collect()
}

/// ` Faces rub from 0 h 00, straw after 1 h 10, …`, or nothing.
fn story(shift: &Shift, station: StationId) -> String {
    let events: Vec<String> = shift
        .events
        .iter()
        .filter(|it| it.station == station)
        .map(|it| format!("{} from {}", event(it.kind), hour(it.hour)))
        .collect();
    if events.is_empty() {
        String::new()
    } else {
        format!(" {}.", words::capital(&events.join(", ")))
    }
}

/// The advice of a lowest cold gap.
pub fn lowest_gap(
    line: LineId,
    place: &str,
    lowest: Option<f64>,
    (face_c, set_min_mm): (f64, f64),
    n: Numbers,
) -> String {
    match lowest {
        // What the heat allows is never an excuse to leave the set range.
        Some(mm) if mm < set_min_mm => format!(
            "At {line} ({place}) the set range rules: at least {} {}. By the middle estimate heat \
             alone would allow {} {}, with the faces below {} and the gap open hot.",
            n.estimate(set_min_mm),
            n.unit_name(),
            n.estimate(mm),
            n.unit_name(),
            celsius(face_c)
        ),
        Some(mm) => format!(
            "Set at least {} {} at {line} ({place}) for this work: by the middle estimate the faces \
             then stay below {} and the gap stays open hot.",
            n.estimate(mm),
            n.unit_name(),
            celsius(face_c)
        ),
        None => format!(
            "For this work no gap at {line} ({place}) keeps the faces below {} and open hot.",
            celsius(face_c)
        ),
    }
}

/// Where the cold gaps come from.
pub fn gaps_from(assumed: &[StationId]) -> String {
    if assumed.is_empty() {
        return "Cold gaps as measured last.".to_owned();
    }
    let list = assumed.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ");
    format!("Cold gaps as measured last; not known, so the middle of the set range: {list}.")
}

#[test]
fn times_and_temperatures_are_written_for_the_eye() {
    assert_eq!(hour(2.666_7), "2\u{a0}h\u{a0}40");
    assert_eq!(hour(0.999_9), "1\u{a0}h\u{a0}00");
    assert_eq!(celsius(-0.4), "0\u{a0}°C");
    assert_eq!(celsius(-12.3), "−12\u{a0}°C");
}
