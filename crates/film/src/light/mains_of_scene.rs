//! The mains that a scene's lamps hang on: what the film says, or what the time zone of its place tells.

use language::{Number, say};
use optics::MainsFrequency;

use crate::film::Film;
use crate::scene::Scene;

/// The mains that a scene's lamps hang on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct MainsOfScene {
    /// How often they swing.
    pub(super) mains: MainsFrequency,
    /// Whether neither the film nor the place says it, and what most of the world has was taken.
    pub(super) is_assumed: bool,
}

impl MainsOfScene {
    /// What the film says, or else the zone of the scene's place, or else what most of the world has.
    pub(super) fn of(film: &Film, scene: &Scene) -> Self {
        let spot = film.place_of(scene).and_then(|place| place.spot.as_ref());
        let of_place = || spot.and_then(|spot| mains_of_zone(&spot.time_zone));
        let known = film.facts.mains.or_else(of_place);
        Self { mains: known.unwrap_or(MainsFrequency::FIFTY), is_assumed: known.is_none() }
    }
}

/// What is said of mains that are assumed, after what can be done about them; nothing of those that are known.
pub(super) fn assumed_told(mains: MainsFrequency, is_assumed: bool) -> String {
    if is_assumed {
        say!("; {} is assumed here: in the Americas and parts of Asia it is 60 Hz", Number(mains))
    } else {
        String::new()
    }
}

/// Regions of time zones all of whose lands have 60 Hz, but for those of [`FIFTY_IN_AMERICA`] and [`NOT_TOLD`].
const SIXTY_IN: [&str; 5] = ["America/", "US/", "Canada/", "Mexico/", "Brazil/"];

/// Regions of time zones all of whose lands have 50 Hz, but for those of [`SIXTY_ELSEWHERE`] and [`NOT_TOLD`].
const FIFTY_IN: [&str; 10] = [
    "Africa/",
    "Arctic/",
    "Asia/",
    "Atlantic/",
    "Australia/",
    "Chile/",
    "Europe/",
    "Indian/",
    "Pacific/",
    "America/Argentina/",
];

/// Zones in America of lands with 50 Hz: of Argentina, Barbados, Bolivia, Chile, Curaçao, Dominica, the French lands, Greenland,
/// Grenada, Jamaica, Paraguay, Saint Lucia, Saint Vincent and Uruguay.
const FIFTY_IN_AMERICA: [&str; 27] = [
    "America/Asuncion",
    "America/Barbados",
    "America/Buenos_Aires",
    "America/Catamarca",
    "America/Cayenne",
    "America/Cordoba",
    "America/Coyhaique",
    "America/Curacao",
    "America/Danmarkshavn",
    "America/Dominica",
    "America/Godthab",
    "America/Grenada",
    "America/Guadeloupe",
    "America/Jamaica",
    "America/Jujuy",
    "America/La_Paz",
    "America/Martinique",
    "America/Mendoza",
    "America/Miquelon",
    "America/Montevideo",
    "America/Nuuk",
    "America/Punta_Arenas",
    "America/Rosario",
    "America/Santiago",
    "America/Scoresbysund",
    "America/St_Lucia",
    "America/St_Vincent",
];

/// Zones beyond America of lands with 60 Hz: of Bermuda, Ecuador's islands, South Korea, Micronesia, the Philippines, Saudi Arabia,
/// Taiwan and islands of the United States.
const SIXTY_ELSEWHERE: [&str; 23] = [
    "Asia/Manila",
    "Asia/Riyadh",
    "Asia/Seoul",
    "Asia/Taipei",
    "Atlantic/Bermuda",
    "Pacific/Chuuk",
    "Pacific/Galapagos",
    "Pacific/Guam",
    "Pacific/Honolulu",
    "Pacific/Johnston",
    "Pacific/Kosrae",
    "Pacific/Kwajalein",
    "Pacific/Majuro",
    "Pacific/Midway",
    "Pacific/Pago_Pago",
    "Pacific/Palau",
    "Pacific/Pohnpei",
    "Pacific/Ponape",
    "Pacific/Saipan",
    "Pacific/Samoa",
    "Pacific/Truk",
    "Pacific/Wake",
    "Pacific/Yap",
];

/// Zones that have both, or of which the lists say one or the other: Japan has 50 Hz in its east and 60 Hz in its west.
const NOT_TOLD: [&str; 9] = [
    "Africa/Monrovia",
    "America/Guyana",
    "America/Kralendijk",
    "America/Thule",
    "Asia/Pyongyang",
    "Asia/Tokyo",
    "Pacific/Gambier",
    "Pacific/Marquesas",
    "Pacific/Tahiti",
];

