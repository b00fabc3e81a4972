//! What the user wants and owns, and what the core makes of it.

mod own_plan;

use std::collections::BTreeSet;
use std::sync::Arc;
use std::time::Duration;

use film::{Care, Comparison, Kit, KitRecord, ShotResult, Telling, USUAL_STEP};
use language::{Number, say};
use leptos::leptos_dom::helpers::{TimeoutHandle, set_timeout_with_handle};
use leptos::prelude::*;
use requests::{
    DeliveryRequest, ForegroundRequest, PieceWord, SetupRequest, ShotSizeRequest, SubjectRequest,
};
use serde::{Deserialize, Serialize};
use staging::Stage;
use units::{Length, LengthUnit};

use crate::behind::Behind;
use crate::dressing::{Dressing, Item};
use crate::failure::open_anew;
use crate::json;
use crate::lasting::Lasting;
use crate::later::Told;
use crate::pictures::Grain;
use crate::presets;
use crate::speech::{Wish, feet_are_usual};
use crate::storage::{self, BrowserStorage};

/// The state of the page: signals that screens write, and memos that they read.
#[derive(Clone, Copy)]
pub(crate) struct Session {
    /// What the crew owns, as it is kept and shown in the Kit screen. Only ever a kit that converts.
    pub(crate) kit: Lasting<RwSignal<KitRecord>>,
    /// The shot that is being set up.
    pub(crate) plan: Lasting<RwSignal<Plan>>,
    /// How the page shows things.
    pub(crate) settings: Lasting<RwSignal<Settings>>,
    /// The screen that is shown.
    pub(crate) screen: Lasting<RwSignal<Screen>>,
    /// The theme's colours for canvases, read from the page whenever the theme is set.
    pub(crate) palette: Lasting<RwSignal<crate::draw::Palette>>,
    /// What is chosen on the set, and what it was like before.
    pub(crate) dressing: Dressing,
    /// Whether the next thing that is clicked is what focus is pulled to.
    pub(crate) marks_second: Lasting<RwSignal<bool>>,
    /// What the browser refused to keep, so that it would be lost with the page.
    pub(crate) unsaved: Lasting<RwSignal<BTreeSet<&'static str>>>,
    /// The kit as the core computes with it.
    pub(crate) owned: Lasting<Memo<Arc<Kit>>>,
    /// The shot on every lens of the kit.
    pub(crate) rows: Lasting<Memo<Arc<[Comparison]>>>,
    /// The row that is shown large.
    pub(crate) chosen: Lasting<Memo<Option<Comparison>>>,
}

/// A screen of the page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Screen {
    Story,
    Setup,
    Light,
    Day,
    Kit,
    Learn,
}

/// The shot that is being set up: the core's own request, and what only the page needs.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(crate) struct Plan {
    /// The shot; lens, recording and adapter are named below and taken from the kit.
    pub(crate) shot: SetupRequest,
    /// The chosen lens, by name.
    pub(crate) lens: String,
    /// The chosen zoom into the middle of its sensor.
    pub(crate) zoom: f64,
    /// The chosen recording mode, by name.
    pub(crate) recording: String,
    /// The chosen adapter, by name, if one is on.
    pub(crate) adapter: Option<String>,
    /// What to sort lenses by.
    pub(crate) sort: Sort,
    /// Which way the subject faces, clockwise from straight at the phone.
    pub(crate) facing_deg: f64,
    /// Where the phone stands on the floor plan, clockwise from the plan's own top, seen from the subject.
    pub(crate) phone_bearing_deg: f64,
    /// The larger camera's f-number that the phone's picture is compared with.
    #[serde(default = "usual_larger_f_number")]
    pub(crate) larger_f_number: f64,
    /// Something near the lens, where plans that were kept before sets could be dressed have it.
    #[serde(default, skip_serializing_if = "Option::is_none", rename = "foreground")]
    pub(crate) earlier_foreground: Option<EarlierForeground>,
    /// The shot of a film that this is, if it is one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(crate) of: Option<OfShot>,
    /// The photo of the place that stands behind the picture, if there is one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(crate) behind: Option<Behind>,
    /// Whether it is left away.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub(crate) hides_behind: bool,
    /// What those of the shot are called, where a film says it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(crate) own_names: Vec<String>,
    /// What the others are called, as they are listed.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(crate) other_names: Vec<String>,
}

