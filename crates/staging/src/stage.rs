//! One frame of a take with everything in its place: what a picture and a floor plan show.

use glam::DVec2;
use optics::ViewTangents;
use units::{Angle, Length};

use crate::backdrop::Backdrop;
use crate::blocking::{Blocking, Foreground, Light, Person, SetPiece, azimuth};
use crate::camera::Camera;
use crate::course::{Course, Pose};
use crate::movement::{Moment, Movement, Take};
use crate::pupil::Pupil;
use crate::setup::{Setup, Shot};
use crate::subject::{Object, Subject};

/// One frame of a take with everything in its place.
#[derive(Debug, Clone, PartialEq)]
pub struct Stage {
    /// The phone when the shutter opens.
    pub opens: Camera,
    /// The phone when the shutter closes.
    pub closes: Camera,
    /// What the frame sees in the middle of the exposure.
    pub view: ViewTangents,
    /// What the lens takes light through; none where its f-number or its true size is not known, and all is drawn sharp.
    pub pupil: Option<Pupil>,
    /// How long the shutter is open, seconds.
    pub exposure_s: f64,
    /// Everybody, the one in focus first, where they are in the middle of the exposure.
    pub people: Vec<Person>,
    /// Everything else, the foreground last.
    pub pieces: Vec<SetPiece>,
    /// The object, if the shot is of one. It stands at the origin.
    pub object: Option<Object>,
    /// Posts at the background's distance, where there is no set.
    pub posts: Option<Posts>,
    /// A photo of the place, for whoever has one: then there are no posts, and its floor is the place's.
    pub backdrop: Option<Backdrop>,
    /// Where the light comes from.
    pub light: Light,
}

/// A row of posts across the frame, one every half metre.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Posts {
    /// The foot of the post in the middle of the frame.
    pub middle: DVec2,
    /// The direction along the row, of length 1.
    pub along: DVec2,
    /// How many stand on each side of the middle one: as many as the frame sees.
    pub on_each_side: u32,
}

/// How far apart posts stand.
pub const POST_SPACING: Length = Length::from_m(0.5);
/// How much wider than the frame the row of posts is at first, so that breathing and blur do not end it: chosen.
const POSTS_MARGIN: f64 = 1.15;
/// Posts on each side of the middle one at the most: chosen because so many across a frame are less than a hundredth of
/// its width apart and tell nothing more, and every one of them is drawn.
const MOST_POSTS: f64 = 300.0;
/// As far as a pan is followed by the row, half a frame's angle included, degrees: chosen because the row ends at 90.
const WIDEST_LOOK_DEG: f64 = 80.0;

impl Stage {
    /// One frame of a take of `setup`, which is `shot` resolved. The subject is at the origin when the take starts.
    pub fn of(shot: &Shot, setup: &Setup, blocking: &Blocking, take: &Take, moment: Moment) -> Self {
        let course = Course { shot, setup, blocking, take };
        let at_s = take.within(moment.at_s);
        let half_exposure = moment.exposure_s / 2.0;
        let start = course.pose(0.0);
        let middle = course.pose(at_s);
        let mut people = course.cast_at(at_s);
        people.extend(blocking.people.iter().map(|person| person.after(at_s)));
        let mut pieces = blocking.pieces.clone();
        pieces.extend(blocking.foreground.map(|foreground| foreground.placed(&start.camera)));
        Self {
            opens: course.pose(at_s - half_exposure).camera,
            closes: course.pose(at_s + half_exposure).camera,
            view: middle.view,
            pupil: Pupil::focused(shot, middle.focus),
            exposure_s: moment.exposure_s,
            people,
            pieces,
            object: match shot.subject {
                Subject::Object(object) => Some(object),
                Subject::Person(_) | Subject::Pair { .. } | Subject::OverShoulder { .. } => None,
            },
            posts: blocking.pieces.is_empty().then(|| Posts::across(&course, &start)),
            backdrop: None,
            light: blocking.light,
        }
    }
}

impl Foreground {
    /// The piece in its place before a phone.
    fn placed(&self, camera: &Camera) -> SetPiece {
        let right = camera.right().truncate();
        let ahead = DVec2::new(-right.y, right.x);
        let floor = camera.position().truncate();
        SetPiece {
            kind: self.kind,
            place: floor + ahead * self.ahead.to_m() + right * self.right.to_m(),
            facing: azimuth(-ahead),
            size: self.kind.usual_size(),
        }
    }
}

impl Posts {
    /// The row that the frame sees at the background's distance, and as much more of it as the take will show.
    ///
    /// ```text
    /// p_b = p + z / cos τ
    /// ```
    /// `p_b` the row's distance straight ahead along the floor; `p` the subject's; `z` how far behind it the background is,
    /// along the axis; `τ` tilt: at the height of what was focused on, the row is as deep in the picture as the figures
    /// count the background.
    fn across(course: &Course<'_>, start: &Pose) -> Self {
        let Course { shot, setup, take, .. } = *course;
        let along = start.camera.right().truncate();
        let ahead = DVec2::new(-along.y, along.x);
        let depth = setup.subject_depth + shot.background_behind;
        // A look nearly straight down sees no row; its cosine is kept off zero.
        let behind = shot.background_behind / setup.tilt.cos().max(0.2);
        let straight_ahead = ahead * (setup.ahead + behind).to_m();
        let view = &setup.view;
        let middle = straight_ahead + along * (depth * view.centre_right()).to_m();
        let seen = depth * (view.width() / 2.0 * POSTS_MARGIN);
        let seconds = take.duration_s;
        let more = match take.movement {
            None | Some(Movement::Tilt { .. }) => Length::ZERO,
            Some(Movement::Push { per_second } | Movement::Follow { per_second }) => {
                per_second.abs() * (seconds * (1.0 + view.width()))
            }
            Some(Movement::Pan { per_second }) => {
                let half = view.horizontal_fov().to_deg() / 2.0;
                let turned = (half + per_second.abs().to_deg() * seconds).min(WIDEST_LOOK_DEG);
                depth * Angle::from_deg(turned).tan()
            }
        };
        let posts = libm::ceil((seen + more) / POST_SPACING).min(MOST_POSTS);
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a few hundred, and positive"
        )]
        let on_each_side = posts as u32;
        Self { middle: start.camera.position().truncate() + middle, along, on_each_side }
    }
}
