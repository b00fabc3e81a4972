//! Without a film: how Set-up's shot is exposed in a light that is chosen here.

use film::{Exposing, Exposure, IsoSetting, Kit, KitLens, KitRecording, USUAL_BIAS, check_exposure};
use language::{Number, say};
use leptos::prelude::*;
use optics::{ExposureValue, Iso, MainsFrequency, ShutterAngle, Stacking, exposure_time};
use units::{FrameRate, Stops};

use super::explanations::OVER;
use super::words;
use crate::session::{Session, lens_name};
use crate::story::{LIGHT_EV, LightNames, brightness};
use crate::widgets::{Choice, Choices, NumberField, finding_card, label_and_text, live, plain, when};

/// What is shown first: bright sun, for which nearly every phone needs ND.
const FIRST_EV: f64 = 15.0;

/// What Set-up's shot is exposed with.
#[derive(Debug, Clone, PartialEq)]
struct Camera {
    lens: String,
    f_number: optics::FNumber,
    iso: Iso,
    is_iso_typical: bool,
    light_loss: Stops,
    /// The filters that fit, by name, each with what it takes.
    filters: Vec<(String, Stops)>,
    stacking: Stacking,
}

/// The card.
#[component]
pub(super) fn WithoutFilm(session: Session) -> impl IntoView {
    let ev = RwSignal::new(FIRST_EV);
    let mains = RwSignal::new(None::<MainsFrequency>);
    let camera = Memo::new(move |_| camera(session));
    let exposure = Memo::new(move |_| Some(exposed(&camera.get()?, ev.get(), mains.get())));
    let sentence = live(move || match (camera.get(), exposure.get()) {
        (Some(camera), Some(Ok(exposure))) => sentence(&camera, &exposure),
        (_, Some(Err(why))) => why,
        (_, None) => {
            say!("The lens of Set-up says no f-number: give it one in the kit, and its light can be told.")
                .to_owned()
        }
        (None, Some(Ok(_))) => String::new(),
    });
    let found = move || {
        let findings = match exposure.get() {
            Some(Ok(exposure)) => check_exposure(&exposure),
            Some(Err(_)) | None => Vec::new(),
        };
        findings.iter().map(|finding| finding_card(&finding.to_finding(), None)).collect_view()
    };
    let typical = move || camera.with(|camera| camera.as_ref().is_some_and(|camera| camera.is_iso_typical));
    let typical_iso = live(move || {
        let iso = camera.with(|camera| camera.as_ref().map_or(0.0, |camera| camera.iso.to_f64()));
        say!(
            "The kit does not say the least ISO of lens or mode: {} is taken, as is typical.",
            Number(plain(iso))
        )
    });
    let by = say!(
        "{} frames a second and a shutter of {}°, {} than the meter, to keep highlights. With a film, its own hold, and its \
         shots are lit by their place, day and hour.",
        plain(FrameRate::FILM.to_fps()),
        plain(ShutterAngle::HALF.to_deg()),
        brightness(USUAL_BIAS.to_f64())
    );
    let (label, explanation) = label_and_text(say!("Light for the set-up").into(), &OVER);
    view! {
        <section class="light-card" aria-label=say!("Light for the set-up")>
            <h2>{label}</h2>
            {explanation}
            <p class="sentence" aria-live="polite">{sentence}</p>
            <ul class="findings">{found}</ul>
            {when(typical, move || view! { <p class="quiet">{typical_iso}</p> }.into_any())}
            <LightTable ev />
            <Choices
                legend=say!("Lamps on the mains")
                choices=[
                    Choice::new(None, say!("none")),
                    Choice::new(Some(MainsFrequency::FIFTY), "50 Hz"),
                    Choice::new(Some(MainsFrequency::SIXTY), "60 Hz"),
                ]
                chosen=mains.into()
                choose=move |chosen| mains.set(chosen)
            />
            <p class="quiet">{by}</p>
        </section>
    }
}

/// How much light: by name, or as a meter reads it.
#[component]
fn LightTable(ev: RwSignal<f64>) -> impl IntoView {
    let read = Signal::derive(move || Some(ev.get()));
    let set = Callback::new(move |read: Option<f64>| ev.set(read.unwrap_or(FIRST_EV)));
    view! {
        <LightNames ev=read set_ev=set by_hour=false />
        <NumberField
            label=say!("Or as a meter reads it, at ISO 100")
            unit="EV"
            range=LIGHT_EV
            value=read
            set=set
        />
    }
}

