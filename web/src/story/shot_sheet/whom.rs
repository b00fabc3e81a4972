//! Who or what a shot is of.

use film::{PersonId, Shot, ShotOf};
use glam::DVec2;
use language::say;
use leptos::prelude::*;
use staging::{ShotSize, Support};
use units::Length;

use super::Editing;
use super::hands::Hands;
use crate::dressing::THING_M;
use crate::widgets::{Choice, Choices, LengthField, SupportFields, live, when};

/// How a shot is of people, or that it is of a thing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Kind {
    One,
    Two,
    OverShoulder,
    PointOfView,
    Object,
}

impl Kind {
    const fn of(of: &ShotOf) -> Self {
        match of {
            ShotOf::One(_) => Self::One,
            ShotOf::Two(..) => Self::Two,
            ShotOf::OverShoulder { .. } => Self::OverShoulder,
            ShotOf::PointOfView { .. } => Self::PointOfView,
            ShotOf::Object { .. } => Self::Object,
        }
    }

    /// Such a shot of the first, with the second where it needs one.
    fn made_of(self, first: PersonId, second: PersonId) -> Option<ShotOf> {
        match self {
            Self::One => Some(ShotOf::One(first)),
            Self::Two => Some(ShotOf::Two(first, second)),
            Self::OverShoulder => Some(ShotOf::OverShoulder { facing: first, near: second }),
            Self::PointOfView => Some(ShotOf::PointOfView { of: second, seen: first }),
            Self::Object => None,
        }
    }

    const fn needs_two(self) -> bool {
        matches!(self, Self::Two | Self::OverShoulder | Self::PointOfView)
    }
}

/// Kind, first and second person, or the object.
#[component]
pub(super) fn Whom(editing: Editing) -> impl IntoView {
    let kind = Memo::new(move |_| editing.read(|shot| Kind::of(&shot.of), Kind::One));
    let people = Memo::new(move |_| {
        editing
            .desk
            .film
            .with(|film| {
                let film = film.as_ref()?;
                let scene = film.scene(editing.scene_id)?;
                let named =
                    scene.blocking.marks.iter().map(|mark| (mark.who, film.name_of(mark.who).to_owned()));
                Some(named.collect::<Vec<_>>())
            })
            .unwrap_or_default()
    });
    let pair = Memo::new(move |_| {
        let mut those = editing.read(|shot| shot.of.standing().collect::<Vec<_>>(), Vec::new()).into_iter();
        (those.next(), those.next())
    });
    let set = move |kind: Kind, first: Option<PersonId>, second: Option<PersonId>| {
        let all = people.get_untracked();
        let first = first.or(all.first().map(|(who, _)| *who));
        let other = || all.iter().map(|(who, _)| *who).find(|who| Some(*who) != first);
        let second = second.filter(|who| Some(*who) != first).or_else(other);
        editing.change(say!("Change whom it is of"), &|shot| {
            let made = match (first, second) {
                (Some(first), Some(second)) => kind.made_of(first, second),
                (Some(first), None) => kind.made_of(first, first).filter(|_| !kind.needs_two()),
                (None, _) => None,
            };
            if let Some(of) = made {
                shot.of = of;
                if shot.size == ShotSize::Insert {
                    shot.size = ShotSize::Medium;
                }
            } else if kind == Kind::Object {
                make_object(shot, editing);
            }
        });
    };
    let is_two = Memo::new(move |_| kind.get().needs_two());
    let has_two = move || people.with(|people| people.len() > 1);
    let kinds = move || {
        let mut kinds = vec![Choice::new(Kind::One, say!("one person"))];
        if has_two() {
            kinds.extend([
                Choice::new(Kind::Two, say!("two people")),
                Choice::new(Kind::OverShoulder, say!("over the shoulder")),
                Choice::new(Kind::PointOfView, say!("as another sees them")),
            ]);
        }
        kinds.push(Choice::new(Kind::Object, say!("a thing")));
        kinds
    };
    view! {
        {move || view! {
            <Choices
                legend=say!("Who or what")
                choices=kinds()
                chosen=kind.into()
                choose=move |kind: Kind| {
                    let (first, second) = pair.get_untracked();
                    set(kind, first, second);
                }
            />
        }}
        {when(move || kind.get() != Kind::Object, move || view! {
            <PersonChoice legend=say!("In focus") people chosen=Signal::derive(move || pair.get().0) choose=move |who: PersonId| {
                let (first, second) = pair.get_untracked();
                // Choosing the other one turns the two round.
                let second = if Some(who) == second { first } else { second };
                set(kind.get_untracked(), Some(who), second);
            } />
        }.into_any())}
        {when(move || is_two.get(), move || view! {
            <PersonChoice legend=say!("The other one") people chosen=Signal::derive(move || pair.get().1) choose=move |who: PersonId| {
                let (first, second) = pair.get_untracked();
                let first = if Some(who) == first { second } else { first };
                set(kind.get_untracked(), first, Some(who));
            } />
        }.into_any())}
        {when(move || kind.get() == Kind::Object, move || view! { <ObjectFields editing /> }.into_any())}
    }
}

