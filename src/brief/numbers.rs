//! Every rounding, once.
//!
//! A gap is shown with two decimals of a millimetre, the step of a leaf set, or three of an inch,
//! and more only where the value itself has more. Thousands are parted by a no-break space.
//! Long because all of it must round alike.

use crate::{
    domain::{
        gauge::Bracket,
        quantity::{Hours, Length, LengthUnit, Temperature, float},
        trend::{Axis, HoursTo},
    },
    language::{self, sentence, tell},
};

use chrono::{DateTime, FixedOffset, Offset as _, Utc};

/// A no-break space: parts thousands, and a number from its unit.
const NBSP: char = '\u{a0}';
/// A true minus sign.
const MINUS: &str = "−";

/// How numbers and times are written for one reader.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Numbers {
    /// The unit of lengths.
    pub unit: LengthUnit,
    /// The reader's offset from UTC.
    pub zone: FixedOffset,
    /// What growth is counted against.
    pub per: Axis,
}

impl Default for Numbers {
    /// Millimetres and UTC.
    fn default() -> Self {
        Self { unit: LengthUnit::default(), zone: Utc.fix(), per: Axis::default() }
    }
}

impl Numbers {
    /// The unit's sign.
    pub fn unit_name(self) -> &'static str {
        match self.unit {
            LengthUnit::Millimetre => "mm",
            LengthUnit::Inch => "in",
        }
    }

    /// The unit in millimetres, for scales.
    pub const fn unit_mm(self) -> f64 {
        match self.unit {
            LengthUnit::Millimetre => 1.0,
            LengthUnit::Inch => 25.4,
        }
    }

    /// A length without its unit: `0.55`, `0.022`.
    pub fn length(self, length: Length) -> String {
        match self.unit {
            LengthUnit::Millimetre => {
                let whole_hundredths = length.nm() % 10_000 == 0;
                self.mm_value(length.mm(), if whole_hundredths { 2 } else { 3 })
            }
            LengthUnit::Inch => fixed(length.inches(), 4),
        }
    }

    /// A length with its unit: `0.55 mm`.
    pub fn length_unit(self, length: Length) -> String {
        format!("{}{NBSP}{}", self.length(length), self.unit_name())
    }

    /// An estimate in millimetres, to a hundredth.
    pub fn estimate(self, mm: f64) -> String {
        match self.unit {
            LengthUnit::Millimetre => self.mm_value(mm, 2),
            LengthUnit::Inch => fixed(mm / 25.4, 4),
        }
    }

    /// A scatter with its unit, to a thousandth of a millimetre: `0.021 mm`, `0.0008 in`.
    pub fn fine(self, mm: f64) -> String {
        format!("{}{NBSP}{}", self.fine_value(mm), self.unit_name())
    }

    /// The same without its unit: an estimate whose interval stands beside it.
    pub fn fine_value(self, mm: f64) -> String {
        match self.unit {
            LengthUnit::Millimetre => fixed(mm, 3),
            LengthUnit::Inch => fixed(mm / 25.4, 4),
        }
    }

    /// A small length, such as a term of an uncertainty: `14.4 µm`, `0.57 thou`.
    pub fn small(self, mm: f64) -> String {
        match self.unit {
            LengthUnit::Millimetre => tell!("{mm}\u{a0}µm", mm = fixed(mm * 1e3, 1)),
            LengthUnit::Inch => format!("{}{NBSP}thou", fixed(mm / 0.0254, 2)),
        }
    }

    /// A whole-millimetre dimension of the machine: `410 mm`, `16.1 in`.
    pub fn dimension(self, length: Length) -> String {
        match self.unit {
            LengthUnit::Millimetre => format!("{}{NBSP}mm", grouped(length.mm(), 0)),
            LengthUnit::Inch => format!("{}{NBSP}in", fixed(length.inches(), 1)),
        }
    }

    /// A dimension that something may have at most, in mm: rounded down, so that what is told is
    /// still true. `20 mm` for 20.9.
    pub fn at_most(self, mm: f64) -> String {
        let step = match self.unit {
            LengthUnit::Millimetre => 1.0,
            LengthUnit::Inch => 2.54,
        };
        // A value on the step, give or take rounding, stays on it.
        Length::from_mm((mm / step + 1e-9).floor() * step)
            .map_or_else(String::new, |it| self.dimension(it))
    }

    /// A reading as a chip shows it: `0.55–0.60`, `over 1.00`, `under 0.05`, `0.572`.
    ///
    /// A reading moved to 20 °C is rounded to a hundredth on both ends.
    pub fn range(self, bracket: Bracket) -> String {
        self.range_to(bracket, self.fewest_places())
    }

    /// A reading held against a limit: [`Self::range`], with as many more digits as it takes to see
    /// on which side of the limit each end lies.
    pub fn against(self, bracket: Bracket, limit: Length) -> String {
        let fewest = self.fewest_places();
        let places = (fewest..MOST_PLACES).find(|&places| {
            let ends = std::iter::once(bracket.go()).chain(bracket.no_go());
            ends.into_iter().all(|end| {
                let written = |length: Length| (self.value(length) * power(places)).round();
                written(end).total_cmp(&written(limit)) == end.cmp(&limit)
            })
        });
        self.range_to(bracket, places.unwrap_or(MOST_PLACES))
    }

    fn range_to(self, bracket: Bracket, places: usize) -> String {
        let rounded = |length: Length| fixed(self.value(length), places);
        let go = rounded(bracket.go());
        match bracket.no_go() {
            Some(no_go) if no_go == bracket.go() => self.length(no_go),
            Some(no_go) if bracket.go() == Length::ZERO => {
                tell!("under\u{a0}{gap}", gap = rounded(no_go))
            }
            Some(no_go) => format!("{go}–{}", rounded(no_go)),
            None => tell!("over\u{a0}{gap}", gap = go),
        }
    }

    /// In the reader's unit.
    fn value(self, length: Length) -> f64 {
        match self.unit {
            LengthUnit::Millimetre => length.mm(),
            LengthUnit::Inch => length.inches(),
        }
    }

    /// The decimals of a reading: a leaf set's step.
    const fn fewest_places(self) -> usize {
        match self.unit {
            LengthUnit::Millimetre => 2,
            LengthUnit::Inch => 4,
        }
    }

    /// A length where there is little room: `0.55`, or thousandths of an inch, `21.7`.
    pub fn compact(self, length: Length) -> String {
        match self.unit {
            LengthUnit::Millimetre => self.length(length),
            LengthUnit::Inch => fixed(length.inches() * 1e3, 1),
        }
    }

    /// What a [compact](Self::compact) length is counted in.
    pub fn compact_unit(self) -> &'static str {
        match self.unit {
            LengthUnit::Millimetre => "mm",
            LengthUnit::Inch => "thou",
        }
    }

    /// A reading where there is little room: `0.55–0.60`, or `21.7–23.6` thousandths of an inch.
    pub fn compact_range(self, bracket: Bracket) -> String {
        if self.unit == LengthUnit::Millimetre {
            return self.range(bracket);
        }
        let go = self.compact(bracket.go());
        match bracket.no_go() {
            Some(no_go) if no_go == bracket.go() => go,
            Some(no_go) if bracket.go() == Length::ZERO => {
                tell!("under\u{a0}{gap}", gap = self.compact(no_go))
            }
            Some(no_go) => format!("{go}–{}", self.compact(no_go)),
            None => tell!("over\u{a0}{gap}", gap = go),
        }
    }

    /// A reading in a sentence: `between 0.55 and 0.60 mm`.
    pub fn between(self, bracket: Bracket) -> String {
        let unit = self.unit_name();
        let go = self.rounded(bracket.go());
        match bracket.no_go() {
            Some(no_go) if no_go == bracket.go() => {
                tell!("exactly {gap}\u{a0}{unit}", gap = self.length(no_go), unit)
            }
            Some(no_go) if bracket.go() == Length::ZERO => {
                tell!("under {gap}\u{a0}{unit}", gap = self.rounded(no_go), unit)
            }
            Some(no_go) => {
                tell!("between {go} and {no_go}\u{a0}{unit}", go, no_go = self.rounded(no_go), unit)
            }
            None => tell!("over {gap}\u{a0}{unit}", gap = go, unit),
        }
    }

    fn rounded(self, length: Length) -> String {
        self.estimate(length.mm())
    }

    #[expect(clippy::unused_self, reason = "a method beside its siblings")]
    fn mm_value(self, mm: f64, places: usize) -> String {
        fixed(mm, places)
    }

    /// Growth: `5.4 µm/h`, `0.21 thou/h`; `0.98 µm/t`; `35.1 µm/1000` for a thousand cuts.
    pub fn rate(self, mm_per_h: f64) -> String {
        format!("{}{NBSP}{}", self.rate_value(mm_per_h), self.rate_unit())
    }

    /// Growth without its unit.
    pub fn rate_value(self, mm_per_h: f64) -> String {
        let fine = usize::from(self.per == Axis::Tonnes);
        let places = match self.unit {
            LengthUnit::Millimetre => 1 + fine,
            LengthUnit::Inch => 2 + fine,
        };
        fixed(self.rate_number(mm_per_h), places)
    }

    /// Growth as a number of [`Self::rate_unit`], for an axis.
    pub fn rate_number(self, mm_per_h: f64) -> f64 {
        let many = if self.per == Axis::Cuts { 1e3 } else { 1.0 };
        match self.unit {
            LengthUnit::Millimetre => mm_per_h * many * 1e3,
            LengthUnit::Inch => mm_per_h * many / 0.0254,
        }
    }

    /// The unit of growth.
    pub fn rate_unit(self) -> &'static str {
        match (self.unit, self.per) {
            (LengthUnit::Millimetre, Axis::Hours) => "µm/h",
            (LengthUnit::Millimetre, Axis::Tonnes) => "µm/t",
            (LengthUnit::Millimetre, Axis::Cuts) => "µm/1000",
            (LengthUnit::Inch, Axis::Hours) => "thou/h",
            (LengthUnit::Inch, Axis::Tonnes) => "thou/t",
            (LengthUnit::Inch, Axis::Cuts) => "thou/1000",
        }
    }

    /// A day and a time: `Tue 4 Nov, 14:40`.
    pub fn moment(self, at: DateTime<Utc>) -> String {
        language::date(&at.with_timezone(&self.zone), sentence!("%a %-d %b, %H:%M"))
    }

    /// A day: `4 Nov 2026`.
    pub fn day(self, at: DateTime<Utc>) -> String {
        language::date(&at.with_timezone(&self.zone), sentence!("%-d %b %Y"))
    }

    /// A time of day: `14:52:08`.
    pub fn clock(self, at: DateTime<Utc>) -> String {
        at.with_timezone(&self.zone).format("%H:%M:%S").to_string()
    }
}

