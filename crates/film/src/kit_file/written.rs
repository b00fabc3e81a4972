//! A kit as its file writes it.

use optics::{
    Desqueeze, ExposureTime, FNumber, FrameAxis, Iso, Lens, MeasuredSqueeze, MeasuredView, Origin, Recording,
    Scale, SensorSize, Stacking,
};
use units::{Angle, Length};

use crate::kit::{CameraApp, ClearView, Kit, KitAdapter, KitFilter, KitLens, KitRecording, KitView};
use crate::kit_file::record::{
    AdapterRecord, AxisRecord, CameraAppRecord, ClearViewRecord, DesqueezeRecord, FilterRecord,
    KIT_FORMAT_VERSION, KitRecord, LensRecord, OriginRecord, RecordingRecord, ViewRecord,
};
use crate::kit_file::usual_stacking;
use crate::record::{read_back, written_deg};

impl From<&Kit> for KitRecord {
    /// What is usual is left out. Where the values come from in words is no part of a kit, so `source` is empty.
    fn from(kit: &Kit) -> Self {
        Self {
            format_version: KIT_FORMAT_VERSION,
            name: Some(kit.name.clone()),
            source: None,
            camera_app: Some(kit.camera_app.into()),
            lenses: kit.lenses.iter().map(LensRecord::from).collect(),
            recordings: kit.recordings.iter().map(RecordingRecord::from).collect(),
            adapters: kit.adapters.iter().map(AdapterRecord::from).collect(),
            filters: kit.filters.iter().map(FilterRecord::from).collect(),
            views: kit.views.iter().map(ViewRecord::from).collect(),
            exposure_times_s: kit.exposure_times.iter().map(|time| ExposureTime::to_s(*time)).collect(),
        }
    }
}

impl From<&KitLens> for LensRecord {
    fn from(KitLens { name, lens, in_sensor_zooms, closes_to, iso_floor }: &KitLens) -> Self {
        let origin = lens.focal_length.origin;
        let focal_length = lens.focal_length.value.to_length();
        let sensor = lens.sensor.value;
        let sd = |relative: f64, of: Length| {
            let mm = of.to_mm();
            let usual = relative.to_bits() == origin.suggested_relative_sd().to_bits();
            (!usual).then(|| read_back(relative, relative * mm, |sd| sd / mm))
        };
        let (focal_mm, equivalent_mm) = match lens.scale {
            Scale::True => (Some(written_mm(focal_length)), None),
            Scale::Equivalent => (None, Some(written_mm(focal_length))),
        };
        let sides = matches!(lens.scale, Scale::True);
        Self {
            name: Some(name.clone()),
            focal_length_mm: focal_mm,
            focal_length_sd_mm: sd(lens.focal_length.relative_sd, focal_length),
            focal_length_35mm_equivalent_mm: equivalent_mm,
            f_number: lens.f_number.map(|known| known.value.to_f64()),
            sensor_width_mm: sides.then(|| written_mm(sensor.width)),
            sensor_height_mm: sides.then(|| written_mm(sensor.height)),
            sensor_width_sd_mm: sd(lens.sensor.relative_sd, sensor.width),
            sensor_aspect: sensor_aspect(lens),
            closest_focus_m: lens.closest_focus.map(Length::to_m),
            in_sensor_zooms: in_sensor_zooms.clone(),
            closes_to_f_number: closes_to.map(FNumber::to_f64),
            iso_floor: iso_floor.map(Iso::to_f64),
            origin: Some(origin.into()),
        }
    }
}

/// The still photo's shape where only the equivalent is known and the shape is not the usual one.
fn sensor_aspect(lens: &Lens) -> Option<f64> {
    let focal_length = lens.focal_length.value;
    let of = |aspect: f64| SensorSize::from_equivalent(focal_length, focal_length, aspect);
    let sensor = lens.sensor.value;
    let usual = matches!(lens.scale, Scale::True) || of(4.0 / 3.0) == sensor;
    (!usual).then(|| {
        read_back(sensor.width.to_m(), sensor.width / sensor.height, |aspect| of(aspect).width.to_m())
    })
}

