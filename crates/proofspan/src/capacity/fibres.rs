//! Forces on a section at given strains, and the strains at which they are in equilibrium.
//! Magnitudes in SI; depths count from the compressed face.

use super::material::StrengthSet;
use super::outline::Band;
use super::section::{Cut, Face};
use super::steel::StrandCurve;
use crate::error::Error;
use crate::formula::Recorder;

crate::choice! {
    /// How a section fails in flexure.
    pub enum FlexureMode ("mode of flexure", source::SOURCE_CHOICE) {
        /// The steel yields, then the concrete crushes: ductile.
        Yielding = "steel yields, then concrete crushes",
        /// The concrete crushes before the steel yields: brittle.
        Crushing = "concrete crushes before the steel yields",
        /// A steel breaks: brittle.
        Breaking = "steel breaks",
        /// A bonded strip comes off, and what is left carries less: brittle.
        Debonding = "strip comes off",
        /// A bonded strip breaks: brittle.
        StripBreaks = "strip breaks",
        /// The anchorage gives way before the steel yields: brittle.
        Anchorage = "anchorage gives way before the steel yields",
    }
}

impl FlexureMode {
    /// Whether it gives warning.
    #[must_use]
    pub const fn ductile(self) -> bool {
        matches!(self, Self::Yielding)
    }
}

/// A law of compressed concrete with its numbers.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub struct ConcreteLaw {
    /// Its shape.
    pub(crate) shape: Compression,
    /// Its stress over the strength.
    pub(crate) stress: f64,
    /// Strain of the compressed face when it crushes.
    pub(crate) crushing: f64,
    /// Edition and clause.
    pub source: String,
}

/// The shape of a law of compressed concrete.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(crate) enum Compression {
    /// Even over a part of the depth of the neutral axis.
    Rectangle { depth: f64 },
    /// 1 − (1 − ε/peak)^exponent, then one.
    Parabola { peak: f64, exponent: f64 },
}

impl Compression {
    /// Stress over the largest, at a strain, compression positive; of a parabola.
    fn at(peak: f64, exponent: f64, strain: f64) -> f64 {
        if strain <= 0.0 {
            return 0.0;
        }
        let rest = (1.0 - strain / peak).max(0.0);
        1.0 - if (exponent - 2.0).abs() < f64::EPSILON { rest * rest } else { rest.powf(exponent) }
    }
}

/// Stress of a steel over its strain.
#[derive(Clone, Copy, Debug)]
struct Curve<'a> {
    modulus: f64,
    yields: f64,
    breaks: f64,
    breaking_strain: Option<f64>,
    power: Option<&'a StrandCurve>,
    holds: f64,
    /// Whether it carries no compression.
    pulls: bool,
}

impl Curve<'_> {
    /// Stress at a strain, tension positive; even in both directions.
    fn stress(&self, strain: f64) -> f64 {
        let e = strain.abs();
        let elastic = self.modulus * e;
        let stress = match (self.power, self.breaking_strain) {
            (Some(p), _) => {
                let ratio = elastic / (p.k * self.yields);
                (elastic * (p.q + (1.0 - p.q) / (1.0 + ratio.powf(p.r)).powf(1.0 / p.r)))
                    .min(self.breaks)
            }
            (None, Some(last)) if elastic > self.yields && self.breaks > self.yields => {
                let first = self.yields / self.modulus;
                let part = ((e - first) / (last - first)).clamp(0.0, 1.0);
                self.yields + (self.breaks - self.yields) * part
            }
            _ => elastic.min(self.yields),
        };
        if self.pulls && strain <= 0.0 { 0.0 } else { stress.min(self.holds).copysign(strain) }
    }
}

/// A steel of the section.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Fibre<'a> {
    pub(crate) path: &'a str,
    pub(crate) area: f64,
    pub(crate) depth: f64,
    /// Strain when the concrete around it is at zero.
    pub(crate) before: f64,
    pub(crate) bonded: bool,
    /// Stress of one without bond.
    keeps: f64,
    /// Over what depth it takes the place of concrete.
    thick: f64,
    /// What it is called where it reaches its last strain.
    gives: FlexureMode,
    /// Factor on the moment it brings.
    pub(crate) factor: f64,
    curve: Curve<'a>,
}

