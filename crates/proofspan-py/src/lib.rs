//! The Python extension: Python objects to trees, results to Python objects. No engineering here.

mod actions;
mod alone;
mod answers;
mod beam;
mod by_name;
mod certified;
mod column;
mod decisions;
mod documents;
mod errors;
mod frames;
mod lines;
mod numbers;
mod parts;
mod pickle;
mod quantity;
mod record;
mod reference;
mod refuse;
mod results;
mod search;
mod steps;
mod tree;
mod working;

/// The extension module.
#[pyo3::pymodule]
mod _core {
    #[pymodule_export]
    use super::actions::{compare, ponding, snow_drift};
    #[pymodule_export]
    use super::alone::{
        _again, acceptance, added_stirrups, bonded_strip, catch, deflections, edition, hydraulics,
        judge_record, local_strength, reaction, section_strength, shear_strength, shear_strengths,
        test_load, without_strengthening, wrap_shear,
    };
    #[pymodule_export]
    use super::answers::{
        Acceptance, AddedStirrups, BearingCheck, BondedStrip, ByEdition, CatchCheck, CaughtForce,
        CrackingMoment, CriterionOutcome, Deflections, Edition, EditionBridgeProof,
        EditionCriterion, EditionProtocol, EditionRetest, EditionRow, EditionSet, EditionStopRule,
        Exercised, FlexuralStrength, Hydraulics, LeastWeight, LevelShare, LoadTerm, LocalCheck,
        LocalStrength, Reaction, ReactionStage, ReducedCheck, SectionProperties, SectionStiffness,
        SectionStrength, SharedRatio, ShearParts, ShearStrength, SideBySide, SteelState, TestLoad,
        Verdict, WithoutStrengthening, WrapShear,
    };
    #[pymodule_export]
    use super::beam::{Beam, Load, Response, Support};
    #[pymodule_export]
    use super::certified::{Certified, Conflict, assured, confirm, optimise};
    #[pymodule_export]
    use super::column::{_column, Column};
    #[pymodule_export]
    use super::decisions::{
        conformity, decision_risks, effective, guard_for_risk, shared_ratio, side_by_side,
    };
    #[pymodule_export]
    use super::documents::{
        Action, Anchor, Bags, Bars, BeamSpec, Candidate, CapacitySpec, Catch, Counterweight,
        DeflectionLimit, Deviations, Doubt, EditionChoice, Facts, Finding, Gauge, JackLine, Jacks,
        LayoutSpec, Level, Loads, LogSpec, Member, MomentLimit, Objective, OvershootLimit, Pad,
        PointAction, ProtocolSpec, Reach, ReactionLimit, ReactionMember, RigSpec, Rigidity, Room,
        RunRecord, Scope, SearchSpec, Sharing, ShearLimit, ShearSpan, ShoringSpec, SiteRecords,
        Spreader, StageSpec, StretchSpec, Stub, SupportSpec, Taper, TestSpec, Water, Wheels,
        Within,
    };
    #[pymodule_export]
    use super::errors::{DataError, InputError, ProofspanError, SolverError, StopError};
    #[pymodule_export]
    use super::lines::{Envelope, Influence, usual_patterns};
    #[pymodule_export]
    use super::parts::Part;
    #[pymodule_export]
    use super::pickle::{_beam, _load, _support};
    #[pymodule_export]
    use super::quantity::{_quantity, Quantity, show_in};
    #[pymodule_export]
    use super::reference::Reference;
    #[pymodule_export]
    use super::refuse::_refusal;
    #[pymodule_export]
    use super::results::{
        Design, Judgement, codes, design, editions, judge, read_log_faults, schema,
    };
    #[pymodule_export]
    use super::search::{Searched, basin, given, grid, jack, patch, refine, search, stack};
    #[pymodule_export]
    use super::steps::{Layout, Target, make_layout, make_target};
    #[pymodule_export]
    use super::working::{Working, WorkingStep};

    /// Signatures and fields of the document classes, from the tables of their records.
    #[pymodule_init]
    fn init(module: &pyo3::Bound<'_, pyo3::types::PyModule>) -> pyo3::PyResult<()> {
        super::parts::add(module)?;
        super::documents::describe(module.py())
    }

    #[pymodule_export]
    #[allow(non_upper_case_globals, reason = "the name Python expects")]
    const __version__: &str = env!("CARGO_PKG_VERSION");
}