/// Makes a shot one of a thing that lies where they are.
fn make_object(shot: &mut Shot, editing: Editing) {
    let place = editing.desk.film.with_untracked(|film| {
        let film = film.as_ref()?;
        let scene = film.scene(editing.scene_id)?;
        scene.blocking.place_at(shot.of.subject()?, scene.blocking.starts_s(shot.beat))
    });
    shot.of = ShotOf::Object {
        name: String::new(),
        size: Length::from_m(THING_M),
        place: place.unwrap_or(DVec2::ZERO),
        support: Support::Table,
        hands: Vec::new(),
    };
    shot.size = ShotSize::Insert;
}

/// One of the scene's people.
#[component]
fn PersonChoice(
    legend: &'static str,
    people: Memo<Vec<(PersonId, String)>>,
    chosen: Signal<Option<PersonId>>,
    #[prop(into)] choose: Callback<PersonId>,
) -> impl IntoView {
    let options = move || {
        let option = |(who, name): (PersonId, String)| {
            view! { <option value=who.number().to_string() prop:selected=move || chosen.get() == Some(who)>{name}</option> }
        };
        people.get().into_iter().map(option).collect_view()
    };
    view! {
        <label class="field">
            <span>{legend}</span>
            <select on:change:target=move |event| {
                if let Some(who) = event.target().value().parse().ok().and_then(PersonId::new) {
                    choose.run(who);
                }
            }>
                {options}
            </select>
        </label>
    }
}

/// The thing's name and size, and what it is on.
#[component]
fn ObjectFields(editing: Editing) -> impl IntoView {
    let name = live(move || {
        editing.read(
            |shot| match &shot.of {
                ShotOf::Object { name, .. } => name.clone(),
                ShotOf::One(_)
                | ShotOf::Two(..)
                | ShotOf::OverShoulder { .. }
                | ShotOf::PointOfView { .. } => String::new(),
            },
            String::new(),
        )
    });
    let size_m = Signal::derive(move || {
        editing.read(
            |shot| match &shot.of {
                ShotOf::Object { size, .. } => size.to_m(),
                ShotOf::One(_)
                | ShotOf::Two(..)
                | ShotOf::OverShoulder { .. }
                | ShotOf::PointOfView { .. } => THING_M,
            },
            THING_M,
        )
    });
    let above_floor_m = Signal::derive(move || {
        editing.read(
            |shot| match &shot.of {
                ShotOf::Object { support, .. } => support.to_height().map(Length::to_m),
                ShotOf::One(_)
                | ShotOf::Two(..)
                | ShotOf::OverShoulder { .. }
                | ShotOf::PointOfView { .. } => None,
            },
            None,
        )
    });
    let put_on = move |above_floor_m: Option<f64>| {
        editing.change(say!("Change what the thing is on"), &|shot| {
            if let ShotOf::Object { support, .. } = &mut shot.of {
                *support = Support::from_height(above_floor_m.map(Length::from_m));
            }
        });
    };
    view! {
        <label class="field">
            <span>{say!("What it is")}</span>
            <input type="text" maxlength="200" prop:value=name on:input:target=move |event| {
                let text = event.target().value();
                editing.change(say!("Name the thing"), &|shot| {
                    if let ShotOf::Object { name, .. } = &mut shot.of {
                        name.clone_from(&text);
                    }
                });
            } />
        </label>
        <LengthField
            label=say!("Its size")
            hint=say!("Its height or width, whichever is more.")
            range=(0.005, 20.0)
            unit=editing.unit
            value=size_m
            set=move |metres: f64| editing.change(say!("Change the thing's size"), &|shot| {
                if let ShotOf::Object { size, .. } = &mut shot.of {
                    *size = Length::from_m(metres);
                }
            })
        />
        <SupportFields unit=editing.unit above_floor_m set=put_on />
        <Hands editing />
    }
}
