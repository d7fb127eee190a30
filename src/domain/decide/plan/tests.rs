//! The plan of one line against trying everything, and promises that hold for every line.

use crate::domain::decide::plan::course::{Calendar, Course, Freedom, Solved, Step, solve};

/// Chance enough for tests: the same numbers each time.
struct Dice(u64);

impl Dice {
    fn below(&mut self, sides: u64) -> usize {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        usize::try_from((self.0 >> 33) % sides).unwrap()
    }

    fn hours(&mut self) -> f64 {
        f64::from(u32::try_from(self.below(40)).unwrap()) / 8.0
    }
}

fn any_course(dice: &mut Dice, looks: usize) -> Course {
    let target = dice.below(3);
    let limit = target + 1 + dice.below(4);
    let weights: Vec<f64> = (0..=dice.below(3)).map(|_| 0.1 + dice.hours()).collect();
    let all: f64 = weights.iter().sum();
    let delivery = dice.hours();
    Course {
        gap: dice.below(u64::try_from(limit).unwrap() + 1),
        limit,
        target,
        room: dice.below(7),
        growth: weights.iter().map(|it| it / all).collect(),
        shim_h: (dice.below(5) != 0).then(|| dice.hours()),
        fresh_h: dice.hours(),
        dull: (dice.below(3) == 0).then(|| dice.below(4)),
        wait_h: (0..looks).map(|_| delivery).collect(),
    }
}

fn any_calendar(dice: &mut Dice, looks: usize) -> Calendar {
    let set_up_h = dice.hours();
    Calendar {
        shutdown: (0..looks).map(|_| dice.below(3) == 0).collect(),
        set_up_h,
        unplanned_h: set_up_h + dice.hours(),
    }
}

/// Gap, room left (`None` behind a fresh edge, where it is plenty).
type Now = (usize, Option<usize>);

/// Everything that can be done to a line at a look: what it costs, what its stop costs, and how the
/// line goes on.
fn choices(course: &Course, calendar: &Calendar, place: usize, now: Now) -> Vec<(f64, f64, Now)> {
    let (gap, room) = now;
    let dull = room.is_some() && course.dull.is_some_and(|it| it <= place);
    let beyond = course.limit <= gap;
    let stop = match (beyond && 0 < place, calendar.shutdown[place]) {
        (true, _) => calendar.unplanned_h,
        (false, true) => 0.0,
        (false, false) => calendar.set_up_h,
    };
    let mut all = Vec::new();
    if !beyond && !dull {
        all.push((0.0, 0.0, now));
    }
    if let (Some(hours), true, false) = (course.shim_h, course.target < gap, dull) {
        match room {
            None => all.push((hours, stop, (course.target, None))),
            Some(room) if gap - course.target <= room => {
                all.push((hours, stop, (course.target, Some(room - (gap - course.target)))));
            }
            Some(_) => {}
        }
    }
    all.push((course.fresh_h + course.wait_h[place], stop, (course.target, None)));
    all
}

/// The least expected loss of two lines together: every choice in every outcome, one stop for both.
fn both(lines: [&Course; 2], calendar: &Calendar, place: usize, now: [Now; 2]) -> f64 {
    if place == calendar.shutdown.len() {
        return 0.0;
    }
    let mut best = f64::INFINITY;
    for one in choices(lines[0], calendar, place, now[0]) {
        for two in choices(lines[1], calendar, place, now[1]) {
            let mut loss = one.0 + two.0 + one.1.max(two.1);
            for (by, p) in lines[0].growth.iter().enumerate() {
                for (other, q) in lines[1].growth.iter().enumerate() {
                    let next = [(one.2.0 + by, one.2.1), (two.2.0 + other, two.2.1)];
                    loss += p * q * both(lines, calendar, place + 1, next);
                }
            }
            best = best.min(loss);
        }
    }
    best
}

/// A line on which nothing ever happens, so that two lines are one.
fn idle(looks: usize) -> Course {
    Course {
        gap: 0,
        limit: 9,
        target: 1,
        room: 0,
        growth: vec![1.0],
        shim_h: None,
        fresh_h: 9.0,
        dull: None,
        wait_h: vec![0.0; looks],
    }
}

fn start(course: &Course) -> Now {
    (course.gap, Some(course.room))
}

fn best_h(solved: &Solved, calendar: &Calendar) -> f64 {
    let stop = if calendar.shutdown[0] { 0.0 } else { calendar.set_up_h };
    solved.leave_h.unwrap_or(f64::INFINITY).min(solved.work_h + stop)
}

fn alone(course: &Course, calendar: &Calendar) -> f64 {
    best_h(&solve(course, calendar, Freedom::Always), calendar)
}

