//! Logs whose truth is known: what was on, when, and what the member did.
//!
//! The member takes 7 mm elastically per 100 kN and keeps 3 mm from the first time the full load is
//! on, so that the true ratio of residual to largest deflection is 3/10. Samples every 0.1 h.

#![allow(dead_code, reason = "each file of tests uses a part")]

use proofspan::criteria::{Facts, RunRecord};
use proofspan::editions::Edition;
use proofspan::readings::{LogSpec, read_csv_text};
use proofspan::source::read_json;
use proofspan::units::*;
use proofspan::verdict::{MemberUnit, State};
use proofspan::{Error, Judgement, judge_record};

/// One sample: hours, kN on the member, mm at mid-span, kN the cell shows beyond the truth.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Row {
    pub t: f64,
    pub force: f64,
    pub v: f64,
    pub offset: f64,
}

/// Nothing up to 1 h, then 25, 50, 75 kN for 0.3 h each, 100 kN from 1.9 h to 26.1 h, 50 kN at
/// 26.2 h, nothing from 26.3 h to 51 h.
pub fn force_at(t: f64) -> f64 {
    let k = (t * 10.0).round();
    [(263.0, 0.0), (262.0, 50.0), (19.0, 100.0), (16.0, 75.0), (13.0, 50.0), (10.5, 25.0)]
        .iter()
        .find(|step| k >= step.0)
        .map_or(0.0, |step| step.1)
}

/// The log of the head of this file with a permanent part of `kept` mm.
pub fn rows(kept: f64) -> Vec<Row> {
    (0..=510)
        .map(|k| {
            let t = f64::from(k) / 10.0;
            let force = force_at(t);
            let v = 0.07 * force + if k >= 19 { kept } else { 0.0 };
            Row { t, force, v, offset: 0.0 }
        })
        .collect()
}

/// A number between -1 and 1 for a row and a channel: looks random, is the same on every machine.
pub fn noise(row: usize, channel: usize) -> f64 {
    let mut x = (row as u64 + 1).wrapping_mul(0x9e37_79b9_7f4a_7c15) ^ (channel as u64) << 40;
    x = (x ^ x >> 30).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    x = (x ^ x >> 27).wrapping_mul(0x94d0_49bb_1331_11eb);
    ((x ^ x >> 31) >> 11) as f64 / (1_u64 << 52) as f64 - 1.0
}

/// The rows as text: one cell `P`, one gauge `mid`.
pub fn text(rows: &[Row]) -> String {
    let mut out = String::from("t,P,mid\n");
    for r in rows {
        out += &format!("{:.1},{:.3},{:.4}\n", r.t, r.force + r.offset, r.v);
    }
    out
}

/// The layout of [`text`]: windows in hours, more fields of the layout and of the moments.
pub struct Map {
    pub zero: (f64, f64),
    pub peak: (f64, f64),
    pub residual: (f64, f64),
    pub unloaded: Option<f64>,
    pub u: Option<f64>,
    pub moments: &'static str,
    pub more: &'static str,
}

impl Default for Map {
    fn default() -> Self {
        Self {
            zero: (0.5, 1.0),
            peak: (25.8, 26.1),
            residual: (50.1, 50.5),
            unloaded: Some(26.3),
            u: Some(0.1),
            moments: "",
            more: "",
        }
    }
}

impl Map {
    pub fn layout(&self) -> Result<LogSpec, Error> {
        let window = |w: (f64, f64)| format!(r#"{{"from":"{} h","to":"{} h"}}"#, w.0, w.1);
        let off = self.unloaded.map_or(String::new(), |t| format!(r#","unloaded":"{t} h""#));
        let u = self.u.map_or(String::new(), |u| format!(r#","u":{u:?}"#));
        read_json(&format!(
            r#"{{"time":{{"column":"t","unit":"h"}},{}"channels":[
                {{"id":"P","column":"P","unit":"kN","role":"force"{u}}},
                {{"id":"mid","column":"mid","unit":"mm","role":"deflection","at":"3 m","u":0.01}}],
                "moments":{{"zero":{},"peak":{},"residual":{}{off}{}}}}}"#,
            self.more,
            window(self.zero),
            window(self.peak),
            window(self.residual),
            self.moments,
        ))
    }

    /// Judged by ACI 437.2-13 for a target of 100 kN: a residual of at most a quarter, a zero at
    /// most 1 h before the first increment, a hold of 24 h (edition file).
    pub fn judge(&self, rows: &[Row]) -> Judgement {
        judged(&text(rows), &self.layout().unwrap(), &record(r#","held":"24 h""#)).unwrap()
    }
}

pub fn record(more: &str) -> RunRecord {
    read_json(&format!(
        r#"{{"observation":{{"distress":"none","by":"engineer","date":"2026-01-01"}},"expiry":"2030-01-01"{more}}}"#
    ))
    .unwrap()
}

pub fn judged(text: &str, layout: &LogSpec, record: &RunRecord) -> Result<Judgement, Error> {
    let facts = Facts { lt: 6.0 * M, l: 6.0 * M, h: 400.0 * MM, unit: MemberUnit::Beam };
    let edition = Edition::shipped("ACI 437.2-13").unwrap();
    let log = read_csv_text(text, layout)?;
    judge_record(&edition, "monotonic", facts, &log, layout, record, Some(Net(100.0 * KN)))
}

/// The overall states, code and guarded.
pub fn overall(j: &Judgement) -> (State, State) {
    (j.judging.code.state, j.judging.guarded.state)
}

/// The states of one criterion, code and guarded.
pub fn states(j: &Judgement, id: &str) -> (State, State) {
    let c = j.judging.criteria.iter().find(|c| c.id == id).unwrap_or_else(|| panic!("no {id}"));
    (c.outcome.code.state, c.outcome.guarded.state)
}

/// Why a criterion came out as it did.
pub fn reason(j: &Judgement, id: &str) -> String {
    let c = j.judging.criteria.iter().find(|c| c.id == id).unwrap_or_else(|| panic!("no {id}"));
    c.reason.to_string()
}

pub fn noted(j: &Judgement, code: &str) -> bool {
    j.judging.notes.iter().any(|n| n.slug.code() == code)
}
