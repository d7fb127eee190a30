//! The story: what happened to each machine, counted backward from its newest session.
//!
//! - **Running hot** (heron): the guide blade was shimmed too far eight sessions ago; the gap
//!   there shrinks, the face has turned blue. Beside it the secondary blades are nearly at their
//!   working limit with shims left, the primary blades have a chipped edge with fresh ones left,
//!   the front blade is at the end of its pack and its edges, and two lines want nothing.
//! - **Well kept** (dunlin): everything in range, work done in time.
//! - **Spread jaw** (wren): the tip was hot a fortnight ago and bent the cutting cheek. The sum of
//!   the gaps either side of the tip grew by half a millimetre, P and S opened outward without
//!   anybody working on them, and today thin stock jammed at S.
//!
//! Long because it is a table.

use crate::sample::course::{
    Begin::{New, PadsMoved, Shims, Spread, Turned},
    Course, Stage,
};

/// What happens to a machine.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Scenario {
    /// The guide blade was shimmed too far.
    RunningHot,
    /// Nothing is wrong.
    WellKept,
    /// The tip was hot and spread the jaw.
    SpreadJaw,
}

/// Something seen or heard at a session.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Sight {
    pub(crate) session: usize,
    pub(crate) kind: Kind,
    pub(crate) line: Option<char>,
    pub(crate) station: Option<u8>,
    pub(crate) size_um: Option<i64>,
    pub(crate) note: &'static str,
}

/// Kinds of findings that the story uses.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Kind {
    Straw,
    Purple,
    Blue,
    Chipped,
    Jam,
    Chatter,
    LooseBolt,
    StockCaught,
    OilOnBlades,
}

/// Further work that no line's course tells.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Extra {
    /// Build-up weld at a place.
    Welded(&'static str),
    /// The shear moved to a carrier whose meter stood here, in tenths of an hour.
    MeterChanged { old: i32, new: i32 },
}

/// Everything the story says about one machine.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Story {
    pub(crate) courses: &'static [Course],
    pub(crate) sights: &'static [Sight],
    /// Sessions with findings and no readings.
    pub(crate) no_readings: &'static [usize],
    pub(crate) extras: &'static [(usize, Extra)],
    /// The hour meter at the newest session, in tenths of an hour.
    pub(crate) meter: i32,
    /// Minutes from the newest session to the end of the story.
    pub(crate) minutes_before_end: i64,
    /// Who looks after it.
    pub(crate) people: &'static [&'static str],
    /// A session at which the thick leaves were missing, and the line on which it showed.
    pub(crate) thick_leaves_missing: Option<(usize, char)>,
}

/// Sessions in one life of the blades; its oldest is the day the blades were fitted.
pub(crate) const LIFE: usize = 48;

impl Scenario {
    /// In the order of the machines.
    pub(crate) const ALL: [Self; 3] = [Self::RunningHot, Self::WellKept, Self::SpreadJaw];

    /// The newest life of the blades.
    pub(crate) const fn story(self) -> &'static Story {
        match self {
            Self::RunningHot => &RUNNING_HOT,
            Self::WellKept => &WELL_KEPT,
            Self::SpreadJaw => &SPREAD_JAW,
        }
    }

    /// Any earlier life: it was kept well, for it ended with new blades.
    pub(crate) const fn earlier() -> &'static Story {
        &WELL_KEPT
    }
}

const fn stage(
    from: usize,
    begins: crate::sample::course::Begin,
    before: &'static [i32],
    start: &'static [i32],
) -> Stage {
    Stage { from, begins, before, start }
}

const fn shims(put_in: &'static [i64]) -> crate::sample::course::Begin {
    Shims { put_in, take_out: &[] }
}

const fn sight(
    session: usize,
    kind: Kind,
    line: char,
    station: u8,
    size_um: Option<i64>,
    note: &'static str,
) -> Sight {
    Sight { session, kind, line: Some(line), station: Some(station), size_um, note }
}

