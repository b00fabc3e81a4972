//! A title as part of a file's name.

/// The longest name, in letters: chosen, as every file system takes so many and what is added to them.
const LONGEST: usize = 60;

/// Names that one system keeps for its devices, whatever comes after a point.
const OF_DEVICES: [&str; 4] = ["con", "prn", "aux", "nul"];

/// A title as part of a file's name: its letters and digits, small, with a hyphen between words; `film` where it has none.
///
/// # Examples
/// ```
/// assert_eq!(film::plain_name("The Biscuit Thief!"), "the-biscuit-thief");
/// assert_eq!(film::plain_name("../.."), "film");
/// ```
pub fn plain_name(title: &str) -> String {
    let words = title.split(|letter: char| !letter.is_alphanumeric()).filter(|word| !word.is_empty());
    let name: String = words.collect::<Vec<_>>().join("-").to_lowercase().chars().take(LONGEST).collect();
    let name = name.trim_end_matches('-');
    let is_port = |name: &str| {
        let number = name.strip_prefix("com").or_else(|| name.strip_prefix("lpt"));
        number.is_some_and(|number| number.chars().count() == 1)
    };
    if name.is_empty() {
        "film".to_owned()
    } else if OF_DEVICES.contains(&name) || is_port(name) {
        format!("film-{name}")
    } else {
        name.to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn letters_of_any_script_stay() {
        assert_eq!(plain_name("Der Keksdieb – Teil 2"), "der-keksdieb-teil-2");
        assert_eq!(plain_name("ビスケット泥棒"), "ビスケット泥棒");
        assert_eq!(plain_name("Ёж в тумане"), "ёж-в-тумане");
    }

    #[test]
    fn what_one_system_keeps_for_itself_is_no_name() {
        assert_eq!(plain_name("CON"), "film-con");
        assert_eq!(plain_name("Com1"), "film-com1");
        assert_eq!(plain_name("Comet"), "comet");
    }

    proptest! {
        #[test]
        fn a_name_leads_nowhere_else(title in any::<String>()) {
            let name = plain_name(&title);
            prop_assert!(!name.is_empty() && name.chars().count() <= LONGEST + 5, "{name}");
            prop_assert!(!name.starts_with('-') && !name.ends_with('-'), "{name}");
            prop_assert!(!name.contains(['/', '\\', '.', ':', '\0']), "{name}");
        }
    }
}
