//! What does one post carry? A rated load, a characteristic resistance, the table of its supplier, or
//! the column that it is; of what is given the strictest counts.

use crate::error::{Issue, slug};
use crate::formula::Recorder;
use crate::source::rule::{Movement, Positive};
use crate::source::{Given, Reader};
use crate::units::{FlexuralRigidity, Force, Length, Message, Moment, Ratio};

crate::rule! {
    /// A resistance of one post.
    pub PostResistance { above 0.0 SHORING_RESISTANCE }
    /// A height of posts: up to thirty metres (library rule).
    pub PostHeight { above 0.0 SOURCE_SIGN, most 30.0 SOURCE_MAGNITUDE }
    /// A lean of posts, sideways over height: up to a tenth (library rule).
    pub Lean { least 0.0 SOURCE_NEGATIVE, most 0.1 SOURCE_MAGNITUDE }
    /// Effective length over height: a half to two and a half (library rule).
    pub EffectiveLength { least 0.5 SOURCE_MAGNITUDE, most 2.5 SOURCE_MAGNITUDE }
}

crate::record! {
    /// A row of the supplier's table.
    pub struct PostRow {
        /// Up to this height
        height: Given<Length, PostHeight>,
        /// a post carries this.
        carries: Given<Force, PostResistance>,
    }
}

crate::choice! {
    /// By which formula a column carries a force in its axis. That of AISC 360, section E3, is the same in
    /// the three editions named.
    pub enum ColumnFormula ("formula of a column", source::SOURCE_CHOICE) {
        /// First yield; Euler load of a straight one.
        FirstYield = "first_yield",
        /// AISC 360-10, E3, with its resistance factor 0.90 at least.
        Aisc10 = "AISC 360-10",
        /// AISC 360-16, E3.
        Aisc16 = "AISC 360-16",
        /// AISC 360-22, E3.
        Aisc22 = "AISC 360-22",
        /// EN 1993-1-1:2005, 6.3.1, by one of its curves.
        En = "EN 1993-1-1:2005",
    }
}

crate::choice! {
    /// A buckling curve of EN 1993-1-1, table 6.1.
    pub enum BucklingCurve ("buckling curve", source::SOURCE_CHOICE) {
        /// Imperfection factor 0.13.
        A0 = "a0",
        /// 0.21.
        A = "a",
        /// 0.34.
        B = "b",
        /// 0.49.
        C = "c",
        /// 0.76.
        D = "d",
    }
}

impl BucklingCurve {
    /// Its imperfection factor (EN 1993-1-1:2005, table 6.1, as public articles print it).
    #[must_use]
    pub const fn imperfection(self) -> f64 {
        match self {
            Self::A0 => 0.13,
            Self::A => 0.21,
            Self::B => 0.34,
            Self::C => 0.49,
            Self::D => 0.76,
        }
    }
}

crate::record! {
    /// A post as a column. What it carries in its axis is by the formula that is chosen; of an eccentric
    /// force `N/N_b + N e/(M_y (1 − N/N_cr)) = 1` (library rule; with first yield the secant formula, its
    /// deflection taken as `e/(1 − N/N_cr)`).
    pub struct Column {
        /// The formula.
        formula: ColumnFormula = ColumnFormula::FirstYield,
        /// The curve of EN 1993-1-1 that section, steel and axis have.
        curve: Option<BucklingCurve>,
        /// Its flexural rigidity about the weak axis.
        rigidity: Given<FlexuralRigidity, Positive>,
        /// Its area times its yield stress.
        squash: Given<Force, Positive>,
        /// Its section modulus times its yield stress.
        yields_at: Given<Moment, Positive>,
        /// Effective length over height; 1 where both ends only turn.
        effective: Ratio where EffectiveLength = Ratio::from_si(1.0),
        /// Eccentricity of the force, play of the tubes included; the bow too, where the formula is first
        /// yield: those of editions have theirs.
        eccentricity: Given<Length, Movement>,
    }
    rules { curve_fits[formula, curve]; }
}

fn curve_fits(reader: &mut Reader, formula: &ColumnFormula, curve: &Option<BucklingCurve>) {
    if (*formula == ColumnFormula::En) != curve.is_some() {
        let path = reader.path_of("curve");
        let message =
            "a curve without the formula that has curves, or that formula without its curve";
        reader.push(
            Issue::new(slug::SHORING_RESISTANCE, path, message)
                .value(formula.word())
                .limit("a curve with EN 1993-1-1:2005, and with it alone"),
        );
    }
}

