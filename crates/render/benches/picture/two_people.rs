//! The picture that benches draw.

use glam::{DVec2, DVec3};
use optics::ViewTangents;
use render::Picture;
use staging::{Age, Body, Camera, Colour, Light, Person, PieceKind, Posture, Pupil, SetPiece, Stage, Stance};
use units::{Angle, Length};

fn person(x: f64, facing: f64, posture: Posture) -> Person {
    Person {
        body: Body { stature: Length::from_m(1.7), posture, age: Age::Adult },
        stance: Stance::Still,
        place: DVec2::new(x, 0.0),
        facing: Angle::from_deg(facing),
        clothes: Colour([0.5, 0.2, 0.1]),
        velocity: DVec2::ZERO,
    }
}

/// Two people and eight pieces, `times` over, the copies farther and farther back.
pub(crate) fn picture(times: u32) -> Picture {
    let kinds = [
        (PieceKind::Wall, -2.5, 4.0),
        (PieceKind::Window, 1.0, 5.0),
        (PieceKind::Table, 1.2, 0.5),
        (PieceKind::Bench, -1.4, 0.8),
        (PieceKind::Tree, 2.8, 3.0),
        (PieceKind::Hedge, -3.0, 2.5),
        (PieceKind::LampPost, 0.6, 2.5),
        (PieceKind::Lights, 0.0, 3.5),
    ];
    let copies = || (0..times).map(|copy| f64::from(copy) * 2.0);
    let stage = Stage {
        opens: camera(),
        closes: camera(),
        view: ViewTangents { left: 0.53, right: 0.53, up: 0.3, down: 0.3 },
        pupil: Some(Pupil {
            width: Length::from_mm(3.85),
            height: Length::from_mm(3.85),
            focus_across: Length::from_m(2.6),
            focus_up: Length::from_m(2.6),
        }),
        exposure_s: 1.0 / 48.0,
        people: copies()
            .flat_map(|back| {
                [(-0.5, 160.0, Posture::Standing), (0.5, 210.0, Posture::Seated)].map(
                    |(x, facing, posture)| {
                        let person = person(x, facing, posture);
                        Person { place: person.place + DVec2::Y * back, ..person }
                    },
                )
            })
            .collect(),
        pieces: copies()
            .flat_map(|back| {
                kinds.map(|(kind, x, y)| SetPiece {
                    kind,
                    place: DVec2::new(x, y + back),
                    facing: Angle::from_deg(180.0),
                    size: kind.usual_size(),
                })
            })
            .collect(),
        object: None,
        posts: None,
        backdrop: None,
        light: Light::Sun { azimuth: Angle::from_deg(230.0), elevation: Angle::from_deg(40.0) },
    };
    Picture::of(&stage)
}

/// The phone before them.
pub(crate) fn camera() -> Camera {
    Camera::new(DVec3::new(0.0, -2.6, 1.3), Angle::ZERO, Angle::from_deg(-3.0))
}
