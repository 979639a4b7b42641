//! A value is checked where it is held: every field of every record, at every door.
//!
//! The walk follows the records, so a new field is lied to without anybody thinking of it. What a
//! field must refuse is worked out here from its edges, not taken from the reader.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::indexing_slicing, reason = "tests")]

use proofspan::TestSpec;
use proofspan::capacity::{Deflecting, SectionStrength};
use proofspan::criteria::RunRecord;
use proofspan::editions::EditionFile;
use proofspan::readings::LogSpec;
use proofspan::source::rule::{Edge, NotNegative, Positive, Rule, Share, Side};
use proofspan::source::{
    Given, Leaf, Node, Numbers, Sort, Value, leaves, parse_json, read_json, write_json,
};
use proofspan::units::{Kind, Length, M, Ratio};

/// Every field that holds one value, of all that a test is described by.
fn all() -> Vec<Leaf> {
    let mut all = leaves::<TestSpec>();
    all.extend(leaves::<LogSpec>());
    all.extend(leaves::<RunRecord>());
    all.extend(leaves::<EditionFile>());
    all.extend(leaves::<SectionStrength>());
    all.extend(leaves::<Deflecting>());
    all
}

/// The code by which a number is refused, from the edges alone.
fn expected(edges: &[Edge], kind: Kind, si: f64) -> Option<&'static str> {
    if !si.is_finite() {
        return Some("units.nonfinite");
    }
    for edge in edges {
        let kept = match edge.side {
            Side::Above => si > edge.at,
            Side::Least => si >= edge.at,
            Side::Most => si <= edge.at,
        };
        if !kept {
            return Some(edge.slug.code());
        }
    }
    let divided = edges.iter().any(|e| e.side == Side::Above && e.at >= 0.0);
    (si.abs() > kind.largest() || (divided && si < kind.smallest())).then_some("source.magnitude")
}

fn number(kind: Kind, si: f64) -> Node {
    // not through the constructors of trees, which take nothing that is not finite
    Node::new(if kind == Kind::Ratio {
        Value::Number(si)
    } else {
        Value::Quantity { kind: Some(kind), dimension: kind.dimension(), si }
    })
}

/// The codes against the field itself, as a document of its record is read; `inside` is the path
/// below the field.
fn refused(leaf: &Leaf, value: Node, inside: &str) -> Vec<&'static str> {
    let node = leaf.door.with(value);
    let direct = found(leaf, (leaf.door.read)(&node), inside);
    // through text: what is not a finite number has no text
    let text = write_json(&node);
    if !text.contains("null") {
        let again = found(leaf, (leaf.door.read)(&parse_json(&text).unwrap()), inside);
        assert_eq!(direct, again, "{:?} through text: {text}", leaf.door);
    }
    direct
}

fn found(leaf: &Leaf, read: Result<(), proofspan::Error>, inside: &str) -> Vec<&'static str> {
    let path = format!("{}{inside}", leaf.door.path());
    let issues = read.err().map_or_else(Vec::new, |e| e.issues);
    issues.iter().filter(|i| i.path == path).map(|i| i.slug.code()).collect()
}

const LIES: [f64; 13] =
    [0.0, -0.0, -1.0, -1e-3, -1e30, 1e30, 1e-30, 0.5, 1.0, 3.0, f64::NAN, f64::INFINITY, f64::MAX];

#[test]
fn every_field_refuses_what_its_rule_refuses_at_every_door() {
    let mut asked = 0;
    let mut given = 0;
    for leaf in all() {
        let (kind, is_given) = match leaf.sort {
            Sort::Given(kind) => (kind, true),
            Sort::Quantity(kind) => (kind, false),
            Sort::Number | Sort::Count => (Kind::Ratio, false),
            _ => continue,
        };
        given += usize::from(is_given);
        for si in LIES {
            asked += 1;
            let want = expected(leaf.edges, kind, si);
            let told = format!("{:?} = {si:e} {kind:?}", leaf.door);
            let typed = (leaf.typed)(Numbers { value: si, range: None, u: None });
            let typed = typed.err().map(|e| e.codes()[0]);
            if leaf.sort == Sort::Count && want.is_none() && si.fract() != 0.0 {
                assert_eq!(refused(&leaf, number(kind, si), ""), ["source.type"], "{told}");
                continue;
            }
            if leaf.sort == Sort::Number
                && leaf.edges.is_empty()
                && want == Some("source.magnitude")
            {
                // a number without a rule has no size of its own
                continue;
            }
            let whole = leaf.sort != Sort::Count || (si.fract() == 0.0 && (0.0..4e9).contains(&si));
            if whole {
                assert_eq!(typed, want, "typed {told}");
            }
            let read = refused(&leaf, number(kind, si), "");
            match (read.as_slice(), want) {
                ([], None) => {}
                // a number that is none, and a count that is none, are of another type
                (["source.type"], Some(_)) if !(is_given || whole && si.is_finite()) => {}
                ([first, ..], Some(want)) => assert_eq!(*first, want, "read {told}"),
                // a rule between fields may ask for more than the field does
                (between, None) => assert!(
                    between.iter().all(|c| !c.starts_with("source.s") && !c.starts_with("units.")),
                    "{told}: {between:?}"
                ),
                ([], Some(want)) => panic!("{told} is taken, not refused by {want}"),
            }
            if is_given {
                at_the_ends(&leaf, kind, si, want, &told);
            }
        }
        for wrong in [Value::Bool(true), Value::List(vec![]), Value::Text("much".to_owned())] {
            let read = refused(&leaf, Node::new(wrong.clone()), "");
            // a list that is wanted is not wrong, only empty
            assert!(!read.is_empty(), "{:?} = {wrong:?}", leaf.door);
        }
    }
    assert!(asked > 1000 && given > 60, "{asked} lies to {given} inputs");
}

