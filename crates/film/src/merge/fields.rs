//! Two records compared field by field, and what they say told for people.
//!
//! Records are compared as the JSON that files hold, so that a field which is new in the film's file is compared too.

use std::collections::BTreeSet;

use language::say;
use serde::Serialize;
use serde_json::{Map, Value};

use crate::film::Film;
use crate::id::{BeatId, PersonId, PlaceId, ShotId};
use crate::merge::FieldDifference;
use crate::merge::field_words::{Refers, plain_word, refers, told_field, told_number};
use crate::merge::sides::Sides;

/// Tells values with the names and numbers of both copies.
#[derive(Debug, Clone, Copy)]
pub(super) struct Teller<'film> {
    mine: &'film Film,
    theirs: &'film Film,
}

/// A place in a record: what it is called, and the name of its field.
struct Place<'record> {
    said: String,
    field: &'record str,
}

/// The fields by which the items of a list are known, the first that they have.
const KNOWN_BY: [&str; 3] = ["id", "who", "name"];

/// What is told where a copy has no such field: it is as is usual, or nothing is said.
fn not_said() -> String {
    say!("not said").to_owned()
}

impl<'film> Teller<'film> {
    pub(super) const fn of(sides: &Sides<'film>) -> Self {
        Self { mine: sides.mine.film, theirs: sides.theirs.film }
    }

    /// The fields in which two records differ.
    pub(super) fn compared(&self, mine: &impl Serialize, theirs: &impl Serialize) -> Vec<FieldDifference> {
        // Records hold text, numbers and names of fields, all of which can be written.
        let mine = serde_json::to_value(mine).unwrap_or_default();
        let theirs = serde_json::to_value(theirs).unwrap_or_default();
        let mut fields = Vec::new();
        self.compare(&Place { said: String::new(), field: "" }, Some(&mine), Some(&theirs), &mut fields);
        fields
    }

    fn compare(
        &self,
        at: &Place<'_>,
        mine: Option<&Value>,
        theirs: Option<&Value>,
        into: &mut Vec<FieldDifference>,
    ) {
        if mine == theirs {
            return;
        }
        match (mine, theirs) {
            (Some(Value::Object(mine)), Some(Value::Object(theirs)))
                if at.is_all() || share_a_field(mine, theirs) =>
            {
                let fields: BTreeSet<&String> = mine.keys().chain(theirs.keys()).collect();
                for field in fields {
                    self.compare(&at.field(field), mine.get(field), theirs.get(field), into);
                }
            }
            (Some(Value::Array(mine)), Some(Value::Array(theirs)))
                if are_objects(mine) && are_objects(theirs) =>
            {
                self.compare_lists(at, mine, theirs, into);
            }
            (mine, theirs) => into.push(self.difference(at, mine, theirs)),
        }
    }

    /// Items that are known by something are compared one by one, as are lists of one length.
    fn compare_lists(
        &self,
        at: &Place<'_>,
        mine: &[Value],
        theirs: &[Value],
        into: &mut Vec<FieldDifference>,
    ) {
        let Some(by) = KNOWN_BY.into_iter().find(|by| tells_apart(by, mine) && tells_apart(by, theirs))
        else {
            if mine.len() == theirs.len() {
                for (number, (mine, theirs)) in (1_usize..).zip(mine.iter().zip(theirs)) {
                    self.compare(&at.item(&number.to_string()), Some(mine), Some(theirs), into);
                }
            } else {
                let told = |list: &[Value]| self.told_list(at.field, list);
                into.push(at.differs(told(mine), told(theirs)));
            }
            return;
        };
        let find = |list: &[Value], id: &Value| list.iter().position(|item| item.get(by) == Some(id));
        let name = |id: &Value| {
            let number = find(mine, id).or_else(|| find(theirs, id)).map_or(0, |at| at + 1);
            if by == "id" { number.to_string() } else { self.told(by, Some(id)) }
        };
        let ids = |list: &[Value], with: &[Value], is_shared: bool| {
            let ids = list.iter().filter_map(|item| item.get(by));
            ids.filter(|id| find(with, id).is_some() == is_shared).cloned().collect::<Vec<Value>>()
        };
        let (one, other) = (ids(mine, theirs, true), ids(theirs, mine, true));
        let only = ids(mine, theirs, false).into_iter().chain(ids(theirs, mine, false));
        for id in one.iter().cloned().chain(only) {
            let item = |list: &'_ [Value]| find(list, &id).and_then(|at| list.get(at)).cloned();
            self.compare(&at.item(&name(&id)), item(mine).as_ref(), item(theirs).as_ref(), into);
        }
        if one != other {
            let told = |ids: &[Value]| ids.iter().map(&name).collect::<Vec<_>>().join(", ");
            into.push(at.item(say!(in "file", "order")).differs(told(&one), told(&other)));
        }
    }

