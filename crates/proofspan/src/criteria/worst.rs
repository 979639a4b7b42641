//! Many gauges, one criterion: the worst decides.

use crate::readings::{Deflection, Larger};
use crate::uncertainty::{COVERAGE, Tolerance, combined};
use crate::units::{Message, Ratio, Said};
use crate::verdict::{Clause, Limit, Outcome, State, Verdict};

/// A judged criterion.
#[derive(Clone, PartialEq, Debug)]
pub struct Judged {
    /// Its name inside the edition, or `distress`.
    pub id: String,
    /// What it compares, in words.
    pub about: String,
    /// The comparison as the edition writes it.
    pub formula: String,
    /// The clause.
    pub clause: String,
    /// The gauge it was judged on.
    pub gauge: Option<String>,
    /// Both outcomes.
    pub outcome: Outcome,
    /// Why, in one sentence.
    pub reason: Message,
    /// Every gauge of the log; the one that governs is named above. Empty where none is compared.
    pub gauges: Vec<OfGauge>,
    pub(super) any_of: Option<u8>,
}

crate::answer! {
    /// One gauge under one criterion.
    pub struct OfGauge {
        /// The gauge.
        gauge: String,
        /// The edition's own comparison.
        code: Verdict,
        /// The guarded comparison.
        guarded: Verdict,
        /// Why.
        reason: Message,
    }
}

impl Judged {
    /// The probability that the limit is kept, of a normal margin with the uncertainty of the guarded
    /// outcome (JCGM 106). A pass risks one less that as a false acceptance, a failure this as a false
    /// rejection. Nothing where no value, limit or uncertainty is.
    #[must_use]
    pub fn conformity(&self) -> Option<f64> {
        let v = &self.outcome.guarded;
        let u = v.uncertainty? / COVERAGE;
        let tolerance = match v.limit {
            Limit::AtMost(limit) => Tolerance::at_most(limit),
            Limit::AtLeast(limit) => Tolerance::at_least(limit),
            Limit::None => return None,
        };
        tolerance.conformity(v.demand.si, u).ok()
    }

    /// Whether it is a criterion of the edition, not a row about the run of the test.
    #[must_use]
    pub fn of_edition(&self) -> bool {
        matches!(self.outcome.guarded.clause, Clause::Edition(_))
    }
}

/// A gauge that moved less than this part of the largest shows next to nothing (library rule).
pub(super) const LITTLE: f64 = 0.05;
/// A gauge that moved less than this part of the largest shows nothing of the member, however fine it is
/// (library rule).
pub(super) const NOTHING: f64 = 0.01;
/// A residual farther below zero than this part of its largest deflection is drift or a wrong sign,
/// however coarse the gauge (library rule): a larger u explains it, and shows nothing by that.
pub(super) const BELOW: f64 = 0.02;

/// How bad a state is beside another gauge's.
const fn rank(state: State) -> u8 {
    match state {
        State::Fail => 6,
        State::Aborted => 5,
        State::Inconclusive => 4,
        State::NotMeaningful => 3,
        State::Pass => 2,
        State::Waived => 1,
        State::NotApplicable => 0,
    }
}

