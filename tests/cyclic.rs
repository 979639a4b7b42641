//! Cyclic tests: schedule, the cycles of a log, their indices, and what is judged from them.
//!
//! Both logs are invented: a two-span beam, 8 m, under twin cycles to 44.5, 66.75 and 89 kN. In the
//! first the load goes back to nothing after each cycle, in the second to 8.9 kN. The indices are
//! worked by hand from the readings in the tables.

use proofspan::criteria::{Facts, RunRecord};
use proofspan::editions::Edition;
use proofspan::formula::NoRecord;
use proofspan::readings::{Cycles, Index, LogSpec, linearity_deviation, read_csv_text, secant};
use proofspan::source::read_json;
use proofspan::units::*;
use proofspan::verdict::{MemberUnit, State};
use proofspan::{Error, Judgement, TestSpec, judge_record};

/// Peak in kN, reading at the peak, reading after it in mm.
type Cycle = (f64, f64, f64);

/// Load removed after each cycle; the zero reads 0.
const REMOVED: [Cycle; 6] = [
    (44.5, 3.72, 0.16),
    (44.5, 3.78, 0.19),
    (66.75, 5.90, 0.31),
    (66.75, 5.98, 0.36),
    (89.0, 8.35, 0.60),
    (89.0, 8.49, 0.70),
];
/// 8.9 kN held between the cycles; 0.10 mm at no load, 0.72 mm under the first 8.9 kN.
const HELD: [Cycle; 6] = [
    (44.5, 3.72, 0.85),
    (44.5, 3.78, 0.89),
    (66.75, 5.92, 1.02),
    (66.75, 5.99, 1.08),
    (89.0, 8.38, 1.33),
    (89.0, 8.52, 1.44),
];

struct Invented<'a> {
    cycles: &'a [Cycle],
    /// Least load, kN, with the reading under it before the first cycle.
    least: (f64, f64),
    /// Reading at no load before, and a day after.
    zero: (f64, f64),
    /// Standard uncertainty of a reading, mm.
    u: f64,
}

const FIRST: Invented<'static> =
    Invented { cycles: &REMOVED, least: (0.0, 0.0), zero: (0.0, 0.52), u: 0.002 };
const SECOND: Invented<'static> =
    Invented { cycles: &HELD, least: (8.9, 0.72), zero: (0.10, 0.68), u: 0.002 };

