//! The rig as a crew builds it: elevation and section, one scale for both directions.
//!
//! The shapes are those that are computed, in places from the left end of the member under test and
//! down from its top; the picture of the report and that of Python are drawn from them. A mark on a
//! shape is a row of the table beside the picture.

use core::fmt::Write as _;

use super::carriers_drawn::carriers;
use super::cell::{DIGITS, counted};
use super::diagram::{LEFT, RIGHT, WIDTH, open};
use super::rams_drawn::{held_down, rams};
use super::shape::{SYMBOL, Shape, ShapeKind};
use crate::design::TestDesign;
use crate::equivalent::Carrier;
use crate::rig::ReactionKind;
use crate::units::{Force, Length, Page};
use crate::verdict::MemberUnit;

/// A storey where neither bars nor posts say how high it is.
const STOREY: f64 = 3.0;
/// What is drawn of a column that goes on below.
const COLUMN: f64 = 1.0;
/// The mark of the ground.
const GROUND: &str = "G";

struct Drawing<'a> {
    design: &'a TestDesign,
    page: &'a Page,
    shapes: Vec<Shape>,
    depth: f64,
    /// Top of the reaction members, and of the first level.
    below: f64,
    /// How many beams and columns that hold bearings down are drawn.
    holding: (u32, u32),
}

/// The elevation of a design as shapes.
#[must_use]
pub fn shapes(design: &TestDesign, page: &Page) -> Vec<Shape> {
    let depth = design.spec.beam.depth.value.si();
    let bars = design.spec.rig.bars.iter().map(|b| b.length.value.si()).reduce(f64::max);
    let heights = design.spec.shoring.catch.iter().filter_map(|c| c.resistance.height.as_ref());
    let posts = heights.map(|h| h.value.si()).reduce(f64::max);
    // bars run from the crosshead above to the underside of the reaction
    let clear = bars.map(|l| l - 2.0 * depth - SYMBOL * 2.0).or(posts).filter(|c| *c > depth);
    let below = depth + clear.unwrap_or(STOREY);
    let mut drawing = Drawing { design, page, shapes: Vec::new(), depth, below, holding: (0, 0) };
    drawing.members();
    drawing.path();
    drawing.weights();
    drawing.catches();
    drawing.shapes
}

