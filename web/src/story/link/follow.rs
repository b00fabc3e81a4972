//! Film and plan follow each other, whichever of them is changed.

use std::cell::Cell;
use std::sync::Arc;
use std::time::Duration;

use film::{Command, Film, Kit, KitRecord, NoRehearsal, PersonId, Rehearsal, Scene, Shot, ShotId};
use language::say;
use leptos::prelude::*;

use super::Linked;
use super::alike::alike;
use super::carry::{Carried, carried};
use super::plan_of::plan_of;
use crate::films::Desk;
use crate::later::WayOut;
use crate::session::{Plan, Session};
use crate::story::words::missing;

/// What is to be done when a plan has changed.
#[derive(Debug, PartialEq)]
pub(super) enum Answer {
    /// Nothing: the film says the same.
    Rest,
    /// The film is changed.
    Carry(Carried),
    /// The plan is put back to what the film says, as it says what no film can have.
    PutBack(Box<Plan>),
}

/// What is to be done when the plan of a shot has become `plan`.
pub(super) fn when_plan_changed(
    linked: Linked<'_>,
    plan: &Plan,
    fresh: &mut dyn FnMut() -> PersonId,
) -> Answer {
    let Some(of_film) = when_film_changed(linked, plan) else { return Answer::Rest };
    match carried(linked, &of_film, plan, fresh) {
        Some(carried) => Answer::Carry(carried),
        None => Answer::PutBack(Box::new(of_film)),
    }
}

/// The plan to be shown when a film has changed; none if `plan` says the same.
pub(super) fn when_film_changed(linked: Linked<'_>, plan: &Plan) -> Option<Plan> {
    let of_film = linked.plan().with_wishes_of(plan);
    (!alike(&of_film, plan)).then_some(of_film)
}

impl Linked<'_> {
    /// The shot's plan.
    pub(super) fn plan(&self) -> Plan {
        plan_of(self.film, self.scene, self.shot, self.rehearsal)
    }
}

/// The shot that a plan is of, in the film that is open, walked through.
struct Opened {
    film: Film,
    scene: Arc<Scene>,
    shot: Arc<Shot>,
    rehearsal: Arc<Result<Rehearsal, NoRehearsal>>,
}

impl Opened {
    /// The shot of that number; none if no film is open that has it.
    fn shot(desk: Desk, number: u64) -> Option<Self> {
        let film = desk.film.with_untracked(Option::clone)?;
        let (scene, shot) = film.shot(ShotId::new(number)?)?;
        let (scene, shot) = (Arc::clone(scene), Arc::clone(shot));
        let rehearsal = desk.rehearsal(&film, &scene, &shot);
        Some(Self { film, scene, shot, rehearsal })
    }

    /// What the plan is made from.
    fn linked(&self) -> Result<Linked<'_>, NoRehearsal> {
        let Self { film, scene, shot, rehearsal } = self;
        let rehearsal = Result::as_ref(rehearsal).map_err(|why| *why)?;
        Ok(Linked { film, scene, shot, rehearsal })
    }
}

/// What is changed of a shot of the film that is open.
fn of_plan(session: Session, desk: Desk) -> Option<Opened> {
    let number = session.plan.with_untracked(Plan::shot_number)?;
    Opened::shot(desk, number)
}

/// Puts a plan in the place of the session's.
fn show(session: Session, plan: Plan) {
    if session.plan.with_untracked(Plan::shot_number) == plan.shot_number() {
        session.plan.set(plan);
    } else {
        session.open_plan(plan);
    }
}

/// Carries what was changed of the plan into the film.
fn carry(session: Session, desk: Desk) {
    let Some(opened) = of_plan(session, desk) else { return };
    let Ok(linked) = opened.linked() else { return };
    let plan = session.plan.get_untracked();
    match when_plan_changed(linked, &plan, &mut || desk.fresh()) {
        Answer::Rest => {}
        Answer::PutBack(of_film) => show(session, *of_film),
        Answer::Carry(Carried { what, command }) => {
            let (name, target) = step_name(linked, what);
            if desk.change(&name, target, command).is_err() {
                show(session, linked.plan().with_wishes_of(&plan));
            }
        }
    }
}

/// What a change is called among those that can be undone, and of what it is.
fn step_name(linked: Linked<'_>, what: Option<&'static str>) -> (String, Option<u64>) {
    let Linked { film, scene, shot, .. } = linked;
    let (scene_number, number) = film.number_of(shot.id).unwrap_or_default();
    match what {
        Some("frame shape") => (say!("Change the frame shape").to_owned(), None),
        Some("recording mode") => (say!("Change the recording mode").to_owned(), None),
        Some("shutter") => (say!("Change the shutter").to_owned(), None),
        Some("people") => (say!("Change the people").to_owned(), None),
        Some(what @ ("light" | "set" | "blocking" | "room")) => {
            let what = language::text(what);
            (say!("Change scene {scene_number}'s {what}"), Some(scene.id.number()))
        }
        Some(what) => {
            let what = language::text(what);
            (say!("Change shot {number}'s {what}"), Some(shot.id.number()))
        }
        None => (say!("Change shot {number}"), Some(shot.id.number())),
    }
}

