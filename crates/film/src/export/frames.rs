//! Where the delivered frame lies in what is recorded, for each mode and adapter of a film, and for shots that move it.

use optics::{Adapter, CropShift, DeliveredFrame, FrameAxis, Origin, RecordedArea, SensorSize, deliver};
use units::Length;

use super::numbered;
use crate::film::Film;
use crate::kit::{KitAdapter, KitRecording};
use crate::rehearsal::{Rehearsal, Rehearsals};
use crate::setup_card::off_centre_px;
use crate::shot::Shot;

/// What is recorded in: a mode, and the adapter that is on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Canvas<'film> {
    /// The mode's number in the kit, from 1.
    pub(super) mode: usize,
    pub(super) recording: &'film KitRecording,
    /// The adapter that is on, with its number in the kit, from 1.
    pub(super) adapter: Option<(usize, &'film KitAdapter)>,
    /// How many times wider a pixel is shown than it is high.
    pub(super) squeeze: f64,
}

/// Where the delivered frame lies on its canvas. Pixels are as captured: squeezed where an adapter is on.
#[expect(clippy::struct_field_names, reason = "a bare number says its unit")]
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Delivered {
    /// From the recorded frame's left edge to the delivered one's.
    pub(super) left_px: f64,
    /// From its upper edge.
    pub(super) top_px: f64,
    pub(super) width_px: f64,
    pub(super) height_px: f64,
}

/// A recorded frame with the delivered one in it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct RecordedFrame<'film> {
    pub(super) canvas: Canvas<'film>,
    pub(super) delivered: Delivered,
    /// The shots that have it there, by their numbers, if that is off the middle. The one in the middle is of all others.
    pub(super) shots: Vec<String>,
}

/// The delivered frame in the middle of each recording mode of the kit, without an adapter and with each that a shot is made
/// with; and in the film's own mode wherever else shots have it.
///
/// The ones without an adapter are left out where every shot is made with one.
pub(super) fn recorded_frames(film: &Film) -> Vec<RecordedFrame<'_>> {
    let off_centre = off_centre(film);
    let mut frames = Vec::new();
    for canvas in canvases(film) {
        frames.push(RecordedFrame { canvas, delivered: canvas.centred(film), shots: Vec::new() });
        frames.extend(off_centre.iter().filter(|frame| frame.canvas == canvas).cloned());
    }
    frames
}

fn canvases(film: &Film) -> Vec<Canvas<'_>> {
    let shots = || film.scenes.iter().flat_map(|scene| &scene.shots);
    let is_used = |adapter: &KitAdapter| shots().any(|shot| shot.adapter.as_ref() == Some(&adapter.name));
    let numbered = film.kit.adapters.iter().enumerate().map(|(at, adapter)| (at + 1, adapter));
    let used: Vec<_> = numbered.filter(|(_, adapter)| is_used(adapter)).collect();
    let bare = used.is_empty() || shots().any(|shot| shot.adapter.is_none());
    let adapters: Vec<_> = bare.then_some(None).into_iter().chain(used.into_iter().map(Some)).collect();
    let modes = film.kit.recordings.iter().enumerate();
    modes
        .flat_map(|(at, recording)| {
            adapters.iter().map(move |adapter| Canvas::of(at + 1, recording, *adapter))
        })
        .collect()
}

/// Where shots move the delivered frame, or a level look does, those that have it in one place together.
fn off_centre(film: &Film) -> Vec<RecordedFrame<'_>> {
    let mut rehearsals = Rehearsals::default();
    let mut frames: Vec<RecordedFrame<'_>> = Vec::new();
    for (scene, shot) in
        film.scenes.iter().flat_map(|scene| scene.shots.iter().map(move |shot| (scene, shot)))
    {
        let rehearsal = rehearsals.of(film, scene, shot);
        let Some(canvas) = Canvas::of_shot(film, shot) else { continue };
        let delivered = rehearsal.as_ref().as_ref().ok().and_then(Delivered::of_shot);
        let Some(delivered) = delivered.filter(|delivered| *delivered != canvas.centred(film)) else {
            continue;
        };
        let number = numbered(film, shot.id);
        match frames.iter_mut().find(|frame| frame.canvas == canvas && frame.delivered == delivered) {
            Some(frame) => frame.shots.push(number),
            None => frames.push(RecordedFrame { canvas, delivered, shots: vec![number] }),
        }
    }
    frames
}

