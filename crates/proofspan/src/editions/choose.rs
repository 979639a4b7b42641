//! Which load set applies, why, and with which factors.
//!
//! Library rule: the heavier set applies. A lighter one is used only where the engineer
//! asks for it by name, its own condition is *true* on known facts, and the default's is
//! not; else it is refused with the reason.

use std::sync::Arc;

use smallvec::{SmallVec, smallvec};

use super::edition::{Edition, FACT_NAMES, Set};
use super::factors::Column;
use super::file::{
    Confidence, CriterionFile, EditionFile, ProtocolFile, RowFile, SetFile, SnowBasis, SpanRule,
    Status,
};
use crate::error::{Error, Issue, slug};
use crate::loads::Symbol;
use crate::source::rule::NotNegative;
use crate::source::{Name, Reader, Write as _, write_json};
use crate::units::{AreaLoad, Message, Said, nearest};
use crate::verdict::Note;

crate::record! {
    /// A statement of the engineer that a wording was checked against a bought copy.
    pub struct Confirmation {
        /// The set it is about.
        set: String,
        /// The role of the person.
        role: String,
        /// The document.
        document: String,
        /// The page or clause.
        page: String,
    }
}

crate::choice! {
    /// How several variable actions make up the imposed load of a code that speaks of one.
    pub enum Companion ("companion rule", source::SOURCE_CHOICE) {
        /// All of them together.
        Sum = "sum",
    }
}

crate::record! {
    /// Facts that decide which set applies. Left out is unknown.
    pub struct Facts {
        /// Only part of the suspect portion is tested.
        partial_of_suspect_tested: Option<bool>,
        /// All suspect portions are tested.
        all_suspect_tested: Option<bool>,
        /// The structure is statically indeterminate.
        indeterminate: Option<bool>,
        /// Flexural tension governs the member.
        flexural_tension_governs: Option<bool>,
        /// A brittle mode is suspected.
        brittle_suspected: Option<bool>,
        /// The floor is a garage.
        parking: Option<bool>,
        /// The floor is a place of public assembly.
        public_assembly: Option<bool>,
        /// The live load that conditions speak of.
        live: Option<AreaLoad> where NotNegative,
    }
}

impl Default for Facts {
    fn default() -> Self {
        Self::UNKNOWN
    }
}

impl Facts {
    /// Nothing is known.
    pub const UNKNOWN: Self = Self {
        partial_of_suspect_tested: None,
        all_suspect_tested: None,
        indeterminate: None,
        flexural_tension_governs: None,
        brittle_suspected: None,
        parking: None,
        public_assembly: None,
        live: None,
    };

    /// A reason with the facts that are known behind it.
    fn known(&self, why: Message) -> Message {
        let word = |v: f64| if v > 0.0 { "true" } else { "false" };
        let facts = FACT_NAMES.iter().zip(self.values().into_iter().skip(1));
        let known = facts.filter_map(|(name, v)| Some([Said::word(name), Said::word(word(v?))]));
        let live = self.live.map(|l| [Said::word("live load"), l.into()]);
        let mut between = "; known: {} {}";
        why.with(known.chain(live).map(|fact| (core::mem::replace(&mut between, ", {} {}"), fact)))
    }

    /// The values in the order of the vocabulary: L, then the facts.
    fn values(&self) -> [Option<f64>; 8] {
        let fact = |f: Option<bool>| f.map(|b| if b { 1.0 } else { 0.0 });
        [
            self.live.map(AreaLoad::si),
            fact(self.partial_of_suspect_tested),
            fact(self.all_suspect_tested),
            fact(self.indeterminate),
            fact(self.flexural_tension_governs),
            fact(self.brittle_suspected),
            fact(self.parking),
            fact(self.public_assembly),
        ]
    }

    /// The facts of `self`, those left out taken from `other`.
    #[must_use]
    pub fn or(&self, other: &Self) -> Self {
        Self {
            partial_of_suspect_tested: self
                .partial_of_suspect_tested
                .or(other.partial_of_suspect_tested),
            all_suspect_tested: self.all_suspect_tested.or(other.all_suspect_tested),
            indeterminate: self.indeterminate.or(other.indeterminate),
            flexural_tension_governs: self
                .flexural_tension_governs
                .or(other.flexural_tension_governs),
            brittle_suspected: self.brittle_suspected.or(other.brittle_suspected),
            parking: self.parking.or(other.parking),
            public_assembly: self.public_assembly.or(other.public_assembly),
            live: self.live.or(other.live),
        }
    }
}

