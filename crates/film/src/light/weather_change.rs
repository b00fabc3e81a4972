//! What changes when the weather turns on a day of shooting.

use language::say;
use optics::Iso;
use staging::ShotSize;
use units::Stops;

use super::agreement::number;
use super::{RIGHT_STOPS, ShotLight};
use crate::film::Film;
use crate::findings::Severity;
use crate::id::ShotId;
use crate::scene::{Scene, Setting};
use crate::shot::Shot;

/// One thing to know when the weather has turned.
#[derive(Debug, Clone, PartialEq)]
pub enum WeatherNote {
    /// A setup is set anew.
    SetAnew {
        /// The shot.
        shot: ShotId,
        /// How much more light there is; less if negative.
        light: Stops,
        /// The filters that are on now, in words.
        filters: String,
        /// The filters that were planned, in words.
        planned: String,
        /// The ISO that is set now.
        iso: Iso,
        /// What is too much in the end; too little if negative.
        residual: Stops,
    },
    /// A shot will not look as one that is in the can.
    DoesNotMatch {
        /// The shot.
        shot: ShotId,
        /// One that is in the can.
        done: ShotId,
        /// Whether that one has the sun on it and hard shadows; else this one would.
        done_in_sun: bool,
    },
    /// A shot that can still be told.
    StillGoes {
        /// The shot.
        shot: ShotId,
        /// Why.
        why: StillGoes,
    },
}

/// Why a shot can still be told in another weather.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum StillGoes {
    /// It is inside.
    Inside,
    /// It is of a thing, which can be lit or shaded by hand.
    Insert,
    /// It is so tight that a sheet held near makes its light.
    Tight,
}

/// Light that differs by less than this is the same: a tenth of a stop, chosen because no app is set finer.
const SAME_STOPS: f64 = 0.1;

/// What is to know of a scene when its light is not what was planned: each setup that is not in the can with its stops and ND
/// again, which will not match what is in the can, and what can still be told. Empty if the light is the same.
///
/// `planned` and `now` are its setups in either light. Shots match where both or neither have the sun on them: hard shadows do
/// not cut with soft ones, whatever the exposure. Where light was read, nothing is said of that, because a meter does not tell.
///
/// # Source
/// Common practice.
pub fn weather_change(
    scene: &Scene,
    planned: &[ShotLight],
    now: &[ShotLight],
    done: &[ShotId],
) -> Vec<WeatherNote> {
    let of = |lights: &'_ [ShotLight], shot: ShotId| lights.iter().position(|light| light.shot == shot);
    let left = || scene.shots.iter().filter(|shot| !shot.is_dropped && !done.contains(&shot.id));
    let both = |shot: &Shot| Some((planned.get(of(planned, shot.id)?)?, now.get(of(now, shot.id)?)?));
    let mut notes = Vec::new();
    for shot in left() {
        let Some((before, after)) = both(shot) else { continue };
        let light = Stops::new(after.light.value.to_f64() - before.light.value.to_f64());
        if light.to_f64().abs() >= SAME_STOPS {
            notes.push(WeatherNote::SetAnew {
                shot: shot.id,
                light,
                filters: after.filters.words(),
                planned: before.filters.words(),
                iso: after.guess.map_or(after.iso.set, |guess| guess.iso),
                residual: if after.guess.is_some() { Stops::ZERO } else { after.residual },
            });
        }
    }
    let mut turned = !notes.is_empty();
    for shot in left() {
        let Some(in_sun) = both(shot).and_then(|(_, after)| after.light.in_sun()) else { continue };
        let other = |id: &ShotId| {
            let light = planned.get(of(planned, *id)?)?;
            light.light.in_sun().filter(|was| *was != in_sun)
        };
        let in_can = nearest_done(scene, shot.id, done, |id| other(id).is_some());
        if let Some(done) = in_can {
            turned = true;
            notes.push(WeatherNote::DoesNotMatch { shot: shot.id, done, done_in_sun: !in_sun });
        }
    }
    if turned {
        notes.extend(left().filter_map(|shot| {
            Some(WeatherNote::StillGoes { shot: shot.id, why: still_goes(scene, shot)? })
        }));
    }
    notes
}