/// A length in millimetres.
fn written_mm(length: Length) -> f64 {
    read_back(length.to_m(), length.to_mm(), |millimetres| Length::from_mm(millimetres).to_m())
}

/// A factor, where it is not 1.
fn unless_one(factor: f64) -> Option<f64> {
    (factor.to_bits() != 1.0_f64.to_bits()).then_some(factor)
}

/// The uncertainty of a measured angle, where it is not the usual one: the inverse of how it is read.
fn measured_sd_deg(view: &MeasuredView) -> Option<f64> {
    let usual = view.relative_sd.to_bits() == Origin::Measured.suggested_relative_sd().to_bits();
    let half = view.horizontal_fov / 2.0;
    let steepness = half.sin() * half.cos();
    (!usual).then(|| {
        let plain = Angle::from_rad(view.relative_sd * steepness).to_deg() * 2.0;
        read_back(view.relative_sd, plain, |sd| Angle::from_deg(sd / 2.0).to_rad() / steepness)
    })
}

impl From<&KitRecording> for RecordingRecord {
    fn from(KitRecording { name, recording, frame_rates, iso_floor }: &KitRecording) -> Self {
        let measured = recording.measured();
        let of = |mode: &Recording| (mode.width_px(), mode.height_px());
        let (width_px, height_px) = of(recording);
        Self {
            name: Some(name.clone()),
            width_px,
            height_px,
            frame_rates_fps: frame_rates.iter().map(|rate| rate.to_fps()).collect(),
            stabiliser_crop: unless_one(recording.stabiliser_crop()),
            in_sensor_zoom: unless_one(recording.in_sensor_zoom()),
            measured_horizontal_fov_deg: measured.map(|view| written_deg(view.horizontal_fov)),
            measured_horizontal_fov_sd_deg: measured.as_ref().and_then(measured_sd_deg),
            measured_at_m: measured.and_then(|view| view.at).map(Length::to_m),
            iso_floor: iso_floor.map(Iso::to_f64),
        }
    }
}

impl From<&KitAdapter> for AdapterRecord {
    fn from(kit_adapter: &KitAdapter) -> Self {
        let KitAdapter { name, adapter, measured_squeeze, axis_when_upright, fits, vignettes, clear_views } =
            kit_adapter;
        let light_loss = adapter.light_loss.to_f64();
        Self {
            name: Some(name.clone()),
            source: None,
            squeeze: adapter.squeeze.to_f64(),
            measured_squeeze: measured_squeeze.map(|measured| measured.squeeze.to_f64()),
            measured_squeeze_sd: measured_squeeze.as_ref().and_then(squeeze_sd),
            focusing: adapter.focusing.then_some(true),
            light_loss_stops: (light_loss > 0.0).then_some(light_loss),
            axis_when_upright: match axis_when_upright {
                FrameAxis::Width => None,
                FrameAxis::Height => Some(AxisRecord::Height),
            },
            desqueeze: match adapter.desqueeze {
                Desqueeze::Stretch => None,
                Desqueeze::Shrink => Some(DesqueezeRecord::Shrink),
            },
            fits: fits.clone(),
            vignettes: vignettes.clone(),
            clear_views: clear_views.iter().map(ClearViewRecord::from).collect(),
        }
    }
}

/// The uncertainty of a measured squeeze, where it is not the usual one: the inverse of how it is read.
fn squeeze_sd(measured: &MeasuredSqueeze) -> Option<f64> {
    let usual = measured.relative_sd.to_bits() == Origin::Measured.suggested_relative_sd().to_bits();
    let factor = measured.squeeze.to_f64();
    (!usual).then(|| read_back(measured.relative_sd, measured.relative_sd * factor, |sd| sd / factor))
}

impl From<&ClearView> for ClearViewRecord {
    fn from(ClearView { lens, recording, clear_share }: &ClearView) -> Self {
        Self { lens: lens.clone(), recording: recording.clone(), clear_share: *clear_share }
    }
}

impl From<&KitFilter> for FilterRecord {
    fn from(filter: &KitFilter) -> Self {
        let KitFilter { name, least, most, fits, stacking } = filter;
        Self {
            name: Some(name.clone()),
            stops: least.to_f64(),
            stops_most: (most != least).then(|| most.to_f64()),
            fits: fits.clone(),
            stacks: (*stacking != usual_stacking(*least, *most)).then_some(*stacking == Stacking::Any),
        }
    }
}

