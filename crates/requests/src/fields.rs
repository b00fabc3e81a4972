//! What every field of a request or a kit takes: for help texts, and for the words of a refusal.
//!
//! Ranges are checked where values are made, in the crates below; the tests hold this table to those checks.

use std::fmt;

use crate::blur::BLUR_FIELDS;
use crate::exposure::EXPOSURE_FIELDS;
use crate::measure::MEASURE_FIELDS;
use crate::sun::SUN_FIELDS;

/// One field of a request.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Field {
    /// Where it is, such as `lens.focal_length_mm`.
    pub path: &'static str,
    /// What it takes.
    pub takes: Takes,
    /// What it means, and what is assumed where it is absent.
    pub meaning: &'static str,
}

/// What a field takes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Takes {
    /// A number from `min` to `max`.
    Number {
        /// The smallest.
        min: f64,
        /// The largest.
        max: f64,
        /// The unit of both.
        unit: &'static str,
    },
    /// A whole number from `min` to `max`.
    Whole {
        /// The smallest.
        min: u32,
        /// The largest.
        max: u32,
        /// The unit of both.
        unit: &'static str,
    },
    /// One of these words.
    Words(&'static [&'static str]),
    /// True or false.
    Flag,
    /// Any text.
    Text,
    /// A frame shape.
    Aspect,
    /// A colour.
    Colour,
    /// A word for the light, or an object that says where the sun is.
    Light,
    /// A list.
    List,
    /// A list of at most so many objects.
    Objects(u32),
    /// An object with fields of its own.
    Object,
}

impl fmt::Display for Takes {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Number { min, max, unit } => write!(f, "{min} to {max} {unit}"),
            Self::Whole { min, max, unit } => write!(f, "{min} to {max} {unit}, whole"),
            Self::Words(words) => write!(f, "{}", words.join(", ")),
            Self::Flag => write!(f, "true or false"),
            Self::Text => write!(f, "text"),
            Self::Aspect => write!(f, "0.2 to 5 (width over height), or text such as \"16:9\""),
            Self::Colour => write!(f, "text such as \"#2f6f8f\""),
            Self::Light => write!(f, "overcast, dusk, or an object with sun"),
            Self::List => write!(f, "a list"),
            Self::Objects(most) => write!(f, "a list of at most {most}"),
            Self::Object => write!(f, "an object"),
        }
    }
}

pub(crate) const fn number(
    path: &'static str,
    min: f64,
    max: f64,
    unit: &'static str,
    meaning: &'static str,
) -> Field {
    Field { path, takes: Takes::Number { min, max, unit }, meaning }
}

pub(crate) const fn field(path: &'static str, takes: Takes, meaning: &'static str) -> Field {
    Field { path, takes, meaning }
}

const POSTURES: Takes = Takes::Words(&["standing", "seated"]);
const AGES: Takes = Takes::Words(&["adult", "child"]);
const PIXELS: Takes = Takes::Whole { min: 16, max: 20_000, unit: "px" };
const SIZES: Takes = Takes::Words(&[
    "extreme_wide",
    "wide",
    "mid_thigh",
    "medium",
    "chest_up",
    "tight",
    "extreme_tight",
    "insert",
]);
const KINDS: Takes = Takes::Words(&[
    "wall",
    "window",
    "doorway",
    "table",
    "bench",
    "tree",
    "hedge",
    "car",
    "lamp_post",
    "lights",
    "plant",
]);
const HEIGHTS: Takes = Takes::Words(&["eyes", "chest", "waist", "knee", "ground", "overhead"]);

