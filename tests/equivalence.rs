//! The 35 mm-equivalent's convention, the circle of confusion's, and the frame sizes of digital cinema.
#![expect(clippy::expect_used, reason = "a test that cannot read its figures must fail")]

#[path = "equivalence/reference.rs"]
mod reference;

use optics::{
    CircleOfConfusion, CropShift, FocalLength, Origin, RecordedArea, SensorSize, deliver, full_frame_diagonal,
};
use reference::{Cinema, Equivalence};
use serde::Deserialize;
use units::Length;

/// What follows from the full frame.
#[derive(Deserialize)]
struct OfFullFrame {
    full_frame_diagonal_mm: f64,
    full_frame_circle_mm: f64,
}

fn of_full_frame() -> OfFullFrame {
    toml::from_str(include_str!("reference/equivalence.toml")).expect("the reference")
}

#[test]
fn the_equivalent_refers_to_the_diagonal_of_the_full_frame() {
    let reference = Equivalence::read();
    let (width, height) = reference.full_frame_mm;
    let full = SensorSize::from_mm(width, height).expect("an area");
    let diagonal = full.diagonal().to_mm();
    assert!((diagonal - of_full_frame().full_frame_diagonal_mm).abs() < 1e-12, "{diagonal}");
    assert_eq!(full_frame_diagonal(), full.diagonal());
    // An area of half the diagonal doubles the equivalent, whatever its shape.
    for aspect in [1.0, 4.0 / 3.0, 16.0 / 9.0] {
        let half = SensorSize::from_diagonal(full.diagonal() / 2.0, aspect);
        assert!((half.crop_factor() - 2.0).abs() < 1e-12, "{aspect}: {}", half.crop_factor());
        let f = FocalLength::from_mm(12.0).expect("a focal length");
        let twice = FocalLength::from_mm(24.0).expect("a focal length");
        let back = SensorSize::from_equivalent(f, twice, aspect);
        assert!((back.width - half.width).abs() < Length::from_mm(1e-12), "{aspect}: {back:?}");
    }
}

#[test]
fn the_circle_of_confusion_is_the_diagonal_over_1500() {
    let reference = Equivalence::read();
    let (width, height) = reference.full_frame_mm;
    let circle = CircleOfConfusion::from_recorded_area(SensorSize::from_mm(width, height).expect("an area"));
    let ours = circle.to_length().to_mm();
    assert!((ours - of_full_frame().full_frame_circle_mm).abs() < 1e-15, "{ours}");
}

/// What is delivered in that shape from a container recorded as a whole.
fn delivered(container_px: (u32, u32), aspect: &str) -> (u32, u32) {
    let (width_px, height_px) = (f64::from(container_px.0), f64::from(container_px.1));
    let recorded = RecordedArea {
        size: SensorSize::from_mm(20.0, 20.0 * height_px / width_px).expect("an area"),
        width_px,
        height_px,
        relative_sd: 0.0,
        origin: Origin::Typed,
    };
    deliver(recorded, None, aspect.parse().expect("a shape"), CropShift::default()).whole_px()
}

#[test]
fn cinema_frames_come_out_of_their_containers() {
    let cinema = Equivalence::read().cinema;
    assert!(cinema.len() >= 4, "{} frames", cinema.len());
    for Cinema { container_px, aspect, frame_px } in cinema {
        assert_eq!(delivered(container_px, &aspect), frame_px, "{aspect}");
    }
}

#[test]
fn scope_by_its_trade_name_is_three_rows_less() {
    // DIFFERENCE: the trade says 2.39 and delivers 4096 x 1716, which is 2.387.
    assert_eq!(delivered((4096, 2160), "2.39"), (4096, 1713));
}
