//! The job sheet, told: everything that goes on paper, in the words of the screen.
//!
//! Knows what stands where in millimetres of the machine; does not know paper, fonts or points.

use crate::{
    brief::{
        Numbers, blade, caution,
        decision::{LineBrief, tell_all},
        head::{self, Head},
        plan::PlanBrief,
        trend::limits_note,
        why_force, words,
    },
    domain::{
        decide::{Action, Choice, Job, LineDecision, MachineDecision, MachinePlan, StationState},
        log::SessionId,
        machine::{Blade, Line, Shear, Side, Toward},
        quantity::Length,
        yard::{Machine, Settings},
    },
    language::{self, tell},
};

/// A job sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Sheet {
    /// Machine, session, meter, next look.
    pub head: Head,
    /// The yard.
    pub yard: String,
    /// Before anybody reaches in, one sentence each.
    pub cautions: Vec<&'static str>,
    /// The jaw with its readings.
    pub mouth: Mouth,
    /// Every line, most urgent first.
    pub jobs: Vec<SheetJob>,
    /// What to do now, at the next shutdown, and what to order; `None` where nobody planned.
    pub plan: Option<PlanBrief>,
    /// Stands under every advice.
    pub advice: &'static str,
    /// How strongly the jaw closes and opens; `None` where the machine's file has no cylinder.
    pub force: Option<String>,
    /// Where the limits come from, and that letters are ours.
    pub limits: String,
    /// What its file is called: the machine and the newest session that went into it.
    pub file: String,
    /// Which files it came from, and by which program.
    pub origin: String,
    /// What people sign.
    pub signatures: [&'static str; 3],
}

/// One line on the sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct SheetJob {
    /// The same words as on the screen.
    pub brief: LineBrief,
    /// Whether something is to be done that can be ticked off.
    pub to_do: bool,
    /// Whether the gaps are measured with it, so that paper leaves room for the readings.
    pub measures: bool,
    /// Every station, now and after.
    pub stations: Vec<SheetStation>,
    /// `Pack 0.75 now: 0.50 + 0.25. After 1.50: 0.50 + 0.50 + 0.25 + 0.25, from the seat.`
    pub packs: Vec<String>,
    /// When the bolts are checked again; without the weight marks nothing is lost.
    pub again: Option<String>,
}

/// A station on the sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SheetStation {
    /// `S4`.
    pub name: String,
    /// `1.21–1.26`, at 20 °C.
    pub now: String,
    /// Whether work has moved the gap since, so that this is the gap before it.
    pub moved: bool,
    /// `soon too wide`.
    pub verdict: &'static str,
    /// `0.40`; nothing if the job leaves it alone or nobody can know.
    pub after: Option<String>,
    /// `−0.05`: that gap at working temperature, an estimate.
    pub hot: Option<String>,
    /// `0.24`: the gap after the job at working temperature, an estimate.
    pub hot_after: Option<String>,
}

/// Where something sits in the mouth.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Place {
    /// On the upper jaw.
    Moving,
    /// On the side the steel is cut against.
    Cutting,
    /// On the guide side.
    Guide,
    /// Across the tip.
    Front,
}

/// The jaw from above, in mm.
#[derive(Clone, Debug, PartialEq)]
pub struct Mouth {
    /// From the pivot to the outside of the tip.
    pub reach: f64,
    /// Clear width between the cheeks.
    pub width: f64,
    /// Thickness of each cheek.
    pub cheek: f64,
    /// Width of the upper jaw.
    pub upper: f64,
    /// Diameter of the pivot.
    pub pivot: f64,
    /// Blades, tip and pads.
    pub parts: Vec<MouthPart>,
    /// Stations.
    pub stations: Vec<MouthStation>,
    /// What the numbers are.
    pub note: String,
}

/// A part of the mouth, in mm from the pivot.
#[derive(Clone, Debug, PartialEq)]
pub struct MouthPart {
    /// Where.
    pub place: Place,
    /// Its near end.
    pub near: f64,
    /// Its far end.
    pub far: f64,
    /// From seat to face.
    pub depth: f64,
    /// Its bolts.
    pub bolts: Vec<f64>,
}