/// The shot of a film that a plan is of.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct OfShot {
    /// What the film is called, to say which one is not open.
    pub(crate) film: String,
    /// The shot's own number: numbers begin by chance, so that only copies of a film share theirs.
    pub(crate) shot: u64,
    /// Where in the film it is, and what it is of.
    pub(crate) words: String,
}

/// A usual zoom's widest opening: chosen.
const fn usual_larger_f_number() -> f64 {
    2.8
}

/// A plant near the lens.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub(crate) struct EarlierForeground {
    ahead_m: f64,
    right_m: f64,
}

/// What lenses are sorted by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) enum Sort {
    Kit,
    NaturalFace,
    SoftBackground,
    MostPlace,
    LeastDistance,
}

/// How the page shows things.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub(crate) struct Settings {
    pub(crate) theme: Theme,
    /// What is spoken.
    pub(crate) wish: Wish,
    pub(crate) feet: bool,
    /// The length of the user's step.
    pub(crate) step_m: f64,
    /// Whether frame lines and thirds are drawn.
    pub(crate) lines: bool,
    /// Whether the frame shows what the crop gives up.
    pub(crate) whole: bool,
    /// What pictures keep of it.
    pub(crate) grain: Grain,
}

/// The page's colours.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) enum Theme {
    /// As the system says.
    System,
    /// Warm light.
    Paper,
    /// Dark.
    Studio,
    /// Black on white, for sunlight.
    Sun,
}

const KIT_KEY: &str = "tapemark.kit";
const PLAN_KEY: &str = "tapemark.setup";
/// A plan is written when it has not changed for so long: chosen because a drag changes it at every step, and writing
/// takes as long as a step may.
const SAVED_AFTER: Duration = Duration::from_millis(200);
const SETTINGS_KEY: &str = "tapemark.settings";

thread_local! {
    /// Read once: what is spoken is settled by them, and then the page begins with them.
    static SETTINGS_LEFT: Settings = storage::load(&BrowserStorage, SETTINGS_KEY).unwrap_or_default();
}

/// The state that the page and its later module both know.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(crate) struct Shared {
    kit: KitRecord,
    plan: Plan,
    settings: Settings,
    selected: Option<Item>,
    marks_second: bool,
}

impl Session {
    /// The session as it was left, or a first one that answers before anything is asked; it keeps what changes.
    pub(crate) fn open() -> Self {
        let session = Self::as_left();
        session.keep();
        session
    }

    /// The session as it was left, of which nothing is kept.
    pub(crate) fn as_left() -> Self {
        Self::of(Shared {
            kit: storage::load_if(&BrowserStorage, KIT_KEY, |kit: &KitRecord| kit.to_kit().is_ok())
                .unwrap_or_else(first_kit),
            plan: storage::load(&BrowserStorage, PLAN_KEY).map_or_else(Plan::first, Plan::brought_up_to_date),
            settings: Settings::as_left(),
            selected: None,
            marks_second: false,
        })
    }

    /// A session of that state.
    pub(crate) fn of(Shared { kit, plan, settings, selected, marks_second }: Shared) -> Self {
        let (kit, plan) = (Lasting::signal(kit), Lasting::signal(plan));
        let owned = Lasting::memo(move || {
            Arc::new(kit.with(|record| record.to_kit().unwrap_or_else(|_| preset_kit())))
        });
        let rows = Lasting::memo(move || Arc::from(plan.with(|plan| plan.compare(&owned.get()))));
        let chosen = Lasting::memo(move || plan.with(|plan| plan.choose(&owned.get(), &rows.get()).cloned()));
        Self {
            kit,
            plan,
            settings: Lasting::signal(settings),
            screen: Lasting::signal(Screen::Setup),
            palette: Lasting::signal(crate::draw::Palette::default()),
            dressing: Dressing::new(selected),
            marks_second: Lasting::signal(marks_second),
            unsaved: Lasting::signal(BTreeSet::new()),
            owned,
            rows,
            chosen,
        }
    }

