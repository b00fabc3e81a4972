//! The page without a network: its service worker, the new version that waits, and whether this browser keeps films for good.
//!
//! A new version never takes the page away from anybody: it waits until it is asked for here, and what was done is kept first.

use std::cell::{Cell, RefCell};
use std::rc::Rc;
use std::time::Duration;

use language::say;
use leptos::prelude::*;
use wasm_bindgen::prelude::*;
use wasm_bindgen_futures::{JsFuture, spawn_local};
use web_sys::{EventTarget, ServiceWorkerContainer, ServiceWorkerRegistration, Url};

use crate::films::Desk;
use crate::lasting::{Lasting, lasting};

/// The worker's file, beside the page.
const WORKER: &str = "service_worker.js";
/// What the worker hears when the new version is wanted.
const USE_NOW: &str = "use now";
/// So long after the later module has come everything else is fetched: chosen so that the first pictures come first.
const BEGUN_AFTER: Duration = Duration::from_secs(1);
/// A new version is looked for so often at most, milliseconds: chosen, as new ones come every few weeks.
const BETWEEN_LOOKS_MS: f64 = 3_600_000.0;

/// How the page stands without a network.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Standing {
    /// Its files are being fetched.
    Preparing,
    /// They are all there.
    Ready,
    /// They could not all be fetched.
    Failed,
    /// This browser lets the page keep none.
    NotAllowed,
    /// So are those of a new version.
    NewWaits,
    /// Another tab has gone over to a new version, and this page is still of the one before.
    NewElsewhere,
    /// The new version was asked for, and why it cannot be had yet.
    NotYet(String),
}

/// Whether this browser keeps films until they are removed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Keeping {
    /// There was no film to ask for.
    Unknown,
    /// It does.
    Granted,
    /// It may clear them.
    Refused,
}

impl Standing {
    /// As the menu says it.
    pub(crate) fn words(&self) -> String {
        let words = match self {
            Self::Preparing => say!("Getting ready for use without a network."),
            Self::Ready => say!("Ready for use without a network."),
            Self::Failed => {
                say!(
                    "Not ready for use without a network: not everything could be fetched. It is tried again when the page is \
                 opened or looked at with a network."
                )
            }
            Self::NotAllowed => {
                say!(
                    "Needs a network whenever it is opened: this browser lets the page keep nothing here, as in a private \
                 window or at an address without https."
                )
            }
            Self::NewWaits => say!("A new version is ready. What you have done is kept first."),
            Self::NewElsewhere => {
                say!("Another tab has gone over to a new version. What you have done is kept first.")
            }
            Self::NotYet(why) => {
                return say!("The new version waits, as what you did last would be lost. {why}");
            }
        };
        words.to_owned()
    }

    /// Whether there is a new version to go over to.
    pub(crate) const fn is_new(&self) -> bool {
        matches!(self, Self::NewWaits | Self::NewElsewhere | Self::NotYet(_))
    }
}

impl Keeping {
    /// As the menu says it.
    pub(crate) fn words(self) -> Option<&'static str> {
        match self {
            Self::Unknown => None,
            Self::Granted => Some(say!("This browser keeps your films until you remove them.")),
            Self::Refused => Some(say!(
                "This browser may clear your films when it needs room: save each as a file, on the Story screen."
            )),
        }
    }
}

/// A handle on how this page stands, which outlives the rooms that show it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Offline {
    pub(crate) standing: Lasting<RwSignal<Standing>>,
    pub(crate) keeping: Lasting<RwSignal<Keeping>>,
}

/// What no signal tells of.
struct Place {
    offline: Offline,
    /// Keeps the signals alive.
    _owner: Owner,
    registration: RefCell<Option<ServiceWorkerRegistration>>,
    /// Whether a worker answered for this page before.
    was_controlled: Cell<bool>,
    /// Whether this page, and not another tab, asked for the new version.
    has_asked: Cell<bool>,
    looked_ms: Cell<f64>,
    has_asked_to_keep: Cell<bool>,
}

thread_local! {
    static PLACE: Rc<Place> = Rc::new(Place::new());
}

impl Place {
    fn here() -> Rc<Self> {
        PLACE.with(Rc::clone)
    }