/// Every field of a setup request, in the order in which people write them.
pub const SETUP_FIELDS: &[Field] = &[
    field(
        "lens",
        Takes::Object,
        "the lens: focal length with the sensor's sides or the equivalent, or the latter alone",
    ),
    number("lens.focal_length_mm", 0.1, 2000.0, "mm", "focal length"),
    number(
        "lens.focal_length_sd_mm",
        0.0,
        2000.0,
        "mm",
        "its standard uncertainty, at most itself; by origin",
    ),
    number("lens.focal_length_35mm_equivalent_mm", 0.1, 2000.0, "mm", "equivalent of the whole still photo"),
    number("lens.f_number", 0.5, 64.0, "(f-number)", "f-number; without it nothing is told about sharpness"),
    number("lens.sensor_width_mm", 0.2, 100.0, "mm", "width of the whole still photo, phone held sideways"),
    number("lens.sensor_height_mm", 0.2, 100.0, "mm", "height of the whole still photo, phone held sideways"),
    number("lens.sensor_width_sd_mm", 0.0, 100.0, "mm", "standard uncertainty, at most the width; by origin"),
    number("lens.sensor_aspect", 0.5, 3.0, "(width over height)", "beside the equivalent alone; 1.333"),
    number("lens.closest_focus_m", 0.001, 100.0, "m", "the least distance at which it focuses; not checked"),
    field(
        "lens.in_sensor_zooms",
        Takes::List,
        "for kits: zooms of 1 to 20 that read the sensor's middle; none",
    ),
    field(
        "lens.origin",
        Takes::Words(&["typical", "file", "typed", "measured"]),
        "where the values are from; typed",
    ),
    field("lens.name", Takes::Text, "what the crew calls it"),
    field("recording", Takes::Object, "the recording mode; higher than wide is a phone held upright"),
    field("recording.width_px", PIXELS, "pixels along the rows"),
    field("recording.height_px", PIXELS, "pixels along the columns"),
    number("recording.stabiliser_crop", 1.0, 4.0, "(factor)", "what the stabiliser takes from both sides; 1"),
    number(
        "recording.in_sensor_zoom",
        1.0,
        20.0,
        "(factor)",
        "how many times smaller the middle is that is read; 1",
    ),
    number(
        "recording.measured_horizontal_fov_deg",
        1.0,
        170.0,
        "deg",
        "what the mode was seen to hold; replaces what follows from sensor and crop",
    ),
    number("recording.measured_horizontal_fov_sd_deg", 0.0, 90.0, "deg", "its standard uncertainty; 1 %"),
    number("recording.measured_at_m", 0.05, 1000.0, "m", "the distance it was measured from; far away"),
    field("recording.frame_rates_fps", Takes::List, "frame rates of 1 to 1000 fps; none"),
    field("recording.name", Takes::Text, "what the crew calls it"),
    field("adapter", Takes::Object, "the anamorphic adapter, or null; none"),
    number("adapter.squeeze", 1.0, 3.0, "(factor)", "how many times more it sees along its axis"),
    number("adapter.measured_squeeze", 1.0, 3.0, "(factor)", "the squeeze that was measured on it; as sold"),
    number("adapter.measured_squeeze_sd", 0.0, 1.0, "(factor)", "its standard uncertainty; 1 % of it"),
    field("adapter.focusing", Takes::Flag, "whether it can be focused; false"),
    number("adapter.light_loss_stops", 0.0, 5.0, "stops", "the light that it takes; 0"),
    field(
        "adapter.axis_when_upright",
        Takes::Words(&["width", "height"]),
        "the axis it squeezes, phone upright; width",
    ),
    field(
        "adapter.desqueeze",
        Takes::Words(&["stretch", "shrink"]),
        "stretch the width, or shrink the height; stretch",
    ),
    field("adapter.fits", Takes::List, "the lenses that it fits, by name; all"),
    field("adapter.vignettes", Takes::List, "the lenses whose corners it darkens, by name; none"),
    field(
        "adapter.clear_views",
        Takes::Objects(64),
        "how far out lenses were seen to be clear; by vignettes",
    ),
    field("adapter.clear_views.lens", Takes::Text, "the lens, by name"),
    field("adapter.clear_views.recording", Takes::Text, "the mode, by name"),
    number(
        "adapter.clear_views.clear_share",
        0.0,
        1.0,
        "(share of the half-diagonal)",
        "of the recorded frame, up to which all is clear",
    ),
    field("adapter.name", Takes::Text, "what the crew calls it"),
    field("adapter.source", Takes::Text, "where its values come from"),
    field("delivery", Takes::Object, "the frame that is delivered"),
    field("delivery.aspect", Takes::Aspect, "its shape"),
    number("delivery.headroom_share", -2.0, 0.8, "(share)", "of its height above the crown; by the size"),
    field("delivery.protect_aspect", Takes::Aspect, "a second shape that must hold the people too; none"),
    number("delivery.crop_up_share", -1.0, 1.0, "(share)", "how far up the crop is moved within its room; 0"),
    number(
        "delivery.crop_right_share",
        -1.0,
        1.0,
        "(share)",
        "how far right the crop is moved within its room; 0",
    ),
    field("subject", Takes::Object, "who it is of; needed but for an insert"),
    number("subject.stature_m", 0.4, 2.8, "m", "height when standing"),
    field("subject.posture", POSTURES, "standing"),
    field("subject.age", AGES, "whose proportions; adult"),
    field("subject.second_person", Takes::Object, "somebody else in the shot; nobody"),
    number("subject.second_person.stature_m", 0.4, 2.8, "m", "the first one's"),
    field("subject.second_person.posture", POSTURES, "standing"),
    field("subject.second_person.age", AGES, "adult"),
    field("subject.second_person.arrangement", Takes::Words(&["beside", "over_shoulder"]), "beside"),
    number("subject.second_person.apart_m", 0.1, 50.0, "m", "from one to the other; 0.7 beside, else 1"),
    number("subject.second_person.nearer_m", -50.0, 50.0, "m", "than the first to the phone, beside; 0"),
    field("shot_size", SIZES, "how much of them"),
    number("insert_size_m", 0.005, 20.0, "m", "height and width of an insert's object; needed for an insert"),
    number(
        "insert_above_floor_m",
        0.0,
        50.0,
        "m",
        "its lower edge: 0 on the ground, more in a hand or on a piece; on a table of 0.75 m",
    ),
    number("camera_height_m", 0.0, 50.0, "m", "the lens above the floor; by the size"),
    field("camera_height", HEIGHTS, "the same in words, instead"),
    number("look_tilt_deg", -89.0, 89.0, "deg", "a fixed tilt, up positive; aimed for the framing"),
    number("stand_at_m", 0.02, 10_000.0, "m", "a fixed distance along the floor; by the size"),
    number(
        "across_share",
        0.05,
        0.95,
        "(share)",
        "where they stand across the frame, from its left edge; 0.5",
    ),
    number("background_behind_subject_m", 0.0, 100_000.0, "m", "how far behind them the background is"),
    number("room_m", 0.1, 100_000.0, "m", "how far from them the phone can go; anywhere"),
    number("focus_at_m", 0.02, 100_000.0, "m", "where focus is, along the axis; on the subject"),
    field("shutter", Takes::Object, "how long each frame is exposed"),
    number("shutter.frame_rate_fps", 23.976, 240.0, "fps", "frames a second at capture; 24"),
    number("shutter.angle_deg", 1.0, 360.0, "deg", "the share of a frame's time that it is exposed; 180"),
    field("take", Takes::Object, "what moves, at most one of the four moves; nothing"),
    number("take.duration_s", 0.1, 600.0, "s", "how long it lasts; 5"),
    number("take.push_m_per_s", -10.0, 10.0, "m/s", "the phone towards the subject; away if negative"),
    number(
        "take.follow_m_per_s",
        0.0,
        10.0,
        "m/s",
        "the subject walks the way it faces and the phone goes along",
    ),
    number("take.pan_deg_per_s", -360.0, 360.0, "deg/s", "the phone turns to the right; left if negative"),
    number("take.tilt_deg_per_s", -360.0, 360.0, "deg/s", "the phone turns up; down if negative"),
    field("take.pull", Takes::Object, "focus goes from one distance to another"),
    number("take.pull.from_m", 0.02, 100_000.0, "m", "along the axis, at first"),
    number("take.pull.to_m", 0.02, 100_000.0, "m", "along the axis, at last"),
    number("take.pull.starts_s", 0.0, 600.0, "s", "when, into the take; 0"),
    number("take.pull.lasts_s", 0.0, 600.0, "s", "how long; 1"),
    field("blocking", Takes::Object, "what surrounds the subject, who stands at x 0, y 0; a bare floor"),
    number(
        "blocking.phone_bearing_deg",
        -360.0,
        360.0,
        "deg",
        "from the subject to the phone, clockwise from north; 180",
    ),
    number(
        "blocking.facing_deg",
        -360.0,
        360.0,
        "deg",
        "the way the subject faces; the phone, or half turned to a second person",
    ),
    field("blocking.walking", Takes::Flag, "whether the subject walks, the way it faces; false"),
    number("blocking.step_share", 0.0, 1.0, "(share)", "of a double step, done when the take starts; 0"),
    field("blocking.second_walking", Takes::Flag, "whether the second person walks; false"),
    number("blocking.pace_m_per_s", 0.05, 10.0, "m/s", "how far those of the shot get if they walk; 1.4"),
    field("blocking.second", Takes::Object, "where the second person stands; as the shot arranges them"),
    number("blocking.second.x_m", -1000.0, 1000.0, "m", "east of the first"),
    number("blocking.second.y_m", -1000.0, 1000.0, "m", "north of the first"),
    number("blocking.second.facing_deg", -360.0, 360.0, "deg", "which way they face, clockwise from north"),
    field("blocking.clothes", Takes::Colour, "the subject's; blue"),
    field("blocking.second_clothes", Takes::Colour, "the second person's; red brown"),
    field("blocking.people", Takes::Objects(20), "other people; nobody"),
    number("blocking.people.x_m", -1000.0, 1000.0, "m", "east of the subject"),
    number("blocking.people.y_m", -1000.0, 1000.0, "m", "north of the subject"),
    number("blocking.people.facing_deg", -360.0, 360.0, "deg", "clockwise from north; the phone's way"),
    number("blocking.people.stature_m", 0.4, 2.8, "m", "height when standing; 1.7"),
    field("blocking.people.posture", POSTURES, "standing"),
    field("blocking.people.age", AGES, "whose proportions; adult"),
    field("blocking.people.walking", Takes::Flag, "whether they walk, the way they face; false"),
    number("blocking.people.step_share", 0.0, 1.0, "(share)", "as blocking.step_share; 0"),
    field("blocking.people.clothes", Takes::Colour, "grey"),
    field(
        "blocking.pieces",
        Takes::Objects(60),
        "what the place is made of; posts at the background's distance",
    ),
    field("blocking.pieces.kind", KINDS, "what it is"),
    number("blocking.pieces.x_m", -1000.0, 1000.0, "m", "the middle of its foot, east of the subject"),
    number("blocking.pieces.y_m", -1000.0, 1000.0, "m", "the middle of its foot, north of the subject"),
    number(
        "blocking.pieces.facing_deg",
        -360.0,
        360.0,
        "deg",
        "its front, clockwise from north; the phone's way",
    ),
    number("blocking.pieces.width_m", 0.02, 200.0, "m", "across its front; the usual one"),
    number("blocking.pieces.depth_m", 0.02, 200.0, "m", "from front to back; the usual one"),
    number("blocking.pieces.height_m", 0.02, 200.0, "m", "from the floor up; the usual one"),
    field("blocking.foreground", Takes::Object, "a piece near the lens; none"),
    field("blocking.foreground.kind", KINDS, "what it is"),
    number("blocking.foreground.ahead_m", 0.05, 1000.0, "m", "straight ahead of the phone, along the floor"),
    number("blocking.foreground.right_m", -1000.0, 1000.0, "m", "to the right of straight ahead"),
    field("blocking.light", Takes::Light, "where the light comes from; a sun in the south-west"),
    field("blocking.light.sun", Takes::Object, "a clear sky with the sun in it"),
    number("blocking.light.sun.azimuth_deg", -360.0, 360.0, "deg", "its direction, clockwise from north"),
    number("blocking.light.sun.elevation_deg", 0.0, 90.0, "deg", "how high it is"),
];