impl From<&KitView> for ViewRecord {
    fn from(KitView { lens, recording, view }: &KitView) -> Self {
        Self {
            lens: lens.clone(),
            recording: recording.clone(),
            horizontal_fov_deg: written_deg(view.horizontal_fov),
            horizontal_fov_sd_deg: measured_sd_deg(view),
            at_m: view.at.map(Length::to_m),
        }
    }
}

impl From<CameraApp> for CameraAppRecord {
    fn from(app: CameraApp) -> Self {
        match app {
            CameraApp::Nothing => Self::Nothing,
            CameraApp::LockOnly => Self::LockOnly,
            CameraApp::FullManual => Self::FullManual,
        }
    }
}

impl From<Origin> for OriginRecord {
    fn from(origin: Origin) -> Self {
        match origin {
            Origin::Typical => Self::Typical,
            Origin::File => Self::File,
            Origin::Typed => Self::Typed,
            Origin::Measured => Self::Measured,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kit_that_comes_with_the_program_is_written_as_itself() {
        let adapters = crate::adapters().into_iter().map(|one| one.to_kit_adapter("clip-on".to_owned()));
        let adapters: Vec<KitAdapter> = adapters.map(|one| one.expect("a preset")).collect();
        for record in crate::kits() {
            let kit = Kit { adapters: adapters.clone(), ..record.to_kit().expect("a preset") };
            let written = KitRecord::from(&kit);
            assert_eq!(written.to_kit().expect("as written"), kit);
            assert_eq!(KitRecord::from(&written.to_kit().expect("as written")), written);
        }
    }

    #[test]
    fn a_kit_of_odd_values_is_written_as_itself() {
        let text = r#"{"name": "odd", "camera_app": "nothing", "lenses": [
            {"focal_length_35mm_equivalent_mm": 23.7, "sensor_aspect": 1.5, "origin": "measured"},
            {"focal_length_mm": 6.861, "focal_length_35mm_equivalent_mm": 24.3, "f_number": 1.79,
             "focal_length_sd_mm": 0.013, "sensor_width_sd_mm": 0.07, "closest_focus_m": 0.17, "origin": "file",
             "closes_to_f_number": 4.0, "iso_floor": 25}],
            "recordings": [{"width_px": 1080, "height_px": 1920, "stabiliser_crop": 1.07, "iso_floor": 400,
             "measured_horizontal_fov_deg": 33.37, "measured_horizontal_fov_sd_deg": 0.71, "measured_at_m": 2.3}],
            "adapters": [{"squeeze": 1.33, "light_loss_stops": 0.3, "axis_when_upright": "height",
             "desqueeze": "shrink", "focusing": true, "fits": ["lens 1"], "measured_squeeze": 1.297,
             "measured_squeeze_sd": 0.0043, "clear_views": [{"lens": "lens 1", "recording": "mode 1", "clear_share": 0.83}]},
             {"squeeze": 1.5, "measured_squeeze": 1.47}],
            "filters": [{"stops": 2, "stops_most": 5.5, "stacks": true, "fits": ["lens 2", "adapter 1"]}, {"stops": 3, "stacks": false}],
            "exposure_times_s": [0.02, 0.016666666666666666],
            "views": [{"lens": "lens 1", "recording": "mode 1", "horizontal_fov_deg": 70.1,
             "horizontal_fov_sd_deg": 0.3}]}"#;
        let kit = serde_json::from_str::<KitRecord>(text).expect("a record").to_kit().expect("a kit");
        let written = KitRecord::from(&kit);
        assert_eq!(written.to_kit().expect("as written"), kit, "{written:?}");
        assert_eq!(written.views[0].horizontal_fov_sd_deg, Some(0.3));
        assert_eq!(written.lenses[1].focal_length_sd_mm, Some(0.013));
        assert_eq!(written.adapters[0].measured_squeeze_sd, Some(0.0043));
        assert_eq!(written.adapters[1].measured_squeeze_sd, None);
    }
}
