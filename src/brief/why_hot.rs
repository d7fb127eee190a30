//! Why a face is as hot as it is, in four short paragraphs built from the numbers.

use crate::{
    brief::{Numbers, heat, words},
    domain::{
        heat::{Colour, EventKind, Model, Sample, Shift, colour_at},
        machine::Line,
        quantity::Length,
    },
    language::{self, tell},
};

/// A heading and a sentence or two.
#[derive(Clone, Debug, PartialEq)]
pub struct Paragraph {
    /// Such as "Hot steel grows".
    pub title: &'static str,
    /// Weighty numbers between double asterisks.
    pub text: String,
}

/// What is told about.
#[derive(Clone, Copy, Debug)]
pub struct Here<'a> {
    /// The machine as a network.
    pub model: &'a Model,
    /// Its shift.
    pub shift: &'a Shift,
    /// The moment.
    pub sample: &'a Sample,
    /// The place.
    pub contact: usize,
    /// Its line, for limits and names.
    pub line: &'a Line,
    /// Low and high face temperature, once known.
    pub range_c: Option<(f64, f64)>,
}

/// Some paragraphs: the cold gap, what grew, whether the jaw is spread, whether it rubs, what that
/// makes of the face.
pub fn tell(here: &Here<'_>, n: Numbers) -> Vec<Paragraph> {
    let told = [cold(here, n), grown(here, n), spread(here, n), rubs(here), face(here, n)];
    told.into_iter().flatten().collect()
}

fn cold(here: &Here<'_>, n: Numbers) -> Option<Paragraph> {
    let gap = here.model.network.contacts.get(here.contact)?.cold_gap_mm;
    let limits = &here.line.limits;
    let under = |limit: Length| gap < limit.mm();
    let (title, held) = match () {
        () if under(limits.stop().min) => {
            (tell!("Far too tight when cold"), (tell!("under the stop limit"), limits.stop().min))
        }
        () if under(limits.working().min) => {
            (tell!("Too tight when cold"), (tell!("under the working limit"), limits.working().min))
        }
        () if under(limits.set().min) => {
            (tell!("Tight when cold"), (tell!("under the set range from"), limits.set().min))
        }
        () if gap <= limits.set().max.mm() => {
            (tell!("Right when cold"), (tell!("in the set range, at least"), limits.set().min))
        }
        () => (tell!("Wide when cold"), (tell!("over the set range to"), limits.set().max)),
    };
    let text =
        format!("**{} {}**, {} {}.", n.estimate(gap), n.unit_name(), held.0, n.length(held.1));
    Some(Paragraph { title, text })
}

fn grown(here: &Here<'_>, n: Numbers) -> Option<Paragraph> {
    let contact = here.model.network.contacts.get(here.contact)?;
    let blades = || {
        let own = |part: usize| part == contact.moving || part == contact.fixed;
        contact.chain.iter().filter(move |link| own(link.part))
    };
    let per_100: f64 = blades()
        .map(|link| {
            link.signed_mm * (link.material.growth_at_c(120.0) - link.material.growth_at_c(20.0))
        })
        .sum();
    let name = |part: usize| here.model.network.parts.get(part).map(|it| language::known(&it.name));
    let at = |part: usize| here.sample.parts_c.get(part).copied();
    let left = here.model.hot_gap_mm(here.sample, here.contact);
    let [moving, fixed] = [at(contact.moving)?, at(contact.fixed)?].map(heat::celsius);
    let (per_100, left, unit_name) = (n.estimate(-per_100), n.estimate(left), n.unit_name());
    let grows = tell!(
        "Every 100 °C of {moving} and {contact} takes about **{per_100} {unit_name}** from the gap.",
        moving = name(contact.moving)?,
        contact = name(contact.fixed)?,
        per_100,
        unit_name
    );
    let now = if moving == fixed {
        tell!("Both at **{moving}**, the gap is **{left} {unit_name}**.", moving, left, unit_name)
    } else {
        tell!(
            "At **{moving}** and **{fixed}** the gap is **{left} {unit_name}**.",
            moving,
            fixed,
            left,
            unit_name
        )
    };
    let text = format!("{grows} {now}");
    Some(Paragraph { title: tell!("Hot steel grows"), text })
}