crate::choice! {
    /// Class of a telescopic steel prop, EN 1065.
    pub enum PropClass ("class of a prop", source::SOURCE_CHOICE) {
        /// 51.0 kN·m · l_max/l², at most 44.0 kN (from memory).
        A = "A",
        /// 68.0 kN·m · l_max/l², at most 51.0 kN (the cap from memory).
        B = "B",
        /// 102.0 kN·m · l_max/l², at most 59.5 kN (from memory).
        C = "C",
        /// 34.0 kN at every length.
        D = "D",
        /// 51.0 kN at every length (from memory).
        E = "E",
    }
}

impl PropClass {
    /// Coefficient and cap.
    fn data(self) -> (Option<Moment>, Force) {
        let (c, cap) = match self {
            Self::A => (Some(51e3), 44e3),
            Self::B => (Some(68e3), 51e3),
            Self::C => (Some(102e3), 59.5e3),
            Self::D => (None, 34e3),
            Self::E => (None, 51e3),
        };
        (c.map(Moment::from_si), Force::from_si(cap))
    }
}

crate::record! {
    /// A telescopic steel prop by its class.
    pub struct Prop {
        /// The class.
        class: PropClass,
        /// The greatest length it can be drawn out to.
        longest: Given<Length, PostHeight>,
    }
}

impl Prop {
    /// Characteristic resistance at a length.
    pub(super) fn resistance<R: Recorder>(&self, recorder: &mut R, length: Length) -> Force {
        match self.class.data() {
            (Some(c), cap) => prop_resistance(recorder, c, self.longest.value, length, cap),
            (None, all) => all,
        }
    }
}

crate::laws! {
    /// Characteristic resistance of a telescopic prop.
    pub fn prop_resistance(c: Moment as "c", longest: Length as "l_max", l: Length as "l", cap: Force as "R_max") -> Force as "R_k" = cap * min(1.0, c / l * (longest / l) / cap);
    source "EN 1065, by class";
    /// Nominal resistance of a column that yields before it buckles, force in its axis.
    pub fn aisc_stocky(ny: Force as "N_y", ncr: Force as "N_cr") -> Force as "N_b" = ny * pow(0.658, ny / ncr);
    source "AISC 360 E3-2, N_y/N_cr up to 2.25";
    /// Nominal resistance of a slender column, force in its axis.
    pub fn aisc_slender(ncr: Force as "N_cr") -> Force as "N_b" = 0.877 * ncr;
    source "AISC 360 E3-3, N_y/N_cr over 2.25";
    /// Slenderness of a column.
    pub fn en_slenderness(ny: Force as "N_y", ncr: Force as "N_cr") -> f64 as "lambda" = sqrt(ny / ncr);
    source "EN 1993-1-1 6.3.1.2";
    /// Help value of a buckling curve.
    pub fn en_phi(alpha: f64 as "alpha", lambda: f64 as "lambda") -> f64 as "Phi" = 0.5 * (1.0 + alpha * (lambda - 0.2) + lambda * lambda);
    source "EN 1993-1-1 6.3.1.2";
    /// Characteristic resistance of a column, force in its axis.
    pub fn en_buckling(ny: Force as "N_y", phi: f64 as "Phi", lambda: f64 as "lambda") -> Force as "N_b" = ny * min(1.0, 1.0 / (phi + sqrt(phi * phi - lambda * lambda)));
    source "EN 1993-1-1 6.3.1.1 and 6.3.1.2";
    /// Resistance of an eccentric column.
    pub fn column_resistance(ny: Force as "N_y", ncr: Force as "N_cr", my: Moment as "M_y", e: Length as "e") -> Force as "N_R" = ny * (2.0 / (1.0 + ny * e / my + ny / ncr + sqrt((1.0 - ny / ncr) * (1.0 - ny / ncr) + ny * e / my * (ny * e / my + 2.0 + 2.0 * (ny / ncr)))));
    source "N/N_y + N e/(M_y (1 - N/N_cr)) = 1, smaller root, N_y what it carries in its axis";
    /// Resistance of posts by one of them and their material factor.
    pub fn posts_resistance(n: f64 as "n", one: Force as "R_1", gamma: f64 as "gamma_M") -> Force as "R" = n * one / gamma;
    source "equal posts";
}

