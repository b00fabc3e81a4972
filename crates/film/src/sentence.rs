//! A setup in one sentence, as it would be called across a set.

use language::{key, say, text};
use staging::{Binding, Body, Figures, FocusOn, Landmark, Look, PhoneHeight, Setup, Shot, Subject, Unframed};
use units::{Length, LengthUnit};

use crate::comparison::ShotResult;
use crate::wording::capital;

/// How to say it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Telling<'names> {
    /// What the crew calls the lens.
    pub lens: &'names str,
    /// What the crew calls the adapter, if it is on.
    pub adapter: Option<&'names str>,
    /// The length of one step of whoever paces it out; positive.
    pub step: Length,
    /// The unit beside the steps.
    pub unit: LengthUnit,
}

/// An adult's walking step: 0.75 m, chosen because handbooks of walking give 0.7 to 0.8 m; from memory.
pub const USUAL_STEP: Length = Length::from_m(0.75);

/// Landmarks that people can point at, from the top down, with the words for a phone held there.
const HEIGHT_WORDS: [(Landmark, &str); 6] = [
    (Landmark::Eyes, key!("phone at eye height")),
    (Landmark::Chin, key!("phone at chin height")),
    (Landmark::Chest, key!("phone at chest height")),
    (Landmark::Waist, key!("phone at waist height")),
    (Landmark::MidThigh, key!("phone at thigh height")),
    (Landmark::Knee, key!("phone at knee height")),
];

/// A setup in one sentence: lens, distance, height, aim, and what stays sharp.
pub fn sentence(telling: &Telling<'_>, result: &ShotResult) -> String {
    let lens = telling.lens;
    let lens = capital(&match telling.adapter {
        Some(adapter) => say!("{lens} lens with the {adapter} adapter"),
        None => say!("{lens} lens"),
    });
    let setup = match &result.outcome {
        Ok(setup) => setup,
        Err(unframed) => return format!("{lens}: {}.", why_not(*unframed)),
    };
    let distance =
        say!("{} back ({})", steps(setup.distance, telling.step), setup.distance.told(telling.unit, 1));
    let height = phone_height_words(&result.shot, setup, telling.unit);
    let aim = aim_words(&result.shot, setup);
    let figures = result.figures.as_ref();
    let focus = match result.shot.focus {
        FocusOn::Subject => String::new(),
        FocusOn::At(focus) => say!(", focus at {}", focus.told(telling.unit, 1)),
    };
    let sharp = figures.and_then(|figures| background_words(figures, result, setup)).unwrap_or_default();
    format!("{lens}, {distance}, {height}, {aim}{focus}{sharp}.")
}

/// How soft the background gets, in words.
///
/// A disc under a hundredth of the frame's height is lost in the picture's own detail, and one over a twenty-fifth
/// carries no shapes of its own any more: chosen by looking, as common practice has no figure for it.
pub(crate) fn background_words(
    figures: &Figures,
    result: &ShotResult,
    setup: &Setup,
) -> Option<&'static str> {
    let disc = figures.background?;
    if figures.background_is_sharp(setup, result.shot.background_behind)? {
        return Some(say!("; the background stays sharp"));
    }
    Some(match disc.share {
        share if share < 0.01 => say!("; the background stays nearly sharp"),
        share if share < 0.04 => say!("; the background goes a little soft"),
        _ => say!("; the background goes soft"),
    })
}

/// A distance in steps, to the half.
pub fn steps(distance: Length, step: Length) -> String {
    let halves = libm::round(distance / step * 2.0) / 2.0;
    if halves < 0.5 {
        return say!("less than half a step").to_owned();
    }
    let whole = libm::floor(halves);
    let half = if halves > whole { "½" } else { "" };
    match (whole >= 1.0, half) {
        (false, _) => say!("half a step").to_owned(),
        (true, "") if whole < 2.0 => say!("1 step").to_owned(),
        (true, half) => say!("{whole:.0}{half} steps"),
    }
}

