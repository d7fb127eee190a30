//! Parts and the plan of the next shutdown, over whole yards.

use crate::{
    cli::{json, sample, told},
    visit::Visit,
};
use gapwright::{
    brief::{self, Numbers},
    domain::{
        decide::{Action, Advice, Choice, Item, MachineDecision, Moment, decide, plan, supply},
        log::{WeldPart, Work},
        machine::LineId,
        quantity::Hours,
        yard::{Part, PartKind, WorkTimes, Yard},
    },
    store,
};
use tempfile::TempDir;

fn yard() -> Yard {
    store::open(&sample()).unwrap().yard
}

fn decisions(yard: &Yard) -> Vec<MachineDecision> {
    yard.machines.iter().map(|machine| decide(machine, &yard.settings)).collect()
}

/// However cheap a failure and dear a stop, and the other way round.
fn any_times() -> [WorkTimes; 4] {
    let h = Hours::from_whole;
    let times = WorkTimes::JUDGED;
    [
        times,
        WorkTimes { unplanned_stop: Hours::ZERO, set_up_min: 6_000, ..times },
        WorkTimes { unplanned_stop: h(500), set_up_min: 0, crew: 1, ..times },
        WorkTimes { shutdown_every: h(1), replace_min: 60_000, delivery: h(2_000), ..times },
    ]
}

/// A file may name any interval; planning with it ends, and soon.
#[test]
fn intervals_that_nobody_means_are_planned_with_all_the_same() {
    let mut yard = yard();
    let [least, some, most] = [0.001, 200.0, 10_000_000.0].map(|it| Hours::from_h(it).unwrap());
    for (look, shutdown_every) in [(least, most), (some, most), (most, least), (most, most)] {
        yard.settings.intervals.look = look;
        yard.settings.upkeep.times = Some(WorkTimes { shutdown_every, ..WorkTimes::JUDGED });
        for (machine, decision) in yard.machines.iter().zip(decisions(&yard)) {
            let plan = plan(machine, &decision, &yard.settings, None);
            assert!(plan.expected_h.is_finite() && plan.now_h().is_finite());
        }
    }
}

#[test]
fn what_a_decision_demands_is_never_put_off_for_its_cost() {
    let mut yard = yard();
    for times in any_times() {
        yard.settings.upkeep.times = Some(times);
        for (machine, decision) in yard.machines.iter().zip(decisions(&yard)) {
            let plan = plan(machine, &decision, &yard.settings, None);
            assert!(plan.at_least_h <= plan.expected_h + 1e-9, "{}", machine.shear.id);
            assert!(plan.expected_h.is_finite() && plan.now_h().is_finite());
            assert_eq!(plan.lines.len(), decision.lines.len());
            for (line, decided) in plan.lines.iter().zip(&decision.lines) {
                let demanded = decided.action != Action::Leave;
                assert!(
                    !demanded || line.when == Moment::Now,
                    "{} {}",
                    machine.shear.id,
                    line.line
                );
                assert!(!demanded || line.advice == Advice::Demanded);
                let Ok(costs) = line.costs else { continue };
                let all = [Some(costs.now_h), costs.shutdown_h, costs.limit_h];
                assert!(all.into_iter().flatten().all(|it| it.is_finite() && 0.0 <= it));
                if let (Some(planned), Some(limit)) = (costs.shutdown_h, costs.limit_h) {
                    assert!(planned <= limit + 1e-9, "running to the limit is one way to wait");
                }
            }
        }
    }
}

/// The farther ahead, the more is needed; and what is ordered is what is missing.
#[test]
fn what_is_ordered_is_what_is_missing() {
    let yard = yard();
    let decisions = decisions(&yard);
    let mut before: Vec<(Item, usize)> = Vec::new();
    for within in [8, 48, 240, 1_000, 4_000] {
        let supply = supply(&yard, &decisions, Hours::from_whole(within));
        for need in &supply.needs {
            assert_eq!(need.order, need.needed.saturating_sub(need.on_hand.unwrap_or(0)));
            assert!((0.0..=1.0).contains(&(need.chance_short - 1e-12).max(0.0)));
            // Four times in five is enough: one time in five may be short, if all ordered is there.
            assert!(need.now <= need.needed && (0 < need.order || need.chance_short <= 0.2 + 1e-9));
            let earlier = before.iter().find(|(item, _)| *item == need.item);
            assert!(earlier.is_none_or(|(_, count)| *count <= need.needed), "{:?}", need.item);
        }
        before = supply.needs.iter().map(|it| (it.item.clone(), it.needed)).collect();
    }
}

