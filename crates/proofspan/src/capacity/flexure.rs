//! Strength in flexure by strain compatibility, with axial force.
//!
//! Strains are linear over the depth; concrete in tension is left out; bars and bonded tendons strain
//! with the concrete, tendons from where their prestress left them. The section fails when the
//! concrete at its compressed face reaches its crushing strain, or a steel its breaking strain.

use super::fibres::{Compression, ConcreteLaw, Fibres, FlexureMode, Solved};
use super::material::StrengthSet;
use super::section::{Cut, Face};
use crate::error::{Error, Issue, slug};
use crate::formula::{NoRecord, Recorder};
use crate::source::rule::{AtLeastOne, Share};
use crate::source::{Given, Reader};
use crate::units::{Area, Force, Length, Moment, PSI, Ratio, Strain, Stress};

crate::laws! {
    /// Strain of the concrete beside a tendon under the prestress alone, compression positive.
    pub fn squeezed(mean: Stress as "f_pc", e: Length as "e", z: Length as "z", r2: Area as "r2", ec: Stress as "E_c") -> f64 as "eps_c" = mean / ec * (1.0 + e * z / r2);
    source "plane sections: (P_e/A + P_e e z/I)/E_c with r2 = I/A, e of all tendons, z of this one below the centroid";
    /// Strain of a tendon when the concrete around it is at zero.
    pub fn tendon_begins(f: Stress as "f_pe", ep: Stress as "E_p", c: f64 as "eps_c") -> f64 as "eps_0" = f / ep + c;
    source "Hooke";
    /// The moment less what the factor of a strip takes from its part, about the compressed concrete.
    pub fn less_of_strip(m: Moment as "M", psi: f64 as "psi_f", t: Force as "T_f", z: Length as "z_f") -> Moment as "M" = m - (1.0 - psi) * (t * z);
    source "ACI 440.2R, factor as given";
    /// Depth of the rectangular block over the depth of the neutral axis; f'c in psi.
    pub fn beta_one(fc: f64 as "f'c [psi]") -> f64 as "beta_1" = max(min(0.85 - 0.05 * ((fc - 4000.0) / 1000.0), 0.85), 0.65);
    source "ACI 318-19, as public summaries give it";
    /// Depth of the rectangular block.
    pub fn block_depth(beta: f64 as "beta_1", c: Length as "c") -> Length as "a" = beta * c;
    source "equivalent rectangular block";
    /// Strain of a steel that strains with the concrete.
    pub fn steel_strain(e0: Strain as "eps_0", ecu: Strain as "eps_top", d: Length as "d", c: Length as "c") -> Strain as "eps_s" = e0 + ecu * ((d - c) / c);
    source "plane sections; eps_0 the strain of the tendon when the concrete around it is at zero";
    /// Force of a steel.
    pub fn steel_force(stress: Stress as "f_s", area: Area as "A_s") -> Force as "T" = stress * area;
    source "statics";
    /// Moments about the axis of the axial force, one part more.
    pub fn with_part(sum: Moment as "M", force: Force as "F", arm: Length as "arm") -> Moment as "M" = sum + force * arm;
    source "statics";
    /// What the forces on the section leave of the axial force: nothing.
    pub fn residual(tension: Force as "T", compression: Force as "C", axial: Force as "N") -> Force as "T - C + N" = tension - compression + axial;
    source "equilibrium";
    /// A strength reduced as a whole.
    pub fn reduced(phi: f64 as "phi", m: Moment as "M_n") -> Moment as "phi M_n" = phi * m;
    source "strength reduction, an input";
}

crate::choice! {
    /// Whose law of compressed concrete.
    pub enum FlexureCode ("code of flexure", source::SOURCE_CHOICE) {
        /// Rectangular block of 0.85 f'c over β₁ c, crushing at 0.003.
        Aci = "ACI 318-19",
        /// Parabola and rectangle, exponent 2, 2.0 ‰ and 3.5 ‰, up to C50/60.
        En = "EN 1992-1-1:2004",
        /// The block that is given.
        Own = "own",
    }
}

