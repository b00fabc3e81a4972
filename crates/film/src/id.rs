//! The numbers that the parts of a film are known by, whatever they are called and wherever they are moved.

use std::fmt;

/// The largest number an id has: 2⁵³ − 1, because a larger one does not survive a program that counts in 64-bit floats.
pub const LARGEST_ID: u64 = (1 << 53) - 1;

macro_rules! ids {
    ($($(#[$doc:meta])* $name:ident),+ $(,)?) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub struct $name(u64);

        impl $name {
            /// The id of that number; none above [`LARGEST_ID`].
            pub const fn new(number: u64) -> Option<Self> {
                if number <= LARGEST_ID { Some(Self(number)) } else { None }
            }

            /// Its number.
            pub const fn number(self) -> u64 {
                self.0
            }
        }

        impl From<FreshId> for $name {
            fn from(fresh: FreshId) -> Self {
                Self(fresh.0)
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                self.0.fmt(f)
            }
        }
    )+};
}

ids! {
    /// Somebody of the cast.
    PersonId,
    /// A place to shoot at.
    PlaceId,
    /// A scene.
    SceneId,
    /// A beat of a scene.
    BeatId,
    /// A shot.
    ShotId,
    /// An entry of a cut.
    EntryId,
    /// A day of shooting.
    DayId,
    /// A take that was logged.
    TakeId,
    /// A photo of a place.
    PhotoId,
}

/// A number that nothing has been called by yet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct FreshId(u64);

/// Numbers for what is new: one after the other from where they start.
///
/// Whoever makes films starts somewhere else each time, so that two copies of one film that are worked on apart do not call
/// two things the same.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FreshIds(u64);

impl FreshIds {
    /// Numbers from `start` on, turned round at the largest.
    pub const fn starting_at(start: u64) -> Self {
        Self(start & LARGEST_ID)
    }

    /// The next number, as the id of whatever is new.
    pub fn fresh<Id: From<FreshId>>(&mut self) -> Id {
        let number = self.0;
        self.0 = (self.0 + 1) & LARGEST_ID;
        FreshId(number).into()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fresh_ids_go_round_at_the_largest() {
        let mut fresh = FreshIds::starting_at(LARGEST_ID);
        assert_eq!(fresh.fresh::<ShotId>().number(), LARGEST_ID);
        assert_eq!(fresh.fresh::<ShotId>().number(), 0);
        assert_eq!(ShotId::new(LARGEST_ID + 1), None);
    }
}
