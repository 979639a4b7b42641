//! One log, whatever it comes in: CSV, JSON lines, columns in memory. The same readings are the same
//! verdict, to the last bit; what was used of every gauge, and its corrected series as columns.

use proofspan::criteria::RunRecord;
use proofspan::readings::{
    Entries, Log, LogSpec, Table, TimeEntries, read_csv, read_csv_text, read_table,
};
use proofspan::source::{Write, read_json, write_json};
use proofspan::{Judgement, TestSpec, design, judge};

fn text(name: &str) -> String {
    std::fs::read_to_string(format!("{}/examples/scenarios/{name}", env!("CARGO_MANIFEST_DIR")))
        .unwrap()
}

fn judged(log: &Log, layout: &LogSpec) -> Judgement {
    let design = design(TestSpec::from_json(&text("gallery_beam.test.json")).unwrap()).unwrap();
    let record: RunRecord = read_json(&text("gallery_beam.record.json")).unwrap();
    judge(&design, log, layout, &record).unwrap()
}

/// The columns of a CSV of plain numbers.
fn columns(csv: &str) -> Vec<(String, Vec<f64>)> {
    let mut lines = csv.lines();
    let mut all: Vec<(String, Vec<f64>)> =
        lines.next().unwrap().split(',').map(|n| (n.to_owned(), Vec::new())).collect();
    for line in lines {
        for (column, cell) in all.iter_mut().zip(line.split(',')) {
            column.1.push(cell.parse().unwrap_or(f64::NAN));
        }
    }
    all
}

fn table(columns: &[(String, Vec<f64>)]) -> Table<'_> {
    columns.iter().fold(Table::new(), |t, (name, v)| t.numbers(name, v.as_slice()))
}

fn gallery() -> (String, LogSpec) {
    (text("gallery_beam.log.csv"), read_json(&text("gallery_beam.log.json")).unwrap())
}

#[test]
fn columns_and_json_lines_are_the_log_of_the_csv() {
    let (csv, layout) = gallery();
    let read = read_csv_text(&csv, &layout).unwrap();
    let whole = write_json(&judged(&read, &layout).write());
    let columns = columns(&csv);
    let frame = read_table(&table(&columns), &layout).unwrap();
    assert_eq!(frame, read);
    assert_eq!(write_json(&judged(&frame, &layout).write()), whole);
    let mut lines = String::new();
    for i in 0..columns[0].1.len() {
        let fields: Vec<String> = columns
            .iter()
            .filter(|(_, v)| !v[i].is_nan())
            .map(|(n, v)| format!("\"{n}\": {}", v[i]))
            .collect();
        lines.push_str(&format!("{{{}, \"remark\": [\"none\", {{}}]}}\n", fields.join(", ")));
    }
    assert_eq!(read_csv_text(&lines, &layout).unwrap(), read);
}

/// Blocks of any size are the same rows: a source that gives a few bytes at a time, and a log of
/// many blocks whose faults are counted by row.
#[test]
fn blocks_change_nothing() {
    struct Drop<'a>(&'a [u8]);
    impl std::io::Read for Drop<'_> {
        fn read(&mut self, out: &mut [u8]) -> std::io::Result<usize> {
            let n = out.len().min(7).min(self.0.len());
            out[..n].copy_from_slice(&self.0[..n]);
            self.0 = &self.0[n..];
            Ok(n)
        }
    }
    let (csv, layout) = gallery();
    let read = read_csv_text(&csv, &layout).unwrap();
    assert_eq!(read_csv(Drop(csv.as_bytes()), &layout).unwrap(), read);
    // carriage returns, with and without line feeds; quotation marks; blank rows
    for other in [
        csv.replace('\n', "\r\n"),
        csv.replace('\n', "\r"),
        csv.replace('\n', "\n\n"),
        format!("\u{feff}{csv}"),
        csv.replace("time_h,P_kN", "\"time_h\",\"P_kN\""),
        csv.lines().map(|l| format!("\"{}\"\n", l.replace(',', "\",\""))).collect(),
    ] {
        assert_eq!(read_csv(other.as_bytes(), &layout).unwrap(), read);
    }
    // 60 000 rows are several blocks
    let mut long = String::from("time_h,P_kN,mid_mm,quarter_mm,left_mm,right_mm,T_C\n");
    for i in 0..60_000 {
        let cell = if i == 50_000 { "x" } else { "113.5" };
        let remark = if i == 40_000 { "\"0.40\"" } else { "0.40" };
        long.push_str(&format!("{},{cell},9.70,6.30,{remark},0.20,19\n", f64::from(i) / 1000.0));
    }
    let error = read_csv_text(&long, &layout).unwrap_err();
    assert_eq!(error.issues[0].path, "log row 50002, P_kN", "{error}");
}

fn wall(first: i64, hours: &[f64]) -> Vec<i64> {
    hours.iter().map(|h| first + (h * 3.6e12).round() as i64).collect()
}

