//! What of an item can be changed by steps.

use language::say;
use requests::{PersonRequest, PieceRequest, USUAL_STATURE_M};
use staging::{PieceKind, PieceSize};
use units::LengthUnit;

use super::{Item, half_turn};
use crate::session::Plan;
use crate::setup::words;

/// Something about an item that has a number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Property {
    /// How far behind the subject it stands, as the phone sees it.
    Behind,
    /// How far to the right of the subject.
    Right,
    /// The direction of its front, clockwise from straight at the phone.
    Turn,
    Width,
    Depth,
    Height,
    /// Somebody's height when standing.
    Stature,
}

/// How a property is called, the least and the most of it, and one step.
pub(crate) struct Steps {
    pub(crate) label: &'static str,
    pub(crate) range: (f64, f64),
    pub(crate) step: f64,
}

impl Item {
    /// What of it the set can change.
    pub(crate) fn properties(self, plan: &Plan) -> &'static [Property] {
        match self {
            Self::Subject if plan.faces_deg(self).is_some() => &[Property::Turn],
            Self::Subject | Self::Second => &[],
            Self::Person(_) => &[Property::Behind, Property::Right, Property::Turn, Property::Stature],
            Self::Piece(_) => &[
                Property::Behind,
                Property::Right,
                Property::Turn,
                Property::Width,
                Property::Depth,
                Property::Height,
            ],
        }
    }
}

impl Property {
    /// Its name, range and step: ranges are those of a place where people film, within what requests allow.
    pub(crate) fn steps(self) -> Steps {
        let (label, range, step) = match self {
            Self::Behind => (say!("Stands"), (-20.0, 60.0), 0.1),
            Self::Right => (say!("Sideways"), (-40.0, 40.0), 0.1),
            Self::Turn => (say!("Faces"), (-180.0, 180.0), 5.0),
            Self::Width => (say!("Width"), (0.1, 30.0), 0.1),
            Self::Depth => (say!("Depth"), (0.1, 30.0), 0.1),
            Self::Height => (say!("Height"), (0.1, 30.0), 0.1),
            Self::Stature => (say!("How tall"), (0.4, 2.8), 0.02),
        };
        Steps { label, range, step }
    }

    /// A value in words.
    pub(crate) fn words(self, value: f64, unit: LengthUnit) -> String {
        let away = words::length(value.abs(), unit);
        match self {
            Self::Behind if value < 0.0 => say!("{away} before them"),
            Self::Behind => say!("{away} behind them"),
            Self::Right if value < 0.0 => say!("{away} left"),
            Self::Right => say!("{away} right"),
            Self::Turn => words::facing(value),
            Self::Width | Self::Depth | Self::Height | Self::Stature => words::length(value, unit),
        }
    }

    /// Where a piece keeps it, and what it usually is; none of what is not its own size.
    fn of_piece(self, piece: &mut PieceRequest) -> Option<(&mut Option<f64>, f64)> {
        let PieceSize { width, depth, height } = PieceKind::from(piece.kind).usual_size();
        match self {
            Self::Width => Some((&mut piece.width_m, width.to_m())),
            Self::Depth => Some((&mut piece.depth_m, depth.to_m())),
            Self::Height => Some((&mut piece.height_m, height.to_m())),
            Self::Behind | Self::Right | Self::Turn | Self::Stature => None,
        }
    }

    /// The same for somebody.
    fn of_person(self, person: &mut PersonRequest) -> Option<(&mut Option<f64>, f64)> {
        (self == Self::Stature).then_some((&mut person.stature_m, USUAL_STATURE_M))
    }
}

impl Plan {
    /// A property's value.
    pub(crate) fn read(&self, item: Item, property: Property) -> f64 {
        let (ahead, right) = self.directions();
        let along = |direction| self.place(item).map(|place| place.dot(direction));
        let said = |(value, usual): (&mut Option<f64>, f64)| value.unwrap_or(usual);
        let value = match property {
            Property::Behind => along(ahead),
            Property::Right => along(right),
            Property::Turn => self.faces_deg(item).map(|degrees| half_turn(degrees - self.phone_bearing_deg)),
            Property::Width | Property::Depth | Property::Height | Property::Stature => match item {
                Item::Subject | Item::Second => None,
                Item::Person(at) => {
                    self.person(at).cloned().and_then(|mut person| property.of_person(&mut person).map(said))
                }
                Item::Piece(at) => {
                    self.piece(at).cloned().and_then(|mut piece| property.of_piece(&mut piece).map(said))
                }
            },
        };
        value.unwrap_or(0.0)
    }

    /// Sets a property.
    pub(crate) fn write(&mut self, item: Item, property: Property, value: f64) {
        let (ahead, right) = self.directions();
        match property {
            Property::Behind | Property::Right => {
                let direction = if property == Property::Behind { ahead } else { right };
                if let Some(place) = self.place(item) {
                    self.put(item, place + direction * (value - place.dot(direction)));
                }
            }
            Property::Turn => self.face(item, value + self.phone_bearing_deg),
            Property::Width | Property::Depth | Property::Height | Property::Stature => {
                let kept = match item {
                    Item::Subject | Item::Second => None,
                    Item::Person(at) => self.person_mut(at).and_then(|person| property.of_person(person)),
                    Item::Piece(at) => self.piece_mut(at).and_then(|piece| property.of_piece(piece)),
                };
                if let Some((kept, _)) = kept {
                    *kept = Some(value);
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use glam::DVec3;
    use requests::{AgeRequest, PieceWord};

    use super::super::{Pose, somebody, usual_piece};
    use super::*;

    #[test]
    fn what_is_written_reads_back_and_nothing_else_changes() {
        let mut plan = Plan { phone_bearing_deg: 215.0, ..Plan::first() };
        let place = DVec3::new(1.0, 2.0, 0.0);
        plan.set_mut().people.push(somebody(place, 30.0, AgeRequest::Child, Pose::Walking, 2));
        plan.set_mut().pieces.push(usual_piece(PieceWord::Car, DVec3::new(-3.0, 4.0, 0.0), 0.0));
        for item in [Item::Subject, Item::Person(0), Item::Piece(0)] {
            let properties = item.properties(&plan);
            for (at, property) in properties.iter().enumerate() {
                let before: Vec<f64> = properties.iter().map(|one| plan.read(item, *one)).collect();
                plan.write(item, *property, before[at] + 0.5);
                for (other, one) in properties.iter().enumerate() {
                    let expected = if other == at { before[other] + 0.5 } else { before[other] };
                    let now = plan.read(item, *one);
                    assert!((now - expected).abs() < 1e-9, "{property:?} moved {one:?} to {now}");
                }
            }
        }
    }

    #[test]
    fn a_place_is_said_as_the_phone_sees_it() {
        // A phone south of them looks north: what is north of them is behind, what is west is left.
        let mut plan = Plan { phone_bearing_deg: 180.0, ..Plan::first() };
        plan.set_mut().pieces.push(usual_piece(PieceWord::Tree, DVec3::new(-2.0, 5.0, 0.0), 180.0));
        let said =
            |property: Property| property.words(plan.read(Item::Piece(0), property), LengthUnit::Metres);
        assert_eq!(said(Property::Behind), "5.00 m behind them");
        assert_eq!(said(Property::Right), "2.00 m left");
        assert_eq!(said(Property::Turn), "to the phone");
    }
}
