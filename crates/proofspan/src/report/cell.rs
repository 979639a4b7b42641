//! What stands in a cell of a table.

use crate::units::{Kind, Length, Page, Quantity, trimmed};

pub(super) const DIGITS: usize = 6;

/// What a check compares: lengths that are checked are deflections, gaps and strokes.
pub(super) fn checked(page: &Page, q: Quantity, digits: usize) -> String {
    match q.kind {
        Kind::Length => page.small_value(Length::from_si(q.si), digits),
        _ => page.value(q, digits),
    }
}

/// A share or a utilisation.
pub(super) fn share(page: &Page, number: Option<f64>) -> String {
    number.map_or_else(|| NONE.to_owned(), |n| page.number(n, 4))
}

/// What stands where there is no value.
pub(super) const NONE: &str = "–";

/// A number of things: one layer, two layers.
pub(super) fn counted(number: f64, thing: &str, page: &Page) -> String {
    let shown = page.number(number, 4);
    let shown = trimmed(&shown);
    let end = if shown == "1" { "" } else { "s" };
    format!("{shown} {thing}{end}")
}

/// Layers or depth of a carrier, where it has them.
pub(super) fn amount(layers: Option<f64>, depth: Option<Length>, page: &Page) -> Option<String> {
    let layers = layers.map(|l| counted(l, "layer", page));
    layers.or_else(|| depth.map(|d| format!("depth {}", page.place(d))))
}
