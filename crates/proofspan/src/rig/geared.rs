//! Are bars, beams and jack trains strong and steady, and the members scanned where they are cut?

use super::check::{Rig, used};
use super::equipment::{bar_force, force_on};
use super::gear::{
    BeamCheck, BeamUse, Opening, OpeningIn, RigBeam, Tilt, TrainCheck, bar_stress, bars_tilt,
    beam_moment, crosshead_tilt, deflects, nearer_end, sideways,
};
use super::hydraulics::bar_stretch;
use super::press::{ForcePath, Tested};
use super::sideways::LateralFormula;
use super::spec::RigSpec;
use crate::error::slug;
use crate::formula::Recorder;
use crate::source::Given;
use crate::units::{AxialRigidity, Force, Kind, Length, Message, Moment, Quantity, Ratio, Stress};
use crate::verdict::{
    Basis, Clause, Collect, DESIGN_SLACK, Limit, MemberUnit, Note, Stop, Subject, Verdict, words,
};

/// A part of the rig whose demand lies over its strength: a stop with its verdict.
impl Rig {
    /// Names what the checks are of that came since.
    pub(super) fn name(&mut self, since: usize, of: Subject) {
        self.verdicts.iter_mut().skip(since).for_each(|v| *v = v.of(of));
    }

    fn gear(&mut self, verdict: Verdict, path: String, what: Message) {
        let said = || Message::new("{}: {} of its strength", [what.into(), used(&verdict)]);
        self.check(verdict, || words(path, said()));
    }

    /// Bars by stress and fixings, beams, jack trains, holes.
    pub(super) fn geared<R: Recorder>(
        &mut self,
        recorder: &mut R,
        spec: &RigSpec,
        path: &ForcePath<'_>,
        tested: &Tested<'_>,
    ) {
        self.bar_limits(recorder, path);
        for (i, beam) in spec.beams.iter().enumerate() {
            let name = spec.beams.path("rig.beams", i);
            let since = self.verdicts.len();
            self.rig_beam(recorder, beam, &name, (path, tested));
            self.name(since, Subject::of("beam", i));
        }
        let tilt = self.crossheads(recorder, path);
        let tilts = self.beams.iter().filter_map(|b| b.tilt).map(Ratio::value);
        let tilt = tilts.fold(tilt, f64::max);
        self.trained(recorder, spec, path, tilt);
        self.holes(spec);
    }

    /// Stress of the bars against a part of their tensile strength, force against coupler, nut and
    /// plate, and bars that stand beside a rib.
    pub(super) fn bar_limits<R: Recorder>(&mut self, recorder: &mut R, path: &ForcePath<'_>) {
        for (i, served) in path.served.iter().enumerate() {
            let Some(bars) = served.bars else { continue };
            let since = self.verdicts.len();
            let each = f64::from(served.each);
            let most = served.shares.iter().map(|s| s.1).fold(Force::ZERO, Force::max);
            let basis = Basis::net(MemberUnit::Bar);
            if let Some(load) = &bars.working_load {
                let stress = Stress::over(load.value, bars.area.value);
                if stress.si() > NO_STEEL {
                    let message = Message::new(
                        "a working load of {} on {} is {}: that of all bars in place of one?",
                        [load.value.into(), bars.area.value.into(), stress.into()],
                    );
                    let path = format!("{}.working_load", served.bars_path);
                    self.notes.push(Note::new(slug::RIG_BAR_MAGNITUDE, path, message));
                }
            }
            if let Some(strength) = &bars.strength {
                let part = if bars.reused { REUSED } else { ONCE };
                let one = bar_force(recorder, most, each, served.worst);
                let stress = bar_stress(recorder, one, bars.area.value);
                let clause = Clause::Named(
                    "0.60 of tensile strength for bars used again, 0.70 for bars used once (common practice)",
                );
                let limit = Limit::AtMost(strength.value.si() * part);
                let verdict =
                    Verdict::design(slug::RIG_BAR_STRESS, stress.into(), limit, basis, clause);
                self.gear(
                    verdict,
                    format!("{}.strength", served.bars_path),
                    "stress of a bar".into(),
                );
            }
            if let Some(fixings) = &bars.fixings {
                let one = bar_force(recorder, most, each, served.worst);
                let limit = Limit::AtMost(fixings.value.si());
                let clause = Clause::Named("rating of the supplier");
                let verdict =
                    Verdict::design(slug::RIG_BAR_FIXINGS, one.into(), limit, basis, clause);
                let what = "coupler, nut or plate of a bar".into();
                self.gear(verdict, format!("{}.fixings", served.bars_path), what);
            }
            self.name(since, Subject::of("bars of jack", i));
            let odd = served.each % 2 == 1;
            if let Some(beside) = bars.beside.as_ref().filter(|b| odd && b.value > Length::ZERO) {
                let one = most / each;
                let message = Message::new(
                    "an odd number of bars at a place, {} beside the rib: one of them twists it by {}; take them in pairs astride",
                    [beside.value.into(), (one * beside.value).into()],
                );
                let path = format!("{}.beside", served.bars_path);
                self.stops.push(Stop::new(slug::RIG_BAR_BESIDE, path, message));
            }
        }
    }

