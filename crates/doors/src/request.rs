//! Requests, as the terminal, the page and other people's pages send them.

use film::KitRecord;
use jiff::tz::{TimeZone, TimeZoneDatabase};
use requests::{
    BadRequest, BlurRequest, CareRequest, DaylightRequest, ExposureRequest, MeasureRequest, SetupRequest,
    StageRecord, SunAtRequest,
};
use serde::{Deserialize, Serialize};

use crate::has_words;
use crate::json::{self, has_numbers};

/// A shot on one lens, and the stage that its picture is drawn from.
pub(crate) fn setup(bytes: &[u8]) {
    let Some(request) = json::read::<SetupRequest>(bytes) else { return };
    let Some(mut answer) = answered(requests::setup(&request)) else { return };
    // Names of findings may hold any letters.
    answer.findings.clear();
    has_numbers(&answer);
    let last_s = request.take.as_ref().map_or(0.0, |take| take.duration_s.unwrap_or(5.0));
    for at_s in [0.0, last_s] {
        let Some(pictured) = answered(requests::picture(&request, at_s)) else { continue };
        let Some(stage) = pictured.stage else { continue };
        has_numbers(&stage);
        // Whoever draws it is sent it as it is, or told why not: some lenses see next to nothing.
        if let Ok(sent) = StageRecord::from(&stage).to_stage() {
            assert_eq!(sent, stage);
        }
    }
}

/// What `compare` is asked with: the terminal reads the two from two files.
#[derive(Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct CompareRequest {
    kit: KitRecord,
    request: SetupRequest,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    sort_by: Option<CareRequest>,
}

/// A shot on every lens of a kit.
pub(crate) fn compare(bytes: &[u8]) {
    let Some(CompareRequest { kit, request, sort_by }) = json::read(bytes) else { return };
    let Some(mut answer) = answered(requests::compare(&kit, &request, sort_by)) else { return };
    for lens in &mut answer.lenses {
        lens.setup.findings.clear();
        has_numbers(&lens.setup);
    }
}

/// How large a point out of focus is drawn.
pub(crate) fn blur(bytes: &[u8]) {
    let Some(request) = json::read::<BlurRequest>(bytes) else { return };
    if let Some(answer) = answered(requests::blur(&request)) {
        has_numbers(&answer);
    }
}

/// How much light is too much.
pub(crate) fn exposure(bytes: &[u8]) {
    let Some(request) = json::read::<ExposureRequest>(bytes) else { return };
    if let Some(mut answer) = answered(requests::exposure(&request)) {
        answer.findings.clear();
        has_numbers(&answer);
    }
}

/// Where the sun is.
pub(crate) fn sun(bytes: &[u8]) {
    let Some(request) = json::read::<SunAtRequest>(bytes) else { return };
    if let Some(answer) = answered(requests::sun(&request, zone)) {
        has_numbers(&answer);
    }
}

/// The light of a day at a place.
pub(crate) fn daylight(bytes: &[u8]) {
    let Some(request) = json::read::<DaylightRequest>(bytes) else { return };
    let Some(answer) = answered(requests::daylight(&request, zone)) else { return };
    has_numbers(&answer);
    if let Err(refusal) = answer.to_daylight() {
        has_words(refusal);
    }
}

/// What a lens really sees.
pub(crate) fn measure(bytes: &[u8]) {
    let Some(request) = json::read::<MeasureRequest>(bytes) else { return };
    if let Some(mut answer) = answered(requests::measure(&request)) {
        answer.findings.clear();
        answer.frames.clear();
        has_numbers(&answer);
    }
}

/// The answer, or none where the refusal has words.
fn answered<Answer>(answer: Result<Answer, BadRequest>) -> Option<Answer> {
    answer.map_err(has_words).ok()
}

fn zone(name: &str) -> Option<TimeZone> {
    TimeZoneDatabase::bundled().get(name).ok()
}
