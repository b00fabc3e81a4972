//! Where the phone is, how it looks and what it focuses on at any time of a take.

use glam::DVec2;
use optics::ViewTangents;
use units::{Angle, Length};

use crate::blocking::{Blocking, Person, along, azimuth};
use crate::body::Landmark;
use crate::camera::Camera;
use crate::movement::{Movement, Take};
use crate::setup::{FocusOn, Setup, Shot};

/// A take of a setup.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Course<'a> {
    pub(crate) shot: &'a Shot,
    pub(crate) setup: &'a Setup,
    pub(crate) blocking: &'a Blocking,
    pub(crate) take: &'a Take,
}

/// The phone at one time of a take.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Pose {
    pub(crate) camera: Camera,
    /// Axial focus distance.
    pub(crate) focus: Length,
    /// What the frame sees, focused there.
    pub(crate) view: ViewTangents,
}

/// A push stops there: chosen because a phone and the hand round it come no nearer to a face without touching it.
const NEAREST_PUSH: Length = Length::from_m(0.25);
/// The steepest look of a tilting phone, degrees: chosen because beyond it the picture would stand on its head.
const STEEPEST_LOOK: f64 = 89.0;
/// Steps after which the search for an aim ends; few do, as field of view hardly follows focus.
const MOST_STEPS: usize = 60;
/// A relative change of the focus distance below this ends the search.
const SETTLED: f64 = 1.0e-13;
/// The least distance along the floor from phone to subject, metres: a walker may come to stand where the phone is.
const LEAST_AHEAD_M: f64 = 1.0e-3;

/// A phone's place and aim before it is a [`Camera`].
#[derive(Debug, Clone, Copy)]
struct Aim {
    place: DVec2,
    azimuth: Angle,
    tilt: Angle,
}

impl Course<'_> {
    /// The phone at `seconds` into the take; a little before it or after, it goes on as it went.
    pub(crate) fn pose(&self, seconds: f64) -> Pose {
        let start = self.start();
        let pulled = self.take.pull.map(|pull| pull.focus_at(seconds));
        let focus = pulled.unwrap_or(self.setup.focus);
        let aim = match self.take.movement {
            None => start,
            Some(Movement::Follow { per_second }) => {
                let way = along(self.blocking.facing) * (per_second.to_m() * seconds);
                Aim { place: start.place + way, ..start }
            }
            Some(Movement::Pan { per_second }) => {
                Aim { azimuth: start.azimuth + per_second * seconds, ..start }
            }
            Some(Movement::Tilt { per_second }) => {
                let tilt = (start.tilt + per_second * seconds).to_deg();
                Aim { tilt: Angle::from_deg(tilt.clamp(-STEEPEST_LOOK, STEEPEST_LOOK)), ..start }
            }
            Some(Movement::Push { per_second }) => {
                let set = pulled.or(match self.shot.focus {
                    FocusOn::Subject => None,
                    FocusOn::At(focus) => Some(focus),
                });
                return self.push(per_second * seconds, self.subject_at(seconds), set);
            }
        };
        let view = if focus == self.setup.focus {
            self.setup.view
        } else {
            self.shot.view(&self.setup.frame, focus)
        };
        self.placed(aim, focus, view)
    }

    /// The people whom the shot is of, `seconds` into the take.
    pub(crate) fn cast_at(&self, seconds: f64) -> Vec<Person> {
        let mut cast = self.shot.cast(self.blocking, along(self.start().azimuth));
        if let Some(Movement::Follow { per_second }) = self.take.movement {
            let velocity = along(self.blocking.facing) * per_second.to_m();
            for person in &mut cast {
                person.set_off(velocity, self.blocking.facing);
            }
        }
        cast.iter().map(|person| person.after(seconds)).collect()
    }

    /// The phone as the setup has it.
    ///
    /// Back along its bearing lies the subject; the aim is off it by what puts the subject in its column.
    fn start(&self) -> Aim {
        let bearing = self.blocking.phone_bearing;
        Aim {
            place: along(bearing) * self.setup.distance.to_m(),
            azimuth: bearing + Angle::from_deg(180.0) - self.setup.subject_right,
            tilt: self.setup.tilt,
        }
    }

    /// Where the subject is on the floor, `seconds` into a take that does not go along with it.
    fn subject_at(&self, seconds: f64) -> DVec2 {
        let Some(body) = self.shot.subject.body() else { return DVec2::ZERO };
        let Blocking { stances, facing, pace, .. } = self.blocking;
        Person::velocity(body, stances[0], *facing, *pace) * seconds
    }

    /// The phone `way` nearer, with what was aimed at on its row and column again. `set` is the focus distance, if it does
    /// not stay on the subject.
    fn push(&self, way: Length, subject: DVec2, set: Option<Length>) -> Pose {
        let nearest = (NEAREST_PUSH + self.shot.subject.before_middle()).min(self.setup.distance);
        let distance = (self.setup.distance - way).max(nearest);
        let place = along(self.blocking.phone_bearing) * distance.to_m();
        let to_subject = subject + along(self.start().azimuth) * self.behind_middle().to_m() - place;
        let across = self.across_at_focus();
        let down = self.setup.eyes_down.filter(|_| self.setup.eyes_in_frame).unwrap_or(0.5);
        let up_m = (self.aimed_at_height() - self.setup.phone_height).to_m();
        let floor_m = to_subject.length().max(LEAST_AHEAD_M);
        let mut focus = set.unwrap_or(self.setup.focus);
        let mut view = self.shot.view(&self.setup.frame, focus);
        let mut turned = look_at(&view, (across, down), floor_m, up_m);
        if set.is_none() {
            for _ in 0..MOST_STEPS {
                let settled = (turned.depth - focus).abs() <= focus * SETTLED;
                focus = turned.depth;
                view = self.shot.view(&self.setup.frame, focus);
                turned = look_at(&view, (across, down), floor_m, up_m);
                if settled {
                    break;
                }
            }
        }
        let bearing_of_subject = azimuth(to_subject);
        self.placed(Aim { place, azimuth: bearing_of_subject - turned.right, tilt: turned.tilt }, focus, view)
    }

    /// How far behind the middle of those whom the shot is of the one in focus stands, as the setup has it.
    fn behind_middle(&self) -> Length {
        let Shot { subject, .. } = self.shot;
        if self.setup.distance <= subject.before_middle() {
            return Length::ZERO;
        }
        subject.behind_nearest() - subject.before_middle()
    }

    /// In which column of the frame, a share of its width, the middle of the subject is seen as deep as the one in focus is.
    fn across_at_focus(&self) -> f64 {
        let Setup { ahead, subject_right, subject_depth, view, .. } = &self.setup;
        (*ahead * subject_right.tan() / *subject_depth + view.left) / view.width()
    }

    /// How high above the floor the point of the subject is that stays where it is in the frame: the eyes, or what is at
    /// the frame's centre.
    fn aimed_at_height(&self) -> Length {
        let eyes = self.shot.subject.body().filter(|_| self.setup.eyes_in_frame);
        let at_centre = || {
            let (tilt, row) = (self.setup.tilt, self.setup.view.centre_up());
            self.setup.phone_height + self.setup.subject_depth * (tilt.sin() + row * tilt.cos())
        };
        eyes.map_or_else(at_centre, |body| body.height_of(Landmark::Eyes))
    }

    fn placed(&self, aim: Aim, focus: Length, view: ViewTangents) -> Pose {
        let position = aim.place.extend(self.setup.phone_height.to_m());
        Pose { camera: Camera::new(position, aim.azimuth, aim.tilt), focus, view }
    }
}

