//! Journeys through the built page, each as one person would make it, on a phone and on a laptop.
//!
//! To add one, write a file in `journeys/` and name it below. A journey is a function of a `Browser` that finds things by
//! role and label (`browser.click("button", "Tight")`), and says with `ensure!` what a person would then see; no `assert!`,
//! since a panic would leave Chromium behind. The macro `on_every_screen!` makes two tests of it, `on_one_screen!` one.
//! Every journey starts with an empty profile on the page's first screen, and fails for any error on the console and any
//! request to another host, without asking. `browser.screenshot(name)` saves what the screen shows in `target/screenshots`.
//!
//! `cargo xtask test` builds the page first; while writing one, `cargo xtask build` and then
//! `cargo test -p checks --features journeys --test journeys NAME` is quicker.

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
#[path = "journeys/language.rs"]
mod language;
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
                checks::grainy_journey(checks::Screen::PHONE, stringify!($phone), $journey).await
            }

            #[tokio::test]
            async fn $laptop() -> anyhow::Result<()> {
                checks::grainy_journey(checks::Screen::LAPTOP, stringify!($laptop), $journey).await
            }
        )*
    };
}

/// Makes one test of a journey that goes the same way on every screen: what is kept, refused or told does not depend on it.
macro_rules! on_one_screen {
    ($($journey:path => $screen:ident, $name:ident;)*) => {
        $(
            #[tokio::test]
            async fn $name() -> anyhow::Result<()> {
                checks::grainy_journey(checks::Screen::$screen, stringify!($name), $journey).await
            }
        )*
    };
}

on_every_screen! {
    learn::lessons_are_played => lessons_are_played_on_a_phone, lessons_are_played_on_a_laptop;
    learn::a_task_is_set_and_handed_in => a_task_is_set_on_a_phone, a_task_is_set_on_a_laptop;
    recce::a_photo_stands_behind => a_photo_stands_behind_on_a_phone, a_photo_stands_behind_on_a_laptop;
    first_load::page_opens => page_opens_on_a_phone, page_opens_on_a_laptop;
    set_up::a_shot_is_framed => a_shot_is_framed_on_a_phone, a_shot_is_framed_on_a_laptop;
    set_up::what_cannot_be_framed_is_mended => what_cannot_be_framed_is_mended_on_a_phone, what_cannot_be_framed_is_mended_on_a_laptop;
    set_up::a_person_is_dragged_on_the_floor => a_person_is_dragged_on_a_phone, a_person_is_dragged_on_a_laptop;
    set_up::an_adapter_is_tried => an_adapter_is_tried_on_a_phone, an_adapter_is_tried_on_a_laptop;
    set_up::everything_by_keys => everything_by_keys_on_a_phone, everything_by_keys_on_a_laptop;
    set_up::no_barriers => no_barriers_on_a_phone, no_barriers_on_a_laptop;
    picture::a_picture_appears_and_follows => a_picture_follows_on_a_phone, a_picture_follows_on_a_laptop;
    picture::focus_is_put_where_one_clicks => focus_is_put_on_a_phone, focus_is_put_on_a_laptop;
    set_dressing::a_piece_comes_and_is_dragged => a_piece_is_dragged_on_a_phone, a_piece_is_dragged_on_a_laptop;
    set_dressing::two_fingers_look_closer => two_fingers_look_closer_on_a_phone, two_fingers_look_closer_on_a_laptop;
    set_dressing::a_set_is_dressed_by_keys => a_set_is_dressed_by_keys_on_a_phone, a_set_is_dressed_by_keys_on_a_laptop;
    set_dressing::a_phone_goes_round_a_set => a_phone_goes_round_a_set_on_a_phone, a_phone_goes_round_a_set_on_a_laptop;
    set_dressing::no_barriers => no_barriers_on_a_set_on_a_phone, no_barriers_on_a_set_on_a_laptop;
    moves::a_push_is_played => a_push_is_played_on_a_phone, a_push_is_played_on_a_laptop;
    moves::a_take_is_mended => a_take_is_mended_on_a_phone, a_take_is_mended_on_a_laptop;
    moves::focus_is_pulled => focus_is_pulled_on_a_phone, focus_is_pulled_on_a_laptop;
    moves::no_barriers => no_barriers_to_moves_on_a_phone, no_barriers_to_moves_on_a_laptop;
    kit::a_photo_becomes_a_lens => a_photo_becomes_a_lens_on_a_phone, a_photo_becomes_a_lens_on_a_laptop;
    measure::a_lens_is_measured_on_a_frame => a_lens_is_measured_on_a_phone, a_lens_is_measured_on_a_laptop;
    kit::no_barriers => no_barriers_in_kit_on_a_phone, no_barriers_in_kit_on_a_laptop;
    story::a_first_film => a_first_film_on_a_phone, a_first_film_on_a_laptop;
    story::a_shot_is_set_up => a_shot_is_set_up_on_a_phone, a_shot_is_set_up_on_a_laptop;
    story::what_does_not_cut_is_mended => a_cut_is_mended_on_a_phone, a_cut_is_mended_on_a_laptop;
    story::a_cut_is_played => a_cut_is_played_on_a_phone, a_cut_is_played_on_a_laptop;
    story::no_barriers => no_barriers_in_story_on_a_phone, no_barriers_in_story_on_a_laptop;
    day::a_day_is_put_in_order => a_day_is_put_in_order_on_a_phone, a_day_is_put_in_order_on_a_laptop;
    day::a_setup_is_pinned => a_setup_is_pinned_on_a_phone, a_setup_is_pinned_on_a_laptop;
    day::a_day_by_keys => a_day_by_keys_on_a_phone, a_day_by_keys_on_a_laptop;
    day::no_barriers => no_barriers_on_a_day_on_a_phone, no_barriers_on_a_day_on_a_laptop;
    set::takes_are_logged => takes_are_logged_on_a_phone, takes_are_logged_on_a_laptop;
    paper::a_day_is_printed => a_day_is_printed_on_a_phone, a_day_is_printed_on_a_laptop;
    passing::a_film_goes_out_and_comes_back => a_film_comes_back_on_a_phone, a_film_comes_back_on_a_laptop;
    light::the_weather_turns => the_weather_turns_on_a_phone, the_weather_turns_on_a_laptop;
    light::the_hand_goes_by_keys => the_hand_goes_by_keys_on_a_phone, the_hand_goes_by_keys_on_a_laptop;
    light::the_hand_is_dragged => the_hand_is_dragged_on_a_phone, the_hand_is_dragged_on_a_laptop;
    light::a_setup_is_set => a_setup_is_set_on_a_phone, a_setup_is_set_on_a_laptop;
    light::no_barriers => no_barriers_in_light_on_a_phone, no_barriers_in_light_on_a_laptop;
    light_of_a_place::a_day_at_a_place => a_day_at_a_place_on_a_phone, a_day_at_a_place_on_a_laptop;
}

