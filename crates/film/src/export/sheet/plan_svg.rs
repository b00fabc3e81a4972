//! A floor plan a scene, drawn in black strokes: marks, ways, phones, the set, north and a scale.

use glam::DVec2;
use language::{Number, say};
use maud::{Markup, html};
use staging::{PieceKind, PieceSize, SetPiece, along};
use units::Angle;

use super::label::{Area, LETTERS_MM, Labels};
use super::paper::{Paper, PaperShot};
use super::plan_view::PlanView;
use super::words::{scene_title, scene_where};
use crate::light::{LockList, ShotLight};
use crate::scene::Scene;
use crate::shot::ShotOf;
use crate::wording::capital;

/// Strokes, millimetres: half a point, one and a half, and what stands for a strip of tape.
const HAIR_MM: f64 = 0.18;
const LINE_MM: f64 = 0.5;
const TAPE_MM: f64 = 1.1;
/// Grey that a copy of a copy still shows.
const GREY: &str = "#555";
/// Phones nearer to each other than this that look the same way are one, metres: chosen, as nobody tapes them apart.
const SAME_PLACE_M: f64 = 0.25;
/// They look the same way within 10 degrees.
const SAME_WAY_DEG: f64 = 10.0;
/// A phone that gets no farther than this is drawn standing, metres.
const STANDS_M: f64 = 0.2;

pub(super) fn section(paper: &Paper<'_>) -> Markup {
    html! {
        section class="paper paper-plans" {
            @for (number, scene, shots) in paper.scenes() {
                article class="paper-plan-page" {
                    header {
                        p class="paper-kind" { (say!("Floor plan")) }
                        h2 { (scene_title(number, scene)) }
                        p class="paper-of" { (scene_where(paper.of.film, scene)) }
                    }
                    @match Plan::of(paper, scene, &shots) {
                        Some(plan) => (plan.svg(&say!("Floor plan of {}", scene_title(number, scene)))),
                        None => p { (say!("Nothing stands on this floor yet.")) },
                    }
                    p class="paper-of" {
                        (say!("T: where somebody stands, toes to the bar. Double bar: the phone, looking towards the short \
                         one. Dashes: a walked path."))
                    }
                    (held(paper, scene, &shots))
                }
            }
        }
    }
}

/// What all setups of the scene hold, where their light is known.
fn held(paper: &Paper<'_>, scene: &Scene, shots: &[&PaperShot<'_>]) -> Markup {
    let lights: Vec<ShotLight> = shots.iter().filter_map(|one| one.light.clone()).collect();
    let lock = LockList::of(paper.of.film, scene, &lights);
    html! {
        @if !lights.is_empty() {
            table class="paper-held" {
                thead { tr { th colspan="2" { (say!("Held over the scene")) } } }
                tbody {
                    @for item in &lock.items {
                        tr {
                            th scope="row" { (capital(item.what.name())) }
                            td { (item.set_to) @if !item.can_be_set { (say!(" (the app does not let it be set)")) } }
                        }
                    }
                }
            }
        }
    }
}

/// Phones that stand in one place and look one way.
struct Phone {
    place: DVec2,
    /// Which way it looks: of length one.
    way: DVec2,
    /// Where it ends, if it goes somewhere.
    ends: Option<DVec2>,
    shots: Vec<String>,
}

/// What is drawn of a scene.
struct Plan<'film> {
    view: PlanView,
    scene: &'film Scene,
    /// Who, where, and which way they look.
    people: Vec<(String, DVec2, Angle)>,
    phones: Vec<Phone>,
    objects: Vec<(String, DVec2)>,
    north: Option<Angle>,
}

