//! Where on the place's floor a photo was taken, and which way it looks: dragged on a floor plan, or stepped.

use glam::DVec2;
use language::{key, say, text};
use leptos::ev;
use leptos::html;
use leptos::prelude::*;
use staging::{along, azimuth};
use units::{Angle, Length};

use super::Home;
use super::paced::Corner;
use super::photo_form::{PhotoDesk, within_a_turn};
use crate::canvas::{CanvasHost, Surface, WhileMoving, box_size};
use crate::draw::{Chalk, LABEL_FONT, PlanView, REACH_PX};
use crate::dressing::half_turn;
use crate::light::wind;
use crate::pointing;
use crate::widgets::{StepField, live};

/// What is on a place's floor, x east and y north by the earth, metres.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Floor {
    /// Who stands where.
    pub(crate) people: Vec<(DVec2, String)>,
    /// Where things stand.
    pub(crate) pieces: Vec<DVec2>,
    /// The phone of the shot that is looked at, and the direction of its look.
    pub(crate) phone: Option<(DVec2, Angle)>,
    /// The corners that were paced out, in their order.
    pub(crate) outline: Vec<Corner>,
    /// Whether the last of them is joined to the first.
    pub(crate) is_closed: bool,
}

/// What can be held of a photo.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Handle {
    /// Where it was taken.
    Spot,
    /// The end of its look.
    Look,
}

/// How long the look is drawn, metres.
const LOOK_M: f64 = 2.5;
/// Ellipses of corners are drawn this many standard uncertainties large: 95 of 100 corners are within.
///
/// # Source
/// The chi-squared distribution of two degrees of freedom: √(−2 ln 0.05) = 2.448 (from memory).
const SHOWN_SDS: f64 = 2.448;
/// Places are kept within this of the origin, as in files.
const FARTHEST_M: f64 = 1000.0;
/// Steps of the fields: chosen as a hand's breadth and as a compass can be read.
const STEP_M: f64 = 0.1;
const TURN_STEP_DEG: f64 = 1.0;
/// How far the sliders go, metres; a drag goes farther.
const SLIDER_M: (f64, f64) = (-50.0, 50.0);

impl Floor {
    /// The view in which all of it is seen, and these places.
    pub(super) fn view(&self, also: impl Iterator<Item = DVec2>, size: (f64, f64)) -> PlanView {
        // With room for a look from each.
        let around = |place: DVec2| [-LOOK_M, LOOK_M].map(|reach| (place + DVec2::splat(reach)).extend(0.0));
        PlanView::of_places(self.points().chain(also).flat_map(around), size)
    }
}

impl Floor {
    /// Everything that the floor plan has to show.
    fn points(&self) -> impl Iterator<Item = DVec2> + '_ {
        let people = self.people.iter().map(|(at, _)| *at);
        let phone = self.phone.iter().map(|(at, _)| *at);
        people
            .chain(self.pieces.iter().copied())
            .chain(self.outline.iter().map(|corner| corner.at))
            .chain(phone)
    }

    /// The floor without any photo.
    pub(super) fn draw(&self, chalk: &Chalk<'_>, view: PlanView) {
        chalk.sweep();
        self.draw_outline(chalk, view);
        for piece in &self.pieces {
            let (x, y) = view.to_px(piece.extend(0.0));
            chalk.pen(&chalk.palette.chalk_quiet, 1.5);
            chalk.context.stroke_rect(x - 6.0, y - 6.0, 12.0, 12.0);
        }
        for (at, name) in &self.people {
            let (x, y) = view.to_px(at.extend(0.0));
            chalk.torn_strip((x - 8.0, y), (x + 8.0, y), &chalk.palette.tape[0], 6.0);
            chalk.word(name, (x, y - 14.0), LABEL_FONT, "center");
        }
        if let Some((at, look)) = self.phone {
            draw_look(chalk, view, at, look, &chalk.palette.chalk_quiet);
            let (x, y) = view.to_px(at.extend(0.0));
            chalk.word(say!("the shot's phone"), (x, y + 16.0), LABEL_FONT, "center");
        }
        chalk.word(say!(in "a direction", "N"), (chalk.width - 16.0, 16.0), LABEL_FONT, "center");
        scale_bar(chalk, view);
    }

    fn draw_outline(&self, chalk: &Chalk<'_>, view: PlanView) {
        chalk.pen(&chalk.palette.chalk, 2.0);
        let ends = self.outline.iter().zip(self.outline.iter().skip(1));
        let closing = self.outline.last().zip(self.outline.first()).filter(|_| self.is_closed);
        for (from, to) in ends.chain(closing) {
            chalk.line(view.to_px(from.at.extend(0.0)), view.to_px(to.at.extend(0.0)));
        }
        chalk.pen(&chalk.palette.chalk_quiet, 1.0);
        for Corner { at, spread } in &self.outline {
            let (x, y) = view.to_px(at.extend(0.0));
            let half = |length: Length| length.to_m() * view.scale * SHOWN_SDS;
            // Clockwise from north on the floor is clockwise from the canvas's up; the ellipse's first axis is to the right.
            let turn = spread.direction.to_rad() - std::f64::consts::FRAC_PI_2;
            chalk.context.begin_path();
            chalk
                .context
                .ellipse(x, y, half(spread.long), half(spread.short), turn, 0.0, std::f64::consts::TAU)
                .unwrap_or_default();
            chalk.context.stroke();
        }
    }
}

