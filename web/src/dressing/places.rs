//! Ready-made places: a set in one tap, to be changed from there.

use language::key;
use requests::{AgeRequest, LightRequest, PieceWord, SunRequest};

use super::{Pose, full_turn, somebody, usual_piece};
use crate::session::Plan;

/// A place as the phone sees it: metres to the right of the subject and behind them, and turned clockwise from the phone.
#[derive(Debug)]
pub(crate) struct Place {
    /// What it is called.
    pub(crate) name: &'static str,
    pieces: &'static [(PieceWord, [f64; 3])],
    people: &'static [(Pose, [f64; 3], usize)],
    light: PlaceLight,
}

/// Its light; the sun is counted clockwise from straight behind the subject, and from the ground up, degrees.
#[derive(Debug)]
enum PlaceLight {
    Dusk,
    Sun(f64, f64),
}

/// All of them.
pub(crate) const PLACES: [Place; 3] = [
    Place {
        name: key!("Street corner at dusk"),
        pieces: &[
            (PieceWord::Doorway, [-1.9, 6.2, 0.0]),
            (PieceWord::Window, [1.1, 6.2, 0.0]),
            (PieceWord::Wall, [2.7, 8.3, 90.0]),
            (PieceWord::Car, [4.2, 4.0, 20.0]),
            (PieceWord::LampPost, [-1.2, 3.8, 0.0]),
            (PieceWord::LampPost, [2.1, 9.5, 0.0]),
            (PieceWord::Lights, [-0.2, 5.6, 0.0]),
        ],
        people: &[(Pose::Walking, [-2.1, 4.9, -90.0], 5)],
        light: PlaceLight::Dusk,
    },
    Place {
        name: key!("Kitchen by a window"),
        pieces: &[
            (PieceWord::Wall, [0.3, 3.2, 0.0]),
            (PieceWord::Window, [-1.7, 1.5, -90.0]),
            (PieceWord::Table, [0.9, 1.7, 0.0]),
            (PieceWord::Doorway, [3.7, 3.2, 0.0]),
            (PieceWord::Plant, [-1.2, 2.7, 0.0]),
        ],
        people: &[(Pose::Seated, [1.2, 2.5, 25.0], 1)],
        light: PlaceLight::Sun(-82.0, 32.0),
    },
    Place {
        name: key!("Park path"),
        pieces: &[
            (PieceWord::Bench, [1.5, 2.8, 35.0]),
            (PieceWord::Tree, [-2.6, 5.5, 0.0]),
            (PieceWord::Tree, [3.6, 8.0, 40.0]),
            (PieceWord::Tree, [-5.0, 13.0, 110.0]),
            (PieceWord::Hedge, [-2.4, 11.0, -10.0]),
            (PieceWord::Hedge, [1.8, 13.5, 10.0]),
            (PieceWord::LampPost, [1.3, 6.5, 0.0]),
        ],
        people: &[(Pose::Walking, [-0.6, 8.0, 10.0], 2)],
        light: PlaceLight::Sun(-50.0, 34.0),
    },
];

impl Plan {
    /// Fills the set with a place as the phone sees it now. What those of the shot wear and do stays.
    pub(crate) fn go_to(&mut self, place: &Place) {
        let (ahead, right) = self.directions();
        let bearing = self.phone_bearing_deg;
        let at = |[aside, behind, _]: [f64; 3]| right * aside + ahead * behind;
        self.other_names.clear();
        let set = self.set_mut();
        set.foreground = None;
        set.pieces = place
            .pieces
            .iter()
            .map(|(kind, stands)| usual_piece(*kind, at(*stands), bearing + stands[2]))
            .collect();
        set.people = place
            .people
            .iter()
            .map(|(pose, stands, tape)| {
                somebody(at(*stands), bearing + stands[2], AgeRequest::Adult, *pose, *tape)
            })
            .collect();
        set.light = Some(match place.light {
            PlaceLight::Dusk => LightRequest::Dusk,
            PlaceLight::Sun(from_behind_deg, elevation_deg) => LightRequest::Sun(SunRequest {
                azimuth_deg: full_turn(bearing + 180.0 + from_behind_deg),
                elevation_deg,
            }),
        });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::dressing::Item;
    use crate::scene::tests::scene_of;

    #[test]
    fn every_place_can_be_drawn_from_any_side() {
        for place in &PLACES {
            for phone_bearing_deg in [0.0, 180.0, 291.0] {
                let mut plan = Plan { phone_bearing_deg, ..Plan::first() };
                plan.go_to(place);
                let stage = scene_of(&plan).stage;
                assert_eq!(stage.pieces.len(), place.pieces.len(), "{}", place.name);
                assert_eq!(stage.people.len(), place.people.len() + 1, "{}", place.name);
                let first = plan.place(Item::Piece(0)).expect("it has pieces");
                let behind = first.dot(plan.directions().0);
                assert!((behind - place.pieces[0].1[1]).abs() < 1e-9, "{}: {behind}", place.name);
            }
        }
    }
}
