//! The light of one setup: what the camera is set to, which filters are on, and what is found on it.

use optics::{ExposureValue, Stacking, is_locked, is_steady, locked_rate, stops_over};
use units::{Angle, Stops};

use super::camera_setting::{Aperture, AppGuess, IsoSetting, ShutterSetting};
use super::dark::{DarkOptions, MadeWith};
use super::filters_on::{Chosen, FilterChoice, StrongerFilters, choose, stronger};
use super::finding::{LightFinding, cross};
use super::how_to_set::HowToSet;
use super::lamp_share::lamps_may_flicker;
use super::lamp_shutters::{SafeShutter, safe_shutters};
use super::mains_of_scene::MainsOfScene;
use super::moving::Moving;
use super::white_balance::{WhiteBalanceChoice, white_balance};
use super::within_app::WithinApp;
use super::{BackLit, BrightWindow, LightOnScene, RIGHT_STOPS};
use crate::exposure::{Exposing, Exposure};
use crate::film::Film;
use crate::findings::{ExposureFinding, Stronger, check_exposure};
use crate::id::ShotId;
use crate::kit::{CameraApp, KitAdapter, KitLens};
use crate::rehearsal::Rehearsal;
use crate::scene::{Scene, SceneLight};
use crate::shot::Shot;

/// The light of one setup.
#[derive(Debug, Clone, PartialEq)]
pub struct ShotLight {
    /// The shot.
    pub shot: ShotId,
    /// How much light there is.
    pub light: LightOnScene,
    /// The lens, by its name in the kit.
    pub lens: String,
    /// The adapter that is on, by its name in the kit.
    pub adapter: Option<String>,
    /// The f-number.
    pub aperture: Aperture,
    /// How long each frame is exposed.
    pub shutter: ShutterSetting,
    /// The sensitivity.
    pub iso: IsoSetting,
    /// The exposure at the least ISO, with the filters on and the lens closed as far as it is to be.
    pub exposure: Exposure,
    /// What is too much as the lens is open, without filters.
    pub over: Stops,
    /// The filters that are on.
    pub filters: FilterChoice,
    /// What is too much in the end, with the ISO that is set; too little if negative.
    pub residual: Stops,
    /// What slow motion costs, as each frame has less time.
    pub slow_motion: Stops,
    /// The recorded area on the sensor, square millimetres: what noise goes by.
    pub recorded_mm2: f64,
    /// What the camera app lets people set.
    pub app: CameraApp,
    /// What the app is likely to do, where it decides by itself.
    pub guess: Option<AppGuess>,
    /// The shutters under which lamps do not flicker; none without lamps, or where they give next to nothing of the light.
    pub safe_shutters: Vec<SafeShutter>,
    /// Whether how often the mains of its lamps swing is assumed, as neither the film nor the place says it.
    pub mains_are_assumed: bool,
    /// The white balance that all shots of the scene share.
    pub white_balance: WhiteBalanceChoice,
    /// What moves; none without a setup.
    pub moving: Option<Moving>,
    /// What to do to the phone, in order.
    pub how_to_set: HowToSet,
    /// What is found.
    pub findings: Vec<LightFinding>,
}

/// A kit's lens with what is before it.
#[derive(Clone, Copy)]
struct Before<'film> {
    film: &'film Film,
    lens: &'film KitLens,
    adapter: Option<&'film KitAdapter>,
    /// How wide what stands foremost looks.
    view: Angle,
}

