//! What stands where around one setup: a plain description that the frame and the floor plan draw.
//!
//! The plan's own directions: x to its right, y up the page, metres; the subject stands at its origin.

use glam::DVec3;
use optics::ViewTangents;
use staging::{Blur, Body, Camera, Setup, Shot, Subject};
use units::{Angle, Length};

use crate::session::{Foreground, Plan};

/// What stands where around one setup.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Scene {
    /// The phone.
    pub(crate) camera: Camera,
    /// The lens's place on the floor plan, metres; z is its height.
    pub(crate) phone: DVec3,
    /// The direction that the phone looks along the floor, clockwise from the plan's top.
    pub(crate) azimuth: Angle,
    /// What the delivered frame sees.
    pub(crate) view: ViewTangents,
    /// What the whole recorded image sees.
    pub(crate) whole_view: ViewTangents,
    /// The delivered frame's width over its height.
    pub(crate) aspect: f64,
    /// The recorded image's width over its height, desqueezed.
    pub(crate) whole_aspect: f64,
    /// People, the one in focus first.
    pub(crate) people: Vec<Person>,
    /// An object on a table, if the shot is of one: its size.
    pub(crate) object: Option<Length>,
    /// A piece near the lens.
    pub(crate) foreground: Option<DVec3>,
    /// The middle of the background, on the floor.
    pub(crate) background: DVec3,
    /// The direction along the background to its right, as the phone sees it, of length 1.
    pub(crate) background_right: DVec3,
    /// Nearest and farthest sharp axial distance; none is infinity. None if it cannot be told.
    pub(crate) sharp: Option<(Length, Option<Length>)>,
    /// How soft points are drawn. None if it cannot be told.
    pub(crate) blur: Option<Blur>,
    /// Axial distance of the background.
    pub(crate) background_depth: Length,
}

/// Somebody on the floor.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Person {
    /// Their body.
    pub(crate) body: Body,
    /// Where they stand.
    pub(crate) feet: DVec3,
    /// The direction that they face, clockwise from the plan's top.
    pub(crate) facing: Angle,
    /// Which tape colour is theirs: 0 for the first, 1 for the second.
    pub(crate) colour: usize,
}

/// The unit vector along the floor in direction `azimuth`, clockwise from the plan's top.
pub(crate) fn along(azimuth: Angle) -> DVec3 {
    DVec3::new(azimuth.sin(), azimuth.cos(), 0.0)
}

impl Scene {
    /// The scene of a shot and its setup.
    pub(crate) fn of(plan: &Plan, shot: &Shot, setup: &Setup, figures: Option<&staging::Figures>) -> Self {
        let bearing = Angle::from_deg(plan.phone_bearing_deg);
        let phone = along(bearing) * setup.distance.to_m() + DVec3::Z * setup.phone_height.to_m();
        // Back along the bearing lies the subject; the aim is off it by what puts the subject in its column.
        let azimuth = bearing + Angle::from_deg(180.0) - setup.subject_right;
        let camera = Camera::new(phone, azimuth, setup.tilt);
        let whole = optics::deliver(
            shot.recording.area(&shot.lens),
            shot.adapter.as_ref(),
            // The desqueezed image's own shape keeps all of it; every recorded shape is within range.
            optics::Aspect::new(setup.frame.desqueezed_px.0 / setup.frame.desqueezed_px.1)
                .unwrap_or(shot.aspect),
            optics::CropShift::default(),
        );
        let image_distance = shot.lens.image_distance(Some(setup.focus));
        let ahead = along(azimuth);
        let floor_of_phone = DVec3::new(phone.x, phone.y, 0.0);
        let background_ahead = setup.ahead.to_m() + shot.background_behind.to_m();
        Self {
            camera,
            phone,
            azimuth,
            view: setup.view,
            whole_view: optics::view_tangents(&whole, image_distance),
            aspect: setup.frame.aspect(),
            whole_aspect: whole.aspect(),
            people: people(plan, shot, bearing, ahead),
            object: match shot.subject {
                Subject::Object { size } => Some(size),
                Subject::Person(_) | Subject::Pair { .. } | Subject::OverShoulder { .. } => None,
            },
            foreground: plan.foreground.map(|Foreground { ahead_m, right_m }| {
                floor_of_phone + ahead * ahead_m + camera.right() * right_m
            }),
            background: floor_of_phone + ahead * background_ahead,
            background_right: camera.right(),
            sharp: figures.and_then(|figures| figures.sharp).map(|zone| {
                let far = match zone.far {
                    optics::FarLimit::At(far) => Some(far),
                    optics::FarLimit::Infinity => None,
                };
                (zone.near, far)
            }),
            blur: Blur::of(shot, setup),
            background_depth: setup.focus + shot.background_behind,
        }
    }
}

/// The people of a shot: the one in focus at the origin.
fn people(plan: &Plan, shot: &Shot, bearing: Angle, ahead: DVec3) -> Vec<Person> {
    let facing = bearing + Angle::from_deg(plan.facing_deg);
    let right = DVec3::new(ahead.y, -ahead.x, 0.0);
    let person =
        |body: Body, feet: DVec3, facing: Angle, colour: usize| Person { body, feet, facing, colour };
    match shot.subject {
        Subject::Person(body) => vec![person(body, DVec3::ZERO, facing, 0)],
        Subject::Pair { first, second, apart } => {
            let half = right * (apart.to_m() / 2.0);
            vec![
                person(first, -half, bearing + Angle::from_deg(-30.0), 0),
                person(second, half, bearing + Angle::from_deg(30.0), 1),
            ]
        }
        Subject::OverShoulder { facing: body, near, apart } => {
            // The near one stands a shoulder's breadth beside the line of sight, on the side away from the subject.
            let side = if shot.across > 0.5 { -1.0 } else { 1.0 };
            let aside = right * (side * near.shoulder_breadth().to_m() * 0.8);
            let feet = aside - ahead * apart.to_m();
            vec![
                person(body, DVec3::ZERO, bearing + Angle::from_deg(-10.0 * side), 0),
                person(near, feet, bearing + Angle::from_deg(180.0), 1),
            ]
        }
        Subject::Object { .. } => Vec::new(),
    }
}
