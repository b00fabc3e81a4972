//! What larger cameras make of the same framing.

use language::{Number, say};
use leptos::prelude::*;
use optics::FNumber;
use staging::{BEYOND_ANY_PHONE, Larger, LargerCamera, Setup, Shot, Softness, Stage};

use crate::pictures::{Look, PictureCanvas, Pictures, Rank, Standing};
use crate::session::Session;
use crate::setup::words::three_digits;
use crate::widgets::{StepField, live};

/// Full stops, as lenses for larger cameras are marked.
const STOPS: [f64; 8] = [1.4, 2.0, 2.8, 4.0, 5.6, 8.0, 11.0, 16.0];

/// A camera in the comparison.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Which {
    Phone,
    Larger(LargerCamera),
}

/// The phone and the larger cameras beside each other, and how far these are opened.
#[component]
pub(crate) fn LargerCameras(session: Session) -> impl IntoView {
    Pictures::provide(session);
    let stop = Signal::derive(move || session.plan.with(|plan| nearest_stop(plan.larger_f_number)));
    let cameras =
        [Which::Phone, Which::Larger(LargerCamera::Super35), Which::Larger(LargerCamera::FullFrame)];
    view! {
        <p class="quiet">
            {say!("The same place, frame and focus. Only the hole that light comes through is larger, and that alone makes \
                  a background soft.")}
        </p>
        <p class="quiet">
            {say!("Computed: the phone would need N = f / D, with D = f' / N' the larger camera's hole: a disc is then the \
                  same share of the frame. Source: Photography (Basic), conjugate foci.")}
        </p>
        <StepField
            label=say!("The larger camera at")
            range=(0.0, 7.0)
            step=1.0
            value=stop
            words=|at| format!("f/{}", Number(stop_at(at)))
            set=move |at| session.plan.update(|plan| plan.larger_f_number = stop_at(at))
        />
        <ul class="beside-row">{cameras.map(|which| view! { <Camera session which /> }).collect_view()}</ul>
    }
}

/// One camera: its picture, its lens, its background's disc, and what the phone would need for it.
#[component]
fn Camera(session: Session, which: Which) -> impl IntoView {
    let seen = move || {
        let row = session.chosen.get()?;
        let (shot, setup) = (row.result.shot, row.result.outcome.ok()?);
        let f_number = FNumber::new(session.plan.with(|plan| plan.larger_f_number)).ok()?;
        let larger = match which {
            Which::Phone => None,
            Which::Larger(camera) => Some(Larger::of(&setup, camera, f_number)?),
        };
        Some(Seen {
            shot,
            setup,
            larger,
            background: row.result.figures.and_then(|figures| figures.background),
        })
    };
    let look = Signal::derive(move || {
        let seen = seen()?;
        let stage = session.plan.with(|plan| plan.stage(&seen.shot, &seen.setup, &plan.blocking(&seen.shot)));
        let stage = match seen.larger {
            None => stage,
            Some(larger) => Stage { pupil: Some(larger.pupil()), ..stage },
        };
        Some(Look::of(&stage, seen.setup.frame.aspect()))
    });
    let shows = Signal::derive(move || {
        session.chosen.track();
        session.plan.track();
    });
    let part = move |part: fn(&Seen) -> String| live(move || seen().as_ref().map(part).unwrap_or_default());
    let aspect = move || seen().map_or(1.78, |seen| seen.setup.frame.aspect()).to_string();
    let name = match which {
        Which::Phone => say!("this phone"),
        Which::Larger(camera) => camera.name(),
    };
    let standing = RwSignal::new(Standing::Waiting);
    view! {
        <li>
            <span class="beside-frame" aria-hidden="true" style:--aspect=live(aspect)>
                <PictureCanvas rank=Rank::Small shows look standing class="thumb" />
            </span>
            <p>
                <strong>{name}</strong>
                {part(|seen| format!(", {}", seen.lens()))}
            </p>
            <p>{part(Seen::softness)}</p>
            <p class="quiet">{part(Seen::need)}</p>
        </li>
    }
}

