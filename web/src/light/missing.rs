//! What stands between the screen and the sky of a place, with a button for each way on.

use language::say;
use leptos::prelude::*;

use super::Sheets;
use super::light_desk::{Lacks, LightDesk};
use crate::story::words::sentence_of;
use crate::widgets::{live, open};

/// What is missing; nothing while nothing is.
#[component]
pub(super) fn Missing(light: LightDesk, sheets: Sheets) -> impl IntoView {
    let lacks = Memo::new(move |_| light.lacks());
    move || {
        let lacks = lacks.get()?;
        if lacks == Lacks::Asked && light.sky().with(Option::is_some) {
            return None;
        }
        if lacks == Lacks::Asked {
            return Some(
                view! { <p class="quiet" role="status">{say!("Looking the day up")}</p> }.into_any(),
            );
        }
        let ways = match lacks {
            Lacks::Place | Lacks::Spot => (say!("Say where it is"), Way::Place),
            Lacks::Date => (say!("Say which day it is"), Way::Day),
            Lacks::Asked | Lacks::Refused(_) => (say!("Try again"), Way::Again),
        };
        let go = move |_| match ways.1 {
            Way::Place => open(sheets.place),
            Way::Day => open(sheets.day),
            Way::Again => light.shooting().almanac.try_again(),
        };
        let also = matches!(lacks, Lacks::Refused(_)).then(|| {
            view! { <button type="button" on:click=move |_| open(sheets.place)>{say!("Look at the place")}</button> }
        });
        Some(
            view! {
                <div class="light-missing" role="status">
                    <p>{live(move || words(&lacks))}</p>
                    <div class="light-missing-ways">
                        <button type="button" class="next" on:click=go>{ways.0}</button>
                        {also}
                    </div>
                </div>
            }
            .into_any(),
        )
    }
}

/// What a button does about it.
#[derive(Clone, Copy)]
enum Way {
    Place,
    Day,
    Again,
}

fn words(lacks: &Lacks) -> String {
    let table = say!("Until then every setup has the light that is usual for its hour and its weather.");
    match lacks {
        Lacks::Place => {
            say!("The sun is known by place and date, and this scene has no place yet. {table}")
        }
        Lacks::Spot => {
            say!("The sun is known by place and date, and nobody has said where this place is. {table}")
        }
        Lacks::Date => say!("The sun is known by place and date, and the day has no date yet. {table}"),
        Lacks::Asked => String::new(),
        Lacks::Refused(why) => format!("{} {table}", sentence_of(why)),
    }
}