impl Invented<'_> {
    /// A row a minute: half an hour of nothing, five minutes of the least load, four steps up of three
    /// minutes and the peak of five, one sample on the way down, the least load again; then a day of
    /// nothing. Returns the text, and the minutes of the last peak.
    fn text(&self) -> (String, usize) {
        let mut rows: Vec<(f64, f64)> = vec![(0.0, self.zero.0); 30];
        let mut hold = |n: usize, p: f64, v: f64| {
            rows.extend(vec![(p, v); n]);
            rows.len()
        };
        hold(6, self.least.0, self.least.1);
        let mut start = self.least.1;
        let mut peak_ends = 0;
        for (p, top, left) in self.cycles {
            for part in [0.25, 0.5, 0.75] {
                let (f, v) = (self.least.0, start);
                hold(3, f + part * (p - f), v + part * (top - v));
            }
            peak_ends = hold(6, *p, *top);
            hold(1, f64::midpoint(self.least.0, *p), f64::midpoint(*left, *top));
            hold(6, self.least.0, *left);
            start = *left;
        }
        let back = self.zero.1 + 0.15 * (start - self.zero.1);
        for k in 0..1500 {
            let v = self.zero.1 + (back - self.zero.1) * (-f64::from(k) / 180.0).exp();
            hold(1, 0.0, v);
        }
        let mut text = String::from("t,P,mid\n");
        for (k, (p, v)) in rows.iter().enumerate() {
            text += &format!("{k},{p:.3},{v:.4}\n");
        }
        (text, peak_ends)
    }

    fn layout(&self) -> LogSpec {
        let (text, peak) = self.text();
        let rows = text.lines().count() - 1;
        read_json(&format!(
            r#"{{"time":{{"column":"t","unit":"min"}},"channels":[
                {{"id":"P","column":"P","unit":"kN","role":"force","u":0.05}},
                {{"id":"mid","column":"mid","unit":"mm","role":"deflection","at":"4 m","u":{}}}],
                "moments":{{"zero":{{"from":"0 min","to":"29 min"}},
                    "peak":{{"from":"{} min","to":"{} min"}},
                    "residual":{{"from":"{} min","to":"{} min"}}}}}}"#,
            self.u,
            peak - 3,
            peak - 1,
            rows - 20,
            rows - 1,
        ))
        .unwrap()
    }

    fn judge(&self, edition: &str, permanency: &str) -> Result<Judgement, Error> {
        let layout = self.layout();
        let log = read_csv_text(&self.text().0, &layout)?;
        let facts = Facts { lt: 8.0 * M, l: 8.0 * M, h: 600.0 * MM, unit: MemberUnit::Beam };
        let record: RunRecord = read_json(&format!(
            r#"{{"observation":{{"distress":"none","by":"engineer","date":"2026-01-01"}},{permanency}"expiry":"2030-01-01"}}"#
        ))
        .unwrap();
        let edition = Edition::shipped(edition).unwrap();
        judge_record(&edition, "cyclic", facts, &log, &layout, &record, Some(Net(89.0 * KN)))
    }
}

const REZEROED: &str = r#""permanency":"rezeroed","#;
const ABSOLUTE: &str = r#""permanency":"absolute","#;

fn states(j: &Judgement, id: &str) -> (State, State) {
    let c = j.judging.criteria.iter().find(|c| c.id == id).unwrap_or_else(|| panic!("no {id}"));
    (c.outcome.code.state, c.outcome.guarded.state)
}

fn reason(j: &Judgement, id: &str) -> String {
    j.judging.criteria.iter().find(|c| c.id == id).unwrap().reason.to_string()
}

/// The values of an index, in the order of the cycles that have it.
fn values(
    c: &Cycles,
    pick: fn(&proofspan::readings::CycleRead) -> &Option<Index>,
) -> Vec<(f64, f64)> {
    let all = c.gauges[0].cycles.iter().filter_map(|c| pick(c).as_ref());
    all.map(|i| (i.value.value(), i.u.unwrap().value())).collect()
}

fn near(found: &[(f64, f64)], expected: &[f64]) {
    assert_eq!(found.len(), expected.len(), "{found:?}");
    for ((value, _), expected) in found.iter().zip(expected) {
        assert!((value - expected).abs() < 1e-6, "{found:?} {expected}");
    }
}

/// I_P = (res_i - res_(i-1))/(max_i - res_(i-1)): 0.16/3.72, 0.03/3.62, 0.12/5.71, 0.05/5.67,
/// 0.24/7.99, 0.10/7.89; I_DL = 1 - (P_i/v_i)/(44.5/3.72); each of five readings with u = 0.005 mm
/// gives u = 0.0500, 0.0745 and 0.0374 of the three ratios (linear theory).
#[test]
fn indices_of_cycles_that_go_back_to_nothing() {
    let j = Invented { u: 0.005, ..FIRST }.judge("ACI 437R-03", REZEROED).unwrap();
    let c = j.cycles.as_ref().unwrap();
    near(
        &values(c, |c| &c.rezeroed),
        &[4.0 / 93.0, 3.0 / 362.0, 12.0 / 571.0, 5.0 / 567.0, 24.0 / 799.0, 10.0 / 789.0],
    );
    near(
        &values(c, |c| &c.linearity),
        &[1.0 / 63.0, 16.0 / 295.0, 20.0 / 299.0, 91.0 / 835.0, 35.0 / 283.0],
    );
    let ratios = values(c, |c| &c.ratio_rezeroed);
    near(&ratios, &[279.0 / 1448.0, 2855.0 / 6804.0, 3995.0 / 9468.0]);
    for (found, u) in ratios.iter().zip([0.0500, 0.0745, 0.0374]) {
        assert!((found.1 - u).abs() < 0.02 * u, "{found:?} {u}");
    }
    // absolute, the first index of a pair is hardly larger than the second: res/max
    near(&values(c, |c| &c.absolute)[..2], &[0.16 / 3.72, 0.19 / 3.78]);
    near(&values(c, |c| &c.repeatability), &[3.59 / 3.56, 5.62 / 5.59, 7.79 / 7.75]);
}

