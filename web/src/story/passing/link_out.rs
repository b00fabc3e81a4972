//! The film as a link.

use film::{Film, LONGEST_LINK, LinkContents, film_link};
use language::say;
use leptos::prelude::*;

use crate::address::address;
use crate::films::Desk;
use crate::widgets::{CopyField, Tick, live, when};

/// Makes a link, and says how long it is and what is in it.
#[component]
pub(in crate::story) fn LinkOut(desk: Desk) -> impl IntoView {
    let contents = RwSignal::new(LinkContents::default());
    let last = RwSignal::new(None::<(Film, Result<String, String>)>);
    let make = move |_| {
        let link = desk.film.get_untracked().map(|film| {
            let link = film_link(&film, contents.get_untracked());
            let link = link
                .map(|fragment| address(None, &fragment))
                .map_err(|long| say!("No link was made: {long}."));
            (film, link)
        });
        last.set(link);
    };
    // The link of a film that has been changed since, or of another one, would bring what nobody sees here.
    let made = Memo::new(move |_| {
        last.with(|last| {
            let (of, link) = last.as_ref()?;
            desk.film.with(|film| film.as_ref() == Some(of)).then(|| link.clone())
        })
    });
    let choice =
        move |words: &'static str, read: fn(&LinkContents) -> bool, set: fn(&mut LinkContents, bool)| {
            let choose = move |is_on| {
                contents.update(|contents| set(contents, is_on));
                last.set(None);
            };
            view! { <Tick words is_on=Signal::derive(move || contents.with(read)) set=choose /> }
        };
    let told = live(move || match made.get() {
        None => String::new(),
        Some(Ok(link)) => say!(
            "{} characters of the {LONGEST_LINK} that a link may have after its #. Whoever has the link has the film; \
             no server sees it.",
            link.split_once('#').map_or(0, |(_, fragment)| fragment.len())
        ),
        Some(Err(why)) => why,
    });
    let link = live(move || made.get().and_then(Result::ok).unwrap_or_default());
    let has_link = move || made.with(|made| matches!(made, Some(Ok(_))));
    view! {
        <section class="story-link" aria-labelledby="story-link">
            <h3 id="story-link">{say!("Pass it on as a link")}</h3>
            <p class="quiet">
                {say!(
                    "The link has the whole film inside it, and works without this device. Notes and actions go as \
                     they are written."
                )}
            </p>
            {choice(say!("with people's names"), |contents| contents.names, |contents, is_on| contents.names = is_on)}
            {choice(
                say!("with where on earth the places are"),
                |contents| contents.coordinates,
                |contents, is_on| contents.coordinates = is_on,
            )}
            <p><button type="button" on:click=make>{say!("Make a link")}</button></p>
            <p role="status" class:problem=move || made.with(|made| matches!(made, Some(Err(_))))>{told}</p>
            {when(has_link, move || view! {
                <CopyField label=say!("The link") text=link />
            }.into_any())}
        </section>
    }
}
