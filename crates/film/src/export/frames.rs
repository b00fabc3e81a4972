//! Where the delivered frame lies in what is recorded, for each mode and adapter of a film.

use optics::{Adapter, CropShift, FrameAxis, Origin, RecordedArea, SensorSize, deliver};
use units::Length;

use crate::film::Film;
use crate::kit::{KitAdapter, KitRecording};

/// A recorded frame with the delivered one in it. Pixels are as captured: squeezed where an adapter is on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct RecordedFrame<'film> {
    /// The mode's number in the kit, from 1.
    pub(super) mode: usize,
    pub(super) recording: &'film KitRecording,
    /// The adapter that is on, with its number in the kit, from 1.
    pub(super) adapter: Option<(usize, &'film KitAdapter)>,
    /// How many times wider a pixel is shown than it is high.
    pub(super) squeeze: f64,
    /// From the recorded frame's left edge to the delivered one's.
    pub(super) left_px: f64,
    /// From its upper edge.
    pub(super) top_px: f64,
    pub(super) width_px: f64,
    pub(super) height_px: f64,
}

/// A frame for each recording mode of the kit, without an adapter and with each that a shot is made with.
///
/// The one without is left out where every shot is made with one.
pub(super) fn recorded_frames(film: &Film) -> Vec<RecordedFrame<'_>> {
    let shots = || film.scenes.iter().flat_map(|scene| &scene.shots);
    let is_used = |adapter: &KitAdapter| shots().any(|shot| shot.adapter.as_ref() == Some(&adapter.name));
    let numbered = film.kit.adapters.iter().enumerate().map(|(at, adapter)| (at + 1, adapter));
    let used: Vec<_> = numbered.filter(|(_, adapter)| is_used(adapter)).collect();
    let bare = used.is_empty() || shots().any(|shot| shot.adapter.is_none());
    let adapters: Vec<_> = bare.then_some(None).into_iter().chain(used.into_iter().map(Some)).collect();
    let modes = film.kit.recordings.iter().enumerate();
    modes
        .flat_map(|(at, recording)| {
            adapters.iter().map(move |adapter| RecordedFrame::of(film, at + 1, recording, *adapter))
        })
        .collect()
}

impl<'film> RecordedFrame<'film> {
    fn of(
        film: &Film,
        mode: usize,
        recording: &'film KitRecording,
        adapter: Option<(usize, &'film KitAdapter)>,
    ) -> Self {
        let on: Option<Adapter> = adapter.map(|(_, adapter)| adapter.before(&recording.recording));
        let (wide, high) =
            (f64::from(recording.recording.width_px()), f64::from(recording.recording.height_px()));
        // Only shares of the area matter here, so it is one on which a pixel is a metre.
        let area = RecordedArea {
            size: SensorSize { width: Length::from_m(wide), height: Length::from_m(high) },
            width_px: wide,
            height_px: high,
            relative_sd: 0.0,
            origin: Origin::Typed,
        };
        let frame = deliver(area, on.as_ref(), film.facts.aspect, CropShift::default());
        let along = |axis| on.as_ref().map_or(1.0, |adapter| adapter.squeeze_along(axis));
        let (width_px, height_px) = (rounded(frame.area.width.to_m()), rounded(frame.area.height.to_m()));
        let (right, up) = (frame.centre_offset.0.to_m(), frame.centre_offset.1.to_m());
        Self {
            mode,
            recording,
            adapter,
            squeeze: along(FrameAxis::Width) / along(FrameAxis::Height),
            left_px: rounded((wide - width_px) / 2.0 + right),
            top_px: rounded((high - height_px) / 2.0 - up),
            width_px,
            height_px,
        }
    }

    /// What it is called: the mode, and the adapter if one is on.
    pub(super) fn name(&self) -> String {
        let mode = &self.recording.name;
        self.adapter.map_or_else(|| mode.clone(), |(_, adapter)| format!("{mode}, {}", adapter.name))
    }
}

/// To 2⁻¹⁰ of a pixel: chosen, as the digits after it are of the arithmetic alone, and as halves and sums of it are exact.
fn rounded(pixels: f64) -> f64 {
    libm::round(pixels * 1024.0) / 1024.0
}

/// The demo film with its first shot on a clip-on adapter of squeeze 1.33, which its kit then has.
#[cfg(test)]
pub(super) fn with_adapter() -> Film {
    use std::sync::Arc;

    let mut film = crate::preset::demo_film();
    let record = &crate::preset::adapters()[0];
    let adapter = record.to_kit_adapter("clip-on".to_owned()).expect("an adapter");
    let squeeze = optics::Squeeze::new(1.33).expect("in range");
    let adapter = KitAdapter { adapter: Adapter::new(squeeze), ..adapter };
    let kit = crate::kit::Kit { adapters: vec![adapter], ..film.kit.as_ref().clone() };
    film.kit = Arc::new(kit);
    let scene = Arc::make_mut(&mut film.scenes[0]);
    Arc::make_mut(&mut scene.shots[0]).adapter = Some("clip-on".to_owned());
    film
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::preset::demo_film;
    use std::sync::Arc;

    fn near(one: f64, other: f64) {
        assert!((one - other).abs() < 2e-3, "{one} and {other}");
    }

    #[test]
    fn a_bare_4k_frame_gives_up_rows_above_and_below_alike() {
        let film = demo_film();
        let frames = recorded_frames(&film);
        let frame = frames.iter().find(|frame| frame.recording.name == "4K").expect("4K");
        near(frame.width_px, 3840.0);
        near(frame.height_px, 3840.0 / 2.39);
        near(frame.left_px, 0.0);
        near(frame.top_px, (2160.0 - 3840.0 / 2.39) / 2.0);
        near(frame.squeeze, 1.0);
    }

    #[test]
    fn a_squeezed_frame_is_told_as_it_is_captured() {
        let film = with_adapter();
        let frames = recorded_frames(&film);
        let of_4k: Vec<_> = frames.iter().filter(|frame| frame.recording.name == "4K").collect();
        assert_eq!(of_4k.len(), 2, "one without and one with the adapter");
        near(of_4k[1].squeeze, 1.33);
        // 3840 · 1.33 / 2.39 rows are left of 2160.
        near(of_4k[1].height_px, 3840.0 * 1.33 / 2.39);
        near(of_4k[1].width_px, 3840.0);
    }

    #[test]
    fn no_frame_is_without_an_adapter_where_every_shot_has_one() {
        let mut film = with_adapter();
        film.scenes.truncate(1);
        Arc::make_mut(&mut film.scenes[0]).shots.truncate(1);
        assert!(recorded_frames(&film).iter().all(|frame| frame.adapter.is_some()));
    }
}
