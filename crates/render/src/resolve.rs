//! A stage as a picture: everybody and everything on it as shapes, and its light.

use std::sync::Arc;

use staging::{Colour, Stage};

use crate::backdrop::Scenery;
use crate::figure::figure;
use crate::lighting::lighting;
use crate::photo::Photo;
use crate::picture::{Floor, Picture};
use crate::set_piece::{object, posts, set_piece};

/// A calm studio floor, and lines a little darker than it.
const FLOOR: Colour = Colour([0.365, 0.325, 0.275]);
const LINES: Colour = Colour([0.268, 0.238, 0.200]);

impl Picture {
    /// What a frame of that stage will look like; on a bare floor, if a photo stands behind it.
    pub fn of(stage: &Stage) -> Self {
        let mut shapes = Vec::new();
        for person in &stage.people {
            shapes.extend(figure(person, stage.exposure_s));
        }
        for piece in &stage.pieces {
            shapes.extend(set_piece(piece));
        }
        if let Some(thing) = stage.object {
            shapes.extend(object(thing, stage.opens.position().truncate()));
        }
        if let Some(row) = stage.posts.as_ref().filter(|_| stage.backdrop.is_none()) {
            shapes.extend(posts(row));
        }
        Self {
            opens: stage.opens,
            closes: stage.closes,
            view: stage.view,
            pupil: stage.pupil,
            shapes,
            floor: Floor::Grid { colour: FLOOR, lines: LINES },
            backdrop: None,
            lighting: lighting(stage.light, FLOOR),
        }
    }

    /// What it will look like before the photo that the stage names; as [`Picture::of`] if it names none.
    pub fn before(stage: &Stage, photo: &Arc<Photo>) -> Self {
        let picture = Self::of(stage);
        match stage.backdrop {
            None => picture,
            Some(place) => Self {
                floor: Floor::Plain(FLOOR),
                backdrop: Some(Scenery { place, photo: Arc::clone(photo) }),
                ..picture
            },
        }
    }
}

#[cfg(test)]
mod tests {
    use glam::{DVec2, DVec3};
    use optics::ViewTangents;
    use staging::{
        Backdrop, Body, Camera, Light, Object, Person, PieceKind, PieceSize, Posts, SetPiece, Stance,
    };
    use units::{Angle, Length};

    use super::*;

    fn empty() -> Stage {
        let camera = Camera::new(DVec3::new(0.0, -3.0, 1.5), Angle::ZERO, Angle::ZERO);
        Stage {
            opens: camera,
            closes: camera,
            view: ViewTangents { left: 0.5, right: 0.5, up: 0.3, down: 0.3 },
            pupil: None,
            exposure_s: 0.02,
            people: Vec::new(),
            pieces: Vec::new(),
            object: None,
            posts: None,
            backdrop: None,
            light: Light::Overcast,
        }
    }

    fn someone() -> Person {
        Person {
            body: Body::standing(Length::from_m(1.7)),
            stance: Stance::Still,
            place: DVec2::new(0.0, 1.0),
            facing: Angle::from_deg(180.0),
            clothes: Colour([0.2, 0.3, 0.4]),
            velocity: DVec2::new(1.5, 0.0),
        }
    }

    fn cup() -> Object {
        Object::on_table(Length::from_m(0.1))
    }

    #[test]
    fn an_empty_stage_is_a_floor_under_a_sky() {
        let picture = Picture::of(&empty());
        assert!(picture.shapes.is_empty() && matches!(picture.floor, Floor::Grid { .. }), "{picture:?}");
        assert_eq!(picture.opens, empty().opens);
    }

    #[test]
    fn everybody_and_everything_on_the_stage_is_in_the_picture() {
        let size =
            PieceSize { width: Length::from_m(4.0), depth: Length::from_m(0.2), height: Length::from_m(2.6) };
        let wall = SetPiece { kind: PieceKind::Wall, place: DVec2::new(0.0, 4.0), facing: Angle::ZERO, size };
        let posts = Posts { middle: DVec2::new(0.0, 9.0), along: DVec2::X, on_each_side: 4 };
        let count = |stage: Stage| Picture::of(&stage).shapes.len();
        let alone = [
            count(Stage { people: vec![someone()], ..empty() }),
            count(Stage { pieces: vec![wall], ..empty() }),
            count(Stage { object: Some(cup()), ..empty() }),
            count(Stage { posts: Some(posts), ..empty() }),
        ];
        assert!(alone.iter().all(|count| *count > 0), "{alone:?}");
        let all = Stage {
            people: vec![someone(), someone()],
            pieces: vec![wall],
            object: Some(cup()),
            posts: Some(posts),
            ..empty()
        };
        assert_eq!(count(all), alone.iter().sum::<usize>() + alone.first().copied().unwrap_or_default());
    }

    #[test]
    fn a_photo_takes_the_place_of_posts_and_of_the_floors_lines() {
        let camera = empty().opens;
        let backdrop = Backdrop { photo: 3, camera, view: empty().view, far: Length::from_m(20.0) };
        let posts = Posts { middle: DVec2::new(0.0, 9.0), along: DVec2::X, on_each_side: 4 };
        let photo = Arc::new(Photo::new(1, 1, vec![9; 4]).expect("a photo"));
        let bare = Stage { posts: Some(posts), ..empty() };
        let stage = Stage { backdrop: Some(backdrop), ..bare.clone() };
        let picture = Picture::before(&stage, &photo);
        assert!(picture.shapes.is_empty() && matches!(picture.floor, Floor::Plain(_)), "{picture:?}");
        assert_eq!(picture.backdrop.map(|scenery| scenery.place), Some(backdrop));
        assert_eq!(Picture::before(&bare, &photo), Picture::of(&bare), "a stage without one needs none");
        assert!(Picture::of(&stage).shapes.is_empty() && Picture::of(&stage).backdrop.is_none());
    }

    #[test]
    fn who_moves_is_smeared_and_what_stands_is_not() {
        let stage = Stage { people: vec![someone()], object: Some(cup()), ..empty() };
        let moving = Picture::of(&stage).shapes.iter().filter(|shape| shape.moved != DVec3::ZERO).count();
        assert_eq!(moving, Picture::of(&Stage { object: None, ..stage }).shapes.len());
    }
}
