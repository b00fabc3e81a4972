//! The search for a setup: field of view depends on the focus distance and, where focus is on the subject, that on the
//! framing, so the two are iterated to rest.

use optics::{DeliveredFrame, Scale, ViewTangents, view_tangents};
use units::{Angle, Length};

use super::{Binding, FocusOn, LEAST_FOCUS_OVER_IMAGE, Look, Setup, Shot, Spread, Stand, Unframed};
use crate::framing::{Sensitivity, Stretch, solve_fixed_look};
use crate::subject::Hold;

/// One shot being resolved.
pub(super) struct Search<'shot> {
    shot: &'shot Shot,
    frame: DeliveredFrame,
    pub(super) hold: Hold,
    phone_height: Length,
    /// How far before the subject's own place what the frame must hold stands: the nearer one of two.
    before_m: f64,
    /// How far behind that the one in focus stands.
    behind_m: f64,
}

/// One step of the search: a pose for one field of view.
#[derive(Clone, Copy)]
pub(super) struct Pose {
    pub(super) view: ViewTangents,
    pub(super) stretch: Stretch,
    pub(super) ahead_m: f64,
    pub(super) tilt_rad: f64,
    /// Axial distance of what the frame must hold: of the eyes, or of its vertical at the frame's centre.
    depth: Length,
    /// The same of the one in focus, if that is another.
    focus_depth: Length,
    eyes_in_frame: bool,
    pub(super) binding: Binding,
    pub(super) unframed: Option<Unframed>,
}

/// Steps after which the search ends: two or three do, for anything a phone can film.
const MOST_STEPS: usize = 60;
/// A relative change of the focus distance below this ends the search.
const SETTLED: f64 = 1.0e-13;

impl<'shot> Search<'shot> {
    pub(super) fn new(shot: &'shot Shot, frame: DeliveredFrame) -> Self {
        let hold = shot.subject.hold(shot.size, shot.headroom);
        let phone_height = shot.subject.phone_height(shot.size, shot.phone_height);
        let (before, behind) = (shot.subject.before_middle(), shot.subject.behind_nearest());
        let (before_m, behind_m) = match shot.stand {
            // Between two no place holds both: they count as side by side.
            Stand::At(distance) if distance <= before => (0.0, 0.0),
            Stand::At(_) | Stand::ForSize => (before.to_m(), behind.to_m()),
        };
        Self { shot, frame, hold, phone_height, before_m, behind_m }
    }

    /// The setup with which the search comes to rest.
    pub(super) fn resolve(&self) -> Result<Setup, Unframed> {
        let Shot { lens, focus, .. } = self.shot;
        let mut image_distance = match focus {
            FocusOn::Subject => lens.image_distance(None),
            FocusOn::At(focus) => self.shot.image_distance(*focus),
        };
        let mut pose = self.pose(image_distance, None);
        let mut unframed = None;
        for _ in 0..MOST_STEPS {
            if *focus == FocusOn::Subject {
                image_distance = lens.image_distance(Some(self.refocus(&pose, image_distance)));
            }
            let next = self.pose(image_distance, Some(&pose));
            let settled = (next.focus_depth - pose.focus_depth).abs() <= pose.focus_depth * SETTLED;
            pose = next;
            unframed = pose.unframed.or(unframed);
            if settled {
                return self.finish(&pose);
            }
        }
        // At the very end of what can be had the search swings between a framing and none: there is none.
        unframed.map_or_else(|| self.finish(&pose), Err)
    }

