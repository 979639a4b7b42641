//! Without its strengthening, and in fire: what must the member still carry?
//!
//! These checks concern the member *without* what was bonded to it. A load test of the strengthened member
//! says nothing on them. They do not order by strictness: which one asks most hangs on live over dead load.

use crate::error::{Error, Issue, slug};
use crate::formula::Working;
use crate::source::rule::{NotNegative, Share};
use crate::source::{Given, Node, Several, Write, validate_single};
use crate::units::{Force, Moment, Quantified, Ratio};
use crate::verdict::{Basis, Clause, Limit, MemberUnit, Note, State, Verdict};

crate::choice! {
    /// Which combination the member must carry without its strengthening.
    pub enum ReducedRule ("rule", source::SOURCE_CHOICE) {
        /// 1.1 D + 0.75 L, with L in full where it is likely sustained.
        Aci440 = "ACI 440.2R (9.2)",
        /// 1.2 D + 0.5 L + A_k + 0.2 S.
        Aci562Of2013 = "ACI 562-13 (5.5.1)",
        /// 1.1 D + 0.75 L and 1.1 D + 0.5 L + 0.2 S; moderate confidence.
        Aci562 = "ACI 562-19 5.5",
        /// In fire: D + L, hot strength without reduction.
        Fire440 = "ACI 440.2R-17 9.2.1, fire",
        /// In fire: 0.9 D or 1.2 D, + 0.5 L + 0.2 S, hot strength without reduction; moderate confidence.
        Fire562 = "ACI 562-19 5.5, fire",
        /// In fire: G + ψ Q, hot strength, partial factors of 1.
        FireEn = "EN 1991-1-2, fire",
    }
}

/// Which state of the member a check is about.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[non_exhaustive]
pub enum Case {
    /// The strengthening is lost at normal temperature.
    Lost,
    /// The member is hot, and the strengthening does not count.
    Fire,
}

impl Case {
    /// The word used in reports, JSON and Python.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Lost => "strengthening lost",
            Self::Fire => "fire",
        }
    }
}

/// Factors of dead, live, snow and accidental action.
pub(super) type Row = [f64; 4];

impl ReducedRule {
    /// Which state of the member it is about.
    #[must_use]
    pub const fn case(self) -> Case {
        match self {
            Self::Aci440 | Self::Aci562Of2013 | Self::Aci562 => Case::Lost,
            Self::Fire440 | Self::Fire562 | Self::FireEn => Case::Fire,
        }
    }

    /// Whether its figures are known with moderate confidence only.
    const fn unconfirmed(self) -> bool {
        matches!(self, Self::Aci562 | Self::Fire562)
    }

    /// The rows of factors; the largest demand governs.
    pub(super) fn rows(self, sustained: bool, psi: f64) -> Vec<Row> {
        match self {
            Self::Aci440 => vec![[1.1, if sustained { 1.0 } else { 0.75 }, 0.0, 0.0]],
            Self::Aci562Of2013 => vec![[1.2, 0.5, 0.2, 1.0]],
            Self::Aci562 => vec![[1.1, 0.75, 0.0, 0.0], [1.1, 0.5, 0.2, 0.0]],
            Self::Fire440 => vec![[1.0, 1.0, 0.0, 0.0]],
            Self::Fire562 => vec![[1.2, 0.5, 0.2, 0.0], [0.9, 0.5, 0.2, 0.0]],
            Self::FireEn => vec![[1.0, psi, 0.0, 0.0]],
        }
    }

    const fn clause(self) -> Clause {
        Clause::Named(self.word())
    }
}

/// One rule checked.
#[derive(Clone, Copy, PartialEq, Debug)]
#[non_exhaustive]
pub struct ReducedCheck {
    /// The rule.
    pub rule: ReducedRule,
    /// Which state of the member.
    pub case: Case,
    /// Its largest combination against the strength without the strengthening.
    pub verdict: Verdict,
}

impl Write for ReducedCheck {
    fn write(&self) -> Node {
        Node::map(vec![
            ("rule", self.rule.write()),
            ("case", Node::text(self.case.word())),
            ("verdict", self.verdict.write()),
        ])
    }
}

/// Every rule checked, each with its own clause.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub struct ReducedFound {
    /// The checks, in the order of the rules.
    pub checks: Vec<ReducedCheck>,
    /// All of them together: one that fails is a failure.
    pub state: State,
    /// What to know.
    pub notes: Vec<Note>,
    /// What the checks leave out.
    pub left_out: Vec<&'static str>,
    working: Working,
}

