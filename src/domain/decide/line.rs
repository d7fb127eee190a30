//! One line: facts first, then the action they call for.
//!
//! Stop comes from cracks, a stop limit, faces that touch when hot, pads so loose that blades can
//! clash, or a jaw that has spread. Below that, a dull edge calls for a turn or a new blade, and a
//! gap outside its limits, or soon to be, for shims; where shims cannot do it, for a fresh edge. A
//! gap that nobody knows, or that work has moved, is measured before a recipe rests on it.

use crate::domain::{
    decide::{
        Action, Job, LineDecision, Reason, StationState, When, edges,
        facts::{AllStates, Facts, blades_of, states_of},
        fresh::{self, TooTight},
        machine::Context,
        marks,
        recipe::{self, Stepped},
        remarks,
    },
    log::MarkKind,
    machine::{Blade, BladeId, Line, StationId},
    shims::{BedPlan, Shortfall},
    verdict::Way,
};

/// Decides one line.
pub(crate) fn decide_line(context: &Context<'_>, line: &Line, all: &AllStates) -> LineDecision {
    let states = states_of(all, line.id).to_vec();
    let facts = Facts::of(context, line, all);
    let stale = states.iter().any(|state| state.stale);
    let missing: Vec<StationId> =
        states.iter().filter(|state| state.felt.is_none()).map(|state| state.station).collect();
    let Call { mut action, job, why } = resolve(context, line, all, &facts);
    if !facts.stops.is_empty() {
        action = Action::Stop;
    }
    let when = match action {
        Action::Stop => When::First,
        // Nobody knows this gap any more: it is measured before anything is cut with it.
        Action::Leave if job == Job::Measure => When::BeforeCuttingOn,
        Action::Leave if matches!(job, Job::Retorque { .. }) => When::BeforeCuttingOn,
        Action::Leave if remarks::calls_for_a_hand(context, line) => When::BeforeCuttingOn,
        Action::Leave if context.history.due_at_once() => When::LookAtOnce,
        Action::Leave => When::NextLook(context.look),
        Action::Shim | Action::Rotate | Action::Replace => When::BeforeCuttingOn,
    };
    let mut reasons = Vec::new();
    if stale && job == Job::Measure && action == Action::Leave {
        reasons.push(Reason::Stale);
    }
    reasons.extend(facts.stops);
    reasons.extend(facts.worn);
    reasons.extend(facts.gaps);
    reasons.extend(why);
    reasons.extend(marks::soon(context, line));
    reasons.extend(edges::facing_worn(context, line, &job));
    if stale && !reasons.contains(&Reason::Stale) {
        reasons.push(Reason::Stale);
    }
    reasons.extend(remarks::of(context, line, &states, all));
    let packs = remarks::packs_over(context, line, &job);
    if !missing.is_empty() {
        reasons.push(Reason::NotMeasured(missing));
    }
    if reasons.is_empty() {
        reasons.extend(remarks::within(&states));
    }
    reasons.extend(packs);
    let mut decision = LineDecision {
        line: line.id,
        action,
        job,
        when,
        reasons,
        stations: states,
        provisional: false,
        causes: None,
        edges: edges::of_line(context, line),
        marks: marks::of_line(context, line),
    };
    decision.foresee();
    decision
}

/// What the facts call for, and what stood in the way of something milder.
struct Call {
    action: Action,
    job: Job,
    why: Vec<Reason>,
}

impl Call {
    const fn plain(action: Action, job: Job) -> Self {
        Self { action, job, why: Vec::new() }
    }
}

fn resolve(context: &Context<'_>, line: &Line, all: &AllStates, facts: &Facts) -> Call {
    let Facts { stops, worn, gaps } = facts;
    if stops.iter().any(|reason| matches!(reason, Reason::JawSpread(_))) {
        return Call::plain(Action::Stop, Job::CallWelder);
    }
    if stops.iter().any(|reason| matches!(reason, Reason::Cracks { somewhere: false, .. })) {
        return in_place_of_a_cracked_one(context, line, all);
    }
    if stops.iter().any(|reason| matches!(reason, Reason::Cracks { .. })) {
        return Call::plain(Action::Stop, Job::FindCause);
    }
    // The most severe one counts; of equals the first, hence from the last.
    let dull = worn.iter().rev();
    let calls = dull.map(|it| match worn_out(context, it) {
        Some(blade) => in_place_of_a_worn_one(context, blade, all),
        None => fresh_edge(context, line, all, worn_blade(context, line, it)),
    });
    if let Some(worst) = calls.max_by_key(|call| call.action) {
        return worst;
    }
    let states = states_of(all, line.id);
    if states.iter().any(|state| state.stale) {
        return Call::plain(Action::Leave, Job::Measure);
    }
    let only_open = |reason: &Reason| matches!(reason, Reason::BeyondWorking { cold, sure: false, .. } if !cold.is_closed());
    if stops.is_empty() && gaps.iter().all(only_open) {
        let unknown = states.iter().any(|state| state.felt.is_none());
        let look = !gaps.is_empty() || unknown || remarks::jammed_since(context, line, states);
        if look {
            return Call::plain(Action::Leave, Job::Measure);
        }
        let blades: Vec<BladeId> =
            remarks::retorque_due(context, line).into_iter().map(|(blade, _)| blade).collect();
        let job = if blades.is_empty() { Job::Nothing } else { Job::Retorque { blades } };
        return Call::plain(Action::Leave, job);
    }
    shim_or_more(context, line, all, facts)
}