    /// The pose for one image distance; `before` is the last step's.
    pub(super) fn pose(&self, image_distance: Length, before: Option<&Pose>) -> Pose {
        let view = view_tangents(&self.frame, image_distance);
        let stretch = self.stretch(&view);
        let mut pose = match (self.shot.stand, self.shot.look) {
            (Stand::At(distance), look) => self.pose_at(distance, look, view, stretch, before),
            (Stand::ForSize, Look::Aimed) => {
                let solved = stretch.solve_distance();
                // Go on from the tightest: focused nearer, the lens sees less and the framing may exist after all.
                let ahead_m =
                    solved.unwrap_or_else(|| libm::sqrt(libm::fabs(stretch.top_m * stretch.cut_m)).max(1e-3));
                let unframed =
                    solved.is_none().then(|| Unframed::Height(stretch.tightest(self.phone_height.to_m())));
                Pose {
                    unframed,
                    ..self.standing(ahead_m, stretch.tilt_at(ahead_m), Binding::Height, view, stretch)
                }
            }
            (Stand::ForSize, Look::Tilt(tilt)) => {
                self.pose_looking(tilt.to_rad(), image_distance, view, stretch)
            }
        };
        if self.shot.stand == Stand::ForSize {
            self.widen(&mut pose);
        }
        pose
    }

    /// What of the subject must fall on which rows of the frame.
    fn stretch(&self, view: &ViewTangents) -> Stretch {
        Stretch {
            top_m: (self.hold.top - self.phone_height).to_m(),
            cut_m: (self.hold.cut - self.phone_height).to_m(),
            top_row: view.up - self.hold.above * view.height(),
            cut_row: -view.down + self.hold.below * view.height(),
        }
    }

    /// A pose at that distance straight ahead with that tilt; finds how deep in the picture the subject is.
    fn standing(
        &self,
        ahead_m: f64,
        tilt_rad: f64,
        binding: Binding,
        view: ViewTangents,
        stretch: Stretch,
    ) -> Pose {
        let (sin, cos) = (libm::sin(tilt_rad), libm::cos(tilt_rad));
        let eyes_up_m = self.hold.eyes.map(|eyes| (eyes - self.phone_height).to_m());
        let eyes_at = |ahead_m: f64| {
            let up_m = eyes_up_m?;
            let depth = ahead_m * cos + up_m * sin;
            let row = (up_m * cos - ahead_m * sin) / depth;
            (depth > 0.0 && row <= view.up && row >= -view.down).then_some(depth)
        };
        // Where the frame's centre, at row o, meets a vertical: p / (cos τ − o sin τ).
        let centre_at = |ahead_m: f64| ahead_m / (cos - view.centre_up() * sin).max(1e-9);
        let depth = |eyes: Option<f64>, ahead_m: f64| {
            Length::from_m(eyes.unwrap_or_else(|| centre_at(ahead_m)).clamp(1e-6, 1e9))
        };
        let in_focus_m = ahead_m + self.behind_m;
        let eyes = eyes_at(in_focus_m);
        Pose {
            view,
            stretch,
            ahead_m,
            tilt_rad,
            depth: depth(eyes_at(ahead_m), ahead_m),
            focus_depth: depth(eyes, in_focus_m),
            eyes_in_frame: eyes.is_some(),
            binding,
            unframed: None,
        }
    }

    /// The pose for a fixed look, moving the crop for headroom within its room.
    fn pose_looking(
        &self,
        tilt_rad: f64,
        image_distance: Length,
        view: ViewTangents,
        stretch: Stretch,
    ) -> Pose {
        let free = (self.frame.recorded.size.height - self.frame.area.height) / 2.0;
        let room = match self.shot.crop_shift {
            None => free / image_distance * self.frame.squeeze.1,
            Some(_) => 0.0,
        };
        match solve_fixed_look(&stretch, tilt_rad, room) {
            Some(look) => {
                let view = ViewTangents { up: view.up + look.centre, down: view.down - look.centre, ..view };
                let stretch = self.stretch(&view);
                self.standing(look.p_m, tilt_rad, Binding::Height, view, stretch)
            }
            None => Pose {
                unframed: Some(Unframed::Look { phone_height: self.phone_height, cut_height: self.hold.cut }),
                ..self.standing(1.0, tilt_rad, Binding::Height, view, stretch)
            },
        }
    }

