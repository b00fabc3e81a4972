//! The page's times, which programs of the checks measure in a browser.

use anyhow::Result;

use super::figure::{Figure, Unit};
use super::{figures_of, growth};
use crate::workspace;

/// Starts a measuring program of the checks on the page that was built last, and gathers its figures.
pub(super) fn measure(binary: &str, arguments: &[&str]) -> Result<Vec<Figure>> {
    let mut measure = workspace::cargo();
    measure.args(["run", "--quiet", "--package", "checks", "--features", "browser", "--bin", binary, "--"]);
    figures_of(measure.args(arguments))
}

/// A first visit, with how many times the link's own limit it takes.
pub(super) fn first_load() -> Result<Vec<Figure>> {
    let mut figures = measure("first_load_speed", &[])?;
    let found = |row: &str, column: &str| figures.iter().find(|one| one.row == row && one.column == column);
    let over: Vec<Figure> = ["ours", "a bare page"]
        .iter()
        .filter_map(|row| {
            let (median, limit) = (found(row, "median")?, found(row, "the link's limit")?);
            Some(median.beside("over the limit", median.value? / limit.value?, Unit::Times))
        })
        .collect();
    figures.extend(over);
    Ok(figures)
}

/// Films of ten times the shots each, with the exponents of their growth; days as they are.
pub(super) fn film() -> Result<Vec<Figure>> {
    let (films, days): (Vec<Figure>, Vec<Figure>) =
        measure("film_speed", &[])?.into_iter().partition(|figure| figure.table.starts_with("Growth"));
    Ok([growth::with_exponents(films), days].concat())
}
