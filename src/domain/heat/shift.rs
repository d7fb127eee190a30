//! One shift, hour by hour.
//!
//! The Dormand–Prince pair of orders 5 and 4 with error control; heat made and heat lost are
//! integrated beside the temperatures by the same steps, so the energy balance closes to rounding.
//! Breaks cut the integration, so no step crosses a change of duty.

use crate::domain::{
    heat::{Colour, Duty, Network, NetworkFault, Outside, colour_at},
    machine::{LineId, StationId},
};

/// One contact at one time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AtContact {
    /// The station.
    pub station: StationId,
    /// The gap with nothing pressing, in mm.
    pub gap_mm: f64,
    /// The force on the faces in a cut, in N; zero at the start, in a break, and without cuts.
    pub force_n: f64,
    /// The moving part's face in a cut, in °C: the tip's where the tip is one of the two.
    pub face_c: f64,
    /// The fixed part's face in a cut, in °C.
    pub fixed_face_c: f64,
    /// The hottest [`Self::face_c`] of the shift so far: the film of a temper colour stays when the
    /// face has cooled.
    pub hottest_so_far_c: f64,
}

impl AtContact {
    /// The hotter of the two faces, in °C.
    pub fn hottest_c(&self) -> f64 {
        self.face_c.max(self.fixed_face_c)
    }
}

/// The machine at one time.
#[derive(Clone, Debug, PartialEq)]
pub struct Sample {
    /// Hours since the shift began.
    pub hour: f64,
    /// Temperature of each part, in °C.
    pub parts_c: Vec<f64>,
    /// Each contact.
    pub contacts: Vec<AtContact>,
}

/// What happened at a contact.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum EventKind {
    /// The faces carry load in a cut from now on.
    Loaded,
    /// The faces touch with nothing pressing.
    Touching,
    /// A face is hot enough for this colour.
    Coloured(Colour),
    /// A face passes this temperature, in °C.
    Passed(f64),
}

/// Something that happened, and when.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Event {
    /// Hours since the shift began.
    pub hour: f64,
    /// At which station.
    pub station: StationId,
    /// What.
    pub kind: EventKind,
}

/// A whole shift.
#[derive(Clone, Debug, PartialEq)]
pub struct Shift {
    /// The machine at regular times, the first at the start and the last at the end.
    pub samples: Vec<Sample>,
    /// What happened, in order.
    pub events: Vec<Event>,
    /// Heat made by friction and cutting, in J.
    pub made_j: f64,
    /// Heat given to the air, in J.
    pub lost_j: f64,
    /// Heat stored in the parts, in J.
    pub stored_j: f64,
}

/// A face this hot is past any temper: the run says when and where, and calls it a runaway.
const RUNAWAY_C: f64 = 600.0;
/// The network is not followed beyond this, in °C: steel would be forging.
const CEILING_C: f64 = 1_000.0;

/// Runs a shift and samples it every `every_h` hours.
///
/// # Errors
///
/// [`NetworkFault`] for a network or a duty that cannot be calculated.
pub fn run(network: &Network, duty: &Duty, every_h: f64) -> Result<Shift, NetworkFault> {
    network.check()?;
    duty.check()?;
    let between = "the time between two samples";
    if let Some(outside) = Outside::range(between, every_h, [1e-3, 48.0], " h") {
        return Err(NetworkFault::OutOfRange(outside));
    }
    let start = network.start();
    let mut state = State { c: start.clone(), made_j: 0.0, lost_j: 0.0 };
    let mut step_s = 1.0;
    let mut samples = vec![sample(network, duty, 0.0, &state.c)];
    let mut stops = stops(duty, every_h);
    stops.retain(|stop| 0.0 < stop.hour);
    let mut from = 0.0;
    for stop in stops {
        let cuts = if duty.works_at(0.5 * (from + stop.hour)) { duty.cuts_per_s() } else { 0.0 };
        advance(network, duty, cuts, (stop.hour - from) * 3_600.0, &mut state, &mut step_s)?;
        from = stop.hour;
        if stop.sampled {
            let mut now = sample(network, duty, stop.hour, &state.c);
            for (now, before) in
                now.contacts.iter_mut().zip(samples.last().iter().flat_map(|it| &it.contacts))
            {
                now.hottest_so_far_c = now.face_c.max(before.hottest_so_far_c);
            }
            samples.push(now);
        }
        if state.c.iter().any(|c| CEILING_C <= *c) {
            break;
        }
    }
    let stored = network.parts.iter().zip(state.c.iter().zip(&start));
    let stored_j = stored.map(|(part, (now, then))| part.capacity_j_per_k * (now - then)).sum();
    let events = events(&samples);
    Ok(Shift { samples, events, made_j: state.made_j, lost_j: state.lost_j, stored_j })
}