/// A day that is the same everywhere: `4 Nov 2026`.
pub fn date(day: chrono::NaiveDate) -> String {
    language::date(&day.and_time(chrono::NaiveTime::MIN).and_utc(), sentence!("%-d %b %Y"))
}

/// An hour meter: `4 812.0 h`.
pub fn meter(hours: Hours) -> String {
    format!("{}{NBSP}h", grouped(hours.h(), 1))
}

/// What a counter shows: `18 250`.
pub fn count(shows: u64) -> String {
    i64::try_from(shows).map_or_else(|_| shows.to_string(), |it| grouped(float(it), 0))
}

/// Lost hours: `0.8 h`.
pub fn lost(hours: f64) -> String {
    format!("{}{NBSP}h", grouped(hours, 1))
}

/// How long work takes: `55 min`, `3 h 10 min`, to five minutes, since nobody knows it better.
pub fn duration(hours: f64) -> String {
    let fives = Hours::from_h(hours * 12.0).unwrap_or_default();
    let fives = (fives.thousandths() + 500).div_euclid(1_000);
    let (whole, minutes) = (fives.div_euclid(12), fives.rem_euclid(12) * 5);
    match (whole, minutes) {
        (0, minutes) => format!("{minutes}{NBSP}min"),
        (whole, 0) => format!("{whole}{NBSP}h"),
        (whole, minutes) => format!("{whole}{NBSP}h {minutes}{NBSP}min"),
    }
}