/// Shows the plan that the film has now.
fn show_film(session: Session, desk: Desk) {
    let Some(opened) = of_plan(session, desk) else { return };
    let Ok(linked) = opened.linked() else { return };
    if let Some(plan) = session.plan.with_untracked(|plan| when_film_changed(linked, plan)) {
        show(session, plan);
    }
}

thread_local! {
    /// Whether plan and film have met since the page was opened.
    static HAVE_MET: Cell<bool> = const { Cell::new(false) };
    /// The way out of the room that was shown last, for what is done on a tap.
    static WAY_OUT: Cell<Option<WayOut>> = const { Cell::new(None) };
}

/// Keeps film, plan and kit in step as long as this is shown.
///
/// When they meet first after the page was opened, plan and kit are the newer ones: the page may have ended before what was
/// last changed of them had come into the film. From then on the film knows everything.
pub(crate) fn keep_in_step(session: Session) {
    let desk = Desk::here();
    WAY_OUT.set(use_context());
    Effect::new(move |before: Option<()>| {
        session.plan.track();
        if before.is_some() {
            carry(session, desk);
        }
    });
    Effect::new(move |_| {
        if desk.film.with(Option::is_none) {
            return;
        }
        if HAVE_MET.replace(true) {
            show_film(session, desk);
        } else if of_plan(session, desk).is_some() {
            carry_kit(desk, session.owned.get_untracked());
            carry(session, desk);
        }
    });
    keep_kit_in_step(session);
}

/// Keeps the film's kit in step with the crew's as long as this is shown.
pub(crate) fn keep_kit_in_step(session: Session) {
    let desk = Desk::here();
    Effect::new(move |before: Option<()>| {
        let kit = session.owned.get();
        if before.is_some() {
            carry_kit(desk, kit);
        }
    });
}

/// Keeps the crew's kit in step with the film's, so that a change of it that is undone is undone for both.
pub(super) fn follow_kit_of_film(session: Session, desk: Desk) {
    Effect::new(move |before: Option<Option<Arc<Kit>>>| {
        let kit = desk.film.with(|film| film.as_ref().map(|film| Arc::clone(&film.kit)));
        if let (Some(Some(earlier)), Some(kit)) = (&before, &kit)
            && !Arc::ptr_eq(earlier, kit)
        {
            show_kit(session, kit);
        }
        kit
    });
}

/// Takes the kit into the film that is open, if it is another.
fn carry_kit(desk: Desk, kit: Arc<Kit>) {
    let is_other = desk.film.with_untracked(|film| film.as_ref().is_some_and(|film| film.kit != kit));
    if is_other && let Err(error) = desk.change(say!("Change the kit"), None, Command::SetKit(kit)) {
        leptos::logging::warn!("the film does not take the kit: {error}");
    }
}

fn show_kit(session: Session, kit: &Kit) {
    if session.owned.with_untracked(|owned| **owned != *kit) {
        session.kit.set(KitRecord::from(kit));
    }
}

/// Opens a shot of the film in the session: its plan, and the film's kit.
///
/// # Errors
/// Says, in a sentence, what the film lacks for the shot.
pub(super) fn open(session: Session, desk: Desk, shot: ShotId) -> Result<(), String> {
    let Some(opened) = Opened::shot(desk, shot.number()) else {
        return Err(say!("That shot is not in the film any more.").to_owned());
    };
    let lacks = |why| say!("That shot cannot be set up: {}.", missing(&opened.film, why));
    let plan = opened.linked().map_err(lacks)?.plan();
    show_kit(session, &opened.film.kit);
    let plan = session.plan.with_untracked(|wishes| plan.with_wishes_of(wishes));
    show(session, plan);
    Ok(())
}

/// Opens a shot of the film in Set-up, and goes there; where the film lacks something for it, the desk says so.
pub(crate) fn open_in_setup(session: Session, desk: Desk, shot: ShotId) {
    match open(session, desk, shot) {
        Ok(()) => leave(WAY_OUT.get()),
        Err(why) => desk.problems.set(vec![why]),
    }
}

/// Leaves what is shown, after what was just changed has been told to the page.
pub(super) fn leave(way_out: Option<WayOut>) {
    if let Some(WayOut(leave)) = way_out {
        // A room that has closed meanwhile has been left.
        let go = move || {
            leave.try_with_value(|leave| leave());
        };
        set_timeout(go, Duration::ZERO);
    }
}
