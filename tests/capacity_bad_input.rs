//! What is no section, no strengthening and no place: every item refused by name, all in one error.

use proofspan::capacity::Section;
use proofspan::source::read_json;
use proofspan::{Error, TestSpec, design};

fn gallery(capacity: &str) -> Result<TestSpec, Error> {
    let path = format!("{}/examples/scenarios/gallery_beam.test.json", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).unwrap();
    TestSpec::from_json(&text.replacen('{', &format!("{{ \"capacity\": {capacity}, "), 1))
}

fn told(error: &Error) -> Vec<(&'static str, String)> {
    error.issues.iter().map(|i| (i.slug.code(), i.path.clone())).collect()
}

const STRAND: &str = r#""area": "500 mm^2", "bond": "grouted", "breaks": "1860 MPa", "yields": "1670 MPa",
    "modulus": "195 GPa", "effective": "1000 MPa""#;

/// One document with a concrete in the wrong unit, a tendon outside, bars and a duct without cover, layers
/// that overlap, a wrap that cannot bond, strips along the cracks and over each other, an outline through
/// itself, a hole outside, a section that begins beyond the member, and no reason for a crack.
#[test]
fn everything_that_is_wrong_comes_in_one_error() {
    let capacity = format!(
        r#"{{"sections": [
            {{"section": {{"shape": {{"kind": "rectangle", "width": "300 mm", "height": "600 mm"}}, "concrete": "30 psi",
                "bars": [{{"area": "982 mm^2", "depth": "540 mm", "diameter": "25 mm", "yields": "420 MPa"}},
                         {{"area": "982 mm^2", "depth": "555 mm", "diameter": "25 mm", "yields": "420 MPa"}},
                         {{"area": "982 mm^2", "depth": "595 mm", "diameter": "25 mm", "yields": "420 MPa"}}],
                "tendons": [{{{STRAND}, "profile": {{"kind": "straight", "depth": "650 mm"}}}},
                            {{{STRAND}, "diameter": "60 mm", "profile": {{"kind": "parabolic", "left": "300 mm", "middle": "575 mm"}}}}]}},
             "cracked": " ",
             "wraps": {{"scheme": "two_sided", "depth": "80 mm", "thickness": "0.165 mm", "modulus": "227 GPa",
                "ultimate_strain": "0.015 m/m", "width": "300 mm", "spacing": "250 mm", "angle": "135 deg"}}}},
            {{"from": "5 m", "section": {{"concrete": "30 MPa", "shape": {{"kind": "polygon",
                "corners": [{{"across": "0 m", "depth": "0 m"}}, {{"across": "1 m", "depth": "1 m"}},
                            {{"across": "1 m", "depth": "0 m"}}, {{"across": "0 m", "depth": "1 m"}}]}}}}}},
            {{"from": "6 m", "section": {{"concrete": "30 MPa", "shape": {{"kind": "polygon",
                "corners": [{{"across": "0 m", "depth": "0 m"}}, {{"across": "1 m", "depth": "0 m"}},
                            {{"across": "1 m", "depth": "1 m"}}, {{"across": "0 m", "depth": "1 m"}}],
                "holes": [[{{"across": "0.5 m", "depth": "0.5 m"}}, {{"across": "1.5 m", "depth": "0.5 m"}},
                           {{"across": "0.5 m", "depth": "0.9 m"}}]]}}}}}}],
            "code": "ACI 318-19", "cracking": "ACI 318-19, MPa",
            "local": [{{"name": "", "under": "bearing", "strength": {{"kind": "detail", "detail": "ledge",
                "strength": "2 MN", "source": "drawing"}}}}]}}"#
    );
    let found = told(&gallery(&capacity).unwrap_err());
    let here = |code, path: &str| (code, format!("capacity.sections{path}"));
    let first = |code, path: &str| here(code, &format!("[0].{path}"));
    for want in [
        first("capacity.magnitude-fc", "section.concrete.strength.specified"),
        first("capacity.layers-overlap", "section.bars[1].depth"),
        first("capacity.cover", "section.bars[2].diameter"),
        first("capacity.steel-outside", "section.tendons[0].profile.depth"),
        first("capacity.cover", "section.tendons[1].diameter"),
        first("capacity.cracked-reason", "cracked"),
        first("capacity.wrap-depth", "wraps.depth"),
        first("capacity.wrap-overlap", "wraps.spacing"),
        first("capacity.wrap-angle", "wraps.angle"),
        here("capacity.polygon", "[1].section.shape.corners"),
        here("capacity.polygon", "[2].section.shape.holes[0]"),
        ("capacity.local-name", "capacity.local[0].name".to_owned()),
    ] {
        assert!(found.contains(&want), "{want:?} is not in {found:?}");
    }
    assert_eq!(found.len(), 12, "{found:?}");
}

