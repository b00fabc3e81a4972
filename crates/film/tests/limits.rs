//! What a film may hold and how heavy it may be fit together: a film with one list as long as it may be, of things of which
//! as much is said as can be, opens without a word.
#![expect(clippy::expect_used, reason = "a test that cannot make its film must fail")]

use film::{demo_film, open_film, write_film};
use serde_json::{Value, json};

/// A list of a film's file.
struct Limit {
    /// The object that holds it, as a JSON pointer.
    of: &'static str,
    list: &'static str,
    most: usize,
    /// One of its things, counted from 1.
    item: fn(usize) -> Value,
}

const LIMITS: [Limit; 19] = [
    Limit { of: "", list: "takes", most: 20_000, item: take },
    Limit { of: "", list: "cast", most: 200, item: person },
    Limit { of: "", list: "places", most: 500, item: place },
    Limit { of: "", list: "days", most: 500, item: day },
    Limit { of: "", list: "scenes", most: 500, item: scene },
    Limit { of: "/scenes/0", list: "shots", most: 10_000, item: shot },
    Limit { of: "/scenes/0", list: "cut", most: 5000, item: entry },
    Limit { of: "/scenes/0", list: "kept", most: 5000, item: kept },
    Limit { of: "/scenes/0", list: "wants", most: 200, item: |_| json!({"who": 1, "what": "tea"}) },
    Limit { of: "/scenes/0/blocking", list: "beats", most: 200, item: beat },
    Limit { of: "/scenes/0/blocking", list: "marks", most: 20, item: mark },
    Limit { of: "/scenes/0/blocking", list: "pieces", most: 60, item: piece },
    Limit {
        of: "/scenes/0/blocking/marks/0/way",
        list: "corners",
        most: 100,
        item: |_| json!({"x_m": 1, "y_m": 2}),
    },
    Limit { of: "/places/0", list: "photos", most: 200, item: photo },
    Limit { of: "/places/0/spot", list: "horizon", most: 360, item: horizon_point },
    Limit { of: "/places/0/paced", list: "sides", most: 64, item: side },
    Limit { of: "/days/0", list: "shots", most: 2000, item: |_| json!(1) },
    Limit { of: "/days/0", list: "pinned", most: 2000, item: |at| json!({"shot": 1, "at": at}) },
    Limit { of: "/days/0", list: "breaks", most: 20, item: |_| json!({"from_min": 700, "to_min": 730}) },
];

fn take(id: usize) -> Value {
    json!({
        "id": id, "shot": 1, "number": id % 9999 + 1, "verdict": "good", "why": "calm", "clip": "A_0042.mov",
        "at": "2026-09-12T13:05:00Z", "focus": "0.42",
    })
}

fn person(id: usize) -> Value {
    let hours = json!({"from_min": 540, "to_min": 1140});
    json!({"id": id, "name": "Ida", "stature_m": 1.6, "clothes": "#6f6a60", "hours": hours, "consent": true})
}

fn place(id: usize) -> Value {
    let spot = json!({"latitude_deg": 55.4, "longitude_deg": 11.8, "elevation_m": 12, "time_zone": "Europe/Copenhagen"});
    let sides = [side(1), side(2), side(3), side(4)];
    let paced =
        json!({"x_m": 0, "y_m": 1, "step_m": 0.7, "step_sd_m": 0.02, "first_deg": 20, "sides": sides});
    json!({"id": id, "name": "The kitchen", "notes": "Narrow.", "spot": spot, "paced": paced})
}

fn side(_: usize) -> Value {
    json!({"length_m": 4, "length_sd_m": 0.1, "turn_deg": 80, "turn_sd_deg": 5})
}

fn horizon_point(at: usize) -> Value {
    json!({"azimuth_deg": at - 1, "elevation_deg": 2.5})
}

fn photo(id: usize) -> Value {
    json!({
        "id": id, "name": "From the door", "x_m": 1, "y_m": 2, "height_m": 1.5, "height_sd_m": 0.1, "tilt_deg": 1,
        "tilt_sd_deg": 0.5, "roll_deg": 1, "azimuth_deg": 30, "horizontal_fov_deg": 65, "size_px": [4032, 3024],
        "far_m": 30, "taken": "2026-09-12T13:05:00",
    })
}

