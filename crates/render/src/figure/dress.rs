//! What a person is made of: one clay for everybody's skin, neutral trousers, and a top in their own colour.

use staging::Colour;

use crate::picture::Surface;
use crate::workshop::matt;

/// The surfaces of one person.
#[derive(Debug)]
pub(super) struct Dress {
    pub(super) skin: Surface,
    /// The hollows of the ears.
    pub(super) hollow: Surface,
    pub(super) lips: Surface,
    /// The line between the lips.
    pub(super) mouth: Surface,
    pub(super) hair: Surface,
    pub(super) eye: Surface,
    pub(super) iris: Surface,
    /// The light that an eye mirrors.
    pub(super) glint: Surface,
    pub(super) lash: Surface,
    pub(super) top: Surface,
    /// Collar and cuffs, a little darker so that they part head and hands from the top.
    pub(super) trim: Surface,
    pub(super) trousers: Surface,
    pub(super) shoe: Surface,
    pub(super) sole: Surface,
    pub(super) wood: Surface,
}

impl Dress {
    /// Chosen because a warm clay of middle tone leaves room for light and shade on a face, and is nobody's.
    pub(super) fn of(clothes: Colour) -> Self {
        let [red, green, blue] = clothes.0;
        Self {
            skin: matt(0.50, 0.31, 0.215),
            hollow: matt(0.38, 0.225, 0.155),
            lips: matt(0.42, 0.205, 0.155),
            mouth: matt(0.20, 0.085, 0.064),
            hair: matt(0.052, 0.036, 0.028),
            eye: matt(0.66, 0.60, 0.53),
            iris: matt(0.040, 0.025, 0.018),
            glint: matt(0.85, 0.85, 0.85),
            lash: matt(0.045, 0.028, 0.022),
            top: matt(red, green, blue),
            trim: matt(red * 0.72, green * 0.72, blue * 0.72),
            trousers: matt(0.105, 0.100, 0.098),
            shoe: matt(0.055, 0.045, 0.040),
            sole: matt(0.19, 0.178, 0.162),
            wood: matt(0.34, 0.225, 0.135),
        }
    }
}
