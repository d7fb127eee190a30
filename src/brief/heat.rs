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
    language::{self, sentence, tell},
};

/// Why a number from the model is not a measurement.
pub const ESTIMATE: &str =
    sentence!("An estimate from a simple model: friction, cooling and expansion are known poorly.");

/// What the stretch around a curve is, and the dashed curve.
pub const PALE: &str = sentence!(
    "Pale: eight cases in ten of what is known poorly. Dashed: the same shift \
     with this gap in the middle of its set range."
);

/// What is said where some of the cases behind the stretch leave what the model can tell.
pub const PAST_ALL: &str = sentence!("some cases pass 600\u{a0}°C");

/// What a seen colour tells, and does not.
pub const COLOUR_CAVEAT: &str = sentence!(
    "Tables of temper colours disagree by 20 °C and more. Steel held \
     hot for long colours as if it had been hotter, alloyed steel as if it had been cooler."
);

/// A temper colour.
pub fn colour(colour: Option<Colour>) -> &'static str {
    match colour {
        None => tell!("no colour"),
        Some(Colour::Straw) => tell!("straw"),
        Some(Colour::Brown) => tell!("brown"),
        Some(Colour::Purple) => tell!("purple"),
        Some(Colour::Blue) => tell!("blue"),
        Some(Colour::Grey) => tell!("grey"),
    }
}

/// What a seen colour tells about a face: `Blue is about 285–340 °C.`
pub fn band(band: &ColourBand) -> String {
    let name = words::capital(colour(Some(band.colour)));
    match band.high_c {
        Some(high) => tell!(
            "{name} is about **{low_c}–{high}**.",
            name,
            low_c = degrees(band.low_c),
            high = celsius(high)
        ),
        None => tell!("{name} is about **{low_c}** or more.", name, low_c = celsius(band.low_c)),
    }
}

/// What the hot gap then was, from the two bounds of how far it had closed.
pub fn left(cold: f64, (low, high): (f64, f64)) -> &'static str {
    match (cold <= low, cold <= high) {
        (true, _) => tell!("the faces touched, this gap is too tight hot"),
        (false, true) => tell!("the faces may have touched, evidence for too tight a hot gap"),
        (false, false) => tell!("it stayed open, so look for another cause of the heat as well"),
    }
}

/// Where a steel's expansion comes from.
pub fn material(material: &Material) -> String {
    match material {
        Material::CarbonSteelTe1 => tell!("carbon steel by ASME TE-1, group 1").to_owned(),
        Material::CarbonSteelEn1993 => tell!("carbon steel by EN 1993-1-2").to_owned(),
        Material::Constant { ppm_per_k } => tell!("{ppm_per_k}e-6 /K throughout", ppm_per_k),
        Material::Table(table) => table.source().to_owned(),
    }
}

/// A seen colour read backwards: how hot, how far closed, and what that left of the cold gap.
pub fn seen(seen: &Seen, cold_mm: f64, n: Numbers) -> String {
    let (low, high) = seen.closed_mm;
    tell!(
        "{band} The gap had then closed by **{low}–{high} {unit_name}** of {cold_mm} cold: {closed_mm}.",
        band = band(&seen.band),
        low = n.estimate(low),
        high = n.estimate(high),
        unit_name = n.unit_name(),
        cold_mm = n.estimate(cold_mm),
        closed_mm = left(cold_mm, seen.closed_mm)
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
        EventKind::Loaded => tell!("faces rub").to_owned(),
        EventKind::Touching => tell!("faces touch").to_owned(),
        EventKind::Coloured(it) => colour(Some(it)).to_owned(),
        EventKind::Passed(c) => tell!("past {celsius}", celsius = celsius(c)),
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
        (
            tell!("Cold gap at {station}", station),
            format!("{} {}", n.estimate(gap_mm), n.unit_name()),
        ),
        (tell!("Cuts per minute").to_owned(), numbers::hours_value(duty.cuts_per_minute)),
        (tell!("Plate thickness").to_owned(), plate),
        (tell!("Air").to_owned(), celsius(duty.air_c)),
    ];
    let mut more = |name: &str, value: String| told.push((name.to_owned(), value));
    if 0.5 < (work.start_c - duty.air_c).abs() {
        more(tell!("Machine at the start"), celsius(work.start_c));
    }
    if duty.working_share < 1.0 {
        more(
            tell!("Share of the time it cuts"),
            format!("{:.0}\u{a0}%", 100.0 * duty.working_share),
        );
    }
    more(tell!("Shift"), hour(duty.hours));
    for (from, to) in &duty.breaks {
        more(tell!("Break"), tell!("{from} to {to}", from = hour(*from), to = hour(*to)));
    }
    more(tell!("Friction"), numbers::exact(duty.friction));
    told
}

