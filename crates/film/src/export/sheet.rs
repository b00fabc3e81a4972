//! The paper that a crew carries, as markup: a call sheet, a shot list, a card a setup, a floor plan a scene.
//!
//! # Conventions
//! - What comes out is the inside of a page's body: a `<section class="paper ...">` a part. Its looks are `web/print/print.css`.
//! - Every text of the film is escaped by the macro that writes it. There is no `style` attribute and no script, so that the
//!   strictest page may show it.
//! - Ink on white: nothing is told by a colour alone.
//! - No figure is made here: what is told was resolved by `staging` and by the rest of `film`.

mod call_sheet;
mod card;
mod card_figures;
mod caution;
mod kit_list;
mod label;
mod paper;
mod plan_svg;
mod plan_view;
mod shot_list;
mod words;

use language::say;
use maud::{DOCTYPE, PreEscaped, html};
use units::{Length, LengthUnit};

use self::paper::Paper;
use crate::day::ShootingDay;
use crate::day_plan::{DayPlan, Daylights};
use crate::film::Film;
use crate::id::ShotId;
use crate::rehearsal::Rehearsals;

/// What a crew's sheets are made of.
#[derive(Debug, Clone, Copy)]
pub struct Sheets<'film> {
    /// The film.
    pub film: &'film Film,
    /// The day that they are for. Without one they hold all of the film, and there is no call sheet.
    pub day: Option<SheetDay<'film>>,
    /// Which of them are wanted.
    pub parts: &'film [SheetPart],
    /// How shots follow each other.
    pub order: SheetOrder,
    /// One step of whoever paces it out; positive.
    pub step: Length,
    /// The unit beside the steps.
    pub unit: LengthUnit,
}

/// A day as its sheets need it.
#[derive(Debug, Clone, Copy)]
pub struct SheetDay<'film> {
    /// Its number among the film's days, from 1; none for a day that the film does not plan.
    pub number: Option<usize>,
    /// The day.
    pub day: &'film ShootingDay,
    /// Its order of work.
    pub plan: &'film DayPlan,
    /// The light at its places.
    pub daylights: &'film Daylights,
}

/// One kind of sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum SheetPart {
    /// Where and when, with whom, and what to bring.
    CallSheet,
    /// All shots with their pictures.
    ShotList,
    /// Everything of one setup.
    Cards,
    /// Where everybody and the phone stand in a scene.
    Plans,
}

/// How shots follow each other on paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum SheetOrder {
    /// As the story tells them.
    #[default]
    Story,
    /// As they are shot; as the story tells them where no day says otherwise.
    Work,
}

/// What a file of sheets may load: nothing from elsewhere.
const ALLOWED: &str =
    "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'";

/// Gives the address of a shot's picture, if there is one: a `data:` or a `blob:` URL.
pub type PictureAddress<'a> = dyn Fn(ShotId) -> Option<String> + 'a;

impl SheetPart {
    /// All of them, in the order in which they are printed.
    pub const ALL: [Self; 4] = [Self::CallSheet, Self::ShotList, Self::Cards, Self::Plans];

    /// In plain words.
    pub fn name(self) -> &'static str {
        match self {
            Self::CallSheet => say!("call sheet"),
            Self::ShotList => say!("shot list"),
            Self::Cards => say!("a card for each setup"),
            Self::Plans => say!("a floor plan for each scene"),
        }
    }
}

impl SheetOrder {
    /// In plain words.
    pub fn name(self) -> &'static str {
        match self {
            Self::Story => say!("story order"),
            Self::Work => say!("order of work"),
        }
    }
}

