//! Logs that are none, or that do not show what they are taken for: each refused or left open with
//! its reason, never passed in silence.

mod log_truth;

use log_truth::*;
use proofspan::readings::{LogSpec, Table, read_csv, read_csv_text, read_table};
use proofspan::source::read_json;
use proofspan::units::Length;
use proofspan::verdict::State;

const OPEN: (State, State) = (State::Inconclusive, State::Inconclusive);

/// A record of 24 h at full load.
fn held() -> proofspan::criteria::RunRecord {
    record(r#","held":"24 h""#)
}

/// The clean log with other cells, and columns after them.
fn cells(more: &[&str], cell: impl Fn(&Row, &str) -> String) -> String {
    let mut out = format!("t,P,mid{}\n", more.iter().map(|m| format!(",{m}")).collect::<String>());
    for row in rows(1.0) {
        out += &format!("{:.1}", row.t);
        for name in ["P", "mid"].iter().chain(more) {
            out += &format!(",{}", cell(&row, name));
        }
        out.push('\n');
    }
    out
}

fn plain(row: &Row, name: &str) -> String {
    match name {
        "P" => format!("{:.3}", row.force),
        "mid" => format!("{:.4}", row.v),
        _ => String::new(),
    }
}

/// The layout of [`cells`] with more channels.
fn with(channels: &str) -> LogSpec {
    let more = format!(
        r#"{{"time":{{"column":"t","unit":"h"}},"channels":[
            {{"id":"P","column":"P","unit":"kN","role":"force","u":0.1}},
            {{"id":"mid","column":"mid","unit":"mm","role":"deflection","at":"3 m","u":0.01}}{channels}],
            "moments":{{"zero":{{"from":"0.5 h","to":"1 h"}},"peak":{{"from":"25.8 h","to":"26.1 h"}},
            "residual":{{"from":"50.1 h","to":"50.5 h"}},"unloaded":"26.3 h"}}}}"#
    );
    read_json(&more).unwrap()
}

/// Nobody saw a force: neither zero, load nor hold is known. That is no test that was broken off.
#[test]
fn a_cell_without_a_sample_is_open_and_not_aborted() {
    let none = cells(&[], |r, n| if n == "P" { String::new() } else { plain(r, n) });
    let j = judged(&none, &with(""), &held()).unwrap();
    for id in ["zero", "load", "hold"] {
        assert_eq!(states(&j, id), OPEN, "{id}: {}", reason(&j, id));
    }
    assert!(reason(&j, "hold").contains("no cell"), "{}", reason(&j, "hold"));
    assert_eq!(overall(&j), OPEN);
    // the log says nothing against the 24 h of the record
    assert!(!noted(&j, "criteria.stated-differs"));
    // of two cells one has none: their sum is not known either
    let second = r#",{"id":"P2","column":"P2","unit":"kN","role":"force","u":0.1}"#;
    let j = judged(&cells(&["P2"], plain), &with(second), &held()).unwrap();
    assert_eq!((states(&j, "hold"), overall(&j)), (OPEN, OPEN), "{}", reason(&j, "hold"));
    assert!(reason(&j, "hold").contains("P2"), "{}", reason(&j, "hold"));
    // read, and never up to the load: that was broken off
    let little =
        cells(&[], |r, n| if n == "P" { format!("{}", r.force / 2.0) } else { plain(r, n) });
    let j = judged(&little, &with(""), &held()).unwrap();
    assert_eq!(states(&j, "hold"), (State::Aborted, State::Aborted));
}

