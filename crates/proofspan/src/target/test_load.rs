//! The test load of an edition as an intensity: no beam, no region.

use super::reference::Question;
use super::working::net_line;
use crate::beam::Load;
use crate::editions::{EditionChoice, Row};
use crate::error::{Error, Issue, slug};
use crate::formula::{NoRecord, Recorder, Working};
use crate::loads::{Action, Loads, Nominal, Symbol};
use crate::source::{Given, Node, Write, validate_single};
use crate::units::{AreaLoad, Length, LineLoad, Message, Quantity, Ratio};
use crate::verdict::Note;

crate::laws! {
    /// A combination so far, and the next of its actions.
    pub fn with_next(sum: LineLoad as "w", next: LineLoad as "w_next") -> LineLoad as "w" = sum + next;
    source "a combination is a sum";
}

crate::record! {
    /// Nominal actions that reach over the whole member, to be combined by an edition.
    ///
    /// ```
    /// use proofspan::loads::Symbol;
    /// use proofspan::target::TestLoad;
    /// use proofspan::units::*;
    ///
    /// let found = TestLoad::of("IS 456:2000")
    ///     .in_place(Symbol::SelfWeight, 3.0 * KPA_LOAD)
    ///     .acting(Symbol::Imposed, 4.0 * KPA_LOAD)
    ///     .combine()?;
    /// // full dead load and 1.25 times the imposed load: 3 + 1.25 × 4, less the 3 in place
    /// assert_eq!(found.total, Quantity::new(Kind::AreaLoad, 8e3));
    /// assert_eq!(found.net, Quantity::new(Kind::AreaLoad, 5e3));
    /// # Ok::<(), proofspan::error::Error>(())
    /// ```
    pub struct TestLoad {
        /// The edition, its set and the facts that decide it.
        edition: EditionChoice,
        /// The actions: uniform, over the whole member.
        nominal: Loads,
        /// Whether the answer is an area load: the width is then only carried along.
        per_area: bool = true,
        /// Whether the member is known to be statically determinate.
        determinate: Option<bool>,
    }
}

crate::answer! {
    /// One combination.
    pub struct CombinedLoad {
        /// Its name in the edition.
        id: String,
        /// Its formula, as it stands in the working.
        formula: String,
        /// All its load, an area load or a line load per member unit.
        total: Quantity,
        /// What the rig must add: total less what is in place.
        net: Quantity,
        /// Whether no other is larger.
        governs: bool,
    }
}

/// The combinations of an edition on uniform actions, all area loads or all line loads.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub struct TestLoads {
    /// The name of the edition.
    pub edition: String,
    /// The name of the load set.
    pub set: String,
    /// Why this set applies.
    pub why: Message,
    /// The combinations, in the order of the edition.
    pub terms: Vec<CombinedLoad>,
    /// Those than which none is larger: several where they tie, to 1e-12.
    pub governing: Vec<String>,
    /// What is in place before the test.
    pub in_place: Quantity,
    /// All the load of the governing combination.
    pub total: Quantity,
    /// What the rig must add in it.
    pub net: Quantity,
    /// What to know.
    pub notes: Vec<Note>,
    rows: Vec<Row>,
    nominal: Vec<Nominal>,
}

/// Combinations closer than this are a tie, relative to the larger.
const TIE: f64 = 1e-12;

impl TestLoad {
    /// The edition, by its usual name; actions follow.
    #[must_use]
    pub fn of(edition: &str) -> Self {
        let nominal = Loads { width: Given::known(METRE), patterns: true, actions: Vec::new() };
        Self { edition: EditionChoice::of(edition), nominal, per_area: true, determinate: None }
    }

    /// With an action that is not there before the test.
    #[must_use]
    pub fn acting(self, action: Symbol, load: AreaLoad) -> Self {
        self.with(action, load, Ratio::ZERO)
    }

    /// With an action that is in place before the test.
    #[must_use]
    pub fn in_place(self, action: Symbol, load: AreaLoad) -> Self {
        self.with(action, load, Ratio::from_si(1.0))
    }

    fn with(mut self, action: Symbol, load: AreaLoad, share: Ratio) -> Self {
        self.nominal.actions.push(Action {
            action,
            area: Some(Given::known(load)),
            line: None,
            taper: None,
            point: None,
            from: None,
            to: None,
            width: None,
            in_place: Some(Given::known(share)),
            occupancy: None,
            snow_level: None,
            taken_off: false,
        });
        self
    }

