//! A section along a stretch of the member, and the same cut at one place.

use super::apart::layers_apart;
pub(crate) use super::face::Face;
use super::material::Concrete;
use super::outline::Outline;
use super::shape::{Shape, Size};
use super::steel::{Bars, Bond, Profile, Steel, Tendon, of_bars, of_tendon};
use super::strips::{BondedHere, Strip};
use crate::error::{Error, Issue, slug};
use crate::source::{Given, Reader, Several, validate};
use crate::units::{Force, Length, Message, Stress};

crate::record! {
    /// What stands along a stretch of the member, on one member unit. Depths count from the top face.
    pub struct Section {
        /// Its shape.
        shape: Shape,
        /// Width of all webs together, where the shape does not say it: of a polygon.
        web: Option<Given<Length, Size>>,
        /// Its concrete.
        concrete: Concrete,
        /// Layers of bars, along the member.
        bars: Several<Bars> = Several::none(),
        /// Tendons.
        tendons: Several<Tendon> = Several::none(),
        /// Strips or sheets of fibres bonded to its faces in flexure.
        strips: Several<Strip> = Several::none(),
        /// Concrete that was cast on it later and acts with it; depths still count from the top face of the shape.
        topping: Option<Topping>,
    }
    rules { steel_inside[shape, bars, tendons]; layers_apart[shape, bars, tendons]; }
}

crate::record! {
    /// Concrete cast on a finished section.
    pub struct Topping {
        /// Its width on one member unit.
        width: Given<Length, Size>,
        /// Its thickness.
        depth: Given<Length, Size>,
        /// Its concrete.
        concrete: Concrete,
    }
}

/// Concrete on top of the section that was there before.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub struct Layer {
    /// Its thickness.
    pub depth: Length,
    /// Its concrete.
    pub concrete: Concrete,
}

fn steel_inside(
    reader: &mut Reader,
    shape: &Shape,
    bars: &Several<Bars>,
    tendons: &Several<Tendon>,
) {
    let before = reader.count();
    let height = shape.outline().height();
    if height <= Length::ZERO || reader.count() != before {
        return;
    }
    let mut outside = |path: String, depth: Length, message: &'static str| {
        let path = reader.path_of(&path);
        let issue = Issue::new(slug::CAPACITY_STEEL_OUTSIDE, path, message);
        reader.push(issue.value(depth).limit(Message::new("below {}", [height.into()])));
    };
    for (i, layer) in bars.iter().enumerate() {
        if layer.depth.value >= height {
            let path = format!("{}.depth", bars.path("bars", i));
            outside(path, layer.depth.value, "bars outside the section");
        }
    }
    for (i, tendon) in tendons.iter().enumerate() {
        for (field, depth) in tendon.profile.depths() {
            if depth >= height {
                let path = format!("{}.profile.{field}", tendons.path("tendons", i));
                outside(path, depth, "a tendon outside the section");
            }
        }
    }
    let mut covered = |path: String, depths: &[Length], diameter: Length, message: &'static str| {
        let inside = depths.iter().copied().filter(|depth| *depth < height);
        let covers = inside.map(|depth| depth.min(height - depth) - diameter / 2.0);
        if let Some(cover) = covers.filter(|cover| *cover <= Length::ZERO).reduce(Length::min) {
            let path = reader.path_of(&format!("{path}.diameter"));
            let issue = Issue::new(slug::CAPACITY_COVER, path, message);
            reader.push(issue.value(cover).limit("above zero"));
        }
    };
    for (i, layer) in bars.iter().enumerate() {
        if let Some(diameter) = &layer.diameter {
            let path = bars.path("bars", i).into_owned();
            covered(path, &[layer.depth.value], diameter.value, "bars without cover");
        }
    }
    for (i, tendon) in tendons.iter().enumerate() {
        if let Some(diameter) = &tendon.diameter {
            let depths: Vec<Length> = tendon.profile.depths().into_iter().map(|d| d.1).collect();
            let path = tendons.path("tendons", i).into_owned();
            covered(path, &depths, diameter.value, "a tendon without cover");
        }
    }
}

/// A section at one place along the member.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub struct Cut {
    /// Its place from the left end of the member.
    pub at: Length,
    /// The width over the depth.
    pub outline: Outline,
    /// The width of all webs together, where it is known.
    pub web: Option<Length>,
    /// The concrete; of what lies below the topping, where there is one.
    pub concrete: Concrete,
    /// The topping; depths count from its upper face.
    pub topping: Option<Layer>,
    /// Bars and tendons that are there.
    pub steel: Vec<Steel>,
    /// Strips of fibres on its faces that are there.
    pub strips: Vec<BondedHere>,
}

