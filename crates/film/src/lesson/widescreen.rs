//! What the widescreen crop throws away, and what an adapter keeps of it and costs.

use language::{key, say};
use optics::{Adapter, Aspect};
use staging::{Figures, Light, Setup, Shot, ShotSize, Stand};
use units::LengthUnit;

use super::handle::Handle;
use super::on_kit::{NoLesson, OnKit};
use super::scenery;
use super::seen::{LessonFigure, LessonSeen};
use super::told::{degrees, percent, px, stops};
use crate::kit::AdapterFit;
use crate::preset::adapters;
use crate::wording::capital;

pub(super) const HANDLES: [Handle; 2] = [
    Handle {
        word: "shape",
        name: key!("The frame's width over its height"),
        unit: "",
        min: 1.0,
        max: 2.76,
        step: 0.01,
        usual: 2.39,
        told: |shape, _lengths| shape_told(shape),
    },
    Handle {
        word: "adapter",
        name: key!("The anamorphic adapter"),
        unit: "",
        min: 0.0,
        max: 1.0,
        step: 1.0,
        usual: 0.0,
        told: adapter_told,
    },
];

pub(super) const FIGURES: [&str; 4] = ["kept", "view", "sideways", "light"];

/// How far behind the person the trees are, metres: chosen because a row of them then shows how much is seen.
const BEHIND_M: f64 = 8.0;

fn shape_told(value: f64) -> String {
    say!("{value:.2} : 1")
}

fn adapter_told(value: f64, _lengths: LengthUnit) -> String {
    if value < 0.5 { say!(in "an adapter", "off") } else { say!(in "an adapter", "on") }.to_owned()
}

/// The adapter that the lesson clips on, with its name and article.
struct ClipOn {
    name: String,
    adapter: Adapter,
    darkens: bool,
}

impl ClipOn {
    /// The kit's first that fits the lens, or else the first that comes with the program.
    fn of(on: &OnKit<'_>) -> Option<Self> {
        let fit = |adapter: &crate::kit::KitAdapter| adapter.fit_in(&on.lens.name, &on.recording.name, 1.0);
        let own = on.kit.adapters.iter().find(|adapter| fit(adapter) != AdapterFit::DoesNotFit);
        if let Some(own) = own {
            let darkens = fit(own) != AdapterFit::Fits;
            return Some(Self { name: say!("the {}", own.name), adapter: own.before(&on.mode), darkens });
        }
        let typical = adapters().into_iter().next()?;
        let name = typical.name.clone().unwrap_or_default();
        let kit_adapter = typical.to_kit_adapter(name).ok()?;
        let adapter = kit_adapter.before(&on.mode);
        Some(Self { name: say!("a typical {}", kit_adapter.name), adapter, darkens: false })
    }
}

pub(super) fn seen(on: &OnKit<'_>, shape: f64, is_on: f64) -> Result<LessonSeen, NoLesson> {
    let no_framing = || on.no_framing();
    let clip_on = ClipOn::of(on).filter(|_| is_on >= 0.5);
    // All are seen from one place: where the whole recorded picture has the size.
    let whole = on.shot(ShotSize::Medium, Stand::ForSize, BEHIND_M);
    let distance = on.resolved(&whole)?.distance;
    let shot = Shot {
        aspect: Aspect::new(shape).map_err(|_out_of_range| no_framing())?,
        adapter: clip_on.as_ref().map(|one| one.adapter),
        stand: Stand::At(distance),
        ..whole
    };
    let setup = on.resolved(&shot)?;
    let bare = Shot { adapter: None, ..shot };
    let bare = Wide { shot: bare, setup: on.resolved(&bare)? };
    let wide = Wide { shot, setup };
    let figures = figures(on, &wide);
    let note = match &clip_on {
        Some(one) if one.darkens => {
            Some(say!("{} darkens the corners of the {} lens.", capital(&one.name), on.lens.name))
        }
        Some(_) | None => on.too_near(&wide.shot, &wide.setup),
    };
    let view = scenery::still(
        &wide.shot,
        &wide.setup,
        &scenery::trees_behind(&wide.shot, &wide.setup, Light::USUAL),
    );
    let sentences = sentences(on, &wide, &bare, clip_on.as_ref());
    Ok(LessonSeen { views: vec![view], figures, sentences, note, lens: on.lens.name.clone() })
}

