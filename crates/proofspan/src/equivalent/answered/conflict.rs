//! Which requirements contradict each other, and what would help?

use super::certificate::Certificate;
use super::problem::Problem;
use crate::equivalent::asked::words::brief;
use crate::equivalent::solved::exchange::{Ended, Program, Seed, exchange};
use crate::equivalent::solved::rows::{Source, Stretch};
use crate::equivalent::solved::simplex::Trouble;
use crate::error::Error;
use crate::formula::Working;
use crate::units::{Force, Kind, Net, Quantity, System};

crate::answer! {
    /// The least that one requirement would have to give so that all can be met.
    pub struct Relaxation {
        /// The requirement, in words.
        what: String,
        /// By how much it gives: a part of the reference that is not reached, an addition to the
        /// ratio of a cap, a part of a limit, or N for a force; nothing where that alone does not help.
        by: Option<f64>,
        /// What that means, in words.
        becomes: String,
    }
}

crate::answer! {
    /// A bound that the library itself puts on a force that nobody bounded: a thousand times what the
    /// reference asks for, beyond what anybody would apply and beyond what rounding leaves exact.
    pub struct OwnBound {
        /// Whose force, by the names of its candidates.
        of: String,
        /// The largest force that was looked at.
        most: Net<Force>,
    }
}

/// Requirements that no forces of these candidates meet together.
#[derive(Clone, PartialEq, Debug)]
pub struct Conflict {
    /// What was asked and contradicts itself, the smallest set found: leave out any one, and the rest can
    /// be met.
    pub requirements: Vec<String>,
    /// The library's own bounds on forces that take part in the contradiction. Empty where no forces of
    /// any size meet the requirements; else larger ones might, and were not looked at.
    pub bounds: Vec<OwnBound>,
    /// The contradiction: costs are zero and the bound is above zero, in the SI unit of the rows.
    pub certificate: Certificate,
    /// What the rows add up to, in words: zero against what is above zero.
    pub contradiction: String,
    /// What each of them would have to give.
    pub relaxations: Vec<Relaxation>,
    /// The units of words.
    pub(in crate::equivalent) system: System,
}

impl Conflict {
    /// Why no forces will do, redone with a pencil: what the rows of the contradiction add up to.
    #[must_use]
    pub fn working(&self) -> Working {
        let mut working = Working::default();
        self.certificate.work(&mut working, "certificate");
        working
    }

    fn shown(&self, force: Net<Force>) -> String {
        brief(force.0.into(), self.system)
    }

    /// The conflict in prose.
    #[must_use]
    pub fn words(&self) -> String {
        let mut text = format!(
            "No forces of these carriers meet these together: {}.",
            self.requirements.join("; ")
        );
        for bound in &self.bounds {
            text.push_str(&format!(
                " No more than {} was looked at from {}, a thousand times the reference (the library's own bound).",
                self.shown(bound.most),
                bound.of
            ));
        }
        text.push_str(&format!(
            " Added up with the multipliers of the certificate they read {}, which is false.",
            self.contradiction
        ));
        for relaxation in &self.relaxations {
            text.push_str(&format!(" {}: {}.", relaxation.what, relaxation.becomes));
        }
        text
    }
}

