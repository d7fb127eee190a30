//! One line from look to look: the least expected loss, found backward by dynamic programming.
//!
//! Knows gaps as whole steps and losses as hours. Does not know machines, fits or words.

use crate::domain::quantity::whole;

/// How a line runs on, in whole steps of gap.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Course {
    /// The gap now.
    pub(crate) gap: usize,
    /// The first gap that is beyond the working limit.
    pub(crate) limit: usize,
    /// Where work leaves it, below the limit.
    pub(crate) target: usize,
    /// How much shims may still close.
    pub(crate) room: usize,
    /// The probability of growing by no, one, two steps between two looks; adds up to one.
    pub(crate) growth: Vec<f64>,
    /// Hours of shimming; `None` if the blade cannot be shimmed.
    pub(crate) shim_h: Option<f64>,
    /// Hours of setting a fresh edge.
    pub(crate) fresh_h: f64,
    /// Looks until the edge is dull by its table.
    pub(crate) dull: Option<usize>,
    /// Hours lost at each look waiting for the part that a fresh edge takes.
    pub(crate) wait_h: Vec<f64>,
}

/// What the looks have in common.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Calendar {
    /// Whether the machine stands still by plan anyway, for each look; the first is now.
    pub(crate) shutdown: Vec<bool>,
    /// Hours a stop takes before and after the work; at a planned shutdown they are lost anyway.
    pub(crate) set_up_h: f64,
    /// Hours lost when a gap passes its limit between two looks.
    pub(crate) unplanned_h: f64,
}

/// When a line may be worked at without need.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Freedom {
    /// At any look.
    Always,
    /// At planned shutdowns.
    AtShutdowns,
    /// Never: run to the limit.
    Never,
}

/// What to do at a look.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Step {
    /// Nothing.
    Leave,
    /// Close the gap with shims.
    Shim,
    /// Set a fresh edge.
    Fresh,
}

/// What the choices of now cost over the whole horizon.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Solved {
    /// Leaving it now and choosing best from then on; `None` where it must not be left.
    pub(crate) leave_h: Option<f64>,
    /// The better work now without what the stop itself takes, and which it is.
    pub(crate) work_h: f64,
    /// Which work that is.
    pub(crate) work: Step,
    /// What is best at each look if the gap grows as it does on average, until something is done.
    pub(crate) on_average: Vec<Step>,
}

impl Course {
    /// The gap never gets beyond so many steps between two looks.
    fn top(&self) -> usize {
        self.limit + self.growth.len()
    }

    /// Room beyond this is never used up within the horizon.
    fn rooms(&self, looks: usize) -> usize {
        self.room.min(self.growth.len() * looks + self.top())
    }
}

/// The least expected loss from one look on, for every gap and room, before and after a fresh edge.
#[derive(Clone, Debug, PartialEq)]
struct Table {
    /// By room, then gap.
    worn: Vec<Vec<f64>>,
    /// By gap; room is plenty behind a fresh edge.
    fresh: Vec<f64>,
}

impl Table {
    fn nothing(course: &Course, looks: usize) -> Self {
        let gaps = vec![0.0; course.top() + 1];
        Self { worn: vec![gaps.clone(); course.rooms(looks) + 1], fresh: gaps }
    }

    /// What is to be expected before the gap has grown.
    fn before_growth(&self, growth: &[f64]) -> Self {
        // Few of many steps are drawn where looks are far apart.
        let drawn: Vec<(usize, f64)> =
            growth.iter().copied().enumerate().filter(|(_, p)| 0.0 < *p).collect();
        let ahead = |row: &Vec<f64>| -> Vec<f64> {
            let last = row.last().copied().unwrap_or(0.0);
            let at = |gap: usize| row.get(gap).copied().unwrap_or(last);
            let mean = |gap| drawn.iter().map(|(by, p)| p * at(gap + by)).sum();
            (0..row.len()).map(mean).collect()
        };
        Self { worn: self.worn.iter().map(ahead).collect(), fresh: ahead(&self.fresh) }
    }

    fn worn(&self, gap: usize, room: usize) -> f64 {
        self.worn.get(room).and_then(|row| row.get(gap)).copied().unwrap_or(f64::INFINITY)
    }

    fn fresh(&self, gap: usize) -> f64 {
        self.fresh.get(gap).copied().unwrap_or(f64::INFINITY)
    }
}

/// The state of a line at a look.
#[derive(Clone, Copy, Debug)]
enum State {
    Worn { gap: usize, room: usize },
    Fresh { gap: usize },
}

/// The choices at one look.
struct Look<'a> {
    course: &'a Course,
    calendar: &'a Calendar,
    freedom: Freedom,
    place: usize,
    ahead: &'a Table,
}

