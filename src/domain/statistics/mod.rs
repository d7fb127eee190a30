//! The distributions that uncertainties are reckoned with.
//!
//! Knows the normal distribution, Student's t, χ² and F, and counts: shares, densities, quantiles. Works on plain
//! floats and knows nothing about gaps; every door checks its arguments and answers `None` where
//! there is no answer, never NaN.

mod counts;
mod normal;
mod ratios;
mod student;

pub use counts::Counts;
pub use normal::{normal_cdf, normal_density, normal_quantile, shares_below};
pub use ratios::{chi2_beyond, chi2_quantile, f_beyond};
pub use student::{t_cdf, t_quantile, t_shares_below, t_slope};
