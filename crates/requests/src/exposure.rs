//! The `exposure` request: how much light is too much, and which filters take it.

use film::{Exposing, Exposure, ExposureFinding, check_exposure, within_range};
use optics::{
    ExposureTime, ExposureValue, FNumber, Iso, MOST_FILTERS, MainsFrequency, ShutterAngle, Stacking,
    TooManyFilters, exposure_time,
};
use serde::{Deserialize, Serialize};
use units::{FrameRate, QuantityError, Stops};

use crate::answer::FindingAnswer;
use crate::error::BadRequest;
use crate::fields::{Field, Takes, field, number};

/// What a camera is set to, and before which light.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "declarations", derive(ts_rs::TS), ts(optional_fields = nullable))]
#[serde(deny_unknown_fields)]
pub struct ExposureRequest {
    /// The lens's f-number, 0.5 to 64.
    pub f_number: f64,
    /// Frames a second at capture, 1 to 1000; needed with `shutter_angle_deg`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub frame_rate_fps: Option<f64>,
    /// The share of a frame's time that it is exposed, as the angle of a turning shutter, 1 to 360 degrees.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shutter_angle_deg: Option<f64>,
    /// How long each frame is exposed, 0.00001 to 60 s, instead of the angle.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shutter_s: Option<f64>,
    /// The sensitivity, 1 to 1000000.
    pub iso: f64,
    /// The light as an exposure value at ISO 100, -10 to 25.
    pub scene_ev100: f64,
    /// The filters at hand, at most twelve, each 0 to 20 stops; none if absent.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "declarations", ts(as = "Option<Vec<f64>>", optional))]
    pub filters_stops: Vec<f64>,
    /// Whether they go on top of each other; true if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stack: Option<bool>,
    /// How much brighter than the meter's grey the picture is wanted, -10 to 10 stops; 0 if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bias_stops: Option<f64>,
    /// What an adapter in front takes, 0 to 5 stops; 0 if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub light_loss_stops: Option<f64>,
    /// The mains that lamps in the scene hang on, 15 to 500 Hz; no lamps if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mains_hz: Option<f64>,
}

/// What follows from it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "declarations", derive(ts_rs::TS))]
pub struct ExposureAnswer {
    /// How long each frame is exposed.
    pub shutter_s: f64,
    /// The shutter's angle at the frame rate; null without one.
    pub shutter_angle_deg: Option<f64>,
    /// The exposure value of f-number and time.
    pub exposure_value: f64,
    /// The same with the ISO in it.
    pub ev100: f64,
    /// How much light is too much without filters; too little if negative.
    pub stops_over: f64,
    /// The filters to take, in the order of the request.
    pub filter_stops: Vec<f64>,
    /// How much is too much with them on.
    pub residual_stops: f64,
    /// Whether the exposure is a whole number of half periods of the mains; null without mains.
    pub flicker_safe: Option<bool>,
    /// What is the matter, and what would mend it.
    pub findings: Vec<FindingAnswer>,
}

/// Every field of an exposure request, in the order in which people write them.
pub const EXPOSURE_FIELDS: &[Field] = &[
    number("f_number", 0.5, 64.0, "(f-number)", "the lens's f-number"),
    number("frame_rate_fps", 1.0, 1000.0, "fps", "frames a second at capture; needed with the angle"),
    number("shutter_angle_deg", 1.0, 360.0, "deg", "the share of a frame's time that it is exposed"),
    number("shutter_s", 0.00001, 60.0, "s", "how long each frame is exposed, instead of the angle"),
    number("iso", 1.0, 1_000_000.0, "(ISO)", "the sensitivity"),
    number("scene_ev100", -10.0, 25.0, "(EV at ISO 100)", "the light"),
    field("filters_stops", Takes::List, "the filters at hand, at most 12; none"),
    number("filters_stops[]", 0.0, 20.0, "stops", "what each of them takes"),
    field("stack", Takes::Flag, "whether they go on top of each other; true"),
    number("bias_stops", -10.0, 10.0, "stops", "how much brighter than the meter's grey; 0"),
    number("light_loss_stops", 0.0, 5.0, "stops", "what an adapter in front takes; 0"),
    number("mains_hz", 15.0, 500.0, "Hz", "the mains that lamps hang on; no lamps"),
];

/// Names the field of a value that is not a quantity.
fn at<Value>(path: &str, value: Result<Value, QuantityError>) -> Result<Value, BadRequest> {
    value.map_err(|error| BadRequest::at(path, error.to_string()))
}

