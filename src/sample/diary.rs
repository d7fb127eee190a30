//! How the story would have been written down: visits, brackets, findings, work.

use crate::{
    domain::{
        gauge::{Bracket, LeafSet},
        log::{Counters, Finding, FindingKind, Reading, Session, SessionId, WeldPart, Work},
        machine::{BladeId, Line, LineId, PartTemperatures, Shear, StationId, Toward},
        quantity::{Hours, Length, Temperature},
    },
    sample::{
        chance::Chance,
        course::{Begin, Course, Leg},
        jaw,
        scenario::{Extra, Kind, LIFE, Scenario, Sight},
        timetable::{Purpose, Visit, begun, life_of, purpose_of, visits},
    },
};
use chrono::{DateTime, Datelike as _, Timelike as _, Utc};
use std::collections::{BTreeMap, BTreeSet};

/// Which leaves were at hand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Leaves {
    All,
    /// Nothing to make a stack thicker than 1 mm.
    Thin,
}

/// All legs of one station.
struct Track<'a> {
    line: &'a Line,
    number: u8,
    legs: Vec<Leg>,
}

struct Diary<'a> {
    shear: &'a Shear,
    scenario: Scenario,
    /// How many sessions are kept.
    kept: usize,
    visits: Vec<Visit>,
    tracks: Vec<Track<'a>>,
    stacks: Vec<Length>,
    edges: BTreeMap<BladeId, u8>,
    chance: Chance,
}

/// The sessions of one machine, oldest first.
pub(crate) fn write(
    shear: &Shear,
    scenario: Scenario,
    kept: usize,
    end: DateTime<Utc>,
    leaf_sets: &[LeafSet],
    mut chance: Chance,
) -> Vec<Session> {
    let lives = kept.div_ceil(LIFE).max(1);
    let visits = visits(scenario, lives, end, &mut chance);
    let tracks = tracks(shear, scenario, lives, &mut chance);
    let stacks = leaf_sets.first().map_or_else(Vec::new, |set| set.stacks().collect());
    let edges = BTreeMap::new();
    let mut diary = Diary { shear, scenario, kept, visits, tracks, stacks, edges, chance };
    // What was done in this life before the log begins stands in its first session.
    let begun = (kept.div_ceil(LIFE) * LIFE).max(1) - 1;
    let mut earlier = Vec::new();
    for session in (kept..=begun).rev() {
        earlier.extend(diary.work(session));
    }
    let mut sessions = Vec::with_capacity(kept);
    for session in (0..kept).rev() {
        let mut written = diary.session(session);
        if !earlier.is_empty() {
            earlier.append(&mut written.work);
            written.work = std::mem::take(&mut earlier);
            written.readings.clear();
            "Copied from the old book: what was done before".clone_into(&mut written.note);
        }
        sessions.push(written);
    }
    sessions
}

fn tracks<'a>(
    shear: &'a Shear,
    scenario: Scenario,
    lives: usize,
    chance: &mut Chance,
) -> Vec<Track<'a>> {
    let mut tracks = Vec::new();
    for id in shear.walk() {
        let Some(line) = shear.line(id.line) else { continue };
        let angle = shear.blade(&line.fixed).map_or(0.0, |blade| blade.face_angle_deg);
        let place = usize::from(id.number.saturating_sub(1));
        let legs = (0..lives)
            .flat_map(|life| {
                let (story, _) = life_of(scenario, life * LIFE);
                let course = story.courses.iter().find(|it| it.line == id.line.letter());
                let legs = |course: &Course| {
                    course.legs(line, place, angle.to_radians().cos(), life * LIFE, chance)
                };
                course.map(legs).unwrap_or_default()
            })
            .collect();
        tracks.push(Track { line, number: id.number, legs });
    }
    tracks
}