crate::rule! {
    /// A stress of compressed concrete over its strength: a tenth to one (library rule).
    pub StressFactor { least 0.1 SOURCE_MAGNITUDE, most 1.0 SOURCE_SHARE }
    /// A strain at which concrete crushes: 1 ‰ to 20 ‰ (library rule).
    pub CrushingStrain { above 0.0 SOURCE_SIGN, least 0.001 SOURCE_MAGNITUDE, most 0.02 SOURCE_MAGNITUDE }
    /// A strain at which concrete reaches its strength: 0.5 ‰ to 10 ‰ (library rule).
    pub PeakStrain { above 0.0 SOURCE_SIGN, least 0.0005 SOURCE_MAGNITUDE, most 0.01 SOURCE_MAGNITUDE }
    /// The exponent of a parabola: 1 to 4 (library rule).
    pub Exponent { least 1.0 SOURCE_MAGNITUDE, most 4.0 SOURCE_MAGNITUDE }
}

crate::record! {
    /// A rectangular block, with figures from a copy of its edition.
    pub struct RectangularBlock {
        /// Its stress over the strength of the concrete.
        stress: f64 where StressFactor,
        /// Its depth over that of the neutral axis.
        depth: f64 where StressFactor,
        /// Strain of the compressed face when it crushes.
        strain: Given<Strain, CrushingStrain>,
        /// Edition and clause.
        source: String,
    }
}

crate::record! {
    /// A parabola up to the peak, a rectangle beyond it, with figures from a copy of the edition.
    pub struct ParabolaRectangle {
        /// Its largest stress over the strength of the concrete.
        stress: f64 where StressFactor,
        /// Exponent of the parabola.
        exponent: f64 where Exponent = 2.0,
        /// Strain at the peak.
        peak: Given<Strain, PeakStrain>,
        /// Strain of the compressed face when it crushes.
        strain: Given<Strain, CrushingStrain>,
        /// Edition and clause.
        source: String,
    }
    rules { peak_before_end[peak, strain]; }
}

fn peak_before_end(
    reader: &mut Reader,
    peak: &Given<Strain, PeakStrain>,
    strain: &Given<Strain, CrushingStrain>,
) {
    if peak.value > strain.value {
        let path = reader.path_of("peak");
        let message = "the concrete crushes before it reaches its strength";
        reader.push(Issue::new(slug::CAPACITY_BLOCK, path, message).value(peak.said()));
    }
}

crate::variant! {
    /// A law of compressed concrete.
    pub enum Block ("block") {
        /// A rectangle.
        Rectangular(RectangularBlock) = "rectangular",
        /// A parabola and a rectangle.
        ParabolaRectangle(ParabolaRectangle) = "parabola_rectangle",
    }
}

crate::record! {
    /// How the design set of flexure is reduced: the factors of an edition, from a copy of it.
    pub struct Reductions {
        /// Factor on the whole strength in flexure, φ.
        flexure: Option<Given<Ratio, Share>>,
        /// Partial factor of concrete, γ_c.
        concrete: Option<Given<Ratio, AtLeastOne>>,
        /// Partial factor of steel, γ_s.
        steel: Option<Given<Ratio, AtLeastOne>>,
    }
    rules { reduce_something[flexure, concrete, steel]; }
}

fn reduce_something(
    reader: &mut Reader,
    flexure: &Option<Given<Ratio, Share>>,
    concrete: &Option<Given<Ratio, AtLeastOne>>,
    steel: &Option<Given<Ratio, AtLeastOne>>,
) {
    if flexure.is_none() && concrete.is_none() && steel.is_none() {
        let message = "reductions without a factor";
        reader.push(Issue::new(slug::CAPACITY_REDUCTION, reader.path(), message));
    }
}

