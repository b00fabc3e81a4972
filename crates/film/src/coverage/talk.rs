//! Two people who face each other.
//!
//! Common practice: both of them first, then past each one's shoulder to the other, then each alone, nearer as the scene
//! goes on, with what lies between them to cut away to. Every shot of one has its reverse of the other.

use language::say;
use staging::{BESIDE_A_SHOULDER, Landmark, PhoneHeight, ShotSize, azimuth};
use units::Angle;

use super::ground::Ground;
use super::proposal::{Proposal, Role, Step, bearings_of_a_face, heights, tenth_degrees};
use super::words::{everybody, looking, names, wanting};
use super::{CoverageWish, Pace};
use crate::findings::heights_past_shoulder;
use crate::id::PersonId;
use crate::scene::Setting;
use crate::shot::{ShotOf, Sound};

/// A single is so far off the other's eyes, degrees: chosen because both eyes show and the look still leaves the frame.
const SINGLE_OFF_DEG: f64 = 40.0;
/// A tight one is nearer to the other's eyes, degrees: common practice has the nearest shots look most into a face.
const TIGHT_OFF_DEG: f64 = 20.0;

/// What two people who face each other offer.
pub(super) fn steps(ground: &Ground<'_>, wish: &CoverageWish, two: (PersonId, PersonId)) -> Vec<Step> {
    let (one, other) = if wish.is_odd() { (two.1, two.0) } else { two };
    let pair = |make: &dyn Fn(PersonId, PersonId) -> Option<Proposal>| -> Step {
        [make(one, other), make(other, one)].into_iter().flatten().collect()
    };
    let talk = Talk { ground, wish };
    let insert = Proposal::held(ground, wish, one, 50.0);
    vec![
        vec![talk.master(one, other)],
        pair(&|facing, near| talk.shoulder(facing, near)),
        pair(&|who, other| talk.single(who, other)),
        vec![insert],
        pair(&|who, other| talk.tight(who, other)),
        vec![talk.point_of_view(one, other)],
        vec![talk.apart(one, other)],
        vec![Proposal::held(ground, wish, other, 50.0)],
        vec![talk.point_of_view(other, one)],
    ]
}

struct Talk<'a> {
    ground: &'a Ground<'a>,
    wish: &'a CoverageWish,
}

