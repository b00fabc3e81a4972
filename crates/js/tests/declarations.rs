//! The types that other people's programs compile against are those of the Rust structs.
#![cfg(not(target_arch = "wasm32"))]

use std::path::Path;
use std::{env, fs};

use film::{
    AdapterRecord, AxisRecord, CameraAppRecord, ClearViewRecord, DesqueezeRecord, FilterRecord, KitRecord,
    LensRecord, OriginRecord, RecordingRecord, ViewRecord,
};
use requests::{
    AgeRequest, ArrangementRequest, BlockingRequest, BlurAnswer, BlurRequest, CareRequest, CompareAnswer,
    ComparedLens, DeliveryRequest, ExposureAnswer, ExposureRequest, FindingAnswer, ForegroundRequest,
    LightRequest, PersonRequest, PhoneHeightRequest, PieceRequest, PieceWord, PixelsAnswer, PostureRequest,
    PullRequest, SecondMarkRequest, SecondPersonRequest, SetupAnswer, SetupRequest, SeverityAnswer,
    ShotSizeRequest, ShutterRequest, SubjectRequest, SunRequest, TakeRequest,
};
use ts_rs::{Config, TS};

const HEADING: &str = "\
// The contract of the module, made from the Rust structs by `cargo xtask bless`: read it, do not edit it.
";

/// The declaration of one type, exported, under its own comment.
fn declaration<Type: TS>(config: &Config) -> String {
    let docs = Type::docs().unwrap_or_default();
    format!("\n{docs}export {}\n", Type::decl(config))
}

/// All of the contract's types.
fn contract() -> String {
    let config = Config::default();
    macro_rules! declarations {
        ($($name:ty),+ $(,)?) => { [$(declaration::<$name>(&config)),+].concat() };
    }
    let types = declarations![
        SetupRequest,
        DeliveryRequest,
        SubjectRequest,
        SecondPersonRequest,
        ArrangementRequest,
        PostureRequest,
        AgeRequest,
        ShotSizeRequest,
        PhoneHeightRequest,
        ShutterRequest,
        TakeRequest,
        PullRequest,
        BlockingRequest,
        SecondMarkRequest,
        PersonRequest,
        PieceRequest,
        ForegroundRequest,
        PieceWord,
        LightRequest,
        SunRequest,
        SetupAnswer,
        PixelsAnswer,
        FindingAnswer,
        SeverityAnswer,
        CareRequest,
        CompareAnswer,
        ComparedLens,
        BlurRequest,
        BlurAnswer,
        ExposureRequest,
        ExposureAnswer,
        KitRecord,
        CameraAppRecord,
        LensRecord,
        OriginRecord,
        RecordingRecord,
        AdapterRecord,
        AxisRecord,
        ClearViewRecord,
        DesqueezeRecord,
        FilterRecord,
        ViewRecord,
    ];
    format!("{HEADING}{types}")
}

#[test]
fn the_declarations_are_those_of_the_rust_structs() {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/contract.d.ts");
    let contract = contract();
    if env::var_os("BLESS").is_some() {
        fs::write(&file, &contract).expect("the declarations can be written");
    }
    let checked_in = fs::read_to_string(&file).expect("the declarations");
    assert!(checked_in == contract, "{} is stale: run cargo xtask bless", file.display());
}

#[test]
fn every_type_that_is_named_is_declared_and_none_is_untyped() {
    let contract = contract();
    let code: String = contract.lines().filter(|line| !line.trim_start().starts_with(['/', '*'])).collect();
    for word in code.split(|letter: char| !letter.is_alphanumeric() && letter != '_') {
        assert!(!["any", "unknown", "bigint", "never"].contains(&word), "{word}");
        let is_own = ["Record", "Request", "Answer", "Lens"].iter().any(|end| word.ends_with(end));
        assert!(!is_own || code.contains(&format!("export type {word} =")), "{word} is not declared");
    }
}
