//! The Airy disc against the first zero of the Bessel function J1, as a numerical library gives it.

use optics::{FNumber, airy_diameter};
use serde::Deserialize;

#[derive(Deserialize)]
struct Reference {
    tolerance_relative: f64,
    row: Vec<Row>,
}

#[derive(Deserialize)]
struct Row {
    f_number: f64,
    diameter_um: f64,
}

#[test]
fn the_first_dark_ring_is_where_the_bessel_function_vanishes() {
    let reference: Reference = toml::from_str(include_str!("reference/airy.toml")).expect("the reference");
    assert!(reference.row.len() >= 7, "{} rows", reference.row.len());
    for Row { f_number, diameter_um } in reference.row {
        let ours = airy_diameter(FNumber::new(f_number).expect("an f-number")).to_mm() * 1000.0;
        let off = (ours / diameter_um - 1.0).abs();
        assert!(off < reference.tolerance_relative, "f/{f_number}: {ours} µm is not {diameter_um} µm");
    }
}
