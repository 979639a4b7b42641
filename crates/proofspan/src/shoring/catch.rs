//! The force on the catch.

use crate::formula::{NoRecord, Recorder};
use crate::units::{Force, Length, Moment, SpringStiffness};

crate::choice! {
    /// What applies the test load.
    pub enum Drive ("drive", source::SOURCE_CHOICE) {
        /// Jacks, locked off: they follow no further than the rig springs back.
        LockedOffJacks = "locked_off_jacks",
        /// Weights, water, or jacks on a running pump or accumulator: the load follows.
        Weights = "weights",
    }
}

crate::laws! {
    /// Static force on the catch of what falls, moments about the sound bearing.
    pub fn static_catch(m: Moment as "M_sound", lever: Length as "lever") -> Force as "W" = m / lever;
    source "moments about the sound bearing";
    /// Share of a jack force that stands on the catch, by levers.
    pub fn following_share(p: Force as "P", arm: Length as "arm", lever: Length as "lever") -> Force as "P'" = p * (arm / lever);
    source "levers about the sound bearing";
    /// Dynamic force of a weight that drops on an elastic catch.
    pub fn catch_force_weights(w: Force as "W", k: SpringStiffness as "k_s", h: Length as "h") -> Force as "F" = w * (1.0 + sqrt(1.0 + 2.0 * (k * h / w)));
    source "energy balance: W (h + d) = k d^2 / 2";
    /// Stiffness of the rig seen from the catch.
    pub fn rig_stiffness_at_catch(p: Force as "P", s: Length as "s", r: f64 as "r") -> SpringStiffness as "k'" = SpringStiffness::per(p, s) * (r * r);
    source "levers about the sound bearing";
    /// Drop of the catch point after which the rig is slack.
    pub fn slack_drop(s: Length as "s", r: f64 as "r") -> Length as "s/r" = s / r;
    source "levers about the sound bearing";
    /// Catch deflection while the rig still pulls: mean force of the drop.
    pub fn engaged_part(w: Force as "W", p: Force as "P'", k1: SpringStiffness as "k'", h: Length as "h") -> Force as "B" = w + p - k1 * h;
    source "k_s d^2/2 = (W + P')(h + d) - k' (h + d)^2/2, gathered by powers of d";
    /// Catch deflection while the rig still pulls.
    pub fn engaged_deflection(w: Force as "W", p: Force as "P'", k: SpringStiffness as "k_s", k1: SpringStiffness as "k'", h: Length as "h", b: Force as "B") -> Length as "d" = b / (k + k1) * (1.0 + sqrt(1.0 + 2.0 * (((w + p) * h - k1 * h * h / 2.0) / b) / (b / (k + k1))));
    source "positive root of the quadratic in d";
    /// Force of an elastic catch at its deflection.
    pub fn elastic_force(k: SpringStiffness as "k_s", d: Length as "d") -> Force as "F" = k * d;
    source "Hooke";
    /// Dynamic force once the rig is slack: its energy P s/2 is spent.
    pub fn catch_force_slack(w: Force as "W", k: SpringStiffness as "k_s", h: Length as "h", p: Force as "P", s: Length as "s") -> Force as "F" = w + p * sqrt((w / p) * (w / p) + 2.0 * (k * h / p) * (w / p) + k * s / p);
    source "energy balance: W (h + d) + P s / 2 = k d^2 / 2";
    /// Largest drop of a weight that an elastic catch of this resistance stops.
    pub fn gap_weights(w: Force as "W", k: SpringStiffness as "k_s", f: Force as "R") -> Length as "h_max" = ((f / w - 1.0) * (f / w - 1.0) - 1.0) * (w / k / 2.0);
    source "the energy balance of the weight, solved for h";
    /// Largest drop that the catch stops after the rig is slack.
    pub fn gap_slack(w: Force as "W", k: SpringStiffness as "k_s", f: Force as "R", p: Force as "P", s: Length as "s") -> Length as "h_max" = ((f / w - 1.0) * (f / w - 1.0) - 1.0 - (k * s / w) * (p / w)) * (w / k / 2.0);
    source "the energy balance of the slack rig, solved for h";
    /// Way of the catch point, drop and catch deflection, that ends at this resistance while the rig still pulls.
    pub fn engaged_way(w: Force as "W", p: Force as "P'", k: SpringStiffness as "k_s", k1: SpringStiffness as "k'", f: Force as "R") -> Length as "h+d" = (w + p) / k1 * (1.0 - sqrt(1.0 - (k1 / k) * (f / (w + p)) * (f / (w + p))));
    source "the energy balance of the engaged rig with k_s d = R, smaller root in h + d";
    /// Energy of a drop before the catch gives: the weight, and the rig that is slack after it.
    pub fn drop_energy(w: Force as "W", h: Length as "h", p: Force as "P", s: Length as "s") -> Moment as "E" = w * h + p * s / 2.0;
    source "energy balance";
    /// How far a pad is crushed that pushes back with one force while it gives.
    pub fn crushed(e: Moment as "E", w: Force as "W", k: SpringStiffness as "k_s", c: Force as "F_c") -> Length as "c" = (e + w * (c / k) - c * (c / k) / 2.0) / (c - w);
    source "energy balance: E + W (d + c) = k d^2/2 + F_c c with k d = F_c";
    /// Force of the catch once its pad is crushed to the end of its way.
    pub fn crushed_out(e: Moment as "E", w: Force as "W", k: SpringStiffness as "k_s", c: Force as "F_c", t: Length as "t") -> Force as "F" = w + c * sqrt((w / c) * (w / c) + 2.0 * (k * ((e - (c - w) * t) / c) / c));
    source "energy balance: E + W (t + d) = F_c t + k d^2/2";
    /// Largest energy of a drop that a catch with a pad stops.
    pub fn energy_stopped(w: Force as "W", k: SpringStiffness as "k_s", c: Force as "F_c", t: Length as "t", f: Force as "R") -> Moment as "E_max" = f * (f / k) / 2.0 + (c - w) * t - w * (f / k);
    source "the energy balance of the pad that is crushed out, with k d = R";
    /// Largest drop of that energy.
    pub fn gap_padded(e: Moment as "E_max", p: Force as "P", s: Length as "s", w: Force as "W") -> Length as "h_max" = (e - p * s / 2.0) / w;
    source "the energy of the drop, solved for h";
    /// Force of the catches that stop one failure, with one more.
    pub fn one_catch_more(sum: Force as "F_catch", one: Force as "F") -> Force as "F_catch" = sum + one;
    source "what the levels carry together";
    /// Reading at a part of the test load.
    pub fn reading_part(part: f64 as "part", v: Length as "v") -> Length as "v_part" = part * v;
    source "everything is linear in the load until it cracks";
    /// Least gap: the reading expected and its uncertainty; nothing where the member rises.
    pub fn least_gap(v: Length as "v", u: Length as "U") -> Length as "gap_low" = max(v + u, 0.0 * u);
    source "a head that the member does not touch (library rule)";
    /// Least gap with the clearance.
    pub fn clear_gap(low: Length as "gap_low", clear: Length as "clearance") -> Length as "gap_rec" = low + clear;
    source "library rule";
    /// Dynamic force over the static one.
    pub fn times_static(force: Force as "F", at_rest: Force as "F_static") -> f64 as "F/F_static" = force / at_rest;
    source "definition";
    /// Largest drop that the catch stops while the rig still pulls.
    pub fn gap_engaged(way: Length as "h+d", k: SpringStiffness as "k_s", f: Force as "R") -> Length as "h_max" = way - f / k;
    source "definition of the way";
}

