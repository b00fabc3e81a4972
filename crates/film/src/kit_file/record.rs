//! The kit file's own structs: what is written, field by field, apart from what the program computes with.
//!
//! The build script compiles this file too, to read the presets; so it stands on serde alone.

use serde::{Deserialize, Serialize};

/// A kit: lenses, recording modes, adapters and filters.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "declarations", derive(ts_rs::TS), ts(optional_fields = nullable))]
#[serde(deny_unknown_fields)]
pub struct KitRecord {
    /// The version of this file's format; 1.
    #[serde(default = "first_version")]
    #[cfg_attr(feature = "declarations", ts(as = "Option<u32>", optional))]
    pub format_version: u32,
    /// What the crew calls it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// Where its values come from, in words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub source: Option<String>,
    /// What the camera app lets them set.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub camera_app: Option<CameraAppRecord>,
    /// The phone's lenses.
    pub lenses: Vec<LensRecord>,
    /// The recording modes; the first is the one they mean to shoot.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "declarations", ts(as = "Option<Vec<RecordingRecord>>", optional))]
    pub recordings: Vec<RecordingRecord>,
    /// Clip-on adapters.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "declarations", ts(as = "Option<Vec<AdapterRecord>>", optional))]
    pub adapters: Vec<AdapterRecord>,
    /// Filters.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "declarations", ts(as = "Option<Vec<FilterRecord>>", optional))]
    pub filters: Vec<FilterRecord>,
    /// What lenses were seen to hold in which mode.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "declarations", ts(as = "Option<Vec<ViewRecord>>", optional))]
    pub views: Vec<ViewRecord>,
    /// The exposure times that the camera app offers, 0.00001 to 60 s; any if absent.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "declarations", ts(as = "Option<Vec<f64>>", optional))]
    pub exposure_times_s: Vec<f64>,
}

/// What a camera app lets people set.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "declarations", derive(ts_rs::TS))]
#[serde(rename_all = "snake_case")]
pub enum CameraAppRecord {
    /// Nothing: it decides by itself.
    Nothing,
    /// Focus and exposure can be held where they are.
    LockOnly,
    /// Shutter, ISO, focus and white balance.
    FullManual,
}

/// Where a value comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "declarations", derive(ts_rs::TS))]
#[serde(rename_all = "snake_case")]
pub enum OriginRecord {
    /// Typical of such a thing.
    Typical,
    /// Read from a photo or a clip.
    File,
    /// Typed in.
    Typed,
    /// Measured on this very thing.
    Measured,
}

/// One of the phone's lenses: focal length with sensor size, or with the 35 mm-equivalent, or that equivalent alone.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "declarations", derive(ts_rs::TS), ts(optional_fields = nullable))]
#[serde(deny_unknown_fields)]
pub struct LensRecord {
    /// What the crew calls it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// Focal length, 0.1 to 2000 mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub focal_length_mm: Option<f64>,
    /// Its standard uncertainty.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub focal_length_sd_mm: Option<f64>,
    /// The 35 mm-equivalent of the whole still photo, digital zoom divided out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub focal_length_35mm_equivalent_mm: Option<f64>,
    /// f-number, 0.5 to 64.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub f_number: Option<f64>,
    /// Width of the whole still photo on the sensor, phone held sideways; 0.2 to 100 mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sensor_width_mm: Option<f64>,
    /// Height of the whole still photo on the sensor, phone held sideways; 0.2 to 100 mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sensor_height_mm: Option<f64>,
    /// Standard uncertainty of the width.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sensor_width_sd_mm: Option<f64>,
    /// Width over height of the still photo, where only the equivalent is given; 4:3 if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sensor_aspect: Option<f64>,
    /// The least distance at which it focuses.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub closest_focus_m: Option<f64>,
    /// Zooms that read only the middle of the sensor, as factors above 1.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "declarations", ts(as = "Option<Vec<f64>>", optional))]
    pub in_sensor_zooms: Vec<f64>,
    /// The f-number that it can close to, `f_number` to 64; it cannot be closed if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub closes_to_f_number: Option<f64>,
    /// The least ISO that its sensor offers, 1 to 1000000; not known if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub iso_floor: Option<f64>,
    /// Where the values come from; "typed" if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub origin: Option<OriginRecord>,
}

