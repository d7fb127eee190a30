//! Lengths, temperatures, hours and torques as whole numbers of a small unit.
//!
//! Decisions compare these exactly. Statistics read them through the `mm`, `c` and `h` doors as
//! floats and come back through a constructor that rounds to the nearest whole unit. Knows units
//! and typed text; does not know what is being measured, nor how a number is shown to people
//! (`brief::numbers` rounds for the eye).

mod decimal;
mod hours;
mod length;
mod temperature;
mod torque;

pub(crate) use decimal::whole;
pub use decimal::{NumberError, float};
pub use hours::Hours;
pub use length::{Length, LengthUnit, less};
pub use temperature::{Temperature, TemperatureRise};
pub use torque::Torque;
