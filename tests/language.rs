//! In another language files are what they were, and what people read is that language's.
//!
//! What is spoken is settled once in a process, so all of it is one test.

#![expect(clippy::expect_used, reason = "a check that cannot read what it needs has failed")]

use std::collections::BTreeMap;

use film::{
    DayPlan, Daylights, EntryView, Film, Rehearsals, check_cut, cut_csv, day_csv, demo_film, fdl, open_film,
    otio, shots_csv, takes_csv, write_film,
};
use language::Spoken;
use units::LengthUnit;

const DUTCH: &str = include_str!("../presets/words/nl.json");
/// A film in which there is something to find.
const BROKEN: &str = include_str!("films/valid/every_rule_broken.json");

/// What machines read of a film: none of it knows who reads it.
fn for_machines(film: &Film) -> Vec<(&'static str, String)> {
    let mut rehearsals = Rehearsals::default();
    let daylights = Daylights::new();
    let table = |bytes: Vec<u8>| String::from_utf8(bytes).expect("text");
    let mut files = vec![
        ("film", write_film(film)),
        ("timeline", otio(film, &mut rehearsals).expect("written")),
        ("framing", fdl(film, 7).expect("written")),
        ("shots", table(shots_csv(film, &mut rehearsals).expect("written"))),
        ("cut", table(cut_csv(film).expect("written"))),
        ("takes", table(takes_csv(film).expect("written"))),
    ];
    for day in film.days.iter() {
        let plan = DayPlan::of(film, day, &daylights, &mut rehearsals);
        files.push(("day", table(day_csv(film, day, &plan, &daylights).expect("written"))));
    }
    files
}

/// What people are told of a film.
fn for_people(film: &Film) -> Vec<String> {
    let mut rehearsals = Rehearsals::default();
    let mut told = Vec::new();
    for scene in &film.scenes {
        let views = EntryView::of_cut(film, scene, &mut rehearsals);
        for placed in check_cut(film, scene, &views) {
            told.push(placed.finding.to_finding(film, LengthUnit::Metres).message);
        }
    }
    told
}

#[test]
fn files_do_not_know_who_reads_them() {
    let films = [demo_film(), open_film(BROKEN.as_bytes()).expect("a film").film];
    let before = films.each_ref().map(|film| (for_machines(film), for_people(film)));
    assert_eq!([film::clock(845.0), language::Number(1.5).to_string()], ["14:05", "1.5"]);

    let dutch: BTreeMap<String, String> = serde_json::from_str(DUTCH).expect("a catalogue");
    let words = dutch.into_iter().flat_map(<[String; 2]>::from).collect();
    language::speak(Spoken::handed_on("nl", words, ',', 12));

    for (film, (files, told)) in films.iter().zip(before) {
        for ((name, before), (_, now)) in files.iter().zip(for_machines(film)) {
            assert_eq!(*before, now, "{name}");
        }
        let again = open_film(files[0].1.as_bytes()).expect("a film").film;
        assert_eq!(again, *film, "a film reads the same in every language");
        let now = for_people(film);
        assert!(told.iter().zip(&now).all(|(before, now)| before != now), "{now:#?}");
    }
    assert!(!for_people(&films[1]).is_empty(), "nothing is found in the broken film");
    assert_eq!([film::clock(845.0), language::Number(1.5).to_string()], ["2:05 pm", "1,5"]);
}