#[test]
fn a_new_blade_takes_new_bolts_and_nuts() {
    let mut yard = yard();
    let decisions = decisions(&yard);
    let order = |yard: &Yard, of: &str| {
        let supply = supply(yard, &decisions, Hours::from_whole(48));
        let need = supply.needs.into_iter().find(|it| match &it.item {
            Item::Bolt(name) | Item::Nut(name) => *name == of,
            Item::Blade { blade, shear, .. } => {
                blade.0 == of && shear.as_ref().is_some_and(|it| it.as_str() == "heron")
            }
            _ => false,
        });
        need.map(|it| (it.now, it.on_hand, it.order)).unwrap()
    };
    assert_eq!(order(&yard, "front"), (1, Some(1), 0), "heron's front blade is to be replaced");
    assert_eq!(order(&yard, "M20 10.9"), (2, Some(0), 2), "it stands on two bolts");
    let front = |it: &Part| it.kind == PartKind::Blade && it.name == "front";
    yard.settings.upkeep.parts.retain(|part| !front(part));
    assert_eq!(order(&yard, "front"), (1, None, 1), "nobody counted them");
    assert!(supply(&yard, &decisions, Hours::from_whole(48)).short_now());
}

#[test]
fn a_missing_part_costs_its_delivery_and_more_if_it_is_ordered_late() {
    let mut yard = yard();
    let place = yard.machines.iter().position(|it| it.shear.id.as_str() == "heron").unwrap();
    let decision = decide(&yard.machines[place], &yard.settings);
    let front = |yard: &Yard| {
        let plan = plan(&yard.machines[place], &decision, &yard.settings, None);
        plan.line(LineId::F).unwrap().costs.unwrap()
    };
    let there = front(&yard);
    let bins = &mut yard.settings.upkeep.parts;
    bins.iter_mut().find(|it| it.name == "front").unwrap().count = 0;
    let missing = front(&yard);
    let delivery = WorkTimes::JUDGED.delivery.h();
    assert!((missing.now_h - there.now_h - delivery).abs() < 1e-9, "{missing:?} {there:?}");
    assert!(there.late_order_h < 1e-9);
}

#[test]
fn only_what_may_wait_can_be_overruled() {
    let yard = yard();
    let place = yard.machines.iter().position(|it| it.shear.id.as_str() == "heron").unwrap();
    let decision = decide(&yard.machines[place], &yard.settings);
    let plan = plan(&yard.machines[place], &decision, &yard.settings, None);
    let later = [LineId::G, LineId::F, LineId::S, LineId::T].map(|line| (line, Choice::Shutdown));
    let chosen = plan.clone().overruled(&later.into_iter().collect());
    for (before, after) in plan.lines.iter().zip(&chosen.lines) {
        if after.line == LineId::S {
            let costs = before.costs.unwrap();
            let more = costs.shutdown_h.unwrap() - costs.now_h;
            assert_eq!((after.when, after.advice), (Moment::Shutdown(36.0), Advice::Chosen));
            assert!((chosen.overruled_h() - more).abs() < 1e-9);
        } else {
            assert_eq!(before, after, "a stop and a new blade do not wait, and T has nothing due");
        }
    }
    assert!(chosen.now_h() < plan.now_h());
    let same = plan.clone().overruled(&[(LineId::S, Choice::Now)].into_iter().collect());
    assert_eq!(same, plan, "the plan's own time is no choice of anybody");
}

#[test]
fn terminal_and_json_say_the_same() {
    let home = TempDir::new().unwrap();
    let sample = sample();
    let path = sample.to_str().unwrap();
    let run = |args: &[&str]| {
        let told = told(home.path(), args);
        assert_eq!((told.code, told.err.as_str()), (0, ""));
        told
    };
    let parts = json(&run(&["parts", path, "--within-h", "48", "--json"]));
    let bolts = parts["parts"].as_array().unwrap().iter().find(|it| it["name"] == "M20 10.9");
    let bolts = bolts.unwrap();
    assert_eq!((&bolts["order"], &bolts["on_hand"]), (&2.into(), &0.into()));
    let words = run(&["parts", path, "--within-h", "48"]).out;
    assert!(words.contains("To order: 2 bolts M20 10.9"), "{words}");

    let plan = json(&run(&["plan", path, "--shear", "heron", "--json"]));
    let heron = &plan["plans"][0];
    assert_eq!(heron["work_times"], "yard");
    let lines = heron["lines"].as_array().unwrap();
    let now: Vec<&str> = lines
        .iter()
        .filter(|it| it["when"] == "now")
        .map(|it| it["line"].as_str().unwrap())
        .collect();
    assert_eq!(now, ["G", "F", "P", "S"]);
    let words = run(&["plan", path, "--shear", "heron"]).out;
    assert!(words.contains("Now: G, F, P and S, about "), "{words}");
    for line in lines {
        assert!(words.contains(line["text"].as_str().unwrap()), "{line}\n{words}");
    }
}