    /// The state that both sides of the door to the later module know, as text.
    pub(crate) fn shared(self) -> String {
        let shared = Shared {
            kit: self.kit.get(),
            plan: self.plan.get(),
            settings: self.settings.get(),
            selected: self.selected(),
            marks_second: self.marks_second.get(),
        };
        // Plain structs of text and finite numbers always have a text.
        json::written(&shared).unwrap_or_default()
    }

    /// What the other side of the door is told of the plan.
    pub(crate) fn tells_plan(self) -> Told {
        Told::Plan {
            plan: Box::new(self.plan.get()),
            selected: self.selected(),
            marks_second: self.marks_second.get(),
            change: self.dressing.last_change(),
        }
    }

    /// Takes on what the other side of the door changed.
    pub(crate) fn take(self, told: Told) {
        match told {
            Told::Kit(kit) => {
                if self.kit.with_untracked(|before| *before != kit) {
                    self.kit.set(kit);
                }
            }
            Told::Settings(settings) => {
                if self.settings.with_untracked(|before| *before != settings) {
                    self.settings.set(settings);
                }
            }
            Told::Plan { plan, selected, marks_second, change } => {
                if self.plan.with_untracked(|before| *before != *plan) {
                    let number = self.plan.with_untracked(Plan::shot_number);
                    if number == plan.shot_number() {
                        let (item, what) = change.unwrap_or((None, String::new()));
                        self.change_set(item, &what, &|before| before.clone_from(&plan));
                    } else {
                        self.open_plan(*plan);
                    }
                }
                // Whom the plan has lost may come back with it, and shall not be chosen then.
                if self.dressing.kept_untracked() != selected {
                    self.select(selected);
                }
                if self.marks_second.get_untracked() != marks_second {
                    self.marks_second.set(marks_second);
                }
            }
        }
    }

    /// Saves whatever changes.
    fn keep(self) {
        // Written here and nowhere else; the banner that reads it writes nothing.
        let note = move |key: &'static str, saved: bool| {
            if saved == self.unsaved.with_untracked(|keys| keys.contains(key)) {
                self.unsaved.update(|keys| {
                    if saved {
                        keys.remove(key)
                    } else {
                        keys.insert(key)
                    };
                });
            }
        };
        let store = BrowserStorage;
        Effect::new(move |_| note(KIT_KEY, self.kit.with(|kit| storage::save(&store, KIT_KEY, kit))));
        let save_plan = move || {
            note(PLAN_KEY, self.plan.with_untracked(|plan| storage::save(&BrowserStorage, PLAN_KEY, plan)));
        };
        let rest: StoredValue<Option<TimeoutHandle>, LocalStorage> = StoredValue::new_local(None);
        Effect::new(move |before: Option<()>| {
            self.plan.track();
            if before.is_none() {
                return save_plan();
            }
            let wait = set_timeout_with_handle(save_plan, SAVED_AFTER).ok();
            if wait.is_none() {
                save_plan();
            }
            if let Some(earlier) = rest.try_update_value(|rest| std::mem::replace(rest, wait)).flatten() {
                earlier.clear();
            }
        });
        // A page that goes, or that a phone may end while nobody looks, does not wait for the hand to rest.
        for event in ["pagehide", "visibilitychange"] {
            drop(window_event_listener_untyped(event, move |_| save_plan()));
        }
        let spoken = self.settings.with_untracked(|settings| settings.wish);
        Effect::new(move |_| {
            let saved = self.settings.with(|settings| storage::save(&store, SETTINGS_KEY, settings));
            note(SETTINGS_KEY, saved);
            // What was said stays said: all of it is said anew by a page that is opened anew.
            if saved && self.settings.with(|settings| settings.wish != spoken) {
                open_anew();
            }
        });
    }

    /// The unit for distances.
    pub(crate) fn unit(self) -> LengthUnit {
        if self.settings.with(|settings| settings.feet) { LengthUnit::Feet } else { LengthUnit::Metres }
    }

    /// The user's step.
    pub(crate) fn step(self) -> Length {
        Length::from_m(self.settings.with(|settings| settings.step_m).clamp(0.2, 1.5))
    }

    /// The stage of the chosen setup's frame, so many seconds into its take.
    pub(crate) fn stage_at(self, at_s: f64) -> Option<Stage> {
        let row = self.chosen.get()?;
        let (shot, setup) = (row.result.shot, row.result.outcome.ok()?);
        Some(self.plan.with(|plan| plan.stage_at(&shot, &setup, &plan.blocking(&shot), at_s)))
    }

    /// The chosen setup in one sentence.
    pub(crate) fn sentence(self) -> String {
        let kit = self.owned.get();
        let Some(row) = self.chosen.get() else { return String::new() };
        let name = lens_name(&kit, &row);
        let telling = Telling {
            lens: &name,
            adapter: row.adapter.and_then(|at| kit.adapters.get(at)).map(|adapter| adapter.name.as_str()),
            step: self.step(),
            unit: self.unit(),
        };
        film::sentence(&telling, &row.result)
    }
}

