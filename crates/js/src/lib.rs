//! The core as an ES module: `setup`, `compare`, `blur` and `exposure` for other people's web pages, over the contract of
//! `requests`.
//!
//! # Conventions
//! - Plain objects in and out, numbers as numbers, `null` for what cannot be told.
//! - What is wrong with a request is thrown as an `Error` whose message begins with the field's path.
//! - The types are those of `contract.d.ts`, which a test generates from the Rust structs; none of them is `any`.

use film::KitRecord;
use requests::BadRequest;
use serde::{Deserialize, Serialize};
use serde_wasm_bindgen::{Deserializer, Serializer};
use wasm_bindgen::prelude::*;

#[wasm_bindgen(typescript_custom_section)]
const CONTRACT: &str = include_str!("contract.d.ts");

#[wasm_bindgen]
extern "C" {
    /// A request of the contract, in JavaScript.
    #[derive(Debug)]
    #[wasm_bindgen(typescript_type = "SetupRequest")]
    pub type SetupRequest;

    /// An answer of the contract, in JavaScript.
    #[derive(Debug)]
    #[wasm_bindgen(typescript_type = "SetupAnswer")]
    pub type SetupAnswer;

    /// A kit of the contract, in JavaScript.
    #[derive(Debug)]
    #[wasm_bindgen(typescript_type = "KitRecord")]
    pub type Kit;

    /// What to sort by, in JavaScript, or nothing.
    #[derive(Debug)]
    #[wasm_bindgen(typescript_type = "CareRequest")]
    pub type Care;

    /// A comparison of the contract, in JavaScript.
    #[derive(Debug)]
    #[wasm_bindgen(typescript_type = "CompareAnswer")]
    pub type CompareAnswer;

    /// A blur request of the contract, in JavaScript.
    #[derive(Debug)]
    #[wasm_bindgen(typescript_type = "BlurRequest")]
    pub type BlurRequest;

    /// A blur answer of the contract, in JavaScript.
    #[derive(Debug)]
    #[wasm_bindgen(typescript_type = "BlurAnswer")]
    pub type BlurAnswer;

    /// An exposure request of the contract, in JavaScript.
    #[derive(Debug)]
    #[wasm_bindgen(typescript_type = "ExposureRequest")]
    pub type ExposureRequest;

    /// An exposure answer of the contract, in JavaScript.
    #[derive(Debug)]
    #[wasm_bindgen(typescript_type = "ExposureAnswer")]
    pub type ExposureAnswer;
}

/// Resolves one shot on one lens: where the phone stands, how it aims, what is sharp.
///
/// A framing that cannot be had is an answer with null figures and a finding.
///
/// # Errors
/// Throws an `Error` that names the field, its value, the allowed range and the unit.
#[wasm_bindgen]
pub fn setup(request: SetupRequest) -> Result<SetupAnswer, JsError> {
    let request: requests::SetupRequest = read(request.into())?;
    write(&requests::setup(&request)?).map(JsCast::unchecked_into)
}

/// Tries one shot on every lens of a kit, with and without its adapters, and sorts if told by what.
///
/// The request's own lens is not used; without a recording the kit's first is.
///
/// # Errors
/// Throws an `Error` that names the field, its value, the allowed range and the unit; the kit's fields are `kit.…`.
#[wasm_bindgen]
pub fn compare(
    kit: Kit,
    request: SetupRequest,
    #[wasm_bindgen(js_name = "sortBy")] sort_by: Option<Care>,
) -> Result<CompareAnswer, JsError> {
    let kit: KitRecord = read(kit.into()).map_err(|bad| bad.within("kit"))?;
    let request: requests::SetupRequest = read(request.into())?;
    let sort_by = sort_by.map(|care| read(care.into()).map_err(|bad| bad.within("sortBy"))).transpose()?;
    write(&requests::compare(&kit, &request, sort_by)?).map(JsCast::unchecked_into)
}

/// How large a point out of focus is drawn, and from where to where is sharp.
///
/// # Errors
/// Throws an `Error` that names the field, its value, the allowed range and the unit.
#[wasm_bindgen]
pub fn blur(request: BlurRequest) -> Result<BlurAnswer, JsError> {
    let request: requests::BlurRequest = read(request.into())?;
    write(&requests::blur(&request)?).map(JsCast::unchecked_into)
}

/// How much light is too much, and which filters take it.
///
/// Too much light is an answer with a finding.
///
/// # Errors
/// Throws an `Error` that names the field, its value, the allowed range and the unit.
#[wasm_bindgen]
pub fn exposure(request: ExposureRequest) -> Result<ExposureAnswer, JsError> {
    let request: requests::ExposureRequest = read(request.into())?;
    write(&requests::exposure(&request)?).map(JsCast::unchecked_into)
}

/// A value from JavaScript as what it should be.
fn read<Value: for<'de> Deserialize<'de>>(value: JsValue) -> Result<Value, BadRequest> {
    requests::read(Deserializer::from(value))
}

/// An answer as a plain object; absent is null, as in JSON, and not undefined.
fn write(answer: &impl Serialize) -> Result<JsValue, JsError> {
    Ok(answer.serialize(&Serializer::new().serialize_missing_as_null(true))?)
}
