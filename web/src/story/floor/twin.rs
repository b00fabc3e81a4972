//! The floor in words, for those who do not see it.

use film::{Film, Line, LineSide, LineWish, PersonId, SceneBlocking, Standing};
use glam::DVec2;
use language::{Number, say};
use staging::Posture;
use units::{Angle, LengthUnit};

use super::blocking_edit::azimuth;
use super::north::north_in_words;
use super::shown::Shown;
use super::thing::piece_names;
use crate::light::wind;
use crate::setup::words::length;
use crate::story::words::listed;

/// As many people, and as many phones, are told one by one; more would not be listened to.
const MOST_TOLD: usize = 12;
/// Two places nearer to each other than this are one to whoever is told of them, metres.
const SAME_M: f64 = 0.05;

/// The floor in words.
pub(super) fn twin(shown: &Shown, unit: LengthUnit) -> String {
    let blocking = &shown.scene.blocking;
    let mut told = vec![say!("Floor plan of the scene, {}.", when(shown))];
    let first = shown.people.first();
    for one in shown.people.iter().take(MOST_TOLD) {
        told.push(person(shown, one, first, unit));
    }
    if shown.people.is_empty() {
        told.push(say!("Nobody is in it yet.").to_owned());
    }
    let pieces = piece_names(blocking).into_iter().take(MOST_TOLD).zip(&blocking.pieces);
    let from = first.map_or(DVec2::ZERO, |one| one.person.place);
    let pieces: Vec<String> =
        pieces.map(|(name, piece)| format!("{name} {}", away(shown, piece.place - from, unit))).collect();
    if !pieces.is_empty() {
        let whose = first.map_or(say!("the middle"), |one| shown.film.name_of(one.who));
        told.push(say!("Seen from {whose}: {}.", pieces.join("; ")));
    }
    told.push(say!("The line: {}.", line_in_words(shown)));
    told.push(format!("{}.", north_in_words(blocking.north)));
    told.extend(phones(shown, unit));
    told.join(" ")
}

/// Which moment is shown.
fn when(shown: &Shown) -> String {
    let beats = &shown.scene.blocking.beats;
    let at = beats.iter().position(|beat| Some(beat.id) == shown.beat);
    match at.and_then(|at| Some((at + 1, beats.get(at)?))) {
        Some((number, beat)) if beat.what.is_empty() => say!("beat {number}, {} s in", Number(beat.starts_s)),
        Some((number, beat)) => say!("beat {number}, {}, {} s in", beat.what, Number(beat.starts_s)),
        None => say!("as it starts").to_owned(),
    }
}

/// Where somebody is, what they do and where they look.
fn person(shown: &Shown, one: &Standing, first: Option<&Standing>, unit: LengthUnit) -> String {
    let film = &shown.film;
    let name = film.name_of(one.who);
    let person = &one.person;
    let does = match person.body.posture {
        _ if person.velocity != DVec2::ZERO => say!("walks {}", compass_on(shown, person.facing)),
        Posture::Seated => say!("sits").to_owned(),
        Posture::Standing => say!("stands").to_owned(),
    };
    let place = match first {
        Some(first) if first.who != one.who => {
            let other = film.name_of(first.who);
            match far_and_where(shown, person.place - first.person.place, unit) {
                Some((far, wind)) => say!(" {far} {wind} of {other}"),
                None => say!(" right there of {other}"),
            }
        }
        Some(_) | None => String::new(),
    };
    let mark = shown.scene.blocking.mark(one.who);
    let looks = match looked_at(shown, one) {
        _ if person.velocity != DVec2::ZERO => String::new(),
        Some(other) => say!(" and looks at {}", film.name_of(other)),
        None => say!(" and looks {}", compass_on(shown, person.facing)),
    };
    let walks =
        mark.and_then(|mark| Some((mark, mark.way.as_ref()?))).map_or_else(String::new, |(mark, way)| {
            let lasts_s = way.lasts_s(mark.place);
            let metres = length(lasts_s * way.pace.to_m(), unit);
            let ends_s = Number(libm::round((way.starts_s + lasts_s) * 10.0) / 10.0);
            say!(", walks {metres} from second {} to {ends_s}", Number(way.starts_s))
        });
    format!("{name} {does}{place}{looks}{walks}.")
}

/// Whom somebody looks at, if it is said.
fn looked_at(shown: &Shown, one: &Standing) -> Option<PersonId> {
    match shown.scene.blocking.mark(one.who)?.faces {
        film::Faces::At(other) => Some(other),
        film::Faces::Towards(_) => None,
    }
}