/// A setup as one camera sees it.
#[derive(Debug, Clone, PartialEq)]
struct Seen {
    shot: Shot,
    setup: Setup,
    /// The larger camera; none for the phone itself.
    larger: Option<Larger>,
    /// The phone's own background.
    background: Option<Softness>,
}

impl Seen {
    fn lens(&self) -> String {
        let (focal, f_number) = match &self.larger {
            Some(larger) => (larger.focal_length, Some(larger.f_number)),
            None => (self.shot.lens.focal_length.value, self.shot.lens.f_number.map(|number| number.value)),
        };
        let focal_mm = focal.to_length().to_mm();
        let digits = usize::from(focal_mm < 10.0);
        let opened = f_number.map_or_else(
            || say!(" (f-number not known)").to_owned(),
            |n| format!(" f/{}", Number(n.to_f64())),
        );
        say!("{focal_mm:.digits$} mm{opened}")
    }

    /// How a point of the background is drawn.
    fn softness(&self) -> String {
        let background = self.setup.subject_depth + self.shot.background_behind;
        match self.larger.map_or(self.background, |larger| Some(larger.softness(background))) {
            Some(disc) => say!(
                "background disc {} px, {} % of the frame's height",
                three_digits(disc.height_px),
                three_digits(disc.share * 100.0)
            ),
            None => say!("background disc cannot be told").to_owned(),
        }
    }

    /// What the phone would need to be as soft.
    fn need(&self) -> String {
        let Some(larger) = &self.larger else { return String::new() };
        match larger.f_number_on(&self.shot) {
            Some(f_number) if f_number < BEYOND_ANY_PHONE => say!(
                "For this blur the phone would need f/{f_number:.2}: impossible, as no phone's lens comes near \
                 f/{}.",
                Number(BEYOND_ANY_PHONE)
            ),
            Some(f_number) => {
                let digits = if f_number < 1.0 { 2 } else { 1 };
                say!("For this blur the phone would need f/{f_number:.digits$}.")
            }
            None => say!("What the phone would need cannot be told: its lens's true size is not known.")
                .to_owned(),
        }
    }
}

/// The f-number of a step.
fn stop_at(step: f64) -> f64 {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "one of eight steps")]
    let at = step.round().max(0.0) as usize;
    STOPS.get(at).copied().unwrap_or(16.0)
}

/// The step of the full stop that is nearest to an f-number.
fn nearest_stop(f_number: f64) -> f64 {
    let steps = (0_u8..).zip(STOPS).map(|(step, stop)| (f64::from(step), (stop - f_number).abs()));
    steps.min_by(|(_, one), (_, other)| one.total_cmp(other)).map_or(0.0, |(step, _)| step)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::tests::result_of;
    use crate::session::Plan;

    fn seen(camera: LargerCamera, f_number: f64) -> Seen {
        let result = result_of(&Plan::first());
        let setup = result.outcome.expect("a setup");
        let f_number = FNumber::new(f_number).expect("in range");
        let background = result.figures.and_then(|figures| figures.background);
        Seen { shot: result.shot, setup, larger: Larger::of(&setup, camera, f_number), background }
    }

    #[test]
    fn an_open_full_frame_is_out_of_a_phones_reach_and_a_closed_one_is_not() {
        let open = seen(LargerCamera::FullFrame, 1.4).need();
        assert!(open.contains("impossible"), "{open}");
        let closed = seen(LargerCamera::FullFrame, 16.0).need();
        assert!(
            closed.starts_with("For this blur the phone would need f/") && !closed.contains("impossible"),
            "{closed}"
        );
    }

    #[test]
    fn stops_are_their_own_steps() {
        for stop in STOPS {
            assert!((stop_at(nearest_stop(stop)) - stop).abs() < 1e-12, "{stop}");
        }
    }
}
