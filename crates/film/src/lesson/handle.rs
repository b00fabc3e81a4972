//! What can be moved in a lesson.

use units::LengthUnit;

/// Something that can be moved in a lesson.
#[derive(Debug, Clone, Copy)]
pub struct Handle {
    /// What it is known by in links.
    pub word: &'static str,
    /// What it is called: to be shown by [`language::text`].
    pub name: &'static str,
    /// The unit of its values, here and in links; empty where they have none.
    pub unit: &'static str,
    /// The least.
    pub min: f64,
    /// The most.
    pub max: f64,
    /// How far one step goes.
    pub step: f64,
    /// Where it is at first.
    pub usual: f64,
    /// A value in words; a length in the unit of whoever reads it.
    pub told: fn(f64, LengthUnit) -> String,
}

impl Handle {
    /// The value if it is one of the handle's, or else the end of its range that is nearer.
    pub const fn held(&self, value: f64) -> f64 {
        if value.is_nan() { self.usual } else { value.clamp(self.min, self.max) }
    }
}

#[cfg(test)]
mod tests {
    use units::LengthUnit;

    use crate::lesson::Lesson;

    #[test]
    fn every_handle_starts_within_its_range_on_one_of_its_steps() {
        for handle in Lesson::ALL.into_iter().flat_map(Lesson::handles) {
            assert!((handle.min..=handle.max).contains(&handle.usual), "{handle:?}");
            for end in [handle.usual, handle.max] {
                let steps = (end - handle.min) / handle.step;
                assert!((steps - steps.round()).abs() < 1e-6, "{}: {steps} steps to {end}", handle.word);
            }
            assert!(!(handle.told)(handle.usual, LengthUnit::Metres).is_empty(), "{handle:?}");
        }
    }

    #[test]
    fn what_is_beyond_a_handle_is_at_its_end() {
        let handle = Lesson::SoftBackground.handles()[0];
        for (value, held) in [(-5.0, handle.min), (1e9, handle.max), (f64::NAN, handle.usual), (1.0, 1.0)] {
            assert!((handle.held(value) - held).abs() < 1e-12, "{value}");
        }
    }
}
