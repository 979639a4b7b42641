//! The catch in tables: dynamic factors, and what every level below does.

use super::block::Block;
use super::cell::{DIGITS, NONE};
use crate::design::TestDesign;
use crate::units::Page;

/// The dynamic factor of every catch: as computed, and its bound.
pub(super) fn dynamics(out: &mut Vec<Block>, design: &TestDesign, page: &Page) {
    let factor = |f: Option<f64>| f.map_or_else(|| NONE.to_owned(), |f| page.number(f, 3));
    let rows = design
        .shoring
        .catches
        .iter()
        .map(|c| {
            vec![
                page.place(c.at),
                page.value(c.own + c.test, DIGITS),
                factor(c.dynamic),
                page.value(c.force, DIGITS),
                factor(c.dynamic_bound),
                page.value(c.bound, DIGITS),
                c.crushed.map_or_else(|| NONE.to_owned(), |x| page.small(x)),
                page.value(c.sideways, DIGITS),
            ]
        })
        .collect();
    out.push(Block::Table(
        vec![
            "catch at",
            "static",
            "dynamic factor, with the rig as it is driven and pads",
            "force",
            "bound: all of the test load a weight, no pad",
            "force",
            "pad crushed by",
            "bracing of its posts holds sideways, both ways",
        ],
        rows,
    ));
}

/// What every level does when the catch comes.
pub(super) fn stack(out: &mut Vec<Block>, design: &TestDesign, page: &Page) {
    let force = |f| page.value(f, DIGITS);
    let rows: Vec<Vec<String>> = design
        .shoring
        .stack
        .iter()
        .map(|l| {
            vec![
                l.id.clone(),
                force(l.force),
                l.left.map_or_else(|| "strength not given".to_owned(), force),
                page.small(l.moves),
                force(l.posts),
                l.posts_carry.map_or_else(|| "not described".to_owned(), force),
                force(l.sideways),
            ]
        })
        .collect();
    if rows.is_empty() {
        return;
    }
    out.push(Block::Table(
        vec![
            "level, the top first",
            "takes",
            "strength left",
            "comes down",
            "posts below take",
            "posts below carry",
            "bracing holds sideways, both ways",
        ],
        rows,
    ));
    out.push(Block::Text("Posts stand above each other, plumb, braced both ways and held at head and foot. The member above is gone when this load comes: it carries nothing, and everything goes down.".to_owned()));
}
