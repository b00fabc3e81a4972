//! One photo of a place: what is marked in it, and what follows for how the phone was held; where it was taken.

use film::{PhotoId, PhotoPose, PlacePhoto, equivalent_of_fov, fov_of_equivalent};
use glam::DVec2;
use language::say;
use leptos::prelude::*;
use staging::{NoSighting, Sighting};
use units::{Angle, Length};

use super::Recce;
use super::explanations::{POSE, SEES, SUN_FROM_HERE};
use super::overlay::Overlay;
use super::sight::{Known, doubt, horizon_of, pose_of, told};
use super::sun_from;
use super::where_taken::WhereTaken;
use crate::marks::{Mark, MarkedPicture};
use crate::story::words::sentence_of;
use crate::taking_in::TakenIn;
use crate::widgets::{
    LengthField, NumberField, Tick, TypedField, explained, explained_heading, label_and_text, live, when,
};

/// A photo that is worked on.
#[derive(Clone, Copy)]
pub(super) struct PhotoDesk {
    pub(super) recce: Recce,
    pub(super) id: PhotoId,
    photo: Memo<Option<PlacePhoto>>,
    known: RwSignal<Known>,
    marks: RwSignal<Vec<Mark>>,
    /// What follows from the marks, once something was marked or typed.
    sighting: Memo<Option<Result<Sighting, NoSighting>>>,
    /// Whether a hand has marked or typed something since the photo was opened.
    is_touched: RwSignal<bool>,
}

/// What heights, doors and distances can be, metres.
const HEIGHT_M: (f64, f64) = (0.05, 30.0);
const TALL_M: (f64, f64) = (0.3, 3.0);
const FAR_M: (f64, f64) = (0.5, 10_000.0);
/// What a photo's equivalent focal length can be, mm.
const EQUIVALENT_MM: (f64, f64) = (5.0, 300.0);
/// A door as most are: chosen.
const DOOR_M: (f64, f64) = (0.9, 2.0);
/// Somebody until it is said how tall: chosen.
const STATURE_M: f64 = 1.7;

impl PhotoDesk {
    fn new(recce: Recce, id: PhotoId) -> Self {
        let photo = Memo::new(move |_| recce.home().photo(id));
        let pose = photo.with_untracked(|photo| photo.as_ref().map_or(PhotoPose::USUAL, |photo| photo.pose));
        let known = RwSignal::new(Known::usual(pose.height.to_m()));
        let marks = RwSignal::new(photo.with_untracked(|photo| {
            photo.as_ref().map_or_else(Vec::new, |photo| {
                known.get_untracked().marks(&[], size_of(photo), horizon(photo))
            })
        }));
        let is_touched = RwSignal::new(false);
        let view = Memo::new(move |_| {
            photo.with(|photo| photo.as_ref().map(|photo| (photo.view(), size_of(photo))))
        });
        let sighting = Memo::new(move |_| {
            let (view, size) = view.get()?;
            marks.with(|marks| Some(known.get().sights(marks, &view, size).solve()))
        });
        Self { recce, id, photo, known, marks, sighting, is_touched }
    }

    /// Something of the photo, while it is there.
    pub(super) fn of<Value>(self, read: impl FnOnce(&PlacePhoto) -> Value) -> Option<Value> {
        self.photo.with(|photo| photo.as_ref().map(read))
    }

    /// Changes the photo.
    pub(super) fn alter(self, what: &str, change: impl FnOnce(&mut PlacePhoto)) {
        self.recce.home().alter(what, self.id, change);
    }

    /// Says what is known, and puts the marks that go with it.
    fn know(self, change: impl FnOnce(&mut Known)) {
        let mut known = self.known.get_untracked();
        change(&mut known);
        let marks = untrack(|| {
            self.of(|photo| self.marks.with(|there| known.marks(there, size_of(photo), horizon(photo))))
        });
        if let Some(marks) = marks {
            self.marks.set(marks);
        }
        self.known.set(known);
        self.is_touched.set(true);
    }

    /// The pose as it is being marked; as it is kept, while nothing follows from the marks.
    fn pose(self) -> PhotoPose {
        let kept = self.of(|photo| photo.pose).unwrap_or(PhotoPose::USUAL);
        if !self.is_touched.get() {
            return kept;
        }
        self.sighting.with(|sighting| match sighting {
            Some(Ok(sighting)) => pose_of(sighting),
            Some(Err(_)) | None => kept,
        })
    }

    /// Keeps the pose that follows from the marks.
    fn keep(self) {
        let pose = untrack(|| self.pose());
        self.alter(say!("Change how a photo was taken"), |photo| photo.pose = pose);
        self.is_touched.set(false);
    }
}

fn size_of(photo: &PlacePhoto) -> DVec2 {
    DVec2::new(f64::from(photo.size_px.0), f64::from(photo.size_px.1))
}