    /// The pose for a fixed place: the headroom is kept, or the look, and the cut follows.
    ///
    /// With the subject at column u and axial distance s, aside = u s; along the floor D² = p² + u² s², so
    /// p = D / √(1 + (u s / p)²), where the last step's s / p serves. What the frame must hold stands `before` p.
    fn pose_at(
        &self,
        distance: Length,
        look: Look,
        view: ViewTangents,
        stretch: Stretch,
        before: Option<&Pose>,
    ) -> Pose {
        let depth_over_ahead = before.map_or(1.0, |pose| pose.depth.to_m() / (pose.ahead_m + self.before_m));
        let ahead_m =
            distance.to_m() / libm::hypot(1.0, self.column(&view) * depth_over_ahead) - self.before_m;
        let tilt_rad = match look {
            Look::Aimed => stretch.tilt_at(ahead_m),
            Look::Tilt(tilt) => tilt.to_rad(),
        };
        self.standing(ahead_m, tilt_rad, Binding::Place, view, stretch)
    }

    /// The column of the subject, a tangent to the right of the axis.
    fn column(&self, view: &ViewTangents) -> f64 {
        self.shot.across * view.width() - view.left
    }

    /// Steps back until what must be in the frame sideways is in it.
    ///
    /// Headroom stays the same share of the frame. What a tight size cuts off a head stays as much of the head: the same share
    /// of a wider frame would be the eyes as well.
    fn widen(&self, pose: &mut Pose) {
        let column = self.column(&pose.view);
        let narrower_side = (pose.view.right - column).min(column + pose.view.left);
        let needed = self.hold.half_width / narrower_side.max(1e-9);
        if pose.unframed.is_some() || needed <= pose.depth {
            return;
        }
        let mut unbound = *pose;
        if self.hold.above < 0.0 {
            let edge = unbound.tilt_rad + libm::atan(unbound.view.up);
            unbound.stretch.top_m = unbound.ahead_m * libm::tan(edge);
            unbound.stretch.top_row = unbound.view.up;
        }
        // Depth grows with the distance but not quite as fast once the tilt follows: repeat to rest.
        for _ in 0..MOST_STEPS {
            let ahead_m = pose.ahead_m * (needed / pose.depth);
            let tilt_rad = match self.shot.look {
                Look::Aimed => unbound.stretch.tilt_at(ahead_m),
                Look::Tilt(tilt) => tilt.to_rad(),
            };
            *pose = self.standing(ahead_m, tilt_rad, Binding::Width, unbound.view, unbound.stretch);
            if (pose.depth - needed).abs() <= needed * SETTLED {
                break;
            }
        }
    }

    /// A better focus distance on the subject than the pose's own depth, for the next step.
    ///
    /// Framing scales with the image distance v, so the focus wanted is near κ v with κ = s / v of this step; put into
    /// v = f s / (s − f) this gives s = f (1 + κ), which needs no small steps even where s is hardly more than f.
    fn refocus(&self, pose: &Pose, image_distance: Length) -> Length {
        match (self.shot.lens.scale, self.shot.stand) {
            (Scale::Equivalent, _) => pose.focus_depth,
            (Scale::True, Stand::ForSize) => {
                let f = self.shot.lens.focal_length.value.to_length();
                f * (1.0 + (pose.focus_depth / image_distance).max(LEAST_FOCUS_OVER_IMAGE))
            }
            // The place is fixed: only a subject nearer than the lens's own length would need more care.
            (Scale::True, Stand::At(_)) => {
                pose.focus_depth.max(self.shot.lens.focal_length.value.to_length() * 1.001)
            }
        }
    }

