//! How a scene is lit: how much light there is, whether lamps on the mains give it, and what is made white.

use std::sync::Arc;

use film::{Lamps, SceneFacts, SceneLight, WhiteBalance};
use language::{Number, key, say};
use leptos::prelude::*;
use optics::ExposureValue;

use super::Facts;
use super::auto_reading::AutoReading;
use crate::widgets::{Choice, Choices, NumberField, live, own_option, plain};

/// What of a scene can be read, in EV at ISO 100, as films hold it.
pub(crate) const LIGHT_EV: (f64, f64) = (-10.0, 25.0);
/// What can be made white, in kelvins, as films hold it.
const WHITE_K: (f64, f64) = (1500.0, 15_000.0);

/// Colours of light that are met every day, in kelvins: common practice.
const EVERYDAY_K: [(u32, &str); 5] = [
    (3200, key!("3200 K, warm lamps")),
    (4300, key!("4300 K, lamps and daylight")),
    (5600, key!("5600 K, sun")),
    (6500, key!("6500 K, cloud")),
    (7000, key!("7000 K, shade")),
];

/// Values of the list of scenes that stand for none of them.
const BY_HOUR: &str = "hour";
const OWN: &str = "own";

/// Light, lamps and white balance.
#[component]
pub(super) fn Lit(facts: Facts) -> impl IntoView {
    let ev = Signal::derive(move || facts.read(|facts| read_ev(facts.light), None));
    let set_ev = Callback::new(move |ev: Option<f64>| {
        let light = ev.and_then(|ev| ExposureValue::of_scene(ev).ok());
        let light = light.map_or(SceneLight::ByHour, SceneLight::Read);
        facts.change(say!("Change how much light there is"), &|facts| facts.light = light);
    });
    view! {
        <LightNames ev set_ev by_hour=true />
        <NumberField
            label=say!("Or as a meter reads it, at ISO 100")
            hint=say!("Empty: by the hour.")
            unit="EV"
            range=LIGHT_EV
            value=ev
            set=set_ev
        />
        <AutoReading facts set_ev />
        <LampsChoice facts />
        <White facts />
    }
}

fn read_ev(light: SceneLight) -> Option<f64> {
    match light {
        SceneLight::ByHour => None,
        SceneLight::Read(value) => Some(value.to_f64()),
    }
}

/// The light by name: as much as everyday scenes have, or by the hour where a scene has one.
#[component]
pub(crate) fn LightNames(
    ev: Signal<Option<f64>>,
    set_ev: Callback<Option<f64>>,
    by_hour: bool,
) -> impl IntoView {
    let scenes: Arc<[(String, f64)]> =
        film::scenes_in_light().into_iter().map(|(name, value)| (name, value.to_f64())).collect();
    let named = Arc::clone(&scenes);
    let chosen = Memo::new(move |_| name_of(&named, ev.get()));
    let of_value = Arc::clone(&scenes);
    let choose = move |value: String| {
        if value == BY_HOUR {
            set_ev.run(None);
        } else if let Some((_, ev)) = value.parse().ok().and_then(|at: usize| of_value.get(at)) {
            set_ev.run(Some(*ev));
        }
    };
    let option = move |value: String, name: String| {
        let is_chosen = value.clone();
        view! { <option value=value prop:selected=move || chosen.with(|chosen| *chosen == is_chosen)>{name}</option> }
    };
    let options = scenes.iter().enumerate().map(|(at, (name, ev))| {
        option(at.to_string(), format!("{}: EV {}", film::scene_in_light_told(name), Number(plain(*ev))))
    });
    let options = options.collect_view();
    let own = move || {
        let ev = ev.get().filter(|_| chosen.with(|chosen| chosen == OWN))?;
        Some(say!("as it was read: EV {}", Number(plain(ev))))
    };
    view! {
        <label class="field">
            <span>{say!("How much light")}</span>
            <select on:change:target=move |event| choose(event.target().value())>
                {by_hour.then(|| option(BY_HOUR.to_owned(), say!("by the hour").to_owned()))}
                {options}
                {own_option(own)}
            </select>
        </label>
    }
}

/// What stands for that much light in the list.
fn name_of(scenes: &[(String, f64)], ev: Option<f64>) -> String {
    let Some(ev) = ev else { return BY_HOUR.to_owned() };
    let at = scenes.iter().position(|(_, of_scene)| (of_scene - ev).abs() < 1e-9);
    at.map_or_else(|| OWN.to_owned(), |at| at.to_string())
}

/// Whether lamps on the mains light the scene.
#[component]
fn LampsChoice(facts: Facts) -> impl IntoView {
    let lamps = Signal::derive(move || facts.read(|facts| facts.lamps, Lamps::BySetting));
    let means = live(move || facts.read(lamps_words, "").to_owned());
    view! {
        <Choices
            legend=say!("Lamps on the mains")
            choices=[
                Choice::new(Lamps::BySetting, say!("by setting")),
                Choice::new(Lamps::On, say!("lamps on")),
                Choice::new(Lamps::Off, say!("lamps off")),
            ]
            chosen=lamps
            choose=move |lamps| facts.change(say!("Change the lamps"), &|facts| facts.lamps = lamps)
        />
        <p class="quiet">{means}</p>
    }
}

