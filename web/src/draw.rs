//! Drawing on canvases: what lies over the picture of a frame, and the floor plan.

mod chalk;
mod floor;
mod frame;
mod overlay;
mod palette;
mod perspective;
mod plan;
mod plan_view;
mod set_plan;

pub(crate) use chalk::{Chalk, LABEL_FONT, Px};
pub(crate) use floor::Floor;
pub(crate) use frame::{FrameOptions, draw_over_frame};
pub(crate) use palette::Palette;
pub(crate) use plan::{PlanOptions, draw_plan};
pub(crate) use plan_view::{Chosen, Handle, Looking, PlanView, REACH_PX};
pub(crate) use set_plan::draw_piece;