/// A section with its laws.
#[derive(Debug)]
pub(crate) struct Fibres<'a> {
    bands: Vec<Band>,
    height: f64,
    /// Depth of the centroid of the gross section.
    pub(crate) centroid: f64,
    pub(crate) shape: Compression,
    crushing: f64,
    /// Largest stress down to a depth, and beyond it.
    change: f64,
    near: f64,
    far: f64,
    pub(crate) steels: Vec<Fibre<'a>>,
}

/// Strains in equilibrium.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(crate) struct Solved {
    pub(crate) neutral: f64,
    pub(crate) curvature: f64,
    /// Resultant of the concrete, compression positive, and its depth.
    pub(crate) compression: f64,
    pub(crate) lever: f64,
    /// What gives way before the concrete crushes.
    broken: Option<FlexureMode>,
}

impl Solved {
    /// Strain and stress of a steel, tension positive.
    pub(crate) fn of(&self, steel: &Fibre<'_>) -> (f64, f64) {
        steel.at(self.neutral, self.curvature)
    }
}

impl Fibre<'_> {
    fn at(&self, neutral: f64, curvature: f64) -> (f64, f64) {
        if !self.bonded {
            return (self.before, self.keeps);
        }
        let strain = self.before + curvature * (self.depth - neutral);
        (strain, self.curve.stress(strain))
    }
}

/// Where a bar has no diameter: what it takes the place of fades over this depth.
const THICK: f64 = 0.016;

impl<'a> Fibres<'a> {
    /// The section with this face in tension.
    pub(crate) fn new<R: Recorder>(
        rec: &mut R,
        cut: &'a Cut,
        face: Face,
        set: StrengthSet,
        law: &ConcreteLaw,
        (concrete, steel): (f64, f64),
    ) -> Result<Self, Error> {
        let height = cut.height().si();
        let turned = face == Face::Top;
        let down = |z: f64| if turned { height - z } else { z };
        let stress = |s: f64| law.stress * s / concrete;
        let own = stress(cut.concrete.strength.of(set).si());
        let layer =
            cut.topping.as_ref().map(|l| (l.depth.si(), stress(l.concrete.strength.of(set).si())));
        let (change, near, far) = match (layer, turned) {
            (None, _) => (height, own, own),
            (Some((depth, above)), false) => (depth, above, own),
            (Some((depth, above)), true) => (height - depth, own, above),
        };
        let squeeze = Squeeze::of(cut)?;
        let steels = cut.steel.iter().map(|s| Fibre {
            path: &s.path,
            area: s.area.si(),
            depth: down(s.depth.si()),
            before: s.prestress / s.modulus + squeeze.at(s.depth.si()) * f64::from(s.tendon),
            bonded: s.bonded,
            keeps: s.prestress.si(),
            thick: THICK,
            gives: FlexureMode::Breaking,
            factor: 1.0,
            curve: Curve {
                modulus: s.modulus.si(),
                yields: s.yields.of(set).si() / steel,
                breaks: s.breaks.as_ref().unwrap_or(&s.yields).of(set).si() / steel,
                breaking_strain: s.breaking_strain.map(|e| e.si()),
                power: s.curve.as_ref(),
                holds: s.holds(set).si() / steel,
                pulls: false,
            },
        });
        let on_face = cut.strips.iter().filter(|s| s.face == face && s.counts(set));
        let strips = on_face.map(|s| {
            let (last, breaks) = s.reaches(rec, cut.concrete.strength.of(set));
            Fibre {
                path: &s.path,
                area: s.area.si(),
                depth: height,
                before: -s.installed.si(),
                bonded: true,
                keeps: 0.0,
                thick: THICK,
                gives: if breaks { FlexureMode::StripBreaks } else { FlexureMode::Debonding },
                factor: s.factor.filter(|_| set == StrengthSet::Design).unwrap_or(1.0),
                curve: Curve {
                    modulus: s.modulus.si(),
                    yields: f64::INFINITY,
                    breaks: f64::INFINITY,
                    breaking_strain: Some(last),
                    power: None,
                    holds: f64::INFINITY,
                    pulls: true,
                },
            }
        });
        let steels = steels.chain(strips);
        let outline = if turned { cut.outline.turned().bands } else { cut.outline.bands.clone() };
        Ok(Self {
            bands: outline,
            height,
            centroid: down(cut.gross()?.centroid.si()),
            shape: law.shape,
            crushing: law.crushing,
            change,
            near,
            far,
            steels: steels.collect(),
        })
    }

