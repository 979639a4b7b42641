//! From the question to a test that can be run: every step, in the order of the work.

mod around;
mod foreseen;
mod pressing;
mod ranges;
mod stages;

pub use stages::design;

use std::sync::Arc;

use around::surrounded;
use foreseen::{beams, predicted, stiffness, wished};
use pressing::{driven, presses};

use crate::beam::{Beam, Load, Response, Sought, Stiffness, deflection_by_hand};
use crate::capacity::Predicted;
use crate::capacity::local::LocalPlaced;
use crate::editions::LoadSet;
use crate::equivalent::{Carried, CarrierKind, Ends, JackLine, Layout, LayoutSpec, laid_out};
use crate::error::{Error, Issue, slug};
use crate::formula::{NoRecord, Recorder, Working};
use crate::loads::Symbol;
use crate::protocol::{Carrying, Prediction, Rise, Schedule, planned};
use crate::rig::{self, Rig, Tested};
use crate::scope::{Scope, SharesIn, SharingRule};
use crate::shoring::{self, Floor, Landing, Shoring};
use crate::source::{Entry, Node, Value, Write, validate};
use crate::spec::TestSpec;
use crate::target::{Asked, Question, Target, target};
use crate::units::{
    FlexuralRigidity, Force, Length, LineLoad, LoadBasis, Message, Net, Page, Pressure, Quantified,
    Quantity,
};
use crate::verdict::{MemberUnit, Note, State, Stop, Verdict};

/// What the parts of a design gathered: one list of the parts, to be read and to be changed.
macro_rules! parts {
    (notes of $design:ident $(, $m:tt)?) => {
        [
            &$($m)? $design.layout.notes,
            &$($m)? $design.rig.notes,
            &$($m)? $design.shoring.notes,
            &$($m)? $design.schedule.notes,
        ]
    };
    (stops of $design:ident $(, $m:tt)?) => {
        [&$($m)? $design.rig.stops, &$($m)? $design.shoring.stops]
    };
    (verdicts of $design:ident, $iter:ident $(, $m:tt)?) => {{
        let (layout, rig) = (&$($m)? $design.layout, &$($m)? $design.rig);
        let bearings = rig.bearings.$iter().map(|b| ("lift-off", &$($m)? b.verdict));
        let stages = rig.stages.$iter().flat_map(|s| s.verdicts.$iter());
        let layout = layout.verdicts.$iter().map(|v| ("layout", v));
        layout
            .chain(bearings)
            .chain(stages.map(|v| ("reaction member", v)))
            .chain(rig.verdicts.$iter().map(|v| ("rig", v)))
            .chain($design.shoring.verdicts.$iter().map(|v| ("shoring", v)))
    }};
}

crate::laws! {
    /// Stiff prediction of a deflection.
    pub fn stiff_deflection(soft: Length as "w_soft", ratio: f64 as "EI_stiff/EI_soft") -> Length as "w_stiff" = soft / ratio;
    source "deflections fall as EI rises";
}

/// A designed test. Values are per member unit unless they say otherwise.
#[derive(Clone, PartialEq)]
pub struct TestDesign {
    /// What was asked.
    pub spec: Arc<TestSpec>,
    /// The load set that applies, and why.
    pub set: LoadSet,
    /// What the test must reproduce.
    pub target: Target,
    /// The jacks that reproduce it.
    pub layout: Layout,
    /// What they push against.
    pub rig: Rig,
    /// What catches the member if it falls.
    pub shoring: Shoring,
    /// The steps; [`TestDesign::schedule`] gives them where no stop holds.
    schedule: Schedule,
    /// How the joists of one unit share, and what of its load the unit itself carries; nothing
    /// where no sharing rule is stated.
    pub shares: Option<SharesIn>,
    /// EI of the stiff prediction over EI of the soft one, at the left end of the member.
    pub stiffness_ratio: f64,
    /// The test load on the member as stiffly predicted, where that is not proportional to the soft one.
    stiff: Option<Response>,
    /// The layout asked for with the limits that keep the member uncracked, where that is wished.
    wish: Option<LayoutSpec>,
    /// What is predicted of the member; nothing where the document does not describe its sections.
    pub predicted: Option<Predicted>,
    /// The stages after the first, each with its name; every one holds the stops of all.
    later: Vec<(String, TestDesign)>,
    /// States that endanger people; nobody outside can take one away.
    stops: Vec<Stop>,
    /// What the reader must know.
    pub notes: Vec<Note>,
}

