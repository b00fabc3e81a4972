//! What people type into a form, by the names that the kit file gives its fields, and what it says.

use std::collections::BTreeMap;

use film::RecordError;
use language::{Number, say};
use units::{Length, LengthUnit};

/// The texts of a form. Its keys are the file's own field names, so an error's path leads to the field on the screen.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct Entry(BTreeMap<&'static str, String>);

impl Entry {
    /// The same entry with a text in a field, which it has from then on.
    #[must_use]
    pub(super) fn with(mut self, field: &'static str, text: impl Into<String>) -> Self {
        self.set(field, text.into());
        self
    }

    /// The same entry with a number in a field, or with the field empty.
    #[must_use]
    pub(super) fn with_number(self, field: &'static str, number: Option<f64>) -> Self {
        self.with(field, number.map_or_else(String::new, plain))
    }

    /// The same entry with a length in a field, in the unit that a bare number there has.
    #[must_use]
    pub(super) fn with_length(self, field: &'static str, metres: Option<f64>, unit: LengthUnit) -> Self {
        match unit {
            LengthUnit::Metres => self.with_number(field, metres),
            LengthUnit::Feet | LengthUnit::Inches => {
                let text = metres.map(|metres| Length::from_m(metres).in_field(unit));
                self.with(field, text.unwrap_or_default())
            }
        }
    }

    /// Sets a field's text.
    pub(super) fn set(&mut self, field: &'static str, text: String) {
        self.0.insert(field, text);
    }

    /// Whether the form has a field of that name.
    pub(super) fn has(&self, field: &str) -> bool {
        self.0.contains_key(field)
    }

    /// A field's text as it was typed.
    pub(super) fn typed(&self, field: &str) -> &str {
        self.0.get(field).map_or("", String::as_str)
    }

    /// A field's text without the blanks around it.
    pub(super) fn text(&self, field: &str) -> &str {
        self.typed(field).trim()
    }

    /// A field's text, or nothing if it is empty.
    pub(super) fn some_text(&self, field: &str) -> Option<String> {
        Some(self.text(field)).filter(|text| !text.is_empty()).map(str::to_owned)
    }

    /// A name, which must not be empty because other parts of the kit go by it.
    pub(super) fn name(&self) -> Result<String, RecordError> {
        self.some_text("name").ok_or_else(|| RecordError::at("name", say!("needed: what you call it")))
    }

    /// Whether a box is ticked.
    pub(super) fn flag(&self, field: &str) -> bool {
        !self.text(field).is_empty()
    }

    /// The names that are ticked in a field.
    pub(super) fn ticked(&self, field: &str) -> Vec<String> {
        self.text(field).lines().map(str::to_owned).collect()
    }

    /// Ticks a name, or takes its tick away.
    pub(super) fn toggle(&mut self, field: &'static str, name: &str) {
        let mut names = self.ticked(field);
        match names.iter().position(|ticked| ticked == name) {
            Some(at) => drop(names.remove(at)),
            None => names.push(name.to_owned()),
        }
        self.set(field, names.join("\n"));
    }

    /// A number with a point or a comma; nothing if the field is empty.
    pub(super) fn number(&self, field: &str) -> Result<Option<f64>, RecordError> {
        self.some_text(field).map(|text| decimal(field, &text)).transpose()
    }

    /// A number that must be there.
    pub(super) fn needed(&self, field: &str, what: &str) -> Result<f64, RecordError> {
        self.number(field)?.ok_or_else(|| RecordError::at(field, say!("needed: {what}")))
    }

    /// A whole number that must be there.
    pub(super) fn needed_whole(&self, field: &str, what: &str) -> Result<u32, RecordError> {
        let text = self.text(field);
        if text.is_empty() {
            return Err(RecordError::at(field, say!("needed: {what}")));
        }
        let whole = text.parse().ok();
        whole.ok_or_else(|| RecordError::at(field, say!("“{text}” is not a whole number")))
    }

    /// Numbers with blanks or semicolons between them; a comma at a number's end separates, one inside is its point.
    pub(super) fn numbers(&self, field: &str) -> Result<Vec<f64>, RecordError> {
        let pieces = self.text(field).split(|c: char| c.is_whitespace() || c == ';');
        let pieces = pieces.map(|piece| piece.trim_end_matches(',')).filter(|piece| !piece.is_empty());
        pieces.map(|piece| decimal(field, piece)).collect()
    }

    /// A length in any spelling, in metres; a bare number has the unit that is shown.
    pub(super) fn metres(&self, field: &str, unit: LengthUnit) -> Result<Option<f64>, RecordError> {
        let Some(text) = self.some_text(field) else { return Ok(None) };
        let bare = text.replace(',', ".").parse::<f64>().is_ok();
        let text = if bare { format!("{text} {}", unit.sign()) } else { text };
        let length: Length =
            text.parse().map_err(|error: units::QuantityError| RecordError::at(field, error))?;
        Ok(Some(length.to_m()))
    }
}

