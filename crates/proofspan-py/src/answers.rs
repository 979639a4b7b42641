//! The answers of the steps on their own, as Python objects.

use std::collections::BTreeMap;
use std::ops::Deref;
use std::sync::Arc;

use proofspan::capacity::{self, local, shear, strengthening};
use proofspan::criteria::{self, Judged};
use proofspan::editions;
use proofspan::rig::{self, Advice};
use proofspan::shoring::{self, Caught};
use proofspan::source::{Node, Write, write_json};
use proofspan::target::{self, CombinedLoad};
use proofspan::verdict::{self, Note, Stop};
use pyo3::prelude::*;

use crate::by_name;
use crate::documents::shown;
use crate::parts::parts;
use crate::quantity::{Quantity, Remade};
use crate::tree::plain_python;
use crate::working::{Working, working};

fn quantity(of: impl Into<proofspan::units::Quantity>) -> Quantity {
    Quantity::of(of.into())
}

/// Parts of an answer, of the class of this name.
pub(crate) struct Whole(&'static str, Node);

impl<'py> IntoPyObject<'py> for Whole {
    type Target = PyAny;
    type Output = Bound<'py, PyAny>;
    type Error = PyErr;

    fn into_pyobject(self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        parts(py, self.0, &self.1.settled())
    }
}

fn noted(notes: &[Note]) -> Vec<(String, String)> {
    notes.iter().map(|n| (n.slug.code().to_owned(), n.message.to_string())).collect()
}

fn stopped(stops: &[Stop]) -> Vec<(String, String)> {
    stops.iter().map(|s| (s.slug.code().to_owned(), s.message.to_string())).collect()
}

fn all<T: Clone, V>(items: &[T], view: fn(T) -> V) -> Vec<V> {
    items.iter().cloned().map(view).collect()
}

/// A question that can be written down and asked again.
trait Question: Send + Sync {
    fn written(&self) -> String;
}

impl<T: Write + Send + Sync> Question for T {
    fn written(&self) -> String {
        write_json(&self.write())
    }
}

/// An answer with its question, so that a pickle can ask it again.
#[derive(Clone)]
pub(crate) struct Again<T> {
    found: T,
    asked: Arc<dyn Question>,
}

impl<T> Again<T> {
    pub(crate) fn new(found: T, asked: impl Write + Send + Sync + 'static) -> Self {
        Self { found, asked: Arc::new(asked) }
    }

    fn asked(&self) -> String {
        self.asked.written()
    }
}

impl<T> Deref for Again<T> {
    type Target = T;
    fn deref(&self) -> &T {
        &self.found
    }
}

impl<T: PartialEq> PartialEq for Again<T> {
    fn eq(&self, other: &Self) -> bool {
        self.found == other.found
    }
}

/// A shipped edition is asked for by its name, one of one's own is read again.
trait Own {
    fn asked(&self) -> String;
}

impl Own for editions::Edition {
    fn asked(&self) -> String {
        if self.own().is_some() { write_json(&self.file().write()) } else { self.id().to_owned() }
    }
}

macro_rules! views {
    ($(
        $(#[doc = $doc:literal])*
        $name:ident($ty:ty $(, working $working:expr)? $(, again $again:literal)?) {
            $( $(#[doc = $about:literal])* $field:ident : $out:ty = $get:expr; )*
        }
    )*) => {$(
        $(#[doc = $doc])*
        #[pyclass(frozen, eq, module = "proofspan")]
        #[derive(Clone, PartialEq)]
        pub(crate) struct $name(pub(crate) $ty);

        #[pymethods]
        impl $name {
            $(
                $(#[doc = $about])*
                #[getter]
                fn $field(&self) -> $out {
                    let get: fn(&$ty) -> $out = $get;
                    get(&self.0)
                }
            )*

            $(
                /// The working, in "SI" or "US" units: `print` it, or take it line by line.
                #[pyo3(signature = (units = "SI"))]
                fn working(
                    &self,
                    #[pyo3(from_py_with = by_name::units)] units: &str,
                ) -> PyResult<Working> {
                    let get: fn(&$ty) -> proofspan::formula::Working = $working;
                    working(get(&self.0), units)
                }
            )?

            /// Every result, by name; with `units`, "SI" or "US", as JSON can hold it.
            #[pyo3(signature = (units = None))]
            fn to_dict(
                &self,
                py: Python<'_>,
                #[pyo3(from_py_with = by_name::own_units)] units: Option<&str>,
            ) -> PyResult<Py<PyAny>> {
                plain_python(py, units, || self.0.write().settled())
            }

            $(
                fn __reduce__(&self, py: Python<'_>) -> PyResult<Remade<(&'static str, String)>> {
                    let make = py.import("proofspan._core")?.getattr("_again")?.unbind();
                    Ok((make, ($again, self.0.asked())))
                }
            )?

            fn __copy__(&self) -> Self {
                self.clone()
            }

            fn __deepcopy__(&self, _memo: &Bound<'_, PyAny>) -> Self {
                self.clone()
            }

            fn __repr__(&self, py: Python<'_>) -> PyResult<String> {
                shown(py, stringify!($name), &self.0.write().settled())
            }
        }
    )*};
}

views! {
    /// An answered check.
    Verdict(verdict::Verdict) {
        /// The code of the check.
        code: &'static str = |v| v.slug.code();
        /// "pass", "fail", "inconclusive" and others.
        state: &'static str = |v| v.state.word();
        /// What was found; None where nothing could be compared.
        demand: Option<Quantity> = |v| v.demand.si.is_finite().then(|| Quantity::of(v.demand));
        /// What it is held against.
        limit: Option<Quantity> = |v| {
            let kind = v.demand.kind;
            v.limit.value().map(|si| quantity(proofspan::units::Quantity::new(kind, si)))
        };
        /// "at_most" or "at_least"; None where there is no limit.
        side: Option<&'static str> = |v| match v.limit {
            verdict::Limit::AtMost(_) => Some("at_most"),
            verdict::Limit::AtLeast(_) => Some("at_least"),
            verdict::Limit::None => None,
        };
        /// Demand over limit, or limit over demand: up to 1 is inside.
        utilisation: Option<f64> = |v| v.utilisation;
        /// Expanded uncertainty U = 2 u of the margin, of the kind of the demand.
        expanded_uncertainty: Option<Quantity> = |v| {
            let kind = v.demand.kind;
            v.uncertainty.map(|si| quantity(proofspan::units::Quantity::new(kind, si)))
        };
    }

    /// One criterion of an edition with its two outcomes.
    CriterionOutcome(Judged) {
        /// Its name in the edition.
        id: String = |c| c.id.clone();
        /// What it compares, in words.
        about: String = |c| c.about.clone();
        /// The comparison as the edition writes it, with its waiver.
        formula: String = |c| c.formula.clone();
        /// The clause.
        clause: String = |c| c.clause.clone();
        /// The edition's own comparison, without a guard.
        code: Verdict = |c| Verdict(c.outcome.code);
        /// The same guarded by U = 2 u.
        guarded: Verdict = |c| Verdict(c.outcome.guarded);
        /// The probability that the limit is kept; None where no uncertainty is stated.
        conformity: Option<f64> = |c| c.conformity();
        /// Whether the edition's own clause waives it for this deflection.
        waived: bool = |c| c.outcome.code.state == verdict::State::Waived;
        /// Why, in one sentence.
        reason: String = |c| c.reason.to_string();
    }

    /// A ratio of two deflections from one zero.
    SharedRatio(proofspan::uncertainty::SharedRatio) {
        /// The ratio.
        value: f64 = |r| r.value;
        /// Its standard uncertainty.
        u: f64 = |r| r.u;
        /// Its expanded uncertainty U = 2 u.
        expanded_uncertainty: f64 = |r| r.expanded;
        /// Every ratio that the two values allow (Fieller); None where the lower one cannot be told from
        /// zero.
        interval: Option<(f64, f64)> = |r| r.interval;
    }

    /// What one edition says of a record.
    ByEdition(proofspan::ByEdition) {
        /// The edition.
        edition: String = |e| e.edition.clone();
        /// The edition's own outcome, all criteria together.
        code: &'static str = |e| e.code.word();
        /// The guarded outcome.
        guarded: &'static str = |e| e.guarded.word();
        /// What decides the guarded one.
        because: String = |e| e.because.clone();
        /// Every criterion, with what the log says of the run.
        criteria: Vec<CriterionOutcome> = |e| all(&e.criteria, CriterionOutcome);
    }

    /// One record under the criteria of every edition.
    SideBySide(proofspan::SideBySide) {
        /// The test method.
        method: String = |s| s.method.clone();
        /// Every edition that has criteria for the method.
        editions: Vec<ByEdition> = |s| all(&s.editions, ByEdition);
        /// Editions that could not be asked, each with the codes of what it refused.
        refused: Vec<(String, Vec<String>)> =
            |s| s.refused.iter().map(|r| (r.edition.clone(), r.codes.clone())).collect();
        /// The table in Markdown.
        table: String = proofspan::SideBySide::table;
    }

    /// Every criterion of an edition on one deflection and its residual. There is no headline: load,
    /// hold and what people saw are no part of it.
    Acceptance(Again<criteria::Accepted>, working |a| a.working(), again "acceptance") {
        /// The edition.
        edition: String = |a| a.edition.clone();
        /// The span the limits speak of.
        lt: Quantity = |a| quantity(a.lt);
        /// Every criterion.
        criteria: Vec<CriterionOutcome> = |a| all(&a.criteria, CriterionOutcome);
        /// Whether a retest is allowed after what failed, and on which conditions.
        retest: Option<String> = |a| a.retest.clone();
        /// The guarded verdict of every criterion.
        verdicts: Vec<Verdict> = |a| a.verdicts().map(Verdict).collect();
        /// What to know: code and sentence.
        notes: Vec<(String, String)> = |a| noted(&a.notes);
    }

    /// One combination of a test load.
    LoadTerm(CombinedLoad) {
        /// Its name in the edition.
        id: String = |t| t.id.clone();
        /// Factors and symbols of the edition: "1.2*Dw + 1.6*L".
        formula: String = |t| t.formula.clone();
        /// All its load.
        total: Quantity = |t| Quantity::of(t.total);
        /// What the rig must add.
        net: Quantity = |t| Quantity::of(t.net);
        /// Whether no other is larger.
        governs: bool = |t| t.governs;
    }

    /// The combinations of an edition on uniform actions.
    TestLoad(Again<target::TestLoads>, working |t| t.working(), again "test_load") {
        /// The edition.
        edition: String = |t| t.edition.clone();
        /// The name of the load set.
        set: String = |t| t.set.clone();
        /// Why this set applies.
        why: String = |t| t.why.to_string();
        /// Every combination.
        terms: Vec<LoadTerm> = |t| all(&t.terms, LoadTerm);
        /// The names of the largest: several where they tie.
        governing: Vec<String> = |t| t.governing.clone();
        /// What is in place before the test.
        in_place: Quantity = |t| Quantity::of(t.in_place);
        /// All the load of the governing combination.
        total: Quantity = |t| Quantity::of(t.total);
        /// What the rig must add in it.
        net: Quantity = |t| Quantity::of(t.net);
        /// Empty: a test load is no check.
        verdicts: Vec<Verdict> = |_| Vec::new();
        /// What to know: code and sentence.
        notes: Vec<(String, String)> = |t| noted(&t.notes);
    }

    /// One bearing of a reaction member.
    BearingCheck(rig::BearingCheck) {
        /// Its place from the first bearing.
        at: Quantity = |b| quantity(b.at);
        /// What holds it down: own weight and weights.
        stabilising: Quantity = |b| quantity(b.stabilising);
        /// What lifts it.
        uplift: Quantity = |b| quantity(b.uplift);
        /// Stabilising over uplift; None where nothing lifts.
        factor: Option<f64> = |b| b.factor;
        /// Weights over the uplift that own weight does not balance: the other basis.
        factor_on_unbalanced_uplift: Option<f64> = |b| b.factor_on_unbalanced_uplift;
        /// Own weight over uplift.
        factor_without_counterweight: Option<f64> = |b| b.factor_without_counterweight;
        /// The check against the floor.
        verdict: Verdict = |b| Verdict(b.verdict);
    }

    /// A reaction member at one stage.
    ReactionStage(rig::Stage) {
        /// What acts.
        name: String = |s| s.name.to_string();
        /// The test load that acts, in parts of the full one; -1 for the load lost at once.
        fraction: f64 = |s| s.fraction;
        /// Place and force of every support, up positive.
        reactions: Vec<(Quantity, Quantity)> =
            |s| s.reactions.iter().map(|r| (quantity(r.at), quantity(r.force))).collect();
        /// Largest shear, as a size.
        shear: Quantity = |s| quantity(s.shear);
        /// Where.
        shear_at: Quantity = |s| quantity(s.shear_at);
        /// Largest sagging moment.
        sagging: Quantity = |s| quantity(s.sagging);
        /// Where.
        sagging_at: Quantity = |s| quantity(s.sagging_at);
        /// Smallest moment; below zero it hogs.
        least_moment: Quantity = |s| quantity(s.least_moment);
        /// Where.
        least_moment_at: Quantity = |s| quantity(s.least_moment_at);
        /// The checks against the strengths that are given.
        verdicts: Vec<Verdict> = |s| all(&s.verdicts, Verdict);
    }

    /// The least single counterweight for the floor, and its best place.
    LeastWeight(rig::LeastCounterweight) {
        /// The factor it is for.
        factor: f64 = |w| w.factor;
        /// Its best place from the first bearing.
        at: Quantity = |w| quantity(w.at);
        /// Its weight there.
        force: Quantity = |w| quantity(w.force);
        /// What lift-off alone asks there.
        for_lift_off: Quantity = |w| quantity(w.for_lift_off);
        /// What the reversal of the moment alone asks there.
        for_reversal: Quantity = |w| quantity(w.for_reversal);
    }

    /// A reaction member under what pulls on it.
    Reaction(Again<rig::Reacted>, working |r| r.working(), again "reaction") {
        /// The floor of lift-off that applies.
        floor: f64 = |r| r.floor;
        /// Every bearing, from left to right.
        bearings: Vec<BearingCheck> = |r| all(&r.bearings, BearingCheck);
        /// Weights placed, every quarter of the load, unloaded, the load lost at once.
        stages: Vec<ReactionStage> = |r| all(&r.stages, ReactionStage);
        /// The least counterweight; None where none is asked, found or sought: see `advice`.
        least_weight: Option<LeastWeight> =
            |r| r.least.as_ref().and_then(Advice::placed).cloned().map(LeastWeight);
        /// "a weight", "nothing lifts", "no such weight", "not sought", or "cannot lift".
        advice: &'static str = |r| r.least.as_ref().map_or("cannot lift", Advice::word);
        /// Every check: bearings, a factor asked for, strengths at every stage.
        verdicts: Vec<Verdict> = |r| r.verdicts().map(Verdict).collect();
        /// States that endanger people: code and sentence.
        stops: Vec<(String, String)> = |r| stopped(&r.stops);
    }

    /// Area, centroid and second moment of a section.
    SectionProperties(capacity::Properties) {
        /// Overall depth.
        height: Quantity = |p| quantity(p.height);
        /// Area.
        area: Quantity = |p| quantity(p.area);
        /// Depth of the centroid below the top face.
        centroid: Quantity = |p| quantity(p.centroid);
        /// Second moment of area about the centroid.
        second_moment: Quantity = |p| quantity(p.second_moment);
        /// Section modulus of the top face.
        top: Quantity = |p| quantity(p.top);
        /// Section modulus of the bottom face.
        bottom: Quantity = |p| quantity(p.bottom);
    }

    /// When one face cracks: total moments, sagging positive.
    CrackingMoment(capacity::Cracking) {
        /// The face in tension, "bottom" or "top".
        face: &'static str = |c| c.face.word();
        /// The set of strengths, "expected" or "design".
        set: &'static str = |c| c.set.word();
        /// Flexural tensile strength; zero of a section that is cracked.
        strength: Quantity = |c| quantity(c.strength);
        /// Formula, measurement, or why it is zero.
        by: String = |c| c.by.clone();
        /// Moment at which the face comes to zero stress.
        decompression: Quantity = |c| quantity(c.decompression);
        /// Moment at which it cracks.
        moment: Quantity = |c| quantity(c.moment);
        /// Standard uncertainty of that moment, where the scatter is given.
        uncertainty: Option<Quantity> = |c| c.uncertainty.map(quantity);
    }

    /// A layer of bars or a tendon at failure.
    SteelState(capacity::SteelState) {
        /// Which one.
        steel: String = |s| s.steel.clone();
        /// Its strain, tension positive.
        strain: Quantity = |s| quantity(s.strain);
        /// Its stress, tension positive.
        stress: Quantity = |s| quantity(s.stress);
        /// Its force, tension positive.
        force: Quantity = |s| quantity(s.force);
    }

    /// A strength in flexure that is predicted, never an approval.
    FlexuralStrength(capacity::Flexure) {
        /// The face in tension, "bottom" or "top".
        face: &'static str = |f| f.face.word();
        /// The set of strengths; of the design set with its reductions.
        set: &'static str = |f| f.set.word();
        /// Edition of the law of concrete.
        by: String = |f| f.by.clone();
        /// The strength about the centroid of the gross section, sagging positive.
        moment: Quantity = |f| quantity(f.moment);
        /// Depth of the neutral axis from the compressed face.
        neutral_axis: Quantity = |f| quantity(f.neutral_axis);
        /// Strain of the compressed face, as a size.
        compressed_strain: Quantity = |f| quantity(f.compressed_strain);
        /// Resultant of the compressed concrete.
        compression: Quantity = |f| quantity(f.compression);
        /// How it fails, in words.
        mode: &'static str = |f| f.mode.word();
        /// Whether it gives warning.
        ductile: bool = |f| f.ductile;
        /// The steel.
        steel: Vec<SteelState> = |f| all(&f.steel, SteelState);
    }

    /// Second moments of a section in units of its concrete, one face in tension.
    SectionStiffness(capacity::SecondMoments) {
        /// The face in tension, "bottom" or "top".
        face: &'static str = |s| s.face.word();
        /// Without steel.
        gross: Quantity = |s| quantity(s.gross);
        /// With steel.
        transformed: Quantity = |s| quantity(s.transformed);
        /// Cracked.
        cracked: Quantity = |s| quantity(s.cracked);
        /// Depth of the neutral axis of the cracked section from the compressed face.
        neutral_axis: Quantity = |s| quantity(s.neutral_axis);
        /// Under the moment asked about, by the name of each formula.
        effective: BTreeMap<String, Quantity> =
            |s| s.effective.iter().map(|e| (e.by.word().to_owned(), quantity(e.second_moment))).collect();
    }

    /// What a section does: predictions to plan a test by, never an approval.
    SectionStrength(Again<capacity::SectionFound>, working |f| f.working().clone(), again "section_strength") {
        /// The outline from the top face down: depth and width of each corner, half of it on either side.
        outline: Vec<(Quantity, Quantity)> =
            |f| f.outline.iter().map(|c| (quantity(c.depth), quantity(c.width))).collect();
        /// Where its steel lies: which one, depth below the top face, area.
        steel: Vec<(String, Quantity, Quantity)> =
            |f| f.steel.iter().map(|s| (s.steel.clone(), quantity(s.depth), quantity(s.area))).collect();
        /// Gross properties, without steel.
        gross: SectionProperties = |f| SectionProperties(f.gross.clone());
        /// Stresses of the uncracked concrete under the moment asked about, stage by stage, tension positive: "top" and "bottom", of a topping "topping_top" and "topping_bottom"; empty without that moment.
        stresses: BTreeMap<String, Quantity> = |f| f.stresses.iter().flat_map(|s| {
            let topping = [("topping_top", s.topping_top), ("topping_bottom", s.topping_bottom)];
            let own = [("top", Some(s.top)), ("bottom", Some(s.bottom))];
            let each = topping.into_iter().chain(own);
            each.filter_map(|(name, stress)| Some((name.to_owned(), quantity(stress?))))
        }).collect();
        /// With steel; None where the modulus of the concrete is not given.
        transformed: Option<SectionProperties> = |f| f.transformed.clone().map(SectionProperties);
        /// When it cracks: lower and upper face in the expected set, then in the design set.
        cracking: Vec<CrackingMoment> = |f| all(&f.cracking, CrackingMoment);
        /// Strengths in flexure, of each face with steel in both sets.
        flexure: Vec<FlexuralStrength> = |f| all(&f.flexure, FlexuralStrength);
        /// Second moments, of each face with steel.
        stiffness: Vec<SectionStiffness> = |f| all(&f.stiffness, SectionStiffness);
        /// "pass", "fail" or "inconclusive": whether it stays uncracked under the moment asked about.
        stays_uncracked: Option<&'static str> = |f| f.stays_uncracked.map(verdict::State::word);
        /// What the predictions leave out.
        left_out: Vec<&'static str> = |f| f.left_out.clone();
        /// Empty: a prediction is no check.
        verdicts: Vec<Verdict> = |_| Vec::new();
        /// What to know: code and sentence.
        notes: Vec<(String, String)> = |f| noted(&f.notes);
    }

    /// Deflection over load, what is added to that in place.
    Deflections(Again<capacity::Deflections>, again "deflections") {
        /// Where.
        at: Quantity = |d| quantity(d.at);
        /// Share of the full load, stiff and soft deflection, step by step.
        steps: Vec<(f64, Quantity, Quantity)> =
            |d| d.steps.iter().map(|s| (s.share, quantity(s.stiff), quantity(s.soft))).collect();
        /// Where and when it fails by cracking: there the steps end; None where it does not.
        breaks: Whole = |d| Whole("FailsByCracking", d.breaks.write());
        /// Stiffness of the uncracked section in the middle.
        gross: Quantity = |d| quantity(d.gross);
        /// Stiffness of the cracked section in the middle; None without bonded steel in tension.
        cracked: Option<Quantity> = |d| d.cracked.map(quantity);
        /// What to know: code and sentence.
        notes: Vec<(String, String)> = |d| noted(&d.notes);
    }

    /// Pressure and movement of one press of jacks.
    Hydraulics(Again<rig::Pressed>, working |p| p.working().clone(), again "hydraulics") {
        /// Force of one jack.
        force_per_jack: Quantity = |p| quantity(p.hydraulics.force_per_jack);
        /// Pump pressure, friction included.
        pressure: Quantity = |p| quantity(p.hydraulics.pressure);
        /// The same without friction.
        pressure_without_friction: Quantity =
            |p| quantity(p.hydraulics.pressure_without_friction);
        /// Stretch of the bars.
        bar_stretch: Quantity = |p| quantity(p.hydraulics.bar_stretch);
        /// Stroke that is needed.
        travel: Quantity = |p| quantity(p.hydraulics.travel);
        /// What of the stroke is used; None where no stroke is left.
        stroke_used: Option<f64> = |p| p.hydraulics.stroke_used.map(|r| r.value());
        /// What the locked-off oil would still push, where the oil is described.
        oil_travel: Option<Quantity> = |p| p.hydraulics.oil_travel.map(quantity);
        /// The most that one jack gives: their friction differs.
        jack_most: Quantity = |p| quantity(p.hydraulics.jack_most);
        /// The least that one jack gives.
        jack_least: Quantity = |p| quantity(p.hydraulics.jack_least);
        /// The jacks one by one, where they are described so.
        rams: Whole = |p| Whole("RigRam", p.hydraulics.rams.write());
        /// How far the resultant stands from where equal jacks would have it; None without places across.
        off_middle: Option<Quantity> = |p| p.hydraulics.off_middle.map(quantity);
        /// How far the share of one jack lies from that of equal ones at most; None where they are alike.
        uneven: Option<f64> = |p| p.hydraulics.uneven;
        /// How far reaction, bars and oil follow a member that gives way; None where that is not known.
        springs_back: Option<Quantity> = |p| p.hydraulics.springs_back.map(quantity);
        /// The energy that this gives back.
        energy: Option<Quantity> = |p| p.hydraulics.energy.map(quantity);
        /// By how much the force falls with the way of the member that gives way.
        falls_by: Option<Quantity> = |p| p.hydraulics.falls_by.map(quantity);
        /// What the locked-off circuit does, where pump, hold or gauge is described.
        locked: Whole = |p| Whole("LockedCircuit", p.hydraulics.locked.write());
        /// Pressure against its rating, travel against the stroke.
        verdicts: Vec<Verdict> = |p| all(&p.verdicts, Verdict);
        /// States that endanger people: code and sentence.
        stops: Vec<(String, String)> = |p| stopped(&p.stops);
        /// What to know: code and sentence.
        notes: Vec<(String, String)> = |p| noted(&p.notes);
    }

    /// One level that carries a catch.
    LevelShare(shoring::LevelShare) {
        /// Its share of the force of the catch.
        share: f64 = |l| l.share.value();
    }

    /// One catch with what falls on it.
    CaughtForce(Caught) {
        /// Its place.
        at: Quantity = |c| quantity(c.at);
        /// Place of the crack that loads it most; None where nothing that falls rests on it.
        crack: Option<Quantity> = |c| c.crack.map(quantity);
        /// Static force of what is in place.
        own: Quantity = |c| quantity(c.own);
        /// Static force of the test load, were it weights.
        test: Quantity = |c| quantity(c.test);
        /// Force without a drop in height, as a check.
        contact_force: Quantity = |c| quantity(c.contact_force);
        /// Dynamic force with the gap that is given.
        force: Quantity = |c| quantity(c.force);
        /// The same were all of the test load a weight and the catch without a pad.
        bound: Quantity = |c| quantity(c.bound);
        /// The dynamic force over the static one; None where nothing falls.
        dynamic: Option<f64> = |c| c.dynamic;
        /// The bound over the static force.
        dynamic_bound: Option<f64> = |c| c.dynamic_bound;
        /// How far the pad is crushed, where there is one.
        crushed: Option<Quantity> = |c| c.crushed.map(quantity);
        /// What the posts carry.
        resistance: Quantity = |c| quantity(c.resistance);
        /// What the bracing of the posts holds sideways.
        sideways: Quantity = |c| quantity(c.sideways);
        /// Whether the locked-off rig is slack before the catch stops the drop.
        slack: bool = |c| c.slack;
        /// Least gap: reading expected and its uncertainty.
        gap_low: Quantity = |c| quantity(c.gap_low);
        /// The same with the clearance of the library rule.
        gap_recommended: Quantity = |c| quantity(c.gap_recommended);
        /// Largest gap whose drop the catch can stop; None where it stops none.
        gap_high: Option<Quantity> = |c| c.gap_high.map(quantity);
    }

    /// The catches under a member, and the levels below.
    CatchCheck(Again<shoring::CatchCheck>, working |c| c.working().clone(), again "catch") {
        /// Every catch.
        catches: Vec<CaughtForce> = |c| all(&c.shoring.catches, CaughtForce);
        /// The largest sum of the catch forces of one failure: what the levels carry.
        force: Quantity = |c| quantity(c.shoring.force);
        /// The levels below, the top first.
        levels: Vec<LevelShare> = |c| all(&c.shoring.levels, LevelShare);
        /// What every level does, the top first, the ground last.
        stack: Whole = |c| Whole("LevelLoad", c.shoring.stack.write());
        /// Least number of levels from the top that carry it; None where all do not.
        levels_needed: Option<usize> = |c| c.shoring.levels_needed;
        /// Every check.
        verdicts: Vec<Verdict> = |c| all(&c.shoring.verdicts, Verdict);
        /// States that endanger people: code and sentence.
        stops: Vec<(String, String)> = |c| stopped(&c.shoring.stops);
        /// What to know: code and sentence.
        notes: Vec<(String, String)> = |c| noted(&c.shoring.notes);
    }

    /// The parts of a shear strength in one set.
    ShearParts(shear::ShearParts) {
        /// What the concrete carries.
        concrete: Quantity = |p| quantity(p.concrete);
        /// What the stirrups carry, as far as it counts.
        stirrups: Quantity = |p| quantity(p.stirrups);
        /// The struts, EN 1992-1-1 with stirrups.
        struts: Option<Quantity> = |p| p.struts.map(quantity);
        /// cot θ of the struts.
        strut_slope: Option<f64> = |p| p.strut_slope;
        /// The strength, reduced in the design set.
        strength: Quantity = |p| quantity(p.strength);
        /// What decides.
        governs: &'static str = |p| p.governs.word();
    }

    /// One-way shear of a section: a prediction to plan a test by, never an approval.
    ShearStrength(Again<shear::ShearFound>, working |f| f.working().clone(), again "shear_strength") {
        /// The edition.
        edition: &'static str = |f| f.edition.word();
        /// The clause.
        clause: &'static str = |f| f.clause;
        /// Mean strengths, no reduction.
        expected: ShearParts = |f| ShearParts(f.expected.clone());
        /// Specified strengths, reduced; None where the factors are not given.
        design: Option<ShearParts> = |f| f.design.clone().map(ShearParts);
        /// Shear at which flexure-shear cracks are expected; None where the method does not say it.
        flexure_shear: Option<Quantity> = |f| f.flexure_shear.map(quantity);
        /// Shear at which web-shear cracks are expected; None where the method does not say it.
        web_shear: Option<Quantity> = |f| f.web_shear.map(quantity);
        /// Shear of the test over the expected strength.
        test_ratio: Option<f64> = |f| f.test_ratio;
        /// The clear distance to the bearing over the effective depth.
        near_support: Option<Verdict> = |f| f.near_support.map(Verdict);
        /// What to know: code and sentence.
        notes: Vec<(String, String)> = |f| noted(&f.notes);
        /// What the prediction leaves out.
        left_out: Vec<&'static str> = |f| f.left_out.clone();
    }

    /// Whether a test exercises wraps and stirrups: before the web cracks they are nearly unstrained.
    Exercised(strengthening::Exercised) {
        /// "unlikely, not excluded", "open" or "likely"; never a bare yes.
        likely: &'static str = |e| e.likely.word();
        /// Shear of the test, total.
        test: Quantity = |e| quantity(e.test);
        /// The lower of flexure-shear and web-shear cracking.
        cracking: Quantity = |e| quantity(e.cracking);
        /// The one over the other.
        ratio: f64 = |e| e.ratio;
        /// Scatter of the cracking strength, as a part of it.
        scatter: f64 = |e| e.scatter.value();
    }

    /// What wraps carry in shear: a prediction to plan a test by, never an approval.
    WrapShear(Again<strengthening::WrapFound>, working |f| f.working().clone(), again "wrap_shear") {
        /// V_f of all webs with the mean strength of the concrete, no reduction.
        expected: Quantity = |f| quantity(f.expected);
        /// V_f of all webs with the specified strength, before ψ_f and φ.
        specified: Quantity = |f| quantity(f.specified);
        /// Strain that the wraps reach.
        strain: Quantity = |f| quantity(f.strain);
        /// Bond-reduction factor; None of a complete or anchored wrap.
        bond_reduction: Option<f64> = |f| f.bond_reduction;
        /// Length that bonds.
        bond_length: Option<Quantity> = |f| f.bond_length.map(quantity);
        /// ψ_f.
        factor: f64 = |f| f.factor;
        /// V_c + V_s + V_f without reduction, where the concrete is given.
        strength: Option<Quantity> = |f| f.strength.map(quantity);
        /// φ(V_c + V_s + ψ_f V_f), where the concrete and φ are given.
        design: Option<Quantity> = |f| f.design.map(quantity);
        /// Whether the planned test exercises the wraps.
        exercised: Option<Exercised> = |f| f.exercised.clone().map(Exercised);
        /// What to know: code and sentence.
        notes: Vec<(String, String)> = |f| noted(&f.notes);
        /// What the prediction leaves out.
        left_out: Vec<&'static str> = |f| f.left_out.clone();
    }

    /// What added stirrups carry in shear: a prediction to plan a test by, never an approval.
    AddedStirrups(Again<strengthening::AddedShear>, working |f| f.working().clone(), again "added_stirrups") {
        /// The shear, without reduction.
        shear: Quantity = |f| quantity(f.shear);
    }

    /// What a bonded strip adds in flexure: a prediction to plan a test by, never an approval.
    BondedStrip(Again<strengthening::StripFound>, working |f| f.working().clone(), again "bonded_strip") {
        /// The strain that counts.
        strain: Quantity = |f| quantity(f.strain);
        /// Whether it comes off before the concrete crushes.
        debonds: bool = |f| f.debonds;
        /// Its force.
        force: Quantity = |f| quantity(f.force);
        /// Its moment about the compressed concrete, without reduction.
        moment: Quantity = |f| quantity(f.moment);
    }

    /// One rule that a member must keep without its strengthening.
    ReducedCheck(strengthening::ReducedCheck) {
        /// The rule.
        rule: &'static str = |c| c.rule.word();
        /// "strengthening lost" or "fire".
        case: &'static str = |c| c.case.word();
        /// Its largest combination against the strength.
        verdict: Verdict = |c| Verdict(c.verdict);
    }

    /// A member without its strengthening, at normal temperature and in fire.
    WithoutStrengthening(Again<strengthening::ReducedFound>, working |f| f.working().clone(), again "without_strengthening") {
        /// The checks, in the order of the rules.
        checks: Vec<ReducedCheck> = |f| all(&f.checks, ReducedCheck);
        /// All of them together: no test makes a failed one good.
        state: &'static str = |f| f.state.word();
        /// What to know: code and sentence.
        notes: Vec<(String, String)> = |f| noted(&f.notes);
        /// What the checks leave out.
        left_out: Vec<&'static str> = |f| f.left_out.clone();
    }

    /// A local strength under one action.
    LocalCheck(local::LocalCheck) {
        /// "test" or "catch".
        action: &'static str = |c| c.action;
        /// Against the design strength.
        verdict: Verdict = |c| Verdict(c.verdict);
    }

    /// Bearing, punching, a plate, or a detail at a bearing.
    LocalStrength(Again<local::LocalFound>, working |f| f.working().clone(), again "local_strength") {
        /// Edition and clause.
        clause: &'static str = |f| f.clause;
        /// How it gives way, brittle or ductile.
        mode: &'static str = |f| f.mode;
        /// The force it carries with mean strengths, no reduction.
        expected: Option<Quantity> = |f| f.expected.map(quantity);
        /// The force it carries with specified strengths, reduced.
        design: Option<Quantity> = |f| f.design.map(quantity);
        /// The action of the test and of the catch, each on its own.
        checks: Vec<LocalCheck> = |f| all(&f.checks, LocalCheck);
        /// What to know: code and sentence.
        notes: Vec<(String, String)> = |f| noted(&f.notes);
        /// What the check leaves out.
        left_out: Vec<&'static str> = |f| f.left_out.clone();
    }

    /// An edition of a code as data. Its figures are known as far as `confidence` says: "V" seen in a
    /// public text, "M" from memory, "M-M" from memory with moderate confidence, "user" given.
    Edition(Arc<editions::Edition>, again "edition") {
        /// The stable name.
        id: String = |e| e.id().to_owned();
        /// The name people use; that of an edition of one's own carries its fingerprint.
        name: String = |e| e.name().to_owned();
        /// The title.
        title: String = |e| e.title().to_owned();
        /// The year.
        year: u32 = |e| e.year();
        /// "current", "superseded" or "withdrawn".
        status: &'static str = |e| e.status().word();
        /// The edition that replaced it.
        superseded_by: Option<String> = |e| e.superseded_by().map(str::to_owned);
        /// The clause of the test load.
        clause: String = |e| e.clause().to_owned();
        /// What must be entered from a bought copy, where its figures are not known.
        to_enter: Option<String> = |e| e.unknown().map(str::to_owned);
        /// The load set that applies unless another is asked for and earned.
        default_set: Option<String> = |e| e.file().default_set.clone();
        /// "lt" or "l": the span its limits speak of.
        span_rule: &'static str = |e| e.span_rule().word();
        /// Whether deflections count under the imposed test load only.
        imposed_only: bool = |e| e.imposed_only();
        /// The load sets.
        sets: Vec<EditionSet> = |e| all(&e.file().sets, EditionSet);
        /// The criteria of every method, each with its waiver.
        criteria: Vec<EditionCriterion> = |e| all(&e.file().criteria, EditionCriterion);
        /// The steps of every method.
        protocols: Vec<EditionProtocol> = |e| all(&e.file().protocols, EditionProtocol);
        /// What is allowed after a failed test.
        retests: Vec<EditionRetest> = |e| all(&e.file().retest, EditionRetest);
        /// The rules that stop a test while it runs.
        stop_rules: Vec<EditionStopRule> = |e| all(&e.file().stop_rules, EditionStopRule);
        /// The adjusted factor of a bridge proof test, where it has one.
        bridge_proof: Option<EditionBridgeProof> =
            |e| e.file().bridge_proof.clone().map(EditionBridgeProof);
    }

    /// A load set of an edition.
    EditionSet(editions::SetFile) {
        /// Its name inside the edition.
        id: String = |s| s.id.clone();
        /// When it applies, in words.
        about: String = |s| s.about.clone();
        /// When it applies, as a formula of facts; None for an only set.
        when: Option<String> = |s| s.when.clone();
        /// How well its figures are known.
        confidence: &'static str = |s| s.confidence.word();
        /// What to know about it.
        note: Option<String> = |s| s.note.clone();
        /// The combinations.
        rows: Vec<EditionRow> = |s| all(&s.rows, EditionRow);
    }

    /// A combination of an edition.
    EditionRow(editions::RowFile) {
        /// Its name inside the set.
        id: String = |r| r.id.clone();
        /// The factor of every symbol: {"Dw": 1.0, "L": 1.6, "Lr|S|R": 0.5}.
        factors: BTreeMap<String, f64> =
            |r| r.factors.0.iter().map(|(c, f)| (c.word().to_owned(), *f)).collect();
        /// A factor that multiplies the whole row.
        scale: f64 = |r| r.scale;
        /// The factor that the live load may fall to, where a clause lets it be reduced.
        live_reduced_to: Option<f64> = |r| r.live_reduction.as_ref().map(|l| l.to);
        /// The condition that forbids it.
        live_reduced_unless: Option<String> =
            |r| r.live_reduction.as_ref().map(|l| l.unless.clone());
    }

    /// A criterion of an edition.
    EditionCriterion(editions::CriterionFile) {
        /// The test method it belongs to.
        method: String = |c| c.method.clone();
        /// Its name inside the edition.
        id: String = |c| c.id.clone();
        /// What it compares, in words.
        about: String = |c| c.about.clone();
        /// The comparison; None where a person is asked.
        limit: Option<String> = |c| c.limit.clone();
        /// What a person is asked and signs.
        ask: Option<String> = |c| c.ask.clone();
        /// The edition's own waiver.
        waive_if: Option<String> = |c| c.waive_if.clone();
        /// When it applies at all.
        applies_if: Option<String> = |c| c.applies_if.clone();
        /// What to know about it.
        note: Option<String> = |c| c.note.clone();
        /// Criteria of one method with the same number suffice one for all.
        any_of: Option<u32> = |c| c.any_of;
        /// The clause.
        clause: String = |c| c.clause.clone();
        /// How well its figures are known.
        confidence: &'static str = |c| c.confidence.word();
    }

    /// The steps that an edition asks of a method.
    EditionProtocol(editions::ProtocolFile) {
        /// The test method.
        method: String = |p| p.method.clone();
        /// Least age of the concrete.
        min_age: Option<Quantity> = |p| p.min_age.map(quantity);
        /// The zero reading is at most so long before the first increment.
        zero_before: Option<Quantity> = |p| p.zero_before.map(quantity);
        /// The smallest number of about equal increments.
        min_increments: Option<u32> = |p| p.min_increments;
        /// The hold at full load.
        full_hold: Option<Quantity> = |p| p.full_hold.map(quantity);
        /// When the residual is read, after unloading.
        residual_after: Option<Quantity> = |p| p.residual_after.map(quantity);
        /// "at", "within" or "at_least" that time.
        residual_time_rule: Option<&'static str> = |p| p.residual_time_rule.map(|r| r.word());
        /// The shortest time before a retest.
        retest_gap: Option<Quantity> = |p| p.retest_gap.map(quantity);
        /// Name, peak as a part of the full load, and pair of every cycle.
        cycles: Vec<(String, f64, u32)> =
            |p| p.cycles.iter().map(|c| (c.name.clone(), c.level, c.pair)).collect();
        /// The least load between cycles, as a part of the full load.
        p_min: Option<f64> = |p| p.p_min;
        /// The shortest hold of a step.
        step_hold: Option<Quantity> = |p| p.step_hold.map(quantity);
        /// How often the load is brought on, at least.
        applications: Option<u32> = |p| p.applications;
        /// The shortest time between two applications.
        gap_between: Option<Quantity> = |p| p.gap_between.map(quantity);
        /// How well its figures are known.
        confidence: &'static str = |p| p.confidence.word();
        /// What to know about it.
        note: Option<String> = |p| p.note.clone();
    }

    /// What an edition allows after a failed test.
    EditionRetest(editions::RetestFile) {
        /// The test method it belongs to.
        method: String = |r| r.method.clone();
        /// Only these criteria may have failed.
        after_failed: Vec<String> = |r| r.after_failed.clone();
        /// The condition under which it is allowed.
        allowed_if: Option<String> = |r| r.allowed_if.clone();
        /// The comparison of the retest.
        limit: String = |r| r.limit.clone();
        /// The criteria it replaces.
        replaces: Vec<String> = |r| r.replaces.clone();
        /// The shortest time between the tests.
        gap: Option<Quantity> = |r| r.gap.map(quantity);
        /// How well its figures are known.
        confidence: &'static str = |r| r.confidence.word();
    }

    /// A rule of an edition that stops a test while it runs.
    EditionStopRule(editions::StopRuleFile) {
        /// Its name.
        id: String = |r| r.id.clone();
        /// What must hold while the load is on.
        limit: Option<String> = |r| r.limit.clone();
        /// What must hold after unloading.
        residual: Option<String> = |r| r.residual.clone();
        /// What a person is asked.
        ask: Option<String> = |r| r.ask.clone();
        /// How well its figures are known.
        confidence: &'static str = |r| r.confidence.word();
    }

    /// The adjusted factor of a bridge proof test.
    EditionBridgeProof(editions::BridgeProofFile) {
        /// The factor before adjustment.
        base: f64 = |b| b.base;
        /// The least factor after adjustment.
        at_least: f64 = |b| b.at_least;
        /// The largest factor after adjustment.
        at_most: f64 = |b| b.at_most;
        /// Each adjustment in percent of the base factor.
        adjust_percent: BTreeMap<String, f64> =
            |b| b.adjust_percent.iter().map(|a| (a.id.clone(), a.percent)).collect();
        /// Pairs of adjustments that exclude each other.
        exclusive: Vec<Vec<String>> = |b| b.exclusive.clone();
        /// What of the capacity counts if distress stops the test.
        stopped_by_distress: f64 = |b| b.stopped_by_distress;
        /// How well its figures are known.
        confidence: &'static str = |b| b.confidence.word();
    }
}
