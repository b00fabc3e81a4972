//! A task: a figure of a lesson that a learner is to bring to a value, as a link; and how an answer does.

use language::{Number, say};
use units::LengthUnit;

use super::answer::LessonAnswer;
use super::fields::{Fields, Written, field, short};
use super::link::{LessonLinkError, LessonState};
use super::packed::{KIT, packed, unpacked};
use super::{Lesson, LessonFigure};
use crate::kit::Kit;
use crate::kit_file::RecordError;

/// A task.
#[derive(Debug, Clone, PartialEq)]
pub struct LessonTask {
    /// Where the lesson stands when it is set.
    pub state: LessonState,
    /// What is to be met.
    pub goal: Goal,
    /// The phone that it is to be met with; each learner's own if none was put in.
    pub kit: Option<Kit>,
    /// What the teacher says of it.
    pub note: String,
}

/// What is to be met.
#[derive(Debug, Clone, PartialEq)]
pub struct Goal {
    /// Which figure of the lesson, by its word.
    pub figure: &'static str,
    /// Which way.
    pub wish: GoalWish,
    /// How much, in the figure's unit.
    pub value: f64,
}

/// Which way a goal goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum GoalWish {
    /// As much, or more.
    AtLeast,
    /// As much, or less.
    AtMost,
}

/// How an answer does.
#[derive(Debug, Clone, PartialEq)]
pub struct Judged {
    /// Whose it is.
    pub who: String,
    /// What they chose: each handle's name, to be shown by [`language::text`], and its value in words.
    pub chose: Vec<(&'static str, String)>,
    /// The lens that it was judged on, by its name in the kit.
    pub lens: String,
    /// The figure of the goal.
    pub figure: LessonFigure,
    /// Whether the goal is met. What cannot be told meets nothing.
    pub is_met: bool,
    /// How far beyond the goal it is, in the figure's unit; short of it if negative.
    pub by: Option<f64>,
}

/// What a task's link begins with.
const KEY: &str = "task";
/// The longest note, characters: chosen because it stands over a picture.
const LONGEST_NOTE: usize = 300;
/// A figure within this share of the goal's value meets it: far below what is told, above what a link's rounding leaves.
const SAME: f64 = 1.0e-9;

impl GoalWish {
    /// Both.
    pub const ALL: [Self; 2] = [Self::AtLeast, Self::AtMost];

    /// What it is known by in links.
    pub const fn word(self) -> &'static str {
        match self {
            Self::AtLeast => "at_least",
            Self::AtMost => "at_most",
        }
    }

    /// In plain words.
    pub fn name(self) -> &'static str {
        match self {
            Self::AtLeast => say!("at least"),
            Self::AtMost => say!("at most"),
        }
    }
}

impl Goal {
    /// A goal for a figure of that lesson, known by its word; none if the lesson has none of that word.
    pub fn of(lesson: Lesson, figure: &str, wish: GoalWish, value: f64) -> Option<Self> {
        let figure = lesson.figure_words().iter().find(|word| **word == figure)?;
        value.is_finite().then_some(Self { figure, wish, value })
    }

    /// How far beyond the goal a value is; short of it if negative.
    pub fn beyond(&self, value: f64) -> f64 {
        match self.wish {
            GoalWish::AtLeast => value - self.value,
            GoalWish::AtMost => self.value - value,
        }
    }

    /// Whether a value meets it.
    pub fn is_met_by(&self, value: f64) -> bool {
        self.beyond(value) >= -SAME * libm::fabs(self.value)
    }

    pub(super) fn write(&self, written: &mut Written) {
        written.add("figure", self.figure);
        written.add_number(self.wish.word(), self.value);
    }

    pub(super) fn read(fields: &Fields) -> Result<Self, LessonLinkError> {
        let known = fields.lesson.figure_words();
        let given = fields.text("figure").unwrap_or_default();
        let figure = known.iter().find(|word| **word == given).ok_or_else(|| {
            field("figure", say!("`{}` is none of this lesson: {}", short(given), known.join(", ")))
        })?;
        let [least, most] = GoalWish::ALL.map(|wish| fields.number(wish.word()));
        let (wish, value) = match (least?, most?) {
            (Some(value), None) => (GoalWish::AtLeast, value),
            (None, Some(value)) => (GoalWish::AtMost, value),
            (Some(_), Some(_)) => {
                return Err(field("at_most", say!("stands beside at_least: give one of the two")));
            }
            (None, None) => return Err(field("at_least", say!("is missing: a number there, or at at_most"))),
        };
        Ok(Self { figure, wish, value })
    }
}

