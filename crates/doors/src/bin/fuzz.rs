//! The fuzzer of one door, which `cargo xtask fuzz` builds with counters in every branch and names in `TAPEMARK_DOOR`.
#![no_main]
#![expect(clippy::expect_used, reason = "a fuzzer without its door has nothing to do")]

use std::sync::OnceLock;
use std::time::Duration;

use doors::Door;
use rustix::time::{ClockId, clock_gettime};

static DOOR: OnceLock<&'static Door> = OnceLock::new();

/// How long the processor may work for a knock. A door itself may take a second; to knock is to open it up to three times and
/// to write what came in twice, with every branch counted and every sum checked.
const LONGEST: Duration = Duration::from_secs(3);

/// For how long the processor has worked for this program: a machine that is busy with something else makes nothing slow.
fn worked() -> Duration {
    clock_gettime(ClockId::ProcessCPUTime).try_into().unwrap_or_default()
}

libfuzzer_sys::fuzz_target!(
    init: {
        let name = std::env::var("TAPEMARK_DOOR").unwrap_or_default();
        let known = doors::DOORS.iter().find(|door| door.name == name);
        assert!(DOOR.set(known.expect("TAPEMARK_DOOR names a door")).is_ok(), "there is one door");
    },
    |bytes: &[u8]| {
        let door = DOOR.get().expect("chosen at the start");
        if bytes.len() <= door.largest {
            let before = worked();
            (door.knock)(bytes);
            let took = worked().saturating_sub(before);
            assert!(took <= LONGEST, "the processor worked {took:?} for it");
        }
    }
);
