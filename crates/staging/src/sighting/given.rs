//! What may be given of a photo: everything is held to its range before anything is worked out.

use glam::DVec2;
use language::key;
use units::{Angle, FieldError, Length, checked_field};

use super::{Sights, Stated};

/// More marked things of a kind are a slip: chosen because a person marks a handful.
const MOST: usize = 16;

/// A mark outside the photo may be this many of its longer sides off: chosen because a horizon is often drawn beyond an
/// edge.
const FARTHEST_SIDES: f64 = 20.0;

impl Sights {
    /// Whether everything is within its range.
    pub(super) fn check(&self) -> Result<(), FieldError> {
        let size = self.lens.size_px;
        checked_field("size_px", size.x, 16.0, 1.0e5, "px")?;
        checked_field("size_px", size.y, 16.0, 1.0e5, "px")?;
        checked_field("focal_px", self.lens.focal_px, 10.0, 1.0e6, "px")?;
        checked_field(
            "focal_relative_sd",
            self.lens.focal_relative_sd,
            0.0,
            0.3,
            key!("(share of the focal length)"),
        )?;
        checked_field("click_sd_px", self.click_sd_px, 0.01, 1000.0, "px")?;
        let mark = |field, point: DVec2| {
            let most = FARTHEST_SIDES * size.max_element();
            checked_field(field, point.x, -most, most, "px")?;
            checked_field(field, point.y, -most, most, "px")
        };
        for point in self.horizon.iter().flatten() {
            mark("horizon", *point)?;
        }
        if let Some(height) = self.height {
            length("height", height)?;
        }
        if let Some(tilt) = self.tilt {
            angle("tilt", tilt, 89.0)?;
        }
        if let Some(roll) = self.roll {
            angle("roll", roll, 60.0)?;
        }
        checked_field("uprights", as_number(self.uprights.len()), 0.0, as_number(MOST), key!("things"))?;
        checked_field("boards", as_number(self.boards.len()), 0.0, as_number(MOST), key!("things"))?;
        for upright in &self.uprights {
            mark("uprights.foot", upright.foot)?;
            mark("uprights.head", upright.head)?;
            length("uprights.height", upright.height)?;
        }
        for board in &self.boards {
            for point in board.bottom {
                mark("boards.bottom", point)?;
            }
            for point in board.top {
                mark("boards.top", point)?;
            }
            length("boards.width", board.width)?;
            length("boards.height", board.height)?;
        }
        Ok(())
    }
}

fn as_number(count: usize) -> f64 {
    u32::try_from(count).map_or(f64::MAX, f64::from)
}

fn length(field: &'static str, stated: Stated<Length>) -> Result<f64, FieldError> {
    checked_field(field, stated.value.to_m(), 0.01, 100.0, "m")?;
    checked_field(field, stated.sd.to_m(), 0.0, 100.0, key!("m (standard uncertainty)"))
}

fn angle(field: &'static str, stated: Stated<Angle>, most_deg: f64) -> Result<f64, FieldError> {
    checked_field(field, stated.value.to_deg(), -most_deg, most_deg, key!("deg"))?;
    checked_field(field, stated.sd.to_deg(), 0.0, 90.0, key!("deg (standard uncertainty)"))
}