/// The design at the values given; where a layout is settled, with that one. What an earlier stage asks for
/// on the same beam is not solved again.
fn designed(
    spec: Arc<TestSpec>,
    settled: Option<&Layout>,
    earlier: Option<&Target>,
) -> Result<TestDesign, Error> {
    if settled.is_some() {
        validate(&*spec)?;
    }
    let length = spec.beam.length();
    let mut issues = Vec::new();
    let determinate = spec.beam.determinate(spec.layout.ends == Ends::Seated);
    let question = Question {
        loads: &spec.loads,
        edition: &spec.edition,
        doubt: &spec.scope.doubt,
        determinate,
    };
    let answer = question.answer(length, &mut issues);
    let beam = spec.beam.beam(Stiffness::Soft).map_err(|e| issues.extend(e.issues)).ok();
    let (Some((nominal, set)), Some(beam)) = (answer, beam) else {
        return Err(Error::input(issues));
    };
    Error::check(issues)?;
    let doubt = &spec.scope.doubt;
    let mut target = match earlier.and_then(|t| t.asked_again(&beam, &nominal, &set, doubt)) {
        Some(target) => target,
        None => target(&beam, nominal, &set, doubt, spec.scope.unit())?,
    };
    let depth = effective_depth(&spec);
    let wish = wished(&spec, &target)?;
    let laid = |target: &Target| {
        let asked = wish.as_ref().unwrap_or(&spec.layout);
        match settled {
            Some(settled) => settled.against(target, asked, depth),
            None => laid_out(target, asked, &frames(&spec)?, (depth, spec.display.system())),
        }
    };
    let mut layout = laid(&target)?;
    // where the sections are counted with, what the test makes of them carries it
    let sections = beams(&spec, &target, &layout)?;
    if let Some((soft, _)) = &sections {
        target = target.on(soft)?;
        layout = laid(&target)?;
    }
    let (presses, moved, ways) = (presses(&layout), under_jacks(&layout), ways(&layout));
    let stiff = match &sections {
        Some((_, stiff)) => Some(stiff.anchored().level().response(layout.loads())?),
        None if spec.beam.proportional() => None,
        None => {
            let beam = spec.beam.beam(Stiffness::Stiff)?;
            Some(beam.anchored().level().response(layout.loads())?)
        }
    };
    let ratio = match (&sections, &stiff) {
        (Some(_), Some(stiff)) => softer(&layout.response, stiff),
        _ => spec.beam.stiff.value() / spec.beam.soft.value(),
    };
    let tilts = tilts(&layout);
    let above = tested(&spec, &ways, (&tilts, ratio));
    let rig = rig::check_recorded(&mut NoRecord, &spec.rig, &above, target.unit, &presses, moved);
    // what cannot be of rig and of catch is told at once
    let rig = rig.map_err(|mut error| {
        let caught = if spec.shoring.catch.is_empty() {
            Ok(())
        } else {
            shoring::refuse(&spec.shoring, &target.beam)
        };
        for more in [closed(&spec), caught].into_iter().filter_map(Result::err) {
            error.issues.extend(more.issues);
        }
        error
    })?;
    uneven(&spec, (&target, &mut layout), wish.as_ref().unwrap_or(&spec.layout), &rig)?;
    let shoring = catch(&mut NoRecord, &spec, &target, &layout, &rig)?;
    // at an end of a range the gauges stay on the member as it is described
    let described = settled.map_or(Length::ZERO, |s| s.response.length());
    let ratio_and_stiff = (ratio, stiff.as_ref());
    let schedule = steps(&mut NoRecord, &spec, &set, &layout, &rig, ratio_and_stiff, described)?;
    let none = &mut Working::default();
    let mut predicted = predicted(none, &spec, (&target, &layout), (&rig, &shoring))?;
    // at an end of a range the values given stand
    if let Some(found) = predicted.as_mut().filter(|_| settled.is_none()) {
        found.stiffness = stiffness(&spec, &target, &layout)?;
    }
    let mut design = TestDesign {
        predicted,
        wish,
        set,
        target,
        layout,
        rig,
        shoring,
        schedule,
        shares: None,
        stiffness_ratio: ratio,
        stiff,
        later: Vec::new(),
        stops: Vec::new(),
        notes: Vec::new(),
        spec,
    };
    design.share();
    design.gather();
    Ok(design)
}

/// The effective depth where the first region in doubt is.
fn effective_depth(spec: &TestSpec) -> Option<Length> {
    let first = spec.scope.doubt.first()?;
    spec.beam.effective_depth_at((first.from.value + first.to.value) / 2.0)
}

