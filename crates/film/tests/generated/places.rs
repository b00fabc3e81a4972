//! Places of films, with all that can be known of them.

use std::sync::Arc;

use film::{
    Coordinates, HorizonProfile, Paced, PacedOutline, PacedPlace, PacedSide, PhotoId, PhotoPose, Place,
    PlacePhoto, Spot, StepLength, Unknown,
};
use jiff::civil::date;
use proptest::collection::vec;
use proptest::option;
use proptest::prelude::*;
use units::{Angle, Length};

use super::{PLACES, degrees, metres, place_id, point, text, within};

fn spot() -> BoxedStrategy<Spot> {
    let points = vec((within(-360.0, 360.0), within(-5.0, 90.0)), 0..5);
    (
        within(-90.0, 90.0),
        within(-180.0, 180.0),
        within(-500.0, 9000.0),
        "[A-Z][a-z]{1,9}/[A-Z][a-z]{1,9}",
        points,
    )
        .prop_map(|(latitude, longitude, elevation, time_zone, points)| Spot {
            coordinates: Coordinates::new(latitude, longitude, elevation).expect("in range"),
            time_zone,
            horizon: HorizonProfile::from_deg(points).expect("in range"),
        })
        .boxed()
}

fn pose() -> BoxedStrategy<PhotoPose> {
    let sds = (option::of(within(0.0, 100.0)), option::of(within(0.0, 90.0)));
    (within(0.01, 100.0), within(-89.0, 89.0), within(-180.0, 180.0), sds)
        .prop_map(|(height, tilt, roll, (height_sd, tilt_sd))| PhotoPose {
            height: Length::from_m(height),
            height_sd: height_sd.map(Length::from_m),
            tilt: Angle::from_deg(tilt),
            tilt_sd: tilt_sd.map(Angle::from_deg),
            roll: Angle::from_deg(roll),
        })
        .boxed()
}

/// A photo of a place, to be numbered.
fn photo() -> BoxedStrategy<PlacePhoto> {
    let looks = (within(-360.0, 360.0), within(1.0, 170.0), (1_u32..=65_535, 1_u32..=65_535));
    let taken = option::of((1_i16..=9_999, 1_i8..=12, 1_i8..=28, 0_i8..=23));
    (text(), point(), pose(), looks, within(0.5, 10_000.0), taken)
        .prop_map(|(name, at, pose, (azimuth, view, size_px), far, taken)| PlacePhoto {
            id: PhotoId::new(0).expect("small"),
            name,
            at,
            pose,
            azimuth: Angle::from_deg(azimuth),
            horizontal_fov: Angle::from_deg(view),
            size_px,
            far: Length::from_m(far),
            taken: taken.map(|(year, month, day, hour)| date(year, month, day).at(hour, 5, 0, 0)),
            unknown: Unknown::default(),
        })
        .boxed()
}

fn paced() -> BoxedStrategy<PacedPlace> {
    let taped = (metres(0.01, 10_000.0), metres(0.0, 1000.0));
    let distance = prop_oneof![
        within(0.1, 10_000.0).prop_map(Paced::Steps),
        taped.prop_map(|(length, sd)| Paced::Taped { length, sd }),
    ];
    let side = (distance, degrees(-180.0, 180.0), degrees(0.0, 90.0));
    let side = side.prop_map(|(distance, turn, turn_sd)| PacedSide { distance, turn, turn_sd });
    let step = (metres(0.2, 2.0), metres(0.0, 1.0)).prop_map(|(length, sd)| StepLength { length, sd });
    (point(), step, degrees(-360.0, 360.0), degrees(0.0, 90.0), vec(side, 1..6), any::<bool>())
        .prop_map(|(start, step, first, first_sd, sides, is_closed)| {
            let is_closed = is_closed && sides.len() >= 3;
            PacedPlace { start, outline: PacedOutline { step, first, first_sd, sides, is_closed } }
        })
        .boxed()
}

fn numbered(photos: Vec<PlacePhoto>) -> Arc<[PlacePhoto]> {
    let photos = photos.into_iter().zip(1..);
    photos.map(|(photo, id)| PlacePhoto { id: PhotoId::new(id).expect("small"), ..photo }).collect()
}

pub(super) fn places() -> BoxedStrategy<Arc<[Place]>> {
    let place = |index: usize| {
        let ticks = any::<[bool; 3]>();
        let told = (text(), text(), option::of(spot()), ticks, vec(photo(), 0..3), option::of(paced()));
        told.prop_map(move |(name, notes, spot, [permission, room_tone, wild_track], photos, paced)| Place {
            id: place_id(index),
            name,
            notes,
            spot,
            permission,
            room_tone,
            wild_track,
            photos: numbered(photos),
            paced: paced.map(Arc::new),
            unknown: Unknown::default(),
        })
    };
    (0..PLACES).map(place).collect::<Vec<_>>().prop_map(Arc::from).boxed()
}
