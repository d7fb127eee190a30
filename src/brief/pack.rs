//! The answer to a shim problem, told.

use crate::{
    brief::{Numbers, decision::sum, shortfall, words},
    domain::{
        quantity::Length,
        shims::{NamedSeat, PackPlan, PackProblem, SharedPlan, Shortfall, Unshared},
    },
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
                "No other choice of shims brings the worst gap closer to its target, or does so \
                 with fewer shims."
                    .to_owned()
            } else {
                "This serves every blade; not every other choice was tried, so there may be a \
                 better one."
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
            vec![format!(
                "Each of the {} can be shimmed alone, but not so that neighbouring packs differ by \
                 at most **{}**: the blade is tapered by more than the step allows. Turn the blade \
                 to a fresh edge or replace it, or ask whether a larger step is allowed.",
                names.join(", "),
                n.length(step)
            )]
        }
        Err(Unshared::Together { proven }) => {
            let names: Vec<String> = problem.seats.iter().map(name).collect();
            let tried = if *proven {
                "every choice was tried."
            } else {
                "not every choice could be tried."
            };
            vec![format!(
                "Each of the {} can be shimmed alone, but this shelf has not enough for all of \
                 them: {tried} Order shims, or leave a blade for later.",
                names.join(", ")
            )]
        }
    }
}

/// What to do where no pack will do.
const fn next_step(why: Shortfall) -> &'static str {
    match why {
        Shortfall::Tapered { .. } => {
            "Turn the blade to a fresh edge, or shim it bolt by bolt if the machine's manual allows \
             a step."
        }
        Shortfall::PackFull { .. } => "Turn the blade to a fresh edge or fit a new one.",
        Shortfall::PackEmpty => "Find out why the gap is too tight before anything is cut.",
        Shortfall::ShelfCannot { .. } => "Order shims that make it.",
        Shortfall::HotAboveSet { .. } => "Check the set range and the smallest hot gap.",
        Shortfall::NothingToGoBy => "Measure it first.",
    }
}

fn name(named: &NamedSeat) -> String {
    let bolts = named.bolts.map(|(first, last)| format!(", bolts\u{a0}{first}–{last}"));
    format!("{}{}", named.blade, bolts.unwrap_or_default())
}

fn one(named: &NamedSeat, plan: &PackPlan, n: Numbers) -> String {
    let mut parts = Vec::new();
    if !plan.take_out.is_empty() {
        parts.push(format!("take **{}** out", sum(&plan.take_out, n)));
    }
    if !plan.put_in.is_empty() {
        parts.push(format!("add **{}**", sum(&plan.put_in, n)));
    }
    if parts.is_empty() {
        parts.push("leave the pack as it is".to_owned());
    }
    let gaps = named.stations.iter().zip(&plan.after);
    let gaps: Vec<String> =
        gaps.map(|(station, gap)| format!("{station} {}", n.estimate(gap.mm()))).collect();
    format!("{}: {}; then {}.", words::capital(&name(named)), parts.join(" and "), gaps.join(", "))
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
