//! Shapes of sections: each becomes rings, and the rings the width over the depth.

use super::outline::{Band, Outline};
use crate::error::{Issue, slug};
use crate::source::{Given, Reader};
use crate::units::Length;

crate::rule! {
    /// A length of a section: a tenth of a millimetre to a hundred metres (library rule).
    pub Size { above 0.0 SOURCE_SIGN, least 1e-4 SOURCE_MAGNITUDE, most 100.0 SOURCE_MAGNITUDE }
    /// A place on a section, up to a hundred metres from where its corners count (library rule).
    pub OnSection { least -100.0 SOURCE_MAGNITUDE, most 100.0 SOURCE_MAGNITUDE }
    /// How many webs or voids: 1 to 100 (library rule).
    pub Web { least 1.0 SOURCE_SIGN, most 100.0 SOURCE_MAGNITUDE }
}

crate::record! {
    /// A rectangle.
    pub struct Rectangle {
        /// Width of one member unit.
        width: Given<Length, Size>,
        /// Overall depth.
        height: Given<Length, Size>,
    }
}

crate::record! {
    /// A web with a flange at its top, at its bottom, or at both.
    pub struct Tee {
        /// Overall depth.
        height: Given<Length, Size>,
        /// Width of the web.
        web: Given<Length, Size>,
        /// Width of the top flange.
        flange: Option<Given<Length, Size>>,
        /// Thickness of the top flange.
        flange_depth: Option<Given<Length, Size>>,
        /// Width of the bottom flange.
        bottom_flange: Option<Given<Length, Size>>,
        /// Thickness of the bottom flange.
        bottom_flange_depth: Option<Given<Length, Size>>,
    }
    rules {
        flange_whole[flange, flange_depth, bottom_flange, bottom_flange_depth];
        flanges_fit[height, web, flange, flange_depth, bottom_flange, bottom_flange_depth];
    }
}

crate::record! {
    /// A slab on several ribs, all of one member unit.
    pub struct Ribbed {
        /// Overall depth.
        height: Given<Length, Size>,
        /// Width of the slab on one member unit.
        width: Given<Length, Size>,
        /// Thickness of the slab.
        slab: Given<Length, Size>,
        /// How many ribs.
        ribs: u32 where Web,
        /// Width of one rib below the slab.
        rib_top: Given<Length, Size>,
        /// Width of one rib at its lower edge; as below the slab where it is left out.
        rib_bottom: Option<Given<Length, Size>>,
    }
    rules { ribs_fit[height, width, slab, ribs, rib_top, rib_bottom]; }
}

crate::record! {
    /// Round voids in one row.
    pub struct RoundVoids {
        /// How many.
        number: u32 where Web,
        /// Diameter of one.
        diameter: Given<Length, Size>,
        /// Depth of their centres below the top face; half the depth of the section where it is left out.
        depth: Option<Given<Length, Size>>,
    }
}

crate::record! {
    /// A rectangle with round voids along it.
    pub struct Hollow {
        /// Width of one member unit.
        width: Given<Length, Size>,
        /// Overall depth.
        height: Given<Length, Size>,
        /// The voids.
        voids: RoundVoids,
    }
    rules { voids_fit[width, height, voids]; }
}

crate::record! {
    /// A corner of an outline.
    pub struct Corner {
        /// Its place across the member.
        across: Given<Length, OnSection>,
        /// Its depth; the highest corner of the outline is the top face.
        depth: Given<Length, OnSection>,
    }
}

crate::record! {
    /// Any outline with holes, by its corners in order; it closes itself.
    pub struct Polygon {
        /// The corners.
        corners: Vec<Corner>,
        /// The corners of each hole.
        holes: Vec<Vec<Corner>> = Vec::new(),
    }
    rules { simple[corners, holes]; }
}

crate::variant! {
    /// The shape of a section.
    pub enum Shape ("shape") {
        /// A rectangle.
        Rectangle(Rectangle) = "rectangle",
        /// A web with a flange or two.
        Tee(Tee) = "tee",
        /// A slab on several ribs.
        Ribbed(Ribbed) = "ribbed",
        /// A rectangle with round voids.
        Hollow(Hollow) = "hollow",
        /// Any simple polygon with holes.
        Polygon(Polygon) = "polygon",
    }
}

/// A closed line of corners: across and down, in metres.
type Ring = Vec<(f64, f64)>;

fn issue(reader: &mut Reader, field: &str, message: impl Into<crate::units::Message>) {
    let path = reader.path_of(field);
    reader.push(Issue::new(slug::CAPACITY_SHAPE, path, message));
}

