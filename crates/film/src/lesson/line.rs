//! The line: two people look at each other as long as the phone stays on one side of it.
//!
//! A small film of two shots is cut and checked as any film is.

use std::sync::Arc;

use glam::DVec2;
use language::{key, say};
use staging::{Age, Colour, Light, PieceKind, Posture, SetPiece, ShotSize};
use units::{Angle, Length};

use super::handle::Handle;
use super::on_kit::{NoLesson, OnKit};
use super::seen::{FigureUnit, LessonFigure, LessonSeen, LessonView};
use super::told::{degrees, length};
use crate::cut_view::{EntryView, ScreenDirection, SeenAt};
use crate::film::{CastMember, Film};
use crate::findings::{CutFinding, check_cut};
use crate::id::FreshIds;
use crate::rehearsal::Rehearsals;
use crate::scene::{Entry, KeptAt, Scene};
use crate::scene_blocking::{Faces, LineSide, Mark, SceneBlocking};
use crate::shot::{LensChoice, Shot, ShotOf};
use crate::unknown::Unknown;

pub(super) const HANDLES: [Handle; 1] = [Handle {
    word: "round",
    name: key!("Where the second phone stands, round from the line"),
    unit: "°",
    min: -150.0,
    max: 150.0,
    step: 5.0,
    usual: 50.0,
    told: |round, _lengths| round_told(round),
}];

pub(super) const FIGURES: [&str; 3] = ["off_line", "apart", "findings"];

/// Where the two stand, metres east of the middle: chosen, as far apart as people talk.
const APART_M: f64 = 1.6;
/// How far round from the line the first phone stands: chosen because both eyes then show and the look is clear.
const FIRST_ROUND: Angle = Angle::from_deg(50.0);
/// From the one in the east to the one in the west, clockwise from north.
const WEST_DEG: f64 = 270.0;
/// From the one in the west to the one in the east.
const EAST_DEG: f64 = 90.0;
/// How far north of the two trees stand, and south, metres: chosen so that a place is seen from either side.
const TREES_AWAY_M: f64 = 9.0;
/// What the two are called.
const NAMES: [&str; 2] = ["Ada", "Ben"];

fn round_told(value: f64) -> String {
    match value {
        on if libm::fabs(on) < 0.5 => say!("0°, on the line").to_owned(),
        beyond if beyond < 0.0 => say!("{} beyond the line", degrees(-beyond)),
        own => say!("{} on the first phone's side", degrees(own)),
    }
}

fn member(ids: &mut FreshIds, name: &str, stature_m: f64, clothes: [u8; 3]) -> CastMember {
    CastMember {
        id: ids.fresh(),
        name: name.to_owned(),
        stature: Length::from_m(stature_m),
        age: Age::Adult,
        clothes: Colour::from_srgb8(clothes),
        hours: None,
        consent: true,
        unknown: Unknown::default(),
    }
}

/// Two who face each other, east and west, between rows of trees.
fn blocking(cast: &[CastMember; 2]) -> SceneBlocking {
    let mark = |who: usize, x: f64| Mark {
        who: cast[who].id,
        place: DVec2::new(x, 0.0),
        faces: Faces::At(cast[1 - who].id),
        posture: Posture::Standing,
        way: None,
    };
    let size = PieceKind::Tree.usual_size();
    let places =
        [-8.0, -3.0, 2.0, 7.0].into_iter().flat_map(|x| [(x, TREES_AWAY_M), (x + 2.0, -TREES_AWAY_M)]);
    let tree =
        |(x, y)| SetPiece { kind: PieceKind::Tree, place: DVec2::new(x, y), facing: Angle::ZERO, size };
    SceneBlocking {
        marks: vec![mark(0, -APART_M / 2.0), mark(1, APART_M / 2.0)],
        pieces: places.map(tree).collect(),
        light: Light::USUAL,
        ..SceneBlocking::default()
    }
}

/// The film: one of each, cut one after the other, the second phone so far round from the line.
fn film(on: &OnKit<'_>, round_deg: f64) -> Film {
    let mut ids = FreshIds::starting_at(1);
    let cast = [
        member(&mut ids, NAMES[0], 1.66, [0x2f, 0x6f, 0x8f]),
        member(&mut ids, NAMES[1], 1.78, [0xb5, 0x53, 0x3c]),
    ];
    let mut shot = |who: usize, side_deg: f64| Shot {
        lens: LensChoice::Fixed { name: on.lens.name.clone(), in_sensor_zoom: 1.0 },
        ..Shot::of(ids.fresh(), ShotOf::One(cast[who].id), ShotSize::ChestUp, Angle::from_deg(side_deg))
    };
    // South of the line is the first phone's side: clockwise from east for Ada, anticlockwise from west for Ben.
    let shots = [shot(0, EAST_DEG + FIRST_ROUND.to_deg()), shot(1, WEST_DEG - round_deg)];
    let mut scene = Scene::empty(ids.fresh(), blocking(&cast));
    scene.cut = shots.iter().map(|shot| Entry::whole(ids.fresh(), shot.id)).collect();
    scene.shots = shots.into_iter().map(Arc::new).collect();
    let mut film = Film::empty(Arc::new(on.kit.clone()), on.aspect);
    film.cast = Arc::from(cast);
    film.scenes.push(Arc::new(scene));
    film
}

