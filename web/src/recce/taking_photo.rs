//! A photo file becomes a photo of a place: its pixels kept on the device, its lens and its direction read from the file.

use film::{PhotoFacts, PhotoId, PhotoPose, PlacePhoto, fov_of_equivalent, lens_from_photo};
use glam::DVec2;
use language::say;
use units::{Angle, Length};

use super::pixels;
use crate::kit::read_facts;
use crate::taking_in::{NotTaken, TakenIn, take_in};

/// Where somebody would stand who takes a photo of a place, as far as the film knows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Spot {
    /// Where, on the place's floor.
    pub(crate) at: DVec2,
    /// The direction of the look, clockwise from the earth's north.
    pub(crate) azimuth: Angle,
    /// How high.
    pub(crate) height: Length,
}

impl Spot {
    /// In the middle of the floor, looking north from the eyes of somebody who stands: chosen.
    pub(crate) const USUAL: Self =
        Self { at: DVec2::ZERO, azimuth: Angle::ZERO, height: Length::from_m(1.5) };
}

/// What came of a file.
pub(super) struct Brought {
    /// The photo.
    pub(super) photo: PlacePhoto,
    /// Its pixels.
    pub(super) picture: TakenIn,
    /// What is to be said of it.
    pub(super) notes: Vec<&'static str>,
}

/// The angle of view of a photo that says nothing of its lens: that of the whole photo of a 26 mm-equivalent, chosen because most
/// phones' main lenses are about that.
const USUAL_EQUIVALENT_MM: f64 = 26.0;
/// How far what stands behind is until somebody says: chosen, as a street or a yard is about as deep.
const USUAL_FAR: Length = Length::from_m(12.0);

/// Reads a file, and keeps its pixels.
pub(super) async fn bring(file: &web_sys::File, id: PhotoId, spot: Spot) -> Result<Brought, NotTaken> {
    let picture = take_in(file, pixels::LONGEST_PX).await?;
    // A picture that is no photo of a camera says nothing, and is a photo of the place all the same.
    let facts = read_facts(file).await.ok();
    let mut notes = Vec::new();
    if !pixels::keep(id.number(), &picture).await {
        notes.push(
            say!("This browser has no room for the photo, or keeps nothing: it is gone when the page is. Make room, \
                  and choose it again."),
        );
    }
    let view = facts.as_ref().and_then(|facts| view_of(facts, picture.true_px));
    if view.is_none() {
        notes.push(say!(
            "The file does not say which lens took it: say below how much it sees from side to side."
        ));
    }
    if facts.is_some_and(|facts| facts.azimuth_is_magnetic) {
        notes.push(say!("Its direction is a compass's, which can be some degrees off the earth's north."));
    }
    let usual = || fov_of_equivalent(USUAL_EQUIVALENT_MM, picture.true_px);
    let azimuth = facts.and_then(|facts| facts.azimuth_deg).map_or(spot.azimuth, Angle::from_deg);
    let photo = PlacePhoto {
        id,
        name: name_of(&file.name()),
        at: spot.at,
        pose: PhotoPose { height: spot.height, ..PhotoPose::USUAL },
        azimuth,
        horizontal_fov: view.unwrap_or_else(usual),
        size_px: picture.true_px,
        far: USUAL_FAR,
        taken: facts.and_then(|facts| facts.taken),
        unknown: film::Unknown::default(),
    };
    Ok(Brought { photo, picture, notes })
}

/// How much a photo sees from side to side, if its file says so.
fn view_of(facts: &PhotoFacts, true_px: (u32, u32)) -> Option<Angle> {
    let lens = lens_from_photo(facts).ok()?;
    // A digital zoom has cut the photo itself.
    Some(fov_of_equivalent(lens.equivalent_35mm_mm * lens.digital_zoom, true_px))
}

/// A file's name without its ending, as long as a name may be.
fn name_of(file: &str) -> String {
    let stem = file.rsplit_once('.').map_or(file, |(stem, _)| stem);
    stem.chars().take(60).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use film::FileKind;

    #[test]
    fn a_zoomed_photo_sees_less() {
        let facts = |digital_zoom| PhotoFacts {
            focal_length_mm: Some(5.0),
            equivalent_35mm_mm: Some(26.0),
            digital_zoom,
            width_px: Some(4000),
            height_px: Some(3000),
            ..PhotoFacts::unknown(FileKind::Jpeg)
        };
        // The tag has the zoom in it already.
        let (plain, zoomed) =
            (facts(None), PhotoFacts { equivalent_35mm_mm: Some(52.0), ..facts(Some(2.0)) });
        let half = |facts: &PhotoFacts| (view_of(facts, (4000, 3000)).expect("a view") / 2.0).tan();
        assert!((half(&plain) / half(&zoomed) - 2.0).abs() < 1e-9);
    }

    #[test]
    fn a_photo_is_called_like_its_file() {
        assert_eq!(name_of("bridge, north side.jpeg"), "bridge, north side");
        assert_eq!(name_of("photo"), "photo");
    }
}
