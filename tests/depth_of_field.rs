//! Hyperfocal distance, depth of field and conjugates against published worked examples and a metadata reader.
#![expect(clippy::expect_used, reason = "a test that cannot read its figures must fail")]

use optics::{
    CircleOfConfusion, FNumber, FarLimit, FocalLength, SensorSize, hyperfocal_distance, image_distance,
    sharp_zone,
};
use serde::Deserialize;
use units::{Angle, Length, LengthUnit};

#[derive(Deserialize)]
struct Reference {
    hyperfocal: Vec<Hyperfocal>,
    limits: Vec<Limits>,
    near: Vec<Near>,
    conjugate: Vec<Conjugate>,
    metadata_reader: Vec<MetadataReader>,
}

#[derive(Deserialize)]
struct Hyperfocal {
    source: String,
    focal_length_mm: f64,
    f_number: f64,
    circle_mm: f64,
    published_mm: f64,
    tolerance_mm: f64,
}

#[derive(Deserialize)]
struct Limits {
    source: String,
    focal_length_ft: f64,
    hyperfocal_ft: f64,
    focus_ft: f64,
    near_ft: Option<f64>,
    far_ft: Option<f64>,
    tolerance_ft: f64,
}

#[derive(Deserialize)]
struct Near {
    source: String,
    focal_length_mm: f64,
    f_number: f64,
    circle_mm: f64,
    focus_mm: f64,
    published_mm: f64,
    tolerance_mm: f64,
}

#[derive(Deserialize)]
struct Conjugate {
    source: String,
    focal_length_mm: f64,
    object_mm: f64,
    image_mm: f64,
    tolerance_mm: f64,
}

#[derive(Deserialize)]
struct MetadataReader {
    focal_length_mm: f64,
    equivalent_mm: f64,
    f_number: f64,
    focus_m: f64,
    circle_mm: f64,
    hyperfocal_m: f64,
    near_m: f64,
    far_m: f64,
    long_side_deg: f64,
}

fn reference() -> Reference {
    toml::from_str(include_str!("reference/depth_of_field.toml")).expect("the reference")
}

fn focal_length(millimetres: f64) -> FocalLength {
    FocalLength::from_mm(millimetres).expect("a focal length")
}

fn hyperfocal(focal_length_mm: f64, f_number: f64, circle_mm: f64) -> Length {
    let circle = CircleOfConfusion::new(Length::from_mm(circle_mm)).expect("a circle");
    hyperfocal_distance(focal_length(focal_length_mm), FNumber::new(f_number).expect("an f-number"), circle)
}

fn assert_within(ours: f64, published: f64, tolerance: f64, source: &str) {
    assert!((ours - published).abs() <= tolerance, "{source}: {ours} is not {published} within {tolerance}");
}

#[test]
fn hyperfocal_distances_are_as_published() {
    for example in reference().hyperfocal {
        let ours = hyperfocal(example.focal_length_mm, example.f_number, example.circle_mm);
        // DIFFERENCE: the sources leave the "+ f" out.
        let ours = ours.to_mm() - example.focal_length_mm;
        assert_within(ours, example.published_mm, example.tolerance_mm, &example.source);
    }
}

#[test]
fn near_and_far_limits_are_as_published() {
    let feet = |feet: f64| Length::from_m(feet * 0.3048);
    for example in reference().limits {
        let f = focal_length(feet(example.focal_length_ft).to_mm());
        let zone = sharp_zone(f, feet(example.hyperfocal_ft), feet(example.focus_ft));
        if let Some(near) = example.near_ft {
            assert_within(zone.near.to(LengthUnit::Feet), near, example.tolerance_ft, &example.source);
        }
        if let Some(published) = example.far_ft {
            let FarLimit::At(far) = zone.far else { panic!("{}: the far limit is infinite", example.source) };
            assert_within(far.to(LengthUnit::Feet), published, example.tolerance_ft, &example.source);
        }
    }
}

#[test]
fn the_near_limit_of_a_first_order_source_is_within_its_order() {
    for example in reference().near {
        let h = hyperfocal(example.focal_length_mm, example.f_number, example.circle_mm);
        let near =
            sharp_zone(focal_length(example.focal_length_mm), h, Length::from_mm(example.focus_mm)).near;
        assert_within(near.to_mm(), example.published_mm, example.tolerance_mm, &example.source);
        // DIFFERENCE: so far and no further is what the source's v' = v (1 + N c / f) is off.
        let share = example.f_number * example.circle_mm / example.focal_length_mm;
        let first_order = near.to_mm() * (1.0 + share / 2.0);
        assert_within(
            first_order,
            example.published_mm,
            example.published_mm * share * share,
            &example.source,
        );
    }
}

#[test]
fn images_form_where_published() {
    for example in reference().conjugate {
        let image = image_distance(focal_length(example.focal_length_mm), Length::from_mm(example.object_mm));
        assert_within(image.to_mm(), example.image_mm, example.tolerance_mm, &example.source);
    }
}

#[test]
fn a_metadata_reader_works_out_the_same() {
    let rows = reference().metadata_reader;
    assert!(rows.len() >= 6, "{} rows", rows.len());
    for row in rows {
        let f = focal_length(row.focal_length_mm);
        let h = hyperfocal(row.focal_length_mm, row.f_number, row.circle_mm);
        let zone = sharp_zone(f, h, Length::from_m(row.focus_m));
        let FarLimit::At(far) = zone.far else { panic!("{} m: the far limit is infinite", row.focus_m) };
        // It prints fifteen digits.
        let close = |ours: f64, theirs: f64| assert_within(ours, theirs, 1e-12 * theirs.abs(), "the reader");
        // DIFFERENCE: it leaves the "+ f" out.
        close((h - f.to_length()).to_m(), row.hyperfocal_m);
        close(zone.near.to_m(), row.near_m);
        close(far.to_m(), row.far_m);
        // DIFFERENCE: its circle is the diagonal over 1440, and its field of view that of a 3:2 frame at infinity.
        let area = SensorSize::from_equivalent(f, focal_length(row.equivalent_mm), 1.5);
        close(area.diagonal().to_mm() / 1440.0, row.circle_mm);
        let long_side = Angle::from_tan(area.width / f.to_length() / 2.0) * 2.0;
        // DIFFERENCE: it takes pi as 3.14159, which is 8.4e-7 of it short.
        assert_within(long_side.to_deg(), row.long_side_deg, 8.5e-7 * row.long_side_deg, "the reader's view");
    }
}
