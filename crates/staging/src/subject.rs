//! Who or what a shot is of, and how high the phone stands for it.

use units::Length;

use crate::body::{Body, Landmark};
use crate::shot_size::{INSERT_MARGIN, ShotSize, SizeRule};

/// Who or what a shot is of.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Subject {
    /// One person.
    Person(Body),
    /// Two people side by side. The frame is measured where the nearer one stands: the farther one takes less of it.
    Pair {
        /// The one in focus.
        first: Body,
        /// The other.
        second: Body,
        /// From the middle of one to the middle of the other, across the frame.
        apart: Length,
        /// How much nearer to the phone than the first the second one stands; negative farther.
        nearer: Length,
    },
    /// One person past another's shoulder.
    OverShoulder {
        /// The one who faces the phone, in focus.
        facing: Body,
        /// The one whose back is to the phone.
        near: Body,
        /// How far `near` stands before `facing`.
        apart: Length,
    },
    /// A thing.
    Object(Object),
}

/// A thing that a shot is of, as high as wide.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Object {
    /// Its height and width.
    pub size: Length,
    /// What its lower edge is on.
    pub support: Support,
}

/// What a thing's lower edge is on.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum Support {
    /// A table of the usual height, which is there for it and is drawn.
    #[default]
    Table,
    /// What is there anyway, so high above the floor: the ground, a hand, a shelf. Nothing more is drawn.
    At(Length),
}

/// How high the phone's lens is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PhoneHeight {
    /// As the shot size suggests.
    BySize,
    /// At a landmark of the person in focus.
    At(Landmark),
    /// On the ground, on a small stand: 0.10 m.
    Ground,
    /// Above everybody: 0.60 m over the crown.
    Overhead,
    /// At that height.
    Fixed(Length),
}

/// What a frame must hold of its subject: heights above the floor on one vertical, and margins as shares of the frame.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Hold {
    pub(crate) top: Length,
    pub(crate) above: f64,
    pub(crate) cut: Length,
    pub(crate) below: f64,
    /// What headroom is counted from.
    pub(crate) crown: Length,
    /// What focus is on, if it has eyes.
    pub(crate) eyes: Option<Length>,
    /// Must stay within the frame to the left and right of the subject's own vertical.
    pub(crate) half_width: Length,
    /// Standard deviations of `top` and `cut`.
    pub(crate) top_sd: Length,
    pub(crate) cut_sd: Length,
}

/// A table's top: 0.75 m, common practice for tables.
const TABLE: Length = Length::from_m(0.75);
/// Chosen because a phone on a pocket stand is about this high.
const GROUND: Length = Length::from_m(0.10);
/// Chosen because arms reach no higher.
const OVERHEAD: Length = Length::from_m(0.60);
/// Air beside a head or shoulders that must not touch the frame, as a share of their breadth: common practice.
const SIDE_AIR: f64 = 0.15;

impl Support {
    /// The ground.
    pub const GROUND: Self = Self::At(Length::ZERO);

    /// What is so high above the floor; a table where nothing is said.
    pub fn from_height(said: Option<Length>) -> Self {
        said.map_or(Self::Table, Self::At)
    }

    /// How high above the floor it is, where that has to be said: of a table it has not.
    pub const fn to_height(self) -> Option<Length> {
        match self {
            Self::Table => None,
            Self::At(height) => Some(height),
        }
    }

    /// How high above the floor it is.
    pub const fn top(self) -> Length {
        match self {
            Self::Table => TABLE,
            Self::At(height) => height,
        }
    }
}

impl Object {
    /// A thing of that size on a table.
    pub const fn on_table(size: Length) -> Self {
        Self { size, support: Support::Table }
    }

    /// How high above the floor its upper edge is.
    fn top(&self) -> Length {
        self.support.top() + self.size
    }
}

impl Subject {
    /// Two people as far from the phone as each other.
    pub const fn side_by_side(first: Body, second: Body, apart: Length) -> Self {
        Self::Pair { first, second, apart, nearer: Length::ZERO }
    }

    /// The person in focus, if it is a person.
    pub const fn body(&self) -> Option<&Body> {
        match self {
            Self::Person(body) | Self::Pair { first: body, .. } | Self::OverShoulder { facing: body, .. } => {
                Some(body)
            }
            Self::Object(_) => None,
        }
    }

