//! The dynamic factor: its bound, the refined one, and pads that are crushed. Expected values: energy
//! balances by hand.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]

use proofspan::scope::Mode;
use proofspan::shoring::{Catching, Caught, Drive};
use proofspan::source::{Given, read_json};
use proofspan::units::*;

#[track_caller]
fn near(value: f64, exact: f64) {
    assert!((value - exact).abs() <= 1e-9 * exact.abs().max(1.0), "{value} for {exact}");
}

/// 10 m with 10 kN/m: 100 kN at mid-span, on 10 kN/mm.
fn asked(gap: f64, pad: &str) -> Catching {
    let posts = 10.0 * KN_PER_MM;
    let mut asked = Catching::of(10.0 * M, 10.0 * KN_PER_M, Mode::Shear, 0.0 * M, 1.0 * M)
        .catch(5.0 * M, gap * MM, 400.0 * KN, posts)
        .to_the_ground();
    if !pad.is_empty() {
        asked.catches.first_mut().unwrap().pad = Some(read_json(pad).unwrap());
    }
    asked
}

fn caught(asked: &Catching) -> Caught {
    asked.check().unwrap().shoring.catches[0].clone()
}

/// Without a pad 100 (1 + √(1 + 2 · 10 · 10/100)) = 100 (1 + √3). A pad of 200 kN: at 200 kN the catch
/// has given 20 mm; energy 100 (10 + 20) − 200 · 20/2 = 1000 kN·mm is left for 200 − 100 kN: 10 mm.
/// A pad of 4 mm is crushed out: 100 + √(100² + 2 · 10 (100 · 10 − (200 − 100) · 4)).
#[test]
fn a_pad_is_crushed() {
    let bare = caught(&asked(10.0, ""));
    near(bare.force.to(KN), 100.0 * (1.0 + 3.0_f64.sqrt()));
    assert_eq!(bare.crushed, None);
    let long = caught(&asked(10.0, r#"{ "crush": "200 kN", "travel": "30 mm" }"#));
    near(long.force.to(KN), 200.0);
    near(long.crushed.unwrap().to(MM), 10.0);
    near(long.bound.to(KN), 100.0 * (1.0 + 3.0_f64.sqrt()));
    near(long.dynamic.unwrap(), 2.0);
    near(long.dynamic_bound.unwrap(), 1.0 + 3.0_f64.sqrt());
    let short = caught(&asked(10.0, r#"{ "crush": "200 kN", "travel": "4 mm" }"#));
    near(short.force.to(KN), 100.0 + (100.0_f64.powi(2) + 20.0 * (1000.0 - 400.0)).sqrt());
    near(short.crushed.unwrap().to(MM), 4.0);
    // a pad that is harder than what comes does nothing
    let hard = caught(&asked(10.0, r#"{ "crush": "300 kN", "travel": "4 mm" }"#));
    near(hard.force.to(KN), bare.force.to(KN));
    near(hard.crushed.unwrap().to(MM), 0.0);
    // and one that is softer than what rests on it is crushed out by the weight alone
    let soft = caught(&asked(10.0, r#"{ "crush": "80 kN", "travel": "4 mm" }"#));
    near(soft.force.to(KN), 100.0 + (100.0_f64.powi(2) + 20.0 * (1000.0 + 80.0)).sqrt());
}

/// Sizing is the inverse of checking: at the largest gap the force is the resistance, 400 kN:
/// h = (R²/2k + (F_c − W) t − W R/k)/W = (8000 + 100 t − 4000)/100 mm.
#[test]
fn the_largest_gap_with_a_pad() {
    for (t, h) in [(4.0, 44.0), (30.0, 70.0)] {
        let pad = format!(r#"{{ "crush": "200 kN", "travel": "{t} mm" }}"#);
        let high = caught(&asked(10.0, &pad)).gap_high.unwrap().to(MM);
        near(high, h);
        near(caught(&asked(high, &pad)).force.to(KN), 400.0);
    }
}

/// A locked-off jack of 80 kN at mid-span that springs back 5 mm: with the pad its energy 80 · 5/2 is spent
/// as well. 100 · 30 + 200 − 2000 = 1200 kN·mm on 100 kN: 12 mm.
#[test]
fn a_locked_off_rig_crushes_the_pad_further() {
    let mut rig =
        asked(10.0, r#"{ "crush": "200 kN", "travel": "30 mm" }"#).force(5.0 * M, 80.0 * KN);
    rig.drive = Drive::LockedOffJacks;
    rig.spring_back = Some(Given::new(5.0 * MM).unwrap());
    let found = caught(&rig);
    near(found.force.to(KN), 200.0);
    near(found.crushed.unwrap().to(MM), 12.0);
    // the bound counts the jack as a weight: 180 (1 + √(1 + 2 · 10 · 10/180))
    near(found.bound.to(KN), 180.0 * (1.0 + (1.0 + 200.0 / 180.0_f64).sqrt()));
    // a spring-back that is not given has no bound either
    rig.spring_back = None;
    rig.catches.first_mut().unwrap().pad = None;
    near(caught(&rig).force.to(KN), 180.0 * (1.0 + (1.0 + 200.0 / 180.0_f64).sqrt()));
}
