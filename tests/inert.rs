//! Every text of a film is text in whatever is handed over: each injection of `reference/injections.toml` stands in every
//! free text of a film and of its kit, and what comes out has the bones of the same film with plain words.

#![expect(clippy::expect_used, reason = "a check that cannot read what it needs has failed")]

#[path = "inert/bones.rs"]
mod bones;
#[path = "inert/texts.rs"]
mod texts;

use std::collections::{BTreeMap, BTreeSet};
use std::iter;

use checks::json_texts;
use film::{
    DayCalendar, DayPlan, Daylights, Film, FilmRecord, LinkContents, Rehearsals, SheetDay, SheetOrder,
    SheetPart, Sheets, USUAL_STEP, cut_csv, day_csv, fdl, film_link, framing_id, ics, open_film, open_link,
    otio, plain_name, shots_csv, table_files, takes_csv, write_film,
};
use schemars::schema_for;
use serde_json::Value;
use units::LengthUnit;

use bones::{Bones, calendar_bones, calendar_texts, json_bones, markup};
use texts::{FREE, Injection, full_film, injections, with_texts};

/// Texts of a film's file that are no free ones: each is a word, a time or a number written as text, and is checked.
const MEANT: [&str; 6] =
    ["cast.clothes", "days.date", "photos.taken", ".aspect", "spot.time_zone", "takes.at"];

/// A film whose free texts are all this one. What things of the kit are called has a number behind it, or none could be told
/// from another.
fn filled(text: &str) -> Film {
    let mut file = full_film(1, 2);
    with_texts(&mut file, &mut |_, number| {
        number.map_or_else(|| text.to_owned(), |number| format!("{text} {number}"))
    });
    let opened = open_film(file.to_string().as_bytes()).expect("a film");
    assert!(opened.problems.is_empty(), "{:?} of {text:.40?}", opened.problems);
    opened.film
}

/// As many plain letters as a text has, so that labels are as wide and are put in the same places; what is no word stays none.
fn plain(text: &str) -> String {
    let letter = if text.trim().is_empty() { ' ' } else { 'x' };
    iter::repeat_n(letter, text.chars().count()).collect()
}

/// What is handed over of a film.
struct Handed {
    sheets: String,
    calendar: String,
    timeline: String,
    framing: String,
    tables: Vec<Vec<u8>>,
    names: Vec<String>,
}

fn handed(film: &Film) -> Handed {
    let mut rehearsals = Rehearsals::default();
    let daylights = Daylights::new();
    let day = film.days.first().expect("a day");
    let plan = DayPlan::of(film, day, &daylights, &mut rehearsals);
    let sheets = Sheets {
        film,
        day: Some(SheetDay { number: Some(1), day, plan: &plan, daylights: &daylights }),
        parts: &SheetPart::ALL,
        order: SheetOrder::Story,
        step: USUAL_STEP,
        unit: LengthUnit::Metres,
    };
    let stamp = "2026-09-01T12:00:00Z".parse().expect("a time");
    let (plan, daylights) = (&plan, &daylights);
    let calendar = DayCalendar { film, day, plan: Some(plan), daylights, film_key: "a-film", stamp };
    let tables = [
        shots_csv(film, &mut rehearsals),
        cut_csv(film),
        takes_csv(film),
        day_csv(film, day, plan, daylights),
    ];
    let files = table_files(film, &mut rehearsals).expect("written");
    // As mattes are called; to draw them takes long, and no text is in them.
    let mattes = film.kit.recordings.iter().map(|mode| format!("{}.png", plain_name(&mode.name)));
    Handed {
        sheets: sheets.markup(&mut rehearsals, &|_| None),
        calendar: ics(&calendar).expect("written"),
        timeline: otio(film, &mut rehearsals).expect("written"),
        framing: fdl(film, framing_id(film)).expect("written"),
        tables: tables.into_iter().map(|table| table.expect("written")).collect(),
        names: files.into_iter().map(|file| file.name).chain(mattes).collect(),
    }
}

/// What a reader of such tables makes of one.
fn cells(table: &[u8]) -> Vec<Vec<String>> {
    let mut reader = csv::ReaderBuilder::new().has_headers(false).flexible(true).from_reader(table);
    let row = |record: csv::StringRecord| record.iter().map(str::to_owned).collect();
    reader.records().map(|record| row(record.expect("a row"))).collect()
}

/// What is not seen at the beginning of a cell, and is dropped by some.
fn is_dropped(letter: char) -> bool {
    letter.is_whitespace() || letter.is_control() || "\u{feff}\u{200b}\u{200e}\u{202e}".contains(letter)
}

