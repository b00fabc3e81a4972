//! Where a picture lies on a canvas.

use glam::DVec2;

/// Where a picture lies on a canvas: whole, as large as it can be, in the middle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Placing {
    /// The picture's size before it was scaled.
    pub(crate) true_px: DVec2,
    /// Where its upper left corner is, units.
    pub(crate) corner: DVec2,
    /// Units to one of the picture's.
    scale: f64,
}

impl Placing {
    /// A picture of that size on a canvas of so many units.
    pub(super) fn within((width, height): (f64, f64), true_px: (u32, u32)) -> Self {
        let true_px = DVec2::new(f64::from(true_px.0), f64::from(true_px.1)).max(DVec2::ONE);
        let canvas = DVec2::new(width, height).max(DVec2::ONE);
        let scale = (canvas / true_px).min_element();
        Self { true_px, corner: (canvas - true_px * scale) / 2.0, scale }
    }

    /// Where a place of the picture is on the canvas.
    pub(crate) fn to_canvas(self, at: DVec2) -> DVec2 {
        self.corner + at * self.scale
    }

    /// Which place of the picture is there on the canvas.
    pub(crate) fn to_picture(self, at: DVec2) -> DVec2 {
        (at - self.corner) / self.scale
    }

    /// How large the picture is on the canvas.
    pub(crate) fn shown_size(self) -> DVec2 {
        self.true_px * self.scale
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_picture_lies_in_the_middle_of_what_is_too_wide_for_it() {
        let placing = Placing::within((500.0, 300.0), (4000, 3000));
        assert_eq!((placing.corner, placing.shown_size()), (DVec2::new(50.0, 0.0), DVec2::new(400.0, 300.0)));
        assert_eq!(placing.to_canvas(DVec2::new(2000.0, 1500.0)), DVec2::new(250.0, 150.0));
    }

    #[test]
    fn a_place_on_the_canvas_is_the_place_of_the_picture_that_is_drawn_there() {
        let placing = Placing::within((390.0, 844.0), (3024, 4032));
        let at = DVec2::new(1234.5, 77.25);
        assert!(placing.to_picture(placing.to_canvas(at)).distance(at) < 1e-9);
    }

    #[test]
    fn a_canvas_without_a_size_places_a_picture_all_the_same() {
        assert!(Placing::within((0.0, 0.0), (0, 0)).to_picture(DVec2::ZERO).is_finite());
    }
}
