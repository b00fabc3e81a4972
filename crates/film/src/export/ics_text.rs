//! Lines of a calendar as RFC 5545 has them.

/// The text of a calendar, line by line.
#[derive(Debug, Default)]
pub(super) struct CalendarText(String);

/// Bytes of a line without its end (RFC 5545, section 3.1).
const LINE_BYTES: usize = 75;

impl CalendarText {
    /// A property whose value is written as it is, folded where it is long: never within a letter.
    pub(super) fn property(&mut self, name: &str, value: &str) {
        let mut bytes = 0;
        for letter in name.chars().chain([':']).chain(value.chars()) {
            if bytes + letter.len_utf8() > LINE_BYTES {
                self.0.push_str("\r\n ");
                bytes = 1;
            }
            self.0.push(letter);
            bytes += letter.len_utf8();
        }
        self.0.push_str("\r\n");
    }

    /// A property whose value is a text; nothing if it is empty.
    pub(super) fn text(&mut self, name: &str, text: &str) {
        if !text.is_empty() {
            self.property(name, &escaped(text));
        }
    }

    /// All of it.
    pub(super) fn into_text(self) -> String {
        self.0
    }
}

/// A text with what has a meaning in calendars escaped (RFC 5545, section 3.3.11), and without what none may hold.
fn escaped(text: &str) -> String {
    let text = text.replace("\r\n", "\n").replace('\r', "\n");
    let mut escaped = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '\\' | ';' | ',' => escaped.extend(['\\', letter]),
            '\n' => escaped.push_str("\\n"),
            '\t' => escaped.push(letter),
            letter if letter.is_control() => {}
            letter => escaped.push(letter),
        }
    }
    escaped
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn line(name: &str, text: &str) -> String {
        let mut calendar = CalendarText::default();
        calendar.text(name, text);
        calendar.into_text()
    }

    #[test]
    fn what_has_a_meaning_is_escaped() {
        assert_eq!(line("SUMMARY", "a, b; c\\d\r\ne\u{7}"), "SUMMARY:a\\, b\\; c\\\\d\\ne\r\n");
        assert_eq!(line("SUMMARY", ""), "");
    }

    #[test]
    fn a_line_is_full_before_it_is_folded() {
        let folded = line("A", &"x".repeat(150));
        assert_eq!(folded, format!("A:{}\r\n {}\r\n {}\r\n", "x".repeat(73), "x".repeat(74), "xxx"));
    }

    proptest! {
        #[test]
        fn any_text_is_in_lines_of_75_bytes_and_unfolds_to_itself(text in any::<String>()) {
            let folded = line("DESCRIPTION", &text);
            for line in folded.split("\r\n") {
                prop_assert!(line.len() <= LINE_BYTES, "{line:?}");
                prop_assert!(!line.contains(['\r', '\n']), "{line:?}");
            }
            let unfolded = folded.replace("\r\n ", "");
            let value = if text.is_empty() { "" } else { unfolded.strip_prefix("DESCRIPTION:").expect("its name") };
            let expected = escaped(&text);
            prop_assert_eq!(value.strip_suffix("\r\n").unwrap_or(value), expected.as_str());
        }
    }
}
