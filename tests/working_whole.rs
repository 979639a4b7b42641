//! Every number of an answer is a line of its working: deflections, steps, levels, gap, stages, the least
//! weight, the corrections, u and U. What is asserted is that a line gives it, bit for bit, and that the
//! line can be redone; the values themselves are held to closed forms here and elsewhere.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, clippy::panic, reason = "tests")]

use proofspan::formula::{Item, Working};
use proofspan::readings::{LogSpec, read_csv_text};
use proofspan::rig::{Hydraulic, Reaction};
use proofspan::shoring::Catching;
use proofspan::source::{Node, Value, Write, read_json};
use proofspan::units::*;
use proofspan::{Judgement, TestDesign, TestSpec, design, judge};

const SCENARIOS: [&str; 5] =
    ["terrace_strip", "gallery_beam", "classroom_strip", "archive_floor", "station_canopy"];

fn file(name: &str, end: &str) -> String {
    std::fs::read_to_string(format!("examples/scenarios/{name}.{end}")).unwrap()
}

fn designed(name: &str) -> TestDesign {
    design(TestSpec::from_json(&file(name, "test.json")).unwrap()).unwrap()
}

fn judged(name: &str) -> Judgement {
    let design = designed(name);
    let layout: LogSpec = read_json(&file(name, "log.json")).unwrap();
    let log = read_csv_text(&file(name, "log.csv"), &layout).unwrap();
    judge(&design, &log, &layout, &read_json(&file(name, "record.json")).unwrap()).unwrap()
}

/// Paths of the numbers of an answer, with their values in SI.
fn numbers(node: &Node, path: &str, out: &mut Vec<(String, f64)>) {
    match &node.value {
        Value::Map(entries) => {
            for e in entries {
                let dot = if path.is_empty() { "" } else { "." };
                numbers(&e.node, &format!("{path}{dot}{}", e.key), out);
            }
        }
        Value::List(list) => {
            for (i, one) in list.iter().enumerate() {
                numbers(one, &format!("{path}[{i}]"), out);
            }
        }
        Value::Quantity { si, .. } => out.push((path.to_owned(), *si)),
        Value::Number(n) => out.push((path.to_owned(), *n)),
        _ => {}
    }
}

/// The numbers under these last names that no line of the working gives. Zeros are left out: a line may
/// be left out where there is nothing.
fn unworked(answer: &Node, working: &Working, names: &[&str]) -> Vec<String> {
    let given: Vec<String> = working.went().into_iter().flat_map(|w| w.answers).collect();
    let mut all = Vec::new();
    numbers(answer, "", &mut all);
    let last = |path: &str| {
        let end = path.rsplit('.').next().unwrap_or(path);
        end.split('[').next().unwrap_or(end).to_owned()
    };
    let asked = all.into_iter().filter(|(path, si)| {
        names.contains(&last(path).as_str()) && !path.contains("verdict") && si.abs() > 0.0
    });
    asked.map(|(path, _)| path).filter(|path| !given.contains(path)).collect()
}

fn redone(working: &Working) {
    let wrong = working.recheck();
    assert!(wrong.is_empty(), "{wrong:?}");
    for system in [System::Si, System::Us] {
        for text in [
            working.text(system),
            working.markdown(system),
            working.html(system),
            working.latex(system),
        ] {
            assert!(!text.contains("NaN") && !text.contains("inf "), "{text}");
        }
    }
}

/// What a catch alone says of its gap and of the levels: three levels joined by posts, on the ground.
#[test]
fn gap_and_levels_of_a_catch() {
    let post = r#"{"at":"5 m","stiffness":"10 kN/mm","gap":"10 mm","resistance":{"posts":4,"rated":"100 kN"}}"#;
    let level = |id: &str| {
        format!(
            r#"{{"id":"{id}","stiffness":"8 kN/mm","spare":"300 kN","spare_after":"own weight"}}"#
        )
    };
    let text = format!(
        r#"{{"span":"10 m","in_place":"10 kN/m","catches":{post},"mode":"shear","from":"0 m","to":"1 m",
            "reading":"4 mm","reading_uncertainty":"0.5 mm","levels":[{},{}],"post_stiffness":"40 kN/mm","to_ground":true,
            "ground":{{"stiffness":"40 kN/mm","carries":"900 kN"}}}}"#,
        level("first"),
        level("second")
    );
    let asked: Catching = read_json(&text).unwrap();
    let found = asked.check().unwrap();
    let working = found.working();
    redone(working);
    // 4 mm expected and 0.5 mm of uncertainty
    assert!((found.shoring.catches[0].gap_low.to(MM) - 4.5).abs() < 1e-12);
    // 40 on ground of 40: 20; 8 + 20 = 28; 40 on 28: 280/17; 8 + 280/17 = 416/17
    let share = found.shoring.levels[0].share.value();
    assert!((share - 8.0 * 17.0 / 416.0).abs() < 1e-12, "{share}");
    let names = [
        "own",
        "contact_force",
        "force",
        "resistance",
        "gap_low",
        "gap_recommended",
        "gap_high",
        "low",
        "recommended",
        "share",
        "posts_below",
        "moves",
        "posts",
        "left",
        "sideways",
        "dynamic",
        "dynamic_bound",
    ];
    assert_eq!(unworked(&found.shoring.write(), working, &names), Vec::<String>::new());
}