impl Drawing<'_> {
    fn put(&mut self, kind: ShapeKind, mark: String, says: String, x: (f64, f64), y: (f64, f64)) {
        let si = Length::from_si;
        let (left, right, top, bottom) = (si(x.0), si(x.1), si(y.0), si(y.1));
        self.shapes.push(Shape { kind, mark, says, force: None, left, right, top, bottom });
    }

    /// The force of the shape drawn last.
    fn arrow(&mut self, force: Force) {
        if let Some(shape) = self.shapes.last_mut() {
            shape.force = Some(force);
        }
    }

    fn force(&self, force: Force) -> String {
        self.page.value(force, DIGITS)
    }

    fn members(&mut self) {
        let design = self.design;
        let (d, y) = (self.depth, self.below);
        let length = design.target.beam.length().si();
        let id = design.spec.scope.member.id.clone();
        self.put(ShapeKind::Test, "T".to_owned(), id, (0.0, length), (0.0, d));
        for support in design.target.beam.supports() {
            let x = support.at.si();
            self.put(ShapeKind::Support, String::new(), String::new(), (x, x), (d, d + SYMBOL));
        }
        for (i, reaction) in design.rig.reactions.iter().enumerate() {
            if let Some((a, b)) = reaction.reach.filter(|_| reaction.kind.beam()) {
                let mark = format!("R{}", i + 1);
                let id = reaction.id.clone();
                self.put(ShapeKind::Reaction, mark, id, (a.si(), b.si()), (y, y + d));
            }
            // a vehicle stands on its wheels on the floor below
            if let Some((a, b)) = reaction.reach.filter(|_| reaction.kind == ReactionKind::Vehicle)
            {
                let mark = format!("R{}", i + 1);
                let rows = (y - 3.0 * SYMBOL, y - SYMBOL);
                self.put(ShapeKind::Reaction, mark, reaction.id.clone(), (a.si(), b.si()), rows);
            }
            for at in &reaction.supports {
                let x = at.si();
                let foot = if reaction.kind == ReactionKind::Vehicle { y - SYMBOL } else { y + d };
                let rows = (foot, foot + SYMBOL);
                self.put(ShapeKind::Support, String::new(), String::new(), (x, x), rows);
            }
            self.held_down(i);
            for (j, anchor) in reaction.anchors.iter().enumerate() {
                let says = self.force(anchor.force);
                let x = anchor.at.si();
                let mark = format!("A{}", j + 1);
                self.put(ShapeKind::Anchor, mark, says, (x, x), (y, y + 2.0 * SYMBOL));
                self.arrow(-anchor.force);
            }
        }
    }

    /// Columns and beams that hold the bearings of a reaction member down.
    fn held_down(&mut self, reaction: usize) {
        let (y, d) = (self.below, self.depth);
        for held in held_down(self.design, reaction, self.page) {
            let x = held.at.si();
            if let Some(beam) = held.beam {
                self.holding.0 += 1;
                let (mark, sides) = (format!("V{}", self.holding.0), (x - SYMBOL, x + SYMBOL));
                self.put(ShapeKind::Holding, mark, beam, sides, (y, y + d));
            }
            self.holding.1 += 1;
            let (mark, says) = (format!("U{}", self.holding.1), self.force(held.tension));
            let sides = (x - SYMBOL / 2.0, x + SYMBOL / 2.0);
            self.put(ShapeKind::Column, mark, says, sides, (y + d, y + d + COLUMN));
            self.arrow(-held.tension);
        }
    }

    /// Carriers, crossheads and bars.
    fn path(&mut self) {
        let design = self.design;
        self.shapes.extend(carriers(design, self.page));
        for (i, pull) in design.rig.pulls.iter().enumerate() {
            let x = pull.at.si();
            let press = design.rig.presses.get(pull.press).map_or(x, |p| p.at.si());
            let head = (x.min(press), x.max(press));
            let y = (-2.0 * SYMBOL, -SYMBOL);
            self.put(ShapeKind::Crosshead, String::new(), String::new(), head, y);
            let says = self.force(pull.force);
            let kind = design.rig.reactions.get(pull.reaction).map(|r| r.kind);
            let foot = match kind {
                Some(ReactionKind::Anchors) => self.below,
                Some(ReactionKind::Vehicle) => self.below - SYMBOL,
                Some(ReactionKind::Frame) => self.depth,
                _ => self.below + self.depth,
            };
            self.put(ShapeKind::Bar, format!("B{}", i + 1), says, (x, x), (-2.0 * SYMBOL, foot));
            self.arrow(-pull.force);
        }
    }

    fn weights(&mut self) {
        let design = self.design;
        let y = self.below;
        let mut n = 0;
        if design.rig.reactions.iter().any(|r| r.response.is_some()) {
            for weight in &design.spec.rig.counterweights {
                n += 1;
                let (x, says) = (weight.at.value.si(), self.force(weight.weight()));
                let sides = (x - SYMBOL, x + SYMBOL);
                let mark = format!("W{n}");
                self.put(ShapeKind::Weight, mark, says, sides, (y - 2.0 * SYMBOL, y));
                self.arrow(weight.weight());
            }
        }
        let layout = design.rig.placement.as_ref().and_then(|p| p.layouts.first());
        for group in layout.iter().flat_map(|l| &l.groups) {
            n += 1;
            let force = self.force(group.force);
            let says = format!("{} x {}, {force}", group.number, group.kind);
            let high = f64::from(group.layers) * SYMBOL * 2.0;
            let sides = (group.from.si(), group.to.si());
            self.put(ShapeKind::Weight, format!("W{n}"), says, sides, (y - high, y));
            self.arrow(group.force);
        }
    }

    fn catches(&mut self) {
        let design = self.design;
        let (d, y) = (self.depth, self.below);
        let spec = &design.spec.shoring;
        let found = &design.shoring.catches;
        let places: Vec<f64> = spec.catch.iter().map(|c| c.at.value.si()).collect();
        for (i, (catch, found)) in spec.catch.iter().zip(found).enumerate() {
            let says = format!(
                "{}, {}, gap {}",
                counted(f64::from(catch.resistance.posts), "post", self.page),
                self.force(found.force),
                self.page.small(catch.gap.value)
            );
            let x = catch.at.value.si();
            let top = d + catch.gap.value.si();
            self.put(ShapeKind::Catch, format!("C{}", i + 1), says, (x, x), (top, y));
            self.arrow(found.force);
        }
        let length = design.target.beam.length().si();
        let mut top = y;
        for (i, load) in design.shoring.stack.iter().enumerate() {
            let level = spec.levels.get(i);
            let ground = level.is_none();
            let high = if ground { SYMBOL } else { d };
            let covered = i == 0 && design.rig.reactions.iter().any(|r| r.kind.beam());
            let says = format!("{}: takes {}", load.id, self.force(load.force));
            // the first level is the floor that is drawn as the reaction already
            let rows = if covered { (top, top) } else { (top, top + high) };
            let mark = if ground { GROUND.to_owned() } else { format!("L{}", i + 1) };
            self.put(ShapeKind::Level, mark, says, (0.0, length), rows);
            if design.shoring.stack.len() > i + 1 {
                let posts = level.and_then(|l| l.posts.as_ref());
                let own = posts.and_then(|p| p.resistance.height.as_ref()).map(|h| h.value.si());
                let next = top + d + own.unwrap_or(y - d);
                let gap = posts.map_or(Length::ZERO, |p| p.gap.value);
                let number = posts.map_or_else(String::new, |p| {
                    let posts = counted(f64::from(p.resistance.posts), "post", self.page);
                    format!("{posts}, gap {}, ", self.page.small(gap))
                });
                for (j, x) in places.iter().enumerate() {
                    // what all of them take: how it parts among the catches is not computed
                    let all = self.force(load.posts);
                    let says = format!("{number}{all} in all, below {}", load.id);
                    let mark = format!("P{}.{}", i + 1, j + 1);
                    let rows = (top + d + gap.si(), next);
                    self.put(ShapeKind::Post, mark, says, (*x, *x), rows);
                }
                top = next;
            }
        }
    }
}