impl Diary<'_> {
    fn session(&mut self, session: usize) -> Session {
        let (story, within) = life_of(self.scenario, session);
        let visit = self.visits.get(session).copied().unwrap_or(Visit {
            purpose: Purpose::Mention,
            taken: DateTime::UNIX_EPOCH,
            tenths_before_end: 0,
        });
        let person = usize::try_from(self.chance.between(0, 99)).unwrap_or(0);
        let by = story.people.get(person % story.people.len().max(1)).copied().unwrap_or("");
        let air = self.air(visit.taken);
        let warm = if visit.purpose == Purpose::Check { 6 } else { 18 };
        let jaw = air + warm + self.chance.between(-2, 2);
        let readings = match visit.purpose {
            Purpose::Round | Purpose::Check => self.readings(session, jaw),
            Purpose::Mention | Purpose::Fitting => Vec::new(),
        };
        let measured = !readings.is_empty();
        let note = if visit.purpose == Purpose::Fitting {
            "New blades, base packs noted"
        } else if story.thick_leaves_missing.is_some_and(|(when, _)| when == within) {
            "Thick leaves left in the other truck"
        } else {
            ""
        };
        let id = SessionId::new(visit.taken, self.chance.tail());
        Session {
            id,
            shear: self.shear.id.clone(),
            taken: visit.taken,
            meter: self.meter(session),
            by: by.to_owned(),
            air_temp: Some(Temperature::from_whole_c(air)),
            jaw_temp: measured.then(|| Temperature::from_whole_c(jaw)),
            readings,
            findings: story
                .sights
                .iter()
                .filter(|sight| sight.session == within)
                .map(finding)
                .collect(),
            work: self.work(session),
            counters: if measured { self.counters(session) } else { Counters::default() },
            marks: vec![],
            remarks: vec![],
            note: note.to_owned(),
            amends: None,
        }
    }

    /// Air in whole °C: warm in July, cool in January, cooler in the morning.
    fn air(&mut self, taken: DateTime<Utc>) -> i32 {
        let day = i32::try_from(taken.ordinal0()).unwrap_or(0);
        let from_summer = (day - 200).abs().min(365 - (day - 200).abs());
        let morning = if taken.hour() < 9 { 5 } else { 0 };
        21 - from_summer / 12 - morning + self.chance.between(-3, 3)
    }

    fn hours_before_end(&self, session: usize) -> f64 {
        self.visits.get(session).map_or(0.0, |visit| f64::from(visit.tenths_before_end) / 10.0)
    }

    /// What the hour meter showed.
    /// What the machine has cut: about five tonnes and 150 cuts an hour, more of one and less of the
    /// other as the scrap changes.
    fn counters(&self, session: usize) -> Counters {
        let before_end = self.visits.get(session).map_or(0, |visit| visit.tenths_before_end);
        let first = self.visits.last().map_or(0, |visit| visit.tenths_before_end);
        let worked_h = 3_000.0 + f64::from(first - before_end) / 10.0;
        let scrap = 30.0 * (worked_h / 41.0).sin();
        let whole = |count: f64| {
            Hours::from_h(count).and_then(|it| u64::try_from(it.thousandths() / 1_000).ok())
        };
        Counters {
            tonnes: whole(5.2 * worked_h + scrap),
            cuts: whole(148.0 * worked_h - 20.0 * scrap),
        }
    }

    fn meter(&self, session: usize) -> Hours {
        let tenths = |session: usize| -> i32 {
            self.visits.get(session).map_or(0, |visit| visit.tenths_before_end)
        };
        let story = self.scenario.story();
        let changed = story.extras.iter().find_map(|(when, extra)| match extra {
            Extra::MeterChanged { old, new } => Some((*when, *old, *new)),
            Extra::Welded(_) => None,
        });
        let shown = match changed {
            Some((when, old, _)) if when <= session => old - (tenths(session) - tenths(when)),
            Some((when, _, new)) => new + tenths(when) - tenths(session),
            None => story.meter - tenths(session),
        };
        Hours::from_h(f64::from(shown.max(0)) / 10.0).unwrap_or(Hours::ZERO)
    }

    fn readings(&mut self, session: usize, jaw: i32) -> Vec<Reading> {
        let (story, within) = life_of(self.scenario, session);
        let check = purpose_of(self.scenario, session) == Purpose::Check;
        let moved: BTreeSet<LineId> = begun(story, within + 1).map(|(line, _)| line).collect();
        let missing = story.thick_leaves_missing.filter(|(when, _)| *when == within);
        let tracks = std::mem::take(&mut self.tracks);
        let mut readings = Vec::new();
        for track in &tracks {
            if check && !moved.contains(&track.line.id) {
                continue;
            }
            // The newest rounds are complete; on others a place is missed now and then.
            let recent = session < 3;
            if !recent && self.chance.once_in(90.0) {
                continue;
            }
            let missed = missing.is_some_and(|(_, letter)| letter == track.line.id.letter());
            let leaves = if missed { Leaves::Thin } else { Leaves::All };
            readings.extend(self.reading(track, session, jaw, leaves));
        }
        self.tracks = tracks;
        readings
    }

    /// `None` if the station's course does not reach back that far.
    fn reading(
        &mut self,
        track: &Track<'_>,
        session: usize,
        jaw: i32,
        leaves: Leaves,
    ) -> Option<Reading> {
        let leg = track.legs.iter().find(|leg| leg.to <= session && session < leg.from)?;
        let cold = leg.gap_um(session, |session| self.hours_before_end(session)) / 1000.0;
        let hotter = if track.line.toward == Toward::Pads { 0 } else { 8 };
        let blade = jaw + hotter + self.chance.between(-1, 2);
        // What the thermometer shows is a degree off, so the correction will be too.
        let true_blade = Temperature::from_c(f64::from(blade) + self.chance.bell(1.0))?;
        let true_jaw = Temperature::from_c(f64::from(jaw) + self.chance.bell(1.0))?;
        let opening = track.line.chain.opening_mm(&PartTemperatures {
            moving: true_blade,
            fixed: true_blade,
            upper_jaw: true_jaw,
            lower_jaw: true_jaw,
        });
        let felt = Length::from_mm(cold + opening + self.chance.bell(0.007))?;
        let forgotten = 3 <= session && self.chance.once_in(150.0);
        Some(Reading {
            station: StationId { line: track.line.id, number: track.number },
            bracket: self.feel(felt, session, leaves)?,
            blade_temp: (!forgotten).then(|| Temperature::from_whole_c(blade)),
            leaves: None,
        })
    }

    /// Tries stacks until one goes and the next does not.
    fn feel(&mut self, felt: Length, session: usize, leaves: Leaves) -> Option<Bracket> {
        let single = Length::from_um(1_000);
        if leaves == Leaves::Thin && single <= felt {
            return Bracket::new(single, None).ok();
        }
        let thicker = self.stacks.partition_point(|stack| *stack <= felt);
        // In a hurry somebody leaves out a stack.
        let hurried = 3 <= session && self.chance.once_in(20.0);
        let go = thicker.checked_sub(1).and_then(|place| self.stacks.get(place)).copied();
        let no_go = self.stacks.get(thicker + usize::from(hurried)).copied();
        Bracket::new(go.unwrap_or(Length::ZERO), no_go).ok()
    }

    /// What was done at a session.
    fn work(&mut self, session: usize) -> Vec<Work> {
        let (story, within) = life_of(self.scenario, session);
        let mut work = Vec::new();
        let mut touched: Vec<BladeId> = Vec::new();
        for (line, stage) in begun(story, within) {
            let Some(line) = self.shear.line(line) else { continue };
            for blade in blades_touched(line, stage.begins) {
                if touched.contains(blade) {
                    continue;
                }
                work.extend(self.work_on(blade, stage.begins));
                touched.push(blade.clone());
            }
        }
        if purpose_of(self.scenario, session) == Purpose::Check {
            // Bolts settle in the first hour and are tightened again.
            for (line, stage) in begun(story, within + 1) {
                let Some(line) = self.shear.line(line) else { continue };
                for blade in blades_touched(line, stage.begins) {
                    if !touched.contains(blade) {
                        touched.push(blade.clone());
                    }
                }
            }
        }
        for blade in touched {
            let bolts = self.shear.blade(&blade).and_then(|blade| blade.bolts.as_ref());
            if let Some(torque) = bolts.and_then(|bolts| bolts.torque) {
                work.push(Work::Tightened { blade, torque });
            }
        }
        if within % 5 == 1 && purpose_of(self.scenario, session) == Purpose::Round {
            work.push(Work::Lubricated);
        }
        let extras = story.extras.iter().filter(|(when, _)| *when == within);
        work.extend(extras.filter_map(|(_, extra)| self.extra(*extra, session)));
        work
    }

    fn extra(&self, extra: Extra, session: usize) -> Option<Work> {
        match extra {
            Extra::Welded(place) => Some(Work::Welded {
                part: WeldPart::Elsewhere,
                place: place.to_owned(),
                consumable: "basic electrode, hard top layer".to_owned(),
                cooled_slowly: true,
                template_checked: true,
            }),
            // Nobody sees the old meter if the log begins with the new one.
            Extra::MeterChanged { .. } if LIFE <= session || self.kept <= session + 1 => None,
            Extra::MeterChanged { old, new } => Some(Work::MeterChanged {
                old: Hours::from_h(f64::from(old) / 10.0)?,
                new: Hours::from_h(f64::from(new) / 10.0)?,
            }),
        }
    }

    fn work_on(&mut self, blade: &BladeId, begins: Begin) -> Option<Work> {
        let lengths = |um: &[i64]| um.iter().copied().map(Length::from_um).collect::<Vec<_>>();
        let pack = lengths(jaw::base_pack(blade));
        match begins {
            Begin::New => {
                self.edges.insert(blade.clone(), 1);
                Some(Work::Replaced { blade: blade.clone(), pack })
            }
            Begin::Turned => {
                let most = self.shear.blade(blade).map_or(1, |blade| blade.edges);
                let edge = self.edges.entry(blade.clone()).or_insert(1);
                *edge = (*edge + 1).min(most);
                Some(Work::Turned { blade: blade.clone(), edge: *edge, pack })
            }
            Begin::Shims { put_in, take_out } => Some(Work::Shims {
                blade: blade.clone(),
                bolts: None,
                put_in: lengths(put_in),
                take_out: lengths(take_out),
            }),
            Begin::PadsMoved(_) | Begin::Spread => None,
        }
    }
}

