//! A class's answers as a table for spreadsheets, in the form that all tables of films have.

use units::LengthUnit;

use super::class_table::ClassTable;
use super::task::LessonTask;
use crate::export::{ExportError, table, text};

/// The columns before and after those of the lesson's handles.
const BEFORE: [&str; 1] = ["who"];
const AFTER: [&str; 7] = ["lens", "figure", "value", "unit", "goal", "met", "by"];
/// The last column: why an answer could not be judged.
const PROBLEM: &str = "problem";

/// The answers as a table: who, what they chose, met or not and by how much; then those that could not be judged, with why.
/// Lengths are numbers of `unit`, in which [`class_table`](crate::class_table) told what was chosen.
///
/// # Errors
/// Only where a table cannot be written.
pub fn class_csv(task: &LessonTask, class: &ClassTable, unit: LengthUnit) -> Result<Vec<u8>, ExportError> {
    let handles = task.state.lesson.handles();
    let head: Vec<&str> = BEFORE
        .into_iter()
        .chain(handles.iter().map(|handle| handle.word))
        .chain(AFTER)
        .chain([PROBLEM])
        .collect();
    let judged = class.judged.iter().map(|one| {
        let mut row = vec![text(&one.who)];
        row.extend(one.chose.iter().map(|(_, told)| text(told)));
        let of = one.figure.unit;
        let number = |value: Option<f64>| {
            value.map_or_else(String::new, |value| format!("{:.3}", of.read_in(value, unit)))
        };
        row.extend([
            text(&one.lens),
            text(&one.figure.name),
            number(one.figure.value),
            of.sign(unit).to_owned(),
            format!("{} {}", task.goal.wish.name(), rounded(of.read_in(task.goal.value, unit))),
            if one.is_met { "yes" } else { "no" }.to_owned(),
            number(one.by),
            String::new(),
        ]);
        row
    });
    let refused = class.refused.iter().map(|one| {
        let mut row = vec![String::new(); head.len()];
        if let Some(who) = row.first_mut() {
            *who = text(&one.from);
        }
        if let Some(problem) = row.last_mut() {
            *problem = text(&one.why);
        }
        row
    });
    table(&head, &judged.chain(refused).collect::<Vec<_>>())
}

/// A goal as it was set: without the digits that only another unit left.
fn rounded(value: f64) -> f64 {
    libm::round(value * 1e3) / 1e3
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lesson::{Goal, GoalWish, Lesson, LessonState, answer_text, class_table};
    use crate::preset::kits;

    #[test]
    fn every_answer_is_a_row_and_no_name_is_a_formula() {
        let lesson = Lesson::SoftBackground;
        let task = LessonTask {
            state: LessonState::usual(lesson),
            goal: Goal::of(lesson, "blur", GoalWish::AtLeast, 40.0).expect("a figure"),
            kit: kits()[0].to_kit().ok(),
            note: String::new(),
        };
        let kit = task.kit.clone().expect("a kit");
        let texts = ["=HYPERLINK(\"x\")", "Ben, the tall", "@cem"]
            .map(|who| answer_text(&task.answered(who, &task.state, &kit)));
        let handed_in = texts.iter().map(|text| ("a.txt", text.as_str())).chain([("-b.txt", "nothing")]);
        let bytes = class_csv(&task, &class_table(&task, handed_in, LengthUnit::Metres), LengthUnit::Metres)
            .expect("written");
        let mut reader = csv::Reader::from_reader(bytes.as_slice());
        let head: Vec<String> = reader.headers().expect("a head").iter().map(str::to_owned).collect();
        assert_eq!(head.join(","), "who,distance,behind,lens,figure,value,unit,goal,met,by,problem");
        let rows: Vec<csv::StringRecord> = reader.records().map(|row| row.expect("a row")).collect();
        let who: Vec<&str> = rows.iter().map(|row| &row[0]).collect();
        assert_eq!(who, ["'=HYPERLINK(\"x\")", "Ben, the tall", "'@cem", "'-b.txt"]);
        assert_eq!((&rows[0][1], &rows[0][7], &rows[0][8]), ("1.5 m", "at least 40", "no"));
        assert!(rows[0][9].parse::<f64>().is_ok_and(|by| by < 0.0), "{rows:?}");
        assert!(rows[3][10].starts_with("there is nothing of a lesson"), "{rows:?}");
    }

    #[test]
    fn a_class_that_reads_feet_has_them_in_every_column() {
        let lesson = Lesson::WhereToStand;
        let foot_m = 0.3048;
        let task = LessonTask {
            state: LessonState::usual(lesson),
            goal: Goal::of(lesson, "place", GoalWish::AtLeast, 6.0 * foot_m).expect("a figure"),
            kit: kits()[0].to_kit().ok(),
            note: String::new(),
        };
        let answer = answer_text(&task.answered("Ana", &task.state, task.kit.as_ref().expect("a kit")));
        let row = |unit| {
            let class = class_table(&task, [("a.txt", answer.as_str())], unit);
            let bytes = class_csv(&task, &class, unit).expect("written");
            let mut reader = csv::Reader::from_reader(bytes.as_slice());
            reader.records().next().expect("an answer").expect("a row")
        };
        let (metres, feet) = (row(LengthUnit::Metres), row(LengthUnit::Feet));
        assert_eq!((&metres[1], &metres[6], &metres[7]), ("1.0 m", "m", "at least 1.829"));
        assert_eq!((&feet[1], &feet[6], &feet[7]), ("3'3\"", "ft", "at least 6"));
        for column in [5, 9] {
            let number = |row: &csv::StringRecord| row[column].parse::<f64>().expect("a number");
            assert!((number(&feet) * foot_m - number(&metres)).abs() < 1e-3, "{feet:?} {metres:?}");
        }
        assert_eq!(&feet[8], &metres[8]);
    }
}
