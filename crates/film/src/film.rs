//! A film: what it is called and looks like, who is in it, where and when it is shot, and its scenes.

use std::sync::Arc;

use glam::DVec2;
use language::say;

use optics::{Aspect, MainsFrequency, ShutterAngle};
use staging::{Age, Colour};
use units::{FrameRate, Length, Stops};

use crate::day::ShootingDay;
use crate::id::{DayId, PersonId, PlaceId, SceneId, ShotId};
use crate::kit::Kit;
use crate::pacing::PacedOutline;
use crate::place_photo::PlacePhoto;
use crate::scene::Scene;
use crate::shot::Shot;
use crate::sun::{Coordinates, HorizonProfile};
use crate::take_log::LoggedTake;
use crate::unknown::Unknown;

/// A film.
///
/// Its parts are shared: a copy costs little, and a part that is still the same can be told by where it is.
#[derive(Debug, Clone, PartialEq)]
pub struct Film {
    /// What holds for all of it.
    pub facts: Arc<FilmFacts>,
    /// What the crew owns, as it was when the film was planned.
    pub kit: Arc<Kit>,
    /// Who is in it.
    pub cast: Arc<[CastMember]>,
    /// Where it is shot.
    pub places: Arc<[Place]>,
    /// When it is shot.
    pub days: Arc<[ShootingDay]>,
    /// The scenes in the film's order.
    pub scenes: Vec<Arc<Scene>>,
    /// The takes that were made, in the order in which they were logged.
    pub takes: Arc<[Arc<LoggedTake>]>,
}

/// What holds for all of a film.
#[derive(Debug, Clone, PartialEq)]
pub struct FilmFacts {
    /// What it is called.
    pub title: String,
    /// The story in one line.
    pub line: String,
    /// The delivered frame's shape.
    pub aspect: Aspect,
    /// Frames a second at which it plays.
    pub frame_rate: FrameRate,
    /// How much of a frame's time is exposed.
    pub shutter: ShutterAngle,
    /// The recording mode that it is shot in, by its name in the kit; the kit's first if it has none of that name.
    pub recording: String,
    /// How much brighter than the meter's grey the picture is wanted; negative protects highlights.
    pub bias: Stops,
    /// The mains that lamps hang on where it is shot; what each place's time zone tells if nothing is said.
    pub mains: Option<MainsFrequency>,
    /// What a newer program wrote beside these.
    pub unknown: Unknown,
}

/// Somebody of the cast.
#[derive(Debug, Clone, PartialEq)]
pub struct CastMember {
    /// Known by this.
    pub id: PersonId,
    /// What they are called.
    pub name: String,
    /// Their height when standing.
    pub stature: Length,
    /// Adult or child.
    pub age: Age,
    /// The colour of their clothes; theirs everywhere.
    pub clothes: Colour,
    /// When they are there on a day of shooting; any time if nothing is said.
    pub hours: Option<Hours>,
    /// Whether they have agreed to be filmed; for a child, whoever is responsible for them.
    pub consent: bool,
    /// What a newer program wrote beside these.
    pub unknown: Unknown,
}

/// A stretch of a day, in minutes from the midnight that begins it: past 1440 it is the day after, for work that goes on
/// through the night. It ends after it starts, a day later at the most, and by the end of the day after.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Hours {
    from_min: u16,
    to_min: u16,
}

/// A place to shoot at.
#[derive(Debug, Clone, PartialEq)]
pub struct Place {
    /// Known by this.
    pub id: PlaceId,
    /// What it is called.
    pub name: String,
    /// What to know about it.
    pub notes: String,
    /// Where on earth it is, if that is known.
    pub spot: Option<Spot>,
    /// Whether whoever is responsible for it has agreed to filming there.
    pub permission: bool,
    /// Whether its room tone is recorded: the place when nobody speaks or moves.
    pub room_tone: bool,
    /// Whether what is wanted from it as wild tracks is recorded.
    pub wild_track: bool,
    /// Photos of it from where the phone may stand.
    pub photos: Arc<[PlacePhoto]>,
    /// Its outline, if somebody paced it out.
    pub paced: Option<Arc<PacedPlace>>,
    /// What a newer program wrote beside these.
    pub unknown: Unknown,
}

