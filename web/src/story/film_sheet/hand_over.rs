//! The film handed over to others, in the files that the terminal writes too.

use film::{
    ExportError, Film, HandedFile, Rehearsals, framing_file, matte_files, table_files, timeline_file,
};
use language::say;
use leptos::prelude::*;

use crate::films::Desk;
use crate::handing::{Handing, HandingTold};

/// As what a film is handed over.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Form {
    Tables,
    Timeline,
    Framing,
    FrameLines,
}

impl Form {
    const ALL: [Self; 4] = [Self::Tables, Self::Timeline, Self::Framing, Self::FrameLines];

    /// What its button says.
    fn name(self) -> &'static str {
        match self {
            Self::Tables => say!("Tables (CSV)"),
            Self::Timeline => say!("Timeline (OpenTimelineIO)"),
            Self::Framing => say!("Framing (ASC FDL)"),
            Self::FrameLines => say!("Frame lines (PNG)"),
        }
    }

    /// The files of a film.
    fn files(self, film: &Film, rehearsals: &mut Rehearsals) -> Result<Vec<HandedFile>, ExportError> {
        match self {
            Self::Tables => table_files(film, rehearsals),
            Self::Timeline => Ok(vec![timeline_file(film, rehearsals)?]),
            Self::Framing => Ok(vec![framing_file(film)?]),
            Self::FrameLines => matte_files(film),
        }
    }
}

/// The section: a button a form.
#[component]
pub(super) fn HandOver(desk: Desk) -> impl IntoView {
    let handing = Handing::new();
    let buttons = Form::ALL.map(|form| {
        let hand = move |_| handing.hand(move || files(desk, form));
        view! { <button type="button" on:click=hand>{form.name()}</button> }
    });
    view! {
        <section class="story-hand-over" aria-labelledby="story-hand-over">
            <h3 id="story-hand-over">{say!("Hand it over")}</h3>
            <p class="quiet">
                {say!(
                    "To the edit, to a spreadsheet, to whoever frames: shots, cut and takes as tables; the cut as a \
                     timeline, with the best takes by their clips' names; what of each recording is delivered, as a list \
                     and as an image to lay over it."
                )}
            </p>
            <div class="story-files">{buttons.collect_view()}</div>
            <HandingTold handing />
        </section>
    }
}

/// The files of the film that is open.
fn files(desk: Desk, form: Form) -> Result<Vec<HandedFile>, String> {
    desk.film.with_untracked(|film| {
        let film = film.as_ref().ok_or(say!("no film is open"))?;
        desk.walk(|rehearsals| form.files(film, rehearsals)).map_err(|error| error.to_string())
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_form_has_files_of_its_own_with_the_films_name() {
        let film = film::demo_film();
        let mut names: Vec<String> = Vec::new();
        for form in Form::ALL {
            let files = form.files(&film, &mut Rehearsals::default()).expect("files");
            assert!(!files.is_empty(), "{form:?}");
            for HandedFile { name, bytes } in files {
                assert!(name.starts_with("the-biscuit-thief") && !bytes.is_empty(), "{name}");
                names.push(name);
            }
        }
        let count = names.len();
        names.sort();
        names.dedup();
        assert_eq!(names.len(), count, "two files have one name");
    }
}
