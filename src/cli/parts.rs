//! The command `parts`: what there is, what will be needed, what to order.

use crate::{
    brief::{Numbers, parts as told},
    cli::out::Form,
    domain::{
        decide::{Item, MachineDecision, Need, Supply, decide, shim_mm, supply},
        machine::ShearId,
        quantity::Hours,
        trend::CONFIDENCE,
        yard::Yard,
    },
};
use serde_json::{Value, json};

/// What a yard needs within so many hours, in words or for another program.
pub(crate) fn parts(yard: &Yard, within: Hours, form: Form, n: Numbers) -> String {
    let decisions: Vec<MachineDecision> =
        yard.machines.iter().map(|machine| decide(machine, &yard.settings)).collect();
    let supply = supply(yard, &decisions, within);
    match form {
        Form::Json => format!("{:#}", as_json(&supply)),
        Form::Text => as_text(&supply, yard, n),
    }
}

fn as_text(supply: &Supply, yard: &Yard, n: Numbers) -> String {
    let brief = told::tell(supply, yard, n);
    let mut lines = vec![brief.title];
    let head = ["Part", "on hand", "now", "needed", "order", "for"].map(str::to_owned);
    let rows: Vec<[String; 6]> = std::iter::once(head)
        .chain(
            brief
                .parts
                .into_iter()
                .map(|it| [it.name, it.on_hand, it.now, it.needed, it.order, it.machines]),
        )
        .collect();
    let wide = |column: usize| -> usize {
        let cells = rows.iter().filter_map(|row| row.get(column));
        cells.map(|cell| cell.chars().count()).max().unwrap_or(0)
    };
    let wide: Vec<usize> = (0..6).map(wide).collect();
    for row in &rows {
        let cells: Vec<String> =
            row.iter().zip(&wide).map(|(cell, &wide)| format!("{cell:<wide$}")).collect();
        lines.push(format!("  {}", cells.join("  ").trim_end()));
    }
    let shopping = brief.shopping.unwrap_or_else(|| "nothing".to_owned());
    lines.push(format!("To order: {shopping}."));
    lines.extend(brief.edges);
    lines.extend(brief.notes);
    lines.join("\n")
}

fn as_json(supply: &Supply) -> Value {
    let edges: Vec<Value> = supply
        .edges
        .iter()
        .map(|it| {
            json!({
                "shear": it.shear.as_str(),
                "blade": it.blade.0,
                "edge": it.edge,
                "fresh_edges": it.fresh,
                "left_h": it.left_h,
            })
        })
        .collect();
    let blind: Vec<Value> = supply
        .unforeseen
        .iter()
        .map(|(shear, line)| json!({ "shear": shear.as_str(), "line": line.to_string() }))
        .collect();
    json!({
        "within_h": supply.within.h(),
        "confidence": CONFIDENCE,
        "parts": needs(supply.needs.iter()),
        "edges": edges,
        "not_forecast": blind,
    })
}

/// Needs as other programs read them; shims count in millimetres of thickness.
pub(crate) fn needs<'a>(needs: impl Iterator<Item = &'a Need>) -> Vec<Value> {
    needs.map(need).collect()
}

fn need(need: &Need) -> Value {
    let (kind, name) = match &need.item {
        Item::Blade { blade, .. } => ("blade", blade.0.as_str()),
        Item::Bolt(name) => ("bolt", name.as_str()),
        Item::Nut(name) => ("nut", name.as_str()),
        Item::Shims => ("shims", "all"),
        Item::Electrode(name) => ("electrode", name.as_str()),
        Item::Grease(name) => ("grease", name.as_str()),
    };
    let shear = match &need.item {
        Item::Blade { shear, .. } => shear.as_ref().map(ShearId::as_str),
        _ => None,
    };
    let shims = need.item == Item::Shims;
    let amount = |count: usize| if shims { json!(shim_mm(count)) } else { json!(count) };
    let expected = need.expected * if shims { shim_mm(1) } else { 1.0 };
    let machines: Vec<&str> = need.machines.iter().map(ShearId::as_str).collect();
    json!({
        "kind": kind,
        "name": name,
        "shear": shear,
        "unit": if shims { "mm" } else { "pieces" },
        "on_hand": need.on_hand.map(amount),
        "needed_now": amount(need.now),
        "needed": amount(need.needed),
        "expected": expected,
        "p_short": need.chance_short,
        "order": amount(need.order),
        "machines": machines,
    })
}