/// The rows of the table of marks: mark, what, place, numbers.
pub(super) fn marks(design: &TestDesign, page: &Page) -> Vec<Vec<String>> {
    let all = shapes(design, page);
    let marked = all.iter().filter(|s| !s.mark.is_empty());
    let mut rows: Vec<Vec<String>> = marked
        .map(|s| {
            let place = if s.kind.spread() {
                format!("{} to {}", page.place(s.left), page.place(s.right))
            } else {
                page.place(s.middle())
            };
            vec![s.mark.clone(), s.kind.words().to_owned(), place, s.says.clone()]
        })
        .collect();
    let each = rams(design, unit_width(design), page).into_iter();
    rows.extend(each.map(|r| {
        let place = r.place(page);
        vec![r.mark, "one of the jacks of a press".to_owned(), place, r.says]
    }));
    rows
}

/// The width of one member unit, as far as it is told: its joists, else its depth.
fn unit_width(design: &TestDesign) -> Length {
    let member = &design.spec.scope.member;
    let joists = member.joists.zip(member.joist_spacing.as_ref());
    joists.map_or(design.spec.beam.depth.value, |(n, s)| s.value * f64::from(n))
}

/// The elevation as a picture.
pub(super) fn elevation(design: &TestDesign, page: &Page) -> String {
    let all = shapes(design, page);
    let least =
        |f: &dyn Fn(&Shape) -> Length| all.iter().map(|s| f(s).si()).fold(f64::MAX, f64::min);
    let most =
        |f: &dyn Fn(&Shape) -> Length| all.iter().map(|s| f(s).si()).fold(f64::MIN, f64::max);
    let (from, to) = (least(&|s| s.left), most(&|s| s.right));
    let (top, bottom) = (least(&|s| s.top), most(&|s| s.bottom));
    let scale = (WIDTH - LEFT - RIGHT) / (to - from);
    let px = |x: Length| LEFT + (x.si() - from) * scale;
    let py = |y: Length| 44.0 + (y.si() - top) * scale;
    let height = 44.0 + (bottom - top) * scale + 70.0;
    let mut svg = open(height);
    for shape in &all {
        drawn(
            &mut svg,
            shape,
            (px(shape.left), px(shape.right)),
            (py(shape.top), py(shape.bottom)),
        );
    }
    let mut taken = arrows(&mut svg, &all, page, (&px, &py));
    // lines that a mark may not stand on
    let thin = |s: &&Shape| (s.right - s.left).si() * scale < 0.5 && s.kind != ShapeKind::Support;
    taken.extend(all.iter().filter(thin).map(|s| {
        let x = px(s.left);
        Area { left: x - 3.0, right: x + 3.0, top: py(s.top), bottom: py(s.bottom) }
    }));
    for shape in all.iter().filter(|s| !s.mark.is_empty()) {
        let middle = px(shape.middle());
        let half = f64::midpoint(py(shape.top), py(shape.bottom));
        let wished = match shape.kind {
            ShapeKind::Bar | ShapeKind::Catch | ShapeKind::Post => (middle + 16.0, half),
            ShapeKind::Anchor => (middle + 14.0, py(shape.bottom)),
            ShapeKind::Weight | ShapeKind::Pile | ShapeKind::Water => (middle, half + 4.0),
            kind if kind.brings() => (middle - 14.0, py(shape.top) - 3.0),
            _ => (px(shape.left) - 14.0, py(shape.top) + 11.0),
        };
        let (x, y) = free(wished, &shape.mark, &mut taken);
        let bold = format!(
            "<text class=\"mark\" x=\"{x:.1}\" y=\"{y:.1}\" text-anchor=\"middle\" font-weight=\"bold\">{}</text>",
            shape.mark
        );
        svg.push_str(&bold);
    }
    // places along the foot
    let told = |s: &&Shape| {
        s.kind.brings()
            || matches!(
                s.kind,
                ShapeKind::Bar | ShapeKind::Weight | ShapeKind::Catch | ShapeKind::Support
            )
    };
    let edges = |s: &Shape| if s.kind.spread() { vec![s.left, s.right] } else { vec![s.middle()] };
    let mut places: Vec<Length> = all.iter().filter(told).flat_map(edges).collect();
    places.sort_by(|a, b| a.si().total_cmp(&b.si()));
    places.dedup_by(|b, a| (*b - *a).si().abs() * scale < 11.0);
    let foot = height - 58.0;
    for at in places {
        let x = px(at);
        let _ = write!(
            svg,
            "<line x1=\"{x:.1}\" y1=\"{foot:.1}\" x2=\"{x:.1}\" y2=\"{:.1}\" stroke=\"#333\"/><text x=\"{x:.1}\" y=\"{:.1}\" text-anchor=\"end\" transform=\"rotate(-60 {x:.1} {:.1})\" font-size=\"9\">{}</text>",
            foot + 5.0,
            foot + 12.0,
            foot + 12.0,
            page.place(at)
        );
    }
    let _ = write!(
        svg,
        "<line x1=\"{:.1}\" y1=\"{foot:.1}\" x2=\"{:.1}\" y2=\"{foot:.1}\" stroke=\"#333\"/></svg>",
        px(Length::from_si(from)),
        px(Length::from_si(to))
    );
    svg
}