    fn difference(&self, at: &Place<'_>, mine: Option<&Value>, theirs: Option<&Value>) -> FieldDifference {
        at.differs(self.told(at.field, mine), self.told(at.field, theirs))
    }

    fn told(&self, field: &str, value: Option<&Value>) -> String {
        match value {
            None | Some(Value::Null) => not_said(),
            Some(Value::Bool(true)) => say!("yes").to_owned(),
            Some(Value::Bool(false)) => say!("no").to_owned(),
            Some(Value::Number(number)) => {
                let id = refers(field).zip(number.as_u64());
                id.map_or_else(|| told_number(field, number), |(to, id)| self.told_id(to, id))
            }
            Some(Value::String(text)) if text.is_empty() => not_said(),
            Some(Value::String(text)) => plain_word(field, text),
            Some(Value::Array(list)) => self.told_list(field, list),
            Some(Value::Object(fields)) => {
                let told = fields.iter().filter(|(field, _)| *field != "id");
                let told = told
                    .map(|(field, value)| format!("{} {}", told_field(field), self.told(field, Some(value))));
                told.collect::<Vec<_>>().join(", ")
            }
        }
    }

    fn told_list(&self, field: &str, list: &[Value]) -> String {
        let between = if are_objects(list) { "; " } else { ", " };
        let told: Vec<String> = list.iter().map(|item| self.told(field, Some(item))).collect();
        if told.is_empty() { not_said() } else { told.join(between) }
    }

    /// What an id stands for, by mine's words or else by theirs.
    fn told_id(&self, to: Refers, id: u64) -> String {
        let in_film = |film: &Film| match to {
            Refers::Person => film.person(PersonId::new(id)?).map(|person| person.name.clone()),
            Refers::Place => film.place(PlaceId::new(id)?).map(|place| place.name.clone()),
            Refers::Shot => film.numbered(ShotId::new(id)?),
            Refers::Beat => {
                let id = BeatId::new(id)?;
                let mut beats =
                    film.scenes.iter().flat_map(|scene| scene.blocking.beats.iter().zip(1_usize..));
                let (beat, number) = beats.find(|(beat, _)| beat.id == id)?;
                Some(if beat.what.is_empty() { say!("beat {number}") } else { beat.what.clone() })
            }
        };
        in_film(self.mine).or_else(|| in_film(self.theirs)).unwrap_or_else(|| say!("gone").to_owned())
    }
}

impl Place<'_> {
    /// Whether it is the record itself.
    fn is_all(&self) -> bool {
        self.said.is_empty()
    }

    fn field<'field>(&self, field: &'field str) -> Place<'field> {
        let name = told_field(field);
        Place { said: if self.is_all() { name } else { format!("{}, {name}", self.said) }, field }
    }

    fn item(&self, name: &str) -> Self {
        Self { said: format!("{}, {name}", self.said), field: self.field }
    }

    fn differs(&self, mine: String, theirs: String) -> FieldDifference {
        FieldDifference { name: self.said.clone(), mine, theirs }
    }
}

/// Whether two objects have a field in common: two of one kind, and not a choice between kinds.
fn share_a_field(one: &Map<String, Value>, other: &Map<String, Value>) -> bool {
    one.keys().any(|field| other.contains_key(field))
}

