//! A shot: an intention, which the scene's blocking and the film's kit turn into a setup.

use glam::DVec2;
use optics::CropShift;
use staging::{FocusOn, FocusPull, Foreground, Look, Movement, PhoneHeight, ShotSize, Stand, Take};
use units::{Angle, FrameRate, Length};

use crate::id::{BeatId, PersonId, ShotId};
use crate::unknown::Unknown;

/// A shot as it is intended.
#[derive(Debug, Clone, PartialEq)]
pub struct Shot {
    /// Known by this.
    pub id: ShotId,
    /// Who or what it is of.
    pub of: ShotOf,
    /// The beat in which it starts; the scene's first if nothing is said, or if it is gone.
    pub beat: Option<BeatId>,
    /// How much of them.
    pub size: ShotSize,
    /// The share of the frame's height above the crown, where it is not the size's own.
    pub headroom: Option<f64>,
    /// The direction from whom it is of to the phone, clockwise from north on the scene's floor.
    ///
    /// A point of view looks from where its owner stands, whatever this says.
    pub side: Angle,
    /// How high the phone is.
    pub height: PhoneHeight,
    /// What the aim is for.
    pub look: Look,
    /// Where they stand across the frame: 0 at its left edge, 1 at its right.
    pub across: f64,
    /// Where the delivered frame lies in the recorded one, if it is not its middle.
    pub crop_shift: Option<CropShift>,
    /// What fixes the distance.
    pub stand: Stand,
    /// How far behind them the background is, for what is sharp.
    pub background_behind: Length,
    /// Which of the phone's lenses.
    pub lens: LensChoice,
    /// The adapter that is on, by its name in the kit.
    pub adapter: Option<String>,
    /// How the phone moves, if it does.
    pub movement: Option<Movement>,
    /// How focus is pulled, if it is.
    pub pull: Option<FocusPull>,
    /// What focus is on.
    pub focus: FocusOn,
    /// Something near the lens.
    pub foreground: Option<Foreground>,
    /// What happens in it.
    pub action: String,
    /// What is heard of it.
    pub sound: Sound,
    /// How far the recorder is from whoever speaks; none if the phone records.
    pub recorder_away: Option<Length>,
    /// Frames a second at capture where they are not the film's: more of them play slower.
    pub capture_rate: Option<FrameRate>,
    /// How long it is meant to be, seconds, positive.
    pub planned_s: f64,
    /// Whether the scene can do without it.
    pub priority: Priority,
    /// What else to know.
    pub notes: String,
    /// What a newer program wrote beside these.
    pub unknown: Unknown,
}

/// Who or what a shot is of.
#[derive(Debug, Clone, PartialEq)]
pub enum ShotOf {
    /// Somebody.
    One(PersonId),
    /// Two people, the first in focus.
    Two(PersonId, PersonId),
    /// Somebody past another's shoulder.
    OverShoulder {
        /// The one in focus.
        facing: PersonId,
        /// The one whose shoulder it is.
        near: PersonId,
    },
    /// Somebody as another sees them.
    PointOfView {
        /// Whose eyes the phone stands for.
        of: PersonId,
        /// Whom they see.
        seen: PersonId,
    },
    /// A thing.
    Object {
        /// What it is.
        name: String,
        /// Its height and width.
        size: Length,
        /// Where it is on the scene's floor.
        place: DVec2,
    },
}

/// Which of the phone's lenses a shot is made on.
#[derive(Debug, Clone, PartialEq, Default)]
pub enum LensChoice {
    /// The one that serves its size best: see [`Rehearsal`](crate::Rehearsal).
    #[default]
    Auto,
    /// That one.
    Fixed {
        /// Its name in the kit.
        name: String,
        /// A zoom that reads only the middle of its sensor; 1 reads all of it.
        in_sensor_zoom: f64,
    },
}

/// What is heard of a shot.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Sound {
    /// Nothing that is kept.
    #[default]
    None,
    /// Somebody speaks.
    Dialogue,
    /// Something is heard.
    Effect,
    /// What is heard is recorded apart, without picture.
    WildTrack,
}

/// Whether a scene can do without a shot.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Priority {
    /// It cannot.
    #[default]
    MustHave,
    /// It can.
    NiceToHave,
}

/// How long a shot is meant to be where nothing is said, seconds: chosen, as most shots of short films last about so long.
pub const USUAL_PLANNED_S: f64 = 4.0;

impl Shot {
    /// A shot of which nothing else is said: eyes to the phone's side, aimed and focused by its size.
    pub fn of(id: ShotId, of: ShotOf, size: ShotSize, side: Angle) -> Self {
        Self {
            id,
            of,
            beat: None,
            size,
            headroom: None,
            side,
            height: PhoneHeight::BySize,
            look: Look::Aimed,
            across: 0.5,
            crop_shift: None,
            stand: Stand::ForSize,
            background_behind: Length::from_m(6.0),
            lens: LensChoice::Auto,
            adapter: None,
            movement: None,
            pull: None,
            focus: FocusOn::Subject,
            foreground: None,
            action: String::new(),
            sound: Sound::None,
            recorder_away: None,
            capture_rate: None,
            planned_s: USUAL_PLANNED_S,
            priority: Priority::MustHave,
            notes: String::new(),
            unknown: Unknown::default(),
        }
    }

    /// How it is taken.
    pub const fn take(&self) -> Take {
        Take { movement: self.movement, pull: self.pull, duration_s: self.planned_s }
    }

    /// The same shot known by another id.
    #[must_use]
    pub fn known_by(&self, id: ShotId) -> Self {
        Self { id, ..self.clone() }
    }
}

impl ShotOf {
    /// The one in focus, if it is a person.
    pub const fn subject(&self) -> Option<PersonId> {
        match self {
            Self::One(who) | Self::Two(who, _) => Some(*who),
            Self::OverShoulder { facing, .. } => Some(*facing),
            Self::PointOfView { seen, .. } => Some(*seen),
            Self::Object { .. } => None,
        }
    }

    /// Everybody whom it needs, the one in focus first.
    pub fn people(&self) -> impl Iterator<Item = PersonId> {
        let second = match self {
            Self::Two(_, other) => Some(*other),
            Self::OverShoulder { near, .. } => Some(*near),
            Self::PointOfView { of, .. } => Some(*of),
            Self::One(_) | Self::Object { .. } => None,
        };
        self.subject().into_iter().chain(second)
    }
}

impl Sound {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::None, Self::Dialogue, Self::Effect, Self::WildTrack];

    /// In plain words.
    pub const fn name(self) -> &'static str {
        match self {
            Self::None => "no sound",
            Self::Dialogue => "dialogue",
            Self::Effect => "effect",
            Self::WildTrack => "wild track",
        }
    }
}