/// A gap that a wedged tip has opened.
fn spread(here: &Here<'_>, n: Numbers) -> Option<Paragraph> {
    let station = here.model.network.contacts.get(here.contact)?.station;
    let from_pivot = here.line.stations.iter().find(|it| it.id == station)?.from_pivot;
    let by = here.model.spread_mm(here.sample, from_pivot);
    let opens = here.model.hot_gap_mm(here.sample, here.contact)
        > here.sample.contacts.get(here.contact)?.gap_mm;
    (opens && 0.005 <= by).then(|| Paragraph {
        title: tell!("The jaw is spread"),
        text: tell!(
            "The hot tip fills its slot and pushes the cutting cheek out. This gap is wider by \
             **{by} {unit_name}**, and thin stock folds into it.",
            by = n.estimate(by),
            unit_name = n.unit_name()
        ),
    })
}

fn rubs(here: &Here<'_>) -> Option<Paragraph> {
    let at = here.sample.contacts.get(here.contact)?;
    let touching = here
        .shift
        .events
        .iter()
        .find(|it| it.station == at.station && it.kind == EventKind::Touching)
        .filter(|it| it.hour <= here.sample.hour);
    if here.sample.hour <= 0.0 {
        let text = tell!("The shift begins: no cut has been made yet.").to_owned();
        return Some(Paragraph { title: tell!("It has not rubbed yet"), text });
    }
    if at.force_n <= 0.0 {
        let text = tell!("No cut presses these faces together at this hour.").to_owned();
        return Some(Paragraph { title: tell!("It does not rub now"), text });
    }
    let since = touching.map_or_else(String::new, |event| {
        tell!(" Since **{hour}** the faces touch even between cuts.", hour = heat::hour(event.hour))
    });
    let text = tell!(
        "About **{force_n} kN** press these faces together on every cut, and every cut heats them.{since}",
        force_n = crate::brief::numbers::fixed(at.force_n / 1e3, 0),
        since
    );
    Some(Paragraph { title: tell!("Then it rubs"), text })
}

/// How far under the face the flash of a cut is told.
const UNDER: Length = Length::from_um(5_000);

fn face(here: &Here<'_>, n: Numbers) -> Option<Paragraph> {
    let at = here.sample.contacts.get(here.contact)?;
    let c = at.face_c;
    // Before the first cut every draw says the same.
    let apart = |(low, high): &(f64, f64)| heat::degrees(*low) != heat::degrees(*high);
    let range = here.range_c.filter(apart).map_or_else(String::new, |(low, high)| {
        tell!(
            ", eight times in ten between {low} and {high}",
            low = heat::degrees(low),
            high = heat::celsius(high)
        )
    });
    let colour = colour_at(at.hottest_so_far_c);
    let name = words::capital(heat::colour(colour));
    let cooled = c + 5.0 < at.hottest_so_far_c;
    let was = if cooled {
        tell!(" It has been near **{hottest}**.", hottest = heat::celsius(at.hottest_so_far_c))
    } else {
        String::new()
    };
    let (title, after) = match colour {
        None => (tell!("So it stays bare"), String::new()),
        Some(Colour::Blue | Colour::Grey) => (
            tell!("So it colours"),
            tell!(
                "{was} **{name}**, and it stays so when it cools: blued again and again, an edge \
                     softens and cracks.",
                was,
                name
            ),
        ),
        Some(_) => (
            tell!("So it colours"),
            tell!(
                "{was} **{name}**: the film stays on a cold face and tells how hot it was.",
                was,
                name
            ),
        ),
    };
    let contact = here.model.network.contacts.get(here.contact)?;
    let joules = contact.heat_per_cut_j(&here.sample.parts_c, &here.model.duty);
    let flash = |depth_m| contact.flash_at_k(joules, contact.to_moving, depth_m);
    let jump = flash(0.0);
    let skin = if jump < 5.0 {
        String::new()
    } else {
        tell!(
            " Each cut makes it jump by {jump} K, {under} under it only by {flash} K: the skin is strained.",
            jump = heat::degrees(jump),
            under = n.dimension(UNDER),
            flash = heat::degrees(flash(UNDER.mm() * 1e-3))
        )
    };
    let text = tell!(
        "The face is near **{celsius}**{range}.{after}{skin}",
        celsius = heat::celsius(c),
        range,
        after,
        skin
    );
    Some(Paragraph { title, text })
}
