//! How a time grows with what it is about: the exponent between sizes.

use super::figure::{Figure, Unit};

/// Figures whose columns are sizes, each row followed by the exponent of its growth: 1 if ten times as much takes ten times as
/// long. It is the slope of the line that fits the logarithms best.
pub(super) fn with_exponents(figures: Vec<Figure>) -> Vec<Figure> {
    let mut rows: Vec<Vec<Figure>> = Vec::new();
    for figure in figures {
        match rows.iter_mut().find(|row| row.first().is_some_and(|first| first.is_beside(&figure))) {
            Some(row) => row.push(figure),
            None => rows.push(vec![figure]),
        }
    }
    for row in &mut rows {
        let points: Vec<(f64, f64)> = row.iter().filter_map(point).collect();
        let exponent = slope(&points).zip(row.first());
        let exponent = exponent.map(|(slope, first)| first.beside("exponent", slope, Unit::Times));
        row.extend(exponent);
    }
    rows.concat()
}

/// Size and time of a figure, as logarithms.
fn point(figure: &Figure) -> Option<(f64, f64)> {
    let (size, time) = (figure.column.parse::<f64>().ok()?, figure.value?);
    (size > 0.0 && time > 0.0).then(|| (size.ln(), time.ln()))
}

/// The slope of the line with the least squares.
fn slope(points: &[(f64, f64)]) -> Option<f64> {
    #[expect(clippy::cast_precision_loss, reason = "a handful")]
    let count = points.len() as f64;
    let (mean_x, mean_y) =
        points.iter().fold((0.0, 0.0), |(x, y), point| (x + point.0 / count, y + point.1 / count));
    let along: f64 = points.iter().map(|(x, _)| (x - mean_x) * (x - mean_x)).sum();
    let both: f64 = points.iter().map(|(x, y)| (x - mean_x) * (y - mean_y)).sum();
    (along > 0.0).then(|| both / along)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn row(row: &str, times: &[(&str, f64)]) -> Vec<Figure> {
        let figure = |(size, time): &(&str, f64)| Figure::of("Growth", row, size, *time, Unit::Milliseconds);
        times.iter().map(figure).collect()
    }

    fn exponents(figures: Vec<Figure>) -> Vec<f64> {
        let found = with_exponents(figures);
        found.iter().filter(|figure| figure.column == "exponent").filter_map(|figure| figure.value).collect()
    }

    #[test]
    fn what_is_linear_has_one_and_what_is_quadratic_two() {
        let linear = row("findings", &[("10", 0.5), ("100", 5.0), ("1000", 50.0)]);
        let quadratic = row("order", &[("10", 1.0), ("100", 100.0)]);
        let found = exponents([linear, quadratic].concat());
        assert!(
            matches!(found.as_slice(), [one, two] if (one - 1.0).abs() < 1e-12 && (two - 2.0).abs() < 1e-12),
            "{found:?}"
        );
    }

    #[test]
    fn one_size_alone_has_no_growth() {
        assert_eq!(exponents(row("findings", &[("10", 0.5)])), Vec::<f64>::new());
    }
}
