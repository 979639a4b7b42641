//! From readings to a judgement.

use std::sync::Arc;

use crate::beam::BeamSpec;
use crate::capacity::strengthening::{ReducedCheck, after_test};
use crate::criteria::{
    Calculated, Evidence, Facts, Filled, Judged, Judging, OfCircuit, Predicted, RunRecord, Seen,
    SideBySide, UNTOLD, Witness, held, judge_seen, looks_late, reached, speaks_of_cycles,
    stop_rules,
};
use crate::design::TestDesign;
use crate::editions::Edition;
use crate::equivalent::Carried;
use crate::error::{Error, Issue, go_on, slug};
use crate::formula::{Recorder as _, Working};
use crate::readings::{
    Corrected, Cycles, Deflection, Exceeded, Expected, Fault, Log, LogFacts, LogSpec, Rising, Role,
    StopSeen, Used, beside, each, larger, load_cycles, read_gauges, series_back, used, witness,
};
use crate::source::{End, Node, Value, Write, validate_named};
use crate::uncertainty::COVERAGE;
use crate::units::{Area, Duration, Force, Length, Message, Net, Page, Pressure, Ratio, Said};
use crate::verdict::{Combined, Criterion, Note, State, combine};

crate::answer! {
    /// Measured against predicted at the end of the full hold, one gauge.
    pub struct Comparison {
        /// The gauge.
        gauge: String,
        /// Corrected deflection since zero.
        measured: Length,
        /// Stiff prediction.
        stiff: Length,
        /// Soft prediction.
        soft: Length,
        /// Measured over stiff prediction; above 1.25 asks for an explanation (common practice, no
        /// source). Nothing where next to nothing is predicted, as at a bearing.
        over_stiff: Option<Ratio>,
    }
}

/// Gauges that the map of the log puts elsewhere than the design: predictions and stop limits are those
/// of the place in the log.
fn elsewhere(design: &TestDesign, layout: &LogSpec) -> Vec<Note> {
    let gauges = &design.spec.protocol.gauges;
    let apart = design.target.beam.length() * 1e-6;
    let told = layout.channels.iter().enumerate().filter_map(|(i, channel)| {
        let gauge = gauges.iter().find(|g| g.id == channel.id)?;
        let at = channel.at.as_ref().filter(|at| (at.value - gauge.at.value).abs() > apart)?;
        let message = Message::new(
            "`{}` stands at {} in the design and at {} in the map of the log: what it reads is compared with what is predicted there",
            [channel.id.clone().into(), gauge.at.value.into(), at.value.into()],
        );
        let path = format!("columns.channels[{i}].at");
        Some(Note::new(slug::CRITERIA_STATED_DIFFERS, path, message))
    });
    told.collect()
}

/// Supports between the two bearings through which the line goes that is taken off a gauge.
fn unlogged(spec: &BeamSpec, deflections: &[Deflection]) -> Vec<Note> {
    let supports = spec.held();
    let apart = spec.length() * 1e-6;
    let between = |d: &Deflection| {
        let (a, b) = d.chain.line()?;
        let support = supports.iter().find(|s| s.at > a + apart && s.at < b - apart)?;
        let message = Message::new(
            "`{}`: the line through {} and {} is taken off, and the support at {} between them was not logged: what that moves is not known",
            [(&d.gauge).into(), a.into(), b.into(), support.at.into()],
        );
        Some(Note::new(slug::CRITERIA_SETTLEMENT_UNKNOWN, "columns.channels", message))
    };
    deflections.iter().filter_map(between).collect()
}

/// The judgement of a test.
#[derive(Clone, PartialEq, Debug)]
pub struct Judgement {
    /// The criteria and what they come to.
    pub judging: Judging,
    /// The corrected deflection of every gauge.
    pub deflections: Vec<Deflection>,
    /// Faults of the log, by name.
    pub faults: Vec<Fault>,
    /// Force of record at the end of the full hold, and the target.
    pub force: Option<(Force, Net<Force>)>,
    /// What the force of record says of zero, load, hold and unloading; nothing without one.
    pub facts: Option<LogFacts>,
    /// The load cycles with their indices, of a cyclic test.
    pub cycles: Option<Cycles>,
    /// Rules that stop or pause a test, evaluated along the log: measured over stiff for every
    /// gauge of a designed test, and those of the edition.
    pub stops: Vec<StopSeen>,
    /// What belongs beside the headline: a stop rule that was broken and carried on.
    pub findings: Vec<Message>,
    /// Measured against predicted; empty for a test designed elsewhere.
    pub comparisons: Vec<Comparison>,
    /// What could not be judged, for a test designed elsewhere.
    pub not_judged: Vec<&'static str>,
    /// The checks of the member without its strengthening and in fire, of the design.
    pub without: Vec<ReducedCheck>,
    /// The stages after the first, each with its name; nothing of one that the log does not hold.
    pub later: Vec<(String, Option<Judgement>)>,
    /// What the judgement rests on.
    pub evidence: Evidence,
    /// Force and deflection of the leading gauge along the test, thinned for a picture: N, m.
    pub curve: Vec<(f64, f64)>,
    /// What of every gauge was used.
    pub used: Vec<Used>,
    /// The corrected series of every gauge, where the log asks for it ([`Log::with_series`]).
    pub series: Vec<Corrected>,
    /// The same record by the criteria of every edition, where that was asked for
    /// ([`Judgement::beside`]).
    pub by_edition: Option<SideBySide>,
}