/// Both blades of a pair are new or turned together; only the fixed one is shimmed, and the tip,
/// which serves three lines, is not turned.
fn blades_touched(line: &Line, begins: Begin) -> Vec<&BladeId> {
    match begins {
        Begin::New => vec![&line.fixed, &line.moving],
        Begin::Turned if line.moving.0 != "tip" => vec![&line.fixed, &line.moving],
        Begin::Turned | Begin::Shims { .. } => vec![&line.fixed],
        Begin::PadsMoved(_) | Begin::Spread => Vec::new(),
    }
}

fn finding(sight: &Sight) -> Finding {
    let kind = match sight.kind {
        Kind::Straw => FindingKind::StrawStreak,
        Kind::Purple => FindingKind::PurpleStreak,
        Kind::Blue => FindingKind::BlueStreak,
        Kind::Chipped => FindingKind::ChippedEdge,
        Kind::Jam => FindingKind::Jam,
        Kind::Chatter => FindingKind::Chatter,
        Kind::LooseBolt => FindingKind::LooseBolt,
        Kind::StockCaught => FindingKind::StockCaught,
        Kind::OilOnBlades => FindingKind::Own("Oil on the blades".to_owned()),
    };
    Finding {
        kind,
        line: sight.line.and_then(LineId::new),
        station: sight.station,
        size: sight.size_um.map(Length::from_um),
        note: sight.note.to_owned(),
    }
}
