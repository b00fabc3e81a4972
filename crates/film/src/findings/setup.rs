//! Findings on one setup: will it focus, is there room, does the adapter serve, can the framing be had at all?

use language::say;

#[cfg(test)]
mod at_limits;
mod bettered;

use optics::{Aspect, Scale, darkened_share};
use staging::{Binding, Figures, FocusOn, Landmark, Look, NoFraming, Setup, Shot, Subject, Unframed};
use units::{Length, LengthUnit};

use super::{Finding, Severity};
use crate::kit::AdapterFit;

/// What surrounds a shot that the shot itself does not say.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Circumstances {
    /// How far from the subject the phone can go, if something ends the room.
    pub room: Option<Length>,
    /// How the adapter sits before the lens.
    pub adapter_fit: AdapterFit,
    /// A second frame shape that must hold the people too.
    pub protect: Option<Aspect>,
}

/// A finding on one setup, with its numbers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SetupFinding {
    /// From this height no distance gives the size.
    NoFramingFromHeight {
        /// The lens's height.
        phone_height: Length,
        /// What could be had.
        could: NoFraming,
    },
    /// With this tilt the frame's lower edge misses what the size stands on.
    LookMisses {
        /// The lens's height.
        phone_height: Length,
        /// How high what the lower edge must hold is.
        cut_height: Length,
    },
    /// The lens cannot focus so near.
    TooNearToFocus {
        /// Where it would have to focus.
        focus: Length,
        /// The nearest that it can.
        closest: Length,
    },
    /// The phone would stand where there is no room.
    NoRoom {
        /// The distance needed.
        distance: Length,
        /// The distance there is.
        room: Length,
    },
    /// The phone stands before the person whose shoulder it should look past.
    InFrontOfShoulder {
        /// How far ahead the subject is.
        ahead: Length,
        /// How far before the subject the near person stands.
        apart: Length,
    },
    /// The adapter cannot be clipped before this lens.
    AdapterDoesNotFit,
    /// The adapter darkens this lens's corners.
    AdapterVignettes {
        /// The share of the delivered frame that is darkened, where somebody looked.
        darkened_share: Option<f64>,
    },
    /// The adapter leaves the subject soft sideways.
    SoftSideways {
        /// How soft, in delivered pixels.
        softness_px: f64,
        /// The focus distance from which it is sharp enough.
        useful_from: Length,
    },
    /// Focus is on something else, and the subject is outside what counts as sharp.
    SubjectOutOfFocus {
        /// Where focus is.
        focus: Length,
        /// How far away the subject is, along the axis.
        subject: Length,
        /// How high a point of it is drawn, in delivered pixels.
        softness_px: f64,
    },
    /// What is sharp cannot be told: the lens is known by its 35 mm-equivalent only.
    NeedsFocalLength,
    /// What is sharp cannot be told without an f-number.
    NeedsFNumber,
    /// The fixed look leaves another headroom than asked.
    LookMovesHeadroom {
        /// The share of the frame above the crown.
        headroom: f64,
        /// The share asked for.
        asked: f64,
    },
    /// The frame is too narrow for this size; the phone stepped back.
    WidthBinds,
    /// Part of a head falls outside the second frame shape.
    OutsideProtected {
        /// The second frame shape.
        shape: Aspect,
    },
}

/// Room behind a shoulder for the phone and whoever holds it: chosen because arms need it.
const BEHIND_SHOULDER: Length = Length::from_m(0.30);

