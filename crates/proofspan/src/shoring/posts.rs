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

crate::record! {
    /// A post as a column: first yield in second order, of an eccentric force (secant formula with the
    /// deflection taken as `e/(1 − N/N_cr)`).
    pub struct Column {
        /// Its flexural rigidity about the weak axis.
        rigidity: Given<FlexuralRigidity, Positive>,
        /// Its area times its yield stress.
        squash: Given<Force, Positive>,
        /// Its section modulus times its yield stress.
        yields_at: Given<Moment, Positive>,
        /// Effective length over height; 1 where both ends only turn.
        effective: Ratio where EffectiveLength = Ratio::from_si(1.0),
        /// Eccentricity of the force, bow and play of the tubes included.
        eccentricity: Given<Length, Movement>,
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
    /// Resistance of an eccentric column at first yield.
    pub fn column_resistance(ny: Force as "N_y", ncr: Force as "N_cr", my: Moment as "M_y", e: Length as "e") -> Force as "N_R" = ny * (2.0 / (1.0 + ny * e / my + ny / ncr + sqrt((1.0 - ny / ncr) * (1.0 - ny / ncr) + ny * e / my * (ny * e / my + 2.0 + 2.0 * (ny / ncr)))));
    source "N/N_y + N e/(M_y (1 - N/N_cr)) = 1, smaller root";
    /// Resistance of posts by one of them and their material factor.
    pub fn posts_resistance(n: f64 as "n", one: Force as "R_1", gamma: f64 as "gamma_M") -> Force as "R" = n * one / gamma;
    source "equal posts";
}

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
        column_resistance(recorder, c.squash.value, critical, c.yields_at.value, e)
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
