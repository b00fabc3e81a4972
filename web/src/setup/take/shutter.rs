//! How long each frame is exposed.

use language::{Number, say};
use leptos::prelude::*;
use optics::{ExposureTime, ShutterAngle};
use requests::{FILM_FPS, ShutterRequest};

use crate::session::{Plan, Session};
use crate::widgets::{NamedChoices, StepField, live};

/// Frame rates that phones record in, in thousandths, which can be compared, with their names.
const RATES: [(u32, &str); 7] = [
    (23_976, "23.976"),
    (24_000, "24"),
    (25_000, "25"),
    (30_000, "30"),
    (48_000, "48"),
    (50_000, "50"),
    (60_000, "60"),
];

/// How long each frame is exposed.
#[component]
pub(super) fn ShutterFields(session: Session) -> impl IntoView {
    let plan = session.plan;
    let change = move |change: &dyn Fn(&mut ShutterRequest)| {
        plan.update(|plan| change(plan.shot.shutter.get_or_insert(ShutterRequest::USUAL)));
    };
    // A film has one shutter for all its shots. The sheet is made anew whenever it is opened.
    let of_film = plan.with_untracked(|plan| plan.of.is_some());
    let angle_label = if of_film { say!("Shutter angle of the whole film") } else { say!("Shutter angle") };
    let rates = Memo::new(|_| RATES.map(|(rate, name)| (rate, Number(name).to_string())).to_vec());
    view! {
        <NamedChoices
            legend=say!("Frames a second")
            choices=rates
            chosen=Signal::derive(move || Some(plan.with(nearest_rate)))
            choose=move |rate: u32| change(&|shutter| shutter.frame_rate_fps = Some(f64::from(rate) / 1000.0))
        />
        <StepField
            label=angle_label
            range=(15.0, 360.0)
            step=15.0
            value=Signal::derive(move || plan.with(angle_deg))
            words=angle_words
            set=move |degrees| change(&|shutter| shutter.angle_deg = Some(degrees))
        />
        <p class="quiet">{live(move || plan.with(exposure_words))}</p>
    }
}

/// A shutter angle to a tenth of a degree: what is steady under lamps is often not a whole one, as 172.8° is.
fn angle_words(degrees: f64) -> String {
    let tenths = (degrees * 10.0).round() / 10.0;
    format!("{}°", Number(tenths))
}

fn shutter(plan: &Plan) -> ShutterRequest {
    plan.shot.shutter.unwrap_or(ShutterRequest::USUAL)
}

fn angle_deg(plan: &Plan) -> f64 {
    shutter(plan).angle_deg.unwrap_or(ShutterAngle::HALF.to_deg())
}

/// The offered rate that is nearest to the plan's, in thousandths.
fn nearest_rate(plan: &Plan) -> u32 {
    let fps = shutter(plan).frame_rate_fps.unwrap_or(FILM_FPS);
    let off = |rate: u32| (f64::from(rate) / 1000.0 - fps).abs();
    let rates = RATES.into_iter().map(|(rate, _)| rate);
    rates.min_by(|one, other| off(*one).total_cmp(&off(*other))).unwrap_or(24_000)
}

/// How long each frame is exposed, in words.
fn exposure_words(plan: &Plan) -> String {
    let seconds = plan.shot.exposure().map_or(1.0 / 48.0, ExposureTime::to_s);
    say!(
        "Each frame is exposed for 1/{:.0} s: what moves smears by the way that it goes in that time. 180° is what films \
         are used to; less is harsher, more is softer.",
        1.0 / seconds
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_shutter_of_films_is_what_a_plan_starts_with() {
        let mut plan = Plan::first();
        let begins = |plan: &Plan, words: &str| {
            let told = exposure_words(plan);
            assert!(told.starts_with(words), "{told}");
        };
        assert_eq!(nearest_rate(&plan), 24_000);
        begins(&plan, "Each frame is exposed for 1/48 s");
        plan.shot.shutter = Some(ShutterRequest { frame_rate_fps: Some(50.0), angle_deg: Some(90.0) });
        assert_eq!(nearest_rate(&plan), 50_000);
        begins(&plan, "Each frame is exposed for 1/200 s");
    }

    #[test]
    fn a_shutter_angle_that_is_no_whole_number_is_told_so() {
        assert_eq!([172.8, 180.0, 144.0].map(angle_words), ["172.8°", "180°", "144°"]);
    }
}
