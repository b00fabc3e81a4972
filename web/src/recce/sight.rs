//! What is marked in a photo, and how the phone was held that took it.

use film::PhotoPose;
use glam::DVec2;
use language::{key, say};
use optics::ViewTangents;
use staging::{Board, Camera, PhotoLens, Sighting, Sights, SightsPart, Stated, Upright};
use units::{Angle, Length, LengthUnit};

use crate::marks::Mark;

/// What is known of a photo, as its form has it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Known {
    /// Whether the horizon is marked.
    pub(super) horizon: bool,
    /// The phone's height, if it was measured, metres.
    pub(super) height_m: Option<f64>,
    /// How tall the people are that are marked, metres.
    pub(super) people_m: [Option<f64>; 2],
    /// How wide and how high the door is that is marked, metres.
    pub(super) door_m: Option<(f64, f64)>,
}

/// Something that can be marked: its marks' names, with where in the photo they begin, as shares of it.
struct Markable(&'static [(&'static str, f64, f64)]);

const HORIZON: Markable = Markable(&[(key!("Horizon, left"), 0.1, 0.5), (key!("Horizon, right"), 0.9, 0.5)]);
const PEOPLE: [Markable; 2] = [
    Markable(&[(key!("Feet"), 0.4, 0.8), (key!("Top of the head"), 0.4, 0.4)]),
    Markable(&[(key!("Other feet"), 0.6, 0.7), (key!("Other head"), 0.6, 0.45)]),
];
const DOOR: Markable = Markable(&[
    (key!("Door, lower left"), 0.45, 0.75),
    (key!("Door, lower right"), 0.6, 0.75),
    (key!("Door, upper left"), 0.45, 0.35),
    (key!("Door, upper right"), 0.6, 0.35),
]);

/// A height that was typed is good to this: chosen, as a tape along a stick or a body ends at the lens only about.
const TYPED_SD: Length = Length::from_mm(20.0);
/// People are known to this with their shoes: chosen.
const STATURE_SD: Length = Length::from_mm(15.0);
/// Doors are known to this: chosen, as frames and sills differ.
const DOOR_SD: Length = Length::from_mm(10.0);
/// How well a photo's view is known, as a share: chosen, as an equivalent of 24 mm in whole millimetres is good to 1.2 %.
const VIEW_SHARE: f64 = 0.012;

impl Known {
    /// The horizon and a height that is typed: what everybody can see and measure.
    pub(super) const fn usual(height_m: f64) -> Self {
        Self { horizon: true, height_m: Some(height_m), people_m: [None; 2], door_m: None }
    }

    /// What is to be marked, each with its tape.
    fn markables(&self) -> impl Iterator<Item = (&'static Markable, usize)> {
        let people = PEOPLE.iter().zip(self.people_m).zip([1, 2]);
        let people =
            people.filter_map(|((markable, height), tape)| height.is_some().then_some((markable, tape)));
        let horizon = self.horizon.then_some((&HORIZON, 0));
        horizon.into_iter().chain(people).chain(self.door_m.is_some().then_some((&DOOR, 3)))
    }

