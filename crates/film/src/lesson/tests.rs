//! Every lesson on every kit that comes with the program, wherever its handles are.

use proptest::prelude::*;
use units::LengthUnit;

use super::{FigureUnit, Lesson, LessonSeen, NoLesson};
use crate::kit::{Kit, KitLens};
use crate::preset::kits;

fn every_kit() -> Vec<Kit> {
    kits().iter().map(|kit| kit.to_kit().expect("a kit")).collect()
}

/// Where a handle's values are as shares of its range.
fn values(lesson: Lesson, shares: [f64; 2]) -> Vec<f64> {
    let handles = lesson.handles().iter().zip(shares);
    handles.map(|(handle, share)| handle.min + (handle.max - handle.min) * share).collect()
}

fn assert_whole(lesson: Lesson, seen: &LessonSeen) {
    let words: Vec<&str> = seen.figures.iter().map(|figure| figure.word).collect();
    assert_eq!(words, lesson.figure_words(), "{lesson:?}");
    assert!((1..=2).contains(&seen.views.len()), "{lesson:?}");
    for view in &seen.views {
        assert!(view.aspect > 0.0 && !view.stage.people.is_empty(), "{lesson:?}");
        assert_eq!(view.caption.is_empty(), seen.views.len() == 1, "{lesson:?}");
    }
    for figure in &seen.figures {
        assert!(!figure.told.is_empty() && !figure.name.is_empty(), "{lesson:?}: {figure:?}");
        assert!(figure.value.is_none_or(f64::is_finite), "{lesson:?}: {figure:?}");
    }
    for sentence in &seen.sentences {
        let ends = sentence.matches(['.', '!']).filter(|_| sentence.ends_with('.')).count();
        assert!(ends >= 1, "{lesson:?}: {sentence}");
        // One sentence: no full stop with a space after it.
        assert!(!sentence.contains(". "), "{lesson:?}: {sentence}");
        assert!(sentence.starts_with(|letter: char| letter.is_uppercase()), "{lesson:?}: {sentence}");
        assert!(!sentence.contains("NaN") && !sentence.contains("inf "), "{lesson:?}: {sentence}");
        assert!(
            sentence.chars().count() <= 260,
            "{lesson:?}: {} letters: {sentence}",
            sentence.chars().count()
        );
    }
    let told = seen.sentences.concat();
    assert!(told.chars().filter(char::is_ascii_digit).count() >= 4, "{lesson:?}: {told}");
}

#[test]
fn every_lesson_shows_itself_on_every_kit_at_every_end() {
    for kit in every_kit() {
        for lesson in Lesson::ALL {
            for shares in [[0.0, 0.0], [0.0, 1.0], [0.5, 0.5], [1.0, 0.0], [1.0, 1.0]] {
                let seen = lesson.seen(&kit, None, &values(lesson, shares), LengthUnit::Metres);
                let seen = seen.unwrap_or_else(|error| panic!("{lesson:?} on {}: {error}", kit.name));
                assert_whole(lesson, &seen);
            }
            let usual = lesson.seen(&kit, None, &[], LengthUnit::Metres).expect("seen");
            let said = lesson.seen(&kit, None, &lesson.usual_values(), LengthUnit::Metres).expect("seen");
            assert_eq!(usual, said);
            assert_eq!(usual.lens, "main", "{lesson:?}");
            assert!(usual.figures.iter().any(|figure| figure.value.is_some()), "{lesson:?}");
        }
    }
}

#[test]
fn every_lesson_has_a_word_and_a_title_of_its_own() {
    for lesson in Lesson::ALL {
        assert_eq!(Lesson::of_word(lesson.word()), Some(lesson));
        assert_eq!(Lesson::ALL.iter().filter(|other| other.title() == lesson.title()).count(), 1);
        assert!((1..=2).contains(&lesson.handles().len()));
        let words = lesson.handles().iter().map(|handle| handle.word);
        let taken = ["lens", "kit", "note", "who", "figure", "at_least", "at_most"];
        assert!(words.into_iter().all(|word| !taken.contains(&word)), "{lesson:?}");
    }
}