/// Checks one resolved shot. Allocates only when it finds something.
pub fn check_setup(
    shot: &Shot,
    outcome: &Result<Setup, Unframed>,
    figures: Option<&Figures>,
    around: &Circumstances,
) -> Vec<SetupFinding> {
    let mut findings = Vec::new();
    if shot.adapter.is_some() {
        match around.adapter_fit {
            AdapterFit::Fits => {}
            AdapterFit::Vignettes { clear_share } => {
                let darkened_share = clear_share.map(|share| {
                    let frame = outcome.as_ref().map_or_else(|_| shot.frame(), |setup| setup.frame);
                    darkened_share(&frame, share)
                });
                // The crop may leave out all that is dark.
                if darkened_share.is_none_or(|share| share > 0.0) {
                    findings.push(SetupFinding::AdapterVignettes { darkened_share });
                }
            }
            AdapterFit::DoesNotFit => findings.push(SetupFinding::AdapterDoesNotFit),
        }
    }
    match outcome {
        Ok(setup) => check_place(shot, setup, figures, around, &mut findings),
        Err(Unframed::Height(could)) => {
            let phone_height = shot.subject.phone_height(shot.size, shot.phone_height);
            findings.push(SetupFinding::NoFramingFromHeight { phone_height, could: *could });
        }
        Err(Unframed::Look { phone_height, cut_height }) => {
            findings.push(SetupFinding::LookMisses { phone_height: *phone_height, cut_height: *cut_height });
        }
        Err(_) => {}
    }
    if shot.lens.scale == Scale::Equivalent {
        findings.push(SetupFinding::NeedsFocalLength);
    } else if shot.lens.f_number.is_none() {
        findings.push(SetupFinding::NeedsFNumber);
    }
    findings
}

/// Checks the place that a shot resolved to.
fn check_place(
    shot: &Shot,
    setup: &Setup,
    figures: Option<&Figures>,
    around: &Circumstances,
    findings: &mut Vec<SetupFinding>,
) {
    if let Some(closest) = shot.closest_focus(setup.focus) {
        findings.push(SetupFinding::TooNearToFocus { focus: setup.focus, closest });
    }
    if let Some(room) = around.room
        && setup.distance > room
    {
        findings.push(SetupFinding::NoRoom { distance: setup.distance, room });
    }
    if let Some(apart) = shot.subject.near_person()
        && setup.ahead < apart + BEHIND_SHOULDER
    {
        findings.push(SetupFinding::InFrontOfShoulder { ahead: setup.ahead, apart });
    }
    if let Some(soft) = soft_sideways(shot, setup, figures) {
        findings.push(soft);
    }
    if let Some(soft) = out_of_focus(shot, setup, figures) {
        findings.push(soft);
    }
    if setup.binding == Binding::Width {
        findings.push(SetupFinding::WidthBinds);
    }
    if let Some(asked) = asked_headroom(shot)
        && (setup.headroom - asked).abs() > 0.005
    {
        findings.push(SetupFinding::LookMovesHeadroom { headroom: setup.headroom, asked });
    }
    if let Some(shape) = around.protect
        && !protects(shot, setup, shape)
    {
        findings.push(SetupFinding::OutsideProtected { shape });
    }
}

/// A subject that is softer sideways than the circle of confusion.
fn soft_sideways(shot: &Shot, setup: &Setup, figures: Option<&Figures>) -> Option<SetupFinding> {
    let figures = figures?;
    let softness_px = figures.subject_sideways_px?;
    let useful_from = figures.adapter_useful_from?;
    let circle = shot.circle_of_confusion(&setup.frame)?;
    (softness_px > circle.to_length().to_m() * setup.frame.px_per_m)
        .then_some(SetupFinding::SoftSideways { softness_px, useful_from })
}

/// A subject that focus was put before or behind, so far that it does not count as sharp.
fn out_of_focus(shot: &Shot, setup: &Setup, figures: Option<&Figures>) -> Option<SetupFinding> {
    let FocusOn::At(focus) = shot.focus else { return None };
    let figures = figures?;
    let (zone, softness) = (figures.sharp?, figures.subject?);
    (!zone.holds(setup.subject_depth)).then_some(SetupFinding::SubjectOutOfFocus {
        focus,
        subject: setup.subject_depth,
        softness_px: softness.height_px,
    })
}

/// The headroom that a fixed look may fail to give.
fn asked_headroom(shot: &Shot) -> Option<f64> {
    let Look::Tilt(_) = shot.look else { return None };
    let rule = shot.size.rule()?;
    if rule.top == Landmark::Crown { Some(shot.headroom.unwrap_or(rule.above)) } else { shot.headroom }
}

