//! Whether a picture can be a frame of a mode.

use film::RecordError;
use language::say;
use optics::Recording;

/// How far apart the shapes of a frame and of its mode may be: chosen, as clips may be cut to even pixels.
const SAME_SHAPE: f64 = 0.01;

/// Refuses a picture of another shape than the mode's: a photo has another view.
pub(super) fn check_shape(true_px: (u32, u32), mode: &Recording) -> Result<(), RecordError> {
    let shape = f64::from(true_px.0) / f64::from(true_px.1);
    if (shape / mode.aspect() - 1.0).abs() <= SAME_SHAPE {
        return Ok(());
    }
    let turned = (shape * mode.aspect() - 1.0).abs() <= SAME_SHAPE;
    let (width, height) = true_px;
    let why = if turned {
        say!("hold the phone the way the mode has it, or choose the other mode")
    } else {
        say!("take a frame of a clip in this mode, because a photo has another view")
    };
    Err(RecordError::at(
        "recording",
        say!(
            "the picture is {width} × {height} px and the mode {} × {}: {why}",
            mode.width_px(),
            mode.height_px()
        ),
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_frame_of_a_clip_fits_its_mode_and_a_photo_does_not() {
        let mode = Recording::new(3840, 2160).expect("a mode");
        assert_eq!(check_shape((1920, 1080), &mode), Ok(()));
        let told = |size| check_shape(size, &mode).expect_err("refused").message;
        assert!(told((4032, 3024)).ends_with("because a photo has another view"), "{}", told((4032, 3024)));
        assert!(told((2160, 3840)).contains("hold the phone"), "{}", told((2160, 3840)));
    }
}
