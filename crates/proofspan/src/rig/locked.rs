//! What does a locked-off circuit do? Pump strokes, drift with temperature, leak, and what is stored.
//!
//! All of it follows from the stiffness of the whole load path: members, bars, beams and oil. On one
//! pressure every jack moves by its own way, so the circuit takes the sum of areas times ways:
//! `dF = k e / (1 + k V_0 / (K A²))` for a movement `e` of the pistons that nobody pumped, with the
//! area `A` of all jacks, the oil `V_0` locked off with them and its bulk modulus `K`. Where the oil
//! is not described it counts as stiff: the force then changes most. The stiffness is that of the
//! stiff prediction, for the same reason; what is stored is that of the soft one.

use super::spec::Jacks;
use crate::formula::Recorder;
use crate::units::{
    Area, Duration, Force, Length, Pressure, SpringStiffness, TemperatureChange, ThermalExpansion,
    Volume,
};

crate::laws! {
    /// Stiffness of the load path of a circuit, without its oil.
    pub fn path_stiffness(p: Force as "P", s: Length as "s") -> SpringStiffness as "k" = SpringStiffness::per(p, s);
    source "definition; ways of several jacks weighed by their areas";
    /// Way of the pistons that the oil makes by its temperature.
    pub fn oil_expands(v: Volume as "V_0", a: Area as "A", alpha: ThermalExpansion as "alpha", dt: TemperatureChange as "dT") -> Length as "e" = v / a * (alpha * dt);
    source "definition of expansion by volume";
    /// Way of the pistons that a volume of oil makes.
    pub fn oil_way(v: Volume as "V", a: Area as "A") -> Length as "e" = v / a;
    source "definition";
    /// Way that the bars make by their temperature.
    pub fn bars_expand(l: Length as "l", alpha: ThermalExpansion as "alpha", dt: TemperatureChange as "dT") -> Length as "e" = l * (alpha * dt);
    source "definition of expansion by length";
    /// Change of force of a locked-off circuit by a movement that nobody pumped.
    pub fn force_of_way(k: SpringStiffness as "k", e: Length as "e", v: Volume as "V_0", a: Area as "A", bulk: Pressure as "K") -> Force as "dF" = k * e / (1.0 + k * (v / a) / bulk / a);
    source "springs in series: load path k and oil K A^2/V_0";
    /// The same where the oil is not described: it counts as stiff.
    pub fn force_of_way_stiff(k: SpringStiffness as "k", e: Length as "e") -> Force as "dF" = k * e;
    source "Hooke; oil that is not described counts as stiff (library rule)";
    /// The same where nothing but the oil gives.
    pub fn force_of_way_oil(e: Length as "e", v: Volume as "V_0", a: Area as "A", bulk: Pressure as "K") -> Force as "dF" = bulk * a * (e / (v / a));
    source "compressibility of the oil";
    /// After what time a leak has used up what temperature leaves of the band.
    pub fn top_up_after(spare: Force as "spare", lost: Force as "lost", over: Duration as "over") -> Duration as "t" = over * (spare / lost);
    source "proportion";
    /// The most that one of several jacks on one pressure gives: it has no friction, the others have all.
    pub fn jack_most(p: Force as "P", n: f64 as "n", friction: f64 as "friction") -> Force as "P_1" = p / (n - (n - 1.0) * friction);
    source "equal pressure, friction between zero and all";
    /// The least that one of them gives: it has all the friction, the others none.
    pub fn jack_least(p: Force as "P", n: f64 as "n", friction: f64 as "friction") -> Force as "P_1" = p * ((1.0 - friction) / (n - friction));
    source "equal pressure, friction between zero and all";
    /// Force that a pressure of a gauge stands for.
    pub fn gauge_force(p: Pressure as "p", a: Area as "A") -> Force as "F" = p * a;
    source "F = p A";
}

