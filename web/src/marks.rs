//! A picture with marks on it: dragged by hand under a magnifier, or moved by keys, pixel by pixel.

mod placing;

pub(crate) use placing::Placing;

use glam::DVec2;
use language::say;
use leptos::ev;
use leptos::html;
use leptos::prelude::*;

use crate::canvas::{CanvasHost, Surface, WhileMoving, box_size};
use crate::draw::{Chalk, Palette, REACH_PX};
use crate::lasting::Lasting;
use crate::pointing;
use crate::taking_in::TakenIn;

/// A mark on a picture.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Mark {
    /// Where it is, in pixels of the picture before it was scaled: x from its left, y from its top.
    pub(crate) at: DVec2,
    /// What it marks.
    pub(crate) name: &'static str,
    /// Which of the palette's tapes it is drawn with.
    pub(crate) tape: usize,
}

/// What lies over a picture beside its marks, with where the picture is on the canvas.
pub(crate) type DrawOver = Box<dyn Fn(&Chalk<'_>, &Placing)>;

/// The picture and its marks.
#[derive(Clone, Copy)]
struct Desk {
    picture: Signal<Option<TakenIn>, LocalStorage>,
    marks: RwSignal<Vec<Mark>>,
    chosen: RwSignal<usize>,
    held: RwSignal<Option<Held>>,
    node: NodeRef<html::Canvas>,
}

/// A mark that a hand holds.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Held {
    /// From where it was taken hold of to the mark, pixels of the picture.
    grip: DVec2,
}

/// How far a key moves a mark, pixels of the picture, and how far with Shift.
const KEY_PX: f64 = 1.0;
const FAR_KEY_PX: f64 = 10.0;
/// The magnifier: its radius in units, and how much larger it shows the picture than the canvas does. Chosen so that a
/// finger's width of picture is seen beside the finger.
const LOUPE_PX: f64 = 56.0;
const LOUPE_TIMES: f64 = 4.0;
/// The radius of a mark's ring, units: chosen so that what is marked shows in it.
const RING_PX: f64 = 9.0;

/// A picture with its marks, and a button for each of them.
#[component]
pub(crate) fn MarkedPicture(
    /// The picture; none shows an empty box.
    picture: Signal<Option<TakenIn>, LocalStorage>,
    /// The marks on it.
    marks: RwSignal<Vec<Mark>>,
    /// Tells of every change of what lies over it.
    over_shows: Signal<()>,
    /// Draws what lies over it.
    over: DrawOver,
    /// The theme's colours.
    palette: Lasting<RwSignal<Palette>>,
    /// What is seen, for those who do not see it.
    #[prop(into)]
    label: Signal<String>,
) -> impl IntoView {
    let node = NodeRef::<html::Canvas>::new();
    let desk = Desk { picture, marks, chosen: RwSignal::new(0), held: RwSignal::new(None), node };
    let shows = Signal::derive(move || {
        picture.track();
        marks.track();
        desk.chosen.track();
        desk.held.track();
        palette.track();
        over_shows.get();
    });
    let draw =
        move |surface: &Surface| palette.with(|palette| desk.draw(&Chalk::new(surface, palette), &over));
    let aspect = Signal::derive_local(move || {
        picture.with(|picture| {
            let (width, height) = picture.as_ref().map_or((4, 3), |picture| picture.true_px);
            format!("{width} / {height}")
        })
    });
    let names =
        Memo::new(move |_| marks.with(|marks| marks.iter().map(|mark| mark.name).collect::<Vec<_>>()));
    let buttons = move || {
        names.get().into_iter().enumerate().map(|(at, name)| mark_button(desk, at, name)).collect_view()
    };
    view! {
        <link rel="stylesheet" href="marks/marks.css" />
        <div class="marked" on:keydown=move |event| desk.key(&event)>
            <div
                class="marked-picture"
                tabindex="0"
                role="group"
                aria-label=say!("The picture: arrow keys move the chosen mark by a pixel, with Shift by ten")
                style:aspect-ratio=move || aspect.get()
                on:pointerdown=move |event| desk.press(&event)
                on:pointermove=move |event| desk.follow(&event)
                on:pointerup=move |_| desk.held.set(None)
                on:pointercancel=move |_| desk.held.set(None)
                on:touchstart=move |event| desk.touch(&event)
            >
                <CanvasHost node shows draw=Box::new(draw) while_moving=WhileMoving::Follows label class="marked-canvas" />
            </div>
            <div class="marked-names" role="group" aria-label=say!("Marks")>{buttons}</div>
        </div>
    }
}