    /// Reads the setup off the last pose.
    fn finish(&self, pose: &Pose) -> Result<Setup, Unframed> {
        if let Some(unframed) = pose.unframed {
            return Err(unframed);
        }
        let view = pose.view;
        let (focus, on_eyes) = match self.shot.focus {
            FocusOn::Subject => (pose.focus_depth, pose.eyes_in_frame),
            FocusOn::At(focus) => (focus, false),
        };
        let ahead = Length::from_m(pose.ahead_m + self.before_m);
        let aside = pose.depth * self.column(&view);
        let share_above = |height: Length, ahead_m: f64| {
            (view.up - self.row_of(pose.tilt_rad, height, ahead_m)) / view.height()
        };
        let lower_edge = pose.tilt_rad - libm::atan(view.down);
        Ok(Setup {
            frame: self.shifted(pose),
            view,
            phone_height: self.phone_height,
            distance: Length::from_m(libm::hypot(ahead.to_m(), aside.to_m())),
            ahead,
            subject_right: Angle::from_components(aside.to_m(), ahead.to_m()),
            tilt: Angle::from_rad(pose.tilt_rad),
            focus,
            subject_depth: pose.focus_depth,
            eyes_in_frame: pose.eyes_in_frame,
            on_eyes,
            eyes_down: self.hold.eyes.map(|eyes| share_above(eyes, pose.ahead_m + self.behind_m)),
            headroom: share_above(self.hold.crown, pose.ahead_m),
            cut_height: (lower_edge > -std::f64::consts::FRAC_PI_2)
                .then(|| self.phone_height + Length::from_m(pose.ahead_m * libm::tan(lower_edge))),
            binding: pose.binding,
            spread: self.spread(pose),
        })
    }

    /// The row, a tangent, on which a height so far ahead falls.
    fn row_of(&self, tilt_rad: f64, height: Length, ahead_m: f64) -> f64 {
        let up_m = (height - self.phone_height).to_m();
        let (sin, cos) = (libm::sin(tilt_rad), libm::cos(tilt_rad));
        (up_m * cos - ahead_m * sin) / (ahead_m * cos + up_m * sin).max(1e-9)
    }

    /// The chain of images with the crop where a fixed look moved it.
    fn shifted(&self, pose: &Pose) -> DeliveredFrame {
        let up = self.frame.area.height * (pose.view.centre_up() / pose.view.height());
        DeliveredFrame { centre_offset: (self.frame.centre_offset.0, up), ..self.frame }
    }

    /// First-order uncertainties (JCGM 100:2008, 5.1.2): independent inputs add in squares.
    pub(super) fn spread(&self, pose: &Pose) -> Spread {
        let rows_sd = self.frame.recorded.relative_sd;
        let Pose { view, stretch, ahead_m: p, .. } = *pose;
        let by = match (pose.binding, self.shot.look) {
            (Binding::Height, Look::Aimed) => stretch.sensitivity(p),
            (Binding::Height, Look::Tilt(_)) | (Binding::Width, _) => {
                Sensitivity { rows: -p, ..Sensitivity::default() }
            }
            (Binding::Place, _) => Sensitivity::default(),
        };
        let (top_sd, cut_sd) = (self.hold.top_sd.to_m(), self.hold.cut_sd.to_m());
        let distance = quadrature([by.rows * rows_sd, by.top * top_sd, by.cut * cut_sd]);
        // τ = atan(a/p) − atan u_top: each input moves it directly and by way of the distance.
        let reach = p * p + stretch.top_m * stretch.top_m;
        let by_distance = -stretch.top_m / reach;
        let tilt = match self.shot.look {
            Look::Tilt(_) => 0.0,
            Look::Aimed => quadrature([
                (by_distance * by.rows - tangent_to_angle(stretch.top_row)) * rows_sd,
                (by_distance * by.top + p / reach) * top_sd,
                by_distance * by.cut * cut_sd,
            ]),
        };
        let fov = |one: f64, other: f64| {
            Angle::from_rad((tangent_to_angle(one) + tangent_to_angle(other)).abs() * rows_sd)
        };
        Spread {
            distance: Length::from_m(distance),
            tilt: Angle::from_rad(tilt),
            horizontal_fov: fov(view.left, view.right),
            vertical_fov: fov(view.up, view.down),
        }
    }
}

/// How an angle answers a relative change of its tangent u: d(atan u) = u / (1 + u²) per du / u.
fn tangent_to_angle(tangent: f64) -> f64 {
    tangent / (1.0 + tangent * tangent)
}

/// The root of the sum of squares.
fn quadrature(parts: [f64; 3]) -> f64 {
    libm::sqrt(parts.iter().map(|part| part * part).sum())
}