/// The state of a strengthened member after its test: a check without the strengthening, or in fire, that
/// is not met is never made good by the test.
#[must_use]
pub fn after_test(test: State, checks: &[ReducedCheck]) -> State {
    let worse = |a: State, b: State| match (a, b) {
        (State::Fail, _) | (_, State::Fail) => State::Fail,
        (a, b) if a.counts_as_met() && b.counts_as_met() => a,
        (a, b) if a.counts_as_met() => b,
        (a, _) => a,
    };
    checks.iter().map(|c| c.verdict.state).fold(test, worse)
}

impl ReducedFound {
    /// The state of the strengthened member after its test; see [`after_test`].
    #[must_use]
    pub fn after_test(&self, test: State) -> State {
        after_test(test, &self.checks)
    }

    /// Every combination redone with a pencil.
    #[must_use]
    pub const fn working(&self) -> &Working {
        &self.working
    }
}

impl Write for ReducedFound {
    fn write(&self) -> Node {
        Node::map(vec![
            ("checks", self.checks.write()),
            ("state", self.state.write()),
            ("notes", self.notes.write()),
            ("left_out", crate::capacity::shear::said(&self.left_out)),
        ])
    }
}

const LEFT_OUT: &[&str] = &[
    "how the strength without the strengthening, or the hot one, was found: the values are the engineer's",
    "protection of the strengthening in fire: it counts as lost",
    "wind, earthquake and every action that is not given",
];