crate::answer! {
    /// What a locked-off circuit does at full test load; forces are of all its jacks together.
    pub struct Locked {
        /// Force of the circuit, net.
        force: Force,
        /// Stiffness of the load path without the oil, stiff prediction; nothing where nothing moves.
        stiffness: Option<SpringStiffness>,
        /// Whether the oil is described; if not, it counts as stiff.
        oil_known: bool,
        /// Force that the least stroke of the pump brings.
        per_stroke: Option<Force>,
        /// Force that is lost when the oil cools.
        cooling: Option<Force>,
        /// Force that is gained when it warms.
        warming: Option<Force>,
        /// Force that the bars take or give by their temperature, either way.
        bars: Option<Force>,
        /// Force that the creep of the member takes, where it is stated.
        creep: Option<Force>,
        /// Force that the leak takes in its time.
        leak: Option<Force>,
        /// That time.
        leak_over: Option<Duration>,
        /// How far the force may go from the full force.
        band: Option<Force>,
        /// After what time it has to be topped up at the latest, once it is cold; nothing where
        /// no leak is known or none of the band is left.
        top_up_after: Option<Duration>,
        /// Force that the class of the gauge stands for.
        gauge_class: Option<Force>,
        /// Force that one division of the gauge stands for.
        gauge_division: Option<Force>,
    }
}

crate::answer! {
    /// What the hold of one step does to the force of a locked-off circuit, all its jacks together.
    pub struct HeldForce {
        /// The circuit, where it is named.
        circuit: Option<String>,
        /// The least force at the end of the hold if nobody tops up: oil cold, bars against it, leak, creep.
        least: Force,
        /// The largest: oil and bars warm, no leak.
        most: Force,
        /// How far the force may go from that of the step.
        band: Force,
        /// Whether temperature and creep alone leave the band.
        leaves_band: bool,
        /// After what time it is topped up at the latest; nothing where the hold ends before.
        top_up_after: Option<Duration>,
        /// After what time again, from then on.
        then_every: Option<Duration>,
    }
}

impl Locked {
    /// What a hold of a step does: at this part of the full force, for this time where the temperatures
    /// and the creep given are those of a `whole` hold. In a shorter one they change in proportion of
    /// time, the creep of load too; the leak is that of full pressure (library rule). Nothing where no
    /// hold is described.
    ///
    /// ```
    /// use proofspan::rig::Hydraulic;
    /// use proofspan::source::read_json;
    /// use proofspan::units::*;
    ///
    /// let mut press = Hydraulic::of(100.0 * KN, 2, 5000.0 * MM2, 70.0 * MPA_FLUID, 150.0 * MM)
    ///     .moves(12.0 * MM, 3.0 * MM);
    /// press.oil_volume = Some(read_json(r#""2 l""#)?);
    /// press.oil_bulk_modulus = Some(read_json(r#""1400 MPa""#)?);
    /// press.hold = Some(read_json(
    ///     r#"{ "band": 0.1, "expansion": "7e-4 1/K", "cooling": "2 K", "warming": "0 K",
    ///         "leak": { "volume": "2 ml", "over": "1 h" } }"#,
    /// )?);
    /// let found = press.check()?.hydraulics.locked.unwrap();
    /// let day = Duration::from_si(86_400.0);
    /// let held = found.during(None, 1.0, (day, day)).unwrap();
    /// assert!(held.least < held.most && held.top_up_after.unwrap() < day);
    /// # Ok::<(), proofspan::Error>(())
    /// ```
    #[must_use]
    pub fn during(
        &self,
        circuit: Option<&str>,
        part: f64,
        (hold, whole): (Duration, Duration),
    ) -> Option<HeldForce> {
        let band = self.band? * part;
        let time = if whole > Duration::ZERO { (hold / whole).min(1.0) } else { 1.0 };
        let some = |f: Option<Force>| f.unwrap_or(Force::ZERO) * time;
        let falls = some(self.cooling) + some(self.bars) + some(self.creep) * part;
        let leaks = self.leak.zip(self.leak_over).filter(|(f, _)| *f > Force::ZERO);
        let lost = leaks.map_or(Force::ZERO, |(f, over)| f * (hold / over));
        let full = self.force * part;
        let spare = band - falls;
        let after = |force: Force| leaks.map(|(f, over)| over * (force / f));
        let first = after(spare).filter(|t| spare > Force::ZERO && *t < hold);
        Some(HeldForce {
            circuit: circuit.map(str::to_owned),
            least: (full - falls - lost).max(Force::ZERO),
            most: full + some(self.warming) + some(self.bars),
            band,
            leaves_band: spare < Force::ZERO || some(self.warming) + some(self.bars) > band,
            top_up_after: first,
            then_every: first.and_then(|_| after(band)),
        })
    }
}

