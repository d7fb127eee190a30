//! The lessons that ship, on the gaps of the sample yard: the picture changes from step to step, and
//! what an answer claims is true of the shift behind it.

use gapwright::{
    domain::{
        decide::{cold_gaps, decide},
        heat::{
            AtContact, BARE_C, Colour, EventKind, Lesson, Model, Picture, Sample, Shift,
            force_along, stock,
        },
        machine::{LineId, StationId},
        yard::Yard,
    },
    sample, store,
};

fn lessons() -> Vec<Lesson> {
    sample::lessons().map(|(path, text)| store::lesson(path, text).unwrap()).collect()
}

/// A step's shift, and what is seen at its place and hour.
struct Look {
    model: Model,
    shift: Shift,
    now: Sample,
    contact: usize,
    hour: f64,
}

impl Look {
    fn at(yard: &Yard, lesson: &Lesson, step: usize) -> Self {
        let machine = yard.machines.iter().find(|it| it.shear.id.as_str() == "heron").unwrap();
        let setting = lesson.setting_at(step);
        let work = setting.work(machine.shear.thermal.as_ref().unwrap());
        let mut gaps = cold_gaps(&machine.shear, &decide(machine, &yard.settings)).gaps;
        setting.move_gaps(&mut gaps, lesson.station);
        let model = Model::of(&machine.shear, &gaps, &work, None).unwrap();
        let shift = model.run(0.05).unwrap();
        let hour = lesson.steps[step].at_h;
        let off = |it: &&Sample| (it.hour - hour).abs();
        let now = shift.samples.iter().min_by(|a, b| off(a).total_cmp(&off(b))).unwrap().clone();
        let contact = model.contact(lesson.station_at(step)).unwrap();
        Self { model, shift, now, contact, hour }
    }

    fn face_c(&self) -> f64 {
        self.now.contacts[self.contact].face_c
    }

    fn gap_mm(&self) -> f64 {
        self.model.hot_gap_mm(&self.now, self.contact)
    }

    fn cold_mm(&self) -> f64 {
        self.model.network.contacts[self.contact].cold_gap_mm
    }

    fn force_n(&self) -> f64 {
        self.now.contacts[self.contact].force_n
    }

    /// Of the moving part, which is the tip at G.
    fn part_c(&self) -> f64 {
        self.now.parts_c[self.model.network.contacts[self.contact].moving]
    }

    /// How far a cut lifts the face above its part, in K.
    fn jump_k(&self) -> f64 {
        self.face_c() - self.part_c()
    }

    /// When something happens at the place.
    fn first(&self, kind: EventKind) -> Option<f64> {
        let station = self.model.network.contacts[self.contact].station;
        self.shift
            .events
            .iter()
            .find(|it| it.station == station && it.kind == kind)
            .map(|it| it.hour)
    }
}

fn looks(nth: usize) -> Vec<Look> {
    let yard = store::open(&crate::cli::sample()).unwrap().yard;
    let lesson = &lessons()[nth];
    (0..lesson.steps.len()).map(|step| Look::at(&yard, lesson, step)).collect()
}

/// From each step to the next the face changes by 15 K, or the gap by 0.1 mm; the clock runs
/// backwards only into another shift; and no face leaves what temper colours can teach.
#[test]
fn every_step_shows_something_else() {
    let lessons = lessons();
    for (nth, lesson) in lessons.iter().enumerate() {
        let looks = looks(nth);
        for (step, (one, two)) in looks.iter().zip(looks.iter().skip(1)).enumerate() {
            let title = format!("{}, step {}", lesson.title, step + 2);
            if lesson.picture == Picture::Heat {
                let face = (two.face_c() - one.face_c()).abs();
                let gap = (two.gap_mm() - one.gap_mm()).abs();
                assert!(15.0 <= face || 0.1 <= gap, "{title}: {face:.1} K, {gap:.3} mm");
            } else {
                assert_ne!(lesson.station_at(step), lesson.station_at(step + 1), "{title}");
            }
            if lesson.setting_at(step) == lesson.setting_at(step + 1) {
                assert!(one.hour <= two.hour, "{title}: the clock jumps back");
            }
        }
        for look in &looks {
            let hottest = look.shift.samples.iter().flat_map(|it| &it.contacts);
            let hottest = hottest.map(AtContact::hottest_c).fold(f64::MIN, f64::max);
            assert!(hottest < 500.0, "{}: {hottest:.0} °C", lesson.title);
        }
    }
}