fn no_cell_is_a_formula(injection: &Injection, clean: &[u8], table: &[u8]) {
    let (clean, told) = (cells(clean), cells(table));
    let widths = |rows: &[Vec<String>]| rows.iter().map(Vec::len).collect::<Vec<_>>();
    assert_eq!(widths(&clean), widths(&told), "{injection:?} makes other cells");
    for cell in told.iter().flatten() {
        let begins = cell.trim_start_matches(is_dropped).chars().next();
        let is_number = cell.parse::<f64>().is_ok();
        let is_formula = begins.is_some_and(|letter| "=+-@＝＋－＠".contains(letter)) && !is_number;
        assert!(!is_formula && !cell.starts_with(['\t', '\r', '\n']), "{injection:?} is a formula: {cell:?}");
    }
    let wanted = injection.text.as_str();
    let is_there =
        told.iter().flatten().any(|cell| cell == wanted || cell.strip_prefix('\'') == Some(wanted));
    let is_spoken_of = clean.iter().flatten().any(|cell| *cell == plain(wanted));
    assert!(is_there || !is_spoken_of, "{injection:?} does not come back from the table");
}

#[test]
fn the_list_is_long_and_of_every_class() {
    let all = injections();
    assert!(all.len() >= 200, "{}", all.len());
    let texts: BTreeSet<&str> = all.iter().map(|one| one.text.as_str()).collect();
    assert_eq!(texts.len(), all.len(), "two are alike");
    let classes: BTreeSet<&str> = all.iter().map(|one| one.class.as_str()).collect();
    assert!(classes.len() >= 18, "{classes:?}");
}

/// The schema names every text of a file, so that a new one cannot be forgotten here.
#[test]
fn every_text_of_a_film_is_filled_or_known_to_be_none() {
    let schema = schema_for!(FilmRecord);
    let mut all = BTreeSet::new();
    texts_of_schema(schema.as_value(), schema.as_value(), "", &mut all);
    let found = with_texts(&mut full_film(3, 4), &mut |_, _| "x".to_owned());
    let free: BTreeSet<String> = FREE.iter().map(|&one| one.to_owned()).collect();
    assert_eq!(found, free, "a film that has all texts is to have these");
    // What a newer program writes is in no schema.
    let known = free.iter().map(String::as_str).chain(MEANT).filter(|&one| one != ".later");
    let known: BTreeSet<String> = known.map(str::to_owned).collect();
    let missing: Vec<&String> = all.difference(&known).collect();
    assert!(missing.is_empty(), "in no list of tests/inert: {missing:?}");
    let gone: Vec<&String> = known.difference(&all).collect();
    assert!(gone.is_empty(), "no longer in the format: {gone:?}");
}

/// The labels of all texts that are not one of a few words.
fn texts_of_schema(root: &Value, part: &Value, within: &str, all: &mut BTreeSet<String>) {
    for (name, field) in part["properties"].as_object().into_iter().flatten() {
        for variant in variants(root, field) {
            if is_free_text(variant) || is_free_text(&variant["items"]) {
                all.insert(format!("{within}.{name}"));
            } else {
                texts_of_schema(root, variant, name, all);
                for item in variants(root, &variant["items"]) {
                    if !variant["items"].is_null() {
                        texts_of_schema(root, item, name, all);
                    }
                }
            }
        }
    }
    for variant in
        ["oneOf", "anyOf", "allOf"].iter().flat_map(|of| part[*of].as_array().into_iter().flatten())
    {
        texts_of_schema(root, variant, within, all);
    }
}

/// A field's own shapes: itself, what it refers to, and what it may be one of.
fn variants<'schema>(root: &'schema Value, field: &'schema Value) -> Vec<&'schema Value> {
    let mut found = vec![field];
    if let Some(path) = field["$ref"].as_str().and_then(|path| path.strip_prefix('#')) {
        found.extend(root.pointer(path));
    }
    for variant in
        ["oneOf", "anyOf", "allOf"].iter().flat_map(|of| field[*of].as_array().into_iter().flatten())
    {
        found.extend(variants(root, variant));
    }
    found
}

fn is_free_text(schema: &Value) -> bool {
    let types = &schema["type"];
    let is_text =
        types == "string" || types.as_array().is_some_and(|all| all.iter().any(|one| one == "string"));
    is_text && schema["enum"].is_null() && schema["const"].is_null()
}

