//! Load, hold, unloading and residual as the force history shows them.

mod log_truth;

use log_truth::*;
use proofspan::source::read_json;
use proofspan::verdict::State;

/// The full load of the log times `part`, kept deflection with it.
fn scaled(part: f64) -> Vec<Row> {
    let mut log = rows(1.0);
    log.iter_mut().filter(|r| force_at(r.t) == 100.0).for_each(|r| {
        r.force *= part;
        r.v *= part;
    });
    log
}

/// Target 100 kN, band 2 % (library rule), U = 0.2 kN: reached from 98 + 0.2 guarded, short below
/// 98 - 0.2 guarded, above from 102.
#[test]
fn the_load_against_its_target_in_both_directions() {
    let at = |force: f64, u: Option<f64>| {
        states(&Map { u, ..Map::default() }.judge(&scaled(force / 100.0)), "load")
    };
    let u = Some(0.1);
    assert_eq!(at(98.3, u), (State::Pass, State::Pass));
    assert_eq!(at(98.1, u), (State::Pass, State::Inconclusive));
    assert_eq!(at(97.9, u), (State::Aborted, State::Inconclusive));
    assert_eq!(at(97.7, u), (State::Aborted, State::Aborted));
    assert_eq!(at(101.9, u), (State::Pass, State::Pass));
    assert_eq!(at(102.1, u), (State::Inconclusive, State::Inconclusive));
    // nobody said how sure the cell is
    assert_eq!(at(100.0, None), (State::Pass, State::Inconclusive));
    // a poor cell reaches nothing: 96 kN with U = 10 kN
    assert_eq!(at(96.0, Some(5.0)), (State::Aborted, State::Inconclusive));
}

