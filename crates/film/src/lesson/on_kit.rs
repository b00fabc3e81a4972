//! A lesson on a kit: which lens and mode it is seen on, and the shot that all lessons start from.

use std::fmt;

use language::say;
use optics::{Aspect, Lens, Recording, Scale};
use staging::{Body, FocusOn, Look, PhoneHeight, Setup, Sharpness, Shot, ShotSize, Stand, Subject};
use units::{Length, LengthUnit};

use super::fields::short;
use super::told;
use crate::kit::{Kit, KitLens, KitRecording};

/// Why a kit shows nothing of a lesson.
#[non_exhaustive]
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NoLesson {
    /// It has no lens.
    NoLens,
    /// It has no lens of that name.
    LensGone {
        /// The name.
        name: String,
        /// The names of those that it has.
        known: Vec<String>,
    },
    /// It has no recording mode, or its first has a shape that no frame has.
    NoRecording,
    /// From there the framing cannot be had on that lens.
    NoFraming {
        /// The lens.
        lens: String,
    },
}

/// One lens of a kit in its first mode, and how whoever learns is told lengths.
#[derive(Debug, Clone, Copy)]
pub(super) struct OnKit<'kit> {
    pub(super) kit: &'kit Kit,
    pub(super) lens: &'kit KitLens,
    pub(super) recording: &'kit KitRecording,
    pub(super) mode: Recording,
    pub(super) aspect: Aspect,
    pub(super) unit: LengthUnit,
}

/// Whoever a lesson looks at, where nothing else is said: chosen, between the mean statures of women and men.
pub(super) const SOMEBODY: Body = Body::standing(Length::from_m(1.70));
/// The equivalent of a phone's main lens, millimetres: chosen, as those of most phones lie between 23 and 28.
const MAIN_EQUIVALENT_MM: f64 = 25.0;

impl fmt::Display for NoLesson {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoLens => f.write_str(say!("the kit has no lens: add the phone's lenses to it")),
            Self::LensGone { name, known } => f.write_str(&say!(
                "the kit has no lens called `{}`: choose one of {}",
                short(name),
                known.join(", ")
            )),
            Self::NoRecording => {
                f.write_str(say!("the kit has no recording mode: add the one that is shot in"))
            }
            Self::NoFraming { lens } => f.write_str(&say!(
                "this framing cannot be had from there on the {lens} lens: move a handle back"
            )),
        }
    }
}

impl std::error::Error for NoLesson {}

impl<'kit> OnKit<'kit> {
    /// The lens of that name, or else the kit's main lens: the one whose view is nearest to what main lenses have.
    pub(super) fn of(kit: &'kit Kit, lens: Option<&str>, unit: LengthUnit) -> Result<Self, NoLesson> {
        let recording = kit.recordings.first().ok_or(NoLesson::NoRecording)?;
        let aspect = Aspect::new(recording.recording.aspect()).map_err(|_error| NoLesson::NoRecording)?;
        let chosen = match lens {
            Some(name) => {
                kit.lenses.iter().find(|one| one.name == name).ok_or_else(|| NoLesson::LensGone {
                    name: name.to_owned(),
                    known: kit.lenses.iter().map(|one| one.name.clone()).collect(),
                })?
            }
            None => main_lens(kit).ok_or(NoLesson::NoLens)?,
        };
        let mode = kit.recording_of(recording, chosen);
        Ok(Self { kit, lens: chosen, recording, mode, aspect, unit })
    }

    /// The same kit with another of its lenses.
    pub(super) fn on(&self, lens: &'kit KitLens) -> Self {
        Self { lens, mode: self.kit.recording_of(self.recording, lens), ..*self }
    }

    /// Somebody in that size, framed as usual, with the background so far behind.
    pub(super) fn shot(&self, size: ShotSize, stand: Stand, behind_m: f64) -> Shot {
        Shot {
            lens: self.lens.lens,
            recording: self.mode,
            adapter: None,
            aspect: self.aspect,
            crop_shift: None,
            subject: Subject::Person(SOMEBODY),
            size,
            headroom: None,
            phone_height: PhoneHeight::BySize,
            look: Look::Aimed,
            stand,
            across: 0.5,
            background_behind: Length::from_m(behind_m),
            focus: FocusOn::Subject,
            sharpness: Sharpness::Usual,
        }
    }

    /// The shot resolved.
    pub(super) fn resolved(&self, shot: &Shot) -> Result<Setup, NoLesson> {
        shot.resolve(shot.frame()).map_err(|_unframed| self.no_framing())
    }

    /// That what is asked for cannot be framed on this lens.
    pub(super) fn no_framing(&self) -> NoLesson {
        NoLesson::NoFraming { lens: self.lens.name.clone() }
    }

    /// A length, told.
    pub(super) fn length(&self, length: Length) -> String {
        told::length(length.to_m(), self.unit)
    }

    /// A height, told.
    pub(super) fn height(&self, height: Length) -> String {
        told::height(height.to_m(), self.unit)
    }

    /// Why figures of blur cannot be told on this lens, if they cannot.
    pub(super) fn why_no_blur(&self) -> &'static str {
        match (self.lens.lens.scale, self.lens.lens.f_number) {
            (Scale::Equivalent, _) => {
                say!("not known: the kit lacks this lens's true focal length or sensor size")
            }
            (Scale::True, None) => say!("not known: the kit lacks this lens's f-number"),
            (Scale::True, Some(_)) => say!("none: this lens cannot focus so near"),
        }
    }

    /// What a lens that cannot focus there is told about, with the nearest distance at which it can.
    pub(super) fn too_near(&self, shot: &Shot, setup: &Setup) -> Option<String> {
        let closest = shot.closest_focus(setup.focus)?;
        Some(say!(
            "The {} lens cannot focus nearer than {}: here the person is soft too.",
            self.lens.name,
            closest.told(self.unit, 2)
        ))
    }
}

/// What a lens's focal length is for, as the diagonal of a full frame has it.
pub(super) fn equivalent_mm(lens: &Lens) -> f64 {
    lens.focal_length.value.to_length().to_mm() * lens.sensor.value.crop_factor()
}

fn main_lens(kit: &Kit) -> Option<&KitLens> {
    let off = |lens: &KitLens| libm::fabs(libm::log(equivalent_mm(&lens.lens) / MAIN_EQUIVALENT_MM));
    kit.lenses.iter().min_by(|one, other| off(one).total_cmp(&off(other)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::preset::kits;

    #[test]
    fn the_main_lens_of_every_kit_that_comes_with_the_program_is_called_so() {
        for kit in kits().iter().filter_map(|kit| kit.to_kit().ok()) {
            assert_eq!(
                OnKit::of(&kit, None, LengthUnit::Metres).expect("a lens").lens.name,
                "main",
                "{}",
                kit.name
            );
        }
    }

    #[test]
    fn a_kit_that_lacks_something_says_what() {
        let kit = kits()[0].to_kit().expect("a kit");
        let gone = OnKit::of(&kit, Some("periscope"), LengthUnit::Metres).expect_err("no such lens");
        assert!(gone.to_string().contains("`periscope`") && gone.to_string().contains("main"), "{gone}");
        let bare = Kit { lenses: Vec::new(), ..kit.clone() };
        assert_eq!(OnKit::of(&bare, None, LengthUnit::Metres).expect_err("no lens"), NoLesson::NoLens);
        let bare = Kit { recordings: Vec::new(), ..kit };
        assert_eq!(OnKit::of(&bare, None, LengthUnit::Metres).expect_err("no mode"), NoLesson::NoRecording);
    }
}
