//! Which load set applies, why, and with which factors.
//!
//! Library rule: the heavier set applies. A lighter one is used only where the engineer
//! asks for it by name, its own condition is *true* on known facts, and the default's is
//! not; else it is refused with the reason.

use std::sync::Arc;

use super::edition::{Confidence, Edition, FACT_NAMES, Set};
use super::factors::Column;
use crate::error::{Error, Issue, slug};
use crate::loads::Symbol;
use crate::units::{AreaLoad, nearest};
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
        live: Option<AreaLoad>,
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
    /// Which edition, and which of its sets.
    pub struct EditionChoice {
        /// The edition, by its stable name or the name people use.
        id: String,
        /// The text of an edition file of one's own, in place of a shipped one.
        file: Option<String>,
        /// A lighter set, asked for by name.
        set: Option<String>,
        /// Facts that decide which set applies.
        facts: Facts = Facts::default(),
        /// Whether a reduced live load is asked for where the edition lets it be.
        reduce_live: bool = false,
        /// How several variable actions make up the imposed load.
        companion: Option<Companion>,
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
            confirmations: Vec::new(),
        }
    }

    /// The edition.
    ///
    /// # Errors
    /// An unknown name, or every problem of the user's own file.
    pub fn edition(&self) -> Result<Arc<Edition>, Error> {
        match &self.file {
            Some(text) => Edition::from_toml(text).map(Arc::new),
            None => Edition::shipped(&self.id),
        }
    }
}

/// A combination with a factor for every action that is present.
#[derive(Clone, PartialEq, Debug)]
pub struct Row {
    /// Its name: that of the edition, with the roof action where one stands for several.
    pub id: String,
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
pub struct LoadSet {
    /// The edition.
    pub edition: Arc<Edition>,
    /// The name of the set.
    pub set: String,
    /// Its combinations, those with `Lr|S|R` once for every such action that is present.
    pub rows: Vec<Row>,
    /// Why this set.
    pub why: String,
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
        let rows = self.rows(set, choice, present, &values)?;
        Ok(LoadSet {
            edition: Arc::clone(self),
            set: set.file.id.clone(),
            rows,
            why,
            notes: Self::notes(set, choice),
        })
    }

    fn chosen(
        &self,
        choice: &EditionChoice,
        values: &[Option<f64>],
    ) -> Result<(&Set, String), Error> {
        let named = |name: &str| self.sets.iter().find(|s| s.file.id == name);
        let default_name = self.file.default_set.as_deref().unwrap_or_default();
        let default = named(default_name)
            .or(self.sets.first())
            .ok_or_else(|| Issue::new(slug::EDITIONS_FILE, "edition.id", "no set"))?;
        let Some(asked) = choice.set.as_deref().filter(|s| *s != default_name) else {
            return Ok((
                default,
                format!("set {default_name}, the default: {}", default.file.about),
            ));
        };
        let set = named(asked).ok_or_else(|| {
            let names: Vec<&str> = self.sets.iter().map(|s| s.file.id.as_str()).collect();
            let near = nearest(asked, names.iter().copied()).unwrap_or_default();
            Issue::new(
                slug::EDITIONS_SET_UNKNOWN,
                "edition.set",
                format!("{} has no set `{asked}`", self.name()),
            )
            .value(asked)
            .limit(names.join(", "))
            .remedy(format!("did you mean `{near}`?"))
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
                Ok((set, format!("set {asked}, asked for: {}; {by}", set.file.about)))
            }
            _ => Ok((set, format!("set {asked}, asked for: {}", set.file.about))),
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
        Error::check(issues)?;
        let mut rows = Vec::new();
        for (file, unless) in set.file.rows.iter().zip(&set.reductions) {
            let roof: Vec<Symbol> = variable().filter(|s| Column::RoofSnowRain.holds(*s)).collect();
            let splits =
                file.factors.0.iter().any(|(c, _)| *c == Column::RoofSnowRain) && !roof.is_empty();
            let turns: Vec<Option<Symbol>> =
                if splits { roof.into_iter().map(Some).collect() } else { vec![None] };
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
                            set_factor(Symbol::Live, reduced.map_or(*factor, |(r, _)| r.to));
                        }
                        Column::One(symbol) => set_factor(*symbol, *factor),
                        Column::RoofSnowRain => {
                            turn.into_iter().for_each(|s| set_factor(s, *factor));
                        }
                    }
                }
                let id = match turn {
                    Some(symbol) if many => format!("{} with {symbol}", file.id),
                    _ => file.id.clone(),
                };
                rows.push(Row { id, factors });
            }
        }
        Ok(rows)
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