/// Whatever its role, a channel of the map that gave nothing is named.
#[test]
fn a_channel_without_a_sample_is_named_whatever_its_role() {
    for (role, unit, at) in [
        ("deflection", "mm", true),
        ("settlement", "mm", true),
        ("level", "mm", false),
        ("temperature", "°C", false),
        ("pressure", "MPa", false),
        ("depth", "mm", false),
        ("count", "1", false),
        ("rotation", "mrad", true),
        ("strain", "um/m", false),
        ("crack", "mm", false),
    ] {
        let at = if at { r#","at":"2 m""# } else { "" };
        let channel =
            format!(r#",{{"id":"idle","column":"idle","unit":"{unit}","role":"{role}"{at}}}"#);
        let j = judged(&cells(&["idle"], plain), &with(&channel), &held()).unwrap();
        let notes = &j.judging.notes;
        let says = |text: String| text.contains("idle");
        let named = notes.iter().any(|n| {
            let message = n.message.to_string();
            message.contains("sample") && (says(message) || says(n.path.to_string()))
        });
        assert!(
            named,
            "{role}: {:?}",
            notes.iter().map(|n| n.message.to_string()).collect::<Vec<_>>()
        );
        if role == "deflection" {
            assert_eq!(overall(&j), OPEN);
        }
    }
}

/// A line of JSON without a name: that the column is missing is all there is to say of it.
#[test]
fn a_missing_name_in_json_lines_is_one_problem() {
    let lines: String = rows(1.0)
        .iter()
        .map(|r| format!("{{\"t\":{:.1},\"P\":{},\"mdi\":{}}}\n", r.t, r.force, r.v))
        .collect();
    let error = read_csv_text(&lines, &with("")).unwrap_err();
    assert_eq!(error.codes(), ["readings.column-missing"], "{error}");
    assert_eq!(error.issues[0].path, "channels[1].column");
    assert!(error.to_string().contains("mdi"), "{error}");
}

#[test]
fn no_zero() {
    let layout = r#"{"time":{"column":"t","unit":"h"},"channels":[
        {"id":"mid","column":"mid","unit":"mm","role":"deflection","at":"3 m"}],
        "moments":{"peak":{"from":"25 h","to":"26 h"}}}"#;
    let error = read_json::<LogSpec>(layout).unwrap_err();
    assert_eq!(error.codes(), ["readings.zero-missing"], "{error}");
    // a window of the zero before the log begins
    let mut late = rows(1.0);
    late.retain(|r| r.t > 1.05);
    let shifted = Map {
        zero: (0.0, 0.0),
        peak: (24.5, 24.9),
        residual: (48.9, 49.3),
        unloaded: None,
        ..Map::default()
    };
    let j = shifted.judge(&late);
    assert_eq!(states(&j, "zero"), OPEN, "{}", reason(&j, "zero"));
}

/// 25 kN are on from 1.05 h: a zero from 1.1 h to 1.2 h is taken under load.
#[test]
fn zero_under_load() {
    let j = Map { zero: (1.1, 1.2), ..Map::default() }.judge(&rows(1.0));
    assert_eq!((states(&j, "zero"), overall(&j)), (OPEN, OPEN));
    assert!(reason(&j, "zero").contains("25 kN"), "{}", reason(&j, "zero"));
    assert!(reason(&j, "zero").contains("under load"), "{}", reason(&j, "zero"));
}

#[test]
fn one_row_or_none() {
    for (log, said) in [("t,P,mid\n0,0,0\n", "one row"), ("t,P,mid\n", "no row"), ("", "empty")] {
        let error = read_csv_text(log, &with("")).unwrap_err();
        assert_eq!(error.codes(), ["readings.empty"], "{error}");
        assert!(error.to_string().contains(said), "{error}");
    }
    let error = read_csv_text("{\"t\":0,\"P\":0,\"mid\":0}\n", &with("")).unwrap_err();
    assert_eq!(error.codes(), ["readings.empty"], "{error}");
    let one =
        Table::new().numbers("t", vec![0.0]).numbers("P", vec![0.0]).numbers("mid", vec![0.0]);
    assert_eq!(read_table(&one, &with("")).unwrap_err().codes(), ["readings.empty"]);
}

