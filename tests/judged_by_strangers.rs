//! Doors that a hostile reader found open: a report of another judgement, a step without a number, a false
//! alarm of the recheck.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]

use proofspan::criteria::RunRecord;
use proofspan::readings::{LogSpec, read_csv_text};
use proofspan::source::read_json;
use proofspan::{Judgement, TestDesign, TestSpec, design, judge, report};
use serde_json::{Value, json};

fn shipped(name: &str) -> String {
    let path = format!("{}/examples/scenarios/{name}", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(path).unwrap()
}

fn tested(name: &str, change: impl Fn(&mut Value)) -> TestDesign {
    let mut document: Value = serde_json::from_str(&shipped(&format!("{name}.test.json"))).unwrap();
    change(&mut document);
    design(TestSpec::from_json(&document.to_string()).unwrap()).unwrap()
}

fn judged(design: &TestDesign, name: &str) -> Judgement {
    let columns: LogSpec = read_json(&shipped(&format!("{name}.log.json"))).unwrap();
    let record: RunRecord = read_json(&shipped(&format!("{name}.record.json"))).unwrap();
    let log = read_csv_text(&shipped(&format!("{name}.log.csv")), &columns).unwrap();
    judge(design, &log, &columns, &record).unwrap()
}

/// What was judged of one test is not signed under another: not of another document, not of the same one
/// with another span, not where the test was designed elsewhere.
#[test]
fn a_report_takes_its_own_judgement_only() {
    let gallery = tested("gallery_beam", |_| {});
    let own = judged(&gallery, "gallery_beam");
    assert!(report::html(&gallery, Some(&own)).is_ok());
    let other = judged(&tested("classroom_strip", |_| {}), "classroom_strip");
    let changed = tested("gallery_beam", |d| d["scope"]["question"] = json!("another question"));
    let mut elsewhere = own.clone();
    elsewhere.evidence.design = None;
    for (design, judgement) in [(&gallery, &other), (&changed, &own), (&gallery, &elsewhere)] {
        for error in [
            report::html(design, Some(judgement)).unwrap_err(),
            report::markdown(design, Some(judgement)).unwrap_err(),
        ] {
            assert_eq!(error.codes(), ["report.other-test"]);
        }
    }
}

/// The best place of a counterweight is a bearing: no line divides by the lever of nothing that the far
/// bearing has there.
#[test]
fn no_line_of_the_working_is_without_a_number() {
    for rain in ["18 psf", "20 psf", "12 psf"] {
        let design = tested("terrace_strip", |d| d["loads"]["actions"][3]["area"] = json!(rain));
        assert!(!report::markdown(&design, None).unwrap().contains("no number"), "{rain}");
        assert!(design.working().unwrap().recheck().is_empty(), "{rain}");
    }
}

/// Between two equal contacts the shear is zero but for rounding, of either sign: that is the answer.
#[test]
fn a_zero_shear_is_not_a_false_alarm() {
    for to in ["4.158 m", "4.2 m", "4.21 m", "4.17 m", "4.3 m"] {
        let design = tested("gallery_beam", |d| d["scope"]["doubt"]["to"] = json!(to));
        let found: Vec<String> =
            design.working().unwrap().recheck().iter().map(|m| m.what.clone()).collect();
        assert!(found.is_empty(), "{to}: {found:?}");
    }
}

/// Bags and water that stand wider than the member unit, at the upper end of a range too, in a later stage
/// too: what is beyond the unit loads its neighbours, and counting it would bring the force with too little.
#[test]
fn a_carrier_is_no_wider_than_its_unit() {
    let refused = |name: &str, change: &dyn Fn(&mut Value)| {
        let mut document: Value =
            serde_json::from_str(&shipped(&format!("{name}.test.json"))).unwrap();
        change(&mut document);
        TestSpec::from_json(&document.to_string()).map_or_else(
            |e| e.issues.iter().map(|i| (i.slug.code(), i.path.clone())).collect(),
            |_| Vec::new(),
        )
    };
    let path = "layout.carrier.width".to_owned();
    let wide = ("equivalent.carrier-wide", path);
    let bags = refused("classroom_strip", &|d| {
        d["layout"]["carrier"]["width"] = json!("5 m");
    });
    assert_eq!(bags, std::slice::from_ref(&wide));
    let ranged = refused("classroom_strip", &|d| {
        let width = d["loads"]["width"].clone();
        d["layout"]["carrier"]["width"] = json!({ "value": width, "low": width, "high": "1.5 m" });
    });
    assert_eq!(ranged, [wide]);
    let basins = refused("station_canopy", &|d| {
        unit_of(d, "20 m");
    });
    assert!(!basins.is_empty() && basins.iter().all(|i| i.0 == "equivalent.carrier-wide"));
    let later = refused("classroom_strip", &|d| {
        let mut layout = d["layout"].clone();
        layout["carrier"]["width"] = json!("5 m");
        let doubt = d["scope"]["doubt"].clone();
        d["stages"] = json!([{ "name": "again", "doubt": doubt, "layout": layout }]);
    });
    assert_eq!(later, [("equivalent.carrier-wide", "stages[0].layout.carrier.width".to_owned())]);
}

fn unit_of(document: &mut Value, width: &str) {
    let carriers = &mut document["layout"]["carrier"];
    match carriers {
        Value::Array(all) => all.iter_mut().for_each(|c| c["width"] = json!(width)),
        one => one["width"] = json!(width),
    }
}

/// An edition of one's own that compares two things at once: how far inside has no one number, and that is
/// the reason, not an uncertainty that was stated. A limit beyond every number is refused
/// (`formula.no-number`).
#[test]
fn an_own_edition_says_why_it_is_open() {
    use proofspan::criteria::Acceptance;
    let own = |limit: &str| {
        let text = format!(
            "id = \"own\"\nname = \"Own\"\ntitle = \"invented\"\nyear = 2026\nstatus = \"current\"\nclause = \"1\"\ndefault_set = \"a\"\n[[sets]]\nid = \"a\"\nabout = \"the only set\"\nconfidence = \"user\"\nrows = [ {{ id = \"r\", factors = {{ Dw = 1.0, L = 1.5 }} }} ]\n[[protocols]]\nmethod = \"monotonic\"\nfull_hold = \"24 h\"\nconfidence = \"user\"\n[[criteria]]\nmethod = \"monotonic\"\nid = \"both\"\nabout = \"recovery and size\"\nlimit = \"{limit}\"\nclause = \"1\"\nconfidence = \"user\"\n"
        );
        let asked = json!({
            "edition": { "id": "own", "file": text },
            "deflection": "12 mm", "residual": "6 mm", "span": "6 m", "depth": "400 mm", "u": "0.1 mm"
        });
        read_json::<Acceptance>(&asked.to_string()).and_then(|a| a.judge())
    };
    let open = own("rec >= 0.3 and d_max <= l/200").unwrap();
    let row = open.criteria.iter().find(|c| c.id == "both").unwrap();
    assert_eq!(row.outcome.code.state.word(), "pass");
    assert_eq!(row.outcome.guarded.state.word(), "inconclusive");
    assert!(row.reason.to_string().contains("several things at once"), "{}", row.reason);
    let error = own("rec >= 1e308*10").unwrap_err();
    assert_eq!(error.codes(), ["formula.no-number"]);
}

/// Two contacts 200 mm apart on a member half a metre deep, and nobody says how long their plates are:
/// that is said. With plates of 150 mm, or a metre apart, there is nothing to say.
#[test]
fn plates_nobody_described_are_said() {
    let notes = |apart: &str, plate: Option<&str>| {
        let design = tested("gallery_beam", |d| {
            d["layout"]["carrier"] = json!({ "kind": "spreader", "contacts": ["3.4 m", apart] });
            if let Some(plate) = plate {
                d["layout"]["plate_length"] = json!(plate);
            }
        });
        design.notes.iter().any(|n| n.slug.code() == "equivalent.plates-unknown")
    };
    assert!(notes("3.6 m", None));
    assert!(!notes("3.6 m", Some("150 mm")));
    assert!(!notes("4.4 m", None));
}

/// What a jack pushes against may be steel, 210 GPa; the member under test is concrete, and 210 GPa there
/// is a unit that slipped, at the end of a range too.
#[test]
fn steel_carries_and_concrete_is_tested() {
    let steel = tested("gallery_beam", |d| {
        d["rig"]["reaction"]["rigidity"]["modulus"] = json!("210 GPa");
    });
    assert!(steel.rig.reactions.len() == 1);
    for modulus in
        [json!("210 GPa"), json!({ "value": "29 GPa", "low": "25 GPa", "high": "101 GPa" })]
    {
        let mut document: Value = serde_json::from_str(&shipped("gallery_beam.test.json")).unwrap();
        document["beam"]["stiff"]["modulus"] = modulus;
        let error = TestSpec::from_json(&document.to_string()).unwrap_err();
        assert_eq!(error.codes(), ["beam.magnitude-modulus"]);
        assert_eq!(error.issues[0].path, "beam.stiff.modulus");
    }
}

/// A modulus that is missing is told where the caller gave the section, whichever step of the prediction
/// asks for it.
#[test]
fn a_missing_modulus_is_told_in_the_section() {
    use proofspan::capacity::Deflecting;
    let asked = json!({
        "span": "8 m", "in_place": "2 kN/m", "cracking": "ACI 318-19, MPa",
        "forces": [{ "at": "4 m", "force": "40 kN" }],
        "section": {
            "shape": { "kind": "rectangle", "width": "300 mm", "height": "600 mm" },
            "concrete": { "strength": "30 MPa" },
            "bars": { "area": "1500 mm^2", "depth": "540 mm", "yields": "420 MPa" }
        }
    });
    let asked: Deflecting = read_json(&asked.to_string()).unwrap();
    let error = asked.predict().unwrap_err();
    assert_eq!(error.codes(), ["capacity.modulus"]);
    assert_eq!(error.issues[0].path, "section.concrete.modulus");
}

/// Bars of 205 pascal, a thousandth of what they are, or a thousand times: the unit slipped.
#[test]
fn bars_have_a_modulus_that_bars_can_have() {
    for modulus in ["205 Pa", "205 MPa", "205000 GPa"] {
        let mut document: Value = serde_json::from_str(&shipped("gallery_beam.test.json")).unwrap();
        document["rig"]["bars"]["modulus"] = json!(modulus);
        let error = TestSpec::from_json(&document.to_string()).unwrap_err();
        assert_eq!(error.codes(), ["beam.magnitude-modulus"], "{modulus}");
        assert_eq!(error.issues[0].path, "rig.bars.modulus");
    }
}
