//! Small pieces of wording that everything told to people uses.

use language::say;
use staging::PieceKind;

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
    if before.is_empty() { last.to_owned() } else { say!("{} and {last}", before.join(", ")) }
}

/// So many of something, by the words for one and for several: `1 shot`, `2 shots`.
pub fn counted(count: usize, one: &str, several: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { several })
}

/// What has a number, with its title if it has one: `Scene 2: The thief`.
pub fn titled(what: &str, number: usize, title: &str) -> String {
    if title.is_empty() { format!("{what} {number}") } else { format!("{what} {number}: {title}") }
}

/// What a piece is called.
pub(crate) fn piece_name(kind: PieceKind) -> &'static str {
    match kind {
        PieceKind::Wall => say!("the wall"),
        PieceKind::Window => say!("the window"),
        PieceKind::Doorway => say!("the doorway"),
        PieceKind::Table => say!("the table"),
        PieceKind::Bench => say!("the bench"),
        PieceKind::Tree => say!("the tree"),
        PieceKind::Hedge => say!("the hedge"),
        PieceKind::Car => say!("the car"),
        PieceKind::LampPost => say!("the lamp post"),
        PieceKind::Lights => say!("the lights"),
        PieceKind::Plant => say!("the plant"),
    }
}

/// A number with so many decimals; what rounds to nothing has no sign.
pub fn fixed(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    match text.strip_prefix('-') {
        Some(rest) if rest.bytes().all(|byte| matches!(byte, b'0' | b'.')) => rest.to_owned(),
        Some(_) | None => text,
    }
}

/// What is alike told once: each key in the order in which it first comes, with all that it is of.
pub fn grouped<Key: PartialEq, Item>(pairs: impl IntoIterator<Item = (Key, Item)>) -> Vec<(Key, Vec<Item>)> {
    let mut groups: Vec<(Key, Vec<Item>)> = Vec::new();
    for (key, item) in pairs {
        match groups.iter_mut().find(|(known, _)| *known == key) {
            Some((_, items)) => items.push(item),
            None => groups.push((key, vec![item])),
        }
    }
    groups
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

    #[test]
    fn one_is_counted_as_one() {
        assert_eq!([0, 1, 2].map(|count| counted(count, "shot", "shots")), ["0 shots", "1 shot", "2 shots"]);
    }

    #[test]
    fn what_has_no_title_is_its_number() {
        assert_eq!(titled("Scene", 2, "The thief"), "Scene 2: The thief");
        assert_eq!(titled("Scene", 2, ""), "Scene 2");
    }

    #[test]
    fn nothing_has_no_sign() {
        assert_eq!([fixed(-0.001, 2), fixed(-0.1, 2), fixed(-0.4, 0)], ["0.00", "-0.10", "0"]);
    }

    #[test]
    fn what_is_alike_is_told_once_where_it_first_comes() {
        let groups = grouped([("b", 1), ("a", 2), ("b", 3)]);
        assert_eq!(groups, [("b", vec![1, 3]), ("a", vec![2])]);
    }
}
