//! Shutter angle: how far a walker smears, how much light is too much, and what ND is for.

use language::{Number, key, say};
use optics::{
    ExposureTime, ExposureValue, MOST_FILTERS, Mover, ShutterAngle, Stacking, exposure_time, moving_smear_px,
};
use staging::{Blocking, Light, Moment, Setup, ShotSize, Stance, Stand};
use units::{Angle, FrameRate, Stops};

use super::handle::Handle;
use super::on_kit::{NoLesson, OnKit};
use super::scenery;
use super::seen::{LessonFigure, LessonSeen};
use super::told::{degrees, f_number, px, stops};
use crate::exposure::{Exposing, Exposure};
use crate::light::{IsoSetting, scene_in_light_told};
use crate::preset::scenes_in_light;

pub(super) const HANDLES: [Handle; 2] = [
    Handle {
        word: "angle",
        name: key!("Shutter angle"),
        unit: "°",
        min: 5.0,
        max: 360.0,
        step: 1.0,
        usual: 180.0,
        told: |angle, _lengths| degrees(angle),
    },
    Handle {
        word: "light",
        name: key!("The light"),
        unit: "EV",
        min: 4.0,
        max: 16.0,
        step: 0.5,
        usual: 15.0,
        told: |ev100, _lengths| light_told(ev100),
    },
];

pub(super) const FIGURES: [&str; 4] = ["time", "smear", "too_much", "nd"];

/// How far behind the walker the trees are, metres: chosen because they then stand still beside the smear.
const BEHIND_M: f64 = 6.0;
/// Into the walker's double step, so that their legs are apart: chosen.
const MID_STEP: f64 = 0.1;
/// Light from which the sun is drawn: what tables give a hazy sun.
const SUN_FROM_EV: f64 = 13.5;
/// Light below which it is drawn as dusk: what tables give just after sunset.
const DUSK_BELOW_EV: f64 = 9.0;
/// The strongest single filter: 10 stops, common practice. With one of each whole stop up to it there is one for any light.
const STRONGEST_STOPS: usize = 10;

/// The nearest of everyday light.
fn light_told(ev100: f64) -> String {
    let off = |value: ExposureValue| libm::fabs(value.to_f64() - ev100);
    let nearest =
        scenes_in_light().into_iter().min_by(|(_, one), (_, other)| off(*one).total_cmp(&off(*other)));
    let name = nearest.map_or_else(String::new, |(name, _)| format!(" ({})", scene_in_light_told(&name)));
    format!("EV {}{name}", Number(ev100))
}

/// An ND filter by the name it is sold under: how many times less light comes through.
fn nd_told(stops_taken: f64) -> String {
    if stops_taken <= 0.0 {
        return say!("none").to_owned();
    }
    format!("ND{:.0} ({})", Stops::new(stops_taken).to_light_ratio(), stops(stops_taken))
}

/// What is exposed, and what smears while it is.
struct Exposed {
    exposure: Option<Exposure>,
    angle: ShutterAngle,
    time: ExposureTime,
    smear_px: f64,
    /// The time that leaves the light right without a filter, and how far a walker smears in it.
    without: Option<(ExposureTime, f64)>,
}

impl Exposed {
    fn of(on: &OnKit<'_>, setup: &Setup, degrees: f64, ev100: f64) -> Option<Self> {
        let angle = ShutterAngle::from_deg(degrees).ok()?;
        let time = exposure_time(angle, FrameRate::FILM);
        let smear = |time| {
            let pace = Mover::Walker.per_second();
            moving_smear_px(&setup.view, setup.frame.delivered_px.0, pace, setup.subject_depth, time)
        };
        let exposure = Self::exposure(on, time, ev100);
        let without = exposure.as_ref().filter(|one| one.over.to_f64() > 0.0);
        let without = without.and_then(|one| time.with_light(-one.over)).map(|time| (time, smear(time)));
        Some(Self { exposure, angle, time, smear_px: smear(time), without })
    }

    /// At the ISO floor; the filters are one of each whole stop, which is what shops sell.
    fn exposure(on: &OnKit<'_>, time: ExposureTime, ev100: f64) -> Option<Exposure> {
        let iso = IsoSetting::floor(on.lens, Some(on.recording))?.set;
        let filters = (1..=STRONGEST_STOPS.min(MOST_FILTERS)).map(|stop| {
            #[expect(clippy::cast_precision_loss, reason = "a dozen at the most")]
            let stop = stop as f64;
            Stops::new(stop)
        });
        Exposure::of(Exposing {
            f_number: on.lens.lens.f_number?.value,
            time,
            rate: Some(FrameRate::FILM),
            iso,
            scene: ExposureValue::of_scene(ev100).ok()?,
            light_loss: Stops::ZERO,
            bias: Stops::ZERO,
            filters: filters.collect(),
            stacking: Stacking::One,
            mains: None,
        })
        .ok()
    }
}