impl<'film> Plan<'film> {
    fn of(paper: &Paper<'_>, scene: &'film Scene, shots: &[&PaperShot<'_>]) -> Option<Self> {
        let film = paper.of.film;
        let standing = scene.blocking.people_at(&film.cast, 0.0);
        let people: Vec<_> = standing
            .iter()
            .map(|one| (paper.name(one.who).to_owned(), one.person.place, one.person.facing))
            .collect();
        let phones = phones(paper, scene, shots);
        let mut objects: Vec<(String, DVec2)> = Vec::new();
        for one in shots {
            if let ShotOf::Object { place, .. } = &one.shot().of {
                let known = objects.iter().any(|(_, other)| other.distance(*place) < SAME_PLACE_M);
                if !known {
                    objects.push((one.shot().of.told(film), *place));
                }
            }
        }
        let ways = scene.blocking.marks.iter().filter_map(|mark| mark.way.as_ref());
        let mut points: Vec<DVec2> = people.iter().map(|(_, place, _)| *place).collect();
        points.extend(ways.flat_map(|way| way.corners.iter().copied()));
        points.extend(phones.iter().flat_map(|phone| [Some(phone.place), phone.ends]).flatten());
        points.extend(objects.iter().map(|(_, place)| *place));
        points.extend(scene.blocking.pieces.iter().flat_map(|piece| corners(piece).into_iter()));
        let spot = film.place_of(scene).and_then(|place| place.spot.as_ref());
        let north = scene.blocking.north;
        let is_known = spot.is_some() || north != Angle::ZERO;
        Some(Self {
            view: PlanView::around(&points)?,
            scene,
            people,
            phones,
            objects,
            north: is_known.then_some(north),
        })
    }

    fn svg(&self, title: &str) -> Markup {
        let size = self.view.size_mm;
        let mut labels = Labels::on(size);
        let drawn = html! {
            @for piece in &self.scene.blocking.pieces { (self.piece(piece)) }
            @for mark in &self.scene.blocking.marks {
                @if let Some(way) = &mark.way { (self.walk(mark.place, &way.corners)) }
            }
            @for (_, place) in &self.objects { (self.object(*place)) }
            @for (_, place, facing) in &self.people { (self.mark(*place, *facing)) }
            @for phone in &self.phones { (self.phone(phone)) }
            (self.scale())
            @if let Some(north) = self.north { (self.arrow(north)) }
        };
        self.put_labels(&mut labels);
        html! {
            svg class="paper-plan" xmlns="http://www.w3.org/2000/svg" role="img" aria-label=(title)
                viewBox=(format!("0 0 {} {}", mm(size.x), mm(size.y)))
                width={ (mm(size.x)) "mm" } height={ (mm(size.y)) "mm" }
                fill="none" stroke="#000" stroke-width=(LINE_MM) stroke-linecap="round" stroke-linejoin="round" {
                (drawn)
                @for label in &labels.placed {
                    @if let Some((from, to)) = label.line { (line(from, to, HAIR_MM, GREY)) }
                }
                g fill="#000" stroke="#fff" stroke-width="0.9" paint-order="stroke" font-size=(LETTERS_MM) text-anchor="middle" {
                    @for label in &labels.placed { (text(label.middle, &label.text)) }
                }
            }
        }
    }

    /// Labels of people and phones beside them, kept from all symbols; then those of the set.
    fn put_labels(&self, labels: &mut Labels) {
        let half = DVec2::splat(3.0);
        for (_, place, _) in &self.people {
            labels.take(Area::about(self.view.at(*place), half));
        }
        for phone in &self.phones {
            labels.take(Area::about(self.view.at(phone.place), half));
        }
        for (_, place) in &self.objects {
            labels.take(Area::about(self.view.at(*place), DVec2::splat(1.5)));
        }
        for (from, to) in self.strokes() {
            labels.take_line(from, to);
        }
        let size = self.view.size_mm;
        labels.take(Area { least: DVec2::new(0.0, size.y - 12.0), most: DVec2::new(60.0, size.y) });
        labels.take(Area { least: DVec2::new(size.x - 16.0, 0.0), most: DVec2::new(size.x, 20.0) });
        for (name, place, _) in &self.people {
            labels.put(name.clone(), self.view.at(*place));
        }
        for phone in &self.phones {
            labels.put(phone.shots.join(", "), self.view.at(phone.place));
        }
        for (name, place) in &self.objects {
            labels.put(name.clone(), self.view.at(*place));
        }
        for piece in &self.scene.blocking.pieces {
            if let Some(name) = named(piece.kind) {
                labels.put_on(name.to_owned(), self.view.at(piece.place));
            }
        }
    }

    /// What labels are kept off beside symbols: walked paths, the ways of phones, outlines of the set.
    fn strokes(&self) -> Vec<(DVec2, DVec2)> {
        let mut strokes: Vec<(DVec2, DVec2)> = Vec::new();
        for mark in &self.scene.blocking.marks {
            strokes.extend(mark.way.iter().flat_map(|way| way.legs(mark.place)));
        }
        strokes.extend(self.phones.iter().filter_map(|phone| Some((phone.place, phone.ends?))));
        for piece in &self.scene.blocking.pieces {
            let [a, b, c, d] = corners(piece);
            strokes.extend([(a, b), (b, c), (c, d), (d, a)]);
        }
        strokes.into_iter().map(|(from, to)| (self.view.at(from), self.view.at(to))).collect()
    }

    /// A T of tape, toes to its bar.
    fn mark(&self, place: DVec2, facing: Angle) -> Markup {
        let ahead = on_paper(along(facing));
        let beside = DVec2::new(-ahead.y, ahead.x);
        let middle = self.view.at(place);
        let bar = middle + ahead * 1.5;
        html! {
            (line(bar - beside * 3.0, bar + beside * 3.0, TAPE_MM, "#000"))
            (line(bar, bar - ahead * 4.5, TAPE_MM, "#000"))
        }
    }

    /// A walked path, with an arrow where it ends.
    fn walk(&self, mark: DVec2, corners: &[DVec2]) -> Markup {
        let points: Vec<DVec2> =
            std::iter::once(mark).chain(corners.iter().copied()).map(|point| self.view.at(point)).collect();
        html! {
            polyline points=(told(&points)) stroke-dasharray="2.4 1.8" {}
            @if let [.., from, to] = points.as_slice() { (head(*from, *to)) }
        }
    }

    /// Two bars, the short one ahead, and a tick the way it looks.
    fn phone(&self, phone: &Phone) -> Markup {
        let ahead = on_paper(phone.way);
        let beside = DVec2::new(-ahead.y, ahead.x);
        let place = self.view.at(phone.place);
        let (back, front) = (place, place + ahead * 1.8);
        html! {
            @if let Some(ends) = phone.ends {
                @let to = self.view.at(ends);
                polyline points=(told(&[place, to])) stroke-dasharray="0.8 1.2" stroke-width=(LINE_MM * 0.7) {}
                (head(place, to))
            }
            (line(back - beside * 2.8, back + beside * 2.8, TAPE_MM, "#000"))
            (line(front - beside * 1.7, front + beside * 1.7, TAPE_MM, "#000"))
            (line(front, front + ahead * 4.0, HAIR_MM, "#000"))
        }
    }

    /// A thing that is filmed: a small cross.
    fn object(&self, place: DVec2) -> Markup {
        let (at, half) = (self.view.at(place), DVec2::splat(1.2));
        let other = DVec2::new(half.x, -half.y);
        html! { (line(at - half, at + half, LINE_MM, "#000")) (line(at - other, at + other, LINE_MM, "#000")) }
    }

    /// A piece of the set in its outline.
    fn piece(&self, piece: &SetPiece) -> Markup {
        let outline = corners(piece).map(|corner| self.view.at(corner));
        let middle = self.view.at(piece.place);
        let [a, b, c, d] = outline;
        html! {
            @match piece.kind {
                PieceKind::Wall => polygon points=(told(&outline)) fill=(GREY) stroke=(GREY) stroke-width=(HAIR_MM) {},
                PieceKind::Window | PieceKind::Doorway => {
                    // What is open is left out of the wall.
                    (line(a.midpoint(d), a.midpoint(d).lerp(b.midpoint(c), 0.2), TAPE_MM, GREY))
                    (line(b.midpoint(c), b.midpoint(c).lerp(a.midpoint(d), 0.2), TAPE_MM, GREY))
                    @if piece.kind == PieceKind::Window {
                        (line(a.lerp(b, 0.2), a.lerp(b, 0.8), HAIR_MM, GREY))
                        (line(d.lerp(c, 0.2), d.lerp(c, 0.8), HAIR_MM, GREY))
                    }
                },
                PieceKind::Tree | PieceKind::Plant | PieceKind::LampPost => {
                    circle cx=(mm(middle.x)) cy=(mm(middle.y)) r=(mm((a.distance(b) / 2.0).max(0.8))) stroke=(GREY)
                        stroke-width=(LINE_MM * 0.7) {}
                    circle cx=(mm(middle.x)) cy=(mm(middle.y)) r="0.6" fill=(GREY) stroke="none" {}
                },
                PieceKind::Table | PieceKind::Bench | PieceKind::Hedge | PieceKind::Car | PieceKind::Lights => {
                    polygon points=(told(&outline)) stroke=(GREY) stroke-width=(LINE_MM * 0.7) {}
                },
            }
        }
    }

    /// A bar of a round length, told in metres.
    fn scale(&self) -> Markup {
        let (metres, length_mm) = self.view.scale_bar();
        let from = DVec2::new(4.0, self.view.size_mm.y - 4.0);
        let to = from + DVec2::new(length_mm, 0.0);
        let tick = DVec2::new(0.0, 1.5);
        html! {
            (line(from, to, LINE_MM, "#000"))
            (line(from - tick, from + tick, LINE_MM, "#000"))
            (line(to - tick, to + tick, LINE_MM, "#000"))
            g fill="#000" stroke="none" font-size=(LETTERS_MM) text-anchor="middle" {
                (text(from.midpoint(to) - DVec2::new(0.0, 3.0), &format!("{} m", Number(metres))))
            }
        }
    }

    /// An arrow to the earth's north.
    fn arrow(&self, north: Angle) -> Markup {
        let way = on_paper(along(north));
        let middle = DVec2::new(self.view.size_mm.x - 8.0, 10.0);
        html! {
            (line(middle - way * 5.0, middle + way * 4.0, LINE_MM, "#000"))
            (head(middle, middle + way * 5.0))
            g fill="#000" stroke="none" font-size=(LETTERS_MM) text-anchor="middle" { (text(middle - way * 7.5, "N")) }
        }
    }
}

/// The phones of a scene's shots as they start; those that stand in one place and look one way are one.
fn phones(paper: &Paper<'_>, scene: &Scene, shots: &[&PaperShot<'_>]) -> Vec<Phone> {
    let same_way = Angle::from_deg(SAME_WAY_DEG).cos();
    let mut phones: Vec<Phone> = Vec::new();
    for one in shots {
        let Some(made) = one.made() else { continue };
        let Some(camera) = made.camera() else { continue };
        let (place, number) = (camera.position().truncate(), one.listed.number());
        let way = camera.forward().truncate().normalize_or(DVec2::Y);
        let stage = made.stage(scene, &paper.of.film.cast, one.shot().planned_s);
        let last = stage.map(|stage| made.camera_on_floor(&stage.closes).position().truncate());
        let ends = last.filter(|last| last.distance(place) > STANDS_M);
        let same = phones.iter_mut().find(|phone| {
            phone.place.distance(place) < SAME_PLACE_M
                && phone.way.dot(way) > same_way
                && phone.ends.is_none()
                && ends.is_none()
        });
        match same {
            Some(phone) => phone.shots.push(number),
            None => phones.push(Phone { place, way, ends, shots: vec![number] }),
        }
    }
    phones
}

