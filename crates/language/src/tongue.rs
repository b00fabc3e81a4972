//! The languages that the program speaks.

use serde::{Deserialize, Serialize};

/// A language.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum Tongue {
    /// English, which stands in the code.
    #[default]
    #[serde(rename = "en")]
    English,
    /// Dutch.
    #[serde(rename = "nl")]
    Dutch,
}

impl Tongue {
    /// All of them.
    pub const ALL: [Self; 2] = [Self::English, Self::Dutch];

    /// As BCP 47 calls it.
    pub const fn tag(self) -> &'static str {
        match self {
            Self::English => "en",
            Self::Dutch => "nl",
        }
    }

    /// As those who speak it call it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::English => "English",
            Self::Dutch => "Nederlands",
        }
    }

    /// The language of a tag such as `nl-BE`, whatever the region.
    ///
    /// # Examples
    /// ```
    /// use language::Tongue;
    /// assert_eq!(Tongue::of("nl-BE"), Some(Tongue::Dutch));
    /// assert_eq!(Tongue::of("xx"), None);
    /// ```
    pub fn of(tag: &str) -> Option<Self> {
        let language = tag.split('-').next().unwrap_or(tag);
        Self::ALL.into_iter().find(|tongue| tongue.tag().eq_ignore_ascii_case(language))
    }
}
