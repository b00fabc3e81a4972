//! What happens when in a scene, and where each beat's line is. Beats stand in the order in which they start.

use film::{Beat, BeatId, Film, LineWish, SceneBlocking, USUAL_PLANNED_S};
use glam::DVec2;

use super::{LATEST_S, Refusal, taped};

/// An end of a line that was drawn by hand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::story::floor) enum LineEnd {
    From,
    To,
}

/// As many beats as files hold of a scene: more is another scene.
pub(super) const MOST_BEATS: usize = 200;
/// How long a line is that is drawn where there is none, metres: chosen as two people stand apart, and a step beyond each.
const NEW_LINE_M: f64 = 3.0;
/// How far beyond two people a line by hand goes on, metres: a step.
const BEYOND_M: f64 = 0.7;

/// Another beat, some seconds after the last one; the first starts with the scene.
///
/// # Errors
/// Says if the scene is full.
pub(in crate::story::floor) fn adds_beat(
    blocking: &SceneBlocking,
    id: BeatId,
) -> Result<SceneBlocking, Refusal> {
    if blocking.beats.len() >= MOST_BEATS {
        return Err(Refusal::ManyBeats);
    }
    let mut changed = blocking.clone();
    let starts_s = changed.beats.last().map_or(0.0, |last| last.starts_s + USUAL_PLANNED_S);
    let starts_s = starts_s.min(LATEST_S);
    changed.beats.push(Beat { id, what: String::new(), starts_s, line: LineWish::Auto });
    Ok(changed)
}

/// What happens in a beat is another thing.
pub(in crate::story::floor) fn names_beat(blocking: &SceneBlocking, id: BeatId, what: &str) -> SceneBlocking {
    with_beat(blocking, id, |beat| what.trim().clone_into(&mut beat.what))
}

/// A beat starts at another second of the scene, and stands where that has it.
pub(in crate::story::floor) fn starts_beat(
    blocking: &SceneBlocking,
    id: BeatId,
    seconds: f64,
) -> SceneBlocking {
    let mut changed = with_beat(blocking, id, |beat| beat.starts_s = seconds.clamp(0.0, LATEST_S));
    changed.beats.sort_by(|one, other| one.starts_s.total_cmp(&other.starts_s));
    changed
}

/// A beat goes.
pub(in crate::story::floor) fn removes_beat(blocking: &SceneBlocking, id: BeatId) -> SceneBlocking {
    let mut changed = blocking.clone();
    changed.beats.retain(|beat| beat.id != id);
    changed
}

/// A beat happens before the one before it, or after the one after it: the two change seconds.
pub(in crate::story::floor) fn reorders_beat(
    blocking: &SceneBlocking,
    id: BeatId,
    later: bool,
) -> SceneBlocking {
    let mut changed = blocking.clone();
    let beats = &mut changed.beats;
    let Some(at) = beats.iter().position(|beat| beat.id == id) else { return changed };
    let Some(first) = (if later { Some(at) } else { at.checked_sub(1) }) else { return changed };
    if let Some([one, next]) = beats.get_mut(first..).and_then(|rest| rest.first_chunk_mut()) {
        std::mem::swap(one, next);
        std::mem::swap(&mut one.starts_s, &mut next.starts_s);
    }
    changed
}

/// A beat's line is to be elsewhere.
pub(in crate::story::floor) fn wishes_line(
    blocking: &SceneBlocking,
    id: BeatId,
    wish: LineWish,
) -> SceneBlocking {
    with_beat(blocking, id, |beat| beat.line = wish)
}

/// The line of a beat as if it had been drawn by hand where it is now, its ends free of people's tape, or in the middle of
/// everybody if it has none.
pub(in crate::story::floor) fn by_hand(film: &Film, blocking: &SceneBlocking, id: BeatId) -> LineWish {
    if let Some(line) = blocking.line(&film.cast, Some(id)) {
        let beyond = (line.to() - line.from()).normalize_or_zero() * BEYOND_M;
        return LineWish::ByHand(taped(line.from() - beyond), taped(line.to() + beyond));
    }
    let people = blocking.people_at(&film.cast, blocking.starts_s(Some(id)));
    let middle = super::arrival::middle(people.iter().map(|one| one.person.place));
    let half = DVec2::X * (NEW_LINE_M / 2.0);
    LineWish::ByHand(taped(middle - half), taped(middle + half))
}

