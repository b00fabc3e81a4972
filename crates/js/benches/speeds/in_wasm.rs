//! The same in wasm, for the browser: `cargo xtask bench` has it called by a bare page.
#![expect(clippy::expect_used, reason = "a bench that cannot build its case must stop")]

#[path = "cases.rs"]
mod cases;

use wasm_bindgen::prelude::*;

#[wasm_bindgen]
extern "C" {
    #[wasm_bindgen(js_namespace = performance)]
    fn now() -> f64;
}

/// How many things can be timed.
#[wasm_bindgen]
pub fn count() -> usize {
    cases::cases().len()
}

/// Times one: its table, row and column, a line each, and milliseconds.
#[wasm_bindgen]
pub fn time(number: usize) -> Option<String> {
    let case = cases::cases().into_iter().nth(number)?;
    let (table, column) = case.place("wasm");
    Some(format!("{table}\n{}\n{column}\n{}", case.row, case.time(now)))
}
