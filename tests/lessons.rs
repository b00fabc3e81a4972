//! What lessons claim, against outside figures; what is common practice is marked so.
#![expect(clippy::expect_used, reason = "a test that cannot read its figures must fail")]

#[path = "equivalence/reference.rs"]
mod reference;

use film::{Kit, KitRecord, Lesson, LessonSeen, kits};
use optics::{FNumber, FocalLength, SensorSize, blur_disc, image_distance};
use reference::{Cinema, Equivalence};
use serde::Deserialize;
use staging::Stage;
use units::{Length, LengthUnit};

/// A kit of one lens as the reference has it, in a mode 3840 pixels wide that uses the sensor's whole width.
fn kit_of(focal_length_mm: f64, f_number: f64, width_mm: f64) -> Kit {
    let height_mm = width_mm * 9.0 / 16.0;
    let record = format!(
        r#"{{"lenses": [{{"name": "it", "focal_length_mm": {focal_length_mm}, "f_number": {f_number},
            "sensor_width_mm": {width_mm}, "sensor_height_mm": {height_mm}}}],
            "recordings": [{{"name": "4K", "width_px": 3840, "height_px": 2160}}]}}"#
    );
    let record: KitRecord = serde_json::from_str(&record).expect("a record");
    record.to_kit().expect("a kit")
}

fn phone() -> Kit {
    kit_of(6.86, 1.78, 9.8)
}

fn seen(lesson: Lesson, kit: &Kit, values: &[f64]) -> LessonSeen {
    lesson.seen(kit, None, values, LengthUnit::Metres).expect("seen")
}

fn figure(seen: &LessonSeen, word: &str) -> f64 {
    seen.figure(word).and_then(|figure| figure.value).expect("a value")
}

fn stage(seen: &LessonSeen) -> &Stage {
    &seen.views.first().expect("a picture").stage
}

fn assert_near(ours: f64, theirs: f64, tolerance: f64, what: &str) {
    assert!((ours - theirs).abs() <= tolerance, "{what}: {ours} is not {theirs} within {tolerance}");
}

#[derive(Deserialize)]
struct ThinLens {
    source: String,
    tolerance_relative: f64,
    tolerance_px: f64,
    disc: Vec<Disc>,
}

#[derive(Deserialize)]
struct Disc {
    focal_length_mm: f64,
    f_number: f64,
    area_width_mm: f64,
    focus_mm: f64,
    distance_mm: f64,
    measured_px: f64,
}

/// Where the person must stand for the lens to be focused at `focus_m`: along the floor is not along the axis.
fn standing(kit: &Kit, focus_m: f64, behind_m: f64) -> LessonSeen {
    let (mut near, mut far) = (0.3, 5.0);
    for _ in 0..60 {
        let middle = f64::midpoint(near, far);
        let seen = seen(Lesson::SoftBackground, kit, &[middle, behind_m]);
        let focus = stage(&seen).pupil.expect("a pupil").focus_up.to_m();
        if focus < focus_m { near = middle } else { far = middle }
    }
    seen(Lesson::SoftBackground, kit, &[near, behind_m])
}

#[test]
fn a_background_is_as_soft_as_the_renderer_measures_it() {
    let reference: ThinLens =
        toml::from_str(include_str!("reference/thin_lens.toml")).expect("the reference");
    let mut compared = 0;
    for disc in &reference.disc {
        let (focus_m, behind_m) = (disc.focus_mm / 1000.0, (disc.distance_mm - disc.focus_mm) / 1000.0);
        if !(0.5..=50.0).contains(&behind_m) {
            continue;
        }
        compared += 1;
        let kit = kit_of(disc.focal_length_mm, disc.f_number, disc.area_width_mm);
        let ours = figure(&standing(&kit, focus_m, behind_m), "blur");
        let tolerance = reference.tolerance_px.max(reference.tolerance_relative * disc.measured_px);
        assert_near(ours, disc.measured_px, tolerance, &reference.source);
    }
    assert!(compared >= 6, "{compared} discs");
}

