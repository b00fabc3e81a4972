//! The same size of face from another place: the place makes the background, and a zoom only crops.

use language::{key, say};
use staging::{Figures, Landmark, Setup, Shot, ShotSize, Stage, Stand};
use units::Length;

use super::handle::Handle;
use super::on_kit::{NoLesson, OnKit};
use super::scenery;
use super::seen::{FigureUnit, LessonFigure, LessonSeen};
use super::told::{length, percent};

pub(super) const HANDLES: [Handle; 2] = [
    Handle {
        word: "distance",
        name: key!("Where you stand"),
        unit: "m",
        min: 0.3,
        max: 6.0,
        step: 0.05,
        usual: 1.0,
        told: length,
    },
    Handle {
        word: "behind",
        name: key!("From the person to the background"),
        unit: "m",
        min: 1.0,
        max: 30.0,
        step: 0.5,
        usual: 10.0,
        told: length,
    },
];

pub(super) const FIGURES: [&str; 4] = ["place", "face", "stretch", "zoom"];

/// The size that the face keeps.
const SIZE: ShotSize = ShotSize::ChestUp;
/// The most that a picture is cropped by in search of the size: what a mode may be zoomed by.
const MOST_ZOOM: f64 = 20.0;
/// Halvings of the search for the zoom: after so many nothing is left to halve.
const HALVINGS: usize = 50;
/// A lens whose own place for the size is within this share of where one stands needs no crop.
const SAME_PLACE: f64 = 1.0e-6;

/// The size from one place: which lens, and how far it is cropped for it.
struct Kept<'kit> {
    on: OnKit<'kit>,
    zoom: f64,
    /// Whether no lens sees enough from there, so that the face comes out larger.
    is_too_near: bool,
    shot: Shot,
    setup: Setup,
}

/// Where the size puts the phone on that lens, cropped by `zoom`.
fn at_zoom(on: &OnKit<'_>, zoom: f64, behind_m: f64) -> Option<(Shot, Setup)> {
    let shot = Shot { recording: on.mode.zoomed(zoom).ok()?, ..on.shot(SIZE, Stand::ForSize, behind_m) };
    let setup = on.resolved(&shot).ok()?;
    Some((shot, setup))
}

/// The same size of face from `distance_m`: on the lens that is nearest to having it there by itself, cropped for the rest.
/// Nearer than any lens has it, the widest is taken as it is, and the face comes out larger.
fn kept<'kit>(
    on: &OnKit<'kit>,
    is_fixed: bool,
    distance_m: f64,
    behind_m: f64,
) -> Result<Kept<'kit>, NoLesson> {
    let lenses = on.kit.lenses.iter().filter(|lens| !is_fixed || lens.name == on.lens.name);
    let own = lenses.filter_map(|lens| {
        let on = on.on(lens);
        let (_, setup) = at_zoom(&on, 1.0, behind_m)?;
        Some((on, setup.distance.to_m()))
    });
    let own: Vec<(OnKit<'kit>, f64)> = own.collect();
    let reaches = own.iter().filter(|(_, away_m)| *away_m <= distance_m * (1.0 + SAME_PLACE));
    let Some((on, _)) = reaches.max_by(|one, other| one.1.total_cmp(&other.1)) else {
        let widest = own.iter().min_by(|one, other| one.1.total_cmp(&other.1)).map_or(*on, |(on, _)| *on);
        let shot = widest.shot(SIZE, Stand::At(Length::from_m(distance_m)), behind_m);
        let setup = widest.resolved(&shot)?;
        return Ok(Kept { on: widest, zoom: 1.0, is_too_near: true, shot, setup });
    };
    let (mut least, mut most) = (1.0, MOST_ZOOM);
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(least, most);
        let is_short =
            at_zoom(on, middle, behind_m).is_some_and(|(_, setup)| setup.distance.to_m() < distance_m);
        if is_short { least = middle } else { most = middle }
    }
    let found = at_zoom(on, least, behind_m);
    let (shot, setup) = found.ok_or_else(|| on.no_framing())?;
    Ok(Kept { on: *on, zoom: least, is_too_near: false, shot, setup })
}

/// The share of the frame's height from chin to crown, as the phone sees it.
fn face_share(stage: &Stage) -> Option<f64> {
    let person = stage.people.first()?;
    let row = |landmark| Some(stage.opens.see(person.at(landmark))?.up);
    Some((row(Landmark::Crown)? - row(Landmark::Chin)?) / stage.view.height())
}

pub(super) fn seen(
    on: &OnKit<'_>,
    is_fixed: bool,
    distance_m: f64,
    behind_m: f64,
) -> Result<LessonSeen, NoLesson> {
    let kept = kept(on, is_fixed, distance_m, behind_m)?;
    let Kept { on, zoom, shot, setup, .. } = &kept;
    let view = scenery::still(shot, setup, &scenery::windows_behind(shot, setup));
    let figures = Figures::of(shot, setup);
    let face = face_share(&view.stage);
    let times = |zoom: f64| say!("{zoom:.1} times the {} lens", on.lens.name);
    let told = vec![
        LessonFigure::of(
            (FIGURES[0], say!("The background is seen over"), FigureUnit::Metres),
            Some(figures.place_width.to_m()),
            |metres| length(metres, on.unit),
            "",
        ),
        LessonFigure::of(
            (FIGURES[1], say!("Face, chin to crown, of the picture's height"), "%"),
            face.map(|share| share * 100.0),
            |value| percent(value / 100.0),
            say!("not in the picture"),
        ),
        LessonFigure::of(
            (FIGURES[2], say!("Nose drawn larger than ears by"), "%"),
            figures.face_stretch.map(|stretch| stretch * 100.0),
            |value| percent(value / 100.0),
            say!("not told: the eyes are not in the picture"),
        ),
        LessonFigure::of((FIGURES[3], say!("Zoom"), "×"), Some(*zoom), times, ""),
    ];
    let sentences = sentences(&kept, face, &figures);
    let note = on.too_near(shot, setup);
    Ok(LessonSeen { views: vec![view], figures: told, sentences, note, lens: on.lens.name.clone() })
}

fn sentences(kept: &Kept<'_>, face: Option<f64>, figures: &Figures) -> [String; 3] {
    let Kept { on, zoom, is_too_near, shot, setup } = kept;
    let name = &on.lens.name;
    let distance = on.length(setup.distance);
    let face = face.map_or_else(
        || say!("out of the picture").to_owned(),
        |share| say!("{} of the picture's height", percent(share)),
    );
    let place = say!(
        "From {distance} the face is {face}, and a strip of the background {} wide, {} behind, is in the picture.",
        on.length(figures.place_width),
        on.length(shot.background_behind)
    );
    let shape = match figures.face_stretch {
        Some(stretch) => say!(
            "From there the nose is drawn {} larger than the ears: step back and the face flattens, step in and it \
                  bulges, whichever lens is on.",
            percent(stretch)
        ),
        None => say!("From {distance} the eyes are out of the picture: step back until they are in it."),
    };
    let lens = if *is_too_near {
        say!(
            "The {name} lens sees no wider, so from {distance} the face comes out larger than it should: step back \
                  until it keeps its size."
        )
    } else if *zoom > 1.005 {
        say!(
            "The {name} lens zoomed {zoom:.1} times keeps the face that size but reads only {} of its sensor, and a \
                  zoom from one spot never changes the background: your feet do.",
            percent(1.0 / (zoom * zoom))
        )
    } else {
        say!(
            "The {name} lens holds that with 100% of its sensor: choose where to stand first, and then the lens that \
                  holds the size from there."
        )
    };
    [place, shape, lens]
}
