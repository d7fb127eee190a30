//! How a person likes the window to look: one small file in the user's own folder.
//!
//! It is no part of a yard, which is copied and shared: the size of type that one pair of eyes needs
//! is not another's. Does not know what any of it looks like.

use crate::store::{FileIssue, issue::StoreError, medium::Disk, save::put_file, text, wire};
use serde::{Deserialize, Serialize};
use std::path::{Path, PathBuf};

/// Light or dark.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, Serialize)]
pub enum Colours {
    /// As the desktop is, and light where it does not say.
    #[default]
    AsTheDesktop,
    /// Dark on light.
    Light,
    /// Light on dark.
    Dark,
}

/// How far colours stand apart.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, Serialize)]
pub enum Contrast {
    /// As drawn.
    #[default]
    Usual,
    /// As far as they go.
    High,
}

/// Whether pictures move by themselves.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, Serialize)]
pub enum Motion {
    /// A shift that plays runs smoothly.
    #[default]
    Smooth,
    /// It goes in few, large steps.
    Reduced,
}

/// What the window speaks.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, Serialize)]
pub enum Speech {
    /// As the desktop does, and English where that is not spoken here.
    #[default]
    AsTheDesktop,
    /// English.
    English,
    /// German.
    German,
}

/// How the window looks and what it speaks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Look {
    /// The size of everything in percent, one of [`Look::SIZES`].
    pub text_percent: u16,
    /// Light or dark.
    pub colours: Colours,
    /// How far colours stand apart.
    pub contrast: Contrast,
    /// Whether pictures move by themselves.
    pub motion: Motion,
    /// What it speaks.
    pub speech: Speech,
}

#[derive(Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
struct LookFile {
    format: u64,
    text_percent: u16,
    colours: Colours,
    contrast: Contrast,
    motion: Motion,
    #[serde(default)]
    speech: Speech,
}

impl Default for Look {
    fn default() -> Self {
        Self {
            text_percent: 100,
            colours: Colours::default(),
            contrast: Contrast::default(),
            motion: Motion::default(),
            speech: Speech::default(),
        }
    }
}

impl Look {
    /// The sizes of text there are, in percent.
    pub const SIZES: [u16; 5] = [100, 125, 150, 175, 200];

    /// What is kept in `folder`; the usual look if nothing is.
    ///
    /// # Errors
    ///
    /// What is wrong with the file, which is left as it is.
    pub fn read(folder: &Path) -> Result<Self, FileIssue> {
        let path = place(folder);
        if !path.exists() {
            return Ok(Self::default());
        }
        let text = text::read(&path)?;
        let next = "choose again under Settings, which writes it anew";
        let kept: LookFile = wire::strictly(&text).map_err(|unread| match unread {
            wire::Unread::Newer(format) => FileIssue::newer(&path, format),
            wire::Unread::Faulty(fault) => FileIssue { next: next.to_owned(), ..fault.of(&path) },
        })?;
        let LookFile { format, text_percent, colours, contrast, motion, speech } = kept;
        if format != wire::FORMAT {
            return Err(FileIssue::newer(&path, format));
        }
        if !Self::SIZES.contains(&text_percent) {
            let what = format!("there is no text of {text_percent} percent");
            return Err(FileIssue::of(&path, what, next));
        }
        Ok(Self { text_percent, colours, contrast, motion, speech })
    }

    /// Keeps it in `folder`, which is made if it is not there.
    ///
    /// # Errors
    ///
    /// What kept it from being written.
    pub fn keep(self, folder: &Path) -> Result<(), StoreError> {
        let path = place(folder);
        let Self { text_percent, colours, contrast, motion, speech } = self;
        let format = wire::FORMAT;
        let file = LookFile { format, text_percent, colours, contrast, motion, speech };
        let text =
            wire::pretty(&file).map_err(|fault| StoreError::WontReadBack(fault.of(&path)))?;
        put_file(&Disk, &path, text.as_bytes())
    }
}

fn place(folder: &Path) -> PathBuf {
    folder.join("window.ron")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_look_is_kept_and_a_strange_one_is_named() {
        let home = tempfile::tempdir().unwrap();
        let folder = home.path().join("config");
        assert_eq!(Look::read(&folder), Ok(Look::default()), "before anybody chose");
        let look = Look {
            text_percent: 200,
            colours: Colours::Dark,
            contrast: Contrast::High,
            motion: Motion::Reduced,
            speech: Speech::German,
        };
        look.keep(&folder).unwrap();
        assert_eq!(Look::read(&folder), Ok(look));
        for (wrong, says) in [
            (
                "(format: 1, text_percent: 900, colours: Dark, contrast: High, motion: Smooth)",
                "900",
            ),
            ("(format: 2, text_percent: 100, colours: Dark, contrast: High, motion: Smooth)", "2"),
            ("(format: 1, text_percent: huge", "integer"),
        ] {
            put_file(&Disk, &place(&folder), wrong.as_bytes()).unwrap();
            let issue = Look::read(&folder).unwrap_err();
            assert!(issue.what.contains(says), "{issue}");
        }
    }
}
