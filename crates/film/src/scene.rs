//! A scene: what happens, where everybody is, the shots of it, and how they are cut.

use std::sync::Arc;

use language::{key, text};
use optics::ExposureValue;
use units::{Length, QuantityError, checked};

use crate::id::{EntryId, PersonId, PlaceId, SceneId, ShotId};
use crate::scene_blocking::SceneBlocking;
use crate::shot::Shot;
use crate::unknown::Unknown;

/// A scene.
///
/// **Invariant**, kept by [`Film::apply`](crate::Film::apply) and by reading files: every entry of the cut is of a shot of
/// this scene, and no two things of a kind have one id.
#[derive(Debug, Clone, PartialEq)]
pub struct Scene {
    /// Known by this.
    pub id: SceneId,
    /// What it is.
    pub facts: Arc<SceneFacts>,
    /// Where everybody and everything is, and when.
    pub blocking: Arc<SceneBlocking>,
    /// The shots of it.
    pub shots: Vec<Arc<Shot>>,
    /// The planned edit: which stretch of which shot follows which.
    pub cut: Vec<Entry>,
    /// Findings that are kept anyway, and why.
    pub kept: Vec<Kept>,
}

/// What a scene is, in the trade's own terms.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct SceneFacts {
    /// What it is called.
    pub title: String,
    /// Where it plays.
    pub place: Option<PlaceId>,
    /// Inside or outside.
    pub setting: Setting,
    /// When it plays.
    pub time: TimeOfDay,
    /// The mood that is wanted.
    pub mood: String,
    /// What each wants.
    pub wants: Vec<Want>,
    /// What is in the way.
    pub obstacle: String,
    /// What happens.
    pub happens: String,
    /// What it changes.
    pub changes: String,
    /// How far from somebody the phone can go there, if walls or edges say so.
    pub room: Option<Length>,
    /// How much light there is.
    pub light: SceneLight,
    /// Whether lamps on the mains are seen or light it.
    pub lamps: Lamps,
    /// The white balance that all its shots share, if it is chosen.
    pub white_balance: Option<WhiteBalance>,
    /// What a newer program wrote beside these.
    pub unknown: Unknown,
}

/// What somebody wants in a scene.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Want {
    /// Who.
    pub who: PersonId,
    /// What.
    pub what: String,
}

/// Inside or outside.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Setting {
    /// Within walls.
    Inside,
    /// Under the sky.
    #[default]
    Outside,
}

/// When a scene plays.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum TimeOfDay {
    /// Before sunrise.
    Dawn,
    /// The first hours.
    Morning,
    /// Around noon.
    #[default]
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

/// How much light a scene has.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum SceneLight {
    /// What the hour, the weather and the place give.
    #[default]
    ByHour,
    /// What was read from a meter or a camera, at ISO 100.
    Read(ExposureValue),
}

/// Whether lamps on the mains light a scene.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Lamps {
    /// Inside and at night they do, outside by day they do not.
    #[default]
    BySetting,
    /// They do.
    On,
    /// They do not.
    Off,
}

/// The colour of light that is made white: 1500 to 15000 kelvins.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct WhiteBalance(f64);

/// One entry of a cut: a stretch of a shot.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Entry {
    /// Known by this.
    pub id: EntryId,
    /// The shot.
    pub shot: ShotId,
    /// Which stretch of it; all of it as planned if nothing is said.
    pub stretch: Option<Stretch>,
}

/// A stretch of a shot, in seconds from its start. It ends after it starts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stretch {
    from_s: f64,
    to_s: f64,
}

/// A finding that is kept anyway.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Kept {
    /// The finding's rule.
    pub rule: String,
    /// Where it was found.
    pub at: KeptAt,
    /// Why it is kept.
    pub reason: String,
}

/// Where a finding is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum KeptAt {
    /// The scene as a whole.
    Scene,
    /// A shot.
    Shot(ShotId),
    /// The cut from one entry to the next.
    Cut(EntryId, EntryId),
}

/// The longest stretch of a shot, seconds: as long as the longest take.
pub const LONGEST_SHOT_S: f64 = 600.0;