/// The longest arrow, in the units of the picture.
const ARROW: f64 = 46.0;

/// Where something stands in the picture.
struct Area {
    left: f64,
    right: f64,
    top: f64,
    bottom: f64,
}

impl Area {
    /// What the text of a mark covers, its middle and its foot there.
    fn of_mark((x, y): (f64, f64), mark: &str) -> Self {
        let half = 3.4 * mark.chars().count() as f64 + 1.0;
        Self { left: x - half, right: x + half, top: y - 9.0, bottom: y + 2.0 }
    }

    fn meets(&self, other: &Self) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }
}

/// The place of a mark: the one wished for, else the nearest around it where nothing stands. It is taken
/// from then on.
fn free((x, y): (f64, f64), mark: &str, taken: &mut Vec<Area>) -> (f64, f64) {
    let sides = [
        (0.0, 0.0),
        (0.0, -1.0),
        (0.0, 1.0),
        (1.0, 0.0),
        (-1.0, 0.0),
        (1.0, -1.0),
        (-1.0, -1.0),
        (1.0, 1.0),
        (-1.0, 1.0),
    ];
    let around = (0..24).flat_map(|ring| {
        let far = f64::from(ring) * 6.0;
        sides.iter().map(move |(a, b)| (x + a * far, y + b * far))
    });
    let open = |at: &(f64, f64)| {
        let area = Area::of_mark(*at, mark);
        let inside = area.left >= 0.0 && area.right <= WIDTH && area.top >= 0.0;
        inside && !taken.iter().any(|other| area.meets(other))
    };
    let found = around.clone().find(open).unwrap_or((x, y));
    taken.push(Area::of_mark(found, mark));
    found
}

