//! Does an edition hold together? Checked once, when it is read, however it came here.

use std::collections::HashSet;

use super::factors::{self, Column};
use super::file::{BridgeProofFile, EditionFile, ProtocolFile, RowFile, SetFile};
use crate::error::{Issue, Slug, slug};
use crate::loads::Symbol;
use crate::units::Message;

/// The most sets, rows of a set, criteria, protocols and their like in one edition.
pub(super) const MOST: usize = 64;

/// The longest name, in characters.
const NAME: usize = 200;

/// Every problem of the names, numbers and counts of an edition. Formulas are checked where they
/// are compiled.
pub(super) fn problems(file: &EditionFile) -> Vec<Issue> {
    let mut found = Found(Vec::new());
    found.counts(file);
    // the other checks compare every item with every other
    if found.0.is_empty() {
        found.names(file);
        for (i, set) in file.sets.iter().enumerate() {
            found.set(&format!("sets[{i}]"), set);
        }
        found.protocols(file);
        found.criteria(file);
        if let Some(proof) = &file.bridge_proof {
            found.bridge(proof);
        }
    }
    found.0
}

struct Found(Vec<Issue>);

impl Found {
    fn refuse(&mut self, path: impl Into<String>, message: impl Into<Message>) {
        self.0.push(Issue::new(slug::EDITIONS_FILE, path, message));
    }

    /// Refuses a number that `fits` does not accept; not-a-number never fits.
    fn number(&mut self, path: String, slug: Slug, number: f64, fits: bool, limit: &str) {
        if !fits {
            let issue = Issue::new(slug, path, "a number that cannot be");
            self.0.push(issue.value(number).limit(limit));
        }
    }

    fn counts(&mut self, file: &EditionFile) {
        let bridge = file.bridge_proof.as_ref();
        let lists = [
            ("sets", file.sets.len()),
            ("sets.rows", file.sets.iter().map(|s| s.rows.len()).max().unwrap_or(0)),
            ("protocols", file.protocols.len()),
            ("protocols.cycles", file.protocols.iter().map(|p| p.cycles.len()).max().unwrap_or(0)),
            ("criteria", file.criteria.len()),
            ("retest", file.retest.len()),
            ("stop_rules", file.stop_rules.len()),
            ("bridge_proof.adjust_percent", bridge.map_or(0, |b| b.adjust_percent.len())),
            ("bridge_proof.exclusive", bridge.map_or(0, |b| b.exclusive.len())),
        ];
        for (path, count) in lists.into_iter().filter(|(_, count)| *count > MOST) {
            let issue = Issue::new(slug::EDITIONS_FILE, path, "an edition of too many parts");
            self.0.push(issue.value(count).limit(format!("at most {MOST}")));
        }
    }

    fn name(&mut self, path: &str, name: &str) {
        if name.trim().is_empty()
            || name.chars().count() > NAME
            || name.chars().any(char::is_control)
        {
            let message = "a name is a line of text";
            let issue = Issue::new(slug::EDITIONS_FILE, path, message)
                .value(name.escape_debug().to_string());
            self.0.push(issue.limit(format!("1 to {NAME} characters, no control characters")));
        }
    }

