//! Small pieces of wording that everything told to people uses.

/// The text with its first letter large.
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
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
    }

    #[test]
    fn several_are_listed_as_one_says_them() {
        assert_eq!([listed::<&str>(&[]), listed(&["a"]), listed(&["a", "b"])], ["", "a", "a and b"]);
        assert_eq!(listed(&["a", "b", "c"]), "a, b and c");
    }
}