    /// Curvature at failure with the neutral axis at a depth, and what gives way before the concrete does.
    fn curvature(&self, neutral: f64) -> (f64, Option<FlexureMode>) {
        let mut curvature = self.crushing / neutral;
        let mut broken = None;
        for s in self.steels.iter().filter(|s| s.bonded && s.depth > neutral) {
            let Some(last) = s.curve.breaking_strain else { continue };
            let least = (last - s.before).max(0.0) / (s.depth - neutral);
            if least < curvature {
                (curvature, broken) = (least, Some(s.gives));
            }
        }
        (curvature, broken)
    }

    /// Largest stress of the concrete at a depth.
    fn strength(&self, depth: f64) -> f64 {
        if depth < self.change { self.near } else { self.far }
    }

    /// Force and first moment of the compressed concrete, with the place of steel filled.
    fn concrete(&self, neutral: f64, curvature: f64) -> (f64, f64) {
        let mut sums = (0.0, 0.0);
        let mut add = |force: f64, depth: f64| {
            sums.0 += force;
            sums.1 += force * depth;
        };
        let ends = [(0.0, self.change, self.near), (self.change, self.height, self.far)];
        match self.shape {
            Compression::Rectangle { depth } => {
                let end = (depth * neutral).min(self.height);
                for (from, to, stress) in ends {
                    for part in self.bands.iter().filter_map(|b| b.part(from, to.min(end))) {
                        let [area, first, _] = part.moments();
                        sums.0 += stress * area;
                        sums.1 += stress * first;
                    }
                }
            }
            Compression::Parabola { peak, exponent } => {
                let full = (neutral - peak / curvature).max(0.0);
                for (from, to, stress) in ends {
                    for part in self.bands.iter().filter_map(|b| b.part(from, to.min(full))) {
                        let [area, first, _] = part.moments();
                        add(stress * area, first / area.max(f64::MIN_POSITIVE));
                    }
                    let end = to.min(neutral.min(self.height));
                    for part in self.bands.iter().filter_map(|b| b.part(from.max(full), end)) {
                        let (half, middle) =
                            ((part.bottom - part.top) / 2.0, f64::midpoint(part.bottom, part.top));
                        for (x, w) in GAUSS {
                            let z = middle + half * x;
                            let share = Compression::at(peak, exponent, curvature * (neutral - z));
                            add(stress * share * part.width(z) * half * w, z);
                        }
                    }
                }
            }
        }
        sums
    }

    /// The stress of the concrete that a steel takes the place of.
    fn displaced(&self, steel: &Fibre<'_>, neutral: f64, curvature: f64) -> f64 {
        if !steel.bonded || steel.depth >= neutral {
            return 0.0;
        }
        let share = match self.shape {
            Compression::Rectangle { depth } => {
                ((depth * neutral - steel.depth) / steel.thick + 0.5).clamp(0.0, 1.0)
            }
            Compression::Parabola { peak, exponent } => {
                Compression::at(peak, exponent, curvature * (neutral - steel.depth))
            }
        };
        share * self.strength(steel.depth)
    }

    /// Compression of the concrete with its first moment, and what all forces sum up to.
    fn forces(&self, neutral: f64, curvature: f64) -> (f64, f64, f64) {
        let (mut force, mut first) = self.concrete(neutral, curvature);
        let mut steel = 0.0;
        for s in &self.steels {
            let displaced = s.area * self.displaced(s, neutral, curvature);
            force -= displaced;
            first -= displaced * s.depth;
            steel += s.area * s.at(neutral, curvature).1;
        }
        (force, first, force - steel)
    }

