//! The `compare` request: one shot on every lens of a kit.

use film::{Care, Comparison, Kit, KitRecord, KitRecording, TakeFinding, sort_by_care};
use serde::{Deserialize, Serialize};

use crate::answer::SetupAnswer;
use crate::error::BadRequest;
use crate::setup::{SetupRequest, take_findings};

/// What to sort a comparison by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "declarations", derive(ts_rs::TS))]
#[serde(rename_all = "snake_case")]
pub enum CareRequest {
    /// A face that nearness does not stretch.
    NaturalFace,
    /// A background as soft as can be.
    SoftBackground,
    /// As much of the place as can be.
    MostPlace,
    /// As little room as can be.
    LeastDistance,
}

/// One shot on every lens of a kit.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "declarations", derive(ts_rs::TS))]
pub struct CompareAnswer {
    /// The recording mode that they were compared in.
    pub recording: String,
    /// The lenses: bare ones first and then each adapter, or as sorted.
    pub lenses: Vec<ComparedLens>,
}

/// The shot on one lens.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "declarations", derive(ts_rs::TS))]
pub struct ComparedLens {
    /// The lens, by name.
    pub lens: String,
    /// The zoom that reads only the middle of its sensor; 1 reads all of it.
    pub in_sensor_zoom: f64,
    /// The adapter, by name, if one is on.
    pub adapter: Option<String>,
    /// Whether nothing stands in the way.
    pub will_do: bool,
    /// What stands in the way most, in a few words.
    pub reason: Option<String>,
    /// Where the phone stands and what follows.
    pub setup: SetupAnswer,
}

impl From<CareRequest> for Care {
    fn from(request: CareRequest) -> Self {
        match request {
            CareRequest::NaturalFace => Self::NaturalFace,
            CareRequest::SoftBackground => Self::SoftBackground,
            CareRequest::MostPlace => Self::MostPlace,
            CareRequest::LeastDistance => Self::LeastDistance,
        }
    }
}

/// Answers a `compare` request: the shot on every lens and zoom of the kit, without and with each of its adapters.
///
/// The request's own lens is not used. Its recording is, where it has one; else the kit's first. Its adapter stands in
/// where the kit has none.
///
/// # Errors
/// Names the field that is missing or out of range, `kit.…` for those of the kit.
pub fn compare(
    kit: &KitRecord,
    request: &SetupRequest,
    sort_by: Option<CareRequest>,
) -> Result<CompareAnswer, BadRequest> {
    let mut kit = kit.to_kit().map_err(|error| error.within("kit"))?;
    let recording = recording_for(&kit, request)?;
    if let (true, Some(adapter)) = (kit.adapters.is_empty(), &request.adapter) {
        let name = adapter.name.clone().unwrap_or_else(|| "adapter".to_owned());
        kit.adapters.push(adapter.to_kit_adapter(name).map_err(|error| error.within("adapter"))?);
    }
    let Some(first) = kit.lenses.first() else {
        return Err(BadRequest::at("kit.lenses", "is empty"));
    };
    // The lens is each of the kit's in turn; the first only completes the shot.
    let shot = request.to_shot(first.lens, recording.recording)?;
    let mut rows = film::compare(&kit, &recording, &shot, &request.circumstances()?);
    if let Some(care) = sort_by {
        sort_by_care(&mut rows, care.into());
    }
    let mut lenses = Vec::with_capacity(rows.len());
    for row in &rows {
        let findings = take_findings(request, &row.result)?;
        lenses.extend(compared(&kit, row, &findings));
    }
    Ok(CompareAnswer { recording: recording.name, lenses })
}

/// The recording mode to compare in.
fn recording_for(kit: &Kit, request: &SetupRequest) -> Result<KitRecording, BadRequest> {
    if let Some(record) = &request.recording {
        let recording = record.to_recording().map_err(|error| error.within("recording"))?;
        let name =
            record.name.clone().unwrap_or_else(|| format!("{} x {}", record.width_px, record.height_px));
        return Ok(KitRecording { name, recording, frame_rates: Vec::new(), iso_floor: None });
    }
    let missing = || BadRequest::at("recording", "is missing, and the kit has no recordings either");
    kit.recordings.first().cloned().ok_or_else(missing)
}

fn compared(kit: &Kit, row: &Comparison, findings: &[TakeFinding]) -> Option<ComparedLens> {
    let will_do = row.result.will_do();
    Some(ComparedLens {
        lens: kit.lenses.get(row.lens)?.name.clone(),
        in_sensor_zoom: row.in_sensor_zoom,
        adapter: row.adapter.and_then(|at| kit.adapters.get(at)).map(|adapter| adapter.name.clone()),
        will_do,
        reason: row.result.worst().filter(|_| !will_do).map(|finding| finding.brief().to_owned()),
        setup: SetupAnswer::of(&row.result).with_take(findings),
    })
}