/// The log names the line of a crack and not the blade: the fixed one is told, because it is the
/// easier one to reach, and `brief` says to look which it is.
fn in_place_of_a_cracked_one(context: &Context<'_>, line: &Line, all: &AllStates) -> Call {
    let Some(blade) = blades_of(context, line).first().copied() else {
        return Call::plain(Action::Stop, Job::FindCause);
    };
    match fresh::new_blade(context, blade, all) {
        Ok(job) => Call::plain(Action::Stop, job),
        Err(too_tight) => blocked(Action::Stop, too_tight),
    }
}

/// The blade that is too thin or has lost its shape, which no fresh edge cures.
fn worn_out<'a>(context: &Context<'a>, reason: &Reason) -> Option<&'a Blade> {
    let Reason::WearMark { blade, kind, .. } = reason else { return None };
    context.shear.blade(blade).filter(|_| *kind != MarkKind::EdgeRadius)
}

fn in_place_of_a_worn_one(context: &Context<'_>, blade: &Blade, all: &AllStates) -> Call {
    match fresh::new_blade(context, blade, all) {
        Ok(job) => Call::plain(Action::Replace, job),
        Err(too_tight) => blocked(Action::Replace, too_tight),
    }
}

/// The blade to turn: the one whose hours are up, or for a chip the first with a fresh edge.
fn worn_blade<'a>(context: &Context<'a>, line: &Line, reason: &Reason) -> Option<&'a Blade> {
    if let Reason::EdgeWorn { blade, .. } | Reason::WearMark { blade, .. } = reason {
        return context.shear.blade(blade);
    }
    with_fresh_edge(context, line).or_else(|| context.shear.blade(&line.fixed))
}

fn with_fresh_edge<'a>(context: &Context<'a>, line: &Line) -> Option<&'a Blade> {
    blades_of(context, line).into_iter().find(|blade| has_fresh_edge(context, blade))
}

fn has_fresh_edge(context: &Context<'_>, blade: &Blade) -> bool {
    let state = context.history.blades.get(&blade.id);
    state.is_some_and(|state| !state.fresh_edges(blade).is_empty())
}

/// A fresh edge, or a new blade where none is left.
fn fresh_edge(context: &Context<'_>, line: &Line, all: &AllStates, blade: Option<&Blade>) -> Call {
    let Some(blade) = blade.or_else(|| context.shear.blade(&line.fixed)) else {
        return Call::plain(Action::Replace, Job::FindCause);
    };
    let left = has_fresh_edge(context, blade);
    let action = if left { Action::Rotate } else { Action::Replace };
    let why = if left { vec![] } else { vec![Reason::NoFreshEdge { blade: blade.id.clone() }] };
    match fresh::fresh_edge(context, blade, all) {
        Ok(job) => Call { action, job, why },
        Err(too_tight) => blocked(action, too_tight),
    }
}

/// No recipe leaves an expected gap under the working minimum.
fn blocked(action: Action, TooTight { blade, gap, limit }: TooTight) -> Call {
    let why = vec![Reason::FreshTooTight { blade, gap, limit }];
    Call { action, job: Job::FindCause, why }
}

