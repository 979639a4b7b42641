//! Logs that must be refused in a sentence: layouts built in code, endless rows, absurd windows.

use std::io::Read;

use proofspan::readings::{LogSpec, deflections, read_csv, read_csv_text};
use proofspan::source::{Given, read_json};
use proofspan::units::*;

fn layout(more: &str) -> LogSpec {
    read(more).unwrap()
}

fn read(more: &str) -> Result<LogSpec, proofspan::Error> {
    read_json(&format!(
        r#"{{"time":{{"column":"t","unit":"h"}},"channels":[
            {{"id":"a","column":"a","unit":"mm","role":"deflection","at":"1 m","u":0.1}},
            {{"id":"b","column":"b","unit":"mm","role":"deflection","at":"2 m","u":0.1}}],
            {more}
            "moments":{{"zero":{{"from":"0 h","to":"0 h"}},"peak":{{"from":"1 h","to":"1 h"}},"residual":{{"from":"2 h","to":"2 h"}}}}}}"#
    ))
}

const LOG: &str = "t,a,b\n0,0,0\n1,10,20\n2,1,2\n";

fn codes(spec: &LogSpec) -> Vec<&'static str> {
    read_csv_text(LOG, spec).unwrap_err().codes()
}

/// The channel whose unit cannot be read was left out and every later one took its place.
#[test]
fn a_unit_that_cannot_be_read_is_refused_in_a_typed_layout() {
    let good = layout("");
    let read = deflections(&read_csv_text(LOG, &good).unwrap(), &good).unwrap();
    let b = read.iter().find(|d| d.gauge == "b").unwrap();
    assert!((b.d_max.to(MM) - 20.0).abs() < 1e-12);
    let mut wrong = good.clone();
    wrong.channels[0].unit = "furlong".to_owned();
    let error = read_csv_text(LOG, &wrong).unwrap_err();
    assert_eq!(error.codes(), ["units.unknown"]);
    assert_eq!(error.issues[0].path, "channels[0].unit");
    let mut wrong = good.clone();
    wrong.time.unit = Some("fortnight".to_owned());
    assert_eq!(codes(&wrong), ["units.unknown"]);
}

#[test]
fn rules_between_fields_hold_for_a_typed_layout() {
    let good = layout("");
    let with = |change: &dyn Fn(&mut LogSpec)| {
        let mut spec = good.clone();
        change(&mut spec);
        codes(&spec)
    };
    assert_eq!(with(&|s| s.delimiter = ";;".to_owned()), ["readings.delimiter"]);
    assert_eq!(with(&|s| s.channels[1].id = "a".to_owned()), ["readings.id-duplicate"]);
    assert_eq!(
        with(&|s| s.channels[0].level = Some("x".to_owned())),
        ["readings.reference-moving"]
    );
    assert_eq!(with(&|s| s.channels[0].u = Some(-0.1)), ["uncertainty.zero"]);
    assert_eq!(with(&|s| s.channels[0].at = None), ["source.field-missing"]);
    // judged again where the log was read by another layout
    let log = read_csv_text(LOG, &good).unwrap();
    let mut spec = good.clone();
    spec.channels[0].u = Some(0.0);
    assert_eq!(deflections(&log, &spec).unwrap_err().codes(), ["uncertainty.zero"]);
}

/// Zero, peak, unloading, residual: a residual read before the load was off is none.
#[test]
fn the_moments_stand_in_the_order_of_the_test() {
    let log = read_csv_text(LOG, &layout("")).unwrap();
    let order = |zero: f64, peak: f64, off: Option<f64>, residual: f64| {
        let mut spec = layout("");
        for (window, at) in [
            (&mut spec.moments.zero, zero),
            (&mut spec.moments.peak, peak),
            (spec.moments.residual.as_mut().unwrap(), residual),
        ] {
            window.from = Given::new(Duration::from_si(at * 3600.0)).unwrap();
            window.to = window.from.clone();
        }
        spec.moments.unloaded = off.map(|h| Given::new(Duration::from_si(h * 3600.0)).unwrap());
        deflections(&log, &spec).map_or_else(|e| e.codes(), |_| Vec::new())
    };
    assert!(order(0.0, 1.0, None, 2.0).is_empty());
    assert!(order(0.0, 1.0, Some(1.0), 2.0).is_empty());
    assert_eq!(order(0.0, 1.0, Some(2.5), 2.0), ["readings.order"]);
    assert_eq!(order(0.0, 1.0, Some(0.5), 2.0), ["readings.order"]);
    assert_eq!(order(1.0, 0.0, None, 2.0), ["readings.order"]);
    assert_eq!(order(0.0, 2.0, None, 1.0), ["readings.order"]);
}

/// Counts what is taken from it, and never ends before `most` bytes.
struct Endless {
    head: &'static [u8],
    with: u8,
    taken: usize,
    most: usize,
}

