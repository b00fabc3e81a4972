//! The fuzzer of one door, which `cargo xtask fuzz` builds with counters in every branch and names in `TAPEMARK_DOOR`.
#![no_main]
#![expect(clippy::expect_used, reason = "a fuzzer without its door has nothing to do")]

use std::sync::OnceLock;

use doors::Door;

static DOOR: OnceLock<&'static Door> = OnceLock::new();

libfuzzer_sys::fuzz_target!(
    init: {
        let name = std::env::var("TAPEMARK_DOOR").unwrap_or_default();
        let known = doors::DOORS.iter().find(|door| door.name == name);
        assert!(DOOR.set(known.expect("TAPEMARK_DOOR names a door")).is_ok(), "there is one door");
    },
    |bytes: &[u8]| {
        let door = DOOR.get().expect("chosen at the start");
        if bytes.len() <= door.largest {
            (door.knock)(bytes);
        }
    }
);
