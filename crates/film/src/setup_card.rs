//! A setup in words, as whoever holds the phone reads it: on a card, on a screen.

use language::{Number, key, say, text};
use optics::{DeliveredFrame, RecordedArea};
use staging::{Age, PhoneHeight, PieceKind};
use units::{Length, LengthUnit};

use crate::film::Film;
use crate::findings::{CutFinding, Severity, TakeFinding, check_take};
use crate::id::PersonId;
use crate::kit::CameraApp;
use crate::light::{LightFinding, ShotLight};
use crate::rehearsal::{NoRehearsal, Rehearsal};
use crate::scene::{Scene, Setting, TimeOfDay};
use crate::sentence::{Telling, sentence};
use crate::shot::{Shot, Sound};
use crate::sun_on_shot::SunOnShot;
use crate::wording::capital;

/// A setup with everything that is told of it.
#[derive(Debug, Clone, Copy)]
pub struct SetupCard<'film> {
    /// The film.
    pub film: &'film Film,
    /// The scene.
    pub scene: &'film Scene,
    /// The shot.
    pub shot: &'film Shot,
    /// The shot walked through.
    pub rehearsal: &'film Result<Rehearsal, NoRehearsal>,
    /// Its light, if that is known.
    pub light: Option<&'film ShotLight>,
    /// The sun on it, if it shines there.
    pub sun: Option<SunOnShot>,
    /// Who is seen in it.
    pub people: &'film [PersonId],
    /// Whether it is the first of its scene that is shot.
    pub begins_scene: bool,
    /// One step of whoever paces it out; positive.
    pub step: Length,
    /// The unit beside the steps.
    pub unit: LengthUnit,
}

/// Who goes before everything that the program says.
pub const WHO_DECIDES: &str = key!("Local rules, and whoever is licensed or responsible there, come first.");

const CHILD: &str = key!(
    "A child is in it: whoever is responsible for them has agreed and is there, and local rules say how long and \
                     how late children may work."
);
const DARK: &str = key!(
    "It may be dark: walk the ground by daylight, light the ways, and have nobody near traffic or edges unseen."
);
const CAR: &str = key!(
    "A car or a road is near: somebody does nothing but watch the traffic, and nobody is on a road without leave."
);
const OVERHEAD: &str =
    key!("The phone is overhead: tie it to something that holds, and keep people from under it until it is.");

