//! What holds for any exposure: whatever a finding offers does what it is offered for.

use optics::{ExposureTime, Iso, MainsFrequency, is_locked, is_steady};
use proptest::prelude::*;
use units::Stops;

use super::tests::{exposing, rate};
use super::{ExposureFinding, OtherTime, Stronger, check_exposure};
use crate::exposure::{Exposing, Exposure};

proptest! {
    /// Whatever a finding offers is right when it is done.
    #[test]
    fn what_is_offered_would_do(
        scene in -10.0_f64..=25.0, iso in 20.0_f64..=6400.0, bias in -2.0_f64..=2.0, loss in 0.0_f64..=2.0,
        filters in proptest::collection::vec(0.0_f64..=10.0, 0..4),
    ) {
        let exposing = Exposing {
            iso: Iso::new(iso).expect("in range"),
            bias: Stops::new(bias),
            light_loss: Stops::new(loss),
            ..exposing(scene, &[])
        };
        let residual = |exposing: Exposing| Exposure::of(exposing).expect("few filters").chosen.residual.to_f64();
        let with = Exposing { filters: filters.into_iter().map(Stops::new).collect(), ..exposing };
        for finding in check_exposure(&Exposure::of(with).expect("few filters")) {
            if let ExposureFinding::TooBright { stronger: Some(Stronger { takes, iso }), .. } = finding {
                let left = residual(Exposing { filters: vec![takes], iso, ..exposing });
                prop_assert!(left.abs() < 1e-9, "{left} stops");
            }
        }
        for finding in check_exposure(&Exposure::of(exposing.clone()).expect("few filters")) {
            let (iso, other) = match finding {
                ExposureFinding::TooBright { iso, shorter, needed, .. } => {
                    let filtered = Exposing { filters: vec![needed], ..exposing.clone() };
                    prop_assert!(residual(filtered).abs() < 1e-9);
                    (iso, shorter)
                }
                ExposureFinding::TooDark { iso, longer, .. } => (iso, longer),
                ExposureFinding::Flicker { .. } | ExposureFinding::FrameRateLocked { .. } => (None, None),
            };
            if let Some(iso) = iso {
                let left = residual(Exposing { iso, ..exposing.clone() });
                prop_assert!(left.abs() < 1e-9, "{left} stops");
            }
            if let Some(OtherTime { time, .. }) = other {
                let left = residual(Exposing { time, ..exposing.clone() });
                prop_assert!(left.abs() < 1e-9, "{left} stops");
            }
        }
    }

    #[test]
    fn every_exposure_that_is_offered_against_flicker_is_steady(
        seconds in 1e-4_f64..=0.04, fps in 1_u32..=120, fifty in any::<bool>(),
    ) {
        let mains = if fifty { MainsFrequency::FIFTY } else { MainsFrequency::SIXTY };
        let time = ExposureTime::from_s(seconds).expect("in range");
        let exposing = Exposing {
            time, rate: Some(rate(f64::from(fps))), mains: Some(mains), ..exposing(8.0, &[])
        };
        let findings = check_exposure(&Exposure::of(exposing).expect("few filters"));
        let flickers = findings.iter().any(|finding| matches!(finding, ExposureFinding::Flicker { .. }));
        prop_assert_eq!(flickers, !is_steady(time, mains));
        for finding in findings {
            if let ExposureFinding::Flicker { below, above, rate, .. } = finding {
                for (_, other) in [below, above].into_iter().flatten() {
                    prop_assert!(is_steady(other.time, mains));
                }
                if let Some((rate, _, other)) = rate {
                    prop_assert!(is_steady(other.time, mains) && is_locked(rate, mains));
                    prop_assert!(other.angle.is_some(), "it fits into the frame");
                }
            }
        }
    }
}
