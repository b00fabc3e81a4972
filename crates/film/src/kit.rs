//! What a crew owns: the phone's lenses and recording modes, adapters, filters, and what the camera app lets them set.

use language::say;
use optics::{
    Adapter, ExposureTime, FNumber, FrameAxis, Iso, Lens, MeasuredSqueeze, MeasuredView, Recording, Squeeze,
    Stacking,
};
use units::{FrameRate, Stops};

/// What a crew owns.
#[derive(Debug, Clone, PartialEq)]
pub struct Kit {
    /// What the crew calls it.
    pub name: String,
    /// What the camera app lets them set.
    pub camera_app: CameraApp,
    /// The phone's lenses.
    pub lenses: Vec<KitLens>,
    /// The recording modes; the first is the one they mean to shoot.
    pub recordings: Vec<KitRecording>,
    /// Clip-on adapters.
    pub adapters: Vec<KitAdapter>,
    /// Filters.
    pub filters: Vec<KitFilter>,
    /// What modes were seen to hold.
    pub views: Vec<KitView>,
    /// The exposure times that the camera app offers; any if nothing is said.
    pub exposure_times: Vec<ExposureTime>,
}

/// What the camera app lets people set. Advice never asks for more.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum CameraApp {
    /// Nothing: it decides by itself.
    Nothing,
    /// Focus and exposure can be held where they are.
    #[default]
    LockOnly,
    /// Shutter, ISO, focus and white balance.
    FullManual,
}

/// One of the phone's lenses.
#[derive(Debug, Clone, PartialEq)]
pub struct KitLens {
    /// What the crew calls it.
    pub name: String,
    /// Its optics.
    pub lens: Lens,
    /// Zooms that read only the middle of its sensor, as factors above 1.
    pub in_sensor_zooms: Vec<f64>,
    /// The f-number that it can close to, where it can.
    pub closes_to: Option<FNumber>,
    /// The least sensitivity that its sensor offers, where known.
    pub iso_floor: Option<Iso>,
}

/// One recording mode.
#[derive(Debug, Clone, PartialEq)]
pub struct KitRecording {
    /// What the crew calls it.
    pub name: String,
    /// The mode.
    pub recording: Recording,
    /// The frame rates that it offers.
    pub frame_rates: Vec<FrameRate>,
    /// The least sensitivity that the mode offers, where it is above the lens's.
    pub iso_floor: Option<Iso>,
}

/// One adapter.
#[derive(Debug, Clone, PartialEq)]
pub struct KitAdapter {
    /// What the crew calls it.
    pub name: String,
    /// Its optics, for a phone held sideways, with the squeeze that it is sold with.
    pub adapter: Adapter,
    /// The squeeze that was measured on it, which counts wherever it is used.
    pub measured_squeeze: Option<MeasuredSqueeze>,
    /// The image axis that it squeezes when the phone is upright.
    pub axis_when_upright: FrameAxis,
    /// The lenses that it can be clipped before, by name; every lens if nothing is said.
    pub fits: Option<Vec<String>>,
    /// The lenses whose corners it darkens, by name.
    pub vignettes: Vec<String>,
    /// How far out lenses were seen to be clear through it, which counts before the names above.
    pub clear_views: Vec<ClearView>,
}

/// How far out one lens in one mode was seen to be clear through an adapter.
#[derive(Debug, Clone, PartialEq)]
pub struct ClearView {
    /// The lens, by name.
    pub lens: String,
    /// The recording mode, by name.
    pub recording: String,
    /// The share of the recorded frame's half-diagonal up to which all is clear, 0 to 1: nowhere less than half as light as
    /// in the middle ([`optics::STOP_DOWN`]).
    pub clear_share: f64,
}

/// One filter.
#[derive(Debug, Clone, PartialEq)]
pub struct KitFilter {
    /// What the crew calls it.
    pub name: String,
    /// The least light that it takes.
    pub least: Stops,
    /// The most light that it takes; more than `least` if it can be turned.
    pub most: Stops,
    /// The lenses and adapters that it goes in front of, by name; all of them if nothing is said.
    pub fits: Option<Vec<String>>,
    /// Whether it goes on top of others.
    pub stacking: Stacking,
}

/// What one lens in one mode was seen to hold.
#[derive(Debug, Clone, PartialEq)]
pub struct KitView {
    /// The lens, by name.
    pub lens: String,
    /// The recording mode, by name.
    pub recording: String,
    /// What was seen.
    pub view: MeasuredView,
}

/// How an adapter sits before a lens.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum AdapterFit {
    /// As it should.
    #[default]
    Fits,
    /// It darkens the corners.
    Vignettes {
        /// The share of the recorded frame's half-diagonal up to which all is clear, where somebody looked.
        clear_share: Option<f64>,
    },
    /// It cannot be clipped there.
    DoesNotFit,
}

impl KitAdapter {
    /// How it sits before the lens of that name.
    pub fn fit_before(&self, lens: &str) -> AdapterFit {
        let fits = self.fits.as_ref().is_none_or(|names| names.iter().any(|name| name == lens));
        if !fits {
            AdapterFit::DoesNotFit
        } else if self.vignettes.iter().any(|name| name == lens) {
            AdapterFit::Vignettes { clear_share: None }
        } else {
            AdapterFit::Fits
        }
    }

