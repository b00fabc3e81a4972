//! What the page and those that draw its pictures say to each other.
//!
//! A picture is drawn in *parts*: of `parts` parts, each has every strip of rows whose number leaves `part` over when it is
//! divided by `parts`. Who draws has several pictures begun, and works on one part at a time.

use serde::{Deserialize, Serialize};

use crate::stage::{PhotoNumber, StageRecord};

/// What the page asks for.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum DrawingRequest {
    /// Get ready to draw a part of a picture.
    Begin {
        /// The page's number for the picture at that size.
        job: u32,
        /// What the picture shows.
        stage: Box<StageRecord>,
        /// The image's width.
        width_px: u32,
        /// The image's height.
        height_px: u32,
        /// Which part.
        part: u32,
        /// Of how many.
        parts: u32,
    },
    /// Draw on until every pixel of the part has so many samples, and hand over the part's pixels. Whatever else was being
    /// drawn waits.
    Draw {
        /// The picture.
        job: u32,
        /// The part.
        part: u32,
        /// Samples for each of its pixels.
        samples: u32,
    },
    /// Stop drawing until there is something else to draw.
    Rest,
    /// Forget a picture with all that is drawn of it.
    Forget {
        /// The picture.
        job: u32,
    },
    /// Keep a photo, for the pictures behind which it stands. Its pixels come along as bytes: red, green, blue and one more
    /// each, from the upper left, row by row. The last [`PHOTOS_KEPT`] are kept, and those that begun pictures need.
    Photo {
        /// Which one: for as long as the page lives the number of no other.
        number: PhotoNumber,
        /// The photo's width.
        width_px: u32,
        /// The photo's height.
        height_px: u32,
    },
    /// Forget a photo.
    ForgetPhoto {
        /// Which one.
        number: PhotoNumber,
    },
    /// Say what is seen in one pixel.
    Pick {
        /// The page's number for the question.
        question: u32,
        /// A picture that has been begun.
        job: u32,
        /// How far from the image's left edge.
        x_px: f64,
        /// How far from its top.
        y_px: f64,
    },
}

/// What those that draw answer.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum DrawingAnswer {
    /// Ready to be asked.
    Ready,
    /// Still drawing.
    Busy,
    /// A part has as many samples as were asked for. Its pixels come along as bytes: red, green, blue and 255 each, its
    /// strips from the top, their rows from the left.
    Drawn {
        /// The picture.
        job: u32,
        /// The part.
        part: u32,
        /// Samples of each of its pixels.
        samples: u32,
        /// How many samples of pixels were taken for this answer.
        taken: f64,
        /// How long that took.
        took_ms: f64,
    },
    /// The picture cannot be drawn.
    Refused {
        /// The picture.
        job: u32,
        /// Why, in words.
        why: String,
    },
    /// What is seen in the pixel that was asked for.
    Picked {
        /// The page's number for the question.
        question: u32,
        /// What is there; none where nothing stands, as in the sky.
        seen: Option<SeenRecord>,
    },
}

/// A point of the place that is seen in a pixel.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct SeenRecord {
    /// Where it is.
    pub point_m: [f64; 3],
    /// How far along the optical axis.
    pub depth_m: f64,
}

/// How many photos are kept by those who draw: chosen because a cut goes to and fro between two or three places, and each
/// takes as much memory again in every worker.
pub const PHOTOS_KEPT: usize = 3;
/// Rows of a strip: pictures are drawn strip by strip from the top.
pub const STRIP_ROWS: u32 = 16;
/// The longest side of an image that is drawn for the page: chosen because no screen that it is made for has more.
pub const LONGEST_SIDE_PX: u32 = 8192;
