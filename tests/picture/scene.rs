//! A scene file: what both the outside renderer's script and these checks read, and the picture that it stands for.

use glam::DVec3;
use optics::{
    Adapter, Aspect, FNumber, FocalLength, Known, Lens, Origin, Recording, Scale, SensorSize, Squeeze,
    ViewTangents, image_distance, view_tangents,
};
use render::{Floor, Lighting, Picture, Shape, Size, Solid, Sun, Surface};
use serde::Deserialize;
use staging::{
    Body, Camera, Colour, FocusOn, Look, PhoneHeight, Pupil, Sharpness, Shot, ShotSize, Stand, Subject,
};
use units::{Angle, Length};

#[derive(Debug, Deserialize)]
pub(crate) struct SceneFile {
    pub(crate) size_px: (u32, u32),
    pub(crate) least_ssim: f64,
    camera: CameraFile,
    lens: LensFile,
    adapter: Option<AdapterFile>,
    lighting: LightingFile,
    floor: Option<FloorFile>,
    shape: Vec<ShapeFile>,
}

#[derive(Debug, Deserialize)]
struct CameraFile {
    position_m: [f64; 3],
    azimuth_deg: f64,
    tilt_deg: f64,
}

/// A lens and how far away it is focused.
#[derive(Debug, Clone, Copy, Deserialize)]
pub(crate) struct LensFile {
    pub(crate) focal_length_mm: f64,
    pub(crate) f_number: f64,
    pub(crate) sensor_width_mm: f64,
    pub(crate) focus_m: f64,
}

/// An adapter that squeezes the width.
#[derive(Debug, Clone, Copy, Deserialize)]
pub(crate) struct AdapterFile {
    pub(crate) squeeze: f64,
    pub(crate) focusing: bool,
}

#[derive(Debug, Deserialize)]
struct LightingFile {
    /// An even sky.
    sky: [f64; 3],
    sun: Option<SunFile>,
}

#[derive(Debug, Deserialize)]
struct SunFile {
    azimuth_deg: f64,
    elevation_deg: f64,
    light: [f64; 3],
    half_angle_deg: f64,
}

#[derive(Debug, Clone, Copy, Deserialize)]
struct FloorFile {
    matt: [f64; 3],
}

#[derive(Debug, Deserialize)]
struct ShapeFile {
    #[serde(flatten)]
    solid: SolidFile,
    #[serde(flatten)]
    surface: SurfaceFile,
    /// Rows of the same shape, and rows of those rows.
    #[serde(default)]
    copies: Vec<CopiesFile>,
}

#[derive(Debug, Deserialize)]
#[serde(rename_all = "snake_case")]
enum SolidFile {
    Ellipsoid(UprightFile),
    Block(UprightFile),
    Cylinder(UprightFile),
    RoundCone { from_m: [f64; 3], from_radius_m: f64, to_m: [f64; 3], to_radius_m: f64 },
}

/// Half axes along the right, forward and up of a camera turned and tilted like that.
#[derive(Debug, Deserialize)]
struct UprightFile {
    centre_m: [f64; 3],
    half_m: [f64; 3],
    #[serde(default)]
    turn_deg: f64,
    #[serde(default)]
    lean_deg: f64,
}

#[derive(Debug, Clone, Copy, Deserialize)]
#[serde(rename_all = "snake_case")]
enum SurfaceFile {
    Matt([f64; 3]),
    Glowing([f64; 3]),
}

#[derive(Debug, Deserialize)]
struct CopiesFile {
    count: u32,
    step_m: [f64; 3],
}

impl SceneFile {
    pub(crate) fn size(&self) -> Size {
        Size { width: self.size_px.0, height: self.size_px.1 }
    }

    pub(crate) fn picture(&self) -> Picture {
        let camera = Camera::new(
            DVec3::from_array(self.camera.position_m),
            Angle::from_deg(self.camera.azimuth_deg),
            Angle::from_deg(self.camera.tilt_deg),
        );
        let (view, pupil) = through(self.lens, self.adapter, self.size_px);
        Picture {
            opens: camera,
            closes: camera,
            view,
            pupil: Some(pupil),
            shapes: self.shape.iter().flat_map(ShapeFile::shapes).collect(),
            floor: self.floor.map_or(Floor::None, |floor| Floor::Plain(Colour(floor.matt))),
            backdrop: None,
            lighting: self.lighting(),
        }
    }