/// Why a network cannot be calculated, as a sentence.
pub fn fault(fault: &NetworkFault) -> String {
    let text = words::capital(&language::understood(&fault.to_string()));
    if text.ends_with('.') { text } else { text + "." }
}

/// Whether the loop of gap, force and heat settles.
pub fn settles(gain: Loop, shift: &Shift) -> String {
    if gain.settles() {
        let passes = passes(shift);
        let but = if passes.is_empty() {
            String::new()
        } else {
            tell!(
                " But not soon enough.{passes} Beyond that this model says nothing; steel there has lost its temper.",
                passes
            )
        };
        return tell!(
            "The loop of gap, force and heat settles: gain {beta}, headroom {headroom}.{but}",
            beta = numbers::fixed(gain.beta, 2),
            headroom = numbers::fixed(gain.headroom(), 2),
            but
        );
    }
    if gain.swings() {
        return tell!(
            "It never settles (gain {beta}): the gap opens too late, so heat and gap swing ever \
             wider, though a steady gain of {steady} alone would settle.{shift}",
            beta = numbers::fixed(gain.beta, 2),
            steady = numbers::fixed(gain.steady, 2),
            shift = passes(shift)
        );
    }
    let passes = passes(shift);
    let rest = if passes.is_empty() {
        tell!(" While the faces are loaded they grow hotter without end; this shift is over before they \
         pass 600\u{a0}°C.")
            .to_owned()
    } else {
        passes
    };
    tell!("It never settles (gain {beta}).{rest}", beta = numbers::fixed(gain.beta, 2), rest)
}

