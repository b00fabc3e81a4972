//! Checks the types that other people's programs compile against: that they are sound, and that none of them is `any`.

use std::fs;
use std::path::Path;
use std::process::Command;

use anyhow::{Result, bail};

use crate::{install, process, workspace};

/// Has the TypeScript compiler read the declarations in `dist/core` and the programs in `crates/js` that use them.
pub(crate) fn check() -> Result<()> {
    let compiler = install::node_packages()?.join("node_modules/typescript/bin/tsc");
    let mut node = Command::new("node");
    node.current_dir(workspace::root()).arg(compiler);
    node.args(["--noEmit", "--strict", "--target", "es2022", "--lib", "es2022,dom,esnext.disposable"]);
    node.args(["--module", "esnext", "--moduleResolution", "bundler"]);
    let mut found = false;
    for entry in fs::read_dir(workspace::core_folder())? {
        let path = entry?.path();
        if !is_typescript(&path) {
            continue;
        }
        found = true;
        let typings = fs::read_to_string(&path)?;
        let untyped = own_part(&typings).lines().find(|line| has_any(line));
        if let Some(line) = untyped.filter(|_| !describes_raw_exports(&path)) {
            bail!("{} is untyped here: {}", path.display(), line.trim());
        }
        node.arg(path);
    }
    if !found {
        bail!("dist/core has no declarations: run cargo xtask build first");
    }
    let programs = workspace::files(workspace::Files::TrackedAndNew)?;
    node.args(programs.iter().filter(|file| file.starts_with("crates/js") && is_typescript(file)));
    process::run(&mut node)
}

fn is_typescript(path: &Path) -> bool {
    path.extension().is_some_and(|extension| extension == "ts")
}

/// Whether a file describes nothing but the module's raw exports, which nobody calls.
fn describes_raw_exports(path: &Path) -> bool {
    path.to_str().is_some_and(|name| name.ends_with(".wasm.d.ts"))
}

/// The declarations up to where the bindings generator describes the raw exports.
fn own_part(typings: &str) -> &str {
    typings.split("export type InitInput").next().unwrap_or(typings)
}

/// Whether a line of code names the type `any`.
fn has_any(line: &str) -> bool {
    let code = line.trim_start();
    let is_comment = code.starts_with('*') || code.starts_with("/*") || code.starts_with("//");
    !is_comment && code.split(|c: char| !c.is_alphanumeric() && c != '_').any(|word| word == "any")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn any_is_found_as_a_type_and_not_in_prose() {
        assert!(has_any("export function setup(request: any): Setup;"));
        assert!(has_any("  findings: any[];"));
        assert!(!has_any("  company: string;"));
        assert!(!has_any("   * Takes any request."));
    }

    #[test]
    fn the_raw_exports_are_left_out() {
        let typings =
            "export function a(): string;\nexport type InitInput = URL;\nreadonly b: (c: any) => any;";
        assert_eq!(own_part(typings), "export function a(): string;\n");
    }
}