impl SetupCard<'_> {
    fn made(&self) -> Option<&Rehearsal> {
        self.rehearsal.as_ref().ok()
    }

    /// Lens, distance, height, aim and focus in one sentence, or what stands in its way.
    pub fn sentence(&self) -> String {
        let made = match self.rehearsal {
            Ok(made) => made,
            Err(why) => {
                let told = CutFinding::NotRehearsed(*why).to_finding(self.film, self.unit);
                return in_a_sentence(&told.message, &told.hint);
            }
        };
        let lens = self.lens().unwrap_or_default();
        let adapter = self.shot.adapter.as_deref();
        let telling = Telling { lens: &lens, adapter, step: self.step, unit: self.unit };
        sentence(&telling, made.result())
    }

    /// The lens that it is made on, with its zoom.
    pub fn lens(&self) -> Option<String> {
        let made = self.made()?;
        let (name, zoom) = (&made.lens(self.film)?.name, made.on.in_sensor_zoom);
        Some(if zoom > 1.0 { format!("{name} {}x", Number(zoom)) } else { name.clone() })
    }

    /// What happens in it, and what else to know, each with what it is.
    pub fn happening(&self) -> Vec<(&'static str, String)> {
        let shot = self.shot;
        let sound = if shot.sound == Sound::None { "" } else { shot.sound.name() };
        let texts = [
            (say!("Action"), shot.action.trim().to_owned()),
            (say!("Sound"), sound.to_owned()),
            (say!("Keep the same"), shot.continuity.trim().to_owned()),
            (say!("Notes"), shot.notes.trim().to_owned()),
        ];
        texts.into_iter().filter(|(_, text)| !text.is_empty()).collect()
    }

    /// What to do before the first take: how the phone is set, and what is forgotten otherwise. Common practice.
    pub fn steps(&self) -> Vec<String> {
        let mut steps: Vec<String> = vec![say!("Lens wiped, calls off").to_owned()];
        steps.push(say!("Battery and storage last").to_owned());
        steps.extend(
            self.light.iter().flat_map(|light| light.how_to_set.steps.iter().map(|step| capital(step))),
        );
        steps.extend(self.frame_lines());
        steps.push(say!("Lens held: the phone may not change it").to_owned());
        if self.light.is_none_or(|light| light.app != CameraApp::Nothing) {
            steps.push(say!("Focus, exposure and white balance locked").to_owned());
        }
        steps.push(say!("HDR and stabiliser as planned").to_owned());
        steps.push(say!("Marks taped and walked").to_owned());
        if self.shot.sound != Sound::None {
            steps.push(say!("Sound listened to, fans off").to_owned());
        }
        if self.begins_scene {
            steps.push(say!("Everybody knows the way out and who calls stop").to_owned());
        }
        steps
    }

    /// How far from the middle the lines of the delivered frame belong, in recorded pixels; nothing where it is in the middle.
    fn frame_lines(&self) -> Vec<String> {
        let Some(setup) = self.made().and_then(|made| made.result().outcome.as_ref().ok()) else {
            return Vec::new();
        };
        let RecordedArea { width_px, height_px, .. } = setup.frame.recorded;
        let (right_px, up_px) = off_centre_px(&setup.frame);
        let upwards = match up_px.round() {
            up if up > 0.0 => Some(say!("Frame lines {up} px above the middle, of {height_px} px recorded")),
            up if up < 0.0 => {
                Some(say!("Frame lines {} px below the middle, of {height_px} px recorded", -up))
            }
            _ => None,
        };
        let sideways = match right_px.round() {
            right if right > 0.0 => {
                Some(say!("Frame lines {right} px right of the middle, of {width_px} px recorded"))
            }
            right if right < 0.0 => {
                Some(say!("Frame lines {} px left of the middle, of {width_px} px recorded", -right))
            }
            _ => None,
        };
        upwards.into_iter().chain(sideways).collect()
    }

    /// What to beware of, a sentence each. All of it is common practice; [`WHO_DECIDES`] belongs under it.
    pub fn cautions(&self) -> Vec<String> {
        let is_child = |who: &PersonId| self.film.person(*who).is_some_and(|person| person.age == Age::Child);
        let has_car = self.scene.blocking.pieces.iter().any(|piece| piece.kind == PieceKind::Car);
        let is_dark = match self.scene.facts.time {
            TimeOfDay::Dusk | TimeOfDay::Night | TimeOfDay::Dawn => {
                self.scene.facts.setting == Setting::Outside
            }
            TimeOfDay::Morning | TimeOfDay::Day | TimeOfDay::Afternoon | TimeOfDay::GoldenHour => false,
        };
        let known = [
            (self.people.iter().any(is_child), CHILD),
            (is_dark, DARK),
            (has_car, CAR),
            (self.shot.height == PhoneHeight::Overhead, OVERHEAD),
        ];
        let known =
            known.into_iter().filter(|(applies, _)| *applies).map(|(_, words)| text(words).to_owned());
        let sun = self.sun.and_then(|sun| sun.caution()).map(str::to_owned);
        sun.into_iter().chain(self.walks_backwards()).chain(known).collect()
    }

    /// What warns or fails about it, a sentence each: its setup, its take and its light.
    pub fn findings(&self) -> Vec<(Severity, String)> {
        let Some(made) = self.made() else { return Vec::new() };
        let of_setup = made.result().findings.iter().map(|found| found.to_finding(self.unit));
        let of_take = self.of_take();
        let of_take = of_take.iter().filter(|found| !is_backwards(found));
        let of_take = of_take.map(|found| found.to_finding(self.unit));
        let of_light = self.light.iter().flat_map(|light| &light.findings).map(LightFinding::to_finding);
        let told = of_setup.chain(of_take).chain(of_light).filter(|found| found.severity > Severity::Notes);
        told.map(|found| (found.severity, in_a_sentence(&found.message, &found.hint))).collect()
    }

    /// What is found on how it is taken.
    fn of_take(&self) -> Vec<TakeFinding> {
        let Some(made) = self.made() else { return Vec::new() };
        check_take(made.result(), &made.taking(self.film, self.shot))
    }

    /// A walk backwards, as it endangers whoever holds the phone.
    fn walks_backwards(&self) -> Option<String> {
        let told = self.of_take().iter().find(|found| is_backwards(found))?.to_finding(self.unit);
        Some(in_a_sentence(&told.message, &told.hint))
    }
}

/// How far a delivered frame's middle is to the right of the recorded one's and above it, in recorded pixels.
pub(crate) fn off_centre_px(frame: &DeliveredFrame) -> (f64, f64) {
    let RecordedArea { size, width_px, height_px, .. } = frame.recorded;
    let (right, up) = frame.centre_offset;
    (width_px * (right / size.width), height_px * (up / size.height))
}

const fn is_backwards(found: &TakeFinding) -> bool {
    matches!(found, TakeFinding::WalksBackwards { .. })
}

