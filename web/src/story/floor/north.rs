//! The earth's north on the floor plan: a short strip of tape with an N, which can be turned by hand.

use glam::DVec3;
use language::say;
use units::Angle;

use super::blocking_edit::full_turn;
use crate::draw::Floor;

/// Where the strip's middle is, units from the plan's upper left corner: its N stays inside whichever way it points.
pub(super) const NORTH_PX: (f64, f64) = (40.0, 40.0);
/// From the strip's middle to its tip, and to the middle of the N, units.
const TIP_PX: f64 = 14.0;
const LETTER_PX: f64 = 27.0;

/// The direction from the strip's middle to a point of the plan, clockwise from the plan's top.
pub(super) fn direction_of((x, y): (f64, f64)) -> Angle {
    full_turn(Angle::from_components(x - NORTH_PX.0, NORTH_PX.1 - y))
}

/// Where the earth's north is, in words.
pub(super) fn north_in_words(north: Angle) -> String {
    let degrees = full_turn(north).to_deg();
    if degrees.min(360.0 - degrees) < 0.5 {
        say!("North is up the plan").to_owned()
    } else {
        say!("North is {degrees:.0}° clockwise from the plan's top")
    }
}

impl Floor<'_> {
    /// Which way the earth's north is.
    pub(super) fn north(&self, north: Angle) {
        let (right, down) = (north.sin(), -north.cos());
        let px = |away: f64| (NORTH_PX.0 + right * away, NORTH_PX.1 + down * away);
        let on_floor = |away: f64| -> DVec3 { self.view.to_floor(px(away)) };
        self.tape(on_floor(-TIP_PX), on_floor(TIP_PX), &self.palette.chalk, 5.0);
        self.pen(&self.palette.chalk, 2.0);
        self.arrow(on_floor(-TIP_PX), on_floor(TIP_PX + 4.0));
        // Not a label, which gives way to names: without its letter the strip would say nothing.
        self.word(say!(in "a direction", "N"), px(LETTER_PX), "600 14px system-ui, sans-serif", "center");
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hand_on_the_plan_points_clockwise_from_its_top() {
        let (x, y) = NORTH_PX;
        for (at, degrees) in [
            ((x, y - 20.0), 0.0),
            ((x + 20.0, y), 90.0),
            ((x, y + 20.0), 180.0),
            ((x - 20.0, y - 20.0), 315.0),
        ] {
            let told = direction_of(at).to_deg();
            assert!((told - degrees).abs() < 1e-9, "{at:?}: {told}");
        }
    }

    #[test]
    fn north_is_told_within_one_turn() {
        assert_eq!(north_in_words(Angle::from_deg(360.0)), "North is up the plan");
        assert_eq!(north_in_words(Angle::from_deg(-45.0)), "North is 315° clockwise from the plan's top");
    }
}
