//! Blocks of items stacked on pages, and words broken into lines.

use crate::{
    language::tell,
    report::{Item, Shade, Weight, faces::Faces},
};

/// What a sheet is printed on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Paper {
    /// 210 × 297 mm (ISO 216).
    #[default]
    A4,
    /// 8.5 × 11 in (ANSI A).
    Letter,
}

impl Paper {
    /// Width and height in points of 1/72 in.
    pub const fn size(self) -> (f32, f32) {
        match self {
            Self::A4 => (595.276, 841.89),
            Self::Letter => (612.0, 792.0),
        }
    }

    /// The width that words may take.
    pub(crate) fn room(self) -> f32 {
        self.size().0 - 2.0 * MARGIN
    }
}

/// Free on every side, so that any printer reaches it and a clip holds it.
pub(crate) const MARGIN: f32 = 36.0;
/// Kept free at the foot for the page's number and origin.
const FOOT: f32 = 16.0;

/// How words look.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Style {
    pub(crate) size: f32,
    pub(crate) weight: Weight,
    pub(crate) shade: Shade,
}

impl Style {
    pub(crate) const BODY: Self = Self { size: 8.5, weight: Weight::Regular, shade: Shade::Black };
    pub(crate) const STRONG: Self = Self { weight: Weight::Bold, ..Self::BODY };
    pub(crate) const SMALL: Self = Self { size: 7.0, weight: Weight::Regular, shade: Shade::Grey };

    /// Distance between baselines.
    pub(crate) const fn leading(self) -> f32 {
        self.size * 1.26
    }
}

/// Items that stay together, from their own upper left corner.
#[derive(Debug, Default)]
pub(crate) struct Block {
    pub(crate) items: Vec<Item>,
    pub(crate) height: f32,
}

impl Block {
    /// Words on one line, their top at the present height; the height stays.
    pub(crate) fn words(&mut self, x: f32, words: &str, style: Style) {
        let y = self.height + style.size;
        self.put(x, y, words, style);
    }

    /// Words on a baseline.
    pub(crate) fn put(&mut self, x: f32, y: f32, words: &str, style: Style) {
        let Style { size, weight, shade } = style;
        self.items.push(Item::Text { x, y, size, weight, shade, words: words.to_owned() });
    }

    /// A sentence broken into lines, with bold between double asterisks; the height grows.
    ///
    /// Answers where its last line ends.
    pub(crate) fn paragraph(
        &mut self,
        faces: &Faces,
        (x, width): (f32, f32),
        words: &str,
        style: Style,
    ) -> f32 {
        let mut end = x;
        for line in broken(faces, words, width, style) {
            let mut at = x;
            for (words, weight) in line {
                let style = Style { weight, ..style };
                self.words(at, &words, style);
                at += faces.width(&words, style.size, weight);
            }
            end = at;
            self.height += style.leading();
        }
        end
    }

    /// A sentence and where it comes from: behind it on its last line if there is room, else below.
    pub(crate) fn sourced(
        &mut self,
        faces: &Faces,
        (x, width): (f32, f32),
        (words, source): (&str, &str),
    ) {
        let end = self.paragraph(faces, (x, width), words, Style::BODY) + 8.0;
        let small = Style::SMALL;
        if end + faces.width(source, small.size, small.weight) <= x + width {
            self.put(end, self.height - Style::BODY.leading() + Style::BODY.size, source, small);
        } else {
            self.paragraph(faces, (x, width), source, small);
        }
    }
}

/// Words of one weight on one line.
type Piece = (String, Weight);

/// Breaks at spaces, never at no-break ones; a word too long for a line stands alone on it.
fn broken(faces: &Faces, words: &str, width: f32, style: Style) -> Vec<Vec<Piece>> {
    let mut lines: Vec<Vec<Piece>> = vec![Vec::new()];
    let mut used = 0.0;
    let weights = [style.weight, Weight::Bold];
    for (part, weight) in words.split("**").zip(weights.into_iter().cycle()) {
        for (place, word) in part.split_inclusive(' ').enumerate() {
            let bare = faces.width(word.trim_end(), style.size, weight);
            // What follows a weight mark without a space belongs to the word before it.
            let joined = place == 0
                && lines.last().is_some_and(|line| {
                    line.last().is_some_and(|(before, _)| !before.ends_with(' '))
                });
            if !joined && 0.0 < used && width < used + bare {
                lines.push(Vec::new());
                used = 0.0;
            }
            let Some(line) = lines.last_mut() else { continue };
            match line.last_mut() {
                Some((before, same)) if *same == weight => before.push_str(word),
                _ => line.push((word.to_owned(), weight)),
            }
            used += faces.width(word, style.size, weight);
        }
    }
    lines.retain(|line| line.iter().any(|(words, _)| !words.is_empty()));
    lines
}

/// Pages that fill from above.
#[derive(Debug)]
pub(crate) struct Pages {
    paper: Paper,
    filled: Vec<Vec<Item>>,
    y: f32,
}

impl Pages {
    pub(crate) fn new(paper: Paper) -> Self {
        Self { paper, filled: vec![Vec::new()], y: MARGIN }
    }

    /// Places a block below the last one, on a new page if this one has no room for it.
    pub(crate) fn place(&mut self, block: Block, gap: f32) {
        if MARGIN < self.y && self.bottom() < self.y + gap + block.height {
            self.filled.push(Vec::new());
            self.y = MARGIN;
        } else if MARGIN < self.y {
            self.y += gap;
        }
        let y = self.y;
        if let Some(page) = self.filled.last_mut() {
            page.extend(block.items.into_iter().map(|item| item.moved(MARGIN, y)));
        }
        self.y += block.height;
    }

    /// Places a block below the last one; answers it if this page has no room for it.
    pub(crate) fn place_if_it_fits(&mut self, block: Block, gap: f32) -> Option<Block> {
        if self.bottom() < self.y + gap + block.height {
            return Some(block);
        }
        self.place(block, gap);
        None
    }

    fn bottom(&self) -> f32 {
        self.paper.size().1 - MARGIN - FOOT
    }

    /// Numbers every page at its foot, with where the sheet came from.
    pub(crate) fn finish(mut self, faces: &Faces, origin: &str) -> Vec<Vec<Item>> {
        let (width, height) = self.paper.size();
        let count = self.filled.len();
        let y = height - MARGIN;
        for (place, page) in self.filled.iter_mut().enumerate() {
            let number = tell!("Page {place} of {count}", place = place + 1, count);
            let Style { size, weight, shade } = Style::SMALL;
            let right = width - MARGIN - faces.width(&number, size, weight);
            for (x, words) in [(MARGIN, origin.to_owned()), (right, number)] {
                page.push(Item::Text { x, y, size, weight, shade, words });
            }
        }
        self.filled
    }
}
