//! How high the horizon stands around a place: a strip of sixteen directions that is dragged, or stepped.

use film::HorizonProfile;
use language::{say, text};
use leptos::ev;
use leptos::html;
use leptos::prelude::*;
use units::Angle;

use super::spot::SpotDesk;
use crate::canvas::{CanvasHost, Surface, WhileMoving, box_size};
use crate::draw::{Chalk, Palette};
use crate::light::words::WINDS;
use crate::pointing;
use crate::widgets::{StepField, live};

/// The directions of the strip.
const DIRECTIONS: usize = WINDS.len();
/// How high the horizon stands in each of them, degrees.
type Heights = [f64; DIRECTIONS];
/// Between two of them, degrees.
const APART_DEG: f64 = 22.5;
/// What a hand on the strip can say, degrees; fields say all that a horizon can have.
const HIGHEST_DRAGGED_DEG: f64 = 60.0;
/// What stands in a direction, as the core takes it, degrees.
const HEIGHT_DEG: (f64, f64) = (-5.0, 90.0);
/// Room below the strip for the letters of the directions, units of its canvas.
const LETTERS_PX: f64 = 22.0;

/// The strip and the fields of one direction.
#[component]
pub(super) fn Horizon(spot: SpotDesk) -> impl IntoView {
    let chosen = RwSignal::new(8_usize);
    let heights = Memo::new(move |_| heights_of(&spot.known().horizon));
    let set_all = Callback::new(move |heights: Heights| {
        // In range already, so it cannot be refused.
        drop(spot.change_spot(say!("Change the place's horizon"), |known| {
            known.horizon = of_heights(&heights);
        }));
    });
    let set = move |at: usize, degrees: f64| set_all.run(with_height(&heights.get_untracked(), at, degrees));
    let kept = live(move || {
        let points = spot.known().horizon.points_deg().len();
        if points > 0 && !is_of_strip(&spot.known().horizon) {
            say!("It has {points} points of its own; a change here keeps sixteen of them.")
        } else {
            String::new()
        }
    });
    let options = WINDS.iter().enumerate().map(|(at, name)| {
        view! { <option value=at.to_string() prop:selected=move || chosen.get() == at>{text(name)}</option> }
    });
    view! {
        <fieldset class="choices light-horizon">
            <legend>{say!("What stands around it")}</legend>
            <p class="quiet">
                {say!("Houses, hills and trees hide the sun. Stretch an arm and stack fists from eye height up to the top of them: \
                 each fist is about 10°. With what stands there the sun comes later and goes earlier.")}
            </p>
            <Strip heights chosen set=set_all spot />
            <label class="field">
                <span>{say!("Direction")}</span>
                <select on:change:target=move |event| chosen.set(event.target().value().parse().unwrap_or(0))>
                    {options.collect_view()}
                </select>
            </label>
            <StepField
                label=say!("How high it stands there")
                range=HEIGHT_DEG
                step=1.0
                value=Signal::derive(move || heights.with(|heights| heights[chosen.get() % DIRECTIONS]))
                words=|degrees: f64| say!("{degrees:.0}°, {:.1} fists", degrees / 10.0)
                set=move |degrees: f64| set(chosen.get_untracked(), degrees)
            />
            <p class="quiet">{kept}</p>
        </fieldset>
    }
}

