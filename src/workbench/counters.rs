//! The counters beside the hour meter, as they are typed on the sign-off card.

use crate::domain::log::{Counted, Counters, SignFault, read_counter};

/// What is typed for each counter; empty where nobody read it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct CounterTexts {
    tonnes: String,
    cuts: String,
}

impl CounterTexts {
    /// As a draft has them.
    pub(crate) fn of(counters: Counters) -> Self {
        let typed = |shows: Option<u64>| shows.map_or(String::new(), |it| it.to_string());
        Self { tonnes: typed(counters.tonnes), cuts: typed(counters.cuts) }
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
        match counted {
            Counted::Tonnes => self.tonnes = text,
            Counted::Cuts => self.cuts = text,
        }
        shows
    }

    /// Refuses to sign what is no whole number.
    ///
    /// # Errors
    ///
    /// [`SignFault::Counter`], the first of them.
    pub(crate) fn check(&self) -> Result<(), SignFault> {
        read_counter(Counted::Tonnes, &self.tonnes)?;
        read_counter(Counted::Cuts, &self.cuts).map(|_| ())
    }
}
