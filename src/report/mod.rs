//! The job sheet on paper.
//!
//! Knows paper, typefaces and where a line breaks. Decides nothing: every word, number and place
//! comes from [`brief::sheet`](crate::brief::sheet), and the same sheet always makes the same
//! bytes. Touches no disk: it returns bytes.
//!
//! - [`faces`]: the typefaces, and how wide words are in them;
//! - [`layout`]: blocks on pages;
//! - [`jaw`]: the mouth view;
//! - [`job`]: one line of blades;
//! - [`plan`]: the plan of the next shutdown;
//! - [`mod@pdf`]: placed items to bytes.

pub mod faces;
mod ink;
mod jaw;
mod job;
mod layout;
mod pdf;
mod plan;
mod sheet;

pub use ink::{Item, Shade, Weight};
pub use layout::Paper;
pub use pdf::ReportError;

use crate::{brief::sheet::Sheet, language::tell};

/// The sheet as a PDF.
///
/// # Errors
///
/// [`ReportError`] if an embedded typeface cannot be used.
pub fn pdf(sheet: &Sheet, paper: Paper) -> Result<Vec<u8>, ReportError> {
    let pages = sheet::pages(sheet, paper)?;
    pdf::bytes(&pages, paper, &tell!("Job sheet · {machine}", machine = sheet.head.machine))
}

/// The sheet as placed items, page by page, for a look at where things stand.
///
/// # Errors
///
/// As [`pdf()`].
pub fn pages(sheet: &Sheet, paper: Paper) -> Result<Vec<Vec<Item>>, ReportError> {
    sheet::pages(sheet, paper)
}
