//! The worker's side of the post: messages in, answers and pixels out, and turns at drawing between them.

use std::cell::RefCell;
use std::rc::Rc;

use js_sys::{Array, ArrayBuffer, Float64Array, Uint8Array};
use requests::{DrawingAnswer, DrawingRequest, from_numbers, to_numbers};
use wasm_bindgen::prelude::*;
use web_sys::{DedicatedWorkerGlobalScope, MessageChannel, MessageEvent};

use crate::easel::{Easel, Reply, plain};

/// What a worker works with.
struct Post {
    scope: DedicatedWorkerGlobalScope,
    easel: RefCell<Easel>,
    /// A message to itself comes after those that the page has sent by then, and without the pause that timers make.
    turns: MessageChannel,
}

/// Listens to the page, and says that it does.
pub(crate) fn open() {
    let scope: DedicatedWorkerGlobalScope = js_sys::global().unchecked_into();
    let Ok(turns) = MessageChannel::new() else { return };
    let post = Rc::new(Post { scope, easel: RefCell::default(), turns });
    let reader = Rc::clone(&post);
    let read: Closure<dyn Fn(MessageEvent)> =
        Closure::new(move |event: MessageEvent| reader.read(&event.data()));
    post.scope.set_onmessage(Some(read.as_ref().unchecked_ref()));
    let drawer = Rc::clone(&post);
    let turn: Closure<dyn Fn()> = Closure::new(move || drawer.turn());
    post.turns.port1().set_onmessage(Some(turn.as_ref().unchecked_ref()));
    // For as long as the worker lives.
    read.forget();
    turn.forget();
    post.send(plain(DrawingAnswer::Ready));
}

impl Post {
    fn now_ms(&self) -> f64 {
        self.scope.performance().map_or(0.0, |clock| clock.now())
    }

    fn read(&self, message: &JsValue) {
        // The page and its workers are built together, so what cannot be read is not the page's.
        let (message, pixels) = match message.dyn_ref::<Array>() {
            Some(both) => (both.get(0), both.get(1).dyn_into::<ArrayBuffer>().ok()),
            None => (message.clone(), None),
        };
        let numbers = message.dyn_ref::<Float64Array>().map(Float64Array::to_vec).unwrap_or_default();
        let Ok(request) = from_numbers::<DrawingRequest>(&numbers) else { return };
        let pixels = pixels.map(|buffer| Uint8Array::new(&buffer).to_vec());
        let was_drawing = self.easel.borrow().is_drawing();
        let reply = self.easel.borrow_mut().take(request, pixels, self.now_ms());
        if let Some(reply) = reply {
            self.send(reply);
        }
        // While it was drawing there is a turn on its way already.
        if !was_drawing && self.easel.borrow().is_drawing() {
            self.ask_for_turn();
        }
    }

    fn turn(&self) {
        let reply = self.easel.borrow_mut().slice(&|| self.now_ms());
        if let Some(reply) = reply {
            self.send(reply);
        }
        if self.easel.borrow().is_drawing() {
            self.ask_for_turn();
        }
    }

    fn ask_for_turn(&self) {
        // A channel of the worker's own refuses nothing that can be copied.
        let asked = self.turns.port2().post_message(&JsValue::NULL);
        debug_assert!(asked.is_ok(), "a turn was refused: {asked:?}");
    }

    fn send(&self, reply: Reply) {
        let Ok(numbers) = to_numbers(&reply.answer) else { return };
        let message = Float64Array::from(numbers.as_slice());
        let sent = match reply.pixels {
            None => self.scope.post_message(&message),
            Some(pixels) => {
                let buffer = Uint8Array::from(pixels.as_slice()).buffer();
                let whole = Array::of2(&message, &buffer);
                self.scope.post_message_with_transfer(&whole, &Array::of1(&buffer))
            }
        };
        debug_assert!(sent.is_ok(), "an answer was refused: {sent:?}");
    }
}