/// A button that chooses a mark and says where it is.
fn mark_button(desk: Desk, at: usize, name: &'static str) -> impl IntoView {
    let place = move || {
        let place = desk.marks.with(|marks| marks.get(at).map(|mark| mark.at));
        place.map_or_else(String::new, |place| format!("{:.0}, {:.0} px", place.x, place.y))
    };
    view! {
        <button
            type="button"
            class="toggle"
            aria-pressed=move || (desk.chosen.get() == at).to_string()
            on:click=move |_| desk.chosen.set(at)
        >
            {language::text(name)}" "<span class="quiet">{place}</span>
        </button>
    }
}

impl Desk {
    /// Where the picture is on the canvas.
    fn placing(self) -> Option<Placing> {
        let canvas = self.node.get_untracked()?;
        let size = box_size(&canvas);
        self.picture.with(|picture| picture.as_ref().map(|picture| Placing::within(size, picture.true_px)))
    }

    /// The mark that a hand at that place of the canvas means: the nearest within its reach.
    fn mark_at(self, at: DVec2) -> Option<usize> {
        let placing = untrack(|| self.placing())?;
        self.marks.with_untracked(|marks| {
            let apart = marks.iter().map(|mark| placing.to_canvas(mark.at).distance(at)).enumerate();
            let nearest = apart.min_by(|one, other| one.1.total_cmp(&other.1));
            nearest.filter(|(_, apart)| *apart <= REACH_PX).map(|(at, _)| at)
        })
    }

    fn press(self, event: &ev::PointerEvent) {
        let at = DVec2::from(pointing::of_pointer(event));
        let (Some(index), Some(placing)) = (self.mark_at(at), untrack(|| self.placing())) else { return };
        let Some(place) = self.marks.with_untracked(|marks| marks.get(index).map(|mark| mark.at)) else {
            return;
        };
        if let Some(canvas) = self.node.get_untracked()
            // Refused only for a pointer that is gone already, and then there is nothing to drag.
            && canvas.set_pointer_capture(event.pointer_id()).is_ok()
        {
            self.chosen.set(index);
            self.held.set(Some(Held { grip: place - placing.to_picture(at) }));
        }
    }

    fn follow(self, event: &ev::PointerEvent) {
        let Some(Held { grip }) = self.held.get_untracked() else { return };
        let Some(placing) = untrack(|| self.placing()) else { return };
        let at = DVec2::from(pointing::of_pointer(event));
        self.put(&placing, placing.to_picture(at) + grip);
    }

    /// Puts the chosen mark there, but not outside the picture.
    fn put(self, placing: &Placing, at: DVec2) {
        let chosen = self.chosen.get_untracked();
        self.marks.update(|marks| {
            if let Some(mark) = marks.get_mut(chosen) {
                mark.at = at.clamp(DVec2::ZERO, placing.true_px);
            }
        });
    }

    /// A finger on a mark drags it; anything else scrolls the page.
    fn touch(self, event: &ev::TouchEvent) {
        let finger = pointing::of_finger(event, self.node);
        if finger.is_some_and(|at| self.mark_at(DVec2::from(at)).is_some()) {
            event.prevent_default();
        }
    }

    fn key(self, event: &ev::KeyboardEvent) {
        let far = if event.shift_key() { FAR_KEY_PX } else { KEY_PX };
        let way = match event.key().as_str() {
            "ArrowLeft" => DVec2::new(-far, 0.0),
            "ArrowRight" => DVec2::new(far, 0.0),
            "ArrowUp" => DVec2::new(0.0, -far),
            "ArrowDown" => DVec2::new(0.0, far),
            _ => return,
        };
        let chosen = self.chosen.get_untracked();
        let place = self.marks.with_untracked(|marks| marks.get(chosen).map(|mark| mark.at));
        if let Some((place, placing)) = place.zip(untrack(|| self.placing())) {
            event.prevent_default();
            self.put(&placing, place + way);
        }
    }

