//! Laws of rigs by chance: weight helps, sizing and checking are inverse, a hold ends where its band does.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]

use proofspan::formula::NoRecord;
use proofspan::rig::{Hydraulic, Reaction, force_at, pressure_for};
use proofspan::source::{Read, read_json};
use proofspan::units::*;
use proptest::prelude::*;

fn part<T: Read>(text: &str) -> T {
    read_json(text).unwrap()
}

proptest! {
    /// More weight between the bearings of a simple span lowers the factor of none of them.
    #[test]
    fn weight_between_the_bearings_never_lowers_the_factor(
        w in 0.1..20.0f64, pull in (0.1..9.9f64, 10.0..300.0f64), one in (0.0..10.0f64, 1.0..100.0f64),
        more in (0.0..10.0f64, 0.1..100.0f64),
    ) {
        let bare = Reaction::of(10.0 * M, w * KN_PER_M)
            .pull(pull.0 * M, pull.1 * KN)
            .weight(one.0 * M, one.1 * KN);
        let loaded = bare.clone().weight(more.0 * M, more.1 * KN);
        let factors = |r: &Reaction| -> Vec<f64> {
            r.check().unwrap().bearings.iter().map(|b| b.factor.unwrap_or(f64::INFINITY)).collect()
        };
        for (a, b) in factors(&bare).iter().zip(factors(&loaded)) {
            prop_assert!(b >= a * (1.0 - 1e-12), "{a} {b}");
        }
    }

    /// The least weight, placed where it is advised, has the factor of the floor.
    #[test]
    fn the_weight_that_is_sized_is_enough_and_no_less_is(
        w in 0.1..10.0f64, pull in (1.0..9.0f64, 50.0..300.0f64), hogging in 0.0..50.0f64,
    ) {
        let bare = Reaction::of(10.0 * M, w * KN_PER_M).pull(pull.0 * M, pull.1 * KN);
        let mut bare = bare;
        bare.hogging_capacity = Some(part(&format!(r#""{hogging} kN·m""#)));
        let found = bare.check().unwrap();
        let Some(least) = found.least.as_ref().and_then(|a| a.placed().cloned()) else { return Ok(()) };
        let ok = |share: f64| {
            let tried = bare.clone().weight(least.at, least.force * share).check().unwrap();
            let held = tried.bearings.iter().all(|b| b.factor.is_none_or(|f| f >= found.floor * (1.0 - 1e-9)));
            let full = tried.stages.iter().find(|s| s.name.contains("full")).unwrap();
            held && full.least_moment.to(KN_M) >= -hogging * (1.0 + 1e-9) - 1e-9
        };
        prop_assert!(ok(1.0));
        prop_assert!(!ok(0.999));
    }

    /// The pressure that is sized gives the force that is asked.
    #[test]
    fn pressure_and_force_are_inverse(
        p in 1.0..2000.0f64, n in 1..8i32, a in 1e-3..0.05f64, friction in 0.0..0.2f64,
    ) {
        let (n, a) = (f64::from(n), Area::from_si(a));
        let pressure = pressure_for(&mut NoRecord, p * KN, n, a, friction);
        let force = force_at(&mut NoRecord, pressure, n, a, friction);
        prop_assert!((force.to(KN) / p - 1.0).abs() < 1e-12);
    }

    /// When a circuit is topped up at the latest, temperature, creep and leak have used the band; a longer
    /// hold never leaves more force.
    #[test]
    fn topped_up_where_the_band_ends(
        band in 0.05..0.4f64, cooling in 0.0..10.0f64, creep in 0.0..2.0f64, leak in 0.1..50.0f64,
        share in 0.1..1.0f64, hours in 0.2..24.0f64,
    ) {
        let mut asked = Hydraulic::of(100.0 * KN, 2, 5000.0 * MM2, 70.0 * MPA_FLUID, 150.0 * MM)
            .moves(12.0 * MM, 3.0 * MM);
        asked.oil_volume = Some(part(r#""2 l""#));
        asked.oil_bulk_modulus = Some(part(r#""1400 MPa""#));
        asked.hold = Some(part(&format!(
            r#"{{ "band": {band}, "expansion": "7e-4 1/K", "cooling": "{cooling} K", "warming": "0 K", "creep": "{creep} mm",
                "leak": {{ "volume": "{leak} ml", "over": "1 h" }} }}"#
        )));
        let l = asked.check().unwrap().hydraulics.locked.unwrap();
        let (hold, day) = (Duration::from_si(hours * 3600.0), Duration::from_si(86_400.0));
        let found = l.during(None, share, (hold, day)).unwrap();
        if let Some(t) = found.top_up_after {
            let part = hold / day;
            let falls = l.cooling.unwrap() * part + l.creep.unwrap() * part * share;
            let lost = falls + l.leak.unwrap() * (t.si() / 3600.0);
            prop_assert!((lost / found.band - 1.0).abs() < 1e-9);
            prop_assert!(t < hold && !found.leaves_band);
        }
        let longer = l.during(None, share, (Duration::from_si(hours * 3700.0), day)).unwrap();
        prop_assert!(longer.least <= found.least);
    }
}