fn day(id: usize) -> Value {
    let hours = json!({"from_min": 540, "to_min": 1140});
    json!({
        "id": id, "title": "Saturday", "date": "2026-09-12", "hours": hours, "breaks": [hours], "weather": "overcast",
        "shots": [1], "pinned": [{"shot": 1, "at": 0}], "done": [1], "resumes_min": 700, "notes": "Bring the cake.",
    })
}

fn scene(id: usize) -> Value {
    json!({
        "id": id, "title": "In the kitchen", "place": 1, "setting": "inside", "time": "day", "mood": "calm",
        "wants": [{"who": 1, "what": "tea"}], "obstacle": "no cups", "happens": "She looks.", "changes": "All.",
        "room_m": 4, "light_ev100": 8, "lamps": true, "white_balance_k": 4000,
    })
}

/// Half again as much is said of it as of those of the film that comes with the program: of ten thousand that each use
/// every field there is, a film can hold a good four thousand.
fn shot(id: usize) -> Value {
    json!({
        "id": id, "of": {"one": 1}, "size": "medium", "headroom_share": 0.1, "side_deg": 30, "height_m": 1.2,
        "tilt_deg": 2, "across_share": 0.4, "lens": "main", "in_sensor_zoom": 2, "action": "She waits.",
        "sound": "dialogue", "recorder_away_m": 0.5, "planned_s": 4, "capture_rate_fps": 48, "notes": "A note.",
        "continuity": "The cup is full.",
    })
}

fn entry(id: usize) -> Value {
    json!({"id": id, "shot": 1, "from_s": 0.5, "to_s": 2.5})
}

fn kept(_: usize) -> Value {
    json!({"rule": "jump", "at": {"cut": {"from": 1, "to": 1}}, "reason": "It is meant."})
}

fn beat(id: usize) -> Value {
    json!({"id": id, "what": "She sits down.", "starts_s": id})
}

fn mark(who: usize) -> Value {
    let way = json!({"corners": [{"x_m": 1, "y_m": 2}], "pace_m_per_s": 1.2, "starts_s": 2});
    json!({"who": who, "x_m": 1, "y_m": 2, "faces_deg": 90, "posture": "standing", "way": way})
}

fn piece(_: usize) -> Value {
    json!({"kind": "table", "x_m": 1, "y_m": 2, "facing_deg": 20, "width_m": 1, "depth_m": 0.7, "height_m": 0.7})
}

/// A film with one of everything, and so many people as marks can be of.
fn small() -> Value {
    let mut film: Value = serde_json::from_str(&write_film(&demo_film())).expect("JSON");
    film["cast"] = (1..=20).map(person).collect();
    film["places"] = json!([place(1)]);
    film["places"][0]["spot"]["horizon"] = json!([]);
    film["days"] = json!([day(1)]);
    film["takes"] = json!([]);
    film["scenes"] = json!([scene(1)]);
    film["scenes"][0]["shots"] = json!([shot(1)]);
    film["scenes"][0]["cut"] = json!([entry(1)]);
    film["scenes"][0]["blocking"] = json!({"marks": [mark(1)]});
    film
}

/// What is said of a film whose one list is so long.
fn told(limit: &Limit, items: usize) -> Vec<String> {
    let mut film = small();
    if limit.list == "scenes" {
        // Of the days only what speaks of no shot.
        film["days"] = json!([]);
    }
    let holder = film.pointer_mut(limit.of).expect("it is in a small film");
    holder[limit.list] = (1..=items).map(limit.item).collect();
    match open_film(film.to_string().as_bytes()) {
        Ok(opened) => opened.problems.iter().map(ToString::to_string).collect(),
        Err(refusal) => vec![format!("refused: {refusal}")],
    }
}

#[test]
fn a_film_with_one_list_as_long_as_it_may_be_opens_without_a_word() {
    for limit in &LIMITS {
        let told = told(limit, limit.most);
        assert!(told.is_empty(), "{} of {:?}: {:?}", limit.list, limit.of, told.first());
    }
}

#[test]
fn one_more_is_left_out_and_told() {
    for limit in &LIMITS {
        let told = told(limit, limit.most + 1);
        let words = format!("a list of {} is not allowed", limit.most + 1);
        assert!(told.iter().any(|told| told.contains(&words)), "{} of {:?}: {told:?}", limit.list, limit.of);
    }
}
