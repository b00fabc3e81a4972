//! What changes from one setup to the next, and how long it takes.

use language::say;

use super::problem::Rig;

/// How long each kind of change takes, minutes, not negative.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ChangeTimes {
    /// The day's first setup, with whatever goes on the phone for it.
    pub setting_up_min: f64,
    /// Another place.
    pub place_min: f64,
    /// Another scene at the same place.
    pub scene_min: f64,
    /// Another direction in the same scene.
    pub turn_min: f64,
    /// Another spot for the phone, looking the same way.
    pub spot_min: f64,
    /// Another lens of the phone.
    pub lens_min: f64,
    /// An adapter on, off or for another.
    pub adapter_min: f64,
    /// Filters on, off or for others.
    pub filters_min: f64,
    /// The phone onto the gimbal or off it.
    pub gimbal_min: f64,
}

/// One kind of change.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ChangePart {
    /// The day's first setup.
    SettingUp,
    /// Another place.
    Place,
    /// Another scene at the same place.
    Scene,
    /// Another direction in the same scene.
    Turn,
    /// Another spot, looking the same way.
    Spot,
    /// Another lens.
    Lens,
    /// Another adapter, or with one or without.
    Adapter,
    /// Other filters.
    Filters,
    /// Onto the gimbal or off it.
    Gimbal,
}

/// What has to change for a setup, each with its minutes.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Change {
    /// Where the phone goes, and then what goes on it.
    pub parts: Vec<(ChangePart, f64)>,
}

impl ChangeTimes {
    /// Usual values for a small crew of friends.
    ///
    /// That a move costs more than a turn, a turn more than a new spot, and anything screwed on more than a lens that is
    /// tapped, is common practice. The minutes are chosen because:
    /// - setting up, 10: bags are unpacked, the phone goes on its stand and everybody is briefed;
    /// - another place, 20: all is packed, carried and unpacked;
    /// - another scene at the same place, 5: people change clothes or spots, the phone is carried over;
    /// - a turn, 6: what was behind the phone is now in the frame and has to be cleared and lit;
    /// - a new spot looking the same way, 2: the stand is moved and the frame found;
    /// - a lens, 0.5: a tap, then focus and exposure are locked anew;
    /// - an adapter, 4: it is clamped, centred and checked in the picture;
    /// - filters, 2: screwed on and wiped;
    /// - the gimbal, 5: the phone is clamped and balanced.
    pub const fn usual() -> Self {
        Self {
            setting_up_min: 10.0,
            place_min: 20.0,
            scene_min: 5.0,
            turn_min: 6.0,
            spot_min: 2.0,
            lens_min: 0.5,
            adapter_min: 4.0,
            filters_min: 2.0,
            gimbal_min: 5.0,
        }
    }

    /// What has to change from one setup to the next; from nothing at the day's start.
    ///
    /// One way of going counts, the farthest; what goes on the phone is added to it.
    pub fn between(&self, from: Option<&Rig>, to: &Rig) -> Change {
        let Some(from) = from else {
            return Change { parts: vec![(ChangePart::SettingUp, self.setting_up_min)] };
        };
        let mut parts = vec![if from.place != to.place {
            (ChangePart::Place, self.place_min)
        } else if from.scene != to.scene {
            (ChangePart::Scene, self.scene_min)
        } else if from.looks_as(to) {
            (ChangePart::Spot, self.spot_min)
        } else {
            (ChangePart::Turn, self.turn_min)
        }];
        let on_the_phone = [
            (from.lens != to.lens, ChangePart::Lens, self.lens_min),
            (from.adapter != to.adapter, ChangePart::Adapter, self.adapter_min),
            (!from.filtered_as(to), ChangePart::Filters, self.filters_min),
            (from.gimbal != to.gimbal, ChangePart::Gimbal, self.gimbal_min),
        ];
        parts.extend(
            on_the_phone.into_iter().filter(|(changes, ..)| *changes).map(|(_, part, min)| (part, min)),
        );
        Change { parts }
    }
}

impl ChangePart {
    /// In a word or two.
    pub fn words(self) -> &'static str {
        match self {
            Self::SettingUp => say!("set up"),
            Self::Place => say!("another place"),
            Self::Scene => say!("another scene"),
            Self::Turn => say!("turn round"),
            Self::Spot => say!("new spot"),
            Self::Lens => say!("lens"),
            Self::Adapter => say!("adapter"),
            Self::Filters => say!("filters"),
            Self::Gimbal => say!("gimbal"),
        }
    }
}

impl Change {
    /// Everything together, minutes.
    pub fn minutes(&self) -> f64 {
        self.parts.iter().map(|(_, minutes)| minutes).sum()
    }
}

#[cfg(test)]
mod tests {
    use units::Angle;

    use super::*;
    use crate::id::{PlaceId, SceneId};
    use crate::order::tests::job;

    fn parts(from: Option<&Rig>, to: &Rig) -> Vec<ChangePart> {
        ChangeTimes::usual().between(from, to).parts.into_iter().map(|(part, _)| part).collect()
    }

    #[test]
    fn one_way_of_going_counts() {
        let rig = job(0).rig;
        let turned = Rig { direction: Angle::from_deg(90.0), ..rig.clone() };
        let scene = Rig { scene: SceneId::new(7).expect("small"), ..turned.clone() };
        let place = Rig { place: PlaceId::new(7), ..scene.clone() };
        assert_eq!(parts(None, &place), [ChangePart::SettingUp]);
        assert_eq!(parts(Some(&rig), &rig), [ChangePart::Spot]);
        assert_eq!(parts(Some(&rig), &turned), [ChangePart::Turn]);
        assert_eq!(parts(Some(&rig), &scene), [ChangePart::Scene]);
        assert_eq!(parts(Some(&rig), &place), [ChangePart::Place]);
    }

    #[test]
    fn what_goes_on_the_phone_is_added() {
        let bare = job(0).rig;
        let full = Rig {
            lens: "other".to_owned(),
            adapter: Some("stretch".to_owned()),
            filters: vec!["ND 8".to_owned(), "mist".to_owned()],
            gimbal: true,
            ..job(0).rig
        };
        let change = ChangeTimes::usual().between(Some(&bare), &full);
        assert!((change.minutes() - (2.0 + 0.5 + 4.0 + 2.0 + 5.0)).abs() < 1e-12, "{change:?}");
        let turned_round = Rig { filters: vec!["mist".to_owned(), "ND 8".to_owned()], ..full.clone() };
        assert_eq!(parts(Some(&full), &turned_round), [ChangePart::Spot]);
    }
}
