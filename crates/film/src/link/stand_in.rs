//! What somebody is called of whom no name is said, or whose name was left out.

/// What the cast's person of that place, counted from 1, is called without a name: in every language, so that it is known
/// for what it is wherever the link is opened.
pub(crate) fn stand_in(number: usize) -> String {
    format!("Person {number}")
}

/// Whether that is a name which somebody was given, and neither nothing nor what stands in for one.
pub(crate) fn is_said(name: &str) -> bool {
    let stands_in = |before: &str| {
        let number = name.strip_prefix(before);
        number.is_some_and(|number| !number.is_empty() && number.bytes().all(|byte| byte.is_ascii_digit()))
    };
    !name.trim().is_empty() && !stands_in("Person ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_stands_in_for_a_name_is_told_from_one() {
        assert!(!is_said(&stand_in(12)));
        assert!(!is_said(" "));
        assert!(is_said("Mia"));
        assert!(is_said("Person of interest"));
        assert!(is_said("Person "));
    }
}
