//! What a shot is of, as its phone looks for it: from where nothing stands, and past what stands between.

use glam::DVec3;
use staging::{Landmark, Opening, Person, PieceKind, SetPiece};
use units::Length;

use super::shoulder::{fills, hides};
use super::through::met;
use super::{CutFinding, Obstacle};
use crate::film::Film;
use crate::id::PersonId;
use crate::rehearsal::Rehearsal;
use crate::scene::Scene;
use crate::scene_blocking::{seen_from, through};
use crate::shot::{Shot, ShotOf};

/// What keeps the phone from seeing what its shot is of, as the shot starts: it stands in something, or something stands
/// between.
pub(crate) fn subject_unseen(
    film: &Film,
    scene: &Scene,
    shot: &Shot,
    rehearsal: &Rehearsal,
) -> Option<CutFinding> {
    phone_stands_in(film, scene, shot, rehearsal).or_else(|| subject_hidden(film, scene, shot, rehearsal))
}

/// A phone that starts in a piece of the set, or in somebody of whom its shot is not.
///
/// Where somebody is there is room for a phone too: in a car, or at a seat.
fn phone_stands_in(film: &Film, scene: &Scene, shot: &Shot, rehearsal: &Rehearsal) -> Option<CutFinding> {
    let phone = rehearsal.phone()?;
    let blocking = &scene.blocking;
    let person = |who| blocking.person_of(&film.cast, who, rehearsal.starts_s);
    let has_room = |piece: &SetPiece| {
        let mut people = blocking.marks.iter().filter_map(|mark| person(mark.who));
        people.any(|person| is_in(piece, person.place.extend(0.0)))
    };
    let piece = blocking.pieces.iter().find(|piece| is_in(piece, phone) && !has_room(piece));
    let piece = piece.map(|piece| Obstacle::Piece(met(piece)));
    let somebody = || {
        // A thing is seen as somebody sees it from where they are.
        shot.of.subject()?;
        let others = rehearsal.own.iter().skip(1).chain(&rehearsal.others);
        let who = others.copied().find(|who| person(*who).is_some_and(|person| fills(&person, phone)))?;
        Some(Obstacle::Person(who))
    };
    piece.or_else(somebody).map(|what| CutFinding::PhoneStandsIn { what })
}

/// Whoever or whatever a shot is of, if a piece of the set or somebody else is before them: of two, the one in focus first.
///
/// Who belongs to the shot is left to the rules of two and of shoulders.
fn subject_hidden(film: &Film, scene: &Scene, shot: &Shot, rehearsal: &Rehearsal) -> Option<CutFinding> {
    let camera = rehearsal.camera()?;
    let phone = camera.position();
    if let ShotOf::Object { size, place, support, .. } = &shot.of {
        let middle = support.top() + *size / 2.0;
        return hidden(None, pieces_before(scene, phone, place.extend(middle.to_m())));
    }
    let person = |who| scene.blocking.person_of(&film.cast, who, rehearsal.starts_s);
    let second = if let ShotOf::Two(_, second) = shot.of { Some(second) } else { None };
    shot.of.subject().into_iter().chain(second).find_map(|who| {
        let face = person(who)?;
        let point = face.at(Landmark::Eyes);
        let eyes = camera.see(point)?;
        let is_before = |other: &Person| {
            let is_nearer = camera.see(other.at(Landmark::Eyes)).is_some_and(|seen| seen.depth < eyes.depth);
            is_nearer && hides(&camera, other, &eyes)
        };
        // An insert is of hands, which a phone reaches past people.
        let others = rehearsal.others.iter().filter(|_| !shot.is_insert());
        let people = others.filter_map(|other| {
            let near = person(*other).filter(is_before)?;
            Some((Obstacle::Person(*other), near.place.distance(face.place)))
        });
        hidden(Some(who), pieces_before(scene, phone, point).chain(people))
    })
}

/// Who is hidden by the nearest to them of what stands before them, each so many metres.
fn hidden(who: Option<PersonId>, by: impl Iterator<Item = (Obstacle, f64)>) -> Option<CutFinding> {
    let (by, before_m) = by.min_by(|(_, one), (_, other)| one.total_cmp(other))?;
    Some(CutFinding::SubjectHidden { who, by, before: Length::from_m(before_m) })
}