    fn draw(self, chalk: &Chalk<'_>, over: &DrawOver) {
        chalk.sweep();
        let Some(placing) = self.placing() else { return };
        self.picture.with(|picture| {
            let Some(picture) = picture else { return };
            let (corner, size) = (placing.corner, placing.shown_size());
            draw_picture(chalk, picture, corner, size);
        });
        over(chalk, &placing);
        let chosen = self.chosen.get();
        self.marks.with(|marks| {
            for (at, mark) in marks.iter().enumerate() {
                draw_mark(chalk, placing.to_canvas(mark.at), mark, at == chosen);
            }
            if let Some(mark) = marks.get(chosen).filter(|_| self.held.get().is_some()) {
                self.draw_loupe(chalk, &placing, mark);
            }
        });
    }

    /// The picture around a held mark, magnified, in the upper corner that the hand is not in.
    fn draw_loupe(self, chalk: &Chalk<'_>, placing: &Placing, mark: &Mark) {
        let at = placing.to_canvas(mark.at);
        let away = if at.x > chalk.width / 2.0 { LOUPE_PX + 8.0 } else { chalk.width - LOUPE_PX - 8.0 };
        let (x, y) = (away, LOUPE_PX + 8.0);
        let context = chalk.context;
        let ring = || {
            context.begin_path();
            // Refused only for a radius below nothing.
            context.arc(x, y, LOUPE_PX, 0.0, std::f64::consts::TAU).unwrap_or_default();
        };
        context.save();
        ring();
        context.clip();
        chalk.sweep();
        let larger = placing.shown_size() * LOUPE_TIMES;
        let corner = DVec2::new(x, y) - (at - placing.corner) * LOUPE_TIMES;
        self.picture.with(|picture| {
            if let Some(picture) = picture {
                draw_picture(chalk, picture, corner, larger);
            }
        });
        cross(chalk, (x, y), LOUPE_PX, mark);
        context.restore();
        chalk.pen(&chalk.palette.chalk, 2.0);
        ring();
        context.stroke();
    }
}

/// The picture with its upper left corner there and as large as that.
fn draw_picture(chalk: &Chalk<'_>, picture: &TakenIn, corner: DVec2, size: DVec2) {
    // A bitmap that was let go draws nothing.
    drop(chalk.context.draw_image_with_image_bitmap_and_dw_and_dh(
        &picture.bitmap,
        corner.x,
        corner.y,
        size.x,
        size.y,
    ));
}

/// A mark: a ring around what it marks, with a cross that ends before the middle.
fn draw_mark(chalk: &Chalk<'_>, at: DVec2, mark: &Mark, is_chosen: bool) {
    let context = chalk.context;
    for (colour, width) in
        [(chalk.palette.studio.as_str(), 5.0), (tape(chalk, mark), if is_chosen { 3.0 } else { 2.0 })]
    {
        chalk.pen(colour, width);
        context.begin_path();
        context.arc(at.x, at.y, RING_PX, 0.0, std::f64::consts::TAU).unwrap_or_default();
        context.stroke();
    }
    cross(chalk, (at.x, at.y), if is_chosen { RING_PX * 2.0 } else { RING_PX }, mark);
}

/// Two thin lines through a place that leave its middle free.
fn cross(chalk: &Chalk<'_>, (x, y): (f64, f64), reach: f64, mark: &Mark) {
    const FREE_PX: f64 = 3.0;
    let context = chalk.context;
    chalk.pen(tape(chalk, mark), 1.0);
    context.begin_path();
    for (along, up) in [(1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0)] {
        let [from, to] = [FREE_PX, reach].map(|far| (x + along * far, y + up * far));
        chalk.add_line(from, to);
    }
    context.stroke();
}

fn tape<'chalk>(chalk: &'chalk Chalk<'_>, mark: &Mark) -> &'chalk str {
    chalk.palette.tape.get(mark.tape).map_or(&chalk.palette.chalk, |tape| tape)
}
