//! Logs that lie in small ways: what a hostile or careless hand may bring. Expected outcomes from the truth
//! in `log_truth`: 7 mm per 100 kN and `kept` mm that stay, a quarter of the largest allowed.

mod log_truth;

use log_truth::*;
use proofspan::Judgement;
use proofspan::readings::{FaultKind, LogSpec};
use proofspan::source::read_json;
use proofspan::verdict::State;

/// One cell `P` and the gauges named, each with its place and u in mm; windows of the truth.
fn map(gauges: &[(&str, &str, f64)], more: &str) -> LogSpec {
    let all: Vec<String> = gauges
        .iter()
        .map(|(id, at, u)| {
            format!(
                r#"{{"id":"{id}","column":"{id}","unit":"mm","role":"deflection","at":"{at}","u":{u:?}}}"#
            )
        })
        .collect();
    read_json(&format!(
        r#"{{"time":{{"column":"t","unit":"h"}},"channels":[
            {{"id":"P","column":"P","unit":"kN","role":"force","u":0.1}},{}{more}],
            "moments":{{"zero":{{"from":"0.5 h","to":"1 h"}},"peak":{{"from":"25.8 h","to":"26.1 h"}},
            "residual":{{"from":"50.1 h","to":"50.5 h"}},"unloaded":"26.3 h"}}}}"#,
        all.join(",")
    ))
    .unwrap()
}

/// The force and what each gauge shows at a row of the truth.
fn table(kept: f64, names: &[&str], show: impl Fn(usize, &Row) -> Vec<f64>) -> String {
    let mut out = format!("t,P,{}\n", names.join(","));
    for (k, r) in rows(kept).iter().enumerate() {
        let cells: Vec<String> = show(k, r).iter().map(|v| format!("{v:.4}")).collect();
        // the last digit of a cell is never quiet
        let force = r.force + 0.01 * f64::from(u8::from(k % 2 == 0));
        out += &format!("{:.1},{force:.3},{}\n", r.t, cells.join(","));
    }
    out
}

