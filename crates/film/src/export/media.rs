//! What clips of the timeline refer to: the takes whose clips have names, and media that is missing.

use serde_json::{Map, Value, json};

use crate::film::Film;
use crate::id::ShotId;
use crate::take_log::LoggedTake;

/// The key of media that is missing, as the format has it for a clip's only reference.
const MISSING: &str = "DEFAULT_MEDIA";

/// What a clip may refer to, and to which of these it does.
pub(super) struct Media {
    pub(super) references: Map<String, Value>,
    pub(super) active: String,
}

/// The media of a shot of that number.
///
/// Each take whose clip has a name is a reference, as `take 2`. The shot's best take is the one that is referred to; where it
/// has no clip that is named, or there is no such take, the media is missing, and is so long as `planned`. How long a take is,
/// nobody has said, so its range is left open.
pub(super) fn media(film: &Film, shot: ShotId, number: &str, planned: &Value) -> Media {
    let mut references = Map::new();
    let best = film.best_take(shot);
    let mut active = None;
    for take in film.takes_of(shot) {
        let Some(address) = address(&take.clip) else { continue };
        let key = free_key(&references, take.number);
        if best.is_some_and(|best| best.id == take.id) {
            active = Some(key.clone());
        }
        references.insert(key, reference(take, number, &address));
    }
    let active = active.unwrap_or_else(|| {
        let missing = json!({
            "OTIO_SCHEMA": "MissingReference.1", "metadata": {}, "name": number,
            "available_range": planned, "available_image_bounds": null,
        });
        references.insert(MISSING.to_owned(), missing);
        MISSING.to_owned()
    });
    Media { references, active }
}

fn reference(take: &LoggedTake, number: &str, address: &str) -> Value {
    json!({
        "OTIO_SCHEMA": "ExternalReference.1",
        "metadata": {"tapemark": facts(take)},
        "name": format!("{number} take {}", take.number),
        "available_range": null,
        "available_image_bounds": null,
        "target_url": address,
    })
}

/// What is told of a take.
pub(super) fn facts(take: &LoggedTake) -> Value {
    json!({"take_id": take.id.number(), "take": take.number, "verdict": take.verdict.word(), "why": take.why})
}

/// A take's key; two that were slated alike are told apart.
fn free_key(taken: &Map<String, Value>, number: u32) -> String {
    let key = format!("take {number}");
    let again = (2_usize..).map(|at| format!("{key} ({at})"));
    std::iter::once(key.clone()).chain(again).find(|key| !taken.contains_key(key)).unwrap_or(key)
}

/// A clip's name as a URL relative to where the timeline lies; nothing for a clip without a name.
///
/// What is not a letter, a digit or one of `-._~` stands as its bytes in hexadecimal, save for the slashes of folders. Parts
/// that lead to another folder than they name are left out.
///
/// # Source
/// RFC 3986, sections 2.1, 2.3 and 4.2.
fn address(clip: &str) -> Option<String> {
    let parts = clip.trim().split('/').filter(|part| !matches!(*part, "" | "." | ".."));
    let parts: Vec<String> = parts.map(encoded).collect();
    (!parts.is_empty()).then(|| parts.join("/"))
}

fn encoded(part: &str) -> String {
    let byte = |byte: u8| match byte {
        b'A'..=b'Z' | b'a'..=b'z' | b'0'..=b'9' | b'-' | b'.' | b'_' | b'~' => char::from(byte).to_string(),
        _ => format!("%{byte:02X}"),
    };
    part.bytes().map(byte).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::id::TakeId;
    use crate::preset::demo_film;
    use crate::take_log::Verdict;
    use std::sync::Arc;

    /// The media of the demo film's first shot with takes of these numbers, verdicts and clips.
    fn media_of(takes: &[(u32, Verdict, &str)]) -> Media {
        let mut film = demo_film();
        let shot = film.scenes[0].shots[0].id;
        let logged = takes.iter().zip(1..).map(|(&(number, verdict, clip), id)| {
            let take = LoggedTake::new(TakeId::new(id).expect("an id"), shot, number);
            Arc::new(LoggedTake { verdict, clip: clip.to_owned(), ..take })
        });
        film.takes = logged.collect();
        media(&film, shot, "1.1", &json!("as planned"))
    }

    fn keys(media: &Media) -> Vec<&str> {
        media.references.keys().map(String::as_str).collect()
    }

    #[test]
    fn a_clip_refers_to_the_best_take_and_has_the_others_beside_it() {
        let media = media_of(&[
            (1, Verdict::NotGood, "a.mov"),
            (2, Verdict::Good, "b 2.mov"),
            (3, Verdict::Unsaid, "c.mov"),
            (4, Verdict::Good, "  "),
            (5, Verdict::Good, "e.mov"),
        ]);
        assert_eq!((media.active.as_str(), keys(&media).len()), ("take 5", 4));
        let second = &media.references["take 2"];
        assert_eq!(second["OTIO_SCHEMA"], "ExternalReference.1");
        assert_eq!(second["target_url"], "b%202.mov");
        assert_eq!(second["name"], "1.1 take 2");
        let facts = json!({"take_id": 2, "take": 2, "verdict": "good", "why": ""});
        assert_eq!(second["metadata"]["tapemark"], facts);
    }

    #[test]
    fn media_is_missing_while_the_best_takes_clip_has_no_name() {
        let media = media_of(&[(1, Verdict::NotGood, "a.mov"), (2, Verdict::Good, "")]);
        assert_eq!((media.active.as_str(), keys(&media)), (MISSING, vec![MISSING, "take 1"]));
        assert_eq!(media.references[MISSING]["available_range"], "as planned");
        let none = media_of(&[]);
        assert_eq!((none.active.as_str(), keys(&none)), (MISSING, vec![MISSING]));
    }

    #[test]
    fn two_takes_that_were_slated_alike_are_both_there() {
        let media = media_of(&[(1, Verdict::Good, "a.mov"), (1, Verdict::Good, "b.mov")]);
        assert_eq!((media.active.as_str(), keys(&media)), ("take 1 (2)", vec!["take 1", "take 1 (2)"]));
        assert_eq!(media.references["take 1 (2)"]["target_url"], "b.mov");
    }

    #[test]
    fn a_clips_name_is_a_relative_address() {
        let told = |clip| address(clip).unwrap_or_default();
        assert_eq!(told("DCIM/100/IMG_0042.MOV"), "DCIM/100/IMG_0042.MOV");
        assert_eq!(told("50% #1?é.mov"), "50%25%20%231%3F%C3%A9.mov");
        assert_eq!(told("file:x.mov"), "file%3Ax.mov");
        assert_eq!(told("//host/../x.mov"), "host/x.mov");
        assert_eq!((address(" "), address("../..")), (None, None));
    }
}
