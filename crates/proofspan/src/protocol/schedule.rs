//! The steps with force, pressure, hold, reading times and predicted readings.

use smallvec::SmallVec;

use super::steps::{Gauge, GaugeReference, Method, ProtocolSpec};
use crate::editions::{CycleFile, Rule};
use crate::error::{Error, Issue, slug};
use crate::formula::{NoRecord, Recorder};
use crate::rig::{HeldForce, Locked};
use crate::source::{Name, validate_named};
use crate::units::{Duration, Force, Length, Message, Net, Pressure, Ratio, Said};
use crate::verdict::{DESIGN_SLACK, Note};

/// What is predicted under the full test load; everything is linear in the load until it cracks.
#[derive(Clone, Copy)]
pub struct Prediction<'a> {
    /// Every carrier with its force.
    pub carriers: &'a [Carrying<'a>],
    /// The sum of the forces on one member unit.
    pub force: Net<Force>,
    /// The force of one jack.
    pub force_per_jack: Net<Force>,
    /// The pump pressure, where the rig is known.
    pub pressure: Option<Pressure>,
    /// What every circuit does when it is locked off, with its name, where it is described.
    pub circuits: &'a [(Option<&'a str>, Option<&'a Locked>)],
    /// The length of the member, overhangs included; places count from its left end.
    pub length: Length,
    /// Absolute deflection at a place, soft prediction, positive down.
    pub soft: &'a dyn Fn(Length) -> Length,
    /// The same, stiff prediction.
    pub stiff: &'a dyn Fn(Length) -> Length,
    /// Stiff over soft EI at the left end of the member. The rise of the reaction member is divided
    /// by it in the stiff prediction: of that member only the soft EI is known, and a reading of one
    /// stiffness throughout is the smaller one, which stops sooner.
    pub stiffness_ratio: f64,
    /// The reaction member, where there is one.
    pub rise: Option<Rise<'a>>,
}

/// One carrier under the full test load.
#[derive(Clone, Copy, Debug)]
pub struct Carrying<'a> {
    /// What it is called.
    pub name: &'a Name,
    /// Its force on one member unit.
    pub force: Net<Force>,
    /// The force of one of its jacks.
    pub force_per_jack: Option<Net<Force>>,
    /// The pressure of its circuit.
    pub pressure: Option<Pressure>,
    /// How many layers it has, of bags or blocks.
    pub layers: Option<f64>,
    /// How deep it is, of water.
    pub depth: Option<Length>,
}

/// How the reaction member rises under the jacks.
#[derive(Clone, Copy)]
pub struct Rise<'a> {
    /// Where it begins and ends, from the left end of the member under test.
    pub between: (Length, Length),
    /// How far it rises at such a place, soft prediction, positive up.
    pub at: &'a dyn Fn(Length) -> Length,
}

impl core::fmt::Debug for Rise<'_> {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.debug_struct("Rise").field("between", &self.between).finish_non_exhaustive()
    }
}

impl core::fmt::Debug for Prediction<'_> {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.debug_struct("Prediction").field("force", &self.force).finish_non_exhaustive()
    }
}

crate::laws! {
    /// Force at a step.
    pub fn step_force(part: f64 as "part", p: Force as "P") -> Force as "P_step" = part * p;
    source "a part of the full net test load";
    /// Pump pressure at a step.
    pub fn step_pressure(part: f64 as "part", p: Pressure as "p") -> Pressure as "p_step" = part * p;
    source "everything is linear in the load";
    /// Reading at a step.
    pub fn step_reading(part: f64 as "part", v: Length as "v") -> Length as "v_step" = part * v;
    source "everything is linear in the load until it cracks";
    /// Reading at full load, soft prediction: the member comes down, what the gauge stands on rises.
    pub fn soft_reading(w: Length as "w_soft", rise: Length as "rise") -> Length as "v_soft" = w + rise;
    source "difference of two levels";
    /// Reading at full load, stiff prediction.
    pub fn stiff_reading(w: Length as "w_stiff", rise: Length as "rise", ratio: f64 as "EI_stiff/EI_soft") -> Length as "v_stiff" = w + rise / ratio;
    source "difference of two levels, both stiffer in one proportion";
}

crate::answer! {
    /// What one gauge should show at one step. Readings count from zero, positive down.
    pub struct GaugeReading {
        /// The gauge, by its place in the list of gauges.
        gauge: usize,
        /// With gross section and expected modulus: for stop limits and linearity. A gauge on the
        /// reaction member takes that member stiffer in the same proportion.
        stiff: Length,
        /// With cracked section and low modulus: for gap, stroke and range.
        soft: Length,
        /// How far the readings of two people at one moment may be apart: twice the standard uncertainty of
        /// their difference; nothing of a gauge whose uncertainty is not given.
        readers_apart: Option<Length>,
    }
}