    /// The neutral axis at which the section holds the axial force, compression positive.
    pub(crate) fn solve(&self, axial: f64) -> Option<Solved> {
        let rest = |c: f64| self.forces(c, self.curvature(c).0).2 - axial;
        let (mut low, mut high) = (1e-6 * self.height, self.height);
        let (mut at_low, mut at_high) = (rest(low), rest(high));
        if !(at_low <= 0.0 && at_high >= 0.0) {
            return None;
        }
        // false position, the end that stays is made to give way; halved where that is slow
        let mut last = 0;
        for step in 0..200 {
            if (high - low) <= 4.0 * f64::EPSILON * self.height {
                break;
            }
            let mut c = (low * at_high - high * at_low) / (at_high - at_low);
            if step % 8 == 7 || !(c > low && c < high) {
                c = f64::midpoint(low, high);
            }
            let at = rest(c);
            if at == 0.0 {
                (low, high) = (c, c);
                break;
            }
            if at < 0.0 {
                (low, at_low) = (c, at);
                if last == -1 {
                    at_high /= 2.0;
                }
                last = -1;
            } else {
                (high, at_high) = (c, at);
                if last == 1 {
                    at_low /= 2.0;
                }
                last = 1;
            }
        }
        let neutral = f64::midpoint(low, high);
        let (curvature, broken) = self.curvature(neutral);
        let (compression, first, _) = self.forces(neutral, curvature);
        let lever = if compression.abs() > 0.0 { first / compression } else { 0.0 };
        Some(Solved { neutral, curvature, compression, lever, broken })
    }

    /// How the section fails: the steel farthest from the compressed face decides.
    pub(crate) fn mode(&self, solved: &Solved) -> FlexureMode {
        if let Some(gives) = solved.broken {
            return gives;
        }
        let farthest = self.steels.iter().filter(|s| s.bonded && !s.curve.pulls).fold(
            None,
            |best: Option<&Fibre<'_>>, s| {
                if best.is_none_or(|b| s.depth > b.depth) { Some(s) } else { best }
            },
        );
        let Some(steel) = farthest else { return FlexureMode::Crushing };
        let (strain, stress) = solved.of(steel);
        let curve = &steel.curve;
        if stress >= curve.holds && curve.holds < curve.yields {
            FlexureMode::Anchorage
        } else if curve.modulus * strain >= curve.yields {
            FlexureMode::Yielding
        } else {
            FlexureMode::Crushing
        }
    }
}

/// Strain of the concrete under the prestress alone, compression positive.
struct Squeeze {
    mean: f64,
    slope: f64,
    middle: f64,
}

impl Squeeze {
    /// Zero where the modulus of the concrete is not given.
    fn of(cut: &Cut) -> Result<Self, Error> {
        let alone = cut.before_topping();
        let own = alone.gross()?;
        let over = cut.topping.as_ref().map_or(0.0, |l| l.depth.si());
        let middle = own.centroid.si() + over;
        let (force, depth) = (alone.prestress_force().si(), alone.prestress_depth());
        let (Some(modulus), Some(depth)) = (&cut.concrete.modulus, depth) else {
            return Ok(Self { mean: 0.0, slope: 0.0, middle });
        };
        let e = depth.si() - own.centroid.si();
        let modulus = modulus.value.si();
        Ok(Self {
            mean: force / own.area.si() / modulus,
            slope: force * e / own.second_moment.si() / modulus,
            middle,
        })
    }

    fn at(&self, depth: f64) -> f64 {
        self.mean + self.slope * (depth - self.middle)
    }
}

/// Five points of Gauss: exact up to the ninth power.
const GAUSS: [(f64, f64); 5] = [
    (-0.906_179_845_938_664, 0.236_926_885_056_189_1),
    (-0.538_469_310_105_683_1, 0.478_628_670_499_366_5),
    (0.0, 0.568_888_888_888_888_9),
    (0.538_469_310_105_683_1, 0.478_628_670_499_366_5),
    (0.906_179_845_938_664, 0.236_926_885_056_189_1),
];
