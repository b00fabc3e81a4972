//! How bright the film's pictures are wanted, and what its lamps hang on.

use film::{FilmFacts, USUAL_BIAS};
use language::{Number, say};
use leptos::prelude::*;
use optics::MainsFrequency;
use units::Stops;

use crate::films::Desk;
use crate::story::head::change_facts;
use crate::story::tell;
use crate::widgets::{NamedChoices, StepField, live, plain};

/// The least and the most that is offered, in stops: chosen because phones lift shadows by no more than three stops without
/// noise, and more than one stop too bright clips skin. A file's own may lie beyond.
const RANGE: (f64, f64) = (-3.0, 1.0);

/// The mains of most of the world and of the rest.
const MAINS: [MainsFrequency; 2] = [MainsFrequency::FIFTY, MainsFrequency::SIXTY];

/// Brightness in thirds of a stop, and the mains.
#[component]
pub(super) fn Exposing(desk: Desk) -> impl IntoView {
    let facts = move |read: fn(&FilmFacts) -> f64, usual: f64| {
        Signal::derive(move || desk.film.with(|film| film.as_ref().map_or(usual, |film| read(&film.facts))))
    };
    let bias = facts(|facts| facts.bias.to_f64(), USUAL_BIAS.to_f64());
    let set_bias = move |stops: f64| {
        let bias = in_thirds(stops);
        tell(desk, change_facts(desk, say!("Change how bright it is"), |facts| facts.bias = bias));
    };
    let mains =
        Signal::derive(move || desk.film.with(|film| film.as_ref().and_then(|film| film.facts.mains)));
    let set_mains = move |mains: Option<MainsFrequency>| {
        tell(desk, change_facts(desk, say!("Change the mains"), |facts| facts.mains = mains));
    };
    view! {
        <div class="steps">
            <StepField
                label=say!("Brightness")
                range=RANGE
                step=1.0 / 3.0
                value=bias
                words=|stops| brightness(stops)
                set=set_bias
            />
            <p class="quiet">{live(move || meaning(bias.get()).to_owned())}</p>
        </div>
        <NamedChoices
            legend=say!("Mains that lamps hang on")
            choices=Memo::new(move |_| mains_offered(mains.get()))
            chosen=Signal::derive(move || Some(mains.get()))
            choose=set_mains
        />
    }
}

/// By the place, what is usual in the world, and the film's own if it is none of them.
fn mains_offered(own: Option<MainsFrequency>) -> Vec<(Option<MainsFrequency>, String)> {
    let own = own.filter(|own| !MAINS.contains(own));
    let named = MAINS.into_iter().chain(own).map(|mains| (Some(mains), Number(mains).to_string()));
    std::iter::once((None, say!("by the place").to_owned())).chain(named).collect()
}

/// The nearest third of a stop.
fn in_thirds(stops: f64) -> Stops {
    // Half a step below nothing rounds to −0, which a file would tell from 0.
    Stops::new(libm::round(stops * 3.0) / 3.0 + 0.0)
}

/// A brightness in stops, as people say it.
pub(crate) fn brightness(stops: f64) -> String {
    if stops.abs() < 5e-3 {
        return say!("as the meter").to_owned();
    }
    let size = stops.abs();
    let thirds = libm::round(size * 3.0);
    let (whole, rest) = (libm::floor(thirds / 3.0), thirds % 3.0);
    let number = if (size * 3.0 - thirds).abs() > 1e-6 {
        Number(plain(size)).to_string()
    } else if rest < 0.5 {
        format!("{whole}")
    } else if whole < 0.5 {
        format!("{rest}/3")
    } else {
        format!("{whole} {rest}/3")
    };
    match (stops < 0.0, size > 1.0 + 1e-9) {
        (true, true) => say!("{number} stops darker"),
        (true, false) => say!("{number} stop darker"),
        (false, true) => say!("{number} stops brighter"),
        (false, false) => say!("{number} stop brighter"),
    }
}

/// What a brightness is for.
fn meaning(stops: f64) -> &'static str {
    if stops.abs() < 5e-3 {
        say!("As the app's meter has it.")
    } else if stops < 0.0 {
        say!("Darker than the app's meter, to keep highlights.")
    } else {
        say!("Brighter than the app's meter: highlights go first.")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_brightness_reads_as_people_say_it() {
        let all = [-3.0, -4.0 / 3.0, -1.0, -2.0 / 3.0, 0.0, 1.0 / 3.0, 1.0, -0.5];
        assert_eq!(
            all.map(brightness),
            [
                "3 stops darker",
                "1 1/3 stops darker",
                "1 stop darker",
                "2/3 stop darker",
                "as the meter",
                "1/3 stop brighter",
                "1 stop brighter",
                "0.5 stop darker",
            ]
        );
    }

    #[test]
    fn mains_are_by_the_place_or_one_of_two_or_the_film_s_own() {
        let names = |own: Option<f64>| {
            let own = own.map(|hertz| MainsFrequency::from_hz(hertz).expect("in range"));
            mains_offered(own).into_iter().map(|(_, name)| name).collect::<Vec<_>>().join(", ")
        };
        assert_eq!(names(None), "by the place, 50 Hz, 60 Hz");
        assert_eq!(names(Some(60.0)), "by the place, 50 Hz, 60 Hz");
        assert_eq!(names(Some(16.7)), "by the place, 50 Hz, 60 Hz, 16.7 Hz");
    }

    #[test]
    fn steps_meet_the_usual_brightness_to_the_last_digit() {
        let mut stops = 1.0;
        for _ in 0..5 {
            stops = in_thirds(stops - 1.0 / 3.0).to_f64();
        }
        assert_eq!(Stops::new(stops), USUAL_BIAS);
        assert_eq!(in_thirds(-0.1).to_f64().to_bits(), 0.0_f64.to_bits());
    }
}