fn flange_whole(
    reader: &mut Reader,
    flange: &Option<Given<Length, Size>>,
    depth: &Option<Given<Length, Size>>,
    bottom: &Option<Given<Length, Size>>,
    bottom_depth: &Option<Given<Length, Size>>,
) {
    if flange.is_some() != depth.is_some() {
        issue(reader, "flange", "a flange is its width and its thickness: one of them is missing");
    }
    if bottom.is_some() != bottom_depth.is_some() {
        issue(
            reader,
            "bottom_flange",
            "a flange is its width and its thickness: one of them is missing",
        );
    }
    if flange.is_none() && bottom.is_none() {
        issue(reader, "flange", "a tee without a flange is a rectangle");
    }
}

fn flanges_fit(
    reader: &mut Reader,
    height: &Given<Length, Size>,
    web: &Given<Length, Size>,
    flange: &Option<Given<Length, Size>>,
    depth: &Option<Given<Length, Size>>,
    bottom: &Option<Given<Length, Size>>,
    bottom_depth: &Option<Given<Length, Size>>,
) {
    for (field, width) in [("flange", flange), ("bottom_flange", bottom)] {
        if width.as_ref().is_some_and(|w| w.value < web.value) {
            issue(reader, field, "a flange narrower than the web");
        }
    }
    let thick = |d: &Option<Given<Length, Size>>| d.as_ref().map_or(Length::ZERO, |d| d.value);
    if thick(depth) + thick(bottom_depth) >= height.value {
        issue(reader, "height", "the flanges leave no web");
    }
}

fn ribs_fit(
    reader: &mut Reader,
    height: &Given<Length, Size>,
    width: &Given<Length, Size>,
    slab: &Given<Length, Size>,
    ribs: &u32,
    rib_top: &Given<Length, Size>,
    rib_bottom: &Option<Given<Length, Size>>,
) {
    if slab.value >= height.value {
        issue(reader, "slab", "the slab leaves no ribs");
    }
    let widest = rib_bottom.as_ref().map_or(rib_top.value, |b| b.value.max(rib_top.value));
    if widest * f64::from(*ribs) > width.value {
        issue(reader, "ribs", "the ribs are wider than the slab on them");
    }
}

fn voids_fit(
    reader: &mut Reader,
    width: &Given<Length, Size>,
    height: &Given<Length, Size>,
    voids: &RoundVoids,
) {
    let d = voids.diameter.value;
    let centre = voids.depth.as_ref().map_or(height.value / 2.0, |c| c.value);
    if d * f64::from(voids.number) >= width.value
        || centre <= d / 2.0
        || centre + d / 2.0 >= height.value
    {
        issue(reader, "voids", "the voids reach beyond the section, or into each other");
    }
}

/// Twice the signed area of a triangle.
fn turn(a: (f64, f64), b: (f64, f64), c: (f64, f64)) -> f64 {
    (b.0 - a.0) * (c.1 - a.1) - (b.1 - a.1) * (c.0 - a.0)
}

/// Whether two edges have a point in common.
fn meet(a: (f64, f64), b: (f64, f64), c: (f64, f64), d: (f64, f64)) -> bool {
    let on = |p: (f64, f64), q: (f64, f64), r: (f64, f64)| {
        r.0 >= p.0.min(q.0) && r.0 <= p.0.max(q.0) && r.1 >= p.1.min(q.1) && r.1 <= p.1.max(q.1)
    };
    let [x, y, z, w] = [turn(a, b, c), turn(a, b, d), turn(c, d, a), turn(c, d, b)];
    if x * y < 0.0 && z * w < 0.0 {
        return true;
    }
    (x == 0.0 && on(a, b, c))
        || (y == 0.0 && on(a, b, d))
        || (z == 0.0 && on(c, d, a))
        || (w == 0.0 && on(c, d, b))
}

/// The edges of a ring.
fn edges(ring: &Ring) -> Vec<((f64, f64), (f64, f64))> {
    ring.iter().copied().zip(ring.iter().copied().cycle().skip(1)).collect()
}

/// Whether a ring runs through itself.
fn crosses(ring: &Ring) -> bool {
    let edges = edges(ring);
    let n = edges.len();
    edges.iter().enumerate().any(|(i, e)| {
        edges.iter().enumerate().skip(i + 1).any(|(j, f)| {
            if j == i + 1 || (i == 0 && j == n - 1) {
                // neighbours share a corner, and may not fold back on each other
                let (shared, p, q) = if j == i + 1 { (e.1, e.0, f.1) } else { (e.0, e.1, f.0) };
                let back =
                    (p.0 - shared.0) * (q.0 - shared.0) + (p.1 - shared.1) * (q.1 - shared.1);
                return turn(shared, p, q) == 0.0 && back > 0.0;
            }
            meet(e.0, e.1, f.0, f.1)
        })
    })
}