#[test]
fn the_right_gap_stays_bare_and_open() {
    let looks = looks(0);
    let [_, one, end] = &looks[..] else { panic!("three steps") };
    let parts = &one.model.network.parts;
    let mut warmest: Vec<usize> = (0..parts.len()).collect();
    warmest.sort_by(|a, b| one.now.parts_c[*b].total_cmp(&one.now.parts_c[*a]));
    let mut most: Vec<&str> = warmest[..2].iter().map(|it| parts[*it].name.as_str()).collect();
    most.sort_unstable();
    assert_eq!(most, ["guide blade", "piercing tip"], "the parts that warm most");
    assert!(end.face_c() < BARE_C && 0.5 * end.cold_mm() < end.gap_mm());
    for line in [LineId::G, LineId::J] {
        let thrust = end.model.network.contacts.iter().filter(|it| it.station.line == line);
        assert!(thrust.map(|it| it.thrust_n).sum::<f64>() > 0.0, "{line} shares the thrust");
    }
}

#[test]
fn the_tight_gap_turns_blue_and_the_set_range_does_not() {
    let looks = looks(1);
    let [_, warm, touch, blue, end] = &looks[..] else { panic!("five steps") };
    assert!(0.0 < warm.gap_mm() && touch.gap_mm() <= 0.0);
    assert!(
        touch.part_c() > 60.0 + touch.model.jaws_c(&touch.now).1.unwrap(),
        "hotter than the jaw"
    );
    let when = blue.first(EventKind::Coloured(Colour::Blue)).unwrap();
    assert!(
        when <= blue.hour && blue.face_c() < 340.0,
        "{when}: in the band that the answer tells"
    );
    let yard = store::open(&crate::cli::sample()).unwrap().yard;
    let mut lesson = lessons().remove(1);
    for set in [0.35, 0.45] {
        lesson.setting.gap_mm = Some(set);
        let wide = Look::at(&yard, &lesson, 4);
        assert!(wide.face_c() + 50.0 < end.face_c(), "{set}: {}", wide.face_c());
    }
    let wide = Look::at(&yard, &lesson, 4);
    assert!(wide.face_c() < BARE_C, "shims out behind the guide blade: {}", wide.face_c());
}

#[test]
fn frost_is_a_matter_of_the_skin() {
    let looks = looks(2);
    let [before, thick, thin, middle] = &looks[..] else { panic!("four steps") };
    assert!((before.gap_mm() - before.cold_mm()).abs() < 0.005, "all parts are equally cold");
    assert!(40.0 < thick.jump_k() && thick.part_c() < -10.0, "a hot skin on frozen steel");
    assert!(thin.force_n() <= 0.0 && thin.jump_k().abs() < 1.0 && thin.part_c() < -15.0);
    assert!(middle.jump_k() < 0.8 * thick.jump_k() && 0.0 < middle.part_c(), "{}", middle.jump_k());
}