impl Look<'_> {
    fn must(&self, state: State) -> bool {
        let dull = self.course.dull.is_some_and(|dull| dull <= self.place);
        match state {
            State::Worn { gap, .. } => self.course.limit <= gap || dull,
            State::Fresh { gap } => self.course.limit <= gap,
        }
    }

    /// What the stop takes: at a shutdown nothing, and more where nobody chose it.
    fn stop_h(&self, state: State) -> f64 {
        let (State::Worn { gap, .. } | State::Fresh { gap }) = state;
        if self.course.limit <= gap && 0 < self.place {
            self.calendar.unplanned_h
        } else if self.calendar.shutdown.get(self.place) == Some(&true) {
            0.0
        } else {
            self.calendar.set_up_h
        }
    }

    fn leave(&self, state: State) -> Option<f64> {
        let ahead = match state {
            State::Worn { gap, room } => self.ahead.worn(gap, room),
            State::Fresh { gap } => self.ahead.fresh(gap),
        };
        (!self.must(state)).then_some(ahead)
    }

    /// Each work that can be done, without what the stop takes.
    fn work(&self, state: State) -> (f64, Step) {
        let course = self.course;
        let wait = course.wait_h.get(self.place).copied().unwrap_or(0.0);
        let fresh = (course.fresh_h + wait + self.ahead.fresh(course.target), Step::Fresh);
        let dull = course.dull.is_some_and(|dull| dull <= self.place);
        let shimmed = match state {
            State::Worn { gap, room } if !dull => {
                let closes = gap.saturating_sub(course.target);
                let left = room.checked_sub(closes).filter(|_| 0 < closes);
                left.map(|left| self.ahead.worn(course.target, left))
            }
            State::Worn { .. } => None,
            State::Fresh { gap } => (course.target < gap).then(|| self.ahead.fresh(course.target)),
        };
        let shim = course.shim_h.zip(shimmed).map(|(hours, ahead)| (hours + ahead, Step::Shim));
        match shim {
            Some(shim) if shim.0 <= fresh.0 => shim,
            _ => fresh,
        }
    }

    fn allowed(&self) -> bool {
        match self.freedom {
            Freedom::Always => true,
            Freedom::AtShutdowns => self.calendar.shutdown.get(self.place) == Some(&true),
            Freedom::Never => false,
        }
    }

    fn best(&self, state: State) -> (f64, Step) {
        let leave = self.leave(state).map(|hours| (hours, Step::Leave));
        let work = || {
            let (hours, step) = self.work(state);
            (hours + self.stop_h(state), step)
        };
        match leave {
            None => work(),
            Some(leave) if !self.allowed() => leave,
            Some(leave) => {
                let work = work();
                if work.0 < leave.0 { work } else { leave }
            }
        }
    }
}

/// Solves one line over the looks of the calendar.
///
/// *Minimises* the expected hours lost by work, stops and waiting, up to the last look. Exact for
/// the growth given, which is drawn anew between any two looks; a gap does not shrink by itself.
/// What is worn at the end costs nothing.
pub(crate) fn solve(course: &Course, calendar: &Calendar, freedom: Freedom) -> Solved {
    let looks = calendar.shutdown.len();
    let mut tables: Vec<Table> = vec![Table::nothing(course, looks)];
    for place in (0..looks).rev() {
        let Some(ahead) = tables.last() else { break };
        let look = Look { course, calendar, freedom, place, ahead };
        let gaps = 0..=course.top();
        let rooms = 0..=course.rooms(looks);
        let best = Table {
            worn: rooms
                .map(|room| {
                    gaps.clone().map(|gap| look.best(State::Worn { gap, room }).0).collect()
                })
                .collect(),
            fresh: gaps.clone().map(|gap| look.best(State::Fresh { gap }).0).collect(),
        };
        tables.push(if 0 < place { best.before_growth(&course.growth) } else { best });
    }
    tables.reverse();
    let state = |gap: usize| State::Worn { gap, room: course.rooms(looks) };
    let at = |place: usize, gap: usize| {
        let ahead = tables.get(place + 1)?;
        Some((Look { course, calendar, freedom, place, ahead }, state(gap)))
    };
    let now = at(0, course.gap.min(course.top()));
    let (work_h, work) = now.as_ref().map_or((0.0, Step::Leave), |(it, state)| it.work(*state));
    let leave_h = now.as_ref().and_then(|(it, state)| it.leave(*state));
    let mut on_average = Vec::new();
    for place in 0..looks {
        let Some((look, state)) = at(place, average(course, place)) else { break };
        let (_, step) = look.best(state);
        on_average.push(step);
        if step != Step::Leave {
            break;
        }
    }
    Solved { leave_h, work_h, work, on_average }
}

/// The gap after so many looks if it grows as it does on average.
fn average(course: &Course, looks: usize) -> usize {
    let mut mean = 0.0;
    for (p, by) in course.growth.iter().zip(0_u32..) {
        mean += p * f64::from(by);
    }
    let looks = u32::try_from(looks).map_or(0.0, f64::from);
    let grown = whole((mean * looks).round()).unwrap_or(0);
    (course.gap + usize::try_from(grown).unwrap_or(0)).min(course.top())
}