/// An end of a line by hand comes elsewhere.
pub(in crate::story::floor) fn moves_line_end(
    blocking: &SceneBlocking,
    id: BeatId,
    end: LineEnd,
    to: DVec2,
) -> SceneBlocking {
    with_beat(blocking, id, |beat| {
        if let LineWish::ByHand(from, other) = &mut beat.line {
            match end {
                LineEnd::From => *from = taped(to),
                LineEnd::To => *other = taped(to),
            }
        }
    })
}

fn with_beat(blocking: &SceneBlocking, id: BeatId, change: impl FnOnce(&mut Beat)) -> SceneBlocking {
    let mut changed = blocking.clone();
    if let Some(beat) = changed.beats.iter_mut().find(|beat| beat.id == id) {
        change(beat);
    }
    changed
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::story::floor::blocking_edit::tests::{beat_id, two};

    fn told(blocking: &SceneBlocking) -> Vec<(u64, f64)> {
        blocking.beats.iter().map(|beat| (beat.id.number(), beat.starts_s)).collect()
    }

    #[test]
    fn a_new_beat_comes_after_the_last() {
        let (_, scene) = two();
        assert_eq!(
            told(&adds_beat(&scene.blocking, beat_id(3)).expect("room")),
            [(1, 0.0), (2, 5.0), (3, 9.0)]
        );
        assert_eq!(told(&adds_beat(&SceneBlocking::default(), beat_id(3)).expect("room")), [(3, 0.0)]);
    }

    #[test]
    fn beats_stand_in_the_order_in_which_they_start() {
        let (_, scene) = two();
        assert_eq!(told(&starts_beat(&scene.blocking, beat_id(1), 7.5)), [(2, 5.0), (1, 7.5)]);
        assert_eq!(told(&starts_beat(&scene.blocking, beat_id(2), -3.0)), [(1, 0.0), (2, 0.0)]);
    }

    #[test]
    fn reordered_beats_change_seconds() {
        let (_, scene) = two();
        let swapped = [(2, 0.0), (1, 5.0)];
        assert_eq!(told(&reorders_beat(&scene.blocking, beat_id(1), true)), swapped);
        assert_eq!(told(&reorders_beat(&scene.blocking, beat_id(2), false)), swapped);
        assert_eq!(told(&reorders_beat(&scene.blocking, beat_id(2), true)), told(&scene.blocking));
        assert_eq!(told(&reorders_beat(&scene.blocking, beat_id(1), false)), told(&scene.blocking));
    }

    #[test]
    fn a_line_by_hand_begins_where_the_line_was() {
        let (film, scene) = two();
        let wish = by_hand(&film, &scene.blocking, beat_id(1));
        assert_eq!(wish, LineWish::ByHand(DVec2::new(-0.7, 0.0), DVec2::new(2.7, 0.0)));
        let drawn = wishes_line(&scene.blocking, beat_id(1), wish);
        let drawn = moves_line_end(&drawn, beat_id(1), LineEnd::To, DVec2::new(2.0, 3.0));
        assert_eq!(drawn.beats[0].line, LineWish::ByHand(DVec2::new(-0.7, 0.0), DVec2::new(2.0, 3.0)));
        assert_eq!(moves_line_end(&drawn, beat_id(2), LineEnd::To, DVec2::ONE), drawn);
    }

    #[test]
    fn a_line_by_hand_can_begin_on_an_empty_floor() {
        let (film, _) = two();
        let blocking = adds_beat(&SceneBlocking::default(), beat_id(1)).expect("room");
        let wish = by_hand(&film, &blocking, beat_id(1));
        assert_eq!(wish, LineWish::ByHand(DVec2::new(-1.5, 0.0), DVec2::new(1.5, 0.0)));
    }
}