/// A metre, or ten where one is short, with its length.
fn scale_bar(chalk: &Chalk<'_>, view: PlanView) {
    let metres = if view.scale < 12.0 { 10.0 } else { 1.0 };
    let (left, down) = (14.0, chalk.height - 14.0);
    chalk.pen(&chalk.palette.chalk, 2.0);
    chalk.line((left, down), (left + metres * view.scale, down));
    chalk.word(&format!("{metres} m"), (left + metres * view.scale + 26.0, down), LABEL_FONT, "center");
}

/// A place and the direction of a look from it.
fn draw_look(chalk: &Chalk<'_>, view: PlanView, at: DVec2, look: Angle, colour: &str) {
    let end = at + along(look) * LOOK_M;
    chalk.pen(colour, 2.0);
    chalk.line(view.to_px(at.extend(0.0)), view.to_px(end.extend(0.0)));
    for (place, radius) in [(at, 6.0), (end, 4.0)] {
        let (x, y) = view.to_px(place.extend(0.0));
        chalk.context.begin_path();
        // Refused only for a radius below nothing.
        chalk.context.arc(x, y, radius, 0.0, std::f64::consts::TAU).unwrap_or_default();
        chalk.context.set_fill_style_str(colour);
        chalk.context.fill();
    }
}

/// The edges of what a photo sees.
fn draw_edges(chalk: &Chalk<'_>, view: PlanView, at: DVec2, look: Angle, fov: Angle) {
    chalk.pen(&chalk.palette.accent, 1.0);
    chalk.dashed(4.0, 4.0);
    for edge in [look - fov / 2.0, look + fov / 2.0] {
        chalk.line(view.to_px(at.extend(0.0)), view.to_px((at + along(edge) * (LOOK_M * 1.6)).extend(0.0)));
    }
    chalk.solid();
}

/// Where a photo was taken; one without a floor plan goes along with the phone, and only looks another way.
#[component]
pub(super) fn WhereTaken(desk: PhotoDesk) -> impl IntoView {
    match desk.recce.home() {
        Home::Place(..) => view! { <OnFloor desk /> }.into_any(),
        Home::Setup(_) => view! {
            <fieldset class="choices recce-where">
                <legend>{say!("Where it was taken")}</legend>
                <p class="quiet">{say!("From where the phone is, whichever place the shot asks for.")}</p>
                <StepField
                    label=say!("Its middle is to the right of the phone's look by")
                    range=(-90.0, 90.0)
                    step=TURN_STEP_DEG
                    value=Signal::derive(move || desk.of(|photo| half_turn(photo.azimuth.to_deg())).unwrap_or_default())
                    words=|degrees: f64| format!("{degrees:.0}°")
                    set=move |degrees: f64| desk.alter(text(WHERE), |photo| photo.azimuth = Angle::from_deg(degrees))
                />
            </fieldset>
        }
        .into_any(),
    }
}