#[test]
fn each_thing_that_helps_buys_what_standing_there_gives() {
    let kit = kits()[0].to_kit().expect("a kit");
    let (distance_m, behind_m) = (1.6, 5.0);
    let now = seen(Lesson::SoftBackground, &kit, &[distance_m, behind_m]);
    let blur = |lens: Option<&str>, values: &[f64]| {
        let seen = Lesson::SoftBackground.seen(&kit, lens, values, LengthUnit::Metres);
        figure(&seen.expect("seen"), "blur")
    };
    let base = figure(&now, "blur");
    let gain = |word| figure(&now, word);
    assert_near(base + gain("closer"), blur(None, &[distance_m / 2.0, behind_m]), 1e-9, "closer");
    assert_near(base + gain("farther"), blur(None, &[distance_m, behind_m * 2.0]), 1e-9, "farther");
    assert_near(base + gain("longer"), blur(Some("long"), &[distance_m, behind_m]), 1e-9, "longer");
    assert!(["closer", "farther", "longer", "larger"].iter().all(|word| gain(word) > 0.0), "{now:?}");
}

#[test]
fn the_f_number_that_the_phone_would_need_is_the_larger_cameras_over_the_crop_factor() {
    // Source: equal field of view and equal entrance pupil; the crop factor from the sensors' widths, Cipa2019's full frame.
    let crop = Equivalence::read().full_frame_mm.0 / 9.8;
    for number in [1.4, 2.8, 5.6, 16.0] {
        let seen = seen(Lesson::LargerCamera, &phone(), &[number, 1.0]);
        let pupil = stage(&seen).pupil.expect("a pupil");
        let focus_mm = pupil.focus_up.to_mm();
        // DIFFERENCE: the rule is for far focus; nearer, f' = v' s / (s + v'), and the larger lens extends more.
        let v_mm = 6.86 * focus_mm / (focus_mm - 6.86);
        let focal_mm = v_mm * crop * focus_mm / (focus_mm + v_mm * crop);
        assert_near(figure(&seen, "focal_length"), focal_mm, 1e-9, "the lens that sees the same");
        assert_near(figure(&seen, "needed"), 6.86 * number / focal_mm, 1e-9, "needed");
        assert_near(figure(&seen, "needed") * crop / number, 1.0, 0.03, "the rule");
        let larger = seen.views[1].stage.pupil.expect("a pupil");
        assert_near(larger.height.to_mm(), focal_mm / number, 1e-9, "the entrance pupil");
        // The smaller pupil of the two is as many times softer as it is wider.
        let softer = figure(&seen, "larger_blur") / figure(&seen, "phone_blur");
        assert_near(softer, larger.height / pupil.height, 1e-9, "blur goes with the pupil");
    }
}

/// A scene of the renderer's, as far as its lens goes.
#[derive(Deserialize)]
struct SceneFile {
    lens: LensFile,
}

#[derive(Deserialize)]
struct LensFile {
    focal_length_mm: f64,
    f_number: f64,
    sensor_width_mm: f64,
    focus_m: f64,
}

/// The renderer's two pictures of one scene: on the phone, and on a full-frame camera through an entrance pupil as wide.
const PAIR: [(&str, &[u8]); 2] = [
    (
        include_str!("reference/pictures/phone_main.toml"),
        include_bytes!("reference/pictures/renderer/phone_main.png"),
    ),
    (
        include_str!("reference/pictures/phone_main_on_full_frame.toml"),
        include_bytes!("reference/pictures/renderer/phone_main_on_full_frame.png"),
    ),
];

/// Every byte of an 8-bit picture.
fn bytes_of(png: &[u8]) -> Vec<u8> {
    let mut decoder = png::Decoder::new(std::io::Cursor::new(png));
    decoder.set_transformations(png::Transformations::EXPAND);
    let mut reader = decoder.read_info().expect("a PNG");
    let mut data = vec![0; reader.output_buffer_size().expect("a small PNG")];
    reader.next_frame(&mut data).expect("a whole PNG");
    data
}

