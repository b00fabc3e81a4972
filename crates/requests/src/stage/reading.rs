//! Reading a stage back from its record: whatever the record says, a stage that makes sense or an error.

use glam::{DVec2, DVec3};
use optics::ViewTangents;
use staging::{
    Backdrop, Body, Camera, Colour, Light, Object, Person, PieceSize, Posts, Pupil, SetPiece, Stage, Stance,
    Support,
};
use units::{Angle, Length};

use super::{
    BackdropRecord, CameraRecord, LightRecord, ObjectRecord, PersonRecord, PieceRecord, PostsRecord,
    PupilRecord, StageRecord,
};
use crate::error::BadRequest;

/// Farther than this nothing stands: chosen because a request's own distances end at a tenth of it.
const FARTHEST_M: f64 = 1.0e6;
/// More full turns than this are no direction: chosen so that a double still tells a thousandth of a degree.
const MOST_RAD: f64 = 1.0e6;
/// More people than this are no shot but a crowd: chosen so that a picture of them is still drawn within a minute.
const MOST_PEOPLE: usize = 200;
/// More pieces, or posts on a side, than these are chosen for the same reason.
const MOST_PIECES: usize = 1_000;
const MOST_POSTS: u32 = 20_000;
/// What a direction's length may be off 1, and two of them off a right angle: chosen well above rounding.
const DIRECTION_SLACK: f64 = 1.0e-9;

impl StageRecord {
    /// The stage that the record mirrors.
    ///
    /// # Errors
    /// Names the value that no stage has.
    pub fn to_stage(&self) -> Result<Stage, BadRequest> {
        Ok(Stage {
            opens: self.opens.to_level().map_err(|error| error.within("opens"))?,
            closes: self.closes.to_level().map_err(|error| error.within("closes"))?,
            view: view("view_tangents", self.view_tangents)?,
            pupil: self
                .pupil
                .map(PupilRecord::to_pupil)
                .transpose()
                .map_err(|error| error.within("pupil"))?,
            exposure_s: within_range("exposure_s", self.exposure_s, 0.0, 3600.0, "s")?,
            people: list("people", &self.people, MOST_PEOPLE, PersonRecord::to_person)?,
            pieces: list("pieces", &self.pieces, MOST_PIECES, PieceRecord::to_piece)?,
            object: self
                .object
                .map(ObjectRecord::to_object)
                .transpose()
                .map_err(|error| error.within("object"))?,
            posts: self
                .posts
                .map(PostsRecord::to_posts)
                .transpose()
                .map_err(|error| error.within("posts"))?,
            backdrop: self
                .backdrop
                .map(BackdropRecord::to_backdrop)
                .transpose()
                .map_err(|error| error.within("backdrop"))?,
            light: self.light.to_light().map_err(|error| error.within("light"))?,
        })
    }
}

impl CameraRecord {
    fn to_camera(self) -> Result<Camera, BadRequest> {
        let position = DVec3::from_array(place("position_m", self.position_m)?);
        let [right, up, forward] = [self.right, self.up, self.forward].map(DVec3::from_array);
        let lengths = [right, up, forward].map(|direction| direction.length_squared() - 1.0);
        let angles = [right.dot(up), up.dot(forward), forward.dot(right)];
        // Right-handed: right to up, as seen against the look.
        let hand = right.cross(up).dot(-forward) - 1.0;
        if !lengths.into_iter().chain(angles).chain([hand]).all(is_slack) {
            return Err(BadRequest::at(
                "right",
                "right, up and forward are not of length 1 and at right angles",
            ));
        }
        Ok(Camera::from_directions(position, right, up, forward))
    }

    /// The same of one that is not rolled.
    fn to_level(self) -> Result<Camera, BadRequest> {
        if is_slack(self.right[2]) { self.to_camera() } else { Err(BadRequest::at("right", "is not level")) }
    }
}

impl BackdropRecord {
    /// The photo as it was taken.
    ///
    /// # Errors
    /// Names the value that is out of range.
    pub fn to_backdrop(self) -> Result<Backdrop, BadRequest> {
        Ok(Backdrop {
            photo: self.photo.into(),
            camera: self.camera.to_camera().map_err(|error| error.within("camera"))?,
            view: view("view_tangents", self.view_tangents)?,
            far: length("far_m", self.far_m, 1.0e-2, FARTHEST_M)?,
        })
    }
}

