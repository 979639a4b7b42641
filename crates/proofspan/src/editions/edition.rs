//! The edition that a file becomes.

use super::bridge::BridgeProof;
use super::criteria::{Criterion, Retest, criterion, retest};
use super::file::{
    Confidence, CycleFile, EditionFile, ResidualTime, SetFile, SnowBasis, SpanRule, Status,
};
use super::stops::{StopRule, stop_rules};
use super::valid;
use crate::error::{Error, Issue, slug};
use crate::formula::{Formula, Vocabulary};

use crate::source::{Name, Node, Value, Write, fingerprint, validate};
use crate::units::{Duration, Kind, Message};
use crate::verdict::Note;

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
    /// Its name.
    pub(super) name: Name,
    /// What is said where it is the default.
    pub(super) why: Message,
    /// The names of its rows.
    pub(super) names: Vec<Name>,
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
    /// Makes an edition of its parts; with one of one's own comes what the shipped ones have against
    /// its names.
    pub(super) fn compiled(file: EditionFile, own: Option<Vec<Issue>>) -> Result<Self, Error> {
        validate(&file)?;
        let mut issues = valid::problems(&file);
        let mut name = file.name.clone();
        let own = own.map(|taken| {
            issues.extend(taken);
            let short: String = fingerprint(&file.write()).chars().take(12).collect();
            name = format!("{name} (own edition {short})");
            short
        });
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
            let names = set.rows.iter().map(|r| (&*r.id).into()).collect();
            let (name, about) = ((&*set.id).into(), &set.about);
            let why = format!("set {}, the default: {about} ({})", set.id, file.clause).into();
            sets.push(Set { file: set.clone(), when, reductions, name, why, names, notes });
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

    /// All of it as data: load sets, protocols, criteria with their waivers, retests, stop rules, each
    /// with the confidence in which its figures are known.
    ///
    /// ```
    /// use proofspan::editions::{Confidence, Edition};
    /// let edition = Edition::shipped("ACI 437.2-13")?;
    /// let file = edition.file();
    /// assert_eq!(file.sets[0].rows.len(), 3);
    /// assert_eq!(file.criteria[0].limit.as_deref(), Some("d_max <= lt/180"));
    /// assert_eq!(file.criteria[0].confidence, Confidence::Memory);
    /// # Ok::<(), proofspan::Error>(())
    /// ```
    #[must_use]
    pub const fn file(&self) -> &EditionFile {
        &self.file
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

impl Write for Edition {
    /// Its file, under the name that is printed.
    fn write(&self) -> Node {
        let mut node = self.file.write();
        if let Value::Map(entries) = &mut node.value {
            for entry in entries.iter_mut().filter(|e| e.key == "name") {
                entry.node = Node::text(self.name.clone());
            }
        }
        node
    }
}
