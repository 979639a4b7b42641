//! Hostile input ends in a sentence: no overflow, no panic, no work without a bound, and messages
//! that show the head of a long value only.

use proofspan::TestSpec;
use proofspan::editions::{Edition, EditionChoice, Facts};
use proofspan::error::{Error, slug};
use proofspan::formula::{Formula, Vocabulary};
use proofspan::loads::Symbol;
use proofspan::source::{Node, parse_json, parse_toml, read_json, read_node};
use proofspan::units::{Dimension, Kind, Length, Measure, nearest};
use std::sync::Arc;
use std::time::{Duration, Instant};

/// Runs on a stack of one megabyte, which a tree without a depth would overflow, and says how long
/// it took.
fn small_stack<T: Send + 'static>(work: impl FnOnce() -> T + Send + 'static) -> (T, Duration) {
    let start = Instant::now();
    let answer = std::thread::Builder::new().stack_size(1 << 20).spawn(work).unwrap();
    (answer.join().expect("the work ends"), start.elapsed())
}

fn condition(text: String) -> Result<Formula, Error> {
    let names = [("span", Kind::Length), ("f", Kind::Stress), ("n", Kind::Ratio)];
    Formula::condition(&text, &Vocabulary::of(&names))
}

/// No text of a refusal is longer than a page can show.
fn short(error: &Error) {
    for issue in &error.issues {
        let value = issue.value.as_deref().unwrap_or_default().chars().count();
        let limit = issue.limit.as_deref().unwrap_or_default().chars().count();
        assert!(value <= 81, "value of {value} characters");
        assert!(limit <= 1001, "limit of {limit} characters");
        assert!(issue.path.chars().count() <= 161, "path of {} bytes", issue.path.len());
        assert!(issue.message.chars().count() <= 1001, "message of {} bytes", issue.message.len());
        assert!(issue.remedy.chars().count() <= 1001, "remedy of {} bytes", issue.remedy.len());
    }
}

#[test]
fn a_formula_has_a_size_however_flat_it_is() {
    for (head, repeated, tail) in [
        ("1", "+1", " < 2"),
        ("true", " and true", ""),
        ("true", " or true", ""),
        ("n", "*n", " < 2"),
        ("min(1", ",1", ") < 2"),
    ] {
        let text = format!("{head}{}{tail}", repeated.repeat(1_000_000));
        let (answer, took) = small_stack(move || condition(text).map(drop));
        let error = answer.unwrap_err();
        assert_eq!(error.codes(), ["formula.size"], "{head}{repeated}");
        short(&error);
        assert!(took < Duration::from_secs(5), "{took:?}");
    }
    // deep ones had a limit before
    for deep in ["(", "-", "not ", "abs("] {
        let text = format!("{}1", deep.repeat(1_000_000));
        let error = small_stack(move || condition(text).map(drop)).0.unwrap_err();
        assert!(["formula.size", "formula.depth"].contains(&error.codes()[0]), "{error}");
        short(&error);
    }
    // spaces make no tree, and are read once
    let (answer, _) = small_stack(|| condition(format!("1{}< 2", " ".repeat(20_000_000))));
    assert_eq!(answer.unwrap_err().codes(), ["formula.size"]);
}

#[test]
fn a_formula_of_two_hundred_terms_is_used_on_a_small_stack() {
    let text = format!("1{} < 200.5", "+1".repeat(199));
    let (holds, _) = small_stack(move || condition(text).unwrap().holds(&[]));
    assert_eq!(holds, Some(true));
}

#[test]
fn a_dimension_has_a_limit() {
    for text in [
        "span^100 * span^100 > 1 m",
        "(f^100)^2 > 1 Pa",
        "f^127 > 1 Pa",
        "1/(f^120) > 1 Pa",
        "span^40 > 1 m",
    ] {
        let error = condition(text.to_owned()).unwrap_err();
        assert!(error.codes().iter().all(|c| *c == "formula.power"), "{text}: {error}");
    }
    assert_eq!(condition("span^200 > 1 m".to_owned()).unwrap_err().codes(), ["formula.power"]);
    assert_eq!(
        condition("n^40 >= 1".to_owned()).map(|f| f.holds(&[None, None, Some(1.0)])).unwrap(),
        Some(true)
    );
    // exponents beyond what 8 bits hold are kept at the end, never wrapped to another dimension
    let far = Dimension::new(100, -100, 3, 0);
    assert_eq!(far.times(far), Dimension::new(127, -128, 6, 0));
    assert_eq!(far.power(-2), Dimension::new(-128, 127, -6, 0));
    assert!(
        !far.within() && !far.over(far.power(-1)).within() && Dimension::new(4, 1, -2, 0).within()
    );
    let length = Measure::of(Kind::Length);
    assert!(!length.power(100).times(length.power(100)).dimension.within());
}

