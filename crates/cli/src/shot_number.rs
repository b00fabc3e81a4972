//! Shots by their numbers.

use std::fmt;
use std::num::NonZero;
use std::sync::Arc;

use film::{Film, Scene, Shot};
use requests::BadRequest;

use crate::failure::Failure;

/// A shot's number as a shot list counts it: the scene's, and the shot's in it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct ShotNumber {
    scene: NonZero<usize>,
    shot: NonZero<usize>,
}

/// A number such as `2.3`.
pub(crate) fn shot_number(text: &str) -> Result<ShotNumber, String> {
    let count = |part: &str| {
        // Reading a number allows a sign, which no count has.
        part.bytes().all(|byte| byte.is_ascii_digit()).then(|| part.parse().ok()).flatten()
    };
    let parts = text.split_once('.').and_then(|(scene, shot)| Some((count(scene)?, count(shot)?)));
    let (scene, shot) =
        parts.ok_or("the scene's number and the shot's, both from 1, with a point between, such as 2.3")?;
    Ok(ShotNumber { scene, shot })
}

impl fmt::Display for ShotNumber {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}.{}", self.scene, self.shot)
    }
}

impl ShotNumber {
    /// The shot, with its scene.
    pub(crate) fn find(self, film: &Film) -> Option<(&Scene, &Arc<Shot>)> {
        let scene = film.scenes.get(self.scene.get() - 1)?;
        Some((scene, scene.shots.get(self.shot.get() - 1)?))
    }

    /// Says which shots there are: those of its scene, or of the film if there is no such scene. `option` is what it was given as.
    pub(crate) fn not_there(self, film: &Film, option: &str) -> Failure {
        let last_of = |at: usize| {
            let shots = film.scenes.get(at).map_or(0, |scene| scene.shots.len());
            (shots > 0).then(|| format!("{}.{shots}", at + 1))
        };
        let scene = self.scene.get();
        let there = if scene <= film.scenes.len() {
            let range = last_of(scene - 1).map(|last| (format!("{scene}.1"), last));
            format!("scene {scene} has {}", range_words(range))
        } else {
            let with_shots = || (0..film.scenes.len()).filter_map(|at| Some((at + 1, last_of(at)?)));
            let range = with_shots().next().zip(with_shots().next_back());
            format!(
                "the film has {}",
                range_words(range.map(|((first, _), (_, last))| (format!("{first}.1"), last)))
            )
        };
        BadRequest::at(option, format!("{self} is not there: {there}")).into()
    }
}

/// Shots from the first of a range to its last.
fn range_words(range: Option<(String, String)>) -> String {
    match range {
        None => "no shots".to_owned(),
        Some((first, last)) if first == last => format!("one shot, {first}"),
        Some((first, last)) => format!("shots {first} to {last}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn number(text: &str) -> ShotNumber {
        shot_number(text).expect("a number")
    }

    /// What is said of a number that the film does not have.
    fn said(film: &Film, text: &str) -> String {
        number(text).not_there(film, "--shot").to_string()
    }

    #[test]
    fn a_number_is_two_counts_from_one() {
        assert_eq!(number("2.10").to_string(), "2.10");
        for text in ["2", "2.", ".3", "0.1", "1.0", "+1.2", "1.-2", "1.2.3", "1,2", " 1.2", "a.b", ""] {
            assert!(shot_number(text).is_err(), "{text}");
        }
    }

    #[test]
    fn every_shot_is_found_by_the_number_that_the_film_gives_it() {
        let film = film::demo_film();
        let shots = film.scenes.iter().flat_map(|scene| &scene.shots);
        assert!(shots.clone().count() > 10, "too few to tell");
        for shot in shots {
            let (scene, at) = film.number_of(shot.id).expect("of the film");
            let found = number(&format!("{scene}.{at}")).find(&film).expect("there");
            assert!(Arc::ptr_eq(found.1, shot), "{scene}.{at}");
        }
    }

    #[test]
    fn what_is_not_there_is_told_with_what_is() {
        let mut film = film::demo_film();
        assert_eq!(said(&film, "2.9"), "--shot: 2.9 is not there: scene 2 has shots 2.1 to 2.5");
        assert_eq!(said(&film, "9.1"), "--shot: 9.1 is not there: the film has shots 1.1 to 3.4");
        Arc::make_mut(&mut film.scenes[0]).shots.clear();
        Arc::make_mut(&mut film.scenes[2]).shots.truncate(1);
        assert_eq!(said(&film, "1.1"), "--shot: 1.1 is not there: scene 1 has no shots");
        assert_eq!(said(&film, "3.2"), "--shot: 3.2 is not there: scene 3 has one shot, 3.1");
        assert_eq!(said(&film, "4.1"), "--shot: 4.1 is not there: the film has shots 2.1 to 3.1");
        film.scenes.truncate(1);
        assert_eq!(said(&film, "4.1"), "--shot: 4.1 is not there: the film has no shots");
    }
}
