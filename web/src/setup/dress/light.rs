//! The light of the place: sun with its direction and height, overcast, dusk; and the caution that a sun in the frame needs.

use language::{key, say};
use leptos::prelude::*;
use optics::ViewTangents;
use requests::{LightRequest, SunRequest};
use staging::{Camera, Light, direction};
use units::Angle;

use crate::dressing::{full_turn, half_turn};
use crate::later::{LaterRoom, Room};
use crate::session::{Plan, Session};
use crate::setup::plan::PlanDesk;
use crate::setup::words;
use crate::widgets::{Choice, Choices, StepField, live, when};

/// What the sky can be like, beside the sun.
const SKIES: [(&str, Option<LightRequest>); 3] = [
    (key!("sun"), None),
    (key!("overcast"), Some(LightRequest::Overcast)),
    (key!("dusk"), Some(LightRequest::Dusk)),
];

/// How near to the frame a sun is a hazard, degrees: chosen because a hand that reframes crosses it at once.
const NEAR_DEG: f64 = 15.0;

/// The light, folded: its summary says what it is.
#[component]
pub(in crate::setup) fn LightFold(session: Session) -> impl IntoView {
    let is_open = RwSignal::new(false);
    view! {
        <details class="fold" on:toggle:target=move |event| is_open.set(event.target().open())>
            <summary>{live(move || session.plan.with(said))}</summary>
            {when(move || is_open.get(), move || {
                view! { <LaterRoom session room=Room::Light left=|()| {} /> }.into_any()
            })}
        </details>
    }
}

/// What the light is, by choices and steps.
#[component]
pub(crate) fn LightSteps(session: Session) -> impl IntoView {
    let plan = session.plan;
    let sky = Signal::derive(move || {
        let light = Some(plan.with(Plan::light));
        // A sun is none of the others.
        Some(SKIES.iter().position(|(_, sky)| *sky == light).unwrap_or(0))
    });
    let choices = SKIES.iter().enumerate().map(|(at, (name, _))| Choice::new(Some(at), language::text(name)));
    let choose = move |at: Option<usize>| {
        // A sun that is where somebody put it stays there.
        if at != sky.get_untracked()
            && let Some((_, light)) = at.and_then(|at| SKIES.get(at))
        {
            session.change_set(None, "sky", &|plan| plan.set_mut().light = *light);
        }
    };
    view! {
        <div class="steps">
            <Choices legend=say!("Light") choices=choices chosen=sky choose=choose />
            <Show when=move || sky.get() == Some(0)>
                <StepField
                    label=say!("The sun comes")
                    range=(-180.0, 180.0)
                    step=5.0
                    value=Signal::derive(move || plan.with(sun).0)
                    words=|degrees| from_where(degrees).to_owned()
                    set=move |degrees| set_sun(session, "sun's direction", &|_, height| (degrees, height))
                />
                <StepField
                    label=say!("The sun's height")
                    range=(0.0, 90.0)
                    step=2.0
                    value=Signal::derive(move || plan.with(sun).1)
                    words=words::degrees
                    set=move |degrees| set_sun(session, "sun's height", &|from, _| (from, degrees))
                />
            </Show>
        </div>
    }
}

/// What is to be minded about the sun.
#[component]
pub(in crate::setup) fn Cautions(desk: PlanDesk) -> impl IntoView {
    let is_within = move |degrees: f64| {
        Memo::new(move |_| {
            desk.scene().is_some_and(|scene| match scene.stage.light {
                Light::Sun { azimuth, elevation } => {
                    degrees_off_frame(&scene.camera, &scene.view, azimuth, elevation)
                        .is_some_and(|off| off <= degrees)
                }
                Light::Overcast | Light::Dusk => false,
            })
        })
    };
    let (is_near, is_seen) = (is_within(NEAR_DEG), is_within(0.0));
    let where_it_is = move || {
        if is_seen.get() { say!("The sun is in the frame.") } else { say!("The sun is close to the frame.") }
    };
    view! {
        <Show when=move || is_near.get()>
            <p class="caution" role="status">
                <strong>{live(move || where_it_is().to_owned())}</strong>
                {say!(" It can burn eyes and sensors: look at the screen and never along the phone, and cover the lens between \
                 takes. Local rules, and whoever is responsible for the place, decide what may be done there.")}
            </p>
        </Show>
    }
}