/// From the first 8.9 kN: 0.13/3.00 and on; re-zeroed at each start 0.13/3.00, 0.04/2.93, 0.13/5.03 …
/// I_DL from (8.9 kN, 0.72 mm). Residual (0.68 - 0.10)/(8.52 - 0.10).
#[test]
fn indices_of_cycles_with_a_least_load() {
    let j = SECOND.judge("ACI 437.2-13", REZEROED).unwrap();
    let c = j.cycles.as_ref().unwrap();
    let names: Vec<&str> = c.seen.iter().map(|c| c.name.as_str()).collect();
    assert_eq!(names, ["A", "B", "C", "D", "E", "F"]);
    for (seen, cycle) in c.seen.iter().zip(HELD) {
        assert!(
            (seen.peak.to(KN) - cycle.0).abs() < 1e-9 && (seen.start.to(KN) - 8.9).abs() < 1e-9
        );
        assert_eq!(seen.held, 5.0 * MIN);
    }
    near(
        &values(c, |c| &c.absolute),
        &[0.13 / 3.00, 0.17 / 3.06, 0.30 / 5.20, 0.36 / 5.27, 0.61 / 7.66, 0.72 / 7.80],
    );
    near(
        &values(c, |c| &c.rezeroed),
        &[0.13 / 3.00, 0.04 / 2.93, 0.13 / 5.03, 0.06 / 4.97, 0.25 / 7.30, 0.11 / 7.19],
    );
    let of = |a: f64, b: f64, c: f64, d: f64| (c / d) / (a / b);
    let ratios = values(c, |c| &c.ratio_rezeroed);
    near(
        &ratios,
        &[of(0.13, 3.0, 0.04, 2.93), of(0.13, 5.03, 0.06, 4.97), of(0.25, 7.30, 0.11, 7.19)],
    );
    assert!((ratios[0].0 - 0.315_043).abs() < 1e-6 && (ratios[1].0 - 0.467_110).abs() < 1e-6);
    let absolute = values(c, |c| &c.ratio_absolute);
    assert!((absolute[0].0 - 1.282_051).abs() < 1e-6 && (absolute[2].0 - 1.159_142).abs() < 1e-6);
    let secant_of = |p: f64, v: f64| secant(&mut NoRecord, (p - 8.9) * KN, (v - 0.72) * MM);
    let dli: Vec<f64> = HELD[1..]
        .iter()
        .map(|c| linearity_deviation(&mut NoRecord, secant_of(c.0, c.1), secant_of(44.5, 3.72)))
        .collect();
    near(&values(c, |c| &c.linearity), &dli);
    assert!((dli[4] - 0.134_615).abs() < 1e-6);
    let d = &j.deflections[0];
    assert!((d.d_r.unwrap() / d.d_max - 29.0 / 421.0).abs() < 1e-4);
}

