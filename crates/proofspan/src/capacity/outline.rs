//! The outline of a section as its width over the depth, and what follows from that.

use crate::units::{Area, Length, SecondMoment, SectionModulus};

/// Between two depths the width changes evenly.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(crate) struct Band {
    /// Depth of its upper edge, in metres from the top face.
    pub(crate) top: f64,
    /// Depth of its lower edge.
    pub(crate) bottom: f64,
    /// Width at the upper edge, in metres.
    pub(crate) width_top: f64,
    /// Width at the lower edge.
    pub(crate) width_bottom: f64,
}

impl Band {
    /// The width at a depth inside.
    pub(crate) fn width(&self, depth: f64) -> f64 {
        let t = (depth - self.top) / (self.bottom - self.top);
        self.width_top + (self.width_bottom - self.width_top) * t
    }

    /// The part of it between two depths, where there is one.
    pub(crate) fn part(&self, from: f64, to: f64) -> Option<Self> {
        let (top, bottom) = (self.top.max(from), self.bottom.min(to));
        (bottom > top).then(|| Self {
            top,
            bottom,
            width_top: self.width(top),
            width_bottom: self.width(bottom),
        })
    }

    /// ∫b, ∫b z, ∫b z² over the band; z from the top face.
    pub(crate) fn moments(&self) -> [f64; 3] {
        let (h, a, b) = (self.bottom - self.top, self.width_top, self.width_bottom);
        let area = h * (a + b) / 2.0;
        // about the upper edge
        let first = h * h * (a + 2.0 * b) / 6.0;
        let second = h * h * h * (a + 3.0 * b) / 12.0;
        let z = self.top;
        [area, first + z * area, second + z * (2.0 * first + z * area)]
    }
}

/// The width of a section over its depth: bands from the top face down. Bending is about the
/// horizontal axis; what lies left and right of the middle counts alike.
#[derive(Clone, PartialEq, Debug)]
pub struct Outline {
    pub(crate) bands: Vec<Band>,
}

crate::answer! {
    /// Area, centroid and second moment of a section.
    pub struct Properties {
        /// Overall depth.
        height: Length,
        /// Area.
        area: Area,
        /// Depth of the centroid below the top face.
        centroid: Length,
        /// Second moment of area about the centroid.
        second_moment: SecondMoment,
        /// Section modulus of the top face.
        top: SectionModulus,
        /// Section modulus of the bottom face.
        bottom: SectionModulus,
    }
}

impl Properties {
    /// From ∫b, ∫b z, ∫b z² and the overall depth, in metres.
    pub(crate) fn of_moments([area, first, second]: [f64; 3], height: f64) -> Self {
        let centroid = first / area;
        let about = second - first * centroid;
        Self {
            height: Length::from_si(height),
            area: Area::from_si(area),
            centroid: Length::from_si(centroid),
            second_moment: SecondMoment::from_si(about),
            top: SectionModulus::from_si(about / centroid),
            bottom: SectionModulus::from_si(about / (height - centroid)),
        }
    }
}

crate::answer! {
    /// A corner of the outline: half of the width lies on each side of the middle.
    pub struct OutlineCorner {
        /// Depth from the top face.
        depth: Length,
        /// Width there; of two corners at one depth the first is that of the part above.
        width: Length,
    }
}

impl Outline {
    /// The corners from the top face down.
    #[must_use]
    pub fn corners(&self) -> Vec<OutlineCorner> {
        let of = |depth, width| OutlineCorner {
            depth: Length::from_si(depth),
            width: Length::from_si(width),
        };
        let each = |b: &Band| [of(b.top, b.width_top), of(b.bottom, b.width_bottom)];
        self.bands.iter().flat_map(each).collect()
    }

    /// Overall depth.
    #[must_use]
    pub fn height(&self) -> Length {
        Length::from_si(self.bands.last().map_or(0.0, |b| b.bottom))
    }

    /// The width at a depth below the top face: where it jumps, that of the band above; zero outside.
    #[must_use]
    pub fn width(&self, depth: Length) -> Length {
        let z = depth.si();
        let band = self.bands.iter().find(|b| (b.top..=b.bottom).contains(&z));
        Length::from_si(band.map_or(0.0, |b| b.width(z)))
    }

    /// The largest width.
    pub(crate) fn widest(&self) -> Length {
        let widths = self.bands.iter().map(|b| b.width_top.max(b.width_bottom));
        Length::from_si(widths.fold(0.0, f64::max))
    }

    /// ∫b, ∫b z, ∫b z² between two depths; z from the top face, in metres.
    pub(crate) fn moments(&self, from: f64, to: f64) -> [f64; 3] {
        let parts = self.bands.iter().filter_map(|b| b.part(from, to));
        parts.fold([0.0; 3], |[a, s, i], part| {
            let [da, ds, di] = part.moments();
            [a + da, s + ds, i + di]
        })
    }

    /// Area, centroid, second moment and section moduli of the whole concrete section.
    #[must_use]
    pub fn properties(&self) -> Properties {
        let height = self.height().si();
        Properties::of_moments(self.moments(0.0, height), height)
    }

    /// The same under a rectangle of this width and thickness.
    pub(crate) fn under(&self, width: Length, depth: Length) -> Self {
        let (w, t) = (width.si(), depth.si());
        let first = Band { top: 0.0, bottom: t, width_top: w, width_bottom: w };
        let rest = self.bands.iter().map(|b| Band { top: b.top + t, bottom: b.bottom + t, ..*b });
        Self { bands: core::iter::once(first).chain(rest).collect() }
    }

    /// What lies below a depth, counted from there.
    pub(crate) fn below(&self, depth: Length) -> Self {
        let t = depth.si();
        let rest = self.bands.iter().filter(|b| b.top >= t * (1.0 - 1e-12));
        Self { bands: rest.map(|b| Band { top: b.top - t, bottom: b.bottom - t, ..*b }).collect() }
    }

    /// The same upside down.
    pub(crate) fn turned(&self) -> Self {
        let h = self.height().si();
        let turned = self.bands.iter().rev().map(|b| Band {
            top: h - b.bottom,
            bottom: h - b.top,
            width_top: b.width_bottom,
            width_bottom: b.width_top,
        });
        Self { bands: turned.collect() }
    }
}
