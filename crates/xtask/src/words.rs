//! The catalogues of what people read: every text that the code marks, in every language that is spoken.

// A crate of macros hands out nothing but macros, so what both read by is compiled here once more.
#[path = "../../language/macros/src/placeholders.rs"]
mod placeholders;

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

use anyhow::{Context as _, Result, anyhow};
use proc_macro2::{Delimiter, TokenStream, TokenTree};
use syn::LitStr;

use crate::workspace::{self, Files};

/// Where the catalogues lie, a file for each language.
pub(crate) const CATALOGUES: &str = "presets/words";

/// The pages whose own text is said where an element is marked by this.
const PAGES: [&str; 2] = ["web/index.html", "web/frame.html"];
const MARK: &str = " data-said>";

/// A language's text for each key.
type Catalogue = BTreeMap<String, String>;

/// Writes the catalogues anew: in order, without texts that nothing says any more, with an empty one for each that is missing.
pub(crate) fn run() -> Result<()> {
    let keys = keys()?;
    for (path, mut catalogue) in catalogues()? {
        let before = catalogue.len();
        catalogue.retain(|key, _| keys.contains(key));
        let gone = before - catalogue.len();
        for key in &keys {
            catalogue.entry(key.clone()).or_default();
        }
        let missing = catalogue.values().filter(|text| text.is_empty()).count();
        fs::write(&path, written(&catalogue)?)?;
        println!("{}: {} texts, {gone} removed, {missing} to be written", path.display(), catalogue.len());
    }
    Ok(())
}

/// A catalogue as its file has it: in the order in which texts are looked up.
fn written(catalogue: &Catalogue) -> Result<String> {
    Ok(serde_json::to_string_pretty(catalogue)? + "\n")
}

/// Where the catalogues and the code do not fit.
pub(crate) fn breaches() -> Result<Vec<String>> {
    let keys = keys()?;
    let mut breaches = Vec::new();
    for (path, catalogue) in catalogues()? {
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        if fs::read_to_string(&path)? != written(&catalogue)? {
            breaches.push(format!("{name} is not as `cargo xtask words` writes it"));
        }
        let said = |key: &String| catalogue.get(key).is_some_and(|text| !text.is_empty());
        let missing =
            keys.iter().filter(|key| !said(key)).map(|key| format!("{name} has no text for {key:?}"));
        breaches.extend(missing);
        let left = catalogue.keys().filter(|key| !keys.contains(*key));
        breaches.extend(left.map(|key| format!("{name} has a text for {key:?}, which nothing says")));
        let unlike = catalogue.iter().filter(|(key, text)| !text.is_empty() && !is_alike(key, text));
        breaches.extend(
            unlike.map(|(key, _)| format!("{name} has other values or other spaces at its ends in {key:?}")),
        );
    }
    Ok(breaches)
}

/// Whether a text has the values of its key, and begins and ends as it does, so that it goes together with what is beside it.
fn is_alike(key: &str, text: &str) -> bool {
    let english = key.rsplit(placeholders::ABOUT).next().unwrap_or(key);
    let spaces = |text: &str| (text.starts_with(' '), text.ends_with(' '));
    names(english) == names(text) && spaces(english) == spaces(text)
}

/// What a text's values are called; nothing where its braces are not what they should be.
fn names(text: &str) -> Option<BTreeSet<String>> {
    let names = placeholders::pieces(text).ok()?.into_iter().filter_map(|piece| match piece {
        placeholders::Piece::Value { name, .. } => Some(name.to_string()),
        placeholders::Piece::Text(_) => None,
    });
    Some(names.collect())
}

/// The catalogues with their paths.
fn catalogues() -> Result<Vec<(std::path::PathBuf, Catalogue)>> {
    let mut catalogues = Vec::new();
    for entry in fs::read_dir(workspace::root().join(CATALOGUES))? {
        let path = entry?.path();
        let read = || anyhow::Ok(serde_json::from_str(&fs::read_to_string(&path)?)?);
        let catalogue = read().with_context(|| format!("{} is no catalogue", path.display()))?;
        catalogues.push((path, catalogue));
    }
    Ok(catalogues)
}