/// Whether every head stays inside the largest centred frame of shape `shape` within the delivered one.
fn protects(shot: &Shot, setup: &Setup, shape: Aspect) -> bool {
    let Some(body) = shot.subject.body() else { return true };
    let delivered = setup.frame.aspect();
    let (kept_width, kept_height) = if shape.to_f64() > delivered {
        (1.0, delivered / shape.to_f64())
    } else {
        (shape.to_f64() / delivered, 1.0)
    };
    let frame_width = (setup.subject_depth - shot.subject.behind_nearest()) * setup.view.width();
    let apart = match shot.subject {
        Subject::Pair { apart, .. } => apart,
        Subject::Person(_) | Subject::OverShoulder { .. } | Subject::Object { .. } => Length::ZERO,
    };
    let half_span = (apart + body.head_breadth()) / 2.0 / frame_width;
    let beside = (shot.across - 0.5).abs() + half_span;
    // A head that the delivered frame crops already is not the second shape's to keep.
    let eyes_inside = setup.eyes_down.is_none_or(|eyes| (eyes - 0.5).abs() <= kept_height / 2.0);
    let crown_inside = setup.headroom < 0.0 || setup.headroom >= (1.0 - kept_height) / 2.0;
    beside <= kept_width / 2.0 && eyes_inside && crown_inside
}

/// How much is dark, in words: at the most, because only the worst corner is known; and a little of it is still some.
fn vignettes_words(darkened_share: Option<f64>) -> String {
    let lens = say!("the adapter darkens the corners on this lens");
    match darkened_share {
        None => lens.to_owned(),
        Some(share) if share < 0.01 => say!("{lens}: less than 1 % of the frame by a stop or more"),
        Some(share) => say!("{lens}: up to {:.0} % of the frame by a stop or more", share * 100.0),
    }
}