crate::answer! {
    /// What one carrier brings at one step.
    pub struct CarrierStep {
        /// What it is called.
        name: Name,
        /// Its force on one member unit, net.
        force: Net<Force>,
        /// The force of one of its jacks, net.
        force_per_jack: Option<Net<Force>>,
        /// The pressure of its circuit.
        pressure: Option<Pressure>,
        /// How many layers are on, of bags or blocks.
        layers: Option<f64>,
        /// How deep the water is.
        depth: Option<Length>,
    }
}

crate::answer! {
    /// One step of the schedule.
    pub struct Step {
        /// Fraction of the full net test load.
        fraction: Ratio,
        /// The sum of the forces on one member unit, net.
        force: Net<Force>,
        /// What each carrier brings; all rise together.
        carriers: SmallVec<[CarrierStep; 1]>,
        /// The largest force of one jack, net.
        force_per_jack: Net<Force>,
        /// Pump pressure, where the rig is known.
        pressure: Option<Pressure>,
        /// The shortest hold; the readings must also be stable.
        hold: Duration,
        /// When to read, from the moment the step's load is reached.
        reading_times: SmallVec<[Duration; 6]>,
        /// What each gauge should show.
        readings: SmallVec<[GaugeReading; 3]>,
        /// What the hold does to the force of every locked-off circuit whose hold is described.
        held: SmallVec<[HeldForce; 1]>,
    }
}

crate::answer! {
    /// One load cycle of the schedule. Fractions are of the full net test load.
    pub struct PlannedCycle {
        /// Its name in the edition.
        name: String,
        /// The pair of twins it belongs to.
        pair: usize,
        /// Its rising steps, the peak last.
        steps: Vec<Step>,
        /// The least load to which it comes back; the last one then goes to nothing.
        down_to: Ratio,
        /// The force at that load on one member unit, net.
        least: Net<Force>,
    }
}

crate::answer! {
    /// The schedule of a test.
    pub struct Schedule {
        /// The rising steps, the full load last; of a cyclic test those of its last cycle.
        steps: Vec<Step>,
        /// The load cycles in order; none of a monotonic test. Before the first the least load is
        /// held as between them.
        cycles: Vec<PlannedCycle>,
        /// Fractions at which to stop and read while unloading.
        unloading: Vec<Ratio>,
        /// The zero reading is at most so long before the first increment.
        zero_before: Option<Duration>,
        /// When the residual is read, after the load is off.
        residual_after: Option<Duration>,
        /// What to know.
        notes: Vec<Note>,
    }
}

/// Plans the steps.
///
/// # Errors
/// `protocol.increments-few` where the edition asks for more steps,
/// `protocol.hold-short` where the hold asked for is shorter than the edition's,
/// `protocol.hold-missing` where neither the edition nor the engineer gives one,
/// `protocol.cycles-missing` for a cyclic test of an edition that has no cycles,
/// `protocol.gauge-outside`, and what the rules of the fields refuse.
pub fn schedule(
    spec: &ProtocolSpec,
    rule: &Rule,
    prediction: &Prediction<'_>,
) -> Result<Schedule, Error> {
    validate_named("protocol", spec)?;
    planned(&mut NoRecord, spec, rule, prediction)
}

