//! A finding on an exposure, kept to what the camera app and the mode offer: advice never asks for more.

use optics::ExposureTime;
use units::FrameRate;

use super::ShutterSetting;
use crate::findings::{ExposureFinding, OtherTime};
use crate::kit::{Kit, KitRecording};

/// A time that an app offers is written rounded: within this share of one that is wanted, it is that. Chosen because it is far
/// less than the step from one offered time to the next.
const SAME_TIME: f64 = 2e-3;
/// The same for frame rates: chosen because rates are written rounded too, 23.98 for 24000/1001, by less than that.
const SAME_RATE: f64 = 1e-3;

/// What can be set.
#[derive(Clone, Copy)]
pub(crate) struct WithinApp<'film> {
    pub(crate) kit: &'film Kit,
    pub(crate) mode: Option<&'film KitRecording>,
    pub(crate) shutter: &'film ShutterSetting,
    /// Whether the least ISO is known, so that none below it is offered.
    pub(crate) floor_is_known: bool,
}

impl WithinApp<'_> {
    /// The finding without what cannot be set.
    pub(crate) fn kept(&self, finding: ExposureFinding) -> ExposureFinding {
        match finding {
            ExposureFinding::TooBright {
                residual,
                above_meter,
                filters,
                // The kit's own are told by name.
                stronger: _,
                needed,
                would_do,
                iso,
                shorter,
            } => ExposureFinding::TooBright {
                residual,
                above_meter,
                filters,
                stronger: None,
                needed,
                would_do,
                iso: iso.filter(|_| !self.floor_is_known),
                shorter: shorter.and_then(|other| self.nearest(other)),
            },
            ExposureFinding::Flicker { time, mains, locked, below, above, rate } => {
                ExposureFinding::Flicker {
                    time,
                    mains,
                    locked,
                    below: below.filter(|(_, other)| self.offers(other.time)),
                    above: above.filter(|(_, other)| self.offers(other.time)),
                    rate: rate.filter(|(rate, _, other)| self.shoots(*rate) && self.offers(other.time)),
                }
            }
            ExposureFinding::TooDark { .. } | ExposureFinding::FrameRateLocked { .. } => finding,
        }
    }

    /// Whether the app offers that time; all of them if nothing is said.
    pub(crate) fn offers(&self, time: ExposureTime) -> bool {
        let times = &self.kit.exposure_times;
        times.is_empty() || times.iter().any(|one| (one.to_s() / time.to_s() - 1.0).abs() <= SAME_TIME)
    }

    /// Whether the mode offers that frame rate; all of them if nothing is said.
    pub(crate) fn shoots(&self, rate: FrameRate) -> bool {
        let rates = self.mode.map_or(&[][..], |mode| &mode.frame_rates);
        rates.is_empty() || rates.iter().any(|one| (one.to_fps() / rate.to_fps() - 1.0).abs() <= SAME_RATE)
    }

    /// The nearest that the app offers to another time, if it is shorter than the present one.
    fn nearest(&self, other: OtherTime) -> Option<OtherTime> {
        if self.kit.exposure_times.is_empty() {
            return Some(other);
        }
        let near = ShutterSetting::nearest(other.time, self.shutter.rate, self.kit);
        (near.time < self.shutter.time).then(|| OtherTime {
            time: near.time,
            angle: near.angle,
            smear_share: near.time.to_s() / self.shutter.time.to_s(),
            flickers_at: other.flickers_at,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::exposure::{Exposing, Exposure};
    use crate::findings::check_exposure;
    use optics::{ExposureValue, FNumber, Iso, MainsFrequency, ShutterAngle, Stacking, exposure_time};
    use units::Stops;

    fn offered(per_second: &[f64]) -> Kit {
        let times = per_second.iter().filter_map(|per_second| ExposureTime::from_s(1.0 / per_second).ok());
        Kit { exposure_times: times.collect(), ..Kit::clone(&crate::demo_film().kit) }
    }

    /// What is found at 24 fps, 1/48 s and ISO 50, in words.
    fn hint(kit: &Kit, ev: f64, mains: Option<MainsFrequency>, floor_is_known: bool) -> String {
        let asked = exposure_time(ShutterAngle::HALF, FrameRate::FILM);
        let shutter =
            ShutterSetting { asked, time: asked, angle: Some(ShutterAngle::HALF), rate: FrameRate::FILM };
        let exposure = Exposure::of(Exposing {
            f_number: FNumber::new(1.8).expect("in range"),
            time: asked,
            rate: Some(FrameRate::FILM),
            iso: Iso::new(50.0).expect("in range"),
            scene: ExposureValue::of_scene(ev).expect("in range"),
            light_loss: Stops::ZERO,
            bias: Stops::ZERO,
            filters: Vec::new(),
            stacking: Stacking::Any,
            mains,
        });
        let within = WithinApp { kit, mode: kit.recordings.first(), shutter: &shutter, floor_is_known };
        let finding = check_exposure(&exposure.expect("few filters")).swap_remove(0);
        within.kept(finding).to_finding().hint
    }

    #[test]
    fn no_iso_below_a_floor_that_is_known_is_offered() {
        assert!(hint(&offered(&[]), 9.0, None, false).contains("go down to ISO 30"));
        assert!(!hint(&offered(&[]), 9.0, None, true).contains("go down"));
    }

    #[test]
    fn a_shorter_shutter_is_one_that_the_app_has() {
        // EV 10 is 1.72 stops too bright: 1/158 s would do.
        assert!(hint(&offered(&[]), 10.0, None, true).contains("expose 1/158 s"));
        let near = hint(&offered(&[48.0, 120.0, 250.0]), 10.0, None, true);
        assert!(near.contains("expose 1/120 s (72.0°)"), "{near}");
        assert!(!hint(&offered(&[48.0]), 10.0, None, true).contains("expose"));
    }

    #[test]
    fn against_flicker_only_what_can_be_set_is_offered() {
        let mains = Some(MainsFrequency::FIFTY);
        let both = hint(&offered(&[50.0, 48.0]), 8.28, mains, true);
        assert_eq!(both, "expose 1/50 s (172.8°); or shoot 25 fps at 1/50 s (180.0°), which the mains lock");
        let mut kit = offered(&[50.0]);
        kit.recordings[0].frame_rates = vec![FrameRate::FILM];
        assert_eq!(hint(&kit, 8.28, mains, true), "expose 1/50 s (172.8°)");
    }
}
