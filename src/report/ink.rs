//! What can stand on a page. Black, white and two greys, so that any printer will do.

/// How dark something is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shade {
    /// As dark as it gets.
    Black,
    /// Captions and what is less weighty.
    Grey,
    /// Steel and the ground behind a word.
    Pale,
    /// The paper.
    White,
}

/// How heavy words are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Weight {
    /// Running text.
    Regular,
    /// Values and titles.
    Bold,
}

/// Something placed, in points from the upper left corner.
#[derive(Clone, Debug, PartialEq)]
pub enum Item {
    /// Words on one line; `y` is their baseline.
    Text {
        /// Where they start.
        x: f32,
        /// Their baseline.
        y: f32,
        /// Their size.
        size: f32,
        /// How heavy.
        weight: Weight,
        /// How dark.
        shade: Shade,
        /// The words.
        words: String,
    },
    /// A line or an outline.
    Line {
        /// Its corners.
        points: Vec<(f32, f32)>,
        /// Whether it goes back to its first corner.
        closed: bool,
        /// How wide.
        width: f32,
        /// Whether it is dashed.
        dashed: bool,
        /// How dark.
        shade: Shade,
    },
    /// A filled shape.
    Area {
        /// Its corners.
        points: Vec<(f32, f32)>,
        /// How dark.
        shade: Shade,
    },
}

impl Item {
    /// A filled rectangle with an outline.
    pub(crate) fn boxed(
        (x, y): (f32, f32),
        (w, h): (f32, f32),
        fill: Shade,
        width: f32,
    ) -> [Self; 2] {
        let points = vec![(x, y), (x + w, y), (x + w, y + h), (x, y + h)];
        let outline = points.clone();
        [
            Self::Area { points, shade: fill },
            Self::Line { points: outline, closed: true, width, dashed: false, shade: Shade::Black },
        ]
    }

    /// A straight line.
    pub(crate) fn line(from: (f32, f32), to: (f32, f32), width: f32, shade: Shade) -> Self {
        Self::Line { points: vec![from, to], closed: false, width, dashed: false, shade }
    }

    /// The same, moved.
    pub(crate) fn moved(self, dx: f32, dy: f32) -> Self {
        let shift = |points: Vec<(f32, f32)>| -> Vec<(f32, f32)> {
            points.into_iter().map(|(x, y)| (x + dx, y + dy)).collect()
        };
        match self {
            Self::Text { x, y, size, weight, shade, words } => {
                Self::Text { x: x + dx, y: y + dy, size, weight, shade, words }
            }
            Self::Line { points, closed, width, dashed, shade } => {
                Self::Line { points: shift(points), closed, width, dashed, shade }
            }
            Self::Area { points, shade } => Self::Area { points: shift(points), shade },
        }
    }
}
