//! What stands behind the figures of the Light screen, and behind those that Day shows of the same light.

use film::SUN_EVERY_MIN;
use language::{key, say};
use optics::{Mover, Weather, skylight};
use units::Angle;

use crate::widgets::{
    COMMON_PRACTICE, Computed, DEFINITION, EXIF, Explanation, GEOMETRY, METERS, SUN_POSITION, plain,
};

const DAYLIGHT: &str = "A general illuminance model for daylight availability";
const AIR_MASS: &str = "Revised optical air mass tables and approximation formula";
const TWILIGHT: &str = "Explanatory Supplement to the Astronomical Almanac";
const AIR: &str = "ISO 2533:1975";

/// All of them, for the test that reads them.
#[cfg(test)]
pub(crate) const EXPLANATIONS: [&Explanation; 29] = [
    &SUN,
    &HEIGHT,
    &SHADOW,
    &IN_SUN,
    &IN_SHADE,
    &HAPPENS,
    &LOW_SUN,
    &HOLDS,
    &SAFE,
    &LIGHT,
    &F_NUMBER,
    &RATE,
    &ASKED,
    &SHUTTER,
    &ISO,
    &ADAPTER,
    &BIAS,
    &SLOW_MOTION,
    &OVER,
    &FILTERS,
    &CLOSING,
    &LEFT_OVER,
    &GUESS,
    &SMEAR,
    &PATH,
    &PAN,
    &QUARTER_TURN,
    &PASSING,
    &WHITE_BALANCE,
];

/// What stands behind a figure of a setup's light, by its label; nothing behind one that is new.
pub(super) fn of_figure(label: &str) -> Option<&'static Explanation> {
    Some(match label {
        "light" => &LIGHT,
        "f-number" => &F_NUMBER,
        "frame rate at capture" => &RATE,
        "shutter asked for" => &ASKED,
        "shutter" => &SHUTTER,
        "ISO" => &ISO,
        "the adapter takes" => &ADAPTER,
        "brighter than the meter's grey" => &BIAS,
        "slow motion costs" => &SLOW_MOTION,
        "too much light without filters" => &OVER,
        "filters" | "they take" => &FILTERS,
        "closing the lens takes" => &CLOSING,
        "too much in the end" => &LEFT_OVER,
        "shutter that the app is likely to take" => &GUESS,
        "smear of whoever moves most" => &SMEAR,
        "path of the phone" => &PATH,
        "fastest pan" => &PAN,
        "a quarter turn at that" => &QUARTER_TURN,
        mover if Mover::ALL.iter().any(|one| one.name() == mover) => &PASSING,
        _ => return None,
    })
}

/// The light of a sky, in lux: while the sun is at the horizon, and how much more once it is overhead.
fn sky_lx(weather: Weather) -> (f64, f64) {
    let [low, high] = [0.0, 90.0].map(|degrees| skylight(Angle::from_deg(degrees), weather).to_lx());
    (low, high - low)
}

