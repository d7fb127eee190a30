//! The counters beside the hour meter, as they are typed on the sign-off card.

use crate::domain::log::{Counted, Counters, Session, SignFault, read_counter};

/// What is typed for each counter; empty where nobody read it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct CounterTexts {
    tonnes: String,
    cuts: String,
    /// Those that somebody said are new ones, or were set back.
    anew: Vec<Counted>,
}

impl CounterTexts {
    /// As a draft has them.
    pub(crate) fn of(counters: Counters) -> Self {
        let typed = |shows: Option<u64>| shows.map_or(String::new(), |it| it.to_string());
        Self { tonnes: typed(counters.tonnes), cuts: typed(counters.cuts), anew: Vec::new() }
    }

    /// What is typed for one of them.
    pub fn get(&self, counted: Counted) -> &str {
        match counted {
            Counted::Tonnes => &self.tonnes,
            Counted::Cuts => &self.cuts,
        }
    }

    /// Takes the text of one; answers what it shows, `None` while that is no whole number.
    pub(crate) fn type_one(&mut self, counted: Counted, text: String) -> Option<u64> {
        let shows = read_counter(counted, &text).ok().flatten();
        self.anew.retain(|it| *it != counted);
        match counted {
            Counted::Tonnes => self.tonnes = text,
            Counted::Cuts => self.cuts = text,
        }
        shows
    }

    /// Believes what is typed for one of them although it is less than last time.
    pub(crate) fn begins_anew(&mut self, counted: Counted) {
        self.anew.push(counted);
    }

    /// Refuses to sign what is no whole number, or less than when it was last read.
    ///
    /// # Errors
    ///
    /// [`SignFault::Counter`] or [`SignFault::CounterBackwards`], the first of them.
    pub(crate) fn check(&self, log: &[Session]) -> Result<(), SignFault> {
        for counted in [Counted::Tonnes, Counted::Cuts] {
            let shows = read_counter(counted, self.get(counted))?;
            let last = log.iter().rev().find_map(|it| it.counters.of(counted));
            if let Some((typed, last)) = shows.zip(last)
                && typed < last
                && !self.anew.contains(&counted)
            {
                return Err(SignFault::CounterBackwards { counted, typed, last });
            }
        }
        Ok(())
    }
}