impl Reductions {
    /// A factor on the whole strength.
    pub(crate) fn whole(&self) -> Option<f64> {
        self.flexure.as_ref().map(|f| f.value.value())
    }

    /// Partial factors of concrete and steel, one where they are not given.
    pub(crate) fn partial(&self) -> (f64, f64) {
        let of = |g: &Option<Given<Ratio, AtLeastOne>>| g.as_ref().map_or(1.0, |g| g.value.value());
        (of(&self.concrete), of(&self.steel))
    }
}

/// By what the strength in flexure is asked.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct FlexureQuestion<'a> {
    /// Whose law of compressed concrete.
    pub code: FlexureCode,
    /// The law, where it is one's own.
    pub block: Option<&'a Block>,
    /// Axial force at the centroid of the gross section, compression positive.
    pub axial: Force,
    /// The reductions of the design set.
    pub reductions: Option<&'a Reductions>,
}

crate::answer! {
    /// A layer of bars or a tendon at failure.
    pub struct SteelState {
        /// Which one.
        steel: String,
        /// Its strain, tension positive.
        strain: Strain,
        /// Its stress, tension positive.
        stress: Stress,
        /// Its force, tension positive.
        force: Force,
    }
}

crate::answer! {
    /// A strength in flexure that is predicted, never an approval.
    pub struct Flexure {
        /// The face in tension.
        face: Face,
        /// The set of strengths; of the design set with its reductions.
        set: StrengthSet,
        /// Edition of the law of concrete.
        by: String,
        /// The strength about the centroid of the gross section, positive sagging.
        moment: Moment,
        /// Depth of the neutral axis from the compressed face.
        neutral_axis: Length,
        /// Strain of the compressed face, as a size.
        compressed_strain: Strain,
        /// Resultant of the compressed concrete, less what steel takes the place of.
        compression: Force,
        /// How it fails.
        mode: FlexureMode,
        /// Whether it gives warning.
        ductile: bool,
        /// The steel.
        steel: Vec<SteelState>,
    }
}

impl FlexureCode {
    /// The largest strength as specified that its figures cover; nothing where they have no end here.
    pub(crate) const fn most(self) -> Option<Stress> {
        match self {
            Self::En => Some(Stress::from_si(50e6)),
            Self::Aci | Self::Own => None,
        }
    }

    /// What is to be confirmed of its figures.
    pub(crate) fn unconfirmed(self) -> String {
        let more = if self == Self::En {
            ", with no reduction for long loading (a national value)"
        } else {
            ""
        };
        format!(
            "figures of flexure of {self} as public summaries give them{more}: to be confirmed from a copy"
        )
    }
}

impl FlexureQuestion<'_> {
    /// Of a section without axial force and reduction, by the law of a code.
    #[must_use]
    pub const fn of(code: FlexureCode) -> Self {
        Self { code, block: None, axial: Force::ZERO, reductions: None }
    }

    /// The law with its numbers, of a concrete of this strength as specified.
    pub(crate) fn law<R: Recorder>(
        &self,
        recorder: &mut R,
        strength: Stress,
    ) -> Result<ConcreteLaw, Error> {
        match (self.code, self.block) {
            (FlexureCode::Own, None) => {
                let message = "the law of compressed concrete is one's own, and is not given";
                Err(Issue::new(slug::CAPACITY_BLOCK, "block", message).into())
            }
            (FlexureCode::Own, Some(Block::Rectangular(b))) => Ok(ConcreteLaw {
                shape: Compression::Rectangle { depth: b.depth },
                stress: b.stress,
                crushing: b.strain.value.si(),
                source: b.source.clone(),
            }),
            (FlexureCode::Own, Some(Block::ParabolaRectangle(b))) => Ok(ConcreteLaw {
                shape: Compression::Parabola { peak: b.peak.value.si(), exponent: b.exponent },
                stress: b.stress,
                crushing: b.strain.value.si(),
                source: b.source.clone(),
            }),
            (code, Some(_)) => {
                let message = format!("a block beside the law of {code}");
                Err(Issue::new(slug::CAPACITY_BLOCK, "block", message).into())
            }
            (code @ FlexureCode::Aci, None) => Ok(ConcreteLaw {
                shape: Compression::Rectangle { depth: beta_one(recorder, strength.to(PSI)) },
                stress: 0.85,
                crushing: 0.003,
                source: code.word().to_owned(),
            }),
            (code @ FlexureCode::En, None) => {
                if code.most().is_some_and(|most| strength > most) {
                    let message = "these figures of the parabola end at C50/60";
                    let issue =
                        Issue::new(slug::CAPACITY_OUT_OF_RANGE, "concrete.strength", message);
                    return Err(issue.value(strength).limit("up to 50 MPa").into());
                }
                Ok(ConcreteLaw {
                    shape: Compression::Parabola { peak: 0.002, exponent: 2.0 },
                    stress: 1.0,
                    crushing: 0.0035,
                    source: code.word().to_owned(),
                })
            }
        }
    }
}

