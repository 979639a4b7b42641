//! Concrete and steel: two strengths each, as specified and as expected.

use crate::beam::ConcreteModulus;
use crate::source::rule::Positive;
use crate::source::{Entry, Given, Node, Reader, Unfolded, Value};
use crate::units::{Length, Ratio, Stress};

crate::choice! {
    /// Which strengths a prediction is made with.
    pub enum StrengthSet ("set of strengths", source::SOURCE_CHOICE) {
        /// Mean strengths without reduction: for readings and limits that stop a test.
        Expected = "expected",
        /// Specified strengths, reduced as the edition says: for what the safety of people hangs on.
        Design = "design",
    }
}

crate::rule! {
    /// A compressive strength that a concrete can have: 5 MPa to 250 MPa, 725 psi to 36 300 psi
    /// (library rule); outside, the unit is wrong: ksi or MPa written for psi.
    pub ConcreteStress { above 0.0 SOURCE_SIGN, least 5e6 CAPACITY_MAGNITUDE_FC, most 250e6 CAPACITY_MAGNITUDE_FC }
    /// A yield or breaking strength that a steel can have: 100 MPa to 3000 MPa (library rule).
    pub SteelStress { above 0.0 SOURCE_SIGN, least 100e6 SOURCE_MAGNITUDE, most 3000e6 SOURCE_MAGNITUDE }
    /// A modulus of elasticity that a steel can have: 100 GPa to 250 GPa (library rule).
    pub SteelModulus { above 0.0 SOURCE_SIGN, least 100e9 SOURCE_MAGNITUDE, most 250e9 SOURCE_MAGNITUDE }
    /// A factor of lightweight concrete: 0.5 to 1 (library rule).
    pub Lightweight { least 0.5 SOURCE_MAGNITUDE, most 1.0 SOURCE_SHARE }
}

crate::record! {
    /// The compressive strength of a concrete, measured on cylinders.
    pub struct ConcreteStrength {
        /// As specified: f'c, f_ck, or a lower bound of what was found.
        specified: Given<Stress, ConcreteStress>,
        /// The mean that is expected in the member; the specified one where it is left out, and a note says so.
        expected: Option<Given<Stress, ConcreteStress>>,
    }
    unfold { as_specified, or_text }
}

crate::record! {
    /// A yield or breaking strength of a steel.
    pub struct SteelStrength {
        /// As specified, a lower bound.
        specified: Given<Stress, SteelStress>,
        /// The mean that is expected; the specified one where it is left out, and a note says so.
        expected: Option<Given<Stress, SteelStress>>,
    }
    unfold { as_specified, or_text }
}

/// A value alone, as the long form whose first field it is.
fn alone(node: &Node, field: &str) -> Option<Unfolded> {
    if matches!(node.value, Value::Map(_)) {
        return None;
    }
    let node = Node {
        value: Value::Map(vec![Entry { key: field.to_owned(), node: node.clone() }]),
        place: node.place,
    };
    Some(Unfolded { node, names: Vec::new() })
}

/// A strength alone is the specified one.
fn as_specified(node: &Node, _: &mut Reader) -> Option<Unfolded> {
    alone(node, "specified")
}

/// A strength alone is a concrete.
fn by_strength(node: &Node, _: &mut Reader) -> Option<Unfolded> {
    alone(node, "strength")
}

/// The schema of what may be one value.
fn or_text(schema: serde_json::Value) -> serde_json::Value {
    serde_json::json!({ "oneOf": [{ "type": "string" }, schema] })
}

macro_rules! two_strengths {
    ($($name:ident),*) => {$(
        impl $name {
            /// A strength as specified, whose mean is not known.
            #[must_use]
            pub const fn specified(strength: Stress) -> Self {
                Self { specified: Given::known(strength), expected: None }
            }

            /// The same with the mean that is expected.
            #[must_use]
            pub fn expecting(self, mean: Stress) -> Self {
                Self { expected: Some(Given::known(mean)), ..self }
            }

            /// The strength of a set, before any reduction.
            #[must_use]
            pub fn of(&self, set: StrengthSet) -> Stress {
                match (set, &self.expected) {
                    (StrengthSet::Expected, Some(mean)) => mean.value,
                    _ => self.specified.value,
                }
            }
        }
    )*};
}
two_strengths!(ConcreteStrength, SteelStrength);

crate::record! {
    /// A concrete.
    pub struct Concrete {
        /// Compressive strength.
        strength: ConcreteStrength,
        /// Modulus of elasticity that is expected; needed for stiffness and transformed sections.
        modulus: Option<Given<Stress, ConcreteModulus>>,
        /// Flexural tensile strength that was measured, in place of the formula of an edition.
        tension: Option<Given<Stress, Positive>>,
        /// The factor of lightweight concrete, λ of ACI 318; 1 of normal weight.
        lightweight: Given<Ratio, Lightweight> = Given::known(Ratio::from_si(1.0)),
        /// Size of the largest aggregate.
        aggregate: Option<Given<Length, Positive>>,
    }
    unfold { by_strength, or_text }
}

impl Concrete {
    /// A concrete of normal weight.
    #[must_use]
    pub const fn of(strength: ConcreteStrength) -> Self {
        Self {
            strength,
            modulus: None,
            tension: None,
            lightweight: Given::known(Ratio::from_si(1.0)),
            aggregate: None,
        }
    }

    /// The same with its modulus of elasticity.
    #[must_use]
    pub fn modulus(self, modulus: Stress) -> Self {
        Self { modulus: Some(Given::known(modulus)), ..self }
    }
}
