//! Light for a stage: sun, sky, and what comes back from the floor.
//!
//! Levels stand for a well exposed frame: what is white and square to the sun stays just under the picture's white.

use glam::DVec3;
use optics::{SUN_HALF_DISC_DEG, air_mass};
use staging::{Colour, Light};
use units::Angle;

use crate::picture::{Lighting, Sun};

/// What a white surface square to the sun gives back of its light: chosen because with the sky's light beside it a
/// colour of 0.8, as white as clothes are, stays under white, and one of 0.36 gives a signal about 0.68 of white's.
const SUN_LEVEL: f64 = 0.80;
/// How much of the light an air mass keeps away: molecules take most of the blue.
///
/// Vertical optical depths of a clear sky at about 620, 545 and 460 nm, chosen because they lie between clean and
/// hazy air.
const AIR: [f64; 3] = [0.065, 0.105, 0.210];
/// A lower sun is drawn no redder than at this air mass, about 6 degrees: chosen because the screen has no deeper red
/// that is bright.
const MOST_AIR: f64 = 9.0;
/// Up to this height a sun warms the sky around it, radians: chosen because golden light is spoken of to about 20
/// degrees.
const WARM_BELOW_RAD: f64 = 0.35;
/// The share of the floor around somebody that their own and others' shadows leave in the light: chosen by eye.
const BOUNCE: f64 = 0.75;
/// Grey skies: what their zenith gives off.
const OVERCAST: [f64; 3] = [1.44, 1.48, 1.53];

/// The light of a stage on a floor of that colour.
pub(crate) fn lighting(light: Light, floor: Colour) -> Lighting {
    let (sun, zenith, horizon) = match light {
        Light::Sun { azimuth, elevation } if elevation.to_rad() > 0.0 => clear(azimuth, elevation),
        // A sun that has set leaves dusk.
        Light::Sun { .. } | Light::Dusk => (None, [0.17, 0.26, 0.49], [0.56, 0.405, 0.345]),
        // An overcast sky's horizon is a third as bright as its zenith (`Moon1942`).
        Light::Overcast => (None, OVERCAST, OVERCAST.map(|channel| channel / 3.0)),
    };
    let falling = |channel: usize| {
        let of = |light: [f64; 3]| light.get(channel).copied().unwrap_or_default();
        let direct = sun.map_or(0.0, |sun| of(sun.light) * sun.direction.z);
        // On a level surface a sky that grows with the sine of height counts its zenith for two thirds.
        direct + of(horizon) / 3.0 + of(zenith) * 2.0 / 3.0
    };
    let Colour([red, green, blue]) = floor;
    let bounce = [red * falling(0), green * falling(1), blue * falling(2)].map(|light| BOUNCE * light);
    Lighting { sun, zenith, horizon, bounce }
}

/// The sun and a clear sky: warm from the sun's side, blue above.
fn clear(azimuth: Angle, elevation: Angle) -> (Option<Sun>, [f64; 3], [f64; 3]) {
    let direction = staging::direction(azimuth, elevation);
    let half_angle_rad = Angle::from_deg(SUN_HALF_DISC_DEG).to_rad();
    let sun = Sun { direction, light: sunlight(elevation), half_angle_rad };
    let warm = (1.0 - elevation.to_rad() / WARM_BELOW_RAD).max(0.0);
    let mix = |cool: [f64; 3], golden: [f64; 3]| {
        DVec3::from_array(cool).lerp(DVec3::from_array(golden), warm).to_array()
    };
    let zenith = mix([0.19, 0.285, 0.45], [0.21, 0.28, 0.44]);
    let horizon = mix([0.58, 0.62, 0.66], [0.74, 0.59, 0.45]);
    (Some(sun), zenith, horizon)
}

