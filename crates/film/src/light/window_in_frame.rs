//! A window in the frame of a shot inside: what is outside by day is brighter than a room by stops.

use glam::DVec3;
use language::say;
use optics::Weather;
use staging::{PieceKind, SetPiece, Stage, along};
use units::{Angle, Stops};

use super::LightOnScene;
use super::usual::usual_light;
use crate::findings::LOST_STOPS;
use crate::rehearsal::Rehearsal;
use crate::scene::{Lamps, Scene, SceneFacts, SceneLight, Setting};

/// A window in the frame through which it is so bright that it comes out white.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BrightWindow {
    /// By how much what is outside is brighter than the room, at least.
    pub brighter: Stops,
}

/// How high the middle of the panes is, as a share of a wall with a window, and how far out from the middle panes surely are:
/// chosen as between sill and lintel of the one that is drawn, and half way from its middle to its frame.
const PANES_UP: f64 = 0.58;
const PANES_OUT: f64 = 0.13;

impl BrightWindow {
    /// A window in the frame as the shot starts, if what is outside is lost; `above_meter` is how much brighter than the meter's
    /// grey the room comes out.
    ///
    /// What is outside is counted as if it were in the shade or under cloud: in the sun it is brighter still. Who stands before
    /// the window and what hangs there are not looked at.
    pub(super) fn of(
        scene: &Scene,
        rehearsal: &Rehearsal,
        light: &LightOnScene,
        above_meter: Stops,
    ) -> Option<Self> {
        let is_window = |piece: &&SetPiece| piece.kind == PieceKind::Window;
        if scene.facts.setting == Setting::Outside
            || !scene.blocking.pieces.iter().any(|piece| is_window(&piece))
        {
            return None;
        }
        let brighter = Stops::new(outside(&scene.facts, light).to_f64() - light.value.to_f64());
        if (brighter + above_meter).to_f64() <= LOST_STOPS {
            return None;
        }
        let stage = rehearsal.stage(scene, &[], 0.0)?;
        stage
            .pieces
            .iter()
            .filter(is_window)
            .any(|window| is_in_frame(window, &stage))
            .then_some(Self { brighter })
    }

    /// What is the matter, and what can be done.
    pub(super) fn words(self) -> (String, String) {
        let message = say!(
            "a window is in the frame, and by day what is outside is at least {:.1} brighter than the room: it comes out white",
            self.brighter
        );
        let hint = say!(
            "turn the shot so that the window is out of it, hang something thin before it, light the room, or let it go white \
             on purpose"
        );
        (message, hint.to_owned())
    }
}

/// The light outside a room, in the shade or under cloud.
fn outside(facts: &SceneFacts, light: &LightOnScene) -> optics::ExposureValue {
    let weather = if light.weather() == Some(Weather::Rain) { Weather::Rain } else { Weather::Overcast };
    let facts = SceneFacts {
        setting: Setting::Outside,
        light: SceneLight::ByHour,
        lamps: Lamps::Off,
        ..facts.clone()
    };
    usual_light(&facts, weather).value
}

/// Whether panes of a window are in the frame as the shutter opens.
fn is_in_frame(window: &SetPiece, stage: &Stage) -> bool {
    let across = along(window.facing + Angle::from_deg(90.0)) * window.size.width.to_m();
    let up = window.size.height.to_m() * PANES_UP;
    [-PANES_OUT, 0.0, PANES_OUT].into_iter().any(|out| {
        let pane: DVec3 = (window.place + across * out).extend(up);
        stage.opens.see(pane).is_some_and(|seen| {
            let view = &stage.view;
            (-view.left..=view.right).contains(&seen.right) && (-view.down..=view.up).contains(&seen.up)
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::TimeOfDay;
    use optics::ExposureValue;
    use std::sync::Arc;

    /// The demo film's kitchen and what its first shot, of two people before the window, has of it.
    fn kitchen(
        at: usize,
        change: impl Fn(&mut SceneFacts),
        ev: f64,
        above_meter: f64,
    ) -> Option<BrightWindow> {
        let mut film = crate::demo_film();
        change(Arc::make_mut(&mut Arc::make_mut(&mut film.scenes[0]).facts));
        let scene = &film.scenes[0];
        let rehearsal =
            Rehearsal::of(&film, scene, &scene.shots[at]).expect("the demo film has all that it needs");
        let light = LightOnScene::read(ExposureValue::of_scene(ev).expect("in range"));
        BrightWindow::of(scene, &rehearsal, &light, Stops::new(above_meter))
    }

    /// A bright room has EV 8, and open shade outside EV 12: common practice.
    #[test]
    fn a_window_behind_two_people_at_a_table_comes_out_white_by_day() {
        let window = kitchen(0, |_| {}, 8.0, -0.3).expect("it is behind them");
        assert!((window.brighter.to_f64() - 4.0).abs() < 1e-9, "{window:?}");
        assert_eq!(
            window.words().0,
            "a window is in the frame, and by day what is outside is at least 4.0 stops brighter than the room: it comes \
             out white"
        );
        assert_eq!(kitchen(0, |facts| facts.time = TimeOfDay::Night, 6.0, -0.3), None, "it is dark outside");
        assert_eq!(kitchen(0, |facts| facts.setting = Setting::Outside, 8.0, -0.3), None);
    }

    #[test]
    fn it_is_white_from_a_stop_above_the_meter() {
        assert_eq!(kitchen(0, |_| {}, 10.34, -2.0 / 3.0), None, "0.993 stops above it");
        assert!(kitchen(0, |_| {}, 10.32, -2.0 / 3.0).is_some(), "1.013 stops above it");
    }

    #[test]
    fn a_window_that_is_not_looked_at_says_nothing() {
        let seen: Vec<bool> = (0..3).map(|at| kitchen(at, |_| {}, 8.0, -0.3).is_some()).collect();
        assert!(seen[0] && seen.contains(&false), "{seen:?}");
    }
}