#[test]
fn one_line_loses_what_trying_everything_in_every_outcome_loses() {
    let mut dice = Dice(1);
    for case in 0..300 {
        let looks = 2 + dice.below(3);
        let (course, calendar) = (any_course(&mut dice, looks), any_calendar(&mut dice, looks));
        let tried = both([&course, &idle(looks)], &calendar, 0, [start(&course), (0, Some(0))]);
        let solved = alone(&course, &calendar);
        assert!((tried - solved).abs() < 1e-9, "{case}: {tried} and {solved}, {course:?}");
    }
}

/// However two lines share their stops, the floor lies under what is lost and the sum above it.
#[test]
fn two_lines_that_share_stops_lose_no_less_than_the_floor_and_no_more_than_the_sum() {
    let mut dice = Dice(2);
    let mut shared = 0;
    for case in 0..120 {
        let looks = 3;
        let lines = [any_course(&mut dice, looks), any_course(&mut dice, looks)];
        let calendar = any_calendar(&mut dice, looks);
        let tried =
            both([&lines[0], &lines[1]], &calendar, 0, [start(&lines[0]), start(&lines[1])]);
        let half = Calendar {
            set_up_h: calendar.set_up_h / 2.0,
            unplanned_h: calendar.unplanned_h / 2.0,
            ..calendar.clone()
        };
        let floor: f64 = lines.iter().map(|line| alone(line, &half)).sum();
        let sum: f64 = lines.iter().map(|line| alone(line, &calendar)).sum();
        assert!(floor <= tried + 1e-9 && tried <= sum + 1e-9, "{case}: {floor} {tried} {sum}");
        shared += usize::from(tried < sum - 1e-9);
    }
    assert!(20 < shared, "stops are worth sharing in {shared} cases");
}

#[test]
fn no_promise_about_cost_is_broken() {
    let mut dice = Dice(3);
    for case in 0..300 {
        let looks = 2 + dice.below(5);
        let (course, calendar) = (any_course(&mut dice, looks), any_calendar(&mut dice, looks));
        let now = alone(&course, &calendar);
        let no_more = |other: f64, what: &str| assert!(now <= other + 1e-9, "{case}: {what}");
        let more = |other: Course| alone(&other, &calendar);
        let mut fewer = calendar.clone();
        fewer.shutdown[dice.below(u64::try_from(looks).unwrap())] = false;
        no_more(alone(&course, &fewer), "a planned shutdown less does not save hours");
        let dear = Calendar { unplanned_h: calendar.unplanned_h + 1.0, ..calendar.clone() };
        no_more(alone(&course, &dear), "a dearer failure does not save hours");
        let mut longer = calendar.clone();
        longer.shutdown.push(false);
        let mut waits = course.wait_h.clone();
        waits.push(waits[0]);
        let course_on = Course { wait_h: waits, ..course.clone() };
        no_more(alone(&course_on, &longer), "what happens later is not paid for twice");
        // A gap that is beyond its limit now has failed already: only what is left counts.
        if course.gap + 1 < course.limit {
            no_more(more(Course { gap: course.gap + 1, ..course.clone() }), "nor a wider gap");
        }
        let tight = Course { room: course.room.saturating_sub(1), ..course.clone() };
        no_more(more(tight), "less room for shims is not worth more");
        let late = Course { wait_h: vec![course.wait_h[0] + 2.0; looks], ..course.clone() };
        no_more(more(late), "a later delivery does not save hours");
        let leave = |freedom| solve(&course, &calendar, freedom).leave_h;
        if let (Some(any), Some(planned), Some(never)) =
            (leave(Freedom::Always), leave(Freedom::AtShutdowns), leave(Freedom::Never))
        {
            assert!(any <= planned + 1e-9 && planned <= never + 1e-9, "{case}");
        }
    }
}

/// Worked by hand: the gap grows a step a look and passes its limit at the third. Shims take an
/// hour, setting up another, failing five. A shutdown at the second look saves the setting up.
#[test]
fn a_planned_shutdown_is_waited_for_if_it_comes_in_time() {
    let course = Course {
        gap: 3,
        limit: 6,
        target: 0,
        room: 40,
        growth: vec![0.0, 1.0],
        shim_h: Some(1.0),
        fresh_h: 3.0,
        dull: None,
        wait_h: vec![0.0; 5],
    };
    let with = |shutdown: [bool; 5]| {
        let calendar = Calendar { shutdown: shutdown.to_vec(), set_up_h: 1.0, unplanned_h: 5.0 };
        let of = |freedom| solve(&course, &calendar, freedom);
        (of(Freedom::Always), of(Freedom::AtShutdowns).leave_h, of(Freedom::Never).leave_h)
    };
    let (best, planned, never) = with([false, false, true, false, false]);
    assert_eq!((best.leave_h, best.work_h), (Some(1.0), 1.0), "without the stop of now");
    assert_eq!((planned, never), (Some(1.0), Some(6.0)));
    assert_eq!(best.on_average, [Step::Leave, Step::Leave, Step::Shim]);
    let (best, planned, never) = with([false, false, false, true, false]);
    assert_eq!((best.leave_h, planned, never), (Some(2.0), Some(6.0), Some(6.0)), "too late");
}