struct Stop {
    hour: f64,
    sampled: bool,
}

/// Sample times and changes of duty, in order.
fn stops(duty: &Duty, every_h: f64) -> Vec<Stop> {
    let mut stops = Vec::new();
    let mut place = 1.0;
    while place * every_h < duty.hours - 1e-9 {
        stops.push(Stop { hour: place * every_h, sampled: true });
        place += 1.0;
    }
    for hour in duty.breaks.iter().flat_map(|(from, to)| [*from, *to]) {
        if 0.0 < hour && hour < duty.hours {
            stops.push(Stop { hour, sampled: false });
        }
    }
    stops.push(Stop { hour: duty.hours, sampled: true });
    stops.sort_by(|a, b| a.hour.total_cmp(&b.hour));
    stops
}

#[derive(Clone)]
struct State {
    c: Vec<f64>,
    made_j: f64,
    lost_j: f64,
}

/// Dormand and Prince (1980), J. Comp. Appl. Math. 6: 19–26: the coefficients of their 5(4) pair.
const A: [&[f64]; 6] = [
    &[1.0 / 5.0],
    &[3.0 / 40.0, 9.0 / 40.0],
    &[44.0 / 45.0, -56.0 / 15.0, 32.0 / 9.0],
    &[19_372.0 / 6_561.0, -25_360.0 / 2_187.0, 64_448.0 / 6_561.0, -212.0 / 729.0],
    &[9_017.0 / 3_168.0, -355.0 / 33.0, 46_732.0 / 5_247.0, 49.0 / 176.0, -5_103.0 / 18_656.0],
    &[35.0 / 384.0, 0.0, 500.0 / 1_113.0, 125.0 / 192.0, -2_187.0 / 6_784.0, 11.0 / 84.0],
];
/// The difference between the solutions of orders 5 and 4.
const E: [f64; 7] = [
    71.0 / 57_600.0,
    0.0,
    -71.0 / 16_695.0,
    71.0 / 1_920.0,
    -17_253.0 / 339_200.0,
    22.0 / 525.0,
    -1.0 / 40.0,
];
/// Steps between two stops before the network is called too stiff: a shift takes some hundred.
const ROUNDS: u32 = 50_000;
/// Error allowed in one step, in K.
const TOLERANCE_K: f64 = 1e-6;

/// Integrates over `span_s` seconds under one duty.
fn advance(
    network: &Network,
    duty: &Duty,
    cuts_per_s: f64,
    span_s: f64,
    state: &mut State,
    step_s: &mut f64,
) -> Result<(), NetworkFault> {
    let parts = network.parts.len();
    let mut stages: Vec<Stage> = (0..7).map(|_| Stage::new(parts)).collect();
    let mut trial = state.c.clone();
    let mut done = 0.0;
    let mut rounds = 0;
    while done < span_s {
        rounds += 1;
        if ROUNDS < rounds {
            return Err(NetworkFault::TooStiff);
        }
        let last = span_s - done <= *step_s * (1.0 + 1e-12);
        let h = if last { span_s - done } else { *step_s };
        slope(network, duty, cuts_per_s, &state.c, stages.first_mut());
        for (stage, row) in A.iter().enumerate() {
            let (known, next) = stages.split_at_mut(stage + 1);
            for (place, value) in trial.iter_mut().enumerate() {
                let sum: f64 = row.iter().zip(known.iter()).map(|(a, it)| a * it.at(place)).sum();
                *value = state.c.get(place).copied().unwrap_or(0.0) + h * sum;
            }
            slope(network, duty, cuts_per_s, &trial, next.first_mut());
        }
        let error = (0..parts)
            .map(|place| {
                let sum: f64 = E.iter().zip(&stages).map(|(e, it)| e * it.at(place)).sum();
                (h * sum).abs()
            })
            .fold(0.0, f64::max);
        let grow = 0.9 * (TOLERANCE_K / error.max(1e-30)).powf(0.2);
        if error <= TOLERANCE_K || h <= 1e-6 {
            // The sixth row is the fifth-order solution itself; its weights serve the heats as well.
            let weights = A.last().copied().unwrap_or(&[]);
            let both = weights.iter().zip(&stages);
            let (made, lost) = both
                .fold((0.0, 0.0), |(made, lost), (w, it)| (made + w * it.made, lost + w * it.lost));
            state.made_j += h * made;
            state.lost_j += h * lost;
            state.c.clone_from(&trial);
            done += h;
            if state.c.iter().any(|c| CEILING_C <= *c || !c.is_finite()) {
                return Ok(());
            }
            let grown = h * grow.clamp(0.2, 5.0);
            *step_s = if last { (*step_s).max(grown).min(3_600.0) } else { grown };
        } else {
            *step_s = h * grow.clamp(0.1, 0.9);
        }
    }
    Ok(())
}

