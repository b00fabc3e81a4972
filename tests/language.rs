//! In another language files are what they were, and what people read is that language's.
//!
//! What is spoken is settled once in a process, so all of it is one test.

#![expect(clippy::expect_used, reason = "a check that cannot read what it needs has failed")]

use std::collections::BTreeMap;

use film::{
    Daylights, DayPlan, Film, Rehearsals, Severity, check_cut, cut_csv, day_csv, demo_film, fdl, film_link, open_film, otio,
    shots_csv, takes_csv, write_film,
};
use language::Spoken;
use units::LengthUnit;

const DUTCH: &str = include_str!("../presets/words/nl.json");

/// What machines read of a film: none of it knows who reads it.
fn for_machines(film: &Film) -> Vec<(&'static str, String)> {
    let mut rehearsals = Rehearsals::default();
    let day = &film.days[0];
    let daylights = Daylights::new();
    let plan = DayPlan::of(film, day, &daylights, &mut rehearsals);
    let table = |bytes: Vec<u8>| String::from_utf8(bytes).expect("text");
    vec![
        ("film", write_film(film)),
        ("timeline", otio(film, &mut rehearsals).expect("written")),
        ("framing", fdl(film, 7).expect("written")),
        ("shots", table(shots_csv(film, &mut rehearsals).expect("written"))),
        ("cut", table(cut_csv(film).expect("written"))),
        ("takes", table(takes_csv(film).expect("written"))),
        ("day", table(day_csv(film, day, &plan, &daylights).expect("written"))),
    ]
}

/// What people are told of a film.
fn for_people(film: &Film) -> Vec<String> {
    let mut rehearsals = Rehearsals::default();
    let mut told = Vec::new();
    for scene in &film.scenes {
        let views = rehearsals.views(film, scene);
        for placed in check_cut(film, scene, &views) {
            told.push(placed.finding.to_finding(LengthUnit::Metres).text);
        }
    }
    told.extend(film.scenes.iter().flat_map(|scene| &scene.shots).map(|shot| shot.size.name().to_owned()));
    told
}

#[test]
fn files_do_not_know_who_reads_them() {
    let film = demo_film();
    let (files, told) = (for_machines(&film), for_people(&film));
    assert_eq!([film::clock(845.0), language::Number(1.5).to_string()], ["14:05", "1.5"]);

    let dutch: BTreeMap<String, String> = serde_json::from_str(DUTCH).expect("a catalogue");
    language::speak(Spoken::handed_on("nl", dutch.into_iter().flat_map(<[String; 2]>::from).collect(), ',', 12));

    for ((name, before), (_, now)) in files.iter().zip(for_machines(&film)) {
        assert_eq!(*before, now, "{name}");
    }
    let again = open_film(files[0].1.as_bytes()).expect("a film").film;
    assert_eq!(again, film, "a film reads the same in every language");
    assert_ne!(told, for_people(&film));
    assert_eq!([film::clock(845.0), language::Number(1.5).to_string()], ["2:05 pm", "1,5"]);
}