/// One shape of the elevation.
fn drawn(svg: &mut String, shape: &Shape, (a, b): (f64, f64), (c, d): (f64, f64)) {
    let (word, colour, mark) = (shape.kind.word(), shape.kind.fill(), &shape.mark);
    let _ = match shape.kind {
        ShapeKind::Support => write!(
            svg,
            "<path class=\"{word}\" d=\"M{a:.2} {c:.2} l-7 12 l14 0 z\" fill=\"{colour}\"/>"
        ),
        ShapeKind::Jack => write!(
            svg,
            "<path class=\"{word}\" d=\"M{:.2} {d:.2} l-6 -12 l12 0 z\" fill=\"{colour}\" data-mark=\"{mark}\"/>",
            f64::midpoint(a, b)
        ),
        ShapeKind::Wheel => write!(
            svg,
            "<ellipse class=\"{word}\" cx=\"{:.2}\" cy=\"{:.2}\" rx=\"{:.2}\" ry=\"{:.2}\" fill=\"{colour}\" data-mark=\"{mark}\"/>",
            f64::midpoint(a, b),
            f64::midpoint(c, d),
            (b - a) / 2.0,
            (d - c) / 2.0
        ),
        _ if (b - a).abs() < 0.5 => write!(
            svg,
            "<line class=\"{word}\" x1=\"{a:.2}\" y1=\"{c:.2}\" x2=\"{b:.2}\" y2=\"{d:.2}\" stroke=\"{colour}\" stroke-width=\"{}\" data-mark=\"{mark}\"/>",
            if matches!(shape.kind, ShapeKind::Catch | ShapeKind::Post) { 5 } else { 3 }
        ),
        _ => write!(
            svg,
            "<rect class=\"{word}\" x=\"{a:.2}\" y=\"{c:.2}\" width=\"{:.2}\" height=\"{:.2}\" fill=\"{colour}\" stroke=\"#333\" data-mark=\"{mark}\"/>",
            b - a,
            d - c
        ),
    };
}