/// What the setting says of the lamps, whatever is chosen.
fn lamps_words(facts: &SceneFacts) -> &'static str {
    let by_setting = SceneFacts { lamps: Lamps::BySetting, ..facts.clone() };
    if by_setting.has_lamps() {
        say!("By setting they are on here: it is inside, or night.")
    } else {
        say!("By setting they are off here: it is outside and not night.")
    }
}

/// How the white balance is chosen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum White {
    NotChosen,
    Everyday(u32),
    Own,
}

impl White {
    fn of(white: Option<WhiteBalance>) -> Self {
        let Some(white) = white else { return Self::NotChosen };
        let is_it = |kelvin: &u32| (f64::from(*kelvin) - white.to_kelvin()).abs() < 1e-9;
        EVERYDAY_K.iter().map(|(kelvin, _)| *kelvin).find(is_it).map_or(Self::Own, Self::Everyday)
    }
}

/// The white balance that all shots of the scene share.
#[component]
fn White(facts: Facts) -> impl IntoView {
    let white = move || facts.read(|facts| facts.white_balance, None);
    let set = move |kelvin: Option<f64>| {
        let white = kelvin.and_then(|kelvin| WhiteBalance::from_kelvin(kelvin).ok());
        facts.change(say!("Change the white balance"), &|facts| facts.white_balance = white);
    };
    let choices = std::iter::once(Choice::new(White::NotChosen, say!("not chosen")))
        .chain(EVERYDAY_K.map(|(kelvin, name)| Choice::new(White::Everyday(kelvin), language::text(name))))
        .collect::<Vec<_>>();
    let choose = move |white: White| match white {
        White::NotChosen => set(None),
        White::Everyday(kelvin) => set(Some(f64::from(kelvin))),
        White::Own => {}
    };
    view! {
        <Choices
            legend=say!("White balance of all its shots")
            choices=choices
            chosen=Signal::derive(move || White::of(white()))
            choose=choose
        />
        <NumberField
            label=say!("Or a white balance of your own")
            hint=say!("Empty: not chosen.")
            unit="K"
            range=WHITE_K
            value=Signal::derive(move || white().map(WhiteBalance::to_kelvin))
            set=set
        />
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use film::{Setting, TimeOfDay};

    #[test]
    fn every_limit_is_the_cores() {
        for ev in [LIGHT_EV.0, LIGHT_EV.1] {
            assert!(ExposureValue::of_scene(ev).is_ok(), "{ev}");
        }
        assert!(
            ExposureValue::of_scene(LIGHT_EV.0 - 0.01).is_err()
                && ExposureValue::of_scene(LIGHT_EV.1 + 0.01).is_err()
        );
        for kelvin in [WHITE_K.0, WHITE_K.1] {
            assert!(WhiteBalance::from_kelvin(kelvin).is_ok(), "{kelvin}");
        }
        assert!(
            WhiteBalance::from_kelvin(WHITE_K.0 - 1.0).is_err()
                && WhiteBalance::from_kelvin(WHITE_K.1 + 1.0).is_err()
        );
    }

    #[test]
    fn a_light_has_its_name_or_is_ones_own() {
        let scenes: Vec<_> =
            film::scenes_in_light().into_iter().map(|(name, value)| (name, value.to_f64())).collect();
        assert_eq!(name_of(&scenes, None), BY_HOUR);
        for (at, (name, ev)) in scenes.iter().enumerate() {
            let chosen = name_of(&scenes, Some(*ev)).parse::<usize>().expect("a scene of the table");
            assert!((scenes[chosen].1 - scenes[at].1).abs() < 1e-9, "{name}");
        }
        assert_eq!(name_of(&scenes, Some(11.37)), OWN);
    }

    #[test]
    fn by_setting_means_what_the_core_makes_of_it() {
        let id = film::SceneId::new(1).expect("small");
        let facts = film::Scene::empty(id, film::SceneBlocking::default()).facts;
        let mut scene = SceneFacts::clone(&facts);
        scene.lamps = Lamps::Off;
        (scene.setting, scene.time) = (Setting::Inside, TimeOfDay::Day);
        assert!(lamps_words(&scene).starts_with("By setting they are on"), "{scene:?}");
        scene.setting = Setting::Outside;
        assert!(lamps_words(&scene).starts_with("By setting they are off"), "{scene:?}");
    }

    #[test]
    fn a_white_of_everyday_is_known_and_another_is_ones_own() {
        let of = |kelvin: f64| White::of(WhiteBalance::from_kelvin(kelvin).ok());
        assert_eq!([of(5600.0), of(5601.0), of(0.0)], [White::Everyday(5600), White::Own, White::NotChosen]);
    }
}
