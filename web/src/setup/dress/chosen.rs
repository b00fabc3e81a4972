//! Everybody and everything on the floor by name, and the chosen one's steps: all that is done on the plan, by keys.

use language::{key, say};
use leptos::prelude::*;

use crate::dressing::{Item, Pose, Property, Steps, TAPE_CLASSES, TAPES};
use crate::later::{LaterRoom, Room};
use crate::session::{Plan, Session};
use crate::widgets::{Choice, Choices, StepField, live};

/// The names on the floor, and what can be changed of the chosen one.
#[component]
pub(in crate::setup) fn DressPanel(session: Session) -> impl IntoView {
    let items = Memo::new(move |_| session.plan.with(Plan::items));
    let selected = Memo::new(move |_| session.selected());
    let names = move || {
        let names = items.get().into_iter().map(|(item, name)| {
            let is_chosen = move || (selected.get() == Some(item)).to_string();
            let press = move |_| session.select((selected.get_untracked() != Some(item)).then_some(item));
            view! {
                <button type="button" class="toggle" aria-pressed=live(is_chosen) on:click=press>
                    {name}
                </button>
            }
        });
        names.collect_view()
    };
    let has_chosen = Memo::new(move |_| selected.with(Option::is_some));
    view! {
        <div class="names" role="group" aria-label=say!("On the floor")>{names}</div>
        <Show when=move || has_chosen.get()>
            <LaterRoom session room=Room::Item left=|()| {} />
        </Show>
    }
}

/// What can be changed of the chosen one.
#[component]
pub(crate) fn ChosenItem(session: Session) -> impl IntoView {
    let selected = Memo::new(move |_| session.selected());
    move || {
        let item = selected.get()?;
        let items = session.plan.with_untracked(Plan::items);
        let name = items.into_iter().find(|(one, _)| *one == item).map_or_else(String::new, |(_, name)| name);
        Some(view! { <ItemPanel session item name /> })
    }
}

/// What can be changed of one of them.
#[component]
fn ItemPanel(session: Session, item: Item, name: String) -> impl IntoView {
    let properties = session.plan.with_untracked(|plan| item.properties(plan));
    let fields = properties.iter().map(|property| field(session, item, *property));
    let is_placed = matches!(item, Item::Person(_) | Item::Piece(_));
    let remove = move |_| {
        session.select(None);
        session.change_set(Some(item), "remove", &|plan| plan.remove(item));
        session.dressing.end_change();
    };
    let (heading, removes) = (name.clone(), say!("Remove {name}"));
    view! {
        <section class="item" aria-label=name>
            <h3>{heading}</h3>
            {(!matches!(item, Item::Piece(_))).then(|| view! { <PersonChoices session item /> })}
            {fields.collect_view()}
            {is_placed.then(|| view! { <button type="button" on:click=remove>{removes}</button> })}
        </section>
    }
}

/// What somebody does and wears.
#[component]
fn PersonChoices(session: Session, item: Item) -> impl IntoView {
    let plan = session.plan;
    // Whether those of the shot sit is the shot's to say: its framing hangs on it.
    let poses: &'static [(Pose, &'static str)] = match item {
        Item::Person(_) => &[
            (Pose::Standing, key!("standing")),
            (Pose::Seated, key!("seated")),
            (Pose::Walking, key!("walking")),
        ],
        Item::Subject | Item::Second => &[(Pose::Standing, key!("still")), (Pose::Walking, key!("walking"))],
        Item::Piece(_) => &[],
    };
    // By their places in the list: rows of choices of one type share their code.
    let pose = Signal::derive(move || {
        let pose = plan.with(|plan| plan.pose(item))?;
        poses.iter().position(|(one, _)| *one == pose)
    });
    let choices = poses.iter().enumerate().map(|(at, (_, name))| Choice::new(Some(at), language::text(name)));
    let set_pose = move |at: Option<usize>| {
        if let Some((pose, _)) = at.and_then(|at| poses.get(at)) {
            session.change_set(Some(item), "pose", &|plan| plan.set_pose(item, *pose));
        }
    };
    let tapes = TAPES.iter().zip(TAPE_CLASSES).enumerate();
    let tapes =
        tapes.map(|(tape, ((name, _), class))| Choice::drawn(Some(tape), language::text(name), class));
    let set_tape = move |tape: Option<usize>| {
        if let Some(tape) = tape {
            session.change_set(Some(item), "clothes", &|plan| plan.set_tape(item, tape));
        }
    };
    view! {
        <Show when=move || pose.get().is_some()>
            <Choices legend=say!("What they do") choices=choices.clone() chosen=pose choose=set_pose />
        </Show>
        <Choices
            legend=say!("Clothes and tape")
            choices=tapes
            chosen=Signal::derive(move || plan.with(|plan| plan.tape(item)))
            choose=set_tape
        />
    }
}

/// One property by steps.
fn field(session: Session, item: Item, property: Property) -> AnyView {
    let Steps { label, range, step } = property.steps();
    let value = Signal::derive(move || session.plan.with(|plan| plan.read(item, property)));
    let words = Callback::new(move |value| property.words(value, session.unit()));
    let set = Callback::new(move |value| {
        session.change_set(Some(item), label, &|plan| plan.write(item, property, value));
    });
    view! { <StepField label range step value words set /> }.into_any()
}
