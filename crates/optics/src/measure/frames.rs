//! The field of view from frames that show something of known width at a known distance.

use language::key;
use units::{Length, checked_field};

use crate::lens::FocalLength;
use crate::measure::view::SeenView;
use crate::measure::{MeasureError, as_f64, between};

/// The most frames that are combined: chosen because nobody takes as many, and so that a request stays small.
pub const MOST_FRAMES: usize = 64;

const SHARE: &str = key!("(share of the frame's width)");

/// How something of known width lies in one frame, flat and square to the look, centred or not.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ThingInFrame {
    share: f64,
    share_sd: f64,
    distance: Length,
    distance_sd: Length,
}

/// Something of known width and every frame that shows it: all of them share the error of its width.
#[derive(Debug, Clone, PartialEq)]
pub struct KnownThing {
    width: Length,
    width_sd: Length,
    frames: Vec<ThingInFrame>,
}

/// What all frames say together.
#[derive(Debug, Clone, PartialEq)]
pub struct MeasuredWidth {
    /// The view across, focused at `at`.
    pub seen: SeenView,
    /// The distance that it is told for: the mean of the frames' distances.
    pub at: Length,
    /// How many times further the frames are apart than their uncertainties say, at least 1; `seen` is widened by it.
    pub birge_ratio: f64,
    /// What each frame says by itself, focused where it was, in the order of the things and their frames.
    pub each: Vec<SeenView>,
}

impl ThingInFrame {
    /// A frame whose width the thing fills to a share.
    ///
    /// # Errors
    /// Names what is out of range: `share` (0.01 to 1), `share_sd`, `distance_m` (0.05 to 1000) or `distance_sd_m`; an
    /// uncertainty is at most its value.
    pub fn of_share(
        share: f64,
        share_sd: f64,
        distance: Length,
        distance_sd: Length,
    ) -> Result<Self, MeasureError> {
        checked_field("share", share, 0.01, 1.0, SHARE)?;
        checked_field("share_sd", share_sd, 0.0, share, SHARE)?;
        let metres = checked_field("distance_m", distance.to_m(), 0.05, 1000.0, "m")?;
        checked_field("distance_sd_m", distance_sd.to_m(), 0.0, metres, "m")?;
        Ok(Self { share, share_sd, distance, distance_sd })
    }

    /// A frame `width_px` wide in which the thing reaches from one end to the other, in either order.
    ///
    /// ```text
    /// p = |u₁ − u₀| / W          u(p) = √2 u(e) / W
    /// ```
    /// `u₀`, `u₁` the ends (px, 0 to W); `W` the frame's width (px); `u(e)` standard uncertainty of each end (px); `p` the
    /// share of the width between them. Both ends are found each on its own, so their errors add in squares.
    ///
    /// # Errors
    /// Names what is out of range: `image_width_px` (16 to 20000), `ends_px[0]`, `ends_px[1]`, `end_sd_px`, `ends_px` for
    /// ends that are one place or closer than a hundredth of the width, `distance_m` or `distance_sd_m`.
    ///
    /// # Source
    /// `Jcgm2008`, 5.1.2 (a difference of independent positions).
    pub fn between_ends(
        ends_px: (f64, f64),
        end_sd_px: f64,
        width_px: f64,
        distance: Length,
        distance_sd: Length,
    ) -> Result<Self, MeasureError> {
        checked_field("image_width_px", width_px, 16.0, 20_000.0, "px")?;
        let apart = between(("ends_px", ["ends_px[0]", "ends_px[1]"]), ends_px, width_px)?;
        checked_field("ends_px", apart, 0.01 * width_px, width_px, key!("px apart"))?;
        checked_field("end_sd_px", end_sd_px, 0.0, apart / std::f64::consts::SQRT_2, "px")?;
        let share_sd = std::f64::consts::SQRT_2 * end_sd_px / width_px;
        Self::of_share(apart / width_px, share_sd.min(apart / width_px), distance, distance_sd)
    }

    /// From the lens to the thing, along the look.
    pub const fn distance(&self) -> Length {
        self.distance
    }

    /// The relative standard uncertainty of what only this frame has: its distance and its ends.
    fn own_relative_sd(&self) -> f64 {
        libm::hypot(self.share_sd / self.share, self.distance_sd / self.distance)
    }
}

impl KnownThing {
    /// Something of that width, square to the look, and the frames that show it.
    ///
    /// # Errors
    /// Names what is out of range: `known_width_m` (0.01 to 100) or `known_width_sd_m` (at most the width).
    pub fn new(width: Length, width_sd: Length, frames: Vec<ThingInFrame>) -> Result<Self, MeasureError> {
        let metres = checked_field("known_width_m", width.to_m(), 0.01, 100.0, "m")?;
        checked_field("known_width_sd_m", width_sd.to_m(), 0.0, metres, "m")?;
        Ok(Self { width, width_sd, frames })
    }