pub(super) fn seen(on: &OnKit<'_>, angle_deg: f64, ev100: f64) -> Result<LessonSeen, NoLesson> {
    let shot = on.shot(ShotSize::Wide, Stand::ForSize, BEHIND_M);
    let setup = on.resolved(&shot)?;
    let no_framing = || on.no_framing();
    let exposed = Exposed::of(on, &setup, angle_deg, ev100).ok_or_else(no_framing)?;
    let light = match ev100 {
        bright if bright >= SUN_FROM_EV => Light::USUAL,
        dim if dim < DUSK_BELOW_EV => Light::Dusk,
        _ => Light::Overcast,
    };
    let trees = scenery::trees_behind(&shot, &setup, light);
    let stance = Stance::Walking(MID_STEP);
    let blocking = Blocking {
        facing: Angle::from_deg(90.0),
        stances: [stance; 2],
        pace: Mover::Walker.per_second(),
        ..trees
    };
    let moment = Moment { at_s: 0.0, exposure_s: exposed.time.to_s() };
    Ok(LessonSeen {
        views: vec![scenery::shown(&shot, &setup, &blocking, moment)],
        figures: figures(&exposed),
        sentences: sentences(on, &exposed, ev100),
        note: None,
        lens: on.lens.name.clone(),
    })
}

fn figures(exposed: &Exposed) -> Vec<LessonFigure> {
    let why = say!("not known: the kit lacks this lens's f-number");
    let of = |value: fn(&Exposure) -> f64| exposed.exposure.as_ref().map(value);
    let time_told = |_seconds: f64| Number(exposed.time).to_string();
    vec![
        LessonFigure::of(
            (FIGURES[0], say!("Each picture is exposed for"), "s"),
            Some(exposed.time.to_s()),
            time_told,
            "",
        ),
        LessonFigure::of((FIGURES[1], say!("A walker smears over"), "px"), Some(exposed.smear_px), px, ""),
        LessonFigure::of(
            (FIGURES[2], say!("Light that is too much"), "stops"),
            of(|one| one.over.to_f64()),
            stops,
            why,
        ),
        LessonFigure::of(
            (FIGURES[3], say!("The ND filter that takes it"), "stops"),
            of(|one| one.chosen.takes.to_f64()),
            nd_told,
            why,
        ),
    ]
}

fn sentences(on: &OnKit<'_>, exposed: &Exposed, ev100: f64) -> [String; 3] {
    let smear = say!(
        "At 24 pictures a second and {}, each is exposed for {}, and a walker smears over {} in it: about half a \
              turn, 180°, is what films are used to.",
        degrees(exposed.angle.to_deg()),
        exposed.time,
        px(exposed.smear_px)
    );
    let Some(exposure) = &exposed.exposure else {
        let light = say!("How much of the light at {} is too much cannot be told.", light_told(ev100));
        return [smear, light, say!("For that the kit needs the f-number of the {} lens.", on.lens.name)];
    };
    let (over, iso) = (exposure.over.to_f64(), exposure.exposing.iso.to_f64());
    let is_typical = IsoSetting::floor(on.lens, Some(on.recording)).is_none_or(|iso| iso.is_typical);
    let whose = if is_typical { say!("phones usually go") } else { say!("this one goes") };
    let settings = say!(
        "At {} with {} and ISO {iso:.0}, as low as {whose},",
        light_told(ev100),
        f_number(exposure.exposing.f_number.to_f64())
    );
    if over <= 0.0 {
        let dark = say!("{settings} that is {} too dark.", stops(-over));
        let more = say!(
            "No ND belongs on the lens then: raise the ISO or find more light, and leave the shutter at half a turn, \
                  180°."
        );
        return [smear, dark, more.to_owned()];
    }
    let closes = match on.lens.closes_to {
        Some(number) => say!("this lens closes no further than {}", f_number(number.to_f64())),
        None => say!("a phone's lens cannot be closed").to_owned(),
    };
    let bright = say!("{settings} that is {} too bright, and {closes}.", stops(over));
    let without = exposed.without.map_or_else(
        || say!("the picture burns out").to_owned(),
        |(time, smear_px)| {
            say!(
                "the phone shortens each exposure to {time}, a step smears over {} and walking looks chopped",
                px(smear_px)
            )
        },
    );
    let takes = exposure.chosen.takes.to_f64();
    let nd = if takes > 0.0 {
        say!(
            "A grey filter, {}, takes that and leaves the smear alone; without one {without}.",
            nd_told(takes)
        )
    } else {
        say!("So little needs no filter: no one of 1 stop comes nearer to right.").to_owned()
    };
    [smear, bright, nd]
}