#[test]
#[expect(clippy::disallowed_methods, reason = "a file as somebody wrote it by hand")]
fn a_crew_of_nobody_is_refused_with_a_next_step() {
    let home = TempDir::new().unwrap();
    let root = home.path().join("yard");
    store::create_yard(&root, &yard()).unwrap();
    let file = root.join("yard.ron");
    let text = std::fs::read_to_string(&file).unwrap();
    std::fs::write(&file, text.replace("crew: 2", "crew: 0")).unwrap();
    let issues = store::check(&root);
    let said: Vec<String> = issues.iter().map(ToString::to_string).collect();
    let named = |it: &String| it.contains("“crew” is 0") && it.contains("write how many people");
    assert!(said.iter().any(named), "{said:?}");
}

/// Build-up welds have an interval of their own, 120 h unless the yard says otherwise.
#[test]
fn the_next_weld_is_told_by_the_hours_since_the_last_one_and_goes_to_the_end_of_a_shift() {
    let weld = Work::Welded {
        part: WeldPart::UpperJaw,
        place: "nose".to_owned(),
        consumable: "basic electrode".to_owned(),
        cooled_slowly: true,
        template_checked: true,
    };
    let after = |hours: i32| {
        let mut visit = Visit::to("wren").work(weld.clone()).then();
        visit.next.meter = visit.machine.history.last().unwrap().meter + Hours::from_whole(hours);
        visit.machine.add(visit.next.clone());
        weld_told(visit)
    };
    for (hours, said) in [
        (0, "Look at what was built up in 120 h: last weld 0 h ago, due every 120 h."),
        (119, "Look at what was built up in 1 h: last weld 119 h ago, due every 120 h."),
        (
            120,
            "Look at what was built up: last weld 120 h ago, due every 120 h. Weld at the end of a \
             shift, so that the part cools slowly.",
        ),
        (
            121,
            "Look at what was built up: last weld 121 h ago, due every 120 h. Weld at the end of a \
             shift, so that the part cools slowly.",
        ),
    ] {
        let (welded_h, told) = after(hours);
        assert_eq!(welded_h, Some(f64::from(hours)));
        assert_eq!(told.as_deref(), Some(said));
    }
    // Nobody logged a weld on wren, so nothing is due.
    assert_eq!(weld_told(Visit::to("wren")), (None, None));
}

/// Service hours since the last weld, and what the plan says of it.
fn weld_told(visit: Visit) -> (Option<f64>, Option<String>) {
    let Visit { settings, machine, .. } = visit;
    let decision = decide(&machine, &settings);
    let planned = plan(&machine, &decision, &settings, None);
    let yard = Yard { settings, machines: vec![machine] };
    let needed = supply(&yard, &[decision], Hours::from_whole(48));
    let shear = &yard.machines[0].shear;
    let told = brief::plan::tell(&planned, &needed, shear, &yard, Numbers::default());
    (planned.welded_h, told.weld.map(|it| it.replace('\u{a0}', " ")))
}

/// The same number for other programs.
#[test]
fn hours_since_the_last_weld_stand_in_the_plan_as_json() {
    let home = TempDir::new().unwrap();
    let path = sample();
    let printed = json(&told(home.path(), &["plan", path.to_str().unwrap(), "--json"]));
    for plan in printed["plans"].as_array().unwrap() {
        let yard = yard();
        let machine =
            yard.machines.iter().find(|it| plan["shear"] == it.shear.id.as_str()).unwrap();
        let history = &machine.history;
        let since = history.last_weld().map(|at| (history.service_now() - at).h());
        assert_eq!(plan["since_weld_h"].as_f64(), since, "{}", machine.shear.id);
        assert_eq!(since.is_none(), machine.shear.id.as_str() == "wren");
    }
}

#[test]
fn a_welder_is_told_what_can_hurt() {
    let said = brief::caution::WELDING.join(" ");
    for words in [
        "qualified welder",
        "the machine's manual",
        "earth clamp goes beside the weld",
        "no current runs through the pivot or a cylinder",
        "Never weld on hardened blades",
        "end of the shift",
        "cools slowly",
        "Lay the template on when it is cold",
    ] {
        assert!(said.contains(words), "{words}: {said}");
    }
}
