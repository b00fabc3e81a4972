//! Where on earth a place is, as a film's file writes it, and back.

use language::{key, say};
use serde::{Deserialize, Serialize};
use units::FieldError;

use crate::film::Spot;
use crate::film_file::film_reading::MOST_IN_A_NAME;
use crate::film_file::problem::{At, Done};
use crate::kit_file::RecordError;
use crate::sun::{Coordinates, HorizonProfile, SunError};

/// Where on earth a place is.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct SpotRecord {
    /// How far north, -90 to 90 degrees.
    pub latitude_deg: f64,
    /// How far east, -180 to 180 degrees.
    pub longitude_deg: f64,
    /// How high above the sea, -500 to 9000 m; 0 if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub elevation_m: Option<f64>,
    /// The time zone whose clock it goes by, by its IANA name, such as `Europe/Lisbon`.
    pub time_zone: String,
    /// How high the horizon stands in each direction; level if absent. 360 points at the most.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub horizon: Vec<HorizonPointRecord>,
}

/// How high the horizon stands in one direction; between two it is a straight line.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct HorizonPointRecord {
    /// The direction, clockwise from north, -360 to 360 degrees.
    pub azimuth_deg: f64,
    /// How high it stands, -5 to 90 degrees.
    pub elevation_deg: f64,
}

/// The most points of a horizon: one a degree, chosen because nobody measures finer.
const MOST_POINTS: usize = 360;

impl From<&Spot> for SpotRecord {
    fn from(Spot { coordinates, time_zone, horizon }: &Spot) -> Self {
        let point =
            |&(azimuth_deg, elevation_deg): &(f64, f64)| HorizonPointRecord { azimuth_deg, elevation_deg };
        let elevation_m = coordinates.elevation_m();
        Self {
            latitude_deg: coordinates.latitude_deg(),
            longitude_deg: coordinates.longitude_deg(),
            elevation_m: (elevation_m.abs() > 0.0).then_some(elevation_m),
            time_zone: time_zone.clone(),
            horizon: horizon.points_deg().iter().map(point).collect(),
        }
    }
}

impl SpotRecord {
    /// The spot; none if its coordinates are none. A horizon that cannot be used is taken for a level one.
    pub(super) fn read(&self, at: &At<'_>) -> Option<Spot> {
        let coordinates =
            Coordinates::new(self.latitude_deg, self.longitude_deg, self.elevation_m.unwrap_or(0.0));
        let points = at.few("horizon", &self.horizon, MOST_POINTS).iter().enumerate();
        let points = points.filter_map(|(index, point)| {
            let at = at.item("horizon", index);
            let read = HorizonProfile::from_deg([(point.azimuth_deg, point.elevation_deg)]);
            at.or_left_out(read.map_err(|error| named(&error)), key!("the point was"))?;
            Some((point.azimuth_deg, point.elevation_deg))
        });
        // Each point was read on its own, so all of them together can be.
        let horizon = HorizonProfile::from_deg(points).unwrap_or(HorizonProfile::LEVEL);
        let coordinates =
            at.or_left_out(coordinates.map_err(|error| named(&error)), key!("where the place is was"));
        let time_zone = at.text("time_zone", &self.time_zone, MOST_IN_A_NAME);
        if time_zone.is_empty() {
            at.field("time_zone")
                .report(say!("is empty: an IANA name is needed"), Done::SetTo("UTC".to_owned()));
        }
        let time_zone = if time_zone.is_empty() { "UTC".to_owned() } else { time_zone };
        Some(Spot { coordinates: coordinates?, time_zone, horizon })
    }
}

/// An error of the sun by its field.
fn named(error: &SunError) -> RecordError {
    if let SunError::Range(FieldError { field, source }) = error {
        RecordError::at(field, source)
    } else {
        RecordError::at("", error)
    }
}