impl Section {
    /// A section of plain concrete; bars and tendons follow.
    #[must_use]
    pub const fn of(shape: Shape, concrete: Concrete) -> Self {
        Self {
            shape,
            web: None,
            concrete,
            bars: Several::none(),
            tendons: Several::none(),
            strips: Several::none(),
            topping: None,
        }
    }

    /// The same with a layer of bars.
    #[must_use]
    pub fn bars(self, layer: Bars) -> Self {
        let bars = self.bars.iter().cloned().chain([layer]).collect();
        Self { bars, ..self }
    }

    /// The same with a tendon.
    #[must_use]
    pub fn tendon(self, tendon: Tendon) -> Self {
        let tendons = self.tendons.iter().cloned().chain([tendon]).collect();
        Self { tendons, ..self }
    }

    /// What of it does not lie on a member of this length; `path` is that of the section.
    pub(crate) fn beyond(&self, length: Length, path: &str) -> Vec<Issue> {
        let mut issues = Vec::new();
        let mut beyond = |inside: String, place: Length, message: &'static str| {
            if place >= length {
                let path = if path.is_empty() { inside } else { format!("{path}.{inside}") };
                let issue = Issue::new(slug::CAPACITY_PLACE, path, message).value(place);
                issues.push(issue.limit(Message::new("below {}", [length.into()])));
            }
        };
        for (i, layer) in self.bars.iter().enumerate() {
            if let Some(from) = &layer.from {
                let inside = format!("{}.from", self.bars.path("bars", i));
                beyond(inside, from.value, "bars that begin beyond the member");
            }
        }
        for (i, strip) in self.strips.iter().enumerate() {
            if let Some(from) = &strip.from {
                let inside = format!("{}.from", self.strips.path("strips", i));
                beyond(inside, from.value, "strips that begin beyond the member");
            }
        }
        for (i, tendon) in self.tendons.iter().enumerate() {
            let here = self.tendons.path("tendons", i);
            if let Profile::Draped(d) = &tendon.profile {
                for (k, at) in d.at.iter().enumerate() {
                    let inside = format!("{here}.profile.{}", d.at.path("at", k));
                    beyond(inside, at.value, "a tendon held down beyond the member");
                }
            }
            if let Some(kept) = &tendon.debonded {
                let inside = format!("{here}.debonded");
                beyond(
                    inside,
                    kept.left.value + kept.right.value,
                    "no length of the tendon is bonded",
                );
            }
        }
        issues
    }

    /// Where bars and tendons of a member of this length begin to be anchored, are, and where they turn: what
    /// they carry changes its slope there.
    pub(crate) fn anchored_from(&self, length: Length) -> Vec<Length> {
        let mut places = Vec::new();
        for bars in self.bars.iter() {
            let Some(development) = &bars.development else { continue };
            let from = bars.from.as_ref().map_or(Length::ZERO, |f| f.value);
            let to = bars.to.as_ref().map_or(length, |t| t.value);
            places.extend([from + development.value, to - development.value]);
        }
        for tendon in self.tendons.iter() {
            let kept = tendon.debonded.as_ref();
            let left = kept.map_or(Length::ZERO, |d| d.left.value);
            let right = length - kept.map_or(Length::ZERO, |d| d.right.value);
            let lengths = [&tendon.transfer, &tendon.development].into_iter().flatten();
            places.extend(lengths.flat_map(|l| [left + l.value, right - l.value]));
            places.extend(kept.map(|_| [left, right]).into_iter().flatten());
            if let Profile::Draped(draped) = &tendon.profile {
                places.extend(draped.at.iter().map(|at| at.value));
            }
        }
        places
    }

    /// The section at a place of a member of this length.
    ///
    /// # Errors
    /// All at once: what the record refuses; `capacity.place` for a place beyond the member, bars,
    /// tendons or stretches without bond that do not lie on it.
    pub fn cut(&self, at: Length, length: Length) -> Result<Cut, Error> {
        validate(self)?;
        Error::check(self.beyond(length, ""))?;
        if !(at >= Length::ZERO && at <= length) {
            let message = "a place beyond the member";
            let issue = Issue::new(slug::CAPACITY_PLACE, "at", message).value(at);
            return Err(issue.limit(Message::new("0 to {}", [length.into()])).into());
        }
        Ok(self.at(at, length))
    }

    /// The section at a place, of a record that holds.
    pub(crate) fn at(&self, at: Length, length: Length) -> Cut {
        let over = self.topping.as_ref().map_or(Length::ZERO, |t| t.depth.value);
        let bars = self.bars.iter().enumerate().filter_map(|(i, b)| {
            let anchored = of_bars(b, at, length)?;
            Some(Steel {
                path: self.bars.path("bars", i).into_owned(),
                tendon: false,
                area: b.area.value,
                depth: b.depth.value + over,
                slope: 0.0,
                modulus: b.modulus.value,
                yields: b.yields.clone(),
                breaks: b.breaks.clone(),
                breaking_strain: b.breaking_strain.as_ref().map(|s| s.value),
                curve: None,
                prestress: Stress::ZERO,
                bonded: true,
                anchored,
            })
        });
        let tendons = self.tendons.iter().enumerate().map(|(i, t)| {
            let (depth, slope) = t.profile.at(at, length);
            let (prestress, anchored) = of_tendon(t, at, length);
            Steel {
                path: self.tendons.path("tendons", i).into_owned(),
                tendon: true,
                area: t.area.value,
                depth: depth + over,
                slope,
                modulus: t.modulus.value,
                yields: t.yields.clone(),
                breaks: Some(t.breaks.clone()),
                breaking_strain: t.breaking_strain.as_ref().map(|s| s.value),
                curve: t.curve.clone(),
                prestress,
                bonded: t.bond != Bond::Unbonded,
                anchored,
            }
        });
        Cut {
            at,
            outline: match &self.topping {
                Some(t) => self.shape.outline().under(t.width.value, t.depth.value),
                None => self.shape.outline(),
            },
            web: self.web.as_ref().map(|w| w.value).or_else(|| self.shape.web()),
            concrete: self.concrete.clone(),
            topping: self
                .topping
                .as_ref()
                .map(|t| Layer { depth: t.depth.value, concrete: t.concrete.clone() }),
            steel: bars.chain(tendons).collect(),
            strips: self
                .strips
                .iter()
                .enumerate()
                .filter_map(|(i, s)| s.at(self.strips.path("strips", i).into_owned(), at, length))
                .collect(),
        }
    }
}