#[test]
fn a_wedged_tip_opens_the_blades_until_it_is_cold() {
    let looks = looks(3);
    let [room, wedged, open, cold] = &looks[..] else { panic!("four steps") };
    assert!(room.gap_mm() <= 0.0, "towards the guide blade nothing is left");
    let shear = &store::open(&crate::cli::sample()).unwrap().yard.machines[0].shear.clone();
    let s4 = shear.station(StationId { line: LineId::S, number: 4 }).unwrap().from_pivot;
    let p1 = shear.station(StationId { line: LineId::P, number: 1 }).unwrap().from_pivot;
    let spread = |look: &Look, at| look.model.spread_mm(&look.now, at);
    assert!(spread(room, s4) < 0.01 && 0.1 < spread(wedged, s4));
    assert!(spread(wedged, p1) < 0.2 * spread(wedged, s4), "most at the tip");
    assert!(open.cold_mm() + 0.1 < open.gap_mm(), "the secondary blades have opened");
    assert!((cold.gap_mm() - cold.cold_mm()).abs() < 0.01, "elastic: closed again by morning");
}

#[test]
fn a_fresh_edge_wears_in_cold_or_hot() {
    let looks = looks(4);
    let [old, measure, full, pause] = &looks[..] else { panic!("four steps") };
    let touch = old.first(EventKind::Touching).unwrap();
    assert!(touch < 0.5 && old.gap_mm() < 0.0 && Colour::Straw.starts_c() <= old.face_c());
    let shear = &store::open(&crate::cli::sample()).unwrap().yard.machines[0].shear.clone();
    let set = shear.line(LineId::G).unwrap().limits.set();
    assert!(set.min.mm() <= measure.gap_mm() && measure.gap_mm() <= set.max.mm());
    assert!(0.0 < full.force_n() && 80.0 < full.face_c(), "every cut presses the faces");
    let light = pause.shift.samples.iter().filter(|it| it.hour <= pause.hour);
    let light = light.map(|it| it.contacts[pause.contact]);
    assert!({ light }.all(|it| it.force_n <= 0.0 && it.face_c < 25.0), "it wears in cold");
    assert!((pause.gap_mm() - pause.cold_mm()).abs() < 0.005, "as measured before");
}

#[test]
fn thick_stock_goes_in_the_throat_and_opening_is_weaker() {
    let lesson = &lessons()[5];
    let shear = &store::open(&crate::cli::sample()).unwrap().yard.machines[0].shear.clone();
    let thermal = shear.thermal.as_ref().unwrap();
    let (jaw, steel) = (force_along(thermal), stock(thermal));
    let at = |step| shear.station(lesson.station_at(step)).unwrap().from_pivot;
    let plate = lesson.setting_at(0).plate_mm.unwrap();
    assert!(plate < jaw.thickest_plate_mm(at(0), &steel), "it goes near the pivot");
    assert!(jaw.thickest_plate_mm(at(1), &steel) < plate, "and stalls at the tip");
    let twice = jaw.closing_n(at(0)) * at(0).mm() / (jaw.closing_n(at(1)) * at(1).mm());
    assert!((twice - 1.0).abs() < 1e-9, "half the distance, twice the force");
    assert!(jaw.opening_n(at(2)) < 0.6 * jaw.closing_n(at(2)));
}

#[test]
fn chatter_begins_where_the_gap_goes_first() {
    let looks = looks(6);
    let [early, jam, pause] = &looks[..] else { panic!("three steps") };
    let line = |event: EventKind| {
        jam.shift.events.iter().find(|it| it.kind == event).map(|it| it.station.line)
    };
    assert_eq!(line(EventKind::Touching), Some(LineId::G), "tip and guide blade lose it first");
    assert_eq!(line(EventKind::Coloured(Colour::Straw)), Some(LineId::G), "and warm first");
    assert!(0.0 < early.gap_mm() && jam.gap_mm() < 0.0);
    assert!(0.0 < pause.gap_mm(), "what cools opens again");
    let again = pause.shift.samples.iter().filter(|it| pause.hour + 0.05 < it.hour);
    let least = again.map(|it| it.contacts[pause.contact].gap_mm).fold(f64::MAX, f64::min);
    assert!(least < 0.0, "what warms closes again");
}