/// The sun's light through the air, at a level that an exposure for it gives.
///
/// ```text
/// I = e^(−τ m), over the mean of its luminance and its red
/// ```
/// `m` the [air mass](air_mass), here at most 9; `τ` optical depth of each colour.
fn sunlight(elevation: Angle) -> [f64; 3] {
    let air = air_mass(elevation.to_deg()).min(MOST_AIR);
    let through = AIR.map(|depth| libm::exp(-depth * air));
    let [red, green, blue] = through;
    // Red beside luminance, so that white clothes do not clip in red when the sun is low.
    let level = (0.2126 * red + 0.7152 * green + 0.0722 * blue + red) / 2.0;
    through.map(|channel| SUN_LEVEL * channel / level)
}

#[cfg(test)]
mod tests {
    use optics::srgb_signal;
    use proptest::prelude::*;

    use super::*;

    const FLOOR: Colour = Colour([0.365, 0.325, 0.275]);

    fn sunny(elevation_deg: f64) -> Lighting {
        let light = Light::Sun { azimuth: Angle::from_deg(90.0), elevation: Angle::from_deg(elevation_deg) };
        lighting(light, FLOOR)
    }

    /// What a white matt surface gives back that faces `normal` and nothing shades.
    fn on(lighting: &Lighting, normal: DVec3) -> DVec3 {
        let [zenith, horizon, bounce] =
            [lighting.zenith, lighting.horizon, lighting.bounce].map(DVec3::from_array);
        let (above, share) = (f64::midpoint(1.0, normal.z), 0.424_413 + 0.242_254 * normal.z);
        let sky = horizon.lerp(zenith, share) * above + bounce * (1.0 - above);
        let sun = lighting
            .sun
            .map_or(DVec3::ZERO, |sun| DVec3::from_array(sun.light) * sun.direction.dot(normal).max(0.0));
        sky + sun
    }

    proptest! {
        #[test]
        fn white_clothes_do_not_clip(elevation_deg in 0.5..90.0_f64, round in 0.0..6.3_f64, up in -1.0..1.0_f64) {
            let level = libm::sqrt(1.0 - up * up);
            let normal = DVec3::new(libm::cos(round) * level, libm::sin(round) * level, up);
            for light in [sunny(elevation_deg), lighting(Light::Overcast, FLOOR)] {
                let white = on(&light, normal) * 0.8;
                prop_assert!(white.max_element() <= 1.0, "{elevation_deg} {normal} {white}");
            }
        }

        #[test]
        fn a_light_grey_card_to_the_sun_is_well_exposed(elevation_deg in 3.0..60.0_f64) {
            let lighting = sunny(elevation_deg);
            let direction = lighting.sun.expect("shines").direction;
            let grey = on(&lighting, direction) * 0.36;
            let luminance = grey.dot(DVec3::new(0.2126, 0.7152, 0.0722));
            let signal = 255.0 * srgb_signal(luminance);
            prop_assert!((159.0..187.0).contains(&signal), "{elevation_deg} {signal}");
        }

        #[test]
        fn a_lower_sun_is_warmer(elevation_deg in 7.0..80.0_f64) {
            let warmth = |of: f64| {
                let [red, _, blue] = sunlight(Angle::from_deg(of));
                red / blue
            };
            prop_assert!(warmth(elevation_deg) > warmth(elevation_deg + 5.0));
        }
    }

    #[test]
    fn the_sun_stands_where_it_is_said_to() {
        let direction = sunny(30.0).sun.expect("shines").direction;
        assert!(direction.distance(DVec3::new(0.75_f64.sqrt(), 0.0, 0.5)) < 1e-12, "{direction}");
    }

    #[test]
    fn a_sun_that_has_set_leaves_dusk() {
        assert_eq!(sunny(-1.0), lighting(Light::Dusk, FLOOR));
    }

    #[test]
    fn dusk_is_dimmer_than_day_but_people_can_be_seen() {
        let dusk = on(&lighting(Light::Dusk, FLOOR), DVec3::Y).y;
        let day = on(&lighting(Light::Overcast, FLOOR), DVec3::Y).y;
        assert!(dusk > 0.15 && dusk < 0.6 * day, "{dusk} {day}");
    }
}