/// The fields that only a kit has.
const KIT_FIELDS: &[Field] = &[
    field(
        "format_version",
        Takes::Whole { min: 1, max: 1, unit: "(version)" },
        "of the kit file's format; 1",
    ),
    field("name", Takes::Text, "what the crew calls the kit"),
    field("source", Takes::Text, "where its values come from"),
    field("camera_app", Takes::Words(&["nothing", "lock_only", "full_manual"]), "what it lets them set"),
    field("lenses", Takes::List, "the phone's lenses"),
    field("recordings", Takes::List, "the recording modes"),
    field("adapters", Takes::List, "the adapters"),
    field("filters", Takes::List, "the filters"),
    field("filters.name", Takes::Text, "what the crew calls it"),
    number("filters.stops", 0.0, 20.0, "stops", "the light that it takes"),
    number("filters.stops_most", 0.0, 20.0, "stops", "the most light that it takes"),
    field("views", Takes::List, "what lenses were seen to hold"),
    field("views.lens", Takes::Text, "the lens, by name"),
    field("views.recording", Takes::Text, "the mode, by name"),
    number("views.horizontal_fov_deg", 1.0, 170.0, "deg", "the angle of view"),
    number("views.horizontal_fov_sd_deg", 0.0, 90.0, "deg", "its standard uncertainty"),
    number("views.at_m", 0.05, 1000.0, "m", "the distance it was measured from"),
];

