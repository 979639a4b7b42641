//! What a target asks: hogging in doubt, crossings net and total, patterns, facts, editions side by
//! side, the working. Members are invented; expected values are statics written beside them.

use std::collections::BTreeSet;

use proofspan::beam::*;
use proofspan::editions::EditionChoice;
use proofspan::formula::Item;
use proofspan::loads::{Loads, Symbol, amplified, ponding};
use proofspan::scope::Doubt;
use proofspan::source::{Value, Write, read_json};
use proofspan::target::{Asked, Compared, Target, compare, reference};
use proofspan::units::*;
use proofspan::verdict::MemberUnit;

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-9 * b.abs().max(1.0)
}

fn spans(lengths: &[f64]) -> Beam {
    let mut x = 0.0;
    let mut supports = vec![Support::bearing(0.0 * M)];
    for l in lengths {
        x += l;
        supports.push(Support::bearing(x * M));
    }
    Beam::new(x * M, supports, vec![(0.0 * M, 2e4 * KN_M2)]).unwrap()
}

fn asked(
    beam: &Beam,
    actions: &str,
    choice: &str,
    doubt: &str,
    determinate: Option<bool>,
) -> Result<(proofspan::editions::LoadSet, Target), proofspan::Error> {
    let loads: Loads = read_json(&format!(r#"{{"width":"1 m","actions":[{actions}]}}"#)).unwrap();
    let doubt: Doubt = read_json(doubt).unwrap();
    let choice: EditionChoice = read_json(choice).unwrap();
    reference(beam, &loads, &choice, std::slice::from_ref(&doubt), MemberUnit::Strip, determinate)
}

const ACI: &str = r#"{"id":"ACI 437.2-13"}"#;

/// Two spans 8 and 6 m, in place g = 18 kN/m, live 20 kN/m: M at the inner support is
/// −(w₁ 8³ + w₂ 6³)/(8·14) by the three-moment equation.
fn two_spans(mode: &str) -> Target {
    let actions = r#"{"action":"self_weight","line":"18 kN/m","in_place":1},{"action":"live","line":"20 kN/m"}"#;
    // over the inner support nothing sags
    let from = if mode == "flexure" { "4 m" } else { "7 m" };
    let doubt = format!(r#"{{"mode":"{mode}","from":"{from}","to":"9 m"}}"#);
    asked(&spans(&[8.0, 6.0]), actions, ACI, &doubt, None).unwrap().1
}

fn over_support(w1: f64, w2: f64) -> f64 {
    -(w1 * 512.0 + w2 * 216.0) / 112.0
}

#[test]
fn a_doubt_in_hogging_is_governed_by_the_largest_hogging() {
    // a2: 1.0 × 18 + 1.6 × 20 = 50 on both spans, net 32
    let (worst, net) = (over_support(50.0, 50.0), over_support(32.0, 32.0));
    let hogging = two_spans("hogging");
    let total = hogging.total_moment(8.0 * M).unwrap();
    assert!(near(total.value.0.to(KN_M), worst), "{:?}", total.value);
    assert_eq!(hogging.term_name(total.term), "a2");
    assert!(near(hogging.moment(8.0 * M).unwrap().value.0.to(KN_M), net));
    let (largest, term) =
        hogging.largest(Asked::Moment, LoadBasis::Total, 7.0 * M, 9.0 * M).unwrap();
    assert!(near(largest.value / 1e3, worst) && near(largest.at.si(), 8.0));
    assert_eq!(hogging.term_name(term), "a2");
    // the least hogging is that of a2 without live load: 1.0 × 18
    let least = over_support(18.0, 18.0);
    let sagging = hogging.governing(Asked::Sagging, LoadBasis::Total, 8.0 * M, Side::Left).unwrap();
    assert!(near(sagging.value / 1e3, least), "{sagging:?}");
    // flexure asks for sagging, shear for the largest in size; what is named hogging stays hogging
    for (mode, asked) in [("flexure", least), ("shear", worst)] {
        let other = two_spans(mode);
        assert!(near(other.total_moment(8.0 * M).unwrap().value.0.to(KN_M), asked));
        assert!(near(other.hogging(8.0 * M).unwrap().value.0.to(KN_M), net));
    }
}

/// Self weight 4 kN/m in place, snow 10 kN/m on the left half, live 10 kN/m on the right half of 10 m.
/// a2 = g + 1.6 L + 0.5 S, a3 = g + 1.0 L + 1.6 S: shears of opposite sign beside midspan are compared
/// by their size. Total: 13.75 − 20 u = 7.5 + 14 u; net, with 4 u taken off both: 13.75 − 16 u = 7.5 + 10 u.
#[test]
fn net_and_total_shear_change_at_different_places() {
    let actions = r#"{"action":"self_weight","line":"4 kN/m","in_place":1},
        {"action":"live","line":"10 kN/m","from":"5 m"},
        {"action":"snow","line":"10 kN/m","to":"5 m","snow_level":"nominal"}"#;
    let beam = Beam::simple(10.0 * M, 2e4 * KN_M2).unwrap();
    let doubt = r#"{"mode":"shear","from":"1 m","to":"3 m"}"#;
    let target = asked(&beam, actions, ACI, doubt, None).unwrap().1;
    for (basis, middle) in
        [(LoadBasis::Net, 5.0 + 6.25 / 26.0), (LoadBasis::Total, 5.0 + 6.25 / 34.0)]
    {
        let found = target.crossings(Asked::Shear, basis);
        let places: Vec<f64> = found.iter().map(|c| c.at.si()).collect();
        let exact = [33.75 / 11.0, middle, 5.0 + 21.25 / 6.0];
        assert!(
            places.len() == 3 && places.iter().zip(exact).all(|(a, b)| near(*a, b)),
            "{places:?}"
        );
        assert!(found.iter().all(|c| c.basis == basis));
        assert_eq!(
            found[1].write().get("basis").unwrap().value,
            Value::Text(basis.word().to_owned())
        );
        let names: Vec<&str> = found.iter().map(|c| target.term_name(c.left)).collect();
        assert_eq!(names, ["a3", "a2", "a3"], "{basis}");
    }
    // moments are all of one sign: net and total change at one place
    let of = |basis| -> Vec<f64> {
        target.crossings(Asked::Moment, basis).iter().map(|c| c.at.si()).collect()
    };
    let (net, total) = (of(LoadBasis::Net), of(LoadBasis::Total));
    assert!(!net.is_empty() && net.iter().zip(&total).all(|(a, b)| near(*a, *b)));
}

/// Every pattern of whole spans of one to five unequal spans, fixed ends and overhangs among them: none
/// gives a larger or smaller moment, shear or reaction than the usual ones.
#[test]
fn usual_patterns_hold_the_worst_moment_shear_and_reaction() {
    let lines: [(&[f64], bool, bool); 7] = [
        (&[6.0], false, false),
        (&[6.0, 6.0], false, false),
        (&[6.0, 9.0], true, false),
        (&[5.0, 3.0, 8.0], false, false),
        (&[2.0, 7.0, 1.5], false, true),
        (&[4.0, 7.0, 5.0, 6.0], true, false),
        (&[5.0, 7.0, 6.0, 4.0, 6.5], false, false),
    ];
    for (lengths, fixed, overhangs) in lines {
        let whole = spans(lengths);
        let mut supports = whole.supports().to_vec();
        if fixed {
            supports[0] = Support::fixed(0.0 * M);
        }
        if overhangs {
            supports.remove(0);
            supports.pop();
        }
        let beam = Beam::new(whole.length(), supports, whole.rigidity().to_vec()).unwrap();
        let n = beam.spans().len();
        let q = Load::uniform(0.0 * M, beam.length(), 9.0 * KN_PER_M);
        let case = |p: &Pattern| beam.response(&beam.patterned(p, &[q]).unwrap()).unwrap();
        let found = beam.patterns().unwrap();
        assert!(found.worst && found.all == usual_patterns(n).unwrap());
        let usual: Vec<Response> = found.all.iter().map(case).collect();
        let every: Vec<Response> = (0..1_u32 << n)
            .map(|mask| case(&Pattern { loaded: (0..n).map(|i| mask >> i & 1 == 1).collect() }))
            .collect();
        let bounds = |cases: &[Response], of: &dyn Fn(&Response) -> f64| {
            let values = cases.iter().map(of);
            values.fold((f64::MAX, f64::MIN), |(a, b), v| (a.min(v), b.max(v)))
        };
        let same = |of: &dyn Fn(&Response) -> f64, what: String| {
            let (a, b) = (bounds(&usual, of), bounds(&every, of));
            assert!((a.0 - b.0).abs() < 1e-6 && (a.1 - b.1).abs() < 1e-6, "{what} {a:?} {b:?}");
        };
        for i in 0..=60 {
            let x = beam.length() * (f64::from(i) / 60.0);
            same(
                &|a| a.moment(x, Side::Left).unwrap().si(),
                format!("moment at {x} of {lengths:?}"),
            );
            same(
                &|a| a.shear(x, Side::Right).unwrap().si(),
                format!("shear at {x} of {lengths:?}"),
            );
        }
        for i in 0..beam.supports().len() {
            same(&|a| a.reactions()[i].force.si(), format!("reaction {i} of {lengths:?}"));
        }
    }
}

/// Where hinges or springs change the order all patterns are tried, up to six spans; beyond that a note says
/// that not all were.
#[test]
fn patterns_of_hinges_and_springs() {
    let hinged = spans(&[6.0, 6.0, 6.0]).with_hinges(vec![8.0 * M, 10.0 * M]).unwrap();
    let found = hinged.patterns().unwrap();
    assert!(found.worst && found.all.len() == 8 && found.all[0].words() == "all spans");
    let different: BTreeSet<Vec<bool>> = found.all.iter().map(|p| p.loaded.clone()).collect();
    assert_eq!(different.len(), 8);
    let soft = |n: usize| {
        let line = spans(&vec![4.0; n]);
        let mut supports = line.supports().to_vec();
        supports[1].vertical = Restraint::Spring(2000.0 * KN_PER_M_SPRING);
        Beam::new(line.length(), supports, line.rigidity().to_vec()).unwrap()
    };
    assert_eq!(soft(6).patterns().unwrap().all.len(), 64);
    let seven = soft(7).patterns().unwrap();
    assert!(!seven.worst && seven.all == usual_patterns(7).unwrap());
    let actions = r#"{"action":"self_weight","line":"18 kN/m","in_place":1},{"action":"live","line":"20 kN/m"}"#;
    let doubt = r#"{"mode":"flexure","from":"1 m","to":"3 m"}"#;
    let codes = |beam: &Beam| -> Vec<&str> {
        let set = asked(beam, actions, ACI, doubt, None).unwrap().0;
        set.notes.iter().map(|n| n.slug.code()).filter(|c| c.starts_with("target")).collect()
    };
    assert_eq!(codes(&soft(7)), ["target.patterns"]);
    assert!(codes(&soft(6)).is_empty() && codes(&spans(&[4.0; 7])).is_empty());
}

/// The roof-led row of ACI 318-19 lets live load be halved unless a garage, public assembly or more than
/// 100 psf: occupancy, live load and their absence all reach the edition.
#[test]
fn facts_follow_from_the_description() {
    let beam = Beam::simple(8.0 * M, 1e5 * KN_M2).unwrap();
    let flexure = r#"{"mode":"flexure","from":"3 m","to":"5 m"}"#;
    let live_factor = |live: &str, occupancy: &str| -> f64 {
        let actions = format!(
            r#"{{"action":"self_weight","area":"4 kPa","in_place":1}},{{"action":"live","area":"{live}"{occupancy}}},
            {{"action":"snow","area":"2 kPa","snow_level":"nominal"}}"#
        );
        let choice = r#"{"id":"ACI 318-19","reduce_live":true}"#;
        let (_, target) = asked(&beam, &actions, choice, flexure, None).unwrap();
        let row = target.rows().iter().find(|r| r.id.starts_with('b')).unwrap();
        row.factor(Symbol::Live)
    };
    let says = |word: &str| format!(r#","occupancy":"{word}""#);
    assert!(near(live_factor("4 kPa", &says("other")), 0.5));
    assert!(near(live_factor("5 kPa", &says("other")), 1.0), "more than 100 psf = 4.788 kPa");
    assert!(near(live_factor("4 kPa", &says("parking")), 1.0));
    assert!(near(live_factor("4 kPa", &says("public_assembly")), 1.0));
}

/// The lighter set of ACI 437.2 needs a determinate member and no brittle mode: what the member and the mode
/// say must reach its condition, and the engineer's own facts cannot deny a brittle mode.
#[test]
fn mode_and_restraint_reach_the_edition() {
    let beam = Beam::simple(8.0 * M, 1e5 * KN_M2).unwrap();
    let actions =
        r#"{"action":"self_weight","area":"4 kPa","in_place":1},{"action":"live","area":"3 kPa"}"#;
    let choice = |brittle: &str| {
        format!(
            r#"{{"id":"ACI 437.2-13","set":"b","facts":{{"flexural_tension_governs":true,"partial_of_suspect_tested":false{brittle}}},
            "confirmations":[{{"set":"b","role":"engineer","document":"copy","page":"1"}}]}}"#
        )
    };
    let ask = |mode: &str, brittle: &str, determinate| {
        let doubt = format!(r#"{{"mode":"{mode}","from":"3 m","to":"5 m"}}"#);
        asked(&beam, actions, &choice(brittle), &doubt, determinate)
    };
    let no = r#","brittle_suspected":false"#;
    assert_eq!(ask("flexure", no, Some(true)).unwrap().0.set, "b");
    for (mode, brittle, determinate) in [
        ("flexure", no, None),
        ("flexure", no, Some(false)),
        ("flexure", "", Some(true)),
        ("shear", "", Some(true)),
    ] {
        let error = ask(mode, brittle, determinate).unwrap_err();
        assert_eq!(error.codes(), ["editions.set-refused"], "{mode} {brittle} {determinate:?}");
        assert_eq!(error.issues[0].path, "edition.set");
    }
    let denied = ask("shear", no, Some(true)).unwrap_err();
    assert!(denied.issues.iter().any(|i| i.path == "edition.facts.brittle_suspected"), "{denied}");
    // what the description says stands in the reason
    let (set, _) =
        asked(&beam, actions, ACI, r#"{"mode":"shear","from":"1 m","to":"2 m"}"#, Some(false))
            .unwrap();
    for known in ["brittle_suspected true", "indeterminate true", "live load 3 kPa"] {
        assert!(set.why.contains(known), "{known}: {}", set.why);
    }
    // and what is taken off is noted
    let off = r#"{"action":"self_weight","area":"4 kPa","in_place":1},{"action":"superimposed_dead","area":"1 kPa","in_place":0,"taken_off":true},{"action":"live","area":"3 kPa"}"#;
    let (set, _) =
        asked(&beam, off, ACI, r#"{"mode":"flexure","from":"1 m","to":"2 m"}"#, None).unwrap();
    assert!(set.notes.iter().any(|n| n.slug.code() == "loads.taken-off"));
}

/// A beam with an overhang: uniform g = 5 in place and q = 3 kN/m on 6 + 2 m; the bridge manual takes the live
/// load 1.40 × (1 + 15 %) × (1 + 0.33) times (AASHTO MBE section 8, from memory). R_A = 16/6 w, shear right
/// of A; −V left of B is w·6 − R_A, larger in size; M in the span is R_A²/(2 w), over B −2 w.
#[test]
fn every_edition_is_asked_for_the_region_and_with_its_own_adjustments() {
    let beam = Beam::overhanging(0.0 * M, 6.0 * M, 2.0 * M, 2e4 * KN_M2).unwrap();
    let loads: Loads = read_json(
        r#"{"width":"1 m","patterns":false,"actions":[{"action":"self_weight","area":"5 kPa","in_place":1},{"action":"live","area":"3 kPa"}]}"#,
    )
    .unwrap();
    let choice: EditionChoice = read_json(
        r#"{"id":"any","set":"b","companion":"sum","adjustments":["one_lane_controls"],"impact":0.33}"#,
    )
    .unwrap();
    let table = |from: &str, to: &str| {
        let mode = if from == "0 m" { "flexure" } else { "shear" };
        let region: Doubt =
            read_json(&format!(r#"{{"mode":"{mode}","from":"{from}","to":"{to}"}}"#)).unwrap();
        compare(&beam, &loads, &choice, &region, MemberUnit::Strip, Some(true)).unwrap()
    };
    let whole = table("0 m", "8 m");
    let of = |all: &[Compared], name: &str| {
        let row = all.iter().find(|c| c.name == name).unwrap();
        row.outcome.as_ref().unwrap_or_else(|e| panic!("{name} {e:?}")).clone()
    };
    let live = 3.0 * 1.40 * 1.15 * 1.33;
    for (name, set, term, w, net) in [
        ("AASHTO MBE 8", "a", "a", 5.0 + live, live),
        ("ACI 437.2-13", "a", "a2", 5.0 + 1.6 * 3.0, 1.6 * 3.0),
    ] {
        let asks = of(&whole, name);
        assert_eq!(
            (asks.set.as_str(), asks.moment_term.as_str(), asks.shear_term.as_str()),
            (set, term, term)
        );
        let ra = |w: f64| w * 16.0 / 6.0;
        let close = |found: f64, exact: f64| assert!(near(found, exact), "{name} {found} {exact}");
        close(asks.shear.0.to(KN), ra(w) - 6.0 * w);
        close(asks.net_shear.0.to(KN), ra(net) - 6.0 * net);
        close(asks.moment.0.to(KN_M), ra(w).powi(2) / (2.0 * w));
        close(asks.net_moment.0.to(KN_M), ra(net).powi(2) / (2.0 * net));
        close(asks.hogging.0.to(KN_M), -2.0 * w);
        let written = whole.iter().find(|c| c.name == name).unwrap().write();
        for field in [
            "edition",
            "status",
            "set",
            "shear",
            "net_shear",
            "shear_term",
            "moment",
            "net_moment",
            "moment_term",
            "hogging",
        ] {
            assert!(written.get(field).is_some(), "{field}");
        }
        // the overhang alone has no shear of the span
        let tip = of(&table("6.5 m", "8 m"), name);
        close(tip.shear.0.to(KN), 1.5 * w);
        close(tip.hogging.0.to(KN_M), -1.5 * 1.5 * w / 2.0);
    }
    let refused = |c: &&Compared| c.outcome.is_err();
    assert!(whole.iter().filter(refused).all(|c| c.write().get("refused").is_some()));
    let adjusted = whole.iter().filter_map(|c| c.outcome.as_ref().err()).flatten();
    assert!(
        adjusted
            .clone()
            .all(|i| !i.slug.code().contains("adjust") && !i.slug.code().contains("impact"))
    );
    assert!(whole.windows(2).all(|w| w[0].edition <= w[1].edition), "in the order of their names");
    // one that says it, or none: nothing to compare
    let one: Vec<Compared> = whole.iter().filter(|c| c.name == "ACI 437.2-13").cloned().collect();
    assert_eq!((Compared::spread(&one), Compared::spread(&[])), (None, None));
    // the region and the actions are refused once, not once an edition
    let beyond: Doubt = read_json(r#"{"mode":"flexure","from":"0 m","to":"9 m"}"#).unwrap();
    let error = compare(&beam, &loads, &choice, &beyond, MemberUnit::Strip, None).unwrap_err();
    assert_eq!(error.codes(), ["scope.region-outside"]);
    let wide: Loads = read_json(
        r#"{"width":"1 m","actions":[{"action":"self_weight","area":"5 kPa","in_place":1},{"action":"live","area":"3 kPa","from":"7 m","to":"9 m"}]}"#,
    )
    .unwrap();
    let region: Doubt = read_json(r#"{"mode":"flexure","from":"0 m","to":"8 m"}"#).unwrap();
    let error = compare(&beam, &wide, &choice, &region, MemberUnit::Strip, None).unwrap_err();
    assert_eq!(error.codes(), ["loads.extent"]);
}

/// A load by its parts, kN and m.
#[derive(Clone, Copy)]
enum Part {
    Point(f64, f64),
    Line(f64, f64, f64, f64),
}

/// Resultant of what stands left of x and its moment about x; all of it where x has no end.
fn left(part: Part, x: f64, right: bool) -> (f64, f64) {
    match part {
        Part::Point(at, p) if at < x || (at <= x && right) => (p, p * (x - at)),
        Part::Point(..) => (0.0, 0.0),
        Part::Line(a, b, wa, wb) => {
            let c = x.min(b) - a;
            if c <= 0.0 {
                return (0.0, 0.0);
            }
            let we = wa + (wb - wa) * c / (b - a);
            // a rectangle of w_a and a triangle to w_e
            let (r, t) = (wa * c, (we - wa) * c / 2.0);
            (r + t, r * (x - a - c / 2.0) + t * (x - a - 2.0 * c / 3.0))
        }
    }
}

/// V and M beside x on bearings at a and b, or held at a.
fn statics(parts: &[Part], a: f64, b: Option<f64>, x: f64, right: bool) -> (f64, f64) {
    let sum = |x: f64, right: bool| {
        let all = parts.iter().map(|p| left(*p, x, right));
        all.fold((0.0, 0.0), |s, p| (s.0 + p.0, s.1 + p.1))
    };
    let (w, about_end) = sum(1e3, true);
    // moment of everything about the left end
    let first = w * 1e3 - about_end;
    let (mut v, mut m) = sum(x, right);
    (v, m) = (-v, -m);
    let mut push = |at: f64, force: f64| {
        if at < x || (at <= x && right) {
            v += force;
            m += force * (x - at);
        }
    };
    match b {
        Some(b) => {
            let rb = (first - w * a) / (b - a);
            push(a, w - rb);
            push(b, rb);
        }
        None => {
            push(a, w);
            m -= first - w * a;
        }
    }
    (v, m)
}

/// Each part of the working against the statics above: points at the edges of the region, loads that rise,
/// fall and end inside, patterns cut at a bearing, cantilevers.
#[test]
fn the_working_is_statics() {
    // action, from, to, left and right intensity or point; factors of a1, a2, a3 (ACI 437.2-13)
    let dead = [1.3, 1.0, 1.0];
    let live = [0.0, 1.6, 1.0];
    type Given = (&'static str, Part, [f64; 3], f64);
    let given: Vec<Given> = vec![
        (
            r#"{"action":"self_weight","line":"4 kN/m","in_place":1}"#,
            Part::Line(0.0, 8.0, 4.0, 4.0),
            dead,
            1.0,
        ),
        (
            r#"{"action":"superimposed_dead","line":"2 kN/m","from":"3 m","to":"7 m","in_place":0.5}"#,
            Part::Line(3.0, 7.0, 2.0, 2.0),
            [1.3, 1.1, 1.1],
            0.5,
        ),
        (
            r#"{"action":"live","point":{"force":"20 kN","at":"2 m"}}"#,
            Part::Point(2.0, 20.0),
            live,
            0.0,
        ),
        (
            r#"{"action":"live","point":{"force":"12 kN","at":"6 m"}}"#,
            Part::Point(6.0, 12.0),
            live,
            0.0,
        ),
        (
            r#"{"action":"live","taper":{"peak":"9 kPa","at":"1 m","zero_at":"5 m"}}"#,
            Part::Line(1.0, 5.0, 9.0, 0.0),
            live,
            0.0,
        ),
        (
            r#"{"action":"live","taper":{"peak":"6 kPa","at":"7 m","zero_at":"4 m"}}"#,
            Part::Line(4.0, 7.0, 0.0, 6.0),
            live,
            0.0,
        ),
    ];
    let actions = given.iter().map(|g| g.0).collect::<Vec<_>>().join(",");
    let ei = 2e4 * KN_M2;
    let beams = [
        (Beam::simple(8.0 * M, ei).unwrap(), 0.0, Some(8.0)),
        (Beam::overhanging(1.5 * M, 5.0 * M, 1.5 * M, ei).unwrap(), 1.5, Some(6.5)),
        (Beam::overhanging(0.0 * M, 6.0 * M, 2.0 * M, ei).unwrap(), 0.0, Some(6.0)),
        (Beam::cantilever(8.0 * M, ei).unwrap(), 0.0, None),
    ];
    for (beam, a, b) in beams {
        for mode in ["shear", "flexure", "hogging"] {
            let doubt = format!(r#"{{"mode":"{mode}","from":"2 m","to":"6 m"}}"#);
            // a span between two bearings hogs beside an overhang alone, and a cantilever sags nowhere
            let target = match asked(&beam, &actions, ACI, &doubt, None) {
                Ok((_, target)) => target,
                Err(error) => {
                    assert_eq!(error.codes(), ["scope.mode-absent"], "{mode}");
                    continue;
                }
            };
            let cuts: Vec<(f64, f64)> =
                beam.spans().iter().map(|(a, b)| (a.si(), b.si())).collect();
            let working = target.working();
            assert!(working.recheck().is_empty());
            let mut now: Option<(String, f64, bool)> = None;
            let mut seen = BTreeSet::new();
            for item in &working.items {
                match item {
                    Item::About(heading) => {
                        let Some(rest) = heading.strip_prefix("Term ") else { continue };
                        let (name, place) = rest.split_once(", net, at x = ").unwrap();
                        let (x, side) = place.split_once(" m (").unwrap();
                        now =
                            Some((name.to_owned(), x.parse().unwrap(), side.starts_with("right")));
                    }
                    Item::Step(step) if ["V(x)", "M(x)"].contains(&step.result.0.as_ref()) => {
                        let (name, x, right) = now.clone().unwrap();
                        let term = target.terms.iter().find(|t| t.id == name).unwrap();
                        let mut parts = Vec::new();
                        for (_, part, factors, there) in &given {
                            let factor = factors[term.row];
                            let varies = *factors == live;
                            for (i, (from, to)) in cuts.iter().enumerate() {
                                let on =
                                    term.pattern.as_ref().is_none_or(|p| !varies || p.loaded[i]);
                                let k = if on { factor } else { 0.0 } - there;
                                match *part {
                                    Part::Point(at, p) if at > *from && at <= *to => {
                                        parts.push(Part::Point(at, k * p))
                                    }
                                    Part::Line(l, r, wl, wr) if r > *from && l < *to => {
                                        let w = |x: f64| k * (wl + (wr - wl) * (x - l) / (r - l));
                                        let (l, r) = (l.max(*from), r.min(*to));
                                        parts.push(Part::Line(l, r, w(l), w(r)));
                                    }
                                    _ => {}
                                }
                            }
                        }
                        let (v, m) = statics(&parts, a, b, x, right);
                        let exact = if step.result.0 == "V(x)" { v } else { m };
                        let got = step.result.1.si / 1e3;
                        assert!((got - exact).abs() < 1e-7, "{name} at {x} {right}: {got} {exact}");
                        seen.insert((name, format!("{x}"), right));
                    }
                    Item::Residual { .. } => panic!("a member on two bearings is redone by hand"),
                    _ => {}
                }
            }
            // both edges of the region, from inside, and the middle
            for (x, right) in [("2", true), ("6", false), ("4", false)] {
                assert!(seen.iter().any(|s| s.1 == x && s.2 == right), "{x} {right} {seen:?}");
            }
        }
    }
}

/// Three bearings: coefficients of the member times the loads, summed. Shear right of A of two spans under
/// 30 kN/m on the first: w l/2 + M_B/l.
#[test]
fn a_continuous_member_is_followed_by_coefficients() {
    let target = two_spans("shear");
    let working = target.working();
    let at_seven = target.shear(7.0 * M, Side::Right).unwrap();
    assert_eq!(target.term_name(at_seven.term), "a2", "all spans");
    let comes_to = |kind: Kind, value: f64| {
        working.steps().any(|s| s.result.1.kind == kind && near(s.result.1.si / 1e3, value))
    };
    // V = V_A − 7 w, V_A = 4 w + M_B/8; M = V_A 7 − w 49/2 (net w = 32)
    let va = 4.0 * 32.0 + over_support(32.0, 32.0) / 8.0;
    assert!(comes_to(Kind::Force, va - 7.0 * 32.0));
    assert!(comes_to(Kind::Moment, va * 7.0 - 32.0 * 24.5));
    let residuals = working.items.iter().filter_map(|i| match i {
        Item::Solved { residual, .. } => Some(*residual),
        _ => None,
    });
    let all: Vec<f64> = residuals.collect();
    assert!(!all.is_empty() && all.iter().all(|r| r.abs() < 1e-9), "{all:?}");
}

/// Water: every piece stands as deep as the bed and the deflection make it, and weighs that.
#[test]
fn ponded_water_fills_what_the_deflection_makes() {
    let (span, width, gamma) = (12.0 * M, 2.0 * M, UnitWeight::from_si(9810.0));
    let beam = Beam::simple(span, 3e4 * KN_M2).unwrap();
    // dry beyond 9 m: the bed rises above the water
    let bed = [(0.0 * M, 0.12 * M), (6.0 * M, 0.10 * M), (12.0 * M, -0.10 * M)];
    let depth = |x: f64| if x < 6.0 { 0.12 - 0.02 * x / 6.0 } else { 0.10 - 0.2 * (x - 6.0) / 6.0 };
    let found = ponding(&beam, &bed, width, gamma, 40).unwrap();
    let mut weight = 0.0;
    for load in &found.loads {
        let Load::Line { from, to, w_from, w_to } = load else { panic!("{load:?}") };
        for (x, w) in [(from, w_from), (to, w_to)] {
            let sunk = found.response.deflection(*x).unwrap().si();
            let exact = 9810.0 * 2.0 * (depth(x.si()) + sunk).max(0.0);
            assert!((w.si() - exact).abs() < 1e-6 * 2000.0, "{} {} {exact}", x.si(), w.si());
        }
        weight += (w_from.si() + w_to.si()) / 2.0 * (to.si() - from.si());
    }
    assert!(near(found.weight.si(), weight));
    // the static water: a trapezoid, and a triangle that ends at 9 m, where a piece ends too
    let own = 9810.0 * 2.0 * ((0.12 + 0.10) / 2.0 * 6.0 + 0.10 * 3.0 / 2.0);
    assert!(near(found.static_weight.si(), own), "{} {own}", found.static_weight.si());
    let statics = beam
        .response(&[
            Load::line(
                0.0 * M,
                6.0 * M,
                gamma * (width * (0.12 * M)),
                gamma * (width * (0.10 * M)),
            ),
            Load::line(6.0 * M, 9.0 * M, gamma * (width * (0.10 * M)), 0.0 * KN_PER_M),
        ])
        .unwrap();
    let deepest = |a: &Response| a.deflection_extremes(0.0 * M, span).unwrap().max.value.si();
    assert!(near(found.amplification, deepest(&found.response) / deepest(&statics)));
    // halving the pieces moves the weight less and less
    let finer = ponding(&beam, &bed, width, gamma, 80).unwrap();
    assert!(
        finer.error > 0.0 && finer.error < 0.8 * found.error,
        "{} {}",
        finer.error,
        found.error
    );
    // a dry bed, and one with a single wet end
    let dry = ponding(&beam, &[(0.0 * M, -0.1 * M), (span, 0.0 * M)], width, gamma, 8).unwrap();
    assert!(dry.loads.is_empty() && near(dry.amplification, 1.0) && near(dry.weight.si(), 0.0));
    let wet = |a: f64, b: f64| ponding(&beam, &[(0.0 * M, a * M), (span, b * M)], width, gamma, 8);
    let (left, right) = (wet(0.1, -0.1).unwrap(), wet(-0.1, 0.1).unwrap());
    assert!(left.static_weight.si() > 0.0 && (left.weight / right.weight - 1.0).abs() < 1e-9);
}

#[test]
fn water_that_cannot_be_is_refused() {
    let (span, gamma) = (12.0 * M, UnitWeight::from_si(9810.0));
    let beam = Beam::simple(span, 3e4 * KN_M2).unwrap();
    let good = [(0.0 * M, 0.1 * M), (span, 0.1 * M)];
    assert!(ponding(&beam, &good, 2.0 * M, gamma, 8).is_ok());
    let refused = |bed: &[(Length, Length)], width: f64, gamma: f64| {
        ponding(&beam, bed, width * M, UnitWeight::from_si(gamma), 8).unwrap_err().codes()
    };
    let d = 0.1 * M;
    for bed in [
        &[][..],
        &good[..1],
        &[(0.0 * M, d), (0.0 * M, d)],
        &[(6.0 * M, d), (3.0 * M, d)],
        &[(-1.0 * M, d), (6.0 * M, d)],
        &[(0.0 * M, d), (12.1 * M, d)],
        &[(0.0 * M, d), (span, f64::INFINITY * M)],
    ] {
        let codes = refused(bed, 2.0, 9810.0);
        assert!(codes.iter().all(|c| *c == "loads.ponding-bed"), "{bed:?}: {codes:?}");
    }
    for (width, gamma) in [
        (0.0, 9810.0),
        (-1.0, 9810.0),
        (f64::NAN, 9810.0),
        (2.0, 0.0),
        (2.0, -1.0),
        (2.0, f64::NAN),
    ] {
        assert_eq!(refused(&good, width, gamma), ["loads.ponding-bed"], "{width} {gamma}");
    }
    // 1/(1 − 0.25) = 4/3 is the last one; 1/(1 − 0) nothing added
    assert!(near(amplified(0.25).unwrap(), 4.0 / 3.0) && near(amplified(0.0).unwrap(), 1.0));
    for alpha in [-1e-9, 0.2501, f64::NAN] {
        assert_eq!(amplified(alpha).unwrap_err().codes(), ["loads.ponding-coupled"]);
    }
    // a bed that rises and falls again along the beam, but all places in order
    assert!(
        ponding(&beam, &[(1.0 * M, d), (5.0 * M, 0.0 * M), (11.0 * M, d)], 2.0 * M, gamma, 8)
            .is_ok()
    );
}
