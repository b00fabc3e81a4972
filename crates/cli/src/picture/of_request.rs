//! The frame of a setup request.

use film::{OpenFilmError, open_film};
use render::Picture;
use requests::{BadRequest, Pictured, SetupAnswer, SetupRequest};

use crate::failure::Failure;
use crate::input;
use crate::picture::{ToDraw, unframed};

/// The frame that is taken `at_s` seconds into the request's take.
pub(super) fn to_draw(file: &str, at_s: f64) -> Result<ToDraw, Failure> {
    let bytes = input::read_film(file)?;
    let request: SetupRequest = input::from_json(file, &bytes)
        .map_err(|failure| if is_film(&bytes) { shot_missing() } else { failure })?;
    let answer: SetupAnswer = requests::setup(&request)?;
    let Pictured { result, stage } = requests::picture(&request, at_s).map_err(as_option)?;
    let Some(stage) = stage else { return Err(unframed(&result)) };
    let frame = result.outcome.as_ref().map_or_else(|_| result.shot.frame(), |setup| setup.frame);
    Ok(ToDraw {
        picture: Picture::of(&stage),
        aspect: frame.aspect(),
        second: request.delivery.protect_aspect.map(|aspect| aspect.0),
        findings: answer.findings,
    })
}

/// Whether what is no request is a film: one that opens, even in part, or would in a newer program.
fn is_film(bytes: &[u8]) -> bool {
    matches!(open_film(bytes), Ok(_) | Err(OpenFilmError::Newer { .. }))
}

/// What to say with a film.
fn shot_missing() -> Failure {
    let message = "is missing: the file is a film, of which one shot is drawn, such as --shot 1.1; \
                   `tapemark shots` lists them";
    BadRequest::at("--shot", message).into()
}

/// What is wrong with the moment is told under the name that it was given here.
fn as_option(bad: BadRequest) -> BadRequest {
    let path = if bad.path == "at_s" { "--at".to_owned() } else { bad.path };
    BadRequest { path, ..bad }
}
