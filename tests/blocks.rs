//! Whole blocks: fewest lifts, then least weight, against every layout there is; and on their way to the
//! place. Expected values: statics of a simple span.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, clippy::panic, reason = "tests")]

use proofspan::rig::{Blocks, Placement, Press, Rig, RigSpec, check, place_blocks};
use proofspan::source::read_json;
use proofspan::units::*;
use proofspan::verdict::MemberUnit;

#[track_caller]
fn near(value: f64, exact: f64) {
    assert!((value - exact).abs() <= 1e-9 * exact.abs().max(1.0), "{value} for {exact}");
}

#[derive(Clone)]
struct Kind {
    weight: f64,
    length: f64,
    layers: u32,
    number: u32,
}

struct Case {
    own: f64,
    pull: (f64, f64),
    hogging: f64,
    factor: f64,
    kinds: Vec<Kind>,
    places: Vec<(f64, f64)>,
}

const SPAN: f64 = 10.0;

fn blocks(case: &Case, carries: &str) -> Blocks {
    let kinds: Vec<String> = case
        .kinds
        .iter()
        .enumerate()
        .map(|(i, k)| {
            format!(
                r#"{{ "id": "K{i}", "weight": "{} kN", "length": "{} m", "width": "1 m", "layers": {}, "number": {} }}"#,
                k.weight, k.length, k.layers, k.number
            )
        })
        .collect();
    let places: Vec<String> = case
        .places
        .iter()
        .map(|(a, b)| format!(r#"{{ "from": "{a} m", "to": "{b} m", "carries": "{carries}" }}"#))
        .collect();
    read_json(&format!(r#"{{ "kinds": [{}], "places": [{}] }}"#, kinds.join(","), places.join(",")))
        .unwrap()
}

fn found(case: &Case, carries: &str) -> Option<Placement> {
    place_blocks(
        &blocks(case, carries),
        (SPAN * M, case.own * KN_PER_M),
        &[(case.pull.0 * M, case.pull.1 * KN)],
        case.hogging * KN_M,
        case.factor,
    )
    .unwrap()
}

/// Every number of units of every kind in every place, in every order: fewest lifts, least weight, ties.
fn brute(case: &Case) -> Option<(u32, f64, usize)> {
    let slots: Vec<(usize, usize)> =
        (0..case.places.len()).flat_map(|p| (0..case.kinds.len()).map(move |k| (p, k))).collect();
    let mut best: Option<(u32, f64, usize)> = None;
    let mut n = vec![0_u32; slots.len()];
    loop {
        let fits = (0..case.kinds.len()).all(|k| {
            let used: u32 = slots.iter().zip(&n).filter(|(s, _)| s.1 == k).map(|(_, n)| n).sum();
            used <= case.kinds[k].number
        });
        if fits {
            let lifts: u32 = n.iter().sum();
            let weight: f64 =
                slots.iter().zip(&n).map(|(s, n)| case.kinds[s.1].weight * f64::from(*n)).sum();
            let ways = holding(case, &slots, &n);
            if ways > 0 {
                best = match best {
                    Some((l, w, t)) if l == lifts && (w - weight).abs() < 1e-9 => {
                        Some((l, w, t + ways))
                    }
                    Some(b) if (b.0, b.1) < (lifts, weight) => Some(b),
                    _ => Some((lifts, weight, ways)),
                };
            }
        }
        // the next numbers
        let mut i = 0;
        while i < n.len() {
            n[i] += 1;
            if n[i] <= case.kinds[slots[i].1].number {
                break;
            }
            n[i] = 0;
            i += 1;
        }
        if i == n.len() {
            return best;
        }
    }
}

fn holding(case: &Case, slots: &[(usize, usize)], n: &[u32]) -> usize {
    let mut rows: Vec<Vec<Vec<usize>>> = Vec::new();
    for p in 0..case.places.len() {
        let groups: Vec<usize> = (0..n.len()).filter(|i| n[*i] > 0 && slots[*i].0 == p).collect();
        let long: f64 = groups.iter().map(|i| columns(case, slots[*i].1, n[*i])).sum();
        if long > case.places[p].1 - case.places[p].0 + 1e-9 {
            return 0;
        }
        rows.push(orders(&groups));
    }
    let mut ways = 0;
    let total: usize = rows.iter().map(Vec::len).product();
    for mut pick in 0..total {
        let mut forces: Vec<(f64, f64)> = Vec::new();
        for (p, row) in rows.iter().enumerate() {
            let order = &row[pick % row.len()];
            pick /= row.len();
            let mut edge = case.places[p].0;
            for i in order {
                let k = &case.kinds[slots[*i].1];
                let mut rest = n[*i];
                while rest > 0 {
                    let here = rest.min(k.layers);
                    // a column stands on its whole length: two halves, each at its middle
                    for z in [edge + k.length / 4.0, edge + k.length * 0.75] {
                        forces.push((z, f64::from(here) * k.weight / 2.0));
                    }
                    edge += k.length;
                    rest -= here;
                }
            }
        }
        ways += usize::from(holds(case, &forces));
    }
    ways
}

fn columns(case: &Case, kind: usize, n: u32) -> f64 {
    f64::from(n.div_ceil(case.kinds[kind].layers)) * case.kinds[kind].length
}

fn holds(case: &Case, forces: &[(f64, f64)]) -> bool {
    let (x, p) = case.pull;
    let own = case.own * SPAN / 2.0;
    let left: f64 = forces.iter().map(|(z, f)| f * (SPAN - z) / SPAN).sum();
    let right: f64 = forces.iter().map(|(z, f)| f * z / SPAN).sum();
    let moment: f64 = forces.iter().map(|(z, f)| f * z.min(x) * (SPAN - z.max(x)) / SPAN).sum();
    let uplift = [p * (SPAN - x) / SPAN, p * x / SPAN];
    let net = case.own * x * (SPAN - x) / 2.0 + moment - p * x * (SPAN - x) / SPAN;
    own + left >= case.factor * uplift[0] - 1e-6
        && own + right >= case.factor * uplift[1] - 1e-6
        && net >= -case.hogging - 1e-6
}

fn orders(items: &[usize]) -> Vec<Vec<usize>> {
    if items.is_empty() {
        return vec![Vec::new()];
    }
    let mut all = Vec::new();
    for i in 0..items.len() {
        let mut rest = items.to_vec();
        let first = rest.remove(i);
        for mut tail in orders(&rest) {
            tail.insert(0, first);
            all.push(tail);
        }
    }
    all
}

/// Own weight 50 kN a bearing, a pull of 120 kN at mid-span, factor 5/3: 50 kN more at each. Four blocks
/// of 25 kN on each other at mid-span bring exactly that.
#[test]
fn four_blocks_by_hand() {
    let mut case = Case {
        own: 10.0,
        pull: (5.0, 120.0),
        hogging: 900.0,
        factor: 5.0 / 3.0,
        kinds: vec![Kind { weight: 25.0, length: 1.0, layers: 4, number: 6 }],
        places: vec![(4.5, 5.5)],
    };
    let four = found(&case, "100 kPa").unwrap();
    assert_eq!((four.lifts, four.ties), (4, 1));
    let group = &four.layouts[0].groups[0];
    assert_eq!((group.number, group.columns, group.layers), (4, 1, 4));
    near(group.at.to(M), 5.0);
    near(four.weight.to(KN), 100.0);
    // a floor that carries 99 kPa takes three on a square metre, and then no place is left
    assert_eq!(found(&case, "99 kPa"), None);
    // hogging: P x (L − x)/L = 300, own 125, blocks 25 (2.5 − 1/8): 100 allowed ask for 75
    (case.factor, case.hogging) = (1.0, 100.0);
    assert_eq!(found(&case, "100 kPa").unwrap().lifts, 2);
    case.hogging = 300.0;
    case.kinds[0].number = 0;
    case.factor = 0.1;
    case.kinds[0].number = 1;
    let none = found(&case, "100 kPa").unwrap();
    assert_eq!((none.lifts, none.layouts[0].groups.len()), (0, 0));
}

#[test]
fn no_layout_is_better_than_the_one_that_is_found() {
    let mut state = 7_u64;
    let mut draw = |from: f64, to: f64, step: f64| {
        state =
            state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        #[expect(clippy::cast_precision_loss, reason = "31 bits")]
        let part = (state >> 33) as f64 / f64::from(1_u32 << 31);
        from + (part * (to - from) / step).round() * step
    };
    let mut answered = 0;
    for _ in 0..60 {
        let mut kind = || {
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "1 to 5")]
            let whole = |x: f64| x as u32;
            Kind {
                weight: draw(4.0, 16.0, 1.0),
                length: draw(0.5, 1.5, 0.25),
                layers: whole(draw(1.0, 4.0, 1.0)),
                number: whole(draw(2.0, 5.0, 1.0)),
            }
        };
        let kinds = vec![kind(), kind()];
        let case = Case {
            own: draw(3.0, 8.0, 0.5),
            pull: (draw(2.0, 8.0, 0.5), draw(20.0, 70.0, 1.0)),
            hogging: draw(0.0, 80.0, 10.0),
            factor: 5.0 / 3.0,
            kinds,
            places: vec![(draw(0.0, 1.0, 0.5), draw(2.0, 4.0, 0.5)), (draw(5.0, 6.0, 0.5), 9.0)],
        };
        let found = found(&case, "1000 kPa");
        match (found, brute(&case)) {
            (None, None) => {}
            (Some(a), Some((lifts, weight, ties))) => {
                answered += 1;
                assert_eq!((a.lifts, a.ties), (lifts, ties));
                near(a.weight.to(KN), weight);
                assert_eq!(a.layouts.len(), ties.min(20));
            }
            (a, b) => panic!("{a:?} {b:?}"),
        }
    }
    assert!(answered > 20, "{answered}");
}

fn spec(more: &str) -> RigSpec {
    read_json(&format!(
        r#"{{ "reaction": {{ "id": "R", "at": "2 m", "span": "10 m", "self_weight": "10 kN/m", "seat": "seated",
            "rigidity": {{ "modulus": "30 GPa", "second_moment": "2e9 mm^4" }},
            "shear_capacity": "900 kN", "sagging_capacity": "700 kN·m", "hogging_capacity": "900 kN·m" }},
        "jacks": {{ "number": 1, "piston": {{ "area": "8000 mm^2" }}, "rated_pressure": "70 MPa", "stroke": "150 mm",
            "pump": {{ "stroke": "1 ml", "dead_man": true, "remote_release": true }}, "fittings": {{ "hose_burst": "300 MPa", "relief": "60 MPa", "held_at_jack": true }} }}, "train": {{ "plate": "200 mm", "lateral": "100 kN", "moment": "100 kN·m", "braced": true, "retained": true }}, {more} }}"#
    ))
    .unwrap()
}