/// A bare edition file with more of one's own.
fn edition(rows: &str, more: &str) -> Result<Edition, Error> {
    Edition::from_toml(&format!(
        "id = \"own\"\nname = \"Own rule\"\ntitle = \"t\"\nyear = 2026\nstatus = \"current\"\nclause = \"1\"\ndefault_set = \"a\"\n[[sets]]\nid = \"a\"\nabout = \"x\"\nconfidence = \"user\"\nrows = [{rows}]\n{more}"
    ))
}

const ROW: &str = "{ id = \"r\", factors = { Dw = 1.0, L = 1.5 } }";

fn codes(answer: Result<Edition, Error>) -> Vec<&'static str> {
    match answer {
        Ok(_) => Vec::new(),
        Err(error) => {
            short(&error);
            error.codes()
        }
    }
}

fn bridge(
    base: &str,
    least: &str,
    most: &str,
    percent: &str,
    counts: &str,
) -> Result<Edition, Error> {
    edition(
        ROW,
        &format!(
            "[bridge_proof]\nbase = {base}\nat_least = {least}\nat_most = {most}\nadjust_percent = [{{ id = \"p\", percent = {percent} }}]\nstopped_by_distress = {counts}\nconfidence = \"user\"\n"
        ),
    )
}

#[test]
fn bounds_of_a_bridge_factor_are_read_with_the_edition() {
    let good = bridge("1.4", "1.3", "2.2", "15", "0.88").unwrap();
    // 1.4 × 1.15 = 1.61
    assert!((good.bridge_proof().unwrap().factor(&["p"]).unwrap() - 1.61).abs() < 1e-12);
    for (what, bad) in [
        ("crossed bounds", bridge("1.4", "2.2", "1.3", "15", "0.88")),
        ("a base of zero", bridge("0", "1.3", "2.2", "15", "0.88")),
        ("a base below zero", bridge("-1.4", "1.3", "2.2", "15", "0.88")),
        ("a bound below zero", bridge("1.4", "-1.3", "2.2", "15", "0.88")),
        ("more than all is taken off", bridge("1.4", "1.3", "2.2", "-150", "0.88")),
        ("a percent beyond measure", bridge("1.4", "1.3", "2.2", "1e300", "0.88")),
        ("more than all counts", bridge("1.4", "1.3", "2.2", "15", "1.01")),
        ("less than nothing counts", bridge("1.4", "1.3", "2.2", "15", "-0.1")),
        ("a factor beyond measure", bridge("1.4", "1.3", "1e300", "15", "0.88")),
    ] {
        assert_eq!(codes(bad), ["editions.file"], "{what}");
    }
    assert!(!codes(bridge("nan", "1.3", "2.2", "15", "0.88")).is_empty());
    assert!(!codes(bridge("inf", "1.3", "2.2", "15", "0.88")).is_empty());
}

