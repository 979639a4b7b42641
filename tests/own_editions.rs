//! An edition of one's own is known for what it is, and facts do not contradict the description.

use proofspan::editions::{Edition, EditionChoice};
use proofspan::error::Error;
use proofspan::{TestDesign, TestSpec, design, report};

const OWN: &str = r#"
id = "own"
name = "Own rule"
title = "A rule of one's own, invented"
year = 2026
status = "current"
clause = "1"
default_set = "a"

[[sets]]
id = "a"
about = "the only set"
confidence = "user"
rows = [ { id = "r", factors = { Dw = 1.0, Ds = 1.0, L = 1.5, R = 1.0 } } ]

[[protocols]]
method = "monotonic"
full_hold = "24 h"
confidence = "user"
"#;

fn document() -> serde_json::Value {
    let path = format!("{}/examples/scenarios/terrace_strip.test.json", env!("CARGO_MANIFEST_DIR"));
    serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap()
}

fn with(edition: serde_json::Value) -> Result<TestDesign, Error> {
    let mut document = document();
    document["edition"] = edition;
    design(TestSpec::from_json(&document.to_string())?)
}

fn own(text: &str) -> serde_json::Value {
    serde_json::json!({ "id": "own", "file": text })
}

fn codes<T>(answer: Result<T, Error>) -> Vec<&'static str> {
    answer.map_or_else(|e| e.codes(), |_| Vec::new())
}

/// Whatever its letters, blanks and dashes: id or name of an edition whose figures are shipped.
#[test]
fn a_shipped_name_is_refused() {
    for edition in Edition::list().unwrap() {
        let known = edition.unknown().is_none();
        let wanted: &[&str] = if known { &["editions.shipped-name"] } else { &[] };
        for (old, new) in [
            ("id = \"own\"", format!("id = \"{}\"", edition.id())),
            ("id = \"own\"", format!("id = \"{}\"", edition.name())),
            ("\"Own rule\"", format!("\"{}\"", edition.name())),
            ("\"Own rule\"", format!("\"{} \"", edition.name().to_lowercase())),
            ("\"Own rule\"", format!("\"{}\"", edition.name().replace([' ', '-'], ""))),
        ] {
            let file = OWN.replacen(old, &new, 1);
            assert_eq!(codes(Edition::from_toml(&file)), wanted, "{new}");
        }
    }
    let mut project = serde_json::json!({ "id": "project", "project": {
        "title": "ACI 318-19", "by": "engineer", "reason": "agreed",
        "rows": [{ "id": "p", "factors": { "Dw": 1.0, "Ds": 1.0, "L": 1.3, "R": 1.0 } }] } });
    let error = with(project.clone()).unwrap_err();
    assert_eq!(error.codes(), ["editions.shipped-name"]);
    assert_eq!(error.issues[0].path, "edition.project.title");
    project["project"]["title"] = "Agreed".into();
    project["project"]["rows"][0]["scale"] = 0.into();
    let error = with(project).unwrap_err();
    assert_eq!(error.issues[0].path, "edition.project.rows[0].scale");
}

/// A file that completes a stub has the stub's id; the choice names the file it brings.
#[test]
fn a_stub_is_completed_by_a_file() {
    let stub = Edition::list().unwrap().into_iter().find(|e| e.unknown().is_some()).unwrap();
    let file =
        OWN.replacen("\"own\"", &format!("\"{}\"", stub.id()), 1).replace("Own rule", stub.name());
    let choice =
        |id: &str| EditionChoice { file: Some(file.clone()), ..EditionChoice::of(id) }.edition();
    assert!(choice(stub.id()).unwrap().name().starts_with(stub.name()));
    assert!(choice(stub.name()).is_ok());
    assert_eq!(codes(choice("ACI 318-19")), ["editions.file"], "named one, brought another");
    assert!(Edition::shipped(stub.id()).unwrap().unknown().is_some(), "the stub stays a stub");
}

/// SHA-256 of the canonical text: comments and blanks change nothing, a figure does.
#[test]
fn the_fingerprint_stands_wherever_the_name_does() {
    let print = |text: &str| Edition::from_toml(text).unwrap().own().unwrap().to_owned();
    let mark = print(OWN);
    assert!(mark.len() == 12 && mark.chars().all(|c| c.is_ascii_hexdigit()), "{mark}");
    assert_eq!(mark, print(&OWN.replace("year = 2026", "# a remark\nyear   =   2_026")));
    assert_ne!(mark, print(&OWN.replace("L = 1.5", "L = 1.6")));
    assert!(Edition::list().unwrap().iter().all(|e| e.own().is_none()));

    let d = with(own(OWN)).unwrap();
    let marked = format!("Own rule (own edition {mark})");
    let tree = proofspan::source::Write::write(&d);
    assert_eq!(tree.get("edition"), Some(&proofspan::source::Node::text(marked.clone())));
    for page in [report::html(&d, None).unwrap(), report::markdown(&d, None).unwrap()] {
        // said in the design and in the notes; the inputs show the file itself
        let said = page.split("Inputs as given").next().unwrap();
        assert_eq!(said.matches("Own rule").count(), said.matches(&marked).count());
        assert!(said.matches(&marked).count() >= 2, "{}", said.matches(&marked).count());
    }
    assert!(d.notes.iter().any(|n| n.message.starts_with(&marked)), "{:?}", d.notes);
    assert!(!d.working().unwrap().text(proofspan::units::System::Si).contains("Own rule"));
    let refused = with(own(&OWN.replace(", R = 1.0", ""))).unwrap_err().to_string();
    assert!(refused.contains("Own rule (own edition "), "{refused}");
    let project = serde_json::json!({ "id": "project", "project": {
        "title": "Agreed", "by": "engineer", "reason": "agreed",
        "rows": [{ "id": "p", "factors": { "Dw": 1.0, "Ds": 1.0, "L": 1.3, "R": 1.0 } }] } });
    let mut project_document = document();
    project_document["edition"] = project;
    project_document["protocol"]["full_hold"] = "24 h".into();
    let d = design(TestSpec::from_json(&project_document.to_string()).unwrap()).unwrap();
    assert!(d.set.edition.name().starts_with("Agreed (own edition "));
}

