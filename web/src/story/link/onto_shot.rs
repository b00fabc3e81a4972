//! What of a changed plan is the shot's own.

use film::{LensChoice, Rehearsal, Shot, ShotOf};
use glam::DVec2;
use language::key;
use optics::CropShift;
use requests::{ArrangementRequest, ShotSizeRequest, TakeRequest};
use staging::{BESIDE_A_SHOULDER, FocusOn, Look, PhoneHeight, Stand, Support, Take, azimuth};
use units::{Angle, FrameRate, Length};

use super::Linked;
use super::alike::Differences;
use crate::dressing::THING_M;
use crate::session::Plan;

/// How many a plan's shot is of, or whether it is of a thing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    Thing,
    One,
    Two,
    OverShoulder,
}

impl Kind {
    pub(super) fn of(plan: &Plan) -> Self {
        if plan.shot.shot_size == ShotSizeRequest::Insert {
            return Self::Thing;
        }
        let second = plan.shot.subject.as_ref().and_then(|subject| subject.second_person.as_ref());
        match second.map(|second| second.arrangement) {
            None => Self::One,
            Some(Some(ArrangementRequest::OverShoulder)) => Self::OverShoulder,
            Some(Some(ArrangementRequest::Beside) | None) => Self::Two,
        }
    }
}

/// Something that is in a shot of which nobody has said what it is.
const A_THING: &str = "";

/// The shot as the plan has it after; none if it is of somebody who is not there.
pub(super) fn shot_after(linked: Linked<'_>, differences: &mut Differences<'_>) -> Option<Shot> {
    let mut shot = linked.shot.clone();
    set_subject(linked, differences, &mut shot)?;
    set_framing(differences, &mut shot);
    // A point of view stands where its owner does.
    if !matches!(shot.of, ShotOf::PointOfView { .. }) {
        set_place(differences, &mut shot);
    }
    set_lens(differences, &mut shot);
    set_take(linked, differences, &mut shot);
    Some(shot)
}

fn set_subject(linked: Linked<'_>, differences: &mut Differences<'_>, shot: &mut Shot) -> Option<()> {
    let kind = Kind::of(differences.after);
    if kind == Kind::of(differences.before) {
        if let ShotOf::Object { size, support, .. } = &mut shot.of {
            if let Some(Some(metres)) = differences.of(key!("size"), |plan| plan.shot.insert_size_m) {
                *size = Length::from_m(metres);
            }
            if let Some(metres) = differences.of(key!("what it is on"), |plan| plan.shot.insert_above_floor_m)
            {
                *support = Support::from_height(metres.map(Length::from_m));
            }
        }
        return Some(());
    }
    differences.note(key!("subject"));
    let Rehearsal { own, origin, .. } = linked.rehearsal;
    if kind == Kind::Thing {
        let asked = &differences.after.shot;
        let size = Length::from_m(asked.insert_size_m.unwrap_or(THING_M));
        let support = Support::from_height(asked.insert_above_floor_m.map(Length::from_m));
        shot.of =
            ShotOf::Object { name: A_THING.to_owned(), size, place: *origin, support, hands: Vec::new() };
        return Some(());
    }
    let first = own.first().copied().or_else(|| linked.nearest_person(&[]).map(|one| one.who))?;
    let second = || own.get(1).copied().or_else(|| linked.nearest_person(&[first]).map(|one| one.who));
    shot.of = match kind {
        Kind::Thing | Kind::One => ShotOf::One(first),
        Kind::Two => ShotOf::Two(first, second()?),
        Kind::OverShoulder => {
            let near = second()?;
            shot.side = past_shoulder(linked, first, near, differences.after)?;
            ShotOf::OverShoulder { facing: first, near }
        }
    };
    Some(())
}

/// The side from which a phone sees `facing` past the shoulder of `near`, as both stand.
///
/// ```text
/// s = β ± asin(b / a)
/// ```
/// `β` the direction from the one to the other; `a` how far apart they are; `b` how far beside the line of sight the near
/// one is.
fn past_shoulder(
    linked: Linked<'_>,
    facing: film::PersonId,
    near: film::PersonId,
    after: &Plan,
) -> Option<Angle> {
    let of = |who| linked.scene.blocking.person_of(&linked.film.cast, who, linked.rehearsal.starts_s);
    let (facing, near) = (of(facing)?, of(near)?);
    let way: DVec2 = near.place - facing.place;
    let beside = near.body.shoulder_breadth().to_m() * BESIDE_A_SHOULDER;
    let ahead = libm::sqrt((way.length_squared() - beside * beside).max(0.0));
    let off = Angle::from_components(beside, ahead);
    let left = after.shot.across_share.is_some_and(|share| share > 0.5);
    let towards = azimuth(way);
    Some(if left { towards - off } else { towards + off })
}

