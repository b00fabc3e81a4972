//! What stands in JSON.

use serde_json::Value;

/// Every text of a value but the names of its fields, each as often as it stands there.
pub fn json_texts(value: &Value) -> Vec<String> {
    let mut texts = Vec::new();
    gather(value, &mut texts);
    texts
}

fn gather(value: &Value, texts: &mut Vec<String>) {
    match value {
        Value::String(text) => texts.push(text.clone()),
        Value::Array(parts) => parts.iter().for_each(|part| gather(part, texts)),
        Value::Object(fields) => fields.values().for_each(|part| gather(part, texts)),
        Value::Null | Value::Bool(_) | Value::Number(_) => {}
    }
}
