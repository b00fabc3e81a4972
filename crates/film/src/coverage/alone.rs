//! One person who stays where they are.
//!
//! Common practice: the place and them in it, then nearer and round them, with what they hold and what they see.

use glam::DVec2;
use language::say;
use staging::{Landmark, PhoneHeight, ShotSize, Stand, Support, along};
use units::{Angle, Length};

use super::CoverageWish;
use super::ground::Ground;
use super::proposal::{Proposal, Role, Step, heights, tenth_degrees};
use super::words::{everybody, names, wanting};
use crate::id::PersonId;
use crate::shot::ShotOf;

/// How far ahead of somebody what they see is, where nothing says so, metres: chosen because a phone in their place has it
/// whole in the frame.
const SEEN_AHEAD_M: f64 = 1.5;
/// How large it is, metres: chosen because such a thing fills a good part of the frame from there.
const SEEN_SIZE: Length = Length::from_m(0.4);

/// What one person who stays offers.
pub(super) fn steps(ground: &Ground<'_>, wish: &CoverageWish, who: PersonId) -> Vec<Step> {
    let facing = ground.person(who).map_or(Angle::ZERO, |person| person.facing);
    let name = names(ground, &[who]);
    let hand = if wish.is_odd() { -1.0 } else { 1.0 };
    let view = |role: Role, sizes: &[ShotSize], off_deg: f64| {
        Proposal::new(wish, role, ShotOf::One(who), sizes, ground.turned(facing, off_deg * hand))
    };
    let mut steps = vec![
        view(Role::Place, &[wish.by_pace(ShotSize::ExtremeWide, ShotSize::Wide), ShotSize::Wide], 65.0)
            .on_widest()
            .at_heights(heights(wish, PhoneHeight::At(Landmark::Knee)))
            .showing(everybody(ground)),
        view(Role::Master, &[wish.by_pace(ShotSize::Medium, ShotSize::ChestUp), ShotSize::Medium], 40.0)
            .at_heights(heights(wish, PhoneHeight::At(Landmark::Waist)))
            .pushed_if_calm(wish)
            .showing(say!("{}, half from the side", wanting(ground, who))),
        Proposal::held(ground, wish, who, 55.0),
        view(Role::Single, &[wish.by_pace(ShotSize::ChestUp, ShotSize::Tight), ShotSize::ChestUp], -10.0)
            .at_heights(heights(wish, PhoneHeight::At(Landmark::Chest)))
            .showing(say!("{name}, nearer")),
    ];
    steps.extend(what_they_see(ground, wish, who));
    steps.extend([
        view(Role::Tight, &[wish.by_pace(ShotSize::Tight, ShotSize::ExtremeTight), ShotSize::Tight], 25.0)
            .at_heights(heights(wish, PhoneHeight::At(Landmark::Chin)))
            .showing(say!("{name}'s face")),
        view(Role::Behind, &[wish.by_pace(ShotSize::MidThigh, ShotSize::Medium), ShotSize::MidThigh], 150.0)
            .at_heights(heights(wish, PhoneHeight::At(Landmark::Crown)))
            .showing(say!("behind {name}, and what is before them"))
            .nice_to_have(),
        view(Role::Pair, &[ShotSize::ChestUp, ShotSize::Medium], 90.0)
            .moving(&[wish.push()])
            .showing(say!("{name} from the side"))
            .nice_to_have(),
    ]);
    steps.into_iter().map(|proposal| vec![proposal]).collect()
}

/// A thing where they look, seen from where they are.
fn what_they_see(ground: &Ground<'_>, wish: &CoverageWish, who: PersonId) -> Option<Proposal> {
    let person = ground.person(who)?;
    let nearest = |place: DVec2| place.distance(person.place);
    // What of the set lies ahead of them, if anything does, else a spot on their way of looking.
    let ahead = along(person.facing);
    let pieces = ground.scene.blocking.pieces.iter().filter(|piece| {
        let way = piece.place - person.place;
        way.length() > 0.8 && way.normalize_or_zero().dot(ahead) > 0.9
    });
    let piece = pieces.min_by(|one, other| nearest(one.place).total_cmp(&nearest(other.place)));
    let room_m = ground.scene.facts.room.map_or(f64::INFINITY, Length::to_m);
    let away_m = piece.map_or(SEEN_AHEAD_M, |piece| nearest(piece.place)).min(room_m);
    let place = ((person.place + ahead * away_m) * 100.0).round() / 100.0;
    let eyes = person.body.height_of(Landmark::Eyes);
    let name = say!("what {} sees", names(ground, &[who]));
    let bearing = tenth_degrees(person.facing + Angle::from_deg(180.0));
    let of = ShotOf::Object {
        name: name.clone(),
        size: SEEN_SIZE,
        place,
        support: Support::Table,
        hands: Vec::new(),
    };
    Some(Proposal {
        sizes: vec![ShotSize::Insert],
        bearings: vec![bearing],
        heights: vec![PhoneHeight::Fixed(eyes)],
        stand: Stand::At(Length::from_m(away_m.max(0.3))),
        ..Proposal::new(wish, Role::PointOfView, of, &[ShotSize::Insert], bearing).showing(name)
    })
}