/// The same number as low and high end of a range and as u.
fn at_the_ends(leaf: &Leaf, kind: Kind, si: f64, want: Option<&'static str>, told: &str) {
    let Some(value) = fine(leaf.edges, kind) else { panic!("{told}: nothing is accepted") };
    for end in ["low", "high"] {
        let node = Node::map(vec![("value", number(kind, value)), (end, number(kind, si))]);
        let read = refused(leaf, node, &format!(".{end}"));
        assert_eq!(read.first().copied(), want, "{end} of {told}");
        let range = if end == "low" { (si, value) } else { (value, si) };
        let typed = (leaf.typed)(Numbers { value, range: Some(range), u: None });
        match (typed, want) {
            (Ok(()), None) => {}
            (Err(error), None) => assert_eq!(error.codes(), ["source.range"], "{end} of {told}"),
            (typed, Some(code)) => {
                assert!(typed.unwrap_err().codes().contains(&code), "{end} of {told}");
            }
        }
    }
    let want = if !si.is_finite() {
        Some("units.nonfinite")
    } else if si <= 0.0 {
        Some("uncertainty.zero")
    } else {
        (si > kind.largest() || si < kind.smallest()).then_some("source.magnitude")
    };
    let node = Node::map(vec![("value", number(kind, value)), ("u", number(kind, si))]);
    assert_eq!(refused(leaf, node, ".u").first().copied(), want, "u of {told}");
    let typed = (leaf.typed)(Numbers { value, range: None, u: Some(si) });
    assert_eq!(typed.err().map(|e| e.codes()[0]), want, "typed u of {told}");
}

/// A number that the edges accept.
fn fine(edges: &[Edge], kind: Kind) -> Option<f64> {
    let tries = [1.0, 0.5, 0.0, 10.0, 0.1, 30e9, 150e9, 200e6, 1e-3];
    tries.into_iter().find(|si| expected(edges, kind, *si).is_none())
}

/// What a number of this kind may be below zero, or has no edge at zero, is listed here by name:
/// a new field is positive unless somebody says why not.
#[test]
fn a_field_without_an_edge_at_zero_says_why() {
    // held by the solver, which knows the member: places on it, limits above zero
    const BY_THE_SOLVER: [&str; 9] = [
        "Reach",
        "Within",
        "MomentLimit",
        "ShearLimit",
        "DeflectionLimit",
        "ReactionLimit",
        "ShearSpan",
        "Objective",
        "Deviations",
    ];
    const MAY_BE_NEGATIVE: [&str; 23] = [
        // an outline is measured from anywhere
        "Corner.across",
        "Corner.depth",
        // a face that was compressed when strips were bonded to it
        "Strip.installed_strain",
        // tension, hogging
        "SectionStrength.axial",
        "SectionStrength.before",
        "SectionStrength.moment",
        // a support may have come up
        "SupportSpec.settlement",
        // a rig reaches beyond the left end of the member under test, where places count from
        "Anchor.at",
        "Axle.at",
        "BlockPlace.from",
        "BlockPlace.to",
        "Hole.at",
        "Ram.across",
        "Transport.from",
        "Transport.to",
        "Bars.places",
        "Counterweight.at",
        "ReactionMember.at",
        // a stated value is checked against its name in the edition's criteria
        "Stated.length",
        "Stated.ratio",
        // a reading is either side of its zero
        "ReadTwice.first",
        "ReadTwice.second",
        // a drift moves a reading either way
        "Drift.moves",
    ];
    let signed: Vec<String> = all()
        .iter()
        .filter(|leaf| matches!(leaf.sort, Sort::Given(_) | Sort::Quantity(_) | Sort::Count))
        .filter(|leaf| !BY_THE_SOLVER.contains(&leaf.door.record))
        .filter(|leaf| !leaf.edges.iter().any(|e| e.side != Side::Most && e.at >= 0.0))
        .map(|leaf| format!("{}.{}", leaf.door.record, leaf.door.field))
        .filter(|name| !MAY_BE_NEGATIVE.contains(&name.as_str()))
        .collect();
    // counts cannot be read below zero at all
    let counts =
        ["CriterionFile.any_of", "CycleFile.pair", "EditionFile.year", "TestSpec.schema_version"];
    let open: Vec<&String> = signed.iter().filter(|n| !counts.contains(&n.as_str())).collect();
    assert!(open.is_empty(), "{open:?}");
}