    /// The marks that go with what is known: those that are there stay where they are, new ones begin where they are looked
    /// for, the horizon where the photo has it already.
    pub(super) fn marks(&self, there: &[Mark], size: DVec2, horizon: [DVec2; 2]) -> Vec<Mark> {
        let mark = |(tape, &(name, across, down)): (usize, &(&'static str, f64, f64))| {
            let before = there.iter().find(|mark| mark.name == name).map(|mark| mark.at);
            let begins = match HORIZON.0.iter().position(|one| one.0 == name) {
                Some(at) => horizon[at % 2],
                None => size * DVec2::new(across, down),
            };
            Mark { at: before.unwrap_or(begins), name, tape }
        };
        self.markables()
            .flat_map(|(markable, tape)| markable.0.iter().map(move |one| (tape, one)))
            .map(mark)
            .collect()
    }

    /// Everything that is given of a photo.
    pub(super) fn sights(&self, marks: &[Mark], view: &ViewTangents, size: DVec2) -> Sights {
        let lens =
            PhotoLens { size_px: size, focal_px: size.x / view.width(), focal_relative_sd: VIEW_SHARE };
        let at = |markable: &Markable, index: usize| {
            let name = markable.0.get(index).map_or("", |one| one.0);
            marks.iter().find(|mark| mark.name == name).map_or(DVec2::ZERO, |mark| mark.at)
        };
        let stated = |metres: f64, sd: Length| Stated { value: Length::from_m(metres), sd };
        let people = PEOPLE.iter().zip(self.people_m).filter_map(|(markable, height)| {
            let height = stated(height?, STATURE_SD);
            Some(Upright { foot: at(markable, 0), head: at(markable, 1), height })
        });
        let door = self.door_m.map(|(width, height)| Board {
            bottom: [at(&DOOR, 0), at(&DOOR, 1)],
            top: [at(&DOOR, 2), at(&DOOR, 3)],
            width: stated(width, DOOR_SD),
            height: stated(height, DOOR_SD),
        });
        Sights {
            horizon: self.horizon.then(|| [at(&HORIZON, 0), at(&HORIZON, 1)]),
            height: self.height_m.map(|metres| stated(metres, TYPED_SD)),
            uprights: people.collect(),
            boards: door.into_iter().collect(),
            ..Sights::new(lens)
        }
    }
}

/// The pose that a photo is kept with.
pub(super) fn pose_of(sighting: &Sighting) -> PhotoPose {
    let (height, tilt) = (sighting.height(), sighting.tilt());
    PhotoPose {
        height: height.value,
        height_sd: Some(height.sd),
        tilt: tilt.value,
        tilt_sd: Some(tilt.sd),
        roll: sighting.roll().value,
    }
}

/// The phone that took a photo, above the origin of its floor and looking north.
fn camera(pose: &PhotoPose) -> Camera {
    Camera::rolled(glam::DVec3::Z * pose.height.to_m(), Angle::ZERO, pose.tilt, pose.roll)
}

/// Where the horizon of a pose is in the photo, at a tenth of its width from either side.
pub(super) fn horizon_of(pose: &PhotoPose, view: &ViewTangents, size: DVec2) -> [DVec2; 2] {
    [0.1, 0.9].map(|share| {
        let up = camera(pose).horizon_in_column((share - 0.5) * view.width()).unwrap_or_default();
        let down_px = (view.up - up) / (view.up + view.down) * size.y;
        DVec2::new(share * size.x, down_px.clamp(0.0, size.y))
    })
}

/// What a pose says in words.
pub(super) fn told(pose: &PhotoPose, unit: LengthUnit) -> String {
    let metres = |length: Length| length.told(unit, 2);
    let height_sd = pose.height_sd.map_or_else(String::new, |sd| format!(" ± {}", metres(sd)));
    let tilt_sd = pose.tilt_sd.map_or_else(String::new, |sd| say!(" ± {:.1}°", sd.to_deg()));
    let tilt = pose.tilt.to_deg();
    let looked = match tilt {
        tilt if tilt.abs() < 0.05 => say!("looked level{tilt_sd}"),
        tilt if tilt > 0.0 => say!("looked up by {tilt:.1}°{tilt_sd}"),
        tilt => say!("looked down by {:.1}°{tilt_sd}", -tilt),
    };
    let roll = pose.roll.to_deg();
    let leaned = match roll {
        roll if roll.abs() < 0.05 => String::new(),
        roll if roll > 0.0 => say!(" It leaned to the right by {roll:.1}°."),
        roll => say!(" It leaned to the left by {:.1}°.", -roll),
    };
    say!("The phone was {}{height_sd} above the floor and {looked}.{leaned}", metres(pose.height))
}

/// How many standard uncertainties off something marked makes its marks worth a second look: chosen, as one in three hundred is
/// as far off by chance.
const FAR_OFF: f64 = 3.0;

/// What does not fit with the rest, if anything does not.
pub(super) fn doubt(sighting: &Sighting) -> Option<&'static str> {
    let (part, off) = sighting.fit().worst?;
    (off > FAR_OFF).then_some(match part {
        SightsPart::Horizon => {
            say!("The horizon does not fit with the rest: look at its marks, or at the photo's angle of view.")
        }
        SightsPart::Height => say!("The phone's height does not fit with the rest: look at it, and at the marks."),
        SightsPart::Upright(_) => {
            say!("Somebody who is marked does not fit with the rest: look at the marks and at how tall they are.")
        }
        SightsPart::Board(_) => say!("The door does not fit with the rest: look at its corners and at its size."),
        SightsPart::Lens | SightsPart::Roll | SightsPart::Tilt => {
            say!("What is marked does not fit together: look at the marks, and at the photo's angle of view.")
        }
    })
}

