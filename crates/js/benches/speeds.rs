//! How long the core takes natively, a line of JSON a figure: `cargo xtask bench` puts it beside what wasm takes.
#![expect(clippy::print_stdout, reason = "it says what it measured")]
#![expect(clippy::expect_used, reason = "a bench that cannot build its case must stop")]

#[path = "speeds/cases.rs"]
mod cases;

use std::time::Instant;

use serde_json::json;

/// The longest that some are to take, milliseconds.
const BARS_MS: [(&str, f64); 2] =
    [("findings of 10,000 shots", 100.0), ("a picture, four samples at 960 x 540", 80.0)];

fn main() {
    let start = Instant::now();
    let now_ms = || start.elapsed().as_secs_f64() * 1000.0;
    for case in cases::cases() {
        let (table, column) = case.place("native");
        let tell = |column: &str, ms: f64| {
            println!(
                "{}",
                json!({ "table": table, "row": case.row, "column": column, "value": ms, "unit": "ms" })
            );
        };
        if let Some((_, bar_ms)) = BARS_MS.iter().find(|(row, _)| *row == case.row) {
            tell("bar", *bar_ms);
        }
        tell(&column, case.time(now_ms));
    }
}
