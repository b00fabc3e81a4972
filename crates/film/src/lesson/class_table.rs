//! A class's answers as one table.

use language::say;
use units::LengthUnit;

use super::answer::{self, open_answer};
use super::task::{Judged, LessonTask};

/// A class's answers to one task, in the order in which they were handed in.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct ClassTable {
    /// Those that could be judged.
    pub judged: Vec<Judged>,
    /// Those that could not.
    pub refused: Vec<RefusedAnswer>,
}

/// An answer that could not be judged.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RefusedAnswer {
    /// Where it is from: the file's name, or what it was handed in as, and which of several it is.
    pub from: String,
    /// What is wrong, with the field and what to do.
    pub why: String,
}

/// The most answers that are read: chosen because no class is larger.
const MOST_ANSWERS: usize = 500;

/// Judges answers, each with what it was handed in as: a file's name, say; lengths are told in `unit`. A text may hold
/// several answers; one that cannot be read costs none of the others.
pub fn class_table<'text>(
    task: &LessonTask,
    handed_in: impl IntoIterator<Item = (&'text str, &'text str)>,
    unit: LengthUnit,
) -> ClassTable {
    let mut table = ClassTable::default();
    for (name, text) in handed_in {
        let answers = answers_in(text);
        for (at, one) in answers.iter().enumerate() {
            let from = if answers.len() > 1 { say!("{name}, answer {}", at + 1) } else { name.to_owned() };
            if table.judged.len() + table.refused.len() >= MOST_ANSWERS {
                let why =
                    say!("is more than the {MOST_ANSWERS} answers that are read: hand the rest in apart");
                table.refused.push(RefusedAnswer { from, why });
                return table;
            }
            match judge(task, one, unit) {
                Ok(judged) => table.judged.push(judged),
                Err(why) => table.refused.push(RefusedAnswer { from, why }),
            }
        }
    }
    table
}

fn judge(task: &LessonTask, text: &str, unit: LengthUnit) -> Result<Judged, String> {
    let answer = open_answer(text).map_err(|error| error.to_string())?;
    task.judge(&answer, unit).map_err(|error| format!("{}: {error}", answer.who))
}

/// The answers of a text: one begins wherever the key stands, as none stands within a field. A text without any is one.
fn answers_in(text: &str) -> Vec<&str> {
    let text = text.trim_start_matches('\u{feff}').trim();
    let key = format!("{}=", answer::KEY);
    let starts: Vec<usize> = text.match_indices(&key).map(|(at, _)| at).collect();
    let ends = starts.iter().skip(1).copied().chain([text.len()]);
    let several: Vec<&str> = starts.iter().zip(ends).filter_map(|(from, to)| text.get(*from..to)).collect();
    // Between two links stands the address of the second.
    let several = several.into_iter().map(|one| {
        one.split_whitespace().next().map_or(one, |first| if one.contains("://") { first } else { one })
    });
    let several: Vec<&str> = several.collect();
    if several.is_empty() { vec![text] } else { several }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lesson::{Goal, GoalWish, Lesson, LessonState, answer_text};
    use crate::preset::kits;

    pub(super) fn task() -> LessonTask {
        let lesson = Lesson::SoftBackground;
        LessonTask {
            state: LessonState::usual(lesson),
            goal: Goal::of(lesson, "blur", GoalWish::AtLeast, 20.0).expect("a figure"),
            kit: kits()[0].to_kit().ok(),
            note: String::new(),
        }
    }

    fn answer(task: &LessonTask, who: &str, distance_m: f64) -> String {
        let state = LessonState { values: vec![distance_m, 20.0], ..task.state.clone() };
        answer_text(&task.answered(who, &state, task.kit.as_ref().expect("a kit")))
    }

    #[test]
    fn twenty_five_answers_are_twenty_five_rows_and_bad_ones_cost_none() {
        let task = task();
        let mut texts: Vec<(String, String)> = (0..25)
            .map(|at| {
                (format!("{at}.txt"), answer(&task, &format!("Learner {at}"), 0.3 + 0.1 * f64::from(at)))
            })
            .collect();
        texts[3].1 = "I moved closer".to_owned();
        texts[7].1 = texts[7].1.replace("distance=", "distance=x");
        texts[9].1 = texts[9].1.replace("soft", "shutter");
        let handed_in = texts.iter().map(|(name, text)| (name.as_str(), text.as_str()));
        let table = class_table(&task, handed_in, LengthUnit::Metres);
        assert_eq!((table.judged.len(), table.refused.len()), (22, 3));
        let told: Vec<String> =
            table.refused.iter().map(|one| format!("{}: {}", one.from, one.why)).collect();
        assert!(told[0].starts_with("3.txt: there is nothing of a lesson in it"), "{told:?}");
        assert!(told[1].starts_with("7.txt: distance: `x"), "{told:?}");
        assert!(told[2].starts_with("9.txt: figure: `blur` is none of this lesson"), "{told:?}");
        assert!(table.judged.iter().any(|one| one.is_met) && table.judged.iter().any(|one| !one.is_met));
        // Those who stood nearer did better.
        assert!(table.judged.is_sorted_by(|one, other| one.by >= other.by));
    }

    #[test]
    fn one_text_may_hold_several_answers() {
        let task = task();
        let one = |who: &str| answer(&task, who, 0.5);
        let text = format!(
            "\u{feff}Mine: https://films.example/#{}\r\n\r\nhttps://films.example/#{}\n{}\n",
            one("Ana"),
            one("Ben"),
            one("Cem")
        );
        let table = class_table(&task, [("all.txt", text.as_str())], LengthUnit::Metres);
        let who: Vec<&str> = table.judged.iter().map(|one| one.who.as_str()).collect();
        assert_eq!(who, ["Ana", "Ben", "Cem"], "{table:?}");
    }

    #[test]
    fn nothing_handed_in_is_an_empty_table() {
        assert_eq!(class_table(&task(), [], LengthUnit::Metres), ClassTable::default());
    }
}
