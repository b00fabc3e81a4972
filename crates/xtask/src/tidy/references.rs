//! Every source that a formula cites must be found in the list of references.

use std::path::Path;

use anyhow::Result;

use crate::workspace::{self, Files};

/// Where the sources are listed, each under a heading that is its key.
const REFERENCES: &str = "crates/optics/REFERENCES.md";

pub(super) fn breaches() -> Result<Vec<String>> {
    let references = workspace::read(Path::new(REFERENCES))?;
    let known: Vec<&str> =
        references.lines().filter_map(|line| line.strip_prefix("## ")).map(str::trim).collect();
    let mut breaches = Vec::new();
    for file in workspace::files(Files::TrackedAndNew)? {
        if file.extension().is_some_and(|extension| extension == "rs") {
            let code = workspace::read(&file)?;
            let unknown = cited_keys(&code).into_iter().filter(|(_, key)| !known.contains(key));
            breaches.extend(unknown.map(|(line, key)| {
                format!("{}:{line}: `{key}` has no heading in {REFERENCES}", file.display())
            }));
        }
    }
    Ok(breaches)
}

/// The keys in the `# Source` sections of doc comments, with the numbers of their lines.
fn cited_keys(code: &str) -> Vec<(usize, &str)> {
    let mut keys = Vec::new();
    let mut in_source = false;
    for (index, line) in code.lines().enumerate() {
        let line = line.trim_start();
        let Some(doc) = line.strip_prefix("///").or_else(|| line.strip_prefix("//!")) else {
            in_source = false;
            continue;
        };
        let doc = doc.trim();
        if doc.starts_with('#') {
            in_source = doc.trim_start_matches('#').trim() == "Source";
        } else if in_source {
            // Every other piece between backticks is inside a pair of them.
            keys.extend(
                doc.split('`').skip(1).step_by(2).filter(|word| is_key(word)).map(|key| (index + 1, key)),
            );
        }
    }
    keys
}

/// Whether a word is a key: a name with a capital, then four digits, as in `Gordon2014`.
fn is_key(word: &str) -> bool {
    let name = word.trim_end_matches(|c: char| c.is_ascii_digit());
    let digits = word.len() - name.len();
    digits == 4 && name.starts_with(|c: char| c.is_ascii_uppercase()) && name.chars().all(char::is_alphabetic)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn keys_are_read_from_source_sections_alone() {
        let code = "/// See `Other1999`.\n/// # Source\n/// `Key2001`, tag `FocalLength`; `Key2002`.\n/// # Examples\n\
                    /// `Not2003`\nfn f() {}\n/// `Not2004`";
        assert_eq!(cited_keys(code), [(3, "Key2001"), (3, "Key2002")]);
    }

    #[test]
    fn a_key_is_a_name_and_four_digits() {
        assert!(is_key("Gordon2014") && is_key("Army0507"));
        assert!(
            !is_key("FocalLengthIn35mmFilm") && !is_key("f64") && !is_key("2014") && !is_key("DC-0082019")
        );
    }
}
