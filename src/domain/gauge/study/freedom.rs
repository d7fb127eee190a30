//! How well a study knows the scatter it found.

use crate::domain::{
    gauge::{
        Budget, Input,
        study::{Model, Term},
    },
    quantity::{float, whole},
};

impl Model {
    /// The scatter that readings may count with, in mm; `None` if none was seen: where all readings
    /// agree, the leaves hide it.
    pub fn scatter_mm(&self) -> Option<f64> {
        self.components.grr.filter(|grr| 0.0 < *grr)
    }

    /// Degrees of freedom of GRR, truncated; `None` where GRR is not told or nothing scatters.
    ///
    /// Each part of GRR counts with the degrees of freedom of its row, by Welch and Satterthwaite
    /// (GUM G.2b). Two or three people say little about people, so GRR is known far less well than
    /// repeatability. *Stops being valid* where a part is small beside the row it was told from.
    pub fn grr_dof(&self) -> Option<u32> {
        let found = &self.components;
        let of = |sigma: Option<f64>, terms: &[Term]| {
            let row = terms.iter().find_map(|term| self.source(*term));
            let dof = row.map(|row| float(row.dof));
            let u = sigma.filter(|_| dof.is_some()).unwrap_or(0.0);
            Input { name: (), value: 0.0, u, dof, sensitivity: 1.0, group: None }
        };
        let inputs = [
            of(found.ev.or(self.unparted), &[Term::Repeatability, Term::Rest]),
            of(found.interaction, &[Term::Interaction]),
            of(found.av, &[Term::Person]),
        ];
        found.grr?;
        let dof = Budget::new(&inputs, &[]).dof()?;
        whole(dof.floor()).and_then(|dof| u32::try_from(dof).ok()).filter(|dof| 0 < *dof)
    }
}