/// The corners of what a piece covers, round it.
fn corners(piece: &SetPiece) -> [DVec2; 4] {
    let PieceSize { width, depth, .. } = piece.size;
    let beside = along(piece.facing + Angle::from_deg(90.0)) * (width.to_m() / 2.0);
    let before = along(piece.facing) * (depth.to_m() / 2.0);
    let at = piece.place;
    [at - beside - before, at + beside - before, at + beside + before, at - beside + before]
}

/// What a piece is called on a plan; nothing where its outline says it.
fn named(kind: PieceKind) -> Option<&'static str> {
    match kind {
        PieceKind::Wall => None,
        PieceKind::Window => Some(say!("window")),
        PieceKind::Doorway => Some(say!("doorway")),
        PieceKind::Table => Some(say!("table")),
        PieceKind::Bench => Some(say!("bench")),
        PieceKind::Tree => Some(say!("tree")),
        PieceKind::Hedge => Some(say!("hedge")),
        PieceKind::Car => Some(say!("car")),
        PieceKind::LampPost => Some(say!("lamp post")),
        PieceKind::Lights => Some(say!("lights")),
        PieceKind::Plant => Some(say!("plant")),
    }
}

/// A direction of the floor on paper, of length one.
fn on_paper(way: DVec2) -> DVec2 {
    DVec2::new(way.x, -way.y)
}

