//! How a program that measures tells what it found: a line of JSON a figure, which `cargo xtask bench` puts into tables.

#![expect(clippy::print_stdout, reason = "it says what it measured")]

use serde_json::json;

/// Tells one figure: the table, row and column that it stands in, and its unit (`ms`, `bytes`, `%`, `x` for a ratio, or none
/// for a count).
pub fn tell(table: &str, row: &str, column: &str, value: f64, unit: &str) {
    println!("{}", json!({ "table": table, "row": row, "column": column, "value": value, "unit": unit }));
}

/// The value below which that share of sorted ones lies.
pub fn quantile(sorted: &[f64], share: f64) -> f64 {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        clippy::cast_precision_loss,
        reason = "a place in a list"
    )]
    let place = ((sorted.len() as f64 * share) as usize).min(sorted.len().saturating_sub(1));
    sorted.get(place).copied().unwrap_or(f64::NAN)
}