/// The pieces of the set that hide a point from a phone, and how far before it they do, metres along the floor.
fn pieces_before(scene: &Scene, phone: DVec3, point: DVec3) -> impl Iterator<Item = (Obstacle, f64)> {
    let pieces = scene.blocking.pieces.iter();
    pieces.filter_map(move |piece| Some((Obstacle::Piece(wall_of(piece)), before_m(piece, phone, point)?)))
}

/// Whether a piece fills a point: a phone over a table is not in it.
fn is_in(piece: &SetPiece, point: DVec3) -> bool {
    let floor = point.truncate();
    point.z < piece.size.height.to_m()
        && through(piece, floor, floor).is_some()
        && !is_in_window(piece, point)
}

/// How far before a point a piece of the set hides it from a phone, metres along the floor; none if it does not.
///
/// Whoever is in a piece is not hidden by it, nor what is seen out of one.
fn before_m(piece: &SetPiece, phone: DVec3, point: DVec3) -> Option<f64> {
    let (from, to) = (phone.truncate(), point.truncate());
    let (comes, leaves) = through(piece, from, to).filter(|_| covers(piece.kind))?;
    let sight = [comes, leaves].map(|share| phone.lerp(point, share));
    let is_low = sight.iter().any(|at| at.z < piece.size.height.to_m());
    let is_free = sight.iter().all(|at| is_in_window(piece, *at));
    let is_before = is_low && !is_free && leaves < 1.0 && !is_in(piece, phone);
    is_before.then(|| (1.0 - leaves) * from.distance(to))
}

/// Whether a kind of piece covers a face behind it: past a post, between leaves and under a string of lights it is seen.
const fn covers(kind: PieceKind) -> bool {
    match kind {
        PieceKind::Wall
        | PieceKind::Window
        | PieceKind::Doorway
        | PieceKind::Table
        | PieceKind::Bench
        | PieceKind::Tree
        | PieceKind::Hedge
        | PieceKind::Car => true,
        PieceKind::LampPost | PieceKind::Lights | PieceKind::Plant => false,
    }
}

/// Whether a point of a piece is in the opening of its window.
fn is_in_window(piece: &SetPiece, point: DVec3) -> bool {
    let Opening { half_width, sill, lintel } = piece.size.window();
    piece.kind == PieceKind::Window
        && seen_from(piece, point.truncate()).x.abs() < half_width.to_m()
        && (sill.to_m()..lintel.to_m()).contains(&point.z)
}

