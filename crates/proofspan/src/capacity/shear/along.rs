//! One-way shear along the member: at which share of the test load a place reaches its strength.

use super::aci::prestressed_part;
use super::alone::ShearParts;
use super::en::{en_fractile, en_opens};
use super::governs::Governs;
use super::spec::{
    Detailed, Prestressed, Reduction, ShearEdition, ShearStrength, Stirrups, Uncracked,
};
use crate::beam::{Response, Side};
use crate::capacity::cracking::{CrackingRule, Scatter, cracking_moment, decompression};
use crate::capacity::flexure::Reductions;
use crate::capacity::material::StrengthSet;
use crate::capacity::section::{Cut, Face};
use crate::capacity::strengthening::{AddedStirrups, Form, Strengthening, Wraps};
use crate::error::{Error, Issue, slug};
use crate::formula::{NoRecord, Recorder};
use crate::source::Given;
use crate::units::{Area, Force, Length, Message, Moment, Ratio, Stress, Volume};

crate::answer! {
    /// Shear at one place: total shears, up on the left part positive.
    pub struct PredictedShear {
        /// Its place from the left end of the member.
        at: Length,
        /// Shear in place before the test.
        in_place: Force,
        /// Shear at full test load, with what is in place.
        total: Force,
        /// Expected strength, without a sign.
        expected: Force,
        /// Its standard uncertainty, of the part that the tension of the concrete carries; where the scatter is given.
        uncertainty: Option<Force>,
        /// Design strength, where its factors are given.
        design: Option<Force>,
        /// Share of the test load at which the expected strength is reached; zero or less where it is before the test.
        fails_at: f64,
        /// What decides the expected strength.
        governs: Governs,
        /// Whether stirrups are counted.
        stirrups: bool,
        /// What wraps and added stirrups carry of the expected strength; nothing where there are none.
        strengthening: Option<Force>,
        /// Shear at which diagonal cracks are expected, without a sign: the lower of flexure-shear and web-shear cracking where the method says them, else what the concrete carries (library rule); nothing where no part of the strength is the concrete's.
        cracks: Option<Force>,
        /// Whether a force of the test stands between this place and the bearing beside it: part of it goes there by a strut.
        strut: bool,
    }
}

/// By what shear along a stretch is asked.
pub(in crate::capacity) struct ShearQuestion<'a> {
    pub(in crate::capacity) code: ShearEdition,
    pub(in crate::capacity) stirrups: Option<&'a Stirrups>,
    pub(in crate::capacity) reduction: Option<&'a Given<Ratio, Reduction>>,
    pub(in crate::capacity) partial: Option<&'a Reductions>,
    pub(in crate::capacity) scatter: Option<&'a Scatter>,
    pub(in crate::capacity) wraps: Option<&'a Wraps>,
    pub(in crate::capacity) added: Option<&'a AddedStirrups>,
}

/// What acts across the member, before the test and by it.
#[derive(Clone, Copy)]
pub(in crate::capacity) struct Acting<'a> {
    pub(in crate::capacity) in_place: &'a Response,
    pub(in crate::capacity) test: &'a Response,
}

impl Acting<'_> {
    /// The face in tension under the full test load; where no moment is, at a free end or a bearing, that of
    /// what lies beside.
    fn face(&self, x: Length) -> Face {
        let moment = |r: &Response, x: Length| r.inside().moment(x, Side::Right);
        let total = |x: Length| moment(self.in_place, x) + moment(self.test, x);
        let length = self.test.length();
        let step = length * 1e-3;
        let beside = total((x - step).max(Length::ZERO)) + total((x + step).min(length));
        let here = total(x);
        let decides = if here.abs() <= beside.abs() * 1e-6 { beside } else { here };
        if decides >= Moment::ZERO { Face::Bottom } else { Face::Top }
    }

    /// Whether a force of the test stands between a bearing and a place beside it: its shear jumps, or
    /// falls to less than half.
    fn force_between(&self, bearing: Length, x: Length) -> bool {
        let v = |x: Length, side| self.test.inside().shear(x, side);
        let (low, high) = if bearing < x { (bearing, x) } else { (x, bearing) };
        let (from, to) = if bearing < x {
            (v(bearing, Side::Right), v(x, Side::Left))
        } else {
            (v(bearing, Side::Left), v(x, Side::Right))
        };
        let least = from.abs() * 1e-6;
        let jumps = |y: Length| (v(y, Side::Left) - v(y, Side::Right)).abs() > least;
        let inside = |y: &Length| *y > low && *y < high;
        (to - from).abs() > from.abs() / 2.0 || self.test.breakpoints().filter(inside).any(jumps)
    }
}