/// The strip itself; every drag on it can be made by the fields below.
#[component]
fn Strip(
    spot: SpotDesk,
    heights: Memo<Heights>,
    chosen: RwSignal<usize>,
    set: Callback<Heights>,
) -> impl IntoView {
    let node = NodeRef::<html::Canvas>::new();
    let palette = spot.palette();
    // What a hand has drawn so far: the day is looked up anew when it lets go, and not at every step.
    let drawn = RwSignal::new(None::<Heights>);
    let shown = Memo::new(move |_| drawn.get().unwrap_or_else(|| heights.get()));
    let put = move |event: &ev::PointerEvent| {
        let Some(canvas) = node.get_untracked() else { return };
        let ((x, y), (width, height)) = (pointing::of_pointer(event), box_size(&canvas));
        let at = column(x, width);
        chosen.set(at);
        drawn.set(Some(with_height(&shown.get_untracked(), at, degrees_at(y, height))));
    };
    let press = move |event: ev::PointerEvent| {
        event.prevent_default();
        if let Some(canvas) = node.get_untracked() {
            // Without the capture a drag ends where the strip's edge does.
            drop(canvas.set_pointer_capture(event.pointer_id()));
        }
        put(&event);
    };
    let follow = move |event: ev::PointerEvent| {
        if drawn.with_untracked(Option::is_some) {
            put(&event);
        }
    };
    let release = move || {
        if let Some(heights) = drawn.get_untracked() {
            set.run(heights);
            drawn.set(None);
        }
    };
    let shows = Signal::derive(move || {
        shown.track();
        chosen.track();
        palette.track();
    });
    let draw = move |surface: &Surface| {
        palette.with(|palette| shown.with(|heights| draw_strip(surface, palette, heights, chosen.get())));
    };
    view! {
        <div
            class="light-strip"
            on:pointerdown=press
            on:pointermove=follow
            on:pointerup=move |_| release()
            on:pointercancel=move |_| release()
        >
            <CanvasHost
                node
                shows
                draw=Box::new(draw)
                while_moving=WhileMoving::Follows
                label=live(move || words(&shown.get()))
                class="light-strip-canvas"
            />
        </div>
    }
}

fn draw_strip(surface: &Surface, palette: &Palette, heights: &Heights, chosen: usize) {
    let chalk = Chalk::new(surface, palette);
    chalk.sweep();
    #[expect(clippy::cast_precision_loss, reason = "sixteen")]
    let wide = surface.width / DIRECTIONS as f64;
    let ground = surface.height - LETTERS_PX;
    let y_of = |degrees: f64| ground * (1.0 - degrees.clamp(0.0, HIGHEST_DRAGGED_DEG) / HIGHEST_DRAGGED_DEG);
    for degrees in [10.0, 20.0, 30.0, 40.0, 50.0] {
        chalk.pen(&palette.chalk_quiet, 0.5);
        chalk.line((0.0, y_of(degrees)), (surface.width, y_of(degrees)));
    }
    let mut left = 0.0;
    for (at, height) in heights.iter().enumerate() {
        let middle = left + wide / 2.0;
        let colour = if at == chosen { &palette.accent } else { &palette.chalk };
        let top = y_of(*height).min(ground - 3.0);
        chalk.torn_strip((middle, ground), (middle, top), colour, wide * 0.7);
        left += wide;
    }
    chalk.pen(&palette.chalk, 1.5);
    chalk.line((0.0, ground), (surface.width, ground));
    let letters = [
        (say!(in "a direction", "N"), 0.0),
        (say!(in "a direction", "E"), 4.0),
        (say!(in "a direction", "S"), 8.0),
        (say!(in "a direction", "W"), 12.0),
    ];
    for (letter, at) in letters {
        chalk.label(letter, (wide * (at + 0.5), surface.height - LETTERS_PX / 2.0), "center");
    }
    chalk.label("10°", (4.0, y_of(10.0) - 9.0), "left");
}

/// The direction under a point of the strip.
fn column(x: f64, width: f64) -> usize {
    #[expect(clippy::cast_precision_loss, reason = "sixteen")]
    let place = (x / width.max(1.0) * DIRECTIONS as f64).clamp(0.0, DIRECTIONS as f64 - 1.0);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a number from 0 to 15")]
    let at = place as usize;
    at
}

/// The height that a point of the strip says, in whole degrees.
fn degrees_at(y: f64, height: f64) -> f64 {
    let ground = (height - LETTERS_PX).max(1.0);
    ((1.0 - y / ground) * HIGHEST_DRAGGED_DEG).clamp(0.0, HIGHEST_DRAGGED_DEG).round()
}