/// Where a frame that a jack pushes against holds on the member itself, for every carrier; empty where
/// none does.
///
/// # Errors
/// `source.field-missing` where that is not said; `rig.reaction-short` for a place beyond the member;
/// `rig.bars-unstable` where several records of bars belong to presses whose places are searched.
fn frames(spec: &TestSpec) -> Result<Vec<Vec<Length>>, Error> {
    let (rig, length) = (&spec.rig, spec.beam.length());
    let is_frame = |r: &&rig::ReactionMember| r.kind == rig::ReactionKind::Frame;
    if !rig.reaction.iter().any(|r| is_frame(&r)) {
        return Ok(Vec::new());
    }
    let mut issues = Vec::new();
    let mut order: Vec<(Option<Length>, usize)> = spec
        .layout
        .carrier
        .iter()
        .enumerate()
        .filter(|(_, c)| c.kind() == CarrierKind::Jack)
        .map(|(i, c)| (c.stands(), i))
        .collect();
    order.sort_by(|a, b| {
        let place = |x: Option<Length>| x.map_or(f64::INFINITY, Length::si);
        place(a.0).total_cmp(&place(b.0))
    });
    let mut all = vec![Vec::new(); spec.layout.carrier.len()];
    for (rank, (stands, carrier)) in order.into_iter().enumerate() {
        let number = if rig.bars.len() == 1 { 0 } else { rank };
        let bars = rig.bars.get(number);
        let named = bars.and_then(|b| b.reaction.as_deref());
        let holds = rig.reaction.iter().filter(is_frame).any(|r| named.is_none_or(|n| n == r.id));
        if !holds {
            continue;
        }
        let path = format!("{}.places", rig.bars.path("rig.bars", number));
        let places: Vec<Length> =
            bars.map_or_else(Vec::new, |b| b.places.iter().map(|p| p.value).collect());
        if places.is_empty() {
            let message = "a frame holds on the member under test, and where is not said: at the jack its pull would leave nothing of the test load";
            issues.push(Issue::new(slug::SOURCE_FIELD_MISSING, path.clone(), message));
        }
        if rig.bars.len() > 1 && stands.is_none() {
            let message = "several records of bars, and a press whose place is searched";
            issues.push(Issue::new(slug::RIG_BARS_UNSTABLE, path.clone(), message));
        }
        let beyond = |x: &&Length| !(**x >= Length::ZERO && **x <= length);
        if let Some(x) = places.iter().find(beyond) {
            let message = "a frame holds on the member under test, and not there";
            let issue = Issue::new(slug::RIG_REACTION_SHORT, path, message);
            issues.push(issue.value(*x).limit(Message::new("0 to {}", [length.into()])));
        }
        if let Some(own) = all.get_mut(carrier) {
            *own = places;
        }
    }
    Error::check(issues)?;
    Ok(all)
}

/// How much more one response gives way than another, where it does most.
fn softer(soft: &Response, stiff: &Response) -> f64 {
    let ends = soft.inside().deflection_extremes(Length::ZERO, soft.length());
    let at = if ends.max.value.abs() >= ends.min.value.abs() { ends.max.at } else { ends.min.at };
    soft.inside().deflection(at) / stiff.inside().deflection(at)
}

/// What the rig must know of the member under test.
fn tested<'a>(
    spec: &'a TestSpec,
    ways: &'a [(Length, Length)],
    (tilts, stiffer): (&'a [(Length, f64)], f64),
) -> Tested<'a> {
    Tested {
        member: &spec.scope.member.id,
        first_bearing: spec.beam.first_bearing(),
        steps: &spec.protocol.steps,
        stiffer,
        ways,
        tilts,
    }
}

/// Judges the layout with what jacks that differ on one pressure give.
fn uneven(
    spec: &TestSpec,
    (target, layout): (&Target, &mut Layout),
    asked: &LayoutSpec,
    rig: &Rig,
) -> Result<(), Error> {
    let member = &spec.scope.member;
    let spacing = member.joist_spacing.as_ref().map(|s| s.value);
    let over = target.unit == MemberUnit::Strip;
    let joists = member.joists.filter(|_| over).map(|number| rig::Joists { number, spacing });
    layout.on_one_pressure(target, asked, &rig.uneven(joists))
}

/// How far every spreader tilts by the soft deflections under its outer contacts, rise over length.
fn tilts(layout: &Layout) -> Vec<(Length, f64)> {
    let under = |l: &JackLine| layout.response.inside().deflection(l.at);
    let tilt = |c: &Carried| {
        let own = || layout.lines.iter().filter(|l| l.carrier == c.carrier);
        let (a, b) = (own().next()?, own().next_back()?);
        (b.at > a.at).then(|| (c.at, (under(b) - under(a)) / (b.at - a.at)))
    };
    let jacks = layout.carriers.iter().filter(|c| c.kind == CarrierKind::Jack);
    jacks.filter(|c| c.force.0 > Force::ZERO).filter_map(tilt).collect()
}

/// How far the member gives way under every carrier, soft prediction: of a spreader what its jack
/// moves, each contact by its share; less what a frame goes down with it.
fn ways(layout: &Layout) -> Vec<(Length, Length)> {
    let under = |l: &JackLine| layout.response.inside().deflection(l.at);
    let way = |c: &Carried| {
        let own = layout.lines.iter().filter(|l| l.carrier == c.carrier);
        let way = own.map(|l| under(l) * (l.force.0 / c.force.0)).sum::<Length>();
        (c.at, way - layout.frame_goes(c.carrier))
    };
    layout.carriers.iter().filter(|c| c.force.0 > Force::ZERO).map(way).collect()
}

