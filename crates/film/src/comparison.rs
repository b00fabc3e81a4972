//! The same shot on every lens of a kit, with and without its adapters.

use std::cmp::Ordering;

use staging::{Figures, Setup, Shot, Unframed};

use crate::findings::{Circumstances, SetupFinding, Severity, check_setup};
use crate::kit::{AdapterFit, Kit, KitRecording};

/// One lens with one zoom and one adapter or none, and what the shot is on it.
#[derive(Debug, Clone, PartialEq)]
pub struct Comparison {
    /// The lens's place in the kit.
    pub lens: usize,
    /// The zoom that reads only the middle of the sensor; 1 reads all of it.
    pub in_sensor_zoom: f64,
    /// The adapter's place in the kit, if one is on.
    pub adapter: Option<usize>,
    /// The shot on it.
    pub result: ShotResult,
}

/// A shot with all that follows from it.
#[derive(Debug, Clone, PartialEq)]
pub struct ShotResult {
    /// The shot.
    pub shot: Shot,
    /// Where the phone stands, or why nowhere.
    pub outcome: Result<Setup, Unframed>,
    /// What it means, where there is a setup.
    pub figures: Option<Figures>,
    /// What will not work about it.
    pub findings: Vec<SetupFinding>,
}

/// What a person cares about most when choosing a lens.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Care {
    /// A face that nearness does not stretch.
    #[default]
    NaturalFace,
    /// A background as soft as can be.
    SoftBackground,
    /// As much of the place as can be.
    MostPlace,
    /// As little room as can be.
    LeastDistance,
}

impl ShotResult {
    /// Resolves a shot, works out its figures and checks it.
    pub fn of(shot: Shot, around: &Circumstances) -> Self {
        let outcome = shot.resolve(shot.frame());
        let figures = outcome.as_ref().ok().map(|setup| Figures::of(&shot, setup));
        let findings = check_setup(&shot, &outcome, figures.as_ref(), around);
        Self { shot, outcome, figures, findings }
    }

    /// Whether nothing stands in its way.
    pub fn will_do(&self) -> bool {
        self.outcome.is_ok() && self.findings.iter().all(|finding| finding.severity() != Severity::Fails)
    }

    /// What stands in its way most.
    pub fn worst(&self) -> Option<&SetupFinding> {
        // `max_by_key` would give the last of equals; the first found is the one to say first.
        self.findings.iter().rev().max_by_key(|finding| finding.severity())
    }
}

/// The shot on every lens, zoom and adapter of `kit`, in the kit's order: bare lenses first, then each adapter.
///
/// `shot` gives everything but lens and recording; its own adapter is left out in favour of the kit's.
pub fn compare(kit: &Kit, recording: &KitRecording, shot: &Shot, around: &Circumstances) -> Vec<Comparison> {
    let count = kit.lenses.len() * (1 + kit.adapters.len());
    let mut rows = Vec::with_capacity(count);
    let mounts = std::iter::once(None).chain((0..kit.adapters.len()).map(Some));
    for mount in mounts {
        for (index, lens) in kit.lenses.iter().enumerate() {
            let whole = kit.recording_of(recording, lens);
            let zooms = std::iter::once(1.0).chain(lens.in_sensor_zooms.iter().copied());
            for zoom in zooms {
                // A zoom within range times one within range may leave it; such a zoom is no choice.
                let Ok(mode) = whole.zoomed(zoom) else { continue };
                let kit_adapter = mount.and_then(|at| kit.adapters.get(at));
                let around = Circumstances {
                    adapter_fit: kit_adapter.map_or(AdapterFit::Fits, |adapter| {
                        adapter.fit_in(&lens.name, &recording.name, zoom)
                    }),
                    ..*around
                };
                let on_this = Shot {
                    lens: lens.lens,
                    recording: mode,
                    adapter: kit_adapter.map(|adapter| adapter.before(&mode)),
                    ..*shot
                };
                let result = ShotResult::of(on_this, &around);
                rows.push(Comparison { lens: index, in_sensor_zoom: zoom, adapter: mount, result });
            }
        }
    }
    rows
}

/// Puts what will do first, and among that what serves `care` best.
pub fn sort_by_care(rows: &mut [Comparison], care: Care) {
    rows.sort_by(|one, other| {
        let usable = other.result.will_do().cmp(&one.result.will_do());
        usable.then_with(|| by_care(&one.result, &other.result, care))
    });
}

/// Compares two results by what a person cares about; what is not known comes last.
fn by_care(one: &ShotResult, other: &ShotResult, care: Care) -> Ordering {
    let cost = |result: &ShotResult| -> Option<f64> {
        let setup = result.outcome.as_ref().ok()?;
        let figures = result.figures.as_ref()?;
        match care {
            Care::NaturalFace => figures.face_stretch,
            Care::SoftBackground => figures.background.map(|softness| -softness.share),
            Care::MostPlace => Some(-figures.place_width.to_m()),
            Care::LeastDistance => Some(setup.distance.to_m()),
        }
    };
    match (cost(one), cost(other)) {
        (Some(one), Some(other)) => one.total_cmp(&other),
        (Some(_), None) => Ordering::Less,
        (None, Some(_)) => Ordering::Greater,
        (None, None) => Ordering::Equal,
    }
}