/// u of the ratio of C and D by its derivatives: r = [(lD-lC)/(pD-lC)]/[(lC-lB)/(pC-lB)].
#[test]
fn a_ratio_of_two_small_increments_is_undecided_with_a_coarse_gauge() {
    let (lb, pc, lc, pd, ld) = (0.89, 5.92, 1.02, 5.99, 1.08);
    let r = 0.467_110;
    let parts = [
        1.0 / (ld - lc),
        1.0 / (pd - lc),
        -1.0 / (ld - lc) + 1.0 / (pd - lc) - 1.0 / (lc - lb),
        1.0 / (pc - lb),
        1.0 / (lc - lb) - 1.0 / (pc - lb),
    ];
    let u_per_reading = r * parts.iter().map(|p: &f64| p * p).sum::<f64>().sqrt();
    let run = |u: f64| Invented { u, ..SECOND }.judge("ACI 437.2-13", REZEROED).unwrap();
    for u in [0.0005, 0.002] {
        let j = run(u);
        let found = values(j.cycles.as_ref().unwrap(), |c| &c.ratio_rezeroed)[1].1;
        assert!((found - u_per_reading * u).abs() < 0.01 * found, "{found} {}", u_per_reading * u);
    }
    // 0.4671 + 2 x 0.0084 is below 0.50, 0.4671 + 2 x 0.0336 is not
    assert!(r + 2.0 * u_per_reading * 0.0005 < 0.5 && r + 2.0 * u_per_reading * 0.002 > 0.5);
    let fine = run(0.0005);
    assert_eq!(states(&fine, "permanency"), (State::Pass, State::Pass));
    assert_eq!(states(&fine, "linearity"), (State::Pass, State::Pass));
    assert_eq!(states(&fine, "residual"), (State::Pass, State::Pass));
    assert_eq!(states(&fine, "cycles"), (State::Pass, State::Pass), "{}", reason(&fine, "cycles"));
    assert_eq!(fine.state(), State::Pass, "{:?} {:?}", fine.judging.notes, fine.faults);
    let coarse = run(0.002);
    assert_eq!(states(&coarse, "permanency"), (State::Pass, State::Inconclusive));
    assert!(
        reason(&coarse, "permanency").starts_with("cycles C and D"),
        "{}",
        reason(&coarse, "permanency")
    );
    assert_eq!(coarse.state(), State::Inconclusive);
    // what the first cycle of a pair left is within 2 x 1.414 x 0.1 mm: no ratio is resolved
    let blunt = run(0.1);
    assert_eq!(
        states(&blunt, "permanency").1,
        State::NotMeaningful,
        "{}",
        reason(&blunt, "permanency")
    );
    // one pair that cannot be resolved is not hidden by two that pass
    let mut still = HELD;
    (still[0].2, still[1].2) = (0.7205, 0.7207);
    let j =
        Invented { u: 0.0005, cycles: &still, ..SECOND }.judge("ACI 437.2-13", REZEROED).unwrap();
    assert_eq!(states(&j, "permanency").1, State::NotMeaningful, "{}", reason(&j, "permanency"));
    assert!(reason(&j, "permanency").starts_with("cycles A and B"));
    assert_eq!(j.state(), State::Inconclusive);
}

/// From where permanency counts decides: absolute, 1.28 is above 0.50; unstated, it is open, and both
/// are told.
#[test]
fn permanency_is_stated_by_name() {
    let absolute = SECOND.judge("ACI 437.2-13", ABSOLUTE).unwrap();
    assert_eq!(states(&absolute, "permanency"), (State::Fail, State::Fail));
    let open = SECOND.judge("ACI 437.2-13", "").unwrap();
    assert_eq!(states(&open, "permanency"), (State::Inconclusive, State::Inconclusive));
    let why = reason(&open, "permanency");
    assert!(why.contains("0.3150") && why.contains("1.2821"), "{why}");
    // 437R-03 limits the index itself, of the second cycle: 0.0923 absolute, limit 0.10
    let of =
        |permanency| Invented { u: 0.0005, ..SECOND }.judge("ACI 437R-03", permanency).unwrap();
    assert_eq!(states(&of(ABSOLUTE), "permanency"), (State::Pass, State::Pass));
    assert_eq!(states(&of(REZEROED), "repeatability"), (State::Pass, State::Pass));
    assert_eq!(states(&of(REZEROED), "linearity"), (State::Pass, State::Pass));
    assert_eq!(states(&of(""), "permanency"), (State::Inconclusive, State::Inconclusive));
    assert_eq!(states(&of(""), "repeatability"), (State::Pass, State::Pass));
}