crate::record! {
    /// Factors, steps and criteria that a project sets itself.
    pub struct Project {
        /// What the report calls it.
        title: String,
        /// Who set it: the role.
        by: String,
        /// Why no published edition is used as it is.
        reason: String,
        /// The combinations.
        rows: Vec<RowFile>,
        /// The steps.
        protocols: Vec<ProtocolFile> = Vec::new(),
        /// The criteria; without them only visible distress is judged.
        criteria: Vec<CriterionFile> = Vec::new(),
    }
    rules { said_by_whom[by, reason, rows]; }
}

fn said_by_whom(reader: &mut Reader, by: &String, reason: &String, rows: &Vec<RowFile>) {
    let mut missing = Vec::new();
    for (field, empty) in [
        ("by", by.trim().is_empty()),
        ("reason", reason.trim().is_empty()),
        ("rows", rows.is_empty()),
    ] {
        if empty {
            missing.push(field);
        }
    }
    if !missing.is_empty() {
        let path = reader.path().to_owned();
        let message = format!("a project of its own without {}", missing.join(", "));
        reader.push(Issue::new(slug::EDITIONS_PROJECT, path, message));
    }
}

/// The name under which a project gives factors of its own.
pub const PROJECT: &str = "project";

crate::rule! {
    /// A dynamic allowance: up to three times the load (library rule).
    pub Impact { least 0.0 EDITIONS_IMPACT, most 3.0 EDITIONS_IMPACT }
}

crate::record! {
    /// Which edition, and which of its sets.
    pub struct EditionChoice {
        /// The edition, by its stable name or the name people use.
        id: String,
        /// The text of an edition file of one's own (TOML or JSON), in place of a shipped one.
        file: Option<String>,
        /// A lighter set, asked for by name.
        set: Option<String>,
        /// Facts that decide which set applies.
        facts: Facts = Facts::default(),
        /// Whether a reduced live load is asked for where the edition lets it be.
        reduce_live: bool = false,
        /// How several variable actions make up the imposed load.
        companion: Option<Companion>,
        /// The project's own factors, where the edition is `project`.
        project: Option<Project>,
        /// Adjustments of the factor of a bridge proof test, by their names.
        adjustments: Vec<String> = Vec::new(),
        /// Impact that is not in the live load given, where the edition adds it itself.
        impact: Option<f64> where Impact,
        /// Wordings that were checked against a bought copy.
        confirmations: Vec<Confirmation> = Vec::new(),
    }
}

impl EditionChoice {
    /// An edition with its default set.
    #[must_use]
    pub fn of(id: impl Into<String>) -> Self {
        Self {
            id: id.into(),
            file: None,
            set: None,
            facts: Facts::default(),
            reduce_live: false,
            companion: None,
            project: None,
            adjustments: Vec::new(),
            impact: None,
            confirmations: Vec::new(),
        }
    }

    /// The choice of this edition with its default set: by its id, and with its file where it is one's own.
    ///
    /// ```
    /// use proofspan::editions::{Edition, EditionChoice};
    /// let edition = Edition::shipped("IS 456:2000")?;
    /// assert_eq!(EditionChoice::whole(&edition).edition()?, edition);
    /// # Ok::<(), proofspan::Error>(())
    /// ```
    #[must_use]
    pub fn whole(edition: &Edition) -> Self {
        let file = edition.own().map(|_| write_json(&edition.file().write()));
        Self { file, ..Self::of(edition.id()) }
    }

    /// The edition.
    ///
    /// # Errors
    /// An unknown name, or every problem of the user's own file.
    pub fn edition(&self) -> Result<Arc<Edition>, Error> {
        match (&self.file, &self.project) {
            (None, Some(project)) if self.id == PROJECT => project.edition().map(Arc::new),
            (_, Some(_)) => Err(Issue::new(
                slug::EDITIONS_PROJECT,
                "edition.project",
                format!("factors of a project beside the edition `{}`", self.id),
            )
            .remedy("take the edition `project`, or leave the factors out")
            .into()),
            (None, None) if self.id == PROJECT => Err(Issue::new(
                slug::EDITIONS_PROJECT,
                "edition.project",
                "the edition `project` without its factors",
            )
            .into()),
            (Some(text), None) => {
                let own = Edition::from_toml(text)?;
                if own.called(&self.id) {
                    return Ok(Arc::new(own));
                }
                let message =
                    format!("the edition asked for is not that of the file: {}", own.id());
                Err(Issue::new(slug::EDITIONS_FILE, "edition.id", message)
                    .value(&self.id)
                    .limit(own.id())
                    .remedy("name the edition as its file does")
                    .into())
            }
            (None, None) => Edition::shipped(&self.id),
        }
    }
}