/// ` At G2 the face passes 600 °C after 3 h 10.`, or nothing.
fn passes(shift: &Shift) -> String {
    let mut passed = shift.events.iter().filter_map(|it| match it.kind {
        EventKind::Passed(c) => Some((it, c)),
        _ => None,
    });
    passed.next().map_or_else(String::new, |(event, c)| {
        tell!(
            " At {station} the face passes {celsius} after {hour}.",
            station = event.station,
            celsius = celsius(c),
            hour = hour(event.hour)
        )
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
            let text = tell!(
                "{station} {place}: cold gap {cold} {unit_name}, face up to {hottest} \
                 ({colour_at}){degrees}, hot gap down to {least} {unit_name}{contact}.{shift}",
                station,
                place = language::known(&line.place),
                cold = n.estimate(cold),
                unit_name = n.unit_name(),
                hottest = celsius(hottest),
                colour_at = colour(crate::domain::heat::colour_at(hottest)),
                degrees =
                    between(band.and_then(|it| most(it.face_c.get(contact)?)), degrees, "\u{a0}°C"),
                least = n.estimate(least),
                contact = between(
                    band.and_then(|it| fewest(it.gap_mm.get(contact)?)),
                    |mm| n.estimate(mm),
                    &format!(" {}", n.unit_name())
                ),
                shift = story(shift, station)
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
    let apart = ends.filter(|(low, high)| text(*low) != text(*high));
    apart.map_or_else(String::new, |(low, high)| {
        tell!(
            ", 8 times in 10 between {low} and {high}{unit}",
            low = text(low),
            high = text(high),
            unit
        )
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
        || tell!("No place of this jaw cuts it.").to_owned(),
        |it| {
            let from_pivot = n.dimension(it.from_pivot);
            tell!(
                "It is cut as far out as {id} ({from_pivot}); move it that deep.",
                id = it.id,
                from_pivot
            )
        },
    );
    Some(tell!(
        "A plate of {plate_mm} stalls the jaw at {at} from the pivot: it takes {needed_n} kN, and {available_n} kN are there. \
         {next} The thickest at {at} is {stock}. This shift takes it that no cut is completed: a jaw that \
         stands still does not rub, so no heat is made.",
        plate_mm = length(plate_mm),
        at = n.dimension(at),
        needed_n = kn(forces.needed_n),
        available_n = kn(forces.available_n),
        next,
        stock = n.at_most(jaw.thickest_plate_mm(at, &stock))
    ))
}

/// Force along the jaw: a head, and a row for each place along the cutting side.
pub fn force(shear: &Shear, thermal: &Thermal, n: Numbers) -> Vec<String> {
    let (jaw, stock) = (force_along(thermal), stock(thermal));
    let length = |mm: f64| Length::from_mm(mm).map_or_else(String::new, |it| n.dimension(it));
    let kn = |newtons: f64| numbers::hours_value(newtons / 1e3);
    let head = tell!(
        "Force along the jaw, at one jaw angle, for steel of {shear_n_per_mm2} N/mm² cut over {cut_mm}: thick stock \
         belongs deep in the throat, and opening is the weaker stroke.",
        shear_n_per_mm2 = numbers::fixed(stock.shear_n_per_mm2, 0),
        cut_mm = length(stock.cut_mm)
    );
    let rows = stock_places(shear).map(|station| {
        let at = station.from_pivot;
        tell!("  {id} at {at}: closes with {closing_n} kN, opens with {opening_n} kN, cuts plate up to {stock} or a bar of {thickest_bar_mm}", id = station.id, at = n.dimension(at), closing_n = kn(jaw.closing_n(at)), opening_n = kn(jaw.opening_n(at)), stock = n.at_most(jaw.thickest_plate_mm(at, &stock)), thickest_bar_mm = n.at_most(jaw.thickest_bar_mm(at, &stock)))
    });
    std::iter::once(head).chain(rows).collect()
}

/// ` Faces rub from 0 h 00, straw after 1 h 10, …`, or nothing.
fn story(shift: &Shift, station: StationId) -> String {
    let events: Vec<String> = shift
        .events
        .iter()
        .filter(|it| it.station == station)
        .map(|it| tell!("{kind} from {hour}", kind = event(it.kind), hour = hour(it.hour)))
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
        Some(mm) if mm < set_min_mm => tell!(
            "At {line} ({place}) the set range rules: at least {set_min_mm} {unit_name}. By the middle estimate heat \
             alone would allow {mm} {unit_name}, with the faces below {face_c} and the gap open hot.",
            line,
            place,
            set_min_mm = n.estimate(set_min_mm),
            unit_name = n.unit_name(),
            mm = n.estimate(mm),
            face_c = celsius(face_c)
        ),
        Some(mm) => tell!(
            "Set at least {mm} {unit_name} at {line} ({place}) for this work: by the middle estimate the faces \
             then stay below {face_c} and the gap stays open hot.",
            mm = n.estimate(mm),
            unit_name = n.unit_name(),
            line,
            place,
            face_c = celsius(face_c)
        ),
        None => tell!(
            "For this work no gap at {line} ({place}) keeps the faces below {face_c} and open hot.",
            line,
            place,
            face_c = celsius(face_c)
        ),
    }
}

/// Where the cold gaps come from.
pub fn gaps_from(assumed: &[StationId]) -> String {
    if assumed.is_empty() {
        return tell!("Cold gaps as measured last.").to_owned();
    }
    let list = assumed.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ");
    tell!("Cold gaps as measured last; not known, so the middle of the set range: {list}.", list)
}

#[test]
fn times_and_temperatures_are_written_for_the_eye() {
    assert_eq!(hour(2.666_7), "2\u{a0}h\u{a0}40");
    assert_eq!(hour(0.999_9), "1\u{a0}h\u{a0}00");
    assert_eq!(celsius(-0.4), "0\u{a0}°C");
    assert_eq!(celsius(-12.3), "−12\u{a0}°C");
}
