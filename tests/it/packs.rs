//! Packs from one shelf, held against every pack there is.
//!
//! The slow way is written anew here: it lists all ways to keep and to add for all seats at once.

use crate::{
    cli::{json, told},
    visit::um,
};
use gapwright::domain::{
    machine::PackRules,
    quantity::Length,
    shims::{
        Bed, BedPlan, Goal, PackPlan, Seat, Shortfall, Unshared, plan, plan_beds, plan_shared,
    },
    yard::ShelfItem,
};
use rand::{RngExt as _, SeedableRng as _};
use rand_pcg::Pcg64Mcg;
use std::fs;
use tempfile::TempDir;

/// Worst stations, worst seat first; shims moved; distance over the length.
type Worth = (Vec<i64>, usize, i128);

fn seat(gaps: &[i64], pack: &[i64]) -> Seat {
    let goal = |gap: &i64| Goal::within(um(*gap), um(300), um(500));
    Seat {
        goals: gaps.iter().map(goal).collect(),
        closes: 1.0,
        pack: pack.iter().map(|it| um(*it)).collect(),
        rules: PackRules { most_shims: 4, thickest: um(3_000), step: None },
        step: None,
    }
}

fn shelf(items: &[(i64, u16)]) -> Vec<ShelfItem> {
    let item =
        |(thickness, count): &(i64, u16)| ShelfItem { thickness: um(*thickness), count: *count };
    items.iter().map(item).collect()
}

fn random_seat(rng: &mut Pcg64Mcg) -> Seat {
    let stations = rng.random_range(1..=3);
    let base = rng.random_range(250..950);
    let goals = (0..stations).map(|_| {
        let gap = um((base + rng.random_range(-90..=90_i64)).max(10));
        Goal { span: um(rng.random_range(40..200) * 1_000), ..Goal::within(gap, um(300), um(500)) }
    });
    let goals = goals.collect();
    let pack: Vec<Length> =
        (0..rng.random_range(0..=2)).map(|_| um([50, 100, 250][rng.random_range(0..3)])).collect();
    let angle = [0.0_f64, 5.0, 10.0, 30.0][rng.random_range(0..4)];
    let rules = PackRules {
        most_shims: rng.random_range(1..=4),
        thickest: um(rng.random_range(4..=14) * 100),
        step: None,
    };
    Seat { goals, closes: angle.to_radians().cos(), pack, rules, step: None }
}

fn random_shelf(rng: &mut Pcg64Mcg) -> Vec<ShelfItem> {
    let all = [50, 100, 150, 250, 400, 500];
    let kinds = rng.random_range(0..=4);
    (0..kinds)
        .map(|_| ShelfItem {
            thickness: um(all[rng.random_range(0..all.len())]),
            count: rng.random_range(0..=2).min(if kinds == 4 { 1 } else { 2 }),
        })
        .collect()
}

/// The best worth over all ways for all seats, tried one by one.
fn by_trying(seats: &[Seat], shelf: &[ShelfItem]) -> Option<Worth> {
    let loose: Vec<Length> = shelf
        .iter()
        .flat_map(|item| std::iter::repeat_n(item.thickness, usize::from(item.count)))
        .collect();
    let mut best = None;
    try_seat(seats, &loose, None, &mut Vec::new(), &mut best);
    best
}