/// Shims, or what is left when they cannot do it.
fn shim_or_more(context: &Context<'_>, line: &Line, all: &AllStates, facts: &Facts) -> Call {
    let states = states_of(all, line.id);
    let cause = || Call::plain(Action::Shim, Job::FindCause);
    let Some(blade) = context.shear.blade(&line.fixed) else { return cause() };
    if blade.pack.is_none() {
        let why = vec![Reason::NoPack { blade: blade.id.clone() }];
        // A fresh edge closes a gap; it is no cure for one that is too tight already.
        let call =
            if facts.is_tight() { cause() } else { fresh_edge(context, line, all, Some(blade)) };
        return Call { why: [why, call.why].concat(), ..call };
    }
    let planned = recipe::plan_pack(context, line, states);
    if let Err(why) = &planned
        && asks_for_steps(context, blade, *why)
        && let Some((stepped, planned)) = recipe::plan_steps(context, line, states)
    {
        return at_bolts(blade, states, *why, (stepped, &planned));
    }
    let (planned, why) = match planned {
        // A gap that is too tight is opened all the same, if the widest stays in its limits.
        Err(why @ (Shortfall::Tapered { .. } | Shortfall::HotAboveSet { .. }))
            if facts.is_tight() =>
        {
            let opened = recipe::plan_opening(context, line, states);
            (opened.map_err(|_too| why), vec![cannot(blade, states, why)])
        }
        planned => (planned, Vec::new()),
    };
    let why = match planned {
        Ok(it) if it.plan.put_in.is_empty() && it.plan.take_out.is_empty() => return cause(),
        // More play at the pads is no cure for blades that can clash.
        Ok(it) if facts.only_side_play() && !it.plan.closes() => return cause(),
        Ok(recipe::Planned { plan, bolts, seat }) => {
            let closes = plan.closes();
            let job = Job::ChangePack { blade: blade.id.clone(), bolts, plan, seat };
            // Nobody closes a gap on the word of its neighbours.
            let unknown = closes && states.iter().any(|state| state.felt.is_none());
            let job = if unknown { Job::Measure } else { job };
            return Call { action: Action::Shim, job, why };
        }
        Err(why) => why,
    };
    let reason = vec![cannot(blade, states, why)];
    let call = match why {
        Shortfall::ShelfCannot { wanted, .. } => {
            Call::plain(Action::Shim, Job::OrderShims { blade: blade.id.clone(), wanted })
        }
        Shortfall::PackEmpty | Shortfall::NothingToGoBy | Shortfall::HotAboveSet { .. } => cause(),
        // A fresh edge closes a gap; it is no cure for one that is too tight already.
        Shortfall::PackFull { .. } | Shortfall::Tapered { .. } if facts.is_tight() => cause(),
        Shortfall::PackFull { .. } | Shortfall::Tapered { .. } => {
            fresh_edge(context, line, all, with_fresh_edge(context, line))
        }
    };
    Call { why: [reason, call.why].concat(), ..call }
}

/// Whether packs at the bolts may do what no full-length one does: cure a taper, or come out where
/// they stand already.
fn asks_for_steps(context: &Context<'_>, blade: &Blade, why: Shortfall) -> bool {
    let state = context.history.blades.get(&blade.id);
    match why {
        Shortfall::Tapered { .. } => true,
        Shortfall::PackEmpty | Shortfall::PackFull { .. } | Shortfall::ShelfCannot { .. } => {
            state.is_some_and(|state| !state.at_bolts.is_empty())
        }
        Shortfall::HotAboveSet { .. } | Shortfall::NothingToGoBy => false,
    }
}

/// Packs that differ from bolt to bolt, because no full-length one will do.
fn at_bolts(
    blade: &Blade,
    states: &[StationState],
    why: Shortfall,
    (wanted, planned): (Stepped, &BedPlan),
) -> Call {
    let (parts, after) = wanted.carry(planned);
    let unknown = states.iter().any(|state| state.felt.is_none());
    let closes = parts.iter().any(|part| !part.put_in.is_empty());
    let job = if closes && unknown {
        Job::Measure
    } else {
        Job::StepPack { blade: blade.id.clone(), parts, after, wanted }
    };
    Call { action: Action::Shim, job, why: vec![cannot(blade, states, why)] }
}

fn cannot(blade: &Blade, states: &[StationState], why: Shortfall) -> Reason {
    Reason::CannotShim { blade: blade.id.clone(), why, apart: recipe::apart(states, why) }
}

impl Facts {
    /// Whether some gap is too tight, cold or hot.
    fn is_tight(&self) -> bool {
        self.stops.iter().chain(&self.gaps).any(|reason| {
            matches!(
                reason,
                Reason::BeyondStop { way: Way::Tight, .. }
                    | Reason::BeyondWorking { way: Way::Tight, .. }
                    | Reason::HotContact { .. }
                    | Reason::HotTight { .. }
            )
        })
    }

    /// Whether nothing but side play speaks against this line.
    fn only_side_play(&self) -> bool {
        self.stops.iter().all(|reason| matches!(reason, Reason::SidePlay { .. }))
            && self.gaps.is_empty()
    }
}