/// Whether the steel of a section carries what cracks it: one that does not breaks as it cracks. Both with
/// their signs, sagging positive.
pub(super) fn held(strength: Moment, cracking: Moment, face: Face) -> bool {
    match face {
        Face::Bottom => strength > cracking,
        Face::Top => strength < cracking,
    }
}

/// Whether the expected strength of a section is above what cracks this face of it.
///
/// # Errors
/// What [`Cut::flexure`] refuses but for a section that nothing holds in equilibrium.
pub(super) fn carries_on(
    cut: &Cut,
    face: Face,
    cracking: Moment,
    asked: &FlexureQuestion<'_>,
) -> Result<bool, Error> {
    if !cut.holds_crack(face) {
        return Ok(false);
    }
    match cut.flexure(&mut NoRecord, face, StrengthSet::Expected, asked) {
        Ok(found) => Ok(held(found.moment, cracking, face)),
        Err(e) if e.codes() == [slug::CAPACITY_EQUILIBRIUM.code()] => Ok(false),
        Err(e) => Err(e),
    }
}

impl Cut {
    /// The strength in flexure with this face in tension. An unbonded tendon keeps its effective
    /// stress: what it gains until failure is left out.
    ///
    /// # Errors
    /// `capacity.block`, `capacity.out-of-range`, `capacity.modulus`; `capacity.equilibrium` where no
    /// neutral axis inside the section holds the axial force.
    pub fn flexure<R: Recorder>(
        &self,
        recorder: &mut R,
        face: Face,
        set: StrengthSet,
        asked: &FlexureQuestion<'_>,
    ) -> Result<Flexure, Error> {
        if !self.strips.iter().any(|s| s.face == face && s.counts(set)) {
            return self.bends(recorder, face, set, asked);
        }
        // strips that come off early leave what the section carries without them
        let bare = self.without_strips();
        let with = self.bends(&mut NoRecord, face, set, asked);
        let without = bare.bends(&mut NoRecord, face, set, asked);
        match (with, without) {
            (Ok(with), Ok(without)) if !held(with.moment, without.moment, face) => {
                bare.bends(recorder, face, set, asked)
            }
            (Err(_), Ok(_)) => bare.bends(recorder, face, set, asked),
            _ => self.bends(recorder, face, set, asked),
        }
    }