#[test]
fn a_map_that_names_no_column_suggests_the_nearest() {
    let log = text(&rows(1.0)).replacen("t,P,mid", "t,P,mid_mm", 1);
    let mut layout = with("");
    layout.channels[1].column = "mid_m".to_owned();
    layout.time.column = "time".to_owned();
    let error = read_csv_text(&log, &layout).unwrap_err();
    assert_eq!(error.codes(), ["readings.column-missing", "readings.column-missing"]);
    assert_eq!(error.issues[1].path, "channels[1].column");
    assert!(error.issues[1].to_string().contains("mid_mm"), "{error}");
    let frame = Table::new()
        .numbers("t", vec![0.0; 9])
        .numbers("P", vec![0.0; 9])
        .numbers("mid_mm", vec![0.0; 9]);
    layout.time.column = "t".to_owned();
    let error = read_table(&frame, &layout).unwrap_err();
    assert_eq!(error.codes(), ["readings.column-missing"]);
    assert!(error.to_string().contains("did you mean `mid_mm`"), "{error}");
}

#[test]
fn a_path_is_no_log() {
    for path in ["logs/test.csv", "C:\\logs\\test.csv", "test.jsonl", "/no/such/file.csv\n"] {
        let error = read_csv_text(path, &with("")).unwrap_err();
        assert_eq!(error.codes(), ["readings.file"], "{path}: {error}");
        assert!(error.issues[0].remedy.contains("path"), "{error}");
    }
}

/// Ten rows of date and time, an hour apart.
fn stamps(stamp: impl Fn(usize) -> String) -> String {
    let rows: String = (0..10).map(|i| format!("{},{},{}\n", stamp(i), i, i)).collect();
    format!("t,P,mid\n{rows}")
}

#[test]
fn zones_mixed_or_missing() {
    let mut layout = with("");
    layout.time.unit = None;
    let day = |i: usize| format!("2026-03-02T{:02}:00:00", i + 8);
    // some with their offset, some without
    let mixed = stamps(|i| day(i) + if i < 4 { "+01:00" } else { "" });
    let error = read_csv_text(&mixed, &layout).unwrap_err();
    assert_eq!(error.codes(), ["readings.zone"], "{error}");
    assert!(error.to_string().contains("row 2"), "{error}");
    assert!(error.issues[0].path.contains("row 6"), "{error}");
    // two offsets are two clocks, each of which is known: 08:00+01:00 and 09:00+02:00 are one moment
    let two = stamps(|i| if i < 4 { day(i) + "+01:00" } else { day(i + 1) + "+02:00" });
    let log = read_csv_text(&two, &layout).unwrap();
    assert!((log.span().si() - 9.0 * 3600.0).abs() < 1e-9);
    // without one: asked once, for the zone and not for a decimal point
    for text in [stamps(day), stamps(|i| day(i).replace('T', " ")), stamps(|i| day(i) + ".5")] {
        let error = read_csv_text(&text, &layout).unwrap_err();
        assert_eq!(error.codes(), ["readings.zone"], "{error}");
        let said = error.to_string();
        assert!(said.contains("zone") && !said.contains("decimal"), "{said}");
    }
    // nor where the layout says a unit
    layout.time.unit = Some("h".to_owned());
    let error = read_csv_text(&stamps(day), &layout).unwrap_err();
    assert_eq!(error.codes(), ["readings.time-unit"], "{error}");
    assert!(!error.to_string().contains("decimal"), "{error}");
    // a date as other people write it is no decimal either
    layout.time.unit = None;
    let days = (0..40).map(|i| format!("02.03.2026 {:02}:{:02},{i},{i}\n", i / 4, i % 4 * 15));
    let other = format!("t,P,mid\n{}", days.collect::<String>());
    let error = read_csv_text(&other, &layout).unwrap_err();
    assert!(!error.to_string().contains("decimal"), "{error}");
    assert!(error.to_string().contains("2026-"), "what to write: {error}");
}

#[test]
fn channels_of_different_length() {
    let frame = Table::new()
        .numbers("t", vec![0.0; 9])
        .numbers("P", vec![0.0; 8])
        .numbers("mid", vec![0.0; 7]);
    let error = read_table(&frame, &with("")).unwrap_err();
    assert_eq!(error.codes(), ["readings.length", "readings.length"], "{error}");
    assert_eq!(error.issues[0].path, "log, P");
    // a row that lacks a cell
    let error = read_csv_text("t,P,mid\n0,0,0\n1,1\n2,2,2\n", &with("")).unwrap_err();
    assert_eq!(error.codes(), ["readings.ragged"], "{error}");
    assert_eq!(error.issues[0].path, "log row 3");
}

