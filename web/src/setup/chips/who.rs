//! Who or what the shot is of.

use language::say;
use leptos::html;
use leptos::prelude::*;
use requests::{
    AgeRequest, ArrangementRequest, PostureRequest, SecondPersonRequest, ShotSizeRequest, SubjectRequest,
    USUAL_STATURE_M,
};

use crate::dressing::{CHILD_M, THING_M, half_turn};
use crate::session::{Plan, Session};
use crate::setup::sizes::set_size;
use crate::widgets::{Choice, Choices, LengthField, Sheet, SupportFields};

/// Which way somebody can face, degrees clockwise from straight at the phone.
const FACINGS: [i32; 6] = [90, 35, 0, -35, -90, 180];

/// How many are in the shot, or whether it is of a thing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Cast {
    One,
    Beside,
    OverShoulder,
    Object,
}

/// Who or what the shot is of.
#[component]
pub(crate) fn WhoSheet(session: Session, node: NodeRef<html::Dialog>) -> impl IntoView {
    let plan = session.plan;
    let unit = Signal::derive(move || session.unit());
    let is_object = move || plan.with(cast) == Cast::Object;
    view! {
        <Sheet node title=say!("Who")>
            <Choices
                legend=say!("In the shot")
                choices=[
                    Choice::new(Cast::One, say!("one person")),
                    Choice::new(Cast::Beside, say!("two people")),
                    Choice::new(Cast::OverShoulder, say!("over the shoulder")),
                    Choice::new(Cast::Object, say!("a thing")),
                ]
                chosen=Signal::derive(move || plan.with(cast))
                choose=move |chosen| plan.update(|plan| set_cast(plan, chosen))
            />
            <Show when=is_object>
                <LengthField
                    label=say!("Its size")
                    hint=say!("Its height or width, whichever is more.")
                    range=(0.005, 20.0)
                    unit
                    value=Signal::derive(move || plan.with(|plan| plan.shot.insert_size_m.unwrap_or(THING_M)))
                    set=move |metres| plan.update(|plan| plan.shot.insert_size_m = Some(metres))
                />
                <SupportFields
                    unit
                    above_floor_m=Signal::derive(move || plan.with(|plan| plan.shot.insert_above_floor_m))
                    set=move |metres| plan.update(|plan| plan.shot.insert_above_floor_m = metres)
                />
            </Show>
            <Show when=move || !is_object()>
                <PersonFields session />
            </Show>
            <Show when=move || matches!(plan.with(cast), Cast::Beside | Cast::OverShoulder)>
                <SecondFields session />
            </Show>
        </Sheet>
    }
}

/// The person in focus.
#[component]
fn PersonFields(session: Session) -> impl IntoView {
    let plan = session.plan;
    let subject = move |part: fn(&SubjectRequest) -> bool| {
        plan.with(|plan| plan.shot.subject.as_ref().is_some_and(part))
    };
    let change = move |change: &dyn Fn(&mut SubjectRequest)| {
        plan.update(|plan| {
            if let Some(subject) = &mut plan.shot.subject {
                change(subject);
            }
        });
    };
    view! {
        <LengthField
            label=say!("How tall")
            hint=say!("1.72, 172 cm or 5'8\"")
            range=(0.4, 2.8)
            unit=Signal::derive(move || session.unit())
            value=Signal::derive(move || plan.with(|plan| plan.shot.subject.as_ref().map_or(USUAL_STATURE_M, |subject| subject.stature_m)))
            set=move |metres| change(&|subject| subject.stature_m = metres)
        />
        <Choices
            legend=say!("Whose proportions")
            choices=[Choice::new(false, say!("adult")), Choice::new(true, say!("child"))]
            chosen=Signal::derive(move || subject(|subject| subject.age == Some(AgeRequest::Child)))
            choose=move |child: bool| change(&|subject| {
                subject.age = child.then_some(AgeRequest::Child);
                // A usual stature to start from, where the other one's was left alone.
                if child && subject.stature_m > 1.5 { subject.stature_m = CHILD_M }
                if !child && subject.stature_m < 1.4 { subject.stature_m = USUAL_STATURE_M }
            })
        />
        <Choices
            legend=say!("How they are")
            choices=[Choice::new(false, say!("standing")), Choice::new(true, say!("seated"))]
            chosen=Signal::derive(move || subject(|subject| subject.posture == Some(PostureRequest::Seated)))
            choose=move |seated: bool| change(&|subject| subject.posture = seated.then_some(PostureRequest::Seated))
        />
        <Choices
            legend=say!("They face")
            choices=FACINGS.map(|degrees| Choice::new(degrees, facing_name(degrees)))
            chosen=Signal::derive(move || plan.with(|plan| nearest_facing(plan.facing_deg)))
            choose=move |degrees| plan.update(|plan| plan.facing_deg = f64::from(degrees))
        />
    }
}

