//! Journeys through the built page, each as one person would make it, on a phone and on a laptop.
//!
//! To add one, write a file in `journeys/` and name it below. A journey is a function of a `Browser` that finds things by
//! role and label (`browser.click("button", "Tight")`), and says with `ensure!` what a person would then see; no `assert!`,
//! since a panic would leave Chromium behind. The macro `on_every_screen!` makes two tests of it. Every journey starts
//! with an empty profile on the page's first screen, and fails for any error on the console and any request to another host,
//! without asking. `browser.screenshot(name)` saves what the screen shows in `target/screenshots`.
//!
//! `cargo xtask test` builds the page first; while writing one, `cargo xtask build` and then
//! `cargo test -p checks --features browser --test journeys NAME` is quicker.

#[path = "journeys/core_module.rs"]
mod core_module;
#[path = "journeys/day.rs"]
mod day;
#[path = "journeys/drawn.rs"]
mod drawn;
#[path = "journeys/everyone.rs"]
mod everyone;
#[path = "journeys/films_are_kept.rs"]
mod films_are_kept;
#[path = "journeys/first_load.rs"]
mod first_load;
#[path = "journeys/forms.rs"]
mod forms;
#[path = "journeys/inert.rs"]
mod inert;
#[path = "journeys/kit.rs"]
mod kit;
#[path = "journeys/learn.rs"]
mod learn;
#[path = "journeys/light.rs"]
mod light;
#[path = "journeys/light_of_a_place.rs"]
mod light_of_a_place;
#[path = "journeys/measure.rs"]
mod measure;
#[path = "journeys/moves.rs"]
mod moves;
#[path = "journeys/nothing_lost.rs"]
mod nothing_lost;
#[path = "journeys/offline.rs"]
mod offline;
#[path = "journeys/paper.rs"]
mod paper;
#[path = "journeys/passing.rs"]
mod passing;
#[path = "journeys/picture.rs"]
mod picture;
#[path = "journeys/recce.rs"]
mod recce;
#[path = "journeys/set.rs"]
mod set;
#[path = "journeys/set_dressing.rs"]
mod set_dressing;
#[path = "journeys/set_up.rs"]
mod set_up;
#[path = "journeys/story.rs"]
mod story;

/// Makes a test of a journey for each screen.
macro_rules! on_every_screen {
    ($($journey:path => $phone:ident, $laptop:ident;)*) => {
        $(
            #[tokio::test]
            async fn $phone() -> anyhow::Result<()> {
                checks::journey(checks::Screen::PHONE, stringify!($phone), $journey).await
            }

            #[tokio::test]
            async fn $laptop() -> anyhow::Result<()> {
                checks::journey(checks::Screen::LAPTOP, stringify!($laptop), $journey).await
            }
        )*
    };
}

