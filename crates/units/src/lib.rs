//! units.