/// A number as people write it: a comma is a point in half of the world.
fn decimal(field: &str, text: &str) -> Result<f64, RecordError> {
    let number = text.replace(',', ".").parse::<f64>().ok().filter(|number| number.is_finite());
    number.ok_or_else(|| RecordError::at(field, say!("“{text}” is not a number")))
}

/// The field at the end of an error's path: `lenses[1].in_sensor_zooms[0]` is about `in_sensor_zooms`.
pub(super) fn leaf(error: &RecordError) -> &str {
    let last = error.path.rsplit_once('.').map_or(error.path.as_str(), |(_, last)| last);
    last.split_once('[').map_or(last, |(field, _)| field)
}

/// A number without a tail of digits that nobody typed, as a field has it.
pub(super) fn plain(number: f64) -> String {
    let text = format!("{number:.4}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// The same for people.
pub(super) fn shown(number: f64) -> String {
    Number(plain(number)).to_string()
}

/// For people: a value with as many digits as its uncertainty leaves it, three at most, and that uncertainty where it shows
/// at all.
pub(super) fn rounded(value: f64, sd: f64) -> (String, Option<String>) {
    // Of the first digit after or before the point; a floor keeps the logarithm of nothing out.
    let place = |number: f64| -libm::floor(libm::log10(number.abs().max(1e-9)));
    let (of_three, of_sd) = (place(value) + 2.0, place(sd));
    if of_sd > of_three {
        let scale = libm::pow(10.0, of_three);
        return (shown(libm::round(value * scale) / scale), None);
    }
    let digits = digits(of_sd.clamp(0.0, 4.0));
    let said = |number: f64| Number(format_args!("{number:.digits$}")).to_string();
    (said(value), Some(said(sd)))
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a few digits after the point")]
fn digits(places: f64) -> usize {
    places as usize
}

#[cfg(test)]
mod tests {
    use super::*;

    fn entry(text: &str) -> Entry {
        Entry::default().with("f", text)
    }

    #[test]
    fn a_comma_is_a_point() {
        assert_eq!(entry(" 1,78 ").number("f"), Ok(Some(1.78)));
        assert_eq!(entry("").number("f"), Ok(None));
        assert_eq!(
            entry("wide").number("f").expect_err("no number").to_string(),
            "f: “wide” is not a number"
        );
        assert!(entry("inf").number("f").is_err(), "infinity is no value of a lens");
    }

    #[test]
    fn a_list_takes_blanks_semicolons_and_commas_at_the_end() {
        assert_eq!(entry("24, 25 30;48").numbers("f"), Ok(vec![24.0, 25.0, 30.0, 48.0]));
        assert_eq!(entry("23,976 24").numbers("f"), Ok(vec![23.976, 24.0]));
        assert!(entry("24,25,30").numbers("f").is_err(), "which comma is a point, nobody knows");
    }

    #[test]
    fn a_bare_length_has_the_unit_that_is_shown() {
        assert_eq!(entry("2,5").metres("f", LengthUnit::Metres), Ok(Some(2.5)));
        assert_eq!(entry("10").metres("f", LengthUnit::Feet), Ok(Some(3.048)));
        assert_eq!(entry("50 cm").metres("f", LengthUnit::Feet), Ok(Some(0.5)));
    }

    #[test]
    fn an_errors_path_ends_in_the_field() {
        assert_eq!(leaf(&RecordError::at("lenses[1].in_sensor_zooms[0]", "")), "in_sensor_zooms");
        assert_eq!(leaf(&RecordError::at("name", "")), "name");
    }

    #[test]
    fn digits_follow_the_uncertainty() {
        let shown = |value, sd| {
            let (value, sd) = rounded(value, sd);
            sd.map_or(value.clone(), |sd| format!("{value} ± {sd}"))
        };
        assert_eq!(shown(6.8, 0.2), "6.8 ± 0.2");
        assert_eq!(shown(24.01, 0.41), "24.0 ± 0.4");
        assert_eq!(shown(77.2, 3.1), "77 ± 3");
        assert_eq!(shown(6.857, 0.0), "6.86");
        assert_eq!(shown(9.80, 0.06), "9.80 ± 0.06");
        assert_eq!(shown(1.8, 0.0), "1.8");
        assert_eq!(shown(66.4, 0.006), "66.4");
    }

    #[test]
    fn ticks_come_and_go() {
        let mut ticks = entry("main");
        ticks.toggle("f", "long");
        ticks.toggle("f", "main");
        assert_eq!(ticks.ticked("f"), ["long"]);
    }
}
