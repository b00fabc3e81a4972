//! Drawing on canvases: the frame, the floor plan, and the people in both.

mod background;
mod face;
mod figure;
mod frame;
mod ground;
mod head;
mod mannequin;
mod overlay;
mod palette;
mod perspective;
mod plan;
mod props;
mod sketch;
mod soft;
mod solid;
mod stance;
mod tone;

pub(crate) use frame::{FrameOptions, draw_frame};
pub(crate) use palette::Palette;
pub(crate) use plan::{Handle, PlanView, draw_plan};