/// Forces as arrows to one scale: down on what they load, up where bars and anchors pull. Says where
/// they stand in the picture.
fn arrows(
    svg: &mut String,
    all: &[Shape],
    page: &Page,
    (px, py): (&dyn Fn(Length) -> f64, &dyn Fn(Length) -> f64),
) -> Vec<Area> {
    let mut taken = Vec::new();
    let most = all.iter().filter_map(|s| s.force).map(Force::abs).fold(Force::ZERO, Force::max);
    if most <= Force::ZERO {
        return taken;
    }
    let arrow = |svg: &mut String, mark: &str, x: f64, (from, to): (f64, f64)| {
        let tip = if to > from { -5.0 } else { 5.0 };
        let _ = write!(
            svg,
            "<line class=\"force\" data-mark=\"{mark}\" x1=\"{x:.2}\" y1=\"{from:.2}\" x2=\"{x:.2}\" y2=\"{to:.2}\" stroke=\"#1a5276\" stroke-width=\"1.5\"/><path d=\"M{x:.2} {to:.2} l-3 {tip} l6 0 z\" fill=\"#1a5276\"/>"
        );
    };
    for shape in all {
        let Some(force) = shape.force else { continue };
        let long = ARROW * (force / most);
        let x = px(shape.middle()) + 5.0;
        let ends = if force < Force::ZERO {
            let foot = py(shape.bottom);
            (foot, foot + long)
        } else {
            (py(shape.top) - long, py(shape.top))
        };
        arrow(svg, &shape.mark, x, ends);
        let (top, bottom) = (ends.0.min(ends.1), ends.0.max(ends.1));
        taken.push(Area { left: x - 3.0, right: x + 3.0, top, bottom });
    }
    arrow(svg, "scale", WIDTH - RIGHT - 4.0, (6.0, 6.0 + ARROW));
    let _ = write!(
        svg,
        "<text x=\"{:.1}\" y=\"18\" text-anchor=\"end\">this arrow: {}</text>",
        WIDTH - RIGHT - 12.0,
        page.value(most, DIGITS)
    );
    taken.push(Area { left: WIDTH - RIGHT - 170.0, right: WIDTH, top: 0.0, bottom: 54.0 });
    taken
}

/// The first stack and the first basin, each with its width on one member unit.
fn carriers_across(design: &TestDesign) -> impl Iterator<Item = (ShapeKind, f64)> {
    let wide = |c: &Carrier| match c {
        Carrier::Bags(bags) => Some((ShapeKind::Pile, bags.width.value.si())),
        Carrier::Water(water) => Some((ShapeKind::Water, water.width.value.si())),
        _ => None,
    };
    design.spec.layout.carrier.iter().filter_map(wide)
}

