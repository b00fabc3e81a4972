//! Requests of any shape.

use proptest::prelude::*;
use requests::Field;
use serde_json::{Map, Value, json};

/// Values of any shape, whose names are those of the last parts of these fields as often as not.
pub(crate) fn any_json(fields: &'static [Field]) -> impl Strategy<Value = Value> {
    let names = move || {
        proptest::sample::select(fields).prop_map(|field| field.path.rsplit('.').next().unwrap_or_default())
    };
    let leaf = prop_oneof![
        Just(Value::Null),
        any::<bool>().prop_map(|flag| json!(flag)),
        any::<f64>().prop_map(|number| json!(number)),
        ".{0,8}".prop_map(|text| json!(text)),
    ];
    leaf.prop_recursive(3, 24, 6, move |inner| {
        prop_oneof![
            prop::collection::vec(inner.clone(), 0..4).prop_map(Value::Array),
            prop::collection::vec((names(), inner), 0..8).prop_map(|fields| {
                Value::Object(
                    fields.into_iter().map(|(name, value)| (name.to_owned(), value)).collect::<Map<_, _>>(),
                )
            }),
        ]
    })
}
