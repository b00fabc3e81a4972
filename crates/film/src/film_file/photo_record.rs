//! A photo of a place as a film's file writes it, and back.

use std::sync::Arc;

use jiff::civil::DateTime;
use language::{key, say};
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};
use units::{Angle, Length};

use crate::film_file::blocking_reading::read_point;
use crate::film_file::film_reading::MOST_IN_A_NAME;
use crate::film_file::known::Ids;
use crate::film_file::problem::{At, Done, Mending, Range};
use crate::id::PhotoId;
use crate::place_photo::{PhotoPose, PlacePhoto};
use crate::record::{within_a_turn, written_deg};
use crate::unknown::Unknown;

/// A photo of a place. Its pixels are not in the file.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PlacePhotoRecord {
    /// Known by this.
    pub id: u64,
    /// What it is called.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub name: String,
    /// Where the phone was on the place's floor: metres east of its origin, -1000 to 1000 m.
    pub x_m: f64,
    /// Metres north of its origin, -1000 to 1000 m.
    pub y_m: f64,
    /// The lens above the floor, 0.01 to 100 m.
    pub height_m: f64,
    /// Its standard uncertainty, 0 to 100 m; not measured if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub height_sd_m: Option<f64>,
    /// How far up it looked, -89 to 89 degrees; 0 if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tilt_deg: Option<f64>,
    /// Its standard uncertainty, 0 to 90 degrees; not measured if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tilt_sd_deg: Option<f64>,
    /// How far the phone was turned about its look, clockwise for whoever held it, -180 to 180 degrees; 0 if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub roll_deg: Option<f64>,
    /// The direction in which it looked, clockwise from the earth's north, -360 to 360 degrees.
    pub azimuth_deg: f64,
    /// What the whole photo holds from side to side, 1 to 170 degrees.
    pub horizontal_fov_deg: f64,
    /// Its width and height, 1 to 65535 px each.
    pub size_px: [u32; 2],
    /// How far from the phone what stands behind is, 0.5 to 10000 m.
    pub far_m: f64,
    /// When it was taken, by the place's clock, such as `2026-09-12T13:05:00`; not known if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub taken: Option<String>,
    /// What a newer program wrote beside these.
    #[serde(flatten, skip_serializing_if = "Map::is_empty")]
    pub unknown: Map<String, Value>,
}

/// The most photos of a place: chosen generous, as somebody walks round a place with a phone in the hand.
const MOST_PHOTOS: usize = 200;

const HEIGHT: Range = Range { field: "height_m", min: 0.01, max: 100.0, unit: "m" };
const HEIGHT_SD: Range = Range { field: "height_sd_m", min: 0.0, max: 100.0, unit: "m" };
const TILT: Range = Range { field: "tilt_deg", min: -89.0, max: 89.0, unit: key!("deg") };
const TILT_SD: Range = Range { field: "tilt_sd_deg", min: 0.0, max: 90.0, unit: key!("deg") };
const ROLL: Range = Range { field: "roll_deg", min: -180.0, max: 180.0, unit: key!("deg") };
const AZIMUTH: Range = Range { field: "azimuth_deg", min: -360.0, max: 360.0, unit: key!("deg") };
const VIEW: Range = Range { field: "horizontal_fov_deg", min: 1.0, max: 170.0, unit: key!("deg") };
const SIDE: Range = Range { field: "size_px", min: 1.0, max: 65_535.0, unit: "px" };
const FAR: Range = Range { field: "far_m", min: 0.5, max: 10_000.0, unit: "m" };

impl From<&PlacePhoto> for PlacePhotoRecord {
    fn from(photo: &PlacePhoto) -> Self {
        let PlacePhoto { id, name, at, pose, azimuth, horizontal_fov, size_px, far, taken, unknown } = photo;
        let PhotoPose { height, height_sd, tilt, tilt_sd, roll } = pose;
        let unless_level = |angle: Angle| (angle != Angle::ZERO).then(|| written_deg(angle));
        Self {
            id: id.number(),
            name: name.clone(),
            x_m: at.x,
            y_m: at.y,
            height_m: height.to_m(),
            height_sd_m: height_sd.map(Length::to_m),
            tilt_deg: unless_level(*tilt),
            tilt_sd_deg: tilt_sd.map(written_deg),
            roll_deg: unless_level(*roll),
            azimuth_deg: written_deg(within_a_turn(*azimuth)),
            horizontal_fov_deg: written_deg(*horizontal_fov),
            size_px: [size_px.0, size_px.1],
            far_m: far.to_m(),
            taken: taken.map(|taken| taken.to_string()),
            unknown: unknown.fields(),
        }
    }
}