#[test]
fn numbers_of_rows_are_read_with_the_edition() {
    let row = |more: &str| edition(&format!("{{ id = \"r\", {more} }}"), "");
    assert_eq!(codes(row("factors = { Dw = 1.0, L = 1.5 }, scale = 2.0")), [""; 0]);
    for (what, more) in [
        ("a scale of zero", "factors = { Dw = 1.0 }, scale = 0.0"),
        ("a scale below zero", "factors = { Dw = 1.0 }, scale = -1.0"),
        ("a scale beyond measure", "factors = { Dw = 1.0 }, scale = 1e9"),
        (
            "a reduction that raises",
            "factors = { L = 1.0 }, live_reduction = { to = 1.5, unless = \"parking\" }",
        ),
        (
            "a reduction below zero",
            "factors = { L = 1.0 }, live_reduction = { to = -0.5, unless = \"parking\" }",
        ),
        (
            "a reduction of nothing",
            "factors = { Dw = 1.0 }, live_reduction = { to = 0.5, unless = \"parking\" }",
        ),
        ("no factor at all", "factors = {}"),
        ("an action twice", "factors = { S = 0.5, \"Lr|S|R\" = 1.6 }"),
    ] {
        assert_eq!(codes(row(more)), ["editions.file"], "{what}");
    }
    assert_eq!(codes(row("factors = { Dw = 1e9 }")), ["editions.factor"]);
    assert_eq!(codes(row("factors = { Dw = -1.0 }")), ["editions.factor"]);
}

#[test]
fn names_inside_an_edition_are_its_own() {
    let two = format!("{ROW}, {ROW}");
    assert_eq!(codes(edition(&two, "")), ["editions.file"], "a row twice");
    let criterion = |id: &str, more: &str| {
        format!(
            "[[criteria]]\nmethod = \"monotonic\"\nid = \"{id}\"\nabout = \"x\"\nlimit = \"d_max <= lt/180\"\nclause = \"1\"\nconfidence = \"user\"\n{more}"
        )
    };
    let retest = |failed: &str, replaces: &str| {
        format!(
            "[[retest]]\nmethod = \"monotonic\"\nafter_failed = [\"{failed}\"]\nlimit = \"d_r2 <= d_max2/10\"\nreplaces = [\"{replaces}\"]\nconfidence = \"user\"\n"
        )
    };
    let good = criterion("deflection", "");
    assert_eq!(codes(edition(ROW, &good)), [""; 0]);
    assert_eq!(
        codes(edition(ROW, &format!("{good}{good}"))),
        ["editions.file"],
        "a criterion twice"
    );
    assert_eq!(
        codes(edition(ROW, &format!("{good}{}", retest("deflection", "deflection")))),
        [""; 0]
    );
    assert_eq!(
        codes(edition(ROW, &format!("{good}{}", retest("deflexion", "deflection")))),
        ["editions.file"]
    );
    assert_eq!(
        codes(edition(ROW, &format!("{good}{}", retest("deflection", "residual")))),
        ["editions.file"]
    );
    assert_eq!(codes(edition(ROW, &criterion("d", "any_of = 300\n"))), ["editions.file"]);
    let word = |old: &str, new: &str| {
        Edition::from_toml(&format!(
        "id = \"own\"\nname = \"Own rule\"\ntitle = \"t\"\nyear = 2026\nstatus = \"current\"\nclause = \"1\"\ndefault_set = \"a\"\n[[sets]]\nid = \"a\"\nabout = \"x\"\nconfidence = \"user\"\nrows = [{ROW}]\n"
    ).replace(old, new))
    };
    assert_eq!(
        codes(word("clause", "deflection_basis = \"imposed-only\"\nclause")),
        ["editions.file"]
    );
    assert_eq!(codes(word("clause", "deflection_basis = \"imposed_only\"\nclause")), [""; 0]);
    assert_eq!(codes(word("clause", "factors = \"unknwon\"\nclause")), ["editions.file"]);
    assert_eq!(codes(word("Own rule", " ")), ["editions.file"], "a name of nothing");
    assert_eq!(codes(word("Own rule", "Own\\nrule")), ["editions.file"], "a name of two lines");
    assert_eq!(
        codes(word("Own rule", &"n".repeat(100_000))),
        ["editions.file"],
        "a name without end"
    );
}