macro_rules! reduced {
    ($laws:ident, $exported:ident, $name:ident, $kind:ident, $what:literal) => {
        mod $laws {
            use crate::units::$kind;
            crate::laws! {
                /// What must be carried without the strengthening.
                pub fn demand(d: $kind as "D", fd: f64 as "γ_D", l: $kind as "L", fl: f64 as "γ_L", s: $kind as "S", fs: f64 as "γ_S", a: $kind as "A_k", fa: f64 as "γ_A") -> $kind as "U" = fd * d + fl * l + fs * s + fa * a;
                source "the rule that is checked";
            }
        }
        pub(crate) use $laws::LAWS as $exported;

        crate::record! {
            #[doc = $what]
            pub struct $name {
                /// The rules to check.
                rules: Several<ReducedRule>,
                /// Effect of the dead load.
                dead: Given<$kind, NotNegative>,
                /// Effect of the live load.
                live: Given<$kind, NotNegative>,
                /// Effect of snow.
                snow: Given<$kind, NotNegative> = Given::known($kind::ZERO),
                /// Effect of the accidental action, ACI 562-13.
                accidental: Option<Given<$kind, NotNegative>>,
                /// Whether the live load is likely sustained.
                sustained: bool = false,
                /// Factor of the live load in fire, EN 1991-1-2: ψ1 or ψ2 of the national annex.
                psi: Option<Given<Ratio, Share>>,
                /// Design strength without the strengthening, reduced.
                strength: Option<Given<$kind, NotNegative>>,
                /// Strength without the strengthening when it is hot, not reduced.
                hot_strength: Option<Given<$kind, NotNegative>>,
                /// What one value is counted for.
                unit: MemberUnit = MemberUnit::Beam,
            }
        }

        impl $name {
            /// These rules on effects of dead and live load.
            #[must_use]
            pub fn of(rules: &[ReducedRule], dead: $kind, live: $kind) -> Self {
                Self {
                    rules: rules.iter().copied().collect(),
                    dead: Given::known(dead),
                    live: Given::known(live),
                    snow: Given::known($kind::ZERO),
                    accidental: None,
                    sustained: false,
                    psi: None,
                    strength: None,
                    hot_strength: None,
                    unit: MemberUnit::Beam,
                }
            }

            /// The same with the strengths without the strengthening: reduced, and hot.
            #[must_use]
            pub fn strengths(self, strength: $kind, hot: $kind) -> Self {
                Self {
                    strength: Some(Given::known(strength)),
                    hot_strength: Some(Given::known(hot)),
                    ..self
                }
            }

            fn refusals(&self) -> Vec<Issue> {
                let mut issues = Vec::new();
                let mut missing = |field: &str, rule: ReducedRule, message: &'static str| {
                    let issue = Issue::new(slug::SOURCE_FIELD_MISSING, field, message);
                    issues.push(issue.source(rule.word()));
                };
                let any = |found: &dyn Fn(ReducedRule) -> bool| {
                    self.rules.iter().copied().find(|r| found(*r))
                };
                if let Some(rule) = any(&|r| r.case() == Case::Lost)
                    && self.strength.is_none()
                {
                    missing("strength", rule, "the design strength without the strengthening");
                }
                if let Some(rule) = any(&|r| r.case() == Case::Fire)
                    && self.hot_strength.is_none()
                {
                    missing("hot_strength", rule, "the strength of the hot member");
                }
                if let Some(rule) = any(&|r| r == ReducedRule::Aci562Of2013)
                    && self.accidental.is_none()
                {
                    missing("accidental", rule, "the accidental action, zero where there is none");
                }
                if let Some(rule) = any(&|r| r == ReducedRule::FireEn)
                    && self.psi.is_none()
                {
                    missing("psi", rule, "the factor of the live load in fire");
                }
                issues
            }

            /// Every rule, each with its own clause.
            ///
            /// # Errors
            /// All at once: a value that its rule refuses; `source.field-missing` for a strength, an
            /// accidental action or a factor that a rule asks for.
            pub fn check(&self) -> Result<ReducedFound, Error> {
                validate_single(self)?;
                Error::check(self.refusals())?;
                let (mut working, mut notes, mut checks) =
                    (Working::default(), Vec::new(), Vec::new());
                let zero = $kind::ZERO;
                let or_zero = |g: &Option<Given<$kind, NotNegative>>| {
                    g.as_ref().map_or(zero, |g| g.value)
                };
                let psi = self.psi.as_ref().map_or(1.0, |p| p.value.value());
                for rule in self.rules.iter().copied() {
                    use crate::formula::Recorder as _;
                    working.about(|| rule.word());
                    let (dead, live) = (self.dead.value, self.live.value);
                    let (snow, accidental) = (self.snow.value, or_zero(&self.accidental));
                    let demand = rule
                        .rows(self.sustained, psi)
                        .into_iter()
                        .map(|[d, l, s, a]| {
                            $laws::demand(
                                &mut working, dead, d, live, l, snow, s, accidental, a,
                            )
                        })
                        .fold(zero, $kind::max);
                    let (code, strength) = match rule.case() {
                        Case::Lost => (slug::CAPACITY_WITHOUT_STRENGTHENING, &self.strength),
                        Case::Fire => (slug::CAPACITY_IN_FIRE, &self.hot_strength),
                    };
                    let verdict = Verdict::design(
                        code,
                        demand.quantity(),
                        Limit::AtMost(or_zero(strength).si()),
                        Basis::total(self.unit),
                        rule.clause(),
                    );
                    checks.push(ReducedCheck { rule, case: rule.case(), verdict });
                    if rule.unconfirmed() {
                        let message =
                            format!("the figures of {} are known with moderate confidence", rule.word());
                        notes.push(Note::new(slug::CAPACITY_UNCONFIRMED, "rules", message));
                    }
                }
                let mut found = ReducedFound {
                    state: after_test(State::Pass, &checks),
                    checks,
                    notes,
                    left_out: LEFT_OUT.to_vec(),
                    working: Working::default(),
                };
                let answer = found.write();
                working.claim_all("", 0, &answer, &answer);
                found.working = working;
                Ok(found)
            }
        }
    };
}

reduced!(
    shear,
    SHEAR_LAWS,
    ReducedShear,
    Force,
    "A shear that the member must carry without its strengthening, per member unit."
);
reduced!(
    moment,
    MOMENT_LAWS,
    ReducedMoment,
    Moment,
    "A moment that the member must carry without its strengthening, per member unit, as a size."
);

crate::variant! {
    /// What the member must carry without its strengthening: shear or moment.
    pub enum WithoutStrengthening ("effect") {
        /// Shears.
        Shear(ReducedShear) = "shear",
        /// Moments.
        Moment(ReducedMoment) = "moment",
    }
}

impl WithoutStrengthening {
    /// Every rule, each with its own clause.
    ///
    /// # Errors
    /// Those of [`ReducedShear::check`].
    pub fn check(&self) -> Result<ReducedFound, Error> {
        match self {
            Self::Shear(asked) => asked.check(),
            Self::Moment(asked) => asked.check(),
        }
    }
}
