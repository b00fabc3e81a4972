//! A film as what is kept: its own changes and records, from `film`.

use film::{Command, CommandRecord, EditError, Film, FilmRecord, open_film};

use super::kept::{About, Kept};

impl Kept for Film {
    type Change = Command;
    type Refusal = EditError;
    type Record = FilmRecord;
    type ChangeRecord = CommandRecord;

    fn apply(&mut self, change: Command) -> Result<Command, EditError> {
        Self::apply(self, change)
    }

    fn replaces(later: &Command, earlier: &Command) -> bool {
        match (later, earlier) {
            (Command::SetFacts(_), Command::SetFacts(_))
            | (Command::SetKit(_), Command::SetKit(_))
            | (Command::SetCast(_), Command::SetCast(_))
            | (Command::SetPlaces(_), Command::SetPlaces(_))
            | (Command::SetDays(_), Command::SetDays(_)) => true,
            (Command::SetSceneFacts { scene, .. }, Command::SetSceneFacts { scene: before, .. })
            | (Command::SetBlocking { scene, .. }, Command::SetBlocking { scene: before, .. })
            | (Command::SetCut { scene, .. }, Command::SetCut { scene: before, .. })
            | (Command::SetKept { scene, .. }, Command::SetKept { scene: before, .. })
            // Where something is moved to does not depend on where it was.
            | (Command::MoveScene { scene, .. }, Command::MoveScene { scene: before, .. }) => scene == before,
            (Command::SetShot(shot), Command::SetShot(before)) => shot.id == before.id,
            (Command::SetTake(take), Command::SetTake(before)) => take.id == before.id,
            (Command::MoveShot { shot, .. }, Command::MoveShot { shot: before, .. }) => shot == before,
            (Command::All(parts), Command::All(before)) => {
                parts.len() == before.len()
                    && parts.iter().zip(before).all(|(part, before)| puts_in_place(part) && Self::replaces(part, before))
            }
            // Coming and going depend on what is there.
            _ => false,
        }
    }

    fn about(&self) -> About {
        About {
            title: self.facts.title.clone(),
            shots: self.scenes.iter().map(|scene| scene.shots.len()).sum(),
            seconds: self.cut_s(),
        }
    }

    fn record(&self) -> FilmRecord {
        FilmRecord::from(self)
    }

    fn of_record(record: &FilmRecord) -> (Self, Vec<String>) {
        let (film, problems) = record.to_film();
        (film, problems.iter().map(ToString::to_string).collect())
    }

    fn change_record(change: &Command) -> CommandRecord {
        CommandRecord::from(change)
    }

    fn of_change_record(record: &CommandRecord) -> Result<Command, String> {
        record.to_command().map_err(|error| error.to_string())
    }
}

/// Whether a change puts something in the place of what was there, whatever else changed between: moves do not, when several
/// things of one list move in turn.
const fn puts_in_place(change: &Command) -> bool {
    !matches!(change, Command::MoveScene { .. } | Command::MoveShot { .. } | Command::All(_))
}

/// A film from a file, and what in the file could not be used; in words why it is none.
pub(super) fn read_file(file: &[u8]) -> Result<(Film, Vec<String>), String> {
    let opened = open_film(file).map_err(|error| error.to_string())?;
    Ok((opened.film, opened.problems.iter().map(ToString::to_string).collect()))
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use film::{FilmFacts, Scene, SceneBlocking, SceneFacts, SceneId};

    use super::*;

    fn facts(title: &str) -> Command {
        let kit = film::kits()[0].to_kit().expect("a preset");
        let film = Film::empty(Arc::new(kit), film::frame_shapes()[0].1);
        Command::SetFacts(Arc::new(FilmFacts { title: title.to_owned(), ..FilmFacts::clone(&film.facts) }))
    }

    fn scene_facts(scene: u64) -> Command {
        Command::SetSceneFacts {
            scene: SceneId::new(scene).expect("small"),
            facts: Arc::new(SceneFacts::default()),
        }
    }

    fn scene(number: u64) -> Command {
        let id = SceneId::new(number).expect("small");
        Command::InsertScene { at: 0, scene: Arc::new(Scene::empty(id, SceneBlocking::default())) }
    }

    #[test]
    fn what_is_put_in_the_same_place_replaces_what_was_there() {
        let all = |one: Command, other: Command| Command::All(vec![one, other]);
        assert!(Film::replaces(&facts("a"), &facts("b")));
        assert!(Film::replaces(&scene_facts(1), &scene_facts(1)));
        assert!(!Film::replaces(&scene_facts(1), &scene_facts(2)));
        assert!(!Film::replaces(&scene(1), &scene(1)));
        assert!(Film::replaces(&all(facts("a"), scene_facts(1)), &all(facts("b"), scene_facts(1))));
        assert!(!Film::replaces(&all(facts("a"), scene(1)), &all(facts("b"), scene(1))));
        assert!(!Film::replaces(&all(facts("a"), scene_facts(1)), &facts("b")));
    }
}
