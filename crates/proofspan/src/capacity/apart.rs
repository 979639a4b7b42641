//! Bars, ducts and tendons that occupy one place.
//!
//! Where they lie across the section is not described, so what is known is this: bars of one layer lie side
//! by side, layers lie above each other, and what lies at one depth must fit into the width there.

use super::outline::Outline;
use super::shape::Shape;
use super::steel::{Bars, Tendon};
use crate::error::{Issue, slug};
use crate::source::{Reader, Several};
use crate::units::{Length, Message};

/// Layers and tendons of one section that are looked at (library rule).
const MOST_LAYERS: usize = 200;

/// What lies within so much of a limit touches it, m.
const TOUCHES: f64 = 1e-6;

/// Something round at one depth, in metres.
struct Lies {
    /// The field of its depth.
    path: String,
    depth: f64,
    radius: f64,
    /// Width of all of it side by side, at least.
    width: f64,
    /// Where it is along the member.
    from: f64,
    to: f64,
    /// A layer across the whole section.
    layer: bool,
}

impl Lies {
    fn of_bars(path: String, bars: &Bars) -> Option<Self> {
        let diameter = bars.diameter.as_ref()?.value.si();
        let number = bars.area.value.si() / (core::f64::consts::PI * diameter * diameter / 4.0);
        Some(Self {
            path: format!("{path}.depth"),
            depth: bars.depth.value.si(),
            radius: diameter / 2.0,
            width: number * diameter,
            from: bars.from.as_ref().map_or(0.0, |f| f.value.si()),
            to: bars.to.as_ref().map_or(f64::INFINITY, |t| t.value.si()),
            layer: true,
        })
    }

    /// A tendon at each depth that is given.
    fn of_tendon(path: &str, tendon: &Tendon) -> Vec<Self> {
        let Some(diameter) = &tendon.diameter else { return Vec::new() };
        let one = |(field, depth): (&'static str, Length)| Self {
            path: format!("{path}.profile.{field}"),
            depth: depth.si(),
            radius: diameter.value.si() / 2.0,
            width: diameter.value.si(),
            from: 0.0,
            to: f64::INFINITY,
            layer: false,
        };
        tendon.profile.depths().into_iter().map(one).collect()
    }

    /// Whether some of both is at one depth somewhere along the member.
    fn meets(&self, other: &Self) -> bool {
        let along = self.from.max(other.from) < self.to.min(other.to);
        let apart = (self.depth - other.depth).abs();
        along && apart < self.radius + other.radius - TOUCHES
    }

    /// Whether both are one row: the smaller lies within the depth of the larger.
    fn row(&self, other: &Self) -> bool {
        (self.depth - other.depth).abs() <= (self.radius - other.radius).abs() + TOUCHES
    }

    /// What is wrong with it after those before it.
    fn wrong(&self, before: &[Self], outline: &Outline) -> Option<(&'static str, Message)> {
        let met = || before.iter().filter(|other| self.meets(other));
        if let Some(other) = met().find(|other| self.layer && other.layer && !self.row(other)) {
            let (least, other) = (self.radius + other.radius, Length::from_si(other.depth));
            let limit = "at least {} from {}, or in one row with what lies there";
            let limit = Message::new(limit, [Length::from_si(least).into(), other.into()]);
            return Some(("layers of bars that lie in each other", limit));
        }
        let width = outline.width(Length::from_si(self.depth)).si();
        let all = self.width + met().map(|other| other.width).sum::<f64>();
        (width > 0.0 && all > width + TOUCHES).then(|| {
            let sizes = [width, all].map(|l| Length::from_si(l).into());
            let limit = "{} of width there: side by side all that lies at this depth takes {}";
            ("bars, ducts or tendons that do not fit side by side", Message::new(limit, sizes))
        })
    }
}

/// Refuses bars, ducts and tendons that occupy one place, as far as their diameters are given, and one layer
/// that is given twice.
pub(super) fn layers_apart(
    reader: &mut Reader,
    shape: &Shape,
    bars: &Several<Bars>,
    tendons: &Several<Tendon>,
) {
    let count = bars.len() + tendons.len();
    if count > MOST_LAYERS {
        let path = reader.path_of(if bars.len() > tendons.len() { "bars" } else { "tendons" });
        let issue =
            Issue::new(slug::SOURCE_SIZE, path, "more layers and tendons than are looked at");
        reader.push(issue.value(count).limit(MOST_LAYERS));
        return;
    }
    for (i, layer) in bars.iter().enumerate() {
        if layer.diameter.is_none() && bars.iter().take(i).any(|other| other == layer) {
            let path = reader.path_of(&format!("{}.depth", bars.path("bars", i)));
            let issue =
                Issue::new(slug::CAPACITY_LAYERS_OVERLAP, path, "one layer of bars, given twice");
            reader.push(issue.value(layer.depth.said()));
        }
    }
    let of_bars = |(i, layer)| Lies::of_bars(bars.path("bars", i).into_owned(), layer);
    let of_tendon = |(i, tendon)| Lies::of_tendon(&tendons.path("tendons", i), tendon);
    let each: Vec<Vec<Lies>> = bars
        .iter()
        .enumerate()
        .filter_map(of_bars)
        .map(|one| vec![one])
        .chain(tendons.iter().enumerate().map(of_tendon))
        .collect();
    if each.iter().all(Vec::is_empty) {
        return;
    }
    let outline = shape.outline();
    let mut before: Vec<Lies> = Vec::new();
    for one in each {
        let wrong = one.iter().find_map(|lies| Some((lies, lies.wrong(&before, &outline)?)));
        if let Some((lies, (message, limit))) = wrong {
            let path = reader.path_of(&lies.path);
            let issue = Issue::new(slug::CAPACITY_LAYERS_OVERLAP, path, message);
            reader.push(issue.value(Length::from_si(lies.depth)).limit(limit));
        }
        before.extend(one);
    }
}
