//! Blur discs against those measured in pictures of an independent renderer, which samples rays through a thin lens.

use optics::{FNumber, FocalLength, blur_disc};
use serde::Deserialize;
use units::Length;

#[derive(Deserialize)]
struct Reference {
    tolerance_relative: f64,
    tolerance_px: f64,
    width_px: f64,
    disc: Vec<Disc>,
}

#[derive(Deserialize)]
struct Disc {
    focal_length_mm: f64,
    f_number: f64,
    area_width_mm: f64,
    focus_mm: f64,
    distance_mm: f64,
    measured_px: f64,
}

#[test]
fn discs_are_as_large_as_the_renderers() {
    let reference: Reference =
        toml::from_str(include_str!("reference/thin_lens.toml")).expect("the reference");
    assert!(reference.disc.len() >= 18, "{} discs", reference.disc.len());
    for disc in &reference.disc {
        let ours = blur_disc(
            FocalLength::from_mm(disc.focal_length_mm).expect("a focal length"),
            FNumber::new(disc.f_number).expect("an f-number"),
            Length::from_mm(disc.focus_mm),
            Length::from_mm(disc.distance_mm),
            None,
        );
        let ours_px = ours.plain.to_mm() / disc.area_width_mm * reference.width_px;
        let tolerance = reference.tolerance_px.max(disc.measured_px * reference.tolerance_relative);
        assert!(
            (ours_px - disc.measured_px).abs() < tolerance,
            "{} mm at f/{}, focused at {} mm, a point at {} mm: {ours_px} px is not {} px",
            disc.focal_length_mm,
            disc.f_number,
            disc.focus_mm,
            disc.distance_mm,
            disc.measured_px
        );
    }
}