impl Cut {
    /// The section without its strips.
    #[must_use]
    pub fn without_strips(&self) -> Self {
        Self { strips: Vec::new(), ..self.clone() }
    }

    /// The section as it was before its topping: depths count from its own top face.
    #[must_use]
    pub fn before_topping(&self) -> Self {
        let Some(layer) = &self.topping else { return self.clone() };
        let mut alone = self.clone();
        alone.outline = self.outline.below(layer.depth);
        alone.topping = None;
        alone.strips.clear();
        alone.steel.iter_mut().for_each(|s| s.depth -= layer.depth);
        alone
    }

    /// Overall depth.
    #[must_use]
    pub fn height(&self) -> Length {
        self.outline.height()
    }

    /// Whether a steel lies on the tension side of a face: in the half of the depth at that face.
    fn tension(&self, steel: &Steel, face: Face) -> bool {
        let middle = self.height() / 2.0;
        match face {
            Face::Bottom => steel.depth > middle,
            Face::Top => steel.depth < middle,
        }
    }

    /// The steel in the half of the depth at a face, which is in tension there.
    pub fn tension_steel(&self, face: Face) -> impl Iterator<Item = &Steel> + '_ {
        self.steel.iter().filter(move |s| self.tension(s, face))
    }

    /// Whether steel or strips can hold a crack at a face: some lies a quarter of the depth or more from the
    /// compressed face (library rule).
    #[must_use]
    pub fn holds_crack(&self, face: Face) -> bool {
        let quarter = self.height() / 4.0;
        let steel = self.steel.iter().any(|s| match face {
            Face::Bottom => s.depth >= quarter,
            Face::Top => s.depth <= quarter * 3.0,
        });
        steel || self.strips.iter().any(|s| s.face == face)
    }

    /// Distance of the centroid of the tension steel from the compressed face, by area; nothing where
    /// there is none.
    #[must_use]
    pub fn effective_depth(&self, face: Face) -> Option<Length> {
        let (area, first) = self.tension_steel(face).fold((0.0, 0.0), |(a, s), steel| {
            (a + steel.area.si(), s + steel.area.si() * steel.depth.si())
        });
        let depth = Length::from_si(first / area);
        (area > 0.0).then(|| match face {
            Face::Bottom => depth,
            Face::Top => self.height() - depth,
        })
    }

    /// Effective prestressing force of all tendons here, compression of the concrete positive.
    #[must_use]
    pub fn prestress_force(&self) -> Force {
        self.steel.iter().map(Steel::prestress_force).sum()
    }

    /// The vertical part of it: what relieves a positive shear.
    #[must_use]
    pub fn prestress_shear(&self) -> Force {
        self.steel.iter().map(|s| s.prestress_force() * s.slope).sum()
    }

    /// Depth of the resultant of the prestress below the top face; nothing without prestress.
    #[must_use]
    pub fn prestress_depth(&self) -> Option<Length> {
        let force = self.prestress_force();
        let moment: f64 = self.steel.iter().map(|s| s.prestress_force().si() * s.depth.si()).sum();
        (force > Force::ZERO).then(|| Length::from_si(moment / force.si()))
    }
}