/// The largest soft deflection under a jack, less what its frame goes down with the member.
fn under_jacks(layout: &Layout) -> Length {
    let under =
        |l: &JackLine| layout.response.inside().deflection(l.at) - layout.frame_goes(l.carrier);
    layout.contacts().map(under).fold(Length::ZERO, Length::max)
}

fn catch<R: Recorder>(
    recorder: &mut R,
    spec: &TestSpec,
    target: &Target,
    layout: &Layout,
    rig: &Rig,
) -> Result<Shoring, Error> {
    closed(spec)?;
    let (mut shoring, landings) = surrounded((spec, target), (layout, rig), |around| {
        shoring::check_recorded(recorder, &spec.shoring, around)
    })?;
    floor(spec, target, rig, &mut shoring, &landings)?;
    Ok(shoring)
}

/// Refuses levels that carry the catch of the member and are that member.
fn closed(spec: &TestSpec) -> Result<(), Error> {
    let folded = |id: &str| id.trim().to_lowercase();
    let test = folded(&spec.scope.member.id);
    let same = spec.shoring.levels.iter().enumerate().filter(|(_, l)| folded(&l.id) == test);
    let issues = same.map(|(i, l)| {
        let path = format!("shoring.levels[{i}].id");
        let message = "the level is the member under test: what falls cannot carry itself";
        Issue::new(slug::SHORING_LEVEL_IS_TEST, path, message).value(&l.id)
    });
    Error::check(issues.collect())
}

/// The reaction members as floors that the catches may stand on.
fn floor(
    spec: &TestSpec,
    target: &Target,
    rig: &Rig,
    shoring: &mut Shoring,
    landings: &[Landing],
) -> Result<(), Error> {
    let first = spec.beam.first_bearing();
    let mut below = Vec::new();
    for member in &spec.rig.reaction {
        let wanted = spec.shoring.catch.iter().any(|c| c.on.as_deref() == Some(&member.id));
        let (Some((from, to)), true) = (member.reach(first), wanted) else { continue };
        let Some(beam) = member.beam()?.filter(|_| member.kind.beam()) else { continue };
        let own = member.self_weight.as_ref().map_or(LineLoad::ZERO, |w| w.value);
        let mut placed = vec![Load::uniform(Length::ZERO, beam.length(), own)];
        let on = spec.rig.counterweights.iter().filter(|w| {
            let named = w.reaction.as_ref().is_none_or(|id| *id == member.id);
            named && w.at.value >= from && w.at.value <= to
        });
        let mut weights: Vec<(Length, Length)> =
            on.clone().map(|w| (w.at.value - from, w.at.value - from)).collect();
        placed.extend(on.map(|w| Load::point(w.at.value - from, w.weight())));
        let blocks = rig.standing(&spec.rig).into_iter().filter(|(x, _)| *x >= from && *x <= to);
        for (at, force) in blocks {
            placed.push(Load::point(at - from, force));
        }
        let layout = rig.placement.as_ref().and_then(|p| p.layouts.first());
        let groups = layout.iter().flat_map(|l| &l.groups);
        weights.extend(groups.map(|g| (g.from - from, g.to - from)));
        below.push((member, from, beam, placed, weights));
    }
    let floors: Vec<Floor<'_>> = below
        .iter()
        .map(|(member, from, beam, placed, weights)| Floor {
            id: &member.id,
            unit: target.unit,
            beam,
            from: *from,
            placed,
            weights,
            shear: member.shear_capacity.as_ref().map(|c| c.value),
            sagging: member.sagging_capacity.as_ref().map(|c| c.value),
            hogging: member.hogging_capacity.as_ref().map(|c| c.value),
        })
        .collect();
    shoring.land(&spec.shoring, &floors, landings)
}

fn steps<R: Recorder>(
    recorder: &mut R,
    spec: &TestSpec,
    set: &LoadSet,
    layout: &Layout,
    rig: &Rig,
    (ratio, stiff): (f64, Option<&Response>),
    described: Length,
) -> Result<Schedule, Error> {
    let soft = |x: Length| layout.response.inside().deflection(x);
    let stiffly = |x: Length| stiff.map_or_else(|| soft(x) / ratio, |s| s.inside().deflection(x));
    let rise = |x: Length| rig.rise(x).unwrap_or(Length::ZERO);
    let carriers: Vec<Carrying<'_>> = layout
        .carriers
        .iter()
        .map(|c| {
            let (force_per_jack, pressure) = driven(spec, rig, c);
            Carrying {
                name: &c.name,
                force: c.force,
                force_per_jack,
                pressure,
                layers: c.layers,
                depth: c.depth,
            }
        })
        .collect();
    let circuits: Vec<_> =
        rig.hydraulics.iter().map(|h| (h.circuit.as_deref(), h.locked.as_ref())).collect();
    let prediction = Prediction {
        circuits: &circuits,
        carriers: &carriers,
        force: layout.force,
        force_per_jack: rig.force_per_jack().unwrap_or(layout.force),
        pressure: rig.pressure(),
        length: spec.beam.length().max(described),
        soft: &soft,
        stiff: &stiffly,
        stiffness_ratio: ratio,
        rise: rig.reach().map(|(from, to)| Rise { between: (from, to.max(described)), at: &rise }),
    };
    let rule = set.edition.protocol(spec.protocol.method.word()).unwrap_or_default();
    planned(recorder, &spec.protocol, &rule, &prediction)
}

