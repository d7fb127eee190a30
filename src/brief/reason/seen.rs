//! Reasons from what somebody saw or heard: cracks, trouble, chips, streaks, and a jaw that spread.

use crate::{
    brief::{
        reason::Teller,
        told::{Basis, Told},
        words,
    },
    domain::{
        decide::{SPREAD_JUMP_MM, Spread, StreakHeat},
        log::FindingKind,
        quantity::Length,
    },
    language::{self, sentence, tell},
};
use chrono::{DateTime, Utc};

impl Teller<'_> {
    pub(super) fn cracks(&self, station: Option<u8>, taken: DateTime<Utc>) -> Told {
        let text = tell!(
            "Surface cracks seen{station} on {taken}. Look which blade it is: it can break in pieces.",
            station = self.at(station),
            taken = self.n.day(taken)
        );
        Told::finding(text, &FindingKind::SurfaceCracks, language::told(CRACKS))
    }

    pub(super) fn cracks_somewhere(&self, taken: DateTime<Utc>) -> Told {
        let text = tell!(
            "Surface cracks seen on {taken}, nobody noted where. A cracked blade can break in pieces: \
             look at every blade.",
            taken = self.n.day(taken)
        );
        Told::finding(text, &FindingKind::SurfaceCracks, language::told(CRACKS))
    }

    #[expect(clippy::unused_self, reason = "a method beside its siblings")]
    pub(super) fn trouble(&self, kind: &FindingKind, place: &str) -> Told {
        let (text, rule) = match kind {
            FindingKind::LooseBolt => (
                tell!(
                    "A bolt was loose{place}. Tighten all bolts of the blade in their order, and \
                     log it.",
                    place
                ),
                tell!("one loose bolt means that all bolts of its blade are tightened"),
            ),
            FindingKind::StockCaught => (
                tell!(
                    "Stock was caught beside the guide blade{place}. Clear it out, then measure \
                     again.",
                    place
                ),
                tell!("stock that was caught is cleared before a gap is trusted"),
            ),
            kind => (
                tell!("{kind} logged{place}.", kind = words::capital(words::finding(kind)), place),
                tell!("trouble is looked at before cutting on"),
            ),
        };
        Told::finding(text, kind, rule)
    }

    pub(super) fn chipped(&self, station: Option<u8>, size: Option<Length>) -> Told {
        let long = size.map(|size| self.n.dimension(size));
        let at = self.at(station);
        let text = tell!(
            "Chipped edge{at}{long}. Look which blade it is.",
            at,
            long = long.as_ref().map_or_else(String::new, |long| tell!(", **{long}** long", long))
        );
        let rule = tell!("a chipped edge is turned away");
        let told = Told::finding(text, &FindingKind::ChippedEdge, rule);
        match (long, size) {
            (Some(value), Some(size)) => Told { value, value_mm: Some(size.mm()), ..told },
            _ => told,
        }
    }

    pub(super) fn streak(
        &self,
        kind: &FindingKind,
        station: Option<u8>,
        heat: Option<&StreakHeat>,
    ) -> Told {
        let text = tell!(
            "{kind} seen{station}: this face has been hot.",
            kind = words::finding(kind),
            station = self.at(station)
        );
        let rule = tell!("a colour is evidence of heat, never a number");
        let Some(heat) = heat else { return Told::finding(text, kind, rule) };
        let (low, high) = heat.closed_mm;
        let closed = format!("{}–{}", self.n.estimate(low), self.n.estimate(high));
        let of = heat.cold_mm.map(|cold| (cold, self.n.estimate(cold)));
        let text = tell!(
            "{text} {band} It had then closed by **{closed}**{high}.",
            text,
            band = crate::brief::heat::band(&heat.band),
            closed,
            high = of.as_ref().map_or_else(String::new, |(cold, words)| {
                let left = crate::brief::heat::left(*cold, (low, high));
                tell!(" of {words} cold: {left}", words, left)
            })
        );
        let told = Told::finding(text, kind, rule).from(tell!(
            "published temper colours, which disagree; parts as warm as the heat model has them, \
             or as hot as the face"
        ));
        match of {
            Some((cold, limit)) => Told { value: closed, limit, ..told }.lengths(high, cold),
            None => Told { value: closed, value_mm: Some(high), ..told },
        }
    }

    pub(super) fn jaw_spread(&self, spread: &Spread) -> Told {
        let (by, jump) = (self.n.estimate(spread.by_mm), self.n.estimate(SPREAD_JUMP_MM));
        let text = tell!(
            "The lower jaw has spread: the gaps either side of the tip together opened by \
             **{by}** between {from} and {to}, **{jump}** or more over what recorded work explains. \
             Shims cannot cure that; a qualified welder must look at it.",
            by,
            from = self.n.moment(spread.from),
            to = self.n.moment(spread.to),
            jump
        );
        let row = tell!(
            "Sum of two readings, rows {cutting} and {guide}",
            cutting = spread.cutting,
            guide = spread.guide
        );
        let rule = tell!("a jump that no work explains stops the machine");
        Told::new(text, Basis { value: by, limit: jump, row, rule })
            .lengths(spread.by_mm, SPREAD_JUMP_MM)
            .from(tell!("the limit is ours, no published source"))
    }
}

/// Why cracks stop a machine.
const CRACKS: &str = sentence!("cracks stop the machine");
