//! What would be shot if the phone could: a subject, and what is tried for it in the order of preference.

use language::say;
use staging::{Landmark, PhoneHeight, ShotSize, Stand};
use units::Angle;

use super::ground::Ground;
use super::{CoverageWish, Pace};
use crate::id::PersonId;
use crate::shot::{Priority, Shot, ShotOf, Sound};

/// What a shot is for in its scene. Two of one role and subject say the same twice.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Role {
    /// Everybody and where they are.
    Master,
    /// Somebody past another's shoulder.
    Shoulder,
    /// Somebody alone.
    Single,
    /// A face.
    Tight,
    /// What somebody holds or sees, or a thing of the place.
    Insert,
    /// As somebody sees it.
    PointOfView,
    /// Somebody in the place, small.
    Place,
    /// Going along with somebody.
    Along,
    /// Somebody from behind.
    Behind,
    /// Two people.
    Pair,
    /// One more view where more shots are wished for than the scene has roles.
    Another,
}

/// Which lens is preferred.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum LensWish {
    /// The one that serves the size best.
    Auto,
    /// The one that sees most.
    Widest,
    /// That one.
    Named(String),
}

/// How the phone would move.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum MoveWish {
    /// Nowhere.
    Still,
    /// Towards the subject, by that share of its distance in a second.
    Push(f64),
    /// Along with a walker: metres in a second, and for how long they go straight on.
    Follow { per_second_m: f64, straight_s: f64 },
    /// Turning with a walker who goes that far in a second, metres.
    Pan { per_second_m: f64 },
}

/// What would be shot.
#[derive(Debug, Clone)]
pub(super) struct Proposal {
    pub(super) role: Role,
    pub(super) of: ShotOf,
    pub(super) sizes: Vec<ShotSize>,
    /// Directions from the subject to the phone on the scene's floor.
    pub(super) bearings: Vec<Angle>,
    pub(super) heights: Vec<PhoneHeight>,
    pub(super) lenses: Vec<LensWish>,
    pub(super) moves: Vec<MoveWish>,
    pub(super) stand: Stand,
    pub(super) action: String,
    pub(super) sound: Sound,
    pub(super) priority: Priority,
}

/// One proposal, or a shot and its reverse.
pub(super) type Step = Vec<Proposal>;

/// Turns tried after the preferred direction, degrees, the smallest first: chosen so that the first that changes anything
/// for a cut comes soon.
const TURNS_DEG: [f64; 14] =
    [0.0, 15.0, -15.0, 32.0, -32.0, 50.0, -50.0, 70.0, -70.0, 95.0, -95.0, 125.0, -125.0, 165.0];
/// As far as a view of a face is turned from the preferred one, degrees: chosen because both eyes or a profile still show.
const FACE_TURNS_DEG: f64 = 50.0;
/// The most by which another variant turns a phone, degrees: chosen because a shot is then another picture, and its role in
/// the scene the same.
const VARIANT_TURN_DEG: f64 = 10.0;
/// The golden ratio's fraction: its multiples fill an interval evenly however many are taken.
const GOLDEN: f64 = 0.618_033_988_749_894_9;
/// How fast a phone is pushed, as the share of its distance in a second: chosen, as a push is felt and not seen in a calm
/// scene.
const CALM_PUSH: f64 = 0.02;
/// The same where the cut is restless.
const RESTLESS_PUSH: f64 = 0.08;

impl CoverageWish {
    /// How much a variant turns a phone that is not held by two people's places.
    pub(super) fn turn_deg(&self) -> f64 {
        let share = (f64::from(self.variant) * GOLDEN + 0.5).fract();
        (share * 2.0 - 1.0) * VARIANT_TURN_DEG
    }

    /// Whether this is every second variant.
    pub(super) const fn is_odd(&self) -> bool {
        self.variant % 2 == 1
    }

    /// The one or the other, as the pace has it.
    pub(super) fn by_pace<Choice>(&self, calm: Choice, restless: Choice) -> Choice {
        match self.pace {
            Pace::Calm => calm,
            Pace::Restless => restless,
        }
    }

    /// A push as the pace has it.
    pub(super) fn push(&self) -> MoveWish {
        MoveWish::Push(self.by_pace(CALM_PUSH, RESTLESS_PUSH))
    }

    /// Whether the cut is to be restless.
    pub(super) const fn is_restless(&self) -> bool {
        matches!(self.pace, Pace::Restless)
    }
}

/// All sizes of a person, the preferred ones first, then the others by how near they are to the first.
pub(super) fn sizes_from(preferred: &[ShotSize]) -> Vec<ShotSize> {
    let place = |size: ShotSize| ShotSize::OF_PEOPLE.iter().position(|one| *one == size).unwrap_or(0);
    let first = preferred.first().map_or(0, |size| place(*size));
    let mut others: Vec<ShotSize> =
        ShotSize::OF_PEOPLE.into_iter().filter(|size| !preferred.contains(size)).collect();
    others.sort_by_key(|size| place(*size).abs_diff(first));
    preferred.iter().copied().chain(others).collect()
}