    /// Names, and that none of them stands twice.
    fn names_of<'a>(&mut self, path: &str, names: impl Iterator<Item = (&'a str, &'a str)>) {
        let mut seen = HashSet::new();
        for (group, name) in names {
            self.name(path, name);
            if !seen.insert((group, name)) {
                let issue = Issue::new(slug::EDITIONS_FILE, path, "a name that is given twice");
                self.0.push(issue.value(name));
            }
        }
    }

    fn names(&mut self, file: &EditionFile) {
        for (path, name) in [("id", &file.id), ("name", &file.name), ("title", &file.title)] {
            self.name(path, name);
        }
        for (path, word, known) in [
            ("deflection_basis", &file.deflection_basis, "imposed_only"),
            ("factors", &file.factors, "unknown"),
        ] {
            if let Some(word) = word.as_ref().filter(|w| *w != known) {
                let issue = Issue::new(slug::EDITIONS_FILE, path, "not a known word");
                self.0.push(issue.value(word).limit(known));
            }
        }
        self.names_of("sets.id", file.sets.iter().map(|s| ("", s.id.as_str())));
        self.names_of("protocols.method", file.protocols.iter().map(|p| ("", p.method.as_str())));
        self.names_of("retest.method", file.retest.iter().map(|r| ("", r.method.as_str())));
        self.names_of("stop_rules.id", file.stop_rules.iter().map(|r| ("", r.id.as_str())));
        let criteria = file.criteria.iter().map(|c| (c.method.as_str(), c.id.as_str()));
        self.names_of("criteria.id", criteria);
    }

    fn set(&mut self, path: &str, set: &SetFile) {
        self.names_of(&format!("{path}.rows.id"), set.rows.iter().map(|r| ("", r.id.as_str())));
        if set.rows.is_empty() {
            self.refuse(path, format!("set `{}` has no combination", set.id));
        }
        for (j, row) in set.rows.iter().enumerate() {
            self.row(&format!("{path}.rows[{j}]"), row);
        }
    }

    fn row(&mut self, path: &str, row: &RowFile) {
        let columns = &row.factors.0;
        for (_, factor) in columns {
            let fits = factors::possible(*factor);
            self.number(
                format!("{path}.factors"),
                slug::EDITIONS_FACTOR,
                *factor,
                fits,
                factors::LIMIT,
            );
        }
        if !columns.iter().any(|(_, f)| *f > 0.0) {
            self.refuse(format!("{path}.factors"), "a combination of nothing");
        }
        let imposed = columns.iter().any(|(c, _)| *c == Column::One(Symbol::Imposed));
        let twice = Symbol::ALL.iter().filter(|s| {
            let own = columns.iter().filter(|(c, _)| c.holds(**s)).count();
            let by_imposed = imposed && !s.permanent() && **s != Symbol::Imposed;
            own + usize::from(by_imposed && own > 0) > 1
        });
        for symbol in twice.take(1) {
            self.refuse(format!("{path}.factors"), format!("{symbol} has two factors in one row"));
        }
        if let Some(reduction) = &row.live_reduction {
            let live = columns.iter().find(|(c, _)| *c == Column::One(Symbol::Live));
            let most = live.map_or(0.0, |(_, f)| *f);
            let fits = live.is_some() && reduction.to <= most;
            let limit = format!("0 to {most}, the factor of L in the row");
            let path = format!("{path}.live_reduction.to");
            self.number(path, slug::EDITIONS_FILE, reduction.to, fits, &limit);
        }
    }

    fn protocols(&mut self, file: &EditionFile) {
        for (i, p) in file.protocols.iter().enumerate() {
            if let Some(least) = p.p_min {
                let path = format!("protocols[{i}].p_min");
                let fits = (0.0..1.0).contains(&least);
                self.number(path, slug::EDITIONS_FILE, least, fits, "0 to below 1");
            }
            self.twins(&format!("protocols[{i}].cycles"), p);
        }
    }

    /// The indices of a pair compare two cycles of one peak, one after the other.
    fn twins(&mut self, path: &str, protocol: &ProtocolFile) {
        self.names_of(path, protocol.cycles.iter().map(|c| ("", c.name.as_str())));
        let least = protocol.p_min.unwrap_or(0.0);
        for pair in protocol.cycles.chunks(2) {
            let twins = match pair {
                [a, b] => a.pair == b.pair && (a.level - b.level).abs() <= 1e-12,
                _ => false,
            };
            let names: Vec<&str> = pair.iter().map(|c| c.name.as_str()).collect();
            if !twins {
                let message = "load cycles that are not a pair of twins";
                let issue = Issue::new(slug::EDITIONS_FILE, path, message).value(names.join(", "));
                self.0.push(issue.limit("two of one pair and one level, one after the other"));
            } else if pair.iter().any(|c| c.level <= least) {
                let message = "a cycle whose peak is not above the least load";
                let issue = Issue::new(slug::EDITIONS_FILE, path, message).value(names.join(", "));
                self.0.push(issue.limit(format!("above {least}")));
            }
        }
        let mut numbers: Vec<u32> = protocol.cycles.iter().step_by(2).map(|c| c.pair).collect();
        let count = numbers.len();
        numbers.sort_unstable();
        numbers.dedup();
        if numbers.len() < count {
            self.refuse(path, "a pair of load cycles that stands twice");
        }
    }

    fn criteria(&mut self, file: &EditionFile) {
        let planned: Vec<&str> = file.protocols.iter().map(|p| p.method.as_str()).collect();
        let methods = file.criteria.iter().map(|c| &c.method);
        for method in methods.chain(file.retest.iter().map(|r| &r.method)) {
            if !planned.is_empty() && !planned.contains(&method.as_str()) {
                let message = "a method without a protocol: nobody would judge by it";
                let issue = Issue::new(slug::EDITIONS_FILE, "criteria.method", message);
                self.0.push(issue.value(method).limit(planned.join(", ")));
            }
        }
        for (i, criterion) in file.criteria.iter().enumerate() {
            if criterion.any_of.is_some_and(|g| u8::try_from(g).is_err()) {
                self.refuse(format!("criteria[{i}].any_of"), "a group beyond 255");
            }
        }
        for (i, retest) in file.retest.iter().enumerate() {
            let own = |id: &&String| {
                file.criteria.iter().any(|c| c.method == retest.method && c.id == **id)
            };
            for (field, names) in
                [("after_failed", &retest.after_failed), ("replaces", &retest.replaces)]
            {
                for name in names.iter().filter(|id| !own(id)).take(MOST) {
                    let path = format!("retest[{i}].{field}");
                    let issue =
                        Issue::new(slug::EDITIONS_FILE, path, "a criterion that is not there");
                    self.0.push(issue.value(name));
                }
            }
        }
    }

    fn bridge(&mut self, proof: &BridgeProofFile) {
        let adjustments = &proof.adjust_percent;
        self.names_of(
            "bridge_proof.adjust_percent.id",
            adjustments.iter().map(|a| ("", a.id.as_str())),
        );
        if proof.at_least > proof.at_most {
            let issue = Issue::new(slug::EDITIONS_FILE, "bridge_proof.at_least", "crossed bounds");
            self.0.push(issue.value(proof.at_least).limit(format!("at most {}", proof.at_most)));
        }
    }
}
