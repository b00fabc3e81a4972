//! What a film's story may lack: a gentler list than findings, for the film as a whole.

use language::say;

use crate::film::Film;
use crate::id::SceneId;
use crate::scene::Scene;

/// Something that a story has more often than not, and this one not yet; or how long it is.
///
/// Common practice, all of it: stories have somebody, somewhere, trouble, change and an ending. Some good ones do not.
#[derive(Debug, Clone, PartialEq)]
pub enum StoryLack {
    /// Nobody is in it.
    Nobody,
    /// No scene plays anywhere.
    Nowhere,
    /// No scene says what is in the way.
    NoTrouble,
    /// No scene changes anything.
    NothingChanges,
    /// In the last scene nothing happens, or nothing changes.
    NoEnding {
        /// The last scene; none if there is no scene at all.
        last: Option<SceneId>,
        /// Whether it says what happens.
        happens: bool,
        /// Whether it says what that changes.
        changes: bool,
    },
    /// Scenes without a shot.
    NoShots(Vec<SceneId>),
    /// How long the cut is. Nothing lacks, unless it is another length than was meant.
    Lasts {
        /// All of it, seconds.
        total_s: f64,
        /// Each scene's seconds, in the film's order.
        scenes: Vec<(SceneId, f64)>,
    },
}

/// What the film's story may lack, in the order in which one would think of it; its length comes last, once there is one.
pub fn story_lacks(film: &Film) -> Vec<StoryLack> {
    let scenes = || film.scenes.iter().map(AsRef::<Scene>::as_ref);
    let mut lacks = Vec::new();
    if scenes().all(|scene| scene.people().next().is_none()) {
        lacks.push(StoryLack::Nobody);
    }
    if scenes().all(|scene| scene.facts.place.is_none()) {
        lacks.push(StoryLack::Nowhere);
    }
    if scenes().all(|scene| is_blank(&scene.facts.obstacle)) {
        lacks.push(StoryLack::NoTrouble);
    }
    if scenes().all(|scene| is_blank(&scene.facts.changes)) {
        lacks.push(StoryLack::NothingChanges);
    }
    lacks.extend(no_ending(film));
    let without: Vec<SceneId> =
        scenes().filter(|scene| scene.shots.is_empty()).map(|scene| scene.id).collect();
    if !without.is_empty() {
        lacks.push(StoryLack::NoShots(without));
    }
    let lasts: Vec<(SceneId, f64)> = scenes().map(|scene| (scene.id, scene.cut_s())).collect();
    let total_s: f64 = lasts.iter().map(|(_, seconds)| seconds).sum();
    if total_s > 0.0 {
        lacks.push(StoryLack::Lasts { total_s, scenes: lasts });
    }
    lacks
}

fn no_ending(film: &Film) -> Option<StoryLack> {
    let Some(last) = film.scenes.last() else {
        return Some(StoryLack::NoEnding { last: None, happens: false, changes: false });
    };
    let (happens, changes) = (!is_blank(&last.facts.happens), !is_blank(&last.facts.changes));
    (!happens || !changes).then_some(StoryLack::NoEnding { last: Some(last.id), happens, changes })
}

fn is_blank(text: &str) -> bool {
    text.trim().is_empty()
}