/// Where the beat's line is.
pub(super) fn line_in_words(shown: &Shown) -> String {
    let (film, blocking) = (&shown.film, &shown.scene.blocking);
    let beat = blocking.beat(shown.beat);
    match beat.map(|beat| beat.line).unwrap_or_default() {
        LineWish::Auto => found_by_itself(film, blocking, shown.line, shown.seconds),
        LineWish::Between(one, other) => say!("between {} and {}", film.name_of(one), film.name_of(other)),
        LineWish::Along(who) => say!("along {}'s way", film.name_of(who)),
        LineWish::ByHand(..) => say!("drawn by hand").to_owned(),
        LineWish::None => say!("none, the phone may stand anywhere").to_owned(),
    }
}

/// What the line that the blocking has by itself runs along.
fn found_by_itself(film: &Film, blocking: &SceneBlocking, line: Option<Line>, seconds: f64) -> String {
    let Some(line) = line else { return say!("none yet: nobody walks or looks at anybody").to_owned() };
    let people = blocking.people_at(&film.cast, seconds);
    let at = |place: DVec2| people.iter().find(|one| one.person.place.distance(place) < 1e-9);
    let walks = |one: &&Standing| one.person.velocity != DVec2::ZERO;
    match (at(line.from()), at(line.to())) {
        (Some(one), _) if walks(&one) => say!("along {}'s way", film.name_of(one.who)),
        (Some(one), Some(other)) => {
            say!("between {} and {}", film.name_of(one.who), film.name_of(other.who))
        }
        (Some(_) | None, _) => say!("where the blocking has it").to_owned(),
    }
}

/// Where the phones of the shots are.
fn phones(shown: &Shown, unit: LengthUnit) -> Option<String> {
    let first = shown.people.first();
    let from = first.map_or(DVec2::ZERO, |one| one.person.place);
    let phone = |phone: &super::shown::FloorPhone| {
        let side = shown.line.map(|line| line.side_of(phone.place)).map_or("", |side| match side {
            LineSide::Left => say!(", left of the line"),
            LineSide::On => say!(", on the line"),
            LineSide::Right => say!(", right of the line"),
        });
        let side = if phone.is_of_beat { side } else { say!(", in another beat") };
        format!("{} {}{side}", phone.number, away(shown, phone.place - from, unit))
    };
    let told: Vec<String> = shown.phones.iter().take(MOST_TOLD).map(phone).collect();
    let whose = first.map_or(say!("the middle"), |one| shown.film.name_of(one.who));
    (!told.is_empty()).then(|| say!("Phones of shots, seen from {whose}: {}.", told.join("; ")))
}

/// How far and which way something is.
fn away(shown: &Shown, off: DVec2, unit: LengthUnit) -> String {
    match far_and_where(shown, off, unit) {
        Some((far, wind)) => say!("{far} {wind}"),
        None => say!("right there").to_owned(),
    }
}

/// How far something is and in which of eight directions; nothing if it is right there.
fn far_and_where(shown: &Shown, off: DVec2, unit: LengthUnit) -> Option<(String, &'static str)> {
    (off.length() >= SAME_M).then(|| (length(off.length(), unit), compass_on(shown, azimuth(off))))
}

/// A direction on the floor as one of eight of the earth's.
pub(super) fn compass_on(shown: &Shown, way: Angle) -> &'static str {
    wind(way - shown.scene.blocking.north)
}

/// Who is in the scene, as people list them.
pub(super) fn everybody(film: &Film, blocking: &SceneBlocking) -> String {
    listed(&blocking.marks.iter().map(|mark| film.name_of(mark.who).to_owned()).collect::<Vec<_>>())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::story::floor::blocking_edit::tests::two;
    use crate::story::floor::shown::tests::shown;

    #[test]
    fn the_floor_is_told_in_words() {
        let (film, scene) = two();
        let told = twin(&shown(&film, &scene, 1), LengthUnit::Metres);
        let begins = "Floor plan of the scene, beat 1, beat 1, 0 s in. Mira stands and looks at Jo. Jo stands 2.00 m \
                      east of Mira and looks at Mira, walks 4.00 m from second 4 to 6. The line: between Mira and Jo. \
                      North is up the plan. Phones of shots, seen from Mira: 1 ";
        assert!(told.starts_with(begins), "{told}");
        assert!(told.contains("south, right of the line"), "{told}");
    }

    #[test]
    fn directions_are_told_by_the_earths_north() {
        let (film, mut scene) = two();
        let blocking = scene.blocking.as_ref().clone();
        let north = Angle::from_deg(90.0);
        scene.blocking = std::sync::Arc::new(SceneBlocking { north, ..blocking });
        let told = twin(&shown(&film, &scene, 1), LengthUnit::Metres);
        assert!(told.contains("Jo stands 2.00 m north of Mira"), "{told}");
        assert!(told.contains("North is 90° clockwise from the plan's top."), "{told}");
    }

    #[test]
    fn a_line_along_a_walker_says_whose_way_it_is() {
        let (film, scene) = two();
        let told = twin(&shown(&film, &scene, 2), LengthUnit::Metres);
        assert!(told.contains("Jo walks north"), "{told}");
        assert!(told.contains("The line: along Jo's way."), "{told}");
    }
}
