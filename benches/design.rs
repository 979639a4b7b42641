//! How long is a whole determinate design, a million rows of readings?

use std::fmt::Write as _;
use std::sync::Arc;

use divan::Bencher;
use proofspan::criteria::RunRecord;
use proofspan::editions::Edition;
use proofspan::readings::{LogSpec, read_csv_text};
use proofspan::source::read_json;
use proofspan::{TestSpec, design, judge};

fn main() {
    divan::main();
}

fn text(name: &str) -> String {
    std::fs::read_to_string(format!("{}/examples/scenarios/{name}", env!("CARGO_MANIFEST_DIR")))
        .unwrap_or_default()
}

/// The terrace strip, seated, so that it is determinate: all of `design()` but the reading of the document.
#[divan::bench]
fn design_determinate(bencher: Bencher<'_, '_>) {
    let json = text("terrace_strip.test.json").replace("cast_in_place", "seated");
    let spec = Arc::new(TestSpec::from_json(&json).unwrap());
    bencher.bench_local(|| design(Arc::clone(&spec)).unwrap());
}

/// The same with ends that may be held: three more beams.
#[divan::bench]
fn design_with_bounds(bencher: Bencher<'_, '_>) {
    let spec = Arc::new(TestSpec::from_json(&text("terrace_strip.test.json")).unwrap());
    bencher.bench_local(|| design(Arc::clone(&spec)).unwrap());
}

/// Every shipped edition file, read and compiled, as at the first use.
#[divan::bench]
fn all_editions(bencher: Bencher<'_, '_>) {
    let folder = format!("{}/crates/proofspan/editions", env!("CARGO_MANIFEST_DIR"));
    let texts: Vec<String> = std::fs::read_dir(folder)
        .unwrap()
        .map(|e| std::fs::read_to_string(e.unwrap().path()).unwrap())
        // as files of one's own: under names that are not shipped
        .map(|t| t.replacen("id = \"", "id = \"x-", 1).replacen("\nname = \"", "\nname = \"x ", 1))
        .collect();
    bencher
        .bench_local(|| texts.iter().map(|t| Edition::from_toml(t).unwrap()).collect::<Vec<_>>());
}

#[divan::bench]
fn read_document(bencher: Bencher<'_, '_>) {
    let json = text("terrace_strip.test.json");
    bencher.bench_local(|| TestSpec::from_json(&json).unwrap());
}

/// A million rows of seven columns, invented: text to verdict.
#[divan::bench(sample_count = 3, sample_size = 1)]
fn million_rows_to_verdict(bencher: Bencher<'_, '_>) {
    let design = design(TestSpec::from_json(&text("gallery_beam.test.json")).unwrap()).unwrap();
    let layout: LogSpec = read_json(&text("gallery_beam.log.json")).unwrap();
    let record: RunRecord = read_json(&text("gallery_beam.record.json")).unwrap();
    let mut csv = String::from("time_h,P_kN,mid_mm,quarter_mm,left_mm,right_mm,T_C\n");
    for i in 0..1_000_000_u32 {
        let t = f64::from(i) * 50.5 / 1e6;
        let on = if (1.0..26.1).contains(&t) { 1.0 } else { 0.0 };
        let _ = writeln!(
            csv,
            "{t:.6},{:.2},{:.3},{:.3},0.40,0.20,{:.2}",
            113.5 * on,
            2.3 + 7.4 * on,
            1.1 + 5.2 * on,
            19.0
        );
    }
    bencher.bench_local(|| {
        judge(&design, &read_csv_text(&csv, &layout).unwrap(), &layout, &record).unwrap()
    });
}
