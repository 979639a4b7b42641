//! How long is a whole design, and how does that grow with spans, carriers and stages; a million rows of
//! readings?

use std::fmt::Write as _;
use std::sync::Arc;
use std::time::Instant;

use divan::Bencher;
use proofspan::criteria::RunRecord;
use proofspan::editions::Edition;
use proofspan::readings::{LogSpec, read_csv_text};
use proofspan::source::read_json;
use proofspan::{TestSpec, design, judge};
use serde_json::{Value, json};

fn main() {
    divan::main();
    growth("spans", &[2, 4, 8], |n| two_spans(&[3.0, 8.5], n, 1));
    const PLACES: [f64; 8] = [3.0, 8.5, 2.0, 9.5, 4.0, 7.5, 1.2, 10.0];
    growth("carriers", &[1, 2, 4, 8], |n| two_spans(PLACES.get(..n).unwrap(), 2, 1));
    growth("stages", &[1, 2, 4, 8], |n| two_spans(&[3.0, 8.5], 2, n));
}

/// Prints by how much a design takes longer with more of something: the fastest of a hundred.
fn growth(what: &str, counts: &[usize], document: impl Fn(usize) -> Value) {
    let fastest = |n: &usize| {
        let spec = spec(&document(*n));
        let one = |_| {
            let start = Instant::now();
            divan::black_box(design(Arc::clone(&spec)).unwrap());
            start.elapsed().as_secs_f64()
        };
        (0..100).map(one).fold(f64::INFINITY, f64::min)
    };
    let times: Vec<f64> = counts.iter().map(fastest).collect();
    let shown = counts.iter().zip(&times).map(|(n, t)| format!("{n}: {:.2}", t / times[0]));
    println!("growth with {what}: {}", shown.collect::<Vec<_>>().join(", "));
}

fn text(name: &str) -> String {
    std::fs::read_to_string(format!("{}/examples/scenarios/{name}", env!("CARGO_MANIFEST_DIR")))
        .unwrap_or_default()
}

fn spec(document: &Value) -> Arc<TestSpec> {
    Arc::new(TestSpec::from_json(&document.to_string()).unwrap())
}

fn document(name: &str) -> Value {
    serde_json::from_str(&text(name)).unwrap()
}

/// The terrace strip, seated, so that it is determinate.
fn terrace() -> Value {
    let mut document = document("terrace_strip.test.json");
    document["layout"]["ends"] = json!("seated");
    document
}

/// The archive floor with jack lines at these places in place of a search, two catches, and the doubt over
/// its inner support in so many stages.
fn two_spans(places: &[f64], spans: usize, stages: usize) -> Value {
    let mut document = document("archive_floor.test.json");
    let later = vec![json!("5.0 m"); spans - 1];
    document["beam"]["span"] = json!([vec![json!("6.0 m")], later].concat());
    let jacks = document["rig"]["jacks"][0].clone();
    let circuit = |i: usize| {
        let mut own = jacks.clone();
        own["circuit"] = json!(format!("circuit {i}"));
        own
    };
    document["rig"]["jacks"] = (0..places.len()).map(circuit).collect();
    document["layout"] = layout(places);
    document["shoring"]["catch"].as_array_mut().unwrap().remove(0);
    let doubt = document["scope"]["doubt"].clone();
    let again = |i| json!({ "name": format!("again {i}"), "doubt": doubt });
    document["stages"] = (1..stages).map(again).collect();
    document
}

fn layout(places: &[f64]) -> Value {
    let line = |(i, at): (usize, &f64)| {
        let (at, circuit) = (format!("{at} m"), format!("circuit {i}"));
        json!({ "kind": "jack_line", "at": at, "capacity": "120 kN", "circuit": circuit })
    };
    let carriers: Value = places.iter().enumerate().map(line).collect();
    json!({ "carrier": carriers, "ends": "seated" })
}

/// All of `design()` but the reading of the document; two catches.
#[divan::bench]
fn design_determinate(bencher: Bencher<'_, '_>) {
    let spec = spec(&terrace());
    bencher.bench_local(|| design(Arc::clone(&spec)).unwrap());
}

/// One jack on one span, one catch that no floor is named for.
#[divan::bench]
fn design_one_catch(bencher: Bencher<'_, '_>) {
    let mut document = terrace();
    let catch = &mut document["shoring"]["catch"];
    *catch = catch[1].clone();
    catch.as_object_mut().unwrap().remove("on");
    let spec = spec(&document);
    bencher.bench_local(|| design(Arc::clone(&spec)).unwrap());
}

/// Two spans, four patterns, two jacks, a reaction member of two spans, two stages.
#[divan::bench]
fn design_two_stages(bencher: Bencher<'_, '_>) {
    let mut document = two_spans(&[3.0, 8.5], 2, 2);
    document["stages"][0]["doubt"] = json!({ "mode": "flexure", "from": "1.6 m", "to": "3.4 m" });
    document["stages"][0]["layout"] = layout(&[2.0, 3.25]);
    let spec = spec(&document);
    bencher.bench_local(|| design(Arc::clone(&spec)).unwrap());
}

/// The same, the two jacks of the first stage searched among forty places.
#[divan::bench]
fn design_forty_places(bencher: Bencher<'_, '_>) {
    let mut document = two_spans(&[3.0, 8.5], 2, 2);
    document["stages"][0]["doubt"] = json!({ "mode": "flexure", "from": "1.6 m", "to": "3.4 m" });
    document["stages"][0]["layout"] = layout(&[2.0, 3.25]);
    let searched = |circuit, from, to| json!({ "kind": "jack_line", "search_from": from, "search_to": to, "capacity": "120 kN", "circuit": circuit });
    document["layout"]["carrier"] = json!([
        searched("circuit 0", "0.75 m", "5.5 m"),
        searched("circuit 1", "6.0 m", "10.75 m")
    ]);
    document["layout"]["search"] = json!({ "at_most": 2, "step": "0.25 m", "clear": "1.5 m" });
    let spec = spec(&document);
    bencher.bench_local(|| design(Arc::clone(&spec)).unwrap());
}

/// The same as shipped, three catches: places between them are scanned, for what they share has no
/// closed form.
#[divan::bench]
fn design_three_catches(bencher: Bencher<'_, '_>) {
    let spec = spec(&document("archive_floor.test.json"));
    bencher.bench_local(|| design(Arc::clone(&spec)).unwrap());
}

/// The terrace strip with ends that may be held: three more beams.
#[divan::bench]
fn design_with_bounds(bencher: Bencher<'_, '_>) {
    let spec = spec(&document("terrace_strip.test.json"));
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

/// The largest example.
#[divan::bench]
fn read_document(bencher: Bencher<'_, '_>) {
    let json = text("archive_floor.test.json");
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
