//! Lamps: a post with a glowing head, and small lights on a string between two poles.

use glam::DVec3;

use crate::picture::Surface;
use crate::set_piece::{IRON, WOOD};
use crate::workshop::Workshop;

/// What a lamp's head gives off: chosen because two stops over white still show it as a warm round thing when soft.
const LAMP: Surface = Surface::Glowing([4.0, 3.35, 2.4]);
/// What each small light gives off: chosen because one spread over a disc four times as wide as itself, a 16th as
/// bright, is still about white.
const LIGHT: Surface = Surface::Glowing([16.0, 12.4, 7.8]);
/// A small light's radius.
const LIGHT_M: f64 = 0.022;
/// How many hang on a string.
const LIGHTS: u8 = 20;
/// How far a string sags in its middle, over the distance of its poles.
const SAG: f64 = 0.10;

/// Makes a lamp post.
pub(super) fn make_lamp_post(workshop: &mut Workshop, size: DVec3) {
    let reach = size.x.min(size.y) / 2.0;
    let head = reach.min(0.07 * size.z);
    let post = (0.045_f64).min(0.3 * reach);
    let base = (2.0 * post).min(reach);
    let foot = 0.06 * size.z;
    workshop.column(DVec3::Z * (foot / 2.0), DVec3::new(base, base, foot / 2.0), IRON);
    let cap = 0.02_f64.min(0.1 * head);
    let lamp = size.z - 2.0 * cap - head;
    workshop.round_cone((DVec3::Z * foot, 1.25 * post), (DVec3::Z * (lamp - head), 0.8 * post), IRON);
    workshop.ball(DVec3::Z * lamp, 0.94 * head, LAMP);
    let ring = DVec3::new(0.5 * head, 0.5 * head, 2.0 * cap);
    workshop.column(DVec3::Z * (lamp - 0.90 * head), ring, IRON);
    workshop.column(DVec3::Z * (size.z - cap), DVec3::new(0.55 * head, 0.55 * head, cap), IRON);
    // As broad as its box, so that it is as large as it says.
    let arm = 0.35 * post;
    for side in [-1.0, 1.0] {
        let end = DVec3::new(side * (size.x / 2.0 - arm), 0.0, lamp - 1.25 * head);
        workshop.round_cone((DVec3::Z * (lamp - 1.7 * head), arm), (end, arm), IRON);
    }
}

/// Makes two poles and a string of lights between their tops.
pub(super) fn make_lights(workshop: &mut Workshop, size: DVec3) {
    let pole = (0.03_f64).min(0.4 * size.y).min(0.05 * size.x);
    let end = size.x / 2.0 - pole;
    for side in [-1.0, 1.0] {
        let foot = DVec3::new(side * end, 0.0, pole);
        workshop.round_cone((foot, pole), (foot.with_z(size.z - 0.7 * pole), 0.7 * pole), WOOD);
    }
    let top = size.z - 3.0 * pole - LIGHT_M;
    let sag = (2.0 * SAG * end).min(0.3 * size.z);
    // A parabola: a shallow catenary differs from it by less than a light's size.
    let hang =
        |share: f64| DVec3::new((2.0 * share - 1.0) * end, 0.0, top - 4.0 * sag * share * (1.0 - share));
    let share = |number: u8| (f64::from(number) + 0.5) / f64::from(LIGHTS);
    for number in 0..LIGHTS {
        workshop.ball(hang(share(number)) - DVec3::Z * LIGHT_M, LIGHT_M, LIGHT);
    }
    let cord = 0.004;
    let links = LIGHTS / 2;
    for link in 0..links {
        let at = |link: u8| hang(f64::from(link) / f64::from(links));
        workshop.round_cone((at(link), cord), (at(link + 1), cord), IRON);
    }
}

#[cfg(test)]
mod tests {
    use glam::DVec2;
    use units::Angle;

    use super::*;

    #[test]
    fn twenty_lights_hang_above_the_sag_and_clear_of_each_other() {
        let mut workshop = Workshop::at(DVec2::ZERO, Angle::ZERO);
        make_lights(&mut workshop, DVec3::new(6.0, 0.2, 3.0));
        let lights: Vec<_> = workshop
            .into_shapes()
            .into_iter()
            .filter(|shape| matches!(shape.surface, Surface::Glowing(_)))
            .map(|shape| shape.solid)
            .collect();
        assert_eq!(lights.len(), usize::from(LIGHTS));
        for light in &lights {
            assert!(light.interval(DVec3::Z).0 > 3.0 - 6.0 * SAG - 0.2, "{light:?}");
        }
        for pair in lights.windows(2) {
            if let [one, next] = pair {
                assert!(next.interval(DVec3::X).0 > one.interval(DVec3::X).1 + 0.1, "{one:?} {next:?}");
            }
        }
    }
}