    fn rig_beam<R: Recorder>(
        &mut self,
        recorder: &mut R,
        beam: &RigBeam,
        name: &str,
        (path, tested): (&ForcePath<'_>, &Tested<'_>),
    ) {
        let force = path.served.iter().map(|s| force_on(beam, s)).fold(Force::ZERO, Force::max);
        if force <= Force::ZERO {
            return;
        }
        recorder.about(|| Message::new("The beam {} of the rig", [(&beam.id).into()]));
        let moment = beam_moment(recorder, force, beam.span.value, beam.contact.value);
        let shear = nearer_end(recorder, force, beam.off.value, beam.span.value);
        let k = beam.factor.value();
        let asked: [(Quantity, Option<f64>, &str); 3] = [
            ((moment * k).into(), Some(beam.moment.value.si()), "bending"),
            ((shear * k).into(), Some(beam.shear.value.si()), "shear"),
            ((force * k).into(), beam.web.as_ref().map(|w| w.value.si()), "web under its force"),
        ];
        for (demand, limit, what) in asked {
            let Some(limit) = limit else { continue };
            let clause = Clause::Named(
                "1.5 times the force of the jacks (common practice), or the factor given",
            );
            let basis = Basis::net(MemberUnit::Jack);
            let verdict = Verdict::design(
                slug::RIG_BEAM_OVER_LOAD,
                demand,
                Limit::AtMost(limit),
                basis,
                clause,
            );
            let said = Message::new("beam {}, {}", [(&beam.id).into(), what.into()]);
            self.gear(verdict.part(what), name.to_owned(), said);
        }
        if beam.web.is_none() {
            let message = "the strength of the web under the force in the middle is not given: it holds nothing";
            self.stops.push(Stop::new(slug::RIG_BEAM_WEB, format!("{name}.web"), message));
        }
        // of one force that one which stands on a point buckles the beam first
        let point = beam_moment(recorder, force, beam.span.value, Length::ZERO);
        let sideways = self.buckles(recorder, beam, name, point * k);
        let deflection = deflects(beam, force);
        let tilt = match beam.carries {
            BeamUse::Jack => tested.tilts.iter().map(|t| t.1.abs()).reduce(f64::max),
            BeamUse::Bars => between_bars(recorder, beam, path),
        };
        let said = (&*beam.id, beam.tilts.as_ref(), format!("{name}.tilts"));
        self.tilted(said, tilt.unwrap_or(0.0), force);
        let tilt = tilt.map(Ratio::from);
        let id = beam.id.clone();
        self.beams.push(BeamCheck { id, force, moment, shear, deflection, sideways, tilt });
    }

    /// Whether the beam buckles or rolls sideways under this moment: shown, or computed. What it takes.
    fn buckles<R: Recorder>(
        &mut self,
        recorder: &mut R,
        beam: &RigBeam,
        name: &str,
        moment: Moment,
    ) -> Option<Moment> {
        let known = beam.sideways.as_ref();
        let Some(known) = known.filter(|s| s.ends_held || beam.held_sideways) else {
            if !beam.held_sideways {
                let (field, message) = match known {
                    Some(_) => (
                        "sideways.ends_held",
                        "it is not shown that the ends of the beam cannot move sideways or roll over",
                    ),
                    None => (
                        "held_sideways",
                        "it is not shown that the beam cannot buckle or roll over sideways, and its section is not described",
                    ),
                };
                let path = format!("{name}.{field}");
                self.stops.push(Stop::new(slug::RIG_BEAM_SIDEWAYS, path, message));
            }
            return None;
        };
        let takes = known.takes(recorder, beam.span.value);
        let clause = Clause::Named(match known.formula {
            LateralFormula::En => "EN 1993-1-1:2005, 6.3.2.2; critical moment by SN003",
            LateralFormula::Aisc10 => "AISC 360-10, F2; critical moment by SN003",
            LateralFormula::Aisc16 => "AISC 360-16, F2; critical moment by SN003",
            LateralFormula::Aisc22 => "AISC 360-22, F2; critical moment by SN003",
        });
        let (limit, basis) = (Limit::AtMost(takes.si()), Basis::net(MemberUnit::Jack));
        let verdict = Verdict::design(slug::RIG_BEAM_BUCKLES, moment.into(), limit, basis, clause);
        let said = Message::new("beam {}, buckling sideways", [(&beam.id).into()]);
        self.gear(verdict, format!("{name}.sideways"), said);
        Some(takes)
    }

