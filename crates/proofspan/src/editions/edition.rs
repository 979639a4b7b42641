//! The file format, and the edition it becomes.

use super::bridge::BridgeProof;
use super::criteria::{Criterion, Retest, criterion, retest};
use super::factors::Factors;
use super::shipped;
use super::stops::{StopRule, stop_rules};
use super::valid;
use crate::error::{Error, Issue, slug};
use crate::formula::{Formula, Vocabulary};
use crate::source::rule::{Count, Share, Wait};
use crate::source::{Reader, Write, fingerprint, read_toml, validate};
use crate::units::{Duration, Kind};
use crate::verdict::Note;

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

/// The names a condition of a load set may use.
pub(super) const FACT_NAMES: &[&str] = &[
    "partial_of_suspect_tested",
    "all_suspect_tested",
    "indeterminate",
    "flexural_tension_governs",
    "brittle_suspected",
    "parking",
    "public_assembly",
];

/// What the edition asks of the steps. Nothing where it is silent.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Rule {
    /// The smallest number of about equal increments.
    pub min_increments: Option<u32>,
    /// The hold at full load.
    pub full_hold: Option<Duration>,
    /// When the residual is read, after unloading.
    pub residual_after: Option<Duration>,
    /// Whether it is read at, within or at least after that time.
    pub residual_time: Option<ResidualTime>,
    /// The zero reading is at most so long before the first increment.
    pub zero_before: Option<Duration>,
    /// The shortest hold of a step.
    pub step_hold: Option<Duration>,
    /// The cycles of a cyclic test, in order.
    pub cycles: Vec<CycleFile>,
    /// The least load between cycles, as a part of the full test load.
    pub least: Option<f64>,
}

/// The vocabulary of conditions: the facts, then the live load L.
pub(super) fn facts_vocabulary() -> Vocabulary {
    Vocabulary::of(&[("L", Kind::AreaLoad)]).with_facts(FACT_NAMES)
}

/// A load set with its condition compiled.
#[derive(Clone, PartialEq, Debug)]
pub(super) struct Set {
    pub(super) file: SetFile,
    pub(super) when: Option<Formula>,
    pub(super) reductions: Vec<Option<Formula>>,
    /// What to know about its figures, made once.
    pub(super) notes: Vec<Note>,
}

/// An edition.
#[derive(Clone, PartialEq, Debug)]
pub struct Edition {
    pub(super) file: EditionFile,
    pub(super) sets: Vec<Set>,
    criteria: Vec<Criterion>,
    retests: Vec<Retest>,
    stop_rules: Vec<StopRule>,
    bridge: Option<BridgeProof>,
    /// The name that is printed.
    name: String,
    /// The fingerprint of an edition of one's own.
    own: Option<String>,
}

/// Where an edition comes from.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Origin {
    /// From the files of this library.
    Shipped,
    /// From the user: a file, or the factors of a project.
    Own,
}

/// What to know about the edition and the figures of a set.
fn notes(file: &EditionFile, name: &str, set: &SetFile) -> Vec<Note> {
    let mut notes = Vec::new();
    if file.status != Status::Current {
        let by = file.superseded_by.as_ref().map_or_else(String::new, |b| format!(" by {b}"));
        let message = format!("{name} is {}{by}", file.status);
        notes.push(Note::new(slug::EDITIONS_SUPERSEDED, "edition.id", message));
    }
    let mut open: Vec<String> = Vec::new();
    if set.confidence != Confidence::Seen {
        open.push(format!("factors of set {}", set.id));
    }
    let protocols = file.protocols.iter().filter(|p| p.confidence != Confidence::Seen);
    open.extend(protocols.map(|p| format!("{} protocol", p.method)));
    let criteria = file.criteria.iter().filter(|c| c.confidence != Confidence::Seen);
    open.extend(criteria.map(|c| format!("criterion {}", c.id)));
    if !open.is_empty() {
        let message = format!("{name}: not confirmed from a bought copy: {}", open.join(", "));
        notes.push(Note::new(slug::EDITIONS_VALUE_UNCONFIRMED, "edition.id", message));
    }
    if let Some(note) = &set.note {
        notes.push(Note::new(slug::EDITIONS_REMARK, "edition.id", note.clone()));
    }
    notes
}

impl Edition {
    /// Reads an edition file of one's own. Its printed name carries its fingerprint.
    ///
    /// # Errors
    /// Every problem with path, line and column: fields, units, formulas, factors without
    /// a reason, a condition that is missing; `editions.shipped-name` for the id or the name of a
    /// shipped edition, unless that one's figures are unknown and this file completes it.
    pub fn from_toml(text: &str) -> Result<Self, Error> {
        Self::compiled(read_toml(text)?, Origin::Own)
    }

    /// Reads an edition file of this library.
    pub(super) fn shipped_file(text: &str) -> Result<Self, Error> {
        Self::compiled(read_toml(text)?, Origin::Shipped)
    }

