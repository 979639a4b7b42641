#![allow(clippy::unwrap_used)]
use proofspan::TestSpec;
use proofspan::source::{Write, write_json};
#[test]
fn pin() {
    for name in ["terrace_strip", "gallery_beam"] {
        let text = std::fs::read_to_string(format!(
            "{}/examples/scenarios/{name}.test.json",
            env!("CARGO_MANIFEST_DIR")
        ))
        .unwrap();
        let d = proofspan::design(TestSpec::from_json(&text).unwrap()).unwrap();
        std::fs::write(format!("/tmp/rigpin_{name}.json"), write_json(&d.rig.write())).unwrap();
        println!("{:?} {:?}", d.layout.lines, d.layout.notes.len());
    }
}