impl StoryLack {
    /// Its name, for programs.
    pub const fn name(&self) -> &'static str {
        match self {
            Self::Nobody => "nobody",
            Self::Nowhere => "nowhere",
            Self::NoTrouble => "no_trouble",
            Self::NothingChanges => "nothing_changes",
            Self::NoEnding { .. } => "no_ending",
            Self::NoShots(_) => "no_shots",
            Self::Lasts { .. } => "lasts",
        }
    }

    /// In plain words, scenes of `film` by their titles.
    pub fn words(&self, film: &Film) -> String {
        match self {
            Self::Nobody => say!("Nobody is in it yet. Who could it be about?").to_owned(),
            Self::Nowhere => say!("It plays nowhere yet. A place that you can get to is a good start.").to_owned(),
            Self::NoTrouble => {
                say!(
                    "Nothing is in anybody's way yet. A story often starts when somebody wants something and cannot \
                     just have it."
                )
                .to_owned()
            }
            Self::NothingChanges => {
                say!("Nothing changes yet. What is different at the end from the beginning, if only a look?").to_owned()
            }
            Self::NoEnding { last: None, .. } => say!("There is no scene yet, and so no ending.").to_owned(),
            Self::NoEnding { last: Some(last), happens, changes } => {
                let lacks = match (happens, changes) {
                    (false, false) => say!("what happens, and what that changes"),
                    (false, true) => say!("what happens"),
                    (true, _) => say!("what that changes"),
                };
                say!("{} is the last scene, and does not say {lacks}. How does it end?", title(film, *last))
            }
            Self::NoShots(scenes) => {
                let titles: Vec<String> = scenes.iter().map(|scene| title(film, *scene)).collect();
                match titles.as_slice() {
                    [only] => say!("{only} has no shots yet."),
                    several => say!("These scenes have no shots yet: {}.", several.join(", ")),
                }
            }
            Self::Lasts { total_s, scenes } => {
                let longest = scenes.iter().copied().reduce(|one, other| if other.1 > one.1 { other } else { one });
                let whole = say!("The cut lasts {}", minutes(*total_s));
                match longest.filter(|_| scenes.len() > 1) {
                    Some((scene, seconds)) => say!(
                        "{whole}. The longest scene, {}, has {} of it ({:.0} %). Is that the length you meant?",
                        title(film, scene),
                        minutes(seconds),
                        seconds / total_s * 100.0
                    ),
                    None => say!("{whole}. Is that the length you meant?"),
                }
            }
        }
    }
}

/// What a scene is called: its title, or its number in the film.
fn title(film: &Film, id: SceneId) -> String {
    let Some(at) = film.scenes.iter().position(|scene| scene.id == id) else {
        return say!("A scene").to_owned();
    };
    let called = film.scenes.get(at).map(|scene| scene.facts.title.trim()).filter(|title| !title.is_empty());
    called.map_or_else(|| say!("Scene {}", at + 1), |title| format!("\u{201c}{title}\u{201d}"))
}

