//! Closed sets of words: an enumeration whose values have a stable word on the wire.

/// Declares an enumeration with the word of each value, the list of all values, and the way back from a word.
macro_rules! words {
    ($(#[$doc:meta])* $name:ident { $($(#[$variant_doc:meta])* $variant:ident => $word:literal,)* }) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
        pub enum $name {
            $($(#[$variant_doc])* $variant,)*
        }

        impl $name {
            /// Every value, in the order of the documentation.
            pub const ALL: &[Self] = &[$(Self::$variant,)*];

            /// The word of the wire.
            #[must_use]
            pub const fn as_str(self) -> &'static str {
                match self {
                    $(Self::$variant => $word,)*
                }
            }

            /// The value of a word of the wire.
            #[must_use]
            pub fn from_word(word: &str) -> Option<Self> {
                match word {
                    $($word => Some(Self::$variant),)*
                    _ => None,
                }
            }
        }
    };
}

pub(crate) use words;
