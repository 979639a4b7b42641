//! Every wrong input gets its own code, and every code of the table is reached by a test.

use proofspan::criteria::RunRecord;
use proofspan::readings::{LogSpec, read_csv, read_csv_text};
use proofspan::source::read_json;
use proofspan::{TestDesign, TestSpec, design, judge};

fn text(name: &str) -> String {
    std::fs::read_to_string(format!("{}/examples/scenarios/{name}", env!("CARGO_MANIFEST_DIR")))
        .unwrap()
}

/// The codes with which a document is refused.
fn refused(json: &str) -> Vec<&'static str> {
    match TestSpec::from_json(json) {
        Err(error) => error.codes(),
        Ok(spec) => design(spec).map(|_| ()).unwrap_err().codes(),
    }
}

/// The codes of the notes and stops of a document that is accepted.
fn remarks(json: &str) -> Vec<&'static str> {
    let d = design(TestSpec::from_json(json).unwrap()).unwrap();
    let verdicts: Vec<&str> = d
        .verdicts()
        .filter(|(_, v)| v.state == proofspan::verdict::State::Fail)
        .map(|(_, v)| v.slug.code())
        .collect();
    d.notes
        .iter()
        .map(|n| n.slug.code())
        .chain(d.stops().iter().map(|s| s.slug.code()))
        .chain(verdicts)
        .collect()
}

fn replaced(base: &str, old: &str, new: &str) -> String {
    assert!(base.contains(old), "{old} is not there");
    base.replacen(old, new, 1)
}

