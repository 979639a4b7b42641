//! What acts on a bearing while a piece falls and its catch takes it: rigid bodies by Newton, step by step
//! in time, and the local checks of a document under it.
#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]

use approx::assert_relative_eq;
use proofspan::beam::{Beam, Load, Support};
use proofspan::formula::{NoRecord, Working};
use proofspan::scope::Mode;
use proofspan::shoring::{BearingCaught, Resting, ShoringSpec, Surroundings, caught_bearings};
use proofspan::source::read_json;
use proofspan::units::*;
use proofspan::verdict::{MemberUnit, State};
use proofspan::{TestDesign, TestSpec, design};

const W: f64 = 10.0; // kN/m
const L: f64 = 10.0; // m

fn catch(at: f64, gap: f64) -> ShoringSpec {
    read_json(&format!(
        r#"{{"to_ground": true, "drive": "weights", "catch": [{{"at": "{at} m", "stiffness": "10 kN/mm",
            "gap": "{gap} mm", "resistance": {{"posts": 4, "rated": "1000 kN"}}}}]}}"#
    ))
    .unwrap()
}

fn bearings(
    spec: &ShoringSpec,
    beam: &Beam,
    region: (f64, f64),
    on_it: &[Resting],
) -> Vec<BearingCaught> {
    let placed = [Load::uniform(0.0 * M, beam.length(), W * KN_PER_M)];
    let around = Surroundings {
        unit: MemberUnit::Beam,
        beam,
        regions: &[(Mode::Shear, region.0 * M, region.1 * M)],
        depth: 0.6 * M,
        in_place: &placed,
        on_it,
        rig_weight: &[],
        spring_back: 0.0 * MM,
        fractions: &[Ratio::from_si(1.0)],
        reading: &|_| 4.0 * MM,
    };
    let mut working = Working::default();
    let found = caught_bearings(&mut working, spec, &around).unwrap();
    assert!(working.recheck().is_empty());
    assert_eq!(caught_bearings(&mut NoRecord, spec, &around).unwrap(), found);
    found
}

/// The largest reaction at the right bearing of a uniform piece from `x` to `L` that turns about it, falls
/// `gap` at its catch and is stopped by a spring of 10 kN/mm: time steps of Newton's law, in kN.
fn in_time(x: f64, at: f64, gap: f64, extra: Option<(f64, f64)>) -> f64 {
    let g = 9.81;
    let (l, a, k) = (L - x, L - at, 1e4);
    let (mut weight, mut first, mut second) = (W * l, W * l * l / 2.0, W * l * l * l / 3.0);
    if let Some((place, force)) = extra {
        let r = L - place;
        weight += force;
        first += force * r;
        second += force * r * r;
    }
    let (inertia, static_moment) = (second / g, first / g);
    let (mut turn, mut speed, mut most) = (0.0_f64, 0.0_f64, 0.0_f64);
    let dt = 1e-5;
    for _ in 0..400_000 {
        let force = k * (turn * a - gap * 1e-3).max(0.0);
        let faster = (first - force * a) / inertia;
        // down: weight − force − reaction = ∫ m r dr · faster
        most = most.max(weight - force - static_moment * faster);
        speed += faster * dt;
        turn += speed * dt;
        if speed < 0.0 {
            break;
        }
    }
    most
}

/// The worst crack of a region, scanned.
fn scanned(region: (f64, f64), at: f64, gap: f64) -> f64 {
    let place = |i: i32| region.0 + (region.1 - region.0) * f64::from(i) / 20.0;
    (0..=20).map(|i| in_time(place(i), at, gap, None)).fold(0.0, f64::max)
}

