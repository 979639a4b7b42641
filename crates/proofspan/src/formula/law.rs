//! A rule as native code whose own tokens are its formula.

use crate::units::{Kind, Message, Quantified, Quantity};

/// A rule of engineering: what it says, its formula, its symbols and where it comes from.
#[derive(PartialEq, Debug)]
pub struct Law {
    /// The name of the function.
    pub name: &'static str,
    /// What it computes, in one sentence.
    pub doc: &'static str,
    /// The formula, in the grammar of this module.
    pub formula: &'static str,
    /// The printed symbol and the kind of the result.
    pub result: (&'static str, Kind),
    /// The name in the formula, the printed symbol and the kind of every input.
    pub symbols: &'static [(&'static str, &'static str, Kind)],
    /// Clause, book or rule.
    pub source: &'static str,
}

/// An input or result of a law: a quantity, or a plain number.
pub trait Term: Copy {
    /// The kind of the value.
    const KIND: Kind;
    /// The SI magnitude.
    fn term(self) -> f64;
}
impl<Q: Quantified> Term for Q {
    const KIND: Kind = Q::KIND;
    fn term(self) -> f64 {
        self.magnitude()
    }
}
impl Term for f64 {
    const KIND: Kind = Kind::Ratio;
    fn term(self) -> f64 {
        self
    }
}

/// Where a chain of laws writes its steps. With [`NoRecord`] the chain is bare arithmetic.
pub trait Recorder {
    /// One evaluated law: SI inputs in the order of its symbols, SI result.
    fn step(&mut self, law: &'static Law, inputs: &[f64], result: f64);
    /// What the next steps are about; the text is only made where it is kept.
    fn about<M: Into<Message>>(&mut self, heading: impl FnOnce() -> M);
    /// A value that a solver found, with what it leaves unmet, relative.
    fn searched<M: Into<Message>>(
        &mut self,
        what: impl FnOnce() -> M,
        value: Quantity,
        residual: f64,
    );
    /// A value from the linear equations of a member, with how far they are from balance, relative. Nothing
    /// is searched for it.
    fn solved<M: Into<Message>>(
        &mut self,
        what: impl FnOnce() -> M,
        value: Quantity,
        residual: f64,
    );
    /// Whether anything is kept, so that lines which the answer itself does not need are not computed.
    fn keeps(&self) -> bool;
}

/// Keeps nothing.
#[derive(Clone, Copy, Debug, Default)]
pub struct NoRecord;

impl Recorder for NoRecord {
    #[inline(always)]
    fn step(&mut self, _: &'static Law, _: &[f64], _: f64) {}
    #[inline(always)]
    fn about<M: Into<Message>>(&mut self, _: impl FnOnce() -> M) {}
    #[inline(always)]
    fn searched<M: Into<Message>>(&mut self, _: impl FnOnce() -> M, _: Quantity, _: f64) {}
    #[inline(always)]
    fn solved<M: Into<Message>>(&mut self, _: impl FnOnce() -> M, _: Quantity, _: f64) {}
    #[inline(always)]
    fn keeps(&self) -> bool {
        false
    }
}

/// The functions of the grammar as native code, for the bodies of laws.
pub mod native {
    use crate::units::Quantified;

