//! The kit and what is planned with it: files, comparison of lenses, findings, photos.
//!
//! # Conventions
//! - Domain types are not serializable; files have their own records (`kit_file`, `film_file`), and converting checks every value.
//! - A finding advises: it says what is the matter, with its numbers, and what would mend it.
//! - Bytes, time and ids are passed in; nothing here reads a file or a clock.
#![deny(clippy::disallowed_methods, clippy::disallowed_types)]

mod clock;
mod comparison;
mod coverage;
mod cut_view;
mod day;
mod day_plan;
mod daylight;
mod dropping;
mod edit;
#[cfg(feature = "export")]
mod export;
mod exposure;
mod film;
mod film_file;
mod findings;
mod id;
mod kit;
mod kit_file;
#[cfg(feature = "learn")]
mod lesson;
mod light;
mod light_of_day;
mod link;
mod merge;
mod order;
mod pacing;
mod photo;
mod place_photo;
mod preset;
mod record;
mod rehearsal;
mod scene;
mod scene_blocking;
mod sentence;
mod setup_card;
mod shot;
mod sun;
mod sun_in_cut;
mod sun_on_shot;
mod take_log;
mod unknown;
mod view_check;
mod wording;

pub use clock::{clock, clock_hour, clock_in_files, clock_of_day};
pub use comparison::{Care, Comparison, ShotResult, compare, sort_by_care};
pub use coverage::{CoverageWish, Draft, Pace, draft, redraft};
pub use cut_view::{EntryView, ScreenDirection, SeenAt, turn_between};
pub use day::{Pinned, ShootingDay, WorkTimes};
pub use day_plan::{DayPlan, DaySetup, Daylights, Unmade, WhyUnmade};
pub use daylight::{
    ClockChange, DaySpan, DayTimes, Daylight, DaylightParts, LightAt, LightCourse, SUN_EVERY_MIN, SunMoment,
};
pub use dropping::Dropping;
pub use edit::{Command, EditError};
#[cfg(feature = "export")]
pub use export::{
    DayCalendar, ExportError, HandedFile, Matte, PictureAddress, SheetDay, SheetOrder, SheetPart, Sheets,
    calendar_file, cut_csv, day_csv, day_table_file, fdl, framing_file, framing_id, ics, matte_files, mattes,
    otio, plain_name, sheets_file, shots_csv, table_files, takes_csv, timeline_file,
};
pub use exposure::{Exposing, Exposure};
pub use film::{CastMember, Film, FilmFacts, Hours, PacedPlace, Place, Spot, USUAL_BIAS};
pub use film_file::{
    BeatRecord, CastRecord, CommandRecord, DayRecord, Done, EntryRecord, FILM_FORMAT_VERSION,
    FilmFactsRecord, FilmRecord, HorizonPointRecord, HoursRecord, KeptAtRecord, KeptRecord, LARGEST_FILE,
    LineRecord, MarkRecord, OpenFilmError, OpenedFilm, PacedPlaceRecord, PacedSideRecord, PinnedRecord,
    PlacePhotoRecord, PlaceRecord, PointRecord, Problem, SceneBlockingRecord, SceneFactsRecord, SceneRecord,
    ShotOfRecord, ShotRecord, SpotRecord, TakeRecord, WantRecord, WayRecord, WorkTimesRecord, open_film,
    open_place_photo, write_film, write_place_photo,
};
pub use findings::{
    Circumstances, CutFinding, ExposureFinding, FiltersOn, Finding, Mend, Obstacle, OtherTime, PlacedFinding,
    SetupFinding, Severity, ShoulderPlace, SortedFindings, StoryLack, Stronger, TakeFinding, Taking,
    check_cut, check_exposure, check_setup, check_shot, check_take, mends, sort_findings, story_lacks,
};
pub use id::{
    BeatId, DayId, EntryId, FreshId, FreshIds, LARGEST_ID, PersonId, PhotoId, PlaceId, SceneId, ShotId,
    TakeId,
};
pub use kit::{AdapterFit, CameraApp, ClearView, Kit, KitAdapter, KitFilter, KitLens, KitRecording, KitView};
pub use kit_file::{
    AdapterRecord, AxisRecord, CameraAppRecord, ClearViewRecord, DesqueezeRecord, FilterRecord,
    KIT_FORMAT_VERSION, KitRecord, LensRecord, OriginRecord, RecordError, RecordingRecord, ViewRecord,
    within_range,
};
#[cfg(all(feature = "learn", feature = "export"))]
pub use lesson::class_csv;
#[cfg(feature = "learn")]
pub use lesson::{
    ClassTable, FigureUnit, Goal, GoalWish, Handle, Judged, Lesson, LessonAnswer, LessonFigure, LessonLink,
    LessonLinkError, LessonSeen, LessonState, LessonTask, LessonView, NoLesson, RefusedAnswer, answer_text,
    class_table, lesson_link, open_answer, open_lesson_link, open_task, task_link,
};
pub use light::{
    Aperture, AppGuess, BackLit, BrightWindow, CrewShadow, DarkOptions, Disagreement, FilterChoice, FilterOn,
    FollowPath, HowToSet, IsoSetting, LightFigure, LightFinding, LightOnScene, LightSource, LockItem,
    LockList, LockWhat, LongerShutter, Moving, PanPace, PassingSmear, RIGHT_STOPS, SafeShutter, ShotLight,
    ShutterSetting, StillGoes, StrongerFilters, WalkSmear, WeatherNote, WhiteBalanceChoice,
    scene_in_light_told, usual_light, weather_change, white_balance,
};
pub use light_of_day::{light_of_hour, light_on_scene, wanted_light};
pub use link::{LONGEST_LINK, LinkContents, LinkTooLong, LinkedFilm, OpenLinkError, film_link, open_link};
pub use merge::{Difference, FieldDifference, Merge, MergeAdd, MergeChoices, MergePart};
pub use order::{
    Change, ChangePart, ChangeTimes, Job, MOST_IN_EXACT_ORDER, Missed, Order, OrderCosts, OrderProblem,
    Placed, Reason, Rest, Rig, WhyMissed, WouldDo,
};
pub use pacing::{
    Closing, Paced, PacedCorner, PacedOutline, PacedSide, SpreadEllipse, StepLength, TURN_SD, WalkedOutline,
};
pub use photo::{
    FileKind, LensFromPhoto, LensFromPhotoError, MissingFact, PhotoFacts, SensorFromPhoto, Turn,
    lens_from_photo, lens_record,
};
#[cfg(feature = "photo")]
pub use photo::{PartialFile, PhotoError, Progress, read_photo, read_photo_in_parts};
pub use place_photo::{PhotoBehind, PhotoPose, PlacePhoto, equivalent_of_fov, fov_of_equivalent};
pub use preset::{
    ADAPTERS_JSON, FIRST_KIT_JSON, adapters, demo_film, frame_shapes, kit_told, kits, scenes_in_light,
    shape_told,
};
pub use record::{
    AgeWord, AspectRecord, ColourRecord, FARTHEST_PLACE_M, ForegroundRecord, LandmarkWord, LightRecord,
    MovementRecord, PhoneHeightWord, PieceRecord, PieceWord, PostureWord, PriorityWord, PullRecord,
    SettingWord, ShotSizeWord, SoundWord, SunRecord, SunWishWord, TimeOfDayWord, USUAL_PULL_S, VerdictWord,
    WeatherWord,
};
pub use rehearsal::{NoRehearsal, Rehearsal, Rehearsals};
pub use scene::{
    Entry, Kept, KeptAt, LONGEST_SHOT_S, Lamps, Scene, SceneFacts, SceneLight, Setting, Stretch, TimeOfDay,
    Want, WhiteBalance,
};
pub use scene_blocking::{Beat, Faces, Line, LineSide, LineWish, Mark, SceneBlocking, Standing, Way};
pub use sentence::{Telling, USUAL_STEP, sentence, steps};
pub use setup_card::{SetupCard, WHO_DECIDES};
pub use shot::{ActionKind, LensChoice, Priority, Shot, ShotOf, Sound, SunWish, USUAL_PLANNED_S};
#[cfg(feature = "sun")]
pub use sun::{Air, DaySun, LONG_SHADOWS, LowSun, Stretch as SunStretch, SunAt};
pub use sun::{Coordinates, HorizonProfile, SunError};
pub use sun_in_cut::{SunChange, SunJump, SunShadow};
pub use sun_on_shot::{SunInFrame, SunOnSetup, SunOnShot, SunSide};
pub use take_log::{LoggedTake, Verdict};
pub use unknown::Unknown;
pub use view_check::{END_SD_PX, STEP_SD_SHARE, TAPED_SD, ViewCheck, stepped_distance, taped_width_sd};
pub use wording::{capital, counted, fixed, grouped, listed, titled};

/// The formats of kit and film files, whose samples are run as tests.
#[cfg(doctest)]
#[doc = include_str!("../FORMAT.md")]
struct Format;