#[test]
fn a_load_above_the_band_shows_the_target_nothing() {
    let j = Map::default().judge(&scaled(1.1));
    assert_eq!(overall(&j), (State::Inconclusive, State::Inconclusive));
    // the outcome at the load reached stands beside it
    assert_eq!(states(&j, "residual"), (State::Pass, State::Pass));
    assert!(noted(&j, "criteria.load"));
    assert!(reason(&j, "load").contains("110 kN"), "{}", reason(&j, "load"));
    let short = Map::default().judge(&scaled(0.9));
    assert_eq!(overall(&short), (State::Aborted, State::Aborted));
    // another band, stated
    let wide = Map { more: r#""load_band":"5 %","#, ..Map::default() };
    assert_eq!(overall(&wide.judge(&scaled(0.96))), (State::Pass, State::Pass));
}

/// The hold of the log goes from the sample at 1.9 h to that at 26.1 h: 24.2 h.
#[test]
fn the_hold_is_measured_to_the_sample() {
    let j = Map::default().judge(&rows(1.0));
    assert_eq!(states(&j, "hold"), (State::Pass, State::Pass));
    assert!(reason(&j, "hold").contains("24.2 h"), "{}", reason(&j, "hold"));
    // 50 kN from 20.0 h on: 18.0 h at full load; the record says 24 h
    let mut log = rows(1.0);
    log.iter_mut().filter(|r| r.t > 19.95 && r.force > 60.0).for_each(|r| r.force = 50.0);
    let short = Map { peak: (19.5, 19.9), ..Map::default() }.judge(&log);
    assert_eq!(states(&short, "hold"), (State::Aborted, State::Aborted));
    assert!(reason(&short, "hold").contains("18 h"), "{}", reason(&short, "hold"));
    assert!(noted(&short, "criteria.stated-differs"));
    assert_eq!(overall(&short), (State::Aborted, State::Aborted));
}

/// 12 h, an hour at half the load, 11 h: no stretch of 24 h, whatever the record says. A dip of
/// half an hour to 97 kN that was pumped up again leaves the matter open; a slow fall within the
/// band is none.
#[test]
fn an_interrupted_hold() {
    let dipped = |from: f64, to: f64, force: f64| {
        let mut log = rows(1.0);
        log.iter_mut().filter(|r| r.t > from - 0.05 && r.t < to + 0.05).for_each(|r| {
            r.v += 0.07 * (force - r.force);
            r.force = force;
        });
        Map::default().judge(&log)
    };
    let broken = dipped(14.0, 15.0, 50.0);
    assert!(overall(&broken).0 != State::Pass && overall(&broken).1 != State::Pass);
    assert!(noted(&broken, "criteria.hold"));
    assert!(reason(&broken, "hold").contains("50 kN"), "{}", reason(&broken, "hold"));
    let pumped = dipped(14.0, 14.5, 97.0);
    assert_eq!(states(&pumped, "hold"), (State::Inconclusive, State::Inconclusive));
    let mut log = rows(1.0);
    log.iter_mut().filter(|r| r.force > 99.0).for_each(|r| r.force -= 1.8 * (r.t - 1.9) / 24.2);
    let relaxed = Map::default().judge(&log);
    assert_eq!(
        states(&relaxed, "hold"),
        (State::Pass, State::Pass),
        "{}",
        reason(&relaxed, "hold")
    );
}

/// Local time with its offset: the clocks go forward in the night of the hold, and 24 h of the
/// clock on the wall are 23 h.
#[test]
fn a_hold_across_a_change_of_clocks() {
    let run = |start: &str, end: &str, off: &str, residual: &str| {
        let mut text = String::from("t,P,mid\n");
        let row = |t: &str, p: f64, v: f64| format!("{t},{p},{v}\n");
        text += &row(&format!("{start}T11:40{off}"), 0.0, 0.0);
        text += &row(&format!("{start}T11:50{off}"), 0.0, 0.0);
        text += &row(&format!("{start}T12:00{off}"), 100.0, 8.0);
        text += &row(&format!("{start}T18:00{off}"), 100.0, 8.0);
        text += &row(&format!("{start}T23:30{off}"), 100.0, 8.0);
        let after = if off == "+01:00" { "+02:00" } else { "+01:00" };
        for (day, hour) in [(end, "06:00"), (end, "11:50"), (end, "12:00")] {
            text += &row(&format!("{day}T{hour}{after}"), 100.0, 8.0);
        }
        text += &row(&format!("{end}T12:10{after}"), 0.0, 1.0);
        text += &row(&format!("{residual}T12:10{after}"), 0.0, 1.0);
        text
    };
    let layout = |peak: f64| {
        read_json(&format!(
            r#"{{"time":{{"column":"t"}},"channels":[
                {{"id":"P","column":"P","unit":"kN","role":"force","u":0.1}},
                {{"id":"mid","column":"mid","unit":"mm","role":"deflection","at":"3 m","u":0.01}}],
                "moments":{{"zero":{{"from":"0 min","to":"10 min"}},"peak":{{"from":"{} min","to":"{} min"}},
                "residual":{{"from":"{} min","to":"{} min"}}}}}}"#,
            peak - 12.0,
            peak + 1.0,
            peak + 10.0 + 1439.0,
            peak + 10.0 + 1441.0,
        ))
        .unwrap()
    };
    // minutes from 11:40 to 12:00 of the next day: 20 and a day of 23 or of 25 hours
    let spring = run("2026-03-28", "2026-03-29", "+01:00", "2026-03-30");
    let stated = read_json(
        r#"{"observation":{"distress":"none","by":"engineer","date":"2026-11-01"},"expiry":"2030-01-01","held":"24 h"}"#,
    )
    .unwrap();
    let j = judged(&spring, &layout(20.0 + 23.0 * 60.0), &stated).unwrap();
    assert_eq!(states(&j, "hold"), (State::Aborted, State::Aborted), "{}", reason(&j, "hold"));
    assert!(reason(&j, "hold").contains("23 h"), "{}", reason(&j, "hold"));
    let autumn = run("2026-10-24", "2026-10-25", "+02:00", "2026-10-26");
    let j = judged(&autumn, &layout(20.0 + 25.0 * 60.0), &stated).unwrap();
    assert!(reason(&j, "hold").contains("25 h"), "{}", reason(&j, "hold"));
}

