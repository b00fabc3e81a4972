//! Sensor, lens, adapter and light: what a phone's lens sees, what it holds sharp, how soft the rest is, and how long and
//! through which filters it is exposed.
//!
//! # Conventions
//! - A thin lens of fixed focal length. Distances are measured from the lens (its entrance pupil) along the optical axis.
//! - Angles are full angles unless a name says "half". Tangents are measured from the optical axis.
//! - Image: origin top left, x right, y down, pixels of the named image.
//! - Sensor areas and focal lengths are told in millimetres, distances in metres; inside, both are [`units::Length`].
//! - An adapter is in front of the lens and afocal: along its axis it divides the tangents of angles by the squeeze,
//!   and leaves the focal length and the image distance alone.
//! - Functions are total: preconditions live in the types, so optics returns values.
//!
//! Sources are keys into `REFERENCES.md` beside this crate.
#![deny(clippy::disallowed_methods, clippy::disallowed_types)]

mod adapter;
mod blur;
mod daylight;
mod delivery;
mod diffraction;
mod exposure;
mod exposure_value;
mod field_of_view;
mod filters;
mod flicker;
mod focus;
mod known;
mod lens;
mod measure;
mod motion;
mod recording;
mod sensor;
mod srgb;
mod weather;

pub use adapter::{Adapter, Desqueeze, FrameAxis, Squeeze, SqueezeError};
pub use blur::{BlurDisc, blur_disc, subject_sideways_softness, useful_from};
pub use daylight::{
    Illuminance, SUN_HALF_DISC_DEG, air_lift_deg, air_mass, direct_sunlight, light_in_shade, light_in_sun,
    skylight,
};
pub use delivery::{Aspect, AspectError, CropShift, DeliveredFrame, deliver};
pub use diffraction::airy_diameter;
pub use exposure::{ExposureTime, ShutterAngle, exposure_time};
pub use exposure_value::{ExposureValue, Iso, stops_over};
pub use field_of_view::{ViewTangents, image_distance, view_tangents};
pub use filters::{ChosenFilters, MOST_FILTERS, Stacking, TooManyFilters, choose_filters, stronger_filters};
pub use flicker::{MainsFrequency, half_periods, is_locked, is_steady, locked_rate, steady_exposure};
pub use focus::{CircleOfConfusion, FarLimit, SharpZone, hyperfocal_distance, sharp_zone};
pub use known::{Known, Origin};
pub use lens::{FNumber, FocalLength, Lens, Scale};
pub use measure::{
    CornerLight, Corners, GreyFrame, KnownThing, LitWallError, MOST_FRAMES, MeasureError, MeasuredSqueeze,
    MeasuredWidth, RoundThing, STOP_DOWN, SeenView, ThingInFrame, combined_view, darkened_share,
};
pub use motion::{Mover, moving_smear_px, path_length, quarter_turn_s};
pub use recording::{MeasuredView, RecordedArea, Recording};
pub use sensor::{SensorSize, full_frame_diagonal};
pub use srgb::{srgb_byte, srgb_light, srgb_signal};
pub use weather::Weather;