fn with_live(
    live: &[serde_json::Value],
    facts: serde_json::Value,
) -> Vec<(String, String, String)> {
    let mut document = document();
    let actions = document["loads"]["actions"].as_array_mut().unwrap();
    actions.retain(|a| a["action"] != "live");
    actions.extend(live.iter().cloned());
    document["edition"]["facts"] = facts;
    match design(TestSpec::from_json(&document.to_string()).unwrap()) {
        Ok(_) => Vec::new(),
        Err(e) => e
            .issues
            .into_iter()
            .map(|i| (i.slug.code().to_owned(), i.path, i.message.to_string()))
            .collect(),
    }
}

#[test]
fn facts_do_not_contradict_the_loads() {
    let live = |psf: &str, occupancy: Option<&str>| match occupancy {
        Some(word) => serde_json::json!({ "action": "live", "area": psf, "occupancy": word }),
        None => serde_json::json!({ "action": "live", "area": psf }),
    };
    for (occupancy, facts, path) in [
        ("parking", serde_json::json!({ "parking": false }), "edition.facts.parking"),
        ("other", serde_json::json!({ "parking": true }), "edition.facts.parking"),
        (
            "public_assembly",
            serde_json::json!({ "public_assembly": false }),
            "edition.facts.public_assembly",
        ),
        (
            "parking",
            serde_json::json!({ "public_assembly": true }),
            "edition.facts.public_assembly",
        ),
        ("other", serde_json::json!({ "live": "39 psf" }), "edition.facts.live"),
    ] {
        let found = with_live(&[live("40 psf", Some(occupancy))], facts);
        assert_eq!(found.len(), 1, "{occupancy}: {found:?}");
        assert!(found[0].0 == "editions.facts-contradict" && found[0].1 == path, "{found:?}");
        assert!(found[0].2.contains("loads.actions"), "both paths are said: {found:?}");
    }
    // what agrees, what is not said, and a larger live load that conditions speak of
    for (occupancy, facts) in [
        (Some("parking"), serde_json::json!({ "parking": true, "public_assembly": false })),
        (None, serde_json::json!({ "parking": false, "public_assembly": true })),
        (Some("other"), serde_json::json!({ "live": "100 psf" })),
        (Some("other"), serde_json::json!({ "live": "40 psf" })),
    ] {
        assert_eq!(with_live(&[live("40 psf", occupancy)], facts.clone()), [], "{facts}");
    }
    // one of several live loads says it; where one is silent, nothing is denied
    let two = [live("40 psf", Some("other")), live("10 psf", Some("parking"))];
    assert_eq!(with_live(&two, serde_json::json!({ "parking": false })).len(), 1);
    let silent = [live("40 psf", Some("other")), live("10 psf", None)];
    assert_eq!(with_live(&silent, serde_json::json!({ "parking": true })), []);
}

/// ACI 318-19 lets the live load fall in the roof-led row where the floor is neither a garage nor a
/// place of assembly and L is at most 100 psf. A second live load that is silent leaves that open.
#[test]
fn a_silent_live_load_does_not_earn_a_reduction() {
    let reduced = |second: serde_json::Value| {
        let mut document = document();
        document["loads"]["actions"].as_array_mut().unwrap().push(second);
        document["edition"] = serde_json::json!({ "id": "ACI 318-19", "reduce_live": true });
        let d = design(TestSpec::from_json(&document.to_string()).unwrap()).unwrap();
        let row = d.set.rows.iter().find(|r| r.id.starts_with('b')).unwrap();
        row.factor(proofspan::loads::Symbol::Live)
    };
    let live = |more: &str| {
        serde_json::from_str(&format!("{{\"action\":\"live\",\"area\":\"5 psf\"{more}}}")).unwrap()
    };
    assert!((reduced(live(",\"occupancy\":\"other\"")) - 0.5).abs() < 1e-12);
    assert!((reduced(live("")) - 1.0).abs() < 1e-12);
    assert!((reduced(live(",\"occupancy\":\"parking\"")) - 1.0).abs() < 1e-12);
}