#[test]
fn an_input_cannot_be_changed_past_its_rule() {
    let gap = Given::<Length, NotNegative>::new(0.012 * M).unwrap();
    assert_eq!(gap.clone().uncertain(-0.001 * M).unwrap_err().codes(), ["uncertainty.zero"]);
    let unsure = gap.uncertain(0.010 * M).unwrap();
    // 12 mm less twice 10 mm is cut at zero: the rule of a gap
    let (low, high) = unsure.bounds().unwrap();
    assert_eq!((low, high), (0.0 * M, 0.012 * M + 2.0 * (0.010 * M)));
    let sure = Given::<Ratio, Share>::new(Ratio::from(0.97)).unwrap();
    let cut = sure.uncertain(Ratio::from(0.1)).unwrap().bounds().unwrap();
    assert_eq!(cut.1, Ratio::from(1.0));
    let factor = read_json::<proofspan::shoring::ShoringSpec>(r#"{"dragged_along": 0.5}"#);
    assert_eq!(factor.unwrap_err().codes(), ["source.below-one"]);
    assert_eq!(Given::<Length, Positive>::parse("-3 ft").unwrap_err().codes(), ["source.sign"]);
    assert_eq!(Positive::EDGES.len(), 1);
}

/// The shipped scenario with some of its text exchanged.
fn terrace(changes: &[(&str, &str)]) -> Result<TestSpec, proofspan::Error> {
    let mut text = std::fs::read_to_string(concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/examples/scenarios/terrace_strip.test.json"
    ))
    .unwrap();
    for (from, to) in changes {
        assert!(text.contains(from), "{from}");
        text = text.replacen(from, to, 1);
    }
    TestSpec::from_json(&text)
}

#[test]
fn typed_rust_goes_through_the_rules_of_documents() {
    let mut spec = terrace(&[]).unwrap();
    spec.rig.jacks[0].number = 0;
    spec.shoring.dragged_along = Ratio::from(0.5);
    spec.beam.effective_depth = Some(Given::new(90.0 * M).unwrap());
    if let Some(catch) = spec.shoring.catch.first_mut() {
        catch.resistance.material_factor = 1e-9;
    }
    let refused = proofspan::design(spec.clone()).unwrap_err();
    assert_eq!(
        refused.codes(),
        ["beam.effective-depth", "source.sign", "shoring.resistance", "source.below-one"]
    );
    assert_eq!(refused.issues[1].path, "rig.jacks.number");
    assert_eq!(refused.issues[2].path, "shoring.catch[0].resistance.material_factor");
    // the parts refuse by themselves, with the same path
    let rig =
        proofspan::rig::check(&spec.rig, "x", proofspan::verdict::MemberUnit::Strip, &[], 0.0 * M);
    assert_eq!(rig.unwrap_err().issues[0].path, "rig.jacks.number");
}

#[test]
fn a_range_that_reaches_past_a_rule_between_fields_is_refused_at_its_end() {
    // the clear span may be longer than the span only at the low end of the span
    let from = r#""origin": "measured" }, "clear_span": "44 ft""#;
    let to = r#""low": "43 ft", "high": "45 ft", "origin": "measured" }, "clear_span": "44 ft""#;
    let spec = terrace(&[(from, to)]).unwrap();
    let refused = proofspan::design(spec).unwrap_err();
    assert_eq!(refused.codes(), ["beam.clear-span"]);
    assert!(refused.issues[0].message.contains("at an end of the range of beam.span"), "{refused}");
}

#[test]
fn twice_an_uncertainty_is_cut_where_the_rule_ends_and_said() {
    let slack = r#""slack": { "value": "0.1 in", "u": "0.2 in" }"#;
    let spec = terrace(&[(r#""slack": "0.25 in""#, slack)]).unwrap();
    let design = proofspan::design(spec).unwrap();
    let cut: Vec<_> =
        design.notes.iter().filter(|n| n.slug.code() == "verdict.range-cut").collect();
    assert_eq!(cut.len(), 1);
    assert_eq!(cut[0].path, "rig.slack");
}

#[test]
fn a_gauge_left_of_the_member_is_refused() {
    let gauge = r#"{"id":"g","at":"-1 ft"}"#;
    let read = read_json::<proofspan::protocol::Gauge>(gauge).unwrap_err();
    assert_eq!(read.codes(), ["protocol.gauge-outside"]);
}

#[test]
fn a_sign_is_one_or_minus_one() {
    let channel = |sign: &str| {
        let text = format!(r#"{{"id":"a","column":"a","unit":"kN","role":"force","sign":{sign}}}"#);
        read_json::<proofspan::readings::ChannelSpec>(&text).map_or_else(|e| e.codes(), |_| vec![])
    };
    assert!(channel("1").is_empty() && channel("-1").is_empty());
    for wrong in ["0", "2", "-0.5"] {
        assert_eq!(channel(wrong), ["readings.sign"]);
    }
}
