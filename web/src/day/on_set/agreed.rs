//! Who has agreed to be filmed, where filming is allowed, and what of a place's sound is recorded.

use std::sync::Arc;

use film::{CastMember, Command, PersonId, Place, PlaceId, ShotId};
use language::say;
use leptos::prelude::*;
use staging::Age;

use crate::day::hand::Hand;
use crate::story::words::capital;
use crate::widgets::{Tick, live, when};

/// Everybody and every place of some setups: what there is to tick.
#[derive(Debug, Clone, PartialEq, Default)]
struct Asked {
    people: Vec<PersonId>,
    places: Vec<PlaceId>,
}

/// Those of one setup, folded once everything is ticked.
#[component]
pub(super) fn AgreedHere(hand: Hand, shot: ShotId) -> impl IntoView {
    let asked = Memo::new(move |_| {
        hand.read(|_, _, plan| {
            let setup = plan.setup_of(shot)?;
            let places = setup.scene.facts.place.into_iter().collect();
            Some(Asked { people: setup.people.clone(), places })
        })
        .flatten()
        .unwrap_or_default()
    });
    let left = left_to_agree(hand, asked);
    let summary = live(move || match left.get() {
        0 => say!("Consent and sound").to_owned(),
        left => say!("Consent and sound: {left} not agreed yet"),
    });
    let is_open = untrack(|| left.get() > 0);
    view! {
        <details class="fold set-agreed" open=is_open>
            <summary>{summary}</summary>
            <Ticks hand asked />
        </details>
    }
}

/// Those of the whole day.
#[component]
pub(in crate::day) fn EverybodyAgreed(hand: Hand) -> impl IntoView {
    let asked = Memo::new(move |_| {
        hand.read(|_, _, plan| {
            let mut asked = Asked::default();
            for setup in &plan.setups {
                let is_new = |who: &&PersonId| !asked.people.contains(who);
                let people: Vec<PersonId> = setup.people.iter().filter(is_new).copied().collect();
                asked.people.extend(people);
                let place = setup.scene.facts.place.filter(|place| !asked.places.contains(place));
                asked.places.extend(place);
            }
            asked
        })
        .unwrap_or_default()
    });
    view! { <Ticks hand asked /> }
}

fn left_to_agree(hand: Hand, asked: Memo<Asked>) -> Memo<usize> {
    Memo::new(move |_| {
        let count = hand.desk.film.with(|film| {
            let film = film.as_ref()?;
            asked.with(|asked| {
                let people = asked.people.iter().filter_map(|who| film.person(*who));
                let places = asked.places.iter().filter_map(|place| film.place(*place));
                Some(
                    people.filter(|person| !person.consent).count()
                        + places.filter(|place| !place.permission).count(),
                )
            })
        });
        count.unwrap_or(0)
    })
}

/// A box to tick for each, and the words to ask what holds there.
#[component]
fn Ticks(hand: Hand, asked: Memo<Asked>) -> impl IntoView {
    let people = move || asked.with(|asked| asked.people.iter().map(|who| person(hand, *who)).collect_view());
    let places =
        move || asked.with(|asked| asked.places.iter().map(|place| at_place(hand, *place)).collect_view());
    view! {
        <div class="set-ticks">
            {people}
            {places}
            {when(move || asked.with(|asked| *asked == Asked::default()), || view! {
                <p>{say!("Nobody is seen, and no place is named.")}</p>
            }.into_any())}
            <p>
                {say!("Ask before you film, and ask what is the rule there: some places want it in writing, and for a \
                      child whoever is responsible for them agrees. A tick here is a note and no contract.")}
            </p>
        </div>
    }
}

fn person(hand: Hand, who: PersonId) -> AnyView {
    let one = Memo::new(move |_| hand.desk.film.with(|film| film.as_ref()?.person(who).cloned()));
    let words =
        live(move || one.with(|one| one.as_ref().map(|one| agrees(&one.name, one.age)).unwrap_or_default()));
    let is_on = Signal::derive(move || one.with(|one| one.as_ref().is_some_and(|one| one.consent)));
    let set = move |is_on: bool| {
        let cast = hand.desk.film.with_untracked(|film| {
            let member = |one: &CastMember| CastMember {
                consent: if one.id == who { is_on } else { one.consent },
                ..one.clone()
            };
            Some(film.as_ref()?.cast.iter().map(member).collect::<Arc<[_]>>())
        });
        if let Some(cast) = cast {
            hand.tell(hand.desk.change(say!("Tick consent"), None, Command::SetCast(cast)));
            hand.desk.end_gesture();
        }
    };
    view! { <Tick words is_on set /> }.into_any()
}

/// Who agrees to what.
fn agrees(name: &str, age: Age) -> String {
    match age {
        Age::Adult => say!("{} has agreed to be filmed", capital(name)),
        Age::Child => say!("Whoever is responsible for {name} has agreed, and so has {name}"),
    }
}

fn at_place(hand: Hand, id: PlaceId) -> AnyView {
    let one = Memo::new(move |_| hand.desk.film.with(|film| film.as_ref()?.place(id).cloned()));
    let set = move |what: &'static str, change: fn(&mut Place, bool), is_on: bool| {
        let places = hand.desk.film.with_untracked(|film| {
            let mut places = film.as_ref()?.places.to_vec();
            change(places.iter_mut().find(|place| place.id == id)?, is_on);
            Some(Arc::from(places))
        });
        if let Some(places) = places {
            hand.tell(hand.desk.change(what, None, Command::SetPlaces(places)));
            hand.desk.end_gesture();
        }
    };
    let one_tick =
        move |said: fn(&str) -> String, what, read: fn(&Place) -> bool, change: fn(&mut Place, bool)| {
            let words =
                live(move || one.with(|one| one.as_ref().map(|one| said(&one.name)).unwrap_or_default()));
            let is_on = Signal::derive(move || one.with(|one| one.as_ref().is_some_and(read)));
            view! { <Tick words is_on set=move |is_on| set(what, change, is_on) /> }
        };
    view! {
        {one_tick(
            |name| say!("{}: whoever is responsible there allows filming", capital(name)),
            say!("Tick that filming is allowed"),
            |place| place.permission,
            |place, is_on| place.permission = is_on,
        )}
        // Half a minute: common practice.
        {one_tick(
            |name| say!("{}: room tone recorded, half a minute with nobody moving", capital(name)),
            say!("Tick room tone"),
            |place| place.room_tone,
            |place, is_on| place.room_tone = is_on,
        )}
        {one_tick(
            |name| say!("{}: wild tracks recorded", capital(name)),
            say!("Tick wild tracks"),
            |place| place.wild_track,
            |place, is_on| place.wild_track = is_on,
        )}
    }
    .into_any()
}
