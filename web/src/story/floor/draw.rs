//! The floor of a scene as tape and chalk, seen from above.

use film::{Line, Mark, Standing, Way};
use glam::{DVec2, DVec3};
use language::say;
use staging::{Light, Posture, along};
use units::Angle;

use super::shown::{FloorPhone, Shown};
use super::thing::{Thing, piece_names};
use crate::canvas::Surface;
use crate::draw::{Floor, Palette, PlanView};
use crate::recce::corners;

/// Seconds of a walk that are marked with arrows at the most: chosen because more of them are a hedge.
const MOST_MARKED_S: u32 = 60;
/// How much of a way's colour is left where it has been walked already.
const WALKED_ALPHA: f64 = 0.45;
/// How long the tick is that shows on which side of the line the phones are, units.
const TICK_PX: f64 = 14.0;
/// How far behind somebody their name begins, units, and how wide a letter of it is on average.
const NAME_PX: f64 = 26.0;
const LETTER_PX: f64 = 7.4;

/// Draws the floor, with a ring around the chosen one.
pub(super) fn draw_floor(
    surface: &Surface,
    palette: &Palette,
    shown: &Shown,
    view: PlanView,
    chosen: Option<Thing>,
) {
    let floor = Floor::new(surface, palette, view);
    let blocking = &shown.scene.blocking;
    floor.sweep();
    floor.grid();
    floor.paced_outline(shown);
    for phone in shown.phones.iter().filter(|phone| phone.is_chosen) {
        floor.sight_of(phone);
    }
    for piece in &blocking.pieces {
        floor.piece(piece);
    }
    if let Some(line) = shown.line {
        floor.line(line, shown.sides());
    }
    for one in &shown.people {
        if let Some((mark, way)) = blocking.mark(one.who).and_then(|mark| Some((mark, mark.way.as_ref()?))) {
            floor.walk(shown, one, mark, way);
        }
    }
    for one in &shown.people {
        floor.person(&one.person);
    }
    // The chosen one's phone lies over those that stand in the same place.
    for is_chosen in [false, true] {
        for phone in shown.phones.iter().filter(|phone| phone.is_chosen == is_chosen) {
            floor.numbered_phone(phone);
        }
    }
    for (end, place) in line_ends(shown) {
        floor.line_end(place, chosen == Some(end));
    }
    if let Some(chosen) = chosen
        && let Some(place) = chosen.place(blocking, shown.seconds)
    {
        floor.mark_chosen(place.extend(0.0), shown.turn_px(view, chosen));
    }
    floor.names_of_people(shown);
    if let Some(line) = shown.line {
        floor.name_of_line(line, shown.sides());
    }
    floor.names_of_pieces(shown, chosen);
    if let Light::Sun { azimuth, .. } = blocking.light {
        floor.sun(azimuth);
    }
    floor.north(blocking.north);
}

/// The ends of the beat's line, if it is drawn by hand.
fn line_ends(shown: &Shown) -> impl Iterator<Item = (Thing, DVec2)> + '_ {
    use super::blocking_edit::LineEnd;
    let ends = shown
        .beat
        .into_iter()
        .flat_map(|beat| [LineEnd::From, LineEnd::To].map(|end| Thing::LineEnd(beat, end)));
    ends.filter_map(|end| Some((end, end.place(&shown.scene.blocking, shown.seconds)?)))
}