    /// The view that one of its frames gives by itself, focused where the thing is.
    ///
    /// ```text
    /// f = d |u₁ − u₀| / w          t = (W/2) / f = w / (2 p d)          φ = 2 atan t
    /// (u(t)/t)² = (u(w)/w)² + (u(d)/d)² + (u(p)/p)²,          (u(p)/p)² = 2 (u(e) / |u₁ − u₀|)²
    /// ```
    /// `w` width of the thing (m, 0.01 to 100); `d` axial distance from the lens (m, 0.05 to 1000); `p` share of the frame's
    /// width `W` that it fills (0.01 to 1); `f` image distance (px); `t` tangent of the half angle; `φ` full angle; `u`
    /// standard uncertainty. Assumes the thing flat and square to the look, and no distortion; it need not be centred,
    /// because a plane square to the look is drawn to one scale all over. First order.
    ///
    /// # Source
    /// `Jcgm2008`, 5.1.2 and 5.1.6, and the projection of `OpenCv2025`, `calibrationMatrixValues`.
    fn seen_in(&self, frame: &ThingInFrame) -> SeenView {
        let t = self.width / (frame.distance * (2.0 * frame.share));
        SeenView::from_tangent(t, libm::hypot(self.width_relative_sd(), frame.own_relative_sd()))
    }

    fn width_relative_sd(&self) -> f64 {
        self.width_sd / self.width
    }
}

/// A logarithm of a tangent with its variance, which is that of the tangent as a share of it.
#[derive(Debug, Clone, Copy)]
struct Weighed {
    log: f64,
    variance: f64,
}

/// The mean of independent values by the inverse of their variances, and how far they are from it in their own sds, squared.
///
/// # Source
/// `Aitken1935`: the weights of least variance.
fn weighed_mean(values: &[Weighed]) -> (Weighed, f64) {
    let weight: f64 = values.iter().map(|one| 1.0 / one.variance).sum();
    let log = values.iter().map(|one| one.log / one.variance).sum::<f64>() / weight;
    let chi_squared = values.iter().map(|one| (one.log - log) * (one.log - log) / one.variance).sum();
    (Weighed { log, variance: 1.0 / weight }, chi_squared)
}

/// The least relative uncertainty that a frame is weighed with: chosen far below any tape's, so that frames that are told to
/// be exact have a weight at all.
const LEAST_RELATIVE_SD: f64 = 1e-9;