fn horizon(photo: &PlacePhoto) -> [DVec2; 2] {
    horizon_of(&photo.pose, &photo.view(), size_of(photo))
}

/// The photo with its marks, and what can be said of it.
#[component]
pub(super) fn PhotoForm(
    recce: Recce,
    id: PhotoId,
    picture: RwSignal<Option<TakenIn>, LocalStorage>,
) -> impl IntoView {
    let desk = PhotoDesk::new(recce, id);
    // A hand that moves a mark means to mark.
    Effect::new(move |before: Option<Vec<Mark>>| {
        let marks = desk.marks.get();
        if before.is_some_and(|before| before != marks) {
            desk.is_touched.set(true);
        }
        marks
    });
    let over_shows = Signal::derive(move || {
        desk.sighting.track();
        desk.photo.track();
        desk.is_touched.track();
        recce.daylight().track();
    });
    let over = Box::new(move |chalk: &crate::draw::Chalk<'_>, placing: &crate::marks::Placing| {
        let (pose, daylight) = (desk.pose(), recce.daylight().get());
        desk.of(|photo| Overlay { photo, pose, daylight: daylight.as_deref() }.draw(chalk, placing));
    });
    let label =
        live(move || say!("The photo with its floor. {}", told(&desk.pose(), recce.session().unit())));
    view! {
        <div class="recce-form">
            <MarkedPicture
                picture=Signal::derive_local(move || picture.get())
                marks=desk.marks
                over_shows
                over
                palette=recce.session().palette
                label
            />
            <Outcome desk />
            <Given desk />
            <Facts desk />
            <WhereTaken desk />
            <SunHours desk />
        </div>
    }
}

/// What follows from the marks, and a button that keeps it.
#[component]
fn Outcome(desk: PhotoDesk) -> impl IntoView {
    let words = live(move || told(&desk.pose(), desk.recce.session().unit()));
    let (label, explanation) = label_and_text(words, &POSE);
    let trouble = move || {
        desk.sighting.with(|sighting| match sighting {
            Some(Err(error)) if desk.is_touched.get() => Some(sentence_of(&error.to_string())),
            Some(Ok(sighting)) if desk.is_touched.get() => doubt(sighting).map(str::to_owned),
            Some(_) | None => None,
        })
    };
    let can_keep =
        move || desk.is_touched.get() && desk.sighting.with(|sighting| matches!(sighting, Some(Ok(_))));
    view! {
        <p class="recce-pose" role="status">{label}</p>
        {explanation}
        {move || trouble().map(|words| view! { <p class="problem" role="alert">{words}</p> })}
        <p class="quiet">
            {say!("It fits if the lines lie on the ground and the stick stands as tall as somebody would there.")}
        </p>
        {when(can_keep, move || view! {
            <button type="button" class="next" on:click=move |_| desk.keep()>{say!("Keep this for the photo")}</button>
        }.into_any())}
    }
}

/// What is known of the photo: the horizon, the phone's height, people and a door of known size.
#[component]
fn Given(desk: PhotoDesk) -> impl IntoView {
    let unit = Signal::derive(move || desk.recce.session().unit());
    let known = move |read: fn(&Known) -> bool| Signal::derive(move || desk.known.with(read));
    let metres = move |read: fn(&Known) -> Option<f64>, usual: f64| {
        Signal::derive(move || desk.known.with(read).unwrap_or(usual))
    };
    let height = move || {
        let set = move |metres: f64| desk.know(|known| known.height_m = Some(metres));
        let value = metres(|known| known.height_m, 1.5);
        view! { <LengthField label=say!("The phone's height") range=HEIGHT_M unit value set /> }.into_any()
    };
    let person = move |at: usize| {
        let set = move |metres: f64| {
            desk.know(|known| known.people_m[at] = Some(metres));
        };
        let value = Signal::derive(move || desk.known.with(|known| known.people_m[at]).unwrap_or(STATURE_M));
        view! { <LengthField label=say!("How tall they are, with shoes") range=TALL_M unit value set /> }
            .into_any()
    };
    let door = move || {
        let set = move |change: fn(&mut (f64, f64), f64)| {
            move |metres: f64| {
                desk.know(|known| {
                    if let Some(door) = &mut known.door_m {
                        change(door, metres);
                    }
                });
            }
        };
        view! {
            <LengthField
                label=say!("How wide the door is")
                range=TALL_M
                unit
                value=metres(|known| known.door_m.map(|door| door.0), DOOR_M.0)
                set=set(|door, metres| door.0 = metres)
            />
            <LengthField
                label=say!("How high the door is")
                range=TALL_M
                unit
                value=metres(|known| known.door_m.map(|door| door.1), DOOR_M.1)
                set=set(|door, metres| door.1 = metres)
            />
        }
        .into_any()
    };
    let has_person = |at: usize| move || desk.known.with(|known| known.people_m[at].is_some());
    view! {
        <fieldset class="choices recce-given">
            <legend>{say!("What is known")}</legend>
            <Tick
                words=say!("The horizon: where flat ground would end")
                is_on=known(|known| known.horizon)
                set=move |is_on: bool| desk.know(|known| known.horizon = is_on)
            />
            <Tick
                words=say!("How high the phone was")
                is_on=known(|known| known.height_m.is_some())
                set=move |is_on: bool| desk.know(|known| known.height_m = is_on.then_some(1.5))
            />
            {when(move || desk.known.with(|known| known.height_m.is_some()), height)}
            <Tick
                words=say!("Somebody who stands there: feet and top of the head")
                is_on=known(|known| known.people_m[0].is_some())
                set=move |is_on: bool| desk.know(|known| known.people_m = [is_on.then_some(STATURE_M), None])
            />
            {when(has_person(0), move || person(0))}
            {when(has_person(0), move || view! {
                <Tick
                    words=say!("Somebody else, nearer or farther")
                    is_on=known(|known| known.people_m[1].is_some())
                    set=move |is_on: bool| desk.know(|known| known.people_m[1] = is_on.then_some(STATURE_M))
                />
            }.into_any())}
            {when(has_person(1), move || person(1))}
            <Tick
                words=say!("A door that stands on the floor: its four corners")
                is_on=known(|known| known.door_m.is_some())
                set=move |is_on: bool| desk.know(|known| known.door_m = is_on.then_some(DOOR_M))
            />
            {when(move || desk.known.with(|known| known.door_m.is_some()), door)}
        </fieldset>
    }
}

