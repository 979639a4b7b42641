//! A member as a line of spans: what a document says, and how it is held.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]

use proofspan::beam::{BeamSpec, Load, Side, Stiffness};
use proofspan::source::{Write, parse_json, read_node, write_json};
use proofspan::units::{KN, KN_PER_M, M, MM};

fn line(more: &str) -> String {
    format!(
        r#"{{ "kind": "continuous", "depth": "500 mm",
            "soft": {{ "modulus": "25 GPa", "second_moment": "0.002 m^4" }},
            "stiff": {{ "modulus": "30 GPa", "second_moment": "0.005 m^4" }}, {more} }}"#
    )
}

fn read(more: &str) -> Result<BeamSpec, Vec<&'static str>> {
    read_node(&parse_json(&line(more)).unwrap()).map_err(|e| e.codes())
}

/// Two equal spans under a uniform load: 3/8 w L at the ends, 5/4 w L inside (three-moment equation).
#[test]
fn two_spans_under_a_uniform_load() {
    let spec = read(r#""span": ["6 m", "6 m"]"#).unwrap();
    assert_eq!(spec.length(), 12.0 * M);
    let beam = spec.beam(Stiffness::Soft).unwrap();
    let load = [Load::uniform(0.0 * M, 12.0 * M, 10.0 * KN_PER_M)];
    let reactions = beam.response(&load).unwrap();
    let forces: Vec<f64> = reactions.reactions().iter().map(|r| r.force.to(KN)).collect();
    for (found, by_hand) in forces.iter().zip([22.5, 75.0, 22.5]) {
        assert!((found - by_hand).abs() < 1e-9, "{forces:?}");
    }
    assert_eq!(spec.determinate(true), Some(false));
    assert_eq!(spec.longest_span(), 6.0 * M);
}

/// With a hinge over the inner support each span is simple: w L / 2.
#[test]
fn a_hinge_at_the_inner_support_makes_two_spans() {
    let spec = read(r#""span": ["6 m", "6 m"], "hinges": ["6 m"]"#).unwrap();
    let load = [Load::uniform(0.0 * M, 12.0 * M, 10.0 * KN_PER_M)];
    let actions = spec.beam(Stiffness::Soft).unwrap().response(&load).unwrap();
    assert!(actions.moment(6.0 * M, Side::Left).unwrap().si().abs() < 1e-6);
    assert!((actions.reactions()[0].force.to(KN) - 30.0).abs() < 1e-9);
    assert_eq!(spec.determinate(true), Some(true));
    assert_eq!(spec.determinate(false), None);
}

/// The same line by its supports, and a free end beyond: places count from the left end.
#[test]
fn supports_one_by_one() {
    let spec = read(
        r#""supports": [{ "at": "1 m", "kind": "fixed" }, { "at": "7 m" }], "right_overhang": "2 m""#,
    )
    .unwrap();
    assert_eq!((spec.first_bearing(), spec.length()), (1.0 * M, 9.0 * M));
    assert_eq!(spec.span_at(3.0 * M), (6.0 * M, false));
    assert_eq!(spec.span_at(8.0 * M), (2.0 * M, true));
    assert_eq!(spec.span_at(0.5 * M), (1.0 * M, true));
    assert_eq!(spec.span_at(9.0 * M), (2.0 * M, true));
    // a free end of 2 m with 5 kN: half of the moment of 10 kN m comes to the fixed support, 7.5 kN are
    // pressed out of it: (10 + 5) / 6 = 2.5 kN, down
    let load = [Load::point(9.0 * M, 5.0 * KN)];
    let actions = spec.beam(Stiffness::Soft).unwrap().response(&load).unwrap();
    assert!((actions.reactions()[0].force.to(KN) + 2.5).abs() < 1e-9);
    assert!((actions.moment(1.0 * M, Side::Right).unwrap().si() - 5000.0).abs() < 1e-6);
}

/// Soft and stiff each by stretch; one section is proportional, two are not.
#[test]
fn stretches_have_both_predictions() {
    let one = read(r#""span": ["6 m", "6 m"]"#).unwrap();
    let two = read(
        r#""span": ["6 m", "6 m"], "stretches": [{ "from": "6 m", "depth": "700 mm",
            "soft": { "modulus": "25 GPa", "second_moment": "0.004 m^4" },
            "stiff": { "modulus": "30 GPa", "second_moment": "0.006 m^4" } }]"#,
    )
    .unwrap();
    assert!(one.proportional() && !two.proportional());
    assert_eq!((two.depth_at(2.0 * M), two.depth_at(8.0 * M)), (0.5 * M, 700.0 * MM));
    let ei = |stiffness| two.beam(stiffness).unwrap().rigidity()[1].1.si();
    assert!((ei(Stiffness::Soft) - 1e8).abs() < 1.0 && (ei(Stiffness::Stiff) - 1.8e8).abs() < 1.0);
}

/// One span is written as it is read, without a list.
#[test]
fn one_stays_one() {
    let spec = read(r#""span": ["6 m"]"#).unwrap();
    let written = write_json(&spec.write());
    assert!(written.contains(r#""span": "6 m""#), "{written}");
    assert_eq!(read(r#""span": "6 m""#).unwrap(), spec);
}

#[test]
fn what_does_not_go_together_is_refused() {
    let bearing = r#""supports": [{ "at": "0 m" }, { "at": "6 m" }]"#;
    for (more, codes) in [
        (r#""clear_span": "5 m""#.to_owned(), vec!["source.field-missing"]),
        (r#""span": []"#.to_owned(), vec!["source.size"]),
        (format!(r#""span": "6 m", {bearing}"#), vec!["beam.spans"]),
        (r#""supports": [{ "at": "6 m" }, { "at": "0 m" }]"#.to_owned(), vec!["beam.order"]),
        (r#""span": ["6 m", "6 m"], "hinges": ["3 m", "3 m"]"#.to_owned(), vec!["beam.order"]),
        (r#""span": ["6 m", "-6 m"]"#.to_owned(), vec!["beam.length-nonpositive"]),
    ] {
        assert_eq!(read(&more).unwrap_err(), codes, "{more}");
    }
    let simple = line(r#""span": ["6 m", "6 m"]"#).replace("continuous", "simple");
    let error = read_node::<BeamSpec>(&parse_json(&simple).unwrap()).unwrap_err();
    assert_eq!(error.codes(), ["beam.spans"]);
    assert_eq!(error.issues[0].path, "span");
}