/// An empty gauge alone is no test; beside another it leaves both outcomes open.
#[test]
fn an_empty_gauge() {
    let none = cells(&[], |r, n| if n == "mid" { String::new() } else { plain(r, n) });
    let error = judged(&none, &with(""), &held()).unwrap_err();
    assert!(error.codes().contains(&"readings.window-empty"), "{error}");
    assert!(error.to_string().contains("mid"), "{error}");
}

/// The test is broken off at 10 h: the load comes off, the logger goes on. What it read then is no
/// peak of the full load and no hold.
#[test]
fn readings_after_the_test_was_broken_off() {
    let mut log = rows(1.0);
    for r in log.iter_mut().filter(|r| r.t > 9.95) {
        r.force = 0.0;
        r.v = 1.0;
    }
    // the windows of the schedule, as if nothing had happened
    let j = Map::default().judge(&log);
    assert_eq!(states(&j, "hold"), (State::Aborted, State::Aborted), "{}", reason(&j, "hold"));
    assert_eq!(states(&j, "load"), (State::Aborted, State::Aborted), "{}", reason(&j, "load"));
    assert_eq!(overall(&j), (State::Aborted, State::Aborted));
    assert!(noted(&j, "criteria.stated-differs"), "24 h are stated");
    // the peak where the load was: the hold is what it was
    let j = Map { peak: (9.5, 9.9), unloaded: Some(10.0), ..Map::default() }.judge(&log);
    assert_eq!(states(&j, "hold"), (State::Aborted, State::Aborted), "{}", reason(&j, "hold"));
    assert_eq!(overall(&j), (State::Aborted, State::Aborted));
    // the member comes back above its zero: not the reference, the window is to blame
    log.iter_mut().filter(|r| r.t > 40.0).for_each(|r| r.v = 1.5);
    let error = judged(&text(&log), &Map::default().layout().unwrap(), &held()).unwrap_err();
    assert!(error.codes().contains(&"criteria.residual-above-max"), "{error}");
    assert!(error.to_string().contains("only 0 kN of 100 kN was on in the peak window"), "{error}");
    log.iter_mut().filter(|r| r.t > 40.0).for_each(|r| r.v = 1.0);
    // a record that says itself how far it came
    let stated = record(r#","reached":"60 %""#);
    let j = judged(&text(&log), &Map::default().layout().unwrap(), &stated).unwrap();
    assert_eq!(overall(&j), (State::Aborted, State::Aborted));
}

/// The load is off at 26.3 h, the residual is read 2 h after; the edition asks for 24 h.
#[test]
fn a_residual_read_too_early() {
    let j = Map { residual: (28.2, 28.4), ..Map::default() }.judge(&rows(1.0));
    assert_eq!(states(&j, "residual time"), OPEN, "{}", reason(&j, "residual time"));
    assert!(overall(&j).0 != State::Pass && overall(&j).1 != State::Pass);
    assert!(reason(&j, "residual time").contains("2 h"), "{}", reason(&j, "residual time"));
}

/// Twenty pallets, five an increment, rest between the increments: nothing is stuck or cut off.
#[test]
fn a_count_rests() {
    let channel = r#",{"id":"n","column":"n","unit":"1","role":"count"}"#;
    let count = |r: &Row, n: &str| {
        if n == "n" { format!("{}", (r.force / 5.0).round()) } else { plain(r, n) }
    };
    let log = read_csv_text(&cells(&["n"], count), &with(channel)).unwrap();
    assert!(log.faults.iter().all(|f| f.channel != "n"), "{:?}", log.faults);
}

#[test]
fn an_uncertainty_of_nought() {
    for u in ["0", "0.0", "-0.1"] {
        let layout = format!(
            r#"{{"time":{{"column":"t","unit":"h"}},"channels":[
                {{"id":"mid","column":"mid","unit":"mm","role":"deflection","at":"3 m","u":{u}}}],
                "moments":{{"zero":{{"from":"0 h","to":"1 h"}},"peak":{{"from":"25 h","to":"26 h"}}}}}}"#
        );
        let error = read_json::<LogSpec>(&layout).unwrap_err();
        assert_eq!(error.issues.len(), 1, "{error}");
        assert_eq!(error.issues[0].path, "channels[0].u", "{error}");
    }
    let mut typed = with("");
    typed.channels[0].u = Some(0.0);
    assert_eq!(read_csv_text(&text(&rows(1.0)), &typed).unwrap_err().codes(), ["uncertainty.zero"]);
}