/// What acts on one section towards the side where it fails: in place before the test, and by the test.
#[derive(Clone, Copy)]
struct Acts {
    shears: (Force, Force),
    /// Positive where the face in tension opens.
    moments: (Moment, Moment),
    /// What a tendon that climbs takes of the strength.
    against: Force,
}

/// The depth that shear is counted by, and the distance from a bearing nearer than which the code does
/// not ask for it.
fn depths(cut: &Cut, face: Face, code: ShearEdition) -> Option<(Length, Length)> {
    if code.aci() && cut.prestress_force() > Force::ZERO {
        let h = cut.height();
        let down = cut.prestress_depth()?;
        let d = if face == Face::Bottom { down } else { h - down };
        return Some((d.max(h * 0.8), h / 2.0));
    }
    let d = cut.effective_depth(face)?;
    Some((d, d))
}

impl ShearEdition {
    const fn aci(self) -> bool {
        matches!(self, Self::Aci | Self::AciMetric)
    }

    /// The constants by which what strengthens counts beside it.
    ///
    /// # Errors
    /// `capacity.not-known` of an edition beside which no formula is known here.
    pub(in crate::capacity) fn strengthened(self, field: &str) -> Result<Form, Issue> {
        match self {
            Self::Aci => Ok(Form::Us),
            Self::AciMetric => Ok(Form::Si),
            Self::En2004 | Self::En2023 => {
                let message =
                    "what strengthens in shear is known beside the formulas of ACI 318 only";
                let issue = Issue::new(slug::CAPACITY_NOT_KNOWN, field, message);
                let remedy =
                    "name an edition of ACI 318 in `shear`, or give the strength without it";
                Err(issue.source(self.word()).remedy(remedy))
            }
        }
    }
}