impl TestDesign {
    /// Says how the load is shared, and whether neighbours that are not loaded leave enough of it.
    fn share(&mut self) {
        let scope = &self.spec.scope;
        let Some(sharing) = &scope.sharing else { return };
        let shares =
            sharing.shares(scope.member.joists.unwrap_or(1), self.spec.beam.longest_span());
        if sharing.rule == SharingRule::Plate {
            let fidelity = 1.0 - self.layout.verification.violation;
            let verdict = shares.verdict(fidelity, self.target.unit);
            if verdict.state != State::Pass {
                let message = Message::new(
                    "loaded alone in a whole slab the unit carries between {} and 1 of what stands on it: load the neighbours alike, raise the force by up to {}, or measure the neighbours and deduct",
                    [shares.own_low.into(), shares.own_low.value().recip().into()],
                );
                self.layout.notes.push(Note::new(slug::SCOPE_NEIGHBOURS, "scope.sharing", message));
            }
            self.layout.verdicts.push(verdict);
        }
        self.shares = Some(shares);
    }

    /// Gathers the notes and stops of every step.
    fn gather(&mut self) {
        self.notes.extend(self.spec.scope.notes());
        self.notes.extend(self.set.notes.iter().cloned());
        self.notes.extend(parts!(notes of self).into_iter().flatten().cloned());
        self.notes.extend(self.crowded());
        self.notes.extend(self.notes_predicted());
        self.stops.extend(parts!(stops of self).into_iter().flatten().cloned());
        self.stops.extend(self.spec.records.stops());
        self.stops.extend(self.spec.protocol.stops());
        let moves = |x: Length| self.deflection_at(x).0;
        let largest = self.largest_deflections().0;
        self.stops.extend(self.spec.protocol.unwatched(&moves, largest));
        let day = self.spec.records.test_day();
        self.stops.extend(self.spec.capacity.iter().flat_map(|c| c.stops(day)));
        let local = self.predicted.iter().flat_map(|p| &p.local);
        self.stops.extend(local.flat_map(LocalPlaced::stops));
    }

    /// Contacts of jacks nearer to each other than the member is deep, where nothing is said of their plates.
    fn crowded(&self) -> Option<Note> {
        if self.spec.layout.plate_length.value > Length::ZERO {
            return None;
        }
        let pressed = self.layout.contacts().filter(|l| l.force.0 > Force::ZERO);
        let mut places: Vec<Length> = pressed.map(|l| l.at).collect();
        places.sort_by(|a, b| a.si().total_cmp(&b.si()));
        let near = |p: &&[Length]| match p {
            [a, b] => *b - *a < self.spec.beam.depth_at(*a),
            _ => false,
        };
        let &[a, b] = places.windows(2).find(near)? else { return None };
        let message = "contacts at {} and {}, and the length of their plates is not given: whether they fit beside each other is not checked";
        let message = Message::new(message, [a.into(), b.into()]);
        Some(Note::new(slug::EQUIVALENT_PLATES_UNKNOWN, "layout.plate_length", message))
    }

    /// What is to be known of the predictions.
    fn notes_predicted(&self) -> Vec<Note> {
        let (Some(capacity), Some(found)) = (&self.spec.capacity, &self.predicted) else {
            return Vec::new();
        };
        let own = self.target.nominal.iter().filter(|n| n.symbol == Symbol::SelfWeight);
        let weight = own.map(|n| n.load.resultant()).sum();
        let member = (self.spec.loads.width.value, self.target.beam.length());
        capacity.notes(found, member, weight)
    }

    /// The page of this answer: the units the document asks for, and the largest of each kind, by
    /// what is checked, the forces, and the length of the member.
    #[must_use]
    pub fn page(&self) -> Page {
        let mut page = Page::new(self.spec.display.system());
        for (_, v) in self.verdicts() {
            page.see(v.demand);
            v.limit.value().into_iter().for_each(|l| page.see(Quantity::new(v.demand.kind, l)));
        }
        page.see(self.target.beam.length().quantity());
        let bearings = self.rig.bearings.iter().flat_map(|b| [b.stabilising, b.uplift]);
        let caught = self.shoring.catches.iter().flat_map(|c| [c.contact_force, c.resistance]);
        bearings.chain([self.layout.force.0]).chain(caught).for_each(|f| page.see(f.quantity()));
        page
    }

