//! The core's times: the same cases natively and in wasm, side by side.

use std::fs;

use anyhow::{Context as _, Result};

use super::figure::{Figure, Unit};
use super::{figures_of, growth, page};
use crate::{build, process, toolchain, workspace};

const BARE_PAGE: &str = "<!doctype html><html lang=\"en\"><meta charset=\"utf-8\"><title>Speeds</title><main>Speeds</main></html>";

/// Times every case both ways.
pub(super) fn measure() -> Result<Vec<Figure>> {
    let mut bench = workspace::cargo();
    bench.args(["bench", "--quiet", "--package", "tapemark-core", "--bench", "speeds"]);
    let native = figures_of(&mut bench)?;
    let folder = make_page()?;
    let wasm = page::measure("core_speed", &[&folder])?;
    Ok(joined(native, wasm))
}

/// Makes the bare page that calls the cases in wasm, compiled as the page's own modules are.
fn make_page() -> Result<String> {
    let mut cargo = workspace::cargo();
    cargo.args(["build", "--package", "tapemark-core", "--example", "speeds_in_wasm"]);
    process::run(cargo.args(["--target", toolchain::WASM, "--profile", "page"]))?;
    let folder = workspace::target_folder()?.join("bench/page");
    fs::create_dir_all(&folder)?;
    fs::write(folder.join("index.html"), BARE_PAGE)?;
    let module = workspace::target_folder()?.join(toolchain::WASM).join("page/examples/speeds_in_wasm.wasm");
    build::write_bindings(&module, &folder.join("speeds"), false)
        .context("the cases' bindings cannot be made")?;
    Ok(folder.display().to_string())
}

/// Both in one table with their ratio, and the growth of each with its exponents.
fn joined(native: Vec<Figure>, wasm: Vec<Figure>) -> Vec<Figure> {
    let (native_growth, native): (Vec<Figure>, Vec<Figure>) = native.into_iter().partition(grows);
    let (wasm_growth, wasm): (Vec<Figure>, Vec<Figure>) = wasm.into_iter().partition(grows);
    let ratios: Vec<Figure> = wasm
        .iter()
        .filter_map(|slow| {
            let fast = native.iter().find(|fast| fast.row == slow.row && fast.column == "native")?;
            Some(slow.beside("wasm / native", slow.value? / fast.value?, Unit::Times))
        })
        .collect();
    let (bars, native): (Vec<Figure>, Vec<Figure>) =
        native.into_iter().partition(|figure| figure.column == "bar");
    let mut all = [native, wasm, ratios, bars].concat();
    all.extend(growth::with_exponents(native_growth));
    all.extend(growth::with_exponents(wasm_growth));
    all
}

fn grows(figure: &Figure) -> bool {
    figure.table.starts_with("Growth")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn figure(table: &str, row: &str, column: &str, value: f64) -> Figure {
        Figure::of(table, row, column, value, Unit::Milliseconds)
    }

    #[test]
    fn a_row_that_was_timed_both_ways_has_a_ratio_and_growth_stays_apart() {
        let native =
            vec![figure("The core", "one setup", "native", 2.0), figure("Growth, native", "film", "10", 1.0)];
        let wasm =
            vec![figure("The core", "one setup", "wasm", 5.0), figure("The core", "asked", "wasm", 9.0)];
        let all = joined(native, wasm);
        let ratio = |row: &str| all.iter().find(|one| one.row == row && one.column == "wasm / native")?.value;
        assert_eq!(ratio("one setup"), Some(2.5));
        assert_eq!(ratio("asked"), None);
        assert!(all.iter().any(|one| one.table == "Growth, native" && one.column == "10"));
    }
}
