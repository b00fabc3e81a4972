//! Shot sizes: what the frame's top and lower edge stand on.

use language::key;

use crate::body::Landmark;

/// How much of a person the frame holds. The trade's own sizes, from far to near.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum ShotSize {
    /// The figure is a fifth of the frame's height.
    ExtremeWide,
    /// The whole figure, air above and below.
    Wide,
    /// Down to the middle of the thigh.
    MidThigh,
    /// From the waist up.
    Medium,
    /// From the chest up.
    ChestUp,
    /// From the collar up; may crop the hair.
    Tight,
    /// From brow to chin.
    ExtremeTight,
    /// An object of a given size.
    Insert,
}

/// What a shot size stands on. A cut never sits on a joint.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SizeRule {
    /// The landmark that the upper margin is counted from.
    pub top: Landmark,
    /// The share of the frame's height above `top`; negative crops it.
    pub above: f64,
    /// The landmark that the lower margin is counted from.
    pub cut: Landmark,
    /// The share of the frame's height below `cut`; 0 puts the frame's edge on it.
    pub below: f64,
    /// The landmark at whose height the phone stands unless told otherwise.
    pub phone_height: Landmark,
}

/// The share of the frame's height left free above and below an object.
pub(crate) const INSERT_MARGIN: f64 = 0.12;

impl ShotSize {
    /// Every size, from far to near.
    pub const ALL: [Self; 8] = [
        Self::ExtremeWide,
        Self::Wide,
        Self::MidThigh,
        Self::Medium,
        Self::ChestUp,
        Self::Tight,
        Self::ExtremeTight,
        Self::Insert,
    ];

    /// Those of people, from far to near: all but an insert, which is of a thing.
    pub const OF_PEOPLE: [Self; 7] = {
        let [people @ .., _insert] = Self::ALL;
        people
    };

    /// What the size stands on; none for an object, which has no landmarks.
    ///
    /// Landmarks, margins and phone heights are common practice. The tight shot's −0.05 puts the eyes on the upper third:
    /// with the adult's collar at 0.818 and eyes at 0.934 of stature, the frame is 0.174 high and ends at 0.992.
    pub const fn rule(self) -> Option<SizeRule> {
        let (top, above, cut, below, phone_height) = match self {
            Self::ExtremeWide => (Landmark::Crown, 0.48, Landmark::Foot, 0.32, Landmark::Waist),
            Self::Wide => (Landmark::Crown, 0.10, Landmark::Foot, 0.06, Landmark::Waist),
            Self::MidThigh => (Landmark::Crown, 0.10, Landmark::MidThigh, 0.0, Landmark::Waist),
            Self::Medium => (Landmark::Crown, 0.12, Landmark::Waist, 0.0, Landmark::Chest),
            Self::ChestUp => (Landmark::Crown, 0.10, Landmark::Chest, 0.0, Landmark::Eyes),
            Self::Tight => (Landmark::Crown, -0.05, Landmark::Collar, 0.0, Landmark::Eyes),
            Self::ExtremeTight => (Landmark::Brow, 0.0, Landmark::Chin, 0.0, Landmark::Eyes),
            Self::Insert => return None,
        };
        Some(SizeRule { top, above, cut, below, phone_height })
    }

    /// The size in plain words.
    pub const fn name(self) -> &'static str {
        match self {
            Self::ExtremeWide => key!("extreme wide"),
            Self::Wide => key!("wide"),
            Self::MidThigh => key!("mid-thigh"),
            Self::Medium => key!("medium"),
            Self::ChestUp => key!("chest up"),
            Self::Tight => key!("tight"),
            Self::ExtremeTight => key!("extreme tight"),
            Self::Insert => key!("insert"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_cut_sits_on_a_joint() {
        for rule in ShotSize::ALL.into_iter().filter_map(ShotSize::rule) {
            assert!(!matches!(rule.cut, Landmark::Knee | Landmark::Shoulder), "{rule:?}");
        }
    }

    #[test]
    fn the_extreme_wide_figure_is_a_fifth_of_the_frame() {
        let rule = ShotSize::ExtremeWide.rule().expect("a person");
        assert!((1.0 - rule.above - rule.below - 0.2).abs() < 1e-12, "{rule:?}");
    }

    #[test]
    fn a_tight_shot_has_the_eyes_on_the_upper_third() {
        let rule = ShotSize::Tight.rule().expect("a person");
        let body = crate::body::Body::standing(units::Length::from_m(1.7));
        let height = |landmark| body.height_of(landmark).to_m();
        // From the collar to the crown is what neither margin takes.
        let frame = (height(rule.top) - height(rule.cut)) / (1.0 - rule.above - rule.below);
        let upper_edge = height(rule.top) + rule.above * frame;
        let eyes_down = (upper_edge - height(Landmark::Eyes)) / frame;
        assert!((eyes_down - 1.0 / 3.0).abs() < 0.01, "{eyes_down}");
        assert!(upper_edge < height(Landmark::Crown), "hair is cropped");
    }

    #[test]
    fn every_size_has_a_name_of_its_own() {
        let names = std::collections::BTreeSet::from(ShotSize::ALL.map(ShotSize::name));
        assert!(names.len() == ShotSize::ALL.len() && !names.contains(""), "{names:?}");
    }
}
