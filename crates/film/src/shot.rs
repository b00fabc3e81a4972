//! A shot: an intention, which the scene's blocking and the film's kit turn into a setup.

use glam::DVec2;
use language::{key, say, text};
use optics::CropShift;
use staging::{FocusOn, FocusPull, Foreground, Look, Movement, PhoneHeight, ShotSize, Stand, Support, Take};
use units::{Angle, FrameRate, Length};

use crate::film::Film;
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
    /// Where the sun is wanted.
    pub sun: SunWish,
    /// Whether its action can be done again.
    pub action_kind: ActionKind,
    /// How many minutes it takes on the set, if it is not what shots usually take.
    pub on_set_min: Option<f64>,
    /// What else to know.
    pub notes: String,
    /// What has to stay the same from take to take and in the shots around it: hair, sleeves, what is in which hand.
    pub continuity: String,
    /// Whether it was given up: it stays listed, but is in no cut and on no day.
    pub is_dropped: bool,
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
        /// What it is on there.
        support: Support,
        /// Whose hands are seen with it, each once; they need no mark in the scene.
        hands: Vec<PersonId>,
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

/// Where the sun is wanted, seen from whom a shot is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum SunWish {
    /// Wherever it is.
    #[default]
    Anywhere,
    /// Behind the phone.
    Front,
    /// To the side.
    Side,
    /// Behind them.
    Back,
}

/// Whether what happens in a shot can be done again.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum ActionKind {
    /// As often as one likes.
    #[default]
    Repeatable,
    /// It makes a mess, or there is one chance: it comes last.
    OneChance,
}

/// How long a shot is meant to be where nothing is said, seconds: chosen, as most shots of short films last about so long.
pub const USUAL_PLANNED_S: f64 = 4.0;
/// How far from whoever speaks a recorder is put: chosen because it is still outside most frames there and the voice fills it.
pub(crate) const RECORDER_AWAY: Length = Length::from_m(0.5);

impl SunWish {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Anywhere, Self::Front, Self::Side, Self::Back];

    /// In plain words.
    pub fn name(self) -> &'static str {
        match self {
            Self::Anywhere => say!("anywhere"),
            Self::Front => say!("behind the phone"),
            Self::Side => say!("to the side"),
            Self::Back => say!("behind them"),
        }
    }
}

impl Priority {
    /// What it is called in files, whatever is spoken.
    pub const fn word(self) -> &'static str {
        match self {
            Self::MustHave => key!("must have"),
            Self::NiceToHave => key!("nice to have"),
        }
    }

    /// In plain words.
    pub fn name(self) -> &'static str {
        text(self.word())
    }
}

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
            sun: SunWish::Anywhere,
            action_kind: ActionKind::Repeatable,
            on_set_min: None,
            notes: String::new(),
            continuity: String::new(),
            is_dropped: false,
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

    /// Whether the scene cannot do without it.
    pub fn is_must_have(&self) -> bool {
        self.priority == Priority::MustHave
    }

    /// Whether somebody walks with the phone while it is taken.
    pub const fn is_carried(&self) -> bool {
        matches!(self.movement, Some(Movement::Push { .. } | Movement::Follow { .. }))
    }

    /// Whether it is of a thing, or so near that no person is told apart.
    pub fn is_insert(&self) -> bool {
        matches!(self.of, ShotOf::Object { .. }) || self.size == ShotSize::Insert
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

    /// Everybody whom it needs: who stands there for it, then whose hands are seen.
    pub fn people(&self) -> impl Iterator<Item = PersonId> {
        self.standing().chain(self.hands().iter().copied())
    }

    /// Everybody who has a mark in the scene for it, the one in focus first.
    pub fn standing(&self) -> impl Iterator<Item = PersonId> {
        let second = match self {
            Self::Two(_, other) => Some(*other),
            Self::OverShoulder { near, .. } => Some(*near),
            Self::PointOfView { of, .. } => Some(*of),
            Self::One(_) | Self::Object { .. } => None,
        };
        self.subject().into_iter().chain(second)
    }

    /// Whose hands are seen with the thing that it is of.
    pub fn hands(&self) -> &[PersonId] {
        match self {
            Self::Object { hands, .. } => hands,
            Self::One(_) | Self::Two(..) | Self::OverShoulder { .. } | Self::PointOfView { .. } => &[],
        }
    }

    /// In plain words, with the names of `film`.
    pub fn told(&self, film: &Film) -> String {
        let name = |who: &PersonId| film.name_of(*who);
        match self {
            Self::One(who) => name(who).to_owned(),
            Self::Two(one, other) => say!("{} and {}", name(one), name(other)),
            Self::OverShoulder { facing, near } => say!("{} over {}'s shoulder", name(facing), name(near)),
            Self::PointOfView { of, seen } => say!("{} as {} sees them", name(seen), name(of)),
            Self::Object { name, .. } if name.is_empty() => say!("a thing").to_owned(),
            Self::Object { name, .. } => name.clone(),
        }
    }
}

impl Sound {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::None, Self::Dialogue, Self::Effect, Self::WildTrack];

    /// What it is called in files, whatever is spoken.
    pub const fn word(self) -> &'static str {
        match self {
            Self::None => key!("no sound"),
            Self::Dialogue => key!("dialogue"),
            Self::Effect => key!("effect"),
            Self::WildTrack => key!("wild track"),
        }
    }

    /// In plain words.
    pub fn name(self) -> &'static str {
        text(self.word())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::preset::demo_film;

    #[test]
    fn whom_a_shot_is_of_is_told_by_name() {
        let film = demo_film();
        let [one, other] = [film.cast[0].id, film.cast[1].id];
        let [first, second] = [film.name_of(one), film.name_of(other)];
        assert_eq!(ShotOf::One(one).told(&film), first);
        assert_eq!(ShotOf::Two(one, other).told(&film), format!("{first} and {second}"));
        let past = ShotOf::OverShoulder { facing: one, near: other };
        assert_eq!(past.told(&film), format!("{first} over {second}'s shoulder"));
        let seen = ShotOf::PointOfView { of: other, seen: one };
        assert_eq!(seen.told(&film), format!("{first} as {second} sees them"));
        let thing = |name: &str| ShotOf::Object {
            name: name.to_owned(),
            size: Length::from_m(0.1),
            place: DVec2::ZERO,
            support: Support::Table,
            hands: Vec::new(),
        };
        assert_eq!(thing("a tin").told(&film), "a tin");
        assert_eq!(thing("").told(&film), "a thing");
    }

    #[test]
    fn a_shot_needs_whoever_stands_there_and_whoever_lends_their_hands() {
        let [one, other] = [1, 2].map(|id| PersonId::new(id).expect("small"));
        let opening = ShotOf::Object {
            name: "a tin".to_owned(),
            size: Length::from_m(0.1),
            place: DVec2::ZERO,
            support: Support::Table,
            hands: vec![other, one],
        };
        assert_eq!(opening.people().collect::<Vec<_>>(), [other, one]);
        assert_eq!((opening.subject(), opening.standing().next()), (None, None));
        let seen = ShotOf::PointOfView { of: other, seen: one };
        assert_eq!(seen.people().collect::<Vec<_>>(), [one, other]);
        assert!(seen.standing().eq(seen.people()), "nobody lends their hands alone");
    }
}