/// The load is off at 36.3 h and not, as stated, at 26.3 h: the residual at 50.3 h is read 14 h
/// after unloading, and the edition asks for 24 h.
#[test]
fn the_residual_counts_from_when_the_load_was_off() {
    let good = Map::default().judge(&rows(1.0));
    assert_eq!(states(&good, "residual time"), (State::Pass, State::Pass));
    let mut log = rows(1.0);
    log.iter_mut().filter(|r| r.t > 26.15 && r.t < 36.25).for_each(|r| {
        r.v += 0.07 * (100.0 - r.force);
        r.force = 100.0;
    });
    let late = Map::default().judge(&log);
    assert_eq!(states(&late, "residual time"), (State::Inconclusive, State::Inconclusive));
    assert!(reason(&late, "residual time").contains("14 h"), "{}", reason(&late, "residual time"));
    assert!(noted(&late, "criteria.stated-differs"));
    // nobody stated it: it is measured
    let silent = Map { unloaded: None, ..Map::default() }.judge(&rows(1.0));
    assert_eq!(states(&silent, "residual time"), (State::Pass, State::Pass));
}

/// 20 kN stay on to the end: what is read is not the residual.
#[test]
fn a_residual_under_load() {
    let mut log = rows(1.0);
    log.iter_mut().filter(|r| r.t > 26.25).for_each(|r| {
        r.force = 20.0;
        r.v += 1.4;
    });
    let j = Map::default().judge(&log);
    assert!(overall(&j).0 != State::Pass && overall(&j).1 != State::Pass);
    assert!(reason(&j, "residual time").contains("20 kN"), "{}", reason(&j, "residual time"));
}

/// The cells are lost before the load is off: what a person stated stands, and is said to be that.
#[test]
fn cells_that_are_lost_before_the_residual() {
    let text = text(&rows(1.0));
    let lost: String = text
        .lines()
        .map(|line| {
            let t: f64 = line.split(',').next().unwrap().parse().unwrap_or(0.0);
            let cells: Vec<&str> = line.split(',').collect();
            if t > 26.05 { format!("{},,{}\n", cells[0], cells[2]) } else { format!("{line}\n") }
        })
        .collect();
    let layout = Map::default().layout().unwrap();
    let j = judged(&lost, &layout, &record(r#","held":"24 h""#)).unwrap();
    assert_eq!(states(&j, "residual time"), (State::Pass, State::Pass));
    assert!(reason(&j, "residual time").contains("stated"), "{}", reason(&j, "residual time"));
    // the hold is seen for 24.1 h
    assert_eq!(states(&j, "hold"), (State::Pass, State::Pass), "{}", reason(&j, "hold"));
}

/// What was not measured is said with its size: 1 K between top and bottom moves the middle of
/// 6 m and 0.4 m by 1e-5 x 36/(8 x 0.4) = 0.1125 mm (closed form, expansion a library rule).
#[test]
fn channels_that_are_missing_are_named_with_their_size() {
    let j = Map::default().judge(&rows(1.0));
    let of = |code: &str| {
        j.judging.notes.iter().find(|n| n.slug.code() == code).map(|n| n.message.to_string())
    };
    let temperature = of("criteria.temperature-unknown").unwrap();
    assert!(temperature.contains("0.1125 mm"), "{temperature}");
    let settlement = of("criteria.settlement-unknown").unwrap();
    assert!(settlement.contains("mid"), "{settlement}");
}

/// 0.0148 mm an hour is less than a hundredth of 8 mm, 0.2 mm an hour in the residual window is more.
#[test]
fn a_member_that_still_moves_is_said() {
    let going_back = |per_hour: f64| {
        let mut log = rows(1.0);
        log.iter_mut().filter(|r| r.t > 50.0).for_each(|r| r.v -= per_hour * (r.t - 50.0));
        Map::default().judge(&log)
    };
    assert!(!noted(&going_back(0.0148), "criteria.still-moving"));
    let moving = going_back(0.2);
    assert!(noted(&moving, "criteria.still-moving"));
    let facts = moving.facts.unwrap().unloading.unwrap();
    assert!((facts.moving[0].per_hour.to(proofspan::units::MM) + 0.2).abs() < 1e-6);
    assert!((facts.off.unwrap().si() / 3600.0 - 26.3).abs() < 1e-9);
    assert!((facts.loaded.unwrap().si() / 3600.0 - 26.2).abs() < 1e-9);
}