impl Floor<'_> {
    /// The outline of the place, if it was paced out.
    fn paced_outline(&self, shown: &Shown) {
        let place = shown.scene.facts.place.and_then(|place| shown.film.place(place));
        let Some(paced) = place.and_then(|place| place.paced.as_deref()) else { return };
        let blocking = &shown.scene.blocking;
        let mut corners: Vec<DVec3> =
            corners(paced).iter().map(|corner| blocking.from_place(corner.at).extend(0.0)).collect();
        corners.extend(corners.first().copied().filter(|_| paced.outline.is_closed));
        self.pen(&self.palette.chalk_quiet, 2.0);
        self.trace(&corners);
    }

    /// Chalk lines of what the frame of a phone sees.
    fn sight_of(&self, phone: &FloorPhone) {
        let beyond = self.beyond();
        let ahead = along(phone.azimuth) / phone.level;
        let right = along(phone.azimuth + Angle::from_deg(90.0));
        self.pen(&self.palette.chalk, 1.0);
        for column in [-phone.sees.0, phone.sees.1] {
            self.way_between(phone.place, phone.place + (ahead + right * column) * beyond);
        }
    }

    /// A phone with its shot's number: the chosen one in the accent, those of another beat fainter.
    fn numbered_phone(&self, phone: &FloorPhone) {
        let colour = match phone {
            FloorPhone { is_chosen: true, .. } => &self.palette.accent,
            FloorPhone { is_of_beat: true, .. } => &self.palette.chalk,
            _ => &self.palette.chalk_quiet,
        };
        self.phone(phone.place.extend(0.0), phone.azimuth, colour);
        let back = along(phone.azimuth) * -20.0;
        self.label(phone.place.extend(0.0), (back.x, -back.y), &phone.number.to_string());
    }

    /// The line across the whole floor, with a tick at its middle on each side where a phone is.
    fn line(&self, line: Line, sides: [bool; 2]) {
        let way = (line.to() - line.from()).normalize_or_zero();
        let beyond = way * self.beyond();
        let middle = line.from().midpoint(line.to());
        self.pen(&self.palette.chalk, 2.0);
        self.dashed(14.0, 5.0);
        self.way_between(middle - beyond, middle + beyond);
        self.solid();
        let left = way.perp() * (TICK_PX / self.view.scale);
        self.pen(&self.palette.chalk, 3.0);
        for (aside, is_there) in [(left, sides[0]), (-left, sides[1])] {
            if is_there {
                self.way_between(middle, middle + aside);
            }
        }
    }

    /// The word for the line, after people's names: they matter more.
    fn name_of_line(&self, line: Line, sides: [bool; 2]) {
        let way = (line.to() - line.from()).normalize_or_zero();
        // On the side that the phones leave free, and a little along, where nobody stands.
        let free = if sides[0] { -1.0 } else { 1.0 };
        let beside = way.perp() * (14.0 * free) + way * 96.0;
        self.label(line.to().extend(0.0), (beside.x, -beside.y), say!("the line"));
    }

    /// A bit of chalk where a line by hand is taken hold of.
    fn line_end(&self, place: DVec2, is_chosen: bool) {
        let (x, y) = self.view.to_px(place.extend(0.0));
        let colour = if is_chosen { &self.palette.accent } else { &self.palette.chalk };
        self.context.set_fill_style_str(colour);
        self.context.begin_path();
        // Refused only for a negative radius.
        self.context.arc(x, y, 6.0, 0.0, std::f64::consts::TAU).unwrap_or_default();
        self.context.fill();
    }

    /// Somebody's way: dashes with an arrow after every second, fainter where they have been.
    fn walk(&self, shown: &Shown, one: &Standing, mark: &Mark, way: &Way) {
        let colour = &self.tape_colour(&one.person);
        let blocking = &shown.scene.blocking;
        let (been, to_go) = parts(mark, way, one.person.place, shown.seconds);
        self.pen(colour, 2.0);
        self.dashed(6.0, 5.0);
        self.context.set_global_alpha(WALKED_ALPHA);
        self.trace(&been);
        self.context.set_global_alpha(1.0);
        self.trace(&to_go);
        self.solid();
        for second in 1..=MOST_MARKED_S {
            let at_s = way.starts_s + f64::from(second);
            let Some(person) = blocking.person_of(&shown.film.cast, one.who, at_s) else { break };
            if person.velocity == DVec2::ZERO {
                break;
            }
            let has_been = at_s <= shown.seconds;
            self.context.set_global_alpha(if has_been { WALKED_ALPHA } else { 1.0 });
            self.arrow((person.place - person.velocity).extend(0.0), person.place.extend(0.0));
        }
        self.context.set_global_alpha(1.0);
        if shown.seconds > way.starts_s {
            self.bar(mark.place, way.corners.first().copied().unwrap_or(mark.place) - mark.place, colour);
        }
        for (at, corner) in way.corners.iter().enumerate() {
            let before = at.checked_sub(1).and_then(|at| way.corners.get(at)).unwrap_or(&mark.place);
            if at + 1 == way.corners.len() {
                self.bar(*corner, *corner - *before, colour);
            } else {
                self.crossed(*corner, colour);
            }
        }
    }

    /// A strip across a way, where somebody starts or stops.
    fn bar(&self, place: DVec2, way: DVec2, colour: &str) {
        let half = way.normalize_or(DVec2::Y).perp() * (9.0 / self.view.scale);
        self.tape((place - half).extend(0.0), (place + half).extend(0.0), colour, 5.0);
    }

    /// Two crossed strips, where somebody turns.
    fn crossed(&self, place: DVec2, colour: &str) {
        for way in [DVec2::ONE, DVec2::new(1.0, -1.0)] {
            let half = way * (6.0 / self.view.scale);
            self.tape((place - half).extend(0.0), (place + half).extend(0.0), colour, 4.0);
        }
    }

    fn names_of_people(&self, shown: &Shown) {
        for one in &shown.people {
            let person = &one.person;
            let is_seated = person.body.posture == Posture::Seated;
            let name = shown.film.name_of(one.who);
            let name = if is_seated { say!("{name}, seated") } else { name.to_owned() };
            // Behind them, beyond the stem of their T: between two who look at each other there is no room for names.
            let half_width = name.chars().map(|_| LETTER_PX / 2.0).sum::<f64>();
            let back = -along(person.facing);
            let offset = (back.x * (NAME_PX + half_width), -back.y * (NAME_PX + 4.0));
            for offset in [offset, (0.0, NAME_PX + 6.0), (0.0, -NAME_PX - 6.0)] {
                if self.label(person.place.extend(0.0), offset, &name) {
                    break;
                }
            }
        }
    }

    /// Names below the pieces, the chosen one's first: a name that would lie on another is left out.
    fn names_of_pieces(&self, shown: &Shown, chosen: Option<Thing>) {
        let names = piece_names(&shown.scene.blocking);
        for is_chosen in [true, false] {
            for (at, (piece, name)) in shown.scene.blocking.pieces.iter().zip(&names).enumerate() {
                if (chosen == Some(Thing::Piece(at))) != is_chosen {
                    continue;
                }
                self.name_piece(piece, name);
            }
        }
    }

    /// A stroke between two floor points.
    fn way_between(&self, from: DVec2, to: DVec2) {
        self.trace(&[from.extend(0.0), to.extend(0.0)]);
    }

    /// So many metres reach past every edge of the canvas.
    fn beyond(&self) -> f64 {
        let from_middle =
            self.view.to_floor((0.0, 0.0)).length() + self.view.to_floor(self.view.size).length();
        self.view.size.0.max(self.view.size.1) / self.view.scale * 1.5 + from_middle
    }
}

