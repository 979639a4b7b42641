//! Levels that carry a catch: springs that only push, each with posts, gap, own load and strength of its
//! own; posts by table and as columns. Expected values: spring chains and column formulas by hand.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, clippy::panic, reason = "tests")]

use proofspan::Error;
use proofspan::scope::Mode;
use proofspan::shoring::{
    Catching, LevelLoad, Resistance, ShoringSpec, Stacked, euler, shares, stack,
};
use proofspan::source::read_json;
use proofspan::units::*;
use proptest::prelude::*;

#[track_caller]
fn near(value: f64, exact: f64) {
    assert!((value - exact).abs() <= 1e-9 * exact.abs().max(1.0), "{value} for {exact}");
}

fn level(k: f64, posts: Option<(f64, f64)>) -> Stacked {
    Stacked { level: k * KN_PER_MM, posts: posts.map(|(k, gap)| (k * KN_PER_MM, gap * MM)) }
}

/// Four levels, the lowest on a stiff pad, 120 kN on top; fractions of 71603 by exact elimination.
#[test]
fn four_levels_by_fractions() {
    let post = Some((25.0, 0.0));
    let all = [level(20.0, post), level(12.0, post), level(12.0, post), level(1000.0, None)];
    let found = stack(&all, 120.0 * KN);
    for (c, exact) in found.iter().zip([5_217_160.0, 1_510_200.0, 615_000.0, 1_250_000.0]) {
        near(c.force.to(KN), exact / 71_603.0);
    }
    near(found[0].posts.to(KN), 3_375_200.0 / 71_603.0);
}

/// Two levels of 10 kN/mm, posts of 20 kN/mm with 2 mm of gap: 20 kN close it. Under 60 kN
/// 10 u1 + N = 60, N = 20 (u1 − 2 − u2) = 10 u2: u1 = 4.4 mm, u2 = 1.6 mm, N = 16 kN.
#[test]
fn a_gap_closes() {
    let all = [level(10.0, Some((20.0, 2.0))), level(10.0, None)];
    let open = stack(&all, 20.0 * KN);
    near(open[0].force.to(KN), 20.0);
    near(open[1].force.to(KN), 0.0);
    let closed = stack(&all, 60.0 * KN);
    near(closed[0].moves.to(MM), 4.4);
    near(closed[1].moves.to(MM), 1.6);
    near(closed[0].posts.to(KN), 16.0);
    // a second gap stays open until the level above it has come down by it
    let three = [level(10.0, Some((20.0, 2.0))), level(10.0, Some((20.0, 1.7))), level(10.0, None)];
    let found = stack(&three, 60.0 * KN);
    near(found[0].moves.to(MM), 4.4);
    near(found[2].force.to(KN), 0.0);
}

/// What `shares` gives, from the same chain: thirds on rigid posts, all of it on one level.
#[test]
fn shares_of_equal_levels() {
    let rigid = shares(&[10.0 * KN_PER_MM; 3], 1e9 * KN_PER_MM, false);
    rigid.iter().for_each(|s| assert!((s.share.value() - 1.0 / 3.0).abs() < 1e-6));
    assert_eq!(shares(&[10.0 * KN_PER_MM], 1.0 * KN_PER_MM, false)[0].share.value(), 1.0);
    assert!(shares(&[], 1.0 * KN_PER_MM, false).is_empty());
}

proptest! {
    /// A softer post never attracts more load; a wider gap neither; all of the load is carried.
    #[test]
    fn softer_posts_carry_less(
        k in proptest::collection::vec(1.0..50.0f64, 2..7), kp in 5.0..80.0f64, gap in 0.0..5.0f64,
        which in 0usize..6, softer in 0.1..0.99f64, f in 1.0..900.0f64,
    ) {
        let n = k.len();
        let which = which % (n - 1);
        let build = |own: f64, own_gap: f64| -> Vec<Stacked> {
            k.iter().enumerate().map(|(i, k)| {
                let (kp, gap) = if i == which { (own, own_gap) } else { (kp, gap) };
                level(*k, (i + 1 < n).then_some((kp, gap)))
            }).collect()
        };
        let force = f * KN;
        let base = stack(&build(kp, gap), force);
        let soft = stack(&build(kp * softer, gap), force);
        let wide = stack(&build(kp, gap + 0.5), force);
        let slack = 1e-9 * force;
        prop_assert!(soft[which].posts <= base[which].posts + slack);
        prop_assert!(wide[which].posts <= base[which].posts + slack);
        let all: Force = base.iter().map(|c| c.force).sum();
        prop_assert!((all - force).abs() <= slack);
        prop_assert!(base.iter().all(|c| c.force >= -slack && c.posts >= -slack));
    }
}