#[test]
fn the_renderers_pictures_through_equal_pupils_are_alike_and_ours_are_as_soft() {
    let lenses = PAIR.map(|(scene, _)| toml::from_str::<SceneFile>(scene).expect("a scene").lens);
    let [phone, larger] = &lenses;
    // What the lesson says is needed of the larger camera for the phone's blur, turned round: at that f-number the phone
    // needs its own.
    let kit = kit_of(phone.focal_length_mm, phone.f_number, phone.sensor_width_mm);
    let seen = seen(Lesson::LargerCamera, &kit, &[larger.f_number, 1.0]);
    let own = figure(&seen, "needed");
    // DIFFERENCE: the lesson's person stands nearer than the scene's, and the larger lens extends more there.
    assert_near(own / phone.f_number, 1.0, 0.02, "the phone's own f-number");
    let disc_share = |lens: &LensFile, distance_m: f64| {
        let f = FocalLength::from_mm(lens.focal_length_mm).expect("a focal length");
        let number = FNumber::new(lens.f_number).expect("an f-number");
        let width = SensorSize::from_mm(lens.sensor_width_mm, 1.0).expect("an area").width;
        let focus = Length::from_m(lens.focus_m);
        let view = width / image_distance(f, focus);
        (view, blur_disc(f, number, focus, Length::from_m(distance_m), None).plain / width)
    };
    for distance_m in [0.4, 2.0, 9.0, 100.0] {
        let ((view, disc), (larger_view, larger_disc)) =
            (disc_share(phone, distance_m), disc_share(larger, distance_m));
        assert_near(larger_view / view, 1.0, 1e-6, "the same view");
        assert_near(larger_disc / disc, 1.0, 1e-6, "the same disc");
    }
    let [on_phone, on_larger] = PAIR.map(|(_, picture)| bytes_of(picture));
    assert_eq!(on_phone.len(), on_larger.len());
    let off = on_phone.iter().zip(&on_larger).map(|(one, other)| one.abs_diff(*other)).max();
    assert!(off <= Some(1), "{off:?} of 255 between the renderer's two pictures");
    // They are not alike for want of anything to see.
    assert!(
        on_phone.iter().max() > on_phone.iter().min().map(|least| least + 100).as_ref(),
        "a plain picture"
    );
}

#[test]
fn a_phone_with_the_f_number_it_would_need_is_as_soft() {
    let needed = figure(&seen(Lesson::LargerCamera, &phone(), &[4.0, 1.0]), "needed");
    let wide_open = seen(Lesson::LargerCamera, &kit_of(6.86, needed, 9.8), &[4.0, 1.0]);
    assert_near(figure(&wide_open, "phone_blur") / figure(&wide_open, "larger_blur"), 1.0, 1e-9, "as soft");
    assert!(wide_open.sentences[2].contains("as soft already"), "{:?}", wide_open.sentences);
}

#[test]
fn what_no_phone_has_is_told_as_impossible() {
    let seen = seen(Lesson::LargerCamera, &phone(), &[1.4, 1.0]);
    assert!(figure(&seen, "needed") < 0.7);
    assert!(seen.sentences[2].contains("impossible"), "{:?}", seen.sentences);
    assert!(seen.figure("needed").expect("a figure").told.contains("impossible"), "{seen:?}");
}

#[test]
fn the_face_keeps_its_size_and_the_background_follows_the_place() {
    // Plane geometry: what is z behind a person d away is seen over (d + z) / d times the width that is seen at the person,
    // so with the size kept the background of two places goes as that ratio. No lens is in it.
    let kit = kits()[0].to_kit().expect("a kit");
    let at = |distance_m: f64| seen(Lesson::WhereToStand, &kit, &[distance_m, 10.0]);
    let places = [1.0, 2.0, 4.0].map(at);
    for one in &places {
        assert_near(figure(one, "face"), figure(&places[0], "face"), 1.0, "the face, per cent of the height");
    }
    let ratio = |distance_m: f64| (distance_m + 10.0) / distance_m;
    for (one, distance_m) in places.iter().zip([1.0, 2.0, 4.0]) {
        // At the person the width is all but the same from everywhere.
        let at_person = figure(one, "place") / ratio(distance_m);
        let first = figure(&places[0], "place") / ratio(1.0);
        assert_near(at_person / first, 1.0, 0.03, "the width at the person");
    }
    assert!(figure(&places[0], "stretch") > 3.0 * figure(&places[2], "stretch"), "{places:?}");
}

#[test]
fn sizes_end_where_the_surveys_body_has_its_landmarks() {
    #[derive(Deserialize)]
    struct Ratio {
        men: f64,
        women: f64,
        men_sd: f64,
    }
    #[derive(Deserialize)]
    #[expect(clippy::struct_field_names, reason = "the survey's own names")]
    struct Survey {
        collar_height: Ratio,
        chest_height: Ratio,
        navel_height: Ratio,
    }
    let survey: Survey = toml::from_str(include_str!("reference/bodies.toml")).expect("the survey");
    // Which size ends at which landmark is common practice.
    for (size, Ratio { men, women, men_sd }) in
        [(3.0, survey.navel_height), (4.0, survey.chest_height), (5.0, survey.collar_height)]
    {
        for stature_m in [1.5, 1.7, 1.9] {
            let seen = seen(Lesson::ShotSizes, &phone(), &[size, stature_m]);
            let mean = f64::midpoint(men, women);
            assert_near(figure(&seen, "cut") / stature_m, mean, men_sd, "the cut over stature");
        }
    }
}