/// The other one.
#[component]
fn SecondFields(session: Session) -> impl IntoView {
    let plan = session.plan;
    let second = move |part: fn(&SecondPersonRequest) -> Option<f64>, otherwise: f64| {
        plan.with(|plan| {
            let subject = plan.shot.subject.as_ref();
            subject.and_then(|subject| subject.second_person.as_ref()).and_then(part).unwrap_or(otherwise)
        })
    };
    let change = move |change: &dyn Fn(&mut SecondPersonRequest)| {
        plan.update(|plan| {
            if let Some(second) =
                plan.shot.subject.as_mut().and_then(|subject| subject.second_person.as_mut())
            {
                change(second);
            }
        });
    };
    let unit = Signal::derive(move || session.unit());
    view! {
        <LengthField
            label=say!("How tall the other is")
            range=(0.4, 2.8)
            unit
            value=Signal::derive(move || second(|second| second.stature_m, USUAL_STATURE_M))
            set=move |metres| change(&|second| second.stature_m = Some(metres))
        />
        <LengthField
            label=say!("From one to the other")
            range=(0.1, 50.0)
            unit
            value=Signal::derive(move || second(|second| second.apart_m, if plan.with(cast) == Cast::Beside { 0.7 } else { 1.0 }))
            set=move |metres| change(&|second| second.apart_m = Some(metres))
        />
    }
}

/// How many a plan's shot is of.
fn cast(plan: &Plan) -> Cast {
    if plan.shot.shot_size == ShotSizeRequest::Insert {
        return Cast::Object;
    }
    let second = plan.shot.subject.as_ref().and_then(|subject| subject.second_person.as_ref());
    match second.map(|second| second.arrangement) {
        None => Cast::One,
        Some(Some(ArrangementRequest::OverShoulder)) => Cast::OverShoulder,
        Some(Some(ArrangementRequest::Beside) | None) => Cast::Beside,
    }
}

fn set_cast(plan: &mut Plan, cast: Cast) {
    plan.shot.stand_at_m = None;
    if cast == Cast::Object {
        set_size(plan, ShotSizeRequest::Insert);
        return;
    }
    if plan.shot.shot_size == ShotSizeRequest::Insert {
        plan.shot.shot_size = ShotSizeRequest::Medium;
    }
    let subject = plan.shot.subject.get_or_insert(SubjectRequest {
        stature_m: USUAL_STATURE_M,
        posture: None,
        age: None,
        second_person: None,
    });
    let arrangement = match cast {
        Cast::One | Cast::Object => None,
        Cast::Beside => Some(ArrangementRequest::Beside),
        Cast::OverShoulder => Some(ArrangementRequest::OverShoulder),
    };
    let stature_m = Some(subject.stature_m);
    subject.second_person = arrangement.map(|arrangement| SecondPersonRequest {
        stature_m,
        posture: subject.posture,
        age: None,
        arrangement: Some(arrangement),
        apart_m: None,
        nearer_m: None,
    });
    // Past a shoulder, the one who faces the phone stands on the third that the shoulder leaves free.
    if cast == Cast::OverShoulder {
        plan.shot.across_share = Some(2.0 / 3.0);
        plan.shot.shot_size = ShotSizeRequest::ChestUp;
    }
}

/// The facing choice nearest to a direction.
fn nearest_facing(degrees: f64) -> i32 {
    let off = |facing: i32| half_turn(f64::from(facing) - degrees).abs();
    FACINGS.into_iter().min_by(|one, other| off(*one).total_cmp(&off(*other))).unwrap_or(0)
}

/// One of the ways that somebody can face, in words.
fn facing_name(degrees: i32) -> &'static str {
    match degrees {
        90 => say!(in "where they face", "frame left"),
        35 => say!(in "where they face", "half left"),
        0 => say!(in "where they face", "the phone"),
        -35 => say!(in "where they face", "half right"),
        -90 => say!(in "where they face", "frame right"),
        _ => say!(in "where they face", "away"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_cast_gives_a_shot_that_can_be_asked_for() {
        let kit = crate::session::first_kit().to_kit().expect("a preset");
        for chosen in [Cast::Object, Cast::OverShoulder, Cast::Beside, Cast::One] {
            let mut plan = Plan::first();
            set_cast(&mut plan, chosen);
            assert_eq!(cast(&plan), chosen);
            assert!(!plan.compare(&kit).is_empty(), "{plan:?}");
        }
    }

    #[test]
    fn the_nearest_facing_goes_the_short_way_round() {
        assert_eq!(nearest_facing(-175.0), 180);
        assert_eq!(nearest_facing(20.0), 35);
        assert_eq!(nearest_facing(3.0), 0);
    }
}