fn are_objects(list: &[Value]) -> bool {
    list.iter().all(Value::is_object)
}

/// Whether every item has that field, and no two the same in it.
fn tells_apart(field: &str, list: &[Value]) -> bool {
    let values: Option<Vec<String>> = list.iter().map(|item| item.get(field).map(Value::to_string)).collect();
    values.is_some_and(|values| values.iter().collect::<BTreeSet<_>>().len() == values.len())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo_film;

    fn assert_compared(mine: &str, theirs: &str, expected: &[(&str, &str, &str)]) {
        let film = demo_film();
        let teller = Teller { mine: &film, theirs: &film };
        let value = |text: &str| serde_json::from_str::<Value>(text).expect("JSON");
        let fields = teller.compared(&value(mine), &value(theirs));
        let told: Vec<_> = fields
            .iter()
            .map(|field| (field.name.as_str(), field.mine.as_str(), field.theirs.as_str()))
            .collect();
        assert_eq!(told, expected);
    }

    #[test]
    fn what_is_the_same_is_not_told() {
        assert_compared(r#"{"a": 1, "b": {"c": 2}}"#, r#"{"a": 1, "b": {"c": 2}}"#, &[]);
    }

    #[test]
    fn a_field_that_one_does_not_have_is_not_said_there() {
        assert_compared(
            r#"{"planned_s": 4.0, "action": "A long\nway"}"#,
            r#"{"planned_s": 6.5}"#,
            &[("action", "A long\nway", "not said"), ("planned", "4 s", "6.5 s")],
        );
    }

    #[test]
    fn people_are_called_by_their_names_and_lists_go_item_by_item() {
        let film = demo_film();
        let (id, name) = (film.cast[0].id, &film.cast[0].name);
        let mark = |x_m: f64| format!(r#"{{"marks": [{{"who": {id}, "x_m": {x_m}, "y_m": 1}}]}}"#);
        assert_compared(&mark(1.0), &mark(2.5), &[(&format!("marks, {name}, east"), "1 m", "2.5 m")]);
        assert_compared(
            &format!(r#"{{"of": {{"one": {id}}}}}"#),
            r#"{"of": {"object": {"name": "Cup", "size_m": 0.1}}}"#,
            &[("of", &format!("one {name}"), "object name Cup, size 0.1 m")],
        );
    }

    #[test]
    fn what_a_thing_is_on_is_told_where_a_copy_says_it() {
        assert_compared(
            r#"{"of": {"object": {"name": "Cup", "size_m": 0.1}}}"#,
            r#"{"of": {"object": {"name": "Cup", "size_m": 0.1, "above_floor_m": 0}}}"#,
            &[("of, object, height above the floor", "not said", "0 m")],
        );
    }

    #[test]
    fn whose_hands_are_seen_is_told_by_name() {
        let film = demo_film();
        let [one, other] = [0, 1].map(|at| &film.cast[at]);
        let thing = |hands: &str| format!(r#"{{"of": {{"object": {{"name": "Cup"{hands}}}}}}}"#);
        assert_compared(
            &thing(&format!(r#", "hands": [{}, {}]"#, one.id, other.id)),
            &thing(""),
            &[("of, object, hands", &format!("{}, {}", one.name, other.name), "not said")],
        );
    }

    #[test]
    fn lists_of_different_lengths_that_are_known_by_nothing_are_told_whole() {
        assert_compared(
            r#"{"breaks": [{"from_min": 780, "to_min": 840}]}"#,
            r#"{"breaks": [{"from_min": 780, "to_min": 840}, {"from_min": 900, "to_min": 915}]}"#,
            &[("breaks", "from 13:00, to 14:00", "from 13:00, to 14:00; from 15:00, to 15:15")],
        );
    }

    #[test]
    fn another_order_alone_is_told() {
        assert_compared(
            r#"{"lenses": [{"name": "Main"}, {"name": "Tele"}]}"#,
            r#"{"lenses": [{"name": "Tele"}, {"name": "Main"}]}"#,
            &[("lenses, order", "Main, Tele", "Tele, Main")],
        );
    }
}
