//! Two people read one gauge: do they agree?

use super::judging::Judging;
use super::record::RunRecord;
use super::witness::Row;
use crate::error::slug;
use crate::readings::LogSpec;
use crate::units::{Kind, Length, Message, Quantity};
use crate::verdict::{Limit, MemberUnit, State};

/// How far two readings may be apart, in standard uncertainties of one: twice that of their difference.
const APART: f64 = 2.0 * std::f64::consts::SQRT_2;

impl Judging {
    /// Adds whether two people read the same at every gauge and moment that the record names; of all, the
    /// pair that is furthest apart beside what may be. A gauge that the log does not have, or whose
    /// uncertainty is not stated, decides nothing.
    pub(crate) fn read_twice(&mut self, record: &RunRecord, layout: &LogSpec, unit: MemberUnit) {
        let all = record.read_twice.iter().map(|r| {
            let apart = (r.first.value - r.second.value).abs();
            let channel = layout.channels.iter().find(|c| c.id == r.gauge);
            let limit = channel.and_then(|c| c.u_si()).map(|u| Length::from_si(u * APART));
            // what is not known is further apart than anything
            let worse = limit.map_or(f64::INFINITY, |l| apart / l);
            (r, apart, limit, worse)
        });
        let Some((r, apart, limit, worse)) = all.max_by(|a, b| a.3.total_cmp(&b.3)) else { return };
        let agree = worse <= 1.0 + 1e-12;
        let state = if agree { State::Pass } else { State::Inconclusive };
        let said = [
            (&*r.gauge).into(),
            r.first.value.into(),
            (&*r.first_by).into(),
            r.second.value.into(),
            (&*r.second_by).into(),
        ];
        let read = Message::new("{} was read as {} by {} and as {} by {}", said);
        let reason = match limit {
            None => read.and("; how far they may be apart is not known".into()),
            Some(_) if agree => read,
            Some(limit) => read.and(Message::new("; they may be {} apart", [limit.into()])),
        };
        self.row(
            Row {
                id: "read twice",
                about: "whether two people read the same at one gauge and moment",
                formula: "|first - second| <= 2 sqrt(2) u".to_owned(),
                clause: "library rule",
                slug: slug::CRITERIA_READ_TWICE,
                demand: Quantity::new(Kind::Length, apart.si()),
                limit: Limit::AtMost(limit.map_or(0.0, Length::si)),
                u: None,
                states: (state, state),
                reason,
            },
            unit,
        );
        self.combine();
    }
}
