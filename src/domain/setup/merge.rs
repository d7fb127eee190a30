//! Two descriptions that began as one, brought together: what this window changed and what another
//! one has saved meanwhile.
//!
//! Knows fields by name, and what has none as a whole. Does not know who is right: where both
//! changed the same, the one it is asked of stands.

use crate::domain::{
    quantity::LengthUnit,
    setup::{Draft, Field, draft::EXACT},
    yard::Settings,
};
use std::collections::BTreeMap;

/// A field that others have changed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Elsewhere {
    /// Which.
    pub field: Field,
    /// What they have; `None` if it is not there any more.
    pub theirs: Option<String>,
    /// What stands here; `None` if it is not there.
    pub ours: Option<String>,
}

impl Draft {
    /// This draft with what `theirs` has changed since both were `base`.
    ///
    /// The shelf and the leaf sets are one thing each, since their rows have no names.
    #[must_use]
    pub fn with_theirs(&self, base: &Self, theirs: &Self) -> Self {
        let was = base.texts(EXACT);
        let framed = [self, theirs].map(|it| it.framed(base, &was));
        let [our_yard, their_yard] = framed.each_ref().map(|it| it.settings == base.settings);
        let [our_shape, their_shape] =
            framed.map(|it| it.shear == base.shear && it.limits == base.limits);
        // Whatever has no field of its own is theirs, unless it was changed here.
        let of = |as_it_was: bool| if as_it_was { theirs } else { self };
        let shelf = of(self.settings.shelf == base.settings.shelf).settings.shelf.clone();
        let shape = of(our_shape);
        let mut all = Self {
            settings: Settings { shelf, ..of(our_yard).settings.clone() },
            sets: of(self.sets == base.sets).sets.clone(),
            shear: shape.shear.clone(),
            limits: shape.limits.clone(),
        };
        // Their numbers go into our shape only where that is still the one they had.
        let fits = |field: &Field| match field {
            Field::Yard(_) => our_yard || their_yard,
            _ => our_shape || their_shape,
        };
        for (field, text) in theirs.changed_since(&was).filter(|(field, _)| fits(field)) {
            all.put_exact(&field, &text);
        }
        for (field, text) in self.changed_since(&was) {
            all.put_exact(&field, &text);
        }
        all
    }

    /// The fields that `theirs` has changed since `base`, with what stands here, as somebody reads
    /// them who reads lengths in `unit`.
    pub fn elsewhere(&self, base: &Self, theirs: &Self, unit: LengthUnit) -> Vec<Elsewhere> {
        let [was, now] = [base, theirs].map(|it| it.texts(EXACT));
        let [ours, read] = [self, theirs].map(|it| it.texts(unit));
        let fields = was.keys().chain(now.keys().filter(|it| !was.contains_key(it)));
        let changed = fields.filter(|it| was.get(it) != now.get(it));
        changed
            .map(|field| Elsewhere {
                field: field.clone(),
                theirs: read.get(field).cloned(),
                ours: ours.get(field).cloned(),
            })
            .collect()
    }

    /// The same with every field and every row as it `was` in `base`: what still differs has no field.
    fn framed(&self, base: &Self, was: &BTreeMap<Field, String>) -> Self {
        let mut frame = self.clone();
        frame.settings.shelf.clone_from(&base.settings.shelf);
        frame.settings.leaf_sets.clone_from(&base.settings.leaf_sets);
        for (field, text) in was {
            frame.put_exact(field, text);
        }
        frame
    }

    /// Fields with a name of their own that do not hold what they did.
    fn changed_since(
        &self,
        was: &BTreeMap<Field, String>,
    ) -> impl Iterator<Item = (Field, String)> {
        let is_row = |it: &Field| matches!(it, Field::Shelf(..) | Field::Set(..) | Field::Leaf(..));
        let now = self.texts(EXACT).into_iter();
        now.filter(move |(field, text)| !is_row(field) && was.get(field) != Some(text))
    }
}

#[test]
fn what_two_changed_comes_together_and_nothing_of_either_is_lost() {
    use crate::domain::{
        machine::{LineId, ShearId, bare},
        quantity::Length,
        setup::{Change, OfLimits, OfMachine, OfYard},
        yard::ShelfItem,
    };
    let known = bare::Known { stations: [(LineId::P, 3)].into(), ..Default::default() };
    let shear = bare::bare(ShearId::new("crane").unwrap(), &known);
    let mut settings = Settings::usual("Quay".to_owned());
    settings.shelf.push(ShelfItem { thickness: Length::from_um(100), count: 4 });
    let base = Draft::of(&settings, shear.as_ref());
    let with = |changes: &[Change]| {
        let mut draft = base.clone();
        for change in changes {
            draft.change(change, EXACT).unwrap();
        }
        draft
    };
    let put = |field: Field, text: &str| Change::Put(field, text.to_owned());
    let (reach, mouth) = (Field::Machine(OfMachine::Reach), Field::Machine(OfMachine::Mouth));
    let limit = Field::Limit(LineId::P, OfLimits::WorkingMax);
    let look = Field::Yard(OfYard::Look);
    let ours = with(&[put(reach.clone(), "1400"), put(limit.clone(), "2"), Change::AddShim]);
    let mut theirs =
        with(&[put(mouth.clone(), "180"), put(limit.clone(), "3"), put(look.clone(), "6")]);
    theirs.settings.own_findings.push("rust".to_owned());
    let both = ours.with_theirs(&base, &theirs);
    let texts = |of: &Draft| [&reach, &mouth, &limit, &look].map(|it| of.text(it, EXACT).unwrap());
    assert_eq!(texts(&both), ["1400", "180", "2", "6"]);
    assert_eq!((both.settings.shelf.len(), both.settings.own_findings.len()), (2, 1));
    let said = ours.elsewhere(&base, &theirs, EXACT);
    let fields: Vec<&Field> = said.iter().map(|it| &it.field).collect();
    assert_eq!(fields, [&look, &mouth, &limit]);
    assert_eq!(said[2].theirs.as_deref(), Some("3"));
    assert_eq!(said[2].ours.as_deref(), Some("2"));
    // Another shape on one side takes the numbers of the other; on both, ours stands whole.
    let longer = with(&[Change::AddStation(LineId::P), put(mouth.clone(), "190")]);
    let stations = |of: &Draft| of.shear.as_ref().unwrap().lines[0].stations.len();
    for (one, other) in [(&longer, &ours), (&ours, &longer)] {
        let both = one.with_theirs(&base, other);
        assert_eq!((stations(&both), texts(&both)[0].as_str()), (4, "1400"));
        assert_eq!(texts(&both)[1], "190");
    }
    let shorter = with(&[Change::DropStation(LineId::P), put(reach.clone(), "1500")]);
    let both = longer.with_theirs(&base, &shorter);
    assert_eq!((stations(&both), &texts(&both)[0]), (4, &texts(&base)[0]));
    // One that changed nothing has what the other has.
    assert_eq!(base.with_theirs(&base, &theirs), theirs);
    assert_eq!(ours.with_theirs(&base, &base), ours);
}