impl Sheets<'_> {
    /// The shots that are on the sheets, in their order: whose pictures are asked for.
    pub fn shots(&self) -> Vec<ShotId> {
        paper::listed(self).into_iter().map(|listed| listed.shot.id).collect()
    }

    /// The sheets as markup, parts in the order of [`SheetPart::ALL`].
    pub fn markup(&self, rehearsals: &mut Rehearsals, picture: &PictureAddress<'_>) -> String {
        let paper = Paper::of(self, rehearsals, picture);
        let is_wanted = |part: SheetPart| self.parts.contains(&part);
        html! {
            @if let Some(day) = self.day.filter(|_| is_wanted(SheetPart::CallSheet)) {
                (call_sheet::section(&paper, &day))
            }
            @if is_wanted(SheetPart::ShotList) { (shot_list::section(&paper)) }
            @if is_wanted(SheetPart::Cards) { (card::section(&paper)) }
            @if is_wanted(SheetPart::Plans) { (plan_svg::section(&paper)) }
        }
        .into_string()
    }

    /// The sheets as one file that opens in any browser, with `style` in it, which is a style sheet and not of the film.
    ///
    /// The file allows itself nothing but that style and pictures that are in it.
    pub fn file(&self, rehearsals: &mut Rehearsals, picture: &PictureAddress<'_>, style: &str) -> String {
        let body = self.markup(rehearsals, picture);
        html! {
            (DOCTYPE)
            html lang=(language::tongue().tag()) {
                head {
                    meta charset="utf-8";
                    meta http-equiv="Content-Security-Policy" content=(ALLOWED);
                    meta name="viewport" content="width=device-width";
                    title { (self.film.facts.called()) }
                    style { (PreEscaped(style)) }
                }
                body { (PreEscaped(body)) }
            }
        }
        .into_string()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::day::{Pinned, ShootingDay};
    use crate::film::Hours;
    use crate::id::TakeId;
    use crate::preset::demo_film;
    use crate::shot::Shot;
    use crate::take_log::{LoggedTake, Verdict};
    use proptest::prelude::*;
    use std::sync::Arc;

    /// Its sheets for its first day, without the sun.
    fn sheets_of(film: &Film, order: SheetOrder, parts: &[SheetPart]) -> String {
        let mut rehearsals = Rehearsals::default();
        let daylights = Daylights::new();
        let day = film.days.first();
        let plan = day.map(|day| DayPlan::of(film, day, &daylights, &mut rehearsals));
        let day = day.zip(plan.as_ref());
        let day = day.map(|(day, plan)| SheetDay { number: Some(1), day, plan, daylights: &daylights });
        let (step, unit) = (crate::USUAL_STEP, LengthUnit::Metres);
        let sheets = Sheets { film, day, parts, order, step, unit };
        sheets.markup(&mut rehearsals, &|shot| Some(format!("blob:picture?a=1&shot={}", shot.number())))
    }

    fn all_of(film: &Film) -> String {
        sheets_of(film, SheetOrder::Story, &SheetPart::ALL)
    }

    fn change_shot(film: &mut Film, (scene, shot): (usize, usize), change: impl FnOnce(&mut Shot)) {
        let scene = Arc::make_mut(&mut film.scenes[scene]);
        change(Arc::make_mut(&mut scene.shots[shot]));
    }

    fn count(text: &str, what: &str) -> usize {
        text.matches(what).count()
    }

    #[test]
    fn every_shot_has_a_row_and_a_card_and_every_scene_a_plan() {
        let film = demo_film();
        let told = all_of(&film);
        let shots: usize = film.scenes.iter().map(|scene| scene.shots.len()).sum();
        assert_eq!(count(&told, "<article class=\"paper-card\">"), shots);
        assert_eq!(count(&told, "<tr class=\"paper-shot\">"), shots);
        assert_eq!(count(&told, "<svg"), film.scenes.len());
        assert_eq!(count(&told, "<section class=\"paper"), 4);
    }

    #[test]
    fn a_shot_that_was_given_up_is_on_no_sheet() {
        let mut film = demo_film();
        change_shot(&mut film, (1, 2), |shot| shot.is_dropped = true);
        let told = all_of(&film);
        assert!(!told.contains(">2.3<") && told.contains(">2.4<"), "2.4 keeps its number");
    }

    #[test]
    fn a_film_without_days_has_all_but_a_call_sheet() {
        let mut film = demo_film();
        film.days = Arc::from([]);
        let told = sheets_of(&film, SheetOrder::Work, &SheetPart::ALL);
        assert_eq!(count(&told, "<section class=\"paper"), 3);
        assert!(
            told.contains("in story order") && told.contains("ISO "),
            "there is light, and no other order"
        );
    }

    #[test]
    fn in_the_order_of_work_times_go_up() {
        let film = demo_film();
        let starts = |order| -> Vec<String> {
            let told = sheets_of(&film, order, &[SheetPart::ShotList]);
            let cells = told.split("<td class=\"paper-when\">").skip(1);
            cells.map(|cell| cell.chars().take(5).collect()).collect()
        };
        let (story, work) = (starts(SheetOrder::Story), starts(SheetOrder::Work));
        assert!(work.is_sorted() && work.len() > 10, "{work:?}");
        assert!(!story.is_sorted(), "or this shows nothing: {story:?}");
    }

    #[test]
    fn logged_takes_are_printed_and_room_is_left_for_more() {
        let mut film = demo_film();
        let shot = film.scenes[0].shots[0].id;
        let id = TakeId::new(1).expect("small");
        let take =
            LoggedTake { verdict: Verdict::Good, clip: "A007".to_owned(), ..LoggedTake::new(id, shot, 7) };
        film.takes = Arc::from([Arc::new(take)]);
        let told = sheets_of(&film, SheetOrder::Story, &[SheetPart::Cards]);
        assert_eq!(count(&told, "A007"), 1);
        assert_eq!(count(&told, "aria-label=\"ticked\""), 1, "it is good, and nothing else is ticked");
    }

    #[test]
    fn who_has_agreed_is_ticked_and_a_child_needs_a_guardian() {
        let mut film = demo_film();
        let call_sheet = |film: &Film| sheets_of(film, SheetOrder::Story, &[SheetPart::CallSheet]);
        let before = call_sheet(&film);
        assert_eq!(count(&before, "aria-label=\"ticked\""), 0);
        assert_eq!(count(&before, "guardian is there"), 1, "Tom is a child");
        for person in Arc::make_mut(&mut film.cast) {
            person.consent = true;
        }
        for place in Arc::make_mut(&mut film.places) {
            place.permission = true;
        }
        let agreed = film.cast.len() + film.places.len();
        assert_eq!(count(&call_sheet(&film), "aria-label=\"ticked\""), agreed);
    }

    #[test]
    fn a_setup_that_is_late_says_so_wherever_it_has_a_time_and_so_does_whoever_is_away_then() {
        let mut film = demo_film();
        let shot = film.scenes[2].shots[3].id;
        let hours = Hours::until(9 * 60, 12 * 60).expect("hours");
        let pinned = vec![Pinned { shot, at: 0 }];
        film.days = [ShootingDay { hours, breaks: Vec::new(), pinned, ..film.days[0].clone() }].into();
        let late = |part| count(&sheets_of(&film, SheetOrder::Story, &[part]), "late: ");
        assert_eq!([SheetPart::CallSheet, SheetPart::ShotList, SheetPart::Cards].map(late), [1; 3]);
        let told = sheets_of(&film, SheetOrder::Story, &[SheetPart::CallSheet]);
        assert_eq!(count(&told, ", outside these hours"), 1, "Ida comes in the afternoon: {told}");
        assert_eq!(count(&told, "3.4 (late)"), 3, "among the day's shots, Ida's and Tom's: {told}");
    }

    #[test]
    fn no_style_attribute_and_no_script_is_written() {
        let told = all_of(&demo_film());
        assert!(!told.contains(" style=") && !told.contains("<script"), "the strictest page shows it");
    }

    #[test]
    fn a_pictures_address_is_escaped_as_well() {
        let told = all_of(&demo_film());
        assert!(told.contains("src=\"blob:picture?a=1&amp;shot="), "{}", &told[..400]);
    }

    #[test]
    fn a_file_says_what_it_may_load_and_holds_its_style() {
        let film = demo_film();
        let sheets = Sheets {
            film: &film,
            day: None,
            parts: &[SheetPart::ShotList],
            order: SheetOrder::Story,
            step: crate::USUAL_STEP,
            unit: LengthUnit::Metres,
        };
        let file = sheets.file(&mut Rehearsals::default(), &|_| None, ".paper > p { margin: 0 }");
        assert!(
            file.starts_with("<!DOCTYPE html><html lang=\"en\"><head><meta charset=\"utf-8\">"),
            "{file}"
        );
        assert!(
            file.contains("<style>.paper > p { margin: 0 }</style>"),
            "a style sheet is no text of the film"
        );
        assert!(file.contains("default-src 'none'"), "nothing comes from elsewhere");
        assert!(file.ends_with("</body></html>"), "{file}");
    }

    #[test]
    fn texts_of_any_script_come_through_as_text() {
        let mut film = demo_film();
        let title = "<script>alert(1)</script> & \"Ёж\" 泥棒 '";
        title.clone_into(&mut Arc::make_mut(&mut film.facts).title);
        title.clone_into(&mut Arc::make_mut(&mut film.cast)[0].name);
        title.clone_into(&mut Arc::make_mut(&mut film.places)[0].name);
        change_shot(&mut film, (0, 0), |shot| title.clone_into(&mut shot.action));
        let told = all_of(&film);
        assert!(!told.contains("<script"), "it is text");
        let escaped = "&lt;script&gt;alert(1)&lt;/script&gt; &amp; &quot;Ёж&quot; 泥棒 '";
        assert!(count(&told, escaped) > 5, "{} times", count(&told, escaped));
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(32))]

        #[test]
        fn no_text_of_a_film_makes_markup(text in any::<String>()) {
            let mut film = demo_film();
            film.scenes.truncate(1);
            Arc::make_mut(&mut film.scenes[0]).cut.clear();
            Arc::make_mut(&mut film.scenes[0]).shots.truncate(1);
            let with = |text: &str| {
                let mut film = film.clone();
                text.clone_into(&mut Arc::make_mut(&mut film.facts).title);
                for person in Arc::make_mut(&mut film.cast) {
                    text.clone_into(&mut person.name);
                }
                change_shot(&mut film, (0, 0), |shot| text.clone_into(&mut shot.action));
                // Not the plans: where a label goes follows from how long it is, and far ones have a line to them.
                let parts = [SheetPart::CallSheet, SheetPart::ShotList, SheetPart::Cards];
                let told = sheets_of(&film, SheetOrder::Story, &parts);
                (count(&told, "<"), count(&told, ">"), count(&told, "\""))
            };
            let text = format!("x{text}");
            // What is only white space is left out, so that it is told apart by a letter.
            prop_assert_eq!(with(&text), with("x"));
        }
    }
}