#[test]
fn a_lens_without_its_true_size_shows_the_picture_and_says_what_is_not_known() {
    let mut kit = every_kit().remove(0);
    let record = crate::kit_file::LensRecord {
        focal_length_35mm_equivalent_mm: Some(24.0),
        ..crate::kit_file::LensRecord::default()
    };
    let lens = record.to_lens().expect("a lens");
    kit.lenses = vec![KitLens { lens, ..kit.lenses[0].clone() }];
    for lesson in Lesson::ALL {
        let seen = lesson.seen(&kit, None, &[], LengthUnit::Metres).expect("seen");
        assert_whole(lesson, &seen);
    }
    let seen = Lesson::SoftBackground.seen(&kit, None, &[], LengthUnit::Metres).expect("seen");
    let blur = seen.figure("blur").expect("a figure");
    assert!(blur.value.is_none() && blur.told.contains("true focal length"), "{blur:?}");
}

/// All that a lesson tells in words.
fn told(seen: &LessonSeen) -> Vec<&str> {
    let sentences = seen.sentences.iter().chain(&seen.note).map(String::as_str);
    sentences.chain(seen.figures.iter().map(|figure| figure.told.as_str())).collect()
}

#[test]
fn who_reads_feet_is_told_no_metres_and_sees_the_same() {
    let kit = every_kit().remove(0);
    let has_metres =
        |text: &&str| text.split([' ', ',', ':', ';']).any(|word| word.trim_end_matches('.') == "m");
    for lesson in Lesson::ALL {
        for shares in [[0.0, 0.0], [0.5, 0.5], [1.0, 1.0]] {
            let values = values(lesson, shares);
            let seen = |unit| lesson.seen(&kit, None, &values, unit).expect("seen");
            let (metres, feet) = (seen(LengthUnit::Metres), seen(LengthUnit::Feet));
            assert_whole(lesson, &feet);
            assert_eq!(told(&feet).into_iter().find(has_metres), None, "{lesson:?}");
            let in_feet = |text: &&str| text.contains('"');
            // Where one is told a length, so is the other.
            let count = told(&metres).into_iter().filter(has_metres).count();
            assert_eq!(told(&feet).into_iter().filter(in_feet).count(), count, "{lesson:?}: {feet:?}");
            assert_eq!(feet.views, metres.views, "{lesson:?}");
            for (one, other) in feet.figures.iter().zip(&metres.figures) {
                assert_eq!((one.value, one.unit), (other.value, other.unit), "{lesson:?}");
                if one.unit == FigureUnit::Metres {
                    assert_eq!(one.value.is_some(), one.told.ends_with('"'), "{one:?}");
                }
            }
            for (handle, value) in lesson.handles().iter().zip(&values) {
                let told = (handle.told)(*value, LengthUnit::Feet);
                assert_eq!(told.ends_with('"'), handle.unit == "m", "{lesson:?}: {told}");
            }
        }
    }
}

#[test]
fn a_lens_that_is_not_in_the_kit_is_refused_by_every_lesson() {
    let kit = every_kit().remove(0);
    for lesson in Lesson::ALL {
        let error = lesson.seen(&kit, Some("periscope"), &[], LengthUnit::Metres).expect_err("no such lens");
        assert!(matches!(error, NoLesson::LensGone { .. }), "{error}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]
    #[test]
    fn every_lesson_is_whole_wherever_its_handles_are(which in 0..Lesson::ALL.len(), of in 0..4_usize, shares in [0.0..=1.0_f64, 0.0..=1.0]) {
        let (kits, lesson) = (every_kit(), Lesson::ALL[which]);
        let kit = &kits[of % kits.len()];
        for lens in &kit.lenses {
            match lesson.seen(kit, Some(&lens.name), &values(lesson, shares), LengthUnit::Metres) {
                Ok(seen) => assert_whole(lesson, &seen),
                Err(error) => prop_assert!(matches!(error, NoLesson::NoFraming { .. }), "{error}"),
            }
        }
    }
}