impl ExposureRequest {
    /// What the camera is set to.
    ///
    /// # Errors
    /// Names the field that is missing or out of range.
    pub fn to_exposing(&self) -> Result<Exposing, BadRequest> {
        let f_number = at("f_number", FNumber::new(self.f_number))?;
        let rate = self.frame_rate_fps.map(FrameRate::checked_from_fps).transpose();
        let rate = at("frame_rate_fps", rate)?;
        let stops = |path: &str, value: f64, min: f64, max: f64| {
            Ok::<_, BadRequest>(Stops::new(within_range(path, value, min, max, "stops")?))
        };
        if self.filters_stops.len() > MOST_FILTERS {
            let too_many = TooManyFilters { count: self.filters_stops.len() };
            return Err(BadRequest::at("filters_stops", too_many.to_string()));
        }
        let filters = self.filters_stops.iter().enumerate();
        let filters =
            filters.map(|(place, filter)| stops(&format!("filters_stops[{place}]"), *filter, 0.0, 20.0));
        Ok(Exposing {
            f_number,
            time: self.time(rate)?,
            rate,
            iso: at("iso", Iso::new(self.iso))?,
            scene: at("scene_ev100", ExposureValue::of_scene(self.scene_ev100))?,
            light_loss: stops("light_loss_stops", self.light_loss_stops.unwrap_or(0.0), 0.0, 5.0)?,
            bias: stops("bias_stops", self.bias_stops.unwrap_or(0.0), -10.0, 10.0)?,
            filters: filters.collect::<Result<_, _>>()?,
            stacking: if self.stack.unwrap_or(true) { Stacking::Any } else { Stacking::One },
            mains: at("mains_hz", self.mains_hz.map(MainsFrequency::from_hz).transpose())?,
        })
    }

    fn time(&self, rate: Option<FrameRate>) -> Result<ExposureTime, BadRequest> {
        match (self.shutter_s, self.shutter_angle_deg) {
            (Some(_), Some(_)) => {
                Err(BadRequest::at("shutter_angle_deg", "stands beside shutter_s; give one of the two"))
            }
            (Some(seconds), None) => {
                let time = at("shutter_s", ExposureTime::from_s(seconds))?;
                // A time that was rounded to a millionth still fits into its frame.
                let frame_s =
                    rate.map(|rate| 1.0 / rate.to_fps()).filter(|frame| seconds > frame * (1.0 + 1e-6));
                frame_s.map_or(Ok(time), |frame_s| {
                    Err(BadRequest::at(
                        "shutter_s",
                        format!("{seconds} s is not allowed: at most {frame_s:.6} s, the time of a frame"),
                    ))
                })
            }
            (None, Some(degrees)) => {
                let angle = at("shutter_angle_deg", ShutterAngle::from_deg(degrees))?;
                let missing = || {
                    BadRequest::at("frame_rate_fps", "is missing: an angle needs a frame rate, 1 to 1000 fps")
                };
                let rate = rate.ok_or_else(missing)?;
                Ok(exposure_time(angle, rate))
            }
            (None, None) => Err(BadRequest::at(
                "shutter_s",
                "is missing: 0.00001 to 60 s, or frame_rate_fps with shutter_angle_deg",
            )),
        }
    }
}

