//! From which crates the code of the first load comes: what there is to cut.

use std::collections::BTreeMap;
use std::fs;

use anyhow::{Context as _, Result};
use wasmparser::{KnownCustom, Name, Parser, Payload, TypeRef};

use crate::{toolchain, workspace};

/// Crates below this share of a module's code are told together, percent.
const TOLD_PERCENT: usize = 1;

/// Prints the crates of the two modules that a page opens with.
pub(crate) fn print() -> Result<()> {
    let compiled = workspace::target_folder()?.join(toolchain::WASM).join("page");
    for module in ["web.wasm", "picture_worker.wasm"] {
        let sizes =
            by_crate(&fs::read(compiled.join(module)).with_context(|| format!("{module} was not built"))?)?;
        let whole: usize = sizes.values().sum();
        println!("{whole:>12} bytes of code in {module} before compression, of which");
        let mut sizes: Vec<_> = sizes.into_iter().collect();
        sizes.sort_by_key(|(_, bytes)| std::cmp::Reverse(*bytes));
        let told = sizes.iter().take_while(|(_, bytes)| bytes * 100 >= whole * TOLD_PERCENT).count();
        for (name, bytes) in &sizes[..told] {
            println!("{bytes:>12} {:>3} % {name}", bytes * 100 / whole);
        }
        let rest: usize = sizes[told..].iter().map(|(_, bytes)| bytes).sum();
        println!("{rest:>12} {:>3} % in {} others", rest * 100 / whole, sizes.len() - told);
    }
    Ok(())
}

/// The bytes of code by the crate whose function it is, of a module that still has its names.
#[expect(clippy::wildcard_enum_match_arm, reason = "a module has many sections, and these are read")]
fn by_crate(wasm: &[u8]) -> Result<BTreeMap<String, usize>> {
    let (mut imported, mut bodies, mut names) = (0, Vec::new(), BTreeMap::new());
    for payload in Parser::new(0).parse_all(wasm) {
        match payload? {
            Payload::ImportSection(imports) => {
                for import in imports.into_imports() {
                    imported += u32::from(matches!(import?.ty, TypeRef::Func(_)));
                }
            }
            Payload::CodeSectionEntry(body) => bodies.push(body.range().len()),
            Payload::CustomSection(section) => {
                if let KnownCustom::Name(subsections) = section.as_known() {
                    for subsection in subsections {
                        if let Name::Function(map) = subsection? {
                            for naming in map {
                                let naming = naming?;
                                names.insert(naming.index, naming.name);
                            }
                        }
                    }
                }
            }
            _ => {}
        }
    }
    let mut sizes = BTreeMap::new();
    for (number, bytes) in (imported..).zip(bodies) {
        let name = names.get(&number).copied().unwrap_or_default();
        // What the bindings are made from is gone from what people get.
        if !name.starts_with("__wbindgen_describe") {
            *sizes.entry(crate_of(&format!("{:#}", rustc_demangle::demangle(name)))).or_default() += bytes;
        }
    }
    Ok(sizes)
}

/// The crate that a function's path begins with: of an implementation, the crate of the type.
fn crate_of(path: &str) -> String {
    let begin = path.find(|letter: char| letter.is_alphanumeric() || letter == '_').unwrap_or(0);
    let rest = path[begin..].trim_start_matches("mut ").trim_start_matches("dyn ");
    let end = rest.find(|letter: char| !(letter.is_alphanumeric() || letter == '_')).unwrap_or(rest.len());
    if rest[end..].starts_with("::") { rest[..end].to_owned() } else { "(no crate)".to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_function_is_of_the_crate_that_its_path_begins_with() {
        assert_eq!(crate_of("page::setup::plan::draw"), "page");
        assert_eq!(crate_of("<page::session::Plan as serde::Serialize>::serialize"), "page");
        assert_eq!(crate_of("<&mut serde_json::Deserializer as serde::Deserializer>::any"), "serde_json");
        assert_eq!(crate_of("memcpy"), "(no crate)");
    }

    #[test]
    fn bytes_that_are_no_module_are_refused() {
        assert!(by_crate(b"not wasm").is_err());
    }
}