/// What the field at `path` takes, if it is a field of a request or a kit; places in lists are left out of account.
pub(crate) fn takes_at(path: &str) -> Option<Takes> {
    let mut plain = String::with_capacity(path.len());
    let mut in_place = false;
    for letter in path.chars() {
        match letter {
            '[' => in_place = true,
            ']' => in_place = false,
            _ if in_place => {}
            _ => plain.push(letter),
        }
    }
    // A kit's lists hold what a request has one of.
    for (list, one) in [("lenses.", "lens."), ("recordings.", "recording."), ("adapters.", "adapter.")] {
        if let Some(rest) = plain.strip_prefix(list) {
            plain = format!("{one}{rest}");
        }
    }
    // What a list of numbers holds is not what the list itself takes.
    if path.ends_with(']') {
        plain.push_str("[]");
    }
    let setup = SETUP_FIELDS.iter().chain(KIT_FIELDS);
    let mut fields = setup.chain(EXPOSURE_FIELDS).chain(SUN_FIELDS).chain(MEASURE_FIELDS).chain(BLUR_FIELDS);
    fields.find(|field| field.path == plain).map(|field| field.takes)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_lens_in_a_list_takes_what_a_lens_takes() {
        assert_eq!(takes_at("lenses[12].f_number"), takes_at("lens.f_number"));
        assert!(takes_at("lens.f_number").is_some() && takes_at("lens.colour").is_none());
    }

    #[test]
    fn a_field_says_what_it_takes_with_range_and_unit() {
        let takes = |path| takes_at(path).map(|takes| takes.to_string());
        assert_eq!(takes("subject.stature_m").as_deref(), Some("0.4 to 2.8 m"));
        assert_eq!(takes("recording.width_px").as_deref(), Some("16 to 20000 px, whole"));
        assert_eq!(takes("subject.posture").as_deref(), Some("standing, seated"));
    }
}