/// The view that all frames of all things give together.
///
/// ```text
/// y = ln t,  u(y) = u(t)/t,  of each frame, brought to one focus: t · (v_d / v_at)
/// within a thing   ȳ = Σ y/σ² / Σ 1/σ²,      u²(ȳ) = 1 / Σ 1/σ² + (u(w)/w)²
/// over the things  Y = Σ ȳ/u² / Σ 1/u²,      u²(Y) = 1 / Σ 1/u²
/// χ² = Σ (y − ȳ)²/σ² + Σ (ȳ − Y)²/u²,        R = max(1, √(χ² / (n − 1)))
/// ```
/// `t` tangent of a frame's half angle; `σ` relative uncertainty of what only that frame has, its distance and ends; `w` width
/// of the thing, whose error all its frames share; `n` frames; `R` by how much `u(Y)` is widened. It is generalised
/// least squares, exactly: the covariance of a thing's frames is that of their own parts and the same number everywhere.
/// `v_d` image distance at the frame's distance `d`, `v_at` at the mean of the distances; without a focal length both
/// count as one, which costs less than 1 % of a phone's lens if nothing is nearer than 0.7 m.
///
/// # Errors
/// Names `frames` if there are none or too many, or the angle that follows, `horizontal_fov_deg` (1 to 170).
///
/// # Source
/// `Aitken1935` for the weights, `Birge1932` for the ratio, `Jcgm2008`, 5.2.2 (what is shared is correlated).
///
/// # Examples
/// Two frames of one sheet: their own errors are halved in squares, that of its width is not.
/// ```
/// use optics::{KnownThing, ThingInFrame, combined_view};
/// use units::Length;
/// let frame = ThingInFrame::of_share(1.0, 0.0, Length::from_m(1.0), Length::from_mm(10.0))?;
/// let sheet = KnownThing::new(Length::from_m(2.0), Length::from_mm(20.0), vec![frame, frame])?;
/// let view = combined_view(&[sheet], None)?;
/// assert!((view.seen.horizontal_fov.to_deg() - 90.0).abs() < 1e-9);
/// // 1 % of the width, and 1 % / √2 of the distances; t = 1.
/// assert!((view.seen.sd.to_rad() - 0.01 * 1.5_f64.sqrt()).abs() < 1e-12);
/// # Ok::<(), optics::MeasureError>(())
/// ```
pub fn combined_view(
    things: &[KnownThing],
    focal_length: Option<FocalLength>,
) -> Result<MeasuredWidth, MeasureError> {
    let frames = || things.iter().flat_map(|thing| thing.frames.iter());
    let count = frames().count();
    if count == 0 || count > MOST_FRAMES {
        return Err(MeasureError::FrameCount { count });
    }
    let count = as_f64(count);
    let at = Length::from_m(frames().map(|frame| frame.distance.to_m()).sum::<f64>() / count);
    let mut chi_squared = 0.0;
    let mut means = Vec::with_capacity(things.len());
    for thing in things.iter().filter(|thing| !thing.frames.is_empty()) {
        let own = thing.frames.iter().map(|frame| {
            let sd = frame.own_relative_sd().max(LEAST_RELATIVE_SD);
            let t = thing.seen_in(frame).tangent() * refocused(frame.distance, at, focal_length);
            Weighed { log: libm::log(t), variance: sd * sd }
        });
        let (mean, within_thing) = weighed_mean(&own.collect::<Vec<_>>());
        let shared = thing.width_relative_sd();
        means.push(Weighed { variance: mean.variance + shared * shared, ..mean });
        chi_squared += within_thing;
    }
    let (mean, between_things) = weighed_mean(&means);
    chi_squared += between_things;
    let degrees = count - 1.0;
    let birge_ratio = if degrees > 0.0 { libm::sqrt(chi_squared / degrees).max(1.0) } else { 1.0 };
    let own_sd = libm::sqrt(mean.variance);
    // What was told to be exact stays so.
    let own_sd = if own_sd <= 2.0 * LEAST_RELATIVE_SD { 0.0 } else { own_sd };
    let seen = SeenView::from_tangent(libm::exp(mean.log), own_sd * birge_ratio);
    checked_field("horizontal_fov_deg", seen.horizontal_fov.to_deg(), 1.0, 170.0, key!("deg"))?;
    let each =
        things.iter().flat_map(|thing| thing.frames.iter().map(|frame| thing.seen_in(frame))).collect();
    Ok(MeasuredWidth { seen, at, birge_ratio, each })
}

