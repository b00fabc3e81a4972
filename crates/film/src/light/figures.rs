//! The figures of a setup's light, in the order in which they are told.

use language::{Number, key, say, text};
use units::Stops;

use super::ShotLight;
use crate::findings::angle_told;

/// One figure, as a page or a terminal shows it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LightFigure {
    /// What it is: to be shown by [`language::text`].
    pub label: &'static str,
    /// How much.
    pub value: String,
    /// Of what; empty where the value says it.
    pub unit: &'static str,
}

impl LightFigure {
    fn new(label: &'static str, value: String, unit: &'static str) -> Self {
        Self { label, value, unit }
    }

    fn stops(label: &'static str, stops: Stops) -> Self {
        // What rounds to nothing has no sign.
        let tenths = libm::round(stops.to_f64() * 10.0) / 10.0 + 0.0;
        Self::new(label, say!("{tenths:.1}"), say!("stops"))
    }

    /// In one line: `too much light: 6.8 stops`.
    pub fn words(&self) -> String {
        let Self { value, unit, .. } = self;
        let label = text(self.label);
        if unit.is_empty() { format!("{label}: {value}") } else { format!("{label}: {value} {unit}") }
    }
}

impl ShotLight {
    /// The figures, in the order in which they follow from each other.
    pub fn figures(&self) -> Vec<LightFigure> {
        let mut figures = vec![
            LightFigure::new(key!("light"), self.light.words(), ""),
            LightFigure::new(key!("f-number"), self.f_number_told(), ""),
            LightFigure::new(
                key!("frame rate at capture"),
                Number(self.shutter.rate.to_fps()).to_string(),
                "fps",
            ),
            LightFigure::new(key!("shutter asked for"), Number(self.shutter.asked).to_string(), ""),
            LightFigure::new(key!("shutter"), self.shutter_told(), ""),
            LightFigure::new(key!("ISO"), self.iso_told(), ""),
        ];
        if self.exposure.exposing.light_loss > Stops::ZERO {
            figures.push(LightFigure::stops(key!("the adapter takes"), self.exposure.exposing.light_loss));
        }
        figures.push(LightFigure::stops(key!("brighter than the meter's grey"), self.exposure.exposing.bias));
        if self.slow_motion.to_f64().abs() > 1e-9 {
            figures.push(LightFigure::stops(key!("slow motion costs"), self.slow_motion));
        }
        figures.push(LightFigure::stops(key!("too much light without filters"), self.over));
        figures.push(LightFigure::new(key!("filters"), self.filters.words(), ""));
        figures.push(LightFigure::stops(key!("they take"), self.filters.takes));
        if self.aperture.is_closed() {
            figures.push(LightFigure::stops(key!("closing the lens takes"), self.aperture.takes()));
        }
        figures.push(LightFigure::stops(key!("too much in the end"), self.residual));
        if let Some(guess) = &self.guess {
            figures.push(LightFigure::new(
                key!("shutter that the app is likely to take"),
                Number(guess.time).to_string(),
                "",
            ));
        }
        self.push_moving(&mut figures);
        figures
    }

    fn push_moving(&self, figures: &mut Vec<LightFigure>) {
        let Some(moving) = &self.moving else { return };
        if let Some(smear) = moving.smear {
            let value = say!("{:.0} px, {:.1}", smear.px, smear.frame_share * 100.0);
            figures.push(LightFigure::new(
                key!("smear of whoever moves most"),
                value,
                say!("% of the frame's width"),
            ));
        }
        if let Some(path) = moving.follow {
            figures.push(LightFigure::new(key!("path of the phone"), say!("{:.1}", path.length.to_m()), "m"));
        }
        figures.push(LightFigure::new(
            key!("fastest pan"),
            say!("{:.1}", moving.pan.fastest.to_deg()),
            say!("° a second"),
        ));
        if let Some(seconds) = moving.pan.quarter_turn_s {
            figures.push(LightFigure::new(key!("a quarter turn at that"), format!("{seconds:.0}"), "s"));
        }
        figures.extend(moving.passing.iter().map(|passing| {
            LightFigure::new(
                passing.mover.name(),
                format!("{:.0}", passing.px),
                say!("px of smear across where the subject is"),
            )
        }));
    }

    fn f_number_told(&self) -> String {
        let typical = if self.aperture.is_typical { say!(" (typical)") } else { "" };
        say!("f/{:.1}{typical}", self.aperture.set.to_f64())
    }

    fn shutter_told(&self) -> String {
        format!("{}{}", Number(self.shutter.time), angle_told(self.shutter.angle))
    }

    fn iso_told(&self) -> String {
        let typical = if self.iso.is_typical { say!(" (a typical floor)") } else { "" };
        let told = self.iso.set.to_string();
        format!("{}{typical}", told.trim_start_matches("ISO "))
    }
}