/// A station of the mouth, in mm.
#[derive(Clone, Debug, PartialEq)]
pub struct MouthStation {
    /// `P1`.
    pub name: String,
    /// The side of its fixed blade.
    pub place: Place,
    /// From the pivot.
    pub from_pivot: f64,
    /// From the guide cheek, for a cross line.
    pub across: Option<f64>,
    /// `0.57–0.62`.
    pub value: String,
    /// `working`.
    pub verdict: &'static str,
    /// Whether the verdict calls for a closer look, so that paper marks it without colour.
    pub heavy: bool,
}

impl Sheet {
    /// With a plan of the next shutdown, which needs the whole yard; jobs for which somebody chose
    /// another time say that one.
    #[must_use]
    pub fn with_plan(mut self, plan: PlanBrief) -> Self {
        for job in &mut self.jobs {
            plan.retime(std::slice::from_mut(&mut job.brief));
        }
        Self { plan: Some(plan), ..self }
    }

    /// Under a name that says what somebody chose instead of the plan, so that sheets of one visit
    /// with other times are other files: `heron-2026-11-24T1440Z-s-shutdown.pdf`.
    #[must_use]
    pub fn named_after(mut self, plan: &MachinePlan) -> Self {
        let bare = self.file.trim_end_matches(PDF);
        let choices = plan.choices().map(|(line, choice)| {
            let when = match choice {
                Choice::Now => "now",
                Choice::Shutdown => "shutdown",
                Choice::Limit => "limit",
            };
            format!("-{line}-{when}").to_lowercase()
        });
        self.file = format!("{bare}{}{PDF}", choices.collect::<String>());
        self
    }
}

const PDF: &str = ".pdf";

/// Tells the sheet of a machine. `program` is who made it, such as `Gapwright 0.1.0`.
pub fn tell(
    machine: &Machine,
    decision: &MachineDecision,
    settings: &Settings,
    n: Numbers,
    program: &str,
) -> Sheet {
    let shear = &machine.shear;
    let briefs = tell_all(decision, shear, n);
    let jobs = briefs
        .into_iter()
        .zip(&decision.lines)
        .map(|(brief, line)| job(machine, settings, (line, brief), n))
        .collect();
    let mut limits: Vec<String> =
        shear.lines.iter().map(|line| limits_note(&line.limits)).collect();
    limits.sort();
    limits.dedup();
    let newest = machine.history.last().map(|it| &it.id);
    let measured = decision.measured.as_ref().map(|(id, _)| id);
    let session = |id: &SessionId| format!("shears/{}/sessions/{id}.ron", shear.id);
    let from = match (measured, newest) {
        (Some(id), Some(newest)) if id != newest => {
            tell!("{measured} and {newest}.ron", measured = session(id), newest)
        }
        (Some(id), _) | (None, Some(id)) => session(id),
        (None, None) => tell!("shears/{id}/shear.ron, no session yet", id = shear.id),
    };
    Sheet {
        head: head::tell(machine, decision, n),
        yard: settings.name.clone(),
        cautions: caution::BEFORE_REACHING_IN
            .iter()
            .map(|it| language::told(it.sentence))
            .collect(),
        mouth: mouth(shear, decision, n),
        jobs,
        plan: None,
        advice: language::told(caution::ADVICE_ONLY),
        force: why_force::note(shear, n),
        limits: limits.join(" "),
        file: format!("{}-{}{PDF}", shear.id, newest.map_or("new", |id| id.as_str())),
        origin: tell!("From {from} · {program}", from, program),
        signatures: [tell!("Done by"), tell!("Date and hour meter"), tell!("Checked by")],
    }
}

fn job(
    machine: &Machine,
    settings: &Settings,
    (line, brief): (&LineDecision, LineBrief),
    n: Numbers,
) -> SheetJob {
    let (shear, history) = (&machine.shear, &machine.history);
    let on = shear.line(line.line);
    let packs =
        on.map(|it| &it.fixed).map(|fixed| blade::packs(shear, history, fixed, &line.job, n));
    let again = brief.bolts.is_some() && !matches!(line.job, Job::Retorque { .. });
    SheetJob {
        to_do: line.action != Action::Leave || line.job != Job::Nothing,
        measures: line.job == Job::Measure || line.job.repacks().is_some(),
        stations: line.stations.iter().map(|state| station(state, on, n)).collect(),
        packs: packs.iter().flatten().filter_map(pack_line).collect(),
        again: again.then(|| blade::check_bolts_again(settings.intervals_of(shear).retorque)),
        brief,
    }
}

