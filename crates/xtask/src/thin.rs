//! Takes out of what people download what only its writers read.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use anyhow::{Context as _, Result};
use walrus::ModuleConfig;

/// Style sheets of a folder, without comments and indentation.
pub(crate) fn styles(folder: &Path) -> Result<()> {
    if !folder.is_dir() {
        return Ok(());
    }
    for entry in fs::read_dir(folder)? {
        let path = entry?.path();
        if path.extension().is_some_and(|extension| extension == "css") {
            fs::write(&path, without_comments(&fs::read_to_string(&path)?))?;
        }
    }
    Ok(())
}

/// Bindings of a module and the module itself: without comments and indentation, and with short names for what the module
/// imports. The names that they come with end in hashes, which do not compress.
pub(crate) fn bindings(script: &Path) -> Result<()> {
    let name = script.file_stem().context("bindings have a name")?.to_string_lossy();
    let wasm = script.with_file_name(format!("{name}_bg.wasm"));
    let mut module = ModuleConfig::new().generate_producers_section(false).parse_file(&wasm)?;
    let mut short = BTreeMap::new();
    // What comes from elsewhere, as scripts beside the bindings, has the names that it is exported by.
    let own = format!("./{name}_bg.js");
    for (number, import) in module.imports.iter_mut().filter(|import| import.module == own).enumerate() {
        let long = std::mem::replace(&mut import.name, format!("i{number}"));
        short.insert(long, import.name.clone());
    }
    let bindings = fs::read_to_string(script)?;
    fs::write(script, with_keys(&without_comments(&bindings), &short))?;
    module.emit_wasm_file(&wasm)
}

/// A script with other names for the keys at the beginnings of its lines.
fn with_keys(script: &str, names: &BTreeMap<String, String>) -> String {
    let renamed = script.lines().map(|line| match line.split_once(':') {
        Some((key, rest)) => names.get(key).map_or_else(|| line.to_owned(), |name| format!("{name}:{rest}")),
        None => line.to_owned(),
    });
    renamed.collect::<Vec<_>>().join("\n")
}

/// A style sheet or bindings without comments, indentation and empty lines: neither holds text that looks like a comment, or
/// text of several lines.
fn without_comments(text: &str) -> String {
    let mut kept = String::with_capacity(text.len());
    let mut rest = text;
    while let Some((before, after)) = rest.split_once("/*") {
        kept.push_str(before);
        rest = after.split_once("*/").map_or("", |(_, after)| after);
    }
    kept.push_str(rest);
    let lines = kept.lines().map(str::trim);
    lines.filter(|line| !line.is_empty() && !line.starts_with("//")).collect::<Vec<_>>().join("\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_style_sheet_keeps_its_rules_and_loses_its_comments() {
        let sheet = "/* why */\na {\n  color: red; /* here */\n}\n\nb {\n}\n/* cut off";
        assert_eq!(without_comments(sheet), "a {\ncolor: red;\n}\nb {\n}");
    }

    #[test]
    fn what_is_imported_has_its_short_name_and_nothing_else_has() {
        let script =
            "const import0 = {\n__wbg_open_00ff: function(arg0) {\nreturn a ? __wbg_open_00ff: b;\n},\n};";
        let names = BTreeMap::from([("__wbg_open_00ff".to_owned(), "i0".to_owned())]);
        let expected = "const import0 = {\ni0: function(arg0) {\nreturn a ? __wbg_open_00ff: b;\n},\n};";
        assert_eq!(with_keys(script, &names), expected);
    }
}