impl PupilRecord {
    fn to_pupil(self) -> Result<Pupil, BadRequest> {
        Ok(Pupil {
            width: length("width_m", self.width_m, 1.0e-9, 100.0)?,
            height: length("height_m", self.height_m, 1.0e-9, 100.0)?,
            focus_across: length("focus_across_m", self.focus_across_m, 1.0e-9, 1.0e12)?,
            focus_up: length("focus_up_m", self.focus_up_m, 1.0e-9, 1.0e12)?,
        })
    }
}

impl PersonRecord {
    fn to_person(self) -> Result<Person, BadRequest> {
        Ok(Person {
            body: Body {
                stature: length("stature_m", self.stature_m, 0.1, 10.0)?,
                posture: self.posture.into(),
                age: self.age.into(),
            },
            stance: match self.walking_share {
                None => Stance::Still,
                Some(share) => Stance::Walking(within_range("walking_share", share, 0.0, 1.0, "(share)")?),
            },
            place: DVec2::from_array(place("place_m", self.place_m)?),
            facing: angle("facing_rad", self.facing_rad)?,
            clothes: Colour(all_within("clothes", self.clothes, 0.0, 1.0, "(share)")?),
            velocity: DVec2::from_array(all_within(
                "velocity_m_per_s",
                self.velocity_m_per_s,
                -1.0e3,
                1.0e3,
                "m/s",
            )?),
        })
    }
}

impl PieceRecord {
    fn to_piece(self) -> Result<SetPiece, BadRequest> {
        let [width, depth, height] = all_within("size_m", self.size_m, 1.0e-4, FARTHEST_M, "m")?;
        Ok(SetPiece {
            kind: self.kind.into(),
            place: DVec2::from_array(place("place_m", self.place_m)?),
            facing: angle("facing_rad", self.facing_rad)?,
            size: PieceSize {
                width: Length::from_m(width),
                depth: Length::from_m(depth),
                height: Length::from_m(height),
            },
        })
    }
}

impl ObjectRecord {
    fn to_object(self) -> Result<Object, BadRequest> {
        let above_floor = |metres| length("above_floor_m", metres, 0.0, FARTHEST_M);
        Ok(Object {
            size: length("size_m", self.size_m, 1.0e-3, 100.0)?,
            support: Support::from_height(self.above_floor_m.map(above_floor).transpose()?),
        })
    }
}

impl PostsRecord {
    fn to_posts(self) -> Result<Posts, BadRequest> {
        let along = DVec2::from_array(self.along);
        if !is_slack(along.length_squared() - 1.0) {
            return Err(BadRequest::at("along", "is not of length 1"));
        }
        if self.on_each_side > MOST_POSTS {
            return Err(BadRequest::at("on_each_side", "are too many"));
        }
        let middle = DVec2::from_array(place("middle_m", self.middle_m)?);
        Ok(Posts { middle, along, on_each_side: self.on_each_side })
    }
}

impl LightRecord {
    fn to_light(self) -> Result<Light, BadRequest> {
        Ok(match self {
            Self::Sun { azimuth_rad, elevation_rad } => Light::Sun {
                azimuth: angle("sun.azimuth_rad", azimuth_rad)?,
                elevation: Angle::from_rad(within_range(
                    "sun.elevation_rad",
                    elevation_rad,
                    -std::f64::consts::FRAC_PI_2,
                    std::f64::consts::FRAC_PI_2,
                    "rad",
                )?),
            },
            Self::Overcast => Light::Overcast,
            Self::Dusk => Light::Dusk,
        })
    }
}

/// Whether what should be nothing is no more than rounding; NaN is more.
fn is_slack(error: f64) -> bool {
    error.abs() <= DIRECTION_SLACK
}

/// A frame that is wider and higher than nothing.
fn view(path: &str, tangents: [f64; 4]) -> Result<ViewTangents, BadRequest> {
    let [left, right, up, down] = all_within(path, tangents, -1.0e4, 1.0e4, "(tangent)")?;
    let view = ViewTangents { left, right, up, down };
    if view.width() < 1.0e-9 || view.height() < 1.0e-9 {
        return Err(BadRequest::at(path, "leaves nothing between its edges"));
    }
    Ok(view)
}