#[test]
fn the_crop_keeps_what_cinema_frames_keep_of_their_containers() {
    for Cinema { container_px: (width, height), aspect, frame_px } in Equivalence::read().cinema {
        let record = format!(
            r#"{{"lenses": [{{"name": "it", "focal_length_mm": 6.86, "f_number": 1.78, "sensor_width_mm": 9.8,
                "sensor_height_mm": 7.3}}],
                "recordings": [{{"name": "it", "width_px": {width}, "height_px": {height}}}]}}"#
        );
        let kit: KitRecord = serde_json::from_str(&record).expect("a record");
        let shape = aspect.parse::<optics::Aspect>().expect("a shape").to_f64();
        let kept = figure(&seen(Lesson::Widescreen, &kit.to_kit().expect("a kit"), &[shape, 0.0]), "kept");
        let theirs = f64::from(frame_px.0 * frame_px.1) / f64::from(width * height) * 100.0;
        // They drop what is less than a pixel.
        assert_near(kept, theirs, 0.05, &aspect);
    }
}

#[test]
fn an_adapter_widens_the_view_by_its_squeeze_and_leaves_the_face_soft_by_the_ray_matrices() {
    let bare = seen(Lesson::Widescreen, &phone(), &[2.39, 0.0]);
    let with = seen(Lesson::Widescreen, &phone(), &[2.39, 1.0]);
    let tangent = |seen: &LessonSeen| (figure(seen, "view") / 2.0).to_radians();
    // Afocal: tangents of angles are divided by the squeeze, so the view's is multiplied (design of the adapter, Saleh1991).
    let wider = libm::tan(tangent(&with)) / libm::tan(tangent(&bare));
    assert_near(wider, 1.33, 0.01, "the view's tangent");
    assert!(figure(&with, "kept") > 98.0 && figure(&bare, "kept") < 75.0, "{bare:?}");
    // Saleh1991, section 1.4: S (f² / N) (S² − 1) / (S² (s − f)), here in pixels of the frame.
    let pupil = stage(&with).pupil.expect("a pupil");
    let (s, f, squeeze) = (pupil.focus_up.to_m(), 6.86e-3, 1.33);
    let soft_m = f * f / 1.78 / (s - f) * (squeeze * squeeze - 1.0) / squeeze;
    assert_near(figure(&with, "sideways"), soft_m * 3840.0 / 9.8e-3, 1e-6, "sideways");
}

#[derive(Deserialize)]
struct ExposureReference {
    phone_over_table_stops: f64,
}

#[test]
fn bright_sun_is_as_many_stops_too_much_as_tables_say() {
    let reference: ExposureReference =
        toml::from_str(include_str!("reference/exposure.toml")).expect("the reference");
    let seen = seen(Lesson::Shutter, &phone(), &[180.0, 15.0]);
    assert_near(figure(&seen, "too_much"), reference.phone_over_table_stops, 1e-12, "stops");
    assert_near(figure(&seen, "time"), 1.0 / 48.0, 1e-15, "seconds");
    assert_near(figure(&seen, "nd"), reference.phone_over_table_stops.round(), 0.0, "the nearest whole stop");
    // The shutter's picture smears for as long as it is told to.
    assert_near(stage(&seen).exposure_s, 1.0 / 48.0, 1e-15, "the stage's exposure");
}

#[test]
fn half_the_angle_is_a_stop_and_half_the_smear() {
    // The definition of the angle: time goes with it, and so do light and smear.
    let at = |degrees: f64| seen(Lesson::Shutter, &phone(), &[degrees, 15.0]);
    let (whole, half) = (at(180.0), at(90.0));
    assert_near(figure(&whole, "too_much") - figure(&half, "too_much"), 1.0, 1e-12, "a stop");
    assert_near(figure(&whole, "smear") / figure(&half, "smear"), 2.0, 1e-12, "half the smear");
    // The smear of the picture itself: how far the walker goes across the frame between opening and closing.
    let seen_stage = stage(&whole);
    let walker = seen_stage.people.first().expect("a walker");
    let way = walker.velocity * seen_stage.exposure_s / 2.0;
    let row = |sign: f64| {
        let place = (walker.place + way * sign).extend(seen_stage.opens.position().z);
        seen_stage.opens.see(place).expect("in front").right / seen_stage.view.width() * 3840.0
    };
    assert_near((row(1.0) - row(-1.0)).abs(), figure(&whole, "smear"), 0.5, "pixels across");
}