    /// Makes an edition of its parts: of a file, or as a project of its own gives them.
    pub(super) fn compiled(file: EditionFile, origin: Origin) -> Result<Self, Error> {
        validate(&file)?;
        let mut issues = valid::problems(&file);
        let mut name = file.name.clone();
        let mut own = None;
        if origin == Origin::Own {
            issues.extend(shipped::taken(&file)?);
            let short: String = fingerprint(&file.write()).chars().take(12).collect();
            name = format!("{name} (own edition {short})");
            own = Some(short);
        }
        Error::check(issues)?;
        let mut issues = Vec::new();
        let mut condition =
            |text: &str, path: String| match Formula::condition(text, &facts_vocabulary()) {
                Ok(formula) => Some(formula),
                Err(error) => {
                    issues.extend(
                        error.issues.into_iter().map(|i| Issue { path: path.clone(), ..i }),
                    );
                    None
                }
            };
        let mut sets = Vec::new();
        for (i, set) in file.sets.iter().enumerate() {
            let when = set.when.as_ref().and_then(|w| condition(w, format!("sets[{i}].when")));
            let reductions = set
                .rows
                .iter()
                .enumerate()
                .map(|(j, row)| {
                    let reduction = row.live_reduction.as_ref()?;
                    condition(
                        &reduction.unless,
                        format!("sets[{i}].rows[{j}].live_reduction.unless"),
                    )
                })
                .collect();
            let notes = notes(&file, &name, set);
            sets.push(Set { file: set.clone(), when, reductions, notes });
        }
        let criteria: Vec<Criterion> = file
            .criteria
            .iter()
            .enumerate()
            .filter_map(|(i, c)| criterion(c, &format!("criteria[{i}]"), &mut issues))
            .collect();
        let retests = file.retest.iter().filter_map(|r| retest(r, &mut issues)).collect();
        let stop_rules = stop_rules(&file.stop_rules, &mut issues);
        let bridge = file.bridge_proof.as_ref().map(|b| BridgeProof::new(b, &mut issues));
        Error::check(issues)?;
        Ok(Self { file, sets, criteria, retests, stop_rules, bridge, name, own })
    }

    /// The stable name.
    #[must_use]
    pub fn id(&self) -> &str {
        &self.file.id
    }
    /// The name people use; that of an edition of one's own is marked with its fingerprint.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }
    /// The fingerprint of an edition of one's own: the first 12 hexadecimal digits of the SHA-256
    /// of its canonical text; nothing for a shipped one.
    #[must_use]
    pub fn own(&self) -> Option<&str> {
        self.own.as_deref()
    }
    /// Whether it is called this: its id or its name as the file gives it, in any letters.
    pub(super) fn called(&self, name: &str) -> bool {
        let name = name.trim();
        self.file.id.eq_ignore_ascii_case(name) || self.file.name.eq_ignore_ascii_case(name)
    }
    /// The title.
    #[must_use]
    pub fn title(&self) -> &str {
        &self.file.title
    }
    /// Whether it is in force.
    #[must_use]
    pub const fn status(&self) -> Status {
        self.file.status
    }
    /// The edition that replaced it.
    #[must_use]
    pub fn superseded_by(&self) -> Option<&str> {
        self.file.superseded_by.as_deref()
    }
    /// The clause of the test load.
    #[must_use]
    pub fn clause(&self) -> &str {
        &self.file.clause
    }
    /// Which span its limits speak of.
    #[must_use]
    pub const fn span_rule(&self) -> SpanRule {
        self.file.span_rule
    }
    /// Whether deflections count under the imposed test load only.
    #[must_use]
    pub fn imposed_only(&self) -> bool {
        self.file.deflection_basis.as_deref() == Some("imposed_only")
    }
    /// The criteria of a test method, in order.
    pub fn criteria<'a>(&'a self, method: &'a str) -> impl Iterator<Item = &'a Criterion> + 'a {
        self.criteria.iter().filter(move |c| c.method == method)
    }
    /// What it allows after a failed test of a method.
    #[must_use]
    pub fn retest(&self, method: &str) -> Option<&Retest> {
        self.retests.iter().find(|r| r.method == method)
    }
    /// The rules that stop a test while it runs.
    #[must_use]
    pub fn stop_rules(&self) -> &[StopRule] {
        &self.stop_rules
    }
    /// The adjusted factor of a bridge proof test, where the edition has one.
    #[must_use]
    pub const fn bridge_proof(&self) -> Option<&BridgeProof> {
        self.bridge.as_ref()
    }
    /// Whether the edition has its own words for visible failure.
    #[must_use]
    pub const fn visible_failure_clause(&self) -> bool {
        self.file.visible_failure_clause
    }
    /// The snow load its factors expect.
    #[must_use]
    pub const fn snow_basis(&self) -> SnowBasis {
        self.file.snow_basis
    }
    /// The year.
    #[must_use]
    pub const fn year(&self) -> u32 {
        self.file.year
    }
    /// The cycles of a cyclic method with the least load between them.
    #[must_use]
    pub fn cycles(&self, method: &str) -> Option<(&[CycleFile], Option<f64>)> {
        let protocol = self.file.protocols.iter().find(|p| p.method == method)?;
        (!protocol.cycles.is_empty()).then_some((protocol.cycles.as_slice(), protocol.p_min))
    }
    /// The test methods it has a protocol or criteria for.
    #[must_use]
    pub fn methods(&self) -> Vec<&str> {
        let mut all: Vec<&str> = Vec::new();
        let protocols = self.file.protocols.iter().map(|p| p.method.as_str());
        for method in protocols.chain(self.criteria.iter().map(|c| c.method.as_str())) {
            if !all.contains(&method) {
                all.push(method);
            }
        }
        all
    }
    /// What it asks of the steps of a test method.
    #[must_use]
    pub fn protocol(&self, method: &str) -> Option<Rule> {
        self.file.protocols.iter().find(|p| p.method == method).map(|p| Rule {
            min_increments: p.min_increments,
            full_hold: p.full_hold,
            residual_after: p.residual_after,
            residual_time: p.residual_time_rule,
            zero_before: p.zero_before,
            step_hold: p.step_hold,
            cycles: p.cycles.clone(),
            least: p.p_min,
        })
    }
    /// What must be entered from a bought copy, where the figures are not known.
    #[must_use]
    pub fn unknown(&self) -> Option<&str> {
        self.file
            .factors
            .as_ref()
            .map(|_| self.file.to_enter.as_deref().unwrap_or("its load combinations and limits"))
    }
}