/// The row of a criterion from those of every gauge, of which the ones named in `dead` read
/// nothing: for both outcomes the worst gauge. `size` is what a gauge moved, as a part of the largest. A
/// gauge that shows nothing of the member does not count beside one that does, whatever its uncertainty.
/// One that cannot discriminate because its uncertainty is large leaves the criterion open: with a smaller
/// one it might have decided. Nothing where there is no gauge.
pub(super) fn worst(
    mut rows: Vec<Judged>,
    dead: &[&str],
    size: &dyn Fn(&str) -> f64,
) -> Option<Judged> {
    let name = |j: &Judged| j.gauge.clone().unwrap_or_default();
    let blunt = |j: &Judged| j.outcome.guarded.state == State::NotMeaningful;
    let aside =
        |j: &Judged| blunt(j) && size(&name(j)) < NOTHING && !dead.contains(&name(j).as_str());
    let gauges: Vec<OfGauge> = rows
        .iter()
        .map(|j| OfGauge {
            gauge: name(j),
            code: j.outcome.code,
            guarded: j.outcome.guarded,
            reason: j.reason.clone(),
        })
        .collect();
    if rows.iter().any(|j| !aside(j)) {
        rows.retain(|j| !aside(j));
    }
    let sharp = rows.iter().any(|j| !blunt(j) && !dead.contains(&name(j).as_str()));
    // of equals the first by name, so that the order of the columns decides nothing
    rows.sort_by_key(name);
    let by = |pick: fn(&Judged) -> &Verdict| {
        move |a: &&Judged, b: &&Judged| {
            let key = |j: &Judged| (rank(pick(j).state), pick(j).utilisation);
            let ((a, x), (b, y)) = (key(a), key(b));
            let size = |u: Option<f64>| u.unwrap_or(f64::NEG_INFINITY);
            a.cmp(&b).then(size(x).total_cmp(&size(y)))
        }
    };
    let guarded = by(|j| &j.outcome.guarded);
    let code = by(|j| &j.outcome.code);
    let governs = rows.iter().rev().max_by(guarded)?;
    let in_code = rows.iter().rev().max_by(code)?;
    let mut row = governs.clone();
    row.outcome.code = in_code.outcome.code;
    // everything that governs with one, by name
    let with = |one: &Judged, pick: fn(&Judged) -> &Verdict| {
        let same = |j: &&Judged| {
            let (a, b) = (pick(j), pick(one));
            let near = match (a.utilisation, b.utilisation) {
                (Some(a), Some(b)) => (a - b).abs() <= 1e-9 * b.abs(),
                (a, b) => a == b,
            };
            j.gauge != one.gauge && a.state == b.state && near
        };
        rows.iter().filter(same).map(name).collect::<Vec<String>>().join(", ")
    };
    let ties = with(governs, |j| &j.outcome.guarded);
    if !ties.is_empty() {
        row.reason = row.reason.and(format!("; so does {ties}").into());
    }
    if in_code.outcome.code != governs.outcome.code {
        let ties = with(in_code, |j| &j.outcome.code);
        let and = if ties.is_empty() { String::new() } else { format!(" and of {ties}") };
        let said = format!("; the code's own outcome is that of {}{and}", name(in_code));
        row.reason = row.reason.and(said.into());
    }
    if sharp && blunt(&row) {
        row.outcome.guarded.state = State::Inconclusive;
        let said = "; beside gauges that can discriminate it leaves this open: take a finer one, or leave it out with a reason";
        row.reason = row.reason.and(said.into());
    }
    row.gauges = gauges;
    Some(row)
}

impl Judged {
    /// Whether it is better for the member than `other`, or as good and farther from its limit.
    pub(super) fn favours(&self, other: &Self) -> bool {
        let of = |v: &Verdict| (rank(v.state), v.utilisation.unwrap_or(f64::NEG_INFINITY));
        let worse = |pick: fn(&Self) -> &Verdict| {
            let ((a, x), (b, y)) = (of(pick(self)), of(pick(other)));
            b.cmp(&a).then(y.total_cmp(&x))
        };
        worse(|j| &j.outcome.guarded).then(worse(|j| &j.outcome.code)).is_gt()
    }

    /// With where its largest deflection was read, which is not the peak window.
    pub(super) fn at_its_largest(mut self, larger: &Larger) -> Self {
        let values = [Said::small(larger.deflection), larger.at.into()];
        let said = "; the largest of the load stage counts, {} at {}";
        self.reason = self.reason.and(Message::new(said, values));
        self
    }

    /// The residual over the largest deflection with its standard uncertainty, where both were read.
    #[must_use]
    pub fn ratio(deflection: &Deflection) -> Option<(Ratio, Option<Ratio>)> {
        let (d_max, d_r) = (deflection.d_max.si(), deflection.d_r?.si());
        let u = deflection.errors().and_then(|errors| {
            combined(&vec![0.0; errors.len()], &errors, |e| {
                let (max, rest) = deflection.moved(e)?;
                Some((d_r + rest) / (d_max + max))
            })
        });
        (d_max > 0.0).then(|| (Ratio::from(d_r / d_max), u.map(Ratio::from)))
    }
}

impl crate::source::Write for Judged {
    fn write(&self) -> crate::source::Node {
        use crate::source::Node;
        Node::map(vec![
            ("id", Node::text(self.id.clone())),
            ("about", Node::text(self.about.clone())),
            ("formula", Node::text(self.formula.clone())),
            ("clause", Node::text(self.clause.clone())),
            ("gauge", self.gauge.write()),
            ("code", self.outcome.code.write()),
            ("guarded", self.outcome.guarded.write()),
            ("conformity", self.conformity().write()),
            ("reason", self.reason.write()),
            ("gauges", self.gauges.write()),
        ])
    }
}
