//! The module as a page meets it: files from the browser in, plain objects or readable errors out.

#![cfg(target_arch = "wasm32")]
#![expect(clippy::expect_used, reason = "a check that cannot make its files has failed")]

use files_reader::{read_file, read_photo};
use film::{FileKind, PhotoFacts};
use js_sys::{Array, Uint8Array};
use wasm_bindgen::JsValue;
use wasm_bindgen_test::{wasm_bindgen_test, wasm_bindgen_test_configure};
use web_sys::Blob;

wasm_bindgen_test_configure!(run_in_browser);

/// A JPEG of 640 x 480 pixels that someone stripped of its tags.
const STRIPPED: &[u8] = b"\xff\xd8\xff\xc0\0\x0b\x08\x01\xe0\x02\x80\x01\x01\x11\0\xff\xd9";

/// The index of a clip of 3840 x 2160 pixels, held upright.
const INDEX: &[u8] = b"\0\0\0\x9cmoov\0\0\0\x94trak\0\0\0\x5ctkhd\0\0\0\x07\0\0\0\0\0\0\0\0\0\0\0\x01\0\0\0\0\
    \0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\x01\0\0\0\0\0\0\xff\xff\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\
    \x40\0\0\0\x0f\0\0\0\x08\x70\0\0\0\0\0\x30mdia\0\0\0\x28hdlr\0\0\0\0\0\0\0\0vide\0\0\0\0\0\0\0\0\0\0\0\0\
    \0\0\0\0\0\0\0\0";

fn blob(bytes: &[u8]) -> Blob {
    let parts = Array::of1(&Uint8Array::from(bytes));
    Blob::new_with_u8_array_sequence(&parts).expect("a file")
}

fn facts(object: JsValue) -> PhotoFacts {
    serde_wasm_bindgen::from_value(object).expect("the facts of a photo")
}

fn message(error: wasm_bindgen::JsError) -> String {
    js_sys::Error::from(JsValue::from(error)).message().into()
}

#[wasm_bindgen_test]
async fn a_file_and_its_bytes_say_the_same() {
    let from_file = facts(read_file(blob(STRIPPED)).await.expect("a photo"));
    assert_eq!(from_file, facts(read_photo(STRIPPED).expect("a photo")));
    let expected =
        PhotoFacts { width_px: Some(640), height_px: Some(480), ..PhotoFacts::unknown(FileKind::Jpeg) };
    assert_eq!(from_file, expected);
}

#[wasm_bindgen_test]
async fn the_index_at_the_end_of_a_clip_is_reached() {
    // Longer than one part, so that the file is read at both ends.
    let data = [b"\0\x10\0\x08mdat".as_slice(), &vec![0; 1 << 20]].concat();
    let clip = [b"\0\0\0\x14ftypqt  \0\0\0\0qt  ", data.as_slice(), INDEX].concat();
    let facts = facts(read_file(blob(&clip)).await.expect("a clip"));
    assert_eq!((facts.kind, facts.shown_size_px()), (FileKind::Mov, Some((2160, 3840))));
}

#[wasm_bindgen_test]
async fn a_screenshot_is_refused_in_words() {
    let error = read_file(blob(b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR")).await.expect_err("refused");
    let message = message(error);
    assert!(message.starts_with("the file is no JPEG, HEIC, MOV or MP4"), "{message}");
}