impl Column {
    /// What it carries in its axis, without a factor.
    fn axial<R: Recorder>(&self, recorder: &mut R, critical: Force) -> Force {
        let squash = self.squash.value;
        match (self.formula, self.curve) {
            (ColumnFormula::FirstYield, _) | (ColumnFormula::En, None) => squash,
            (ColumnFormula::En, Some(curve)) => {
                let lambda = en_slenderness(recorder, squash, critical);
                let phi = en_phi(recorder, curve.imperfection(), lambda);
                en_buckling(recorder, squash, phi, lambda)
            }
            _ if squash <= critical * AISC_SLENDER => aisc_stocky(recorder, squash, critical),
            _ => aisc_slender(recorder, critical),
        }
    }

    /// Its material factor: what is given, with AISC 360 at least the reciprocal of its resistance factor.
    pub(super) fn factor(&self, given: f64) -> f64 {
        match self.formula {
            ColumnFormula::FirstYield | ColumnFormula::En => given,
            _ => given.max(AISC_PHI.recip()),
        }
    }
}

/// N_y/N_cr from which a column is slender, AISC 360 E3.
const AISC_SLENDER: f64 = 2.25;
/// Resistance factor in compression, AISC 360 E1.
const AISC_PHI: f64 = 0.90;

/// Euler load of a column: π² EI over the square of its effective length.
#[must_use]
pub fn euler(rigidity: FlexuralRigidity, effective: Length) -> Force {
    let l = effective.si();
    Force::from_si(core::f64::consts::PI.powi(2) * rigidity.si() / (l * l))
}

/// What one post of a table carries at a height: the row of the next greater height, never between two.
fn row(table: &[PostRow], height: Length) -> Option<Force> {
    table.iter().find(|r| r.height.value >= height * (1.0 - 1e-9)).map(|r| r.carries.value)
}

/// What one post carries by table and column, before any factor.
pub(super) fn one_post<R: Recorder>(
    recorder: &mut R,
    height: Option<Length>,
    table: &[PostRow],
    column: Option<&Column>,
    lean: Ratio,
) -> (Option<Force>, Option<Force>) {
    let Some(height) = height else { return (None, None) };
    let by_column = column.map(|c| {
        let critical = euler(c.rigidity.value, height * c.effective.value());
        // a lean counts as a bow of half of it
        let e = c.eccentricity.value + height * (lean.value() / 2.0);
        let axial = c.axial(recorder, critical);
        column_resistance(recorder, axial, critical, c.yields_at.value, e)
    });
    (row(table, height), by_column)
}

/// A prop has a length, and is not drawn out beyond its longest.
pub(super) fn propped(
    reader: &mut Reader,
    height: &Option<Given<Length, PostHeight>>,
    prop: &Option<Prop>,
) {
    let Some(prop) = prop else { return };
    let fits = height.as_ref().is_some_and(|h| h.value <= prop.longest.value);
    if !fits {
        let path = reader.path_of("height");
        let message = "a prop without its length, or drawn out beyond its longest";
        let mut issue = Issue::new(slug::SHORING_POST_TABLE, path, message)
            .limit(Message::new("at most {}", [prop.longest.said()]));
        if let Some(height) = height {
            issue = issue.value(height.said());
        }
        reader.push(issue);
    }
}

/// A table falls with the height, and reaches the height that is asked; a column has a height.
pub(super) fn tabled(
    reader: &mut Reader,
    height: &Option<Given<Length, PostHeight>>,
    table: &Vec<PostRow>,
    column: &Option<Column>,
) {
    for (i, (a, b)) in table.iter().zip(table.iter().skip(1)).enumerate() {
        if a.height.value >= b.height.value || a.carries.value < b.carries.value {
            let path = reader.path_of(&format!("table[{}]", i + 1));
            let message = "the table of the posts does not rise in height and fall in load";
            let said = Message::new("{} at {}", [b.carries.said(), b.height.said()]);
            let before = Message::new("at most {} beyond {}", [a.carries.said(), a.height.said()]);
            reader.push(
                Issue::new(slug::SHORING_POST_TABLE, path, message).value(said).limit(before),
            );
        }
    }
    let asked = !table.is_empty() || column.is_some();
    match height {
        None if asked => {
            let path = reader.path_of("height");
            let message = "a table or a column, and no height of the posts";
            reader.push(Issue::new(slug::SHORING_POST_TABLE, path, message));
        }
        Some(height) if !table.is_empty() && row(table, height.value).is_none() => {
            let path = reader.path_of("height");
            let message = "the posts are higher than their table reaches";
            reader.push(Issue::new(slug::SHORING_POST_TABLE, path, message).value(height.said()));
        }
        _ => {}
    }
}