/// Whether a point lies inside a ring; on its line counts as outside or inside as it comes.
fn inside(ring: &Ring, (x, y): (f64, f64)) -> bool {
    edges(ring)
        .iter()
        .filter(|(a, b)| (a.1 > y) != (b.1 > y))
        .filter(|(a, b)| x < a.0 + (y - a.1) / (b.1 - a.1) * (b.0 - a.0))
        .count()
        % 2
        == 1
}

fn area(ring: &Ring) -> f64 {
    edges(ring).iter().map(|(a, b)| a.0 * b.1 - b.0 * a.1).sum::<f64>() / 2.0
}

fn ring(corners: &[Corner]) -> Ring {
    corners.iter().map(|c| (c.across.value.si(), c.depth.value.si())).collect()
}

/// The most corners of an outline with its holes.
const MOST_CORNERS: usize = 400;

fn simple(reader: &mut Reader, corners: &Vec<Corner>, holes: &Vec<Vec<Corner>>) {
    let count = corners.len() + holes.iter().map(Vec::len).sum::<usize>();
    if count > MOST_CORNERS {
        let path = reader.path_of("corners");
        let issue = Issue::new(slug::CAPACITY_POLYGON, path, "more corners than are looked at");
        reader.push(issue.value(count).limit(format!("up to {MOST_CORNERS}")));
        return;
    }
    let mut bad = |field: String, message: &'static str| {
        let path = reader.path_of(&field);
        reader.push(Issue::new(slug::CAPACITY_POLYGON, path, message));
    };
    let outer = ring(corners);
    let mut sound = |ring: &Ring, field: String| {
        let fault = if ring.len() < 3 {
            "an outline has three corners or more"
        } else if crosses(ring) {
            "an outline that runs through itself"
        } else if area(ring).abs() < 1e-8 {
            "an outline without an area"
        } else {
            return true;
        };
        bad(field, fault);
        false
    };
    let whole = sound(&outer, "corners".to_owned());
    let rings: Vec<(usize, Ring)> = holes
        .iter()
        .map(|h| ring(h))
        .enumerate()
        .filter(|(i, hole)| sound(hole, format!("holes[{i}]")))
        .collect();
    if !whole {
        return;
    }
    for (i, hole) in &rings {
        let apart = |other: &Ring| {
            !edges(hole).iter().any(|e| edges(other).iter().any(|f| meet(e.0, e.1, f.0, f.1)))
        };
        let first = hole.first().copied().unwrap_or_default();
        if !apart(&outer) || !inside(&outer, first) {
            bad(format!("holes[{i}]"), "a hole that reaches outside the outline");
        }
        let over = rings.iter().filter(|(j, _)| j < i).any(|(_, other)| {
            let start = other.first().copied().unwrap_or_default();
            !apart(other) || inside(other, first) || inside(hole, start)
        });
        if over {
            bad(format!("holes[{i}]"), "a hole that overlaps another");
        }
    }
}

fn rectangle(left: f64, top: f64, right: f64, bottom: f64) -> Ring {
    vec![(left, top), (right, top), (right, bottom), (left, bottom)]
}

/// A round void as an even polygon of the same area: its own second moment is 8e-6 too large.
fn round(across: f64, depth: f64, diameter: f64) -> Ring {
    const SIDES: u32 = 32;
    let step = core::f64::consts::TAU / f64::from(SIDES);
    let radius = diameter / 2.0 * (step / step.sin()).sqrt();
    let corner = |i| {
        let angle = (f64::from(i) + 0.5) * step;
        (across + radius * angle.cos(), depth + radius * angle.sin())
    };
    (0..SIDES).map(corner).collect()
}

impl Shape {
    /// A rectangle.
    #[must_use]
    pub const fn rectangle(width: Length, height: Length) -> Self {
        Self::Rectangle(Rectangle { width: Given::known(width), height: Given::known(height) })
    }

    /// A web with a flange at its top.
    #[must_use]
    pub const fn tee(flange: Length, flange_depth: Length, web: Length, height: Length) -> Self {
        Self::Tee(Tee {
            height: Given::known(height),
            web: Given::known(web),
            flange: Some(Given::known(flange)),
            flange_depth: Some(Given::known(flange_depth)),
            bottom_flange: None,
            bottom_flange_depth: None,
        })
    }