fn rig(more: &str) -> Rig {
    let press = [Press::jack(7.0 * M, Net(120.0 * KN))];
    check(&spec(more), "T", MemberUnit::Strip, &press, 1.0 * MM).unwrap()
}

const FOUR: &str = r#""blocks": { "kinds": [ { "id": "cube", "weight": "25 kN", "length": "1 m", "width": "1 m", "layers": 4, "number": 6 } ],
    "places": [ { "from": "6.5 m", "to": "7.5 m", "carries": "100 kPa" } ] }"#;

/// The same in a rig whose reaction begins at 2 m: the blocks that are chosen are checked like weights
/// that are listed. Moment at mid-span with all of them and no pull: 10 · 10²/8 + 100 (2.5 − 1/4 · ½).
#[test]
fn blocks_that_are_chosen_are_checked() {
    let found = rig(FOUR);
    assert!(found.stops.is_empty(), "{:?}", found.stops);
    near(found.placement.as_ref().unwrap().layouts[0].groups[0].at.to(M), 7.0);
    for bearing in &found.bearings {
        near(bearing.stabilising.to(KN), 100.0);
        near(bearing.factor.unwrap(), 100.0 / 60.0);
    }
    near(found.stages[0].sagging.to(KN_M), 125.0 + 100.0 * (2.5 - 0.125));
    let short = rig(&FOUR.replace(r#""number": 6"#, r#""number": 3"#));
    let codes: Vec<&str> = short.stops.iter().map(|s| s.slug.code()).collect();
    assert!(codes.contains(&"rig.blocks-short") && codes.contains(&"rig.liftoff-below-floor"));
    let refused = |old: &str, new: &str| {
        let press = [Press::jack(7.0 * M, Net(120.0 * KN))];
        let text = FOUR.replace(old, new);
        match read_json::<Blocks>(text.trim_start_matches(r#""blocks": "#)) {
            Err(e) => e.codes(),
            Ok(_) => {
                check(&spec(&text), "T", MemberUnit::Strip, &press, 1.0 * MM).unwrap_err().codes()
            }
        }
    };
    assert_eq!(refused(r#""from": "6.5 m""#, r#""from": "1.5 m""#), ["rig.blocks"]);
    assert_eq!(refused(r#""from": "6.5 m""#, r#""from": "8 m""#), ["rig.blocks"]);
    assert_eq!(refused(r#", "carries": "100 kPa""#, ""), ["rig.blocks"]);
}

/// A piece of 200 kN on its way crosses mid-span: 125 + 200 · 10/4 = 625 kN·m of 700; with 240 kN 725: a
/// stop. Shear at a bearing 50 + 200.
#[test]
fn the_way_of_the_weights() {
    let way = |force: &str| {
        rig(&format!(
            r#""counterweights": [ {{ "force": "100 kN", "at": "7 m" }} ],
            "transport": {{ "force": "{force}", "from": "0 m", "to": "14 m" }}"#
        ))
    };
    let fine = way("200 kN");
    assert!(fine.stops.is_empty(), "{:?}", fine.stops);
    let stage = fine.stages.last().unwrap();
    near(stage.sagging.to(KN_M), 625.0);
    near(stage.sagging_at.to(M), 7.0);
    assert!((stage.shear.to(KN) / 250.0 - 1.0).abs() < 1e-5, "{}", stage.shear.to(KN));
    let heavy = way("240 kN");
    assert_eq!(heavy.stops[0].slug.code(), "rig.staging-over-capacity");
    let text = r#"{ "force": "1 kN", "from": "4 m", "to": "3 m" }"#;
    let refused = read_json::<proofspan::rig::Transport>(text).unwrap_err();
    assert_eq!(refused.codes(), ["rig.transport"]);
}

/// On two spans of 5 m a weight on the first alone lifts the third bearing: every step of placing counts.
#[test]
fn every_placing_step_counts() {
    let text = r#"{ "reaction": { "id": "R", "at": "0 m", "span": ["5 m", "5 m"], "self_weight": "1 kN/m", "seat": "seated",
            "rigidity": { "modulus": "30 GPa", "second_moment": "2e9 mm^4" },
            "shear_capacity": "900 kN", "sagging_capacity": "900 kN·m", "hogging_capacity": "900 kN·m" },
        "counterweights": [ { "force": "60 kN", "at": "2.5 m" }, { "force": "60 kN", "at": "7.5 m" } ],
        "jacks": { "number": 1, "piston": { "area": "8000 mm^2" }, "rated_pressure": "70 MPa", "stroke": "150 mm",
            "pump": { "stroke": "1 ml", "dead_man": true, "remote_release": true }, "fittings": { "hose_burst": "300 MPa", "relief": "60 MPa", "held_at_jack": true } }, "train": { "plate": "200 mm", "lateral": "100 kN", "moment": "100 kN·m", "braced": true, "retained": true } }"#;
    let spec: RigSpec = read_json(text).unwrap();
    let press = [Press::jack(5.0 * M, Net(10.0 * KN))];
    let found = check(&spec, "T", MemberUnit::Strip, &press, 1.0 * MM).unwrap();
    let step = found.stages.iter().find(|s| s.name.starts_with("placing: 1 of 2")).unwrap();
    // third bearing: own 3/8 · 5 kN, the weight −3/32 · 60 (three-moment equation)
    near(step.reactions[2].force.to(KN), 15.0 / 8.0 - 60.0 * 3.0 / 32.0);
    assert!(found.stops.iter().any(|s| s.slug.code() == "rig.liftoff-below-floor"
        && s.message.as_str().starts_with("placing: 1 of 2")));
}
