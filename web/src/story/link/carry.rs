//! The command that carries a changed plan into its film.

use std::sync::Arc;

use film::{Command, FilmFacts, PersonId, ShotOf};
use optics::ShutterAngle;
use requests::ShutterRequest;

use super::Linked;
use super::alike::Differences;
use super::onto_floor::{facts_after, light_after, pieces_after};
use super::onto_people::People;
use super::onto_shot::shot_after;
use crate::session::Plan;

/// A change of a film, and what it is of in plain English words, which are said later; no words where it is of several
/// things.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Carried {
    pub(crate) what: Option<&'static str>,
    pub(crate) command: Command,
}

/// What carries into the film what differs between the plan as the film gave it and the plan as somebody left it; none if
/// nothing that a film can have differs.
pub(crate) fn carried(
    linked: Linked<'_>,
    before: &Plan,
    after: &Plan,
    fresh: &mut dyn FnMut() -> PersonId,
) -> Option<Carried> {
    let mut differences = Differences::between(before, after);
    let Linked { scene, shot, .. } = linked;
    let mut shot_now = shot_after(linked, &mut differences)?;
    let mut people = People::of(linked, &differences, shot_now.planned_s);
    people.set_own(&mut differences);
    people.set_others(&mut differences, fresh);
    if let ShotOf::Object { place, .. } = &mut shot_now.of {
        *place += people.origin() - linked.rehearsal.origin;
    }
    if let Some(pieces) = pieces_after(linked, &mut differences, people.origin()) {
        people.blocking.pieces = pieces;
    }
    if let Some(light) = light_after(&mut differences) {
        people.blocking.light = light;
    }
    let scene_facts = facts_after(linked, &mut differences);
    let facts = film_facts_after(linked, &mut differences);
    let (cast, blocking) = people.changed();
    let parts = [
        facts.map(|facts| Command::SetFacts(Arc::new(facts))),
        cast.map(Command::SetCast),
        blocking.map(|blocking| Command::SetBlocking { scene: scene.id, blocking: Arc::new(blocking) }),
        scene_facts.map(|facts| Command::SetSceneFacts { scene: scene.id, facts: Arc::new(facts) }),
        (shot_now != *shot).then(|| Command::SetShot(Arc::new(shot_now))),
    ];
    let mut parts: Vec<Command> = parts.into_iter().flatten().collect();
    let command = if parts.len() > 1 { Command::All(parts) } else { parts.pop()? };
    Some(Carried { what: differences.only(), command })
}

/// What holds for all of the film after, if that is something else.
fn film_facts_after(linked: Linked<'_>, differences: &mut Differences<'_>) -> Option<FilmFacts> {
    let mut facts = FilmFacts::clone(&linked.film.facts);
    if let Some(aspect) = differences.of("frame shape", |plan| plan.shot.delivery.aspect) {
        facts.aspect = aspect.0;
    }
    if let Some(recording) = differences.of("recording mode", |plan| plan.recording.clone()) {
        facts.recording = recording;
    }
    let angle = |plan: &Plan| {
        plan.shot.shutter.unwrap_or(ShutterRequest::USUAL).angle_deg.unwrap_or(ShutterAngle::HALF.to_deg())
    };
    if let Some(Ok(shutter)) = differences.of("shutter", angle).map(ShutterAngle::from_deg) {
        facts.shutter = shutter;
    }
    (facts != *linked.film.facts).then_some(facts)
}