/// What only the document knows: places on the beam, the range of its formulas, editions that say nothing.
#[test]
fn what_the_document_has_against_its_sections_comes_in_one_error() {
    let section = r#""section": {"shape": {"kind": "rectangle", "width": "300 mm", "height": "600 mm"},
        "concrete": "60 MPa", "bars": {"area": "982 mm^2", "depth": "540 mm", "yields": "420 MPa", "from": "10 m"}}"#;
    let wraps = r#""wraps": {"scheme": "u_wrap", "depth": "400 mm", "thickness": "0.165 mm", "modulus": "227 GPa",
        "ultimate_strain": "0.015 m/m", "width": "100 mm", "spacing": "250 mm"}"#;
    let error = gallery(&format!(
        r#"{{"sections": [{{{section}, {wraps}}}, {{"from": "9.5 m", {section}}}],
            "code": "EN 1992-1-1:2004", "cracking": "EN 1992-1-1:2004"}}"#
    ))
    .unwrap_err();
    let found = told(&error);
    let here = |code, path: &str| (code, format!("capacity.sections{path}"));
    for want in [
        here("capacity.out-of-range", "[0].section.concrete.strength"),
        here("capacity.out-of-range", "[1].section.concrete.strength"),
        here("capacity.not-known", "[0].wraps"),
        here("capacity.place", "[0].section.bars.from"),
        here("capacity.place", "[1].from"),
        here("capacity.place", "[1].section.bars.from"),
    ] {
        assert!(found.contains(&want), "{want:?} is not in {found:?}");
    }
    assert_eq!(found.len(), 6, "{found:?}");
    // the same of ACI 318 reads, and is designed
    let section = section.replace(r#", "from": "10 m""#, "");
    let sound = gallery(&format!(
        r#"{{"sections": [{{{section}, {wraps}}}, {{"from": "4.5 m", {section}}}],
            "code": "ACI 318-19", "cracking": "ACI 318-19, MPa"}}"#
    ));
    design(sound.unwrap()).unwrap();
}