/// Whole hours: `142 h`.
pub fn whole_hours(hours: f64) -> String {
    format!("{}{NBSP}h", grouped(hours, 0))
}

/// Whole hours without their unit, thousands parted: `4 812`.
pub fn hours_value(hours: f64) -> String {
    grouped(hours, 0)
}

/// A value on an axis whose ticks are `step` apart: with one decimal at least, and no more than the
/// step needs.
pub fn tick(value: f64, step: f64) -> String {
    let places = (1..=4).find(|&places| {
        let scaled = step * 10_f64.powi(places);
        (scaled - scaled.round()).abs() < 1e-6
    });
    let places = places.and_then(|places| usize::try_from(places).ok()).unwrap_or(4);
    fixed(value, places)
}

/// A share: `28 %`.
pub fn percent(share: f64) -> String {
    format!("{}{NBSP}%", fixed(share * 100.0, 0))
}

/// How sure an interval is: `80 %`, `99.9 %`; never rounded to certainty.
pub fn confidence(share: f64) -> String {
    let percent = share * 100.0;
    let places = (0..6).find(|&places| {
        let written = (percent * power(places)).round() / power(places);
        (written - percent).abs() < 1e-9
    });
    format!("{}{NBSP}%", fixed(percent, places.unwrap_or(6)))
}

