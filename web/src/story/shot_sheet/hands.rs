//! Whose hands are seen with the thing that a shot is of.

use film::{Film, PersonId, ShotOf};
use language::say;
use leptos::prelude::*;

use super::Editing;
use crate::widgets::{live, when};

/// A chip for each of the cast, whether they stand in the scene or not; nothing while nobody is in the film.
#[component]
pub(super) fn Hands(editing: Editing) -> impl IntoView {
    let cast = Memo::new(move |_| {
        let named =
            |film: &Film| film.cast.iter().map(|member| (member.id, member.name.clone())).collect::<Vec<_>>();
        editing.desk.film.with(|film| film.as_ref().map(named)).unwrap_or_default()
    });
    let chips = move || {
        let chip = |(who, name): (PersonId, String)| {
            let pressed =
                live(move || editing.read(|shot| shot.of.hands().contains(&who), false).to_string());
            let press = move |_| {
                editing.change(say!("Change whose hands are seen"), &|shot| turn_round(&mut shot.of, who));
            };
            view! { <button type="button" class="choice" aria-pressed=pressed on:click=press>{name}</button> }
        };
        cast.get().into_iter().map(chip).collect_view()
    };
    when(
        move || cast.with(|cast| !cast.is_empty()),
        move || {
            view! {
                <fieldset class="choices">
                    <legend>{say!("Whose hands")}</legend>
                    <div>{chips}</div>
                </fieldset>
            }
            .into_any()
        },
    )
}

/// Somebody's hands come into a shot of a thing, or leave it.
fn turn_round(of: &mut ShotOf, who: PersonId) {
    let ShotOf::Object { hands, .. } = of else { return };
    match hands.iter().position(|one| *one == who) {
        Some(at) => {
            hands.remove(at);
        }
        None => hands.push(who),
    }
}

#[cfg(test)]
mod tests {
    use glam::DVec2;
    use staging::Support;
    use units::Length;

    use super::*;

    #[test]
    fn a_chip_that_is_pressed_again_takes_the_hands_away() {
        let [one, other] = [1, 2].map(|number| PersonId::new(number).expect("small"));
        let mut of = ShotOf::Object {
            name: String::new(),
            size: Length::from_m(0.1),
            place: DVec2::ZERO,
            support: Support::Table,
            hands: Vec::new(),
        };
        for (who, expected) in [(other, vec![other]), (one, vec![other, one]), (other, vec![one])] {
            turn_round(&mut of, who);
            assert_eq!(of.hands(), expected);
        }
        let mut alone = ShotOf::One(one);
        turn_round(&mut alone, other);
        assert_eq!(alone, ShotOf::One(one), "a shot of somebody has no hands of its own");
    }
}
