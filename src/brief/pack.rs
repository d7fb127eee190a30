//! The answer to a shim problem, told.

use crate::{
    brief::{Numbers, decision::sum, shortfall, words},
    domain::{
        quantity::Length,
        shims::{NamedSeat, PackPlan, PackProblem, SharedPlan, Shortfall, Unshared},
    },
    language::tell,
};

/// One sentence for each pack, and whether it is the best one; or why there is none.
pub fn tell(
    problem: &PackProblem,
    answer: &Result<SharedPlan, Unshared>,
    n: Numbers,
) -> Vec<String> {
    match answer {
        Ok(shared) => {
            let packs = problem.seats.iter().zip(&shared.plans);
            let mut told: Vec<String> = packs.map(|(seat, plan)| one(seat, plan, n)).collect();
            told.push(if shared.proven {
                tell!("No other choice of shims brings the worst gap closer to its target, or does so \
                 with fewer shims.")
                    .to_owned()
            } else {
                tell!("This serves every blade; not every other choice was tried, so there may be a \
                 better one.")
                    .to_owned()
            });
            told
        }
        Err(Unshared::Alone { seat, why }) => {
            let Some(named) = problem.seats.get(*seat) else { return Vec::new() };
            let station = |place: usize| named.stations.get(place).cloned();
            let apart = match why {
                Shortfall::Tapered { wide, tight, .. } => station(*wide).zip(station(*tight)),
                _ => None,
            };
            let rules = Some(named.seat.rules);
            let text = shortfall::tell(*why, &name(named), rules, apart, n).text;
            vec![format!("{text} {}", next_step(*why))]
        }
        Err(Unshared::Steps { first, last }) => {
            let blade = problem.seats.get(*first..=*last).unwrap_or_default();
            let names: Vec<String> = blade.iter().map(name).collect();
            let step = blade.iter().filter_map(|it| it.seat.step).max().unwrap_or_default();
            vec![tell!(
                "Each of the {blades} can be shimmed alone, but not so that neighbouring packs differ by \
                 at most **{step}**: the blade is tapered by more than the step allows. Turn the blade \
                 to a fresh edge or replace it, or ask whether a larger step is allowed.",
                blades = names.join(", "),
                step = n.length(step)
            )]
        }
        Err(Unshared::Together { proven }) => {
            let names: Vec<String> = problem.seats.iter().map(name).collect();
            let tried = if *proven {
                tell!("every choice was tried.")
            } else {
                tell!("not every choice could be tried.")
            };
            vec![tell!(
                "Each of the {blades} can be shimmed alone, but this shelf has not enough for all of \
                 them: {tried} Order shims, or leave a blade for later.",
                blades = names.join(", "),
                tried
            )]
        }
    }
}

/// What to do where no pack will do.
fn next_step(why: Shortfall) -> &'static str {
    match why {
        Shortfall::Tapered { .. } => {
            tell!(
                "Turn the blade to a fresh edge, or shim it bolt by bolt if the machine's manual allows \
             a step."
            )
        }
        Shortfall::PackFull { .. } => tell!("Turn the blade to a fresh edge or fit a new one."),
        Shortfall::PackEmpty => tell!("Find out why the gap is too tight before anything is cut."),
        Shortfall::ShelfCannot { .. } => tell!("Order shims that make it."),
        Shortfall::HotAboveSet { .. } => tell!("Check the set range and the smallest hot gap."),
        Shortfall::NothingToGoBy => tell!("Measure it first."),
    }
}

fn name(named: &NamedSeat) -> String {
    let bolts = named.bolts.map(|(first, last)| tell!(", bolts\u{a0}{first}–{last}", first, last));
    format!("{}{}", named.blade, bolts.unwrap_or_default())
}

fn one(named: &NamedSeat, plan: &PackPlan, n: Numbers) -> String {
    let mut parts = Vec::new();
    if !plan.take_out.is_empty() {
        parts.push(tell!("take **{take_out}** out", take_out = sum(&plan.take_out, n)));
    }
    if !plan.put_in.is_empty() {
        parts.push(tell!("add **{put_in}**", put_in = sum(&plan.put_in, n)));
    }
    if parts.is_empty() {
        parts.push(tell!("leave the pack as it is").to_owned());
    }
    let gaps = named.stations.iter().zip(&plan.after);
    let gaps: Vec<String> =
        gaps.map(|(station, gap)| format!("{station} {}", n.estimate(gap.mm()))).collect();
    tell!(
        "{named}: {changes}; then {gaps}.",
        named = words::capital(&name(named)),
        changes = parts.join(tell!(" and ")),
        gaps = gaps.join(", ")
    )
}

/// The pack behind a blade after a plan, thick shims next to the seat.
pub fn pack_after(now: &[Length], plan: &PackPlan) -> Vec<Length> {
    let mut pack = now.to_vec();
    for out in &plan.take_out {
        if let Some(place) = pack.iter().position(|it| it == out) {
            pack.remove(place);
        }
    }
    pack.extend(&plan.put_in);
    pack.sort_by(|a, b| b.cmp(a));
    pack
}
