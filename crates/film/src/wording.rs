//! Small pieces of wording that everything told to people uses.

/// The text with its first letter large, if that is one of western Europe's: the large ones of all others are a table that
/// every page would carry. An f-number at its beginning stays as it is engraved.
pub fn capital(text: &str) -> String {
    if text.starts_with("f/") {
        return text.to_owned();
    }
    let mut letters = text.chars();
    let large = |first: char| match first {
        'à'..='ö' | 'ø'..='þ' => char::from_u32(u32::from(first) - 0x20).unwrap_or(first),
        _ => first.to_ascii_uppercase(),
    };
    letters.next().map_or_else(String::new, |first| std::iter::once(large(first)).chain(letters).collect())
}

/// Several, as one says them: `a`, `a and b`, `a, b and c`.
pub fn listed<Text: AsRef<str>>(parts: &[Text]) -> String {
    let Some((last, before)) = parts.split_last() else { return String::new() };
    let before: Vec<&str> = before.iter().map(AsRef::as_ref).collect();
    let last = last.as_ref();
    if before.is_empty() { last.to_owned() } else { format!("{} and {last}", before.join(", ")) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_starts_a_sentence() {
        assert_eq!([capital("main"), capital("éclair"), capital("")], ["Main", "Éclair", ""]);
        assert_eq!(capital("иван"), "иван", "as it was written");
        assert_eq!(capital("f/1.8, 1/48 s"), "f/1.8, 1/48 s");
    }

    #[test]
    fn the_large_letters_of_western_europe_are_those_of_the_standard_library() {
        for letter in ('a'..='z').chain('à'..='þ') {
            assert_eq!(capital(&letter.to_string()), letter.to_uppercase().to_string());
        }
    }

    #[test]
    fn several_are_listed_as_one_says_them() {
        assert_eq!([listed::<&str>(&[]), listed(&["a"]), listed(&["a", "b"])], ["", "a", "a and b"]);
        assert_eq!(listed(&["a", "b", "c"]), "a, b and c");
    }
}
