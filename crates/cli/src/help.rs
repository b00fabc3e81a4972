//! What long helps are made of: they are the contract that other people's scripts rely on, and each stands with its command.

use requests::Field;

/// Fields, one a line.
pub(crate) fn field_lines(fields: &[Field]) -> String {
    let width = fields.iter().map(|field| field.path.len()).max().unwrap_or(0);
    let lines =
        fields.iter().map(|field| format!("  {:width$}  {}: {}", field.path, field.takes, field.meaning));
    lines.collect::<Vec<_>>().join("\n")
}

/// The fields of an answer, however deep, that a description does not name.
#[cfg(test)]
pub(crate) fn undescribed(answer: &serde_json::Value, description: &str) -> Vec<String> {
    let is_letter = |letter: char| letter.is_alphanumeric() || letter == '_';
    let is_named = |name: &str| description.split(|letter: char| !is_letter(letter)).any(|word| word == name);
    match answer {
        serde_json::Value::Array(items) => {
            items.iter().flat_map(|item| undescribed(item, description)).collect()
        }
        serde_json::Value::Object(fields) => fields
            .iter()
            .flat_map(|(name, value)| {
                let own = (!is_named(name)).then(|| name.clone());
                own.into_iter().chain(undescribed(value, description)).collect::<Vec<_>>()
            })
            .collect(),
        serde_json::Value::Null
        | serde_json::Value::Bool(_)
        | serde_json::Value::Number(_)
        | serde_json::Value::String(_) => Vec::new(),
    }
}