const LEVELS: &str = r#""levels": [
    { "id": "two", "stiffness": "10 kN/mm", "strength": "200 kN", "own_load": "80 kN",
      "posts": { "stiffness": "10 kN/mm", "gap": "2 mm", "resistance": { "posts": 2, "rated": "40 kN", "lean": 0.04 } } },
    { "id": "one", "stiffness": "10 kN/mm", "spare": "90 kN", "spare_after": "own weight" } ]"#;

fn spec(more: &str) -> Result<ShoringSpec, Error> {
    read_json(&format!(
        r#"{{ "catch": {{ "at": "5 m", "stiffness": "10 kN/mm", "gap": "10 mm", "resistance": {{ "posts": 4, "rated": "200 kN" }} }}, {more} }}"#
    ))
}

/// 10 m with 10 kN/m on a catch at mid-span, 10 mm of drop: 100 (1 + √3) kN.
fn caught(more: &str) -> proofspan::shoring::CatchCheck {
    let spec = spec(more).unwrap();
    let mut asked = Catching::of(10.0 * M, 10.0 * KN_PER_M, Mode::Shear, 0.0 * M, 1.0 * M);
    asked.catches = spec.catch.clone();
    asked.levels = spec.levels.clone();
    asked.post_stiffness = spec.post_stiffness.clone();
    asked.to_ground = spec.to_ground;
    asked.ground = spec.ground.clone();
    asked.check().unwrap()
}

/// The chain of `a_gap_closes` with two posts of 10 kN/mm below the top: of F = 100 (1 + √3) kN the posts
/// take N = 20 (u1 − 2)/3 with 10 u1 + N = F. The top level has 200 − 80 kN to spare, two posts 80 kN.
#[test]
fn levels_with_posts_of_their_own() {
    let found = caught(LEVELS);
    let f = 100.0 * (1.0 + 3.0_f64.sqrt());
    let u = (3.0 * f + 40.0) / 50.0;
    let n = 20.0 * (u - 2.0) / 3.0;
    let [top, low] = &found.shoring.stack[..] else { panic!() };
    near(top.force.to(KN), 10.0 * u);
    near(top.posts.to(KN), n);
    near(top.left.unwrap().to(KN), 120.0 - 10.0 * u);
    near(top.posts_carry.unwrap().to(KN), 80.0);
    // 4 % of lean is more than 2.5 %
    near(top.sideways.to(KN), 0.04 * n);
    near(low.force.to(KN), n);
    let codes: Vec<&str> = found.shoring.stops.iter().map(|s| s.slug.code()).collect();
    let mut expected = vec!["shoring.level-over-capacity"];
    if n > 80.0 {
        expected.push("shoring.posts-over-capacity");
    }
    if n > 90.0 {
        expected.push("shoring.level-over-capacity");
    }
    assert!(expected.iter().all(|c| codes.contains(c)), "{codes:?} {u} {n}");
    assert_eq!(found.shoring.levels_needed, None);
    assert!(found.working().recheck().is_empty());
}