    /// The floor gives back sun and sky; where nothing shades it, that is what comes back from below.
    fn lighting(&self) -> Lighting {
        let sky = self.lighting.sky;
        let sun = self.lighting.sun.as_ref().map(|sun| Sun {
            direction: Camera::new(
                DVec3::ZERO,
                Angle::from_deg(sun.azimuth_deg),
                Angle::from_deg(sun.elevation_deg),
            )
            .forward(),
            light: sun.light,
            half_angle_rad: Angle::from_deg(sun.half_angle_deg).to_rad(),
        });
        let floor = self.floor.map_or([0.0; 3], |floor| floor.matt);
        let onto_floor = sun.map_or([0.0; 3], |sun| sun.light.map(|light| light * sun.direction.z));
        let bounce = [0, 1, 2].map(|channel| floor[channel] * (sky[channel] + onto_floor[channel]));
        Lighting { sun, zenith: sky, horizon: sky, bounce }
    }
}

/// What an image of that shape sees through a lens, by the same chain of images as the program's, and its pupil.
pub(crate) fn through(
    lens: LensFile,
    adapter: Option<AdapterFile>,
    size_px: (u32, u32),
) -> (ViewTangents, Pupil) {
    let origin = Origin::Typed;
    let f = FocalLength::from_mm(lens.focal_length_mm).expect("a focal length");
    let shot = Shot {
        lens: Lens {
            focal_length: Known::new(f, origin),
            f_number: Some(Known::new(FNumber::new(lens.f_number).expect("an f-number"), origin)),
            // As tall as it is wide, so that no image here is narrower than what the lens sees.
            sensor: Known::new(
                SensorSize::from_mm(lens.sensor_width_mm, lens.sensor_width_mm).expect("an area"),
                origin,
            ),
            closest_focus: None,
            scale: Scale::True,
        },
        recording: Recording::new(4000, 4000).expect("a mode"),
        adapter: adapter.map(AdapterFile::adapter),
        aspect: Aspect::new(f64::from(size_px.0) / f64::from(size_px.1)).expect("a shape"),
        crop_shift: None,
        subject: Subject::Person(Body::standing(Length::from_m(1.70))),
        size: ShotSize::Medium,
        headroom: None,
        phone_height: PhoneHeight::BySize,
        look: Look::Aimed,
        stand: Stand::ForSize,
        across: 0.5,
        background_behind: Length::from_m(10.0),
        focus: FocusOn::Subject,
        sharpness: Sharpness::Usual,
    };
    let focus = Length::from_m(lens.focus_m);
    let view = view_tangents(&shot.frame(), image_distance(f, focus));
    (view, Pupil::focused(&shot, focus).expect("a pupil"))
}

impl AdapterFile {
    pub(crate) fn adapter(self) -> Adapter {
        Adapter { focusing: self.focusing, ..Adapter::new(Squeeze::new(self.squeeze).expect("a squeeze")) }
    }
}

impl ShapeFile {
    fn shapes(&self) -> Vec<Shape> {
        let mut places = vec![DVec3::ZERO];
        for copies in &self.copies {
            let step = DVec3::from_array(copies.step_m);
            places = (0..copies.count)
                .flat_map(|index| places.iter().map(move |place| *place + step * f64::from(index)))
                .collect();
        }
        let surface = match self.surface {
            SurfaceFile::Matt(share) => Surface::Matt(Colour(share)),
            SurfaceFile::Glowing(light) => Surface::Glowing(light),
        };
        places
            .into_iter()
            .map(|place| Shape { solid: self.solid.at(place), surface, moved: DVec3::ZERO, melts_m: 0.0 })
            .collect()
    }
}

impl SolidFile {
    fn at(&self, place: DVec3) -> Solid {
        match self {
            Self::Ellipsoid(upright) => {
                Solid::Ellipsoid { centre: upright.centre(place), axes: upright.axes() }
            }
            Self::Block(upright) => Solid::Block { centre: upright.centre(place), axes: upright.axes() },
            Self::Cylinder(upright) => {
                Solid::Cylinder { centre: upright.centre(place), axes: upright.axes() }
            }
            Self::RoundCone { from_m, from_radius_m, to_m, to_radius_m } => Solid::RoundCone {
                from: DVec3::from_array(*from_m) + place,
                from_radius: *from_radius_m,
                to: DVec3::from_array(*to_m) + place,
                to_radius: *to_radius_m,
            },
        }
    }
}

impl UprightFile {
    fn centre(&self, place: DVec3) -> DVec3 {
        DVec3::from_array(self.centre_m) + place
    }

    fn axes(&self) -> [DVec3; 3] {
        let turned = Camera::new(DVec3::ZERO, Angle::from_deg(self.turn_deg), Angle::from_deg(self.lean_deg));
        let [right, forward, up] = self.half_m;
        [turned.right() * right, turned.forward() * forward, turned.up() * up]
    }
}