/// Where in the photo a point is that is so far to the right, ahead and up from the floor below the phone, metres; none if it is
/// behind.
pub(super) fn seen_in(
    pose: &PhotoPose,
    view: &ViewTangents,
    size: DVec2,
    point: glam::DVec3,
) -> Option<DVec2> {
    let seen = camera(pose).see(point)?;
    let (x, y) = seen.to_px(view, (size.x, size.y));
    Some(DVec2::new(x, y))
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::DVec3;

    const SIZE: DVec2 = DVec2::new(4000.0, 3000.0);
    const VIEW: ViewTangents = ViewTangents { left: 0.8, right: 0.8, up: 0.6, down: 0.6 };

    fn pose() -> PhotoPose {
        PhotoPose {
            height: Length::from_m(1.4),
            tilt: Angle::from_deg(-4.0),
            roll: Angle::from_deg(1.5),
            ..PhotoPose::USUAL
        }
    }

    fn put(marks: &mut [Mark], name: &str, point: DVec3) {
        let mark = marks.iter_mut().find(|mark| mark.name == name).expect("a mark");
        mark.at = seen_in(&pose(), &VIEW, SIZE, point).expect("ahead");
    }

    #[test]
    fn a_photos_own_horizon_and_height_give_its_pose_back() {
        let known = Known::usual(1.4);
        let marks = known.marks(&[], SIZE, horizon_of(&pose(), &VIEW, SIZE));
        let found = pose_of(&known.sights(&marks, &VIEW, SIZE).solve().expect("a pose"));
        assert!((found.tilt - pose().tilt).to_deg().abs() < 0.01, "{found:?}");
        assert!((found.roll - pose().roll).to_deg().abs() < 0.05, "{found:?}");
        assert!((found.height - pose().height).to_m().abs() < 0.001, "{found:?}");
    }

    #[test]
    fn a_door_alone_gives_the_pose() {
        let known = Known { horizon: false, height_m: None, people_m: [None; 2], door_m: Some((0.9, 2.0)) };
        let mut marks = known.marks(&[], SIZE, [DVec2::ZERO; 2]);
        let corners = [
            ("Door, lower left", DVec3::new(0.2, 3.0, 0.0)),
            ("Door, lower right", DVec3::new(1.0, 3.412, 0.0)),
            ("Door, upper left", DVec3::new(0.2, 3.0, 2.0)),
            ("Door, upper right", DVec3::new(1.0, 3.412, 2.0)),
        ];
        for (name, point) in corners {
            put(&mut marks, name, point);
        }
        let found = pose_of(&known.sights(&marks, &VIEW, SIZE).solve().expect("a pose"));
        assert!((found.height - pose().height).to_m().abs() < 0.02, "{found:?}");
        assert!((found.tilt - pose().tilt).to_deg().abs() < 0.2, "{found:?}");
    }

    #[test]
    fn marks_that_are_there_stay_when_more_is_known() {
        let mut marks = Known::usual(1.4).marks(&[], SIZE, [DVec2::splat(7.0); 2]);
        marks[0].at = DVec2::new(12.0, 34.0);
        let known = Known { people_m: [Some(1.7), None], ..Known::usual(1.4) };
        let more = known.marks(&marks, SIZE, [DVec2::splat(9.0); 2]);
        assert_eq!(
            more.iter().map(|mark| mark.name).collect::<Vec<_>>(),
            ["Horizon, left", "Horizon, right", "Feet", "Top of the head"]
        );
        assert_eq!((more[0].at, more[1].at), (DVec2::new(12.0, 34.0), DVec2::splat(7.0)));
    }

    #[test]
    fn a_person_twice_as_tall_as_they_can_be_is_doubted() {
        let known = Known { people_m: [Some(1.7), None], ..Known::usual(1.4) };
        let mut marks = known.marks(&[], SIZE, horizon_of(&pose(), &VIEW, SIZE));
        put(&mut marks, "Feet", DVec3::new(0.5, 5.0, 0.0));
        put(&mut marks, "Top of the head", DVec3::new(0.5, 5.0, 1.7));
        let doubted =
            |marks: &[Mark]| known.sights(marks, &VIEW, SIZE).solve().ok().and_then(|found| doubt(&found));
        assert_eq!(doubted(&marks), None);
        put(&mut marks, "Top of the head", DVec3::new(0.5, 5.0, 3.4));
        assert!(doubted(&marks).is_some());
    }

    #[test]
    fn a_pose_is_told_with_what_it_is_uncertain_by() {
        let told_pose = PhotoPose {
            height_sd: Some(Length::from_m(0.03)),
            tilt_sd: Some(Angle::from_deg(0.4)),
            ..pose()
        };
        assert_eq!(
            told(&told_pose, LengthUnit::Metres),
            "The phone was 1.40 m ± 0.03 m above the floor and looked down by 4.0° ± 0.4°. It leaned to the right by \
                  1.5°."
        );
    }
}
