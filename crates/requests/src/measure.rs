//! The `measure` request: what a lens really sees in the mode it will shoot, from frames of something of known width.

mod answering;

use serde::{Deserialize, Serialize};

use film::AxisRecord;

use crate::answer::FindingAnswer;
use crate::fields::{Field, Takes, field, number};

pub use answering::measure;

/// Frames of things of known width, or one such frame without a list; and what else is to be told.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct MeasureRequest {
    /// The width of the thing, 0.01 to 100 m.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub known_width_m: Option<f64>,
    /// Its standard uncertainty, at most the width; half a percent and at least 1 mm if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub known_width_sd_m: Option<f64>,
    /// From the lens to the thing along the look, 0.05 to 1000 m.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub distance_m: Option<f64>,
    /// Its standard uncertainty, at most the distance; 0.01 m if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub distance_sd_m: Option<f64>,
    /// Where its two ends are across the frame, in either order, from the left edge.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ends_px: Option<Vec<f64>>,
    /// The standard uncertainty of each end; 2 px if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub end_sd_px: Option<f64>,
    /// The frame's width, 16 to 20000 px.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub image_width_px: Option<u32>,
    /// What the thing is called.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub thing: Option<String>,
    /// Several frames instead, at most 64.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub frames: Vec<MeasuredFrameRequest>,
    /// The lens's focal length, 0.1 to 2000 mm: brings frames from different distances to one focus.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub focal_length_mm: Option<f64>,
    /// The whole photo's horizontal field of view, held the same way, 1 to 170 degrees.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub photo_horizontal_fov_deg: Option<f64>,
    /// Its standard uncertainty, at most the angle; 0 if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub photo_horizontal_fov_sd_deg: Option<f64>,
    /// Something round or square in a frame taken through an adapter, for the adapter's squeeze.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub circle: Option<CircleRequest>,
}

/// One frame of something of known width, flat and square to the look.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct MeasuredFrameRequest {
    /// The width of the thing, 0.01 to 100 m.
    pub known_width_m: f64,
    /// Its standard uncertainty, at most the width; half a percent and at least 1 mm if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub known_width_sd_m: Option<f64>,
    /// From the lens to the thing along the look, 0.05 to 1000 m.
    pub distance_m: f64,
    /// Its standard uncertainty, at most the distance; 0.01 m if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub distance_sd_m: Option<f64>,
    /// Where its two ends are across the frame, in either order, from the left edge.
    pub ends_px: Vec<f64>,
    /// The standard uncertainty of each end; 2 px if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub end_sd_px: Option<f64>,
    /// The frame's width, 16 to 20000 px.
    pub image_width_px: u32,
    /// What the thing is called: frames of one thing share the error of its width; a thing of its own if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub thing: Option<String>,
}

/// A circle or a square in a frame taken through an adapter, as captured, not desqueezed; edges in either order.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct CircleRequest {
    /// Its left edge, from the frame's left edge, 0 to 20000 px.
    pub left_px: f64,
    /// Its right edge, 0 to 20000 px.
    pub right_px: f64,
    /// Its upper edge, from the frame's upper edge, 0 to 20000 px.
    pub top_px: f64,
    /// Its lower edge, 0 to 20000 px.
    pub bottom_px: f64,
    /// The standard uncertainty of each edge, at most a quarter of the smaller extent; 2 px if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub edge_sd_px: Option<f64>,
    /// Its true width over its true height, 0.1 to 10; 1 if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub width_over_height: Option<f64>,
    /// The standard uncertainty of that, at most itself; 0 if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub width_over_height_sd: Option<f64>,
    /// The axis of the frame that the adapter squeezes; "width" if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub squeezed_axis: Option<AxisRecord>,
}

/// What follows from a [`MeasureRequest`]. `null` for what was not asked about.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct MeasureAnswer {
    /// The frame's full horizontal angle of view, focused at `at_m`.
    pub horizontal_fov_deg: Option<f64>,
    /// Its standard uncertainty.
    pub horizontal_fov_sd_deg: Option<f64>,
    /// The distance that it is told for: the mean of the frames' distances.
    pub at_m: Option<f64>,
    /// How many times further the frames are apart than their uncertainties say, at least 1; the uncertainty is widened by it.
    pub birge_ratio: Option<f64>,
    /// What each frame says by itself, in the order of the request.
    pub frames: Vec<SeenFrameAnswer>,
    /// How many times tighter than the photo it is: the photo's tangent of the half angle over the frame's.
    pub crop_over_photo: Option<f64>,
    /// Its standard uncertainty.
    pub crop_over_photo_sd: Option<f64>,
    /// How many times more the adapter sees along its axis.
    pub squeeze: Option<f64>,
    /// Its standard uncertainty.
    pub squeeze_sd: Option<f64>,
    /// What is the matter, and what would mend it.
    pub findings: Vec<FindingAnswer>,
}

