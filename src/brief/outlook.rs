//! What a trend says about the time until the next look, with its chance.

use crate::{
    brief::Numbers,
    domain::{decide::StationState, trend::Reach},
    language::{self, tell},
};

/// What the trend says about the time until the next look.
pub(crate) fn tell(states: &[StationState], next_look_h: f64, n: Numbers) -> Option<String> {
    let lead = states
        .iter()
        .filter_map(|state| {
            let fit = state.trend.fit.as_ref().ok().filter(|_| !state.trend.superseded)?;
            let hours = state.hours.as_ref()?;
            let reach = hours.which.reach().unwrap_or(Reach::Up);
            Some((state.station, hours, fit.chance_beyond(hours.limit_mm, reach, next_look_h)))
        })
        .max_by(|(_, _, a), (_, _, b)| a.total_cmp(b));
    let Some((station, hours, chance)) = lead else {
        let why = states.iter().find_map(|state| state.trend.fit.as_ref().err())?;
        return Some(tell!(
            "No growth rate yet: {why}.",
            why = language::understood(&why.to_string())
        ));
    };
    let limit = n.estimate(hours.limit_mm);
    let look = n.along(next_look_h);
    let said = if hours.passed {
        let maybe = hours.high_h.is_none_or(|high| 0.5 <= high);
        let sure = if maybe { tell!(" **more likely than not**") } else { "" };
        tell!("By its trend {station} has{sure} passed **{limit}** already.", station, sure, limit)
    } else if chance < 0.005 {
        tell!("No station comes near its working limit before the next look at {look}.", look)
    } else {
        tell!(
            "{station} {chance} **{limit}** before the next look at {look}.",
            station,
            chance = chance_words(chance),
            limit,
            look
        )
    };
    // The quiet sentence is about every station, and so is the doubt.
    let doubt = states.iter().find_map(|it| n.through(it.hours.as_ref()?));
    let doubt = n.through(hours).or(doubt);
    Some([Some(said), doubt].into_iter().flatten().collect::<Vec<_>>().join(" "))
}

/// A chance as people say it; never as a certainty.
fn chance_words(chance: f64) -> String {
    if chance < 0.5 {
        tell!(
            "has a **1 in {chance}** chance of passing",
            chance = crate::brief::numbers::fixed(1.0 / chance, 0)
        )
    } else if chance < 0.95 {
        tell!("will **more likely than not** pass").to_owned()
    } else {
        tell!("will **almost surely** pass").to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_chance_is_never_told_as_a_certainty() {
        assert_eq!(chance_words(0.33), "has a **1 in 3** chance of passing");
        assert_eq!(chance_words(0.01), "has a **1 in 100** chance of passing");
        assert_eq!(chance_words(0.6), "will **more likely than not** pass");
        assert_eq!(chance_words(1.0), "will **almost surely** pass");
    }
}
