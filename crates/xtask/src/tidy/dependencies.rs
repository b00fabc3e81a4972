//! Which package may depend on which: the layers of the design, as a table.

use anyhow::Result;

use crate::workspace::{self, Dependency, Package};

/// What a package may depend on.
struct Layer {
    package: &'static str,
    /// Packages of this workspace.
    below: &'static [&'static str],
    outside: Outside,
}

/// What a package may take from outside the workspace.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Outside {
    /// These and nothing else: the package computes, and has nothing to do with files, clocks or formats.
    Only(&'static [&'static str]),
    /// Anything that knows no browser, serde included, because the package owns a format.
    NoBrowser,
    /// Anything: the package is an edge of the program.
    Anything,
}

/// What everything at an edge may stand on.
const CORE: &[&str] = &["requests", "film", "render", "staging", "optics", "units", "language"];

/// The layers, lowest first. A package that is not here is a breach, so that nobody adds one without placing it.
const LAYERS: &[Layer] = &[
    Layer {
        package: "language-macros",
        below: &[],
        outside: Outside::Only(&["proc-macro2", "quote", "syn"]),
    },
    Layer { package: "language", below: &["language-macros"], outside: Outside::Only(&["serde"]) },
    Layer { package: "units", below: &["language"], outside: Outside::Only(&["libm"]) },
    Layer { package: "optics", below: &["language", "units"], outside: Outside::Only(&["libm"]) },
    Layer {
        package: "staging",
        below: &["language", "optics", "units"],
        outside: Outside::Only(&["glam", "libm", "nalgebra"]),
    },
    Layer {
        package: "render",
        below: &["staging", "optics", "units"],
        outside: Outside::Only(&["glam", "libm", "wide"]),
    },
    Layer {
        package: "film",
        below: &["language", "staging", "optics", "units"],
        outside: Outside::NoBrowser,
    },
    Layer {
        package: "requests",
        below: &["film", "render", "staging", "optics", "units"],
        outside: Outside::NoBrowser,
    },
    Layer { package: "tapemark", below: CORE, outside: Outside::NoBrowser },
    Layer { package: "tapemark-core", below: CORE, outside: Outside::Anything },
    Layer { package: "files-reader", below: CORE, outside: Outside::Anything },
    Layer { package: "picture-worker", below: CORE, outside: Outside::Anything },
    Layer { package: "sun-almanac", below: CORE, outside: Outside::Anything },
    Layer { package: "web", below: CORE, outside: Outside::Anything },
    Layer { package: "doors", below: CORE, outside: Outside::NoBrowser },
    Layer { package: "checks", below: CORE, outside: Outside::NoBrowser },
    Layer { package: "xtask", below: &[], outside: Outside::NoBrowser },
];

/// Crates whose types are a browser's.
const BROWSER_CRATES: &[&str] = &[
    "js-sys",
    "web-sys",
    "wasm-bindgen",
    "wasm-bindgen-futures",
    "serde-wasm-bindgen",
    "idb",
    "leptos",
    "console_error_panic_hook",
];

pub(super) fn breaches() -> Result<Vec<String>> {
    Ok(workspace::metadata()?.packages.iter().flat_map(breaches_of).collect())
}

fn breaches_of(package: &Package) -> Vec<String> {
    let Some(layer) = LAYERS.iter().find(|layer| layer.package == package.name) else {
        return vec![format!("package {} has no layer in xtask's table of dependencies", package.name)];
    };
    let refused = package.dependencies.iter().filter(|dependency| !layer.allows(dependency));
    refused
        .map(|dependency| format!("package {} may not depend on {}", package.name, dependency.name))
        .collect()
}

impl Layer {
    fn allows(&self, dependency: &Dependency) -> bool {
        let name = dependency.name.as_str();
        if dependency.path.is_some() {
            // Tests and build scripts too: what a layer needs to be tested lies below it.
            return self.below.contains(&name);
        }
        if dependency.kind.is_some() {
            return true;
        }
        match self.outside {
            Outside::Only(crates) => crates.contains(&name),
            Outside::NoBrowser => !BROWSER_CRATES.contains(&name),
            Outside::Anything => true,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn package(name: &str, dependencies: Vec<Dependency>) -> Package {
        Package { name: name.to_owned(), dependencies, targets: Vec::new() }
    }

    fn inside(name: &str) -> Dependency {
        Dependency { name: name.to_owned(), kind: None, path: Some(name.into()) }
    }

    fn outside(name: &str, kind: Option<&str>) -> Dependency {
        Dependency { name: name.to_owned(), kind: kind.map(str::to_owned), path: None }
    }

    #[test]
    fn a_layer_may_not_look_up() {
        assert_eq!(
            breaches_of(&package("staging", vec![inside("optics"), inside("units")])),
            Vec::<String>::new()
        );
        assert_eq!(
            breaches_of(&package("optics", vec![inside("film")])),
            ["package optics may not depend on film"]
        );
    }

    #[test]
    fn a_layer_that_computes_may_not_know_formats() {
        assert_eq!(breaches_of(&package("optics", vec![outside("serde", None)])).len(), 1);
        assert_eq!(breaches_of(&package("optics", vec![outside("serde", Some("build"))])).len(), 0);
        assert_eq!(breaches_of(&package("film", vec![outside("serde", None)])).len(), 0);
    }

    #[test]
    fn only_an_edge_may_know_the_browser() {
        assert_eq!(breaches_of(&package("requests", vec![outside("web-sys", None)])).len(), 1);
        assert_eq!(breaches_of(&package("web", vec![outside("web-sys", None)])).len(), 0);
    }

    #[test]
    fn a_new_package_must_be_placed() {
        assert_eq!(breaches_of(&package("helpers", Vec::new())).len(), 1);
    }
}
