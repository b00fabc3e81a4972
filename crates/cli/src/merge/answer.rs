//! What comes of two copies of a film, for people and for programs.

use film::{Difference, FieldDifference, Merge, MergeAdd, MergePart};
use serde::Serialize;

/// What a merge adds and in what the two differ.
#[derive(Debug, Serialize)]
pub(super) struct Merging {
    title: String,
    adds: Vec<Added>,
    differences: Vec<Differing>,
    only_mine: usize,
    written: Option<String>,
}

#[derive(Debug, Serialize)]
struct Added {
    part: Part,
    what: String,
}

#[derive(Debug, Serialize)]
struct Differing {
    part: Part,
    what: String,
    fields: Vec<DifferingField>,
}

#[derive(Debug, Serialize)]
struct DifferingField {
    name: String,
    mine: String,
    theirs: String,
}

/// Which part of a film.
#[derive(Debug, Serialize)]
struct Part {
    kind: &'static str,
    id: Option<u64>,
}

impl From<MergePart> for Part {
    fn from(part: MergePart) -> Self {
        let (kind, id) = match part {
            MergePart::Facts => ("facts", None),
            MergePart::Kit => ("kit", None),
            MergePart::Person(id) => ("person", Some(id.number())),
            MergePart::Place(id) => ("place", Some(id.number())),
            MergePart::Day(id) => ("day", Some(id.number())),
            MergePart::SceneOrder => ("scene_order", None),
            MergePart::Scene(id) => ("scene", Some(id.number())),
            MergePart::SceneFacts(id) => ("scene_facts", Some(id.number())),
            MergePart::Blocking(id) => ("blocking", Some(id.number())),
            MergePart::ShotOrder(id) => ("shot_order", Some(id.number())),
            MergePart::Shot(id) => ("shot", Some(id.number())),
            MergePart::Cut(id) => ("cut", Some(id.number())),
            MergePart::Kept(id) => ("kept", Some(id.number())),
            MergePart::Take(id) => ("take", Some(id.number())),
        };
        Self { kind, id }
    }
}

impl Merging {
    pub(super) fn of(title: &str, merge: &Merge, written: Option<&str>) -> Self {
        let added = |MergeAdd { part, what }: &MergeAdd| Added { part: (*part).into(), what: what.clone() };
        Self {
            title: title.to_owned(),
            adds: merge.adds().iter().map(added).collect(),
            differences: merge.differences().iter().map(Differing::of).collect(),
            only_mine: merge.only_mine(),
            written: written.map(str::to_owned),
        }
    }

    /// For people; what differs is theirs in what was written if that was asked for.
    pub(super) fn told(&self, takes_theirs: bool) -> String {
        let Self { title, adds, differences, only_mine, written } = self;
        let (added, differing) = (adds.len(), differences.len());
        let differ = if differing == 1 { "differs" } else { "differ" };
        let mut lines =
            vec![format!("{title}: {added} to add, {differing} {differ}, {only_mine} only in mine")];
        if !adds.is_empty() {
            lines.extend([String::new(), "Only in theirs".to_owned()]);
            lines.extend(adds.iter().map(|add| format!("  {}", on_one_line(&add.what))));
        }
        if !differences.is_empty() {
            lines.extend([String::new(), "Not alike in both".to_owned()]);
            lines.extend(differences.iter().flat_map(Differing::lines));
        }
        if let Some(file) = written {
            let kept = if takes_theirs { "theirs" } else { "mine" };
            let differing = if differences.is_empty() {
                String::new()
            } else {
                format!(", with {kept} where both differ")
            };
            lines.extend([String::new(), format!("{file}: written{differing}")]);
        }
        lines.join("\n") + "\n"
    }
}

impl Differing {
    fn of(Difference { part, what, fields }: &Difference) -> Self {
        let field = |FieldDifference { name, mine, theirs }: &FieldDifference| DifferingField {
            name: name.clone(),
            mine: mine.clone(),
            theirs: theirs.clone(),
        };
        Self { part: (*part).into(), what: what.clone(), fields: fields.iter().map(field).collect() }
    }

    fn lines(&self) -> Vec<String> {
        let mut lines = vec![format!("  {}", on_one_line(&self.what))];
        for DifferingField { name, mine, theirs } in &self.fields {
            lines.push(format!("    {name}"));
            lines.push(format!("      mine:   {}", on_one_line(mine)));
            lines.push(format!("      theirs: {}", on_one_line(theirs)));
        }
        lines
    }
}

/// A text that may have several lines, on one.
fn on_one_line(text: &str) -> String {
    text.lines().collect::<Vec<_>>().join(" / ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::help::undescribed;
    use crate::merge::HELP;

    #[test]
    fn every_field_of_the_answer_is_described() {
        let field = DifferingField { name: String::new(), mine: String::new(), theirs: String::new() };
        let part = || Part::from(MergePart::Kit);
        let merging = Merging {
            title: String::new(),
            adds: vec![Added { part: part(), what: String::new() }],
            differences: vec![Differing { part: part(), what: String::new(), fields: vec![field] }],
            only_mine: 0,
            written: None,
        };
        assert_eq!(undescribed(&serde_json::to_value(merging).expect("an object"), HELP), [""; 0]);
    }

    #[test]
    fn a_text_of_several_lines_is_told_on_one() {
        assert_eq!(on_one_line("one\r\ntwo\n"), "one / two");
    }
}