fn try_seat(
    seats: &[Seat],
    loose: &[Length],
    before: Option<Length>,
    done: &mut Vec<(i64, usize, i128)>,
    best: &mut Option<Worth>,
) {
    let Some((seat, rest)) = seats.split_first() else {
        let mut worst: Vec<i64> = done.iter().map(|it| it.0).collect();
        worst.sort_by(|a, b| b.cmp(a));
        let (moved, length) = (done.iter().map(|it| it.1).sum(), done.iter().map(|it| it.2).sum());
        let worth = (worst, moved, length);
        if best.as_ref().is_none_or(|known| worth < *known) {
            *best = Some(worth);
        }
        return;
    };
    let now: Length = seat.pack.iter().copied().sum();
    for keep in 0_u32..1 << seat.pack.len() {
        for add in 0_u32..1 << loose.len() {
            let of = |from: &[Length], mask: u32| -> Vec<Length> {
                let taken = |(place, _): &(usize, &Length)| mask & (1 << place) != 0;
                from.iter().enumerate().filter(taken).map(|(_, it)| *it).collect()
            };
            let (kept, added) = (of(&seat.pack, keep), of(loose, add));
            let total: Length = kept.iter().chain(&added).copied().sum();
            let count = kept.len() + added.len();
            if usize::from(seat.rules.most_shims) < count || seat.rules.thickest < total {
                continue;
            }
            let far = |step: Length| before.is_some_and(|it| step < (total - it).abs());
            if seat.step.is_some_and(far) {
                continue;
            }
            let moved = Length::from_mm((total - now).mm() * seat.closes).unwrap();
            let after = || seat.goals.iter().map(|goal| (goal, goal.gap - moved));
            if after().any(|(goal, gap)| gap < goal.min || goal.max < gap) {
                continue;
            }
            let off = |(goal, gap): (&Goal, Length)| (gap - goal.target).abs().nm();
            let worst = after().map(off).max().unwrap();
            let weighed = |it: (&Goal, Length)| i128::from(off(it)) * i128::from(it.0.span.nm());
            let length = after().map(weighed).sum();
            done.push((worst, seat.pack.len() - kept.len() + added.len(), length));
            try_seat(rest, &of(loose, !add), Some(total), done, best);
            done.pop();
        }
    }
}

fn worth_of(seats: &[Seat], plans: &[PackPlan]) -> Worth {
    let mut worst: Vec<i64> = plans.iter().map(|plan| plan.worst.nm()).collect();
    worst.sort_by(|a, b| b.cmp(a));
    let off = |(goal, after): (&Goal, &Length)| {
        i128::from((*after - goal.target).abs().nm()) * i128::from(goal.span.nm())
    };
    let length = |(seat, plan): (&Seat, &PackPlan)| -> i128 {
        seat.goals.iter().zip(&plan.after).map(off).sum()
    };
    let moved = plans.iter().map(PackPlan::moved).sum();
    (worst, moved, seats.iter().zip(plans).map(length).sum())
}

#[test]
fn no_pack_is_better_than_the_one_that_is_told() {
    let (mut served, mut refused, mut scarce, mut stepped) = (0, 0, 0, 0);
    for seed in 0..1_000 {
        let mut rng = Pcg64Mcg::seed_from_u64(seed);
        let shelf = random_shelf(&mut rng);
        let mut seats: Vec<Seat> =
            (0..rng.random_range(1..=2)).map(|_| random_seat(&mut rng)).collect();
        let free = by_trying(&seats, &shelf);
        for seat in seats.iter_mut().skip(1) {
            seat.step = rng.random_bool(0.7).then(|| um(rng.random_range(0..=4) * 50));
        }
        let best = by_trying(&seats, &shelf);
        stepped += usize::from(best != free);
        match plan_shared(&seats, &shelf) {
            Ok(shared) => {
                assert!(shared.proven, "seed {seed}");
                let found = worth_of(&seats, &shared.plans);
                assert_eq!(Some(found), best, "seed {seed}");
                served += 1;
            }
            Err(why) => {
                assert_eq!(best, None, "seed {seed}: {why:?}");
                scarce += usize::from(matches!(why, Unshared::Together { proven: true }));
                refused += 1;
            }
        }
        if let [alone] = seats.as_slice() {
            assert_eq!(plan(alone, &shelf).is_ok(), best.is_some(), "seed {seed}");
        }
    }
    let counts = (served, refused, scarce, stepped);
    assert!(100 < served && 100 < refused && 5 < scarce && 20 < stepped, "{counts:?}");
}

/// The best worth over all ways for all blades, with every choice of full-length shims to keep.
fn by_trying_beds(beds: &[Bed], shelf: &[ShelfItem]) -> Option<Worth> {
    let mut footings: Vec<(Vec<Seat>, usize)> = vec![(Vec::new(), 0)];
    for bed in beds {
        let choices = 0_u32..1 << bed.full.len();
        let on = |(seats, out): &(Vec<Seat>, usize), keep: u32| {
            let (kept, taken): (Vec<_>, Vec<_>) =
                bed.full.iter().enumerate().partition(|(place, _)| keep & (1 << place) != 0);
            let total = |shims: &[(usize, &Length)]| shims.iter().map(|it| *it.1).sum::<Length>();
            let mut seats = seats.clone();
            for (place, seat) in bed.seats.iter().enumerate() {
                let mut seat = seat.clone();
                seat.step = seat.step.filter(|_| 0 < place);
                seat.rules.most_shims =
                    seat.rules.most_shims.checked_sub(u8::try_from(kept.len()).unwrap())?;
                seat.rules.thickest = seat.rules.thickest - total(&kept);
                let opened = Length::from_mm(total(&taken).mm() * seat.closes).unwrap();
                seat.goals.iter_mut().for_each(|goal| goal.gap = goal.gap + opened);
                seats.push(seat);
            }
            Some((seats, out + taken.len()))
        };
        footings =
            footings.iter().flat_map(|it| choices.clone().filter_map(|k| on(it, k))).collect();
    }
    let tried = footings.iter().filter_map(|(seats, out)| {
        let (worst, moved, length) = by_trying(seats, shelf)?;
        Some((worst, moved + out, length))
    });
    tried.min()
}