/// Of a reaction member every bearing, every stage and the least weight with its place.
#[test]
fn stages_and_the_least_weight() {
    let asked = Reaction::of(8.0 * M, 10.0 * KN_PER_M)
        .pull(3.0 * M, 60.0 * KN)
        .pull(4.0 * M, 30.0 * KN)
        .weight(2.0 * M, 20.0 * KN);
    let found = asked.check().unwrap();
    let working = &found.working();
    redone(working);
    let names = [
        "stabilising",
        "uplift",
        "factor",
        "factor_without_counterweight",
        "factor_on_unbalanced_uplift",
        "shear",
        "sagging",
        "least_moment",
        "force",
        "for_lift_off",
        "for_reversal",
        "at",
    ];
    let left: Vec<String> = unworked(&found.write(), working, &names)
        .into_iter()
        // the place of a bearing and the factor that is asked are given
        .filter(|path| !path.ends_with("].at") && path != "least_counterweight.factor")
        .collect();
    assert_eq!(left, Vec::<String>::new());
}

/// Force of a jack, stroke and what springs back.
#[test]
fn hydraulics() {
    let found = Hydraulic::of(100.0 * KN, 2, 5000.0 * MM2, 70.0 * MPA_FLUID, 150.0 * MM)
        .moves(12.0 * MM, 3.0 * MM)
        .check()
        .unwrap();
    redone(found.working());
    let names = ["force_per_jack", "pressure", "travel", "stiffness", "stroke_used", "jack_most"];
    assert_eq!(unworked(&found.write(), found.working(), &names), Vec::<String>::new());
}

/// Of a design the steps, the gaps, the levels and the stages too; every deflection is there, by hand or
/// with what the solver leaves unmet.
#[test]
fn designs() {
    for name in SCENARIOS {
        let design = designed(name);
        let working = design.working().unwrap();
        redone(&working);
        let names = [
            "stabilising",
            "uplift",
            "gap_low",
            "gap_recommended",
            "low",
            "recommended",
            "share",
            "posts_below",
            "soft",
            "stiff",
            "for_lift_off",
            "for_reversal",
            "force_per_jack",
            "pressure",
            "stroke_used",
        ];
        let mut left = unworked(&design.write(), &working, &names);
        // the later stages have workings of their own; shares of the joists are stated
        left.retain(|path| !path.starts_with("stages") && !path.starts_with("shares"));
        assert_eq!(left, Vec::<String>::new(), "{name}");
        let found = |text: &str| {
            working.items.iter().any(|item| match item {
                Item::About(heading) => heading.to_string().contains(text),
                _ => false,
            })
        };
        assert!(found("Deflection under the test load at x"), "{name}");
        for step in &design.spec.protocol.steps {
            let force = design.force().0 * step.value();
            let given =
                working.steps().any(|s| s.result.0 == "P_step" && s.result.1.si == force.si());
            assert!(given, "{name}: {force}");
        }
    }
}

/// Of a judgement the corrections, u of a reading, u and U of every margin that is straight in the
/// readings, and the comparison of every criterion with its two sides.
#[test]
fn judgements() {
    for name in SCENARIOS {
        let judgement = judged(name);
        let working = judgement.working();
        redone(&working);
        let names = ["d_max", "d_r", "u_reading"];
        let left = unworked(&judgement.write(), &working, &names);
        let left: Vec<String> = left.into_iter().filter(|p| !p.starts_with("stages")).collect();
        assert_eq!(left, Vec::<String>::new(), "{name}");
        for row in judgement.judging.criteria.iter().filter(|c| c.of_edition()) {
            let Some(u) = row.outcome.guarded.uncertainty else { continue };
            let given = working.items.iter().any(|item| match item {
                Item::Step(step) => step.result.1.si == u,
                Item::Residual { value, .. } => value.si == u,
                _ => false,
            });
            assert!(given, "{name}: U of {} is {u}", row.id);
            let text = working.text(System::Si);
            assert!(text.contains(&row.id), "{name}: {} is not in the working", row.id);
        }
    }
}