/// One frame shape with the adapter on or off.
struct Wide {
    shot: Shot,
    setup: Setup,
}

impl Wide {
    /// The share of the captured pixels that the crop leaves.
    fn kept(&self) -> f64 {
        1.0 - self.setup.frame.lost_share()
    }

    fn view_deg(&self) -> f64 {
        self.setup.view.horizontal_fov().to_deg()
    }

    /// How soft the face in focus stays sideways; nothing without an adapter.
    fn sideways_px(&self) -> Option<f64> {
        Figures::of(&self.shot, &self.setup).subject_sideways_px
    }

    fn light_loss(&self) -> f64 {
        self.shot.adapter.map_or(0.0, |adapter| adapter.light_loss.to_f64())
    }

    /// The pixels that were captured and are still there, in millions.
    fn captured_millions(&self) -> f64 {
        let recorded = &self.setup.frame.recorded;
        recorded.width_px * recorded.height_px * self.kept() / 1e6
    }
}

fn figures(on: &OnKit<'_>, wide: &Wide) -> Vec<LessonFigure> {
    vec![
        LessonFigure::of(
            (FIGURES[0], say!("Captured pixels that are left"), "%"),
            Some(wide.kept() * 100.0),
            |value| percent(value / 100.0),
            "",
        ),
        LessonFigure::of(
            (FIGURES[1], say!("Seen from side to side"), "°"),
            Some(wide.view_deg()),
            degrees,
            "",
        ),
        LessonFigure::of(
            (FIGURES[2], say!("The face in focus, soft sideways"), "px"),
            wide.sideways_px(),
            px,
            on.why_no_blur(),
        ),
        LessonFigure::of(
            (FIGURES[3], say!("Light that it takes"), "stops"),
            Some(wide.light_loss()),
            stops,
            "",
        ),
    ]
}

fn sentences(on: &OnKit<'_>, wide: &Wide, bare: &Wide, clip_on: Option<&ClipOn>) -> [String; 3] {
    let shape = shape_told(wide.setup.frame.aspect());
    let Some(one) = clip_on else {
        let crop = say!(
            "Cut to {shape}, {} of what the phone captured is thrown away and {:.1} million pixels are left.",
            percent(1.0 - wide.kept()),
            wide.captured_millions()
        );
        let view = say!(
            "The {} lens still sees {} from side to side: a wide crop takes from above and below, and a narrow one \
                  from the sides.",
            on.lens.name,
            degrees(wide.view_deg())
        );
        let none = say!(
            "Nothing gets softer by it and no light is lost: put the adapter on to see what it would keep."
        );
        return [crop, view, none.to_owned()];
    };
    let keep = say!(
        "With {}, {} of what the phone captured is left at {shape}, and {} without it.",
        one.name,
        percent(wide.kept()),
        percent(bare.kept())
    );
    let view = say!(
        "From the same place it sees {} from side to side, and {} without it.",
        degrees(wide.view_deg()),
        degrees(bare.view_deg())
    );
    let light = stops(wide.light_loss());
    let cost = match wide.sideways_px() {
        Some(soft) if soft > 0.0 => say!(
            "It costs {light} of light, and because it cannot focus the face stays {} soft sideways, worse the nearer \
                  you are.",
            px(soft)
        ),
        Some(_) => {
            say!("It costs {light} of light, and because it can focus the face stays sharp sideways too.")
        }
        None => {
            say!("It costs {light} of light, and how soft the face stays sideways is {}.", on.why_no_blur())
        }
    };
    [keep, view, cost]
}
