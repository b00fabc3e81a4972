//! The facts themselves.

use jiff::civil::DateTime;
use serde::{Deserialize, Serialize};

/// What a photo or a clip says about the lens that took it and about itself; what it does not say is `None`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct PhotoFacts {
    /// The form of the file.
    pub kind: FileKind,
    /// Focal length.
    pub focal_length_mm: Option<f64>,
    /// f-number.
    pub f_number: Option<f64>,
    /// The 35 mm-equivalent as the file gives it: a whole number, with digital zoom inside it.
    pub equivalent_35mm_mm: Option<f64>,
    /// How many times a photo was enlarged from the middle of the sensor; 1 where the file says that it was not.
    pub digital_zoom: Option<f64>,
    /// The distance that the lens was focused at.
    pub subject_distance_m: Option<f64>,
    /// Pixels along the stored rows, before any turning.
    pub width_px: Option<u32>,
    /// Pixels along the stored columns, before any turning.
    pub height_px: Option<u32>,
    /// How a viewer turns the stored picture to show it.
    pub turn: Option<Turn>,
    /// The direction in which the lens looked, clockwise from north, 0 to 360 degrees.
    pub azimuth_deg: Option<f64>,
    /// Whether that is a compass's north and not the earth's.
    pub azimuth_is_magnetic: bool,
    /// When the photo was taken, by the phone's own clock.
    pub taken: Option<DateTime>,
    /// Frames per second of a clip as stored, on average: phones do not keep to an even rate.
    pub frame_rate_fps: Option<f64>,
    /// Frames per second of a clip as it was captured, where the file says so.
    pub capture_rate_fps: Option<f64>,
    /// How long a clip plays.
    pub duration_s: Option<f64>,
}

/// The form of a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum FileKind {
    /// A photo in JPEG.
    Jpeg,
    /// A photo in HEIC, or in another coding in the same container.
    Heic,
    /// A clip in MOV.
    Mov,
    /// A clip in MP4.
    Mp4,
}

/// How a viewer turns a stored picture to show it. A mirrored picture counts as the one it mirrors.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Turn {
    /// Not at all.
    None,
    /// By a quarter, clockwise.
    Clockwise,
    /// By a half.
    Half,
    /// By a quarter, counterclockwise.
    CounterClockwise,
}

impl FileKind {
    /// What people call it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Jpeg => "JPEG",
            Self::Heic => "HEIC",
            Self::Mov => "MOV",
            Self::Mp4 => "MP4",
        }
    }

    /// Whether it holds frames in time.
    pub const fn is_clip(self) -> bool {
        matches!(self, Self::Mov | Self::Mp4)
    }
}

impl Turn {
    /// Whether rows become columns.
    pub const fn swaps_sides(self) -> bool {
        matches!(self, Self::Clockwise | Self::CounterClockwise)
    }
}

impl PhotoFacts {
    /// The facts of a file that says nothing.
    pub const fn unknown(kind: FileKind) -> Self {
        Self {
            kind,
            focal_length_mm: None,
            f_number: None,
            equivalent_35mm_mm: None,
            digital_zoom: None,
            subject_distance_m: None,
            width_px: None,
            height_px: None,
            turn: None,
            azimuth_deg: None,
            azimuth_is_magnetic: false,
            taken: None,
            frame_rate_fps: None,
            capture_rate_fps: None,
            duration_s: None,
        }
    }

    /// Width and height in pixels as a viewer shows the picture.
    pub fn shown_size_px(&self) -> Option<(u32, u32)> {
        let (width, height) = self.width_px.zip(self.height_px)?;
        let turned = self.turn.is_some_and(Turn::swaps_sides);
        Some(if turned { (height, width) } else { (width, height) })
    }

    /// Whether the phone was held upright: the shown picture is higher than wide.
    pub fn is_upright(&self) -> Option<bool> {
        self.shown_size_px().map(|(width, height)| height > width)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_quarter_turn_makes_a_wide_picture_upright() {
        let stored = PhotoFacts {
            width_px: Some(4032),
            height_px: Some(3024),
            turn: Some(Turn::Clockwise),
            ..PhotoFacts::unknown(FileKind::Jpeg)
        };
        assert_eq!(stored.shown_size_px(), Some((3024, 4032)));
        assert_eq!(stored.is_upright(), Some(true));
        assert_eq!(PhotoFacts { turn: Some(Turn::Half), ..stored }.is_upright(), Some(false));
    }

    #[test]
    fn without_a_size_nobody_knows_how_the_phone_was_held() {
        assert_eq!(PhotoFacts::unknown(FileKind::Heic).is_upright(), None);
    }
}
