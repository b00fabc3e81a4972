//! A part of a picture that is being drawn.

use std::sync::Arc;

use render::{Photo, Picked, Picture, Screen, Size, Strip, Tracer};
use requests::{BadRequest, LONGEST_SIDE_PX, PhotoNumber, StageRecord};

/// A part of a picture: some of its strips, with the samples that they have so far.
#[derive(Debug)]
pub(crate) struct Drawing {
    tracer: Tracer,
    strips: Vec<Strip>,
}

/// How far a slice of work came.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Progress {
    /// Every pixel has the samples that were asked for.
    Done,
    /// There is more to draw.
    More,
}

/// Samples taken of a strip between two looks at the clock: as many as a tracer takes at once, a few milliseconds even on a
/// phone that is ten times slower than a laptop.
const SAMPLES_AT_ONCE: u32 = 4;

impl Drawing {
    /// Part `part` of `parts` of the picture of a stage, before one of these photos if it names one.
    ///
    /// # Errors
    /// In words, if that is no stage, no size or no part, or if its photo is not among them.
    pub(crate) fn begin(
        record: &StageRecord,
        (width_px, height_px): (u32, u32),
        part: u32,
        parts: u32,
        photos: &[(PhotoNumber, Arc<Photo>)],
    ) -> Result<Self, BadRequest> {
        let refused = |path: &str, message: String| BadRequest { path: path.to_owned(), message };
        for (path, side) in [("width_px", width_px), ("height_px", height_px)] {
            if !(1..=LONGEST_SIDE_PX).contains(&side) {
                return Err(refused(path, format!("{side} px is not allowed: 1 to {LONGEST_SIDE_PX} px")));
            }
        }
        if part >= parts {
            return Err(refused("part", format!("there is no part {part} of {parts}")));
        }
        let stage = record.to_stage().map_err(|error| error.within("stage"))?;
        let picture = match record.backdrop {
            None => Picture::of(&stage),
            Some(backdrop) => {
                let Some((_, photo)) = photos.iter().find(|(number, _)| *number == backdrop.photo) else {
                    return Err(refused("stage.backdrop.photo", "has not been handed over".to_owned()));
                };
                Picture::before(&stage, photo)
            }
        };
        let tracer = Tracer::new(&picture, Size { width: width_px, height: height_px });
        let own = (0..tracer.strips()).filter(|index| index % parts == part);
        let strips = own.map(|index| tracer.strip(index)).collect();
        Ok(Self { tracer, strips })
    }

    /// Draws towards `samples` for each pixel until `is_time` says so, and says how many samples of pixels it took.
    pub(crate) fn go_on(&mut self, samples: u32, is_time: impl Fn() -> bool) -> (Progress, f64) {
        let width = self.tracer.size().width;
        let mut taken = 0.0;
        for strip in &mut self.strips {
            while strip.samples() < samples {
                if taken > 0.0 && is_time() {
                    return (Progress::More, taken);
                }
                let next = (samples - strip.samples()).min(SAMPLES_AT_ONCE);
                self.tracer.trace(strip, next);
                let rows = strip.rows();
                taken += f64::from(rows.end - rows.start) * f64::from(width) * f64::from(next);
            }
        }
        (Progress::Done, taken)
    }

    /// The pixels of the part: red, green, blue and 255 each, its strips from the top, their rows from the left.
    pub(crate) fn pixels(&self, screen: &Screen) -> Vec<u8> {
        let width = self.tracer.size().width;
        let bytes = |strip: &Strip| {
            let rows = strip.rows();
            // As many bytes as there are: a part of an image whose sides are bounded.
            usize::try_from((rows.end - rows.start) * width * 4).unwrap_or(0)
        };
        let mut rgba = vec![0; self.strips.iter().map(bytes).sum()];
        let mut rest = rgba.as_mut_slice();
        for strip in &self.strips {
            let (own, below) = rest.split_at_mut(bytes(strip));
            strip.develop(screen, own);
            rest = below;
        }
        rgba
    }

    /// What is seen in a pixel.
    pub(crate) fn pick(&self, x_px: f64, y_px: f64) -> Option<Picked> {
        self.tracer.pick(x_px, y_px)
    }
}

#[cfg(test)]
pub(crate) mod tests {
    use std::cell::Cell;

    use glam::{DVec2, DVec3};
    use optics::ViewTangents;
    use requests::STRIP_ROWS;
    use staging::{Backdrop, Body, Camera, Colour, Light, Person, Stage, Stance};
    use units::{Angle, Length};

    use super::*;