/// A way up to where somebody is at that second, and from there on.
fn parts(mark: &Mark, way: &Way, place: DVec2, seconds: f64) -> (Vec<DVec3>, Vec<DVec3>) {
    let reached_s = |corners: usize| {
        let corners = way.corners.iter().take(corners).copied().collect();
        way.starts_s + Way { corners, ..way.clone() }.lasts_s(mark.place)
    };
    let passed = (1..=way.corners.len()).take_while(|count| reached_s(*count) <= seconds).count();
    let (been, to_go) = way.corners.split_at(passed);
    let on_floor = |place: &DVec2| place.extend(0.0);
    let been = std::iter::once(&mark.place).chain(been).chain([&place]);
    let to_go = std::iter::once(&place).chain(to_go);
    (been.map(on_floor).collect(), to_go.map(on_floor).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use film::{Faces, PersonId};
    use units::Length;

    #[test]
    fn a_way_is_parted_where_somebody_is() {
        let way = Way {
            corners: vec![DVec2::new(0.0, 10.0), DVec2::new(10.0, 10.0)],
            pace: Length::from_m(2.0),
            starts_s: 1.0,
        };
        let who = PersonId::new(1).expect("small");
        let faces = Faces::Towards(Angle::ZERO);
        let mark = Mark { who, place: DVec2::ZERO, faces, posture: Posture::Standing, way: None };
        let lengths = |place: DVec2, seconds: f64| {
            let (been, to_go) = parts(&mark, &way, place, seconds);
            (been.len(), to_go.len())
        };
        assert_eq!(lengths(DVec2::ZERO, 0.0), (2, 3));
        assert_eq!(lengths(DVec2::new(0.0, 4.0), 3.0), (2, 3));
        assert_eq!(lengths(DVec2::new(2.0, 10.0), 7.0), (3, 2));
        assert_eq!(lengths(DVec2::new(10.0, 10.0), 60.0), (4, 1));
    }
}