    /// How it sits before the lens of that name in the mode of that name, zoomed into the sensor's middle by `zoom`: as it
    /// was seen to, and where nobody looked as [`Self::fit_before`] has it.
    pub fn fit_in(&self, lens: &str, recording: &str, zoom: f64) -> AdapterFit {
        let fit = self.fit_before(lens);
        let seen = self.clear_views.iter().find(|view| view.lens == lens && view.recording == recording);
        match (fit, seen) {
            (AdapterFit::DoesNotFit, _) | (_, None) => fit,
            // A zoom leaves less of the frame around the same clear middle.
            (_, Some(view)) if view.clear_share * zoom >= 1.0 => AdapterFit::Fits,
            (_, Some(view)) => AdapterFit::Vignettes { clear_share: Some(view.clear_share * zoom) },
        }
    }

    /// How many times more it sees along its axis: as measured, or else as it is sold.
    pub fn squeeze(&self) -> Squeeze {
        self.measured_squeeze.map_or(self.adapter.squeeze, |measured| measured.squeeze)
    }

    /// Its optics for a recording: with the squeeze that was measured, and turned with the phone where that is upright.
    pub fn before(&self, recording: &Recording) -> Adapter {
        let axis = if recording.is_upright() { self.axis_when_upright } else { self.adapter.axis };
        Adapter { axis, squeeze: self.squeeze(), ..self.adapter }
    }
}

impl KitFilter {
    /// Whether it can be turned to take more or less.
    pub fn is_variable(&self) -> bool {
        self.most > self.least
    }

    /// Whether it goes in front of what stands foremost: the adapter of that name, or else the lens.
    pub fn fits_before(&self, lens: &str, adapter: Option<&str>) -> bool {
        let foremost = adapter.unwrap_or(lens);
        self.fits.as_ref().is_none_or(|names| names.iter().any(|name| name == foremost))
    }
}

impl Kit {
    /// A recording mode as `lens` shoots it: with what was measured, if this lens was measured in it.
    pub fn recording_of(&self, recording: &KitRecording, lens: &KitLens) -> Recording {
        let seen = self.views.iter().find(|view| view.lens == lens.name && view.recording == recording.name);
        seen.and_then(|view| recording.recording.with_measured(view.view).ok()).unwrap_or(recording.recording)
    }
}

impl CameraApp {
    /// How to hold focus on the eyes, within what the app allows.
    pub fn focus_advice(self) -> &'static str {
        match self {
            Self::Nothing => {
                say!("tap the eyes just before each take; this app may drift in the middle of it")
            }
            Self::LockOnly => say!("tap and hold the eyes until the app says that focus is locked"),
            Self::FullManual => {
                say!("focus by hand on the eyes and note the slider's value for the next take")
            }
        }
    }

    /// How to hold focus on a thing, within what the app allows.
    pub fn focus_advice_on_thing(self) -> &'static str {
        match self {
            Self::Nothing => say!("tap it just before each take; this app may drift in the middle of it"),
            Self::LockOnly => say!("tap and hold it until the app says that focus is locked"),
            Self::FullManual => say!("focus by hand on it and note the slider's value for the next take"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn clip_on(fits: Option<&[&str]>) -> KitAdapter {
        let names = |list: &[&str]| list.iter().map(|name| (*name).to_owned()).collect();
        KitAdapter {
            name: "clip-on".to_owned(),
            adapter: Adapter::new(Squeeze::new(1.33).expect("in range")),
            axis_when_upright: FrameAxis::Height,
            fits: fits.map(names),
            vignettes: names(&["ultra-wide"]),
            measured_squeeze: None,
            clear_views: Vec::new(),
        }
    }

    #[test]
    fn an_adapter_that_names_no_lenses_fits_all() {
        assert_eq!(clip_on(None).fit_before("main"), AdapterFit::Fits);
        assert_eq!(clip_on(None).fit_before("ultra-wide"), AdapterFit::Vignettes { clear_share: None });
        assert_eq!(clip_on(Some(&["main"])).fit_before("long"), AdapterFit::DoesNotFit);
    }

    #[test]
    fn an_adapter_turns_with_the_phone() {
        let upright = Recording::new(1080, 1920).expect("a mode");
        assert_eq!(clip_on(None).before(&upright).axis, FrameAxis::Height);
    }

    #[test]
    fn a_measured_squeeze_counts_and_the_nominal_one_stays_known() {
        let squeeze = Squeeze::new(1.29).expect("in range");
        let measured_squeeze = Some(MeasuredSqueeze { squeeze, relative_sd: 0.005 });
        let adapter = KitAdapter { measured_squeeze, ..clip_on(None) };
        let mode = Recording::new(1920, 1080).expect("a mode");
        assert_eq!(adapter.before(&mode).squeeze, squeeze);
        assert_eq!(adapter.adapter.squeeze, clip_on(None).before(&mode).squeeze);
    }

    #[test]
    fn what_was_seen_of_the_corners_counts_before_names() {
        let seen = |lens: &str, clear_share| ClearView {
            lens: lens.to_owned(),
            recording: "4K".to_owned(),
            clear_share,
        };
        let adapter =
            KitAdapter { clear_views: vec![seen("ultra-wide", 1.0), seen("main", 0.9)], ..clip_on(None) };
        assert_eq!(adapter.fit_in("ultra-wide", "4K", 1.0), AdapterFit::Fits);
        assert_eq!(adapter.fit_in("ultra-wide", "HD", 1.0), AdapterFit::Vignettes { clear_share: None });
        assert_eq!(adapter.fit_in("main", "4K", 1.0), AdapterFit::Vignettes { clear_share: Some(0.9) });
        assert_eq!(adapter.fit_in("main", "4K", 2.0), AdapterFit::Fits);
        let elsewhere = KitAdapter { fits: Some(Vec::new()), ..adapter };
        assert_eq!(elsewhere.fit_in("main", "4K", 1.0), AdapterFit::DoesNotFit);
    }
}
