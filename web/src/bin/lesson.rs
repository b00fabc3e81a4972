//! A lesson in a frame of somebody's own page: a module of its own, so that such a page waits for nothing else.

fn main() {
    page::open_frame();
}