/// The floor plan with the photo on it, and the fields that say the same.
#[component]
fn OnFloor(desk: PhotoDesk) -> impl IntoView {
    let node = NodeRef::<html::Canvas>::new();
    let held = RwSignal::new(None::<(Handle, PlanView)>);
    let spot = Memo::new(move |_| desk.of(|photo| (photo.at, photo.azimuth, photo.horizontal_fov)));
    let floor = desk.recce.floor();
    let fit = move |size: (f64, f64)| {
        let spot = spot.get().map(|(at, ..)| at);
        floor.with(|floor| floor.view(spot.into_iter(), size))
    };
    let view = move || {
        let canvas = node.get_untracked()?;
        let size = box_size(&canvas);
        // The view that a drag started in stays until it ends.
        Some(held.get_untracked().map_or_else(|| untrack(|| fit(size)), |(_, view)| view))
    };
    let handle_at = move |at: DVec2| {
        let (view, (spot, look, _)) = (view()?, spot.get_untracked()?);
        let near = |floor: DVec2| {
            let (x, y) = view.to_px(floor.extend(0.0));
            DVec2::new(x, y).distance(at) <= REACH_PX
        };
        let look_end = spot + along(look) * LOOK_M;
        if near(look_end) { Some(Handle::Look) } else { near(spot).then_some(Handle::Spot) }
    };
    let press = move |event: ev::PointerEvent| {
        let at = DVec2::from(pointing::of_pointer(&event));
        if let (Some(handle), Some(view), Some(canvas)) = (handle_at(at), view(), node.get_untracked())
            && canvas.set_pointer_capture(event.pointer_id()).is_ok()
        {
            held.set(Some((handle, view)));
        }
    };
    let follow = move |event: ev::PointerEvent| {
        let Some((handle, view)) = held.get_untracked() else { return };
        let floor = view.to_floor(pointing::of_pointer(&event)).truncate();
        desk.alter(text(WHERE), |photo| match handle {
            Handle::Spot => photo.at = rounded(floor),
            Handle::Look => photo.azimuth = whole_degrees(azimuth(floor - photo.at)),
        });
    };
    let touch = move |event: ev::TouchEvent| {
        let finger = pointing::of_finger(&event, node);
        if finger.is_some_and(|at| handle_at(DVec2::from(at)).is_some()) {
            event.prevent_default();
        }
    };
    let shows = Signal::derive(move || {
        spot.track();
        floor.track();
        held.track();
        desk.recce.session().palette.track();
    });
    let draw = move |surface: &Surface| {
        let view = held.get().map_or_else(|| fit((surface.width, surface.height)), |(_, view)| view);
        desk.recce.session().palette.with(|palette| {
            let chalk = Chalk::new(surface, palette);
            floor.with(|floor| floor.draw(&chalk, view));
            if let Some((at, look, fov)) = spot.get() {
                draw_edges(&chalk, view, at, look, fov);
                draw_look(&chalk, view, at, look, &palette.accent);
            }
        });
    };
    let label = live(move || spot.get().map_or_else(String::new, |(at, look, _)| words(at, look)));
    view! {
        <fieldset class="choices recce-where">
            <legend>{say!("Where it was taken")}</legend>
            <div
                class="recce-floor"
                on:pointerdown=press
                on:pointermove=follow
                on:pointerup=move |_| held.set(None)
                on:pointercancel=move |_| held.set(None)
                on:touchstart=touch
            >
                <CanvasHost node shows draw=Box::new(draw) while_moving=WhileMoving::Follows label class="recce-floor-canvas" />
            </div>
            <SpotFields desk />
        </fieldset>
    }
}

/// What undo calls a move of the photo.
const WHERE: &str = key!("Change where a photo was taken");

/// Every drag can be made by these.
#[component]
fn SpotFields(desk: PhotoDesk) -> impl IntoView {
    let metres = |metres: f64| say!("{metres:.1} m");
    let east = Signal::derive(move || desk.of(|photo| photo.at.x).unwrap_or_default());
    let north = Signal::derive(move || desk.of(|photo| photo.at.y).unwrap_or_default());
    let look = Signal::derive(move || desk.of(|photo| within_a_turn(photo.azimuth)).unwrap_or_default());
    view! {
        <StepField
            label=say!("It looks towards")
            range=(0.0, 359.0)
            step=TURN_STEP_DEG
            value=look
            words=|degrees: f64| format!("{degrees:.0}°, {}", wind(Angle::from_deg(degrees)))
            set=move |degrees: f64| desk.alter(text(WHERE), |photo| photo.azimuth = Angle::from_deg(degrees))
        />
        <StepField
            label=say!("East of the middle")
            range=SLIDER_M
            step=STEP_M
            value=east
            words=metres
            set=move |metres: f64| desk.alter(text(WHERE), |photo| photo.at.x = metres)
        />
        <StepField
            label=say!("North of the middle")
            range=SLIDER_M
            step=STEP_M
            value=north
            words=metres
            set=move |metres: f64| desk.alter(text(WHERE), |photo| photo.at.y = metres)
        />
    }
}

fn words(at: DVec2, look: Angle) -> String {
    say!(
        "The floor plan, north up. The photo was taken {:.1} m east and {:.1} m north of its middle and looks towards \
              {:.0}°, {}.",
        at.x,
        at.y,
        within_a_turn(look),
        wind(look)
    )
}

/// A place to the centimetre, as far out as places are kept.
fn rounded(at: DVec2) -> DVec2 {
    ((at * 100.0).round() / 100.0).clamp(DVec2::splat(-FARTHEST_M), DVec2::splat(FARTHEST_M))
}

fn whole_degrees(direction: Angle) -> Angle {
    Angle::from_deg(within_a_turn(direction).round() % 360.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn north_is_up_and_what_has_to_be_seen_is() {
        let points = [DVec2::new(-4.0, 1.0), DVec2::new(6.0, 9.0)];
        let view = Floor::default().view(points.into_iter(), (390.0, 300.0));
        for point in points {
            let (x, y) = view.to_px(point.extend(0.0));
            assert!((0.0..=390.0).contains(&x) && (0.0..=300.0).contains(&y), "{point} {x} {y}");
        }
        let (north, south) = (view.to_px(glam::DVec3::Y), view.to_px(glam::DVec3::ZERO));
        assert!(north.1 < south.1, "{north:?} {south:?}");
    }

    #[test]
    fn a_look_is_kept_in_whole_degrees_within_a_turn() {
        assert!((whole_degrees(Angle::from_deg(-0.4)).to_deg()).abs() < 1e-9);
        assert!((whole_degrees(Angle::from_deg(271.6)).to_deg() - 272.0).abs() < 1e-9);
    }
}