fn set_framing(differences: &mut Differences<'_>, shot: &mut Shot) {
    if let Some(size) = differences.of(key!("size"), |plan| plan.shot.shot_size) {
        shot.size = size.into();
    }
    if let Some(headroom) = differences.of(key!("headroom"), |plan| plan.shot.delivery.headroom_share) {
        shot.headroom = headroom;
    }
    let crop = |plan: &Plan| (plan.shot.delivery.crop_up_share, plan.shot.delivery.crop_right_share);
    if let Some((up, right)) = differences.of(key!("crop"), crop) {
        let is_moved = up.is_some() || right.is_some();
        shot.crop_shift = is_moved.then(|| CropShift { up: up.unwrap_or(0.0), right: right.unwrap_or(0.0) });
    }
    if let Some(tilt) = differences.of(key!("look"), |plan| plan.shot.look_tilt_deg) {
        shot.look = tilt.map_or(Look::Aimed, |degrees| Look::Tilt(Angle::from_deg(degrees)));
    }
    if let Some(across) = differences.of(key!("side in the frame"), |plan| plan.shot.across_share) {
        shot.across = across.unwrap_or(0.5);
    }
    if let Some(metres) = differences.of(key!("background"), |plan| plan.shot.background_behind_subject_m) {
        shot.background_behind = Length::from_m(metres);
    }
    if let Some(focus) = differences.of(key!("focus"), |plan| plan.shot.focus_at_m) {
        shot.focus = focus.map_or(FocusOn::Subject, |metres| FocusOn::At(Length::from_m(metres)));
    }
    let foreground = |plan: &Plan| plan.set().and_then(|set| set.foreground);
    if let Some(near) = differences.of(key!("foreground"), foreground) {
        // One that is out of range is none: the picture shows none either.
        shot.foreground = near.and_then(|near| near.to_foreground().ok());
    }
}

/// Where the phone is.
fn set_place(differences: &mut Differences<'_>, shot: &mut Shot) {
    let height = |plan: &Plan| (plan.shot.camera_height_m, plan.shot.camera_height);
    if let Some((metres, words)) = differences.of(key!("height"), height) {
        shot.height = match (metres, words) {
            (Some(metres), _) => PhoneHeight::Fixed(Length::from_m(metres)),
            (None, Some(words)) => words.into(),
            (None, None) => PhoneHeight::BySize,
        };
    }
    if let Some(stand) = differences.of(key!("place of the phone"), |plan| plan.shot.stand_at_m) {
        shot.stand = stand.map_or(Stand::ForSize, |metres| Stand::At(Length::from_m(metres)));
    }
    if let Some(degrees) = differences.of(key!("place of the phone"), |plan| plan.phone_bearing_deg) {
        shot.side = Angle::from_deg(degrees);
    }
}

fn set_lens(differences: &mut Differences<'_>, shot: &mut Shot) {
    if let Some((name, in_sensor_zoom)) = differences.of(key!("lens"), |plan| (plan.lens.clone(), plan.zoom))
    {
        shot.lens = LensChoice::Fixed { name, in_sensor_zoom };
    }
    if let Some(adapter) = differences.of(key!("adapter"), |plan| plan.adapter.clone()) {
        shot.adapter = adapter;
    }
}

fn set_take(linked: Linked<'_>, differences: &mut Differences<'_>, shot: &mut Shot) {
    let moves = |plan: &Plan| plan.shot.take.map(|take| TakeRequest { duration_s: None, ..take });
    if differences.of(key!("move"), moves).is_some() {
        let Take { movement, pull, duration_s: _ } = differences.after.shot.to_take().unwrap_or_default();
        (shot.movement, shot.pull) = (movement, pull);
    }
    let lasts = |plan: &Plan| plan.shot.take.and_then(|take| take.duration_s);
    // A take that has gone says nothing of how long the shot is.
    if let Some(seconds) = lasts(differences.after)
        && differences.of(key!("length"), lasts).is_some()
    {
        shot.planned_s = seconds;
    }
    let rate = |plan: &Plan| plan.shot.frame_rate().map(FrameRate::to_fps).ok();
    if let Some(Some(fps)) = differences.of(key!("frame rate"), rate) {
        let plays = linked.film.facts.frame_rate;
        shot.capture_rate = FrameRate::checked_from_fps(fps).ok().filter(|rate| *rate != plays);
    }
}
