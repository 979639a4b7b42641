//! The corrections of a gauge, one after the other, each with its effect and its uncertainty.
//!
//! What the channel gave (its own sign, before any calibration) and the effects of the corrections
//! add up to the deflection that is judged, at the peak and at the residual. The chain goes both ways:
//! the effects taken from the deflection give back what was read.

use crate::formula::{NoRecord, Recorder};
use crate::source::Write;
use crate::units::{
    Force, Length, Message, Quantity, Ratio, Rotation, Temperature, TemperatureChange,
};
use crate::verdict::Note;

crate::choice! {
    /// What a correction is for.
    pub enum CorrectionKind ("correction", source::SOURCE_CHOICE) {
        /// What a decision of the record did to the readings.
        Decision = "decision",
        /// The reading at zero.
        Zero = "zero",
        /// A channel that counts the other way.
        Sign = "sign",
        /// The factor of a calibration.
        Calibration = "calibration",
        /// The drift with temperature.
        Drift = "drift",
        /// The movement of the level the gauge stands on.
        Level = "level",
        /// The settlement of the supports.
        Settlement = "settlement",
        /// The turn of the root.
        Rotation = "rotation",
        /// The load that changed while it was held.
        Load = "load",
    }
}

crate::answer! {
    /// One correction. Lengths down positive, once the sign of the channel is applied.
    pub struct Correction {
        /// What it is for.
        what: CorrectionKind,
        /// The number it uses: the reading at zero, sign, factor, drift, movement or turn since zero
        /// at the peak, force that is lacking at the peak.
        value: Quantity,
        /// Standard uncertainty of that number, where it is stated; 0 of a sign.
        u: Option<Quantity>,
        /// What it adds at the peak.
        at_peak: Length,
        /// What it adds at the residual, where that was read.
        at_residual: Option<Length>,
        /// Standard uncertainty of what it adds at the peak, where it is stated.
        u_at_peak: Option<Length>,
        /// Standard uncertainty of what it adds at the residual.
        u_at_residual: Option<Length>,
        /// Its formula.
        formula: String,
        /// Where its numbers come from.
        source: Message,
    }
}

crate::answer! {
    /// What one gauge read at one moment, and the terms that correct it. Lengths down positive.
    pub struct Windows {
        /// Median of the readings, calibrated, sign applied.
        reading: Length,
        /// How many samples it holds.
        samples: usize,
        /// Temperatures, where a drift is corrected: one a channel.
        temperatures: Vec<Temperature>,
        /// Movement of the level the gauge stands on.
        level: Length,
        /// Settlement at the gauge: of the line through the bearings, or of the root.
        settlement: Length,
        /// Turn of the root, where it is taken off; positive where the right end goes down.
        turn: Option<Rotation>,
        /// Force of record, where the deflection is brought to a nominal force.
        force: Option<Force>,
    }
}

crate::laws! {
    /// Reading since its zero, as the channel counts.
    pub fn since_zero(r: Length as "r", r_0: Length as "r_0") -> Length as "v" = r - r_0;
    source "zero of the gauge";
    /// Downwards positive.
    pub fn downwards(sign: f64 as "sign", v: Length as "v") -> Length as "v_new" = sign * v;
    source "sign of the channel";
    /// By the calibration.
    pub fn calibrated(f: f64 as "f", v: Length as "v") -> Length as "v_new" = f * v;
    source "calibration of the channel";
    /// Less the drift with temperature.
    pub fn less_drift(v: Length as "v", moves: Length as "β", t: TemperatureChange as "ΔT", per: TemperatureChange as "ΔT_β") -> Length as "v_new" = v - moves * (t / per);
    source "drift of the gauge";
    /// With the movement of the level on which the gauge stands.
    pub fn with_level(v: Length as "v", b: Length as "b", b_0: Length as "b_0") -> Length as "v_new" = v + (b - b_0);
    source "difference of two levels";
    /// Less the settlement of the supports at the gauge.
    pub fn less_settlement(v: Length as "v", s: Length as "s", s_0: Length as "s_0") -> Length as "v_new" = v - (s - s_0);
    source "line through the supports";
    /// Less the turn of the root times the lever arm, to the right positive.
    pub fn less_turn(v: Length as "v", theta: Rotation as "θ", theta_0: Rotation as "θ_0", a: Length as "a") -> Length as "v_new" = v - (theta - theta_0) * a;
    source "rigid turn about the root";
    /// Standard uncertainty of a reading with that of one channel more, the larger first.
    pub fn with_error(u: Length as "u", one: Length as "u_channel") -> Length as "u" = u * sqrt(1.0 + one / u * (one / u));
    source "JCGM 100: independent errors add by their squares";
    /// Standard uncertainty of a deflection: reading and zero have the same.
    pub fn since_a_zero(u: Length as "u") -> Length as "u_v" = u * sqrt(2.0);
    source "JCGM 100: the difference of two independent readings";
    /// Standard uncertainty of a deflection with an error that peak and residual share, the larger first.
    pub fn with_common(u: Length as "u_v", one: Length as "u_shared") -> Length as "u_v" = u * sqrt(1.0 + one / u * (one / u));
    source "JCGM 100: independent errors add by their squares";
    /// At the nominal force, by the secant of the gauge.
    pub fn at_nominal(v: Length as "v", p: Force as "P_nom", f: Force as "P", f_0: Force as "P_0") -> Length as "v_new" = v * ((p - f_0) / (f - f_0));
    source "secant stiffness";
}

