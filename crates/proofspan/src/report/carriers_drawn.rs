//! What brings the load on, drawn and named by its kind: jacks, spreaders, pads, piles, water, wheels.

use super::block::Block;
use super::cell::{DIGITS, counted};
use super::rams_drawn::counted_jacks;
use super::shape::{SYMBOL, Shape, ShapeKind};
use crate::design::TestDesign;
use crate::equivalent::{Carried, Carrier, JackLine, Partly};
use crate::units::{Force, Length, Page};

/// The shapes of every carrier that is loaded, from left to right.
pub(super) fn carriers(design: &TestDesign, page: &Page) -> Vec<Shape> {
    let mut used: Vec<&Carried> =
        design.layout.carriers.iter().filter(|c| c.force.0 > Force::ZERO).collect();
    used.sort_by(|a, b| a.at.si().total_cmp(&b.at.si()));
    let mut drawn = Drawn { design, page, shapes: Vec::new(), numbers: [0; 6] };
    for carried in used {
        if let Some(carrier) = design.spec.layout.carrier.get(carried.carrier) {
            drawn.carrier(carrier, carried);
        }
    }
    drawn.shapes
}

/// The places where a mark begins anew, by letter.
#[derive(Clone, Copy)]
enum Letter {
    Jack,
    Spreader,
    Pad,
    Pile,
    Water,
    Wheel,
}

struct Drawn<'a> {
    design: &'a TestDesign,
    page: &'a Page,
    shapes: Vec<Shape>,
    numbers: [u32; 6],
}

impl Drawn<'_> {
    fn mark(&mut self, letter: Letter) -> String {
        let word = match letter {
            Letter::Jack => "J",
            Letter::Spreader => "S",
            Letter::Pad => "D",
            Letter::Pile => "K",
            Letter::Water => "H",
            Letter::Wheel => "X",
        };
        let number = self.numbers.get_mut(letter as usize).map_or(0, |n| {
            *n += 1;
            *n
        });
        format!("{word}{number}")
    }

    /// A shape between two places; heights above the top of the member.
    fn put(
        &mut self,
        kind: ShapeKind,
        (mark, says): (String, String),
        (left, right): (Length, Length),
        (top, bottom): (f64, f64),
        force: Option<Force>,
    ) {
        let (top, bottom) = (Length::from_si(-top), Length::from_si(-bottom));
        self.shapes.push(Shape { kind, mark, says, force, left, right, top, bottom });
    }

    fn force(&self, force: Force) -> String {
        self.page.value(force, DIGITS)
    }

    /// The lines of contact of one carrier.
    fn lines(&self, of: usize) -> Vec<JackLine> {
        self.design.layout.lines.iter().filter(|l| l.carrier == of).cloned().collect()
    }

    /// The jack of a carrier: a symbol at its place, on what it presses.
    fn jack(&mut self, carried: &Carried, on: f64, loads: bool) {
        let (at, force) = (carried.at, carried.force.0);
        let mark = self.mark(Letter::Jack);
        let half = Length::from_si(SYMBOL / 2.0);
        let says = match counted_jacks(self.design, carried, self.page) {
            Some(jacks) => format!("{} {jacks}", self.force(force)),
            None => self.force(force),
        };
        let rows = (SYMBOL, on);
        let arrow = loads.then_some(force);
        self.put(ShapeKind::Jack, (mark, says), (at - half, at + half), rows, arrow);
    }

    /// The parts of a carrier that stand apart, each with its part of the force: the mark of the carrier
    /// with a number behind, where they are several.
    fn parts(&self, mark: &str, of: usize) -> Vec<(String, JackLine)> {
        let lines = self.lines(of);
        let several = lines.len() > 1;
        let named = |(i, line): (usize, JackLine)| {
            (if several { format!("{mark}.{}", i + 1) } else { mark.to_owned() }, line)
        };
        lines.into_iter().enumerate().map(named).collect()
    }

    fn carrier(&mut self, carrier: &Carrier, carried: &Carried) {
        let force = carried.force.0;
        let covers = (carried.from, carried.to);
        match carrier {
            Carrier::JackLine(_) => self.jack(carried, 0.0, true),
            Carrier::Spreader(_) => {
                self.jack(carried, SYMBOL / 2.0, false);
                let mark = self.mark(Letter::Spreader);
                let says = format!("{} from its jack", self.force(force));
                let rows = (SYMBOL / 2.0, SYMBOL / 4.0);
                let plate = self.design.spec.layout.plate_length.value.si();
                let half = Length::from_si(if plate > 0.0 { plate } else { SYMBOL / 2.0 } / 2.0);
                let parts = self.parts(&mark, carried.carrier);
                self.put(ShapeKind::Spreader, (mark, says), covers, rows, None);
                for (mark, line) in parts {
                    let (x, rows) = ((line.at - half, line.at + half), (SYMBOL / 4.0, 0.0));
                    let says = self.force(line.force.0);
                    self.put(ShapeKind::Contact, (mark, says), x, rows, Some(line.force.0));
                }
            }
            Carrier::Pad(_) => {
                self.jack(carried, SYMBOL / 3.0, false);
                let (mark, says) = (self.mark(Letter::Pad), self.force(force));
                self.put(ShapeKind::Pad, (mark, says), covers, (SYMBOL / 3.0, 0.0), Some(force));
            }
            Carrier::Bags(bags) => {
                let mark = self.mark(Letter::Pile);
                let layers = carried.layers.unwrap_or_default();
                let (half, layer) = (bags.pile.value / 2.0, bags.layer.value.si());
                for (mark, line) in self.parts(&mark, carried.carrier) {
                    let x = (line.at - half, line.at + half);
                    let says = format!(
                        "{}, {} of {}",
                        self.force(line.force.0),
                        counted(layers, "layer", self.page),
                        self.page.small(bags.layer.value)
                    );
                    let rows = (layers * layer, 0.0);
                    self.put(ShapeKind::Pile, (mark, says), x, rows, Some(line.force.0));
                    let mut height = layer;
                    while height < (layers - 1e-6) * layer {
                        let none = (String::new(), String::new());
                        self.put(ShapeKind::Layer, none, x, (height, height), None);
                        height += layer;
                    }
                }
            }
            Carrier::Water(water) => {
                let mark = self.mark(Letter::Water);
                let depth = carried.depth.unwrap_or(Length::ZERO);
                let rim = water.rim.value;
                let none = (String::new(), String::new());
                self.put(ShapeKind::Basin, none, covers, (rim.si(), 0.0), None);
                let says = format!(
                    "{}, depth {} on the level member, rim {}",
                    self.force(force),
                    self.page.place(depth),
                    self.page.place(rim)
                );
                self.put(ShapeKind::Water, (mark, says), covers, (depth.si(), 0.0), Some(force));
            }
            Carrier::Wheels(_) => {
                let mark = self.mark(Letter::Wheel);
                let half = Length::from_si(SYMBOL / 2.0);
                for (mark, line) in self.parts(&mark, carried.carrier) {
                    let x = (line.at - half, line.at + half);
                    let says = self.force(line.force.0);
                    self.put(ShapeKind::Wheel, (mark, says), x, (SYMBOL, 0.0), Some(line.force.0));
                }
            }
        }
    }
}