    /// The square root of a plain number.
    #[must_use]
    pub fn sqrt(x: f64) -> f64 {
        x.sqrt()
    }
    /// A plain number to the power of a plain number.
    #[must_use]
    pub fn pow(x: f64, power: f64) -> f64 {
        x.powf(power)
    }
    /// A value that has a larger and a smaller.
    pub trait Ordered: Copy {
        /// The smaller of two.
        fn lower(self, other: Self) -> Self;
        /// The larger of two.
        fn upper(self, other: Self) -> Self;
        /// The magnitude.
        fn magnitude_of(self) -> Self;
    }
    impl Ordered for f64 {
        fn lower(self, other: Self) -> Self {
            self.min(other)
        }
        fn upper(self, other: Self) -> Self {
            self.max(other)
        }
        fn magnitude_of(self) -> Self {
            self.abs()
        }
    }
    impl<Q: Quantified> Ordered for Q {
        fn lower(self, other: Self) -> Self {
            Q::from_si(self.magnitude().min(other.magnitude()))
        }
        fn upper(self, other: Self) -> Self {
            Q::from_si(self.magnitude().max(other.magnitude()))
        }
        fn magnitude_of(self) -> Self {
            Q::from_si(self.magnitude().abs())
        }
    }
    /// The smaller of two.
    #[must_use]
    pub fn min<T: Ordered>(a: T, b: T) -> T {
        a.lower(b)
    }
    /// The larger of two.
    #[must_use]
    pub fn max<T: Ordered>(a: T, b: T) -> T {
        a.upper(b)
    }
    /// The magnitude.
    #[must_use]
    pub fn abs<T: Ordered>(a: T) -> T {
        a.magnitude_of()
    }
}

/// Makes typed functions and their [`Law`]s from one text, and the list `LAWS` of all of
/// them. The function takes a [`Recorder`] first; the law of `f` is `f::LAW`.
///
/// ```
/// # #![allow(clippy::needless_doctest_main)]
/// use proofspan::formula::{NoRecord, Working};
/// use proofspan::units::*;
/// proofspan::laws! {
///     /// End shear of a simple span under a uniform load.
///     pub fn end_shear(w: LineLoad as "w", l: Length as "L") -> Force as "V(0)" = w * l / 2.0;
///     source "statics";
/// }
/// fn main() {
///     let (w, l) = (704.0 * PLF, 45.0 * FT);
///     assert_eq!(end_shear(&mut NoRecord, w, l), w * l / 2.0);
///     let mut working = Working::default();
///     end_shear(&mut working, w, l);
///     assert!(working.recheck().is_empty());
///     assert!(working.text(System::Us).contains("V(0) = w * L / 2 = 704 plf * 45 ft / 2 = 15840 lbf"));
/// }
/// ```
#[macro_export]
macro_rules! laws {
    ($(
        $(#[doc = $doc:expr])*
        pub fn $name:ident ( $($arg:ident : $ty:ty as $symbol:literal),* $(,)? ) -> $out:ty as $result:literal = $body:expr;
        source $source:literal;
    )*) => {
        $(
            $(#[doc = $doc])*
            #[doc = concat!("\n\nFormula: `", $result, " = ", stringify!($body), "`. Source: ", $source, ".")]
            #[inline]
            #[allow(unreachable_pub, reason = "a law may be private to its module")]
            #[allow(clippy::too_many_arguments, reason = "as many as the formula has symbols")]
            pub fn $name<R: $crate::formula::Recorder>(recorder: &mut R, $($arg: $ty),*) -> $out {
                #[allow(unused_imports, reason = "a body may use none of them")]
                use $crate::formula::native::{abs, max, min, pow, sqrt};
                let result: $out = $body;
                recorder.step(
                    &$name::LAW,
                    &[$($crate::formula::Term::term($arg)),*],
                    $crate::formula::Term::term(result),
                );
                result
            }
            #[doc = concat!("The law of the function `", stringify!($name), "`.")]
            #[allow(unreachable_pub, reason = "a law may be private to its module")]
            pub mod $name {
                #[allow(unused_imports, reason = "a law may use none of them")]
                use super::*;
                /// Formula, symbols and source.
                pub static LAW: $crate::formula::Law = $crate::formula::Law {
                    name: stringify!($name),
                    doc: concat!($($doc),*),
                    formula: stringify!($body),
                    result: ($result, <$out as $crate::formula::Term>::KIND),
                    symbols: &[$((stringify!($arg), $symbol, <$ty as $crate::formula::Term>::KIND)),*],
                    source: $source,
                };
            }
        )*
        /// Every law of this file.
        #[allow(dead_code, reason = "read by the test of all laws")]
        pub(crate) const LAWS: &[&$crate::formula::Law] = &[$(&$name::LAW),*];
    };
}
