//! The answer to a `setup` request.

use film::{Finding, Severity, ShotResult, TakeFinding};
use optics::{DeliveredFrame, FarLimit, FrameAxis, SharpZone, airy_diameter};
use serde::{Deserialize, Serialize};
use staging::{Figures, Setup, Shot};
use units::{Length, LengthUnit};

/// Where the phone stands and what follows. `null` where it cannot be told.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "declarations", derive(ts_rs::TS))]
pub struct SetupAnswer {
    /// From the phone to the subject along the floor.
    pub distance_m: Option<f64>,
    /// Its standard uncertainty, from the lens's and the body's.
    pub distance_sd_m: Option<f64>,
    /// The lens's height above the floor.
    pub camera_height_m: f64,
    /// The lens's tilt, up positive.
    pub tilt_deg: Option<f64>,
    /// Its standard uncertainty.
    pub tilt_sd_deg: Option<f64>,
    /// How far the subject stands to the right of straight ahead.
    pub subject_right_deg: Option<f64>,
    /// Axial focus distance: where it was asked for; else of the eyes where they are in the frame, else of the subject at
    /// the frame's centre.
    pub focus_m: Option<f64>,
    /// Axial distance of the subject: of the eyes where they are in the frame, else at the frame's centre.
    pub subject_depth_m: Option<f64>,
    /// The delivered frame's full horizontal angle of view, focused there.
    pub horizontal_fov_deg: Option<f64>,
    /// Its standard uncertainty.
    pub horizontal_fov_sd_deg: Option<f64>,
    /// The delivered frame's full vertical angle of view, focused there.
    pub vertical_fov_deg: Option<f64>,
    /// Its standard uncertainty.
    pub vertical_fov_sd_deg: Option<f64>,
    /// The delivered frame's width in whole pixels.
    pub delivered_width_px: u32,
    /// The delivered frame's height in whole pixels.
    pub delivered_height_px: u32,
    /// Whether the delivered pixels were captured.
    pub pixels: PixelsAnswer,
    /// The share of the desqueezed image that the crop gives up.
    pub crop_lost_share: f64,
    /// The 35 mm-equivalent of the recording: of its area's diagonal, before crop and adapter.
    pub focal_length_35mm_equivalent_mm: f64,
    /// What counts as sharp, on the sensor.
    pub circle_of_confusion_mm: Option<f64>,
    /// The nearest axial distance that is sharp.
    pub near_m: Option<f64>,
    /// Its standard uncertainty.
    pub near_sd_m: Option<f64>,
    /// The farthest axial distance that is sharp; null is infinity (where `near_m` is told).
    pub far_m: Option<f64>,
    /// The nearest focus distance that keeps infinity sharp.
    pub hyperfocal_m: Option<f64>,
    /// Height of the blur disc of a background point, in delivered pixels.
    pub background_blur_px: Option<f64>,
    /// Width of that disc, in delivered pixels.
    pub background_blur_width_px: Option<f64>,
    /// Its height over the delivered frame's.
    pub background_blur_share: Option<f64>,
    /// Height of the disc in which a point of the subject is drawn, in delivered pixels; 0 where focus is on it.
    pub subject_blur_px: Option<f64>,
    /// Width of that disc, in delivered pixels.
    pub subject_blur_width_px: Option<f64>,
    /// How soft what is in focus stays along the adapter's axis, in delivered pixels; 0 without an adapter.
    pub subject_sideways_softness_px: Option<f64>,
    /// The focus distance from which the adapter leaves the subject sharp enough sideways.
    pub adapter_useful_from_m: Option<f64>,
    /// Diameter of the Airy disc on the sensor.
    pub airy_diameter_um: Option<f64>,
    /// How many times larger the nose's plane is drawn than the ears', less one.
    pub face_stretch_share: Option<f64>,
    /// How wide a strip of the background is seen.
    pub place_width_m: Option<f64>,
    /// How high above the floor the frame's lower edge meets the subject.
    pub cut_height_m: Option<f64>,
    /// The share of the frame's height above the crown; negative crops it.
    pub headroom_share: Option<f64>,
    /// What is the matter, and what would mend it.
    pub findings: Vec<FindingAnswer>,
}

/// Whether delivered pixels were captured.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "declarations", derive(ts_rs::TS))]
#[serde(rename_all = "snake_case")]
pub enum PixelsAnswer {
    /// Every one of them.
    Captured,
    /// The width was stretched: some of its pixels were not.
    StretchedInWidth,
    /// The height was stretched: some of its pixels were not.
    StretchedInHeight,
}

/// One finding.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "declarations", derive(ts_rs::TS))]
pub struct FindingAnswer {
    /// The rule's name.
    pub rule: String,
    /// How bad it is.
    pub severity: SeverityAnswer,
    /// What is the matter, with its numbers.
    pub message: String,
    /// What would mend it.
    pub hint: String,
}

/// How bad a finding is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "declarations", derive(ts_rs::TS))]
#[serde(rename_all = "snake_case")]
pub enum SeverityAnswer {
    /// Worth knowing.
    Notes,
    /// It can be shot, but look first.
    Warns,
    /// It cannot be shot like this.
    Fails,
}

impl SeverityAnswer {
    /// What it does, in the word that answers have for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Notes => Severity::Notes.name(),
            Self::Warns => Severity::Warns.name(),
            Self::Fails => Severity::Fails.name(),
        }
    }
}