/// Seconds as people say them.
fn minutes(seconds: f64) -> String {
    let seconds = libm::round(seconds);
    let (minutes, rest) = (libm::floor(seconds / 60.0), seconds % 60.0);
    if minutes > 0.0 { say!("{minutes:.0} min {rest:.0} s") } else { say!("{seconds:.0} s") }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::findings::cut::example::{film, level, two};
    use crate::scene::SceneFacts;
    use std::sync::Arc;

    fn names(film: &Film) -> Vec<&'static str> {
        story_lacks(film).iter().map(StoryLack::name).collect()
    }

    fn with_facts(facts: SceneFacts) -> Film {
        let mut film = film(two(), vec![level(1, 180.0, 2.0), level(2, 250.0, 2.0)]);
        Arc::make_mut(&mut film.scenes[0]).facts = Arc::new(facts);
        film
    }

    fn told() -> SceneFacts {
        SceneFacts {
            title: "The key".to_owned(),
            place: crate::id::PlaceId::new(1),
            obstacle: "the door is locked".to_owned(),
            happens: "she finds the key".to_owned(),
            changes: "they are in".to_owned(),
            ..SceneFacts::default()
        }
    }

    #[test]
    fn a_film_of_which_nothing_is_said_lacks_everything() {
        let mut empty = with_facts(SceneFacts::default());
        empty.scenes.clear();
        assert_eq!(names(&empty), ["nobody", "nowhere", "no_trouble", "nothing_changes", "no_ending"]);
    }

    #[test]
    fn a_told_story_lacks_nothing_and_says_its_length() {
        let film = with_facts(told());
        let lacks = story_lacks(&film);
        let [StoryLack::Lasts { total_s, .. }] = lacks[..] else { panic!("{lacks:?}") };
        assert!((total_s - 8.0).abs() < 1e-12, "{total_s}");
        assert_eq!(lacks[0].words(&film), "The cut lasts 8 s. Is that the length you meant?");
    }

    #[test]
    fn the_last_scene_must_happen_and_change_something() {
        let unsaid = with_facts(SceneFacts { happens: " ".to_owned(), ..told() });
        let lacks = story_lacks(&unsaid);
        assert_eq!(lacks[0].name(), "no_ending");
        assert_eq!(
            lacks[0].words(&unsaid),
            "\u{201c}The key\u{201d} is the last scene, and does not say what happens. How does it end?"
        );
        assert_eq!(
            names(&with_facts(SceneFacts { changes: String::new(), ..told() }))[..2],
            ["nothing_changes", "no_ending"]
        );
    }

    #[test]
    fn scenes_without_shots_are_named() {
        let mut film = with_facts(told());
        let mut bare = Scene::clone(&film.scenes[0]);
        (bare.id, bare.shots, bare.cut) = (SceneId::new(2).expect("small"), Vec::new(), Vec::new());
        bare.facts = Arc::new(SceneFacts { title: String::new(), ..told() });
        film.scenes.push(Arc::new(bare));
        let lacks = story_lacks(&film);
        assert_eq!(lacks[0].words(&film), "Scene 2 has no shots yet.");
        assert_eq!(
            lacks[1].words(&film),
            "The cut lasts 8 s. The longest scene, \u{201c}The key\u{201d}, has 8 s of it (100 %). Is that the length you \
             meant?"
        );
    }

    #[test]
    fn a_long_cut_is_said_in_minutes() {
        assert_eq!(
            (minutes(59.4), minutes(90.0), minutes(119.6)),
            ("59 s".into(), "1 min 30 s".into(), "2 min 0 s".into())
        );
    }

    /// A film of scenes called by their seconds, each as long.
    fn lasting(seconds: &[f64]) -> (Film, String) {
        let mut film = with_facts(told());
        let model = film.scenes.remove(0);
        for (id, planned_s) in (1..).zip(seconds) {
            let mut scene = Scene::clone(&model);
            scene.id = SceneId::new(id).expect("small");
            scene.facts = Arc::new(SceneFacts { title: format!("{id}: {planned_s}"), ..told() });
            scene.shots = vec![Arc::new(crate::shot::Shot { planned_s: *planned_s, ..level(1, 180.0, 2.0) })];
            scene.cut.truncate(1);
            film.scenes.push(Arc::new(scene));
        }
        let lacks = story_lacks(&film);
        let said = lacks.last().expect("it lasts").words(&film);
        (film, said)
    }

    #[test]
    fn the_longest_scene_is_named_wherever_it_stands_and_of_two_the_first() {
        for (seconds, longest) in
            [([6.0, 3.0, 1.0], "1: 6"), ([1.0, 3.0, 6.0], "3: 6"), ([4.0, 4.0, 2.0], "1: 4")]
        {
            let (_, said) = lasting(&seconds);
            assert!(said.starts_with("The cut lasts 10 s. The longest scene, "), "{said}");
            assert!(said.contains(&format!("\u{201c}{longest}\u{201d}")), "{said}");
        }
        assert!(lasting(&[6.0, 3.0, 1.0]).1.contains("has 6 s of it (60 %)"));
    }

    #[test]
    fn every_lack_has_a_name_and_words_of_its_own() {
        let film = with_facts(told());
        let scene = film.scenes[0].id;
        let ending = |happens, changes| StoryLack::NoEnding { last: Some(scene), happens, changes };
        let all = [
            StoryLack::Nobody,
            StoryLack::Nowhere,
            StoryLack::NoTrouble,
            StoryLack::NothingChanges,
            StoryLack::NoEnding { last: None, happens: false, changes: false },
            ending(false, false),
            ending(false, true),
            ending(true, false),
            StoryLack::NoShots(vec![scene]),
            StoryLack::Lasts { total_s: 61.0, scenes: vec![(scene, 61.0)] },
        ];
        let words = all.each_ref().map(|lack| lack.words(&film));
        assert_eq!(std::collections::BTreeSet::from(words.clone()).len(), words.len(), "{words:?}");
        let names = all.each_ref().map(StoryLack::name);
        assert_eq!(std::collections::BTreeSet::from(names).len(), 7, "{names:?}");
    }
}