/// The key of every text that is marked.
fn keys() -> Result<BTreeSet<String>> {
    let mut keys = BTreeSet::new();
    for file in workspace::files(Files::TrackedAndNew)? {
        if is_product(&file) {
            let code: TokenStream = workspace::read(&file)?
                .parse()
                .map_err(|error| anyhow!("{} is not Rust: {error}", file.display()))?;
            collect(code, &mut keys).with_context(|| format!("a text of {}", file.display()))?;
        }
    }
    for page in PAGES {
        let page = workspace::read(Path::new(page))?;
        let marked = page.split(MARK).skip(1).filter_map(|text| text.split('<').next());
        keys.extend(marked.map(str::to_owned));
    }
    Ok(keys)
}

/// Whether a file is of what people use, rather than of what makes or tests it.
fn is_product(file: &Path) -> bool {
    let is_rust = file.extension().is_some_and(|extension| extension == "rs");
    is_rust
        && !file.starts_with("tests")
        && !file.starts_with("crates/xtask")
        && !file.starts_with("crates/language")
}

/// Collects what `say!` and `key!` mark, however deep they stand in other macros.
fn collect(code: TokenStream, keys: &mut BTreeSet<String>) -> Result<()> {
    let tokens: Vec<TokenTree> = code.into_iter().collect();
    for (at, token) in tokens.iter().enumerate() {
        let TokenTree::Group(group) = token else { continue };
        collect(group.stream(), keys)?;
        let before =
            |steps: usize| at.checked_sub(steps).and_then(|at| tokens.get(at)).map(ToString::to_string);
        if group.delimiter() == Delimiter::None || before(1).as_deref() != Some("!") {
            continue;
        }
        match before(2).as_deref() {
            Some("say") => keys.insert(said(group.stream())?),
            // What is a text of its own, without values, has its braces as they are.
            Some("key") => {
                keys.insert(literals(group.stream()).collect::<Vec<_>>().join(placeholders::ABOUT))
            }
            _ => continue,
        };
    }
    Ok(())
}

/// The key of what stands between the brackets of `say!`.
fn said(code: TokenStream) -> Result<String> {
    let is_about = code.clone().into_iter().next().is_some_and(|token| token.to_string() == "in");
    let mut texts = literals(code);
    let about = if is_about { texts.next() } else { None };
    let english = texts.next().context("nothing is said")?;
    placeholders::key_of(about.as_deref(), &english).map_err(|problem| anyhow!("{english:?}: {problem}"))
}

/// The texts among tokens.
fn literals(code: TokenStream) -> impl Iterator<Item = String> {
    code.into_iter().filter_map(|token| match token {
        TokenTree::Literal(literal) => {
            syn::parse_str::<LitStr>(&literal.to_string()).ok().map(|text| text.value())
        }
        TokenTree::Group(_) | TokenTree::Ident(_) | TokenTree::Punct(_) => None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_marked_is_found_within_other_macros_too() {
        let code = r#"view! { <p title=say!("a {x:.1}")>{say!(in "a lens", "wide")}</p> } format!("no"); key!(in "a", "{b}")"#;
        let mut keys = BTreeSet::new();
        collect(code.parse().unwrap(), &mut keys).unwrap();
        assert_eq!(Vec::from_iter(keys), ["a\u{4}{b}", "a lens\u{4}wide", "a {x}"]);
    }

    #[test]
    fn a_text_has_its_keys_values_and_spaces() {
        assert!(is_alike("{a} of {0} ", "van {0}: {a} "));
        assert!(!is_alike("{a} of {0}", "{a} van"), "a value is missing");
        assert!(!is_alike(" of", "van"), "a space is missing");
        assert!(is_alike("about\u{4}of", "van"));
    }
}