    fn new() -> Self {
        let (offline, owner) = lasting(|| Offline {
            standing: Lasting::signal(Standing::Preparing),
            keeping: Lasting::signal(Keeping::Unknown),
        });
        Self {
            offline,
            _owner: owner,
            registration: RefCell::new(None),
            was_controlled: Cell::new(false),
            has_asked: Cell::new(false),
            looked_ms: Cell::new(js_sys::Date::now()),
            has_asked_to_keep: Cell::new(false),
        }
    }
}

/// Makes the page ready for use without a network, once everything that was asked for has had its turn.
pub fn begin_offline() {
    set_timeout(|| Offline::here().begin(), BEGUN_AFTER);
}

impl Offline {
    /// How this page stands.
    pub(crate) fn here() -> Self {
        Place::here().offline
    }

    /// Goes over to the new version, once everything that was done is kept.
    pub(crate) fn use_now(self) {
        spawn_local(async move {
            if let Err(why) = Desk::keep_all().await {
                self.standing.set(Standing::NotYet(why));
                return;
            }
            let place = Place::here();
            let waiting = place.registration.borrow().as_ref().and_then(ServiceWorkerRegistration::waiting);
            match waiting {
                // When it has taken over, the page is loaded anew.
                Some(waiting) => {
                    place.has_asked.set(true);
                    if let Err(error) = waiting.post_message(&USE_NOW.into()) {
                        leptos::logging::warn!("the new version cannot be asked: {error:?}");
                    }
                }
                // Another tab has let it take over.
                None => load_anew(),
            }
        });
    }

    /// Asks the browser not to clear what is kept here by itself, now that there is something.
    pub(crate) fn ask_to_keep(self) {
        if Place::here().has_asked_to_keep.replace(true) {
            return;
        }
        let storage = window().navigator().storage();
        // No browser has it at an address that is not safe.
        if storage.is_undefined() {
            self.keeping.set(Keeping::Refused);
            return;
        }
        spawn_local(async move {
            // Some browsers ask people, who are not to be asked for what they have granted.
            let is_granted = is_so(storage.persisted()).await || is_so(storage.persist()).await;
            self.keeping.set(if is_granted { Keeping::Granted } else { Keeping::Refused });
        });
    }

    fn begin(self) {
        let workers = window().navigator().service_worker();
        if workers.is_undefined() {
            self.standing.set(Standing::NotAllowed);
            return;
        }
        Place::here().was_controlled.set(workers.controller().is_some());
        let changing = workers.clone();
        hear(&workers, "controllerchange", move || self.controller_changed(&changing));
        drop(window_event_listener_untyped("online", move |_| self.look_again()));
        hear(&document(), "visibilitychange", move || {
            if !document().hidden() {
                self.look_again();
            }
        });
        self.register(workers);
    }

    fn register(self, workers: ServiceWorkerContainer) {
        let Some(address) = worker_address() else { return };
        self.standing.set(Standing::Preparing);
        spawn_local(async move {
            match JsFuture::from(workers.register(&address)).await {
                Ok(registration) => self.follow(registration.unchecked_into()),
                Err(error) => self.standing.set(refusal(&error)),
            }
        });
    }

    /// Follows what becomes of the worker, and of each that comes after it.
    fn follow(self, registration: ServiceWorkerRegistration) {
        let follow_installing = move |registration: &ServiceWorkerRegistration| {
            if let Some(installing) = registration.installing() {
                hear(&installing, "statechange", move || self.look());
            }
        };
        follow_installing(&registration);
        let found = registration.clone();
        hear(&registration, "updatefound", move || {
            follow_installing(&found);
            self.look();
        });
        Place::here().registration.replace(Some(registration));
        self.look();
    }

    /// Says how it stands now.
    fn look(self) {
        let place = Place::here();
        let registration = place.registration.borrow();
        let Some(registration) = registration.as_ref() else { return };
        let is_there = [registration.installing(), registration.waiting(), registration.active()];
        let standing = standing_of(is_there.map(|worker| worker.is_some()));
        let before = self.standing.get_untracked();
        // What another tab did is not undone by anything but a new load.
        if before != standing && !(before == Standing::NewElsewhere && standing == Standing::Ready) {
            self.standing.set(standing);
        }
    }