/// 2026-06-09 08:00 UTC in nanoseconds: 20 613 days and 8 hours.
const START: i64 = (20_613 * 24 + 8) * 3_600_000_000_000;

#[test]
fn columns_of_date_and_time() {
    let (csv, mut layout) = gallery();
    let read = read_csv_text(&csv, &layout).unwrap();
    let columns = columns(&csv);
    let with = |entries: Entries<'static>| table(&columns[1..]).with("time_h", entries);
    let stamps = wall(START, &columns[0].1);
    let times = |of| Entries::Times(stamps.clone().into(), of);
    let close = |log: &Log| {
        assert_eq!(log.rows(), read.rows());
        assert!((log.span() - read.span()).abs().si() < 1e-6);
        assert_eq!(judged(log, &layout.clone()).state().word(), "pass");
    };
    // time since some start needs no unit, and is not mistaken under one
    close(&read_table(&with(times(TimeEntries::Elapsed)), &layout).unwrap());
    // a unit beside date and time
    let zoned = TimeEntries::Zoned("Europe/Vienna".to_owned());
    let error = read_table(&with(times(zoned.clone())), &layout).unwrap_err();
    assert_eq!(error.codes(), ["readings.time-unit"]);
    assert!(error.issues[0].remedy.contains("time.unit"), "{error}");
    layout.time.unit = None;
    let log = read_table(&with(times(zoned.clone())), &layout).unwrap();
    // 50.5 h after 10:00 in Vienna on the 9th
    assert_eq!(log.last_day(), Some("2026-06-11"));
    let log = read_table(&with(times(TimeEntries::Zoned("Pacific/Kiritimati".into()))), &layout);
    assert_eq!(log.unwrap().last_day(), Some("2026-06-12"));
    // the wall of where?
    let error = read_table(&with(times(TimeEntries::Wall)), &layout).unwrap_err();
    assert_eq!(error.codes(), ["readings.zone"]);
    assert_eq!(error.issues[0].path, "log[0], time_h");
    layout.time.zone = Some("Europe/Vienna".to_owned());
    let log = read_table(&with(times(TimeEntries::Wall)), &layout).unwrap();
    assert_eq!((log.rows(), log.last_day()), (read.rows(), Some("2026-06-11")));
    assert!(read_table(&with(times(zoned)), &layout).is_ok());
    let other = TimeEntries::Zoned("UTC".to_owned());
    let error = read_table(&with(times(other)), &layout).unwrap_err();
    assert!(error.codes().iter().all(|c| *c == "readings.zone"), "{error}");
    // numbers where date and time are mapped
    layout.time.zone = None;
    let error = read_table(&table(&columns), &layout).unwrap_err();
    assert_eq!(error.codes(), ["readings.time-unit"]);
}

/// On 25 October 2026 clocks in Vienna go from 03:00 back to 02:00: 02:30 is twice, and the hours
/// between 01:30 and 03:30 are three.
#[test]
fn a_clock_that_was_changed_is_not_guessed() {
    let layout = |zone: &str| -> LogSpec {
        read_json(&format!(
            r#"{{"time":{{"column":"t","zone":"{zone}"}},"channels":[
                {{"id":"a","column":"a","unit":"mm","role":"deflection","at":"1 m"}}],
                "moments":{{"zero":{{"from":"0 h","to":"0 h"}},"peak":{{"from":"1 h","to":"1 h"}}}}}}"#
        ))
        .unwrap()
    };
    let csv = "t,a\n2026-10-25 01:30,0\n2026-10-25 03:30,1\n";
    let span = |zone: &str| read_csv_text(csv, &layout(zone)).unwrap().span().si() / 3600.0;
    assert!((span("Europe/Vienna") - 3.0).abs() < 1e-12);
    assert!((span("+01:00") - 2.0).abs() < 1e-12);
    let twice = csv.replace("03:30", "02:30");
    let error = read_csv_text(&twice, &layout("Europe/Vienna")).unwrap_err();
    assert_eq!(error.codes(), ["readings.zone"]);
    assert_eq!(error.issues[0].path, "log row 3, t");
}

