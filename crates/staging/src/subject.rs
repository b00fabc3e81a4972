//! Who or what a shot is of, and how high the phone stands for it.

use units::Length;

use crate::body::{Body, Landmark};
use crate::shot_size::{INSERT_MARGIN, ShotSize, SizeRule};

/// Who or what a shot is of.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Subject {
    /// One person.
    Person(Body),
    /// Two people side by side.
    Pair {
        /// The one in focus.
        first: Body,
        /// The other.
        second: Body,
        /// From the middle of one to the middle of the other.
        apart: Length,
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
    /// A thing as high as wide, its lower edge on a table.
    Object {
        /// Its height and width.
        size: Length,
    },
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

impl Subject {
    /// The person in focus, if it is a person.
    pub const fn body(&self) -> Option<&Body> {
        match self {
            Self::Person(body) | Self::Pair { first: body, .. } | Self::OverShoulder { facing: body, .. } => {
                Some(body)
            }
            Self::Object { .. } => None,
        }
    }

    /// How far before the one in focus somebody stands whose shoulder the phone looks past.
    pub const fn near_person(&self) -> Option<Length> {
        match self {
            Self::OverShoulder { apart, .. } => Some(*apart),
            Self::Person(_) | Self::Pair { .. } | Self::Object { .. } => None,
        }
    }

    /// The lens's height above the floor.
    pub fn phone_height(&self, size: ShotSize, height: PhoneHeight) -> Length {
        match (height, self) {
            (PhoneHeight::Fixed(height), _) => height,
            (PhoneHeight::Ground, _) => GROUND,
            (PhoneHeight::BySize | PhoneHeight::At(_), Self::Object { size }) => TABLE + *size / 2.0,
            (PhoneHeight::Overhead, Self::Object { size }) => TABLE + *size + OVERHEAD,
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
            (Self::Object { size }, _) => hold_object(*size, headroom),
            (Self::Person(body) | Self::OverShoulder { facing: body, .. }, Some(rule)) => {
                let breadth = match size {
                    ShotSize::ExtremeWide | ShotSize::Wide => body.shoulder_breadth(),
                    ShotSize::MidThigh | ShotSize::Medium | ShotSize::ChestUp => body.head_breadth(),
                    // A tight frame may crop hair, ears and cheeks.
                    ShotSize::Tight | ShotSize::ExtremeTight | ShotSize::Insert => Length::ZERO,
                };
                hold_body(body, size, rule, headroom, breadth * (0.5 + SIDE_AIR))
            }
            (Self::Pair { first, second, apart }, Some(rule)) => {
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
            // An insert of a person is of what they hold: a hand's breadth, eyes not in it.
            (
                Self::Person(body) | Self::Pair { first: body, .. } | Self::OverShoulder { facing: body, .. },
                None,
            ) => hold_object(body.head_length(), headroom),
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

fn hold_object(size: Length, headroom: Option<f64>) -> Hold {
    Hold {
        top: TABLE + size,
        above: headroom.unwrap_or(INSERT_MARGIN),
        cut: TABLE,
        below: INSERT_MARGIN,
        crown: TABLE + size,
        eyes: None,
        half_width: size * (0.5 + INSERT_MARGIN),
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
        let pair = Subject::Pair { first: small, second: tall, apart: Length::from_m(0.6) };
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
}