impl Stretch {
    /// From the one second to the other; none unless it ends after it starts, within the longest shot.
    pub fn new(from_s: f64, to_s: f64) -> Option<Self> {
        (from_s >= 0.0 && from_s < to_s && to_s <= LONGEST_SHOT_S).then_some(Self { from_s, to_s })
    }

    /// Seconds into the shot at which it starts.
    pub const fn from_s(self) -> f64 {
        self.from_s
    }

    /// Seconds into the shot at which it ends.
    pub const fn to_s(self) -> f64 {
        self.to_s
    }
}

impl WhiteBalance {
    /// For light of so many kelvins.
    ///
    /// # Errors
    /// Refuses what is not 1500 to 15000 K: redder than a candle, bluer than a clear sky in the shade.
    pub fn from_kelvin(kelvin: f64) -> Result<Self, QuantityError> {
        checked(kelvin, 1500.0, 15_000.0, "K").map(Self)
    }

    /// In kelvins.
    pub const fn to_kelvin(self) -> f64 {
        self.0
    }
}

impl SceneFacts {
    /// Whether lamps on the mains light it.
    pub const fn has_lamps(&self) -> bool {
        match self.lamps {
            Lamps::On => true,
            Lamps::Off => false,
            Lamps::BySetting => {
                matches!(self.setting, Setting::Inside) || matches!(self.time, TimeOfDay::Night)
            }
        }
    }
}

impl Setting {
    /// What it is called in files, whatever is spoken.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Inside => key!("inside"),
            Self::Outside => key!("outside"),
        }
    }

    /// In plain words.
    pub fn name(self) -> &'static str {
        text(self.word())
    }
}

impl TimeOfDay {
    /// All of them, as a day goes.
    pub const ALL: [Self; 7] =
        [Self::Dawn, Self::Morning, Self::Day, Self::Afternoon, Self::GoldenHour, Self::Dusk, Self::Night];

    /// What it is called in files, whatever is spoken.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Dawn => key!("dawn"),
            Self::Morning => key!("morning"),
            Self::Day => key!("day"),
            Self::Afternoon => key!("afternoon"),
            Self::GoldenHour => key!("golden hour"),
            Self::Dusk => key!("dusk"),
            Self::Night => key!("night"),
        }
    }

    /// In plain words.
    pub fn name(self) -> &'static str {
        text(self.word())
    }
}

impl Entry {
    /// All of a shot.
    pub const fn whole(id: EntryId, shot: ShotId) -> Self {
        Self { id, shot, stretch: None }
    }

    /// The stretch of its shot that it shows, seconds: the whole, or what is said, within the shot as planned.
    pub fn stretch_of(&self, shot: &Shot) -> (f64, f64) {
        let whole_s = shot.planned_s;
        self.stretch
            .map_or((0.0, whole_s), |stretch| (stretch.from_s.min(whole_s), stretch.to_s.min(whole_s)))
    }
}

impl Scene {
    /// A scene of which nothing is said yet.
    pub fn empty(id: SceneId, blocking: SceneBlocking) -> Self {
        Self {
            id,
            facts: Arc::default(),
            blocking: Arc::new(blocking),
            shots: Vec::new(),
            cut: Vec::new(),
            kept: Vec::new(),
        }
    }

    /// A shot of the scene.
    pub fn shot(&self, id: ShotId) -> Option<&Arc<Shot>> {
        self.shots.iter().find(|shot| shot.id == id)
    }

    /// Everybody whom the scene names, some more than once.
    pub fn people(&self) -> impl Iterator<Item = PersonId> {
        let wants = self.facts.wants.iter().map(|want| want.who);
        let shots = self.shots.iter().flat_map(|shot| shot.of.people());
        self.blocking.people().chain(wants).chain(shots)
    }

    /// How long the cut is, seconds.
    pub fn cut_s(&self) -> f64 {
        self.cut
            .iter()
            .filter_map(|entry| {
                let (from_s, to_s) = entry.stretch_of(self.shot(entry.shot)?);
                Some(to_s - from_s)
            })
            .sum()
    }
}
