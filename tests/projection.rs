//! Field of view and projection against OpenCV's camera model, an independent implementation.
#![expect(clippy::expect_used, reason = "a test that cannot read its figures must fail")]

use glam::DVec3;
use optics::{
    Aspect, CropShift, FocalLength, Origin, RecordedArea, SensorSize, ViewTangents, deliver, image_distance,
    view_tangents,
};
use serde::Deserialize;
use staging::Camera;
use units::{Angle, Length};

#[derive(Deserialize)]
struct Reference {
    source: String,
    tolerance_deg: f64,
    tolerance_px: f64,
    field_of_view: Vec<FieldOfView>,
    projection: Vec<Projection>,
}

#[derive(Deserialize)]
struct FieldOfView {
    case: String,
    focal_length_mm: f64,
    area_mm: (f64, f64),
    image_px: (f64, f64),
    horizontal_deg: f64,
    vertical_deg: f64,
}

#[derive(Deserialize)]
struct Projection {
    case: String,
    camera_height_m: f64,
    tilt_deg: f64,
    pan_deg: f64,
    focal_length_mm: f64,
    area_mm: (f64, f64),
    image_px: (f64, f64),
    points: Vec<Point>,
}

#[derive(Deserialize)]
struct Point {
    world_m: (f64, f64, f64),
    depth_m: f64,
    seen_px: (f64, f64),
}

fn reference() -> Reference {
    toml::from_str(include_str!("reference/projection.toml")).expect("the reference")
}

/// What a lens focused at infinity sees of an area, by way of the chain of images.
fn view(focal_length_mm: f64, area_mm: (f64, f64), image_px: (f64, f64)) -> ViewTangents {
    let recorded = RecordedArea {
        size: SensorSize::from_mm(area_mm.0, area_mm.1).expect("an area"),
        width_px: image_px.0,
        height_px: image_px.1,
        relative_sd: 0.0,
        origin: Origin::Typed,
    };
    let aspect = Aspect::new(image_px.0 / image_px.1).expect("a shape");
    let frame = deliver(recorded, None, aspect, CropShift::default());
    view_tangents(&frame, FocalLength::from_mm(focal_length_mm).expect("a focal length").to_length())
}

#[test]
fn fields_of_view_agree() {
    let reference = reference();
    assert!(reference.field_of_view.len() >= 5, "{}", reference.source);
    for case in &reference.field_of_view {
        let view = view(case.focal_length_mm, case.area_mm, case.image_px);
        for (ours, theirs) in
            [(view.horizontal_fov(), case.horizontal_deg), (view.vertical_fov(), case.vertical_deg)]
        {
            assert!(
                (ours.to_deg() - theirs).abs() < reference.tolerance_deg,
                "{}: {ours} is not {theirs}",
                case.case
            );
        }
    }
}

#[test]
fn points_land_on_the_same_pixels() {
    let reference = reference();
    let mut count = 0;
    for case in &reference.projection {
        let view = view(case.focal_length_mm, case.area_mm, case.image_px);
        let camera = Camera::new(
            DVec3::new(0.0, 0.0, case.camera_height_m),
            Angle::from_deg(case.pan_deg),
            Angle::from_deg(case.tilt_deg),
        );
        for Point { world_m: (x, y, z), depth_m, seen_px } in &case.points {
            let seen = camera.see(DVec3::new(*x, *y, *z)).expect("in front");
            let (column, row) = seen.to_px(&view, case.image_px);
            let off = libm::hypot(column - seen_px.0, row - seen_px.1);
            assert!(off < reference.tolerance_px, "{}: ({column}, {row}) is not {seen_px:?}", case.case);
            assert!(
                (seen.depth.to_m() - depth_m).abs() < 1e-12,
                "{}: {} is not {depth_m}",
                case.case,
                seen.depth
            );
            count += 1;
        }
    }
    assert!(count >= 36, "{count} points");
}

#[test]
fn points_land_on_the_renderers_pixels_with_the_lens_extended_for_focus() {
    let renderer: Renderer = toml::from_str(include_str!("reference/thin_lens.toml")).expect("the reference");
    let mut count = 0;
    for case in &renderer.points {
        let (width_px, height_px) = case.image_px;
        let f = FocalLength::from_mm(case.focal_length_mm).expect("a focal length");
        let v = image_distance(f, Length::from_mm(case.focus_mm));
        // The same tangents for a lens focused at infinity whose focal length is the image distance.
        let area_mm = (case.area_width_mm, case.area_width_mm * height_px / width_px);
        let view = view(v.to_mm(), area_mm, case.image_px);
        let camera = Camera::new(DVec3::ZERO, Angle::ZERO, Angle::ZERO);
        for RenderedPoint { right_up_forward_mm: (right, up, forward), measured_px } in &case.points {
            let seen = camera.see(DVec3::new(*right, *forward, *up) / 1000.0).expect("in front");
            let (column, row) = seen.to_px(&view, case.image_px);
            let off = libm::hypot(column - measured_px.0, row - measured_px.1);
            assert!(off < renderer.tolerance_position_px, "({column}, {row}) is not {measured_px:?}");
            count += 1;
        }
    }
    assert!(count >= 36, "{count} points");
}

#[derive(Deserialize)]
struct Renderer {
    tolerance_position_px: f64,
    points: Vec<RenderedPoints>,
}

#[derive(Deserialize)]
struct RenderedPoints {
    focal_length_mm: f64,
    area_width_mm: f64,
    focus_mm: f64,
    image_px: (f64, f64),
    points: Vec<RenderedPoint>,
}

#[derive(Deserialize)]
struct RenderedPoint {
    right_up_forward_mm: (f64, f64, f64),
    measured_px: (f64, f64),
}