/// The same for a document that was held to its rules.
pub(crate) fn planned<R: Recorder>(
    recorder: &mut R,
    spec: &ProtocolSpec,
    rule: &Rule,
    prediction: &Prediction<'_>,
) -> Result<Schedule, Error> {
    let mut issues = problems(spec, prediction);
    let cyclic = spec.method == Method::Cyclic;
    let full_hold = full_hold(spec, rule, &mut issues);
    if cyclic && rule.cycles.is_empty() {
        let message = "the edition has no load cycles";
        let issue = Issue::new(slug::PROTOCOL_CYCLES_MISSING, "protocol.method", message);
        issues.push(issue.value(spec.method.word()));
    }
    if let Some(least) = rule.step_hold.filter(|least| spec.step_hold.value < *least) {
        let message = "shorter than the edition's hold of a step";
        let issue = Issue::new(slug::PROTOCOL_HOLD_SHORT, "protocol.step_hold", message);
        let shown = format!("at least {} min", least.si() / 60.0);
        issues.push(issue.value(spec.step_hold.shown()).limit(shown));
    }
    if let Some(least) = rule.min_increments
        && spec.steps.len() < least as usize
    {
        issues.push(
            Issue::new(
                slug::PROTOCOL_INCREMENTS_FEW,
                "protocol.steps",
                "the edition asks for more increments",
            )
            .value(spec.steps.len())
            .limit(format!("at least {least}")),
        );
    }
    Error::check(issues)?;
    let at_full = readings(recorder, &spec.gauges, prediction);
    let mut step = |fraction: Ratio| {
        let part = fraction.value();
        recorder.about(|| Message::new("Step of {} of the full test load", [fraction.into()]));
        let full = part >= 1.0;
        let hold = if full { full_hold } else { spec.step_hold.value };
        Step {
            fraction,
            force: Net(step_force(recorder, part, prediction.force.0)),
            carriers: prediction.carriers.iter().map(|c| carried(recorder, c, part)).collect(),
            force_per_jack: Net(step_force(recorder, part, prediction.force_per_jack.0)),
            pressure: prediction.pressure.map(|p| step_pressure(recorder, part, p)),
            hold,
            reading_times: reading_times(hold),
            readings: at_full.iter().map(|r| r.part(recorder, part)).collect(),
            held: {
                let times = (hold, full_hold);
                let during = |(name, locked): &(Option<&str>, Option<&Locked>)| {
                    locked.and_then(|l| l.during(*name, part, times))
                };
                prediction.circuits.iter().filter_map(during).collect()
            },
        }
    };
    let steps: Vec<Step> = spec.steps.iter().copied().map(&mut step).collect();
    let unloading = spec.steps.iter().rev().skip(1).copied().chain([Ratio::ZERO]).collect();
    let least = rule.least.unwrap_or(0.0);
    let mut cycle = |c: &CycleFile| {
        let fractions = spec.steps.iter().map(|s| s.value() * c.level).filter(|f| *f > least);
        PlannedCycle {
            name: c.name.clone(),
            pair: c.pair as usize,
            steps: fractions.map(Ratio::from).map(&mut step).collect(),
            down_to: Ratio::from(least),
            least: prediction.force * least,
        }
    };
    let cycles = if cyclic { rule.cycles.iter().map(&mut cycle).collect() } else { Vec::new() };
    Ok(Schedule {
        cycles,
        unloading,
        zero_before: rule.zero_before,
        residual_after: rule.residual_after,
        notes: {
            let mut notes = range_notes(&spec.gauges, &at_full);
            notes.extend(layer_notes(&steps));
            notes.extend(unheld(prediction));
            notes
        },
        steps,
    })
}

fn carried<R: Recorder>(recorder: &mut R, carrier: &Carrying<'_>, part: f64) -> CarrierStep {
    let mut force = |f: Net<Force>| Net(step_force(recorder, part, f.0));
    CarrierStep {
        name: carrier.name.clone(),
        force: force(carrier.force),
        force_per_jack: carrier.force_per_jack.map(&mut force),
        pressure: carrier.pressure.map(|p| step_pressure(recorder, part, p)),
        layers: carrier.layers.map(|l| l * part),
        depth: carrier.depth.map(|d| d * part),
    }
}

/// Circuits of which nobody says what the hold does to them.
fn unheld(prediction: &Prediction<'_>) -> Option<Note> {
    let open = prediction.circuits.iter().filter(|c| c.1.is_none_or(|l| l.band.is_none()));
    let open: Vec<_> = open.collect();
    if open.is_empty() {
        return None;
    }
    let names: Vec<&str> = open.iter().filter_map(|c| c.0).collect();
    let of = if names.is_empty() {
        String::new()
    } else {
        format!(" of circuit {}", names.join(" and "))
    };
    let message = format!(
        "what the holds do to the locked-off force{of} is not predicted: a night changes it by the temperature of oil and steel, by leak and by creep; read the cell at every reading and log every stroke"
    );
    Some(Note::new(slug::PROTOCOL_HOLD_UNPREDICTED, "rig.jacks", message))
}

/// Steps at which a stack would have a part of a layer.
fn layer_notes(steps: &[Step]) -> Option<Note> {
    let broken = |s: &&Step| {
        let part = |c: &CarrierStep| c.layers.is_some_and(|l| (l - l.round()).abs() > 1e-6);
        s.carriers.iter().any(part)
    };
    let steps: Vec<String> = steps
        .iter()
        .filter(broken)
        .map(|s| format!("{:.0} %", s.fraction.value() * 100.0))
        .collect();
    if steps.is_empty() {
        return None;
    }
    let message = format!(
        "at {} a stack has a part of a layer: choose fractions of whole layers",
        steps.join(", ")
    );
    Some(Note::new(slug::PROTOCOL_PART_LAYER, "protocol.steps", message))
}

