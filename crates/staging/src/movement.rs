//! What moves while a shot is taken: the phone, its focus, the walker it goes along with.

use optics::{ExposureTime, ViewTangents};
use units::{Angle, FrameRate, Length};

use crate::blocking::Blocking;
use crate::course::Course;
use crate::setup::{Setup, Shot};

/// How a take goes.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Take {
    /// How the phone moves, if it does.
    pub movement: Option<Movement>,
    /// How focus is pulled, if it is.
    pub pull: Option<FocusPull>,
    /// How long the move lasts, seconds.
    pub duration_s: f64,
}

/// How a phone moves, from the setup's own place and aim.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Movement {
    /// Along the floor towards the subject; away from it if negative. Eyes stay on their row, focus stays on them.
    Push {
        /// In a second.
        per_second: Length,
    },
    /// The subject walks the way it faces and the phone goes along, keeping its place to it: alongside, from behind, or
    /// ahead and so backwards, as the phone stood.
    Follow {
        /// In a second.
        per_second: Length,
    },
    /// Turning to the right on the spot; to the left if negative.
    Pan {
        /// In a second.
        per_second: Angle,
    },
    /// Turning up on the spot; down if negative.
    Tilt {
        /// In a second.
        per_second: Angle,
    },
}

/// Focus going from one distance to another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FocusPull {
    /// Axial focus distance at first.
    pub from: Length,
    /// Axial focus distance at last.
    pub to: Length,
    /// When it starts, seconds into the take.
    pub starts_s: f64,
    /// How long it takes, seconds.
    pub lasts_s: f64,
}

/// Where the phone is while somebody walks and it goes along.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Accompanies {
    /// Before the walker, so whoever holds it walks backwards.
    Backwards,
    /// Beside the walker.
    Alongside,
    /// Behind the walker.
    FromBehind,
}

/// One frame of a take. A moment outside the take stands for its nearest end.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Moment {
    /// The middle of its exposure, seconds into the take.
    pub at_s: f64,
    /// How long the shutter is open, seconds; 0 freezes everything.
    pub exposure_s: f64,
}

/// Within this of the walker's way the phone is before them, and as near its opposite behind: half a right angle, chosen
/// because from there on somebody can still look where they walk.
const BEFORE_OR_BEHIND: f64 = 45.0;
/// A pan shows a frame's width in no less than this at 24 frames a second: common practice.
const SECONDS_A_FRAME_WIDTH: f64 = 7.0;

impl Accompanies {
    /// How a phone at `phone_bearing` from a walker goes along who walks towards `facing`.
    pub fn of(facing: Angle, phone_bearing: Angle) -> Self {
        let apart = phone_bearing - facing;
        let off_the_way = Angle::from_components(apart.sin(), apart.cos()).to_deg().abs();
        if off_the_way < BEFORE_OR_BEHIND {
            Self::Backwards
        } else if off_the_way > 180.0 - BEFORE_OR_BEHIND {
            Self::FromBehind
        } else {
            Self::Alongside
        }
    }
}

impl Movement {
    /// Whether anything moves at all.
    pub fn moves(&self) -> bool {
        match self {
            Self::Push { per_second } | Self::Follow { per_second } => *per_second != Length::ZERO,
            Self::Pan { per_second } | Self::Tilt { per_second } => *per_second != Angle::ZERO,
        }
    }
}

impl FocusPull {
    /// The axial focus distance after that many seconds.
    ///
    /// ```text
    /// 1/s = (1 − k)/s_from + k/s_to
    /// ```
    /// `k` the share of the pull that is done. The lens travels steadily, and its extension, f² / (s − f), goes very nearly
    /// as 1/s.
    pub fn focus_at(&self, seconds: f64) -> Length {
        let done = if self.lasts_s > 0.0 {
            ((seconds - self.starts_s) / self.lasts_s).clamp(0.0, 1.0)
        } else if seconds < self.starts_s {
            0.0
        } else {
            1.0
        };
        let (from, to) = (self.from.to_m(), self.to.to_m());
        Length::from_m(from * to / (to + (from - to) * done))
    }
}

impl Take {
    /// Axial focus distance, `seconds` into a take of `setup`, which is `shot` resolved.
    pub fn focus_at(&self, shot: &Shot, setup: &Setup, blocking: &Blocking, seconds: f64) -> Length {
        Course { shot, setup, blocking, take: self }.pose(self.within(seconds)).focus
    }

