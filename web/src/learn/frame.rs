//! A lesson in a frame of somebody's own page: its pictures and its handles, and nothing else.

use leptos::mount::mount_to_body;
use leptos::prelude::*;

use super::Learning;
use super::lesson_view::{LessonHandles, LessonPictures};
use crate::app::apply_theme;
use crate::pictures::Pictures;
use crate::session::Session;

/// Opens the lesson of the address in the whole of the document.
pub fn open_frame() {
    crate::speech::settle(mount);
}

fn mount() {
    mount_to_body(|| {
        // As it was left here, with the visitor's own phone; nothing that is done in a frame is kept.
        let session = Session::as_left();
        apply_theme(session);
        Pictures::provide(session);
        let learning = Learning::open(session);
        view! {
            <main class="learn-frame">
                {learning.told_problem()}
                <LessonPictures learning />
                <LessonHandles learning />
            </main>
        }
    });
}
