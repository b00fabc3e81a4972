//! web.
fn main() {}