const RUNNING_HOT: Story = Story {
    courses: &[
        Course { line: 'J', end: &[335, 365], stages: &[stage(47, New, &[], &[305, 320])] },
        Course {
            line: 'P',
            end: &[500, 540, 595, 645],
            stages: &[
                stage(8, shims(&[250, 250]), &[], &[350, 365, 380, 395]),
                stage(28, Turned, &[950, 990, 1040, 1100], &[365, 365, 370, 375]),
                stage(47, New, &[], &[380, 380, 385, 390]),
            ],
        },
        Course {
            line: 'S',
            end: &[1134, 1154, 1186, 1223],
            stages: &[
                stage(20, Turned, &[930, 950, 980, 1020], &[470, 475, 480, 480]),
                stage(34, shims(&[500]), &[], &[420, 440, 460, 470]),
                stage(47, New, &[], &[440, 450, 460, 470]),
            ],
        },
        Course {
            line: 'T',
            end: &[845, 895],
            stages: &[
                stage(20, shims(&[250, 250]), &[], &[540, 590]),
                stage(47, New, &[], &[600, 620]),
            ],
        },
        Course {
            line: 'F',
            end: &[1860, 1988],
            stages: &[
                stage(20, shims(&[250]), &[], &[1350, 1450]),
                stage(34, shims(&[250]), &[], &[1190, 1240]),
                stage(47, Turned, &[], &[1090, 1110]),
            ],
        },
        Course {
            line: 'G',
            end: &[380, 145, 250],
            stages: &[
                stage(8, shims(&[250, 250]), &[], &[400, 330, 360]),
                stage(47, New, &[], &[560, 565, 575]),
            ],
        },
    ],
    sights: &[
        sight(34, Kind::LooseBolt, 'S', 3, None, "bolt 3 of the lower blade, half a turn"),
        sight(28, Kind::Chipped, 'P', 3, Some(3_000), "lower blade"),
        sight(22, Kind::Chatter, 'S', 4, None, "on thin sheet"),
        sight(12, Kind::StockCaught, 'G', 2, None, "strip of plate, pulled out with the hook"),
        sight(4, Kind::Straw, 'G', 2, None, "a hand's width"),
        sight(2, Kind::Purple, 'G', 2, None, ""),
        sight(1, Kind::Chipped, 'P', 2, Some(6_000), "lower blade, a bolt was in the load"),
        sight(0, Kind::Blue, 'G', 2, None, "whole height of the face, tip as well"),
    ],
    no_readings: &[22, 12],
    extras: &[(28, Extra::Welded("upper jaw, nose behind the tip"))],
    meter: 48_120,
    minutes_before_end: 0,
    people: &["MR", "TA", "JK"],
    thick_leaves_missing: None,
};

