//! The file format of an edition: records with the checks between their fields.

use super::factors::Factors;
use crate::error::{Issue, slug};
use crate::source::Reader;
use crate::source::rule::{Count, Share, Wait};
use crate::units::Duration;

crate::choice! {
    /// How well a figure is known.
    pub enum Confidence ("confidence", source::SOURCE_CHOICE) {
        /// Seen in a public text.
        Seen = "V",
        /// From memory of the document.
        Memory = "M",
        /// From memory, with moderate confidence.
        Moderate = "M-M",
        /// Given by the user.
        User = "user",
    }
}

crate::choice! {
    /// Whether the edition is in force.
    pub enum Status ("status", source::SOURCE_CHOICE) {
        /// In force.
        Current = "current",
        /// Replaced by another.
        Superseded = "superseded",
        /// No longer in force and not replaced by name.
        Withdrawn = "withdrawn",
    }
}

crate::choice! {
    /// Which span a limit speaks of.
    pub enum SpanRule ("span rule", source::SOURCE_CHOICE) {
        /// The lesser of centre to centre and clear span plus depth; twice a cantilever.
        Lt = "lt",
        /// The effective span, centre to centre.
        L = "l",
    }
}

crate::choice! {
    /// When the residual is read, against the time the edition names.
    pub enum ResidualTime ("residual time rule", source::SOURCE_CHOICE) {
        /// At that time; two hours more or less are allowed (library rule).
        At = "at",
        /// Not later.
        Within = "within",
        /// Not earlier.
        AtLeast = "at_least",
    }
}

impl ResidualTime {
    /// Whether a reading at `taken` after unloading keeps the rule for `named`.
    #[must_use]
    pub fn keeps(self, taken: Duration, named: Duration) -> bool {
        match self {
            Self::At => (taken - named).abs() <= Duration::from_si(7200.0),
            Self::Within => taken <= named,
            Self::AtLeast => taken >= named,
        }
    }
}

crate::choice! {
    /// What snow load the factors of an edition expect.
    pub enum SnowBasis ("snow basis", source::SOURCE_CHOICE) {
        /// Nominal: multiplied by a factor in strength combinations.
        Nominal = "nominal",
        /// As the edition of the loading standard it refers to.
        ByReference = "by_reference",
        /// The file does not say.
        Unstated = "unstated",
    }
}

crate::rule! {
    /// A load factor: above zero, up to a hundred (library rule).
    pub Factor { above 0.0 EDITIONS_FILE, most 100.0 EDITIONS_FILE }
    /// A factor that a live load may fall to.
    pub ReducedTo { least 0.0 EDITIONS_FILE, most 100.0 EDITIONS_FILE }
    /// A part of the full test load at the peak of a cycle.
    pub CycleLevel { above 0.0 EDITIONS_FILE, most 1.0 EDITIONS_FILE }
    /// What of a capacity counts.
    pub Counts { least 0.0 EDITIONS_FILE, most 1.0 EDITIONS_FILE }
    /// An adjustment in percent: above -100, up to a thousand (library rule).
    pub Percent { above -100.0 EDITIONS_FILE, most 1000.0 EDITIONS_FILE }
    /// A year in which an edition can have come out (library rule).
    pub Year { most 2200.0 SOURCE_MAGNITUDE }
}

crate::record! {
    /// A live load that a clause lets be reduced in one row.
    pub struct LiveReduction {
        /// The factor it may fall to.
        to: f64 where ReducedTo,
        /// The condition that forbids it.
        unless: String,
    }
}

crate::record! {
    /// A combination in the file.
    pub struct RowFile {
        /// Its name inside the set.
        id: String,
        /// Its factors.
        factors: Factors,
        /// A factor that multiplies the whole row.
        scale: f64 where Factor = 1.0,
        /// A live load that may be reduced in this row.
        live_reduction: Option<LiveReduction>,
    }
}

