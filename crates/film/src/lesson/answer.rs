//! What a learner hands back: a short text that fits into a link, a message or a small file.

use language::say;

use super::fields::{Fields, Written, field, short};
use super::link::{LessonLinkError, LessonState};
use super::packed::{KIT, packed, unpacked};
use super::task::Goal;
use crate::kit::Kit;

/// What a learner hands back.
#[derive(Debug, Clone, PartialEq)]
pub struct LessonAnswer {
    /// Who, as they call themselves.
    pub who: String,
    /// Where they have the lesson.
    pub state: LessonState,
    /// The goal that they answer.
    pub goal: Goal,
    /// Their phone, where the task has none.
    pub kit: Option<Kit>,
}

/// What an answer begins with.
pub(super) const KEY: &str = "answer";
/// The longest name, characters: chosen because a table's row has room for it.
const LONGEST_NAME: usize = 60;

/// The answer as a text.
pub fn answer_text(answer: &LessonAnswer) -> String {
    let mut written = Written::new(KEY, answer.state.lesson);
    let who: String = answer.who.trim().chars().take(LONGEST_NAME).collect();
    written.add("who", &who);
    answer.goal.write(&mut written);
    answer.state.write(&mut written);
    if let Some(kit) = &answer.kit {
        written.add(KIT, &packed(kit));
    }
    written.into_text()
}

/// Reads an answer; a whole link that ends with one does as well.
///
/// # Errors
/// Says what is wrong, naming the field.
pub fn open_answer(text: &str) -> Result<LessonAnswer, LessonLinkError> {
    let fields = Fields::read(KEY, text)?;
    let who = fields.text("who").unwrap_or_default();
    let who: String = who.chars().map(|letter| if letter.is_control() { ' ' } else { letter }).collect();
    let who = Some(who.trim()).filter(|who| !who.is_empty());
    let who = who.ok_or_else(|| field("who", say!("is missing: ask whose it is")))?;
    if who.chars().count() > LONGEST_NAME {
        let told = say!("`{}…` is longer than {LONGEST_NAME} letters: shorten it", short(who));
        return Err(field("who", told));
    }
    Ok(LessonAnswer {
        who: who.to_owned(),
        state: LessonState::read(&fields)?,
        goal: Goal::read(&fields)?,
        kit: fields.text(KIT).map(unpacked).transpose()?,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lesson::{GoalWish, Lesson};
    use crate::preset::kits;

    fn answer(who: &str) -> LessonAnswer {
        let lesson = Lesson::Shutter;
        LessonAnswer {
            who: who.to_owned(),
            state: LessonState { values: vec![90.0, 12.0], ..LessonState::usual(lesson) },
            goal: Goal::of(lesson, "smear", GoalWish::AtMost, 10.0).expect("a figure"),
            kit: None,
        }
    }

    #[test]
    fn an_answer_comes_back_from_its_text() {
        let text = answer_text(&answer("Zoë & Ян"));
        assert!(text.is_ascii() && text.len() < 120, "{text}");
        assert_eq!(open_answer(&text).expect("as written"), answer("Zoë & Ян"));
        let kit = kits()[0].to_kit().expect("a kit");
        let with_phone = LessonAnswer { kit: Some(kit), ..answer("Ana") };
        assert_eq!(open_answer(&answer_text(&with_phone)).expect("as written"), with_phone);
    }

    #[test]
    fn an_answer_without_a_name_says_so() {
        let told = open_answer(&answer_text(&answer("  "))).expect_err("nobody").to_string();
        assert_eq!(told, "who: is missing: ask whose it is");
        for nobody in ["%00", "%20%07%20"] {
            let text = format!("answer=1.shutter.who={nobody}&figure=smear&at_most=10");
            let told = open_answer(&text).expect_err("no letters").to_string();
            assert_eq!(told, "who: is missing: ask whose it is");
        }
        let told = open_answer("answer=1.shutter.who=Ana&angle=999").expect_err("too far").to_string();
        assert_eq!(told, "angle: 999 ° is not allowed: 5 to 360 °");
    }

    #[test]
    fn a_long_name_is_cut_when_written_and_refused_when_read() {
        let text = answer_text(&answer(&"x".repeat(500)));
        assert_eq!(open_answer(&text).expect("as written").who.len(), 60);
        let told = open_answer(&text.replace("who=", "who=yy")).expect_err("too long").to_string();
        assert!(told.starts_with("who: `yyxxx") && told.contains("shorten"), "{told}");
    }
}
