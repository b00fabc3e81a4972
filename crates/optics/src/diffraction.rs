//! The blur that no lens escapes.

use units::Length;

use crate::lens::FNumber;

/// Green light, where eyes and sensors see most: chosen because handbooks compute with it.
const WAVELENGTH_UM: f64 = 0.55;

/// The diameter of the Airy disc, to its first dark ring, in the middle of the visible spectrum.
///
/// ```text
/// 2.44 λ N
/// ```
/// `λ` wavelength, 0.55 µm; `N` f-number. Round pupil, focus at infinity.
///
/// # Source
/// First zero of J1 over π (3.831 706 / π = 1.219 67), checked against the Python library in `Prysm2024`.
///
/// # Examples
/// ```
/// let n = optics::FNumber::new(1.78)?;
/// assert!((optics::airy_diameter(n).to_mm() * 1000.0 - 2.38876).abs() < 1e-9);
/// # Ok::<(), units::QuantityError>(())
/// ```
pub fn airy_diameter(f_number: FNumber) -> Length {
    Length::from_mm(2.44 * WAVELENGTH_UM / 1000.0 * f_number.to_f64())
}