/// What a plan for blades is worth, told from its gaps and shims alone.
fn worth_of_beds(beds: &[Bed], plans: &[BedPlan]) -> Worth {
    let seats: Vec<Seat> = beds.iter().flat_map(|bed| bed.seats.clone()).collect();
    let each: Vec<PackPlan> = plans.iter().flat_map(|plan| plan.plans.clone()).collect();
    let (worst, moved, length) = worth_of(&seats, &each);
    (worst, moved + plans.iter().map(|plan| plan.take_out.len()).sum::<usize>(), length)
}

/// Packs at the bolts used to be planned on what the full-length ones had left of the shelf.
#[test]
fn packs_at_bolts_and_full_length_packs_share_one_short_shelf_as_well_as_can_be() {
    let (mut served, mut refused, mut contested) = (0, 0, 0);
    for seed in 0..400 {
        let mut rng = Pcg64Mcg::seed_from_u64(seed);
        let shims = [50, 100, 150, 250, 400];
        let mut stock = [0_u16; 5];
        (0..rng.random_range(2..=6)).for_each(|_| stock[rng.random_range(0..5)] += 1);
        let shelf: Vec<(i64, u16)> = shims.into_iter().zip(stock).collect();
        let shelf = self::shelf(&shelf);
        let step = um(rng.random_range(1..=5) * 50);
        let base = rng.random_range(350..700_i64);
        let at_bolts = [0, 1].map(|place| {
            let mut seat = random_seat(&mut rng);
            seat.goals.truncate(1);
            seat.goals[0].gap = um(base + place * rng.random_range(0..=300));
            seat.pack.truncate(1);
            seat.closes = 1.0;
            Seat { step: Some(step), ..seat }
        });
        let full = (0..rng.random_range(0..=2)).map(|_| um(shims[rng.random_range(0..4)]));
        let tapered = Bed { full: full.collect(), seats: at_bolts.to_vec() };
        let beds = [tapered, Bed::from(random_seat(&mut rng))];
        let best = by_trying_beds(&beds, &shelf);
        match plan_beds(&beds, &shelf) {
            Ok(planned) => {
                assert!(planned.proven, "seed {seed}");
                assert_eq!(Some(worth_of_beds(&beds, &planned.beds)), best, "seed {seed}");
                let taken = planned.beds.iter().flat_map(|bed| &bed.plans);
                let mut taken: Vec<Length> = taken.flat_map(|it| it.put_in.clone()).collect();
                for item in &shelf {
                    let count = usize::from(item.count);
                    assert!(taken.iter().filter(|it| **it == item.thickness).count() <= count);
                    taken.retain(|it| *it != item.thickness);
                }
                assert_eq!(taken, [], "seed {seed}: nothing that is not on the shelf");
                served += 1;
                let alone = beds.each_ref().map(|bed| {
                    let alone = plan_beds(std::slice::from_ref(bed), &shelf).unwrap();
                    alone.beds[0].clone()
                });
                contested += usize::from(worth_of_beds(&beds, &alone) < best.unwrap());
            }
            Err(why) => {
                assert_eq!(best, None, "seed {seed}: {why:?}");
                refused += 1;
            }
        }
    }
    let counts = (served, refused, contested);
    assert!(80 < served && 80 < refused && 10 < contested, "{counts:?}");
}