impl SetupFinding {
    /// The rule's name, for programs.
    pub const fn rule(&self) -> &'static str {
        match self {
            Self::NoFramingFromHeight { .. } => "no_framing_from_height",
            Self::LookMisses { .. } => "look_misses",
            Self::TooNearToFocus { .. } => "too_near_to_focus",
            Self::NoRoom { .. } => "no_room",
            Self::InFrontOfShoulder { .. } => "in_front_of_shoulder",
            Self::AdapterDoesNotFit => "adapter_does_not_fit",
            Self::AdapterVignettes { .. } => "adapter_vignettes",
            Self::SoftSideways { .. } => "soft_sideways",
            Self::SubjectOutOfFocus { .. } => "subject_out_of_focus",
            Self::NeedsFocalLength => "needs_focal_length",
            Self::NeedsFNumber => "needs_f_number",
            Self::LookMovesHeadroom { .. } => "look_moves_headroom",
            Self::WidthBinds => "width_binds",
            Self::OutsideProtected { .. } => "outside_protected",
        }
    }

    /// How bad it is.
    pub const fn severity(&self) -> Severity {
        match self {
            Self::NoFramingFromHeight { .. }
            | Self::LookMisses { .. }
            | Self::TooNearToFocus { .. }
            | Self::NoRoom { .. }
            | Self::InFrontOfShoulder { .. }
            | Self::AdapterDoesNotFit => Severity::Fails,
            Self::AdapterVignettes { .. } | Self::SoftSideways { .. } | Self::OutsideProtected { .. } => {
                Severity::Warns
            }
            Self::SubjectOutOfFocus { .. }
            | Self::NeedsFocalLength
            | Self::NeedsFNumber
            | Self::LookMovesHeadroom { .. }
            | Self::WidthBinds => Severity::Notes,
        }
    }

    /// The reason in two to four words, for a small picture's mark.
    pub fn brief(&self) -> &'static str {
        match self {
            Self::NoFramingFromHeight { .. } => say!("not from this height"),
            Self::LookMisses { .. } => say!("look misses them"),
            Self::TooNearToFocus { .. } => say!("too near to focus"),
            Self::NoRoom { .. } => say!("no room"),
            Self::InFrontOfShoulder { .. } => say!("past the shoulder"),
            Self::AdapterDoesNotFit => say!("adapter does not fit"),
            Self::AdapterVignettes { .. } => say!("dark corners"),
            Self::SoftSideways { .. } => say!("soft sideways"),
            Self::SubjectOutOfFocus { .. } => say!("focus elsewhere"),
            Self::NeedsFocalLength => say!("focal length unknown"),
            Self::NeedsFNumber => say!("f-number unknown"),
            Self::LookMovesHeadroom { .. } => say!("headroom differs"),
            Self::WidthBinds => say!("stepped back for width"),
            Self::OutsideProtected { .. } => say!("second shape crops"),
        }
    }

    /// The finding in words, lengths in `unit`.
    pub fn to_finding(&self, unit: LengthUnit) -> Finding {
        let (message, hint) = self.words(unit);
        Finding { rule: self.rule(), severity: self.severity(), message, hint }
    }

    fn words(&self, unit: LengthUnit) -> (String, String) {
        let told = |length: Length| length.told(unit, 2);
        match self {
            Self::NoFramingFromHeight { phone_height, could } => {
                let reach = could.tightest_cut.map_or_else(String::new, |cut| match cut {
                    cut if cut >= Length::ZERO => say!(", and reaches down to {} there", told(cut)),
                    _ => say!(", and reaches below the floor there").to_owned(),
                });
                (
                    say!(
                        "no distance gives this size from {} high: the frame is tightest at {}{reach}",
                        told(*phone_height),
                        told(could.tightest_at)
                    ),
                    say!(
                        "put the phone between {} and {} high, or use a lens that sees less than {:.0}° from the \
                         lower to the upper mark (this one sees {:.0}°)",
                        told(could.height_from),
                        told(could.height_to),
                        could.widest_angle.to_deg(),
                        could.asked_angle.to_deg()
                    ),
                )
            }
            Self::LookMisses { phone_height, cut_height } => (
                say!(
                    "with this look from {} high the frame's lower edge never meets {} on the subject",
                    told(*phone_height),
                    told(*cut_height)
                ),
                say!("let the phone aim for the framing, or change its height").to_owned(),
            ),
            Self::TooNearToFocus { focus, closest } => (
                say!("it would have to focus at {}; this lens focuses from {} on", told(*focus), told(*closest)),
                say!("use a longer lens or a wider size, or step back").to_owned(),
            ),
            Self::NoRoom { distance, room } => (
                say!("the phone would stand {} away; there is room for {}", told(*distance), told(*room)),
                say!("use a wider lens or a tighter size").to_owned(),
            ),
            Self::InFrontOfShoulder { ahead, apart } => (
                say!(
                    "the phone would stand {} from the one it looks at, and the near shoulder is {} from them",
                    told(*ahead),
                    told(*apart)
                ),
                say!("use a longer lens, or bring the two nearer together").to_owned(),
            ),
            Self::AdapterDoesNotFit => (
                say!("the adapter cannot be clipped before this lens").to_owned(),
                say!("take it off, or use a lens that it fits").to_owned(),
            ),
            Self::AdapterVignettes { darkened_share } => {
                (vignettes_words(*darkened_share), say!("crop tighter, or use a longer lens").to_owned())
            }
            Self::SoftSideways { softness_px, useful_from } => (
                say!(
                    "the adapter cannot focus: the subject stays {softness_px:.1} px soft sideways even in focus"
                ),
                say!("from {} on it is sharp enough; stand back, or take the adapter off", told(*useful_from)),
            ),
            Self::SubjectOutOfFocus { focus, subject, softness_px } => (
                say!(
                    "focus is at {} and the subject at {}: a point of it is drawn {softness_px:.1} px high",
                    told(*focus),
                    told(*subject)
                ),
                say!("put focus back on the subject, or pull it there").to_owned(),
            ),
            Self::NeedsFocalLength => (
                say!(
                    "what is sharp and how soft the rest is cannot be told: focal_length_mm is not known, only its \
                     equivalent"
                )
                .to_owned(),
                say!("add the lens's own focal length, from a photo that it took").to_owned(),
            ),
            Self::NeedsFNumber => (
                say!("what is sharp and how soft the rest is cannot be told: f_number is not known").to_owned(),
                say!("add the lens's f-number, from a photo that it took").to_owned(),
            ),
            Self::LookMovesHeadroom { headroom, asked } => (
                say!(
                    "with this look the headroom is {:.0} % of the frame instead of {:.0} %",
                    headroom * 100.0,
                    asked * 100.0
                ),
                say!("let the phone aim for the framing, or raise or lower it").to_owned(),
            ),
            Self::WidthBinds => (
                say!(
                    "the frame is narrow for this size, so the phone stands further back and sees more above and below"
                )
                .to_owned(),
                say!("use a wider frame shape to come as near as the size asks").to_owned(),
            ),
            Self::OutsideProtected { shape } => (
                say!("somebody's head falls outside the second frame shape ({:.2})", shape.to_f64()),
                say!("place them nearer the middle, or step back").to_owned(),
            ),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;
    use units::Angle;

    fn could(tightest_cut: Option<f64>) -> SetupFinding {
        let m = Length::from_m;
        SetupFinding::NoFramingFromHeight {
            phone_height: m(0.1),
            could: NoFraming {
                tightest_at: m(1.3),
                tightest_cut: tightest_cut.map(m),
                height_from: m(0.5),
                height_to: m(2.2),
                widest_angle: Angle::from_deg(15.0),
                asked_angle: Angle::from_deg(33.0),
            },
        }
    }

    /// One of each.
    fn all() -> [SetupFinding; 14] {
        let m = Length::from_m;
        [
            could(Some(0.4)),
            SetupFinding::LookMisses { phone_height: m(0.1), cut_height: m(1.0) },
            SetupFinding::TooNearToFocus { focus: m(0.1), closest: m(0.2) },
            SetupFinding::NoRoom { distance: m(3.0), room: m(2.5) },
            SetupFinding::InFrontOfShoulder { ahead: m(1.0), apart: m(1.2) },
            SetupFinding::AdapterDoesNotFit,
            SetupFinding::AdapterVignettes { darkened_share: None },
            SetupFinding::SoftSideways { softness_px: 4.26, useful_from: m(2.04) },
            SetupFinding::OutsideProtected { shape: Aspect::new(2.39).expect("a shape") },
            SetupFinding::SubjectOutOfFocus { focus: m(1.0), subject: m(2.0), softness_px: 7.5 },
            SetupFinding::NeedsFocalLength,
            SetupFinding::NeedsFNumber,
            SetupFinding::LookMovesHeadroom { headroom: 0.2, asked: 0.12 },
            SetupFinding::WidthBinds,
        ]
    }

    #[test]
    fn every_finding_has_a_rule_a_mark_and_words_of_its_own() {
        let told: Vec<Finding> = all().iter().map(|found| found.to_finding(LengthUnit::Metres)).collect();
        let different = |said: fn(&Finding) -> &str| told.iter().map(said).collect::<BTreeSet<_>>().len();
        assert_eq!((different(|one| one.rule), different(|one| &one.message)), (told.len(), told.len()));
        let briefs = BTreeSet::from(all().map(|found| found.brief()));
        assert!(briefs.len() == told.len() && briefs.iter().all(|brief| brief.contains(' ')), "{briefs:?}");
        for one in &told {
            assert!(one.message.contains(' ') && one.hint.contains(' '), "{one:?}");
            assert!(!one.message.ends_with('.') && !one.hint.ends_with('.'), "{one:?}");
        }
    }

    #[test]
    fn six_cannot_be_shot_three_want_a_look_and_five_are_worth_knowing() {
        let count = |severity| all().iter().filter(|found| found.severity() == severity).count();
        assert_eq!([Severity::Fails, Severity::Warns, Severity::Notes].map(count), [6, 3, 5]);
    }

    #[test]
    fn a_framing_that_cannot_be_had_says_how_far_down_the_tightest_reaches() {
        let said = |cut| could(cut).to_finding(LengthUnit::Metres).message;
        let tightest = "no distance gives this size from 0.10 m high: the frame is tightest at 1.30 m";
        assert_eq!(said(Some(0.4)), format!("{tightest}, and reaches down to 0.40 m there"));
        assert_eq!(said(Some(0.0)), format!("{tightest}, and reaches down to 0.00 m there"));
        assert_eq!(said(Some(-0.1)), format!("{tightest}, and reaches below the floor there"));
        assert_eq!(said(None), tightest);
    }

    #[test]
    fn dark_corners_are_told_in_whole_percents_and_a_little_is_still_some() {
        let lens = "the adapter darkens the corners on this lens";
        assert_eq!(vignettes_words(None), lens);
        for little in [0.001, 0.0099] {
            assert_eq!(
                vignettes_words(Some(little)),
                format!("{lens}: less than 1 % of the frame by a stop or more")
            );
        }
        assert_eq!(vignettes_words(Some(0.01)), format!("{lens}: up to 1 % of the frame by a stop or more"));
        assert_eq!(vignettes_words(Some(0.21)), format!("{lens}: up to 21 % of the frame by a stop or more"));
    }
}
