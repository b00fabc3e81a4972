//! The weather that a day is counted on to have, as far as light goes.

use language::key;

/// The weather, as far as light goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Weather {
    /// Sun and hard shadows.
    #[default]
    Clear,
    /// Cloud without a gap.
    Overcast,
    /// Fog.
    Fog,
    /// Rain.
    Rain,
}

impl Weather {
    /// All of them, from the brightest on.
    pub const ALL: [Self; 4] = [Self::Clear, Self::Fog, Self::Overcast, Self::Rain];

    /// In plain words.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Clear => key!("sun"),
            Self::Overcast => key!("overcast"),
            Self::Fog => key!("fog"),
            Self::Rain => key!("rain"),
        }
    }
}
