//! Kit files: JSON in, a kit out, and back.

mod record;
mod written;

use std::fmt;

use language::{Number, key, say};
use optics::{
    Adapter, Desqueeze, ExposureTime, FNumber, FocalLength, FrameAxis, Iso, Known, Lens, MeasuredSqueeze,
    MeasuredView, Origin, Recording, Scale, SensorSize, Squeeze, Stacking,
};
use units::{Angle, FrameRate, Length, Stops, checked};

use crate::kit::{CameraApp, ClearView, Kit, KitAdapter, KitFilter, KitLens, KitRecording, KitView};
pub use record::{
    AdapterRecord, AxisRecord, CameraAppRecord, ClearViewRecord, DesqueezeRecord, FilterRecord,
    KIT_FORMAT_VERSION, KitRecord, LensRecord, OriginRecord, RecordingRecord, ViewRecord,
};

/// A field that cannot be used: its path and what is allowed there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RecordError {
    /// The field, such as `lenses[1].f_number`.
    pub path: String,
    /// What is wrong, with the allowed range and its unit.
    pub message: String,
}

impl fmt::Display for RecordError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.path, self.message)
    }
}

impl std::error::Error for RecordError {}

impl RecordError {
    /// An error of the field `field`.
    pub fn at(field: &str, message: impl fmt::Display) -> Self {
        Self { path: field.to_owned(), message: message.to_string() }
    }

    /// The same error seen from one level further out.
    #[must_use]
    pub fn within(self, outer: &str) -> Self {
        Self { path: format!("{outer}.{}", self.path), message: self.message }
    }
}

/// Refuses a value outside `min..=max`, in the words that every range error uses.
///
/// # Errors
/// Names the field, the value, the range and the unit.
pub fn within_range(
    field: &str,
    value: f64,
    min: f64,
    max: f64,
    unit: &'static str,
) -> Result<f64, RecordError> {
    checked(value, min, max, unit).map_err(|error| RecordError::at(field, error))
}

/// Splits the library's `field: message` into a path and a message.
fn named(error: &impl fmt::Display) -> RecordError {
    let text = error.to_string();
    match text.split_once(": ") {
        Some((field, message)) => RecordError::at(field, message),
        None => RecordError::at("", text),
    }
}

impl From<OriginRecord> for Origin {
    fn from(record: OriginRecord) -> Self {
        match record {
            OriginRecord::Typical => Self::Typical,
            OriginRecord::File => Self::File,
            OriginRecord::Typed => Self::Typed,
            OriginRecord::Measured => Self::Measured,
        }
    }
}

impl From<CameraAppRecord> for CameraApp {
    fn from(record: CameraAppRecord) -> Self {
        match record {
            CameraAppRecord::Nothing => Self::Nothing,
            CameraAppRecord::LockOnly => Self::LockOnly,
            CameraAppRecord::FullManual => Self::FullManual,
        }
    }
}

impl From<AxisRecord> for FrameAxis {
    fn from(record: AxisRecord) -> Self {
        match record {
            AxisRecord::Width => Self::Width,
            AxisRecord::Height => Self::Height,
        }
    }
}