on_every_screen! {
    learn::lessons_are_played => lessons_are_played_on_a_phone, lessons_are_played_on_a_laptop;
    learn::a_task_is_set_and_handed_in => a_task_is_set_on_a_phone, a_task_is_set_on_a_laptop;
    learn::a_lesson_stands_in_a_frame => a_lesson_in_a_frame_on_a_phone, a_lesson_in_a_frame_on_a_laptop;
    learn::a_bad_link_is_told => a_bad_lesson_link_on_a_phone, a_bad_lesson_link_on_a_laptop;
    recce::a_photo_stands_behind => a_photo_stands_behind_on_a_phone, a_photo_stands_behind_on_a_laptop;
    recce::no_photo_is_told => no_photo_is_told_on_a_phone, no_photo_is_told_on_a_laptop;
    first_load::page_opens => page_opens_on_a_phone, page_opens_on_a_laptop;
    set_up::a_shot_is_framed => a_shot_is_framed_on_a_phone, a_shot_is_framed_on_a_laptop;
    set_up::the_last_setup_is_kept => the_last_setup_is_kept_on_a_phone, the_last_setup_is_kept_on_a_laptop;
    set_up::what_cannot_be_framed_is_mended => what_cannot_be_framed_is_mended_on_a_phone, what_cannot_be_framed_is_mended_on_a_laptop;
    set_up::a_bad_height_is_refused_in_words => a_bad_height_is_refused_on_a_phone, a_bad_height_is_refused_on_a_laptop;
    set_up::a_person_is_dragged_on_the_floor => a_person_is_dragged_on_a_phone, a_person_is_dragged_on_a_laptop;
    set_up::an_adapter_is_tried => an_adapter_is_tried_on_a_phone, an_adapter_is_tried_on_a_laptop;
    set_up::everything_by_keys => everything_by_keys_on_a_phone, everything_by_keys_on_a_laptop;
    set_up::no_barriers => no_barriers_on_a_phone, no_barriers_on_a_laptop;
    picture::a_picture_appears_and_follows => a_picture_follows_on_a_phone, a_picture_follows_on_a_laptop;
    picture::a_dead_worker_is_replaced => a_dead_worker_on_a_phone, a_dead_worker_on_a_laptop;
    picture::a_hidden_page_rests => a_hidden_page_on_a_phone, a_hidden_page_on_a_laptop;
    picture::a_picture_that_cannot_be_drawn => no_picture_on_a_phone, no_picture_on_a_laptop;
    picture::focus_is_put_where_one_clicks => focus_is_put_on_a_phone, focus_is_put_on_a_laptop;
    set_dressing::a_piece_comes_and_is_dragged => a_piece_is_dragged_on_a_phone, a_piece_is_dragged_on_a_laptop;
    set_dressing::two_fingers_look_closer => two_fingers_look_closer_on_a_phone, two_fingers_look_closer_on_a_laptop;
    set_dressing::a_place_is_ready_made => a_place_is_ready_made_on_a_phone, a_place_is_ready_made_on_a_laptop;
    set_dressing::a_set_is_dressed_by_keys => a_set_is_dressed_by_keys_on_a_phone, a_set_is_dressed_by_keys_on_a_laptop;
    set_dressing::a_phone_goes_round_a_set => a_phone_goes_round_a_set_on_a_phone, a_phone_goes_round_a_set_on_a_laptop;
    set_dressing::a_sun_behind_them_is_cautioned => a_sun_is_cautioned_on_a_phone, a_sun_is_cautioned_on_a_laptop;
    set_dressing::no_barriers => no_barriers_on_a_set_on_a_phone, no_barriers_on_a_set_on_a_laptop;
    moves::a_push_is_played => a_push_is_played_on_a_phone, a_push_is_played_on_a_laptop;
    moves::a_take_is_mended => a_take_is_mended_on_a_phone, a_take_is_mended_on_a_laptop;
    moves::focus_is_pulled => focus_is_pulled_on_a_phone, focus_is_pulled_on_a_laptop;
    moves::larger_cameras_are_compared => larger_cameras_on_a_phone, larger_cameras_on_a_laptop;
    moves::a_still_is_saved => a_still_is_saved_on_a_phone, a_still_is_saved_on_a_laptop;
    moves::no_barriers => no_barriers_to_moves_on_a_phone, no_barriers_to_moves_on_a_laptop;
    forms::what_a_film_asks_is_kept => what_a_film_asks_is_kept_on_a_phone, what_a_film_asks_is_kept_on_a_laptop;
    forms::what_a_kit_can_is_kept => what_a_kit_can_is_kept_on_a_phone, what_a_kit_can_is_kept_on_a_laptop;
    kit::a_photo_becomes_a_lens => a_photo_becomes_a_lens_on_a_phone, a_photo_becomes_a_lens_on_a_laptop;
    kit::a_stripped_photo_is_explained => a_stripped_photo_on_a_phone, a_stripped_photo_on_a_laptop;
    kit::a_file_that_is_no_photo_is_refused => no_photo_on_a_phone, no_photo_on_a_laptop;
    kit::a_lens_is_checked_against_a_door => a_lens_is_checked_on_a_phone, a_lens_is_checked_on_a_laptop;
    measure::a_lens_is_measured_on_a_frame => a_lens_is_measured_on_a_phone, a_lens_is_measured_on_a_laptop;
    measure::a_photo_is_no_frame_of_the_mode => a_photo_is_no_frame_on_a_phone, a_photo_is_no_frame_on_a_laptop;
    kit::no_barriers => no_barriers_in_kit_on_a_phone, no_barriers_in_kit_on_a_laptop;
    story::a_first_film => a_first_film_on_a_phone, a_first_film_on_a_laptop;
    story::a_shot_is_set_up => a_shot_is_set_up_on_a_phone, a_shot_is_set_up_on_a_laptop;
    story::what_does_not_cut_is_mended => a_cut_is_mended_on_a_phone, a_cut_is_mended_on_a_laptop;
    story::a_finding_is_kept_anyway => a_finding_is_kept_on_a_phone, a_finding_is_kept_on_a_laptop;
    story::a_cut_is_played => a_cut_is_played_on_a_phone, a_cut_is_played_on_a_laptop;
    story::a_bad_file_is_refused => a_bad_file_on_a_phone, a_bad_file_on_a_laptop;
    story::no_barriers => no_barriers_in_story_on_a_phone, no_barriers_in_story_on_a_laptop;
    day::a_day_is_put_in_order => a_day_is_put_in_order_on_a_phone, a_day_is_put_in_order_on_a_laptop;
    day::a_setup_is_pinned => a_setup_is_pinned_on_a_phone, a_setup_is_pinned_on_a_laptop;
    day::the_day_runs_late => the_day_runs_late_on_a_phone, the_day_runs_late_on_a_laptop;
    day::what_does_not_fit_is_mended => what_does_not_fit_on_a_phone, what_does_not_fit_on_a_laptop;
    day::a_day_by_keys => a_day_by_keys_on_a_phone, a_day_by_keys_on_a_laptop;
    day::no_barriers => no_barriers_on_a_day_on_a_phone, no_barriers_on_a_day_on_a_laptop;
    set::takes_are_logged => takes_are_logged_on_a_phone, takes_are_logged_on_a_laptop;
    set::a_setup_is_given_up => a_setup_is_given_up_on_a_phone, a_setup_is_given_up_on_a_laptop;
    set::what_was_agreed_is_kept => what_was_agreed_is_kept_on_a_phone, what_was_agreed_is_kept_on_a_laptop;
    paper::a_day_is_printed => a_day_is_printed_on_a_phone, a_day_is_printed_on_a_laptop;
    passing::a_film_goes_out_and_comes_back => a_film_comes_back_on_a_phone, a_film_comes_back_on_a_laptop;
    light::the_weather_turns => the_weather_turns_on_a_phone, the_weather_turns_on_a_laptop;
    light::the_hand_goes_by_keys => the_hand_goes_by_keys_on_a_phone, the_hand_goes_by_keys_on_a_laptop;
    light::the_hand_is_dragged => the_hand_is_dragged_on_a_phone, the_hand_is_dragged_on_a_laptop;
    light::a_setup_is_set => a_setup_is_set_on_a_phone, a_setup_is_set_on_a_laptop;
    light::light_without_a_film => light_without_a_film_on_a_phone, light_without_a_film_on_a_laptop;
    light::no_barriers => no_barriers_in_light_on_a_phone, no_barriers_in_light_on_a_laptop;
    light_of_a_place::a_day_at_a_place => a_day_at_a_place_on_a_phone, a_day_at_a_place_on_a_laptop;
    light_of_a_place::a_bad_latitude_is_refused => a_bad_latitude_on_a_phone, a_bad_latitude_on_a_laptop;
    light_of_a_place::a_horizon_is_stepped => a_horizon_is_stepped_on_a_phone, a_horizon_is_stepped_on_a_laptop;
    light_of_a_place::a_polar_night => a_polar_night_on_a_phone, a_polar_night_on_a_laptop;
    light_of_a_place::another_day_without_a_network => a_day_without_a_network_on_a_phone, a_day_without_a_network_on_a_laptop;
    light_of_a_place::the_device_says_where => the_device_says_where_on_a_phone, the_device_says_where_on_a_laptop;
    offline::everything_without_a_network => everything_without_a_network_on_a_phone, everything_without_a_network_on_a_laptop;
    offline::a_new_version_waits => a_new_version_waits_on_a_phone, a_new_version_waits_on_a_laptop;
    nothing_lost::a_panic_costs_nothing => a_panic_costs_nothing_on_a_phone, a_panic_costs_nothing_on_a_laptop;
    core_module::a_page_asks_the_core => a_page_asks_the_core_on_a_phone, a_page_asks_the_core_on_a_laptop;
    core_module::a_page_of_ones_own_shows_blur_and_exposure => own_page_on_a_phone, own_page_on_a_laptop;
}

