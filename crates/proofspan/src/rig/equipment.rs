//! Do jacks and bars carry what is asked of them?

use super::check::{Rig, used};
use super::fittings::Checked;
use super::gear::{BeamUse, RigBeam, deflects};
use super::hydraulics::{Hydraulics, Pressed, bar_stretch, hydraulics};
use super::locked::Circuit;
use super::manifold::RamForce;
use super::press::{ForcePath, Pull, Served, Tested};
use super::spec::{Jacks, RigSpec};
use super::uneven::OnPressure;
use crate::error::slug;
use crate::formula::{NoRecord, Recorder};
use crate::units::{Area, Force, Kind, Length, Message, Quantity, SpringStiffness};
use crate::verdict::{
    Basis, Clause, Collect, Limit, MemberUnit, Note, Stop, Subject, Verdict, words,
};

crate::laws! {
    /// Force of one bar.
    pub fn bar_force(p: Force as "P", n: f64 as "n", worst: f64 as "worst") -> Force as "P_bar" = p / n * worst;
    source "equal shares, times what the worst bar takes over one: nearer end, fewer bars";
}

/// The force in the middle of a beam under one press: of the jack, or of the bars at one place.
pub(super) fn force_on(beam: &RigBeam, served: &Served<'_>) -> Force {
    match beam.carries {
        BeamUse::Jack => served.press.force.0,
        BeamUse::Bars => served.shares.iter().map(|s| s.1).fold(Force::ZERO, Force::max),
    }
}

/// How far the beams of the rig give under one press.
fn beams_give(spec: &RigSpec, served: &Served<'_>) -> Length {
    spec.beams.iter().map(|b| deflects(b, force_on(b, served))).sum()
}

