//! Why the background stays sharp, and what each thing that helps buys, in pixels.

use language::{key, say};
use optics::FNumber;
use staging::{Blur, Larger, LargerCamera, Pupil, Setup, Shot, ShotSize, Softness, Stand};
use units::Length;

use super::handle::Handle;
use super::on_kit::{NoLesson, OnKit, equivalent_mm};
use super::scenery;
use super::seen::{LessonFigure, LessonSeen};
use super::told::{f_number, length, millimetres, percent, px};
use crate::comparison::ShotResult;
use crate::findings::Circumstances;
use crate::kit::KitLens;
use crate::sentence::background_words;

pub(super) const HANDLES: [Handle; 2] = [
    Handle {
        word: "distance",
        name: key!("From the phone to the person"),
        unit: "m",
        min: 0.3,
        max: 5.0,
        step: 0.05,
        usual: 1.5,
        told: length,
    },
    Handle {
        word: "behind",
        name: key!("From the person to the background"),
        unit: "m",
        min: 0.5,
        max: 50.0,
        step: 0.5,
        usual: 4.0,
        told: length,
    },
];

pub(super) const FIGURES: [&str; 5] = ["blur", "closer", "farther", "longer", "larger"];

/// How far a larger camera is opened in this lesson: chosen, as zoom lenses made for film work commonly open so far.
const LARGER_F_NUMBER: f64 = 2.8;

/// One try: how wide a point of the background is drawn, and what draws it.
struct Try<'kit> {
    on: OnKit<'kit>,
    shot: Shot,
    setup: Setup,
}

impl<'kit> Try<'kit> {
    /// The person from that far, down to the chest at arm's length and more of them from farther off.
    fn of(on: OnKit<'kit>, distance_m: f64, behind_m: f64) -> Result<Self, NoLesson> {
        let shot = on.shot(ShotSize::ChestUp, Stand::At(Length::from_m(distance_m)), behind_m);
        let setup = on.resolved(&shot)?;
        Ok(Self { on, shot, setup })
    }

    fn background(&self) -> Length {
        self.setup.subject_depth + self.shot.background_behind
    }

    /// A point of the background; none where it cannot be told, or where the lens cannot focus on the person.
    fn disc(&self) -> Option<Softness> {
        let blur = Blur::of(&self.shot, &self.setup)?;
        self.shot.closest_focus(self.setup.focus).is_none().then(|| blur.at(self.background()))
    }

    /// How soft the background gets, in the words of every sentence about a setup.
    fn background_words(&self) -> Option<&'static str> {
        let result = ShotResult::of(self.shot, &Circumstances::default());
        let words = background_words(result.figures.as_ref()?, &result, &self.setup)?;
        Some(words.trim_start_matches("; "))
    }

    fn larger(&self) -> Option<Larger> {
        Larger::of(&self.setup, LargerCamera::FullFrame, FNumber::new(LARGER_F_NUMBER).ok()?)
    }

    /// The kit's next longer lens.
    fn longer(&self) -> Option<&'kit KitLens> {
        let of = |lens: &KitLens| equivalent_mm(&lens.lens);
        let longer = self.on.kit.lenses.iter().filter(|lens| of(lens) > of(self.on.lens) * 1.05);
        longer.min_by(|one, other| of(one).total_cmp(&of(other)))
    }
}

/// What each thing that helps makes of the disc, in pixels of the same picture.
struct Gains {
    now: Option<f64>,
    closer: Option<f64>,
    farther: Option<f64>,
    longer: Option<f64>,
    larger: Option<f64>,
}

impl Gains {
    fn of(seen: &Try<'_>, distance_m: f64, behind_m: f64) -> Self {
        let width = |other: Result<Try<'_>, NoLesson>| Some(other.ok()?.disc()?.width_px);
        Self {
            now: seen.disc().map(|disc| disc.width_px),
            closer: width(Try::of(seen.on, distance_m / 2.0, behind_m)),
            farther: width(Try::of(seen.on, distance_m, behind_m * 2.0)),
            longer: seen.longer().and_then(|lens| width(Try::of(seen.on.on(lens), distance_m, behind_m))),
            larger: seen.larger().map(|larger| larger.softness(seen.background()).width_px),
        }
    }

    fn more(&self, than: Option<f64>) -> Option<f64> {
        Some(than? - self.now?)
    }
}