fn judge(text: &str, layout: &LogSpec, more: &str) -> Judgement {
    judged(text, layout, &record(&format!(r#","held":"24 h"{more}"#))).unwrap()
}

/// From row `from` on the wires of middle and quarter point are exchanged. The middle keeps 3 of 10 mm and
/// fails; the quarter point keeps 1 of 7 mm.
fn exchanged(from: usize) -> String {
    table(3.0, &["mid", "quarter"], |k, r| {
        let quarter = 0.06 * r.force + if r.v > 0.07 * r.force { 1.0 } else { 0.0 };
        if k >= from { vec![quarter, r.v] } else { vec![r.v, quarter] }
    })
}

const TWO: [(&str, &str, f64); 2] = [("mid", "3 m", 0.01), ("quarter", "1.5 m", 0.01)];

/// Exchanged in the hold (row 120, 12 h), or after unloading (row 300): named as that, no shift and no step
/// besides, open; corrected from then on it is the log of the truth.
#[test]
fn channels_exchanged_half_way_are_named() {
    for from in [120, 300] {
        let (text, layout) = (exchanged(from), map(&TWO, ""));
        let j = judge(&text, &layout, "");
        let named: Vec<_> =
            j.faults.iter().map(|f| (f.kind, f.channel.as_str(), f.with.as_deref())).collect();
        assert_eq!(named, [(FaultKind::Swapped, "mid", Some("quarter"))], "{:?}", j.faults);
        assert!((j.faults[0].from.to(proofspan::units::H) - from as f64 / 10.0).abs() < 0.11);
        assert_eq!(j.judging.guarded.state, State::Inconclusive);
        let decided = r#","decisions":[{"channel":"mid","fault":"swapped","treatment":"correct","by":"engineer",
            "reason":"plugs were exchanged"}]"#;
        let j = judge(&text, &layout, decided);
        assert_eq!(states(&j, "residual"), (State::Fail, State::Fail), "{:?}", j.faults);
        let d = &j.deflections[0];
        assert!((d.d_max.to(proofspan::units::MM) - 10.0).abs() < 1e-6, "{d:?}");
        assert!((d.d_r.unwrap().to(proofspan::units::MM) - 3.0).abs() < 1e-6, "{d:?}");
    }
}

/// An honest log with two gauges that cross as the load rises has no exchange.
#[test]
fn gauges_of_one_member_are_not_exchanged() {
    let text = table(1.0, &["mid", "quarter"], |_, r| vec![r.v, 0.7 * r.v + 0.1]);
    let j = judge(&text, &map(&TWO, ""), "");
    assert!(j.faults.is_empty(), "{:?}", j.faults);
    assert_eq!(overall(&j), (State::Pass, State::Pass));
}

/// Unloading to 20 kN of 100 kN between two peaks is more than 15 kN: one cycle, and that is said.
#[test]
fn an_unloading_that_ends_no_cycle_is_said() {
    use proofspan::criteria::Facts;
    use proofspan::editions::Edition;
    use proofspan::readings::read_csv_text;
    use proofspan::units::*;
    use proofspan::verdict::MemberUnit;
    let cycles = |low: f64| {
        let mut forces = vec![0.0; 30];
        for peak in [50.0, 50.0, 75.0, 75.0, 100.0, 100.0] {
            forces.extend([peak / 2.0]);
            forces.extend([peak; 10]);
            forces.extend([if forces.len() > 120 { low } else { 0.0 }; 10]);
        }
        forces.extend([0.0; 60]);
        let mut text = String::from("t,P,mid\n");
        for (k, p) in forces.iter().enumerate() {
            text += &format!("{k},{:.3},{:.4}\n", p + 0.01 * (k % 2) as f64, 0.05 * p);
        }
        let n = forces.len();
        let layout: LogSpec = read_json(&format!(
            r#"{{"time":{{"column":"t","unit":"min"}},"channels":[
                {{"id":"P","column":"P","unit":"kN","role":"force","u":0.05}},
                {{"id":"mid","column":"mid","unit":"mm","role":"deflection","at":"4 m","u":0.005}}],
                "moments":{{"zero":{{"from":"0 min","to":"29 min"}},
                    "peak":{{"from":"{} min","to":"{} min"}},
                    "residual":{{"from":"{} min","to":"{} min"}}}}}}"#,
            n - 74,
            n - 72,
            n - 20,
            n - 1
        ))
        .unwrap();
        let facts = Facts { lt: 8.0 * M, l: 8.0 * M, h: 600.0 * MM, unit: MemberUnit::Beam };
        let record = record(r#","permanency":"rezeroed""#);
        let log = read_csv_text(&text, &layout).unwrap();
        let edition = Edition::shipped("ACI 437R-03").unwrap();
        let target = Some(Net(100.0 * KN));
        proofspan::judge_record(&edition, "cyclic", facts, &log, &layout, &record, target).unwrap()
    };
    let whole = cycles(0.0);
    let seen = &whole.cycles.as_ref().unwrap().seen;
    assert!(seen.len() == 6 && seen.iter().all(|c| c.dip.is_none()), "{seen:?}");
    let part = cycles(20.0);
    let seen = &part.cycles.as_ref().unwrap().seen;
    assert!(seen.len() < 6, "{seen:?}");
    let dip = seen.iter().find_map(|c| c.dip).unwrap();
    assert!((dip.to(KN) - 20.0).abs() < 0.02, "{dip:?}");
    let said =
        part.judging.notes.iter().find(|n| n.path == "cycles" && n.message.contains("one cycle"));
    assert!(said.is_some(), "{:?}", part.judging.notes);
    assert_eq!(part.state(), State::Inconclusive);
}