/// How high the horizon stands in each of the sixteen directions.
fn heights_of(horizon: &HorizonProfile) -> Heights {
    let mut azimuth_deg = -APART_DEG;
    [(); DIRECTIONS].map(|()| {
        azimuth_deg += APART_DEG;
        horizon.elevation_at(Angle::from_deg(azimuth_deg)).to_deg()
    })
}

/// Whether a horizon is made of the strip's directions alone.
fn is_of_strip(horizon: &HorizonProfile) -> bool {
    horizon.points_deg().iter().all(|(azimuth, _)| (azimuth / APART_DEG).fract().abs() < 1e-9)
}

/// The same with another height in one direction.
fn with_height(before: &Heights, at: usize, degrees: f64) -> Heights {
    let mut heights = *before;
    if let Some(height) = heights.get_mut(at) {
        *height = degrees.clamp(HEIGHT_DEG.0, HEIGHT_DEG.1);
    }
    heights
}

/// The horizon of these heights; a level one if it stands nowhere.
fn of_heights(heights: &Heights) -> HorizonProfile {
    if heights.iter().all(|height| height.abs() < 0.05) {
        return HorizonProfile::LEVEL;
    }
    let mut azimuth_deg = -APART_DEG;
    let points = heights.map(|height| {
        azimuth_deg += APART_DEG;
        // To a tenth, so that what is between two points of before does not become a row of digits.
        (azimuth_deg, (height * 10.0).round() / 10.0)
    });
    HorizonProfile::from_deg(points).unwrap_or(HorizonProfile::LEVEL)
}

/// The strip in words: the directions in which something stands.
fn words(heights: &Heights) -> String {
    let stands = WINDS.iter().zip(heights).filter(|(_, height)| height.abs() >= 0.5);
    let stands: Vec<String> = stands.map(|(name, height)| format!("{} {height:.0}°", text(name))).collect();
    if stands.is_empty() {
        say!("The horizon is level").to_owned()
    } else {
        say!("The horizon stands: {}", stands.join(", "))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_house_in_the_west_stands_there_and_nowhere_else() {
        let horizon = of_heights(&with_height(&[0.0; DIRECTIONS], 12, 20.0));
        let heights = heights_of(&horizon);
        assert!((heights[12] - 20.0).abs() < 1e-9 && heights[11].abs() < 1e-9, "{heights:?}");
        assert!((horizon.elevation_at(Angle::from_deg(270.0)).to_deg() - 20.0).abs() < 1e-9, "{horizon:?}");
        assert!(is_of_strip(&horizon), "{horizon:?}");
        assert_eq!(words(&heights), "The horizon stands: west 20°");
    }

    #[test]
    fn what_is_taken_away_again_leaves_a_level_horizon() {
        let house = with_height(&[0.0; DIRECTIONS], 3, 12.0);
        assert_eq!(of_heights(&with_height(&house, 3, 0.0)), HorizonProfile::LEVEL);
        assert_eq!(words(&heights_of(&HorizonProfile::LEVEL)), "The horizon is level");
    }

    #[test]
    fn a_horizon_of_other_points_is_told_apart() {
        let measured = HorizonProfile::from_deg([(0.0, 1.0), (235.0, 4.0)]).expect("in range");
        assert!(!is_of_strip(&measured), "{measured:?}");
    }

    #[test]
    fn a_finger_on_the_strip_says_a_direction_and_a_height() {
        assert_eq!((column(0.0, 320.0), column(319.0, 320.0), column(400.0, 320.0)), (0, 15, 15));
        assert!(degrees_at(0.0, 122.0) > 59.0 && degrees_at(100.0, 122.0) < 1.0, "top and ground");
        assert!((degrees_at(50.0, 122.0) - 30.0).abs() < 1e-9, "the middle");
    }
}