/// Secants of the last pair 30 % below that of the first fail; what a person stated is contradicted.
#[test]
fn a_member_that_softens_fails() {
    let mut soft = HELD;
    soft[4].1 = 0.72 + (8.38 - 0.72) * 1.3;
    soft[5].1 = 0.72 + (8.52 - 0.72) * 1.3;
    let stated = r#""permanency":"rezeroed","stated":[{"name":"IDL","ratio":{"value":0.13,"u":0.001},"by":"engineer"}],"#;
    let j = Invented { cycles: &soft, ..SECOND }.judge("ACI 437.2-13", stated).unwrap();
    assert_eq!(states(&j, "linearity"), (State::Fail, State::Fail));
    assert!(reason(&j, "linearity").starts_with("cycle F"), "{}", reason(&j, "linearity"));
    assert!(j.judging.notes.iter().any(|n| n.slug.code() == "criteria.stated-differs"));
    // stiffer than the first is no failure, and is said
    let mut stiff = HELD;
    stiff[5].1 = 0.72 + (8.52 - 0.72) * 0.8;
    let j = Invented { cycles: &stiff, ..SECOND }.judge("ACI 437.2-13", REZEROED).unwrap();
    assert_ne!(states(&j, "linearity").1, State::Fail);
    assert!(j.judging.notes.iter().any(|n| n.slug.code() == "criteria.stiffer"));
}

/// Twins have one peak and one start; the band is 2 % of 89 kN, 1.78 kN.
#[test]
fn pairs_that_are_not_twins_are_refused() {
    let mut apart = HELD;
    apart[3].0 = 66.75 + 1.8;
    let refused = |cycles: &[Cycle]| {
        Invented { cycles, ..SECOND }.judge("ACI 437.2-13", REZEROED).map(|_| ()).unwrap_err()
    };
    let error = refused(&apart);
    assert_eq!(error.codes(), ["readings.not-twins"]);
    assert!(error.issues[0].path.contains('D') && error.issues[0].value.is_some());
    apart[3].0 = 66.75 + 1.7;
    assert!(Invented { cycles: &apart, ..SECOND }.judge("ACI 437.2-13", REZEROED).is_ok());
    assert!(refused(&HELD[..1]).codes().contains(&"readings.cycles"));
    let seven: Vec<Cycle> = HELD.iter().copied().chain([HELD[5]]).collect();
    assert!(refused(&seven).codes().contains(&"readings.cycles"));
}

/// A test that ended after cycle C: the load is short of the target, C has no twin.
#[test]
fn a_test_that_ended_early() {
    let j = Invented { cycles: &HELD[..3], ..SECOND }.judge("ACI 437.2-13", REZEROED).unwrap();
    assert_eq!(states(&j, "permanency").1, State::Inconclusive);
    assert!(reason(&j, "permanency").contains("no twin"), "{}", reason(&j, "permanency"));
    assert_eq!(states(&j, "cycles").1, State::Inconclusive);
    assert_eq!(j.state(), State::Aborted);
    // a peak that is not the edition's: 66.75 is asked, both of the pair come to 60
    let mut low = HELD;
    (low[2].0, low[3].0) = (60.0, 60.0);
    let j = Invented { cycles: &low, ..SECOND }.judge("ACI 437.2-13", REZEROED).unwrap();
    assert_eq!(states(&j, "cycles").1, State::Inconclusive);
    assert!(reason(&j, "cycles").contains("cycle C"), "{}", reason(&j, "cycles"));
}