#[test]
fn the_sound_bearing_by_newton() {
    let beam = Beam::simple(L * M, 1e5 * KN_M2).unwrap();
    // beyond the centre of percussion the catch pries, before it the catch relieves: a quarter of the weight
    // as the piece begins to fall
    for (at, gap) in [(5.0, 10.0), (2.0, 10.0), (2.0, 0.0), (1.5, 30.0)] {
        let found = bearings(&catch(at, gap), &beam, (0.0, 1.0), &[]);
        assert_eq!(found.len(), 2);
        let right = found.last().unwrap();
        let want = scanned((0.0, 1.0), at, gap);
        assert_relative_eq!(right.force.unwrap().to(KN), want, max_relative = 2e-3);
        assert_relative_eq!(right.at.to(M), L, max_relative = 1e-12);
        // the stub of up to 1 m stays on the left one
        assert_relative_eq!(found[0].force.unwrap().to(KN), W, max_relative = 1e-9);
    }
    // 25 kN: nothing but its own fall
    let right = bearings(&catch(5.0, 10.0), &beam, (0.0, 1.0), &[]).pop().unwrap();
    assert_relative_eq!(right.force.unwrap().to(KN), W * L / 4.0, max_relative = 1e-9);
    assert_eq!(right.crack.unwrap().si(), 0.0);
    // 2 m from the left: the catch force 1.5 · 8/9 − 1 of itself on the bearing, a crack at 1 m
    let w = W * 81.0 / 2.0 / 8.0;
    let f = w * (1.0 + (1.0 + 2.0 * 100.0 / w).sqrt());
    let right = bearings(&catch(2.0, 10.0), &beam, (0.0, 1.0), &[]).pop().unwrap();
    let want = W * 9.0 / 4.0 + f * (1.5 * 8.0 / 9.0 - 1.0);
    assert_relative_eq!(right.force.unwrap().to(KN), want, max_relative = 1e-9);
    assert_relative_eq!(right.crack.unwrap().si(), 1.0, max_relative = 1e-9);
    // a stack of 60 kN at 3 m falls with it, as a mass
    let stack = Resting { from: 3.0 * M, to: 3.0 * M, force: 60.0 * KN, loose: false, jack: false };
    let right = bearings(&catch(2.0, 10.0), &beam, (1.0, 1.0), &[stack]).pop().unwrap();
    let want = in_time(1.0, 2.0, 10.0, Some((3.0, 60.0)));
    assert_relative_eq!(right.force.unwrap().to(KN), want, max_relative = 2e-3);
}

/// Two spans of 10 m, the left one doubted beside its outer bearing: the piece hangs on two bearings and no
/// longer on three. Over the middle one 10 · 20²/2 / 10 kN on 20 m, none to be caught.
#[test]
fn a_piece_on_two_bearings_by_levers() {
    let supports = [0.0, 10.0, 20.0].map(|x| Support::bearing(x * M)).to_vec();
    let beam = Beam::new(20.0 * M, supports, vec![(0.0 * M, 1e5 * KN_M2)]).unwrap();
    let found = bearings(&catch(3.0, 10.0), &beam, (0.0, 1.0), &[]);
    // the far bearing has 10 · 20 − 200; what the catch holds of a part that is hinged over the middle one
    // is less on it
    assert_relative_eq!(found[1].force.unwrap().to(KN), 200.0, max_relative = 1e-6);
}

/// Bearings at 0, 10 and 20 m, a hinge at 12 m.
fn hung() -> Beam {
    let supports = [0.0, 10.0, 20.0].map(|x| Support::bearing(x * M)).to_vec();
    let beam = Beam::new(20.0 * M, supports, vec![(0.0 * M, 1e5 * KN_M2)]).unwrap();
    beam.with_hinges(vec![12.0 * M]).unwrap()
}

/// A crack between hinge and far bearing: the part left of it turns about the hinge, which hangs on a beam
/// of 12 m on two bearings.
#[test]
fn a_part_that_hangs_on_a_hinge_by_newton() {
    // the catch 2 m from the hinge pries on parts of up to 3 m, and relieves longer ones
    let found = bearings(&catch(14.0, 10.0), &hung(), (14.5, 16.0), &[]);
    let hinge = |l: f64| in_time(L - l, L - 2.0, 10.0, None);
    let most = (0..=150).map(|i| hinge(2.5 + f64::from(i) / 100.0)).fold(0.0, f64::max);
    let over = (W * 12.0 * 6.0 + most * 12.0) / 10.0;
    assert_relative_eq!(found[1].force.unwrap().to(KN), over, max_relative = 2e-3);
    // as it begins to fall a quarter of it hangs on the hinge: more of it lifts the first bearing
    let least = W * 2.5 / 4.0;
    let first = W * 12.0 - (W * 12.0 * 6.0 + least * 12.0) / 10.0 + least;
    assert!(found[0].force.unwrap().to(KN) >= first * 0.999, "{:?}", found[0]);
    assert!(found.iter().all(|b| b.force.is_some()), "{found:?}");
}