    fn bends<R: Recorder>(
        &self,
        recorder: &mut R,
        face: Face,
        set: StrengthSet,
        asked: &FlexureQuestion<'_>,
    ) -> Result<Flexure, Error> {
        // what is compressed first decides the shape of the law
        let compressed = match (&self.topping, face) {
            (Some(layer), Face::Bottom) => &layer.concrete,
            _ => &self.concrete,
        };
        let strength = match asked.code {
            FlexureCode::En => compressed.strength.of(StrengthSet::Design),
            _ => compressed.strength.of(set),
        };
        let law = asked.law(recorder, strength)?;
        let reductions = asked.reductions.filter(|_| set == StrengthSet::Design);
        let partial = reductions.map_or((1.0, 1.0), Reductions::partial);
        let fibres = Fibres::new(recorder, self, face, set, &law, partial)?;
        let solved = fibres.solve(asked.axial.si()).ok_or_else(|| {
            let message = "no neutral axis inside the section gives equilibrium";
            Issue::new(slug::CAPACITY_EQUILIBRIUM, "axial", message).value(asked.axial)
        })?;
        let whole = reductions.and_then(Reductions::whole);
        let moment = self.pencil(recorder, &fibres, &solved, asked.axial, whole);
        let steel: Vec<SteelState> = fibres
            .steels
            .iter()
            .map(|s| {
                let (strain, stress) = solved.of(s);
                SteelState {
                    steel: s.path.to_owned(),
                    strain: Strain::from_si(strain),
                    stress: Stress::from_si(stress),
                    force: Force::from_si(stress * s.area),
                }
            })
            .collect();
        let mode = fibres.mode(&solved);
        Ok(Flexure {
            face,
            set,
            by: law.source,
            moment: if face == Face::Bottom { moment } else { -moment },
            neutral_axis: Length::from_si(solved.neutral),
            compressed_strain: Strain::from_si(solved.curvature * solved.neutral),
            compression: Force::from_si(solved.compression),
            mode,
            ductile: mode.ductile(),
            steel,
        })
    }

    /// The strain that a tendon brings with it, redone law by law; nothing of bars.
    fn begins<R: Recorder>(&self, recorder: &mut R, path: &str) {
        let Some(tendon) = self.steel.iter().find(|s| s.tendon && s.path == path) else { return };
        let alone = self.before_topping();
        let over = self.topping.as_ref().map_or(Length::ZERO, |l| l.depth);
        let squeezed = match (&self.concrete.modulus, alone.gross(), alone.prestress_depth()) {
            (Some(modulus), Ok(own), Some(depth)) => {
                let mean = Stress::over(alone.prestress_force(), own.area);
                let (e, z) = (depth - own.centroid, tendon.depth - over - own.centroid);
                let r2 = Area::from_si(own.second_moment.si() / own.area.si());
                squeezed(recorder, mean, e, z, r2, modulus.value)
            }
            _ => 0.0,
        };
        tendon_begins(recorder, tendon.prestress, tendon.modulus, squeezed);
    }

    /// The found equilibrium, redone law by law.
    fn pencil<R: Recorder>(
        &self,
        recorder: &mut R,
        fibres: &Fibres<'_>,
        solved: &Solved,
        axial: Force,
        whole: Option<f64>,
    ) -> Moment {
        let length = Length::from_si;
        let c = length(solved.neutral);
        if let Compression::Rectangle { depth } = fibres.shape {
            block_depth(recorder, depth, c);
        }
        let top = Strain::from_si(solved.curvature * solved.neutral);
        let middle = length(fibres.centroid);
        let compression = Force::from_si(solved.compression);
        let arm = middle - length(solved.lever);
        let mut moment = with_part(recorder, Moment::ZERO, compression, arm);
        let mut tension = Force::ZERO;
        for s in &fibres.steels {
            let (_, stress) = solved.of(s);
            let depth = length(s.depth);
            if s.bonded {
                self.begins(recorder, s.path);
                steel_strain(recorder, Strain::from_si(s.before), top, depth, c);
            }
            let force = steel_force(recorder, Stress::from_si(stress), Area::from_si(s.area));
            moment = with_part(recorder, moment, force, depth - middle);
            if s.factor < 1.0 {
                let lever = depth - length(solved.lever);
                moment = less_of_strip(recorder, moment, s.factor, force, lever);
            }
            tension += force;
        }
        residual(recorder, tension, compression, axial);
        whole.map_or(moment, |phi| reduced(recorder, phi, moment))
    }
}