impl Project {
    /// The project's own edition: one set, every figure given by the user.
    fn edition(&self) -> Result<Edition, Error> {
        let about = format!("set by the {}: {}", self.by, self.reason);
        let set = SetFile {
            id: PROJECT.to_owned(),
            about: about.clone(),
            when: None,
            confidence: Confidence::User,
            note: Some(about),
            rows: self.rows.clone(),
        };
        let file = EditionFile {
            id: PROJECT.to_owned(),
            name: self.title.clone(),
            title: self.title.clone(),
            year: 0,
            status: Status::Current,
            superseded_by: None,
            clause: "project".to_owned(),
            snow_basis: SnowBasis::Unstated,
            factors: None,
            to_enter: None,
            default_set: Some(PROJECT.to_owned()),
            span_rule: SpanRule::Lt,
            deflection_basis: None,
            sets: vec![set],
            protocols: self.protocols.clone(),
            criteria: self.criteria.clone(),
            retest: Vec::new(),
            stop_rules: Vec::new(),
            bridge_proof: None,
            visible_failure_clause: false,
        };
        // problems are shown where the project says them
        Edition::of(file).map_err(|mut error| {
            for issue in &mut error.issues {
                let own = issue.path.strip_prefix("sets[0].").unwrap_or(&issue.path);
                let own = if own == "name" { "title" } else { own };
                issue.path = format!("edition.project.{own}");
            }
            error
        })
    }
}

/// A combination with a factor for every action that is present.
#[derive(Clone, PartialEq, Debug)]
pub struct Row {
    /// Its name: that of the edition, with the roof action where one stands for several.
    pub id: Name,
    factors: [f64; Symbol::ALL.len()],
}

impl Row {
    /// The factor of an action; zero where the row leaves it out.
    #[must_use]
    pub fn factor(&self, symbol: Symbol) -> f64 {
        self.factors.get(symbol as usize).copied().unwrap_or(0.0)
    }

    /// The factors above zero, in the order of the table.
    pub fn factors(&self) -> impl Iterator<Item = (Symbol, f64)> + '_ {
        Symbol::ALL.iter().map(|s| (*s, self.factor(*s))).filter(|(_, f)| *f > 0.0)
    }
}

/// The load set that applies.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub struct LoadSet {
    /// The edition.
    pub edition: Arc<Edition>,
    /// The name of the set.
    pub set: Name,
    /// Its combinations, those with `Lr|S|R` once for every such action that is present.
    pub rows: Vec<Row>,
    /// Why this set.
    pub why: Message,
    /// What to know about its figures.
    pub notes: Vec<Note>,
}

impl Edition {
    /// The load set that applies to the actions that are present.
    ///
    /// # Errors
    /// `editions.values-unknown`, `editions.set-unknown`, `editions.set-refused`,
    /// `editions.action-not-covered`, `editions.companion-unknown`.
    pub fn load_set(
        self: &Arc<Self>,
        choice: &EditionChoice,
        present: &[Symbol],
        facts: &Facts,
    ) -> Result<LoadSet, Error> {
        if let Some(what) = self.unknown() {
            return Err(Issue::new(
                slug::EDITIONS_VALUES_UNKNOWN,
                "edition.id",
                format!("the figures of {} are not known here", self.name()),
            )
            .value(self.id())
            .remedy(format!("enter {what} in an edition file of your own"))
            .into());
        }
        let facts = choice.facts.or(facts);
        let values = facts.values();
        let (set, why) = self.chosen(choice, &values)?;
        let why = facts.known(why);
        let rows = self.rows(set, choice, present, &values)?;
        Ok(LoadSet {
            edition: Arc::clone(self),
            set: set.name.clone(),
            rows,
            why,
            notes: Self::notes(set, choice),
        })
    }

