//! Which products and quotients exist as operators, and which must be asked for
//! by name because more than one kind fits their result.

use core::ops::{Div, Mul};

use super::quantity::*;

macro_rules! products {
    ($($a:ident * $b:ident = $c:ident;)*) => {
        $(
            impl Mul<$b> for $a {
                type Output = $c;
                fn mul(self, other: $b) -> $c { $c::from_si(self.si() * other.si()) }
            }
        )*
        /// Every product that has an operator, as kinds: (left, right, result).
        pub(crate) const PRODUCTS: &[(super::Kind, super::Kind, super::Kind)] =
            &[$((super::Kind::$a, super::Kind::$b, super::Kind::$c),)*];
    };
}

macro_rules! quotients {
    ($($a:ident / $b:ident = $c:ident;)*) => {
        $(
            impl Div<$b> for $a {
                type Output = $c;
                fn div(self, other: $b) -> $c { $c::from_si(self.si() / other.si()) }
            }
        )*
        /// Every quotient that has an operator, as kinds: (above, below, result).
        pub(crate) const QUOTIENTS: &[(super::Kind, super::Kind, super::Kind)] =
            &[$((super::Kind::$a, super::Kind::$b, super::Kind::$c),)*];
    };
}

products! {
    Length * Length = Area;
    Area * Area = SecondMoment;
    AreaLoad * Length = LineLoad;
    Length * AreaLoad = LineLoad;
    AreaLoad * Area = Force;
    Area * AreaLoad = Force;
    LineLoad * Length = Force;
    Length * LineLoad = Force;
    LineLoad * Area = Moment;
    Area * LineLoad = Moment;
    Force * Length = Moment;
    Length * Force = Moment;
    UnitWeight * Length = AreaLoad;
    Length * UnitWeight = AreaLoad;
    UnitWeight * Area = LineLoad;
    Area * UnitWeight = LineLoad;
    UnitWeight * Volume = Force;
    Volume * UnitWeight = Force;
    SpringStiffness * Length = Force;
    Length * SpringStiffness = Force;
    RotationalStiffness * Rotation = Moment;
    Rotation * RotationalStiffness = Moment;
    Moment * Length = FlexuralRigidity;
    Length * Moment = FlexuralRigidity;
    Stress * SecondMoment = FlexuralRigidity;
    SecondMoment * Stress = FlexuralRigidity;
    Stress * SectionModulus = Moment;
    SectionModulus * Stress = Moment;
    FlexuralRigidity * Curvature = Moment;
    Curvature * FlexuralRigidity = Moment;
    AxialRigidity * Strain = Force;
    Strain * AxialRigidity = Force;
    Pressure * Area = Force;
    Stress * Area = Force;
    Area * Stress = Force;
    Area * Pressure = Force;
    ThermalExpansion * TemperatureChange = Strain;
    TemperatureChange * ThermalExpansion = Strain;
    Strain * Length = Length;
    Length * Strain = Length;
    Rotation * Length = Length;
    Length * Rotation = Length;
    Curvature * Length = Rotation;
    Length * Curvature = Rotation;
    Density * Volume = Mass;
    Volume * Density = Mass;
    Ratio * Ratio = Ratio;
    Ratio * Length = Length;
    Length * Ratio = Length;
    Ratio * Force = Force;
    Force * Ratio = Force;
    Ratio * Moment = Moment;
    Moment * Ratio = Moment;
    Ratio * LineLoad = LineLoad;
    LineLoad * Ratio = LineLoad;
    Ratio * AreaLoad = AreaLoad;
    AreaLoad * Ratio = AreaLoad;
    Ratio * Stress = Stress;
    Stress * Ratio = Stress;
    Ratio * Pressure = Pressure;
    Pressure * Ratio = Pressure;
    Ratio * FlexuralRigidity = FlexuralRigidity;
    FlexuralRigidity * Ratio = FlexuralRigidity;
}

quotients! {
    Area / Length = Length;
    Volume / Area = Length;
    Volume / Length = Area;
    SecondMoment / Volume = Length;
    LineLoad / AreaLoad = Length;
    LineLoad / Length = AreaLoad;
    Force / LineLoad = Length;
    Force / AreaLoad = Area;
    Force / Pressure = Area;
    Force / SpringStiffness = Length;
    Force / AxialRigidity = Strain;
    Moment / Force = Length;
    Moment / Length = Force;
    Moment / Area = LineLoad;
    Moment / LineLoad = Area;
    Moment / FlexuralRigidity = Curvature;
    Moment / Curvature = FlexuralRigidity;
    Moment / RotationalStiffness = Rotation;
    Moment / SectionModulus = Stress;
    FlexuralRigidity / Stress = SecondMoment;
    FlexuralRigidity / SecondMoment = Stress;
    FlexuralRigidity / Moment = Length;
    AxialRigidity / Length = SpringStiffness;
    AreaLoad / Length = UnitWeight;
    AreaLoad / UnitWeight = Length;
    Strain / Length = Curvature;
    Strain / TemperatureChange = ThermalExpansion;
    Length / Rotation = Length;
    Rotation / Length = Curvature;
    Rotation / Curvature = Length;
    Mass / Volume = Density;
    Mass / Density = Volume;
}