/// Its name, its lens, and how far away what stands behind is.
#[component]
fn Facts(desk: PhotoDesk) -> impl IntoView {
    let unit = Signal::derive(move || desk.recce.session().unit());
    let equivalent =
        Signal::derive(move || desk.of(|photo| equivalent_of_fov(photo.horizontal_fov, photo.size_px)));
    let set_equivalent = move |millimetres: Option<f64>| {
        if let Some(millimetres) = millimetres {
            desk.alter(say!("Change a photo's lens"), |photo| {
                photo.horizontal_fov = fov_of_equivalent(millimetres, photo.size_px);
            });
        }
    };
    let view_words = live(move || {
        let told = desk.of(|photo| say!("It sees {:.1}° from side to side.", photo.horizontal_fov.to_deg()));
        told.unwrap_or_default()
    });
    let name = live(move || desk.of(|photo| photo.name.clone()).unwrap_or_default());
    let take_name = move |name: String| {
        desk.alter(say!("Change what a photo is called"), |photo| name.trim().clone_into(&mut photo.name));
        Ok(())
    };
    let far = Signal::derive(move || desk.of(|photo| photo.far.to_m()).unwrap_or(FAR_M.0));
    let set_far = move |metres: f64| {
        desk.alter(say!("Change how far a photo's background is"), |photo| {
            photo.far = Length::from_m(metres);
        });
    };
    view! {
        <div class="recce-facts">
            <TypedField label=say!("What it is called") shown=name take=take_name />
            <NumberField
                label=say!("Its lens, as a 35 mm-equivalent")
                hint=say!("As the camera app shows it; 1x is 23 to 26 on most phones.")
                unit="mm"
                range=EQUIVALENT_MM
                value=equivalent
                set=set_equivalent
            />
            <div class="quiet">{explained(view_words, &SEES)}</div>
            <LengthField
                label=say!("How far away what stands behind is")
                hint=say!("Walls, trees, houses: it says how soft they get.")
                range=FAR_M
                unit
                value=far
                set=set_far
            />
        </div>
    }
}

/// From where the sun comes to who looks as the photo does, hour by hour.
#[component]
fn SunHours(desk: PhotoDesk) -> impl IntoView {
    let hours = Memo::new(move |_| {
        let daylight = desk.recce.daylight().get()?;
        desk.of(|photo| sun_from::hours(photo, &daylight))
    });
    let lines = move || {
        match hours.get() {
        Some(hours) => hours.into_iter().map(|hour| view! { <li>{hour}</li> }).collect_view().into_any(),
        None => view! {
            <li class="quiet">{say!("Say in Light where the place is and which day you shoot: then the sun's way is \
                  drawn here.")}</li>
        }
        .into_any(),
    }
    };
    view! {
        <section class="recce-sun" aria-label=say!("The sun from here")>
            {explained_heading(say!("The sun from here"), &SUN_FROM_HERE)}
            <ul>{lines}</ul>
        </section>
    }
}

/// A direction within one turn, whole degrees.
pub(super) fn within_a_turn(direction: Angle) -> f64 {
    direction.to_deg().rem_euclid(360.0)
}
