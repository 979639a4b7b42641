//! The working against the answer: a number changed in either is found.

use proofspan::formula::Item;
use proofspan::units::*;
use proofspan::{TestDesign, TestSpec, design};

fn designed(name: &str) -> TestDesign {
    let path = format!("{}/examples/scenarios/{name}.test.json", env!("CARGO_MANIFEST_DIR"));
    design(TestSpec::from_json(&std::fs::read_to_string(path).unwrap()).unwrap()).unwrap()
}

fn broken(design: &TestDesign) -> Vec<String> {
    design.working().unwrap().recheck().into_iter().map(|m| m.what).collect()
}

#[test]
fn an_answer_that_nobody_touched_agrees_with_its_working() {
    for name in ["terrace_strip", "gallery_beam"] {
        let design = designed(name);
        assert_eq!(broken(&design), Vec::<String>::new(), "{name}");
        assert_eq!(design.layout.working(&design.target).recheck(), []);
    }
}

/// Every part of the answer, one number each, changed by one part in ten thousand.
#[test]
fn a_changed_number_of_the_answer_is_named() {
    type Change = fn(&mut TestDesign);
    let changes: [(&str, Change); 12] = [
        ("layout.force", |d| d.layout.force = d.layout.force * 1.0001),
        ("layout.lines[0].force", |d| d.layout.lines[0].force = d.layout.lines[0].force * 1.0001),
        ("layout.overshoots[1].ratio", |d| {
            d.layout.overshoots[1].ratio =
                Ratio::from(d.layout.overshoots[1].ratio.value() * 1.0001);
        }),
        ("layout.verification.violation", |d| d.layout.verification.violation += 1e-4),
        ("rig.bearings[0].stabilising", |d| {
            d.rig.bearings[0].stabilising = d.rig.bearings[0].stabilising * 1.0001;
        }),
        ("rig.stages[1].shear", |d| d.rig.stages[1].shear = d.rig.stages[1].shear * 1.0001),
        ("rig.hydraulics[0].pressure", |d| {
            d.rig.hydraulics[0].pressure = d.rig.hydraulics[0].pressure * 1.0001;
        }),
        ("shoring.force", |d| d.shoring.force = d.shoring.force * 1.0001),
        ("shoring.catches[0].gap_high", |d| {
            let caught = &mut d.shoring.catches[0];
            caught.gap_high = caught.gap_high.map(|g| g * 1.0001);
        }),
        ("shoring.catches[1].own", |d| {
            d.shoring.catches[1].own = d.shoring.catches[1].own * 1.0001;
        }),
        ("shear of term", |d| {
            for t in &mut d.target.terms {
                t.net = t.net.scaled(1.0001);
            }
        }),
        ("rig.verdicts.demand", |d| d.rig.verdicts[0].demand.si *= 1.0001),
    ];
    for name in ["terrace_strip", "gallery_beam"] {
        for (part, change) in changes {
            let mut design = designed(name);
            change(&mut design);
            let found = broken(&design);
            let plain = |s: &str| s.replace("verdicts[0]", "verdicts");
            assert!(found.iter().any(|f| plain(f).starts_with(part)), "{name}, {part}: {found:?}");
        }
    }
}

/// A line whose result is changed is not what its formula gives; where input and result are changed
/// together, it is not what the answer says.
#[test]
fn a_changed_line_is_found() {
    let design = designed("terrace_strip");
    let mut working = design.working().unwrap();
    let at = working.items.iter().position(|i| matches!(i, Item::Step(s) if s.result.0 == "P"));
    let Some(Item::Step(step)) = working.items.get_mut(at.unwrap()) else { panic!() };
    step.result.1.si *= 1.0001;
    let what = step.what.to_string();
    let named: Vec<String> = working.recheck().into_iter().map(|m| m.what).collect();
    assert!(named.contains(&what) && named.iter().any(|n| n == "layout.force"), "{named:?}");

    // P = V L / (L - p): V and P a little larger keep the formula, not the answer
    let mut working = design.working().unwrap();
    let Some(Item::Step(step)) = working.items.get_mut(at.unwrap()) else { panic!() };
    step.inputs[0].2.si *= 1.5;
    step.result.1.si *= 1.5;
    let named: Vec<String> = working.recheck().into_iter().map(|m| m.what).collect();
    assert!(named.iter().any(|n| n == "layout.force"), "{named:?}");
    assert!(!named.contains(&what), "the formula itself still holds: {named:?}");
}