    /// A time within the take.
    pub(crate) fn within(&self, seconds: f64) -> f64 {
        seconds.clamp(0.0, self.duration_s.max(0.0))
    }
}

/// The fastest pan or tilt whose picture can still be looked at, in a second.
///
/// ```text
/// φ / 7 s · r / 24
/// ```
/// `φ` full horizontal angle of view; `r` frame rate (frames a second): what judders is the step from frame to frame.
///
/// # Source
/// Common practice: no faster than one frame width in seven seconds at 24 frames a second, unless the pan holds something
/// that moves.
pub fn fastest_turn(view: &ViewTangents, rate: FrameRate) -> Angle {
    view.horizontal_fov() / SECONDS_A_FRAME_WIDTH * (rate.to_fps() / FrameRate::FILM.to_fps())
}

/// Over how many delivered pixels a turn of the phone smears what stands still straight ahead.
///
/// ```text
/// ω t W / (u_left + u_right)
/// ```
/// `ω` turn in a second (rad); `t` exposure (s); `W` delivered width (px) over the frame's width in tangents.
pub fn turn_smear_px(setup: &Setup, per_second: Angle, exposure: ExposureTime) -> f64 {
    per_second.abs().to_rad() * exposure.to_s() * px_per_tangent(setup)
}

/// Delivered pixels per tangent about the optical axis: the same both ways, as pixels are square once desqueezed.
fn px_per_tangent(setup: &Setup) -> f64 {
    setup.frame.delivered_px.0 / setup.view.width()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_phone_before_a_walker_goes_backwards_and_one_behind_does_not() {
        let accompanies =
            |facing, bearing| Accompanies::of(Angle::from_deg(facing), Angle::from_deg(bearing));
        assert_eq!(accompanies(180.0, 180.0), Accompanies::Backwards);
        assert_eq!(accompanies(350.0, 20.0), Accompanies::Backwards);
        assert_eq!(accompanies(90.0, 180.0), Accompanies::Alongside);
        assert_eq!(accompanies(-90.0, 180.0), Accompanies::Alongside);
        assert_eq!(accompanies(0.0, 180.0), Accompanies::FromBehind);
        assert_eq!(accompanies(730.0, -170.0), Accompanies::FromBehind);
    }

    #[test]
    fn a_pan_may_be_faster_where_more_frames_show_it() {
        let view = ViewTangents { left: 1.0, right: 1.0, up: 0.5, down: 0.5 };
        let fastest =
            |fps: f64| fastest_turn(&view, FrameRate::checked_from_fps(fps).expect("in range")).to_deg();
        assert!((fastest(24.0) - 90.0 / 7.0).abs() < 1e-12, "{}", fastest(24.0));
        assert!((fastest(48.0) - 180.0 / 7.0).abs() < 1e-12, "{}", fastest(48.0));
    }

    #[test]
    fn a_pull_holds_its_ends() {
        let pull =
            FocusPull { from: Length::from_m(1.0), to: Length::from_m(4.0), starts_s: 1.0, lasts_s: 2.0 };
        let at = |seconds: f64| pull.focus_at(seconds).to_m();
        assert!((at(0.0) - 1.0).abs() < 1e-12 && (at(9.0) - 4.0).abs() < 1e-12, "{} {}", at(0.0), at(9.0));
        // Half the travel between dioptres of 1 and 0.25 is 0.625: 1.6 m.
        assert!((at(2.0) - 1.6).abs() < 1e-12, "{}", at(2.0));
        let at_once = FocusPull { lasts_s: 0.0, ..pull };
        assert!((at_once.focus_at(0.99).to_m() - 1.0).abs() < 1e-12, "not yet");
        assert!((at_once.focus_at(1.0).to_m() - 4.0).abs() < 1e-12, "at once");
    }

    proptest! {
        #[test]
        fn a_pull_goes_one_way(from in 0.02..1.0e5_f64, to in 0.02..1.0e5_f64, one in 0.0..5.0_f64, more in 0.0..5.0_f64) {
            let pull = FocusPull {
                from: Length::from_m(from), to: Length::from_m(to), starts_s: 1.0, lasts_s: 3.0,
            };
            let (before, after) = (pull.focus_at(one), pull.focus_at(one + more));
            let nearer = to < from;
            let slack = before * 1e-12;
            prop_assert!(if nearer { after <= before + slack } else { after + slack >= before }, "{} {}", before, after);
            prop_assert!(after.to_m() >= from.min(to) * (1.0 - 1e-12) && after.to_m() <= from.max(to) * (1.0 + 1e-12));
        }
    }
}