    /// A beam or crosshead whose contacts give unequally: against what its seats allow.
    fn tilted(
        &mut self,
        (id, allowed, path): (&str, Option<&Given<Ratio, Tilt>>, String),
        tilt: f64,
        force: Force,
    ) {
        // what rounding leaves of equal settlements is none
        if tilt <= DESIGN_SLACK {
            return;
        }
        let Some(allowed) = allowed else {
            let message = Message::new(
                "the contacts of {} settle unequally: it tilts by {}, and its seats take {} along it; what they allow is not given",
                [id.to_owned().into(), tilt.into(), (force * tilt).into()],
            );
            self.notes.push(Note::new(slug::RIG_BEAM_TILT_UNSAID, path, message));
            return;
        };
        let verdict = Verdict::design(
            slug::RIG_BEAM_TILT,
            Quantity::new(Kind::Ratio, tilt),
            Limit::AtMost(allowed.value.si()),
            Basis::net(MemberUnit::Jack),
            Clause::Named("tilt that the seats allow, as given"),
        );
        self.gear(verdict, path, Message::new("tilt of {}", [id.to_owned().into()]));
    }

    /// Crossheads whose places give unequally: bars by their shares, and what they pull on. The largest tilt.
    fn crossheads<R: Recorder>(&mut self, recorder: &mut R, path: &ForcePath<'_>) -> f64 {
        let mut most = 0.0_f64;
        for (i, served) in path.served.iter().enumerate() {
            let (Some(bars), Some(first), Some(last)) =
                (served.bars, served.shares.first(), served.shares.last())
            else {
                continue;
            };
            let apart = last.0 - first.0;
            if apart <= Length::ZERO {
                continue;
            }
            recorder.about(|| {
                Message::new("The crosshead of the jack at {}", [served.press.at.into()])
            });
            let n = f64::from(served.each);
            let (l, e, a) = (bars.length.value, bars.modulus.value, bars.area.value);
            let mut gives = |share: &(Length, Force)| {
                let rise = served.pulls.iter().find(|p| (p.at - share.0).abs() <= Length::ZERO);
                let rise = rise.map_or(Length::ZERO, |p| self.way_of(p));
                bar_stretch(recorder, share.1, n, l, e, a) + rise
            };
            let (one, other) = (gives(first), gives(last));
            let tilt = crosshead_tilt(recorder, one, other, apart);
            let since = self.verdicts.len();
            let named =
                ("the crosshead", bars.tilts.as_ref(), format!("{}.tilts", served.bars_path));
            self.tilted(named, tilt, served.press.force.0);
            self.name(since, Subject::of("bars of jack", i));
            most = most.max(tilt);
        }
        most
    }

