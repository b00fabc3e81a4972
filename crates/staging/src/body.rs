//! A person as landmarks: ratios of stature from a survey, standing or seated, adult or child.

use units::Length;

/// A height on the body that a frame is made from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Landmark {
    /// The top of the head.
    Crown,
    /// The brow.
    Brow,
    /// The eyes.
    Eyes,
    /// The point of the chin.
    Chin,
    /// The notch between the collar bones.
    Collar,
    /// The point of the shoulder.
    Shoulder,
    /// The middle of the chest.
    Chest,
    /// The navel.
    Waist,
    /// Halfway between crotch and knee.
    MidThigh,
    /// The middle of the knee: a joint, never a cut.
    Knee,
    /// The sole.
    Foot,
}

/// How a person holds themselves.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Posture {
    /// On both feet.
    #[default]
    Standing,
    /// On a chair, thighs level.
    Seated,
}

/// Whose proportions.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Age {
    /// Grown up.
    #[default]
    Adult,
    /// About seven years old.
    Child,
}

/// A person of that stature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Body {
    /// Height when standing; positive.
    pub stature: Length,
    /// How they hold themselves.
    pub posture: Posture,
    /// Whose proportions they have.
    pub age: Age,
}

#[derive(Debug)]
struct LandmarkRatio {
    ratio: f64,
    sd: f64,
}

#[derive(Debug)]
struct Proportions {
    landmarks: [LandmarkRatio; 11],
    head_breadth: f64,
    head_length: f64,
    shoulder_breadth: f64,
    sitting_height: f64,
    sitting_knee: f64,
}

// `ADULT` and `CHILD`, made at build from `presets/bodies.toml`, where their sources stand.
include!(concat!(env!("OUT_DIR"), "/bodies.rs"));

/// A chair's seat above the floor: 0.45 m, common practice for chairs.
const SEAT: Length = Length::from_m(0.45);

impl Body {
    /// A standing adult.
    pub const fn standing(stature: Length) -> Self {
        Self { stature, posture: Posture::Standing, age: Age::Adult }
    }

    const fn proportions(&self) -> &'static Proportions {
        match self.age {
            Age::Adult => &ADULT,
            Age::Child => &CHILD,
        }
    }

    /// How high a landmark is above the floor.
    ///
    /// Seated, the trunk keeps its standing distances below the crown, thighs lie on the seat and feet on the floor.
    ///
    /// # Source
    /// `Gordon2014`, by way of `presets/bodies.toml`, which says what is from elsewhere.
    pub fn height_of(&self, landmark: Landmark) -> Length {
        let proportions = self.proportions();
        let ratio = landmark_ratio(proportions, landmark).ratio;
        match (self.posture, landmark) {
            (Posture::Standing, _) | (Posture::Seated, Landmark::Foot) => self.stature * ratio,
            (Posture::Seated, Landmark::MidThigh) => SEAT,
            (Posture::Seated, Landmark::Knee) => self.stature * proportions.sitting_knee,
            (
                Posture::Seated,
                Landmark::Crown
                | Landmark::Brow
                | Landmark::Eyes
                | Landmark::Chin
                | Landmark::Collar
                | Landmark::Shoulder
                | Landmark::Chest
                | Landmark::Waist,
            ) => SEAT + self.stature * (proportions.sitting_height - (1.0 - ratio)),
        }
    }

    /// Standard deviation of a landmark's height between people of one stature.
    pub(crate) fn height_sd_of(&self, landmark: Landmark) -> Length {
        self.stature * landmark_ratio(self.proportions(), landmark).sd
    }

    /// Head breadth, ear to ear.
    pub fn head_breadth(&self) -> Length {
        self.stature * self.proportions().head_breadth
    }

    /// Head length, brow to back of the head.
    pub fn head_length(&self) -> Length {
        self.stature * self.proportions().head_length
    }

    /// Breadth over both upper arms.
    pub fn shoulder_breadth(&self) -> Length {
        self.stature * self.proportions().shoulder_breadth
    }
}