crate::record! {
    /// A load set in the file.
    pub struct SetFile {
        /// Its name inside the edition.
        id: String,
        /// When it applies, in words.
        about: String,
        /// When it applies, as a formula of facts; none for an only set.
        when: Option<String>,
        /// How well its figures are known.
        confidence: Confidence,
        /// What to know about it.
        note: Option<String>,
        /// The combinations.
        rows: Vec<RowFile>,
    }
}

crate::record! {
    /// A protocol in the file.
    pub struct ProtocolFile {
        /// The test method.
        method: String,
        /// Least age of the concrete.
        min_age: Option<Duration> where Wait,
        /// The zero reading is at most so long before the first increment.
        zero_before: Option<Duration> where Wait,
        /// The smallest number of about equal increments.
        min_increments: Option<u32> where Count,
        /// The hold at full load.
        full_hold: Option<Duration> where Wait,
        /// When the residual is read, after unloading.
        residual_after: Option<Duration> where Wait,
        /// Whether that time is `at`, `within` or `at_least`.
        residual_time_rule: Option<ResidualTime>,
        /// The shortest time before a retest.
        retest_gap: Option<Duration> where Wait,
        /// The cycles of a cyclic test, in order.
        cycles: Vec<CycleFile> = Vec::new(),
        /// The least load between cycles, as a part of the full test load.
        p_min: Option<f64> where Share,
        /// The shortest hold of a step.
        step_hold: Option<Duration> where Wait,
        /// How often the load is brought on, at least.
        applications: Option<u32> where Count,
        /// The shortest time between two applications.
        gap_between: Option<Duration> where Wait,
        /// How well its figures are known.
        confidence: Confidence,
        /// What to know about it.
        note: Option<String>,
    }
}

crate::record! {
    /// One cycle of a cyclic test.
    pub struct CycleFile {
        /// Its name.
        name: String,
        /// Its peak, as a part of the full test load.
        level: f64 where CycleLevel,
        /// The pair of equal cycles it belongs to.
        pair: u32,
    }
}

crate::record! {
    /// A rule of an edition that stops a test while it runs. Unknown is hold.
    pub struct StopRuleFile {
        /// Its name.
        id: String,
        /// What must hold while the load is on.
        limit: Option<String>,
        /// What must hold after unloading.
        residual: Option<String>,
        /// What a person is asked.
        ask: Option<String>,
        /// How well its figures are known.
        confidence: Confidence,
    }
}

crate::record! {
    /// A load factor that is adjusted in steps: a proof test of a bridge.
    pub struct BridgeProofFile {
        /// The factor before adjustment.
        base: f64 where Factor,
        /// The least factor after adjustment.
        at_least: f64 where Factor,
        /// The largest factor after adjustment.
        at_most: f64 where Factor,
        /// Each adjustment in percent.
        adjust_percent: Vec<Adjustment>,
        /// Pairs of adjustments that exclude each other.
        exclusive: Vec<Vec<String>> = Vec::new(),
        /// What of the capacity counts if distress stops the test.
        stopped_by_distress: f64 where Counts,
        /// How well its figures are known.
        confidence: Confidence,
    }
}

crate::record! {
    /// One adjustment.
    pub struct Adjustment {
        /// Its name.
        id: String,
        /// Percent of the base factor.
        percent: f64 where Percent,
    }
}

crate::record! {
    /// A criterion in the file.
    pub struct CriterionFile {
        /// The test method it belongs to.
        method: String,
        /// Its name inside the edition.
        id: String,
        /// What it compares, in words.
        about: String,
        /// The comparison, unless a person is asked.
        limit: Option<String>,
        /// What a person is asked and signs, in place of a comparison.
        ask: Option<String>,
        /// The edition's own waiver.
        waive_if: Option<String>,
        /// When it applies at all.
        applies_if: Option<String>,
        /// What to know about it.
        note: Option<String>,
        /// Criteria with the same number suffice one for all.
        any_of: Option<u32>,
        /// The clause.
        clause: String,
        /// How well its figures are known.
        confidence: Confidence,
    }
}