#[test]
fn an_edition_has_a_number_of_everything() {
    let rows: Vec<String> = (0..100_000)
        .map(|i| format!("{{ id = \"r{i}\", factors = {{ \"Lr|S|R\" = 1.0 }} }}"))
        .collect();
    let (answer, took) = small_stack(move || edition(&rows.join(","), "").map(drop));
    let error = answer.unwrap_err();
    assert!(error.codes().iter().all(|c| ["source.size", "editions.file"].contains(c)), "{error}");
    assert!(took < Duration::from_secs(30), "{took:?}");
    // the largest that is read is also expanded: each row once for every roof action
    let rows: Vec<String> =
        (0..64).map(|i| format!("{{ id = \"r{i}\", factors = {{ \"Lr|S|R\" = 1.0 }} }}")).collect();
    let own = Arc::new(edition(&rows.join(","), "").unwrap());
    let choice = EditionChoice::of("own");
    let set = own
        .load_set(&choice, &[Symbol::RoofLive, Symbol::Snow, Symbol::Rain], &Facts::UNKNOWN)
        .unwrap();
    assert_eq!(set.rows.len(), 3 * 64);
    let criteria: String = (0..300).map(|i| format!("[[criteria]]\nmethod = \"monotonic\"\nid = \"c{i}\"\nabout = \"x\"\nlimit = \"d_max <= lt/180\"\nclause = \"1\"\nconfidence = \"user\"\n")).collect();
    assert_eq!(codes(edition(ROW, &criteria)), ["editions.file"]);
}

#[test]
fn a_document_has_a_size() {
    let most = proofspan::source::MAX_TEXT;
    let long = " ".repeat(most + 1);
    assert_eq!(parse_json(&long).unwrap_err().codes(), ["source.size"]);
    assert_eq!(parse_toml(&long).unwrap_err().codes(), ["source.size"]);
    assert_eq!(parse_json(&format!("{{}}{}", " ".repeat(most - 2))).map(|_| ()), Ok(()));
}

#[test]
fn a_long_value_shows_its_head() {
    let long = "x".repeat(10_000_000);
    let start = Instant::now();
    for document in [
        format!("{{\"schema_version\": 1, \"display\": \"{long}\"}}"),
        format!("{{\"schema_version\": 1, \"{long}\": 1}}"),
        format!("{{\"schema_version\": 1, \"beam\": {{ \"span\": \"{long}\" }}}}"),
        format!("{{\"schema_version\": 1, \"beam\": {{ \"span\": \"45 {long}\" }}}}"),
        format!("{{\"schema_version\": 1, \"beam\": {{ \"{long}\": {{ \"{long}\": 1 }} }}}}"),
        format!("{{\"edition\": {{ \"id\": \"{long}\" }}}}"),
    ] {
        let error = TestSpec::from_json(&document).unwrap_err();
        short(&error);
        assert!(error.to_string().len() < 40_000, "{}", error.to_string().len());
    }
    let error = Edition::shipped(&long).unwrap_err();
    short(&error);
    assert!(error.issues[0].value.as_deref().unwrap().ends_with('…'));
    let error = Length::parse(&long).unwrap_err();
    assert!(error.to_string().len() < 1000 && error.remedy().len() < 1000);
    let error = condition(format!("{long} < 1")).unwrap_err();
    short(&error);
    short(&condition(format!("{} < 1", "y".repeat(4000))).unwrap_err());
    assert!(start.elapsed() < Duration::from_secs(60), "{:?}", start.elapsed());
}

#[test]
fn names_that_are_near_are_sought_in_bounded_work() {
    let words: Vec<String> = (0..50).map(|i| format!("{i}{}", "a".repeat(1_000_000))).collect();
    let start = Instant::now();
    let near = nearest(&words[7], words.iter().map(String::as_str));
    assert!(near.is_some() && start.elapsed() < Duration::from_secs(5), "{:?}", start.elapsed());
}

#[test]
fn fields_by_the_ten_thousand_are_read_in_linear_work() {
    let many = |n: usize, name: &dyn Fn(usize) -> String| {
        let fields: Vec<String> = (0..n).map(|i| format!("\"{}\": 1", name(i))).collect();
        format!("{{ {} }}", fields.join(","))
    };
    let start = Instant::now();
    // unknown names first, so that a search from the front would pass all of them every time
    let name = |i: usize| if i < 100_000 { format!("f{i}") } else { "title".to_owned() };
    let error = TestSpec::from_json(&many(200_000, &name)).unwrap_err();
    assert!(error.has(slug::SOURCE_FIELD_UNKNOWN));
    assert!(error.codes().contains(&"source.many"), "the rest is counted, not listed");
    assert!(error.issues.len() < 1100, "{}", error.issues.len());
    let error = TestSpec::from_json(&many(200_000, &|_| "title".to_owned())).unwrap_err();
    assert!(error.has(slug::SOURCE_FIELD_DUPLICATE));
    assert!(start.elapsed() < Duration::from_secs(20), "{:?}", start.elapsed());
}