fn layers(width: &str, bars: &str, tendons: &str) -> Vec<(&'static str, String)> {
    let listed = |name: &str, list: &str| {
        if list.is_empty() { String::new() } else { format!(r#", "{name}": [{list}]"#) }
    };
    let text = format!(
        r#"{{"shape": {{"kind": "rectangle", "width": "{width}", "height": "600 mm"}}, "concrete": "30 MPa"{}{}}}"#,
        listed("bars", bars),
        listed("tendons", tendons)
    );
    read_json::<Section>(&text).err().map_or_else(Vec::new, |e| told(&e))
}

fn bars(number: u32, diameter: f64, depth: f64, more: &str) -> String {
    let area = f64::from(number) * core::f64::consts::PI * diameter * diameter / 4.0;
    format!(
        r#"{{"area": "{area} mm^2", "diameter": "{diameter} mm", "depth": "{depth} mm", "yields": "420 MPa"{more}}}"#
    )
}

fn duct(depth: f64) -> String {
    format!(
        r#"{{{STRAND}, "diameter": "80 mm", "profile": {{"kind": "straight", "depth": "{depth} mm"}}}}"#
    )
}

/// Bars of 25 mm: rows less than 25 mm apart lie in each other, whatever the width; bars of one row lie side
/// by side as far as the width goes.
#[test]
fn layers_that_overlap_are_refused_and_rows_that_do_not_are_not() {
    let overlap = |at: &str| vec![("capacity.layers-overlap", at.to_owned())];
    let two = |a: String, b: String| format!("{a}, {b}");
    let of = |n, d, z| bars(n, d, z, "");
    assert_eq!(
        layers("300 mm", &two(of(2, 25.0, 540.0), of(2, 25.0, 516.0)), ""),
        overlap("bars[1].depth")
    );
    assert_eq!(layers("300 mm", &two(of(2, 25.0, 540.0), of(2, 25.0, 515.0)), ""), []);
    // different diameters on one stirrup: lower edges at 552.5 mm
    assert_eq!(layers("300 mm", &two(of(2, 25.0, 540.0), of(2, 16.0, 544.5)), ""), []);
    // 4 · 25 + 4 · 25 = 200 mm side by side
    assert_eq!(layers("201 mm", &two(of(4, 25.0, 540.0), of(4, 25.0, 540.0)), ""), []);
    assert_eq!(
        layers("199 mm", &two(of(4, 25.0, 540.0), of(4, 25.0, 540.0)), ""),
        overlap("bars[1].depth")
    );
    assert_eq!(layers("199 mm", &of(8, 25.0, 540.0), ""), overlap("bars.depth"));
    // not where one ends before the other begins
    let (left, right) =
        (bars(4, 25.0, 540.0, r#", "to": "3 m""#), bars(4, 25.0, 530.0, r#", "from": "3 m""#));
    assert_eq!(layers("199 mm", &two(left.clone(), right), ""), []);
    let right = bars(4, 25.0, 530.0, r#", "from": "2.9 m""#);
    assert_eq!(layers("199 mm", &two(left, right), ""), overlap("bars[1].depth"));
    // one layer given twice, of no known diameter
    let plain = r#"{"area": "982 mm^2", "depth": "540 mm", "yields": "420 MPa"}"#.to_owned();
    assert_eq!(layers("300 mm", &two(plain.clone(), plain.clone()), ""), overlap("bars[1].depth"));
    assert_eq!(layers("300 mm", &two(plain.clone(), plain.replace("982", "314")), ""), []);
    // a duct of 80 mm passes between two bars of 25 mm in 131 mm, not in 129 mm; ducts beside each other
    assert_eq!(layers("131 mm", &of(2, 25.0, 540.0), &duct(500.0)), []);
    assert_eq!(
        layers("129 mm", &of(2, 25.0, 540.0), &duct(500.0)),
        overlap("tendons.profile.depth")
    );
    assert_eq!(layers("129 mm", &of(2, 25.0, 540.0), &duct(480.0)), []);
    assert_eq!(layers("161 mm", "", &two(duct(400.0), duct(400.0))), []);
    assert_eq!(
        layers("159 mm", "", &two(duct(400.0), duct(400.0))),
        overlap("tendons[1].profile.depth")
    );
    // a parabola meets the bars in the middle only
    let hangs = |middle: f64| {
        format!(
            r#"{{{STRAND}, "diameter": "80 mm", "profile": {{"kind": "parabolic", "left": "300 mm", "middle": "{middle} mm"}}}}"#
        )
    };
    assert_eq!(layers("129 mm", &of(2, 25.0, 540.0), &hangs(480.0)), []);
    assert_eq!(
        layers("129 mm", &of(2, 25.0, 540.0), &hangs(500.0)),
        overlap("tendons.profile.middle")
    );
}