pub(super) fn seen(on: &OnKit<'_>, round_deg: f64) -> Result<LessonSeen, NoLesson> {
    let no_framing = || on.no_framing();
    let film = film(on, round_deg);
    let scene = film.scenes.first().ok_or_else(no_framing)?;
    let views = EntryView::of_cut(&film, scene, &mut Rehearsals::default());
    let [first, second] = views.as_slice() else { return Err(no_framing()) };
    let at = |view: &EntryView| view.seen.map(|seen| seen[0]).ok_or_else(no_framing);
    let both = Both { first: at(first)?, second: at(second)?, found: found(&film, scene, &views) };
    let picture = |view: &EntryView, who: usize| {
        let rehearsal = view.rehearsal.as_ref().as_ref().ok()?;
        let stage = rehearsal.stage(scene, &film.cast, 0.0)?;
        let aspect = rehearsal.result().outcome.as_ref().ok()?.frame.aspect();
        Some(LessonView { caption: NAMES[who].to_owned(), stage, aspect })
    };
    let pictures = [picture(first, 0), picture(second, 1)].into_iter().collect::<Option<Vec<_>>>();
    Ok(LessonSeen {
        views: pictures.ok_or_else(no_framing)?,
        figures: both.figures(on),
        sentences: both.sentences(on),
        note: None,
        lens: on.lens.name.clone(),
    })
}

/// What the check of the cut finds between the two.
fn found(film: &Film, scene: &Scene, views: &[EntryView]) -> Vec<CutFinding> {
    let placed = check_cut(film, scene, views).into_iter();
    placed.filter(|one| matches!(one.at, KeptAt::Cut(..))).map(|one| one.finding).collect()
}

/// Both shots.
struct Both {
    first: SeenAt,
    second: SeenAt,
    found: Vec<CutFinding>,
}

impl Both {
    /// How far off the line the second phone is at the one it is of, beyond it if negative.
    fn off_line_deg(&self) -> f64 {
        // Whom it is of stands in the east, so the line leaves them westwards.
        let (line, phone) = (DVec2::NEG_X, self.second.from_subject.truncate());
        let off = Angle::from_components(libm::fabs(line.perp_dot(phone)), line.dot(phone)).to_deg();
        let is_beyond =
            self.second.side.zip(self.first.side).is_some_and(|(second, first)| second == first.reversed());
        if is_beyond && self.second.side != Some(LineSide::On) { -off } else { off }
    }

    fn crosses(&self) -> bool {
        self.found.iter().any(|one| matches!(one, CutFinding::LineCrossed { .. }))
    }

    fn figures(&self, on: &OnKit<'_>) -> Vec<LessonFigure> {
        let phones =
            self.first.camera.position().truncate().distance(self.second.camera.position().truncate());
        #[expect(clippy::cast_precision_loss, reason = "a handful")]
        let found = self.found.len() as f64;
        let briefs: Vec<&str> = self.found.iter().map(CutFinding::brief).collect();
        let found_told = |_count: f64| {
            if briefs.is_empty() { say!("nothing: it cuts").to_owned() } else { briefs.join(", ") }
        };
        vec![
            LessonFigure::of(
                (FIGURES[0], say!("The second phone, round from the line"), "°"),
                Some(self.off_line_deg()),
                round_told,
                "",
            ),
            LessonFigure::of(
                (FIGURES[1], say!("Between the two phones"), FigureUnit::Metres),
                Some(phones),
                |metres| length(metres, on.unit),
                "",
            ),
            LessonFigure::of((FIGURES[2], say!("What the cut is told"), ""), Some(found), found_told, ""),
        ]
    }

    fn sentences(&self, on: &OnKit<'_>) -> [String; 3] {
        let [ada, ben] = NAMES;
        let way = |seen: &SeenAt| seen.looks.unwrap_or(ScreenDirection::Neutral);
        let looks = |seen: &SeenAt| match way(seen) {
            ScreenDirection::Left => say!("looks left"),
            ScreenDirection::Neutral => say!("looks straight on"),
            ScreenDirection::Right => say!("looks right"),
        };
        let line = say!(
            "A line runs through {ada} and {ben}, who look at each other {} apart, and the first phone stands {} off it.",
            on.length(Length::from_m(APART_M)),
            degrees(FIRST_ROUND.to_deg())
        );
        let off = round_told(self.off_line_deg());
        let (one, other) = (looks(&self.first), looks(&self.second));
        let second = say!("The second phone stands {off}: {ada} {one} and {ben} {other}.");
        let cut = if self.crosses() {
            let looks = match (way(&self.first), way(&self.second)) {
                (one, other) if one != other => say!("the looks no longer meet"),
                (ScreenDirection::Left, _) => say!("both look left"),
                (ScreenDirection::Neutral, _) => say!("both look straight on"),
                (ScreenDirection::Right, _) => say!("both look right"),
            };
            say!(
                "Cut together the line is crossed: {looks}, as if somebody else were meant, so go back to the first \
                      phone's side or show the move."
            )
        } else if self.second.side == Some(LineSide::On) {
            say!(
                "On the line {ben} {other}, which belongs to neither side: it can lead from one to the other."
            )
        } else {
            say!("Cut together the looks meet and no line is crossed, because both phones stand on one side: half a \
                  turn, 180°, is free to stand in.").to_owned()
        };
        [line, second, cut]
    }
}
