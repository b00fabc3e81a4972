//! One figure as a measuring program tells it: a line of JSON among whatever else it prints.

use serde::Deserialize;

/// A value, and the table, row and column that it stands in.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub(super) struct Figure {
    pub(super) table: String,
    pub(super) row: String,
    pub(super) column: String,
    /// `null` where nothing could be measured.
    pub(super) value: Option<f64>,
    pub(super) unit: Unit,
}

/// What a value counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
pub(super) enum Unit {
    #[serde(rename = "ms")]
    Milliseconds,
    #[serde(rename = "bytes")]
    Bytes,
    #[serde(rename = "%")]
    Percent,
    /// How many times as much.
    #[serde(rename = "x")]
    Times,
    #[serde(rename = "")]
    Count,
}

impl Figure {
    /// A figure as a test makes it up.
    #[cfg(test)]
    pub(super) fn of(table: &str, row: &str, column: &str, value: f64, unit: Unit) -> Self {
        let [table, row, column] = [table, row, column].map(str::to_owned);
        Self { table, row, column, value: Some(value), unit }
    }

    /// The figure that a line tells, if it tells one.
    pub(super) fn read(line: &str) -> Option<Self> {
        serde_json::from_str(line).ok()
    }

    /// Whether both stand in one row of one table.
    pub(super) fn is_beside(&self, other: &Self) -> bool {
        self.table == other.table && self.row == other.row
    }

    /// The same row with something else said of it.
    pub(super) fn beside(&self, column: &str, value: f64, unit: Unit) -> Self {
        Self { column: column.to_owned(), value: Some(value), unit, ..self.clone() }
    }

    /// The value with its unit, in as many digits as mean something.
    pub(super) fn told(&self) -> String {
        let Some(value) = self.value else { return "-".to_owned() };
        match self.unit {
            Unit::Milliseconds if value.abs() < 0.001 => format!("{} ns", three_digits(value * 1e6)),
            Unit::Milliseconds if value.abs() < 1.0 => format!("{} us", three_digits(value * 1000.0)),
            Unit::Milliseconds if value.abs() < 10_000.0 => format!("{} ms", three_digits(value)),
            Unit::Milliseconds => format!("{} s", three_digits(value / 1000.0)),
            Unit::Bytes if value.abs() < 1e6 => format!("{value:.0} B"),
            Unit::Bytes => format!("{:.2} MB", value / 1e6),
            Unit::Percent => format!("{value:.1} %"),
            Unit::Times => format!("{value:.2}"),
            Unit::Count => format!("{value:.0}"),
        }
    }
}

/// A number of three digits, or all of those before the point.
fn three_digits(value: f64) -> String {
    let decimals = match value.abs() {
        size if size < 10.0 => 2,
        size if size < 100.0 => 1,
        _ => 0,
    };
    format!("{value:.decimals$}")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(value: f64, unit: Unit) -> String {
        Figure::of("", "", "", value, unit).told()
    }

    #[test]
    fn a_line_of_json_is_a_figure_and_any_other_is_not() {
        let line = r#"{"table":"Core","row":"one setup","column":"wasm","value":0.004,"unit":"ms"}"#;
        let figure = Figure::read(line).expect("a figure");
        assert_eq!((figure.row.as_str(), figure.value), ("one setup", Some(0.004)));
        assert_eq!(Figure::read("   Compiling film"), None);
        assert_eq!(Figure::read(r#"{"table":"Core"}"#), None);
    }

    #[test]
    fn values_are_told_in_three_digits() {
        assert_eq!(told(0.000_25, Unit::Milliseconds), "250 ns");
        assert_eq!(told(0.0314, Unit::Milliseconds), "31.4 us");
        assert_eq!(told(4.0, Unit::Milliseconds), "4.00 ms");
        assert_eq!(told(12_340.0, Unit::Milliseconds), "12.3 s");
        assert_eq!(told(338_270.0, Unit::Bytes), "338270 B");
        assert_eq!(told(-0.04, Unit::Percent), "-0.0 %");
    }
}
