//! How the code names a sentence: on the spot, or in a table of constants.

/// A sentence in the language that is spoken: `tell!("Nothing yet")`, or with places that are named,
/// `tell!("{gap} at {station}", gap = n.length(it), station)`.
///
/// The English is checked against its places when it is compiled. A `&'static str` without places,
/// a `String` with.
macro_rules! tell {
    ($text:literal) => {
        $crate::language::told($text)
    };
    ($text:literal, $($name:ident $(= $value:expr)?),+ $(,)?) => {
        match $crate::language::translated($text) {
            None => format!($text, $($name = $crate::language::tell!(@ $name $(= $value)?)),+),
            Some(template) => $crate::language::fill(
                template,
                &[$((stringify!($name), &$crate::language::tell!(@ $name $(= $value)?))),+],
            ),
        }
    };
    (@ $name:ident) => { $name };
    (@ $name:ident = $value:expr) => { $value };
}

/// A sentence for a table of constants, told later by [`told`](super::told); here it only stands in for itself.
macro_rules! sentence {
    ($text:literal) => {
        $text
    };
}

pub(crate) use {sentence, tell};
