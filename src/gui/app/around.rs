//! What a window finds around it: the clock, the desktop, and how patient it is.

use crate::{gui::Clock, language::Language};
use chrono::FixedOffset;
use std::{path::PathBuf, time::Duration};

/// What a window has around it, whichever yard it shows.
#[derive(Clone, Debug)]
pub struct Surroundings {
    /// Where the time comes from.
    pub clock: Clock,
    /// The reader's offset from UTC.
    pub zone: FixedOffset,
    /// Tells this window's sessions from those of another tablet.
    pub tail: u16,
    /// How often to look whether others have put something into the yard; `None` for never.
    pub look_every: Option<Duration>,
    /// How long a frame waits for what is to be found anew; `None` for as long as it takes.
    pub patience: Option<Duration>,
    /// Where overviews are kept; `None` for nowhere.
    pub cache: Option<PathBuf>,
    /// What the desktop speaks.
    pub desktop: Language,
}

impl Surroundings {
    /// Alone on a yard that nobody else changes, waiting for whatever it works out, in English.
    pub(crate) const fn alone(clock: Clock, zone: FixedOffset, tail: u16) -> Self {
        let (look_every, patience, cache) = (None, None, None);
        Self { clock, zone, tail, look_every, patience, cache, desktop: Language::English }
    }
}
