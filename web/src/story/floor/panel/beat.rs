//! What can be said of a beat: what happens, when it starts, and where its line is.

use film::{Beat, BeatId, LineWish, PersonId};
use language::{key, say};
use leptos::prelude::*;

use super::parts::{MoveButtons, button, list, seconds_range, toggle};
use crate::story::floor::FloorDesk;
use crate::story::floor::blocking_edit::{
    LineEnd, adds_beat, by_hand, names_beat, reorders_beat, starts_beat, wishes_line,
};
use crate::story::floor::shown::Shown;
use crate::story::floor::thing::Thing;
use crate::story::words::seconds;
use crate::widgets::{Choice, Choices, StepField, live, when};

/// How the line of a beat is found.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Way {
    Auto,
    Between,
    Along,
    ByHand,
    None,
}

impl Way {
    const ALL: [(Self, &'static str); 5] = [
        (Self::Auto, key!("by itself")),
        (Self::Between, key!("between two")),
        (Self::Along, key!("along a walk")),
        (Self::ByHand, key!("by hand")),
        (Self::None, key!("no line")),
    ];

    const fn of(wish: LineWish) -> Self {
        match wish {
            LineWish::Auto => Self::Auto,
            LineWish::Between(..) => Self::Between,
            LineWish::Along(_) => Self::Along,
            LineWish::ByHand(..) => Self::ByHand,
            LineWish::None => Self::None,
        }
    }

    /// The wish that begins with this way: between the first two, along the first who walks, by hand where the line is
    /// now. None where there are not as many people.
    fn wish(self, shown: &Shown, id: BeatId) -> Option<LineWish> {
        let marks = &shown.scene.blocking.marks;
        match self {
            Self::Auto => Some(LineWish::Auto),
            Self::Between => Some(LineWish::Between(marks.first()?.who, marks.get(1)?.who)),
            Self::Along => {
                let walker = marks.iter().find(|mark| mark.way.is_some()).or_else(|| marks.first())?;
                Some(LineWish::Along(walker.who))
            }
            Self::ByHand => Some(by_hand(&shown.film, &shown.scene.blocking, id)),
            Self::None => Some(LineWish::None),
        }
    }
}

/// Another beat, which is shown then.
pub(super) fn add(floor: FloorDesk) {
    let id: BeatId = floor.desk.fresh();
    floor.change_as(say!("Add a beat"), Thing::Beat(id), &|shown| adds_beat(&shown.scene.blocking, id));
    if floor.of_shown_now(|shown| Thing::Beat(id).is_in(&shown.scene.blocking)).unwrap_or(false) {
        floor.show_beat(id);
    }
}

/// Something of a beat, while it is there.
fn of_beat<Told>(floor: FloorDesk, id: BeatId, tell: impl FnOnce(&Beat) -> Told) -> Option<Told> {
    floor.of_shown(|shown| shown.scene.blocking.beats.iter().find(|beat| beat.id == id).map(tell)).flatten()
}

/// What can be said of a beat.
#[component]
pub(super) fn BeatPanel(floor: FloorDesk, id: BeatId) -> impl IntoView {
    let beat = Thing::Beat(id);
    let title = live(move || {
        let name = floor.of_shown(|shown| beat.name(&shown.film, &shown.scene.blocking));
        name.unwrap_or_default()
    });
    let what = live(move || of_beat(floor, id, |beat| beat.what.clone()).unwrap_or_default());
    let starts = Signal::derive(move || of_beat(floor, id, |beat| beat.starts_s).unwrap_or(0.0));
    let reorder = move |later: bool| {
        floor.change(|name| say!("Reorder {name}"), beat, &|shown| {
            Ok(reorders_beat(&shown.scene.blocking, id, later))
        });
        floor.desk.end_gesture();
    };
    view! {
        <section class="item" aria-label=title>
            <h3>{title}</h3>
            <label class="field">
                <span>{say!("What happens")}</span>
                <input
                    type="text"
                    maxlength="200"
                    prop:value=what
                    on:change:target=move |event| {
                        let what = event.target().value();
                        floor.change(|name| say!("Name {name}"), beat, &|shown| {
                            Ok(names_beat(&shown.scene.blocking, id, &what))
                        });
                    }
                />
            </label>
            <StepField
                label=say!("Starts")
                range=seconds_range(starts.get_untracked())
                step=0.5
                value=starts
                words=|at_s| say!("{} into the scene", seconds(at_s))
                set=move |at_s| {
                    floor.change(|name| say!("Change the time of {name}"), beat, &|shown| {
                        Ok(starts_beat(&shown.scene.blocking, id, at_s))
                    });
                }
            />
            <LineChoice floor id />
            <div class="floor-walk">
                {button(say!("Earlier"), move || reorder(false))}
                {button(say!("Later"), move || reorder(true))}
                {button(say!("Remove the beat"), move || floor.remove(beat))}
            </div>
        </section>
    }
}

/// Where the line of a beat is.
#[component]
fn LineChoice(floor: FloorDesk, id: BeatId) -> impl IntoView {
    let beat = Thing::Beat(id);
    let wish = Memo::new(move |_| of_beat(floor, id, |beat| beat.line).unwrap_or_default());
    let way = Signal::derive(move || {
        let way = Way::of(wish.get());
        Way::ALL.iter().position(|(one, _)| *one == way)
    });
    let choices =
        Way::ALL.iter().enumerate().map(|(at, (_, name))| Choice::new(Some(at), language::text(name)));
    let set = move |wish: LineWish| {
        floor.change(|name| say!("Change the line of {name}"), beat, &|shown| {
            Ok(wishes_line(&shown.scene.blocking, id, wish))
        });
    };
    let choose = move |at: Option<usize>| {
        let way = at.filter(|_| at != way.get_untracked()).and_then(|at| Way::ALL.get(at));
        let wish = way.and_then(|(way, _)| floor.of_shown_now(|shown| way.wish(shown, id)));
        match wish {
            Some(Some(wish)) => set(wish),
            Some(None) => floor.refuse(say!("There are not as many people in the scene.").to_owned()),
            None => {}
        }
    };
    let names = Memo::new(move |_| {
        let names = floor.of_shown(|shown| {
            let marks = shown.scene.blocking.marks.iter();
            marks.map(|mark| (mark.who.number(), shown.film.name_of(mark.who).to_owned())).collect::<Vec<_>>()
        });
        names.unwrap_or_default()
    });
    let whom = move |which: usize| {
        Signal::derive(move || match wish.get() {
            LineWish::Between(one, other) => Some(if which == 0 { one } else { other }.number()),
            LineWish::Along(who) => Some(who.number()),
            LineWish::Auto | LineWish::ByHand(..) | LineWish::None => None,
        })
    };
    let set_whom = move |which: usize| {
        Callback::new(move |key: u64| {
            let Some(who) = PersonId::new(key) else { return };
            match wish.get_untracked() {
                // Whoever is at the one end cannot be at the other: the two change places.
                LineWish::Between(one, other) if which == 0 => {
                    set(LineWish::Between(who, if other == who { one } else { other }));
                }
                LineWish::Between(one, other) => {
                    set(LineWish::Between(if one == who { other } else { one }, who));
                }
                LineWish::Along(_) => set(LineWish::Along(who)),
                LineWish::Auto | LineWish::ByHand(..) | LineWish::None => {}
            }
        })
    };
    let end = move |name: &str, end: LineEnd| {
        let end = Thing::LineEnd(id, end);
        let is_chosen = Signal::derive(move || floor.chosen() == Some(end));
        toggle(name.to_owned(), is_chosen, move || floor.choose(Some(end)))
    };
    let is = move |one: Way| move || Way::of(wish.get()) == one;
    view! {
        <Choices legend=say!("The line") choices chosen=way choose />
        {when(is(Way::Between), move || {
            view! {
                {list(say!("From"), names, whom(0), set_whom(0))}
                {list(say!(in "an end of the line", "To"), names, whom(1), set_whom(1))}
            }
            .into_any()
        })}
        {when(is(Way::Along), move || list(say!("Whose walk"), names, whom(0), set_whom(0)))}
        {when(is(Way::ByHand), move || {
            view! {
                <div class="floor-walk" role="group" aria-label=say!("Ends of the line")>
                    {end(say!("One end"), LineEnd::From)}
                    {end(say!("Other end"), LineEnd::To)}
                </div>
                <MoveButtons floor />
            }
            .into_any()
        })}
    }
}