    fn trained<R: Recorder>(
        &mut self,
        recorder: &mut R,
        spec: &RigSpec,
        path: &ForcePath<'_>,
        tilt: f64,
    ) {
        if path.served.is_empty() {
            return;
        }
        let Some(train) = &spec.train else {
            let message = "the jack with what stands on and under it is not described: it counts as one that is neither braced nor retained";
            self.stops.push(Stop::new(slug::RIG_TRAIN_LOOSE, "rig.train", message));
            return;
        };
        let force = self.hydraulics.iter().map(|h| h.jack_most).fold(Force::ZERO, Force::max);
        recorder.about(|| "The jack train as a column");
        let side = sideways(recorder, force, tilt.max(SIDEWAYS));
        let eccentricity = train.offset.value.max(train.plate.value * ECCENTRIC);
        let moment: Moment = force * eccentricity;
        let basis = Basis::net(MemberUnit::Jack);
        let clause = Clause::Named(
            "2.5 % of the vertical sideways (common practice), or the tilt where it is more",
        );
        let limit = Limit::AtMost(train.lateral.value.si());
        let verdict = Verdict::design(slug::RIG_TRAIN_OVER_LOAD, side.into(), limit, basis, clause);
        self.gear(
            verdict.part("sideways"),
            "rig.train.lateral".to_owned(),
            "jack train sideways".into(),
        );
        match &train.moment {
            Some(limit) => {
                let clause =
                    Clause::Named("eccentricity of 5 % of the plate or as given (common practice)");
                let limit = Limit::AtMost(limit.value.si());
                let verdict =
                    Verdict::design(slug::RIG_TRAIN_OVER_LOAD, moment.into(), limit, basis, clause);
                self.gear(
                    verdict.part("in bending"),
                    "rig.train.moment".to_owned(),
                    "jack train in bending".into(),
                );
            }
            None => {
                let message = Message::new(
                    "an eccentricity of {} bends the jack train by {}: what it takes is not given, and it takes nothing",
                    [eccentricity.into(), moment.into()],
                );
                self.stops.push(Stop::new(slug::RIG_TRAIN_BENT, "rig.train.moment", message));
            }
        }
        for (seats, field, end) in
            [(train.seats_top, "seats_top", "head"), (train.seats_bottom, "seats_bottom", "foot")]
        {
            if seats > 1 {
                let message = format!(
                    "{seats} rocking seats in line at the {end} of the jack train: a mechanism"
                );
                self.stops.push(Stop::new(
                    slug::RIG_TRAIN_MECHANISM,
                    format!("rig.train.{field}"),
                    message,
                ));
            }
        }
        if !(train.braced && train.retained) {
            let message = "the jack train is not braced both ways, or its loose parts are not retained when the load vanishes";
            self.stops.push(Stop::new(slug::RIG_TRAIN_LOOSE, "rig.train", message));
        }
        self.train = Some(TrainCheck { force, sideways: side, eccentricity, moment });
    }

    fn holes(&mut self, spec: &RigSpec) {
        let blank = |t: &Option<String>| t.as_deref().unwrap_or_default().trim().is_empty();
        for (i, hole) in spec.holes.iter().enumerate() {
            let what = if hole.what == Opening::Cut { "cut" } else { "hole" };
            let of =
                if hole.of == OpeningIn::Test { "member under test" } else { "reaction member" };
            let said = || [what.into(), hole.at.value.into(), of.into()];
            if blank(&hole.scan) {
                let message =
                    Message::new("the {} at {} of the {} has no record of a scan", said());
                let path = format!("rig.holes[{i}].scan");
                self.stops.push(Stop::new(slug::RIG_HOLE_UNSCANNED, path, message));
            }
            if blank(&hole.recheck) {
                let message = Message::new("with the {} at {} the {} is not checked again", said());
                let path = format!("rig.holes[{i}].recheck");
                self.stops.push(Stop::new(slug::RIG_HOLE_UNCHECKED, path, message));
            }
        }
    }
}

/// A beam that holds with bars at its ends: its tilt where the ends stretch unequally, the fewer bars under the
/// greater force; of all places the most. Nothing where it is not between bars.
fn between_bars<R: Recorder>(
    recorder: &mut R,
    beam: &RigBeam,
    path: &ForcePath<'_>,
) -> Option<f64> {
    let mut most: Option<f64> = None;
    for served in &path.served {
        let Some(bars) = served.bars.filter(|_| served.each > 1) else { continue };
        let force = force_on(beam, served);
        let near = nearer_end(recorder, force, beam.off.value, beam.span.value);
        let n = served.each / 2;
        let (n, m) = (f64::from(n), f64::from(served.each - n));
        let ea = AxialRigidity::of(bars.modulus.value, bars.area.value);
        let tilt = bars_tilt(recorder, near, n, force, m, bars.length.value, ea, beam.span.value);
        most = Some(most.map_or(tilt, |t| t.max(tilt)));
    }
    most
}

/// Sideways force of a jack train over its load, at least (common practice, no source).
const SIDEWAYS: f64 = 0.025;
/// No bar or strand works at more, Pa (library rule: 0.70 of the strongest strands).
const NO_STEEL: f64 = 1.3e9;
/// Bars that are used again: part of tensile strength (common practice, no source).
const REUSED: f64 = 0.60;
/// Bars that are used once.
const ONCE: f64 = 0.70;
/// Eccentricity of a jack train over its smallest plate, at least (common practice, no source).
const ECCENTRIC: f64 = 0.05;
