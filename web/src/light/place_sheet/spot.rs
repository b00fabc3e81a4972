//! Where on earth a place is: typed, or from the device. What is typed is kept until enough of it is there.

use std::sync::Arc;

use film::{Command, Coordinates, HorizonProfile, Place, PlaceId, Spot};
use language::say;
use leptos::prelude::*;

use super::position::Position;
use super::zone::device_zone;
use crate::draw::Palette;
use crate::lasting::Lasting;
use crate::light::degrees::{Axis, Typed, parse, shown};
use crate::light::light_desk::LightDesk;
use crate::widgets::{NumberField, TypedField, live};

/// How high a place can be, metres, as the core takes it.
const ELEVATION_M: (f64, f64) = (-500.0, 9000.0);

/// What is known of where a place is.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Known {
    pub(super) latitude_deg: Option<f64>,
    pub(super) longitude_deg: Option<f64>,
    pub(super) elevation_m: f64,
    pub(super) time_zone: String,
    pub(super) horizon: HorizonProfile,
}

/// A place that is changed.
#[derive(Clone, Copy)]
pub(super) struct SpotDesk {
    light: LightDesk,
    id: PlaceId,
    /// What was typed of a place that nobody can find yet.
    typed: RwSignal<Known>,
}

impl SpotDesk {
    pub(super) fn new(light: LightDesk, id: PlaceId) -> Self {
        let nothing = Known {
            latitude_deg: None,
            longitude_deg: None,
            elevation_m: 0.0,
            time_zone: device_zone().unwrap_or_default(),
            horizon: HorizonProfile::LEVEL,
        };
        Self { light, id, typed: RwSignal::new(nothing) }
    }

    /// Something about the place, while it is there.
    pub(super) fn place<Told>(self, tell: impl FnOnce(&Place) -> Told) -> Option<Told> {
        self.light.desk().film.with(|film| film.as_ref()?.place(self.id).map(tell))
    }

    /// Whether it is known where it is.
    pub(super) fn has_spot(self) -> bool {
        self.place(|place| place.spot.is_some()).unwrap_or(false)
    }

    /// What is known of where it is.
    pub(super) fn known(self) -> Known {
        let spot = self.place(|place| place.spot.clone()).flatten();
        spot.map_or_else(|| self.typed.get(), |spot| Known::of(&spot))
    }

    /// The theme's colours.
    pub(super) fn palette(self) -> Lasting<RwSignal<Palette>> {
        self.light.session().palette
    }

    /// Changes the place.
    pub(super) fn change(self, what: &str, change: &dyn Fn(&mut Place)) {
        let places = self.light.desk().film.with_untracked(|film| {
            let mut places = film.as_ref()?.places.to_vec();
            places.iter_mut().filter(|place| place.id == self.id).for_each(change);
            Some(Arc::from(places))
        });
        let Some(places) = places else { return };
        let command = Command::SetPlaces(places);
        self.light.tell(self.light.desk().change(what, Some(self.id.number()), command));
    }

    /// Changes where it is, as soon as enough is known.
    ///
    /// # Errors
    /// Says why it cannot be there.
    pub(super) fn change_spot(self, what: &str, change: impl FnOnce(&mut Known)) -> Result<(), String> {
        let mut known = untrack(|| self.known());
        change(&mut known);
        match known.spot()? {
            Some(spot) => self.change(what, &|place| place.spot = Some(spot.clone())),
            None => self.typed.set(known),
        }
        Ok(())
    }
}

impl Known {
    fn of(Spot { coordinates, time_zone, horizon }: &Spot) -> Self {
        Self {
            latitude_deg: Some(coordinates.latitude_deg()),
            longitude_deg: Some(coordinates.longitude_deg()),
            elevation_m: coordinates.elevation_m(),
            time_zone: time_zone.clone(),
            horizon: horizon.clone(),
        }
    }

    /// The spot; none while something of it is missing.
    fn spot(&self) -> Result<Option<Spot>, String> {
        let (Some(latitude_deg), Some(longitude_deg)) = (self.latitude_deg, self.longitude_deg) else {
            return Ok(None);
        };
        if self.time_zone.is_empty() {
            return Ok(None);
        }
        let coordinates = Coordinates::new(latitude_deg, longitude_deg, self.elevation_m);
        let coordinates = coordinates.map_err(|error| error.to_string())?;
        Ok(Some(Spot { coordinates, time_zone: self.time_zone.clone(), horizon: self.horizon.clone() }))
    }
}

/// Latitude, longitude, height, and the device's position.
#[component]
pub(super) fn SpotFields(spot: SpotDesk) -> impl IntoView {
    let told =
        |read: fn(&Known) -> Option<f64>| live(move || read(&spot.known()).map_or_else(String::new, shown));
    let take = move |axis: Axis| {
        move |text: String| {
            let typed = parse(&text, axis)?;
            spot.change_spot(say!("Change where the place is"), |known| match (typed, axis) {
                (Typed::One(degrees), Axis::Latitude) => known.latitude_deg = Some(degrees),
                (Typed::One(degrees), Axis::Longitude) => known.longitude_deg = Some(degrees),
                (Typed::Both(north, east), _) => {
                    (known.latitude_deg, known.longitude_deg) = (Some(north), Some(east));
                }
            })
        }
    };
    let lacks = live(move || match spot.known() {
        Known { latitude_deg: Some(_), longitude_deg: None, .. } => {
            say!("Its longitude is missing.").to_owned()
        }
        Known { latitude_deg: None, longitude_deg: Some(_), .. } => {
            say!("Its latitude is missing.").to_owned()
        }
        _ => String::new(),
    });
    let rise = move |metres: Option<f64>| {
        // In range already, so it cannot be refused.
        drop(spot.change_spot(say!("Change how high the place is"), |known| {
            known.elevation_m = metres.unwrap_or(0.0);
        }));
    };
    view! {
        <div class="light-spot">
            <TypedField
                label=say!("Latitude")
                hint=say!("North positive. Both numbers of a map can be pasted here.")
                unit="°"
                shown=told(|known| known.latitude_deg)
                take=take(Axis::Latitude)
            />
            <TypedField
                label=say!("Longitude")
                hint=say!("East positive.")
                unit="°"
                shown=told(|known| known.longitude_deg)
                take=take(Axis::Longitude)
            />
        </div>
        <p class="quiet" role="status">{lacks}</p>
        <Position spot />
        <NumberField
            label=say!("Height above the sea")
            unit="m"
            range=ELEVATION_M
            value=Signal::derive(move || Some(spot.known().elevation_m))
            set=rise
        />
    }
}