/// The section across the joists, where their number and spacing are given; of another member where its
/// jacks differ.
pub(super) fn section(design: &TestDesign, page: &Page) -> Option<String> {
    let member = &design.spec.scope.member;
    let known = member.joists.zip(member.joist_spacing.as_ref().map(|s| s.value.si()));
    let each = rams(design, unit_width(design), page);
    let (joists, spacing) = match known {
        Some(known) => known,
        None if !each.is_empty() => (1, unit_width(design).si()),
        None => return None,
    };
    let (depth, n) = (design.spec.beam.depth.value.si(), f64::from(joists));
    let all = shapes(design, page);
    let reaction = all.iter().find(|s| s.kind == ShapeKind::Reaction);
    let below = reaction.map_or(depth + STOREY, |s| s.top.si());
    // jacks may stand beyond the member
    let farthest = each.iter().map(|r| r.across.si().abs()).fold(0.0, f64::max);
    let beyond = (farthest + SYMBOL - n * spacing / 2.0).max(0.0);
    let scale = ((WIDTH - LEFT - RIGHT) / (n * spacing + 2.0 * beyond)).min(90.0);
    let px = |x: f64| LEFT + (x + beyond) * scale;
    let highest = all.iter().map(|s| s.top.si()).fold(-2.0 * SYMBOL, f64::min);
    let room = if each.is_empty() { 46.0 } else { 46.0 + ARROW };
    let py = |y: f64| room + (y - highest) * scale;
    let lowest = all.iter().map(|s| s.bottom.si()).fold(below + depth, f64::max);
    let height = py(lowest) + 40.0;
    let mut svg = open(height);
    let slab = depth / 5.0;
    let rect = |svg: &mut String, class: &str, x: (f64, f64), y: (f64, f64), colour: &str| {
        let _ = write!(
            svg,
            "<rect class=\"{class}\" x=\"{:.2}\" y=\"{:.2}\" width=\"{:.2}\" height=\"{:.2}\" fill=\"{colour}\"/>",
            px(x.0),
            py(y.0),
            (x.1 - x.0) * scale,
            (y.1 - y.0) * scale
        );
    };
    let rib = |i: u32| spacing * (f64::from(i) + 0.5);
    let mut tops = if reaction.is_some() { vec![0.0, below] } else { vec![0.0] };
    // the first level is drawn as the reaction where it is that
    let levels = all.iter().filter(|s| s.kind == ShapeKind::Level && s.bottom > s.top);
    for level in levels {
        if level.mark == GROUND {
            let rows = (level.top.si(), level.bottom.si());
            rect(&mut svg, "ground", (0.0, n * spacing), rows, "#b7950b");
        } else {
            tops.push(level.top.si());
        }
    }
    for top in tops {
        if known.is_none() {
            // how wide it is is not told
            let w = spacing / 4.0;
            let sides = (spacing / 2.0 - w, spacing / 2.0 + w);
            rect(&mut svg, "rib", sides, (top, top + depth), "#d5d8dc");
            continue;
        }
        rect(&mut svg, "slab", (0.0, n * spacing), (top, top + slab), "#d5d8dc");
        for i in 0..joists {
            let w = spacing / 8.0;
            rect(&mut svg, "rib", (rib(i) - w, rib(i) + w), (top, top + depth), "#d5d8dc");
        }
    }
    let jacks = design.spec.rig.jacks.first().map_or(0, |j| j.number);
    let spread =
        |number: u32, i: u32| n * spacing * (f64::from(i) + 0.5) / f64::from(number.max(1));
    let middle = n * spacing / 2.0;
    let most = each.iter().map(|r| r.force).fold(Force::ZERO, Force::max);
    for ram in each.iter().filter(|r| r.press == 0) {
        let x = middle + ram.across.si();
        let rows = (py(-SYMBOL), SYMBOL * scale);
        let long = ARROW * (ram.force / most);
        let (mark, at) = (&ram.mark, px(x));
        let _ = write!(
            svg,
            "<rect class=\"jack\" data-mark=\"{mark}\" x=\"{:.2}\" y=\"{:.2}\" width=\"{:.2}\" height=\"{:.2}\" fill=\"#b03a2e\"/><line class=\"force\" data-mark=\"{mark}\" x1=\"{at:.2}\" y1=\"{:.2}\" x2=\"{at:.2}\" y2=\"{:.2}\" stroke=\"#1a5276\" stroke-width=\"1.5\"/><path d=\"M{at:.2} {:.2} l-3 -5 l6 0 z\" fill=\"#1a5276\"/><text class=\"mark\" x=\"{at:.2}\" y=\"{:.2}\" text-anchor=\"middle\" font-weight=\"bold\">{mark}</text>",
            px(x - SYMBOL / 2.0),
            rows.0,
            rows.1,
            rows.1,
            rows.0 - long,
            rows.0,
            rows.0,
            rows.0 - long - 4.0
        );
    }
    if !design.rig.presses.is_empty() {
        for i in 0..if each.is_empty() { jacks } else { 0 } {
            let x = spread(jacks, i);
            rect(&mut svg, "jack", (x - SYMBOL / 2.0, x + SYMBOL / 2.0), (-SYMBOL, 0.0), "#b03a2e");
        }
        if let Some(bars) = design.spec.rig.bars.first() {
            let places = u32::try_from(bars.places.len().max(1)).unwrap_or(1);
            let here = bars.number / places;
            // an even number stands in pairs astride, an odd one as it is
            let (groups, sides) = if here.is_multiple_of(2) {
                (here / 2, &[-1.0, 1.0][..])
            } else {
                (here, &[0.0][..])
            };
            for i in 0..groups {
                for side in sides {
                    let x = spread(groups, i) + side * spacing / 5.0;
                    let w = 1.5 / scale;
                    let foot = all.iter().find(|s| s.kind == ShapeKind::Bar);
                    let foot = foot.map_or(below + depth, |s| s.bottom.si());
                    rect(&mut svg, "bar", (x - w, x + w), (-2.0 * SYMBOL, foot), "#7d6608");
                }
            }
        }
    }
    // piles and water as wide as they are on one member unit
    let units = if design.target.unit == MemberUnit::Joist { joists } else { 1 };
    for (kind, wide) in carriers_across(design) {
        let Some(shape) = all.iter().find(|s| s.kind == kind) else { continue };
        let rows = (shape.top.si(), shape.bottom.si());
        for i in 0..units {
            let x = spread(units, i);
            rect(&mut svg, kind.word(), (x - wide / 2.0, x + wide / 2.0), rows, kind.fill());
        }
    }
    if let Some(weight) = all.iter().find(|s| s.kind == ShapeKind::Weight) {
        let (middle, rows) = (n * spacing / 2.0, (weight.top.si(), weight.bottom.si()));
        rect(&mut svg, "weight", (middle - SYMBOL, middle + SYMBOL), rows, "#7f8c8d");
    }
    // posts of the first catch, and of every level below it
    let spec = &design.spec.shoring;
    let catch = spec.catch.first().map(|c| (ShapeKind::Catch, "C1".to_owned(), c.resistance.posts));
    let below_levels = spec.levels.iter().enumerate().filter_map(|(i, level)| {
        let number = level.posts.as_ref()?.resistance.posts;
        Some((ShapeKind::Post, format!("P{}.1", i + 1), number))
    });
    for (kind, mark, posts) in catch.into_iter().chain(below_levels) {
        let Some(shape) = all.iter().find(|s| s.kind == kind && s.mark == mark) else { continue };
        let rows = (shape.top.si(), shape.bottom.si());
        let w = 2.5 / scale;
        for i in 0..posts {
            // as many under each joist where they divide evenly, side by side
            let x = if posts.is_multiple_of(joists.max(1)) {
                let each = posts / joists.max(1);
                let beside = f64::from(i % each) - f64::from(each - 1) / 2.0;
                rib(i / each) + beside * 3.0 * w
            } else {
                spread(posts, i)
            };
            rect(&mut svg, "post", (x - w, x + w), rows, "#1e8449");
        }
    }
    let jacked = !design.rig.presses.is_empty();
    let legend = [
        (jacked, "red: jacks"),
        (jacked && !design.spec.rig.bars.is_empty(), "brown: bars"),
        (all.iter().any(|s| s.kind == ShapeKind::Pile), "sand: bags or blocks"),
        (all.iter().any(|s| s.kind == ShapeKind::Water), "blue: water"),
        (!spec.catch.is_empty(), "green: all posts of the first catch and of the levels below"),
        (all.iter().any(|s| s.kind == ShapeKind::Weight), "grey: a weight"),
    ];
    let legend = legend.iter().filter(|l| l.0).fold(String::new(), |text, l| text + "; " + l.1);
    let what = match known {
        Some(_) => format!(
            "section across the joists: {joists} at {}",
            page.place(Length::from_si(spacing))
        ),
        None => "section across the member, which is drawn as wide as half its depth".to_owned(),
    };
    let _ = write!(svg, "<text x=\"{LEFT}\" y=\"14\">{what}{legend}</text></svg>");
    Some(svg)
}