/// A temperature: `41 °C`.
pub fn temperature(temperature: Temperature) -> String {
    format!("{}{NBSP}°C", fixed(temperature.c(), 0))
}

/// Hours to a limit, as a large word and a quiet one: `10 h` and `5–16`.
///
/// Readings can say when a limit is met, that it is passed, or that it may never be; more than
/// 400 hours are "400 h or more", because a straight line is not trusted that far.
pub fn hours_to(hours: Option<&HoursTo>) -> (String, String) {
    Numbers::default().ahead(hours)
}

/// Whole nanometres have no more decimals of a millimetre.
const MOST_PLACES: usize = 6;

fn power(places: usize) -> f64 {
    (0..places).fold(1.0, |power, _| power * 10.0)
}

/// Beyond this many hours a forecast says "or more".
pub const FAR_H: f64 = 400.0;

/// Fixed decimals with a true minus, and no minus in front of zero.
pub(crate) fn fixed(value: f64, places: usize) -> String {
    let text = format!("{:.places$}", value.abs());
    let zero = text.chars().all(|c| c == '0' || c == '.');
    let text = marked(text);
    if value < 0.0 && !zero { format!("{MINUS}{text}") } else { text }
}

/// As many decimals as the number has, of one that somebody wrote.
pub(crate) fn exact(value: f64) -> String {
    marked(value.to_string())
}

/// The decimals behind the mark of the language.
pub(crate) fn marked(text: String) -> String {
    match language::spoken().decimal_mark() {
        '.' => text,
        mark => text.replace('.', mark.encode_utf8(&mut [0; 4])),
    }
}