#[test]
fn blades_that_want_the_same_shims_share_them_as_well_as_can_be() {
    let shelf = shelf(&[(500, 1), (250, 2), (300, 2)]);
    let seats = [seat(&[900], &[]), seat(&[880], &[])];
    let shared = plan_shared(&seats, &shelf).unwrap();
    let mut packs: Vec<&[Length]> = shared.plans.iter().map(|it| it.put_in.as_slice()).collect();
    packs.sort();
    assert_eq!(packs, [&[um(250), um(250)][..], &[um(500)][..]], "no 300s: they close less well");
    let alone = [seats.clone(), [seat(&[900], &[]), seat(&[905], &[])]].concat();
    assert_eq!(plan_shared(&alone, &shelf), Err(Unshared::Together { proven: true }));
}

#[test]
fn packs_that_differ_from_bolt_to_bolt_cure_a_taper_as_far_as_the_step_allows() {
    let shelf = shelf(&[(100, 9), (250, 9), (500, 9)]);
    let on_a_blade = |step: i64| {
        let step = Some(um(step));
        let rules = PackRules { most_shims: 4, thickest: um(3_000), step };
        [&[900, 900][..], &[650], &[400]].map(|gaps| Seat { rules, step, ..seat(gaps, &[]) })
    };
    let alone = |full: &[Length], seats: &[Seat]| -> Result<BedPlan, Unshared> {
        let bed = Bed { full: full.to_vec(), seats: seats.to_vec() };
        let planned = plan_beds(&[bed], &shelf)?;
        assert!(planned.proven);
        Ok(planned.beds[0].clone())
    };
    let planned = alone(&[], &on_a_blade(250)).unwrap();
    let packs: Vec<&[Length]> = planned.plans.iter().map(|it| it.put_in.as_slice()).collect();
    assert_eq!(packs, [&[um(500)][..], &[um(250)], &[]]);
    let apart = Err(Unshared::Steps { first: 0, last: 2 });
    assert_eq!(alone(&[], &on_a_blade(100)), apart, "0.50 apart over two joints");
    // Too tight at one end: what stands behind the whole blade comes out and goes in elsewhere.
    let tight = [&[400][..], &[150]].map(|gaps| Seat { step: Some(um(250)), ..seat(gaps, &[]) });
    let planned = alone(&[um(250)], &tight).unwrap();
    assert_eq!(planned.take_out, [um(250)]);
    let packs: Vec<&[Length]> = planned.plans.iter().map(|it| it.put_in.as_slice()).collect();
    assert_eq!(packs, [&[um(250)][..], &[]]);
}

#[test]
fn a_refusal_names_what_stands_in_the_way() {
    let stock = shelf(&[(500, 9)]);
    #[track_caller]
    fn check(seat: &Seat, shelf: &[ShelfItem], expected: Shortfall) {
        assert_eq!(plan(seat, shelf), Err(expected));
    }
    let tapered = Shortfall::Tapered { wide: 1, tight: 0, by: um(310) };
    check(&seat(&[900, 1_210, 1_000], &[]), &stock, tapered);
    let needed = um(3_300);
    let full = Shortfall::PackFull { needed, allowed: um(3_000) };
    check(&seat(&[900], &[2_900]), &stock, full);
    check(&seat(&[100], &[]), &stock, Shortfall::PackEmpty);
    let cannot = |above| Shortfall::ShelfCannot {
        wanted: um(200),
        least: um(100),
        most: um(300),
        below: Some(um(0)),
        above,
    };
    check(&seat(&[600], &[]), &stock, cannot(Some(um(500))));
    check(&seat(&[600], &[]), &[], cannot(None));
    check(&seat(&[], &[]), &stock, Shortfall::NothingToGoBy);
}

const PROBLEM: &str = r#"(
    format: 1,
    shelf: [(thickness_mm: 0.1, count: 10), (thickness_mm: 0.25, count: 4), (thickness_mm: 0.5, count: 2)],
    blades: [(
        blade: "lower secondary blade", bolts: (1, 4), face_angle_deg: 0.0,
        most_shims: 6, thickest_mm: 3.0, pack_mm: [0.25, 0.5],
        set_min_mm: 0.3, set_max_mm: 0.5,
        stations: [(station: "S1", gap_mm: 1.1), (station: "S4", gap_mm: FAR)],
    )],
)"#;

#[expect(clippy::disallowed_methods, reason = "a file as somebody wrote it by hand")]
fn ask(text: &str, args: &[&str]) -> crate::cli::Told {
    let home = TempDir::new().unwrap();
    let file = home.path().join("problem.ron");
    fs::write(&file, text).unwrap();
    let mut all = vec!["pack", file.to_str().unwrap()];
    all.extend(args);
    told(home.path(), &all)
}

