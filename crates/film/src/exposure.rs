//! One exposure: what the camera is set to, before which light, and which filters it needs.

use optics::{
    ChosenFilters, ExposureTime, ExposureValue, FNumber, Iso, MainsFrequency, Stacking, TooManyFilters,
    choose_filters, is_steady, stops_over,
};
use units::{FrameRate, Stops};

/// What the camera is set to, what light it stands before, and what can be screwed on.
#[derive(Debug, Clone, PartialEq)]
pub struct Exposing {
    /// The lens's f-number, which on nearly every phone cannot be changed.
    pub f_number: FNumber,
    /// How long each frame is exposed.
    pub time: ExposureTime,
    /// Frames a second at capture, where known.
    pub rate: Option<FrameRate>,
    /// The sensitivity.
    pub iso: Iso,
    /// The light, at ISO 100.
    pub scene: ExposureValue,
    /// What an adapter in front takes.
    pub light_loss: Stops,
    /// How much brighter than the meter's grey the picture is wanted; negative protects highlights.
    pub bias: Stops,
    /// The filters at hand, each with what it takes.
    pub filters: Vec<Stops>,
    /// Whether they go on top of each other.
    pub stacking: Stacking,
    /// The mains that lamps in the scene hang on, if there are any.
    pub mains: Option<MainsFrequency>,
}

/// What follows from it.
#[derive(Debug, Clone, PartialEq)]
pub struct Exposure {
    /// What it follows from.
    pub exposing: Exposing,
    /// The exposure value of f-number and time.
    pub value: ExposureValue,
    /// The same with the ISO in it: the scene that would come out right without filter, adapter or bias.
    pub ev100: ExposureValue,
    /// The light that is too much without filters.
    pub over: Stops,
    /// The filters to take, and what is too much with them on.
    pub chosen: ChosenFilters,
    /// Whether lamps on the mains leave every frame and row alike; none without mains.
    pub steady: Option<bool>,
}

impl Exposure {
    /// What follows from what the camera is set to.
    ///
    /// # Errors
    /// Refuses more filters than a choice is made from.
    pub fn of(exposing: Exposing) -> Result<Self, TooManyFilters> {
        let (.., over) = exposing.values();
        let chosen = choose_filters(over, &exposing.filters, exposing.stacking)?;
        Ok(Self::with(exposing, chosen))
    }

    /// What follows with filters that are chosen already.
    pub(crate) fn with(exposing: Exposing, chosen: ChosenFilters) -> Self {
        let (value, ev100, over) = exposing.values();
        let chosen = ChosenFilters { residual: over - chosen.takes, ..chosen };
        let steady = exposing.mains.map(|mains| is_steady(exposing.time, mains));
        Self { exposing, value, ev100, over, chosen, steady }
    }
}

impl Exposing {
    /// The exposure value of f-number and time, the same with the ISO in it, and the light that is too much without filters.
    fn values(&self) -> (ExposureValue, ExposureValue, Stops) {
        let value = ExposureValue::of_camera(self.f_number, self.time);
        let ev100 = value.at_iso_100(self.iso);
        (value, ev100, stops_over(self.scene, ev100, self.light_loss, self.bias))
    }
}