impl From<Severity> for SeverityAnswer {
    fn from(severity: Severity) -> Self {
        match severity {
            Severity::Notes => Self::Notes,
            Severity::Warns => Self::Warns,
            Severity::Fails => Self::Fails,
        }
    }
}

impl From<Finding> for FindingAnswer {
    fn from(finding: Finding) -> Self {
        Self {
            rule: finding.rule.to_owned(),
            severity: finding.severity.into(),
            message: finding.message,
            hint: finding.hint,
        }
    }
}

impl SetupAnswer {
    /// The answer that a resolved shot gives.
    pub fn of(result: &ShotResult) -> Self {
        let shot = &result.shot;
        let frame = result.outcome.as_ref().map_or_else(|_| shot.frame(), |setup| setup.frame);
        let mut answer = Self::without_place(shot, &frame);
        if let (Ok(setup), Some(figures)) = (&result.outcome, &result.figures) {
            answer.add_place(setup);
            answer.add_figures(figures);
        }
        let words = |finding: &film::SetupFinding| finding.to_finding(LengthUnit::Metres).into();
        answer.findings = result.findings.iter().map(words).collect();
        answer
    }

    /// The answer with what is the matter with its take.
    #[must_use]
    pub fn with_take(mut self, findings: &[TakeFinding]) -> Self {
        self.findings.extend(findings.iter().map(|finding| finding.to_finding(LengthUnit::Metres).into()));
        self
    }

    /// What does not depend on where the phone stands.
    fn without_place(shot: &Shot, frame: &DeliveredFrame) -> Self {
        let (delivered_width_px, delivered_height_px) = frame.whole_px();
        let f = shot.lens.focal_length.value.to_length();
        Self {
            distance_m: None,
            distance_sd_m: None,
            camera_height_m: shot.subject.phone_height(shot.size, shot.phone_height).to_m(),
            tilt_deg: None,
            tilt_sd_deg: None,
            subject_right_deg: None,
            focus_m: None,
            subject_depth_m: None,
            horizontal_fov_deg: None,
            horizontal_fov_sd_deg: None,
            vertical_fov_deg: None,
            vertical_fov_sd_deg: None,
            delivered_width_px,
            delivered_height_px,
            pixels: match frame.stretched {
                None => PixelsAnswer::Captured,
                Some(FrameAxis::Width) => PixelsAnswer::StretchedInWidth,
                Some(FrameAxis::Height) => PixelsAnswer::StretchedInHeight,
            },
            crop_lost_share: frame.lost_share(),
            focal_length_35mm_equivalent_mm: f.to_mm() * frame.recorded.size.crop_factor(),
            circle_of_confusion_mm: shot.circle_of_confusion(frame).map(|circle| circle.to_length().to_mm()),
            near_m: None,
            near_sd_m: None,
            far_m: None,
            hyperfocal_m: shot.hyperfocal(frame).map(Length::to_m),
            background_blur_px: None,
            background_blur_width_px: None,
            background_blur_share: None,
            subject_blur_px: None,
            subject_blur_width_px: None,
            subject_sideways_softness_px: None,
            adapter_useful_from_m: None,
            airy_diameter_um: shot.lens.f_number.map(|number| airy_diameter(number.value).to_mm() * 1000.0),
            face_stretch_share: None,
            place_width_m: None,
            cut_height_m: None,
            headroom_share: None,
            findings: Vec::new(),
        }
    }

    fn add_place(&mut self, setup: &Setup) {
        self.distance_m = Some(setup.distance.to_m());
        self.distance_sd_m = Some(setup.spread.distance.to_m());
        self.tilt_deg = Some(setup.tilt.to_deg());
        self.tilt_sd_deg = Some(setup.spread.tilt.to_deg());
        self.subject_right_deg = Some(setup.subject_right.to_deg());
        self.focus_m = Some(setup.focus.to_m());
        self.subject_depth_m = Some(setup.subject_depth.to_m());
        self.horizontal_fov_deg = Some(setup.view.horizontal_fov().to_deg());
        self.horizontal_fov_sd_deg = Some(setup.spread.horizontal_fov.to_deg());
        self.vertical_fov_deg = Some(setup.view.vertical_fov().to_deg());
        self.vertical_fov_sd_deg = Some(setup.spread.vertical_fov.to_deg());
        self.cut_height_m = setup.cut_height.map(Length::to_m);
        self.headroom_share = Some(setup.headroom);
    }

    fn add_figures(&mut self, figures: &Figures) {
        self.near_m = figures.sharp.map(|zone| zone.near.to_m());
        self.near_sd_m = figures.near_sd.map(Length::to_m);
        self.far_m = figures.sharp.and_then(|zone| far_m(&zone));
        self.background_blur_px = figures.background.map(|softness| softness.height_px);
        self.background_blur_width_px = figures.background.map(|softness| softness.width_px);
        self.background_blur_share = figures.background.map(|softness| softness.share);
        self.subject_blur_px = figures.subject.map(|softness| softness.height_px);
        self.subject_blur_width_px = figures.subject.map(|softness| softness.width_px);
        self.subject_sideways_softness_px = figures.subject_sideways_px;
        self.adapter_useful_from_m = figures.adapter_useful_from.map(Length::to_m);
        self.face_stretch_share = figures.face_stretch;
        self.place_width_m = Some(figures.place_width.to_m());
    }
}

/// The farthest axial distance that is sharp, metres; none is infinity.
pub(crate) fn far_m(zone: &SharpZone) -> Option<f64> {
    match zone.far {
        FarLimit::At(far) => Some(far.to_m()),
        FarLimit::Infinity => None,
    }
}