impl SpringStiffness {
    /// The stiffness of a spring that a `force` moves by `length`.
    #[must_use]
    pub fn per(force: Force, length: Length) -> Self {
        Self::from_si(force.si() / length.si())
    }
}
impl RotationalStiffness {
    /// The stiffness of a spring that a `moment` turns by `rotation`.
    #[must_use]
    pub fn per(moment: Moment, rotation: Rotation) -> Self {
        Self::from_si(moment.si() / rotation.si())
    }
}
impl LineLoad {
    /// A `force` spread evenly over a `length`.
    #[must_use]
    pub fn spread(force: Force, length: Length) -> Self {
        Self::from_si(force.si() / length.si())
    }
}
impl AreaLoad {
    /// A `force` spread evenly over an `area`.
    #[must_use]
    pub fn spread(force: Force, area: Area) -> Self {
        Self::from_si(force.si() / area.si())
    }
}
impl Stress {
    /// The mean stress of a `force` on an `area`.
    #[must_use]
    pub fn over(force: Force, area: Area) -> Self {
        Self::from_si(force.si() / area.si())
    }
}
impl Pressure {
    /// The pressure that gives a `force` on a piston of this `area`.
    #[must_use]
    pub fn over(force: Force, area: Area) -> Self {
        Self::from_si(force.si() / area.si())
    }
}
impl Force {
    /// The resultant of a uniform `stress` on an `area`.
    #[must_use]
    pub fn of_stress(stress: Stress, area: Area) -> Self {
        Self::from_si(stress.si() * area.si())
    }
    /// The weight of a `mass` under standard gravity, 9.806 65 m/s² (3rd CGPM, 1901).
    #[must_use]
    pub fn weight(mass: Mass) -> Self {
        Self::from_si(mass.si() * super::unit::STANDARD_GRAVITY)
    }
}
impl Energy {
    /// The work of a constant `force` along a `length`.
    #[must_use]
    pub fn of(force: Force, length: Length) -> Self {
        Self::from_si(force.si() * length.si())
    }
}
impl SectionModulus {
    /// Second moment of area over the distance of the extreme fibre.
    #[must_use]
    pub fn per(second_moment: SecondMoment, distance: Length) -> Self {
        Self::from_si(second_moment.si() / distance.si())
    }
    /// The modulus at which a `moment` gives this `stress`.
    #[must_use]
    pub fn needed(moment: Moment, stress: Stress) -> Self {
        Self::from_si(moment.si() / stress.si())
    }
}
impl Volume {
    /// Area times height.
    #[must_use]
    pub fn of(area: Area, height: Length) -> Self {
        Self::from_si(area.si() * height.si())
    }
}
impl SecondMoment {
    /// b·h³/12 of a rectangle.
    #[must_use]
    pub fn rectangle(width: Length, depth: Length) -> Self {
        Self::from_si(width.si() * depth.si() * depth.si() * depth.si() / 12.0)
    }
}
impl AxialRigidity {
    /// Modulus of elasticity times area.
    #[must_use]
    pub fn of(modulus: Stress, area: Area) -> Self {
        Self::from_si(modulus.si() * area.si())
    }
}
impl Area {
    /// Area of a circle of this `diameter` (not radius).
    #[must_use]
    pub fn circle(diameter: Length) -> Self {
        Self::from_si(core::f64::consts::PI * diameter.si() * diameter.si() / 4.0)
    }
}

#[cfg(test)]
mod tests {
    use super::super::Kind;
    use super::*;

    /// The dimension of every operator's result is the product of its factors'.
    #[test]
    fn operators_keep_the_dimension() {
        for &(a, b, c) in PRODUCTS {
            assert_eq!(a.dimension().times(b.dimension()), c.dimension(), "{a:?} * {b:?} = {c:?}");
        }
        for &(a, b, c) in QUOTIENTS {
            assert_eq!(a.dimension().over(b.dimension()), c.dimension(), "{a:?} / {b:?} = {c:?}");
        }
    }

    /// Quotients that the design lists as ambiguous have no operator.
    #[test]
    fn ambiguous_quotients_have_no_operator() {
        let ambiguous = [
            (Kind::Force, Kind::Length),
            (Kind::Force, Kind::Area),
            (Kind::Moment, Kind::Stress),
            (Kind::SecondMoment, Kind::Length),
            (Kind::Moment, Kind::Rotation),
        ];
        for (a, b) in ambiguous {
            let fits = Kind::ALL
                .iter()
                .filter(|k| k.dimension() == a.dimension().over(b.dimension()))
                .count();
            assert!(fits > 1, "{a:?} / {b:?} fits only {fits} kind");
            assert!(
                !QUOTIENTS.iter().any(|q| (q.0, q.1) == (a, b)),
                "{a:?} / {b:?} has an operator"
            );
        }
    }

    #[test]
    fn force_times_length_is_a_moment_and_energy_is_asked_for() {
        let m: Moment = Force::from_si(3.0) * Length::from_si(2.0);
        let e = Energy::of(Force::from_si(3.0), Length::from_si(2.0));
        assert!((m.si() - 6.0).abs() < f64::EPSILON && (e.si() - 6.0).abs() < f64::EPSILON);
    }
}