#[test]
fn every_injection_is_text_in_all_that_is_handed_over() {
    let mut of_plain = BTreeMap::new();
    for injection in injections() {
        let text = injection.text.as_str();
        let told = handed(&filled(text));
        let plain = plain(text);
        let wanted = of_plain.entry(plain.clone()).or_insert_with(|| handed(&filled(&plain)));

        let Bones { bones, texts } =
            markup(&told.sheets).unwrap_or_else(|why| panic!("{injection:?}: {why}"));
        let expected = markup(&wanted.sheets).expect("plain words are markup");
        assert_eq!(bones, expected.bones, "{injection:?} makes other markup");
        let is_shown = texts.iter().any(|shown| shown.contains(text.trim()));
        assert!(is_shown, "{injection:?} is not on the sheets as it was written");

        let bones = calendar_bones(&told.calendar).unwrap_or_else(|why| panic!("{injection:?}: {why}"));
        assert_eq!(bones, calendar_bones(&wanted.calendar).expect("a calendar"), "{injection:?}");
        let summary: String = text.replace("\r\n", "\n").replace('\r', "\n");
        let summary: String = summary
            .chars()
            .filter(|&letter| letter == '\n' || letter == '\t' || !letter.is_control())
            .collect();
        assert!(calendar_texts(&told.calendar).iter().any(|shown| shown.contains(&summary)), "{injection:?}");

        for (name, told, wanted) in
            [("timeline", &told.timeline, &wanted.timeline), ("framing", &told.framing, &wanted.framing)]
        {
            // A take whose clip has no name that is one refers to no media, and so do all of such a film.
            let is_alike = json_bones(told) == json_bones(wanted) || !names_a_file(text);
            assert!(is_alike, "{injection:?} changes the {name}");
        }
        let timeline = serde_json::from_str(&told.timeline).expect("JSON");
        assert!(json_texts(&timeline).iter().any(|shown| shown == text), "{injection:?}");
        for (told, wanted) in told.tables.iter().zip(&wanted.tables) {
            no_cell_is_a_formula(&injection, wanted, told);
        }
        for name in &told.names {
            let is_plain =
                !name.starts_with(['.', '-', '~']) && !name.contains(['/', '\\', ':', '\0', '"', '<']);
            assert!(is_plain && !name.contains(".."), "{injection:?}: a file is called {name:?}");
        }
        assert!(told.timeline.lines().filter(|line| line.contains("\"target_url\"")).all(is_own_address));
    }
}

fn names_a_file(text: &str) -> bool {
    text.trim().split('/').any(|part| !matches!(part, "" | "." | ".."))
}

/// Whether an address of the timeline leads to nothing but a file beside it.
fn is_own_address(line: &str) -> bool {
    let address = line.split('"').nth(3).unwrap_or_default();
    let is_plain = |letter: char| letter.is_ascii_alphanumeric() || "-._~%/".contains(letter);
    address.chars().all(is_plain) && !address.starts_with('/') && address.split('/').all(|part| part != "..")
}

#[test]
fn every_injection_comes_back_from_files_and_links() {
    let everything = LinkContents { names: true, coordinates: true };
    for injection in injections() {
        let film = filled(&injection.text);
        let again = open_film(write_film(&film).as_bytes()).expect("a film");
        assert!(again.problems.is_empty() && again.film == film, "{injection:?} is another in a file");
        // Long ones repeat themselves, and so are short in a link.
        let link = film_link(&film, everything).expect("short enough");
        let is_plain = |letter: char| letter.is_ascii_alphanumeric() || "=.-_".contains(letter);
        assert!(link.chars().all(is_plain), "{injection:?}: {link}");
        assert_eq!(open_link(&link).expect("a link").opened.film.facts.title, injection.text);
        assert!(!plain_name(&injection.text).is_empty());
    }
}

/// What only a file can say, between the quotes of its JSON.
fn between_quotes() -> Vec<String> {
    let list: toml::Value = toml::from_str(include_str!("reference/injections.toml")).expect("TOML");
    let all = list["injection"].as_array().expect("a list");
    all.iter().filter_map(|one| Some(one.get("json")?.as_str()?.to_owned())).collect()
}

#[test]
fn what_no_text_can_hold_is_refused_or_replaced() {
    let all = between_quotes();
    assert!(all.len() > 3, "{all:?}");
    for inner in all {
        let file = full_film(1, 1).to_string().replacen("\"The Biscuit Thief\"", &format!("\"{inner}\""), 1);
        assert!(file.contains(&inner), "{inner:?} is not in the file");
        if let Ok(opened) = open_film(file.as_bytes()) {
            assert!(!opened.problems.is_empty(), "{inner:?} is opened without a word");
        }
    }
}