/// Answers an `exposure` request.
///
/// # Errors
/// Names the field that is missing or out of range. Too much light is not an error: it is a finding.
pub fn exposure(request: &ExposureRequest) -> Result<ExposureAnswer, BadRequest> {
    let exposing = request.to_exposing()?;
    let exposure =
        Exposure::of(exposing).map_err(|error| BadRequest::at("filters_stops", error.to_string()))?;
    let findings = check_exposure(&exposure);
    let Exposure { exposing, value, ev100, over, chosen, steady } = exposure;
    let chosen_filters = chosen.places.iter().filter_map(|place| request.filters_stops.get(*place));
    Ok(ExposureAnswer {
        shutter_s: exposing.time.to_s(),
        shutter_angle_deg: exposing
            .rate
            .and_then(|rate| exposing.time.shutter_angle(rate))
            .map(ShutterAngle::to_deg),
        exposure_value: value.to_f64(),
        ev100: ev100.to_f64(),
        stops_over: over.to_f64(),
        filter_stops: chosen_filters.copied().collect(),
        residual_stops: chosen.residual.to_f64(),
        flicker_safe: steady,
        findings: findings.iter().map(ExposureFinding::to_finding).map(FindingAnswer::from).collect(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::read;
    use serde_json::{Value, json};

    fn example() -> Value {
        json!({
            "f_number": 1.78, "frame_rate_fps": 24, "shutter_angle_deg": 180, "iso": 50, "scene_ev100": 15,
            "filters_stops": [2, 3, 6, 10], "stack": true, "bias_stops": -0.67, "mains_hz": 50
        })
    }

    fn answered(value: Value) -> Result<ExposureAnswer, String> {
        let request: Result<ExposureRequest, _> = read(value);
        request.and_then(|request| exposure(&request)).map_err(|error| error.to_string())
    }

    /// The example with some fields exchanged, or taken out where they are null.
    fn with(changes: &[(&str, Value)]) -> Value {
        let mut value = example();
        let fields = value.as_object_mut().expect("an object");
        for (name, change) in changes {
            if change.is_null() {
                fields.remove(*name);
            } else {
                fields.insert((*name).to_owned(), change.clone());
            }
        }
        value
    }

    #[test]
    fn the_example_is_answered() {
        let answer = answered(example()).expect("an answer");
        let near =
            |ours: f64, expected: f64| assert!((ours - expected).abs() < 1e-9, "{ours} is not {expected}");
        near(answer.shutter_s, 1.0 / 48.0);
        near(answer.exposure_value, 7.248_716_983_104_503);
        near(answer.ev100, 8.248_716_983_104_503);
        near(answer.stops_over, 7.421_283_016_895_497);
        assert_eq!(answer.filter_stops, [2.0, 6.0]);
        near(answer.residual_stops, -0.578_716_983_104_503);
        assert_eq!(answer.flicker_safe, Some(false));
        let rules: Vec<_> = answer.findings.iter().map(|finding| finding.rule.as_str()).collect();
        assert_eq!(rules, ["too_dark", "flicker"]);
    }

    #[test]
    fn without_stacking_one_filter_is_taken_at_the_most() {
        let answer = answered(with(&[("stack", json!(false))])).expect("an answer");
        assert_eq!(answer.filter_stops, [6.0]);
    }

    #[test]
    fn a_time_may_stand_for_rate_and_angle() {
        let none = Value::Null;
        let changes = [
            ("frame_rate_fps", none.clone()),
            ("shutter_angle_deg", none.clone()),
            ("mains_hz", none),
            ("shutter_s", json!(0.02)),
        ];
        let answer = answered(with(&changes)).expect("an answer");
        assert!((answer.shutter_s - 0.02).abs() < 1e-15);
        assert_eq!((answer.shutter_angle_deg, answer.flicker_safe), (None, None));
    }

    #[test]
    fn how_long_a_frame_is_exposed_is_said_once() {
        let refused = |changes: &[(&str, Value)]| answered(with(changes)).expect_err("refused");
        let none = Value::Null;
        assert_eq!(
            refused(&[("shutter_s", json!(0.02))]),
            "shutter_angle_deg: stands beside shutter_s; give one of the two"
        );
        assert_eq!(
            refused(&[("frame_rate_fps", none.clone())]),
            "frame_rate_fps: is missing: an angle needs a frame rate, 1 to 1000 fps"
        );
        assert_eq!(
            refused(&[("shutter_angle_deg", none.clone())]),
            "shutter_s: is missing: 0.00001 to 60 s, or frame_rate_fps with shutter_angle_deg"
        );
        assert_eq!(
            refused(&[("shutter_angle_deg", none), ("shutter_s", json!(0.05))]),
            "shutter_s: 0.05 s is not allowed: at most 0.041667 s, the time of a frame"
        );
    }

    /// The table of fields says what the checks say, at both ends.
    #[test]
    fn every_field_takes_what_its_line_says() {
        for field in EXPOSURE_FIELDS {
            let Takes::Number { min, max, unit } = field.takes else { continue };
            let changed = |value: f64| {
                let (name, value) = match field.path.strip_suffix("[]") {
                    Some(list) => (list, json!([value])),
                    None => (field.path, json!(value)),
                };
                let time =
                    [("frame_rate_fps", Value::Null), ("shutter_angle_deg", Value::Null), (name, value)];
                answered(with(if name == "shutter_s" { &time } else { &time[2..] }))
            };
            for inside in [min, max] {
                assert!(changed(inside).is_ok(), "{} = {inside}: {:?}", field.path, changed(inside));
            }
            for beyond in [min - 0.5, max + 0.5, max * 1e6, -1e9] {
                let told = changed(beyond).expect_err("beyond");
                let path = field.path.replace("[]", "[0]");
                assert_eq!(told, format!("{path}: {beyond} {unit} is not allowed: {min} to {max} {unit}"));
            }
        }
    }

    #[test]
    fn wrong_types_and_missing_fields_are_told_with_range_and_unit() {
        let refused = |name: &str, value: Value| answered(with(&[(name, value)])).expect_err("refused");
        assert_eq!(
            refused("f_number", json!("fast")),
            "f_number: \"fast\" is not allowed: 0.5 to 64 (f-number)"
        );
        assert_eq!(refused("iso", Value::Null), "iso: is missing: 1 to 1000000 (ISO)");
        assert_eq!(
            refused("filters_stops", json!([2, "x"])),
            "filters_stops[1]: \"x\" is not allowed: 0 to 20 stops"
        );
        assert_eq!(refused("filters_stops", json!(2)), "filters_stops: 2 is not allowed: a list");
        assert_eq!(
            refused("filters_stops", json!(vec![1; 13])),
            "filters_stops: 13 filters are not allowed: 0 to 12 filters"
        );
        let told = refused("shutter_degrees", json!(180));
        assert!(told.starts_with("shutter_degrees: is not a field here: f_number, "), "{told}");
    }
}