/// Judges the readings of a designed test.
///
/// # Errors
/// Of cause `Stop` while a stop holds; problems of the log; see [`judge_criteria`](crate::criteria::judge_criteria).
pub fn judge(
    design: &TestDesign,
    log: &Log,
    layout: &LogSpec,
    record: &RunRecord,
) -> Result<Judgement, Error> {
    let page = Page::new(design.spec.display.system());
    judged_whole(design, log, layout, record).map_err(|error| error.on(&page))
}

fn judged_whole(
    design: &TestDesign,
    log: &Log,
    layout: &LogSpec,
    record: &RunRecord,
) -> Result<Judgement, Error> {
    design.cleared()?;
    Error::check(layout.beyond(design.target.beam.length()))?;
    Error::check(ties(design, layout))?;
    Error::check(layout.unused_ranges())?;
    Error::check(design.spec.decided(record.last_day(log.last_day())))?;
    if let Some(day) = record.last_day(log.last_day()) {
        let mut early = design.spec.records.after(day);
        early.extend(design.spec.capacity.iter().flat_map(|c| c.too_early(day)));
        Error::check(early)?;
    }
    validate_named("record", record)?;
    let mut judgement = fingerprinted(log, || {
        if design.later().is_empty() && layout.stages.is_empty() {
            of_one(design, &design.set.edition, log, layout, record)
        } else {
            of_stages(design, log, layout, record)
        }
    })?;
    judgement.evidence.design = Some(design.spec.fingerprint());
    Ok(judgement)
}

/// A judgement with the fingerprint of the whole log, which is taken beside it.
fn fingerprinted(
    log: &Log,
    judged: impl FnOnce() -> Result<Judgement, Error>,
) -> Result<Judgement, Error> {
    let samples = log.rows() * log.channels().len();
    let (fingerprint, judgement) = beside(samples, || log.fingerprint(), judged);
    let mut judgement = judgement?;
    log.sound()?;
    judgement.evidence.log = fingerprint;
    Ok(judgement)
}

/// The first stage of a designed test by the criteria of another edition.
pub(crate) fn judge_by(
    design: &TestDesign,
    edition: &Edition,
    log: &Log,
    layout: &LogSpec,
    record: &RunRecord,
) -> Result<Judgement, Error> {
    design.cleared()?;
    Error::check(layout.beyond(design.target.beam.length()))?;
    Error::check(ties(design, layout))?;
    Error::check(layout.unused_ranges())?;
    validate_named("record", record)?;
    of_one(design, edition, log, &layout.of_stage(None), record)
}

/// Every stage by its own part of the log.
fn of_stages(
    design: &TestDesign,
    log: &Log,
    layout: &LogSpec,
    record: &RunRecord,
) -> Result<Judgement, Error> {
    let known = |name: &str| design.later().iter().any(|(own, _)| own == name);
    let unknown = layout.stages.iter().enumerate().filter(|(_, s)| !known(&s.name));
    let issues = unknown.map(|(i, s)| {
        let path = format!("stages[{i}].name");
        let names: Vec<&str> = design.later().iter().map(|(own, _)| own.as_str()).collect();
        Issue::new(slug::READINGS_STAGE, path, "a stage that the test does not have")
            .value(&s.name)
            .limit(names.join(", "))
    });
    Error::check(issues.collect())?;
    let begins: Vec<Duration> = layout.stages.iter().map(|s| s.from.value).collect();
    // a decision is about the stage in which its fault begins; one without a time, about the first
    let of = |from: Option<Duration>, to: Option<Duration>| {
        let mut own = record.clone();
        own.decisions.retain(|d| match &d.from {
            Some(t) => from.is_none_or(|f| t.value >= f) && to.is_none_or(|l| t.value < l),
            None => from.is_none(),
        });
        own.read_twice.retain(|r| match &r.at {
            Some(t) => from.is_none_or(|f| t.value >= f) && to.is_none_or(|l| t.value < l),
            None => from.is_none(),
        });
        own
    };
    let one = |stage: &TestDesign, later: Option<usize>| {
        let from = later.and_then(|i| begins.get(i).copied());
        let to = begins.get(later.map_or(0, |i| i + 1)).copied();
        let map = layout.of_stage(later);
        let part = log.part(from, to, &map)?;
        let judged = of_one(stage, &stage.set.edition, &part, &map, &of(from, to));
        judged.map_err(|mut error| {
            if let Some(i) = later {
                for issue in &mut error.issues {
                    if issue.path.starts_with("moments") {
                        issue.path = format!("stages[{i}].{}", issue.path);
                    }
                }
            }
            error
        })
    };
    let mut judgement = one(design, None)?;
    judgement.evidence.layout = layout.clone();
    let mut issues = Vec::new();
    for (name, stage) in design.later() {
        let place = layout.stages.iter().position(|s| s.name == *name);
        let judged = match place.map(|i| one(stage, Some(i))) {
            Some(Ok(judged)) => Some(judged),
            Some(Err(error)) => {
                issues.extend(error.issues);
                None
            }
            None => {
                let message = format!("stage {name} is not in the log: nothing is said of it");
                let path = "stages";
                judgement.judging.notes.push(Note::new(slug::CRITERIA_STAGE_UNREAD, path, message));
                None
            }
        };
        judgement.later.push((name.clone(), judged));
    }
    if issues.is_empty() { Ok(judgement) } else { Err(Error::data(issues)) }
}