    /// Looks for a new version, or tries again to keep this one.
    fn look_again(self) {
        let place = Place::here();
        if self.standing.get_untracked() == Standing::Failed {
            self.register(window().navigator().service_worker());
            return;
        }
        let now_ms = js_sys::Date::now();
        if !is_due(now_ms, place.looked_ms.get()) {
            return;
        }
        place.looked_ms.set(now_ms);
        let update = place.registration.borrow().as_ref().map(ServiceWorkerRegistration::update);
        if let Some(Ok(update)) = update {
            spawn_local(async move {
                // Without a network there is none, and the next look finds it.
                drop(JsFuture::from(update).await);
            });
        }
    }

    /// Another worker answers from here on.
    fn controller_changed(self, workers: &ServiceWorkerContainer) {
        let place = Place::here();
        if place.has_asked.replace(false) {
            load_anew();
        } else if place.was_controlled.replace(workers.controller().is_some()) {
            self.standing.set(Standing::NewElsewhere);
        }
    }
}

/// How it stands, if a worker is installing, one is waiting, and one is active.
const fn standing_of(is_there: [bool; 3]) -> Standing {
    match is_there {
        [_, true, true] => Standing::NewWaits,
        [_, false, true] => Standing::Ready,
        // The first one does not wait for anybody.
        [true, _, false] | [false, true, false] => Standing::Preparing,
        [false, false, false] => Standing::Failed,
    }
}

/// Whether to look for a new version. A clock that was put back shall not put it off.
fn is_due(now_ms: f64, looked_ms: f64) -> bool {
    (now_ms - looked_ms).abs() >= BETWEEN_LOOKS_MS
}

/// Where the worker is.
fn worker_address() -> Option<String> {
    let page = document().base_uri().ok()??;
    Url::new_with_base(WORKER, &page).ok().map(|address| address.href())
}

/// What it means that a browser takes no worker: what cannot be fetched is an error of types, the rest is not allowed.
fn refusal(error: &JsValue) -> Standing {
    if error.is_instance_of::<js_sys::TypeError>() { Standing::Failed } else { Standing::NotAllowed }
}

/// Whether a browser says yes.
async fn is_so(asked: Result<js_sys::Promise, JsValue>) -> bool {
    match asked {
        Ok(asked) => JsFuture::from(asked).await.is_ok_and(|answer| answer.is_truthy()),
        Err(_) => false,
    }
}

fn load_anew() {
    if let Err(error) = window().location().reload() {
        leptos::logging::warn!("the page cannot be loaded anew: {error:?}");
    }
}

/// Hears of something for as long as the page is open.
fn hear(target: &EventTarget, event: &str, heard: impl FnMut() + 'static) {
    let heard: Closure<dyn FnMut()> = Closure::new(heard);
    let added = target.add_event_listener_with_callback(event, heard.as_ref().unchecked_ref());
    debug_assert!(added.is_ok(), "anything takes listeners: {added:?}");
    heard.forget();
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_new_version_waits_only_behind_one_that_works() {
        assert_eq!(standing_of([false, true, true]), Standing::NewWaits);
        assert_eq!(standing_of([false, true, false]), Standing::Preparing);
    }

    #[test]
    fn a_version_that_is_being_fetched_changes_nothing() {
        assert_eq!(standing_of([true, false, true]), Standing::Ready);
        assert_eq!(standing_of([true, true, true]), Standing::NewWaits);
        assert_eq!(standing_of([true, false, false]), Standing::Preparing);
    }

    #[test]
    fn without_any_worker_the_page_is_not_ready() {
        assert_eq!(standing_of([false; 3]), Standing::Failed);
        assert!(!Standing::Failed.is_new());
    }

    #[test]
    fn a_new_version_is_looked_for_once_an_hour() {
        assert!(!is_due(3_599_999.0, 0.0));
        assert!(is_due(3_600_000.0, 0.0));
        assert!(is_due(0.0, 3_600_000.0), "the clock was put back");
    }

    #[test]
    fn what_cannot_be_kept_is_said() {
        let words = Standing::NotYet("Not kept: the storage is full.".to_owned()).words();
        assert!(words.ends_with("Not kept: the storage is full."), "{words}");
    }
}
