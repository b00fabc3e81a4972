//! One shot of a cut by itself: can it be had and taken, is it heard, and does slow motion take light?

use staging::{Landmark, Movement};
use units::{Length, Stops};

use super::CutFinding;
use super::hidden::subject_unseen;
use super::shoulder::shoulder_amiss;
use super::through::phone_through;
use super::two::one_unseen;
use crate::cut_view::SeenAt;
use crate::film::Film;
use crate::findings::{Severity, check_take};
use crate::rehearsal::{NoRehearsal, Rehearsal};
use crate::scene::Scene;
use crate::shot::{Shot, ShotOf, Sound};

/// A phone hears somebody well from no farther than 1.5 m: common practice for a microphone that hears all round.
pub(super) const PHONE_HEARS: Length = Length::from_m(1.5);
/// A recorder is no farther than 1 m from whoever speaks: common practice.
pub(super) const RECORDER_HEARS: Length = Length::from_m(1.0);

/// Checks a shot that was walked through. Allocates only when it finds something.
///
/// Of its setup it passes on what fails, and of its take what warns too: the rest stands in the setup.
pub fn check_shot(
    film: &Film,
    scene: &Scene,
    shot: &Shot,
    rehearsal: &Result<Rehearsal, NoRehearsal>,
) -> Vec<CutFinding> {
    let mut found = Vec::new();
    match rehearsal {
        Ok(rehearsal) => {
            let fails = rehearsal.result().findings.iter().copied();
            let fails = fails.filter(|finding| finding.severity() == Severity::Fails);
            found.extend(fails.map(CutFinding::NotToBeHad));
            found.extend(of_take(film, shot, rehearsal));
            found.extend(voice_far(film, scene, shot, rehearsal));
            found.extend(shoulder_amiss(film, scene, shot, rehearsal));
            found.extend(one_unseen(film, scene, shot, rehearsal));
            found.extend(subject_unseen(film, scene, shot, rehearsal));
            found.extend(phone_through(film, scene, shot, rehearsal));
        }
        Err(why) => found.push(CutFinding::NotRehearsed(*why)),
    }
    let times = shot.frame_rate(film).to_fps() / film.facts.frame_rate.to_fps();
    if times > 1.0 {
        found.push(CutFinding::RateTakesLight { stops: Stops::from_light_ratio(times), times });
    }
    found
}

/// What is the matter with how a shot is taken.
fn of_take(film: &Film, shot: &Shot, rehearsal: &Rehearsal) -> impl Iterator<Item = CutFinding> {
    // In most takes nothing moves, and then there is nothing to find.
    let moves = shot.movement.is_some() || shot.pull.is_some();
    let found =
        if moves { check_take(rehearsal.result(), &rehearsal.taking(film, shot)) } else { Vec::new() };
    found.into_iter().filter(|finding| finding.severity() > Severity::Notes).map(CutFinding::OfTake)
}

/// Dialogue that neither phone nor recorder is near to. Of two people in a shot either may speak.
fn voice_far(film: &Film, scene: &Scene, shot: &Shot, rehearsal: &Rehearsal) -> Option<CutFinding> {
    let recorded = shot.recorder_away.is_some_and(|away| away <= RECORDER_HEARS);
    if shot.sound != Sound::Dialogue || recorded {
        return None;
    }
    let phone = phone_from_voices(film, scene, shot, rehearsal)?;
    (phone > PHONE_HEARS).then_some(CutFinding::VoiceFar { phone, recorder: shot.recorder_away })
}

