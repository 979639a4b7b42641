//! How much snow drifts against a step? ASCE 7, chapter 7, two editions that must not be mixed.
//!
//! 7-16 takes a nominal ground snow load; 7-22 takes one at strength level, which is not
//! multiplied by 1.6 again. Formulas from memory, with moderate confidence: check them against a
//! bought copy. They are in US units by nature; inputs and results here are typed.

use crate::error::{Error, Issue, slug};
use crate::units::{AreaLoad, FT, Length, Message, PCF, PSF, Quantity, UnitWeight};

crate::choice! {
    /// What a snow load is.
    pub enum SnowLevel ("snow level", source::SOURCE_CHOICE) {
        /// Nominal: strength combinations multiply it.
        Nominal = "nominal",
        /// At strength level: strength combinations take it once.
        Strength = "strength",
    }
}

crate::choice! {
    /// On which side of the step the snow comes from.
    pub enum DriftSide ("drift", source::SOURCE_CHOICE) {
        /// Blown off the upper roof into the lee of the step.
        Leeward = "leeward",
        /// Blown along the lower roof against the step.
        Windward = "windward",
    }
}

crate::answer! {
    /// Drifted snow on a lower roof at a step. Loads are over the area, down positive.
    pub struct Drift {
        /// Unit weight of the snow.
        gamma: UnitWeight,
        /// Depth of the balanced snow.
        balanced_depth: Length,
        /// Height of the step above the balanced snow.
        clear_height: Length,
        /// Which drift governs; nothing where the step is too low for one.
        side: Option<DriftSide>,
        /// Height of the drift as computed.
        drift_height: Length,
        /// Height that has room below the top of the step.
        height: Length,
        /// Width from the step to where the drift ends.
        width: Length,
        /// Load of the drift at the step, on top of the balanced snow.
        surcharge: AreaLoad,
        /// Balanced and drifted together at the step.
        peak: AreaLoad,
        /// What the ground snow load was: the result is of that level too.
        level: SnowLevel,
    }
}

fn refuse(
    sizes: &[(&str, Quantity)],
    (factor, value, most): (&str, f64, f64),
) -> Result<(), Error> {
    let bad = |v: f64| !(v.is_finite() && v > 0.0);
    let told = |name: &str, message: String| Issue::new(slug::LOADS_SNOW, name, message);
    let issues = sizes.iter().filter(|(_, q)| bad(q.si)).map(|(name, q)| {
        let issue = told(name, format!("{name} must be above zero"));
        issue.value(Message::new("{}", [(*q).into()])).limit("above zero")
    });
    let mut issues: Vec<Issue> = issues.collect();
    if bad(value) || value > most {
        let message = format!("{factor} must be above zero and at most {most}");
        issues
            .push(told(factor, message).value(value).limit(format!("up to {most} (library rule)")));
    }
    Error::check(issues)
}

/// Unit weight of snow: `γ = 0.13 pg + 14 ≤ 30` pcf (ASCE 7-16 Eq. 7.7-1, from memory).
#[must_use]
pub fn snow_weight(ground: AreaLoad) -> UnitWeight {
    (0.13 * ground.to(PSF) + 14.0).min(30.0) * PCF
}

/// The height that fits and the width: `4 h` below the step, else `4 h²/h_c ≤ 8 h_c`.
fn fitted(drift: f64, clear: f64) -> (f64, f64) {
    if drift <= clear {
        (drift, 4.0 * drift)
    } else {
        (clear, (4.0 * drift * drift / clear).min(8.0 * clear))
    }
}

/// Drift by ASCE 7-16, 7.7.1: ground snow nominal, `balanced` on the lower roof, length of the
/// upper roof, length of the lower roof, height of the step, importance factor.
/// `h_d = √I_s (0.43 lu^⅓ (pg+10)^¼ − 1.5)` ft with lu ≥ 20 ft; windward ¾ of it with the lower
/// length; leeward at most 0.6 of the lower length; none where `h_c < 0.2 h_b`.
///
/// # Errors
/// `loads.snow` for every input that is not above zero, and an importance factor above two (library rule).
pub fn drift_asce_7_16(
    ground: AreaLoad,
    balanced: AreaLoad,
    upper: Length,
    lower: Length,
    step: Length,
    importance: f64,
) -> Result<Drift, Error> {
    let (pg, ps) = (ground.to(PSF), balanced.to(PSF));
    let (lu, ll, step_ft) = (upper.to(FT), lower.to(FT), step.to(FT));
    let sizes = [
        ("ground", ground.into()),
        ("balanced", balanced.into()),
        ("upper", upper.into()),
        ("lower", lower.into()),
        ("step", step.into()),
    ];
    refuse(&sizes, ("importance", importance, 2.0))?;
    let gamma = snow_weight(ground).to(PCF);
    let height =
        |l: f64| importance.sqrt() * (0.43 * l.max(20.0).cbrt() * (pg + 10.0).powf(0.25) - 1.5);
    let leeward = height(lu).min(0.6 * ll);
    let windward = 0.75 * height(ll);
    let (side, drift) = if leeward >= windward {
        (DriftSide::Leeward, leeward)
    } else {
        (DriftSide::Windward, windward)
    };
    Ok(found(gamma, ps, step_ft, side, drift, SnowLevel::Nominal))
}

/// Drift by ASCE 7-22: ground snow at strength level, `h_d = 1.5 √(pg^0.74 lu^0.70 W₂^1.7 / γ)` ft,
/// `winter` the wind parameter W₂ of the place. The result is at strength level too.
///
/// # Errors
/// `loads.snow` for every input that is not above zero, and a share of the winter above one.
pub fn drift_asce_7_22(
    ground: AreaLoad,
    balanced: AreaLoad,
    upper: Length,
    step: Length,
    winter: f64,
) -> Result<Drift, Error> {
    let (pg, ps, lu, step_ft) = (ground.to(PSF), balanced.to(PSF), upper.to(FT), step.to(FT));
    let sizes = [
        ("ground", ground.into()),
        ("balanced", balanced.into()),
        ("upper", upper.into()),
        ("step", step.into()),
    ];
    // the share of the winter in which the wind is strong
    refuse(&sizes, ("winter", winter, 1.0))?;
    let gamma = snow_weight(ground).to(PCF);
    let drift = 1.5 * (pg.powf(0.74) * lu.powf(0.70) * winter.powf(1.7) / gamma).sqrt();
    Ok(found(gamma, ps, step_ft, DriftSide::Leeward, drift, SnowLevel::Strength))
}

fn found(gamma: f64, ps: f64, step: f64, side: DriftSide, drift: f64, level: SnowLevel) -> Drift {
    let balanced = ps / gamma;
    let clear = step - balanced;
    let none = clear < 0.2 * balanced;
    let (height, width) = if none { (0.0, 0.0) } else { fitted(drift, clear) };
    Drift {
        gamma: gamma * PCF,
        balanced_depth: balanced * FT,
        clear_height: clear * FT,
        side: (!none).then_some(side),
        drift_height: if none { Length::ZERO } else { drift * FT },
        height: height * FT,
        width: width * FT,
        surcharge: height * gamma * PSF,
        peak: (height * gamma + ps) * PSF,
        level,
    }
}