impl LensRecord {
    /// The lens that the record describes.
    ///
    /// # Errors
    /// Names the field that is missing or out of range.
    pub fn to_lens(&self) -> Result<Lens, RecordError> {
        let origin = self.origin.map_or(Origin::Typed, Origin::from);
        let mm = |field: &str, value: f64| {
            FocalLength::from_mm(value).map_err(|error| RecordError::at(field, error))
        };
        let equivalent = self
            .focal_length_35mm_equivalent_mm
            .map(|value| mm("focal_length_35mm_equivalent_mm", value))
            .transpose()?;
        let focal_length = self.focal_length_mm.map(|value| mm("focal_length_mm", value)).transpose()?;
        let aspect = within_range(
            "sensor_aspect",
            self.sensor_aspect.unwrap_or(4.0 / 3.0),
            0.5,
            3.0,
            key!("(width over height)"),
        )?;
        let sides = match (self.sensor_width_mm, self.sensor_height_mm) {
            (Some(width), Some(height)) => {
                Some(SensorSize::from_mm(width, height).map_err(|error| named(&error))?)
            }
            (None, None) => None,
            (Some(_), None) => {
                return Err(RecordError::at("sensor_height_mm", say!("is missing beside sensor_width_mm")));
            }
            (None, Some(_)) => {
                return Err(RecordError::at("sensor_width_mm", say!("is missing beside sensor_height_mm")));
            }
        };
        let (focal_length, sensor, scale) = match (focal_length, sides, equivalent) {
            (Some(f), Some(sides), _) => (f, sides, Scale::True),
            (Some(f), None, Some(equivalent)) => (f, sensor_of(f, equivalent, aspect)?, Scale::True),
            (None, _, Some(equivalent)) => {
                (equivalent, SensorSize::from_equivalent(equivalent, equivalent, aspect), Scale::Equivalent)
            }
            (Some(_), None, None) => {
                let message = say!(
                    "is missing: a lens needs sensor_width_mm and sensor_height_mm, \
                               or focal_length_35mm_equivalent_mm, beside focal_length_mm"
                );
                return Err(RecordError::at("sensor_width_mm", message));
            }
            (None, _, None) => {
                let message =
                    say!("is missing: a lens needs focal_length_mm or focal_length_35mm_equivalent_mm");
                return Err(RecordError::at("focal_length_mm", message));
            }
        };
        let relative = |field: &str, sd: Option<f64>, value: Length| match sd {
            Some(sd) => within_range(field, sd, 0.0, value.to_mm(), "mm").map(|sd| sd / value.to_mm()),
            None => Ok(origin.suggested_relative_sd()),
        };
        let focal_sd = relative("focal_length_sd_mm", self.focal_length_sd_mm, focal_length.to_length())?;
        let sensor_sd = relative("sensor_width_sd_mm", self.sensor_width_sd_mm, sensor.width)?;
        Ok(Lens {
            focal_length: Known { value: focal_length, relative_sd: focal_sd, origin },
            f_number: self
                .f_number
                .map(|value| FNumber::new(value).map_err(|error| RecordError::at("f_number", error)))
                .transpose()?
                .map(|value| Known::new(value, origin)),
            sensor: Known { value: sensor, relative_sd: sensor_sd, origin },
            closest_focus: self
                .closest_focus_m
                .map(|value| within_range("closest_focus_m", value, 0.001, 100.0, "m").map(Length::from_m))
                .transpose()?,
            scale,
        })
    }

    /// The f-number that it can close to, which is no less than the one that it has open.
    fn closes_to(&self) -> Result<Option<FNumber>, RecordError> {
        let Some(value) = self.closes_to_f_number else { return Ok(None) };
        let field = "closes_to_f_number";
        let Some(open) = self.f_number else {
            return Err(RecordError::at(
                field,
                say!("stands without f_number: say what the lens has open too"),
            ));
        };
        let value = within_range(field, value, open, 64.0, key!("(f-number)"))?;
        FNumber::new(value).map(Some).map_err(|error| RecordError::at(field, error))
    }
}

impl RecordingRecord {
    /// The recording mode that the record describes.
    ///
    /// # Errors
    /// Names the field that is out of range.
    pub fn to_recording(&self) -> Result<Recording, RecordError> {
        let recording = Recording::new(self.width_px, self.height_px)
            .and_then(|mode| mode.with_stabiliser_crop(self.stabiliser_crop.unwrap_or(1.0)))
            .and_then(|mode| mode.with_in_sensor_zoom(self.in_sensor_zoom.unwrap_or(1.0)))
            .map_err(|error| named(&error))?;
        let Some(fov) = self.measured_horizontal_fov_deg else {
            return Ok(recording);
        };
        let view = measured_view(
            ("measured_horizontal_fov_deg", fov),
            ("measured_horizontal_fov_sd_deg", self.measured_horizontal_fov_sd_deg),
            ("measured_at_m", self.measured_at_m),
        )?;
        recording.with_measured(view).map_err(|error| named(&error))
    }
}

/// The sensor of a focal length and its equivalent, no smaller and no larger than one whose sides are given: a file says its
/// sides, and would not be read.
fn sensor_of(f: FocalLength, equivalent: FocalLength, aspect: f64) -> Result<SensorSize, RecordError> {
    let sides = SensorSize::from_equivalent(f, equivalent, aspect);
    SensorSize::from_mm(sides.width.to_mm(), sides.height.to_mm()).map_err(|error| {
        let mm = |length: FocalLength| length.to_length().to_mm();
        let message = say!(
            "{} mm is not allowed beside a focal length of {} mm: it would be of another sensor than any, {error}",
            Number(mm(equivalent)),
            mm(f)
        );
        RecordError::at("focal_length_35mm_equivalent_mm", message)
    })
}