/// A lens's name with its zoom.
pub(crate) fn lens_name(kit: &Kit, row: &Comparison) -> String {
    let name = kit.lenses.get(row.lens).map_or("", |lens| lens.name.as_str());
    if row.in_sensor_zoom > 1.0 { format!("{name} {}x", Number(row.in_sensor_zoom)) } else { name.to_owned() }
}

impl Plan {
    /// The shot that the page opens with.
    pub(crate) fn first() -> Self {
        Self {
            shot: SetupRequest {
                lens: None,
                recording: None,
                adapter: None,
                delivery: DeliveryRequest {
                    aspect: requests::AspectRequest(presets::frame_shapes()[4].1),
                    headroom_share: None,
                    protect_aspect: None,
                    crop_up_share: None,
                    crop_right_share: None,
                },
                subject: Some(SubjectRequest {
                    stature_m: 1.70,
                    posture: None,
                    age: None,
                    second_person: None,
                }),
                shot_size: ShotSizeRequest::Medium,
                insert_size_m: None,
                insert_above_floor_m: None,
                camera_height_m: None,
                camera_height: None,
                look_tilt_deg: None,
                stand_at_m: None,
                across_share: None,
                background_behind_subject_m: 6.0,
                room_m: None,
                focus_at_m: None,
                shutter: None,
                take: None,
                blocking: None,
            },
            lens: "main".to_owned(),
            zoom: 1.0,
            recording: "4K".to_owned(),
            adapter: None,
            sort: Sort::Kit,
            facing_deg: 20.0,
            phone_bearing_deg: 180.0,
            larger_f_number: usual_larger_f_number(),
            earlier_foreground: None,
            of: None,
            behind: None,
            hides_behind: false,
            own_names: Vec::new(),
            other_names: Vec::new(),
        }
    }

    /// The number of the shot that this is of.
    pub(crate) fn shot_number(&self) -> Option<u64> {
        self.of.as_ref().map(|of| of.shot)
    }

    /// The same plan as it is kept today.
    fn brought_up_to_date(mut self) -> Self {
        if let Some(EarlierForeground { ahead_m, right_m }) = self.earlier_foreground.take() {
            let plant = ForegroundRequest { kind: PieceWord::Plant, ahead_m, right_m };
            self.set_mut().foreground.get_or_insert(plant);
        }
        self
    }

    /// Whether focus was put somewhere, instead of on the subject.
    pub(crate) const fn has_own_focus(&self) -> bool {
        self.shot.focus_at_m.is_some()
    }

    /// The shot on every lens of `kit`.
    pub(crate) fn compare(&self, kit: &Kit) -> Vec<Comparison> {
        let named = kit.recordings.iter().find(|mode| mode.name == self.recording);
        let (Some(recording), Some(first)) = (named.or(kit.recordings.first()), kit.lenses.first()) else {
            return Vec::new();
        };
        let (Ok(shot), Ok(around)) =
            (self.shot.to_shot(first.lens, recording.recording), self.shot.circumstances())
        else {
            return Vec::new();
        };
        film::compare(kit, recording, &shot, &around)
    }