fn file(name: &str) -> String {
    let path = format!("{}/examples/scenarios/{name}", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(path).unwrap()
}

/// A shipped scenario whose log is changed, cell by cell: time in hours, heading, value; and whose map is.
fn scenario(
    name: &str,
    cell: impl Fn(f64, &str, f64) -> f64,
    map: impl Fn(&mut serde_json::Value),
) -> Judgement {
    let spec = proofspan::TestSpec::from_json(&file(&format!("{name}.test.json"))).unwrap();
    let design = proofspan::design(spec).unwrap();
    let mut columns = serde_json::from_str(&file(&format!("{name}.log.json"))).unwrap();
    map(&mut columns);
    let columns: LogSpec = read_json(&columns.to_string()).unwrap();
    let text = file(&format!("{name}.log.csv"));
    let head: Vec<&str> = text.lines().next().unwrap().split(',').collect();
    let mut out = head.join(",") + "\n";
    for line in text.lines().skip(1) {
        let cells: Vec<&str> = line.split(',').collect();
        let t: f64 = cells[0].parse().unwrap();
        let new = cells.iter().zip(&head).map(|(c, h)| match c.parse::<f64>() {
            Ok(v) if *h != head[0] => format!("{:.4}", cell(t, h, v)),
            _ => (*c).to_owned(),
        });
        out += &(new.collect::<Vec<_>>().join(",") + "\n");
    }
    let record = read_json(&file(&format!("{name}.record.json"))).unwrap();
    let log = proofspan::readings::read_csv_text(&out, &columns).unwrap();
    proofspan::judge(&design, &log, &columns, &record).unwrap()
}

const WEIGHED: [(&str, [&str; 3]); 2] =
    [("classroom_strip", ["layers"; 3]), ("station_canopy", ["bay1_mm", "bay2_mm", "bay3_mm"])];

/// Layers and depths are the force of record: as they are the scenarios pass; at four fifths of them the load
/// is short, for four hours at three tenths the hold is broken, whatever the record states.
#[test]
fn layers_and_depths_are_the_load() {
    let none = |_: &mut serde_json::Value| {};
    for (name, load) in WEIGHED {
        let is = |h: &str| load.contains(&h);
        let honest = scenario(name, |_, _, v| v, none);
        assert_eq!(honest.state(), State::Pass, "{name}: {:?}", honest.judging.notes);
        for id in ["zero", "load", "hold"] {
            assert_eq!(states(&honest, id), (State::Pass, State::Pass), "{name}: {id}");
        }
        let short = scenario(name, |_, h, v| if is(h) { 0.8 * v } else { v }, none);
        assert_eq!(states(&short, "load").0, State::Aborted, "{name}: {}", reason(&short, "load"));
        assert!(noted(&short, "criteria.stated-differs"), "{name}: the record states 100 %");
        let broken =
            scenario(name, |t, h, v| if is(h) && t > 10.0 && t < 14.0 { 0.3 * v } else { v }, none);
        assert_ne!(states(&broken, "hold").0, State::Pass, "{name}: {}", reason(&broken, "hold"));
        let late = scenario(
            name,
            |_, _, v| v,
            |map| map["moments"]["zero"] = serde_json::json!({"from": "1.2 h", "to": "1.5 h"}),
        );
        assert_eq!(
            states(&late, "zero").0,
            State::Inconclusive,
            "{name}: {}",
            reason(&late, "zero")
        );
        assert_ne!(late.state(), State::Pass, "{name}");
    }
}

/// One depth for three basins: which it is is not known, and that is said.
#[test]
fn a_depth_of_no_known_basin_is_said() {
    let one = |map: &mut serde_json::Value| {
        let ids = ["bay 2", "bay 3"];
        map["channels"].as_array_mut().unwrap().retain(|c| !ids.iter().any(|i| c["id"] == *i));
    };
    let j = scenario("station_canopy", |_, _, v| v, one);
    let said = j.judging.notes.iter().find(|n| n.message.contains("which is of which"));
    assert!(said.is_some(), "{:?}", j.judging.notes);
}

/// A copy of the gauge at mid-span, declared to be a bearing beside it, takes 3/4 of the deflection away.
#[test]
fn a_gauge_under_the_name_of_a_bearing() {
    let text = table(3.0, &["mid", "quarter", "A", "B"], |k, r| {
        let noise = 0.001 * f64::from(u8::from(k % 3 == 0));
        vec![r.v, 0.7 * r.v, noise, r.v + noise]
    });
    let more = r#",{"id":"A","column":"A","unit":"mm","role":"settlement","at":"0 m","u":0.01},
        {"id":"B","column":"B","unit":"mm","role":"settlement","at":"4 m","u":0.01}"#;
    let j = judge(&text, &map(&TWO, more), "");
    let named = j.faults.iter().find(|f| f.channel == "B").unwrap();
    assert!(named.kind == FaultKind::Swapped && named.is_open(), "{:?}", j.faults);
    assert_ne!(j.judging.guarded.state, State::Pass);
}

/// 0.15 mm per kelvin for 12 K take the residual of 3 mm down to 1.2 mm; how well that is known nobody says.
#[test]
fn a_drift_that_nobody_bounds_passes_nothing() {
    let text = table(3.0, &["mid", "T"], |k, r| {
        let warm =
            20.0 + 12.0 * (k as f64 / 500.0).min(1.0) + 0.01 * f64::from(u8::from(k % 2 == 0));
        vec![r.v, warm]
    });
    let with = |u: &str| {
        let text_of = format!(
            r#"{{"time":{{"column":"t","unit":"h"}},"drift":{{"channel":"T","moves":"0.15 mm","per":"1 Δ°C"{u}}},
            "channels":[{{"id":"P","column":"P","unit":"kN","role":"force","u":0.1}},
            {{"id":"mid","column":"mid","unit":"mm","role":"deflection","at":"3 m","u":0.01}},
            {{"id":"T","column":"T","unit":"°C","role":"temperature","u":0.1}}],
            "moments":{{"zero":{{"from":"0.5 h","to":"1 h"}},"peak":{{"from":"25.8 h","to":"26.1 h"}},
            "residual":{{"from":"50.1 h","to":"50.5 h"}},"unloaded":"26.3 h"}}}}"#
        );
        read_json::<LogSpec>(&text_of).unwrap()
    };
    let silent = judge(&text, &with(""), "");
    assert_eq!(states(&silent, "residual"), (State::Pass, State::Inconclusive));
    let stated = judge(&text, &with(r#","u":"0.005 mm""#), "");
    assert_eq!(states(&stated, "residual"), (State::Pass, State::Pass), "{:?}", stated.faults);
}