/// A coordinate as it is written: to a hundredth of a millimetre, and nothing has no sign.
fn mm(value: f64) -> String {
    let hundredths = libm::round(value * 100.0) / 100.0 + 0.0;
    format!("{hundredths}")
}

fn told(points: &[DVec2]) -> String {
    points.iter().map(|point| format!("{},{}", mm(point.x), mm(point.y))).collect::<Vec<_>>().join(" ")
}

fn line(from: DVec2, to: DVec2, width_mm: f64, stroke: &str) -> Markup {
    html! {
        line x1=(mm(from.x)) y1=(mm(from.y)) x2=(mm(to.x)) y2=(mm(to.y)) stroke=(stroke) stroke-width=(width_mm) {}
    }
}

/// An arrow's head at the end of a line.
fn head(from: DVec2, to: DVec2) -> Markup {
    let way = (to - from).normalize_or_zero();
    let beside = DVec2::new(-way.y, way.x);
    let back = to - way * 2.6;
    html! { polygon points=(told(&[to, back + beside * 1.1, back - beside * 1.1])) fill="#000" stroke="none" {} }
}

/// A text whose middle is at a point.
fn text(middle: DVec2, words: &str) -> Markup {
    // Letters stand on their line, a third of their size below their middle.
    html! { text x=(mm(middle.x)) y=(mm(middle.y + LETTERS_MM * 0.34)) { (words) } }
}
