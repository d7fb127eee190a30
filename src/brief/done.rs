//! Work that is about to be written down, told so that somebody can say whether it was done.
//!
//! Knows what will stand in the log, word for word; does not know what was proposed.

use crate::{
    brief::{Numbers, bolts, decision, reason::blade_name, words},
    domain::{log::Work, machine::Shear, quantity::Torque},
    language::tell,
};

/// Asks whether this work was done: `Is it done? Add 0.50 mm behind the lower blade, and its bolts
/// tightened to 640 N·m.`
pub fn question(work: &[Work], shear: &Shear, n: Numbers) -> String {
    let moved: Vec<String> = work.iter().filter_map(|it| moved(it, shear, n)).collect();
    if let [work, Work::Tightened { blade, torque }] = work
        && work.blade() == Some(blade)
    {
        return tell!(
            "Is it done? {headline}, and its bolts tightened to {torque}.",
            headline = moved.join("; "),
            torque = bolts::newton_metres(*torque)
        );
    }
    match (moved.is_empty(), tightened(work, shear)) {
        (_, None) => tell!("Is it done? {headline}.", headline = moved.join("; ")),
        (true, Some(bolts)) => tell!("Is it done? {headline}.", headline = words::capital(&bolts)),
        (false, Some(bolts)) => {
            tell!("Is it done? {headline}, and {bolts}.", headline = moved.join("; "), bolts)
        }
    }
}

/// `bolts of the lower blade and the upper blade tightened to 640 N·m`; `None` without such an
/// entry.
pub fn tightened(work: &[Work], shear: &Shear) -> Option<String> {
    let mut by_torque: Vec<(Torque, Vec<&str>)> = Vec::new();
    for entry in work {
        let Work::Tightened { blade, torque } = entry else { continue };
        let name = blade_name(shear, blade);
        match by_torque.iter_mut().find(|(it, _)| it == torque) {
            Some((_, names)) => names.push(name),
            None => by_torque.push((*torque, vec![name])),
        }
    }
    let one = |(torque, names): &(Torque, Vec<&str>)| {
        tell!(
            "the bolts of the {blades} tightened to {torque}",
            blades = names.join(tell!(" and the ")),
            torque = bolts::newton_metres(*torque)
        )
    };
    let told: Vec<String> = by_torque.iter().map(one).collect();
    (!told.is_empty()).then(|| told.join(tell!(" and ")))
}

/// Where an entry's shims lie: `lower blade, bolts 1–2`.
pub fn place(work: &Work, shear: &Shear) -> String {
    let name = work.blade().map_or("", |it| blade_name(shear, it));
    match work {
        Work::Shims { bolts: Some(span), .. } => format!("{name}, {}", words::bolts(*span)),
        _ => name.to_owned(),
    }
}

/// What moves a gap; `None` for anything else.
fn moved(work: &Work, shear: &Shear, n: Numbers) -> Option<String> {
    let pack = |blade, pack: &[_]| {
        let shimmed = shear.blade(blade).is_some_and(|it| it.pack.is_some());
        let behind = match (shimmed, pack.is_empty()) {
            (false, _) => return String::new(),
            (true, true) => tell!("no shim").to_owned(),
            (true, false) => decision::sum(pack, n),
        };
        tell!(", then {behind} behind it", behind)
    };
    Some(match work {
        Work::Shims { blade, bolts, put_in, take_out } => {
            let span = bolts.map_or(String::new(), |span| format!(", {}", words::bolts(span)));
            let work = words::capital(&decision::shims(put_in, take_out, n));
            tell!("{work} behind the {blade}{span}", work, blade = blade_name(shear, blade), span)
        }
        Work::Turned { blade, edge, pack: after } => {
            let name = blade_name(shear, blade);
            tell!("Turn the {blade} to edge\u{a0}{edge}", blade = name, edge) + &pack(blade, after)
        }
        Work::Replaced { blade, pack: after } => {
            tell!("Fit a new {blade}", blade = blade_name(shear, blade)) + &pack(blade, after)
        }
        Work::Swapped { .. }
        | Work::Tightened { .. }
        | Work::Welded { .. }
        | Work::Lubricated
        | Work::MeterChanged { .. } => return None,
    })
}