impl<'film> Canvas<'film> {
    fn of(mode: usize, recording: &'film KitRecording, adapter: Option<(usize, &'film KitAdapter)>) -> Self {
        let on = adapter.map(|(_, adapter)| adapter.before(&recording.recording));
        let along = |axis| on.as_ref().map_or(1.0, |adapter| adapter.squeeze_along(axis));
        Self { mode, recording, adapter, squeeze: along(FrameAxis::Width) / along(FrameAxis::Height) }
    }

    /// What a shot is recorded in; none where the kit has no mode, or not the shot's adapter.
    pub(super) fn of_shot(film: &'film Film, shot: &Shot) -> Option<Self> {
        let recording = film.recording()?;
        let mode = film.kit.recordings.iter().position(|mode| mode.name == recording.name)? + 1;
        let adapter = match &shot.adapter {
            None => None,
            Some(name) => Some((1..).zip(&film.kit.adapters).find(|(_, adapter)| adapter.name == *name)?),
        };
        Some(Self::of(mode, recording, adapter))
    }

    fn centred(&self, film: &Film) -> Delivered {
        let recording = &self.recording.recording;
        let on: Option<Adapter> = self.adapter.map(|(_, adapter)| adapter.before(recording));
        let (wide, high) = (f64::from(recording.width_px()), f64::from(recording.height_px()));
        // Only shares of the area matter here, so it is one on which a pixel is a metre.
        let area = RecordedArea {
            size: SensorSize { width: Length::from_m(wide), height: Length::from_m(high) },
            width_px: wide,
            height_px: high,
            relative_sd: 0.0,
            origin: Origin::Typed,
        };
        Delivered::of(&deliver(area, on.as_ref(), film.facts.aspect, CropShift::default()))
    }

    /// What it is called: the mode, and the adapter if one is on.
    pub(super) fn name(&self) -> String {
        let mode = &self.recording.name;
        self.adapter.map_or_else(|| mode.clone(), |(_, adapter)| format!("{mode}, {}", adapter.name))
    }
}

impl Delivered {
    /// Where the frame lies that a shot delivers; none where its framing cannot be had.
    pub(super) fn of_shot(made: &Rehearsal) -> Option<Self> {
        Some(Self::of(&made.result().outcome.as_ref().ok()?.frame))
    }

    fn of(frame: &DeliveredFrame) -> Self {
        let RecordedArea { size, width_px: wide, height_px: high, .. } = frame.recorded;
        let width_px = rounded(wide * (frame.area.width / size.width));
        let height_px = rounded(high * (frame.area.height / size.height));
        let (right_px, up_px) = off_centre_px(frame);
        Self {
            // At an edge what was rounded might be beyond it.
            left_px: rounded((wide - width_px) / 2.0 + right_px).clamp(0.0, wide - width_px),
            top_px: rounded((high - height_px) / 2.0 - up_px).clamp(0.0, high - height_px),
            width_px,
            height_px,
        }
    }
}

impl RecordedFrame<'_> {
    /// What tells it from the one in the middle, behind a name: `, for 1.3, 1.5`.
    pub(super) fn whose(&self) -> String {
        if self.shots.is_empty() { String::new() } else { format!(", for {}", self.shots.join(", ")) }
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
        let frame = frames.iter().find(|frame| frame.canvas.recording.name == "4K").expect("4K");
        near(frame.delivered.width_px, 3840.0);
        near(frame.delivered.height_px, 3840.0 / 2.39);
        near(frame.delivered.left_px, 0.0);
        near(frame.delivered.top_px, (2160.0 - 3840.0 / 2.39) / 2.0);
        near(frame.canvas.squeeze, 1.0);
    }

    #[test]
    fn a_squeezed_frame_is_told_as_it_is_captured() {
        let film = with_adapter();
        let frames = recorded_frames(&film);
        let of_4k: Vec<_> = frames.iter().filter(|frame| frame.canvas.recording.name == "4K").collect();
        assert_eq!(of_4k.len(), 2, "one without and one with the adapter");
        near(of_4k[1].canvas.squeeze, 1.33);
        // 3840 · 1.33 / 2.39 rows are left of 2160.
        near(of_4k[1].delivered.height_px, 3840.0 * 1.33 / 2.39);
        near(of_4k[1].delivered.width_px, 3840.0);
    }

    /// The demo film with two shots whose frame is moved up to the edge, and one whose level look moves it.
    fn moved() -> Film {
        let mut film = demo_film();
        let scene = Arc::make_mut(&mut film.scenes[0]);
        for at in [1, 4] {
            Arc::make_mut(&mut scene.shots[at]).crop_shift = Some(CropShift { up: 1.0, right: 0.0 });
        }
        Arc::make_mut(&mut scene.shots[2]).look = staging::Look::Tilt(units::Angle::from_deg(0.0));
        film
    }

    #[test]
    fn a_frame_that_shots_move_is_told_with_them_in_the_mode_that_they_are_shot_in() {
        let film = moved();
        let frames = recorded_frames(&film);
        let off: Vec<_> = frames.iter().filter(|frame| !frame.shots.is_empty()).collect();
        let [up, level] = off.as_slice() else { panic!("two places: {off:?}") };
        assert_eq!((up.whose().as_str(), level.whose().as_str()), (", for 1.2, 1.5", ", for 1.3"));
        near(up.delivered.top_px, 0.0);
        let centred = up.canvas.centred(&film);
        assert!((level.delivered.top_px - centred.top_px).abs() > 1.0, "{level:?}");
        for frame in [up, level] {
            assert_eq!(Some(frame.canvas.recording), film.recording());
            let Delivered { left_px, width_px, height_px, .. } = frame.delivered;
            assert_eq!(
                (left_px, width_px, height_px),
                (centred.left_px, centred.width_px, centred.height_px)
            );
        }
    }

    #[test]
    fn no_frame_is_without_an_adapter_where_every_shot_has_one() {
        let mut film = with_adapter();
        film.scenes.truncate(1);
        Arc::make_mut(&mut film.scenes[0]).shots.truncate(1);
        assert!(recorded_frames(&film).iter().all(|frame| frame.canvas.adapter.is_some()));
    }
}