impl LessonTask {
    /// What a learner hands back who is called `who` and has the lesson at `state`, on their own kit if the task has none.
    pub fn answered(&self, who: &str, state: &LessonState, own_kit: &Kit) -> LessonAnswer {
        LessonAnswer {
            who: who.trim().to_owned(),
            state: state.clone(),
            goal: self.goal.clone(),
            kit: self.kit.is_none().then(|| own_kit.clone()),
        }
    }

    /// How an answer does, on the task's phone or else on the learner's, told with lengths in `unit`.
    ///
    /// # Errors
    /// Names the field that cannot be used, and what to do.
    pub fn judge(&self, answer: &LessonAnswer, unit: LengthUnit) -> Result<Judged, RecordError> {
        let lesson = self.state.lesson;
        if answer.state.lesson != lesson {
            let (theirs, ours) = (answer.state.lesson.title(), lesson.title());
            let told = say!("is \"{theirs}\", and the task is of \"{ours}\": it answers another task");
            return Err(RecordError::at("lesson", told));
        }
        if answer.goal != self.goal {
            let Goal { figure, wish, value } = &answer.goal;
            let told = say!(
                "answers another task, of {figure} {} {}: ask for an answer to this one",
                wish.name(),
                Number(value)
            );
            return Err(RecordError::at("figure", told));
        }
        let kit = self.kit.as_ref().or(answer.kit.as_ref()).ok_or_else(|| {
            RecordError::at(
                "kit",
                say!("is missing, and the task has none: ask for the answer with the phone in it"),
            )
        })?;
        let state = &answer.state;
        let seen = lesson
            .seen(kit, state.lens.as_deref(), &state.values, unit)
            .map_err(|error| RecordError::at("lens", error))?;
        let figure = seen.figure(self.goal.figure).cloned();
        let figure = figure.ok_or_else(|| RecordError::at("figure", say!("is none of this lesson")))?;
        Ok(Judged {
            who: answer.who.clone(),
            chose: state.handles().map(|(handle, value)| (handle.name, (handle.told)(value, unit))).collect(),
            lens: seen.lens,
            is_met: figure.value.is_some_and(|value| self.goal.is_met_by(value)),
            by: figure.value.map(|value| self.goal.beyond(value)),
            figure,
        })
    }
}

/// What stands after the `#` of a link that sets the task.
pub fn task_link(task: &LessonTask) -> String {
    let mut written = Written::new(KEY, task.state.lesson);
    task.goal.write(&mut written);
    task.state.write(&mut written);
    let note: String = task.note.chars().take(LONGEST_NOTE).collect();
    if !note.trim().is_empty() {
        written.add("note", note.trim());
    }
    if let Some(kit) = &task.kit {
        written.add(KIT, &packed(kit));
    }
    written.into_text()
}