/// A shot in the can that does not match: one that the cut has beside this one, or else any of the scene.
fn nearest_done(
    scene: &Scene,
    shot: ShotId,
    done: &[ShotId],
    differs: impl Fn(&ShotId) -> bool,
) -> Option<ShotId> {
    let beside = scene.cut.windows(2).filter_map(|pair| match pair {
        [one, other] if one.shot == shot => Some(other.shot),
        [one, other] if other.shot == shot => Some(one.shot),
        _ => None,
    });
    let of_scene = scene.shots.iter().map(|shot| shot.id);
    beside.chain(of_scene).find(|id| *id != shot && done.contains(id) && differs(id))
}

fn still_goes(scene: &Scene, shot: &Shot) -> Option<StillGoes> {
    if scene.facts.setting == Setting::Inside {
        Some(StillGoes::Inside)
    } else if shot.is_insert() {
        Some(StillGoes::Insert)
    } else {
        (shot.size >= ShotSize::ChestUp).then_some(StillGoes::Tight)
    }
}

impl StillGoes {
    /// In plain words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Inside => say!("it is inside"),
            Self::Insert => say!("it is of a thing, which can be lit or shaded by hand"),
            Self::Tight => {
                say!(
                    "it is tight: little sky is seen, and a white sheet or a dark cloth held near makes its light"
                )
            }
        }
    }
}

impl WeatherNote {
    /// The shot that it is of.
    pub const fn shot(&self) -> ShotId {
        match self {
            Self::SetAnew { shot, .. } | Self::DoesNotMatch { shot, .. } | Self::StillGoes { shot, .. } => {
                *shot
            }
        }
    }

    /// How bad it is.
    pub fn severity(&self) -> Severity {
        match self {
            Self::DoesNotMatch { .. } => Severity::Warns,
            Self::SetAnew { residual, .. } if residual.to_f64().abs() > RIGHT_STOPS => Severity::Warns,
            Self::SetAnew { .. } | Self::StillGoes { .. } => Severity::Notes,
        }
    }

    /// In words, with the shots' numbers.
    pub fn words(&self, film: &Film) -> String {
        match self {
            Self::SetAnew { shot, light, filters, planned, iso, residual } => {
                let by = Stops::new(light.to_f64().abs());
                let shot = number(film, *shot);
                let nd = if filters == planned {
                    say!("ND as planned: {filters}")
                } else {
                    say!("ND: {filters}, in place of {planned}")
                };
                let off = off_told(*residual);
                if light.to_f64() < 0.0 {
                    say!("{shot}: {by:.1} less light; {nd}; {iso}{off}")
                } else {
                    say!("{shot}: {by:.1} more light; {nd}; {iso}{off}")
                }
            }
            Self::DoesNotMatch { shot, done, done_in_sun } => {
                let (shot, done) = (number(film, *shot), number(film, *done));
                if *done_in_sun {
                    say!(
                        "{shot} does not match {done}, which is in the can with the sun and hard shadows: wait for \
                              the sun, or make that one again"
                    )
                } else {
                    say!(
                        "{shot} does not match {done}, which is in the can without sun: shade it, wait for cloud, or \
                              make that one again"
                    )
                }
            }
            Self::StillGoes { shot, why } => {
                say!("{} can still be told: {}", number(film, *shot), why.words())
            }
        }
    }
}

/// ` and 1.2 stops too bright`, where it is off.
fn off_told(residual: Stops) -> String {
    let by = Stops::new(residual.to_f64().abs());
    if by.to_f64() <= RIGHT_STOPS {
        String::new()
    } else if residual.to_f64() > 0.0 {
        say!(", and {by:.1} too bright")
    } else {
        say!(", and {by:.1} too dark")
    }
}