/// What does not hold between the steps asked for and the member.
fn problems(spec: &ProtocolSpec, prediction: &Prediction<'_>) -> Vec<Issue> {
    let mut issues = Vec::new();
    let slack = prediction.length * DESIGN_SLACK;
    for (i, gauge) in spec.gauges.iter().enumerate() {
        let (what, (from, to)) = match (gauge.reference, prediction.rise) {
            (GaugeReference::ReactionMember, Some(rise)) => ("reaction member", rise.between),
            _ => ("member", (Length::ZERO, prediction.length)),
        };
        let at = gauge.at.value;
        if !(at >= from - slack && at <= to + slack) {
            issues.push(
                Issue::new(
                    slug::PROTOCOL_GAUGE_OUTSIDE,
                    format!("protocol.gauges[{i}].at"),
                    format!("gauge `{}` stands beyond the {what}", gauge.id),
                )
                .value(gauge.at.said())
                .limit(Message::new("{} to {} from the left end", [from.into(), to.into()])),
            );
        }
    }
    issues
}

fn full_hold(spec: &ProtocolSpec, rule: &Rule, issues: &mut Vec<Issue>) -> Duration {
    match (&spec.full_hold, rule.full_hold) {
        (Some(given), Some(least)) if given.value < least => {
            issues.push(
                Issue::new(
                    slug::PROTOCOL_HOLD_SHORT,
                    "protocol.full_hold",
                    "shorter than the edition's hold at full load",
                )
                .value(given.said())
                .limit(Message::new("at least {}", [least.into()])),
            );
            given.value
        }
        (Some(given), _) => given.value,
        (None, Some(least)) => least,
        // the peak of a cycle is held as a step is
        (None, None) if spec.method == Method::Cyclic => spec.step_hold.value,
        (None, None) => {
            issues.push(Issue::new(
                slug::PROTOCOL_HOLD_MISSING,
                "protocol.full_hold",
                "the edition gives no hold at full load and none is given",
            ));
            Duration::ZERO
        }
    }
}

/// At once, after 5, 15, 30, 60 min and then hourly, up to the end of the hold (common
/// practice, no source).
fn reading_times(hold: Duration) -> SmallVec<[Duration; 6]> {
    let end = hold.si();
    let mut times: SmallVec<[Duration; 6]> = [0.0, 300.0, 900.0, 1800.0]
        .into_iter()
        .filter(|t| *t < end)
        .map(Duration::from_si)
        .collect();
    let mut hour = 3600.0;
    while hour < end && times.len() < 200 {
        times.push(Duration::from_si(hour));
        hour += 3600.0;
    }
    times.push(hold);
    times
}

impl GaugeReading {
    /// Under a part of the test load.
    fn part<R: Recorder>(&self, recorder: &mut R, k: f64) -> Self {
        let mut at = |v: Length| step_reading(recorder, k, v);
        Self { stiff: at(self.stiff), soft: at(self.soft), ..*self }
    }
}

/// What the gauges should show under the full test load.
fn readings<R: Recorder>(
    recorder: &mut R,
    gauges: &[Gauge],
    prediction: &Prediction<'_>,
) -> SmallVec<[GaugeReading; 3]> {
    gauges
        .iter()
        .enumerate()
        .map(|(gauge, g)| {
            let rise = match (g.reference, prediction.rise) {
                (GaugeReference::ReactionMember, Some(rise)) => (rise.at)(g.at.value),
                _ => Length::ZERO,
            };
            recorder.about(|| {
                let said = [(&g.id).into(), g.at.value.into()];
                Message::new("Gauge {} at x = {} under the full test load", said)
            });
            let (soft, stiff) = ((prediction.soft)(g.at.value), (prediction.stiff)(g.at.value));
            let soft = soft_reading(recorder, soft, rise);
            let stiff = stiff_reading(recorder, stiff, rise, prediction.stiffness_ratio);
            // each reads with the same u: the difference has the root of two of it
            let apart = |u: Length| u * (2.0 * std::f64::consts::SQRT_2);
            let readers_apart = g.u.as_ref().map(|u| apart(u.value));
            GaugeReading { gauge, stiff, soft, readers_apart }
        })
        .collect()
}