/// On ground that gives 50 kN/mm and carries 100 kN: the posts below the lowest level and the ground are
/// two springs in a row, 20 · 50/70; ground that is not described does not give.
#[test]
fn the_ground_is_a_level() {
    let more = |ground: &str| {
        format!(
            r#""levels": [ {{ "id": "one", "stiffness": "10 kN/mm", "spare": "900 kN", "spare_after": "all" }} ],
            "post_stiffness": "20 kN/mm", "to_ground": true {ground}"#
        )
    };
    let f = 100.0 * (1.0 + 3.0_f64.sqrt());
    let ground =
        |found: &proofspan::shoring::CatchCheck| -> LevelLoad { found.shoring.stack[1].clone() };
    let stiff = caught(&more(""));
    // not known to give, it takes two thirds; not known to hold, the level takes all
    near(ground(&stiff).force.to(KN), f * 20.0 / 30.0);
    near(stiff.shoring.stack[0].force.to(KN), f);
    assert_eq!(ground(&stiff).left, None);
    let soft = caught(&more(r#", "ground": { "stiffness": "50 kN/mm", "carries": "100 kN" }"#));
    let k = 20.0 * 50.0 / 70.0;
    near(ground(&soft).force.to(KN), f * k / (10.0 + k));
    let codes: Vec<&str> = soft.shoring.stops.iter().map(|s| s.slug.code()).collect();
    assert!(codes.contains(&"shoring.ground-over-capacity"), "{codes:?}");
}

fn resistance(text: &str) -> Result<Resistance, Error> {
    read_json(text)
}

/// The force that the posts of a catch carry.
fn carries(text: &str) -> f64 {
    let mut asked = Catching::of(10.0 * M, 10.0 * KN_PER_M, Mode::Shear, 0.0 * M, 1.0 * M)
        .catch(5.0 * M, 10.0 * MM, 400.0 * KN, 10.0 * KN_PER_MM)
        .to_the_ground();
    asked.catches.first_mut().unwrap().resistance = resistance(text).unwrap();
    asked.check().unwrap().shoring.catches[0].resistance.to(KN)
}

/// A supplier's table is read at the next greater height, never between two rows.
#[test]
fn posts_by_table() {
    let table = |height: &str, rows: &str| {
        format!(r#"{{ "posts": 3, "height": "{height}", "table": [ {rows} ] }}"#)
    };
    let rows = r#"{ "height": "2 m", "carries": "40 kN" }, { "height": "3 m", "carries": "30 kN" }, { "height": "4 m", "carries": "18 kN" }"#;
    for (height, one) in
        [("1.5 m", 40.0), ("2 m", 40.0), ("2.01 m", 30.0), ("3.5 m", 18.0), ("4 m", 18.0)]
    {
        near(carries(&table(height, rows)), 3.0 * one);
    }
    let refused = |text: &str| {
        let error = resistance(text).unwrap_err();
        error.issues.iter().map(|i| (i.slug.code(), i.path.clone())).collect::<Vec<_>>()
    };
    let path = |p: &str| vec![("shoring.post-table", p.to_owned())];
    assert_eq!(refused(&table("4.1 m", rows)), path("height"));
    assert_eq!(refused(&table("2 m", &rows.replace("18 kN", "31 kN"))), path("table[2]"));
    assert_eq!(refused(&table("2 m", &rows.replace("\"3 m\"", "\"1 m\""))), path("table[1]"));
    let blank = table("2 m", rows).replace(r#""height": "2 m", "table""#, r#""table""#);
    assert_eq!(refused(&blank), path("height"));
}

/// Euler: EI = 100 kN·m² over 3 m, π² · 100/9 kN. Without eccentricity the column carries the smaller of
/// squash and Euler load; with one its answer keeps N/N_y + N e/(M_y (1 − N/N_cr)) = 1. A lean of 1/50
/// adds 3 m/100 to the eccentricity.
#[test]
fn posts_as_columns() {
    let ei = 100.0 * KN_M2;
    let critical = std::f64::consts::PI.powi(2) * 100.0 / 9.0;
    near(euler(ei, 3.0 * M).to(KN), critical);
    let column = |squash: f64, e: f64, lean: f64| {
        carries(&format!(
            r#"{{ "posts": 2, "height": "3 m", "material_factor": 1.1, "lean": {lean}, "column": {{ "rigidity": "100 kN·m^2",
                "squash": "{squash} kN", "yields_at": "4 kN·m", "eccentricity": "{e} mm" }} }}"#
        )) / 2.0
            * 1.1
    };
    near(column(80.0, 0.0, 0.0), 80.0);
    near(column(300.0, 0.0, 0.0), critical);
    for (e, lean) in [(10.0, 0.0), (0.0, 0.02), (15.0, 0.02)] {
        let n = column(200.0, e, lean);
        let all = e / 1e3 + 3.0 * lean / 2.0;
        near(n / 200.0 + n * all / (4.0 * (1.0 - n / critical)), 1.0);
        assert!(n < critical);
    }
}

/// A level listed twice, one of unknown strength, one that its own load has used up, posts of unknown
/// strength, a gap below zero: refused, not assumed.
#[test]
fn levels_that_cannot_be() {
    let refused = |old: &str, new: &str| {
        assert!(LEVELS.contains(old), "{old}");
        spec(&LEVELS.replacen(old, new, 1)).unwrap_err().codes()
    };
    assert_eq!(refused(r#""id": "one""#, r#""id": "Two ""#), ["shoring.level-twice"]);
    assert_eq!(refused(r#", "own_load": "80 kN""#, ""), ["shoring.level-strength"]);
    assert_eq!(
        refused(r#""own_load": "80 kN""#, r#""own_load": "200 kN""#),
        ["shoring.level-strength"]
    );
    assert_eq!(refused(r#""spare": "90 kN", "#, ""), ["shoring.level-strength"]);
    assert_eq!(refused(r#""gap": "2 mm""#, r#""gap": "-2 mm""#), ["shoring.gap-missing"]);
    assert_eq!(refused(r#", "rated": "40 kN""#, ""), ["shoring.resistance"]);
    let unsaid =
        LEVELS.replacen(r#", "resistance": { "posts": 2, "rated": "40 kN", "lean": 0.04 }"#, "", 1);
    assert_eq!(spec(&unsaid).unwrap_err().codes(), ["shoring.resistance"]);
    let ground = format!(r#"{LEVELS}, "ground": {{ "carries": "9 kN" }}"#);
    assert_eq!(spec(&ground).unwrap_err().codes(), ["shoring.levels-zero"]);
}