#[test]
fn lists_have_a_length() {
    let gauges = vec![r#"{"id":"a","at":"1 m"}"#; 100_000].join(",");
    let start = Instant::now();
    let error =
        read_json::<proofspan::protocol::ProtocolSpec>(&format!("{{\"gauges\":[{gauges}]}}"))
            .unwrap_err();
    assert_eq!(error.codes(), ["source.size"]);
    assert!(start.elapsed() < Duration::from_secs(20), "{:?}", start.elapsed());
}

#[test]
fn toml_of_one_line_or_many_levels() {
    let values = vec!["1"; 500_000].join(", ");
    let (answer, took) =
        small_stack(move || parse_toml(&format!("é = 1\na = [ {values} ]")).map(drop));
    assert!(answer.is_err(), "`é` needs quotes");
    assert!(took < Duration::from_secs(20), "{took:?}");
    let values = vec!["1"; 300_000].join(", ");
    let (answer, took) = small_stack(move || parse_toml(&format!("a = [ \"é\", {values}, [1] ]")));
    let node = answer.unwrap();
    let proofspan::source::Value::List(items) = &node.get("a").unwrap().value else { panic!() };
    // a = [ "é", 1, 1, …: the k-th number begins at column 12 + 3 (k − 1), counted in characters
    for k in [1, 2, 100_000, 300_000] {
        assert_eq!(items[k].place.unwrap().column, 12 + 3 * (k - 1), "number {k}");
    }
    assert!(took < Duration::from_secs(20), "{took:?}");
    for deep in [
        "[".repeat(100_000),
        format!("a = {}", "[".repeat(100_000)),
        vec!["a"; 100_000].join(".") + " = 1",
        format!("[{}]", vec!["a"; 100_000].join(".")),
        "a = ".to_owned() + &"{ a = ".repeat(100_000),
    ] {
        let head: String = deep.chars().take(20).collect();
        let (answer, took) = small_stack(move || parse_toml(&deep).map(drop));
        let error = answer.unwrap_err();
        assert!(took < Duration::from_secs(20), "{head}: {took:?}");
        assert!(error.issues.len() < 1100, "{head}: {}", error.issues.len());
        short(&error);
    }
    let (answer, _) = small_stack(|| parse_json(&"[".repeat(10_000_000)).map(drop));
    assert_eq!(answer.unwrap_err().codes(), ["source.depth"]);
    let garbage = "=\n".repeat(1_000_000);
    let (answer, took) = small_stack(move || parse_toml(&garbage).map(drop));
    assert!(answer.unwrap_err().issues.len() < 1100 && took < Duration::from_secs(60), "{took:?}");
}

#[test]
fn numbers_no_double_holds() {
    for text in ["1e999", "1E400", "-1e999"] {
        let error =
            read_json::<EditionChoice>(&format!("{{\"id\":\"x\",\"impact\":{text}}}")).unwrap_err();
        assert_eq!(error.codes(), ["source.syntax"], "{text}");
        assert!(parse_toml(&format!("a = {text}")).is_err(), "{text}");
    }
    for text in ["1e-999", "-0", "-0.0"] {
        let choice: EditionChoice =
            read_json(&format!("{{\"id\":\"x\",\"impact\":{text}}}")).unwrap();
        assert_eq!(choice.impact.map(f64::abs), Some(0.0), "{text}");
    }
    for number in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
        let node = Node::map(vec![
            ("id", Node::text("x")),
            ("impact", Node::new(proofspan::source::Value::Number(number))),
        ]);
        assert_eq!(read_node::<EditionChoice>(&node).unwrap_err().codes(), ["source.type"]);
        let factors = Node::map(vec![("Dw", Node::new(proofspan::source::Value::Number(number)))]);
        assert_eq!(
            read_node::<proofspan::editions::Factors>(&factors).unwrap_err().codes(),
            ["editions.factor"]
        );
    }
}