    /// The combinations, by the same rules as the target of a design.
    ///
    /// # Errors
    /// All at once: what [`reference`](super::reference) refuses of actions and edition, under
    /// `nominal` and `edition`; `loads.shape` for an action that is not uniform over the whole
    /// member.
    pub fn combine(&self) -> Result<TestLoads, Error> {
        validate_single(self)?;
        let mut issues = Vec::new();
        for (i, action) in self.nominal.actions.iter().enumerate() {
            let whole = action.taper.is_none() && action.point.is_none();
            if !whole || action.from.is_some() || action.to.is_some() {
                let path = format!("nominal.actions[{i}]");
                let message = "an action over a part of the member has no one intensity";
                let issue = Issue::new(slug::LOADS_SHAPE, path, message);
                issues.push(issue.remedy("take it to a target, with its beam"));
            }
        }
        if self.per_area {
            issues.extend(self.along_the_member());
        }
        let question = Question {
            loads: &self.nominal,
            edition: &self.edition,
            doubt: &[],
            determinate: self.determinate,
        };
        let answer = question.answer(METRE, &mut issues);
        issues.iter_mut().for_each(|issue| {
            if let Some(rest) = issue.path.strip_prefix("loads") {
                issue.path = format!("nominal{rest}");
            }
        });
        Error::check(issues)?;
        let (nominal, set) = answer
            .ok_or_else(|| Issue::new(slug::EDITIONS_FILE, "edition", "no load set applies"))?;
        let none = &mut NoRecord;
        let there = sum(none, nominal.iter().map(|n| (n.in_place, 0.0, line(n))));
        let combined = |row: &Row| {
            let none = &mut NoRecord;
            let all = nominal.iter().map(|n| (row.factor(n.symbol), line(n), n.in_place));
            let total = sum(none, all.clone().map(|(g, w, _)| (g, 0.0, w)));
            let net = sum(none, all.map(|(g, w, share)| (g, share, w)));
            (total, net)
        };
        let values: Vec<(LineLoad, LineLoad)> = set.rows.iter().map(combined).collect();
        let most = values.iter().copied().reduce(|a, b| if b.0 > a.0 { b } else { a });
        let Some((total, net)) = most else {
            return Err(Issue::new(slug::EDITIONS_FILE, "edition", "no combination").into());
        };
        let shown = |w: LineLoad| self.shown(w);
        let term = |(row, (t, n)): (&Row, &(LineLoad, LineLoad))| CombinedLoad {
            id: row.id.to_string(),
            formula: formula(row),
            total: shown(*t),
            net: shown(*n),
            governs: *t >= total * (1.0 - TIE),
        };
        let terms: Vec<CombinedLoad> = set.rows.iter().zip(&values).map(term).collect();
        Ok(TestLoads {
            edition: set.edition.name().to_owned(),
            set: set.set.to_string(),
            why: set.why,
            governing: terms.iter().filter(|t| t.governs).map(|t| t.id.clone()).collect(),
            terms,
            in_place: shown(there),
            total: shown(total),
            net: shown(net),
            notes: set.notes,
            rows: set.rows,
            nominal,
        })
    }

    /// Actions along the member, or over a width of their own, among area loads: they have no intensity per
    /// area.
    fn along_the_member(&self) -> impl Iterator<Item = Issue> {
        let fields = |(i, a): (usize, &Action)| {
            let along = a.line.as_ref().map(|w| ("line", w.said()));
            let width = a.width.as_ref().map(|w| ("width", w.said()));
            [along, width].into_iter().flatten().map(move |(field, said)| (i, field, said))
        };
        self.nominal.actions.iter().enumerate().flat_map(fields).map(|(i, field, said)| {
            let path = format!("nominal.actions[{i}].{field}");
            let message = "a load along the member, or over a width of its own, among area loads";
            let issue = Issue::new(slug::LOADS_SHAPE, path, message).value(said);
            issue.remedy("give the width of the member unit, so that every load is one along it")
        })
    }

    /// A line load as it is answered.
    fn shown(&self, w: LineLoad) -> Quantity {
        let area = self.per_area.then(|| AreaLoad::from_si((w / self.nominal.width.value).si()));
        area.map_or_else(|| w.into(), Quantity::from)
    }
}

const METRE: Length = Length::from_si(1.0);

/// The formula of a combination, by the symbols of edition files.
fn formula(row: &Row) -> String {
    let part = |(symbol, factor): (Symbol, f64)| format!("{factor}*{}", symbol.symbol());
    row.factors().map(part).collect::<Vec<_>>().join(" + ")
}

fn line(nominal: &Nominal) -> LineLoad {
    match nominal.load {
        Load::Line { w_from, .. } => w_from,
        _ => LineLoad::ZERO,
    }
}

/// The sum of loads, each with its factor and the share of it that is taken off.
fn sum<R: Recorder>(
    recorder: &mut R,
    parts: impl Iterator<Item = (f64, f64, LineLoad)>,
) -> LineLoad {
    let mut sum: Option<LineLoad> = None;
    for (gamma, share, w) in parts {
        if (gamma - share).abs() <= 0.0 {
            continue;
        }
        let next = net_line(recorder, gamma, w, share);
        sum = Some(match sum {
            Some(sum) => with_next(recorder, sum, next),
            None => next,
        });
    }
    sum.unwrap_or(LineLoad::ZERO)
}

impl TestLoads {
    /// Every combination redone with a pencil, per member unit: of each action what is factored
    /// less what is in place, and their sum.
    #[must_use]
    pub fn working(&self) -> Working {
        let mut working = Working::default();
        for row in &self.rows {
            working.about(|| format!("Term {}: {}, net", row.id, formula(row)));
            let parts = self.nominal.iter();
            sum(&mut working, parts.map(|n| (row.factor(n.symbol), n.in_place, line(n))));
        }
        working
    }
}

impl Write for TestLoads {
    fn write(&self) -> Node {
        Node::map(vec![
            ("edition", self.edition.write()),
            ("set", self.set.write()),
            ("why", self.why.write()),
            ("terms", self.terms.write()),
            ("governing", self.governing.write()),
            ("in_place", self.in_place.write()),
            ("total", self.total.write()),
            ("net", self.net.write()),
            ("notes", self.notes.write()),
        ])
    }
}