const WELL_KEPT: Story = Story {
    courses: &[
        Course {
            line: 'J',
            end: &[325, 335],
            stages: &[stage(30, shims(&[100]), &[], &[312, 320]), stage(47, New, &[], &[320, 330])],
        },
        Course {
            line: 'P',
            end: &[430, 440, 465, 475],
            stages: &[
                stage(8, shims(&[200, 200]), &[], &[345, 350, 375, 385]),
                stage(30, PadsMoved(100), &[], &[520, 530, 545, 560]),
                stage(47, New, &[], &[390, 390, 400, 410]),
            ],
        },
        Course {
            line: 'S',
            end: &[455, 465, 480, 485],
            stages: &[
                stage(8, shims(&[500]), &[], &[360, 370, 380, 385]),
                stage(30, PadsMoved(100), &[], &[535, 545, 555, 560]),
                stage(47, New, &[], &[395, 400, 405, 405]),
            ],
        },
        Course {
            line: 'T',
            end: &[585, 605],
            stages: &[
                stage(8, shims(&[250]), &[], &[530, 550]),
                stage(30, PadsMoved(100), &[], &[595, 610]),
                stage(47, New, &[], &[555, 565]),
            ],
        },
        Course {
            line: 'F',
            end: &[1120, 1140],
            stages: &[stage(25, shims(&[250]), &[], &[950, 965]), stage(47, New, &[], &[960, 970])],
        },
        Course {
            line: 'G',
            end: &[530, 560, 580],
            stages: &[
                stage(16, shims(&[200]), &[], &[490, 515, 535]),
                stage(30, PadsMoved(100), &[], &[640, 660, 675]),
                stage(47, New, &[], &[500, 510, 515]),
            ],
        },
    ],
    sights: &[
        sight(36, Kind::Chatter, 'P', 4, None, "stopped after greasing"),
        sight(20, Kind::OilOnBlades, 'T', 1, None, "hose tightened"),
        sight(16, Kind::LooseBolt, 'G', 1, None, ""),
        sight(10, Kind::LooseBolt, 'S', 2, None, "upper blade"),
    ],
    no_readings: &[36],
    extras: &[(25, Extra::Welded("piercing tip, upper corner"))],
    meter: 29_365,
    minutes_before_end: 25,
    people: &["JK", "LB", "MR"],
    thick_leaves_missing: Some((27, 'F')),
};

const SPREAD_JAW: Story = Story {
    courses: &[
        Course { line: 'J', end: &[340, 350], stages: &[stage(47, New, &[], &[305, 315])] },
        Course {
            line: 'P',
            end: &[550, 585, 620, 665],
            stages: &[
                stage(15, Spread, &[430, 440, 445, 450], &[440, 470, 502, 542]),
                stage(26, shims(&[200, 200]), &[], &[340, 345, 350, 355]),
                stage(47, New, &[], &[380, 385, 385, 390]),
            ],
        },
        Course {
            line: 'S',
            end: &[740, 840, 930, 1020],
            stages: &[
                stage(15, Spread, &[505, 525, 545, 560], &[638, 705, 776, 846]),
                stage(26, shims(&[500]), &[], &[330, 340, 355, 370]),
                stage(47, New, &[], &[395, 400, 410, 415]),
            ],
        },
        Course {
            line: 'T',
            end: &[1060, 1145],
            stages: &[
                stage(15, Spread, &[640, 660], &[980, 1060]),
                stage(26, shims(&[250]), &[], &[520, 535]),
                stage(47, New, &[], &[580, 595]),
            ],
        },
        Course {
            line: 'F',
            end: &[1330, 1370],
            stages: &[
                stage(26, shims(&[300]), &[], &[990, 1010]),
                stage(47, New, &[], &[960, 970]),
            ],
        },
        Course {
            line: 'G',
            end: &[630, 545, 600],
            stages: &[
                stage(13, Shims { put_in: &[], take_out: &[250] }, &[], &[620, 520, 580]),
                // The guide cheek gave a little too.
                stage(15, Spread, &[320, 200, 250], &[390, 285, 345]),
                stage(20, shims(&[250]), &[], &[345, 305, 330]),
                stage(47, New, &[], &[520, 505, 525]),
            ],
        },
    ],
    sights: &[
        sight(30, Kind::LooseBolt, 'P', 1, None, ""),
        sight(18, Kind::Straw, 'G', 2, None, ""),
        sight(16, Kind::Purple, 'G', 2, None, "smell of hot grease"),
        sight(14, Kind::Blue, 'G', 2, None, "and on the tip"),
        sight(5, Kind::Chatter, 'S', 4, None, "on thin sheet"),
        sight(0, Kind::Jam, 'S', 4, None, "thin sheet folded into the gap"),
    ],
    no_readings: &[5, 0],
    extras: &[(23, Extra::MeterChanged { old: 67_324, new: 11_870 })],
    meter: 0,
    minutes_before_end: 145,
    people: &["TA", "LB", "SO"],
    thick_leaves_missing: None,
};