/// Fixed decimals with the thousands parted.
pub(crate) fn grouped(value: f64, places: usize) -> String {
    let text = fixed(value, places);
    let (sign, digits) = match text.strip_prefix(MINUS) {
        Some(rest) => (MINUS, rest),
        None => ("", text.as_str()),
    };
    let mark = language::spoken().decimal_mark();
    let (whole, fraction) = digits.split_once(mark).map_or((digits, None), |(w, f)| (w, Some(f)));
    let mut parted = String::new();
    for (place, digit) in whole.chars().enumerate() {
        if 0 < place && (whole.len() - place).is_multiple_of(3) {
            parted.push(NBSP);
        }
        parted.push(digit);
    }
    match fraction {
        Some(fraction) => format!("{sign}{parted}{mark}{fraction}"),
        None => format!("{sign}{parted}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_written_for_the_eye() {
        let mm = Numbers::default();
        let um = Length::from_um;
        assert_eq!(mm.length(um(550)), "0.55");
        assert_eq!(mm.length(um(572)), "0.572");
        assert_eq!(mm.estimate(-0.144), "−0.14");
        assert_eq!(mm.estimate(-0.001), "0.00");
        let sure = [0.8, 0.999, 0.95, 0.999_99].map(confidence);
        assert_eq!(sure, ["80\u{a0}%", "99.9\u{a0}%", "95\u{a0}%", "99.999\u{a0}%"]);
        assert_eq!(mm.rate(0.0054), "5.4\u{a0}µm/h");
        assert_eq!(meter(Hours::from_whole(4_812)), "4\u{a0}812.0\u{a0}h");
        let minutes = [0.583, 3.17, 2.0, 0.01].map(duration).join(", ");
        assert_eq!(minutes.replace('\u{a0}', " "), "35 min, 3 h 10 min, 2 h, 0 min");
        assert_eq!(hours_value(1_234_567.0), "1\u{a0}234\u{a0}567");
        let inch = Numbers { unit: LengthUnit::Inch, ..mm };
        assert_eq!(inch.length(um(550)), "0.0217");
        assert_eq!(inch.compact(um(550)), "21.7");
    }

    /// Warm blades leave a reading with nanometres; rounded to a hundredth it may seem to meet a limit
    /// that it does not.
    #[test]
    fn digits_never_contradict_a_verdict() {
        let mm = Numbers::default();
        let bracket = |go, no_go| Bracket::new(Length::from_nm(go), Some(Length::from_nm(no_go)));
        #[track_caller]
        fn check(n: Numbers, bracket: Bracket, limit_um: i64, expected: &str) {
            assert_eq!(n.against(bracket, Length::from_um(limit_um)), expected);
        }
        check(mm, bracket(299_600, 349_600).unwrap(), 300, "0.2996–0.3496");
        check(mm, bracket(297_100, 347_100).unwrap(), 300, "0.297–0.347");
        check(mm, bracket(300_000, 350_000).unwrap(), 300, "0.30–0.35");
        check(mm, bracket(250_000, 300_000).unwrap(), 300, "0.25–0.30");
        check(mm, bracket(1_207_300, 1_257_300).unwrap(), 1_250, "1.21–1.26");
        let inch = Numbers { unit: LengthUnit::Inch, ..mm };
        check(inch, bracket(299_000, 349_000).unwrap(), 300, "0.01177–0.01374");
    }

    #[test]
    fn a_reading_is_never_one_number() {
        let mm = Numbers::default();
        let um = Length::from_um;
        let bracket = |go, no_go: Option<i64>| Bracket::new(um(go), no_go.map(um)).unwrap();
        assert_eq!(mm.range(bracket(550, Some(600))), "0.55–0.60");
        assert_eq!(mm.range(bracket(0, Some(50))), "under\u{a0}0.05");
        assert_eq!(mm.range(bracket(1_000, None)), "over\u{a0}1.00");
        let inch = Numbers { unit: LengthUnit::Inch, ..mm };
        assert_eq!(inch.compact_range(bracket(550, Some(600))), "21.7–23.6");
        assert_eq!(inch.compact_range(bracket(550, None)), "over\u{a0}21.7");
        assert_eq!(mm.between(bracket(550, Some(600))), "between 0.55 and 0.60\u{a0}mm");
    }
}