/// What brings the load on, in one word of the site.
pub(super) fn all_of(design: &TestDesign) -> &'static str {
    let word = |carrier: &Carrier| match carrier {
        Carrier::JackLine(_) | Carrier::Spreader(_) | Carrier::Pad(_) => "all jacks",
        Carrier::Bags(_) => "all piles",
        Carrier::Water(_) => "all water",
        Carrier::Wheels(_) => "all axles",
    };
    let mut words = design.spec.layout.carrier.iter().map(word);
    let first = words.next().unwrap_or("all carriers");
    if words.all(|w| w == first) { first } else { "all carriers" }
}

/// Whether anything is brought on by jacks.
pub(super) fn jacked(design: &TestDesign) -> bool {
    let jack =
        |c: &Carrier| matches!(c, Carrier::JackLine(_) | Carrier::Spreader(_) | Carrier::Pad(_));
    design.spec.layout.carrier.iter().any(jack)
}

/// The order in which weights are brought on and bays are filled, by their marks and names.
pub(super) fn order(design: &TestDesign) -> Option<String> {
    let filling = design.layout.filling.as_ref()?;
    let name = |i: &usize| design.layout.carriers.get(*i).map(|c| c.name.to_string());
    Some(filling.order.iter().filter_map(name).collect::<Vec<_>>().join(", then "))
}

/// What stands after each of that order, and what it asks.
pub(super) fn filled(out: &mut Vec<Block>, design: &TestDesign, page: &Page) {
    let Some(filling) = &design.layout.filling else { return };
    let name = |i: &usize| design.layout.carriers.get(*i).map(|c| c.name.to_string());
    let row = |(what, s): (&str, &Partly)| {
        vec![
            what.to_owned(),
            s.on.iter().filter_map(name).collect::<Vec<_>>().join(" and "),
            format!("{} at {}", s.what, page.place(s.at)),
            page.number(s.ratio, 4),
            page.number(s.part, 4),
        ]
    };
    let states = filling.states.iter().map(|s| ("in the order given", s));
    let rows = states.chain([("the worst of any order", &filling.worst)]).map(row).collect();
    let head = vec![
        "on the way",
        "what stands alone",
        "most is asked of",
        "with what is in place, over the largest that the terms ask",
        "over the larger of that and of the full test",
    ];
    out.push(Block::Table(head, rows));
}