/// A measured view from an angle, its uncertainty and the distance, each with the name of its field.
fn measured_view(
    fov_deg: (&str, f64),
    sd_deg: (&str, Option<f64>),
    at_m: (&str, Option<f64>),
) -> Result<MeasuredView, RecordError> {
    let degrees = within_range(fov_deg.0, fov_deg.1, 1.0, 170.0, key!("deg"))?;
    let at = at_m.1.map(|at| within_range(at_m.0, at, 0.05, 1000.0, "m").map(Length::from_m)).transpose()?;
    let horizontal_fov = Angle::from_deg(degrees);
    let relative_sd = match sd_deg.1 {
        None => Origin::Measured.suggested_relative_sd(),
        // d(tan x) / tan x = dx / (sin x cos x), for the half angle x.
        Some(sd) => {
            let half = horizontal_fov / 2.0;
            let sd = within_range(sd_deg.0, sd, 0.0, 90.0, key!("deg"))?;
            Angle::from_deg(sd / 2.0).to_rad() / (half.sin() * half.cos())
        }
    };
    Ok(MeasuredView { horizontal_fov, at, relative_sd })
}

impl AdapterRecord {
    /// The adapter that the record describes.
    ///
    /// # Errors
    /// Names the field that is out of range.
    pub fn to_kit_adapter(&self, name: String) -> Result<KitAdapter, RecordError> {
        let squeeze = Squeeze::new(self.squeeze).map_err(|error| RecordError::at("squeeze", error))?;
        let light_loss =
            within_range("light_loss_stops", self.light_loss_stops.unwrap_or(0.0), 0.0, 5.0, key!("stops"))?;
        Ok(KitAdapter {
            name,
            adapter: Adapter {
                focusing: self.focusing.unwrap_or(false),
                desqueeze: match self.desqueeze {
                    None | Some(DesqueezeRecord::Stretch) => Desqueeze::Stretch,
                    Some(DesqueezeRecord::Shrink) => Desqueeze::Shrink,
                },
                light_loss: Stops::new(light_loss),
                ..Adapter::new(squeeze)
            },
            axis_when_upright: self.axis_when_upright.map_or(FrameAxis::Width, FrameAxis::from),
            fits: self.fits.clone(),
            vignettes: self.vignettes.clone(),
            measured_squeeze: self.measured_squeeze()?,
            clear_views: each("clear_views", &self.clear_views, |view, _| {
                let clear_share = within_range(
                    "clear_share",
                    view.clear_share,
                    0.0,
                    1.0,
                    key!("(share of the half-diagonal)"),
                )?;
                Ok(ClearView { lens: view.lens.clone(), recording: view.recording.clone(), clear_share })
            })?,
        })
    }

    /// The squeeze that was measured, if one was.
    fn measured_squeeze(&self) -> Result<Option<MeasuredSqueeze>, RecordError> {
        let Some(factor) = self.measured_squeeze else { return Ok(None) };
        let squeeze = Squeeze::new(factor).map_err(|error| RecordError::at("measured_squeeze", error))?;
        let relative_sd = match self.measured_squeeze_sd {
            None => Origin::Measured.suggested_relative_sd(),
            Some(sd) => within_range("measured_squeeze_sd", sd, 0.0, 1.0, key!("(factor)"))? / factor,
        };
        Ok(Some(MeasuredSqueeze { squeeze, relative_sd }))
    }
}

impl FilterRecord {
    fn to_filter(&self, name: String) -> Result<KitFilter, RecordError> {
        let least = within_range("stops", self.stops, 0.0, 20.0, key!("stops"))?;
        let most = within_range("stops_most", self.stops_most.unwrap_or(least), least, 20.0, key!("stops"))?;
        let (least, most) = (Stops::new(least), Stops::new(most));
        let stacking = match self.stacks {
            None => usual_stacking(least, most),
            Some(true) => Stacking::Any,
            Some(false) => Stacking::One,
        };
        Ok(KitFilter { name, least, most, fits: self.fits.clone(), stacking })
    }
}

/// Whether a filter goes on top of others where nothing is said: one that can be turned has two glasses already, and a
/// third darkens corners. Common practice.
fn usual_stacking(least: Stops, most: Stops) -> Stacking {
    if most > least { Stacking::One } else { Stacking::Any }
}