#[test]
fn texts_masks_and_what_is_no_number() {
    let (csv, layout) = gallery();
    let columns = columns(&csv);
    let rows = columns[0].1.len();
    let others = || table(&columns).with("spare", Entries::Other(0, "bool".to_owned()));
    assert!(read_table(&others(), &layout).is_ok());
    let replaced = |entries: Entries<'static>| {
        let kept: Vec<_> = columns.iter().filter(|c| c.0 != "P_kN").cloned().collect();
        let whole = kept.into_iter().fold(Table::new(), |t, (n, v)| t.numbers(n, v));
        read_table(&whole.with("P_kN", entries), &layout)
    };
    let texts = |change: &dyn Fn(usize, String) -> Option<String>| {
        let all = columns[1].1.iter().enumerate();
        Entries::Texts(all.map(|(i, v)| change(i, v.to_string()).map(Into::into)).collect())
    };
    let read = read_csv_text(&csv, &layout).unwrap();
    let same = replaced(texts(&|_, t| Some(t))).unwrap();
    assert_eq!(same.channel("P"), read.channel("P"));
    let error = replaced(texts(&|i, t| Some(if i == 7 { "1,5".into() } else { t }))).unwrap_err();
    assert_eq!(
        (error.codes(), error.issues[0].path.as_str()),
        (vec!["units.text-number"], "log[7], P_kN")
    );
    // nothing is a missing sample, counted and named
    let gaps = replaced(texts(&|i, t| (!(3..6).contains(&i)).then_some(t))).unwrap();
    let missing = gaps.faults.iter().find(|f| f.channel == "P" && f.kind.word() == "missing");
    assert_eq!(missing.unwrap().count, 3);
    let error = replaced(Entries::Other(12, "Decimal".to_owned())).unwrap_err();
    assert_eq!(error.codes(), ["readings.column-type"]);
    assert_eq!(error.issues[0].path, "log[12], P_kN");
    let error = replaced(Entries::Numbers(vec![0.0; rows - 1].into())).unwrap_err();
    assert_eq!(error.codes(), ["readings.length"]);
    let mut endless = columns[1].1.clone();
    endless[9] = f64::INFINITY;
    let error = replaced(Entries::Numbers(endless.into())).unwrap_err();
    assert_eq!(
        (error.codes(), error.issues[0].path.as_str()),
        (vec!["units.nonfinite"], "log[9], P_kN")
    );
    let stamps = Entries::Times(vec![0; rows].into(), TimeEntries::Elapsed);
    assert_eq!(replaced(stamps).unwrap_err().codes(), ["readings.column-type"]);
}

/// v = [r − r0] − β [T − T0] − s, the line through the bearings, worked out here from the CSV row by
/// row; the zero is the median of its window.
#[test]
fn the_corrected_series_come_back_as_columns() {
    let (csv, layout) = gallery();
    let columns = columns(&csv);
    let read = read_csv_text(&csv, &layout).unwrap();
    assert!(judged(&read, &layout).series.is_empty());
    let judgement = judged(&read.with_series(), &layout);
    let ids: Vec<&str> = judgement.series.iter().map(|s| s.gauge.as_str()).collect();
    assert_eq!(ids, ["mid", "quarter"]);
    let mid = &judgement.series[0];
    let of = |name: &str| &columns.iter().find(|c| c.0 == name).unwrap().1;
    let rows = of("time_h").len();
    let median = |name: &str| {
        let mut inside: Vec<f64> =
            (0..rows).filter(|i| of("time_h")[*i] <= 0.3 + 1e-9).map(|i| of(name)[i]).collect();
        inside.sort_by(f64::total_cmp);
        let n = inside.len();
        (inside[(n - 1) / 2] + inside[n / 2]) / 2.0
    };
    assert_eq!([mid.time.len(), mid.force.len(), mid.raw.len(), mid.corrected.len()], [rows; 4]);
    let at = |name: &str, i: usize| of(name)[i] - median(name);
    for i in 0..rows {
        // mm; the gauge falls by 0.10 mm per degree, which is taken off
        let want =
            at("mid_mm", i) + 0.10 * at("T_C", i) - (at("left_mm", i) + at("right_mm", i)) / 2.0;
        assert!((mid.time[i] - of("time_h")[i] * 3600.0).abs() < 1e-6);
        let off = |a: f64, b: f64| (a - b).abs() < 1e-9 || (a.is_nan() && b.is_nan());
        assert!(off(mid.corrected[i] * 1e3, want), "row {i}: {} {want}", mid.corrected[i] * 1e3);
        assert!(off(mid.force[i] / 1e3, of("P_kN")[i]));
    }
    // what was used: the rows of the windows, counted in the CSV
    let used = &judgement.used[0];
    assert_eq!(used.gauge, "mid");
    assert_eq!(used.with, ["T", "left", "right"]);
    assert_eq!(used.samples + used.left_out, rows);
    let count = |from: f64, to: f64| {
        of("time_h").iter().filter(|t| **t >= from - 1e-9 && **t <= to + 1e-9).count()
    };
    for (window, from, to) in [("zero", 0.0, 0.3), ("peak", 25.8, 26.0), ("residual", 50.2, 50.5)] {
        let own = used.windows.iter().find(|w| w.window == window).unwrap();
        assert_eq!(own.used + own.left_out, count(from, to), "{window}");
    }
}

#[test]
fn a_line_that_is_no_object_is_refused_with_its_row() {
    let (_, layout) = gallery();
    let lines = "{\"time_h\": 0.1, \"P_kN\": 12.5}\n{\"time_h\": 0.2, \"P_kN\": }\n";
    let refused = read_csv_text(lines, &layout).unwrap_err();
    let issue = refused.issues.iter().find(|i| i.slug.code() == "readings.json-line").unwrap();
    assert!(issue.path.starts_with("log row 2"), "{}", issue.path);
}
