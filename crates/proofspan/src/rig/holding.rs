//! What holds a bearing that cannot lift: the beam it is cast into, its top steel, and the column.
//!
//! A member cast in place does not lift: the jacks pull the beam that carries it up, which hogs over its
//! columns, and the column goes into tension where what stands on it does not press it down. Of what
//! presses down 0.9 is counted (the floor of lift-off, library rule).

use crate::beam::Span;
use crate::error::{Issue, slug};
use crate::formula::Recorder;
use crate::source::rule::NotNegative;
use crate::source::{Given, Reader};
use crate::units::{Force, Length, LineLoad, Message, Moment, Quantity};
use crate::verdict::{Basis, Clause, Limit, MemberUnit, Verdict};

crate::rule! {
    /// A place of a bearing from one column of the beam that holds it: up to a hundred metres (library rule).
    pub Offset { least 0.0 SOURCE_NEGATIVE, most 100.0 SOURCE_MAGNITUDE }
}

crate::record! {
    /// The beam that a bearing is cast into, as a simple span between its columns; per member unit.
    pub struct HoldingBeam {
        /// Between its columns.
        span: Given<Length, Span>,
        /// Where the bearing stands, from one of them.
        at: Given<Length, Offset>,
        /// The dead load on it that is certainly there.
        load: Given<LineLoad, NotNegative> = Given::known(LineLoad::ZERO),
        /// Design strength in shear, of a force up.
        shear: Given<Force, NotNegative>,
        /// Design strength in hogging between its columns: its top steel; zero where it has none.
        top: Given<Moment, NotNegative>,
    }
    rules { between_columns[span, at]; }
}

fn between_columns(reader: &mut Reader, span: &Given<Length, Span>, at: &Given<Length, Offset>) {
    if at.value > span.value {
        let path = reader.path_of("at");
        let message = "a bearing that does not stand between the columns of its beam";
        let issue = Issue::new(slug::RIG_REACTION_KIND, path, message).value(at.said());
        reader.push(issue.limit(Message::new("0 to {}", [span.said()])));
    }
}

crate::record! {
    /// The column that is pulled, per member unit.
    pub struct HoldingColumn {
        /// Design strength in tension, splices and anchorage included; zero where nothing is known.
        tension: Given<Force, NotNegative>,
        /// The dead load from above that certainly presses it there.
        load: Given<Force, NotNegative> = Given::known(Force::ZERO),
    }
}

crate::record! {
    /// What holds a bearing that cannot lift.
    pub struct Holding {
        /// The beam; left out where the member stands on the column itself.
        beam: Option<HoldingBeam>,
        /// The column: of a beam, that of its end which is pulled most.
        column: HoldingColumn => RIG_UPLIFT_COLUMN "what is pulled up ends in a column",
    }
}

crate::laws! {
    /// What pulls the nearer column of a beam that is lifted.
    pub fn column_pulled(f: Force as "F", far: Length as "far", s: Length as "s", w: LineLoad as "w") -> Force as "T" = f * (far / s) - 0.9 * w * s / 2.0;
    source "moments about the other column; 0.9 of what presses down (library rule)";
    /// Hogging of the beam where it is lifted.
    pub fn lifted_hogging(f: Force as "F", a: Length as "a", b: Length as "b", s: Length as "s", w: LineLoad as "w") -> Moment as "M" = (f * (b / s) - 0.9 * w * b / 2.0) * a;
    source "simple span; 0.9 of what presses down (library rule)";
    /// Shear of the beam beside the place where it is lifted, towards the nearer column.
    pub fn lifted_shear(f: Force as "F", far: Length as "far", s: Length as "s", near: Length as "near", w: LineLoad as "w") -> Force as "V" = f * (far / s) - 0.9 * w * (s / 2.0 - near);
    source "simple span; 0.9 of what presses down (library rule)";
    /// Tension of a column that dead load presses down.
    pub fn column_tension(t: Force as "T", g: Force as "G") -> Force as "N" = t - 0.9 * g;
    source "0.9 of what presses down (library rule)";
}

/// A check of what holds, with the field that is over its strength.
pub(super) struct HoldingCheck {
    pub(super) verdict: Verdict,
    pub(super) field: &'static str,
    pub(super) what: &'static str,
}

impl Holding {
    /// Every check of what holds a bearing against this uplift.
    pub(super) fn checks<R: Recorder>(
        &self,
        recorder: &mut R,
        pulled: Force,
        unit: MemberUnit,
    ) -> Vec<HoldingCheck> {
        let mut all = Vec::with_capacity(3);
        let mut asked = |demand: Quantity, size: f64, limit: f64, field, what| {
            let (code, clause) =
                (slug::RIG_UPLIFT_OVER_CAPACITY, Clause::Named("strength given by the engineer"));
            let limit = Limit::AtMost(limit);
            let basis = Basis::total(unit);
            let verdict = Verdict::design_of_size(code, demand, size, limit, basis, clause);
            all.push(HoldingCheck { verdict: verdict.part(what), field, what });
        };
        let mut into = pulled;
        if let Some(beam) = &self.beam {
            let (s, a, w) = (beam.span.value, beam.at.value, beam.load.value);
            let b = s - a;
            let (near, far) = if a < b { (a, b) } else { (b, a) };
            into = column_pulled(recorder, pulled, far, s, w);
            let hogging = lifted_hogging(recorder, pulled, a, b, s, w).max(Moment::ZERO);
            let shear = lifted_shear(recorder, pulled, far, s, near, w).max(Force::ZERO);
            let size = (pulled * s).si();
            let (top, strength) = (beam.top.value.si(), beam.shear.value.si());
            asked(hogging.into(), size, top, "beam.top", "top steel of the beam that holds it");
            asked(shear.into(), pulled.si(), strength, "beam.shear", "beam that holds it in shear");
        }
        let column = &self.column;
        let tension = column_tension(recorder, into, column.load.value).max(Force::ZERO);
        let strength = column.tension.value.si();
        asked(tension.into(), pulled.si(), strength, "column.tension", "column in tension");
        all
    }
}