fn gallery(edition: &str, method: &str) -> Result<proofspan::TestDesign, Error> {
    let path = "examples/scenarios/gallery_beam.test.json";
    let text = std::fs::read_to_string(format!("{}/{path}", env!("CARGO_MANIFEST_DIR"))).unwrap();
    let text = text
        .replace(r#""id": "ACI 318-19""#, &format!(r#""id": "{edition}""#))
        .replace(r#""protocol": {"#, &format!(r#""protocol": {{ "method": "{method}","#));
    proofspan::design(TestSpec::from_json(&text).unwrap())
}

/// Levels 50, 50, 75, 75, 100, 100 % and 10 % between them (edition file); each cycle in the five
/// steps of the document, as parts of its own peak.
#[test]
fn the_schedule_has_the_cycles_of_the_edition() {
    let design = gallery("ACI 437.2-13", "cyclic").unwrap();
    let schedule = design.schedule().unwrap();
    let full = design.force().0;
    let peaks: Vec<f64> =
        schedule.cycles.iter().map(|c| c.steps.last().unwrap().force.0 / full).collect();
    for (peak, level) in peaks.iter().zip([0.5, 0.5, 0.75, 0.75, 1.0, 1.0]) {
        assert!((peak - level).abs() < 1e-12, "{peaks:?}");
    }
    assert_eq!(peaks.len(), 6);
    let a = &schedule.cycles[0];
    let steps: Vec<f64> = a.steps.iter().map(|s| s.fraction.value()).collect();
    assert_eq!(steps, [0.125, 0.25, 0.375, 0.45, 0.5]);
    assert!((a.least.0 / full - 0.1).abs() < 1e-12 && a.down_to == Ratio::from(0.1));
    assert!(schedule.cycles[2].pair == 2 && schedule.cycles[5].name == "F");
    // a reading of half the load is half the reading
    let (half, whole) = (&a.steps[4].readings[0], &schedule.cycles[4].steps[4].readings[0]);
    assert!((half.soft * 2.0 - whole.soft).abs() < 1e-12 * M);
    assert!(gallery("ACI 437.2-13", "monotonic").unwrap().schedule().unwrap().cycles.is_empty());
    let error = gallery("ACI 318-19", "cyclic").unwrap_err();
    assert_eq!(error.codes(), ["protocol.cycles-missing"]);
    let html = proofspan::report::html(&design, None).unwrap();
    assert!(html.contains("back to"));
}

/// An edition of one's own whose pairs are not twins is refused when it is read.
#[test]
fn an_edition_of_pairs_that_are_not_twins() {
    let file = |cycles: &str| {
        format!(
            "id = \"own\"\nname = \"Own\"\ntitle = \"t\"\nyear = 2026\nstatus = \"current\"\nclause = \"1\"\nfactors = \"unknown\"\nto_enter = \"x\"\n[[protocols]]\nmethod = \"cyclic\"\nconfidence = \"user\"\np_min = 0.1\ncycles = [{cycles}]\n"
        )
    };
    let codes =
        |cycles: &str| Edition::from_toml(&file(cycles)).map_or_else(|e| e.codes(), |_| Vec::new());
    let a = r#"{ name = "A", level = 0.5, pair = 1 }"#;
    assert!(codes(&format!(r#"{a}, {{ name = "B", level = 0.5, pair = 1 }}"#)).is_empty());
    for bad in [
        a.to_owned(),
        format!(r#"{a}, {{ name = "B", level = 0.6, pair = 1 }}"#),
        format!(r#"{a}, {{ name = "B", level = 0.5, pair = 2 }}"#),
        r#"{ name = "A", level = 0.1, pair = 1 }, { name = "B", level = 0.1, pair = 1 }"#
            .to_owned(),
    ] {
        assert_eq!(codes(&bad), ["editions.file"], "{bad}");
    }
}

/// A designed cyclic test from document to report: two gauges of the gallery beam read nine tenths of
/// the soft prediction, and of each new peak one hundredth stays. From the start of the first cycle the
/// secant is that of nine tenths and one hundredth of the step, so that nothing is off linear by more than
/// a few hundredths; the second cycle of a pair adds a fifth of what the first left.
#[test]
fn a_designed_cyclic_test_from_document_to_report() {
    let design = gallery("ACI 437.2-13", "cyclic").unwrap();
    let schedule = design.schedule().unwrap();
    let full = design.force().0.to(KN);
    let soft: Vec<f64> =
        schedule.steps.last().unwrap().readings.iter().map(|r| r.soft.to(MM)).collect();
    let mut rows: Vec<(f64, f64)> = vec![(0.0, 0.0); 30];
    let mut left = 0.0;
    rows.extend(vec![(0.1, 0.1); 6]);
    for (i, cycle) in schedule.cycles.iter().enumerate() {
        for step in &cycle.steps {
            let part = step.fraction.value();
            rows.extend(vec![(part, part + left); 11]);
        }
        let peak = cycle.steps.last().unwrap().fraction.value();
        left += if i % 2 == 0 { 0.01 * peak } else { 0.002 * peak };
        rows.extend(vec![(peak, peak + left); 11]);
        rows.extend(vec![(0.1, 0.1 + left); 6]);
    }
    let peak = rows.len() - 7;
    rows.extend(vec![(0.0, left); 1500]);
    let mut text = String::from("t,P,mid,quarter\n");
    for (k, (p, v)) in rows.iter().enumerate() {
        let noise = 0.001 * f64::from(u32::try_from(k % 7).unwrap());
        let read: Vec<String> =
            soft.iter().map(|s| format!("{:.4}", 0.9 * s * v + noise)).collect();
        text += &format!("{k},{:.4},{}\n", p * full + 10.0 * noise, read.join(","));
    }
    let layout: LogSpec = read_json(&format!(
        r#"{{"time":{{"column":"t","unit":"min"}},"channels":[
            {{"id":"P","column":"P","unit":"kN","role":"force","u":0.05}},
            {{"id":"mid","column":"mid","unit":"mm","role":"deflection","at":"4.5 m","u":0.001}},
            {{"id":"quarter","column":"quarter","unit":"mm","role":"deflection","at":"2.25 m","u":0.001}}],
            "moments":{{"zero":{{"from":"0 min","to":"29 min"}},"peak":{{"from":"{} min","to":"{} min"}},
            "residual":{{"from":"{} min","to":"{} min"}}}}}}"#,
        peak - 5,
        peak,
        rows.len() - 20,
        rows.len() - 1
    ))
    .unwrap();
    let log = read_csv_text(&text, &layout).unwrap();
    let record: RunRecord = read_json(&format!(
        r#"{{"observation":{{"distress":"none","by":"engineer","date":"2026-06-12"}},{REZEROED}"expiry":"2030-01-01"}}"#
    ))
    .unwrap();
    let j = proofspan::judge(&design, &log, &layout, &record).unwrap();
    assert_eq!(states(&j, "cycles"), (State::Pass, State::Pass), "{}", reason(&j, "cycles"));
    for id in ["linearity", "permanency", "residual", "zero", "load"] {
        assert_eq!(states(&j, id), (State::Pass, State::Pass), "{id}: {}", reason(&j, id));
    }
    assert_eq!(j.state(), State::Pass, "{:?} {:?}", j.judging.notes, j.faults);
    let permanency = j.judging.criteria.iter().find(|c| c.id == "permanency").unwrap();
    assert_eq!(permanency.gauges.len(), 2, "every gauge under every criterion");
    let html = proofspan::report::html(&design, Some(&j)).unwrap();
    assert!(html.contains("permanency, rezeroed") && html.contains("back to"));
}