/// The numbers by which a chain corrects.
#[derive(Clone, Debug, PartialEq, Default)]
pub(super) struct Plan {
    /// Nothing where the channel counts downwards.
    pub(super) sign: Option<f64>,
    /// Factor and what is added after it.
    pub(super) calibration: Option<(f64, Length)>,
    /// Movement per change of temperature, one a channel of temperature.
    pub(super) drift: Vec<(Length, TemperatureChange)>,
    pub(super) level: bool,
    /// The bearings through which the line of the supports goes: it holds their turn too. The same
    /// twice at a bearing.
    pub(super) line: Option<(Length, Length)>,
    pub(super) settles: bool,
    /// From the root to the gauge.
    pub(super) lever: Option<Length>,
    pub(super) nominal: Option<Force>,
}

/// What was read, the corrections, and what they rest on.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Chain {
    /// What the channel gave at peak and residual, in SI, as it counts and before its calibration.
    pub as_read: (Length, Option<Length>),
    /// The corrections in their order.
    pub corrections: Vec<Correction>,
    /// Errors that peak and residual share: an independent standard error each, with what it does to
    /// the largest and to the residual deflection.
    pub common: Vec<(Length, Length)>,
    pub(super) plan: Plan,
    /// Channels whose sum, each times its number, is the corrected reading.
    pub(super) weights: Vec<(String, f64)>,
    /// Standard errors of one corrected reading, one a channel that states its own.
    pub(super) errors: Vec<(String, Length)>,
    pub(crate) notes: Vec<Note>,
}

impl Plan {
    /// What the channel gave.
    pub(super) fn as_read(&self, m: &Windows) -> Length {
        let (factor, offset) = self.calibration.unwrap_or((1.0, Length::ZERO));
        (m.reading - offset) / factor * self.sign.unwrap_or(1.0)
    }

    /// The deflection since zero after each correction; the load is corrected at the peak only.
    pub(super) fn run<R: Recorder>(
        &self,
        to: &mut R,
        zero: &Windows,
        now: &Windows,
        at_peak: bool,
    ) -> Vec<(CorrectionKind, Length)> {
        let mut v = since_zero(to, self.as_read(now), self.as_read(zero));
        let mut steps = vec![(CorrectionKind::Zero, v)];
        let mut next = |kind, value| {
            steps.push((kind, value));
            value
        };
        if let Some(sign) = self.sign {
            v = next(CorrectionKind::Sign, downwards(to, sign, v));
        }
        if let Some((factor, _)) = self.calibration {
            v = next(CorrectionKind::Calibration, calibrated(to, factor, v));
        }
        let temperatures = now.temperatures.iter().zip(&zero.temperatures);
        for ((moves, per), (warm, before)) in self.drift.iter().zip(temperatures) {
            v = next(CorrectionKind::Drift, less_drift(to, v, *moves, *warm - *before, *per));
        }
        if self.level {
            v = next(CorrectionKind::Level, with_level(to, v, now.level, zero.level));
        }
        if self.settles {
            let settled = less_settlement(to, v, now.settlement, zero.settlement);
            v = next(CorrectionKind::Settlement, settled);
        }
        if let (Some(lever), Some(turn), Some(before)) = (self.lever, now.turn, zero.turn) {
            v = next(CorrectionKind::Rotation, less_turn(to, v, turn, before, lever));
        }
        if let (Some(nominal), Some(force), Some(before), true) =
            (self.nominal, now.force, zero.force, at_peak)
        {
            next(CorrectionKind::Load, at_nominal(to, v, nominal, force, before));
        }
        steps
    }

    /// The deflection that is judged.
    pub(super) fn corrected(&self, zero: &Windows, now: &Windows, at_peak: bool) -> Length {
        let steps = self.run(&mut NoRecord, zero, now, at_peak);
        steps.last().map_or(Length::ZERO, |s| s.1)
    }
}

/// The formula of a correction, as its law has it.
pub(super) const fn formula_of(kind: CorrectionKind) -> &'static str {
    match kind {
        CorrectionKind::Decision => "",
        CorrectionKind::Zero => since_zero::LAW.formula,
        CorrectionKind::Sign => downwards::LAW.formula,
        CorrectionKind::Calibration => calibrated::LAW.formula,
        CorrectionKind::Drift => less_drift::LAW.formula,
        CorrectionKind::Level => with_level::LAW.formula,
        CorrectionKind::Settlement => less_settlement::LAW.formula,
        CorrectionKind::Rotation => less_turn::LAW.formula,
        CorrectionKind::Load => at_nominal::LAW.formula,
    }
}

impl Chain {
    /// Whether a correction of this kind was made.
    #[must_use]
    pub fn has(&self, kind: CorrectionKind) -> bool {
        self.corrections.iter().any(|c| c.what == kind)
    }

    /// The bearings through which the line goes that is taken off.
    pub(crate) const fn line(&self) -> Option<(Length, Length)> {
        self.plan.line
    }

    pub(super) fn write(&self) -> Vec<(&'static str, crate::source::Node)> {
        vec![
            ("as_read_d_max", self.as_read.0.write()),
            ("as_read_d_r", self.as_read.1.write()),
            ("corrections", self.corrections.write()),
        ]
    }
}

/// A plain number as the value of a correction.
pub(super) fn plain(number: f64) -> Quantity {
    Ratio::from(number).into()
}