impl ShearQuestion<'_> {
    /// Distance from a bearing at which the first section is looked at.
    pub(in crate::capacity) fn off_bearing(&self, cut: &Cut, acting: Acting<'_>) -> Length {
        let found = depths(cut, acting.face(cut.at), self.code);
        found.map_or(Length::ZERO, |(_, near)| near)
    }

    /// Shear at one place, on the side where it fails first; nothing where the test brings none, where
    /// it is too near a bearing, and where the section is not one that the formulas know: then why.
    pub(in crate::capacity) fn at<R: Recorder>(
        &self,
        rec: &mut R,
        cut: &Cut,
        acting: Acting<'_>,
        largest: Force,
    ) -> Result<Result<Option<PredictedShear>, &'static str>, Error> {
        let (x, face) = (cut.at, acting.face(cut.at));
        let Some(width) = cut.web else { return Ok(Err("the width of the webs is not given")) };
        let Some((d, near)) = depths(cut, face, self.code) else {
            return Ok(Err("no steel in the half of the depth that is in tension"));
        };
        let force = cut.prestress_force();
        let stressed = force > Force::ZERO;
        if stressed && cut.topping.is_some() {
            return Ok(Err("a prestressed section with a topping"));
        }
        if stressed && self.code == ShearEdition::En2023 {
            return Ok(Err("prestress by EN 1992-1-1:2023"));
        }
        let mut strut = false;
        for bearing in acting.test.reactions().iter().map(|r| r.at) {
            if (x - bearing).abs() < near * (1.0 - 1e-6) {
                // what stands in this stretch does not go past a place beside the bearing
                let edge = if x >= bearing { bearing + near } else { bearing - near };
                let edge = edge.max(Length::ZERO).min(acting.test.length());
                if !acting.force_between(bearing, edge) {
                    return Ok(Ok(None));
                }
                strut = true;
            }
        }
        let mut worst: Option<PredictedShear> = None;
        for side in [Side::Left, Side::Right] {
            let shear = |r: &Response| r.inside().shear(x, side);
            let moment = |r: &Response| r.inside().moment(x, side);
            let (before, test) = (shear(acting.in_place), shear(acting.test));
            if test.abs() <= largest * 1e-9 {
                continue;
            }
            let towards = test.si().signum();
            let beside = if side == Side::Left { "left" } else { "right" };
            rec.about(|| Message::new("Just {} of {}", [beside.into(), x.into()]));
            let relief = cut.prestress_shear() * towards;
            let mut asked = self.record(cut, face, (width, d));
            if stressed && self.code.aci() {
                let gross = cut.gross()?;
                let down = cut.prestress_depth().unwrap_or(gross.centroid) - gross.centroid;
                let (modulus, pulls) =
                    if face == Face::Bottom { (gross.bottom, 1.0) } else { (gross.top, -1.0) };
                let dp = if face == Face::Bottom {
                    gross.centroid + down
                } else {
                    cut.height() - gross.centroid - down
                };
                let mean = Stress::over(force, gross.area);
                let part = |s: &crate::capacity::steel::Steel| {
                    s.breaks.as_ref().unwrap_or(&s.yields).specified.value
                };
                let (aps, fpu) = cut
                    .steel
                    .iter()
                    .filter(|s| s.tendon)
                    .fold((Area::ZERO, Force::ZERO), |(a, f), s| {
                        (a + s.area, f + Force::of_stress(part(s), s.area))
                    });
                let bars = cut.tension_steel(face).filter(|s| !s.tendon);
                let (a_s, fy) = bars.fold((Area::ZERO, Force::ZERO), |(a, f), s| {
                    (a + s.area, f + Force::of_stress(s.yields.specified.value, s.area))
                });
                let over = |f: Force, a: Area| {
                    if a > Area::ZERO { Stress::over(f, a) } else { Stress::ZERO }
                };
                let none = &mut NoRecord;
                let share = prestressed_part(
                    none,
                    aps,
                    over(force, aps),
                    over(fpu, aps),
                    a_s,
                    over(fy, a_s),
                );
                asked.prestress = Some(Prestressed::Detailed(Detailed {
                    depth: Given::known(dp),
                    height: Given::known(cut.height()),
                    modulus: Given::known(modulus),
                    at_face: Given::known(mean + force * down * pulls / modulus),
                    at_centroid: Given::known(mean),
                    dead_stress: Given::known(moment(acting.in_place) * pulls / modulus),
                    vertical: Given::known(relief),
                    dead_shear: Given::known(before * towards),
                    added_shear: Given::known(test.abs()),
                    added_moment: Given::known(moment(acting.test).abs()),
                    mostly_prestressed: share >= 0.4,
                }));
            } else if stressed {
                asked.axial = Given::known(force);
                asked.gross_area = Some(Given::known(cut.gross()?.area));
                asked.chord_factor = self.stirrups.map(|_| Given::known(Ratio::from_si(1.0)));
            }
            // EN 1992-1-1 counts a tendon that climbs against the shear as an action; what relieves is left out
            let against = if self.code.aci() { Force::ZERO } else { relief.min(Force::ZERO) };
            let (expected, cracks, design) = asked.sets(rec)?;
            let single = acting.test.reactions().len() == 2;
            let (expected, design) = if stressed && single && self.pressed(&asked) {
                let pulls = if face == Face::Bottom { 1.0 } else { -1.0 };
                let acts = Acts {
                    shears: (before * towards, test.abs()),
                    moments: (moment(acting.in_place) * pulls, moment(acting.test) * pulls),
                    against,
                };
                self.end_region(rec, cut, (&asked, face), acts, (expected, design))?
            } else {
                (expected, design)
            };
            let more = self.strengthening(cut, (width, d))?;
            let carried = |rec: &mut R, set: StrengthSet, parts: &ShearParts| match &more {
                Some(more) => more.carries(rec, set, parts.stirrups).map(Some),
                None => Ok(None),
            };
            let extra = carried(rec, StrengthSet::Expected, &expected)?;
            let phi = self.reduction.map_or(1.0, |phi| phi.value.value());
            let extra_design = match &design {
                Some(parts) => carried(rec, StrengthSet::Design, parts)?.map(|v| v * phi),
                None => None,
            };
            let plus = |v: Option<Force>| v.unwrap_or(Force::ZERO);
            let cracks = cracks
                .map(|c| c.flexure_shear.min(c.web_shear))
                .or_else(|| Some(expected.concrete).filter(|c| *c > Force::ZERO));
            let strength = |p: &ShearParts, more: Option<Force>| {
                (p.strength + plus(more) + against).max(Force::ZERO)
            };
            let whole = strength(&expected, extra);
            let reached =
                if before.abs() >= whole { whole - before.abs() } else { whole - before * towards };
            let fails_at = reached.si() / test.abs().si();
            if worst.as_ref().is_some_and(|w| w.fails_at <= fails_at) {
                continue;
            }
            let tension = match expected.governs {
                Governs::Stirrups | Governs::Struts => Force::ZERO,
                _ => expected.concrete,
            };
            worst = Some(PredictedShear {
                at: x,
                in_place: before,
                total: before + test,
                expected: whole,
                uncertainty: self.scatter.map(|s| tension * s.tension.value.value()),
                design: design.as_ref().map(|p| strength(p, extra_design)),
                fails_at,
                governs: expected.governs,
                stirrups: self.stirrups.is_some(),
                strengthening: extra,
                cracks,
                strut,
            });
        }
        Ok(Ok(worst))
    }

    /// What of a section, its stirrups and what strengthens it is at a cap of the edition.
    pub(in crate::capacity) fn capped(&self, cut: &Cut, face: Face) -> Vec<Message> {
        let (Some(width), Some((d, _))) = (cut.web, depths(cut, face, self.code)) else {
            return Vec::new();
        };
        let mut asked = self.record(cut, face, (width, d));
        let force = cut.prestress_force();
        if force > Force::ZERO && self.code.aci() {
            // the caps of what tendons carry stand in their own formulas
            asked.tension_steel = Given::known(Area::ZERO);
        } else if let (true, Ok(gross)) = (force > Force::ZERO, cut.gross()) {
            asked.axial = Given::known(force);
            asked.gross_area = Some(Given::known(gross.area));
        }
        let mut notes = Vec::new();
        let found = asked.parts(&mut NoRecord, StrengthSet::Expected, &mut notes);
        let mut messages: Vec<Message> = notes.into_iter().map(|n| n.message).collect();
        if let (Ok((parts, _)), Ok(Some(more))) = (found, self.strengthening(cut, (width, d)))
            && more.at_limit(parts.stirrups)
        {
            messages.push("stirrups and wraps together are at the limit of the section".into());
        }
        messages
    }

    /// Whether EN 1992-1-1:2004 6.2.2(2) speaks of this section: prestressed, without stirrups.
    fn pressed(&self, asked: &ShearStrength) -> bool {
        self.code == ShearEdition::En2004 && asked.stirrups.is_none()
    }

    /// Both sets where bending has not cracked the section, EN 1992-1-1:2004 6.2.2(2): the tension of the web
    /// decides as long as it gives way before bending opens the face; else the section is as strong as one
    /// that is cracked, or holds until bending cracks it where that is more.
    fn end_region<R: Recorder>(
        &self,
        rec: &mut R,
        cut: &Cut,
        (asked, face): (&ShearStrength, Face),
        acts: Acts,
        (expected, design): (ShearParts, Option<ShearParts>),
    ) -> Result<(ShearParts, Option<ShearParts>), Error> {
        let Some(mean) = CrackingRule::axial(rec, &cut.concrete) else {
            return Ok((expected, design));
        };
        let least = en_fractile(rec, mean);
        let gross = cut.gross()?;
        let c = gross.centroid.si();
        let [above, first, _] = cut.outline.moments(0.0, c);
        let mut web = asked.clone();
        web.chord_factor = None;
        web.prestress = Some(Prestressed::Uncracked(Uncracked {
            second_moment: Given::known(gross.second_moment),
            first_moment: Given::known(Volume::from_si(above * c - first)),
            tension: Given::known(least),
            mean_tension: Some(Given::known(mean)),
            // what has entered here stands in the force
            entered: Given::known(Ratio::from_si(1.0)),
        }));
        let (whole, _, whole_design) = web.sets(rec)?;
        let force = cut.prestress_force();
        let down = cut.prestress_depth().map_or(Length::ZERO, |d| d - gross.centroid);
        let (s, e) = if face == Face::Bottom { (gross.bottom, down) } else { (gross.top, -down) };
        let zero = decompression(rec, s, Stress::over(force, gross.area), force, e);
        let mut decide = |cracked: ShearParts, whole: ShearParts, tension: Stress| {
            let opens = cracking_moment(rec, zero, s, tension);
            let ((v0, v), (m0, m)) = (acts.shears, acts.moments);
            if m0 >= opens {
                return cracked;
            }
            let share = if m > Moment::ZERO { (opens - m0) / m } else { f64::INFINITY };
            if whole.strength + acts.against <= v0 + v * share {
                return whole;
            }
            let held = en_opens(rec, v0, v, opens, m0, m) - acts.against;
            if held <= cracked.strength {
                return cracked;
            }
            ShearParts { concrete: held, strength: held, governs: Governs::Uncracked, ..cracked }
        };
        let gamma = asked.gamma_c.as_ref().map_or(1.0, |g| g.value.value());
        let design = match (design, whole_design) {
            (Some(cracked), Some(whole)) => Some(decide(cracked, whole, least / gamma)),
            (design, _) => design,
        };
        Ok((decide(expected, whole, mean), design))
    }

    /// What was added for shear; nothing where nothing was.
    fn strengthening<'c>(
        &'c self,
        cut: &'c Cut,
        web: (Length, Length),
    ) -> Result<Option<Strengthening<'c>>, Error> {
        let field = match (self.wraps, self.added) {
            (None, None) => return Ok(None),
            (Some(_), _) => "wraps",
            (None, Some(_)) => "added",
        };
        let form = self.code.strengthened(field)?;
        Ok(Some(Strengthening {
            wraps: self.wraps,
            added: self.added,
            form,
            concrete: &cut.concrete,
            web,
        }))
    }

    /// The question as it stands on its own.
    fn record(&self, cut: &Cut, face: Face, (width, d): (Length, Length)) -> ShearStrength {
        // of two concretes the weaker one counts over the whole depth
        let own = &cut.concrete;
        let weaker = cut
            .topping
            .as_ref()
            .map(|l| &l.concrete)
            .filter(|c| c.strength.specified.value < own.strength.specified.value);
        let concrete = weaker.unwrap_or(own);
        let aci = self.code.aci();
        // EN 1992-1-1 counts what is anchored
        let steel: Area = cut
            .tension_steel(face)
            .map(|s| if aci { s.area } else { s.area * s.anchored })
            .fold(Area::ZERO, |a, b| a + b);
        let mut asked =
            ShearStrength::of(self.code, concrete.strength.specified.value, width, d, steel);
        asked.mean_strength.clone_from(&concrete.strength.expected);
        asked.lightweight = concrete.lightweight.clone();
        asked.stirrups = self.stirrups.cloned();
        if aci {
            asked.phi = self.reduction.cloned();
        } else {
            asked.gamma_c = self.partial.and_then(|r| r.concrete.clone());
            asked.gamma_s = self.partial.and_then(|r| r.steel.clone());
        }
        if self.code == ShearEdition::En2023 {
            asked.aggregate = concrete.aggregate.as_ref().map(|a| Given::known(a.value));
            let first = cut.tension_steel(face).map(|s| s.yields.specified.value);
            asked.steel_yield = first.min_by(|a, b| a.si().total_cmp(&b.si())).map(Given::known);
        }
        asked
    }
}
