//! Why what is found on a cut is a rule.

use language::{key, text};

use super::CutFinding;

const JUMP_CUT: &str = key!(
    "Common practice: a cut to the same person turns by 30° or changes their size 1.8 times. \
     With less, they seem to jump, and it reads as a mistake and not as another view."
);
const LINE_CROSSED: &str = key!(
    "Common practice: the phone keeps to one side of the line, so that whoever looks right \
     goes on looking right. Across it, left and right change places and people lose track of \
     who is where."
);
const DIRECTION_TURNS: &str = key!(
    "Common practice: who walks to the right goes on to the right until seen to turn. Else \
     it reads as going back, or as somebody coming the other way."
);
const REVERSES_DIFFER: &str = key!(
    "Common practice: two who face each other are seen alike, in size within 1.25 times, \
     from the same height to their eyes within 0.15 m, on the same lens. A difference says \
     that one of them matters more; so it should be meant."
);
const LOOKS_ALIKE: &str = key!(
    "Common practice: of two who look at each other one looks left and the other right. If \
     both look the same way, they seem to look at a third."
);
const VOICE_FAR: &str = key!(
    "Common practice: a phone hears a voice well from no farther than 1.5 m, a recorder from \
     1 m. Farther off the place is louder than the voice, and nothing mends that later."
);
const SHOULDER_AMISS: &str = key!(
    "Common practice: the shoulder takes up an edge of the frame, so that both are there, and \
     leaves the face free."
);
const ONE_UNSEEN: &str =
    key!("Common practice: a shot of two shows both faces: without one it is a shot of the other.");
const SUBJECT_HIDDEN: &str = key!(
    "Physics: nobody is seen through what stands between. What is only to frame somebody stands \
     near the lens and beside them."
);
const PHONE_STANDS_IN: &str = key!(
    "Physics: where something stands there is no room for a phone. On the day it would be \
     elsewhere, and with it what is seen."
);
const TURNS_AWAY: &str = key!(
    "Common practice: a phone turns away from somebody to end a shot, or to show what they see. \
     Else they are missed."
);
const LEAVES_FRAME: &str = key!(
    "Common practice: somebody leaves the frame to end a shot. Longer than that an empty frame \
     tells nothing, and a turn outside it was never seen."
);
const WALKS_THROUGH: &str = key!(
    "Physics: nobody gets through what stands there. On the day the way would be another, and with \
     it what is seen."
);
const NOT_REHEARSED: &str = key!("Physics, or something that is not there: it cannot be shot like this.");
const RATE_TAKES_LIGHT: &str =
    key!("Physics: more frames a second leave each one less time, and so less light.");
const PLANNED_SHORT: &str = key!(
    "What lies beyond the planned end of a shot is not taken, so the cut leaves it out and is \
     shorter than it was meant."
);
const SHOWN_BRIEFLY: &str = key!(
    "Common practice: a new view needs about half a second to be read. Three or more shorter ones in \
     a row are a montage; one or two between longer ones look like a slip."
);
const FEW_SHOTS: &str = key!(
    "Common practice: a scene of a short film is cut from three to eight shots. Fewer leave \
     nothing to cut to, and more seldom fit into the hours that there are."
);
const ONE_SIZE: &str = key!(
    "Common practice: sizes vary, so that a tight shot means something when it comes. Within \
     1.3 times of each other they count as one."
);
const ONE_DIRECTION: &str = key!(
    "Common practice: a place is seen from more than one direction, else it looks like a \
     stage. Within 30° of each other they count as one."
);
const NO_FOREGROUND: &str = key!(
    "Common practice: something near the lens gives depth, and a phone seldom gets depth \
     from blur."
);
const ACTION_UNSAID: &str = key!(
    "Common practice: something happens in every shot. A shot of which nobody can say what, \
     is often one that the cut can do without."
);

impl CutFinding {
    /// Why it is a rule.
    pub fn reason(&self) -> &'static str {
        match self {
            Self::JumpCut { .. } => text(JUMP_CUT),
            Self::LineCrossed { .. } => text(LINE_CROSSED),
            Self::DirectionTurns { .. } => text(DIRECTION_TURNS),
            Self::ReversesDiffer { .. } => text(REVERSES_DIFFER),
            Self::LooksAlike { .. } => text(LOOKS_ALIKE),
            Self::VoiceFar { .. } => text(VOICE_FAR),
            Self::ShoulderAmiss { .. } => text(SHOULDER_AMISS),
            Self::OneUnseen { .. } => text(ONE_UNSEEN),
            Self::SubjectHidden { .. } => text(SUBJECT_HIDDEN),
            Self::PhoneStandsIn { .. } => text(PHONE_STANDS_IN),
            Self::LeavesFrame { walks: false, .. } => text(TURNS_AWAY),
            Self::LeavesFrame { walks: true, .. } => text(LEAVES_FRAME),
            Self::WalksThrough { .. } | Self::PhoneGoesThrough { .. } => text(WALKS_THROUGH),
            Self::NotRehearsed(_) | Self::NotToBeHad(_) => text(NOT_REHEARSED),
            Self::OfTake(finding) => finding.reason(),
            Self::RateTakesLight { .. } => text(RATE_TAKES_LIGHT),
            Self::PlannedShort { .. } => text(PLANNED_SHORT),
            Self::ShownBriefly { .. } => text(SHOWN_BRIEFLY),
            Self::FewShots { .. } | Self::ManyShots { .. } => text(FEW_SHOTS),
            Self::OneSize { .. } => text(ONE_SIZE),
            Self::OneDirection { .. } => text(ONE_DIRECTION),
            Self::NoForeground { .. } => text(NO_FOREGROUND),
            Self::ActionUnsaid { .. } => text(ACTION_UNSAID),
        }
    }
}
