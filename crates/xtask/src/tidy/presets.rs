//! Every record of the presets must say where its values come from.

use anyhow::{Context as _, Result};
use toml::{Table, Value};

use crate::workspace::{self, Files};

pub(super) fn breaches() -> Result<Vec<String>> {
    let mut breaches = Vec::new();
    for file in workspace::files(Files::TrackedAndNew)? {
        if file.starts_with("presets") && file.extension().is_some_and(|extension| extension == "toml") {
            let text = workspace::read(&file)?;
            let table: Table = text.parse().with_context(|| format!("{} is not TOML", file.display()))?;
            let records = unsourced(&table, String::new());
            breaches
                .extend(records.iter().map(|record| format!("{}: {record} has no source", file.display())));
        }
    }
    Ok(breaches)
}

/// The records without a source: tables that hold a value, have no `source`, and are not part of a record that has one.
fn unsourced(table: &Table, place: String) -> Vec<String> {
    let has_source =
        table.get("source").and_then(Value::as_str).is_some_and(|source| !source.trim().is_empty());
    if has_source {
        return Vec::new();
    }
    if table.values().any(|value| parts(value).is_none()) {
        let record = if place.is_empty() { "the file's own table".to_owned() } else { place };
        return vec![record];
    }
    let mut records = Vec::new();
    for (name, value) in table {
        for (index, part) in parts(value).into_iter().flatten().enumerate() {
            let number = index + 1;
            records.extend(unsourced(
                part,
                format!("{place}{}{name} {number}", if place.is_empty() { "" } else { ", " }),
            ));
        }
    }
    records
}

/// The tables that a value consists of, if it consists of tables.
fn parts(value: &Value) -> Option<Vec<&Table>> {
    match value {
        Value::Table(table) => Some(vec![table]),
        Value::Array(values) => values.iter().map(Value::as_table).collect(),
        Value::String(_) | Value::Integer(_) | Value::Float(_) | Value::Boolean(_) | Value::Datetime(_) => {
            None
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn unsourced_in(toml: &str) -> Vec<String> {
        unsourced(&toml.parse().unwrap(), String::new())
    }

    #[test]
    fn every_record_of_a_list_needs_a_source() {
        let toml =
            "[[body]]\nsource = 'a survey'\nratio = 1.0\n[[body]]\nratio = 2.0\n[[body]]\nsource = ' '";
        assert_eq!(unsourced_in(toml), ["body 2", "body 3"]);
    }

    #[test]
    fn parts_share_the_source_of_their_record() {
        assert_eq!(unsourced_in("source = 'typical'\n[[lens]]\nf_number = 1.8"), Vec::<String>::new());
        assert_eq!(unsourced_in("name = 'phone'\n[[lens]]\nsource = 'x'"), ["the file's own table"]);
    }
}