/// On one screen only: what is kept does not depend on it, and 25 crashes take a minute.
#[tokio::test]
async fn edits_outlive_crashes() -> anyhow::Result<()> {
    checks::journey(checks::Screen::PHONE, "edits_outlive_crashes", films_are_kept::edits_outlive_crashes)
        .await
}

/// On one screen only, as what is kept does not depend on it.
#[tokio::test]
async fn nothing_is_lost_when_storage_fails() -> anyhow::Result<()> {
    checks::journey(checks::Screen::PHONE, "storage_fails", nothing_lost::storage_fails).await
}

/// As above, on the other screen.
#[tokio::test]
async fn nothing_is_lost_to_tabs_clocks_and_sleep() -> anyhow::Result<()> {
    checks::journey(checks::Screen::LAPTOP, "tabs_clocks_and_sleep", nothing_lost::tabs_clocks_and_sleep)
        .await
}

/// On one screen only: what texts do does not depend on it.
#[tokio::test]
async fn texts_are_inert() -> anyhow::Result<()> {
    checks::journey(checks::Screen::LAPTOP, "texts_are_inert", inert::texts_are_inert).await
}

/// These take every width and size of letters that they look at in one visit.
#[tokio::test]
async fn every_screen_is_for_everyone() -> anyhow::Result<()> {
    checks::journey(checks::Screen::LAPTOP, "every_screen_is_for_everyone", everyone::every_screen).await
}

#[tokio::test]
async fn the_whole_job_by_keys() -> anyhow::Result<()> {
    checks::journey(checks::Screen::LAPTOP, "the_whole_job_by_keys", everyone::the_whole_job_by_keys).await
}