    /// All rings; where an odd number of them lies around a point there is concrete.
    fn rings(&self) -> Vec<Ring> {
        match self {
            Self::Rectangle(r) => {
                vec![rectangle(0.0, 0.0, r.width.value.si(), r.height.value.si())]
            }
            Self::Tee(t) => {
                let (h, half) = (t.height.value.si(), t.web.value.si() / 2.0);
                let si = |g: &Option<Given<Length, Size>>| g.as_ref().map(|g| g.value.si());
                let (top, thick) = (si(&t.flange).map(|w| w / 2.0), si(&t.flange_depth));
                let (low, low_thick) =
                    (si(&t.bottom_flange).map(|w| w / 2.0), si(&t.bottom_flange_depth));
                let mut right = Vec::new();
                match (top, thick) {
                    (Some(w), Some(d)) => right.extend([(w, 0.0), (w, d), (half, d)]),
                    _ => right.push((half, 0.0)),
                }
                match (low, low_thick) {
                    (Some(w), Some(d)) => right.extend([(half, h - d), (w, h - d), (w, h)]),
                    _ => right.push((half, h)),
                }
                let left: Ring = right.iter().rev().map(|(x, z)| (-x, *z)).collect();
                right.extend(left);
                vec![right]
            }
            Self::Ribbed(r) => {
                let (h, w, slab) = (r.height.value.si(), r.width.value.si(), r.slab.value.si());
                let top = r.rib_top.value.si() / 2.0;
                let low = r.rib_bottom.as_ref().map_or(top, |b| b.value.si() / 2.0);
                let n = f64::from(r.ribs);
                let rib = |i: u32| {
                    let x = w * (f64::from(i) + 0.5) / n;
                    vec![(x - top, slab), (x + top, slab), (x + low, h), (x - low, h)]
                };
                let slab = rectangle(0.0, 0.0, w, slab);
                core::iter::once(slab).chain((0..r.ribs).map(rib)).collect()
            }
            Self::Hollow(s) => {
                let (w, h) = (s.width.value.si(), s.height.value.si());
                let n = f64::from(s.voids.number);
                let depth = s.voids.depth.as_ref().map_or(h / 2.0, |d| d.value.si());
                let void = |i: u32| {
                    round(w * (f64::from(i) + 0.5) / n, depth, s.voids.diameter.value.si())
                };
                let outer = rectangle(0.0, 0.0, w, h);
                core::iter::once(outer).chain((0..s.voids.number).map(void)).collect()
            }
            Self::Polygon(p) => {
                core::iter::once(&p.corners).chain(&p.holes).map(|c| ring(c)).collect()
            }
        }
    }

    /// The width over the depth; zero is the highest corner.
    #[must_use]
    pub fn outline(&self) -> Outline {
        let rings = self.rings();
        let top = rings.iter().flatten().map(|c| c.1).fold(f64::INFINITY, f64::min);
        let edges: Vec<_> = rings.iter().flat_map(edges).collect();
        let mut depths: Vec<f64> = rings.iter().flatten().map(|c| c.1).collect();
        depths.sort_by(f64::total_cmp);
        // corners of one height may differ by rounding
        depths.dedup_by(|a, b| (*a - *b).abs() < 1e-12);
        let mut chords: Vec<(f64, f64)> = Vec::new();
        let bands = depths.iter().zip(depths.iter().skip(1)).filter_map(|(&from, &to)| {
            chords.clear();
            let middle = f64::midpoint(from, to);
            for (a, b) in &edges {
                if (a.1 > middle) != (b.1 > middle) {
                    let at = |z: f64| a.0 + (z - a.1) / (b.1 - a.1) * (b.0 - a.0);
                    chords.push((at(from), at(to)));
                }
            }
            chords.sort_by(|a, b| (a.0 + a.1).total_cmp(&(b.0 + b.1)));
            let (mut width_top, mut width_bottom) = (0.0, 0.0);
            for (i, (a, b)) in chords.iter().enumerate() {
                let sign = if i % 2 == 0 { -1.0 } else { 1.0 };
                width_top += sign * a;
                width_bottom += sign * b;
            }
            (width_top + width_bottom > 0.0).then_some(Band {
                top: from - top,
                bottom: to - top,
                width_top,
                width_bottom,
            })
        });
        Outline { bands: bands.collect() }
    }

    /// How many webs stand apart, where the shape says it.
    #[must_use]
    pub const fn webs(&self) -> Option<u32> {
        match self {
            Self::Rectangle(_) | Self::Tee(_) => Some(1),
            Self::Ribbed(r) => Some(r.ribs),
            Self::Hollow(_) | Self::Polygon(_) => None,
        }
    }

    /// The width of all webs together, where the shape says it: nothing of a polygon.
    #[must_use]
    pub fn web(&self) -> Option<Length> {
        match self {
            Self::Rectangle(r) => Some(r.width.value),
            Self::Tee(t) => Some(t.web.value),
            Self::Ribbed(r) => {
                let least =
                    r.rib_bottom.as_ref().map_or(r.rib_top.value, |b| b.value.min(r.rib_top.value));
                Some(least * f64::from(r.ribs))
            }
            Self::Hollow(s) => {
                Some(s.width.value - s.voids.diameter.value * f64::from(s.voids.number))
            }
            Self::Polygon(_) => None,
        }
    }
}