fn range_notes(gauges: &[Gauge], full: &[GaugeReading]) -> Vec<Note> {
    let mut notes = Vec::new();
    for reading in full {
        let Some(gauge) = gauges.get(reading.gauge) else { continue };
        if let Some(range) = &gauge.range
            && reading.soft.abs() * 1.5 > range.value
        {
            let message = Message::new(
                "gauge `{}` reaches {} and should show {}: less than 1.5 times the soft prediction",
                [(&gauge.id).into(), Said::small(range.value), Said::small(reading.soft)],
            );
            notes.push(Note::new(
                slug::PROTOCOL_RANGE_SHORT,
                format!("protocol.gauges[{}].range", reading.gauge),
                message,
            ));
        }
    }
    notes
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]
mod tests {
    use super::*;
    use crate::source::read_json;
    use crate::units::{FT, IN, LBF};

    /// Readings of the terrace strip: deflection under the jack line 682097/3515625 in, the reaction
    /// strip of equal stiffness rises as much (own derivation, closed form).
    fn plan(spec: &str, rule: Rule) -> Result<Schedule, Error> {
        let spec: ProtocolSpec = read_json(spec)?;
        let v = 682_097.0 / 3_515_625.0 * IN;
        let soft = move |_x: Length| v;
        let stiff = move |_x: Length| v / (134.0 / 81.0);
        let rise = move |_x: Length| v;
        let force = Net(2_098_760.0 / 117.0 * LBF);
        let prediction = Prediction {
            carriers: &[],
            force,
            force_per_jack: force * (1.0 / 3.0),
            pressure: None,
            circuits: &[],
            length: 45.0 * FT,
            soft: &soft,
            stiff: &stiff,
            stiffness_ratio: 134.0 / 81.0,
            rise: Some(Rise { between: (0.0 * FT, 45.0 * FT), at: &rise }),
        };
        schedule(&spec, &rule, &prediction)
    }

    const GAUGES: &str = r#"{"gauges":[{"id":"a","at":"6 ft","range":"0.25 in"},{"id":"r","at":"6 ft","reference":"reaction_member"}]}"#;

    #[test]
    fn forces_and_readings_of_the_terrace_strip() {
        let rule = Rule {
            full_hold: Some(Duration::from_si(86_400.0)),
            min_increments: Some(4),
            ..Rule::default()
        };
        let plan = plan(GAUGES, rule).unwrap();
        let forces: Vec<f64> = plan.steps.iter().map(|s| s.force.0.to(LBF)).collect();
        for (force, expected) in
            forces.iter().zip([4484.530, 8969.060, 13453.590, 16144.308, 17938.120])
        {
            assert!((force - expected).abs() < 5e-4, "{force} {expected}");
        }
        let quarter = &plan.steps[0].readings;
        assert!((quarter[0].soft.to(IN) - 0.048_505).abs() < 5e-7);
        assert!(
            (quarter[1].soft.to(IN) - 0.097_009).abs() < 5e-7,
            "a gauge on the reaction member reads double"
        );
        for reading in quarter {
            assert!((reading.stiff / reading.soft - 81.0 / 134.0).abs() < 1e-12);
        }
        assert_eq!(plan.steps[4].hold, Duration::from_si(86_400.0));
        assert_eq!(plan.steps[4].reading_times.len(), 28);
        assert_eq!(plan.unloading.last(), Some(&Ratio::ZERO));
        assert_eq!(plan.notes.len(), 1, "0.25 in is less than 1.5 x 0.194 in");
    }

    #[test]
    fn refusals() {
        let hold = Some(Duration::from_si(86_400.0));
        let codes = |spec: &str, rule: Rule| plan(spec, rule).unwrap_err().codes();
        assert_eq!(
            codes(r#"{"steps":[0.5,0.4,1]}"#, Rule::default()),
            ["protocol.steps-not-increasing"]
        );
        assert_eq!(
            codes(r#"{"steps":[0.5,0.9]}"#, Rule::default()),
            ["protocol.steps-not-increasing"]
        );
        assert_eq!(codes(r#"{"full_hold":24}"#, Rule::default()), ["protocol.hold-unit-missing"]);
        assert_eq!(codes("{}", Rule::default()), ["protocol.hold-missing"]);
        let rule = Rule { full_hold: hold, min_increments: Some(4), ..Rule::default() };
        assert_eq!(
            codes(r#"{"full_hold":"23 h","steps":[0.5,1]}"#, rule),
            ["protocol.hold-short", "protocol.increments-few"]
        );
        let two = r#"{"gauges":[{"id":"a","at":"1 m"},{"id":"a","at":"2 m"}]}"#;
        assert_eq!(codes(two, Rule::default()), ["readings.id-duplicate"]);
    }
}