impl ShotLight {
    /// The light of a setup of `film`, which is `rehearsal`. What was read in the scene counts, whatever `light` is.
    ///
    /// ```text
    /// over = EV_light − EV(N, t, S_floor) − loss − bias
    /// ```
    /// The lens is open, the ISO at the floor of lens and mode, the shutter the nearest to the film's angle that the app offers.
    /// Filters take what is too much; only what they leave closes a lens that closes, as a closed lens is sharp far behind. What
    /// lacks raises the ISO.
    ///
    /// None if the rehearsal's lens is not one of the film's kit.
    ///
    /// # Source
    /// [`optics::stops_over`]; the order of the means is common practice.
    pub fn of(
        film: &Film,
        scene: &Scene,
        shot: &Shot,
        rehearsal: &Rehearsal,
        light: LightOnScene,
    ) -> Option<Self> {
        let light = match scene.facts.light {
            SceneLight::Read(value) => LightOnScene::read(value),
            SceneLight::ByHour => light.with_wish(shot, &scene.facts),
        };
        let mains = MainsOfScene::of(film, scene);
        let before = Before::of(film, rehearsal)?;
        let (lens, adapter) = (before.lens, before.adapter);
        let rate = shot.frame_rate(film);
        let shutter = ShutterSetting::nearest(rehearsal.exposure, rate, &film.kit);
        let open = Aperture::open(lens)?;
        let floor = IsoSetting::floor(lens, film.recording())?;
        let loss = adapter.map_or(Stops::ZERO, |adapter| adapter.adapter.light_loss);
        let ev100 = ExposureValue::of_camera(open.set, shutter.time).at_iso_100(floor.floor);
        let over = stops_over(light.value, ev100, loss, film.facts.bias);
        let chosen = choose(over, &film.kit, &lens.name, adapter.map(|adapter| adapter.name.as_str()));
        let aperture = open.closed_for(chosen.places.residual, lens.closes_to);
        let exposing = Exposing {
            f_number: aperture.set,
            time: shutter.time,
            rate: Some(rate),
            iso: floor.floor,
            scene: light.value,
            light_loss: loss,
            bias: film.facts.bias,
            filters: Vec::new(),
            stacking: Stacking::Any,
            mains: lamps_may_flicker(&scene.facts, &light).then_some(mains.mains),
        };
        let (filters, exposure) = exposed(&exposing, chosen);
        let left = exposure.chosen.residual;
        let iso = floor.raised_for(left);
        let app = film.kit.camera_app;
        let decides = app != CameraApp::FullManual;
        let mut this = Self {
            shot: shot.id,
            lens: lens.name.clone(),
            adapter: adapter.map(|adapter| adapter.name.clone()),
            aperture,
            iso,
            over,
            filters,
            residual: left + iso.raised(),
            slow_motion: Stops::from_light_ratio(rate.to_fps() / film.facts.frame_rate.to_fps()),
            recorded_mm2: before.recorded_mm2(rehearsal),
            app,
            guess: decides.then(|| AppGuess::of(&shutter, floor, left)),
            safe_shutters: Vec::new(),
            mains_are_assumed: mains.is_assumed,
            white_balance: white_balance(scene, &light),
            moving: Moving::of(film, scene, rehearsal, rate, shutter.time),
            how_to_set: HowToSet::default(),
            findings: Vec::new(),
            light,
            shutter,
            exposure,
        };
        if this.exposure.exposing.mains.is_some() {
            let within = this.within(&before);
            this.safe_shutters = safe_shutters(this.shutter.asked, rate, |time| within.offers(time));
        }
        this.findings = this.found(&before);
        let above_meter = this.above_meter();
        this.findings.extend(BackLit::of(&this.light, above_meter).map(LightFinding::BackLight));
        let window = BrightWindow::of(scene, rehearsal, &this.light, above_meter);
        this.findings.extend(window.map(LightFinding::Window));
        this.how_to_set = HowToSet::of(&this, shot);
        Some(this)
    }

    /// How much brighter than the meter's grey it comes out: an app that decides by itself is told how much is wanted.
    fn above_meter(&self) -> Stops {
        let bias = self.exposure.exposing.bias;
        if self.guess.is_some() { bias } else { self.residual + bias }
    }

    fn found(&self, before: &Before<'_>) -> Vec<LightFinding> {
        let mut findings: Vec<LightFinding> = check_exposure(&self.exposure)
            .into_iter()
            .filter_map(|finding| self.taken(finding, before))
            .collect();
        let left = self.exposure.chosen.residual;
        if left.to_f64() > RIGHT_STOPS && !self.filters.do_not_fit.is_empty() {
            findings.push(LightFinding::FiltersDoNotFit {
                names: self.filters.do_not_fit.clone(),
                foremost: self.adapter.as_ref().unwrap_or(&self.lens).clone(),
            });
        }
        let turned = self.filters.on.iter().filter(|filter| filter.is_variable);
        findings.extend(turned.filter_map(|filter| cross(&filter.name, filter.takes, before.view)));
        match self.guess {
            Some(guess) => {
                findings.extend(self.lamps_by_app(guess, before));
                findings.push(LightFinding::ShutterByApp { asked: self.shutter.asked, guess });
            }
            None if self.shutter.off_by().to_f64().abs() > RIGHT_STOPS => {
                findings.push(LightFinding::ShutterNotOffered {
                    asked: self.shutter.asked,
                    nearest: self.shutter.time,
                    angle: self.shutter.angle,
                });
            }
            None => {}
        }
        findings
    }

