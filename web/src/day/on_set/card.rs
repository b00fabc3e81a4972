//! What whoever holds the phone reads of a setup.

use film::{SetupCard, Severity, ShotId, clock};
use language::say;
use leptos::prelude::{Get as _, With as _};
use units::Length;

use super::left::planned_min;
use crate::day::hand::Hand;
use crate::day::words;
use crate::light::in_a_line;
use crate::story::words::{capital, sentence_of};
use crate::widgets::held;

/// A setup in words.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Card {
    /// When, where, and with whom.
    pub(super) when: String,
    /// Lens, distance, height, aim, focus.
    pub(super) sentence: String,
    /// Shutter, ISO, filters, and what is left over.
    pub(super) light: String,
    /// What happens, what is heard, what to know.
    pub(super) happening: Vec<(&'static str, String)>,
    /// What to do before the first take, in order.
    pub(super) steps: Vec<Step>,
    /// What spoils the shot.
    pub(super) spoils: Vec<String>,
    /// What may hurt somebody.
    pub(super) cautions: Vec<String>,
    /// What can be shot all the same, and is looked at first.
    pub(super) warnings: Vec<String>,
}

/// Something to do before the first take.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Step {
    /// What it is, as files have it: the same in every language, however numbers are written. Its values are part of it:
    /// another ISO is something else to do.
    pub(super) key: String,
    /// What is read.
    pub(super) words: String,
}

/// What there is to say of a setup now; none if it cannot be made, or is not of the day.
pub(super) fn card(hand: Hand, shot: ShotId) -> Option<Card> {
    let daylights = hand.shooting().daylights.get();
    let session = hand.session();
    let step = Length::from_m(session.settings.with(|settings| settings.step_m));
    let unit = session.unit();
    hand.read(|film, day, plan| {
        let (setup, placed) = (plan.setup_of(shot)?, plan.placed(shot));
        let at_min = planned_min(plan, shot);
        let light = setup.light_at(film, day, &daylights, at_min);
        let of = SetupCard {
            film,
            scene: &setup.scene,
            shot: &setup.shot,
            rehearsal: &setup.rehearsal,
            light: light.as_ref(),
            sun: setup.sun_at(&daylights, at_min),
            people: &setup.people,
            begins_scene: setup.scene.shots.first().is_some_and(|first| first.id == shot),
            step,
            unit,
        };
        let hours = placed.map(|placed| say!("{} to {}", clock(placed.starts_min), clock(placed.ends_min)));
        let place = setup.scene.facts.place.and_then(|place| film.place(place));
        let place = place.filter(|place| !place.name.is_empty()).map(|place| say!("at {}", place.name));
        let people = words::people(film, setup);
        let people = (!people.is_empty()).then(|| say!("with {people}"));
        let when: Vec<String> = [hours, place, people].into_iter().flatten().collect();
        let keys = language::for_files(|| {
            let light = setup.light_at(film, day, &daylights, at_min);
            SetupCard { light: light.as_ref(), ..of }.steps()
        });
        let steps = keys.into_iter().zip(of.steps());
        let told = light.as_ref().map(|light| format!("{}.", capital(&in_a_line(light))));
        let (fails, warns): (Vec<_>, Vec<_>) =
            of.findings().into_iter().partition(|(severity, _)| *severity == Severity::Fails);
        let in_words = |found: Vec<(Severity, String)>| found.iter().map(|(_, words)| held(words)).collect();
        Some(Card {
            when: capital(&when.join(", ")),
            sentence: of.sentence(),
            light: told.unwrap_or_default(),
            happening: of.happening(),
            steps: steps.map(|(key, words)| Step { key, words: sentence_of(&words) }).collect(),
            spoils: in_words(fails),
            cautions: of.cautions().iter().map(|words| held(words)).collect(),
            warnings: in_words(warns),
        })
    })
    .flatten()
}
