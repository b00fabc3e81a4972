//! Signals that outlive the rooms that use them.
//!
//! A signal keeps a note of every memo, effect and piece of a view that ever read it, and those of a room that is gone stay on
//! it: `reactive_graph` 0.2.16 strikes off nobody who is dropped. On a signal that lasts as long as the page they would be kept,
//! and gone through at each change, for as long as the page. So who reads a lasting one is noted here as well, and struck off
//! once they are gone.

use std::cell::RefCell;
use std::ops::DerefMut;
use std::panic::Location;

use leptos::prelude::*;
use leptos::reactive::graph::{AnySource, AnySubscriber, Observer, Source, ToAnySource};

/// A signal or a memo that lasts as long as the page.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Lasting<S>(S);

/// Who reads, and what of it lasts.
type Readers = Vec<(AnySubscriber, Vec<AnySource>)>;

thread_local! {
    static READERS: RefCell<Readers> = const { RefCell::new(Vec::new()) };
}

/// Makes signals that belong to nobody but the owner beside them: the room that asks first is gone long before they are.
pub(crate) fn lasting<Signals>(make: impl FnOnce() -> Signals) -> (Signals, Owner) {
    let around = Owner::current();
    if let Some(around) = around.clone() {
        around.unset();
    }
    let owner = Owner::new();
    let signals = owner.with(make);
    if let Some(around) = around {
        around.set();
    }
    (signals, owner)
}

/// Strikes off everybody who is gone.
pub(crate) fn strike_off_the_gone() {
    READERS.with_borrow_mut(|readers| {
        readers.retain(|(reader, read)| {
            let is_there = reader.1.strong_count() > 0;
            if !is_there {
                for source in read {
                    source.remove_subscriber(reader);
                }
            }
            is_there
        });
    });
}

fn note(reader: AnySubscriber, source: AnySource) {
    READERS.with_borrow_mut(|readers| {
        // Nobody else is where they are in memory while they are noted.
        match readers.iter_mut().find(|(noted, _)| noted.0 == reader.0) {
            Some((_, read)) if read.contains(&source) => {}
            Some((_, read)) => read.push(source),
            None => readers.push((reader, vec![source])),
        }
    });
}

impl<T: Send + Sync + 'static> Lasting<RwSignal<T>> {
    pub(crate) fn signal(value: T) -> Self {
        Self(RwSignal::new(value))
    }
}

impl<T: Send + Sync + PartialEq + 'static> Lasting<Memo<T>> {
    pub(crate) fn memo(made: impl Fn() -> T + Send + Sync + 'static) -> Self {
        Self(Memo::new(move |_| made()))
    }
}

/// What knows its readers.
trait IsRead {
    fn source(&self) -> AnySource;
}

impl<T: Send + Sync + 'static> IsRead for RwSignal<T> {
    fn source(&self) -> AnySource {
        self.to_any_source()
    }
}

impl<T: Send + Sync + 'static> IsRead for Memo<T> {
    fn source(&self) -> AnySource {
        ArcMemo::from(*self).to_any_source()
    }
}

impl<S: Track + IsRead> Track for Lasting<S> {
    #[track_caller]
    fn track(&self) {
        if let Some(reader) = Observer::get() {
            note(reader, self.0.source());
        }
        self.0.track();
    }
}

impl<S: DefinedAt> DefinedAt for Lasting<S> {
    fn defined_at(&self) -> Option<&'static Location<'static>> {
        self.0.defined_at()
    }
}

impl<S: ReadUntracked> ReadUntracked for Lasting<S> {
    type Value = S::Value;

    #[track_caller]
    fn try_read_untracked(&self) -> Option<Self::Value> {
        self.0.try_read_untracked()
    }
}

impl<S: Notify> Notify for Lasting<S> {
    #[track_caller]
    fn notify(&self) {
        self.0.notify();
    }
}

impl<S: Write> Write for Lasting<S> {
    type Value = S::Value;

    fn try_write(&self) -> Option<impl UntrackableGuard<Target = Self::Value>> {
        self.0.try_write()
    }

    fn try_write_untracked(&self) -> Option<impl DerefMut<Target = Self::Value>> {
        self.0.try_write_untracked()
    }
}

impl<S: IsDisposed> IsDisposed for Lasting<S> {
    fn is_disposed(&self) -> bool {
        self.0.is_disposed()
    }
}