/// By how much the tangents of a lens focused at `from` grow when it is focused at `to`; 1 where its focal length is not
/// known, or is not well below both distances.
///
/// ```text
/// v_from / v_to = (1 − f/to) / (1 − f/from)
/// ```
/// `f` focal length; `v` image distance, thin lens focused by extension (see [`crate::image_distance`]).
///
/// # Source
/// `Navy1993`, pages 1-26 to 1-28 (conjugate foci).
fn refocused(from: Length, to: Length, focal_length: Option<FocalLength>) -> f64 {
    let Some(f) = focal_length.map(FocalLength::to_length) else { return 1.0 };
    // Nearer than twice the focal length images are larger than life, which no phone's lens gives.
    if from < f * 2.0 || to < f * 2.0 {
        return 1.0;
    }
    (1.0 - f / to) / (1.0 - f / from)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn taped(metres: f64, ends_px: (f64, f64)) -> ThingInFrame {
        ThingInFrame::between_ends(ends_px, 2.0, 3840.0, Length::from_m(metres), Length::from_mm(10.0))
            .expect("a frame")
    }

    fn door(frames: Vec<ThingInFrame>) -> KnownThing {
        KnownThing::new(Length::from_m(0.90), Length::from_mm(2.0), frames).expect("a thing")
    }

    fn view(things: &[KnownThing]) -> MeasuredWidth {
        combined_view(things, None).expect("a view")
    }

    #[test]
    fn one_frame_is_as_worked_out_by_hand() {
        let seen = view(&[door(vec![taped(2.40, (812.0, 3015.0))])]).seen;
        let f_px = 2.40 * 2203.0 / 0.90;
        let t = 1920.0 / f_px;
        assert!((seen.horizontal_fov.to_rad() - 2.0 * libm::atan(t)).abs() < 1e-12, "{seen:?}");
        let relative =
            (0.002_f64 / 0.9).powi(2) + (0.01_f64 / 2.4).powi(2) + 2.0 * (2.0_f64 / 2203.0).powi(2);
        let sd = 2.0 * t / (1.0 + t * t) * libm::sqrt(relative);
        assert!((seen.sd.to_rad() - sd).abs() < 1e-12, "{seen:?}");
    }

    #[test]
    fn ends_may_come_in_either_order_and_anywhere() {
        let one = view(&[door(vec![taped(2.4, (812.0, 3015.0))])]);
        assert_eq!(one, view(&[door(vec![taped(2.4, (3015.0, 812.0))])]));
        assert_eq!(one.seen, view(&[door(vec![taped(2.4, (0.0, 2203.0))])]).seen);
    }

    #[test]
    fn the_width_of_one_thing_is_one_error_however_many_frames() {
        let frame = taped(2.4, (812.0, 3015.0));
        let many = view(&[door(vec![frame; 60])]).seen.relative_sd();
        assert!(many > 0.002 / 0.9 && many < 0.002 / 0.9 * 1.1, "{many}");
        let two_things = view(&[door(vec![frame; 30]), door(vec![frame; 30])]).seen.relative_sd();
        assert!(two_things < many / 1.3, "{two_things} {many}");
    }

    #[test]
    fn frames_that_disagree_widen_the_answer_and_say_so() {
        let agreeing = view(&[door(vec![taped(2.4, (812.0, 3015.0)), taped(2.4, (812.0, 3016.0))])]);
        assert!((agreeing.birge_ratio - 1.0).abs() < 1e-15, "{agreeing:?}");
        let apart = view(&[door(vec![taped(2.4, (812.0, 3015.0)), taped(2.4, (812.0, 3115.0))])]);
        assert!(apart.birge_ratio > 3.0, "{apart:?}");
        assert!(apart.seen.relative_sd() > agreeing.seen.relative_sd() * 3.0, "{apart:?}");
    }

    #[test]
    fn the_mean_and_its_uncertainty_are_those_of_the_whole_covariance() {
        // Two frames of one thing and one of another, worked out by inverting the covariance of all three by hand.
        let (first, second) = (taped(2.4, (812.0, 3015.0)), taped(1.2, (0.0, 3800.0)));
        let sheet =
            KnownThing::new(Length::from_m(0.297), Length::from_mm(1.0), vec![taped(0.5, (700.0, 2600.0))])
                .expect("a thing");
        let combined = view(&[door(vec![first, second]), sheet.clone()]);
        let y: Vec<f64> = combined.each.iter().map(|one| libm::log(one.tangent())).collect();
        let shared = (0.002_f64 / 0.9).powi(2);
        let variance = |frame: &ThingInFrame| frame.own_relative_sd().powi(2);
        let (a, b) = (variance(&first) + shared, variance(&second) + shared);
        let c = variance(&sheet.frames[0]) + (0.001_f64 / 0.297).powi(2);
        // The inverse of [[a, s, 0], [s, b, 0], [0, 0, c]].
        let determinant = a * b - shared * shared;
        let weights = [(b - shared) / determinant, (a - shared) / determinant, 1.0 / c];
        let sum: f64 = weights.iter().sum();
        let mean = weights.iter().zip(&y).map(|(weight, y)| weight * y).sum::<f64>() / sum;
        let r: Vec<f64> = y.iter().map(|y| y - mean).collect();
        let chi_squared =
            (b * r[0] * r[0] - 2.0 * shared * r[0] * r[1] + a * r[1] * r[1]) / determinant + r[2] * r[2] / c;
        let birge = libm::sqrt(chi_squared / 2.0).max(1.0);
        assert!((libm::log(combined.seen.tangent()) - mean).abs() < 1e-12, "{combined:?}");
        assert!((combined.birge_ratio - birge).abs() < 1e-9, "{combined:?} {birge}");
        let sd = libm::sqrt(1.0 / sum) * birge;
        assert!((combined.seen.relative_sd() - sd).abs() < 1e-12, "{combined:?} {sd}");
    }

    #[test]
    fn frames_from_near_and_far_agree_once_they_are_brought_to_one_focus() {
        let f = FocalLength::from_mm(6.86).expect("in range");
        // What a lens focused by extension sees of 9.8 mm, of a thing that fills the frame.
        let frame = |d: f64| {
            let v = crate::image_distance(f, Length::from_m(d));
            let width = Length::from_m(d) * (Length::from_mm(9.8) / v);
            let frame = ThingInFrame::of_share(1.0, 0.001, Length::from_m(d), Length::from_mm(1.0));
            KnownThing::new(width, Length::ZERO, vec![frame.expect("a frame")]).expect("a thing")
        };
        let things = [frame(0.3), frame(2.0), frame(4.0)];
        let known = combined_view(&things, Some(f)).expect("a view");
        assert!((known.birge_ratio - 1.0).abs() < 1e-12, "{known:?}");
        let v = crate::image_distance(f, known.at);
        assert!((known.seen.tangent() - Length::from_mm(4.9) / v).abs() < 1e-12, "{known:?}");
        assert!(combined_view(&things, None).expect("a view").birge_ratio > 2.0, "breathing is not hidden");
    }

    #[test]
    fn what_was_told_to_be_exact_has_no_uncertainty() {
        let frame = ThingInFrame::of_share(0.5, 0.0, Length::from_m(1.0), Length::ZERO).expect("a frame");
        let thing = KnownThing::new(Length::from_m(1.0), Length::ZERO, vec![frame, frame]).expect("a thing");
        assert_eq!(view(&[thing]).seen.sd.to_rad().to_bits(), 0.0_f64.to_bits());
    }

    #[test]
    fn what_cannot_be_is_refused_by_name() {
        let ends = |ends_px, sd, width_px, metres| {
            let frame = ThingInFrame::between_ends(
                ends_px,
                sd,
                width_px,
                Length::from_m(metres),
                Length::from_mm(10.0),
            );
            frame.expect_err("refused").to_string()
        };
        assert_eq!(
            ends((812.0, 812.0), 2.0, 3840.0, 2.4),
            "ends_px: both ends are at 812 px: put one on each end"
        );
        assert_eq!(ends((-1.0, 9.0), 2.0, 3840.0, 2.4), "ends_px[0]: -1 px is not allowed: 0 to 3840 px");
        assert_eq!(ends((0.0, 4000.0), 2.0, 3840.0, 2.4), "ends_px[1]: 4000 px is not allowed: 0 to 3840 px");
        assert_eq!(
            ends((f64::NAN, 9.0), 2.0, 3840.0, 2.4),
            "ends_px[0]: NaN px is not allowed: 0 to 3840 px"
        );
        assert_eq!(
            ends((10.0, 20.0), 2.0, 3840.0, 2.4),
            "ends_px: 10 px apart is not allowed: 38.4 to 3840 px apart"
        );
        assert_eq!(ends((0.0, 900.0), 2.0, 8.0, 2.4), "image_width_px: 8 px is not allowed: 16 to 20000 px");
        assert_eq!(ends((0.0, 900.0), 2.0, 3840.0, 0.0), "distance_m: 0 m is not allowed: 0.05 to 1000 m");
        assert!(
            ends((0.0, 900.0), -2.0, 3840.0, 2.4).starts_with("end_sd_px: -2 px is not allowed: 0 to 636.3")
        );
        let none = combined_view(&[], None).expect_err("refused").to_string();
        assert_eq!(none, "frames: 0 frames are not allowed: 1 to 64 frames");
        let long = KnownThing::new(Length::from_m(0.05), Length::ZERO, vec![taped(900.0, (0.0, 3840.0))]);
        let told = combined_view(&[long.expect("a thing")], None).expect_err("refused").to_string();
        assert!(told.starts_with("horizontal_fov_deg: 0.0031"), "{told}");
    }

    proptest! {
        #[test]
        fn more_frames_never_make_it_less_certain_where_they_agree(
            metres in 0.3..5.0_f64, count in 1..20_usize, apart in 400.0..3800.0_f64,
        ) {
            let frame = taped(metres, (10.0, 10.0 + apart));
            let sd = |count| combined_view(&[door(vec![frame; count])], None).map(|view| view.seen.relative_sd());
            if let (Ok(fewer), Ok(more)) = (sd(count), sd(count + 1)) {
                prop_assert!(more <= fewer, "{more} {fewer}");
            }
        }

        #[test]
        fn a_frame_of_twice_the_pixels_is_the_same_view(
            metres in 0.3..5.0_f64, one in 0.0..1800.0_f64, other in 1900.0..3800.0_f64,
        ) {
            let of = |scale: f64| {
                let frame = ThingInFrame::between_ends(
                    (one * scale, other * scale), 2.0 * scale, 3840.0 * scale,
                    Length::from_m(metres), Length::from_mm(10.0));
                combined_view(&[door(vec![frame.expect("a frame")])], None).map(|view| view.seen)
            };
            match (of(1.0), of(2.0)) {
                (Ok(one), Ok(two)) => prop_assert!(
                    (one.tangent() / two.tangent() - 1.0).abs() < 1e-12
                        && (one.relative_sd() / two.relative_sd() - 1.0).abs() < 1e-9),
                (one, two) => prop_assert!(one.is_err() && two.is_err(), "{one:?} {two:?}"),
            }
        }
    }
}
