//! film.
