//! A picture on its way: what is wanted, and how far each of its parts is.

use std::sync::Arc;

use requests::{DrawingRequest, PhotoNumber, STRIP_ROWS, StageRecord};

use crate::pictures::ladder::{Grain, Rank};

/// What a picture shows, and how large.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Wanted {
    pub(crate) stage: Arc<StageRecord>,
    /// Width and height of the image.
    pub(crate) size_px: (u32, u32),
}

/// A picture that is being drawn at one size.
#[derive(Debug)]
pub(super) struct Job<Pixels> {
    pub(super) number: u32,
    pub(super) wanted: Wanted,
    /// The wanted size, or a coarser one for a first image.
    pub(super) size_px: (u32, u32),
    pub(super) parts: Vec<Part<Pixels>>,
    /// Whether its first image is complete, and shown.
    pub(super) is_shown: bool,
    /// Whether something else is wanted by now: then its first image is all that is drawn of it.
    pub(super) is_stale: bool,
    /// How many workers were lost over it.
    pub(super) losses: u32,
}

/// What one worker draws of a picture.
#[derive(Debug)]
pub(super) struct Part<Pixels> {
    /// Who has begun it.
    pub(super) worker: Option<usize>,
    /// Samples of the pixels that were handed over last.
    pub(super) samples: u32,
    pub(super) pixels: Option<Pixels>,
}

impl Wanted {
    /// How many bytes its pixels take.
    pub(in crate::pictures) fn bytes(&self) -> usize {
        let (width, height) = self.size_px;
        usize::try_from(u64::from(width) * u64::from(height) * 4).unwrap_or(usize::MAX)
    }

    /// The photo that stands behind it.
    pub(in crate::pictures) fn photo(&self) -> Option<PhotoNumber> {
        self.stage.backdrop.map(|backdrop| backdrop.photo)
    }

    /// The request to begin a part of it.
    pub(super) fn request(&self, job: u32, size_px: (u32, u32), part: u32, parts: u32) -> DrawingRequest {
        DrawingRequest::Begin {
            job,
            stage: Box::new(StageRecord::clone(&self.stage)),
            width_px: size_px.0,
            height_px: size_px.1,
            part,
            parts,
        }
    }
}

impl<Pixels: Clone> Job<Pixels> {
    /// A picture that nobody has begun, in so many parts, but not in more than it has strips.
    pub(super) fn new(number: u32, wanted: Wanted, size_px: (u32, u32), parts: u32) -> Self {
        let parts = parts.min(size_px.1.div_ceil(STRIP_ROWS)).max(1);
        let part = |_| Part { worker: None, samples: 0, pixels: None };
        Self {
            number,
            wanted,
            size_px,
            parts: (0..parts).map(part).collect(),
            is_shown: false,
            is_stale: false,
            losses: 0,
        }
    }

    /// In how many parts it is drawn.
    pub(super) fn count(&self) -> u32 {
        u32::try_from(self.parts.len()).unwrap_or(u32::MAX)
    }

    /// One of its parts.
    pub(super) fn part_mut(&mut self, number: u32) -> Option<&mut Part<Pixels>> {
        self.parts.get_mut(usize::try_from(number).ok()?)
    }

    /// Whether somebody has begun it, and nobody has seen it yet.
    pub(super) fn is_under_way(&self) -> bool {
        !self.is_shown && self.parts.iter().any(|part| part.worker.is_some())
    }

    /// The next step of one of its parts: of a coarse first image, and of what is stale, only the first is taken.
    pub(super) fn next(&self, rank: Rank, grain: Grain, part: &Part<Pixels>) -> Option<(usize, u32)> {
        let is_coarse = self.size_px != self.wanted.size_px;
        if (is_coarse || self.is_stale) && part.samples > 0 { None } else { rank.next(part.samples, grain) }
    }

    /// The least samples that a pixel of it has.
    pub(super) fn samples(&self) -> u32 {
        self.parts.iter().map(|part| part.samples).min().unwrap_or(0)
    }

    /// All its pixels; none while some are missing.
    pub(super) fn pixels(&self) -> Option<Vec<Pixels>> {
        self.parts.iter().map(|part| part.pixels.clone()).collect()
    }
}
