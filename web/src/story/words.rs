//! Plain words for what stands on the Story screen.

use film::{Film, LensChoice, NoRehearsal, Rehearsal, Scene, SceneFacts, Shot, ShotOf};
use language::{Number, say};
use staging::{Landmark, PhoneHeight};
use units::{Angle, LengthUnit};

use crate::setup::words::length;
pub(crate) use film::{capital, listed};

/// A shot of the film in one line: where it is, and what it shows.
pub(super) fn numbered(film: &Film, (scene, number): (usize, usize), shot: &Shot) -> String {
    say!("Scene {scene}, shot {number}: {} of {}", language::text(shot.size.name()), shot.of.told(film))
}

/// A shot in a few words: size and whom.
pub(crate) fn shot(film: &Film, shot: &Shot) -> String {
    match shot.of {
        ShotOf::Object { .. } => say!("Insert: {}", shot.of.told(film)),
        ShotOf::One(_) | ShotOf::Two(..) | ShotOf::OverShoulder { .. } | ShotOf::PointOfView { .. } => {
            say!("{} of {}", capital(language::text(shot.size.name())), shot.of.told(film))
        }
    }
}

/// From which side the phone sees somebody who faces that way.
pub(super) fn side(side: Angle, facing: Angle) -> &'static str {
    let off = (side - facing).to_deg().rem_euclid(360.0);
    match off {
        off if !(22.5..337.5).contains(&off) => say!("from the front"),
        off if off < 67.5 => say!("half from their right"),
        off if off < 112.5 => say!("from their right"),
        off if off < 157.5 => say!("half behind, from their right"),
        off if off < 202.5 => say!("from behind"),
        off if off < 247.5 => say!("half behind, from their left"),
        off if off < 292.5 => say!("from their left"),
        _ => say!("half from their left"),
    }
}

/// How high a phone is; nothing where that follows from the size.
pub(super) fn height(height: PhoneHeight, unit: LengthUnit) -> String {
    match height {
        PhoneHeight::BySize => String::new(),
        PhoneHeight::At(Landmark::Eyes) => say!("eye height").to_owned(),
        PhoneHeight::At(Landmark::Chest) => say!("chest height").to_owned(),
        PhoneHeight::At(Landmark::Waist) => say!("waist height").to_owned(),
        PhoneHeight::At(Landmark::Knee) => say!("knee height").to_owned(),
        PhoneHeight::At(_) => say!("at a height of theirs").to_owned(),
        PhoneHeight::Ground => say!("on the ground").to_owned(),
        PhoneHeight::Overhead => say!("overhead").to_owned(),
        PhoneHeight::Fixed(metres) => say!("{} high", length(metres.to_m(), unit)),
    }
}

/// The lens that a shot is made on, with where the phone stands; what is missing if it is on none.
pub(super) fn on_lens(
    film: &Film,
    shot: &Shot,
    rehearsal: &Result<Rehearsal, NoRehearsal>,
    unit: LengthUnit,
) -> String {
    let rehearsal = match rehearsal {
        Ok(rehearsal) => rehearsal,
        Err(why) => return missing(film, *why),
    };
    let name = film.kit.lenses.get(rehearsal.on.lens).map_or("", |lens| lens.name.as_str());
    let zoom = rehearsal.on.in_sensor_zoom;
    let name = if zoom > 1.0 { format!("{name} {}x", Number(zoom)) } else { name.to_owned() };
    let by_itself = if shot.lens == LensChoice::Auto { say!(" (chosen for you)") } else { "" };
    match &rehearsal.result().outcome {
        Ok(setup) => say!("{name}{by_itself}, {} away", length(setup.distance.to_m(), unit)),
        Err(_) => say!("{name}{by_itself}: not from there"),
    }
}

/// What a film lacks for a shot.
pub(crate) fn missing(film: &Film, why: NoRehearsal) -> String {
    match why {
        NoRehearsal::EmptyKit => say!("the kit has no lens or no recording mode").to_owned(),
        NoRehearsal::LensGone => say!("its lens is not in the kit any more").to_owned(),
        NoRehearsal::AdapterGone => say!("its adapter is not in the kit any more").to_owned(),
        NoRehearsal::NotInScene(who) => say!("{} is not in the scene", film.name_of(who)),
        _ => say!("it cannot be shot").to_owned(),
    }
}

/// What a film still asks for by its name, though the kit has it no more.
pub(super) fn not_in_kit(name: &str) -> String {
    say!("{name}: not in the kit any more")
}

/// A scene's heading: inside or outside, where and when.
pub(crate) fn heading(film: &Film, facts: &SceneFacts) -> String {
    let place = facts.place.and_then(|place| film.place(place)).map(|place| place.name.as_str());
    let parts =
        [Some(capital(facts.setting.name())), place.map(str::to_owned), Some(facts.time.name().to_owned())];
    parts.into_iter().flatten().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(", ")
}

/// A scene's name, or its number where it has none.
pub(crate) fn scene_name(film: &Film, scene: &Scene) -> String {
    let number = film.scenes.iter().position(|one| one.id == scene.id).map_or(0, |at| at + 1);
    if scene.facts.title.is_empty() { say!("scene {number}") } else { scene.facts.title.clone() }
}

/// Seconds as people read them.
pub(super) fn seconds(seconds: f64) -> String {
    if seconds >= 60.0 {
        let whole = libm::round(seconds);
        let (minutes, rest) = (libm::floor(whole / 60.0), whole % 60.0);
        return say!("{minutes:.0} min {rest:02.0} s");
    }
    // A sum of nothing is −0, which nobody would say.
    let seconds = Number(libm::round(seconds * 10.0) / 10.0 + 0.0);
    say!("{seconds} s")
}

/// A message of the core, which begins small and has no stop, as a sentence on the page.
pub(crate) fn sentence_of(message: &str) -> String {
    let mut words = capital(message);
    if !words.is_empty() && !words.ends_with(['.', '!', '?']) {
        words.push('.');
    }
    words
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_side_is_counted_from_where_they_face() {
        let from =
            |side_deg: f64, facing_deg: f64| side(Angle::from_deg(side_deg), Angle::from_deg(facing_deg));
        assert_eq!(from(10.0, 0.0), "from the front");
        assert_eq!(from(350.0, 5.0), "from the front");
        assert_eq!(from(90.0, 0.0), "from their right");
        assert_eq!(from(0.0, 90.0), "from their left");
        assert_eq!(from(-45.0, 0.0), "half from their left");
        assert_eq!(from(200.0, 20.0), "from behind");
    }

    #[test]
    fn a_message_becomes_a_sentence_of() {
        assert_eq!(sentence_of("needed: a name"), "Needed: a name.");
        assert_eq!(sentence_of("0 mm is not allowed"), "0 mm is not allowed.");
    }

    #[test]
    fn seconds_read_well() {
        assert_eq!(seconds(-0.0), "0 s");
        assert_eq!(seconds(4.0), "4 s");
        assert_eq!(seconds(2.5), "2.5 s");
        assert_eq!(seconds(59.96), "60 s");
        assert_eq!(seconds(125.2), "2 min 05 s");
    }
}