/// What hides: of a doorway and of a window the wall beside it.
const fn wall_of(piece: &SetPiece) -> PieceKind {
    if matches!(piece.kind, PieceKind::Window | PieceKind::Doorway) { PieceKind::Wall } else { piece.kind }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::findings::cut::example::{film, finds, found, level, mark, person, single, two};
    use crate::scene_blocking::{Faces, SceneBlocking};
    use crate::shot::LensChoice;
    use glam::DVec2;
    use staging::{Movement, PhoneHeight, PieceSize, Posture, ShotSize, Support};
    use units::{Angle, LengthUnit};

    fn piece(kind: PieceKind, (x, y): (f64, f64)) -> SetPiece {
        SetPiece { kind, place: DVec2::new(x, y), facing: Angle::ZERO, size: kind.usual_size() }
    }

    fn high(metres: f64, piece: SetPiece) -> SetPiece {
        SetPiece { size: PieceSize { height: Length::from_m(metres), ..piece.size }, ..piece }
    }

    /// Ada at the floor's origin and Ben two metres east of her, among these pieces.
    fn among(pieces: &[SetPiece]) -> SceneBlocking {
        SceneBlocking { pieces: pieces.to_vec(), ..two() }
    }

    /// Ada, and others at these places.
    fn with(others: &[(u64, (f64, f64))]) -> SceneBlocking {
        let ada = mark(1, DVec2::ZERO, Faces::Towards(Angle::from_deg(180.0)));
        let others =
            others.iter().map(|(who, place)| mark(*who, (*place).into(), ada.faces)).collect::<Vec<_>>();
        SceneBlocking { marks: std::iter::once(ada).chain(others).collect(), ..SceneBlocking::default() }
    }

    /// What is found of a shot that does not see what it is of.
    fn unseen(film: &Film) -> Option<CutFinding> {
        let is_of_it = |finding: &CutFinding| ["subject_hidden", "phone_stands_in"].contains(&finding.rule());
        found(film).into_iter().map(|placed| placed.finding).find(is_of_it)
    }

    /// Who is hidden by what in a shot of Ada from two metres in the south, as high as her eyes, and how far before her.
    fn hides_ada(blocking: SceneBlocking) -> Option<(Obstacle, f64)> {
        match unseen(&film(blocking, vec![level(1, 180.0, 2.0)])) {
            Some(CutFinding::SubjectHidden { who: Some(who), by, before }) if who == person(1) => {
                Some((by, before.to_m()))
            }
            None => None,
            other => panic!("{other:?}"),
        }
    }

    fn is_hidden_by(kind: PieceKind, place: (f64, f64)) -> bool {
        hides_ada(among(&[piece(kind, place)])).is_some()
    }

    #[test]
    fn a_wall_between_hides_her_and_one_behind_or_beside_does_not() {
        let (by, before_m) = hides_ada(among(&[piece(PieceKind::Wall, (0.0, -1.0))])).expect("hidden");
        // Its face is a tenth of a metre before its middle, less what one brushes.
        assert!(by == Obstacle::Piece(PieceKind::Wall) && (before_m - 0.9).abs() < 0.01, "{by:?} {before_m}");
        // A wall is 4 m wide, so that this one ends 0.1 m beside her.
        for place in [(0.0, 0.5), (0.0, -2.5), (2.1, -1.0), (-2.1, -1.0)] {
            assert!(!is_hidden_by(PieceKind::Wall, place), "{place:?}");
        }
        assert!(is_hidden_by(PieceKind::Wall, (1.9, -1.0)));
    }

    #[test]
    fn a_piece_hides_as_far_up_as_it_reaches() {
        // Her eyes are 0.934 of 1.66 m high, and the phone is level with them.
        let hedge = |height_m: f64| high(height_m, piece(PieceKind::Hedge, (0.0, -1.0)));
        assert_eq!(hides_ada(among(&[hedge(1.54)])), None);
        assert!(hides_ada(among(&[hedge(1.56)])).is_some());
        assert!(!is_hidden_by(PieceKind::Table, (0.0, -1.0)));
        // From the ground at 2 m a table of 0.75 m is before her eyes, from 0.6 m in the air it is not.
        let low = |height_m: f64| {
            let height = PhoneHeight::Fixed(Length::from_m(height_m));
            let shot = Shot { height, ..level(1, 180.0, 2.0) };
            unseen(&film(among(&[piece(PieceKind::Table, (0.0, -1.0))]), vec![shot])).is_some()
        };
        assert!(low(0.05) && !low(0.6));
    }

    #[test]
    fn she_is_seen_through_windows_and_doorways_and_past_what_is_thin() {
        for kind in [PieceKind::Window, PieceKind::Doorway] {
            assert!(!is_hidden_by(kind, (0.0, -1.0)), "{kind:?}");
            let (by, _) = hides_ada(among(&[piece(kind, (1.0, -1.0))])).expect("hidden by what is beside it");
            assert_eq!(by, Obstacle::Piece(PieceKind::Wall));
        }
        // A window's sill is 0.9 m high: from the ground the sight crosses it half way at 0.8 m.
        let low = Shot { height: PhoneHeight::Fixed(Length::from_m(0.05)), ..level(1, 180.0, 2.0) };
        let window = |shot: Shot| film(among(&[piece(PieceKind::Window, (0.0, -1.0))]), vec![shot]);
        assert!(unseen(&window(low)).is_some());
        for kind in [PieceKind::LampPost, PieceKind::Lights, PieceKind::Plant] {
            assert!(!is_hidden_by(kind, (0.0, -1.0)), "{kind:?}");
        }
        assert!(is_hidden_by(PieceKind::Tree, (0.2, -1.0)) && !is_hidden_by(PieceKind::Tree, (0.3, -1.0)));
    }

    #[test]
    fn who_is_in_a_piece_is_not_hidden_by_it_and_sees_out_of_it() {
        let car = || high(2.0, piece(PieceKind::Car, (0.0, 0.0)));
        assert_eq!(hides_ada(among(&[car()])), None);
        // The phone is in the car with her, or with Ben beside the wheel and she outside.
        assert_eq!(unseen(&film(among(&[car()]), vec![level(1, 180.0, 1.5)])), None);
        let ben_drives = SceneBlocking {
            pieces: vec![SetPiece { place: (0.0, -2.5).into(), ..car() }],
            ..with(&[(2, (0.5, -2.5))])
        };
        assert_eq!(hides_ada(ben_drives), None);
    }

    #[test]
    fn somebody_else_before_a_face_hides_it_and_who_belongs_to_the_shot_does_not() {
        let bob = hides_ada(with(&[(2, (0.0, -0.8))])).expect("hidden");
        assert!(bob.0 == Obstacle::Person(person(2)) && (bob.1 - 0.8).abs() < 1e-9, "{bob:?}");
        // Ben's shoulders, up to 1.49 m, are below her eyes at 1.55 m: his head alone is before them, 0.09 m to either side.
        assert_eq!(hides_ada(with(&[(2, (0.12, -0.8))])), None, "beside her");
        assert_eq!(hides_ada(with(&[(2, (0.0, 0.8))])), None, "behind her");
        assert_eq!(hides_ada(with(&[(2, (0.0, -2.8))])), None, "behind the phone");
        let mut seated = with(&[(2, (0.0, -0.8))]);
        seated.marks[1].posture = Posture::Seated;
        assert_eq!(hides_ada(seated), None, "she is seen over his head");
        for of in [
            ShotOf::OverShoulder { facing: person(1), near: person(2) },
            ShotOf::PointOfView { of: person(2), seen: person(1) },
            ShotOf::Two(person(1), person(2)),
        ] {
            let shot = Shot { of, ..level(1, 180.0, 2.0) };
            assert_eq!(unseen(&film(with(&[(2, (0.0, -0.8))]), vec![shot])), None);
        }
        let hands = Shot { size: ShotSize::Insert, ..level(1, 180.0, 2.0) };
        assert_eq!(unseen(&film(with(&[(2, (0.0, -0.8))]), vec![hands])), None);
    }

    #[test]
    fn a_third_before_either_of_two_is_found() {
        let of = ShotOf::Two(person(1), person(2));
        let hidden = |third: (f64, f64)| {
            let blocking = with(&[(2, (1.0, 0.0)), (3, third)]);
            match unseen(&film(blocking, vec![Shot { of: of.clone(), ..level(1, 180.0, 3.0) }])) {
                Some(CutFinding::SubjectHidden { who, by: Obstacle::Person(by), .. }) if by == person(3) => {
                    who
                }
                None => None,
                other => panic!("{other:?}"),
            }
        };
        // From the middle of the two the way to either goes a quarter metre aside half way.
        assert_eq!(hidden((0.25, -1.5)), Some(person(1)));
        assert_eq!(hidden((0.75, -1.5)), Some(person(2)));
        assert_eq!(hidden((0.5, -1.5)), None, "between them");
    }

    #[test]
    fn a_thing_is_hidden_by_what_stands_between_and_not_by_what_it_is_on() {
        let cup = |height_m: f64, pieces: &[SetPiece]| {
            let of = ShotOf::Object {
                name: "a cup".to_owned(),
                size: Length::from_m(0.1),
                place: DVec2::ZERO,
                support: Support::Table,
                hands: Vec::new(),
            };
            let height = PhoneHeight::Fixed(Length::from_m(height_m));
            let shot = Shot { of, height, lens: LensChoice::Auto, ..level(1, 180.0, 1.5) };
            unseen(&film(SceneBlocking { pieces: pieces.to_vec(), ..SceneBlocking::default() }, vec![shot]))
        };
        let table = piece(PieceKind::Table, (0.0, 0.0));
        assert_eq!(cup(1.2, &[table]), None);
        let wall = piece(PieceKind::Wall, (0.0, -0.8));
        let Some(CutFinding::SubjectHidden { who: None, before, .. }) = cup(1.2, &[table, wall]) else {
            panic!("{:?}", cup(1.2, &[table, wall]))
        };
        assert!((before.to_m() - 0.7).abs() < 0.01, "{before}");
        // A bench of 0.85 m, 0.3 m deep either way of a metre off, is before a cup at 0.8 m unless seen from above.
        let bench = piece(PieceKind::Bench, (0.0, -0.8));
        assert!(cup(0.8, &[bench]).is_some() && cup(1.2, &[bench]).is_none());
    }

    /// In what the phone of a shot of Ada from two metres in the south stands.
    fn stands_in(blocking: SceneBlocking, height_m: f64) -> Option<Obstacle> {
        let height = PhoneHeight::Fixed(Length::from_m(height_m));
        let found = unseen(&film(blocking, vec![Shot { height, ..level(1, 180.0, 2.0) }]));
        if let Some(CutFinding::PhoneStandsIn { what }) = found { Some(what) } else { None }
    }

    #[test]
    fn a_phone_stands_in_no_piece_and_in_nobody_but_over_them() {
        // A car is 4.4 m long, and would hold Ada too if it stood nearer.
        for (kind, south_m, height_m) in
            [(PieceKind::Wall, 2.0, 2.6), (PieceKind::Car, 2.5, 1.5), (PieceKind::Table, 2.0, 0.75)]
        {
            let stands = |height_m: f64| stands_in(among(&[piece(kind, (0.0, -south_m))]), height_m);
            assert_eq!(stands(height_m - 0.01), Some(Obstacle::Piece(kind)));
            assert_eq!(stands(height_m + 0.01), None, "over it");
        }
        let doorway = |x: f64| stands_in(among(&[piece(PieceKind::Doorway, (x, -2.0))]), 1.5);
        assert_eq!(doorway(0.0), None);
        assert_eq!(doorway(1.0), Some(Obstacle::Piece(PieceKind::Wall)));
        let window = |height_m: f64| stands_in(among(&[piece(PieceKind::Window, (0.0, -2.0))]), height_m);
        assert_eq!((window(1.0), window(0.8)), (None, Some(Obstacle::Piece(PieceKind::Window))));
        // Ben's shoulders are at 1.49 m and 0.52 m broad; his head is 0.18 m broad and ends at 1.82 m.
        let ben = |x: f64, height_m: f64| stands_in(with(&[(2, (x, -2.0))]), height_m);
        assert!(ben(0.25, 1.4) == Some(Obstacle::Person(person(2))) && ben(0.27, 1.4).is_none());
        assert!(ben(0.08, 1.8).is_some() && ben(0.1, 1.8).is_none() && ben(0.0, 1.83).is_none());
    }

    #[test]
    fn what_is_found_of_it_is_said_and_a_move_does_not_help() {
        let push = Some(Movement::Push { per_second: Length::from_m(0.1) });
        let walled = film(
            among(&[piece(PieceKind::Wall, (0.0, -2.0))]),
            vec![Shot { movement: push, ..level(1, 180.0, 2.0) }],
        );
        let said = |film: &Film| unseen(film).expect("found").to_finding(film, LengthUnit::Metres).message;
        assert_eq!(said(&walled), "the phone stands in the wall");
        assert!(!finds(&walled, "phone_goes_through"));
        let in_ben = film(with(&[(2, (0.0, -2.0))]), vec![level(1, 180.0, 2.0)]);
        assert_eq!(said(&in_ben), "the phone stands where Ben is");
        let behind_ben = film(with(&[(2, (0.0, -0.8))]), vec![level(1, 180.0, 2.0)]);
        assert_eq!(said(&behind_ben), "Ben stands 0.80 m before Ada and hides them");
        let free = film(two(), vec![single(1, 1, ShotSize::Medium, 180.0)]);
        assert_eq!(unseen(&free), None);
    }
}
