//! Several checks of one name say what each is of.

use proofspan::{TestSpec, design, report};

fn page(name: &str) -> (proofspan::TestDesign, String) {
    let path = format!("{}/examples/scenarios/{name}.test.json", env!("CARGO_MANIFEST_DIR"));
    let design =
        design(TestSpec::from_json(&std::fs::read_to_string(path).unwrap()).unwrap()).unwrap();
    let page = report::html(&design, None).unwrap();
    (design, page)
}

/// Every catch has its own row for its strength and for its gap, with its place where there are two.
#[test]
fn two_catches_are_told_apart() {
    let mut several = 0;
    for name in
        ["terrace_strip", "gallery_beam", "station_canopy", "classroom_strip", "archive_floor"]
    {
        let (design, page) = page(name);
        let count = design.shoring.catches.len();
        for check in
            ["strength of the catch when the member falls", "gap above the reading expected"]
        {
            let (rows, named) =
                (page.matches(check).count(), page.matches(&format!("{check}, catch at")).count());
            assert!(rows >= count, "{name}: {check}");
            // of every stage
            assert!(named >= count && named % count == 0 || count < 2, "{name}: {check}");
        }
        several += usize::from(count > 1);
    }
    assert!(several > 0, "no scenario has two catches");
}

/// What a document names or places, a check says: two bars of one jack, a floor, the levels below.
#[test]
fn a_check_says_of_which_bar_floor_and_level_it_is() {
    let (design, page) = page("terrace_strip");
    for said in [
        "working load of a bar, bars at ",
        "strength of the floor under the catch, T4 of the level below, shear",
        "strength of the floor under the catch, T4 of the level below, sagging",
        "spare strength of a level below, level 2",
        "spare strength of a level below, level 1",
        "limit of overshoot, moment, total",
    ] {
        assert!(page.contains(said), "{said}");
    }
    // and so does the answer as data
    let text = proofspan::source::write_json(&proofspan::source::Write::write(&design));
    for said in [r#""of":"level 1""#, r#""of":"floor 1, shear""#, r#""of":"bars 1""#] {
        assert!(text.replace(": ", ":").contains(said), "{said}");
    }
}