/// One stage by its own log.
fn of_one(
    design: &TestDesign,
    edition: &Edition,
    log: &Log,
    layout: &LogSpec,
    record: &RunRecord,
) -> Result<Judgement, Error> {
    let spec = &design.spec.beam;
    let middle = (design.target.from + design.target.to) / 2.0;
    let facts = |spec: &BeamSpec| {
        let clear = spec.clear_span.as_ref().map(|c| c.value);
        // limits are those of the span, or the overhang, that holds the region in doubt
        let (l, cantilever) = spec.span_at(middle);
        let h = spec.depth_at(middle);
        let lt = Facts::span(edition.span_rule(), l, clear, h, cantilever);
        Facts { lt, l, h, unit: design.target.unit }
    };
    let (jacks, reference) = design.largest_deflections();
    let predicted = Predicted { jacks: Some(jacks), reference: Some(reference) };
    // a gauge of the schedule without a channel read nothing
    let in_log = |id: &str| layout.channels.iter().any(|c| c.id == id);
    let missing: Vec<(String, &str)> = design
        .spec
        .protocol
        .gauges
        .iter()
        .filter(|g| !in_log(&g.id))
        .map(|g| (g.id.clone(), "any time: no channel of the log has its name"))
        .collect();
    let target = design.force();
    let free = |x: Length| spec.is_free(x);
    let expected = Expected {
        deflection: Some(&|x| design.deflection_at(x)),
        target: Some(target.0),
        free: Some(&free),
        area: acting(design),
    };
    let mut told = Witness::of(log, layout, &record.decisions, &expected)?;
    told.weigh(&filled(design));
    let told = told;
    let at_place = |x: Length| design.deflection_at(x);
    let at = |spec: &BeamSpec| {
        let method = design.spec.protocol.method.word();
        let beside = (&missing[..], Some(&at_place as Calculated<'_>));
        judged((edition, method), facts(spec), predicted, &told, record, Some(target), beside)
    };
    let (mut judgement, rising) = at(spec)?;
    for corner in corners(spec) {
        judgement.judging.across(&at(&corner)?.0.judging);
    }
    judgement.judging.require_layout(&design.layout.verdicts, design.target.unit);
    judgement.by_circuit(design, &told);
    judgement.without = design.predicted.as_ref().map(|p| p.lost()).unwrap_or_default();
    judgement.comparisons = judgement
        .deflections
        .iter()
        .map(|d| {
            let (soft, stiff) = design.deflection_at(d.at);
            Comparison {
                gauge: d.gauge.clone(),
                measured: d.d_max,
                stiff,
                soft,
                over_stiff: (soft.abs() > jacks * 1e-9).then(|| Ratio::from(d.d_max / stiff)),
            }
        })
        .collect();
    let far = judgement.comparisons.iter().filter(|c| c.far_off(jacks)).map(|c| {
        let message = "{} is read where the predictions are {} and {}";
        let values = [Said::small(c.measured), Said::small(c.stiff), Said::small(c.soft)];
        let path = format!("readings.{}", c.gauge);
        Note::new(slug::CRITERIA_FAR_FROM_PREDICTED, path, Message::new(message, values))
    });
    let far: Vec<Note> = far.collect();
    judgement.judging.notes.extend(far);
    judgement.judging.notes.extend(elsewhere(design, layout));
    judgement.judging.notes.extend(unlogged(spec, &judgement.deflections));
    let largest =
        judgement.comparisons.iter().map(|c| c.stiff.abs()).fold(Length::ZERO, Length::max);
    let target = design.force().0;
    let walked = rising.into_iter().map(Some).chain(core::iter::repeat_with(|| None));
    let looked: Vec<_> = judgement
        .deflections
        .iter()
        .zip(walked)
        .map(|(d, walked)| (d, walked, design.deflection_at(d.at)))
        .filter(|(_, _, (_, stiff))| stiff.abs() >= largest * 0.05)
        .collect();
    let cracked = design.spec.protocol.cracked.is_some();
    let stops =
        each(log.rows() * looked.len(), looked.into_iter(), |(d, walked, (soft, stiff))| {
            let (rule, predicted) =
                if cracked { ("measured over soft", soft) } else { ("measured over stiff", stiff) };
            let sign = if predicted < Length::ZERO { -1.0 } else { 1.0 };
            let rising = match walked {
                Some(walked) => walked.facing(sign),
                None => Rising::of(&told.log, &told.layout, d, target, sign),
            };
            let allowed = |f: Force| Some(predicted.abs().si() * (PAUSE * (f / target)));
            let mut stops = vec![rising.against(rule, &d.gauge, &allowed)];
            let guard =
                d.u_reading.map_or(Length::ZERO, |u| u * (COVERAGE * core::f64::consts::SQRT_2));
            stops.extend(rising.first_between(&d.gauge, (stiff, soft), guard));
            if let Some(first) = rising.first_steps() {
                let allowed = |f: Force| Some(first * f.si() * PAUSE);
                stops.push(rising.against("measured over first steps", &d.gauge, &allowed));
            }
            stops
        })?;
    judgement.stops.extend(stops.into_iter().flatten());
    judgement.unlike_schedule(design);
    judgement.find();
    judgement.say(Page::new(design.spec.display.system()));
    Ok(judgement)
}

/// The area on which the oil of a design makes the whole load, friction taken off: where one pressure
/// makes all of it.
fn acting(design: &TestDesign) -> Option<Area> {
    let all = &design.rig.hydraulics;
    let pressure = all.first()?.pressure;
    let one = all.iter().all(|h| (h.pressure - pressure).abs() <= pressure * 1e-6);
    let oil = filled(design).iter().all(|f| f.role.is_none());
    (one && oil && pressure > Pressure::ZERO).then(|| design.force().0 / pressure)
}

/// The circuits of a design, each with the force that its carriers bring together.
fn circuits(design: &TestDesign) -> Vec<(&str, Force)> {
    let mut all: Vec<(&str, Force)> = Vec::new();
    for carrier in &design.layout.carriers {
        let Some(name) = carrier.circuit.as_deref() else { continue };
        match all.iter_mut().find(|c| c.0 == name) {
            Some(own) => own.1 += carrier.force.0,
            None => all.push((name, carrier.force.0)),
        }
    }
    all
}

/// Channels that are tied to a circuit that no stage of the test has.
fn ties(design: &TestDesign, layout: &LogSpec) -> Vec<Issue> {
    let stages = core::iter::once(design).chain(design.later().iter().map(|(_, stage)| stage));
    let mut known: Vec<&str> = Vec::new();
    for (name, _) in stages.flat_map(circuits) {
        if !known.contains(&name) {
            known.push(name);
        }
    }
    let channels = layout.channels.iter().enumerate();
    let strange = channels.filter_map(|(i, c)| Some((i, c.circuit.as_deref()?)));
    let strange = strange.filter(|(_, name)| !known.contains(name));
    let issue = |(i, name): (usize, &str)| {
        let path = format!("columns.channels[{i}].circuit");
        let issue =
            Issue::new(slug::READINGS_CIRCUIT, path, "a circuit that the test does not have");
        issue.value(name).limit(known.join(", "))
    };
    strange.map(issue).collect()
}

/// How full every basin and stack of a design is under the full load.
fn filled(design: &TestDesign) -> Vec<Filled> {
    let used = design.layout.carriers.iter().filter(|c| c.force.0 > Force::ZERO);
    let one = |c: &Carried| {
        let (role, full) = match (c.depth, c.layers) {
            (Some(depth), _) => (Some(Role::Depth), depth.si()),
            (None, Some(layers)) => (Some(Role::Count), layers),
            (None, None) => (None, 0.0),
        };
        Filled { role, full, force: c.force.0 }
    };
    used.map(one).collect()
}

/// Above so many times the prediction of the surveyed state, or what the first steps showed, a test
/// pauses until it is explained (common practice, no source).
const PAUSE: f64 = 1.25;

impl Comparison {
    /// Whether unit, sign, column or place of a channel will be wrong: less than a fifth of the stiff
    /// or more than five times the soft prediction (library rule), where a twentieth or more of the
    /// `largest` prediction is predicted.
    fn far_off(&self, largest: Length) -> bool {
        let predicted = self.soft.abs() > largest * 0.05;
        let part = |of: Length| self.measured / of;
        predicted && (part(self.stiff) < 0.2 || part(self.soft) > 5.0)
    }
}

/// The beam at every combination of the ends of its ranged span, clear span and depth: limits
/// of deflection hang on them.
fn corners(spec: &BeamSpec) -> Vec<BeamSpec> {
    const DECIDE: [&str; 3] = ["span", "clear_span", "depth"];
    let mut ranged: Vec<String> = Vec::new();
    spec.clone().ranges("", &mut |path, _| {
        if DECIDE.iter().any(|d| path.starts_with(d)) {
            ranged.push(path.to_owned());
        }
        End::Given
    });
    let corner = |mask: usize| {
        let mut beam = spec.clone();
        beam.ranges("", &mut |path, _| match ranged.iter().position(|r| r == path) {
            Some(k) if mask >> k & 1 == 1 => End::High,
            Some(_) => End::Low,
            None => End::Given,
        });
        beam
    };
    if ranged.is_empty() { Vec::new() } else { (0..1 << ranged.len()).map(corner).collect() }
}

/// Judges the readings of a test that was designed elsewhere: criteria only. What then cannot be
/// judged is listed.
///
/// # Errors
/// Problems of the log; see [`judge_criteria`](crate::criteria::judge_criteria).
pub fn judge_record(
    edition: &Edition,
    method: &str,
    facts: Facts,
    log: &Log,
    layout: &LogSpec,
    record: &RunRecord,
    target: Option<Net<Force>>,
) -> Result<Judgement, Error> {
    validate_named("record", record)?;
    Error::check(layout.beyond(facts.l))?;
    Error::check(layout.unused_ranges())?;
    let free = |_: Length| facts.cantilever();
    let expected =
        Expected { deflection: None, target: target.map(|t| t.0), free: Some(&free), area: None };
    let told = Witness::of(log, layout, &record.decisions, &expected)?;
    let judged = || {
        judged((edition, method), facts, Predicted::default(), &told, record, target, (&[], None))
    };
    let mut judgement = fingerprinted(log, || judged().map(|j| j.0))?;
    judgement.find();
    judgement.not_judged = vec![
        "whether the load was that of the edition",
        "whether shear and moment of the region in doubt were reproduced",
        "whether the deflection is large only or small only because of the layout",
        "rig, catch and floors",
    ];
    Ok(judgement)
}

fn judged(
    (edition, method): (&Edition, &str),
    facts: Facts,
    predicted: Predicted,
    told: &Witness<'_>,
    record: &RunRecord,
    target: Option<Net<Force>>,
    (missing, calculated): (&[(String, &'static str)], Option<Calculated<'_>>),
) -> Result<(Judgement, Vec<Rising>), Error> {
    go_on()?;
    let (log, layout) = (&*told.log, &*told.layout);
    let mut dates: Vec<Issue> = record.expired(log.last_day()).into_iter().collect();
    dates.extend(record.observed_early(log.day_at(layout.moments.peak.to.value)));
    if layout.channels.iter().all(|c| c.role != Role::Force) {
        dates.extend(record.unsigned(&layout.moments));
    }
    Error::check(dates)?;
    let (mut deflections, dead) = read_gauges(log, layout, &|x| told.is_free(x))?;
    deflections.iter_mut().for_each(|d| d.decided(told.given.0, layout));
    if deflections.is_empty() && !dead.is_empty() {
        let refused = Error::data(dead.into_iter().map(|d| d.issue).collect());
        return Err(told.beside(refused));
    }
    go_on()?;
    let mut seen = witness(log, layout, &deflections, target.map(|t| t.0));
    if let Some(seen) = &mut seen {
        seen.held_stated = record.held.as_ref().map(|h| h.value);
    }
    let rule = edition.protocol(method).unwrap_or_default();
    // where the log can tell, its own rows decide
    let force = seen.is_some();
    let loaded = if force && target.is_some() { Some(true) } else { reached(record) };
    let full = if force { Some(true) } else { held(record, &rule) };
    let mut dead: Vec<(String, &str)> = dead.into_iter().map(|d| (d.gauge, d.at)).collect();
    dead.extend_from_slice(missing);
    let cyclic = !rule.cycles.is_empty() || edition.criteria(method).any(speaks_of_cycles);
    let force_of = target.map(|t| t.0);
    let cycles = if cyclic {
        load_cycles(log, layout, &deflections, &rule, force_of).map_err(|e| told.beside(e))?
    } else {
        None
    };
    let unseen = if force { Vec::new() } else { larger(log, layout, &deflections, None) };
    let known = Seen {
        dead: &dead,
        reached: loaded,
        held: full,
        cycles: cycles.as_ref(),
        calculated,
        larger: seen.as_ref().map_or(&unseen, |s| &s.load.larger),
    };
    let mut judging = judge_seen(edition, method, facts, &deflections, predicted, record, known)
        .map_err(|e| told.beside(off_at_peak(e, seen.as_ref())))?;
    match &seen {
        Some(seen) => judging.witnessed(seen, (record, layout), &rule, facts.unit),
        None => judging.stated(record, &rule, layout, facts.unit),
    }
    if let Some(cycles) = &cycles {
        // without a target the largest peak is the full load, as it was for finding them
        let largest = cycles.seen.iter().map(|c| c.peak).fold(Force::ZERO, Force::max);
        let full = force_of.unwrap_or(largest);
        judging.cycled(cycles, &rule, (full, full * layout.load_band.value()), facts.unit);
    }
    judging.read_twice(record, layout, facts.unit);
    judging.unmeasured(told, &deflections, facts);
    judging.mapped(told);
    for d in &deflections {
        judging.notes.extend(d.chain.notes.iter().cloned());
    }
    let late =
        |row: &Judged| edition.criteria(method).find(|c| c.id == row.id).is_none_or(looks_late);
    judging.require_faults(told, &late);
    let leading = deflections
        .iter()
        .max_by(|a, b| a.d_max.abs().si().total_cmp(&b.d_max.abs().si()))
        .map(|d| d.gauge.clone());
    let (stops, rising) =
        stop_rules(edition, log, layout, &deflections, &record.stated, target.map(|t| t.0));
    let judgement = Judgement {
        judging,
        stops,
        findings: Vec::new(),
        evidence: Evidence::of(told.given.0, told.given.1, record)?,
        curve: leading.map(|id| curve(log, &id)).unwrap_or_default(),
        faults: told.faults.clone(),
        used: used(log, layout, &deflections),
        series: series_back(log, &deflections),
        by_edition: None,
        deflections,
        force: seen.as_ref().and_then(|s| s.load.force).zip(target),
        facts: seen,
        cycles,
        comparisons: Vec::new(),
        not_judged: Vec::new(),
        without: Vec::new(),
        later: Vec::new(),
    };
    Ok((judgement, rising))
}

/// A residual above the largest deflection has another reason where the load was not on at the peak.
fn off_at_peak(mut error: Error, seen: Option<&LogFacts>) -> Error {
    let short = seen.and_then(|s| {
        let (force, target) = s.load.force.zip(s.load.target)?;
        (force < target - s.load.band).then_some((force, target))
    });
    let Some((force, target)) = short else { return error };
    for issue in &mut error.issues {
        if issue.slug == slug::CRITERIA_RESIDUAL_ABOVE_MAX {
            let values = [force.into(), target.into()];
            let on = Message::new("; only {} of {} was on in the peak window", values);
            issue.message = issue.message.clone().and(on);
            issue.remedy = "give as peak the time at which the load was on".into();
        }
    }
    error
}

/// At most 400 points of force against the leading gauge.
fn curve(log: &Log, gauge: &str) -> Vec<(f64, f64)> {
    let Some(channel) = log.channel(gauge) else { return Vec::new() };
    let first = log.samples(channel).next().map_or(0.0, |s| s.1);
    let points = || {
        let mut samples = log.samples(channel).peekable();
        log.force_in_rows(0..log.rows()).filter_map(move |(t, f)| {
            while samples.next_if(|s| s.0 < t).is_some() {}
            samples.peek().filter(|s| s.0 <= t).map(|(_, v)| (f, v - first))
        })
    };
    let step = points().count().div_ceil(400).max(1);
    points().step_by(step).collect()
}

impl Judgement {
    /// Holds every circuit to its own force, where there are several: by the cells that are tied to it, within
    /// the band of the sum. Cells that are not tied do not tell whether forces that differ were each where
    /// they should be.
    fn by_circuit(&mut self, design: &TestDesign, told: &Witness<'_>) {
        let asked = circuits(design);
        let (Some(seen), true) = (&self.facts, asked.len() > 1) else { return };
        let band = seen.load.band;
        let cells = told.layout.channels.iter().filter(|c| c.role == Role::Force);
        let found = asked.iter().map(|(name, force)| {
            let own = cells.clone().filter(|c| c.circuit.as_deref() == Some(*name));
            let own: Vec<_> = own.collect();
            let peak = |id: &str| seen.cells.iter().find(|c| c.channel == id)?.peak;
            let read: Option<Vec<Force>> = own.iter().map(|c| peak(&c.id)).collect();
            let u: Option<Vec<Force>> = own.iter().map(|c| c.u_si().map(Force::from_si)).collect();
            OfCircuit {
                name: (*name).to_owned(),
                asked: *force,
                tied: !own.is_empty(),
                measured: read.map(|all| all.into_iter().sum()),
                u: u.map(|all| all.into_iter().sum()),
            }
        });
        let found: Vec<OfCircuit> = found.collect();
        self.judging.circuits(&found, band);
    }

    /// Says of every stop rule that was broken when, by how much and what came after; one that was
    /// carried on belongs beside the headline.
    fn find(&mut self) {
        for stop in &self.stops {
            let Some(x) = &stop.exceeded else { continue };
            let gauge = stop.gauge.as_deref().unwrap_or("the test");
            let said = Message::new(
                "{}: {} broken at {} under {}, {} where {} was allowed",
                [
                    gauge.into(),
                    (&stop.rule).into(),
                    x.at.into(),
                    x.force.into(),
                    Exceeded::said(x.measured),
                    Exceeded::said(x.limit),
                ],
            );
            let said = match x.carried_on {
                Some(force) => {
                    let more = Message::new(", and the load went on to {}", [force.into()]);
                    let said = said.and(more);
                    self.findings.push(said.clone());
                    said
                }
                None => said.and(", and the load did not rise after it".into()),
            };
            let path = format!("readings.{gauge}");
            self.judging.notes.push(Note::new(slug::CRITERIA_STOP_EXCEEDED, path, said));
        }
        self.findings.append(&mut self.judging.undecided);
        if let Some((over, target)) =
            self.facts.as_ref().and_then(|f| f.load.over.as_ref().zip(f.load.target))
        {
            let said = Message::new(
                "{} was on from {} to {}, more than the target {}",
                [over.force.into(), over.from.into(), over.to.into(), target.into()],
            );
            self.findings.push(said.clone());
            self.judging.notes.push(Note::new(slug::CRITERIA_OVERLOAD, "readings", said));
        }
        for stop in self.stops.iter().filter(|s| !s.unknown.is_empty()) {
            let message = format!(
                "stop rule {} was not looked at: neither a channel nor the record gives {}",
                stop.rule,
                stop.unknown.join(", ")
            );
            let path = format!("edition.stop_rules.{}", stop.rule);
            self.judging.notes.push(Note::new(slug::EDITIONS_REMARK, path, message));
        }
    }

    /// Says where the load came on in fewer increments than the schedule has, or rested for less: the readings
    /// of such a step are not those that were asked for.
    fn unlike_schedule(&mut self, design: &TestDesign) {
        let Ok(asked) = design.schedule() else { return };
        let Some(seen) = self.facts.as_ref().filter(|_| asked.cycles.is_empty()) else { return };
        let (steps, last) = (&seen.steps, seen.steps.len().saturating_sub(1));
        let watched = steps.iter().all(|s| s.unseen <= UNTOLD);
        let mut said: Vec<Message> = Vec::new();
        if steps.len() < asked.steps.len() && seen.came_on() && watched {
            let values = [steps.len().into(), asked.steps.len().into()];
            let message = "the load came on in {} increments where the schedule has {}";
            said.push(Message::new(message, values));
        }
        let hold = design.spec.protocol.step_hold.value;
        let short = steps.iter().take(last).filter(|s| s.at_most < hold * (1.0 - 1e-9));
        if let Some(step) = short.clone().min_by(|a, b| a.at_most.si().total_cmp(&b.at_most.si())) {
            let values = [
                short.count().into(),
                hold.into(),
                step.force.into(),
                step.from.into(),
                step.at_most.into(),
            ];
            let message = "{} steps were held for less than the {} of the schedule, that of {} at {} for {} at most";
            said.push(Message::new(message, values));
        }
        let notes = said.iter().map(|m| Note::new(slug::CRITERIA_STEPS, "readings", m.clone()));
        self.judging.notes.extend(notes);
        self.judging.undecided.extend(said);
    }

    /// Sets every note on the page of the answer.
    fn say(&mut self, mut page: Page) {
        self.deflections.write().seen(&mut page);
        let page = Arc::new(page);
        for note in &mut self.judging.notes {
            note.message.settle(&page);
        }
        let chains = self.deflections.iter_mut().map(|d| &mut d.chain);
        for correction in chains.flat_map(|c| &mut c.corrections) {
            correction.source.settle(&page);
        }
        self.findings.iter_mut().for_each(|finding| finding.settle(&page));
        for row in &mut self.judging.criteria {
            row.reason.settle(&page);
            row.gauges.iter_mut().for_each(|gauge| gauge.reason.settle(&page));
        }
        self.faults.iter_mut().for_each(|fault| fault.note.settle(&page));
    }

    /// The corrected series of one gauge.
    ///
    /// # Errors
    /// `readings.series` where no gauge of that name was read, or the log did not ask for the series
    /// ([`Log::with_series`]).
    pub fn series_of(&self, gauge: &str) -> Result<&Corrected, Error> {
        self.series.iter().find(|s| s.gauge == gauge).ok_or_else(|| {
            let names: Vec<&str> = self.used.iter().map(|u| u.gauge.as_str()).collect();
            let kept = !self.series.is_empty();
            let message = if kept || !names.contains(&gauge) {
                format!("no gauge `{gauge}` was read")
            } else {
                "the series were not kept".to_owned()
            };
            let issue = Issue::new(slug::READINGS_SERIES, "gauge", message);
            let issue = issue.value(gauge).limit(names.join(", "));
            issue
                .remedy(if kept {
                    "name a gauge that was read"
                } else {
                    "ask for them: `Log::with_series`, in Python judge(…, series=True)"
                })
                .into()
        })
    }

    /// With what every edition says of the same record, for the report.
    #[must_use]
    pub fn beside(self, by_edition: SideBySide) -> Self {
        Self { by_edition: Some(by_edition), ..self }
    }

    /// The corrections of every gauge, its uncertainty, and every criterion that compares numbers with u and
    /// U of its margin, redone with a pencil, stage by stage.
    #[must_use]
    pub fn working(&self) -> Working {
        let mut working = Working::default();
        let mut add = |judged: &Self, stage: Option<&str>| {
            if let Some(name) = stage {
                working.about(|| Message::new("Stage {}", [name.into()]));
            }
            for (i, d) in judged.deflections.iter().enumerate() {
                let path = stage.map_or_else(String::new, |name| format!("stage {name}: "));
                d.work(&mut working, &format!("{path}deflections[{i}]"));
            }
            judged.judging.work(&mut working, &judged.deflections);
        };
        add(self, None);
        for (name, judged) in &self.later {
            if let Some(judged) = judged {
                add(judged, Some(name.as_str()));
            }
        }
        working
    }

    /// The headline: the guarded outcome, of all stages together.
    #[must_use]
    pub fn state(&self) -> State {
        self.overall().0.state
    }

    /// The guarded outcome, of all stages together and with the checks of the member without its
    /// strengthening and in fire, and the edition's own outcome of the test. A stage that the log does not
    /// hold leaves both open; a check that fails is never made good by a test that was passed.
    #[must_use]
    pub fn overall(&self) -> (Combined, Combined) {
        let (test, code) = self.of_test();
        let state = after_test(test.state, &self.without);
        let because = if state == test.state {
            test.because
        } else {
            "a check without the strengthening, or in fire, is not met: no test makes it good"
        };
        (Combined { state, because }, code)
    }

    /// The guarded outcome of the test alone and the edition's own, of all stages together.
    #[must_use]
    pub fn of_test(&self) -> (Combined, Combined) {
        let own = (self.judging.guarded, self.judging.code);
        if self.later.is_empty() {
            return own;
        }
        let of = |pick: &dyn Fn(&Self) -> Combined, own: Combined| {
            let later = self.later.iter();
            let states =
                later.map(|(_, j)| j.as_ref().map_or(State::Inconclusive, |j| pick(j).state));
            let all: Vec<Criterion> =
                core::iter::once(own.state).chain(states).map(Criterion::alone).collect();
            let state = combine(&all, true).state;
            let unread = self.later.iter().any(|(_, j)| j.is_none());
            let because = match () {
                () if state == own.state => own.because,
                () if unread => "a stage is not in the log",
                () => "a later stage decides",
            };
            Combined { state, because }
        };
        (of(&|j| j.judging.guarded, own.0), of(&|j| j.judging.code, own.1))
    }
}

impl Write for Judgement {
    fn write(&self) -> Node {
        let (guarded, code) = self.overall();
        let test = self.of_test().0;
        let later = self.later.iter().map(|(name, judged)| {
            let judged = judged.as_ref().map_or_else(|| Node::text("not in the log"), Write::write);
            Node::map(vec![("name", Node::text(name.clone())), ("judgement", judged)])
        });
        let later: Vec<Node> = later.collect();
        let none = later.is_empty();
        let later = Node::new(if none { Value::Null } else { Value::List(later) });
        Node::map(vec![
            ("state", guarded.state.write()),
            ("because", Node::text(guarded.because)),
            ("test_state", test.state.write()),
            ("without_strengthening", self.without.write()),
            ("code_state", code.state.write()),
            ("code_because", Node::text(code.because)),
            ("criteria", self.judging.criteria.write()),
            ("deflections", self.deflections.write()),
            ("comparisons", self.comparisons.write()),
            ("force", self.force.map(|f| f.0).write()),
            ("target_force", self.force.map(|f| f.1).write()),
            ("facts", self.facts.write()),
            ("cycles", self.cycles.write()),
            ("stops", self.stops.write()),
            ("findings", self.findings.write()),
            ("faults", self.faults.write()),
            ("used", self.used.write()),
            ("log_fingerprint", Node::text(self.evidence.log.clone())),
            ("record_fingerprint", Node::text(self.evidence.of_record())),
            ("by_edition", self.by_edition.write()),
            ("stages", later),
            ("notes", self.judging.notes.write()),
            (
                "not_judged",
                self.not_judged.iter().map(|t| (*t).to_owned()).collect::<Vec<_>>().write(),
            ),
        ])
    }
}