impl Rig {
    /// Pressure and stroke of every circuit.
    pub(super) fn jacks<R: Recorder>(
        &mut self,
        recorder: &mut R,
        spec: &RigSpec,
        path: &ForcePath<'_>,
        (test, tested, unit): (Length, &Tested<'_>, MemberUnit),
    ) {
        let mut groups: Vec<Vec<&Served<'_>>> = Vec::new();
        for served in &path.served {
            let same = |g: &&mut Vec<&Served<'_>>| {
                g.first().is_some_and(|s| {
                    s.jacks_path == served.jacks_path && s.press.circuit == served.press.circuit
                })
            };
            match groups.iter_mut().find(same) {
                Some(group) => group.push(served),
                None => groups.push(vec![served]),
            }
        }
        for group in groups {
            let mut most: Option<(Hydraulics, &Served<'_>)> = None;
            self.presses_apart(&group, path);
            for served in group {
                let rise = self.rise_under(served) + beams_give(spec, served);
                let circuit_moves = self.circuit(spec, path, served, (test, tested));
                let found = hydraulics(
                    recorder,
                    &Pressed {
                        circuit: served.press.circuit.as_deref(),
                        force: served.press.force.0,
                        on_bars: served.press.force.0 * served.unevenness(),
                        jacks: served.jacks,
                        bars: served.bars,
                        slack: spec.slack.value,
                        test,
                        rise,
                        gives: served.pulls.iter().all(|p| self.gives(p)),
                        circuit_moves,
                    },
                );
                self.shares_pressure(served, found.stiffness, spec.slack.value);
                if most.as_ref().is_none_or(|(h, _)| found.travel > h.travel) {
                    most = Some((found, served));
                }
            }
            if let Some((found, served)) = most {
                let since = self.verdicts.len();
                self.rated(&found, served.jacks, &served.jacks_path);
                self.circuit_checked(&found, served.jacks, &served.jacks_path, unit);
                self.name(since, Subject::of("circuit", self.hydraulics.len()));
                self.hydraulics.push(found);
            }
        }
    }

    /// Keeps a press beside those that share its pressure.
    fn shares_pressure(
        &mut self,
        served: &Served<'_>,
        stiffness: Option<SpringStiffness>,
        slack: Length,
    ) {
        let way = stiffness.map_or(Length::ZERO, |k| served.press.force.0 / k);
        let press = self.presses.iter().position(|p| p == served.press).unwrap_or_default();
        let on = OnPressure::of(press, served, (way, slack));
        let same = |c: &&mut Vec<OnPressure>| c.first().is_some_and(|o| o.shares(&on));
        match self.shared.iter_mut().find(same) {
            Some(circuit) => circuit.push(on),
            None => self.shared.push(vec![on]),
        }
    }

    /// Several presses on one circuit: friction lets them give other forces than the layout counts, all of
    /// them together as much.
    fn presses_apart(&mut self, group: &[&Served<'_>], path: &ForcePath<'_>) {
        let Some(first) = group.first() else { return };
        let same = |s: &&Served<'_>| s.press.circuit == first.press.circuit;
        let all: Vec<&Served<'_>> = path.served.iter().filter(same).collect();
        let each = |s: &Served<'_>| (s.jacks.acting(), s.jacks.loses());
        if all.len() < 2 || all.iter().all(|s| each(s).1 <= 0.0) {
            return;
        }
        let total: Force = all.iter().map(|s| s.press.force.0).sum();
        for served in group {
            let (own, loses) = each(served);
            let others = || all.iter().filter(|s| !std::ptr::eq(**s, *served)).map(|s| each(s));
            let free: Area = others().map(|o| o.0).sum();
            let held: Area = others().map(|(a, f)| a * (1.0 - f)).sum();
            let gives = |a: Area, rest: Area| total * (a / (a + rest));
            let (least, most) = (gives(own * (1.0 - loses), free), gives(own, held));
            let force = served.press.force.0;
            let off = (most / force - 1.0).max(1.0 - least / force);
            let said = || {
                let text = "the press at {} shares its circuit: friction lets it give {} to {} where the layout counts {}, {} of it";
                let at = served.press.at.into();
                let said = [at, least.into(), most.into(), force.into(), off.into()];
                Message::new(text, said)
            };
            let path = format!("{}.uneven", served.jacks_path);
            let Some(limit) = &served.jacks.uneven else {
                self.notes.push(Note::new(slug::RIG_JACKS_UNEVEN_UNSAID, path, said()));
                continue;
            };
            let verdict = Verdict::design(
                slug::RIG_JACKS_UNEVEN,
                Quantity::new(Kind::Ratio, off),
                Limit::AtMost(limit.value.si()),
                Basis::net(MemberUnit::Jack),
                Clause::Named("shares of the layout, as far off as is given"),
            );
            let number = self.presses.iter().position(|p| p == served.press).unwrap_or_default();
            let verdict = verdict.of(Subject::of("press", number));
            self.check(verdict, || words(path, said()));
        }
    }

    /// All jacks on the circuit of a press, and how they move by the stiff prediction. On one pressure
    /// the oil they take together is what counts, so their ways are weighed by their areas.
    fn circuit(
        &self,
        spec: &RigSpec,
        path: &ForcePath<'_>,
        of: &Served<'_>,
        (test, tested): (Length, &Tested<'_>),
    ) -> Circuit {
        let mut all =
            Circuit { force: Force::ZERO, area: Area::ZERO, way: Length::ZERO, bars: Length::ZERO };
        let mut swept = 0.0;
        for served in path.served.iter().filter(|s| s.press.circuit == of.press.circuit) {
            let area = served.jacks.acting();
            let stretch = served.bars.map_or(Length::ZERO, |b| {
                let force = served.press.force.0 * served.unevenness();
                let n = f64::from(b.number);
                bar_stretch(&mut NoRecord, force, n, b.length.value, b.modulus.value, b.area.value)
            });
            let gives = stretch + beams_give(spec, served);
            let own = tested.way(served.press.at).unwrap_or(test);
            let way = (own + self.rise_under(served)) / tested.stiffer + gives;
            let way = served.jacks.goes(served.press.force.0).unwrap_or(way);
            all.force += served.press.force.0;
            all.area += area;
            all.bars = all.bars.max(served.bars.map_or(Length::ZERO, |b| b.length.value));
            swept += area.si() * way.si();
        }
        all.way = Length::from_si(swept / all.area.si());
        all
    }

    /// Whether it is known how what is pulled on gives way.
    fn gives(&self, pull: &Pull) -> bool {
        let reacting = self.reactions.get(pull.reaction);
        reacting.is_some_and(|r| r.kind.beam() || r.stiffness.is_some())
    }

    /// How far what a press pulls on gives way to it: the rise at every place by its share.
    pub(super) fn rise_under(&self, served: &Served<'_>) -> Length {
        let force = served.press.force.0;
        let at = |p: &Pull| {
            let rise = self.way_of(p);
            // one place takes all of it
            if served.pulls.len() == 1 { rise } else { rise * (p.force / force) }
        };
        served.pulls.iter().map(at).sum::<Length>().max(Length::ZERO)
    }

    /// How far what is pulled on gives way there; zero where that is not known.
    pub(super) fn way_of(&self, pull: &Pull) -> Length {
        let Some(reacting) = self.reactions.get(pull.reaction) else { return Length::ZERO };
        match reacting.stiffness {
            Some(k) if !reacting.kind.beam() => pull.force / k,
            _ => reacting.rise(pull.at).unwrap_or(Length::ZERO),
        }
    }

    /// Margins, hoses, valves, pump and hold of a circuit.
    pub(super) fn circuit_checked(
        &mut self,
        found: &Hydraulics,
        jacks: &Jacks,
        path: &str,
        unit: MemberUnit,
    ) {
        self.gather(&mut Checked::of(found, jacks, path, unit));
    }

    pub(super) fn rated(&mut self, found: &Hydraulics, jacks: &Jacks, path: &str) {
        let pressure = Verdict::design(
            slug::RIG_PRESSURE_OVER_RATING,
            found.pressure.into(),
            Limit::AtMost(jacks.rated_pressure.value.si()),
            Basis::net(MemberUnit::Jack),
            Clause::Named("rating of the supplier"),
        );
        // of jacks that differ, the one that asks most of its stroke
        let asks = |r: &RamForce| r.way / r.stroke.max(Length::from_si(1e-12));
        let worst = found.rams.iter().max_by(|a, b| asks(a).total_cmp(&asks(b)));
        let (travel, stroke) =
            worst.map_or((found.travel, jacks.stroke.value), |r| (r.way, r.stroke));
        let stroke = Verdict::design(
            slug::RIG_STROKE_SHORT,
            travel.into(),
            Limit::AtMost(stroke.si()),
            Basis::net(MemberUnit::Jack),
            Clause::Named("library rule"),
        );
        for (verdict, field, word) in [
            (pressure, "rated_pressure", "pressure over rating"),
            (stroke, "stroke", "stroke needed over stroke left"),
        ] {
            self.check(verdict, || {
                let message = Message::new("{}: {}", [word.into(), used(&verdict)]);
                words(format!("{path}.{field}"), message)
            });
        }
    }

    /// Every place of the bars of every press.
    pub(super) fn bars<R: Recorder>(&mut self, recorder: &mut R, path: &ForcePath<'_>) {
        let mut unchecked: Vec<&str> = Vec::new();
        let mut place = 0;
        for served in &path.served {
            let Some(bars) = served.bars else { continue };
            if bars.working_load.is_none() && bars.strength.is_none() {
                if !unchecked.contains(&&*served.bars_path) {
                    unchecked.push(&served.bars_path);
                }
                continue;
            }
            for share in &served.shares {
                place += 1;
                let Some(limit) = &bars.working_load else { continue };
                let one = bar_force(recorder, share.1, f64::from(served.each), served.worst);
                let verdict = Verdict::design(
                    slug::RIG_BAR_OVER_LOAD,
                    one.into(),
                    Limit::AtMost(limit.value.si()),
                    Basis::net(MemberUnit::Bar),
                    Clause::Named("rating of the supplier"),
                );
                let verdict = verdict.of(Subject::of("bars", place - 1));
                self.check(verdict, || {
                    let message =
                        Message::new("force of a bar over its working load: {}", [used(&verdict)]);
                    words(served.bars_path.clone(), message)
                });
            }
        }
        for path in unchecked {
            let message = "neither working load nor strength is given: the bars hold nothing; a failing bar is a projectile";
            let path = format!("{path}.working_load");
            self.stops.push(Stop::new(slug::RIG_BAR_UNCHECKED, path, message));
        }
        if path.served.iter().any(|s| s.bars.is_none()) {
            let message = "no bars are described: the jack is taken to stand against the reaction itself, and the stroke counts no stretch";
            self.notes.push(Note::new(slug::RIG_BARS_UNSAID, "rig.bars", message));
        }
    }
}

impl Served<'_> {
    /// What uneven shares of the places add to the stretch of the bars: 1 where they are even.
    fn unevenness(&self) -> f64 {
        let force = self.press.force.0;
        if self.shares.len() < 2 || force.abs() <= Force::ZERO {
            return 1.0;
        }
        #[expect(clippy::cast_precision_loss, reason = "places are few")]
        let places = self.shares.len() as f64;
        places * self.shares.iter().map(|(_, f)| (*f / force).powi(2)).sum::<f64>()
    }
}