/// What one frame says by itself, focused where it was.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct SeenFrameAnswer {
    /// Its full horizontal angle of view.
    pub horizontal_fov_deg: f64,
    /// The standard uncertainty of that.
    pub horizontal_fov_sd_deg: f64,
}

const WIDTH: &str = "width of the thing, which is flat and square to the look";
const WIDTH_SD: &str = "its standard uncertainty, at most itself; half a percent and at least 1 mm";
const DISTANCE: &str = "from the lens to it, along the look";
const DISTANCE_SD: &str = "its standard uncertainty, at most itself; 0.01";
const ENDS: &str = "where its two ends are across the frame, in either order";
const END: &str = "from the frame's left edge, at most its width";
const END_SD: &str = "the standard uncertainty of each; 2";
const IMAGE: &str = "the frame's width";
const IMAGE_PX: Takes = Takes::Whole { min: 16, max: 20_000, unit: "px" };

/// Every field of a measure request, in the order in which people write them.
pub const MEASURE_FIELDS: &[Field] = &[
    number("known_width_m", 0.01, 100.0, "m", WIDTH),
    number("known_width_sd_m", 0.0, 100.0, "m", WIDTH_SD),
    number("distance_m", 0.05, 1000.0, "m", DISTANCE),
    number("distance_sd_m", 0.0, 1000.0, "m", DISTANCE_SD),
    field("ends_px", Takes::List, ENDS),
    number("ends_px[]", 0.0, 20_000.0, "px", END),
    number("end_sd_px", 0.0, 20_000.0, "px", END_SD),
    field("image_width_px", IMAGE_PX, IMAGE),
    field("thing", Takes::Text, "what it is called"),
    field("frames", Takes::Objects(64), "several frames, instead of the fields above; none"),
    number("frames.known_width_m", 0.01, 100.0, "m", WIDTH),
    number("frames.known_width_sd_m", 0.0, 100.0, "m", WIDTH_SD),
    number("frames.distance_m", 0.05, 1000.0, "m", DISTANCE),
    number("frames.distance_sd_m", 0.0, 1000.0, "m", DISTANCE_SD),
    field("frames.ends_px", Takes::List, ENDS),
    number("frames.ends_px[]", 0.0, 20_000.0, "px", END),
    number("frames.end_sd_px", 0.0, 20_000.0, "px", END_SD),
    field("frames.image_width_px", IMAGE_PX, IMAGE),
    field("frames.thing", Takes::Text, "frames of one thing share its width's error; a thing of its own"),
    number(
        "focal_length_mm",
        0.1,
        2000.0,
        "mm",
        "the lens's: brings frames from different distances to one focus; they stay as they are",
    ),
    number(
        "photo_horizontal_fov_deg",
        1.0,
        170.0,
        "deg",
        "of the whole photo, held the same way; no crop is told",
    ),
    number("photo_horizontal_fov_sd_deg", 0.0, 170.0, "deg", "its standard uncertainty, at most itself; 0"),
    field("circle", Takes::Object, "a circle or square in a frame through the adapter, as captured; none"),
    number("circle.left_px", 0.0, 20_000.0, "px", "its left edge, from the frame's left edge"),
    number("circle.right_px", 0.0, 20_000.0, "px", "its right edge"),
    number("circle.top_px", 0.0, 20_000.0, "px", "its upper edge, from the frame's upper edge"),
    number("circle.bottom_px", 0.0, 20_000.0, "px", "its lower edge"),
    number(
        "circle.edge_sd_px",
        0.0,
        5000.0,
        "px",
        "the standard uncertainty of each, at most a quarter of its smaller extent; 2",
    ),
    number("circle.width_over_height", 0.1, 10.0, "(width over height)", "its true shape; 1"),
    number(
        "circle.width_over_height_sd",
        0.0,
        10.0,
        "(width over height)",
        "the standard uncertainty of that, at most itself; 0",
    ),
    field(
        "circle.squeezed_axis",
        Takes::Words(&["width", "height"]),
        "the axis of the frame that the adapter squeezes; width",
    ),
];
