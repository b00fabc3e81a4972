//! optics.