struct Stage {
    k_per_s: Vec<f64>,
    made: f64,
    lost: f64,
}

impl Stage {
    fn new(parts: usize) -> Self {
        Self { k_per_s: vec![0.0; parts], made: 0.0, lost: 0.0 }
    }

    fn at(&self, place: usize) -> f64 {
        self.k_per_s.get(place).copied().unwrap_or(0.0)
    }
}

fn slope(network: &Network, duty: &Duty, cuts_per_s: f64, c: &[f64], into: Option<&mut Stage>) {
    let Some(stage) = into else { return };
    (stage.made, stage.lost) = network.flows(c, duty, cuts_per_s, &mut stage.k_per_s);
    for (slope, part) in stage.k_per_s.iter_mut().zip(&network.parts) {
        *slope /= part.capacity_j_per_k;
    }
}

fn sample(network: &Network, duty: &Duty, hour: f64, c: &[f64]) -> Sample {
    // At the start no cut has been made yet: every face is as warm as its part.
    let working = 0.0 < hour && duty.works_at(hour - 1e-9) && 0.0 < duty.cuts_per_s();
    let contacts = network
        .contacts
        .iter()
        .map(|contact| {
            let gap_mm = contact.gap_mm(c);
            let force_n = if working { contact.force_n(gap_mm) } else { 0.0 };
            let heat_j = if working { contact.heat_per_cut_j(c, duty) } else { 0.0 };
            let face = |part: usize, share: f64| {
                c.get(part).copied().unwrap_or(duty.air_c) + contact.flash_k(heat_j, share)
            };
            let face_c = face(contact.moving, contact.to_moving);
            let fixed_face_c = face(contact.fixed, 1.0 - contact.to_moving);
            AtContact {
                station: contact.station,
                gap_mm,
                force_n,
                face_c,
                fixed_face_c,
                hottest_so_far_c: face_c,
            }
        })
        .collect();
    Sample { hour, parts_c: c.to_vec(), contacts }
}

/// Events between samples, by straight lines between them.
fn events(samples: &[Sample]) -> Vec<Event> {
    let mut events = Vec::new();
    let count = samples.first().map_or(0, |sample| sample.contacts.len());
    for place in 0..count {
        let track: Vec<(f64, AtContact)> = samples
            .iter()
            .filter_map(|sample| Some((sample.hour, *sample.contacts.get(place)?)))
            .collect();
        let Some((_, first)) = track.first() else { continue };
        let mut note = |hour: Option<f64>, kind| {
            events.extend(hour.map(|hour| Event { hour, station: first.station, kind }));
        };
        note(first_above(&track, 0.0, |it| it.force_n), EventKind::Loaded);
        note(first_above(&track, 0.0, |it| -it.gap_mm), EventKind::Touching);
        for (from_c, colour) in [
            (Colour::Straw.starts_c(), Colour::Straw),
            (Colour::Brown.starts_c(), Colour::Brown),
            (Colour::Purple.starts_c(), Colour::Purple),
            (Colour::Blue.starts_c(), Colour::Blue),
            (Colour::Grey.starts_c(), Colour::Grey),
        ] {
            note(first_above(&track, from_c, |it| it.face_c), EventKind::Coloured(colour));
        }
        note(first_above(&track, RUNAWAY_C, AtContact::hottest_c), EventKind::Passed(RUNAWAY_C));
    }
    events.sort_by(|a, b| a.hour.total_cmp(&b.hour));
    events
}

/// When a quantity first lies above a level.
fn first_above(
    track: &[(f64, AtContact)],
    level: f64,
    of: impl Fn(&AtContact) -> f64,
) -> Option<f64> {
    let (hour, first) = track.first()?;
    if level < of(first) {
        return Some(*hour);
    }
    track.iter().zip(track.iter().skip(1)).find_map(|((h0, a), (h1, b))| {
        let (low, high) = (of(a), of(b));
        (low <= level && level < high).then(|| h0 + (h1 - h0) * (level - low) / (high - low))
    })
}

impl Shift {
    /// Heat made less heat lost and stored, as a share of the heat made.
    pub fn imbalance(&self) -> f64 {
        let scale = self.made_j.abs().max(self.lost_j.abs()).max(1.0);
        (self.made_j - self.lost_j - self.stored_j).abs() / scale
    }

    /// The colour that the hottest face of a line reaches.
    pub fn colour_of(&self, line: LineId) -> Option<Colour> {
        let at_line = |sample: &Sample| {
            let here = sample.contacts.iter().filter(|it| it.station.line == line);
            here.map(AtContact::hottest_c).max_by(f64::total_cmp)
        };
        self.samples.iter().filter_map(at_line).max_by(f64::total_cmp).and_then(colour_at)
    }
}