/// A decision about a fault that the log does not have is refused, with those it has.
#[test]
fn a_decision_about_a_fault_that_is_not_there() {
    let decision = r#","held":"24 h","decisions":[{"fault":"spike","channel":"mid","treatment":"leave_out",
        "reason":"somebody walked by","by":"engineer of record"}]"#;
    let record: proofspan::criteria::RunRecord = record(decision);
    let error = judged(&text(&rows(1.0)), &with(""), &record).unwrap_err();
    assert_eq!(error.codes(), ["criteria.decision"], "{error}");
    assert_eq!(error.issues[0].path, "record.decisions[0]");
    assert!(error.to_string().contains("spike of mid"), "{error}");
}

#[test]
fn what_is_no_text() {
    let log = text(&rows(1.0));
    let little: Vec<u8> = log.encode_utf16().flat_map(u16::to_le_bytes).collect();
    let big: Vec<u8> = log.encode_utf16().flat_map(u16::to_be_bytes).collect();
    let marked = [&b"\xff\xfe"[..], &little].concat();
    for (bytes, said) in [
        (little, "UTF-16"),
        (big, "UTF-16"),
        (marked, "UTF-16"),
        ((0..9000_u32).map(|i| (i.wrapping_mul(2_654_435_761) >> 24) as u8).collect(), "no text"),
        (vec![0; 5000], "no text"),
        (b"PK\x03\x04 and so on\n\x00\x01".to_vec(), "workbook"),
        (b"\x1f\x8b\x08rest".to_vec(), "compressed"),
    ] {
        let error = read_csv(bytes.as_slice(), &with("")).unwrap_err();
        assert_eq!(error.codes(), ["readings.encoding"], "{said}: {error}");
        assert!(error.to_string().contains(said), "{said}: {error}");
        assert!(error.to_string().contains("UTF-8"), "{error}");
    }
    // rubbish in the middle of a log is refused with its rows
    let mut broken = log.into_bytes();
    let at = broken.len() / 2;
    broken[at..at + 64].fill(0xfe);
    let error = read_csv(broken.as_slice(), &with("")).unwrap_err();
    assert!(error.issues.iter().all(|i| i.path.starts_with("log")), "{error}");
}

/// A gauge that ends above where it began: said, with u and without it.
#[test]
fn a_residual_below_zero_is_said() {
    let mut log = rows(1.0);
    log.iter_mut().filter(|r| r.t > 26.25).for_each(|r| r.v = -0.5);
    for u in [r#","u":0.01"#, ""] {
        let layout = format!(
            r#"{{"time":{{"column":"t","unit":"h"}},"channels":[
                {{"id":"P","column":"P","unit":"kN","role":"force","u":0.1}},
                {{"id":"mid","column":"mid","unit":"mm","role":"deflection","at":"3 m"{u}}}],
                "moments":{{"zero":{{"from":"0.5 h","to":"1 h"}},"peak":{{"from":"25.8 h","to":"26.1 h"}},
                "residual":{{"from":"50.1 h","to":"50.5 h"}},"unloaded":"26.3 h"}}}}"#
        );
        let j = judged(&text(&log), &read_json(&layout).unwrap(), &held()).unwrap();
        let note = j.judging.notes.iter().find(|n| n.slug.code() == "criteria.residual-negative");
        assert!(note.is_some_and(|n| n.message.to_string().contains("0.5 mm")), "{u}: {note:?}");
        assert!(j.deflections[0].d_r.is_some_and(|d| d < Length::ZERO));
    }
}