/// Opens what stands after the `#` of a link that sets a task.
///
/// # Errors
/// Says what is wrong, naming the field.
pub fn open_task(link: &str) -> Result<LessonTask, LessonLinkError> {
    let fields = Fields::read(KEY, link)?;
    let note = fields.text("note").unwrap_or_default();
    Ok(LessonTask {
        state: LessonState::read(&fields)?,
        goal: Goal::read(&fields)?,
        kit: fields.text(KIT).map(unpacked).transpose()?,
        note: note.chars().take(LONGEST_NOTE).collect(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::preset::kits;

    fn kit() -> Kit {
        kits()[0].to_kit().expect("a kit")
    }

    fn task(kit: Option<Kit>) -> LessonTask {
        let lesson = Lesson::SoftBackground;
        LessonTask {
            state: LessonState::usual(lesson),
            goal: Goal::of(lesson, "blur", GoalWish::AtLeast, 20.0).expect("a figure"),
            kit,
            note: "Get this background soft & dreamy.".to_owned(),
        }
    }

    fn state(distance_m: f64, behind_m: f64) -> LessonState {
        LessonState { values: vec![distance_m, behind_m], ..LessonState::usual(Lesson::SoftBackground) }
    }

    #[test]
    fn a_task_comes_back_from_its_link() {
        for task in [task(None), task(Some(kit()))] {
            assert_eq!(open_task(&task_link(&task)).expect("as written"), task);
        }
        assert!(task_link(&task(None)).starts_with("task=1.soft.figure=blur&at_least=20&distance=1.5&"));
    }

    #[test]
    fn an_answer_is_judged_by_the_lessons_own_figure() {
        let (task, kit) = (task(Some(kit())), kit());
        let judge = |state: &LessonState| {
            task.judge(&task.answered(" Ana ", state, &kit), LengthUnit::Metres).expect("judged")
        };
        for (distance_m, behind_m) in [(0.4, 50.0), (1.5, 4.0), (3.0, 1.0)] {
            let state = state(distance_m, behind_m);
            let judged = judge(&state);
            let seen =
                Lesson::SoftBackground.seen(&kit, None, &state.values, LengthUnit::Metres).expect("seen");
            let value = seen.figure("blur").expect("a figure").value.expect("a value");
            assert_eq!((judged.who.as_str(), judged.is_met), ("Ana", value >= 20.0), "{value}");
            assert_eq!(judged.by, Some(value - 20.0));
        }
        let (near, far) = (judge(&state(0.4, 50.0)), judge(&state(3.0, 1.0)));
        assert!(near.is_met && !far.is_met, "{near:?} {far:?}");
    }

    #[test]
    fn a_goal_may_be_a_ceiling_too() {
        let goal = Goal::of(Lesson::SoftBackground, "blur", GoalWish::AtMost, 3.0).expect("a figure");
        assert!(goal.is_met_by(3.0) && goal.is_met_by(1.0) && !goal.is_met_by(3.1));
        assert!((goal.beyond(1.0) - 2.0).abs() < 1e-12);
        assert_eq!(Goal::of(Lesson::SoftBackground, "smear", GoalWish::AtMost, 3.0), None);
    }

    #[test]
    fn without_a_phone_in_the_task_the_learners_own_counts() {
        let task = task(None);
        let answer = task.answered("Ana", &state(0.5, 30.0), &kit());
        assert_eq!(answer.kit, Some(kit()));
        assert!(task.judge(&answer, LengthUnit::Metres).is_ok());
        let without = LessonAnswer { kit: None, ..answer };
        let told = task.judge(&without, LengthUnit::Metres).expect_err("no phone").to_string();
        assert!(told.starts_with("kit: is missing") && told.contains("ask for"), "{told}");
    }

    #[test]
    fn an_answer_to_another_task_is_refused_by_name() {
        let task = task(Some(kit()));
        let refused = |answer: &LessonAnswer| {
            task.judge(answer, LengthUnit::Metres).expect_err("of another task").to_string()
        };
        let other = LessonAnswer {
            state: LessonState::usual(Lesson::TheLine),
            ..task.answered("Ana", &state(0.5, 30.0), &kit())
        };
        assert!(refused(&other).starts_with("lesson: is \"Two people"), "{}", refused(&other));
        let mut other = task.answered("Ana", &state(0.5, 30.0), &kit());
        other.goal.value = 4.0;
        let told = refused(&other);
        assert!(told.starts_with("figure: answers another task, of blur at least 4"), "{told}");
        let mut other = task.answered("Ana", &state(0.5, 30.0), &kit());
        other.state.lens = Some("periscope".to_owned());
        assert!(refused(&other).starts_with("lens: the kit has no lens"), "{}", refused(&other));
    }

    #[test]
    fn what_is_wrong_with_a_tasks_goal_is_said() {
        let told = |link: &str| open_task(link).expect_err("refused").to_string();
        assert_eq!(
            told("task=1.soft.figure=smear&at_least=4"),
            "figure: `smear` is none of this lesson: blur, closer, farther, longer, larger"
        );
        assert!(told("task=1.soft.figure=blur").starts_with("at_least: is missing"));
        assert!(told("task=1.soft.figure=blur&at_least=1&at_most=2").starts_with("at_most: stands beside"));
        assert!(
            told("task=1.soft.figure=blur&at_least=lots").starts_with("at_least: `lots` is not a number")
        );
    }
}