/// One photo alone as JSON, for whoever keeps it without a film.
pub fn write_place_photo(photo: &PlacePhoto) -> String {
    // Text and finite numbers can always be written.
    serde_json::to_string(&PlacePhotoRecord::from(photo)).unwrap_or_default()
}

/// A photo that was written alone; none if the text is none, or not one that could be taken.
pub fn open_place_photo(text: &str) -> Option<PlacePhoto> {
    let record: PlacePhotoRecord = serde_json::from_str(text).ok()?;
    let mending = Mending::default();
    record.read(&At::root(&mending), PhotoId::new(record.id)?)
}

/// The photos of a place, each with an id of its own in the place.
pub(super) fn read_photos(at: &At<'_>, records: &[PlacePhotoRecord]) -> Arc<[PlacePhoto]> {
    let records = at.few("photos", records, MOST_PHOTOS);
    let mut ids = Ids::of(records.iter().map(|record| record.id));
    let photos = records.iter().enumerate().filter_map(|(index, record)| {
        let at = at.item("photos", index);
        let id = PhotoId::new(ids.claim(&at, record.id))?;
        record.read(&at, id)
    });
    photos.collect()
}

impl PlacePhotoRecord {
    /// The photo; none without what people would be placed by.
    fn read(&self, at: &At<'_>, id: PhotoId) -> Option<PlacePhoto> {
        const LEFT_OUT: &str = key!("the photo was");
        let [width, height] = self.size_px;
        for side in [width, height] {
            at.or_left_out(SIDE.check(f64::from(side)), LEFT_OUT)?;
        }
        let pose = PhotoPose {
            height: Length::from_m(at.or_left_out(HEIGHT.check(self.height_m), LEFT_OUT)?),
            height_sd: at.within(&HEIGHT_SD, self.height_sd_m).map(Length::from_m),
            tilt: Angle::from_deg(at.or_usual(&TILT, self.tilt_deg, 0.0)),
            tilt_sd: at.within(&TILT_SD, self.tilt_sd_deg).map(Angle::from_deg),
            roll: Angle::from_deg(at.or_usual(&ROLL, self.roll_deg, 0.0)),
        };
        Some(PlacePhoto {
            id,
            name: at.text("name", &self.name, MOST_IN_A_NAME),
            at: read_point(at, self.x_m, self.y_m, LEFT_OUT)?,
            pose,
            azimuth: Angle::from_deg(at.or_left_out(AZIMUTH.check(self.azimuth_deg), LEFT_OUT)?),
            horizontal_fov: Angle::from_deg(at.or_left_out(VIEW.check(self.horizontal_fov_deg), LEFT_OUT)?),
            size_px: (width, height),
            far: Length::from_m(at.or_left_out(FAR.check(self.far_m), LEFT_OUT)?),
            taken: self.taken.as_deref().and_then(|taken| read_taken(at, taken)),
            unknown: Unknown::of(self.unknown.clone()),
        })
    }
}

fn read_taken(at: &At<'_>, text: &str) -> Option<DateTime> {
    let taken = text.parse().ok();
    if taken.is_none() {
        let shown: String = text.chars().take(40).collect();
        let message = say!("{shown:?} is not allowed: a time such as 2026-09-12T13:05:00");
        at.field("taken").report(message, Done::LeftOut(key!("it was")));
    }
    taken
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::DVec2;

    #[test]
    fn a_photo_that_is_kept_alone_opens_as_itself_and_nonsense_does_not() {
        let photo = PlacePhoto {
            id: PhotoId::new(77).expect("an id"),
            name: "quay".to_owned(),
            at: DVec2::new(1.25, -3.0),
            pose: PhotoPose { height_sd: Some(Length::from_mm(30.0)), ..PhotoPose::USUAL },
            azimuth: Angle::from_deg(210.0),
            horizontal_fov: Angle::from_deg(104.0),
            size_px: (4032, 3024),
            far: Length::from_m(15.0),
            taken: None,
            unknown: Unknown::default(),
        };
        assert_eq!(open_place_photo(&write_place_photo(&photo)), Some(photo));
        for text in ["", "{}", "[1]", r#"{"id": 1, "x_m": 0, "y_m": 0, "height_m": -1}"#] {
            assert_eq!(open_place_photo(text), None, "{text}");
        }
    }
}