/// A finding in one sentence.
fn in_a_sentence(message: &str, hint: &str) -> String {
    capital(&format!("{}; {}.", message.trim_end_matches('.'), hint.trim_end_matches('.')))
}

#[cfg(test)]
#[expect(
    clippy::redundant_closure_for_method_calls,
    reason = "a method of one lifetime is no function of all"
)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::rehearsal::Rehearsals;

    /// What is read from the card of a film's first shot.
    fn read<Out>(film: &Film, read: fn(&SetupCard<'_>) -> Out) -> Out {
        let scene = &film.scenes[0];
        let shot = &scene.shots[0];
        let rehearsal = Rehearsals::default().of(film, scene, shot);
        let people: Vec<PersonId> = shot.of.people().collect();
        read(&SetupCard {
            film,
            scene,
            shot,
            rehearsal: &rehearsal,
            light: None,
            sun: None,
            people: &people,
            begins_scene: true,
            step: crate::USUAL_STEP,
            unit: LengthUnit::Metres,
        })
    }

    fn with_shot(change: impl Fn(&mut Shot)) -> Film {
        let mut film = crate::demo_film();
        change(Arc::make_mut(&mut Arc::make_mut(&mut film.scenes[0]).shots[0]));
        film
    }

    #[test]
    fn a_setup_is_told_as_it_is_called_across_a_set() {
        let told = read(&crate::demo_film(), |card| card.sentence());
        assert!(told.contains(" lens") && told.contains("steps") && told.ends_with('.'), "{told}");
        let mut lacking = crate::demo_film();
        Arc::make_mut(&mut lacking.kit).lenses.clear();
        let told = read(&lacking, |card| card.sentence());
        assert!(told.contains("lens") && told.ends_with('.'), "{told}");
    }

    #[test]
    fn what_cannot_be_shot_is_told_as_failing() {
        let mut film = crate::demo_film();
        assert_eq!(read(&film, |card| card.findings()), []);
        for lens in &mut Arc::make_mut(&mut film.kit).lenses {
            lens.lens.closest_focus = Some(Length::from_m(50.0));
        }
        let told = read(&film, |card| card.findings());
        let fails =
            |(severity, words): &(Severity, String)| *severity == Severity::Fails && words.ends_with('.');
        assert!(told.iter().any(fails), "{told:?}");
    }

    #[test]
    fn what_nobody_wrote_is_not_told() {
        let silent = with_shot(|shot| {
            (shot.action, shot.notes) = (String::new(), "  ".to_owned());
            shot.sound = Sound::None;
        });
        assert_eq!(read(&silent, |card| card.happening()), []);
        let said = with_shot(|shot| shot.continuity = "left sleeve up".to_owned());
        let told = read(&said, |card| card.happening());
        assert!(told.contains(&("Keep the same", "left sleeve up".to_owned())), "{told:?}");
    }

    #[test]
    fn a_child_and_a_phone_overhead_are_cautioned_of() {
        let mut film = with_shot(|shot| shot.height = PhoneHeight::Overhead);
        for age in [Age::Adult, Age::Child] {
            film.cast = film.cast.iter().cloned().map(|one| crate::CastMember { age, ..one }).collect();
            let told = read(&film, |card| card.cautions());
            assert!(told.iter().any(|one| one == OVERHEAD), "{told:?}");
            assert_eq!(told.iter().any(|one| one == CHILD), age == Age::Child, "{told:?}");
        }
    }

    #[test]
    fn frame_lines_off_the_middle_are_set_before_the_first_take() {
        let lines = |film: &Film| -> Vec<String> {
            let steps = read(film, |card| card.steps());
            steps.into_iter().filter(|step| step.starts_with("Frame lines")).collect()
        };
        assert_eq!(lines(&crate::demo_film()), [""; 0]);
        // 2160 rows are recorded and 3840 / 2.39 of them delivered: half of the room is 277.
        let moved = with_shot(|shot| shot.crop_shift = Some(optics::CropShift { up: -1.0, right: 0.5 }));
        assert_eq!(lines(&moved), ["Frame lines 277 px below the middle, of 2160 px recorded"]);
        let level = with_shot(|shot| shot.look = staging::Look::Tilt(units::Angle::from_deg(0.0)));
        assert_eq!(lines(&level).len(), 1, "a level look moves the frame by itself");
    }

    #[test]
    fn sound_that_is_kept_is_listened_to_first() {
        let listens = |sound| {
            let film = with_shot(|shot| shot.sound = sound);
            read(&film, |card| card.steps()).iter().any(|step| step.starts_with("Sound"))
        };
        assert!(listens(Sound::Dialogue) && !listens(Sound::None));
    }
}
