//! A film passed to another phone and back: as a link that carries it, or as a file; what comes back is put together with what
//! is here, and nothing is taken over without asking.

mod arrived;
mod link_out;
mod merging;

pub(super) use arrived::Arrived;
pub(super) use link_out::LinkOut;
pub(super) use merging::FromCopy;