/// The sun's direction, clockwise from straight behind the subject, and its height, degrees; nothing if there is none.
fn sun(plan: &Plan) -> (f64, f64) {
    match plan.light() {
        LightRequest::Sun(SunRequest { azimuth_deg, elevation_deg }) => {
            (half_turn(azimuth_deg - plan.phone_bearing_deg - 180.0), elevation_deg)
        }
        LightRequest::Overcast | LightRequest::Dusk => (0.0, 0.0),
    }
}

/// Moves the sun to what becomes of its direction and its height.
fn set_sun(session: Session, what: &'static str, change: &dyn Fn(f64, f64) -> (f64, f64)) {
    session.change_set(None, what, &|plan| {
        let (from, height) = sun(plan);
        let (from, elevation_deg) = change(from, height);
        let azimuth_deg = full_turn(from + plan.phone_bearing_deg + 180.0);
        plan.set_mut().light = Some(LightRequest::Sun(SunRequest { azimuth_deg, elevation_deg }));
    });
}

/// The light in words.
fn said(plan: &Plan) -> String {
    match plan.light() {
        LightRequest::Overcast => say!("Light: overcast").to_owned(),
        LightRequest::Dusk => say!("Light: dusk").to_owned(),
        LightRequest::Sun(_) => {
            let (from, height) = sun(plan);
            say!("Light: sun {}, {height:.0}° high", from_where(from))
        }
    }
}

/// Where light comes from, by its direction clockwise from straight behind the subject, as the phone sees it.
fn from_where(degrees: f64) -> &'static str {
    let is_right = degrees > 0.0;
    match degrees.abs() {
        off if off < 22.5 => say!("from behind them"),
        off if off < 67.5 && is_right => say!("from behind them, right"),
        off if off < 67.5 => say!("from behind them, left"),
        off if off < 112.5 && is_right => say!("from the right"),
        off if off < 112.5 => say!("from the left"),
        off if off < 157.5 && is_right => say!("from the front, right"),
        off if off < 157.5 => say!("from the front, left"),
        _ => say!("from behind the phone"),
    }
}

/// How far outside the frame a sun is, degrees; 0 within it, none behind the phone.
fn degrees_off_frame(camera: &Camera, view: &ViewTangents, azimuth: Angle, elevation: Angle) -> Option<f64> {
    let sun = direction(azimuth, elevation);
    (sun.dot(camera.forward()) > 0.0).then(|| camera.off_frame(view, sun).to_deg())
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::DVec3;

    #[test]
    fn a_sun_is_told_as_the_phone_sees_it() {
        // A phone south of them looks north: the north-west is behind them, left.
        let mut plan = Plan { phone_bearing_deg: 180.0, ..Plan::first() };
        let light = LightRequest::Sun(SunRequest { azimuth_deg: 315.0, elevation_deg: 30.0 });
        plan.set_mut().light = Some(light);
        assert_eq!(said(&plan), "Light: sun from behind them, left, 30° high");
        // From the other side of them the same sun comes from the front; the north-west is to its right.
        plan.turn_phone(0.0);
        assert_eq!(said(&plan), "Light: sun from the front, right, 30° high");
    }

    #[test]
    fn a_sun_is_off_the_frame_by_the_angle_to_its_nearest_edge() {
        let camera = Camera::new(DVec3::Z, Angle::ZERO, Angle::ZERO);
        let half = Angle::from_deg(20.0).tan();
        let view = ViewTangents { left: half, right: half, up: half, down: half };
        let off = |azimuth: f64, elevation: f64| {
            degrees_off_frame(&camera, &view, Angle::from_deg(azimuth), Angle::from_deg(elevation))
        };
        assert_eq!(off(180.0, 10.0), None);
        for (azimuth, elevation, expected) in
            [(0.0, 0.0, 0.0), (-19.0, 5.0, 0.0), (30.0, 0.0, 10.0), (0.0, 52.0, 32.0), (-85.0, 0.0, 65.0)]
        {
            let told = off(azimuth, elevation).expect("before the phone");
            assert!((told - expected).abs() < 1e-9, "{azimuth} {elevation}: {told}");
        }
    }
}