on_one_screen! {
    language::another_language_is_chosen => PHONE, another_language;
    learn::a_lesson_stands_in_a_frame => LAPTOP, a_lesson_in_a_frame;
    learn::a_bad_link_is_told => LAPTOP, a_bad_lesson_link;
    recce::no_photo_is_told => PHONE, no_photo_is_told;
    set_up::the_last_setup_is_kept => PHONE, the_last_setup_is_kept;
    set_up::a_bad_height_is_refused_in_words => LAPTOP, a_bad_height_is_refused;
    picture::a_dead_worker_is_replaced => LAPTOP, a_dead_worker;
    picture::a_hidden_page_rests => PHONE, a_hidden_page;
    picture::a_picture_that_cannot_be_drawn => LAPTOP, no_picture;
    set_dressing::a_place_is_ready_made => PHONE, a_place_is_ready_made;
    set_dressing::a_sun_behind_them_is_cautioned => LAPTOP, a_sun_is_cautioned;
    moves::larger_cameras_are_compared => LAPTOP, larger_cameras;
    moves::a_still_is_saved => PHONE, a_still_is_saved;
    forms::what_a_film_asks_is_kept => PHONE, what_a_film_asks_is_kept;
    forms::what_a_kit_can_is_kept => LAPTOP, what_a_kit_can_is_kept;
    kit::a_typed_lens_tells_whose_place_it_takes => PHONE, a_typed_lens;
    kit::a_stripped_photo_is_explained => PHONE, a_stripped_photo;
    kit::a_file_that_is_no_photo_is_refused => LAPTOP, no_photo;
    kit::a_lens_is_checked_against_a_door => PHONE, a_lens_is_checked;
    measure::a_photo_is_no_frame_of_the_mode => LAPTOP, a_photo_is_no_frame;
    story::a_shot_is_dragged => PHONE, a_shot_is_dragged;
    story::a_finding_is_kept_anyway => PHONE, a_finding_is_kept;
    story::a_bad_file_is_refused => LAPTOP, a_bad_file;
    day::the_day_runs_late => PHONE, the_day_runs_late;
    day::what_does_not_fit_is_mended => LAPTOP, what_does_not_fit;
    set::a_setup_is_given_up => PHONE, a_setup_is_given_up;
    set::what_was_agreed_is_kept => LAPTOP, what_was_agreed_is_kept;
    light::light_without_a_film => PHONE, light_without_a_film;
    light_of_a_place::a_bad_latitude_is_refused => PHONE, a_bad_latitude;
    light_of_a_place::a_horizon_is_stepped => PHONE, a_horizon_is_stepped;
    light_of_a_place::a_polar_night => LAPTOP, a_polar_night;
    light_of_a_place::another_day_without_a_network => PHONE, a_day_without_a_network;
    light_of_a_place::the_device_says_where => PHONE, the_device_says_where;
    offline::everything_without_a_network => PHONE, everything_without_a_network;
    offline::a_new_version_waits => LAPTOP, a_new_version_waits;
    nothing_lost::a_panic_costs_nothing => PHONE, a_panic_costs_nothing;
    core_module::a_page_asks_the_core => PHONE, a_page_asks_the_core;
    core_module::a_page_of_ones_own_shows_blur_and_exposure => LAPTOP, own_page;
    films_are_kept::edits_outlive_crashes => PHONE, edits_outlive_crashes;
    nothing_lost::storage_fails => PHONE, nothing_is_lost_when_storage_fails;
    nothing_lost::tabs_clocks_and_sleep => LAPTOP, nothing_is_lost_to_tabs_clocks_and_sleep;
    inert::texts_are_inert => LAPTOP, texts_are_inert;
    everyone::every_screen => LAPTOP, every_screen_is_for_everyone;
    everyone::the_whole_job_by_keys => LAPTOP, the_whole_job_by_keys;
}
