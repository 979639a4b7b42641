//! What the engineer asks of the schedule, and what the edition asks.

use crate::error::{Issue, slug};
use crate::source::rule::{Movement, Share, Uncertainty, Wait};
use crate::source::{Given, Reader};
use crate::units::{Duration, Length, Message, Ratio, Said};
use crate::verdict::Stop;

crate::choice! {
    /// How the load is brought on.
    pub enum Method ("test method", source::SOURCE_CHOICE) {
        /// Rising steps, a long hold at full load, unloading, a late residual reading.
        Monotonic = "monotonic",
        /// The cycles of the edition in twin pairs, each in steps, with a least load between them.
        Cyclic = "cyclic",
    }
}

crate::choice! {
    /// Against what a gauge measures.
    pub enum GaugeReference ("gauge reference", source::SOURCE_CHOICE) {
        /// Against something that does not move.
        Absolute = "absolute",
        /// Against the reaction member below, which rises under the jacks.
        ReactionMember = "reaction_member",
    }
}

crate::rule! {
    /// A place of a gauge, from the left end of the member.
    pub GaugePlace { least 0.0 PROTOCOL_GAUGE_OUTSIDE }
}

crate::record! {
    /// A gauge for vertical deflection, positive down.
    pub struct Gauge {
        /// How the log calls it.
        id: String,
        /// Place from the left end of the member, overhang included.
        at: Given<Length, GaugePlace>,
        /// Against what it measures.
        reference: GaugeReference = GaugeReference::Absolute,
        /// Standard uncertainty of a single reading.
        u: Option<Given<Length, Uncertainty>>,
        /// The largest reading it can take.
        range: Option<Given<Length, Movement>>,
    }
}

crate::record! {
    /// The steps asked for. Fractions are of the full net test load.
    pub struct ProtocolSpec {
        /// How the load is brought on.
        method: Method = Method::Monotonic,
        /// Fractions of the full test load, rising, the last one 1; of a cyclic test fractions of the
        /// peak of each cycle.
        steps: Vec<Ratio> where Share = default_steps(),
        /// The shortest hold of a step below the top; readings must also be stable.
        step_hold: Given<Duration, Wait> = Given::known(Duration::from_si(600.0)),
        /// The hold at full load; the edition's own where nothing is given.
        full_hold: Option<Given<Duration, Wait>>,
        /// The gauges.
        gauges: Vec<Gauge> = Vec::new(),
        /// That the survey found the member cracked, and where that is written: the limit at which
        /// the test pauses then counts from the soft prediction, not from the stiff one.
        cracked: Option<String>,
    }
    rules {
        rising[steps];
        gauges_differ[gauges];
    }
}

/// 25, 50, 75, 90 and 100 % (common practice, no source).
fn default_steps() -> Vec<Ratio> {
    [0.25, 0.5, 0.75, 0.9, 1.0].map(Ratio::from).to_vec()
}

fn rising(reader: &mut Reader, steps: &[Ratio]) {
    let shown = || steps.iter().map(|s| s.value().to_string()).collect::<Vec<_>>().join(", ");
    let mut last = 0.0;
    let mut rises = true;
    for step in steps {
        rises &= step.value() > last;
        last = step.value();
    }
    let ends_at_one = (last - 1.0).abs() < 1e-12;
    if !rises || !ends_at_one {
        let path = reader.path_of("steps");
        reader.push(
            Issue::new(
                slug::PROTOCOL_STEPS_NOT_INCREASING,
                path,
                "the steps do not rise from above 0 to 1",
            )
            .value(shown())
            .limit("0 < first < … < last = 1"),
        );
    }
}

/// A gauge watches where it is predicted to move by this part of the largest deflection at least (library
/// rule).
pub(super) const WATCHES: f64 = 0.05;

impl ProtocolSpec {
    /// The state in which nobody would see the member give way: no gauge stands where it is predicted to move
    /// by a twentieth of `largest` or more.
    pub(crate) fn unwatched(
        &self,
        moves: &dyn Fn(Length) -> Length,
        largest: Length,
    ) -> Option<Stop> {
        let watches = |g: &Gauge| moves(g.at.value).abs() >= largest * WATCHES;
        if self.gauges.is_empty() || self.gauges.iter().any(watches) {
            return None;
        }
        let message = Message::new(
            "no gauge stands where the member is predicted to move by {} of its largest deflection {} or more: nobody would see it give way",
            [Ratio::from(WATCHES).into(), Said::small(largest)],
        );
        Some(Stop::new(slug::PROTOCOL_UNWATCHED, "protocol.gauges", message))
    }

    /// States in which nothing is cleared: nobody sees the member move, or the whole load comes at once.
    #[must_use]
    pub fn stops(&self) -> Vec<Stop> {
        let mut stops = Vec::new();
        if self.gauges.is_empty() {
            let message = "no gauge reads the member: nobody would see it give way";
            stops.push(Stop::new(slug::PROTOCOL_UNWATCHED, "protocol.gauges", message));
        }
        if self.steps.len() < 2 {
            let message = "the whole load comes in one step: no reading stands before it";
            stops.push(Stop::new(slug::PROTOCOL_ONE_STEP, "protocol.steps", message));
        }
        stops
    }
}

fn gauges_differ(reader: &mut Reader, gauges: &[Gauge]) {
    for (i, gauge) in gauges.iter().enumerate() {
        if gauges.iter().take(i).any(|g| g.id == gauge.id) {
            let path = format!("{}[{i}].id", reader.path_of("gauges"));
            reader.push(Issue::new(
                slug::READINGS_ID_DUPLICATE,
                path,
                format!("two gauges are called `{}`", gauge.id),
            ));
        }
    }
}
