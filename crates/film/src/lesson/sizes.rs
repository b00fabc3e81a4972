//! Shot sizes on a real body: where each ends, and where it puts the phone.

use staging::{Body, Figures, Landmark, Light, Setup, Shot, ShotSize, Stand, Subject};
use units::Length;

use super::handle::Handle;
use super::on_kit::{NoLesson, OnKit};
use super::scenery;
use super::seen::{LessonFigure, LessonSeen};
use super::told::{metres, percent, whole};
use crate::wording::capital;

pub(super) const HANDLES: [Handle; 2] = [
    Handle {
        word: "size",
        name: "Shot size",
        unit: "",
        min: 0.0,
        max: 6.0,
        step: 1.0,
        usual: 3.0,
        told: size_told,
    },
    Handle {
        word: "stature",
        name: "How tall they are",
        unit: "m",
        min: 1.3,
        max: 2.1,
        step: 0.01,
        usual: 1.7,
        told: stature_told,
    },
];

pub(super) const FIGURES: [&str; 4] = ["distance", "height", "cut", "headroom"];

/// How far behind the person the trees are, metres: chosen because they then read as a place.
const BEHIND_M: f64 = 8.0;

/// The sizes of people, from far to near: all but the insert, which is of things.
fn size(value: f64) -> ShotSize {
    ShotSize::ALL[whole(value, ShotSize::ALL.len() - 2)]
}

fn size_told(value: f64) -> String {
    size(value).name().to_owned()
}

fn stature_told(value: f64) -> String {
    format!("{value:.2} m")
}

/// A landmark as one points at it.
const fn landmark_words(landmark: Landmark) -> &'static str {
    match landmark {
        Landmark::Crown => "the top of the head",
        Landmark::Brow => "the brow",
        Landmark::Eyes => "the eyes",
        Landmark::Chin => "the chin",
        Landmark::Collar => "the collar",
        Landmark::Shoulder => "the shoulders",
        Landmark::Chest => "the chest",
        Landmark::Waist => "the waist",
        Landmark::MidThigh => "the middle of the thighs",
        Landmark::Knee => "the knees",
        Landmark::Foot => "the feet",
    }
}

pub(super) fn seen(on: &OnKit<'_>, which: f64, stature_m: f64) -> Result<LessonSeen, NoLesson> {
    let size = size(which);
    let body = Body::standing(Length::from_m(stature_m));
    let shot = Shot { subject: Subject::Person(body), ..on.shot(size, Stand::ForSize, BEHIND_M) };
    let setup = on.resolved(&shot)?;
    let cut_m = setup.cut_height.map(Length::to_m);
    let figures = vec![
        LessonFigure::of(
            (FIGURES[0], "From the phone to the person", "m"),
            Some(setup.distance.to_m()),
            metres,
            "",
        ),
        LessonFigure::of(
            (FIGURES[1], "The phone's height", "m"),
            Some(setup.phone_height.to_m()),
            stature_told,
            "",
        ),
        LessonFigure::of(
            (FIGURES[2], "The picture ends above the floor", "m"),
            cut_m,
            stature_told,
            "it looks past below",
        ),
        LessonFigure::of(
            (FIGURES[3], "Air above the head, of the picture's height", "%"),
            Some(setup.headroom * 100.0),
            |value| percent(value / 100.0),
            "",
        ),
    ];
    Ok(LessonSeen {
        views: vec![scenery::still(&shot, &setup, &scenery::trees_behind(&shot, &setup, Light::USUAL))],
        figures,
        sentences: sentences(on, &shot, &setup, &body),
        note: on.too_near(&shot, &setup),
        lens: on.lens.name.clone(),
    })
}

fn sentences(on: &OnKit<'_>, shot: &Shot, setup: &Setup, body: &Body) -> [String; 3] {
    let name = capital(shot.size.name());
    let stature = stature_told(body.stature.to_m());
    let holds = match (shot.size, shot.size.rule()) {
        (ShotSize::ExtremeWide, _) => format!(
            "{name}: somebody {stature} tall is a fifth of the picture's height, and the place is what it is about."
        ),
        (ShotSize::Wide, _) => format!("{name}: all of somebody {stature} tall, with air above and below."),
        (_, Some(rule)) => format!(
            "{name}: of somebody {stature} tall it holds everything down to {}, {} above the floor.",
            landmark_words(rule.cut),
            stature_told(body.height_of(rule.cut).to_m())
        ),
        (_, None) => format!("{name}: of somebody {stature} tall it holds one thing."),
    };
    let at = shot.size.rule().map_or("", |rule| landmark_words(rule.phone_height));
    let stand = format!(
        "On the {} lens that puts the phone {} away and {} up, as high as {at}, and {} of the place is seen behind.",
        on.lens.name,
        metres(setup.distance.to_m()),
        stature_told(setup.phone_height.to_m()),
        metres(Figures::of(shot, setup).place_width.to_m())
    );
    let air = if setup.headroom < 0.0 {
        format!(
            "The hair is cropped by {} of the picture's height so that the eyes sit high, and the lower edge never falls on a joint, where a body looks cut off.",
            percent(-setup.headroom)
        )
    } else {
        format!(
            "Above the head is {} of the picture's height, and the lower edge never falls on a joint, where a body looks cut off.",
            percent(setup.headroom)
        )
    };
    [holds, stand, air]
}