    /// How far before the one in focus somebody stands whose shoulder the phone looks past.
    pub const fn near_person(&self) -> Option<Length> {
        match self {
            Self::OverShoulder { apart, .. } => Some(*apart),
            Self::Person(_) | Self::Pair { .. } | Self::Object(_) => None,
        }
    }

    /// How far before the middle of those whom it is of the nearest of them stands.
    pub(crate) fn before_middle(&self) -> Length {
        match self {
            Self::Pair { nearer, .. } => nearer.abs() / 2.0,
            Self::Person(_) | Self::OverShoulder { .. } | Self::Object(_) => Length::ZERO,
        }
    }

    /// How far behind the nearest of those side by side the one in focus stands.
    pub fn behind_nearest(&self) -> Length {
        match self {
            Self::Pair { nearer, .. } => nearer.max(Length::ZERO),
            Self::Person(_) | Self::OverShoulder { .. } | Self::Object(_) => Length::ZERO,
        }
    }

    /// The lens's height above the floor.
    pub fn phone_height(&self, size: ShotSize, height: PhoneHeight) -> Length {
        match (height, self) {
            (PhoneHeight::Fixed(height), _) => height,
            (PhoneHeight::Ground, _) => GROUND,
            (PhoneHeight::BySize | PhoneHeight::At(_), Self::Object(object)) => {
                object.support.top() + object.size / 2.0
            }
            (PhoneHeight::Overhead, Self::Object(object)) => object.top() + OVERHEAD,
            (PhoneHeight::Overhead, Self::Person(body) | Self::OverShoulder { facing: body, .. }) => {
                body.height_of(Landmark::Crown) + OVERHEAD
            }
            (PhoneHeight::Overhead, Self::Pair { first, second, .. }) => {
                first.height_of(Landmark::Crown).max(second.height_of(Landmark::Crown)) + OVERHEAD
            }
            (
                PhoneHeight::BySize,
                Self::Person(body) | Self::Pair { first: body, .. } | Self::OverShoulder { facing: body, .. },
            ) => body.height_of(size.rule().map_or(Landmark::Eyes, |rule| rule.phone_height)),
            (
                PhoneHeight::At(landmark),
                Self::Person(body) | Self::Pair { first: body, .. } | Self::OverShoulder { facing: body, .. },
            ) => body.height_of(landmark),
        }
    }

    /// What a frame of that size must hold, with `headroom` above the crown where it is set.
    pub(crate) fn hold(&self, size: ShotSize, headroom: Option<f64>) -> Hold {
        match (self, size.rule()) {
            (Self::Object(object), _) => hold_object(object, headroom),
            (Self::Person(body) | Self::OverShoulder { facing: body, .. }, Some(rule)) => {
                let breadth = match size {
                    ShotSize::ExtremeWide | ShotSize::Wide => body.shoulder_breadth(),
                    ShotSize::MidThigh | ShotSize::Medium | ShotSize::ChestUp => body.head_breadth(),
                    // A tight frame may crop hair, ears and cheeks.
                    ShotSize::Tight | ShotSize::ExtremeTight | ShotSize::Insert => Length::ZERO,
                };
                hold_body(body, size, rule, headroom, breadth * (0.5 + SIDE_AIR))
            }
            (Self::Pair { first, second, apart, .. }, Some(rule)) => {
                let breadth = first.shoulder_breadth().max(second.shoulder_breadth());
                let half_width = *apart / 2.0 + breadth * (0.5 + SIDE_AIR);
                let of_first = hold_body(first, size, rule, headroom, half_width);
                let of_second = hold_body(second, size, rule, headroom, half_width);
                Hold {
                    top: of_first.top.max(of_second.top),
                    crown: of_first.crown.max(of_second.crown),
                    cut: of_first.cut.min(of_second.cut),
                    ..of_first
                }
            }
            // An insert of a person is of what they hold, as high as at a table: as high as a head, eyes not in it.
            (
                Self::Person(body) | Self::Pair { first: body, .. } | Self::OverShoulder { facing: body, .. },
                None,
            ) => hold_object(&Object::on_table(body.head_length()), headroom),
        }
    }
}

