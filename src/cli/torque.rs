//! The command `torque`: clamp force and torque of one bolt.

use crate::{
    brief::{bolts as told, plain},
    cli::WrongData,
    domain::bolts::{Aim, Bolt, BoltFault, Friction, Tightened, Turning, tighten},
};
use clap::Args;
use serde_json::{Value, json};

/// A bolt as typed.
#[derive(Clone, Debug, Args)]
pub struct TorqueArgs {
    /// Thread as stamped: M24, M24x2, or 1-1/4-7 for an inch bolt.
    #[arg(long)]
    size: String,
    /// Strength class: 8.8, 10.9, 12.9, or 8 for an inch bolt.
    #[arg(long)]
    grade: String,
    /// Friction in the thread; 0.12 for a lightly oiled bolt.
    #[arg(long, allow_negative_numbers = true)]
    thread_friction: Option<f64>,
    /// Friction under the head; as in the thread if left out.
    #[arg(long, allow_negative_numbers = true)]
    head_friction: Option<f64>,
    /// Nut factor K, as inch tables use it, instead of friction.
    #[arg(long, conflicts_with_all = ["thread_friction", "head_friction"], allow_negative_numbers = true)]
    nut_factor: Option<f64>,
    /// Share of the yield strength to use.
    #[arg(long, allow_negative_numbers = true)]
    yield_share: Option<f64>,
    /// Share of the proof load to clamp with, instead of a share of yield.
    #[arg(long, conflicts_with = "yield_share", allow_negative_numbers = true)]
    proof_share: Option<f64>,
    /// JSON with full precision.
    #[arg(long)]
    json: bool,
}

/// What the command prints.
///
/// # Errors
///
/// [`WrongData`] for a bolt that is not in the tables, or friction and shares that cannot be.
pub(crate) fn torque(args: &TorqueArgs) -> Result<String, WrongData> {
    let (bolt, aim, turning, found) =
        calculate(args).map_err(|fault| WrongData(fault.to_string()))?;
    if args.json {
        return Ok(format!("{:#}\n", as_json(&bolt, aim, turning, &found)));
    }
    let lines = told::tell_tightened(&bolt, aim, turning, &found);
    Ok(plain(&lines.join("\n")) + "\n")
}

fn calculate(args: &TorqueArgs) -> Result<(Bolt, Aim, Turning, Tightened), BoltFault> {
    let bolt = Bolt::parse(&args.size, &args.grade)?;
    let (mut aim, mut turning) = bolt.usual();
    if let Some(one) = args.thread_friction.or(args.head_friction) {
        let thread = args.thread_friction.unwrap_or(one);
        turning = Turning::Friction(Friction { thread, head: args.head_friction.unwrap_or(one) });
    }
    if let Some(k) = args.nut_factor {
        turning = Turning::NutFactor(k);
    }
    if let Some(share) = args.yield_share {
        aim = Aim::YieldShare(share);
    }
    if let Some(share) = args.proof_share {
        aim = Aim::ProofShare(share);
    }
    let found = tighten(&bolt, aim, turning)?;
    Ok((bolt, aim, turning, found))
}

fn as_json(bolt: &Bolt, aim: Aim, turning: Turning, found: &Tightened) -> Value {
    let friction = match turning {
        Turning::Friction(friction) => Some(friction),
        Turning::NutFactor(_) => None,
    };
    let nut_factor = match turning {
        Turning::NutFactor(k) => Some(k),
        Turning::Friction(_) => None,
    };
    let (yield_share, proof_share) = match aim {
        Aim::YieldShare(share) => (Some(share), None),
        Aim::ProofShare(share) => (None, Some(share)),
    };
    json!({
        "size": bolt.thread().to_string(),
        "grade": bolt.grade().to_string(),
        "preload_kn": found.preload_kn,
        "torque_nm": found.torque.newton_metres(),
        "torque_lbf_ft": found.torque.lbf_ft(),
        "proof_load_kn": found.proof_load_kn,
        "proof_load_beyond_table": found.beyond_table,
        "utilisation": found.utilisation,
        "thread_friction": friction.map(|it| it.thread),
        "head_friction": friction.map(|it| it.head),
        "nut_factor": nut_factor,
        "yield_share": yield_share,
        "proof_share": proof_share,
        "stress_area_mm2": bolt.thread().stress_area_mm2(),
        "how": told::how(aim, turning),
    })
}