/// A circuit as its jacks move: the area of all, their way by stiff prediction weighed by area.
#[derive(Clone, Copy)]
pub(super) struct Circuit {
    pub(super) force: Force,
    pub(super) area: Area,
    pub(super) way: Length,
    /// The longest bars of its presses.
    pub(super) bars: Length,
}

/// What the circuit does; nothing where neither pump nor hold nor gauge is described.
pub(super) fn locked<R: Recorder>(
    recorder: &mut R,
    jacks: &Jacks,
    circuit: &Circuit,
) -> Option<Locked> {
    if jacks.pump.is_none() && jacks.hold.is_none() && jacks.gauge.is_none() {
        return None;
    }
    recorder.about(|| match &jacks.circuit {
        Some(name) => format!("The locked-off circuit {name}"),
        None => "The locked-off circuit".to_owned(),
    });
    let oil = jacks.oil();
    let k =
        (circuit.way > Length::ZERO).then(|| path_stiffness(recorder, circuit.force, circuit.way));
    let force_of = |e: Length, recorder: &mut R| match (k, oil) {
        (Some(k), Some((v, bulk))) => Some(force_of_way(recorder, k, e, v, circuit.area, bulk)),
        (Some(k), None) => Some(force_of_way_stiff(recorder, k, e)),
        (None, Some((v, bulk))) => Some(force_of_way_oil(recorder, e, v, circuit.area, bulk)),
        (None, None) => None,
    };
    let per_stroke = jacks.pump.as_ref().and_then(|p| {
        let e = oil_way(recorder, p.stroke.value, circuit.area);
        force_of(e, recorder)
    });
    let hold = jacks.hold.as_ref();
    let thermal = |change: TemperatureChange, recorder: &mut R| {
        let (hold, (v, _)) = (hold?, oil?);
        let e = oil_expands(recorder, v, circuit.area, hold.expansion.value, change);
        force_of(e, recorder)
    };
    let cooling = hold.and_then(|h| thermal(h.cooling.value, recorder));
    let warming = hold.and_then(|h| thermal(h.warming.value, recorder));
    let bars = hold.and_then(|h| {
        let (alpha, change) = (h.bars_expansion.as_ref()?, h.bars_change.as_ref()?);
        let e = bars_expand(recorder, circuit.bars, alpha.value, change.value);
        force_of(e, recorder)
    });
    let leaks = hold.and_then(|h| h.leak.as_ref());
    let leak = leaks.and_then(|l| {
        let e = oil_way(recorder, l.volume.value, circuit.area);
        force_of(e, recorder)
    });
    let creep = hold.and_then(|h| h.creep.as_ref()).and_then(|c| force_of(c.value, recorder));
    let band = hold.map(|h| circuit.force * h.band.value.value());
    let none = Force::ZERO;
    let spare =
        band.zip(cooling).map(|(b, c)| b - c - bars.unwrap_or(none) - creep.unwrap_or(none));
    let top_up_after = spare.zip(leak).zip(leaks).and_then(|((spare, lost), leak)| {
        (spare > Force::ZERO && lost > Force::ZERO)
            .then(|| top_up_after(recorder, spare, lost, leak.over.value))
    });
    let gauge = jacks.gauge.as_ref();
    Some(Locked {
        force: circuit.force,
        stiffness: k,
        oil_known: oil.is_some(),
        per_stroke,
        cooling,
        warming,
        bars,
        creep,
        leak,
        leak_over: leaks.map(|l| l.over.value),
        band,
        top_up_after,
        gauge_class: gauge
            .map(|g| gauge_force(recorder, g.full_scale.value * g.class.value, circuit.area)),
        gauge_division: gauge.map(|g| gauge_force(recorder, g.division.value, circuit.area)),
    })
}
