//! The zero as the force history shows it: what was on, when, and who touched it since.

mod log_truth;

use log_truth::*;
use proofspan::verdict::State;

/// A member that keeps 3 of 10 mm fails a limit of a quarter. A zero taken at 50 kN (3.5 mm) would
/// make it -0.5 of 6.5 mm: no place of the zero window may turn the failure into a pass.
#[test]
fn a_late_zero_is_never_a_pass() {
    let truth = Map::default().judge(&rows(3.0));
    assert_eq!(overall(&truth), (State::Fail, State::Fail));
    for zero in [(1.1, 1.2), (1.3, 1.5), (1.6, 1.8), (0.8, 1.5), (1.9, 2.5), (0.5, 1.1)] {
        let j = Map { zero, ..Map::default() }.judge(&rows(3.0));
        assert!(
            overall(&j).0 != State::Pass && overall(&j).1 != State::Pass,
            "{zero:?}: {:?}",
            overall(&j)
        );
        assert_eq!(states(&j, "zero"), (State::Inconclusive, State::Inconclusive), "{zero:?}");
    }
}

/// A good member and a good log: nothing is in the way.
#[test]
fn a_zero_at_no_load_is_one() {
    let j = Map::default().judge(&rows(1.0));
    assert_eq!(overall(&j), (State::Pass, State::Pass), "{:?}", j.judging.criteria);
    assert_eq!(states(&j, "zero"), (State::Pass, State::Pass));
}

/// The cell shows 5 kN all along: taken under load or never zeroed, the log cannot tell which. A
/// larger uncertainty of the cell does not make it good.
#[test]
fn a_cell_that_was_never_zeroed() {
    let mut log = rows(1.0);
    log.iter_mut().for_each(|r| r.offset = 5.0);
    for u in [0.1, 3.0, 50.0] {
        let j = Map { u: Some(u), ..Map::default() }.judge(&log);
        assert_eq!(states(&j, "zero"), (State::Inconclusive, State::Inconclusive));
        assert!(overall(&j).0 != State::Pass && overall(&j).1 != State::Pass);
        assert!(noted(&j, "criteria.zero"));
        assert!(reason(&j, "zero").contains("5 kN"), "{}", reason(&j, "zero"));
    }
}

/// Of the zero readings the oldest may be 1 h before the first increment (edition file): the
/// increment is first seen at 1.1 h.
#[test]
fn a_zero_that_is_too_old() {
    let old = Map { zero: (0.0, 0.3), ..Map::default() }.judge(&rows(1.0));
    assert_eq!(states(&old, "zero"), (State::Inconclusive, State::Inconclusive));
    let at = Map { zero: (0.1, 0.3), ..Map::default() }.judge(&rows(1.0));
    assert_eq!(states(&at, "zero"), (State::Pass, State::Pass), "{}", reason(&at, "zero"));
}

/// The gauge moves by 2 mm between its zero and the first increment.
#[test]
fn a_gauge_touched_after_its_zero() {
    let mut log = rows(3.0);
    log.iter_mut().filter(|r| r.t > 0.75).for_each(|r| r.v -= 2.0);
    let j = Map { zero: (0.3, 0.7), ..Map::default() }.judge(&log);
    assert_eq!(states(&j, "zero"), (State::Inconclusive, State::Inconclusive));
    assert!(reason(&j, "zero").contains("mid"), "{}", reason(&j, "zero"));
}

/// Loaded once, unloaded, zeroed, loaded again: the second loading shows no residual.
#[test]
fn a_zero_after_a_loading() {
    let first = rows(3.0);
    let mut log: Vec<Row> = first.iter().filter(|r| r.t < 30.05).copied().collect();
    for r in rows(0.0) {
        log.push(Row { t: r.t + 30.1, v: r.v + 3.0, ..r });
    }
    let map = Map {
        zero: (30.6, 31.1),
        peak: (55.9, 56.2),
        residual: (80.2, 80.6),
        unloaded: Some(56.4),
        ..Map::default()
    };
    let j = map.judge(&log);
    assert_eq!(states(&j, "zero"), (State::Inconclusive, State::Inconclusive));
    assert!(overall(&j).0 != State::Pass && overall(&j).1 != State::Pass);
}

/// 10 kN stay on at zero and at the residual: said, it is what the schedule has on; not said, it
/// is a zero under load. Said and then taken off before the residual, the two do not compare.
#[test]
fn a_least_load_is_stated() {
    let least = |t: f64| if force_at(t) < 10.0 { 10.0 } else { force_at(t) };
    let mut log = rows(1.0);
    for r in &mut log {
        let more = least(r.t) - r.force;
        r.force += more;
        r.v += 0.07 * more;
    }
    let silent = Map::default().judge(&log);
    assert_eq!(states(&silent, "zero"), (State::Inconclusive, State::Inconclusive));
    let at_zero = r#","at_zero":"10 kN""#;
    let said = Map { moments: at_zero, ..Map::default() }.judge(&log);
    assert_eq!(states(&said, "zero"), (State::Pass, State::Pass), "{}", reason(&said, "zero"));
    assert_eq!(overall(&said), (State::Pass, State::Pass), "{:?}", said.judging.criteria);
    let mut off = log.clone();
    off.iter_mut().filter(|r| r.t > 26.25).for_each(|r| (r.force, r.v) = (0.0, r.v - 0.7));
    let changed = Map { moments: at_zero, ..Map::default() }.judge(&off);
    assert!(overall(&changed).0 != State::Pass && overall(&changed).1 != State::Pass);
    // an earlier stage that was not on
    let wrong = Map { moments: r#","at_zero":"25 kN""#, ..Map::default() }.judge(&log);
    assert_eq!(states(&wrong, "zero"), (State::Inconclusive, State::Inconclusive));
}
