//! A pen on a floor seen from above: tape and chalk where the places of the floor are.

use std::cell::RefCell;
use std::f64::consts::TAU;
use std::ops::Deref;

use glam::DVec3;
use requests::ColourRequest;
use staging::{Person, Stance};
use units::Angle;

use super::Palette;
use super::chalk::{Chalk, LABEL_FONT};
use super::plan_view::PlanView;
use crate::canvas::Surface;
use crate::dressing::tape_of;
use crate::scene::along;

/// A pen on the floor: it knows where on the canvas a place of the floor is.
pub(crate) struct Floor<'a> {
    chalk: Chalk<'a>,
    pub(crate) view: PlanView,
    /// Where labels stand already: left, top, right, bottom.
    labels: RefCell<Vec<[f64; 4]>>,
}

impl<'a> Floor<'a> {
    pub(crate) fn new(surface: &'a Surface, palette: &'a Palette, view: PlanView) -> Self {
        Self { chalk: Chalk::new(surface, palette), view, labels: RefCell::new(Vec::new()) }
    }
}

impl<'a> Deref for Floor<'a> {
    type Target = Chalk<'a>;

    fn deref(&self) -> &Chalk<'a> {
        &self.chalk
    }
}

impl Floor<'_> {
    /// A stroke through several floor points.
    pub(crate) fn trace(&self, points: &[DVec3]) {
        self.stroke(points.iter().map(|point| self.view.to_px(*point)));
    }

    /// Crosses every metre: a floor has marks, not lines.
    pub(crate) fn grid(&self) {
        if self.view.scale < 12.0 {
            return;
        }
        self.pen(&self.palette.chalk_quiet, 0.5);
        let corner = self.view.to_floor((0.0, self.view.size.1));
        let far = self.view.to_floor((self.view.size.0, 0.0));
        self.context.begin_path();
        let mut x = libm::ceil(corner.x);
        while x <= far.x {
            let mut y = libm::ceil(corner.y);
            while y <= far.y {
                let (px, py) = self.view.to_px(DVec3::new(x, y, 0.0));
                self.add_line((px - 2.0, py), (px + 2.0, py));
                self.add_line((px, py - 2.0), (px, py + 2.0));
                y += 1.0;
            }
            x += 1.0;
        }
        self.context.stroke();
    }

    /// The colour of somebody's tape: their clothes'.
    pub(crate) fn tape_colour(&self, person: &Person) -> String {
        let clothes = person.clothes.to_srgb8();
        let own = tape_of(clothes).and_then(|tape| self.palette.tape.get(tape)).cloned();
        own.unwrap_or_else(|| ColourRequest(clothes).to_string())
    }

    /// The point of an arrow from one place to another, on the second.
    pub(crate) fn arrow(&self, from: DVec3, to: DVec3) {
        let [from, to] = [from, to].map(|place| self.view.to_px(place));
        let (dx, dy) = (to.0 - from.0, to.1 - from.1);
        let length = libm::hypot(dx, dy);
        // Where it stands still, or nearly, there is no way to point.
        if length < 2.0 {
            return;
        }
        let (ux, uy) = (dx / length * 7.0, dy / length * 7.0);
        self.context.begin_path();
        self.context.move_to(to.0 - ux - uy * 0.6, to.1 - uy + ux * 0.6);
        self.context.line_to(to.0, to.1);
        self.context.line_to(to.0 - ux + uy * 0.6, to.1 - uy - ux * 0.6);
        self.context.stroke();
    }

    /// A strip of tape between two floor points, its ends torn.
    pub(crate) fn tape(&self, from: DVec3, to: DVec3, colour: &str, width_px: f64) {
        self.torn_strip(self.view.to_px(from), self.view.to_px(to), colour, width_px);
    }

    /// A T of tape: toes to the bar, which lies where the person looks.
    pub(crate) fn person(&self, person: &Person) {
        let colour = &self.tape_colour(person);
        let unit = (14.0 / self.view.scale).max(0.12);
        let ahead = along(person.facing) * unit;
        let beside = along(person.facing + Angle::from_deg(90.0)) * unit;
        let feet = person.place.extend(0.0);
        // Clothes that are none of the tapes may be as dark as the floor: chalk around them shows them.
        let is_taped = tape_of(person.clothes.to_srgb8()).is_some();
        let around = (!is_taped).then_some((&self.palette.chalk, 10.0));
        for (colour, width) in around.into_iter().chain([(colour, 8.0)]) {
            self.tape(feet - beside, feet + beside, colour, width);
            self.tape(feet, feet - ahead * 1.4, colour, width);
        }
        // The look, as a short chalk stroke from the toes on; whoever walks goes where an arrow points.
        self.pen(&self.palette.chalk, 1.5);
        self.trace(&[feet + ahead * 0.6, feet + ahead * 1.5]);
        if let Stance::Walking(_) = person.stance {
            let tip = feet + ahead * 2.6;
            self.dashed(4.0, 4.0);
            self.trace(&[feet + ahead * 0.6, tip]);
            self.solid();
            self.trace(&[tip - ahead * 0.5 - beside * 0.4, tip, tip - ahead * 0.5 + beside * 0.4]);
        }
    }

    /// A ring around the chosen one, and what turns it: a bit of the accent's tape before its front.
    pub(crate) fn mark_chosen(&self, place: DVec3, turn: Option<(f64, f64)>) {
        let (x, y) = self.view.to_px(place);
        self.context.begin_path();
        // Refused only for a negative radius.
        self.context.arc(x, y, 22.0, 0.0, TAU).unwrap_or_default();
        if let Some((turn_x, turn_y)) = turn {
            let away = libm::hypot(turn_x - x, turn_y - y).max(1.0);
            let on_ring = (x + (turn_x - x) * 22.0 / away, y + (turn_y - y) * 22.0 / away);
            self.add_line(on_ring, (turn_x, turn_y));
        }
        // In sunlight the accent alone is too light for a white floor.
        if self.palette.heavier {
            self.pen(&self.palette.chalk, 3.0);
            self.context.stroke();
        }
        self.pen(&self.palette.accent, 2.0);
        self.dashed(5.0, 4.0);
        self.context.stroke();
        self.solid();
        if let Some((turn_x, turn_y)) = turn {
            self.context.begin_path();
            self.context.arc(turn_x, turn_y, 9.0, 0.0, TAU).unwrap_or_default();
            self.context.set_fill_style_str(&self.palette.studio);
            self.context.fill();
            self.pen(&self.palette.chalk, 6.0);
            self.context.stroke();
            self.pen(&self.palette.accent, 4.0);
            self.context.stroke();
        }
    }

    /// The sun's mark at the edge of the floor, and the way that its light goes.
    pub(crate) fn sun(&self, azimuth: Angle) {
        let (x, y) = self.view.sun_px(azimuth);
        let context = self.context;
        context.set_fill_style_str(&self.palette.studio);
        context.begin_path();
        // Refused only for a negative radius.
        context.arc(x, y, 22.0, 0.0, TAU).unwrap_or_default();
        context.fill();
        self.pen(&self.palette.chalk, 3.0);
        context.begin_path();
        context.arc(x, y, 7.0, 0.0, TAU).unwrap_or_default();
        for ray in 0..8 {
            let angle = Angle::from_rad(TAU / 8.0 * f64::from(ray));
            let [from, to] = [11.0, 16.0].map(|far| (x + angle.sin() * far, y + angle.cos() * far));
            self.add_line(from, to);
        }
        context.stroke();
        let (right, down) = (-azimuth.sin(), azimuth.cos());
        self.pen(&self.palette.chalk, 1.5);
        self.dashed(3.0, 5.0);
        context.begin_path();
        self.add_line((x + right * 22.0, y + down * 22.0), (x + right * 58.0, y + down * 58.0));
        context.stroke();
        self.solid();
    }

    /// A phone: a short double bar that points where it looks.
    pub(crate) fn phone(&self, place: DVec3, azimuth: Angle, colour: &str) {
        let unit = (13.0 / self.view.scale).max(0.08);
        let ahead = along(azimuth) * unit;
        let beside = along(azimuth + Angle::from_deg(90.0)) * unit;
        self.tape(place - beside, place + beside, colour, 7.0);
        let inner = place + ahead * 0.75;
        self.tape(inner - beside * 0.6, inner + beside * 0.6, colour, 5.0);
    }

    /// A plain label with a halo of floor around it; none where it would lie on another. Says whether there is one.
    pub(crate) fn label(&self, place: DVec3, (dx, dy): (f64, f64), text: &str) -> bool {
        let (x, y) = self.view.to_px(place);
        // Letters of this font are about so wide on average; measuring each label would cost more than it tells.
        let half = text.chars().map(|_| 3.7).sum::<f64>();
        // All of it is on the canvas.
        let margin = half.max(36.0) + 4.0;
        let x = (x + dx).clamp(margin, (self.view.size.0 - margin).max(margin));
        let y = (y + dy).clamp(14.0, (self.view.size.1 - 8.0).max(14.0));
        let lies = [x - half, y - 8.0, x + half, y + 8.0];
        let mut labels = self.labels.borrow_mut();
        let is_apart = |other: &[f64; 4]| {
            lies[2] < other[0] || other[2] < lies[0] || lies[3] < other[1] || other[3] < lies[1]
        };
        if !labels.iter().all(is_apart) {
            return false;
        }
        labels.push(lies);
        self.word(text, (x, y), LABEL_FONT, "center");
        true
    }
}