#[test]
fn beyond_the_line_both_look_the_same_way() {
    // Common practice: the line of action; where each looks is geometry.
    for round in [30.0, 50.0, 80.0] {
        let (own, beyond) =
            (seen(Lesson::TheLine, &phone(), &[round]), seen(Lesson::TheLine, &phone(), &[-round]));
        assert_near(figure(&own, "off_line"), round, 1e-6, "round from the line");
        assert_near(figure(&beyond, "off_line"), -round, 1e-6, "beyond it");
        assert_near(figure(&own, "findings"), 0.0, 0.0, "it cuts");
        assert!(figure(&beyond, "findings") >= 1.0, "{beyond:?}");
        // Which way the one in focus looks across each picture.
        let looks = |seen: &LessonSeen, at: usize| {
            let stage = &seen.views[at].stage;
            let who = stage.people.first().expect("somebody");
            staging::along(who.facing).dot(stage.opens.right().truncate())
        };
        assert!(looks(&own, 0) > 0.0 && looks(&own, 1) < 0.0, "they look at each other");
        assert!(looks(&beyond, 0) > 0.0 && looks(&beyond, 1) > 0.0, "they look away from each other");
    }
}

#[test]
fn leaves_nearer_than_the_person_are_as_soft_as_the_renderer_measures_it() {
    // The thin lens in front of its focus: b = (f² / N)(s − d) / (d (s − f)), measured by the renderer in thin_lens.toml and
    // asked of the lesson at its own focus.
    let seen = seen(Lesson::DepthWithoutBlur, &phone(), &[0.5, 135.0]);
    let pupil = stage(&seen).pupil.expect("a pupil");
    let (s, d, f) = (pupil.focus_up.to_m(), pupil.focus_up.to_m() / figure(&seen, "leaves_size"), 6.86e-3);
    let disc_m = f * f / 1.78 * (s - d) / (d * (s - f));
    assert_near(figure(&seen, "leaves_blur"), disc_m * 3840.0 / 9.8e-3, 1e-6, "the leaves");
    let reference: ThinLens =
        toml::from_str(include_str!("reference/thin_lens.toml")).expect("the reference");
    let nearer = reference.disc.iter().filter(|disc| disc.distance_mm < disc.focus_mm);
    let mut compared = 0;
    for disc in nearer {
        compared += 1;
        let (f, s, d) = (disc.focal_length_mm, disc.focus_mm, disc.distance_mm);
        let ours = f * f / disc.f_number * (s - d) / (d * (s - f)) * 3840.0 / disc.area_width_mm;
        let tolerance = reference.tolerance_px.max(reference.tolerance_relative * disc.measured_px);
        assert_near(ours, disc.measured_px, tolerance, &reference.source);
    }
    assert!(compared >= 5, "{compared} discs");
}

#[test]
fn shadows_are_as_long_as_the_suns_height_makes_them_and_fall_from_where_it_is() {
    // Plane geometry: 1 / tan of the sun's elevation. Which side counts as front, side and back light is common practice.
    for (round, side) in
        [(0.0, "front light"), (90.0, "from the left"), (-90.0, "from the right"), (180.0, "back light")]
    {
        let seen = seen(Lesson::DepthWithoutBlur, &phone(), &[0.5, round]);
        assert_near(figure(&seen, "shadow"), 1.0 / libm::tan(28.0_f64.to_radians()), 1e-9, "the shadow");
        assert_near(figure(&seen, "sun"), round.abs(), 1e-6, "round from behind the phone");
        assert!(seen.sentences[1].contains(side), "{:?}", seen.sentences);
        let staging::Light::Sun { azimuth, .. } = stage(&seen).light else { panic!("no sun") };
        // The phone looks north; the sun is behind it in the south.
        let sun = staging::along(azimuth);
        let (behind, left) = (-sun.y, -sun.x);
        let (expected_behind, expected_left) = (libm::cos(round.to_radians()), libm::sin(round.to_radians()));
        assert_near(behind, expected_behind, 1e-9, "behind the phone");
        assert_near(left, expected_left, 1e-9, "to the phone's left");
    }
}
