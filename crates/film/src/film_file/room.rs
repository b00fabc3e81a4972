//! How much a film may hold, so that what is written of it can be opened again.

use super::HEAVIEST;
use crate::film::{Film, Place};
use crate::scene::Scene;
use crate::scene_blocking::Mark;

/// A shot, a scene, a place, a photo, a day or a thing of the kit weighs no more, whatever is said of it; what it lists is
/// counted beside it.
const THING: usize = 300;
/// Anything else that is listed weighs no more: somebody, a mark, a corner, a beat, a piece, an entry, a take.
const LISTED: usize = 80;

/// By how much a film weighs more than one that can be opened, if all is said of everything in it; nothing for one that
/// surely can be. Counted from the lengths of its lists, so that every edit can ask for it; what a newer program wrote beside
/// them is left out.
pub(crate) fn excess(film: &Film) -> usize {
    most(film).saturating_sub(HEAVIEST)
}

/// What a film weighs at the most.
fn most(film: &Film) -> usize {
    let kit = &film.kit;
    let of_phone = kit.lenses.len() + kit.recordings.len() + kit.views.len();
    let of_kit = of_phone + kit.adapters.len() + kit.filters.len();
    let scenes: usize = film.scenes.iter().map(|scene| of_scene(scene)).sum();
    let places: usize = film.places.iter().map(of_place).sum();
    let days = film.days.iter().map(|day| {
        let shots = day.shots.as_ref().map_or(0, Vec::len);
        THING + shots + day.done.len() + (day.breaks.len() + day.pinned.len()) * LISTED
    });
    let listed = film.cast.len() + film.takes.len() + kit.exposure_times.len();
    // What holds for all of the film and for all of the kit are two things more.
    scenes + places + days.sum::<usize>() + (of_kit + 2) * THING + listed * LISTED
}

fn of_scene(scene: &Scene) -> usize {
    let blocking = &scene.blocking;
    let corners = |mark: &Mark| mark.way.as_ref().map_or(0, |way| way.corners.len());
    let marks: usize = blocking.marks.iter().map(|mark| 1 + corners(mark)).sum();
    let listed = marks + blocking.pieces.len() + blocking.beats.len() + scene.facts.wants.len();
    (1 + scene.shots.len()) * THING + (listed + scene.cut.len() + scene.kept.len()) * LISTED
}

fn of_place(place: &Place) -> usize {
    let horizon = place.spot.as_ref().map_or(0, |spot| spot.horizon.points_deg().len());
    let sides = place.paced.as_ref().map_or(0, |paced| paced.outline.sides.len());
    (1 + place.photos.len()) * THING + (horizon + sides) * LISTED
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::film_file::{ShotRecord, open_film, weight, write_film};
    use crate::preset::demo_film;

    #[test]
    fn no_film_weighs_more_than_is_counted() {
        let broken = include_bytes!("../../../../tests/films/valid/every_rule_broken.json");
        let forty = include_bytes!("../../../../tests/films/valid/forty_shots.json");
        let opened = [&broken[..], &forty[..]].map(|file| open_film(file).expect("a film").film);
        for film in opened.into_iter().chain([demo_film()]) {
            let weighs = weight(&write_film(&film));
            assert!(weighs <= most(&film), "{}: {weighs} {}", film.facts.title, most(&film));
            assert_eq!(excess(&film), 0, "{}", film.facts.title);
        }
    }

    /// A shot with every field that one can have, more than can stand beside each other.
    const SHOT: &str = r#"{
        "id": 1, "of": {"object": {"name": "a tin", "size_m": 1, "x_m": 1, "y_m": 1, "above_floor_m": 1, "hands": [
            1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20
        ]}}, "beat": 1, "size": "insert", "headroom_share": 0.1, "side_deg": 1, "height": "eyes", "height_m": 1,
        "height_landmark": "eyes", "tilt_deg": 1, "across_share": 0.4, "crop_up_share": 0.1, "crop_right_share": 0.1,
        "stand_at_m": 1, "background_behind_m": 1, "lens": "main", "in_sensor_zoom": 1, "adapter": "a clip-on",
        "movement": {"push_m_per_s": 1}, "pull": {"from_m": 1, "to_m": 2, "starts_s": 1, "lasts_s": 1},
        "focus_at_m": 1, "foreground": {"kind": "plant", "ahead_m": 1, "right_m": 1}, "action": "It opens.",
        "sound": "effect", "recorder_away_m": 1, "capture_rate_fps": 48, "planned_s": 2, "priority": "must_have",
        "sun": "side", "one_chance": true, "on_set_min": 1, "notes": "a", "continuity": "b", "dropped": true
    }"#;

    #[test]
    fn a_shot_of_which_all_is_said_weighs_no_more_than_is_counted() {
        let record: ShotRecord = serde_json::from_str(SHOT).expect("a shot");
        assert!(record.unknown.is_empty(), "{:?}", record.unknown);
        let weighs = weight(&serde_json::to_string(&record).expect("text"));
        assert!((THING - 40..=THING).contains(&weighs), "{weighs}");
    }
}