/// The mains in the land of a time zone, by its IANA name; none where they differ within it, or where the zone is of no land.
///
/// # Source
/// `IecPlugs2017` for which lands have 60 Hz, and the table `zone.tab` of the time zone database for which zones are theirs.
fn mains_of_zone(zone: &str) -> Option<MainsFrequency> {
    let is_within = |regions: &[&str]| regions.iter().any(|region| zone.starts_with(region));
    if NOT_TOLD.contains(&zone) {
        None
    } else if SIXTY_ELSEWHERE.contains(&zone) {
        Some(MainsFrequency::SIXTY)
    } else if FIFTY_IN_AMERICA.contains(&zone) || is_within(&FIFTY_IN) {
        Some(MainsFrequency::FIFTY)
    } else {
        is_within(&SIXTY_IN).then_some(MainsFrequency::SIXTY)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::Arc;

    fn hertz(zone: &str) -> Option<f64> {
        mains_of_zone(zone).map(MainsFrequency::to_hz)
    }

    /// By the list of the IEC: the Americas have 60 Hz, but for their south, some islands and Greenland.
    #[test]
    fn zones_have_the_mains_of_their_land() {
        for zone in [
            "America/New_York",
            "America/Sao_Paulo",
            "America/Lima",
            "America/Caracas",
            "America/Indiana/Knox",
            "America/Port_of_Spain",
            "US/Pacific",
            "Asia/Manila",
            "Asia/Taipei",
            "Asia/Seoul",
            "Asia/Riyadh",
            "Pacific/Guam",
            "Atlantic/Bermuda",
        ] {
            assert_eq!(hertz(zone), Some(60.0), "{zone}");
        }
        for zone in [
            "Europe/Amsterdam",
            "Africa/Nairobi",
            "Asia/Shanghai",
            "Asia/Kuwait",
            "Australia/Perth",
            "Pacific/Auckland",
            "Atlantic/Reykjavik",
            "America/Argentina/Ushuaia",
            "America/Santiago",
            "America/La_Paz",
            "America/Jamaica",
            "America/Barbados",
            "America/Nuuk",
        ] {
            assert_eq!(hertz(zone), Some(50.0), "{zone}");
        }
    }

    #[test]
    fn lands_with_both_and_zones_of_no_land_tell_nothing() {
        for zone in ["Asia/Tokyo", "Pacific/Tahiti", "UTC", "Etc/GMT+5", "", "somewhere"] {
            assert_eq!(hertz(zone), None, "{zone}");
        }
    }

    #[test]
    fn no_zone_is_listed_twice() {
        let mut all: Vec<&str> =
            FIFTY_IN_AMERICA.into_iter().chain(SIXTY_ELSEWHERE).chain(NOT_TOLD).collect();
        let count = all.len();
        all.sort_unstable();
        all.dedup();
        assert_eq!(all.len(), count);
    }

    #[test]
    fn what_the_film_says_goes_before_its_place_and_what_is_assumed_is_told() {
        let in_zone = |zone: Option<&str>, said: Option<MainsFrequency>| {
            let mut film = crate::demo_film();
            let mut places = film.places.to_vec();
            for place in &mut places {
                place.spot = place
                    .spot
                    .take()
                    .zip(zone)
                    .map(|(spot, zone)| crate::film::Spot { time_zone: zone.to_owned(), ..spot });
            }
            film.places = Arc::from(places);
            Arc::make_mut(&mut film.facts).mains = said;
            let MainsOfScene { mains, is_assumed } = MainsOfScene::of(&film, &film.scenes[0]);
            (mains.to_hz(), is_assumed)
        };
        assert_eq!(in_zone(Some("America/New_York"), None), (60.0, false));
        assert_eq!(in_zone(Some("America/New_York"), Some(MainsFrequency::FIFTY)), (50.0, false));
        assert_eq!(in_zone(Some("Europe/Copenhagen"), None), (50.0, false));
        assert_eq!(in_zone(Some("Asia/Tokyo"), None), (50.0, true));
        assert_eq!(in_zone(None, None), (50.0, true));
        assert_eq!(
            assumed_told(MainsFrequency::FIFTY, true),
            "; 50 Hz is assumed here: in the Americas and parts of Asia it is 60 Hz"
        );
        assert_eq!(assumed_told(MainsFrequency::SIXTY, false), "");
    }
}