/// What Set-up's shot is exposed with; none if its lens says no f-number.
fn camera(session: Session) -> Option<Camera> {
    let kit = session.owned.get();
    let row = session.chosen.get()?;
    let lens = kit.lenses.get(row.lens)?;
    let adapter = row.adapter.and_then(|at| kit.adapters.get(at));
    let mode = session.plan.with(|plan| {
        kit.recordings.iter().find(|mode| mode.name == plan.recording).or_else(|| kit.recordings.first())
    });
    let adapter_name = adapter.map(|adapter| adapter.name.as_str());
    Some(Camera {
        lens: lens_name(&kit, &row),
        light_loss: adapter.map_or(Stops::ZERO, |adapter| adapter.adapter.light_loss),
        ..of_lens(&kit, lens, mode, adapter_name)?
    })
}

fn of_lens(kit: &Kit, lens: &KitLens, mode: Option<&KitRecording>, adapter: Option<&str>) -> Option<Camera> {
    let f_number = lens.lens.f_number?.value;
    let least = IsoSetting::floor(lens, mode)?;
    let fit: Vec<_> = kit.filters.iter().filter(|filter| filter.fits_before(&lens.name, adapter)).collect();
    let all_stack = fit.iter().all(|filter| filter.stacking == Stacking::Any);
    Some(Camera {
        lens: lens.name.clone(),
        f_number,
        iso: least.floor,
        is_iso_typical: least.is_typical,
        light_loss: Stops::ZERO,
        filters: fit.iter().map(|filter| (filter.name.clone(), filter.most)).collect(),
        stacking: if all_stack { Stacking::Any } else { Stacking::One },
    })
}

/// The exposure in that light; or in words why there is none.
fn exposed(camera: &Camera, ev: f64, mains: Option<MainsFrequency>) -> Result<Exposure, String> {
    let scene = ExposureValue::of_scene(ev).map_err(|error| error.to_string())?;
    let exposing = Exposing {
        f_number: camera.f_number,
        time: exposure_time(ShutterAngle::HALF, FrameRate::FILM),
        rate: Some(FrameRate::FILM),
        iso: camera.iso,
        scene,
        light_loss: camera.light_loss,
        bias: USUAL_BIAS,
        filters: camera.filters.iter().map(|(_, takes)| *takes).collect(),
        stacking: camera.stacking,
        mains,
    };
    Exposure::of(exposing).map_err(|error| error.to_string())
}

fn sentence(camera: &Camera, exposure: &Exposure) -> String {
    let places = &exposure.chosen.places;
    let names = places.iter().filter_map(|at| camera.filters.get(*at)).map(|(name, _)| name.as_str());
    let names: Vec<&str> = names.collect();
    let filters = if names.is_empty() { say!("no ND").to_owned() } else { names.join(say!(" and ")) };
    let Exposing { f_number, time, iso, scene, .. } = &exposure.exposing;
    let time = Number(time);
    let left = words::residual(exposure.chosen.residual);
    let lens = crate::story::words::capital(&camera.lens);
    say!("{lens} at {scene:.1}: f/{:.1}, {time}, {iso}, {filters}; {left}.", f_number.to_f64())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn camera() -> Camera {
        let kit = crate::session::first_kit().to_kit().expect("a preset");
        of_lens(&kit, &kit.lenses[0], kit.recordings.first(), None).expect("an f-number")
    }

    #[test]
    fn bright_sun_without_filters_is_too_bright() {
        let camera = Camera { filters: Vec::new(), ..camera() };
        let exposure = exposed(&camera, 15.0, None).expect("in range");
        assert!(exposure.chosen.residual.to_f64() > 3.0, "{:?}", exposure.chosen);
        assert!(
            sentence(&camera, &exposure).contains("no ND") && !check_exposure(&exposure).is_empty(),
            "told"
        );
    }

    #[test]
    fn a_filter_that_fits_is_named() {
        let bare = exposed(&Camera { filters: Vec::new(), ..camera() }, 15.0, None).expect("in range");
        let filters = vec![("ND 64".to_owned(), bare.chosen.residual)];
        let camera = Camera { filters, ..camera() };
        let exposure = exposed(&camera, 15.0, None).expect("in range");
        assert!(
            sentence(&camera, &exposure).ends_with("ND 64; as wanted."),
            "{}",
            sentence(&camera, &exposure)
        );
    }

    #[test]
    fn lamps_at_sixty_hertz_flicker_at_a_forty_eighth() {
        let exposure = exposed(&camera(), 8.0, Some(MainsFrequency::SIXTY)).expect("in range");
        let rules: Vec<_> = check_exposure(&exposure).iter().map(film::ExposureFinding::rule).collect();
        assert!(rules.contains(&"flicker"), "{rules:?}");
    }
}
