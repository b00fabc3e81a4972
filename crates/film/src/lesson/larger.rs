//! The same picture on a phone and on a larger camera, and the f-number that the phone would need for its blur.

use language::{key, say};
use optics::FNumber;
use staging::{BEYOND_ANY_PHONE, Blur, Larger, LargerCamera, Setup, Shot, ShotSize, Stage, Stand};

use super::handle::Handle;
use super::on_kit::{NoLesson, OnKit};
use super::scenery;
use super::seen::{LessonFigure, LessonSeen, LessonView};
use super::told::{f_number, millimetres, px, whole};

pub(super) const HANDLES: [Handle; 2] = [
    Handle {
        word: "f_number",
        name: key!("The larger camera's f-number"),
        unit: "",
        min: 1.4,
        max: 16.0,
        step: 0.1,
        usual: 2.8,
        told: |number, _lengths| f_number(number),
    },
    Handle {
        word: "camera",
        name: key!("Which larger camera"),
        unit: "",
        min: 0.0,
        max: 1.0,
        step: 1.0,
        usual: 1.0,
        told: |which, _lengths| camera(which).name().to_owned(),
    },
];

pub(super) const FIGURES: [&str; 4] = ["phone_blur", "larger_blur", "needed", "focal_length"];

/// How far behind the person the lights are, metres: chosen because a room or a yard has so much.
const BEHIND_M: f64 = 6.0;

fn camera(value: f64) -> LargerCamera {
    LargerCamera::ALL[whole(value, LargerCamera::ALL.len() - 1)]
}

/// What the phone would need, and whether any has it.
fn needed_told(needed: f64) -> String {
    let told = if needed < 0.095 { say!("f/{needed:.2}") } else { f_number(needed) };
    if needed < BEYOND_ANY_PHONE { say!("{told}: impossible") } else { told }
}

pub(super) fn seen(on: &OnKit<'_>, number: f64, which: f64) -> Result<LessonSeen, NoLesson> {
    let camera = camera(which);
    let shot = on.shot(ShotSize::ChestUp, Stand::ForSize, BEHIND_M);
    let setup = on.resolved(&shot)?;
    let no_framing = || on.no_framing();
    let number = FNumber::new(number).map_err(|_out_of_range| no_framing())?;
    let larger = Larger::of(&setup, camera, number).ok_or_else(no_framing)?;
    let background = setup.subject_depth + shot.background_behind;
    let blocking = scenery::lights_behind(&shot, &setup);
    let phone =
        LessonView { caption: say!("this phone").to_owned(), ..scenery::still(&shot, &setup, &blocking) };
    let stage = Stage { pupil: Some(larger.pupil()), ..phone.stage.clone() };
    let beside = LessonView { caption: camera.name().to_owned(), stage, aspect: phone.aspect };
    let two = Two {
        camera,
        needed: larger.f_number_on(&shot),
        phone_px: Blur::of(&shot, &setup).map(|blur| blur.at(background).width_px),
        larger_px: larger.softness(background).width_px,
        larger,
    };
    Ok(LessonSeen {
        views: vec![phone, beside],
        figures: two.figures(on),
        sentences: two.sentences(on, &shot, &setup),
        note: on.too_near(&shot, &setup),
        lens: on.lens.name.clone(),
    })
}

/// The same picture on both.
struct Two {
    camera: LargerCamera,
    larger: Larger,
    phone_px: Option<f64>,
    larger_px: f64,
    /// The f-number that would make the phone as soft.
    needed: Option<f64>,
}

impl Two {
    fn focal_length_mm(&self) -> f64 {
        self.larger.focal_length.to_length().to_mm()
    }

    fn figures(&self, on: &OnKit<'_>) -> Vec<LessonFigure> {
        let why = on.why_no_blur();
        let name = self.camera.name();
        vec![
            LessonFigure::of((FIGURES[0], say!("A small light on this phone"), "px"), self.phone_px, px, why),
            LessonFigure::of(
                (FIGURES[1], &say!("The same light on {name}"), "px"),
                Some(self.larger_px),
                px,
                "",
            ),
            LessonFigure::of(
                (FIGURES[2], say!("The f-number that the phone would need"), ""),
                self.needed,
                needed_told,
                why,
            ),
            LessonFigure::of(
                (FIGURES[3], &say!("The lens that sees the same on {name}"), "mm"),
                Some(self.focal_length_mm()),
                millimetres,
                "",
            ),
        ]
    }

    fn sentences(&self, on: &OnKit<'_>, shot: &Shot, setup: &Setup) -> [String; 3] {
        let name = self.camera.name();
        let number = f_number(self.larger.f_number.to_f64());
        let own = shot.lens.f_number.map(|own| own.value.to_f64());
        let alike = say!(
            "Both pictures are taken from {}, and {name} sees the same as the {} lens through a lens of {}.",
            on.length(setup.distance),
            on.lens.name,
            millimetres(self.focal_length_mm()),
        );
        let (Some(phone_px), Some(own), Some(needed)) = (self.phone_px, own, self.needed) else {
            let larger = say!(
                "At {number} the larger camera draws each small light behind {} wide; the phone's is {}.",
                px(self.larger_px),
                on.why_no_blur()
            );
            let none = say!("So what f-number the phone would need beside {number} cannot be told.");
            return [alike, larger, none];
        };
        let softness = say!(
            "At {number} the larger camera draws each small light behind {} wide, and the phone at {} draws it {} wide.",
            px(self.larger_px),
            f_number(own),
            px(phone_px)
        );
        let told = f_number(needed);
        let match_it = if needed < BEYOND_ANY_PHONE {
            say!(
                "To match that the phone would need {told}, a hole wider than the lens is long, and that is \
                      impossible: move closer or move the background away instead."
            )
        } else if needed < own * 0.999 {
            say!("To match that the phone would need {told}, and its lens stays at {}.", f_number(own))
        } else {
            say!(
                "The phone would match that at {told}, and at its own {} it is as soft already.",
                f_number(own)
            )
        };
        [alike, softness, match_it]
    }
}
