//! One painted thing per file.
//!
//! Knows egui, the theme and the marks. Refuses to know the domain: every widget takes a plain struct
//! of numbers and ready-made text, paints it into the width it is given, and answers with what was
//! tapped. Everything that can be tapped is at least [`crate::gui::theme::TOUCH`] high, can be
//! reached with Tab, pressed with Space or Enter, and has a role, a name and a value for a screen
//! reader.

mod bolt_strip;
mod bracket_strip;
mod button;
mod caution_tile;
mod choice;
mod edge_glyph;
mod entry;
mod gap_ribbon;
mod hours_bar;
mod job_row;
mod leaf;
mod limit_ruler;
mod line_tabs;
mod mini_ribbon;
mod mouth_view;
mod panel;
mod progress;
mod rail;
mod rich;
mod seen_tile;
mod segmented;
mod shim_stack;
mod slider;
mod sparkline;
mod spread;
mod stepper;
mod study_picture;
mod temper_scale;
mod title_block;
pub(crate) mod touch;
mod verdict_box;

pub use bolt_strip::{StripBolt, bolt_strip};
pub use bracket_strip::BracketStrip;
pub use button::Button;
pub use caution_tile::CautionTile;
pub use choice::big_choice;
pub use edge_glyph::{EdgeGlyph, EdgeState, edge_legend};
pub(crate) use entry::stack_has_keyboard;
pub use entry::{Entry, STACK};
pub use gap_ribbon::{GapRibbon, RibbonLine, RibbonReading, RibbonWords};
pub use hours_bar::{HoursBar, HoursScale};
pub use job_row::{JobColumns, JobRow};
pub use leaf::{Leaf, leaf_grid};
pub use limit_ruler::{Bands, LimitRuler};
pub use line_tabs::{LineTab, line_tabs};
pub use mini_ribbon::{BeforeAfter, MiniRibbon};
pub use mouth_view::{
    Along, Face, HotFace, Jaw, JawPart, MouthEdit, MouthStation, MouthView, MouthWords, Overlay,
    StockBar, Warning,
};
pub use panel::{Panel, divider, heading, scrolls, section};
pub use progress::{ProgressGroup, ProgressStep};
pub use rail::{RailItem, WIDTH as RAIL_WIDTH, rail};
pub use rich::{paragraph, rich_text};
pub use seen_tile::{SeenTile, seen_grid, seen_page};
pub use segmented::{ChipState, segmented, tick_row, toggle_chip};
pub use shim_stack::{Shim, ShimFate, ShimStack, shim_change};
pub(crate) use slider::stepped;
pub use slider::{SLIDER_HEIGHT, Slider};
pub use sparkline::Sparkline;
pub use stepper::{Step, Stepper};
pub use study_picture::{StudyColumn, StudyPicture};
pub use temper_scale::temper_scale;
pub use title_block::{TitleCell, title_block, title_rows};
pub use touch::say;
pub(crate) use touch::{Spoken, focus_ring, tap, warn};
pub use verdict_box::VerdictBox;