    /// The chosen row of a comparison; the first if the chosen lens is gone.
    pub(crate) fn choose<'rows>(&self, kit: &Kit, rows: &'rows [Comparison]) -> Option<&'rows Comparison> {
        let adapter = self.adapter_index(kit);
        let chosen = |row: &&Comparison| {
            row.adapter == adapter
                && kit.lenses.get(row.lens).is_some_and(|lens| lens.name == self.lens)
                && (row.in_sensor_zoom - self.zoom).abs() < 1e-9
        };
        rows.iter().find(chosen).or_else(|| rows.iter().find(|row| row.adapter == adapter)).or(rows.first())
    }

    /// The chosen adapter's place in the kit.
    pub(crate) fn adapter_index(&self, kit: &Kit) -> Option<usize> {
        let name = self.adapter.as_ref()?;
        kit.adapters.iter().position(|adapter| adapter.name == *name)
    }

    /// The rows with the chosen adapter, or none, sorted as wished.
    pub(crate) fn shown_rows(&self, kit: &Kit, rows: &[Comparison]) -> Vec<Comparison> {
        let adapter = self.adapter_index(kit);
        let mut shown: Vec<_> = rows.iter().filter(|row| row.adapter == adapter).cloned().collect();
        if let Some(care) = self.sort.care() {
            film::sort_by_care(&mut shown, care);
        }
        shown
    }
}

impl Sort {
    pub(crate) const ALL: [Self; 5] =
        [Self::Kit, Self::NaturalFace, Self::SoftBackground, Self::MostPlace, Self::LeastDistance];

    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::Kit => say!("as in the kit"),
            Self::NaturalFace => say!("natural face"),
            Self::SoftBackground => say!("soft background"),
            Self::MostPlace => say!("most of the place"),
            Self::LeastDistance => say!("least distance"),
        }
    }

    const fn care(self) -> Option<Care> {
        match self {
            Self::Kit => None,
            Self::NaturalFace => Some(Care::NaturalFace),
            Self::SoftBackground => Some(Care::SoftBackground),
            Self::MostPlace => Some(Care::MostPlace),
            Self::LeastDistance => Some(Care::LeastDistance),
        }
    }
}

impl Settings {
    /// As they were left when the page was opened.
    pub(crate) fn as_left() -> Self {
        SETTINGS_LEFT.with(|left| *left)
    }
}

impl Default for Settings {
    fn default() -> Self {
        Self {
            theme: Theme::System,
            wish: Wish::default(),
            feet: feet_are_usual(),
            step_m: USUAL_STEP.to_m(),
            lines: true,
            whole: false,
            grain: Grain::Fine,
        }
    }
}

/// The preset phone with the most lenses, with the preset adapters.
pub(crate) fn first_kit() -> KitRecord {
    KitRecord { adapters: presets::adapters(), ..presets::first_kit() }
}

/// The first kit as the core computes with it.
fn preset_kit() -> Kit {
    first_kit().to_kit().unwrap_or(Kit {
        name: String::new(),
        camera_app: film::CameraApp::default(),
        lenses: Vec::new(),
        recordings: Vec::new(),
        adapters: Vec::new(),
        filters: Vec::new(),
        views: Vec::new(),
        exposure_times: Vec::new(),
    })
}

/// The chosen row's result, if there is one.
pub(crate) fn result(row: Option<&Comparison>) -> Option<&ShotResult> {
    row.map(|row| &row.result)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_plan_of_before_opens_with_its_plant_near_the_lens() {
        let mut kept = serde_json::to_value(Plan::first()).expect("plain values");
        kept["foreground"] = serde_json::json!({ "ahead_m": 0.5, "right_m": 0.35 });
        kept["shot"].as_object_mut().expect("a shot").remove("blocking");
        let plan = serde_json::from_value::<Plan>(kept).expect("an earlier plan").brought_up_to_date();
        let expected = ForegroundRequest { kind: PieceWord::Plant, ahead_m: 0.5, right_m: 0.35 };
        assert_eq!(plan.set().and_then(|set| set.foreground), Some(expected));
        let again = serde_json::to_value(&plan).expect("plain values");
        assert_eq!(again.get("foreground"), None);
        assert_eq!(serde_json::from_value::<Plan>(again).expect("a plan"), plan);
    }
}