/// A pack that changes, in a line; nothing for one that stays.
fn pack_line(pack: &blade::PackBrief) -> Option<String> {
    let list = |shims: &[blade::ShimBrief]| {
        let texts: Vec<&str> = shims.iter().map(|it| it.text.as_str()).collect();
        if texts.is_empty() { tell!("no shim").to_owned() } else { texts.join(" + ") }
    };
    Some(tell!(
        "{title}: {now_words}, {now}; {after_words}, {after} from the seat.",
        title = pack.title,
        now_words = pack.now_words,
        now = list(&pack.now),
        after_words = pack.after_words,
        after = list(pack.after.as_ref()?)
    ))
}

fn station(state: &StationState, line: Option<&Line>, n: Numbers) -> SheetStation {
    let after = line.zip(state.after).map(|(line, after)| line.hot_gap_mm(after.mm()));
    SheetStation {
        name: state.station.to_string(),
        now: value(state, n),
        moved: state.stale,
        verdict: verdict(state),
        after: state.after.map(|after| n.estimate(after.mm())),
        hot: state.hot_mm.map(|hot| n.estimate(hot)),
        hot_after: after.map(|hot| n.estimate(hot)),
    }
}

fn value(state: &StationState, n: Numbers) -> String {
    state.cold.as_ref().map_or_else(|| tell!("not yet").to_owned(), |cold| n.range(cold.bracket))
}

fn verdict(state: &StationState) -> &'static str {
    match state.verdict {
        _ if state.stale => tell!("moved since"),
        Some(verdict) => words::verdict(verdict.kind()),
        None => tell!("not measured"),
    }
}

fn mouth(shear: &Shear, decision: &MachineDecision, n: Numbers) -> Mouth {
    use crate::domain::verdict::VerdictKind;
    let geometry = &shear.geometry;
    // The side plate of the upper jaw runs on the pads; it is part of the jaw's own outline.
    let slides = |blade: &&Blade| {
        !shear.lines.iter().any(|line| line.toward == Toward::Pads && line.moving == blade.id)
    };
    let states = shear.lines.iter().flat_map(|line| {
        let side = shear.blade(&line.fixed).map_or(Side::Cutting, |blade| blade.side);
        let states = decision.line(line.id).map_or(&[][..], |it| &it.stations);
        states.iter().map(move |state| (side, state))
    });
    let stations = states.filter_map(|(side, state)| {
        let at = shear.station(state.station)?;
        let calm = state
            .verdict
            .is_some_and(|it| matches!(it.kind(), VerdictKind::Set | VerdictKind::Working));
        Some(MouthStation {
            name: state.station.to_string(),
            place: place(side),
            from_pivot: at.from_pivot.mm(),
            across: at.across.map(Length::mm),
            value: value(state, n),
            // A chip has room for one word: "stop".
            verdict: verdict(state).split(':').next().unwrap_or_default(),
            heavy: !calm && !state.stale,
        })
    });
    Mouth {
        reach: geometry.reach.mm(),
        width: geometry.mouth.mm(),
        cheek: geometry.cheek.mm(),
        upper: geometry.upper_jaw.mm(),
        pivot: geometry.pivot.mm(),
        parts: shear.blades.iter().filter(slides).map(part).collect(),
        stations: stations.collect(),
        note: tell!(
            "The lower jaw from above, to scale. Gaps in {unit_name} at 20 °C, between the two leaves.",
            unit_name = n.unit_name()
        ),
    }
}

fn part(blade: &Blade) -> MouthPart {
    let bolts = blade.bolts.as_ref().map_or(&[][..], |bolts| &bolts.from_pivot);
    MouthPart {
        place: place(blade.side),
        near: blade.near.mm(),
        far: blade.far.mm(),
        depth: blade.depth.mm(),
        bolts: bolts.iter().map(|at| at.mm()).collect(),
    }
}

const fn place(side: Side) -> Place {
    match side {
        Side::Moving => Place::Moving,
        Side::Cutting => Place::Cutting,
        Side::Guide => Place::Guide,
        Side::Front => Place::Front,
    }
}