/// A place that was paced out.
#[derive(Debug, Clone, PartialEq)]
pub struct PacedPlace {
    /// Where the walk began on the place's floor, x east and y north, metres.
    pub start: DVec2,
    /// The walk.
    pub outline: PacedOutline,
}

/// Where on earth a place is.
#[derive(Debug, Clone, PartialEq)]
pub struct Spot {
    /// Its coordinates.
    pub coordinates: Coordinates,
    /// The time zone whose clock it goes by, by its IANA name.
    pub time_zone: String,
    /// What stands around it and hides the sun.
    pub horizon: HorizonProfile,
}

/// Two thirds of a stop darker than the meter's grey: common practice, because a phone's highlights clip at once and its
/// shadows can be lifted by as much.
pub const USUAL_BIAS: Stops = Stops::new(-2.0 / 3.0);

/// Minutes in a day.
const DAY_MIN: u16 = 24 * 60;

impl Hours {
    /// Nine to five.
    pub const USUAL: Self = Self { from_min: 9 * 60, to_min: 17 * 60 };

    /// Where the day after ends, in minutes from the midnight that begins the day.
    pub const LATEST_MIN: u16 = 2 * DAY_MIN;

    /// From the one minute to the other; none if it does not end after it starts, lasts for more than a day or goes past
    /// the end of the day after.
    pub const fn new(from_min: u16, to_min: u16) -> Option<Self> {
        let is_one = from_min < to_min && to_min - from_min <= DAY_MIN && to_min <= Self::LATEST_MIN;
        if is_one { Some(Self { from_min, to_min }) } else { None }
    }

    /// From a minute to when a clock next shows the other one: on the day after, if that is not later on the clock. None past
    /// the end of the day after.
    ///
    /// # Examples
    /// ```
    /// use film::Hours;
    /// assert_eq!(Hours::until(19 * 60, 3 * 60), Hours::new(1140, 1620));
    /// assert_eq!(Hours::until(9 * 60, 17 * 60), Some(Hours::USUAL));
    /// ```
    pub const fn until(from_min: u16, shown_min: u16) -> Option<Self> {
        let (starts, ends) = (from_min % DAY_MIN, shown_min % DAY_MIN);
        let lasts_min = if starts < ends { ends - starts } else { ends + DAY_MIN - starts };
        Self::new(from_min, from_min.saturating_add(lasts_min))
    }

    /// Minutes from midnight to where it starts.
    pub const fn from_min(self) -> u16 {
        self.from_min
    }

    /// Minutes from midnight to where it ends.
    pub const fn to_min(self) -> u16 {
        self.to_min
    }

    /// Whether it ends on the day after.
    pub const fn ends_next_day(self) -> bool {
        self.to_min > DAY_MIN
    }

    /// Which minute it is when a clock shows `shown_min` and these are the hours of the work: of the day after, if that is
    /// nearer to their end than the same time of the day is to their start.
    ///
    /// # Examples
    /// Who works from 19:00 to 03:00 means the night by half past midnight, and is early at half past six in the evening.
    /// ```
    /// let night = film::Hours::until(19 * 60, 3 * 60).expect("hours");
    /// assert_eq!([night.minute_at(30), night.minute_at(1110)], [1470, 1110]);
    /// ```
    pub const fn minute_at(self, shown_min: u16) -> u16 {
        let next_min = shown_min.saturating_add(DAY_MIN);
        let is_of_night = next_min.saturating_sub(self.to_min) < self.from_min.saturating_sub(shown_min);
        if is_of_night { next_min } else { shown_min }
    }
}

impl Place {
    /// A place of which nothing but its name is known.
    pub fn new(id: PlaceId, name: &str) -> Self {
        Self {
            id,
            name: name.to_owned(),
            notes: String::new(),
            spot: None,
            permission: false,
            room_tone: false,
            wild_track: false,
            photos: Arc::default(),
            paced: None,
            unknown: Unknown::default(),
        }
    }