pub(super) const SUN: Explanation = Explanation {
    means: key!(
        "Which way to look for the sun, clockwise from north: 90° is east, 180° south. Hidden says that something \
            around the place stands before it."
    ),
    computed: Computed::With(|| {
        say!(
            "The sun's position at this place, date and minute: the full algorithm every {SUN_EVERY_MIN:.0} minutes, a \
             cubic in between."
        )
    }),
    sources: &[SUN_POSITION],
};
pub(super) const HEIGHT: Explanation = Explanation {
    means: key!(
        "How high the sun stands over a level horizon, as it is seen. The lower, the longer the shadows."
    ),
    computed: Computed::As(key!(
        "Its true height h and what the air lifts it by, 1.02° / (60 tan(h + 10.3 / (h + 5.11))), for the air at \
               that height above the sea."
    )),
    sources: &[SUN_POSITION, AIR],
};
pub(super) const SHADOW: Explanation = Explanation {
    means: key!(
        "How many times as long as whoever casts it a shadow is on level ground. Four times crosses a wide frame."
    ),
    computed: Computed::As(key!("1 / tan h, with h the sun's height as it is seen.")),
    sources: &[GEOMETRY],
};
pub(super) const IN_SUN: Explanation = Explanation {
    means: key!(
        "The light on a face turned to the sun, in EV at ISO 100; one more is twice the light. It is a mean over many \
            days: a meter on the day is better."
    ),
    computed: Computed::With(|| {
        let (clear, higher) = sky_lx(Weather::Clear);
        say!(
            "EV = log2(E / 2.5), with E (lux) the sun's 127500 e^(−0.21 m), m the air that it shines through, and a \
             clear sky's {clear:.0} + {higher:.0} √(sin h)."
        )
    }),
    sources: &[DAYLIGHT, AIR_MASS, METERS],
};
pub(super) const IN_SHADE: Explanation = Explanation {
    means: key!(
        "The light on somebody in open shade, under the whole sky without the sun, in EV at ISO 100. Under cloud, in fog \
            and in rain that is everybody."
    ),
    computed: Computed::With(|| {
        let (clear, clear_higher) = sky_lx(Weather::Clear);
        let (overcast, overcast_higher) = sky_lx(Weather::Overcast);
        let (fog, fog_higher) = sky_lx(Weather::Fog);
        say!(
            "EV = log2(E / 2.5), with E (lux) of the sky: clear {clear:.0} + {clear_higher:.0} √(sin h), overcast \
             {overcast:.0} + {overcast_higher:.0} sin h, fog {fog:.0} + {fog_higher:.0} sin h, rain half of overcast. \
             Below the horizon it is the light of twilight."
        )
    }),
    sources: &[DAYLIGHT, TWILIGHT, METERS, COMMON_PRACTICE],
};
pub(super) const HAPPENS: Explanation = Explanation {
    means: key!(
        "Between first and last light people are seen without lamps. At noon the sun is at its highest."
    ),
    computed: Computed::As(key!(
        "First and last light: the sun's middle is 6° below the horizon. Rise and set: its upper edge is on it, which \
               is 0.83° below; or on what stands around the place."
    )),
    sources: &[SUN_POSITION],
};
pub(super) const LOW_SUN: Explanation = Explanation {
    means: key!(
        "While the sun is low, faces are lit from the side and shadows are long; once it is behind what stands around, \
            only the sky glows. Light changes by stops then: set ND and ISO anew at start, middle and end."
    ),
    computed: Computed::As(key!(
        "Low is tan h ≤ 1/4, shadows of four times, which is chosen; glow goes on until the sun is 6° below the \
               horizon. The fall is the EV at the start less that at the end."
    )),
    sources: &[SUN_POSITION],
};
pub(crate) const HOLDS: Explanation = Explanation {
    means: key!(
        "From when to when it has the light that is wanted: that of its hour, and the sun from the wanted side. Where \
            nothing is wanted, light is left until last light."
    ),
    computed: Computed::As(key!(
        "The stretches of the day in which both hold, to half a minute; what is left is their end less the clock. \
               Last light is the sun 6° below the horizon. In golden hour the sun is at most 6° high."
    )),
    sources: &[SUN_POSITION, GEOMETRY],
};
pub(super) const SAFE: Explanation = Explanation {
    means: key!(
        "With these shutters lamps on the mains light every frame and row alike, so nothing flickers and no bands roll."
    ),
    computed: Computed::As(key!("k = 2 f t is whole, with f the mains' 50 or 60 Hz and t the exposure (s).")),
    sources: &[DEFINITION],
};
pub(super) const LIGHT: Explanation = Explanation {
    means: key!(
        "How much light there is on the scene, in EV at ISO 100, and where that is known from. What was read with a \
            meter counts first."
    ),
    computed: Computed::As(key!(
        "EV = log2(E / 2.5), with E (lux) of sky and sun at that minute; inside, and where no sky is known, the row of \
               the table of everyday light."
    )),
    sources: &[METERS, DAYLIGHT, COMMON_PRACTICE],
};
pub(super) const F_NUMBER: Explanation = Explanation {
    means: key!(
        "How far the lens is open. Nearly no phone's lens can close, and one that can is closed only for what filters \
            leave."
    ),
    computed: Computed::As(key!(
        "The lens's own, f/2 if the kit does not know it; closed it is N · 2^(k/6), with k thirds of a stop."
    )),
    sources: &[DEFINITION],
};
pub(super) const RATE: Explanation = Explanation {
    means: key!("How many frames a second the camera takes. Slow motion takes more than it plays."),
    computed: Computed::As(key!("The shot's own frame rate where it has one, else the film's.")),
    sources: &[DEFINITION],
};
pub(super) const ASKED: Explanation = Explanation {
    means: key!(
        "How long each frame should be exposed. Half of the frame's time, 180°, is what films are used to look like."
    ),
    computed: Computed::As(key!(
        "t = θ / (360° r), with θ the film's shutter angle and r the frames a second."
    )),
    sources: &[DEFINITION, COMMON_PRACTICE],
};
pub(super) const SHUTTER: Explanation = Explanation {
    means: key!("What to set in the camera app. Longer smears movement more, shorter makes it choppy."),
    computed: Computed::As(key!(
        "Of the times that the app offers and a frame has room for, the nearest in stops; its angle is 360° r t."
    )),
    sources: &[DEFINITION],
};
pub(super) const ISO: Explanation = Explanation {
    means: key!(
        "How far the phone amplifies what it sees. The least has the least noise, so light is taken by ND first."
    ),
    computed: Computed::As(key!(
        "The higher of the lens's and the mode's least, 50 if neither says one; doubled for each stop of light that \
               lacks, up to 3200."
    )),
    sources: &[DEFINITION, COMMON_PRACTICE],
};
pub(super) const ADAPTER: Explanation = Explanation {
    means: key!("The light that the clip-on keeps from the lens."),
    computed: Computed::As(key!("Stops as the kit says them, taken off the light of the scene.")),
    sources: &[DEFINITION],
};
pub(super) const BIAS: Explanation = Explanation {
    means: key!(
        "How much brighter than a meter's middle grey the picture is wanted. Less than nothing protects highlights: what \
            is burnt out is gone."
    ),
    computed: Computed::As(key!("Stops as the film says them, taken off what is too much.")),
    sources: &[COMMON_PRACTICE],
};
pub(super) const SLOW_MOTION: Explanation = Explanation {
    means: key!("Each frame of slow motion has less time, and so less light."),
    computed: Computed::As(key!("log2(frames a second taken / the film's).")),
    sources: &[DEFINITION],
};
pub(super) const OVER: Explanation = Explanation {
    means: key!(
        "By how many stops it would be too bright with the lens open, at the least ISO and this shutter: what ND has to \
            take. Less than nothing is too dark."
    ),
    computed: Computed::As(key!(
        "EV of the light − log2(N² / t) + log2(S / 100) − adapter − bias, with N the f-number, t the exposure (s) and \
               S the ISO."
    )),
    sources: &[EXIF, DEFINITION],
};
pub(super) const FILTERS: Explanation = Explanation {
    means: key!(
        "Those of the kit's filters that fit before this lens and come nearest to what has to be taken."
    ),
    computed: Computed::As(key!(
        "Every choice of them is tried for the least |too much − sum of stops|, then the fewest filters; of equals the \
               darker, as a burnt highlight is gone."
    )),
    sources: &[DEFINITION],
};
pub(super) const CLOSING: Explanation = Explanation {
    means: key!(
        "How much less light the closed lens lets in. Filters come first, as a closed lens is sharp far behind."
    ),
    computed: Computed::As(key!("2 log2(N closed / N open), with N the f-number.")),
    sources: &[DEFINITION],
};
pub(crate) const LEFT_OVER: Explanation = Explanation {
    means: key!(
        "How much brighter or darker than wanted it is once all is set. A third of a stop counts as right; more than a stop \
            above the meter's grey, highlights are lost."
    ),
    computed: Computed::As(key!(
        "What is too much without filters, less what filters and closing take, and what a higher ISO gives."
    )),
    sources: &[DEFINITION],
};
pub(super) const GUESS: Explanation = Explanation {
    means: key!(
        "An app that decides by itself shortens the shutter in much light, and movement gets choppy. ND keeps it longer."
    ),
    computed: Computed::As(key!(
        "The shutter asked for / 2^(stops too much), no longer than a frame; only then the ISO rises. Each app has its \
               own way."
    )),
    sources: &[COMMON_PRACTICE],
};
pub(super) const SMEAR: Explanation = Explanation {
    means: key!(
        "How far whoever moves most is drawn out while the shutter is open. A phone that goes along keeps them sharp."
    ),
    computed: Computed::As(key!(
        "The way of their chest over the frame from opening to closing, the most of nine moments of the shot."
    )),
    sources: &[DEFINITION],
};
pub(super) const PATH: Explanation = Explanation {
    means: key!(
        "How long a way the phone goes along with them. Clear it, and take a spotter if you walk backwards."
    ),
    computed: Computed::As(key!("Their speed · the seconds on the set.")),
    sources: &[DEFINITION],
};
pub(super) const PAN: Explanation = Explanation {
    means: key!(
        "The fastest turn of the phone that can still be looked at, unless it holds somebody who moves. Faster judders."
    ),
    computed: Computed::As(key!(
        "The frame's width in seven seconds at 24 frames a second: angle seen across / 7 s · frames a second / 24."
    )),
    sources: &[COMMON_PRACTICE],
};
pub(super) const QUARTER_TURN: Explanation = Explanation {
    means: key!("How long to count while the phone turns by a right angle."),
    computed: Computed::As(key!("90° / the fastest pan.")),
    sources: &[DEFINITION],
};
pub(super) const PASSING: Explanation = Explanation {
    means: key!("How far something of that speed smears that passes across where the subject is."),
    computed: Computed::With(|| {
        let speed = |mover: Mover| plain(mover.per_second().to_m());
        let (walking, running, bicycle) = (speed(Mover::Walker), speed(Mover::Runner), speed(Mover::Cyclist));
        let car_km_h = Mover::Car.per_second().to_m() * 3.6;
        say!(
            "Frame's width (px) / width seen there · speed · exposure. Walking is {walking} m a second, running \
             {running}, a bicycle {bicycle}, a car {car_km_h:.0} km/h."
        )
    }),
    sources: &[COMMON_PRACTICE, GEOMETRY],
};
pub(super) const WHITE_BALANCE: Explanation = Explanation {
    means: key!(
        "What is made white, the same in every shot of the scene, so that none stands out from its neighbours."
    ),
    computed: Computed::As(key!(
        "The scene's own, or the kelvins that cameras mark for its light: sun 5600, cloud 6500, open shade 7000, warm \
               lamps 3200."
    )),
    sources: &[COMMON_PRACTICE],
};

#[cfg(test)]
mod tests {
    use film::{DayPlan, Daylights, Rehearsals, ShootingDay};

    use super::*;

    #[test]
    fn every_figure_of_every_setup_of_a_film_is_explained() {
        let film = film::demo_film();
        let day = ShootingDay::usual(film::DayId::new(1).expect("small"));
        let daylights = Daylights::new();
        let plan = DayPlan::of(&film, &day, &daylights, &mut Rehearsals::default());
        let lights = plan.setups.iter().filter_map(|setup| setup.light_at(&film, &day, &daylights, 600.0));
        let labels: Vec<&str> = lights.flat_map(|light| light.figures()).map(|figure| figure.label).collect();
        assert!(labels.len() > 100, "{labels:?}");
        for label in labels {
            assert!(of_figure(label).is_some(), "nothing stands behind {label}");
        }
    }
}