fn why_not(unframed: Unframed) -> &'static str {
    match unframed {
        Unframed::Height(_) => say!("this size cannot be had from this height"),
        Unframed::Look { .. } => say!("this look misses what the size asks for"),
        _ => say!("this cannot be framed"),
    }
}

/// Where the phone is, by a landmark of the person in focus where one is near.
fn phone_height_words(shot: &Shot, setup: &Setup, unit: LengthUnit) -> String {
    let height = setup.phone_height;
    match (shot.phone_height, shot.subject.body()) {
        (PhoneHeight::Ground, _) => say!("phone near the ground").to_owned(),
        (PhoneHeight::Overhead, _) => say!("phone overhead ({})", height.told(unit, 1)),
        (_, Some(body)) => match landmark_near(body, height) {
            Some(words) => words.to_owned(),
            None => say!("phone {} high", height.told(unit, 2)),
        },
        (_, None) => say!("phone {} high", height.told(unit, 2)),
    }
}

/// The nearest landmark within a fortieth of the stature, which is as well as a phone can be held to it.
fn landmark_near(body: &Body, height: Length) -> Option<&'static str> {
    let off = |landmark: Landmark| (body.height_of(landmark) - height).abs();
    let (landmark, words) = HEIGHT_WORDS
        .into_iter()
        .min_by(|(one, _), (other, _)| off(*one).to_m().total_cmp(&off(*other).to_m()))?;
    (off(landmark) <= body.stature / 40.0).then(|| text(words))
}

/// What to aim by: the eyes' place in the frame before any degrees.
fn aim_words(shot: &Shot, setup: &Setup) -> String {
    let level = match shot.look {
        Look::Tilt(tilt) if tilt.to_deg().abs() < 0.5 => Some(say!("held level").to_owned()),
        Look::Tilt(tilt) if tilt.to_deg() > 0.0 => Some(say!("tilted {:.0}° up", tilt.to_deg())),
        Look::Tilt(tilt) => Some(say!("tilted {:.0}° down", -tilt.to_deg())),
        Look::Aimed => None,
    };
    if let Some(level) = level {
        return level;
    }
    match (setup.eyes_down.filter(|_| setup.eyes_in_frame), &shot.subject) {
        (Some(eyes), _) => say!("aim so the eyes sit {}", row_words(eyes)),
        (None, Subject::Object { .. }) => say!("aim at its middle").to_owned(),
        (None, _) if setup.binding == Binding::Place => say!("aim at the subject").to_owned(),
        (None, _) => say!("tilt {:.0}°", setup.tilt.to_deg()),
    }
}

/// A row of the frame in words.
fn row_words(share_from_top: f64) -> &'static str {
    const ROWS: [(f64, &str); 6] = [
        (0.10, key!("just under the frame's edge")),
        (0.20, key!("a fifth down")),
        (0.25, key!("a quarter down")),
        (1.0 / 3.0, key!("on the upper third")),
        (0.50, key!("in the middle")),
        (2.0 / 3.0, key!("on the lower third")),
    ];
    let off = |row: f64| (row - share_from_top).abs();
    ROWS.into_iter()
        .min_by(|(one, _), (other, _)| off(*one).total_cmp(&off(*other)))
        .map_or("", |(_, words)| text(words))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn steps_are_told_to_the_half() {
        let told = |metres: f64| steps(Length::from_m(metres), USUAL_STEP);
        assert_eq!(told(0.1), "less than half a step");
        assert_eq!(told(0.4), "half a step");
        assert_eq!(told(0.75), "1 step");
        assert_eq!(told(1.1), "1½ steps");
        assert_eq!(told(3.0), "4 steps");
    }

    #[test]
    fn eyes_a_third_down_sit_on_the_upper_third() {
        assert_eq!(row_words(0.31), "on the upper third");
    }
}
