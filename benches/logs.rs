//! How long is a log of a million rows and twelve columns: reading, judging, both? Its peer, the CSV
//! reader of polars, runs in `peers/logs.py`.

use std::fmt::Write as _;

use divan::Bencher;
use proofspan::criteria::RunRecord;
use proofspan::readings::{Log, LogSpec, read_csv_text};
use proofspan::source::read_json;
use proofspan::{TestDesign, TestSpec, design, judge};

fn main() {
    divan::main();
}

const ROWS: u32 = 1_000_000;

fn text(name: &str) -> String {
    std::fs::read_to_string(format!("{}/examples/scenarios/{name}", env!("CARGO_MANIFEST_DIR")))
        .unwrap_or_default()
}

/// The gallery beam with three more gauges of deflection, a strain and a pressure.
fn layout() -> LogSpec {
    let mut layout: serde_json::Value =
        serde_json::from_str(&text("gallery_beam.log.json")).unwrap();
    let channels = layout["channels"].as_array_mut().unwrap();
    for (id, at) in [("third", "3 m"), ("far", "6 m"), ("last", "6.75 m")] {
        channels.push(serde_json::json!({ "id": id, "column": format!("{id}_mm"), "unit": "mm",
            "role": "deflection", "at": at, "u": 0.02 }));
    }
    channels.push(serde_json::json!({ "id": "strain", "column": "strain", "unit": "um/m",
        "role": "strain" }));
    channels.push(serde_json::json!({ "id": "oil", "column": "oil_MPa", "unit": "MPa",
        "role": "pressure" }));
    layout["cleaning"] = serde_json::json!({ "gate": "2 mm", "half_window": "10 s", "bin": "1 s" });
    read_json(&layout.to_string()).unwrap()
}

/// Invented readings: four steps up to 113.5 kN at 1 h, off at 26.3 h, read until 50.5 h; half a sine
/// along the member, a permanent part of a fiftieth, noise.
fn log() -> String {
    let mut csv = String::from(
        "time_h,P_kN,mid_mm,quarter_mm,left_mm,right_mm,T_C,third_mm,far_mm,last_mm,strain,oil_MPa\n",
    );
    let mut seed = 1_u32;
    let mut noise = move |size: f64| {
        seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        (f64::from(seed >> 8) / f64::from(1_u32 << 24) - 0.5) * size
    };
    for i in 0..ROWS {
        let t = f64::from(i) * 50.5 / f64::from(ROWS);
        let on = match t {
            t if t < 0.4 => 0.0,
            t if t < 1.0 => 0.25 * ((t - 0.4) / 0.2 + 1.0).floor(),
            t if t < 26.3 => 1.0,
            _ => 0.0,
        };
        let kept = if t < 0.8 { 0.0 } else { 0.02 };
        let warm = 2.0 * (t / 24.0 * core::f64::consts::TAU).sin();
        let mut gauge = |x: f64| {
            let sine = (core::f64::consts::PI * x / 9.0).sin();
            2.3 + 7.4 * (on + kept) * sine - 0.1 * warm + noise(0.02)
        };
        let (mid, quarter, third, far, last) =
            (gauge(4.5), gauge(2.25), gauge(3.0), gauge(6.0), gauge(6.75));
        let _ = writeln!(
            csv,
            "{t:.6},{:.2},{mid:.3},{quarter:.3},{:.3},{:.3},{:.2},{third:.3},{far:.3},{last:.3},{:.1},{:.3}",
            113.5 * on + noise(0.2),
            0.4 + 0.15 * on + noise(0.01),
            0.2 + 0.12 * on + noise(0.01),
            19.0 + warm + noise(0.1),
            300.0 * on + noise(2.0),
            12.0 * on + noise(0.02),
        );
    }
    csv
}

struct Test {
    design: TestDesign,
    layout: LogSpec,
    record: RunRecord,
    text: String,
}

impl Test {
    fn new() -> Self {
        Self {
            design: design(TestSpec::from_json(&text("gallery_beam.test.json")).unwrap()).unwrap(),
            layout: layout(),
            record: read_json(&text("gallery_beam.record.json")).unwrap(),
            text: log(),
        }
    }

    fn read(&self) -> Log {
        read_csv_text(&self.text, &self.layout).unwrap()
    }
}

/// Text to a log whose faults are named.
#[divan::bench(sample_count = 5, sample_size = 1)]
fn read(bencher: Bencher<'_, '_>) {
    let test = Test::new();
    bencher.bench_local(|| test.read());
}

/// A log to a verdict.
#[divan::bench(sample_count = 5, sample_size = 1)]
fn judged(bencher: Bencher<'_, '_>) {
    let test = Test::new();
    let log = test.read();
    bencher.bench_local(|| judge(&test.design, &log, &test.layout, &test.record).unwrap());
}

/// Both.
#[divan::bench(sample_count = 5, sample_size = 1)]
fn text_to_verdict(bencher: Bencher<'_, '_>) {
    let test = Test::new();
    bencher.bench_local(|| judge(&test.design, &test.read(), &test.layout, &test.record).unwrap());
}