    /// Sets every note and stop on the page of the answer.
    fn say(&mut self) {
        let page = Arc::new(self.page());
        self.set.why.settle(&page);
        let notes = self.notes.iter_mut().chain(parts!(notes of self, mut).into_iter().flatten());
        notes.for_each(|n| n.message.settle(&page));
        let stops = self.stops.iter_mut().chain(parts!(stops of self, mut).into_iter().flatten());
        stops.for_each(|s| s.message.settle(&page));
        self.later.iter_mut().for_each(|(_, stage)| stage.say());
    }

    /// Applies the overrides that are signed, complete and made on this very design.
    fn lift(&mut self) -> Result<(), Error> {
        let any = !self.spec.overrides.is_empty();
        let fingerprint = if any { self.spec.fingerprint() } else { String::new() };
        let spec = Arc::clone(&self.spec);
        let mut issues = spec.decided(None);
        for (i, given) in spec.overrides.iter().enumerate() {
            let path = format!("overrides[{i}]");
            let stop = self.stops.iter_mut().find(|s| s.slug.code() == given.code);
            match (stop, given.signed()) {
                (Some(stop), Some(signed)) if !stop.liftable() => {
                    issues.push(Issue::new(slug::VERDICT_OVERRIDE_REFUSED, path, format!("the stop {} cannot be lifted by anybody", signed.slug)).value(&given.code));
                }
                (Some(stop), Some(signed)) if signed.design == fingerprint => stop.lifted = Some(signed),
                (Some(_), Some(signed)) => self.notes.push(Note::new(
                    slug::VERDICT_OVERRIDE_LAPSED,
                    path,
                    format!("the override of {} was made on another design and has lapsed; this one is {fingerprint}", signed.slug),
                )),
                _ => issues.push(Issue::new(slug::VERDICT_OVERRIDE_REFUSED, path, format!("no stop `{}` is there to be lifted", given.code)).value(&given.code)),
            }
        }
        for (_, stage) in &mut self.later {
            stage.stops.clone_from(&self.stops);
        }
        Error::check(issues)
    }

    /// Deflection of the member under the test load where a gauge, a jack or a catch stands: by hand on a
    /// simple span of one EI under forces, elsewhere as the solver found it.
    fn deflections(&self, working: &mut Working) {
        let mut places: Vec<Length> = self.layout.lines.iter().map(|l| l.at).collect();
        places.extend(self.spec.protocol.gauges.iter().map(|g| g.at.value));
        places.extend(self.spec.shoring.catch.iter().map(|c| c.at.value));
        places.sort_by(|a, b| a.si().total_cmp(&b.si()));
        places.dedup();
        let beam = self.target.beam.anchored().level();
        let length = beam.length();
        let size = self.largest_deflections().0.abs().si();
        for x in places.into_iter().filter(|x| *x >= Length::ZERO && *x <= length) {
            let (soft, stiff) = self.deflection_at(x);
            working.about(|| {
                Message::new("Deflection under the test load at x = {}, soft and stiff", [x.into()])
            });
            let since = working.items.len();
            let loads = self.layout.loads();
            let by_hand = deflection_by_hand(working, &beam, loads, x);
            let place = Message::new("{}", [x.into()]);
            if let Some(w) = by_hand {
                let what = format!("soft deflection at x = {place}");
                working.claim(what, since, w.quantity(), soft.si(), size);
            } else if self.by_parts(working, "soft", &beam, (x, soft)).is_none() {
                let left = self.layout.response.residual();
                working.solved(|| "Soft prediction", soft.quantity(), left);
            }
            if let Some(solved) = &self.stiff {
                let own = self.stiff_beam();
                let parts = own.and_then(|own| self.by_parts(working, "stiff", &own, (x, stiff)));
                if parts.is_none() {
                    working.solved(|| "Stiff prediction", stiff.quantity(), solved.residual());
                }
            } else {
                stiff_deflection(working, soft, self.stiffness_ratio);
            }
        }
    }

    /// A deflection carrier by carrier, each by its coefficient.
    fn by_parts(
        &self,
        working: &mut Working,
        which: &'static str,
        beam: &Beam,
        (x, found): (Length, Length),
    ) -> Option<usize> {
        let of = Message::new("{} prediction", [which.into()]);
        self.layout.by_carriers(working, beam, &of, (Sought::Deflection(x), found.si()))
    }

    /// The member of the stiff prediction, where that is not the soft one in proportion.
    fn stiff_beam(&self) -> Option<Beam> {
        let sections = beams(&self.spec, &self.target, &self.layout).ok()?;
        let beam = match sections {
            Some((_, stiff)) => stiff,
            None => self.spec.beam.beam(Stiffness::Stiff).ok()?,
        };
        Some(beam.anchored().level())
    }