/// A crack in the span beside: the overhang and what hangs on it turn about two bearings at once.
#[test]
fn two_bodies_on_two_bearings_by_newton() {
    let (at, gap) = (13.0, 10.0);
    let found = bearings(&catch(at, gap), &hung(), (7.0, 8.0), &[]);
    let g = 9.81;
    // largest reactions of the bearings at 10 and 20 m; turns clockwise about the first
    let in_time = |x: f64| {
        let (left, k) = (10.0 - x, 1e4);
        let first = W * (2.0 * 2.0 - left * left) / 2.0;
        let own = W * (8.0 + left * left * left) / 3.0;
        let hung = W * 512.0 / 3.0;
        let inertia = (own + hung / 16.0) / g;
        let (mut turn, mut speed, mut most) = (0.0_f64, 0.0_f64, [0.0_f64; 2]);
        let dt = 1e-5;
        for _ in 0..400_000 {
            let force = k * (turn * 1.75 - gap * 1e-3).max(0.0);
            let faster = (first + W * 32.0 / 4.0 - force * 1.75) / inertia;
            let hinge = (W * 32.0 - 7.0 * force - hung / g * faster / 4.0) / 8.0;
            let here = W * (left + 2.0) + hinge - first / g * faster;
            let far = W * 8.0 - force - hinge - W * 32.0 / g * faster / 4.0;
            most = [most[0].max(here), most[1].max(far)];
            speed += faster * dt;
            turn += speed * dt;
            if speed < 0.0 {
                break;
            }
        }
        most
    };
    let each: Vec<[f64; 2]> = (0..=20).map(|i| in_time(7.0 + f64::from(i) / 20.0)).collect();
    for (i, bearing) in [(0, &found[1]), (1, &found[2])] {
        let want = each.iter().map(|e| e[i]).fold(0.0, f64::max);
        assert_relative_eq!(bearing.force.unwrap().to(KN), want, max_relative = 3e-3);
    }
}

fn gallery(local: &str) -> TestDesign {
    let capacity = format!(
        r#"{{"sections": {{"section": {{"shape": {{"kind": "rectangle", "width": "600 mm", "height": "1000 mm"}},
            "concrete": {{"strength": "30 MPa", "modulus": "27 GPa"}},
            "bars": {{"area": "3000 mm^2", "depth": "930 mm", "yields": "420 MPa"}}}}}},
            "code": "ACI 318-19", "cracking": "ACI 318-19, MPa", "local": [{local}]}}"#
    );
    let path = format!("{}/examples/scenarios/gallery_beam.test.json", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).unwrap();
    let text = text.replacen('{', &format!("{{ \"capacity\": {capacity}, "), 1);
    design(TestSpec::from_json(&text).unwrap()).unwrap()
}

fn ledge(strength: &str, more: &str) -> String {
    format!(
        r#"{{"name": "ledge", "under": "bearing", "at": "9 m", "strength": {{"kind": "detail",
            "detail": "ledge", "strength": "{strength}", "source": "drawing 7"{more}}}}}"#
    )
}

/// A bearing of a document is checked under the test and under the catch, each with its own force.
#[test]
fn the_bearing_of_a_document_under_test_and_catch() {
    let d = gallery(&ledge("2000 kN", ""));
    let checks = &d.predicted.as_ref().unwrap().local[0].found.checks;
    let actions: Vec<&str> = checks.iter().map(|c| c.action).collect();
    assert_eq!(actions, ["test", "catch"]);
    assert!(checks.iter().all(|c| c.verdict.state == State::Pass));
    assert!(d.notes.iter().all(|n| !n.message.to_string().contains("falls on its catch")));
    let caught = checks[1].verdict.demand.si;
    assert!(caught > 0.0);
    assert!(d.working().unwrap().recheck().is_empty());
    // below it: a stop that names the catch
    let weak = format!("{} N", caught * 0.99);
    let d = gallery(&ledge(&weak, r#", "test": "1 kN""#));
    let stops: Vec<String> = d.stops().iter().map(|s| s.message.to_string()).collect();
    assert!(stops.iter().any(|s| s.contains("under the catch")), "{stops:?}");
    let d = gallery(&ledge(&format!("{} N", caught * 1.01), r#", "test": "1 kN""#));
    assert!(d.stops().iter().all(|s| !s.message.to_string().contains("under the catch")));
    // what is given goes before
    let d = gallery(&ledge("2000 kN", r#", "catch": "77 kN""#));
    let checks = &d.predicted.as_ref().unwrap().local[0].found.checks;
    assert_relative_eq!(checks[1].verdict.demand.si, 77e3, max_relative = 1e-12);
}