    /// A finding on the exposure as it is told here. Where the app chooses the shutter, it neither burns nor is set.
    fn taken(&self, finding: ExposureFinding, before: &Before<'_>) -> Option<LightFinding> {
        match finding {
            ExposureFinding::TooDark { lacking, weaker, .. } => {
                let with = MadeWith {
                    film: before.film,
                    lens: before.lens,
                    adapter: before.adapter,
                    shutter: &self.shutter,
                    floor: self.iso.floor,
                    moving: self.moving.as_ref(),
                };
                Some(LightFinding::TooDark {
                    lacking,
                    iso: self.iso.set,
                    left: -self.residual,
                    options: DarkOptions::of(&with, lacking, weaker),
                })
            }
            ExposureFinding::TooBright { .. } | ExposureFinding::Flicker { .. } if self.guess.is_some() => {
                None
            }
            ExposureFinding::TooBright { .. } => Some(LightFinding::TooBright {
                found: self.within(before).kept(finding),
                stronger: self.stronger(before),
            }),
            ExposureFinding::Flicker { .. } | ExposureFinding::FrameRateLocked { .. } => {
                Some(LightFinding::Lamps {
                    found: self.within(before).kept(finding),
                    is_assumed: self.mains_are_assumed,
                })
            }
        }
    }

    /// Filters of the kit that would do with more ISO, if that brings no noise.
    fn stronger(&self, before: &Before<'_>) -> Option<StrongerFilters> {
        let filters = stronger(self.exposure.over, &before.film.kit, &self.lens, self.adapter.as_deref())?;
        let iso = Stronger::of(filters.takes, &self.exposure)?.iso;
        Some(StrongerFilters { filters, iso })
    }

    fn within<'this>(&'this self, before: &Before<'this>) -> WithinApp<'this> {
        WithinApp {
            kit: &before.film.kit,
            mode: before.film.recording(),
            shutter: &self.shutter,
            floor_is_known: !self.iso.is_typical,
        }
    }

    fn lamps_by_app(&self, guess: AppGuess, before: &Before<'_>) -> Option<LightFinding> {
        let rate = self.shutter.rate;
        let seen = |mains: &_| !is_steady(guess.time, *mains) && !is_locked(rate, *mains);
        let mains = self.exposure.exposing.mains.filter(seen)?;
        let locked = locked_rate(rate, mains).filter(|rate| self.within(before).shoots(*rate));
        Some(LightFinding::LampsByApp { time: guess.time, mains, locked, is_assumed: self.mains_are_assumed })
    }
}

/// The exposure with the filters that were chosen, and their names.
fn exposed(exposing: &Exposing, chosen: Chosen) -> (FilterChoice, Exposure) {
    let Chosen { choice, at_hand, stacking, places } = chosen;
    (choice, Exposure::with(Exposing { filters: at_hand, stacking, ..exposing.clone() }, places))
}

impl<'film> Before<'film> {
    fn of(film: &'film Film, rehearsal: &Rehearsal) -> Option<Self> {
        let lens = rehearsal.lens(film)?;
        let adapter = rehearsal.on.adapter.and_then(|at| film.kit.adapters.get(at));
        let shot = &rehearsal.result().shot;
        let frame = shot.frame();
        // A filter is before the adapter, through which more is seen than through the lens.
        let half = frame.recorded.size.width / 2.0 / shot.lens.image_distance(None) * frame.squeeze.0;
        Some(Self { film, lens, adapter, view: Angle::from_tan(half) * 2.0 })
    }

    fn recorded_mm2(&self, rehearsal: &Rehearsal) -> f64 {
        let size = rehearsal.result().shot.recording.area(&self.lens.lens).size;
        size.width.to_mm() * size.height.to_mm()
    }
}