impl Read for &mut Endless {
    fn read(&mut self, buffer: &mut [u8]) -> std::io::Result<usize> {
        assert!(self.taken < self.most, "the reader goes on and on");
        for place in buffer.iter_mut() {
            *place = self.head.get(self.taken).copied().unwrap_or(self.with);
            self.taken += 1;
        }
        Ok(buffer.len())
    }
}

#[test]
fn a_row_without_an_end_is_refused_after_a_stated_length() {
    // zero bytes; one cell; many cells; one quoted cell over many lines; a row in the middle
    for (head, with) in [
        (&b""[..], 0),
        (&b""[..], b'7'),
        (&b"t,a,b\n0,0,0\n1,"[..], b'9'),
        (&b"t,a,b\n0,0,0\n1,"[..], b','),
        (&b"t,a,b\n0,0,0\n1,\""[..], b'\n'),
        (&b"t,a,b\n0,0,0\n1,1,1\n"[..], 0),
    ] {
        let mut source = Endless { head, with, taken: 0, most: 4 << 20 };
        let error = read_csv(&mut source, &layout("")).unwrap_err();
        assert_eq!(error.codes(), ["readings.too-long"], "{error}");
        assert!(error.to_string().len() < 1000, "{error}");
        assert!(error.issues[0].limit.as_deref().unwrap().contains("1048576 bytes"));
    }
}

/// A cell that no number needs, and a message that shows its head only.
#[test]
fn a_long_cell_is_refused_by_its_head() {
    let digits = "1".repeat(5_000);
    let error = read_csv_text(&format!("t,a,b\n0,0,0\n1,{digits},0\n"), &layout("")).unwrap_err();
    assert_eq!(error.codes(), ["readings.too-long"]);
    assert!(error.to_string().len() < 600, "{error}");
    let text = "x".repeat(900);
    let error = read_csv_text(&format!("t,a,b\n0,0,0\n1,{text},0\n"), &layout("")).unwrap_err();
    assert_eq!(error.codes(), ["units.text-number"]);
    assert!(error.to_string().len() < 600, "{error}");
    // a long remark in a column that is not mapped is nobody's business
    let remark = "x".repeat(5_000);
    let log = format!("t,a,b,c\n0,0,0,\n1,10,20,{remark}\n2,1,2,\n");
    assert_eq!(read_csv_text(&log, &layout("")).unwrap().rows(), 3);
    // a heading of very many columns is not recited
    let head: Vec<String> = (0..20_000).map(|i| format!("c{i}")).collect();
    let error = read_csv_text(&format!("{}\n", head.join(",")), &layout("")).unwrap_err();
    assert_eq!(error.codes(), ["readings.column-missing"; 3]);
    assert!(error.to_string().len() < 3_000);
}

/// 200 000 rows a second apart, a half window of the whole log: quick, and the ramp stays.
#[test]
fn a_window_as_long_as_the_log_does_not_take_for_ever() {
    let mut text = String::from("t,a,b\n");
    for i in 0..200_000 {
        text.push_str(&format!("{},{},{}\n", f64::from(i) / 3600.0, f64::from(i) * 1e-4, 0));
    }
    let cleaning = |bin: &str| {
        layout(&format!(r#""cleaning":{{"gate":"5 mm","half_window":"1e6 h","bin":"{bin}"}},"#))
    };
    let start = std::time::Instant::now();
    for bin in ["1 s", "1e-6 s"] {
        let log = read_csv_text(&text, &cleaning(bin)).unwrap();
        assert_eq!(log.samples(log.channel("a").unwrap()).count(), 200_000);
        assert!(log.faults.iter().all(|f| f.kind.word() != "blocked"));
    }
    assert!(start.elapsed().as_secs() < 20, "{:?}", start.elapsed());
}

/// A bin longer than the half window leaves one vote: every sample is its own median.
#[test]
fn a_bin_longer_than_the_half_window_cleans_nothing() {
    let refused = read(r#""cleaning":{"gate":"1 mm","half_window":"5 s","bin":"10 s"},"#);
    assert_eq!(refused.unwrap_err().codes(), ["readings.cleaning"]);
}

/// Every sample votes in a bin of next to nothing: the outlier is found as with a bin of a second.
#[test]
fn a_tiny_bin_does_not_silence_the_votes() {
    let mut text = String::from("t,a,b\n");
    for i in 0..100 {
        let a = f64::from(i) * 0.5 + if i == 50 { 40.0 } else { 0.0 };
        text.push_str(&format!("{},{a},0\n", f64::from(i) / 3600.0));
    }
    for bin in ["1 s", "1e-5 s"] {
        let more = format!(r#""cleaning":{{"gate":"5 mm","half_window":"10 s","bin":"{bin}"}},"#);
        let log = read_csv_text(&text, &layout(&more)).unwrap();
        assert_eq!(log.samples(log.channel("a").unwrap()).count(), 99, "{bin}");
    }
}
