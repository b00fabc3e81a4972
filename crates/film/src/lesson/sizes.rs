//! Shot sizes on a real body: where each ends, and where it puts the phone.

use language::{key, say, text};
use staging::{Body, Figures, Landmark, Light, Setup, Shot, ShotSize, Stand, Subject};
use units::Length;

use super::handle::Handle;
use super::on_kit::{NoLesson, OnKit};
use super::scenery;
use super::seen::{FigureUnit, LessonFigure, LessonSeen};
use super::told::{height, length, percent, whole};
use crate::preset::shape_told;
use crate::wording::capital;

pub(super) const HANDLES: [Handle; 2] = [
    Handle {
        word: "size",
        name: key!("Shot size"),
        unit: "",
        min: 0.0,
        max: 6.0,
        step: 1.0,
        usual: 3.0,
        told: |which, _lengths| text(size(which).name()).to_owned(),
    },
    Handle {
        word: "stature",
        name: key!("How tall they are"),
        unit: "m",
        min: 1.3,
        max: 2.1,
        step: 0.01,
        usual: 1.7,
        told: height,
    },
];

pub(super) const FIGURES: [&str; 4] = ["distance", "height", "cut", "headroom"];

/// How far behind the person the trees are, metres: chosen because they then read as a place.
const BEHIND_M: f64 = 8.0;

/// The sizes of people, from far to near: all but the insert, which is of things.
fn size(value: f64) -> ShotSize {
    ShotSize::ALL[whole(value, ShotSize::ALL.len() - 2)]
}

/// A landmark as one points at it.
fn landmark_words(landmark: Landmark) -> &'static str {
    match landmark {
        Landmark::Crown => say!("the top of the head"),
        Landmark::Brow => say!("the brow"),
        Landmark::Eyes => say!("the eyes"),
        Landmark::Chin => say!("the chin"),
        Landmark::Collar => say!("the collar"),
        Landmark::Shoulder => say!("the shoulders"),
        Landmark::Chest => say!("the chest"),
        Landmark::Waist => say!("the waist"),
        Landmark::MidThigh => say!("the middle of the thighs"),
        Landmark::Knee => say!("the knees"),
        Landmark::Foot => say!("the feet"),
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
            (FIGURES[0], say!("From the phone to the person"), FigureUnit::Metres),
            Some(setup.distance.to_m()),
            |metres| length(metres, on.unit),
            "",
        ),
        LessonFigure::of(
            (FIGURES[1], say!("The phone's height"), FigureUnit::Metres),
            Some(setup.phone_height.to_m()),
            |metres| height(metres, on.unit),
            "",
        ),
        LessonFigure::of(
            (FIGURES[2], say!("The picture ends above the floor"), FigureUnit::Metres),
            cut_m,
            |metres| height(metres, on.unit),
            say!("it looks past below"),
        ),
        LessonFigure::of(
            (FIGURES[3], say!("Air above the head, of the picture's height"), "%"),
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
    let name = capital(text(shot.size.name()));
    let stature = on.height(body.stature);
    let holds = match (shot.size, shot.size.rule()) {
        (ShotSize::ExtremeWide, _) => say!(
            "{name}: somebody {stature} tall is a fifth of the picture's height, and the place is what it is about."
        ),
        (ShotSize::Wide, _) => say!("{name}: all of somebody {stature} tall, with air above and below."),
        (_, Some(rule)) => say!(
            "{name}: of somebody {stature} tall it holds everything down to {}, {} above the floor.",
            landmark_words(rule.cut),
            on.height(body.height_of(rule.cut))
        ),
        (_, None) => say!("{name}: of somebody {stature} tall it holds one thing."),
    };
    let at = shot.size.rule().map_or("", |rule| landmark_words(rule.phone_height));
    let stand = say!(
        "In {}, on the {} lens, that puts the phone {} away and {} up, as high as {at}, and {} of the place is seen \
         behind.",
        shape_told(on.aspect.to_f64()),
        on.lens.name,
        on.length(setup.distance),
        on.height(setup.phone_height),
        on.length(Figures::of(shot, setup).place_width)
    );
    let air = if setup.headroom < 0.0 {
        say!(
            "The hair is cropped by {} of the picture's height so that the eyes sit high, and the lower edge never \
                  falls on a joint, where a body looks cut off.",
            percent(-setup.headroom)
        )
    } else {
        say!(
            "Above the head is {} of the picture's height, and the lower edge never falls on a joint, where a body \
                  looks cut off.",
            percent(setup.headroom)
        )
    };
    [holds, stand, air]
}