impl Landmark {
    /// Every landmark, from the top down.
    pub const ALL: [Self; 11] = [
        Self::Crown,
        Self::Brow,
        Self::Eyes,
        Self::Chin,
        Self::Collar,
        Self::Shoulder,
        Self::Chest,
        Self::Waist,
        Self::MidThigh,
        Self::Knee,
        Self::Foot,
    ];

    /// The landmark in plain words.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Crown => "crown",
            Self::Brow => "brow",
            Self::Eyes => "eyes",
            Self::Chin => "chin",
            Self::Collar => "collar",
            Self::Shoulder => "shoulder",
            Self::Chest => "chest",
            Self::Waist => "waist",
            Self::MidThigh => "mid-thigh",
            Self::Knee => "knee",
            Self::Foot => "foot",
        }
    }
}

/// A landmark's entry, by name rather than by number so that a new landmark breaks this.
const fn landmark_ratio(proportions: &'static Proportions, landmark: Landmark) -> &'static LandmarkRatio {
    let [crown, brow, eyes, chin, collar, shoulder, chest, waist, mid_thigh, knee, foot] =
        &proportions.landmarks;
    match landmark {
        Landmark::Crown => crown,
        Landmark::Brow => brow,
        Landmark::Eyes => eyes,
        Landmark::Chin => chin,
        Landmark::Collar => collar,
        Landmark::Shoulder => shoulder,
        Landmark::Chest => chest,
        Landmark::Waist => waist,
        Landmark::MidThigh => mid_thigh,
        Landmark::Knee => knee,
        Landmark::Foot => foot,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn person(posture: Posture, age: Age) -> Body {
        Body { stature: Length::from_m(1.70), posture, age }
    }

    #[test]
    fn landmarks_go_down_from_the_crown() {
        // Collar and shoulder are level to a few millimetres, as surveyed.
        let apart_from_shoulder =
            Landmark::ALL.into_iter().filter(|landmark| *landmark != Landmark::Shoulder);
        for age in [Age::Adult, Age::Child] {
            for posture in [Posture::Standing, Posture::Seated] {
                let body = person(posture, age);
                let heights: Vec<_> = apart_from_shoulder.clone().map(|at| body.height_of(at)).collect();
                // Seated knees are higher than the seat, so the order is asked down to the waist and below the knee.
                let end = if posture == Posture::Standing { heights.len() } else { 7 };
                assert!(heights[..end].is_sorted_by(|upper, lower| upper > lower), "{body:?}: {heights:?}");
            }
        }
    }

    #[test]
    fn a_seated_adult_looks_from_a_chair_at_one_metre_twenty() {
        // ANSUR II: sitting eye height 0.4588 of stature (mean of men and women) above the seat.
        let eyes = person(Posture::Seated, Age::Adult).height_of(Landmark::Eyes);
        assert!((eyes.to_m() - (0.45 + 0.4588 * 1.70)).abs() < 0.002, "{eyes}");
    }

    #[test]
    fn measures_are_those_of_the_survey() {
        // Ratios of `presets/bodies.toml`, on 2 m.
        let body = Body { stature: Length::from_m(2.0), ..person(Posture::Seated, Age::Adult) };
        for (measure, ratio) in [
            (body.height_of(Landmark::Knee), 0.3147),
            (body.height_sd_of(Landmark::Chest), 0.014),
            (body.head_breadth(), 0.0895),
            (body.head_length(), 0.1152),
            (body.shoulder_breadth(), 0.2838),
        ] {
            assert!((measure.to_m() - 2.0 * ratio).abs() < 1e-12, "{measure:?}, {ratio}");
        }
        assert_eq!(body.height_of(Landmark::Foot), Length::ZERO);
        assert_eq!(body.height_of(Landmark::MidThigh), SEAT);
    }

    #[test]
    fn every_landmark_has_a_name_of_its_own() {
        let names = std::collections::BTreeSet::from(Landmark::ALL.map(Landmark::name));
        assert!(names.len() == Landmark::ALL.len() && !names.contains(""), "{names:?}");
    }
}