crate::record! {
    /// The retest in the file.
    pub struct RetestFile {
        /// The test method it belongs to.
        method: String,
        /// Only these criteria may have failed.
        after_failed: Vec<String>,
        /// The condition under which it is allowed.
        allowed_if: Option<String>,
        /// The comparison of the retest.
        limit: String,
        /// The criteria it replaces.
        replaces: Vec<String>,
        /// The shortest time between the tests.
        gap: Option<Duration> where Wait,
        /// How well its figures are known.
        confidence: Confidence,
    }
}

crate::record! {
    /// An edition file.
    pub struct EditionFile {
        /// The stable name.
        id: String,
        /// The name people use.
        name: String,
        /// The title.
        title: String,
        /// The year.
        year: u32 where Year,
        /// Whether it is in force.
        status: Status,
        /// The edition that replaced it.
        superseded_by: Option<String>,
        /// The clause of the test load.
        clause: String,
        /// Whether its snow load is nominal or at strength level.
        snow_basis: SnowBasis = SnowBasis::Unstated,
        /// `unknown` where the figures are not known.
        factors: Option<String>,
        /// What to enter from a bought copy, where the figures are not known.
        to_enter: Option<String>,
        /// The set that applies unless another is asked for and earned: the heavier.
        default_set: Option<String>,
        /// Which span its limits speak of.
        span_rule: SpanRule = SpanRule::Lt,
        /// `imposed_only` where deflections count under the imposed test load only.
        deflection_basis: Option<String>,
        /// The load sets.
        sets: Vec<SetFile> = Vec::new(),
        /// The protocols.
        protocols: Vec<ProtocolFile> = Vec::new(),
        /// The criteria.
        criteria: Vec<CriterionFile> = Vec::new(),
        /// What is allowed after a failed test, for each method.
        retest: Vec<RetestFile> = Vec::new(),
        /// Rules that stop a test while it runs.
        stop_rules: Vec<StopRuleFile> = Vec::new(),
        /// The adjusted factor of a bridge proof test.
        bridge_proof: Option<BridgeProofFile>,
        /// Whether the edition has its own words for visible failure.
        visible_failure_clause: bool = false,
    }
    rules {
        sets_known[factors, sets, default_set];
        replaced_by_another[id, superseded_by];
    }
}

fn sets_known(
    reader: &mut Reader,
    factors: &Option<String>,
    sets: &Vec<SetFile>,
    default_set: &Option<String>,
) {
    let unknown = factors.as_deref() == Some("unknown");
    if unknown != sets.is_empty() {
        let path = reader.path_of("sets");
        reader.push(Issue::new(
            slug::EDITIONS_FILE,
            path,
            "an edition has load sets, or says factors = \"unknown\"",
        ));
    }
    let names: Vec<&str> = sets.iter().map(|s| s.id.as_str()).collect();
    let default = default_set.as_deref().unwrap_or_default();
    if !unknown && !names.contains(&default) {
        let path = reader.path_of("default_set");
        reader.push(
            Issue::new(slug::EDITIONS_FILE, path, "default_set names no set")
                .value(default)
                .limit(names.join(", ")),
        );
    }
    for set in sets {
        if sets.len() > 1 && set.when.is_none() {
            let path = reader.path_of("sets");
            reader.push(
                Issue::new(
                    slug::EDITIONS_FILE,
                    path,
                    format!("set `{}` says not when it applies", set.id),
                )
                .remedy("add `when`"),
            );
        }
    }
}

fn replaced_by_another(reader: &mut Reader, id: &String, by: &Option<String>) {
    if by.as_ref() == Some(id) {
        let path = reader.path_of("superseded_by");
        reader.push(
            Issue::new(slug::EDITIONS_FILE, path, "an edition cannot supersede itself").value(id),
        );
    }
}