/// One recording mode.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "declarations", derive(ts_rs::TS), ts(optional_fields = nullable))]
#[serde(deny_unknown_fields)]
pub struct RecordingRecord {
    /// What the crew calls it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// Pixels along the rows, 16 to 20000; fewer than `height_px` is a phone held upright.
    pub width_px: u32,
    /// Pixels along the columns, 16 to 20000.
    pub height_px: u32,
    /// The frame rates that it offers, 1 to 1000 fps.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "declarations", ts(as = "Option<Vec<f64>>", optional))]
    pub frame_rates_fps: Vec<f64>,
    /// What the stabiliser takes from both sides, as a factor of 1 to 4; 1 if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stabiliser_crop: Option<f64>,
    /// How many times smaller the middle of the sensor is that is read, 1 to 20; 1 if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub in_sensor_zoom: Option<f64>,
    /// The horizontal angle of view that this mode was seen to hold, without an adapter; 1 to 170 degrees.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub measured_horizontal_fov_deg: Option<f64>,
    /// Its standard uncertainty.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub measured_horizontal_fov_sd_deg: Option<f64>,
    /// The distance it was measured from.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub measured_at_m: Option<f64>,
    /// The least ISO that the mode offers, 1 to 1000000, where it is above the lens's.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub iso_floor: Option<f64>,
}

/// The image axis that an adapter squeezes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "declarations", derive(ts_rs::TS))]
#[serde(rename_all = "snake_case")]
pub enum AxisRecord {
    /// Along the rows.
    Width,
    /// Along the columns.
    Height,
}

/// How a squeezed image is brought back to shape.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "declarations", derive(ts_rs::TS))]
#[serde(rename_all = "snake_case")]
pub enum DesqueezeRecord {
    /// The squeezed side grows.
    Stretch,
    /// The other side shrinks.
    Shrink,
}

/// One clip-on anamorphic adapter.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "declarations", derive(ts_rs::TS), ts(optional_fields = nullable))]
#[serde(deny_unknown_fields)]
pub struct AdapterRecord {
    /// What the crew calls it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// Where its values come from, in words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub source: Option<String>,
    /// How many times more it sees along its axis, 1 to 3.
    pub squeeze: f64,
    /// The squeeze that was measured on it, 1 to 3, which counts wherever it is used.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub measured_squeeze: Option<f64>,
    /// Its standard uncertainty, at most 1; 1 % of it if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub measured_squeeze_sd: Option<f64>,
    /// Whether it can be focused; false if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub focusing: Option<bool>,
    /// The light that it takes; 0 if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub light_loss_stops: Option<f64>,
    /// The image axis that it squeezes when the phone is upright; "width" if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub axis_when_upright: Option<AxisRecord>,
    /// How the image is brought back to shape; "stretch" if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub desqueeze: Option<DesqueezeRecord>,
    /// The lenses that it can be clipped before, by name; every lens if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fits: Option<Vec<String>>,
    /// The lenses whose corners it darkens, by name.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "declarations", ts(as = "Option<Vec<String>>", optional))]
    pub vignettes: Vec<String>,
    /// How far out lenses were seen to be clear through it, which counts before `vignettes`.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "declarations", ts(as = "Option<Vec<ClearViewRecord>>", optional))]
    pub clear_views: Vec<ClearViewRecord>,
}

/// How far out one lens in one mode was seen to be clear through an adapter.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "declarations", derive(ts_rs::TS))]
#[serde(deny_unknown_fields)]
pub struct ClearViewRecord {
    /// The lens, by name.
    pub lens: String,
    /// The recording mode, by name.
    pub recording: String,
    /// The share of the recorded frame's half-diagonal up to which all is clear, 0 to 1: nowhere less than half as light as
    /// in the middle.
    pub clear_share: f64,
}

/// One neutral density filter.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "declarations", derive(ts_rs::TS), ts(optional_fields = nullable))]
#[serde(deny_unknown_fields)]
pub struct FilterRecord {
    /// What the crew calls it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// The light that it takes; the least of it, if it can be turned.
    pub stops: f64,
    /// The most light that it takes, if it can be turned.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stops_most: Option<f64>,
    /// The lenses and adapters that it goes in front of, by name; all of them if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fits: Option<Vec<String>>,
    /// Whether it goes on top of others; if absent it does, unless it can be turned.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stacks: Option<bool>,
}

/// What one lens was seen to hold in one mode, without an adapter.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "declarations", derive(ts_rs::TS), ts(optional_fields = nullable))]
#[serde(deny_unknown_fields)]
pub struct ViewRecord {
    /// The lens, by name.
    pub lens: String,
    /// The recording mode, by name.
    pub recording: String,
    /// The horizontal angle of view, 1 to 170 degrees.
    pub horizontal_fov_deg: f64,
    /// Its standard uncertainty.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub horizontal_fov_sd_deg: Option<f64>,
    /// The distance it was measured from.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at_m: Option<f64>,
}

/// The version that this program writes.
pub const KIT_FORMAT_VERSION: u32 = 1;

const fn first_version() -> u32 {
    KIT_FORMAT_VERSION
}