/// A sensitivity that may be left out.
fn iso(field: &str, value: Option<f64>) -> Result<Option<Iso>, RecordError> {
    value.map(|value| Iso::new(value).map_err(|error| RecordError::at(field, error))).transpose()
}

impl KitRecord {
    /// The kit that the record describes.
    ///
    /// # Errors
    /// Names the field that is missing, out of range, or from a newer version.
    pub fn to_kit(&self) -> Result<Kit, RecordError> {
        if self.format_version != KIT_FORMAT_VERSION {
            let message = say!(
                "{} is not a version that this program reads: {KIT_FORMAT_VERSION}; a newer program wrote it",
                self.format_version
            );
            return Err(RecordError::at("format_version", message));
        }
        if self.lenses.is_empty() {
            return Err(RecordError::at("lenses", say!("is empty: a kit needs at least one lens")));
        }
        self.to_parts()
    }

    /// The kit that the record describes, whatever its version, and were it empty: films keep what they have.
    pub(crate) fn to_parts(&self) -> Result<Kit, RecordError> {
        let lenses = each("lenses", &self.lenses, |lens, index| {
            not_too_many("in_sensor_zooms", lens.in_sensor_zooms.len())?;
            let zooms = lens.in_sensor_zooms.iter().enumerate();
            let zooms = zooms.map(|(at, zoom)| {
                within_range(&format!("in_sensor_zooms[{at}]"), *zoom, 1.0, 20.0, key!("(factor)"))
            });
            Ok(KitLens {
                name: name_or(lens.name.as_ref(), "lens", index),
                lens: lens.to_lens()?,
                in_sensor_zooms: zooms.collect::<Result<_, _>>()?,
                closes_to: lens.closes_to()?,
                iso_floor: iso("iso_floor", lens.iso_floor)?,
            })
        })?;
        let recordings = each("recordings", &self.recordings, |mode, index| {
            let rates = mode.frame_rates_fps.iter().enumerate().map(|(at, fps)| {
                let field = format!("frame_rates_fps[{at}]");
                FrameRate::checked_from_fps(*fps).map_err(|error| RecordError::at(&field, error))
            });
            Ok(KitRecording {
                name: name_or(mode.name.as_ref(), "mode", index),
                recording: mode.to_recording()?,
                frame_rates: rates.collect::<Result<_, _>>()?,
                iso_floor: iso("iso_floor", mode.iso_floor)?,
            })
        })?;
        let adapters = each("adapters", &self.adapters, |adapter, index| {
            adapter.to_kit_adapter(name_or(adapter.name.as_ref(), "adapter", index))
        })?;
        let filters = each("filters", &self.filters, |filter, index| {
            filter.to_filter(name_or(filter.name.as_ref(), "filter", index))
        })?;
        let views = each("views", &self.views, |view, _| {
            let seen = measured_view(
                ("horizontal_fov_deg", view.horizontal_fov_deg),
                ("horizontal_fov_sd_deg", view.horizontal_fov_sd_deg),
                ("at_m", view.at_m),
            )?;
            Ok(KitView { lens: view.lens.clone(), recording: view.recording.clone(), view: seen })
        })?;
        Ok(Kit {
            name: self.name.clone().unwrap_or_else(|| "kit".to_owned()),
            camera_app: self.camera_app.map(CameraApp::from).unwrap_or_default(),
            lenses,
            recordings,
            adapters,
            filters,
            views,
            exposure_times: self.exposure_times()?,
        })
    }

    fn exposure_times(&self) -> Result<Vec<ExposureTime>, RecordError> {
        not_too_many("exposure_times_s", self.exposure_times_s.len())?;
        let times = self.exposure_times_s.iter().enumerate().map(|(at, seconds)| {
            let field = format!("exposure_times_s[{at}]");
            ExposureTime::from_s(*seconds).map_err(|error| RecordError::at(&field, error))
        });
        times.collect()
    }
}

/// The most entries of one list: chosen because nobody carries as many, and because a comparison multiplies them.
pub(crate) const MOST_ENTRIES: usize = 64;

/// Refuses a list that is longer than any kit's.
fn not_too_many(field: &str, count: usize) -> Result<(), RecordError> {
    if count <= MOST_ENTRIES {
        return Ok(());
    }
    let message = say!("{count} entries are not allowed: 0 to {MOST_ENTRIES} entries");
    Err(RecordError::at(field, message))
}