impl Talk<'_> {
    /// Both, across the line.
    fn master(&self, one: PersonId, other: PersonId) -> Proposal {
        let sizes =
            self.wish.by_pace([ShotSize::Wide, ShotSize::MidThigh], [ShotSize::MidThigh, ShotSize::Medium]);
        Proposal::new(self.wish, Role::Master, ShotOf::Two(one, other), &sizes, self.ground.normal)
            .at_heights(heights(self.wish, PhoneHeight::At(Landmark::MidThigh)))
            .pushed_if_calm(self.wish)
            .showing(everybody(self.ground))
    }

    /// One past the other's shoulder.
    ///
    /// ```text
    /// δ = atan(0.8 b / a)
    /// ```
    /// `δ` the turn from the near one towards the phone's side of the line; `b` the near one's shoulder breadth; `a` how far
    /// they are apart.
    fn shoulder(&self, facing: PersonId, near: PersonId) -> Option<Proposal> {
        let (from, to) = (self.ground.person(facing)?, self.ground.person(near)?);
        let apart_m = from.place.distance(to.place);
        let beside_m = to.body.shoulder_breadth().to_m() * BESIDE_A_SHOULDER;
        let turn = Angle::from_components(beside_m, apart_m);
        let bearing = tenth_degrees(self.ground.turned(azimuth(to.place - from.place), turn.to_deg()));
        let [first, second] =
            self.wish.by_pace([ShotSize::Medium, ShotSize::ChestUp], [ShotSize::ChestUp, ShotSize::Medium]);
        // Wider than this the near one is no shoulder any more, and nearer the phone would be before them.
        let sizes = [first, second, ShotSize::Tight, ShotSize::MidThigh];
        let of = ShotOf::OverShoulder { facing, near };
        let words = say!("{}, past {}'s shoulder", wanting(self.ground, facing), names(self.ground, &[near]));
        Some(Proposal {
            sizes: sizes.to_vec(),
            bearings: vec![bearing],
            ..Proposal::new(self.wish, Role::Shoulder, of, &sizes, bearing)
                .at_heights(heights_past_shoulder(&from.body, &to.body))
                .heard(self.speech())
                .showing(words)
        })
    }

    fn alone(&self, role: Role, who: PersonId, other: PersonId, off_deg: f64) -> Option<Proposal> {
        let (from, to) = (self.ground.person(who)?, self.ground.person(other)?);
        // A variant turns both alike: nearer to each other's eyes, or farther from them.
        let bearing = self.ground.turned(azimuth(to.place - from.place), off_deg + self.wish.turn_deg());
        let sizes: &[ShotSize] = match (role, self.wish.pace) {
            (Role::Tight, Pace::Calm) => &[ShotSize::Tight, ShotSize::ExtremeTight],
            (Role::Tight, Pace::Restless) => &[ShotSize::ExtremeTight, ShotSize::Tight],
            (_, Pace::Calm) => &[ShotSize::ChestUp, ShotSize::Tight],
            (_, Pace::Restless) => &[ShotSize::Tight, ShotSize::ChestUp],
        };
        let proposal = Proposal::new(self.wish, role, ShotOf::One(who), sizes, bearing);
        Some(Proposal { bearings: bearings_of_a_face(bearing), ..proposal }.heard(self.speech()))
    }

    fn single(&self, who: PersonId, other: PersonId) -> Option<Proposal> {
        let proposal = self.alone(Role::Single, who, other, SINGLE_OFF_DEG)?;
        // A little under the eyes makes a face stronger without being seen as low: common practice.
        let heights = heights(self.wish, PhoneHeight::At(Landmark::Shoulder));
        Some(proposal.at_heights(heights).showing(looking(self.ground, who)))
    }

    fn tight(&self, who: PersonId, other: PersonId) -> Option<Proposal> {
        let words = say!("{}'s face", names(self.ground, &[who]));
        Some(self.alone(Role::Tight, who, other, TIGHT_OFF_DEG)?.showing(words).nice_to_have())
    }

    fn point_of_view(&self, of: PersonId, seen: PersonId) -> Proposal {
        point_of_view(self.ground, self.wish, of, seen)
    }

    /// Both small in the place, from a side of the master.
    fn apart(&self, one: PersonId, other: PersonId) -> Proposal {
        let sizes = [ShotSize::ExtremeWide, ShotSize::Wide];
        let bearing = self.ground.normal + Angle::from_deg(40.0);
        Proposal::new(self.wish, Role::Place, ShotOf::Two(one, other), &sizes, bearing)
            .on_widest()
            .at_heights(heights(self.wish, PhoneHeight::Ground))
            .moving(&[self.wish.push()])
            .showing(say!("{}, small in the place", names(self.ground, &[one, other])))
            .nice_to_have()
    }

    /// Inside, where a recorder hears them, they are heard where they are seen speaking.
    fn speech(&self) -> Sound {
        match self.ground.scene.facts.setting {
            Setting::Inside => Sound::Dialogue,
            Setting::Outside => Sound::None,
        }
    }
}

/// Somebody as another sees them.
pub(super) fn point_of_view(
    ground: &Ground<'_>,
    wish: &CoverageWish,
    of: PersonId,
    seen: PersonId,
) -> Proposal {
    let words = say!("{} as {} sees them", names(ground, &[seen]), names(ground, &[of]));
    let bearing = ground.normal;
    Proposal {
        bearings: vec![tenth_degrees(bearing)],
        heights: vec![PhoneHeight::BySize],
        ..Proposal::new(
            wish,
            Role::PointOfView,
            ShotOf::PointOfView { of, seen },
            &[ShotSize::Medium],
            bearing,
        )
        .showing(words)
        .nice_to_have()
    }
}
