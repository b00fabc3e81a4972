//! What the page opens with: everything but the Kit screen.

fn main() {
    page::open_page();
}