pub(super) fn seen(on: &OnKit<'_>, distance_m: f64, behind_m: f64) -> Result<LessonSeen, NoLesson> {
    let one = Try::of(*on, distance_m, behind_m)?;
    let gains = Gains::of(&one, distance_m, behind_m);
    Ok(LessonSeen {
        views: vec![scenery::still(&one.shot, &one.setup, &scenery::lights_behind(&one.shot, &one.setup))],
        figures: figures(&one, &gains),
        sentences: sentences(&one, &gains),
        note: on.too_near(&one.shot, &one.setup),
        lens: on.lens.name.clone(),
    })
}

fn figures(seen: &Try<'_>, gains: &Gains) -> Vec<LessonFigure> {
    let gain = |value: f64| format!("{}{}", if value < 0.0 { "−" } else { "+" }, px(libm::fabs(value)));
    let why = seen.on.why_no_blur();
    let no_longer = match seen.longer() {
        Some(lens) if gains.now.is_some() => say!("none: the {} lens cannot focus so near", lens.name),
        Some(_) => why.to_owned(),
        None => say!("none: the kit has no longer lens").to_owned(),
    };
    let of = |at: usize, name: &str, value: Option<f64>, why: &str| {
        LessonFigure::of((FIGURES[at], name, "px"), value, gain, why)
    };
    vec![
        LessonFigure::of((FIGURES[0], say!("A point of the background is drawn"), "px"), gains.now, px, why),
        of(1, say!("Half the distance to the person"), gains.more(gains.closer), why),
        of(2, say!("The background twice as far behind"), gains.more(gains.farther), why),
        of(3, say!("The next longer lens from here"), gains.more(gains.longer), &no_longer),
        of(
            4,
            &say!("A full-frame camera at {} from here", f_number(LARGER_F_NUMBER)),
            gains.more(gains.larger),
            why,
        ),
    ]
}

fn sentences(seen: &Try<'_>, gains: &Gains) -> [String; 3] {
    let Try { on, shot, setup } = seen;
    let (distance, behind) = (on.length(setup.distance), on.length(shot.background_behind));
    let place = say!("With the person {distance} from the phone and the background {behind} behind them");
    let now = match (seen.disc(), seen.background_words()) {
        (Some(disc), Some(words)) => say!(
            "{place}, each small light back there is drawn {} wide, {} of the picture's height: {words}.",
            px(disc.width_px),
            percent(disc.share)
        ),
        _ => say!("{place}, how soft a light back there gets is {}.", on.why_no_blur()),
    };
    let becomes = |width: Option<f64>| match (width, gains.now) {
        (Some(width), _) => say!("it is {}", px(width)),
        (None, Some(_)) => say!("the lens cannot focus so near").to_owned(),
        (None, None) => say!("it cannot be told").to_owned(),
    };
    let (closer, farther) = (becomes(gains.closer), becomes(gains.farther));
    let moves =
        say!("Halve your distance and {closer}; send the background twice as far away and {farther}.");
    [now, moves, lens_and_sensor(seen, gains)]
}

/// What a longer lens and a larger sensor make of it, and why.
fn lens_and_sensor(seen: &Try<'_>, gains: &Gains) -> String {
    let hole = |pupil: Pupil| millimetres(pupil.height.to_mm());
    let longer = match (seen.longer(), gains.longer) {
        (Some(lens), Some(width)) => say!("The {} lens from here makes it {}", lens.name, px(width)),
        (Some(lens), None) if gains.now.is_some() => say!("The {} lens cannot focus so near", lens.name),
        (Some(lens), None) => say!("What the {} lens makes of it cannot be told", lens.name),
        (None, _) => say!("This kit has no longer lens").to_owned(),
    };
    let larger = say!("a full-frame camera at {} that sees the same", f_number(LARGER_F_NUMBER));
    let own = Pupil::of(&seen.shot, &seen.setup);
    match (seen.larger(), gains.larger, own) {
        (Some(larger_camera), Some(width), Some(own)) => say!(
            "{longer}, and {larger} makes it {}, because light comes in through a hole {} wide there and {} wide here.",
            px(width),
            hole(larger_camera.pupil()),
            hole(own)
        ),
        (Some(_), Some(width), None) => say!("{longer}, and {larger} makes it {}.", px(width)),
        _ => format!("{longer}."),
    }
}