/// How far the phone gets from whoever may speak in a shot.
pub(crate) fn phone_from_voices(
    film: &Film,
    scene: &Scene,
    shot: &Shot,
    rehearsal: &Rehearsal,
) -> Option<Length> {
    // A phone that goes along keeps its place.
    let goes_along = matches!(shot.movement, Some(Movement::Follow { .. }));
    let moments: &[f64] = if goes_along { &[0.0] } else { &[0.0, shot.planned_s] };
    let from_phone = |at_s: &f64| {
        shot.of.subject()?;
        let seen = SeenAt::of(film, scene, shot, rehearsal, None, *at_s)?;
        let other = match shot.of {
            ShotOf::Two(_, other) => scene
                .blocking
                .person_of(&film.cast, other, rehearsal.scene_s(*at_s))
                .map(|other| Length::from_m(other.at(Landmark::Eyes).distance(seen.camera.position()))),
            ShotOf::One(_)
            | ShotOf::OverShoulder { .. }
            | ShotOf::PointOfView { .. }
            | ShotOf::Object { .. } => None,
        };
        Some(other.map_or(seen.away, |other| other.max(seen.away)))
    };
    moments.iter().filter_map(from_phone).reduce(Length::max)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::findings::cut::PlacedFinding;
    use crate::findings::cut::example::{film, finds, found, level, person, shot_id, single, two, walker};
    use crate::scene::KeptAt;
    use crate::shot::LensChoice;
    use staging::ShotSize;
    use units::{Angle, FrameRate};

    fn spoken(shot: Shot) -> Shot {
        Shot { sound: Sound::Dialogue, ..shot }
    }

    #[test]
    fn dialogue_is_too_far_from_1_51_m_on_and_not_at_1_49_m() {
        let far = |away_m: f64| finds(&film(two(), vec![spoken(level(1, 180.0, away_m))]), "voice_far");
        assert!(!far(1.49) && far(1.51), "{} {}", far(1.49), far(1.51));
    }

    #[test]
    fn a_recorder_within_a_metre_hears_and_one_beyond_does_not() {
        let far = |away_m: f64| {
            let recorder_away = Some(Length::from_m(away_m));
            finds(&film(two(), vec![Shot { recorder_away, ..spoken(level(1, 180.0, 4.0)) }]), "voice_far")
        };
        assert!(!far(0.99) && far(1.01), "{} {}", far(0.99), far(1.01));
    }

    #[test]
    fn only_dialogue_needs_an_ear_near() {
        for sound in [Sound::None, Sound::Effect, Sound::WildTrack] {
            assert!(
                !finds(&film(two(), vec![Shot { sound, ..level(1, 180.0, 4.0) }]), "voice_far"),
                "{sound:?}"
            );
        }
    }

    #[test]
    fn of_two_the_farther_one_counts() {
        let both = spoken(Shot { of: ShotOf::Two(person(1), person(2)), ..level(1, 270.0, 1.2) });
        let [PlacedFinding { finding: CutFinding::VoiceFar { phone, .. }, .. }] =
            found(&film(two(), vec![both]))
                .into_iter()
                .filter(|placed| placed.finding.rule() == "voice_far")
                .collect::<Vec<_>>()[..]
        else {
            panic!("not found");
        };
        // From the middle of the two it is 1.2 m, and Ben stands a metre beyond.
        assert!((phone.to_m() - 2.2).abs() < 0.02, "{phone}");
    }

    #[test]
    fn a_shot_in_the_cut_twice_is_found_once() {
        let once = film(two(), vec![spoken(level(1, 180.0, 4.0)), single(2, 2, ShotSize::Tight, 180.0)]);
        let mut twice = once.clone();
        let scene = std::sync::Arc::make_mut(&mut twice.scenes[0]);
        scene.cut.push(crate::scene::Entry::whole(crate::findings::cut::example::entry(9), shot_id(1)));
        let count =
            |film: &Film| found(film).iter().filter(|placed| placed.at == KeptAt::Shot(shot_id(1))).count();
        assert_eq!((count(&once), count(&twice)), (1, 1));
    }

    #[test]
    fn what_the_kit_or_the_scene_lacks_fails() {
        let gone = LensChoice::Fixed { name: "sold".to_owned(), in_sensor_zoom: 1.0 };
        let shots = vec![Shot { lens: gone, ..level(1, 180.0, 2.0) }, single(2, 3, ShotSize::Tight, 180.0)];
        let fails: Vec<CutFinding> = found(&film(two(), shots))
            .into_iter()
            .map(|placed| placed.finding)
            .filter(|finding| finding.severity() == Severity::Fails)
            .collect();
        let lacks = [NoRehearsal::LensGone, NoRehearsal::NotInScene(person(3))];
        assert_eq!(fails, lacks.map(CutFinding::NotRehearsed));
    }

    #[test]
    fn a_setup_that_fails_is_passed_on() {
        let near = film(two(), vec![level(1, 180.0, 0.1)]);
        assert!(finds(&near, "too_near_to_focus"), "{:?}", found(&near));
    }

    #[test]
    fn slow_motion_says_its_stops() {
        let rate = |fps: f64| Some(FrameRate::checked_from_fps(fps).expect("in range"));
        let slow = film(two(), vec![Shot { capture_rate: rate(96.0), ..level(1, 180.0, 2.0) }]);
        let stops = found(&slow).into_iter().find_map(|placed| {
            let CutFinding::RateTakesLight { stops, .. } = placed.finding else { return None };
            Some(stops.to_f64())
        });
        assert!(stops.is_some_and(|stops| (stops - 2.0).abs() < 1e-12), "{stops:?}");
        assert!(!finds(&film(two(), vec![level(1, 180.0, 2.0)]), "rate_takes_light"));
        let fast = film(two(), vec![Shot { capture_rate: rate(12.0), ..level(1, 180.0, 2.0) }]);
        assert!(!finds(&fast, "rate_takes_light"), "it gains light");
    }

    #[test]
    fn what_is_only_worth_knowing_of_a_setup_is_not_found_on_its_shot() {
        let off = Shot {
            look: staging::Look::Tilt(Angle::from_deg(-12.0)),
            ..single(1, 1, ShotSize::Medium, 180.0)
        };
        let film = film(two(), vec![off]);
        let views = crate::findings::cut::example::views(&film);
        let rehearsal = views[0].rehearsal.as_ref().as_ref().expect("it can be walked through");
        assert!(!rehearsal.result().findings.is_empty(), "something is worth knowing");
        assert!(check_shot(&film, &film.scenes[0], &views[0].shot, &views[0].rehearsal).is_empty());
    }

    /// The rules found on a shot of Ada from 2 m in the south, who looks at Ben in the east, with that movement.
    fn taken(movement: Movement) -> Vec<&'static str> {
        let film = film(two(), vec![Shot { movement: Some(movement), ..level(1, 180.0, 2.0) }]);
        let at_shot = found(&film).into_iter().filter(|placed| placed.at == KeptAt::Shot(shot_id(1)));
        at_shot.map(|placed| placed.finding.rule()).collect()
    }

    fn push(metres: f64) -> Movement {
        Movement::Push { per_second: Length::from_m(metres) }
    }

    #[test]
    fn a_push_that_ends_nearer_than_the_lens_focuses_fails_and_one_before_does_not() {
        // The main lens focuses from 0.2 m on; the take lasts 4 s and a push ends 0.25 m before a face.
        assert_eq!(taken(push(0.4)), [""; 0]);
        let lens = LensChoice::Fixed { name: "long".to_owned(), in_sensor_zoom: 1.0 };
        let on_long = |metres: f64| {
            let shot = Shot { lens: lens.clone(), movement: Some(push(metres)), ..level(1, 180.0, 2.0) };
            finds(&film(two(), vec![shot]), "too_near_on_the_way")
        };
        // The long one focuses from 0.6 m on: 1.4 m in 4 s is 0.35 m a second.
        assert!(!on_long(0.34) && on_long(0.36), "{} {}", on_long(0.34), on_long(0.36));
    }

    #[test]
    fn a_pan_over_somebody_who_stays_is_as_fast_as_it_can_be_looked_at_or_found() {
        let main = film(two(), vec![level(1, 180.0, 2.0)]);
        let views = crate::findings::cut::example::views(&main);
        let rehearsal = views[0].rehearsal.as_ref().as_ref().expect("it can be walked through");
        let view = rehearsal.result().outcome.as_ref().expect("a setup").view;
        // A frame's width in seven seconds: common practice.
        let pan = |times: f64| taken(Movement::Pan { per_second: view.horizontal_fov() * (times / 7.0) });
        assert_eq!(pan(0.99), [""; 0]);
        assert_eq!(pan(1.01)[0], "pan_too_fast");
    }

    #[test]
    fn whoever_goes_along_before_a_walker_is_cautioned_and_beside_them_not() {
        let along = |side_deg: f64| {
            let follow = Some(Movement::Follow { per_second: Length::from_m(1.0) });
            let shot = Shot { movement: follow, ..level(1, side_deg, 2.0) };
            finds(&film(walker(&[(0.0, 20.0)]), vec![shot]), "walks_backwards")
        };
        assert!(along(0.0) && !along(90.0) && !along(180.0));
    }

    #[test]
    fn what_a_take_costs_at_the_edges_is_not_found_on_its_shot() {
        let follow = Movement::Follow { per_second: Length::from_m(1.0) };
        assert_eq!(taken(follow), [""; 0], "steadying is worth a note in the setup");
    }
}