impl Problem<'_> {
    /// The smallest conflict: requirements are left out one after the other as long as the rest
    /// cannot be met. That no force is beyond what anybody would apply is never left out.
    pub(in crate::equivalent) fn conflict(&self) -> Result<Conflict, Error> {
        let field = &self.field;
        let program = Program::feasible(field.n);
        let solve = |kept: &[Source]| -> Result<Option<Vec<(Seed, f64)>>, Error> {
            let counts = |s: &Stretch| s.implicit || kept.contains(&s.source);
            let ended = exchange(field, &program, self.scale, &mut Vec::new(), counts);
            Ok(match ended.map_err(|t| self.trouble(t))? {
                Ended::Infeasible(ray) => Some(ray),
                Ended::Optimal(_) => None,
            })
        };
        let mut sources: Vec<Source> = Vec::new();
        for stretch in &field.stretches {
            if !stretch.implicit && !sources.contains(&stretch.source) {
                sources.push(stretch.source);
            }
        }
        let part = |ray: &[(Seed, f64)], of: &[Source]| -> Vec<Source> {
            let named = |source: &Source| {
                ray.iter()
                    .any(|((i, _), _)| field.stretches.get(*i).is_some_and(|s| s.source == *source))
            };
            of.iter().copied().filter(named).collect()
        };
        let Some(mut ray) = solve(&sources)? else { return Err(self.trouble(Trouble::Singular)) };
        let mut kept = part(&ray, &sources);
        let mut i = 0;
        while i < kept.len() {
            let mut fewer = kept.clone();
            fewer.remove(i);
            // where rounding hides whether the rest can be met, the requirement stays
            match solve(&fewer).unwrap_or_default() {
                Some(found) => {
                    kept = part(&found, &fewer);
                    ray = found;
                    i = 0;
                }
                None => i += 1,
            }
        }
        let mut rows = self.proof(field, false, &ray, &[]);
        // the first limit counts once: the contradiction then has its unit
        let asked =
            |r: &super::certificate::CertificateRow| r.term.is_some() && r.what.contains("reached");
        rows.sort_by_key(asked);
        let unit = rows.first().map_or(1.0, |r| r.multiplier);
        rows.iter_mut().for_each(|r| r.multiplier /= unit);
        let certificate = Certificate::of(
            "these rows contradict each other".to_owned(),
            self.unknowns.iter().map(|u| self.unknown(u)).collect(),
            Vec::new(),
            vec![0.0; field.n],
            rows,
        );
        let words = |source: &Source| {
            let own = field.stretches.iter().find(|s| s.source == *source);
            own.map_or_else(String::new, |s| self.what(s, &[]))
        };
        let requirements: Vec<String> = kept.iter().map(words).collect();
        let mut bounds: Vec<OwnBound> = Vec::new();
        for ((i, _), _) in &ray {
            let own = field.stretches.get(*i).filter(|s| s.implicit);
            let Some(Source::Capacity(j)) = own.map(|s| s.source) else { continue };
            let of = self.unknowns.get(j).map_or_else(String::new, |u| self.unknown(u));
            if bounds.iter().all(|b| b.of != of) {
                bounds.push(OwnBound { of, most: Net(Force::from_si(self.beyond())) });
            }
        }
        let mut relaxations = Vec::with_capacity(kept.len());
        let limited = kept.iter().any(|s| !self.reaches(*s));
        for source in &kept {
            relaxations.push(self.relaxed(*source, words(source), limited)?);
        }
        let kind = match certificate.rows.first().map(|r| r.unit.as_str()) {
            Some("N m") => Kind::Moment,
            Some("m") => Kind::Length,
            _ => Kind::Force,
        };
        let bound = self.reference.show(Quantity::new(kind, certificate.bound));
        let contradiction = format!("0 >= {bound}");
        Ok(Conflict {
            requirements,
            bounds,
            system: self.reference.system(),
            certificate,
            contradiction,
            relaxations,
        })
    }

    /// The least that one requirement gives so that all others hold.
    fn relaxed(&self, source: Source, what: String, limited: bool) -> Result<Relaxation, Error> {
        let mut field = self.field.clone();
        let own = |s: &&mut Stretch| s.source == source;
        field.stretches.iter_mut().filter(own).for_each(|s| s.relaxed = true);
        let mut own = field.stretches.iter().filter(|s| s.source == source);
        let unit = if own.any(|s| s.start.is_none()) { self.scale } else { 1.0 };
        let program = Program { helper: true, unit, ..Program::feasible(field.n) };
        let ended = exchange(&field, &program, self.scale, &mut Vec::new(), |_| true);
        Ok(match ended {
            // what rounding hides is not said
            Err(_) => Relaxation {
                what,
                by: None,
                becomes: "how much it would have to give is lost in rounding".to_owned(),
            },
            Ok(Ended::Optimal(best)) => {
                let by = best.helper;
                Relaxation { what, by: Some(by), becomes: self.becomes(source, by, limited) }
            }
            Ok(Ended::Infeasible(ray)) => {
                let mut others: Vec<String> = Vec::new();
                for ((i, _), _) in &ray {
                    let Some(stretch) = field.stretches.get(*i) else { continue };
                    let words = self.what(stretch, &[]);
                    if stretch.source != source && !others.contains(&words) {
                        others.push(words);
                    }
                }
                let becomes = format!(
                    "giving way here alone does not help: there is still {}",
                    others.join("; ")
                );
                Relaxation { what, by: None, becomes }
            }
        })
    }

    /// Whether it is something to be reached, not a limit.
    fn reaches(&self, source: Source) -> bool {
        use crate::equivalent::asked::requirement::Requirement as R;
        let Source::Requirement(i) = source else { return false };
        matches!(self.requirements.get(i), Some(R::Reach(_)))
    }

    /// What giving way means; `limited` where a limit is part of the conflict.
    fn becomes(&self, source: Source, by: f64, limited: bool) -> String {
        use crate::equivalent::asked::requirement::Requirement as R;
        let show = |value: Quantity| self.reference.show(value);
        let force = |value: f64| show(Quantity::new(Kind::Force, value));
        let times = 1.0 + by;
        match source {
            Source::Requirement(i) => match self.requirements.get(i) {
                Some(R::Reach(_)) if by >= 1.0 - 1e-6 && limited => {
                    "no part of it can be reached while the rest is kept".to_owned()
                }
                Some(R::Reach(_)) if by >= 1.0 - 1e-6 => {
                    "these carriers reach no part of the reference everywhere; one that loads the rest is missing".to_owned()
                }
                Some(R::Reach(_)) => {
                    format!("everything else can be met with {:.6} of the reference", 1.0 - by)
                }
                Some(R::Within(r)) => format!("a cap of {:.6} can be met", r.at_most + by),
                Some(R::ReactionLimit(_)) => {
                    format!("it can be met when the limit gives by {}", force(by))
                }
                Some(R::ShearSpan(_)) => {
                    let size = self.field.stretches.iter().find(|s| s.source == source);
                    let moment = size.map_or(0.0, |s| by * s.size);
                    let moment = show(Quantity::new(Kind::Moment, moment));
                    format!("it can be met when the moment may miss the window by {moment}")
                }
                Some(R::MomentLimit(r)) => {
                    let both = [(r.sagging, "sagging {}"), (r.hogging, "hogging {}")];
                    let both = self.reference.each(both, r.share * times);
                    format!("it can be met at {:.6} of {} ({both})", r.share * times, r.of)
                }
                Some(R::ShearLimit(r)) => {
                    let most = show((r.strength * (r.share * times)).into());
                    format!("it can be met at {:.6} of the strength ({most})", r.share * times)
                }
                Some(R::DeflectionLimit(r)) => {
                    let both = [(r.down, "{} down"), (r.up, "{} up")];
                    format!("it can be met at {}", self.reference.each(both, times))
                }
                None => String::new(),
            },
            Source::Capacity(j) => {
                let own = self.unknowns.get(j);
                let now = own.and_then(|u| u.capacity).unwrap_or_else(|| self.beyond());
                let shared = own.is_some_and(|u| u.members.len() > 1);
                let whose = if shared { " for all of them together" } else { "" };
                format!("a capacity of {}{whose} is enough", force(now + by))
            }
            Source::Least(j) => {
                let now = self.unknowns.get(j).and_then(|u| u.least).unwrap_or(0.0);
                format!("a least force of {} can be met", force(now - by))
            }
            Source::Objective(_) => String::new(),
        }
    }
}