/// Every item of a list that is not too long, with the item's place in the path of an error.
fn list<Record: Copy, Item>(
    path: &str,
    records: &[Record],
    most: usize,
    read: impl Fn(Record) -> Result<Item, BadRequest>,
) -> Result<Vec<Item>, BadRequest> {
    if records.len() > most {
        return Err(BadRequest::at(path, "are too many"));
    }
    let item = |(at, record): (usize, &Record)| {
        read(*record).map_err(|error| error.within(&format!("{path}[{at}]")))
    };
    records.iter().enumerate().map(item).collect()
}

fn length(path: &str, metres: f64, min: f64, max: f64) -> Result<Length, BadRequest> {
    Ok(Length::from_m(within_range(path, metres, min, max, "m")?))
}

fn angle(path: &str, radians: f64) -> Result<Angle, BadRequest> {
    Ok(Angle::from_rad(within_range(path, radians, -MOST_RAD, MOST_RAD, "rad")?))
}

fn place<const N: usize>(path: &str, metres: [f64; N]) -> Result<[f64; N], BadRequest> {
    all_within(path, metres, -FARTHEST_M, FARTHEST_M, "m")
}

fn all_within<const N: usize>(
    path: &str,
    values: [f64; N],
    min: f64,
    max: f64,
    unit: &str,
) -> Result<[f64; N], BadRequest> {
    for value in values {
        within_range(path, value, min, max, unit)?;
    }
    Ok(values)
}

/// A value within its bounds.
///
/// Values are not told: a record comes from a program and not from a person, and writing numbers as text is a twentieth of
/// what a worker has to load.
fn within_range(path: &str, value: f64, min: f64, max: f64, unit: &str) -> Result<f64, BadRequest> {
    if (min..=max).contains(&value) {
        Ok(value)
    } else {
        Err(BadRequest::at(path, ["is out of range (", unit, ")"].concat()))
    }
}

#[cfg(test)]
mod tests {
    use super::super::PieceWord;
    use super::*;
    use proptest::prelude::*;
    use staging::{Age, PieceKind, Posture};

    fn stage() -> Stage {
        let camera = |tilt: f64| {
            Camera::new(DVec3::new(0.3, -2.1, 1.24), Angle::from_deg(-7.0), Angle::from_deg(tilt))
        };
        Stage {
            opens: camera(3.1),
            closes: camera(3.2),
            view: ViewTangents { left: 0.68, right: 0.7, up: 0.29, down: 0.27 },
            pupil: Some(Pupil {
                width: Length::from_mm(2.9),
                height: Length::from_mm(3.85),
                focus_across: Length::from_m(1.4),
                focus_up: Length::from_m(2.47),
            }),
            exposure_s: 1.0 / 48.0,
            people: vec![
                Person {
                    body: Body::standing(Length::from_m(1.7)),
                    stance: Stance::Walking(0.3),
                    place: DVec2::new(0.1, 0.2),
                    facing: Angle::from_deg(200.0),
                    clothes: Colour([0.03, 0.16, 0.27]),
                    velocity: DVec2::new(0.0, 1.4),
                },
                Person {
                    body: Body { stature: Length::from_m(1.22), posture: Posture::Seated, age: Age::Child },
                    stance: Stance::Still,
                    place: DVec2::new(-0.7, 0.2),
                    facing: Angle::from_deg(150.0),
                    clothes: Colour([0.46, 0.09, 0.04]),
                    velocity: DVec2::ZERO,
                },
            ],
            pieces: vec![SetPiece {
                kind: PieceKind::LampPost,
                place: DVec2::new(2.0, 5.0),
                facing: Angle::ZERO,
                size: PieceSize {
                    width: Length::from_m(0.3),
                    depth: Length::from_m(0.3),
                    height: Length::from_m(3.5),
                },
            }],
            object: Some(Object { size: Length::from_m(0.15), support: Support::At(Length::from_m(0.9)) }),
            posts: Some(Posts { middle: DVec2::new(0.0, 6.0), along: DVec2::X, on_each_side: 12 }),
            backdrop: Some(Backdrop {
                photo: 0xfedc_ba98_7654_3210,
                camera: Camera::from_directions(
                    DVec3::new(0.3, -2.1, 1.5),
                    DVec3::new(0.8, 0.0, -0.6),
                    DVec3::new(0.6, 0.0, 0.8),
                    DVec3::Y,
                ),
                view: ViewTangents { left: 1.3, right: 1.3, up: 0.97, down: 0.97 },
                far: Length::from_m(24.0),
            }),
            light: Light::Sun { azimuth: Angle::from_deg(230.0), elevation: Angle::from_deg(35.0) },
        }
    }