/// How a phone must look to have a point at its place in the frame.
#[derive(Debug, Clone, Copy)]
struct Turned {
    tilt: Angle,
    /// How far to the right of straight ahead the point is, as an angle on the floor.
    right: Angle,
    /// The point's axial depth.
    depth: Length,
}

/// Turns a phone so that a point `floor_m` away along the floor and `up_m` above the lens is at that share of the frame's
/// width and height, counted from its upper left corner.
///
/// ```text
/// p² = (D² − k h²) / (1 + k),  k = u² / (1 + r²);   s = √((p² + h²) / (1 + r²));   τ = atan(h / p) − atan r
/// ```
/// `D` distance along the floor; `h` height above the lens; `u`, `r` column and row as tangents; `p` the part of `D` that
/// lies straight ahead; `s` axial depth; `τ` tilt. From p² + (u s)² = D² and the point's own row. Nearly above or below
/// the lens, where a column may be out of reach, `p` stays a millimetre.
fn look_at(view: &ViewTangents, (across, down): (f64, f64), floor_m: f64, up_m: f64) -> Turned {
    let column = across * view.width() - view.left;
    let row = view.up - down * view.height();
    let k = column * column / (1.0 + row * row);
    let ahead_squared = (floor_m * floor_m - k * up_m * up_m) / (1.0 + k);
    let ahead_m = libm::sqrt(ahead_squared.max(LEAST_AHEAD_M * LEAST_AHEAD_M));
    let depth_m = libm::sqrt((ahead_m * ahead_m + up_m * up_m) / (1.0 + row * row));
    Turned {
        tilt: Angle::from_rad(libm::atan2(up_m, ahead_m) - libm::atan(row)),
        right: Angle::from_components(column * depth_m, ahead_m),
        depth: Length::from_m(depth_m),
    }
}