#[test]
fn a_problem_from_a_file_is_solved_and_proven() {
    let answer = json(&ask(&PROBLEM.replace("FAR", "1.2"), &["--json"]));
    assert_eq!(answer["packs"][0]["shims_mm"], serde_json::json!([0.5, 0.5, 0.25, 0.25]));
    assert_eq!(answer["packs"][0]["put_in_mm"], serde_json::json!([0.5, 0.25]));
    assert_eq!(answer["after_mm"], serde_json::json!([0.35, 0.45]));
    assert_eq!((&answer["worst_mm"], &answer["shims"]), (&0.05.into(), &2.into()));
    assert_eq!((&answer["proven"], &answer["reason"]), (&true.into(), &().into()));
    let refused = json(&ask(&PROBLEM.replace("FAR", "1.41"), &["--json"]));
    let reason = refused["reason"].as_str().unwrap();
    assert!(reason.contains("brings S4 and S1 both into range: they differ by 0.31"), "{reason}");
    assert_eq!((&refused["proven"], &refused["worst_mm"]), (&true.into(), &().into()));
}

#[test]
fn a_problem_that_contradicts_itself_is_named_with_a_next_step() {
    #[track_caller]
    fn check(text: &str, words: &str) {
        let told = ask(text, &[]);
        assert_eq!(told.code, 1, "{}", told.out);
        assert!(told.err.contains(words), "{}", told.err);
    }
    let good = PROBLEM.replace("FAR", "1.2");
    check(&good.replace("set_min_mm: 0.3", "set_min_mm: 0.6"), "check set range and hot gap");
    check(&good.replace("bolts: (1, 4)", "bolts: (1, 0)"), "number them from 1 at the pivot");
    check(&good.replace("face_angle_deg: 0.0", "face_angle_deg: 80.0"), "degrees from 0 to 60");
    check(&good.replace("most_shims", "most_shim"), "problem.ron:6:9: “most_shim” is no field");
    check("(format: 1, shelf: [], blades: [])", "write at least one under blades");
    let shelf = good.find("shelf: [").unwrap();
    let end = good.find("],\n").unwrap();
    let bare = format!("{}shelf: [{}", &good[..shelf], &good[end..]);
    let told = ask(&bare, &[]);
    assert!(told.out.contains("The shelf has no shims"), "{} {}", told.out, told.err);
    #[track_caller]
    fn says(text: &str, why: &str, next: &str) {
        let (told, machine) = (ask(text, &[]), json(&ask(text, &["--json"])));
        assert!(told.out.contains(why) && told.out.contains(next), "{}", told.out);
        let reason = machine["reason"].as_str().unwrap();
        assert_eq!(told.out.trim(), reason, "the same words for people and for programs");
    }
    says(&bare, "The shelf has no shims", "Order shims that make it.");
    let full = good.replace("pack_mm: [0.25, 0.5]", "pack_mm: [1.5, 1.5, 0.5]");
    says(&full, "is allowed.", "Turn the blade to a fresh edge or fit a new one.");
    let tight = PROBLEM.replace("gap_mm: 1.1", "gap_mm: 0.05").replace("FAR", "0.05");
    let tight = tight.replace("pack_mm: [0.25, 0.5]", "pack_mm: []");
    says(&tight, "no full-length shim", "Find out why the gap is too tight");
    says(&PROBLEM.replace("FAR", "1.41"), "they differ by 0.31", "shim it bolt by bolt");
    let seat = |bolts: &str, gap: &str| {
        format!(
            r#"(blade: "guide blade", bolts: {bolts}, most_shims: 4, thickest_mm: 2.0,
                step_mm: 0.1, set_min_mm: 0.3, set_max_mm: 0.5,
                stations: [(station: "G{}", gap_mm: {gap})])"#,
            &bolts[1..2]
        )
    };
    let shelf = "shelf: [(thickness_mm: 0.5, count: 1), (thickness_mm: 0.25, count: 1)]";
    let two = |far: &str| {
        let seats = [seat("(1, 2)", "0.9"), seat("(3, 4)", far)].join(", ");
        format!("(format: 1, {shelf}, blades: [{seats}])")
    };
    says(&two("0.65"), "differ by at most 0.10", "ask whether a larger step is allowed");
    let apart = two("0.9").replace("step_mm: 0.1,", "");
    says(&apart, "this shelf has not enough for all of them: every choice was tried.", "Order");
}
