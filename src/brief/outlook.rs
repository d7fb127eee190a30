//! What a trend says about the time until the next look, with its chance.

use crate::{
    brief::Numbers,
    domain::{decide::StationState, trend::Reach},
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
        return Some(format!("No growth rate yet: {why}."));
    };
    let limit = n.estimate(hours.limit_mm);
    let look = n.along(next_look_h);
    let said = if hours.passed {
        let maybe = hours.high_h.is_none_or(|high| 0.5 <= high);
        let sure = if maybe { " **more likely than not**" } else { "" };
        format!("By its trend {station} has{sure} passed **{limit}** already.")
    } else if chance < 0.005 {
        format!("No station comes near its working limit before the next look at {look}.")
    } else {
        format!("{station} {} **{limit}** before the next look at {look}.", chance_words(chance))
    };
    // The quiet sentence is about every station, and so is the doubt.
    let doubt = states.iter().find_map(|it| n.through(it.hours.as_ref()?));
    let doubt = n.through(hours).or(doubt);
    Some([Some(said), doubt].into_iter().flatten().collect::<Vec<_>>().join(" "))
}

/// A chance as people say it; never as a certainty.
fn chance_words(chance: f64) -> String {
    if chance < 0.5 {
        format!("has a **1 in {:.0}** chance of passing", 1.0 / chance)
    } else if chance < 0.95 {
        "will **more likely than not** pass".to_owned()
    } else {
        "will **almost surely** pass".to_owned()
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
