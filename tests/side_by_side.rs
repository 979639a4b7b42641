//! One record under every edition. The log of the truth: 7 mm under 100 kN, of which a part stays.

mod log_truth;

use log_truth::*;
use proofspan::editions::Edition;
use proofspan::readings::{LogSpec, read_csv_text};
use proofspan::source::read_json;
use proofspan::verdict::State;
use proofspan::{MemberOfLimits, SideBySide, side_by_side, side_by_side_of};

/// Span 6 m, depth 400 mm, under 100 kN.
fn member() -> MemberOfLimits {
    read_json(r#"{"span":"6 m","depth":"400 mm","target":"100 kN"}"#).unwrap()
}

fn by(method: &str, kept: f64, layout: &LogSpec) -> Result<SideBySide, proofspan::Error> {
    let log = read_csv_text(&text(&rows(kept)), layout).unwrap();
    let all = Edition::list().unwrap();
    let all: Vec<&Edition> = all.iter().map(AsRef::as_ref).collect();
    let stated =
        r#","held":"24 h","stated":[{"name":"prestressed","holds":false,"by":"engineer"}]"#;
    let mut member = member();
    method.clone_into(&mut member.method);
    side_by_side(&all, &member, (&log, layout), &record(stated))
}

fn code(all: &SideBySide, edition: &str, criterion: &str) -> State {
    let e =
        all.editions.iter().find(|e| e.edition == edition).unwrap_or_else(|| panic!("{edition}"));
    e.criteria.iter().find(|c| c.id == criterion).unwrap().outcome.code.state
}

/// 7 + 3 = 10 mm and 3 mm left, three tenths. lt/180 = 33.3 mm; lt²/(20000 h) = 4.5 mm; recovery 70 %:
/// less than 75 %, more than 60 %.
#[test]
fn three_tenths_left_under_every_edition() {
    let layout = Map::default().layout().unwrap();
    let all = by("monotonic", 3.0, &layout).unwrap();
    assert!(all.refused.is_empty(), "{:?}", all.refused);
    assert_eq!(code(&all, "ACI 437.2-13", "deflection"), State::Pass);
    for edition in ["ACI 437.2-13", "ACI 318-19", "ACI 318-14", "ACI 318-05", "EHE-08"] {
        assert_eq!(code(&all, edition, "residual"), State::Fail, "{edition}");
    }
    assert_eq!(code(&all, "ACI 318-14", "deflection"), State::Fail, "10 > 4.5 mm");
    assert_eq!(code(&all, "IS 456:2000", "recovery"), State::Fail, "70 < 75 %");
    assert_eq!(code(&all, "CSA A23.3", "recovery"), State::Pass, "70 >= 60 %");
    assert_eq!(code(&all, "NTC 2018", "calculated"), State::Inconclusive, "nobody says what was");
    let of = |edition: &str| all.editions.iter().find(|e| e.edition == edition).unwrap();
    assert_eq!(of("ACI 318-19").guarded, State::Fail);
    assert_ne!(of("CSA A23.3").guarded, State::Fail);
    // every shipped edition that has criteria for the method is there, and no other
    let expected = Edition::list().unwrap();
    let has = expected.iter().filter(|e| e.criteria("monotonic").next().is_some());
    assert_eq!(has.count(), all.editions.len());
    let table = all.table();
    assert!(table.contains("| CSA A23.3 | all together |") && !table.contains("zero"), "{table}");
    assert!(
        table.lines().all(|l| l.matches(" | ").count() + l.matches("|---").count() >= 4),
        "{table}"
    );
}

/// What all refuse alike is refused once; a method that no edition has gives no rows.
#[test]
fn what_all_refuse() {
    let mut layout = Map::default().layout().unwrap();
    layout.channels[1].role = proofspan::readings::Role::Settlement;
    let error = by("monotonic", 1.0, &layout).unwrap_err();
    assert!(error.codes().contains(&"criteria.no-gauge"), "{:?}", error.codes());
    let missing = error.issues.iter().find(|i| i.slug.code() == "criteria.no-gauge").unwrap();
    assert_eq!(missing.path, "columns.channels", "a place in what was given");
    let layout = Map::default().layout().unwrap();
    assert!(by("proof", 1.0, &layout).unwrap().editions.is_empty());
    // no load cycles in a monotonic log: both editions of cyclic tests refuse alike
    assert!(by("cyclic", 1.0, &layout).unwrap_err().codes().contains(&"readings.cycles"));
    let bad = read_json::<MemberOfLimits>(r#"{"span":"6 m","depth":"-1 m"}"#).unwrap_err();
    assert_eq!(bad.codes(), ["source.sign"]);
}

/// For a designed test the row of its own edition is that of `judge`.
#[test]
fn a_designed_test_under_every_edition() {
    let file = |name: &str| {
        std::fs::read_to_string(format!("{}/examples/scenarios/{name}", env!("CARGO_MANIFEST_DIR")))
            .unwrap()
    };
    let spec = proofspan::TestSpec::from_json(&file("gallery_beam.test.json")).unwrap();
    let design = proofspan::design(spec).unwrap();
    let layout: LogSpec = read_json(&file("gallery_beam.log.json")).unwrap();
    let log = read_csv_text(&file("gallery_beam.log.csv"), &layout).unwrap();
    let record = read_json(&file("gallery_beam.record.json")).unwrap();
    let all = Edition::list().unwrap();
    let all: Vec<&Edition> = all.iter().map(AsRef::as_ref).collect();
    let found = side_by_side_of(&all, &design, (&log, &layout), &record).unwrap();
    let judged = proofspan::judge(&design, &log, &layout, &record).unwrap();
    let own = found.editions.iter().find(|e| e.edition == "ACI 318-19").unwrap();
    assert_eq!((own.guarded, own.code), (judged.overall().0.state, judged.overall().1.state));
    assert_eq!(own.criteria, judged.judging.criteria);
    // cracked, it bends more than the stiff calculation: open, not failed
    let ntc = found.editions.iter().find(|e| e.edition == "NTC 2018").unwrap();
    let row = ntc.criteria.iter().find(|c| c.id == "calculated").unwrap();
    assert_eq!(row.outcome.code.state, State::Inconclusive, "{}", row.reason);
    // and the report shows it, beside the headline that it does not move
    let plain = proofspan::report::markdown(&design, Some(&judged)).unwrap();
    assert!(!plain.contains("The same record by every edition"));
    let beside = judged.clone().beside(found.clone());
    assert_eq!(beside.state(), judged.state());
    let page = proofspan::report::markdown(&design, Some(&beside)).unwrap();
    let (_, table) = page.split_once("The same record by every edition").unwrap();
    for e in &found.editions {
        assert!(table.contains(&format!("| {} | all together |", e.edition)), "{}", e.edition);
    }
}

/// Without the depth the editions whose limit speaks of it refuse, each by itself; the others judge.
#[test]
fn a_depth_that_is_not_given_is_missed_where_a_limit_speaks_of_it() {
    let layout = Map::default().layout().unwrap();
    let log = read_csv_text(&text(&rows(1.0)), &layout).unwrap();
    let all = Edition::list().unwrap();
    let all: Vec<&Edition> = all.iter().map(AsRef::as_ref).collect();
    let member: MemberOfLimits = read_json(r#"{"span":"6 m"}"#).unwrap();
    let found = side_by_side(&all, &member, (&log, &layout), &record(r#","held":"24 h""#)).unwrap();
    // lt²/(20000 h) of 318-14; lt/180 of 437.2-13 needs none
    assert!(found.editions.iter().any(|e| e.edition == "ACI 437.2-13"));
    let missed = found.refused.iter().find(|e| e.edition == "ACI 318-14").unwrap();
    assert_eq!(missed.codes, ["source.field-missing"]);
}