    /// What is said of the record after a change to it.
    fn refusal(change: impl FnOnce(&mut StageRecord)) -> String {
        let mut record = StageRecord::from(&stage());
        change(&mut record);
        record.to_stage().expect_err("nonsense").to_string()
    }

    #[test]
    fn a_stage_comes_back_from_its_record_to_the_last_bit() {
        let stage = stage();
        let message = crate::to_numbers(&StageRecord::from(&stage)).unwrap();
        let record: StageRecord = crate::from_numbers(&message).unwrap();
        assert_eq!(record.to_stage().unwrap(), stage);
    }

    #[test]
    fn every_kind_of_piece_comes_back() {
        for word in [
            PieceWord::Wall,
            PieceWord::Window,
            PieceWord::Doorway,
            PieceWord::Table,
            PieceWord::Bench,
            PieceWord::Tree,
            PieceWord::Hedge,
            PieceWord::Car,
            PieceWord::LampPost,
            PieceWord::Lights,
            PieceWord::Plant,
        ] {
            assert_eq!(PieceWord::from(PieceKind::from(word)), word);
        }
    }

    #[test]
    fn nonsense_is_refused_at_its_field() {
        assert_eq!(
            refusal(|record| record.people[1].stature_m = f64::NAN),
            "people[1].stature_m: is out of range (m)"
        );
        assert_eq!(
            refusal(|record| record.view_tangents = [0.5, -0.5, 0.3, 0.3]),
            "view_tangents: leaves nothing between its edges"
        );
        assert!(
            refusal(|record| record.opens.up = [0.0, 0.0, 0.9]).starts_with("opens.right: right, up and")
        );
        assert!(
            refusal(|record| record.closes.position_m[2] = f64::INFINITY)
                .starts_with("closes.position_m: is out")
        );
        assert!(
            refusal(|record| record.backdrop.as_mut().unwrap().far_m = 0.0)
                .starts_with("backdrop.far_m: is out")
        );
        assert!(
            refusal(|record| record.backdrop.as_mut().unwrap().camera.right = [0.0, 0.0, 1.0])
                .starts_with("backdrop.camera.right: right, up and")
        );
        assert!(refusal(|record| record.pieces[0].size_m[1] = -1.0).starts_with("pieces[0].size_m: is out"));
        assert!(
            refusal(|record| record.pieces = vec![record.pieces[0]; 1001])
                .starts_with("pieces: are too many")
        );
    }

    #[test]
    fn only_a_photo_may_be_rolled() {
        let rolled = StageRecord::from(&stage()).backdrop.unwrap().camera;
        let told = refusal(|record| record.closes = rolled);
        assert_eq!(told, "closes.right: is not level");
    }

    #[test]
    fn a_mirrored_camera_is_refused() {
        let told = refusal(|record| record.opens.right = record.opens.right.map(|part| -part));
        assert!(told.starts_with("opens.right"), "{told}");
    }

    proptest! {
        #[test]
        fn a_camera_comes_back_whichever_way_it_looks(
            azimuth in -720.0..720.0_f64, tilt in -90.0..=90.0_f64, x in -1.0e5..1.0e5_f64,
        ) {
            let camera = Camera::new(DVec3::new(x, 0.0, 1.5), Angle::from_deg(azimuth), Angle::from_deg(tilt));
            prop_assert_eq!(CameraRecord::from(&camera).to_camera(), Ok(camera));
        }

        #[test]
        fn a_number_of_any_kind_gives_a_stage_or_an_error(number in proptest::num::f64::ANY) {
            let mut record = StageRecord::from(&stage());
            record.view_tangents[2] = number;
            record.people[0].facing_rad = number;
            record.light = LightRecord::Sun { azimuth_rad: number, elevation_rad: number };
            if let Ok(stage) = record.to_stage() {
                prop_assert!(stage.view.height() > 0.0 && number.is_finite());
            }
        }
    }
}