/// Converts a list, naming the entry that fails.
fn each<Record, Item>(
    field: &str,
    records: &[Record],
    convert: impl Fn(&Record, usize) -> Result<Item, RecordError>,
) -> Result<Vec<Item>, RecordError> {
    not_too_many(field, records.len())?;
    let convert_one = |(index, record): (usize, &Record)| {
        convert(record, index).map_err(|error| error.within(&format!("{field}[{index}]")))
    };
    records.iter().enumerate().map(convert_one).collect()
}

/// A given name, or one made from the place in the list.
fn name_or(name: Option<&String>, kind: &str, index: usize) -> String {
    name.cloned().unwrap_or_else(|| format!("{kind} {}", index + 1))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn kit(json: &str) -> Result<Kit, RecordError> {
        let record: KitRecord = serde_json::from_str(json).map_err(|error| RecordError::at("", error))?;
        record.to_kit()
    }

    #[test]
    fn a_lens_is_known_from_any_of_three_pairs() {
        let by_size =
            r#"{"lenses": [{"focal_length_mm": 6.86, "sensor_width_mm": 9.8, "sensor_height_mm": 7.3}]}"#;
        let by_equivalent =
            r#"{"lenses": [{"focal_length_mm": 6.86, "focal_length_35mm_equivalent_mm": 24}]}"#;
        let alone = r#"{"lenses": [{"focal_length_35mm_equivalent_mm": 24}]}"#;
        let scale = |json| kit(json).expect("a kit").lenses[0].lens.scale;
        assert_eq!(scale(by_size), Scale::True);
        assert_eq!(scale(by_equivalent), Scale::True);
        assert_eq!(scale(alone), Scale::Equivalent);
    }

    #[test]
    fn an_error_names_the_whole_path() {
        let error =
            kit(r#"{"lenses": [{"focal_length_mm": 6.86, "sensor_width_mm": 9.8, "sensor_height_mm": 0}]}"#);
        assert_eq!(
            error.expect_err("no height").to_string(),
            "lenses[0].sensor_height_mm: 0 mm is not allowed: 0.2 to 100 mm"
        );
        let error = kit(r#"{"lenses": [{"focal_length_mm": 6.86}]}"#).expect_err("no size");
        assert_eq!(error.path, "lenses[0].sensor_width_mm");
    }

    #[test]
    fn a_kit_of_thousands_is_refused_before_it_is_multiplied_out() {
        let lens = r#"{"focal_length_35mm_equivalent_mm": 24}"#;
        let error = kit(&format!(r#"{{"lenses": [{}]}}"#, vec![lens; 65].join(",")));
        assert_eq!(
            error.expect_err("too many").to_string(),
            "lenses: 65 entries are not allowed: 0 to 64 entries"
        );
        let zooms = format!(
            r#"{{"lenses": [{{"focal_length_35mm_equivalent_mm": 24, "in_sensor_zooms": {:?}}}]}}"#,
            [2.0; 65]
        );
        assert_eq!(kit(&zooms).expect_err("too many").path, "lenses[0].in_sensor_zooms");
    }

    #[test]
    fn an_equivalent_of_a_sensor_that_there_is_not_is_refused() {
        let error = kit(r#"{"lenses": [{"focal_length_mm": 0.1, "focal_length_35mm_equivalent_mm": 60}]}"#)
            .expect_err("a sensor like a grain of dust");
        assert!(
            error.to_string().starts_with("lenses[0].focal_length_35mm_equivalent_mm: 60 mm is not"),
            "{error}"
        );
    }

    #[test]
    fn a_newer_version_is_refused_in_words() {
        let error = kit(r#"{"format_version": 2, "lenses": []}"#).expect_err("newer");
        assert_eq!(
            error.to_string(),
            "format_version: 2 is not a version that this program reads: 1; a newer program wrote it"
        );
    }

    #[test]
    fn a_measured_angles_uncertainty_becomes_the_tangents() {
        let json = r#"{"width_px": 1920, "height_px": 1080, "measured_horizontal_fov_deg": 90.0,
                       "measured_horizontal_fov_sd_deg": 1.0}"#;
        let record: RecordingRecord = serde_json::from_str(json).expect("a mode");
        let view = record.to_recording().expect("a mode").measured().expect("measured");
        // At a half angle of 45°, d(tan)/tan = 2 dx with dx = 0.5°.
        assert!((view.relative_sd - 2.0 * 0.5_f64.to_radians()).abs() < 1e-12, "{view:?}");
    }
}
