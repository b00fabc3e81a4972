//! Numbers that stay beside their units: no line ends between them.

/// What follows a number and belongs to it, in any language: `u` are hours in Dutch.
const UNITS: [&str; 18] = [
    "m", "cm", "mm", "µm", "ft", "px", "s", "min", "h", "u", "K", "%", "°", "fps", "stop", "stops", "am",
    "pm",
];
/// What stands before a number and belongs to it.
const SIGNS: [&str; 4] = ["ISO", "EV", "ND", "±"];
/// Where no line ends.
const HOLDS: char = '\u{a0}';

/// The text, with spaces at which no line ends between numbers and their units.
pub(crate) fn held(text: &str) -> String {
    let mut held = String::with_capacity(text.len());
    let mut words = text.split(' ');
    let mut before = words.next().unwrap_or_default();
    held.push_str(before);
    for word in words {
        let sign = before.trim_start_matches('(');
        let is_sign = SIGNS.contains(&sign) && word.starts_with(|first: char| first.is_ascii_digit());
        let unit = word.trim_end_matches(['.', ',', ';', ':', ')']);
        let is_unit = UNITS.contains(&unit) && before.ends_with(|last: char| last.is_ascii_digit());
        held.push(if is_sign || is_unit { HOLDS } else { ' ' });
        held.push_str(word);
        before = word;
    }
    held
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_is_held_to_its_unit_and_to_its_sign() {
        let told = held("Long lens, 2 steps back (1.3 m), f/1.8, 1/48 s, ISO 50, ND 8; 0.4 stops bright.");
        let expected = "Long lens, 2 steps back (1.3~m), f/1.8, 1/48~s, ISO~50, ND~8; 0.4~stops bright.";
        assert_eq!(told, expected.replace('~', "\u{a0}"));
        assert_eq!(held("1.40 m ± 0.02 m"), "1.40~m ±~0.02~m".replace('~', "\u{a0}"));
    }

    #[test]
    fn other_words_end_their_lines_as_they_like() {
        for told in
            ["", " ", "Tom, 12", "the ISO is a choice", "s and m", "1.1 medium on Tom", "two  spaces 3  m"]
        {
            assert_eq!(held(told), told);
        }
    }
}