fn hold_body(body: &Body, size: ShotSize, rule: SizeRule, headroom: Option<f64>, half_width: Length) -> Hold {
    // A set headroom counts from the crown; the extreme wide figure stays a fifth of the frame.
    let (top, above) = headroom.map_or((rule.top, rule.above), |share| (Landmark::Crown, share));
    let below = match (size, headroom) {
        (ShotSize::ExtremeWide, Some(share)) => rule.above + rule.below - share,
        _ => rule.below,
    };
    Hold {
        top: body.height_of(top),
        above,
        cut: body.height_of(rule.cut),
        below,
        crown: body.height_of(Landmark::Crown),
        eyes: Some(body.height_of(Landmark::Eyes)),
        half_width,
        top_sd: body.height_sd_of(top),
        cut_sd: body.height_sd_of(rule.cut),
    }
}

fn hold_object(object: &Object, headroom: Option<f64>) -> Hold {
    Hold {
        top: object.top(),
        above: headroom.unwrap_or(INSERT_MARGIN),
        cut: object.support.top(),
        below: INSERT_MARGIN,
        crown: object.top(),
        eyes: None,
        half_width: object.size * (0.5 + INSERT_MARGIN),
        top_sd: Length::ZERO,
        cut_sd: Length::ZERO,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_pair_is_framed_for_the_taller_crown_and_the_lower_cut() {
        let (tall, small) = (Body::standing(Length::from_m(1.9)), Body::standing(Length::from_m(1.5)));
        let pair = Subject::side_by_side(small, tall, Length::from_m(0.6));
        let hold = pair.hold(ShotSize::Medium, None);
        assert_eq!(hold.top, tall.height_of(Landmark::Crown));
        assert_eq!(hold.cut, small.height_of(Landmark::Waist));
        assert_eq!(hold.eyes, Some(small.height_of(Landmark::Eyes)));
    }

    #[test]
    fn the_phone_stands_at_the_eyes_for_a_tight_shot_and_at_the_waist_for_a_wide_one() {
        let body = Body::standing(Length::from_m(1.7));
        let at = |size| Subject::Person(body).phone_height(size, PhoneHeight::BySize);
        assert_eq!(at(ShotSize::Tight), body.height_of(Landmark::Eyes));
        assert_eq!(at(ShotSize::Medium), body.height_of(Landmark::Chest));
        assert_eq!(at(ShotSize::Wide), body.height_of(Landmark::Waist));
    }

    fn of(stature_m: f64) -> Body {
        Body::standing(Length::from_m(stature_m))
    }

    fn assert_m(length: Length, expected_m: f64) {
        assert!((length.to_m() - expected_m).abs() < 1e-12, "{length:?} is not {expected_m} m");
    }

    #[test]
    fn of_a_pair_either_may_be_the_taller() {
        let hold = |first, second| {
            Subject::side_by_side(first, second, Length::from_m(0.6)).hold(ShotSize::Medium, None)
        };
        let (tall, small) = (of(1.9), of(1.5));
        for hold in [hold(tall, small), hold(small, tall)] {
            assert_eq!(hold.top, tall.height_of(Landmark::Crown));
            assert_eq!(hold.crown, tall.height_of(Landmark::Crown));
            assert_eq!(hold.cut, small.height_of(Landmark::Waist));
            // From the middle of the two 0.3 m to either, and half of the broader one's shoulders with air.
            assert_m(hold.half_width, 0.3 + 0.2838 * 1.9 * 0.65);
        }
    }

    #[test]
    fn beside_one_person_there_is_air_for_shoulders_in_a_wide_shot_and_for_the_head_in_a_closer_one() {
        let half_width = |size| Subject::Person(of(2.0)).hold(size, None).half_width;
        assert_m(half_width(ShotSize::Wide), 0.2838 * 2.0 * 0.65);
        assert_m(half_width(ShotSize::ChestUp), 0.0895 * 2.0 * 0.65);
        assert_eq!(half_width(ShotSize::Tight), Length::ZERO);
    }

    #[test]
    fn an_extreme_wide_figure_stays_a_fifth_whatever_its_headroom() {
        let subject = Subject::Person(of(1.7));
        let hold = subject.hold(ShotSize::ExtremeWide, Some(0.3));
        assert!((hold.above - 0.3).abs() < 1e-12 && (hold.below - 0.5).abs() < 1e-12, "{hold:?}");
        // In any other size the lower margin stays, and with it the cut.
        let hold = subject.hold(ShotSize::Wide, Some(0.3));
        assert!((hold.above - 0.3).abs() < 1e-12 && (hold.below - 0.06).abs() < 1e-12, "{hold:?}");
    }

    #[test]
    fn a_set_headroom_counts_from_the_crown_even_where_the_size_stands_on_the_brow() {
        let hold = Subject::Person(of(1.7)).hold(ShotSize::ExtremeTight, Some(0.1));
        assert_eq!(hold.top, of(1.7).height_of(Landmark::Crown));
    }

    /// A thing of 0.2 m.
    fn thing(support: Support) -> Subject {
        Subject::Object(Object { size: Length::from_m(0.2), support })
    }

    #[test]
    fn an_object_stands_on_a_table_with_air_all_round() {
        let thing = thing(Support::default());
        let hold = thing.hold(ShotSize::Insert, None);
        for (held, expected_m) in [(hold.cut, 0.75), (hold.top, 0.95), (hold.crown, 0.95)] {
            assert_m(held, expected_m);
        }
        assert_m(hold.half_width, 0.2 * 0.62);
        assert_eq!(hold.eyes, None);
    }

    #[test]
    fn what_an_object_is_on_lifts_what_is_held_of_it_and_nothing_else() {
        let on_table = thing(Support::Table).hold(ShotSize::Insert, None);
        for height_m in [0.0, 0.4, 1.3] {
            let hold = thing(Support::At(Length::from_m(height_m))).hold(ShotSize::Insert, None);
            for (held, expected_m) in [(hold.cut, 0.0), (hold.top, 0.2), (hold.crown, 0.2)] {
                assert_m(held, height_m + expected_m);
            }
            let lifted = Hold { top: on_table.top, cut: on_table.cut, crown: on_table.crown, ..hold };
            assert_eq!(lifted, on_table);
        }
    }

    #[test]
    fn only_of_a_table_no_height_has_to_be_said() {
        for support in [Support::Table, Support::GROUND, Support::At(Length::from_m(0.75))] {
            assert_eq!(Support::from_height(support.to_height()), support);
        }
        assert_eq!(Support::Table.to_height(), None);
        assert_eq!(Support::GROUND.top(), Length::ZERO);
    }

    #[test]
    fn above_everybody_is_an_arms_reach_over_the_highest() {
        let overhead = |subject: Subject| subject.phone_height(ShotSize::Wide, PhoneHeight::Overhead);
        let apart = Length::from_m(0.6);
        assert_m(overhead(Subject::Person(of(1.7))), 2.3);
        assert_m(overhead(Subject::side_by_side(of(1.7), of(1.9), apart)), 2.5);
        assert_m(overhead(Subject::OverShoulder { facing: of(1.6), near: of(1.9), apart }), 2.2);
        assert_m(overhead(thing(Support::Table)), 0.75 + 0.2 + 0.6);
    }

    #[test]
    fn the_phone_is_level_with_the_middle_of_an_object() {
        let on_table = thing(Support::Table);
        assert_m(on_table.phone_height(ShotSize::Insert, PhoneHeight::BySize), 0.85);
        assert_m(on_table.phone_height(ShotSize::Insert, PhoneHeight::Ground), 0.10);
        let in_hand = thing(Support::At(Length::from_m(1.1)));
        assert_m(in_hand.phone_height(ShotSize::Insert, PhoneHeight::BySize), 1.2);
        assert_m(in_hand.phone_height(ShotSize::Insert, PhoneHeight::Overhead), 1.1 + 0.2 + 0.6);
        assert_m(thing(Support::GROUND).phone_height(ShotSize::Insert, PhoneHeight::BySize), 0.1);
    }

    #[test]
    fn only_past_a_shoulder_somebody_is_near() {
        let apart = Length::from_m(1.3);
        let past = Subject::OverShoulder { facing: of(1.7), near: of(1.8), apart };
        assert_eq!(past.near_person(), Some(apart));
        assert_eq!(Subject::side_by_side(of(1.7), of(1.8), apart).near_person(), None);
    }
}
