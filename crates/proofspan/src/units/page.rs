//! The page on which an answer is read: in which units, and what on it is rounding noise.

use super::kind::{Kind, Quantity};
use super::quantity::{Length, Quantified};
use super::show::{System, grouped, rounded, trimmed};

/// Below this part of the largest value of its kind in an answer a computed value is rounding noise.
pub const NOISE: f64 = 1e-12;

const KINDS: usize = Kind::ALL.len();

/// Turns computed answers into text: the unit system of the reader and the largest value of each
/// kind in the answer.
///
/// Noise rule: a value below [`NOISE`] of the largest of its kind on the page is 0; a plain number
/// (ratio, share, factor) is measured against 1 as well. The rule is one of text for answers: inputs
/// as given, machine JSON and probabilities keep their digits. A value that is not finite is said in
/// words. Every kind has one unit on a page, lengths two: m or ft for places and spans
/// ([`place`](Self::place)), mm or in for deflections, gaps and strokes ([`small`](Self::small)).
///
/// ```
/// use proofspan::units::*;
/// let mut page = Page::new(System::Us);
/// page.see((17938.12 * LBF).quantity());
/// assert_eq!(page.value(-4e-9 * LBF, 6), "0 lbf"); // below 1e-12 of 17938 lbf
/// assert_eq!(page.value(4e-8 * LBF, 6), "4e-8 lbf");
/// assert_eq!(page.place(6.0 * FT), "6.000 ft");
/// assert_eq!(page.small(0.194 * IN), "0.19400 in");
/// ```
#[derive(Clone, PartialEq, Debug)]
pub struct Page {
    system: System,
    largest: [f64; KINDS],
}

impl Default for Page {
    fn default() -> Self {
        Self::new(System::Si)
    }
}

impl Page {
    /// A page in these units on which nothing stands yet.
    #[must_use]
    pub fn new(system: System) -> Self {
        let mut largest = [0.0; KINDS];
        if let Some(one) = largest.get_mut(Kind::Ratio as usize) {
            *one = 1.0;
        }
        Self { system, largest }
    }

    /// The same page in other units.
    pub(crate) fn in_units(self, system: System) -> Self {
        Self { system, ..self }
    }

    /// The unit system.
    #[must_use]
    pub const fn system(&self) -> System {
        self.system
    }

    /// Counts a value of the answer.
    pub fn see(&mut self, q: Quantity) {
        if let Some(largest) = self.largest.get_mut(q.kind as usize).filter(|_| q.si.is_finite()) {
            *largest = largest.max(q.si.abs());
        }
    }

    /// The SI value, 0 where it is noise.
    #[must_use]
    pub fn settled(&self, q: Quantity) -> f64 {
        let largest = self.largest.get(q.kind as usize).copied().unwrap_or(0.0);
        // what is not above, a zero of either sign too
        if q.si.abs() < NOISE * largest || q.si.abs() <= 0.0 { 0.0 } else { q.si }
    }

    /// A value in the unit of its kind, with so many significant digits.
    #[must_use]
    pub fn value(&self, q: impl Into<Quantity>, digits: usize) -> String {
        let q = q.into();
        let si = self.settled(q);
        if q.kind == Kind::Ratio {
            return grouped(si, digits);
        }
        rounded(si, q.kind.usual(self.system), digits)
    }

    /// A place or a span, to the thousandth of a metre or foot.
    #[must_use]
    pub fn place(&self, x: Length) -> String {
        let row = Kind::Length.usual(self.system);
        format!("{} {}", decimals(row.from_si(self.settled(x.quantity())), 3), row.symbol)
    }

    /// A deflection, gap or stroke in mm or inches.
    #[must_use]
    pub fn small(&self, length: Length) -> String {
        self.small_value(length, 5)
    }

    pub(crate) fn small_value(&self, length: Length, digits: usize) -> String {
        rounded(self.settled(length.quantity()), Kind::Length.small(self.system), digits)
    }

    /// A plain number with so many decimals.
    #[must_use]
    pub fn number(&self, number: f64, places: usize) -> String {
        decimals(self.settled(Quantity::new(Kind::Ratio, number)), places)
    }
}

/// `number` with so many decimals, at most nine digits; a value that would print as zero and is
/// not, to three digits.
fn decimals(number: f64, places: usize) -> String {
    if !number.is_finite() {
        return grouped(number, 3);
    }
    let text = format!("{number:.places$}");
    if text.bytes().filter(u8::is_ascii_digit).count() > 9 {
        return trimmed(&grouped(number, 9)).to_owned();
    }
    let zero = !text.contains(|c: char| c.is_ascii_digit() && c != '0');
    match (zero, number.abs() > 0.0) {
        (true, true) => grouped(number, 3),
        (true, false) => text.trim_start_matches('-').to_owned(),
        _ => text,
    }
}

#[cfg(test)]
mod tests {
    use super::super::*;

    fn force(n: f64) -> Quantity {
        Quantity::new(Kind::Force, n)
    }

    /// 1e-12 of 80 kN is 8e-8 N: 7.9e-8 N is noise, 8.1e-8 N is not. Moments have their own size.
    #[test]
    fn noise_is_what_is_below_a_billionth_of_a_thousandth_of_the_largest_of_its_kind() {
        let mut page = Page::new(System::Si);
        page.see(force(-80_000.0));
        page.see(force(f64::INFINITY));
        page.see(Quantity::new(Kind::Moment, 1e-3));
        assert_eq!(page.value(force(7.9e-8), 6), "0 kN");
        assert_eq!(page.value(force(-7.9e-8), 6), "0 kN");
        assert_eq!(page.value(force(8.1e-8), 3), "8.1e-11 kN");
        assert_eq!(page.value(Quantity::new(Kind::Moment, 7.9e-8), 3), "7.9e-11 kN·m");
        // nothing stands there to be compared with
        assert_eq!(page.value(Quantity::new(Kind::Pressure, 1e-9), 3), "1e-15 MPa");
    }

    #[test]
    fn a_number_is_measured_against_one() {
        let page = Page::default();
        assert_eq!(page.number(-7.3e-14, 4), "0.0000");
        assert_eq!(page.number(-2e-5, 4), "-0.0000200");
        assert_eq!(page.number(1.237_692_4, 4), "1.2377");
        assert_eq!(page.number(-0.0, 2), "0.00");
        assert_eq!(page.number(1_094.290_123_45, 6), "1094.29012");
        assert_eq!(page.number(123_456_789_012.0, 0), "123456789000");
    }

    #[test]
    fn what_is_not_finite_is_said_in_words() {
        let page = Page::default();
        for number in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
            assert_eq!(page.number(number, 4), "no number");
            assert_eq!(page.value(force(number), 4), "no number kN");
            assert_eq!(Length::from_si(number).to_string(), "no number m");
        }
    }

    /// 6 ft is 1.8288 m, and 6 * 0.3048 in doubles is not.
    #[test]
    fn lengths_have_two_units_and_their_use_decides() {
        let six = 6.0 * FT;
        assert_eq!(six.to_string(), "1.8288 m");
        let (si, us) = (Page::new(System::Si), Page::new(System::Us));
        assert_eq!((si.place(six), us.place(six)), ("1.829 m".into(), "6.000 ft".into()));
        assert_eq!(us.place(Length::from_si(-0.0)), "0.000 ft");
        assert_eq!(si.small(3.0 * M), "3000.0 mm");
        assert_eq!(us.small(0.1 * IN), "0.10000 in");
    }
}
