//! The answers of the steps on their own, as Python objects.

use std::collections::BTreeMap;
use std::ops::Deref;
use std::sync::Arc;

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
use crate::quantity::{Quantity, Remade};
use crate::tree::{plain_python, to_python};
use crate::working::{Working, working};

fn quantity(of: impl Into<proofspan::units::Quantity>) -> Quantity {
    Quantity::of(of.into())
}

/// A part of an answer as Python has it: dicts, lists, quantities.
pub(crate) struct Whole(Node);

impl<'py> IntoPyObject<'py> for Whole {
    type Target = PyAny;
    type Output = Bound<'py, PyAny>;
    type Error = PyErr;

    fn into_pyobject(self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        Ok(to_python(py, &self.0.settled())?.into_bound(py))
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
                plain_python(py, &self.0.write().settled(), units)
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
        /// Whether the edition's own clause waives it for this deflection.
        waived: bool = |c| c.outcome.code.state == verdict::State::Waived;
        /// Why, in one sentence.
        reason: String = |c| c.reason.to_string();
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
        name: String = |s| s.name.clone();
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
    Reaction(Again<rig::Reacted>, working |r| r.working().clone(), again "reaction") {
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
        advice: &'static str = |r| match &r.least {
            Some(Advice::Place(_)) => "a weight",
            Some(Advice::NothingLifts) => "nothing lifts",
            Some(Advice::NoSuchWeight) => "no such weight",
            Some(Advice::NotSought) => "not sought",
            None => "cannot lift",
        };
        /// Every check: bearings, a factor asked for, strengths at every stage.
        verdicts: Vec<Verdict> = |r| r.verdicts().map(Verdict).collect();
        /// States that endanger people: code and sentence.
        stops: Vec<(String, String)> = |r| stopped(&r.stops);
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
        /// How far reaction, bars and oil follow a member that gives way; None where that is not known.
        springs_back: Option<Quantity> = |p| p.hydraulics.springs_back.map(quantity);
        /// The energy that this gives back.
        energy: Option<Quantity> = |p| p.hydraulics.energy.map(quantity);
        /// By how much the force falls with the way of the member that gives way.
        falls_by: Option<Quantity> = |p| p.hydraulics.falls_by.map(quantity);
        /// What the locked-off circuit does, where pump, hold or gauge is described.
        locked: Whole = |p| Whole(p.hydraulics.locked.write());
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
        stack: Whole = |c| Whole(c.shoring.stack.write());
        /// Least number of levels from the top that carry it; None where all do not.
        levels_needed: Option<usize> = |c| c.shoring.levels_needed;
        /// Every check.
        verdicts: Vec<Verdict> = |c| all(&c.shoring.verdicts, Verdict);
        /// States that endanger people: code and sentence.
        stops: Vec<(String, String)> = |c| stopped(&c.shoring.stops);
        /// What to know: code and sentence.
        notes: Vec<(String, String)> = |c| noted(&c.shoring.notes);
    }

    /// An edition of a code as data. Its figures are known as far as `confidence` says: "V" seen in a
    /// public text, "M" from memory, "M-M" from memory with moderate confidence, "user" given.
    Edition(editions::Edition, again "edition") {
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