#[test]
fn wrong_documents_are_refused_by_code() {
    let base = text("terrace_strip.test.json");
    let live = r#"{ "action": "live", "area": "40 psf", "occupancy": "other" }"#;
    let table: &[(&str, &str, &str)] = &[
        (r#""schema_version": 1,"#, r#""schema_version": 2,"#, "source.version"),
        (
            r#""schema_version": 1,"#,
            r#""schema_version": 1, "schema_version": 1,"#,
            "source.field-duplicate",
        ),
        (r#""joists": 3"#, r#""joists": 0"#, "source.sign"),
        (r#""unit": "strip", "#, "", "scope.member-unit-missing"),
        (r#""kind": "joist_strip""#, r#""kind": "stair_with_landing""#, "scope.member-kind"),
        (r#""to": "6 ft""#, r#""to": "50 ft""#, "scope.region-outside"),
        (
            r#""from": "0 ft", "to": "6 ft""#,
            r#""from": "6 ft", "to": "0 ft""#,
            "scope.region-reversed",
        ),
        (
            r#""from": "0 ft", "to": "6 ft""#,
            r#""from": "6 ft", "to": "6 ft""#,
            "scope.region-empty",
        ),
        (
            r#""value": "45 ft", "origin""#,
            r#""value": "-45 ft", "origin""#,
            "beam.length-nonpositive",
        ),
        (
            r#""soft": { "modulus": "4000 ksi""#,
            r#""soft": { "modulus": "4000 psi""#,
            "beam.magnitude-modulus",
        ),
        (
            r#""soft": { "modulus": "4000 ksi""#,
            r#""soft": { "modulus": "0 ksi""#,
            "beam.rigidity-nonpositive",
        ),
        (r#""clear_span": "44 ft""#, r#""clear_span": "46 ft""#, "beam.clear-span"),
        (r#""clear_span": "44 ft""#, r#""left_overhang": "4 ft""#, "beam.overhang"),
        (r#""26800 in^4""#, r#""800 in^4""#, "beam.stiff-softer"),
        (r#""width": "8 ft""#, r#""width": "0 ft""#, "loads.width"),
        (live, r#"{ "action": "live" }"#, "loads.shape"),
        (live, r#"{ "action": "live", "area": "-40 psf" }"#, "loads.negative"),
        (
            live,
            r#"{ "action": "live", "area": "40 psf", "from": "5 ft", "to": "4 ft" }"#,
            "loads.extent",
        ),
        (live, r#"{ "action": "wind", "area": "40 psf" }"#, "loads.wind"),
        (
            live,
            r#"{ "action": "live", "area": "40 psf", "in_place": 1.5 }"#,
            "loads.deduction-too-big",
        ),
        (live, r#"{ "action": "fluid", "area": "40 psf" }"#, "editions.action-not-covered"),
        (r#""area": "12 psf", "in_place": 1"#, r#""area": "12 psf""#, "loads.in-place-missing"),
        (r#""zero_at": "10 ft""#, r#""zero_at": "50 ft""#, "loads.taper-too-long"),
        (r#", "zero_at": "10 ft""#, "", "loads.taper-end-unknown"),
        (r#""area": "76 psf""#, r#""line": "76 psf""#, "units.dimension"),
        (r#""area": "76 psf""#, r#""area": "76 psff""#, "units.unknown"),
        (r#""area": "76 psf""#, r#""area": "7,6 psf""#, "units.text-number"),
        (r#""id": "ACI 437.2-13""#, r#""id": "ACI 437.2-31""#, "editions.edition-unknown"),
        (
            r#""edition": { "id": "ACI 437.2-13" }"#,
            r#""edition": { "id": "ACI 437.2-13", "set": "b" }"#,
            "editions.set-refused",
        ),
        (r#""at": "9.5 ft""#, r#""at": "0 ft""#, "shoring.catch-outside"),
        (
            r#", "posts": { "stiffness": "100 kip/in", "resistance": { "posts": 4, "rated": "22 kip" } }"#,
            "",
            "shoring.post-stiffness-missing",
        ),
        (r#""step_hold": "10 min""#, r#""step_hold": 10"#, "protocol.hold-unit-missing"),
        (
            r#""step_hold": "10 min""#,
            r#""step_hold": "10 min", "steps": [0.5, 0.4, 1]"#,
            "protocol.steps-not-increasing",
        ),
    ];
    for (old, new, code) in table {
        let codes = refused(&replaced(&base, old, new));
        assert!(codes.contains(code), "{new}: {codes:?}, {code} was expected");
    }
    let no_levels = replaced(&base, r#""to_ground": true"#, r#""to_ground": false"#);
    let a = no_levels.find(r#""levels": ["#).unwrap();
    let b = no_levels[a..].find(']').unwrap() + a;
    let no_levels = format!("{}\"levels\": [{}", &no_levels[..a], &no_levels[b..]);
    assert_eq!(refused(&no_levels), ["shoring.levels-zero"]);
    let odd = refused(r#"{"schema_version":"one","title":3}"#);
    assert!(odd.contains(&"source.type") && odd.contains(&"source.field-missing"), "{odd:?}");
    let deep = format!("{}1{}", "[".repeat(200), "]".repeat(200));
    assert_eq!(refused(&deep), ["source.depth"]);
    // everything in place, nothing to apply: refused, never met
    let there = base
        .replace(r#""area": "40 psf", "occupancy": "other""#, r#""area": "1 psf", "in_place": 1"#);
    let there = there
        .replace(r#"{ "action": "rain", "area": "20 psf" },"#, "")
        .replace(r#""peak": "40 psf""#, r#""peak": "0 psf""#);
    let there = there
        .replace(r#""self_weight", "area": "76 psf""#, r#""self_weight", "area": "0 psf""#)
        .replace(r#""area": "12 psf""#, r#""area": "0 psf""#);
    assert!(!refused(&there).is_empty(), "nothing to apply");
}

#[test]
fn remarks_and_stops_of_accepted_documents() {
    let base = text("terrace_strip.test.json");
    let finding = |kind: &str| {
        replaced(
            &base,
            r#""sharing": { "rule": "isolated" }"#,
            &format!(
                r#""sharing": {{ "rule": "isolated" }}, "findings": [{{ "kind": "{kind}", "note": "x" }}]"#
            ),
        )
    };
    assert!(remarks(&finding("saw_cut")).contains(&"scope.saw-cut"));
    assert!(remarks(&finding("failed_bearing")).contains(&"scope.pointless"));
    assert!(
        design(TestSpec::from_json(&finding("failed_bearing")).unwrap())
            .unwrap()
            .pointless()
            .is_some()
    );
    assert!(remarks(&finding("other")).contains(&"scope.finding"));
    let table: &[(&str, &str, &str)] = &[
        (
            r#""edition": { "id": "ACI 437.2-13" }"#,
            r#""edition": { "id": "ACI 437.2-13", "reduce_live": true }"#,
            "editions.no-reduction",
        ),
        (
            r#""sagging_capacity": "330 kip·ft""#,
            r#""sagging_capacity": "150 kip·ft""#,
            "rig.staging-over-capacity",
        ),
        (
            r#""conditions":"#,
            r#""factor": { "at_least": 2, "basis": "total_weight" }, "conditions":"#,
            "rig.factor-asked",
        ),
        (r#""seat": "seated""#, r#""seat": "monolithic""#, "rig.monolithic"),
        (r#", "working_load": "15 kip""#, "", "rig.bar-unchecked"),
        (r#", "relief": "2150 psi""#, "", "rig.condition-unshown"),
        (r#", "relief": "2150 psi""#, "", "rig.no-relief"),
        (
            r#""bars": { "number": 6, "area": "0.30 in^2", "length": "132 in", "modulus": "29000 ksi", "working_load": "15 kip" },"#,
            "",
            "rig.bars-unsaid",
        ),
        (r#""spare": "48 kip""#, r#""spare": "4.8 kip""#, "shoring.level-over-capacity"),
        (
            r#""gap": "0.5 in""#,
            r#""gap": "0.5 in", "posts_on_joist_lines": false"#,
            "shoring.post-off-joist",
        ),
        (r#""range": "2 in""#, r#""range": "0.4 in""#, "protocol.range-short"),
    ];
    for (old, new, code) in table {
        let codes = remarks(&replaced(&base, old, new));
        assert!(codes.contains(code), "{new}: {codes:?}, {code} was expected");
    }
    let mut document: serde_json::Value = serde_json::from_str(&base).unwrap();
    document["shoring"].as_object_mut().unwrap().remove("catch");
    let no_catch = document.to_string();
    assert!(remarks(&no_catch).contains(&"shoring.catch-missing"));
}

fn gallery() -> (TestDesign, String, String, String) {
    let d = design(TestSpec::from_json(&text("gallery_beam.test.json")).unwrap()).unwrap();
    (
        d,
        text("gallery_beam.log.csv"),
        text("gallery_beam.log.json"),
        text("gallery_beam.record.json"),
    )
}

#[test]
fn wrong_logs_and_layouts_are_refused_by_code() {
    let (_, log, layout, _) = gallery();
    let table: &[(&str, &str, &str)] = &[
        (r#""unit": "°C""#, r#""unit": "deg""#, "readings.temperature-unit"),
        (
            r#""missing": ["", "-"],"#,
            r#""delimiter": ",", "decimal": "comma","#,
            "readings.delimiter",
        ),
        (r#""id": "quarter""#, r#""id": "mid""#, "readings.id-duplicate"),
        (
            r#""column": "quarter_mm""#,
            r#""on_moving_level": true, "column": "quarter_mm""#,
            "readings.reference-moving",
        ),
        (r#""zero": { "from": "0 h", "to": "0.3 h" },"#, "", "readings.zero-missing"),
        (
            r#""from": "25.8 h", "to": "26.0 h""#,
            r#""from": "26 h", "to": "25 h""#,
            "readings.window",
        ),
        (r#""u": 0.02 }"#, r#""u": 0 }"#, "uncertainty.zero"),
        (r#""channel": "T""#, r#""channel": "P""#, "readings.column-missing"),
    ];
    for (old, new, code) in table {
        let codes = read_json::<LogSpec>(&replaced(&layout, old, new)).unwrap_err().codes();
        assert!(codes.contains(code), "{new}: {codes:?}, {code} was expected");
    }
    let spec: LogSpec = read_json(&layout).unwrap();
    let mut bytes = log.clone().into_bytes();
    let at = log.find("2.3").unwrap();
    bytes[at] = 0xff;
    assert_eq!(read_csv(bytes.as_slice(), &spec).unwrap_err().codes(), ["readings.encoding"]);
    let ranged: LogSpec = read_json(&replaced(
        &layout,
        r#""at": "2.25 m", "u": 0.02"#,
        r#""at": "2.25 m", "u": 0.02, "range": 9.5"#,
    ))
    .unwrap();
    let stuck: String = log
        .lines()
        .enumerate()
        .map(|(i, l)| {
            let mut cells: Vec<&str> = l.split(',').collect();
            if (100..110).contains(&i) {
                cells[3] = "9.5";
            }
            cells.join(",") + "\n"
        })
        .collect();
    assert_eq!(read_csv_text(&stuck, &ranged).unwrap_err().codes(), ["readings.saturated"]);
}

/// The first twenty problems of a kind are listed, then their number: nothing is lost.
#[test]
fn many_problems_are_counted() {
    let (_, log, layout, _) = gallery();
    let spec: LogSpec = read_json(&layout).unwrap();
    let bad: String = log
        .lines()
        .enumerate()
        .map(|(i, l)| if i == 0 { l.to_owned() + "\n" } else { l.replacen(',', ",x", 1) + "\n" })
        .collect();
    let error = read_csv_text(&bad, &spec).unwrap_err();
    assert_eq!(error.issues.len(), 21);
    assert!(error.issues[20].message.contains("in all"), "{}", error.issues[20]);
}

/// A source that makes its rows as they are read.
struct Rows {
    next: u64,
    rows: u64,
    rest: Vec<u8>,
}

impl std::io::Read for Rows {
    fn read(&mut self, out: &mut [u8]) -> std::io::Result<usize> {
        while self.rest.len() < out.len() && self.next < self.rows {
            let t = self.next as f64 * 50.5 / self.rows as f64;
            let line = format!(
                "{t:.7},113.5,9.70,6.30,0.40,0.20,19.00,filling text that no channel maps, filling text that no channel maps\n"
            );
            self.rest.extend_from_slice(line.as_bytes());
            self.next += 1;
        }
        let n = self.rest.len().min(out.len());
        out[..n].copy_from_slice(&self.rest[..n]);
        self.rest.drain(..n);
        Ok(n)
    }
}

/// A file is streamed: 32 MB here, 2 GB in the soak run. Only the mapped columns are kept.
#[test]
fn a_large_file_is_streamed() {
    let (_, _, layout, _) = gallery();
    let spec: LogSpec = read_json(&layout).unwrap();
    let rows = if std::env::var_os("PROOFSPAN_SOAK").is_some() { 18_000_000 } else { 280_000 };
    let heading = b"time_h,P_kN,mid_mm,quarter_mm,left_mm,right_mm,T_C,a,b\n".to_vec();
    let log = read_csv(Rows { next: 0, rows, rest: heading }, &spec).unwrap();
    assert_eq!(log.rows() as u64, rows);
}

#[test]
fn the_record_wants_its_dates() {
    let (_, _, _, record) = gallery();
    let codes =
        read_json::<RunRecord>(&replaced(&record, r#""expiry": "2036-06-11""#, r#""expiry": "" "#))
            .unwrap_err()
            .codes();
    assert_eq!(codes, ["criteria.expiry-missing"]);
}

#[test]
fn windows_without_samples_and_lost_residuals() {
    let (d, log, layout, record) = gallery();
    let record: RunRecord = read_json(&record).unwrap();
    let run = |layout: &str| {
        let spec: LogSpec = read_json(layout).unwrap();
        judge(&d, &read_csv_text(&log, &spec).unwrap(), &spec, &record)
    };
    let empty = replaced(
        &layout,
        r#""from": "25.8 h", "to": "26.0 h""#,
        r#""from": "26.004 h", "to": "26.006 h""#,
    );
    assert_eq!(
        run(&empty).unwrap_err().codes(),
        ["readings.window-empty", "readings.window-empty"]
    );
    let no_gauge = layout.replace(r#""role": "deflection""#, r#""role": "level""#);
    // bearings that move like the middle of the member are told as well
    assert_eq!(
        run(&no_gauge).unwrap_err().codes(),
        ["criteria.no-gauge", "readings.fault", "readings.fault"]
    );
}

/// Every code of the table is used in the library and named by a test.
#[test]
fn every_code_is_reached_by_a_test() {
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut texts = (String::new(), String::new());
    let mut folders: Vec<_> =
        ["crates/proofspan/src", "crates/proofspan-py/src", "tests", "python/tests"]
            .iter()
            .map(|f| root.join(f))
            .collect();
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|e| e == "rs" || e == "py")
                && !path.ends_with("slugs.rs")
            {
                let text = std::fs::read_to_string(&path).unwrap();
                let library = path.starts_with(root.join("crates"));
                let (code, tests) = text.split_once("#[cfg(test)]").unwrap_or((&text, ""));
                if library && !path.ends_with("formula/tests.rs") {
                    texts.0.push_str(code);
                    texts.1.push_str(tests);
                } else {
                    texts.1.push_str(&text);
                }
            }
        }
    }
    let mut open = Vec::new();
    for slug in proofspan::error::Slug::all() {
        let name = slug.code().to_uppercase().replace(['.', '-'], "_");
        let shout = |n: &str| {
            texts.0.contains(&format!("slug::{n}"))
                || texts.0.contains(&format!("::{n}"))
                // an edge of a rule, or a field that may not be absent
                || texts.0.contains(&format!(" {n},"))
                || texts.0.contains(&format!(" {n} }}"))
                || texts.0.contains(&format!("=> {n} \""))
                || texts.0.contains(&format!("\"{}\"", slug.code()))
        };
        if !(shout(&name) || shout(&name.replace("_MISSING", "")))
            || !texts.1.contains(&format!("\"{}\"", slug.code()))
        {
            open.push(slug.code());
        }
    }
    assert_eq!(open, Vec::<&str>::new());
}