    fn chosen(
        &self,
        choice: &EditionChoice,
        values: &[Option<f64>],
    ) -> Result<(&Set, Message), Error> {
        let named = |name: &str| self.sets.iter().find(|s| s.file.id == name);
        let default_name = self.file.default_set.as_deref().unwrap_or_default();
        let default = named(default_name)
            .or(self.sets.first())
            .ok_or_else(|| Issue::new(slug::EDITIONS_FILE, "edition.id", "no set"))?;
        let Some(asked) = choice.set.as_deref().filter(|s| *s != default_name) else {
            return Ok((default, default.why.clone()));
        };
        let set = named(asked).ok_or_else(|| {
            let names: Vec<&str> = self.sets.iter().map(|s| s.file.id.as_str()).collect();
            let near = nearest(asked, names.iter().copied());
            Issue::new(
                slug::EDITIONS_SET_UNKNOWN,
                "edition.set",
                format!("{} has no set `{asked}`", self.name()),
            )
            .value(asked)
            .limit(names.join(", "))
            .meant(near)
        })?;
        let refuse = |why: String| {
            Error::from(
                Issue::new(
                    slug::EDITIONS_SET_REFUSED,
                    "edition.set",
                    format!("set `{asked}` is refused: {why}"),
                )
                .value(asked)
                .limit(set.file.when.clone().unwrap_or_default())
                .source(format!("{}, {}", self.name(), self.clause())),
            )
        };
        let unknown = |s: &Set| -> String {
            let slots = s.when.as_ref().map(crate::formula::Formula::slots).unwrap_or_default();
            let open = slots.iter().filter(|i| values.get(**i).copied().flatten().is_none());
            let name = |i: &usize| {
                if *i == 0 { "L" } else { FACT_NAMES.get(i - 1).copied().unwrap_or("") }
            };
            open.map(name).collect::<Vec<_>>().join(", ")
        };
        match set.when.as_ref().and_then(|w| w.holds(values)) {
            Some(true) => {}
            Some(false) => return Err(refuse("its condition is false".to_owned())),
            None => {
                return Err(refuse(format!(
                    "its condition hangs on facts that are not known: {}",
                    unknown(set)
                )));
            }
        }
        match default.when.as_ref().and_then(|w| w.holds(values)) {
            Some(true) => {
                return Err(refuse(format!(
                    "the condition of set `{default_name}` is true as well: {}",
                    default.file.about
                )));
            }
            Some(false) => {}
            None => {
                return Err(refuse(format!(
                    "whether set `{default_name}` applies hangs on facts that are not known: {}",
                    unknown(default)
                )));
            }
        }
        let confirmed = choice.confirmations.iter().find(|c| c.set == asked);
        match (set.file.confidence, confirmed) {
            (Confidence::Moderate, None) => {
                Err(refuse("its wording is known with moderate confidence only; have it confirmed from a bought copy".to_owned()))
            }
            (Confidence::Moderate, Some(c)) => {
                let by = format!("wording confirmed by the {}, {}, {}", c.role, c.document, c.page);
                let about = &set.file.about;
                let clause = self.clause();
                Ok((set, format!("set {asked}, asked for: {about}; {by} ({clause})").into()))
            }
            _ => {
                let (about, clause) = (&set.file.about, self.clause());
                Ok((set, format!("set {asked}, asked for: {about} ({clause})").into()))
            }
        }
    }