/// A direction and those tried after it, in whole degrees, which is as well as anybody can stand.
pub(super) fn bearings_from(preferred: Angle) -> Vec<Angle> {
    TURNS_DEG.into_iter().map(|turn| whole_degrees(preferred + Angle::from_deg(turn))).collect()
}

/// The same where the face must be seen: not farther round.
pub(super) fn bearings_of_a_face(preferred: Angle) -> Vec<Angle> {
    let near = TURNS_DEG.into_iter().filter(|turn| libm::fabs(*turn) <= FACE_TURNS_DEG);
    near.map(|turn| whole_degrees(preferred + Angle::from_deg(turn))).collect()
}

/// The same direction within a turn, to the degree.
pub(super) fn whole_degrees(direction: Angle) -> Angle {
    Angle::from_deg(libm::round(direction.to_deg()).rem_euclid(360.0))
}

/// The same direction within a turn, to a tenth of a degree.
pub(super) fn tenth_degrees(direction: Angle) -> Angle {
    Angle::from_deg((libm::round(direction.to_deg() * 10.0) / 10.0).rem_euclid(360.0))
}

/// Heights for a size of somebody: level where the cut is calm, else lower or higher first.
pub(super) fn heights(wish: &CoverageWish, restless: PhoneHeight) -> Vec<PhoneHeight> {
    wish.by_pace(
        vec![PhoneHeight::BySize, PhoneHeight::At(Landmark::Chest), restless],
        vec![restless, PhoneHeight::BySize, PhoneHeight::At(Landmark::Waist)],
    )
}

impl Proposal {
    /// Somebody in focus, the phone in that direction from them, turned a little by the variant.
    pub(super) fn new(
        wish: &CoverageWish,
        role: Role,
        of: ShotOf,
        sizes: &[ShotSize],
        bearing: Angle,
    ) -> Self {
        Self {
            role,
            of,
            sizes: sizes_from(sizes),
            bearings: bearings_from(bearing + Angle::from_deg(wish.turn_deg())),
            heights: vec![
                PhoneHeight::BySize,
                PhoneHeight::At(Landmark::Chest),
                PhoneHeight::At(Landmark::Waist),
            ],
            lenses: vec![LensWish::Auto],
            moves: vec![MoveWish::Still],
            stand: Stand::ForSize,
            action: String::new(),
            sound: Sound::None,
            priority: Priority::MustHave,
        }
    }

    /// A shot as it is intended, from elsewhere.
    pub(super) fn again(wish: &CoverageWish, shot: &Shot) -> Self {
        let mut proposal = Self {
            stand: shot.stand,
            action: shot.action.clone(),
            sound: shot.sound,
            priority: shot.priority,
            ..Self::new(wish, Role::Another, shot.of.clone(), &[shot.size], shot.side)
        };
        proposal.heights.insert(0, shot.height);
        if shot.is_insert() {
            proposal.sizes = vec![shot.size];
        }
        proposal
    }

    /// What somebody holds.
    pub(super) fn held(ground: &Ground<'_>, wish: &CoverageWish, who: PersonId, turn_deg: f64) -> Self {
        let facing = ground.person(who).map_or(Angle::ZERO, |person| person.facing);
        let bearing = ground.turned(facing, turn_deg + wish.turn_deg());
        Self {
            bearings: bearings_of_a_face(bearing),
            sizes: vec![ShotSize::Insert],
            heights: vec![
                PhoneHeight::At(Landmark::Chest),
                PhoneHeight::At(Landmark::Eyes),
                PhoneHeight::BySize,
            ],
            action: say!("what {} holds", ground.film.name_of(who)),
            priority: Priority::NiceToHave,
            ..Self::new(wish, Role::Insert, ShotOf::One(who), &[ShotSize::Insert], bearing)
        }
    }

    /// The same, tried on the lens that sees most first.
    pub(super) fn on_widest(mut self) -> Self {
        self.lenses.insert(0, LensWish::Widest);
        self
    }

    /// The same with its moves, the last of them always none.
    pub(super) fn moving(mut self, moves: &[MoveWish]) -> Self {
        self.moves = moves.to_vec();
        self.moves.push(MoveWish::Still);
        self
    }

    /// The same, slowly nearing where the cut is calm: a restless one comes back to it, so that it stays.
    pub(super) fn pushed_if_calm(self, wish: &CoverageWish) -> Self {
        if wish.is_restless() { self } else { self.moving(&[wish.push()]) }
    }

    /// The same from these heights first.
    pub(super) fn at_heights(mut self, heights: Vec<PhoneHeight>) -> Self {
        self.heights = heights;
        self
    }

    /// The same with what happens in it.
    pub(super) fn showing(mut self, action: String) -> Self {
        self.action = action;
        self
    }

    /// The same, heard.
    pub(super) fn heard(mut self, sound: Sound) -> Self {
        self.sound = sound;
        self
    }

    /// The same, which the scene can do without.
    pub(super) fn nice_to_have(mut self) -> Self {
        self.priority = Priority::NiceToHave;
        self
    }
}