    /// The stages after the first in the order in which they are tested, each with its name. Each has the
    /// stops of all: a stop in one stage holds the test.
    #[must_use]
    pub fn later(&self) -> &[(String, Self)] {
        &self.later
    }

    /// States that endanger people, those that are lifted included.
    #[must_use]
    pub fn stops(&self) -> &[Stop] {
        &self.stops
    }

    /// The steps.
    ///
    /// # Errors
    /// As [`cleared`](Self::cleared): while a stop holds there are no steps to give.
    pub fn schedule(&self) -> Result<&Schedule, Error> {
        self.cleared().map(|()| &self.schedule)
    }

    /// The stops that hold.
    pub fn holding(&self) -> impl Iterator<Item = &Stop> {
        self.stops.iter().filter(|s| s.holds())
    }

    /// Refuses while a stop holds.
    ///
    /// # Errors
    /// An error of cause `Stop` with every stop that holds.
    pub fn cleared(&self) -> Result<(), Error> {
        let held: Vec<Issue> = self.holding().map(Stop::issue).collect();
        if held.is_empty() { Ok(()) } else { Err(Error::stop(held)) }
    }

    /// Every verdict of the design, with a word on what it belongs to.
    pub fn verdicts(&self) -> impl Iterator<Item = (&'static str, &Verdict)> {
        parts!(verdicts of self, iter).chain(self.predicted.iter().flat_map(Predicted::verdicts))
    }

    /// The same verdicts in the same order, to be changed.
    fn verdicts_mut(&mut self) -> impl Iterator<Item = &mut Verdict> {
        let predicted = self.predicted.iter_mut().flat_map(Predicted::verdicts_mut);
        parts!(verdicts of self, iter_mut, mut).map(|(_, verdict)| verdict).chain(predicted)
    }

    /// What the survey found that makes the test pointless, before any load is computed.
    #[must_use]
    pub fn pointless(&self) -> Option<Verdict> {
        let scope: &Scope = &self.spec.scope;
        scope.pointless()
    }

    /// The largest soft deflection of the member under the jacks, and under the load they stand for.
    #[must_use]
    pub fn largest_deflections(&self) -> (Length, Length) {
        let end = self.target.beam.length();
        let jacks = self.layout.response.inside().deflection_extremes(Length::ZERO, end).max.value;
        let reference = self
            .target
            .inside()
            .largest(Asked::Deflection, LoadBasis::Net, Length::ZERO, end)
            .map_or(0.0, |l| l.0.value);
        (jacks, Length::from_si(reference))
    }

    /// The deflection of the member under the test load at a place on it: soft and stiff prediction.
    pub(crate) fn deflection_at(&self, x: Length) -> (Length, Length) {
        let soft = self.layout.response.inside().deflection(x);
        let stiff = self.stiff.as_ref().map(|s| s.inside().deflection(x));
        (soft, stiff.unwrap_or(soft / self.stiffness_ratio))
    }

    /// The largest stiffly predicted deflection of the member under the test load.
    pub(crate) fn largest_stiff(&self) -> Length {
        let end = self.target.beam.length();
        match &self.stiff {
            Some(stiff) => stiff.inside().deflection_extremes(Length::ZERO, end).max.value,
            None => self.largest_deflections().0 / self.stiffness_ratio,
        }
    }

    /// The force of one jack of a carrier, and the pressure of its circuit.
    pub(crate) fn driven(&self, c: &Carried) -> (Option<Net<Force>>, Option<Pressure>) {
        driven(&self.spec, &self.rig, c)
    }

    /// The layout as it was asked for, with the limits that keep the member uncracked where that is wished.
    #[must_use]
    pub fn asked_layout(&self) -> &LayoutSpec {
        self.wish.as_ref().unwrap_or(&self.spec.layout)
    }

    /// The soft stiffness EI at the left end, of the beam of the document.
    #[must_use]
    pub fn soft_rigidity(&self) -> FlexuralRigidity {
        self.spec.beam.soft.value()
    }

    /// The total jack force on one member unit, net.
    #[must_use]
    pub const fn force(&self) -> Net<Force> {
        self.layout.force
    }

