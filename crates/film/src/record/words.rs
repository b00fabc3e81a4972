//! Plain words for what the program knows as kinds.

use optics::Weather;
use serde::{Deserialize, Serialize};
use staging::{Age, Landmark, PhoneHeight, PieceKind, Posture, ShotSize};

use crate::scene::{Setting, TimeOfDay};
use crate::shot::{Priority, Sound, SunWish};
use crate::take_log::Verdict;

/// Words for every kind of a type, and the way there and back. The text is the name in schemas and declarations.
macro_rules! words {
    ($(
        $(#[$doc:meta])*
        $word:ident for $kind:ident, named $name:literal {
            $($(#[$each:meta])* $one:ident),+ $(,)?
        }
    )+) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
        #[cfg_attr(feature = "schema", derive(schemars::JsonSchema), schemars(rename = $name))]
        #[cfg_attr(feature = "declarations", derive(ts_rs::TS), ts(rename = $name))]
        #[serde(rename_all = "snake_case")]
        pub enum $word {
            $($(#[$each])* $one),+
        }

        impl From<$word> for $kind {
            fn from(word: $word) -> Self {
                match word {
                    $($word::$one => Self::$one),+
                }
            }
        }

        impl From<$kind> for $word {
            fn from(kind: $kind) -> Self {
                match kind {
                    $($kind::$one => Self::$one),+
                }
            }
        }
    )+};
}

words! {
    /// The weather of a day.
    WeatherWord for Weather, named "WeatherWord" {
        /// Sun and hard shadows.
        Clear,
        /// Cloud without a gap.
        Overcast,
        /// Fog.
        Fog,
        /// Rain.
        Rain,
    }

    /// Where the sun is wanted, seen from whom a shot is of.
    SunWishWord for SunWish, named "SunWishWord" {
        /// Wherever it is.
        Anywhere,
        /// Behind the phone.
        Front,
        /// To the side.
        Side,
        /// Behind them.
        Back,
    }

    /// Shot sizes, from far to near.
    ShotSizeWord for ShotSize, named "ShotSizeRequest" {
        /// The figure is a fifth of the frame's height.
        ExtremeWide,
        /// The whole figure.
        Wide,
        /// Down to the middle of the thigh.
        MidThigh,
        /// From the waist up.
        Medium,
        /// From the chest up.
        ChestUp,
        /// From the collar up.
        Tight,
        /// From brow to chin.
        ExtremeTight,
        /// An object.
        Insert,
    }

    /// How people hold themselves.
    PostureWord for Posture, named "PostureRequest" {
        /// On both feet.
        Standing,
        /// On a chair.
        Seated,
    }

    /// Whose proportions people have.
    AgeWord for Age, named "AgeRequest" {
        /// Grown up.
        Adult,
        /// About seven years old.
        Child,
    }

    /// What a piece of a set is.
    PieceWord for PieceKind, named "PieceWord" {
        /// A plain wall.
        Wall,
        /// A wall with a window in it.
        Window,
        /// A wall with an open doorway in it.
        Doorway,
        /// A table.
        Table,
        /// A bench with a back.
        Bench,
        /// A tree with a round crown.
        Tree,
        /// A hedge.
        Hedge,
        /// A box as large as a car.
        Car,
        /// A lamp post.
        LampPost,
        /// Small lights on a string between two poles.
        Lights,
        /// A potted plant.
        Plant,
    }

    /// A height on a person's body.
    LandmarkWord for Landmark, named "LandmarkWord" {
        /// The top of the head.
        Crown,
        /// The brow.
        Brow,
        /// The eyes.
        Eyes,
        /// The chin.
        Chin,
        /// The collar.
        Collar,
        /// The shoulder.
        Shoulder,
        /// The chest.
        Chest,
        /// The waist.
        Waist,
        /// The middle of the thigh.
        MidThigh,
        /// The knee.
        Knee,
        /// The sole of the foot.
        Foot,
    }

    /// Inside or outside.
    SettingWord for Setting, named "SettingWord" {
        /// Within walls.
        Inside,
        /// Under the sky.
        Outside,
    }

    /// When a scene plays.
    TimeOfDayWord for TimeOfDay, named "TimeOfDayWord" {
        /// Before sunrise.
        Dawn,
        /// The first hours.
        Morning,
        /// Around noon.
        Day,
        /// The hours after.
        Afternoon,
        /// Low sun.
        GoldenHour,
        /// After sunset.
        Dusk,
        /// Dark.
        Night,
    }

    /// What is heard of a shot.
    SoundWord for Sound, named "SoundWord" {
        /// Nothing that is kept.
        None,
        /// Somebody speaks.
        Dialogue,
        /// Something is heard.
        Effect,
        /// What is heard is recorded apart, without picture.
        WildTrack,
    }

    /// Whether a take is any good.
    VerdictWord for Verdict, named "VerdictWord" {
        /// Nobody has said.
        Unsaid,
        /// It will do.
        Good,
        /// It will not.
        NotGood,
    }

    /// Whether a scene can do without a shot.
    PriorityWord for Priority, named "PriorityWord" {
        /// It cannot.
        MustHave,
        /// It can.
        NiceToHave,
    }
}

/// The lens's height in words.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema), schemars(rename = "PhoneHeightRequest"))]
#[cfg_attr(feature = "declarations", derive(ts_rs::TS), ts(rename = "PhoneHeightRequest"))]
#[serde(rename_all = "snake_case")]
pub enum PhoneHeightWord {
    /// At the subject's eyes.
    Eyes,
    /// At their chest.
    Chest,
    /// At their waist.
    Waist,
    /// At their knees.
    Knee,
    /// On the ground.
    Ground,
    /// Above everybody.
    Overhead,
}

impl From<PhoneHeightWord> for PhoneHeight {
    fn from(word: PhoneHeightWord) -> Self {
        match word {
            PhoneHeightWord::Eyes => Self::At(Landmark::Eyes),
            PhoneHeightWord::Chest => Self::At(Landmark::Chest),
            PhoneHeightWord::Waist => Self::At(Landmark::Waist),
            PhoneHeightWord::Knee => Self::At(Landmark::Knee),
            PhoneHeightWord::Ground => Self::Ground,
            PhoneHeightWord::Overhead => Self::Overhead,
        }
    }
}

impl PhoneHeightWord {
    /// The word for a height, if there is one.
    pub const fn of(height: PhoneHeight) -> Option<Self> {
        match height {
            PhoneHeight::At(Landmark::Eyes) => Some(Self::Eyes),
            PhoneHeight::At(Landmark::Chest) => Some(Self::Chest),
            PhoneHeight::At(Landmark::Waist) => Some(Self::Waist),
            PhoneHeight::At(Landmark::Knee) => Some(Self::Knee),
            PhoneHeight::Ground => Some(Self::Ground),
            PhoneHeight::Overhead => Some(Self::Overhead),
            PhoneHeight::At(
                Landmark::Crown
                | Landmark::Brow
                | Landmark::Chin
                | Landmark::Collar
                | Landmark::Shoulder
                | Landmark::MidThigh
                | Landmark::Foot,
            )
            | PhoneHeight::BySize
            | PhoneHeight::Fixed(_) => None,
        }
    }
}