/// A drop on a catch of stiffness `k` with a pad that is crushed: the force, and how far it is
/// crushed. `w` is the weight that falls, `p` and `s` the rig that is slack after it, zero for none;
/// the catch without its pad would take more than `crush`.
pub(super) fn padded<R: Recorder>(
    recorder: &mut R,
    (w, h, k): (Force, Length, SpringStiffness),
    (p, s): (Force, Length),
    (crush, travel): (Force, Length),
) -> (Force, Length) {
    let energy = drop_energy(recorder, w, h, p, s);
    if crush > w {
        let way = crushed(recorder, energy, w, k, crush);
        if way <= travel {
            return (crush, way.max(Length::ZERO));
        }
    }
    (crushed_out(recorder, energy, w, k, crush, travel), travel)
}

/// The largest drop that a catch with a pad stops, whose resistance `f` is above what crushes the pad;
/// nothing where nothing falls.
pub(super) fn largest_gap_padded<R: Recorder>(
    recorder: &mut R,
    (w, k, f): (Force, SpringStiffness, Force),
    (p, s): (Force, Length),
    (crush, travel): (Force, Length),
) -> Option<Length> {
    if w <= Force::ZERO {
        recorder.about(|| NOTHING_FALLS);
        return None;
    }
    let energy = energy_stopped(recorder, w, k, crush, travel, f);
    Some(gap_padded(recorder, energy, p, s, w))
}

/// What is said where nothing falls.
const NOTHING_FALLS: &str = "Drop: not applicable, no dead load falls on the catch";

/// The force of a weight that drops; none where nothing falls.
pub(super) fn dropped<R: Recorder>(
    recorder: &mut R,
    w: Force,
    k: SpringStiffness,
    h: Length,
) -> Force {
    if w <= Force::ZERO {
        recorder.about(|| NOTHING_FALLS);
        return Force::ZERO;
    }
    catch_force_weights(recorder, w, k, h)
}