    /// The working: the same chain with a recorder on, so that every number can be redone with a
    /// pencil. Its [`recheck`](Working::recheck) compares it with the numbers of this design.
    ///
    /// # Errors
    /// None that the design itself did not have.
    pub fn working(&self) -> Result<Working, Error> {
        let mut working = Working::default();
        let spec = &self.spec;
        let _ = spec.loads.nominal_recorded(spec.beam.length(), &mut Vec::new(), &mut working);
        working.append(self.target.working());
        working.append(self.layout.working(&self.target));
        // ranges widen the verdicts, and the stops with them: the working is that of the values given
        let kept = |node: Node| {
            if spec.ranged() { node.without(&["verdict", "verdicts", "stops"]) } else { node }
        };
        let asked = self.asked_layout();
        let mut again = self.layout.against(&self.target, asked, effective_depth(spec))?;
        uneven(spec, (&self.target, &mut again), asked, &self.rig)?;
        working.claim_all(
            "layout.bounds",
            usize::MAX,
            &again.bounds.write(),
            &self.layout.bounds.write(),
        );
        for (a, b) in again.verdicts.iter().zip(&self.layout.verdicts).filter(|_| !spec.ranged()) {
            working.claim_all("layout.verdicts", usize::MAX, &a.write(), &b.write());
        }
        let since = working.items.len();
        let rig = rig::check_recorded(
            &mut working,
            &spec.rig,
            &tested(spec, &ways(&self.layout), (&tilts(&self.layout), self.stiffness_ratio)),
            self.target.unit,
            &presses(&self.layout),
            under_jacks(&self.layout),
        )?;
        working.claim_all("rig", since, &kept(rig.write()), &kept(self.rig.write()));
        let since = working.items.len();
        let shoring = catch(&mut working, spec, &self.target, &self.layout, &self.rig)?;
        working.claim_all("shoring", since, &kept(shoring.write()), &kept(self.shoring.write()));
        let since = working.items.len();
        let (on, below) = ((&self.target, &self.layout), (&self.rig, &self.shoring));
        let mut predicted = predicted(&mut working, spec, on, below)?;
        if let (Some(own), Some(found)) = (&mut predicted, &self.predicted) {
            own.stiffness.clone_from(&found.stiffness);
        }
        // over the ranges of the inputs the end where it comes first is kept
        if !spec.ranged() {
            working.claim_all("predicted", since, &predicted.write(), &self.predicted.write());
        }
        let ratio = (self.stiffness_ratio, self.stiff.as_ref());
        self.deflections(&mut working);
        let since = working.items.len();
        let (set, layout, rig) = (&self.set, &self.layout, &self.rig);
        // while a stop holds nobody is given a step
        let schedule = if self.cleared().is_ok() {
            steps(&mut working, spec, set, layout, rig, ratio, Length::ZERO)?
        } else {
            steps(&mut NoRecord, spec, set, layout, rig, ratio, Length::ZERO)?
        };
        working.claim_all("schedule", since, &schedule.write(), &self.schedule.write());
        Ok(working)
    }
}

/// What stands in place of the steps: the codes of the stops that hold.
fn stopped(held: &Error) -> Node {
    let codes = held.codes().into_iter().map(Node::text).collect();
    Node::map(vec![("stopped", Node::new(Value::List(codes)))])
}

/// Without the steps, which a stop withholds.
impl core::fmt::Debug for TestDesign {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.debug_struct("TestDesign")
            .field("title", &self.spec.title)
            .field("force", &self.layout.force)
            .field("stops", &self.stops)
            .finish_non_exhaustive()
    }
}

impl Write for TestDesign {
    fn write(&self) -> Node {
        let names: Vec<Node> = self.target.terms.iter().map(|t| t.id.write()).collect();
        let crossings = |asked| {
            let of = |basis| self.target.crossings(asked, basis);
            [LoadBasis::Net, LoadBasis::Total].into_iter().flat_map(of).collect::<Vec<_>>().write()
        };
        Node::map(vec![
            ("title", Node::text(self.spec.title.clone())),
            ("fingerprint", Node::text(self.spec.fingerprint())),
            ("unit", self.target.unit.write()),
            ("edition", Node::text(self.set.edition.name())),
            ("set", self.set.set.write()),
            ("why", Node::text(self.set.why.as_str())),
            ("terms", Node::new(Value::List(names))),
            ("shear_crossings", crossings(Asked::Shear)),
            ("moment_crossings", crossings(Asked::Moment)),
            ("predicted", self.predicted.write()),
            ("layout", self.layout.write()),
            ("rig", self.rig.write()),
            ("shoring", self.shoring.write()),
            ("schedule", self.schedule().map_or_else(|held| stopped(&held), Write::write)),
            ("shares", self.shares.write()),
            ("stiffness_ratio", self.stiffness_ratio.write()),
            ("stages", later(&self.later)),
            ("stops", self.stops.write()),
            ("notes", self.notes.write()),
        ])
    }
}

/// The later stages as a tree, each with its name.
fn later(later: &[(String, TestDesign)]) -> Node {
    if later.is_empty() {
        return Node::new(Value::Null);
    }
    let one = |(name, stage): &(String, TestDesign)| {
        let mut node = stage.write();
        if let Value::Map(entries) = &mut node.value {
            entries
                .retain(|e| !["title", "fingerprint", "stops", "stages"].contains(&e.key.as_str()));
            let name = Entry { key: "name".to_owned(), node: Node::text(name.clone()) };
            entries.insert(0, name);
        }
        node
    };
    Node::new(Value::List(later.iter().map(one).collect()))
}
