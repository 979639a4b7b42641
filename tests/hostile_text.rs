//! What a document says stays text: in HTML and in Markdown.

use proofspan::{TestSpec, design, report};

const HOSTILE: &str =
    "<script>alert('x')</script> | a ` b * c [click](javascript:x) \n# heading & \"quoted\"";

/// Every free text of the document says it.
fn hostile() -> TestSpec {
    let path = format!("{}/examples/scenarios/gallery_beam.test.json", env!("CARGO_MANIFEST_DIR"));
    let mut doc: serde_json::Value =
        serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    let text = serde_json::json!(HOSTILE);
    for pointer in [
        "/title",
        "/about",
        "/scope/question",
        "/scope/member/id",
        "/scope/findings/0/note",
        "/rig/reaction/id",
        "/shoring/levels/0/id",
        "/protocol/gauges/0/id",
        "/records/survey/by",
        "/records/tendons_located/note",
        "/beam/soft/second_moment/note",
    ] {
        *doc.pointer_mut(pointer).unwrap() = text.clone();
    }
    doc["rig"]["reaction"]["id"] = serde_json::json!(format!("{HOSTILE} below"));
    for catch in doc["shoring"]["catch"].as_array_mut().unwrap() {
        catch["on"] = serde_json::json!(format!("{HOSTILE} below"));
    }
    // a level of another name that carries nothing: its name is in a stop
    doc["shoring"]["levels"][0]["id"] = serde_json::json!(format!("{HOSTILE} two below"));
    doc["shoring"]["levels"][0]["spare"] = serde_json::json!("1 N");
    TestSpec::from_json(&doc.to_string()).unwrap()
}

#[test]
fn html_shows_it_and_does_not_run_it() {
    let design = design(hostile()).unwrap();
    let html = report::html(&design, None).unwrap();
    assert!(!html.contains("<script"), "a script");
    assert!(html.contains("&lt;script&gt;alert(&#39;x&#39;)&lt;/script&gt;"));
    assert!(html.contains("&amp; &quot;quoted&quot;"));
}

#[test]
fn markdown_shows_it_and_does_not_format_it() {
    let design = design(hostile()).unwrap();
    let markdown = report::markdown(&design, None).unwrap();
    let mut said = 0;
    for line in markdown.lines() {
        assert!(!line.starts_with("# heading"), "a heading of its own");
        // marks that are not behind a back slash
        let mut bare = String::new();
        let mut chars = line.chars();
        while let Some(c) = chars.next() {
            if c == '\\' {
                chars.next();
            } else {
                bare.push(c);
            }
        }
        assert!(!bare.contains("<script") && !bare.contains("[click]"), "{line}");
        if line.contains("alert") {
            said += 1;
            let marks = if line.starts_with('|') { "`*[<&" } else { "`[<|&" };
            assert!(!bare.contains(|c| marks.contains(c)), "{line}");
        }
    }
    assert!(said >= 10, "{said} lines say it");
    // a table has as many cells in every row as in its head
    let mut cells = 0;
    for line in markdown.lines() {
        let row = line.starts_with('|');
        let here = line.replace("\\\\", "").replace("\\|", "").matches('|').count();
        if row && cells > 0 {
            assert_eq!(here, cells, "{line}");
        }
        cells = if row { here } else { 0 };
    }
}
