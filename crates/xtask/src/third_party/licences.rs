//! Which licences a package may have that somebody else has made.

use spdx::{Expression, ParseMode};

use super::Package;

/// The licences that are allowed, each because some package asks for it and because it lets the program be passed on
/// under its own: all ask for no more than their notice, save the last, whose files stay under it, and which is only
/// of what tests install.
const ALLOWED: [&str; 9] = [
    "MIT",
    "Apache-2.0",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "BSL-1.0",
    "CC0-1.0",
    "Unicode-3.0",
    "Zlib",
    "MPL-2.0",
];

/// Expressions as the registries hold them: older packages write a stroke for "or".
const AS_REGISTRIES_WRITE: ParseMode =
    ParseMode { allow_slash_as_or_operator: true, allow_deprecated: true, ..ParseMode::STRICT };

/// What is wrong with a package's licence.
pub(super) fn breach(package: &Package) -> Option<String> {
    let wrong = wrong(package.licence.as_deref())?;
    Some(format!("{} {} {wrong}", package.name, package.version))
}

fn wrong(licence: Option<&str>) -> Option<String> {
    let Some(licence) = licence else { return Some("names no licence".to_owned()) };
    let Ok(expression) = Expression::parse_mode(licence, AS_REGISTRIES_WRITE) else {
        return Some(format!("has a licence that is no SPDX expression: {licence}"));
    };
    let allowed = |asked: &spdx::LicenseReq| ALLOWED.contains(&asked.to_string().as_str());
    let refused = expression.evaluate_with_failures(allowed).err()?;
    let refused: Vec<_> = refused.iter().map(|asked| asked.req.to_string()).collect();
    Some(format!(
        "has the licence {licence}, and {} is not on the list of third_party/licences.rs",
        refused.join(" or ")
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_of_several_is_enough_and_all_of_several_are_needed() {
        for fine in ["MIT", "GPL-3.0-only OR MIT", "MIT/Apache-2.0", "(MIT OR Apache-2.0) AND Unicode-3.0"] {
            assert_eq!(wrong(Some(fine)), None, "{fine}");
        }
        for not in ["GPL-3.0-only", "MIT AND GPL-3.0-only", "Apache-2.0 WITH LLVM-exception", "GPL-2.0+"] {
            assert!(wrong(Some(not)).is_some(), "{not}");
        }
    }

    #[test]
    fn what_is_wrong_is_said_with_the_licence_that_is_not_allowed() {
        let package = |licence: Option<&str>| Package {
            name: "walls".to_owned(),
            version: "1.2.3".to_owned(),
            licence: licence.map(str::to_owned),
        };
        assert_eq!(
            breach(&package(Some("MIT AND AGPL-3.0-only"))).unwrap(),
            "walls 1.2.3 has the licence MIT AND AGPL-3.0-only, and AGPL-3.0-only is not on the list of \
             third_party/licences.rs"
        );
        assert_eq!(breach(&package(None)).unwrap(), "walls 1.2.3 names no licence");
        assert_eq!(
            breach(&package(Some("as you like it"))).unwrap(),
            "walls 1.2.3 has a licence that is no SPDX expression: as you like it"
        );
    }

    #[test]
    fn every_licence_on_the_list_is_known() {
        for allowed in ALLOWED {
            assert!(spdx::license_id(allowed).is_some(), "{allowed}");
        }
    }
}