/// The largest drop of a weight that the catch stops; nothing where nothing falls: it stops any.
pub(super) fn largest_gap_weights<R: Recorder>(
    recorder: &mut R,
    w: Force,
    k: SpringStiffness,
    f: Force,
) -> Option<Length> {
    if w <= Force::ZERO {
        recorder.about(|| NOTHING_FALLS);
        return None;
    }
    Some(gap_weights(recorder, w, k, f))
}

/// The largest drop the catch stops with a locked-off rig; below zero where it stops none, nothing
/// where it stops any: no weight falls, and what the rig holds is less than the resistance. The
/// arguments are those of [`catch_force_rig`], with the resistance `f` in place of the drop.
pub(super) fn largest_gap_rig<R: Recorder>(
    recorder: &mut R,
    w: Force,
    k: SpringStiffness,
    f: Force,
    (p, s, r): (Force, Length, f64),
) -> Option<Length> {
    let k1 = rig_stiffness_at_catch(recorder, p, s, r);
    // a root that is not there (NaN), or lies beyond the slack drop: the rig is slack before the stop
    if engaged_way(&mut NoRecord, w, p * r, k, k1, f) < slack_drop(recorder, s, r) {
        let way = engaged_way(recorder, w, p * r, k, k1, f);
        return Some(gap_engaged(recorder, way, k, f));
    }
    if w <= Force::ZERO {
        recorder.about(|| NOTHING_FALLS);
        return None;
    }
    Some(gap_slack(recorder, w, k, f, p, s))
}

/// Force on the catch with a locked-off rig: `w` is the static weight at the catch, `p` the
/// jack force, `s` what the rig springs back (uplift, bars, oil), `r` the lever of the jack
/// over that of the catch, `h` the drop before contact. Whether the rig is slack is the second answer.
pub fn catch_force_rig<R: Recorder>(
    recorder: &mut R,
    w: Force,
    k: SpringStiffness,
    h: Length,
    (p, s, r): (Force, Length, f64),
) -> (Force, bool) {
    let k1 = rig_stiffness_at_catch(recorder, p, s, r);
    let limit = slack_drop(recorder, s, r);
    if h < limit {
        let b = engaged_part(recorder, w, p * r, k1, h);
        let d = engaged_deflection(recorder, w, p * r, k, k1, h, b);
        if h + d < limit {
            return (elastic_force(recorder, k, d), false);
        }
    }
    (catch_force_slack(recorder, w, k, h, p, s), true)
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "tests")]
mod tests {
    use super::*;
    use crate::units::{KN, KN_PER_MM, MM};
    use proptest::prelude::*;

    /// A weightless member on a catch: the rig alone brings its energy, P s / 2 = F^2 / (2 k), so
    /// F = sqrt(k P s) = sqrt(25 kN/mm 100 kN 10 mm) = sqrt(25000) kN; dropped alone it brings none.
    #[test]
    fn where_nothing_falls_the_rig_alone_is_caught() {
        let rec = &mut NoRecord;
        let (k, p, s) = (25.0 * KN_PER_MM, 100.0 * KN, 10.0 * MM);
        let (force, slack) = catch_force_rig(rec, Force::ZERO, k, 20.0 * MM, (p, s, 1.0));
        assert!(slack && (force / (25_000_f64.sqrt() * KN) - 1.0).abs() < 1e-12, "{force}");
        assert_eq!(dropped(rec, Force::ZERO, k, 20.0 * MM), Force::ZERO);
        assert_eq!(largest_gap_rig(rec, Force::ZERO, k, 200.0 * KN, (p, s, 1.0)), None);
        assert_eq!(largest_gap_weights(rec, Force::ZERO, k, 200.0 * KN), None);
    }

    proptest! {
        /// Checking and sizing are inverse: the force at the largest gap is the resistance.
        #[test]
        fn the_largest_gap_brings_the_resistance(
            w in 1.0..200.0f64, k in 1.0..100.0f64, f in 2.0..20.0f64,
            p in 1.0..500.0f64, s in 0.1..30.0f64, r in 0.1..1.5f64,
        ) {
            let rec = &mut NoRecord;
            let (w, k, p, s) = (w * KN, k * KN_PER_MM, p * KN, s * MM);
            let f = w * f;
            let h = gap_weights(rec, w, k, f);
            prop_assert!((catch_force_weights(rec, w, k, h) / f - 1.0).abs() < 1e-9);
            let h = largest_gap_rig(rec, w, k, f, (p, s, r)).unwrap();
            // nothing to check where even contact without a drop brings more than the resistance
            if catch_force_rig(rec, w, k, Length::ZERO, (p, s, r)).0 <= f {
                prop_assert!(h >= Length::ZERO);
                let (force, _) = catch_force_rig(rec, w, k, h, (p, s, r));
                prop_assert!((force / f - 1.0).abs() < 1e-9, "{} {}", force, f);
            }
        }
    }
}
