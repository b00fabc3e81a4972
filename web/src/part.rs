//! A shared part of a film in a signal: the same as before if it is the same one, whatever is in it.

use std::ops::Deref;
use std::sync::Arc;

use film::FilmFacts;

/// A shared part of a film. Two are the same if they are one: comparing a whole scene at every edit would take as long as
/// drawing it.
#[derive(Debug)]
pub(crate) struct Part<Of: ?Sized>(pub(crate) Arc<Of>);

impl<Of: ?Sized> Clone for Part<Of> {
    fn clone(&self) -> Self {
        Self(Arc::clone(&self.0))
    }
}

impl<Of: ?Sized> PartialEq for Part<Of> {
    fn eq(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.0, &other.0)
    }
}

impl<Of: ?Sized> Deref for Part<Of> {
    type Target = Of;

    fn deref(&self) -> &Of {
        &self.0
    }
}

/// How a film is shot: the same as before while only its title or its line are others.
#[derive(Debug, Clone)]
pub(crate) struct Shooting(pub(crate) Arc<FilmFacts>);

impl PartialEq for Shooting {
    fn eq(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.0, &other.0) || self.0.shoots_as(&other.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_alike_is_not_the_same() {
        let (one, other) = (Part(Arc::new(1)), Part(Arc::new(1)));
        assert!(one == one.clone() && one != other, "{one:?} {other:?}");
    }
}