    /// What it is called, in words for whoever reads of it: "a place without a name" where none is given.
    pub fn called(&self) -> &str {
        if self.name.is_empty() { say!("a place without a name") } else { &self.name }
    }
}

impl FilmFacts {
    /// What it is called, in words for whoever reads of it: "A film without a title" where none is given.
    pub fn called(&self) -> &str {
        if self.title.is_empty() { say!("A film without a title") } else { &self.title }
    }

    /// Whether every shot is made in the same way as with `other`, whatever the film is called.
    pub fn shoots_as(&self, other: &Self) -> bool {
        let Self { title: _, line: _, aspect, frame_rate, shutter, recording, bias: _, mains: _, unknown: _ } =
            self;
        *aspect == other.aspect
            && *frame_rate == other.frame_rate
            && *shutter == other.shutter
            && *recording == other.recording
    }
}

impl Film {
    /// A film of which nothing is said yet.
    pub fn empty(kit: Arc<Kit>, aspect: Aspect) -> Self {
        let recording = kit.recordings.first().map_or_else(String::new, |mode| mode.name.clone());
        Self {
            facts: Arc::new(FilmFacts {
                title: String::new(),
                line: String::new(),
                aspect,
                frame_rate: FrameRate::FILM,
                shutter: ShutterAngle::HALF,
                recording,
                bias: USUAL_BIAS,
                mains: None,
                unknown: Unknown::default(),
            }),
            kit,
            cast: Arc::from([]),
            places: Arc::from([]),
            days: Arc::from([]),
            scenes: Vec::new(),
            takes: Arc::from([]),
        }
    }

    /// Somebody of the cast.
    pub fn person(&self, id: PersonId) -> Option<&CastMember> {
        self.cast.iter().find(|person| person.id == id)
    }

    /// What somebody is called; "somebody" if they are gone.
    pub fn name_of(&self, id: PersonId) -> &str {
        self.person(id).map_or_else(|| say!("somebody"), |person| person.name.as_str())
    }

    /// A place.
    pub fn place(&self, id: PlaceId) -> Option<&Place> {
        self.places.iter().find(|place| place.id == id)
    }

    /// The place at which a scene plays, if it says one that is there.
    pub fn place_of(&self, scene: &Scene) -> Option<&Place> {
        self.place(scene.facts.place?)
    }

    /// A day of shooting.
    pub fn day(&self, id: DayId) -> Option<&ShootingDay> {
        self.days.iter().find(|day| day.id == id)
    }

    /// A scene.
    pub fn scene(&self, id: SceneId) -> Option<&Arc<Scene>> {
        self.scenes.iter().find(|scene| scene.id == id)
    }

    /// A shot, with its scene.
    pub fn shot(&self, id: ShotId) -> Option<(&Arc<Scene>, &Arc<Shot>)> {
        self.scenes.iter().find_map(|scene| Some((scene, scene.shot(id)?)))
    }

    /// How long the cut of all scenes is, seconds.
    pub fn cut_s(&self) -> f64 {
        self.scenes.iter().map(|scene| scene.cut_s()).sum()
    }

    /// A shot's number as a shot list counts it: the scene's, and the shot's in it, both from 1.
    pub fn number_of(&self, id: ShotId) -> Option<(usize, usize)> {
        self.scenes.iter().enumerate().find_map(|(at, scene)| {
            scene.shots.iter().position(|shot| shot.id == id).map(|shot| (at + 1, shot + 1))
        })
    }

    /// The same number in one text: `2.3`.
    pub fn numbered(&self, id: ShotId) -> Option<String> {
        self.number_of(id).map(|(scene, shot)| format!("{scene}.{shot}"))
    }

    /// The same in words for whoever reads of it: "a shot" for one that is gone.
    pub fn shot_called(&self, id: ShotId) -> String {
        self.numbered(id).unwrap_or_else(|| say!("a shot").to_owned())
    }
}