    /// Somebody on a bare floor, seen through a pinhole.
    pub(crate) fn record() -> StageRecord {
        let camera = Camera::new(DVec3::new(0.0, -3.0, 1.2), Angle::ZERO, Angle::ZERO);
        StageRecord::from(&Stage {
            opens: camera,
            closes: camera,
            view: ViewTangents { left: 0.5, right: 0.5, up: 0.4, down: 0.4 },
            pupil: None,
            exposure_s: 0.0,
            people: vec![Person {
                body: Body::standing(Length::from_m(1.7)),
                stance: Stance::Still,
                place: DVec2::ZERO,
                facing: Angle::from_deg(180.0),
                clothes: Colour([0.03, 0.16, 0.27]),
                velocity: DVec2::ZERO,
            }],
            pieces: Vec::new(),
            object: None,
            posts: None,
            backdrop: None,
            light: Light::Overcast,
        })
    }

    /// The same before photo 7, which was taken from there.
    pub(crate) fn record_before_a_photo() -> StageRecord {
        let stage = record().to_stage().unwrap();
        let backdrop = Backdrop { photo: 7, camera: stage.opens, view: stage.view, far: Length::from_m(9.0) };
        StageRecord::from(&Stage { backdrop: Some(backdrop), ..stage })
    }

    /// The rows of an image of 40 by 50 pixels drawn in so many parts, each stopped after every look at the clock.
    fn image(parts: u32) -> Vec<Vec<u8>> {
        let mut rows = vec![Vec::new(); 50];
        for part in 0..parts {
            let mut drawing = Drawing::begin(&record(), (40, 50), part, parts, &[]).unwrap();
            while drawing.go_on(6, || true).0 == Progress::More {}
            let pixels = drawing.pixels(&Screen::new());
            let own = (0..50).filter(|row| row / STRIP_ROWS % parts == part);
            for (row, bytes) in own.zip(pixels.chunks(40 * 4)) {
                rows[row as usize] = bytes.to_vec();
            }
        }
        rows
    }

    #[test]
    fn the_parts_of_a_picture_make_the_whole() {
        let whole = image(1);
        assert_eq!(image(3), whole);
        assert!(whole.iter().all(|row| row.len() == 160), "every row is drawn");
    }

    #[test]
    fn a_part_beyond_the_last_strip_is_empty() {
        let mut drawing = Drawing::begin(&record(), (40, 16), 1, 2, &[]).unwrap();
        assert_eq!(drawing.go_on(4, || false), (Progress::Done, 0.0));
        assert_eq!(drawing.pixels(&Screen::new()), Vec::<u8>::new());
    }

    #[test]
    fn a_slice_ends_when_it_is_time_and_counts_what_it_took() {
        let mut drawing = Drawing::begin(&record(), (40, 32), 0, 1, &[]).unwrap();
        let looks = Cell::new(0);
        let (progress, taken) = drawing.go_on(16, || {
            looks.set(looks.get() + 1);
            looks.get() == 2
        });
        assert_eq!(progress, Progress::More);
        assert!((taken - 2.0 * 4.0 * 16.0 * 40.0).abs() < 1e-9, "{taken}");
        let (progress, rest) = drawing.go_on(16, || false);
        assert_eq!(progress, Progress::Done);
        assert!((taken + rest - 16.0 * 32.0 * 40.0).abs() < 1e-9, "{taken} {rest}");
    }

    #[test]
    fn what_is_seen_is_told_with_its_distance() {
        let drawing = Drawing::begin(&record(), (400, 320), 0, 1, &[]).unwrap();
        let seen = drawing.pick(200.0, 160.0).expect("their chest");
        assert!((2.5..3.0).contains(&seen.depth.to_m()), "{seen:?}");
        assert!(drawing.pick(5.0, 5.0).is_none(), "the sky");
    }

    #[test]
    fn a_photo_stands_behind_or_is_missed_in_words() {
        let photos = [(PhotoNumber(0, 7), Arc::new(Photo::new(1, 1, vec![250, 0, 0, 255]).unwrap()))];
        let begin = |photos: &[(PhotoNumber, Arc<Photo>)]| {
            Drawing::begin(&record_before_a_photo(), (40, 16), 0, 1, photos)
        };
        let mut drawing = begin(&photos).unwrap();
        drawing.go_on(4, || false);
        assert_eq!(drawing.pixels(&Screen::new())[..4], [250, 0, 0, 255]);
        let told = begin(&[]).unwrap_err().to_string();
        assert_eq!(told, "stage.backdrop.photo: has not been handed over");
    }

    #[test]
    fn nonsense_is_refused_in_words() {
        let refusal =
            |size, part, parts| Drawing::begin(&record(), size, part, parts, &[]).unwrap_err().to_string();
        assert_eq!(refusal((0, 10), 0, 1), "width_px: 0 px is not allowed: 1 to 8192 px");
        assert_eq!(refusal((10, 9000), 0, 1), "height_px: 9000 px is not allowed: 1 to 8192 px");
        assert_eq!(refusal((10, 10), 2, 2), "part: there is no part 2 of 2");
        let mut odd = record();
        odd.exposure_s = f64::NAN;
        let told = Drawing::begin(&odd, (10, 10), 0, 1, &[]).unwrap_err().to_string();
        assert_eq!(told, "stage.exposure_s: is out of range (s)");
    }
}
