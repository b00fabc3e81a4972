//! Where a bright thing lies in a picture, to a part of a pixel, from the light of the pixels that it fills in part.

use std::fs::File;
use std::io::BufReader;
use std::path::Path;

use glam::DVec3;
use optics::{
    Aspect, CropShift, FocalLength, Origin, RecordedArea, SensorSize, deliver, image_distance, view_tangents,
};
use render::{Floor, Lighting, Picture, Shape, Size, Solid, Surface, draw};
use staging::{Camera, Pupil};
use units::{Angle, Length};

/// The light of a picture, row by row, linear.
pub(crate) struct Light {
    width: usize,
    rows: Vec<Vec<f64>>,
}

/// Which share of each pixel a bright thing fills.
pub(crate) struct Thing {
    shares: Vec<Vec<f64>>,
}

impl Light {
    /// How many pixels a row has.
    #[expect(clippy::cast_precision_loss, reason = "some hundred")]
    pub(crate) fn width_px(&self) -> f64 {
        self.width as f64
    }

    /// The one thing that glows before a dark ground, by what each pixel has of the light of both.
    pub(crate) fn thing(&self) -> Thing {
        let all = || self.rows.iter().flatten().copied();
        let (dark, bright) = (all().fold(f64::MAX, f64::min), all().fold(0.0, f64::max));
        assert!(bright > 4.0 * dark, "{bright} before {dark}");
        let share = |light: &f64| (light - dark) / (bright - dark);
        Thing { shares: self.rows.iter().map(|row| row.iter().map(share).collect()).collect() }
    }
}

/// Sum, middle and mean square of the distance from it, of shares along a line of pixels.
fn moments(shares: &[f64]) -> (f64, f64, f64) {
    let places = || shares.iter().zip(0_u32..).map(|(share, at)| (*share, f64::from(at) + 0.5));
    let sum: f64 = shares.iter().sum();
    let middle = places().map(|(share, at)| share * at).sum::<f64>() / sum;
    let spread = places().map(|(share, at)| share * (at - middle) * (at - middle)).sum::<f64>() / sum;
    (sum, middle, spread)
}

impl Thing {
    /// The two ends of a board across the picture: the mean over the rows that it crosses whole.
    pub(crate) fn ends_px(&self) -> (f64, f64) {
        let rows: Vec<_> = self.shares.iter().map(|row| moments(row)).collect();
        let widest = rows.iter().map(|row| row.0).fold(0.0, f64::max);
        let whole: Vec<_> = rows.iter().filter(|row| row.0 > 0.99 * widest).collect();
        let count = f64::from(u32::try_from(whole.len()).expect("some rows"));
        let (width, middle) = (
            whole.iter().map(|row| row.0).sum::<f64>() / count,
            whole.iter().map(|row| row.1).sum::<f64>() / count,
        );
        (middle - width / 2.0, middle + width / 2.0)
    }

    /// The edges of something round across and down: the mean square of a disc's places is a sixteenth of its diameter's square.
    pub(crate) fn round_px(&self) -> ((f64, f64), (f64, f64)) {
        let width = self.shares.first().map_or(0, Vec::len);
        let columns: Vec<f64> = (0..width).map(|at| self.shares.iter().map(|row| row[at]).sum()).collect();
        let rows: Vec<f64> = self.shares.iter().map(|row| row.iter().sum()).collect();
        let edges = |shares: &[f64]| {
            let (_, middle, spread) = moments(shares);
            let half = 2.0 * libm::sqrt(spread);
            (middle - half, middle + half)
        };
        (edges(&columns), edges(&rows))
    }
}

/// Linear light of a byte in sRGB (IEC 61966-2-1).
fn linear(byte: u8) -> f64 {
    let c = f64::from(byte) / 255.0;
    if c <= 0.04045 { c / 12.92 } else { libm::pow((c + 0.055) / 1.055, 2.4) }
}

/// The independent renderer's picture of a scene, made by `reference/scripts/picture.py`.
pub(crate) fn renderers_picture(name: &str) -> Light {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("reference/pictures/renderer/{name}.png"));
    let mut decoder = png::Decoder::new(BufReader::new(File::open(path).expect("a picture")));
    decoder.set_transformations(png::Transformations::EXPAND);
    let mut reader = decoder.read_info().expect("a PNG");
    let mut data = vec![0; reader.output_buffer_size().expect("a small PNG")];
    let info = reader.next_frame(&mut data).expect("a whole PNG");
    assert_eq!((info.color_type, info.bit_depth), (png::ColorType::Rgb, png::BitDepth::Eight));
    let width = info.width as usize;
    let green: Vec<f64> = data.chunks_exact(3).map(|pixel| linear(pixel[1])).collect();
    Light { width, rows: green.chunks_exact(width).map(<[f64]>::to_vec).collect() }
}

/// Our tracer's picture of a glowing board, square to the look: focal length (mm), f-number and sensor's width (mm); how far
/// away and how far to the right its middle is, and how wide it is.
pub(crate) fn tracers_picture(lens: (f64, f64, f64), distance_m: f64, right_m: f64, width_m: f64) -> Light {
    let size = Size { width: 640, height: 360 };
    let (focal_mm, f_number, sensor_mm) = lens;
    let f = FocalLength::from_mm(focal_mm).expect("a focal length");
    let focus = Length::from_m(distance_m);
    let recorded = RecordedArea {
        size: SensorSize::from_mm(sensor_mm, sensor_mm * 9.0 / 16.0).expect("an area"),
        width_px: 640.0,
        height_px: 360.0,
        relative_sd: 0.0,
        origin: Origin::Typed,
    };
    let frame = deliver(recorded, None, Aspect::new(16.0 / 9.0).expect("a shape"), CropShift::default());
    let camera = Camera::new(DVec3::new(0.0, 0.0, 1.5), Angle::ZERO, Angle::ZERO);
    // So thin that its sides are not seen, wherever it stands.
    let half_deep = 0.0002;
    let board = Shape {
        solid: Solid::Block {
            centre: DVec3::new(right_m, distance_m + half_deep, 1.5),
            axes: [DVec3::X * (width_m / 2.0), DVec3::Y * half_deep, DVec3::Z * 0.1],
        },
        surface: Surface::Glowing([0.8; 3]),
        moved: DVec3::ZERO,
        melts_m: 0.0,
    };
    let pupil = f.to_length() / f_number;
    let picture = Picture {
        opens: camera,
        closes: camera,
        view: view_tangents(&frame, image_distance(f, focus)),
        pupil: Some(Pupil { width: pupil, height: pupil, focus_across: focus, focus_up: focus }),
        shapes: vec![board],
        floor: Floor::None,
        backdrop: None,
        lighting: Lighting { sun: None, zenith: [0.02; 3], horizon: [0.02; 3], bounce: [0.02; 3] },
    };
    let rgba = draw(&picture, size, 256).to_rgba8();
    let green: Vec<f64> = rgba.chunks_exact(4).map(|pixel| linear(pixel[1])).collect();
    Light { width: 640, rows: green.chunks_exact(640).map(<[f64]>::to_vec).collect() }
}
