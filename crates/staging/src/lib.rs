//! staging.
