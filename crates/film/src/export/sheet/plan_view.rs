//! Where a scene's floor lies on the paper: in millimetres, x to the right and y down, the floor's north up.

use glam::DVec2;

/// The paper that a plan may take, millimetres: chosen, as it leaves room for a heading and a table on both A4 and Letter.
const MOST_MM: DVec2 = DVec2::new(180.0, 150.0);
/// Left free around what is drawn, millimetres: chosen for labels.
const MARGIN_MM: f64 = 16.0;
/// No plan is larger than this, millimetres a metre: 1 to 25, chosen because two people at a table then still look like it.
const LARGEST_MM_PER_M: f64 = 40.0;
/// A floor that is smaller is drawn as if it were so wide, metres.
const LEAST_FLOOR_M: f64 = 2.0;
/// The least height of a plan, millimetres.
const LEAST_HEIGHT_MM: f64 = 60.0;

/// A floor on paper.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct PlanView {
    /// The paper that the plan takes.
    pub(super) size_mm: DVec2,
    mm_per_m: f64,
    /// The floor's middle.
    middle: DVec2,
}

impl PlanView {
    /// A view that holds these points of a floor; none if there are none.
    ///
    /// ```text
    /// x' = W/2 + k (x − x0)        y' = H/2 − k (y − y0)
    /// ```
    /// `x`, `y` a point of the floor (m); `x0`, `y0` the middle of them all; `k` millimetres of paper a metre; `W`, `H` the
    /// paper's sides (mm).
    ///
    /// # Source
    /// The definition of a scale.
    pub(super) fn around(points: &[DVec2]) -> Option<Self> {
        let least = points.iter().copied().reduce(DVec2::min)?;
        let most = points.iter().copied().reduce(DVec2::max)?;
        let extent = (most - least).max(DVec2::splat(LEAST_FLOOR_M));
        let room = MOST_MM - DVec2::splat(2.0 * MARGIN_MM);
        let mm_per_m = (room / extent).min_element().min(LARGEST_MM_PER_M);
        let height_mm = (extent.y * mm_per_m + 2.0 * MARGIN_MM).clamp(LEAST_HEIGHT_MM, MOST_MM.y);
        Some(Self { size_mm: DVec2::new(MOST_MM.x, height_mm), mm_per_m, middle: (least + most) / 2.0 })
    }

    /// A point of the floor on paper.
    pub(super) fn at(&self, point: DVec2) -> DVec2 {
        self.size_mm / 2.0 + self.along(point - self.middle)
    }

    /// A way over the floor on paper.
    pub(super) fn along(&self, way: DVec2) -> DVec2 {
        DVec2::new(way.x, -way.y) * self.mm_per_m
    }

    /// A round length for the scale bar: metres, and millimetres of paper.
    pub(super) fn scale_bar(&self) -> (f64, f64) {
        let fits = [20.0, 10.0, 5.0, 2.0, 1.0].into_iter().find(|metres| metres * self.mm_per_m <= 45.0);
        let metres = fits.unwrap_or(0.5);
        (metres, metres * self.mm_per_m)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::collection::vec;
    use proptest::prelude::*;

    #[test]
    fn north_is_up_and_east_to_the_right() {
        let view = PlanView::around(&[DVec2::ZERO, DVec2::new(4.0, 4.0)]).expect("a view");
        let (here, there) = (view.at(DVec2::ZERO), view.at(DVec2::new(4.0, 4.0)));
        assert!(there.x > here.x && there.y < here.y, "{here} {there}");
    }

    #[test]
    fn nothing_has_no_plan() {
        assert_eq!(PlanView::around(&[]), None);
    }

    proptest! {
        #[test]
        fn every_point_is_on_the_paper_with_room_for_its_label(
            points in vec((-500.0..500.0_f64, -500.0..500.0_f64), 1..12),
        ) {
            let points: Vec<DVec2> = points.into_iter().map(DVec2::from).collect();
            let view = PlanView::around(&points).expect("a view");
            for point in &points {
                let at = view.at(*point);
                let inside = at.cmpge(DVec2::splat(MARGIN_MM - 1e-6)) & at.cmple(view.size_mm - DVec2::splat(MARGIN_MM - 1e-6));
                prop_assert!(inside.all(), "{} at {} of {}", point, at, view.size_mm);
            }
            let (metres, bar_mm) = view.scale_bar();
            prop_assert!(metres >= 0.5 && bar_mm > 0.0 && bar_mm < view.size_mm.x);
        }
    }
}