    fn rows(
        &self,
        set: &Set,
        choice: &EditionChoice,
        present: &[Symbol],
        values: &[Option<f64>],
    ) -> Result<Vec<Row>, Error> {
        let variable = || present.iter().copied().filter(|s| !s.permanent());
        let has_q = set
            .file
            .rows
            .iter()
            .any(|r| r.factors.0.iter().any(|(c, _)| *c == Column::One(Symbol::Imposed)));
        let covers = |symbol: Symbol| {
            set.file.rows.iter().any(|r| r.factors.0.iter().any(|(c, _)| c.holds(symbol)))
                || (has_q
                    && matches!(
                        symbol,
                        Symbol::Live | Symbol::RoofLive | Symbol::Snow | Symbol::Rain
                    ))
        };
        let mut issues: Vec<Issue> = present
            .iter()
            .filter(|s| !covers(**s))
            .map(|s| {
                let symbols: Vec<&str> =
                    Symbol::ALL.iter().filter(|s| covers(**s)).map(|s| s.word()).collect();
                Issue::new(
                    slug::EDITIONS_ACTION_NOT_COVERED,
                    "loads.actions",
                    format!(
                        "set {} of {} has no factor for {s} in any row",
                        set.file.id,
                        self.name()
                    ),
                )
                .value(s.word())
                .limit(symbols.join(", "))
            })
            .collect();
        if has_q && variable().count() > 1 && choice.companion.is_none() {
            let list: Vec<&str> = variable().map(Symbol::word).collect();
            issues.push(
                Issue::new(
                    slug::EDITIONS_COMPANION_UNKNOWN,
                    "edition.companion",
                    format!(
                        "{} speaks of one imposed load; here act {}",
                        self.name(),
                        list.join(" and ")
                    ),
                )
                .limit("`imposed` alone, or companion = \"sum\""),
            );
        }
        let proof = self.proof(choice, &mut issues);
        Error::check(issues)?;
        let mut rows = Vec::with_capacity(set.file.rows.len());
        for ((file, unless), name) in set.file.rows.iter().zip(&set.reductions).zip(&set.names) {
            let roof: SmallVec<[Option<Symbol>; 4]> =
                variable().filter(|s| Column::RoofSnowRain.holds(*s)).map(Some).collect();
            let splits =
                file.factors.0.iter().any(|(c, _)| *c == Column::RoofSnowRain) && !roof.is_empty();
            let turns = if splits { roof } else { smallvec![None] };
            let many = turns.len() > 1;
            for turn in turns {
                let mut factors = [0.0; Symbol::ALL.len()];
                let mut set_factor = |symbol: Symbol, factor: f64| {
                    if let Some(place) = factors.get_mut(symbol as usize) {
                        *place = factor * file.scale;
                    }
                };
                for (column, factor) in &file.factors.0 {
                    match column {
                        Column::One(Symbol::Imposed) => {
                            variable().for_each(|s| set_factor(s, *factor));
                            set_factor(Symbol::Imposed, *factor);
                        }
                        Column::One(Symbol::Live) => {
                            let reduced = file.live_reduction.as_ref().zip(unless.as_ref()).filter(
                                |(_, u)| choice.reduce_live && u.holds(values) == Some(false),
                            );
                            let factor = reduced.map_or(*factor, |(r, _)| r.to);
                            set_factor(Symbol::Live, factor * proof);
                        }
                        Column::One(symbol) => set_factor(*symbol, *factor),
                        Column::RoofSnowRain => {
                            turn.into_iter().for_each(|s| set_factor(s, *factor));
                        }
                    }
                }
                let id = match turn {
                    Some(symbol) if many => format!("{} with {symbol}", file.id).into(),
                    _ => name.clone(),
                };
                rows.push(Row { id, factors });
            }
        }
        Ok(rows)
    }

    /// What multiplies the live load of a bridge proof test: the adjusted factor, and impact
    /// once; one for every other edition.
    fn proof(&self, choice: &EditionChoice, issues: &mut Vec<Issue>) -> f64 {
        let Some(bridge) = self.bridge_proof() else {
            if let Some(impact) = choice.impact {
                issues.push(
                    Issue::new(
                        slug::EDITIONS_IMPACT,
                        "edition.impact",
                        format!(
                            "the live load of {} has its impact in it: it would count twice",
                            self.name()
                        ),
                    )
                    .value(impact),
                );
            }
            if !choice.adjustments.is_empty() {
                issues.push(
                    Issue::new(
                        slug::EDITIONS_ADJUSTMENT,
                        "edition.adjustments",
                        format!("{} has no factor that is adjusted", self.name()),
                    )
                    .value(choice.adjustments.join(", ")),
                );
            }
            return 1.0;
        };
        let applies: Vec<&str> = choice.adjustments.iter().map(String::as_str).collect();
        let factor =
            bridge.factor(&applies).map_err(|e| issues.extend(e.issues)).unwrap_or(f64::NAN);
        match choice.impact {
            Some(impact) if impact >= 0.0 => factor * (1.0 + impact),
            given => {
                let message = format!("{} puts impact on the live load: say how much", self.name());
                issues.push(
                    Issue::new(slug::EDITIONS_IMPACT, "edition.impact", message)
                        .value(given.map_or_else(|| "nothing".to_owned(), |g| g.to_string()))
                        .limit(">= 0, for example 0.33; 0 where it is in the live load already"),
                );
                factor
            }
        }
    }

    fn notes(set: &Set, choice: &EditionChoice) -> Vec<Note> {
        let mut notes = set.notes.clone();
        let reducible = set.file.rows.iter().any(|r| r.live_reduction.is_some());
        if choice.reduce_live && !reducible {
            notes.push(Note::new(
                slug::EDITIONS_NO_REDUCTION,
                "edition.reduce_live",
                format!("set {} lets no live load be reduced", set.file.id),
            ));
        }
        notes
    }
}
